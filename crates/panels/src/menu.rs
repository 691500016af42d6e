//! The menu bar.

use std::path::PathBuf;

use egui::containers::menu::{MenuButton, MenuConfig};
use egui::{Button, PopupCloseBehavior, Ui};
use rearend::findings::capitalised;
use rearend::setup::Role;
use rearend::tape::Units;
use shop::{Bench, Change, Command, demo};

use crate::actions::{Act, Action};
use crate::field::text_field;
use crate::theme::{Inks, strong};

/// What the menu shows besides the bench.
pub struct MenuView<'a> {
    /// Whether an entry that is on or off is on.
    pub is_on: &'a dyn Fn(Action) -> bool,
    /// Names of the levels of detail.
    pub qualities: &'a [&'static str],
    /// Which is in force.
    pub quality: usize,
    /// Files that were opened or saved last.
    pub recent: &'a [PathBuf],
    /// What is being made beside the window, and how far it is.
    pub making: Option<&'a str>,
}

/// Draws the menu bar with the setup's name, whether it is saved, and the units.
pub fn menu_ui(ui: &mut Ui, bench: &Bench, view: &MenuView) -> Vec<Act> {
    let mut acts = Vec::new();
    egui::MenuBar::new().ui(ui, |ui| {
        ui.menu_button("File", |ui| file_menu(ui, view, &mut acts));
        ui.menu_button("Edit", |ui| edit_menu(ui, bench, &mut acts));
        ui.menu_button("Truck", |ui| truck_menu(ui, view, &mut acts));
        ui.menu_button("View", |ui| view_menu(ui, view, &mut acts));
        ui.menu_button("Output", |ui| output_menu(ui, view, &mut acts));
        ui.menu_button("Help", |ui| {
            entry(ui, Action::Guide, view, &mut acts);
            entry(ui, Action::Keys, view, &mut acts);
            entry(ui, Action::Cautions, view, &mut acts);
        });
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            units_menu(ui, bench.units(), &mut acts);
            title(ui, bench, &mut acts);
            if let Some(making) = view.making {
                if ui.small_button("Call it off").clicked() {
                    acts.push(Act::CallOff);
                }
                ui.label(egui::RichText::new(making).color(Inks::of(ui).now));
            }
        });
    });
    acts
}

/// What the setup is called, to click and call otherwise, and whether it is saved.
fn title(ui: &mut Ui, bench: &Bench, acts: &mut Vec<Act>) {
    let document = bench.document();
    let state = match (document.is_unsaved(), &document.path) {
        (true, _) => "not saved".to_owned(),
        (false, Some(path)) => path
            .file_name()
            .map_or_else(|| "saved".to_owned(), |n| n.to_string_lossy().into_owned()),
        (false, None) => "in no file yet".to_owned(),
    };
    ui.label(egui::RichText::new(state).color(Inks::of(ui).soft));
    let name = &bench.setup().name;
    let (open, _) = MenuButton::new(strong(name, 14.0))
        .config(MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside))
        .ui(ui, |ui| {
            let read = |text: &str| shop::usable_name(text).map_err(|e| e.to_string());
            let typed = text_field(ui, "name in the title", "Call it", name, read);
            if let Some(name) = typed.filter(|typed| typed != name) {
                acts.push(Act::Do(Command::Apply(Change::Rename(name))));
                ui.close();
            }
        });
    open.on_hover_text("Call the setup something else");
}

fn units_menu(ui: &mut Ui, units: Units, acts: &mut Vec<Act>) {
    ui.menu_button(units.label(), |ui| {
        for choice in Units::ALL {
            if ui.radio(choice == units, choice.label()).clicked() {
                acts.push(Act::Do(Command::SetUnits(choice)));
                ui.close();
            }
        }
    })
    .response
    .on_hover_text("How lengths are shown, and what a bare number means");
}

fn file_menu(ui: &mut Ui, view: &MenuView, acts: &mut Vec<Act>) {
    entry(ui, Action::New, view, acts);
    entry(ui, Action::Open, view, acts);
    ui.add_enabled_ui(!view.recent.is_empty(), |ui| {
        ui.menu_button("Opened lately", |ui| {
            for path in view.recent {
                let name = path.file_name().unwrap_or(path.as_os_str());
                let file = ui.button(name.to_string_lossy());
                if file.on_hover_text(path.display().to_string()).clicked() {
                    acts.push(Act::Do(Command::Open(path.clone())));
                    ui.close();
                }
            }
        });
    });
    ui.menu_button("Demo trucks", |ui| {
        for (which, demo) in demo::ALL.iter().enumerate() {
            if ui.button(demo.title).clicked() {
                acts.push(Act::Do(Command::OpenDemo(which)));
                ui.close();
            }
        }
    });
    ui.separator();
    entry(ui, Action::Save, view, acts);
    entry(ui, Action::SaveAs, view, acts);
    entry(ui, Action::Copy, view, acts);
    ui.separator();
    entry(ui, Action::Quit, view, acts);
}

