//! The heights that the truck stands at.

use super::words::{NOTHING, way};
use super::{Job, Section, Table};
use crate::answers::Solved;
use crate::rail_line::underside_z_m;
use crate::setup::Front;
use crate::travel::Row;
use crate::tyres::{Hand, SideGaps};

/// A pose this near to a height is at it.
const AT_M: f64 = 1e-6;

pub(super) fn section(job: &Job, solved: Option<&Solved>) -> Section {
    let travel = &job.setup.travel;
    let heights = [travel.laid_out_m, travel.ride_m, travel.full_lift_m];
    let mut table = Table::with(&["Height", ">Laid out", ">Ride height", ">Full lift"]);
    table.rows.extend(described(job, heights));
    let mut notes = Vec::new();
    if let Some(solved) = solved {
        let ride = Row::at_ride(job.setup, &solved.rear_end);
        let rows = [solved.level.rows.first(), Some(&ride), solved.level.rows.last()];
        let reached: [Option<&Row>; 3] =
            std::array::from_fn(|i| rows[i].filter(|row| (row.height_m - heights[i]).abs() < AT_M));
        table.rows.extend(around(job, &reached));
        if reached.iter().any(Option::is_none) {
            notes.push("A height that the bars do not let the axle come to has no room around the tyres.".to_owned());
        }
    }
    if travel.front == Front::Follows {
        notes.push("The front of the frame is taken to stay level with the rear.".to_owned());
    }
    Section {
        title: "Ride heights".to_owned(),
        text: vec![
            "Heights off the ground are at the axle, to the underside of the rails as they run straight, both wheels alike.".to_owned(),
        ],
        table: Some(table),
        notes,
        steps: Vec::new(),
    }
}

fn named(name: &str, cells: [String; 3]) -> Vec<String> {
    let [a, b, c] = cells;
    vec![name.to_owned(), a, b, c]
}

/// What needs no solution.
fn described(job: &Job, heights: [f64; 3]) -> Vec<Vec<String>> {
    let (setup, units) = (job.setup, job.units);
    let over_m = underside_z_m(&setup.rails, setup.placement.forward_m);
    let mut rows = vec![
        named("Rails off the ground", heights.map(|h| units.length(h))),
        named(
            "Axle's centre off the ground",
            heights.map(|_| units.length(setup.wheels.loaded_radius_m)),
        ),
        named(
            "Axle's centre to the straight rail's underside",
            heights.map(|h| way(units, setup.axle_z_m(h), "above", "below")),
        ),
        named(
            "Between the tube's top and the rail over it",
            heights.map(|h| units.length(over_m - setup.axle_z_m(h) - setup.axle.tube_m / 2.0)),
        ),
    ];
    if let Front::Heights(front) = setup.travel.front {
        let at = [front.laid_out_m, front.ride_m, front.full_lift_m];
        rows.push(named(
            "Rails off the ground at the front axle",
            at.map(|h| units.length(h)),
        ));
    }
    rows
}

/// The room around the tyres, the tighter side's, where the body is described.
fn around(job: &Job, rows: &[Option<&Row>; 3]) -> Vec<Vec<String>> {
    if job.setup.body.is_none() {
        return Vec::new();
    }
    let units = job.units;
    let least = |row: Option<&Row>, room: fn(&SideGaps) -> Option<f64>| {
        let gaps = row?.tyres?;
        let rooms = Hand::BOTH.into_iter().filter_map(|hand| room(gaps.side(hand)));
        rooms.min_by(f64::total_cmp).filter(|m| m.is_finite())
    };
    let told = |room: fn(&SideGaps) -> Option<f64>| {
        rows.map(|row| least(row, room).map_or_else(|| NOTHING.to_owned(), |m| units.length(m)))
    };
    let above = rows.map(|row| {
        let above_m = least(row, |gaps| gaps.tucked_m);
        above_m.map_or_else(|| NOTHING.to_owned(), |m| way(units, m, "above", "below"))
    });
    vec![
        named("Tyre to the fender lip, sideways", told(|gaps| gaps.lip_m)),
        named("Tyre's top to the lip's edge", above),
    ]
}
