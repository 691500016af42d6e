//! A setup as text: RON, `format: 1`, millimetres and degrees, meant to be read and edited by hand.

use ron::extensions::Extensions;
use ron::ser::PrettyConfig;
use thiserror::Error;

use crate::setup::{Setup, SetupError};

/// Files larger than this are not read: a setup is a few kilobytes.
pub const LARGEST_BYTES: u64 = 1_000_000;

/// Why a text is no setup.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum FileError {
    /// The text cannot be read as a setup.
    #[error("line {line}, column {column}{}: {expected}", field_clause(.field.as_deref()))]
    Text {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// The field it stands in, where there is one.
        field: Option<String>,
        /// What is wrong, and what was expected.
        expected: String,
    },
    /// It reads, but describes no rear end.
    #[error(transparent)]
    Setup(#[from] SetupError),
    /// Too large.
    #[error("it is {megabytes} MB; a setup is a few kilobytes, and nothing over 1 MB is read")]
    TooLarge {
        /// Its size.
        megabytes: u64,
    },
}

fn field_clause(field: Option<&str>) -> String {
    field.map_or_else(String::new, |f| format!(", field {f}"))
}

fn options() -> ron::Options {
    ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}

/// Reads a setup.
///
/// # Errors
/// Names line, column, field and what was expected; or the part that makes no sense.
pub fn read(text: &str) -> Result<Setup, FileError> {
    let size = text.len() as u64;
    if size > LARGEST_BYTES {
        return Err(FileError::TooLarge {
            megabytes: size.div_ceil(1_000_000),
        });
    }
    let setup: Setup = options().from_str(text).map_err(|e| explain(text, &e))?;
    setup.validate()?;
    Ok(setup)
}

/// Writes a setup. What was read or moved within the program reads back equal.
#[must_use]
pub fn write(setup: &Setup) -> String {
    let style = PrettyConfig::new()
        .depth_limit(3)
        .struct_names(false)
        .extensions(Extensions::empty());
    // Every type of a setup is plain numbers, text, lists and enums, all of which RON can hold.
    let body = options().to_string_pretty(setup, style).unwrap_or_default();
    format!("{body}\n")
}

fn explain(text: &str, error: &ron::error::SpannedError) -> FileError {
    let at = error.span.start;
    FileError::Text {
        line: at.line,
        column: at.col,
        field: field(text, error),
        expected: expected(&error.code),
    }
}

/// The field that the error itself is about, or else the one whose value it stands in.
fn field(text: &str, error: &ron::error::SpannedError) -> Option<String> {
    use ron::Error as E;
    match &error.code {
        E::NoSuchStructField { found, .. } => Some(found.clone()),
        E::MissingStructField { field, .. } | E::DuplicateStructField { field, .. } => Some((*field).to_owned()),
        E::TrailingCharacters => None,
        _ => field_at(text, error),
    }
}

/// The field whose value the error stands in: the last `name:` on the way there.
fn field_at(text: &str, error: &ron::error::SpannedError) -> Option<String> {
    let end = error.span.end;
    let before: String = text
        .lines()
        .take(end.line)
        .enumerate()
        .map(|(i, line)| {
            let line = if i + 1 == end.line {
                line.chars().take(end.col.max(1) - 1).collect()
            } else {
                line.to_owned()
            };
            line.split("//").next().unwrap_or_default().to_owned()
        })
        .collect::<Vec<_>>()
        .join("\n");
    let colon = before.rfind(':')?;
    let name: String = before[..colon]
        .chars()
        .rev()
        .skip_while(|c| c.is_whitespace())
        .take_while(|c| c.is_alphanumeric() || *c == '_')
        .collect();
    let name: String = name.chars().rev().collect();
    (!name.is_empty()).then_some(name)
}

fn expected(code: &ron::Error) -> String {
    use ron::Error as E;
    let known = |names: &[&str]| names.join(", ");
    match code {
        E::Message(message) => message.clone(),
        E::NoSuchStructField { expected, found, .. } => {
            format!("there is no field \"{found}\" here; known are {}", known(expected))
        }
        E::MissingStructField { field, .. } => format!("the field \"{field}\" is missing"),
        E::DuplicateStructField { field, .. } => format!("the field \"{field}\" is given twice"),
        E::NoSuchEnumVariant { expected, found, .. } => {
            format!("\"{found}\" is not known; one of {} is expected", known(expected))
        }
        E::ExpectedFloat | E::ExpectedInteger | E::InvalidIntegerDigit { .. } => "a number is expected".to_owned(),
        E::ExpectedString => "a text in quotation marks is expected".to_owned(),
        E::ExpectedStringEnd => "the quotation mark that ends the text is missing".to_owned(),
        E::InvalidEscape(_) => "a backslash in a text is expected twice: \\\\".to_owned(),
        E::ExpectedIdentifier => "the name of a field is expected".to_owned(),
        E::ExpectedDifferentLength { expected, found } => {
            format!("{expected} are expected in these brackets; {found} are given")
        }
        E::UnexpectedChar(found) => format!("{found} is not expected here"),
        E::TrailingCharacters => "nothing is expected after the setup's closing bracket".to_owned(),
        E::ExpectedStructLike
        | E::ExpectedNamedStructLike(_)
        | E::ExpectedStructName(_)
        | E::ExpectedDifferentStructName { .. } => "an opening bracket \"(\" and fields are expected".to_owned(),
        E::ExpectedStructLikeEnd => "a comma or the closing bracket \")\" is expected".to_owned(),
        E::ExpectedArray => "a list in square brackets is expected".to_owned(),
        E::ExpectedArrayEnd => "a comma or the closing bracket \"]\" is expected".to_owned(),
        E::ExpectedBoolean => "true or false is expected".to_owned(),
        E::ExpectedMapColon => "a colon after the field's name is expected".to_owned(),
        E::ExpectedComma => "a comma is expected".to_owned(),
        E::Eof => "the text ends in the middle; a closing bracket is missing".to_owned(),
        other => other.to_string(),
    }
}
