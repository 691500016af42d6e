//! The order of work, with the points where it stops until something is right.

use super::words::{NOTHING, way};
use super::{Job, Section, Tolerances};
use crate::answers::Solved;
use crate::brackets::crank_gap_m;
use crate::findings::{nose, side};
use crate::rail_line::underside_z_m;
use crate::setup::{ArmKind, BarEnd, Carrier, JointKind, Role, Setup, SpringKind};
use crate::square::{CENTRAL_M, MARKS_AHEAD_M, SQUARE_M};
use crate::tape::degrees;
use crate::travel::Row;

/// What is done in turn.
struct Order<'a> {
    job: Job<'a>,
    solved: &'a Solved,
    steps: Vec<String>,
}

pub(super) fn section(job: &Job, solved: &Solved) -> Section {
    let mut order = Order {
        job: *job,
        solved,
        steps: Vec::new(),
    };
    order.ready();
    order.set_up();
    order.hang();
    order.cycle();
    order.finish();
    Section {
        title: "Order of work".to_owned(),
        text: vec![
            "At every \"Stop\" go on only when what it says is so. Tack until the final weld: a tack can be ground off.".to_owned(),
        ],
        table: None,
        notes: Vec::new(),
        steps: order.steps,
    }
}

impl<'a> Order<'a> {
    fn step(&mut self, text: impl Into<String>) {
        self.steps.push(text.into());
    }

