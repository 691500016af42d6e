//! What of the truck is drawn, at ride height: frame coordinates raised to stand on the ground.

use linkage::Configuration;
use nalgebra::{Point3, Vector3};
use rearend::build::mounts::{Place, places};
use rearend::mechanism::{Part, RearEnd};
use rearend::placed::Placed;
use rearend::setup::{Arm, ArmId, Bar, BarId, Carrier, Mount, Role, Setup, Side, Watt};

/// A bar, arm or link.
pub(super) struct Rod {
    /// Without its side.
    pub name: String,
    /// Its two ends, the frame's first.
    pub ends: [Point3<f64>; 2],
    /// What it is made of, a length of tube each.
    pub tubes: Vec<[Point3<f64>; 2]>,
    pub tube_m: f64,
    /// True where it holds the axle sideways.
    pub is_across: bool,
    /// True of the one of a pair that is not described.
    pub is_twin: bool,
}

/// A mount: as the tables have it, and where it stands.
pub(super) struct Peg {
    pub at: Point3<f64>,
    /// One only, on the side that it is on.
    pub place: Place,
}

/// The truck at ride height.
pub(super) struct Truck<'a> {
    pub setup: &'a Setup,
    /// The axle, raised.
    pub axle: Placed,
    pub rods: Vec<Rod>,
    pub pegs: Vec<Peg>,
    /// Pivot and both ends of a Watt's crank.
    pub crank: Option<[Point3<f64>; 3]>,
    /// Top and bottom of the left and the right spring.
    pub springs: Vec<[Point3<f64>; 2]>,
}

impl<'a> Truck<'a> {
    /// Where its bars hold it; as drawn where it is not compiled.
    pub fn of(setup: &'a Setup, rear_end: Option<&RearEnd>) -> Self {
        let at = rear_end.map_or_else(|| setup.drawn(), |r| r.ride);
        let mut axle = Placed::at(&at);
        axle.origin.z += setup.travel.ride_m;
        let mut truck = Self {
            setup,
            axle,
            rods: Vec::new(),
            pegs: Vec::new(),
            crank: None,
            springs: Vec::new(),
        };
        for part in parts(setup) {
            truck.rods.extend(truck.rod(part, rear_end, &at));
        }
        truck.crank = setup.watt.as_ref().and_then(|watt| truck.crank(watt, rear_end, &at));
        truck.add_springs();
        truck.add_pegs();
        truck
    }

    /// A point of the frame as it stands on the ground.
    pub fn raised(&self, in_frame: Point3<f64>) -> Point3<f64> {
        in_frame + Vector3::z() * self.setup.travel.ride_m
    }

    fn rod(&self, part: Part, rear_end: Option<&RearEnd>, at: &Configuration) -> Option<Rod> {
        let setup = self.setup;
        let solved = rear_end.and_then(|r| r.ends_in_frame(setup, part, at));
        let ends = match solved {
            Some(ends) => ends.map(|p| self.raised(p)),
            None => self.drawn_ends(part)?,
        };
        let (tube_m, is_across, is_twin) = match part {
            Part::Bar(id, side) => {
                let bar = setup.bar(id)?;
                (bar.tube_m, bar.role == Role::Sideways, side == Side::Mirrored)
            }
            Part::Arm(id, side) => (setup.arm(id)?.tube_m, false, side == Side::Mirrored),
            Part::WattLeft | Part::WattRight => (setup.watt.as_ref()?.tube_m, true, false),
        };
        Some(Rod {
            name: pair_name(setup, part),
            ends,
            tubes: self.tubes(part, ends),
            tube_m,
            is_across,
            is_twin,
        })
    }

