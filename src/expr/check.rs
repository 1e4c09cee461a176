//! Terms to conditions: names are resolved, types and units checked.

use std::ops::Range;
use std::sync::Arc;

use super::condition::{Comparison, Condition, Named, Number, Operands, Place, Text};
use super::term::{Arithmetic, Form, Term};
use super::{Expr, ExprError, Names, Op, Type, names, parser};
use crate::units::{Dim, units_of};

/// Reads and checks a condition.
///
/// # Errors
/// When the text is not a condition of the language, names something unknown, mixes units or types, or is longer than
/// [`MAX_LENGTH`](super::MAX_LENGTH) or nested deeper than [`MAX_DEPTH`](super::MAX_DEPTH).
pub fn compile(text: &str, names: &dyn Names) -> Result<Expr, ExprError> {
    let term = parser::parse(text)?;
    let mut check = Check { text, known: names, names: Vec::new(), comparisons: Vec::new() };
    let root = check.condition(&term)?;
    Ok(Expr { text: text.into(), root, names: check.names, comparisons: check.comparisons })
}

struct Check<'a> {
    text: &'a str,
    known: &'a dyn Names,
    names: Vec<Named>,
    comparisons: Vec<Range<usize>>,
}

/// A checked term of any type.
enum Typed {
    Number(Number, Dim),
    Text(Text),
    Flag(Condition),
}

/// A checked term with what is known about it as the side of a comparison.
struct Checked {
    typed: Typed,
    place: Place,
}

impl Checked {
    /// What this is, in a message.
    fn words(&self) -> String {
        match &self.typed {
            Typed::Number(_, Dim::NONE) if self.place.first_name.is_some() => "a share or plain number".to_owned(),
            Typed::Number(_, dim) => dim.to_string(),
            Typed::Text(_) => "a text".to_owned(),
            Typed::Flag(_) => "a condition".to_owned(),
        }
    }

    /// Whether it is a number that no name gives a unit to.
    fn is_bare(&self) -> bool {
        matches!(self.typed, Typed::Number(_, Dim::NONE)) && self.place.first_name.is_none()
    }
}

