//! The order of work.

use rearend::layouts::Layout;
use rearend::setup::{Carrier, Setup};
use rearend::tape::Units;

use crate::common::section;
use crate::support::demo;

fn steps(setup: &Setup) -> Vec<String> {
    section(setup, Units::Sixteenths, "Order of work").steps
}

fn position(steps: &[String], words: &str) -> Option<usize> {
    steps.iter().position(|step| step.contains(words))
}

#[track_caller]
fn in_turn(steps: &[String], words: &[&str]) {
    let places: Vec<_> = words
        .iter()
        .map(|w| position(steps, w).unwrap_or_else(|| panic!("no \"{w}\" in {steps:#?}")))
        .collect();
    assert!(places.is_sorted(), "{words:?} come at {places:?}");
}

#[test]
fn every_layout_is_hung_checked_welded_and_tightened_in_turn() {
    for layout in Layout::ALL {
        let steps = steps(&layout.hang(&demo(0)));
        in_turn(
            &steps,
            &[
                "stands",
                "Set ride height",
                "cross-measure",
                "Tack the brackets on the frame",
                "slides in by hand",
                "Without springs",
                "nothing touches",
                "qualified welder, from side to side",
                "cooled",
                "coilovers",
                "torque",
                "local rules",
            ],
        );
        let holds = steps.iter().filter(|step| step.starts_with("Stop:")).count();
        assert!(holds >= 7, "{layout:?} stops {holds} times");
    }
}

#[test]
fn steps_are_those_of_the_layout() {
    let has = |layout: Layout, words: &str| position(&steps(&layout.hang(&demo(0))), words).is_some();
    assert!(has(Layout::ParallelWatt, "Fit the Watt's crank"));
    assert!(!has(Layout::ParallelPanhard, "Watt"));
    assert!(has(Layout::ParallelPanhard, "sideways bar last"));
    assert!(!has(Layout::BothTriangulated, "sideways bar last"));
    assert!(has(Layout::LadderWatt, "ladder bars"));
    assert!(has(Layout::TruckArmsPanhard, "truck arms"));
    assert!(has(Layout::Wishbone, "Fit the wishbone"));
}

/// The pivot and both links' outer ends are in the tables of mounts, so each carrier's brackets are tacked in one step.
#[test]
fn every_bracket_is_tacked_once() {
    for layout in Layout::ALL {
        let setup = layout.hang(&demo(0));
        let steps = steps(&setup);
        let tacked: Vec<_> = steps.iter().filter(|step| step.starts_with("Tack")).collect();
        assert_eq!(tacked.len(), 2, "{layout:?}: {tacked:?}");
        for (step, carrier) in tacked.iter().zip([Carrier::Frame, Carrier::Axle]) {
            assert!(
                step.contains(&format!("on the {} by the table", carrier.name())),
                "{step}"
            );
            let pivot = setup.watt.as_ref().map(|watt| watt.crank_on == carrier);
            assert_eq!(
                step.contains("the pivot of the Watt's crank"),
                pivot == Some(true),
                "{step}"
            );
            assert_eq!(
                step.contains("those of the Watt's links"),
                pivot == Some(false),
                "{step}"
            );
        }
    }
}

#[test]
fn what_is_not_described_is_not_told() {
    let mut setup = demo(0);
    (setup.driveline, setup.springs, setup.rails.notch) = (None, None, None);
    let steps = steps(&setup);
    for words in ["driveshaft", "splines", "coilovers", "notches"] {
        assert_eq!(position(&steps, words), None, "{words}");
    }
}

/// The jam nuts of rod ends and the bushes' own rule are told of those that have them.
#[test]
fn bushes_are_tightened_at_ride_height() {
    let mut setup = demo(0);
    let rod_ends = steps(&setup);
    assert!(position(&rod_ends, "jam nuts").is_some() && position(&rod_ends, "through bushes").is_none());
    for bar in &mut setup.bars {
        bar.ends = rearend::setup::Ends::Bushes;
    }
    let bushes = steps(&setup);
    assert!(position(&bushes, "jam nuts").is_none() && position(&bushes, "through bushes").is_some());
}

/// Bolts, torque and welds as is common practice: no figure of torque is stated, and the pivot of a Watt's crank is left free to turn.
#[test]
fn bolts_and_welds_are_told_as_common_practice() {
    let words = |layout: Layout| section(&layout.hang(&demo(0)), Units::Sixteenths, "Bolts and welds");
    let panhard = words(Layout::ParallelPanhard);
    assert!(panhard.text[0].starts_with("Common practice, to be checked by people who are qualified to"));
    let all = panhard.notes.join(" ");
    for said in [
        "grade 8 or class 10.9",
        "prevailing-torque nuts",
        "as the bolt's maker gives it",
        "qualified welder",
        "fillet",
    ] {
        assert!(all.contains(said), "{said}: {all}");
    }
    assert!(!all.contains("lb") && !all.contains("N·m"), "{all}");
    let pivot = |notes: &[String]| notes.iter().any(|note| note.contains("Watt's pivot is the exception"));
    assert!(!pivot(&panhard.notes));
    assert!(pivot(&words(Layout::ParallelWatt).notes));
    let steps = steps(&Layout::ParallelWatt.hang(&demo(0)));
    assert!(position(&steps, "the Watt's pivot only until its crank turns without play").is_some());
}
