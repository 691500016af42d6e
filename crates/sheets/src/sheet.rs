//! The build sheet: what the shop and its customer hold in their hands.
//!
//! All looks are in `assets/sheet/sheet.typ`, which a shop may change; what it is given is written at its head.

use rearend::answers::Answers;
use rearend::build::{Section, Table, sections};
use rearend::figures::{CAUTION, key_figures};
use rearend::findings::{Finding, Kind, capitalised};
use rearend::setup::Setup;
use rearend::tape::Units;
use serde::Serialize;
use thiserror::Error;

use crate::drawing::{Curve, Drawing, curves, drawings};
use crate::typeset::{Date, Files, Paper, TypesetError, pdf};

/// The template that comes with the program.
pub const SHEET_TEMPLATE: &str = include_str!("../../../assets/sheet/sheet.typ");

/// How drawings are set: a template may import it as `drawing.typ`.
const DRAWING: &str = include_str!("../../../assets/sheet/drawing.typ");

/// Margins of the sheet, m: drawings are made to fit between them.
const MARGINS_M: f64 = 0.024;

/// What of a page's height two drawings with their titles cannot have, m.
const HEADS_M: f64 = 0.066;

/// What a picture is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PictureKind {
    /// PNG.
    Png,
    /// JPEG.
    Jpeg,
    /// SVG.
    Svg,
}

/// A shop's logo.
#[derive(Clone, Copy, Debug)]
pub struct Logo<'a> {
    /// What it is.
    pub kind: PictureKind,
    /// Its file.
    pub data: &'a [u8],
}

/// What a sheet is made of.
#[derive(Clone, Copy, Debug)]
pub struct SheetJob<'a> {
    /// The truck.
    pub setup: &'a Setup,
    /// All answers to it.
    pub answers: &'a Answers,
    /// What was found, the survey of clearances included where it is done.
    pub findings: &'a [Finding],
    /// How lengths are written.
    pub units: Units,
    /// What it is printed on.
    pub paper: Paper,
    /// The shop's name.
    pub shop: Option<&'a str>,
    /// Its logo.
    pub logo: Option<Logo<'a>>,
    /// The day.
    pub date: Option<Date>,
    /// The shop's own template; none for ours.
    pub template: Option<&'a str>,
}

/// Why there is no sheet.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum SheetError {
    /// The template or the logo cannot be typeset.
    #[error("the sheet cannot be made: {0}")]
    Typeset(#[from] TypesetError),
    /// What it is given cannot be written down.
    #[error("the sheet cannot be made: {0}")]
    Data(String),
}

/// What the template reads.
#[derive(Serialize)]
struct Data<'a> {
    title: &'a str,
    layout: String,
    note: &'a str,
    shop: Option<&'a str>,
    logo: Option<&'static str>,
    date: Option<String>,
    paper: &'static str,
    units: &'static str,
    caution: &'static str,
    unsolved: Option<String>,
    figures: Vec<FigureData>,
    findings: Vec<FindingData>,
    drawings: Vec<Drawing>,
    curves: Vec<Curve>,
    sections: Vec<SectionData<'a>>,
}

#[derive(Serialize)]
struct FigureData {
    label: String,
    value: String,
}

#[derive(Serialize)]
struct FindingData {
    grade: &'static str,
    sentence: String,
}

#[derive(Serialize)]
struct SectionData<'a> {
    title: &'a str,
    text: &'a [String],
    table: Option<TableData<'a>>,
    notes: &'a [String],
    steps: &'a [String],
}

#[derive(Serialize)]
struct TableData<'a> {
    columns: Vec<ColumnData<'a>>,
    rows: &'a [Vec<String>],
}

#[derive(Serialize)]
struct ColumnData<'a> {
    name: &'a str,
    align: &'static str,
}

/// The build sheet, as a PDF.
///
/// # Errors
/// What in the template or the logo cannot be typeset, with file and line.
pub fn sheet(job: &SheetJob) -> Result<Vec<u8>, SheetError> {
    let sections = sections(job.setup, job.answers, job.findings, job.units);
    sheet_of(job, &sections)
}

