//! Ways to hang an axle, proposed for a truck: mounts that solve, with common-practice proportions, to be dragged from there.

mod metal;
mod settle;

use metal::{Reach, Wanted};
use nalgebra::Point3;

use crate::rail_line::{crossmember_m, top_z_m, underside_z_m};
use crate::setup::{
    Arm, ArmKind, Bar, Carrier, Ends, Joint, JointKind, Length, Placement, Role, Setup, SpringKind, Stance, Watt,
};

/// A way to hang an axle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Layout {
    /// Four bars front to back and a panhard bar.
    ParallelPanhard,
    /// Four bars front to back and a Watt's linkage on the axle.
    ParallelWatt,
    /// Four bars front to back and a Watt's linkage whose crank is on the frame.
    ParallelWattOnFrame,
    /// Four bars front to back and a bar from one rail ahead to the other side of the axle.
    ParallelDiagonal,
    /// Upper bars angled in plan.
    UppersTriangulated,
    /// Lower bars angled in plan.
    LowersTriangulated,
    /// Both pairs angled in plan.
    BothTriangulated,
    /// One upper bar in the middle, and a panhard bar.
    ThreeLinkPanhard,
    /// One upper bar beside the middle, and a panhard bar.
    ThreeLinkOffset,
    /// One upper bar in the middle, and a Watt's linkage.
    ThreeLinkWatt,
    /// A wishbone above two lower bars.
    Wishbone,
    /// Two truck arms and a panhard bar.
    TruckArmsPanhard,
    /// Two ladder bars and a panhard bar.
    LadderPanhard,
    /// Two ladder bars and a diagonal bar.
    LadderDiagonal,
    /// Two ladder bars and a Watt's linkage.
    LadderWatt,
}

impl Layout {
    /// All of them, in the order of a list.
    pub const ALL: [Self; 15] = [
        Self::ParallelPanhard,
        Self::ParallelWatt,
        Self::ParallelWattOnFrame,
        Self::ParallelDiagonal,
        Self::UppersTriangulated,
        Self::LowersTriangulated,
        Self::BothTriangulated,
        Self::ThreeLinkPanhard,
        Self::ThreeLinkOffset,
        Self::ThreeLinkWatt,
        Self::Wishbone,
        Self::TruckArmsPanhard,
        Self::LadderPanhard,
        Self::LadderDiagonal,
        Self::LadderWatt,
    ];

    /// What a list calls it.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::ParallelPanhard => "Parallel four-link, panhard bar",
            Self::ParallelWatt => "Parallel four-link, Watt's linkage on the axle",
            Self::ParallelWattOnFrame => "Parallel four-link, Watt's linkage on the frame",
            Self::ParallelDiagonal => "Parallel four-link, diagonal bar",
            Self::UppersTriangulated => "Four-link, upper bars triangulated",
            Self::LowersTriangulated => "Four-link, lower bars triangulated",
            Self::BothTriangulated => "Four-link, both pairs triangulated",
            Self::ThreeLinkPanhard => "Three-link, panhard bar",
            Self::ThreeLinkOffset => "Three-link with offset upper bar, panhard bar",
            Self::ThreeLinkWatt => "Three-link, Watt's linkage",
            Self::Wishbone => "Wishbone over two lower bars",
            Self::TruckArmsPanhard => "Truck arms, panhard bar",
            Self::LadderPanhard => "Ladder bars, panhard bar",
            Self::LadderDiagonal => "Ladder bars, diagonal bar",
            Self::LadderWatt => "Ladder bars, Watt's linkage",
        }
    }

    /// True where bars stand aslant or beside the middle, and a rail's curve or a crossmember may be in the way of their brackets.
    fn is_aslant(self) -> bool {
        use Layout as L;
        matches!(
            self,
            L::ParallelDiagonal
                | L::UppersTriangulated
                | L::LowersTriangulated
                | L::BothTriangulated
                | L::ThreeLinkOffset
                | L::Wishbone
                | L::LadderDiagonal
        )
    }

    /// The truck of a setup, hung this way: everything else about it stays, but that a crossmember is added where a mount in the middle
    /// of the truck would have none to stand on.
    #[must_use]
    pub fn hang(self, setup: &Setup) -> Setup {
        let mut hung = setup.clone();
        hung.rails
            .crossmembers_x_m
            .extend(Truck::of(setup).wants_crossmember_at(self));
        let truck = Truck::of(&hung);
        let bars = truck
            .long_bars(self)
            .into_iter()
            .chain(truck.bar_across(self))
            .collect();
        let (arms, watt) = (truck.arm(self).into_iter().collect(), truck.watt(self));
        hung.placement = Placement::default();
        (hung.bars, hung.arms, hung.watt) = (bars, arms, watt);
        if self.is_aslant() { settle::settled(hung) } else { hung }
    }
}

