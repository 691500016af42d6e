//! A rail seen from the side, as what a plate can be welded to: never more than the rail has there, where it bends.

use nalgebra::Point2;

use crate::rail_line::{bends_m, lift_m, underside_z_m};
use crate::setup::Rails;

/// Outside radius of a rail's rounded corners over its wall: common practice for box tube, and channel is bent much the same.
pub(super) const CORNER_IN_WALLS: f64 = 2.0;

/// Chords that stand for a bend: they leave it by a thousandth of the kick-up's rise.
const BEND: u32 = 8;

/// Chords for half of a notch, closer together where it is steep.
const ARCH: u32 = 10;

/// Stations nearer to each other than this are one.
const SAME_M: f64 = 1e-9;

/// Between two stations an arch leaves its chord by no more than twice as much as half way between them.
const ARCH_OVER_MIDDLE: f64 = 2.0;

/// A station with the heights between which all is steel, up to the next one, too.
#[derive(Clone, Copy, Debug)]
struct Station {
    x_m: f64,
    low_m: f64,
    top_m: f64,
    /// Vertically over square to the rail: more than one where it climbs.
    steep: f64,
}

/// A rail from end to end.
pub(super) struct RailSide {
    stations: Vec<Station>,
}

impl RailSide {
    pub fn of(rails: &Rails) -> Self {
        let xs_m = stations_m(rails, rails.rear_x_m, rails.front_x_m);
        let mut stations: Vec<_> = xs_m.iter().map(|x_m| Station::of(rails, *x_m)).collect();
        let as_drawn = stations.clone();
        for (i, pair) in as_drawn.windows(2).enumerate() {
            let (over_m, under_m) = leaves_chord_m(rails, &pair[0], &pair[1]);
            let climb = (pair[1].top_m - pair[0].top_m) / (pair[1].x_m - pair[0].x_m);
            for (station, drawn) in stations.iter_mut().skip(i).zip(pair) {
                station.low_m = station.low_m.max(drawn.low_m + over_m);
                station.top_m = station.top_m.min(drawn.top_m - under_m);
                station.steep = station.steep.max(climb.hypot(1.0));
            }
        }
        Self { stations }
    }

    /// The outline of a length of it, along the truck and up, with so much left off above and below, square to where it runs. Where nothing
    /// is left it has no height.
    pub fn outline(&self, length_m: [f64; 2], inset_m: f64) -> Vec<Point2<f64>> {
        let heights = |s: &Station| {
            let (low, top) = (s.low_m + inset_m * s.steep, s.top_m - inset_m * s.steep);
            let middle = f64::midpoint(low, top);
            (low.min(middle), top.max(middle))
        };
        let ends = length_m.map(|x_m| self.at(x_m));
        let between = self
            .stations
            .iter()
            .filter(|s| s.x_m > length_m[0] && s.x_m < length_m[1]);
        let all: Vec<_> = ends[..1].iter().chain(between).chain(&ends[1..]).collect();
        let below = all.iter().map(|s| Point2::new(s.x_m, heights(s).0));
        let above = all.iter().rev().map(|s| Point2::new(s.x_m, heights(s).1));
        below.chain(above).collect()
    }

    /// Between its stations straight.
    fn at(&self, x_m: f64) -> Station {
        let last = self.stations.len() - 1;
        let after = self.stations.partition_point(|s| s.x_m < x_m).clamp(1, last);
        let [a, b] = [self.stations[after - 1], self.stations[after]];
        let share = (x_m - a.x_m) / (b.x_m - a.x_m);
        Station {
            x_m,
            low_m: a.low_m + (b.low_m - a.low_m) * share,
            top_m: a.top_m + (b.top_m - a.top_m) * share,
            steep: a.steep + (b.steep - a.steep) * share,
        }
    }
}

impl Station {
    fn of(rails: &Rails, x_m: f64) -> Self {
        Self {
            x_m,
            low_m: underside_z_m(rails, x_m),
            top_m: lift_m(rails, x_m) + rails.height_m,
            steep: 1.0,
        }
    }
}

/// Every bend in chords. Bends are parabolas, and a notch arches upwards all along.
fn stations_m(rails: &Rails, from_m: f64, to_m: f64) -> Vec<f64> {
    let mut all = vec![from_m, to_m];
    let mut take = |x_m: f64| {
        if x_m > from_m && x_m < to_m {
            all.push(x_m);
        }
    };
    let bends = rails.kick_up.as_ref().map(bends_m);
    for [a, b] in bends.into_iter().flatten() {
        if a.min(b) < to_m && a.max(b) > from_m {
            (0..=BEND).for_each(|i| take(a + (b - a) * f64::from(i) / f64::from(BEND)));
        }
    }
    if let Some(notch) = rails.notch
        && -notch.half_length_m < to_m
        && notch.half_length_m > from_m
    {
        for i in 0..=ARCH {
            let share = (f64::from(i) / f64::from(ARCH) * std::f64::consts::FRAC_PI_2).sin();
            take(-share * notch.half_length_m);
            take(share * notch.half_length_m);
        }
    }
    all.sort_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() < SAME_M);
    all
}

/// How far the underside rises over its chord between two stations at most, and how far the top falls under its own.
fn leaves_chord_m(rails: &Rails, a: &Station, b: &Station) -> (f64, f64) {
    let x_m = f64::midpoint(a.x_m, b.x_m);
    let middle = Station::of(rails, x_m);
    let lift_m = middle.top_m - f64::midpoint(a.top_m, b.top_m);
    let cut = |s: &Station| s.low_m - s.top_m;
    let arch_m = cut(&middle) - f64::midpoint(cut(a), cut(b));
    let over_m = lift_m.max(0.0) + ARCH_OVER_MIDDLE * arch_m.max(0.0);
    (over_m, (-lift_m).max(0.0))
}
