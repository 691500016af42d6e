//! What is found, how serious it is, what it says, and that what it offers helps.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

use linkage::{Direction, EndCause};
use nalgebra::{Point3, Vector3};
use proptest::prelude::*;
use rearend::answers::{Answers, Solved};
use rearend::findings::{Finding, Grade, Kind, Remedy};
use rearend::mechanism::Part;
use rearend::setup::{BarId, Role, Setup, Side};
use rearend::sideways::LevelAt;
use rearend::tape::Units;
use rearend::travel::{Row, pose};
use support::{PANHARD, demo};

const PANHARD_PART: Part = Part::Bar(BarId(PANHARD), Side::Drawn);

fn find(setup: &Setup, wanted: impl Fn(&Kind) -> bool) -> Option<Finding> {
    Answers::of(setup).findings.into_iter().find(|f| wanted(&f.kind))
}

fn level_finding(setup: &Setup) -> Finding {
    find(setup, |k| matches!(k, Kind::Level(_))).expect("there is a sideways bar")
}

fn solved(setup: &Setup) -> Solved {
    Answers::of(setup).solved.expect("it compiles")
}

/// The free motions found, each of them as something that will not work.
fn free(setup: &Setup) -> Vec<Direction> {
    let findings = Answers::of(setup).findings;
    let free = findings.iter().filter_map(|f| match f.kind {
        Kind::Free(direction) => Some((direction, f.grade)),
        _ => None,
    });
    free.inspect(|(_, grade)| assert_eq!(*grade, Grade::WontWork))
        .map(|(direction, _)| direction)
        .collect()
}

fn free_sentence(setup: &Setup) -> String {
    let finding = find(setup, |k| matches!(k, Kind::Free(_))).expect("something is free");
    finding.sentence(setup, Units::Millimetres)
}

#[test]
fn a_four_link_without_its_locator_swims() {
    let mut setup = demo(0);
    assert_eq!(free(&setup), []);
    setup.bars.remove(PANHARD);
    assert_eq!(free(&setup), [Direction::Sideways]);
    let sentence = free_sentence(&setup);
    assert!(sentence.starts_with("Nothing holds the axle sideways"), "{sentence}");
    assert!(sentence.contains("Add a panhard bar or a Watt's linkage"), "{sentence}");
}

#[test]
fn a_sideways_bar_that_runs_front_to_back_holds_nothing_sideways() {
    let mut setup = demo(0);
    let bar = &mut setup.bars[PANHARD];
    bar.mount_in_frame = Point3::new(0.5, bar.mount_in_axle.y, 0.2);
    assert_eq!(free(&setup), [Direction::Sideways]);
    let sentence = free_sentence(&setup);
    assert!(
        sentence.contains("run it across the truck") && !sentence.contains("Add a panhard bar"),
        "{sentence}"
    );
}

#[test]
fn bars_at_one_height_leave_the_pinion_free() {
    let mut setup = demo(0);
    setup.bars.remove(1);
    assert_eq!(free(&setup), [Direction::Pitch]);
    assert!(free_sentence(&setup).contains("bars at two heights"));
}

#[test]
fn bars_above_each_other_on_the_centre_plane_leave_the_axle_free_to_steer() {
    let mut setup = demo(0);
    for bar in &mut setup.bars[..PANHARD] {
        bar.mirrored = false;
        (bar.mount_in_frame.y, bar.mount_in_axle.y) = (0.0, 0.0);
    }
    // Across and above the axle, so that it does not hold the heading either.
    let bar = &mut setup.bars[PANHARD];
    (bar.mount_in_frame.x, bar.mount_in_axle.x) = (0.0, 0.0);
    assert_eq!(free(&setup), [Direction::Yaw]);
    assert!(free_sentence(&setup).contains("on each side"));
}

