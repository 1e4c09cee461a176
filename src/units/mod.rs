//! Quantities as types, the unit symbols a sheet may write, and how a quantity is printed.
//!
//! Every quantity is held in SI (angles in degrees, as results print them). The factors are exact:
//! 1 lb = 0.45359237 kg, 1 in = 25.4 mm, standard gravity 9.80665 m/s2 (NIST SP 811, Appendix B; the 1959 yard and
//! pound agreement; CGPM 1901).

mod dual;
mod kind;
mod quantity;
mod show;
mod symbol;
mod synonym;
mod tape;

pub use dual::{Dual, LANES};
pub use kind::{Dim, Kind};
pub use quantity::{
    Angle, Density, Force, Length, Mass, MassMoment, Pressure, Quantity, Share, Speed, Stiffness, Volume,
};
pub use show::{
    System, show, show_apart, show_in, show_range, show_rounded, show_with_spread, unit_for, written_rounded,
};
pub use symbol::{STANDARD_GRAVITY, UNITS, Unit, annotation, feet_and_inches, unit, units_of};
pub use synonym::meant;
pub use tape::{as_feet_and_inches, mixed, without_commas};
