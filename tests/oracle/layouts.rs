//! Every layout: bars of given length, cranks on either body about any axis, joints, and layouts that bind, whose pose is the least energy.

use linkage::{Anchor, Body, Configuration, Crank, CrankId, Joint, Link, Mechanism};
use nalgebra::{Matrix3, Point3, Vector3};
use serde::Deserialize;

use crate::{Pose, assert_pose};

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
    joints: Vec<Eye>,
    poses: Vec<Pose>,
}

#[derive(Deserialize)]
struct Hinge {
    on: String,
    pivot: [f64; 3],
    axis: [f64; 3],
}

#[derive(Deserialize)]
struct Bar {
    from: End,
    to: End,
    length: f64,
    stiffness: f64,
}

#[derive(Deserialize)]
struct End {
    on: String,
    point: [f64; 3],
}

#[derive(Deserialize)]
struct Eye {
    ground: [f64; 3],
    platform: [f64; 3],
    axes: [[f64; 3]; 3],
    stiffness: [f64; 3],
}

/// Part of the energy.
const ENERGY: f64 = 1e-6;

fn reference() -> Vec<Case> {
    let path = tests::root().join("tests/reference/layouts.json");
    let text = std::fs::read_to_string(path).expect("the reference file is there");
    serde_json::from_str::<Reference>(&text)
        .expect("the reference file reads")
        .cases
}

fn anchor(end: &End) -> Anchor {
    let body = match end.on.as_str() {
        "ground" => Body::Ground,
        "platform" => Body::Platform,
        _ => Body::Crank(CrankId(0)),
    };
    Anchor {
        body,
        point: Point3::from(end.point),
    }
}

fn crank(hinge: &Hinge) -> Crank {
    let (pivot, axis) = (Point3::from(hinge.pivot), Vector3::from(hinge.axis));
    if hinge.on == "ground" {
        Crank::on_ground(pivot, axis)
    } else {
        Crank::on_platform(pivot, axis)
    }
}

fn joint(eye: &Eye) -> Joint {
    Joint {
        on_ground: Point3::from(eye.ground),
        on_platform: Point3::from(eye.platform),
        directions: Matrix3::from_columns(&eye.axes.map(Vector3::from)),
        stiffness_n_per_m: Vector3::from(eye.stiffness),
    }
}

/// Drawn with every link cut to suit, then given its length; with the pose at ride height that follows.
fn compile(case: &Case) -> (Mechanism, Configuration) {
    let cranks: Vec<_> = case.crank.iter().map(crank).collect();
    let drawn = Configuration::level_at(case.z_ride);
    let link = |bar: &Bar| Link::cut_to_suit(anchor(&bar.from), anchor(&bar.to), bar.stiffness, &cranks, &drawn);
    let links = case.links.iter().map(link).collect();
    let joints = case.joints.iter().map(joint).collect();
    let mut mechanism = Mechanism::with_joints(links, joints, cranks, drawn).expect("a reference case is a mechanism");
    let lengths: Vec<_> = case.links.iter().map(|bar| Some(bar.length)).collect();
    let ride = mechanism.fit(&lengths).expect("a reference case fits").at;
    (mechanism, ride)
}

fn energy(mechanism: &Mechanism, at: &Configuration) -> f64 {
    let links: f64 = mechanism
        .strains(at)
        .zip(mechanism.links())
        .map(|(strain, link)| link.stiffness_n_per_m * strain.gap_m.powi(2))
        .sum();
    let joints: f64 = mechanism
        .joints()
        .iter()
        .map(|joint| {
            let opening = joint.directions.transpose() * (at.to_ground(joint.on_platform) - joint.on_ground);
            opening.component_mul(&opening).dot(&joint.stiffness_n_per_m)
        })
        .sum();
    links.midpoint(joints)
}

fn agrees(case: &Case, number: usize) {
    let (mechanism, ride) = compile(case);
    let name = format!("case {number} ({})", case.layout);
    for pose in &case.poses {
        let at = assert_pose(&mechanism, &ride, pose, &name);
        let off = (energy(&mechanism, &at) - pose.energy).abs();
        assert!(off <= ENERGY * pose.energy + 1e-9, "{name}: energy off by {off}");
    }
}

#[test]
fn every_layout_agrees() {
    let cases = reference();
    let mut layouts: Vec<_> = cases.iter().map(|c| c.layout.clone()).collect();
    layouts.sort();
    layouts.dedup();
    assert_eq!(layouts.len(), 14, "{layouts:?}");
    for layout in layouts {
        let of_layout: Vec<_> = cases.iter().filter(|c| c.layout == layout).collect();
        let asymmetric = of_layout.iter().filter(|c| !c.symmetric).count();
        assert!(
            of_layout.len() >= 200 && asymmetric >= 50,
            "{} of {layout}",
            of_layout.len()
        );
        for (number, case) in of_layout.iter().enumerate() {
            agrees(case, number);
        }
    }
}
