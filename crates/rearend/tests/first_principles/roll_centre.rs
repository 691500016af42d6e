//! Roll centre and axle steer against drawing and statics: the height at which a sideways push on the axle asks nothing of the springs but
//! an even lift. Source of the definition: force definition of J670e; of the drawings: the graphical method of the textbooks.

use nalgebra::{Matrix6, Point3, SMatrix, Vector3, Vector6};
use rearend::first_order::FirstOrder;
use rearend::setup::{Carrier, Ends, Length, Role, Setup, Stance, Watt};

use crate::drawings::{add, add_pair, at_ride, axle_z_m, bare, compile, level_three_link};
use crate::near;

/// Twists come from one small linear solve of well-posed drawings.
const SOLVED: f64 = 1e-10;

fn first(setup: &Setup) -> FirstOrder {
    at_ride(setup).first
}

/// Height above ground of a height from the axle centre.
fn above_ground(setup: &Setup, z_m: f64) -> f64 {
    setup.wheels.loaded_radius_m + z_m
}

/// Roll centre above ground by equilibrium of the axle: four bars' pulls, an even lift at the axle centre, and a sideways push of one at the
/// height sought make no force and no moment.
fn by_statics(setup: &Setup) -> f64 {
    let rear_end = compile(setup);
    let centre = rear_end.ride.origin_in_ground;
    let mut columns = Vec::new();
    for &(part, _) in &rear_end.lengths_m().collect::<Vec<_>>() {
        let [frame, axle] = rear_end
            .ends_in_frame(setup, part, &rear_end.ride)
            .expect("the part is there");
        let (pull, arm) = ((frame - axle).normalize(), axle - centre);
        columns.push(wrench(pull, arm.cross(&pull)));
    }
    assert_eq!(columns.len(), 4, "as many bars as statics can do with");
    columns.push(wrench(Vector3::z(), Vector3::zeros()));
    // A push of one to the left at height z: force y, moment -z about X.
    columns.push(wrench(Vector3::zeros(), -Vector3::x()));
    let push = wrench(Vector3::y(), Vector3::zeros());
    let solved = Matrix6::from_columns(&columns).lu().solve(&-push);
    above_ground(setup, solved.expect("the bars hold the axle")[5])
}

fn wrench(force: Vector3<f64>, moment: Vector3<f64>) -> Vector6<f64> {
    let mut both: SMatrix<f64, 6, 1> = Vector6::zeros();
    both.fixed_rows_mut::<3>(0).copy_from(&force);
    both.fixed_rows_mut::<3>(3).copy_from(&moment);
    both
}

/// Ends of a panhard bar as they stand at ride height: x, then y and z at the frame and at the axle.
const PANHARDS: [(f64, [f64; 2], [f64; 2]); 6] = [
    (-0.2, [0.40, 0.05], [-0.40, 0.05]),
    (-0.2, [0.40, 0.15], [-0.40, 0.05]),
    // Both ends on one side: the middle is 300 mm off the centre plane, the crossing beyond the axle end.
    (-0.25, [0.55, 0.12], [0.05, 0.02]),
    (0.0, [-0.45, -0.03], [0.10, 0.09]),
    (0.18, [0.60, 0.30], [-0.05, 0.10]),
    (-0.22, [-0.50, 0.02], [-0.02, 0.20]),
];

fn with_panhard((x, frame, axle): (f64, [f64; 2], [f64; 2])) -> Setup {
    let mut setup = level_three_link();
    add(
        &mut setup,
        "panhard bar",
        Role::Sideways,
        [x, frame[0], frame[1]],
        [x, axle[0], axle[1]],
    );
    setup
}

