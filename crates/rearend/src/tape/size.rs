//! Sizes of stock, holes and play, as a shop's rule and its drills have them.
//!
//! In sixteenths a size that is finer than the tape reads in sixty-fourths, in the lowest terms, where it lies near enough to one; else as
//! a decimal. In the other units it reads to the tape's mark where that is what it is, else finer. No length that is sawn is told so.

use super::{INCH_M, Units, fraction};

/// Sixty-fourths to an inch, the finest that a rule and a set of drills have.
const FINEST: f64 = 64.0;

const FINEST_M: f64 = INCH_M / FINEST;

/// A plate, a gap or an eye that is this near to a sixty-fourth is told by it: less than half of one.
const NEAR_M: f64 = 1.5e-4;

/// What is told by name, a bolt or a wall, is that fraction only as near as this: a tenth of a millimetre rounds it so, and neither an M16
/// bolt nor a wall of 0.120 in comes so near to another.
const NAMED_M: f64 = 6e-5;

/// A tape whose next mark is within this of a size has said it.
const SAID_M: f64 = 4e-5;

/// What may differ is told by the next mark above it where that is within this part of it.
const ABOUT: f64 = 0.05;

impl Units {
    /// A size that something has: the thickness of a plate, the room between two, an eye.
    #[must_use]
    pub fn size(self, size_m: f64) -> String {
        self.near_fraction(size_m, NEAR_M)
    }

    /// A size that something is bought by: a bolt, a thread, the wall of a tube.
    #[must_use]
    pub fn named_size(self, size_m: f64) -> String {
        self.near_fraction(size_m, NAMED_M)
    }

    /// The diameter of a hole: never a drill that is smaller.
    #[must_use]
    pub fn drill(self, diameter_m: f64) -> String {
        match self {
            Self::Sixteenths => {}
            Self::DecimalInches => return self.movement(diameter_m),
            Self::Millimetres => return self.marked(diameter_m, SAID_M),
        }
        let drill_m = ((diameter_m - SAID_M) / FINEST_M).ceil() * FINEST_M;
        if drill_m - diameter_m <= NEAR_M {
            fraction(drill_m, FINEST)
        } else {
            self.movement(diameter_m)
        }
    }

    /// How much something may differ: never more than it is, but for the twentieth part of it.
    #[must_use]
    pub fn allowance(self, most_m: f64) -> String {
        if self != Self::Sixteenths {
            return self.marked(most_m, ABOUT * most_m);
        }
        let marks = most_m * (1.0 + ABOUT) / FINEST_M;
        let told_m = (most_m / FINEST_M).round().min(marks.floor()) * FINEST_M;
        if told_m > 0.0 {
            fraction(told_m, FINEST)
        } else {
            self.movement(most_m)
        }
    }

    fn near_fraction(self, size_m: f64, near_m: f64) -> String {
        if self != Self::Sixteenths {
            return self.marked(size_m, SAID_M);
        }
        let told_m = (size_m / FINEST_M).round() * FINEST_M;
        if (told_m - size_m).abs() <= near_m {
            fraction(told_m, FINEST)
        } else {
            self.movement(size_m)
        }
    }

