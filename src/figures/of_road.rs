//! Figures by which the law judges a combination on the road: the carrier, ratings together, brakes.

use super::figure::{computed, entry, finite, leaf, value};
use super::{Each, Figure, Known, Lack, Load, Measures, Reading};
use crate::model::{Brakes, Carrier, Slot};
use crate::units::{Kind, Mass, Share};

const ALL: &[Each] = &[];
const WEIGHT: Measures = Measures::Quantity(Kind::Mass);
const SHARE: Measures = Measures::Quantity(Kind::Share);

const RATED: &str =
    "49 CFR 383.5 and 390.5: the greatest of the maker's value, the sum of ratings and the sum of weights";

pub(super) static FIGURES: &[Figure] = &[
    entry("carrier.interstate", "interstate", ALL, Measures::Flag, "whether it goes across state lines", |load, _| {
        fact(load, "interstate", |carrier| &carrier.interstate)
    }),
    entry("carrier.business", "business", ALL, Measures::Flag, "whether it is for business", |load, _| {
        fact(load, "business", |carrier| &carrier.business)
    }),
    entry(
        "carrier.number",
        "number",
        ALL,
        Measures::Flag,
        "whether the truck shows the carrier's number, as far as the sheet says",
        |load, _| said(load, "number", |carrier| &carrier.number),
    ),
    entry(
        "carrier.cdl",
        "commercial licence",
        ALL,
        Measures::Flag,
        "whether the driver holds the commercial licence, as far as the sheet says",
        |load, _| said(load, "cdl", |carrier| &carrier.cdl),
    ),
    entry(
        "carrier.recheck",
        "planned re-check",
        ALL,
        Measures::Flag,
        "whether a stop for checking the load again is planned, as far as the sheet says",
        |load, _| said(load, "recheck", |carrier| &carrier.recheck),
    ),
    computed(
        "combination.rated",
        "rated weight",
        ALL,
        WEIGHT,
        "what the law counts truck and trailer for together: GCWR, both GVWRs, or what they weigh, whichever is most",
        RATED,
        |load, _| {
            let truck = load.truck.clone()?;
            let gcwr = load.outlines.need(&truck.gcwr, &truck.owner, "gcwr")?;
            value(gcwr.max(truck_rated(load)? + trailer_rated(load)?))
        },
    ),
    entry(
        "trailer.rated",
        "rated weight",
        ALL,
        WEIGHT,
        "the trailer's GVWR, or what it weighs where that is more",
        |load, _| value(trailer_rated(load)?),
    ),
    entry(
        "truck.rated",
        "rated weight",
        ALL,
        WEIGHT,
        "the truck's GVWR, or what it weighs where that is more",
        |load, _| value(truck_rated(load)?),
    ),
    computed(
        "trailer.axle_ratio",
        "axles against the truck's",
        ALL,
        SHARE,
        "what the trailer's axles carry as a part of what the truck's carry",
        "49 CFR 393.42(b): axle weights of the towed and of the towing vehicle",
        |load, _| {
            let loads = &load.rig.as_ref().map_err(Clone::clone)?.loads;
            let owner = load.owner();
            finite(Share::of(loads.trailer.group / loads.truck.gross()), || Lack::Contradiction {
                at: owner.at,
                owner: owner.path.clone(),
                why: "the truck weighs nothing".into(),
            })
        },
    ),
    entry("trailer.braked", "brakes on all wheels", ALL, Measures::Flag, "whether every axle has brakes", |load, _| {
        value(brakes(load, false)?)
    }),
    entry("trailer.brakes", "brakes", ALL, Measures::Flag, "whether any axle has brakes", |load, _| {
        value(brakes(load, true)?)
    }),
    entry(
        "trailer.electric",
        "electric brakes",
        ALL,
        Measures::Flag,
        "whether any axle has electric brakes",
        |load, _| {
            let trailer = load.trailer.clone()?;
            value(trailer.axles.iter().any(|axle| axle.brakes.value() == Some(Brakes::Electric)))
        },
    ),
];

/// Who carries the load: the sheet's entries over the yard's.
impl Load<'_> {
    fn carrier(&self) -> Option<Carrier> {
        let yard = self.yard.settings.carrier.as_ref();
        match (&self.sheet.carrier, yard) {
            (Some(own), Some(yard)) => Some(own.or_else(yard)),
            (own, yard) => own.as_ref().or(yard).cloned(),
        }
    }
}

/// A fact about the carrier on which a verdict hangs. Where neither sheet nor yard says anything of a carrier there is
/// none: somebody hauls for himself.
fn fact(load: &Load<'_>, word: &'static str, of: fn(&Carrier) -> &Slot<bool>) -> Known<Reading> {
    match load.carrier() {
        Some(carrier) => leaf(of(&carrier), &carrier.owner, word),
        None if load.sheet.owner.lost => Err(load.sheet.owner.lacks("carrier").into()),
        None => value(false),
    }
}

/// A duty that is known to be done: as long as nobody says so, it is not.
fn said(load: &Load<'_>, word: &'static str, of: fn(&Carrier) -> &Slot<bool>) -> Known<Reading> {
    match load.carrier() {
        Some(carrier) => value(of(&carrier).or(false, &carrier.owner, word)?),
        None => value(false),
    }
}

/// The truck's GVWR or what it weighs, whichever is more: either may be, so both must be known.
fn truck_rated(load: &Load<'_>) -> Known<Mass> {
    let truck = load.truck.clone()?;
    let weight = load.rig.as_ref().map_err(Clone::clone)?.loads.truck.gross();
    Ok(weight.max(load.outlines.need(&truck.gvwr, &truck.owner, "gvwr")?))
}

/// The same of the trailer.
fn trailer_rated(load: &Load<'_>) -> Known<Mass> {
    let trailer = load.trailer.clone()?;
    let weight = load.still.as_ref().map_err(Clone::clone)?.loads.gross;
    Ok(weight.max(load.outlines.need(&trailer.gvwr, &trailer.owner, "gvwr")?))
}

/// What is so of the trailer's axles by whether they have brakes. An axle of which the sheet does not say counts for
/// nothing where one that is known settles it.
fn brakes(load: &Load<'_>, settled_by: bool) -> Known<bool> {
    let trailer = load.trailer.clone()?;
    if trailer.owner.lost || trailer.axles.is_empty() {
        return Err(trailer.owner.lacks("axle").into());
    }
    let mut lack = None;
    for axle in &trailer.axles {
        match axle.brakes.need(&axle.owner, "brakes") {
            Ok(brakes) if (brakes != Brakes::None) == settled_by => return Ok(settled_by),
            Ok(_) => {}
            Err(missing) => lack = lack.or(Some(missing)),
        }
    }
    lack.map_or(Ok(!settled_by), |missing| Err(missing.into()))
}
