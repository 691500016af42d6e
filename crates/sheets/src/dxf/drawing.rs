//! What is drawn of a plate, and on which layer. Everything here is in the file's unit.

use rearend::brackets::{Hole, Plate, Scribe};
use rearend::figures::CAUTION;

use super::profile::{Corner, NOWHERE, SAME_M, around, bounds, corners, distance};
use super::{DxfError, DxfUnit};
use crate::lettering::{ArrowAt, At, Lettering, Lie, Word};

/// The layers, in the order they are listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Layer {
    Cut,
    Mark,
    Notes,
    Check,
}

impl Layer {
    pub(super) const ALL: [Self; 4] = [Self::Cut, Self::Mark, Self::Notes, Self::Check];

    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Cut => "CUT",
            Self::Mark => "MARK",
            Self::Notes => "NOTES",
            Self::Check => "CHECK",
        }
    }

    /// Number in the colour index: black or white, red, green, blue.
    pub(super) fn colour(self) -> u8 {
        match self {
            Self::Cut => 7,
            Self::Mark => 1,
            Self::Notes => 3,
            Self::Check => 5,
        }
    }
}

pub(super) enum Shape {
    /// Closed.
    Profile(Vec<Corner>),
    Circle {
        centre: [f64; 2],
        radius: f64,
    },
    Line {
        from: [f64; 2],
        to: [f64; 2],
    },
    /// A line of words from its lower left corner.
    Words {
        at: [f64; 2],
        height: f64,
        words: String,
    },
}

pub(super) struct Drawing {
    pub(super) shapes: Vec<(Layer, Shape)>,
    /// Lower left and upper right corner of everything, words by estimate.
    pub(super) extent: [[f64; 2]; 2],
}

/// Letters a line: about as wide as a bracket with its check square.
const LINE_LETTERS: usize = 68;
/// From the bottom of a line to that of the next, in letters' heights.
const PITCH: f64 = 1.75;
/// Width of a letter in its heights, generously.
const LETTER_WIDTH: f64 = 0.9;
/// The same, as most readers draw it.
const DRAWN_WIDTH: f64 = 0.75;

impl Drawing {
    /// Draws a plate: what is cut and marked, the check square right of it, the words under it.
    pub(super) fn of(plate: &Plate, unit: DxfUnit, notes: &[String]) -> Result<Self, DxfError> {
        let scale = Scale(unit);
        let outline: Vec<Corner> = corners(&plate.outline, &plate.name)?
            .into_iter()
            .map(|c| Corner {
                at: scale.point(c.at),
                ..c
            })
            .collect();
        let [low, high] = bounds(&outline);
        let plate = &Plate {
            holes: holes(plate)?,
            scribes: scribes(plate)?,
            ..plate.clone()
        };
        let mut shapes = vec![(Layer::Cut, Shape::Profile(outline))];
        shapes.extend(plate.holes.iter().map(|h| (Layer::Cut, scale.hole(*h))));
        for scribe in &plate.scribes {
            let [from, to] = ends(scribe).map(|p| scale.point(p));
            shapes.push((Layer::Mark, Shape::Line { from, to }));
        }
        let written = scale.written(plate, [low, high]);
        shapes.extend(scale.lettering(plate, &written));
        shapes.extend(check_square([high[0] + scale.gap(), low[1]], scale));
        let mut at = [low[0], low[1] - scale.gap() - scale.letter()];
        for line in lines(plate, unit, notes, &written) {
            shapes.extend(scale.words(at, &line));
            at[1] -= PITCH * scale.letter();
        }
        let extent = shapes.iter().flat_map(|(_, s)| s.reach()).fold(NOWHERE, around);
        Ok(Self { shapes, extent })
    }
}

impl Shape {
    /// Opposite corners of what it takes.
    fn reach(&self) -> [[f64; 2]; 2] {
        match self {
            Self::Profile(corners) => bounds(corners),
            Self::Circle { centre: [x, y], radius } => [[x - radius, y - radius], [x + radius, y + radius]],
            Self::Line { from, to } => [*from, *to],
            Self::Words { at, height, words } => {
                let width: f64 = words.chars().map(|_| LETTER_WIDTH * height).sum();
                [*at, [at[0] + width, at[1] + height]]
            }
        }
    }
}

