//! Which way is plus: left or right, ahead or behind, said in words instead of with a sign.

use super::{Dimension, TapeError, Units};

/// The words for more and for less than nothing of a measure that has a direction. The first of each is the one shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ways {
    plus: &'static [&'static str],
    minus: &'static [&'static str],
}

const ABOVE: &[&str] = &["above", "up", "high"];
const BELOW: &[&str] = &["below", "down", "low"];
const UP: &[&str] = &["up", "above", "high"];
const DOWN: &[&str] = &["down", "below", "low"];

impl Ways {
    /// Along the truck.
    pub const AHEAD: Self = Self {
        plus: &["ahead", "forward", "front"],
        minus: &["behind", "back", "rear"],
    };
    /// Across it.
    pub const LEFT: Self = Self {
        plus: &["left"],
        minus: &["right"],
    };
    /// A height.
    pub const ABOVE: Self = Self {
        plus: ABOVE,
        minus: BELOW,
    };
    /// A depth.
    pub const BELOW: Self = Self {
        plus: BELOW,
        minus: ABOVE,
    };
    /// A slope.
    pub const UP: Self = Self { plus: UP, minus: DOWN };

    /// Those of a point's coordinates: forward, left and up.
    pub const OF_AXES: [Self; 3] = [Self::AHEAD, Self::LEFT, Self::ABOVE];

    /// What more than nothing is called.
    #[must_use]
    pub fn plus(self) -> &'static str {
        self.plus.first().copied().unwrap_or_default()
    }

    /// What less than nothing is called.
    #[must_use]
    pub fn minus(self) -> &'static str {
        self.minus.first().copied().unwrap_or_default()
    }

    /// Reads what was typed, SI: a number as [`Dimension::read`] takes it, or one with the way it goes before or behind it, whole or
    /// begun: `3 right`, `3 r`, `right 3`.
    ///
    /// # Errors
    /// Says what could not be read; a sign and a word together are refused.
    pub fn read(self, dimension: Dimension, units: Units, text: &str) -> Result<f64, TapeError> {
        let Some((number, sign)) = self.parted(text.trim()) else {
            return dimension.read(units, text);
        };
        let value = dimension.read(units, number)?;
        if value < 0.0 {
            return Err(TapeError::SignAndWord {
                plus: self.plus(),
                minus: self.minus(),
            });
        }
        // Nothing to the right is nothing.
        Ok(if value == 0.0 { 0.0 } else { sign * value })
    }

    /// The number without its word, and what the word makes of it.
    fn parted(self, text: &str) -> Option<(&str, f64)> {
        let is_letter = |c: char| c.is_alphabetic();
        let (before, behind) = (text.trim_end_matches(is_letter), text.trim_start_matches(is_letter));
        let (last, first) = (&text[before.len()..], &text[..text.len() - behind.len()]);
        if let Some(sign) = self.sign(last) {
            let number = before.trim_end();
            return Some((number.strip_suffix(" to the").unwrap_or(number), sign));
        }
        self.sign(first).map(|sign| (behind, sign))
    }

    fn sign(self, word: &str) -> Option<f64> {
        let word = word.to_lowercase();
        let begins = |words: &[&str]| !word.is_empty() && words.iter().any(|whole| whole.starts_with(&word));
        if begins(self.plus) {
            Some(1.0)
        } else if begins(self.minus) {
            Some(-1.0)
        } else {
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const INCH_M: f64 = 0.0254;

    #[track_caller]
    fn inches(ways: Ways, text: &str, expected: f64) {
        let read = ways.read(Dimension::Length, Units::Sixteenths, text);
        let read = read.unwrap_or_else(|e| panic!("{text}: {e}")) / INCH_M;
        assert!((read - expected).abs() < 1e-12, "{text} read as {read}");
    }

    #[test]
    fn a_way_is_read_as_people_say_it() {
        inches(Ways::LEFT, "3 right", -3.0);
        inches(Ways::LEFT, "3 LEFT", 3.0);
        inches(Ways::LEFT, "3 1/2 r", -3.5);
        inches(Ways::LEFT, "right 3", -3.0);
        inches(Ways::LEFT, "3 to the right", -3.0);
        inches(Ways::LEFT, "3\" right", -3.0);
        inches(Ways::AHEAD, "76.2mm behind", -3.0);
        inches(Ways::AHEAD, "3 in ahead", 3.0);
        inches(Ways::AHEAD, "34/2 - 1 back", -16.0);
        inches(Ways::ABOVE, "2 up", 2.0);
        inches(Ways::ABOVE, "2 l", -2.0);
        inches(Ways::BELOW, "2 below", 2.0);
        inches(Ways::BELOW, "2 above", -2.0);
    }

    #[test]
    fn without_a_word_the_sign_and_the_unit_hold() {
        inches(Ways::LEFT, "-3", -3.0);
        inches(Ways::LEFT, "76.2 mm", 3.0);
        inches(Ways::AHEAD, "3 in", 3.0);
        inches(Ways::AHEAD, "2 ft", 24.0);
        let none = Ways::LEFT.read(Dimension::Length, Units::Sixteenths, "0 right");
        assert!(none.is_ok_and(f64::is_sign_positive));
    }

    #[test]
    fn slopes_have_ways_too() {
        let read = Ways::UP.read(Dimension::Angle, Units::Sixteenths, "2.5° down");
        assert_eq!(read, Dimension::Angle.read(Units::Sixteenths, "-2.5"));
    }

    #[test]
    fn a_sign_and_a_word_together_are_refused_and_so_is_another_way() {
        let read = |text: &str| Ways::LEFT.read(Dimension::Length, Units::Sixteenths, text);
        assert_eq!(
            read("-3 right"),
            Err(TapeError::SignAndWord {
                plus: "left",
                minus: "right"
            })
        );
        assert_eq!(read("3 behind"), Err(TapeError::Unexpected("behind".into())));
        assert_eq!(read("right"), Err(TapeError::Empty));
    }

    /// A word that is begun may not mean both ways, nor be a unit.
    #[test]
    fn no_beginning_of_a_word_has_two_meanings() {
        for ways in [Ways::AHEAD, Ways::LEFT, Ways::ABOVE, Ways::BELOW, Ways::UP] {
            for word in ways.plus {
                for letters in 1..=word.len() {
                    let begun = &word[..letters];
                    assert!(!ways.minus.iter().any(|other| other.starts_with(begun)), "{begun}");
                }
            }
            for unit in ["in", "inch", "inches", "ft", "mm", "cm", "m"] {
                assert_eq!(ways.sign(unit), None, "{unit}");
            }
        }
    }
}
