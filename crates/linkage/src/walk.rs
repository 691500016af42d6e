//! Continuation: following one assembly of the mechanism through a sequence of drives.

use crate::configuration::{Axes, Configuration, Drive};
use crate::mechanism::Mechanism;
use crate::solve::{Driven, Linearised, Solved, Unsolved, check_drive, close, moved};
use crate::walk_end::{WalkEnd, between, explain};
use crate::{COORDINATES, tolerance};

/// A pose of a sweep.
#[derive(Clone, Copy, Debug)]
pub struct Waypoint {
    /// The pose.
    pub at: Configuration,
    /// The largest length that a link would have to give, m.
    pub misfit_m: f64,
}

impl Mechanism {
    /// Walks from a solved pose through the drives in order and hands every pose to `visit`.
    ///
    /// Steps are bounded by [`tolerance::STEP_M`] and [`tolerance::STEP_RAD`] whatever the spacing of the drives; each is predicted
    /// from those before it, and refused where the solution strays from the prediction. Returns where the travel had to end, if it did.
    pub fn walk(
        &self,
        start: &Configuration,
        drives: impl IntoIterator<Item = Drive>,
        visit: impl FnMut(Waypoint),
    ) -> Option<WalkEnd> {
        match self.cranks.len() {
            0 => walk_with::<4>(self, start, drives, visit),
            1 => walk_with::<5>(self, start, drives, visit),
            _ => walk_with::<6>(self, start, drives, visit),
        }
    }

    /// The pose at one drive, walked to from a solved pose.
    ///
    /// # Errors
    /// Where the travel ends before that drive.
    pub fn walk_to(&self, start: &Configuration, drive: Drive) -> Result<Waypoint, WalkEnd> {
        let mut reached = Waypoint {
            at: *start,
            misfit_m: 0.0,
        };
        match self.walk(start, [drive], |w| reached = w) {
            None => Ok(reached),
            Some(end) => Err(end),
        }
    }
}

fn walk_with<const N: usize>(
    mechanism: &Mechanism,
    start: &Configuration,
    drives: impl IntoIterator<Item = Drive>,
    mut visit: impl FnMut(Waypoint),
) -> Option<WalkEnd> {
    let mut walker = Walker::<N>::new(mechanism, start);
    for wanted in drives {
        if let Err((unsolved, failed_at)) = walker.advance(wanted) {
            let (closure, cause) = explain(mechanism, &walker.now.at, failed_at, unsolved);
            return Some(WalkEnd {
                last: walker.now.at.drive(),
                wanted,
                closure,
                cause,
            });
        }
        visit(Waypoint {
            at: walker.now.at,
            misfit_m: walker.now.misfit_m,
        });
    }
    None
}

struct Walker<'m, const N: usize> {
    mechanism: &'m Mechanism,
    now: Solved,
    handedness: f64,
    history: History,
}

impl<'m, const N: usize> Walker<'m, N> {
    fn new(mechanism: &'m Mechanism, start: &Configuration) -> Self {
        let system = Linearised::<N>::at(mechanism, start);
        Self {
            mechanism,
            now: Solved {
                at: *start,
                misfit_m: system.worst_gap_m,
            },
            handedness: system.handedness(),
            history: History::default(),
        }
    }

    /// Goes to a drive in steps of bounded size. On failure says where the step was going.
    fn advance(&mut self, to: Drive) -> Result<(), (Unsolved, Drive)> {
        check_drive(to).map_err(|unsolved| (unsolved, self.now.at.drive()))?;
        let from = self.now.at.drive();
        if from == to {
            return Ok(());
        }
        let steps = self.step_count(from, to);
        for i in 1..=steps {
            self.reach(
                between(from, to, f64::from(i) / f64::from(steps)),
                tolerance::MAX_HALVINGS,
            )?;
        }
        Ok(())
    }

