//! What takes up room: names for it, and the shapes of whatever is fixed to the frame.
//!
//! Rails are taken as closed, even where a channel is open to the middle, and without their brackets. Body panels are taken as thick behind
//! the face that is described.

use nalgebra::{Point3, Vector3};

use super::shape::{Block, Bounds, Piece, Round, with_box};
use crate::hand::Hand;
use crate::mechanism::Part;
use crate::rail_line::{crossmember_m, stations_m, top_z_m, underside_z_m};
use crate::setup::{Body, Carrier, Driveline, KeepClearShape, Mount, Rails, Setup, Side};
use crate::tape::Units;

/// Something that takes up room.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Solid {
    /// A frame rail.
    Rail(Hand),
    /// A crossmember, by its place in the setup.
    Crossmember(usize),
    /// Something the user wants kept clear, by its place in the setup.
    KeepClear(usize),
    /// The bed floor.
    BedFloor,
    /// The inner wall of a wheel tub.
    Tub(Hand),
    /// A fender lip.
    Lip(Hand),
    /// The tail of the transmission.
    Transmission,
    /// The piece of the shaft ahead of a carrier bearing.
    FrontShaft,
    /// The axle tubes.
    AxleTube,
    /// The centre section with its cover and pinion.
    CentreSection,
    /// A bar, an arm or a Watt's link.
    Part(Part),
    /// The Watt's crank.
    Crank,
    /// The shaft at the pinion.
    Shaft,
    /// A spring.
    Spring(Hand),
    /// A tyre.
    Tyre(Hand),
    /// What a mount is bolted to.
    Bracket(Mount),
    /// What a coilover is bolted to.
    SpringBracket(Carrier, Hand),
}

impl Solid {
    /// The part to light up, where it is one.
    #[must_use]
    pub fn part(self) -> Option<Part> {
        match self {
            Self::Part(part) => Some(part),
            // The crank has no part of its own: a link that ends on it.
            Self::Crank => Some(Part::WattLeft),
            _ => None,
        }
    }

    /// True of what holds a mount.
    #[must_use]
    pub fn is_bracket(self) -> bool {
        matches!(self, Self::Bracket(_) | Self::SpringBracket(..))
    }

    /// One name for the two of a pair.
    #[must_use]
    pub fn either_side(self) -> Self {
        match self {
            Self::Rail(_) => Self::Rail(Hand::Left),
            Self::Tub(_) => Self::Tub(Hand::Left),
            Self::Lip(_) => Self::Lip(Hand::Left),
            Self::Spring(_) => Self::Spring(Hand::Left),
            Self::Tyre(_) => Self::Tyre(Hand::Left),
            Self::Part(Part::Bar(id, _)) => Self::Part(Part::Bar(id, Side::Drawn)),
            Self::Part(Part::Arm(id, _)) => Self::Part(Part::Arm(id, Side::Drawn)),
            Self::Part(Part::WattRight) => Self::Part(Part::WattLeft),
            Self::Bracket(Mount::Bar { bar, end, .. }) => Self::Bracket(Mount::Bar {
                bar,
                end,
                side: Side::Drawn,
            }),
            Self::Bracket(Mount::Arm { arm, end, .. }) => Self::Bracket(Mount::Arm {
                arm,
                end,
                side: Side::Drawn,
            }),
            Self::SpringBracket(carrier, _) => Self::SpringBracket(carrier, Hand::Left),
            other => other,
        }
    }

