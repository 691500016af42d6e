//! Published values and closed forms. Each check names its source; numbers that a source does not print are derived from the stated
//! formula, outside this program.

#![expect(
    clippy::expect_used,
    reason = "a test may stop at the first thing that is not as it should be"
)]

#[path = "published/first_order.rs"]
mod first_order;
#[path = "published/springs.rs"]
mod springs;

use linkage::{Configuration, Drive, Mechanism};
use nalgebra::{Point3, Vector2};
use rearend::first_order::FirstOrder;
use rearend::mechanism::RearEnd;
use rearend::setup::{BarEnd, BarId, Mount, Setup, Side};
use rearend::sideways::{LevelAt, levelled};
use rearend::travel::{POSES, Row, Travel};
use shop::demo;
use tests::mechanisms::{self, UNIT, ground, platform};

#[track_caller]
fn near(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "found {found}, expected {expected} within {within}"
    );
}

/// Sideways shift and crank turn after a rise, in the problem's unit and radians.
fn risen(mechanism: &Mechanism, rise: f64) -> (f64, f64) {
    let drive = Drive {
        z_m: rise * UNIT,
        roll_rad: 0.0,
    };
    let at = mechanism
        .walk_to(mechanism.drawn(), drive)
        .expect("the rise is reached")
        .at;
    (at.origin_in_ground.y / UNIT, at.crank_rad[0])
}

fn demo(which: usize) -> Setup {
    demo::ALL[which].setup().expect("demo scenes read")
}

fn sweep(setup: &Setup) -> (RearEnd, Vec<Row>) {
    let rear_end = RearEnd::compile(setup).expect("the setup compiles");
    let travel = Travel::sweep(setup, &rear_end, 0.0, POSES);
    assert_eq!(travel.rows.len(), POSES, "the travel is followed to both ends");
    (rear_end, travel.rows)
}

/// Source: closed form of an arc, L - sqrt(L^2 - z^2).
#[test]
fn a_level_panhard_bar_draws_an_arc() {
    let bar = mechanisms::panhard(36.0);
    near(risen(&bar, 4.0).0.abs(), 0.222_912_36, 5e-9);
    for rise in [-6.0, -4.0, -1.0, 0.5, 3.0, 6.0] {
        let expected = 36.0 - f64::sqrt(36.0 * 36.0 - rise * rise);
        near(risen(&bar, rise).0, expected, 5e-9);
    }
}

/// Source: common practice, and the symmetry of the arc.
#[test]
fn a_panhard_bar_level_at_half_travel_stands_at_the_same_place_at_both_ends() {
    let mut setup = demo(0);
    let (rear_end, _) = sweep(&setup);
    let travel = Travel::sweep(&setup, &rear_end, 0.0, POSES);
    let (mount, to) =
        levelled(&setup, &rear_end, &travel, BarId(2), LevelAt::HalfTravel).expect("half travel is reached");
    assert!(setup.move_mount(mount, to));
    // The arc of the long bars is level at half travel too only if theirs are: make them so.
    for bar in [BarId(0), BarId(1)] {
        let axle = setup.bars[bar.0].mount_in_axle;
        let level = Point3::new(0.56, axle.y, axle.z + setup.axle_z_m(setup.travel.half_m()));
        assert!(setup.move_mount(
            Mount::Bar {
                bar,
                end: BarEnd::Frame,
                side: Side::Drawn
            },
            level
        ));
    }
    let (_, rows) = sweep(&setup);
    near(rows[0].shift_m, rows[POSES - 1].shift_m, 1e-9);
    assert!(
        (rows[0].shift_m - rows[POSES / 2].shift_m).abs() > 1e-3,
        "the bar does swing in between"
    );
}

