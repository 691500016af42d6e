//! That what is offered helps.

use nalgebra::Point3;
use proptest::prelude::*;
use rearend::answers::{Answers, Solved};
use rearend::driveline::{Fault, ShaftPose};
use rearend::findings::{Kind, Remedy};
use rearend::setup::{AsBuilt, Length, Role, Setup};
use rearend::sideways::LevelAt;
use rearend::travel::pose;

use super::support::PANHARD;
use super::{bare, near, shaft, shafted};

const BOTH: [LevelAt; 2] = [LevelAt::Ride, LevelAt::HalfTravel];

fn solved(setup: &Setup) -> Solved {
    Answers::of(setup).solved.expect("it compiles")
}

fn shaft_at(setup: &Setup, at: LevelAt) -> ShaftPose {
    let solved = solved(setup);
    let row = pose(setup, &solved.rear_end, &solved.level, at.height_m(setup), 0.0).expect("it is reached");
    row.shaft.expect("a shaft")
}

fn taken(setup: &Setup, at: LevelAt) -> Setup {
    let remedy = Remedy::MatchPinion(at);
    remedy.apply(setup, &solved(setup)).expect("it can be taken")
}

/// The last one is triangulated: its pinion turns on the way, so that both heights take different angles.
#[test]
fn a_matched_pinion_makes_both_ends_equal_and_opposite() {
    for which in 0..3 {
        let setup = shafted(which, 2.0, 4.5);
        for at in BOTH {
            let matched = taken(&setup, at);
            let shaft = shaft_at(&matched, at);
            near(shaft.front_joint_rad, shaft.rear_joint_rad, 1e-9);
            near(shaft.residual_rad, 0.0, 1e-6);
            let output_rad = setup.driveline.as_ref().expect("a shaft").output_nose_up_rad;
            let solved = solved(&matched);
            let row = pose(&matched, &solved.rear_end, &solved.level, at.height_m(&matched), 0.0).expect("reached");
            near(row.pinion_to_frame_rad, output_rad, 1e-9);
            assert_eq!(matched.bars, setup.bars, "every mount stays");
            assert!(matched.axle.pinion_angle_rad != setup.axle.pinion_angle_rad);
        }
    }
}

#[test]
fn two_pieces_are_matched_to_what_is_left_of_all_three_joints() {
    let mut setup = shafted(0, 1.5, 5.0);
    shaft(&mut setup).carrier = Some(Point3::new(0.95, 0.0, 0.20));
    let before = shaft_at(&setup, LevelAt::Ride);
    let after = shaft_at(&taken(&setup, LevelAt::Ride), LevelAt::Ride);
    assert!(before.residual_rad > 0.02, "{}", before.residual_rad);
    // In one plane the rear joint can take up what the other two leave.
    near(after.residual_rad, 0.0, 1e-5);
    let cos = |angle: Option<f64>| angle.expect("three joints").cos();
    near(
        after.front_joint_rad.cos() * after.rear_joint_rad.cos(),
        cos(after.carrier_joint_rad),
        1e-9,
    );
    // At half travel the panhard bar has pulled the axle aside, and a part is left that no pinion angle takes up.
    let half = shaft_at(&taken(&setup, LevelAt::HalfTravel), LevelAt::HalfTravel);
    assert!(half.residual_rad < 0.01, "{}", half.residual_rad);
}

#[test]
fn what_is_offered_is_no_longer_found() {
    let setup = shafted(0, 2.0, 4.5);
    let offered = |setup: &Setup| -> Vec<Remedy> {
        let findings = Answers::of(setup).findings;
        let of_shaft = findings.into_iter().filter(|f| matches!(f.kind, Kind::Driveline(_)));
        of_shaft.flat_map(|f| f.remedies).collect()
    };
    let both = [LevelAt::HalfTravel, LevelAt::Ride].map(Remedy::MatchPinion);
    assert_eq!(offered(&setup), both);
    assert_eq!(
        both.map(Remedy::label),
        ["match the pinion at half travel", "match the pinion at ride height"]
    );
    assert_eq!(offered(&taken(&setup, LevelAt::Ride)), []);
}

#[test]
fn nothing_is_matched_where_there_is_no_shaft_or_the_height_is_not_reached() {
    let setup = bare();
    let apply = |setup: &Setup, at| Remedy::MatchPinion(at).apply(setup, &solved(setup));
    assert_eq!(apply(&setup, LevelAt::Ride), None);
    let mut tall = shafted(0, 2.0, 2.0);
    tall.travel.full_lift_m = 1.5;
    assert_eq!(apply(&tall, LevelAt::HalfTravel), None);
    assert!(apply(&tall, LevelAt::Ride).is_some());
}

/// The bars as built to the lengths they have on the drawing: what the sentence says of their adjusters, done to them, matches too. One turn's
/// effect is taken for every turn's, which is right to a few hundredths.
#[test]
fn the_turns_of_the_upper_bars_do_what_the_pinion_would() {
    let mut setup = shafted(0, 2.0, 4.0);
    let lengths = solved(&setup).rear_end;
    let drawn: Vec<_> = lengths.lengths_m().map(|(_, length)| length).collect();
    // Two lowers, two uppers; the panhard bar stays cut to suit.
    for (bar, length_m) in setup.bars[..PANHARD].iter_mut().zip([drawn[0], drawn[2]]) {
        bar.length = Length::AsBuilt(AsBuilt::of_length(length_m));
    }
    let ends = |setup: &Setup| {
        Answers::of(setup).findings.into_iter().find_map(|f| match f.kind {
            Kind::Driveline(Fault::Ends { turn, .. }) => turn,
            _ => None,
        })
    };
    let turn = ends(&setup).expect("the ends differ");
    near(turn.by_rad.to_degrees(), -2.0, 1e-6);
    let turns = turn.upper_turns.expect("the upper bars are as built");
    let before = shaft_at(&setup, LevelAt::Ride);
    for bar in setup.bars.iter_mut().filter(|b| b.role == Role::Upper) {
        if let Length::AsBuilt(built) = &mut bar.length {
            built.turns += turns;
        }
    }
    let after = shaft_at(&setup, LevelAt::Ride);
    let differ = |s: &ShaftPose| (s.front_joint_rad - s.rear_joint_rad).abs().to_degrees();
    near(differ(&before), 2.0, 1e-6);
    assert!(differ(&after) < 0.1, "{} turns leave {}", turns, differ(&after));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Whatever the shaft, no other pinion angle near leaves less.
    #[test]
    fn no_other_pinion_angle_nearby_leaves_less(
        front in -4.0..4.0f64, rear in -4.0..4.0f64, up in -0.03..0.03f64, aside in -0.05..0.05f64, phase in -0.3..0.3f64,
    ) {
        let mut setup = shafted(0, front, rear);
        let driveline = shaft(&mut setup);
        driveline.carrier = Some(Point3::new(0.9, aside, 0.2 + up));
        driveline.phase_rad = phase;
        let ride = setup.drawn();
        let left = |setup: &Setup| ShaftPose::at(setup, &ride, &ride).expect("a shaft").residual_rad;
        let pinion_rad = rearend::driveline::remedy::matched_rad(&setup, &ride).expect("there is a best one");
        setup.axle.pinion_angle_rad = pinion_rad;
        let least = left(&setup);
        for tenth in -150..150 {
            setup.axle.pinion_angle_rad = pinion_rad + f64::from(tenth) * 0.1_f64.to_radians();
            prop_assert!(least <= left(&setup) + 4e-4, "{} {}", least, left(&setup));
        }
    }
}