/// Metres to the file's unit, and the sizes of what is no part of the plate.
#[derive(Clone, Copy)]
struct Scale(DxfUnit);

impl Scale {
    fn length(self, length_m: f64) -> f64 {
        length_m / self.0.tape().unit_m()
    }

    fn point(self, at_m: [f64; 2]) -> [f64; 2] {
        at_m.map(|c| self.length(c))
    }

    /// Height of the letters: an eighth of an inch or so.
    fn letter(self) -> f64 {
        self.0.check_side() / 16.0
    }

    /// From the plate to what is beside it: no kerf or lead-in reaches so far.
    fn gap(self) -> f64 {
        self.0.check_side() / 4.0
    }

    fn hole(self, hole: Hole) -> Shape {
        Shape::Circle {
            centre: self.point([hole.at.x, hole.at.y]),
            radius: self.length(hole.diameter_m) / 2.0,
        }
    }

    /// Words on their layer; none for none.
    fn words(self, at: [f64; 2], words: &str) -> Option<(Layer, Shape)> {
        let (height, words) = (self.letter(), words.to_owned());
        (!words.is_empty()).then_some((Layer::Notes, Shape::Words { at, height, words }))
    }
}

/// Length of an arrow's head, and half its width, in heights of letters.
const HEAD: [f64; 2] = [1.1, 0.4];

/// Height of the number in a hole, as a part of the hole's radius.
const IN_HOLE: f64 = 0.5;

impl Scale {
    /// What is written on the plate and about it: above it or to its left where there is no room on it, since words and square are elsewhere.
    fn written(self, plate: &Plate, [low, high]: [At; 2]) -> Lettering {
        let side = self.0.check_side();
        Lettering::of(&Lie {
            plate,
            place: &|p| self.point([p.x, p.y]),
            letter: self.letter(),
            arm: 0.0,
            pages: &[[[low[0] - 2.0 * side, low[1]], [high[0], high[1] + side]]],
            taken: &[],
            sizes: &[],
        })
    }

    /// Letters at the lines, numbers in the holes, and the arrows.
    fn lettering(self, plate: &Plate, written: &Lettering) -> Vec<(Layer, Shape)> {
        let radii = plate.holes.iter().map(|hole| self.length(hole.diameter_m) / 2.0);
        let numbers = written.numbers.iter().zip(radii);
        let numbers = numbers.map(|(word, radius)| centred(word, self.letter().min(IN_HOLE * radius)));
        let letters = written.letters.iter().map(|word| centred(word, self.letter()));
        let arrows = written.arrows.iter().flat_map(|arrow| {
            let lines = self.arrow(arrow).map(|[from, to]| Shape::Line { from, to });
            lines.into_iter().chain([centred(&arrow.word, self.letter())])
        });
        numbers
            .chain(letters)
            .chain(arrows)
            .map(|shape| (Layer::Notes, shape))
            .collect()
    }

    /// Its shaft and both sides of its head.
    fn arrow(self, arrow: &ArrowAt) -> [[At; 2]; 3] {
        let (from, to) = (arrow.from, arrow.to);
        let long = distance(from, to).max(SAME_M);
        let [x, y] = [0, 1].map(|i| (to[i] - from[i]) / long);
        let [back, half] = HEAD.map(|h| h * self.letter());
        let side = |half: f64| [to, [to[0] - x * back - y * half, to[1] - y * back + x * half]];
        [[from, to], side(half), side(-half)]
    }
}

/// Words about their middle, as wide as the letters of most readers.
fn centred(word: &Word, height: f64) -> Shape {
    let width: f64 = word.text.chars().map(|_| DRAWN_WIDTH * height).sum();
    Shape::Words {
        at: [word.at[0] - width / 2.0, word.at[1] - height / 2.0],
        height,
        words: word.text.clone(),
    }
}

