//! Continuation: following one assembly of the mechanism through a sequence of drives.

use nalgebra::Const;

use crate::configuration::{Configuration, Drive};
use crate::mechanism::Mechanism;
use crate::solve::{Linearised, Method, Square, Unsolved, check_drive, close, moved};
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
        let method = self.method_at(start);
        match self.cranks.len() {
            0 => walk_with::<4>(self, method, start, drives, visit),
            1 => walk_with::<5>(self, method, start, drives, visit),
            _ => walk_with::<6>(self, method, start, drives, visit),
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
    method: Method,
    start: &Configuration,
    drives: impl IntoIterator<Item = Drive>,
    mut visit: impl FnMut(Waypoint),
) -> Option<WalkEnd>
where
    Const<N>: Square<N>,
{
    let mut walker = Walker::<N>::new(mechanism, method, start);
    for wanted in drives {
        if let Err((unsolved, failed_at)) = walker.advance(wanted) {
            let (link, cause) = explain(mechanism, &walker.at, failed_at, unsolved);
            return Some(WalkEnd {
                last: walker.at.drive(),
                wanted,
                link,
                cause,
            });
        }
        visit(Waypoint {
            at: walker.at,
            misfit_m: walker.system.worst_gap_m,
        });
    }
    None
}

struct Walker<'m, const N: usize> {
    mechanism: &'m Mechanism,
    method: Method,
    at: Configuration,
    system: Linearised<N>,
    handedness: f64,
    /// The last changes of the coordinates, newest first, while the drive moved in equal steps.
    history: [Option<[f64; COORDINATES]>; 2],
    last_step: Drive,
}

impl<'m, const N: usize> Walker<'m, N>
where
    Const<N>: Square<N>,
{
    fn new(mechanism: &'m Mechanism, method: Method, start: &Configuration) -> Self {
        let system = Linearised::at(mechanism, method, start);
        let handedness = system.handedness();
        let last_step = Drive {
            z_m: 0.0,
            roll_rad: 0.0,
        };
        Self {
            mechanism,
            method,
            at: *start,
            system,
            handedness,
            history: [None; 2],
            last_step,
        }
    }

    /// Goes to a drive in steps of bounded size. On failure says where the step was going.
    fn advance(&mut self, to: Drive) -> Result<(), (Unsolved, Drive)> {
        check_drive(to).map_err(|unsolved| (unsolved, self.at.drive()))?;
        let from = self.at.drive();
        let steps = step_count(from, to);
        for i in 1..=steps {
            self.reach(
                between(from, to, f64::from(i) / f64::from(steps)),
                tolerance::MAX_HALVINGS,
            )?;
        }
        Ok(())
    }

    /// One step, halved where it fails; the bound on halvings bounds the work.
    fn reach(&mut self, to: Drive, halvings: u32) -> Result<(), (Unsolved, Drive)> {
        match self.step(to) {
            Ok(()) => Ok(()),
            Err(unsolved) if halvings == 0 => Err((unsolved, to)),
            Err(_) => {
                let middle = between(self.at.drive(), to, 0.5);
                self.reach(middle, halvings - 1)?;
                self.reach(to, halvings - 1)
            }
        }
    }

    fn step(&mut self, to: Drive) -> Result<(), Unsolved> {
        let from = self.at.drive();
        let drive_step = Drive {
            z_m: to.z_m - from.z_m,
            roll_rad: to.roll_rad - from.roll_rad,
        };
        let change = self.predict(drive_step).ok_or(Unsolved::NoConvergence)?;
        let predicted = moved(&self.at, &change).driven(to);
        let (solved, system) = close::<N>(self.mechanism, self.method, &predicted)?;
        let taken = self.check(&predicted, &solved, &system)?;
        self.remember(taken, drive_step);
        (self.at, self.system) = (solved, system);
        Ok(())
    }

    /// By differences of the steps before, where they were equal; else along the tangent.
    fn predict(&self, step: Drive) -> Option<[f64; COORDINATES]> {
        if let [Some(last), Some(before)] = &self.history
            && same_step(step, self.last_step)
        {
            return Some(std::array::from_fn(|i| 2.0 * last[i] - before[i]));
        }
        self.system.tangent(self.mechanism, step)
    }

    fn check(
        &self,
        predicted: &Configuration,
        solved: &Configuration,
        system: &Linearised<N>,
    ) -> Result<[f64; COORDINATES], Unsolved> {
        let taken = difference(solved, &self.at);
        let strayed = self.mechanism.size_of(&difference(solved, predicted));
        let allowed = tolerance::STRAY * self.mechanism.size_of(&taken);
        if strayed > allowed.max(tolerance::STRAY_FLOOR * self.mechanism.scale_m) {
            return Err(Unsolved::OtherAssembly);
        }
        // Far from a fold the step lands where it was predicted, and the sign need not be asked for.
        let in_doubt = strayed > tolerance::DOUBT * allowed;
        if in_doubt && self.method == Method::Exact && system.handedness() != self.handedness {
            return Err(Unsolved::OtherAssembly);
        }
        if self.method == Method::Elastic && self.gives_too_much(solved, system.worst_gap_m) {
            return Err(Unsolved::Misfit);
        }
        Ok(taken)
    }

    fn gives_too_much(&self, at: &Configuration, worst_gap_m: f64) -> bool {
        let shortest = self
            .mechanism
            .links
            .iter()
            .map(|l| l.length_m)
            .fold(f64::INFINITY, f64::min);
        worst_gap_m > tolerance::MISFIT * shortest
            && self
                .mechanism
                .gaps_m(at)
                .zip(&self.mechanism.links)
                .any(|(gap, link)| gap.abs() > tolerance::MISFIT * link.length_m)
    }

    fn remember(&mut self, taken: [f64; COORDINATES], step: Drive) {
        let before = if same_step(step, self.last_step) {
            self.history[0]
        } else {
            None
        };
        self.history = [Some(taken), before];
        self.last_step = step;
    }
}

fn difference(a: &Configuration, b: &Configuration) -> [f64; COORDINATES] {
    let (a, b) = (a.to_array(), b.to_array());
    std::array::from_fn(|i| a[i] - b[i])
}

fn step_count(from: Drive, to: Drive) -> u32 {
    let ride = (to.z_m - from.z_m).abs() / tolerance::STEP_M;
    let roll = (to.roll_rad - from.roll_rad).abs() / tolerance::STEP_RAD;
    // A travel of more than 600 m is no travel; the cap keeps a mistyped height from running for ever.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "bounded just before"
    )]
    let steps = ride.max(roll).ceil().clamp(1.0, 1e5) as u32;
    steps
}

fn same_step(a: Drive, b: Drive) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * b.abs();
    near(a.z_m, b.z_m) && near(a.roll_rad, b.roll_rad)
}
