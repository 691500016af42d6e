//! Plates as DXF, 1:1, for plasma and laser tables.
//!
//! One file a plate. Layers: `CUT` has the outline, one closed polyline with its arcs as bulges, and the holes as circles; `MARK` the lines to
//! scribe; `NOTES` the words; `CHECK` a square of a known side. Coordinates are the plate's own (see [`rearend::brackets::Plate`]), in the
//! file's unit and as exact as doubles are. The same plate gives the same bytes.
//!
//! Source of the group codes: the published DXF reference, R12 and 2000.

mod drawing;
mod entities;
mod file;
mod pairs;
mod profile;

use rearend::brackets::Plate;
use rearend::tape::Units;
use thiserror::Error;

/// What the table's program reads.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DxfVersion {
    /// AC1015: says its unit, has light polylines.
    #[default]
    R2000,
    /// AC1009, which the oldest controllers read: the unit is said in its words and in the file's name only.
    R12,
}

/// What one of the drawing's units is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DxfUnit {
    /// Millimetres.
    #[default]
    Millimetres,
    /// Inches.
    Inches,
}

impl DxfUnit {
    /// What it is called.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Millimetres => "millimetres",
            Self::Inches => "inches",
        }
    }

    /// Side of the check square, in this unit: a round number on either tape.
    #[must_use]
    pub fn check_side(self) -> f64 {
        match self {
            Self::Millimetres => 50.0,
            Self::Inches => 2.0,
        }
    }

    /// The tape that goes with it.
    fn tape(self) -> Units {
        match self {
            Self::Millimetres => Units::Millimetres,
            Self::Inches => Units::DecimalInches,
        }
    }
}

/// Why a plate cannot be drawn. Each names the plate.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum DxfError {
    /// The outline ends somewhere else than it starts.
    #[error("{0}: its outline is not closed, so it cannot be cut")]
    Open(String),
    /// An arc that ends closer to its centre, or farther, than it starts.
    #[error("{0}: an arc of its outline does not fit its centre, so it cannot be cut")]
    NotRound(String),
    /// An outline round nothing.
    #[error("{0}: its outline holds no metal, so there is nothing to cut")]
    Empty(String),
    /// A hole without a diameter.
    #[error("{0}: one of its holes has no diameter; give its bolt one")]
    NoDiameter(String),
    /// A coordinate that is no number.
    #[error("{0}: one of its measures is not a number, so it cannot be cut")]
    NotANumber(String),
}

/// A plate as the bytes of a DXF file. `notes` are written under the plate's own, such as the material; what is among both is said once.
///
/// What is there twice, and what has no length, is written once or not at all, so that nothing is cut twice.
///
/// # Errors
/// When the outline is open, empty or not round where it says so, a hole has no diameter, or something is not a number.
pub fn dxf(plate: &Plate, version: DxfVersion, unit: DxfUnit, notes: &[String]) -> Result<Vec<u8>, DxfError> {
    let drawing = drawing::Drawing::of(plate, unit, notes)?;
    Ok(file::written(&drawing, version, unit))
}

/// The file's name: what is cut, the unit, and the version where it is the old one, so that no file takes another's place.
#[must_use]
pub fn dxf_file_name(plate: &Plate, unit: DxfUnit, version: DxfVersion) -> String {
    let old = match version {
        DxfVersion::R2000 => "",
        DxfVersion::R12 => "-r12",
    };
    format!("{}-{}{old}.dxf", plate.file_stem, unit.tape().symbol())
}
