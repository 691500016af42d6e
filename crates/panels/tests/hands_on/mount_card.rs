//! The card of the selected mount.

use egui::accesskit::Role;
use egui::{Key, vec2};
use egui_kittest::kittest::Queryable;
use nalgebra::Point3;
use panels::mount_card_ui;
use rearend::setup::{BarEnd, BarId, Mount, Side};
use rearend::tape::Units;
use shop::{Bench, Command};

use crate::support::{Window, bench, click, commands, is_ticked, key, mount, says, window, write, written};

const AXES: [&str; 3] = ["Forward", "Left", "Up"];
const MIRRORED: &str = "mirrored on the other side";
/// The lower bar and the panhard bar of the first demo.
const LOWER: usize = 0;
const PANHARD: usize = 2;
/// Places are kept to a millionth of a millimetre.
const FILE_M: f64 = 1e-9;

fn card(mut bench: Bench, mount: Mount) -> Window {
    bench.run(Command::Select(Some(mount)));
    window(bench, vec2(320.0, 400.0), mount_card_ui)
}

fn place(window: &Window, mount: Mount) -> Point3<f64> {
    window
        .state()
        .bench
        .setup()
        .mount(mount)
        .expect("the mount is there")
        .point
}

#[test]
fn a_typed_coordinate_moves_the_mount_along_its_axis_only() {
    for end in [BarEnd::Frame, BarEnd::Axle] {
        for (axis, label) in AXES.into_iter().enumerate() {
            let mount = mount(PANHARD, end);
            let mut window = card(bench(0), mount);
            let mut wanted = place(&window, mount);
            write(&mut window, label, "19 1/4");
            assert_eq!(commands(&mut window), [], "nothing moves while it is typed");
            key(&mut window, Key::Enter);
            wanted[axis] = 19.25 * 0.0254;
            assert!(
                (place(&window, mount) - wanted).norm() < FILE_M,
                "{label} {:?}",
                place(&window, mount)
            );
            assert_eq!(written(&window, label), "19 1/4");
            window.state_mut().bench.run(Command::Undo);
            assert_eq!(window.state().bench.setup(), bench(0).setup(), "it is one step");
        }
    }
}

#[test]
fn the_unit_of_the_screen_holds_and_another_may_be_named() {
    let frame = mount(PANHARD, BarEnd::Frame);
    let mut bench = bench(0);
    bench.run(Command::SetUnits(Units::Millimetres));
    let mut window = card(bench, frame);
    for (typed, metres) in [("260", 0.26), ("10 in", 0.254), ("250 + 5", 0.255)] {
        write(&mut window, "Up", typed);
        key(&mut window, Key::Enter);
        assert!((place(&window, frame).z - metres).abs() < FILE_M, "{typed}");
    }
}

#[test]
fn leaving_the_box_enters_what_was_typed() {
    let frame = mount(PANHARD, BarEnd::Frame);
    let mut window = card(bench(0), frame);
    write(&mut window, "Forward", "-8");
    key(&mut window, Key::Tab);
    assert!((place(&window, frame).x + 8.0 * 0.0254).abs() < FILE_M);
}

#[test]
fn what_was_not_changed_is_not_rounded_to_what_is_shown() {
    // In inches the millimetres of the demo have more decimals than a box shows.
    let frame = mount(PANHARD, BarEnd::Frame);
    let mut window = card(bench(0), frame);
    for label in AXES {
        window.get_by_role_and_label(Role::TextInput, label).focus();
        crate::support::settle(&mut window);
        key(&mut window, Key::Enter);
    }
    assert_eq!(commands(&mut window), []);
    write(&mut window, "Up", "10");
    key(&mut window, Key::Enter);
    let demo = bench(0).setup().mount(frame).expect("the mount is there").point;
    assert_eq!((place(&window, frame).x, place(&window, frame).y), (demo.x, demo.y));
}

#[test]
fn nonsense_is_explained_and_kept_until_it_is_put_right() {
    let frame = mount(PANHARD, BarEnd::Frame);
    let mut window = card(bench(0), frame);
    let complaint = Units::Sixteenths.read("twelve").expect_err("no number").to_string();
    write(&mut window, "Up", "twelve");
    assert!(!says(&window, &complaint), "nobody is corrected while typing");
    key(&mut window, Key::Enter);
    assert_eq!(commands(&mut window), []);
    assert!(says(&window, &complaint));
    assert_eq!(written(&window, "Up"), "twelve");

    write(&mut window, "Up", "12");
    assert!(!says(&window, &complaint), "the complaint is gone with its cause");
    key(&mut window, Key::Enter);
    assert!((place(&window, frame).z - 12.0 * 0.0254).abs() < FILE_M);
}

