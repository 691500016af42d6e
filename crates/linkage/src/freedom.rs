//! What the links hold, by the singular values of the scaled Jacobian.

use nalgebra::{DMatrix, DVector};

use crate::closure::ClosureId;
use crate::configuration::{Axes, Configuration};
use crate::mechanism::Mechanism;
use crate::motion::Twist;
use crate::solve::moved;
use crate::{COORDINATES, RIDE, ROLL, UNKNOWNS, tolerance};

/// The coordinate that a motion mostly consists of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Along X.
    ForeAft,
    /// Along Y.
    Sideways,
    /// About Z.
    Yaw,
    /// About the platform's Y axis.
    Pitch,
    /// A crank turns by itself.
    Crank,
}

/// A motion that no link resists, ride and roll aside.
#[derive(Clone, Copy, Debug)]
pub struct FreeMotion {
    /// What it mostly is.
    pub direction: Direction,
    /// Its velocity, of unit size in scaled coordinates.
    pub velocity: Twist,
    rates: [f64; COORDINATES],
}

/// How the platform is held at a pose, the drive being imposed.
#[derive(Clone, Debug)]
pub struct Freedom {
    /// Motions left free; empty where the platform is located.
    pub free: Vec<FreeMotion>,
    /// Equations more than needed: one a link, three a joint.
    pub redundant: usize,
    /// The parts that share the holding with others, so that one of them could be missed.
    pub sharing: Vec<ClosureId>,
    /// They disagree as soon as the platform rises.
    pub binds_in_ride: bool,
    /// They disagree as soon as the platform rolls.
    pub binds_in_roll: bool,
    /// Smallest over largest singular value among the located directions: how firmly the weakest is held.
    pub firmness: f64,
}

impl Mechanism {
    /// Freedom analysis. Lengths and angles are compared by [`Mechanism::characteristic_length_m`].
    #[must_use]
    pub fn freedom(&self, at: &Configuration) -> Freedom {
        if !at.is_finite() {
            return self.unheld();
        }
        let unknowns = self.unknowns();
        let mut rows = vec![[0.0; COORDINATES]; self.equations()];
        self.each_row(at, &Axes::of(at), |i, row| rows[i] = row.gradient);
        // Padded to at least square, so that every unknown has its singular value.
        let height = rows.len().max(unknowns);
        let column = |c: usize| DVector::from_fn(height, |i, _| rows.get(i).map_or(0.0, |gradient| gradient[c]));
        let jacobian = DMatrix::from_columns(&UNKNOWNS[..unknowns].iter().map(|&c| column(c)).collect::<Vec<_>>());
        let svd = jacobian.svd(true, true);
        let (Some(u), Some(v_t)) = (svd.u, svd.v_t) else {
            return self.unheld();
        };
        let largest = svd.singular_values.max().max(f64::MIN_POSITIVE);
        let held = |k: usize| svd.singular_values[k] > tolerance::RANK * largest;
        let free = (0..unknowns)
            .filter(|&k| !held(k))
            .map(|k| self.free_motion(&v_t.row(k).transpose(), at))
            .collect();
        let rank = (0..unknowns).filter(|&k| held(k)).count();
        // What an equation adds to the held directions that no other holds: all of it, or a share.
        let alone = |row: usize| {
            let part: f64 = (0..unknowns).filter(|&k| held(k)).map(|k| u[(row, k)].powi(2)).sum();
            part > 1.0 - tolerance::SHARED
        };
        let mut sharing: Vec<_> = (0..rows.len())
            .filter(|&row| !alone(row))
            .map(|row| self.closure_of(row))
            .collect();
        sharing.dedup();
        let binds = |c: usize| {
            let wanted = column(c);
            let met = (0..unknowns)
                .filter(|&k| held(k))
                .fold(DVector::zeros(height), |met, k| {
                    let direction = u.column(k);
                    met + direction * direction.dot(&wanted)
                });
            (wanted - met).norm() > tolerance::RANK.sqrt()
        };
        Freedom {
            free,
            redundant: rows.len() - rank,
            sharing,
            binds_in_ride: binds(RIDE),
            binds_in_roll: binds(ROLL),
            firmness: svd
                .singular_values
                .iter()
                .filter(|s| **s > tolerance::RANK * largest)
                .fold(1.0, |m, s| s.min(m * largest) / largest),
        }
    }

    /// The pose after going along a free motion by an amount (m, in scaled coordinates), everything closed again as well as it can be;
    /// `None` where it does not close.
    #[must_use]
    pub fn swum(&self, at: &Configuration, motion: &FreeMotion, amount_m: f64) -> Option<Configuration> {
        let aside = moved(at, &motion.rates.map(|rate| rate * amount_m));
        self.assemble(&aside).ok().map(|solved| solved.at)
    }

    fn free_motion(&self, scaled: &DVector<f64>, at: &Configuration) -> FreeMotion {
        let mut coordinates = [0.0; COORDINATES];
        for (k, value) in scaled.iter().enumerate() {
            coordinates[UNKNOWNS[k]] = *value;
        }
        let largest = (0..COORDINATES).fold(0, |m, i| {
            if coordinates[i].abs() > coordinates[m].abs() {
                i
            } else {
                m
            }
        });
        let direction = match largest {
            0 => Direction::ForeAft,
            1 => Direction::Sideways,
            3 => Direction::Yaw,
            5 => Direction::Pitch,
            _ => Direction::Crank,
        };
        FreeMotion {
            direction,
            velocity: Twist::from_rates(&self.unscaled(coordinates), &Axes::of(at)),
            rates: self.unscaled(coordinates),
        }
    }

    fn unheld(&self) -> Freedom {
        Freedom {
            free: Vec::new(),
            redundant: self.equations(),
            sharing: Vec::new(),
            binds_in_ride: false,
            binds_in_roll: false,
            firmness: 0.0,
        }
    }
}
