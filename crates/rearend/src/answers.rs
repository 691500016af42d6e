//! Everything the window shows of a setup, computed in one go.

use crate::findings::{self, Finding};
use crate::mechanism::{CompileError, RearEnd};
use crate::setup::Setup;
use crate::travel::{POSES, Row, Travel, TravelEnd, pose};

/// The answers to a setup that compiles.
#[derive(Clone, Debug)]
pub struct Solved {
    /// The compiled mechanism.
    pub rear_end: RearEnd,
    /// Both wheels together.
    pub level: Travel,
    /// One wheel up, by the roll of the setup's travel.
    pub rolled: Travel,
}

/// All answers to a setup.
#[derive(Clone, Debug)]
pub struct Answers {
    /// Poses and travel, or why there are none.
    pub solved: Result<Solved, CompileError>,
    /// What is wrong, what to look at, what is fine; most serious first.
    pub findings: Vec<Finding>,
}

impl Answers {
    /// Computes everything. Takes well under a millisecond.
    #[must_use]
    pub fn of(setup: &Setup) -> Self {
        let solved = RearEnd::compile(setup).map(|rear_end| {
            let level = Travel::sweep(setup, &rear_end, 0.0, POSES);
            let rolled = Travel::sweep(setup, &rear_end, setup.travel.one_wheel_up_rad, POSES);
            Solved {
                rear_end,
                level,
                rolled,
            }
        });
        let findings = findings::of(setup, &solved);
        Self { solved, findings }
    }

    /// The poses with both wheels together, lowest first; none where nothing is solved.
    #[must_use]
    pub fn level_rows(&self) -> &[Row] {
        self.solved
            .as_ref()
            .map(|s| s.level.rows.as_slice())
            .unwrap_or_default()
    }

    /// The pose at a height and roll.
    ///
    /// # Errors
    /// Where the travel ends before it; `None` if the setup has no poses at all.
    pub fn pose(&self, setup: &Setup, height_m: f64, roll_rad: f64) -> Result<Row, Option<TravelEnd>> {
        let solved = self.solved.as_ref().map_err(|_| None)?;
        pose(setup, &solved.rear_end, &solved.level, height_m, roll_rad).map_err(Some)
    }
}
