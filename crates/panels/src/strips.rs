//! The travel strips: curves drawn upright, ride height up the page on the ride post's scale.

mod words;

use egui::{Align2, FontId, Rect, Sense, Stroke, Ui, Vec2, pos2};
use egui_plot::{HLine, Line, LineStyle, Plot, PlotBounds, PlotPoint, PlotPoints, PlotUi, Points, VLine};
use rearend::answers::Solved;
use rearend::tape::Units;
use rearend::travel::{Row, Travel};
use shop::{Bench, Command, Document, Stand};

use crate::actions::Act;
use crate::beside_table::{Drawn, drawn};
use crate::quantity::Quantity;
use crate::scale::{FOOT, HEAD, HeightScale};
use crate::theme::{Inks, strong};

/// The most strips side by side: more would be too narrow to read.
const MOST: usize = 6;

/// Draws the strips side by side over the whole of `ui`: the two that are always there, then `chosen`.
pub fn strips_ui(ui: &mut Ui, bench: &Bench, chosen: &[Quantity]) -> Vec<Act> {
    let area = ui.available_rect_before_wrap();
    let scale = HeightScale::new(&bench.setup().travel, area);
    let shown: Vec<_> = Quantity::ALWAYS.iter().chain(chosen).copied().collect();
    let mut acts = Vec::new();
    let gap = 8.0;
    #[expect(clippy::cast_precision_loss, reason = "a handful")]
    let wide = (area.width() + gap) / shown.len() as f32 - gap;
    let mut left = area.left();
    for quantity in shown {
        let column = Rect::from_min_max(pos2(left, area.top()), pos2(left + wide, area.bottom()));
        acts.extend(strip(ui, column, &scale, bench, quantity));
        left += wide + gap;
    }
    ui.allocate_rect(area, Sense::hover());
    let corner = Rect::from_min_size(area.right_top() - Vec2::new(26.0, 2.0), Vec2::new(26.0, 20.0));
    acts.extend(chooser(ui, corner, chosen));
    acts
}

/// The list from which strips are added and taken away.
fn chooser(ui: &mut Ui, corner: Rect, chosen: &[Quantity]) -> Option<Act> {
    let mut next = None;
    let list = |ui: &mut Ui| {
        for quantity in Quantity::ALL.into_iter().filter(|q| !Quantity::ALWAYS.contains(q)) {
            let is_shown = chosen.contains(&quantity);
            let room = is_shown || chosen.len() + Quantity::ALWAYS.len() < MOST;
            let mut tick = is_shown;
            let entry = ui.add_enabled(room, egui::Checkbox::new(&mut tick, quantity.title()));
            if entry.on_hover_text(quantity.tip()).changed() {
                let kept = chosen.iter().copied().filter(|q| *q != quantity);
                next = Some(kept.chain(tick.then_some(quantity)).collect());
            }
        }
    };
    ui.scope_builder(egui::UiBuilder::new().max_rect(corner), |ui| {
        let config =
            egui::containers::menu::MenuConfig::new().close_behavior(egui::PopupCloseBehavior::CloseOnClickOutside);
        egui::containers::menu::MenuButton::new("+")
            .config(config)
            .ui(ui, list)
            .0
            .on_hover_text("Choose what the strips show")
            .widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Button, true, "Choose strips"));
    });
    next.map(Act::Strips)
}

