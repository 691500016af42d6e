//! What is left of the springs' own travel.

use super::{End, Reach};
use crate::setup::{Setup, SpringKind};
use crate::travel::{Row, Travel};

impl SpringKind {
    /// The shortest and the longest it may be, m.
    #[must_use]
    pub fn reach_m(&self) -> [f64; 2] {
        match self {
            Self::Coilover(coilover) => [coilover.collapsed_m, coilover.extended_m],
            Self::Air(air) => [air.shortest_m, air.longest_m],
        }
    }
}

/// An end that is passed by less than this is met: a micrometre, for lengths that are summed up.
const MET_M: f64 = 1e-6;

impl Reach {
    /// Of a length.
    #[must_use]
    pub fn of(kind: &SpringKind, length_m: f64) -> Self {
        let [shortest_m, longest_m] = kind.reach_m();
        if length_m < shortest_m {
            let by_m = shortest_m - length_m;
            return Self::Collapsed { by_m };
        }
        if length_m > longest_m {
            let by_m = length_m - longest_m;
            return Self::Extended { by_m };
        }
        let SpringKind::Air(air) = kind else {
            return Self::Within;
        };
        match (air.chart.first(), air.chart.last()) {
            (Some(first), _) if length_m < first.height_m => Self::BelowChart {
                by_m: first.height_m - length_m,
            },
            (_, Some(last)) if length_m > last.height_m => Self::AboveChart {
                by_m: length_m - last.height_m,
            },
            _ => Self::Within,
        }
    }
}

/// What is left before an end at the pose where that is least; less than nothing where the end is passed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// How much.
    pub room_m: f64,
    /// The height there.
    pub height_m: f64,
    /// The roll there.
    pub roll_rad: f64,
    /// True for the left spring.
    pub left: bool,
}

/// What is left before both ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rooms {
    /// Before they are closed up.
    pub to_collapsed: Room,
    /// Before they are pulled out.
    pub to_extended: Room,
}

impl Room {
    /// True where the end is passed.
    #[must_use]
    pub fn is_passed(&self) -> bool {
        self.room_m < -MET_M
    }
}

impl Rooms {
    /// The end that the springs come nearest to, or go past farthest.
    #[must_use]
    pub fn nearer_end(&self) -> End {
        if self.to_collapsed.room_m <= self.to_extended.room_m {
            End::Collapsed
        } else {
            End::Extended
        }
    }
}

/// The least that is left over some poses; `None` without springs, or without poses.
#[must_use]
pub fn rooms<'a>(setup: &Setup, rows: impl Iterator<Item = &'a Row>) -> Option<Rooms> {
    let [shortest_m, longest_m] = setup.springs.as_ref()?.kind.reach_m();
    let mut found: Option<Rooms> = None;
    for row in rows {
        let Some(pose) = &row.spring else { continue };
        for (side, left) in pose.sides().into_iter().zip([true, false]) {
            let room = |room_m: f64| Room {
                room_m,
                height_m: row.height_m,
                roll_rad: row.roll_rad,
                left,
            };
            let here = [room(side.length_m - shortest_m), room(longest_m - side.length_m)];
            found = Some(found.map_or(
                Rooms {
                    to_collapsed: here[0],
                    to_extended: here[1],
                },
                |so_far| Rooms {
                    to_collapsed: less(so_far.to_collapsed, here[0]),
                    to_extended: less(so_far.to_extended, here[1]),
                },
            ));
        }
    }
    found
}

fn less(a: Room, b: Room) -> Room {
    if b.room_m < a.room_m { b } else { a }
}

/// The ride heights at which the springs come to their ends with both wheels alike.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Ends {
    /// Below this one of them is closed up; `None` where neither is anywhere in the travel.
    pub collapse_m: Option<f64>,
    /// Above this one of them is pulled out; `None` where neither is anywhere in the travel.
    pub extend_m: Option<f64>,
}

/// Where the springs come to their ends, looked for from ride height outwards.
#[must_use]
pub fn ends(setup: &Setup, level: &Travel) -> Ends {
    let Some(springs) = &setup.springs else {
        return Ends::default();
    };
    let [shortest_m, longest_m] = springs.kind.reach_m();
    let ride_m = setup.travel.ride_m;
    let room = |row: &Row, of: fn(f64, f64, f64) -> f64| {
        let sides = row.spring.as_ref()?.sides();
        let least = sides.map(|s| of(s.length_m, shortest_m, longest_m)).into_iter();
        Some((row.height_m, least.fold(f64::INFINITY, f64::min)))
    };
    // One pose on the other side of ride height is looked at too, so that the step over it is not left out.
    let split = level.rows.partition_point(|row| row.height_m <= ride_m);
    let down = level.rows.iter().take(split + 1).rev();
    let up = level.rows.iter().skip(split.saturating_sub(1));
    Ends {
        collapse_m: first_passed(down.filter_map(|row| room(row, |length, shortest, _| length - shortest))),
        extend_m: first_passed(up.filter_map(|row| room(row, |length, _, longest| longest - length))),
    }
}

/// The height where a room first runs out, on the straight line between two poses.
fn first_passed(rooms: impl Iterator<Item = (f64, f64)>) -> Option<f64> {
    let mut before: Option<(f64, f64)> = None;
    for (height_m, room_m) in rooms {
        if room_m < -MET_M {
            return Some(before.map_or(height_m, |(h, r)| {
                h + (height_m - h) * r.max(0.0) / (r.max(0.0) - room_m)
            }));
        }
        before = Some((height_m, room_m));
    }
    None
}
