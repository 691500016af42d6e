//! Sizes of paper.

/// What is printed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm.
    #[default]
    A4,
    /// 8 1/2 by 11 in.
    Letter,
}

impl Paper {
    /// Both.
    pub const ALL: [Self; 2] = [Self::A4, Self::Letter];

    /// What it is called.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "Letter",
        }
    }

    /// What the typesetter calls it.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "us-letter",
        }
    }

    /// Width and height, upright, m.
    #[must_use]
    pub fn size_m(self) -> [f64; 2] {
        match self {
            Self::A4 => [0.210, 0.297],
            Self::Letter => [0.2159, 0.2794],
        }
    }
}
