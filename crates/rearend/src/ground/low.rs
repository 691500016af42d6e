//! What hangs low on a truck.

use linkage::Configuration;
use nalgebra::Point3;

use super::{Level, Stands, front_axle_x_m};
use crate::answers::Solved;
use crate::mechanism::Part;
use crate::rail_line::lift_m;
use crate::setup::{BarEnd, Carrier, Setup};

/// A place along the rails.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RailSpot {
    /// All along: they lie level.
    Along,
    /// Their front end.
    Front,
    /// Their rear end.
    Rear,
    /// Where a kick-up begins or ends.
    KickUp,
    /// Over the front axle.
    FrontAxle,
}

/// Something that hangs low.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Low {
    /// The rails' underside.
    Rails(RailSpot),
    /// The middle of the axle housing.
    CentreSection,
    /// An end of a bar, arm or link.
    End(Part, BarEnd),
    /// A spring's mount on frame or axle.
    SpringMount(Carrier),
    /// The shaft.
    Shaft,
}

/// Radius of the centre section, of the tube's diameter: as the housing is drawn, 130 mm with 76 mm tubes.
const CENTRE_SECTION: f64 = 1.71;

/// Undersides nearer than this in height lie level.
const LEVEL_M: f64 = 0.0005;

impl Low {
    /// True of the same thing, on whichever side and at whichever place.
    #[must_use]
    pub(super) fn is_like(self, other: Self) -> bool {
        match (self, other) {
            (Self::Rails(_), Self::Rails(_)) => true,
            (Self::End(a, end_a), Self::End(b, end_b)) => end_a == end_b && is_pair(a, b),
            (a, b) => a == b,
        }
    }

    /// True of what the ground can lift the frame by; the rest stands with the axle on its tyres.
    #[must_use]
    pub fn is_on_frame(self, setup: &Setup) -> bool {
        match self {
            Self::Rails(_) | Self::SpringMount(Carrier::Frame) => true,
            Self::End(part, end) => carrier(setup, part, end) == Carrier::Frame,
            Self::CentreSection | Self::SpringMount(Carrier::Axle) | Self::Shaft => false,
        }
    }
}

fn is_pair(a: Part, b: Part) -> bool {
    match (a, b) {
        (Part::Bar(a, _), Part::Bar(b, _)) => a == b,
        (Part::Arm(a, _), Part::Arm(b, _)) => a == b,
        (a, b) => a == b,
    }
}

/// What carries an end. A Watt's link has its first end on the body without the crank, its second on the crank.
fn carrier(setup: &Setup, part: Part, end: BarEnd) -> Carrier {
    match (part, &setup.watt) {
        (Part::WattLeft | Part::WattRight, Some(watt)) => match end {
            BarEnd::Frame => watt.links_to(),
            BarEnd::Axle => watt.crank_on,
        },
        _ => end.carrier(),
    }
}

/// Everything low at a pose, in no order.
pub(super) fn all(setup: &Setup, solved: &Solved, at: &Configuration, level: &Level) -> Vec<Stands> {
    let stands = |what, point: Point3<f64>, down_m: f64| Stands {
        what,
        over_ground_m: level.over_ground_m(point.x, point.z) - down_m,
        aside_m: point.y.abs(),
    };
    let axle = &setup.axle;
    let middle = at.to_ground(Point3::new(0.0, axle.pinion_offset_m, 0.0));
    let mut found = vec![
        rails(setup, level),
        stands(Low::CentreSection, middle, CENTRE_SECTION * axle.tube_m),
    ];
    let rear_end = &solved.rear_end;
    for part in rear_end.parts.iter().chain(&rear_end.eyes).copied() {
        let down_m = half_height_m(setup, part);
        if let Some([frame, _]) = rear_end.ends_in_frame(setup, part, at) {
            found.push(stands(Low::End(part, BarEnd::Frame), frame, down_m));
        }
        if let Some(point) = axle_end(setup, solved, part, at) {
            found.push(stands(Low::End(part, BarEnd::Axle), point, down_m));
        }
    }
    if let Some(springs) = &setup.springs {
        found.push(stands(Low::SpringMount(Carrier::Frame), springs.mount_in_frame, 0.0));
        let lower = springs.mount_in_axle().map(|mount| at.to_ground(mount));
        found.extend(lower.map(|point| stands(Low::SpringMount(Carrier::Axle), point, 0.0)));
    }
    if let Some(driveline) = &setup.driveline {
        let joints = [
            Some(driveline.output),
            driveline.carrier,
            Some(at.to_ground(setup.pinion_joint_in_axle())),
        ];
        let shaft = joints
            .into_iter()
            .flatten()
            .map(|joint| stands(Low::Shaft, joint, driveline.tube_m / 2.0));
        found.extend(shaft.min_by(|a, b| a.over_ground_m.total_cmp(&b.over_ground_m)));
    }
    found
}

