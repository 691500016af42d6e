//! The mounts in tables, one of the frame's and one of the axle's.

use super::{AxleDatums, FrameDatums, HoleOf, Place};
use crate::build::words::{NOTHING, way};
use crate::build::{Job, Section, Table};
use crate::findings::nose;
use crate::setup::{Carrier, Section as RailSection};
use crate::tape::{Units, degrees};

pub(in crate::build) fn on_frame(job: &Job, places: &[Place]) -> Section {
    let mut table = Table::with(&[
        "Mount",
        ">From the axle line",
        ">From the centre line",
        ">From the outside of the web",
        ">From the straight rail's underside",
        ">From the rail's underside there",
        "Hole",
    ]);
    let on_it = places.iter().filter(|place| place.carrier == Carrier::Frame);
    table.rows.extend(on_it.map(|place| frame_row(job, place)));
    Section {
        title: "Mounts on the frame".to_owned(),
        text: vec![
            "Centres of bolts. The axle line is where a straight axle's centre stands at ride height, square across both rails; heights are from the underside of the rails where they run straight, levelled.".to_owned(),
            rails(job),
        ],
        table: Some(table),
        notes: frame_notes(job),
        steps: Vec::new(),
    }
}

/// The rails that all of it is measured from.
fn rails(job: &Job) -> String {
    let (rails, units) = (&job.setup.rails, job.units);
    let section = match rails.section {
        RailSection::Channel => "channels, open to the middle of the truck",
        RailSection::Box => "boxes",
    };
    format!(
        "The rails are taken as {section}: {} high, {} wide, {} of wall, {} from outside to outside. Measure yours before anything is cut.",
        units.length(rails.height_m),
        units.length(rails.flange_m),
        units.named_size(rails.wall_m),
        units.length(rails.spacing_m)
    )
}

fn frame_row(job: &Job, place: &Place) -> Vec<String> {
    let (units, at) = (job.units, FrameDatums::of(&job.setup.rails, place.at));
    vec![
        place.name.clone(),
        way(units, place.ahead_m(), "ahead", "behind"),
        across(units, place),
        way(units, at.outside_web_m, "outside", "inside"),
        place.height_words(units),
        at.above_rail_m
            .map_or_else(|| NOTHING.to_owned(), |m| way(units, m, "above", "below")),
        hole(place.hole),
    ]
}

fn frame_notes(job: &Job) -> Vec<String> {
    let rails = &job.setup.rails;
    let mut notes = Vec::new();
    if rails.kick_up.is_some() || rails.notch.is_some() {
        notes.push("The last height is from the rail right above or below the mount, kick-up and all; where a notch is cut, or the rail has ended, there is none.".to_owned());
    }
    if let Ok(solved) = &job.answers.solved {
        let at = solved.rear_end.ride.origin_in_ground;
        let [along, across] = [
            way(job.units, at.x, "ahead of", "behind"),
            way(job.units, at.y, "left", "right"),
        ];
        let none = job.units.length(0.0);
        if along != none {
            notes.push(format!("The axle itself stands {along} the axle line at ride height."));
        }
        if across != none {
            notes.push(format!(
                "The axle itself stands {across} of the centre line at ride height."
            ));
        }
    }
    notes
}

pub(in crate::build) fn on_axle(job: &Job, places: &[Place]) -> Section {
    let mut table = Table::with(&[
        "Mount",
        ">From the tube's middle",
        ">From the wheel flange's face",
        ">Height, to the tube's centre",
        ">Along, to the tube's centre",
        ">Straight out from the tube's centre",
        ">Round the tube, from level forward",
        "Hole",
    ]);
    let on_it = places.iter().filter(|place| place.carrier == Carrier::Axle);
    table.rows.extend(on_it.map(|place| axle_row(job, place)));
    Section {
        title: "Mounts on the axle".to_owned(),
        text: vec![format!(
            "Centres of bolts. Set the pinion to {} first, with the angle finder on it, and leave it there: heights and angles are read against level. The tube is {} across, its surface {} from its centre; from wheel flange to wheel flange the axle is {}.",
            nose(job.setup.axle.pinion_angle_rad),
            job.units.length(job.setup.axle.tube_m),
            job.units.length(job.setup.axle.tube_m / 2.0),
            job.units.length(job.setup.axle.flange_to_flange_m)
        )],
        table: Some(table),
        notes: vec![
            "The flange's face is where the wheel is bolted on, on the mount's own side. The angle round the tube is that of the line from its centre to the bolt: level forward is nothing, straight up 90° up, straight back 180°.".to_owned(),
        ],
        steps: Vec::new(),
    }
}

fn axle_row(job: &Job, place: &Place) -> Vec<String> {
    let (units, at) = (job.units, AxleDatums::of(job.setup, place.at));
    vec![
        place.name.clone(),
        across(units, place),
        units.length(at.from_flange_m),
        place.height_words(units),
        way(units, place.ahead_m(), "ahead", "behind"),
        units.length(at.out_m),
        at.clock_rad.map_or_else(|| NOTHING.to_owned(), clock),
        hole(place.hole),
    ]
}

/// Across the truck: to one side, or to each.
fn across(units: Units, place: &Place) -> String {
    if place.both_sides {
        format!("{} each side", units.length(place.left_m().abs()))
    } else {
        way(units, place.left_m(), "left", "right")
    }
}

fn clock(clock_rad: f64) -> String {
    let text = degrees(clock_rad.abs(), 1);
    if text == "0.0°" || text == "180.0°" {
        return text;
    }
    format!("{text} {}", if clock_rad < 0.0 { "down" } else { "up" })
}

fn hole(hole: Option<HoleOf>) -> String {
    hole.map_or_else(|| NOTHING.to_owned(), |hole| format!("{} of {}", hole.number, hole.of))
}
