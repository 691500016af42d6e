//! What is written about the setup, in the parts drawer.

use egui::accesskit::Role as Kind;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;
use panels::parts_drawer_ui;
use rearend::setup::{BarEnd, Setup};
use shop::{Bench, Command};

use crate::support::{Window, bench, commands, key, mount, says, settle, window, write};

fn drawer(bench: Bench) -> Window {
    window(bench, vec2(420.0, 3000.0), parts_drawer_ui)
}

/// The box of the note.
#[track_caller]
fn note(window: &Window) -> egui_kittest::Node<'_> {
    window.get_by_role_and_label(Kind::MultilineTextInput, "Note")
}

fn setup(window: &Window) -> &Setup {
    window.state().bench.setup()
}

#[track_caller]
fn enter(window: &mut Window, label: &str, text: &str) {
    write(window, label, text);
    key(window, Key::Enter);
}

#[track_caller]
fn write_note(window: &mut Window, text: &str) {
    note(window).focus();
    settle(window);
    note(window).type_text(text);
    settle(window);
}

#[test]
fn the_note_is_entered_once_its_box_is_left() {
    let mut window = drawer(bench(0));
    note(&window).focus();
    settle(&mut window);
    window.key_press_modifiers(Modifiers::COMMAND, Key::A);
    settle(&mut window);
    note(&window).type_text("Left side");
    settle(&mut window);
    key(&mut window, Key::Enter);
    note(&window).type_text("measured twice");
    settle(&mut window);
    assert_eq!(commands(&mut window), [], "nothing happens while it is written");
    key(&mut window, Key::Tab);
    assert_eq!(setup(&window).note, "Left side\nmeasured twice");
    assert_eq!(window.state().bench.document().undo_name(), Some("change the note"));
    window.state_mut().bench.run(Command::Undo);
    settle(&mut window);
    assert_eq!(setup(&window), bench(0).setup());
    assert_eq!(note(&window).value().unwrap_or_default(), bench(0).setup().note);
}

#[test]
fn esc_drops_what_was_written_of_a_note() {
    let mut window = drawer(bench(0));
    note(&window).focus();
    settle(&mut window);
    note(&window).type_text("never mind");
    settle(&mut window);
    key(&mut window, Key::Escape);
    assert_eq!(commands(&mut window), []);
    assert_eq!(setup(&window), bench(0).setup());
    let shown = note(&window).value();
    assert_eq!(shown.unwrap_or_default(), bench(0).setup().note);
}

#[test]
fn a_note_as_long_as_a_book_is_explained_and_kept_to_be_put_right() {
    let mut window = drawer(bench(0));
    let long = "x".repeat(10_001 - bench(0).setup().note.chars().count());
    note(&window).focus();
    settle(&mut window);
    note(&window).type_text(&long);
    settle(&mut window);
    key(&mut window, Key::Tab);
    let sentence = "the note is 10001 letters long; up to 10000 are kept";
    assert!(window.query_by_label_contains(sentence).is_some());
    assert_eq!(commands(&mut window), []);
    assert_eq!(setup(&window), bench(0).setup());
}

#[test]
fn the_setup_is_renamed() {
    let mut window = drawer(bench(0));
    enter(&mut window, "Name of the setup", "Tuesday");
    assert_eq!(setup(&window).name, "Tuesday");
    enter(&mut window, "Name of the setup", " ");
    assert!(says(&window, "a name is expected"));
    assert_eq!(setup(&window).name, "Tuesday");
}

/// A drawer that is put away while its note is written has not lost it; on another setup it is no note.
#[test]
fn what_was_begun_is_entered_when_the_drawer_comes_back_and_never_on_another_setup() {
    for another in [false, true] {
        // A selected mount stands for whatever takes the drawer's place.
        let mut window = window(bench(0), vec2(420.0, 3000.0), |ui, bench| {
            let is_open = bench.selected().is_none();
            if is_open {
                parts_drawer_ui(ui, bench)
            } else {
                Vec::new()
            }
        });
        write_note(&mut window, "begun ");
        let away = mount(0, BarEnd::Frame);
        window.state_mut().bench.run(Command::Select(Some(away)));
        settle(&mut window);
        if another {
            window.state_mut().bench.run(Command::OpenDemo(0));
            settle(&mut window);
        }
        window.state_mut().bench.run(Command::Select(None));
        settle(&mut window);
        assert_eq!(setup(&window).note.contains("begun "), !another);
    }
}
