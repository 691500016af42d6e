//! Plates at 1:1 on paper: to be cut out, glued on, centre-punched and cut.
//!
//! All looks are in `assets/sheet/plates.typ`.

mod outline;
mod scribes;
mod tiles;

use rearend::brackets::Plate;
use rearend::figures::CAUTION;
use rearend::findings::capitalised;
use rearend::tape::Units;
use serde::Serialize;
use thiserror::Error;

use crate::typeset::{Files, Paper, TypesetError, pdf};
use outline::{Piece, pieces};
use scribes::{Line, Meaning, lines};
use tiles::{Tile, Turn, tiles};

const TEMPLATE: &str = include_str!("../../../assets/sheet/plates.typ");

const MM: f64 = 1e3;

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
    notes: Vec<String>,
    start: [f64; 2],
    outline: Vec<Piece>,
    holes: Vec<HoleData>,
    scribes: Vec<Line>,
    letters: Vec<Meaning>,
    tiles: Vec<Tile>,
}

#[derive(Serialize)]
struct HoleData {
    at: [f64; 2],
    radius: f64,
    text: String,
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
    let (turn, tiles) = tiles(plate, paper);
    let holes = plate.holes.iter().map(|hole| HoleData {
        at: turn.mm(hole.at),
        radius: hole.diameter_m / 2.0 * MM,
        text: units.movement(hole.diameter_m),
    });
    let (scribes, letters) = lines(plate, turn);
    PlateData {
        name: capitalised(&plate.name),
        count: plate.count,
        thickness: thickness(plate.thickness_m, units),
        notes: plate.notes.clone(),
        start: turn.mm(plate.outline.start),
        outline: pieces(&plate.outline, turn),
        holes: holes.collect(),
        scribes,
        letters,
        tiles,
    }
}

/// As plate is sold: a fraction of an inch where it is one.
fn thickness(thickness_m: f64, units: Units) -> String {
    let step_m = Units::Sixteenths.step_m();
    let is_fraction = (thickness_m / step_m - (thickness_m / step_m).round()).abs() < 1e-3;
    if units == Units::Sixteenths && is_fraction {
        units.length(thickness_m)
    } else {
        units.movement(thickness_m)
    }
}

impl Turn {
    /// A point as it lies on the paper, mm.
    fn mm(self, at: nalgebra::Point2<f64>) -> [f64; 2] {
        let [x, y] = self.place(at);
        [x * MM, y * MM]
    }
}
