//! The ways from a page into the program.

use egui::Ui;

use crate::actions::{Act, Action};
use crate::guide::Around;

pub(super) const MEASURE: [Opens; 1] = [Opens::or(
    Action::TapeSheet,
    "Open the tape sheet",
    "Back to the tape sheet",
)];
pub(super) const CHOOSE: [Opens; 1] = [Opens::once(Action::Layouts, "Choose for my truck")];
pub(super) const DIMENSIONS: [Opens; 1] = [Opens::or(
    Action::Dimensions,
    "Show the lines",
    "Back to the truck, the lines are on",
)];
pub(super) const BETWEEN: [Opens; 1] = [Opens::or(Action::Measure, "Start measuring", "Go on measuring")];
pub(super) const PARTS: [Opens; 1] = [Opens::or(
    Action::Parts,
    "Open the parts drawer",
    "Back to the parts drawer",
)];
pub(super) const COPY: [Opens; 1] = [Opens::once(Action::Copy, "Go on with a copy")];
pub(super) const BESIDE: [Opens; 1] = [Opens::or(Action::Beside, "Open the table", "Back to the table")];
pub(super) const PICTURES: [Opens; 2] = [Opens::once(Action::Picture, "Save a picture"), SHOP];
pub(super) const SHEET: [Opens; 2] = [Opens::once(Action::Sheet, "Make a build sheet"), SHOP];
pub(super) const BRACKETS: [Opens; 1] = [Opens::once(Action::Brackets, "Draw the brackets")];
pub(super) const TABLES: [Opens; 2] = [
    Opens::once(Action::TravelTable, "Write the travel"),
    Opens::once(Action::CompareTable, "Write the comparison"),
];

const SHOP: Opens = Opens::once(Action::Shop, "Name, logo and paper");

/// A way from a page into the program.
pub(super) struct Opens {
    action: Action,
    /// What its button says.
    off: &'static str,
    /// What it says where that is a switch and on already.
    on: &'static str,
}

impl Opens {
    /// Something that is on or off.
    const fn or(action: Action, off: &'static str, on: &'static str) -> Self {
        Self { action, off, on }
    }

    /// Something that is done once.
    const fn once(action: Action, does: &'static str) -> Self {
        Self::or(action, does, does)
    }

    /// The guide gives way first, as what is opened may be a dialog too. What is on already stays on.
    pub(super) fn ui(&self, ui: &mut Ui, around: &Around, acts: &mut Vec<Act>) {
        let is_on = self.action.is_switch() && (around.is_on)(self.action);
        let button = ui.button(if is_on { self.on } else { self.off });
        if button.on_hover_text(self.action.tip()).clicked() {
            acts.push(Act::CloseDialog);
            acts.extend((!is_on).then_some(Act::Choose(self.action)));
        }
    }
}
