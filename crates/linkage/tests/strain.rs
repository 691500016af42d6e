//! What parts that do not fit give, and with what force: springs against each other in closed form.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

use linkage::{ClosureId, Configuration, Drive, Joint, JointId, LinkId, Mechanism, Strain, Unfit};
use nalgebra::{Matrix3, Point3, Vector3};
use support::link;

/// Three bars to the front and one across, all level, and more where the first one is.
fn with_more(more: &[f64], first_n_per_m: f64) -> Mechanism {
    let mut links = vec![
        link([0.6, 0.45, 0.0], [0.0, 0.45, 0.0], first_n_per_m),
        link([0.6, -0.45, 0.0], [0.0, -0.45, 0.0], 3e7),
        link([0.5, 0.0, 0.16], [0.0, 0.0, 0.16], 2e7),
        link([-0.2, 0.4, 0.05], [-0.2, -0.4, 0.05], 1e7),
    ];
    links.extend(more.iter().map(|k| link([0.6, 0.45, 0.0], [0.0, 0.45, 0.0], *k)));
    Mechanism::new(links, Vec::new(), Configuration::level_at(0.0)).expect("a layout is a mechanism")
}

fn strains(mechanism: &Mechanism, at: &Configuration) -> Vec<Strain> {
    mechanism.strains(at).collect()
}

#[track_caller]
fn near(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "found {found}, expected {expected} within {within}"
    );
}

/// Several springs between the same two points, of lengths that differ: they agree on the mean length weighted by stiffness.
#[test]
fn links_between_the_same_points_agree_on_their_mean_length_by_stiffness() {
    for stiff in [[1e7, 1e7, 1e7], [1e7, 3e6, 5e5], [2e5, 8e8, 1e6]] {
        for longer in [[0.0, 0.004, -0.002], [0.001, -0.003, 0.015]] {
            let mut mechanism = with_more(&stiff[1..], stiff[0]);
            let lengths = longer.map(|d| 0.6 + d);
            let given = [Some(lengths[0]), None, None, None, Some(lengths[1]), Some(lengths[2])];
            let ride = mechanism.fit(&given).expect("they fit").at;
            let weighted: f64 = stiff.iter().zip(lengths).map(|(k, l)| k * l).sum();
            let mean = weighted / stiff.iter().sum::<f64>();
            let found = strains(&mechanism, &ride);
            for (i, which) in [0, 4, 5].into_iter().enumerate() {
                near(found[which].gap_m, mean - lengths[i], 2e-10);
                near(found[which].force_n, stiff[i] * (mean - lengths[i]), 2e-10 * stiff[i]);
            }
            for other in &found[1..4] {
                near(other.gap_m, 0.0, 2e-10);
            }
        }
    }
}

/// The pose is where the least energy is, whatever the unit of stiffness; the forces are in that unit.
#[test]
fn stiffnesses_a_thousand_times_as_large_leave_the_poses_and_scale_the_forces() {
    let scaled = |by: f64| {
        let mut links = vec![
            link([0.6, 0.5, -0.09], [0.0, 0.5, -0.08], 3e7),
            link([0.6, -0.5, -0.09], [0.0, -0.5, -0.08], 2e7),
            link([0.58, 0.48, 0.1], [0.0, 0.48, 0.14], 1e7),
            link([0.58, -0.48, 0.1], [0.0, -0.48, 0.14], 2e7),
            link([-0.2, 0.38, 0.07], [-0.2, -0.42, 0.05], 1e7),
        ];
        for link in &mut links {
            link.stiffness_n_per_m *= by;
        }
        let drawn = Configuration::level_at(0.0);
        let stiffness = Vector3::new(2e5, 8e6, 4e5) * by;
        let eye = Joint::made_to_suit(Point3::new(0.9, 0.1, 0.1), Matrix3::identity(), stiffness, &drawn);
        let mut mechanism =
            Mechanism::with_joints(links, vec![eye], Vec::new(), drawn).expect("a layout is a mechanism");
        let ride = mechanism
            .fit(&[Some(0.603), None, None, Some(0.581)])
            .expect("it fits")
            .at;
        let drive = Drive {
            z_m: 0.03,
            roll_rad: 0.05,
        };
        let at = mechanism.walk_to(&ride, drive).expect("it is reached").at;
        (at, strains(&mechanism, &at))
    };
    let (at, plain) = scaled(1.0);
    assert!(
        plain.iter().filter(|s| s.gap_m.abs() > 1e-5).count() >= 5,
        "much does not fit: {plain:?}"
    );
    for by in [1e3, 1e-3, 1e6] {
        let (moved, scaled) = scaled(by);
        near((moved.origin_in_ground - at.origin_in_ground).norm(), 0.0, 1e-10);
        near(
            (moved.yaw_rad - at.yaw_rad)
                .abs()
                .max((moved.pitch_rad - at.pitch_rad).abs()),
            0.0,
            1e-10,
        );
        for (a, b) in plain.iter().zip(&scaled) {
            assert_eq!(a.closure, b.closure);
            near(a.gap_m, b.gap_m, 1e-10);
            near(b.force_n / by, a.force_n, 1e-5 * a.force_n.abs() + 1e-2);
        }
    }
}

