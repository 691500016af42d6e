//! The ride post: an upright scale of ride height with a rider to drag, and the twist wheel beneath it.

use egui::{Align2, Color32, FontId, Key, Rect, Response, Sense, Stroke, Ui, Vec2, pos2};
use rearend::setup::Travel;
use rearend::tape::{Units, degrees};
use shop::{Bench, Command, Stand};

use crate::actions::{Act, Action};
use crate::scale::HeightScale;
use crate::theme::{Inks, strong};

/// Draws the post in the whole of `ui`.
pub fn ride_post_ui(ui: &mut Ui, bench: &Bench, playing: bool) -> Vec<Act> {
    let area = ui.available_rect_before_wrap();
    let scale = HeightScale::new(&bench.setup().travel, area);
    let mut acts = head(ui, area, bench, playing);
    let stand = bench.stand();
    let rider = rider(ui, area, &scale, bench);
    if let Some(height_m) = moved_height(ui, &rider, &scale, stand.height_m, bench.units()) {
        acts.push(Act::Do(Command::StandAt(Stand { height_m, ..stand })));
    }
    acts.extend(twist_wheel(ui, area, bench));
    ui.allocate_rect(area, Sense::hover());
    acts
}

fn head(ui: &mut Ui, area: Rect, bench: &Bench, playing: bool) -> Vec<Act> {
    let mut acts = Vec::new();
    let box_ = Rect::from_min_size(area.min, Vec2::new(area.width(), crate::scale::HEAD - 8.0));
    ui.scope_builder(egui::UiBuilder::new().max_rect(box_), |ui| {
        ui.horizontal(|ui| {
            ui.label(strong("Rails at", 13.0));
            let (sign, name) = if playing {
                ("■", "Stop the travel")
            } else {
                ("▶", "Run the travel")
            };
            let button = ui.small_button(sign).on_hover_text(Action::Play.tip());
            button.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Button, true, name));
            if button.clicked() {
                acts.push(Act::Choose(Action::Play));
            }
        });
        ui.label(strong(bench.units().length(bench.stand().height_m), 17.0).color(Inks::of(ui).now));
    });
    acts
}

const POST_X: f32 = 26.0;

fn rider(ui: &mut Ui, area: Rect, scale: &HeightScale, bench: &Bench) -> Response {
    let inks = Inks::of(ui);
    let x = area.left() + POST_X;
    let y = scale.y(bench.stand().height_m);
    let grip = Rect::from_min_max(
        pos2(area.left(), scale.top - 10.0),
        pos2(area.right(), scale.bottom + 10.0),
    );
    let response = ui.interact(grip, ui.id().with("rider"), Sense::click_and_drag());
    let painter = ui.painter();
    painter.line_segment([pos2(x, scale.top), pos2(x, scale.bottom)], Stroke::new(4.0, inks.line));
    ticks(painter, x, scale, &bench.setup().travel, bench.units(), &inks);
    marks(painter, area, scale, bench, &inks);
    painter.line_segment(
        [pos2(area.left(), y), pos2(area.right(), y)],
        Stroke::new(1.5, inks.now),
    );
    let knob = Rect::from_center_size(pos2(x, y), Vec2::new(26.0, 15.0));
    let edge = if response.hovered() || response.has_focus() || response.dragged() {
        inks.ink
    } else {
        Color32::TRANSPARENT
    };
    painter.rect(knob, 4.0, inks.now, Stroke::new(2.0, edge), egui::StrokeKind::Outside);
    for dy in [-2.5, 0.0, 2.5] {
        painter.line_segment(
            [pos2(x - 7.0, y + dy), pos2(x + 7.0, y + dy)],
            Stroke::new(1.0, inks.paper),
        );
    }
    let height = bench.stand().height_m;
    response.widget_info(|| egui::WidgetInfo::slider(true, height, "Height of the rails"));
    response
}

fn ticks(painter: &egui::Painter, x: f32, scale: &HeightScale, travel: &Travel, units: Units, inks: &Inks) {
    // Centimetres and every fifth; half inches and every second.
    let (step, in_a_whole) = match units {
        Units::Millimetres => (0.01, 5.0),
        Units::Sixteenths | Units::DecimalInches => (0.0127, 2.0),
    };
    let mut height = (travel.laid_out_m / step).ceil() * step;
    // At most a few hundred, whatever the travel.
    for _ in 0..400 {
        if height > travel.full_lift_m + 1e-9 {
            break;
        }
        let long = if is_whole(height / (step * in_a_whole)) {
            9.0
        } else {
            5.0
        };
        painter.line_segment(
            [pos2(x - long, scale.y(height)), pos2(x - 2.0, scale.y(height))],
            Stroke::new(1.0, inks.soft),
        );
        height += step;
    }
}

fn is_whole(number: f64) -> bool {
    (number - number.round()).abs() < 1e-6
}

