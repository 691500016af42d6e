//! The tape sheet: the truck's measurements in the order a person takes them, with a picture of where the tape goes.

use std::sync::LazyLock;

use egui::{Align, Id, Layout, Rect, RichText, Sense, Ui, UiBuilder, Vec2};
use rearend::measure::{self, Described, Measure, SHEET, Section};
use rearend::setup::Setup;
use rearend::tape::Units;
use shop::{Bench, Change, Command, demo};

use crate::actions::{Act, Action};
use crate::field::{Takes, drop_drafts, go_on_to, measured_line};
use crate::tape_extras;
use crate::tape_sketch::tape_sketch_ui;
use crate::theme::{Inks, strong};

/// Draws the sheet over the whole of `ui`. A truck of one's own that has just been begun opens it on the first ten, with the keyboard in
/// the first box.
pub fn tape_sheet_ui(ui: &mut Ui, bench: &Bench) -> Vec<Act> {
    let begins = begins(ui, bench);
    if begins {
        drop_drafts(ui);
        ui.data_mut(|d| d.remove::<&'static str>(shown_id()));
    }
    // What is on the sheet has the sheet's width, never the other way round.
    let place = ui.available_rect_before_wrap();
    let mut sheet = ui.new_child(UiBuilder::new().max_rect(place));
    sheet.shrink_clip_rect(Rect::everything_right_of(place.left() - 4.0));
    sheet.shrink_clip_rect(Rect::everything_left_of(place.right() + 4.0));
    let acts = whole_ui(&mut sheet, bench, begins);
    ui.allocate_rect(place, Sense::hover());
    acts
}

fn whole_ui(ui: &mut Ui, bench: &Bench, begins: bool) -> Vec<Act> {
    let mut acts = head_ui(ui, bench.setup());
    picture(ui, bench);
    let mut area = egui::ScrollArea::vertical().auto_shrink(false);
    if begins {
        area = area.vertical_scroll_offset(0.0);
    }
    area.show(ui, |ui| {
        for (place, section) in SHEET.iter().enumerate() {
            let first = place == 0;
            acts.extend(section_ui(ui, bench, section, (first, begins.then_some(first))));
        }
        acts.extend(tape_extras::in_the_way_ui(ui, bench, begins.then_some(false)));
    });
    if begins && let Some(first) = measure::all().next() {
        go_on_to(ui, first.key);
    }
    acts
}

/// What a truck of one's own begins as.
static NEW_TRUCK: LazyLock<Option<Setup>> = LazyLock::new(|| demo::new_truck().ok());

/// True once for every truck of one's own that is begun.
fn begins(ui: &Ui, bench: &Bench) -> bool {
    let document = bench.document();
    let (id, revision) = (Id::new("tape sheet, revision drawn last"), document.revision());
    let before = ui.data(|d| d.get_temp::<u64>(id));
    if before == Some(revision) {
        return false;
    }
    ui.data_mut(|d| d.insert_temp(id, revision));
    let is_untouched = document.undo_name().is_none() && document.redo_name().is_none();
    is_untouched && NEW_TRUCK.as_ref() == Some(bench.setup())
}

/// The title, how far it is, and the way on.
fn head_ui(ui: &mut Ui, setup: &Setup) -> Vec<Act> {
    let mut acts = Vec::new();
    ui.horizontal(|ui| {
        ui.label(strong("Tape sheet", 16.0));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let next = ui.button(Action::Layouts.text()).on_hover_text(Action::Layouts.tip());
            if next.clicked() {
                acts.push(Act::Choose(Action::Layouts));
            }
        });
    });
    let (taken, all) = measure::first_taken(setup);
    let told = if taken < all {
        format!("{taken} of the first {all} taken")
    } else {
        "the first ten are taken: drag and see".to_owned()
    };
    ui.label(RichText::new(told).color(Inks::of(ui).soft));
    acts
}

/// Which measure the picture shows: the last that had the pointer or the keyboard.
fn shown_id() -> Id {
    Id::new("tape sheet, shown measure")
}

/// Size of the words below the picture.
const HOW: f32 = 12.5;

fn picture(ui: &mut Ui, bench: &Bench) {
    let key = ui.data(|d| d.get_temp::<&'static str>(shown_id()));
    let Some(measure) = key.and_then(Measure::by_key).or_else(|| measure::all().next()) else {
        return;
    };
    let wide = ui.available_width();
    let (area, response) = ui.allocate_exact_size(Vec2::new(wide, 140.0), Sense::hover());
    tape_sketch_ui(ui, area, bench.setup(), measure, bench.units());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Image, true, measure.how));
    // Room for the longest, so that what is below stays where it is.
    let high = how_high(ui, wide);
    ui.allocate_ui(Vec2::new(wide, high), |ui| {
        ui.set_min_height(high);
        ui.add(egui::Label::new(RichText::new(measure.how).size(HOW)).wrap());
    });
    ui.separator();
}

/// Height of the longest words that can stand below the picture.
fn how_high(ui: &Ui, wide: f32) -> f32 {
    let font = egui::FontId::proportional(HOW);
    let ink = Inks::of(ui).ink;
    let high = |m: &Measure| {
        let words = m.how.to_owned();
        ui.fonts_mut(|f| f.layout(words, font.clone(), ink, wide)).size().y
    };
    measure::all().map(high).fold(36.0, f32::max).ceil()
}

/// A part of the sheet. It is open to begin with or not, and now and then opened or closed.
fn section_ui(ui: &mut Ui, bench: &Bench, section: &Section, (open, opened): (bool, Option<bool>)) -> Vec<Act> {
    let mut acts = Vec::new();
    let setup = bench.setup();
    egui::CollapsingHeader::new(strong(section.title, 14.0))
        .id_salt(section.title)
        .default_open(open)
        .open(opened)
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
    let shown = || section.measures.iter().filter(|m| m.value(setup).is_some());
    for (place, measure) in shown().enumerate() {
        let Some(value) = measure.value(setup) else { continue };
        let taken = measure.is_taken(setup);
        let takes = Takes {
            dimension: measure.dimension,
            units,
            ways: measure.ways(),
            range: measure.range(),
        };
        let mut accepted = false;
        let (entered, attended) = measured_line(ui, measure.key, measure.name, takes, value, |ui| {
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