    /// A ladder bar is two tubes from one eye.
    fn tubes(&self, part: Part, ends: [Point3<f64>; 2]) -> Vec<[Point3<f64>; 2]> {
        let Part::Arm(id, side) = part else { return vec![ends] };
        let mounts = self.setup.arm(id).map(Arm::axle_mounts).unwrap_or_default();
        if (mounts[0] - mounts[1]).norm() < 1e-6 {
            return vec![ends];
        }
        mounts.map(|m| [ends[0], self.axle.to_frame(side.of(m))]).into()
    }

    fn drawn_ends(&self, part: Part) -> Option<[Point3<f64>; 2]> {
        use rearend::setup::BarEnd::{Axle, Frame};
        let mounts = match part {
            Part::Bar(bar, side) => [Frame, Axle].map(|end| Mount::Bar { bar, end, side }),
            Part::Arm(arm, side) => [Frame, Axle].map(|end| Mount::Arm { arm, end, side }),
            Part::WattLeft => [Mount::WattLeft, Mount::WattLeftArm],
            Part::WattRight => [Mount::WattRight, Mount::WattRightArm],
        };
        let place = |mount| {
            let mount = self.setup.mount(mount)?;
            Some(self.carried(mount.carrier, mount.point))
        };
        Some([place(mounts[0])?, place(mounts[1])?])
    }

    fn carried(&self, on: Carrier, point: Point3<f64>) -> Point3<f64> {
        match on {
            Carrier::Frame => self.raised(point),
            Carrier::Axle => self.axle.to_frame(point),
        }
    }

    fn crank(&self, watt: &Watt, rear_end: Option<&RearEnd>, at: &Configuration) -> Option<[Point3<f64>; 3]> {
        let pivot = self.carried(watt.crank_on, watt.pivot);
        let end = |part| {
            let solved = rear_end.and_then(|r| r.ends_in_frame(self.setup, part, at));
            let raised = solved.map(|ends| self.raised(ends[1]));
            raised.or_else(|| self.drawn_ends(part).map(|ends| ends[1]))
        };
        Some([pivot, end(Part::WattLeft)?, end(Part::WattRight)?])
    }

    fn add_springs(&mut self) {
        let Some(springs) = &self.setup.springs else { return };
        let Some(bottom) = springs.mount_in_axle() else { return };
        for side in [Side::Drawn, Side::Mirrored] {
            let top = self.raised(side.of(springs.mount_in_frame));
            self.springs.push([top, self.axle.to_frame(side.of(bottom))]);
        }
    }

    /// Both of a pair.
    fn add_pegs(&mut self) {
        for place in places(self.setup) {
            for side in [Side::Drawn, Side::Mirrored].into_iter().take(place.count()) {
                let at = side.of(place.at);
                self.pegs.push(Peg {
                    at: self.carried(place.carrier, at),
                    place: Place {
                        at,
                        both_sides: false,
                        ..place.clone()
                    },
                });
            }
        }
    }
}

/// What a part is called, whichever side it is on.
fn pair_name(setup: &Setup, part: Part) -> String {
    match part {
        Part::Bar(id, _) => setup.bar(id).map(|b| b.name.clone()),
        Part::Arm(id, _) => setup.arm(id).map(|a| a.name.clone()),
        Part::WattLeft | Part::WattRight => None,
    }
    .unwrap_or_else(|| part.name(setup))
}

/// Every part, in the order of the setup.
fn parts(setup: &Setup) -> Vec<Part> {
    let sides = |count: usize| [Side::Drawn, Side::Mirrored].into_iter().take(count);
    let bars = setup.bars.iter().map(Bar::count).enumerate();
    let arms = setup.arms.iter().map(Arm::count).enumerate();
    let mut all: Vec<_> = bars
        .flat_map(|(i, count)| sides(count).map(move |side| Part::Bar(BarId(i), side)))
        .collect();
    all.extend(arms.flat_map(|(i, count)| sides(count).map(move |side| Part::Arm(ArmId(i), side))));
    if setup.watt.is_some() {
        all.extend([Part::WattLeft, Part::WattRight]);
    }
    all
}
