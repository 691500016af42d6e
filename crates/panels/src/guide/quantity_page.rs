//! A page for every strip.

use egui::Ui;

use super::passage;
use super::quantities::quantity_words;
use super::sketch::quantity_sketch_ui;
use crate::quantity::Quantity;

pub(super) fn quantity_ui(ui: &mut Ui, quantity: Quantity) {
    let words = quantity_words(quantity);
    quantity_sketch_ui(ui, quantity);
    passage(ui, "What this is", words.what);
    passage(ui, "What is good", words.good);
    passage(ui, "What moves it", words.moves);
    passage(ui, "Where it comes from", words.source);
}
