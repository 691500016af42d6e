//! Tyre sizes as they stand on the sidewall: metric (`255/70R16`), flotation (`33x12.50R15LT`) and numeric (`7.50-16`).

use std::fmt;

use thiserror::Error;

use crate::setup::Wheels;

mod scan;

use scan::Scanner;

const INCH_M: f64 = 0.0254;

/// Axle centre to ground under load, of half the diameter as it stands free: common practice for a radial at its usual pressure, 0.96 to
/// 0.97. A suggestion only; a tape reads it on the truck.
const LOADED_PART: f64 = 0.965;

/// What the size's numbers are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SizeKind {
    /// Section width in mm, height of the section in hundredths of it.
    Metric {
        /// Section width, mm.
        width_mm: f64,
        /// Height of the section, % of the width.
        aspect_pct: f64,
    },
    /// Outside diameter and section width in inches.
    Flotation {
        /// Outside diameter, in.
        outside_in: f64,
        /// Section width, in.
        width_in: f64,
    },
    /// Section width alone: the diameter stands in makers' tables, or is measured.
    Numeric {
        /// The number as printed: inches, or mm where it is 100 or more.
        width: f64,
    },
}

/// How the carcass is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Carcass {
    /// `R`.
    Radial,
    /// `-`, `D` or `B`.
    Bias,
}

/// What the letters before or behind a size stand for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Service {
    /// No letters.
    Plain,
    /// `P`.
    Passenger,
    /// `LT`.
    LightTruck,
    /// `ST`.
    Trailer,
    /// `T`: a spare for a few miles.
    Spare,
}

/// A tyre's size and what it measures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TyreSize {
    /// The numbers as printed.
    pub kind: SizeKind,
    /// Radial or bias.
    pub carcass: Carcass,
    /// What it is for.
    pub service: Service,
    /// Outside diameter, free of load.
    pub outside_m: f64,
    /// Section width on its measuring rim.
    pub width_m: f64,
    /// Nominal diameter of the rim.
    pub rim_m: f64,
}

/// Why a tyre size cannot be read.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum TyreSizeError {
    /// Nothing was typed.
    #[error("a tyre size is expected, such as 255/70R16 or 33x12.50R15")]
    Empty,
    /// Something else stands where a part of the size should.
    #[error("{found} stands where {expected} is expected; type the size like 255/70R16 or 33x12.50R15")]
    Unexpected {
        /// What was found, in quotes, or that it ends.
        found: String,
        /// What was expected.
        expected: &'static str,
    },
    /// A number that no tyre has.
    #[error("{what} of {value} is not made: {range} is expected")]
    OutOfRange {
        /// Which number.
        what: &'static str,
        /// As typed.
        value: f64,
        /// What it may be.
        range: &'static str,
    },
    /// The size does not tell the diameter.
    #[error(
        "{size} tells the width and the rim, not the diameter, which differs between makers: measure across the tyre and type that"
    )]
    NoDiameter {
        /// The size.
        size: String,
    },
    /// A measured diameter that does not go with the rim.
    #[error("a tyre on a {rim_in} in rim is larger than that across: measure its outside diameter again")]
    NotAcrossTheRim {
        /// The rim, in.
        rim_in: f64,
    },
}

/// The numbers and letters as printed.
struct Printed {
    kind: SizeKind,
    carcass: Carcass,
    service: Service,
    rim_in: f64,
}

impl TyreSize {
    /// Reads a size; what follows it on a sidewall (load index, speed letter, load range) may be typed along and is passed over.
    ///
    /// Metric: diameter = rim + 2 width x aspect. Flotation: the first number is the diameter.
    ///
    /// # Errors
    /// Says what stands where what was expected; a numeric size asks for the measured diameter, see [`TyreSize::read_measured`].
    pub fn read(text: &str) -> Result<Self, TyreSizeError> {
        let printed = Printed::read(text)?;
        let outside_m = match printed.kind {
            SizeKind::Metric { width_mm, aspect_pct } => {
                printed.rim_in * INCH_M + 2.0 * width_mm / 1e3 * aspect_pct / 100.0
            }
            SizeKind::Flotation { outside_in, .. } => outside_in * INCH_M,
            SizeKind::Numeric { .. } => {
                return Err(TyreSizeError::NoDiameter {
                    size: printed.to_string(),
                });
            }
        };
        printed.measuring(outside_m)
    }

    /// Reads a size of any kind, with the diameter measured on the tyre.
    ///
    /// # Errors
    /// As [`TyreSize::read`], and where the diameter does not go with the rim.
    pub fn read_measured(text: &str, outside_m: f64) -> Result<Self, TyreSizeError> {
        Printed::read(text)?.measuring(outside_m)
    }

    /// Axle centre to ground, as far as a size can tell: a suggestion from common practice, better measured under the laden truck.
    #[must_use]
    pub fn suggested_loaded_radius_m(&self) -> f64 {
        LOADED_PART * self.outside_m / 2.0
    }

