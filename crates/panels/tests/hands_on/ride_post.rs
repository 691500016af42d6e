//! The ride post and its twist wheel.

use egui::accesskit::Role;
use egui::{Key, PointerButton, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use panels::{Act, Action, ride_post_ui};
use rearend::setup::Travel;
use rearend::tape::Units;
use shop::{Bench, Change, Command, Stand};

use crate::support::{Window, acts, bench, click, click_at, commands, drag, key, painted, settle, window};

const HEIGHT: &str = "Height of the rails";
const ROLL: &str = "One wheel up";

/// Places on the screen are single precision: a travel of a quarter metre over some hundred points.
const SCREEN_M: f64 = 1e-6;

fn post(bench: Bench) -> Window {
    window(bench, vec2(150.0, 620.0), |ui, bench| ride_post_ui(ui, bench, false))
}

fn travel(window: &Window) -> Travel {
    window.state().bench.setup().travel
}

fn stand(window: &Window) -> Stand {
    window.state().bench.stand()
}

#[track_caller]
fn focus(window: &mut Window, slider: &str) {
    window.get_by_role_and_label(Role::Slider, slider).focus();
    settle(window);
}

fn repeated(window: &mut Window, arrow: Key, times: usize) {
    for _ in 0..times {
        window.key_press(arrow);
    }
    settle(window);
}

#[test]
fn arrow_keys_move_the_height_by_one_step_of_the_unit() {
    // A sixteenth, a twentieth of an inch, a millimetre.
    for (units, step_m) in [
        (Units::Sixteenths, 0.0254 / 16.0),
        (Units::DecimalInches, 0.0254 / 20.0),
        (Units::Millimetres, 0.001),
    ] {
        let mut bench = bench(0);
        bench.run(Command::SetUnits(units));
        let mut window = post(bench);
        let start = stand(&window);
        focus(&mut window, HEIGHT);
        key(&mut window, Key::ArrowUp);
        assert!(
            (stand(&window).height_m - start.height_m - step_m).abs() < 1e-12,
            "{units:?}: up is higher"
        );
        key(&mut window, Key::ArrowDown);
        key(&mut window, Key::ArrowDown);
        assert!(
            (stand(&window).height_m - start.height_m + step_m).abs() < 1e-12,
            "{units:?}: down is lower"
        );
        assert_eq!(stand(&window).roll_rad, start.roll_rad);
        repeated(&mut window, Key::ArrowRight, 2);
        assert!(
            (stand(&window).height_m - start.height_m + step_m).abs() < 1e-12,
            "sideways arrows are not its own"
        );
        assert!(
            window.get_by_role_and_label(Role::Slider, HEIGHT).is_focused(),
            "arrows do not lead away from it"
        );
    }
}

#[test]
fn arrow_keys_do_nothing_to_what_has_not_got_the_keyboard() {
    let mut window = post(bench(0));
    for arrow in [Key::ArrowUp, Key::ArrowDown, Key::ArrowLeft, Key::ArrowRight] {
        key(&mut window, arrow);
        // Arrows lead from one thing to the next where nothing keeps them.
        window
            .ctx
            .memory_mut(|m| m.focused().into_iter().for_each(|id| m.surrender_focus(id)));
    }
    assert_eq!(commands(&mut window), []);
}

#[test]
fn arrow_keys_stay_within_the_travel() {
    let mut window = post(bench(0));
    let Travel {
        laid_out_m,
        full_lift_m,
        ..
    } = travel(&window);
    let steps = 200;
    assert!(
        200.0 * Units::default().step_m() > full_lift_m - laid_out_m,
        "more than the whole travel"
    );
    focus(&mut window, HEIGHT);
    repeated(&mut window, Key::ArrowUp, steps);
    assert_eq!(stand(&window).height_m, full_lift_m);
    repeated(&mut window, Key::ArrowDown, steps);
    assert_eq!(stand(&window).height_m, laid_out_m);
}

#[test]
fn a_click_on_the_post_stands_the_truck_there() {
    let mut window = post(bench(0));
    let Travel {
        laid_out_m,
        full_lift_m,
        ..
    } = travel(&window);
    let rect = window.get_by_role_and_label(Role::Slider, HEIGHT).rect();
    for (at, height_m) in [
        (rect.center(), f64::midpoint(laid_out_m, full_lift_m)),
        (rect.center_top() + vec2(0.0, 2.0), full_lift_m),
        (rect.center_bottom() - vec2(0.0, 2.0), laid_out_m),
    ] {
        click_at(&mut window, at);
        assert!(
            (stand(&window).height_m - height_m).abs() < SCREEN_M,
            "{:?} for {height_m}",
            stand(&window)
        );
    }
}

#[test]
fn dragging_the_rider_ends_where_it_is_let_go() {
    let mut window = post(bench(0));
    let Travel { full_lift_m, .. } = travel(&window);
    let rect = window.get_by_role_and_label(Role::Slider, HEIGHT).rect();
    click_at(&mut window, rect.center() - vec2(0.0, 90.0));
    let there = stand(&window).height_m;
    drag(
        &mut window,
        PointerButton::Primary,
        rect.center() + vec2(0.0, 40.0),
        vec2(0.0, -130.0),
    );
    assert!(
        (stand(&window).height_m - there).abs() < SCREEN_M,
        "{:?} for {there}",
        stand(&window)
    );
    drag(&mut window, PointerButton::Primary, rect.center(), vec2(5.0, -900.0));
    assert_eq!(stand(&window).height_m, full_lift_m, "beyond the post is its end");
}

#[test]
fn a_worked_post_has_the_keyboard() {
    let mut window = post(bench(0));
    let rect = window.get_by_role_and_label(Role::Slider, HEIGHT).rect();
    click_at(&mut window, rect.center());
    let before = stand(&window).height_m;
    key(&mut window, Key::ArrowUp);
    assert!((stand(&window).height_m - before - Units::default().step_m()).abs() < 1e-12);
}

#[test]
fn the_post_tells_the_height_it_shows() {
    let mut window = post(bench(0));
    focus(&mut window, HEIGHT);
    key(&mut window, Key::ArrowUp);
    let told = window
        .get_by_role_and_label(Role::Slider, HEIGHT)
        .accesskit_node()
        .numeric_value();
    assert_eq!(told, Some(stand(&window).height_m));
    assert!(painted(&window).contains(&Units::default().length(stand(&window).height_m)));
}

#[test]
fn arrow_keys_turn_the_wheel_towards_the_side_they_point_to() {
    let mut window = post(bench(0));
    focus(&mut window, ROLL);
    key(&mut window, Key::ArrowRight);
    let first = stand(&window).roll_rad;
    assert!(first < 0.0, "the right wheel goes up: {first}");
    assert!(painted(&window).iter().any(|t| t.starts_with("right wheel up")));
    key(&mut window, Key::ArrowRight);
    assert!((stand(&window).roll_rad - 2.0 * first).abs() < 1e-12, "steps are equal");
    repeated(&mut window, Key::ArrowLeft, 3);
    assert!(
        (stand(&window).roll_rad + first).abs() < 1e-12,
        "the left wheel goes up"
    );
    assert!(painted(&window).iter().any(|t| t.starts_with("left wheel up")));
    assert_eq!(stand(&window).height_m, travel(&window).ride_m);
    assert!(window.get_by_role_and_label(Role::Slider, ROLL).is_focused());
}

#[test]
fn the_wheel_stays_within_the_roll_of_the_travel() {
    let mut window = post(bench(0));
    let most = travel(&window).one_wheel_up_rad;
    focus(&mut window, ROLL);
    repeated(&mut window, Key::ArrowLeft, 80);
    assert_eq!(stand(&window).roll_rad, most);
    repeated(&mut window, Key::ArrowRight, 160);
    assert_eq!(stand(&window).roll_rad, -most);

    let rect = window.get_by_role_and_label(Role::Slider, ROLL).rect();
    drag(&mut window, PointerButton::Primary, rect.center(), vec2(-400.0, 0.0));
    assert_eq!(
        stand(&window).roll_rad,
        most,
        "dragged to the left, the left wheel is up"
    );
}

#[test]
fn a_double_click_levels_the_wheels() {
    let mut window = post(bench(0));
    focus(&mut window, ROLL);
    repeated(&mut window, Key::ArrowLeft, 3);
    assert!(stand(&window).roll_rad > 0.0);
    let rect = window.get_by_role_and_label(Role::Slider, ROLL).rect();
    click_at(&mut window, rect.center());
    assert!(stand(&window).roll_rad > 0.0, "one click changes nothing");
    click_at(&mut window, rect.center());
    assert_eq!(stand(&window).roll_rad, 0.0);
}

#[test]
fn a_truck_without_roll_stays_level() {
    let mut bench = bench(0);
    let travel = Travel {
        one_wheel_up_rad: 0.0,
        ..bench.setup().travel
    };
    bench.run(Command::Apply(Change::SetTravel(travel)));
    let mut window = post(bench);
    focus(&mut window, ROLL);
    repeated(&mut window, Key::ArrowLeft, 3);
    assert_eq!(stand(&window).roll_rad, 0.0);
}

#[test]
fn the_button_runs_and_stops_the_travel() {
    let mut still = post(bench(0));
    click(&mut still, Role::Button, "Run the travel");
    assert_eq!(acts(&mut still), [Act::Choose(Action::Play)]);
    let mut running = window(bench(0), vec2(150.0, 620.0), |ui, bench| ride_post_ui(ui, bench, true));
    click(&mut running, Role::Button, "Stop the travel");
    assert_eq!(acts(&mut running), [Act::Choose(Action::Play)]);
}
