//! A part of a build sheet: words and tables, ready to be set in type.

/// How a column stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Figures.
    Right,
}

/// A column of a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its head.
    pub name: String,
    /// How it stands.
    pub align: Align,
}

/// A table; every row has as many cells as there are columns.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Table {
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows, figures in the user's units.
    pub rows: Vec<Vec<String>>,
}

/// A part of a build sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Section {
    /// What it is about.
    pub title: String,
    /// What is said before its table, a paragraph each.
    pub text: Vec<String>,
    /// Its table.
    pub table: Option<Table>,
    /// What is said below it, a note each.
    pub notes: Vec<String>,
    /// What is done in turn, where it is an order of work: a step each, hold points begin with "Stop:".
    pub steps: Vec<String>,
}

impl Table {
    /// A table with these columns and no rows: a name that begins with `>` is a column of figures.
    #[must_use]
    pub fn with(columns: &[&str]) -> Self {
        let column = |name: &&str| match name.strip_prefix('>') {
            Some(name) => Column {
                name: name.to_owned(),
                align: Align::Right,
            },
            None => Column {
                name: (*name).to_owned(),
                align: Align::Left,
            },
        };
        Self {
            columns: columns.iter().map(column).collect(),
            rows: Vec::new(),
        }
    }
}
