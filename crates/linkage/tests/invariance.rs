//! What must not matter: where the drawing lies and which way it faces, its size, its hand, the order of links and of their ends.
//!
//! Each layout is walked through ride and roll as drawn and in another guise; the poses must be each other's image.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use linkage::{Anchor, Body, Configuration, Crank, CrankId, Drive, Link, Mechanism};
use nalgebra::{Point3, Rotation3, Vector3};
use proptest::prelude::*;

/// Gaps are closed to 1e-12 of a metre-sized layout, and least squares settle to 1e-11; weakly held directions turn that into several times
/// as much.
const AGREEMENT: f64 = 1e-10;

/// Where the walk goes: rise as drawn in metres, roll.
const DRIVES: [(f64, f64); 5] = [(0.08, 0.0), (0.08, 0.05), (0.0, 0.05), (-0.06, -0.04), (-0.06, 0.0)];

#[derive(Clone, Copy, Debug)]
struct Hinge {
    on_ground: bool,
    pivot: Point3<f64>,
    axis: Vector3<f64>,
}

/// A layout as drawn; links are cut to suit.
#[derive(Clone, Debug)]
struct Layout {
    links: Vec<(Anchor, Anchor, f64)>,
    hinges: Vec<Hinge>,
    drawn: Configuration,
}

impl Layout {
    fn compile(&self) -> Mechanism {
        let crank = |h: &Hinge| {
            if h.on_ground {
                Crank::on_ground(h.pivot, h.axis)
            } else {
                Crank::on_platform(h.pivot, h.axis)
            }
        };
        let cranks: Vec<_> = self.hinges.iter().map(crank).collect();
        let links = self
            .links
            .iter()
            .map(|(a, b, k)| Link::cut_to_suit(*a, *b, *k, &cranks, &self.drawn))
            .collect();
        Mechanism::new(links, cranks, self.drawn).expect("a layout is a mechanism")
    }

    /// The poses at the drives; `size` metres stand for a metre as drawn, and `hand` is -1 for a roll to the other side.
    fn poses(&self, size: f64, hand: f64) -> Result<Vec<Configuration>, TestCaseError> {
        let ride = self.drawn.drive();
        let drive = |(rise, roll): (f64, f64)| Drive {
            z_m: ride.z_m + rise * size,
            roll_rad: roll * hand,
        };
        let mut poses = Vec::new();
        let end = self
            .compile()
            .walk(&self.drawn, DRIVES.map(drive), |w| poses.push(w.at));
        prop_assert!(end.is_none(), "a sane layout is followed to the end: {end:?}");
        Ok(poses)
    }

    fn mapped(&self, point: impl Fn(Body, Point3<f64>) -> Point3<f64>) -> Self {
        let anchor = |a: &Anchor| Anchor {
            body: a.body,
            point: point(self.carrier(a.body), a.point),
        };
        let carrier = |h: &Hinge| if h.on_ground { Body::Ground } else { Body::Platform };
        Self {
            links: self.links.iter().map(|(a, b, k)| (anchor(a), anchor(b), *k)).collect(),
            hinges: self
                .hinges
                .iter()
                .map(|h| Hinge {
                    pivot: point(carrier(h), h.pivot),
                    ..*h
                })
                .collect(),
            drawn: self.drawn,
        }
    }

    /// Points of a crank are drawn in its carrier's coordinates.
    fn carrier(&self, body: Body) -> Body {
        match body {
            Body::Crank(CrankId(i)) if self.hinges[i].on_ground => Body::Ground,
            Body::Crank(_) => Body::Platform,
            other => other,
        }
    }
}

#[track_caller]
fn is_image(
    found: &[Configuration],
    expected: impl Iterator<Item = Configuration>,
    size: f64,
) -> Result<(), TestCaseError> {
    for (i, (found, expected)) in found.iter().zip(expected).enumerate() {
        let went = (found.origin_in_ground - expected.origin_in_ground).norm() / size;
        let angles = |c: &Configuration| [c.yaw_rad, c.roll_rad, c.pitch_rad, c.crank_rad[0], c.crank_rad[1]];
        let turned = angles(found)
            .iter()
            .zip(angles(&expected))
            .map(|(a, b)| (a - b).abs())
            .fold(0.0, f64::max);
        prop_assert!(
            went <= AGREEMENT && turned <= AGREEMENT,
            "pose {i}: {found:?} instead of {expected:?}"
        );
    }
    Ok(())
}

