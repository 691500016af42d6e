//! What is made beside the window: one thing at a time, on a thread of its own, to be called off. Nothing is written before all of it is
//! made.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

use panels::{PathPurpose, ShopStyle};
use rearend::answers::Answers;
use rearend::setup::Setup;
use rearend::tape::Units;
use shop::{Surveyed, disk};

use crate::outputs::{self, CutStyle, File, write_all};

/// What to make, of a setup as it is now.
#[derive(Clone, Debug)]
pub struct Order {
    pub purpose: PathPurpose,
    pub path: PathBuf,
    pub setup: Setup,
    pub units: Units,
    pub style: ShopStyle,
}

/// Why something was not made.
enum Stop {
    CalledOff,
    Failed(String),
}

impl From<String> for Stop {
    fn from(sentence: String) -> Self {
        Self::Failed(sentence)
    }
}

/// What the work tells of itself, and is told.
struct Teller {
    words: Arc<Mutex<String>>,
    off: Arc<AtomicBool>,
    wake: Box<dyn Fn() + Send>,
}

impl Teller {
    /// The work goes on with this, unless it was called off.
    fn goes_on(&self, words: &str) -> Result<(), Stop> {
        words.clone_into(&mut self.words.lock().unwrap_or_else(PoisonError::into_inner));
        (self.wake)();
        if self.off.load(Ordering::Relaxed) {
            Err(Stop::CalledOff)
        } else {
            Ok(())
        }
    }
}

/// Something on its way.
#[derive(Debug)]
pub struct Making {
    words: Arc<Mutex<String>>,
    off: Arc<AtomicBool>,
    answer: Mutex<Receiver<Result<String, String>>>,
}

impl Making {
    /// Begins; `wake` is called whenever there is something new to tell.
    pub fn begin(order: Order, wake: impl Fn() + Send + Clone + 'static) -> Self {
        let (words, off) = (Arc::new(Mutex::new(String::new())), Arc::new(AtomicBool::new(false)));
        let (sender, answer) = channel();
        let teller = Teller {
            words: words.clone(),
            off: off.clone(),
            wake: Box::new(wake.clone()),
        };
        thread::spawn(move || {
            let told = match make(&order, &teller) {
                Ok(sentence) => Ok(sentence),
                Err(Stop::CalledOff) => Ok("Called off; nothing was written.".to_owned()),
                Err(Stop::Failed(sentence)) => Err(sentence),
            };
            // Nobody waits any more where this fails.
            let _ = sender.send(told);
            wake();
        });
        Self {
            words,
            off,
            answer: Mutex::new(answer),
        }
    }

    /// How far it is, in words.
    pub fn words(&self) -> String {
        self.words.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Stops it at its next step.
    pub fn call_off(&self) {
        self.off.store(true, Ordering::Relaxed);
    }

    /// What came of it, once it has ended.
    pub fn outcome(&self) -> Option<Result<String, String>> {
        match self.answer.lock().ok()?.try_recv() {
            Ok(told) => Some(told),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => Some(Err("it broke off; nothing was written".to_owned())),
        }
    }
}

fn make(order: &Order, teller: &Teller) -> Result<String, Stop> {
    teller.goes_on("solving…")?;
    let answers = Answers::of(&order.setup);
    match order.purpose {
        PathPurpose::Sheet => sheet(order, &answers, teller),
        PathPurpose::Brackets => brackets(order, &answers, teller),
        PathPurpose::TravelTable => travel(order, &answers, teller),
        _ => Err(Stop::Failed("that is not made here".to_owned())),
    }
}

fn sheet(order: &Order, answers: &Answers, teller: &Teller) -> Result<String, Stop> {
    teller.goes_on("build sheet: looking for what touches…")?;
    let findings = Surveyed::of(&order.setup, answers).map_or_else(|| answers.findings.clone(), |s| s.findings);
    teller.goes_on("build sheet: setting the type…")?;
    let bytes = outputs::sheet(&order.setup, answers, &findings, order.units, &order.style, None)?;
    teller.goes_on("build sheet: writing…")?;
    write_all(&[File::new(&order.path, bytes)], true)?;
    Ok(format!("The build sheet is in {}.", order.path.display()))
}

fn brackets(order: &Order, answers: &Answers, teller: &Teller) -> Result<String, Stop> {
    teller.goes_on("brackets: drawing…")?;
    let style = CutStyle {
        units: order.units,
        version: sheets::DxfVersion::R2000,
        letter: order.style.letter,
    };
    let (files, undrawn) = outputs::bracket_files(&order.setup, answers, &order.path, style)?;
    teller.goes_on("brackets: writing…")?;
    make_folder(&order.path)?;
    write_all(&files, true)?;
    let (count, folder) = (files.len(), order.path.display());
    let but = if undrawn.is_empty() {
        String::new()
    } else {
        format!(" Not drawn: {}.", undrawn.join("; "))
    };
    Ok(format!("{count} files of brackets are in {folder}.{but}"))
}

fn make_folder(folder: &Path) -> Result<(), String> {
    std::fs::create_dir_all(folder).map_err(|error| {
        format!(
            "the folder {} cannot be made: {}",
            folder.display(),
            disk::plain(&error)
        )
    })
}

fn travel(order: &Order, answers: &Answers, teller: &Teller) -> Result<String, Stop> {
    teller.goes_on("travel: writing…")?;
    let solved = answers.solved.as_ref().map_err(ToString::to_string)?;
    let table = sheets::travel_csv(&order.setup, &solved.rear_end, &solved.level).map_err(|error| error.to_string())?;
    write_all(&[File::new(&order.path, table)], true)?;
    Ok(format!("The travel is in {}.", order.path.display()))
}
