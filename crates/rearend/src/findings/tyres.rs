//! What there is to say about the tyres.

use super::words::{at_roll, length_beside};
use super::{Finding, Grade, Kind, capitalised, grade};
use crate::answers::Solved;
use crate::setup::{Axle, Setup};
use crate::tape::Units;
use crate::travel::Row;
use crate::tyres::{Fault, Fit, FitEnd, Hand, Place, Tightest, tightest};

/// All of it.
pub(super) fn of(setup: &Setup, solved: &Solved) -> Vec<Finding> {
    let both = |place| {
        Hand::BOTH
            .into_iter()
            .filter_map(move |side| tightest(setup, solved.all_rows(), place, side))
    };
    let all: Vec<Tightest> = Place::ALL.into_iter().flat_map(both).collect();
    let mut found: Vec<Finding> = Place::ALL.into_iter().filter_map(|place| short(&all, place)).collect();
    found.extend(opening(solved));
    if let Some(fit) = Fit::of(setup, &all) {
        found.push(Finding::new(Grade::Check, Kind::Tyre(Fault::Fit(fit))).at(setup.travel.ride_m));
    }
    // Without a body there is nothing to be glad of: the rails alone say little.
    if found.is_empty() && setup.body.is_some() {
        found.extend(clear(&all));
    }
    found
}

/// The tighter side of a place, where it is tighter than wanted.
fn worst(all: &[Tightest], place: Place) -> Option<&Tightest> {
    let at_place = all.iter().filter(|t| t.place == place);
    at_place.min_by(|a, b| a.room_m.total_cmp(&b.room_m))
}

fn short(all: &[Tightest], place: Place) -> Option<Finding> {
    let worst = worst(all, place).filter(|t| t.room_m < t.wanted_m)?;
    // A floor can have a tub let into it.
    let grade = if worst.room_m < 0.0 && place != Place::Floor {
        Grade::WontWork
    } else {
        Grade::Check
    };
    Some(Finding::new(grade, Kind::Tyre(Fault::Room(*worst))).at(worst.height_m))
}

fn clear(all: &[Tightest]) -> Option<Finding> {
    let places: Vec<Tightest> = Place::ALL
        .into_iter()
        .filter_map(|place| worst(all, place))
        .copied()
        .collect();
    let nearest = places.iter().min_by(|a, b| a.room_m.total_cmp(&b.room_m))?;
    let height_m = nearest.height_m;
    Some(Finding::new(grade(true), Kind::Tyre(Fault::Clear(places))).at(height_m))
}

fn opening(solved: &Solved) -> Option<Finding> {
    let room = |row: &Row| {
        let gaps = row.tyres?;
        let sides = [gaps.left.opening_m?, gaps.right.opening_m?];
        Some((sides[0].min(sides[1]), row.height_m))
    };
    let least = solved.all_rows().filter_map(room).min_by(|a, b| a.0.total_cmp(&b.0));
    let (room_m, height_m) = least.filter(|least| least.0 < 0.0)?;
    let fault = Fault::Opening { over_m: -room_m };
    Some(Finding::new(Grade::Check, Kind::Tyre(fault)).at(height_m))
}

/// In words.
pub(super) fn sentence(setup: &Setup, units: Units, _grade: Grade, fault: &Fault) -> String {
    match fault {
        Fault::Room(tight) => room_sentence(setup, units, tight),
        Fault::Clear(places) => clear_sentence(setup, units, places),
        Fault::Opening { over_m } => format!(
            "The wheel opening is too short for the tyre: at one end they overlap by {}. The wheel does not come out through it, and steer or shift puts the tyre against the panel. Cut it longer, or move the axle in it.",
            units.length(*over_m)
        ),
        Fault::Fit(fit) => fit_sentence(&setup.axle, units, fit),
    }
}

fn at(setup: &Setup, units: Units, tight: &Tightest) -> String {
    at_roll(setup, units, tight.height_m, tight.roll_rad)
}

/// The width of the axle has a finding of its own, with the figures.
fn room_advice(place: Place) -> &'static str {
    match place {
        Place::Lip => "Narrow the axle, take wheels with more backspacing, or roll the lip.",
        Place::Rail | Place::Tub => "Widen the axle, or take wheels with less backspacing or narrower tyres.",
        Place::Floor => "Raise the floor there, or let a wheel tub into it; where there is one, fill in tub to tub.",
    }
}

fn room_sentence(setup: &Setup, units: Units, tight: &Tightest) -> String {
    let (side, place, at) = (tight.side.word(), tight.place.name(), at(setup, units, tight));
    let size = units.length(tight.room_m.abs());
    let advice = room_advice(tight.place);
    if size == units.length(0.0) {
        return format!("The {side} tyre just touches the {place} {at}. {advice}");
    }
    if tight.room_m < 0.0 {
        return format!("The {side} tyre runs {size} into the {place} {at}. {advice}");
    }
    format!(
        "Between the {side} tyre and the {place} {} is left {at}; {} is wanted. {advice}",
        length_beside(units, tight.room_m, tight.wanted_m),
        units.length(tight.wanted_m)
    )
}

fn clear_sentence(setup: &Setup, units: Units, places: &[Tightest]) -> String {
    let rooms: Vec<String> = places
        .iter()
        .map(|t| {
            format!(
                "{} to the {} ({})",
                units.length(t.room_m),
                t.place.name(),
                at(setup, units, t)
            )
        })
        .collect();
    let below = if places.iter().any(|t| t.place == Place::Lip) {
        ""
    } else {
        " They stay below the fender lips."
    };
    format!("The tyres keep clear: at least {}.{below}", rooms.join(", "))
}

fn fit_sentence(axle: &Axle, units: Units, fit: &Fit) -> String {
    let too_wide_m = fit.left.too_wide_m.max(fit.right.too_wide_m);
    if too_wide_m > 0.0 {
        return format!(
            "No width of axle gives the tyres the room wanted on both faces: they are {} too wide. Narrower tyres do, or less roll and shift.",
            units.length(too_wide_m)
        );
    }
    let ends = match (cut(units, &fit.left, "end"), cut(units, &fit.right, "end")) {
        (left, right) if left == right => format!("{left} of the housing on both sides"),
        _ => format!(
            "{} and {} of the housing",
            cut(units, &fit.left, "left end"),
            cut(units, &fit.right, "right end")
        ),
    };
    let tubes = format!(
        "{} from the pinion's axis to the wheel's face on the left, {} on the right",
        units.length(fit.left.from_pinion_m),
        units.length(fit.right.from_pinion_m)
    );
    let wheels = fit.backspacing_m.map_or_else(String::new, |backspacing_m| {
        format!(
            " Wheels with {} of backspacing do the same.",
            units.length(backspacing_m)
        )
    });
    capitalised(&format!(
        "{ends} would give the tyres the room wanted: {} face to face instead of {}; {tubes}.{wheels}",
        units.length(fit.flange_to_flange_m()),
        units.length(axle.flange_to_flange_m)
    ))
}

fn cut(units: Units, fit: &FitEnd, end: &str) -> String {
    let size = units.length(fit.cut_m.abs());
    if size == units.length(0.0) {
        format!("leaving the {end}")
    } else if fit.cut_m > 0.0 {
        format!("cutting {size} off the {end}")
    } else {
        format!("adding {size} to the {end}")
    }
}
