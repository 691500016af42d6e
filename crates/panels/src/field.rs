//! Boxes to type lengths and angles into.

mod line;

use egui::{Id, Ui};
use rearend::tape::{Dimension, Units};

pub use line::{Takes, cells_head, cells_line, checked_line, measured_line, text_line};

/// A box for a length. Returns the length once it is entered and reads; what does not read is kept, with a sentence below.
pub fn length_field(
    ui: &mut Ui,
    id: impl std::hash::Hash + std::fmt::Debug,
    label: &str,
    length_m: f64,
    units: Units,
) -> Option<f64> {
    let (edit, rest) = (units.editable(length_m), Dimension::Length.at_rest(units, length_m));
    let held = Held {
        edit: &edit,
        rest: &rest,
    };
    let read = |text: &str| units.read(text).map_err(|e| e.to_string());
    let typed = typed_in_grid(ui, Id::new(("length", id)), label, held, read);
    typed.filter(|typed_m| (typed_m - length_m).abs() > 1e-9)
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
    typed_in_grid(ui, Id::new(("angle", id)), label, Held::plain(shown), read)
        .filter(|typed_rad| (typed_rad - angle_rad).abs() > 1e-9)
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
    typed_in_grid(ui, Id::new(("number", id)), label, Held::plain(shown), read)
        .filter(|typed| (typed - value).abs() > 1e-9)
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
    typed_in_grid(ui, Id::new(("text", id)), label, Held::plain(shown), read)
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
    typed_in_grid(ui, Id::new(("labelled", id)), label, Held::plain(shown), read)
}

/// Sentences below a box are broken at this width, or at the edge of what they are on.
const COMPLAINT_WIDTH: f32 = 180.0;

/// Narrower than this a sentence is a column of words.
const LEAST_COMPLAINT_WIDTH: f32 = 110.0;

/// What a box holds: the text that is edited, and what stands there while the keyboard is elsewhere. Only the first is ever read, so that
/// what is rounded for the eye changes nothing.
#[derive(Clone, Copy)]
struct Held<'a> {
    edit: &'a str,
    rest: &'a str,
}

impl<'a> Held<'a> {
    fn plain(text: &'a str) -> Self {
        Self { edit: text, rest: text }
    }
}

/// What is being typed, until it is entered.
#[derive(Clone, Default)]
struct Draft {
    text: String,
    complaint: Option<String>,
}

/// Drops everything that is typed and not entered, with what there was to say about it: another document has other values.
pub fn drop_drafts(ui: &Ui) {
    ui.data_mut(egui::util::IdTypeMap::remove_by_type::<Draft>);
}

/// A name, its box, and what does not read below the box: two columns of a grid.
fn typed_in_grid<'a, T>(
    ui: &mut Ui,
    id: Id,
    label: impl Into<Label<'a>>,
    held: Held<'_>,
    read: impl Fn(&str) -> Result<T, String>,
) -> Option<T> {
    let named = label.into().ui(ui);
    // Names are longer than numbers.
    let letters = u8::try_from(held.edit.chars().count()).unwrap_or(u8::MAX);
    let wide = (f32::from(letters) * 8.0).clamp(92.0, 210.0);
    let typed = Typed::ui(ui, id, held, wide);
    typed.edit.clone().labelled_by(named.id);
    ui.end_row();
    if let Some(complaint) = typed.complaint() {
        let room = |ui: &Ui| ui.max_rect().right().min(ui.clip_rect().right()) - ui.cursor().left();
        let beside = room(ui) - named.rect.width() - ui.spacing().item_spacing.x;
        if beside >= LEAST_COMPLAINT_WIDTH {
            ui.label("");
            complaint_ui(ui, complaint, beside.min(COMPLAINT_WIDTH));
        } else {
            complaint_ui(ui, complaint, named.rect.width().max(LEAST_COMPLAINT_WIDTH));
        }
        ui.end_row();
    }
    typed.entered(ui, held.edit, read)
}

/// A sentence in one line would make the panel as wide as itself.
fn complaint_ui(ui: &mut Ui, complaint: &str, width: f32) {
    let (_, colour) = crate::theme::Inks::grade(ui, rearend::findings::Grade::WontWork);
    ui.scope(|ui| {
        ui.set_max_width(width);
        ui.add(egui::Label::new(egui::RichText::new(complaint).color(colour)).wrap());
    });
}

/// A box that is drawn, with what stands in it.
struct Typed {
    id: Id,
    edit: egui::Response,
    text: String,
    draft: Option<Draft>,
}

impl Typed {
    fn ui(ui: &mut Ui, id: Id, held: Held<'_>, wide: f32) -> Self {
        let draft = ui.data(|d| d.get_temp::<Draft>(id));
        let mut text = draft.as_ref().map_or_else(|| held.edit.to_owned(), |d| d.text.clone());
        let box_id = id.with("box");
        let rests = draft.is_none() && held.rest != held.edit && !ui.memory(|m| m.has_focus(box_id));
        let mut at_rest = |ui: &Ui, _: &dyn egui::TextBuffer, _: f32| {
            let font = egui::TextStyle::Body.resolve(ui.style());
            let rest = held.rest.to_owned();
            ui.fonts_mut(|f| f.layout_no_wrap(rest, font, egui::Color32::PLACEHOLDER))
        };
        let mut field = egui::TextEdit::singleline(&mut text)
            .desired_width(wide)
            .min_size(egui::vec2(74f32.min(wide), 0.0))
            .id(box_id);
        if rests {
            field = field.layouter(&mut at_rest);
        }
        let mut edit = ui.add(field);
        if rests {
            edit = edit.on_hover_text(format!("{} to the last digit", held.edit));
        }
        if ui.data(|d| d.get_temp::<Id>(next_box_id())) == Some(id) {
            ui.data_mut(|d| d.remove::<Id>(next_box_id()));
            edit.request_focus();
            edit.scroll_to_me(None);
            select_all(ui, edit.id, text.chars().count());
        }
        if edit.gained_focus() {
            select_all(ui, edit.id, text.chars().count());
        }
        Self { id, edit, text, draft }
    }

    fn complaint(&self) -> Option<&str> {
        self.draft.as_ref()?.complaint.as_deref()
    }

    /// What was entered, once the box is left and what stands in it reads; what does not read is kept with a sentence about it.
    fn entered<T>(self, ui: &Ui, shown: &str, read: impl Fn(&str) -> Result<T, String>) -> Option<T> {
        let Self { id, edit, text, draft } = self;
        let complaint = draft.as_ref().and_then(|d| d.complaint.clone());
        let keep = |complaint| {
            ui.data_mut(|d| {
                d.insert_temp(
                    id,
                    Draft {
                        text: text.clone(),
                        complaint,
                    },
                )
            })
        };
        let drop = || ui.data_mut(|d| d.remove::<Draft>(id));
        if edit.lost_focus() {
            if ui.input(|i| i.key_pressed(egui::Key::Escape)) || text == shown {
                drop();
                return None;
            }
            return match read(&text) {
                Ok(value) => {
                    drop();
                    Some(value)
                }
                Err(complaint) => {
                    keep(Some(complaint));
                    None
                }
            };
        }
        if edit.changed() {
            keep(None);
        } else if draft.is_some() && complaint.is_none() && !edit.has_focus() {
            // It was left in a frame in which it was not drawn.
            keep(read(&text).err());
        }
        None
    }
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
