//! Turns that bring an axle straight: bars that came long by known turns are turned back by just as many, whatever else is off is left
//! with less than a quarter turn does, and an axle that has been squared is left alone.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use nalgebra::{Point3, Vector3};
use rearend::answers::Answers;
use rearend::mechanism::{Part, RearEnd};
use rearend::setup::{Adjuster, AsBuilt, Bar, BarId, Length, Role, Setup, Side};
use rearend::square::{CENTRAL_M, SQUARE_M, Squaring, Stance, turns_in_words};
use rearend::tape::Units;
use rearend::travel::Row;

mod support;

use support::demo;

/// The bars of the three-link below.
const LEFT: usize = 0;
const RIGHT: usize = 2;
const ACROSS: usize = 3;

/// Half of what is between the lower bars.
const HALF_M: f64 = 0.45;

/// An eighth of an inch: 3/4-16 left and right.
const A_TURN_M: f64 = 0.125 * 0.0254;

/// Left and right lower bar level on the tube's axis, an upper bar above the middle, and a bar across behind the axle, all level.
fn three_link() -> Setup {
    let mut setup = demo(0);
    setup.bars.clear();
    let up = Vector3::z() * (setup.wheels.loaded_radius_m - setup.travel.ride_m);
    for (name, role, frame, axle) in [
        ("left bar", Role::Lower, [0.6, HALF_M, 0.0], [0.0, HALF_M, 0.0]),
        ("upper bar", Role::Upper, [0.5, 0.0, 0.16], [0.0, 0.0, 0.16]),
        ("right bar", Role::Lower, [0.6, -HALF_M, 0.0], [0.0, -HALF_M, 0.0]),
        ("panhard bar", Role::Sideways, [-0.2, 0.4, 0.05], [-0.2, -0.4, 0.05]),
    ] {
        let bar = Bar::new(name, role, Point3::from(frame) + up, Point3::from(axle));
        setup.bars.push(bar);
    }
    setup
}

fn part(bar: usize) -> Part {
    Part::Bar(BarId(bar), Side::Drawn)
}

/// The same truck, its bars built long by these turns.
fn built(drawn: &Setup, long_turns: &[(usize, f64)]) -> Setup {
    let mut setup = drawn.clone();
    for &(bar, turns) in long_turns {
        let length_m = drawn.drawn_length_m(part(bar)).expect("it is drawn");
        setup.bars[bar].length = Length::AsBuilt(AsBuilt::of_length(length_m + turns * A_TURN_M));
    }
    setup
}

fn squared(setup: &Setup) -> (Squaring, Setup) {
    let squaring = Squaring::of(setup).expect("there is something to turn");
    let mut next = setup.clone();
    for turned in &squaring.turns {
        assert!(next.set_length(turned.part, Length::AsBuilt(turned.to)));
    }
    (squaring, next)
}

fn stance(setup: &Setup) -> Stance {
    let rear_end = RearEnd::compile(setup).expect("it compiles");
    Stance::of(setup, &Row::at_ride(setup, &rear_end))
}

/// What was turned, by bar.
fn turns(squaring: &Squaring) -> Vec<(usize, f64)> {
    let of_bar = |turned: &rearend::square::Turned| match turned.part {
        Part::Bar(bar, _) => (bar.0, turned.by),
        other => panic!("{other:?} is no bar"),
    };
    squaring.turns.iter().map(of_bar).collect()
}

/// The drawing is square, so that what the bars are longer than it is what they have to be turned.
#[test]
fn bars_that_came_long_by_quarters_are_turned_back_by_as_many() {
    let drawn = three_link();
    for long in [
        vec![(LEFT, 1.5), (1, 0.0), (RIGHT, 0.0), (ACROSS, 0.0)],
        vec![(LEFT, 0.0), (1, 0.0), (RIGHT, -0.75), (ACROSS, 2.0)],
        vec![(LEFT, 3.0), (1, -1.25), (RIGHT, 2.5), (ACROSS, -4.0)],
        vec![(LEFT, -9.0), (1, 6.0), (RIGHT, -7.25), (ACROSS, 12.0)],
    ] {
        let setup = built(&drawn, &long);
        let (squaring, next) = squared(&setup);
        let expected: Vec<_> = long
            .iter()
            .filter(|(_, t)| *t != 0.0)
            .map(|&(bar, t)| (bar, -t))
            .collect();
        assert_eq!(turns(&squaring), expected);
        let after = stance(&next);
        for (off, what) in [
            (after.out_of_square_m, "square"),
            (after.left_m, "central"),
            (after.forward_m, "lengthwise"),
            (after.pinion_rad - drawn.axle.pinion_angle_rad, "pinion"),
        ] {
            assert!(off.abs() < 1e-9, "{what}: {off} is left of {long:?}");
        }
        assert_eq!(squaring.stance, after, "it tells beforehand how the axle will stand");
    }
}

