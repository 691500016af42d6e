//! Plates that sit on a tube: cut out round it, square to its axis.

use nalgebra::{Point2, Point3, Rotation2, Unit, Vector2};

use super::error::BracketError;
use super::ground::Pipe;
use super::hull::{Disc, Foot, standing};
use super::joint::{Joint, Shop};
use super::plane::Plane;
use super::sides::{Reach, Sides, both_planes, holes, is_same, rounds};
use super::{Outline, Scribe, Segment, check, marks};

/// How far a saddle reaches round its tube to either side, the widest first, degrees: a third of the tube altogether is common practice.
const HALF_DEG: [f64; 4] = [60.0, 50.0, 40.0, 30.0];

/// How far a saddle may be turned from straight below its plate, the least first, degrees.
const TURNED_DEG: [f64; 15] = [
    0.0, 10.0, -10.0, 20.0, -20.0, 30.0, -30.0, 40.0, -40.0, 50.0, -50.0, 60.0, -60.0, 70.0, -70.0,
];

/// A bolt within this of the tube's direction is along it, rad: the saddle is then round to a fiftieth of a millimetre.
const ALONG_RAD: f64 = 0.035;

/// A bolt within this of the tube's direction has two plates of one outline, rad.
const EXACTLY_ALONG_RAD: f64 = 1e-12;

/// A plate's outline about its saddle.
pub(super) struct Saddled {
    pub outline: Outline,
    /// The tube's axis.
    pub centre: Point2<f64>,
    /// From there to the middle of the saddle.
    pub up: Vector2<f64>,
    pub half_deg: f64,
}

/// True where a plate across the bolt is square to the tube.
pub(super) fn suits(joint: &Joint, pipe: &Pipe) -> bool {
    joint.bolt.cross(&pipe.axis).norm() < ALONG_RAD.sin()
}

/// Both side plates, saddled on a tube that the bolt lies along.
///
/// # Errors
/// What keeps them from sitting there.
pub(super) fn on_pipe(joint: &Joint, pipe: &Pipe, shop: &Shop) -> Result<Sides, BracketError> {
    check::row(joint, shop)?;
    let clear = joint.holes.iter().map(|h| pipe.out_to(*h).norm() - pipe.radius_m);
    check::clear_of(joint, shop, &pipe.what, clear)?;
    let planes = both_planes(joint, shop);
    let head = saddled(joint, shop, pipe, &planes[0])?;
    let is_along = joint.bolt.cross(&pipe.axis).norm() < EXACTLY_ALONG_RAD;
    let nut = (!is_along)
        .then(|| saddled(joint, shop, pipe, &planes[1]))
        .transpose()?;
    let make = |what: &str, saddled: &Saddled, planes: &[Plane]| {
        let stands = planes.iter().map(|p| p.stand(joint.carrier)).collect();
        let mut plate = marks::plate(joint, shop, what, saddled.outline.clone(), stands);
        plate.scribes = marks::at_hole(joint, shop, &planes[0]);
        plate.scribes.push(saddled.to_centre(shop, pipe));
        plate.holes = holes(joint, shop, &planes[0]);
        plate.notes.push(saddled.says(shop, pipe));
        plate.notes.extend(pipe.notes.iter().chain(&joint.notes).cloned());
        plate.notes.push(marks::between(joint, shop));
        plate
    };
    // A bolt a degree off the tube's direction puts its two plates a millimetre apart on it.
    let plates = match nut.filter(|nut| !is_same(&head.outline, &nut.outline)) {
        None => vec![make("side plate", &head, &planes)],
        Some(nut) => vec![
            make("head side plate", &head, &planes[..1]),
            make("nut side plate", &nut, &planes[1..]),
        ],
    };
    Ok(Sides {
        plates,
        feet: Vec::new(),
        reach: reach(joint, pipe),
    })
}

/// One side plate's outline.
fn saddled(joint: &Joint, shop: &Shop, pipe: &Pipe, plane: &Plane) -> Result<Saddled, BracketError> {
    let holes = holes(joint, shop, plane);
    let rounds = rounds(&holes, shop.steel.edge_m());
    let saddled = outline(joint, shop, pipe, plane, &rounds, |_| true)?;
    check::plate(joint, shop, &pipe.what, &saddled.outline, &holes)?;
    Ok(saddled)
}

