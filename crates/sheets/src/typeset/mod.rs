//! From typst source and files in memory to a PDF.

mod paper;
mod world;

use thiserror::Error;
use typst::diag::SourceDiagnostic;
use typst::foundations::{Datetime, Smart};
use typst::{World, WorldExt};
use typst_pdf::{PdfOptions, Timestamp};

pub use paper::Paper;
pub use world::Files;

use world::Desk;

/// A day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Date {
    /// Year.
    pub year: i32,
    /// Month, from 1.
    pub month: u8,
    /// Day of the month, from 1.
    pub day: u8,
}

impl Date {
    fn typst(self) -> Option<Datetime> {
        Datetime::from_ymd(self.year, self.month, self.day)
    }

    /// Year, month, day: nobody mistakes one for the other.
    #[must_use]
    pub fn text(self) -> String {
        format!("{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

/// What in a template could not be typeset.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{}{message}", place(file.as_deref(), *line))]
pub struct TypesetError {
    /// The file that it is in, where it is in one.
    pub file: Option<String>,
    /// Its line, from 1.
    pub line: Option<usize>,
    /// What is wrong there.
    pub message: String,
}

fn place(file: Option<&str>, line: Option<usize>) -> String {
    match (file, line) {
        (Some(file), Some(line)) => format!("{file}, line {line}: "),
        (Some(file), None) => format!("{file}: "),
        (None, _) => String::new(),
    }
}

/// The PDF of `main`, the name of one of the files.
///
/// # Errors
/// The first thing in the sources that cannot be typeset, with file and line.
pub fn pdf(main: &str, files: &Files, date: Option<Date>) -> Result<Vec<u8>, TypesetError> {
    let desk = Desk::new(main, files, date).ok_or_else(|| TypesetError {
        file: Some(main.to_owned()),
        line: None,
        message: "this is no name of a file".to_owned(),
    })?;
    let document = typst::compile(&desk).output;
    let options = PdfOptions {
        creator: Smart::Custom(Some("Axlewright".to_owned())),
        timestamp: date.and_then(Date::typst).map(Timestamp::new_utc),
        ..PdfOptions::default()
    };
    let written = document.and_then(|document| typst_pdf::pdf(&document, &options));
    // What was remembered for the next run is let go of: there may be none for hours.
    typst::comemo::evict(0);
    written.map_err(|all| explain(&desk, all.first()))
}

fn explain(desk: &Desk, error: Option<&SourceDiagnostic>) -> TypesetError {
    let Some(error) = error else {
        return TypesetError {
            file: None,
            line: None,
            message: "the sheet cannot be typeset".to_owned(),
        };
    };
    let id = error.span.id();
    let line = id.and_then(|id| {
        let start = desk.range(error.span)?.start;
        let line = desk.source(id).ok()?.lines().byte_to_line(start)?;
        Some(line + 1)
    });
    let hint = error
        .hints
        .first()
        .map_or_else(String::new, |hint| format!("; {}", hint.v));
    TypesetError {
        file: id.map(|id| id.get().vpath().get_without_slash().to_owned()),
        line,
        message: format!("{}{hint}", error.message),
    }
}
