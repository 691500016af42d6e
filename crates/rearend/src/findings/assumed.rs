//! Verdicts that rest on what nobody has measured say so.
//!
//! A truck of which nothing was measured is a drawing, and all of it is meant as it stands. As soon as one measure is taken, what is not taken
//! is a guess, and where a wrong guess would make a verdict worthless, its sentence opens with that.

use super::Kind;
use super::words::{listed, uncapitalised};
use crate::measure::Measure;
use crate::setup::{Setup, SpringKind};
use crate::tape::{Dimension, Units};
use crate::{driveline, springs, tyres};

/// What a verdict rests on, in words, and the measures that make it up.
#[derive(Clone, Copy, PartialEq)]
struct Basis {
    name: &'static str,
    keys: &'static [&'static str],
}

const fn basis(name: &'static str, keys: &'static [&'static str]) -> Basis {
    Basis { name, keys }
}

const BAG: Basis = basis(
    "the bag",
    &[
        "bag",
        "bag_shortest",
        "bag_longest",
        "bag_most_pressure",
        "bag_chart_pressure",
    ],
);
const DAMPER: Basis = basis("the coilover's reach", &["coilover_collapsed", "coilover_extended"]);
const COIL: Basis = basis("the coil", &["coil_rate", "coil_free_length"]);
const WEIGHT: Basis = basis("the weight on it", &["corner_mass"]);
const BUMP_STOP: Basis = basis("the bump stop", &["bump_stop"]);

const WHEELS: Basis = basis("the wheels", &["tyre", "tyre_width", "backspacing"]);
const AXLE: Basis = basis("the axle's width", &["flange_to_flange"]);
const RAILS: Basis = basis("the rails", &["rail_spacing"]);
const LIPS: Basis = basis("the fender lips", &["lip_to_lip", "lip_z"]);
const OPENING: Basis = basis("the wheel opening", &["opening", "opening_x"]);
const TUBS: Basis = basis("the wheel tubs", &["tub_to_tub"]);
const FLOOR: Basis = basis("the bed floor", &["bed_floor"]);

const TRANSMISSION: Basis = basis("the transmission", &["output_x", "output_z", "output_nose_up"]);
const PINION: Basis = basis("the pinion", &["pinion_angle", "pinion_length"]);
const CARRIER: Basis = basis("the carrier bearing", &["carrier_x", "carrier_z"]);
const SPEED: Basis = basis("the shaft's speed", &["axle_ratio", "fastest"]);
const SPLINES: Basis = basis("the splines", &["slip_in", "slip_out"]);

/// The pressure at which usual bags carry a corner: common practice, and what a bag is assumed to be like.
const USUAL_PA: f64 = 400e3;

impl Basis {
    /// True where something of it is described and was not measured.
    fn is_assumed(&self, setup: &Setup) -> bool {
        let measures = self.keys.iter().filter_map(|key| Measure::by_key(key));
        measures
            .filter(|m| m.value(setup).is_some())
            .any(|m| !m.is_taken(setup))
    }
}

/// A finding's sentence, with what of it is assumed.
pub(super) fn said(setup: &Setup, units: Units, kind: &Kind, sentence: String) -> String {
    let mut assumed = rests_on(setup, kind);
    assumed.retain(|basis| !setup.measured.is_empty() && basis.is_assumed(setup));
    if assumed.is_empty() {
        return sentence;
    }
    let names: Vec<_> = assumed.iter().map(|basis| basis.name).collect();
    format!(
        "With {} assumed here, {} Enter yours on the tape sheet.{}",
        listed(&names),
        uncapitalised(&sentence),
        usual(units, &assumed)
    )
}

/// What is usual of what is assumed.
fn usual(units: Units, assumed: &[Basis]) -> String {
    if assumed.contains(&BAG) {
        let pressure = Dimension::Pressure.words(units, USUAL_PA);
        return format!(" Usual is a bag that carries its corner at about {pressure}.");
    }
    if assumed.contains(&COIL) {
        return " Usual is a coil on which its corner bounces about 1.4 times a second.".to_owned();
    }
    String::new()
}

fn rests_on(setup: &Setup, kind: &Kind) -> Vec<Basis> {
    match kind {
        Kind::Spring(fault) => springs_on(setup, fault),
        Kind::Tyre(fault) => tyres_on(fault),
        Kind::Driveline(fault) => shaft_on(fault),
        _ => Vec::new(),
    }
}

fn springs_on(setup: &Setup, fault: &springs::Fault) -> Vec<Basis> {
    use springs::Fault as F;
    let is_air = setup
        .springs
        .as_ref()
        .is_some_and(|s| matches!(s.kind, SpringKind::Air(_)));
    let reach = if is_air { BAG } else { DAMPER };
    let all = if is_air {
        vec![BAG, WEIGHT]
    } else {
        vec![DAMPER, COIL, WEIGHT]
    };
    match fault {
        // The mounts alone say that.
        F::CarriesNothing { .. } => Vec::new(),
        F::RunsOut { .. } | F::OffChart { .. } => vec![reach],
        F::BumpStop {
            trouble: springs::BumpTrouble::AfterSprings { .. },
            ..
        } => vec![BUMP_STOP, reach],
        F::BumpStop { .. } => vec![BUMP_STOP],
        F::CoilShort { .. } => vec![DAMPER, COIL],
        F::Stands { .. } | F::CoilLoose { .. } | F::Pressure { .. } | F::Frequency { .. } | F::Well(_) => all,
    }
}

fn tyres_on(fault: &tyres::Fault) -> Vec<Basis> {
    use tyres::Fault as F;
    match fault {
        F::Room(tight) => vec![of_place(tight.place), WHEELS, AXLE],
        F::Clear(places) => {
            // Where none is told, the tyres stay below the lips: that rests on them too.
            let mut told = vec![LIPS];
            told.extend(places.iter().map(|t| of_place(t.place)).filter(|of| *of != LIPS));
            told.extend([WHEELS, AXLE]);
            told
        }
        F::Opening { .. } => vec![OPENING, WHEELS],
        F::Fit(_) => vec![LIPS, TUBS, WHEELS, AXLE],
    }
}

fn of_place(place: tyres::Place) -> Basis {
    use tyres::Place;
    match place {
        Place::Lip => LIPS,
        Place::Rail => RAILS,
        Place::Tub => TUBS,
        Place::Floor => FLOOR,
    }
}

fn shaft_on(fault: &driveline::Fault) -> Vec<Basis> {
    use driveline::Fault as F;
    match fault {
        F::SlipEnds { .. } => vec![SPLINES],
        F::TooFast { .. } => vec![TRANSMISSION, CARRIER, PINION, SPEED],
        F::Sound { .. } => vec![TRANSMISSION, CARRIER, PINION, SPLINES],
        F::Ends { .. }
        | F::Uneven { .. }
        | F::Phase { .. }
        | F::Straight { .. }
        | F::Steep { .. }
        | F::Largest { .. } => vec![TRANSMISSION, CARRIER, PINION],
    }
}
