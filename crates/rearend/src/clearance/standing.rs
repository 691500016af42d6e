//! Brackets as something to run into: their plates as they will be cut, each as the hull of its outline.
//!
//! What rides on the same carrier is looked at where brackets are drawn (`brackets::runs_into`); here they meet what moves against them.

use linkage::Configuration;
use nalgebra::{Matrix3, Point3};

use super::pairs::OWN_MOUNT_M;
use super::shape::{Bounds, Hull, Piece, Round, with_box};
use super::solids::Solid;
use crate::brackets::{self, Bracket, Plate};
use crate::hand::Hand;
use crate::mechanism::RearEnd;
use crate::setup::{Carrier, Mount, Setup};
use crate::tape::Units;

/// A bracket on one side of the truck.
#[derive(Clone, Debug)]
pub(super) struct Standing {
    pub solid: Solid,
    pub carrier: Carrier,
    /// The mounts it holds, carrier coordinates: what ends there turns in it.
    holds: Vec<Point3<f64>>,
    /// Its plates, carrier coordinates.
    plates: Vec<Hull>,
}

/// Where the axle is: axle to frame coordinates.
#[derive(Clone, Copy, Debug)]
pub(super) struct AxleAt {
    turn: Matrix3<f64>,
    origin: Point3<f64>,
}

impl AxleAt {
    pub fn of(at: &Configuration) -> Self {
        Self {
            turn: at.ground_from_platform(),
            origin: at.origin_in_ground,
        }
    }

    fn to_frame(self, p: Point3<f64>) -> Point3<f64> {
        self.origin + self.turn * p.coords
    }

    fn to_axle(self, p: Point3<f64>) -> Point3<f64> {
        Point3::from(self.turn.transpose() * (p - self.origin))
    }
}

/// Every bracket that can be drawn; the crank moves, and is none.
pub(super) fn standing(setup: &Setup, rear_end: &RearEnd) -> Vec<Standing> {
    let drawn = brackets::of_compiled(setup, rear_end, Units::Millimetres);
    let drawn = drawn.into_iter().flatten();
    drawn.flat_map(|bracket| sides(setup, &bracket)).collect()
}

impl Bracket {
    /// What one of its plates is where it stands, by the stand's place: that of its own side of the truck. A pad that carries both sides is the
    /// first one's. None for a crank, which is no bracket.
    #[must_use]
    pub fn solid(&self, plate: &Plate, stand: usize) -> Option<Solid> {
        let carrier = plate.stands.get(stand)?.carrier;
        // Those of the other side come last.
        let side = usize::from(stand >= plate.stands.len().div_ceil(2));
        match self.mounts[..] {
            [] => Some(Solid::SpringBracket(carrier, Hand::BOTH[side])),
            [Mount::WattLeftArm, ..] => None,
            [mount] => Some(Solid::Bracket(mount)),
            [..] => self.mounts.get(side).copied().map(Solid::Bracket),
        }
    }
}

/// What it is on either side of the truck, or in the middle.
fn sides(setup: &Setup, bracket: &Bracket) -> Vec<Standing> {
    let mut sides: Vec<Standing> = Vec::with_capacity(2);
    for plate in &bracket.plates {
        // A pad in the middle carries both, and is looked at as the first one's.
        let is_shared = bracket.mounts.len() == 2 && plate.stands.len() % 2 == 1;
        for (i, stand) in plate.stands.iter().enumerate() {
            let Some(solid) = bracket.solid(plate, i) else { continue };
            let at = sides.iter().position(|s| s.solid == solid).unwrap_or_else(|| {
                sides.push(Standing {
                    solid,
                    carrier: stand.carrier,
                    holds: held(setup, bracket, |mount| solid == Solid::Bracket(mount)),
                    plates: Vec::new(),
                });
                sides.len() - 1
            });
            sides[at].plates.push(Hull::new(plate.solid_corners(stand)));
            if is_shared {
                sides[at].holds = held(setup, bracket, |_| true);
            }
        }
    }
    sides
}

fn held(setup: &Setup, bracket: &Bracket, is_held: impl Fn(Mount) -> bool) -> Vec<Point3<f64>> {
    let mounts = bracket.mounts.iter().filter(|mount| is_held(**mount));
    mounts
        .filter_map(|mount| setup.mount(*mount))
        .map(|at| at.point)
        .collect()
}

impl Standing {
    /// Its plates, frame coordinates.
    pub fn at(&self, axle: &AxleAt) -> impl Iterator<Item = (Piece, Bounds)> {
        let plates = self.plates.iter().map(move |plate| {
            Piece::Hull(match self.carrier {
                Carrier::Frame => plate.clone(),
                Carrier::Axle => plate.moved(|p| axle.to_frame(p)),
            })
        });
        plates.map(with_box)
    }

    /// How far any point of it moves from one pose of the axle to another.
    pub fn moved_m(&self, from: &AxleAt, to: &AxleAt) -> f64 {
        if self.carrier == Carrier::Frame {
            return 0.0;
        }
        let points = self.plates.iter().flat_map(|plate| &plate.points);
        let moved = points.map(|p| (from.to_frame(*p) - to.to_frame(*p)).norm());
        moved.fold(0.0, f64::max)
    }

    /// True where something that moves is held by it: `pieces` are that at a pose, frame coordinates.
    pub fn holds(&self, solid: Solid, pieces: &[Round], axle: &AxleAt) -> bool {
        let ends = pieces.iter().flat_map(|piece| piece.ends);
        match (self.solid, solid) {
            (Solid::Bracket(Mount::WattPivot), Solid::Crank) => true,
            // Its links swing past its plates, however short its arms are.
            (Solid::Bracket(Mount::WattPivot), _) => false,
            (Solid::SpringBracket(_, own), Solid::Spring(hand)) => own == hand,
            (_, Solid::Part(_)) => ends.map(|p| self.seen(p, axle)).any(|end| {
                let near = |held: &Point3<f64>| (end - held).norm() < OWN_MOUNT_M;
                self.holds.iter().any(near)
            }),
            _ => false,
        }
    }

    fn seen(&self, p: Point3<f64>, axle: &AxleAt) -> Point3<f64> {
        match self.carrier {
            Carrier::Frame => p,
            Carrier::Axle => axle.to_axle(p),
        }
    }
}
