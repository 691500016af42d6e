//! Vector drawings as data: the truck from behind, from the left and from above at ride height, and the curves of its travel.
//!
//! A drawing is in metres of the truck, x to the right and y up the page from its lower left corner, to be printed one to [`Drawing::one_to`].
//! Sizes of letters and distances of dimension lines depend on that scale; how thick a line is and what colour it has is the template's.

mod board;
mod curve;
mod dimensions;
mod labels;
mod ordinates;
mod plane;
mod shapes;
mod truck;
mod views;

use rearend::answers::Answers;
use rearend::setup::Setup;
use rearend::tape::Units;
use serde::Serialize;

pub use curve::{Curve, curves};
pub use plane::{Flat, View};

/// What a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Weight {
    /// An edge that is to be seen first: bars, the section of a rail.
    Outline,
    /// Any other edge.
    Thin,
    /// An edge behind something.
    Hidden,
    /// A centre line.
    Centre,
    /// A line that leads to a figure.
    Dimension,
}

/// What is inside a closed line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Fill {
    /// Whatever lies beneath.
    None,
    /// Paper: it hides what lies beneath.
    Paper,
    /// A tint of grey.
    Tint,
}

/// A line through points.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Stroke {
    /// In order.
    pub points: Vec<Flat>,
    /// What it is.
    pub weight: Weight,
    /// Back to its first point.
    pub closed: bool,
    /// What is inside.
    pub fill: Fill,
}

/// A mount.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Circle {
    /// Its centre.
    pub at: Flat,
    /// Its radius, m.
    pub radius_m: f64,
}

/// Which part of a text stands at its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Anchor {
    /// Its left end.
    Start,
    /// Its middle.
    Middle,
    /// Its right end.
    End,
}

/// A text, in the middle of its height.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Text {
    /// Where.
    pub at: Flat,
    /// What.
    pub text: String,
    /// Turned counterclockwise, degrees.
    pub turn_deg: f64,
    /// What stands there.
    pub anchor: Anchor,
}

/// A figure with the lines that lead to it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Dimension {
    /// From what is measured.
    pub leads: Vec<Vec<Flat>>,
    /// What has an arrowhead at both ends; none where the figure is counted from the drawing's zero.
    pub line: Option<[Flat; 2]>,
    /// The figure.
    pub text: Text,
}

/// A drawing.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Drawing {
    /// What it shows.
    pub title: String,
    /// How to read it.
    pub note: String,
    /// Metres of the truck to a metre of paper.
    pub one_to: f64,
    /// Its width, m.
    pub width: f64,
    /// Its height, m.
    pub height: f64,
    /// Lines, the farthest away first.
    pub strokes: Vec<Stroke>,
    /// Mounts, over the lines.
    pub circles: Vec<Circle>,
    /// Names.
    pub texts: Vec<Text>,
    /// Figures.
    pub dimensions: Vec<Dimension>,
}

/// The three views, no wider and no higher on paper than `room_m`. An axle that cannot be solved is shown as drawn.
#[must_use]
pub fn drawings(setup: &Setup, answers: &Answers, units: Units, room_m: [f64; 2]) -> Vec<Drawing> {
    let rear_end = answers.solved.as_ref().ok().map(|s| &s.rear_end);
    let truck = truck::Truck::of(setup, rear_end);
    [View::Side, View::Rear, View::Top]
        .map(|view| views::drawing(&truck, view, units, room_m))
        .into()
}