    /// By the tape's next mark where it is as near as this, else finer.
    fn marked(self, length_m: f64, within_m: f64) -> String {
        let mark_m = match self {
            Self::Sixteenths => INCH_M / 16.0,
            Self::DecimalInches => INCH_M / 100.0,
            Self::Millimetres => 1e-4,
        };
        let off_m = (length_m / mark_m).round() * mark_m - length_m;
        if off_m.abs() < within_m {
            self.length(length_m)
        } else {
            self.movement(length_m)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand from the decimal equivalents of an inch: 1/64 in is 0.396875 mm.
    #[test]
    fn sizes_read_as_the_shop_has_them() {
        let size = |mm: f64| Units::Sixteenths.size(mm / 1e3);
        let table = [
            (6.35, "1/4\""),
            (6.4, "1/4\""),
            (4.8, "3/16\""),
            (9.525, "3/8\""),
            (44.45, "1 3/4\""),
            (50.8, "2\""),
            // 0.265 in are 16.96 of them; 17/64 in are 6.746875 mm.
            (6.731, "17/64\""),
            // 47/64 in are 18.653125 mm.
            (18.7, "47/64\""),
            (0.0, "0\""),
            // Half way between two: 15.5 / 64 in are 0.2421875 in.
            (6.151_562_5, "0.242 in"),
            // 25/32 in are 19.84375 mm, 0.16 mm less.
            (20.0, "0.787 in"),
        ];
        for (mm, told) in table {
            assert_eq!(size(mm), told, "{mm} mm");
        }
    }

    /// M16 is 0.630 in and no 5/8 in bolt; a wall of 0.120 in is none of 1/8 in; what a file in tenths of a millimetre rounded is itself.
    #[test]
    fn what_is_bought_is_not_told_as_its_neighbour() {
        let named = |mm: f64| Units::Sixteenths.named_size(mm / 1e3);
        let table = [
            (19.05, "3/4\""),
            (15.875, "5/8\""),
            (15.9, "5/8\""),
            (16.0, "0.630 in"),
            (12.7, "1/2\""),
            (12.0, "0.472 in"),
            (3.048, "0.120 in"),
            (3.175, "1/8\""),
            (3.2, "1/8\""),
            (4.8, "3/16\""),
            (6.4, "1/4\""),
            (1.651, "0.065 in"),
        ];
        for (mm, told) in table {
            assert_eq!(named(mm), told, "{mm} mm");
        }
    }

    /// A 3/4 in bolt with 0.8 over wants 0.7815 in: 25/32 in are 0.78125, and the missing quarter of a thousandth is nothing.
    #[test]
    fn a_drill_is_never_smaller_than_its_hole() {
        let drill = |mm: f64| Units::Sixteenths.drill(mm / 1e3);
        let table = [
            (19.85, "25/32\""),
            (19.05, "3/4\""),
            // 41/64 in are 16.271875 mm, 40/64 in 15.875 mm.
            (16.2, "41/64\""),
            (15.95, "0.628 in"),
            // 42/64 in would be 0.13 mm too small, 43/64 in 0.27 mm too large.
            (16.8, "0.661 in"),
        ];
        for (mm, told) in table {
            assert_eq!(drill(mm), told, "{mm} mm");
        }
    }

    /// 1/32 in are 0.79 mm, 3/64 in 1.19 mm.
    #[test]
    fn what_may_differ_is_rounded_down() {
        let may = |mm: f64| Units::Sixteenths.allowance(mm / 1e3);
        let table = [
            (3.2, "1/8\""),
            (3.1, "1/8\""),
            (6.4, "1/4\""),
            (0.99, "1/32\""),
            (1.0, "1/32\""),
            (1.1, "1/32\""),
            (1.16, "3/64\""),
            (0.2, "0.008 in"),
        ];
        for (mm, told) in table {
            assert_eq!(may(mm), told, "{mm} mm");
        }
    }

    #[test]
    fn other_units_have_no_fractions() {
        let (mm, inch) = (Units::Millimetres, Units::DecimalInches);
        assert_eq!(mm.size(0.006_35), "6.35 mm");
        assert_eq!(mm.size(0.0198), "19.8 mm");
        assert_eq!(mm.drill(0.019_85), "19.85 mm");
        assert_eq!(mm.allowance(0.003_175), "3.2 mm");
        assert_eq!(mm.named_size(0.019_05), "19.05 mm");
        assert_eq!(inch.size(0.006_35), "0.25 in");
        assert_eq!(inch.drill(0.019_85), "0.781 in");
        assert_eq!(inch.allowance(0.000_99), "0.04 in");
    }
}
