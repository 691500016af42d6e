//! The menu bar, and the list of everything it can do.

use std::collections::HashSet;
use std::path::PathBuf;

use egui::accesskit::Role;
use egui::vec2;
use egui_kittest::kittest::{NodeT, Queryable};
use panels::{Act, Action, MenuView, menu_ui};
use rearend::tape::Units;
use shop::{Bench, Change, Command, demo};

use crate::support::{Window, acts, bench, click, is_ticked, says, settle, window};

const MENUS: [&str; 6] = ["File", "Edit", "Truck", "View", "Output", "Help"];
const QUALITIES: [&str; 3] = ["plain", "good", "best"];

fn menu(bench: Bench) -> Window {
    menu_with(bench, |_| false)
}

fn menu_with(bench: Bench, is_on: fn(Action) -> bool) -> Window {
    window(bench, vec2(1100.0, 700.0), move |ui, bench| {
        let view = MenuView {
            recent: &[],
            making: None,
            is_on: &is_on,
            qualities: &QUALITIES,
            quality: 1,
        };
        menu_ui(ui, bench, &view)
    })
}

/// The label of the entry that begins so, with its shortcut or arrow behind.
fn entry(window: &Window, text: &str) -> Option<String> {
    let begins = |n: &egui_kittest::Node| n.accesskit_node().label().filter(|l| l.starts_with(text));
    window.get_all_by_role(Role::Button).find_map(|n| begins(&n))
}

/// The label of an action's entry: its text, the name of the step for undo and redo, its key.
fn entry_of(window: &Window, action: Action) -> Option<String> {
    let key = action
        .shortcut()
        .map_or_else(String::new, |s| window.ctx.format_shortcut(&s));
    let is_it = |label: &String| {
        let rest = label
            .strip_prefix(action.text())
            .and_then(|rest| rest.strip_suffix(&key));
        rest.is_some_and(|rest| rest.trim().is_empty() || rest.starts_with(':'))
    };
    let mut labels = window
        .get_all_by_role(Role::Button)
        .filter_map(|n| n.accesskit_node().label());
    labels.find(is_it)
}

#[track_caller]
fn choose(window: &mut Window, text: &str) {
    let label = entry(window, text).unwrap_or_else(|| panic!("no entry begins with {text}"));
    click(window, Role::Button, &label);
}

fn renamed(bench: &mut Bench, name: &str) {
    bench.run(Command::Apply(Change::Rename(name.to_owned())));
}

#[test]
fn every_action_has_text_and_tip_and_no_two_share_a_key() {
    let keys: Vec<_> = Action::ALL.iter().filter_map(|a| a.shortcut()).collect();
    for (place, key) in keys.iter().enumerate() {
        assert!(!keys[..place].contains(key), "{key:?} stands for two actions");
    }
    let texts: HashSet<_> = Action::ALL.iter().map(|a| a.text()).collect();
    let tips: HashSet<_> = Action::ALL.iter().map(|a| a.tip()).collect();
    assert_eq!(
        (texts.len(), tips.len()),
        (Action::ALL.len(), Action::ALL.len()),
        "each says its own"
    );
    assert!(
        texts.iter().chain(&tips).all(|t| t.trim().len() > 3),
        "each says something"
    );
}

#[test]
fn every_action_is_an_entry_of_one_menu_and_gives_itself() {
    let mut undoable = bench(0);
    renamed(&mut undoable, "first");
    renamed(&mut undoable, "second");
    undoable.run(Command::Undo);
    for action in Action::ALL {
        let mut found = Vec::new();
        for name in MENUS {
            let mut window = menu(undoable.clone());
            choose(&mut window, name);
            if let Some(label) = entry_of(&window, action) {
                found.push(name);
                click(&mut window, Role::Button, &label);
                assert_eq!(acts(&mut window), [Act::Choose(action)], "{name}");
                assert_eq!(entry_of(&window, action), None, "{name} closes after a choice");
            }
        }
        assert_eq!(found.len(), 1, "{action:?} in {found:?}");
    }
}

#[test]
fn a_demo_truck_of_the_menu_comes_onto_the_bench() {
    for (which, demo) in demo::ALL.iter().enumerate() {
        let mut window = menu(bench((which + 1) % demo::ALL.len()));
        choose(&mut window, "File");
        choose(&mut window, "Demo trucks");
        choose(&mut window, demo.title);
        let wanted = demo.setup().expect("a demo scene reads");
        assert_eq!(acts(&mut window), [Act::Do(Command::OpenDemo(which))]);
        assert_eq!(window.state().bench.setup(), &wanted);
        assert!(says(&window, &wanted.name), "the bar shows the name of what is open");
        assert!(entry(&window, demo.title).is_none(), "the menu closes after a choice");
    }
}

