//! The parts drawer.

use egui::accesskit::Role as Kind;
use egui::{Key, Theme, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use nalgebra::Vector3;
use panels::parts_drawer_ui;
use rearend::layouts::Layout;
use rearend::mechanism::Part;
use rearend::setup::{AsBuilt, BarEnd, BarId, Ends, Joint, JointKind, Length, Mount, Role, Setup, Side};
use rearend::tape::Units;
use shop::{Bench, Change, Command};

use crate::support::{Window, bench, click, commands, key, mount, painted, says, settle, window, write, written};

/// The bars of the first demo.
const LOWER: usize = 0;
const UPPER: usize = 1;
const PANHARD: usize = 2;

/// A drawer so tall that nothing of it scrolls away, in millimetres.
fn drawer(bench: Bench) -> Window {
    let mut window = window(bench, vec2(420.0, 3000.0), parts_drawer_ui);
    window.state_mut().bench.run(Command::SetUnits(Units::Millimetres));
    settle(&mut window);
    window
}

/// A drawer with this part unfolded; what a header says begins with the name.
fn opened(bench: Bench, name: &str) -> Window {
    let mut window = drawer(bench);
    open(&mut window, name);
    window
}

#[track_caller]
fn open(window: &mut Window, header: &str) {
    let is_it = |label: Option<String>| label.is_some_and(|l| l == header || l.starts_with(&format!("{header}, ")));
    window
        .get_by(|node| node.role() == Kind::Button && is_it(node.label()))
        .click();
    // It unfolds by and by.
    window.run_steps(30);
}

#[track_caller]
fn enter(window: &mut Window, label: &str, text: &str) {
    write(window, label, text);
    key(window, Key::Enter);
}

#[track_caller]
fn choose(window: &mut Window, list: &str, word: &str) {
    click(window, Kind::ComboBox, list);
    click(window, Kind::Button, word);
}

fn setup(window: &Window) -> &Setup {
    window.state().bench.setup()
}

fn undo_name(window: &Window) -> Option<String> {
    window.state().bench.document().undo_name().map(str::to_owned)
}

fn undo(window: &mut Window) {
    window.state_mut().bench.run(Command::Undo);
    settle(window);
}

#[test]
fn every_part_of_every_layout_is_listed() {
    for layout in Layout::ALL {
        let truck = layout.hang(bench(0).setup());
        let window = drawer(Bench::new(truck.clone(), None));
        let bars = truck.bars.iter().map(|b| b.name.clone());
        let arms = truck.arms.iter().map(|a| a.name.clone());
        let watt = truck.watt.iter().map(|_| "Watt's linkage".to_owned());
        for name in bars.chain(arms).chain(watt) {
            let begins = rearend::findings::capitalised(&name);
            let found = painted(&window).iter().any(|t| t.starts_with(&begins));
            assert!(found, "{layout:?}: {name}");
        }
    }
}

#[test]
fn a_bar_is_added_and_unfolds() {
    for (label, role, name) in [
        ("Add an upper bar", Role::Upper, "upper bar 2"),
        ("Add a lower bar", Role::Lower, "lower bar 2"),
        ("Add a sideways bar", Role::Sideways, "sideways bar"),
    ] {
        let mut window = drawer(bench(0));
        click(&mut window, Kind::Button, label);
        window.run_steps(30);
        assert_eq!(commands(&mut window), [Command::Apply(Change::AddBar(role))]);
        let added = setup(&window).bars.last().expect("there are bars");
        assert_eq!((added.name.as_str(), added.role), (name, role));
        assert_eq!(written(&window, &format!("Name of the {name}")), name);
        undo(&mut window);
        assert_eq!(setup(&window), bench(0).setup());
    }
}

#[test]
fn a_part_is_renamed_and_stays_open() {
    let mut window = opened(bench(0), "Lower bar");
    enter(&mut window, "Name of the lower bar", "long bar");
    assert_eq!(setup(&window).bars[LOWER].name, "long bar");
    assert_eq!(undo_name(&window).as_deref(), Some("rename the lower bar"));
    assert_eq!(written(&window, "Name of the long bar"), "long bar", "it is still open");
    undo(&mut window);
    assert_eq!(setup(&window), bench(0).setup());
}

#[test]
fn a_name_that_is_of_no_use_is_explained_and_changes_nothing() {
    let mut window = opened(bench(0), "Lower bar");
    enter(&mut window, "Name of the lower bar", " ");
    assert!(says(&window, "a name is expected"));
    enter(&mut window, "Name of the lower bar", "upper bar");
    assert!(says(
        &window,
        "another part is called upper bar; a name of its own is expected"
    ));
    assert_eq!(
        written(&window, "Name of the lower bar"),
        "upper bar",
        "to be put right"
    );
    assert_eq!(commands(&mut window), []);
    assert_eq!(setup(&window), bench(0).setup());
}

#[test]
fn a_tube_is_typed_as_any_length() {
    let mut window = opened(bench(0), "Lower bar");
    enter(&mut window, "Tube of the lower bar", "1 3/4 in");
    assert!((setup(&window).bars[LOWER].tube_m - 1.75 * 0.0254).abs() < 1e-9);
    assert_eq!(undo_name(&window).as_deref(), Some("change the tube of the lower bar"));
    assert_eq!(written(&window, "Tube of the lower bar"), "44.45");
    undo(&mut window);
    assert_eq!(setup(&window), bench(0).setup());
}

#[test]
fn a_tube_that_is_none_is_explained_and_changes_nothing() {
    let mut window = opened(bench(0), "Lower bar");
    let range = "a tube from 1/16 in (1.6 mm) to 8 in (203.2 mm) across is expected";
    let nonsense = Units::Millimetres.read("thick").expect_err("no length").to_string();
    for (typed, sentence) in [("0", range), ("-40", range), ("900", range), ("thick", &nonsense)] {
        enter(&mut window, "Tube of the lower bar", typed);
        assert!(says(&window, sentence), "{typed}");
        assert_eq!(written(&window, "Tube of the lower bar"), typed);
    }
    assert_eq!(commands(&mut window), []);
    assert_eq!(setup(&window), bench(0).setup());
}

#[test]
fn what_was_not_changed_is_not_rounded_to_what_is_shown() {
    let mut window = opened(bench(0), "Lower bar");
    window.state_mut().bench.run(Command::SetUnits(Units::DecimalInches));
    settle(&mut window);
    let shown = written(&window, "Tube of the lower bar");
    enter(&mut window, "Tube of the lower bar", &shown);
    assert_eq!(commands(&mut window), []);
}

#[test]
fn a_role_is_chosen_from_a_list() {
    let mut window = opened(bench(0), "Lower bar");
    choose(&mut window, "Role of the lower bar", "sideways");
    assert_eq!(setup(&window).bars[LOWER].role, Role::Sideways);
    assert_eq!(undo_name(&window).as_deref(), Some("make the lower bar a sideways bar"));
    choose(&mut window, "Role of the lower bar", "sideways");
    undo(&mut window);
    assert_eq!(setup(&window), bench(0).setup(), "what it is already is no step");
}

#[test]
fn both_ends_are_chosen_from_a_list() {
    let mut window = opened(bench(0), "Lower bar");
    let (part, ends) = (Part::Bar(BarId(LOWER), Side::Drawn), Ends::Polyurethane);
    choose(&mut window, "Ends of the lower bar", "polyurethane bushes");
    assert_eq!(commands(&mut window), [Command::Apply(Change::SetEnds { part, ends })]);
    assert_eq!(
        setup(&window).bars[LOWER].joint(BarEnd::Axle).kind,
        JointKind::Polyurethane
    );
}

#[test]
fn a_duplicate_unfolds_and_stands_higher() {
    let mut window = opened(bench(0), "Panhard bar");
    let original = setup(&window).bars[PANHARD].clone();
    click(&mut window, Kind::Button, &format!("Duplicate the {}", original.name));
    window.run_steps(30);
    let copy = setup(&window).bars[3].clone();
    assert_eq!(copy.name, format!("{} copy", original.name));
    let up = copy.mount_in_frame - original.mount_in_frame;
    assert!((up - Vector3::z() * 0.05).norm() < 1e-9);
    assert_eq!(written(&window, &format!("Name of the {}", copy.name)), copy.name);
    undo(&mut window);
    assert_eq!(setup(&window), bench(0).setup());
}

#[test]
fn a_part_is_removed() {
    let mut window = opened(bench(0), "Upper bar");
    click(&mut window, Kind::Button, "Remove the upper bar");
    let names: Vec<_> = setup(&window).bars.iter().map(|b| b.name.as_str()).collect();
    assert_eq!(names, ["lower bar", "panhard bar"]);
    undo(&mut window);
    assert_eq!(setup(&window), bench(0).setup());
}

#[test]
fn nonsense_in_a_box_does_not_pass_to_the_part_that_takes_its_place() {
    let mut window = opened(bench(0), "Upper bar");
    enter(&mut window, "Tube of the upper bar", "thick");
    click(&mut window, Kind::Button, "Remove the upper bar");
    assert_eq!(
        Units::Millimetres
            .read(&written(&window, "Tube of the panhard bar"))
            .ok(),
        Some(setup(&window).bars[UPPER].tube_m)
    );
}

#[test]
fn both_mounts_are_selected_by_their_names() {
    let mut window = opened(bench(0), "Lower bar");
    for (label, end) in [
        ("Select the left lower bar, on the frame", BarEnd::Frame),
        ("Select the left lower bar, on the axle", BarEnd::Axle),
    ] {
        click(&mut window, Kind::Button, label);
        assert_eq!(window.state().bench.selected(), Some(mount(LOWER, end)));
    }
}

#[test]
fn a_watts_linkage_is_changed_and_goes_as_a_whole() {
    let mut window = opened(bench(1), "Watt's linkage");
    assert!(!says(&window, "Name of the Watt's linkage"));
    enter(&mut window, "Tube of the Watt's linkage", "40");
    assert_eq!(setup(&window).watt.as_ref().map(|w| w.tube_m), Some(0.04));
    choose(&mut window, "Ends of the Watt's linkage", "rubber bushes");
    assert_eq!(setup(&window).watt.as_ref().map(|w| w.ends), Some(Ends::Bushes));
    click(&mut window, Kind::Button, "Select the Watt's crank pivot, on the axle");
    assert_eq!(window.state().bench.selected(), Some(Mount::WattPivot));
    for link in ["left", "right"] {
        let heard = format!("Eye to eye as drawn, Watt's {link} link: ");
        assert!(window.query_by_label_contains(&heard).is_some(), "{heard}");
    }
    click(&mut window, Kind::Button, "Remove the Watt's linkage");
    assert_eq!(setup(&window).watt, None);
}

#[test]
fn an_arm_is_changed() {
    let truck = Layout::LadderPanhard.hang(bench(0).setup());
    let name = truck.arms[0].name.clone();
    let arm = &truck.arms[0];
    let long_m = (arm.eye_in_frame - truck.drawn().to_ground(arm.mount_in_axle)).norm();
    let mut window = opened(Bench::new(truck, None), &rearend::findings::capitalised(&name));
    let told = format!("Eye to axle, {name}: {:.1} mm, made to suit", long_m * 1e3);
    assert!(says(&window, &told), "{told}");
    assert!(!says(&window, &format!("Role of the {name}")), "only bars have a role");
    choose(&mut window, &format!("Ends of the {name}"), "polyurethane bush");
    assert_eq!(setup(&window).arms[0].eye.kind, JointKind::Polyurethane);
    enter(&mut window, &format!("Tube of the {name}"), "50");
    assert_eq!(setup(&window).arms[0].tube_m, 0.05);
    enter(&mut window, &format!("Name of the {name}"), "ladder");
    assert_eq!(setup(&window).arms[0].name, "ladder");
}

/// Frame end (560, 490, 78), axle end (0, 490, 168 - 80) at ride height, in millimetres.
fn lower_as_drawn_m() -> f64 {
    f64::hypot(0.560, 0.088 - 0.078)
}

const LOWER_AS_BUILT: &str = "Eye to eye as built, lower bar";
const LOWER_TURNS: &str = "Turns, + longer, lower bar";

fn lower_built(window: &Window) -> AsBuilt {
    match setup(window).bars[LOWER].length {
        Length::AsBuilt(bar) => bar,
        Length::CutToSuit => panic!("the lower bar is cut to suit"),
    }
}

/// A drawer with the lower bar unfolded and fixed as built at what it is.
fn lower_fixed() -> Window {
    let mut window = opened(bench(0), "Lower bar");
    let label = format!("Fix the lower bar as built at {:.1} mm", lower_as_drawn_m() * 1e3);
    click(&mut window, Kind::Button, &label);
    window
}

#[test]
fn a_bar_that_is_cut_to_suit_is_fixed_at_what_it_is_now() {
    let window = opened(bench(0), "Lower bar");
    let told = format!(
        "Eye to eye as drawn, lower bar: {:.1} mm, cut to suit",
        lower_as_drawn_m() * 1e3
    );
    assert!(says(&window, &told), "{told}");
    assert!(!says(&window, LOWER_AS_BUILT), "it has not been built");
    let mut window = lower_fixed();
    let built = lower_built(&window);
    assert!((built.length_m - lower_as_drawn_m()).abs() < 1e-9 && built.turns == 0.0);
    click(&mut window, Kind::Button, "Cut the lower bar to suit");
    assert_eq!(setup(&window).bars[LOWER].length, Length::CutToSuit);
    undo(&mut window);
    undo(&mut window);
    assert_eq!(setup(&window), bench(0).setup(), "two steps");
}

/// A tape is put to the bar as it is, turns and all: they stay what they are.
#[test]
fn what_the_tape_says_of_a_bar_is_typed_in_the_drawer() {
    let mut window = lower_fixed();
    enter(&mut window, LOWER_TURNS, "-1.5");
    let turned = lower_built(&window);
    assert_eq!(turned.turns, -1.5);
    let shorter_m = 1.5 * 0.003_175;
    assert!((turned.now_m() - (lower_as_drawn_m() - shorter_m)).abs() < 1e-9);
    enter(&mut window, LOWER_AS_BUILT, "22 1/4 in");
    let built = lower_built(&window);
    assert!((built.now_m() - 22.25 * 0.0254).abs() < 1e-9, "{built:?}");
    assert_eq!(built.turns, -1.5);
    assert_eq!(written(&window, LOWER_AS_BUILT), "565.15");
    let drawn = format!("Eye to eye as drawn, lower bar: {:.1} mm", lower_as_drawn_m() * 1e3);
    assert!(says(&window, &drawn), "the drawing has not changed: {drawn}");
    assert_eq!(commands(&mut window).len(), 3, "a step each");
}

#[test]
fn a_length_or_turns_that_are_none_are_explained_and_change_nothing() {
    let mut window = lower_fixed();
    let before = setup(&window).clone();
    let nonsense = Units::Millimetres.read("long").expect_err("no length").to_string();
    let short = "what the tape says from eye to eye is expected";
    for (typed, sentence) in [("0", short), ("-20", short), ("long", &nonsense)] {
        enter(&mut window, LOWER_AS_BUILT, typed);
        assert!(says(&window, sentence), "{typed}");
    }
    for typed in ["61", "-1000", "many"] {
        enter(&mut window, LOWER_TURNS, typed);
        assert!(says(&window, "a number from -60 to 60 is expected"), "{typed}");
    }
    assert_eq!(*setup(&window), before);
}

#[test]
fn each_link_of_a_watts_linkage_is_built_by_itself() {
    let mut window = opened(bench(1), "Watt's linkage");
    let fixes = |label: Option<String>| label.is_some_and(|l| l.starts_with("Fix the Watt's right link as built at "));
    window
        .get_by(|node| node.role() == Kind::Button && fixes(node.label()))
        .click();
    settle(&mut window);
    let lengths = |window: &Window| setup(window).watt.as_ref().map(|w| (w.left_length, w.right_length));
    let Some((Length::CutToSuit, Length::AsBuilt(right))) = lengths(&window) else {
        panic!("only the right one is built: {:?}", lengths(&window))
    };
    enter(&mut window, "Turns, + longer, Watt's right link", "2");
    let turned = AsBuilt { turns: 2.0, ..right };
    assert_eq!(lengths(&window), Some((Length::CutToSuit, Length::AsBuilt(turned))));
}

/// A mirrored bar that stands off straight ahead acts as long as it looks from the side; the word "length" tells none of this apart.
#[test]
fn every_length_says_which_it_is() {
    let mut window = opened(bench(2), "Upper bar");
    let bar = setup(&window).bars[1].clone();
    assert!(bar.mirrored && bar.is_triangulated(), "{}", bar.name);
    let axle_z_m = setup(&window).wheels.loaded_radius_m - setup(&window).travel.ride_m;
    let along = bar.mount_in_frame - bar.mount_in_axle - Vector3::z() * axle_z_m;
    let (whole, from_the_side) = (along.norm() * 1e3, along.x.hypot(along.z) * 1e3);
    assert!(whole - from_the_side > 10.0);
    for told in [
        format!("Eye to eye as drawn, upper bar: {whole:.1} mm, cut to suit"),
        format!("Acts as long as, upper bar: {from_the_side:.1} mm, seen from the side"),
    ] {
        assert!(says(&window, &told), "{told}");
    }
    click(
        &mut window,
        Kind::Button,
        &format!("Fix the upper bar as built at {whole:.1} mm"),
    );
    enter(&mut window, "Turns, + longer, upper bar", "4");
    let header = format!("Upper bar, {:.1} mm eye to eye", whole + 4.0 * 3.175);
    assert!(painted(&window).contains(&header), "{header}");
    let bare = painted(&window)
        .into_iter()
        .find(|t| t.to_lowercase().contains("length"));
    assert_eq!(bare, None);
}

#[test]
fn swings_are_told_with_what_is_allowed() {
    let window = opened(bench(0), "Lower bar");
    for on in ["frame", "axle"] {
        let heard = format!("Swing of the lower bar on the {on}: ");
        let node = window.query_by_label_contains(&heard).is_some();
        assert!(node, "{heard}");
    }
    assert!(
        painted(&window).iter().any(|t| t.ends_with(" of 14.0°")),
        "a rod end's limit"
    );
}

#[test]
fn a_joint_that_swings_too_far_is_marked() {
    let mut window = opened(bench(0), "Lower bar");
    let (bar, end) = (BarId(LOWER), BarEnd::Frame);
    let joint = Joint {
        limit_rad: Some(1f64.to_radians()),
        ..Joint::of(JointKind::RodEnd)
    };
    window
        .state_mut()
        .bench
        .run(Command::Apply(Change::SetJoint { bar, end, joint }));
    settle(&mut window);
    let is_marked = |t: &String| t.starts_with("▲ ") && t.ends_with(" of 1.0°, more than it may");
    assert!(painted(&window).iter().any(is_marked), "{:?}", painted(&window));
}

/// Every word of an unfolded part is within a panel that leaves the stage its room.
#[test]
fn everything_fits_into_a_narrow_panel() {
    for (which, name) in [(0, "Lower bar"), (1, "Watt's linkage")] {
        let mut bench = bench(which);
        for part in [Part::Bar(BarId(LOWER), Side::Drawn), Part::WattLeft] {
            let Some(built) = shop::as_built(bench.document().answers(), part) else {
                continue;
            };
            let length = Length::AsBuilt(built);
            bench.run(Command::Apply(Change::SetLength { part, length }));
        }
        let mut window = window(bench, vec2(340.0, 3000.0), parts_drawer_ui);
        open(&mut window, name);
        enter(&mut window, &format!("Tube of the {}", uncapitalised(name)), "thick");
        for node in window.query_all_by(|node| node.label().or(node.value()).is_some()) {
            assert!(node.rect().right() <= 340.0, "{node:?}");
        }
    }
}

fn uncapitalised(name: &str) -> String {
    name.replace("Lower", "lower")
}

/// As it is heard in the units of the drawer below.
const FIX_LOWER: &str = "Fix the lower bar as built at 560.1 mm";

/// Without a mouse: to the header, open it, and on through every box, list and button of the part.
#[test]
fn the_keyboard_reaches_everything() {
    let mut window = drawer(bench(0));
    let mut reached = Vec::new();
    for _ in 0..40 {
        key(&mut window, Key::Tab);
        let focused = window
            .query_all_by(|n| n.is_focused() && n.role() != Kind::Window)
            .last();
        let Some((role, label)) = focused.map(|n| (n.accesskit_node().role(), n.accesskit_node().label())) else {
            continue;
        };
        let label = label.unwrap_or_default();
        if role == Kind::Button && label.starts_with("Lower bar, ") && !reached.contains(&label) {
            key(&mut window, Key::Space);
            window.run_steps(30);
        }
        reached.push(label);
    }
    for wanted in [
        "Add an upper bar",
        "Add a lower bar",
        "Add a sideways bar",
        "Name of the lower bar",
        "Role of the lower bar",
        "Tube of the lower bar",
        "Ends of the lower bar",
        FIX_LOWER,
        "Select the left lower bar, on the frame",
        "Select the left lower bar, on the axle",
        "Duplicate the lower bar",
        "Remove the lower bar",
        "Name of the setup",
        "Note",
    ] {
        assert!(reached.iter().any(|l| l == wanted), "{wanted} is not among {reached:?}");
    }
    assert_eq!(setup(&window), bench(0).setup(), "looking around changes nothing");
}

#[test]
fn a_truck_without_parts_is_told_what_to_do_in_light_and_dark() {
    let mut truck = bench(0).setup().clone();
    truck.bars.clear();
    let mut window = drawer(Bench::new(truck, None));
    for theme in [Theme::Dark, Theme::Light] {
        window.ctx.set_theme(theme);
        settle(&mut window);
        assert!(says(&window, "Nothing holds the axle yet: add a bar."));
    }
    click(&mut window, Kind::Button, "Add a sideways bar");
    assert_eq!(setup(&window).bars.len(), 1);
}
