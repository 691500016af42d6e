//! Of bars that do not fit each other, the one is named that was not built as drawn.

use nalgebra::Point3;
use rearend::answers::{Answers, Solved};
use rearend::findings::{Grade, Kind};
use rearend::mechanism::{CompileError, Part, RearEnd};
use rearend::setup::{AsBuilt, Bar, BarId, Length, Role, Setup, Side};
use rearend::tape::Units;

use crate::find;
use crate::support::demo;

const LONGER_M: f64 = 0.010;

fn part(bar: usize) -> Part {
    Part::Bar(BarId(bar), Side::Drawn)
}

fn solved(setup: &Setup) -> Solved {
    Answers::of(setup).solved.expect("it compiles")
}

/// Four single bars, the uppers angled in plan, which hold the axle, and a panhard bar, which is one too many. The panhard bar is the
/// stiffest of them.
fn one_bar_too_many() -> Setup {
    let mut setup = demo(2);
    let mut pairs = std::mem::take(&mut setup.bars);
    for upper in pairs.iter_mut().filter(|pair| pair.role == Role::Upper) {
        upper.mount_in_frame = Point3::new(0.43, 0.35, 0.345);
        upper.mount_in_axle = Point3::new(-0.015, 0.095, 0.165);
    }
    for (pair, hand) in pairs.iter().flat_map(|pair| [(pair, "left"), (pair, "right")]) {
        let side = if hand == "left" { Side::Drawn } else { Side::Mirrored };
        let mut bar = pair.clone();
        bar.name = format!("{hand} {}", pair.name);
        bar.mirrored = false;
        bar.mount_in_frame = side.of(pair.mount_in_frame);
        bar.mount_in_axle = side.of(pair.mount_in_axle);
        setup.bars.push(bar);
    }
    let axle_z = setup.axle_z_m(setup.travel.ride_m);
    let (frame, axle) = (Point3::new(-0.2, 0.36, axle_z + 0.08), Point3::new(-0.2, -0.36, 0.07));
    let mut across = Bar::new("panhard bar", Role::Sideways, frame, axle);
    (across.tube_m, across.wall_m) = (0.06, 0.02);
    setup.bars.push(across);
    setup
}

const ACROSS: usize = 4;

fn built(setup: &mut Setup, bar: usize, longer_m: f64) {
    let length_m = RearEnd::compile(setup).expect("it fits").length_m(part(bar));
    setup.bars[bar].length = Length::AsBuilt(AsBuilt::of_length(length_m.expect("a bar") + longer_m));
}

fn is_preload(kind: &Kind) -> bool {
    matches!(kind, Kind::Preload { .. })
}

/// The softest gives most, whoever is at fault.
#[test]
fn a_panhard_bar_that_came_short_is_named_though_others_give_more() {
    let mut setup = one_bar_too_many();
    built(&mut setup, ACROSS, -LONGER_M);
    let rear_end = &solved(&setup).rear_end;
    let gives_most = rear_end
        .mechanism
        .worst_strain(&rear_end.ride)
        .expect("something gives");
    assert_ne!(
        rear_end.part(gives_most.closure),
        Some(part(ACROSS)),
        "what the finding is not about"
    );
    let finding = find(&setup, is_preload);
    assert_eq!((finding.part, finding.grade), (Some(part(ACROSS)), Grade::Check));
    let sentence = finding.sentence(&setup, Units::Millimetres);
    // Two threads of 1/16 in: 3.175 mm a turn.
    for says in [
        "the panhard bar is 10.00 mm shorter than drawn",
        "turn the adjuster of the panhard bar 3.1 turns longer",
    ] {
        assert!(sentence.contains(says), "{sentence}");
    }
    let bind = find(&setup, |kind| matches!(kind, Kind::Bind(_)));
    let sentence = bind.sentence(&setup, Units::Millimetres);
    assert_eq!(bind.part, Some(part(ACROSS)));
    assert!(
        sentence.starts_with("The bars bind, for the panhard bar is 10.00 mm shorter than drawn"),
        "{sentence}"
    );
}

