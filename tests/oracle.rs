//! Poses against two independent solvers. `reference/poses.json` and `reference/layouts.json` are made by the scripts beside them (SciPy,
//! cross-checked by CasADi) and made again by `cargo xtask reference`.

#![expect(
    clippy::expect_used,
    reason = "a test may stop at the first thing that is not as it should be"
)]

#[path = "oracle/driveline.rs"]
mod driveline;
#[path = "oracle/layouts.rs"]
mod layouts;

use linkage::{Anchor, Body, Configuration, Crank, CrankId, Drive, Link, Mechanism};
use nalgebra::{Point3, Vector3};
use serde::Deserialize;

#[derive(Deserialize)]
struct Reference {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    layout: String,
    symmetric: bool,
    z_ride: f64,
    crank: Option<Hinge>,
    links: Vec<Bar>,
    poses: Vec<Pose>,
}

#[derive(Deserialize)]
struct Hinge {
    pivot: [f64; 3],
    axis: [f64; 3],
}

#[derive(Deserialize)]
struct Bar {
    ground: [f64; 3],
    moving: [f64; 3],
    on: String,
}

#[derive(Deserialize)]
struct Pose {
    z: f64,
    roll: f64,
    x: f64,
    y: f64,
    yaw: f64,
    pitch: f64,
    crank: f64,
    misfit: f64,
    /// Of the bars that do not fit, J; only where they have stiffnesses.
    #[serde(default)]
    energy: f64,
}

/// Metres and radians.
const AGREEMENT: f64 = 1e-8;

fn reference() -> Vec<Case> {
    let path = tests::root().join("tests/reference/poses.json");
    let text = std::fs::read_to_string(path).expect("the reference file is there");
    serde_json::from_str::<Reference>(&text)
        .expect("the reference file reads")
        .cases
}

fn compile(case: &Case) -> Mechanism {
    let cranks: Vec<_> = case
        .crank
        .iter()
        .map(|h| Crank::on_platform(Point3::from(h.pivot), Vector3::from(h.axis)))
        .collect();
    let drawn = Configuration::level_at(case.z_ride);
    let link = |bar: &Bar| {
        let body = if bar.on == "crank" {
            Body::Crank(CrankId(0))
        } else {
            Body::Platform
        };
        let from = Anchor {
            body: Body::Ground,
            point: Point3::from(bar.ground),
        };
        let to = Anchor {
            body,
            point: Point3::from(bar.moving),
        };
        Link::cut_to_suit(from, to, 1.0, &cranks, &drawn)
    };
    let links = case.links.iter().map(link).collect();
    Mechanism::new(links, cranks, drawn).expect("a reference case is a mechanism")
}

/// Walks to a pose and compares it; gives back what was found.
fn assert_pose(mechanism: &Mechanism, ride: &Configuration, pose: &Pose, case: &str) -> Configuration {
    let drive = Drive {
        z_m: pose.z,
        roll_rad: pose.roll,
    };
    let solved = mechanism
        .walk_to(ride, drive)
        .unwrap_or_else(|end| panic!("{case}: ends at {end:?}"));
    let at = solved.at;
    let pairs = [
        (at.origin_in_ground.x, pose.x),
        (at.origin_in_ground.y, pose.y),
        (at.yaw_rad, pose.yaw),
        (at.pitch_rad, pose.pitch),
        (at.crank_rad[0], pose.crank),
        (solved.misfit_m, pose.misfit),
    ];
    for (found, expected) in pairs {
        let off = (found - expected).abs();
        assert!(off <= AGREEMENT, "{case} at {drive:?}: {found} instead of {expected}");
    }
    at
}

fn agrees(case: &Case, number: usize) {
    let mechanism = compile(case);
    for pose in &case.poses {
        let name = format!("case {number} ({})", case.layout);
        assert_pose(&mechanism, mechanism.drawn(), pose, &name);
    }
}

#[track_caller]
fn layout_agrees(layout: &str) {
    let cases: Vec<_> = reference().into_iter().filter(|c| c.layout == layout).collect();
    assert!(cases.len() >= 50, "{} cases of {layout}", cases.len());
    assert!(
        cases.iter().filter(|c| !c.symmetric).count() >= 25,
        "asymmetric ones among them"
    );
    for (number, case) in cases.iter().enumerate() {
        agrees(case, number);
    }
}

#[test]
fn triangulated_four_links() {
    layout_agrees("triangulated");
}

#[test]
fn parallel_four_links_with_panhard_bar() {
    layout_agrees("parallel_panhard");
}

#[test]
fn parallel_four_links_with_watts_linkage() {
    layout_agrees("parallel_watt");
}

#[test]
fn three_links_with_panhard_bar() {
    layout_agrees("three_link");
}