    fn step_count(&self, from: Drive, to: Drive) -> u32 {
        let longest_m = tolerance::STEP_M.min(tolerance::STEP_PART * self.mechanism.scale_m);
        let ride = (to.z_m - from.z_m).abs() / longest_m;
        let roll = (to.roll_rad - from.roll_rad).abs() / tolerance::STEP_RAD;
        // A travel of a hundred thousand steps is no travel; the cap keeps a mistyped height from running for ever.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "bounded just before"
        )]
        let steps = ride.max(roll).ceil().clamp(1.0, 1e5) as u32;
        steps
    }

    /// One step, halved where it fails; the bound on halvings bounds the work.
    fn reach(&mut self, to: Drive, halvings: u32) -> Result<(), (Unsolved, Drive)> {
        match self.step(to) {
            Ok(()) => Ok(()),
            Err(unsolved) if halvings == 0 => Err((unsolved, to)),
            Err(_) => {
                let middle = between(self.now.at.drive(), to, 0.5);
                self.reach(middle, halvings - 1)?;
                self.reach(to, halvings - 1)
            }
        }
    }

    fn step(&mut self, to: Drive) -> Result<(), Unsolved> {
        let from = self.now.at.drive();
        let drive_step = Drive {
            z_m: to.z_m - from.z_m,
            roll_rad: to.roll_rad - from.roll_rad,
        };
        let change = self.predict(drive_step).ok_or(Unsolved::NoConvergence)?;
        let predicted = moved(&self.now.at, &change).driven(to);
        let solved = close::<N>(self.mechanism, &predicted)?;
        let taken = self.check(&predicted, &solved)?;
        self.history.remember(taken, drive_step);
        self.now = solved;
        Ok(())
    }

    /// By differences of the steps before, where they were equal; else along the tangent.
    fn predict(&self, step: Drive) -> Option<[f64; COORDINATES]> {
        self.history.predict(step).or_else(|| {
            Driven::<N>::at(self.mechanism, &self.now.at, &Axes::of(&self.now.at))?.tangent(self.mechanism, step)
        })
    }

    fn check(&self, predicted: &Configuration, solved: &Solved) -> Result<[f64; COORDINATES], Unsolved> {
        let mechanism = self.mechanism;
        let taken = difference(&solved.at, &self.now.at);
        // All squared: this is on the way of every pose.
        let square = |x: f64| x * x;
        let strayed = mechanism.square_of(&difference(&solved.at, predicted));
        let stride = mechanism.square_of(&taken);
        if stride > square(tolerance::STRIDE * mechanism.scale_m) {
            return Err(Unsolved::OtherAssembly);
        }
        let allowed = square(tolerance::STRAY) * stride;
        if strayed > allowed.max(square(tolerance::STRAY_FLOOR * mechanism.scale_m)) {
            return Err(Unsolved::OtherAssembly);
        }
        // Far from a fold the step lands where it was predicted, and the sign need not be asked for.
        let in_doubt = strayed > square(tolerance::DOUBT) * allowed && mechanism.is_exact();
        if in_doubt && Linearised::<N>::at(mechanism, &solved.at).handedness() != self.handedness {
            return Err(Unsolved::OtherAssembly);
        }
        if !mechanism.is_exact() && mechanism.gives_too_much(solved) {
            return Err(Unsolved::Misfit);
        }
        Ok(taken)
    }
}

#[inline]
pub(crate) fn difference(a: &Configuration, b: &Configuration) -> [f64; COORDINATES] {
    let (mut a, b) = (a.to_array(), b.to_array());
    for (a, b) in a.iter_mut().zip(b) {
        *a -= b;
    }
    a
}

/// How many steps a prediction looks back.
const DEPTH: usize = 5;

/// Backward differences of the coordinates over the last equal steps of the drive: the last change, how it differed from the one before, and
/// so on. Their sum is the next change, exact for polynomials of one degree more than there are differences.
#[derive(Default)]
struct History {
    differences: [[f64; COORDINATES]; DEPTH],
    count: usize,
    step: Option<Drive>,
}

impl History {
    fn goes_on(&self, step: Drive) -> bool {
        self.step.is_some_and(|last| same_step(step, last))
    }

    /// The next change, once two equal steps have been taken.
    fn predict(&self, step: Drive) -> Option<[f64; COORDINATES]> {
        if self.count < 2 || !self.goes_on(step) {
            return None;
        }
        let mut sum = [0.0; COORDINATES];
        for difference in &self.differences[..self.count] {
            for (s, d) in sum.iter_mut().zip(difference) {
                *s += d;
            }
        }
        Some(sum)
    }

    fn remember(&mut self, taken: [f64; COORDINATES], step: Drive) {
        if !self.goes_on(step) {
            self.count = 0;
        }
        let known = (self.count + 1).min(DEPTH);
        let mut newest = taken;
        for difference in &mut self.differences[..known] {
            for (new, old) in newest.iter_mut().zip(difference) {
                (*new, *old) = (*new - *old, *new);
            }
        }
        self.count = known;
        self.step = Some(step);
    }
}

fn same_step(a: Drive, b: Drive) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * b.abs();
    near(a.z_m, b.z_m) && near(a.roll_rad, b.roll_rad)
}
