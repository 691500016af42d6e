//! The bench: the document, where the truck stands, what is selected, and every act of the user.

use std::path::PathBuf;

use nalgebra::{Point3, Vector3};
use rearend::findings::{Finding, capitalised};
use rearend::setup::{Mount, Setup};
use rearend::tape::Units;
use rearend::travel::{Row, TravelEnd};

use crate::beside::Beside;
use crate::change::Change;
use crate::demo;
use crate::disk;
use crate::document::Document;
use crate::holes;
use crate::journal::Entry;
use crate::selection::Selection;
use crate::survey::Surveyed;

/// Where the truck stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// Ride height.
    pub height_m: f64,
    /// Roll of the axle against the frame, + left side up.
    pub roll_rad: f64,
}

/// A sentence for the user.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Notice {
    /// Something was done.
    Done(String),
    /// Something could not be done; nothing is lost.
    Refused(String),
}

/// Everything a click or key can do.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// Edit the setup.
    Apply(Change),
    /// Begin a drag: what follows is one step of undo.
    BeginStep,
    /// End it.
    EndStep,
    /// Put back what the drag changed.
    CancelStep,
    /// Move the selected mount by steps of the unit along each axis of its carrier.
    Nudge(Vector3<f64>),
    /// Take the last step back.
    Undo,
    /// Do it again.
    Redo,
    /// Take this many steps back.
    UndoSteps(usize),
    /// Do this many again.
    RedoSteps(usize),
    /// Lower, lift or roll the truck.
    StandAt(Stand),
    /// Select a mount, or none.
    Select(Option<Mount>),
    /// Choose a mount to go along with what is selected, or no longer.
    SelectWith(Mount),
    /// Let a mount lead: its card is shown, and what was chosen to go along still does.
    Lead(Mount),
    /// Put a selected mount at a point of its carrier's coordinates, and all others by as much.
    MoveSelected {
        /// Which.
        mount: Mount,
        /// Where to.
        to: Point3<f64>,
    },
    /// Show lengths differently.
    SetUnits(Units),
    /// Open a file.
    Open(PathBuf),
    /// Open a demo by its place in [`demo::ALL`].
    OpenDemo(usize),
    /// Begin a setup of one's own.
    New,
    /// Go on with a copy that is in no file yet.
    Copy,
    /// Take up work again that a crash has left behind.
    TakeUp(Box<Entry>),
    /// Keep a copy of the open setup as it is beside it, under a name of its own.
    PutBeside,
    /// Open a file beside the open setup.
    OpenBeside(PathBuf),
    /// Put a demo beside it, by its place in [`demo::ALL`].
    PutDemoBeside(usize),
    /// Take one of those beside away.
    TakeAway(usize),
    /// Put back what was taken away last.
    PutBack,
    /// Swap the open setup with one of those beside it: nothing of either is lost.
    SwapWith(usize),
    /// Save to a file.
    SaveTo(PathBuf),
    /// Take the notice away.
    Dismiss,
}

/// The state of the whole program but its window.
#[derive(Clone, Debug)]
pub struct Bench {
    document: Document,
    stand: Stand,
    /// The pose at the stand, or where the travel ends on the way there; `None` where nothing is solved.
    now: Result<Row, Option<TravelEnd>>,
    /// The last pose there was.
    last: Option<Row>,
    units: Units,
    selection: Selection,
    notice: Option<Notice>,
    surveyed: Option<Surveyed>,
    pub(crate) beside: Beside,
}

impl Bench {
    /// A bench with a setup on it, standing at ride height.
    #[must_use]
    pub fn new(setup: Setup, path: Option<PathBuf>) -> Self {
        Self::on(Document::new(setup, path))
    }

    fn on(document: Document) -> Self {
        let stand = at_ride(document.setup());
        let mut bench = Self {
            document,
            stand,
            now: Err(None),
            last: None,
            units: Units::default(),
            selection: Selection::default(),
            notice: None,
            surveyed: None,
            beside: Beside::default(),
        };
        bench.settle();
        bench
    }

    /// The open setup.
    #[must_use]
    pub fn document(&self) -> &Document {
        &self.document
    }

    /// What is described.
    #[must_use]
    pub fn setup(&self) -> &Setup {
        self.document.setup()
    }

    /// Where the truck stands.
    #[must_use]
    pub fn stand(&self) -> Stand {
        self.stand
    }

    /// The pose at the stand.
    ///
    /// # Errors
    /// Where the travel ends on the way there; `None` where nothing is solved.
    pub fn now(&self) -> Result<&Row, Option<TravelEnd>> {
        self.now.as_ref().map_err(|end| *end)
    }

