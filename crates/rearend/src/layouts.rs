//! Ways to hang an axle, proposed for a truck: mounts that solve, with common-practice proportions, to be dragged from there.

use nalgebra::Point3;

use crate::setup::{Arm, ArmKind, Bar, Carrier, Ends, Joint, JointKind, Length, Placement, Role, Setup, Stance, Watt};

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

    /// The truck of a setup, hung this way: everything else about it stays.
    #[must_use]
    pub fn hang(self, setup: &Setup) -> Setup {
        let truck = Truck::of(setup);
        let mut hung = setup.clone();
        hung.placement = Placement::default();
        hung.bars = truck.long_bars(self);
        hung.bars.extend(truck.bar_across(self));
        hung.arms = truck.arm(self).into_iter().collect();
        hung.watt = truck.watt(self);
        hung
    }
}

/// What the proportions hang on.
#[expect(clippy::struct_field_names, reason = "each says its unit")]
struct Truck {
    /// Axle centre at ride height and at half travel, frame coordinates.
    axle_z_m: f64,
    half_z_m: f64,
    /// Inside and outside of the rails with room for a bracket.
    inside_m: f64,
    outside_m: f64,
}

/// Two feet: long enough to keep arcs flat, short enough to end ahead of most kick-ups.
const LONG_M: f64 = 0.62;
/// A little below its joint on the axle at ride height, where a bar pushes forward as the axle rises.
const FALL_M: f64 = 0.009;
/// Behind the axle tube, clear of the cover.
const BEHIND_M: f64 = -0.225;
/// 1 1/4 in, as a panhard bar has it: with the usual wall its bore takes the insert of a 3/4 in rod end. Common practice.
const LINK_TUBE_M: f64 = 0.0318;
/// 3/16 in, as the bars have it.
const LINK_WALL_M: f64 = 0.0048;

impl Truck {
    fn of(setup: &Setup) -> Self {
        let half_rails_m = setup.rails.spacing_m / 2.0;
        Self {
            axle_z_m: setup.axle_z_m(setup.travel.ride_m),
            half_z_m: setup.axle_z_m(setup.travel.half_m()),
            inside_m: (half_rails_m - setup.rails.flange_m - 0.015).max(0.15),
            outside_m: half_rails_m + 0.056,
        }
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

    fn long_bars(&self, layout: Layout) -> Vec<Bar> {
        use Layout as L;
        let out = self.outside_m;
        let pair = |name: &str, role, frame, axle| self.bar(name, role, frame, axle).on_both_sides();
        let lower = || pair("lower bar", Role::Lower, [LONG_M, out], [out, -0.085]);
        let upper = || pair("upper bar", Role::Upper, [LONG_M, out], [out, 0.08]);
        // Inside the rails ahead, beside the centre section behind.
        let angled_upper = || pair("upper bar", Role::Upper, [LONG_M, self.inside_m], [0.1, 0.135]);
        let angled_lower = || pair("lower bar", Role::Lower, [LONG_M, 0.12], [out, -0.085]);
        let single = |y: f64| self.bar("upper bar", Role::Upper, [0.52, y], [y, 0.16]);
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
            L::ThreeLinkPanhard | L::ThreeLinkWatt => vec![lower(), single(0.0)],
            L::ThreeLinkOffset => vec![lower(), single(-0.12)],
            L::Wishbone => {
                let mut wishbone = pair("wishbone", Role::Upper, [LONG_M, self.inside_m], [0.0, 0.15]);
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
        let side = self.inside_m;
        match layout {
            L::ParallelPanhard | L::ThreeLinkPanhard | L::ThreeLinkOffset | L::TruckArmsPanhard | L::LadderPanhard => {
                Some(level("panhard bar", [BEHIND_M, side], [BEHIND_M, -side], 0.03))
            }
            L::ParallelDiagonal | L::LadderDiagonal => Some(level("diagonal bar", [0.5, side], [0.06, -side], -0.13)),
            _ => None,
        }
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
            L::TruckArmsPanhard => Some(arm(
                "truck arm",
                ArmKind::TruckArm,
                [1.2, 0.14],
                [self.inside_m, -0.075],
                0.075,
            )),
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
        let (half_crank_m, z) = (0.075, 0.04);
        let lift = |on: Carrier, z: f64| if on == Carrier::Frame { self.half_z_m + z } else { z };
        let links_to = if crank_on == Carrier::Axle {
            Carrier::Frame
        } else {
            Carrier::Axle
        };
        let end = |y: f64, z: f64| Point3::new(BEHIND_M, y, lift(links_to, z));
        // Ends that ride on the axle pass beside the rails, and lean with it.
        let reach = match crank_on {
            Carrier::Axle => self.inside_m,
            Carrier::Frame => self.inside_m - 0.03,
        };
        Some(Watt {
            crank_on,
            stance: Stance::Upright,
            axis: None,
            pivot: Point3::new(BEHIND_M, 0.0, lift(crank_on, z)),
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