#[test]
fn a_panhard_bar_puts_the_roll_centre_where_it_crosses_the_centre_plane() {
    for panhard in PANHARDS {
        let setup = with_panhard(panhard);
        let (_, [y0, z0], [y1, z1]) = panhard;
        let crossing = z1 + (z0 - z1) * (0.0 - y1) / (y0 - y1);
        let found = first(&setup);
        near(found.roll_centre_m, above_ground(&setup, crossing), SOLVED);
        near(found.roll_centre_m, by_statics(&setup), SOLVED);
        near(found.roll_steer, 0.0, SOLVED);
        // As the axle rises the bar turns about its frame end: aside by its slope, down the bar toward the frame end's side.
        near(found.ride_shift, -(z1 - z0) / (y1 - y0), SOLVED);
        near(found.ride_steer_rad_per_m, 0.0, SOLVED);
    }
    let far_off = with_panhard(PANHARDS[2]);
    let middle = above_ground(&far_off, f64::midpoint(0.12, 0.02));
    assert!(
        (first(&far_off).roll_centre_m - middle).abs() > 0.05,
        "not at its middle, which is far off the centre plane"
    );
}

/// Links of a Watt's linkage in the rear view, (y, z) from the axle centre: pivot, left end, right end, arms up and down.
#[derive(Clone, Copy)]
struct Drawn {
    pivot: [f64; 2],
    left: [f64; 2],
    right: [f64; 2],
    arms: [f64; 2],
}

const WATTS: [Drawn; 5] = [
    Drawn {
        pivot: [0.0, 0.04],
        left: [0.35, 0.11],
        right: [-0.35, -0.03],
        arms: [0.07, 0.07],
    },
    Drawn {
        pivot: [0.0, 0.10],
        left: [0.35, 0.20],
        right: [-0.35, 0.06],
        arms: [0.07, 0.07],
    },
    Drawn {
        pivot: [0.0, -0.05],
        left: [0.40, 0.01],
        right: [-0.30, -0.16],
        arms: [0.08, 0.05],
    },
    Drawn {
        pivot: [0.12, 0.05],
        left: [0.45, 0.22],
        right: [-0.40, -0.02],
        arms: [0.07, 0.07],
    },
    Drawn {
        pivot: [-0.1, 0.02],
        left: [0.30, 0.02],
        right: [-0.50, -0.07],
        arms: [0.06, 0.09],
    },
];

fn with_watt(drawn: Drawn, crank_on: Carrier) -> Setup {
    let mut setup = level_three_link();
    let x = -0.22;
    let lift = axle_z_m(&setup);
    let on = |carrier, [y, z]: [f64; 2]| Point3::new(x, y, if carrier == Carrier::Frame { z + lift } else { z });
    let links_to = match crank_on {
        Carrier::Axle => Carrier::Frame,
        Carrier::Frame => Carrier::Axle,
    };
    setup.watt = Some(Watt {
        crank_on,
        stance: Stance::Upright,
        axis: None,
        pivot: on(crank_on, drawn.pivot),
        half_crank_m: drawn.arms[0],
        right_half_crank_m: Some(drawn.arms[1]),
        left: on(links_to, drawn.left),
        right: on(links_to, drawn.right),
        tube_m: 0.0286,
        wall_m: 0.0048,
        ends: Ends::RodEnds,
        left_length: Length::CutToSuit,
        right_length: Length::CutToSuit,
        left_holes: None,
        right_holes: None,
        left_locked: false,
        right_locked: false,
    });
    setup
}

/// Three forces hold the crank: two along its links and one at its pivot, so that they meet in one point. What the linkage passes on thus
/// runs through the pivot and through the crossing of the links' lines, whichever body carries the crank; the roll centre is where that line
/// passes the centre plane.
fn where_the_pull_passes_the_centre_plane(drawn: Drawn) -> f64 {
    let point = |[y, z]: [f64; 2]| Vector3::new(y, z, 1.0);
    let [py, pz] = drawn.pivot;
    let left = point(drawn.left).cross(&point([py, pz + drawn.arms[0]]));
    let right = point(drawn.right).cross(&point([py, pz - drawn.arms[1]]));
    let pull = left.cross(&right).cross(&point(drawn.pivot));
    -pull.z / pull.y
}

