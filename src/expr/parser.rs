//! Tokens to terms, by recursive descent along the grammar of the CEL specification, "Syntax".

use std::ops::Range;

use super::lexer::{Lexer, Token};
use super::term::{Arithmetic, Form, Term};
use super::{ExprError, Op, slips};
use crate::text::is_hidden;

/// The longest condition, in bytes.
pub const MAX_LENGTH: usize = 4096;

/// How deep parentheses and terms may be nested. A sum of more terms than this counts as nested too deep; a chain of
/// `&&` or `||` is one level, however long.
pub const MAX_DEPTH: usize = 64;

/// Reads a whole condition.
pub(super) fn parse(text: &str) -> Result<Term<'_>, ExprError> {
    if text.len() > MAX_LENGTH {
        return Err(ExprError::new(0..text.len(), format!("this condition is longer than {MAX_LENGTH} bytes"))
            .help("divide it into several rules"));
    }
    let mut lexer = Lexer::new(text);
    let (token, range) = lexer.next()?;
    let mut parser = Parser { text, lexer, token, range, depth: 0 };
    if parser.token == Token::End {
        return Err(ExprError::new(0..text.len(), "the condition is empty").help("write what must hold"));
    }
    let whole = parser.any()?;
    if parser.token == Token::End { Ok(whole) } else { Err(parser.stray()) }
}

struct Parser<'t> {
    text: &'t str,
    lexer: Lexer<'t>,
    /// The token to be looked at next, and its place.
    token: Token<'t>,
    range: Range<usize>,
    /// How many calls of [`Parser::nested`] are open.
    depth: usize,
}

type Parsed<'t> = Result<Term<'t>, ExprError>;

impl<'t> Parser<'t> {
    /// Moves on to the next token and gives the place of the one left behind.
    fn advance(&mut self) -> Result<Range<usize>, ExprError> {
        let (token, range) = self.lexer.next()?;
        self.token = token;
        Ok(std::mem::replace(&mut self.range, range))
    }

    fn is(&self, sign: &str) -> bool {
        matches!(self.token, Token::Sign(found) if found == sign)
    }

    fn expect(&mut self, sign: &str) -> Result<Range<usize>, ExprError> {
        if self.is(sign) {
            return self.advance();
        }
        let fault = self.stray();
        let missing = self.token == Token::End;
        Err(if missing { fault.help(format!("write `{sign}` here")) } else { fault })
    }

    fn stray(&self) -> ExprError {
        slips::stray(&self.token, self.range.clone(), self.text)
    }

    fn nested(&mut self, inner: impl FnOnce(&mut Self) -> Parsed<'t>) -> Parsed<'t> {
        if self.depth >= MAX_DEPTH {
            return Err(too_deep(self.range.clone()));
        }
        self.depth += 1;
        let term = inner(self);
        self.depth -= 1;
        term
    }

    fn any(&mut self) -> Parsed<'t> {
        self.chain("||", Self::all, Form::Any)
    }

