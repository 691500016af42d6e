//! Keys.

use egui::accesskit::Role;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;
use panels::{Act, Action, shortcuts};

use crate::support::{CTRL, Window, acts, bench, settle, window, written};

/// A box to type into, with the keys read before it as the program does.
fn keyboard() -> Window {
    let mut text = String::new();
    window(bench(0), vec2(300.0, 200.0), move |ui, _| {
        let acts = shortcuts(ui.ctx());
        let label = ui.label("Note");
        ui.text_edit_singleline(&mut text).labelled_by(label.id);
        acts
    })
}

/// What a keyboard sends for a shortcut.
fn pressed(modifiers: Modifiers) -> Modifiers {
    Modifiers {
        ctrl: modifiers.command,
        ..modifiers
    }
}

fn after(window: &mut Window, modifiers: Modifiers, key: Key) -> Vec<Act> {
    window.key_press_modifiers(modifiers, key);
    settle(window);
    acts(window)
}

fn type_into_note(window: &mut Window) {
    window.get_by_role_and_label(Role::TextInput, "Note").focus();
    settle(window);
}

#[test]
fn the_usual_chords_do_the_usual_things() {
    let ctrl_shift = CTRL.plus(Modifiers::SHIFT);
    let usual = [
        (CTRL, Key::Z, Action::Undo),
        (CTRL, Key::Y, Action::Redo),
        (CTRL, Key::O, Action::Open),
        (CTRL, Key::S, Action::Save),
        (ctrl_shift, Key::S, Action::SaveAs),
        (CTRL, Key::Q, Action::Quit),
        (Modifiers::NONE, Key::F1, Action::Keys),
        (Modifiers::NONE, Key::Space, Action::Play),
    ];
    let mut window = keyboard();
    for (modifiers, key, action) in usual {
        assert_eq!(
            after(&mut window, modifiers, key),
            [Act::Choose(action)],
            "{modifiers:?} {key:?}"
        );
    }
}

#[test]
fn every_key_gives_its_action_once_and_no_other() {
    let mut window = keyboard();
    for action in Action::ALL {
        let Some(shortcut) = action.shortcut() else { continue };
        let given = after(&mut window, pressed(shortcut.modifiers), shortcut.logical_key);
        assert_eq!(given, [Act::Choose(action)], "{shortcut:?}");
    }
}

#[test]
fn a_key_without_its_ctrl_is_another_key() {
    let mut window = keyboard();
    assert_eq!(after(&mut window, Modifiers::NONE, Key::Z), []);
    assert_eq!(
        after(&mut window, Modifiers::NONE, Key::S),
        [Act::Choose(Action::Beside)]
    );
    assert_eq!(
        after(&mut window, Modifiers::NONE, Key::P),
        [Act::Choose(Action::Perspective)]
    );
    assert_eq!(after(&mut window, CTRL, Key::P), [Act::Choose(Action::Picture)]);
    assert_eq!(after(&mut window, CTRL, Key::G), [], "the plain key is not the chord");
}

/// On some keyboards plus needs Shift, on others it is the equals sign without.
#[test]
fn words_grow_however_plus_is_reached() {
    let mut window = keyboard();
    let ctrl_shift = CTRL.plus(Modifiers::SHIFT);
    for (modifiers, key) in [
        (CTRL, Key::Plus),
        (ctrl_shift, Key::Plus),
        (CTRL, Key::Equals),
        (ctrl_shift, Key::Equals),
    ] {
        assert_eq!(
            after(&mut window, modifiers, key),
            [Act::Choose(Action::Larger)],
            "{modifiers:?} {key:?}"
        );
    }
}

#[test]
fn plain_keys_do_nothing_while_text_is_typed() {
    let mut window = keyboard();
    type_into_note(&mut window);
    for action in Action::ALL {
        let Some(shortcut) = action.shortcut() else { continue };
        let given = after(&mut window, pressed(shortcut.modifiers), shortcut.logical_key);
        // Undo and redo are the text's own then.
        let of_the_text = matches!(action, Action::Undo | Action::Redo);
        let works = (shortcut.modifiers.command && !of_the_text) || matches!(shortcut.logical_key, Key::F1 | Key::F2);
        assert_eq!(
            given,
            if works { vec![Act::Choose(action)] } else { vec![] },
            "{shortcut:?}"
        );
        type_into_note(&mut window);
    }
    window.get_by_role_and_label(Role::TextInput, "Note").type_text("19 w");
    settle(&mut window);
    assert_eq!(written(&window, "Note"), "19 w");
}

#[test]
fn plain_keys_work_again_once_the_box_is_left() {
    let mut window = keyboard();
    type_into_note(&mut window);
    assert_eq!(after(&mut window, Modifiers::NONE, Key::Num2), []);
    assert_eq!(after(&mut window, Modifiers::NONE, Key::Escape), []);
    assert_eq!(
        after(&mut window, Modifiers::NONE, Key::Num2),
        [Act::Choose(Action::Side)]
    );
}

#[test]
fn a_chord_with_more_modifiers_is_another_chord() {
    let mut window = keyboard();
    let more = Modifiers::ALT.plus(CTRL);
    assert_eq!(after(&mut window, more, Key::Q), []);
    assert_eq!(after(&mut window, Modifiers::ALT, Key::F), []);
}

/// The keys read after the box, as the program does, and all of a slow frame at once.
#[test]
fn what_is_typed_and_entered_in_one_frame_runs_nothing() {
    let mut text = String::new();
    let mut window = window(bench(0), vec2(300.0, 200.0), move |ui, _| {
        let label = ui.label("Note");
        ui.text_edit_singleline(&mut text).labelled_by(label.id);
        shortcuts(ui.ctx())
    });
    type_into_note(&mut window);
    acts(&mut window);
    let struck = |key: Key| egui::Event::Key {
        key,
        physical_key: None,
        pressed: true,
        repeat: false,
        modifiers: Modifiers::NONE,
    };
    let typed = |letter: &str| egui::Event::Text(letter.to_owned());
    window.input_mut().events.extend([
        struck(Key::Num2),
        typed("2"),
        struck(Key::Space),
        typed(" "),
        struck(Key::Num1),
        typed("1"),
        struck(Key::Enter),
    ]);
    window.step();
    settle(&mut window);
    assert_eq!(acts(&mut window), []);
    assert_eq!(written(&window, "Note"), "2 1");
    assert_eq!(
        after(&mut window, Modifiers::NONE, Key::Num2),
        [Act::Choose(Action::Side)],
        "the next key is one again"
    );
}
