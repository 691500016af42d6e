//! How a plate is laid on paper: turned where it fits better, and over several pages where it is larger than one.

use nalgebra::Point2;
use rearend::brackets::{Plate, Segment};
use serde::Serialize;

use super::MM;
use super::outline::points;
use crate::typeset::Paper;

/// What of a page the plate cannot have, m: margins, and the head with the square to measure.
const ASIDE_M: [f64; 2] = [0.024, 0.100];

/// How much two pages show of the same, m.
const OVERLAP_M: f64 = 0.012;

/// Paper left white about a plate, m.
const ROUND_M: f64 = 0.002;

/// How a plate lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Turn {
    AsItLies,
    /// A quarter turn to the left.
    Quarter,
}

/// A page's part of a plate, mm.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct Tile {
    /// Which of how many, from 1.
    pub number: usize,
    pub of: usize,
    /// Its lower left corner.
    pub low: [f64; 2],
    pub size: [f64; 2],
    /// Marks that fall on each other when pages are taped together.
    pub marks: Vec<[f64; 2]>,
}

impl Turn {
    pub fn place(self, at: Point2<f64>) -> [f64; 2] {
        match self {
            Self::AsItLies => [at.x, at.y],
            Self::Quarter => [-at.y, at.x],
        }
    }
}

/// The pages that a plate needs: as few as can be.
pub(super) fn tiles(plate: &Plate, paper: Paper) -> (Turn, Vec<Tile>) {
    let size_m = paper.size_m();
    let room = [0, 1].map(|i| size_m[i] - ASIDE_M[i]);
    let [lying, turned] = [Turn::AsItLies, Turn::Quarter].map(|turn| (turn, laid(plate, turn, room)));
    if turned.1.len() < lying.1.len() { turned } else { lying }
}

fn laid(plate: &Plate, turn: Turn, room: [f64; 2]) -> Vec<Tile> {
    let (low, high) = bounds(plate, turn);
    let size = [0, 1].map(|i| high[i] - low[i]);
    let step = room.map(|r| r - OVERLAP_M);
    let counts = [0, 1].map(|i| pages(size[i], room[i], step[i]));
    let of = counts[0] * counts[1];
    if of == 1 {
        return vec![Tile {
            number: 1,
            of,
            low: low.map(|v| v * MM),
            size: size.map(|v| v * MM),
            marks: Vec::new(),
        }];
    }
    // In the middle of all pages together.
    let low = [0, 1].map(|i| low[i] - (room[i] + step[i] * count(counts[i] - 1) - size[i]) / 2.0);
    // Rows from the top, as a page is read.
    let places = (0..counts[1])
        .rev()
        .flat_map(|row| (0..counts[0]).map(move |column| [column, row]));
    let tile = |(i, place): (usize, [usize; 2])| {
        let at = [0, 1].map(|k| low[k] + step[k] * count(place[k]));
        let lines = |k: usize| [place[k], place[k] + 1].map(|n| low[k] + step[k] * count(n) + OVERLAP_M / 2.0);
        let (x, y) = (lines(0), lines(1));
        let marks = x.into_iter().flat_map(|x| y.map(|y| [x * MM, y * MM])).collect();
        Tile {
            number: i + 1,
            of,
            low: at.map(|v| v * MM),
            size: room.map(|v| v * MM),
            marks,
        }
    };
    places.enumerate().map(tile).collect()
}

/// Pages in a row that hold a length.
fn pages(size: f64, room: f64, step: f64) -> usize {
    let mut pages = 1;
    while room + step * count(pages - 1) < size {
        pages += 1;
    }
    pages
}

#[expect(clippy::cast_precision_loss, reason = "a handful of pages")]
fn count(n: usize) -> f64 {
    n as f64
}

/// Corners of the room that a plate takes, arcs included.
fn bounds(plate: &Plate, turn: Turn) -> ([f64; 2], [f64; 2]) {
    let mut from = plate.outline.start;
    let mut all = vec![from];
    for segment in &plate.outline.segments {
        match segment {
            Segment::Line { to } => all.push(*to),
            Segment::Arc { to, centre, clockwise } => all.extend(points([from, *to], *centre, *clockwise, 72)),
        }
        from = segment.to();
    }
    all.extend(plate.scribes.iter().flat_map(|s| [s.from, s.to]));
    let all = all.into_iter().map(|p| turn.place(p));
    let nothing = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
    let (low, high) = all.fold(nothing, |(low, high), p| {
        ([0, 1].map(|i| low[i].min(p[i])), [0, 1].map(|i| high[i].max(p[i])))
    });
    (low.map(|v| v - ROUND_M), high.map(|v| v + ROUND_M))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn as_many_pages_as_it_takes_and_no_more() {
        // Two pages of 190 that share 12 hold 368.
        assert_eq!(pages(0.190, 0.190, 0.178), 1);
        assert_eq!(pages(0.191, 0.190, 0.178), 2);
        assert_eq!(pages(0.368, 0.190, 0.178), 2);
        assert_eq!(pages(0.369, 0.190, 0.178), 3);
    }
}
