//! The guide: how to go about it, what each way to hang an axle is good for, and what every strip shows.

mod how_to;
mod layouts;
mod quantities;
mod quantity_page;
mod sketch;

use std::sync::LazyLock;

use egui::{Button, Response, RichText, ScrollArea, Ui};
use rearend::layouts::Layout;
use rearend::setup::Setup;
use shop::demo;

use crate::actions::{Act, Action};
use crate::quantity::Quantity;
use crate::theme::{Inks, strong};

pub use how_to::Task;
pub use layouts::{LayoutGuide, layout_guide};
pub use quantities::{QuantityWords, quantity_words};

/// A page of the guide.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum GuidePage {
    /// Where to begin, and the cautions.
    #[default]
    Start,
    /// How to go about something.
    Task(Task),
    /// A way to hang an axle.
    Layout(Layout),
    /// What a strip shows.
    Quantity(Quantity),
}

/// The groups of the list, each under its heading.
const GROUPS: [&str; 4] = ["First of all", "How to", "Ways to hang an axle", "What the strips show"];
/// Wide enough for the longest title.
const LIST: f32 = 300.0;

impl GuidePage {
    /// All of them, in the order of the list.
    pub fn all() -> impl Iterator<Item = Self> {
        let tasks = Task::ALL.into_iter().map(Self::Task);
        let layouts = Layout::ALL.into_iter().map(Self::Layout);
        let quantities = Quantity::ALL.into_iter().map(Self::Quantity);
        std::iter::once(Self::Start)
            .chain(tasks)
            .chain(layouts)
            .chain(quantities)
    }

    /// What the list calls it.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Start => "Three steps to begin with",
            Self::Task(task) => task.title(),
            Self::Layout(layout) => layout.title(),
            Self::Quantity(quantity) => quantity.title(),
        }
    }

    fn group(self) -> &'static str {
        let [first, how_to, layouts, strips] = GROUPS;
        match self {
            Self::Start => first,
            Self::Task(task) if task.is_first() => first,
            Self::Task(_) => how_to,
            Self::Layout(_) => layouts,
            Self::Quantity(_) => strips,
        }
    }

    /// Draws the guide over the whole of `ui`: the list at the left, the page at the right, with pictures of this truck. `is_on` tells
    /// whether a menu entry that is on or off is on: what is open already is not closed.
    pub fn show(&mut self, ui: &mut Ui, truck: &Setup, is_on: &dyn Fn(Action) -> bool) -> Vec<Act> {
        let around = Around { truck, is_on };
        let mut acts = Vec::new();
        let high = ui.available_height();
        ui.horizontal_top(|ui| {
            let wide = LIST.min(ui.available_width() * 0.4);
            ui.allocate_ui(egui::vec2(wide, high), |ui| list(ui, self));
            ui.separator();
            ui.vertical(|ui| {
                ui.label(strong(self.title(), 18.0));
                // Each page begins at its top, and comes back to where it was left.
                ScrollArea::vertical()
                    .id_salt(("guide page", *self))
                    .auto_shrink(false)
                    .show(ui, |ui| acts = page_ui(ui, self, &around));
            });
        });
        acts
    }
}

/// What the guide is told of the truck and of the window.
struct Around<'a> {
    truck: &'a Setup,
    is_on: &'a dyn Fn(Action) -> bool,
}

/// The truck that a setup of one's own begins as. `None` never, as the tests of the demo scenes hold.
static NEW_TRUCK: LazyLock<Option<Setup>> = LazyLock::new(|| demo::new_truck().ok());

fn list(ui: &mut Ui, page: &mut GuidePage) {
    ScrollArea::vertical()
        .id_salt("guide list")
        .auto_shrink(false)
        .show(ui, |ui| {
            ui.vertical(|ui| {
                let mut group = "";
                for listed in GuidePage::all() {
                    if listed.group() != group {
                        group = listed.group();
                        ui.add_space(6.0);
                        ui.label(RichText::new(group).size(12.0).color(Inks::of(ui).soft));
                    }
                    if entry(ui, listed, *page).clicked() {
                        *page = listed;
                    }
                }
            });
        });
}

fn entry(ui: &mut Ui, listed: GuidePage, open: GuidePage) -> Response {
    let button = ui.add(Button::selectable(listed == open, listed.title()).truncate());
    if button.gained_focus() {
        button.scroll_to_me(None);
    }
    button
}

fn page_ui(ui: &mut Ui, page: &mut GuidePage, around: &Around) -> Vec<Act> {
    let mut acts = Vec::new();
    match *page {
        GuidePage::Start => how_to::start_ui(ui, page, around, &mut acts),
        GuidePage::Task(task) => how_to::task_ui(ui, task, around, &mut acts),
        GuidePage::Layout(layout) => layouts::layout_ui(ui, layout, (page, around), &mut acts),
        GuidePage::Quantity(quantity) => quantity_page::quantity_ui(ui, quantity),
    }
    acts
}

/// A heading with what stands under it.
fn passage(ui: &mut Ui, head: &str, text: &str) {
    ui.add_space(4.0);
    ui.label(strong(head, 14.0));
    paragraph(ui, text);
}

fn paragraph(ui: &mut Ui, text: &str) {
    ui.add(egui::Label::new(text).wrap());
}

/// A button that leads to another page.
fn link(ui: &mut Ui, to: GuidePage, page: &mut GuidePage) {
    let button = ui.button(to.title());
    let heard = format!("Go to {}", to.title());
    button.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Button, true, &heard));
    if button.clicked() {
        *page = to;
    }
}
