//! What `axlewright travel` writes of shaft, springs and tyres: closed forms of demo 01, whose axle moves without turning.

use nalgebra::{Point3, Vector3};
use rearend::setup::{Setup, SpringKind};
use tests::parallelogram;

use crate::shell::{Shell, demo, demo_setup};
use crate::table::{Table, assert_all_near};

/// How well a pose is solved, mm; angles of the shaft, metres long, to as much.
const NEAR: f64 = 1e-5;

/// The table of demo 01, and a value that follows from how the axle has moved at each of its heights.
fn expected(of: impl Fn(&Setup, Vector3<f64>) -> f64) -> (Table, Vec<f64>) {
    let (table, setup) = (Table::read(&Shell::new().text(&["travel", &demo("01")])), demo_setup());
    let values = table
        .column("height_mm")
        .into_iter()
        .map(|height_mm| of(&setup, parallelogram::moved(&setup, height_mm / 1e3)));
    let values = values.collect();
    (table, values)
}

fn assert_column(name: &str, of: impl Fn(&Setup, Vector3<f64>) -> f64) {
    let (table, values) = expected(of);
    assert_all_near(name, &table.column(name), &values, NEAR);
}

/// A point of the axle, which only moves, in frame coordinates.
fn in_frame(setup: &Setup, in_axle: Point3<f64>, moved: Vector3<f64>) -> Point3<f64> {
    in_axle + moved + Vector3::z() * setup.axle_z_m(setup.travel.ride_m)
}

/// Along a line with this much nose up, forward.
fn nose_up(angle_rad: f64) -> Vector3<f64> {
    Vector3::new(angle_rad.cos(), 0.0, angle_rad.sin())
}

/// From the axle's joint forward to the transmission's.
fn shaft(setup: &Setup, moved: Vector3<f64>) -> Vector3<f64> {
    let driveline = setup.driveline.as_ref().expect("a driveline");
    let pinion = Point3::from(nose_up(setup.axle.pinion_angle_rad) * setup.axle.pinion_length_m);
    driveline.output - in_frame(setup, pinion, moved)
}

#[test]
fn joints_work_at_the_angles_between_the_lines() {
    assert_column("front_joint_deg", |s, moved| {
        shaft(s, moved).angle(&nose_up(2.5f64.to_radians())).to_degrees()
    });
    assert_column("rear_joint_deg", |s, moved| {
        shaft(s, moved).angle(&nose_up(s.axle.pinion_angle_rad)).to_degrees()
    });
    // Both ends alike and in phase: nothing is left.
    assert_column("shaft_residual_deg", |_, _| 0.0);
}

#[test]
fn the_splines_slide_by_what_the_shaft_changes() {
    assert_column("slip_mm", |s, moved| {
        (shaft(s, moved).norm() - shaft(s, Vector3::zeros()).norm()) * 1e3
    });
}

/// Both mounts of the spring on a side of the truck, +1 left, frame coordinates.
fn spring(setup: &Setup, side: f64, moved: Vector3<f64>) -> Vector3<f64> {
    let springs = setup.springs.as_ref().expect("springs");
    let mirrored = |p: Point3<f64>| Point3::new(p.x, side * p.y, p.z);
    let lower = springs.holes_in_axle[springs.hole];
    in_frame(setup, mirrored(lower), moved) - mirrored(springs.mount_in_frame)
}

#[test]
fn springs_are_as_long_as_from_mount_to_mount() {
    assert_column("spring_left_mm", |s, moved| spring(s, 1.0, moved).norm() * 1e3);
    assert_column("spring_right_mm", |s, moved| spring(s, -1.0, moved).norm() * 1e3);
}

/// Mean of both sides; by differences of lengths over a tenth of a millimetre, which curve by 1e-8 of it.
fn motion_ratio(setup: &Setup, moved: Vector3<f64>, side: f64) -> f64 {
    let length_m = |by_m: f64| {
        let height_m = setup.travel.ride_m - moved.z + by_m;
        spring(setup, side, parallelogram::moved(setup, height_m)).norm()
    };
    // The wheel rises against the frame as the ride height falls.
    (length_m(5e-5) - length_m(-5e-5)) / 1e-4
}

#[test]
fn the_motion_ratio_is_what_the_length_changes_by() {
    assert_column("motion_ratio", |s, moved| {
        f64::midpoint(motion_ratio(s, moved, 1.0), motion_ratio(s, moved, -1.0))
    });
}

#[test]
fn the_wheel_rate_is_the_slope_of_what_the_wheel_carries() {
    let carried_n = |s: &Setup, moved: Vector3<f64>, side: f64| {
        let SpringKind::Coilover(coil) = &s.springs.as_ref().expect("springs").kind else {
            panic!("demo 01 stands on coilovers")
        };
        let pressed_m = coil.preload_m + coil.extended_m - spring(s, side, moved).norm();
        coil.rate_n_per_m * pressed_m * motion_ratio(s, moved, side)
    };
    let (table, values) = expected(|s, moved| {
        let over = |by_m: f64| {
            let moved = parallelogram::moved(s, s.travel.ride_m - moved.z - by_m);
            f64::midpoint(carried_n(s, moved, 1.0), carried_n(s, moved, -1.0))
        };
        (over(1e-3) - over(-1e-3)) / 2e-3 / 1e3
    });
    // Differences over millimetres of differences over a tenth of one.
    assert_all_near(
        "wheel_rate_n_per_mm",
        &table.column("wheel_rate_n_per_mm"),
        &values,
        2e-3,
    );
    let pressure = table.cells("spring_pressure_kpa");
    assert!(pressure.iter().all(String::is_empty), "coilovers have no pressure");
    assert!(
        table.cells("carrier_joint_deg").iter().all(String::is_empty),
        "nor has this shaft a bearing"
    );
}

