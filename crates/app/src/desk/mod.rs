//! Everything the window knows besides the bench: views, dialogs, switches; and how acts are carried out.

mod files;
mod kept;
mod motion;
mod pictures;

use std::path::PathBuf;

use bevy::prelude::Resource;
use panels::{Act, Action, Dialog, GuidePage, PathPurpose, Quantity, StageAct};
use rearend::findings::Lit;
use shop::disk::DiskError;
use shop::{Bench, Command, Surveyor};
use stage::Quality;
use stage::view::Standard;

use self::files::HeldUp;
use crate::keeping::Keeping;
use crate::look::Look;
use crate::making::{Making, Order};
use crate::measuring::Measuring;
use crate::stage_pane::StagePane;

/// Something only bevy can do.
#[derive(Clone, Debug)]
pub enum Errand {
    /// Leave the program.
    Quit,
    /// Ask the system's file dialog.
    Browse(PathPurpose),
    /// Take a picture, into a file or onto the clipboard.
    Picture(PictureOf, Option<PathBuf>),
    /// Make something that leaves the program.
    Make(Box<Order>),
    /// Draw with this much detail.
    Quality(Quality),
    /// Colours and size of words.
    Look(Look),
}

/// What a picture shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PictureOf {
    /// The truck as it stands.
    Now,
    /// The truck laid out, at ride height and at full lift.
    Heights,
    /// Every setup that lies side by side, at ride height.
    Others,
}

/// What is seen on the stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(clippy::struct_excessive_bools, reason = "each is a switch of its own in the menu")]
pub struct See {
    /// Faint axles at both ends of the travel.
    pub ghosts: bool,
    pub wheels: bool,
    /// The body in outline.
    pub body: bool,
    /// The path of the axle's centre.
    pub path: bool,
    /// Centres and hinge axes.
    pub centres: bool,
    /// Dimension lines of the selected mount.
    pub dimensions: bool,
    /// Dimension lines on pictures.
    pub measures: bool,
}

/// A card that is opened from the menu.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Card {
    /// Heights, limits, balance.
    Truck,
    /// Squareness and turns.
    AsBuilt,
}

/// What may lie beside the stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beside {
    TapeSheet,
    Parts,
    /// Setups side by side.
    Others,
}

/// The window's state.
#[derive(Resource)]
pub struct Desk {
    pub bench: Bench,
    pub surveyor: Surveyor,
    pub stage: StagePane,
    pub dialog: Option<Dialog>,
    /// What a finding points at, and the revision that it was found in.
    lit: (Lit, u64),
    pub see: See,
    /// The card that lies open beside the mount's.
    pub card: Option<Card>,
    /// The corner of the stage where the mount's card lies, by its place among those it may.
    pub card_corner: usize,
    /// What lies beside the stage.
    pub beside: Option<Beside>,
    /// What is being measured, while something is.
    pub measuring: Option<Measuring>,
    /// Strips besides those that are always there.
    pub strips: Vec<Quantity>,
    /// Seconds into the swim along what is free, while it goes on.
    pub swimming: Option<f64>,
    /// Seconds into the run of the travel, while it runs.
    pub playing: Option<f64>,
    held_up: Option<HeldUp>,
    /// What has to wait until what is being typed is entered.
    pub put_off: Vec<Act>,
    keeping: Keeping,
    /// What is being made beside the window.
    pub making: Option<Making>,
    pub errands: Vec<Errand>,
}

/// By how much a step of scale makes words larger.
const LARGER: f32 = 1.1;

impl Desk {
    /// `keeping` may have trouble, which the user is told.
    pub fn new(mut bench: Bench, (keeping, trouble): (Keeping, Option<DiskError>)) -> Self {
        bench.run(Command::SetUnits(keeping.look.get().units));
        let mut desk = Self {
            stage: StagePane::new(bench.setup()),
            bench,
            surveyor: Surveyor::default(),
            dialog: keeping.question(),
            lit: (Lit::default(), 0),
            see: See {
                ghosts: false,
                wheels: true,
                body: true,
                path: true,
                centres: false,
                dimensions: true,
                measures: false,
            },
            card: None,
            card_corner: 0,
            beside: None,
            measuring: None,
            strips: vec![Quantity::ForeAft],
            swimming: None,
            playing: None,
            held_up: None,
            put_off: Vec::new(),
            keeping,
            making: None,
            errands: Vec::new(),
        };
        desk.tell_journal(trouble.map_or(Ok(()), Err));
        desk
    }

