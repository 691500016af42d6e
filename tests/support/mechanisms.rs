//! Mechanisms of textbook problems, lengths in the problem's own unit.

use linkage::{Anchor, Body, Configuration, Crank, CrankId, Link, Mechanism};
use nalgebra::{Point3, Vector3};

/// Metres that stand for one unit of a problem.
pub const UNIT: f64 = 0.01;

/// Length of a guide, m. Over a rise of 8 units it moves what it guides by 3e-6 m out of the rear view, and the shift by the square of that.
const GUIDE: f64 = 1000.0;

/// Distance of the guides from the platform's origin, m.
const SPREAD: f64 = 0.1;

/// A point fixed to the ground.
#[must_use]
pub fn ground(x: f64, y: f64, z: f64) -> Anchor {
    Anchor {
        body: Body::Ground,
        point: Point3::new(x, y, z),
    }
}

/// A point fixed to the platform.
#[must_use]
pub fn platform(x: f64, y: f64, z: f64) -> Anchor {
    Anchor {
        body: Body::Platform,
        point: Point3::new(x, y, z),
    }
}

/// A point fixed to the only crank.
#[must_use]
pub fn on_crank(x: f64, y: f64, z: f64) -> Anchor {
    Anchor {
        body: Body::Crank(CrankId(0)),
        point: Point3::new(x, y, z),
    }
}

/// A mechanism drawn level at height zero, all links cut to suit.
///
/// # Panics
/// When the drawing is no mechanism.
#[must_use]
pub fn drawn(ends: &[(Anchor, Anchor)], cranks: Vec<Crank>) -> Mechanism {
    let at = Configuration::level_at(0.0);
    let links = ends
        .iter()
        .map(|(a, b)| Link::cut_to_suit(*a, *b, 1.0, &cranks, &at))
        .collect();
    Mechanism::new(links, cranks, at).expect("a textbook drawing is a mechanism")
}

/// Three long guides that leave the platform free only sideways and in the two drives: the rear view of an axle, by itself.
#[must_use]
pub fn rear_view_guides() -> Vec<(Anchor, Anchor)> {
    vec![
        (ground(GUIDE, SPREAD, -SPREAD), platform(0.0, SPREAD, -SPREAD)),
        (ground(GUIDE, -SPREAD, -SPREAD), platform(0.0, -SPREAD, -SPREAD)),
        (ground(GUIDE, 0.0, SPREAD), platform(0.0, 0.0, SPREAD)),
    ]
}

/// A panhard bar in the rear view, level as drawn, frame end on the left.
#[must_use]
pub fn panhard(length: f64) -> Mechanism {
    let (mut ends, length) = (rear_view_guides(), length * UNIT);
    ends.push((ground(0.0, length / 2.0, 0.0), platform(0.0, -length / 2.0, 0.0)));
    drawn(&ends, Vec::new())
}

/// A Watt's linkage in the rear view, links level as drawn, upright crank on the platform.
#[must_use]
pub fn watt(link: f64, half_crank: f64) -> Mechanism {
    let (mut ends, link, half_crank) = (rear_view_guides(), link * UNIT, half_crank * UNIT);
    ends.push((ground(0.0, link, half_crank), on_crank(0.0, 0.0, half_crank)));
    ends.push((ground(0.0, -link, -half_crank), on_crank(0.0, 0.0, -half_crank)));
    drawn(&ends, vec![Crank::on_platform(Point3::origin(), Vector3::x())])
}