/// What the proportions hang on.
struct Truck<'a> {
    setup: &'a Setup,
    reach: Reach,
    /// Axle centre at ride height and at half travel, frame coordinates.
    axle_z_m: f64,
    half_z_m: f64,
    /// The rails' inner sides; inside and outside of the rails with room for a bracket, and inside for one that stands there aslant.
    inner_m: f64,
    inside_m: f64,
    aslant_m: f64,
    outside_m: f64,
}

/// Two feet: long enough to keep arcs flat, short enough to end ahead of most kick-ups.
const LONG_M: f64 = 0.62;
/// A single upper bar: shorter, to end behind the crossmember that most trucks have under the cab.
const SINGLE_M: f64 = 0.52;
/// A bar shorter than this turns the pinion more than most shafts take.
const SHORT_M: f64 = 0.34;
/// How high it stands over the axle at least, and its tube.
const OVER_M: f64 = 0.16;
const SINGLE_TUBE_M: f64 = 0.0445;
/// A truck arm's eye, how far it is clamped under the axle's middle, and its tube.
const ARM_M: f64 = 1.2;
const ARM_UNDER_M: f64 = 0.075;
const ARM_TUBE_M: f64 = 0.075;
/// Half the width of a centre section over the tube's diameter: as it is drawn, common practice.
const LUMP_IN_TUBES: f64 = 0.13 / 0.0762;
/// A little below its joint on the axle at ride height, where a bar pushes forward as the axle rises.
const FALL_M: f64 = 0.009;
/// Half a right angle less a third: a bracket whose bolt lies aslant fits no steeper rail.
const STEEP: f64 = 1.1;
/// Behind the axle tube, clear of the cover.
/// 1 1/4 in, as a panhard bar has it: with the usual wall its bore takes the insert of a 3/4 in rod end. Common practice.
const LINK_TUBE_M: f64 = 0.0318;
/// 3/16 in, as the bars have it.
const LINK_WALL_M: f64 = 0.0048;
const BEHIND_M: f64 = 0.225;
/// The cover behind the tube's axis over the tube's diameter, as it is drawn, and what clears it.
const COVER_IN_TUBES: f64 = 0.15 / 0.0762;
const COVER_ROOM_M: f64 = 0.045;

/// What a single upper bar beside the middle hangs on.
enum Offset {
    AtRail(Wanted),
    OnCrossmember(Wanted),
}

impl<'a> Truck<'a> {
    fn of(setup: &'a Setup) -> Self {
        let half_rails_m = setup.rails.spacing_m / 2.0;
        let inner_m = half_rails_m - setup.rails.flange_m;
        let reach = Reach::of(&setup.steel);
        Self {
            setup,
            reach,
            axle_z_m: setup.axle_z_m(setup.travel.ride_m),
            half_z_m: setup.axle_z_m(setup.travel.half_m()),
            inside_m: (inner_m - reach.straight_m).max(0.15),
            inner_m,
            aslant_m: (inner_m - reach.aslant_m).max(0.15),
            outside_m: half_rails_m + reach.half_m + 0.0274,
        }
    }

    /// A crossmember that the truck lacks for a layout's mounts in the middle.
    fn wants_crossmember_at(&self, layout: Layout) -> Option<f64> {
        use Layout as L;
        let rails = &self.setup.rails;
        match layout {
            L::ThreeLinkPanhard | L::ThreeLinkWatt => self.single().lacks(rails, &self.reach),
            L::ThreeLinkOffset => match self.offset() {
                Offset::OnCrossmember(wanted) => wanted.lacks(rails, &self.reach),
                Offset::AtRail(_) => None,
            },
            L::TruckArmsPanhard => self.eye().lacks_aslant(rails, &self.reach),
            L::ParallelWattOnFrame => metal::lacks_beside(rails, self.behind_m(), &self.reach),
            _ => None,
        }
    }

