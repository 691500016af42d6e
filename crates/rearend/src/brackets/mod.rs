//! Brackets, generated from the mounts they hold: plates as they are cut.
//!
//! Every joint sits between two side plates square to its bolt. Where the bolt lies along what they are welded to, they stand on it
//! directly: with a straight edge on a rail (`sides`), with a saddle cut for the very tube on the axle or a crossmember (`saddle`).
//! Where it points at it, they stand on a pad plate: on a rail as a shelf (`shelf`), on a tube on ribs (`pad`, `rib`); so they do over the centre
//! section, from tube to tube. A crank turns in a cage that its links swing out of (`cage`). What there is to weld to is found in `rail` and
//! `tube`; along a climbing rail never more than is there (`rail_side`), and a pad that finds no steel where it would like to be is moved. A
//! plate is the belt round its holes' round ends and its weld edge (`hull`), and no plate leaves without its holes being far enough from every
//! edge (`check`), or while it stands in other steel or in another bracket (`runs_into`).
//!
//! All of it is geometry: nothing here says whether a plate is strong enough.

mod cage;
mod check;
mod convex;
mod ends;
mod error;
mod flat;
mod ground;
mod gusset;
mod heading;
mod hull;
mod joint;
mod list;
mod marks;
mod measure;
mod pad;
mod placing;
mod plane;
mod plate;
mod rail;
mod rail_side;
mod rib;
mod runs_into;
mod saddle;
mod shelf;
mod sides;
mod spring;
mod steel;
mod tube;
mod watt;

pub use error::BracketError;
pub use heading::{Arrow, Heading, NumberedHole};
pub use plate::{Hole, Outline, Plate, Scribe, Segment, Stand};
pub(crate) use tube::LUMP_IN_TUBES;
pub(crate) use watt::crank_room_m;
pub use watt::{PIVOT_WASHER_M, crank_gap_m, crank_spacer_m};

use crate::answers::Solved;
use crate::mechanism::RearEnd;
use crate::setup::{Mount, Setup};
use crate::tape::Units;
use joint::{Joint, Shop};
use placing::bracket;
use rail::Frame;
use runs_into::Around;

/// What holds a joint, or both of a pair: plates to be cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Bracket {
    /// What it holds: "panhard bar, on the frame".
    pub name: String,
    /// The mounts it holds; none where it holds a coilover.
    pub mounts: Vec<Mount>,
    /// Its plates, side plates first.
    pub plates: Vec<Plate>,
}

/// Every bracket of a setup in the order of its parts, or why it cannot be drawn; lengths in words are in the user's units. Bolts lie as
/// they are drawn. Bars are marked as they lie at ride height, as solved, or as drawn where nothing is solved.
#[must_use]
pub fn of(setup: &Setup, solved: Option<&Solved>, units: Units) -> Vec<Result<Bracket, BracketError>> {
    all(
        setup,
        solved.map(|solved| &solved.rear_end),
        units,
        Some(Around::of(setup)),
    )
}

/// The same of a rear end that is compiled, answered or not.
#[must_use]
pub fn of_compiled(setup: &Setup, rear_end: &RearEnd, units: Units) -> Vec<Result<Bracket, BracketError>> {
    all(setup, Some(rear_end), units, Some(Around::of(setup)))
}

/// A bracket that cannot be drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Refusal {
    /// What it would hold: "panhard bar, on the frame".
    pub name: String,
    /// The mounts that it would hold, where they are mounts of bars, arms or a crank.
    pub mounts: Vec<Mount>,
    /// Why not.
    pub why: BracketError,
}

impl Refusal {
    fn of(joint: Joint, why: BracketError) -> Box<Self> {
        Box::new(Self {
            name: joint.name,
            mounts: joint.mounts,
            why,
        })
    }

    /// Of a bracket whose mounts are not known.
    fn unplaced(why: BracketError) -> Box<Self> {
        Box::new(Self {
            name: why.name().unwrap_or("truck").to_owned(),
            mounts: Vec::new(),
            why,
        })
    }
}

/// Every bracket that cannot be drawn; lengths in words are in the user's units.
#[must_use]
pub fn refused(setup: &Setup, rear_end: &RearEnd, units: Units) -> Vec<Refusal> {
    let all = with_refusals(setup, Some(rear_end), units, Some(Around::of(setup)));
    all.into_iter()
        .filter_map(Result::err)
        .map(|refusal| *refusal)
        .collect()
}

/// The same as [`of`], whatever is in the way: no bracket is passed over because its plates run into something.
#[must_use]
pub fn drawn(setup: &Setup, solved: Option<&Solved>, units: Units) -> Vec<Result<Bracket, BracketError>> {
    all(setup, solved.map(|solved| &solved.rear_end), units, None)
}

fn all(
    setup: &Setup,
    compiled: Option<&RearEnd>,
    units: Units,
    around: Option<Around>,
) -> Vec<Result<Bracket, BracketError>> {
    let all = with_refusals(setup, compiled, units, around);
    all.into_iter()
        .map(|drawn| drawn.map_err(|refusal| refusal.why))
        .collect()
}

fn with_refusals(
    setup: &Setup,
    compiled: Option<&RearEnd>,
    units: Units,
    mut around: Option<Around>,
) -> Vec<Result<Bracket, Box<Refusal>>> {
    let shop = Shop {
        steel: &setup.steel,
        units,
    };
    let joints = match list::joints(setup, compiled, shop) {
        Ok(joints) => joints,
        Err(why) => return vec![Err(Refusal::unplaced(why))],
    };
    let frame = Frame::of(&setup.rails);
    // What can do with less room comes when all others stand.
    let (last, first): (Vec<_>, Vec<_>) = joints
        .into_iter()
        .enumerate()
        .partition(|(_, joint)| is_yielding(joint));
    let mut brackets: Vec<_> = first
        .into_iter()
        .chain(last)
        .map(|(place, joint)| {
            let drawn = joint.map_err(Refusal::unplaced).and_then(|joint| {
                bracket(setup, &frame, &joint, &shop, around.as_mut()).map_err(|why| Refusal::of(joint, why))
            });
            (place, drawn)
        })
        .collect();
    brackets.sort_by_key(|(place, _)| *place);
    let brackets = brackets.into_iter().map(|(_, drawn)| drawn);
    let crank = setup
        .watt
        .as_ref()
        .map(|watt| watt::crank(watt, &shop).map_err(Refusal::unplaced));
    brackets.chain(crank).collect()
}

/// True of the cage that a crank turns in, whose braces are left out where something else stands.
fn is_yielding(joint: &list::Wanted) -> bool {
    joint.as_ref().is_ok_and(|joint| joint.sweep_m > 0.0)
}
