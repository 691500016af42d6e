//! Draws what lies over the stage.

use std::sync::Arc;

use egui::{Align2, Color32, FontId, Pos2, Rect, Stroke, Ui, Vec2, pos2};
use rearend::setup::Carrier;

use crate::stage_overlay::{Handle, Mark, Overlay, Spot};

/// What is measured between, and what could be.
pub(crate) fn spots(ui: &Ui, area: Rect, spots: &[Spot], pointer: Option<Pos2>) {
    let painter = ui.painter().with_clip_rect(area);
    let (yellow, dark) = (Color32::from_rgb(240, 228, 66), Color32::from_black_alpha(150));
    for spot in spots {
        let size = if spot.chosen { 6.0 } else { 4.0 };
        painter.circle(spot.at, size, dark, Stroke::new(2.0, yellow));
    }
    let under = pointer.and_then(|at| nearest_spot(spots, at));
    if let Some(spot) = under {
        chip(
            &painter,
            spot.at + Vec2::new(14.0, -12.0),
            Align2::LEFT_BOTTOM,
            &spot.name,
            12.0,
        );
    }
}

/// The spot that the pointer is on.
pub(crate) fn nearest_spot(spots: &[Spot], at: Pos2) -> Option<&Spot> {
    let near = spots.iter().filter(|spot| spot.at.distance(at) <= 13.0);
    near.min_by(|a, b| a.at.distance(at).total_cmp(&b.at.distance(at)))
}

pub(crate) fn path(ui: &Ui, area: Rect, overlay: &Overlay) {
    if overlay.path.len() < 2 {
        return;
    }
    let colour = Color32::from_rgb(204, 121, 167);
    let painter = ui.painter().with_clip_rect(area);
    painter.line(overlay.path.to_vec(), Stroke::new(5.0, Color32::from_black_alpha(90)));
    painter.line(overlay.path.to_vec(), Stroke::new(2.5, colour));
}

/// Lines and crosses, and their words where they cover neither each other nor a handle.
pub(crate) fn marks(ui: &Ui, area: Rect, marks: &[Mark], handles: &[Handle]) {
    let painter = ui.painter().with_clip_rect(area);
    let mut taken: Vec<Rect> = handles
        .iter()
        .map(|handle| Rect::from_center_size(handle.at, Vec2::splat(16.0)))
        .collect();
    let colour = Color32::from_rgb(240, 228, 66);
    let dark = Color32::from_black_alpha(150);
    for mark in marks {
        if mark.line.len() > 1 {
            painter.line(mark.line.clone(), Stroke::new(4.0, dark));
            painter.line(mark.line.clone(), Stroke::new(1.8, colour));
        }
        if let Some(at) = mark.cross {
            for (width, ink) in [(5.0, dark), (2.2, colour)] {
                let arm = 8.0;
                painter.line_segment(
                    [at - Vec2::new(arm, 0.0), at + Vec2::new(arm, 0.0)],
                    Stroke::new(width, ink),
                );
                painter.line_segment(
                    [at - Vec2::new(0.0, arm), at + Vec2::new(0.0, arm)],
                    Stroke::new(width, ink),
                );
            }
        }
        let middle = mark.line.get(mark.line.len() / 2).copied();
        if let Some(at) = mark.cross.or(middle) {
            taken.extend(chip_beside(&painter, at, &mark.words, &taken));
        }
    }
}

pub(crate) fn handles(ui: &Ui, overlay: &Overlay, under: Option<&Handle>) {
    let painter = ui.painter();
    let shown = overlay.dragged.or(under.map(|h| h.mount));
    for handle in overlay.handles {
        let [r, g, b] = handle.colour;
        let selected = overlay.selected == Some(handle.mount) || overlay.with.contains(&handle.mount);
        let hot = shown == Some(handle.mount);
        let size = if hot || selected { 8.5 } else { 6.5 };
        let edge = Stroke::new(
            if selected { 3.0 } else { 2.0 },
            if selected {
                Color32::from_rgb(240, 228, 66)
            } else {
                Color32::WHITE
            },
        );
        let fill = Color32::from_rgb(r, g, b);
        let halo = Color32::from_black_alpha(120);
        match handle.carrier {
            Carrier::Frame => {
                let square = Rect::from_center_size(handle.at, Vec2::splat(size * 2.0));
                painter.rect_filled(square.expand(2.5), 3.0, halo);
                painter.rect(square, 2.0, fill, edge, egui::StrokeKind::Inside);
            }
            Carrier::Axle => {
                painter.circle_filled(handle.at, size + 2.5, halo);
                painter.circle(handle.at, size, fill, edge);
            }
        }
    }
    if let Some(handle) = overlay.handles.iter().find(|h| shown == Some(h.mount)) {
        chip(
            painter,
            handle.at + Vec2::new(16.0, -14.0),
            Align2::LEFT_BOTTOM,
            &handle.label,
            12.5,
        );
    }
}