    /// What a finding points at: nothing any more once the setup has changed.
    pub fn lit(&self) -> Lit {
        let (lit, revision) = &self.lit;
        if *revision == self.bench.document().revision() {
            lit.clone()
        } else {
            Lit::default()
        }
    }

    /// Whether a wheel stands before what is dragged.
    pub fn hides_wheels(&self) -> bool {
        let row = self.stage.dragged().and_then(|_| self.shown_row());
        row.is_some_and(|row| self.stage.is_behind_a_wheel(&self.bench, &row))
    }

    /// Whether a switch is on.
    pub fn is_on(&self, action: Action) -> bool {
        match action {
            Action::TapeSheet => self.beside == Some(Beside::TapeSheet),
            Action::Parts => self.beside == Some(Beside::Parts),
            Action::Beside => self.beside == Some(Beside::Others),
            Action::Measure => self.measuring.is_some(),
            Action::Dimensions => self.see.dimensions,
            Action::PictureMeasures => self.see.measures,
            Action::Ghosts => self.see.ghosts,
            Action::Wheels => self.see.wheels,
            Action::Body => self.see.body,
            Action::Path => self.see.path,
            Action::Perspective => !self.stage.view.parallel,
            Action::Play => self.playing.is_some(),
            Action::Centres => self.see.centres,
            Action::Swim => self.swimming.is_some(),
            _ => false,
        }
    }

    /// Whether something takes the setup as it is, with what is still being typed.
    pub fn waits_for_typing(act: &Act) -> bool {
        use Action as A;
        let whole = [
            A::New,
            A::Copy,
            A::Open,
            A::Save,
            A::SaveAs,
            A::Picture,
            A::PictureOfHeights,
            A::PictureBeside,
            A::CopyPicture,
            A::Sheet,
            A::Brackets,
            A::TravelTable,
            A::CompareTable,
            A::Quit,
        ];
        matches!(act, Act::Choose(action) if whole.contains(action))
    }

    /// Carries out what the user did. A drag that is still going on is over then.
    pub fn act(&mut self, act: Act) {
        if self.stage.dragged().is_some() && !matches!(act, Act::Light(_)) {
            self.stage.act(StageAct::Drop, &mut self.bench);
        }
        match act {
            Act::Do(command) => self.run(command),
            Act::Choose(action) => self.choose(action),
            Act::Light(lit) => self.lit = (lit, self.bench.document().revision()),
            Act::Strips(strips) => self.strips = strips,
            Act::Quality(which) => {
                if let Some(quality) = Quality::ALL.get(which) {
                    self.errands.push(Errand::Quality(*quality));
                }
            }
            Act::Path(purpose, path) => self.path_given(purpose, path),
            Act::Browse(purpose) => self.errands.push(Errand::Browse(purpose)),
            Act::GoOnUnsaved => {
                self.dialog = None;
                self.go_on();
            }
            Act::SaveOver => {
                if let Some(path) = self.bench.document().path.clone() {
                    self.write_to(path);
                }
            }
            Act::TakeUp(true) => self.unless_unsaved(HeldUp::TakeUp),
            Act::TakeUp(false) => {
                if let Some(left) = self.keeping.take() {
                    left.forget();
                }
                self.dialog = self.keeping.question();
            }
            Act::Shop(style) => self.keeping.look.set_shop(style),
            Act::CallOff => {
                if let Some(making) = &self.making {
                    making.call_off();
                }
            }
            Act::CloseDialog => {
                self.dialog = None;
                self.held_up = None;
            }
        }
    }

    fn run(&mut self, command: Command) {
        match command {
            Command::Open(path) => self.unless_unsaved(HeldUp::Open(path)),
            Command::OpenDemo(which) => self.unless_unsaved(HeldUp::Demo(which)),
            Command::New => self.unless_unsaved(HeldUp::New),
            Command::StandAt(stand) => {
                self.playing = None;
                self.bench.run(Command::StandAt(stand));
            }
            other => self.bench.run(other),
        }
    }

