//! The two side plates of a bracket that stand on a flat face.

use nalgebra::{Point2, Point3, Unit, Vector2, Vector3};

use super::check;
use super::error::BracketError;
use super::flat::inside_strip;
use super::ground::{Face, Fit, ON_CORNER};
use super::hull::{Disc, Foot, standing};
use super::joint::{Joint, Shop};
use super::marks;
use super::plane::Plane;
use super::{Hole, Outline, Plate, Segment, Stand};

/// Lean of a side plate's sides away from its round end: common practice.
const TAPER_RAD: f64 = 15.0 * std::f64::consts::PI / 180.0;

/// The side plates of a bracket, and where they stand.
pub(super) struct Sides {
    pub plates: Vec<Plate>,
    /// Corners of their weld edges, in the middle of their thickness.
    pub feet: Vec<Point3<f64>>,
    /// None where the plates stand aslant.
    pub reach: Option<Reach>,
}

/// From the middle of a weld towards the hole nearest to it.
#[derive(Clone, Copy)]
pub(super) struct Reach {
    pub foot: Point3<f64>,
    pub up: Unit<Vector3<f64>>,
    pub far_m: f64,
    /// How far `up` leans from square to what the plates stand on, rad.
    pub lean_rad: f64,
}

/// A side plate before it is known where on the face it stands.
struct Wanted {
    plane: Plane,
    flat: Flat,
    holes: Vec<Hole>,
    /// From the weld edge to each hole.
    heights_m: Vec<f64>,
    /// Where it would like to stand along its weld edge, and half of what that takes across.
    edge_m: [f64; 2],
    half_m: f64,
}

/// One side plate.
struct Side {
    plane: Plane,
    outline: Outline,
    /// Its weld edge, from and to, and that edge's corners.
    edge_m: [f64; 2],
    feet: [Point3<f64>; 2],
    heights_m: Vec<f64>,
    flat: Flat,
}

/// A face seen in the plane of a plate.
#[derive(Clone, Copy)]
struct Flat {
    /// Out of the steel.
    up: Vector2<f64>,
    /// Along the weld edge, the plate on the left.
    along: Vector2<f64>,
    /// From the plane's origin down to the face.
    height_m: f64,
}

/// A plate that leans more than this from square to the face needs a bevelled edge, rad.
pub(super) const SQUARE_RAD: f64 = 0.02;

/// Both side plates on a face. The bolt lies along the face, or within thirty degrees of it.
///
/// # Errors
/// What keeps a plate from standing there.
pub(super) fn on_face(joint: &Joint, face: &Face, shop: &Shop) -> Result<Sides, BracketError> {
    let planes = both_planes(joint, shop);
    check::row(joint, shop)?;
    let wanted = [
        Wanted::on(joint, face, shop, planes[0])?,
        Wanted::on(joint, face, shop, planes[1])?,
    ];
    let (both, is_on_corner) = standing_on(joint, face, shop, &wanted)?;
    let lean_rad = joint.bolt.dot(&face.normal).asin().abs();
    let mut notes = vec![format!(
        "Weld the straight edge to {}, both sides of the plate.",
        face.what
    )];
    notes.extend(face.notes.iter().cloned());
    if lean_rad > SQUARE_RAD {
        notes.push(format!(
            "It leans {:.0} degrees from square to {}: bevel the straight edge.",
            lean_rad.to_degrees(),
            face.what
        ));
    }
    if is_on_corner {
        notes.push(ON_CORNER.to_owned());
    }
    let feet = both.iter().flat_map(|s| s.feet).collect();
    let reach = (lean_rad <= SQUARE_RAD).then(|| reach(joint, face, &both)).flatten();
    let plates = named(joint, shop, both, &notes);
    Ok(Sides { plates, feet, reach })
}

/// The planes in the middle of both plates.
pub(super) fn both_planes(joint: &Joint, shop: &Shop) -> [Plane; 2] {
    let middle = Plane::across(joint.at, joint.bolt);
    let out_m = f64::midpoint(joint.gap_m, shop.steel.plate_m);
    [out_m, -out_m].map(|m| middle.moved(m))
}

/// The holes of a joint's row, seen in a plane across its bolt.
pub(super) fn holes(joint: &Joint, shop: &Shop, plane: &Plane) -> Vec<Hole> {
    let hole = |(i, at): (usize, &Point3<f64>)| Hole {
        at: if i == joint.used {
            Point2::origin()
        } else {
            plane.flat(*at)
        },
        diameter_m: shop.steel.hole_m(),
    };
    joint.holes.iter().enumerate().map(hole).collect()
}

/// Round ends about holes.
pub(super) fn rounds(holes: &[Hole], radius_m: f64) -> Vec<Disc> {
    let round = |hole: &Hole| Disc {
        centre: hole.at,
        radius_m,
    };
    holes.iter().map(round).collect()
}

