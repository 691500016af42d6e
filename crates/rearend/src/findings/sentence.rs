//! Findings as sentences: what, how much, at which height, and what to do about it.

use linkage::{Direction, EndCause};

use super::words::{at, beside};
use super::{
    Finding, Grade, Kind, assumed, brackets, clearance, driveline, ground, insert, springs, steel, tyres, wide,
};
use crate::mechanism::Part;
use crate::setup::{Role, Setup};
use crate::sideways::{LEVEL_M, Levelness};
use crate::tape::{Units, degrees};
use crate::travel::TravelEnd;

impl Finding {
    /// The finding in words, lengths in the user's units.
    #[must_use]
    pub fn sentence(&self, setup: &Setup, units: Units) -> String {
        assumed::said(setup, units, &self.kind, self.as_described(setup, units))
    }

    /// In words, taking everything described as it stands.
    fn as_described(&self, setup: &Setup, units: Units) -> String {
        match &self.kind {
            Kind::Unsolvable(error) => capitalised(&format!("{error}.")),
            Kind::Free(direction) => free(setup, *direction),
            Kind::EndsEarly(end) => ends_early(setup, units, self.part, *end),
            Kind::Level(level) => level_sentence(setup, units, level),
            Kind::Shift { shift_m } => self.shift(setup, units, *shift_m),
            Kind::PinionChange { change_rad } => self.pinion(setup, units, *change_rad),
            Kind::EffectiveLengths { upper_m, lower_m } => self.effective_lengths(units, *upper_m, *lower_m),
            Kind::RollSteer { steer } => roll_steer(self.grade, *steer),
            Kind::Preload { misfit_m, force_n } => steel::preload_sentence(setup, units, self, (*misfit_m, *force_n)),
            Kind::Bind(bind) => steel::bind_sentence(setup, units, bind),
            Kind::Square(stance) => steel::square_sentence(setup, units, self, stance),
            Kind::Swing(swing) => steel::swing_sentence(setup, &self.name(setup), units, swing),
            Kind::Crank(crank) => steel::crank_sentence(setup, units, self, crank),
            Kind::Insert(insert) => insert::sentence(setup, units, insert),
            Kind::Wide(part) => wide::sentence(setup, units, *part),
            Kind::Bracket { name } => brackets::sentence(setup, units, name),
            Kind::Driveline(fault) => driveline::sentence(setup, units, self.grade, fault),
            Kind::Spring(fault) => springs::sentence(setup, units, self.grade, fault),
            Kind::Tyre(fault) => tyres::sentence(setup, units, self.grade, fault),
            Kind::Ground(fault) => ground::sentence(setup, units, self.grade, fault),
            Kind::Clearance(fault) => clearance::sentence(setup, units, self.grade, fault),
        }
    }

    fn at_height(&self, setup: &Setup, units: Units) -> String {
        self.height_m
            .map_or_else(String::new, |h| format!(", {}", at(setup, units, h)))
    }

    fn shift(&self, setup: &Setup, units: Units, shift_m: f64) -> String {
        if shift_m.abs() < 5e-7 {
            return "The axle goes straight up and down: it does not shift sideways anywhere in the travel.".to_owned();
        }
        let limit_m = setup.limits.shift_m;
        let text = |m: f64| units.movement(m);
        let size = beside(shift_m.abs(), limit_m, text, text);
        let way = if shift_m < 0.0 { "right" } else { "left" };
        let most = format!("The axle shifts {size} {way} at most{}", self.at_height(setup, units));
        let limit = units.movement(limit_m);
        if self.grade == Grade::Fine {
            return format!("{most}: within your {limit}.");
        }
        format!("{most}: more than your {limit}. A longer sideways bar, level at half travel, shifts it less.")
    }

    fn pinion(&self, setup: &Setup, units: Units, change_rad: f64) -> String {
        if change_rad.abs() < 1e-6 {
            return "The pinion keeps its angle through the whole travel.".to_owned();
        }
        let limit_rad = setup.limits.pinion_change_rad;
        let size = beside(
            change_rad.abs(),
            limit_rad,
            |rad| degrees(rad, 2),
            |rad| degrees(rad, 2),
        );
        let way = if change_rad < 0.0 { "down" } else { "up" };
        let most = format!(
            "The pinion turns {size} nose {way} from ride at most{}",
            self.at_height(setup, units)
        );
        let limit = degrees(limit_rad, 1);
        if self.grade == Grade::Fine {
            return format!("{most}: within your {limit}.");
        }
        let advice = if setup.arms.is_empty() {
            "Upper and lower bars that act as long as each other, and longer ones, turn it less."
        } else {
            "Longer arms turn it less."
        };
        format!("{most}: more than your {limit}. {advice}")
    }

    fn effective_lengths(&self, units: Units, upper_m: f64, lower_m: f64) -> String {
        let both = format!(
            "Seen from the side, the upper bars act as {} long and the lower ones as {}",
            units.length(upper_m),
            units.length(lower_m)
        );
        match self.grade {
            Grade::Fine => format!("{both}: alike."),
            _ => format!(
                "{both}: the pinion turns as the axle moves. Equal effective lengths hold its angle; angled bars have to be longer to match."
            ),
        }
    }

    /// What the part is called.
    pub(super) fn name(&self, setup: &Setup) -> String {
        self.part.map_or_else(|| "bar".to_owned(), |p| p.name(setup))
    }
}

