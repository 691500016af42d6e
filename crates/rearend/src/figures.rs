//! The few figures that a customer is shown, in words.

use linkage::Direction;

use crate::answers::Answers;
use crate::findings::{nose, side};
use crate::setup::Setup;
use crate::tape::{Units, degrees};
use crate::travel::Row;

/// What everything with numbers on it says before it leaves the program.
pub const CAUTION: &str = "Screening calculation, not an approval: have it checked by qualified people, have the welds done by a qualified welder, and follow local rules.";

/// A figure with its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    /// What it is.
    pub label: String,
    /// How much.
    pub value: String,
}

/// The three key figures of a setup over its travel.
#[must_use]
pub fn key_figures(setup: &Setup, answers: &Answers, units: Units) -> [Figure; 3] {
    let solved = answers.solved.as_ref().ok();
    let level = solved.map(|s| &s.level);
    let at_ride_rad = solved.map_or(setup.axle.pinion_angle_rad, |s| s.stance.pinion_rad);
    let unknown = || "not solved".to_owned();
    let swims = solved.is_some_and(|s| s.freedom.free.iter().any(|m| m.direction == Direction::Sideways));
    let held = level.filter(|_| !swims);
    let shift = held.and_then(|l| l.largest(|r| r.shift_m)).map_or_else(
        || if swims { "not held".to_owned() } else { unknown() },
        |row| {
            if row.shift_m.abs() < 5e-6 {
                "none".to_owned()
            } else {
                format!("{} {}", side(units, row.shift_m), place(setup, row))
            }
        },
    );
    let change = |row: &Row| row.pinion_to_frame_rad - at_ride_rad;
    let turn = level.and_then(|l| l.largest(change)).map_or_else(unknown, |row| {
        if change(row).abs() < 1e-5 {
            "none".to_owned()
        } else {
            format!("{} {}", nose(change(row)), place(setup, row))
        }
    });
    [
        Figure {
            label: "Largest sideways shift".to_owned(),
            value: shift,
        },
        Figure {
            label: "Pinion at ride height".to_owned(),
            value: nose(at_ride_rad),
        },
        Figure {
            label: "Pinion turns at most".to_owned(),
            value: turn,
        },
    ]
}

fn place(setup: &Setup, row: &Row) -> &'static str {
    let near = |height_m: f64| (row.height_m - height_m).abs() < 1e-6;
    if near(setup.travel.laid_out_m) {
        "laid out"
    } else if near(setup.travel.full_lift_m) {
        "at full lift"
    } else {
        "in between"
    }
}

/// Where the truck stands within its travel, in words.
#[must_use]
pub fn stance(setup: &Setup, row: &Row, units: Units) -> String {
    let [now, low, high] = [row.height_m, setup.travel.laid_out_m, setup.travel.full_lift_m].map(|h| units.length(h));
    let is_at = |height_m: f64| (row.height_m - height_m).abs() < 1e-6;
    let stands = if is_at(setup.travel.ride_m) {
        format!("At ride height, rails at {now}")
    } else if is_at(setup.travel.laid_out_m) {
        format!("Laid out, rails at {now}")
    } else if is_at(setup.travel.full_lift_m) {
        format!("At full lift, rails at {now}")
    } else {
        format!("Rails at {now}")
    };
    let height = format!("{stands} (travel {low} to {high})");
    if row.roll_rad.abs() < 1e-9 {
        return height;
    }
    let up = if row.roll_rad > 0.0 { "left" } else { "right" };
    format!("{height}, {up} wheel up {}", degrees(row.roll_rad.abs(), 1))
}
