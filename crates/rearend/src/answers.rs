//! Everything the window shows of a setup, computed in one go.

use linkage::Freedom;

use crate::bind::{self, Bind};
use crate::findings::{self, Finding};
use crate::mechanism::{CompileError, RearEnd};
use crate::setup::Setup;
use crate::square::{self, Stance, TurnEffect};
use crate::swing::{self, CrankSwing, Swing};
use crate::travel::{POSES, ROLLS, RollSweep, Row, Travel, TravelEnd, pose};

/// The answers to a setup that compiles.
#[derive(Clone, Debug)]
pub struct Solved {
    /// The compiled mechanism.
    pub rear_end: RearEnd,
    /// Both wheels together.
    pub level: Travel,
    /// One wheel up, by the roll of the setup's travel.
    pub rolled: Travel,
    /// Rolls to either side laid out, at ride height and at full lift; fewer where a height is not reached.
    pub rolls: Vec<RollSweep>,
    /// What the bars hold at ride height.
    pub freedom: Freedom,
    /// How far the joints swing.
    pub swings: Vec<Swing>,
    /// The Watt's crank through it all, where there is one.
    pub crank: Option<CrankSwing>,
    /// How far one wheel can go up before something binds; none where nothing does.
    pub bind: Vec<Bind>,
    /// How square and central the axle stands at ride height.
    pub stance: Stance,
    /// What one turn of each adjuster does.
    pub turns: Vec<TurnEffect>,
}

impl Solved {
    /// Every pose there is.
    pub fn all_rows(&self) -> impl Iterator<Item = &Row> {
        let rolls = self.rolls.iter().flat_map(|sweep| &sweep.rows);
        self.level.rows.iter().chain(&self.rolled.rows).chain(rolls)
    }

    fn of(setup: &Setup, rear_end: RearEnd) -> Self {
        let level = Travel::sweep(setup, &rear_end, 0.0, POSES);
        let rolled = Travel::sweep(setup, &rear_end, setup.travel.one_wheel_up_rad, POSES);
        let ride = Row::at_ride(setup, &rear_end);
        let ends = [level.rows.first(), Some(&ride), level.rows.last()];
        let rolls: Vec<_> = ends
            .into_iter()
            .flatten()
            .map(|row| RollSweep::sweep(setup, &rear_end, row, ROLLS))
            .collect();
        let mut solved = Self {
            freedom: rear_end.mechanism.freedom(&rear_end.ride),
            stance: Stance::of(setup, &ride),
            turns: square::turn_effects(setup, &ride),
            bind: bind::binds(setup, &rear_end, &rolls),
            rear_end,
            level,
            rolled,
            rolls,
            swings: Vec::new(),
            crank: None,
        };
        solved.swings = swing::swings(setup, &solved);
        solved.crank = swing::crank_swing(&solved);
        solved
    }
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
        let solved = RearEnd::compile(setup).map(|rear_end| Solved::of(setup, rear_end));
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
