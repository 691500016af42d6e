//! Which two things may not meet.
//!
//! What is bolted together by design does not count: an arm and the axle it is clamped to, the crank and its links. A bar is looked at against
//! what carries it, but not within [`OWN_MOUNT_M`] of its own mount, where the bracket is.

use nalgebra::Point3;

use super::movers::{Mover, Movers};
use super::shape::Round;
use super::solids::{Fixed, Solid};
use super::standing::{AxleAt, Standing};
use crate::mechanism::{Part, RearEnd};
use crate::setup::{Carrier, Setup};

/// So near to its own mount, a bar is in its bracket: common practice for a bracket's reach.
pub(super) const OWN_MOUNT_M: f64 = 0.06;

/// One of a pair.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Thing {
    /// Something fixed, by its place in the list.
    Fixed(usize),
    /// A mover, by its place.
    Mover(usize),
    /// A bracket, by its place.
    Bracket(usize),
}

/// Two things that may not meet, and how much of their ends is left out.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair {
    /// The one that moves: a mover, or a bracket on the axle.
    pub a: Thing,
    pub b: Thing,
    /// At the first and the second end of a mover's pieces.
    pub trim_m: [f64; 2],
    /// The same of the other, where it is a mover.
    pub other_trim_m: [f64; 2],
}

impl Pair {
    fn whole(a: Thing, b: Thing) -> Self {
        Self {
            a,
            b,
            trim_m: [0.0; 2],
            other_trim_m: [0.0; 2],
        }
    }
}

/// Which ends of a mover each body carries: the first, the second.
struct Ends<'a> {
    setup: &'a Setup,
}

impl Ends<'_> {
    fn carried_by(&self, carrier: Carrier, solid: Solid) -> [bool; 2] {
        let frame_first = match carrier {
            Carrier::Frame => [true, false],
            Carrier::Axle => [false, true],
        };
        match solid {
            Solid::Part(Part::WattLeft | Part::WattRight) => {
                let on = self.setup.watt.as_ref().map_or(Carrier::Axle, |w| w.crank_on);
                [carrier != on, carrier == on]
            }
            Solid::Part(_) | Solid::Spring(_) | Solid::Shaft => frame_first,
            _ => [false, false],
        }
    }
}

/// Every pair that counts.
pub(super) fn pairs(setup: &Setup, rear_end: &RearEnd, fixed: &[Fixed], movers: &Movers) -> Vec<Pair> {
    let ends = Ends { setup };
    let mut ride = Vec::with_capacity(movers.recipes.len());
    movers.at(rear_end, &rear_end.ride, &mut ride);
    let mut pairs = Vec::with_capacity(movers.all.len() * (fixed.len() + movers.all.len()) / 2);
    for (i, mover) in movers.all.iter().enumerate() {
        let counted = fixed
            .iter()
            .enumerate()
            .filter(|(_, f)| counts(setup, mover.solid, f.solid));
        pairs.extend(counted.map(|(j, f)| {
            let own = carrier_of(f.solid).map_or([false; 2], |c| ends.carried_by(c, mover.solid));
            Pair {
                a: Thing::Mover(i),
                b: Thing::Fixed(j),
                trim_m: trims(own, &ride[mover.first]),
                other_trim_m: [0.0; 2],
            }
        }));
        for (j, other) in movers.all.iter().enumerate().skip(i + 1) {
            if counts(setup, mover.solid, other.solid) {
                pairs.push(moving_pair(&ends, &ride, (i, mover), (j, other)));
            }
        }
    }
    pairs
}

/// Every pair of which one is a bracket.
pub(super) fn with_brackets(rear_end: &RearEnd, fixed: &[Fixed], movers: &Movers, standing: &[Standing]) -> Vec<Pair> {
    let axle = AxleAt::of(&rear_end.ride);
    let mut ride = Vec::with_capacity(movers.recipes.len());
    movers.at(rear_end, &rear_end.ride, &mut ride);
    let mut pairs = Vec::new();
    for (i, bracket) in standing.iter().enumerate() {
        let here = Thing::Bracket(i);
        let on_axle = bracket.carrier == Carrier::Axle;
        for (j, mover) in movers.all.iter().enumerate() {
            let welded = on_axle && matches!(mover.solid, Solid::AxleTube | Solid::CentreSection);
            let pieces = &ride[mover.first..mover.first + mover.count];
            if !welded && !bracket.holds(mover.solid, pieces, &axle) {
                pairs.push(Pair::whole(Thing::Mover(j), here));
            }
        }
        if on_axle {
            let counted = fixed
                .iter()
                .enumerate()
                .filter(|(_, f)| !matches!(f.solid, Solid::Lip(_)));
            pairs.extend(counted.map(|(j, _)| Pair::whole(here, Thing::Fixed(j))));
            let on_frame = standing
                .iter()
                .enumerate()
                .filter(|(_, other)| other.carrier == Carrier::Frame);
            pairs.extend(on_frame.map(|(j, _)| Pair::whole(here, Thing::Bracket(j))));
        }
    }
    pairs
}

