//! Closing the links at an imposed drive: Newton where the layout is exact, Gauss-Newton where links are redundant.

use thiserror::Error;

use crate::closure::Row;
use crate::configuration::{Axes, Configuration, Drive};
use crate::factor::{Factored, solve};
use crate::four::FourRows;
use crate::mechanism::Mechanism;
use crate::rates::{Moving, RowRate};
use crate::tolerance;
use crate::{COORDINATES, RIDE, ROLL, UNKNOWNS};

/// A pose that closes the links as well as they can be.
#[derive(Clone, Copy, Debug)]
pub struct Solved {
    /// The pose.
    pub at: Configuration,
    /// The largest gap left, m: zero to rounding unless redundant links disagree.
    pub misfit_m: f64,
}

/// Why no pose was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum Unsolved {
    /// The iteration ran out of its bound.
    #[error("the links do not close at this height and roll")]
    NoConvergence,
    /// The pose found lies on another assembly than the one it was sought from.
    #[error("the links only close with the parts assembled another way")]
    OtherAssembly,
    /// A redundant link would have to give more than steel can.
    #[error("a link would have to change its length by more than a twentieth")]
    Misfit,
    /// The drive is not a number, or rolls further than the coordinates reach.
    #[error("the height or roll asked for is out of range")]
    DriveOutOfRange,
}

/// How the unknowns follow from the links.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Method {
    /// As many independent equations as unknowns: Newton on the gaps.
    Exact,
    /// Redundant or free: least squares weighted by stiffness, slightly damped, so that a free direction stays where it is.
    Elastic,
}

/// The closures linearised at a pose, as a square system in scaled unknowns.
pub(crate) struct Linearised<const N: usize> {
    matrix: [[f64; N]; N],
    gap: [f64; N],
    pub worst_gap_m: f64,
}

/// How the same system answers to the drive.
pub(crate) struct Driven<const N: usize> {
    factored: Factored<N>,
    ride: [f64; N],
    roll: [f64; N],
}

impl<const N: usize> Linearised<N> {
    #[inline]
    pub fn at(mechanism: &Mechanism, at: &Configuration) -> Self {
        Self::by(mechanism, mechanism.method, at)
    }

    #[inline]
    pub fn by(mechanism: &Mechanism, method: Method, at: &Configuration) -> Self {
        let mut system = Self::empty();
        if let (4, Method::Exact, Some(rows)) = (N, method, mechanism.four_rows(at)) {
            system.take(&rows);
            return system;
        }
        mechanism.each_row(at, &Axes::of(at), |i, row| system.add(mechanism, method, i, row));
        system.damp(method);
        system
    }

    fn empty() -> Self {
        Self {
            matrix: [[0.0; N]; N],
            gap: [0.0; N],
            worst_gap_m: 0.0,
        }
    }

    /// Takes four equations in that are all there are.
    #[inline(always)]
    fn take(&mut self, rows: &FourRows) {
        for i in 0..N {
            for (entry, coordinate) in self.matrix[i].iter_mut().zip(UNKNOWNS) {
                *entry = rows.gradient[coordinate][i];
            }
            self.gap[i] = rows.gap_m[i];
            self.worst_gap_m = self.worst_gap_m.max(rows.gap_m[i].abs());
        }
    }

    /// Takes an equation in: as a row of the Jacobian itself, or into the normal equations.
    #[inline(always)]
    fn add(&mut self, mechanism: &Mechanism, method: Method, i: usize, row: &Row) {
        let j: [f64; N] = unknowns(&row.gradient);
        match method {
            Method::Exact => {
                self.matrix[i] = j;
                self.gap[i] = row.gap_m;
            }
            Method::Elastic => {
                for a in 0..N {
                    let weighted = j[a] * mechanism.weights[i];
                    for (entry, other) in self.matrix[a].iter_mut().zip(&j) {
                        *entry += weighted * other;
                    }
                    self.gap[a] += weighted * row.gap_m;
                }
            }
        }
        self.worst_gap_m = self.worst_gap_m.max(row.gap_m.abs());
    }

