//! Plates at 1:1 on paper: to be cut out, glued on, centre-punched and cut.
//!
//! All looks are in `assets/sheet/plates.typ`.

mod outline;
mod tiles;

use nalgebra::Point2;
use rearend::brackets::Plate;
use rearend::figures::CAUTION;
use rearend::findings::capitalised;
use rearend::tape::Units;
use serde::Serialize;
use thiserror::Error;

use crate::lettering::{At, Lettering, Lie, Meaning, Rect};
use crate::typeset::{Files, Paper, TypesetError, pdf};
use outline::{Piece, pieces};
use tiles::{Laid, Tile, Turn, laid};

pub(crate) use outline::points as arc_points;

const TEMPLATE: &str = include_str!("../../../assets/sheet/plates.typ");

const MM: f64 = 1e3;

/// Height of small letters and how far the arms of a hole's cross reach beyond it, mm: as `plates.typ` sets them.
const LETTER_MM: f64 = 1.9;
const ARM_MM: f64 = 2.0;

/// Side of the room that a register mark takes with its letter, mm.
const MARK_MM: f64 = 11.0;

/// Why there are no templates.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum TemplateError {
    /// There is nothing to draw.
    #[error("there are no plates to draw: the setup has no brackets")]
    NoPlates,
    /// Not expected of our own template.
    #[error("the templates cannot be made: {0}")]
    Typeset(#[from] TypesetError),
    /// What it is given cannot be written down.
    #[error("the templates cannot be made: {0}")]
    Data(String),
}

/// What the template reads: millimetres, x to the right and y up.
#[derive(Serialize)]
struct Data {
    paper: &'static str,
    caution: &'static str,
    /// Side of the square that is measured after printing, and its words.
    check: (f64, String),
    plates: Vec<PlateData>,
}

#[derive(Serialize)]
struct PlateData {
    name: String,
    count: usize,
    thickness: String,
    overall: String,
    way: Option<String>,
    notes: Vec<String>,
    start: At,
    outline: Vec<Piece>,
    holes: Vec<HoleData>,
    scribes: Vec<[At; 2]>,
    letters: Vec<Meaning>,
    arrows: Vec<[At; 2]>,
    words: Vec<WordData>,
    tiles: Vec<Tile>,
}

#[derive(Serialize)]
struct HoleData {
    at: At,
    radius: f64,
}

#[derive(Serialize)]
struct WordData {
    at: At,
    text: String,
    kind: &'static str,
}

/// Every plate at 1:1, each on a page of its own, on as many as it needs where it is larger than the paper.
///
/// # Errors
/// Where there are no plates.
pub fn templates(plates: &[Plate], units: Units, paper: Paper) -> Result<Vec<u8>, TemplateError> {
    if plates.is_empty() {
        return Err(TemplateError::NoPlates);
    }
    let check = match units {
        Units::Millimetres => (50.0, "50 mm".to_owned()),
        Units::Sixteenths | Units::DecimalInches => (50.8, "2 in".to_owned()),
    };
    let data = Data {
        paper: paper.key(),
        caution: CAUTION,
        check,
        plates: plates.iter().map(|plate| plate_data(plate, units, paper)).collect(),
    };
    let data = serde_json::to_vec(&data).map_err(|e| TemplateError::Data(e.to_string()))?;
    let files = Files::from([
        ("data.json".to_owned(), data),
        ("plates.typ".to_owned(), TEMPLATE.into()),
    ]);
    Ok(pdf("plates.typ", &files, None)?)
}

fn plate_data(plate: &Plate, units: Units, paper: Paper) -> PlateData {
    let laid = laid(plate, paper);
    let turn = laid.turn;
    let holes = plate.holes.iter().map(|hole| HoleData {
        at: turn.mm(hole.at),
        radius: hole.diameter_m / 2.0 * MM,
    });
    let scribes = plate.scribes.iter().map(|s| [s.from, s.to].map(|p| turn.mm(p)));
    let written = written(plate, &laid, units);
    let overall = plate.bounds();
    let overall = (overall[1] - overall[0]).map(|side| units.length(side));
    PlateData {
        name: capitalised(&plate.name),
        count: plate.count,
        thickness: units.size(plate.thickness_m),
        overall: format!("{} × {}", overall.x, overall.y),
        way: plate.heading().map(|heading| heading.words),
        notes: notes(plate, &laid),
        start: turn.mm(plate.outline.start),
        outline: pieces(&plate.outline, turn),
        holes: holes.collect(),
        scribes: scribes.collect(),
        arrows: written.arrows.iter().map(|a| [a.from, a.to]).collect(),
        words: words(&written),
        letters: written.meanings,
        tiles: laid.tiles,
    }
}

fn notes(plate: &Plate, laid: &Laid) -> Vec<String> {
    let cut = laid
        .cuts_a_hole
        .then(|| "A seam runs through a hole: centre-punch it before the pages are parted again.".to_owned());
    plate
        .notes
        .iter()
        .cloned()
        .chain(plate.numbers_in_words())
        .chain(cut)
        .collect()
}

fn written(plate: &Plate, laid: &Laid, units: Units) -> Lettering {
    let mut sizes: Vec<(String, Vec<usize>)> = Vec::new();
    for (i, hole) in plate.holes.iter().enumerate() {
        let text = units.drill(hole.diameter_m);
        match sizes.iter_mut().find(|(other, _)| *other == text) {
            Some((_, holes)) => holes.push(i),
            None => sizes.push((text, vec![i])),
        }
    }
    for (text, holes) in &mut sizes {
        let several = if holes.len() > 1 {
            format!("{} × ", holes.len())
        } else {
            String::new()
        };
        *text = format!("{several}⌀ {text}");
    }
    let marks = laid.tiles.iter().flat_map(|tile| &tile.marks);
    let taken: Vec<_> = marks.map(|mark| Rect::level(mark.at, [MARK_MM; 2])).collect();
    Lettering::of(&Lie {
        plate,
        place: &|p| laid.turn.mm(p),
        letter: LETTER_MM,
        arm: ARM_MM,
        pages: &laid.pages,
        taken: &taken,
        sizes: &sizes,
    })
}

fn words(written: &Lettering) -> Vec<WordData> {
    let ways = written.arrows.iter().map(|arrow| &arrow.word);
    let sizes = written.sizes.iter().map(|word| (word, "size"));
    let all = sizes
        .chain(written.numbers.iter().map(|word| (word, "number")))
        .chain(written.letters.iter().map(|word| (word, "letter")))
        .chain(ways.map(|word| (word, "way")));
    all.map(|(word, kind)| WordData {
        at: word.at,
        text: word.text.clone(),
        kind,
    })
    .collect()
}

impl Turn {
    /// A point as it lies on the paper, mm.
    fn mm(self, at: Point2<f64>) -> At {
        self.place(at).map(|v| v * MM)
    }
}
