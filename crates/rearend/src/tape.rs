//! Lengths as people read them off a tape and type them.

use std::fmt::Write;

use serde::{Deserialize, Serialize};
use thiserror::Error;

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

    /// Reads a typed length; a number without a unit is in this unit.
    ///
    /// Takes whole numbers, decimals, fractions and mixed numbers (`19 1/4`, `19-1/4`), the units `"`, `in`, `'`, `ft`, `mm`, `cm`, `m`,
    /// and sums, differences, products and quotients with brackets (`34/2 - 1 1/8`).
    ///
    /// # Errors
    /// Says what could not be read, and where.
    pub fn read(self, text: &str) -> Result<f64, TapeError> {
        let length_m = Reader::new(text, self.unit_m())?.whole()?;
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
    /// Something that is no part of a length.
    #[error("\"{0}\" is not part of a length; type it like 19 1/4 or 489mm")]
    Unexpected(String),
    /// It stops in the middle.
    #[error("the length stops short; type it like 34/2 - 1 1/8")]
    StopsShort,
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
    let n = (length_m / INCH_M * 16.0).round();
    let sign = if n < 0.0 { "-" } else { "" };
    let n = n.abs();
    let (whole, mut top) = ((n / 16.0).floor(), n % 16.0);
    let mut bottom = 16.0;
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
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// An angle as the screen shows it.
#[must_use]
pub fn degrees(angle_rad: f64, decimals: usize) -> String {
    let mut text = fixed(angle_rad.to_degrees(), decimals);
    let _ = write!(text, "°");
    text
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Token {
    Number {
        value: f64,
        whole: bool,
        spaced: bool,
    },
    Unit(f64),
    /// `spaced` is true with a space on its left.
    Sign {
        symbol: char,
        spaced: bool,
    },
}

/// Recursive descent over the tokens of one typed length. A quantity carries its dimension, so that `34/2` is a length and `2 in * 3 in` an error.
struct Reader {
    tokens: Vec<Token>,
    at: usize,
    bare_m: f64,
    depth: usize,
}

/// A value and whether a unit was given.
#[derive(Clone, Copy)]
struct Quantity {
    value: f64,
    has_unit: bool,
}

impl Reader {
    const DEEPEST: usize = 32;

    fn new(text: &str, bare_m: f64) -> Result<Self, TapeError> {
        let tokens = tokens(text)?;
        if tokens.is_empty() {
            Err(TapeError::Empty)
        } else {
            Ok(Self {
                tokens,
                at: 0,
                bare_m,
                depth: 0,
            })
        }
    }

    fn whole(mut self) -> Result<f64, TapeError> {
        let sum = self.sum()?;
        match self.tokens.get(self.at) {
            None => Ok(self.in_metres(sum)),
            Some(token) => Err(TapeError::Unexpected(token.text())),
        }
    }

    fn in_metres(&self, q: Quantity) -> f64 {
        if q.has_unit { q.value } else { q.value * self.bare_m }
    }

    fn sum(&mut self) -> Result<Quantity, TapeError> {
        let mut sum = self.product()?;
        while let Some(symbol) = self.take_sign(&['+', '-']) {
            let term = self.product()?;
            // A bare number beside one with a unit is in the unit of the screen.
            if sum.has_unit != term.has_unit {
                sum = Quantity {
                    value: self.in_metres(sum),
                    has_unit: true,
                };
            }
            let term = if sum.has_unit { self.in_metres(term) } else { term.value };
            sum.value += if symbol == '-' { -term } else { term };
        }
        Ok(sum)
    }

    fn product(&mut self) -> Result<Quantity, TapeError> {
        let mut product = self.factor()?;
        while let Some(symbol) = self.take_sign(&['*', '/']) {
            let factor = self.factor()?;
            let both_lengths = product.has_unit && factor.has_unit;
            if both_lengths || (symbol == '/' && factor.has_unit) {
                return Err(TapeError::Unexpected(format!("{symbol} a length")));
            }
            let value = if symbol == '*' {
                product.value * factor.value
            } else {
                product.value / factor.value
            };
            product = Quantity {
                value,
                has_unit: product.has_unit || factor.has_unit,
            };
        }
        Ok(product)
    }

    fn factor(&mut self) -> Result<Quantity, TapeError> {
        self.depth += 1;
        if self.depth > Self::DEEPEST {
            return Err(TapeError::Unexpected("(".to_owned()));
        }
        let factor = match self.take_sign(&['-', '+', '(']) {
            Some('-') => self.factor().map(|q| Quantity { value: -q.value, ..q }),
            Some('+') => self.factor(),
            Some(_) => {
                let inner = self.sum()?;
                self.take_sign(&[')']).ok_or(TapeError::StopsShort)?;
                Ok(inner)
            }
            None => self.number(),
        };
        self.depth -= 1;
        self.with_unit(factor?)
    }

    /// A number, or a whole number with a fraction after a space or a close hyphen.
    fn number(&mut self) -> Result<Quantity, TapeError> {
        let Some(&Token::Number { value, whole, .. }) = self.tokens.get(self.at) else {
            return Err(self
                .tokens
                .get(self.at)
                .map_or(TapeError::StopsShort, |t| TapeError::Unexpected(t.text())));
        };
        self.at += 1;
        let fraction = if whole { self.fraction_behind() } else { None };
        Ok(Quantity {
            value: value + fraction.unwrap_or(0.0),
            has_unit: false,
        })
    }

    fn fraction_behind(&mut self) -> Option<f64> {
        let hyphen = usize::from(matches!(
            self.tokens.get(self.at),
            Some(Token::Sign {
                symbol: '-',
                spaced: false
            })
        ));
        let rest = self.tokens.get(self.at + hyphen..)?;
        let [
            Token::Number {
                value: top,
                whole: true,
                spaced,
            },
            Token::Sign {
                symbol: '/',
                spaced: false,
            },
            Token::Number {
                value: bottom,
                whole: true,
                ..
            },
            ..,
        ] = rest
        else {
            return None;
        };
        // 34 - 1/8 is a difference, 34-1/8 and 34 1/8 are mixed numbers; 34-9/2 is a difference again.
        if (hyphen == 1 && *spaced) || *bottom == 0.0 || top >= bottom {
            return None;
        }
        self.at += hyphen + 3;
        Some(top / bottom)
    }

    fn with_unit(&mut self, q: Quantity) -> Result<Quantity, TapeError> {
        let Some(&Token::Unit(unit_m)) = self.tokens.get(self.at) else {
            return Ok(q);
        };
        self.at += 1;
        if q.has_unit {
            return Err(TapeError::Unexpected("a second unit".to_owned()));
        }
        let mut length = Quantity {
            value: q.value * unit_m,
            has_unit: true,
        };
        // 4' 3 1/2" and the like: a smaller unit follows without a sign.
        if matches!(self.tokens.get(self.at), Some(Token::Number { .. })) {
            let number = self.number()?;
            let rest = self.with_unit(number)?;
            length.value += self.in_metres(rest).copysign(q.value);
        }
        Ok(length)
    }

    fn take_sign(&mut self, wanted: &[char]) -> Option<char> {
        match self.tokens.get(self.at) {
            Some(&Token::Sign { symbol, .. }) if wanted.contains(&symbol) => {
                self.at += 1;
                Some(symbol)
            }
            _ => None,
        }
    }
}

impl Token {
    fn text(self) -> String {
        match self {
            Self::Number { value, .. } => value.to_string(),
            Self::Unit(_) => "a unit".to_owned(),
            Self::Sign { symbol, .. } => symbol.to_string(),
        }
    }
}

fn tokens(text: &str) -> Result<Vec<Token>, TapeError> {
    if text.len() > 200 {
        return Err(TapeError::OutOfRange);
    }
    let mut tokens = Vec::new();
    let mut rest = text;
    loop {
        let trimmed = rest.trim_start();
        let spaced = trimmed.len() < rest.len();
        let Some(first) = trimmed.chars().next() else {
            return Ok(tokens);
        };
        let length = match first {
            '0'..='9' | '.' => {
                let end = trimmed
                    .find(|c: char| !c.is_ascii_digit() && c != '.')
                    .unwrap_or(trimmed.len());
                let digits = &trimmed[..end];
                let value = digits.parse().map_err(|_| TapeError::Unexpected(digits.to_owned()))?;
                tokens.push(Token::Number {
                    value,
                    whole: !digits.contains('.'),
                    spaced,
                });
                end
            }
            c if c.is_alphabetic() => {
                let end = trimmed.find(|c: char| !c.is_alphabetic()).unwrap_or(trimmed.len());
                tokens.push(Token::Unit(unit(&trimmed[..end])?));
                end
            }
            '"' | '\u{2033}' | '\u{201d}' => push(&mut tokens, Token::Unit(INCH_M), first),
            '\'' | '\u{2032}' | '\u{2019}' => push(&mut tokens, Token::Unit(12.0 * INCH_M), first),
            '-' | '\u{2212}' | '\u{2013}' => push(&mut tokens, Token::Sign { symbol: '-', spaced }, first),
            '+' | '*' | '/' | '(' | ')' => push(&mut tokens, Token::Sign { symbol: first, spaced }, first),
            other => return Err(TapeError::Unexpected(other.to_string())),
        };
        rest = &trimmed[length..];
    }
}

fn push(tokens: &mut Vec<Token>, token: Token, from: char) -> usize {
    tokens.push(token);
    from.len_utf8()
}

fn unit(name: &str) -> Result<f64, TapeError> {
    match name.to_lowercase().as_str() {
        "mm" => Ok(1e-3),
        "cm" => Ok(1e-2),
        "m" => Ok(1.0),
        "in" | "inch" | "inches" => Ok(INCH_M),
        "ft" => Ok(12.0 * INCH_M),
        _ => Err(TapeError::Unexpected(name.to_owned())),
    }
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
