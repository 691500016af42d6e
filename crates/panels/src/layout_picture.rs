//! A small picture of how an axle hangs: from above, from behind and from the left, with the bars in the colours of their roles.

use egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Response, Sense, Shape, Stroke, Ui, Vec2};
use nalgebra::Point3;
use rearend::findings::capitalised;
use rearend::setup::{Role, Setup};

use crate::layout_lines::{Line, Piece, View, outlines, pieces};
use crate::theme::Inks;

/// Height of the words above each view.
const TAG: f32 = 13.0;

/// The colour of a role in lines on paper: the Okabe-Ito palette, darker or lighter where the ground asks for it. Never the only cue:
/// lower bars are thick, upper bars thin, sideways bars dashed.
#[must_use]
pub fn role_ink(ui: &Ui, role: Role) -> Color32 {
    match (role, ui.visuals().dark_mode) {
        (Role::Upper, true) => Color32::from_rgb(86, 180, 233),
        (Role::Upper, false) => Color32::from_rgb(0, 114, 178),
        (Role::Lower, true) => Color32::from_rgb(230, 159, 0),
        (Role::Lower, false) => Color32::from_rgb(176, 104, 0),
        (Role::Sideways, true) => Color32::from_rgb(0, 178, 130),
        (Role::Sideways, false) => Color32::from_rgb(0, 122, 89),
    }
}

/// Draws a setup as it hangs at ride height.
pub fn layout_picture(ui: &mut Ui, hung: &Setup, size: Vec2) -> Response {
    let (area, response) = ui.allocate_exact_size(size, Sense::hover());
    if ui.is_rect_visible(area) {
        paint_layout(ui, area, hung);
    }
    let name = capitalised(&hung.layout_name());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Image, true, format!("Picture: {name}")));
    response
}

/// Draws it over `area`: from above at the left, from behind and from the left at the right.
pub(crate) fn paint_layout(ui: &Ui, area: Rect, hung: &Setup) {
    ui.painter().rect_filled(area, 4.0, Inks::of(ui).paper);
    let inside = area.shrink(6.0);
    let pieces = pieces(hung);
    let (plan, right) = inside.split_left_right_at_fraction(0.5);
    let (behind, left) = right.with_min_x(right.left() + 6.0).split_top_bottom_at_fraction(0.5);
    for (view, area, words) in [
        (View::Above, plan, "from above, front up"),
        (View::Behind, behind, "from behind"),
        (View::Left, left, "from the left"),
    ] {
        let drawn = area.with_min_y(area.top() + TAG);
        view_ui(ui, drawn, hung, &pieces, view);
        let font = FontId::proportional(10.0);
        ui.painter()
            .text(area.left_top(), Align2::LEFT_TOP, words, font, Inks::of(ui).soft);
    }
}

fn view_ui(ui: &Ui, area: Rect, hung: &Setup, pieces: &[Piece], view: View) {
    let lines = outlines(hung, pieces, view);
    let page = Page::fitted(view, area.shrink(2.0), &lines, pieces);
    let painter = ui.painter().with_clip_rect(area.intersect(ui.clip_rect()));
    let thin = Stroke::new(1.0, Inks::of(ui).soft);
    for line in lines {
        painter.add(Shape::line(line.into_iter().map(|p| page.at(p)).collect(), thin));
    }
    let unit = (area.height() / 60.0).clamp(1.4, 2.6);
    // Thick ones first, so that a thin one over them is seen.
    for role in [Role::Lower, Role::Upper, Role::Sideways] {
        for piece in pieces.iter().filter(|p| p.role == role) {
            paint_piece(&painter, piece.ends.map(|p| page.at(p)), role, role_ink(ui, role), unit);
        }
    }
    let paper = Inks::of(ui).paper;
    for piece in pieces {
        let marked = piece.ends.iter().zip(piece.joints).filter(|(_, is_joint)| *is_joint);
        for (end, _) in marked {
            let ink = Stroke::new(1.0, role_ink(ui, piece.role));
            painter.circle(page.at(*end), unit + 0.8, paper, ink);
        }
    }
}

/// Each role has its own kind of line.
pub(crate) fn paint_piece(painter: &Painter, ends: [Pos2; 2], role: Role, ink: Color32, unit: f32) {
    match role {
        Role::Lower => {
            painter.line_segment(ends, Stroke::new(unit * 2.4, ink));
        }
        Role::Upper => {
            painter.line_segment(ends, Stroke::new(unit, ink));
        }
        Role::Sideways => {
            let dash = unit * 3.0;
            painter.extend(Shape::dashed_line(
                &ends,
                Stroke::new(unit * 1.3, ink),
                dash,
                unit * 1.6,
            ));
        }
    }
}

/// How the truck is laid onto the screen.
struct Page {
    view: View,
    scale: f32,
    middle: Vec2,
    screen: Pos2,
}

impl Page {
    fn fitted(view: View, area: Rect, lines: &[Line], pieces: &[Piece]) -> Self {
        let (mut low, mut high) = (Vec2::splat(f32::INFINITY), Vec2::splat(f32::NEG_INFINITY));
        for point in lines.iter().flatten().chain(pieces.iter().flat_map(|p| &p.ends)) {
            let flat = flat(view, *point);
            (low, high) = (low.min(flat), high.max(flat));
        }
        let size = (high - low).max(Vec2::splat(0.1));
        let scale = (area.width() / size.x).min(area.height() / size.y);
        Self {
            view,
            scale: if scale.is_finite() { scale } else { 1.0 },
            middle: (low + high) / 2.0,
            screen: area.center(),
        }
    }

    fn at(&self, point: Point3<f64>) -> Pos2 {
        let off = (flat(self.view, point) - self.middle) * self.scale;
        self.screen + Vec2::new(off.x, -off.y)
    }
}

/// To the right and up on the page, m.
#[expect(clippy::cast_possible_truncation, reason = "pixels")]
fn flat(view: View, p: Point3<f64>) -> Vec2 {
    let (right, up) = match view {
        View::Above => (-p.y, p.x),
        View::Behind => (-p.y, p.z),
        View::Left => (-p.x, p.z),
    };
    Vec2::new(right as f32, up as f32)
}
