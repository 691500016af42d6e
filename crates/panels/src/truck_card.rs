//! The truck's heights, the user's limits and the balance, to type.

use egui::Ui;
use rearend::setup::Balance;
use shop::{Bench, Change, Command};

use crate::actions::Act;
use crate::field::{angle_field, length_field, number_field};
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
        if let Some(typed) = number_field(
            ui,
            "bind",
            "Force where bars bind, kN",
            limits.bind_n / 1e3,
            0.01..=1000.0,
        ) {
            limits.bind_n = typed * 1e3;
        }
        if let Some(typed) = length_field(ui, "misfit", "A bar may give", limits.misfit_m, units) {
            limits.misfit_m = typed.abs().max(1e-4);
        }
    });
    let balance = balance_lines(ui, bench);
    let mut acts = Vec::new();
    if travel != bench.setup().travel {
        acts.push(Act::Do(Command::Apply(Change::SetTravel(travel))));
    }
    if limits != bench.setup().limits {
        acts.push(Act::Do(Command::Apply(Change::SetLimits(limits))));
    }
    acts.extend(balance);
    acts
}

/// The balance, once it has been changed.
fn balance_lines(ui: &mut Ui, bench: &Bench) -> Option<Act> {
    let units = bench.units();
    let before = bench.setup().balance;
    ui.add_space(4.0);
    ui.label(strong("Balance", 14.0));
    let mut known = before.is_some();
    let tip = "Anti-squat and anti-lift need the wheelbase, the height of the centre of gravity and the rear wheels' share of the braking";
    ui.checkbox(&mut known, "known, for anti-squat").on_hover_text(tip);
    // A light pickup with something in the bed: a start to be corrected.
    let usual = Balance {
        wheelbase_m: 2.9972,
        cg_height_m: 0.6477,
        rear_braking: 0.4,
    };
    let mut balance = before.unwrap_or(usual);
    if known {
        egui::Grid::new("balance").num_columns(2).show(ui, |ui| {
            if let Some(typed) = length_field(ui, "wheelbase", "Wheelbase", balance.wheelbase_m, units) {
                balance.wheelbase_m = typed.abs().max(0.1);
            }
            if let Some(typed) = length_field(ui, "cg", "Centre of gravity, height", balance.cg_height_m, units) {
                balance.cg_height_m = typed.abs().max(0.01);
            }
            let share = balance.rear_braking * 100.0;
            if let Some(typed) = number_field(ui, "braking", "Rear wheels brake, %", share, 0.0..=100.0) {
                balance.rear_braking = typed / 100.0;
            }
        });
    }
    let after = known.then_some(balance);
    (after != before).then_some(Act::Do(Command::Apply(Change::SetBalance(after))))
}