#[test]
fn an_axle_on_nothing_is_free_in_every_way() {
    let mut setup = demo(0);
    setup.bars.clear();
    let mut found = free(&setup);
    found.sort_by_key(|d| format!("{d:?}"));
    assert_eq!(
        found,
        [
            Direction::ForeAft,
            Direction::Pitch,
            Direction::Sideways,
            Direction::Yaw
        ]
    );
}

/// Frame end above axle end of the panhard bar, read off its ends at a height.
fn slope_m(setup: &Setup, height_m: f64) -> f64 {
    let solved = solved(setup);
    let row = pose(setup, &solved.rear_end, &solved.level, height_m, 0.0).expect("the height is reached");
    let [frame, axle] = solved
        .rear_end
        .ends_in_frame(setup, PANHARD_PART, &row.at)
        .expect("the bar is there");
    frame.z - axle.z
}

fn taken(setup: &Setup, remedy: Remedy) -> Setup {
    remedy.apply(setup, &solved(setup)).expect("it can be taken")
}

const AT_HALF: Remedy = Remedy::LevelBar(BarId(PANHARD), LevelAt::HalfTravel);
const AT_RIDE: Remedy = Remedy::LevelBar(BarId(PANHARD), LevelAt::Ride);

#[test]
fn a_bar_that_is_level_nowhere_is_to_be_looked_at_and_can_be_levelled_at_either_height() {
    let setup = demo(0);
    assert!(
        slope_m(&setup, 0.15).abs() > 0.001 && slope_m(&setup, 0.16).abs() > 0.001,
        "it slopes as drawn"
    );
    let finding = level_finding(&setup);
    assert_eq!((finding.grade, finding.part), (Grade::Check, Some(PANHARD_PART)));
    assert_eq!(finding.remedies, [AT_HALF, AT_RIDE]);
}

/// Mounts are kept to a millionth of a millimetre.
#[test]
fn a_remedy_makes_the_bar_level_and_offers_the_other_one() {
    let setup = demo(0);
    let half_m = f64::midpoint(setup.travel.laid_out_m, setup.travel.full_lift_m);
    for (remedy, height_m, other) in [(AT_HALF, half_m, AT_RIDE), (AT_RIDE, setup.travel.ride_m, AT_HALF)] {
        let levelled = taken(&setup, remedy);
        let slope = slope_m(&levelled, height_m);
        assert!(slope.abs() <= 2e-9, "{remedy:?} leaves a slope of {slope} m");
        let finding = level_finding(&levelled);
        assert_eq!(
            (finding.grade, finding.remedies),
            (Grade::Fine, vec![other]),
            "{remedy:?}"
        );
    }
    assert_eq!(
        (AT_HALF.label(), AT_RIDE.label()),
        ("level it at half travel", "level it at ride height")
    );
}

#[test]
fn half_a_sixteenth_out_of_level_is_level() {
    let level = taken(&demo(0), AT_RIDE);
    for (out_m, grade) in [
        (0.0007, Grade::Fine),
        (-0.0007, Grade::Fine),
        (0.0009, Grade::Check),
        (-0.0009, Grade::Check),
    ] {
        let mut setup = level.clone();
        setup.bars[PANHARD].mount_in_frame.z += out_m;
        // Out at half travel too, so that only ride height counts: half travel lies 10 mm above it.
        assert!(slope_m(&setup, 0.16).abs() > 0.005);
        assert_eq!(level_finding(&setup).grade, grade, "{out_m}");
    }
}

#[test]
fn a_remedy_for_a_height_that_is_not_reached_cannot_be_taken() {
    let setup = short_panhard();
    assert!(
        AT_HALF.apply(&setup, &solved(&setup)).is_some(),
        "half travel is reached as it is"
    );
    let mut tall = setup;
    tall.travel.full_lift_m = 0.4;
    assert_eq!(AT_HALF.apply(&tall, &solved(&tall)), None);
    let finding = level_finding(&tall);
    assert!(
        finding
            .sentence(&tall, Units::Millimetres)
            .contains("half travel is not reached")
    );
}

