//! What would help with a finding, and what it would change.

use nalgebra::Point3;

use super::steel::pinion_off_rad;
use super::{Finding, Grade, Kind, pair};
use crate::answers::{Answers, Solved};
use crate::clearance::notch_for;
use crate::driveline::remedy::matched_at;
use crate::mechanism::{Part, RearEnd};
use crate::setup::{BarEnd, BarId, Length, Mount, Role, Setup, Side, SpringKind};
use crate::sideways::{self, LevelAt, effective_length_m};
use crate::springs::preload_m;
use crate::square::Stance;
use crate::tape::Units;
use crate::travel::Row;

/// A change that would help with a finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Remedy {
    /// Raise or lower a sideways bar's frame mount.
    LevelBar(BarId, LevelAt),
    /// Bring the frame mounts of the upper bars to where they act as long as the lower ones.
    MatchLengths(BarId),
    /// Turn a sideways bar's adjuster until the axle stands in the middle.
    CentreAxle(BarId),
    /// Turn the upper bars' adjusters until the pinion stands at the angle it is drawn at.
    SetPinion,
    /// Turn the pinion in the housing's brackets so that the shaft's joints even each other out.
    MatchPinion(LevelAt),
    /// Turn the coilovers' collars until they hold the truck at ride height.
    SetCollars,
    /// Cut the rails so that the axle tube keeps the room wanted.
    CutNotch,
}

impl Remedy {
    /// What the button says.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::LevelBar(_, LevelAt::HalfTravel) => "level it at half travel",
            Self::LevelBar(_, LevelAt::Ride) => "level it at ride height",
            Self::MatchLengths(_) => "make the upper bars act as long",
            Self::CentreAxle(_) => "centre the axle",
            Self::SetPinion => "turn the upper bars' adjusters",
            Self::MatchPinion(LevelAt::HalfTravel) => "match the pinion at half travel",
            Self::MatchPinion(LevelAt::Ride) => "match the pinion at ride height",
            Self::SetCollars => "set the collars",
            Self::CutNotch => "cut the notch",
        }
    }

    /// The mount that it moves, where it moves one.
    #[must_use]
    pub fn mount(self) -> Option<Mount> {
        match self {
            Self::LevelBar(bar, _) | Self::MatchLengths(bar) => Some(frame_mount(bar)),
            Self::CentreAxle(_) | Self::SetPinion | Self::MatchPinion(_) | Self::SetCollars | Self::CutNotch => None,
        }
    }

    /// The setup with the change made; `None` where it cannot be.
    #[must_use]
    pub fn apply(self, setup: &Setup, solved: &Solved) -> Option<Setup> {
        let mut next = setup.clone();
        match self {
            Self::LevelBar(bar, at) => {
                let (mount, to) = sideways::levelled(setup, &solved.rear_end, &solved.level, bar, at)?;
                if !next.move_mount(mount, to) {
                    return None;
                }
            }
            Self::MatchLengths(bar) => {
                if !next.move_mount(frame_mount(bar), as_long_as_the_lower(setup, bar)?) {
                    return None;
                }
            }
            Self::CentreAxle(bar) => next = centred(setup, solved, bar)?,
            Self::SetPinion => next = pinion_set(setup, solved)?,
            Self::CutNotch => {
                let needed = notch_for(setup, solved, setup.limits.clearance_m)?;
                next.rails.notch = Some(needed.notch());
            }
            Self::MatchPinion(at) => next.axle.pinion_angle_rad = matched_at(setup, solved, at)?,
            Self::SetCollars => {
                let springs = next.springs.as_mut()?;
                let pose = Row::at_ride(setup, &solved.rear_end).spring?;
                let preload_m = preload_m(springs, &pose).filter(|p| *p >= 0.0)?;
                let SpringKind::Coilover(coilover) = &mut springs.kind else {
                    return None;
                };
                coilover.preload_m = preload_m;
            }
        }
        Some(next)
    }
}

fn frame_mount(bar: BarId) -> Mount {
    Mount::Bar {
        bar,
        end: BarEnd::Frame,
        side: Side::Drawn,
    }
}

/// Where the frame mount of an upper bar has to go, along the bar as it is seen from the side.
fn as_long_as_the_lower(setup: &Setup, upper: BarId) -> Option<Point3<f64>> {
    let wanted_m = effective_length_m(setup, pair(setup, Role::Lower)?)?;
    let part = wanted_m / effective_length_m(setup, upper).filter(|m| *m > 0.0)?;
    let bar = setup.bar(upper)?;
    let axle_end = setup.drawn().to_ground(bar.mount_in_axle);
    let along = bar.mount_in_frame - axle_end;
    Some(Point3::new(
        axle_end.x + along.x * part,
        bar.mount_in_frame.y,
        axle_end.z + along.z * part,
    ))
}

/// As near to the middle as any tape tells.
const CENTRAL_M: f64 = 1e-5;

/// Looks at the axle again after every correction: a turn's effect is not the same at every length.
const MOST_CORRECTIONS: usize = 8;

/// As near to an angle as any gauge tells.
const SET_RAD: f64 = 1e-5;

