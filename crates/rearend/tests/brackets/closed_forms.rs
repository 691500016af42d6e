//! Areas and masses of plates whose shape has a formula.

use std::f64::consts::{FRAC_PI_3, FRAC_PI_4, PI};

use nalgebra::{Point2, Point3};
use rearend::brackets::{Outline, Segment};

use crate::support::demo;
use crate::{named, plate};

/// Density of steel: EN 1991-1-1, table A.4.
const STEEL_KG_PER_M3: f64 = 7850.0;

fn arc(to: [f64; 2], centre: [f64; 2], clockwise: bool) -> Segment {
    Segment::Arc {
        to: to.into(),
        centre: centre.into(),
        clockwise,
    }
}

#[test]
fn two_half_circles_are_a_circle() {
    let disc = Outline {
        start: Point2::new(2.0, 1.0),
        segments: vec![arc([-2.0, 1.0], [0.0, 1.0], false), arc([2.0, 1.0], [0.0, 1.0], false)],
    };
    assert!((disc.area_m2() - 4.0 * PI).abs() < 1e-12);
    assert!((disc.length_m() - 4.0 * PI).abs() < 1e-12);
    let [low, high] = disc.bounds();
    assert!((low - Point2::new(-2.0, -1.0)).norm() < 1e-12 && (high - Point2::new(2.0, 3.0)).norm() < 1e-12);
    assert!((disc.distance_m(Point2::new(0.5, 1.0)) - 1.5).abs() < 1e-12);
}

/// A square with a quarter of a circle bitten out of a corner.
#[test]
fn a_hollow_arc_takes_its_sector_away() {
    let bitten = Outline {
        start: Point2::new(1.0, 0.0),
        segments: vec![
            Segment::Line {
                to: Point2::new(3.0, 0.0),
            },
            Segment::Line {
                to: Point2::new(3.0, 3.0),
            },
            Segment::Line {
                to: Point2::new(0.0, 3.0),
            },
            Segment::Line {
                to: Point2::new(0.0, 1.0),
            },
            arc([1.0, 0.0], [0.0, 0.0], true),
        ],
    };
    assert!((bitten.area_m2() - (9.0 - FRAC_PI_4)).abs() < 1e-12);
    // The nearest point is on the arc, not on a side.
    let out = 0.9 * std::f64::consts::SQRT_2;
    assert!((bitten.distance_m(Point2::new(0.9, 0.9)) - (out - 1.0)).abs() < 1e-12);
}

/// The crank of a Watt's linkage: a stadium through three holes in line.
#[test]
fn a_cranks_plate_is_a_stadium() {
    let setup = demo(1);
    let watt = setup.watt.as_ref().expect("the second truck has a Watt's linkage");
    let crank = named(&setup, "Watt's crank");
    let plate = &crank.plates[0];
    let (edge, hole) = (setup.steel.edge_m(), setup.steel.hole_m());
    let long = 2.0 * watt.half_crank_m;
    let area = 2.0 * edge * long + PI * edge * edge - 3.0 * FRAC_PI_4 * hole * hole;
    assert!((plate.area_m2() - area).abs() < 1e-14, "{} {area}", plate.area_m2());
    assert_eq!((plate.holes.len(), plate.count), (3, 2));
    for (hole, at) in plate.holes.iter().zip([watt.pivot, watt.joints()[0], watt.joints()[1]]) {
        let middle = nalgebra::center(&plate.stands[0].place(hole.at), &plate.stands[1].place(hole.at));
        assert!((middle - at).norm() < 1e-12);
    }
}

/// A saddled side plate: the tangent hull of a round end and the two heels, the sector that the tube takes out of it, and what lies between
/// that and the heels' chord.
#[test]
fn a_saddled_plate_has_the_area_of_its_parts() {
    let setup = demo(0);
    let bracket = named(&setup, "lower bar, on the axle");
    let plate = plate(&bracket, "side plate");
    let steel = &setup.steel;
    let (tube, heel) = (setup.axle.tube_m / 2.0, setup.axle.tube_m / 2.0 + steel.plate_m);
    let (edge, far) = (steel.edge_m(), setup.bars[0].mount_in_axle.coords.norm_squared());
    let far = (far - setup.bars[0].mount_in_axle.y.powi(2)).sqrt();
    // A third of the tube: heels at sixty degrees to either side of the bolt.
    let (wide, low) = (heel * FRAC_PI_3.sin(), heel * FRAC_PI_3.cos());
    let tall = far - low;
    let slant = wide.hypot(tall);
    let tangents = edge * (slant * slant - edge * edge).sqrt();
    let apex = 2.0 * (wide / tall).atan();
    let sector = 2.0 * PI - apex - 2.0 * (edge / slant).acos();
    let hull = wide * tall + tangents + edge * edge * sector / 2.0;
    let between = wide * low - tube * tube * FRAC_PI_3;
    let area = hull + between;
    assert!(
        (plate.outline.area_m2() - area).abs() < 1e-14,
        "{} {area}",
        plate.outline.area_m2()
    );
    let hole = FRAC_PI_4 * steel.hole_m().powi(2);
    let mass = (area - hole) * steel.plate_m * STEEL_KG_PER_M3;
    assert!((plate.mass_kg() - mass).abs() < 1e-12, "{} {mass}", plate.mass_kg());
}

/// On a rail's outside the sides lean fifteen degrees from a straight edge to tangents of the round end.
#[test]
fn a_plate_on_a_pad_tapers_by_fifteen_degrees() {
    let mut setup = demo(0);
    // Ahead of the kick-up, half way up a rail of 150.
    setup.bars[0].mount_in_frame = Point3::new(0.9, 0.49, 0.075);
    let bracket = named(&setup, "lower bar, on the frame");
    let plate = plate(&bracket, "side plate");
    let steel = &setup.steel;
    let (edge, reach) = (steel.edge_m(), 1.25 * steel.edge_m().max(steel.bush_eye_m / 2.0));
    let lean = 15f64.to_radians();
    let half = (edge + reach * lean.sin()) / lean.cos();
    let [low, high] = plate.bounds();
    assert!((high.x - low.x - 2.0 * half).abs() < 1e-12, "{} wide", high.x - low.x);
    assert!((high.y - low.y - edge - reach).abs() < 1e-12, "{} high", high.y - low.y);
    // Two right-angled halves: the trapezium below the tangents' points, and the sector above.
    let (sin, cos) = lean.sin_cos();
    let trapezium = (half + edge * cos) * (reach + edge * sin);
    let cap = edge * edge * ((PI - 2.0 * lean) / 2.0 - sin * cos);
    let area = trapezium + cap;
    assert!(
        (plate.outline.area_m2() - area).abs() < 1e-14,
        "{} {area}",
        plate.outline.area_m2()
    );
}
