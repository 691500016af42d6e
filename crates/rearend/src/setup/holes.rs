//! Brackets: rows of holes that a mount may be bolted to, and mounts that stay where they are.

use nalgebra::{Point3, Vector3};
use serde::{Deserialize, Serialize};

use super::mount::MOST_M;
use super::quantity::point_mm;
use super::{BarEnd, Mount, Setup, SetupError, Side, to_file_resolution, to_file_resolution_point};

/// A mount this near to a hole is in it: far less than any bolt's play, far more than a file rounds.
const IN_HOLE_M: f64 = 1e-5;

/// Holes nearer to each other run into one.
const LEAST_STEP_M: f64 = 1e-3;

/// Holes farther from each other are two brackets.
const MOST_STEP_M: f64 = 0.5;

/// A straight row of holes in a bracket. Where a mount is bolted is said by the mount alone; it has to be one of these holes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HoleRow {
    /// Centre of the first hole, coordinates of the mount's carrier.
    #[serde(rename = "first_mm", with = "point_mm")]
    pub first: Point3<f64>,
    /// From one hole to the next: pitch and direction.
    #[serde(rename = "step_mm", with = "step_mm")]
    pub step: Vector3<f64>,
    /// How many holes, [`HoleRow::FEWEST`] to [`HoleRow::MOST`].
    #[serde(with = "count")]
    pub count: u8,
}

impl HoleRow {
    /// One hole is no row.
    pub const FEWEST: u8 = 2;
    /// More holes than a bracket has.
    pub const MOST: u8 = 12;

    /// Centres of the holes, first one first, at the file's resolution.
    pub fn holes(&self) -> impl Iterator<Item = Point3<f64>> {
        let Self { first, step, count } = *self;
        (0..count).map(move |i| to_file_resolution_point(first + step * f64::from(i)))
    }

    /// The hole nearest to a point, counted from 0, and its centre; the earlier one of two that are as near.
    #[must_use]
    pub fn nearest(&self, point: Point3<f64>) -> (usize, Point3<f64>) {
        let distance_m = |hole: &Point3<f64>| (hole - point).norm();
        let nearer = |a: &(usize, Point3<f64>), b: &(usize, Point3<f64>)| distance_m(&a.1).total_cmp(&distance_m(&b.1));
        self.holes().enumerate().min_by(nearer).unwrap_or((0, self.first))
    }

    /// The hole that a mount at this point is in, counted from 0.
    #[must_use]
    pub fn hole_at(&self, point: Point3<f64>) -> Option<usize> {
        let (hole, centre) = self.nearest(point);
        ((centre - point).norm() <= IN_HOLE_M).then_some(hole)
    }

    /// The row of the description as it stands on this side, and back.
    #[must_use]
    pub fn on_side(self, side: Side) -> Self {
        let mut step = self.step;
        if side == Side::Mirrored {
            // Taken from nothing, so that no file says "-0.0".
            step.y = 0.0 - step.y;
        }
        Self {
            first: side.of(self.first),
            step,
            ..self
        }
    }

    /// The row of a bracket that is somewhere else.
    #[must_use]
    pub fn moved(self, by: Vector3<f64>) -> Self {
        Self {
            first: self.first + by,
            ..self
        }
    }

    fn is_usable(&self) -> bool {
        (Self::FEWEST..=Self::MOST).contains(&self.count)
            && (LEAST_STEP_M..=MOST_STEP_M).contains(&self.step.norm())
            && self.first.coords.iter().all(|v| v.abs() < MOST_M)
    }
}

/// What a description says of one mount besides its place, and the side that it says it for.
struct Bracket<'a> {
    row: &'a mut Option<HoleRow>,
    is_locked: &'a mut bool,
    side: Side,
}

impl Setup {
    /// The row of holes that a mount may be bolted to, in its carrier's coordinates and on its own side of the truck.
    #[must_use]
    pub fn hole_row(&self, mount: Mount) -> Option<HoleRow> {
        let (row, _, side) = self.bracket(mount)?;
        Some(row?.on_side(side))
    }

    /// Which hole of its row a mount is in, counted from 0.
    #[must_use]
    pub fn hole_of(&self, mount: Mount) -> Option<usize> {
        self.hole_row(mount)?.hole_at(self.mount(mount)?.point)
    }

    /// Gives a mount a row of holes, or takes it away; the mount itself stays. The other one of a pair mirrors. False if there can be no
    /// row there, or none like this.
    pub fn set_hole_row(&mut self, mount: Mount, row: Option<HoleRow>) -> bool {
        if row.is_some_and(|row| !row.is_usable()) {
            return false;
        }
        let Some(bracket) = self.bracket_mut(mount) else {
            return false;
        };
        *bracket.row = row.map(|row| HoleRow {
            first: to_file_resolution_point(row.first),
            step: row.step.map(to_file_resolution),
            ..row
        });
        *bracket.row = bracket.row.map(|row| row.on_side(bracket.side));
        true
    }

    /// True for a mount that drags, arrow keys, boxes and remedies leave where it is.
    #[must_use]
    pub fn is_locked(&self, mount: Mount) -> bool {
        self.bracket(mount).is_some_and(|(_, is_locked, _)| is_locked)
    }

    /// True for a mount that can have a row of holes and be locked: an end of a bar, arm or link, but not of a crank.
    #[must_use]
    pub fn has_bracket(&self, mount: Mount) -> bool {
        self.bracket(mount).is_some()
    }