    /// What it is called, with its article.
    #[must_use]
    pub fn name(self, setup: &Setup, units: Units) -> String {
        let plain = match self {
            Self::Rail(hand) => return format!("the {} rail", hand.word()),
            Self::Tub(hand) => return format!("the {} wheel tub", hand.word()),
            Self::Lip(hand) => return format!("the {} fender lip", hand.word()),
            Self::Spring(hand) => return format!("the {} spring", hand.word()),
            Self::Tyre(hand) => return format!("the {} tyre", hand.word()),
            Self::Crossmember(i) => return crossmember_name(setup, units, i),
            Self::KeepClear(i) => return keep_clear_name(setup, i),
            Self::Part(part) => return format!("the {}", part.name(setup)),
            Self::Bracket(mount) => {
                let name = setup.mount_name(mount).replacen(", on the", " on the", 1);
                return format!("the bracket of the {name}");
            }
            Self::SpringBracket(on, hand) => {
                return format!("the bracket of the {} coilover on the {}", hand.word(), on.name());
            }
            Self::BedFloor => "bed floor",
            Self::Transmission => "transmission's tail",
            Self::FrontShaft => "front shaft",
            Self::AxleTube => "axle tube",
            Self::CentreSection => "centre section",
            Self::Crank => "Watt's crank",
            Self::Shaft => "driveshaft",
        };
        format!("the {plain}")
    }
}

fn crossmember_name(setup: &Setup, units: Units, i: usize) -> String {
    let x_m = setup.rails.crossmembers_x_m.get(i).copied().unwrap_or_default();
    let place = if x_m < 0.0 { "behind" } else { "ahead of" };
    format!("the crossmember {} {place} the axle line", units.length(x_m.abs()))
}

fn keep_clear_name(setup: &Setup, i: usize) -> String {
    let name = setup.keep_clear.get(i).map_or("", |thing| thing.name.trim());
    if name.is_empty() {
        "what is to be kept clear".to_owned()
    } else {
        format!("the {name}")
    }
}

/// Something fixed: a piece, or several that make it up.
#[derive(Clone, Debug)]
pub(super) struct Fixed {
    pub solid: Solid,
    pub pieces: Vec<(Piece, Bounds)>,
    pub bounds: Bounds,
}

impl Fixed {
    fn new(solid: Solid, pieces: impl IntoIterator<Item = Piece>) -> Option<Self> {
        let pieces: Vec<_> = pieces.into_iter().map(with_box).collect();
        let bounds = pieces.iter().map(|(_, b)| *b).reduce(|a, b| a.with(&b))?;
        Some(Self { solid, pieces, bounds })
    }
}

/// Everything that is fixed to the frame.
pub(super) fn fixed(setup: &Setup) -> Vec<Fixed> {
    let mut all: Vec<Fixed> = Vec::with_capacity(16);
    let sections = sections(&setup.rails);
    all.extend(
        Hand::BOTH
            .into_iter()
            .filter_map(|hand| rail(&setup.rails, &sections, hand)),
    );
    let members = setup.rails.crossmembers_x_m.iter().enumerate();
    all.extend(members.filter_map(|(i, x_m)| Fixed::new(Solid::Crossmember(i), crossmember(setup, *x_m))));
    for (i, thing) in setup.keep_clear.iter().enumerate() {
        all.extend(Fixed::new(Solid::KeepClear(i), keep_clear(&thing.shape)));
    }
    if let Some(body) = &setup.body {
        all.extend(body_panels(setup, body));
    }
    if let Some(driveline) = &setup.driveline {
        all.extend(driveline_ends(driveline));
    }
    all
}

/// Station, underside and top.
fn sections(rails: &Rails) -> Vec<[f64; 3]> {
    let section = |x_m: f64| {
        let top = top_z_m(rails, x_m);
        [x_m, underside_z_m(rails, x_m).min(top), top]
    };
    stations_m(rails).into_iter().map(section).collect()
}

/// Lengths of rail between stations; where a notch cuts it through, there is none.
fn rail(rails: &Rails, sections: &[[f64; 3]], hand: Hand) -> Option<Fixed> {
    let outside = hand.sign() * rails.spacing_m / 2.0;
    let inside = outside - hand.sign() * rails.flange_m;
    let lengths = sections.windows(2).filter_map(|pair| {
        let is_cut_through = pair.iter().all(|[_, low, top]| top - low < 1e-6);
        let corners = std::array::from_fn(|i| {
            let [x, low, top] = pair[i & 1];
            let y = if i & 2 == 0 { outside } else { inside };
            Point3::new(x, y, if i & 4 == 0 { low } else { top })
        });
        (!is_cut_through).then_some(Piece::Block(Block { corners }))
    });
    Fixed::new(Solid::Rail(hand), lengths)
}

