//! Brackets on a tube that their bolt does not lie along: side plates on a pad plate, and the pad on two ribs that are saddled on the tube.

use nalgebra::{Point2, Point3, Unit, Vector3};

use super::error::BracketError;
use super::ground::{Face, Pipe};
use super::hull::rectangle;
use super::joint::{Joint, Shop};
use super::plane::Plane;
use super::rib::ribs;
use super::sides::{self, Sides};
use super::{Plate, Scribe, check, ends, marks};

/// A pad stands out beyond what is welded to it by this many plates: room for the weld.
pub(super) const LAND_IN_PLATES: f64 = 1.5;

/// A pad whose faces are within this many of the tube's radii of its middle lies beside it.
const BESIDE: f64 = 0.7;

/// A bar that comes from the pad's side within this of square runs into it: sine of thirty degrees.
const INTO_PAD: f64 = -0.5;

/// A bolt within this of a tube's direction is along it, rad: two degrees.
const ALONG: f64 = 0.035;

/// A side plate on a face, or a pad, leans no more than thirty degrees from square to it.
pub(super) const MOST_LEAN: f64 = 0.5;

/// What is scribed on a pad for each of its side plates.
const FOOT: &str = "middle of a side plate";

/// When a pad's ribs are set to either side of what sits round the middle of a tube.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Span {
    /// Where it comes over the middle of that.
    Middle,
    /// Wherever it comes over it, and nowhere else is it a bracket.
    Any,
}

/// A rectangle in a plane: what of it the feet of the side plates take up, with the land around it.
pub(super) struct Taken {
    pub plane: Plane,
    pub low: Point2<f64>,
    pub high: Point2<f64>,
}

/// Side plates on a pad that two ribs carry above the tube.
///
/// # Errors
/// What keeps them from standing there, on the side that suits best.
pub(super) fn on_pipe(
    joint: &Joint,
    pipe: &Pipe,
    shop: &Shop,
    span: Span,
) -> Result<(Sides, Vec<Plate>), BracketError> {
    let square = joint.bolt.cross(&pipe.axis);
    // Along the tube a bolt lies square to any pad: to the one straight between tube and joint.
    let square = if square.norm() < ALONG {
        pipe.out_to(joint.at)
    } else {
        square
    };
    let up = Unit::try_new(square, 1e-6).ok_or_else(|| no_bolt(joint, &pipe.what))?;
    let nearer = pipe.out_to(joint.at).dot(&up);
    let up = if nearer < 0.0 { -up } else { up };
    let mut ways = [up, -up];
    ways.sort_by_key(|up| runs_into(joint, up));
    let mut first = None;
    for up in ways {
        match above(joint, pipe, shop, up, span) {
            Ok(found) => return Ok(found),
            Err(why) => first = first.or(Some(why)),
        }
    }
    let too_low = too_low(joint, pipe, shop, &ways[0]);
    let first = first.unwrap_or_else(|| no_bolt(joint, &pipe.what));
    Err(if matches!(first, BracketError::HangsOver { .. }) {
        too_low.unwrap_or(first)
    } else {
        first
    })
}

/// Of a pair over the centre section the pad and its ribs are one for both sides: cut once, with the feet of all side plates on it.
pub(super) fn share(plates: &mut [Plate]) {
    for plate in plates {
        // The other side's come last, and are the same pieces of steel.
        plate.stands.truncate(plate.stands.len() / 2);
        plate.count = plate.stands.len();
        plate
            .notes
            .push("It carries the brackets of both sides of the truck.".to_owned());
        let Some(stand) = plate.stands.first().copied() else {
            continue;
        };
        let across = |p: Point2<f64>| {
            let there = stand.place(p);
            let off = Point3::new(there.x, -there.y, there.z) - stand.origin;
            Point2::new(off.dot(&stand.x), off.dot(&stand.y))
        };
        let feet: Vec<_> = plate.scribes.iter().filter(|s| s.what == FOOT).cloned().collect();
        plate.scribes.extend(feet.into_iter().map(|foot| Scribe {
            from: across(foot.from),
            to: across(foot.to),
            ..foot
        }));
    }
}

/// A joint over the tube that leaves no room for pad and ribs between.
fn too_low(joint: &Joint, pipe: &Pipe, shop: &Shop, up: &Vector3<f64>) -> Option<BracketError> {
    let there_m = (pipe.out_to(joint.at).dot(up) + lowest(joint, up)).abs() - pipe.radius_m;
    let needed_m = joint.room_m(shop) + 3.0 * shop.steel.plate_m;
    (0.0..needed_m).contains(&there_m).then(|| BracketError::TooNear {
        name: joint.name.clone(),
        what: pipe.what.clone(),
        there: shop.says(there_m),
        needed: shop.says(needed_m),
        more: shop.says(needed_m - there_m),
    })
}