    /// Locks a mount, or unlocks it; the other one of a pair with it. False if there is no such mount, or none that can be locked.
    pub fn set_locked(&mut self, mount: Mount, is_locked: bool) -> bool {
        let bracket = self.bracket_mut(mount);
        bracket.map(|bracket| *bracket.is_locked = is_locked).is_some()
    }

    /// Every mount that has a row of holes is in one of them.
    pub(super) fn check_holes(&self) -> Result<(), SetupError> {
        for mount in self.mounts() {
            let (Some(row), Some(at)) = (self.hole_row(mount), self.mount(mount)) else {
                continue;
            };
            if row.hole_at(at.point).is_none() {
                let (hole, centre) = row.nearest(at.point);
                return Err(SetupError::InNoHole {
                    name: self.mount_name(mount),
                    hole: hole + 1,
                    at_m: centre.coords.into(),
                });
            }
        }
        Ok(())
    }

    fn bracket(&self, mount: Mount) -> Option<(Option<HoleRow>, bool, Side)> {
        Some(match mount {
            Mount::Bar { bar, end, side } => {
                let bar = self.bar(bar).filter(|b| b.mirrored || side == Side::Drawn)?;
                match end {
                    BarEnd::Frame => (bar.frame_holes, bar.frame_locked, side),
                    BarEnd::Axle => (bar.axle_holes, bar.axle_locked, axle_side(bar.joined, side)),
                }
            }
            Mount::Arm { arm, end, side } => {
                let arm = self.arm(arm).filter(|a| a.mirrored || side == Side::Drawn)?;
                match end {
                    BarEnd::Frame => (arm.frame_holes, arm.frame_locked, side),
                    BarEnd::Axle => (arm.axle_holes, arm.axle_locked, side),
                }
            }
            Mount::WattLeft => self.watt.as_ref().map(|w| (w.left_holes, w.left_locked, Side::Drawn))?,
            Mount::WattRight => self
                .watt
                .as_ref()
                .map(|w| (w.right_holes, w.right_locked, Side::Drawn))?,
            Mount::WattPivot | Mount::WattLeftArm | Mount::WattRightArm => return None,
        })
    }

    fn bracket_mut(&mut self, mount: Mount) -> Option<Bracket<'_>> {
        let (_, _, side) = self.bracket(mount)?;
        let (row, is_locked) = match mount {
            Mount::Bar { bar, end, .. } => {
                let bar = self.bars.get_mut(bar.0)?;
                match end {
                    BarEnd::Frame => (&mut bar.frame_holes, &mut bar.frame_locked),
                    BarEnd::Axle => (&mut bar.axle_holes, &mut bar.axle_locked),
                }
            }
            Mount::Arm { arm, end, .. } => {
                let arm = self.arms.get_mut(arm.0)?;
                match end {
                    BarEnd::Frame => (&mut arm.frame_holes, &mut arm.frame_locked),
                    BarEnd::Axle => (&mut arm.axle_holes, &mut arm.axle_locked),
                }
            }
            Mount::WattLeft => self.watt.as_mut().map(|w| (&mut w.left_holes, &mut w.left_locked))?,
            Mount::WattRight => self.watt.as_mut().map(|w| (&mut w.right_holes, &mut w.right_locked))?,
            Mount::WattPivot | Mount::WattLeftArm | Mount::WattRightArm => return None,
        };
        Some(Bracket { row, is_locked, side })
    }
}

/// A wishbone meets the axle once, where it is drawn, whichever of its two bars is asked.
fn axle_side(is_joined: bool, side: Side) -> Side {
    if is_joined { Side::Drawn } else { side }
}

/// From hole to hole, mm in the file.
mod step_mm {
    use nalgebra::{Point3, Vector3};
    use serde::{Deserializer, Serializer, de::Error};

    use super::{LEAST_STEP_M, MOST_STEP_M, point_mm};

    pub fn serialize<S: Serializer>(step_m: &Vector3<f64>, serializer: S) -> Result<S::Ok, S::Error> {
        point_mm::serialize(&Point3::from(*step_m), serializer)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Vector3<f64>, D::Error> {
        let step = point_mm::deserialize(deserializer)?.coords;
        if (LEAST_STEP_M..=MOST_STEP_M).contains(&step.norm()) {
            Ok(step)
        } else {
            Err(D::Error::custom(
                "a step from hole to hole is expected, forward, left and up: 1 to 500 mm altogether",
            ))
        }
    }
}

/// How many holes.
mod count {
    use serde::{Deserialize, Deserializer, Serializer, de::Error};

    use super::HoleRow;

    #[expect(clippy::trivially_copy_pass_by_ref, reason = "serde calls it so")]
    pub fn serialize<S: Serializer>(count: &u8, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_u8(*count)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<u8, D::Error> {
        let given = i64::deserialize(deserializer)?;
        let fits = |n: &u8| (HoleRow::FEWEST..=HoleRow::MOST).contains(n);
        u8::try_from(given).ok().filter(fits).ok_or_else(|| {
            let (fewest, most) = (HoleRow::FEWEST, HoleRow::MOST);
            D::Error::custom(format!(
                "{given} is out of range; {fewest} to {most} holes are expected"
            ))
        })
    }
}
