//! What is measured besides lengths, in the units that go with the user's tape.

use super::{TapeError, Units, fixed_trimmed};

/// What a number measures. Inside, everything is SI; on the screen it is in the units of the user's trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dimension {
    /// m.
    Length,
    /// rad inside, degrees on the screen.
    Angle,
    /// kg, or pounds.
    Mass,
    /// N/m inside; N/mm, or pounds an inch.
    Rate,
    /// Pa above that of the air around; kPa, or psi.
    Pressure,
    /// N, or pounds.
    Force,
    /// m³ inside; litres, or cubic inches.
    Volume,
    /// m/s inside; km/h, or miles an hour.
    Speed,
    /// A plain number.
    Ratio,
    /// A part of a whole inside, percent on the screen.
    Share,
}

const POUND_KG: f64 = 0.453_592_37;
const POUND_N: f64 = POUND_KG * 9.806_65;
const INCH_M: f64 = super::INCH_M;

/// Stands before a reading that was rounded.
const NEARLY: char = '≈';

impl Dimension {
    /// Its unit's abbreviation.
    #[must_use]
    pub fn symbol(self, units: Units) -> &'static str {
        let metric = units == Units::Millimetres;
        let pick = |a: &'static str, b: &'static str| if metric { a } else { b };
        match self {
            Self::Length => units.symbol(),
            Self::Angle => "°",
            Self::Mass => pick("kg", "lb"),
            Self::Rate => pick("N/mm", "lb/in"),
            Self::Pressure => pick("kPa", "psi"),
            Self::Force => pick("N", "lb"),
            Self::Volume => pick("litres", "cu in"),
            Self::Speed => pick("km/h", "mph"),
            Self::Ratio => "",
            Self::Share => "%",
        }
    }

    /// One of its unit, in SI.
    pub(crate) fn unit(self, units: Units) -> f64 {
        let metric = units == Units::Millimetres;
        let pick = |a: f64, b: f64| if metric { a } else { b };
        match self {
            Self::Length => units.unit_m(),
            Self::Angle => 1f64.to_radians(),
            Self::Mass => pick(1.0, POUND_KG),
            Self::Rate => pick(1e3, POUND_N / INCH_M),
            Self::Pressure => pick(1e3, POUND_N / (INCH_M * INCH_M)),
            Self::Force => pick(1.0, POUND_N),
            Self::Volume => pick(1e-3, INCH_M * INCH_M * INCH_M),
            Self::Speed => pick(1.0 / 3.6, 0.447_04),
            Self::Ratio => 1.0,
            Self::Share => 0.01,
        }
    }

    /// As a number of its unit.
    #[must_use]
    pub fn shown(self, units: Units, value: f64) -> f64 {
        value / self.unit(units)
    }

    /// With its unit, as a sentence has it.
    #[must_use]
    pub fn words(self, units: Units, value: f64) -> String {
        match self {
            Self::Length => units.length(value),
            Self::Angle => super::degrees(value, 2),
            _ => {
                let shown = value / self.unit(units);
                let decimals = usize::from(shown.abs() < 100.0) + usize::from(shown.abs() < 10.0);
                let number = fixed_trimmed(shown, decimals);
                format!("{number} {}", self.symbol(units)).trim_end().to_owned()
            }
        }
    }

    /// Text for an edit box, without the unit.
    #[must_use]
    pub fn editable(self, units: Units, value: f64) -> String {
        match self {
            Self::Length => units.editable(value),
            _ => fixed_trimmed(value / self.unit(units), 3),
        }
    }

    /// Text for an edit box while nobody types in it: [`Dimension::editable`] where that is all there is to the value, else the nearest
    /// reading of a tape or gauge with a mark before it.
    #[must_use]
    pub fn at_rest(self, units: Units, value: f64) -> String {
        let exact = self.editable(units, value);
        let is_whole = |read: f64| (read - value).abs() <= self.file_step();
        if self.read(units, &exact).is_ok_and(is_whole) {
            return exact;
        }
        let rounded = match self {
            Self::Length => units.rounded(value),
            _ => fixed_trimmed(value / self.unit(units), self.decimals(units, value)),
        };
        // Rounded to nothing, or from half a mark to a whole one, it would say something else.
        if rounded == "0" || (self == Self::Length && value.abs() < units.mark_m()) {
            exact
        } else {
            format!("{NEARLY} {rounded}")
        }
    }

    /// What a file keeps of it, SI.
    fn file_step(self) -> f64 {
        match self {
            Self::Length | Self::Volume => 1e-9,
            Self::Angle => 1e-9_f64.to_radians(),
            Self::Mass | Self::Ratio | Self::Speed => 1e-6,
            Self::Rate | Self::Pressure | Self::Force => 1e-3,
            Self::Share => 1e-8,
        }
    }

    /// How many decimals anybody reads: whole pounds and psi, unless there are only a few of them.
    fn decimals(self, units: Units, value: f64) -> usize {
        let few = usize::from((value / self.unit(units)).abs() < 10.0);
        match self {
            Self::Length | Self::Angle | Self::Ratio => 2,
            Self::Volume if units == Units::Millimetres => 2,
            Self::Rate if units == Units::Millimetres => 1,
            Self::Mass | Self::Rate | Self::Pressure | Self::Force | Self::Volume | Self::Speed | Self::Share => few,
        }
    }

    /// Reads what was typed: a length as [`Units::read`] does, anything else a number, its unit behind it or not.
    ///
    /// # Errors
    /// Says what could not be read.
    pub fn read(self, units: Units, text: &str) -> Result<f64, TapeError> {
        if self == Self::Length {
            return units.read(text);
        }
        let text = text.trim();
        if text.is_empty() {
            return Err(TapeError::NoNumber);
        }
        let bare = text.strip_suffix(self.symbol(units)).unwrap_or(text).trim();
        let number = bare.parse::<f64>().ok().filter(|n| n.is_finite() && n.abs() < 1e9);
        number
            .map(|n| n * self.unit(units))
            .ok_or_else(|| TapeError::NotANumber(text.to_owned()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Exact by definition: 1 lb = 0.45359237 kg, standard gravity 9.80665 m/s² (NIST SP 811).
    #[test]
    fn pounds_and_psi_are_what_they_are_defined_to_be() {
        let inch = Units::DecimalInches;
        let close = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-7, "{a} {b}");
        close(Dimension::Pressure.read(inch, "100 psi").expect("reads"), 689_475.729);
        close(Dimension::Rate.read(inch, "1").expect("reads"), 175.126_835);
        close(Dimension::Force.read(inch, "1 lb").expect("reads"), 4.448_221_615);
        close(Dimension::Volume.read(inch, "1000").expect("reads"), 0.016_387_064);
        close(Dimension::Speed.read(inch, "75 mph").expect("reads"), 33.528);
        assert_eq!(Dimension::Share.read(inch, "40 %"), Ok(0.4));
    }

    #[test]
    fn what_is_shown_for_editing_reads_back() {
        let all = [
            Dimension::Angle,
            Dimension::Mass,
            Dimension::Rate,
            Dimension::Pressure,
            Dimension::Volume,
            Dimension::Speed,
            Dimension::Ratio,
            Dimension::Share,
        ];
        for units in Units::ALL {
            for dimension in all {
                let value = 12.5 * dimension.unit(units);
                let read = dimension.read(units, &dimension.editable(units, value));
                let read = read.unwrap_or_else(|e| panic!("{dimension:?}: {e}"));
                assert!((read / value - 1.0).abs() < 1e-12, "{dimension:?} {units:?}");
            }
        }
    }

    #[test]
    fn words_show_no_more_digits_than_are_meant() {
        let mm = Units::Millimetres;
        assert_eq!(Dimension::Pressure.words(mm, 512_340.0), "512 kPa");
        assert_eq!(Dimension::Rate.words(mm, 35_020.0), "35 N/mm");
        assert_eq!(Dimension::Ratio.words(mm, 3.73), "3.73");
        assert!(Dimension::Mass.read(mm, "heavy").is_err());
        assert!(Dimension::Mass.read(mm, "").is_err());
        assert!(Dimension::Mass.read(mm, "inf").is_err());
    }

    #[test]
    fn at_rest_a_box_shows_what_a_tape_reads() {
        let rest = |units, mm: f64| Dimension::Length.at_rest(units, mm / 1e3);
        assert_eq!(rest(Units::Sixteenths, 863.6), "34");
        assert_eq!(rest(Units::Sixteenths, 864.0), "≈ 34");
        assert_eq!(rest(Units::Sixteenths, 5.0), "≈ 3/16");
        assert_eq!(rest(Units::Sixteenths, -330.0), "≈ -13");
        // 0.12 in is typed and said so: nothing is rounded away.
        assert_eq!(rest(Units::Sixteenths, 3.048), "0.12");
        assert_eq!(rest(Units::Sixteenths, 0.3), "0.0118", "too little for a tape");
        assert_eq!(rest(Units::Sixteenths, 0.8), "0.0315", "half a mark is no whole one");
        assert_eq!(rest(Units::DecimalInches, 864.0), "≈ 34.02");
        assert_eq!(rest(Units::Millimetres, 864.0), "864");
        assert_eq!(rest(Units::Millimetres, 4.7625), "≈ 4.8");
    }

    /// 400 kPa are 58.015 psi, 3500 N are 786.83 lb (NIST SP 811).
    #[test]
    fn gauges_and_scales_are_read_whole() {
        let inch = Units::Sixteenths;
        assert_eq!(Dimension::Pressure.at_rest(inch, 400e3), "≈ 58");
        assert_eq!(Dimension::Force.at_rest(inch, 3500.0), "≈ 787");
        assert_eq!(Dimension::Pressure.at_rest(Units::Millimetres, 400e3), "400");
        let typed = Dimension::Pressure.read(inch, "58.5").expect("reads");
        assert_eq!(Dimension::Pressure.at_rest(inch, typed), "58.5");
    }
}
