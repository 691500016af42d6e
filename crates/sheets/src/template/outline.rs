//! An outline as lines and Bézier curves.

use std::f64::consts::{FRAC_PI_4, TAU};

use nalgebra::{Point2, Vector2};
use rearend::brackets::{Outline, Segment};
use serde::Serialize;

use super::tiles::Turn;

/// A piece of an outline, mm: to a point, straight or by two control points.
#[derive(Clone, Copy, Debug, Serialize)]
pub(super) struct Piece {
    pub by: Option<[[f64; 2]; 2]>,
    pub to: [f64; 2],
}

/// The pieces of an outline from its start.
pub(super) fn pieces(outline: &Outline, turn: Turn) -> Vec<Piece> {
    let mut from = outline.start;
    let mut all = Vec::new();
    for segment in &outline.segments {
        match segment {
            Segment::Line { to } => all.push(Piece {
                by: None,
                to: turn.mm(*to),
            }),
            Segment::Arc { to, centre, clockwise } => all.extend(arc([from, *to], *centre, *clockwise, turn)),
        }
        from = segment.to();
    }
    all
}

/// The angle that an arc goes round, + counterclockwise; all round where it ends where it starts.
pub(super) fn sweep_rad([from, to]: [Point2<f64>; 2], centre: Point2<f64>, clockwise: bool) -> f64 {
    let (a, b) = (from - centre, to - centre);
    let turned = a.perp(&b).atan2(a.dot(&b)).rem_euclid(TAU);
    let round = |angle: f64| if angle < 1e-9 { TAU } else { angle };
    if clockwise {
        -round((TAU - turned).rem_euclid(TAU))
    } else {
        round(turned)
    }
}

/// Points of an arc, `parts` steps of it.
pub(crate) fn points(ends: [Point2<f64>; 2], centre: Point2<f64>, clockwise: bool, parts: u32) -> Vec<Point2<f64>> {
    let sweep = sweep_rad(ends, centre, clockwise);
    let arm = ends[0] - centre;
    (0..=parts)
        .map(|i| centre + turned(arm, sweep * f64::from(i) / f64::from(parts)))
        .collect()
}

/// An eighth of a circle a piece, whose handles are 4/3 tan(a/4) of the radius: it strays by four millionths of that.
fn arc(ends: [Point2<f64>; 2], centre: Point2<f64>, clockwise: bool, turn: Turn) -> Vec<Piece> {
    let sweep = sweep_rad(ends, centre, clockwise);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "one to eight")]
    let parts = (sweep.abs() / FRAC_PI_4 - 1e-9).ceil().max(1.0) as u32;
    let handle = 4.0 / 3.0 * (sweep / f64::from(parts) / 4.0).tan();
    let points = points(ends, centre, clockwise, parts);
    let across = |p: Point2<f64>| {
        let arm = p - centre;
        Vector2::new(-arm.y, arm.x) * handle
    };
    let piece = |pair: &[Point2<f64>]| Piece {
        by: Some([turn.mm(pair[0] + across(pair[0])), turn.mm(pair[1] - across(pair[1]))]),
        to: turn.mm(pair[1]),
    };
    points.windows(2).map(piece).collect()
}

fn turned(arm: Vector2<f64>, angle: f64) -> Vector2<f64> {
    let (sin, cos) = angle.sin_cos();
    Vector2::new(arm.x * cos - arm.y * sin, arm.x * sin + arm.y * cos)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_arc_goes_round_the_way_it_says() {
        let quarter = [Point2::new(1.0, 0.0), Point2::new(0.0, 1.0)];
        let centre = Point2::origin();
        assert!((sweep_rad(quarter, centre, false) - TAU / 4.0).abs() < 1e-12);
        assert!((sweep_rad(quarter, centre, true) + TAU * 0.75).abs() < 1e-12);
        let whole = [quarter[0]; 2];
        assert!((sweep_rad(whole, centre, false) - TAU).abs() < 1e-12);
        assert!((sweep_rad(whole, centre, true) + TAU).abs() < 1e-12);
    }

    #[test]
    fn half_a_circle_stays_round_between_its_pieces() {
        let outline = Outline {
            start: Point2::new(0.1, 0.0),
            segments: vec![Segment::Arc {
                to: Point2::new(-0.1, 0.0),
                centre: Point2::origin(),
                clockwise: false,
            }],
        };
        let pieces = pieces(&outline, Turn::AsItLies);
        assert_eq!(pieces.len(), 4);
        let mut from = [100.0, 0.0];
        for piece in pieces {
            let Some([a, b]) = piece.by else {
                panic!("an arc has handles")
            };
            // The middle of a cubic: an eighth of its ends and three of its handles.
            let middle = [0, 1].map(|i| (from[i] + 3.0 * a[i] + 3.0 * b[i] + piece.to[i]) / 8.0);
            assert!((middle[0].hypot(middle[1]) - 100.0).abs() < 1e-3, "{middle:?}");
            from = piece.to;
        }
    }
}
