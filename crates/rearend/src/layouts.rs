//! Ways to hang an axle, proposed for a truck: mounts that solve, with common-practice proportions, to be dragged from there.
//!
//! `truck` has the proportions and the bars along the truck, `across` the rest; `metal` says where a truck has steel for a mount, and
//! `settle` moves mounts to where their brackets can be drawn.

mod across;
mod metal;
mod settle;
mod truck;

use truck::Truck;

use crate::setup::{Placement, Setup};

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