/// In plan the axle turns by the change over twice the half distance, and the tyres by as much times the track.
#[test]
fn whatever_was_off_is_left_with_less_than_a_quarter_turn_does() {
    let drawn = three_link();
    let quarter_m = A_TURN_M / 4.0;
    let heading_m = drawn.track_m() * quarter_m / (2.0 * HALF_M);
    let pinion_rad = quarter_m / 0.16;
    for long in [
        [0.6, -0.4, -1.1, 0.9],
        [1.37, 0.2, 0.61, -2.66],
        [-5.13, 3.89, 4.62, 7.12],
        [0.12, 0.1, -0.12, 0.11],
    ] {
        let long: Vec<_> = long.into_iter().enumerate().collect();
        let setup = built(&drawn, &long);
        let (squaring, next) = squared(&setup);
        let after = stance(&next);
        assert!(after.out_of_square_m.abs() < heading_m, "{long:?}: {after:?}");
        assert!(after.left_m.abs() < quarter_m, "{long:?}: {after:?}");
        let pinion = after.pinion_rad - drawn.axle.pinion_angle_rad;
        assert!(pinion.abs() < pinion_rad, "{long:?}: {after:?}");
        assert!(after.is_square() && after.is_central());
        for turned in &squaring.turns {
            let quarters = turned.to.turns * 4.0;
            assert_eq!(
                quarters,
                quarters.round(),
                "a rod end is clamped at quarters: {turned:?}"
            );
        }
    }
}

#[test]
fn what_has_been_squared_is_left_alone() {
    let drawn = three_link();
    let all = |long: [f64; 4]| built(&drawn, &long.into_iter().enumerate().collect::<Vec<_>>());
    for setup in [
        all([0.6, -0.4, -1.1, 0.9]),
        all([-5.13, 3.89, 4.62, 7.12]),
        all([0.0; 4]),
        built(&drawn, &[(LEFT, 2.2)]),
        built(&demo(0), &[(0, 1.7), (1, -0.9), (2, 3.3)]),
        built(&demo(2), &[(0, 0.8), (1, -1.6)]),
    ] {
        let (first, once) = squared(&setup);
        let (again, twice) = squared(&once);
        assert_eq!(again.turns, [], "after {:?}", first.turns);
        assert_eq!(once, twice);
    }
    assert_eq!(squared(&all([0.0; 4])).0.turns, [], "square already");
}

#[test]
fn adjusters_that_were_typed_at_no_quarter_end_at_one() {
    let mut setup = built(&three_link(), &[(LEFT, 0.0), (RIGHT, 0.0)]);
    if let Length::AsBuilt(bar) = &mut setup.bars[LEFT].length {
        bar.turns = 2.1;
    }
    let (squaring, _) = squared(&setup);
    let [turned] = squaring.turns[..] else {
        panic!("only the left bar is off: {:?}", squaring.turns)
    };
    assert_eq!((turned.part, turned.to.turns), (part(LEFT), 0.0));
    assert!((turned.by + 2.1).abs() < 1e-12);
}

/// One end with a thread: a turn is half as much, and twice as many are needed.
#[test]
fn every_adjusters_own_thread_counts() {
    let mut setup = built(&three_link(), &[(LEFT, 1.5), (RIGHT, 0.0), (ACROSS, 0.0)]);
    if let Length::AsBuilt(bar) = &mut setup.bars[LEFT].length {
        bar.adjuster = Adjuster {
            both_ends: false,
            ..bar.adjuster
        };
    }
    assert_eq!(turns(&squared(&setup).0), [(LEFT, -3.0)]);
}