    /// The pose to draw: the one at the stand, or where the travel ends before it the nearest that is reached, or where nothing is solved
    /// any more the last that was, so that there is always something to take hold of. `None` only where nothing ever was.
    #[must_use]
    pub fn shown(&self) -> Option<Row> {
        let answers = self.document.answers();
        let reached = || {
            answers
                .solved
                .as_ref()
                .ok()?
                .level
                .nearest(self.stand.height_m)
                .copied()
        };
        let at_ride = || answers.pose(self.setup(), self.setup().travel.ride_m, 0.0).ok();
        let now = self.now.as_ref().ok().copied();
        now.or_else(reached).or_else(at_ride).or(self.last)
    }

    /// How lengths are shown.
    #[must_use]
    pub fn units(&self) -> Units {
        self.units
    }

    /// The selected mount.
    #[must_use]
    pub fn selected(&self) -> Option<Mount> {
        self.selection.lead()
    }

    /// Everything that is selected.
    #[must_use]
    pub fn selection(&self) -> &Selection {
        &self.selection
    }

    /// What the user should read.
    #[must_use]
    pub fn notice(&self) -> Option<&Notice> {
        self.notice.as_ref()
    }

    /// The clearance survey of the setup as it is, once there is one.
    #[must_use]
    pub fn surveyed(&self) -> Option<&Surveyed> {
        let revision = self.document.revision();
        self.surveyed.as_ref().filter(|s| s.revision == revision)
    }

    /// What was found: from the full survey once there is one, from the rough look until then.
    #[must_use]
    pub fn findings(&self) -> &[Finding] {
        self.surveyed()
            .map_or(&self.document.answers().findings, |s| &s.findings)
    }

    /// Takes what a survey has found; of another revision it is of no use.
    pub fn take_survey(&mut self, surveyed: Surveyed) {
        if surveyed.revision == self.document.revision() {
            self.surveyed = Some(surveyed);
        }
    }

    /// Says something to the user.
    pub fn tell(&mut self, notice: Notice) {
        self.notice = Some(notice);
    }

    /// Does what the user asks. Whatever cannot be done becomes a [`Notice`], and the setup stays as it was.
    pub fn run(&mut self, command: Command) {
        let revision = self.document.revision();
        let chosen = self.selected().map(|_| self.document.setup().clone());
        match command {
            Command::Apply(change) => self.apply(&change),
            Command::BeginStep => self.document.begin_step(),
            Command::EndStep => self.document.end_step(),
            Command::CancelStep => self.document.cancel_step(),
            Command::Nudge(steps) => self.nudge(steps),
            Command::Undo => drop(self.document.undo()),
            Command::Redo => drop(self.document.redo()),
            Command::UndoSteps(count) => while_there_is(count, || self.document.undo()),
            Command::RedoSteps(count) => while_there_is(count, || self.document.redo()),
            Command::StandAt(stand) => self.stand_at(stand),
            Command::Select(mount) => self.selection.only(mount),
            Command::SelectWith(mount) => self.selection.toggle(mount),
            Command::Lead(mount) => self.selection.lead_by(mount),
            Command::MoveSelected { mount, to } => self.move_selected(mount, to),
            Command::SetUnits(units) => self.units = units,
            Command::Open(path) => self.open(path),
            Command::OpenDemo(which) => self.open_demo(which),
            Command::New => self.open_new(),
            Command::Copy => self.replace(Document::copy(copy_of(self.setup()))),
            Command::TakeUp(entry) => self.replace(Document::taken_up(*entry)),
            Command::PutBeside => self.put_beside(),
            Command::OpenBeside(path) => self.open_beside(path),
            Command::PutDemoBeside(which) => self.put_demo_beside(which),
            Command::TakeAway(which) => self.take_away(which),
            Command::PutBack => self.put_back(),
            Command::SwapWith(which) => self.swap_with(which),
            Command::SaveTo(path) => self.save_to(path),
            Command::Dismiss => self.notice = None,
        }
        if self.document.revision() != revision && matches!(self.notice, Some(Notice::Refused(_))) {
            self.notice = None;
        }
        // An opened document has its own stand already; settling it again changes nothing.
        if self.document.revision() != revision {
            let setup = self.document.setup();
            match chosen {
                Some(before) => self.selection.keep(|mount| carried_over(&before, setup, mount)),
                None => self.selection.only(None),
            }
            self.stand_at(self.stand);
        }
    }

    fn apply(&mut self, change: &Change) {
        match self.document.apply(change) {
            Ok(()) => self.notice = None,
            Err(error) => self.tell_refused(&error.told(self.units)),
        }
    }

    fn nudge(&mut self, steps: Vector3<f64>) {
        let Some((mount, at)) = self.selected().and_then(|m| Some((m, self.setup().mount(m)?))) else {
            return;
        };
        let by = steps * self.units.step_m();
        if let Some(to) = holes::nudged(self.setup().hole_row(mount).as_ref(), at.point, by) {
            self.move_selected(mount, to);
        }
    }