    /// Makes normal equations solvable where something is free.
    #[inline]
    fn damp(&mut self, method: Method) {
        if method == Method::Elastic {
            let trace: f64 = (0..N).map(|i| self.matrix[i][i]).sum();
            let damping = tolerance::DAMPING * trace.max(f64::MIN_POSITIVE);
            for i in 0..N {
                self.matrix[i][i] += damping;
            }
        }
    }

    /// Change of the unknowns that closes the gaps to first order, unscaled; `None` where the system is singular.
    #[inline(always)]
    pub fn newton_step(&self, mechanism: &Mechanism) -> Option<[f64; COORDINATES]> {
        spread(mechanism, &solve(&self.matrix, &self.gap)?)
    }

    /// Sign of the determinant: it cannot change along one assembly of an exact layout. Zero where the system is singular.
    pub fn handedness(&self) -> f64 {
        Factored::of(self.matrix).map_or(0.0, |f| f.handedness())
    }
}

impl<const N: usize> Driven<N> {
    /// The system at a pose; `None` where it is singular.
    #[inline]
    pub fn at(mechanism: &Mechanism, at: &Configuration, axes: &Axes) -> Option<Self> {
        let (mut ride, mut roll) = ([0.0; N], [0.0; N]);
        let mut system = Linearised::<N>::empty();
        let method = mechanism.method;
        mechanism.each_row(at, axes, |i, row| {
            system.add(mechanism, method, i, row);
            match method {
                Method::Exact => {
                    ride[i] = row.gradient[RIDE];
                    roll[i] = row.gradient[ROLL];
                }
                Method::Elastic => {
                    let j: [f64; N] = unknowns(&row.gradient);
                    for a in 0..N {
                        let weighted = j[a] * mechanism.weights[i];
                        ride[a] += weighted * row.gradient[RIDE];
                        roll[a] += weighted * row.gradient[ROLL];
                    }
                }
            }
        });
        system.damp(method);
        let factored = Factored::of(system.matrix)?;
        Some(Self { factored, ride, roll })
    }

    /// Change of every coordinate that follows a small change of the drive, to first order.
    pub fn tangent(&self, mechanism: &Mechanism, drive: Drive) -> Option<[f64; COORDINATES]> {
        let roll = drive.roll_rad * mechanism.scale_m;
        let right = std::array::from_fn(|i| self.ride[i] * drive.z_m + self.roll[i] * roll);
        let mut change = spread(mechanism, &self.factored.solve(&right))?;
        change[RIDE] = drive.z_m;
        change[ROLL] = drive.roll_rad;
        Some(change)
    }

    /// Second derivative of every coordinate along the path that a tangent leads into: the system's own change along it, solved for again.
    pub fn bend(&self, mechanism: &Mechanism, moving: &Moving) -> Option<[f64; COORDINATES]> {
        let mut right = [0.0; N];
        let mut add = |i: usize, row: &RowRate| {
            let (gap_rate, bend) = moving.gap_rates(row);
            match mechanism.method {
                Method::Exact => right[i] = bend,
                // What is left of the gaps' own rates counts, in the direction that the gradient turns to.
                Method::Elastic => {
                    let (j, j_rate): ([f64; N], [f64; N]) = (unknowns(&row.gradient), unknowns(&row.gradient_rate));
                    for a in 0..N {
                        let per_scale = if UNKNOWNS[a] < 3 { 1.0 } else { 1.0 / mechanism.scale_m };
                        right[a] += mechanism.weights[i] * per_scale * (j[a] * bend + j_rate[a] * gap_rate);
                    }
                }
            }
        };
        for (i, link) in mechanism.links.iter().enumerate() {
            add(i, &moving.link(link, &mechanism.cranks));
        }
        for (i, joint) in mechanism.joints.iter().enumerate() {
            for (k, row) in moving.joint(joint).iter().enumerate() {
                add(mechanism.links.len() + 3 * i + k, row);
            }
        }
        spread(mechanism, &self.factored.solve(&right))
    }
}