/// What the axle carries is trimmed against the axle; two that share a joint are trimmed there.
fn moving_pair(ends: &Ends, ride: &[Round], (i, a): (usize, &Mover), (j, b): (usize, &Mover)) -> Pair {
    let (round_a, round_b) = (&ride[a.first], &ride[b.first]);
    let own = |of: Solid, by: Solid| carrier_of(by).map_or([false; 2], |c| ends.carried_by(c, of));
    let meets = |end: Point3<f64>, other: &Round| other.ends.iter().any(|o| (end - o).norm() < OWN_MOUNT_M);
    let jointed = is_jointed(a.solid) && is_jointed(b.solid);
    let shared = |one: &Round, other: &Round| one.ends.map(|end| jointed && meets(end, other));
    let either = |x: [bool; 2], y: [bool; 2]| [x[0] || y[0], x[1] || y[1]];
    Pair {
        a: Thing::Mover(i),
        b: Thing::Mover(j),
        trim_m: trims(either(own(a.solid, b.solid), shared(round_a, round_b)), round_a),
        other_trim_m: trims(either(own(b.solid, a.solid), shared(round_b, round_a)), round_b),
    }
}

fn is_jointed(solid: Solid) -> bool {
    matches!(solid, Solid::Part(_) | Solid::Spring(_))
}

/// The cut leaves room for the rounding of the end that is left; a spring ends flat.
fn trims(own: [bool; 2], round: &Round) -> [f64; 2] {
    let round_m = if round.flat_m > 0.0 { 0.0 } else { round.round_m };
    own.map(|is_own| if is_own { OWN_MOUNT_M + round_m } else { 0.0 })
}

/// The body whose mounts are on something.
fn carrier_of(solid: Solid) -> Option<Carrier> {
    match solid {
        Solid::Rail(_) | Solid::Crossmember(_) => Some(Carrier::Frame),
        Solid::AxleTube | Solid::CentreSection => Some(Carrier::Axle),
        _ => None,
    }
}

fn counts(setup: &Setup, mover: Solid, other: Solid) -> bool {
    use Solid as S;
    let crank_on = setup.watt.as_ref().map_or(Carrier::Axle, |w| w.crank_on);
    let is_axle = |s: Solid| matches!(s, S::AxleTube | S::CentreSection);
    let is_watt_link = |s: Solid| matches!(s, S::Part(Part::WattLeft | Part::WattRight));
    let is_arm = |s: Solid| matches!(s, S::Part(Part::Arm(..)));
    let clamped = |a: Solid, b: Solid| is_axle(a) && (is_arm(b) || matches!(b, S::Shaft | S::Spring(_)));
    match (mover, other) {
        // The lip stands over the tyre and nothing else.
        (mover, S::Lip(_)) => matches!(mover, S::Tyre(_)),
        (S::Crank, S::Rail(_) | S::Crossmember(_)) => crank_on == Carrier::Axle,
        (a, S::Crank) if is_axle(a) => crank_on == Carrier::Frame,
        (a, S::Crank) if is_watt_link(a) => false,
        (a, b) if clamped(a, b) => false,
        // Joined to each other, or always as far apart: the shaft and its ends, the shaft and the rails, the wheels and the middle of the
        // truck, one spring and the other, the axle with all that is welded to it.
        (S::Shaft, S::Transmission | S::FrontShaft | S::Rail(_))
        | (S::Tyre(_), S::Transmission | S::FrontShaft | S::Shaft | S::Crank)
        | (S::Spring(_), S::Spring(_))
        | (S::AxleTube | S::CentreSection | S::Tyre(_), S::AxleTube | S::CentreSection | S::Tyre(_)) => false,
        _ => true,
    }
}