fn ground(x: f64, y: f64, z: f64) -> Anchor {
    Anchor {
        body: Body::Ground,
        point: Point3::new(x, y, z),
    }
}

fn platform(x: f64, y: f64, z: f64) -> Anchor {
    Anchor {
        body: Body::Platform,
        point: Point3::new(x, y, z),
    }
}

/// The height that every layout is drawn at.
const DRAWN_M: f64 = 0.2;

fn long_bars(upper_frame: (f64, f64), upper_axle_y: f64) -> Vec<(Anchor, Anchor)> {
    let (x, y) = upper_frame;
    vec![
        (ground(0.6, 0.5, 0.11), platform(0.0, 0.5, -0.08)),
        (ground(0.6, -0.5, 0.11), platform(0.0, -0.5, -0.08)),
        (ground(x, y, 0.34), platform(0.0, upper_axle_y, 0.14)),
        (ground(x, -y, 0.34), platform(0.0, -upper_axle_y, 0.14)),
    ]
}

fn triangulated() -> (Vec<(Anchor, Anchor)>, Vec<Hinge>) {
    (long_bars((0.45, 0.4), 0.1), Vec::new())
}

/// Five links for four unknowns.
fn with_panhard() -> (Vec<(Anchor, Anchor)>, Vec<Hinge>) {
    let mut links = long_bars((0.58, 0.48), 0.48);
    links.push((ground(-0.2, 0.38, 0.27), platform(-0.2, -0.42, 0.05)));
    (links, Vec::new())
}

/// A Watt's linkage, its crank on the platform or on the ground; six links for five unknowns.
fn with_watt(on_ground: bool) -> (Vec<(Anchor, Anchor)>, Vec<Hinge>) {
    let mut links = long_bars((0.58, 0.48), 0.48);
    let lift = if on_ground { DRAWN_M } else { 0.0 };
    let joint = |z: f64| Anchor {
        body: Body::Crank(CrankId(0)),
        point: Point3::new(-0.2, 0.0, 0.05 + z + lift),
    };
    let end = |y: f64, z: f64| {
        if on_ground {
            platform(-0.2, y, 0.05 + z)
        } else {
            ground(-0.2, y, 0.05 + z + DRAWN_M)
        }
    };
    links.push((end(0.37, 0.08), joint(0.08)));
    links.push((end(-0.37, -0.08), joint(-0.08)));
    let hinge = Hinge {
        on_ground,
        pivot: Point3::new(-0.2, 0.0, 0.05 + lift),
        axis: Vector3::x(),
    };
    (links, vec![hinge])
}

/// A sane layout with every point up to 30 mm off, so that nothing is symmetric, and stiffnesses that differ.
fn layout() -> impl Strategy<Value = Layout> {
    let base = prop::sample::select(vec![triangulated(), with_panhard(), with_watt(false), with_watt(true)]);
    let off = prop::collection::vec([-0.03..0.03, -0.03..0.03, -0.03..0.03].prop_map(Vector3::from), 12);
    (base, off, prop::collection::vec(1.0..5.0, 6)).prop_map(|((ends, hinges), off, stiffness)| {
        let moved = |a: Anchor, by: Vector3<f64>| Anchor {
            point: a.point + by,
            ..a
        };
        let pairs = ends.into_iter().zip(off.chunks(2)).zip(stiffness);
        let links = pairs
            .map(|(((a, b), off), k)| (moved(a, off[0]), moved(b, off[1]), k))
            .collect();
        Layout {
            links,
            hinges,
            drawn: Configuration::level_at(DRAWN_M),
        }
    })
}