fn largest(setup: &Setup, quantity: impl Fn(&Row) -> f64) -> f64 {
    solved(setup)
        .level
        .rows
        .iter()
        .map(|r| quantity(r).abs())
        .fold(0.0, f64::max)
}

#[track_caller]
fn is_graded(setup: &Setup, wanted: impl Fn(&Kind) -> bool, grade: Grade, says: &[&str]) -> Finding {
    let finding = find(setup, wanted).expect("it is found");
    let sentence = finding.sentence(setup, Units::Millimetres);
    assert_eq!(finding.grade, grade, "{sentence}");
    for part in says {
        assert!(sentence.contains(part), "\"{sentence}\" does not say \"{part}\"");
    }
    finding
}

/// The frame end is on the left and higher: as the axle drops away at full lift, the bar steepens and pulls it to the left.
#[test]
fn the_largest_shift_is_held_against_the_limit() {
    let mut setup = demo(0);
    let shift = largest(&setup, |r| r.shift_m);
    let is_shift = |k: &Kind| matches!(k, Kind::Shift { .. });
    setup.limits.shift_m = shift * 1.001;
    let finding = is_graded(
        &setup,
        is_shift,
        Grade::Fine,
        &["mm left at most", "at most, at full lift", "within your"],
    );
    assert_eq!(finding.kind, Kind::Shift { shift_m: shift });
    setup.limits.shift_m = shift * 0.999;
    is_graded(
        &setup,
        is_shift,
        Grade::Check,
        &["mm left at most", "at most, at full lift", "more than your"],
    );
}

#[test]
fn an_axle_that_does_not_shift_is_said_to_go_straight() {
    let is_shift = |k: &Kind| matches!(k, Kind::Shift { .. });
    is_graded(&demo(2), is_shift, Grade::Fine, &["goes straight up and down"]);
}

#[test]
fn the_largest_pinion_change_is_held_against_the_limit() {
    let mut setup = demo(2);
    let drawn = setup.axle.pinion_angle_rad;
    let turned = largest(&setup, |r| r.pinion_to_frame_rad - drawn);
    let is_pinion = |k: &Kind| matches!(k, Kind::PinionChange { .. });
    setup.limits.pinion_change_rad = turned * 1.001;
    is_graded(
        &setup,
        is_pinion,
        Grade::Fine,
        &["The pinion turns", "nose", "within your"],
    );
    setup.limits.pinion_change_rad = turned * 0.999;
    is_graded(
        &setup,
        is_pinion,
        Grade::Check,
        &["The pinion turns", "nose", "more than your"],
    );
    is_graded(&demo(0), is_pinion, Grade::Fine, &["keeps its angle"]);
}

/// By hand from the third demo's file: lower bars 590 mm ahead and 15 mm down, upper bars 445 mm ahead and 30 mm down, seen from the side.
#[test]
fn effective_lengths_are_those_seen_from_the_side() {
    let is_lengths = |k: &Kind| matches!(k, Kind::EffectiveLengths { .. });
    let finding = is_graded(
        &demo(2),
        is_lengths,
        Grade::Check,
        &["446.0 mm long", "590.2 mm", "the pinion turns"],
    );
    let Kind::EffectiveLengths { upper_m, lower_m } = finding.kind else {
        panic!("lengths were asked for")
    };
    assert!((upper_m - f64::hypot(0.445, 0.030)).abs() < 1e-12, "{upper_m}");
    assert!((lower_m - f64::hypot(0.590, 0.015)).abs() < 1e-12, "{lower_m}");
    is_graded(&demo(0), is_lengths, Grade::Fine, &["alike"]);
}

#[test]
fn single_bars_have_no_effective_lengths_to_compare() {
    let mut setup = demo(0);
    setup.bars[1].mirrored = false;
    assert_eq!(find(&setup, |k| matches!(k, Kind::EffectiveLengths { .. })), None);
}

