//! Where a sweep has to end, and which link is to blame.

use crate::closure::ClosureId;
use crate::configuration::{Configuration, Drive};
use crate::link::LinkId;
use crate::mechanism::Mechanism;
use crate::solve::{Linearised, Method, Unsolved, moved};
use crate::tolerance;

/// Where a sweep had to end before its last drive.
#[derive(Clone, Copy, Debug)]
pub struct WalkEnd {
    /// The last drive that was reached.
    pub last: Drive,
    /// The drive that was on the way.
    pub wanted: Drive,
    /// The part that cannot follow; none where there are none.
    pub closure: Option<ClosureId>,
    /// What happens there.
    pub cause: EndCause,
}

/// What ends a travel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EndCause {
    /// The links do not reach: a bar too short, or two of them stretched into one line.
    CannotReach,
    /// The links would go on only by snapping over to another assembly.
    SnapsOver,
    /// A redundant link would have to give more than steel can.
    Misfit,
    /// The drive asked for is not a usable number.
    DriveOutOfRange,
}

impl From<Unsolved> for EndCause {
    fn from(unsolved: Unsolved) -> Self {
        match unsolved {
            Unsolved::NoConvergence => Self::CannotReach,
            Unsolved::OtherAssembly => Self::SnapsOver,
            Unsolved::Misfit => Self::Misfit,
            Unsolved::DriveOutOfRange => Self::DriveOutOfRange,
        }
    }
}

/// The part that cannot follow, and why: where nothing fits any more the links do not reach, however the iteration failed.
pub(crate) fn explain(
    mechanism: &Mechanism,
    last: &Configuration,
    failed: Drive,
    unsolved: Unsolved,
) -> (Option<ClosureId>, EndCause) {
    let (closure, strain) = culprit(mechanism, last, failed);
    let cause = match unsolved {
        Unsolved::OtherAssembly if strain > tolerance::STRAINED => EndCause::CannotReach,
        other => other.into(),
    };
    (closure, cause)
}

/// A drive well past the end of the travel: a third of a full step from the last pose that was reached, in the direction of the failed one.
fn beyond(last: Drive, failed: Drive) -> Drive {
    let (rise, roll) = (failed.z_m - last.z_m, failed.roll_rad - last.roll_rad);
    let steps = (rise.abs() / tolerance::STEP_M).max(roll.abs() / tolerance::STEP_RAD);
    between(last, failed, (1.0 / (3.0 * steps.max(1e-9))).max(1.0))
}

/// The part that is left with the largest strain when all are asked to go where one cannot, and that strain.
fn culprit(mechanism: &Mechanism, last: &Configuration, failed_at: Drive) -> (Option<ClosureId>, f64) {
    let nearest = mechanism.settle(&last.driven(beyond(last.drive(), failed_at)));
    let worst = mechanism.most_strained(&nearest);
    worst.map_or((None, 0.0), |(closure, strain)| (Some(closure), strain))
}

impl Mechanism {
    /// The part that is farthest from fitting at the drive of a configuration near by; none where there are none.
    pub(crate) fn tightest(&self, near: &Configuration) -> Option<ClosureId> {
        self.most_strained(&self.settle(near)).map(|(closure, _)| closure)
    }

    /// By strain: a link's gap over its length, a joint's over the characteristic length.
    fn most_strained(&self, at: &Configuration) -> Option<(ClosureId, f64)> {
        let strains = self.strains(at).map(|strain| {
            let length_m = match strain.closure {
                ClosureId::Link(LinkId(i)) => self.links[i].length_m,
                ClosureId::Joint(_) => self.scale_m,
            };
            (strain.closure, strain.gap_m.abs() / length_m)
        });
        strains.max_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// The least-squares pose near a guess, converged or not: only its gaps are of interest.
    fn settle(&self, guess: &Configuration) -> Configuration {
        match self.cranks.len() {
            0 => settle_with::<4>(self, guess),
            1 => settle_with::<5>(self, guess),
            _ => settle_with::<6>(self, guess),
        }
    }
}

fn settle_with<const N: usize>(mechanism: &Mechanism, guess: &Configuration) -> Configuration {
    let mut at = *guess;
    for _ in 0..tolerance::MAX_ITERATIONS {
        let Some(step) = Linearised::<N>::by(mechanism, Method::Elastic, &at).newton_step(mechanism) else {
            break;
        };
        // Near a fold the full step overshoots; a tenth of the characteristic length is plenty a time.
        let size = mechanism.size_of(&step);
        let shorten = (0.1 * mechanism.scale_m / size.max(f64::MIN_POSITIVE)).min(1.0);
        at = moved(&at, &step.map(|s| s * shorten));
        if size <= tolerance::SETTLED * mechanism.scale_m {
            break;
        }
    }
    at
}

/// Part of the way from one drive to another.
pub(crate) fn between(from: Drive, to: Drive, part: f64) -> Drive {
    // Exact at both ends, so that a sweep visits the drives asked for to the last bit.
    let lerp = |a: f64, b: f64| if part == 1.0 { b } else { a + (b - a) * part };
    Drive {
        z_m: lerp(from.z_m, to.z_m),
        roll_rad: lerp(from.roll_rad, to.roll_rad),
    }
}