/// Source: Kempe, *How to Draw a Straight Line*, 1877; numbers derived from the geometry with 40 digits.
#[test]
fn watts_linkage_draws_its_flat_s() {
    let watt = mechanisms::watt(16.0, 3.0);
    let expected = [
        (1.6, 0.000_107_762_78, 1.531_910),
        (3.2, 0.003_565_792_2, 6.186_124),
        (4.0, 0.011_191_949, 9.751_604),
        (6.0, 0.096_078_621, 22.950_672),
        (8.0, 0.548_029_61, 46.797_277),
    ];
    for (rise, shift, turn_deg) in expected {
        let (up, turn) = risen(&watt, rise);
        near(up.abs(), shift, shift * 5e-8);
        near(turn.abs().to_degrees(), turn_deg, 6e-7);
        near(risen(&watt, -rise).0, -up, 1e-9);
    }
}

/// Source: Watt's curve as published (MathWorld, MacTutor), with b = R and a = sqrt(R^2 + c^2) half the distance of the fixed pivots,
/// in axes along the line that joins them.
#[test]
fn every_pose_of_watts_linkage_lies_on_watts_curve() {
    let (r, c) = (16.0f64, 3.0f64);
    let (a2, b2, c2) = (r * r + c * c, r * r, c * c);
    let d2 = a2 + b2 - c2;
    let (sin, cos) = (c / a2.sqrt(), r / a2.sqrt());
    let watt = mechanisms::watt(r, c);
    for step in -80..=80 {
        let rise = f64::from(step) / 10.0;
        let (shift, _) = risen(&watt, rise);
        let (x, y) = (shift * cos + rise * sin, rise * cos - shift * sin);
        let square = x * x + y * y;
        let curve = square * (square - d2).powi(2) + 4.0 * a2 * y * y * (square - b2);
        near(curve / r.powi(6), 0.0, 1e-9);
    }
}

/// Source: series of the closure; the fifth degree is stated by Chebyshev (Ferguson 1962).
#[test]
fn watts_linkage_shifts_with_the_fifth_power_of_a_small_rise() {
    let (r, c) = (16.0, 3.0);
    let watt = mechanisms::watt(r, c);
    for rise in [0.2f64, 0.4, -0.4] {
        let leading = rise.powi(5) / (8.0 * c * r.powi(3));
        let found = risen(&watt, rise).0;
        near(found.abs(), leading.abs(), leading.abs() * 2e-3 + 2e-11);
    }
    let sign = |rise| risen(&watt, rise).0.signum();
    assert_ne!(sign(0.4), sign(-0.4), "odd in the rise");
}

/// Source: a course example that prints 60/97 and -57/-95 degrees from a drawing; exact values derived.
#[test]
fn a_planar_four_bar_closes_open_and_crossed() {
    let turned = |length: f64, deg: f64| Vector2::new(deg.to_radians().cos(), deg.to_radians().sin()) * length;
    let (crank, far) = (turned(8.0, 30.0), turned(16.0, 15.0));
    for (coupler_deg, rocker_deg) in [(59.458_795, 96.759_380), (-57.562_622, -94.863_206)] {
        // The coupler is the platform; its origin is driven to the height of the crank's end. Drawn two degrees off.
        let drawing = Configuration {
            pitch_rad: -f64::to_radians(coupler_deg + 2.0),
            ..Configuration::level_at(crank.y)
        };
        let drawing = Configuration {
            origin_in_ground: Point3::new(crank.x + 0.1, 0.0, crank.y),
            ..drawing
        };
        let planar = |from: (f64, f64), x: f64, y: f64, length_m: f64| linkage::Link {
            from: ground(from.0, y, from.1),
            to: platform(x, y, 0.0),
            length_m,
            stiffness_n_per_m: 1.0,
        };
        let links = vec![
            planar((0.0, 0.0), 0.0, 1.0, 8.0),
            planar((0.0, 0.0), 0.0, -1.0, 8.0),
            planar((far.x, far.y), 14.0, 1.0, 12.0),
            planar((far.x, far.y), 14.0, -1.0, 12.0),
        ];
        let mechanism = Mechanism::new(links, Vec::new(), drawing).expect("a mechanism");
        let solved = mechanism.assemble(&drawing).expect("it closes").at;
        near(-solved.pitch_rad.to_degrees(), coupler_deg, 5e-7);
        let end = solved.to_ground(Point3::new(14.0, 0.0, 0.0));
        near((end.z - far.y).atan2(end.x - far.x).to_degrees(), rocker_deg, 5e-7);
        near(solved.origin_in_ground.x, crank.x, 1e-9);
    }
}

