//! Lessons 4, 5 and 8: one bar less, a wishbone, and nothing across.

use linkage::Direction;
use rearend::answers::Answers;
use rearend::findings::{Grade, Kind};
use rearend::first_order::{FirstOrder, InstantCentre};
use rearend::setup::{Role, Setup};
use rearend::travel::Row;
use shop::{Change, Document};

use crate::scenes::{bind_grade, from_the_side, largest, named, on_frame, pinion_turns, slope, solved};

/// Bars of lesson 4.
const LOWER: usize = 0;
const UPPER: usize = 1;

fn at_ride(setup: &Setup) -> FirstOrder {
    let solved = solved(setup);
    FirstOrder::at(setup, &solved.rear_end, &solved.rear_end.ride)
}

/// Where the lines of two bars meet seen from the side, frame coordinates (x, z). Source: plane geometry.
fn crossing(setup: &Setup, a: usize, b: usize) -> [f64; 2] {
    let ([[xa, za], _], [[xb, zb], _]) = (from_the_side(setup, a), from_the_side(setup, b));
    let (sa, sb) = (slope(setup, a), slope(setup, b));
    let x = ((zb - sb * xb) - (za - sa * xa)) / (sa - sb);
    [x, za + sa * (x - xa)]
}

/// Source: the textbook construction, from the contact patch to the instant centre, on wheelbase and height of the centre of gravity.
fn drawn_anti_squat(setup: &Setup) -> f64 {
    let [x, z] = crossing(setup, LOWER, UPPER);
    let balance = setup.balance.expect("the weight is known");
    (z + setup.travel.ride_m) / x * balance.wheelbase_m / balance.cg_height_m
}

fn anti_squat(setup: &Setup) -> f64 {
    at_ride(setup).anti_squat.expect("the weight is known")
}

/// The most that any bar gives, m.
fn gives(setup: &Setup) -> f64 {
    let solved = solved(setup);
    let misfit = |row: &Row| row.misfit_m;
    largest(&solved.level, misfit).max(largest(&solved.rolled, misfit))
}

#[test]
fn lesson_4_three_bars_and_one_across_never_have_to_give() {
    let setup = named("04");
    assert_eq!(
        solved(&setup).rear_end.parts.len(),
        4,
        "one link for each way the axle is held"
    );
    assert!(gives(&setup) < 1e-9, "a bar gives {} m", gives(&setup));
    assert_eq!(bind_grade(&Answers::of(&setup)), None);
}

#[test]
fn lesson_4_the_lines_of_the_bars_meet_at_the_instant_centre() {
    let setup = named("04");
    let [x, z] = crossing(&setup, LOWER, UPPER);
    assert!((x - 2.0).abs() < 0.1, "two metres ahead, as the lesson says: {x}");
    let InstantCentre::At { x_m, z_m } = at_ride(&setup).instant_centre else {
        panic!("the bars are not parallel")
    };
    assert!((x_m - x).abs() < 1e-6 && (z_m - z).abs() < 1e-6, "{x_m}, {z_m}");
}

#[test]
fn lesson_4_the_instant_centre_makes_the_anti_squat() {
    let setup = named("04");
    let (found, drawn) = (anti_squat(&setup), drawn_anti_squat(&setup));
    assert!((found - drawn).abs() < 1e-6, "{found} instead of {drawn}");
    assert!((drawn * 100.0 - 58.0).abs() < 0.6, "58 %, as the lesson says: {drawn}");
}

/// Both bars run straight ahead, so that an axle that rolls has to turn by their slope. Source: velocities square to the bars.
#[test]
fn lesson_4_rolling_steers_by_the_slope_of_the_lower_bars_which_is_small() {
    let setup = named("04");
    let (steer, slope) = (at_ride(&setup).roll_steer, slope(&setup, LOWER));
    assert!((steer - slope).abs() < 1e-6, "{steer} instead of {slope}");
    assert!(
        steer.abs() < 0.01,
        "a hundredth of a degree for each degree at most: {steer}"
    );
}

#[test]
fn lesson_4_lowering_the_upper_bar_in_front_brings_the_centre_nearer() {
    let before = named("04");
    let mut after = before.clone();
    let mount = on_frame(UPPER);
    let mut to = after.mount(mount).expect("it is there").point;
    to.z -= 0.02;
    assert!(after.move_mount(mount, to));
    assert!(crossing(&after, LOWER, UPPER)[0] < crossing(&before, LOWER, UPPER)[0]);
    assert!(anti_squat(&after) > anti_squat(&before), "the anti-squat grows");
    assert!(pinion_turns(&after) > pinion_turns(&before), "the pinion turns more");
}

/// Straight by symmetry; what is left is rounding.
#[test]
fn lesson_5_the_wishbone_goes_straight_with_three_joints_on_the_axle() {
    let setup = named("05");
    let shift = largest(&solved(&setup).level, |row| row.shift_m);
    assert!(shift < 1e-9, "the axle shifts {shift} m");
    let joints: usize = setup.bars.iter().map(|b| if b.joined { 1 } else { b.count() }).sum();
    assert_eq!(joints, 3);
    assert!(gives(&setup) < 1e-9, "nothing has to give, one wheel up or none");
}

/// Source: force definition of the roll centre. Lower bars that run straight ahead push nothing sideways, so the push from the side goes
/// through the wishbone's tip, which stands in the plane of the wheel centres.
#[test]
fn lesson_5_the_joint_at_the_tip_takes_all_the_side_load_and_is_the_roll_centre() {
    let setup = named("05");
    let [lower, wishbone] = &setup.bars[..] else {
        panic!("two lower bars and a wishbone")
    };
    assert_eq!(lower.mount_in_frame.y, lower.mount_in_axle.y, "straight ahead");
    let tip = wishbone.mount_in_axle;
    assert!(
        wishbone.joined && tip.x == 0.0 && tip.y == 0.0,
        "above the axle's middle"
    );
    let expected = setup.wheels.loaded_radius_m + tip.z;
    let found = at_ride(&setup).roll_centre_m;
    assert!((found - expected).abs() < 1e-6, "{found} instead of {expected}");
}

#[test]
fn lesson_8_four_bars_front_to_back_leave_the_axle_swimming_sideways() {
    let setup = named("08");
    let across = setup.bars.iter().any(|b| b.mount_in_frame.y != b.mount_in_axle.y);
    assert!(!across && setup.watt.is_none(), "nothing runs across");
    let findings = Answers::of(&setup).findings;
    let [only] = &findings[..] else {
        panic!("one finding, and nothing beside it: {findings:?}")
    };
    assert_eq!(
        (only.grade, &only.kind),
        (Grade::WontWork, &Kind::Free(Direction::Sideways))
    );
}

#[test]
fn lesson_8_a_sideways_bar_holds_it() {
    let mut document = Document::new(named("08"), None);
    document
        .apply(&Change::AddBar(Role::Sideways))
        .expect("a bar can be added");
    let findings = &document.answers().findings;
    assert!(findings.iter().all(|f| f.grade != Grade::WontWork), "{findings:?}");
}
