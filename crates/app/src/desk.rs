//! Everything the window knows besides the bench: views, dialogs, switches; and how acts are carried out.

use std::path::{Path, PathBuf};

use bevy::prelude::Resource;
use panels::{Act, Action, Dialog, GuidePage, PathPurpose, Quantity};
use rearend::findings::Lit;
use rearend::travel::Row;
use shop::disk::DiskError;
use shop::{Bench, Command, Notice, Stand, Surveyor};
use stage::Quality;
use stage::view::Standard;

use crate::file_dialog;
use crate::keeping::{self, Keeping};
use crate::look::Look;
use crate::measuring::Measuring;
use crate::stage_pane::StagePane;

/// What was asked for while work was unsaved.
#[derive(Clone, Debug, PartialEq)]
enum HeldUp {
    Quit,
    Open(PathBuf),
    Demo(usize),
    New,
    Copy,
    TakeUp,
}

/// Something only bevy can do.
#[derive(Clone, Debug, PartialEq)]
pub enum Errand {
    /// Leave the program.
    Quit,
    /// Ask the system's file dialog.
    Browse(PathPurpose),
    /// Take a picture.
    Picture(PathBuf),
    /// Draw with this much detail.
    Quality(Quality),
    /// Colours and size of words.
    Look(Look),
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
    keeping: Keeping,
    pub errands: Vec<Errand>,
}

/// How far and how slowly the axle swims where nothing holds it.
const SWIM_M: f64 = 0.05;
const SWIM_S: f64 = 2.5;

/// By how much a step of scale makes words larger.
const LARGER: f32 = 1.1;