fn centred(setup: &Setup, solved: &Solved, bar: BarId) -> Option<Setup> {
    let part = Part::Bar(bar, Side::Drawn);
    let a_turn_m = solved.turns.iter().find(|turn| turn.part == part)?.left_m;
    let adjusters = Adjusters {
        turns: vec![(part, 1.0)],
        effect: a_turn_m,
    };
    adjusters.turned(setup, CENTRAL_M, |stance| stance.left_m)
}

/// All upper bars by the same length, so that none is pulled against another.
fn pinion_set(setup: &Setup, solved: &Solved) -> Option<Setup> {
    let upper = solved
        .turns
        .iter()
        .filter_map(|turn| match (turn.part, setup.length(turn.part)?) {
            (Part::Bar(id, _), Length::AsBuilt(built)) if setup.bar(id)?.role == Role::Upper => {
                Some((turn, A_LENGTH_M / built.adjuster.per_turn_m()))
            }
            _ => None,
        });
    let upper: Vec<_> = upper.collect();
    let adjusters = Adjusters {
        turns: upper.iter().map(|(turn, turns)| (turn.part, *turns)).collect(),
        effect: upper.iter().map(|(turn, turns)| turn.pinion_rad * turns).sum(),
    };
    adjusters.turned(setup, SET_RAD, |stance| pinion_off_rad(setup, stance))
}

/// What the upper bars are made longer by at a time.
const A_LENGTH_M: f64 = 1e-3;

/// Adjusters that are turned together.
struct Adjusters {
    /// Each with its turns for one step of all.
    turns: Vec<(Part, f64)>,
    /// What one step changes of what is off.
    effect: f64,
}

impl Adjusters {
    /// The setup with all of them turned until what is off is gone; `None` where turning them does not do it.
    fn turned(&self, setup: &Setup, enough: f64, off: impl Fn(&Stance) -> f64) -> Option<Setup> {
        if self.effect.abs() < enough {
            return None;
        }
        let mut next = setup.clone();
        for _ in 0..=MOST_CORRECTIONS {
            let rear_end = RearEnd::compile(&next).ok()?;
            let left = off(&Stance::of(&next, &Row::at_ride(&next, &rear_end)));
            if left.abs() < enough {
                return Some(next);
            }
            for (part, turns) in &self.turns {
                let Length::AsBuilt(mut built) = next.length(*part)? else {
                    return None;
                };
                built.turns -= turns * left / self.effect;
                next.set_length(*part, Length::AsBuilt(built));
            }
        }
        None
    }
}

/// What a remedy would change in the list of findings.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Preview {
    /// What would be said instead of what is said now, on the same matters.
    pub instead: Vec<(Grade, String)>,
    /// What would be found that is not found now.
    pub new: Vec<(Grade, String)>,
    /// What would no longer be found wrong.
    pub gone: Vec<String>,
}

impl Preview {
    /// Of a remedy; `None` where it cannot be taken. Takes as long as all answers do.
    #[must_use]
    pub fn of(remedy: Remedy, setup: &Setup, answers: &Answers, units: Units) -> Option<Self> {
        let next = remedy.apply(setup, answers.solved.as_ref().ok()?)?;
        let after = Answers::of(&next);
        let said = |finding: &Finding| (finding.grade, finding.sentence(&next, units));
        let was: Vec<_> = answers.findings.iter().map(|f| (f, f.sentence(setup, units))).collect();
        let mut preview = Self::default();
        for finding in &after.findings {
            let (grade, sentence) = said(finding);
            let before = was.iter().find(|(f, _)| same_matter(&f.kind, &finding.kind));
            match before {
                Some((_, was)) if *was != sentence => preview.instead.push((grade, sentence)),
                None if grade != Grade::Fine => preview.new.push((grade, sentence)),
                _ => {}
            }
        }
        let is_left = |kind: &Kind| after.findings.iter().any(|f| same_matter(&f.kind, kind));
        let gone = was
            .into_iter()
            .filter(|(f, _)| f.grade != Grade::Fine && !is_left(&f.kind));
        preview.gone = gone.map(|(_, sentence)| sentence).collect();
        Some(preview)
    }
}

fn same_matter(a: &Kind, b: &Kind) -> bool {
    use std::mem::discriminant;
    let same_inside = match (a, b) {
        (Kind::Level(a), Kind::Level(b)) => a.bar == b.bar,
        (Kind::Free(a), Kind::Free(b)) => a == b,
        (Kind::Swing(a), Kind::Swing(b)) => (a.part, a.end) == (b.part, b.end),
        (Kind::Insert(a), Kind::Insert(b)) => a.part == b.part,
        (Kind::Wide(a), Kind::Wide(b)) => a == b,
        (Kind::Bracket { name: a }, Kind::Bracket { name: b }) => a == b,
        (Kind::Driveline(a), Kind::Driveline(b)) => discriminant(a) == discriminant(b),
        (Kind::Spring(a), Kind::Spring(b)) => discriminant(a) == discriminant(b),
        (Kind::Tyre(a), Kind::Tyre(b)) => discriminant(a) == discriminant(b),
        (Kind::Ground(a), Kind::Ground(b)) => discriminant(a) == discriminant(b),
        (Kind::Clearance(a), Kind::Clearance(b)) => {
            let pair = |fault: &crate::clearance::Fault| [fault.near().a.either_side(), fault.near().b.either_side()];
            pair(a) == pair(b)
        }
        _ => true,
    };
    discriminant(a) == discriminant(b) && same_inside
}
