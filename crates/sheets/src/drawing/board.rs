//! A drawing while it is made, in plane coordinates about the truck's own zero.

use nalgebra::{Point3, Vector3};

use super::plane::{Flat, View, disc, hull, ring};
use super::{Anchor, Circle, Dimension, Drawing, Fill, Stroke, Text, Weight};

/// Scales that drawings are made at, largest first.
const SCALES: [f64; 14] = [
    2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0,
];

/// Height of a line of letters on paper, m.
pub(super) const LETTERS_M: f64 = 0.0026;

/// Width of a letter, as part of that height: figures and lower-case letters, taken generously.
const LETTER: f64 = 0.62;

/// A drawing in the making.
pub(super) struct Board {
    pub view: View,
    pub one_to: f64,
    pub strokes: Vec<Stroke>,
    pub circles: Vec<Circle>,
    pub texts: Vec<Text>,
    pub dimensions: Vec<Dimension>,
}

/// Corners of what is drawn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Extent {
    pub low: Flat,
    pub high: Flat,
}

impl Extent {
    const NOTHING: Self = Self {
        low: [f64::INFINITY; 2],
        high: [f64::NEG_INFINITY; 2],
    };

    fn with(self, [x, y]: Flat) -> Self {
        Self {
            low: [self.low[0].min(x), self.low[1].min(y)],
            high: [self.high[0].max(x), self.high[1].max(y)],
        }
    }
}

impl Board {
    pub fn new(view: View) -> Self {
        Self {
            view,
            one_to: 1.0,
            strokes: Vec::new(),
            circles: Vec::new(),
            texts: Vec::new(),
            dimensions: Vec::new(),
        }
    }

    /// A length on paper, in metres of the truck.
    pub fn paper(&self, on_paper_m: f64) -> f64 {
        on_paper_m * self.one_to
    }

    /// How long a text is, in metres of the truck.
    pub fn text_m(&self, text: &str) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "a few words")]
        let letters = text.chars().count() as f64;
        self.paper(letters * LETTER * LETTERS_M)
    }

    /// The largest scale at which what is drawn so far leaves `margin_m` all round within `room_m`, both on paper.
    pub fn choose_scale(&mut self, room_m: Flat, margin_m: Flat) {
        let Extent { low, high } = self.extent();
        let fits = |one_to: &&f64| {
            let fits = |i: usize| (high[i] - low[i]) / **one_to + 2.0 * margin_m[i] <= room_m[i];
            fits(0) && fits(1)
        };
        self.one_to = SCALES.iter().find(fits).copied().unwrap_or(100.0);
    }

    pub fn line(&mut self, points: Vec<Flat>, weight: Weight) {
        self.strokes.push(Stroke {
            points,
            weight,
            closed: false,
            fill: Fill::None,
        });
    }

    pub fn shape(&mut self, points: Vec<Flat>, weight: Weight, fill: Fill) {
        self.strokes.push(Stroke {
            points,
            weight,
            closed: true,
            fill,
        });
    }

    /// A tube with flat ends, seen in whatever direction.
    pub fn cylinder(&mut self, ends: [Point3<f64>; 2], radius_m: f64, weight: Weight, fill: Fill) {
        let axis = (ends[1] - ends[0]).try_normalize(1e-9).unwrap_or_else(Vector3::z);
        let rings = ends.iter().flat_map(|end| ring(*end, axis, radius_m));
        let points = rings.map(|p| self.view.flat(p)).collect();
        self.shape(hull(points), weight, fill);
    }

    /// A tube with round ends.
    pub fn capsule(&mut self, ends: [Point3<f64>; 2], radius_m: f64, weight: Weight, fill: Fill) {
        let discs = ends.iter().flat_map(|end| disc(self.view.flat(*end), radius_m));
        self.shape(hull(discs.collect()), weight, fill);
    }

    /// What is drawn so far, texts as long as they are taken to be.
    pub fn extent(&self) -> Extent {
        let strokes = self.strokes.iter().flat_map(|s| s.points.iter().copied());
        let circles = self.circles.iter().map(|c| c.at);
        let leads = self.dimensions.iter().flat_map(|d| d.leads.iter().flatten().copied());
        let lines = self.dimensions.iter().flat_map(|d| d.line.into_iter().flatten());
        let texts = self.texts.iter().chain(self.dimensions.iter().map(|d| &d.text));
        let texts = texts.flat_map(|t| self.corners(t));
        let all = strokes.chain(circles).chain(leads).chain(lines).chain(texts);
        all.fold(Extent::NOTHING, Extent::with)
    }

    /// The corners of the room that a text takes.
    pub fn corners(&self, text: &Text) -> [Flat; 4] {
        let length = self.text_m(&text.text);
        let (from, to) = match text.anchor {
            Anchor::Start => (0.0, length),
            Anchor::Middle => (-length / 2.0, length / 2.0),
            Anchor::End => (-length, 0.0),
        };
        let half = self.paper(LETTERS_M) / 2.0;
        let (sin, cos) = text.turn_deg.to_radians().sin_cos();
        [(from, -half), (to, -half), (to, half), (from, half)]
            .map(|(x, y)| [text.at[0] + x * cos - y * sin, text.at[1] + x * sin + y * cos])
    }

    /// Moved so that its lower left corner is zero.
    pub fn finish(mut self, title: &str, note: String) -> Drawing {
        let Extent { low, high } = self.extent();
        let place = |p: &mut Flat| {
            for i in 0..2 {
                // A tenth of a millimetre of the truck: finer than any printer at these scales.
                p[i] = ((p[i] - low[i]) * 1e4).round() / 1e4;
            }
        };
        self.strokes.iter_mut().flat_map(|s| &mut s.points).for_each(place);
        self.circles.iter_mut().map(|c| &mut c.at).for_each(place);
        self.texts.iter_mut().map(|t| &mut t.at).for_each(place);
        for dimension in &mut self.dimensions {
            dimension.leads.iter_mut().flatten().for_each(place);
            dimension.line.iter_mut().flatten().for_each(place);
            place(&mut dimension.text.at);
        }
        Drawing {
            title: title.to_owned(),
            note,
            one_to: self.one_to,
            width: high[0] - low[0],
            height: high[1] - low[1],
            strokes: self.strokes,
            circles: self.circles,
            texts: self.texts,
            dimensions: self.dimensions,
        }
    }
}
