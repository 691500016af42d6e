//! Centres with their paths, hinge axes, and words at bars that share or bind, where they appear on the stage.

use egui::Pos2;
use nalgebra::Point3;
use panels::Mark;
use rearend::answers::Solved;
use rearend::clearance::Near;
use rearend::first_order::InstantCentre;
use rearend::mechanism::Part;
use rearend::setup::{BarId, Role, Setup, Side};
use rearend::sideways::effective_length_m;
use rearend::travel::Row;
use shop::Bench;

use crate::stage_pane::StagePane;

/// Farther away than this a centre is off every screen.
const FAR_M: f64 = 30.0;

/// A pose within this of another is the same.
const THERE_M: f64 = 1e-4;
const THERE_RAD: f64 = 1e-4;

/// All marks at a pose.
pub fn marks(pane: &StagePane, bench: &Bench, row: &Row) -> Vec<Mark> {
    let Ok(solved) = &bench.document().answers().solved else {
        return Vec::new();
    };
    let place = |in_frame: Point3<f64>| pane.place_of(bench.setup(), row, in_frame);
    let mut marks = hinge_axes(bench, solved, row, &place);
    marks.extend(centres(bench.setup(), &solved.level.rows, row, &place));
    marks.extend(shared(solved, bench.setup(), row, &place));
    marks
}

/// Where two things come nearest to each other, while the truck stands where they do.
pub fn tight_place(pane: &StagePane, bench: &Bench, row: &Row, near: &Near) -> Option<Mark> {
    let there = (row.height_m - near.height_m).abs() < THERE_M && (row.roll_rad - near.roll_rad).abs() < THERE_RAD;
    if !there {
        return None;
    }
    let place = |in_frame| pane.place_of(bench.setup(), row, in_frame);
    let words = if near.gap_m < 0.0 {
        format!("{} into each other", bench.units().length(-near.gap_m))
    } else {
        format!("{} apart", bench.units().length(near.gap_m))
    };
    Some(Mark {
        line: near.points.iter().copied().filter_map(place).collect(),
        cross: place(nalgebra::center(&near.points[0], &near.points[1])),
        words,
    })
}

/// Bars and arms of the setups that lie beside the open one, at the height it stands at, as lines: the first of each with its name.
pub fn beside(pane: &StagePane, bench: &Bench, row: &Row) -> Vec<Mark> {
    let place = |in_frame| pane.place_of(bench.setup(), row, in_frame);
    let names = bench.compared_names();
    let mut marks = Vec::new();
    for (other, name) in bench.beside().documents().iter().zip(names.into_iter().skip(1)) {
        let (setup, answers) = (other.setup(), other.answers());
        let Ok(solved) = &answers.solved else { continue };
        let Ok(there) = answers.pose(setup, row.height_m, row.roll_rad) else {
            continue;
        };
        let parts = solved.rear_end.parts.iter().chain(&solved.rear_end.eyes);
        let lines = parts.filter_map(|part| solved.rear_end.ends_in_frame(setup, *part, &there.at));
        for (count, ends) in lines.enumerate() {
            marks.push(Mark {
                line: straight(ends, &place),
                cross: None,
                words: if count == 0 { name.clone() } else { String::new() },
            });
        }
    }
    marks
}

/// A line with its middle, where its words stand.
fn straight([from, to]: [Point3<f64>; 2], place: &impl Fn(Point3<f64>) -> Option<Pos2>) -> Vec<Pos2> {
    let points = [from, nalgebra::center(&from, &to), to];
    points.into_iter().filter_map(place).collect()
}

fn instant_centre(row: &Row) -> Option<Point3<f64>> {
    match row.first.instant_centre {
        InstantCentre::At { x_m, z_m } => (x_m.abs() < FAR_M && z_m.abs() < FAR_M).then(|| Point3::new(x_m, 0.0, z_m)),
        InstantCentre::AtInfinity { .. } => None,
    }
}

fn roll_centre(row: &Row) -> Option<Point3<f64>> {
    let z = row.first.roll_centre_m - row.height_m;
    (z.abs() < FAR_M).then(|| Point3::new(row.at.origin_in_ground.x, 0.0, z))
}

fn centres(setup: &Setup, rows: &[Row], now: &Row, place: &impl Fn(Point3<f64>) -> Option<Pos2>) -> Vec<Mark> {
    let with_path = |centre: fn(&Row) -> Option<Point3<f64>>, words: &str| Mark {
        line: rows.iter().filter_map(|row| place(centre(row)?)).collect(),
        cross: centre(now).and_then(place),
        words: words.to_owned(),
    };
    let mut marks = vec![with_path(roll_centre, "roll centre")];
    // Bars that run level and alike have none.
    if rows.iter().any(|row| instant_centre(row).is_some()) {
        let share = now.first.anti_squat.filter(|_| setup.balance.is_some());
        let words = share.map_or_else(
            || "instant centre".to_owned(),
            |s| format!("instant centre, anti-squat {:.0} %", s * 100.0),
        );
        marks.push(with_path(instant_centre, &words));
    }
    marks.retain(|mark| mark.cross.is_some());
    marks
}

/// The lines about which a pair of bars swings, front and rear, and the length by which it acts between them.
fn hinge_axes(bench: &Bench, solved: &Solved, row: &Row, place: &impl Fn(Point3<f64>) -> Option<Pos2>) -> Vec<Mark> {
    let setup = bench.setup();
    let mut marks = Vec::new();
    for (i, bar) in setup.bars.iter().enumerate() {
        if !bar.mirrored || bar.role == Role::Sideways {
            continue;
        }
        let ends = |side| solved.rear_end.ends_in_frame(setup, Part::Bar(BarId(i), side), &row.at);
        let (Some(one), Some(other)) = (ends(Side::Drawn), ends(Side::Mirrored)) else {
            continue;
        };
        let acts_as = effective_length_m(setup, BarId(i)).map_or_else(String::new, |m| bench.units().length(m));
        for (end, words) in [(0, format!("{} acts as {acts_as}", bar.name)), (1, String::new())] {
            marks.push(Mark {
                line: straight([one[end], other[end]], place),
                cross: None,
                words,
            });
        }
    }
    marks
}

/// A word at every part that could be missed, and at the one that binds.
fn shared(solved: &Solved, setup: &Setup, row: &Row, place: &impl Fn(Point3<f64>) -> Option<Pos2>) -> Vec<Mark> {
    let binds = solved.bind.iter().filter(|b| b.limit_roll_rad.is_some());
    let binding: Vec<_> = binds.filter_map(|b| b.misfit.part).collect();
    let parts = solved.freedom.sharing.iter().filter_map(|c| solved.rear_end.part(*c));
    let mark = |part: Part| {
        let [a, b] = solved.rear_end.ends_in_frame(setup, part, &row.at)?;
        let words = if binding.contains(&part) { "binds" } else { "shares" };
        let at = place(nalgebra::center(&a, &b))?;
        Some(Mark {
            line: vec![at, at],
            cross: None,
            words: words.to_owned(),
        })
    };
    parts.filter_map(mark).collect()
}
