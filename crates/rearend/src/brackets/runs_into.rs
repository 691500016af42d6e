//! Plates against what stands beside them: the rest of the steel that carries them, and the plates of other brackets.
//!
//! Every plate is its outline, as thick as it is. What reaches into it by no more than a rim of half a millimetre is fit-up; what a bracket
//! is welded to it may touch. Whatever moves against its carrier is looked at through travel instead: see [`crate::clearance`].

use std::cell::OnceCell;

use nalgebra::Point2;

use super::convex::{Bounds, Convex, Slab};
use super::error::BracketError;
use super::flat::{belt, corners, inside_rim, triangles};
use super::joint::{Joint, Shop};
use super::steel::{Member, Own, Steel};
use super::{Outline, Plate, Segment, Stand};
use crate::setup::{Mount, Setup};

/// Plates that reach into something by no more than this fit: two plates are tacked no better.
const RIM_M: f64 = 5e-4;

/// Bolts nearer to each other than this are one.
const SAME_BOLT_M: f64 = 1e-3;

/// And that run alike.
const SAME_BOLT_RAD: f64 = 1e-3;

/// All that plates may run into: steel, and the brackets that stand already.
pub(super) struct Around<'a> {
    setup: &'a Setup,
    steel: Steel<'a>,
    standing: Vec<Standing>,
}

/// What is in a bracket's way.
pub(super) struct Met {
    /// How far the plate that is deepest in it would have to be moved, m.
    pub deep_m: f64,
    pub why: Box<BracketError>,
}

/// A bracket's plates as they stand.
struct Standing {
    joint: Joint,
    plates: Vec<Placed>,
    bounds: Bounds,
}

struct Placed {
    outline: Outline,
    half_m: f64,
    stands: Vec<(Stand, Bounds)>,
    is_saddled: bool,
    flat: OnceCell<Flat>,
}

/// What is only wanted of a plate that is near something.
struct Flat {
    whole: Vec<Point2<f64>>,
    inner: Vec<Point2<f64>>,
    triangles: OnceCell<Vec<[Point2<f64>; 3]>>,
}

impl<'a> Around<'a> {
    pub fn of(setup: &'a Setup) -> Self {
        Self {
            setup,
            steel: Steel::of(setup),
            standing: Vec::new(),
        }
    }

    /// Puts up a bracket, if its plates run into nothing.
    ///
    /// # Errors
    /// What they run into, and by how much.
    pub fn put(&mut self, joint: &Joint, own: Own, plates: &[Plate], shop: &Shop) -> Result<(), Met> {
        let bracket = Standing::of(joint, plates);
        self.clear_of_steel(&bracket, own, shop)?;
        for other in &self.standing {
            if let Some(deep_m) = bracket.in_other_m(other) {
                let why = BracketError::RunsIntoBracket {
                    name: joint.name.clone(),
                    other: other.joint.name.clone(),
                    deep: shop.says(deep_m),
                };
                return Err(Met {
                    deep_m,
                    why: Box::new(why),
                });
            }
        }
        self.standing.push(bracket);
        Ok(())
    }

    fn clear_of_steel(&self, bracket: &Standing, own: Own, shop: &Shop) -> Result<(), Met> {
        let mut worst: Option<(Member, f64)> = None;
        let carrier = bracket.joint.carrier;
        for plate in &bracket.plates {
            for (stand, bounds) in plate.described(bracket, self.steel.is_symmetric(carrier)) {
                let is_own = |member| own.has(member, plate.is_saddled);
                self.steel.near(carrier, bounds, is_own, |member, solid| {
                    let deep_m = solid.in_plate_m(&plate.slab(stand));
                    if let Some(deep_m) = deep_m.filter(|m| worst.is_none_or(|(_, most_m)| *m > most_m)) {
                        worst = Some((member, deep_m));
                    }
                });
            }
        }
        worst.map_or(Ok(()), |(member, deep_m)| {
            let why = self.says(&bracket.joint, own, member, deep_m, shop);
            Err(Met {
                deep_m,
                why: Box::new(why),
            })
        })
    }

    fn says(&self, joint: &Joint, own: Own, member: Member, deep_m: f64, shop: &Shop) -> BracketError {
        let name = joint.name.clone();
        if own.bends_into(member) {
            return BracketError::Bent { name };
        }
        BracketError::RunsInto {
            name,
            what: member.name(self.setup, shop.units, joint.on_both_sides),
            deep: shop.says(deep_m),
            or_turn: if is_turnable(joint) { ", or turn its bolt" } else { "" },
        }
    }
}

/// Bolts of bars may be turned; others lie as common practice has them.
fn is_turnable(joint: &Joint) -> bool {
    joint.mounts.iter().any(|m| matches!(m, Mount::Bar { .. }))
}