fn edit_menu(ui: &mut Ui, bench: &Bench, acts: &mut Vec<Act>) {
    let document = bench.document();
    for (action, step) in [
        (Action::Undo, document.undo_name()),
        (Action::Redo, document.redo_name()),
    ] {
        let text = step.map_or_else(|| action.text().to_owned(), |name| format!("{}: {name}", action.text()));
        if ui
            .add_enabled(step.is_some(), button(ui, &text, action))
            .on_hover_text(action.tip())
            .clicked()
        {
            acts.push(Act::Choose(action));
            ui.close();
        }
    }
    ui.add_enabled_ui(document.undo_names().len() + document.redo_names().len() > 0, |ui| {
        ui.menu_button("All steps", |ui| history(ui, bench, acts));
    });
}

/// Every step, the first one at the top; choosing one goes to where it has just been done.
fn history(ui: &mut Ui, bench: &Bench, acts: &mut Vec<Act>) {
    let document = bench.document();
    let undone = document
        .redo_names()
        .enumerate()
        .map(|(i, name)| (name, Command::RedoSteps(i + 1), false));
    let done = document
        .undo_names()
        .enumerate()
        .map(|(i, name)| (name, Command::UndoSteps(i), i == 0));
    let mut steps: Vec<_> = done.collect();
    steps.reverse();
    steps.extend(undone);
    egui::ScrollArea::vertical()
        .max_height(420.0)
        .stick_to_bottom(true)
        .show(ui, |ui| {
            let is_start = document.undo_names().len() == 0;
            if ui.add(Button::new("as it began").selected(is_start)).clicked() {
                acts.push(Act::Do(Command::UndoSteps(document.undo_names().len())));
                ui.close();
            }
            for (place, (name, command, is_now)) in steps.into_iter().enumerate() {
                let text = format!("{}. {name}", place + 1);
                if ui.add(Button::new(text).selected(is_now)).clicked() {
                    acts.push(Act::Do(command));
                    ui.close();
                }
            }
        });
}

fn output_menu(ui: &mut Ui, view: &MenuView, acts: &mut Vec<Act>) {
    let groups: [&[Action]; 3] = [
        &[
            Action::Picture,
            Action::PictureOfHeights,
            Action::PictureBeside,
            Action::CopyPicture,
        ],
        &[
            Action::Sheet,
            Action::Brackets,
            Action::TravelTable,
            Action::CompareTable,
        ],
        &[Action::PictureMeasures, Action::Shop],
    ];
    for (place, group) in groups.into_iter().enumerate() {
        if place > 0 {
            ui.separator();
        }
        for action in group {
            entry(ui, *action, view, acts);
        }
    }
}

fn truck_menu(ui: &mut Ui, view: &MenuView, acts: &mut Vec<Act>) {
    entry(ui, Action::TapeSheet, view, acts);
    entry(ui, Action::Layouts, view, acts);
    entry(ui, Action::Parts, view, acts);
    entry(ui, Action::Beside, view, acts);
    entry(ui, Action::OpenBeside, view, acts);
    entry(ui, Action::Truck, view, acts);
    entry(ui, Action::AsBuilt, view, acts);
    ui.separator();
    ui.menu_button("Add a bar", |ui| {
        for role in Role::ALL {
            if ui.button(capitalised(role.bar())).clicked() {
                acts.push(Act::Do(Command::Apply(Change::AddBar(role))));
                ui.close();
            }
        }
    });
}

fn view_menu(ui: &mut Ui, view: &MenuView, acts: &mut Vec<Act>) {
    for action in [Action::Rear, Action::Side, Action::Top, Action::Corner, Action::Fit] {
        entry(ui, action, view, acts);
    }
    ui.separator();
    for action in [
        Action::Perspective,
        Action::Measure,
        Action::Dimensions,
        Action::Ghosts,
        Action::Wheels,
        Action::Body,
        Action::Path,
        Action::Centres,
        Action::Swim,
        Action::Play,
    ] {
        entry(ui, action, view, acts);
    }
    ui.separator();
    for action in [Action::Theme, Action::Larger, Action::Smaller] {
        entry(ui, action, view, acts);
    }
    ui.menu_button("Detail", |ui| {
        for (which, name) in view.qualities.iter().enumerate() {
            if ui.radio(which == view.quality, *name).clicked() {
                acts.push(Act::Quality(which));
                ui.close();
            }
        }
    });
}

fn button(ui: &Ui, text: &str, action: Action) -> Button<'static> {
    let key = action
        .shortcut()
        .map_or_else(String::new, |s| ui.ctx().format_shortcut(&s));
    Button::new(text.to_owned()).shortcut_text(key)
}

fn entry(ui: &mut Ui, action: Action, view: &MenuView, acts: &mut Vec<Act>) {
    let is_on = action.is_switch() && (view.is_on)(action);
    let add = button(ui, action.text(), action).selected(is_on);
    if ui.add(add).on_hover_text(action.tip()).clicked() {
        acts.push(Act::Choose(action));
        ui.close();
    }
}
