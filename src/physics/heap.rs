//! How loose material lies between walls: level, or heaped with its sides at the angle of repose.
//!
//! The heap is a hipped roof: four planes rise inward from the walls, or from the floor where it does not reach them.
//! Sources: `../shared/reference/us-rules.md` 8.3: heaped capacity as in SAE J1363 with a slope of one's own (seen only
//! where others quote it); the volumes derived, and checked by integration in `tests/outside_python`.

use crate::units::{Angle, Dual, Length, Share, Volume};

/// The space in which loose material lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bed {
    /// Along the deck, in m; above 0.
    pub length: Length,
    /// Across, in m; above 0.
    pub width: Length,
    /// Height of the walls above the floor, in m; 0 without walls.
    pub walls: Length,
}

/// How it was left.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lying {
    /// Raked level. What does not fit below the walls lies above them with a flat top, its sides at the slope.
    Level,
    /// Heaped up: its sides at the slope all the way.
    Heaped,
}

/// How much material lies in a bed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heap {
    /// Its highest point above the floor, in m.
    pub top: Length,
    /// Its height at the walls, in m; 0 where it does not reach them.
    pub at_walls: Length,
    /// Height of its centre of gravity above the floor, in m. Along and across it lies in the middle.
    pub cg_height: Length,
    /// What does not stay and runs over the walls, in m3.
    pub spilled: Volume,
}

impl Bed {
    /// What it holds struck off level with the walls, in m3.
    #[must_use]
    pub fn struck(&self) -> Volume {
        Volume::of(self.floor() * self.walls.dual())
    }

    /// The most that stays in it, heaped above full walls with sides of this slope (rise over run, above 0), in m3.
    #[must_use]
    pub fn heaped(&self, slope: Share) -> Volume {
        self.struck() + Volume::of(self.roof(slope.dual()).whole().volume)
    }

    /// How this much lies in it. `slope` is that of the material's sides, rise over run; it is asked for only where the
    /// result rests on it: where material is heaped, or does not fit below the walls.
    ///
    /// # Errors
    /// What `slope` says is missing.
    pub fn lying<E>(&self, volume: Volume, lying: Lying, slope: impl FnOnce() -> Result<Share, E>) -> Result<Heap, E> {
        if lying == Lying::Level && volume <= self.struck() {
            let depth = volume.dual() / self.floor();
            return Ok(Heap {
                top: Length::of(depth),
                at_walls: Length::of(depth),
                cg_height: Length::of(depth / 2.0),
                spilled: Volume::ZERO,
            });
        }
        let roof = self.roof(slope()?.dual());
        let whole = roof.whole();
        let most = self.struck() + Volume::of(whole.volume);
        let (kept, spilled) = if volume > most { (most, volume - most) } else { (volume, Volume::ZERO) };
        let (depth, cap) = match lying {
            Lying::Level => (self.walls.dual(), roof.cut_at((kept - self.struck()).dual())),
            Lying::Heaped if kept.dual() >= whole.volume => ((kept.dual() - whole.volume) / self.floor(), whole),
            Lying::Heaped => (Dual::new(0.0), roof.within(kept.dual())),
        };
        let moment = self.floor() * depth * depth / 2.0 + cap.volume * depth + cap.moment;
        let all = kept.dual();
        let cg = if all > Dual::new(0.0) { moment / all } else { Dual::new(0.0) };
        Ok(Heap {
            top: Length::of(depth + cap.height),
            at_walls: Length::of(depth),
            cg_height: Length::of(cg),
            spilled,
        })
    }

    fn floor(&self) -> Dual {
        self.length.dual() * self.width.dual()
    }

    fn roof(&self, slope: Dual) -> Roof {
        let (length, width) = (self.length.dual(), self.width.dual());
        Roof { long: length.max(width), short: length.min(width), slope }
    }
}

/// A cone of this radius whose sides rise at this angle, in m3: `pi r^3 tan(angle) / 3`.
#[must_use]
pub fn cone(radius: Length, repose: Angle) -> Volume {
    let r = radius.dual();
    Volume::of(r * r * r * repose.radians().tan() * (std::f64::consts::PI / 3.0))
}

/// A hipped roof over a rectangle: four planes of one slope rising inward.
#[derive(Clone, Copy)]
struct Roof {
    long: Dual,
    short: Dual,
    slope: Dual,
}

