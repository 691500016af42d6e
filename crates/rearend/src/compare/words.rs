//! The figures in words, and which of them are best.

use super::{Better, Kind, Row, Value};
use crate::findings::directed;
use crate::tape::{Units, degrees};

impl Kind {
    /// How much, without which way: two that read alike here are as good as each other.
    fn size(self, value: f64, units: Units) -> String {
        match self {
            Self::Sideways | Self::Movement => units.movement(value.abs()),
            Self::Nose | Self::Heading => degrees(value.abs(), 2),
            Self::Share => format!("{:.0} %", value * 100.0 + 0.0),
            Self::SteerPerRoll => format!("{:.3}° per °", value.abs()),
            Self::Height | Self::Room | Self::Bar | Self::WheelUp => units.length(value),
            Self::Count => format!("{value:.0}"),
        }
    }

    fn words(self, value: f64, units: Units) -> String {
        let size = self.size(value, units);
        let is_none = size == self.size(0.0, units);
        let which_way = |plus: &str, minus: &str| {
            let way = if value < 0.0 { minus } else { plus };
            if is_none { size.clone() } else { format!("{size} {way}") }
        };
        match self {
            Self::Sideways => directed(units, value, "left", "right"),
            Self::Nose => which_way("nose up", "nose down"),
            Self::Heading => which_way("left", "right"),
            Self::SteerPerRoll => which_way("oversteer", "understeer"),
            Self::Room if value < 0.0 && is_none => "touches".to_owned(),
            Self::Room if value < 0.0 => format!("runs in by {}", units.length(-value)),
            Self::WheelUp if is_none => "binds with both level".to_owned(),
            Self::Share if size == "-0 %" => "0 %".to_owned(),
            _ => size,
        }
    }
}

impl Row {
    /// In words, lengths in the user's units; empty where there is no such setup.
    #[must_use]
    pub fn words(&self, which: usize, units: Units) -> String {
        let words = |value: &Value| match value {
            Value::Figure(f) => self.kind.words(*f, units),
            Value::Reached(f) => format!("{}, to where it ends", self.kind.words(*f, units)),
            Value::Of(f, name) => format!("{}, {name}", self.kind.words(*f, units)),
            Value::Gives(gap_m) => format!("fits, giving {}", units.movement(*gap_m)),
            Value::NotSolved => "not solved".to_owned(),
            Value::NotHeld => "not held".to_owned(),
            Value::Words(words) => (*words).to_owned(),
        };
        self.values.get(which).map(words).unwrap_or_default()
    }

    /// Which setups have the best figure, as it reads in these units: all of them where several read alike. None where there is nothing to
    /// be better than.
    #[must_use]
    pub fn best(&self, units: Units) -> Vec<bool> {
        let figure = |value: &Value| match value {
            Value::Figure(f) => Some(*f),
            _ => None,
        };
        let figures: Vec<Option<f64>> = self.values.iter().map(figure).collect();
        let best = match self.better {
            _ if figures.len() < 2 => None,
            Better::Neither => None,
            Better::Least => figures
                .iter()
                .flatten()
                .copied()
                .min_by(|a, b| a.abs().total_cmp(&b.abs())),
            Better::Most => figures.iter().flatten().copied().max_by(f64::total_cmp),
        };
        let reads = best.map(|best| self.kind.size(best, units));
        figures
            .into_iter()
            .map(|f| f.is_some() && f.map(|f| self.kind.size(f, units)) == reads)
            .collect()
    }
}