/// How far an upright tyre reaches sideways from its middle, of what stands higher than a height over its axis: half its width, and less
/// where only the rounding of its shoulder, of a fifth of the width, stands there. None where nothing does.
fn reach_m(setup: &Setup, higher_than_m: f64) -> Option<f64> {
    let (radius_m, width_m) = (setup.wheels.tyre_m / 2.0, setup.wheels.tyre_width_m);
    let shoulder_m = 0.2 * width_m;
    let over_m = (higher_than_m - (radius_m - shoulder_m)).max(0.0);
    (over_m <= shoulder_m).then(|| width_m / 2.0 - shoulder_m + (shoulder_m * shoulder_m - over_m * over_m).sqrt())
}

/// A column of rooms, empty where there is nothing beside the tyre.
fn assert_rooms(name: &str, room_m: impl Fn(&Setup, Vector3<f64>) -> Option<f64>) {
    let (table, values) = expected(|s, moved| room_m(s, moved).map_or(f64::NAN, |room| room * 1e3));
    let mut told = 0;
    for (cell, value) in table.cells(name).iter().zip(values) {
        assert_eq!(cell.is_empty(), value.is_nan(), "{name}: {cell}, expected {value}");
        if let Ok(room) = cell.parse::<f64>() {
            assert!((room - value).abs() < NEAR, "{name}: {room}, expected {value}");
            told += 1;
        }
    }
    assert!(told > 5, "{name} is told at {told} heights");
}

fn axle_z_m(setup: &Setup, moved: Vector3<f64>) -> f64 {
    setup.axle_z_m(setup.travel.ride_m) + moved.z
}

#[test]
fn tyres_have_the_room_to_the_lips_that_the_shift_leaves_them() {
    for (name, side) in [("tyre_lip_left_mm", 1.0), ("tyre_lip_right_mm", -1.0)] {
        assert_rooms(name, |s, moved| {
            let body = s.body.as_ref()?;
            let reach_m = reach_m(s, body.lip_z_m - axle_z_m(s, moved))?;
            Some(body.lip_to_lip_m / 2.0 - side * moved.y - s.track_m() / 2.0 - reach_m)
        });
    }
}

/// The tubs begin at the bed floor; below it are the rails, beside which the flat of the tyre stands throughout.
#[test]
fn tyres_have_the_room_inside_that_the_shift_leaves_them() {
    assert_rooms("tyre_inner_mm", |s, moved| {
        let body = s.body.as_ref()?;
        let middle_m = s.track_m() / 2.0 - moved.y.abs();
        let rail_m = middle_m - s.wheels.tyre_width_m / 2.0 - s.rails.spacing_m / 2.0;
        let above_floor_m = reach_m(s, body.bed_floor_z_m? - axle_z_m(s, moved));
        let tub_m = above_floor_m.map(|reach_m| middle_m - reach_m - body.tub_to_tub_m.unwrap_or_default() / 2.0);
        Some(tub_m.map_or(rail_m, |tub_m| tub_m.min(rail_m)))
    });
}

/// Air: what it takes to carry the corner at each height, by the chart's load at that length; in the lines of the chart exactly.
#[test]
fn the_pressure_carries_the_corner() {
    let table = Table::read(&Shell::new().text(&["travel", &demo("02")]));
    let (ratio, pressure) = (table.column("motion_ratio"), table.cells("spring_pressure_kpa"));
    assert!(ratio.iter().all(|r| r.is_finite()));
    let known: Vec<f64> = pressure.iter().filter_map(|p| p.parse().ok()).collect();
    assert!(known.len() > 40, "{} of the poses have a pressure", known.len());
    let setup = shop::demo::ALL[1].setup().expect("a demo reads");
    let springs = setup.springs.as_ref().expect("springs");
    let SpringKind::Air(air) = &springs.kind else {
        panic!("demo 02 stands on air")
    };
    let corner_n = springs.corner_kg * 9.806_65;
    let lengths = table
        .column("spring_left_mm")
        .into_iter()
        .zip(table.column("spring_right_mm"));
    for ((cell, ratio), (left, right)) in pressure.iter().zip(ratio).zip(lengths) {
        let Ok(kpa) = cell.parse::<f64>() else { continue };
        // Between the neighbouring lines of the chart, whatever the curve between them.
        let mean_m = (left + right) / 2e3;
        let above = air
            .chart
            .iter()
            .position(|p| p.height_m >= mean_m)
            .expect("within the chart")
            .max(1);
        let areas = [above - 1, above].map(|i| air.chart[i].load_n / air.chart_pa);
        let needs = |area: f64| corner_n / ratio / area / 1e3;
        let between = [needs(areas[0]), needs(areas[1])];
        let (low, high) = (between[0].min(between[1]), between[0].max(between[1]));
        // Left and right differ by their lengths in the ratio's mean.
        assert!(
            (low * 0.995..=high * 1.005).contains(&kpa),
            "{kpa} kPa, between {low} and {high}"
        );
    }
}