#[test]
fn whichever_bar_was_built_otherwise_is_the_one_that_is_named() {
    for bar in 0..=ACROSS {
        for all_built in [false, true] {
            for sense in [1.0, -1.0] {
                let mut setup = one_bar_too_many();
                for other in (0..=ACROSS).filter(|other| all_built && *other != bar) {
                    built(&mut setup, other, 0.0);
                }
                built(&mut setup, bar, sense * LONGER_M);
                let finding = find(&setup, is_preload);
                assert_eq!(finding.part, Some(part(bar)), "bar {bar}, {sense}, {all_built}");
                let way = if sense > 0.0 { "longer" } else { "shorter" };
                let sentence = finding.sentence(&setup, Units::Millimetres);
                let says = format!("the {} is 10.00 mm {way} than drawn", setup.bars[bar].name);
                assert!(sentence.contains(&says), "{sentence}");
            }
        }
    }
}

/// The advice taken: so many turns, to the tenth that is told.
#[test]
fn turning_the_adjuster_as_told_takes_the_misfit_away() {
    let mut setup = one_bar_too_many();
    built(&mut setup, ACROSS, -LONGER_M);
    let before_m = solved(&setup).rear_end.ride_misfit_m;
    let Length::AsBuilt(mut bar) = setup.bars[ACROSS].length else {
        panic!("it is as built")
    };
    bar.turns += 3.1;
    setup.bars[ACROSS].length = Length::AsBuilt(bar);
    // Half a tenth of a turn is left of three turns at most.
    let after_m = solved(&setup).rear_end.ride_misfit_m;
    assert!(after_m < before_m * 0.05 / 3.0, "{after_m} of {before_m}");
}

/// Four level bars at the corners of a rectangle: pulls balance only as +, -, -, + of one size, so each of three that are off makes a third.
#[test]
fn bars_that_are_off_alike_share_it() {
    let mut setup = demo(0);
    setup.bars.truncate(0);
    for (name, y, z) in [
        ("lower left", 0.45, -0.08),
        ("lower right", -0.45, -0.08),
        ("upper left", 0.45, 0.1),
        ("upper right", -0.45, 0.1),
    ] {
        let axle_z = setup.axle_z_m(setup.travel.ride_m);
        let ends = (Point3::new(0.6, y, axle_z + z), Point3::new(0.0, y, z));
        setup.bars.push(Bar::new(name, Role::Lower, ends.0, ends.1));
    }
    setup.bars.push(demo(0).bars[crate::support::PANHARD].clone());
    for (bar, off_m) in [(0, 0.004), (3, 0.004), (1, -0.004)] {
        setup.bars[bar].length = Length::AsBuilt(AsBuilt::of_length(0.6 + off_m));
    }
    let finding = find(&setup, is_preload);
    assert_eq!(finding.part, None);
    let sentence = finding.sentence(&setup, Units::Millimetres);
    assert!(
        sentence.contains("they share it, and no single one is at fault"),
        "{sentence}"
    );
    let bind = find(&setup, |kind| matches!(kind, Kind::Bind(_)));
    assert!(bind.sentence(&setup, Units::Millimetres).contains("and share it"));
}

#[test]
fn bars_that_bind_by_how_they_swing_share_it() {
    let mut setup = demo(0);
    setup.bars[1].mount_in_frame.z -= 0.09;
    setup.limits.bind_n = 100.0;
    let bind = find(&setup, |kind| matches!(kind, Kind::Bind(_)));
    let sentence = bind.sentence(&setup, Units::Millimetres);
    assert!(sentence.starts_with("The bars bind, and share it: "), "{sentence}");
}

/// A bar so wrong that nothing goes together.
#[test]
fn a_bar_that_keeps_the_others_from_being_bolted_in_is_named() {
    for all_built in [false, true] {
        let mut setup = one_bar_too_many();
        for other in (0..ACROSS).filter(|_| all_built) {
            built(&mut setup, other, 0.0);
        }
        built(&mut setup, ACROSS, -0.3);
        let finding = find(&setup, |kind| matches!(kind, Kind::Unsolvable(_)));
        assert_eq!(finding.part, Some(part(ACROSS)));
        let Kind::Unsolvable(CompileError::DoesNotFit { name }) = &finding.kind else {
            panic!("{finding:?}")
        };
        assert_eq!(name, "panhard bar");
    }
}