    /// The station of what runs across behind the axle.
    fn behind_m(&self) -> f64 {
        -(COVER_IN_TUBES * self.setup.axle.tube_m + COVER_ROOM_M).max(BEHIND_M)
    }

    /// The middle of a bolt along the axle tube is at least so far above or below the tube's axis.
    fn off_tube_m(&self, usual_m: f64) -> f64 {
        usual_m.max(self.setup.axle.tube_m / 2.0 + self.reach.edge_m + 0.005)
    }

    /// A bar from a frame mount at (x, y) to an axle mount at (0, y), its frame end lower by the usual fall.
    fn bar(&self, name: &str, role: Role, frame: [f64; 2], axle: [f64; 2]) -> Bar {
        let ([x, y], [axle_y, z]) = (frame, axle);
        Bar::new(
            name,
            role,
            Point3::new(x, y, self.axle_z_m + z - FALL_M),
            Point3::new(0.0, axle_y, z),
        )
    }

    /// How high a joint stands over the axle whose bracket passes over the centre section.
    fn over_m(&self) -> f64 {
        let bridge_m = LUMP_IN_TUBES * self.setup.axle.tube_m + self.reach.bridge_m;
        OVER_M.max(bridge_m)
    }

    /// A single upper bar in the middle, on a crossmember.
    fn single(&self) -> Wanted {
        let over_m = self.over_m();
        let travel = &self.setup.travel;
        let heights_m = [travel.laid_out_m, travel.ride_m, travel.full_lift_m];
        Wanted {
            at: Point3::new(SINGLE_M, 0.0, self.axle_z_m + over_m - FALL_M),
            least_x_m: SHORT_M,
            bar_radius_m: SINGLE_TUBE_M / 2.0,
            axle_z_m: heights_m.map(|height_m| self.setup.axle_z_m(height_m) + over_m),
        }
    }

    /// A truck arm's eye, on a crossmember.
    fn eye(&self) -> Wanted {
        let z_m = self.axle_z_m - ARM_UNDER_M - FALL_M;
        Wanted {
            at: Point3::new(ARM_M, 0.14, z_m),
            least_x_m: 0.8,
            bar_radius_m: ARM_TUBE_M / 2.0,
            axle_z_m: [z_m; 3],
        }
    }

    /// Where a single upper bar beside the middle stands: away from the pinion, and on bare tube beside the centre section, at a rail
    /// ahead, unless bags over the axle leave no room there.
    fn offset(&self) -> Offset {
        let setup = self.setup;
        let away = if setup.axle.pinion_offset_m < 0.0 { 1.0 } else { -1.0 };
        let lump_m = LUMP_IN_TUBES * setup.axle.tube_m + self.reach.half_m + 0.012;
        let y_m = lump_m.max(self.at_rail_m());
        let springs = setup.springs.as_ref();
        let bag_m = springs.and_then(|springs| match &springs.kind {
            SpringKind::Air(air) => Some(springs.mount_in_frame.y.abs() - air.bag_m / 2.0),
            SpringKind::Coilover(_) => None,
        });
        let is_free = bag_m.is_none_or(|bag_m| y_m + SINGLE_TUBE_M / 2.0 + 0.013 < bag_m);
        let mut wanted = self.single();
        wanted.at.y = if is_free {
            away * y_m
        } else {
            // Short of the bend, on whose inner side the next run begins before it.
            let bend_m = 0.75 * crossmember_m(&setup.rails, wanted.at.x).1;
            let flat_m = setup
                .rails
                .hoop
                .map_or(0.12, |hoop| hoop.half_width_m - self.reach.half_m - bend_m);
            away * flat_m.clamp(0.03, 0.12)
        };
        if is_free {
            Offset::AtRail(wanted)
        } else {
            Offset::OnCrossmember(wanted)
        }
    }

    /// As near to the middle as a bracket that a rail carries reaches.
    fn at_rail_m(&self) -> f64 {
        self.setup.rails.spacing_m / 4.0 + 0.001
    }

