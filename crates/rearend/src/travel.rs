//! The sweep from laid out to full lift: poses, and what is read off each.

use linkage::{Configuration, Drive, EndCause, Twists, WalkEnd, Waypoint};
use nalgebra::Vector3;

use crate::driveline::{Shaft, ShaftPose};
use crate::first_order::FirstOrder;
use crate::mechanism::{Part, RearEnd};
use crate::placed::Placed;
use crate::setup::Setup;
use crate::springs::SpringPose;
use crate::tyres::TyreGaps;

/// Poses of a sweep as drawn and printed.
pub const POSES: usize = 61;

/// One pose of the travel, and what is read off it.
#[derive(Clone, Copy, Debug)]
pub struct Row {
    /// Underside of the rail above ground at the axle.
    pub height_m: f64,
    /// Roll of the axle against the frame, + left side up.
    pub roll_rad: f64,
    /// The axle in frame coordinates.
    pub at: Configuration,
    /// The largest length a bar would have to give.
    pub misfit_m: f64,
    /// Axle centre from its place at ride height, + left.
    pub shift_m: f64,
    /// Axle centre from its place at ride height, + forward.
    pub fore_aft_m: f64,
    /// Heading of the axle, + left.
    pub steer_rad: f64,
    /// Side-view elevation of the pinion axis, taken forward, to the frame: + nose up.
    pub pinion_to_frame_rad: f64,
    /// The same to level ground.
    pub pinion_to_ground_rad: f64,
    /// Where it turns about.
    pub first: FirstOrder,
    /// The shaft, where it is described.
    pub shaft: Option<ShaftPose>,
    /// The springs, where they are described.
    pub spring: Option<SpringPose>,
    /// The room around the tyres, where the body is described.
    pub tyres: Option<TyreGaps>,
}

/// Where the travel ends before its drawn end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TravelEnd {
    /// The last height reached.
    pub height_m: f64,
    /// The roll there.
    pub roll_rad: f64,
    /// The bar that cannot follow.
    pub part: Option<Part>,
    /// What happens there.
    pub cause: EndCause,
}

/// A sweep through the heights at one roll.
#[derive(Clone, Debug, Default)]
pub struct Travel {
    /// The roll of every pose.
    pub roll_rad: f64,
    /// The poses, lowest first. Fewer than asked for where the travel ends early.
    pub rows: Vec<Row>,
    /// Where it ends below.
    pub low_end: Option<TravelEnd>,
    /// Where it ends above.
    pub high_end: Option<TravelEnd>,
}

impl Travel {
    /// Sweeps `poses` heights evenly from laid out to full lift, walking outwards from ride height.
    #[must_use]
    pub fn sweep(setup: &Setup, rear_end: &RearEnd, roll_rad: f64, poses: usize) -> Self {
        let mut travel = Self {
            roll_rad,
            ..Self::default()
        };
        let start = match roll_at_ride(setup, rear_end, roll_rad) {
            Ok(start) => start,
            Err(end) => {
                travel.low_end = Some(end);
                travel.high_end = Some(end);
                return travel;
            }
        };
        let heights = heights(setup, poses.max(2));
        let (down, up): (Vec<f64>, Vec<f64>) = heights.iter().partition(|h| **h <= setup.travel.ride_m);
        travel.low_end = travel.walk(setup, rear_end, &start, down.into_iter().rev());
        travel.rows.reverse();
        travel.high_end = travel.walk(setup, rear_end, &start, up.into_iter());
        travel
    }

    fn walk(
        &mut self,
        setup: &Setup,
        rear_end: &RearEnd,
        start: &Configuration,
        heights: impl Iterator<Item = f64>,
    ) -> Option<TravelEnd> {
        let (roll_rad, reader) = (self.roll_rad, Reader::of(setup, rear_end));
        let drives = heights.map(|h| Drive {
            z_m: setup.axle_z_m(h),
            roll_rad,
        });
        let end = rear_end
            .mechanism
            .walk(start, drives, |w| self.rows.push(reader.row(w)));
        end.map(|end| TravelEnd::read(setup, rear_end, end))
    }

    /// The row nearest a height.
    #[must_use]
    pub fn nearest(&self, height_m: f64) -> Option<&Row> {
        self.rows
            .iter()
            .min_by(|a, b| (a.height_m - height_m).abs().total_cmp(&(b.height_m - height_m).abs()))
    }

    /// The row in which a quantity is largest in size.
    #[must_use]
    pub fn largest(&self, quantity: impl Fn(&Row) -> f64) -> Option<&Row> {
        self.rows
            .iter()
            .max_by(|a, b| quantity(a).abs().total_cmp(&quantity(b).abs()))
    }
}

/// Poses of a roll sweep: every tenth part either way.
pub const ROLLS: usize = 21;

/// A sweep through the rolls at one height.
#[derive(Clone, Debug, Default)]
pub struct RollSweep {
    /// The height of every pose.
    pub height_m: f64,
    /// The poses, right side up first. Fewer than asked for where the travel ends early.
    pub rows: Vec<Row>,
    /// Where it ends with the right side up.
    pub right_end: Option<TravelEnd>,
    /// Where it ends with the left side up.
    pub left_end: Option<TravelEnd>,
}

