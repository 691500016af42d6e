//! How far one wheel can go up before bars that do not fit put more on each other than the user allows.

use linkage::ClosureId;

use crate::mechanism::{Part, RearEnd};
use crate::setup::Setup;
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
}

impl Bind {
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
    let found = rolls.iter().filter_map(|sweep| bind(setup, rear_end, sweep));
    found.filter(|bind| bind.misfit.gap_m.abs() >= UNNOTICED_M).collect()
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
