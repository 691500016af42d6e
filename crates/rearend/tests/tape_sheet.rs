//! The tape sheet: every measure reads what it puts, changes nothing else, and its tape in the picture is as long as it says.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use rearend::file;
use rearend::layouts::Layout;
use rearend::measure::{self, Described, Measure, SHEET, Sketch};
use rearend::setup::{Setup, SpringKind};
use rearend::tape::Dimension;

const FIRST: &str = include_str!("../../../demo-scenes/01-parallel-panhard.ron");

fn first() -> Setup {
    file::read(FIRST).expect("the demo reads")
}

/// The first demo's truck with everything described that can be; on coilovers, or on air.
fn described(air: bool) -> Setup {
    Described::ALL
        .into_iter()
        .filter(|part| air || *part != Described::Air)
        .fold(first(), |setup, part| part.put(&setup, true))
}

fn both() -> [Setup; 2] {
    [described(false), described(true)]
}

#[test]
fn keys_are_told_apart() {
    let mut keys: Vec<_> = measure::all().map(|m| m.key).collect();
    let count = keys.len();
    keys.sort_unstable();
    keys.dedup();
    assert_eq!(keys.len(), count);
    for measure in measure::all() {
        assert_eq!(Measure::by_key(measure.key), Some(measure));
    }
}

#[test]
fn ten_are_enough_to_start_and_they_are_of_every_truck() {
    let ten = &SHEET[0];
    assert_eq!(ten.measures.len(), 10);
    assert!(ten.measures.iter().all(|m| m.value(&first()).is_some()));
    assert_eq!(measure::first_taken(&first()).1, 10);
}

#[test]
fn what_is_usual_makes_sense_and_is_kept_by_a_file() {
    for layout in Layout::ALL {
        for air in [false, true] {
            let setup = layout.hang(&described(air));
            setup.validate().unwrap_or_else(|e| panic!("{}: {e}", layout.title()));
            let filed = |setup| file::read(&file::write(setup)).unwrap_or_else(|e| panic!("{}: {e}", layout.title()));
            let once = filed(&setup);
            assert_eq!(filed(&once), once, "{}", layout.title());
        }
    }
}

#[test]
fn what_is_left_out_again_leaves_the_truck_as_it_was() {
    for part in Described::ALL {
        let without = described(true);
        let without = part.put(&without, false);
        assert!(!part.is_in(&without), "{part:?}");
        let again = part.put(&without, true);
        assert!(part.is_in(&again), "{part:?}");
        again.validate().unwrap_or_else(|e| panic!("{part:?}: {e}"));
    }
}

#[test]
fn a_measure_reads_what_it_puts_and_is_taken_then() {
    for setup in both() {
        for measure in measure::all() {
            let Some(value) = measure.value(&setup) else { continue };
            assert!(!measure.is_taken(&setup));
            let taken = measure.taken(&setup, value + 0.001).expect("it is described");
            let read = measure.value(&taken).expect("it is still described");
            let rounding = 1e-12 * value.abs().max(1.0);
            assert!((read - value - 0.001).abs() < rounding, "{}", measure.key);
            assert!(measure.is_taken(&taken), "{}", measure.key);
            let twice = measure.taken(&taken, value).expect("it is described");
            assert_eq!(twice.measured.len(), 1, "a measure is taken once: {}", measure.key);
        }
    }
}

/// The tyre takes a loaded radius and a rim's width that nobody measured with it, laid out a bump stop that nobody set; a wheelbase is one,
/// wherever it stands.
fn goes_with(measure: &Measure, other: &Measure) -> bool {
    let pair = [measure.key, other.key];
    pair == ["tyre", "loaded_radius"]
        || pair == ["tyre_width", "rim_width"]
        || pair == ["laid_out", "bump_stop"]
        || pair.iter().all(|key| key.ends_with("wheelbase"))
}

#[test]
fn a_measure_changes_no_other() {
    for setup in both() {
        for measure in measure::all() {
            let Some(value) = measure.value(&setup) else { continue };
            let taken = measure.taken(&setup, value + 0.002).expect("it is described");
            for other in measure::all().filter(|other| *other != measure && !goes_with(measure, other)) {
                assert_eq!(
                    other.value(&setup),
                    other.value(&taken),
                    "{} changed {}",
                    measure.key,
                    other.key
                );
            }
        }
    }
}

#[test]
fn a_measured_loaded_radius_stays_when_the_tyre_changes() {
    let setup = first();
    let of = |key: &str| Measure::by_key(key).expect("it is on the sheet");
    let taken = of("loaded_radius").taken(&setup, 0.33).expect("put");
    let taller = of("tyre").taken(&taken, 0.8).expect("put");
    assert_eq!(taller.wheels.loaded_radius_m, 0.33);
    let share = setup.wheels.loaded_radius_m / setup.wheels.tyre_m;
    let guessed = of("tyre").taken(&setup, 0.8).expect("put");
    assert!((guessed.wheels.loaded_radius_m - share * 0.8).abs() < 1e-9);
}

