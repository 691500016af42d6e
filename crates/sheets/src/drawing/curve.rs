//! The curves of the travel: ride height up the page, as in the window's strips.

use rearend::answers::{Answers, Solved};
use rearend::setup::Setup;
use rearend::tape::{Units, degrees};
use rearend::travel::Row;
use serde::Serialize;

/// One quantity over the travel.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Curve {
    /// What it is.
    pub title: String,
    /// What its left edge stands for.
    pub left: String,
    /// What its right edge stands for.
    pub right: String,
    /// How far either edge is from the middle.
    pub full: String,
    /// Its points: across from -1, the left edge, to 1; up from 0, laid out, to 1, full lift.
    pub points: Vec<[f64; 2]>,
    /// Ride height on that scale.
    pub ride: f64,
    /// Height of the rails laid out, at ride height, at full lift.
    pub heights: [String; 3],
}

/// What is drawn of a pose, and the words for its two ways.
struct Quantity<'a> {
    title: &'a str,
    /// To the right.
    value: &'a dyn Fn(&Row) -> Option<f64>,
    left: &'a str,
    right: &'a str,
    is_angle: bool,
}

/// Sideways shift, pinion angle, fore-and-aft movement and slip, each from its value at ride height; none where nothing is solved, and no
/// slip where no shaft is described.
#[must_use]
pub fn curves(setup: &Setup, answers: &Answers, units: Units) -> Vec<Curve> {
    let Ok(solved) = &answers.solved else { return Vec::new() };
    let at_ride_rad = solved.stance.pinion_rad;
    let length = |title, value, left, right| Quantity {
        title,
        value,
        left,
        right,
        is_angle: false,
    };
    let turned = |r: &Row| Some(r.pinion_to_frame_rad - at_ride_rad);
    let quantities = [
        length("Sideways shift", &|r: &Row| Some(-r.shift_m), "left", "right"),
        Quantity {
            is_angle: true,
            ..length("Pinion turns", &turned, "nose down", "nose up")
        },
        length("Fore and aft", &|r: &Row| Some(-r.fore_aft_m), "forward", "back"),
        length("Slip", &|r: &Row| Some(r.shaft?.slip_m), "in", "out"),
    ];
    let curves = quantities.iter().filter_map(|q| q.curve(setup, solved, units));
    curves.collect()
}

impl Quantity<'_> {
    fn curve(&self, setup: &Setup, solved: &Solved, units: Units) -> Option<Curve> {
        let (low_m, high_m) = (setup.travel.laid_out_m, setup.travel.full_lift_m);
        let up = |height_m: f64| (height_m - low_m) / (high_m - low_m).max(1e-9);
        let poses = solved.level.rows.iter();
        let poses: Vec<_> = poses.filter_map(|r| Some(((self.value)(r)?, up(r.height_m)))).collect();
        let most = poses.iter().map(|(v, _)| v.abs()).fold(0.0, f64::max);
        if poses.is_empty() || !most.is_finite() {
            return None;
        }
        let unit = if self.is_angle {
            1f64.to_radians()
        } else {
            units.unit_m()
        };
        let least = if self.is_angle { 0.5 } else { 1e-3 / units.unit_m() };
        let full = round_up(most / unit, least) * unit;
        Some(Curve {
            title: self.title.to_owned(),
            left: self.left.to_owned(),
            right: self.right.to_owned(),
            full: if self.is_angle {
                degrees(full, 1)
            } else {
                trimmed(&units.movement(full))
            },
            points: poses.iter().map(|(v, y)| [v / full, *y]).collect(),
            ride: up(setup.travel.ride_m),
            heights: [low_m, setup.travel.ride_m, high_m].map(|h| units.length(h)),
        })
    }
}

/// A length with its unit, without the zeros behind its figure.
fn trimmed(text: &str) -> String {
    match text.split_once(' ') {
        Some((figure, unit)) if figure.contains('.') => {
            let figure = figure.trim_end_matches('0').trim_end_matches('.');
            format!("{figure} {unit}")
        }
        _ => text.to_owned(),
    }
}

/// The next of 1, 2, 5 and their tenfolds that is no less, nor less than `least`.
fn round_up(value: f64, least: f64) -> f64 {
    let value = value.max(least);
    let ten = 10f64.powf(value.log10().floor());
    let steps = [1.0, 2.0, 5.0, 10.0].map(|s| s * ten);
    steps.into_iter().find(|s| *s >= value * (1.0 - 1e-9)).unwrap_or(value)
}

#[cfg(test)]
mod tests {
    use super::{round_up, trimmed};

    #[test]
    fn zeros_behind_a_figure_go() {
        let read = ["20.00 mm", "0.050 in", "10 mm"].map(trimmed);
        assert_eq!(read, ["20 mm", "0.05 in", "10 mm"]);
    }

    #[test]
    fn a_full_scale_is_one_two_or_five() {
        for (value, full) in [
            (0.9, 1.0),
            (1.0, 1.0),
            (1.1, 2.0),
            (3.0, 5.0),
            (7.0, 10.0),
            (0.03, 0.05),
            (0.0, 0.01),
        ] {
            assert!((round_up(value, 0.01) - full).abs() < 1e-12, "{value}");
        }
    }
}
