//! What wants a bracket: bolts through one row of holes, what carries them, and what they are called.

use nalgebra::{Point3, Unit, Vector3};

use super::plane::mirrored;
use crate::setup::{Carrier, Mount, Steel};
use crate::tape::Units;

/// A joint, or several that share a bracket's row of holes.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Joint {
    /// What its bracket is called: "panhard bar, on the frame".
    pub name: String,
    pub mounts: Vec<Mount>,
    pub carrier: Carrier,
    /// Where it is bolted, carrier coordinates.
    pub at: Point3<f64>,
    /// Every hole of its row, that one too.
    pub holes: Vec<Point3<f64>>,
    /// Which of them is `at`.
    pub used: usize,
    /// Towards the bolt's head.
    pub bolt: Unit<Vector3<f64>>,
    /// Clear width between its plates, m.
    pub gap_m: f64,
    /// Round its bolt, what turns in it sweeps a circle of this radius, m; nothing where only a bar does.
    pub sweep_m: f64,
    /// Towards where its cage may be closed, clear of the links of what turns in it; nothing where only a bar does.
    pub open: Option<Vector3<f64>>,
    /// Towards the bar's other end at ride height, and what lies there.
    pub towards: Option<(Vector3<f64>, String)>,
    /// Where other joints near it are, on the same carrier.
    pub beside: Vec<Point3<f64>>,
    /// True where the same stands on the other side of the truck.
    pub on_both_sides: bool,
    /// What to know besides.
    pub notes: Vec<String>,
}

/// Marks for bars this near to each other in direction lie alike: half a degree, a scriber's width at the end of one.
const ALIKE: f64 = 0.01;

/// Points nearer than this are one.
const SAME_M: f64 = 1e-9;

impl Joint {
    /// A joint with one hole, its bolt's head outboard, at the front or on top.
    pub fn new(name: String, carrier: Carrier, at: Point3<f64>, bolt: Vector3<f64>, gap_m: f64) -> Option<Self> {
        let bolt = Unit::try_new(bolt, 1e-9).filter(|b| b.iter().all(|v| v.is_finite()))?;
        let outboard = if at.y < 0.0 { -bolt.y } else { bolt.y };
        let lead = if bolt.y.abs() > 0.5 {
            outboard
        } else if bolt.x.abs() > 0.5 {
            bolt.x
        } else {
            bolt.z
        };
        Some(Self {
            name,
            mounts: Vec::new(),
            carrier,
            at,
            holes: vec![at],
            used: 0,
            bolt: if lead < 0.0 { -bolt } else { bolt },
            gap_m,
            sweep_m: 0.0,
            open: None,
            towards: None,
            beside: Vec::new(),
            on_both_sides: false,
            notes: Vec::new(),
        })
    }

    /// With a row of holes, of which it is in one.
    pub fn in_row(mut self, holes: impl IntoIterator<Item = Point3<f64>>) -> Self {
        let holes: Vec<_> = holes.into_iter().collect();
        let far = |hole: &Point3<f64>| (hole - self.at).norm();
        let nearest = (0..holes.len()).min_by(|a, b| far(&holes[*a]).total_cmp(&far(&holes[*b])));
        if let Some(used) = nearest {
            self.holes = holes;
            self.holes[used] = self.at;
            self.used = used;
        }
        self
    }

    /// True where the other one's bracket is this one's, turned over on the other side of the truck.
    pub fn is_mirror_of(&self, other: &Self) -> bool {
        let same_point = |a: &Point3<f64>, b: &Point3<f64>| (a.coords - mirrored(b.coords)).norm() < SAME_M;
        let alike = |a: Vector3<f64>, b: Vector3<f64>| a.cross(&mirrored(b)).norm() < ALIKE;
        let holes = self.holes.iter().zip(&other.holes);
        let marks = match (&self.towards, &other.towards) {
            (Some((a, _)), Some((b, _))) => alike(a.normalize(), b.normalize()),
            (None, None) => true,
            _ => false,
        };
        self.carrier == other.carrier
            && self.holes.len() == other.holes.len()
            && holes.into_iter().all(|(a, b)| same_point(a, b))
            && self.bolt.cross(&mirrored(other.bolt.into_inner())).norm() < SAME_M
            && marks
    }

    /// From the middle of its bolt to the nearest thing that what turns in it has to pass, m.
    pub fn room_m(&self, shop: &Shop) -> f64 {
        shop.room_m().max(self.sweep_m)
    }

    /// How many brackets this is.
    pub fn count(&self) -> usize {
        if self.on_both_sides { 2 } else { 1 }
    }
}

/// What everything is cut from, and how lengths are said.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shop<'a> {
    pub steel: &'a Steel,
    pub units: Units,
}

impl Shop<'_> {
    /// From the middle of a bolt to the nearest thing that its joint has to turn past, m: the eye's radius or the plate's edge, whichever
    /// is more, and a quarter of that again.
    pub fn room_m(&self) -> f64 {
        1.25 * self.steel.edge_m().max(self.steel.bush_eye_m / 2.0)
    }

    /// Shortest edge that a plate is welded by, m: two and a half diameters of the bolt, common practice.
    pub fn least_weld_m(&self) -> f64 {
        2.5 * self.steel.bolt_m
    }

    pub fn says(&self, length_m: f64) -> String {
        self.units.length(length_m)
    }
}