/// The coupler angle of a planar four-bar from its input angle by Freudenstein's equation, on the branch nearest `near`.
///
/// Ground `g` along x, input `a`, coupler `b`, output `c`; angles from the ground link.
fn freudenstein(g: f64, a: f64, b: f64, c: f64, input: f64, near: f64) -> f64 {
    let (k1, k4, k5) = (g / a, g / b, (c * c - g * g - a * a - b * b) / (2.0 * a * b));
    let (sin, cos) = input.sin_cos();
    // D cos(t) + E sin(t) + F = 0 in half tangents.
    let d = cos - k1 + k4 * cos + k5;
    let e = -2.0 * sin;
    let f = k1 + (k4 - 1.0) * cos + k5;
    let root = (e * e - 4.0 * d * f).sqrt();
    let candidates = [2.0 * (-e + root).atan2(2.0 * d), 2.0 * (-e - root).atan2(2.0 * d)];
    let away = |t: f64| (t - near).sin().abs();
    if away(candidates[0]) < away(candidates[1]) {
        candidates[0]
    } else {
        candidates[1]
    }
}

/// Side view (x, z) of the four hinge axes at a pose: lower frame, lower axle, upper axle, upper frame.
fn side_view(setup: &Setup, at: &Configuration) -> [Vector2<f64>; 4] {
    let flat = |p: Point3<f64>| Vector2::new(p.x, p.z);
    let [lower, upper] = [&setup.bars[0], &setup.bars[1]];
    [
        flat(lower.mount_in_frame),
        flat(at.to_ground(lower.mount_in_axle)),
        flat(at.to_ground(upper.mount_in_axle)),
        flat(upper.mount_in_frame),
    ]
}

/// Every pose of a symmetric layout in pure ride, against the four-bar of the effective lengths of its bars.
fn is_the_four_bar_of_its_effective_lengths(setup: &Setup) {
    let (rear_end, rows) = sweep(setup);
    let ride = side_view(setup, &rear_end.ride);
    let length = |i: usize, j: usize| (ride[j] - ride[i]).norm();
    let (ground, lower, coupler, upper) = (length(0, 3), length(0, 1), length(1, 2), length(3, 2));
    let angle = |v: Vector2<f64>| v.y.atan2(v.x);
    let ground_angle = angle(ride[3] - ride[0]);
    let coupler_at_ride = angle(ride[2] - ride[1]);
    for row in &rows {
        let now = side_view(setup, &row.at);
        let input = angle(now[1] - now[0]) - ground_angle;
        let solved = angle(now[2] - now[1]);
        let expected = freudenstein(ground, lower, coupler, upper, input, solved - ground_angle) + ground_angle;
        let wrapped =
            (solved - expected + std::f64::consts::PI).rem_euclid(std::f64::consts::TAU) - std::f64::consts::PI;
        near(wrapped, 0.0, 1e-10);
        near((now[1] - now[0]).norm() / lower, 1.0, 1e-10);
        near((now[2] - now[3]).norm() / upper, 1.0, 1e-10);
        near(
            row.pinion_to_frame_rad - setup.axle.pinion_angle_rad,
            solved - coupler_at_ride,
            1e-10,
        );
        near(row.shift_m, 0.0, 1e-10);
    }
}

