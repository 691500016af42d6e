//! Going through a size from left to right.

use super::{Carcass, Service, TyreSizeError};

/// What is left of the text, in capitals, without space before it.
pub(super) struct Scanner {
    rest: String,
    is_cut: bool,
}

/// Longer than any size with all that stands behind it.
const LONGEST: usize = 40;

impl Scanner {
    pub(super) fn new(text: &str) -> Self {
        let capitals: String = text.trim().chars().take(LONGEST + 1).collect();
        Self {
            is_cut: capitals.chars().count() > LONGEST,
            rest: capitals.to_uppercase(),
        }
    }

    pub(super) fn is_at_end(&self) -> bool {
        self.rest.is_empty()
    }

    /// The letters before the first number.
    pub(super) fn service(&mut self) -> Service {
        let known = [
            ("LT", Service::LightTruck),
            ("ST", Service::Trailer),
            ("P", Service::Passenger),
            ("T", Service::Spare),
        ];
        let found = known.into_iter().find(|(letters, _)| self.takes(&[letters]));
        found.map_or(Service::Plain, |(_, service)| service)
    }

    /// Goes past the first of these that comes next; false where none does.
    pub(super) fn takes(&mut self, any: &[&str]) -> bool {
        let Some(past) = any.iter().find_map(|word| self.rest.strip_prefix(word)) else {
            return false;
        };
        self.rest = past.trim_start().to_owned();
        true
    }

    /// A number, its decimals behind a point or a comma.
    pub(super) fn number(&mut self, expected: &'static str) -> Result<f64, TyreSizeError> {
        let is_part = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
        let end = self.rest.find(|c| !is_part(c)).unwrap_or(self.rest.len());
        let (digits, past) = self.rest.split_at(end);
        let value = digits.replace(',', ".").parse::<f64>().ok().filter(|v| v.is_finite());
        let Some(value) = value else {
            return Err(self.unexpected(expected));
        };
        self.rest = past.trim_start().to_owned();
        Ok(value)
    }

    /// What stands before the rim's diameter. A speed letter may be mixed in (`ZR`), and many write a second slash.
    pub(super) fn carcass(&mut self) -> Result<Carcass, TyreSizeError> {
        if self.takes(&["R", "ZR", "VR", "HR", "SR", "/"]) {
            self.takes(&["F"]);
            Ok(Carcass::Radial)
        } else if self.takes(&["-", "–", "D", "B"]) {
            Ok(Carcass::Bias)
        } else {
            Err(self.unexpected("R or a dash before the rim"))
        }
    }

    /// What stands behind the rim's diameter, of which only the service matters.
    pub(super) fn rest(&mut self) -> Result<Service, TyreSizeError> {
        let mut service = Service::Plain;
        // A word of its own: what begins with the same letters is none.
        let end = self.rest.find(|c: char| !c.is_ascii_alphabetic());
        match self.rest.split_at(end.unwrap_or(self.rest.len())) {
            ("LT" | "C", past) => (service, self.rest) = (Service::LightTruck, past.trim_start().to_owned()),
            ("ST", past) => (service, self.rest) = (Service::Trailer, past.trim_start().to_owned()),
            _ => {}
        }
        let known = self.rest.split_whitespace().all(is_service_description);
        if known && !self.is_cut {
            Ok(service)
        } else {
            Err(self.unexpected("the end of the size"))
        }
    }

    fn unexpected(&self, expected: &'static str) -> TyreSizeError {
        let next: String = self.rest.chars().take_while(|c| !c.is_whitespace()).take(12).collect();
        let found = if next.is_empty() {
            "nothing".to_owned()
        } else {
            format!("\"{next}\"")
        };
        TyreSizeError::Unexpected { found, expected }
    }
}

/// Load indices with a speed letter (`115/112Q`, `94W`), load ranges (`/E`, `E`), plies (`8PR`), and the usual abbreviations.
fn is_service_description(word: &str) -> bool {
    const KNOWN: [&str; 7] = ["XL", "SL", "RF", "TL", "TT", "M+S", "OWL"];
    if KNOWN.contains(&word) {
        return true;
    }
    let bare = word.trim_start_matches('/');
    if let Some(plies) = bare.strip_suffix("PR") {
        return (1..=2).contains(&plies.len()) && plies.bytes().all(|b| b.is_ascii_digit());
    }
    let letters = bare.trim_start_matches(|c: char| c.is_ascii_digit() || c == '/');
    let one_letter = letters.len() <= 1 && letters.bytes().all(|b| b.is_ascii_uppercase());
    let digits = &bare[..bare.len() - letters.len()];
    one_letter && digits.split('/').all(|index| index.len() <= 3)
}