impl Wanted {
    fn on(joint: &Joint, face: &Face, shop: &Shop, plane: Plane) -> Result<Self, BracketError> {
        let flat = Flat::of(face, &plane).ok_or_else(|| BracketError::Bolt {
            name: joint.name.clone(),
            what: face.what.clone(),
        })?;
        let holes = holes(joint, shop, &plane);
        let height_m = |h: &Hole| flat.height_m + h.at.coords.dot(&flat.up);
        let heights_m: Vec<_> = holes.iter().map(height_m).collect();
        check::clear_of(joint, shop, &face.what, heights_m.iter().copied())?;
        let along = holes.iter().map(|h| h.at.coords.dot(&flat.along));
        let half_m = shop.steel.plate_m / 2.0 / plane.flat_direction(face.normal).norm();
        Ok(Self {
            edge_m: spread(along.zip(heights_m.iter().copied()), shop),
            half_m,
            plane,
            flat,
            holes,
            heights_m,
        })
    }

    /// Where it could stand on a figure of the face.
    fn there_m(&self, face: &Face, figure: &[Point2<f64>]) -> Vec<[f64; 2]> {
        let start = self.plane.origin + lift(&self.plane, self.flat.down());
        let seen = face.seen_along(figure, start, lift(&self.plane, self.flat.along));
        inside_strip(&seen, [-self.half_m, self.half_m])
    }

    /// The plate with its weld edge there.
    fn side(&self, joint: &Joint, face: &Face, shop: &Shop, edge_m: [f64; 2]) -> Result<Side, BracketError> {
        let Self { plane, flat, holes, .. } = self;
        let on_edge = edge_m.map(|m| Point2::from(flat.down() + flat.along * m));
        let foot = foot(on_edge, flat.up * face.tongue_m);
        let rounds = rounds(holes, shop.steel.edge_m());
        let outline = standing(&rounds, &foot).ok_or_else(|| hangs_over(joint, face, shop, &self.heights_m))?;
        check::plate(joint, shop, &face.what, &outline, holes)?;
        Ok(Side {
            plane: *plane,
            outline,
            edge_m,
            feet: on_edge.map(|p| plane.origin + lift(plane, p.coords)),
            heights_m: self.heights_m.clone(),
            flat: *flat,
        })
    }
}

/// A direction of a plate on the truck.
fn lift(plane: &Plane, v: Vector2<f64>) -> Vector3<f64> {
    plane.x.into_inner() * v.x + plane.y.into_inner() * v.y
}

/// Both plates on the flat of a face, or else with their edges on its rounded corners.
fn standing_on(
    joint: &Joint,
    face: &Face,
    shop: &Shop,
    wanted: &[Wanted; 2],
) -> Result<([Side; 2], bool), BracketError> {
    let mut last = None;
    for (figure, is_on_corner) in face.figures() {
        let both = edges_m(face, figure, shop, wanted).map(|[a, b]| {
            let first = wanted[0].side(joint, face, shop, a)?;
            Ok([first, wanted[1].side(joint, face, shop, b)?])
        });
        match both {
            Some(Ok(both)) => return Ok((both, is_on_corner)),
            Some(Err(why)) => last = Some(why),
            None => {}
        }
    }
    Err(last.unwrap_or_else(|| BracketError::OffSteel {
        name: joint.name.clone(),
        what: face.what.clone(),
        needed: shop.says(shop.least_weld_m()),
    }))
}

/// Where on a figure the weld edges of both plates lie: at the same place along them where that costs neither any of its length, so that
/// both are cut alike.
fn edges_m(face: &Face, figure: &[Point2<f64>], shop: &Shop, wanted: &[Wanted; 2]) -> Option<[[f64; 2]; 2]> {
    let there = wanted.each_ref().map(|w| w.there_m(face, figure));
    let fit = |i: usize, there: &[[f64; 2]]| Fit::of(wanted[i].edge_m, there, shop.least_weld_m());
    let own = [fit(0, &there[0])?, fit(1, &there[1])?];
    let shared: Vec<_> = there[0]
        .iter()
        .flat_map(|a| there[1].iter().map(|b| [a[0].max(b[0]), a[1].min(b[1])]))
        .filter(|[from, to]| from < to)
        .collect();
    let alike = fit(0, &shared).zip(fit(1, &shared));
    let is_as_long = |(a, b): &(Fit, Fit)| {
        let least_m = own[0].long_m().min(own[1].long_m());
        a.long_m().min(b.long_m()) > least_m - ALIKE_M
    };
    let [a, b] = alike.filter(is_as_long).map_or(own, |(a, b)| [a, b]);
    Some([a.edge_m, b.edge_m])
}

/// So much of a weld edge is no loss, m: a scriber's width.
const ALIKE_M: f64 = 5e-4;