    /// The wheels with this tyre on them: its measures, its size, and the suggested loaded radius.
    #[must_use]
    pub fn fitted(&self, wheels: &Wheels) -> Wheels {
        Wheels {
            tyre_m: self.outside_m,
            tyre_width_m: self.width_m,
            rim_m: self.rim_m,
            loaded_radius_m: self.suggested_loaded_radius_m(),
            size: Some(self.to_string()),
            ..wheels.clone()
        }
    }
}

impl Printed {
    fn read(text: &str) -> Result<Self, TyreSizeError> {
        let mut scanner = Scanner::new(text);
        if scanner.is_at_end() {
            return Err(TyreSizeError::Empty);
        }
        let before = scanner.service();
        let first = scanner.number("the width or the diameter")?;
        let kind = if scanner.takes(&["/"]) {
            SizeKind::Metric {
                width_mm: within(first, "a section width", 100.0, 500.0, "100 to 500 mm")?,
                aspect_pct: scanner.number("the height of the section in % of the width")?,
            }
        } else if scanner.takes(&["X", "×", "*"]) {
            SizeKind::Flotation {
                outside_in: within(first, "a diameter", 16.0, 60.0, "16 to 60 in")?,
                width_in: scanner.number("the width in inches")?,
            }
        } else {
            SizeKind::Numeric { width: first }
        };
        let carcass = scanner.carcass()?;
        let rim_in = scanner.number("the rim's diameter in inches")?;
        let behind = scanner.rest()?;
        let service = if before == Service::Plain { behind } else { before };
        let printed = Self {
            kind,
            carcass,
            service,
            rim_in,
        };
        printed.check()?;
        Ok(printed)
    }

    fn check(&self) -> Result<(), TyreSizeError> {
        within(self.rim_in, "a rim", 8.0, 30.0, "8 to 30 in")?;
        match self.kind {
            SizeKind::Metric { aspect_pct, .. } => within(aspect_pct, "an aspect", 20.0, 100.0, "20 to 100 %"),
            SizeKind::Flotation { width_in, .. } => within(width_in, "a width", 5.0, 25.0, "5 to 25 in"),
            SizeKind::Numeric { width } if width < 100.0 => within(width, "a width", 3.0, 25.0, "3 to 25 in"),
            SizeKind::Numeric { width } => within(width, "a section width", 100.0, 500.0, "100 to 500 mm"),
        }?;
        match self.kind {
            SizeKind::Flotation { outside_in, .. } if outside_in <= self.rim_in => {
                Err(TyreSizeError::NotAcrossTheRim { rim_in: self.rim_in })
            }
            _ => Ok(()),
        }
    }

    fn width_m(&self) -> f64 {
        match self.kind {
            SizeKind::Metric { width_mm, .. } => width_mm / 1e3,
            SizeKind::Flotation { width_in, .. } => width_in * INCH_M,
            SizeKind::Numeric { width } if width < 100.0 => width * INCH_M,
            SizeKind::Numeric { width } => width / 1e3,
        }
    }

    fn measuring(&self, outside_m: f64) -> Result<TyreSize, TyreSizeError> {
        let rim_m = self.rim_in * INCH_M;
        // No tyre for a road is two metres across; this refuses what is not a number, too.
        if !(outside_m > rim_m && outside_m < 2.0) {
            return Err(TyreSizeError::NotAcrossTheRim { rim_in: self.rim_in });
        }
        Ok(TyreSize {
            kind: self.kind,
            carcass: self.carcass,
            service: self.service,
            outside_m,
            width_m: self.width_m(),
            rim_m,
        })
    }
}

fn within(value: f64, what: &'static str, least: f64, most: f64, range: &'static str) -> Result<f64, TyreSizeError> {
    if value >= least && value <= most {
        Ok(value)
    } else {
        Err(TyreSizeError::OutOfRange { what, value, range })
    }
}

impl fmt::Display for Printed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write(f, self.kind, self.carcass, self.service, self.rim_in)
    }
}

/// As a sidewall has it: `LT255/70R16`, `33x12.50R15LT`, `7.50-16`.
impl fmt::Display for TyreSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let rim_in = (self.rim_m / INCH_M * 100.0).round() / 100.0;
        write(f, self.kind, self.carcass, self.service, rim_in)
    }
}

fn write(f: &mut fmt::Formatter<'_>, kind: SizeKind, carcass: Carcass, service: Service, rim_in: f64) -> fmt::Result {
    let letters = match service {
        Service::Plain => "",
        Service::Passenger => "P",
        Service::LightTruck => "LT",
        Service::Trailer => "ST",
        Service::Spare => "T",
    };
    let carcass = match carcass {
        Carcass::Radial => "R",
        Carcass::Bias => "-",
    };
    match kind {
        SizeKind::Metric { width_mm, aspect_pct } => {
            write!(f, "{letters}{width_mm}/{aspect_pct}{carcass}{rim_in}")
        }
        SizeKind::Flotation { outside_in, width_in } => {
            write!(f, "{outside_in}x{width_in:.2}{carcass}{rim_in}{letters}")
        }
        SizeKind::Numeric { width } if width < 100.0 => write!(f, "{width:.2}{carcass}{rim_in}{letters}"),
        SizeKind::Numeric { width } => write!(f, "{width}{carcass}{rim_in}{letters}"),
    }
}

#[cfg(test)]
mod tests;
