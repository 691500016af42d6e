//! The tape sheet: the truck's measurements in the order a person takes them, with a picture of where the tape goes.

use egui::{Id, RichText, Sense, Ui, Vec2};
use rearend::measure::{self, Described, Measure, SHEET, Section};
use rearend::setup::Setup;
use rearend::tape::Units;
use shop::{Bench, Change, Command};

use crate::actions::{Act, Action};
use crate::field::{go_on_to, measured_field};
use crate::tape_extras;
use crate::tape_sketch::tape_sketch_ui;
use crate::theme::{Inks, strong};

/// Draws the sheet over the whole of `ui`.
pub fn tape_sheet_ui(ui: &mut Ui, bench: &Bench) -> Vec<Act> {
    let mut acts = Vec::new();
    let setup = bench.setup();
    ui.horizontal(|ui| {
        ui.label(strong("Tape sheet", 16.0));
        let (taken, all) = measure::first_taken(setup);
        let told = if taken < all {
            format!("{taken} of the first {all} taken")
        } else {
            "the first ten are taken: drag and see".to_owned()
        };
        ui.label(RichText::new(told).color(Inks::of(ui).soft));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let next = ui.button(Action::Layouts.text()).on_hover_text(Action::Layouts.tip());
            if next.clicked() {
                acts.push(Act::Choose(Action::Layouts));
            }
        });
    });
    picture(ui, bench);
    egui::ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        for (place, section) in SHEET.iter().enumerate() {
            acts.extend(section_ui(ui, bench, section, place == 0));
        }
        acts.extend(tape_extras::in_the_way_ui(ui, bench));
    });
    acts
}

/// Which measure the picture shows: the last that had the pointer or the keyboard.
fn shown_id() -> Id {
    Id::new("tape sheet, shown measure")
}

fn picture(ui: &mut Ui, bench: &Bench) {
    let key = ui.data(|d| d.get_temp::<&'static str>(shown_id()));
    let Some(measure) = key.and_then(Measure::by_key).or_else(|| measure::all().next()) else {
        return;
    };
    let size = Vec2::new(ui.available_width(), 140.0);
    let (area, response) = ui.allocate_exact_size(size, Sense::hover());
    tape_sketch_ui(ui, area, bench.setup(), measure, bench.units());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Image, true, measure.how));
    // Room for the longest, so that what is below stays where it is.
    let how = RichText::new(measure.how).size(12.5);
    ui.allocate_ui(Vec2::new(ui.available_width(), 36.0), |ui| {
        ui.set_min_height(36.0);
        ui.add(egui::Label::new(how).wrap());
    });
    ui.separator();
}

fn section_ui(ui: &mut Ui, bench: &Bench, section: &Section, open: bool) -> Vec<Act> {
    let mut acts = Vec::new();
    let setup = bench.setup();
    egui::CollapsingHeader::new(strong(section.title, 14.0))
        .id_salt(section.title)
        .default_open(open)
        .show(ui, |ui| {
            for part in parts(section) {
                acts.extend(tick(ui, setup, part));
            }
            if section.needs.is_some_and(|part| !part.is_in(setup)) {
                return;
            }
            if section.measures.iter().any(|m| m.key == "tyre") {
                acts.extend(tape_extras::tyre_size_ui(ui, bench));
            }
            acts.extend(measures_ui(ui, setup, section, bench.units()));
            if section.needs == Some(Described::Springs) {
                acts.extend(tape_extras::springs_ui(ui, bench));
            }
        });
    acts
}

/// What is there or not, within a section.
fn parts(section: &Section) -> impl Iterator<Item = Described> {
    let of_frame = section.title == "Frame";
    let needs = section.needs;
    Described::ALL.into_iter().filter(move |part| match part {
        Described::KickUp | Described::Notch => of_frame,
        _ => needs.is_some() && (Some(*part) == needs || part.needs() == needs),
    })
}

fn tick(ui: &mut Ui, setup: &Setup, part: Described) -> Option<Act> {
    if part.needs().is_some_and(|whole| !whole.is_in(setup)) {
        return None;
    }
    let mut there = part.is_in(setup);
    let ticked = ui.checkbox(&mut there, part.label()).changed();
    ticked.then_some(Act::Do(Command::Apply(Change::Describe(part, there))))
}

fn measures_ui(ui: &mut Ui, setup: &Setup, section: &Section, units: Units) -> Vec<Act> {
    let mut acts = Vec::new();
    egui::Grid::new(section.title)
        .num_columns(4)
        .spacing([6.0, 4.0])
        .show(ui, |ui| {
            let shown = || section.measures.iter().filter(|m| m.value(setup).is_some());
            for (place, measure) in shown().enumerate() {
                let Some(value) = measure.value(setup) else { continue };
                let taken = measure.is_taken(setup);
                let mut accepted = false;
                let (entered, attended) =
                    measured_field(ui, measure.key, measure.name, (measure.dimension, units), value, |ui| {
                        accepted = mark(ui, measure, taken);
                    });
                if attended {
                    ui.data_mut(|d| d.insert_temp(shown_id(), measure.key));
                }
                if entered.is_some()
                    && let Some(next) = shown().nth(place + 1)
                {
                    go_on_to(ui, next.key);
                }
                if let Some(value) = entered.or(accepted.then_some(value)) {
                    acts.push(Act::Do(Command::Apply(Change::Measure(measure, value))));
                }
            }
        });
    acts
}

/// Whether the measure was taken; where not, a button that takes the assumed value as it stands.
fn mark(ui: &mut Ui, measure: &Measure, taken: bool) -> bool {
    if taken {
        ui.label("✓").on_hover_text("Taken");
        return false;
    }
    let assumed = egui::Button::new(RichText::new("assumed").size(11.5).color(Inks::of(ui).soft)).small();
    let button = ui
        .add(assumed)
        .on_hover_text("Nobody has measured this yet. Click where it is right as it stands");
    button
        .widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Button, true, format!("Accept {}", measure.name)));
    button.clicked()
}
