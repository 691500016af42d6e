//! How far one wheel can go up before bars that do not fit put more on each other than the user allows.

use linkage::ClosureId;

use crate::mechanism::{Part, RearEnd};
use crate::setup::{BarId, Length, Setup, Side};
use crate::travel::{RollSweep, Row};

/// What the worst fitting part has to give at a pose, and with what force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strain {
    /// The part.
    pub part: Option<Part>,
    /// How much it gives, m.
    pub gap_m: f64,
    /// Its force, N: tension of a bar +, a push -; of an eye the size.
    pub force_n: f64,
}

/// What one wheel going up does at one height, on the side that binds first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bind {
    /// The height.
    pub height_m: f64,
    /// The roll at which the first limit is reached; `None` where none is.
    pub limit_roll_rad: Option<f64>,
    /// The largest force and the largest misfit with both wheels level, each with its part.
    pub level: [Strain; 2],
    /// The largest force over the roll asked for, and the part.
    pub force: Strain,
    /// The largest misfit over it, and the part.
    pub misfit: Strain,
    /// The one part that was not built as drawn and that most of the misfit at ride height comes of, where there is one.
    pub misbuilt: Option<Part>,
}

impl Bind {
    /// The part that was not built as drawn, where most of what binds does so with both wheels level: then it is how the bars were built, not
    /// how they swing.
    #[must_use]
    pub fn cause(&self) -> Option<Part> {
        let is_there_level = 2.0 * self.level[1].gap_m.abs() > self.misfit.gap_m.abs();
        self.misbuilt.filter(|_| is_there_level)
    }

    /// How much higher one wheel stands than the other at a roll.
    #[must_use]
    pub fn wheel_rise_m(setup: &Setup, roll_rad: f64) -> f64 {
        setup.track_m() * roll_rad.sin().abs()
    }
}

/// A misfit below what any tape or gauge shows.
pub const UNNOTICED_M: f64 = 1e-5;

/// Every height at which something does not fit; none for exact layouts.
#[must_use]
pub(crate) fn binds(setup: &Setup, rear_end: &RearEnd, rolls: &[RollSweep]) -> Vec<Bind> {
    if rear_end.mechanism.is_exact() {
        return Vec::new();
    }
    let misbuilt = misbuilt(setup, rear_end);
    let found = rolls.iter().filter_map(|sweep| {
        Some(Bind {
            misbuilt,
            ..bind(setup, rear_end, sweep)?
        })
    });
    found.filter(|bind| bind.misfit.gap_m.abs() >= UNNOTICED_M).collect()
}

/// The part as built that most of what the bars have to give at ride height comes of: had it the length that the drawing has for it, less
/// than half would be left. None where all fits, or where no single one is at fault. The one that gives most says nothing of this: it is the
/// softest of all that pull on each other.
#[must_use]
pub(crate) fn misbuilt(setup: &Setup, rear_end: &RearEnd) -> Option<Part> {
    if rear_end.ride_misfit_m < UNNOTICED_M {
        return None;
    }
    let (part, left_m) = relieved(setup)?;
    (left_m < rear_end.ride_misfit_m / 2.0).then_some(part)
}

/// The part as built that leaves least misfit at ride height if it is cut to suit the drawing instead, and how much it leaves.
#[must_use]
pub(crate) fn relieved(setup: &Setup) -> Option<(Part, f64)> {
    let bars = (0..setup.bars.len()).map(|i| Part::Bar(BarId(i), Side::Drawn));
    let built = bars
        .chain([Part::WattLeft, Part::WattRight])
        .filter(|part| setup.length(*part).is_some_and(|l| l.given_m().is_some()));
    let left = built.filter_map(|part| {
        let mut cut = setup.clone();
        cut.set_length(part, Length::CutToSuit);
        Some((part, RearEnd::compile(&cut).ok()?.ride_misfit_m))
    });
    left.min_by(|a, b| a.1.total_cmp(&b.1))
}