    /// How far under the axle's middle the lower of two bars beside a rail ends, so that the upper one's bracket, down to the rail's top, stays
    /// above it.
    fn under_upper_m(&self, usual_m: f64) -> f64 {
        let top_m = top_z_m(&self.setup.rails, LONG_M);
        let most_m = top_m - self.reach.edge_m - self.reach.plate_m - 0.004;
        usual_m.max(self.axle_z_m - FALL_M - most_m)
    }

    /// A station for a bracket inside the rails: no crossmember in its way, and its pad between the rail's flanges.
    fn beside_crossmembers_m(&self, y_m: f64, over_axle_m: f64) -> f64 {
        let rails = &self.setup.rails;
        let z_m = self.axle_z_m + over_axle_m - FALL_M;
        let pad_m = z_m - self.reach.over_m + 2.0 * self.reach.plate_m;
        let low_m = |x_m: f64| underside_z_m(rails, x_m) + rails.wall_m;
        let is_on_flange = (low_m(LONG_M + 0.05) - 0.02..low_m(LONG_M - 0.1) + 0.01).contains(&pad_m);
        let ahead_m = rails
            .kick_up
            .map_or(LONG_M, |kick| (kick.start_x_m + 0.08).clamp(LONG_M, 0.88));
        let x_m = if is_on_flange { ahead_m } else { LONG_M };
        metal::off_crossmembers_m(rails, &self.reach, Point3::new(x_m, y_m, z_m))
    }

    /// How far from the middle a bracket beside the left coilover's on the axle stands, outside of it; 0 where there is none.
    fn past_coilover_m(&self) -> f64 {
        self.coilover_y_m().map_or(0.0, |y_m| y_m + 3.0 * self.reach.half_m)
    }

    fn coilover_y_m(&self) -> Option<f64> {
        let springs = self.setup.springs.as_ref()?;
        matches!(springs.kind, SpringKind::Coilover(_)).then_some(())?;
        Some(springs.mount_in_axle()?.y.abs())
    }

    fn long_bars(&self, layout: Layout) -> Vec<Bar> {
        use Layout as L;
        let out = self.outside_m;
        let pair = |name: &str, role, frame, axle| self.bar(name, role, frame, axle).on_both_sides();
        let (low, high) = (-self.under_upper_m(self.off_tube_m(0.085)), self.off_tube_m(0.08));
        let lower = || pair("lower bar", Role::Lower, [LONG_M, out], [out, low]);
        let upper = || pair("upper bar", Role::Upper, [LONG_M, out], [out, high]);
        // Inside the rails ahead, beside the centre section behind.
        let over_m = self.over_m();
        let angled_upper = || {
            let frame = [self.beside_crossmembers_m(self.aslant_m, over_m), self.aslant_m];
            pair("upper bar", Role::Upper, frame, [0.1, over_m])
        };
        let under_m = -(self.setup.axle.tube_m / 2.0 + self.reach.over_m).max(0.085);
        let angled_lower = || {
            let frame = [self.beside_crossmembers_m(self.at_rail_m(), under_m), self.at_rail_m()];
            pair("lower bar", Role::Lower, frame, [out, under_m])
        };
        let on_crossmember = |wanted: &Wanted| {
            let at = wanted.on(&self.setup.rails, &self.reach).unwrap_or(wanted.at);
            self.bar("upper bar", Role::Upper, [at.x, at.y], [at.y, self.over_m()])
        };
        let offset = || match self.offset() {
            Offset::OnCrossmember(wanted) => on_crossmember(&wanted),
            Offset::AtRail(wanted) if wanted.on(&self.setup.rails, &self.reach).is_some() => on_crossmember(&wanted),
            Offset::AtRail(wanted) => {
                let y = wanted.at.y;
                let [x, over_m] = wanted.past(&self.setup.rails, &self.reach, self.axle_z_m - FALL_M, self.over_m());
                self.bar("upper bar", Role::Upper, [x, y], [y, over_m])
            }
        };
        let bushed = |mut bar: Bar| {
            bar.ends = Ends::Bushes;
            bar
        };
        match layout {
            L::ParallelPanhard | L::ParallelWatt | L::ParallelWattOnFrame | L::ParallelDiagonal => {
                vec![bushed(lower()), bushed(upper())]
            }
            L::UppersTriangulated => vec![lower(), angled_upper()],
            L::LowersTriangulated => vec![angled_lower(), upper()],
            L::BothTriangulated => vec![angled_lower(), angled_upper()],
            L::ThreeLinkPanhard | L::ThreeLinkWatt => vec![lower(), on_crossmember(&self.single())],
            L::ThreeLinkOffset => vec![lower(), offset()],
            L::Wishbone => {
                let frame = [self.beside_crossmembers_m(self.aslant_m, over_m), self.aslant_m];
                let mut wishbone = pair("wishbone", Role::Upper, frame, [0.0, over_m]);
                wishbone.joined = true;
                vec![lower(), wishbone]
            }
            L::TruckArmsPanhard | L::LadderPanhard | L::LadderDiagonal | L::LadderWatt => Vec::new(),
        }
    }