/// The first demo with a panhard bar 50 mm across and 27 mm up: too short for the travel.
fn short_panhard() -> Setup {
    let mut setup = demo(0);
    let axle = setup.bars[PANHARD].mount_in_axle;
    setup.bars[PANHARD].mount_in_frame = axle + Vector3::new(0.0, 0.05, setup.axle_z_m(setup.travel.ride_m) + 0.027);
    setup
}

/// The bar ends the travel where it hangs straight down: the axle has dropped by its length less the 27 mm it hung at ride height. The
/// axle meanwhile goes fore and aft by up to a millimetre, which takes 0.01 mm off the bar; the travel is followed to 0.2 mm.
#[test]
fn a_travel_that_ends_early_names_the_bar_and_the_height() {
    let setup = short_panhard();
    let expected_m = setup.travel.ride_m + f64::hypot(0.05, 0.027) - 0.027;
    let is_end = |k: &Kind| matches!(k, Kind::EndsEarly(_));
    let finding = is_graded(
        &setup,
        is_end,
        Grade::WontWork,
        &["The travel ends: with the rails more than", "the panhard bar"],
    );
    assert_eq!(finding.part, Some(PANHARD_PART));
    let Kind::EndsEarly(end) = finding.kind else {
        panic!("an end was asked for")
    };
    assert!(
        (end.height_m - expected_m).abs() < 2.5e-4,
        "at {} instead of {expected_m}",
        end.height_m
    );
    assert_eq!(
        (finding.height_m, end.part, end.roll_rad),
        (Some(end.height_m), finding.part, 0.0)
    );
    assert_ne!(end.cause, EndCause::DriveOutOfRange);
    let solved = solved(&setup);
    assert_eq!(
        (solved.level.low_end, solved.level.high_end),
        (None, Some(end)),
        "it ends at the top only"
    );
    assert!(solved.level.rows.iter().all(|r| r.height_m <= end.height_m));
}

/// Converging bars with a panhard bar have one bar too many as soon as the axle rolls: they bind.
#[test]
fn bars_that_do_not_fit_with_one_wheel_up_are_named() {
    let mut setup = demo(0);
    setup.bars[1].mount_in_frame.z -= 0.09;
    let is_misfit = |k: &Kind| matches!(k, Kind::Bind(_));
    let finding = find(&setup, is_misfit).expect("it is found");
    assert!(matches!(finding.part, Some(Part::Bar(..))), "{finding:?}");
    let sentence = finding.sentence(&setup, Units::Millimetres);
    assert!(sentence.contains("3.0°") && sentence.contains("kN"), "{sentence}");
    setup.travel.one_wheel_up_rad *= 1.5;
    let more = find(&setup, is_misfit).expect("it is found");
    let size = |f: &Finding| {
        if let Kind::Bind(bind) = f.kind {
            bind.misfit.gap_m.abs()
        } else {
            0.0
        }
    };
    assert!(
        size(&more) > 1.5 * size(&finding),
        "it grows faster than the roll: {more:?}"
    );
    assert_eq!(
        find(&demo(2), is_misfit),
        None,
        "four bars on a triangulated axle always fit"
    );
}

#[test]
fn a_description_that_cannot_be_solved_is_the_only_thing_found() {
    let mut setup = demo(0);
    let axle = setup.bars[PANHARD].mount_in_axle;
    setup.bars[PANHARD].mount_in_frame = axle + Vector3::z() * setup.axle_z_m(setup.travel.ride_m);
    let findings = Answers::of(&setup).findings;
    assert_eq!(findings.len(), 1);
    assert_eq!(findings[0].grade, Grade::WontWork);
    assert!(
        findings[0]
            .sentence(&setup, Units::Sixteenths)
            .starts_with("The panhard bar has no length")
    );
}

