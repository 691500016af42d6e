//! What is written on a plate besides its outline, and where there is room for it: the same on the 1:1 template and in the file for the
//! table. Any unit of length: that of the paper or the file.

mod compass;
mod letters;
mod room;

use nalgebra::Point2;
use rearend::brackets::{Plate, Segment};

pub(crate) use letters::Meaning;
pub(crate) use room::{At, Rect, Room};

use crate::template::arc_points;

/// How a plate lies where it is drawn, and what can be written there.
pub(crate) struct Lie<'a> {
    pub plate: &'a Plate,
    /// From the plate's own coordinates, m.
    pub place: &'a dyn Fn(Point2<f64>) -> At,
    /// Height of a line of small letters.
    pub letter: f64,
    /// How far the arms of a hole's cross reach beyond it.
    pub arm: f64,
    /// Corners of the pieces of paper: whatever is written is whole on one of them.
    pub pages: &'a [[At; 2]],
    /// What else is there.
    pub taken: &'a [Rect],
    /// A line of words for each size of hole, and the holes that have it; none where sizes are not written.
    pub sizes: &'a [(String, Vec<usize>)],
}

/// Words about their middle.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Word {
    pub at: At,
    pub text: String,
}

/// An arrow with its word.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ArrowAt {
    pub from: At,
    pub to: At,
    pub word: Word,
}

/// All that is written.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Lettering {
    /// The sizes of holes.
    pub sizes: Vec<Word>,
    /// Numbers, in the holes of a row.
    pub numbers: Vec<Word>,
    /// A letter for each line that is scribed.
    pub letters: Vec<Word>,
    /// What the letters mean.
    pub meanings: Vec<Meaning>,
    /// Which way round it goes.
    pub arrows: Vec<ArrowAt>,
}

/// Width of a small letter in its heights, generously.
const WIDE: f64 = 0.72;

/// Room about what is written, in heights of letters.
pub(super) const CLEAR: f64 = 0.3;

/// Steps of a whole turn that an arc is taken in.
const ROUND: u32 = 48;

impl Lettering {
    pub fn of(lie: &Lie) -> Self {
        let rim = lie.rim();
        let mut room = lie.room(&rim);
        let numbers = lie.numbers();
        let sizes = lie.hole_sizes(&mut room);
        let (letters, meanings) = letters::letters(lie, &mut room);
        let arrows = compass::arrows(lie, &room, &rim);
        Self {
            sizes,
            numbers,
            letters,
            meanings,
            arrows,
        }
    }
}

impl Lie<'_> {
    /// The outline as a closed line.
    fn rim(&self) -> Vec<At> {
        let mut from = self.plate.outline.start;
        let mut rim = vec![from];
        for segment in &self.plate.outline.segments {
            match segment {
                Segment::Line { to } => rim.push(*to),
                Segment::Arc { to, centre, clockwise } => {
                    rim.extend(arc_points([from, *to], *centre, *clockwise, ROUND));
                }
            }
            from = segment.to();
        }
        rim.into_iter().map(|p| (self.place)(p)).collect()
    }

    /// Edges, holes with their crosses, scribed lines and what else is there.
    fn room(&self, rim: &[At]) -> Room {
        let next = rim.iter().cycle().skip(1);
        let mut room = Room {
            lines: rim.iter().zip(next).map(|(a, b)| [*a, *b]).collect(),
            discs: Vec::new(),
            rects: self.taken.to_vec(),
        };
        for i in 0..self.plate.holes.len() {
            let (at, radius) = self.hole(i);
            room.discs.push((at, radius));
            let arm = radius + self.arm;
            room.lines.push([[at[0] - arm, at[1]], [at[0] + arm, at[1]]]);
            room.lines.push([[at[0], at[1] - arm], [at[0], at[1] + arm]]);
        }
        let scribes = self.plate.scribes.iter();
        room.lines
            .extend(scribes.map(|s| [s.from, s.to].map(|p| (self.place)(p))));
        room
    }

    /// Centre and radius of a hole.
    fn hole(&self, i: usize) -> (At, f64) {
        let hole = &self.plate.holes[i];
        let [at, edge] = [0.0, hole.diameter_m / 2.0].map(|out| (self.place)(hole.at + nalgebra::Vector2::x() * out));
        (at, (edge[0] - at[0]).hypot(edge[1] - at[1]))
    }

    /// The room that a line of words takes.
    fn room_of(&self, word: &Word) -> Rect {
        let letters: f64 = word.text.chars().map(|_| WIDE).sum();
        Rect::level(word.at, [letters * self.letter, self.letter]).grown(CLEAR * self.letter)
    }

    fn is_on_a_page(&self, rect: &Rect) -> bool {
        self.pages.iter().any(|page| rect.is_within(*page))
    }

    /// The first of some places that is free, else the one that lies on least.
    fn best(&self, room: &Room, places: impl Iterator<Item = Word>) -> Option<Word> {
        let mut best: Option<(usize, Word)> = None;
        for word in places {
            let rect = self.room_of(&word);
            let off = if self.is_on_a_page(&rect) { 0 } else { 100 };
            let hits = off + room.hits(&rect);
            if hits == 0 {
                return Some(word);
            }
            if best.as_ref().is_none_or(|(least, _)| hits < *least) {
                best = Some((hits, word));
            }
        }
        best.map(|(_, word)| word)
    }

    /// In a quarter of each hole of a row; the one in use has a star.
    fn numbers(&self) -> Vec<Word> {
        let numbers = self.plate.numbered_holes();
        let number = |(i, hole): (usize, &rearend::brackets::NumberedHole)| {
            let (at, radius) = self.hole(i);
            let star = if hole.in_use { "*" } else { "" };
            Word {
                at: at.map(|v| v + 0.38 * radius),
                text: format!("{}{star}", hole.number),
            }
        };
        numbers.iter().enumerate().map(number).collect()
    }

    /// Below, above or beside one of the holes that have a size, the nearest place first.
    fn hole_sizes(&self, room: &mut Room) -> Vec<Word> {
        let mut words = Vec::new();
        for (text, holes) in self.sizes {
            let half = text.chars().map(|_| WIDE / 2.0).sum::<f64>() * self.letter;
            let steps = (0..10).map(|i| self.arm + self.letter * (0.9 + 0.7 * f64::from(i)));
            let about = |out: f64| {
                holes.iter().flat_map(move |i| {
                    let ([x, y], radius) = self.hole(*i);
                    let far = radius + out;
                    let near = radius * 0.5 + half;
                    [
                        [x, y - far],
                        [x, y + far],
                        [x + far + half, y],
                        [x - far - half, y],
                        [x + near, y - far],
                        [x - near, y - far],
                        [x + near, y + far],
                        [x - near, y + far],
                    ]
                })
            };
            let places = steps.flat_map(about).map(|at| Word { at, text: text.clone() });
            if let Some(word) = self.best(room, places) {
                room.rects.push(self.room_of(&word));
                words.push(word);
            }
        }
        words
    }
}