/// The sheet with these sections, as a PDF.
///
/// # Errors
/// What in the template or the logo cannot be typeset, with file and line.
pub fn sheet_of(job: &SheetJob, sections: &[Section]) -> Result<Vec<u8>, SheetError> {
    let data = serde_json::to_vec(&data(job, sections)).map_err(|e| SheetError::Data(e.to_string()))?;
    let template = job.template.unwrap_or(SHEET_TEMPLATE);
    let mut files = Files::from([
        ("data.json".to_owned(), data),
        ("drawing.typ".to_owned(), DRAWING.into()),
        ("sheet.typ".to_owned(), template.into()),
    ]);
    if let Some(logo) = &job.logo {
        files.insert(logo.kind.file_name().to_owned(), logo.data.to_vec());
    }
    Ok(pdf("sheet.typ", &files, job.date)?)
}

fn data<'a>(job: &'a SheetJob, sections: &'a [Section]) -> Data<'a> {
    let (setup, units) = (job.setup, job.units);
    let [width_m, height_m] = job.paper.size_m();
    let room_m = [width_m - MARGINS_M, (height_m - HEADS_M) / 2.0];
    let name = setup.name.trim();
    let figures = key_figures(setup, job.answers, units).into_iter();
    let findings = job.findings.iter().map(|f| FindingData {
        grade: f.grade.word(),
        sentence: f.sentence(setup, units),
    });
    Data {
        title: if name.is_empty() { "Without a name" } else { name },
        layout: capitalised(&setup.layout_name()),
        note: setup.note.trim(),
        shop: job.shop.map(str::trim).filter(|s| !s.is_empty()),
        logo: job.logo.as_ref().map(|logo| logo.kind.file_name()),
        date: job.date.map(Date::text),
        paper: job.paper.key(),
        units: units.label(),
        caution: CAUTION,
        unsolved: unsolved(job),
        figures: figures
            .map(|f| FigureData {
                label: f.label,
                value: f.value,
            })
            .collect(),
        findings: findings.collect(),
        drawings: drawings(setup, job.answers, units, room_m),
        curves: curves(setup, job.answers, units),
        sections: sections.iter().map(section).collect(),
    }
}

/// Why nothing is solved, in the words of its finding.
fn unsolved(job: &SheetJob) -> Option<String> {
    let error = job.answers.solved.as_ref().err()?;
    let found = job.findings.iter().find(|f| matches!(f.kind, Kind::Unsolvable(_)));
    Some(found.map_or_else(
        || capitalised(&format!("{error}.")),
        |f| f.sentence(job.setup, job.units),
    ))
}

fn section(section: &Section) -> SectionData<'_> {
    SectionData {
        title: &section.title,
        text: &section.text,
        table: section.table.as_ref().map(table),
        notes: &section.notes,
        steps: &section.steps,
    }
}

fn table(table: &Table) -> TableData<'_> {
    let columns = table.columns.iter().map(|column| ColumnData {
        name: &column.name,
        align: match column.align {
            rearend::build::Align::Left => "left",
            rearend::build::Align::Right => "right",
        },
    });
    TableData {
        columns: columns.collect(),
        rows: &table.rows,
    }
}

impl PictureKind {
    /// What a file of its name holds, by its ending; none for any other.
    #[must_use]
    pub fn of_file(name: &str) -> Option<Self> {
        let ending = name.rsplit_once('.')?.1.to_ascii_lowercase();
        match ending.as_str() {
            "png" => Some(Self::Png),
            "jpg" | "jpeg" => Some(Self::Jpeg),
            "svg" => Some(Self::Svg),
            _ => None,
        }
    }

    fn file_name(self) -> &'static str {
        match self {
            Self::Png => "logo.png",
            Self::Jpeg => "logo.jpg",
            Self::Svg => "logo.svg",
        }
    }
}
