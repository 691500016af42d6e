//! Choosing how the axle hangs.

use egui::accesskit::Role;
use egui::{Key, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use panels::{Act, layout_chooser_ui, layout_words};
use rearend::layouts::Layout;
use shop::{Change, Command};

use crate::support::{Window, acts, bench, click, key, window};

/// So tall that nothing of it scrolls away.
fn chooser() -> Window {
    window(bench(0), vec2(1000.0, 3200.0), layout_chooser_ui)
}

fn hang(layout: Layout) -> [Act; 2] {
    [Act::Do(Command::Apply(Change::Hang(layout))), Act::CloseDialog]
}

/// Which card has the keyboard.
fn focused(window: &Window) -> Option<Layout> {
    let has_focus = |layout: &Layout| {
        let mut cards = window.query_all_by_role_and_label(Role::Button, layout.title());
        cards.any(|card| card.is_focused())
    };
    Layout::ALL.into_iter().find(has_focus)
}

#[test]
fn every_layout_has_a_card_that_hangs_the_truck_that_way() {
    for layout in Layout::ALL {
        let mut window = chooser();
        let truck = window.state().bench.setup().clone();
        click(&mut window, Role::Button, layout.title());
        assert_eq!(acts(&mut window), hang(layout));
        let hung = window.state().bench.setup();
        let wanted = layout.hang(&truck);
        assert_eq!(
            [hung.bars.len(), hung.arms.len()],
            [wanted.bars.len(), wanted.arms.len()],
            "{layout:?}"
        );
        let mut rails = hung.rails.clone();
        rails
            .crossmembers_x_m
            .retain(|x| truck.rails.crossmembers_x_m.contains(x));
        assert_eq!(
            (&rails, &hung.axle),
            (&truck.rails, &truck.axle),
            "the truck stays, but for a crossmember that it lacked"
        );
    }
}

#[test]
fn the_keyboard_reaches_every_card_and_chooses_it() {
    let mut reached = Vec::new();
    let mut window = chooser();
    for _ in 0..30 {
        key(&mut window, Key::Tab);
        reached.extend(focused(&window));
    }
    for layout in Layout::ALL {
        assert!(reached.contains(&layout), "{layout:?} in {reached:?}");
    }
    for chooses in [Key::Enter, Key::Space] {
        let mut window = chooser();
        while focused(&window) != Some(Layout::Wishbone) {
            key(&mut window, Key::Tab);
        }
        assert_eq!(acts(&mut window), [], "reaching is not choosing");
        key(&mut window, chooses);
        assert_eq!(acts(&mut window), hang(Layout::Wishbone), "{chooses:?}");
    }
}

#[test]
fn the_card_that_has_the_keyboard_is_in_sight() {
    let high = 500.0;
    let mut window = window(bench(0), vec2(700.0, high), layout_chooser_ui);
    for layout in Layout::ALL {
        while focused(&window) != Some(layout) {
            key(&mut window, Key::Tab);
        }
        // The list glides there.
        window.run_steps(40);
        let card = window.get_by_role_and_label(Role::Button, layout.title()).rect();
        assert!(
            card.bottom() > 0.0 && card.center().y < high && card.center().y > 0.0,
            "{layout:?} at {card:?}"
        );
    }
}

#[test]
fn a_card_is_heard_with_what_it_costs() {
    let window = chooser();
    for layout in Layout::ALL {
        let card = window.get_by_role_and_label(Role::Button, layout.title());
        let heard = card.accesskit_node().description().unwrap_or_default();
        let words = layout_words(layout);
        assert!(heard.contains(words.good) && heard.contains(words.costs), "{heard}");
    }
}

#[test]
fn it_says_how_the_truck_hangs_now() {
    let window = chooser();
    let name = window.state().bench.setup().layout_name();
    assert!(window.query_by_label_contains(&name).is_some());
}

#[test]
fn every_layout_is_described_in_its_own_words() {
    let mut sentences: Vec<_> = Layout::ALL
        .into_iter()
        .map(layout_words)
        .flat_map(|w| [w.good, w.costs])
        .collect();
    assert!(sentences.iter().all(|s| s.len() > 40 && s.ends_with('.')));
    sentences.sort_unstable();
    let all = sentences.len();
    sentences.dedup();
    assert_eq!(sentences.len(), all, "no two are the same");
}
