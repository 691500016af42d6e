//! Whether there is room for words: rectangles, turned or not, against lines, discs and each other. Any unit of length.

/// A point.
pub(crate) type At = [f64; 2];

/// A rectangle about its middle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Rect {
    pub middle: At,
    /// Half its width and half its height.
    pub half: At,
    /// Turned counterclockwise.
    pub turn_rad: f64,
}

impl Rect {
    pub fn level(middle: At, [width, height]: At) -> Self {
        Self {
            middle,
            half: [width / 2.0, height / 2.0],
            turn_rad: 0.0,
        }
    }

    /// About a line, `wide` across it.
    pub fn along([a, b]: [At; 2], wide: f64) -> Self {
        let [x, y] = [b[0] - a[0], b[1] - a[1]];
        Self {
            middle: [f64::midpoint(a[0], b[0]), f64::midpoint(a[1], b[1])],
            half: [x.hypot(y) / 2.0, wide / 2.0],
            turn_rad: y.atan2(x),
        }
    }

    /// The same with this much more on every side.
    pub fn grown(self, by: f64) -> Self {
        Self {
            half: self.half.map(|h| h + by),
            ..self
        }
    }

    pub fn corners(&self) -> [At; 4] {
        let [w, h] = self.half;
        let (sin, cos) = self.turn_rad.sin_cos();
        [[-w, -h], [w, -h], [w, h], [-w, h]]
            .map(|[x, y]| [self.middle[0] + x * cos - y * sin, self.middle[1] + x * sin + y * cos])
    }

    /// A point from its middle, along its sides.
    fn own(&self, [x, y]: At) -> At {
        let (sin, cos) = self.turn_rad.sin_cos();
        let [x, y] = [x - self.middle[0], y - self.middle[1]];
        [x * cos + y * sin, y * cos - x * sin]
    }

    /// Whether two overlap: they do unless a side of one has all of the other beyond it.
    pub fn meets(&self, other: &Self) -> bool {
        let is_beside = |a: &Self, b: &Self| {
            let seen = b.corners().map(|c| a.own(c));
            (0..2).any(|i| {
                let (low, high) = seen.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), c| {
                    (low.min(c[i]), high.max(c[i]))
                });
                low >= a.half[i] || high <= -a.half[i]
            })
        };
        !is_beside(self, other) && !is_beside(other, self)
    }

    pub fn meets_disc(&self, centre: At, radius: f64) -> bool {
        let seen = self.own(centre);
        let out = [0, 1].map(|i| (seen[i].abs() - self.half[i]).max(0.0));
        out[0].hypot(out[1]) < radius
    }

    /// Whether some of the line from one point to another is in it.
    pub fn meets_line(&self, line: [At; 2]) -> bool {
        let [a, b] = line.map(|p| self.own(p));
        let mut part = [0.0_f64, 1.0];
        for i in 0..2 {
            let way = b[i] - a[i];
            if way.abs() < 1e-12 {
                if a[i].abs() >= self.half[i] {
                    return false;
                }
                continue;
            }
            let (one, other) = ((-self.half[i] - a[i]) / way, (self.half[i] - a[i]) / way);
            part = [part[0].max(one.min(other)), part[1].min(one.max(other))];
        }
        part[0] < part[1]
    }

    /// Whether all of it lies between two corners.
    pub fn is_within(&self, [low, high]: [At; 2]) -> bool {
        let inside = |c: &At| (0..2).all(|i| c[i] >= low[i] && c[i] <= high[i]);
        self.corners().iter().all(inside)
    }
}

/// What is there already.
#[derive(Clone, Debug, Default)]
pub(crate) struct Room {
    pub lines: Vec<[At; 2]>,
    pub discs: Vec<(At, f64)>,
    pub rects: Vec<Rect>,
}

impl Room {
    /// How much of what is there a rectangle would lie on.
    pub fn hits(&self, rect: &Rect) -> usize {
        let lines = self.lines.iter().filter(|line| rect.meets_line(**line)).count();
        let discs = self.discs.iter().filter(|(c, r)| rect.meets_disc(*c, *r)).count();
        lines + discs + self.rects.iter().filter(|other| rect.meets(other)).count()
    }
}

/// Whether a point is in a closed line: a ray from it crosses the line an odd number of times.
pub(crate) fn is_inside(rim: &[At], [x, y]: At) -> bool {
    let next = rim.iter().cycle().skip(1);
    let crossed = rim
        .iter()
        .zip(next)
        .filter(|(a, b)| (a[1] > y) != (b[1] > y) && x < a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]));
    crossed.count() % 2 == 1
}

#[cfg(test)]
mod tests {
    use std::f64::consts::FRAC_PI_4;

    use super::*;

    #[test]
    fn turned_rectangles_meet_where_their_corners_do() {
        let level = Rect::level([0.0, 0.0], [2.0, 2.0]);
        // A square on its corner reaches √2 to the left of its middle.
        let on_corner = |x: f64| Rect {
            turn_rad: FRAC_PI_4,
            ..Rect::level([x, 0.0], [2.0, 2.0])
        };
        assert!(level.meets(&on_corner(1.0 + 1.41)) && !level.meets(&on_corner(1.0 + 1.42)));
        // Corner to corner along the diagonal neither's box is clear of the other's, but a side is: they touch at 1 + √2 of it.
        let away = |d: f64| {
            let by = d / 2.0_f64.sqrt();
            Rect {
                middle: [by, by],
                ..on_corner(0.0)
            }
        };
        assert!(level.meets(&away(2.0_f64.sqrt() + 0.99)) && !level.meets(&away(2.0_f64.sqrt() + 1.01)));
    }

    #[test]
    fn discs_and_lines_meet_a_rectangle_as_near_as_they_are() {
        let rect = Rect::level([0.0, 0.0], [4.0, 2.0]);
        // From the corner at (2, 1) to (5, 5): three, four, five.
        assert!(rect.meets_disc([5.0, 5.0], 5.01) && !rect.meets_disc([5.0, 5.0], 4.99));
        assert!(rect.meets_disc([0.0, 0.0], 0.1));
        assert!(rect.meets_line([[-3.0, 0.5], [3.0, 0.5]]) && !rect.meets_line([[-3.0, 1.5], [3.0, 1.5]]));
        assert!(!rect.meets_line([[2.5, -3.0], [2.5, 3.0]]) && !rect.meets_line([[0.0, 3.5], [3.5, 0.0]]));
        assert!(rect.meets_line([[0.0, 2.5], [2.5, 0.0]]));
        assert!(Rect::along([[0.0, 0.0], [0.0, 6.0]], 1.0).meets_line([[-1.0, 5.9], [1.0, 5.9]]));
    }

    #[test]
    fn in_the_notch_of_a_plate_is_not_in_it() {
        let rim = [[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [2.0, 1.0], [0.0, 4.0]];
        assert!(is_inside(&rim, [0.5, 1.0]) && is_inside(&rim, [2.0, 0.5]));
        assert!(!is_inside(&rim, [2.0, 3.0]) && !is_inside(&rim, [5.0, 1.0]));
    }
}
