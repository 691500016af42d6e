//! What to buy.

mod bolts;
mod words;

pub use bolts::{Bolt, NUT_IN_BOLTS, SHOWS_IN_BOLTS, Series, WASHER_IN_BOLTS, usual_ball_m, usual_spacer_m};
pub(super) use words::section;

use super::cut::{Cut, CutList, End};
use super::mounts::{Holds, Place};
use crate::setup::{JointKind, Setup};

/// What a saw takes away, a cut.
pub const KERF_M: f64 = 0.003;

/// Tubes within this are of one size.
const SAME_SIZE_M: f64 = 1e-6;

/// Tube of one size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TubeOrder {
    /// Outside diameter.
    pub tube_m: f64,
    /// Wall.
    pub wall_m: f64,
    /// How many pieces are sawn.
    pub pieces: usize,
    /// All of them with the saw's kerfs.
    pub length_m: f64,
}

/// What the joints take.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shopping {
    /// Rod ends with a right-hand thread; as many inserts and jam nuts.
    pub right_hand: usize,
    /// Those with a left-hand thread.
    pub left_hand: usize,
    /// Rubber bushes, each in an eye.
    pub rubber: usize,
    /// Polyurethane bushes, each in an eye.
    pub polyurethane: usize,
    /// Bolts through bars, arms, links and crank, all alike.
    pub bolts: usize,
    /// Longer ones: through the bracket, the crank and the washers of a Watt's pivot.
    pub pivot_bolts: usize,
    /// Tube by size, in the order of the cut list.
    pub tubes: Vec<TubeOrder>,
    /// Every bore that an insert goes into, m, in the order of the cut list.
    pub bores_m: Vec<f64>,
}

impl Shopping {
    /// For a cut list and the mounts that its bars hang from.
    #[must_use]
    pub fn of(setup: &Setup, list: &CutList, places: &[Place]) -> Self {
        let mut shopping = Self::default();
        for cut in &list.bars {
            shopping.add_ends(cut);
            shopping.add_tube(cut);
            shopping.add_bore(cut);
        }
        for arm in &setup.arms {
            shopping.add_joint(arm.eye.kind, arm.count());
        }
        for shared in setup.bars.iter().filter(|bar| bar.joined) {
            shopping.add_joint(shared.joint(crate::setup::BarEnd::Axle).kind, 1);
        }
        for place in places {
            shopping.add_bolt(place);
        }
        // The links' bolts in the crank; its pivot is among the mounts.
        shopping.bolts += if setup.watt.is_some() { 2 } else { 0 };
        shopping
    }

    /// Spacers: one on either side of each rod end.
    #[must_use]
    pub fn spacers(&self) -> usize {
        2 * (self.right_hand + self.left_hand)
    }

    fn add_ends(&mut self, cut: &Cut) {
        let threaded = cut.threaded().count();
        let left = usize::from(cut.is_turned());
        self.left_hand += left * cut.count;
        self.right_hand += (threaded - left) * cut.count;
        for end in &cut.ends {
            if let End::Coped(coped) = end {
                self.add_joint(coped.kind, cut.count);
            }
        }
    }

    fn add_joint(&mut self, kind: JointKind, count: usize) {
        match kind {
            JointKind::RodEnd => self.right_hand += count,
            JointKind::Rubber => self.rubber += count,
            JointKind::Polyurethane => self.polyurethane += count,
        }
    }

    fn add_tube(&mut self, cut: &Cut) {
        let sawn_m = cut.sawn_m();
        if sawn_m <= 0.0 {
            return;
        }
        let is_size = |order: &&mut TubeOrder| {
            (order.tube_m - cut.tube_m).abs() < SAME_SIZE_M && (order.wall_m - cut.wall_m).abs() < SAME_SIZE_M
        };
        let length_m = (0..cut.count).map(|_| sawn_m + KERF_M).sum::<f64>();
        match self.tubes.iter_mut().find(is_size) {
            Some(order) => {
                order.pieces += cut.count;
                order.length_m += length_m;
            }
            None => self.tubes.push(TubeOrder {
                tube_m: cut.tube_m,
                wall_m: cut.wall_m,
                pieces: cut.count,
                length_m,
            }),
        }
    }

    fn add_bore(&mut self, cut: &Cut) {
        let (bore_m, is_known) = (cut.bore_m(), |known: &f64| (known - cut.bore_m()).abs() < SAME_SIZE_M);
        if cut.threaded().next().is_some() && !self.bores_m.iter().any(is_known) {
            self.bores_m.push(bore_m);
        }
    }

    fn add_bolt(&mut self, place: &Place) {
        match place.holds {
            Holds::Eye | Holds::LadderUpper | Holds::LadderLower | Holds::Coilover => self.bolts += place.count(),
            Holds::Pivot => self.pivot_bolts += place.count(),
            Holds::TruckArm | Holds::AirSpring => {}
        }
    }
}
