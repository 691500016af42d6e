//! Left and right.

/// A side of the truck.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Hand {
    /// Y positive.
    Left,
    /// Y negative.
    Right,
}

impl Hand {
    /// Both.
    pub const BOTH: [Self; 2] = [Self::Left, Self::Right];

    /// Of its Y.
    #[must_use]
    pub fn sign(self) -> f64 {
        match self {
            Self::Left => 1.0,
            Self::Right => -1.0,
        }
    }

    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}
