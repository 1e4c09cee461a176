//! The load index of a tire and what it stands for.

use crate::units::Mass;

/// The index of the table's first entry.
const FIRST: u16 = 50;

/// Load in kg for the load indexes 50 to 150, ten to a line.
///
/// ISO 4000-1 / UN Regulation 54, as in `../shared/reference/data/load-index.csv` (secondary: two lists that agree,
/// their misprints set right there). It follows 45 kg x 10^(LI/80) within 1.74 % (derived).
#[rustfmt::skip]
const LOADS: [u16; 101] = [
    190, 195, 200, 206, 212, 218, 224, 230, 236, 243, // 50
    250, 257, 265, 272, 280, 290, 300, 307, 315, 325, // 60
    335, 345, 355, 365, 375, 387, 400, 412, 425, 437, // 70
    450, 462, 475, 487, 500, 515, 530, 545, 560, 580, // 80
    600, 615, 630, 650, 670, 690, 710, 730, 750, 775, // 90
    800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030, // 100
    1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360, // 110
    1400, 1450, 1500, 1550, 1600, 1650, 1700, 1750, 1800, 1850, // 120
    1900, 1950, 2000, 2060, 2120, 2180, 2240, 2300, 2360, 2430, // 130
    2500, 2575, 2650, 2725, 2800, 2900, 3000, 3075, 3150, 3250, // 140
    3350, // 150
];

/// The load one tire of this load index carries at its rated pressure; `None` outside 50 to 150. Never interpolated:
/// the index is a whole number by definition.
///
/// ```
/// # use draylint::physics::load_index;
/// # use draylint::units::Mass;
/// assert_eq!(load_index(121), Some(Mass::new(1450.0)));
/// assert_eq!(load_index(49), None);
/// ```
#[must_use]
pub fn load_index(index: u16) -> Option<Mass> {
    let at = usize::from(index.checked_sub(FIRST)?);
    LOADS.get(at).map(|kg| Mass::new(f64::from(*kg)))
}

/// The load index, or two of them, marked on a tire: single fitment, then dual fitment (one wheel beside another on the
/// same side of an axle), not single and tandem axles.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LoadIndexes {
    /// For single fitment; a lone index stands here and is taken for the fitment the tire is in.
    pub single: u16,
    /// For dual fitment, when marked.
    pub dual: Option<u16>,
}

impl LoadIndexes {
    /// Reads `121` or `121/118`; `None` for anything else. Whether the table has such an index is not asked here.
    ///
    /// ```
    /// # use draylint::physics::LoadIndexes;
    /// assert_eq!(LoadIndexes::read("121/118"), Some(LoadIndexes { single: 121, dual: Some(118) }));
    /// assert_eq!(LoadIndexes::read("121/"), None);
    /// ```
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let number = |word: &str| {
            let digits = !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit());
            if digits { word.parse().ok() } else { None }
        };
        match text.split_once('/') {
            None => Some(Self { single: number(text)?, dual: None }),
            Some((single, dual)) => Some(Self { single: number(single)?, dual: Some(number(dual)?) }),
        }
    }

    /// The load each tire carries in this fitment; `None` when the index is not in the table.
    #[must_use]
    pub fn each(self, dual: bool) -> Option<Mass> {
        load_index(if dual { self.dual.unwrap_or(self.single) } else { self.single })
    }
}