pub(crate) fn words(ui: &Ui, area: Rect, overlay: &Overlay) {
    let painter = ui.painter();
    chip(
        painter,
        pos2(area.center().x, area.bottom() - 10.0),
        Align2::CENTER_BOTTOM,
        overlay.hint,
        12.0,
    );
    chip(
        painter,
        pos2(area.left() + 12.0, area.top() + 12.0),
        Align2::LEFT_TOP,
        overlay.view,
        12.0,
    );
}

/// How far words are moved up and down in search of room, in heights of themselves.
const SEARCH: [f32; 7] = [0.0, 1.0, -1.0, 2.0, -2.0, 3.0, -3.0];

/// Words beside a place, right or left of it, above or below, where they cover the least of what is taken. Where they lie.
fn chip_beside(painter: &egui::Painter, at: Pos2, text: &str, taken: &[Rect]) -> Option<Rect> {
    let sides = [
        (Vec2::new(10.0, 8.0), Align2::LEFT_TOP),
        (Vec2::new(10.0, -8.0), Align2::LEFT_BOTTOM),
        (Vec2::new(-10.0, 8.0), Align2::RIGHT_TOP),
        (Vec2::new(-10.0, -8.0), Align2::RIGHT_BOTTOM),
    ];
    let (galley, _) = chip_at(painter, at, Align2::LEFT_TOP, text, 12.0)?;
    let tall = galley.size().y + 10.0;
    let covered = |rect: Rect| -> f32 {
        let over = |other: &Rect| rect.intersect(*other);
        let areas = taken.iter().map(over).filter(Rect::is_positive);
        areas.map(|o| o.area()).sum()
    };
    let places = SEARCH.iter().flat_map(|steps| {
        let down = Vec2::new(0.0, steps * tall);
        sides.map(|(by, anchor)| place_chip(painter, at + by + down, anchor, galley.size()))
    });
    let mut best: Option<(f32, Rect)> = None;
    for rect in places {
        let area = covered(rect);
        if best.is_none_or(|(least, _)| area < least) {
            best = Some((area, rect));
        }
        if area <= 0.0 {
            break;
        }
    }
    let (_, rect) = best?;
    paint_chip(painter, rect, galley);
    Some(rect)
}

/// Words on a dark ground, readable over anything.
fn chip(painter: &egui::Painter, at: Pos2, anchor: Align2, text: &str, size: f32) {
    if let Some((galley, rect)) = chip_at(painter, at, anchor, text, size) {
        paint_chip(painter, rect, galley);
    }
}

fn chip_at(
    painter: &egui::Painter,
    at: Pos2,
    anchor: Align2,
    text: &str,
    size: f32,
) -> Option<(Arc<egui::Galley>, Rect)> {
    if text.is_empty() {
        return None;
    }
    let widest = (painter.clip_rect().width() - 40.0).max(60.0);
    let galley = painter.layout(text.to_owned(), FontId::proportional(size), Color32::WHITE, widest);
    let rect = place_chip(painter, at, anchor, galley.size());
    Some((galley, rect))
}

fn place_chip(painter: &egui::Painter, at: Pos2, anchor: Align2, words: Vec2) -> Rect {
    let rect = anchor.anchor_size(at, words + Vec2::new(14.0, 8.0));
    rect.translate(stay_inside(rect, painter.clip_rect()))
}

fn paint_chip(painter: &egui::Painter, rect: Rect, galley: Arc<egui::Galley>) {
    painter.rect_filled(rect, 5.0, Color32::from_rgba_unmultiplied(18, 24, 31, 215));
    painter.galley(rect.min + Vec2::new(7.0, 4.0), galley, Color32::WHITE);
}

fn stay_inside(rect: Rect, bounds: Rect) -> Vec2 {
    let into = |low: f32, high: f32, from: f32, to: f32| {
        if low < from {
            from - low
        } else if high > to {
            to - high
        } else {
            0.0
        }
    };
    Vec2::new(
        into(rect.left(), rect.right(), bounds.left(), bounds.right()),
        into(rect.top(), rect.bottom(), bounds.top(), bounds.bottom()),
    )
}
