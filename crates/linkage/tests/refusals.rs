//! What is no mechanism is refused with the number of the part.

use linkage::{
    Anchor, Body, Configuration, Crank, CrankId, Joint, JointId, Link, LinkId, MAX_CRANKS, Mechanism, MechanismError,
};
use nalgebra::{Matrix3, Point3, Rotation3, Vector3};

fn link() -> Link {
    let anchor = |body, x| Anchor {
        body,
        point: Point3::new(x, 0.2, 0.3),
    };
    Link {
        from: anchor(Body::Ground, 0.6),
        to: anchor(Body::Platform, 0.0),
        length_m: 0.6,
        stiffness_n_per_m: 1e7,
    }
}

fn joint() -> Joint {
    Joint {
        on_ground: Point3::new(1.0, 0.3, 0.0),
        on_platform: Point3::new(1.0, 0.3, 0.0),
        directions: *Rotation3::from_euler_angles(0.1, 0.2, 0.3).matrix(),
        stiffness_n_per_m: Vector3::new(1e5, 1e6, 1e7),
    }
}

fn crank() -> Crank {
    Crank::on_platform(Point3::origin(), Vector3::x())
}

fn refused(links: Vec<Link>, joints: Vec<Joint>, cranks: Vec<Crank>) -> Option<MechanismError> {
    Mechanism::with_joints(links, joints, cranks, Configuration::level_at(0.0)).err()
}

#[test]
fn sound_parts_are_accepted() {
    assert_eq!(
        refused(vec![link(); 3], vec![joint(); 2], vec![crank(); MAX_CRANKS]),
        None
    );
    assert_eq!(refused(Vec::new(), Vec::new(), Vec::new()), None);
}

/// The second of two is spoilt one way after another.
#[track_caller]
fn spoilt_link(spoil: impl Fn(&mut Link)) -> Option<MechanismError> {
    let mut links = vec![link(); 2];
    spoil(&mut links[1]);
    refused(links, Vec::new(), vec![crank()])
}

#[test]
fn a_link_of_numbers_that_are_none_is_refused() {
    let unusable = Some(MechanismError::UnusableLink(LinkId(1)));
    for bad in [f64::NAN, f64::INFINITY, -1e7, 2e6] {
        assert_eq!(spoilt_link(|l| l.from.point.x = bad), unusable, "{bad}");
        assert_eq!(spoilt_link(|l| l.to.point.z = bad), unusable, "{bad}");
    }
    for bad in [f64::NAN, f64::INFINITY, 0.0, -1.0] {
        assert_eq!(spoilt_link(|l| l.stiffness_n_per_m = bad), unusable, "{bad}");
    }
    for bad in [f64::NAN, f64::INFINITY] {
        assert_eq!(spoilt_link(|l| l.length_m = bad), unusable, "{bad}");
    }
}

#[test]
fn a_link_without_length_or_on_one_body_is_refused() {
    let none = Some(MechanismError::NoLength(LinkId(1)));
    for length_m in [0.0, 9e-7, -0.6] {
        assert_eq!(spoilt_link(|l| l.length_m = length_m), none, "{length_m}");
    }
    for body in [Body::Ground, Body::Platform, Body::Crank(CrankId(0))] {
        let on_one = |l: &mut Link| (l.from.body, l.to.body) = (body, body);
        assert_eq!(spoilt_link(on_one), none, "{body:?}");
    }
}

#[test]
fn a_crank_that_is_not_there_is_refused() {
    let missing = Some(MechanismError::NoSuchCrank(CrankId(1)));
    assert_eq!(spoilt_link(|l| l.to.body = Body::Crank(CrankId(1))), missing);
    assert_eq!(spoilt_link(|l| l.from.body = Body::Crank(CrankId(1))), missing);
    let many = refused(Vec::new(), Vec::new(), vec![crank(); MAX_CRANKS + 1]);
    assert_eq!(many, Some(MechanismError::NoSuchCrank(CrankId(MAX_CRANKS))));
}

#[test]
fn a_crank_without_a_direction_is_refused() {
    let bad = [
        Crank::on_ground(Point3::origin(), Vector3::zeros()),
        Crank::on_platform(Point3::new(f64::NAN, 0.0, 0.0), Vector3::x()),
        Crank::on_platform(Point3::origin(), Vector3::new(f64::NAN, 1.0, 0.0)),
    ];
    for bad in bad {
        let found = refused(vec![link()], Vec::new(), vec![crank(), bad]);
        assert_eq!(found, Some(MechanismError::UnusableCrank(CrankId(1))), "{bad:?}");
    }
}

#[test]
fn a_joint_that_is_skewed_or_holds_nothing_is_refused() {
    let unusable = Some(MechanismError::UnusableJoint(JointId(1)));
    let spoilt = |spoil: &dyn Fn(&mut Joint)| {
        let mut joints = vec![joint(); 2];
        spoil(&mut joints[1]);
        refused(Vec::new(), joints, Vec::new())
    };
    for skewed in [
        Matrix3::zeros(),
        Matrix3::identity() * 2.0,
        Matrix3::new(1.0, 0.1, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0),
        Matrix3::from_element(f64::NAN),
    ] {
        assert_eq!(spoilt(&|j| j.directions = skewed), unusable, "{skewed}");
    }
    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        for k in 0..3 {
            assert_eq!(spoilt(&|j| j.stiffness_n_per_m[k] = bad), unusable, "{bad}");
        }
    }
    for bad in [f64::NAN, f64::INFINITY, 2e6, -2e6] {
        assert_eq!(spoilt(&|j| j.on_ground.y = bad), unusable, "{bad}");
        assert_eq!(spoilt(&|j| j.on_platform.z = bad), unusable, "{bad}");
    }
}

#[test]
fn a_drawing_that_is_no_place_is_refused() {
    for bad in [f64::NAN, f64::INFINITY] {
        let mut drawn = Configuration::level_at(0.0);
        drawn.yaw_rad = bad;
        let found = Mechanism::new(vec![link()], Vec::new(), drawn).err();
        assert_eq!(found, Some(MechanismError::UnusableDrawing));
        assert_eq!(
            Mechanism::new(Vec::new(), Vec::new(), Configuration::level_at(bad)).err(),
            Some(MechanismError::UnusableDrawing)
        );
    }
}

/// Each says which part in words.
#[test]
fn a_refusal_names_the_number_of_the_part() {
    let said = spoilt_link(|l| l.length_m = 0.0).expect("it is refused").to_string();
    assert!(said.contains("link 1"), "{said}");
}
