//! What is wrong, what to look at, what is fine, with numbers and heights. Sentences are in [`sentence`].

mod assumed;
mod brackets;
mod clearance;
mod driveline;
mod ground;
mod insert;
mod lit;
mod remedy;
mod sentence;
mod springs;
mod steel;
mod tyres;
mod wide;
mod words;

pub use clearance::with_survey;
pub use lit::Lit;
pub use remedy::{Preview, Remedy};
pub use sentence::{capitalised, directed, nose, side};

use linkage::Direction;

use crate::answers::Solved;
use crate::bind::{Bind, relieved};
use crate::mechanism::{CompileError, Part};
use crate::setup::{Bar, BarId, Role, Setup, Side};
use crate::sideways::{self, LEVEL_M, LevelAt, Levelness};
use crate::square::Stance;
use crate::swing::{CrankSwing, Swing};
use crate::travel::{Row, Travel, TravelEnd};

/// How serious a finding is. The order is the order of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grade {
    /// It cannot be built like this.
    WontWork,
    /// Somebody should look at it.
    Check,
    /// It is as it should be.
    Fine,
}

impl Grade {
    /// The word that the list shows.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::WontWork => "won't work",
            Self::Check => "check",
            Self::Fine => "fine",
        }
    }
}

/// One thing found.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// How serious it is.
    pub grade: Grade,
    /// What it is.
    pub kind: Kind,
    /// The part to light up.
    pub part: Option<Part>,
    /// The height to go to.
    pub height_m: Option<f64>,
    /// The roll to go to, where it is not the same at every roll.
    pub roll_rad: Option<f64>,
    /// What would help, each one step.
    pub remedies: Vec<Remedy>,
}

/// What was found.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// The description cannot be solved.
    Unsolvable(CompileError),
    /// No link resists a motion of the axle.
    Free(Direction),
    /// The travel ends before its drawn end.
    EndsEarly(TravelEnd),
    /// A sideways bar and how level it is.
    Level(Levelness),
    /// Largest sideways shift, against the user's limit.
    Shift {
        /// With its sign, + left.
        shift_m: f64,
    },
    /// Largest change of pinion angle from ride height, against the user's limit.
    PinionChange {
        /// + nose up.
        change_rad: f64,
    },
    /// Upper and lower bars act alike, or not.
    EffectiveLengths {
        /// Of the upper pair.
        upper_m: f64,
        /// Of the lower pair.
        lower_m: f64,
    },
    /// How much rolling steers the axle at ride height.
    RollSteer {
        /// Heading per roll, + towards oversteer.
        steer: f64,
    },
    /// As-built bars that pull on each other at ride height.
    Preload {
        /// The largest length a bar has to give.
        misfit_m: f64,
        /// The force that makes it.
        force_n: f64,
    },
    /// Bars that do not fit each other with one wheel up.
    Bind(Bind),
    /// How square and central the axle stands.
    Square(Stance),
    /// The joint that swings past its limit, or comes nearest to it.
    Swing(Swing),
    /// How far the Watt's crank turns.
    Crank(CrankSwing),
    /// Inserts that do not fit a bar's tube.
    Insert(crate::insert::Insert),
    /// A bar whose tube fills the room between its brackets' plates.
    Wide(Part),
    /// A bracket that no plates can be cut for.
    Bracket {
        /// What it would hold, and on what.
        name: String,
    },
    /// Joints, slip and speed of the shaft.
    Driveline(crate::driveline::Fault),
    /// Springs at their ends, their rates and pressures.
    Spring(crate::springs::Fault),
    /// Tyres, lips and the width of the axle.
    Tyre(crate::tyres::Fault),
    /// What meets the ground.
    Ground(crate::ground::Fault),
    /// What comes too near to what.
    Clearance(crate::clearance::Fault),
}

/// Effective lengths within a hundredth of each other act as equal.
const ALIKE: f64 = 0.01;

/// A pinion that turns less than this keeps its angle.
const TURNS_RAD: f64 = 1e-6;

/// Steer per roll beyond this is felt: a tenth of a degree for each degree. Common practice.
const FELT_STEER: f64 = 0.1;

/// Everything found, most serious first.
#[must_use]
pub fn of(setup: &Setup, solved: &Result<Solved, CompileError>) -> Vec<Finding> {
    let mut findings = match solved {
        Err(error) => vec![unsolvable(setup, error)],
        Ok(solved) => {
            let mut found = free_motions(solved);
            // What an axle that is not held does through its travel is anybody's guess.
            if found.is_empty() {
                found.extend(early_ends(solved));
                found.extend(level_bars(setup, solved));
                found.extend(shift(setup, &solved.level));
                found.extend(pinion(setup, solved));
                found.extend(effective_lengths(setup));
                found.extend(roll_steer(setup, solved));
                found.extend(steel::of(setup, solved));
                found.extend(insert::of(setup));
                found.extend(wide::of(setup));
                found.extend(brackets::of(setup, solved));
                found.extend(driveline::of(setup, solved));
                found.extend(springs::of(setup, solved));
                found.extend(tyres::of(setup, solved));
                found.extend(ground::of(setup, solved));
                found.extend(clearance::of(setup, solved));
            }
            found
        }
    };
    findings.sort_by_key(|f| f.grade);
    findings
}

impl Finding {
    fn new(grade: Grade, kind: Kind) -> Self {
        Self {
            grade,
            kind,
            part: None,
            height_m: None,
            roll_rad: None,
            remedies: Vec::new(),
        }
    }

    fn about(mut self, part: Option<Part>) -> Self {
        self.part = part;
        self
    }