pub(super) fn no_bolt(joint: &Joint, what: &str) -> BracketError {
    BracketError::Bolt {
        name: joint.name.clone(),
        what: what.to_owned(),
    }
}

pub(super) fn runs_into(joint: &Joint, up: &Vector3<f64>) -> bool {
    let along = joint.towards.as_ref().and_then(|(d, _)| d.try_normalize(1e-9));
    along.is_some_and(|d| d.dot(up) < INTO_PAD)
}

/// The lowest hole's height over the one in use.
pub(super) fn lowest(joint: &Joint, up: &Vector3<f64>) -> f64 {
    let heights = joint.holes.iter().map(|h| (h - joint.at).dot(up));
    heights.fold(0.0, f64::min)
}

fn above(
    joint: &Joint,
    pipe: &Pipe,
    shop: &Shop,
    up: Unit<Vector3<f64>>,
    span: Span,
) -> Result<(Sides, Vec<Plate>), BracketError> {
    let down_m = joint.room_m(shop) - lowest(joint, &up);
    let point = joint.at - up.into_inner() * down_m;
    let face = Face::endless("the pad plate".to_owned(), point, up.into_inner(), pipe.axis);
    let sides = sides::on_face(joint, &face, shop)?;
    // Seen from the joint; x along the tube.
    let x = Unit::new_unchecked(pipe.axis);
    let y = Unit::new_normalize(up.cross(&x));
    let under = Plane::of(
        pipe.beside(point) + up.into_inner() * (point - pipe.beside(point)).dot(&up),
        x,
        y,
    );
    let mut taken = Taken::by(&sides, under, shop);
    let is_bridge = taken.bridge(pipe, shop, span);
    if span == Span::Any && joint.on_both_sides {
        taken.make_even();
    }
    if span == Span::Any && !is_bridge {
        return Err(no_bolt(joint, &pipe.what));
    }
    let own = Taken { ..taken };
    let at_tube = taken.reach_tube(pipe, shop);
    let built = if let Some(end) = at_tube {
        under_pad(joint, pipe, shop, &sides, (&taken, is_bridge), Some(end))
    } else {
        Err(no_bolt(joint, &pipe.what))
    };
    let plates = built.or_else(|_| under_pad(joint, pipe, shop, &sides, (&own, is_bridge), None))?;
    Ok((sides, plates))
}

/// The pad and its ribs. `at_tube` is the end of the ribs that meets the tube's side, where the pad does.
fn under_pad(
    joint: &Joint,
    pipe: &Pipe,
    shop: &Shop,
    sides: &Sides,
    (taken, is_bridge): (&Taken, bool),
    at_tube: Option<usize>,
) -> Result<Vec<Plate>, BracketError> {
    let thick_m = shop.steel.plate_m;
    let (under, up) = (taken.plane, taken.plane.out);
    let mut pad = taken.pad(joint, shop, sides, pipe, is_bridge)?;
    if at_tube.is_some() {
        pad.notes
            .push(format!("Its long edge meets {}: weld it there, too.", pipe.what));
    }
    let at = |x: f64, y: f64| under.origin + x_of(&under, x, y) - up.into_inner() * thick_m;
    let ends = [taken.low.x + thick_m, taken.high.x - thick_m];
    let along_m = ends.map(|x| (at(x, 0.0) - pipe.point).dot(&pipe.axis));
    if along_m.iter().any(|m| !(pipe.ends_m[0]..=pipe.ends_m[1]).contains(m)) {
        return Err(BracketError::OffSteel {
            name: joint.name.clone(),
            what: pipe.what.clone(),
            needed: shop.says(taken.high.x - taken.low.x),
        });
    }
    let tops = ends.map(|x| [at(x, taken.low.y), at(x, taken.high.y)]);
    let planes = tops.map(|top| Plane::across(pipe.beside(top[0]), Unit::new_unchecked(pipe.axis)));
    let mut rib = ribs(joint, shop, pipe, planes, (tops[0], up, at_tube))?;
    rib.notes
        .push("The straight edge carries the pad plate: weld it on both sides.".to_owned());
    if !is_bridge {
        rib.notes.extend(pipe.notes.iter().cloned());
    }
    Ok(vec![pad, rib])
}

fn x_of(plane: &Plane, x: f64, y: f64) -> Vector3<f64> {
    plane.x.into_inner() * x + plane.y.into_inner() * y
}

impl Taken {
    /// Origin of the plane anywhere in the pad's near face.
    pub fn by(sides: &Sides, plane: Plane, shop: &Shop) -> Self {
        let land_m = LAND_IN_PLATES * shop.steel.plate_m;
        let feet = || sides.feet.iter().map(|p| plane.flat(*p));
        let fold = |f: fn(&Point2<f64>, &Point2<f64>) -> Point2<f64>| feet().reduce(|a, b| f(&a, &b));
        let low = fold(Point2::inf).unwrap_or_else(Point2::origin);
        let high = fold(Point2::sup).unwrap_or_else(Point2::origin);
        let land = nalgebra::Vector2::repeat(land_m);
        Self {
            plane,
            low: low - land,
            high: high + land,
        }
    }