/// A tube from web to web, in straight runs; their round ends do not reach through the webs.
fn crossmember(setup: &Setup, x_m: f64) -> Vec<Piece> {
    let (mut along, radius_m) = crossmember_m(&setup.rails, x_m);
    if let [first, .., last] = &mut along[..] {
        first.y -= radius_m;
        last.y += radius_m;
    }
    let runs = along.windows(2);
    runs.map(|run| Piece::Round(Round::capsule([run[0], run[1]], radius_m)))
        .collect()
}

fn keep_clear(shape: &KeepClearShape) -> Vec<Piece> {
    match shape {
        KeepClearShape::Box { from, to } => vec![Piece::Block(Block::between(*from, *to))],
        KeepClearShape::Tube { along, tube_m } => along
            .windows(2)
            .map(|run| Piece::Round(Round::capsule([run[0], run[1]], tube_m / 2.0)))
            .collect(),
    }
}

/// What is behind a panel's face is taken as this thick.
const BEHIND_M: f64 = 0.3;

/// The lip only at the top of its opening, the tub as long as that. A floor without tubs is known over the rails alone: over the tyres there is
/// a hole of unknown shape.
fn body_panels(setup: &Setup, body: &Body) -> Vec<Fixed> {
    let rails = &setup.rails;
    let (rear, front) = (
        body.opening_x_m - body.opening_m / 2.0,
        body.opening_x_m + body.opening_m / 2.0,
    );
    let block = |solid, a: [f64; 3], b: [f64; 3]| Fixed::new(solid, [Piece::Block(Block::between(a.into(), b.into()))]);
    let mut all = Vec::new();
    let across_m = body.tub_to_tub_m.unwrap_or(rails.spacing_m) / 2.0;
    let middle = if body.tub_to_tub_m.is_some() {
        body.lips_left_m
    } else {
        0.0
    };
    if let Some(z) = body.bed_floor_z_m {
        let low = [rails.rear_x_m, middle - across_m, z];
        all.extend(block(
            Solid::BedFloor,
            low,
            [rails.front_x_m, middle + across_m, z + BEHIND_M],
        ));
    }
    for hand in Hand::BOTH {
        let sign = hand.sign();
        let lip = body.lips_left_m + sign * body.lip_to_lip_m / 2.0;
        let (low, high) = (body.lip_z_m, body.lip_z_m + BEHIND_M);
        all.extend(block(
            Solid::Lip(hand),
            [rear, lip, low],
            [front, lip + sign * BEHIND_M, high],
        ));
        if let Some(tub_m) = body.tub_to_tub_m {
            let tub = body.lips_left_m + sign * tub_m / 2.0;
            let low = body.bed_floor_z_m.unwrap_or_else(|| top_z_m(rails, 0.0));
            all.extend(block(
                Solid::Tub(hand),
                [rear, tub, low],
                [front, tub - sign * BEHIND_M, low + 2.0 * BEHIND_M],
            ));
        }
    }
    all
}

/// How much of the transmission's tail is shown, as thick as the shaft.
const TAIL_M: f64 = 0.2;

fn driveline_ends(driveline: &Driveline) -> Vec<Fixed> {
    let radius_m = driveline.tube_m / 2.0;
    let output = driveline.output;
    let (up_sin, up_cos) = driveline.output_nose_up_rad.sin_cos();
    let (left_sin, left_cos) = driveline.output_left_rad.sin_cos();
    let forward = Vector3::new(up_cos * left_cos, up_cos * left_sin, up_sin);
    let tube = |solid, ends| Fixed::new(solid, [Piece::Round(Round::capsule(ends, radius_m))]);
    let tail = tube(Solid::Transmission, [output, output + forward * TAIL_M]);
    let front = driveline.carrier.and_then(|c| tube(Solid::FrontShaft, [output, c]));
    tail.into_iter().chain(front).collect()
}
