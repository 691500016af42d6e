//! Lines to scribe, each with a letter: what the letters mean stands in the head, where there is room for words.

use rearend::brackets::{Hole, Plate};
use serde::Serialize;

use super::MM;
use super::tiles::Turn;

/// From the end of a line to its letter, mm.
const IN_MM: f64 = 2.5;

/// Letters nearer than this to each other, or to the edge of a hole, are hard to read, mm.
const APART_MM: f64 = 5.0;

/// From the edge of a hole down to the words that say its size, and how wide they are, mm: as `plates.typ` sets them.
const SIZE_UNDER_MM: f64 = 4.5;
const SIZE_WIDE_MM: f64 = 14.0;

/// A line on the paper, mm.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct Line {
    pub from: [f64; 2],
    pub to: [f64; 2],
    pub letter: char,
    /// Where the letter stands.
    pub at: [f64; 2],
}

/// A letter, and what the lines that bear it mark.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct Meaning {
    pub letter: char,
    pub what: String,
}

/// The lines of a plate, and what their letters mean: lines that mark the same share one.
pub(super) fn lines(plate: &Plate, turn: Turn) -> (Vec<Line>, Vec<Meaning>) {
    let mut meanings: Vec<Meaning> = Vec::new();
    let mut lines: Vec<Line> = Vec::new();
    let holes: Vec<_> = plate.holes.iter().flat_map(|hole| taken(hole, turn)).collect();
    for scribe in &plate.scribes {
        let known = meanings.iter().find(|m| m.what == scribe.what).map(|m| m.letter);
        let letter = known.unwrap_or_else(|| {
            let letter = ('a'..='z').nth(meanings.len()).unwrap_or('z');
            let what = scribe.what.clone();
            meanings.push(Meaning { letter, what });
            letter
        });
        let (from, to) = (turn.mm(scribe.from), turn.mm(scribe.to));
        let at = letter_at([from, to], &holes, &lines);
        lines.push(Line { from, to, letter, at });
    }
    (lines, meanings)
}

/// A hole, and the words under it: as wide as they are, they take a round place. Centres and radii, mm.
fn taken(hole: &Hole, turn: Turn) -> [([f64; 2], f64); 2] {
    let ([x, y], radius) = (turn.mm(hole.at), hole.diameter_m / 2.0 * MM);
    [([x, y], radius), ([x, y - radius - SIZE_UNDER_MM], SIZE_WIDE_MM / 2.0)]
}

/// Near either end or somewhere between, where it is farthest from holes and from other letters; what is far enough is as good as farther.
fn letter_at([from, to]: [[f64; 2]; 2], holes: &[([f64; 2], f64)], others: &[Line]) -> [f64; 2] {
    let length = apart(from, to).max(1e-6);
    let near = (IN_MM / length).min(0.5);
    let places = [1.0 - near, near, 0.75, 0.25, 0.5];
    let place = |part: f64| [0, 1].map(|i| from[i] + (to[i] - from[i]) * part);
    let room = |at: &[f64; 2]| {
        let holes = holes
            .iter()
            .map(|(centre, radius)| (apart(*at, *centre) - radius) * 2.0);
        let others = others.iter().map(|line| apart(*at, line.at));
        holes.chain(others).fold(APART_MM, f64::min)
    };
    let places = places.map(place);
    // The first of those that are as good.
    let mut best = places[0];
    for at in &places[1..] {
        if room(at) > room(&best) + 1e-9 {
            best = *at;
        }
    }
    best
}

fn apart(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_letter_keeps_clear_of_a_hole_at_the_end_of_its_line_and_of_another_letter() {
        let ends = [[0.0, 0.0], [40.0, 0.0]];
        let hole = ([40.0, 0.0], 10.0);
        let first = letter_at(ends, &[hole], &[]);
        assert_eq!(first, [IN_MM, 0.0]);
        let line = Line {
            from: ends[0],
            to: ends[1],
            letter: 'a',
            at: first,
        };
        let second = letter_at(ends, &[hole], &[line]);
        assert!(
            apart(second, first) >= APART_MM && apart(second, hole.0) > hole.1,
            "{second:?}"
        );
    }
}