fn marks(painter: &egui::Painter, area: Rect, scale: &HeightScale, bench: &Bench, inks: &Inks) {
    let travel = &bench.setup().travel;
    let named = [
        (travel.full_lift_m, "full lift"),
        (travel.ride_m, "ride"),
        (travel.laid_out_m, "laid out"),
    ];
    for (height_m, name) in named {
        let y = scale.y(height_m);
        let x = area.left() + POST_X;
        painter.line_segment([pos2(x - 10.0, y), pos2(x + 16.0, y)], Stroke::new(2.0, inks.ink));
        let text = format!("{name}\n{}", bench.units().length(height_m));
        let galley = painter.layout_no_wrap(text, FontId::proportional(11.5), inks.ink);
        painter.galley(pos2(x + 20.0, y - galley.size().y / 2.0), galley, inks.ink);
    }
    let half = scale.y(travel.half_m());
    if named
        .iter()
        .all(|(height_m, _)| (scale.y(*height_m) - half).abs() > 26.0)
    {
        let x = area.left() + POST_X;
        painter.line_segment([pos2(x - 6.0, half), pos2(x + 12.0, half)], Stroke::new(1.0, inks.soft));
        painter.text(
            pos2(x + 20.0, half),
            Align2::LEFT_CENTER,
            "half travel",
            FontId::proportional(10.5),
            inks.soft,
        );
    }
}

fn moved_height(ui: &Ui, response: &Response, scale: &HeightScale, now_m: f64, units: Units) -> Option<f64> {
    // The last movement comes in the frame that lets go.
    if response.dragged() || response.drag_stopped() || response.clicked() {
        response.request_focus();
        return response.interact_pointer_pos().map(|at| scale.height_m(at.y));
    }
    keyed(ui, response, [Key::ArrowDown, Key::ArrowUp]).map(|steps| now_m + steps * units.step_m())
}

/// Steps asked for with a pair of arrow keys while the widget has the keyboard.
fn keyed(ui: &Ui, response: &Response, [less, more]: [Key; 2]) -> Option<f64> {
    if !response.has_focus() {
        return None;
    }
    ui.memory_mut(|m| {
        let arrows = matches!(less, Key::ArrowDown);
        m.set_focus_lock_filter(
            response.id,
            egui::EventFilter {
                vertical_arrows: arrows,
                horizontal_arrows: !arrows,
                ..Default::default()
            },
        );
    });
    let steps = ui.input(|i| f64::from(u8::from(i.key_pressed(more))) - f64::from(u8::from(i.key_pressed(less))));
    (steps != 0.0).then_some(steps)
}

fn twist_wheel(ui: &mut Ui, area: Rect, bench: &Bench) -> Option<Act> {
    let inks = Inks::of(ui);
    let most = bench.setup().travel.one_wheel_up_rad.abs();
    let stand = bench.stand();
    let centre = pos2(area.center().x, area.bottom() - 32.0);
    let wheel = Rect::from_center_size(centre, Vec2::new(area.width() - 16.0, 20.0));
    let response = ui.interact(wheel, ui.id().with("twist"), Sense::click_and_drag());
    let response = response.on_hover_text("Puts one wheel up. Double-click levels it");
    let painter = ui.painter();
    painter.text(
        pos2(centre.x, area.bottom() - 52.0),
        Align2::CENTER_CENTER,
        twist_words(stand.roll_rad),
        FontId::proportional(11.5),
        inks.ink,
    );
    painter.rect(
        wheel,
        6.0,
        inks.paper,
        Stroke::new(1.0, if response.has_focus() { inks.ink } else { inks.line }),
        egui::StrokeKind::Inside,
    );
    #[expect(clippy::cast_possible_truncation, reason = "the screen is single precision")]
    let turned = if most > 0.0 {
        (stand.roll_rad / most) as f32
    } else {
        0.0
    };
    knurls(painter, wheel, turned, &inks);
    response.widget_info(|| egui::WidgetInfo::slider(true, stand.roll_rad.to_degrees(), "One wheel up"));
    let to = |roll_rad: f64| Some(Act::Do(Command::StandAt(Stand { roll_rad, ..stand })));
    if response.double_clicked() {
        return to(0.0);
    }
    if response.dragged() || response.drag_stopped() {
        response.request_focus();
        // Half the wheel's width is all of the roll.
        let roll = stand.roll_rad - f64::from(response.drag_delta().x / (wheel.width() / 2.0)) * most;
        return to(roll);
    }
    let steps = keyed(ui, &response, [Key::ArrowLeft, Key::ArrowRight])?;
    to(stand.roll_rad - steps * 0.25f64.to_radians())
}

fn twist_words(roll_rad: f64) -> String {
    if roll_rad.abs() < 1e-4 {
        return "both wheels together".to_owned();
    }
    let side = if roll_rad > 0.0 { "left" } else { "right" };
    format!("{side} wheel up {}", degrees(roll_rad.abs(), 1))
}

/// The wheel's grooves, closer together towards its edges, and a mark that turns with it.
fn knurls(painter: &egui::Painter, wheel: Rect, turned: f32, inks: &Inks) {
    let half = wheel.width() / 2.0 - 3.0;
    for i in -9..=9i8 {
        let angle = (f32::from(i) / 9.0 - turned * 0.5) * std::f32::consts::FRAC_PI_2;
        if angle.abs() < std::f32::consts::FRAC_PI_2 {
            let x = wheel.center().x + angle.sin() * half;
            let stroke = if i == 0 {
                Stroke::new(3.0, inks.now)
            } else {
                Stroke::new(1.0, inks.soft)
            };
            painter.line_segment([pos2(x, wheel.top() + 4.0), pos2(x, wheel.bottom() - 4.0)], stroke);
        }
    }
    painter.text(
        pos2(wheel.left(), wheel.bottom() + 9.0),
        Align2::LEFT_CENTER,
        "left up",
        FontId::proportional(10.5),
        inks.soft,
    );
    painter.text(
        pos2(wheel.right(), wheel.bottom() + 9.0),
        Align2::RIGHT_CENTER,
        "right up",
        FontId::proportional(10.5),
        inks.soft,
    );
}
