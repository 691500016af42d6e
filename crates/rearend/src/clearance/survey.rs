//! Every pair through every pose, a few pairs at a time.
//!
//! Between two poses a pair's distance changes by no more than its two parts move. So a stretch of the travel whose ends are both farther apart
//! than the best so far, by more than half of what is moved in between, holds nothing nearer, and is not looked into. What is found is the
//! same as from every pose.

use std::sync::atomic::{AtomicBool, Ordering};

use super::distance::Gap;
use super::pairs::{Pair, Thing};
use super::scene::{Posed, Scene, run};
use super::shape::Round;
use super::solids::Solid;
use super::standing::AxleAt;
use super::{BESIDE_BRACKET_M, Near};
use crate::answers::Solved;
use crate::setup::Setup;
use crate::travel::{POSES, Row, Travel};

/// How far a survey has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Pairs that are done.
    pub done: usize,
    /// Pairs that there are.
    pub total: usize,
}

impl Progress {
    /// Nothing is left.
    #[must_use]
    pub fn is_finished(self) -> bool {
        self.done >= self.total
    }
}

/// The clearances of one setup, level and with either wheel up. It holds no clock and starts no thread.
#[derive(Clone, Debug)]
pub struct Survey {
    scene: Scene,
    /// Height and roll of every pose, one sweep after the other.
    poses: Vec<(f64, f64)>,
    /// Where each sweep begins, and where the last one ends.
    starts: Vec<usize>,
    /// Every moving piece at every pose.
    posed: Vec<Round>,
    /// Where the axle is at every pose.
    axles: Vec<AxleAt>,
    /// How far every mover, and after them every bracket, has moved since its sweep began, at every pose.
    moved_m: Vec<f64>,
    nears: Vec<Near>,
    next: usize,
}

/// A pose and the pair's distance there.
#[derive(Clone, Copy)]
struct Sample {
    pose: usize,
    gap_m: f64,
}

/// The nearest so far.
struct Best {
    pose: usize,
    gap: Gap,
}

impl Survey {
    /// Ready to be stepped.
    #[must_use]
    pub fn new(setup: &Setup, solved: &Solved) -> Self {
        Self::of(setup, solved, |_, _| true)
    }

    /// Of the pairs that are wanted alone.
    pub(super) fn of(setup: &Setup, solved: &Solved, wanted: impl Fn(Solid, Solid) -> bool) -> Self {
        let mut scene = Scene::with_brackets(setup, &solved.rear_end);
        let mut pairs = std::mem::take(&mut scene.pairs);
        pairs.retain(|pair| {
            let [a, b] = scene.solids(pair);
            wanted(a, b)
        });
        scene.pairs = pairs;
        let mut survey = Self {
            nears: Vec::with_capacity(scene.pairs.len()),
            scene,
            poses: Vec::new(),
            starts: vec![0],
            posed: Vec::new(),
            axles: Vec::new(),
            moved_m: Vec::new(),
            next: 0,
        };
        for rows in sweeps(setup, solved) {
            survey.add_sweep(solved, &rows);
        }
        survey
    }

    fn add_sweep(&mut self, solved: &Solved, rows: &[Row]) {
        let things = self.moving();
        for (i, row) in rows.iter().enumerate() {
            let before = self.poses.len().saturating_sub(1);
            self.poses.push((row.height_m, row.roll_rad));
            self.scene.pose(&solved.rear_end, row, &mut self.posed);
            self.axles.push(AxleAt::of(&row.at));
            for thing in 0..things {
                let moved = if i == 0 {
                    0.0
                } else {
                    self.moved_m[before * things + thing] + self.step_m(thing, before)
                };
                self.moved_m.push(moved);
            }
        }
        self.starts.push(self.poses.len());
    }

    /// Movers and brackets: what has a place in a row of `moved_m`.
    fn moving(&self) -> usize {
        self.scene.movers.all.len() + self.scene.standing.len()
    }

    /// How far one of them moves from a pose to the next.
    fn step_m(&self, thing: usize, pose: usize) -> f64 {
        let [from, to] = [self.at(pose), self.at(pose + 1)];
        let Some(mover) = self.scene.movers.all.get(thing) else {
            return self.scene.standing[thing - self.scene.movers.all.len()].moved_m(from.axle, to.axle);
        };
        let pieces = run(mover, from.rounds).iter().zip(run(mover, to.rounds));
        pieces.map(|(a, b)| a.moved_m(b)).fold(0.0, f64::max)
    }

