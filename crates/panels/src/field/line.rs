//! Lines of a panel whose columns stand still: a name that is broken where it is long, a box, and what is said of the box. What does
//! not read is explained below, over the whole width.

use egui::{Align, Id, Layout, Response, RichText, Ui, vec2};
use rearend::measure::Range;
use rearend::tape::{Dimension, Units, Ways};

use super::{Held, Label, Typed, complaint_ui};
use crate::theme::Inks;

/// Width of a box for a number.
const BOX: f32 = 82.0;

/// Room for a unit, the way that is plus, and a mark.
const BEHIND: f32 = 142.0;

/// What a box takes, and how it is written.
#[derive(Clone, Copy, Debug)]
pub struct Takes {
    /// What it measures.
    pub dimension: Dimension,
    /// The units of the screen.
    pub units: Units,
    /// Which way is more than nothing, where it has one.
    pub ways: Option<Ways>,
    /// What it may be.
    pub range: Range,
}

impl Takes {
    fn read(self, text: &str) -> Result<f64, String> {
        let read = match self.ways {
            Some(ways) => ways.read(self.dimension, self.units, text),
            None => self.dimension.read(self.units, text),
        };
        let value = read.map_err(|e| e.to_string())?;
        match self.range.refusal(self.units, value) {
            Some(refusal) => Err(refusal),
            None => Ok(value),
        }
    }

    /// The unit, and which way is plus.
    fn symbol(self) -> String {
        let unit = self.dimension.symbol(self.units);
        match self.ways {
            Some(ways) => format!("{unit}, + {}", ways.plus()),
            None => unit.to_owned(),
        }
    }

    fn tip(self) -> Option<String> {
        let ways = self.ways?;
        let (plus, minus) = (ways.plus(), ways.minus());
        Some(format!("+ is {plus}, - is {minus}; or type it: 3 {minus}"))
    }
}

/// A line for anything measured, and whatever `after` adds at its end. Besides what was entered it says whether the line has the pointer
/// or the keyboard.
pub fn measured_line(
    ui: &mut Ui,
    id: impl std::hash::Hash + std::fmt::Debug,
    label: &str,
    takes: Takes,
    value: f64,
    after: impl FnOnce(&mut Ui),
) -> (Option<f64>, bool) {
    checked_line(ui, id, label.into(), (takes, value), Ok, after)
}

/// The same, and what was entered goes through `check`, which has a sentence for what does not go with the rest.
pub fn checked_line<T>(
    ui: &mut Ui,
    id: impl std::hash::Hash + std::fmt::Debug,
    label: Label<'_>,
    (takes, value): (Takes, f64),
    check: impl Fn(f64) -> Result<T, String>,
    after: impl FnOnce(&mut Ui),
) -> (Option<T>, bool) {
    let (edit, rest) = (
        takes.dimension.editable(takes.units, value),
        takes.dimension.at_rest(takes.units, value),
    );
    let held = Held {
        edit: &edit,
        rest: &rest,
    };
    let behind = |ui: &mut Ui| {
        let soft = Inks::of(ui).soft;
        let symbol = ui.label(RichText::new(takes.symbol()).size(12.5).color(soft));
        if let Some(tip) = takes.tip() {
            symbol.on_hover_text(tip);
        }
        ui.with_layout(Layout::right_to_left(Align::Center), after);
    };
    let (typed, attended) = line(ui, Id::new(("measure", id)), label, held, BOX, behind);
    (typed.entered(ui, &edit, |text| check(takes.read(text)?)), attended)
}

/// A line for something that is not a number. Returns what was read once it is entered.
pub fn text_line<T>(
    ui: &mut Ui,
    id: impl std::hash::Hash + std::fmt::Debug,
    label: &str,
    shown: &str,
    read: impl Fn(&str) -> Result<T, String>,
) -> Option<T> {
    let (typed, _) = line(
        ui,
        Id::new(("text", id)),
        label.into(),
        Held::plain(shown),
        BOX + BEHIND,
        |_| {},
    );
    typed.entered(ui, shown, read)
}

