//! The table in words, and as plain text for a terminal.

use super::{Comparison, Value};
use crate::figures::CAUTION;
use crate::tape::Units;

/// The least room for a setup's name before it is broken over lines.
const NAME_WIDE: usize = 18;

/// Between two columns.
const GAP: &str = "  ";

/// A row in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// What it is.
    pub label: &'static str,
    /// Of every setup: how much, and whether that is the best.
    pub cells: Vec<(String, bool)>,
}

impl Comparison {
    /// Every row in words, lengths in the user's units.
    #[must_use]
    pub fn cells(&self, units: Units) -> Vec<Line> {
        let line = |row: &super::Row| {
            let best = row.best(units);
            let cell = |(i, is_best)| (row.words(i, units), is_best);
            Line {
                label: row.label,
                cells: best.into_iter().enumerate().map(cell).collect(),
            }
        };
        self.rows.iter().map(line).collect()
    }

    /// What has to be known to read it, a sentence each.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        let ends = self.names.iter().enumerate().filter(|(i, _)| self.ends_early(*i));
        let early = ends.map(|(_, name)| {
            format!("The travel of {name} ends early: its figures over the travel go to where it ends, and are not called best.")
        });
        let differ = self.heights_differ.then(|| {
            "Not all of them stand at the same heights: every figure is over the setup's own travel, from its own ride height."
                .to_owned()
        });
        let look =
            "Clearance and counts are from a quick look at a few poses; a setup's own findings look at all of them.";
        early.chain(differ).chain([look.to_owned()]).collect()
    }

    fn ends_early(&self, which: usize) -> bool {
        let reached = |row: &super::Row| matches!(row.values.get(which), Some(Value::Reached(_)));
        self.rows.iter().any(reached)
    }

    /// A table for a terminal: a column a setup, the best figure of a row marked with the word. The caution ends it.
    #[must_use]
    pub fn text(&self, units: Units) -> String {
        let lines = self.cells(units);
        let mut columns = vec![Column {
            head: Vec::new(),
            cells: lines.iter().map(|line| line.label.to_owned()).collect(),
        }];
        for (i, name) in self.names.iter().enumerate() {
            let cells: Vec<String> = lines.iter().filter_map(|line| line.cells.get(i)).map(marked).collect();
            let wide = cells.iter().map(|c| width(c)).max().unwrap_or(0).max(NAME_WIDE);
            let head = broken(name, wide);
            columns.push(Column { head, cells });
        }
        let mut text = set(&columns);
        for paragraph in self.notes().into_iter().chain([CAUTION.to_owned()]) {
            text.push('\n');
            text.push_str(&paragraph);
            text.push('\n');
        }
        text
    }
}

fn marked((words, is_best): &(String, bool)) -> String {
    let mark = if *is_best { ", best" } else { "" };
    format!("{words}{mark}")
}

/// A column of the text: the lines of its head, and its cells.
struct Column {
    head: Vec<String>,
    cells: Vec<String>,
}

impl Column {
    fn wide(&self) -> usize {
        let all = self.head.iter().chain(&self.cells);
        all.map(|text| width(text)).max().unwrap_or(0)
    }
}

/// Columns beside each other, heads standing on a line; nothing trails behind the last.
fn set(columns: &[Column]) -> String {
    let wide: Vec<usize> = columns.iter().map(Column::wide).collect();
    let line = |texts: &mut dyn Iterator<Item = &str>| {
        let padded: Vec<String> = texts.zip(&wide).map(|(text, wide)| format!("{text:<wide$}")).collect();
        format!("{}\n", padded.join(GAP).trim_end())
    };
    let high = columns.iter().map(|c| c.head.len()).max().unwrap_or(0);
    let heads = (0..high).map(|i| {
        // The last line of every head stands above its cells.
        let at = |column: &Column| (i + column.head.len()).checked_sub(high);
        let mut texts = columns
            .iter()
            .map(|c| at(c).and_then(|i| c.head.get(i)).map_or("", String::as_str));
        line(&mut texts)
    });
    let dashes: Vec<String> = wide.iter().map(|wide| "-".repeat(*wide)).collect();
    let rule = line(&mut dashes.iter().map(String::as_str));
    let rows = columns.first().map_or(0, |c| c.cells.len());
    let body = (0..rows).map(|i| line(&mut columns.iter().map(|c| c.cells.get(i).map_or("", String::as_str))));
    heads.chain([rule]).chain(body).collect()
}

/// Letters, as a terminal counts them.
fn width(text: &str) -> usize {
    text.chars().count()
}

/// Broken between words into lines of no more than so many letters; a longer word has a line of its own.
fn broken(text: &str, wide: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if width(line) + 1 + width(word) <= wide => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