    /// Widens it so that its ribs pass on either side of what sits round the middle of the tube.
    fn bridge(&mut self, pipe: &Pipe, shop: &Shop, span: Span) -> bool {
        let Some([middle_m, half_m]) = pipe.lump_m else {
            return false;
        };
        let lump = pipe.point + pipe.axis * middle_m;
        let middle = self.plane.flat(lump).x;
        let comes_over = match span {
            Span::Middle => (f64::midpoint(self.low.x, self.high.x) - middle).abs() < half_m / 2.0,
            Span::Any => self.low.x < middle + half_m && self.high.x > middle - half_m,
        };
        if comes_over {
            let out_m = half_m + 2.0 * shop.steel.plate_m;
            self.low.x = self.low.x.min(middle - out_m);
            self.high.x = self.high.x.max(middle + out_m);
        }
        comes_over
    }

    /// Widens it to reach as far to either side of the truck's middle, so that one does for both brackets of a pair.
    fn make_even(&mut self) {
        let middle = self.plane.flat(Point3::origin()).x;
        let half_m = (self.high.x - middle).max(middle - self.low.x);
        (self.low.x, self.high.x) = (middle - half_m, middle + half_m);
    }

    /// Widens it to meet the tube's side, where it lies beside the tube: a bar that pulls along the tube then pulls on a wide pad, not on
    /// the flat sides of the ribs. Which end of its y it is; `None` where it passes over the tube or under it, or already reaches so far, or
    /// where something sits round the tube there.
    fn reach_tube(&mut self, pipe: &Pipe, shop: &Shop) -> Option<usize> {
        let axis = self.plane.flat(pipe.point);
        let is_over = |[middle_m, half_m]: [f64; 2]| {
            let middle = self.plane.flat(pipe.point + pipe.axis * middle_m).x;
            self.low.x < middle + half_m && self.high.x > middle - half_m
        };
        if pipe.lump_m.is_some_and(is_over) {
            return None;
        }
        let high_m = pipe.out_to(self.plane.origin).dot(&self.plane.out);
        let low_m = high_m - shop.steel.plate_m;
        if high_m.abs().max(low_m.abs()) > BESIDE * pipe.radius_m {
            return None;
        }
        // Square-edged, it touches with the face that is nearer to the middle.
        let off_m = if high_m * low_m < 0.0 {
            0.0
        } else {
            high_m.abs().min(low_m.abs())
        };
        let half_m = (pipe.radius_m * pipe.radius_m - off_m * off_m).sqrt();
        let (from, to) = (axis.y - half_m, axis.y + half_m);
        if self.low.y > to {
            self.low.y = to;
            Some(0)
        } else if self.high.y < from {
            self.high.y = from;
            Some(1)
        } else {
            None
        }
    }

    /// The pad as a plate, its origin in the middle of its thickness.
    pub fn plate(&self, joint: &Joint, shop: &Shop, sides: &Sides, what: &str) -> Result<Plate, BracketError> {
        let middle = self.plane.moved(-shop.steel.plate_m / 2.0);
        let outline = rectangle(self.low, self.high);
        check::length(joint, shop, what, &outline)?;
        let mut plate = marks::plate(joint, shop, "pad plate", outline, vec![middle.stand(joint.carrier)]);
        for edge in sides.feet.chunks_exact(2) {
            plate.scribes.push(Scribe {
                from: self.plane.flat(edge[0]),
                to: self.plane.flat(edge[1]),
                what: FOOT.to_owned(),
            });
        }
        Ok(plate)
    }

    fn pad(
        &self,
        joint: &Joint,
        shop: &Shop,
        sides: &Sides,
        pipe: &Pipe,
        is_bridge: bool,
    ) -> Result<Plate, BracketError> {
        let mut plate = self.plate(joint, shop, sides, &pipe.what)?;
        let axis = self.plane.flat(pipe.point);
        if axis.y > self.low.y && axis.y < self.high.y {
            plate.scribes.push(Scribe {
                from: Point2::new(self.low.x, axis.y),
                to: Point2::new(self.high.x, axis.y),
                what: format!("over the middle of {}", pipe.what),
            });
        }
        let bridges = if is_bridge {
            " They pass on either side of the centre section: tie each to the tube with a diagonal against pull to the side."
        } else {
            ""
        };
        plate.notes.push(format!(
            "Lies on two ribs that are saddled on {}, one under each end.{bridges}",
            pipe.what
        ));
        plate.scribes.extend(ends::mark(&plate));
        Ok(plate)
    }
}
