//! A pose takes no memory: a long walk asks for as much as a short one, and first-order motion for none.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use allocation_counter::measure;
use linkage::{Anchor, Body, Configuration, Crank, CrankId, Drive, Joint, Link, Mechanism};
use nalgebra::{Matrix3, Point3, Vector3};

const DRAWN_M: f64 = 0.2;

fn at(body: Body, x: f64, y: f64, z: f64) -> Anchor {
    Anchor {
        body,
        point: Point3::new(x, y, z),
    }
}

fn ground(x: f64, y: f64, z: f64) -> Anchor {
    at(Body::Ground, x, y, z)
}

fn platform(x: f64, y: f64, z: f64) -> Anchor {
    at(Body::Platform, x, y, z)
}

fn pair(frame: [f64; 3], axle: [f64; 3]) -> [(Anchor, Anchor); 2] {
    [1.0, -1.0].map(|hand| {
        (
            ground(frame[0], hand * frame[1], frame[2]),
            platform(axle[0], hand * axle[1], axle[2]),
        )
    })
}

fn compiled(ends: Vec<(Anchor, Anchor)>, joints: Vec<Joint>, cranks: Vec<Crank>) -> Mechanism {
    let drawn = Configuration::level_at(DRAWN_M);
    let links = ends
        .into_iter()
        .map(|(a, b)| Link::cut_to_suit(a, b, 1e7, &cranks, &drawn));
    Mechanism::with_joints(links.collect(), joints, cranks, drawn).expect("a layout is a mechanism")
}

fn lowers() -> Vec<(Anchor, Anchor)> {
    pair([0.6, 0.5, 0.11], [0.0, 0.5, -0.08]).to_vec()
}

fn exact() -> Mechanism {
    let uppers = pair([0.45, 0.4, 0.34], [0.0, 0.1, 0.14]);
    let mechanism = compiled([lowers(), uppers.to_vec()].concat(), Vec::new(), Vec::new());
    assert!(mechanism.is_exact());
    mechanism
}

/// Bars that converge, and one across: it binds in roll.
fn redundant() -> Mechanism {
    let uppers = pair([0.58, 0.48, 0.3], [0.0, 0.48, 0.14]);
    let across = vec![(ground(-0.2, 0.38, 0.27), platform(-0.2, -0.42, 0.05))];
    let mechanism = compiled([lowers(), uppers.to_vec(), across].concat(), Vec::new(), Vec::new());
    assert!(!mechanism.is_exact());
    mechanism
}

fn with_crank() -> Mechanism {
    let on_crank = |z: f64| at(Body::Crank(CrankId(0)), -0.2, 0.0, z);
    let links = vec![
        (ground(0.5, 0.05, 0.36), platform(0.0, 0.0, 0.15)),
        (ground(-0.2, 0.37, 0.33), on_crank(0.13)),
        (ground(-0.2, -0.37, 0.17), on_crank(-0.03)),
    ];
    let crank = Crank::on_platform(Point3::new(-0.2, 0.0, 0.05), Vector3::x());
    let mechanism = compiled([lowers(), links].concat(), Vec::new(), vec![crank]);
    assert!(mechanism.is_exact());
    mechanism
}

/// Two arms and a bar across.
fn with_joints() -> Mechanism {
    let drawn = Configuration::level_at(DRAWN_M);
    let eye = |y: f64| {
        let stiffness = Vector3::new(2e5, 8e6, 4e5);
        Joint::made_to_suit(Point3::new(1.2, y, 0.1), Matrix3::identity(), stiffness, &drawn)
    };
    let across = vec![(ground(-0.2, 0.38, 0.27), platform(-0.2, -0.42, 0.05))];
    compiled(across, vec![eye(0.15), eye(-0.15)], Vec::new())
}

/// Up, then down and rolled; every drive needs a step or two.
fn drives(count: u32) -> impl Iterator<Item = Drive> {
    (0..count).map(move |i| {
        let part = f64::from(i) / f64::from(count);
        Drive {
            z_m: DRAWN_M + 0.08 * (std::f64::consts::TAU * part).sin(),
            roll_rad: 0.04 * part,
        }
    })
}

fn allocations_of_a_walk(mechanism: &Mechanism, count: u32) -> u64 {
    let mut poses = 0;
    let mut end = None;
    let info = measure(|| end = mechanism.walk(mechanism.drawn(), drives(count), |_| poses += 1));
    assert!(end.is_none(), "{end:?}");
    assert_eq!(poses, count, "every drive is reached");
    info.count_total
}

#[test]
fn a_long_walk_takes_as_much_memory_as_a_short_one() {
    for mechanism in [exact(), redundant(), with_crank(), with_joints()] {
        let [short, long] = [20, 200].map(|count| allocations_of_a_walk(&mechanism, count));
        assert_eq!(short, long, "with {} links", mechanism.links().len());
        assert_eq!(long, 0, "with {} links", mechanism.links().len());
    }
}

#[test]
fn twists_and_strains_take_none() {
    for mechanism in [exact(), redundant(), with_crank(), with_joints()] {
        let at = *mechanism.drawn();
        let mut sum = 0.0;
        let info = measure(|| {
            for _ in 0..50 {
                sum += mechanism.twists(&at).ride.linear.z;
                sum += mechanism.strains(&at).map(|s| s.gap_m).sum::<f64>();
                sum += mechanism.assemble(&at).map_or(f64::NAN, |s| s.misfit_m);
            }
        });
        assert!((sum - 50.0).abs() < 1e-9, "each rises by one and has no gaps: {sum}");
        assert_eq!(info.count_total, 0);
    }
}

/// A count that never counts would pass everything above.
#[test]
fn the_count_counts() {
    let mut list = Vec::new();
    assert!(measure(|| list.push(1u8)).count_total > 0);
    assert_eq!(list, [1]);
}