#[test]
fn lengths_are_told_in_the_units_asked_for() {
    let setup = demo(2);
    let finding = find(&setup, |k| matches!(k, Kind::EffectiveLengths { .. })).expect("it is found");
    for (units, says) in [
        (Units::Sixteenths, "17 9/16\""),
        (Units::DecimalInches, "17.56 in"),
        (Units::Millimetres, "446.0 mm"),
    ] {
        assert!(
            finding.sentence(&setup, units).contains(says),
            "{units:?}: {}",
            finding.sentence(&setup, units)
        );
    }
}

/// Most serious first; each a sentence without a number that is none, in all three units; heights within the travel; parts that exist.
fn are_presentable(setup: &Setup) -> Result<(), TestCaseError> {
    let answers = Answers::of(setup);
    prop_assert!(answers.findings.is_sorted_by_key(|f| f.grade));
    prop_assert!(!answers.findings.is_empty());
    for finding in &answers.findings {
        for units in Units::ALL {
            let sentence = finding.sentence(setup, units);
            prop_assert!(
                sentence.starts_with(char::is_uppercase) && sentence.ends_with('.'),
                "{}",
                sentence
            );
            prop_assert!(!sentence.contains("NaN") && !sentence.contains(" inf"), "{}", sentence);
        }
        let travel = (setup.travel.laid_out_m - 1e-9)..=(setup.travel.full_lift_m + 1e-9);
        prop_assert!(finding.height_m.is_none_or(|h| travel.contains(&h)), "{:?}", finding);
        if let (Some(part), Ok(solved)) = (finding.part, &answers.solved) {
            prop_assert!(solved.rear_end.parts.contains(&part), "{:?}", finding);
        }
    }
    Ok(())
}

#[test]
fn what_is_found_of_the_demos_is_presentable() {
    for which in 0..3 {
        are_presentable(&demo(which)).unwrap_or_else(|e| panic!("demo {which}: {e}"));
    }
    are_presentable(&short_panhard()).unwrap_or_else(|e| panic!("{e}"));
}

/// A demo with some bars taken out and every mount somewhere else.
fn strewn() -> impl Strategy<Value = Setup> {
    let step = [-0.3..0.3, -0.3..0.3, -0.3..0.3].prop_map(Vector3::from);
    let steps = prop::collection::vec(step, 16);
    (
        0..3usize,
        steps,
        0.0..1.0,
        prop::sample::subsequence(vec![0, 1, 2], 0..=3),
    )
        .prop_map(|(which, steps, size, kept)| {
            let mut setup = demo(which);
            for (mount, step) in setup.mounts().into_iter().zip(&steps) {
                let at = setup.mount(mount).expect("it is there").point;
                setup.move_mount(mount, at + step * size);
            }
            let mut place = 0..;
            setup.bars.retain(|_| place.next().is_some_and(|i| kept.contains(&i)));
            setup
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn whatever_is_found_is_presentable(setup in strewn()) {
        are_presentable(&setup)?;
    }
}

#[test]
fn every_sideways_bar_is_judged_and_no_other() {
    let mut setup = demo(0);
    let second = setup.bars[PANHARD].clone();
    setup.bars.push(second);
    let judged = |s: &Setup| {
        Answers::of(s)
            .findings
            .iter()
            .filter(|f| matches!(f.kind, Kind::Level(_)))
            .count()
    };
    assert_eq!(judged(&setup), 2);
    assert_eq!(setup.bars.iter().filter(|b| b.role == Role::Sideways).count(), 2);
    assert_eq!(judged(&demo(1)), 0, "a Watt's linkage is no bar to level");
}

#[test]
fn a_levelled_mount_moves_straight_up_or_down() {
    let setup = demo(0);
    let mut levelled = taken(&setup, AT_HALF);
    let to = levelled.bars[PANHARD].mount_in_frame;
    let from = setup.bars[PANHARD].mount_in_frame;
    assert_eq!((to.x, to.y), (from.x, from.y));
    levelled.bars[PANHARD].mount_in_frame = from;
    assert_eq!(levelled, setup, "nothing else moves");
}
