//! Sizes of a plate, exact for lines and arcs.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI, TAU};

use nalgebra::{Point2, Vector2};

use super::{Outline, Plate, Segment};

/// Density of steel, kg/m³: EN 1991-1-1, table A.4.
const STEEL_KG_PER_M3: f64 = 7850.0;

impl Segment {
    /// Angle that an arc goes round from `from`, rad: positive counterclockwise, less than a whole turn. Nothing for a line.
    #[must_use]
    pub fn turn_rad(&self, from: Point2<f64>) -> f64 {
        let Self::Arc { to, centre, clockwise } = *self else {
            return 0.0;
        };
        let angle = |p: Point2<f64>| (p - centre).y.atan2((p - centre).x);
        let turn = (angle(to) - angle(from)).rem_euclid(TAU);
        if clockwise && turn > 0.0 { turn - TAU } else { turn }
    }

    /// Length along it from `from`, m.
    #[must_use]
    pub fn length_m(&self, from: Point2<f64>) -> f64 {
        match self {
            Self::Line { to } => (to - from).norm(),
            Self::Arc { centre, .. } => self.turn_rad(from).abs() * (from - centre).norm(),
        }
    }

    /// From a point to the nearest point of it, m.
    #[must_use]
    pub fn distance_m(&self, from: Point2<f64>, point: Point2<f64>) -> f64 {
        match *self {
            Self::Line { to } => {
                let along = to - from;
                let share = (point - from).dot(&along) / along.norm_squared().max(f64::MIN_POSITIVE);
                (point - (from + along * share.clamp(0.0, 1.0))).norm()
            }
            Self::Arc { to, centre, .. } => {
                let out = point - centre;
                if self.passes(from, out) {
                    (out.norm() - (from - centre).norm()).abs()
                } else {
                    (point - from).norm().min((point - to).norm())
                }
            }
        }
    }

    /// True where a direction from an arc's centre meets the arc.
    fn passes(&self, from: Point2<f64>, direction: Vector2<f64>) -> bool {
        let Self::Arc { centre, .. } = *self else { return false };
        let turn = self.turn_rad(from);
        let start = (from - centre).y.atan2((from - centre).x);
        let angle = direction.y.atan2(direction.x);
        if turn >= 0.0 {
            (angle - start).rem_euclid(TAU) <= turn
        } else {
            (start - angle).rem_euclid(TAU) <= -turn
        }
    }
}

impl Outline {
    /// Every piece with where it starts.
    pub fn pieces(&self) -> impl Iterator<Item = (Point2<f64>, &Segment)> {
        let starts = std::iter::once(self.start).chain(self.segments.iter().map(Segment::to));
        starts.zip(&self.segments)
    }

    /// What it encloses, m²: the shoelace over its corners, with the segment of a circle for every arc. Counterclockwise is positive.
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        let origin = self.start;
        let piece = |(from, segment): (Point2<f64>, &Segment)| {
            let (a, b) = (from - origin, segment.to() - origin);
            let bow = match segment {
                Segment::Line { .. } => 0.0,
                Segment::Arc { centre, .. } => {
                    let turn = segment.turn_rad(from);
                    (from - centre).norm_squared() * (turn - turn.sin()) / 2.0
                }
            };
            a.perp(&b) / 2.0 + bow
        };
        self.pieces().map(piece).sum()
    }

    /// All the way round, m.
    #[must_use]
    pub fn length_m(&self) -> f64 {
        self.pieces().map(|(from, segment)| segment.length_m(from)).sum()
    }

    /// Lowest and highest corner of the rectangle around it.
    #[must_use]
    pub fn bounds(&self) -> [Point2<f64>; 2] {
        let (mut low, mut high) = (self.start, self.start);
        let mut take = |p: Point2<f64>| {
            low = low.inf(&p);
            high = high.sup(&p);
        };
        for (from, segment) in self.pieces() {
            take(segment.to());
            let Segment::Arc { centre, .. } = segment else { continue };
            let radius = (from - centre).norm();
            for quarter in [0.0, FRAC_PI_2, PI, -FRAC_PI_2] {
                let out = Vector2::new(quarter.cos(), quarter.sin());
                if segment.passes(from, out) {
                    take(centre + out * radius);
                }
            }
        }
        [low, high]
    }

    /// From a point to the nearest point of the outline, m.
    #[must_use]
    pub fn distance_m(&self, point: Point2<f64>) -> f64 {
        let distances = self.pieces().map(|(from, segment)| segment.distance_m(from, point));
        distances.fold(f64::INFINITY, f64::min)
    }
}

impl Plate {
    /// Steel seen from above, holes taken out, m².
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        let holes = self.holes.iter().map(|h| FRAC_PI_4 * h.diameter_m * h.diameter_m);
        self.outline.area_m2() - holes.sum::<f64>()
    }

    /// Mass of one, kg.
    #[must_use]
    pub fn mass_kg(&self) -> f64 {
        self.area_m2() * self.thickness_m * STEEL_KG_PER_M3
    }

    /// Lowest and highest corner of the rectangle that it is cut from.
    #[must_use]
    pub fn bounds(&self) -> [Point2<f64>; 2] {
        self.outline.bounds()
    }
}