/// A name, its box of a width, what is behind it, and below it what there is to complain about.
fn line(
    ui: &mut Ui,
    id: Id,
    label: Label<'_>,
    held: Held<'_>,
    wide: f32,
    behind: impl FnOnce(&mut Ui),
) -> (Typed, bool) {
    let whole = ui.available_width();
    let (typed, attended) = ui
        .horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = 6.0;
            let named = name_ui(ui, label, (whole - BOX - BEHIND - 12.0).max(80.0));
            let typed = Typed::ui(ui, id, held, wide);
            typed.edit.clone().labelled_by(named.id);
            behind(ui);
            let attended = named.hovered() || typed.edit.hovered() || typed.edit.has_focus();
            (typed, attended)
        })
        .inner;
    if let Some(complaint) = typed.complaint() {
        complaint_ui(ui, complaint, whole);
    }
    (typed, attended)
}

/// A name in a column of a width, in as many lines as it takes.
fn name_ui(ui: &mut Ui, label: Label<'_>, wide: f32) -> Response {
    let high = ui.spacing().interact_size.y;
    ui.allocate_ui_with_layout(
        vec2(wide, high),
        Layout::left_to_right(Align::Center).with_main_wrap(false),
        |ui| {
            ui.set_width(wide);
            ui.style_mut().wrap_mode = Some(egui::TextWrapMode::Wrap);
            label.ui(ui)
        },
    )
    .inner
}

/// Width of each of several columns behind a name.
fn cell_wide(ui: &Ui, columns: usize) -> f32 {
    let columns = f32::from(u8::try_from(columns.max(1)).unwrap_or(u8::MAX));
    ((ui.available_width() - CELL_NAME - GAP) / columns - GAP).clamp(48.0, 110.0)
}

/// Room for the name of a line of several boxes.
const CELL_NAME: f32 = 62.0;

/// Between the columns.
const GAP: f32 = 6.0;

/// The headings of lines of several boxes: what each is, with its unit.
pub fn cells_head(ui: &mut Ui, heads: &[String]) {
    let wide = cell_wide(ui, heads.len());
    let soft = Inks::of(ui).soft;
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = GAP;
        ui.allocate_exact_size(vec2(CELL_NAME, 1.0), egui::Sense::hover());
        for head in heads {
            ui.allocate_ui_with_layout(vec2(wide, 0.0), Layout::top_down(Align::Min), |ui| {
                ui.set_width(wide);
                ui.label(RichText::new(head).size(12.0).color(soft));
            });
        }
    });
}

/// A line of several boxes behind one name, each with what a screen reader calls it. True if one was entered.
pub fn cells_line(
    ui: &mut Ui,
    id: impl std::hash::Hash + std::fmt::Debug + Copy,
    name: &str,
    cells: &mut [(String, Takes, &mut f64)],
) -> bool {
    let wide = cell_wide(ui, cells.len());
    let mut drawn = Vec::new();
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = GAP;
        name_ui(ui, name.into(), CELL_NAME);
        for (place, (heard, takes, value)) in cells.iter().enumerate() {
            let edit = takes.dimension.editable(takes.units, **value);
            let rest = takes.dimension.at_rest(takes.units, **value);
            let held = Held {
                edit: &edit,
                rest: &rest,
            };
            let typed = Typed::ui(ui, Id::new(("cell", id, place)), held, wide);
            ui.ctx()
                .accesskit_node_builder(typed.edit.id, |node| node.set_label(heard.clone()));
            drawn.push((typed, edit));
        }
    });
    let mut entered = false;
    for ((typed, edit), (heard, takes, value)) in drawn.into_iter().zip(cells) {
        if let Some(complaint) = typed.complaint() {
            let whole = ui.available_width();
            complaint_ui(ui, &format!("{heard}: {complaint}"), whole);
        }
        if let Some(read) = typed.entered(ui, &edit, |text| takes.read(text)) {
            **value = read;
            entered = true;
        }
    }
    entered
}
