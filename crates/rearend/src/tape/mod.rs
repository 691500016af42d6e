//! Lengths as people read them off a tape and type them.

mod dimension;
mod read;
mod size;
mod ways;

use std::fmt::Write;

use serde::{Deserialize, Serialize};
use thiserror::Error;

pub use dimension::Dimension;
pub use ways::Ways;

const INCH_M: f64 = 0.0254;

/// How lengths are shown, and what a bare number means when typed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Units {
    /// Inches in sixteenths.
    #[default]
    Sixteenths,
    /// Decimal inches.
    DecimalInches,
    /// Millimetres.
    Millimetres,
}

impl Units {
    /// All of them, in the order they are offered.
    pub const ALL: [Self; 3] = [Self::Sixteenths, Self::DecimalInches, Self::Millimetres];

    /// What the menu calls it.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Sixteenths => "inches, sixteenths",
            Self::DecimalInches => "inches, decimal",
            Self::Millimetres => "millimetres",
        }
    }

    /// The step that drags snap to and arrow keys nudge by, m.
    #[must_use]
    pub fn step_m(self) -> f64 {
        match self {
            Self::Sixteenths => INCH_M / 16.0,
            Self::DecimalInches => INCH_M / 20.0,
            Self::Millimetres => 1e-3,
        }
    }

    /// Size of one unit as typed and plotted, m.
    #[must_use]
    pub fn unit_m(self) -> f64 {
        match self {
            Self::Sixteenths | Self::DecimalInches => INCH_M,
            Self::Millimetres => 1e-3,
        }
    }

    /// Abbreviation of that unit.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Sixteenths | Self::DecimalInches => "in",
            Self::Millimetres => "mm",
        }
    }

    /// A position or a bar's length, as a tape reads it: to the sixteenth, hundredth of an inch, or half millimetre.
    #[must_use]
    pub fn length(self, length_m: f64) -> String {
        match self {
            Self::Sixteenths => sixteenths(length_m),
            Self::DecimalInches => format!("{} in", fixed(length_m / INCH_M, 2)),
            Self::Millimetres => format!("{} mm", fixed(length_m * 1e3, 1)),
        }
    }

    /// A small movement, finer than a tape: sixteenths would hide it, so inches are decimal here.
    #[must_use]
    pub fn movement(self, length_m: f64) -> String {
        match self {
            Self::Sixteenths | Self::DecimalInches => format!("{} in", fixed(length_m / INCH_M, 3)),
            Self::Millimetres => format!("{} mm", fixed(length_m * 1e3, 2)),
        }
    }

    /// Text for an edit box: what [`Units::read`] takes back without loss of more than the screen shows.
    #[must_use]
    pub fn editable(self, length_m: f64) -> String {
        match self {
            Self::Sixteenths if is_whole_sixteenths(length_m) => sixteenths(length_m).trim_end_matches('"').to_owned(),
            Self::Sixteenths | Self::DecimalInches => fixed_trimmed(length_m / INCH_M, 4),
            Self::Millimetres => fixed_trimmed(length_m * 1e3, 3),
        }
    }

    /// From one mark of the tape to the next as it is read, m.
    fn mark_m(self) -> f64 {
        match self {
            Self::Sixteenths => INCH_M / 16.0,
            Self::DecimalInches => INCH_M / 100.0,
            Self::Millimetres => 1e-4,
        }
    }

    /// The nearest that a tape reads, without the unit: to the sixteenth, hundredth of an inch, or tenth of a millimetre.
    fn rounded(self, length_m: f64) -> String {
        match self {
            Self::Sixteenths => sixteenths(length_m).trim_end_matches('"').to_owned(),
            Self::DecimalInches => fixed_trimmed(length_m / INCH_M, 2),
            Self::Millimetres => fixed_trimmed(length_m * 1e3, 1),
        }
    }

    /// Reads a typed length; a number without a unit is in this unit.
    ///
    /// Takes whole numbers, decimals, fractions and mixed numbers (`19 1/4`, `19-1/4`), the units `"`, `in`, `'`, `ft`, `mm`, `cm`, `m`,
    /// and sums, differences, products and quotients with brackets (`34/2 - 1 1/8`).
    ///
    /// # Errors
    /// Says what could not be read, and where.
    pub fn read(self, text: &str) -> Result<f64, TapeError> {
        let length_m = read::length_m(text, self.unit_m())?;
        if length_m.is_finite() && length_m.abs() <= 20.0 {
            Ok(length_m)
        } else {
            Err(TapeError::OutOfRange)
        }
    }
}

/// Why a typed length cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum TapeError {
    /// Nothing was typed.
    #[error("a length is expected, such as 19 1/4 or 489mm")]
    Empty,
    /// Nothing was typed where a number is wanted.
    #[error("a number is expected, such as 2.5")]
    NoNumber,
    /// Something else than a number.
    #[error("\"{0}\" is no number; type one like 2.5")]
    NotANumber(String),
    /// Something that is no part of a length.
    #[error("\"{0}\" is not part of a length; type it like 19 1/4 or 489mm")]
    Unexpected(String),
    /// It stops in the middle.
    #[error("the length stops short; type it like 34/2 - 1 1/8")]
    StopsShort,
    /// Less than nothing and a way besides.
    #[error("a minus and \"{plus}\" or \"{minus}\" do not go together: type one or the other")]
    SignAndWord {
        /// The word for more than nothing.
        plus: &'static str,
        /// The word for less.
        minus: &'static str,
    },
    /// Divided by nothing, or longer than any truck.
    #[error("that is no length a truck has")]
    OutOfRange,
}