fn strip(ui: &mut Ui, column: Rect, scale: &HeightScale, bench: &Bench, quantity: Quantity) -> Option<Act> {
    let units = bench.units();
    head(ui, column, bench, quantity);
    let Ok(solved) = &bench.document().answers().solved else {
        return None;
    };
    let full = full_scale(bench, &solved.level, &solved.rolled, quantity);
    let middle = quantity.middle(bench);
    let frame = Rect::from_min_max(pos2(column.left(), scale.top), pos2(column.right(), scale.bottom));
    foot(ui, column, full, quantity, units);
    let inks = Inks::of(ui);
    ui.painter().rect_filled(frame, 3.0, inks.paper);
    let travel = &bench.setup().travel;
    let others = others(ui, bench);
    let plot = |ui: &mut Ui| {
        Plot::new(quantity.title())
            .width(frame.width())
            .height(frame.height())
            .show_axes(false)
            .show_grid(false)
            .show_background(false)
            .allow_zoom(false)
            .allow_drag(false)
            .allow_scroll(false)
            .allow_boxed_zoom(false)
            .allow_double_click_reset(false)
            .show_crosshair(false)
            .cursor_color(egui::Color32::TRANSPARENT)
            .set_margin_fraction(Vec2::ZERO)
            .label_formatter(|_| None)
            .show(ui, |plot| {
                plot.set_plot_bounds(PlotBounds::from_min_max(
                    [middle - full, travel.laid_out_m],
                    [middle + full, travel.full_lift_m],
                ));
                datums(plot, bench, quantity, &inks);
                for (level, drawn) in others {
                    let other = curve("beside it", level, quantity, units);
                    plot.line(other.color(drawn.colour).width(drawn.width).style(drawn.style));
                }
                curves(plot, bench, solved, quantity, &inks);
            })
    };
    ui.scope_builder(egui::UiBuilder::new().max_rect(frame), plot);
    let y = scale.y(bench.stand().height_m);
    ui.painter().line_segment(
        [pos2(column.left() - 8.0, y), pos2(column.right(), y)],
        Stroke::new(1.5, inks.now),
    );
    read_off(ui, bench, scale, frame, quantity);
    let grip = ui.interact(frame, ui.id().with(quantity.title()), Sense::click_and_drag());
    grip.widget_info(|| {
        egui::WidgetInfo::labeled(egui::WidgetType::Label, true, words::description(ui, bench, quantity))
    });
    let at = if grip.dragged() || grip.drag_stopped() || grip.clicked() {
        grip.interact_pointer_pos()
    } else {
        None
    };
    at.map(|at| {
        Act::Do(Command::StandAt(Stand {
            height_m: scale.height_m(at.y),
            ..bench.stand()
        }))
    })
}

/// The level travels of those beside the open setup, with how they are drawn; what is not solved has none.
fn others<'a>(ui: &Ui, bench: &'a Bench) -> Vec<(&'a Travel, Drawn)> {
    let beside = bench.beside().documents().iter().enumerate();
    let level = |document: &'a Document| document.answers().solved.as_ref().ok().map(|s| &s.level);
    beside
        .filter_map(|(i, document)| Some((level(document)?, drawn(ui, i + 1))))
        .collect()
}

/// The limits, what the middle stands for, and ride height.
fn datums(plot: &mut PlotUi, bench: &Bench, quantity: Quantity, inks: &Inks) {
    let middle = quantity.middle(bench);
    for x in quantity.limit(bench).into_iter().flat_map(|l| [middle - l, middle + l]) {
        plot.vline(
            VLine::new("", x)
                .color(inks.limit)
                .width(1.0)
                .style(LineStyle::dashed_dense())
                .allow_hover(false),
        );
    }
    plot.vline(VLine::new("", middle).color(inks.line).width(1.0).allow_hover(false));
    plot.hline(
        HLine::new("", bench.setup().travel.ride_m)
            .color(inks.line)
            .width(1.0)
            .allow_hover(false),
    );
}

/// The open setup's curves, and where it stands.
fn curves<'a>(plot: &mut PlotUi<'a>, bench: &Bench, solved: &'a Solved, quantity: Quantity, inks: &Inks) {
    let units = bench.units();
    if bench.stand().roll_rad != 0.0 {
        plot.line(
            curve("one wheel up", &solved.rolled, quantity, units)
                .color(inks.soft)
                .width(1.5)
                .style(LineStyle::dashed_loose()),
        );
    }
    plot.line(
        curve("both wheels", &solved.level, quantity, units)
            .color(inks.ink)
            .width(2.2),
    );
    if let Ok(now) = bench.now() {
        let here = quantity.value(now, units).map(|v| [v, now.height_m]);
        plot.points(
            Points::new("", here.into_iter().collect::<Vec<_>>())
                .radius(5.0)
                .color(inks.now)
                .filled(true)
                .allow_hover(false),
        );
    }
}

fn curve<'a>(name: &'a str, travel: &Travel, quantity: Quantity, units: Units) -> Line<'a> {
    let points: Vec<_> = travel
        .rows
        .iter()
        .filter_map(|row| Some(PlotPoint::new(quantity.value(row, units)?, row.height_m)))
        .collect();
    Line::new(name, PlotPoints::Owned(points)).allow_hover(false)
}