#[test]
fn the_units_menu_switches_between_all_units() {
    let mut window = menu(bench(0));
    for units in [Units::Millimetres, Units::DecimalInches, Units::Sixteenths] {
        let before = window.state().bench.units();
        choose(&mut window, before.label());
        assert!(
            is_ticked(&window, Role::RadioButton, before.label()),
            "what is in force is marked"
        );
        assert!(!is_ticked(&window, Role::RadioButton, units.label()));
        click(&mut window, Role::RadioButton, units.label());
        assert_eq!(window.state().bench.units(), units);
        assert!(
            entry(&window, units.label()).is_some(),
            "the bar shows what is in force"
        );
        assert!(entry(&window, before.label()).is_none());
    }
}

#[test]
fn undo_and_redo_are_offered_only_where_there_is_a_step_and_name_it() {
    let edit = |bench: &Bench| {
        let mut window = menu(bench.clone());
        choose(&mut window, "Edit");
        window
    };
    let offers = |bench: &Bench, text: &str| {
        let window = edit(bench);
        let label = entry(&window, text)?;
        let is_enabled = !window.get_by_label(&label).accesskit_node().is_disabled();
        Some(is_enabled)
    };
    let mut bench = bench(0);
    assert_eq!(
        (offers(&bench, "Undo"), offers(&bench, "Redo")),
        (Some(false), Some(false))
    );
    assert_eq!(offers(&bench, "Undo:"), None, "no step has no name");

    renamed(&mut bench, "second try");
    assert_eq!(
        (offers(&bench, "Undo: name it \"second try\""), offers(&bench, "Redo")),
        (Some(true), Some(false))
    );

    bench.run(Command::Undo);
    assert_eq!(
        (offers(&bench, "Undo"), offers(&bench, "Redo: name it \"second try\"")),
        (Some(false), Some(true))
    );
    let mut window = edit(&bench);
    choose(&mut window, "Undo");
    assert_eq!(acts(&mut window), [], "what is not offered does nothing");
}

#[test]
fn entries_that_are_on_or_off_show_which() {
    let mut window = menu_with(bench(0), |action| matches!(action, Action::Ghosts | Action::Rear));
    choose(&mut window, "View");
    for action in Action::ALL {
        let Some(label) = entry(&window, action.text()).filter(|_| action.is_switch() || action == Action::Rear) else {
            continue;
        };
        let is_shown = is_ticked(&window, Role::Button, &label);
        assert_eq!(
            is_shown,
            action == Action::Ghosts,
            "{action:?}: only a switch that is on is ticked"
        );
    }
}

#[test]
fn the_detail_menu_marks_the_level_in_force_and_gives_the_chosen_one() {
    let mut window = menu(bench(0));
    choose(&mut window, "View");
    choose(&mut window, "Detail");
    assert!(is_ticked(&window, Role::RadioButton, QUALITIES[1]));
    click(&mut window, Role::RadioButton, QUALITIES[2]);
    assert_eq!(acts(&mut window), [Act::Quality(2)]);
}

#[test]
fn the_bar_says_whether_the_setup_is_saved() {
    let mut opened = Bench::new(bench(0).setup().clone(), Some(PathBuf::from("/trucks/orchard.ron")));
    assert!(says(&menu(opened.clone()), "orchard.ron"));
    renamed(&mut opened, "second try");
    let changed = menu(opened);
    assert!(says(&changed, "not saved") && !says(&changed, "orchard.ron") && says(&changed, "second try"));
    assert!(says(&menu(bench(0)), "in no file yet"));
}

#[test]
fn a_menu_opens_with_the_keyboard_alone() {
    let mut window = menu(bench(0));
    window.get_by_label("Truck").focus();
    settle(&mut window);
    window.key_press(egui::Key::Enter);
    settle(&mut window);
    let label = entry(&window, Action::Truck.text()).expect("the menu is open");
    window.get_by_label(&label).focus();
    settle(&mut window);
    window.key_press(egui::Key::Enter);
    settle(&mut window);
    assert_eq!(acts(&mut window), [Act::Choose(Action::Truck)]);
}
