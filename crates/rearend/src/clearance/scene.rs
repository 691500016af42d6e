//! Everything that takes up room, the pairs that may not meet, and the distance of a pair at a pose.

use super::Near;
use super::distance::{Gap, between};
use super::movers::{Mover, Movers};
use super::pairs::{Other, Pair, pairs};
use super::shape::{Bounds, Piece, Round};
use super::solids::{Fixed, Solid, fixed};
use crate::mechanism::RearEnd;
use crate::setup::Setup;
use crate::travel::Row;

/// All of it.
#[derive(Clone, Debug)]
pub(super) struct Scene {
    pub fixed: Vec<Fixed>,
    pub movers: Movers,
    pub pairs: Vec<Pair>,
}

impl Scene {
    pub fn of(setup: &Setup, rear_end: &RearEnd) -> Self {
        let (fixed, movers) = (fixed(setup), Movers::of(setup, rear_end));
        let pairs = pairs(setup, rear_end, &fixed, &movers);
        Self { fixed, movers, pairs }
    }

    /// What the two of a pair are.
    pub fn solids(&self, pair: &Pair) -> [Solid; 2] {
        let other = match pair.other {
            Other::Fixed(i) => self.fixed[i].solid,
            Other::Mover(i) => self.movers.all[i].solid,
        };
        [self.movers.all[pair.mover].solid, other]
    }

    /// The distance of a pair, every moving piece being where `posed` has it; `None` where it is no less than `within_m`.
    pub fn gap(&self, pair: &Pair, posed: &[Round], within_m: f64) -> Option<Gap> {
        let mut look = Look { best: None, within_m };
        for piece in run(&self.movers.all[pair.mover], posed) {
            let piece = piece.trimmed(pair.trim_m);
            match pair.other {
                Other::Fixed(i) => look.at_fixed(&piece, &self.fixed[i]),
                Other::Mover(i) => {
                    for other in run(&self.movers.all[i], posed) {
                        let other = Piece::Round(other.trimmed(pair.other_trim_m));
                        let apart_m = Piece::Round(piece).bounds().apart_m(&other.bounds());
                        look.at(&piece, &other, apart_m);
                    }
                }
            }
        }
        look.best
    }

    /// A pair's distance with what it is and where.
    pub fn near(&self, pair: &Pair, gap: Gap, height_m: f64, roll_rad: f64) -> Near {
        let [a, b] = self.solids(pair);
        Near {
            a,
            b,
            gap_m: gap.gap_m,
            points: gap.points,
            height_m,
            roll_rad,
        }
    }

    /// Every moving piece at a pose.
    pub fn pose(&self, rear_end: &RearEnd, row: &Row, posed: &mut Vec<Round>) {
        self.movers.at(rear_end, &row.at, posed);
    }
}

/// The nearest so far, and what is of interest.
struct Look {
    best: Option<Gap>,
    within_m: f64,
}

impl Look {
    /// Boxes that overlap say nothing about how far what is in them does.
    fn is_too_far(&self, apart_m: f64) -> bool {
        apart_m > 0.0 && apart_m >= self.within_m
    }

    fn at(&mut self, piece: &Round, other: &Piece, apart_m: f64) {
        if self.is_too_far(apart_m) {
            return;
        }
        if let Some(gap) = between(piece, other, self.within_m).filter(|g| g.gap_m < self.within_m) {
            self.within_m = gap.gap_m;
            self.best = Some(gap);
        }
    }

    /// The piece whose box is nearest first: most of the others then are too far by theirs.
    fn at_fixed(&mut self, piece: &Round, fixed: &Fixed) {
        let around = Piece::Round(*piece).bounds();
        if self.is_too_far(around.apart_m(&fixed.bounds)) {
            return;
        }
        let middle = around.middle();
        let order = |bounds: &Bounds| around.apart_m(bounds) + 1e-3 * (bounds.middle() - middle).norm();
        let nearest = (fixed.pieces.iter().map(|(_, b)| order(b)).enumerate()).min_by(|a, b| a.1.total_cmp(&b.1));
        let Some((first, _)) = nearest else { return };
        let start = &fixed.pieces[first];
        self.at(piece, &start.0, around.apart_m(&start.1));
        for (i, (other, bounds)) in fixed.pieces.iter().enumerate() {
            if i != first {
                self.at(piece, other, around.apart_m(bounds));
            }
        }
    }
}

/// The pieces of a mover.
pub(super) fn run<'a>(mover: &Mover, posed: &'a [Round]) -> &'a [Round] {
    &posed[mover.first..mover.first + mover.count]
}
