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
    entry(
        "carrier.told",
        "facts",
        ALL,
        Measures::Flag,
        "whether the sheet or the yard says who carries it",
        |load, _| {
            if load.carrier().is_none() && load.sheet.owner.lost {
                return Err(load.sheet.owner.lacks("carrier").into());
            }
            value(load.carrier().is_some())
        },
    ),
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
            let (truck, trailer) = (truck_rated(load), trailer_rated(load));
            let gcwr = load.truck.clone().and_then(|one| load.outlines.need(&one.gcwr, &one.owner, "gcwr"));
            let parts = truck.clone().and_then(|truck| Ok(truck.0 + trailer.clone()?.0));
            let open = [truck.clone().ok().and_then(|one| one.1), trailer.clone().ok().and_then(|one| one.1)];
            let open = open.into_iter().flatten().next().or_else(|| gcwr.as_ref().err().cloned());
            let rated = match (&parts, &gcwr) {
                (Ok(parts), Ok(gcwr)) => parts.max(*gcwr),
                (Ok(parts), Err(_)) => *parts,
                (Err(_), Ok(gcwr)) => *gcwr,
                (Err(lack), Err(_)) => return Err(lack.clone()),
            };
            Ok(Reading { open: open.or_else(|| parts.err()), ..value(rated)? })
        },
    ),
    entry(
        "trailer.rated",
        "rated weight",
        ALL,
        WEIGHT,
        "the trailer's GVWR, or what it weighs where that is more",
        |load, _| {
            let (rated, open) = trailer_rated(load)?;
            Ok(Reading { open, ..value(rated)? })
        },
    ),
    entry(
        "truck.rated",
        "rated weight",
        ALL,
        WEIGHT,
        "the truck's GVWR, or what it weighs where that is more",
        |load, _| {
            let (rated, open) = truck_rated(load)?;
            Ok(Reading { open, ..value(rated)? })
        },
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

/// A fact about the carrier on which a verdict hangs.
fn fact(load: &Load<'_>, word: &'static str, of: fn(&Carrier) -> &Slot<bool>) -> Known<Reading> {
    let carrier = load.carrier().ok_or_else(|| load.sheet.owner.lacks("carrier"))?;
    leaf(of(&carrier), &carrier.owner, word)
}

/// A duty that is known to be done: as long as nobody says so, it is not.
fn said(load: &Load<'_>, word: &'static str, of: fn(&Carrier) -> &Slot<bool>) -> Known<Reading> {
    match load.carrier() {
        Some(carrier) => value(of(&carrier).or(false, &carrier.owner, word)?),
        None => value(false),
    }
}

/// A maker's limit or a weight, whichever is more, and why it can be more still.
type Rated = (Mass, Option<Lack>);

fn greater(rating: Known<Mass>, weight: Known<Mass>) -> Known<Rated> {
    match (rating, weight) {
        (Ok(rating), Ok(weight)) => Ok((rating.max(weight), None)),
        // A weight that cannot be computed has been told as such; the rating alone then counts.
        (Ok(rating), Err(_)) => Ok((rating, None)),
        (Err(lack), Ok(weight)) => Ok((weight, Some(lack))),
        (Err(lack), Err(_)) => Err(lack),
    }
}

fn truck_rated(load: &Load<'_>) -> Known<Rated> {
    let truck = load.truck.clone()?;
    let weight = load.rig.as_ref().map(|rig| rig.loads.truck.gross()).map_err(Clone::clone);
    greater(load.outlines.need(&truck.gvwr, &truck.owner, "gvwr"), weight)
}

fn trailer_rated(load: &Load<'_>) -> Known<Rated> {
    let trailer = load.trailer.clone()?;
    let weight = load.still.as_ref().map(|still| still.loads.gross).map_err(Clone::clone);
    greater(load.outlines.need(&trailer.gvwr, &trailer.owner, "gvwr"), weight)
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
