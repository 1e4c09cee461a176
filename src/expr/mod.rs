//! Rule conditions: parsed, checked for units, evaluated to holds, fails or cannot tell, with the comparison that
//! decided and by how much.
//!
//! The language is a subset of CEL, the Common Expression Language, with CEL's precedence:
//!
//! | form | on |
//! |---|---|
//! | `\|\|` `&&` `!` | conditions |
//! | `<` `<=` `>` `>=` | numbers of one dimension |
//! | `==` `!=` | numbers of one dimension, texts, conditions |
//! | `in ['ball', 'pintle']`, `in [1.0, 2.0]` | a text or a plain number, and a list of such |
//! | `+` `-` | numbers of one dimension, and `-x` |
//! | `*` `/` | numbers; dimensions are multiplied and divided |
//! | `(test ? one : other)` | two of one type, always in parentheses |
//! | `axle.load`, `low` | a figure, or a parameter of the rule |
//! | `1.0`, `2`, `1e3`, `'text'`, `"text"`, `true`, `false` | literals |
//!
//! Where it departs from CEL: every number is a decimal, so `1 / 2` is a half; comparisons are not chained; comments,
//! calls, indexing, macros, maps, `%`, `null`, and raw, byte or triple-quoted texts are refused. Values are compared
//! with a tolerance ([`TOLERANCE`]), and a quotient by zero is no number but leaves the comparison undecided.

mod check;
mod condition;
mod error;
mod eval;
mod gaps;
mod lexer;
mod names;
mod parser;
mod slips;
mod term;
mod verdict;

pub use check::compile;
pub use condition::Expr;
pub use error::ExprError;
pub use eval::TOLERANCE;
pub use names::{Names, Type, Value};
pub use parser::{MAX_DEPTH, MAX_LENGTH};
pub use verdict::{Bound, Compared, Limit, Op, Side, Truth, Verdict};
