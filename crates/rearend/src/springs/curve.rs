//! A smooth curve through the lines of a chart: Fritsch and Carlson, SIAM J. Numer. Anal. 17 (1980), with the slopes of Fritsch and
//! Butland, SIAM J. Sci. Stat. Comput. 5 (1984). Between two lines it never leaves the values of both, and its slope has no jumps.

/// A curve through points of growing x, nothing of which is copied.
#[derive(Clone, Copy, Debug)]
pub struct Curve<'a, P> {
    points: &'a [P],
    read: fn(&P) -> (f64, f64),
}

impl<'a, P> Curve<'a, P> {
    /// Through points from which `read` takes x and y. x has to grow from point to point.
    #[must_use]
    pub fn new(points: &'a [P], read: fn(&P) -> (f64, f64)) -> Self {
        Self { points, read }
    }

    /// Value and slope at x; `None` beyond the first and last points, and where there are fewer than two.
    #[must_use]
    pub fn at(&self, x: f64) -> Option<(f64, f64)> {
        let (first, last) = (self.point(0)?, self.point(self.points.len().checked_sub(1)?)?);
        if !(first.0..=last.0).contains(&x) {
            return None;
        }
        let above = self.points.partition_point(|p| (self.read)(p).0 <= x);
        let from = above.min(self.points.len() - 1).saturating_sub(1);
        let (a, b) = (self.point(from)?, self.point(from + 1)?);
        let slopes = (self.slope_at(from)?, self.slope_at(from + 1)?);
        Some(hermite(a, b, slopes, x))
    }

    fn point(&self, i: usize) -> Option<(f64, f64)> {
        self.points.get(i).map(self.read)
    }

    /// Width and slope of the straight line from point i to the next.
    fn chord(&self, i: usize) -> Option<(f64, f64)> {
        let (a, b) = (self.point(i)?, self.point(i.checked_add(1)?)?);
        let width = b.0 - a.0;
        (width > 0.0).then(|| (width, (b.1 - a.1) / width))
    }

    fn slope_at(&self, i: usize) -> Option<f64> {
        let before = i.checked_sub(1).and_then(|j| self.chord(j));
        match (before, self.chord(i)) {
            (Some(before), Some(after)) => Some(inner_slope(before, after)),
            (None, Some(first)) => Some(self.chord(i + 1).map_or(first.1, |next| end_slope(first, next))),
            (Some(last), None) => {
                let previous = i.checked_sub(2).and_then(|j| self.chord(j));
                Some(previous.map_or(last.1, |previous| end_slope(last, previous)))
            }
            (None, None) => None,
        }
    }
}

/// The weighted harmonic mean of the slopes on both sides; level at a summit or in a hollow.
fn inner_slope((h0, m0): (f64, f64), (h1, m1): (f64, f64)) -> f64 {
    if m0 * m1 <= 0.0 {
        return 0.0;
    }
    let (w0, w1) = (2.0 * h1 + h0, h1 + 2.0 * h0);
    (w0 + w1) * m0 * m1 / (w0 * m1 + w1 * m0)
}

/// The slope of the parabola through the three points at an end, bent no further than keeps the curve from overshooting.
fn end_slope((h0, m0): (f64, f64), (h1, m1): (f64, f64)) -> f64 {
    let slope = ((2.0 * h0 + h1) * m0 - h0 * m1) / (h0 + h1);
    if slope * m0 <= 0.0 {
        0.0
    } else if m0 * m1 <= 0.0 && slope.abs() > 3.0 * m0.abs() {
        3.0 * m0
    } else {
        slope
    }
}

fn hermite(a: (f64, f64), b: (f64, f64), (slope_a, slope_b): (f64, f64), x: f64) -> (f64, f64) {
    let width = b.0 - a.0;
    let t = (x - a.0) / width;
    let chord = (b.1 - a.1) / width;
    let bend = slope_a + slope_b - 2.0 * chord;
    let value = a.1 + (x - a.0) * (slope_a + t * (3.0 * chord - 2.0 * slope_a - slope_b + t * bend));
    let slope = slope_a + t * (2.0 * (3.0 * chord - 2.0 * slope_a - slope_b) + 3.0 * t * bend);
    (value, slope)
}
