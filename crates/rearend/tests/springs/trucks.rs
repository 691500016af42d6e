//! Trucks on springs. Invented parts.

use nalgebra::{Point3, Vector3};
use rearend::mechanism::RearEnd;
use rearend::setup::{AirPoint, AirSpring, Bar, Coilover, Role, Setup, SpringKind, Springs};
use rearend::springs::{SideSpring, SpringPose};
use rearend::travel::{POSES, Row, Travel};

use crate::support::demo;

pub fn coilover() -> Coilover {
    Coilover {
        collapsed_m: 0.290,
        extended_m: 0.450,
        rate_n_per_m: 45_000.0,
        free_length_m: 0.300,
        preload_m: 0.012,
        coil_m: 0.095,
    }
}

/// Load rises, then falls, as a bag's does.
pub fn bag() -> AirSpring {
    let line = |height_m, load_n, volume_m3| AirPoint {
        height_m,
        load_n,
        volume_m3,
    };
    AirSpring {
        bag_m: 0.165,
        shortest_m: 0.075,
        longest_m: 0.250,
        most_pa: 900e3,
        chart_pa: 690e3,
        chart: vec![
            line(0.070, 10_200.0, 0.000_9),
            line(0.100, 9_400.0, 0.001_35),
            line(0.130, 9_500.0, 0.001_79),
            line(0.170, 9_000.0, 0.002_36),
            line(0.210, 7_600.0, 0.002_87),
            line(0.255, 4_100.0, 0.003_28),
        ],
    }
}

/// Leaning inwards and forwards, on the lower bars' side of the axle.
pub fn springs(kind: SpringKind, mount_in_frame: [f64; 3], hole: [f64; 3]) -> Springs {
    Springs {
        kind,
        mount_in_frame: Point3::from(mount_in_frame),
        holes_in_axle: vec![Point3::from(hole)],
        hole: 0,
        corner_kg: 420.0,
        unsprung_corner_kg: None,
        tyre_n_per_m: None,
        bump_stop_at_m: None,
    }
}

pub fn on_coilovers(which: usize) -> Setup {
    let mut setup = demo(which);
    let top = Point3::new(0.06, 0.33, 0.44) + Vector3::z() * setup.axle_z_m(setup.travel.ride_m);
    setup.springs = Some(springs(
        SpringKind::Coilover(coilover()),
        [top.x, top.y, top.z],
        [0.10, 0.42, 0.08],
    ));
    setup
}

pub fn on_bags(which: usize) -> Setup {
    let mut setup = demo(which);
    let top = Point3::new(0.08, 0.40, 0.20) + Vector3::z() * setup.axle_z_m(setup.travel.ride_m);
    setup.springs = Some(springs(
        SpringKind::Air(bag()),
        [top.x, top.y, top.z],
        [0.10, 0.42, 0.05],
    ));
    setup
}

/// Bars of one effective length in one direction, the upper ones angled in plan: through its level travel the axle goes on a circle in the
/// X-Z plane, of radius [`RADIUS_M`] about a point straight ahead at ride height, without turning.
pub fn on_a_circle() -> Setup {
    let mut setup = demo(0);
    let up = Vector3::z() * setup.axle_z_m(setup.travel.ride_m);
    let bar = |name: &str, role, frame_y: f64, axle_y: f64, z: f64| {
        let mut bar = Bar::new(
            name,
            role,
            Point3::new(RADIUS_M, frame_y, z) + up,
            Point3::new(0.0, axle_y, z),
        );
        bar.mirrored = true;
        bar
    };
    setup.bars = vec![
        bar("lower bar", Role::Lower, 0.45, 0.45, -0.08),
        bar("upper bar", Role::Upper, 0.15, 0.45, 0.14),
    ];
    setup
}

pub const RADIUS_M: f64 = 0.6;

pub fn swept(setup: &Setup, roll_rad: f64) -> (RearEnd, Travel) {
    let rear_end = RearEnd::compile(setup).expect("the setup compiles");
    let travel = Travel::sweep(setup, &rear_end, roll_rad, POSES);
    assert_eq!(travel.rows.len(), POSES, "the travel is followed to both ends");
    (rear_end, travel)
}

pub fn pose(row: &Row) -> SpringPose {
    row.spring.expect("there are springs")
}

pub fn side(row: &Row, left: bool) -> SideSpring {
    let pose = pose(row);
    if left { pose.left } else { pose.right }
}