#[inline]
fn unknowns<const N: usize>(gradient: &[f64; COORDINATES]) -> [f64; N] {
    let mut of_unknowns = [0.0; N];
    for (entry, coordinate) in of_unknowns.iter_mut().zip(UNKNOWNS) {
        *entry = gradient[coordinate];
    }
    of_unknowns
}

/// `-solution`, spread over the coordinates and unscaled; `None` where it is not finite.
#[inline(always)]
fn spread<const N: usize>(mechanism: &Mechanism, solution: &[f64; N]) -> Option<[f64; COORDINATES]> {
    let mut scaled = [0.0; COORDINATES];
    for (k, value) in solution.iter().enumerate() {
        scaled[UNKNOWNS[k]] = -value;
    }
    solution
        .iter()
        .all(|v| v.is_finite())
        .then(|| mechanism.unscaled(scaled))
}

/// Adds a change of coordinates to a configuration.
#[inline]
pub(crate) fn moved(at: &Configuration, change: &[f64; COORDINATES]) -> Configuration {
    let mut coordinates = at.to_array();
    for (c, d) in coordinates.iter_mut().zip(change) {
        *c += d;
    }
    Configuration::from_array(coordinates)
}

/// Closes the links from a guess, whose drive is kept. Gives the pose and the largest gap left.
pub(crate) fn close<const N: usize>(mechanism: &Mechanism, guess: &Configuration) -> Result<Solved, Unsolved> {
    let mut at = *guess;
    for _ in 0..tolerance::MAX_ITERATIONS {
        let system = Linearised::<N>::at(mechanism, &at);
        let misfit_m = system.worst_gap_m;
        if misfit_m <= mechanism.closed_m {
            return Ok(Solved { at, misfit_m });
        }
        let step = system.newton_step(mechanism).ok_or(Unsolved::NoConvergence)?;
        at = moved(&at, &step);
        let size = mechanism.size_of(&step);
        if let Some(misfit_m) = mechanism.settled(size, misfit_m) {
            return Ok(Solved { at, misfit_m });
        }
        if !size.is_finite() || size > 1e3 * mechanism.scale_m {
            return Err(Unsolved::NoConvergence);
        }
    }
    Err(Unsolved::NoConvergence)
}

pub(crate) fn check_drive(drive: Drive) -> Result<(), Unsolved> {
    let in_range =
        drive.z_m.is_finite() && drive.roll_rad.is_finite() && drive.roll_rad.abs() <= tolerance::MAX_ROLL_RAD;
    if in_range {
        Ok(())
    } else {
        Err(Unsolved::DriveOutOfRange)
    }
}

impl Mechanism {
    /// The method that suits the layout: exact where the equations are as many as the unknowns and independent at `at`.
    pub(crate) fn method_at(&self, at: &Configuration) -> Method {
        if self.equations() == self.unknowns() && self.freedom(at).free.is_empty() {
            Method::Exact
        } else {
            Method::Elastic
        }
    }

    /// The gap left after a step, where it needs no further look.
    #[inline]
    fn settled(&self, step_m: f64, gap_before_m: f64) -> Option<f64> {
        match self.method {
            // What a step leaves of an exact layout's gaps is the second order of the step.
            Method::Exact => {
                let left_m = 0.5 * self.curvature_per_m * step_m * step_m;
                (left_m <= self.closed_m).then_some(left_m)
            }
            Method::Elastic => (step_m <= tolerance::SETTLED * self.scale_m).then_some(gap_before_m),
        }
    }

    /// Solves the pose at the drive of `guess`, from `guess`. For a sweep use [`Mechanism::walk`], which stays on one assembly.
    ///
    /// # Errors
    /// When the links do not close near the guess.
    pub fn assemble(&self, guess: &Configuration) -> Result<Solved, Unsolved> {
        check_drive(guess.drive())?;
        if !guess.is_finite() {
            return Err(Unsolved::NoConvergence);
        }
        match self.cranks.len() {
            0 => self.assemble_with::<4>(guess),
            1 => self.assemble_with::<5>(guess),
            _ => self.assemble_with::<6>(guess),
        }
    }

    fn assemble_with<const N: usize>(&self, guess: &Configuration) -> Result<Solved, Unsolved> {
        close::<N>(self, guess)
    }
}
