//! Figures counted from the drawing's zero, along one of its edges: a lead from each point, at whose end stands how far it is. Where points
//! lie closer together than figures can stand, the leads bend apart.

use super::board::{Board, LETTERS_M};
use super::plane::Flat;
use super::{Anchor, Dimension, Text};

/// Along which edge of the drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Edge {
    Left,
    Right,
    Bottom,
    Top,
}

/// Points with the same figure that are nearer than this along the edge are one, m: a frame's and an axle's, told from a datum each, stand
/// so far from each other where the axle stands off its line.
const SAME_M: f64 = 0.01;

/// Lengths of a lead's bend and of its straight end on paper, m.
const BEND_M: f64 = 0.004;
const END_M: f64 = 0.0015;

/// From figure to figure, in heights of letters.
const LEADING: f64 = 1.3;

impl Edge {
    /// The coordinate that is counted: x or y.
    fn counted(self) -> usize {
        match self {
            Self::Left | Self::Right => 1,
            Self::Bottom | Self::Top => 0,
        }
    }

    /// Which way is out.
    fn out(self) -> f64 {
        match self {
            Self::Left | Self::Bottom => -1.0,
            Self::Right | Self::Top => 1.0,
        }
    }

    fn turn_deg(self) -> f64 {
        match self {
            Self::Left | Self::Right => 0.0,
            Self::Bottom | Self::Top => 90.0,
        }
    }

    fn anchor(self) -> Anchor {
        if self.out() < 0.0 { Anchor::End } else { Anchor::Start }
    }
}

impl Board {
    /// Figures of points along an edge, whose leads are straight as far as `reach`.
    pub fn ordinates(&mut self, edge: Edge, reach: f64, mut points: Vec<(Flat, String)>) {
        let (k, out) = (edge.counted(), edge.out());
        let outer = |p: &Flat| p[1 - k] * out;
        // Of points in line the outermost is kept: its lead is the shortest.
        points.sort_by(|(a, _), (b, _)| a[k].total_cmp(&b[k]));
        points.dedup_by(|(a, told), (b, other)| {
            let is_same = (a[k] - b[k]).abs() < SAME_M && told == other;
            if is_same && outer(a) > outer(b) {
                b[1 - k] = a[1 - k];
            }
            is_same
        });
        let wanted: Vec<f64> = points.iter().map(|(p, _)| p[k]).collect();
        let stand = spread(&wanted, self.paper(LETTERS_M * LEADING));
        let bent = reach + out * self.paper(BEND_M);
        let end = bent + out * self.paper(END_M);
        let at = |counted: f64, other: f64| if k == 0 { [counted, other] } else { [other, counted] };
        for ((foot, text), stand) in points.into_iter().zip(stand) {
            let lead = vec![foot, at(foot[k], reach), at(stand, bent), at(stand, end)];
            self.dimensions.push(Dimension {
                leads: vec![lead],
                line: None,
                text: Text {
                    at: at(stand, end + out * self.paper(LETTERS_M * 0.4)),
                    text,
                    turn_deg: edge.turn_deg(),
                    anchor: edge.anchor(),
                },
            });
        }
    }
}

/// The places nearest to those wanted (in rising order) that are at least `gap` apart: those that crowd each other stand about their mean.
fn spread(wanted: &[f64], gap: f64) -> Vec<f64> {
    // With i gaps taken off, places at least a gap apart are places that do not fall: runs that would fall share their mean.
    let mut runs: Vec<(f64, usize)> = Vec::new();
    let mut taken = 0.0;
    for place in wanted {
        runs.push((place - taken, 1));
        taken += gap;
        while let [.., (before, n), (last, m)] = runs[..] {
            if before <= last {
                break;
            }
            #[expect(clippy::cast_precision_loss, reason = "a few dozen figures")]
            let (weight, other) = (n as f64, m as f64);
            let mean = (before * weight + last * other) / (weight + other);
            runs.truncate(runs.len() - 2);
            runs.push((mean, n + m));
        }
    }
    let mut taken = 0.0;
    let places = runs.into_iter().flat_map(|(mean, n)| std::iter::repeat_n(mean, n));
    places
        .map(|place| {
            let place = place + taken;
            taken += gap;
            place
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::spread;

    #[test]
    fn what_has_room_stays_where_it_is() {
        assert_eq!(spread(&[0.0, 1.0, 5.0], 1.0), [0.0, 1.0, 5.0]);
    }

    #[test]
    fn two_on_one_spot_stand_half_a_gap_to_either_side() {
        assert_eq!(spread(&[2.0, 2.0], 1.0), [1.5, 2.5]);
    }

    #[test]
    fn a_crowd_stands_about_its_mean_and_pushes_its_neighbour() {
        // Three at 0 would stand at -1, 0, 1; the one at 1.5 is pushed, and all four have moved by as much in sum: none.
        let stand = spread(&[0.0, 0.0, 0.0, 1.5], 1.0);
        let moved: f64 = stand.iter().zip([0.0, 0.0, 0.0, 1.5]).map(|(a, b)| a - b).sum();
        assert!(moved.abs() < 1e-12, "{stand:?}");
        assert!(stand.windows(2).all(|w| w[1] - w[0] > 1.0 - 1e-12), "{stand:?}");
    }
}