    fn all(&mut self) -> Parsed<'t> {
        self.chain("&&", Self::relation, Form::All)
    }

    /// One or more terms with the same logical operator between them.
    fn chain(
        &mut self,
        sign: &str,
        part: fn(&mut Self) -> Parsed<'t>,
        form: fn(Vec<Term<'t>>) -> Form<'t>,
    ) -> Parsed<'t> {
        let first = part(self)?;
        if !self.is(sign) {
            return Ok(first);
        }
        let (start, mut end, mut height) = (first.range.start, first.range.end, first.height);
        let mut parts = vec![first];
        while self.is(sign) {
            self.advance()?;
            let next = part(self)?;
            end = next.range.end;
            height = height.max(next.height);
            parts.push(next);
        }
        built(form(parts), start..end, height)
    }

    fn relation(&mut self) -> Parsed<'t> {
        let left = self.sum()?;
        let Some(op) = self.relation_op() else {
            return Ok(left);
        };
        let sign = self.advance()?;
        if op == Op::In {
            return self.list(left);
        }
        let right = self.sum()?;
        if self.relation_op().is_some() {
            return Err(self.chained(&left, sign, &right));
        }
        let range = left.range.start..right.range.end;
        let height = left.height.max(right.height);
        built(Form::Relation(op, Box::new([left, right])), range, height)
    }

    fn relation_op(&self) -> Option<Op> {
        match self.token {
            Token::Name("in") => Some(Op::In),
            Token::Sign(sign) => Op::ORDER_AND_EQUALITY.into_iter().find(|op| op.symbol() == sign),
            _ => None,
        }
    }

    /// The fault of `a < b < c`, with both comparisons written out where they are short.
    fn chained(&mut self, left: &Term<'t>, sign: Range<usize>, right: &Term<'t>) -> ExprError {
        let second = match self.advance() {
            Ok(second) => second,
            Err(error) => return error,
        };
        let third = match self.sum() {
            Ok(third) => third,
            Err(error) => return error,
        };
        let range = left.range.start..third.range.end;
        let said = |range: &Range<usize>| self.text.get(range.clone()).unwrap_or("");
        let short = range.len() <= 80 && !said(&range).contains(is_hidden);
        let fault = ExprError::new(range, "comparisons cannot be chained");
        if !short {
            return fault.help("join two comparisons with `&&`");
        }
        let (a, b, c) = (said(&left.range), said(&right.range), said(&third.range));
        fault.help(format!("write `{a} {} {b} && {b} {} {c}`", said(&sign), said(&second)))
    }

    /// The list after `in`: literals only.
    fn list(&mut self, left: Term<'t>) -> Parsed<'t> {
        if !self.is("[") {
            let fault = match self.token {
                Token::End => self.stray(),
                _ => ExprError::new(self.range.clone(), "after `in` comes a list in brackets"),
            };
            return Err(fault.help("write it as in `hitch.kind in ['ball', 'pintle']`"));
        }
        let open = self.advance()?;
        let mut items = Vec::new();
        while !self.is("]") {
            let item = self.unary()?;
            let literal = match &item.form {
                Form::Number(_) | Form::Text(_) => true,
                Form::Minus(inner) => matches!(inner.form, Form::Number(_)),
                _ => false,
            };
            if !literal {
                return Err(ExprError::new(item.range, "a list holds only numbers and texts")
                    .help("compare with anything else by `==` and join with `||`"));
            }
            items.push(item);
            if !self.is("]") {
                self.expect(",")?;
            }
        }
        let close = self.advance()?;
        let list = open.start..close.end;
        if items.is_empty() {
            return Err(ExprError::new(list, "this list is empty"));
        }
        if self.relation_op().is_some() {
            return Err(self.stray().help("put parentheses around the comparison before it"));
        }
        let (range, height) = (left.range.start..close.end, left.height);
        built(Form::In(Box::new(left), items, list), range, height)
    }

    fn sum(&mut self) -> Parsed<'t> {
        let mut left = self.product()?;
        loop {
            let op = match self.token {
                Token::Sign("+") => Arithmetic::Add,
                Token::Sign("-") => Arithmetic::Subtract,
                _ => return Ok(left),
            };
            self.advance()?;
            let right = self.product()?;
            left = arithmetic(op, left, right)?;
        }
    }

    fn product(&mut self) -> Parsed<'t> {
        let mut left = self.unary()?;
        loop {
            let op = match self.token {
                Token::Sign("*") => Arithmetic::Multiply,
                Token::Sign("/") => Arithmetic::Divide,
                _ => return Ok(left),
            };
            self.advance()?;
            let right = self.unary()?;
            left = arithmetic(op, left, right)?;
        }
    }

    fn unary(&mut self) -> Parsed<'t> {
        let form: fn(Box<Term<'t>>) -> Form<'t> = match self.token {
            Token::Sign("!") => Form::Not,
            Token::Sign("-") => Form::Minus,
            _ => return self.primary(),
        };
        let start = self.advance()?.start;
        let inner = self.nested(Self::unary)?;
        let (range, height) = (start..inner.range.end, inner.height);
        built(form(Box::new(inner)), range, height)
    }

    fn primary(&mut self) -> Parsed<'t> {
        let form = match &self.token {
            Token::Number(value) => Form::Number(*value),
            Token::Text(text) => Form::Text(text.clone()),
            Token::Name("true") => Form::Flag(true),
            Token::Name("false") => Form::Flag(false),
            Token::Name(name) => {
                let name = *name;
                return self.name(name);
            }
            Token::Sign("(") => return self.nested(Self::parentheses),
            Token::Sign("[") => {
                return Err(ExprError::new(self.range.clone(), "a list can stand only after `in`"));
            }
            _ => return Err(self.stray()),
        };
        let range = self.advance()?;
        Ok(Term { form, range, height: 1 })
    }

    fn name(&mut self, name: &'t str) -> Parsed<'t> {
        let range = self.range.clone();
        if let (Some(fault), false) = (slips::word(name, range.clone()), name == "not") {
            // Also a name that happens to be such a word, which no figure and no parameter should be.
            return Err(fault);
        }
        if name == "in" {
            return Err(
                ExprError::new(range, "before `in` comes a name").help("write it as in `hitch.kind in ['ball']`")
            );
        }
        if slips::is_reserved(name) {
            return Err(ExprError::new(range, format!("`{name}` is a word that CEL keeps for itself")));
        }
        self.advance()?;
        let begins_term =
            matches!(self.token, Token::Name(_) | Token::Number(_) | Token::Text(_) | Token::Sign("(" | "!"));
        if name == "not" && begins_term {
            return Err(slips::word(name, range).unwrap_or_else(|| self.stray()));
        }
        match self.token {
            Token::Sign("(") => Err(ExprError::new(range, format!("a condition cannot call `{name}`"))
                .help("use only operators, names, numbers and texts")),
            Token::Sign("[") => Err(ExprError::new(range.start..self.range.end, "a name takes no brackets here")
                .help("bind the subject with `each`, as in each \"truck-axle\" with `axle.load`")),
            _ => Ok(Term { form: Form::Name(name), range, height: 1 }),
        }
    }

    fn parentheses(&mut self) -> Parsed<'t> {
        let start = self.advance()?.start;
        let first = self.any()?;
        if !self.is("?") {
            let end = self.expect(")")?.end;
            return Ok(Term { range: start..end, ..first });
        }
        self.advance()?;
        let one = self.any()?;
        self.expect(":")?;
        let other = self.any()?;
        let end = self.expect(")")?.end;
        let height = first.height.max(one.height).max(other.height);
        built(Form::Choice(Box::new([first, one, other])), start..end, height)
    }
}

fn arithmetic<'t>(op: Arithmetic, left: Term<'t>, right: Term<'t>) -> Parsed<'t> {
    let range = left.range.start..right.range.end;
    let height = left.height.max(right.height);
    built(Form::Sum(op, Box::new([left, right])), range, height)
}

/// A term over others of which the highest has this height.
fn built(form: Form<'_>, range: Range<usize>, below: usize) -> Parsed<'_> {
    if below >= MAX_DEPTH {
        return Err(too_deep(range));
    }
    Ok(Term { form, range, height: below + 1 })
}

fn too_deep(range: Range<usize>) -> ExprError {
    ExprError::new(range, format!("this condition is nested more than {MAX_DEPTH} deep"))
        .help("divide it into several rules")
}
