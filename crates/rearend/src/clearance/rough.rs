//! What comes near at a few poses: quick enough for every step of a drag.

use super::Near;
use super::pairs::{Pair, Thing};
use super::scene::{Posed, Scene, run};
use super::shape::{Bounds, Round};
use super::standing::AxleAt;
use crate::answers::Solved;
use crate::setup::Setup;
use crate::travel::Row;

/// The pairs that come nearer than the setup's limit, or the nearest pair where none does; nearest first. From laid out, ride height and full
/// lift, level, and from ride height with either wheel up: a [`super::Survey`] may find what is nearer in between.
#[must_use]
pub fn rough(setup: &Setup, solved: &Solved) -> Vec<Near> {
    let scene = Scene::of(setup, &solved.rear_end);
    let poses: Vec<Pose> = rows(setup, solved).map(|row| Pose::of(&scene, solved, row)).collect();
    let wanted_m = setup.limits.clearance_m;
    let mut tightest_m = f64::INFINITY;
    let mut found: Vec<Near> = Vec::new();
    for (apart_m, pair) in by_boxes(&scene, &poses) {
        // Farther than the nearest and than what is wanted is of no interest.
        if apart_m > tightest_m.max(wanted_m) {
            break;
        }
        if let Some(near) = nearest(&scene, pair, &poses, tightest_m.max(wanted_m)) {
            tightest_m = tightest_m.min(near.gap_m);
            found.push(near);
        }
    }
    found.retain(|near| near.gap_m < wanted_m || near.gap_m <= tightest_m);
    found.sort_by(|a, b| a.gap_m.total_cmp(&b.gap_m));
    found
}

fn rows<'a>(setup: &Setup, solved: &'a Solved) -> impl Iterator<Item = &'a Row> {
    let level = &solved.level;
    let ride_m = setup.travel.ride_m;
    let off = |height_m: f64| (height_m - ride_m).abs();
    let rolls = solved
        .rolls
        .iter()
        .min_by(|a, b| off(a.height_m).total_cmp(&off(b.height_m)));
    let ends = rolls.map(|sweep| [sweep.rows.first(), sweep.rows.last()]);
    [level.rows.first(), level.nearest(ride_m), level.rows.last()]
        .into_iter()
        .chain(ends.into_iter().flatten())
        .flatten()
}

/// A pose with the box around each mover.
struct Pose<'a> {
    row: &'a Row,
    posed: Vec<Round>,
    axle: AxleAt,
    bounds: Vec<Bounds>,
}

impl<'a> Pose<'a> {
    fn of(scene: &Scene, solved: &Solved, row: &'a Row) -> Self {
        let mut posed = Vec::with_capacity(scene.movers.recipes.len());
        scene.pose(&solved.rear_end, row, &mut posed);
        let around = |pieces: &[Round]| {
            let bounds = pieces.iter().map(Round::bounds);
            bounds.reduce(|a, b| a.with(&b))
        };
        // Every mover has a piece.
        let bounds = scene.movers.all.iter().filter_map(|m| around(run(m, &posed))).collect();
        let axle = AxleAt::of(&row.at);
        Self {
            row,
            posed,
            axle,
            bounds,
        }
    }

    fn boxes_apart_m(&self, scene: &Scene, pair: &Pair) -> f64 {
        match [pair.a, pair.b].map(|thing| self.bounds(scene, thing)) {
            [Some(a), Some(b)] => a.apart_m(b),
            _ => 0.0,
        }
    }

    /// The box around one of a pair; a bracket has none here.
    fn bounds<'b>(&'b self, scene: &'b Scene, thing: Thing) -> Option<&'b Bounds> {
        match thing {
            Thing::Fixed(i) => Some(&scene.fixed[i].bounds),
            Thing::Mover(i) => Some(&self.bounds[i]),
            Thing::Bracket(_) => None,
        }
    }

    fn posed(&self) -> Posed<'_> {
        Posed {
            rounds: &self.posed,
            axle: &self.axle,
        }
    }
}

/// Every pair with the least that the boxes around both are apart, nearest first: so that few are looked at more closely.
fn by_boxes<'a>(scene: &'a Scene, poses: &[Pose]) -> Vec<(f64, &'a Pair)> {
    let apart_m = |pair: &Pair| {
        let apart = poses.iter().map(|pose| pose.boxes_apart_m(scene, pair));
        apart.fold(f64::INFINITY, f64::min)
    };
    let mut pairs: Vec<_> = scene.pairs.iter().map(|pair| (apart_m(pair), pair)).collect();
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    pairs
}

fn nearest(scene: &Scene, pair: &Pair, poses: &[Pose], within_m: f64) -> Option<Near> {
    let mut best: Option<Near> = None;
    for pose in poses {
        let limit_m = best.map_or(within_m, |b| b.gap_m);
        // That they overlap is enough; how far at the worst pose takes longer than a drag has.
        if limit_m < 0.0 && best.is_some() {
            break;
        }
        let apart_m = pose.boxes_apart_m(scene, pair);
        if apart_m > 0.0 && apart_m >= limit_m {
            continue;
        }
        if let Some(gap) = scene.gap(pair, pose.posed(), limit_m) {
            best = Some(scene.near(pair, gap, pose.row.height_m, pose.row.roll_rad));
        }
    }
    best
}
