//! Small sketches on a truck of a few lines: what a strip shows, and what a tool does. Nothing here is to scale.

mod parts;
mod tools;
mod truck;

use egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo, WidgetType};
use rearend::setup::Role;

use super::Task;
use crate::layout_picture::{paint_piece, role_ink};
use crate::quantity::Quantity;
use crate::theme::{Inks, semi_bold};

/// A place on a page that is 100 wide and 46 high, from its lower left corner.
type At = [f32; 2];

/// Draws the sketch of a strip.
pub(super) fn quantity_sketch_ui(ui: &mut Ui, quantity: Quantity) {
    sketch_ui(ui, quantity.title(), |pencil| of_quantity(pencil, quantity));
}

/// Draws the sketch of a tool, where there is one.
pub(super) fn task_sketch_ui(ui: &mut Ui, task: Task) {
    let draw = match task {
        Task::Type => tools::tape,
        Task::Several => tools::several,
        Task::Lock => tools::lock,
        Task::Holes => tools::holes,
        Task::Dimensions => tools::dimensions,
        Task::Between => tools::between,
        _ => return,
    };
    sketch_ui(ui, task.title(), draw);
}

fn sketch_ui(ui: &mut Ui, title: &str, draw: impl FnOnce(&Pencil)) {
    let wide = ui.available_width().clamp(100.0, 460.0);
    let (area, response) = ui.allocate_exact_size(Vec2::new(wide, wide * 0.46), Sense::hover());
    draw(&Pencil::new(ui, area));
    let name = format!("Sketch: {title}");
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, &name));
}

fn of_quantity(pencil: &Pencil, quantity: Quantity) {
    match quantity {
        Quantity::Shift => truck::shift(pencil),
        Quantity::Pinion => truck::pinion(pencil),
        Quantity::ForeAft => truck::fore_aft(pencil),
        Quantity::Steer => truck::steer(pencil),
        Quantity::AntiSquat => truck::anti_squat(pencil),
        Quantity::AntiLift => truck::anti_lift(pencil),
        Quantity::CentreAhead => truck::centre_ahead(pencil),
        Quantity::CentreHeight => truck::centre_height(pencil),
        Quantity::RollCentre => truck::roll_centre(pencil),
        Quantity::RollSteer => truck::roll_steer(pencil),
        Quantity::Misfit => parts::misfit(pencil),
        Quantity::FrontJoint => parts::front_joint(pencil),
        Quantity::RearJoint => parts::rear_joint(pencil),
        Quantity::Unevenness => parts::unevenness(pencil),
        Quantity::Slip => parts::slip(pencil),
        Quantity::SpringLength => parts::spring_length(pencil),
        Quantity::WheelRate => parts::wheel_rate(pencil),
        Quantity::Bounce => parts::bounce(pencil),
        Quantity::Pressure => parts::pressure(pencil),
        Quantity::LipRoom => parts::lip_room(pencil),
        Quantity::InnerRoom => parts::inner_room(pencil),
    }
}

/// Draws in page places.
struct Pencil {
    painter: Painter,
    origin: Pos2,
    unit: f32,
    inks: Inks,
    /// Upper, lower, sideways.
    roles: [Color32; 3],
}

impl Pencil {
    fn new(ui: &Ui, area: Rect) -> Self {
        let inks = Inks::of(ui);
        ui.painter().rect_filled(area, 4.0, inks.paper);
        let unit = (area.width() / 104.0).min(area.height() / 50.0);
        let corner = Vec2::new(-50.0, 23.0) * unit;
        Self {
            painter: ui.painter().with_clip_rect(area.intersect(ui.clip_rect())),
            origin: area.center() + corner,
            unit,
            inks,
            roles: [Role::Upper, Role::Lower, Role::Sideways].map(|role| role_ink(ui, role)),
        }
    }

    fn at(&self, [x, y]: At) -> Pos2 {
        self.origin + Vec2::new(x, -y) * self.unit
    }

    fn path(&self, points: &[At], stroke: Stroke) {
        let points = points.iter().map(|p| self.at(*p)).collect();
        self.painter.add(Shape::line(points, stroke));
    }

    /// The truck in outline.
    fn outline(&self, points: &[At]) {
        self.path(points, Stroke::new(1.2, self.inks.soft));
    }

    fn rectangle(&self, [left, low]: At, [right, high]: At) {
        self.outline(&[[left, low], [right, low], [right, high], [left, high], [left, low]]);
    }

    fn circle(&self, middle: At, radius: f32) {
        let stroke = Stroke::new(1.2, self.inks.soft);
        self.painter.circle_stroke(self.at(middle), radius * self.unit, stroke);
    }

    /// What the page is about.
    fn mark(&self, points: &[At]) {
        self.path(points, Stroke::new(2.2, self.inks.now));
    }

    fn dot(&self, at: At) {
        self.painter.circle_filled(self.at(at), 4.0, self.inks.now);
    }

    /// A line that is only thought.
    fn dashed(&self, points: &[At]) {
        let points: Vec<_> = points.iter().map(|p| self.at(*p)).collect();
        let stroke = Stroke::new(1.2, self.inks.soft);
        self.painter.extend(Shape::dashed_line(&points, stroke, 5.0, 4.0));
    }

    fn bar(&self, role: Role, ends: [At; 2]) {
        let ink = self.roles[match role {
            Role::Upper => 0,
            Role::Lower => 1,
            Role::Sideways => 2,
        }];
        let ends = ends.map(|p| self.at(p));
        paint_piece(&self.painter, ends, role, ink, 2.0);
        for end in ends {
            self.painter.circle(end, 3.2, self.inks.paper, Stroke::new(1.2, ink));
        }
    }

    /// Part of a circle, counted from straight right, anticlockwise.
    fn arc(&self, middle: At, radius: f32, [from_deg, to_deg]: [f32; 2]) {
        let at = |i: u8| {
            let angle = (from_deg + (to_deg - from_deg) * f32::from(i) / 16.0).to_radians();
            [middle[0] + radius * angle.cos(), middle[1] + radius * angle.sin()]
        };
        self.mark(&(0..=16).map(at).collect::<Vec<_>>());
    }

    fn arrow(&self, from: At, to: At) {
        let (from, to) = (self.at(from), self.at(to));
        let along = (to - from).normalized() * 7.0;
        let ink = Stroke::new(2.2, self.inks.now);
        self.painter.line_segment([from, to], ink);
        for side in [along.rot90(), -along.rot90()] {
            self.painter.line_segment([to, to - along + side * 0.6], ink);
        }
    }

    /// From one place to the other, with a stop at either.
    fn measure(&self, a: At, b: At) {
        self.mark(&[a, b]);
        let along = self.at(b) - self.at(a);
        let stop = along.normalized().rot90() * 5.0;
        let ink = Stroke::new(2.2, self.inks.now);
        for end in [a, b].map(|p| self.at(p)) {
            self.painter.line_segment([end - stop, end + stop], ink);
        }
    }

    /// What the page is about, by name.
    fn name(&self, at: At, align: Align2, words: &str) {
        let font = FontId::new(13.0, semi_bold());
        self.painter.text(self.at(at), align, words, font, self.inks.ink);
    }

    fn note(&self, at: At, align: Align2, words: &str) {
        let font = FontId::proportional(12.0);
        self.painter.text(self.at(at), align, words, font, self.inks.soft);
    }
}
