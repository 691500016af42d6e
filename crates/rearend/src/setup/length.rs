//! How long a bar is: cut to suit its mounts, or built to a length that decides where the axle goes.

use serde::{Deserialize, Serialize};

use super::quantity::{size_mm, turns};

/// Where a bar's length comes from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub enum Length {
    /// Whatever its mounts make it at ride height.
    #[default]
    CutToSuit,
    /// Given; the axle goes where the bars put it.
    AsBuilt(AsBuilt),
}

/// A bar that exists.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AsBuilt {
    /// Eye to eye with the adjuster as delivered.
    #[serde(rename = "length_mm", with = "size_mm")]
    pub length_m: f64,
    /// Turns of the adjuster since, + longer.
    #[serde(default, with = "turns")]
    pub turns: f64,
    /// The thread.
    #[serde(default)]
    pub adjuster: Adjuster,
}

/// The thread that makes a bar longer.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Adjuster {
    /// Advance of one thread a turn.
    #[serde(rename = "pitch_mm", with = "size_mm")]
    pub pitch_m: f64,
    /// A left-hand thread at one end and a right-hand one at the other; else only one end turns.
    pub both_ends: bool,
}

impl Default for Adjuster {
    /// 3/4-16 left and right: the usual rod end of a truck's bars.
    fn default() -> Self {
        Self {
            pitch_m: 0.0254 / 16.0,
            both_ends: true,
        }
    }
}

impl Adjuster {
    /// How much longer one turn makes the bar, m.
    #[must_use]
    pub fn per_turn_m(&self) -> f64 {
        if self.both_ends {
            2.0 * self.pitch_m
        } else {
            self.pitch_m
        }
    }
}

impl AsBuilt {
    /// A bar of this length, adjuster as delivered.
    #[must_use]
    pub fn of_length(length_m: f64) -> Self {
        Self {
            length_m,
            turns: 0.0,
            adjuster: Adjuster::default(),
        }
    }

    /// Eye to eye as it is now, m.
    #[must_use]
    pub fn now_m(&self) -> f64 {
        self.length_m + self.turns * self.adjuster.per_turn_m()
    }
}

impl Length {
    /// Eye to eye, where it is given.
    #[must_use]
    pub fn given_m(&self) -> Option<f64> {
        match self {
            Self::CutToSuit => None,
            Self::AsBuilt(bar) => Some(bar.now_m()),
        }
    }

    pub(super) fn is_cut_to_suit(&self) -> bool {
        *self == Self::CutToSuit
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Thread definition: sixteen threads an inch, one at each end.
    #[test]
    fn one_turn_of_a_three_quarter_sixteen_pair_is_an_eighth_of_an_inch() {
        assert!((Adjuster::default().per_turn_m() - 0.125 * 0.0254).abs() < 1e-15);
        let one_end = Adjuster {
            both_ends: false,
            ..Adjuster::default()
        };
        assert!((one_end.per_turn_m() - 0.0625 * 0.0254).abs() < 1e-15);
        let bar = AsBuilt {
            turns: -2.0,
            ..AsBuilt::of_length(0.6)
        };
        assert!((bar.now_m() - (0.6 - 0.25 * 0.0254)).abs() < 1e-15);
    }
}
