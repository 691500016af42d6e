//! Verdicts that rest on what nobody has measured say so.

use rearend::answers::Answers;
use rearend::findings::{Finding, Kind};
use rearend::measure::{Described, Measure, all};
use rearend::setup::Setup;
use rearend::tape::Units;

use crate::find;
use crate::support::demo;

/// A demo on whose tape sheet these measures are taken, at what they are.
fn measured(which: usize, keys: &[&str]) -> Setup {
    keys.iter().fold(demo(which), |setup, key| {
        let measure = Measure::by_key(key).expect("it is on the sheet");
        measure
            .taken(&setup, measure.value(&setup).expect("it is described"))
            .expect("it is described")
    })
}

fn sentences(setup: &Setup) -> Vec<(Finding, String)> {
    let found = Answers::of(setup).findings;
    found
        .into_iter()
        .map(|f| (f.clone(), f.sentence(setup, Units::Sixteenths)))
        .collect()
}

fn is_spring(kind: &Kind) -> bool {
    matches!(kind, Kind::Spring(_))
}

fn rests_on_measures(kind: &Kind) -> bool {
    matches!(kind, Kind::Spring(_) | Kind::Tyre(_) | Kind::Driveline(_))
}

#[test]
fn a_drawing_of_which_nothing_was_measured_is_meant_as_it_stands() {
    for which in 0..3 {
        for (_, sentence) in sentences(&demo(which)) {
            assert!(!sentence.contains("assumed"), "{sentence}");
        }
    }
}

#[test]
fn on_a_truck_that_is_measured_what_rests_on_guesses_says_so_and_nothing_else_does() {
    for which in 0..3 {
        let all = sentences(&measured(which, &["rail_height"]));
        assert!(all.iter().any(|(f, _)| rests_on_measures(&f.kind)));
        for (finding, sentence) in all {
            let says = sentence.starts_with("With ") && sentence.contains("assumed here, ");
            assert_eq!(says, rests_on_measures(&finding.kind), "{sentence}");
            assert_eq!(sentence.contains("Enter yours on the tape sheet."), says, "{sentence}");
        }
    }
}

#[test]
fn a_truck_that_is_measured_throughout_has_nothing_assumed() {
    for which in 0..3 {
        let plain = demo(which);
        let keys: Vec<_> = all().filter(|m| m.value(&plain).is_some()).map(|m| m.key).collect();
        let setup = measured(which, &keys);
        let before: Vec<_> = sentences(&plain).into_iter().map(|(_, s)| s).collect();
        let after: Vec<_> = sentences(&setup).into_iter().map(|(_, s)| s).collect();
        assert!(after.iter().all(|s| !s.contains("assumed")), "{after:#?}");
        assert_eq!(before.len(), after.len());
    }
}

const BAG: [&str; 5] = [
    "bag",
    "bag_shortest",
    "bag_longest",
    "bag_most_pressure",
    "bag_chart_pressure",
];

/// The second demo stands on bags. Usual: 400 kPa, which is 58 psi of 6894.76 Pa.
#[test]
fn a_bag_is_assumed_until_all_of_it_was_measured_and_what_is_usual_is_told() {
    let said = |keys: &[&str], units| {
        let setup = measured(1, keys);
        find(&setup, is_spring).sentence(&setup, units)
    };
    let guess = said(&BAG[..4], Units::Sixteenths);
    assert!(
        guess.starts_with("With the bag and the weight on it assumed here, the air springs"),
        "{guess}"
    );
    assert!(
        guess.ends_with("Usual is a bag that carries its corner at about 58 psi."),
        "{guess}"
    );
    assert!(said(&BAG[..4], Units::Millimetres).ends_with("at about 400 kPa."));
    let bag = said(&BAG, Units::Sixteenths);
    assert!(
        bag.starts_with("With the weight on it assumed here, the air springs"),
        "{bag}"
    );
    assert!(!bag.contains("Usual"), "{bag}");
    let both: Vec<_> = BAG.into_iter().chain(["corner_mass"]).collect();
    assert!(said(&both, Units::Sixteenths).starts_with("The air springs"));
}

#[test]
fn joints_are_judged_on_an_assumed_transmission_until_it_was_measured() {
    let joints = |keys: &[&str]| {
        let setup = measured(0, keys);
        let largest = |k: &Kind| matches!(k, Kind::Driveline(rearend::driveline::Fault::Largest { .. }));
        find(&setup, largest).sentence(&setup, Units::Sixteenths)
    };
    let pinion = ["pinion_angle", "pinion_length"];
    assert!(joints(&pinion).starts_with("With the transmission assumed here, through the travel"));
    let all = [
        "pinion_angle",
        "pinion_length",
        "output_x",
        "output_z",
        "output_nose_up",
    ];
    assert!(joints(&all).starts_with("Through the travel"));
}

/// What was never described is not assumed either.
#[test]
fn only_what_is_described_can_be_assumed() {
    let mut setup = measured(0, &["rail_height"]);
    setup = Described::Tubs.put(&setup, false);
    setup = Described::BedFloor.put(&setup, false);
    let sentence = find(&setup, |k| matches!(k, Kind::Tyre(_))).sentence(&setup, Units::Sixteenths);
    assert!(
        sentence.contains("fender lips") && !sentence.contains("tubs"),
        "{sentence}"
    );
}