/// Before an open channel the round end has to clear the flanges that its tongue goes between.
fn hangs_over(joint: &Joint, face: &Face, shop: &Shop, heights_m: &[f64]) -> BracketError {
    let before = heights_m.iter().map(|height_m| height_m - face.tongue_m);
    let flanges = "the rail's flanges";
    let too_near = check::clear_of(joint, shop, flanges, before).err();
    too_near
        .filter(|_| face.tongue_m > 0.0)
        .unwrap_or_else(|| BracketError::HangsOver {
            name: joint.name.clone(),
            what: face.what.clone(),
        })
}

impl Flat {
    fn of(face: &Face, plane: &Plane) -> Option<Self> {
        let seen = plane.flat_direction(face.normal);
        let up = seen.try_normalize(1e-6)?;
        Some(Self {
            up,
            along: Vector2::new(up.y, -up.x),
            height_m: (plane.origin - face.point).dot(&face.normal) / seen.norm(),
        })
    }

    /// From the plane's origin to the weld edge.
    fn down(&self) -> Vector2<f64> {
        self.up * -self.height_m
    }
}

/// How wide a plate would like to stand: from every round end down at the taper. Of each hole where it is along the edge, and its height over
/// that.
pub(super) fn spread(holes: impl Iterator<Item = (f64, f64)>, shop: &Shop) -> [f64; 2] {
    let (sin, cos) = TAPER_RAD.sin_cos();
    let least_m = shop.least_weld_m() / 2.0;
    let mut wide = [f64::INFINITY, f64::NEG_INFINITY];
    for (middle, height_m) in holes {
        let half_m = ((shop.steel.edge_m() + height_m * sin) / cos).max(least_m);
        wide = [wide[0].min(middle - half_m), wide[1].max(middle + half_m)];
    }
    wide
}

/// A straight weld edge, or one at the end of a tongue.
fn foot(on_edge: [Point2<f64>; 2], tongue: Vector2<f64>) -> Foot {
    let line = |to| Segment::Line { to };
    let corners = on_edge.map(|p| p + tongue);
    let way = if tongue.norm() > 0.0 {
        vec![line(on_edge[0]), line(on_edge[1]), line(corners[1])]
    } else {
        vec![line(on_edge[1])]
    };
    Foot { corners, way }
}

/// None where the two edges have no place in common for what goes between them.
fn reach(joint: &Joint, face: &Face, both: &[Side; 2]) -> Option<Reach> {
    let [a, b] = both.each_ref().map(|s| s.edge_m);
    let [from, to] = [a[0].max(b[0]), a[1].min(b[1])];
    let at = |s: &Side| s.plane.origin + lift(&s.plane, s.flat.down() + s.flat.along * f64::midpoint(from, to));
    let foot = (from < to).then(|| nalgebra::center(&at(&both[0]), &at(&both[1])))?;
    let heights = both[0].heights_m.iter().enumerate();
    let (nearest, _) = heights.min_by(|a, b| a.1.total_cmp(b.1))?;
    let plane = Plane::across(joint.at, joint.bolt);
    let hole = joint.holes.get(nearest)?;
    let up = *hole - foot;
    let up = up - plane.out.into_inner() * up.dot(&plane.out);
    let far_m = up.norm();
    let up = Unit::try_new(up, 1e-6)?;
    Some(Reach {
        foot,
        up,
        far_m,
        lean_rad: up.dot(&face.normal).clamp(-1.0, 1.0).acos(),
    })
}

/// Both as plates: one drawing where they are the same.
fn named(joint: &Joint, shop: &Shop, both: [Side; 2], notes: &[String]) -> Vec<Plate> {
    let stand = |s: &Side| s.plane.stand(joint.carrier);
    let make = |what: &str, side: &Side, stands: Vec<Stand>| {
        let holes = holes(joint, shop, &side.plane);
        let mut plate = marks::plate(joint, shop, what, side.outline.clone(), stands);
        plate.scribes = marks::at_hole(joint, shop, &side.plane);
        plate.holes = holes;
        plate.notes = notes.iter().chain(&joint.notes).cloned().collect();
        plate.notes.push(marks::between(joint, shop));
        plate
    };
    if is_same(&both[0].outline, &both[1].outline) {
        return vec![make("side plate", &both[0], both.iter().map(stand).collect())];
    }
    let is_first_near = both[0].flat.height_m < both[1].flat.height_m;
    let name = |is_near: bool| if is_near { "near side plate" } else { "far side plate" };
    let [a, b] = &both;
    vec![
        make(name(is_first_near), a, vec![stand(a)]),
        make(name(!is_first_near), b, vec![stand(b)]),
    ]
}

/// The same cut, to far less than a torch's width.
pub(super) fn is_same(a: &Outline, b: &Outline) -> bool {
    let ends = |o: &Outline| o.pieces().map(|(from, _)| from).collect::<Vec<_>>();
    let (a, b) = (ends(a), ends(b));
    a.len() == b.len() && a.iter().zip(&b).all(|(p, q)| (p - q).norm() < 1e-9)
}
