//! What there is to say about the springs.

mod words;

use super::{Finding, Grade, Kind, Remedy};
use crate::answers::Solved;
use crate::setup::{AirSpring, Coilover, Setup, SpringKind, Springs};
use crate::springs::{
    BumpTrouble, Coil, End, Fault, Reach, Room, Rooms, SideSpring, SpringPose, Stand, Summary, ends, preload_m, rooms,
    stand,
};
use crate::travel::{RollSweep, Row};

pub(super) use words::sentence;

/// Ten pounds to the square inch: common practice for the least that keeps an air spring's folds in place.
const LEAST_PA: f64 = 70e3;

/// Bounces a second that ride well in a truck: common practice.
const COMFORTABLE_HZ: [f64; 2] = [1.0, 2.0];

/// An eighth of an inch beside the ride height wanted: common practice for heights that nobody sees the difference of.
const STANDS_M: f64 = 0.0032;

/// A coil gives about two thirds of its free length before its turns meet: common practice where the maker's solid length is not at hand.
const LEAST_LEFT: f64 = 1.0 / 3.0;

/// Poses this near to a height are at it.
const AT_M: f64 = 1e-6;

/// All of it.
pub(super) fn of(setup: &Setup, solved: &Solved) -> Vec<Finding> {
    let Some(springs) = &setup.springs else {
        return Vec::new();
    };
    let ride = Row::at_ride(setup, &solved.rear_end);
    if let Some(found) = carries_nothing(solved) {
        return vec![found];
    }
    let mut found = runs_out(setup, solved);
    found.extend(bump_stop(setup, springs, solved));
    match &springs.kind {
        SpringKind::Coilover(coilover) => found.extend(coils(setup, springs, coilover, solved, &ride)),
        SpringKind::Air(air) => found.extend(bags(setup, air, solved, &ride)),
    }
    found.extend(frequency(&ride));
    if found.is_empty() {
        found.extend(well(setup, solved, &ride));
    }
    found
}

fn finding(grade: Grade, fault: Fault) -> Finding {
    Finding::new(grade, Kind::Spring(fault))
}

fn sides(row: &Row) -> impl Iterator<Item = &SideSpring> {
    row.spring.iter().flat_map(SpringPose::sides)
}

/// A wheel that does not press its spring together anywhere in the level travel.
fn carries_nothing(solved: &Solved) -> Option<Finding> {
    let ratio = |row: &Row| sides(row).map(|s| s.motion_ratio).fold(f64::INFINITY, f64::min);
    let worst = solved.level.rows.iter().min_by(|a, b| ratio(a).total_cmp(&ratio(b)))?;
    let motion_ratio = ratio(worst);
    // Less than this is a lever of a hundred to one.
    (motion_ratio < 0.01).then(|| finding(Grade::WontWork, Fault::CarriesNothing { motion_ratio }).at(worst.height_m))
}

/// What the springs are asked to follow: the level travel, and one wheel up at ride height. One wheel up where the truck is at an end of its
/// travel anyway is more than it is built for.
fn asked(setup: &Setup, solved: &Solved) -> Option<Rooms> {
    let at_ride = |sweep: &&RollSweep| (sweep.height_m - setup.travel.ride_m).abs() < AT_M;
    let rolls = solved.rolls.iter().filter(at_ride).flat_map(|sweep| &sweep.rows);
    rooms(setup, solved.level.rows.iter().chain(rolls))
}

/// Springs that are at an end before the travel is: level ones cannot follow it, with one wheel up the wheel lifts or hits.
fn runs_out(setup: &Setup, solved: &Solved) -> Vec<Finding> {
    let ends = ends(setup, &solved.level);
    let (level, any) = (rooms(setup, solved.level.rows.iter()), asked(setup, solved));
    let (Some(level), Some(any)) = (level, any) else {
        return Vec::new();
    };
    let one = |end, level: [Room; 2], any: [Room; 2], from_m: Option<f64>| {
        let ([worst, other], grade) = match from_m {
            Some(_) => (level, Grade::WontWork),
            None => (any, Grade::Check),
        };
        let fault = Fault::RunsOut {
            end,
            by_m: -worst.room_m,
            other_m: other.room_m,
            from_m,
            roll_rad: worst.roll_rad,
        };
        worst
            .is_passed()
            .then(|| finding(grade, fault).at(from_m.unwrap_or(worst.height_m)))
    };
    let of = |rooms: &Rooms| [rooms.to_collapsed, rooms.to_extended];
    let turned = |[to_collapsed, to_extended]: [Room; 2]| [to_extended, to_collapsed];
    let collapses = one(End::Collapsed, of(&level), of(&any), ends.collapse_m);
    let extends = one(End::Extended, turned(of(&level)), turned(of(&any)), ends.extend_m);
    // A bump stop that is met before keeps the springs from their ends; what it does to the travel is its own finding.
    let stopped = |collapse_m: f64| setup.springs.as_ref().and_then(|s| s.bump_stop_at_m) >= Some(collapse_m);
    let collapses = collapses.filter(|_| !ends.collapse_m.is_some_and(stopped));
    collapses.into_iter().chain(extends).collect()
}