impl RollSweep {
    /// Sweeps `poses` rolls (an odd number) evenly as far as one wheel goes up on either side, walking outwards from a level pose.
    #[must_use]
    pub fn sweep(setup: &Setup, rear_end: &RearEnd, level: &Row, poses: usize) -> Self {
        let mut sweep = Self {
            height_m: level.height_m,
            ..Self::default()
        };
        let half = poses.max(3) / 2;
        let most = setup.travel.one_wheel_up_rad.abs();
        let reader = Reader::of(setup, rear_end);
        let walk = |rows: &mut Vec<Row>, sign: f64| {
            #[expect(clippy::cast_precision_loss, reason = "a few dozen poses at most")]
            let drives = (1..=half).map(|i| Drive {
                z_m: level.at.origin_in_ground.z,
                roll_rad: sign * most * i as f64 / half as f64,
            });
            let end = rear_end.mechanism.walk(&level.at, drives, |w| rows.push(reader.row(w)));
            end.map(|end| TravelEnd::read(setup, rear_end, end))
        };
        sweep.right_end = walk(&mut sweep.rows, -1.0);
        sweep.rows.reverse();
        sweep.rows.push(*level);
        sweep.left_end = walk(&mut sweep.rows, 1.0);
        sweep
    }
}

/// The pose at a height and roll, walked to from a pose of `near` (or from ride height).
///
/// # Errors
/// Where the travel ends on the way there.
pub fn pose(setup: &Setup, rear_end: &RearEnd, near: &Travel, height_m: f64, roll_rad: f64) -> Result<Row, TravelEnd> {
    let start = near.nearest(height_m).map_or(rear_end.ride, |row| row.at);
    let drive = Drive {
        z_m: setup.axle_z_m(height_m),
        roll_rad,
    };
    let reached = rear_end.mechanism.walk_to(&start, drive);
    reached
        .map(|w| Reader::of(setup, rear_end).row(w))
        .map_err(|end| TravelEnd::read(setup, rear_end, end))
}

fn roll_at_ride(setup: &Setup, rear_end: &RearEnd, roll_rad: f64) -> Result<Configuration, TravelEnd> {
    if roll_rad == 0.0 {
        return Ok(rear_end.ride);
    }
    let drive = Drive {
        z_m: rear_end.ride.drive().z_m,
        roll_rad,
    };
    let reached = rear_end.mechanism.walk_to(&rear_end.ride, drive);
    reached
        .map(|w| w.at)
        .map_err(|end| TravelEnd::read(setup, rear_end, end))
}

fn heights(setup: &Setup, poses: usize) -> Vec<f64> {
    let (low, high) = (setup.travel.laid_out_m, setup.travel.full_lift_m);
    #[expect(clippy::cast_precision_loss, reason = "a few hundred poses at most")]
    let height = |i: usize| {
        if i + 1 == poses {
            high
        } else {
            low + (high - low) * i as f64 / (poses - 1) as f64
        }
    };
    (0..poses).map(height).collect()
}

/// Reads what there is to read off poses.
struct Reader<'a> {
    setup: &'a Setup,
    rear_end: &'a RearEnd,
    shaft: Option<Shaft>,
}

impl<'a> Reader<'a> {
    fn of(setup: &'a Setup, rear_end: &'a RearEnd) -> Self {
        Self {
            setup,
            rear_end,
            shaft: Shaft::of(setup, &rear_end.ride),
        }
    }

    fn row(&self, waypoint: Waypoint) -> Row {
        let (setup, rear_end) = (self.setup, self.rear_end);
        let at = waypoint.at;
        let axle = Placed::at(&at);
        let height_m = setup.height_m(at.origin_in_ground.z);
        let moved = at.origin_in_ground - rear_end.ride.origin_in_ground;
        let pinion_to_frame_rad = pinion_to_frame(setup, &axle);
        let (twists, spring) = self.moving(&at, &axle);
        Row {
            height_m,
            roll_rad: at.roll_rad,
            at,
            misfit_m: waypoint.misfit_m,
            shift_m: moved.y,
            fore_aft_m: moved.x,
            steer_rad: at.yaw_rad,
            pinion_to_frame_rad,
            pinion_to_ground_rad: pinion_to_frame_rad + setup.travel.rake_rad(height_m),
            first: FirstOrder::of(setup, &twists, &at),
            shaft: self.shaft.as_ref().and_then(|shaft| shaft.at(&axle)),
            spring,
            tyres: TyreGaps::at(setup, &axle),
        }
    }

    /// Only springs ask how the motion bends.
    fn moving(&self, at: &Configuration, axle: &Placed) -> (Twists, Option<SpringPose>) {
        let mechanism = &self.rear_end.mechanism;
        if self.setup.springs.is_none() {
            return (mechanism.twists(at), None);
        }
        let motion = mechanism.motion(at);
        (motion.twists, SpringPose::at(self.setup, &motion, axle))
    }
}

impl Row {
    /// The axle at ride height, where every travel starts.
    #[must_use]
    pub fn at_ride(setup: &Setup, rear_end: &RearEnd) -> Self {
        let waypoint = Waypoint {
            at: rear_end.ride,
            misfit_m: rear_end.ride_misfit_m,
        };
        Reader::of(setup, rear_end).row(waypoint)
    }
}

/// Direction of the pinion axis, taken forward, axle coordinates.
#[must_use]
pub fn pinion_in_axle(setup: &Setup) -> Vector3<f64> {
    let (sin, cos) = setup.axle.pinion_angle_rad.sin_cos();
    Vector3::new(cos, 0.0, sin)
}

fn pinion_to_frame(setup: &Setup, axle: &Placed) -> f64 {
    let in_frame = axle.frame_from_axle * pinion_in_axle(setup);
    in_frame.z.atan2(in_frame.x)
}

impl TravelEnd {
    fn read(setup: &Setup, rear_end: &RearEnd, end: WalkEnd) -> Self {
        Self {
            height_m: setup.height_m(end.last.z_m),
            roll_rad: end.last.roll_rad,
            part: end.closure.and_then(|closure| rear_end.part(closure)),
            cause: end.cause,
        }
    }
}
