//! The card beside the selected mount: its coordinates to type, and its bar.

use egui::Ui;
use nalgebra::Point3;
use rearend::findings::capitalised;
use rearend::mechanism::Part;
use rearend::setup::{Bar, BarEnd, BarId, Bolt, Carrier, Joint, JointKind, Length, Mount, Setup};
use rearend::tape::Units;
use shop::{Bench, Change, Command};

use crate::actions::Act;
use crate::bracket_lines::bracket_lines;
use crate::field::{length_field, number_field};
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
    let is_locked = bench.setup().is_locked(mount);
    let fields = |ui: &mut Ui| coordinates(ui, mount, at.point, bench.units());
    if let Some(to) = ui.add_enabled_ui(!is_locked, fields).inner {
        acts.push(Act::Do(Command::Apply(Change::MoveMount { mount, to })));
    }
    acts.extend(bracket_lines(ui, bench, mount));
    acts.extend(bar_lines(ui, bench, mount));
    let how = how_it_moves(bench.setup(), mount);
    ui.label(egui::RichText::new(how).color(Inks::of(ui).soft).size(12.0));
    acts
}

fn how_it_moves(setup: &Setup, mount: Mount) -> &'static str {
    if setup.is_locked(mount) {
        "It is locked: its coordinates cannot be typed, nor can it be dragged."
    } else if setup.hole_row(mount).is_some() {
        "Arrow keys and dragging take it from hole to hole."
    } else {
        "Arrow keys nudge it; drag it on the stage."
    }
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

fn bar_lines(ui: &mut Ui, bench: &Bench, mount: Mount) -> Vec<Act> {
    let setup = bench.setup();
    let mut acts = Vec::new();
    let Some(part) = part_of(mount) else { return acts };
    ui.separator();
    acts.extend(length_lines(ui, bench, part));
    if let Mount::Bar { bar, end, .. } = mount {
        acts.extend(joint_lines(ui, setup, bar, end));
        acts.extend(mirror_line(ui, setup, bar));
    }
    let what = part.plain_name(setup);
    let tip = "Take it off the truck; Undo puts it back";
    if ui
        .small_button(format!("remove the {what}"))
        .on_hover_text(tip)
        .clicked()
    {
        acts.push(Act::Do(Command::Apply(Change::Remove(part))));
    }
    acts
}

/// How long it is and why: cut to suit, or as built with turns of its adjuster.
fn length_lines(ui: &mut Ui, bench: &Bench, part: Part) -> Vec<Act> {
    let (setup, units) = (bench.setup(), bench.units());
    let Some(length) = setup.length(part) else {
        return Vec::new();
    };
    let answers = bench.document().answers();
    let now_m = answers.solved.as_ref().ok().and_then(|s| s.rear_end.length_m(part));
    let now = now_m
        .or(length.given_m())
        .map_or_else(|| "?".to_owned(), |m| units.length(m));
    let how = if length.given_m().is_some() {
        "as built"
    } else {
        "as drawn"
    };
    ui.label(format!("{}: {now} eye to eye {how}", capitalised(&part.name(setup))));
    let mut next = length;
    let is_built = matches!(length, Length::AsBuilt(_));
    ui.horizontal(|ui| {
        let tip = "Its mounts decide how long it is";
        if ui.radio(!is_built, "cut to suit").on_hover_text(tip).clicked() {
            next = Length::CutToSuit;
        }
        let tip = "It has a length, and the axle goes where it puts it";
        if ui.radio(is_built, "as built").on_hover_text(tip).clicked() && !is_built {
            next = shop::as_built(answers, part).map_or(length, Length::AsBuilt);
        }
    });
    if let Length::AsBuilt(mut bar) = next {
        egui::Grid::new("as built").num_columns(2).show(ui, |ui| {
            if let Some(typed) = length_field(ui, (part, "length"), "Eye to eye as delivered", bar.length_m, units) {
                bar.length_m = typed;
            }
            if let Some(typed) = number_field(ui, (part, "turns"), "Turns, + longer", bar.turns, -60.0..=60.0) {
                bar.turns = typed;
            }
        });
        ui.horizontal(|ui| {
            for (text, by) in [("-1", -1.0), ("-1/4", -0.25), ("+1/4", 0.25), ("+1", 1.0)] {
                if ui.small_button(text).on_hover_text("Turn the adjuster").clicked() {
                    bar.turns = (bar.turns + by).clamp(-60.0, 60.0);
                }
            }
            let per_turn = units.length(bar.adjuster.per_turn_m());
            ui.label(
                egui::RichText::new(format!("{per_turn} a turn"))
                    .color(Inks::of(ui).soft)
                    .size(12.0),
            );
        });
        ui.checkbox(&mut bar.adjuster.both_ends, "left and right-hand thread")
            .on_hover_text("Both ends move: two pitches a turn");
        next = Length::AsBuilt(bar);
    }
    let change = Change::SetLength { part, length: next };
    if next == length {
        Vec::new()
    } else {
        vec![Act::Do(Command::Apply(change))]
    }
}

fn joint_lines(ui: &mut Ui, setup: &Setup, bar: BarId, end: BarEnd) -> Option<Act> {
    let before = setup.bar(bar)?.joint(end);
    let mut joint = before;
    egui::ComboBox::from_id_salt((bar, end, "kind"))
        .selected_text(joint.kind.name())
        .width(150.0)
        .show_ui(ui, |ui| {
            for kind in JointKind::ALL {
                if ui.selectable_label(joint.kind == kind, kind.name()).clicked() {
                    joint = Joint {
                        bolt: joint.bolt,
                        ..Joint::of(kind)
                    };
                }
            }
        });
    egui::ComboBox::from_id_salt((bar, end, "bolt"))
        .selected_text(joint.bolt.name())
        .width(190.0)
        .show_ui(ui, |ui| {
            for bolt in Bolt::ALL {
                ui.selectable_value(&mut joint.bolt, bolt, bolt.name());
            }
        });
    (joint != before).then_some(Act::Do(Command::Apply(Change::SetJoint { bar, end, joint })))
}

fn mirror_line(ui: &mut Ui, setup: &Setup, bar: BarId) -> Option<Act> {
    let drawn = setup.bar(bar)?;
    let mut mirrored = drawn.mirrored;
    if !mirrored && !is_off_centre(drawn) {
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
fn is_off_centre(bar: &Bar) -> bool {
    bar.mount_in_frame.y * bar.mount_in_axle.y > 0.0
}
