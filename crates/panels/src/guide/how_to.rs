//! How to go about it: the first three steps, and a page for each thing to do.

use egui::Ui;

use super::{GuidePage, link, paragraph, passage};
use crate::actions::{Act, Action};
use crate::help::help_ui;
use crate::theme::strong;

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
    /// One wheel up.
    OneWheel,
    /// Bars of a given length.
    AsBuilt,
    /// Keys and mouse.
    Keys,
}

impl Task {
    /// All of them, in the order of the list.
    pub const ALL: [Self; 7] = [
        Self::Measure,
        Self::Choose,
        Self::Drag,
        Self::Read,
        Self::OneWheel,
        Self::AsBuilt,
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
            Self::OneWheel => "One wheel up",
            Self::AsBuilt => "Bars that came at a length",
            Self::Keys => "Every key",
        }
    }

    /// Its passages: what they are headed, and what they say.
    #[must_use]
    pub fn passages(self) -> &'static [(&'static str, &'static str)] {
        match self {
            Self::Measure => &MEASURE,
            Self::Choose => &CHOOSE,
            Self::Drag => &DRAG,
            Self::Read => &READ,
            Self::OneWheel => &ONE_WHEEL,
            Self::AsBuilt => &AS_BUILT,
            Self::Keys => &[],
        }
    }
}

const STEPS: [(&str, &str); 3] = [
    (
        "1. Measure the truck",
        "Open the tape sheet and go down it with a tape. The first ten measures are enough to begin with. What you have not measured stands at what is usual and says \"assumed\".",
    ),
    (
        "2. Choose how the axle hangs",
        "Look at the layouts with your own truck in the pictures, read what each one costs, and take one. Mounts are proposed that work; they are a place to start from.",
    ),
    (
        "3. Drag a mount and read the findings",
        "Drag mounts to where your truck has room for them. Lower and lift the truck on the ride post. The findings say what won't work, what to check and what is fine; go on until nothing won't work.",
    ),
];

const MEASURE: [(&str, &str); 4] = [
    (
        "Where from",
        "Three planes are the zero of everything: straight across the axle at ride height, the middle of the truck, and the underside of the straight part of the rails. A tape reaches all three.",
    ),
    (
        "How to write it",
        "Type as you would say it: 19 1/4, 489 mm, 34/2 - 1 1/8. Decimal inches, sixteenths and millimetres can be mixed.",
    ),
    (
        "Taken or assumed",
        "A tick says that a measure was taken. Where the assumed value is right, click \"assumed\" to accept it. The picture shows where the tape goes for the line that you are on.",
    ),
    (
        "What is not there",
        "Shaft, springs and body are described only when you tick them. Until then nothing is said of joints, rates or fender lips.",
    ),
];

const CHOOSE: [(&str, &str); 4] = [
    (
        "Two questions",
        "What runs front to back, and what holds the axle sideways? Bars that only run front to back leave the axle free to move sideways. Either a bar across, a Watt's linkage, or bars at an angle have to hold it.",
    ),
    (
        "How far does it travel?",
        "A panhard bar's arc grows with the square of the travel: little on a truck that moves by an inch or two, much on one that is laid on its rails. Watt's linkages and angled bars stay near the middle.",
    ),
    (
        "Where is there room?",
        "Look for tank, exhaust, shaft and bed floor first. A mount that cannot be welded where it is drawn is no mount.",
    ),
    (
        "May it bind?",
        "Three-links, wishbones and angled four-links move freely with one wheel up. Parallel four-links need bushings that give a little; arms and ladder bars, which are fast to the axle, need it more.",
    ),
];

const DRAG: [(&str, &str); 3] = [
    (
        "With the mouse",
        "Look from behind, from the side or from above and drag a mount: it moves in the plane you look at, and everything follows at once. Hold X, Y or Z to move it one way only. Esc while dragging puts it back.",
    ),
    (
        "By numbers",
        "Click a mount: its card takes what the tape says, and the arrow keys move it by one step of the tape.",
    ),
    (
        "Take it back",
        "A whole drag is one step, and every step can be taken back. The other side of the truck follows unless you say that it should not.",
    ),
];

const READ: [(&str, &str); 3] = [
    (
        "Findings",
        "A cross says that it won't work, a triangle that you should check, a tick that it is fine. Click one: the part lights up and the truck goes to the height where it happens. Some offer a remedy with one click.",
    ),
    (
        "Strips",
        "A strip shows one thing through the whole travel, ride height up the page. The level line across is where the truck stands now. Look at the full scale under a strip before you worry: a bold curve may be a hair's breadth.",
    ),
    (
        "Which strips",
        "Axle shift and pinion angle are always there. Add others with the plus sign; each has its own page here.",
    ),
];

const ONE_WHEEL: [(&str, &str); 3] = [
    (
        "Why look",
        "A driveway, a kerb or a pothole lifts one wheel. The bars then have to let the axle lean. Where they don't, something gives: a bushing, a bracket or a weld.",
    ),
    (
        "How to look",
        "Roll the truck with the wheel under the ride post. The strips show the leaning truck beside the level one, and Misfit shows what the bars would have to give.",
    ),
    (
        "What helps",
        "Longer bars, bars that are parallel seen from the side, bushings instead of rod ends, or a layout that holds the axle no more often than it must.",
    ),
];

const AS_BUILT: [(&str, &str); 3] = [
    (
        "Cut to suit, or as built",
        "A bar that is cut to suit is as long as its mounts are apart. A bar as built has its own length, and the axle goes where the bars put it.",
    ),
    (
        "What the adjusters do",
        "Squareness and turns… says how square the axle stands and what one turn of each adjuster does to pinion angle, squareness and place.",
    ),
    (
        "In the shop",
        "Tack, set the truck at ride height, measure both sides from the same marks, turn the adjusters, then cycle the axle through its travel before you weld.",
    ),
];

/// The first page.
pub(super) fn start_ui(ui: &mut Ui, page: &mut GuidePage, acts: &mut Vec<Act>) {
    let leads = [
        (Task::Measure, Some(("Open the tape sheet", Action::TapeSheet))),
        (Task::Choose, Some(("Choose for my truck", Action::Layouts))),
        (Task::Read, None),
    ];
    for ((head, text), (task, opens)) in STEPS.into_iter().zip(leads) {
        passage(ui, head, text);
        ui.horizontal(|ui| {
            // The guide gives way first: what is opened may be a dialog too.
            if let Some((_, action)) = opens.filter(|(label, _)| ui.button(*label).clicked()) {
                acts.extend([Act::CloseDialog, Act::Choose(action)]);
            }
            link(ui, GuidePage::Task(task), page);
        });
    }
    ui.add_space(8.0);
    ui.separator();
    ui.label(strong("Cautions", 14.0));
    help_ui(ui, Action::Cautions);
}

pub(super) fn task_ui(ui: &mut Ui, task: Task) {
    for (head, text) in task.passages() {
        passage(ui, head, text);
    }
    if task == Task::Read {
        ui.add_space(6.0);
        paragraph(
            ui,
            "A figure here is a screening calculation. It says where to look, not that a part is strong enough.",
        );
    }
}