#[test]
fn esc_drops_what_was_typed() {
    let frame = mount(PANHARD, BarEnd::Frame);
    let mut window = card(bench(0), frame);
    let before = written(&window, "Up");
    write(&mut window, "Up", "19 1/4");
    key(&mut window, Key::Escape);
    assert_eq!(written(&window, "Up"), before);

    write(&mut window, "Up", "twelve");
    key(&mut window, Key::Enter);
    window.get_by_role_and_label(Role::TextInput, "Up").focus();
    crate::support::settle(&mut window);
    key(&mut window, Key::Escape);
    assert_eq!(
        written(&window, "Up"),
        before,
        "nonsense that was complained about goes too"
    );
    assert!(!says(
        &window,
        &Units::Sixteenths.read("twelve").expect_err("no number").to_string()
    ));
    assert_eq!(commands(&mut window), []);
    assert_eq!(window.state().bench.setup(), bench(0).setup());
}

#[test]
fn a_draft_belongs_to_its_mount() {
    let mut window = card(bench(0), mount(PANHARD, BarEnd::Frame));
    write(&mut window, "Up", "twelve");
    key(&mut window, Key::Enter);
    let axle = mount(PANHARD, BarEnd::Axle);
    window.state_mut().bench.run(Command::Select(Some(axle)));
    crate::support::settle(&mut window);
    let shown = Units::Sixteenths
        .read(&written(&window, "Up"))
        .expect("a length is shown");
    assert!((shown - place(&window, axle).z).abs() < 1e-5);
}

#[test]
fn a_mirrored_mount_moves_with_its_other_side() {
    let [drawn, other] = [Side::Drawn, Side::Mirrored].map(|side| Mount::Bar {
        bar: BarId(LOWER),
        end: BarEnd::Frame,
        side,
    });
    let mut window = card(bench(0), other);
    write(&mut window, "Left", "-18");
    key(&mut window, Key::Enter);
    assert!((place(&window, other).y + 18.0 * 0.0254).abs() < FILE_M);
    assert!((place(&window, drawn).y - 18.0 * 0.0254).abs() < FILE_M);
}

#[test]
fn the_checkbox_unlinks_the_two_sides() {
    let left = mount(LOWER, BarEnd::Frame);
    let mut window = card(bench(0), left);
    let mounts = window.state().bench.setup().mounts().len();
    assert!(is_ticked(&window, Role::CheckBox, MIRRORED));
    click(&mut window, Role::CheckBox, MIRRORED);
    assert!(!is_ticked(&window, Role::CheckBox, MIRRORED));
    let right = mount(LOWER + 1, BarEnd::Frame);
    let [mine, theirs] = [place(&window, left), place(&window, right)];
    assert_eq!(theirs, Point3::new(mine.x, -mine.y, mine.z), "nothing jumps");
    assert_eq!(
        window.state().bench.setup().mounts().len(),
        mounts,
        "two bars of their own stand where the pair stood"
    );

    write(&mut window, "Up", "4");
    key(&mut window, Key::Enter);
    assert!((place(&window, left).z - 4.0 * 0.0254).abs() < FILE_M);
    assert_eq!(place(&window, right), theirs, "the other side stays where it is");
}

#[test]
fn a_bar_that_runs_across_has_no_other_side() {
    let window = card(bench(0), mount(PANHARD, BarEnd::Frame));
    assert!(says(&window, "Left"), "the card is there");
    assert!(!says(&window, MIRRORED));
}

#[test]
fn the_card_tells_the_length_of_the_bar() {
    let frame = mount(LOWER, BarEnd::Frame);
    let mut window = card(bench(0), frame);
    // Frame end (560, 490, 78), axle end (0, 490, 168 - 80) at ride height, in millimetres.
    let length_mm = f64::hypot(560.0, 88.0 - 78.0);
    window.state_mut().bench.run(Command::SetUnits(Units::Millimetres));
    crate::support::settle(&mut window);
    let words = format!("{length_mm:.1} mm eye to eye as drawn");
    assert!(window.query_by_label_contains(&words).is_some(), "{words}");
}

#[test]
fn every_mount_of_every_demo_has_a_card_that_closes() {
    for which in 0..3 {
        for mount in bench(which).setup().mounts() {
            let mut window = card(bench(which), mount);
            for (axis, label) in AXES.into_iter().enumerate() {
                let shown = Units::Sixteenths
                    .read(&written(&window, label))
                    .expect("a length is shown");
                assert!((shown - place(&window, mount)[axis]).abs() < 2e-6, "{mount:?} {label}");
            }
            click(&mut window, Role::Button, "close");
            assert_eq!(commands(&mut window), [Command::Select(None)]);
            assert!(!says(&window, "Up"), "without a selection there is no card");
        }
    }
}
