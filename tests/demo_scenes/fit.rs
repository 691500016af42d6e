//! Lessons 9 and 10: bars that do not fit each other, and bars that come at a length.

use rearend::answers::Answers;
use rearend::bind::Bind;
use rearend::findings::{Grade, Kind};
use rearend::setup::{Ends, Length, Role, Setup};
use rearend::square::{Stance, TurnEffect};
use shop::{Change, Document};

use crate::scenes::{bind_grade, drawn, finding, named, slope, solved};

/// Bars of lesson 9.
const LOWER: usize = 0;
const UPPER: usize = 1;

/// Bars of lesson 10.
const LEFT: usize = 0;
const RIGHT: usize = 1;

/// One sixteenth of an inch.
const SIXTEENTH_M: f64 = 0.0254 / 16.0;

/// What happens at ride height.
fn at_ride(setup: &Setup) -> Bind {
    let bind = solved(setup).bind;
    let ride = |b: &&Bind| (b.height_m - setup.travel.ride_m).abs() < 1e-6;
    *bind.iter().find(ride).expect("something has to give at ride height")
}

fn limit(setup: &Setup) -> f64 {
    at_ride(setup).limit_roll_rad.expect("it binds").abs()
}

/// What each of two pairs of bars has to give for each radian of roll. Rolling makes a side's axle mounts rise by y times the roll, and the
/// bars' slopes carry them fore or aft by slope times that; the axle turns left or right by the mean of the slopes, and half of their
/// difference is left over. Source: velocities square to the bars, pairs of one stiffness.
fn gives_per_roll(setup: &Setup) -> f64 {
    let y = setup.bars[LOWER].mount_in_axle.y;
    y * (slope(setup, LOWER) - slope(setup, UPPER)).abs() / 2.0
}

fn stiffness(setup: &Setup, bar: usize) -> f64 {
    let length_m = solved(setup).rear_end.length_m(drawn(bar)).expect("it is there");
    setup.bars[bar].stiffness_n_per_m(length_m)
}

/// The four long bars with other ends.
fn with_ends(setup: &Setup, ends: Ends) -> Setup {
    let mut other = setup.clone();
    for bar in other.bars.iter_mut().filter(|b| b.role != Role::Sideways) {
        bar.ends = ends;
    }
    other
}

/// Within six hundredths: second order of three degrees, and tubes of two sizes.
#[test]
fn lesson_9_four_bars_that_meet_close_ahead_bind_with_one_wheel_up() {
    let setup = named("09");
    assert_eq!(bind_grade(&Answers::of(&setup)), Some(Grade::Check));
    let expected = gives_per_roll(&setup) * setup.travel.one_wheel_up_rad;
    let gives = at_ride(&setup).misfit.gap_m.abs();
    assert!(
        (gives - expected).abs() < 0.06 * expected,
        "{gives} instead of {expected}"
    );
}

#[test]
fn lesson_9_a_wheel_goes_up_a_few_millimetres_on_rod_ends() {
    let setup = named("09");
    let softer = stiffness(&setup, LOWER).min(stiffness(&setup, UPPER));
    let expected = setup.limits.bind_n / softer / gives_per_roll(&setup);
    let limit = limit(&setup);
    assert!(
        (limit - expected).abs() < 0.08 * expected,
        "{limit} instead of {expected}"
    );
    let rise_m = Bind::wheel_rise_m(&setup, limit);
    assert!((0.002..0.008).contains(&rise_m), "{rise_m} m of wheel");
}

/// The force allowed is reached at a roll that goes as one over the stiffness.
#[test]
fn lesson_9_bushes_let_it_go_up_several_times_as_far() {
    let stiff = named("09");
    let soft = with_ends(&stiff, Ends::Bushes);
    let expected = stiffness(&stiff, UPPER) / stiffness(&soft, UPPER);
    let farther = limit(&soft) / limit(&stiff);
    assert!(
        (farther - expected).abs() < 0.1 * expected,
        "{farther} instead of {expected}"
    );
    assert!(farther > 5.0, "several times as far: {farther}");
}

