//! A page for every strip.

use egui::{Sense, Ui, Vec2};

use super::passage;
use super::quantities::quantity_words;
use super::sketch::sketch_ui;
use crate::quantity::Quantity;

pub(super) fn quantity_ui(ui: &mut Ui, quantity: Quantity) {
    let words = quantity_words(quantity);
    let wide = ui.available_width().clamp(100.0, 460.0);
    let (area, response) = ui.allocate_exact_size(Vec2::new(wide, wide * 0.46), Sense::hover());
    sketch_ui(ui, area, quantity);
    let name = format!("Sketch: {}", quantity.title());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Image, true, &name));
    passage(ui, "What this is", words.what);
    passage(ui, "What is good", words.good);
    passage(ui, "What moves it", words.moves);
    passage(ui, "Where it comes from", words.source);
}
