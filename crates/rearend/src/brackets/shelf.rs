//! Brackets on a rail that their bolt points at: side plates on a pad plate, and the pad on its edge on the rail, as a shelf.

use nalgebra::{Point3, Unit, Vector3};

use super::error::BracketError;
use super::ground::Face;
use super::joint::{Joint, Shop};
use super::pad::{MOST_LEAN, Taken, lowest, runs_into};
use super::plane::Plane;
use super::sides::{self, Sides};
use super::{Plate, ends};

/// A bolt that leans by less from along the pad lies along it.
const HARDLY: f64 = 0.02;

/// Of two ways that are as good to within this, m, the pad above the bolt is taken: on both sides of a truck the same.
const MATTERS_M: f64 = 1e-3;

/// Side plates on a pad that stands out from a face on its edge.
///
/// # Errors
/// What keeps them from standing there, the way that suits best.
pub(super) fn on_face(joint: &Joint, face: &Face, shop: &Shop) -> Result<(Sides, Vec<Plate>), BracketError> {
    let mut ways: Vec<_> = [face.across(), -face.across(), face.along, -face.along]
        .into_iter()
        .filter_map(|way| {
            let level = way - joint.bolt.into_inner() * joint.bolt.dot(&way);
            let up = Unit::try_new(level, 0.1)?;
            let off_m = (up.dot(&face.normal).abs() <= MOST_LEAN).then(|| pad_below_m(joint, face, shop, &up))??;
            Some((up, off_m, joint.bolt.dot(&way).abs()))
        })
        .collect();
    let worth = |(up, off_m, lean): &(Unit<Vector3<f64>>, f64, f64)| {
        let below = if up.z > 0.0 { MATTERS_M } else { 0.0 };
        let into = if runs_into(joint, up) { 100.0 } else { 0.0 };
        off_m + 10.0 * (lean - HARDLY).max(0.0) + below + into
    };
    ways.sort_by(|a, b| worth(a).total_cmp(&worth(b)));
    let mut first = None;
    for (up, off_m, _) in ways {
        match beside(joint, face, shop, up, off_m) {
            Ok(found) => return Ok(found),
            Err(why) => first = first.or(Some(why)),
        }
    }
    Err(first.unwrap_or_else(|| BracketError::OffSteel {
        name: joint.name.clone(),
        what: face.what.clone(),
        needed: shop.says(shop.least_weld_m()),
    }))
}

/// How far below the joint a pad's near side has to be, so that its edge meets the face; `None` where it never does.
fn pad_below_m(joint: &Joint, face: &Face, shop: &Shop, up: &Vector3<f64>) -> Option<f64> {
    let least_m = joint.room_m(shop) - lowest(joint, up);
    let in_face = (up - face.normal * up.dot(&face.normal)).try_normalize(1e-6)?;
    let seen = joint.at - face.normal * (joint.at - face.point).dot(&face.normal);
    let [from, to] = face.covers_m(seen, -in_face);
    let thick_m = shop.steel.plate_m;
    let below_m = least_m.max(from);
    (below_m + thick_m <= to).then_some(below_m)
}

fn beside(
    joint: &Joint,
    face: &Face,
    shop: &Shop,
    up: Unit<Vector3<f64>>,
    off_m: f64,
) -> Result<(Sides, Vec<Plate>), BracketError> {
    let point = joint.at - up.into_inner() * off_m;
    let out = Unit::new_normalize(face.normal - up.into_inner() * up.dot(&face.normal));
    let x = Unit::new_normalize(out.cross(&up));
    let pad_face = Face::endless("the pad plate".to_owned(), point, up.into_inner(), x.into_inner());
    let sides = sides::on_face(joint, &pad_face, shop)?;
    clear(joint, face, shop, &sides)?;
    // The pad's edge lies at y = 0, on the face.
    let to_face_m = (point - face.point).dot(&face.normal) / out.dot(&face.normal);
    let edge = point - out.into_inner() * to_face_m;
    let mut taken = Taken::by(&sides, Plane::of(edge, x, out), shop);
    taken.low.y = 0.0;
    let [from, to] = face.covers_m(edge, x.into_inner());
    if from > taken.low.x + 1e-9 || to < taken.high.x - 1e-9 {
        return Err(BracketError::OffSteel {
            name: joint.name.clone(),
            what: face.what.clone(),
            needed: shop.says(taken.high.x - taken.low.x),
        });
    }
    let mut pad = taken.plate(joint, shop, &sides, &face.what)?;
    pad.notes.push(format!(
        "Stands out from {}: weld its edge there, {} long, on both sides.",
        face.what,
        shop.says(taken.high.x - taken.low.x)
    ));
    pad.notes.extend(face.notes.iter().cloned());
    pad.scribes.extend(ends::mark(&pad));
    Ok((sides, vec![pad]))
}

/// The side plates stay out of the face that the pad is welded to.
fn clear(joint: &Joint, face: &Face, shop: &Shop, sides: &Sides) -> Result<(), BracketError> {
    let half_m = shop.steel.plate_m / 2.0 * joint.bolt.dot(&face.normal).abs();
    let from_face = |p: Point3<f64>| (p - face.point).dot(&face.normal) - half_m;
    let own = sides.plates.iter().flat_map(|plate| {
        let described = plate.stands.len() / joint.count();
        let stands = plate.stands.iter().take(described);
        stands.flat_map(|stand| plate.outline.pieces().map(|(at, _)| stand.place(at)))
    });
    let least_m = own.map(from_face).fold(f64::INFINITY, f64::min) - face.tongue_m;
    if least_m >= 0.0 {
        return Ok(());
    }
    let there_m = (joint.at - face.point).dot(&face.normal) - face.tongue_m;
    Err(BracketError::TooNear {
        name: joint.name.clone(),
        what: face.what.clone(),
        there: shop.says(there_m.max(0.0)),
        needed: shop.says(there_m - least_m),
        more: shop.says(-least_m),
    })
}