/// The second end of a part, frame coordinates; of a ladder bar the lower of its two mounts.
fn axle_end(setup: &Setup, solved: &Solved, part: Part, at: &Configuration) -> Option<Point3<f64>> {
    if let Part::Arm(id, side) = part {
        let [_, lower] = setup.arm(id)?.axle_mounts();
        return Some(at.to_ground(side.of(lower)));
    }
    solved.rear_end.ends_in_frame(setup, part, at).map(|[_, end]| end)
}

fn half_height_m(setup: &Setup, part: Part) -> f64 {
    let height_m = match part {
        Part::Bar(id, _) => setup.bar(id).map(|bar| bar.tube_m),
        Part::Arm(id, _) => setup.arm(id).map(|arm| arm.tube_m),
        Part::WattLeft | Part::WattRight => setup.watt.as_ref().map(|watt| watt.tube_m),
    };
    height_m.unwrap_or(0.0) / 2.0
}

/// The rails where they come lowest: at one of these stations, as between them the underside runs straight, or bends upwards so soon that
/// a rake of some degrees takes it a tenth of a millimetre lower.
fn rails(setup: &Setup, level: &Level) -> Stands {
    let stations = rail_stations(setup, level);
    let over = |x_m: f64| level.over_ground_m(x_m, lift_m(&setup.rails, x_m));
    let mut lowest = (RailSpot::Along, f64::INFINITY);
    for (spot, x_m) in stations.into_iter().flatten() {
        let here_m = over(x_m);
        lowest = if (here_m - lowest.1).abs() < LEVEL_M {
            (RailSpot::Along, here_m.min(lowest.1))
        } else if here_m < lowest.1 {
            (spot, here_m)
        } else {
            lowest
        };
    }
    Stands {
        what: Low::Rails(lowest.0),
        over_ground_m: lowest.1,
        aside_m: setup.rails.spacing_m / 2.0,
    }
}

/// Ends, the kick-up's feet, and the front axle, which lies ahead of what is shown.
fn rail_stations(setup: &Setup, level: &Level) -> [Option<(RailSpot, f64)>; 5] {
    let rails = &setup.rails;
    let shown = |x_m: &f64| (rails.rear_x_m..=rails.front_x_m).contains(x_m);
    let foot = |x_m: Option<f64>| x_m.filter(shown).map(|x_m| (RailSpot::KickUp, x_m));
    let front_axle = front_axle_x_m(setup, level).filter(|x_m| *x_m > rails.front_x_m);
    [
        Some((RailSpot::Front, rails.front_x_m)),
        Some((RailSpot::Rear, rails.rear_x_m)),
        foot(rails.kick_up.map(|kick| kick.start_x_m)),
        foot(rails.kick_up.map(|kick| kick.end_x_m)),
        front_axle.map(|x_m| (RailSpot::FrontAxle, x_m)),
    ]
}

/// The lowest of what the frame carries, wherever the axle stands.
pub(super) fn lowest_of_frame_m(setup: &Setup, level: &Level) -> f64 {
    let end = |point: Point3<f64>, tube_m: f64| level.over_ground_m(point.x, point.z) - tube_m / 2.0;
    let bars = setup.bars.iter().map(|bar| end(bar.mount_in_frame, bar.tube_m));
    let arms = setup.arms.iter().map(|arm| end(arm.eye_in_frame, arm.tube_m));
    let watts = setup.watt.iter().flat_map(|watt| {
        let points = match watt.crank_on {
            Carrier::Axle => [watt.left, watt.right],
            Carrier::Frame => watt.joints(),
        };
        points.map(|point| end(point, watt.tube_m))
    });
    let springs = setup.springs.iter().map(|springs| end(springs.mount_in_frame, 0.0));
    let held = bars.chain(arms).chain(watts).chain(springs);
    held.fold(rails(setup, level).over_ground_m, f64::min)
}
