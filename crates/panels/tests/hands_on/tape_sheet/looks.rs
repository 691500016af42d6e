//! Where things are on the sheet: nothing is cut off, nothing moves what is beside it.

use egui::{Rect, Shape, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use panels::tape_sheet_ui;
use rearend::measure::{self, Described, SHEET};
use rearend::tape::Units;
use shop::{Bench, Change, Command};

use super::{Role, enter, open};
use crate::support::{Window, bench, key, settle, window};

/// The narrowest the program lays it out.
const NARROWEST: f32 = 384.0;

/// A truck of which everything is described that can be, on air.
fn described() -> Bench {
    let mut bench = bench(0);
    for part in Described::ALL {
        bench.run(Command::Apply(Change::Describe(part, true)));
    }
    bench.run(Command::SetUnits(Units::Sixteenths));
    bench
}

/// With all its parts open.
fn unfolded(wide: f32) -> Window {
    let mut window = window(described(), vec2(wide, 7000.0), tape_sheet_ui);
    for title in SHEET[1..].iter().map(|section| section.title).chain(["In the way"]) {
        open(&mut window, title);
    }
    window
}

/// Everything that says something or can be used, and where.
fn placed(window: &Window) -> Vec<(String, Rect)> {
    let is_seen = |role| {
        matches!(
            role,
            Role::TextInput | Role::Label | Role::Button | Role::CheckBox | Role::RadioButton
        )
    };
    let nodes = window.query_all(egui_kittest::kittest::By::new().predicate(move |node| is_seen(node.role())));
    nodes
        .map(|node| {
            let accessible = node.accesskit_node();
            let words = accessible.label().or_else(|| accessible.value()).unwrap_or_default();
            (words, node.rect())
        })
        .collect()
}

#[track_caller]
fn assert_within(window: &Window, wide: f32) {
    let placed = placed(window);
    assert!(placed.len() > 100, "{}", placed.len());
    for (words, rect) in placed {
        assert!(rect.left() >= 0.0 && rect.right() <= wide + 0.5, "{words}: {rect}");
    }
}

#[test]
fn nothing_is_cut_at_the_edge_however_much_is_described() {
    for wide in [NARROWEST, 414.0] {
        assert_within(&unfolded(wide), wide);
    }
}

#[test]
fn the_boxes_stand_below_each_other_in_one_column() {
    let window = unfolded(NARROWEST);
    let left = |label: &str| window.get_by_role_and_label(Role::TextInput, label).rect().left();
    let first = left("Frame, outside to outside");
    for measure in
        measure::all().filter(|m| !m.key.ends_with("wheelbase") && m.value(window.state().bench.setup()).is_some())
    {
        assert!((left(measure.name) - first).abs() < 0.5, "{}", measure.name);
    }
}

#[test]
fn an_answer_below_a_box_is_broken_at_the_edge_and_moves_no_column() {
    let mut window = unfolded(NARROWEST);
    let box_of = |window: &Window, label: &str| window.get_by_role_and_label(Role::TextInput, label).rect();
    let before = box_of(&window, "Rail, height");
    enter(
        &mut window,
        "Size on the tyre, if you have it",
        "a size that nobody has ever made or will make",
    );
    enter(
        &mut window,
        "Rail, height",
        "as high as the one on my neighbour's truck",
    );
    enter(&mut window, "Point 1, up", "as high as it goes");
    assert_within(&window, NARROWEST);
    assert_eq!(box_of(&window, "Rail, height").x_range(), before.x_range());
}

/// A panel takes the width of what is in it, unless that keeps to the panel's.
#[test]
fn the_sheet_never_widens_its_panel() {
    let width_id = egui::Id::new("width of the panel");
    let mut window = window(described(), vec2(1200.0, 7000.0), move |ui, bench| {
        let panel = egui::Panel::left("sheet").resizable(true).default_size(430.0);
        let shown = panel.size_range(400.0..=560.0).show(ui, |ui| tape_sheet_ui(ui, bench));
        let wide = shown.response.rect.width();
        ui.data_mut(|d| d.insert_temp(width_id, wide));
        shown.inner
    });
    let wide = |window: &Window| window.ctx.data(|d| d.get_temp::<f32>(width_id)).expect("drawn");
    let before = wide(&window);
    for title in SHEET[1..].iter().map(|section| section.title).chain(["In the way"]) {
        open(&mut window, title);
        assert!(
            (wide(&window) - before).abs() < 0.1,
            "{title}: {} after {before}",
            wide(&window)
        );
    }
    enter(
        &mut window,
        "Rail, height",
        "as high as the one on my neighbour's truck, and then some more",
    );
    assert!((wide(&window) - before).abs() < 0.1);
}

/// The texts within the picture, as far as they are painted there.
fn in_picture(window: &Window, picture: Rect) -> Vec<(String, Rect, Rect)> {
    let shapes = window.output().shapes.iter();
    let texts = shapes.filter_map(|clipped| match &clipped.shape {
        Shape::Text(text) => Some((
            text.galley.text().to_owned(),
            text.visual_bounding_rect(),
            clipped.clip_rect,
        )),
        _ => None,
    });
    texts.filter(|(_, rect, _)| picture.contains(rect.center())).collect()
}

#[test]
fn what_the_picture_says_is_whole_and_beside_its_tape() {
    let mut window = unfolded(360.0);
    let setup = window.state().bench.setup().clone();
    for measure in measure::all() {
        let Some(value) = measure.value(&setup) else { continue };
        if measure.key.ends_with("wheelbase") {
            continue;
        }
        window.get_by_role_and_label(Role::TextInput, measure.name).focus();
        settle(&mut window);
        let picture = window.get_by_role_and_label(Role::Image, measure.how).rect();
        let words = measure.dimension.words(Units::Sixteenths, value);
        let texts = in_picture(&window, picture);
        let of_value = texts.iter().filter(|(text, ..)| *text == words).count();
        assert_eq!((texts.len(), of_value), (1, 1), "{}: {texts:?}", measure.key);
        let (_, rect, clip) = &texts[0];
        assert!(
            picture.contains_rect(*rect) && clip.contains_rect(*rect),
            "{}: {rect} in {picture}",
            measure.key
        );
    }
    key(&mut window, egui::Key::Escape);
}

#[test]
fn what_is_below_the_picture_stays_where_it_is() {
    let mut window = unfolded(NARROWEST);
    let top = |window: &Window| window.get_by_label("First ten: enough to start").rect().top();
    let before = top(&window);
    let longest = measure::all().max_by_key(|m| m.how.len()).expect("measures");
    for name in ["Rail, width", longest.name] {
        window.get_by_role_and_label(Role::TextInput, name).focus();
        settle(&mut window);
        assert!((top(&window) - before).abs() < 0.1, "{name}");
    }
}