/// Measures whose tape runs to a place that no other measure fixes.
fn tape_is_a_hint(key: &str) -> bool {
    matches!(key, "front_wheelbase" | "wheelbase" | "lips_left" | "rim_width")
}

#[test]
fn the_tape_in_the_picture_is_as_long_as_it_says() {
    for setup in both() {
        for measure in measure::all() {
            let (Some(value), Sketch::Tape { ends, .. }) = (measure.value(&setup), measure.sketch) else {
                continue;
            };
            assert_eq!(measure.dimension, Dimension::Length, "{}", measure.key);
            if tape_is_a_hint(measure.key) {
                continue;
            }
            let [a, b] = ends(&setup);
            let drawn = (b - a).norm();
            assert!(
                (drawn - value.abs()).abs() < 1e-9,
                "{}: {drawn} drawn, {value} measured",
                measure.key
            );
        }
    }
}

#[test]
fn pictures_survive_a_truck_with_nothing_described() {
    let bare = first();
    for measure in measure::all() {
        match measure.sketch {
            Sketch::Tape { ends, .. } => {
                assert!(ends(&bare).iter().all(|p| p.iter().all(|c| c.is_finite())));
            }
            Sketch::Protractor { at, slope_rad } => {
                assert!(at(&bare).iter().all(|c| c.is_finite()) && slope_rad(&bare).is_finite());
            }
            Sketch::Label { at } => assert!(at(&bare).iter().all(|c| c.is_finite())),
        }
    }
}

#[test]
fn what_is_not_described_cannot_be_measured() {
    let bare = Described::Springs.put(&first(), false);
    let measure = Measure::by_key("corner_mass").expect("it is on the sheet");
    let refused = measure.taken(&bare, 300.0).expect_err("there are no springs");
    assert!(refused.to_string().contains("Weight on one rear spring"), "{refused}");
}

#[test]
fn a_file_that_lists_an_unknown_measure_is_told_so() {
    let text = FIRST.replacen("name:", "measured: [\"wing_span\"],\n    name:", 1);
    let refused = file::read(&text).expect_err("nobody measures that").to_string();
    assert!(refused.contains("wing_span"), "{refused}");
}

/// Statics: what the usual coil gives at the length it stands at is the corner's weight, and a bag's chart carries it at 400 kPa.
#[test]
fn usual_springs_carry_the_corner() {
    for setup in both() {
        let springs = setup.springs.as_ref().expect("described");
        let bottom = setup.drawn().to_ground(springs.mount_in_axle().expect("a hole"));
        let length_m = (springs.mount_in_frame - bottom).norm();
        let weight_n = springs.corner_kg * 9.806_65;
        match &springs.kind {
            SpringKind::Coilover(c) => {
                let pressed_m = c.extended_m - length_m + c.preload_m;
                let force_n = c.rate_n_per_m * pressed_m;
                assert!(
                    (force_n / weight_n - 1.0).abs() < 0.02,
                    "{force_n} N against {weight_n} N"
                );
            }
            SpringKind::Air(air) => {
                let line = air.chart.iter().find(|p| (p.height_m - length_m).abs() < 1e-6);
                let load_n = line.expect("a line at its height").load_n * 400e3 / air.chart_pa;
                assert!(
                    (load_n / weight_n - 1.0).abs() < 0.001,
                    "{load_n} N against {weight_n} N"
                );
            }
        }
    }
}

/// Ride height is asked for first: what nobody has measured yet must not stand in its way, and what was measured must not move.
#[test]
fn assumed_heights_make_way_for_measured_ones() {
    let measure = |key: &str| Measure::by_key(key).expect("there is such a measure");
    let take = |setup: &Setup, key: &str, value_m: f64| measure(key).taken(setup, value_m).expect("it is described");
    let mut fresh = first();
    fresh.measured.clear();
    for ride_m in [0.05, 0.0762, 0.15, 0.254, 0.6] {
        let taken = take(&fresh, "ride_height", ride_m);
        assert_eq!(taken.travel.ride_m, ride_m);
        assert_eq!(taken.validate(), Ok(()), "{ride_m}: {:?}", taken.travel);
    }
    let low = take(&fresh, "laid_out", 0.3);
    assert_eq!(low.validate(), Ok(()), "{:?}", low.travel);
    assert_eq!(low.travel.laid_out_m, 0.3);
    let both = take(&take(&fresh, "ride_height", 0.1), "full_lift", 0.09);
    assert_eq!(
        (both.travel.ride_m, both.travel.full_lift_m),
        (0.1, 0.09),
        "what was measured stays"
    );
    assert!(both.validate().is_err(), "and is refused where it makes no sense");
}