    fn at(mut self, height_m: f64) -> Self {
        self.height_m = Some(height_m);
        self
    }

    fn rolled(mut self, roll_rad: f64) -> Self {
        self.roll_rad = Some(roll_rad);
        self
    }
}

fn grade(fine: bool) -> Grade {
    if fine { Grade::Fine } else { Grade::Check }
}

/// Of bars that cannot be bolted in the one is named that keeps them from it, where one does: not the one that is farthest from fitting,
/// which may be any of them.
fn unsolvable(setup: &Setup, error: &CompileError) -> Finding {
    let misbuilt = match error {
        CompileError::DoesNotFit { .. } => relieved(setup).map(|(part, _)| part),
        _ => None,
    };
    let error = misbuilt.map_or_else(
        || error.clone(),
        |part| CompileError::DoesNotFit { name: part.name(setup) },
    );
    Finding::new(Grade::WontWork, Kind::Unsolvable(error)).about(misbuilt)
}

fn free_motions(solved: &Solved) -> Vec<Finding> {
    solved
        .freedom
        .free
        .iter()
        .map(|motion| Finding::new(Grade::WontWork, Kind::Free(motion.direction)))
        .collect()
}

/// The level sweep's ends; the rolled one's only where the level one has none there.
fn early_ends(solved: &Solved) -> Vec<Finding> {
    let ends = [
        solved.level.low_end.or(solved.rolled.low_end),
        solved.level.high_end.or(solved.rolled.high_end),
    ];
    let mut found: Vec<Finding> = Vec::new();
    for end in ends.into_iter().flatten() {
        let kind = Kind::EndsEarly(end);
        if !found.iter().any(|f| f.kind == kind) {
            found.push(Finding::new(Grade::WontWork, kind).about(end.part).at(end.height_m));
        }
    }
    found
}

fn level_bars(setup: &Setup, solved: &Solved) -> Vec<Finding> {
    let finding = |level: Levelness| {
        let is_level = |out: f64| out.abs() <= LEVEL_M;
        let fine = is_level(level.at_ride_m) || level.at_half_m.is_some_and(is_level);
        let (at, height_m) = if is_level(level.at_ride_m) {
            (Some(LevelAt::HalfTravel), setup.travel.ride_m)
        } else {
            (
                level.at_half_m.is_some_and(is_level).then_some(LevelAt::Ride),
                setup.travel.half_m(),
            )
        };
        // The one that is not so yet; both where neither is.
        let mut remedies = at.map_or(vec![LevelAt::HalfTravel, LevelAt::Ride], |other| vec![other]);
        if (setup.travel.half_m() - setup.travel.ride_m).abs() < LEVEL_M {
            remedies.truncate(usize::from(!fine));
        }
        Finding {
            remedies: remedies.into_iter().map(|at| Remedy::LevelBar(level.bar, at)).collect(),
            ..Finding::new(grade(fine), Kind::Level(level))
                .about(Some(Part::Bar(level.bar, Side::Drawn)))
                .at(height_m)
        }
    };
    sideways::levelness(setup, &solved.rear_end, &solved.level)
        .into_iter()
        .map(finding)
        .collect()
}

fn shift(setup: &Setup, level: &Travel) -> Option<Finding> {
    let worst = level.largest(|row| row.shift_m)?;
    let fine = worst.shift_m.abs() <= setup.limits.shift_m;
    Some(Finding::new(grade(fine), Kind::Shift { shift_m: worst.shift_m }).at(worst.height_m))
}

fn pinion(setup: &Setup, solved: &Solved) -> Option<Finding> {
    let change = |row: &Row| row.pinion_to_frame_rad - solved.stance.pinion_rad;
    let worst = solved.level.largest(change)?;
    let change_rad = change(worst);
    let fine = change_rad.abs() <= setup.limits.pinion_change_rad;
    let finding = Finding::new(grade(fine), Kind::PinionChange { change_rad });
    // One that never turns does so nowhere in particular.
    Some(if change_rad.abs() < TURNS_RAD {
        finding
    } else {
        finding.at(worst.height_m)
    })
}

fn roll_steer(setup: &Setup, solved: &Solved) -> Option<Finding> {
    let steer = solved.level.nearest(setup.travel.ride_m)?.first.roll_steer;
    let fine = steer.abs() <= FELT_STEER;
    steer
        .is_finite()
        .then(|| Finding::new(grade(fine), Kind::RollSteer { steer }).at(setup.travel.ride_m))
}

/// Only where there is one pair above and one below: more bars, or single ones, have no two lengths to compare.
fn effective_lengths(setup: &Setup) -> Option<Finding> {
    let upper_m = pair_length(setup, Role::Upper)?;
    let lower_m = pair_length(setup, Role::Lower)?;
    let fine = (upper_m - lower_m).abs() <= ALIKE * lower_m;
    let remedy = (!fine).then(|| pair(setup, Role::Upper).map(Remedy::MatchLengths));
    Some(Finding {
        remedies: remedy.flatten().into_iter().collect(),
        ..Finding::new(grade(fine), Kind::EffectiveLengths { upper_m, lower_m })
    })
}

fn pair_length(setup: &Setup, role: Role) -> Option<f64> {
    sideways::effective_length_m(setup, pair(setup, role)?)
}

/// The one mirrored bar of a role.
fn pair(setup: &Setup, role: Role) -> Option<BarId> {
    let of_role = |(_, b): &(usize, &Bar)| b.role == role;
    let mut pairs = setup.bars.iter().enumerate().filter(of_role);
    match (pairs.next(), pairs.next()) {
        (Some((i, bar)), None) if bar.mirrored => Some(BarId(i)),
        _ => None,
    }
}
