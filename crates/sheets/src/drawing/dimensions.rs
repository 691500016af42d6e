//! Lengths between two points, with an arrowhead at either end.

use super::board::{Board, LETTERS_M};
use super::plane::Flat;
use super::{Anchor, Dimension, Text};

/// From one dimension line to the next on paper, m.
const ROW_M: f64 = 0.0065;

/// How far a lead goes past its line on paper, m.
const PAST_M: f64 = 0.0012;

impl Board {
    /// A width between two points, on a line that is `row` rows (from 1) below `edge`, or above it where `row` is negative.
    pub fn width(&mut self, [left, right]: [Flat; 2], edge: f64, row: f64, text: String) {
        let y = edge - self.paper(row * ROW_M);
        let past = y - self.paper(PAST_M) * row.signum();
        let at = [f64::midpoint(left[0], right[0]), y];
        self.dimensions.push(Dimension {
            leads: [left, right].map(|foot| vec![foot, [foot[0], past]]).into(),
            line: Some([[left[0], y], [right[0], y]]),
            text: Text {
                at,
                text,
                turn_deg: 0.0,
                anchor: Anchor::Middle,
            },
        });
    }

    /// A height at `x`, from one level to another, its figure to the right of the line.
    pub fn height(&mut self, x: f64, [low, high]: [f64; 2], text: String) {
        let at = [x + self.paper(LETTERS_M / 2.0), f64::midpoint(low, high)];
        self.dimensions.push(Dimension {
            leads: Vec::new(),
            line: Some([[x, low], [x, high]]),
            text: Text {
                at,
                text,
                turn_deg: 0.0,
                anchor: Anchor::Start,
            },
        });
    }
}