impl Check<'_> {
    fn condition(&mut self, term: &Term<'_>) -> Result<Condition, ExprError> {
        let checked = self.term(term)?;
        let words = checked.words();
        match checked.typed {
            Typed::Flag(condition) => Ok(condition),
            Typed::Number(..) | Typed::Text(_) => {
                Err(ExprError::new(term.range.clone(), format!("a condition must stand here, and this is {words}"))
                    .help("compare it with something, as in `axle.load <= axle.rating`"))
            }
        }
    }

    fn conditions(&mut self, terms: &[Term<'_>]) -> Result<Vec<Condition>, ExprError> {
        terms.iter().map(|term| self.condition(term)).collect()
    }

    fn number(&mut self, term: &Term<'_>) -> Result<(Number, Dim, Checked), ExprError> {
        let Checked { typed, place } = self.term(term)?;
        match typed {
            Typed::Number(number, dim) => {
                let said = Checked { typed: Typed::Number(Number::Literal(0.0), dim), place };
                Ok((number, dim, said))
            }
            other => {
                let words = Checked { typed: other, place }.words();
                Err(ExprError::new(term.range.clone(), format!("a number must stand here, and this is {words}")))
            }
        }
    }

    fn term(&mut self, term: &Term<'_>) -> Result<Checked, ExprError> {
        let before = self.names.len();
        let typed = match &term.form {
            Form::Number(value) => Typed::Number(Number::Literal(*value), Dim::NONE),
            Form::Text(text) => Typed::Text(Text::Literal(Arc::clone(text))),
            Form::Flag(value) => Typed::Flag(Condition::Constant(*value)),
            Form::Name(name) => self.name(name, term)?,
            Form::Not(inner) => Typed::Flag(self.not(inner)?),
            Form::Minus(inner) => {
                let (number, dim, _) = self.number(inner)?;
                Typed::Number(Number::Minus(Box::new(number)), dim)
            }
            Form::Sum(op, sides) => self.arithmetic(*op, sides, &term.range)?,
            Form::Relation(op, sides) => Typed::Flag(self.relation(*op, sides, &term.range)?),
            Form::In(left, items, list) => Typed::Flag(self.listed(left, items, list, &term.range)?),
            Form::All(parts) => Typed::Flag(Condition::All(self.conditions(parts)?)),
            Form::Any(parts) => Typed::Flag(Condition::Any(self.conditions(parts)?)),
            Form::Choice(parts) => self.choice(parts, &term.range)?,
        };
        let first_name = self.names.get(before).map(|named| named.slot);
        let name = if matches!(term.form, Form::Name(_)) { first_name } else { None };
        let dim = if let Typed::Number(_, dim) = &typed { *dim } else { Dim::NONE };
        Ok(Checked { typed, place: Place { name, first_name, dim, range: term.range.clone() } })
    }

    fn name(&mut self, name: &str, term: &Term<'_>) -> Result<Typed, ExprError> {
        // Parentheses around a name are not part of it.
        let start = term.range.start + self.text.get(term.range.clone()).and_then(|text| text.find(name)).unwrap_or(0);
        let range = start..start + name.len();
        let Some((slot, found)) = self.known.resolve(name) else {
            let help = match names::nearest(name, self.known.known()) {
                Some(near) => format!("write `{near}`, the nearest known name"),
                None => "run `draylint rules --names` for the names of each subject".to_owned(),
            };
            return Err(ExprError::new(range, format!("`{name}` is not known here")).help(help));
        };
        self.names.push(Named { slot, range: range.clone() });
        Ok(match found {
            Type::Number(dim) => Typed::Number(Number::Name(slot, range), dim),
            Type::Text => Typed::Text(Text::Name(slot)),
            Type::Flag => {
                let place = Place { name: Some(slot), first_name: Some(slot), dim: Dim::NONE, range: range.clone() };
                let end = Place { name: None, first_name: None, dim: Dim::NONE, range: range.end..range.end };
                Typed::Flag(self.comparison(Op::Equal, place, end, Operands::Flag(slot, true), &range))
            }
        })
    }

    fn not(&mut self, inner: &Term<'_>) -> Result<Condition, ExprError> {
        let checked = self.term(inner)?;
        let words = checked.words();
        match checked.typed {
            Typed::Flag(condition) => Ok(condition.negated()),
            Typed::Number(..) | Typed::Text(_) => {
                Err(ExprError::new(inner.range.clone(), format!("`!` turns a condition, and this is {words}"))
                    .help("put the comparison in parentheses, as in `!(hitch.kind == 'ball')`"))
            }
        }
    }

    fn arithmetic(&mut self, op: Arithmetic, sides: &[Term<'_>; 2], range: &Range<usize>) -> Result<Typed, ExprError> {
        let [left, right] = sides;
        let (left, left_dim, left_said) = self.number(left)?;
        let (right, right_dim, right_said) = self.number(right)?;
        let dim = match op {
            Arithmetic::Add | Arithmetic::Subtract if left_dim == right_dim => left_dim,
            Arithmetic::Add | Arithmetic::Subtract => {
                let (a, b) = (left_said.words(), right_said.words());
                let message = match op {
                    Arithmetic::Add => format!("{b} cannot be added to {a}"),
                    _ => format!("{b} cannot be taken from {a}"),
                };
                return Err(self.mixed(message, "amount", &left_said, &right_said, range));
            }
            Arithmetic::Multiply => {
                powers(left_dim * right_dim, (left_dim * right_dim) / right_dim == left_dim, range)?
            }
            Arithmetic::Divide => powers(left_dim / right_dim, (left_dim / right_dim) * right_dim == left_dim, range)?,
        };
        Ok(Typed::Number(Number::Sum(op, Box::new([left, right]), range.clone()), dim))
    }

    fn relation(&mut self, op: Op, sides: &[Term<'_>; 2], range: &Range<usize>) -> Result<Condition, ExprError> {
        let [left, right] = sides;
        let (left, right) = (self.term(left)?, self.term(right)?);
        let (a, b) = (left.words(), right.words());
        let ordered = !matches!(op, Op::Equal | Op::Differs);
        let operands = match (left.typed, right.typed) {
            (Typed::Number(one, d), Typed::Number(other, e)) if d == e => Operands::Numbers(one, other),
            (Typed::Text(one), Typed::Text(other)) if !ordered => Operands::Texts(one, other),
            (Typed::Flag(one), Typed::Flag(other)) if !ordered => {
                return Ok(Condition::Alike { same: op == Op::Equal, sides: Box::new([one, other]) });
            }
            (Typed::Text(_), Typed::Text(_)) => {
                return Err(ExprError::new(
                    range.clone(),
                    format!("texts have no order to compare by `{}`", op.symbol()),
                )
                .help("use `==`, `!=` or `in`"));
            }
            (Typed::Flag(_), Typed::Flag(_)) => {
                let message = format!("conditions have no order to compare by `{}`", op.symbol());
                return Err(ExprError::new(range.clone(), message).help("use `==`, `!=`, `&&` or `||`"));
            }
            (one @ Typed::Number(..), other @ Typed::Number(..)) => {
                let left = Checked { typed: one, place: left.place };
                let right = Checked { typed: other, place: right.place };
                // A plain number is named last, wherever it stands.
                let (first, second) = if left.is_bare() { (b, a) } else { (a, b) };
                let message = format!("{first} cannot be compared with {second}");
                let word = match (op, left.is_bare()) {
                    (Op::Less | Op::AtMost, false) | (Op::Greater | Op::AtLeast, true) => "high",
                    (Op::Greater | Op::AtLeast, false) | (Op::Less | Op::AtMost, true) => "low",
                    _ => "limit",
                };
                return Err(self.mixed(message, word, &left, &right, range));
            }
            _ => return Err(ExprError::new(range.clone(), format!("{a} cannot be compared with {b}"))),
        };
        Ok(self.comparison(op, left.place, right.place, operands, range))
    }

    fn listed(
        &mut self,
        left: &Term<'_>,
        items: &[Term<'_>],
        list: &Range<usize>,
        range: &Range<usize>,
    ) -> Result<Condition, ExprError> {
        let left = self.term(left)?;
        let words = left.words();
        let mut numbers = Vec::new();
        let mut texts = Vec::new();
        for item in items {
            let (said, fits) = match &item.form {
                Form::Text(text) => {
                    texts.push(Arc::clone(text));
                    ("a text", matches!(left.typed, Typed::Text(_)))
                }
                form => {
                    numbers.push(literal(form));
                    ("a plain number", matches!(left.typed, Typed::Number(_, Dim::NONE)))
                }
            };
            if !fits {
                return Err(ExprError::new(item.range.clone(), format!("{words} cannot be compared with {said}")));
            }
        }
        let operands = match left.typed {
            Typed::Number(number, _) => Operands::NumberIn(number, numbers),
            Typed::Text(text) => Operands::TextIn(text, texts),
            // Refused above, since no item fits a condition and no list is empty.
            Typed::Flag(condition) => return Ok(condition),
        };
        let right = Place { name: None, first_name: None, dim: Dim::NONE, range: list.clone() };
        Ok(self.comparison(Op::In, left.place, right, operands, range))
    }

    fn choice(&mut self, parts: &[Term<'_>; 3], range: &Range<usize>) -> Result<Typed, ExprError> {
        let [test, one, other] = parts;
        let test = self.condition(test)?;
        let (one, other) = (self.term(one)?, self.term(other)?);
        let (a, b) = (one.words(), other.words());
        Ok(match (one.typed, other.typed) {
            (Typed::Number(one, d), Typed::Number(other, e)) if d == e => {
                Typed::Number(Number::Choice(Box::new((test, one, other))), d)
            }
            (Typed::Text(one), Typed::Text(other)) => Typed::Text(Text::Choice(Box::new((test, one, other)))),
            (Typed::Flag(one), Typed::Flag(other)) => Typed::Flag(Condition::Choice(Box::new([test, one, other]))),
            _ => {
                let message = format!("both outcomes of a choice must be of one kind, and these are {a} and {b}");
                return Err(ExprError::new(range.clone(), message));
            }
        })
    }

    fn comparison(&mut self, op: Op, left: Place, right: Place, operands: Operands, range: &Range<usize>) -> Condition {
        let at = self.comparisons.len();
        self.comparisons.push(range.clone());
        Condition::Compare(Box::new(Comparison { at, op, left, right, operands }))
    }

    /// The fault of two numbers whose dimensions do not go together, on the plain number when one of them is.
    fn mixed(&self, message: String, word: &str, left: &Checked, right: &Checked, whole: &Range<usize>) -> ExprError {
        let (bare, measured) = match (left.is_bare(), right.is_bare()) {
            (true, _) => (left, right),
            (_, true) => (right, left),
            _ => return ExprError::new(whole.clone(), message),
        };
        let fault = ExprError::new(bare.place.range.clone(), message);
        let unit = measured.place.dim.kind().and_then(|kind| units_of(kind).next());
        let written = self.text.get(bare.place.range.clone()).unwrap_or("");
        match (unit, written.parse::<f64>()) {
            (Some(unit), Ok(value)) => {
                let symbol = unit.symbol;
                fault.help(format!("give the number as a parameter with its unit: param \"{word}\" ({symbol}){value}"))
            }
            _ => fault.help("give the number as a parameter with its unit"),
        }
    }
}

/// The value of a literal in a list; the parser lets only numbers and negative numbers through.
fn literal(form: &Form<'_>) -> f64 {
    match form {
        Form::Number(value) => *value,
        Form::Minus(inner) => -literal(&inner.form),
        _ => f64::NAN,
    }
}

/// A product's dimension, unless its powers no longer fit: then dividing does not lead back.
fn powers(dim: Dim, leads_back: bool, range: &Range<usize>) -> Result<Dim, ExprError> {
    if leads_back { Ok(dim) } else { Err(ExprError::new(range.clone(), "this product has too high a power of a unit")) }
}
