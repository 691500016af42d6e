//! How each bracket stands: how the bolt through it lies, on what its side plates are welded, and how high the bolt is over that.
//!
//! All of it is read off the plates as they are drawn; of brackets that cannot be drawn only the bolt is known.

mod lies;
mod undrawn;
mod words;

pub use lies::{Lies, Way};
pub(super) use words::section;

use nalgebra::{Point2, Point3, Vector2, Vector3};

use crate::brackets::{Bracket, Outline, Plate, Segment, Stand};
use crate::mechanism::RearEnd;
use crate::setup::{Carrier, Mount, Setup};

/// A face of a rail.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RailFace {
    /// Away from the middle of the truck.
    Outside,
    /// Towards it; of an open channel the web between its flanges.
    Inside,
    /// On top.
    Top,
    /// Below.
    Underside,
}

/// What a bracket is welded to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ground {
    /// A round tube: of the axle, or a crossmember.
    Tube {
        /// Its axis at the bracket, carrier coordinates.
        at: Point3<f64>,
        /// Its outside diameter.
        tube_m: f64,
    },
    /// A rail.
    Rail(RailFace),
}

/// What joins the side plates of a bracket to what it is welded to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum By {
    /// Their own edges.
    Edges,
    /// A pad plate that they stand on.
    Pad,
    /// Two ribs that the one nearer to the tube stands on.
    Ribs,
}

/// Where the side plates of a bracket end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Foot {
    /// What the bracket is welded to in the end.
    pub ground: Ground,
    /// What lies between that and the side plates.
    pub by: By,
    /// From the bolt's centre to the pad plate, the rail's face or the tube's surface, along the side plates; of a side plate on ribs from
    /// its face to the tube's surface, square to the plate.
    pub height_m: f64,
    /// Unit direction from the bolt to that, carrier coordinates.
    pub towards: Vector3<f64>,
}

/// A bracket, or two that mirror each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// What it is called.
    pub name: String,
    /// What it is welded to.
    pub carrier: Carrier,
    /// Middle of the bolt, carrier coordinates; of two the one described.
    pub at: Point3<f64>,
    /// True where the same stands on the other side.
    pub both_sides: bool,
    /// How its bolt lies.
    pub lies: Lies,
    /// Between its side plates.
    pub clear_m: f64,
    /// Where its side plates end; none where it is not drawn.
    pub foot: Option<Foot>,
}

/// How every bracket stands, those that are not drawn last.
#[must_use]
pub fn standing(setup: &Setup, rear_end: &RearEnd, brackets: &[Bracket]) -> Vec<Standing> {
    let mut standing: Vec<_> = brackets.iter().filter_map(Standing::of).collect();
    let drawn: Vec<Mount> = brackets.iter().flat_map(|bracket| &bracket.mounts).copied().collect();
    standing.extend(undrawn::undrawn(setup, rear_end, &drawn));
    standing
}

/// A side plate where it stands.
#[derive(Clone, Copy)]
struct Side<'a> {
    plate: &'a Plate,
    stand: &'a Stand,
}

impl Standing {
    /// Of a bracket that has two side plates; none of a crank, which is welded to nothing.
    fn of(bracket: &Bracket) -> Option<Self> {
        if bracket.mounts.contains(&Mount::WattLeftArm) {
            return None;
        }
        let drilled: Vec<&Plate> = bracket.plates.iter().filter(|plate| !plate.holes.is_empty()).collect();
        let side = |plate, i: usize| {
            let plate: &Plate = plate;
            Some(Side {
                plate,
                stand: plate.stands.get(i)?,
            })
        };
        let sides = match drilled[..] {
            [both] => [side(both, 0)?, side(both, 1)?],
            [one, other] => [side(one, 0)?, side(other, 0)?],
            _ => return None,
        };
        let [head, nut] = sides.map(|side| side.stand.origin);
        let at = nalgebra::center(&head, &nut);
        let both_sides = drilled.iter().map(|plate| plate.stands.len()).sum::<usize>() > 2;
        let outward = if both_sides && at.y < 0.0 { -1.0 } else { 1.0 };
        Some(Self {
            name: bracket.name.clone(),
            carrier: sides[0].stand.carrier,
            at,
            both_sides,
            lies: Lies::of(normal(sides[0].stand), outward),
            clear_m: (head - nut).norm() - sides[0].plate.thickness_m,
            foot: foot(bracket, sides, at),
        })
    }
}

/// Direction that a plate faces.
fn normal(stand: &Stand) -> Vector3<f64> {
    stand.x.cross(&stand.y)
}

