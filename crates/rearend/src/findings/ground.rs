//! What there is to say about the ground.

use super::words::{at, beside};
use super::{Finding, Grade, Kind, capitalised, grade};
use crate::answers::Solved;
use crate::ground::{Fault, Low, RailSpot, Standing, Stands, rests_at_m};
use crate::mechanism::Part;
use crate::setup::{BarEnd, Carrier, Setup};
use crate::tape::Units;

/// Nearer to the ground than this is on it: an eighth of an inch, what a floor is out of level.
const ON_IT_M: f64 = 0.0032;

/// All of it.
pub(super) fn of(setup: &Setup, solved: &Solved) -> Vec<Finding> {
    let travel = &setup.travel;
    let heights = [travel.laid_out_m, travel.ride_m, travel.full_lift_m];
    // A height that is not reached is told by the travel's end.
    let standing = |height_m: f64| {
        let row = solved.level.nearest(height_m)?;
        let near_m = (travel.full_lift_m - travel.laid_out_m) / 60.0;
        ((row.height_m - height_m).abs() <= near_m).then(|| Standing::of(setup, solved, row))
    };
    let [laid_out, ride, full_lift] = heights.map(standing);
    let mut found: Vec<Finding> = laid_out.iter().filter_map(|s| laid_out_on(setup, s)).collect();
    let later = [&ride, &full_lift]
        .into_iter()
        .flatten()
        .filter_map(|s| in_ground(setup, s));
    let told = |other: &Finding, found: &[Finding]| found.iter().any(|f| lowest_of(f) == lowest_of(other));
    for finding in later {
        if !told(&finding, &found) {
            found.push(finding);
        }
    }
    // What is in the ground hangs below everything.
    if found
        .iter()
        .all(|f| f.grade == Grade::Fine || laid_out.as_ref().is_some_and(|l| Some(l.height_m) == f.height_m))
    {
        found.extend(ride.iter().filter_map(|s| below_scrub_line(setup, s)));
    }
    found
}

fn lowest_of(finding: &Finding) -> Option<Low> {
    match &finding.kind {
        Kind::Ground(Fault::InGround { lowest, .. }) => Some(lowest.what),
        _ => None,
    }
}

fn finding(grade: Grade, fault: Fault, what: Low, height_m: f64) -> Finding {
    let part = match what {
        Low::End(part, _) => Some(part),
        _ => None,
    };
    Finding::new(grade, Kind::Ground(fault)).about(part).at(height_m)
}

fn in_ground(setup: &Setup, standing: &Standing) -> Option<Finding> {
    let lowest = *standing.lowest().filter(|s| s.over_ground_m < -ON_IT_M)?;
    let rests_at_m = if lowest.what.is_on_frame(setup) {
        rests_at_m(setup)
    } else {
        None
    };
    // A frame that rests higher than described is a matter of a number; an axle that drags is not.
    let grade = if rests_at_m.is_some() {
        Grade::Check
    } else {
        Grade::WontWork
    };
    let fault = Fault::InGround {
        lowest,
        height_m: standing.height_m,
        rests_at_m,
    };
    Some(finding(grade, fault, lowest.what, standing.height_m))
}

fn laid_out_on(setup: &Setup, standing: &Standing) -> Option<Finding> {
    let lowest = *standing.lowest()?;
    if lowest.over_ground_m < -ON_IT_M {
        return in_ground(setup, standing);
    }
    if lowest.over_ground_m > ON_IT_M {
        return Some(finding(
            Grade::Fine,
            Fault::Clear { lowest },
            lowest.what,
            standing.height_m,
        ));
    }
    let fine = matches!(lowest.what, Low::Rails(_));
    let next = standing.next().copied();
    Some(finding(
        grade(fine),
        Fault::Rests { on: lowest, next },
        lowest.what,
        standing.height_m,
    ))
}

fn below_scrub_line(setup: &Setup, standing: &Standing) -> Option<Finding> {
    let (lowest, below_m) = standing.below_scrub_line(setup)?;
    let fault = Fault::BelowScrubLine { lowest, below_m };
    Some(finding(Grade::Check, fault, lowest.what, standing.height_m))
}

/// In words.
pub(super) fn sentence(setup: &Setup, units: Units, _grade: Grade, fault: &Fault) -> String {
    let name = |stands: &Stands| name(setup, stands.what);
    match fault {
        Fault::InGround {
            lowest,
            height_m,
            rests_at_m,
        } => {
            let what = name(lowest);
            let depth = units.length(lowest.over_ground_m.abs());
            let would_be = capitalised(&format!(
                "{}, {what} would be {depth} in the ground",
                at(setup, units, *height_m)
            ));
            rests_at_m.map_or_else(
                || format!("{would_be}. Raise it by that."),
                |rests_m| {
                    format!(
                        "{would_be}: the frame comes to rest {} already.",
                        at(setup, units, rests_m)
                    )
                },
            )
        }
        Fault::Rests { on, next } => {
            let advice = match on.what {
                Low::Rails(_) => "",
                _ => " Rails are made to be laid on; this is not.",
            };
            let next = next.as_ref().map_or_else(String::new, |next| {
                format!(
                    "; next, {} above the ground, is {}",
                    units.length(next.over_ground_m.max(0.0)),
                    name(next)
                )
            });
            format!("Laid out, the truck rests on {}{next}.{advice}", name(on))
        }
        Fault::Clear { lowest } => format!(
            "Laid out, nothing touches the ground: the lowest is {}, {} above it.",
            name(lowest),
            units.length(lowest.over_ground_m)
        ),
        Fault::BelowScrubLine { lowest, below_m } => format!(
            "At ride height, {} hangs {} below the scrub line, the line from one rim's edge to where the other tyre stands: with a tyre flat it is on the road. Raise it by that.",
            name(lowest),
            beside(*below_m, 0.0, |m| units.length(m), |m| units.movement(m))
        ),
    }
}

fn name(setup: &Setup, what: Low) -> String {
    match what {
        Low::Rails(spot) => rails(spot).to_owned(),
        Low::CentreSection => "the axle's centre section".to_owned(),
        Low::End(Part::WattLeft | Part::WattRight, BarEnd::Axle) => "the Watt's crank".to_owned(),
        Low::End(part, BarEnd::Frame) => format!("the {} at its {} end", part.name(setup), outer_end(part)),
        Low::End(part, BarEnd::Axle) => format!("the {} at the axle", part.name(setup)),
        Low::SpringMount(Carrier::Frame) => "the springs' upper mount".to_owned(),
        Low::SpringMount(Carrier::Axle) => "the springs' lower mount".to_owned(),
        Low::Shaft => "the driveshaft".to_owned(),
    }
}

fn outer_end(part: Part) -> &'static str {
    match part {
        Part::WattLeft | Part::WattRight => "outer",
        _ => "frame",
    }
}

fn rails(spot: RailSpot) -> &'static str {
    match spot {
        RailSpot::Along => "the rails' underside",
        RailSpot::Front => "the rails' front end",
        RailSpot::Rear => "the rails' rear end",
        RailSpot::KickUp => "the foot of the rails' kick-up",
        RailSpot::FrontAxle => "the rails over the front axle",
    }
}
