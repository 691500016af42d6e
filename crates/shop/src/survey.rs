//! The full clearance survey, on a thread of its own: started when the setup has come to rest, called off when it changes again.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};
use std::thread::{self, JoinHandle};

use rearend::answers::Answers;
use rearend::clearance::{Near, Progress, Survey};
use rearend::findings::{self, Finding};
use rearend::setup::Setup;

use crate::bench::Bench;

/// Pairs between two looks at whether it was called off.
const STRIDE: usize = 4;

/// What a survey has found, and of which revision of the document.
#[derive(Clone, Debug)]
pub struct Surveyed {
    /// The revision.
    pub revision: u64,
    /// All findings, those about clearance from every pose.
    pub findings: Vec<Finding>,
    /// Every pair where it comes nearest, nearest first.
    pub nears: Vec<Near>,
}

impl Surveyed {
    /// Looks at every pair in every pose, here and now. `None` where nothing is solved.
    #[must_use]
    pub fn of(setup: &Setup, answers: &Answers) -> Option<Self> {
        let mut survey = Survey::new(setup, answers.solved.as_ref().ok()?);
        survey.run(&AtomicBool::new(false));
        Some(Self::from(setup, answers, &survey, 0))
    }

    fn from(setup: &Setup, answers: &Answers, survey: &Survey, revision: u64) -> Self {
        Self {
            revision,
            findings: findings::with_survey(setup, answers, survey),
            nears: survey.result(),
        }
    }
}

/// Keeps the survey of a bench up to date. Dropping it calls off what is under way.
#[derive(Debug, Default)]
pub struct Surveyor {
    job: Option<Job>,
    /// The revision whose survey came to nothing.
    given_up: Option<u64>,
}

#[derive(Debug)]
struct Job {
    revision: u64,
    told: Arc<Told>,
    thread: JoinHandle<()>,
}

/// What the two threads tell each other.
#[derive(Debug, Default)]
struct Told {
    called_off: AtomicBool,
    done: AtomicUsize,
    total: AtomicUsize,
    answer: Mutex<Option<Surveyed>>,
    over: AtomicBool,
}

impl Drop for Job {
    fn drop(&mut self) {
        self.told.called_off.store(true, Ordering::Relaxed);
    }
}

impl Surveyor {
    /// To be called whenever the bench may have changed, and when `wake` has woken the caller. Calls off a survey of what has changed since,
    /// starts one of what has not been surveyed unless a drag goes on, and hands over what has been found.
    pub fn attend(&mut self, bench: &mut Bench, wake: impl Fn() + Send + 'static) {
        let revision = bench.document().revision();
        if self.job.as_ref().is_some_and(|job| job.revision != revision) {
            self.job = None;
        }
        if let Some(job) = &self.job {
            if job.is_over() {
                // One that ended without an answer is not tried again: the rough one stays.
                match job.answer() {
                    Some(surveyed) => bench.take_survey(surveyed),
                    None => self.given_up = Some(revision),
                }
                self.job = None;
            }
        } else if !bench.document().in_step() && bench.surveyed().is_none() && self.given_up != Some(revision) {
            self.job = Job::start(bench, wake);
        }
    }

    /// How far the survey under way has come.
    #[must_use]
    pub fn progress(&self) -> Option<Progress> {
        let told = &self.job.as_ref()?.told;
        Some(Progress {
            done: told.done.load(Ordering::Relaxed),
            total: told.total.load(Ordering::Relaxed),
        })
    }
}

impl Job {
    /// `None` where nothing is solved, or the system has no thread left.
    fn start(bench: &Bench, wake: impl Fn() + Send + 'static) -> Option<Self> {
        let document = bench.document();
        document.answers().solved.as_ref().ok()?;
        let (setup, answers) = (document.setup().clone(), document.answers().clone());
        let revision = document.revision();
        let told = Arc::new(Told::default());
        let to_tell = Arc::clone(&told);
        let work = move || {
            let surveyed = survey(&setup, &answers, revision, &to_tell, &wake);
            if let Ok(mut answer) = to_tell.answer.lock() {
                *answer = surveyed;
            }
            // Before waking: who is woken looks at once.
            to_tell.over.store(true, Ordering::Release);
            wake();
        };
        let thread = thread::Builder::new().name("clearance".to_owned()).spawn(work).ok()?;
        Some(Self { revision, told, thread })
    }

    fn is_over(&self) -> bool {
        self.told.over.load(Ordering::Acquire) || self.thread.is_finished()
    }

    fn answer(&self) -> Option<Surveyed> {
        self.told.answer.lock().ok()?.take()
    }
}

fn survey(setup: &Setup, answers: &Answers, revision: u64, told: &Told, wake: &impl Fn()) -> Option<Surveyed> {
    let mut survey = Survey::new(setup, answers.solved.as_ref().ok()?);
    let mut tenths = 0;
    loop {
        let Progress { done, total } = survey.step(STRIDE);
        told.total.store(total, Ordering::Relaxed);
        told.done.store(done, Ordering::Relaxed);
        if told.called_off.load(Ordering::Relaxed) {
            return None;
        }
        if done >= total {
            return Some(Surveyed::from(setup, answers, &survey, revision));
        }
        if done * 10 / total > tenths {
            tenths = done * 10 / total;
            wake();
        }
    }
}
