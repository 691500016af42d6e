//! Both sides of the truck: one drawing where they are alike, two where they are not.

use nalgebra::{Point3, Vector3};
use rearend::brackets;
use rearend::setup::{BarEnd, BarId, Mount, Side};
use rearend::tape::Units;

use crate::support::demo;
use crate::{all, named, plate};

#[test]
fn a_pair_is_one_drawing_cut_four_times() {
    let setup = demo(0);
    let bracket = named(&setup, "lower bar, on the axle");
    let mount = |side| Mount::Bar {
        bar: BarId(0),
        end: BarEnd::Axle,
        side,
    };
    assert_eq!(bracket.mounts, [mount(Side::Drawn), mount(Side::Mirrored)]);
    let side = plate(&bracket, "side plate");
    assert_eq!(side.count, 4);
    assert_eq!(side.file_stem, "lower-bar-on-the-axle-side-plate");
    for (own, other) in side.stands.iter().take(2).zip(side.stands.iter().skip(2)) {
        let at = own.origin;
        assert_eq!(other.origin, Point3::new(at.x, -at.y, at.z));
        let mirrored = |v: Vector3<f64>| Vector3::new(v.x, -v.y, v.z);
        assert_eq!(other.x.into_inner(), mirrored(own.x.into_inner()));
        assert_eq!(other.y.into_inner(), mirrored(own.y.into_inner()));
    }
}

/// With the axle steered, bolts across the truck no longer mirror each other on it; on the frame they do.
#[test]
fn an_axle_that_stands_askew_has_a_left_and_a_right_bracket() {
    let mut setup = demo(0);
    setup.placement.steer_rad = 0.02;
    let names: Vec<_> = all(&setup).into_iter().flatten().map(|b| b.name).collect();
    let has = |name: &str| names.iter().any(|n| n == name);
    assert!(
        has("left lower bar, on the axle") && has("right lower bar, on the axle"),
        "{names:?}"
    );
    assert!(!has("lower bar, on the axle"), "{names:?}");
}

#[test]
fn brackets_are_drawn_alike_before_anything_is_solved() {
    let setup = demo(2);
    let unsolved = brackets::of(&setup, None, Units::Millimetres);
    let solved = all(&setup);
    assert_eq!(solved.len(), unsolved.len());
    for (a, b) in solved.iter().flatten().zip(unsolved.iter().flatten()) {
        assert_eq!(a.name, b.name);
        for (a, b) in a.plates.iter().zip(&b.plates) {
            assert_eq!(a.outline, b.outline, "{}", a.name);
        }
    }
}

/// Left and right of the truck exchanged, every plate is the same size.
#[test]
fn a_mirrored_bar_on_its_own_has_the_same_plates() {
    let mut setup = demo(0);
    setup.bars[0].mirrored = false;
    let areas = |setup: &rearend::setup::Setup| -> Vec<f64> {
        let ends = ["lower bar, on the frame", "lower bar, on the axle"];
        ends.iter()
            .flat_map(|name| named(setup, name).plates)
            .map(|p| p.area_m2())
            .collect()
    };
    let left = areas(&setup);
    let bar = &mut setup.bars[0];
    bar.mount_in_frame.y *= -1.0;
    bar.mount_in_axle.y *= -1.0;
    let right = areas(&setup);
    assert_eq!(left.len(), right.len());
    assert!(
        left.iter().zip(&right).all(|(a, b)| (a - b).abs() < 1e-12),
        "{left:?} {right:?}"
    );
}
