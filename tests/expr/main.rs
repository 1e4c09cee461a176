//! Rule conditions, from outside: mistakes and where they are shown, verdicts and blame, the `cel` crate as oracle,
//! and soundness in the face of the unknown.

mod errors;
mod generated;
mod oracle;
mod soundness;
mod verdicts;
mod yard;