/// The square to measure before cutting, and what it is, above it.
fn check_square(at: [f64; 2], scale: Scale) -> Vec<(Layer, Shape)> {
    let side = scale.0.check_side();
    let square = [[0.0, 0.0], [side, 0.0], [side, side], [0.0, side]];
    let corners = square.map(|c| Corner::straight([at[0] + c[0], at[1] + c[1]]));
    let label = format!("Check square, {} a side. Not cut.", side_in_words(scale.0));
    let above = [at[0], at[1] + side + scale.letter()];
    let mut shapes = vec![(Layer::Check, Shape::Profile(corners.to_vec()))];
    shapes.extend(scale.words(above, &label));
    shapes
}

fn side_in_words(unit: DxfUnit) -> String {
    format!("{} {}", unit.check_side(), unit.tape().symbol())
}

/// The words under the plate, broken into lines.
fn lines(plate: &Plate, unit: DxfUnit, notes: &[String], written: &Lettering) -> Vec<String> {
    let thickness = unit.tape().movement(plate.thickness_m);
    let own = [plate.name.clone(), format!("Cut {}, {thickness} thick.", plate.count)];
    let letters: Vec<_> = written
        .meanings
        .iter()
        .map(|m| format!("{} {}", m.letter, m.what))
        .collect();
    let letters = (!letters.is_empty()).then(|| format!("Scribed: {}.", letters.join("; ")));
    let way = plate.heading().map(|heading| heading.words);
    let said: Vec<_> = way.into_iter().chain(plate.numbers_in_words()).chain(letters).collect();
    let table = [
        format!(
            "Drawn 1:1 in {}. Measure the check square before you cut: {} a side.",
            unit.label(),
            side_in_words(unit)
        ),
        "Layers: CUT is cut, MARK is scribed, NOTES and CHECK are neither.".to_owned(),
        CAUTION.to_owned(),
    ];
    let further = notes.iter().filter(|n| !plate.notes.contains(n));
    let all = own.iter().chain(&said).chain(&plate.notes).chain(further).chain(&table);
    all.flat_map(|sentence| broken(sentence)).collect()
}

/// A sentence in lines between words. A word that is longer than a line stays whole.
fn broken(sentence: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in sentence.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= LINE_LETTERS => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// The holes, none twice.
fn holes(plate: &Plate) -> Result<Vec<Hole>, DxfError> {
    let mut holes: Vec<Hole> = Vec::new();
    for hole in &plate.holes {
        if ![hole.at.x, hole.at.y, hole.diameter_m].iter().all(|v| v.is_finite()) {
            return Err(DxfError::NotANumber(plate.name.clone()));
        }
        if hole.diameter_m < SAME_M {
            return Err(DxfError::NoDiameter(plate.name.clone()));
        }
        let same = |h: &Hole| (h.at - hole.at).norm() < SAME_M && (h.diameter_m - hole.diameter_m).abs() < SAME_M;
        if !holes.iter().any(same) {
            holes.push(*hole);
        }
    }
    Ok(holes)
}

/// The lines to scribe that have a length, none twice, whichever way they run.
fn scribes(plate: &Plate) -> Result<Vec<Scribe>, DxfError> {
    let mut scribes: Vec<Scribe> = Vec::new();
    for scribe in &plate.scribes {
        let [from, to] = ends(scribe);
        let length_m = distance(from, to);
        if !length_m.is_finite() {
            return Err(DxfError::NotANumber(plate.name.clone()));
        }
        let same = |a: [f64; 2], b: [f64; 2]| distance(a, from) < SAME_M && distance(b, to) < SAME_M;
        let there = scribes.iter().map(ends).any(|[a, b]| same(a, b) || same(b, a));
        if length_m > SAME_M && !there {
            scribes.push(scribe.clone());
        }
    }
    Ok(scribes)
}

fn ends(scribe: &Scribe) -> [[f64; 2]; 2] {
    [[scribe.from.x, scribe.from.y], [scribe.to.x, scribe.to.y]]
}
