//! Where a joint's bracket is put: the grounds there are, the places on each, and the kind of bracket that suits.

use super::cage::{self, Bracing};
use super::error::BracketError;
use super::ground::{Face, Ground, Pipe};
use super::joint::{Joint, Shop};
use super::pad::{self, Span};
use super::rail::{self, Frame};
use super::runs_into::{Around, Met};
use super::shelf::{self, Effort};
use super::{Bracket, Plate, check, gusset, saddle, sides, tube};
use crate::setup::{Carrier, Setup};

/// The first of the places that suit which takes it and where nothing is in its way. Where there is none, what is least in its way is told, or
/// what keeps it from the best place.
pub(super) fn bracket(
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
