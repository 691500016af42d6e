//! Ribs: between a tube and the pad that carries a bracket's side plates.

use nalgebra::{Point2, Point3, Rotation2, Unit, Vector2, Vector3};

use super::error::BracketError;
use super::ground::Pipe;
use super::hull::{Disc, Foot, standing};
use super::joint::{Joint, Shop};
use super::plane::Plane;
use super::saddle::{Saddled, is_clear, outline, where_axis_meets};
use super::{Outline, Plate, Segment, check, marks};

/// Half of how far a saddle reaches round its tube that begins at the tube's side, the best first, degrees: to about its bottom.
const FROM_SIDE_DEG: [f64; 4] = [40.0, 30.0, 50.0, 60.0];

/// Ribs between a tube and a flat plate, alike: saddled on one side, straight on the other. `top` is the straight edge of the first one,
/// with the direction out of it, and which of its ends meets the tube's side, if one does.
///
/// # Errors
/// Where no saddle clears the tube and stays below the straight edge.
pub(super) fn ribs(
    joint: &Joint,
    shop: &Shop,
    pipe: &Pipe,
    planes: [Plane; 2],
    top: ([Point3<f64>; 2], Unit<Vector3<f64>>, Option<usize>),
) -> Result<Plate, BracketError> {
    let plane = &planes[0];
    let corners = top.0.map(|p| plane.flat(p));
    let out = plane.flat_direction(top.1.into_inner());
    let below_m = |p: Point2<f64>| (corners[0] - p).dot(&out);
    // Its own two corners are on the edge; the others leave the edge its weld.
    let is_below = |outline: &Outline| {
        let low = outline
            .pieces()
            .filter(|(p, _)| below_m(*p) > shop.steel.plate_m)
            .count();
        let edge = outline.pieces().filter(|(p, _)| below_m(*p).abs() < 1e-9).count();
        edge == 2 && low + edge == outline.segments.len() && !has_flat_corner(outline)
    };
    let cut = |discs: &[Disc]| outline(joint, shop, pipe, plane, discs, is_below);
    let [deep, far, thin] = ends(shop, &corners, out, plane.flat(pipe.beside(plane.origin)));
    let saddled = match top.2 {
        Some(end) => from_side(joint, shop, pipe, plane, (&corners, end, out))?,
        None => cut(&deep).or_else(|_| cut(&far)).or_else(|_| cut(&thin))?,
    };
    check::length(joint, shop, &pipe.what, &saddled.outline)?;
    let stands = planes.iter().map(|p| p.stand(joint.carrier)).collect();
    let mut plate = marks::plate(joint, shop, "rib", saddled.outline.clone(), stands);
    plate.scribes.push(saddled.to_centre(shop, pipe));
    plate.notes.push(saddled.says(shop, pipe));
    Ok(plate)
}

/// A corner that turns by less is none: nobody sees it, and nobody cuts it, rad.
const FLAT_RAD: f64 = 0.02;

fn has_flat_corner(outline: &Outline) -> bool {
    let ends: Vec<_> = outline.pieces().map(|(from, _)| from).collect();
    let next = ends.iter().cycle().skip(1);
    let sides: Vec<_> = ends.iter().zip(next).map(|(a, b)| b - a).collect();
    let after = sides.iter().cycle().skip(1);
    sides.iter().zip(after).any(|(a, b)| a.angle(b) < FLAT_RAD)
}

/// What a rib's belt goes round: both ends of its straight edge, each as deep as a round end or two plates; only the far one so deep; neither.
fn ends(shop: &Shop, corners: &[Point2<f64>; 2], out: Vector2<f64>, centre: Point2<f64>) -> [Vec<Disc>; 3] {
    let depth_m = shop.steel.edge_m().max(2.0 * shop.steel.plate_m);
    let deep = corners.map(|c| Disc::corner(c - out * depth_m));
    let is_first_far = (corners[0] - centre).norm() > (corners[1] - centre).norm();
    let far = if is_first_far { deep[0] } else { deep[1] };
    let thin = corners.map(Disc::corner).to_vec();
    let with = |more: &[Disc]| thin.iter().chain(more).copied().collect();
    [with(&deep), with(&[far]), thin.clone()]
}

/// A rib whose straight edge ends on the tube: its saddle begins there.
fn from_side(
    joint: &Joint,
    shop: &Shop,
    pipe: &Pipe,
    plane: &Plane,
    (corners, end, out): (&[Point2<f64>; 2], usize, Vector2<f64>),
) -> Result<Saddled, BracketError> {
    let centre = plane.flat(where_axis_meets(pipe, plane));
    let hangs_over = || BracketError::HangsOver {
        name: joint.name.clone(),
        what: pipe.what.clone(),
    };
    let far = corners[1 - end];
    let away = (far - corners[end]).try_normalize(1e-6).ok_or_else(hangs_over)?;
    let radius_m = pipe.radius_m;
    let high_m = (far - centre).dot(&out);
    let wide_m = (radius_m * radius_m - high_m * high_m).max(0.0).sqrt();
    let start = (away * wide_m + out * high_m)
        .try_normalize(1e-6)
        .ok_or_else(hangs_over)?;
    // Round the tube, away from the straight edge.
    let turn = if start.perp(&-out) > 0.0 { 1.0 } else { -1.0 };
    let depth_m = shop.steel.edge_m().max(2.0 * shop.steel.plate_m);
    let discs = [Disc::corner(far), Disc::corner(far - out * depth_m)];
    let cut = |half_deg: f64| {
        let round = |deg: f64| Rotation2::new(turn * deg.to_radians()) * start;
        let last = round(2.0 * half_deg);
        let [first, on_tube] = [start, last].map(|d| centre + d * radius_m);
        let heel = centre + last * (radius_m + shop.steel.plate_m);
        let arc = |to| Segment::Arc {
            to,
            centre,
            clockwise: true,
        };
        let line = |to| Segment::Line { to };
        let foot = if turn < 0.0 {
            Foot {
                corners: [first, heel],
                way: vec![arc(on_tube), line(heel)],
            }
        } else {
            Foot {
                corners: [heel, first],
                way: vec![line(on_tube), arc(first)],
            }
        };
        let outline = standing(&discs, &foot)?;
        let is_good = is_clear(&outline, centre, radius_m) && !has_flat_corner(&outline);
        is_good.then_some(Saddled {
            outline,
            centre,
            up: round(half_deg),
            half_deg,
        })
    };
    FROM_SIDE_DEG.into_iter().find_map(cut).ok_or_else(hangs_over)
}