#[test]
fn lesson_9_parallel_bars_or_one_bar_less_do_not_bind() {
    let setup = named("09");
    let mut one_less = setup.clone();
    one_less.bars[UPPER].mirrored = false;
    assert_eq!(bind_grade(&Answers::of(&one_less)), None);
    let mut parallel = setup;
    let above = parallel.bars[UPPER].mount_in_axle - parallel.bars[LOWER].mount_in_axle;
    parallel.bars[UPPER].mount_in_frame = parallel.bars[LOWER].mount_in_frame + above;
    assert_eq!(bind_grade(&Answers::of(&parallel)), None);
}

/// The truck after turns of a bar's adjuster.
fn turned(setup: &Setup, bar: usize, turns: f64) -> Document {
    let mut document = Document::new(setup.clone(), None);
    let Some(Length::AsBuilt(mut built)) = setup.length(drawn(bar)) else {
        panic!("a bar of the kit")
    };
    built.turns += turns;
    let change = Change::SetLength {
        part: drawn(bar),
        length: Length::AsBuilt(built),
    };
    document.apply(&change).expect("the adjuster turns");
    document
}

fn stance(answers: &Answers) -> Stance {
    answers.solved.as_ref().expect("it fits").stance
}

fn square_grade(answers: &Answers) -> Grade {
    finding(&answers.findings, |kind| matches!(kind, Kind::Square(_))).grade
}

fn one_turn(setup: &Setup, bar: usize) -> TurnEffect {
    let turns = solved(setup).turns;
    *turns.iter().find(|t| t.part == drawn(bar)).expect("it has an adjuster")
}

/// Source: the lower bars run straight ahead, so that one longer than the other turns the axle by the difference over their distance.
#[test]
fn lesson_10_a_bar_that_came_long_puts_the_axle_out_of_square() {
    let setup = named("10");
    let given = |bar: usize| setup.bars[bar].length.given_m().expect("a bar of the kit");
    let long_m = given(LEFT) - given(RIGHT);
    assert!((0.004..0.005).contains(&long_m), "nearly five millimetres: {long_m}");
    let apart_m = setup.bars[LEFT].mount_in_axle.y - setup.bars[RIGHT].mount_in_axle.y;
    let expected = setup.track_m() * long_m / apart_m;
    let answers = Answers::of(&setup);
    let out = stance(&answers).out_of_square_m;
    assert!((out - expected).abs() < 0.02 * expected, "{out} instead of {expected}");
    assert!(out > long_m, "by more than the bar is long");
    assert_eq!(square_grade(&answers), Grade::Check);
}

#[test]
fn lesson_10_the_table_of_turns_says_one_and_a_half_turns_of_the_left_bar() {
    let setup = named("10");
    let now = solved(&setup).stance;
    let needed = |effect: &TurnEffect| -now.out_of_square_m / effect.out_of_square_m;
    let forward = |effect: &TurnEffect| now.forward_m + needed(effect) * effect.forward_m;
    let (left, right) = (one_turn(&setup, LEFT), one_turn(&setup, RIGHT));
    assert!((needed(&left) + 1.5).abs() < 0.05, "the table says {}", needed(&left));
    assert!(
        forward(&left).abs() < 1e-3,
        "the left one puts the axle where it belongs"
    );
    assert!(needed(&right) > 0.0, "longer squares it too");
    assert!(forward(&right) < -2e-3, "but moves it back");
}

#[test]
fn lesson_10_turned_as_the_note_says_the_axle_stands_square() {
    let setup = named("10");
    assert!(setup.note.contains("one and a half turns shorter (type -1.5)"));
    let fixed = turned(&setup, LEFT, -1.5);
    let after = stance(fixed.answers());
    for out_m in [after.out_of_square_m, after.left_m, after.forward_m] {
        assert!(out_m.abs() < SIXTEENTH_M, "{after:?}");
    }
    assert_eq!(square_grade(fixed.answers()), Grade::Fine);
    let wrong = turned(&setup, LEFT, 1.5);
    let worse = stance(wrong.answers()).out_of_square_m;
    assert!(worse > stance(&Answers::of(&setup)).out_of_square_m);
}
