//! How the user likes the window: kept from one start to the next.

use std::fs;
use std::path::PathBuf;

use panels::ShopStyle;
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
}

fn written(look: Look, shop: &ShopStyle) -> String {
    let paper = if shop.letter { "letter" } else { "a4" };
    let logo = shop.logo.as_ref().map(|path| path.display().to_string());
    json!({
        "units": look.units.label(), "light": look.light, "scale": look.scale,
        "shop": shop.name, "logo": logo, "paper": paper,
    })
    .to_string()
}

fn read_shop(text: &str) -> ShopStyle {
    let value: Value = serde_json::from_str(text).unwrap_or_default();
    ShopStyle {
        name: value["shop"].as_str().unwrap_or_default().to_owned(),
        logo: value["logo"].as_str().map(PathBuf::from),
        letter: value["paper"] == "letter",
    }
}

/// The look and the file that keeps it. A file that cannot be written is of no matter.
#[derive(Debug, Default)]
pub struct KeptLook {
    file: Option<PathBuf>,
    kept: Look,
    shop: ShopStyle,
}

impl KeptLook {
    /// As a file has it.
    pub fn from(file: PathBuf) -> Self {
        let text = fs::read_to_string(&file).unwrap_or_default();
        Self {
            kept: Look::read(&text),
            shop: read_shop(&text),
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
        self.write();
    }

    /// What the shop puts on its paper.
    pub fn shop(&self) -> &ShopStyle {
        &self.shop
    }

    /// Keeps something else for its paper.
    pub fn set_shop(&mut self, shop: ShopStyle) {
        self.shop = shop;
        self.write();
    }

    fn write(&self) {
        if let Some(file) = &self.file {
            let _ = file.parent().map(fs::create_dir_all);
            let _ = disk::write(file, written(self.kept, &self.shop).as_bytes());
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
        let shop = ShopStyle {
            name: "A shop".to_owned(),
            logo: Some(PathBuf::from("/pictures/logo.png")),
            letter: true,
        };
        let text = written(look, &shop);
        assert_eq!((Look::read(&text), read_shop(&text)), (look, shop));
        for nonsense in ["", "{", "[]", "{\"units\": 3, \"light\": \"yes\", \"scale\": 40}"] {
            assert_eq!(Look::read(nonsense), Look::default(), "{nonsense}");
            assert_eq!(read_shop(nonsense), ShopStyle::default(), "{nonsense}");
        }
    }

    #[test]
    fn words_grow_and_shrink_within_reason() {
        let largest = (0..50).fold(Look::default(), |look, _| look.scaled(1.1));
        let smallest = (0..50).fold(Look::default(), |look, _| look.scaled(1.0 / 1.1));
        assert!(SCALES.contains(&largest.scale) && SCALES.contains(&smallest.scale));
    }
}
