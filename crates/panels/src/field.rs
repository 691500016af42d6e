//! Boxes to type lengths and angles into.

use egui::{Id, Ui};
use rearend::tape::{Dimension, Units};

/// A box for a length. Returns the length once it is entered and reads; what does not read is kept, with a sentence below.
pub fn length_field(
    ui: &mut Ui,
    id: impl std::hash::Hash + std::fmt::Debug,
    label: &str,
    length_m: f64,
    units: Units,
) -> Option<f64> {
    typed(ui, Id::new(("length", id)), label, &units.editable(length_m), |text| {
        units.read(text).map_err(|e| e.to_string())
    })
    .filter(|typed_m| (typed_m - length_m).abs() > 1e-9)
}

/// A box for an angle in degrees.
pub fn angle_field(
    ui: &mut Ui,
    id: impl std::hash::Hash + std::fmt::Debug,
    label: &str,
    angle_rad: f64,
    most_deg: f64,
) -> Option<f64> {
    let shown = format!("{:.3}", angle_rad.to_degrees());
    let shown = shown.trim_end_matches('0').trim_end_matches('.');
    let read = |text: &str| {
        let text = text.trim().trim_end_matches(['°', ' ']);
        let deg = text.parse::<f64>().ok().filter(|d| d.is_finite());
        let deg = deg.ok_or_else(|| "a number of degrees is expected, such as 2.5".to_owned())?;
        if (0.0..=most_deg).contains(&deg) {
            Ok(deg.to_radians())
        } else {
            Err(format!("0 to {most_deg} degrees are expected"))
        }
    };
    typed(ui, Id::new(("angle", id)), label, shown, read).filter(|typed_rad| (typed_rad - angle_rad).abs() > 1e-9)
}

/// A box for a plain number within bounds.
pub fn number_field(
    ui: &mut Ui,
    id: impl std::hash::Hash + std::fmt::Debug,
    label: &str,
    value: f64,
    bounds: std::ops::RangeInclusive<f64>,
) -> Option<f64> {
    let shown = format!("{value:.3}");
    let shown = shown.trim_end_matches('0').trim_end_matches('.');
    let read = |text: &str| {
        let number = text.trim().parse::<f64>().ok().filter(|n| bounds.contains(n));
        number.ok_or_else(|| format!("a number from {} to {} is expected", bounds.start(), bounds.end()))
    };
    typed(ui, Id::new(("number", id)), label, shown, read).filter(|typed| (typed - value).abs() > 1e-9)
}

/// A box for anything measured, its unit behind it, and whatever `after` adds to the line. Besides what was entered it says whether the
/// line has the pointer or the keyboard.
pub fn measured_field(
    ui: &mut Ui,
    id: impl std::hash::Hash + std::fmt::Debug,
    label: &str,
    (dimension, units): (Dimension, Units),
    value: f64,
    after: impl FnOnce(&mut Ui),
) -> (Option<f64>, bool) {
    let read = |text: &str| dimension.read(units, text).map_err(|e| e.to_string());
    let shown = dimension.editable(units, value);
    let after = |ui: &mut Ui| {
        ui.label(dimension.symbol(units));
        after(ui);
    };
    typed_and_after(ui, Id::new(("measure", id)), label, &shown, read, after)
}

fn next_box_id() -> Id {
    Id::new("the box that the keyboard goes on to")
}

/// Lets the keyboard go on to the measured field of this name, what it holds selected: what was entered goes from line to line. Shift
/// and Tab go back by themselves.
pub fn go_on_to(ui: &Ui, id: impl std::hash::Hash + std::fmt::Debug) {
    if !ui.input(|i| i.modifiers.shift) {
        ui.data_mut(|d| d.insert_temp(next_box_id(), Id::new(("measure", id))));
        ui.ctx().request_repaint();
    }
}

/// A box for something that is not a number. Returns what was read once it is entered.
pub fn text_field<T>(
    ui: &mut Ui,
    id: impl std::hash::Hash + std::fmt::Debug,
    label: &str,
    shown: &str,
    read: impl Fn(&str) -> Result<T, String>,
) -> Option<T> {
    typed_and_after(ui, Id::new(("text", id)), label, shown, read, |_| {}).0
}

/// What stands beside a box, and what it is called where that alone would not tell which of several it is.
#[derive(Clone, Copy)]
pub struct Label<'a> {
    /// On the screen.
    pub shown: &'a str,
    /// To a screen reader.
    pub heard: &'a str,
}