/// Source: loop closure, Freudenstein 1955.
#[test]
fn a_symmetric_layout_in_ride_is_the_four_bar_of_its_effective_lengths() {
    is_the_four_bar_of_its_effective_lengths(&demo(2));
}

/// Source: common practice; a parallelogram.
#[test]
fn equal_parallel_bars_hold_the_pinion_angle() {
    for which in [0, 1] {
        let setup = demo(which);
        let (_, rows) = sweep(&setup);
        for row in rows {
            near(row.pinion_to_frame_rad, setup.axle.pinion_angle_rad, 1e-9);
        }
    }
}

/// Source: common practice. Four bars of one length, the upper ones angled in plan, act as if the upper ones were as short as they look
/// from the side: the pinion turns.
#[test]
fn equal_bars_with_angled_uppers_turn_the_pinion() {
    let mut setup = demo(2);
    let length = 0.6f64;
    let ride_z = setup.axle_z_m(setup.travel.ride_m);
    let [lower, upper] = [setup.bars[0].mount_in_axle, setup.bars[1].mount_in_axle];
    let splay = 0.25f64;
    let to = |x: f64, y: f64, z: f64| Point3::new(x, y, z + ride_z);
    let mount = |bar| Mount::Bar {
        bar: BarId(bar),
        end: BarEnd::Frame,
        side: Side::Drawn,
    };
    let ahead = (length * length - splay * splay).sqrt();
    assert!(setup.move_mount(mount(0), to(lower.x + length, lower.y, lower.z)));
    assert!(setup.move_mount(mount(1), to(upper.x + ahead, upper.y + splay, upper.z)));
    let rear_end = RearEnd::compile(&setup).expect("compiles");
    for (_, l) in rear_end.lengths_m() {
        near(l, length, 1e-8);
    }
    is_the_four_bar_of_its_effective_lengths(&setup);
    let (_, rows) = sweep(&setup);
    let turned = (rows[0].pinion_to_frame_rad - setup.axle.pinion_angle_rad).to_degrees();
    assert!(turned.abs() > 0.1, "the pinion turns by {turned} degrees");
}

/// Source: graphical method of Gillespie 1992, ch. 7, as paraphrased in print; numbers derived: slope 3/26, 15 + 3 * 3/26. Inches.
#[test]
fn three_link_with_panhard_has_its_textbook_roll_centre_and_steer() {
    let mut setup = demo(0);
    let inch = 0.0254;
    // Axle centre on the axle plane, at the height of the loaded radius; the problem's heights are above ground.
    setup.travel.ride_m = 6.0 * inch;
    setup.travel.laid_out_m = 4.0 * inch;
    setup.travel.full_lift_m = 9.0 * inch;
    let radius = setup.wheels.loaded_radius_m;
    let in_frame = |x: f64, y: f64, z: f64| Point3::new(x * inch, y * inch, z * inch - setup.travel.ride_m);
    let in_axle = |x: f64, y: f64, z: f64| Point3::new(x * inch, y * inch, z * inch - radius);
    let ends = [
        (in_frame(26.0, 16.0, 14.0), in_axle(0.0, 16.0, 11.0), true),
        (in_frame(24.0, 0.0, 21.0), in_axle(0.0, 0.0, 23.0), false),
        (in_frame(-3.0, 20.0, 16.0), in_axle(-3.0, -20.0, 14.0), false),
    ];
    for (bar, (frame, axle, mirrored)) in setup.bars.iter_mut().zip(ends) {
        (bar.mount_in_frame, bar.mount_in_axle, bar.mirrored) = (frame, axle, mirrored);
    }
    let rear_end = RearEnd::compile(&setup).expect("compiles");
    let answer = FirstOrder::at(&setup, &rear_end, &rear_end.ride);
    near(answer.roll_centre_m / inch, 15.346_153_846, 1e-8);
    near(answer.roll_steer.abs(), 0.115_384_615, 1e-9);
}