#[test]
fn watts_linkage_puts_the_roll_centre_where_its_pull_passes_the_centre_plane() {
    for crank_on in [Carrier::Axle, Carrier::Frame] {
        for drawn in WATTS {
            let setup = with_watt(drawn, crank_on);
            let expected = where_the_pull_passes_the_centre_plane(drawn);
            if drawn.pivot[0] == 0.0 {
                near(expected, drawn.pivot[1], 1e-12);
            } else {
                assert!(
                    (expected - drawn.pivot[1]).abs() > 0.005,
                    "off the centre plane it is not the pivot"
                );
            }
            near(first(&setup).roll_centre_m, above_ground(&setup, expected), SOLVED);
        }
    }
}

/// Ends of a pair as they stand at ride height.
type Ends3 = ([f64; 3], [f64; 3]);

const FOUR_LINKS: [(Ends3, Ends3); 6] = [
    // Lower bars straight and level, upper ones spread to the front.
    (
        ([0.60, 0.45, -0.08], [0.0, 0.45, -0.08]),
        ([0.45, 0.40, 0.15], [0.0, 0.10, 0.15]),
    ),
    // Both slope.
    (
        ([0.60, 0.45, -0.10], [0.0, 0.45, -0.07]),
        ([0.45, 0.40, 0.10], [-0.05, 0.10, 0.16]),
    ),
    // Lower bars spread to the rear.
    (
        ([0.60, 0.15, -0.06], [0.0, 0.45, -0.08]),
        ([0.45, 0.35, 0.14], [0.0, 0.35, 0.15]),
    ),
    // Both pairs angled, against each other.
    (
        ([0.62, 0.12, -0.09], [0.02, 0.48, -0.08]),
        ([0.50, 0.38, 0.12], [-0.02, 0.09, 0.17]),
    ),
    // Upper bars spread to the rear.
    (
        ([0.58, 0.44, -0.05], [0.0, 0.48, -0.09]),
        ([0.40, 0.10, 0.18], [0.05, 0.38, 0.12]),
    ),
    (
        ([0.70, 0.30, -0.02], [0.0, 0.50, -0.10]),
        ([0.35, 0.45, 0.09], [0.0, 0.06, 0.20]),
    ),
];

/// Where the lines of a mirrored pair meet on the centre plane, (x, z, weight): of weight zero where they are parallel.
fn meeting((frame, axle): Ends3) -> Vector3<f64> {
    let weight = frame[1] - axle[1];
    let cross = |i: usize| axle[i] * frame[1] - frame[i] * axle[1];
    if weight == 0.0 {
        return Vector3::new(frame[0] - axle[0], frame[2] - axle[2], 0.0);
    }
    Vector3::new(cross(0), cross(2), weight)
}

#[test]
fn a_triangulated_four_link_rolls_about_the_line_through_the_meeting_points_of_its_pairs() {
    let mut heights = Vec::new();
    for (lower, upper) in FOUR_LINKS {
        let mut setup = bare();
        add_pair(&mut setup, "lower bar", Role::Lower, lower.0, lower.1);
        add_pair(&mut setup, "upper bar", Role::Upper, upper.0, upper.1);
        let axis = meeting(lower).cross(&meeting(upper));
        let (slope, at_axle) = (-axis.x / axis.y, -axis.z / axis.y);
        let found = first(&setup);
        near(found.roll_steer, slope, SOLVED);
        near(found.roll_centre_m, above_ground(&setup, at_axle), SOLVED);
        near(found.roll_centre_m, by_statics(&setup), SOLVED);
        near(found.ride_steer_rad_per_m, 0.0, SOLVED);
        near(found.ride_shift, 0.0, SOLVED);
        heights.push(at_axle);
    }
    let (least, most) = heights
        .iter()
        .fold((f64::MAX, f64::MIN), |(a, b), h| (a.min(*h), b.max(*h)));
    assert!(most - least > 0.1, "they are not all one: {heights:?}");
}

