//! What every part has whatever kind it is: what it is called, what it is there for, and where its length comes from.

use crate::mechanism::{Part, RearEnd};
use crate::setup::{Length, Role, Setup};

impl Role {
    /// All of them, in the order they are offered.
    pub const ALL: [Self; 3] = [Self::Upper, Self::Lower, Self::Sideways];

    /// The word for it: "upper".
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Upper => "upper",
            Self::Lower => "lower",
            Self::Sideways => "sideways",
        }
    }

    /// What a bar of it is called where nobody has named it: "upper bar".
    #[must_use]
    pub fn bar(self) -> &'static str {
        match self {
            Self::Upper => "upper bar",
            Self::Lower => "lower bar",
            Self::Sideways => "sideways bar",
        }
    }

    /// One of its bars: "an upper bar".
    #[must_use]
    pub fn a_bar(self) -> &'static str {
        match self {
            Self::Upper => "an upper bar",
            Self::Lower => "a lower bar",
            Self::Sideways => "a sideways bar",
        }
    }
}

impl Part {
    /// A part as its description has it: without a side, a Watt's linkage as a whole.
    #[must_use]
    pub fn plain_name(self, setup: &Setup) -> &str {
        match self {
            Self::Bar(bar, _) => setup.bar(bar).map_or("bar", |b| &b.name),
            Self::Arm(arm, _) => setup.arm(arm).map_or("arm", |a| &a.name),
            Self::WattLeft | Self::WattRight => "Watt's linkage",
        }
    }

    /// What has a length of its own: the two of a mirrored bar go by one name, each link of a Watt's linkage by its own.
    #[must_use]
    pub fn link_name(self, setup: &Setup) -> String {
        match self {
            Self::WattLeft | Self::WattRight => self.name(setup),
            Self::Bar(..) | Self::Arm(..) => self.plain_name(setup).to_owned(),
        }
    }
}

impl Setup {
    /// Where a part's length comes from; an arm has none.
    #[must_use]
    pub fn length(&self, part: Part) -> Option<Length> {
        match part {
            Part::Bar(bar, _) => self.bar(bar).map(|b| b.length),
            Part::Arm(..) => None,
            Part::WattLeft => self.watt.as_ref().map(|w| w.left_length),
            Part::WattRight => self.watt.as_ref().map(|w| w.right_length),
        }
    }

    /// Gives a part another length. False where it has none.
    pub fn set_length(&mut self, part: Part, length: Length) -> bool {
        let place = match part {
            Part::Bar(bar, _) => self.bars.get_mut(bar.0).map(|b| &mut b.length),
            Part::Arm(..) => None,
            Part::WattLeft => self.watt.as_mut().map(|w| &mut w.left_length),
            Part::WattRight => self.watt.as_mut().map(|w| &mut w.right_length),
        };
        place.map(|place| *place = length).is_some()
    }

    /// Eye to eye as drawn, m: what the mounts would make a part's length with every bar cut to suit. `None` for an arm, and where the
    /// drawing cannot be used.
    #[must_use]
    pub fn drawn_length_m(&self, part: Part) -> Option<f64> {
        let mut drawn = self.clone();
        for bar in &mut drawn.bars {
            bar.length = Length::CutToSuit;
        }
        for link in [Part::WattLeft, Part::WattRight] {
            drawn.set_length(link, Length::CutToSuit);
        }
        RearEnd::compile(&drawn).ok()?.length_m(part)
    }
}