    /// The others go by what the one in hand has really gone: it may click from hole to hole.
    fn move_selected(&mut self, mount: Mount, to: Point3<f64>) {
        if self.selection.all().count() < 2 {
            return self.apply(&Change::MoveMount { mount, to });
        }
        let mut tried = self.document.setup().clone();
        tried.move_mount(mount, to);
        // From where the drag began, so that it does not matter in how many steps it came about.
        let before = self.document.before_step().unwrap_or(self.document.setup());
        let points = before.mount(mount).zip(tried.mount(mount));
        let by = points.map(|(was, is)| is.point - was.point);
        let moves = self.selection.moves(before, by.unwrap_or_default());
        self.apply(&Change::MoveMounts(moves));
    }

    /// Heights are kept within the travel, roll within what is described.
    fn stand_at(&mut self, wanted: Stand) {
        let travel = &self.setup().travel;
        let most_roll = travel.one_wheel_up_rad.abs();
        if wanted.height_m.is_finite() && wanted.roll_rad.is_finite() {
            self.stand = Stand {
                height_m: wanted.height_m.clamp(travel.laid_out_m, travel.full_lift_m),
                roll_rad: wanted.roll_rad.clamp(-most_roll, most_roll),
            };
        }
        self.settle();
    }

    fn settle(&mut self) {
        let Stand { height_m, roll_rad } = self.stand;
        self.now = self.document.answers().pose(self.document.setup(), height_m, roll_rad);
        self.last = self.now.as_ref().ok().copied().or(self.last);
    }

    fn open(&mut self, path: PathBuf) {
        match disk::load_stamped(&path) {
            Ok((setup, stamp)) => self.replace(Document::read(setup, path, stamp)),
            Err(error) => self.refuse(&error),
        }
    }

    fn open_new(&mut self) {
        match demo::new_truck() {
            Ok(setup) => self.replace(Document::new(setup, None)),
            Err(error) => self.refuse(&error),
        }
    }

    fn open_demo(&mut self, which: usize) {
        let Some(demo) = demo::ALL.get(which) else { return };
        match demo.setup() {
            Ok(setup) => self.replace(Document::new(setup, None)),
            Err(error) => self.refuse(&error),
        }
    }

    fn replace(&mut self, document: Document) {
        let document = document.following(&self.document);
        *self = Self {
            units: self.units,
            beside: std::mem::take(&mut self.beside),
            ..Self::on(document)
        };
    }

    /// Puts another document in the place of the open one, which it hands over as it is. The truck stays as high as it stands, as far as the
    /// other goes.
    pub(crate) fn exchange(&mut self, document: Document) -> Document {
        // A drag that goes on comes to its end as it is.
        self.document.end_step();
        let next = Self {
            units: self.units,
            beside: std::mem::take(&mut self.beside),
            ..Self::on(document.following(&self.document))
        };
        let before = std::mem::replace(self, next);
        self.stand_at(before.stand);
        before.document
    }

    fn save_to(&mut self, path: PathBuf) {
        match disk::save_stamped(&path, self.setup()) {
            Ok(stamp) => {
                self.notice = Some(Notice::Done(format!("Saved to {}.", path.display())));
                self.document.mark_saved(path, stamp);
            }
            Err(error) => self.refuse(&error),
        }
    }

    pub(crate) fn refuse(&mut self, error: &dyn std::error::Error) {
        self.tell_refused(&error.to_string());
    }

    pub(crate) fn tell_refused(&mut self, why: &str) {
        self.notice = Some(Notice::Refused(format!("{}.", capitalised(why))));
    }
}

/// The mount, under the place it has now: where bars or arms have come or gone it is the one of the same name.
fn carried_over(before: &Setup, now: &Setup, mount: Mount) -> Option<Mount> {
    let shape = |s: &Setup| (s.bars.len(), s.arms.len());
    if shape(before) == shape(now) && now.mount(mount).is_some() {
        return Some(mount);
    }
    let name = before.mount_name(mount);
    now.mounts().into_iter().find(|other| now.mount_name(*other) == name)
}

fn copy_of(setup: &Setup) -> Setup {
    let mut copy = setup.clone();
    copy.name = format!("{}, another try", setup.name);
    copy
}

/// Does something up to a number of times, as long as there is something to do.
fn while_there_is(count: usize, mut once: impl FnMut() -> bool) {
    for _ in 0..count {
        if !once() {
            return;
        }
    }
}

fn at_ride(setup: &Setup) -> Stand {
    Stand {
        height_m: setup.travel.ride_m,
        roll_rad: 0.0,
    }
}
