//! How to go about it: the first three steps, and a page for each thing to do.

mod first;
mod opens;
mod paper;
mod tools;

use egui::Ui;

use super::{Around, GuidePage, link, paragraph, passage};
use crate::actions::{Act, Action};
use crate::help::{help_ui, keys_ui};
use crate::theme::strong;

use super::sketch::task_sketch_ui;
use opens::Opens;

/// Something to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Task {
    /// Measuring the truck.
    Measure,
    /// Choosing between layouts.
    Choose,
    /// Moving mounts.
    Drag,
    /// Reading findings and strips.
    Read,
    /// Typing lengths.
    Type,
    /// Several mounts at once.
    Several,
    /// Mounts that stay where they are.
    Lock,
    /// Rows of bracket holes.
    Holes,
    /// Dimension lines.
    Dimensions,
    /// Measuring from one place to another.
    Between,
    /// The parts drawer.
    Parts,
    /// One wheel up.
    OneWheel,
    /// Bars of a given length.
    AsBuilt,
    /// Going on with a copy.
    Copy,
    /// Several setups side by side.
    Beside,
    /// Pictures for the customer.
    Pictures,
    /// The build sheet.
    Sheet,
    /// Brackets to be cut.
    Brackets,
    /// Travel and comparison as tables.
    Tables,
    /// What a crash leaves behind.
    TakeUp,
    /// Keys and mouse.
    Keys,
}

impl Task {
    /// All of them, in the order of the list.
    pub const ALL: [Self; 21] = [
        Self::Measure,
        Self::Choose,
        Self::Drag,
        Self::Read,
        Self::Type,
        Self::Several,
        Self::Lock,
        Self::Holes,
        Self::Dimensions,
        Self::Between,
        Self::Parts,
        Self::OneWheel,
        Self::AsBuilt,
        Self::Copy,
        Self::Beside,
        Self::Pictures,
        Self::Sheet,
        Self::Brackets,
        Self::Tables,
        Self::TakeUp,
        Self::Keys,
    ];

    /// What the list calls it.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Measure => "Taking the measurements",
            Self::Choose => "Choosing a layout",
            Self::Drag => "Moving the mounts",
            Self::Read => "Reading findings and strips",
            Self::Type => "Typing a length",
            Self::Several => "Several mounts at once",
            Self::Lock => "Locking a mount",
            Self::Holes => "Brackets with several holes",
            Self::Dimensions => "Dimension lines",
            Self::Between => "Measuring between two points",
            Self::Parts => "Changing bars in the parts drawer",
            Self::OneWheel => "One wheel up",
            Self::AsBuilt => "Bars that came at a length",
            Self::Copy => "Trying something on a copy",
            Self::Beside => "Setups side by side",
            Self::Pictures => "Pictures for the customer",
            Self::Sheet => "The build sheet",
            Self::Brackets => "Cutting the brackets",
            Self::Tables => "Numbers as tables",
            Self::TakeUp => "After a crash",
            Self::Keys => "Every key",
        }
    }

    /// Its passages: what they are headed, and what they say.
    #[must_use]
    pub fn passages(self) -> &'static [(&'static str, &'static str)] {
        match self {
            Self::Measure => &first::MEASURE,
            Self::Choose => &first::CHOOSE,
            Self::Drag => &first::DRAG,
            Self::Read => &first::READ,
            Self::Type => &tools::TYPE,
            Self::Several => &tools::SEVERAL,
            Self::Lock => &tools::LOCK,
            Self::Holes => &tools::HOLES,
            Self::Dimensions => &tools::DIMENSIONS,
            Self::Between => &tools::BETWEEN,
            Self::Parts => &tools::PARTS,
            Self::OneWheel => &first::ONE_WHEEL,
            Self::AsBuilt => &first::AS_BUILT,
            Self::Copy => &tools::COPY,
            Self::Beside => &paper::BESIDE,
            Self::Pictures => &paper::PICTURES,
            Self::Sheet => &paper::SHEET,
            Self::Brackets => &paper::BRACKETS,
            Self::Tables => &paper::TABLES,
            Self::TakeUp => &tools::TAKE_UP,
            Self::Keys => &[],
        }
    }

    /// Whether it is of the first things to read.
    pub(super) fn is_first(self) -> bool {
        matches!(self, Self::Measure | Self::Choose | Self::Drag | Self::Read)
    }

    /// What of the program its page leads to.
    fn opens(self) -> &'static [Opens] {
        match self {
            Self::Measure => &opens::MEASURE,
            Self::Choose => &opens::CHOOSE,
            Self::Dimensions => &opens::DIMENSIONS,
            Self::Between => &opens::BETWEEN,
            Self::Parts => &opens::PARTS,
            Self::Copy => &opens::COPY,
            Self::Beside => &opens::BESIDE,
            Self::Pictures => &opens::PICTURES,
            Self::Sheet => &opens::SHEET,
            Self::Brackets => &opens::BRACKETS,
            Self::Tables => &opens::TABLES,
            _ => &[],
        }
    }
}

/// The first page.
pub(super) fn start_ui(ui: &mut Ui, page: &mut GuidePage, around: &Around, acts: &mut Vec<Act>) {
    let leads: [&[Task]; 3] = [&[Task::Measure], &[Task::Choose], &[Task::Drag, Task::Read]];
    for ((head, text), tasks) in first::STEPS.into_iter().zip(leads) {
        passage(ui, head, text);
        ui.horizontal_wrapped(|ui| {
            for task in tasks {
                for opens in task.opens() {
                    opens.ui(ui, around, acts);
                }
                link(ui, GuidePage::Task(*task), page);
            }
        });
    }
    ui.add_space(8.0);
    ui.separator();
    ui.label(strong("Cautions", 14.0));
    help_ui(ui, Action::Cautions);
}

pub(super) fn task_ui(ui: &mut Ui, task: Task, around: &Around, acts: &mut Vec<Act>) {
    task_sketch_ui(ui, task);
    for (head, text) in task.passages() {
        passage(ui, head, text);
    }
    if !task.opens().is_empty() {
        ui.add_space(8.0);
        ui.horizontal_wrapped(|ui| {
            for opens in task.opens() {
                opens.ui(ui, around, acts);
            }
        });
    }
    match task {
        Task::Keys => keys_ui(ui),
        Task::Read => {
            ui.add_space(6.0);
            paragraph(
                ui,
                "A figure here is a screening calculation. It says where to look, not that a part is strong enough.",
            );
        }
        _ => {}
    }
}
