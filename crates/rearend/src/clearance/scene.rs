//! Everything that takes up room, the pairs that may not meet, and the distance of a pair at a pose.

use super::Near;
use super::distance::{Gap, between, between_any};
use super::movers::{Mover, Movers};
use super::pairs::{Pair, Thing, pairs, with_brackets};
use super::shape::{Bounds, Piece, Round, with_box};
use super::solids::{Fixed, Solid, fixed};
use super::standing::{AxleAt, Standing, standing};
use crate::mechanism::RearEnd;
use crate::setup::Setup;
use crate::travel::Row;

/// All of it.
#[derive(Clone, Debug)]
pub(super) struct Scene {
    pub fixed: Vec<Fixed>,
    pub movers: Movers,
    /// None for a quick look.
    pub standing: Vec<Standing>,
    pub pairs: Vec<Pair>,
}

/// Where everything that moves is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Posed<'a> {
    /// Every piece of the movers.
    pub rounds: &'a [Round],
    pub axle: &'a AxleAt,
}

impl Scene {
    pub fn of(setup: &Setup, rear_end: &RearEnd) -> Self {
        let (fixed, movers) = (fixed(setup), Movers::of(setup, rear_end));
        let pairs = pairs(setup, rear_end, &fixed, &movers);
        Self {
            fixed,
            movers,
            standing: Vec::new(),
            pairs,
        }
    }

    /// The same, with every bracket and what may not meet it.
    pub fn with_brackets(setup: &Setup, rear_end: &RearEnd) -> Self {
        let mut scene = Self::of(setup, rear_end);
        scene.standing = standing(setup, rear_end);
        let more = with_brackets(rear_end, &scene.fixed, &scene.movers, &scene.standing);
        scene.pairs.extend(more);
        scene
    }

    /// What the two of a pair are.
    pub fn solids(&self, pair: &Pair) -> [Solid; 2] {
        [pair.a, pair.b].map(|thing| match thing {
            Thing::Fixed(i) => self.fixed[i].solid,
            Thing::Mover(i) => self.movers.all[i].solid,
            Thing::Bracket(i) => self.standing[i].solid,
        })
    }

    /// The distance of a pair, every moving piece being where `posed` has it; `None` where it is no less than `within_m`.
    pub fn gap(&self, pair: &Pair, posed: Posed, within_m: f64) -> Option<Gap> {
        let mut look = Look { best: None, within_m };
        match (pair.a, pair.b) {
            (Thing::Mover(a), Thing::Fixed(b)) => {
                for piece in run(&self.movers.all[a], posed.rounds) {
                    look.at_fixed(&piece.trimmed(pair.trim_m), &self.fixed[b]);
                }
            }
            (Thing::Mover(a), Thing::Mover(b)) => {
                for piece in run(&self.movers.all[a], posed.rounds) {
                    let piece = piece.trimmed(pair.trim_m);
                    let around = piece.bounds();
                    for other in run(&self.movers.all[b], posed.rounds) {
                        let other = Piece::Round(other.trimmed(pair.other_trim_m));
                        look.at(&piece, &other, around.apart_m(&other.bounds()));
                    }
                }
            }
            _ => {
                let others = self.pieces(pair.b, pair.other_trim_m, posed);
                for (piece, around) in self.pieces(pair.a, pair.trim_m, posed) {
                    for (other, bounds) in &others {
                        look.at_any(&piece, other, around.apart_m(bounds));
                    }
                }
            }
        }
        look.best
    }

    /// The pieces of one of a pair, with the box of each, frame coordinates.
    fn pieces(&self, thing: Thing, trim_m: [f64; 2], posed: Posed) -> Vec<(Piece, Bounds)> {
        match thing {
            Thing::Fixed(i) => self.fixed[i].pieces.clone(),
            Thing::Mover(i) => {
                let pieces = run(&self.movers.all[i], posed.rounds).iter();
                pieces.map(|p| with_box(Piece::Round(p.trimmed(trim_m)))).collect()
            }
            Thing::Bracket(i) => self.standing[i].at(posed.axle).collect(),
        }
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
        if !self.is_too_far(apart_m) {
            self.take(between(piece, other, self.within_m));
        }
    }

    fn at_any(&mut self, piece: &Piece, other: &Piece, apart_m: f64) {
        if !self.is_too_far(apart_m) {
            self.take(between_any(piece, other, self.within_m));
        }
    }

    fn take(&mut self, gap: Option<Gap>) {
        if let Some(gap) = gap.filter(|g| g.gap_m < self.within_m) {
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
