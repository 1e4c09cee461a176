//! Two hundred heaps against numerical integration by `NumPy` of a surface raised until it holds the volume
//! (`tests/python/heap.py`).

use std::convert::Infallible;

use draylint::physics::{Bed, Heap, Lying};
use draylint::units::{Length, Share, Volume};
use proptest::prelude::any;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;

use crate::python::ask;

const HEAPS: usize = 200;

/// Length, width, height of the walls, slope, volume, whether it is heaped.
type Case = (f64, f64, f64, f64, f64, bool);

#[test]
fn two_hundred_heaps_by_integration() {
    let mut runner = TestRunner::deterministic();
    let cases = (1.0..6.0, 1.0..2.6, 0.0..1.2, 0.2..1.0, 0.05..1.3, any::<bool>());
    let cases: Vec<Case> = (0..HEAPS)
        .map(|_| {
            let (length, width, walls, slope, part, heaped): Case = cases.new_tree(&mut runner).unwrap().current();
            // From a spoonful to more than stays.
            let most = bed(length, width, walls).heaped(Share::new(slope)).si();
            (length, width, walls, slope, part * most, heaped)
        })
        .collect();
    let heaps = cases.iter().map(|case| {
        let (length, width, walls, slope, volume, heaped) = *case;
        let way = if heaped { Lying::Heaped } else { Lying::Level };
        let bed = bed(length, width, walls);
        (bed, bed.lying::<Infallible>(Volume::new(volume), way, || Ok(Share::new(slope))).unwrap())
    });
    let heaps: Vec<(Bed, Heap)> = heaps.collect();
    let asked: Vec<_> = cases
        .iter()
        .zip(&heaps)
        .map(|(case, (_, heap))| (case.0, case.1, case.2, case.3, case.4, case.5, heap.top.si()))
        .collect();
    let Some(answers) = ask::<_, Vec<[f64; 5]>>("heap.py", &asked) else { return };
    assert_eq!(answers.len(), HEAPS);
    let (mut above, mut spilled) = (0, 0);
    for (((length, width, walls, slope, volume, heaped), (bed, heap)), answer) in
        cases.into_iter().zip(heaps).zip(answers)
    {
        let [.., off] = answer;
        let found = [heap.top.si(), heap.at_walls.si(), heap.cg_height.si(), heap.spilled.si()];
        for (at, (found, expected)) in found.iter().zip(answer).enumerate() {
            // The grid is a few centimetres wide, and its error goes by the square of that. Just below the peak next to nothing
            // lies, and the grid cannot tell where a level stands: then what lies under it is compared.
            let near = (found - expected).abs() < 2e-3 || at == 0 && off < 1e-4;
            assert!(near, "{at}: {found} instead of {expected}: {length} {width} {walls} {slope} {volume} {heaped}");
        }
        above += usize::from(heap.top > bed.walls);
        spilled += usize::from(heap.spilled > Volume::ZERO);
    }
    assert!(above > 50 && spilled > 20, "{above} {spilled}");
}

fn bed(length: f64, width: f64, walls: f64) -> Bed {
    Bed { length: Length::new(length), width: Length::new(width), walls: Length::new(walls) }
}
