//! Closing the links at an imposed drive: Newton where the layout is exact, Gauss-Newton where links are redundant.

use nalgebra::{Const, DimMin, LU, SMatrix, SVector, ToTypenum};
use thiserror::Error;

use crate::configuration::{Configuration, Drive};
use crate::mechanism::Mechanism;
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
    /// As many independent links as unknowns: Newton on the gaps.
    Exact,
    /// Redundant or free: least squares weighted by stiffness, slightly damped, so that a free direction stays where it is.
    Elastic,
}

/// Dimensions for which nalgebra can factor a square system.
pub(crate) trait Square<const N: usize>: ToTypenum + DimMin<Const<N>, Output = Const<N>> {}
impl<const N: usize> Square<N> for Const<N> where Const<N>: ToTypenum + DimMin<Const<N>, Output = Const<N>> {}

/// The closures linearised at a pose, as a square system in scaled unknowns.
pub(crate) struct Linearised<const N: usize> {
    matrix: SMatrix<f64, N, N>,
    gap: SVector<f64, N>,
    ride: SVector<f64, N>,
    roll: SVector<f64, N>,
    pub worst_gap_m: f64,
}

impl<const N: usize> Linearised<N> {
    pub fn at(mechanism: &Mechanism, method: Method, at: &Configuration) -> Self {
        let mut system = Self {
            matrix: SMatrix::zeros(),
            gap: SVector::zeros(),
            ride: SVector::zeros(),
            roll: SVector::zeros(),
            worst_gap_m: 0.0,
        };
        match method {
            Method::Exact => system.stack(mechanism, at),
            Method::Elastic => system.square(mechanism, at),
        }
        system
    }

    /// The Jacobian itself, one row a link.
    fn stack(&mut self, mechanism: &Mechanism, at: &Configuration) {
        for (i, row) in mechanism.rows(at).enumerate() {
            for (j, &unknown) in UNKNOWNS.iter().take(N).enumerate() {
                self.matrix[(i, j)] = row.gradient[unknown];
            }
            self.gap[i] = row.gap_m;
            self.ride[i] = row.gradient[RIDE];
            self.roll[i] = row.gradient[ROLL];
            self.worst_gap_m = self.worst_gap_m.max(row.gap_m.abs());
        }
    }

    /// The damped normal equations.
    fn square(&mut self, mechanism: &Mechanism, at: &Configuration) {
        for (row, weight) in mechanism.rows(at).zip(&mechanism.weights) {
            let mut j = SVector::<f64, N>::zeros();
            for (k, entry) in j.iter_mut().enumerate() {
                *entry = row.gradient[UNKNOWNS[k]] * weight;
            }
            self.matrix.ger(1.0, &j, &j, 1.0);
            self.gap.axpy(row.gap_m * weight, &j, 1.0);
            self.ride.axpy(row.gradient[RIDE] * weight, &j, 1.0);
            self.roll.axpy(row.gradient[ROLL] * weight, &j, 1.0);
            self.worst_gap_m = self.worst_gap_m.max(row.gap_m.abs());
        }
        let damping = tolerance::DAMPING * self.matrix.trace().max(f64::MIN_POSITIVE);
        for i in 0..N {
            self.matrix[(i, i)] += damping;
        }
    }
}

impl<const N: usize> Linearised<N>
where
    Const<N>: Square<N>,
{
    /// Change of the unknowns that closes the links to first order, unscaled; and whether the system turns left or right handed.
    pub fn newton_step(&self, mechanism: &Mechanism) -> Option<[f64; COORDINATES]> {
        solve(&self.matrix, &self.gap, mechanism)
    }

    /// Change of every coordinate that follows a small change of the drive, to first order.
    pub fn tangent(&self, mechanism: &Mechanism, drive: Drive) -> Option<[f64; COORDINATES]> {
        let roll = drive.roll_rad * mechanism.scale_m;
        let mut change = solve(&self.matrix, &(self.ride * drive.z_m + self.roll * roll), mechanism)?;
        change[RIDE] = drive.z_m;
        change[ROLL] = drive.roll_rad;
        Some(change)
    }

    /// Sign of the determinant: it cannot change along one assembly of an exact layout.
    pub fn handedness(&self) -> f64 {
        LU::new(self.matrix).determinant().signum()
    }
}

/// `-matrix^-1 right`, spread over the coordinates; `None` where the system is singular.
fn solve<const N: usize>(
    matrix: &SMatrix<f64, N, N>,
    right: &SVector<f64, N>,
    mechanism: &Mechanism,
) -> Option<[f64; COORDINATES]>
where
    Const<N>: Square<N>,
{
    let step = LU::new(*matrix).solve(right)?;
    let mut scaled = [0.0; COORDINATES];
    for (k, value) in step.iter().enumerate() {
        if !value.is_finite() {
            return None;
        }
        scaled[UNKNOWNS[k]] = -value;
    }
    Some(mechanism.unscaled(scaled))
}

/// Adds a change of coordinates to a configuration.
pub(crate) fn moved(at: &Configuration, change: &[f64; COORDINATES]) -> Configuration {
    let mut coordinates = at.to_array();
    for (c, d) in coordinates.iter_mut().zip(change) {
        *c += d;
    }
    Configuration::from_array(coordinates)
}

/// Closes the links from a guess, whose drive is kept.
pub(crate) fn close<const N: usize>(
    mechanism: &Mechanism,
    method: Method,
    guess: &Configuration,
) -> Result<(Configuration, Linearised<N>), Unsolved>
where
    Const<N>: Square<N>,
{
    let mut at = *guess;
    for _ in 0..tolerance::MAX_ITERATIONS {
        let system = Linearised::<N>::at(mechanism, method, &at);
        if system.worst_gap_m <= mechanism.closed_m {
            return Ok((at, system));
        }
        let step = system.newton_step(mechanism).ok_or(Unsolved::NoConvergence)?;
        at = moved(&at, &step);
        let size = mechanism.size_of(&step);
        if method == Method::Elastic && size <= tolerance::SETTLED * mechanism.scale_m {
            return Ok((at, system));
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
    /// The method that suits the layout: exact where the links are as many as the unknowns and independent at `at`.
    pub(crate) fn method_at(&self, at: &Configuration) -> Method {
        let freedom = self.freedom(at);
        if self.links.len() == self.unknowns() && freedom.free.is_empty() {
            Method::Exact
        } else {
            Method::Elastic
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
        let method = self.method_at(guess);
        match self.cranks.len() {
            0 => self.assemble_with::<4>(method, guess),
            1 => self.assemble_with::<5>(method, guess),
            _ => self.assemble_with::<6>(method, guess),
        }
    }

    fn assemble_with<const N: usize>(&self, method: Method, guess: &Configuration) -> Result<Solved, Unsolved>
    where
        Const<N>: Square<N>,
    {
        let (at, system) = close::<N>(self, method, guess)?;
        Ok(Solved {
            at,
            misfit_m: system.worst_gap_m,
        })
    }
}