    fn setup(&self) -> &'a Setup {
        self.job.setup
    }

    fn length(&self, length_m: f64) -> String {
        self.job.units.length(length_m)
    }

    /// Truck and rails, before anything is tacked.
    fn ready(&mut self) {
        if self.job.fatal() > 0 {
            self.step("Stop: a finding says that this won't work. Put it right in the design first.");
        }
        self.step("Support the truck by its frame on stands, ahead of and behind where the work is. Level the rails front to back and across. Nobody lies under a truck that hangs on a jack.");
        self.step("Take off what burns: tank, lines, wiring, carpets. Disconnect the battery.");
        let ahead = self.length(MARKS_AHEAD_M);
        self.step(format!(
            "Mark the axle line on both rails and carry it across square. Mark both rails {ahead} ahead of it, on their outer lower edges."
        ));
        self.step("Stop: the diagonals between the marks on the two rails are alike, and the rails level. If not, the frame is put straight first.");
        if let Some(notch) = self.setup().rails.notch {
            let [deep, long] = [notch.depth_m, 2.0 * notch.half_length_m].map(|m| self.length(m));
            self.step("Stop: stands hold the frame on both sides of each notch before the rail is cut.");
            self.step(format!(
                "Cut the notches, {deep} deep and {long} long about the axle line, and have them plated by a qualified welder."
            ));
        }
    }

    /// The axle at ride height, before it hangs on anything.
    fn set_up(&mut self) {
        let setup = self.setup();
        let at = &self.solved.rear_end.ride.origin_in_ground;
        let centre = way(self.job.units, at.z, "above", "below");
        let block_m = underside_z_m(&setup.rails, at.x) - at.z - setup.axle.tube_m / 2.0;
        let blocks = if block_m > 0.0 {
            format!(
                " {} of block fits between the tube's top and each rail.",
                self.length(block_m)
            )
        } else {
            String::new()
        };
        let pinion = nose(self.solved.stance.pinion_rad);
        self.step(format!(
            "Set ride height: stand the axle on blocks so that its centre is {centre} the straight rails' underside, on both sides alike.{blocks}"
        ));
        self.step(format!(
            "Centre the axle between the rails, square it to the marks, set the pinion to {pinion} against the rails, and clamp it there."
        ));
        self.step(self.square_stop("Stop"));
        let spacer = self.length(setup.steel.gap_m);
        let [on_frame, on_axle] = [Carrier::Frame, Carrier::Axle].map(|carrier| self.watt_brackets(carrier));
        self.step(format!(
            "Tack the brackets on the frame by the table of its mounts, each with its bolt at the angle that \"How brackets stand\" gives and in it the joint with its spacers, or a spacer tube of {spacer}. Before it is tacked, put its bolt in and take it out again: what room its head, its nut and its way in have beside rails and tube is not reckoned here; turn the bolt round where one side has none.{on_frame}"
        ));
        let drawn = nose(setup.axle.pinion_angle_rad);
        self.step(format!(
            "Tack the brackets on the axle by the table of its mounts in the same way, the pinion standing {drawn} against level. Keep welds on the tube short and apart: heat bends it.{on_axle}"
        ));
    }

    /// What to see to with those of a Watt's linkage that a carrier has.
    fn watt_brackets(&self, carrier: Carrier) -> String {
        let setup = self.setup();
        match &setup.watt {
            Some(watt) if watt.crank_on == carrier => format!(
                " Among them is the pivot of the Watt's crank: tack it with its bolt square to the crank and {} clear between its plates.",
                self.job.units.size(crank_gap_m(&setup.steel))
            ),
            Some(_) => " Among them are those of the Watt's links: their bolts lie along the pivot's.".to_owned(),
            None => String::new(),
        }
    }

    /// What proves the axle square.
    fn square_stop(&self, stop: &str) -> String {
        let units = self.job.units;
        let tolerances = Tolerances::of(self.setup(), &self.solved.stance);
        let [cross, square, central] = [tolerances.cross_m, SQUARE_M, CENTRAL_M].map(|m| units.allowance(m));
        let stance = &self.solved.stance;
        let apart_m = stance.cross_difference_m().abs();
        let alike = if units.movement(apart_m) == units.movement(0.0) {
            "alike".to_owned()
        } else {
            format!("{} apart as designed", units.movement(apart_m))
        };
        format!(
            "{stop}: cross-measure. The diagonals are {alike} within {cross}, the axle square within {square} across the wheels and central within {central}, the pinion as said."
        )
    }

    /// Bars, arms and what holds the axle sideways.
    fn hang(&mut self) {
        let setup = self.setup();
        if !setup.bars.is_empty() || setup.watt.is_some() {
            self.step("Saw the tubes by the cut list, and make up two bars that are alike on one fixture: both are as long when one bolt goes through both eyes at either end.");
        }
        let ladder = setup.arms.iter().any(|arm| arm.kind == ArmKind::LadderBar);
        if ladder {
            self.step("Hang the axle on its ladder bars: bolts at the axle first, then the eyes on the frame.");
        } else if !setup.arms.is_empty() {
            self.step(
                "Hang the axle on its truck arms: tack or clamp them under the tube, then bolt the eyes on the frame.",
            );
        }
        if self.has(Role::Lower) {
            self.step("Hang the axle on its lower bars.");
        }
        if self.setup().bars.iter().any(|bar| bar.joined) {
            self.step("Fit the wishbone: its legs on the frame first, then the joint on the axle.");
        } else if self.has(Role::Upper) {
            self.step("Fit the upper bars, and set the pinion by their length.");
        }
        if self.has(Role::Sideways) {
            self.step("Fit the sideways bar last, at ride height, and centre the axle by its length.");
        }
        if self.setup().watt.is_some() {
            self.step("Fit the Watt's crank, then its links, at ride height; centre the axle by the links' lengths, one longer and the other shorter by as much.");
        }
        self.step("Stop: every bolt slides in by hand at ride height. A bar that has to be pulled into place is the wrong length or its bracket is in the wrong place.");
        self.step(self.square_stop("Stop"));
    }

    fn has(&self, role: Role) -> bool {
        self.setup().bars.iter().any(|bar| bar.role == role)
    }

    /// Through the travel without springs.
    fn cycle(&mut self) {
        let (setup, solved, units) = (self.setup(), self.solved, self.job.units);
        let [low, high] = [setup.travel.laid_out_m, setup.travel.full_lift_m].map(|h| units.length(h));
        let up = degrees(setup.travel.one_wheel_up_rad.abs(), 1);
        let room = units.length(setup.limits.clearance_m);
        if let Some(driveline) = &setup.driveline {
            let [slides_in, slides_out] = [driveline.slip_in_m, driveline.slip_out_m].map(|m| units.length(m));
            self.step(format!(
                "Fit the driveshaft: at ride height its splines still slide {slides_in} in and {slides_out} out."
            ));
        }
        self.step(format!(
            "Without springs, jack the axle from laid out, rails at {low}, to full lift, rails at {high}; then lift either wheel by {up} of roll at both ends and at ride height."
        ));
        self.step(format!(
            "Stop: nothing touches and nothing binds; {room} is left between whatever moves, hoses, lines and exhaust included, but for what turns in its own bracket. See the clearances."
        ));
        let shift = |row: Option<&Row>| row.map_or_else(|| NOTHING.to_owned(), |row| side(units, row.shift_m));
        let (lowest, highest) = (shift(solved.level.rows.first()), shift(solved.level.rows.last()));
        self.step(format!(
            "Stop: the axle moves as the travel table says: sideways {lowest} at the lowest, {highest} at the highest. If it does not, a mount is off."
        ));
        if let Some(crank) = &solved.crank {
            let margin = degrees(crank.margin_rad, 0);
            self.step(format!(
                "Stop: the Watt's crank turns freely and keeps {margin} away from lying in line with a link."
            ));
        }
        if setup.driveline.is_some() {
            self.step("Stop: the shaft neither bottoms nor comes out of its splines, and its joints turn freely by hand laid out and at full lift.");
        }
    }

    /// Welded, sprung and tightened.
    fn finish(&mut self) {
        let setup = self.setup();
        self.step("Take joints and bushes out of what gets hot, put bolts and spacers back in, and have the final welds done by a qualified welder, from side to side so that nothing is drawn over.");
        self.step(self.square_stop("Stop: when it has cooled, once more"));
        let springs = setup.springs.as_ref().map(|springs| match &springs.kind {
            SpringKind::Coilover(_) => {
                "Fit the coilovers, and let the truck down until it stands at ride height; set their collars alike."
            }
            SpringKind::Air(_) => {
                "Fit the air springs, fill both alike until the truck stands at ride height, and look for leaks."
            }
        });
        if let Some(springs) = springs {
            self.step(springs);
        }
        if springs.is_some_and(|_| setup.springs.as_ref().is_some_and(|s| s.bump_stop_at_m.is_some())) {
            self.step("Fit the bump stops, so that they meet the axle before a spring or the shaft comes to its end.");
        }
        let kinds: Vec<JointKind> = kinds(setup);
        if kinds.contains(&JointKind::RodEnd) {
            self.step("Tighten the jam nuts with the rod ends in the middle of their swing.");
        }
        if kinds.iter().any(|kind| *kind != JointKind::RodEnd) {
            self.step("Tighten the bolts through bushes at ride height only, the weight on the wheels: a bush tightened elsewhere is wound up for good.");
        }
        let pivot = if setup.watt.is_some() {
            " (the Watt's pivot only until its crank turns without play)"
        } else {
            ""
        };
        self.step(format!("Tighten every bolt at ride height to the torque that its maker gives{pivot} and mark it; see \"Bolts and welds\". Check all of them again after the first short drive, and at every service."));
        self.step("Stop: before it goes on the road, brake hoses and lines reach through the whole travel, the brakes are bled, and the work is inspected as local rules ask.");
    }
}

/// What the ends of bars, arms and links are.
fn kinds(setup: &Setup) -> Vec<JointKind> {
    let bars = setup
        .bars
        .iter()
        .flat_map(|bar| [bar.joint(BarEnd::Frame), bar.joint(BarEnd::Axle)].map(|j| j.kind));
    let arms = setup.arms.iter().map(|arm| arm.eye.kind);
    let links = setup.watt.iter().map(|watt| watt.ends.kind());
    bars.chain(arms).chain(links).collect()
}
