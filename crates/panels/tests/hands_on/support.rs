//! A panel on a bench, without a window.

use egui::accesskit::Role;
use egui::{Event, Modifiers, PointerButton, Pos2, Shape, Ui, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use panels::{Act, theme};
use rearend::setup::{BarEnd, BarId, Mount, Side};
use shop::{Bench, Command, demo};

/// A bench, and everything that was done on the panel over it.
pub struct Desk {
    pub bench: Bench,
    pub acts: Vec<Act>,
    is_dressed: bool,
}

/// A panel that is drawn.
pub type Window = Harness<'static, Desk>;

/// Draws a panel over a bench; whatever is done there is carried out at once.
pub fn window(bench: Bench, size: Vec2, mut panel: impl FnMut(&mut Ui, &Bench) -> Vec<Act> + 'static) -> Window {
    let draw = move |ui: &mut Ui, desk: &mut Desk| {
        if !dressed(ui, &mut desk.is_dressed) {
            return;
        }
        for act in panel(ui, &desk.bench) {
            if let Act::Do(command) = &act {
                desk.bench.run(command.clone());
            }
            desk.acts.push(act);
        }
    };
    let desk = Desk {
        bench,
        acts: Vec::new(),
        is_dressed: false,
    };
    let mut window = Harness::builder()
        .with_size(size)
        .with_step_dt(1.0 / 60.0)
        .build_ui_state(draw, desk);
    settle(&mut window);
    window
}

/// Fonts are there from the pass after the one that brings them; until then nothing can be written.
pub fn dressed(ui: &Ui, is_dressed: &mut bool) -> bool {
    if !*is_dressed {
        theme::dress(ui.ctx());
        ui.ctx().request_repaint();
    }
    std::mem::replace(is_dressed, true)
}

/// A bench with a demo truck.
pub fn bench(which: usize) -> Bench {
    Bench::new(demo::ALL[which].setup().expect("a demo scene reads"), None)
}

/// An end of a bar as drawn.
pub fn mount(bar: usize, end: BarEnd) -> Mount {
    Mount::Bar {
        bar: BarId(bar),
        end,
        side: Side::Drawn,
    }
}

/// Draws what waits, and then until what follows from it is seen.
pub fn settle<S>(window: &mut Harness<'static, S>) {
    window.run_steps(4);
}

/// What was done since this was last asked.
pub fn acts(window: &mut Window) -> Vec<Act> {
    std::mem::take(&mut window.state_mut().acts)
}

/// The commands among it.
pub fn commands(window: &mut Window) -> Vec<Command> {
    let command = |act| {
        if let Act::Do(command) = act {
            Some(command)
        } else {
            None
        }
    };
    acts(window).into_iter().filter_map(command).collect()
}

/// Clicks what has this role and says this.
#[track_caller]
pub fn click<S>(window: &mut Harness<'static, S>, role: Role, label: &str) {
    window.get_by_role_and_label(role, label).click();
    settle(window);
}

/// Clicks a place.
pub fn click_at<S>(window: &mut Harness<'static, S>, at: Pos2) {
    window.hover_at(at);
    press(window, PointerButton::Primary, at, true);
    press(window, PointerButton::Primary, at, false);
    settle(window);
}

/// Presses or lets go of a button.
pub fn press<S>(window: &Harness<'static, S>, button: PointerButton, pos: Pos2, pressed: bool) {
    window.event(Event::PointerButton {
        pos,
        button,
        pressed,
        modifiers: Modifiers::NONE,
    });
}

/// Drags from a place by a way, in steps, and lets go.
pub fn drag<S>(window: &mut Harness<'static, S>, button: PointerButton, from: Pos2, by: Vec2) {
    window.hover_at(from);
    press(window, button, from, true);
    for part in [0.25, 0.5, 0.75, 1.0] {
        window.hover_at(from + by * part);
    }
    press(window, button, from + by, false);
    settle(window);
}

/// Presses a key and lets it go.
pub fn key<S>(window: &mut Harness<'static, S>, key: egui::Key) {
    window.key_press(key);
    settle(window);
}

/// Ctrl as a keyboard sends it.
pub const CTRL: Modifiers = Modifiers {
    ctrl: true,
    command: true,
    ..Modifiers::NONE
};

/// Types into the box with this label, in place of what it holds.
#[track_caller]
pub fn write(window: &mut Window, label: &str, text: &str) {
    window.get_by_role_and_label(Role::TextInput, label).focus();
    settle(window);
    window.get_by_role_and_label(Role::TextInput, label).type_text(text);
    settle(window);
    assert_eq!(
        written(window, label),
        text,
        "the text stands in the box in place of what was there"
    );
}

/// What the box with this label holds.
#[track_caller]
pub fn written(window: &Window, label: &str) -> String {
    let field = window.get_by_role_and_label(Role::TextInput, label);
    field.value().unwrap_or_default()
}

/// Whether a button, box or entry is ticked.
#[track_caller]
pub fn is_ticked<S>(window: &Harness<'static, S>, role: Role, label: &str) -> bool {
    let node = window.get_by_role_and_label(role, label);
    node.accesskit_node().toggled() == Some(egui::accesskit::Toggled::True)
}

/// Whether anything says exactly this.
pub fn says<S>(window: &Harness<'static, S>, words: &str) -> bool {
    window.query_all_by_label(words).next().is_some()
}

/// Every text that is painted, in the order of painting.
pub fn painted<S>(window: &Harness<'static, S>) -> Vec<String> {
    let mut texts = Vec::new();
    for clipped in &window.output().shapes {
        collect(&clipped.shape, &mut texts);
    }
    texts
}

fn collect(shape: &Shape, texts: &mut Vec<String>) {
    match shape {
        Shape::Text(text) => texts.push(text.galley.text().to_owned()),
        Shape::Vec(shapes) => shapes.iter().for_each(|s| collect(s, texts)),
        _ => {}
    }
}
