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
pub use watt::{PIVOT_WASHER_M, crank_gap_m, crank_spacer_m};

use crate::answers::Solved;
use crate::mechanism::RearEnd;
use crate::setup::{Carrier, Mount, Setup};
use crate::tape::Units;
use cage::Bracing;
use ground::{Face, Ground, Pipe};
use joint::{Joint, Shop};
use pad::Span;
use rail::Frame;
use runs_into::{Around, Met};
use shelf::Effort;

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

/// The first of the places that suit which takes it and where nothing is in its way. Where there is none, what is least in its way is told, or
/// what keeps it from the best place.
fn bracket(
    setup: &Setup,
    frame: &Frame,
    joint: &Joint,
    shop: &Shop,
    mut around: Option<&mut Around>,
) -> Result<Bracket, BracketError> {
    let grounds = match joint.carrier {
        Carrier::Frame => rail::grounds(joint, frame, shop)?,
        Carrier::Axle => {
            let tube = tube::ground(joint, &setup.axle, shop)?;
            vec![Ground::Pipe(tube.clone()), Ground::Beside(tube)]
        }
    };
    let (mut first, mut least) = (None, None);
    let mut refused = |i: usize, why: BracketError| {
        if first.as_ref().is_none_or(|(best, _)| i < *best) {
            first = Some((i, why));
        }
    };
    for effort in Effort::ALL {
        for (i, ground) in grounds.iter().enumerate() {
            for place in places(joint, ground, shop, effort) {
                let plates = match place.and_then(|place| plates(joint, ground, shop, place)) {
                    Ok(plates) => plates,
                    Err(why) => {
                        refused(i, why);
                        continue;
                    }
                };
                let put = around
                    .as_mut()
                    .map(|around| around.put(joint, ground.own(), &plates, shop));
                if let Some(Err(met)) = put {
                    least = least.filter(|least: &Met| least.deep_m <= met.deep_m).or(Some(met));
                    continue;
                }
                return Ok(Bracket {
                    name: joint.name.clone(),
                    mounts: joint.mounts.clone(),
                    plates,
                });
            }
        }
    }
    let why = least.map(|met| *met.why).or(first.map(|(_, why)| why));
    Err(why.unwrap_or_else(|| BracketError::NoTruck {
        why: format!("the {} has nothing to stand on", joint.name),
    }))
}

/// A place on a ground that a bracket is tried on.
#[derive(Clone, Copy)]
enum Place {
    /// Where it is nearest.
    Nearest,
    /// On a pad there.
    Pad(shelf::Place),
}

/// Where on a ground a bracket is tried, with more effort than before. A place that there is not is told with the most.
fn places(joint: &Joint, ground: &Ground, shop: &Shop, effort: Effort) -> Vec<Result<Place, BracketError>> {
    match ground {
        Ground::Face(face) if is_pointed_at(joint, face) => {
            let places = shelf::places(joint, face, shop, effort);
            if places.is_empty() && effort == Effort::Anywhere {
                return vec![Err(shelf::off_steel(joint, face, shop))];
            }
            places.into_iter().map(|place| Ok(Place::Pad(place))).collect()
        }
        Ground::Pipe(pipe) if is_far_along(joint, pipe) => match effort {
            Effort::Moved => vec![Ok(Place::Nearest)],
            _ => Vec::new(),
        },
        _ if effort == Effort::Hardly => vec![Ok(Place::Nearest)],
        _ => Vec::new(),
    }
}

/// A crossmember farther along the truck than this from a bolt is no better than a place on the rail that is moved, m.
const FAR_ALONG_M: f64 = 0.1;

fn is_far_along(joint: &Joint, pipe: &Pipe) -> bool {
    joint.carrier == Carrier::Frame && (pipe.point.x - joint.at.x).abs() > FAR_ALONG_M
}

/// True where a joint's bolt points at a face, and lies along it by no means.
fn is_pointed_at(joint: &Joint, face: &Face) -> bool {
    joint.bolt.dot(&face.normal).abs() > pad::MOST_LEAN
}

fn plates(joint: &Joint, ground: &Ground, shop: &Shop, place: Place) -> Result<Vec<Plate>, BracketError> {
    let cage = match ground {
        Ground::Pipe(pipe) => cage::on_pipe(joint, pipe, shop, Bracing::Plates),
        Ground::Beside(pipe) => cage::on_pipe(joint, pipe, shop, Bracing::ToSuit),
        Ground::Face(_) => None,
    };
    if let Some(cage) = cage {
        return cage;
    }
    let (sides, more, what) = match (ground, place) {
        (Ground::Face(face), Place::Pad(place)) => {
            let (sides, pad) = shelf::on_face(joint, face, shop, &place)?;
            (sides, pad, "the pad plate")
        }
        (Ground::Face(face), Place::Nearest) => (sides::on_face(joint, face, shop)?, Vec::new(), face.what.as_str()),
        (Ground::Pipe(pipe), _) if saddle::suits(joint, pipe) => {
            (saddle::on_pipe(joint, pipe, shop)?, Vec::new(), pipe.what.as_str())
        }
        (Ground::Pipe(pipe), _) => on_ribs(joint, pipe, shop, Span::Middle)?,
        (Ground::Beside(pipe), _) => {
            let (sides, mut pad, what) = on_ribs(joint, pipe, shop, Span::Any)?;
            if joint.on_both_sides {
                check::apart(joint, shop, &sides.plates)?;
                pad::share(&mut pad);
            }
            (sides, pad, what)
        }
    };
    let gusset = gusset::between(joint, shop, &sides, what);
    let plates: Vec<_> = sides.plates.into_iter().chain(more).chain(gusset).collect();
    // What is shared lies on both sides.
    if !matches!(ground, Ground::Beside(_)) {
        check::apart(joint, shop, &plates)?;
    }
    Ok(plates)
}

fn on_ribs(
    joint: &Joint,
    pipe: &Pipe,
    shop: &Shop,
    span: Span,
) -> Result<(sides::Sides, Vec<Plate>, &'static str), BracketError> {
    let (sides, pad) = pad::on_pipe(joint, pipe, shop, span)?;
    Ok((sides, pad, "the pad plate"))
}
