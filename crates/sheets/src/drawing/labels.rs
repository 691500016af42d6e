//! Names of bars: along them where that hides little, else beside them with a leader. None lies over another, over a figure or over a mount.

use super::board::{Board, LETTERS_M};
use super::plane::{Flat, along, apart, way};
use super::truck::{Rod, Truck};
use super::{Anchor, Text, Weight};
use crate::lettering::{Rect, Room};

/// Where along a bar its name may stand, or its leader end.
const PLACES: [f64; 7] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8];

/// How far beside a bar a name with a leader may stand, in heights of letters.
const BESIDE: [f64; 9] = [2.2, 3.0, 3.8, 4.8, 6.0, 8.0, 11.0, 15.0, 20.0];

/// Bars that slope less have level names: they read better.
const LEVEL_DEG: f64 = 2.5;

/// Points of a text that are tried against what is drawn.
const TRIED: u32 = 9;

/// A name along its bar that hides more than this stands better beside it: a few points on edges, or two on a bar.
const MOST_HIDDEN: f64 = 7.0;

/// What a leader is worth of that, and each height of letters of its length.
const LEADER: f64 = 4.0;
const LONG: f64 = 0.4;

/// What lies over a name, a figure or a mount is only taken where there is nothing else.
const OVER: f64 = 1e4;

/// Room kept about a mount, beyond the arms of its cross, and about a text, on paper, m.
const ABOUT_MOUNT_M: f64 = 0.0009;
const ABOUT_TEXT_M: f64 = 0.0003;

/// A name, and the line that leads to it from its bar.
struct Name {
    text: Text,
    leader: Option<[Flat; 2]>,
}

impl Board {
    /// The names of those rods that `says` has words for. Figures stand already.
    pub fn name_rods(&mut self, truck: &Truck, says: impl Fn(&Rod) -> Option<String>) {
        for rod in &truck.rods {
            if let Some(text) = says(rod) {
                self.name_rod(truck, rod, &text);
            }
        }
    }

    fn name_rod(&mut self, truck: &Truck, rod: &Rod, text: &str) {
        // A ladder bar's along its lower tube, clear of the upper one.
        let along_it = rod.tubes.last().copied().unwrap_or(rod.ends);
        let [mut from, mut to] = along_it.map(|p| self.view.flat(p));
        // Read from the left, or from below where it stands upright.
        if (from[0] - to[0]).abs() < 1e-6 && from[1] > to[1] || from[0] > to[0] + 1e-6 {
            (from, to) = (to, from);
        }
        if apart(from, to) < 1e-3 {
            return;
        }
        let room = self.taken();
        let mut best = self.best(truck, &room, self.along_rod(rod, [from, to], text));
        if best.as_ref().is_none_or(|(cost, _)| *cost > MOST_HIDDEN) {
            let beside = self.best(truck, &room, self.beside_rod(rod, [from, to], text));
            best = [best, beside].into_iter().flatten().min_by(|a, b| a.0.total_cmp(&b.0));
        }
        if let Some((_, name)) = best {
            self.texts.push(name.text);
            if let Some(leader) = name.leader {
                self.line(leader.into(), Weight::Dimension);
            }
        }
    }

    /// Names, figures and mounts.
    fn taken(&self) -> Room {
        let texts = self.texts.iter().chain(self.dimensions.iter().map(|d| &d.text));
        let about = self.paper(ABOUT_MOUNT_M);
        Room {
            lines: Vec::new(),
            discs: self.circles.iter().map(|c| (c.at, c.radius_m + about)).collect(),
            rects: texts.map(|t| self.rect(t).grown(self.paper(ABOUT_TEXT_M))).collect(),
        }
    }

    /// The room that a text takes.
    fn rect(&self, text: &Text) -> Rect {
        let [a, b, c, d] = self.corners(text);
        Rect::along([along(a, d, 0.5), along(b, c, 0.5)], apart(a, d))
    }

