//! The assembly that a walk follows does not hang on how far its drives lie apart: steps as large as the mechanism itself land on another one,
//! with gaps closed to the last bit, and only the way there tells.

use std::cell::Cell;

use linkage::{Anchor, Body, Configuration, Drive, Link, Mechanism};
use nalgebra::Point3;
use proptest::prelude::*;
use proptest::test_runner::TestRunner;

/// Mechanisms of a truck's size, from the middle.
const SIZE_M: f64 = 0.3;

/// From the drawing to the farthest drive, and in how many.
const RISE_M: f64 = 0.6 * SIZE_M;
const COARSE: u32 = 2;
const FINE: u32 = 600;

fn point() -> impl Strategy<Value = Point3<f64>> {
    [-1.0..1.0, -1.0..1.0, -1.0..1.0].prop_map(|p| Point3::from(p) * SIZE_M)
}

/// Four links cut to suit; some of them there twice, so that the layout is redundant, and fits.
fn mechanism() -> impl Strategy<Value = Mechanism> {
    let link = (point(), point()).prop_filter("links of some length", |(a, b)| (b - a).norm() > 0.2 * SIZE_M);
    (
        prop::collection::vec(link, 4),
        prop::sample::subsequence(vec![0, 1, 2, 3], 0..=2),
    )
        .prop_filter_map("a mechanism", |(ends, twice)| {
            let drawn = Configuration::level_at(0.0);
            let again: Vec<_> = twice.into_iter().map(|i| ends[i]).collect();
            let links = ends.into_iter().chain(again).map(|(a, b)| {
                let anchor = |body, point| Anchor { body, point };
                Link::cut_to_suit(anchor(Body::Ground, a), anchor(Body::Platform, b), 1e7, &[], &drawn)
            });
            Mechanism::new(links.collect(), Vec::new(), drawn).ok()
        })
}

/// The poses at so many drives, as far as it goes.
fn way(mechanism: &Mechanism, sense: f64, count: u32) -> Vec<Configuration> {
    let drives = (1..=count).map(|i| Drive {
        z_m: sense * RISE_M * f64::from(i) / f64::from(count),
        roll_rad: 0.0,
    });
    let mut poses = Vec::new();
    mechanism.walk(mechanism.drawn(), drives, |w| poses.push(w.at));
    poses
}

fn apart_m(mechanism: &Mechanism, a: &Configuration, b: &Configuration) -> f64 {
    let platform = mechanism.links().iter().map(|l| l.to.point);
    platform
        .map(|p| (a.to_ground(p) - b.to_ground(p)).norm())
        .fold(0.0, f64::max)
}

/// Held this firmly all the way, no fold is near, and every step has one place to land.
const FIRM: f64 = 0.03;

#[test]
fn coarse_drives_and_fine_ones_end_on_the_same_assembly() {
    let compared = Cell::new(0);
    let config = ProptestConfig {
        cases: 1500,
        failure_persistence: None,
        ..ProptestConfig::default()
    };
    let outcome = TestRunner::new(config).run(&mechanism(), |mechanism| {
        for sense in [1.0, -1.0] {
            let fine = way(&mechanism, sense, FINE);
            let every = (FINE / COARSE) as usize;
            let firm = fine.iter().take_while(|at| mechanism.freedom(at).firmness > FIRM);
            let followed = firm.count() / every;
            let shared = fine.into_iter().skip(every - 1).step_by(every);
            for (a, b) in way(&mechanism, sense, COARSE).iter().zip(shared).take(followed) {
                let apart = apart_m(&mechanism, a, &b);
                prop_assert!(apart < 1e-6 * SIZE_M, "{apart} m apart: {a:?} and {b:?}");
                compared.set(compared.get() + 1);
            }
        }
        Ok(())
    });
    outcome.unwrap_or_else(|e| panic!("{e}"));
    assert!(compared.get() > 500, "only {} poses were compared", compared.get());
}

/// Four links whose way folds back at a height, by a quarter of a millimetre, and folds again: what follows has the same handedness, and a step
/// of the walk reaches over both. But nothing can be lifted through: there the platform snaps over.
///
/// Height of the first fold: where the Jacobian without the height has no inverse, traced along the way by arc length outside this program (SciPy),
/// to 1e-8. The second one lies at -0.010271.
#[test]
fn a_walk_ends_at_a_fold_although_the_way_goes_on_past_a_second_one() {
    let ends = [
        ([-0.25, 0.12, -0.23], [-0.04, 0.19, 0.25]),
        ([0.16, -0.23, 0.02], [0.03, -0.07, -0.29]),
        ([-0.01, -0.3, 0.19], [-0.04, 0.3, 0.04]),
        ([0.1, 0.13, -0.04], [-0.11, -0.12, 0.26]),
    ];
    let drawn = Configuration::level_at(0.0);
    let links = ends.map(|(a, b)| {
        let anchor = |body, point: [f64; 3]| Anchor {
            body,
            point: Point3::from(point),
        };
        Link::cut_to_suit(anchor(Body::Ground, a), anchor(Body::Platform, b), 1e7, &[], &drawn)
    });
    let mechanism = Mechanism::new(links.to_vec(), Vec::new(), drawn).unwrap_or_else(|e| panic!("{e}"));
    let fold_m = -0.010_514_66;
    for spacing in [0.0005, 0.001, 0.006, 0.03] {
        let drives = (1..=60).map(|i| Drive {
            z_m: -spacing * f64::from(i),
            roll_rad: 0.0,
        });
        let drives = drives.take_while(|d| d.z_m >= -0.03 - 1e-12);
        let end = mechanism.walk(mechanism.drawn(), drives, |_| ());
        let end = end.unwrap_or_else(|| panic!("drives {spacing} apart: it went through"));
        let short = end.last.z_m - fold_m;
        assert!((-2e-8..=2e-4).contains(&short), "drives {spacing} apart: {end:?}");
    }
}
