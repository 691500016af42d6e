//! Shapes of whatever moves with the axle, and where each is at a pose.
//!
//! Bars, links and shaft are capsules; arms follow their tubes; springs are cylinders from mount to mount, as thick as the coil or the bag under
//! pressure. A tyre is a cylinder with rounded shoulders: exact at its tread and its sidewalls, at the shoulder up to a tenth of its width
//! larger than one whose section is round.

use linkage::{Configuration, LinkId};
use nalgebra::{Matrix3, Point3, Vector3};

use super::shape::Round;
use super::solids::Solid;
use crate::hand::Hand;
use crate::mechanism::{Part, RearEnd};
use crate::setup::{Carrier, Setup, SpringKind};

/// What holds the ends of a piece.
#[derive(Clone, Copy, Debug)]
enum Ride {
    /// Both the axle. Axle coordinates.
    Axle([Point3<f64>; 2]),
    /// A link's two mounts.
    Link(LinkId),
    /// The crank, drawn in its carrier's coordinates.
    Crank(Carrier, [Point3<f64>; 2]),
    /// The frame, and the axle: frame and axle coordinates.
    Between(Point3<f64>, Point3<f64>),
}

/// A convex piece that moves.
#[derive(Clone, Copy, Debug)]
pub(super) struct Recipe {
    ride: Ride,
    flat_m: f64,
    round_m: f64,
}

/// Something that moves: its pieces are a run of all pieces.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mover {
    pub solid: Solid,
    pub first: usize,
    pub count: usize,
}

/// Everything that moves.
#[derive(Clone, Debug, Default)]
pub(super) struct Movers {
    pub all: Vec<Mover>,
    pub recipes: Vec<Recipe>,
}

/// A tube of three inches, for which the proportions of the centre section are common practice.
const USUAL_TUBE_M: f64 = 0.0762;

/// Thickness of the crank's plate, all round.
const CRANK_RADIUS_M: f64 = 0.02;

impl Movers {
    pub fn of(setup: &Setup, rear_end: &RearEnd) -> Self {
        let mut movers = Self {
            all: Vec::with_capacity(16),
            recipes: Vec::with_capacity(24),
        };
        movers.add_axle(setup);
        movers.add_links(setup, rear_end);
        movers.add_arms(setup, rear_end);
        movers.add_crank(setup);
        movers.add_shaft(setup);
        movers.add_springs(setup);
        movers
    }

    fn add(&mut self, solid: Solid, pieces: impl IntoIterator<Item = Recipe>) {
        let first = self.recipes.len();
        self.recipes.extend(pieces);
        let count = self.recipes.len() - first;
        if count > 0 {
            self.all.push(Mover { solid, first, count });
        }
    }

    fn add_axle(&mut self, setup: &Setup) {
        let axle = &setup.axle;
        let radius_m = axle.tube_m / 2.0;
        let half_m = (axle.flange_to_flange_m / 2.0 - radius_m).max(0.0);
        let tube = across(half_m, -half_m);
        self.add(Solid::AxleTube, [Recipe::new(Ride::Axle(tube), 0.0, radius_m)]);
        let housing = centre_section(setup);
        self.add(
            Solid::CentreSection,
            housing.map(|r| Recipe::new(Ride::Axle(r.ends), r.flat_m, r.round_m)),
        );
        let wheels = &setup.wheels;
        // A quarter of the width round at each shoulder.
        let round_m = (wheels.tyre_width_m / 4.0).min(wheels.tyre_m / 4.0);
        let flat_m = wheels.tyre_m / 2.0 - round_m;
        let half_m = wheels.tyre_width_m / 2.0 - round_m;
        for hand in Hand::BOTH {
            let middle = hand.sign() * setup.track_m() / 2.0;
            let ride = Ride::Axle(across(middle + half_m, middle - half_m));
            self.add(Solid::Tyre(hand), [Recipe::new(ride, flat_m, round_m)]);
        }
    }

    fn add_links(&mut self, setup: &Setup, rear_end: &RearEnd) {
        for (i, part) in rear_end.parts.iter().enumerate() {
            let tube_m = match part {
                Part::Bar(id, _) => setup.bar(*id).map(|b| b.tube_m),
                _ => setup.watt.as_ref().map(|w| w.tube_m),
            };
            let piece = tube_m.map(|m| Recipe::new(Ride::Link(LinkId(i)), 0.0, m / 2.0));
            self.add(Solid::Part(*part), piece);
        }
    }