    fn along_rod(&self, rod: &Rod, [from, to]: [Flat; 2], text: &str) -> Vec<Name> {
        let [x, y] = way(from, to);
        let length = x.hypot(y);
        let normal = [-y / length, x / length];
        let off = rod.tube_m / 2.0 + self.paper(LETTERS_M * 0.85);
        let slope_deg = y.atan2(x).to_degrees();
        let turn_deg = if slope_deg.abs() < LEVEL_DEG { 0.0 } else { slope_deg };
        let candidates = [1.0, -1.0].into_iter().flat_map(|side| PLACES.map(|part| (side, part)));
        let name = |(side, part): (f64, f64)| {
            let [x, y] = along(from, to, part);
            Name {
                text: Text {
                    at: [x + side * off * normal[0], y + side * off * normal[1]],
                    text: text.to_owned(),
                    turn_deg,
                    anchor: Anchor::Middle,
                },
                leader: None,
            }
        };
        candidates.map(name).collect()
    }

    /// Level, above, below, left and right of a bar.
    fn beside_rod(&self, rod: &Rod, [from, to]: [Flat; 2], text: &str) -> Vec<Name> {
        let half = [self.text_m(text) / 2.0, self.paper(LETTERS_M) / 2.0];
        let ways = [
            [0.0, 1.0],
            [0.0, -1.0],
            [1.0, 0.0],
            [-1.0, 0.0],
            [0.7, 0.7],
            [-0.7, 0.7],
            [0.7, -0.7],
            [-0.7, -0.7],
        ];
        let mut names = Vec::new();
        for far in BESIDE.map(|far| rod.tube_m / 2.0 + self.paper(LETTERS_M * far)) {
            for foot in PLACES.map(|part| along(from, to, part)) {
                for [x, y] in ways {
                    let at = [foot[0] + x * (far + half[0]), foot[1] + y * (far + half[1])];
                    // To the nearest point of the words.
                    let end = [0, 1].map(|i| foot[i].clamp(at[i] - half[i], at[i] + half[i]));
                    names.push(Name {
                        text: Text {
                            at,
                            text: text.to_owned(),
                            turn_deg: 0.0,
                            anchor: Anchor::Middle,
                        },
                        leader: Some([foot, end]),
                    });
                }
            }
        }
        names
    }

    /// The name that hides least, and how much that is.
    fn best(&self, truck: &Truck, room: &Room, names: Vec<Name>) -> Option<(f64, Name)> {
        let extent = self.extent();
        let mut best: Option<(f64, Name)> = None;
        for name in names {
            let rect = self.rect(&name.text);
            // A drawing does not grow for a name.
            let over = room.hits(&rect) + usize::from(!rect.is_within([extent.low, extent.high]));
            let mut cost = OVER * count(over) + self.leads(room, name.leader);
            if best.as_ref().is_none_or(|(least, _)| cost < *least) {
                cost += self.hides(truck, &name.text);
            }
            if best.as_ref().is_none_or(|(least, _)| cost < *least) {
                best = Some((cost, name));
            }
        }
        best
    }

    /// What a leader costs: over words or a mount other than its own bar's it leads astray.
    fn leads(&self, room: &Room, leader: Option<[Flat; 2]>) -> f64 {
        let Some(leader) = leader else { return 0.0 };
        let over = room.hits(&Rect::along(leader, self.paper(ABOUT_TEXT_M)));
        LEADER + LONG * apart(leader[0], leader[1]) / self.paper(LETTERS_M) + OVER / 10.0 * count(over)
    }

    /// How many of a text's points lie on a bar, a mount, a rail's edge or a figure's lead.
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
        let near_m = self.paper(LETTERS_M) * 0.25;
        let strokes = self.strokes.iter().map(|s| &s.points);
        let leads = self.dimensions.iter().flat_map(|d| &d.leads);
        let edges = strokes.chain(leads).flat_map(|points| points.windows(2));
        let on_edges = edges.filter(|e| off_line(at, [e[0], e[1]]) < near_m).count();
        count(on_tubes) * 3.0 + count(on_edges) * 0.5
    }
}

fn count(n: usize) -> f64 {
    f64::from(u32::try_from(n.min(9)).unwrap_or(9))
}

/// How far a point is from a line between two.
fn off_line(at: Flat, [from, to]: [Flat; 2]) -> f64 {
    let ([x, y], [u, v]) = (way(from, to), way(from, at));
    let part = ((u * x + v * y) / (x * x + y * y).max(1e-12)).clamp(0.0, 1.0);
    apart(at, along(from, to, part))
}
