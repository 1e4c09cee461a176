//! Every unit of the language against `uom`, a general units library. Its tables hold seven digits for US units, so
//! they are compared to half of the seventh digit (5e-7); metric units are compared to rounding.

use draylint::units::UNITS;
use uom::si::f64::{Angle, Area, Force, Length, Mass, MassDensity, Pressure, Ratio, SurfaceTension, Velocity, Volume};
use uom::si::{angle, area, force, length, mass, mass_density, pressure, ratio, surface_tension, velocity, volume};

/// One of this unit in the SI unit in which draylint holds its kind, by uom.
fn by_uom(symbol: &str) -> Option<f64> {
    let kg = |one: Mass| one.get::<mass::kilogram>();
    let newton = |one: Force| one.get::<force::newton>();
    let metre = |one: Length| one.get::<length::meter>();
    let metre_per_second = |one: Velocity| one.get::<velocity::meter_per_second>();
    let pascal = |one: Pressure| one.get::<pressure::pascal>();
    let cubic_metre = |one: Volume| one.get::<volume::cubic_meter>();
    let density = |one: MassDensity| one.get::<mass_density::kilogram_per_cubic_meter>();
    // uom has no spring rate; force per length has the dimension of its surface tension.
    let rate = |force: Force, per: Length| SurfaceTension::from(force / per).get::<surface_tension::newton_per_meter>();
    let pound = || Mass::new::<mass::pound>(1.0);
    let pound_force = || Force::new::<force::pound_force>(1.0);
    let inch = || Length::new::<length::inch>(1.0);
    let millimetre = || Length::new::<length::millimeter>(1.0);
    Some(match symbol {
        "lb" => kg(pound()),
        "kg" => kg(Mass::new::<mass::kilogram>(1.0)),
        "t" => kg(Mass::new::<mass::ton>(1.0)),
        "ton" => kg(Mass::new::<mass::ton_short>(1.0)),
        "lbf" => newton(pound_force()),
        "N" => newton(Force::new::<force::newton>(1.0)),
        "kN" => newton(Force::new::<force::kilonewton>(1.0)),
        "daN" => newton(Force::new::<force::decanewton>(1.0)),
        "kgf" => newton(Force::new::<force::kilogram_force>(1.0)),
        "in" => metre(inch()),
        "ft" => metre(Length::new::<length::foot>(1.0)),
        "mm" => metre(millimetre()),
        "cm" => metre(Length::new::<length::centimeter>(1.0)),
        "m" => metre(Length::new::<length::meter>(1.0)),
        "yd" => metre(Length::new::<length::yard>(1.0)),
        "deg" => Angle::new::<angle::degree>(1.0).get::<angle::degree>(),
        "pct" => Ratio::new::<ratio::percent>(1.0).get::<ratio::ratio>(),
        "mph" => metre_per_second(Velocity::new::<velocity::mile_per_hour>(1.0)),
        "kmh" => metre_per_second(Velocity::new::<velocity::kilometer_per_hour>(1.0)),
        "psi" => {
            let square_inch: Area = inch() * inch();
            assert!((square_inch.get::<area::square_inch>() - 1.0).abs() < 5e-7);
            let composed = pascal(pound_force() / square_inch);
            let own = pascal(Pressure::new::<pressure::psi>(1.0));
            assert!((own / composed - 1.0).abs() < 5e-7);
            own
        }
        "kPa" => pascal(Pressure::new::<pressure::kilopascal>(1.0)),
        "bar" => pascal(Pressure::new::<pressure::bar>(1.0)),
        "yd3" => cubic_metre(Volume::new::<volume::cubic_yard>(1.0)),
        "ft3" => cubic_metre(Volume::new::<volume::cubic_foot>(1.0)),
        "m3" => cubic_metre(Volume::new::<volume::cubic_meter>(1.0)),
        "L" => cubic_metre(Volume::new::<volume::liter>(1.0)),
        "lb/yd3" => density(pound() / Volume::new::<volume::cubic_yard>(1.0)),
        "lb/ft3" => density(MassDensity::new::<mass_density::pound_per_cubic_foot>(1.0)),
        "kg/m3" => density(MassDensity::new::<mass_density::kilogram_per_cubic_meter>(1.0)),
        "t/m3" => density(MassDensity::new::<mass_density::ton_per_cubic_meter>(1.0)),
        // A spring rate in lb per inch is meant in pounds of force.
        "lbf/in" | "lb/in" => rate(pound_force(), inch()),
        "N/mm" => rate(Force::new::<force::newton>(1.0), millimetre()),
        "kN/m" => rate(Force::new::<force::kilonewton>(1.0), Length::new::<length::meter>(1.0)),
        "N/m" => rate(Force::new::<force::newton>(1.0), Length::new::<length::meter>(1.0)),
        "kgf/mm" => rate(Force::new::<force::kilogram_force>(1.0), millimetre()),
        _ => return None,
    })
}

#[test]
fn every_unit_is_worth_what_uom_says() {
    for unit in &UNITS {
        let expected = by_uom(unit.symbol).unwrap_or_else(|| panic!("no counterpart for {}", unit.symbol));
        let within = if unit.us { 5e-7 } else { 1e-14 };
        assert!((unit.factor / expected - 1.0).abs() < within, "{}: {} and {expected}", unit.symbol, unit.factor);
    }
}
