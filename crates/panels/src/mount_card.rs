//! The card beside the selected mount: its coordinates to type, and its bar.

use egui::Ui;
use nalgebra::Point3;
use rearend::findings::capitalised;
use rearend::mechanism::Part;
use rearend::setup::{Carrier, Mount, Setup, Side};
use rearend::tape::Units;
use shop::{Bench, Change, Command};

use crate::actions::Act;
use crate::field::length_field;
use crate::theme::{Inks, strong};

/// Draws the card of the selected mount; nothing where none is selected.
pub fn mount_card_ui(ui: &mut Ui, bench: &Bench) -> Vec<Act> {
    let Some((mount, at)) = bench.selected().and_then(|m| Some((m, bench.setup().mount(m)?))) else {
        return Vec::new();
    };
    let mut acts = Vec::new();
    ui.horizontal(|ui| {
        ui.label(strong(capitalised(&bench.setup().mount_name(mount)), 14.0));
        if ui.small_button("close").clicked() {
            acts.push(Act::Do(Command::Select(None)));
        }
    });
    let from = match at.carrier {
        Carrier::Frame => "From the axle line at ride height, the middle of the truck, the underside of the rails:",
        Carrier::Axle => "From the middle of the axle tube:",
    };
    ui.add(egui::Label::new(egui::RichText::new(from).color(Inks::of(ui).soft).size(12.0)).wrap());
    if let Some(to) = coordinates(ui, mount, at.point, bench.units()) {
        acts.push(Act::Do(Command::Apply(Change::MoveMount { mount, to })));
    }
    acts.extend(bar_lines(ui, bench, mount));
    ui.label(
        egui::RichText::new("Arrow keys nudge it; drag it on the stage.")
            .color(Inks::of(ui).soft)
            .size(12.0),
    );
    acts
}

fn coordinates(ui: &mut Ui, mount: Mount, at: Point3<f64>, units: Units) -> Option<Point3<f64>> {
    let names = ["Forward", "Left", "Up"];
    let mut moved = None;
    egui::Grid::new("coordinates").num_columns(2).show(ui, |ui| {
        for (axis, name) in names.into_iter().enumerate() {
            if let Some(typed) = length_field(ui, (mount, axis), name, at[axis], units) {
                let mut to = at;
                to[axis] = typed;
                moved = Some(to);
            }
        }
    });
    moved
}

fn bar_lines(ui: &mut Ui, bench: &Bench, mount: Mount) -> Option<Act> {
    let setup = bench.setup();
    let part = part_of(mount)?;
    let length = bench
        .document()
        .answers()
        .solved
        .as_ref()
        .ok()?
        .rear_end
        .lengths_m()
        .find(|(p, _)| *p == part)?
        .1;
    ui.label(format!(
        "{}: {} centre to centre, cut to suit",
        capitalised(&part.name(setup)),
        bench.units().length(length)
    ));
    let Mount::Bar { bar, .. } = mount else { return None };
    let drawn = setup.bar(bar)?;
    let mut mirrored = drawn.mirrored;
    let off_centre = is_off_centre(setup, mount);
    if !mirrored && !off_centre {
        return None;
    }
    let tip = "Both sides move together. Switched off, they are two bars of their own";
    let clicked = ui
        .checkbox(&mut mirrored, "mirrored on the other side")
        .on_hover_text(tip)
        .changed();
    clicked.then_some(Act::Do(Command::Apply(Change::SetMirrored { bar, mirrored })))
}

fn part_of(mount: Mount) -> Option<Part> {
    match mount {
        Mount::Bar { bar, side, .. } => Some(Part::Bar(bar, side)),
        Mount::Arm { arm, side, .. } => Some(Part::Arm(arm, side)),
        Mount::WattLeft | Mount::WattLeftArm => Some(Part::WattLeft),
        Mount::WattRight | Mount::WattRightArm => Some(Part::WattRight),
        Mount::WattPivot => None,
    }
}

/// A bar on the centre plane has no other side, nor has one that runs across.
fn is_off_centre(setup: &Setup, mount: Mount) -> bool {
    let Mount::Bar { bar, .. } = mount else { return false };
    setup.bar(bar).is_some_and(|b| {
        let (frame, axle) = (Side::Drawn.of(b.mount_in_frame).y, Side::Drawn.of(b.mount_in_axle).y);
        frame * axle > 0.0
    })
}
