//! What is drawn, in group codes.

use super::DxfVersion;
use super::drawing::{Layer, Shape};
use super::file::MODEL;
use super::pairs::Pairs;
use super::profile::Corner;

/// Writes a shape on its layer.
pub(super) fn entity(p: &mut Pairs, layer: Layer, shape: &Shape) {
    match shape {
        Shape::Profile(corners) if p.version == DxfVersion::R12 => heavy(p, layer, corners),
        Shape::Profile(corners) => light(p, layer, corners),
        Shape::Circle { centre, radius } => {
            begin(p, "CIRCLE", layer, "AcDbCircle");
            p.point(10, *centre);
            p.real(40, *radius);
        }
        Shape::Line { from, to } => {
            begin(p, "LINE", layer, "AcDbLine");
            p.point(10, *from);
            p.point(11, *to);
        }
        Shape::Words { at, height, words } => {
            begin(p, "TEXT", layer, "AcDbText");
            p.point(10, *at);
            p.real(40, *height);
            p.words(1, words);
            // Twice: the second time it begins the codes for its height on the line, of which it has none.
            p.class("AcDbText");
        }
    }
}

/// A closed polyline in one entity.
fn light(p: &mut Pairs, layer: Layer, corners: &[Corner]) {
    begin(p, "LWPOLYLINE", layer, "AcDbPolyline");
    p.put(90, corners.len());
    p.put(70, 1);
    for corner in corners {
        p.flat(10, corner.at);
        p.real(42, corner.bulge);
    }
}

/// A closed polyline as R12 has it: an entity a corner, and one that ends it.
fn heavy(p: &mut Pairs, layer: Layer, corners: &[Corner]) {
    begin(p, "POLYLINE", layer, "");
    p.put(66, 1);
    p.point(10, [0.0, 0.0]);
    p.put(70, 1);
    for corner in corners {
        begin(p, "VERTEX", layer, "");
        p.point(10, corner.at);
        p.real(42, corner.bulge);
    }
    begin(p, "SEQEND", layer, "");
}

/// What every entity starts with.
fn begin(p: &mut Pairs, kind: &str, layer: Layer, class: &str) {
    p.put(0, kind);
    p.owned(MODEL);
    p.class("AcDbEntity");
    p.put(8, layer.name());
    p.class(class);
}