    fn choose(&mut self, action: Action) {
        match action {
            Action::New => self.unless_unsaved(HeldUp::New),
            Action::Copy => self.unless_unsaved(HeldUp::Copy),
            Action::Open => self.ask_path(PathPurpose::Open),
            Action::Save => self.save(),
            Action::SaveAs => self.ask_path(PathPurpose::SaveAs),
            Action::Picture => self.ask_path(PathPurpose::Picture),
            Action::PictureOfHeights => self.ask_path(PathPurpose::PictureOfHeights),
            Action::PictureBeside => self.ask_path(PathPurpose::PictureBeside),
            Action::CopyPicture => self.errands.push(Errand::Picture(PictureOf::Now, None)),
            Action::PictureMeasures => self.see.measures = !self.see.measures,
            Action::Quit => self.unless_unsaved(HeldUp::Quit),
            Action::Undo => self.bench.run(Command::Undo),
            Action::Redo => self.bench.run(Command::Redo),
            Action::TapeSheet => self.lay_beside(Beside::TapeSheet),
            Action::Parts => self.lay_beside(Beside::Parts),
            Action::Beside => self.lay_beside(Beside::Others),
            Action::OpenBeside => self.ask_path(PathPurpose::OpenBeside),
            Action::Sheet => self.ask_path(PathPurpose::Sheet),
            Action::Brackets => self.ask_path(PathPurpose::Brackets),
            Action::TravelTable => self.ask_path(PathPurpose::TravelTable),
            Action::CompareTable => self.ask_path(PathPurpose::CompareTable),
            Action::Shop => self.dialog = Some(Dialog::Shop(self.keeping.look.shop().clone())),
            Action::Layouts => self.dialog = Some(Dialog::Layouts),
            Action::Measure => {
                self.measuring = match self.measuring {
                    None => Some(Measuring::default()),
                    Some(_) => None,
                };
            }
            Action::Dimensions => self.see.dimensions = !self.see.dimensions,
            Action::Larger => self.errands.push(Errand::Look(self.look().scaled(LARGER))),
            Action::Smaller => self.errands.push(Errand::Look(self.look().scaled(1.0 / LARGER))),
            Action::Truck => self.turn_over(Card::Truck),
            Action::AsBuilt => self.turn_over(Card::AsBuilt),
            Action::Centres => self.see.centres = !self.see.centres,
            Action::Swim => self.swim_or_stop(),
            Action::Rear => self.look_from(Standard::Rear),
            Action::Side => self.look_from(Standard::Side),
            Action::Top => self.look_from(Standard::Top),
            Action::Corner => self.look_from(Standard::Corner),
            Action::Perspective => self.stage.view.parallel = !self.stage.view.parallel,
            Action::Fit => self.stage.fit(self.bench.setup()),
            Action::Play => {
                self.playing = if self.playing.is_some() {
                    None
                } else {
                    Some(self.play_from())
                }
            }
            Action::Ghosts => self.see.ghosts = !self.see.ghosts,
            Action::Wheels => self.see.wheels = !self.see.wheels,
            Action::Body => self.see.body = !self.see.body,
            Action::Path => self.see.path = !self.see.path,
            Action::Theme => {
                let look = self.look();
                self.errands.push(Errand::Look(Look {
                    light: !look.light,
                    ..look
                }));
            }
            Action::Guide => self.dialog = Some(Dialog::Guide(GuidePage::default())),
            Action::Keys | Action::Cautions => self.dialog = Some(Dialog::Help(action)),
        }
    }

    fn look_from(&mut self, which: Standard) {
        self.stage.look(which, self.bench.setup());
    }

    /// Puts away what was opened last: a dialog closes by itself, a drag puts back what it has in hand.
    pub fn step_back(&mut self) {
        if self.dialog.is_some() || self.stage.dragged().is_some() {
            return;
        }
        if self.measuring.take().is_none() && self.card.take().is_none() {
            self.bench.run(Command::Select(None));
        }
    }

    fn lay_beside(&mut self, what: Beside) {
        self.beside = (self.beside != Some(what)).then_some(what);
    }

    fn turn_over(&mut self, card: Card) {
        self.card = (self.card != Some(card)).then_some(card);
    }
}