#[test]
fn a_bar_across_alone_centres_the_axle() {
    let setup = built(&demo(0), &[(support::PANHARD, 4.0)]);
    assert!(!stance(&setup).is_central());
    let (squaring, next) = squared(&setup);
    assert_eq!(turns(&squaring), [(support::PANHARD, -4.0)]);
    assert!(stance(&next).left_m.abs() < 1e-9);
}

/// Five bars of their own where four are enough: the one that is long is found, and none is pulled against another.
#[test]
fn bars_more_than_needed_are_not_squared_against_each_other() {
    let mut drawn = demo(0);
    for bar in [0, 1] {
        let other = Bar {
            name: format!("right {}", drawn.bars[bar].name),
            mount_in_frame: Side::Mirrored.of(drawn.bars[bar].mount_in_frame),
            mount_in_axle: Side::Mirrored.of(drawn.bars[bar].mount_in_axle),
            ..drawn.bars[bar].clone()
        };
        drawn.bars.push(other);
    }
    for bar in &mut drawn.bars {
        bar.mirrored = false;
    }
    let long = [(0, 2.0), (1, 0.0), (2, 0.0), (3, 0.0), (4, 0.0)];
    let setup = built(&drawn, &long);
    let before = RearEnd::compile(&setup)
        .expect("it can be pulled together")
        .ride_misfit_m;
    assert!(before > 1e-4, "the long bar has to be forced in: {before}");
    let (squaring, next) = squared(&setup);
    assert_eq!(turns(&squaring), [(0, -2.0)]);
    let after = RearEnd::compile(&next).expect("it fits").ride_misfit_m;
    assert!(after < 1e-9, "{after}");
}

#[test]
fn without_adjusters_or_where_bars_cannot_be_bolted_in_there_is_nothing_to_turn() {
    assert_eq!(Squaring::of(&three_link()), None);
    let setup = built(&three_link(), &[(ACROSS, 200.0)]);
    assert!(RearEnd::compile(&setup).is_err(), "no axle goes there");
    assert_eq!(Squaring::of(&setup), None);
}

/// Both the table of turns and the solving read the same adjusters in the same order.
#[test]
fn every_bar_of_the_table_of_turns_can_be_turned_by_it() {
    let drawn = three_link();
    let setup = built(&drawn, &[(LEFT, 2.0), (1, 1.0), (RIGHT, -2.0), (ACROSS, 3.0)]);
    let table: Vec<_> = Answers::of(&setup)
        .solved
        .expect("it compiles")
        .turns
        .iter()
        .map(|effect| effect.part)
        .collect();
    let turned: Vec<_> = squared(&setup).0.turns.iter().map(|turned| turned.part).collect();
    assert_eq!(table, turned);
}

#[test]
fn square_is_said_with_what_counts_as_square() {
    let mut stance = stance(&three_link());
    stance.out_of_square_m = SQUARE_M;
    stance.left_m = -CENTRAL_M;
    let units = Units::Sixteenths;
    assert_eq!(stance.squareness(units), "square within 1/16\" across the wheels");
    assert_eq!(stance.centring(units), "central within 1/8\"");
    stance.out_of_square_m = -0.25 * 0.0254;
    stance.left_m = -0.5 * 0.0254;
    assert_eq!(
        stance.squareness(units),
        "not square within 1/16\" across the wheels: the right tyre stands 0.250 in behind the left one"
    );
    assert_eq!(
        stance.centring(units),
        "not central within 1/8\": it stands 0.500 in right of the middle"
    );
    assert_eq!(turns_in_words(-1.5).as_deref(), Some("1 1/2 turns shorter"));
}

/// A drawn length is that of the mounts, whatever the bar was built to and wherever the axle stands for it.
#[test]
fn a_drawn_length_is_that_of_the_mounts() {
    let setup = built(&three_link(), &[(LEFT, 7.0), (ACROSS, -3.0)]);
    for (bar, drawn_m) in [(LEFT, 0.6), (1, 0.5), (RIGHT, 0.6), (ACROSS, 0.8)] {
        let found = setup.drawn_length_m(part(bar)).expect("it is drawn");
        assert!((found - drawn_m).abs() < 1e-12, "{found}");
    }
}
