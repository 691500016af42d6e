//! Lessons 6 and 7: arms that are rigid with the axle.

use rearend::answers::Answers;
use rearend::findings::{Grade, Kind};
use rearend::setup::{Arm, ArmId, BarEnd, Mount, Setup, Side};

use crate::scenes::{bind_grade, finding, level_finding, named, pinion_turns, solved};

fn arm(setup: &Setup) -> &Arm {
    setup.arms.first().expect("it has arms")
}

/// Farthest that an axle turns with its arms about their eyes. Source: closed form of a circle about the line through both eyes.
fn swing(setup: &Setup) -> f64 {
    let eye = arm(setup).eye_in_frame;
    let travel = &setup.travel;
    let up = |height_m: f64| setup.axle_z_m(height_m) - eye.z;
    let radius = eye.x.hypot(up(travel.ride_m));
    let angle = |height_m: f64| (up(height_m) / radius).asin();
    let from_ride = |height_m: f64| (angle(height_m) - angle(travel.ride_m)).abs();
    from_ride(travel.laid_out_m).max(from_ride(travel.full_lift_m))
}

/// What one eye at least has to give with one wheel up: rolling puts two eyes of one height at heights that differ by twice this.
fn eye_gives(setup: &Setup) -> f64 {
    arm(setup).eye_in_frame.y * setup.travel.one_wheel_up_rad.sin()
}

/// The largest misfit of the finding on bind.
fn misfit(answers: &Answers) -> f64 {
    let found = finding(&answers.findings, |kind| matches!(kind, Kind::Bind(_)));
    let Kind::Bind(bind) = &found.kind else {
        panic!("the finding on bind")
    };
    bind.misfit.gap_m.abs()
}

/// Within three hundredths: the bar across pulls the rubber in the eyes a little out of their line.
#[test]
fn lessons_6_and_7_the_pinion_turns_as_the_arms_swing_about_their_eyes() {
    for number in ["06", "07"] {
        let setup = named(number);
        let (turns, swings) = (pinion_turns(&setup), swing(&setup));
        assert!(
            (turns - swings).abs() < 0.03 * swings,
            "{number}: {turns} instead of {swings}"
        );
        let answers = Answers::of(&setup);
        let pinion = finding(&answers.findings, |kind| matches!(kind, Kind::PinionChange { .. }));
        assert_eq!(pinion.grade, Grade::Check, "{number}");
    }
}

#[test]
fn lesson_6_longer_arms_turn_the_pinion_less() {
    let before = named("06");
    let mut after = before.clone();
    let eye = Mount::Arm {
        arm: ArmId(0),
        end: BarEnd::Frame,
        side: Side::Drawn,
    };
    let mut to = after.mount(eye).expect("it is there").point;
    to.x += 0.2;
    assert!(after.move_mount(eye, to));
    assert!(pinion_turns(&after) < pinion_turns(&before));
}

#[test]
fn lessons_6_and_7_the_bar_across_is_level_at_half_travel() {
    for number in ["06", "07"] {
        let answers = Answers::of(&named(number));
        assert_eq!(level_finding(&answers.findings).grade, Grade::Fine, "{number}");
    }
}

#[test]
fn lesson_6_one_wheel_up_binds_mildly() {
    let setup = named("06");
    let answers = Answers::of(&setup);
    assert_eq!(bind_grade(&answers), Some(Grade::Fine), "the truck allows it");
    let (gives, least) = (misfit(&answers), eye_gives(&setup));
    assert!(gives > least && least > 0.005, "several millimetres: {gives}");
}

#[test]
fn lesson_7_ladder_bars_bind_as_soon_as_one_wheel_goes_up() {
    let setup = named("07");
    let answers = Answers::of(&setup);
    assert_eq!(bind_grade(&answers), Some(Grade::Check));
    let (gives, least) = (misfit(&answers), eye_gives(&setup));
    assert!(gives > least, "{gives} m, though the eyes stand {least} m off");
}

/// Each eye is pushed up or down by its distance from the middle times the roll, against its stiffness upright; a little lengthwise and
/// sideways as well, which only takes from the roll.
#[test]
fn lesson_7_one_wheel_goes_up_as_far_as_the_eyes_give_at_the_force_allowed() {
    let setup = named("07");
    let arm = arm(&setup);
    let from_eye = setup.drawn().to_ground(arm.mount_in_axle) - arm.eye_in_frame;
    let [_, _, upright] = arm.eye_stiffness_n_per_m(from_eye.norm());
    let expected = setup.limits.bind_n / (upright * arm.eye_in_frame.y);
    let solved = solved(&setup);
    let is_ride = |height_m: f64| (height_m - setup.travel.ride_m).abs() < 1e-6;
    let ride = solved
        .bind
        .iter()
        .find(|b| is_ride(b.height_m))
        .expect("it binds at ride");
    let limit = ride.limit_roll_rad.expect("before the roll asked for").abs();
    assert!(
        limit < expected * 1.01 && limit > expected * 0.9,
        "{limit} instead of {expected}"
    );
    assert!(setup.track_m() * limit < 0.005, "at once: a few millimetres of wheel");
}
