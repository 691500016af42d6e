//! How the axle stands at ride height, and what one turn of each adjuster does.

use egui::Ui;
use rearend::findings::{directed, nose};
use rearend::mechanism::Part;
use rearend::setup::Setup;
use rearend::square::{MARKS_AHEAD_M, Stance, TurnEffect};
use rearend::tape::{Units, degrees};
use shop::Bench;

use crate::theme::{Inks, strong};

/// Draws the card. It only tells; adjusters are turned on the cards of their mounts.
pub fn built_card_ui(ui: &mut Ui, bench: &Bench) {
    let Ok(solved) = &bench.document().answers().solved else {
        ui.label("Nothing is solved; see the findings.");
        return;
    };
    let units = bench.units();
    ui.label(strong("At ride height", 14.0));
    stance(ui, &solved.stance, units);
    ui.add_space(4.0);
    ui.label(strong("One turn longer", 14.0));
    if solved.turns.is_empty() {
        let soft = Inks::of(ui).soft;
        let text = "Every bar is cut to suit, so the axle stands as drawn. Select a mount and take its bar as built to give it a length and an adjuster.";
        ui.add(egui::Label::new(egui::RichText::new(text).color(soft).size(12.0)).wrap());
        return;
    }
    turns(ui, bench.setup(), &solved.turns, units);
}

fn stance(ui: &mut Ui, stance: &Stance, units: Units) {
    let lines = [
        ("Right tyre", directed(units, stance.out_of_square_m, "ahead", "behind")),
        ("Axle, sideways", directed(units, stance.left_m, "left", "right")),
        ("Axle, lengthwise", directed(units, stance.forward_m, "forward", "back")),
        ("Pinion", nose(stance.pinion_rad)),
        ("Left mark to right end", units.length(stance.left_to_right_m)),
        ("Right mark to left end", units.length(stance.right_to_left_m)),
    ];
    egui::Grid::new("stance").num_columns(2).show(ui, |ui| {
        for (name, value) in lines {
            ui.label(name);
            ui.label(value);
            ui.end_row();
        }
    });
    let marks = format!(
        "Marks go under both rails, outside, {} ahead of the axle line; the ends are the wheel flanges.",
        units.length(MARKS_AHEAD_M)
    );
    let soft = Inks::of(ui).soft;
    ui.add(egui::Label::new(egui::RichText::new(marks).color(soft).size(12.0)).wrap());
}

fn turns(ui: &mut Ui, setup: &Setup, turns: &[TurnEffect], units: Units) {
    egui::Grid::new("turns").num_columns(5).striped(true).show(ui, |ui| {
        for head in ["of the", "right tyre", "sideways", "lengthwise", "pinion"] {
            ui.label(egui::RichText::new(head).color(Inks::of(ui).soft).size(12.0));
        }
        ui.end_row();
        for effect in turns {
            ui.label(bar_name(setup, effect.part));
            ui.label(directed(units, effect.out_of_square_m, "ahead", "behind"));
            ui.label(directed(units, effect.left_m, "left", "right"));
            ui.label(directed(units, effect.forward_m, "forward", "back"));
            let nose = if effect.pinion_rad < 0.0 { "down" } else { "up" };
            ui.label(format!("{} {nose}", degrees(effect.pinion_rad.abs(), 2)));
            ui.end_row();
        }
    });
}

/// A mirrored bar's adjusters turn together, so it goes by one name.
fn bar_name(setup: &Setup, part: Part) -> String {
    match part {
        Part::Bar(bar, _) => setup.bar(bar).map_or_else(|| "bar".to_owned(), |b| b.name.clone()),
        other => other.name(setup),
    }
}