/// How much longer a bar was built than its mounts are apart in the drawing; `None` of what is no bar, or cut to suit.
#[must_use]
pub(crate) fn built_off_m(setup: &Setup, part: Part) -> Option<f64> {
    let Part::Bar(id, side) = part else { return None };
    let bar = setup.bar(id)?;
    let on_axle = if bar.joined {
        bar.mount_in_axle
    } else {
        side.of(bar.mount_in_axle)
    };
    let drawn_m = (setup.drawn().to_ground(on_axle) - side.of(bar.mount_in_frame)).norm();
    Some(bar.length.given_m()? - drawn_m)
}

fn bind(setup: &Setup, rear_end: &RearEnd, sweep: &RollSweep) -> Option<Bind> {
    let worst: Vec<_> = sweep.rows.iter().map(|row| worst(rear_end, row)).collect();
    let largest = |of: fn(&[Strain; 2]) -> Strain, size: fn(&Strain) -> f64| {
        worst.iter().map(of).max_by(|a, b| size(a).total_cmp(&size(b)))
    };
    let rolls: Vec<f64> = sweep.rows.iter().map(|row| row.roll_rad).collect();
    let use_of: Vec<f64> = worst
        .iter()
        .map(|[force, misfit]| {
            (force.force_n.abs() / setup.limits.bind_n).max(misfit.gap_m.abs() / setup.limits.misfit_m)
        })
        .collect();
    Some(Bind {
        height_m: sweep.height_m,
        limit_roll_rad: first_over(&rolls, &use_of),
        level: worst
            .iter()
            .zip(&rolls)
            .min_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
            .map(|(strains, _)| *strains)?,
        force: largest(|w| w[0], |s| s.force_n.abs())?,
        misfit: largest(|w| w[1], |s| s.gap_m.abs())?,
        misbuilt: None,
    })
}

/// The part with the largest force, and the one with the largest misfit.
fn worst(rear_end: &RearEnd, row: &Row) -> [Strain; 2] {
    let none = Strain {
        part: None,
        gap_m: 0.0,
        force_n: 0.0,
    };
    rear_end
        .mechanism
        .strains(&row.at)
        .fold([none; 2], |[force, misfit], s| {
            let named = |closure: ClosureId| Strain {
                part: rear_end.part(closure),
                gap_m: s.gap_m,
                force_n: s.force_n,
            };
            [
                if s.force_n.abs() > force.force_n.abs() {
                    named(s.closure)
                } else {
                    force
                },
                if s.gap_m.abs() > misfit.gap_m.abs() {
                    named(s.closure)
                } else {
                    misfit
                },
            ]
        })
}

/// The smallest roll, either way, at which the use of the limits passes one; on straight lines between the poses. Zero where it already has
/// at no roll.
fn first_over(rolls: &[f64], use_of: &[f64]) -> Option<f64> {
    let points = || rolls.iter().copied().zip(use_of.iter().copied());
    let crossing = |((roll_a, use_a), (roll_b, use_b)): ((f64, f64), (f64, f64))| {
        if use_a > 1.0 && use_b > 1.0 {
            return Some(if roll_a.abs() < roll_b.abs() { roll_a } else { roll_b });
        }
        ((use_a > 1.0) != (use_b > 1.0)).then(|| roll_a + (roll_b - roll_a) * (1.0 - use_a) / (use_b - use_a))
    };
    points()
        .zip(points().skip(1))
        .filter_map(crossing)
        .min_by(|a, b| a.abs().total_cmp(&b.abs()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_limit_is_passed_on_a_straight_line_between_two_poses() {
        let rolls = [-0.2, -0.1, 0.0, 0.1, 0.2];
        let near = |found: Option<f64>, wanted: f64| found.is_some_and(|f| (f - wanted).abs() < 1e-12);
        assert!(near(first_over(&rolls, &[4.0, 2.0, 0.0, 0.5, 3.0]), -0.05));
        assert!(near(first_over(&rolls, &[0.4, 0.2, 0.0, 0.5, 1.5]), 0.15));
        assert_eq!(first_over(&rolls, &[0.4, 0.2, 0.0, 0.5, 0.9]), None);
        assert!(
            near(first_over(&rolls, &[4.0, 3.0, 2.0, 3.0, 4.0]), 0.0),
            "too much from the start"
        );
    }
}