/// Seconds for the way from laid out to full lift and back.
const RUN_S: f64 = 5.0;

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
            },
            card: None,
            beside: None,
            measuring: None,
            strips: vec![Quantity::ForeAft],
            swimming: None,
            playing: None,
            held_up: None,
            keeping,
            errands: Vec::new(),
        };
        desk.tell_journal(trouble.map_or(Ok(()), Err));
        desk
    }

    /// Writes down whatever step has been finished. True where that has left something to tell.
    pub fn keep(&mut self) -> bool {
        let units = self.bench.units();
        self.keep_look(Look { units, ..self.look() });
        let kept = self.keeping.follow(self.bench.document());
        let has_failed = kept.is_err();
        self.tell_journal(kept);
        has_failed
    }

    fn tell_journal(&mut self, kept: Result<(), DiskError>) {
        if let Err(error) = kept {
            self.bench.tell(Notice::Refused(format!(
                "The journal cannot be kept, and a crash would lose what is not saved: {error}. Save often."
            )));
        }
    }

    /// How the user likes the window.
    pub fn look(&self) -> Look {
        self.keeping.look.get()
    }

    /// From now on like this.
    pub fn keep_look(&mut self, look: Look) {
        self.keeping.look.set(look);
    }

    /// The files opened last.
    pub fn recent(&self) -> Vec<PathBuf> {
        self.keeping.recent()
    }

    /// The program ends as it should.
    pub fn leave(&mut self) {
        self.keeping.end();
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
            Action::Measure => self.measuring.is_some(),
            Action::Dimensions => self.see.dimensions,
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

    /// Carries out what the user did.
    pub fn act(&mut self, act: Act) {
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
            Action::Quit => self.unless_unsaved(HeldUp::Quit),
            Action::Undo => self.bench.run(Command::Undo),
            Action::Redo => self.bench.run(Command::Redo),
            Action::TapeSheet => self.lay_beside(Beside::TapeSheet),
            Action::Parts => self.lay_beside(Beside::Parts),
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

    fn ask_path(&mut self, purpose: PathPurpose) {
        let known = self.bench.document().path.as_deref();
        let text = match purpose {
            PathPurpose::Open => known.and_then(Path::parent).map(|f| f.join("")).unwrap_or_default(),
            PathPurpose::SaveAs => known.map_or_else(|| self.file_name("ron"), Path::to_path_buf),
            PathPurpose::Picture => known.map_or_else(|| self.file_name("png"), |p| p.with_extension("png")),
        };
        let text = text.display().to_string();
        self.dialog = Some(Dialog::Path {
            purpose,
            text,
            can_browse: file_dialog::is_there(),
        });
    }

    /// The setup's name as a file's.
    fn file_name(&self, extension: &str) -> PathBuf {
        let plain = |c: char| {
            if c.is_alphanumeric() {
                c.to_ascii_lowercase()
            } else {
                '-'
            }
        };
        let stem: String = self.bench.setup().name.chars().map(plain).collect();
        PathBuf::from(stem.trim_matches('-')).with_extension(extension)
    }

    fn save(&mut self) {
        match self.bench.document().path.clone() {
            Some(path) => self.save_to(path),
            None => self.ask_path(PathPurpose::SaveAs),
        }
    }

    /// Over what somebody else has written to its own file only when that is agreed to.
    fn save_to(&mut self, path: PathBuf) {
        let document = self.bench.document();
        if document.path.as_ref() == Some(&path) && document.is_changed_on_disk() {
            self.dialog = Some(Dialog::ChangedOnDisk { path });
        } else {
            self.write_to(path);
        }
    }

    fn write_to(&mut self, path: PathBuf) {
        self.dialog = None;
        self.bench.run(Command::SaveTo(path));
        if self.bench.document().is_unsaved() {
            self.held_up = None;
        } else {
            self.go_on();
        }
    }

    /// A path for a purpose; one that would replace a file is asked about first, once.
    fn path_given(&mut self, purpose: PathPurpose, path: PathBuf) {
        let path = with_extension(purpose, path);
        let agreed = matches!(&self.dialog, Some(Dialog::Replace { path: asked, .. }) if *asked == path);
        let own = purpose == PathPurpose::SaveAs && self.bench.document().path.as_ref() == Some(&path);
        if purpose != PathPurpose::Open && path.is_file() && !agreed && !own {
            self.dialog = Some(Dialog::Replace { purpose, path });
            return;
        }
        self.dialog = None;
        match purpose {
            PathPurpose::Open => self.unless_unsaved(HeldUp::Open(path)),
            PathPurpose::SaveAs => self.save_to(path),
            PathPurpose::Picture => self.errands.push(Errand::Picture(path)),
        }
    }

    fn unless_unsaved(&mut self, wanted: HeldUp) {
        self.held_up = Some(wanted);
        if self.bench.document().is_unsaved() {
            self.dialog = Some(Dialog::Unsaved);
        } else {
            self.go_on();
        }
    }

    fn go_on(&mut self) {
        match self.held_up.take() {
            Some(HeldUp::Quit) => self.errands.push(Errand::Quit),
            Some(HeldUp::Open(path)) => self.bench.run(Command::Open(path)),
            Some(HeldUp::Demo(which)) => self.bench.run(Command::OpenDemo(which)),
            Some(HeldUp::New) => self.begin_new(),
            Some(HeldUp::Copy) => self.bench.run(Command::Copy),
            Some(HeldUp::TakeUp) => self.take_up(),
            None => {}
        }
    }

    fn begin_new(&mut self) {
        self.bench.run(Command::New);
        self.beside = Some(Beside::TapeSheet);
        self.stage.fit(self.bench.setup());
    }

    /// What was left behind stands in this program's journal before the old one goes.
    fn take_up(&mut self) {
        let Some(left) = self.keeping.take() else { return };
        self.dialog = None;
        keeping::take_up(&mut self.bench, &left.last);
        self.stage.fit(self.bench.setup());
        match self.keeping.follow(self.bench.document()) {
            Ok(()) => left.forget(),
            Err(error) => self.tell_journal(Err(error)),
        }
    }

    /// The window was asked to close.
    pub fn closing(&mut self) {
        self.unless_unsaved(HeldUp::Quit);
    }

    /// The outcome of a picture, told.
    pub fn told_picture(&mut self, outcome: Result<PathBuf, String>) {
        self.bench.tell(match outcome {
            Ok(path) => Notice::Done(format!("The picture is in {}.", path.display())),
            Err(sentence) => Notice::Refused(format!("No picture: {sentence}.")),
        });
    }

    fn lay_beside(&mut self, what: Beside) {
        self.beside = (self.beside != Some(what)).then_some(what);
    }

    fn turn_over(&mut self, card: Card) {
        self.card = (self.card != Some(card)).then_some(card);
    }

    fn swim_or_stop(&mut self) {
        let free = self
            .bench
            .document()
            .answers()
            .solved
            .as_ref()
            .map(|s| !s.freedom.free.is_empty());
        match (self.swimming, free) {
            (Some(_), _) => self.swimming = None,
            (None, Ok(true)) => self.swimming = Some(0.0),
            (None, _) => self.bench.tell(Notice::Done(
                "Nothing is free: the bars hold the axle every way.".to_owned(),
            )),
        }
    }

    /// Moves the swim on; true while it goes on. It ends where nothing is free any more.
    pub fn swim(&mut self, seconds: f64) -> bool {
        let Some(at) = self.swimming else { return false };
        self.swimming = self.swum(at + seconds).map(|_| at + seconds);
        true
    }

    /// The pose to draw: as the bench shows it, or swimming along what is free.
    pub fn shown_row(&self) -> Option<Row> {
        self.swimming
            .and_then(|at| self.swum(at))
            .or_else(|| self.bench.shown())
    }

    fn swum(&self, seconds: f64) -> Option<Row> {
        let mut row = self.bench.shown()?;
        let solved = self.bench.document().answers().solved.as_ref().ok()?;
        let motion = solved.freedom.free.first()?;
        let amount_m = SWIM_M * (seconds / SWIM_S * std::f64::consts::TAU).sin();
        row.at = solved.rear_end.mechanism.swum(&row.at, motion, amount_m)?;
        Some(row)
    }

    /// The second of the run at which the truck stands where it does now.
    fn play_from(&self) -> f64 {
        let travel = &self.bench.setup().travel;
        let part = (self.bench.stand().height_m - travel.laid_out_m) / (travel.full_lift_m - travel.laid_out_m);
        (1.0 - 2.0 * part.clamp(0.0, 1.0)).acos() / std::f64::consts::TAU * RUN_S
    }

    /// Moves the run of the travel on; true while it runs.
    pub fn play(&mut self, seconds: f64) -> bool {
        let Some(at) = &mut self.playing else { return false };
        *at += seconds;
        let part = 0.5 - 0.5 * (*at / RUN_S * std::f64::consts::TAU).cos();
        let travel = &self.bench.setup().travel;
        let height_m = travel.laid_out_m + (travel.full_lift_m - travel.laid_out_m) * part;
        self.bench.run(Command::StandAt(Stand {
            height_m,
            ..self.bench.stand()
        }));
        true
    }
}

fn with_extension(purpose: PathPurpose, path: PathBuf) -> PathBuf {
    let extension = match purpose {
        PathPurpose::Open => return path,
        PathPurpose::SaveAs => "ron",
        PathPurpose::Picture => "png",
    };
    if path.extension().is_some() {
        path
    } else {
        path.with_extension(extension)
    }
}