fn is_whole_sixteenths(length_m: f64) -> bool {
    let n = length_m / INCH_M * 16.0;
    (n - n.round()).abs() < 1e-4
}

/// Whole inches and the nearest sixteenth, reduced: `19 1/4"`.
fn sixteenths(length_m: f64) -> String {
    fraction(length_m, 16.0)
}

/// Whole inches and the nearest part of an inch, reduced; `parts` to the inch, a power of two.
fn fraction(length_m: f64, parts: f64) -> String {
    let n = (length_m / INCH_M * parts).round();
    let sign = if n < 0.0 { "-" } else { "" };
    let n = n.abs();
    let (whole, mut top) = ((n / parts).floor(), n % parts);
    let mut bottom = parts;
    while top > 0.0 && top % 2.0 == 0.0 {
        (top, bottom) = (top / 2.0, bottom / 2.0);
    }
    match (whole, top) {
        (_, 0.0) => format!("{sign}{whole}\""),
        (0.0, _) => format!("{sign}{top}/{bottom}\""),
        _ => format!("{sign}{whole} {top}/{bottom}\""),
    }
}

/// Fixed decimals without a negative zero.
fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    if text.starts_with('-') && text.bytes().all(|b| matches!(b, b'-' | b'0' | b'.')) {
        text[1..].to_owned()
    } else {
        text
    }
}

fn fixed_trimmed(value: f64, decimals: usize) -> String {
    let text = fixed(value, decimals);
    if decimals == 0 {
        return text;
    }
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// An angle as the screen shows it.
#[must_use]
pub fn degrees(angle_rad: f64, decimals: usize) -> String {
    let mut text = fixed(angle_rad.to_degrees(), decimals);
    let _ = write!(text, "°");
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn inches(text: &str, expected: f64) {
        let read = Units::Sixteenths.read(text).unwrap_or_else(|e| panic!("{text}: {e}")) / INCH_M;
        assert!(
            (read - expected).abs() < 1e-12,
            "{text} read as {read}, expected {expected}"
        );
    }

    #[test]
    fn lengths_are_read_as_people_type_them() {
        inches("19 1/4", 19.25);
        inches("19-1/4\"", 19.25);
        inches("489mm", 489.0 / 25.4);
        inches("34/2 - 1 1/8", 15.875);
        inches("34/2-1 1/8", 15.875);
        inches("3/4", 0.75);
        inches("-3/4", -0.75);
        inches("3/4\"", 0.75);
        inches("-3/4 in", -0.75);
        inches("19 1/4\" - 3/4\"", 18.5);
        inches("34/2 in", 17.0);
        inches("-19 1/4", -19.25);
        inches(".5", 0.5);
        inches("4' 3 1/2\"", 51.5);
        inches("12 in + 25.4 mm", 13.0);
        inches("12 + 25.4 mm", 13.0);
        inches("2*(3 1/2 - 1)", 5.0);
        inches("34 - 1/8", 33.875);
        inches("10-4", 6.0);
        inches("  7 ", 7.0);
    }

    #[test]
    fn a_bare_number_is_in_the_unit_of_the_screen() {
        assert_eq!(Units::Millimetres.read("489"), Ok(0.489));
        assert_eq!(Units::Millimetres.read("19 1/4\""), Ok(19.25 * INCH_M));
    }

    #[test]
    fn nonsense_is_named() {
        let read = |t: &str| Units::Sixteenths.read(t);
        assert_eq!(read(""), Err(TapeError::Empty));
        assert_eq!(read("19 +"), Err(TapeError::StopsShort));
        assert_eq!(read("19 1/"), Err(TapeError::Unexpected("1".into())));
        assert_eq!(read("twelve"), Err(TapeError::Unexpected("twelve".into())));
        assert_eq!(read("1/0"), Err(TapeError::OutOfRange));
        assert_eq!(read("3 in * 2 in"), Err(TapeError::Unexpected("* a length".into())));
        assert!(read("1.2.3").is_err());
        assert!(read(&"(".repeat(150)).is_err());
        assert!(read("1e9999").is_err());
        assert!(read("99999999999").is_err());
    }

    #[test]
    fn lengths_are_shown_as_a_tape_reads() {
        let show = |u: Units, inch: f64| u.length(inch * INCH_M);
        assert_eq!(show(Units::Sixteenths, 19.25), "19 1/4\"");
        assert_eq!(show(Units::Sixteenths, -0.4375), "-7/16\"");
        assert_eq!(show(Units::Sixteenths, 2.999), "3\"");
        assert_eq!(show(Units::Sixteenths, -0.01), "0\"");
        assert_eq!(show(Units::DecimalInches, 19.25), "19.25 in");
        assert_eq!(show(Units::Millimetres, 1.0), "25.4 mm");
        assert_eq!(Units::Millimetres.length(-0.00001), "0.0 mm");
    }

    #[test]
    fn what_is_shown_for_editing_reads_back() {
        for units in Units::ALL {
            for sixteenth in -400..400 {
                let length_m = f64::from(sixteenth) * INCH_M / 16.0;
                let read = units.read(&units.editable(length_m)).expect("shown text reads back");
                assert!((read - length_m).abs() <= 1.3e-6, "{units:?} {length_m} {read}");
            }
        }
    }
}