/// An eye pulled off its point by a link: its three springs each take their part of the opening. Statics: what the eye and the link put on the
/// platform is balanced by what imposes height and roll, which push neither forward nor aside.
#[test]
fn an_eye_carries_what_the_links_put_on_the_platform() {
    let drawn = Configuration::level_at(0.0);
    let stiffness = Vector3::new(3e5, 2e6, 7e5);
    let eyes =
        [0.3, -0.3].map(|y| Joint::made_to_suit(Point3::new(1.1, y, 0.0), Matrix3::identity(), stiffness, &drawn));
    // Level, straight ahead and through the middle: it only pulls the platform forward against both eyes.
    let pull = link([-0.7, 0.0, 0.0], [0.0, 0.0, 0.0], 4e6);
    let mut mechanism = Mechanism::with_joints(vec![pull], eyes.to_vec(), Vec::new(), drawn).expect("a mechanism");
    for d in [0.002, -0.004] {
        let at = mechanism.fit(&[Some(0.7 - d)]).expect("it fits").at;
        // In series: the link, and both eyes side by side.
        let force = d / (1.0 / 4e6 + 1.0 / (2.0 * 3e5));
        let found = strains(&mechanism, &at);
        near(found[0].force_n, force, 1e-6 * force.abs() + 1e-3);
        for (i, eye) in found[1..].iter().enumerate() {
            assert_eq!(eye.closure, ClosureId::Joint(JointId(i)));
            near(eye.force_n, force.abs() / 2.0, 1e-6 * force.abs() + 1e-3);
            near(eye.gap_m, force.abs() / 2.0 / 3e5, 1e-9);
        }
        near(at.origin_in_ground.x, -force / (2.0 * 3e5), 1e-9);
        let worst = mechanism.worst_strain(&at).expect("there are parts");
        assert!(matches!(worst.closure, ClosureId::Joint(_)), "{worst:?}");
        // Back to what was drawn, for the next one.
        mechanism.fit(&[Some(0.7)]).expect("it fits");
    }
}

/// A length is refused by its link's number, whatever else is given.
#[test]
fn a_length_that_is_no_length_is_refused_by_number() {
    for bad in [f64::NAN, f64::INFINITY, -1.0, 0.0, 1e-7] {
        for which in 0..4 {
            let mut given = [Some(0.61), None, None, None];
            given[which] = Some(bad);
            let refused = with_more(&[], 1e7).fit(&given);
            assert_eq!(refused.err(), Some(Unfit::UnusableLength(LinkId(which))), "{bad}");
        }
    }
}

/// Lists that are short leave the rest as it is drawn; the lengths given are kept to the last bit.
#[test]
fn fitted_links_have_the_lengths_asked_for() {
    let mut mechanism = with_more(&[1e7], 1e7);
    let drawn: Vec<_> = mechanism.links().iter().map(|l| l.length_m).collect();
    mechanism
        .fit(&[Some(0.612_345), None, Some(0.487_6)])
        .expect("they fit");
    let now: Vec<_> = mechanism.links().iter().map(|l| l.length_m).collect();
    assert_eq!(now, [0.612_345, drawn[1], 0.487_6, drawn[3], drawn[4]]);
}
