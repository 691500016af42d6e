//! Millimetres and degrees in files, metres and radians inside: the one border between them.
//!
//! Each module here is a serde adapter. A value that no truck has is refused where it stands, so that the reader can name the line.

use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error};

/// The longest length a file may hold, mm: nothing on a truck is 20 m long.
const LONGEST_MM: f64 = 20_000.0;

/// The smallest size, mm.
const SMALLEST_MM: f64 = 0.1;

/// The steepest angle, degrees.
const STEEPEST_DEG: f64 = 45.0;

/// Least and most that a file takes, in SI and radians, for sentences in the units of the screen.
pub(crate) mod bounds {
    use super::{LONGEST_MM, SMALLEST_MM, STEEPEST_DEG};

    /// A coordinate.
    pub(crate) const COORDINATE_M: [f64; 2] = [-LONGEST_MM / 1e3, LONGEST_MM / 1e3];
    /// A length that is more than nothing.
    pub(crate) const SIZE_M: [f64; 2] = [SMALLEST_MM / 1e3, LONGEST_MM / 1e3];
    /// A length that may be nothing.
    pub(crate) const AMOUNT_M: [f64; 2] = [0.0, LONGEST_MM / 1e3];
    /// An angle.
    pub(crate) const ANGLE_RAD: [f64; 2] = [-STEEPEST_DEG.to_radians(), STEEPEST_DEG.to_radians()];
    /// A share of a whole.
    pub(crate) const SHARE: [f64; 2] = [0.0, 1.0];
    /// A force.
    pub(crate) const FORCE_N: [f64; 2] = [1.0, 1e7];
    pub(crate) use super::{
        kilogram::BOUNDS as MASS_KG, kilopascal::BOUNDS as PRESSURE_PA, km_per_h::BOUNDS as SPEED_M_PER_S,
        litre::BOUNDS as VOLUME_M3, n_per_mm::BOUNDS as RATE_N_PER_M, ratio::BOUNDS as RATIO,
    };
}

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

/// A number as somebody would write it: what has more than a dozen digits, with a power of ten.
fn brief(value: f64) -> String {
    if value.abs() < 1e12 {
        format!("{value}")
    } else {
        format!("{value:e}")
    }
}

