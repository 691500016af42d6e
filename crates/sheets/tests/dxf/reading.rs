//! What is in a file: by the `dxf` crate, and pair by pair.

use std::io::Cursor;

use ::dxf::Drawing;
use ::dxf::entities::{Entity, EntityType};
use rearend::brackets::Plate;
use sheets::{DxfUnit, DxfVersion, dxf};

/// What is exact, in either unit.
const EXACT: f64 = 1e-6;

pub fn written(plate: &Plate, version: DxfVersion, unit: DxfUnit) -> Vec<u8> {
    dxf(plate, version, unit, &[]).unwrap()
}

pub fn read(bytes: &[u8]) -> Drawing {
    Drawing::load(&mut Cursor::new(bytes)).unwrap()
}

pub fn on<'a>(drawing: &'a Drawing, layer: &str) -> Vec<&'a Entity> {
    drawing.entities().filter(|e| e.common.layer == layer).collect()
}

/// Corners and bulges of the closed polylines of a layer, as read by the crate.
pub fn profiles(drawing: &Drawing, layer: &str) -> Vec<Vec<[f64; 3]>> {
    let profile = |e: &&Entity| match &e.specific {
        EntityType::LwPolyline(p) => {
            assert!(p.is_closed());
            Some(p.vertices.iter().map(|v| [v.x, v.y, v.bulge]).collect())
        }
        EntityType::Polyline(p) => {
            assert!(p.is_closed());
            Some(p.vertices().map(|v| [v.location.x, v.location.y, v.bulge]).collect())
        }
        _ => None,
    };
    on(drawing, layer).iter().filter_map(profile).collect()
}

pub fn circles(drawing: &Drawing) -> Vec<[f64; 3]> {
    let circle = |e: &&Entity| match &e.specific {
        EntityType::Circle(c) => Some([c.center.x, c.center.y, c.radius]),
        _ => None,
    };
    on(drawing, "CUT").iter().filter_map(circle).collect()
}

pub fn lines(drawing: &Drawing) -> Vec<[f64; 4]> {
    let line = |e: &&Entity| match &e.specific {
        EntityType::Line(l) => Some([l.p1.x, l.p1.y, l.p2.x, l.p2.y]),
        _ => None,
    };
    on(drawing, "MARK").iter().filter_map(line).collect()
}

pub fn words(drawing: &Drawing) -> String {
    let text = |e: &&Entity| match &e.specific {
        EntityType::Text(t) => Some(t.value.clone()),
        _ => None,
    };
    on(drawing, "NOTES")
        .iter()
        .filter_map(text)
        .collect::<Vec<_>>()
        .join(" ")
}

/// Radius of an arc of a polyline: half the chord over the sine of half its angle, and the bulge is the tangent of a quarter of it.
pub fn radius(from: [f64; 3], to: [f64; 3]) -> f64 {
    let chord = (to[0] - from[0]).hypot(to[1] - from[1]);
    chord / 2.0 / (2.0 * from[2].abs().atan()).sin()
}

/// Group codes with their values, by no more than two lines a pair.
pub fn pairs(bytes: &[u8]) -> Vec<(u16, String)> {
    let text = std::str::from_utf8(bytes).unwrap();
    assert!(text.is_ascii() && text.ends_with("\r\n"));
    let lines: Vec<&str> = text.split_terminator("\r\n").collect();
    assert!(lines.len().is_multiple_of(2));
    let pair = |p: &[&str]| (p[0].trim().parse().unwrap(), p[1].to_owned());
    lines.chunks(2).map(pair).collect()
}

/// The value after a variable of the header.
pub fn variable(pairs: &[(u16, String)], name: &str) -> Option<(u16, String)> {
    let found = pairs.iter().position(|p| *p == (9, name.to_owned()))?;
    pairs.get(found + 1).cloned()
}

#[track_caller]
pub fn close<const N: usize>(found: [f64; N], expected: [f64; N]) {
    let near = found.iter().zip(&expected).all(|(a, b)| (a - b).abs() < EXACT);
    assert!(near, "{found:?} is not {expected:?}");
}
