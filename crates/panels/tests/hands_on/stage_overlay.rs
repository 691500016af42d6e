//! The pointer and the keys over the stage.

use egui::accesskit::Role;
use egui::{Event, Key, Modifiers, MouseWheelUnit, PointerButton, Pos2, Rect, Ui, Vec2, pos2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use panels::{Handle, Overlay, Pointer, StageAct, ride_post_ui, stage_overlay_ui};
use rearend::setup::{BarEnd, Carrier, Mount};
use shop::Bench;

use crate::support::{bench, click_at, drag, dressed, key, mount, press, settle};

const FIRST: &str = "left lower bar, frame";
const SECOND: &str = "left lower bar, axle";
const THIRD: &str = "panhard bar, frame";

/// The stage as the program keeps it: a mount is selected, one may be in hand.
struct Stage {
    acts: Vec<StageAct>,
    selected: Option<Mount>,
    dragged: Option<Mount>,
    note: String,
    bench: Bench,
    is_dressed: bool,
}

type Window = Harness<'static, Stage>;

impl Stage {
    fn take(&mut self, act: StageAct) {
        match act {
            StageAct::Grab(mount, _) => (self.selected, self.dragged) = (Some(mount), Some(mount)),
            StageAct::Drop | StageAct::Cancel => self.dragged = None,
            StageAct::Select(mount) => self.selected = mount,
            StageAct::Lead(mount) => self.selected = Some(mount),
            _ => {}
        }
        self.acts.push(act);
    }
}

fn area() -> Rect {
    Rect::from_min_max(pos2(180.0, 20.0), pos2(780.0, 420.0))
}

/// A place on the stage with no handle near it.
fn beside() -> Pos2 {
    area().min + vec2(60.0, 300.0)
}

fn mounts() -> [Mount; 3] {
    [mount(0, BarEnd::Frame), mount(0, BarEnd::Axle), mount(2, BarEnd::Frame)]
}

/// The second and the third are within reach of each other.
fn handles() -> Vec<Handle> {
    let at = [vec2(200.0, 120.0), vec2(400.0, 200.0), vec2(415.0, 200.0)];
    let handle = |((mount, label), at)| Handle {
        mount,
        at: area().min + at,
        carrier: Carrier::Frame,
        label: String::from(label),
        colour: [86, 180, 233],
    };
    mounts()
        .into_iter()
        .zip([FIRST, SECOND, THIRD])
        .zip(at)
        .map(handle)
        .collect()
}

/// The stage, with the ride post and a box to type into at its side.
fn stage() -> Window {
    let draw = |ui: &mut Ui, stage: &mut Stage| {
        if !dressed(ui, &mut stage.is_dressed) {
            return;
        }
        let overlay = Overlay {
            spots: None,
            with: &[],
            handles: &handles(),
            selected: stage.selected,
            dragged: stage.dragged,
            path: &[],
            marks: &[],
            hint: "",
            view: "",
        };
        for act in stage_overlay_ui(ui, area(), &overlay) {
            stage.take(act);
        }
        ui.set_width(150.0);
        let label = ui.label("Note");
        ui.add(egui::TextEdit::singleline(&mut stage.note).desired_width(100.0))
            .labelled_by(label.id);
        ride_post_ui(ui, &stage.bench, false);
    };
    let stage = Stage {
        acts: Vec::new(),
        selected: None,
        dragged: None,
        note: String::new(),
        bench: bench(0),
        is_dressed: false,
    };
    let mut window = Harness::builder()
        .with_size(vec2(800.0, 700.0))
        .with_step_dt(1.0 / 60.0)
        .build_ui_state(draw, stage);
    settle(&mut window);
    window
}

fn acts(window: &mut Window) -> Vec<StageAct> {
    std::mem::take(&mut window.state_mut().acts)
}

#[track_caller]
fn at(window: &Window, label: &str) -> Pos2 {
    window.get_by_label(label).rect().center()
}

/// Takes hold of a handle and moves it a little; the button stays down.
#[track_caller]
fn grab(window: &mut Window, label: &str) -> Pos2 {
    let from = at(window, label);
    window.hover_at(from);
    press(window, PointerButton::Primary, from, true);
    window.hover_at(from + vec2(20.0, 0.0));
    settle(window);
    from
}

fn last_pointer(window: &mut Window) -> Pointer {
    match acts(window).last() {
        Some(StageAct::Drag(pointer)) => *pointer,
        other => panic!("the mount is not being dragged: {other:?}"),
    }
}

#[test]
fn dragging_a_handle_takes_hold_moves_and_lets_go() {
    let mut window = stage();
    let from = at(&window, FIRST);
    let by = vec2(80.0, -40.0);
    drag(&mut window, PointerButton::Primary, from, by);
    let acts = acts(&mut window);
    let plain = |at| Pointer {
        at,
        free: false,
        axis: None,
    };
    assert_eq!(
        acts.first(),
        Some(&StageAct::Grab(mounts()[0], plain(from))),
        "it is taken where it was pressed"
    );
    assert_eq!(acts.last(), Some(&StageAct::Drop));
    let between = &acts[1..acts.len() - 1];
    assert!(between.iter().all(|a| matches!(a, StageAct::Drag(_))), "{acts:?}");
    assert_eq!(
        between.last(),
        Some(&StageAct::Drag(plain(from + by))),
        "the last movement counts"
    );
}

#[test]
fn what_follows_a_drag_is_a_new_act() {
    let mut window = stage();
    let from = at(&window, FIRST);
    drag(&mut window, PointerButton::Primary, from, vec2(50.0, 0.0));
    acts(&mut window);
    window.hover_at(from + vec2(90.0, 30.0));
    settle(&mut window);
    assert_eq!(acts(&mut window), [], "the pointer is free again");
}

#[test]
fn esc_puts_the_mount_back_and_the_rest_of_the_movement_does_nothing() {
    let mut window = stage();
    let from = grab(&mut window, FIRST);
    assert!(matches!(acts(&mut window).first(), Some(StageAct::Grab(..))));
    window.key_press(Key::Escape);
    window.step();
    let given = acts(&mut window);
    assert_eq!(given.iter().filter(|a| **a == StageAct::Cancel).count(), 1, "{given:?}");
    assert!(!given.contains(&StageAct::Drop), "{given:?}");
    window.hover_at(from + vec2(120.0, 60.0));
    press(&window, PointerButton::Primary, from + vec2(120.0, 60.0), false);
    settle(&mut window);
    assert_eq!(acts(&mut window), [], "neither turned, dropped nor selected");
}

#[test]
fn x_y_and_z_held_keep_the_drag_to_an_axis() {
    for (key, axis) in [(Key::X, 0), (Key::Y, 1), (Key::Z, 2)] {
        let mut window = stage();
        let from = grab(&mut window, FIRST);
        assert_eq!(last_pointer(&mut window).axis, None);
        window.key_down(key);
        window.hover_at(from + vec2(40.0, 10.0));
        settle(&mut window);
        assert_eq!(last_pointer(&mut window).axis, Some(axis), "{key:?}");
        window.key_up(key);
        window.hover_at(from + vec2(60.0, 10.0));
        settle(&mut window);
        assert_eq!(last_pointer(&mut window).axis, None, "{key:?} let go");
    }
}

#[test]
fn shift_held_frees_the_drag_from_its_steps() {
    let mut window = stage();
    let from = grab(&mut window, FIRST);
    window.event(Event::ModifiersChanged(Modifiers::SHIFT));
    window.hover_at(from + vec2(40.0, 10.0));
    settle(&mut window);
    assert!(last_pointer(&mut window).free);
    window.event(Event::ModifiersChanged(Modifiers::NONE));
    window.hover_at(from + vec2(50.0, 10.0));
    settle(&mut window);
    assert!(!last_pointer(&mut window).free);
}

/// Drags beside the handles: what the movement after the first one gives.
fn dragged_beside(window: &mut Window, button: PointerButton, by: Vec2) -> Vec<StageAct> {
    let from = beside();
    window.hover_at(from);
    press(window, button, from, true);
    window.hover_at(from + vec2(15.0, 0.0));
    settle(window);
    acts(window);
    window.hover_at(from + vec2(15.0, 0.0) + by);
    settle(window);
    let given = acts(window);
    press(window, button, from + vec2(15.0, 0.0) + by, false);
    settle(window);
    assert_eq!(acts(window), [], "letting go does nothing more");
    given
}

#[test]
fn dragging_beside_the_mounts_turns_and_the_other_buttons_slide() {
    let by = vec2(30.0, -20.0);
    let part = by / area().height();
    let mut window = stage();
    assert_eq!(
        dragged_beside(&mut window, PointerButton::Primary, by),
        [StageAct::Orbit(part)]
    );
    assert_eq!(
        dragged_beside(&mut window, PointerButton::Secondary, by),
        [StageAct::Pan(part)]
    );
    assert_eq!(
        dragged_beside(&mut window, PointerButton::Middle, by),
        [StageAct::Pan(part)]
    );
    window.event(Event::ModifiersChanged(Modifiers::SHIFT));
    assert_eq!(
        dragged_beside(&mut window, PointerButton::Primary, by),
        [StageAct::Pan(part)]
    );
}

#[test]
fn the_right_button_slides_from_a_handle_too() {
    let mut window = stage();
    let from = at(&window, FIRST);
    drag(&mut window, PointerButton::Secondary, from, vec2(60.0, 10.0));
    let acts = acts(&mut window);
    assert!(
        !acts.is_empty() && acts.iter().all(|a| matches!(a, StageAct::Pan(_))),
        "{acts:?}"
    );
}

fn scrolled(window: &mut Window, points: f32) -> f32 {
    window.hover_at(beside());
    window.event(Event::MouseWheel {
        unit: MouseWheelUnit::Point,
        delta: vec2(0.0, points),
        phase: egui::TouchPhase::Move,
        modifiers: Modifiers::NONE,
    });
    // Egui spreads a turn of the wheel over some frames.
    window.run_steps(40);
    let factor = |act| {
        if let StageAct::Zoom(factor) = act {
            factor
        } else {
            panic!("{act:?} is no zoom")
        }
    };
    acts(window).into_iter().map(factor).product()
}

#[test]
fn the_wheel_comes_nearer_and_back_by_the_same_factor() {
    let mut window = stage();
    let nearer = scrolled(&mut window, 60.0);
    assert!(nearer > 1.05, "up comes nearer: {nearer}");
    let back = scrolled(&mut window, -60.0);
    assert!((nearer * back - 1.0).abs() < 1e-3, "{nearer} {back}");
}

#[test]
fn a_pinch_zooms_by_its_factor() {
    let mut window = stage();
    window.hover_at(beside());
    window.event(Event::Zoom(1.25));
    settle(&mut window);
    assert_eq!(acts(&mut window), [StageAct::Zoom(1.25)]);
}

#[test]
fn the_wheel_beside_the_stage_does_not_zoom() {
    let mut window = stage();
    window.hover_at(pos2(60.0, 600.0));
    window.event(Event::Zoom(1.25));
    settle(&mut window);
    assert_eq!(acts(&mut window), []);
}

#[test]
fn a_click_selects_the_nearest_handle_and_one_beside_selects_none() {
    let mut window = stage();
    let first = at(&window, FIRST);
    click_at(&mut window, first);
    assert_eq!(acts(&mut window), [StageAct::Select(Some(mounts()[0]))]);
    // Between two that are both in reach, a little nearer to one.
    let between = at(&window, SECOND).lerp(at(&window, THIRD), 0.6);
    click_at(&mut window, between);
    assert_eq!(acts(&mut window), [StageAct::Select(Some(mounts()[2]))]);
    click_at(&mut window, beside());
    assert_eq!(acts(&mut window), [StageAct::Select(None)]);
}

#[test]
fn tab_reaches_every_handle_and_selects_it() {
    let mut window = stage();
    let mut reached = Vec::new();
    for _ in 0..12 {
        key(&mut window, Key::Tab);
        reached.extend(acts(&mut window));
    }
    for mount in mounts() {
        assert!(reached.contains(&StageAct::Lead(mount)), "{mount:?} in {reached:?}");
    }
    assert!(reached.iter().all(|a| matches!(a, StageAct::Lead(_))), "{reached:?}");
}

#[test]
fn shift_and_a_click_or_enter_choose_a_mount_to_go_along() {
    let mut window = stage();
    let from = at(&window, SECOND);
    window.hover_at(from);
    settle(&mut window);
    acts(&mut window);
    // A quick one, with Shift let go before the frame is over.
    for pressed in [true, false] {
        window.event(Event::PointerButton {
            pos: from,
            button: PointerButton::Primary,
            pressed,
            modifiers: Modifiers::SHIFT,
        });
    }
    settle(&mut window);
    assert_eq!(acts(&mut window), [StageAct::SelectWith(mounts()[1])]);
    window.get_by_label(FIRST).focus();
    settle(&mut window);
    acts(&mut window);
    key(&mut window, Key::Enter);
    assert_eq!(acts(&mut window), [StageAct::SelectWith(mounts()[0])]);
}

#[test]
fn arrows_nudge_the_handle_that_has_the_keyboard() {
    let mut window = stage();
    window.get_by_label(SECOND).focus();
    settle(&mut window);
    assert_eq!(acts(&mut window), [StageAct::Lead(mounts()[1])]);
    assert_nudges(&mut window);
    assert!(
        window.get_by_label(SECOND).is_focused(),
        "arrows do not lead away from it"
    );
}

#[test]
fn arrows_nudge_the_handle_that_was_clicked() {
    let mut window = stage();
    let first = at(&window, FIRST);
    click_at(&mut window, first);
    acts(&mut window);
    assert_nudges(&mut window);
}

#[track_caller]
fn assert_nudges(window: &mut Window) {
    for (arrow, by) in [
        (Key::ArrowRight, vec2(1.0, 0.0)),
        (Key::ArrowLeft, vec2(-1.0, 0.0)),
        (Key::ArrowUp, vec2(0.0, 1.0)),
        (Key::ArrowDown, vec2(0.0, -1.0)),
    ] {
        key(window, arrow);
        assert_eq!(acts(window), [StageAct::Nudge(by)], "{arrow:?}");
    }
}

#[test]
fn arrows_do_not_nudge_what_is_not_selected() {
    let mut window = stage();
    key(&mut window, Key::ArrowRight);
    assert!(!acts(&mut window).iter().any(|a| matches!(a, StageAct::Nudge(_))));
}

#[test]
fn arrows_move_the_cursor_of_a_box_and_the_rider_of_the_post_and_no_mount() {
    for (role, label) in [(Role::TextInput, "Note"), (Role::Slider, "Height of the rails")] {
        let mut window = stage();
        window.state_mut().selected = Some(mounts()[0]);
        window.get_by_role_and_label(role, label).focus();
        settle(&mut window);
        for arrow in [Key::ArrowUp, Key::ArrowDown] {
            key(&mut window, arrow);
        }
        assert_eq!(acts(&mut window), [], "{label}");
    }
}

#[test]
fn a_click_on_a_mount_takes_the_arrows_from_box_and_post() {
    for (role, label) in [(Role::TextInput, "Note"), (Role::Slider, "Height of the rails")] {
        let mut window = stage();
        window.get_by_role_and_label(role, label).click();
        settle(&mut window);
        assert!(window.get_by_role_and_label(role, label).is_focused(), "{label}");
        let first = at(&window, FIRST);
        click_at(&mut window, first);
        acts(&mut window);
        key(&mut window, Key::ArrowUp);
        assert_eq!(
            acts(&mut window),
            [StageAct::Nudge(vec2(0.0, 1.0))],
            "{label} had the keyboard before"
        );
    }
}