/// Nothing symmetric: only equilibrium knows.
#[test]
fn the_roll_centre_of_a_crooked_layout_is_where_equilibrium_puts_it() {
    let mut state = 1u64;
    let mut off = || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        #[expect(clippy::cast_precision_loss, reason = "a fraction of one")]
        let part = (state >> 11) as f64 / (1u64 << 53) as f64;
        0.06 * (part - 0.5)
    };
    for (which, panhard) in PANHARDS.into_iter().cycle().enumerate().take(120) {
        let mut setup = with_panhard(panhard);
        if which % 2 == 0 {
            setup.bars.pop();
            setup.bars.pop();
            add_pair(
                &mut setup,
                "upper bar",
                Role::Upper,
                [0.45, 0.4, 0.12],
                [0.0, 0.1, 0.15],
            );
        }
        let mut crooked = setup.clone();
        crooked.bars.clear();
        for bar in &setup.bars {
            for side in 0..bar.count() {
                let hand = if side == 0 { 1.0 } else { -1.0 };
                let mut one = bar.clone();
                one.mirrored = false;
                for end in [&mut one.mount_in_frame, &mut one.mount_in_axle] {
                    *end = Point3::new(end.x + off(), hand * end.y + off(), end.z + off());
                }
                crooked.bars.push(one);
            }
        }
        let expected = by_statics(&crooked);
        near(
            first(&crooked).roll_centre_m,
            expected,
            SOLVED * (1.0 + expected.abs()) * 10.0,
        );
    }
}

/// The left bar falls to the front: as the axle rises it pushes its end forward by its slope, and the axle heads right.
#[test]
fn a_bar_that_slopes_on_one_side_steers_the_axle_in_ride() {
    for (fall, hand) in [(0.06, 1.0), (-0.1, 1.0), (0.06, -1.0)] {
        let mut setup = bare();
        let y = 0.45 * hand;
        add(&mut setup, "sloping bar", Role::Lower, [0.6, y, -fall], [0.0, y, 0.0]);
        add(&mut setup, "level bar", Role::Lower, [0.6, -y, 0.0], [0.0, -y, 0.0]);
        add(&mut setup, "upper bar", Role::Upper, [0.5, 0.0, 0.16], [0.0, 0.0, 0.16]);
        add(
            &mut setup,
            "panhard bar",
            Role::Sideways,
            [-0.2, 0.4, 0.05],
            [-0.2, -0.4, 0.05],
        );
        let found = first(&setup);
        let pushed = fall / 0.6;
        let steer = -hand * pushed / 0.9;
        near(found.ride_steer_rad_per_m, steer, SOLVED);
        near(found.ride_shift, 0.2 * steer, SOLVED);
    }
}

/// A wishbone meets the axle in one joint, on the centre plane or beside it.
#[test]
fn both_arms_of_a_wishbone_end_in_its_one_joint() {
    for y in [0.0, 0.03, -0.08] {
        let mut setup = bare();
        add_pair(
            &mut setup,
            "lower bar",
            Role::Lower,
            [0.6, 0.45, -0.08],
            [0.0, 0.45, -0.08],
        );
        add_pair(&mut setup, "wishbone", Role::Upper, [0.5, 0.35, 0.14], [0.0, y, 0.16]);
        setup.bars[1].joined = true;
        let rear_end = compile(&setup);
        let joint = Point3::new(0.0, y, 0.16 + axle_z_m(&setup));
        for (i, hand) in [(2, 1.0), (3, -1.0)] {
            let [frame, axle] = rear_end
                .ends_in_frame(&setup, rear_end.parts[i], &rear_end.ride)
                .expect("the arm is there");
            near((axle - joint).norm(), 0.0, 1e-12);
            near(frame.y, hand * 0.35, 1e-12);
        }
        near(first(&setup).roll_centre_m, by_statics(&setup), 10.0 * SOLVED);
    }
}
