//! The parts drawer: every bar, every arm and the Watt's linkage, to add, change and take away, the steel they are built with, and what is
//! noted of the setup.

use egui::{Id, RichText, TextEdit, Ui};
use rearend::findings::{Grade, capitalised};
use rearend::mechanism::Part;
use rearend::setup::{ArmId, BarId, Role, Setup, Side};
use shop::{Bench, Change, Command};

use crate::actions::Act;
use crate::field::text_field;
use crate::part_figures::header_text;
use crate::part_section::part_body;
use crate::steel_section::steel_ui;
use crate::theme::{Inks, strong};

/// Draws the drawer over the whole of `ui`.
pub fn parts_drawer_ui(ui: &mut Ui, bench: &Bench) -> Vec<Act> {
    ui.label(strong("Parts", 16.0));
    let mut acts = add_buttons(ui, bench);
    ui.separator();
    egui::ScrollArea::vertical()
        .id_salt("parts drawer")
        .auto_shrink(false)
        .show(ui, |ui| {
            let parts = parts_of(bench.setup());
            if parts.is_empty() {
                let told = "Nothing holds the axle yet: add a bar.";
                ui.label(RichText::new(told).color(Inks::of(ui).soft));
            }
            for part in parts {
                acts.extend(section(ui, bench, part));
            }
            ui.separator();
            acts.extend(steel_ui(ui, bench));
            ui.separator();
            acts.extend(setup_name(ui, bench));
            acts.extend(note_ui(ui, bench));
        });
    acts
}

/// Every part once: a pair by the one that is drawn, a Watt's linkage by its left link.
fn parts_of(setup: &Setup) -> Vec<Part> {
    let bars = (0..setup.bars.len()).map(|i| Part::Bar(BarId(i), Side::Drawn));
    let arms = (0..setup.arms.len()).map(|i| Part::Arm(ArmId(i), Side::Drawn));
    let watt = setup.watt.iter().map(|_| Part::WattLeft);
    bars.chain(arms).chain(watt).collect()
}

fn add_buttons(ui: &mut Ui, bench: &Bench) -> Vec<Act> {
    let mut acts = Vec::new();
    ui.horizontal_wrapped(|ui| {
        for role in Role::ALL {
            let text = format!("Add {}", role.a_bar());
            let tip = "It comes where there is room for it; drag it from there";
            if ui.button(text).on_hover_text(tip).clicked() {
                unfold(ui, BarId(bench.setup().bars.len()));
                acts.push(Act::Do(Command::Apply(Change::AddBar(role))));
            }
        }
    });
    acts
}

/// Where the drawer keeps which part unfolds by itself the next time that it is drawn.
fn unfolding_id() -> Id {
    Id::new("parts drawer, unfolding part")
}

/// Whoever adds a bar wants to see what is in it.
pub(crate) fn unfold(ui: &Ui, bar: BarId) {
    ui.data_mut(|d| d.insert_temp(unfolding_id(), Part::Bar(bar, Side::Drawn)));
}

fn section(ui: &mut Ui, bench: &Bench, part: Part) -> Vec<Act> {
    let unfolds = ui.data(|d| d.get_temp::<Part>(unfolding_id())) == Some(part);
    if unfolds {
        ui.data_mut(|d| d.remove::<Part>(unfolding_id()));
    }
    // Kept by its place and not by its name, so that it stays open while it is renamed.
    let body = egui::CollapsingHeader::new(strong(capitalised(&header_text(bench, part)), 14.0))
        .id_salt(("part", part))
        .open(unfolds.then_some(true))
        .show(ui, |ui| part_body(ui, bench, part));
    body.body_returned.unwrap_or_default()
}

fn setup_name(ui: &mut Ui, bench: &Bench) -> Option<Act> {
    let read = |text: &str| shop::usable_name(text).map_err(|e| e.to_string());
    let typed = egui::Grid::new("name of the setup").num_columns(2).show(ui, |ui| {
        text_field(ui, "name of the setup", "Name of the setup", &bench.setup().name, read)
    });
    let name = typed.inner.filter(|name| *name != bench.setup().name)?;
    Some(Act::Do(Command::Apply(Change::Rename(name))))
}

/// A note that is being written, and of which setup.
#[derive(Clone)]
struct NoteDraft {
    text: String,
    revision: u64,
    complaint: Option<String>,
}

/// The note of the setup, entered once the box is left; Esc drops what was written, as in every other box.
fn note_ui(ui: &mut Ui, bench: &Bench) -> Option<Act> {
    let id = Id::new("note of the setup");
    let (note, revision) = (&bench.setup().note, bench.document().revision());
    let has_keyboard = ui.memory(|m| m.has_focus(id));
    // What was begun on a setup that is not there any more is no note of this one.
    let is_current = |draft: &NoteDraft| has_keyboard || draft.revision == revision;
    let draft = ui.data(|d| d.get_temp::<NoteDraft>(id)).filter(is_current);
    let mut text = draft.as_ref().map_or_else(|| note.clone(), |d| d.text.clone());
    let named = ui.label("Note");
    let edit = ui
        .add(
            TextEdit::multiline(&mut text)
                .id(id)
                .desired_rows(4)
                .desired_width(f32::INFINITY),
        )
        .labelled_by(named.id);
    let complaint = draft.as_ref().and_then(|d| d.complaint.clone());
    if let Some(complaint) = complaint.filter(|_| !edit.changed()) {
        let (mark, colour) = Inks::grade(ui, Grade::WontWork);
        ui.colored_label(colour, format!("{mark} {complaint}"));
    }
    let drop_draft = |ui: &Ui| ui.data_mut(|d| d.remove::<NoteDraft>(id));
    let keep = |ui: &Ui, complaint| {
        let text = text.clone();
        ui.data_mut(|d| {
            d.insert_temp(
                id,
                NoteDraft {
                    text,
                    revision,
                    complaint,
                },
            );
        });
    };
    if edit.has_focus() {
        if edit.changed() || draft.is_some() {
            keep(ui, draft.and_then(|d| d.complaint).filter(|_| !edit.changed()));
        }
        return None;
    }
    if text == *note || (edit.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Escape))) {
        drop_draft(ui);
        return None;
    }
    match shop::usable_note(&text) {
        Ok(text) => {
            drop_draft(ui);
            Some(Act::Do(Command::Apply(Change::SetNote(text))))
        }
        Err(error) => {
            keep(ui, Some(error.to_string()));
            None
        }
    }
}
