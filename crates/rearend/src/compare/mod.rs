//! Several setups on one truck, side by side: the same figures of each, and which is best.
//!
//! Every row is one figure of every setup, SI and radians; what there is no figure of says why. What is best is told by what is shown: two
//! figures that read alike are both best. No better for being smaller or larger are the lengths of bars, roll centre and anti-squat.

mod figures;
mod table;
mod words;

use crate::answers::Answers;
use crate::setup::Setup;

pub use table::Line;

/// The most setups that are told apart side by side.
pub const MOST: usize = 6;

/// A setup to compare, with its answers.
#[derive(Clone, Copy, Debug)]
pub struct Compared<'a> {
    /// What it is called in the table.
    pub name: &'a str,
    /// What is described.
    pub setup: &'a Setup,
    /// What it answers. Clearance and what was found are those of the quick look in it, so that all are looked at alike.
    pub answers: &'a Answers,
}

/// Which way a figure is better.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// The nearer to nothing, the better.
    Least,
    /// The more, the better.
    Most,
    /// It is a matter of what is wanted.
    Neither,
}

/// What a row's figures are, which decides the words for them and the unit that they leave the program in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A movement sideways, m, + left.
    Sideways,
    /// A turn of the pinion, rad, + nose up.
    Nose,
    /// A movement either way, m.
    Movement,
    /// A share, 1 = 100 %.
    Share,
    /// A height, m.
    Height,
    /// Heading per roll, + towards oversteer.
    SteerPerRoll,
    /// A heading, rad, + left.
    Heading,
    /// Room, m; less than nothing where things run into each other.
    Room,
    /// A bar's length, m.
    Bar,
    /// How much higher one wheel stands than the other, m.
    WheelUp,
    /// How many.
    Count,
}

/// What a setup answers to a row.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A figure.
    Figure(f64),
    /// A figure of the part of the travel that is reached, where the travel ends early: never the best.
    Reached(f64),
    /// A figure and the part that it is of.
    Of(f64, String),
    /// Bars that do not all fit, and have to give this much at most, m: within what is allowed.
    Gives(f64),
    /// The setup is not solved.
    NotSolved,
    /// Nothing holds the axle some way: what it does is anybody's guess.
    NotHeld,
    /// There is no figure, in words.
    Words(&'static str),
}

/// One figure of every setup.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// What it is.
    pub label: &'static str,
    /// What its figures are.
    pub kind: Kind,
    /// Which way is better.
    pub better: Better,
    /// Of every setup, in their order.
    pub values: Vec<Value>,
}

/// Setups side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// What they are called: no two alike.
    pub names: Vec<String>,
    /// The rows, in the order that they are read.
    pub rows: Vec<Row>,
    /// Not all stand at the same heights.
    pub heights_differ: bool,
}

/// The same figures of every setup. Quick: everything is read off the answers.
#[must_use]
pub fn table(of: &[Compared<'_>]) -> Comparison {
    let heights = |s: &Setup| {
        let travel = &s.travel;
        [travel.laid_out_m, travel.ride_m, travel.full_lift_m]
    };
    let differ = |[a, b]: [&Compared<'_>; 2]| {
        let both = heights(a.setup).into_iter().zip(heights(b.setup));
        both.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max) > SAME_HEIGHT_M
    };
    Comparison {
        names: distinct(of.iter().map(|c| c.name)),
        rows: figures::rows(of),
        heights_differ: of.windows(2).any(|pair| differ([&pair[0], &pair[1]])),
    }
}

/// Heights this near to each other are the same.
const SAME_HEIGHT_M: f64 = 1e-4;

/// Names that can be told apart: of those that are alike the second is numbered, and so on.
#[must_use]
pub fn distinct<'a>(names: impl Iterator<Item = &'a str>) -> Vec<String> {
    let mut taken: Vec<String> = Vec::new();
    for name in names {
        let numbered = (2..).map(|n| format!("{name} ({n})"));
        let free = std::iter::once(name.to_owned())
            .chain(numbered)
            .find(|n| !taken.contains(n));
        taken.extend(free);
    }
    taken
}
