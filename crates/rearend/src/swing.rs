//! How far joints swing through ride and roll, and the Watt's crank.
//!
//! Turning about its bolt costs an end nothing. Two other motions lean the bolt in it: the bar leaving the plane square to the bolt, and the
//! bolts at its two ends turning against each other about the bar, which both ends share. A rod end leans by how far it is from square; a
//! bush, welded up true at ride height, by how far it has moved from there.

use linkage::Configuration;
use nalgebra::{Matrix3, Vector3};

use crate::answers::Solved;
use crate::mechanism::{BoltLine, Part, RearEnd};
use crate::setup::{BarEnd, JointKind, Setup};
use crate::travel::Row;

/// The farthest that one end of a bar leans, over every pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swing {
    /// The bar.
    pub part: Part,
    /// Which end; of a Watt's link the crank's is [`BarEnd::Axle`].
    pub end: BarEnd,
    /// What it is.
    pub kind: JointKind,
    /// How far it leans.
    pub most_rad: f64,
    /// How far it may.
    pub limit_rad: f64,
    /// The height where that is.
    pub height_m: f64,
    /// The roll there.
    pub roll_rad: f64,
}

/// What the Watt's crank does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CrankSwing {
    /// Farthest turn one way from ride height, rad.
    pub least_rad: f64,
    /// Farthest turn the other way.
    pub most_rad: f64,
    /// The smallest angle between an arm and its link: at nothing they are in line, and the crank goes over centre.
    pub margin_rad: f64,
    /// The link that comes nearest to it.
    pub link: Part,
    /// The height where that is.
    pub height_m: f64,
}

/// A bar's lean at both ends, and the turn of its bolts against each other.
struct Lean {
    ends: [f64; 2],
    twist: f64,
}

/// Every end of every bar. Arms' eyes turn freely about their bolts and lean little; they are not among them.
#[must_use]
pub(crate) fn swings(setup: &Setup, solved: &Solved) -> Vec<Swing> {
    let rear_end = &solved.rear_end;
    let mut swings: Vec<_> = rear_end
        .parts
        .iter()
        .zip(&rear_end.bolts)
        .flat_map(|(part, bolts)| fresh(setup, *part, bolts))
        .collect();
    let at_ride: Vec<_> = leans(rear_end, &rear_end.ride).collect();
    for row in solved.all_rows() {
        for (link, lean) in leans(rear_end, &row.at).enumerate() {
            let first = &at_ride[link];
            let twist = half_turned(lean.twist - first.twist) / 2.0;
            for end in 0..2 {
                let swing = &mut swings[2 * link + end];
                let out = match swing.kind {
                    JointKind::RodEnd => lean.ends[end],
                    JointKind::Rubber | JointKind::Polyurethane => lean.ends[end] - first.ends[end],
                };
                swing.take(out * out + twist * twist, row);
            }
        }
    }
    // Compared as squares, which is most of what there is to do.
    for swing in &mut swings {
        swing.most_rad = swing.most_rad.sqrt();
    }
    swings
}

fn fresh(setup: &Setup, part: Part, bolts: &[BoltLine; 2]) -> [Swing; 2] {
    [(0, BarEnd::Frame), (1, BarEnd::Axle)].map(|(i, end)| Swing {
        part,
        end,
        kind: bolts[i].joint.kind,
        most_rad: 0.0,
        limit_rad: bolts[i].joint.most_swing_rad(),
        height_m: setup.travel.ride_m,
        roll_rad: 0.0,
    })
}

impl Swing {
    fn take(&mut self, squared: f64, row: &Row) {
        if squared > self.most_rad {
            self.most_rad = squared;
            self.height_m = row.height_m;
            self.roll_rad = row.roll_rad;
        }
    }
}

fn leans<'a>(rear_end: &'a RearEnd, at: &'a Configuration) -> impl Iterator<Item = Lean> + 'a {
    let turn = at.ground_from_platform();
    let ends = rear_end.mechanism.every_link_in_ground(at);
    ends.zip(&rear_end.bolts)
        .map(move |([from, to], bolts)| lean((to - from).normalize(), bolts, &turn))
}

/// A turn of two bolts against each other, which have no head or tail: between a quarter turn either way.
fn half_turned(angle_rad: f64) -> f64 {
    angle_rad - std::f64::consts::PI * (angle_rad / std::f64::consts::PI).round()
}

fn lean(along: Vector3<f64>, bolts: &[BoltLine; 2], turn: &Matrix3<f64>) -> Lean {
    let [a, b] = [bolts[0].in_frame(turn), bolts[1].in_frame(turn)];
    let [square_a, square_b] = [a, b].map(|bolt| bolt - along * along.dot(&bolt));
    Lean {
        ends: [a, b].map(|bolt| along.dot(&bolt).clamp(-1.0, 1.0).asin()),
        twist: along.dot(&square_a.cross(&square_b)).atan2(square_a.dot(&square_b)),
    }
}

/// The Watt's crank over every pose; `None` where there is none.
#[must_use]
pub(crate) fn crank_swing(solved: &Solved) -> Option<CrankSwing> {
    let rear_end = &solved.rear_end;
    let crank = rear_end.mechanism.cranks().first()?;
    let ride_rad = rear_end.ride.crank_rad[0];
    let mut swing = CrankSwing {
        least_rad: 0.0,
        most_rad: 0.0,
        margin_rad: 0.0,
        link: Part::WattLeft,
        height_m: 0.0,
    };
    let links = [Part::WattLeft, Part::WattRight].map(|part| rear_end.link(part).map(|link| (part, link)));
    let [Some(left), Some(right)] = links else { return None };
    // An angle between lines is smallest where its cosine is largest.
    let mut straightest = 0.0;
    for row in solved.all_rows() {
        let turned = row.at.crank_rad[0] - ride_rad;
        swing.least_rad = swing.least_rad.min(turned);
        swing.most_rad = swing.most_rad.max(turned);
        let pivot = crank.pivot_in_ground(&row.at);
        for (part, link) in [left, right] {
            let [end, joint] = rear_end.mechanism.ends_in_ground(link, &row.at);
            let cos = (joint - pivot).normalize().dot(&(end - joint).normalize()).abs();
            if cos > straightest {
                straightest = cos;
                (swing.link, swing.height_m) = (part, row.height_m);
            }
        }
    }
    swing.margin_rad = straightest.min(1.0).acos();
    Some(swing)
}