fn within<E: Error>(value: f64, least: f64, most: f64, unit: &str) -> Result<f64, E> {
    if (least..=most).contains(&value) {
        Ok(value)
    } else {
        Err(E::custom(format!(
            "{} is out of range; a number from {least} to {most} {unit} is expected",
            brief(value)
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
    use super::{Deserialize, Deserializer, LONGEST_MM, SMALLEST_MM, mm, within};
    pub use mm::serialize;

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
        within(f64::deserialize(deserializer)?, SMALLEST_MM, LONGEST_MM, "mm").map(mm::from_file)
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
    use super::{Deserialize, Deserializer, STEEPEST_DEG, Serializer, within};

    pub fn to_file(angle_rad: f64) -> f64 {
        (angle_rad.to_degrees() * 1e9).round() / 1e9
    }

    #[expect(clippy::trivially_copy_pass_by_ref, reason = "serde calls it so")]
    pub fn serialize<S: Serializer>(angle_rad: &f64, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(to_file(*angle_rad))
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
        within(f64::deserialize(deserializer)?, -STEEPEST_DEG, STEEPEST_DEG, "degrees").map(f64::to_radians)
    }
}

/// A size that may be left out.
pub(super) mod optional_size_mm {
    use super::{Deserialize, Deserializer, LONGEST_MM, SMALLEST_MM, Serialize, Serializer, mm, within};

    #[expect(clippy::ref_option, reason = "serde calls it so")]
    pub fn serialize<S: Serializer>(length_m: &Option<f64>, serializer: S) -> Result<S::Ok, S::Error> {
        length_m.map(mm::to_file).serialize(serializer)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<f64>, D::Error> {
        let given = Option::<f64>::deserialize(deserializer)?;
        given
            .map(|v| within(v, SMALLEST_MM, LONGEST_MM, "mm").map(mm::from_file))
            .transpose()
    }
}

/// An angle that may be left out, degrees in the file.
pub(super) mod optional_deg {
    use super::{Deserialize, Deserializer, Serialize, Serializer, deg, within};

    #[expect(clippy::ref_option, reason = "serde calls it so")]
    pub fn serialize<S: Serializer>(angle_rad: &Option<f64>, serializer: S) -> Result<S::Ok, S::Error> {
        angle_rad.map(deg::to_file).serialize(serializer)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<f64>, D::Error> {
        let given = Option::<f64>::deserialize(deserializer)?;
        given
            .map(|v| within(v, 0.0, 45.0, "degrees").map(f64::to_radians))
            .transpose()
    }
}

/// A stiffness that may be left out, N/mm in the file.
pub(super) mod optional_n_per_mm {
    use super::{Deserialize, Deserializer, Serialize, Serializer, within};

    #[expect(clippy::ref_option, reason = "serde calls it so")]
    pub fn serialize<S: Serializer>(n_per_m: &Option<f64>, serializer: S) -> Result<S::Ok, S::Error> {
        n_per_m.map(|k| (k * 1e3).round() / 1e6).serialize(serializer)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<f64>, D::Error> {
        let given = Option::<f64>::deserialize(deserializer)?;
        given.map(|v| within(v, 1.0, 1e6, "N/mm").map(|k| k * 1e3)).transpose()
    }
}

/// Turns of an adjuster.
pub(super) mod turns {
    use super::{Deserialize, Deserializer, Serializer, within};

    #[expect(clippy::trivially_copy_pass_by_ref, reason = "serde calls it so")]
    pub fn serialize<S: Serializer>(turns: &f64, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64((turns * 1e6).round() / 1e6)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
        within(f64::deserialize(deserializer)?, -60.0, 60.0, "turns")
    }
}

/// A force, N.
pub(super) mod newton {
    use super::{Deserialize, Deserializer, Serializer, within};

    #[expect(clippy::trivially_copy_pass_by_ref, reason = "serde calls it so")]
    pub fn serialize<S: Serializer>(force_n: &f64, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64((force_n * 1e3).round() / 1e3)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
        within(f64::deserialize(deserializer)?, 1.0, 1e7, "N")
    }
}

/// A share of a whole, percent in the file.
pub(super) mod percent {
    use super::{Deserialize, Deserializer, Serializer, within};

    #[expect(clippy::trivially_copy_pass_by_ref, reason = "serde calls it so")]
    pub fn serialize<S: Serializer>(share: &f64, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64((share * 1e8).round() / 1e6)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
        within(f64::deserialize(deserializer)?, 0.0, 100.0, "percent").map(|p| p / 100.0)
    }
}

/// A direction that may be left out: three numbers of any common size.
pub(super) mod optional_direction {
    use super::{Deserialize, Deserializer, Error, Serialize, Serializer, within};
    use nalgebra::{Unit, Vector3};

    #[expect(clippy::ref_option, reason = "serde calls it so")]
    pub fn serialize<S: Serializer>(direction: &Option<Unit<Vector3<f64>>>, serializer: S) -> Result<S::Ok, S::Error> {
        direction.map(|d| (d.x, d.y, d.z)).serialize(serializer)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<Unit<Vector3<f64>>>, D::Error> {
        let Some((x, y, z)) = Option::<(f64, f64, f64)>::deserialize(deserializer)? else {
            return Ok(None);
        };
        for v in [x, y, z] {
            within::<D::Error>(v, -1e6, 1e6, "")?;
        }
        let given = Vector3::new(x, y, z);
        // What is already of unit length stays to the last bit, so that it reads back as it was written.
        if (given.norm_squared() - 1.0).abs() < 1e-14 {
            return Ok(Some(Unit::new_unchecked(given)));
        }
        Unit::try_new(given, 1e-6)
            .map(Some)
            .ok_or_else(|| D::Error::custom("a direction is expected: three numbers that are not all zero"))
    }
}

/// A length that may be nothing, but not less.
pub(super) mod amount_mm {
    use super::{Deserialize, Deserializer, LONGEST_MM, mm, within};
    pub use mm::serialize;

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
        within(f64::deserialize(deserializer)?, 0.0, LONGEST_MM, "mm").map(mm::from_file)
    }
}

/// A coordinate that may be left out.
pub(super) mod optional_mm {
    pub use super::optional_size_mm::serialize;
    use super::{Deserialize, Deserializer, LONGEST_MM, mm, within};

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<f64>, D::Error> {
        let given = Option::<f64>::deserialize(deserializer)?;
        given
            .map(|v| within(v, -LONGEST_MM, LONGEST_MM, "mm").map(mm::from_file))
            .transpose()
    }
}

/// A list of points, mm.
pub(super) mod points_mm {
    use super::{Deserialize, Deserializer, Serializer, point_mm};
    use nalgebra::Point3;

    #[derive(serde::Serialize, serde::Deserialize)]
    #[serde(transparent)]
    struct InFile(#[serde(with = "point_mm")] Point3<f64>);

    pub fn serialize<S: Serializer>(points_m: &[Point3<f64>], serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(points_m.iter().map(|&p| InFile(p)))
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Vec<Point3<f64>>, D::Error> {
        let points = Vec::<InFile>::deserialize(deserializer)?;
        Ok(points.into_iter().map(|InFile(p)| p).collect())
    }
}

/// A point that may be left out.
pub(super) mod optional_point_mm {
    use super::{Deserialize, Deserializer, Serialize, Serializer, point_mm};
    use nalgebra::Point3;

    #[derive(serde::Serialize, serde::Deserialize)]
    #[serde(transparent)]
    struct InFile(#[serde(with = "point_mm")] Point3<f64>);

    #[expect(clippy::ref_option, reason = "serde calls it so")]
    pub fn serialize<S: Serializer>(point_m: &Option<Point3<f64>>, serializer: S) -> Result<S::Ok, S::Error> {
        point_m.map(InFile).serialize(serializer)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<Point3<f64>>, D::Error> {
        Ok(Option::<InFile>::deserialize(deserializer)?.map(|InFile(p)| p))
    }
}

/// A quantity in a unit of its own: `per_unit` of what is inside make one of the file's.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $per_unit:expr, $least:expr, $most:expr, $unit:literal) => {
        $(#[$doc])*
        pub(super) mod $name {
            use super::{Deserialize, Deserializer, Serializer, within};

            pub(crate) const BOUNDS: [f64; 2] = [$least * $per_unit, $most * $per_unit];

            pub fn to_file(inside: f64) -> f64 {
                (inside / $per_unit * 1e6).round() / 1e6
            }

            pub fn serialize<S: Serializer>(inside: &f64, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_f64(to_file(*inside))
            }

            pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<f64, D::Error> {
                within(f64::deserialize(deserializer)?, $least, $most, $unit).map(|v| v * $per_unit)
            }
        }
    };
}

quantity!(
    /// A mass.
    kilogram, 1.0, 1.0, 20_000.0, "kg"
);
quantity!(
    /// A pressure above that of the air around, Pa inside.
    kilopascal, 1e3, 1.0, 5_000.0, "kPa"
);
quantity!(
    /// A stiffness, N/m inside.
    n_per_mm, 1e3, 1.0, 1e6, "N/mm"
);
quantity!(
    /// A volume, m³ inside.
    litre, 1e-3, 0.01, 1_000.0, "litres"
);
quantity!(
    /// A speed, m/s inside.
    km_per_h, 1.0 / 3.6, 1.0, 500.0, "km/h"
);
quantity!(
    /// A plain number more than nothing.
    ratio, 1.0, 0.1, 20.0, ""
);

/// A mass that may be left out.
pub(super) mod optional_kilogram {
    use super::{Deserialize, Deserializer, Serialize, Serializer, kilogram, within};

    #[expect(clippy::ref_option, reason = "serde calls it so")]
    pub fn serialize<S: Serializer>(mass_kg: &Option<f64>, serializer: S) -> Result<S::Ok, S::Error> {
        mass_kg.map(kilogram::to_file).serialize(serializer)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<f64>, D::Error> {
        let given = Option::<f64>::deserialize(deserializer)?;
        given.map(|v| within(v, 1.0, 20_000.0, "kg")).transpose()
    }
}

/// True for what a file leaves out.
#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde calls it so")]
pub(super) fn is_zero(value: &f64) -> bool {
    *value == 0.0
}
