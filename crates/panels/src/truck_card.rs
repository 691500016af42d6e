//! The truck's heights and the user's limits, to type.

use egui::Ui;
use shop::{Bench, Change, Command};

use crate::actions::Act;
use crate::field::{angle_field, length_field};
use crate::theme::{Inks, strong};

/// Draws the card.
pub fn truck_card_ui(ui: &mut Ui, bench: &Bench) -> Vec<Act> {
    let units = bench.units();
    let mut travel = bench.setup().travel;
    let mut limits = bench.setup().limits;
    let soft = Inks::of(ui).soft;
    ui.label(strong("Heights", 14.0));
    ui.label(
        egui::RichText::new("Ground to the underside of the rail, at the axle.")
            .color(soft)
            .size(12.0),
    );
    egui::Grid::new("heights").num_columns(2).show(ui, |ui| {
        for (name, height) in [
            ("Full lift", &mut travel.full_lift_m),
            ("Ride", &mut travel.ride_m),
            ("Laid out", &mut travel.laid_out_m),
        ] {
            if let Some(typed) = length_field(ui, name, name, *height, units) {
                *height = typed;
            }
        }
        if let Some(typed) = angle_field(
            ui,
            "one wheel up",
            "One wheel up, degrees",
            travel.one_wheel_up_rad,
            15.0,
        ) {
            travel.one_wheel_up_rad = typed;
        }
    });
    ui.add_space(4.0);
    ui.label(strong("What you allow", 14.0));
    egui::Grid::new("limits").num_columns(2).show(ui, |ui| {
        if let Some(typed) = length_field(ui, "shift", "Sideways shift", limits.shift_m, units) {
            limits.shift_m = typed.abs().max(1e-4);
        }
        if let Some(typed) = angle_field(
            ui,
            "pinion change",
            "Pinion change, degrees",
            limits.pinion_change_rad,
            45.0,
        ) {
            limits.pinion_change_rad = typed;
        }
    });
    let mut acts = Vec::new();
    if travel != bench.setup().travel {
        acts.push(Act::Do(Command::Apply(Change::SetTravel(travel))));
    }
    if limits != bench.setup().limits {
        acts.push(Act::Do(Command::Apply(Change::SetLimits(limits))));
    }
    acts
}
