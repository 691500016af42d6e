//! What is usually in the way: a start to be moved to where it really is.

use nalgebra::Point3;

use crate::setup::{KeepClear, KeepClearShape, Setup, to_file_resolution_point};

/// A two and a half inch exhaust along the inside of the right rail, over the axle.
#[must_use]
pub fn usual_tube(setup: &Setup) -> KeepClear {
    let y = -(setup.rails.spacing_m / 2.0 - setup.rails.flange_m - 0.06);
    let over = setup.axle_z_m(setup.travel.laid_out_m) + setup.axle.tube_m / 2.0 + 0.06;
    let at = |x: f64, z: f64| to_file_resolution_point(Point3::new(x, y, z));
    KeepClear {
        name: fresh_name(setup, "exhaust"),
        shape: KeepClearShape::Tube {
            along: vec![at(0.9, 0.05), at(0.35, over), at(-0.35, over), at(-0.8, 0.05)],
            tube_m: 0.0635,
        },
    }
}

/// A tank between the rails behind the axle.
#[must_use]
pub fn usual_box(setup: &Setup) -> KeepClear {
    let half = setup.rails.spacing_m / 2.0 - setup.rails.flange_m - 0.02;
    let at = |x: f64, y: f64, z: f64| to_file_resolution_point(Point3::new(x, y, z));
    KeepClear {
        name: fresh_name(setup, "tank"),
        shape: KeepClearShape::Box {
            from: at(-0.55, -half, 0.0),
            to: at(-0.95, half, 0.22),
        },
    }
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