/// Part of a roof: its height, its volume, and the volume's moment about its foot.
#[derive(Clone, Copy)]
struct Cap {
    height: Dual,
    volume: Dual,
    moment: Dual,
}

impl Roof {
    /// Up to its ridge: h = m W / 2, V = h W (3 L - W) / 6.
    fn whole(self) -> Cap {
        self.up_to(self.slope * self.short / 2.0)
    }

    /// Cut off flat at a height: the integral of (L - 2 z / m)(W - 2 z / m).
    fn up_to(self, height: Dual) -> Cap {
        let (both, product) = (self.long + self.short, self.long * self.short);
        let per = height / self.slope;
        Cap {
            height,
            volume: height * (product - both * per + per * per * (4.0 / 3.0)),
            moment: height * height * (product * 0.5 - both * per * (2.0 / 3.0) + per * per),
        }
    }

    /// Cut off flat where it holds this volume, at most all of it.
    fn cut_at(self, volume: Dual) -> Cap {
        let most = self.whole().height.value();
        let height = bisected(most, |height| self.up_to(Dual::new(height)).volume.value() >= volume.value());
        // One step of Newton from the place that is found carries the slopes over.
        let found = self.up_to(Dual::new(height));
        let per = height * 2.0;
        let area = (self.long - Dual::new(per) / self.slope) * (self.short - Dual::new(per) / self.slope);
        let step = if area.value() > 1e-9 { (volume - found.volume) / area } else { Dual::new(0.0) };
        self.up_to(Dual::new(height) + step)
    }

    /// A smaller roof within it, its foot as far from each side of the rectangle, that holds this volume, at most all.
    fn within(self, volume: Dual) -> Cap {
        let inset = |height: Dual| {
            let short = height * 2.0 / self.slope;
            Self { long: self.long - self.short + short, short, slope: self.slope }.whole()
        };
        let most = self.whole().height.value();
        let height = bisected(most, |height| inset(Dual::new(height)).volume.value() >= volume.value());
        let small = height * 1e-6;
        let found = inset(Dual::new(height));
        let rate = (inset(Dual::new(height + small)).volume.value() - inset(Dual::new(height - small)).volume.value())
            / (2.0 * small);
        let step = if rate > 0.0 { (volume - found.volume) / rate } else { Dual::new(0.0) };
        inset(Dual::new(height) + step)
    }
}