fn bump_stop(setup: &Setup, springs: &Springs, solved: &Solved) -> Option<Finding> {
    let meets_at_m = springs.bump_stop_at_m?;
    let collapse_m = ends(setup, &solved.level).collapse_m;
    let (grade, trouble) = if meets_at_m >= setup.travel.ride_m {
        (Grade::WontWork, BumpTrouble::AtRide)
    } else if let Some(collapse_m) = collapse_m.filter(|collapse_m| meets_at_m < *collapse_m) {
        (Grade::WontWork, BumpTrouble::AfterSprings { collapse_m })
    } else if meets_at_m > setup.travel.laid_out_m + AT_M {
        (Grade::Check, BumpTrouble::AboveLaidOut)
    } else {
        return None;
    };
    Some(finding(grade, Fault::BumpStop { meets_at_m, trouble }).at(meets_at_m))
}

/// Whether the coils, as they are set, hold the truck where it is wanted, and whether they can.
fn coils(setup: &Setup, springs: &Springs, coilover: &Coilover, solved: &Solved, ride: &Row) -> Vec<Finding> {
    let ride_m = setup.travel.ride_m;
    let Some(preload_m) = ride.spring.and_then(|pose| preload_m(springs, &pose)) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    if preload_m < -AT_M {
        found.push(finding(Grade::Check, Fault::CoilLoose { by_m: -preload_m }).at(ride_m));
    } else if let Some(stand) = stand(setup, &solved.level) {
        let stands = matches!(stand, Stand::At { height_m } if (height_m - ride_m).abs() <= STANDS_M);
        if !stands {
            found.push(Finding {
                remedies: vec![Remedy::SetCollars],
                ..finding(Grade::Check, Fault::Stands { stand, preload_m }).at(ride_m)
            });
        }
    }
    found.extend(coil_short(coilover, solved, preload_m));
    found
}

/// The coil at its shortest, with whichever preload is more: the one it has or the one it takes.
fn coil_short(coilover: &Coilover, solved: &Solved, preload_m: f64) -> Option<Finding> {
    let length = |row: &Row| sides(row).map(|s| s.length_m).fold(f64::INFINITY, f64::min);
    let shortest = solved
        .level
        .rows
        .iter()
        .min_by(|a, b| length(a).total_cmp(&length(b)))?;
    let set = Coilover {
        preload_m: preload_m.max(coilover.preload_m),
        ..*coilover
    };
    let left_m = Coil::at(&set, length(shortest).max(coilover.collapsed_m)).length_m;
    let left_of_free = left_m / coilover.free_length_m;
    let grade = if left_m <= 0.0 { Grade::WontWork } else { Grade::Check };
    (left_of_free < LEAST_LEFT).then(|| finding(grade, Fault::CoilShort { left_m, left_of_free }).at(shortest.height_m))
}

/// Pressures and the chart at the three heights.
fn bags(setup: &Setup, air: &AirSpring, solved: &Solved, ride: &Row) -> Vec<Finding> {
    let rows = &solved.level.rows;
    let at = |height_m: f64| rows.iter().find(|r| (r.height_m - height_m).abs() < AT_M);
    let heights = [Some(ride), at(setup.travel.full_lift_m), at(setup.travel.laid_out_m)];
    let heights: Vec<&Row> = heights.into_iter().flatten().collect();
    let pressures = || {
        let loads = heights
            .iter()
            .flat_map(|row| sides(row).map(|s| (row.height_m, s.load)));
        loads.filter_map(|(height_m, load)| Some((height_m, load?.pressure_pa?)))
    };
    let most = pressures()
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .filter(|m| m.1 > air.most_pa);
    let least = pressures()
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .filter(|m| m.1 < LEAST_PA);
    let pressure = |(height_m, pressure_pa), limit_pa| {
        // Laid out the air may be let out: nobody drives there.
        let drives = height_m > setup.travel.laid_out_m + AT_M;
        let high = pressure_pa > limit_pa;
        let grade = if high && drives { Grade::WontWork } else { Grade::Check };
        finding(grade, Fault::Pressure { pressure_pa, limit_pa }).at(height_m)
    };
    let mut found: Vec<_> = most.map(|m| pressure(m, air.most_pa)).into_iter().collect();
    found.extend(least.map(|l| pressure(l, LEAST_PA)));
    found.extend(heights.iter().find_map(|row| off_chart(air, row)));
    found
}

fn off_chart(air: &AirSpring, row: &Row) -> Option<Finding> {
    let ends = [air.chart.first()?.height_m, air.chart.last()?.height_m];
    sides(row).find_map(|side| {
        let chart_m = match side.reach {
            Reach::BelowChart { .. } => ends[0],
            Reach::AboveChart { .. } => ends[1],
            _ => return None,
        };
        let length_m = side.length_m;
        Some(finding(Grade::Check, Fault::OffChart { length_m, chart_m }).at(row.height_m))
    })
}

fn frequency(ride: &Row) -> Option<Finding> {
    let frequency_hz = ride.spring?.left.load?.frequency_hz?;
    let fine = (COMFORTABLE_HZ[0]..=COMFORTABLE_HZ[1]).contains(&frequency_hz);
    (!fine).then(|| finding(Grade::Check, Fault::Frequency { frequency_hz }).at(ride.height_m))
}

fn well(setup: &Setup, solved: &Solved, ride: &Row) -> Option<Finding> {
    let left = ride.spring?.left;
    let summary = Summary {
        rooms: asked(setup, solved)?,
        motion_ratio: left.motion_ratio,
        load: left.load?,
    };
    Some(finding(Grade::Fine, Fault::Well(summary)).at(ride.height_m))
}