fn foot(bracket: &Bracket, sides: [Side; 2], at: Point3<f64>) -> Option<Foot> {
    let pad = bracket.plates.iter().find(|plate| plate.name.ends_with(": pad plate"));
    if let Some(pad) = pad {
        let stand = pad.stands.first()?;
        let out = normal(stand);
        let to_pad_m = (stand.origin - at).dot(&out);
        return Some(Foot {
            ground: under_pad(bracket, stand, at),
            by: By::Pad,
            height_m: to_pad_m.abs() - pad.thickness_m / 2.0,
            towards: out * to_pad_m.signum(),
        });
    }
    if let Some(rib) = bracket.plates.iter().find(|plate| plate.name.ends_with(": rib")) {
        return on_ribs(rib, sides);
    }
    let [one, other] = [weld(sides[0])?, weld(sides[1])?];
    Some(Foot {
        // Where the bolt leans from what it stands over, one plate is as much higher as the other is lower.
        height_m: f64::midpoint(one.height_m, other.height_m),
        ..one
    })
}

fn on_ribs(rib: &Plate, sides: [Side; 2]) -> Option<Foot> {
    let (centre, radius_m) = saddle(&rib.outline)?;
    let axis = rib.stands.first()?.place(centre);
    let to_axis = |side: &Side| (axis - side.stand.origin).dot(&normal(side.stand));
    let [one, other] = sides;
    let near = if to_axis(&one).abs() < to_axis(&other).abs() {
        one
    } else {
        other
    };
    let to_axis_m = to_axis(&near);
    Some(Foot {
        ground: tube(axis, radius_m),
        by: By::Ribs,
        height_m: to_axis_m.abs() - near.plate.thickness_m / 2.0 - radius_m,
        towards: normal(near.stand) * to_axis_m.signum(),
    })
}

/// A pad lies on ribs that are saddled on a tube, or stands with the edge at its y = 0 on a rail.
fn under_pad(bracket: &Bracket, pad: &Stand, at: Point3<f64>) -> Ground {
    let rib = bracket
        .plates
        .iter()
        .find_map(|plate| Some((saddle(&plate.outline)?, plate.stands.first()?)));
    match rib {
        Some(((centre, radius_m), stand)) => tube(stand.place(centre), radius_m),
        None => Ground::Rail(face(pad.y.into_inner(), at)),
    }
}

/// Where a side plate ends that stands on no pad.
fn weld(side: Side) -> Option<Foot> {
    let lifted = |v: Vector2<f64>| side.stand.x.into_inner() * v.x + side.stand.y.into_inner() * v.y;
    if let Some((centre, radius_m)) = saddle(&side.plate.outline) {
        return Some(Foot {
            ground: tube(side.stand.place(centre), radius_m),
            by: By::Edges,
            height_m: centre.coords.norm() - radius_m,
            towards: lifted(centre.coords.try_normalize(1e-9)?),
        });
    }
    let [from, to] = straight_edge(&side.plate.outline)?;
    let along = (to - from).try_normalize(1e-9)?;
    let up = Vector2::new(-along.y, along.x);
    let out = lifted(up);
    Some(Foot {
        ground: Ground::Rail(face(out, side.stand.origin)),
        by: By::Edges,
        // The bolt in use goes through the plate's origin.
        height_m: -from.coords.dot(&up),
        towards: -out,
    })
}

fn tube(at: Point3<f64>, radius_m: f64) -> Ground {
    Ground::Tube {
        at,
        tube_m: 2.0 * radius_m,
    }
}

/// The face of a rail by the direction out of it.
fn face(out: Vector3<f64>, at: Point3<f64>) -> RailFace {
    if out.y.abs() > out.x.hypot(out.z) {
        if out.y * at.y > 0.0 {
            RailFace::Outside
        } else {
            RailFace::Inside
        }
    } else if out.z > 0.0 {
        RailFace::Top
    } else {
        RailFace::Underside
    }
}

/// Middle and radius of the tube that a plate is cut out round: the only arc that goes round the other way.
fn saddle(outline: &Outline) -> Option<(Point2<f64>, f64)> {
    outline.pieces().find_map(|(from, segment)| match segment {
        Segment::Arc {
            centre,
            clockwise: true,
            ..
        } => Some((*centre, (from - centre).norm())),
        _ => None,
    })
}

/// The weld edge of a side plate without a saddle: after its last round end the side comes down, then the edge, at the end of a tongue or
/// not.
fn straight_edge(outline: &Outline) -> Option<[Point2<f64>; 2]> {
    let pieces: Vec<_> = outline.pieces().collect();
    let round = pieces
        .iter()
        .rposition(|(_, segment)| matches!(segment, Segment::Arc { .. }))?;
    let after = &pieces[round + 1..];
    let edge = match after.len() {
        2 => 1,
        4 => 2,
        _ => return None,
    };
    let (from, segment) = after[edge];
    Some([from, segment.to()])
}