    fn at(&self, pose: usize) -> Posed<'_> {
        let pieces = self.scene.movers.recipes.len();
        Posed {
            rounds: &self.posed[pose * pieces..(pose + 1) * pieces],
            axle: &self.axles[pose],
        }
    }

    /// Looks at so many more pairs.
    pub fn step(&mut self, budget: usize) -> Progress {
        let last = self.next.saturating_add(budget).min(self.scene.pairs.len());
        for i in self.next..last {
            self.nears.extend(self.nearest(&self.scene.pairs[i]));
        }
        self.next = last;
        self.progress()
    }

    /// Looks at all that is left, unless it is called off. True where it came to its end.
    pub fn run(&mut self, called_off: &AtomicBool) -> bool {
        while !self.progress().is_finished() && !called_off.load(Ordering::Relaxed) {
            self.step(8);
        }
        self.progress().is_finished()
    }

    /// How far it has come.
    #[must_use]
    pub fn progress(&self) -> Progress {
        Progress {
            done: self.next,
            total: self.scene.pairs.len(),
        }
    }

    /// What is found so far, nearest first: every pair once, but those with a bracket only where they come nearer than
    /// [`super::BESIDE_BRACKET_M`].
    #[must_use]
    pub fn result(&self) -> Vec<Near> {
        let is_told = |near: &&Near| near.gap_m < BESIDE_BRACKET_M || ![near.a, near.b].iter().any(|s| s.is_bracket());
        let mut nears: Vec<_> = self.nears.iter().filter(is_told).copied().collect();
        nears.sort_by(|a, b| a.gap_m.total_cmp(&b.gap_m));
        nears
    }

    fn nearest(&self, pair: &Pair) -> Option<Near> {
        let mut best = None;
        for sweep in self.starts.windows(2) {
            if sweep[0] < sweep[1] {
                let ends = [sweep[0], sweep[1] - 1].map(|pose| self.sample(pair, pose, &mut best));
                self.look_between(pair, ends, &mut best);
            }
        }
        let Best { pose, gap } = best?;
        let (height_m, roll_rad) = self.poses[pose];
        Some(self.scene.near(pair, gap, height_m, roll_rad))
    }

    fn sample(&self, pair: &Pair, pose: usize, best: &mut Option<Best>) -> Sample {
        let gap = self.scene.gap(pair, self.at(pose), f64::INFINITY);
        let gap_m = gap.map_or(f64::INFINITY, |g| g.gap_m);
        if let Some(gap) = gap.filter(|g| best.as_ref().is_none_or(|b| g.gap_m < b.gap.gap_m)) {
            *best = Some(Best { pose, gap });
        }
        Sample { pose, gap_m }
    }

    fn look_between(&self, pair: &Pair, [from, to]: [Sample; 2], best: &mut Option<Best>) {
        if to.pose < from.pose + 2 {
            return;
        }
        let moved_m = self.moved_m(pair, to.pose) - self.moved_m(pair, from.pose);
        let least_m = (from.gap_m + to.gap_m - moved_m) / 2.0;
        if best.as_ref().is_some_and(|b| least_m >= b.gap.gap_m) {
            return;
        }
        let middle = self.sample(pair, usize::midpoint(from.pose, to.pose), best);
        // The nearer half first: what it finds may spare the other.
        let (near, far) = if from.gap_m <= to.gap_m {
            ([from, middle], [middle, to])
        } else {
            ([middle, to], [from, middle])
        };
        self.look_between(pair, near, best);
        self.look_between(pair, far, best);
    }

    /// How far the two have moved together.
    fn moved_m(&self, pair: &Pair, pose: usize) -> f64 {
        let (things, movers) = (self.moving(), self.scene.movers.all.len());
        let of = |thing: Thing| match thing {
            Thing::Fixed(_) => 0.0,
            Thing::Mover(i) => self.moved_m[pose * things + i],
            Thing::Bracket(i) => self.moved_m[pose * things + movers + i],
        };
        of(pair.a) + of(pair.b)
    }
}

/// Level, the left wheel up, the right wheel up: the poses that there are.
fn sweeps(setup: &Setup, solved: &Solved) -> [Vec<Row>; 3] {
    let other = Travel::sweep(setup, &solved.rear_end, -setup.travel.one_wheel_up_rad, POSES);
    [solved.level.rows.clone(), solved.rolled.rows.clone(), other.rows]
}

#[cfg(test)]
impl Survey {
    /// The same from every pose.
    pub(super) fn brute_force(&self) -> Vec<Near> {
        let nearest = |pair: &Pair| {
            let mut best = None;
            for pose in 0..self.poses.len() {
                self.sample(pair, pose, &mut best);
            }
            best.map(|Best { pose, gap }| {
                let (height_m, roll_rad) = self.poses[pose];
                self.scene.near(pair, gap, height_m, roll_rad)
            })
        };
        self.scene.pairs.iter().filter_map(nearest).collect()
    }

    pub(super) fn unsorted(&self) -> &[Near] {
        &self.nears
    }
}