    fn add_arms(&mut self, setup: &Setup, rear_end: &RearEnd) {
        for (part, joint) in rear_end.eyes.iter().zip(rear_end.mechanism.joints()) {
            let Part::Arm(id, side) = *part else { continue };
            let Some(arm) = setup.arm(id) else { continue };
            let [upper, lower] = arm.axle_mounts().map(|p| side.of(p));
            let tube = |end| Recipe::new(Ride::Axle([joint.on_platform, end]), 0.0, arm.tube_m / 2.0);
            let both = [tube(upper), tube(lower)];
            // A truck arm's two mounts are one.
            self.add(
                Solid::Part(*part),
                both.into_iter().take(if upper == lower { 1 } else { 2 }),
            );
        }
    }

    fn add_crank(&mut self, setup: &Setup) {
        let Some(watt) = &setup.watt else { return };
        let arm = |end| Recipe::new(Ride::Crank(watt.crank_on, [watt.pivot, end]), 0.0, CRANK_RADIUS_M);
        self.add(Solid::Crank, watt.joints().map(arm));
    }

    fn add_shaft(&mut self, setup: &Setup) {
        let Some(driveline) = &setup.driveline else { return };
        let from = driveline.carrier.unwrap_or(driveline.output);
        let ride = Ride::Between(from, setup.pinion_joint_in_axle());
        self.add(Solid::Shaft, [Recipe::new(ride, 0.0, driveline.tube_m / 2.0)]);
    }

    fn add_springs(&mut self, setup: &Setup) {
        let Some(springs) = &setup.springs else { return };
        let Some(lower) = springs.mount_in_axle() else { return };
        let (across_m, round_m): (f64, f64) = match &springs.kind {
            SpringKind::Coilover(coilover) => (coilover.coil_m, 0.006),
            SpringKind::Air(air) => (air.bag_m, 0.02),
        };
        let round_m = round_m.min(across_m / 4.0);
        for hand in Hand::BOTH {
            let of = |p: Point3<f64>| Point3::new(p.x, hand.sign() * p.y, p.z);
            let ride = Ride::Between(of(springs.mount_in_frame), of(lower));
            let piece = Recipe::new(ride, across_m / 2.0 - round_m, round_m);
            self.add(Solid::Spring(hand), [piece]);
        }
    }

    /// Where every piece is at a pose.
    pub fn at(&self, rear_end: &RearEnd, at: &Configuration, posed: &mut Vec<Round>) {
        let turn = at.ground_from_platform();
        posed.extend(self.recipes.iter().map(|piece| piece.at(rear_end, at, &turn)));
    }
}

fn across(left: f64, right: f64) -> [Point3<f64>; 2] {
    [Point3::new(0.0, left, 0.0), Point3::new(0.0, right, 0.0)]
}

/// The bowl with its cover, a disc about the pinion's line, and the snout out to the joint, in proportion to the tube as they are drawn. Axle
/// coordinates.
pub(crate) fn centre_section(setup: &Setup) -> [Round; 2] {
    let axle = &setup.axle;
    let scale = axle.tube_m / USUAL_TUBE_M;
    let middle = Point3::new(0.0, axle.pinion_offset_m, 0.0);
    let joint = setup.pinion_joint_in_axle();
    let (sin, cos) = axle.pinion_angle_rad.sin_cos();
    let forward = Vector3::new(cos, 0.0, sin);
    let bowl = [middle - forward * (0.12 * scale), middle + forward * (0.02 * scale)];
    [
        Round::new(bowl, 0.10 * scale, 0.03 * scale),
        Round::capsule([middle, joint - forward * (0.05 * scale)], 0.055 * scale),
    ]
}

impl Recipe {
    fn new(ride: Ride, flat_m: f64, round_m: f64) -> Self {
        Self { ride, flat_m, round_m }
    }

    fn at(&self, rear_end: &RearEnd, at: &Configuration, turn: &Matrix3<f64>) -> Round {
        let to_frame = |p: Point3<f64>| at.origin_in_ground + turn * p.coords;
        let ends = match self.ride {
            Ride::Axle(ends) => ends.map(to_frame),
            Ride::Link(id) => rear_end.mechanism.ends_in_ground(id, at),
            Ride::Between(frame, axle) => [frame, to_frame(axle)],
            Ride::Crank(carrier, ends) => ends.map(|end| {
                let crank = rear_end.mechanism.cranks().first();
                let turned = crank.map_or(end, |c| c.turned(end, at.crank_rad[0]));
                if carrier == Carrier::Axle {
                    to_frame(turned)
                } else {
                    turned
                }
            }),
        };
        let round = Round::new(ends, self.flat_m, self.round_m);
        // A spring ends flat at its mounts: what is rounded lies between them.
        match self.ride {
            Ride::Between(..) if self.flat_m > 0.0 => round.trimmed([self.round_m; 2]),
            _ => round,
        }
    }
}