/// The least number from 0 to `most` that is enough, where all above it are.
fn bisected(most: f64, enough: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (0.0, most);
    for _ in 0..64 {
        let middle = f64::midpoint(low, high);
        if enough(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}

#[cfg(test)]
mod tests {
    use std::convert::Infallible;

    use super::{Bed, Heap, Lying, cone};
    use crate::units::{Angle, Density, Length, Share, Volume};

    const FOOT: f64 = 0.3048;
    const YARD3: f64 = 0.764_554_857_984;

    fn ft(feet: f64) -> Length {
        Length::new(feet * FOOT)
    }

    fn ft3(volume: Volume) -> f64 {
        volume.si() / (FOOT * FOOT * FOOT)
    }

    fn bed(length: f64, width: f64, walls: f64) -> Bed {
        Bed { length: ft(length), width: ft(width), walls: ft(walls) }
    }

    #[track_caller]
    fn near(got: f64, expected: f64) {
        assert!((got - expected).abs() < 5e-4 * expected.abs().max(1.0), "{got} instead of {expected}");
    }

    fn lying(bed: &Bed, cubic_feet: f64, lying: Lying, slope: f64) -> Heap {
        let volume = Volume::new(cubic_feet * FOOT * FOOT * FOOT);
        bed.lying::<Infallible>(volume, lying, || Ok(Share::new(slope))).unwrap()
    }

    /// H1 to H4 of `../shared/reference/data/worked-examples.csv` (derived).
    #[test]
    fn heap_volumes() {
        for (length, width, slope, height, volume) in
            [(10.0, 6.0, 0.5, 1.5, 36.0), (8.0, 5.0, 0.5, 1.25, 19.7917), (10.0, 6.0, 1.0 / 3.0, 1.0, 24.0)]
        {
            let bed = bed(length, width, 0.0);
            near(ft3(bed.heaped(Share::new(slope))), volume);
            near(lying(&bed, volume, Lying::Heaped, slope).top.si() / FOOT, height);
            // The same whichever side is the longer.
            let turned = self::bed(width, length, 0.0);
            near(ft3(turned.heaped(Share::new(slope))), volume);
        }
        near(ft3(cone(ft(3.0), Angle::new(35.0))), 19.798);
    }

    /// H5: 10 x 6 x 2 ft, loose dry crushed stone of 2,600 lb/yd3 heaped 2:1 (derived).
    #[test]
    fn a_heaped_body() {
        let most = bed(10.0, 6.0, 2.0).heaped(Share::new(0.5));
        near(ft3(most), 156.0);
        near(most.si() / YARD3, 5.778);
        let stone = Density::new(2600.0 * 0.453_592_37 / YARD3);
        near((stone * most).si() / 0.453_592_37, 15_022.0);
        near((stone * most * 1.2).si() / 0.453_592_37, 18_027.0);
    }

    /// U24: a body of 5.19 yd3 level and 7.78 yd3 heaped, gravel of 2,970 lb/yd3: 15,414 and 23,107 lb (seen).
    #[test]
    fn a_dump_body() {
        let gravel = Density::new(2970.0 * 0.453_592_37 / YARD3);
        let pounds = |yards: f64| (gravel * Volume::new(yards * YARD3)).si() / 0.453_592_37;
        assert!((pounds(5.19) - 15_414.0).abs() < 1.0 && (pounds(7.78) - 23_107.0).abs() < 1.0);
    }

    #[test]
    fn level_until_the_walls_are_full_then_a_flat_top_above_them() {
        let bed = bed(10.0, 6.0, 2.0);
        let half = lying(&bed, 60.0, Lying::Level, 0.5);
        near(half.top.si() / FOOT, 1.0);
        near(half.cg_height.si() / FOOT, 0.5);
        let full = lying(&bed, 120.0, Lying::Level, 0.5);
        near(full.top.si() / FOOT, 2.0);
        // Half way up the slope: 60 * 0.75 - 16 * 0.75^2 / 0.5 + 4 * 0.75^3 / 0.75 = 29.25 ft3 above the walls.
        let over = lying(&bed, 149.25, Lying::Level, 0.5);
        near(over.top.si() / FOOT, 2.75);
        near(over.at_walls.si() / FOOT, 2.0);
        near(over.spilled.si(), 0.0);
    }

    #[test]
    fn heaped_it_is_higher_and_what_does_not_stay_is_told() {
        let bed = bed(10.0, 6.0, 2.0);
        let heaped = lying(&bed, 96.0, Lying::Heaped, 0.5);
        near(heaped.top.si() / FOOT, 2.5);
        near(heaped.at_walls.si() / FOOT, 1.0);
        // 60 ft3 at 0.5 ft and 36 ft3 at 1 ft and a part of 1.5 ft.
        assert!(heaped.cg_height.si() / FOOT > 0.8 && heaped.cg_height.si() / FOOT < 1.0);
        let small = lying(&bed, 9.0, Lying::Heaped, 0.5);
        assert!(small.at_walls.si().abs() < 1e-12 && small.top.si() / FOOT < 1.5);
        let over = lying(&bed, 160.0, Lying::Heaped, 0.5);
        near(ft3(over.spilled), 4.0);
        near(over.top.si() / FOOT, 3.5);
    }

    /// The slopes are those of differences.
    #[test]
    fn slopes() {
        let bed = bed(10.0, 6.0, 2.0);
        for (cubic_feet, way) in
            [(60.0, Lying::Level), (130.0, Lying::Level), (96.0, Lying::Heaped), (9.0, Lying::Heaped)]
        {
            let at = |cubic_feet: f64| lying(&bed, cubic_feet, way, 0.5).top.si();
            let step = 1e-3;
            let expected = (at(cubic_feet + step) - at(cubic_feet - step)) / (2.0 * step) / (FOOT * FOOT * FOOT);
            let volume = crate::units::Quantity::varied(Volume::new(cubic_feet * FOOT * FOOT * FOOT), 0);
            let heap = bed.lying::<Infallible>(volume, way, || Ok(Share::new(0.5))).unwrap();
            let slope = crate::units::Quantity::slopes(heap.top)[0];
            assert!((slope - expected).abs() < 1e-4 * expected.abs(), "{cubic_feet}: {slope} and {expected}");
        }
    }
}
