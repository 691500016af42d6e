//! What is usually in the way: a start to be moved to where it really is.

use super::usual::point;
use crate::setup::{KeepClear, KeepClearShape, Setup};

/// A two and a half inch exhaust along the inside of the right rail, over the axle.
#[must_use]
pub fn usual_tube(setup: &Setup) -> KeepClear {
    let y = -(setup.rails.spacing_m / 2.0 - setup.rails.flange_m - 0.06);
    let over = over_axle_m(setup, 0.06);
    KeepClear {
        name: fresh_name(setup, "exhaust"),
        shape: KeepClearShape::Tube {
            along: vec![
                point(0.9, y, 0.05),
                point(0.35, y, over),
                point(-0.35, y, over),
                point(-0.8, y, 0.05),
            ],
            tube_m: 0.0635,
        },
    }
}

/// A half-inch tube straight along the inside of the left rail, over the axle.
#[must_use]
pub fn straight_tube(setup: &Setup) -> KeepClear {
    let y = setup.rails.spacing_m / 2.0 - setup.rails.flange_m - 0.02;
    let over = over_axle_m(setup, 0.04);
    KeepClear {
        name: fresh_name(setup, "tube"),
        shape: KeepClearShape::Tube {
            along: vec![point(0.6, y, over), point(-0.6, y, over)],
            tube_m: 0.0127,
        },
    }
}

/// A tank between the rails behind the axle.
#[must_use]
pub fn usual_box(setup: &Setup) -> KeepClear {
    let half = setup.rails.spacing_m / 2.0 - setup.rails.flange_m - 0.02;
    KeepClear {
        name: fresh_name(setup, "tank"),
        shape: KeepClearShape::Box {
            from: point(-0.55, -half, 0.0),
            to: point(-0.95, half, 0.22),
        },
    }
}

/// A height over the axle tube, laid out, with so much room between.
fn over_axle_m(setup: &Setup, room_m: f64) -> f64 {
    setup.axle_z_m(setup.travel.laid_out_m) + setup.axle.tube_m / 2.0 + room_m
}

/// A name that no other has.
fn fresh_name(setup: &Setup, stem: &str) -> String {
    let things = &setup.keep_clear;
    let is_free = |name: &String| things.iter().all(|t| t.name != *name);
    let numbered = (2..=things.len() + 2).map(|n| format!("{stem} {n}"));
    std::iter::once(stem.to_owned())
        .chain(numbered)
        .find(is_free)
        .unwrap_or_else(|| stem.to_owned())
}
