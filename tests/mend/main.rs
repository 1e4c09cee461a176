//! Fixes and their writing, from outside: random faulty yards as texts, every fix that is offered made by a splice of the
//! test's own and the whole yard checked again.

mod aboard;
mod choices;
mod convergence;
mod judged;
mod layout;
mod offered;
mod proven;
mod shown;
mod ties;
mod titles;
mod yards;
