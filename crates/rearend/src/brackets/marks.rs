//! What every plate has besides its outline: its name, how many of it there are, and what is scribed and written on it.

use nalgebra::{Point2, Vector2};

use super::joint::{Joint, Shop};
use super::plane::Plane;
use super::{Outline, Plate, Scribe, Stand};

/// A mark reaches this part of the way from a hole's middle to the edge of its round end.
const REACH: f64 = 0.95;

/// A plate of a joint's bracket, without holes, marks or notes. Its stands are those on the side that is described.
pub(super) fn plate(joint: &Joint, shop: &Shop, what: &str, outline: Outline, stands: Vec<Stand>) -> Plate {
    let mut stands = stands;
    if joint.on_both_sides {
        let other: Vec<_> = stands.iter().map(Stand::mirrored).collect();
        stands.extend(other);
    }
    let name = format!("{}: {what}", joint.name);
    Plate {
        file_stem: file_stem(&name),
        name,
        count: stands.len(),
        thickness_m: shop.steel.plate_m,
        outline,
        holes: Vec::new(),
        scribes: Vec::new(),
        notes: Vec::new(),
        stands,
    }
}

/// Lower-case letters, digits and single hyphens.
fn file_stem(name: &str) -> String {
    let mut stem = String::new();
    for c in name.to_lowercase().chars() {
        if c.is_ascii_alphanumeric() {
            stem.push(c);
        } else if c != '\'' && !stem.is_empty() && !stem.ends_with('-') {
            stem.push('-');
        }
    }
    let stem = stem.trim_end_matches('-');
    if stem.is_empty() {
        "plate".to_owned()
    } else {
        stem.to_owned()
    }
}

/// At the hole that is in use: which way the bar runs, and what is level with the frame. The hole is the plate's origin.
pub(super) fn at_hole(joint: &Joint, shop: &Shop, plane: &Plane) -> Vec<Scribe> {
    let (from_m, to_m) = (shop.steel.hole_m() / 2.0, shop.steel.edge_m() * REACH);
    let mark = |along: Vector2<f64>, from_m: f64, what: String| Scribe {
        from: Point2::from(along * from_m),
        to: Point2::from(along * to_m),
        what,
    };
    let level = if plane.is_level() {
        // Seen from above or below, x is across the truck and y ahead.
        mark(Vector2::y(), -to_m, "straight ahead".to_owned())
    } else {
        mark(Vector2::x(), -to_m, "level with the frame".to_owned())
    };
    let bar = joint.towards.as_ref().and_then(|(towards, what)| {
        let seen = plane.flat_direction(*towards).try_normalize(1e-6)?;
        Some(mark(seen, from_m, what.clone()))
    });
    bar.into_iter().chain([level]).collect()
}

/// How far apart the two side plates are.
pub(super) fn between(joint: &Joint, shop: &Shop) -> String {
    format!(
        "Tack both side plates with the bolt through and {} clear between them.",
        shop.says(joint.gap_m)
    )
}