/// The nearest of 1, 2, 5 that holds all of the curves, as far as the strip goes.
fn full_scale(bench: &Bench, level: &Travel, rolled: &Travel, quantity: Quantity) -> f64 {
    let units = bench.units();
    let rolled = if bench.stand().roll_rad == 0.0 {
        &[]
    } else {
        rolled.rows.as_slice()
    };
    let middle = quantity.middle(bench);
    let size = |row: &Row| quantity.value(row, units).map_or(0.0, |v| (v - middle).abs());
    let travel = &bench.setup().travel;
    // Heights that went through the axle's are a rounding off.
    let seen = travel.laid_out_m - 1e-6..=travel.full_lift_m + 1e-6;
    let is_seen = |row: &&Row| seen.contains(&row.height_m);
    let beside = bench.beside().documents().iter();
    let beside = beside.flat_map(|d| d.answers().level_rows()).filter(is_seen);
    let largest = level
        .rows
        .iter()
        .chain(rolled)
        .chain(beside)
        .map(size)
        .fold(0.0, f64::max);
    let wanted = (largest * 1.08).max(quantity.least(units));
    let decade = 10f64.powf(wanted.log10().floor());
    let step = [1.0, 2.0, 2.5, 5.0, 10.0]
        .into_iter()
        .find(|s| s * decade >= wanted * (1.0 - 1e-9));
    step.unwrap_or(10.0) * decade
}

fn head(ui: &mut Ui, column: Rect, bench: &Bench, quantity: Quantity) {
    let box_ = Rect::from_min_size(column.min, Vec2::new(column.width(), HEAD - 8.0));
    ui.scope_builder(egui::UiBuilder::new().max_rect(box_), |ui| {
        ui.spacing_mut().item_spacing.y = 3.0;
        ui.label(strong(quantity.title(), 13.0)).on_hover_text(quantity.tip());
        let now = bench
            .now()
            .map_or_else(|_| "not reached".to_owned(), |row| quantity.words(row, bench.units()));
        ui.add(egui::Label::new(egui::RichText::new(now).size(12.0).color(Inks::of(ui).now)).wrap());
    });
}

fn foot(ui: &Ui, column: Rect, full: f64, quantity: Quantity, units: Units) {
    let inks = Inks::of(ui);
    let painter = ui.painter();
    let top = column.bottom() - FOOT;
    let [left, right] = quantity.sides();
    let small = FontId::proportional(10.5);
    painter.text(
        pos2(column.left() + 2.0, top + 4.0),
        Align2::LEFT_TOP,
        left,
        small.clone(),
        inks.soft,
    );
    painter.text(
        pos2(column.right() - 2.0, top + 4.0),
        Align2::RIGHT_TOP,
        right,
        small,
        inks.soft,
    );
    let scale = format!("full scale\n±{full} {}", quantity.symbol(units)).replace(" °", "°");
    let galley = painter.layout(scale, FontId::proportional(11.0), inks.soft, column.width());
    painter.galley(
        pos2(column.center().x - galley.size().x / 2.0, top + 24.0),
        galley,
        inks.soft,
    );
}

/// The value under the pointer.
fn read_off(ui: &Ui, bench: &Bench, scale: &HeightScale, frame: Rect, quantity: Quantity) {
    let Some(at) = ui.input(|i| i.pointer.hover_pos()).filter(|p| frame.contains(*p)) else {
        return;
    };
    let Ok(solved) = &bench.document().answers().solved else {
        return;
    };
    let Some(row) = solved.level.nearest(scale.height_m(at.y)) else {
        return;
    };
    let inks = Inks::of(ui);
    let painter = ui.painter();
    let y = scale.y(row.height_m);
    painter.line_segment(
        [pos2(frame.left(), y), pos2(frame.right(), y)],
        Stroke::new(1.0, inks.soft),
    );
    let text = format!(
        "{}\n{}",
        bench.units().length(row.height_m),
        quantity.words(row, bench.units())
    );
    let galley = painter.layout(text, FontId::proportional(11.0), inks.ink, frame.width() - 8.0);
    let below = y + galley.size().y + 10.0 < frame.bottom();
    let corner = pos2(
        frame.left() + 4.0,
        if below { y + 5.0 } else { y - galley.size().y - 5.0 },
    );
    painter.rect_filled(
        Rect::from_min_size(corner, galley.size()).expand(3.0),
        3.0,
        inks.paper.gamma_multiply(0.92),
    );
    painter.galley(corner, galley, inks.ink);
}
