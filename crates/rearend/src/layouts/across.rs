//! What runs across a truck, and its arms.

use nalgebra::Point3;

use super::Layout;
use super::metal;
use super::truck::{ARM_TUBE_M, ARM_UNDER_M, FALL_M, LONG_M, STEEP, Truck};
use crate::rail_line::underside_z_m;
use crate::setup::{Arm, ArmKind, Bar, Carrier, Ends, Joint, JointKind, Length, Role, Stance, Watt};

/// 1 1/4 in, as a panhard bar has it: with the usual wall its bore takes the insert of a 3/4 in rod end. Common practice.
const LINK_TUBE_M: f64 = 0.0318;
/// 3/16 in, as the bars have it.
const LINK_WALL_M: f64 = 0.0048;

impl Truck<'_> {
    pub(super) fn bar_across(&self, layout: Layout) -> Option<Bar> {
        use Layout as L;
        // Level at half travel: the axle is at the same place laid out and fully lifted.
        let level = |name: &str, frame: [f64; 2], axle: [f64; 2], z: f64| {
            let frame_end = Point3::new(frame[0], frame[1], self.half_z_m + z);
            let axle_end = Point3::new(axle[0], axle[1], z);
            let mut bar = Bar::new(name, Role::Sideways, frame_end, axle_end);
            bar.tube_m = 0.0318;
            bar
        };
        // Under the rail's inner edge, or beside the rail where that is too low.
        let edge = self.inner_m - 0.015;
        let past = self.past_coilover_m();
        let beside = self.beside_coils_m();
        let rail_m = underside_z_m(&self.setup.rails, self.behind_m());
        match layout {
            L::ParallelPanhard | L::ThreeLinkPanhard | L::ThreeLinkOffset | L::TruckArmsPanhard | L::LadderPanhard => {
                let z = 0.03;
                let axle_m = if layout == L::TruckArmsPanhard {
                    beside.min(self.truck_arm_m() - ARM_TUBE_M / 2.0 - self.reach.edge_m - self.reach.half_m)
                } else {
                    beside
                };
                let is_under = rail_m - self.half_z_m - z > self.reach.edge_m + 0.005;
                let side = if is_under { edge } else { self.inside_m };
                Some(level(
                    "panhard bar",
                    [self.behind_m(), side],
                    [self.behind_m(), -axle_m],
                    z,
                ))
            }
            L::ParallelDiagonal | L::LadderDiagonal => {
                // Arms turn the axle about their eyes, and this bar's lower end with it: the more it runs across, the less that shifts.
                let usual_m = if layout == L::LadderDiagonal { 0.4 } else { 0.5 };
                let frame = [self.off_climb_m(usual_m), self.aslant_m];
                let under_m = (1.7 * self.setup.axle.tube_m).max(0.13);
                Some(level("diagonal bar", frame, [0.06, -edge.max(past)], -under_m))
            }
            _ => None,
        }
    }

    /// A station for a bracket that stands aslant on a rail: ahead of a climb that is too steep for it.
    pub(super) fn off_climb_m(&self, usual_m: f64) -> f64 {
        const STEP_M: f64 = 0.01;
        let under = |x_m: f64| underside_z_m(&self.setup.rails, x_m);
        let slope = (under(usual_m - STEP_M) - under(usual_m + STEP_M)) / (2.0 * STEP_M);
        if slope.abs() < STEEP { usual_m } else { LONG_M }
    }

    pub(super) fn arm(&self, layout: Layout) -> Option<Arm> {
        use Layout as L;
        let arm = |name: &str, kind, eye: [f64; 2], axle: [f64; 2], tube_m| Arm {
            name: name.to_owned(),
            kind,
            eye_in_frame: Point3::new(eye[0], eye[1], self.axle_z_m + axle[1] - FALL_M),
            mount_in_axle: Point3::new(0.0, axle[0], axle[1]),
            mirrored: true,
            tube_m,
            spread_m: 0.2,
            eye: Joint::of(JointKind::Rubber),
            frame_holes: None,
            axle_holes: None,
            frame_locked: false,
            axle_locked: false,
        };
        match layout {
            L::TruckArmsPanhard => {
                let eye_m = self.eye().aslant(&self.setup.rails, &self.reach);
                let axle = [self.truck_arm_m(), -ARM_UNDER_M];
                let mut arm = arm("truck arm", ArmKind::TruckArm, [eye_m.x, eye_m.y], axle, ARM_TUBE_M);
                arm.eye_in_frame = eye_m;
                Some(arm)
            }
            L::LadderPanhard | L::LadderDiagonal | L::LadderWatt => Some(arm(
                "ladder bar",
                ArmKind::LadderBar,
                [0.78, self.swung_m],
                [self.swung_m, 0.0],
                0.0381,
            )),
            _ => None,
        }
    }

    pub(super) fn watt(&self, layout: Layout) -> Option<Watt> {
        use Layout as L;
        let crank_on = match layout {
            L::ParallelWatt | L::ThreeLinkWatt | L::LadderWatt => Carrier::Axle,
            L::ParallelWattOnFrame => Carrier::Frame,
            _ => return None,
        };
        // Its links' brackets on the axle pass to either side of a coilover's, above and below the tube.
        let straddles = self.coilover_y_m().filter(|_| crank_on == Carrier::Frame);
        let half_crank_m = straddles.map_or(0.075, |_| (self.setup.axle.tube_m + 0.008).max(0.075));
        let usual_m = if straddles.is_some() { 0.0 } else { 0.02 };
        // A pivot on the frame stands beside its crossmember, under it or over it.
        let z = match crank_on {
            Carrier::Axle => usual_m,
            Carrier::Frame => {
                let wanted_m = self.half_z_m + usual_m;
                metal::off_level_m(&self.setup.rails, self.behind_m(), wanted_m, &self.reach) - self.half_z_m
            }
        };
        let x = match crank_on {
            Carrier::Axle => self.crank_behind_m(),
            Carrier::Frame => self.behind_m(),
        };
        let lift = |on: Carrier, z: f64| if on == Carrier::Frame { self.half_z_m + z } else { z };
        let links_to = if crank_on == Carrier::Axle {
            Carrier::Frame
        } else {
            Carrier::Axle
        };
        let end = |y: f64, z: f64| Point3::new(x, y, lift(links_to, z));
        let reach = straddles.unwrap_or(self.inside_m);
        Some(Watt {
            crank_on,
            stance: Stance::Upright,
            axis: None,
            pivot: Point3::new(x, 0.0, lift(crank_on, z)),
            half_crank_m,
            right_half_crank_m: None,
            left: end(reach, z + half_crank_m),
            right: end(-reach, z - half_crank_m),
            tube_m: LINK_TUBE_M,
            wall_m: LINK_WALL_M,
            ends: Ends::RodEnds,
            left_length: Length::CutToSuit,
            right_length: Length::CutToSuit,
            left_holes: None,
            right_holes: None,
            left_locked: false,
            right_locked: false,
        })
    }
}