fn flipped(p: Point3<f64>) -> Point3<f64> {
    Point3::new(p.x, -p.y, p.z)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    /// Y, yaw and roll change their sign; so does a turn about an axis that is mirrored as an arrow.
    #[test]
    fn a_mirrored_layout_moves_as_the_mirror_image(layout in layout()) {
        let mut mirrored = layout.mapped(|_, p| flipped(p));
        for hinge in &mut mirrored.hinges {
            hinge.axis.y *= -1.0;
        }
        let image = |c: Configuration| Configuration {
            origin_in_ground: flipped(c.origin_in_ground),
            yaw_rad: -c.yaw_rad,
            roll_rad: -c.roll_rad,
            pitch_rad: c.pitch_rad,
            crank_rad: c.crank_rad.map(|a| -a),
        };
        is_image(&mirrored.poses(1.0, -1.0)?, layout.poses(1.0, 1.0)?.into_iter().map(image), 1.0)?;
    }

    #[test]
    fn a_layout_put_elsewhere_and_turned_about_the_vertical_moves_there_alike(
        layout in layout(), turn in -3.0..3.0, by in [-2.0..2.0, -2.0..2.0, -2.0..2.0],
    ) {
        let rotation = Rotation3::from_axis_angle(&Vector3::z_axis(), turn);
        let put = |p: Point3<f64>| rotation * p + Vector3::from(by);
        let image = |c: Configuration| Configuration {
            origin_in_ground: put(c.origin_in_ground),
            yaw_rad: c.yaw_rad + turn,
            ..c
        };
        let mut elsewhere = layout.mapped(|body, p| if body == Body::Ground { put(p) } else { p });
        for hinge in elsewhere.hinges.iter_mut().filter(|h| h.on_ground) {
            hinge.axis = rotation * hinge.axis;
        }
        elsewhere.drawn = image(layout.drawn);
        is_image(&elsewhere.poses(1.0, 1.0)?, layout.poses(1.0, 1.0)?.into_iter().map(image), 1.0)?;
    }

    #[test]
    fn a_model_of_another_size_moves_alike(layout in layout(), decades in -2.0..2.0) {
        let size = 10f64.powf(decades);
        let image = |c: Configuration| Configuration { origin_in_ground: c.origin_in_ground * size, ..c };
        let mut sized = layout.mapped(|_, p| p * size);
        sized.drawn = image(layout.drawn);
        is_image(&sized.poses(size, 1.0)?, layout.poses(1.0, 1.0)?.into_iter().map(image), size)?;
    }

    #[test]
    fn links_the_other_way_round_move_alike(layout in layout(), swapped in prop::collection::vec(any::<bool>(), 6)) {
        let mut other = layout.clone();
        for ((from, to, _), swap) in other.links.iter_mut().zip(swapped) {
            if swap {
                std::mem::swap(from, to);
            }
        }
        is_image(&other.poses(1.0, 1.0)?, layout.poses(1.0, 1.0)?.into_iter(), 1.0)?;
    }

    #[test]
    fn links_in_another_order_move_alike(
        (layout, links) in layout().prop_flat_map(|l| { let links = Just(l.links.clone()).prop_shuffle(); (Just(l), links) })
    ) {
        let other = Layout { links, ..layout.clone() };
        is_image(&other.poses(1.0, 1.0)?, layout.poses(1.0, 1.0)?.into_iter(), 1.0)?;
    }

    #[test]
    fn only_the_ratios_of_stiffnesses_matter(layout in layout(), decades in -6.0..6.0) {
        let mut stiffer = layout.clone();
        for (_, _, stiffness) in &mut stiffer.links {
            *stiffness *= 10f64.powf(decades);
        }
        is_image(&stiffer.poses(1.0, 1.0)?, layout.poses(1.0, 1.0)?.into_iter(), 1.0)?;
    }

    /// There and back again on one assembly.
    #[test]
    fn the_way_back_ends_where_it_began(layout in layout()) {
        let mechanism = layout.compile();
        let there = Drive { z_m: DRAWN_M + 0.08, roll_rad: 0.05 };
        let top = mechanism.walk_to(&layout.drawn, there).map_err(|e| TestCaseError::fail(format!("{e:?}")))?;
        let back = mechanism.walk_to(&top.at, layout.drawn.drive()).map_err(|e| TestCaseError::fail(format!("{e:?}")))?;
        is_image(&[back.at], std::iter::once(layout.drawn), 1.0)?;
    }
}
