//! What a measure may be, said in the user's units.

use super::Measure;
use crate::setup::bounds;
use crate::tape::{Dimension, Units};

/// Least and most of something measured, SI and radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    dimension: Dimension,
    least: f64,
    most: f64,
}

impl Range {
    /// A length that is more than nothing.
    pub const SIZE: Self = Self::of(Dimension::Length, bounds::SIZE_M);
    /// A length that may be nothing.
    pub const AMOUNT: Self = Self::of(Dimension::Length, bounds::AMOUNT_M);
    /// A length that may be less than nothing.
    pub const COORDINATE: Self = Self::of(Dimension::Length, bounds::COORDINATE_M);

    const fn of(dimension: Dimension, [least, most]: [f64; 2]) -> Self {
        Self { dimension, least, most }
    }

    /// What a file takes of this dimension; a length as a size.
    #[must_use]
    pub const fn usual(dimension: Dimension) -> Self {
        match dimension {
            Dimension::Length => Self::SIZE,
            Dimension::Angle => Self::of(dimension, bounds::ANGLE_RAD),
            Dimension::Mass => Self::of(dimension, bounds::MASS_KG),
            Dimension::Rate => Self::of(dimension, bounds::RATE_N_PER_M),
            Dimension::Pressure => Self::of(dimension, bounds::PRESSURE_PA),
            Dimension::Force => Self::of(dimension, bounds::FORCE_N),
            Dimension::Volume => Self::of(dimension, bounds::VOLUME_M3),
            Dimension::Speed => Self::of(dimension, bounds::SPEED_M_PER_S),
            Dimension::Ratio => Self::of(dimension, bounds::RATIO),
            Dimension::Share => Self::of(dimension, bounds::SHARE),
        }
    }

    /// The least, SI and radians.
    #[must_use]
    pub fn least(self) -> f64 {
        self.least
    }

    /// The most, SI and radians.
    #[must_use]
    pub fn most(self) -> f64 {
        self.most
    }

    /// Nothing where the value may be, else a sentence in the user's units that says what is expected.
    #[must_use]
    pub fn refusal(self, units: Units, value: f64) -> Option<String> {
        if (self.least..=self.most).contains(&value) {
            return None;
        }
        let words = |value: f64| match self.dimension {
            Dimension::Angle => format!("{}°", self.dimension.editable(units, value)),
            _ => self.dimension.words(units, value),
        };
        let is_length = self.dimension == Dimension::Length;
        Some(if is_length && value < self.least && self.least > 0.0 {
            "a length of more than nothing is expected".to_owned()
        } else if is_length && value < self.least && self.least == 0.0 {
            "nothing or more is expected, not less than nothing".to_owned()
        } else {
            format!("{} to {} is expected", words(self.least), words(self.most))
        })
    }
}

impl Measure {
    /// What a file takes for it. What goes together with other measures is for the setup to check.
    #[must_use]
    pub fn range(&self) -> Range {
        match self.key {
            "ride_height" | "laid_out" | "full_lift" | "front_ride" | "front_laid_out" | "front_full_lift"
            | "bump_stop" | "lip_z" | "bed_floor" | "spring_top_y" | "spring_bottom_y" => Range::COORDINATE,
            "spacer" | "slip_in" | "slip_out" | "coil_preload" | "lip_gap" | "inner_gap" => Range::AMOUNT,
            _ if self.dimension == Dimension::Length && self.ways().is_some() => Range::COORDINATE,
            _ => Range::usual(self.dimension),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file;
    use crate::measure::{self, Described};
    use crate::setup::Setup;

    fn described(air: bool) -> Setup {
        let demo = include_str!("../../../../demo-scenes/01-parallel-panhard.ron");
        let mut bare = file::read(demo).expect("the demo reads");
        // A tyre takes along a loaded radius that nobody measured, and that has a least of its own.
        bare.measured.push("loaded_radius".to_owned());
        Described::ALL
            .into_iter()
            .filter(|part| air || *part != Described::Air)
            .fold(bare, |setup, part| part.put(&setup, true))
    }

    /// Whether a file takes a value; whether it goes with the rest of the truck is another question.
    fn is_taken_by_a_file(measure: &Measure, setup: &Setup, value: f64) -> bool {
        let mut next = setup.clone();
        (measure.put)(&mut next, value);
        let refused = file::read(&file::write(&next)).err();
        !refused.is_some_and(|error| error.to_string().contains("is out of range"))
    }

    /// What is put in without its sign is taken either way.
    fn has_no_sign(key: &str) -> bool {
        matches!(key, "one_wheel_up" | "lip_gap" | "inner_gap")
    }

    #[test]
    fn a_range_is_what_a_file_takes() {
        for setup in [described(false), described(true)] {
            for measure in measure::all().filter(|m| m.value(&setup).is_some()) {
                let Range { least, most, .. } = measure.range();
                let beyond = 2e-3 * (most - least);
                for inside in [least, most] {
                    // A unit that is no power of ten makes a last digit.
                    let inside = inside + (f64::midpoint(least, most) - inside) * 1e-9;
                    assert!(is_taken_by_a_file(measure, &setup, inside), "{} {inside}", measure.key);
                }
                assert!(!is_taken_by_a_file(measure, &setup, most + beyond), "{}", measure.key);
                if !has_no_sign(measure.key) {
                    assert!(!is_taken_by_a_file(measure, &setup, least - beyond), "{}", measure.key);
                }
            }
        }
    }

    #[test]
    fn a_refusal_is_in_the_users_units() {
        let pressure = Range::usual(Dimension::Pressure);
        let sentence = |units| pressure.refusal(units, -5e3).expect("no pressure");
        assert_eq!(sentence(Units::Millimetres), "1 kPa to 5000 kPa is expected");
        // 1 kPa is 0.145 psi, 5000 kPa are 725 psi (NIST SP 811).
        let inch = sentence(Units::Sixteenths);
        assert!(inch.ends_with("725 psi is expected") && !inch.contains("kPa"), "{inch}");
        let size = Range::SIZE.refusal(Units::Sixteenths, -0.127).expect("no size");
        assert!(!size.contains("mm"), "{size}");
        assert_eq!(Range::AMOUNT.refusal(Units::Sixteenths, 0.0), None);
        assert_eq!(Range::COORDINATE.refusal(Units::Sixteenths, -0.127), None);
        let steep = Range::usual(Dimension::Angle).refusal(Units::Sixteenths, 1.0);
        assert_eq!(steep.as_deref(), Some("-45° to 45° is expected"));
    }
}