impl Standing {
    fn of(joint: &Joint, plates: &[Plate]) -> Self {
        let plates: Vec<_> = plates.iter().map(Placed::of).collect();
        let bounds = plates.iter().flat_map(|p| &p.stands).map(|(_, bounds)| *bounds);
        Self {
            joint: joint.clone(),
            bounds: bounds.reduce(|a, b| a.with(&b)).unwrap_or_else(|| Bounds::of([])),
            plates,
        }
    }

    /// Two on one mount, or on one bolt, are one bracket.
    fn is_one_with(&self, other: &Self) -> bool {
        let (a, b) = (&self.joint, &other.joint);
        let is_one_bolt = (a.at - b.at).norm() < SAME_BOLT_M && a.bolt.cross(&b.bolt).norm() < SAME_BOLT_RAD;
        a.mounts.iter().any(|m| b.mounts.contains(m)) || is_one_bolt
    }

    fn in_other_m(&self, other: &Self) -> Option<f64> {
        let is_apart = self.joint.carrier != other.joint.carrier || !self.bounds.meets(&other.bounds);
        if is_apart || self.is_one_with(other) {
            return None;
        }
        let mut worst = None;
        let is_pair = self.joint.on_both_sides && other.joint.on_both_sides;
        for own in &self.plates {
            for (stand, bounds) in own.described(self, is_pair) {
                let slab = || own.slab(stand);
                for plate in &other.plates {
                    let near = plate.stands.iter().filter(|(_, there)| there.meets(bounds));
                    let deep_m = near.filter_map(|(there, _)| plate.in_plate_m(there, &slab()));
                    worst = deep_m.fold(worst, |worst: Option<f64>, m| Some(worst.map_or(m, |w| w.max(m))));
                }
            }
        }
        worst
    }
}

impl Placed {
    fn of(plate: &Plate) -> Self {
        let half_m = plate.thickness_m / 2.0;
        let around = box_about(&plate.outline);
        let bounds = |stand: &Stand| {
            let out = stand.out() * half_m;
            Bounds::of(
                around
                    .iter()
                    .flat_map(|p| [stand.place(*p) + out, stand.place(*p) - out]),
            )
        };
        let is_hollow = |s: &Segment| matches!(s, Segment::Arc { clockwise: true, .. });
        Self {
            outline: plate.outline.clone(),
            half_m,
            stands: plate.stands.iter().map(|s| (*s, bounds(s))).collect(),
            is_saddled: plate.outline.segments.iter().any(is_hollow),
            flat: OnceCell::new(),
        }
    }

    /// Where it stands, on the side that is described alone where the other one is like it.
    fn described<'a>(&'a self, bracket: &Standing, is_symmetric: bool) -> impl Iterator<Item = &'a (Stand, Bounds)> {
        let sides = if is_symmetric { bracket.joint.count() } else { 1 };
        // Those of the other side come last; one that is shared is described.
        self.stands.iter().take(self.stands.len().div_ceil(sides))
    }

    fn flat(&self) -> &Flat {
        self.flat.get_or_init(|| {
            let whole = corners(&self.outline);
            Flat {
                inner: inside_rim(&whole, RIM_M),
                whole,
                triangles: OnceCell::new(),
            }
        })
    }

    fn slab<'a>(&'a self, stand: &'a Stand) -> Slab<'a> {
        let flat = self.flat();
        Slab {
            stand,
            half_m: self.half_m,
            whole: &flat.whole,
            inner: &flat.inner,
            rim_m: RIM_M,
        }
    }

    /// How deep it stands in another plate, as if both had no hollows; only whether it does takes those into account.
    fn in_plate_m(&self, stand: &Stand, other: &Slab) -> Option<f64> {
        let flat = self.flat();
        let hull = Convex::prism(stand, &belt(flat.whole.clone()), self.half_m);
        let deep_m = hull.in_plate_m(other)?;
        let triangles = flat.triangles.get_or_init(|| triangles(&flat.whole));
        let meets = |t: &[Point2<f64>; 3]| Convex::prism(stand, t, self.half_m).in_plate_m(other).is_some();
        triangles.iter().any(meets).then_some(deep_m)
    }
}

/// The corners of a box about an outline, arcs taken as whole circles.
fn box_about(outline: &Outline) -> [Point2<f64>; 4] {
    let (mut low, mut high) = (outline.start, outline.start);
    for (from, segment) in outline.pieces() {
        let (centre, radius_m) = match segment {
            Segment::Arc {
                centre,
                clockwise: false,
                ..
            } => (*centre, (from - centre).norm()),
            // What is hollow lies within its ends' box and the rest of the outline.
            _ => (segment.to(), 0.0),
        };
        low = low.inf(&(centre.map(|v| v - radius_m)));
        high = high.sup(&(centre.map(|v| v + radius_m)));
    }
    [low, Point2::new(high.x, low.y), high, Point2::new(low.x, high.y)]
}
