//! How the user likes the window: kept from one start to the next.

use std::fs;
use std::path::PathBuf;

use rearend::tape::Units;
use serde_json::{Value, json};
use shop::disk;

/// Words are never smaller than can be read, nor larger than leave room for the stage.
const SCALES: std::ops::RangeInclusive<f32> = 0.7..=2.5;

/// Units, colours, and size of words.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    pub units: Units,
    pub light: bool,
    pub scale: f32,
}

impl Default for Look {
    fn default() -> Self {
        Self {
            units: Units::default(),
            light: false,
            scale: 1.0,
        }
    }
}

impl Look {
    /// The same with words this many times as large.
    #[must_use]
    pub fn scaled(self, by: f32) -> Self {
        Self {
            scale: (self.scale * by).clamp(*SCALES.start(), *SCALES.end()),
            ..self
        }
    }

    /// What is not there, or makes no sense, is as it usually is.
    fn read(text: &str) -> Self {
        let usual = Self::default();
        let value: Value = serde_json::from_str(text).unwrap_or_default();
        let units = Units::ALL.into_iter().find(|u| value["units"] == u.label());
        #[expect(clippy::cast_possible_truncation, reason = "a factor near one")]
        let scale = value["scale"].as_f64().map(|s| s as f32).filter(|s| SCALES.contains(s));
        Self {
            units: units.unwrap_or(usual.units),
            light: value["light"].as_bool().unwrap_or(usual.light),
            scale: scale.unwrap_or(usual.scale),
        }
    }

    fn written(self) -> String {
        json!({ "units": self.units.label(), "light": self.light, "scale": self.scale }).to_string()
    }
}

/// The look and the file that keeps it. A file that cannot be written is of no matter.
#[derive(Debug, Default)]
pub struct KeptLook {
    file: Option<PathBuf>,
    kept: Look,
}

impl KeptLook {
    /// As a file has it.
    pub fn from(file: PathBuf) -> Self {
        let text = fs::read_to_string(&file).unwrap_or_default();
        Self {
            kept: Look::read(&text),
            file: Some(file),
        }
    }

    pub fn get(&self) -> Look {
        self.kept
    }

    /// Keeps another one.
    pub fn set(&mut self, look: Look) {
        if self.kept == look {
            return;
        }
        self.kept = look;
        if let Some(file) = &self.file {
            let _ = file.parent().map(fs::create_dir_all);
            let _ = disk::write(file, look.written().as_bytes());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_reads_back_and_nonsense_is_as_usual() {
        let look = Look {
            units: Units::Millimetres,
            light: true,
            scale: 1.5,
        };
        assert_eq!(Look::read(&look.written()), look);
        for nonsense in ["", "{", "[]", "{\"units\": 3, \"light\": \"yes\", \"scale\": 40}"] {
            assert_eq!(Look::read(nonsense), Look::default(), "{nonsense}");
        }
    }

    #[test]
    fn words_grow_and_shrink_within_reason() {
        let largest = (0..50).fold(Look::default(), |look, _| look.scaled(1.1));
        let smallest = (0..50).fold(Look::default(), |look, _| look.scaled(1.0 / 1.1));
        assert!(SCALES.contains(&largest.scale) && SCALES.contains(&smallest.scale));
    }
}
