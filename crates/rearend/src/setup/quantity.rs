//! Millimetres and degrees in files, metres and radians inside: the one border between them.
//!
//! Each module here is a serde adapter. A value that no truck has is refused where it stands, so that the reader can name the line.

use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error};

/// The longest length a file may hold, mm: nothing on a truck is 20 m long.
const LONGEST_MM: f64 = 20_000.0;

/// The `format: 1` at the head of a file.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Format;

impl Format {
    const VERSION: u32 = 1;
}

impl Serialize for Format {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_u32(Self::VERSION)
    }
}

impl<'de> Deserialize<'de> for Format {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        match u32::deserialize(deserializer)? {
            Self::VERSION => Ok(Self),
            other => Err(D::Error::custom(format!(
                "format {other} is not known here; this version reads format {}",
                Self::VERSION
            ))),
        }
    }
}

/// Rounds a length to what files keep, a millionth of a millimetre, so that what is saved reads back equal.
#[must_use]
pub fn to_file_resolution(length_m: f64) -> f64 {
    mm::from_file(mm::to_file(length_m))
}

/// [`to_file_resolution`] of all three coordinates.
#[must_use]
pub fn to_file_resolution_point(point: nalgebra::Point3<f64>) -> nalgebra::Point3<f64> {
    point.map(to_file_resolution)
}

fn within<E: Error>(value: f64, least: f64, most: f64, unit: &str) -> Result<f64, E> {
    if (least..=most).contains(&value) {
        Ok(value)
    } else {
        Err(E::custom(format!(
            "{value} is out of range; a number from {least} to {most} {unit} is expected"
        )))
    }
}

/// A length or coordinate, mm in the file.
pub(super) mod mm {
    use super::{Deserialize, Deserializer, LONGEST_MM, Serializer, within};

    pub fn to_file(length_m: f64) -> f64 {
        (length_m * 1e9).round() / 1e6
    }

    pub fn from_file(length_mm: f64) -> f64 {
        length_mm / 1e3
    }

    #[expect(clippy::trivially_copy_pass_by_ref, reason = "serde calls it so")]
    pub fn serialize<S: Serializer>(length_m: &f64, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(to_file(*length_m))
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
        within(f64::deserialize(deserializer)?, -LONGEST_MM, LONGEST_MM, "mm").map(from_file)
    }
}

/// A size: a length that must be more than nothing.
pub(super) mod size_mm {
    use super::{Deserialize, Deserializer, LONGEST_MM, mm, within};
    pub use mm::serialize;

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
        within(f64::deserialize(deserializer)?, 0.1, LONGEST_MM, "mm").map(mm::from_file)
    }
}

/// A point, three coordinates in mm.
pub(super) mod point_mm {
    use super::{Deserialize, Deserializer, LONGEST_MM, Serialize, Serializer, mm, within};
    use nalgebra::Point3;

    pub fn serialize<S: Serializer>(point_m: &Point3<f64>, serializer: S) -> Result<S::Ok, S::Error> {
        (mm::to_file(point_m.x), mm::to_file(point_m.y), mm::to_file(point_m.z)).serialize(serializer)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Point3<f64>, D::Error> {
        let (x, y, z) = <(f64, f64, f64)>::deserialize(deserializer)?;
        let metre = |v| within(v, -LONGEST_MM, LONGEST_MM, "mm").map(mm::from_file);
        Ok(Point3::new(metre(x)?, metre(y)?, metre(z)?))
    }
}

/// A list of stations, mm.
pub(super) mod list_mm {
    use super::{Deserialize, Deserializer, LONGEST_MM, Serializer, mm, within};

    pub fn serialize<S: Serializer>(list_m: &[f64], serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(list_m.iter().map(|&m| mm::to_file(m)))
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Vec<f64>, D::Error> {
        let list = Vec::<f64>::deserialize(deserializer)?;
        list.into_iter()
            .map(|v| within(v, -LONGEST_MM, LONGEST_MM, "mm").map(mm::from_file))
            .collect()
    }
}

/// An angle, degrees in the file.
pub(super) mod deg {
    use super::{Deserialize, Deserializer, Serializer, within};

    fn to_file(angle_rad: f64) -> f64 {
        (angle_rad.to_degrees() * 1e9).round() / 1e9
    }

    #[expect(clippy::trivially_copy_pass_by_ref, reason = "serde calls it so")]
    pub fn serialize<S: Serializer>(angle_rad: &f64, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(to_file(*angle_rad))
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
        within(f64::deserialize(deserializer)?, -45.0, 45.0, "degrees").map(f64::to_radians)
    }
}