impl<'a> From<&'a str> for Label<'a> {
    fn from(text: &'a str) -> Self {
        Self {
            shown: text,
            heard: text,
        }
    }
}

impl Label<'_> {
    /// Draws it, to be the name of what follows.
    pub fn ui(self, ui: &mut Ui) -> egui::Response {
        let named = ui.label(self.shown);
        let enabled = ui.is_enabled();
        named.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Label, enabled, self.heard));
        named
    }
}

/// A box of one among several like it. Returns what was read once it is entered.
pub fn labelled_field<T>(
    ui: &mut Ui,
    id: impl std::hash::Hash + std::fmt::Debug,
    label: Label<'_>,
    shown: &str,
    read: impl Fn(&str) -> Result<T, String>,
) -> Option<T> {
    typed_and_after(ui, Id::new(("labelled", id)), label, shown, read, |_| {}).0
}

/// Sentences below a box are broken at this width.
const COMPLAINT_WIDTH: f32 = 180.0;

/// What is being typed, until it is entered.
#[derive(Clone, Default)]
struct Draft {
    text: String,
    complaint: Option<String>,
}

fn typed(ui: &mut Ui, id: Id, label: &str, shown: &str, read: impl Fn(&str) -> Result<f64, String>) -> Option<f64> {
    typed_and_after(ui, id, label, shown, read, |_| {}).0
}

fn typed_and_after<'a, T>(
    ui: &mut Ui,
    id: Id,
    label: impl Into<Label<'a>>,
    shown: &str,
    read: impl Fn(&str) -> Result<T, String>,
    after: impl FnOnce(&mut Ui),
) -> (Option<T>, bool) {
    let draft = ui.data(|d| d.get_temp::<Draft>(id));
    let mut text = draft.as_ref().map_or_else(|| shown.to_owned(), |d| d.text.clone());
    let named = label.into().ui(ui);
    // Names are longer than numbers.
    let letters = u8::try_from(shown.chars().count()).unwrap_or(u8::MAX);
    let wide = (f32::from(letters) * 8.0).clamp(92.0, 210.0);
    let edit = ui
        .add(
            egui::TextEdit::singleline(&mut text)
                .desired_width(wide)
                .min_size(egui::vec2(74.0, 0.0))
                .id(id.with("box")),
        )
        .labelled_by(named.id);
    if ui.data(|d| d.get_temp::<Id>(next_box_id())) == Some(id) {
        ui.data_mut(|d| d.remove::<Id>(next_box_id()));
        edit.request_focus();
        select_all(ui, edit.id, text.chars().count());
    }
    after(ui);
    let attended = named.hovered() || edit.hovered() || edit.has_focus();
    let complaint = draft.as_ref().and_then(|d| d.complaint.clone());
    if let Some(complaint) = &complaint {
        let (_, colour) = crate::theme::Inks::grade(ui, rearend::findings::Grade::WontWork);
        ui.end_row();
        ui.label("");
        // A sentence in one line would make the panel as wide as itself.
        ui.scope(|ui| {
            ui.set_max_width(COMPLAINT_WIDTH);
            ui.add(egui::Label::new(egui::RichText::new(complaint).color(colour)).wrap());
        });
    }
    ui.end_row();
    if edit.gained_focus() {
        select_all(ui, id.with("box"), text.chars().count());
    }
    if edit.lost_focus() {
        if ui.input(|i| i.key_pressed(egui::Key::Escape)) || text == shown {
            ui.data_mut(|d| d.remove::<Draft>(id));
            return (None, attended);
        }
        let entered = match read(&text) {
            Ok(value) => {
                ui.data_mut(|d| d.remove::<Draft>(id));
                Some(value)
            }
            Err(complaint) => {
                ui.data_mut(|d| {
                    d.insert_temp(
                        id,
                        Draft {
                            text,
                            complaint: Some(complaint),
                        },
                    )
                });
                None
            }
        };
        return (entered, attended);
    }
    if edit.changed() || draft.is_some() {
        let complaint = if edit.changed() { None } else { complaint };
        ui.data_mut(|d| d.insert_temp(id, Draft { text, complaint }));
    }
    (None, attended)
}

/// Selects all of a text box, so that typing replaces what stands there.
pub fn select_all(ui: &Ui, id: Id, length: usize) {
    use egui::text::{CCursor, CCursorRange};
    if let Some(mut state) = egui::TextEdit::load_state(ui.ctx(), id) {
        state
            .cursor
            .set_char_range(Some(CCursorRange::two(CCursor::new(0), CCursor::new(length))));
        state.store(ui.ctx(), id);
    }
}
