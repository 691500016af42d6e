//! Names along bars, where they hide least.

use super::board::{Board, LETTERS_M};
use super::plane::{Flat, along, apart, way};
use super::truck::{Rod, Truck};
use super::{Anchor, Text};

/// Where along a bar its name may stand.
const PLACES: [f64; 7] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8];

/// Bars that slope less have level names: they read better.
const LEVEL_DEG: f64 = 2.5;

/// Points of a text that are tried against what is drawn.
const TRIED: u32 = 9;

impl Board {
    /// The names of those rods that `says` has words for, beside each of them.
    pub fn name_rods(&mut self, truck: &Truck, says: impl Fn(&Rod) -> Option<String>) {
        for rod in &truck.rods {
            if let Some(text) = says(rod) {
                self.name_rod(truck, rod, text);
            }
        }
    }

    fn name_rod(&mut self, truck: &Truck, rod: &Rod, text: String) {
        // A ladder bar's along its lower tube, clear of the upper one.
        let along_it = rod.tubes.last().copied().unwrap_or(rod.ends);
        let [mut from, mut to] = along_it.map(|p| self.view.flat(p));
        // Read from the left, or from below where it stands upright.
        if (from[0] - to[0]).abs() < 1e-6 && from[1] > to[1] || from[0] > to[0] + 1e-6 {
            (from, to) = (to, from);
        }
        let [x, y] = way(from, to);
        let length = x.hypot(y);
        if length < 1e-3 {
            return;
        }
        let normal = [-y / length, x / length];
        let off = rod.tube_m / 2.0 + self.paper(LETTERS_M * 0.85);
        let slope_deg = y.atan2(x).to_degrees();
        let turn_deg = if slope_deg.abs() < LEVEL_DEG { 0.0 } else { slope_deg };
        let candidates = [1.0, -1.0].into_iter().flat_map(|side| PLACES.map(|part| (side, part)));
        let texts = candidates.map(|(side, part)| {
            let [x, y] = along(from, to, part);
            Text {
                at: [x + side * off * normal[0], y + side * off * normal[1]],
                text: text.clone(),
                turn_deg,
                anchor: Anchor::Middle,
            }
        });
        let rated = texts.map(|text| (self.hides(truck, &text), text));
        let best = rated.min_by(|(a, _), (b, _)| a.total_cmp(b));
        self.texts.extend(best.map(|(_, text)| text));
    }

    /// How many of a text's points lie on a bar, a mount, a rail's edge or another text.
    fn hides(&self, truck: &Truck, text: &Text) -> f64 {
        let [a, b, c, d] = self.corners(text);
        let rows = [(a, b), (along(a, d, 0.5), along(b, c, 0.5)), (d, c)];
        let tried = rows
            .into_iter()
            .flat_map(|(from, to)| (0..TRIED).map(move |i| along(from, to, f64::from(i) / f64::from(TRIED - 1))));
        tried.map(|at| self.cost(truck, at)).sum()
    }

    fn cost(&self, truck: &Truck, at: Flat) -> f64 {
        let flat = |p| self.view.flat(p);
        let tubes = truck
            .rods
            .iter()
            .flat_map(|rod| rod.tubes.iter().map(|t| (t.map(flat), rod.tube_m / 2.0)));
        let on_tubes = tubes.filter(|(ends, r)| off_line(at, *ends) < *r).count();
        let near_m = self.paper(LETTERS_M);
        let on_pegs = truck.pegs.iter().filter(|p| apart(at, flat(p.at)) < near_m).count();
        let on_texts = self
            .texts
            .iter()
            .filter(|t| within(at, self.corners(t), near_m * 0.3))
            .count();
        let edges = self.strokes.iter().flat_map(|s| s.points.windows(2));
        let on_edges = edges.filter(|e| off_line(at, [e[0], e[1]]) < near_m * 0.25).count();
        let count = |n: usize| f64::from(u32::try_from(n.min(9)).unwrap_or(9));
        count(on_tubes) * 3.0 + count(on_pegs) * 3.0 + count(on_texts) * 6.0 + count(on_edges) * 0.5
    }
}

/// How far a point is from a line between two.
fn off_line(at: Flat, [from, to]: [Flat; 2]) -> f64 {
    let ([x, y], [u, v]) = (way(from, to), way(from, at));
    let part = ((u * x + v * y) / (x * x + y * y).max(1e-12)).clamp(0.0, 1.0);
    apart(at, along(from, to, part))
}

/// Whether a point is within a turned rectangle, or so near.
fn within(at: Flat, [a, b, _, d]: [Flat; 4], near_m: f64) -> bool {
    let part = |to: Flat| {
        let ([x, y], [u, v]) = (way(a, to), way(a, at));
        let length = x.hypot(y).max(1e-9);
        let part = (u * x + v * y) / length;
        part > -near_m && part < length + near_m
    };
    part(b) && part(d)
}
