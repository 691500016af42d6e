//! How to go about it: the first three steps, and a page for each thing to do.

mod first;
mod tools;

use egui::Ui;

use super::{Around, GuidePage, link, paragraph, passage};
use crate::actions::{Act, Action};
use crate::help::{help_ui, keys_ui};
use crate::theme::strong;

use super::sketch::task_sketch_ui;

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
    /// What a crash leaves behind.
    TakeUp,
    /// Keys and mouse.
    Keys,
}

impl Task {
    /// All of them, in the order of the list.
    pub const ALL: [Self; 16] = [
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
            Self::TakeUp => &tools::TAKE_UP,
            Self::Keys => &[],
        }
    }

    /// Whether it is of the first things to read.
    pub(super) fn is_first(self) -> bool {
        matches!(self, Self::Measure | Self::Choose | Self::Drag | Self::Read)
    }

    /// What of the program its page leads to.
    fn opens(self) -> Option<Opens> {
        let opens = |action, off, on| Some(Opens { action, off, on });
        match self {
            Self::Measure => opens(Action::TapeSheet, "Open the tape sheet", "Back to the tape sheet"),
            Self::Choose => opens(Action::Layouts, "Choose for my truck", ""),
            Self::Dimensions => opens(
                Action::Dimensions,
                "Show the lines",
                "Back to the truck, the lines are on",
            ),
            Self::Between => opens(Action::Measure, "Start measuring", "Go on measuring"),
            Self::Parts => opens(Action::Parts, "Open the parts drawer", "Back to the parts drawer"),
            Self::Copy => opens(Action::Copy, "Go on with a copy", ""),
            _ => None,
        }
    }
}

/// A way from a page into the program.
struct Opens {
    action: Action,
    /// What its button says.
    off: &'static str,
    /// What it says where that is a switch and on already.
    on: &'static str,
}

impl Opens {
    /// The guide gives way first, as what is opened may be a dialog too. What is on already stays on.
    fn ui(&self, ui: &mut Ui, around: &Around, acts: &mut Vec<Act>) {
        let is_on = self.action.is_switch() && (around.is_on)(self.action);
        let button = ui.button(if is_on { self.on } else { self.off });
        if button.on_hover_text(self.action.tip()).clicked() {
            acts.push(Act::CloseDialog);
            acts.extend((!is_on).then_some(Act::Choose(self.action)));
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
                if let Some(opens) = task.opens() {
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
    if let Some(opens) = task.opens() {
        ui.add_space(8.0);
        opens.ui(ui, around, acts);
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
