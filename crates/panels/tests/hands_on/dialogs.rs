//! The dialogs.

use std::path::PathBuf;

use egui::accesskit::Role;
use egui::{Key, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use panels::{Act, Action, Dialog, PathPurpose, PathQuestion, dialog_ui};
use rearend::figures::CAUTION;

use crate::support::{Window, acts, bench, click, key, says, settle, window, written};

const FILE: &str = "File, with its folder:";

fn dialog(mut dialog: Dialog) -> Window {
    window(bench(0), vec2(900.0, 800.0), move |ui, bench| {
        dialog_ui(ui.ctx(), bench, &|_| false, &mut dialog)
    })
}

fn path(purpose: PathPurpose, text: &str) -> Window {
    dialog(Dialog::Path(PathQuestion {
        can_browse: true,
        ..PathQuestion::new(purpose, text.to_owned())
    }))
}

fn type_text(window: &mut Window, text: &str) {
    window.get_by_role_and_label(Role::TextInput, FILE).type_text(text);
    settle(window);
}

#[test]
fn a_path_can_be_typed_at_once_and_entered() {
    for purpose in [PathPurpose::Open, PathPurpose::SaveAs, PathPurpose::Picture] {
        let mut window = path(purpose, "");
        assert!(window.get_by_role_and_label(Role::TextInput, FILE).is_focused());
        type_text(&mut window, " /trucks/orchard.ron ");
        assert_eq!(acts(&mut window), [], "nothing happens while it is typed");
        key(&mut window, Key::Enter);
        assert_eq!(
            acts(&mut window),
            [Act::Path(purpose, PathBuf::from("/trucks/orchard.ron"))]
        );
    }
}

#[test]
fn the_button_says_what_it_does_and_does_it() {
    for (purpose, verb) in [
        (PathPurpose::Open, "Open"),
        (PathPurpose::SaveAs, "Save"),
        (PathPurpose::Picture, "Save"),
    ] {
        let mut window = path(purpose, "/trucks/a");
        click(&mut window, Role::Button, verb);
        assert_eq!(acts(&mut window), [Act::Path(purpose, PathBuf::from("/trucks/a"))]);
    }
}

#[test]
fn without_a_path_there_is_nothing_to_enter() {
    let mut window = path(PathPurpose::Open, "  ");
    assert!(
        window
            .get_by_role_and_label(Role::Button, "Open")
            .accesskit_node()
            .is_disabled()
    );
    click(&mut window, Role::Button, "Open");
    window.get_by_role_and_label(Role::TextInput, FILE).focus();
    settle(&mut window);
    key(&mut window, Key::Enter);
    assert_eq!(acts(&mut window), []);
    type_text(&mut window, "x.ron");
    assert_eq!(written(&window, FILE).trim(), "x.ron", "typing goes on");
}

#[test]
fn cancel_and_esc_close_a_dialog_and_do_nothing_else() {
    let replace = Dialog::Replace {
        purpose: PathPurpose::SaveAs,
        path: PathBuf::from("/trucks/orchard.ron"),
    };
    let open = Dialog::Path(PathQuestion::new(PathPurpose::Open, "/trucks/orchard.ron".to_owned()));
    for which in [open, replace, Dialog::Unsaved] {
        let mut window = dialog(which.clone());
        click(&mut window, Role::Button, "Cancel");
        assert_eq!(acts(&mut window), [Act::CloseDialog], "{which:?}");
        let mut window = dialog(which.clone());
        window.key_press(Key::Escape);
        settle(&mut window);
        assert_eq!(acts(&mut window), [Act::CloseDialog], "{which:?}");
    }
}

#[test]
fn the_systems_dialog_is_offered_where_there_is_one() {
    let mut window = path(PathPurpose::SaveAs, "");
    click(&mut window, Role::Button, "Browse…");
    assert_eq!(acts(&mut window), [Act::Browse(PathPurpose::SaveAs)]);
    let without = dialog(Dialog::Path(PathQuestion::new(PathPurpose::SaveAs, String::new())));
    assert!(says(&without, "Cancel") && !says(&without, "Browse…"));
}

#[test]
fn unsaved_work_has_three_ways_out() {
    for (button, act) in [
        ("Save", Act::Choose(Action::Save)),
        ("Go on without saving", Act::GoOnUnsaved),
        ("Cancel", Act::CloseDialog),
    ] {
        let mut window = dialog(Dialog::Unsaved);
        click(&mut window, Role::Button, button);
        assert_eq!(acts(&mut window), [act], "{button}");
    }
}

#[test]
fn a_file_is_replaced_only_when_that_is_said() {
    let path = PathBuf::from("/trucks/orchard.ron");
    for purpose in [PathPurpose::SaveAs, PathPurpose::Picture] {
        let mut window = dialog(Dialog::Replace {
            purpose,
            path: path.clone(),
        });
        assert!(says(&window, "/trucks/orchard.ron is already there."));
        key(&mut window, Key::Enter);
        assert_eq!(acts(&mut window), [], "Enter alone replaces nothing");
        click(&mut window, Role::Button, "Replace");
        assert_eq!(acts(&mut window), [Act::Path(purpose, path.clone())]);
    }
}

#[test]
fn the_list_of_keys_holds_every_key() {
    let mut window = dialog(Dialog::Help(Action::Keys));
    for action in Action::ALL {
        let Some(shortcut) = action.shortcut() else { continue };
        let key = window.ctx.format_shortcut(&shortcut);
        assert!(says(&window, &key) && says(&window, action.tip()), "{action:?} {key}");
    }
    click(&mut window, Role::Button, "Close");
    assert_eq!(acts(&mut window), [Act::CloseDialog]);
}

#[test]
fn the_cautions_are_in_the_help() {
    let window = dialog(Dialog::Help(Action::Cautions));
    assert!(says(&window, CAUTION));
    assert!(window.query_by_label_contains("kills").is_some());
}

/// True where any sentence has these words in it.
fn tells(window: &Window, words: &str) -> bool {
    crate::support::painted(window).iter().any(|text| text.contains(words))
}

#[test]
fn a_file_that_somebody_else_wrote_to_is_asked_about() {
    let path = PathBuf::from("/trucks/orchard.ron");
    for (button, expected) in [
        ("Save somewhere else…", Act::Choose(Action::SaveAs)),
        ("Save over it", Act::SaveOver),
        ("Cancel", Act::CloseDialog),
    ] {
        let mut window = dialog(Dialog::ChangedOnDisk { path: path.clone() });
        assert!(tells(&window, "/trucks/orchard.ron"), "it names the file");
        click(&mut window, Role::Button, button);
        assert_eq!(acts(&mut window), [expected]);
    }
}

#[test]
fn work_that_was_left_behind_is_offered() {
    for (button, expected) in [
        ("Take it up again", Act::TakeUp(true)),
        ("Throw it away", Act::TakeUp(false)),
        ("Not now", Act::CloseDialog),
    ] {
        let mut window = dialog(Dialog::LeftBehind {
            name: "Orchard hauler".to_owned(),
            step: "move the panhard bar".to_owned(),
            path: None,
        });
        for words in ["Orchard hauler", "move the panhard bar", "never saved to a file"] {
            assert!(tells(&window, words), "{words}");
        }
        click(&mut window, Role::Button, button);
        assert_eq!(acts(&mut window), [expected]);
    }
}

#[test]
fn layouts_and_guide_can_be_left() {
    for which in [Dialog::Layouts, Dialog::Guide(panels::GuidePage::default())] {
        let mut window = dialog(which.clone());
        key(&mut window, Key::Escape);
        assert_eq!(acts(&mut window), [Act::CloseDialog], "{which:?}");
    }
}

#[test]
fn a_path_that_leads_nowhere_is_said_below_and_kept() {
    let mut window = dialog(Dialog::Path(PathQuestion {
        complaint: Some("There is no such file; nothing was opened.".to_owned()),
        ..PathQuestion::new(PathPurpose::Open, "/trucks/nowhere.ron".to_owned())
    }));
    settle(&mut window);
    assert!(tells(&window, "There is no such file"));
    assert_eq!(written(&window, FILE), "/trucks/nowhere.ron");
}

/// Folders and setups of the folder in the path are there to choose from; a folder is gone into, a file written into the box, and a
/// second click takes it.
#[test]
fn a_file_can_be_chosen_from_its_folder() {
    let folder = tempfile::tempdir().expect("there is room for a folder");
    std::fs::create_dir(folder.path().join("customers")).expect("there is room for another");
    for name in ["b.ron", "a.ron", "notes.txt", ".hidden.ron"] {
        std::fs::write(folder.path().join(name), "").expect("there is room for a file");
    }
    let mut question = PathQuestion::new(PathPurpose::Open, folder.path().join("").display().to_string());
    question.list();
    let mut window = window(bench(0), vec2(900.0, 800.0), move |ui, bench| {
        let mut dialog = Dialog::Path(question.clone());
        let acts = dialog_ui(ui.ctx(), bench, &|_| false, &mut dialog);
        if let Dialog::Path(next) = dialog {
            question = next;
            question.list();
        }
        acts
    });
    assert!(says(&window, "a.ron") && !says(&window, "notes.txt") && !says(&window, ".hidden.ron"));
    click(&mut window, Role::Button, "customers/");
    let inside = folder.path().join("customers").join("");
    assert_eq!(written(&window, FILE), inside.display().to_string());
    assert!(!says(&window, "a.ron"), "another folder is listed");
    click(&mut window, Role::Button, "up one folder");
    click(&mut window, Role::Button, "b.ron");
    assert_eq!(
        written(&window, FILE),
        folder.path().join("b.ron").display().to_string()
    );
    assert_eq!(acts(&mut window), [], "a click only writes it");
    click(&mut window, Role::Button, "Open");
    assert_eq!(
        acts(&mut window),
        [Act::Path(PathPurpose::Open, folder.path().join("b.ron"))]
    );
}

/// What is to be saved keeps its name in whichever folder is gone into.
#[test]
fn a_name_to_save_under_goes_along_into_another_folder() {
    let folder = tempfile::tempdir().expect("there is room for a folder");
    std::fs::create_dir(folder.path().join("customers")).expect("there is room for another");
    let mut question = PathQuestion::new(PathPurpose::SaveAs, folder.path().join("low.ron").display().to_string());
    question.list();
    let mut window = dialog(Dialog::Path(question));
    click(&mut window, Role::Button, "customers/");
    let inside = folder.path().join("customers").join("low.ron");
    assert_eq!(written(&window, FILE), inside.display().to_string());
}