fn roll_steer(grade: Grade, steer: f64) -> String {
    let per_degree = steer.abs();
    if per_degree < 5e-4 {
        return "Rolling does not steer the axle at ride height.".to_owned();
    }
    // The axle's outer wheel goes back or forward as the body leans: the roll axis rises to the front, or falls.
    let (towards, axis) = if steer > 0.0 {
        ("oversteer", "rises")
    } else {
        ("understeer", "falls")
    };
    let advice = match grade {
        Grade::Fine => "",
        _ => " Bars nearer to level, seen from the side, steer it less.",
    };
    format!(
        "Each degree of roll steers the axle {per_degree:.3}° at ride height, towards {towards}: the roll axis {axis} to the front.{advice}"
    )
}

fn level_sentence(setup: &Setup, units: Units, level: &Levelness) -> String {
    let name = setup.bar_name(level.bar, crate::setup::Side::Drawn);
    let out = |m: f64| {
        if m.abs() <= LEVEL_M {
            "level".to_owned()
        } else {
            format!(
                "{} {} at the frame",
                units.length(m.abs()),
                if m > 0.0 { "higher" } else { "lower" }
            )
        }
    };
    let Some(half) = level.at_half_m.map(out) else {
        return format!(
            "The {name} is {} at ride height; half travel is not reached.",
            out(level.at_ride_m)
        );
    };
    let diagonal = setup.bar(level.bar).is_some_and(crate::setup::Bar::runs_diagonally);
    let advice = match (
        level.at_half_m.is_some_and(|m| m.abs() <= LEVEL_M),
        level.at_ride_m.abs() <= LEVEL_M,
    ) {
        _ if diagonal => "running diagonally it swings fore and aft too, and the shift says what comes of it",
        (true, _) => "the axle is at the same place laid out and fully lifted",
        (_, true) => "the axle moves least around ride height",
        _ => {
            "level at half travel puts the axle at the same place laid out and fully lifted; level at ride height moves it least while driving"
        }
    };
    format!(
        "The {name} is {half} at half travel and {} at ride height: {advice}.",
        out(level.at_ride_m)
    )
}

fn free(setup: &Setup, direction: Direction) -> String {
    let has_locator = setup.watt.is_some() || setup.bars.iter().any(|b| b.role == Role::Sideways);
    match direction {
        Direction::Sideways if has_locator => {
            "Nothing holds the axle sideways: it is free to swim left and right. The sideways bar stands so that it cannot; run it across the truck.".to_owned()
        }
        Direction::Sideways => {
            "Nothing holds the axle sideways: bars that run front to back leave it free to swim left and right. Add a panhard bar or a Watt's linkage, or angle one pair of bars in plan.".to_owned()
        }
        Direction::ForeAft => "Nothing holds the axle front to back: it is free to roll forward and backward under the truck. It needs bars that run front to back.".to_owned(),
        Direction::Yaw => "Nothing keeps the axle square: it is free to steer. It needs a bar that runs front to back on each side.".to_owned(),
        Direction::Pitch => "Nothing keeps the pinion from turning up and down: the axle is free to roll about its own tube. It needs bars at two heights.".to_owned(),
        Direction::Crank => "Nothing holds the Watt's crank: it is free to turn. Both its links have to run across the truck.".to_owned(),
    }
}

fn ends_early(setup: &Setup, units: Units, part: Option<Part>, end: TravelEnd) -> String {
    let name = part.map_or_else(|| "bars".to_owned(), |p| p.name(setup));
    let more = if end.height_m > setup.travel.ride_m {
        "more"
    } else {
        "less"
    };
    let roll = if end.roll_rad == 0.0 {
        String::new()
    } else {
        format!(" with one wheel up {}", degrees(end.roll_rad.abs(), 1))
    };
    let height = units.length(end.height_m);
    let ends = format!("The travel ends{roll}: with the rails {more} than {height} off the ground the {name}");
    match end.cause {
        EndCause::CannotReach => format!("{ends} cannot follow. Make it longer, or reduce the travel."),
        EndCause::SnapsOver => {
            format!("{ends} would snap over to the other side. Move its mounts, or reduce the travel.")
        }
        EndCause::Misfit if matches!(part, Some(Part::Arm(..))) => {
            format!("{ends} would tear its eye off the frame. Move its mounts, or reduce the travel.")
        }
        EndCause::Misfit => format!(
            "{ends} would have to change its length by more than a twentieth. Move its mounts, or reduce the travel."
        ),
        EndCause::DriveOutOfRange => format!(
            "The travel ends{roll} {}: the roll asked for is too steep.",
            at(setup, units, end.height_m)
        ),
    }
}

/// A movement with its side in words.
#[must_use]
pub fn side(units: Units, shift_m: f64) -> String {
    directed(units, shift_m, "left", "right")
}

/// A movement with its direction in words; none where the figure shows none.
#[must_use]
pub fn directed(units: Units, movement_m: f64, plus: &str, minus: &str) -> String {
    let size = units.movement(movement_m.abs());
    if size == units.movement(0.0) {
        size
    } else {
        format!("{size} {}", if movement_m < 0.0 { minus } else { plus })
    }
}

/// An angle with its sense in words.
#[must_use]
pub fn nose(angle_rad: f64) -> String {
    format!(
        "{} nose {}",
        degrees(angle_rad.abs(), 2),
        if angle_rad < 0.0 { "down" } else { "up" }
    )
}

/// A sentence's first letter, as sentences have it.
#[must_use]
pub fn capitalised(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + chars.as_str()
    })
}