/// From the tube's crown to the nearest hole.
fn reach(joint: &Joint, pipe: &Pipe) -> Option<Reach> {
    let out = |h: &&Point3<f64>| pipe.out_to(**h).norm();
    let nearest = joint.holes.iter().min_by(|a, b| out(a).total_cmp(&out(b)))?;
    let middle = Plane::across(joint.at, joint.bolt);
    let axis = where_axis_meets(pipe, &middle);
    let away = nearest - axis;
    let away = Unit::try_new(away - middle.out.into_inner() * away.dot(&middle.out), 1e-6)?;
    let far_m = pipe.out_to(*nearest).norm() - pipe.radius_m;
    Some(Reach {
        foot: axis + away.into_inner() * pipe.radius_m,
        up: away,
        far_m,
        lean_rad: 0.0,
    })
}

/// The point of a tube's axis in a plane.
pub(super) fn where_axis_meets(pipe: &Pipe, plane: &Plane) -> Point3<f64> {
    let along = (plane.origin - pipe.point).dot(&plane.out) / pipe.axis.dot(&plane.out);
    pipe.point + pipe.axis * along
}

/// The outline around discs with a saddle towards their middle, or as near to that as it suits.
///
/// # Errors
/// Where no saddle clears the tube and suits.
pub(super) fn outline(
    joint: &Joint,
    shop: &Shop,
    pipe: &Pipe,
    plane: &Plane,
    discs: &[Disc],
    suits: impl Fn(&Outline) -> bool,
) -> Result<Saddled, BracketError> {
    let centre = plane.flat(where_axis_meets(pipe, plane));
    let hangs_over = || BracketError::HangsOver {
        name: joint.name.clone(),
        what: pipe.what.clone(),
    };
    let low = discs.iter().map(|d| d.centre.coords).reduce(|a, b| a.inf(&b));
    let high = discs.iter().map(|d| d.centre.coords).reduce(|a, b| a.sup(&b));
    let middle = low
        .zip(high)
        .map(|(a, b)| Point2::from((a + b) / 2.0))
        .ok_or_else(hangs_over)?;
    let straight = (middle - centre).try_normalize(1e-6).ok_or_else(hangs_over)?;
    let cut = |half_deg: f64, turned_deg: f64| {
        let up = Rotation2::new(turned_deg.to_radians()) * straight;
        let foot = foot(centre, pipe.radius_m, up, half_deg.to_radians(), shop.steel.plate_m);
        let outline = standing(discs, &foot)?;
        (is_clear(&outline, centre, pipe.radius_m) && suits(&outline)).then_some(Saddled {
            outline,
            centre,
            up,
            half_deg,
        })
    };
    let mut ways: Vec<_> = HALF_DEG
        .into_iter()
        .flat_map(|half| TURNED_DEG.map(|turned| (half, turned)))
        .collect();
    // Ten degrees less of a saddle at either end are worth twenty of turn.
    let cost = |(half, turned): &(f64, f64)| turned.abs() + 2.0 * (HALF_DEG[0] - half);
    ways.sort_by(|a, b| cost(a).total_cmp(&cost(b)));
    ways.into_iter()
        .find_map(|(half, turned)| cut(half, turned))
        .ok_or_else(hangs_over)
}

/// The saddle with a heel at either end, square to the tube, as deep as the plate is thick: it leaves the weld an edge to start from.
fn foot(centre: Point2<f64>, radius_m: f64, up: Vector2<f64>, half_rad: f64, heel_m: f64) -> Foot {
    let right = Vector2::new(up.y, -up.x);
    let out = [-1.0, 1.0].map(|side| up * half_rad.cos() + right * (side * half_rad.sin()));
    let on_tube = out.map(|d| centre + d * radius_m);
    let corners = out.map(|d| centre + d * (radius_m + heel_m));
    let way = vec![
        Segment::Line { to: on_tube[0] },
        Segment::Arc {
            to: on_tube[1],
            centre,
            clockwise: true,
        },
        Segment::Line { to: corners[1] },
    ];
    Foot { corners, way }
}

/// Nothing of it reaches into the tube.
pub(super) fn is_clear(outline: &Outline, centre: Point2<f64>, radius_m: f64) -> bool {
    outline.distance_m(centre) > radius_m - 1e-9
}

impl Saddled {
    /// Cut for this tube, and how far round.
    pub fn says(&self, shop: &Shop, pipe: &Pipe) -> String {
        format!(
            "Saddle cut for {} of {} outside, {:.0} degrees round it: weld it all along, and round both ends.",
            pipe.what,
            shop.says(2.0 * pipe.radius_m),
            2.0 * self.half_deg
        )
    }

    /// A line that points at the tube's middle, from the saddle as far up as the saddle's heel.
    pub fn to_centre(&self, shop: &Shop, pipe: &Pipe) -> Scribe {
        let at = |m: f64| self.centre + self.up * (pipe.radius_m + m);
        Scribe {
            from: at(0.0),
            to: at(shop.steel.plate_m),
            what: format!("points at the middle of {}", pipe.what),
        }
    }
}
