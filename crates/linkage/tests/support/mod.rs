//! What the tests of links and joints share.

use linkage::{Anchor, Body, Configuration, Link};
use nalgebra::Point3;

/// A link from the ground to the platform that fits the drawing, level at height zero.
pub fn link(from: [f64; 3], to: [f64; 3], stiffness_n_per_m: f64) -> Link {
    let anchor = |body, point: [f64; 3]| Anchor {
        body,
        point: Point3::from(point),
    };
    Link::cut_to_suit(
        anchor(Body::Ground, from),
        anchor(Body::Platform, to),
        stiffness_n_per_m,
        &[],
        &Configuration::level_at(0.0),
    )
}