    fn bar_across(&self, layout: Layout) -> Option<Bar> {
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
        let rail_m = underside_z_m(&self.setup.rails, self.behind_m());
        match layout {
            L::ParallelPanhard | L::ThreeLinkPanhard | L::ThreeLinkOffset | L::TruckArmsPanhard | L::LadderPanhard => {
                // Past a coilover's bracket, low enough to pass under the rail laid out.
                let z = if past > edge - 0.01 { -0.09 } else { 0.03 };
                let is_under = rail_m - self.half_z_m - z > self.reach.edge_m + 0.005;
                let side = if is_under { edge } else { self.inside_m };
                Some(level(
                    "panhard bar",
                    [self.behind_m(), side],
                    [self.behind_m(), -side.max(past)],
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
    fn off_climb_m(&self, usual_m: f64) -> f64 {
        const STEP_M: f64 = 0.01;
        let under = |x_m: f64| underside_z_m(&self.setup.rails, x_m);
        let slope = (under(usual_m - STEP_M) - under(usual_m + STEP_M)) / (2.0 * STEP_M);
        if slope.abs() < STEEP { usual_m } else { LONG_M }
    }

    fn arm(&self, layout: Layout) -> Option<Arm> {
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
                let axle = [self.inside_m, -ARM_UNDER_M];
                let mut arm = arm("truck arm", ArmKind::TruckArm, [eye_m.x, eye_m.y], axle, ARM_TUBE_M);
                arm.eye_in_frame = eye_m;
                Some(arm)
            }
            L::LadderPanhard | L::LadderDiagonal | L::LadderWatt => Some(arm(
                "ladder bar",
                ArmKind::LadderBar,
                [0.78, self.outside_m],
                [self.outside_m, 0.0],
                0.0381,
            )),
            _ => None,
        }
    }

    fn watt(&self, layout: Layout) -> Option<Watt> {
        use Layout as L;
        let crank_on = match layout {
            L::ParallelWatt | L::ThreeLinkWatt | L::LadderWatt => Carrier::Axle,
            L::ParallelWattOnFrame => Carrier::Frame,
            _ => return None,
        };
        // Its links' brackets on the axle pass to either side of a coilover's, above and below the tube.
        let straddles = self.coilover_y_m().filter(|_| crank_on == Carrier::Frame);
        let half_crank_m = straddles.map_or(0.075, |_| (self.setup.axle.tube_m + 0.008).max(0.075));
        let usual_m = if straddles.is_some() { 0.0 } else { 0.04 };
        // A pivot on the frame stands beside its crossmember, under it or over it.
        let z = match crank_on {
            Carrier::Axle => usual_m,
            Carrier::Frame => {
                let wanted_m = self.half_z_m + usual_m;
                metal::off_level_m(&self.setup.rails, self.behind_m(), wanted_m, &self.reach) - self.half_z_m
            }
        };
        let lift = |on: Carrier, z: f64| if on == Carrier::Frame { self.half_z_m + z } else { z };
        let links_to = if crank_on == Carrier::Axle {
            Carrier::Frame
        } else {
            Carrier::Axle
        };
        let end = |y: f64, z: f64| Point3::new(self.behind_m(), y, lift(links_to, z));
        let reach = straddles.unwrap_or(self.inside_m);
        Some(Watt {
            crank_on,
            stance: Stance::Upright,
            axis: None,
            pivot: Point3::new(self.behind_m(), 0.0, lift(crank_on, z)),
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
