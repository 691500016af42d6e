//! Twists against the walk itself: they are the rates at which the pose changes with each drive.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use linkage::{Acceleration, Anchor, Body, Configuration, Crank, CrankId, Drive, Link, Mechanism, Motion, Twist};
use nalgebra::{Matrix3, Point3, Vector3};
use proptest::prelude::*;

/// Poses are solved to about 1e-11 m; differences over 4e-5 m or rad leave 3e-7 of that, and a tenth of it of curvature (third derivatives are
/// in the hundreds where the crank nears its end).
const STEP: f64 = 2e-5;
const AGREEMENT: f64 = 4e-7;

fn ground(p: [f64; 3]) -> Anchor {
    Anchor {
        body: Body::Ground,
        point: Point3::from(p),
    }
}

fn platform(p: [f64; 3]) -> Anchor {
    Anchor {
        body: Body::Platform,
        point: Point3::from(p),
    }
}

fn on_crank(p: [f64; 3]) -> Anchor {
    Anchor {
        body: Body::Crank(CrankId(0)),
        point: Point3::from(p),
    }
}

/// As many links as unknowns: three bars to the front, and a Watt's linkage whose crank sits on the platform.
fn three_bars_and_watt() -> (Vec<(Anchor, Anchor)>, Vec<Crank>) {
    let links = vec![
        (ground([0.6, 0.5, 0.1]), platform([0.0, 0.5, -0.08])),
        (ground([0.6, -0.5, 0.12]), platform([0.0, -0.5, -0.08])),
        (ground([0.5, 0.05, 0.36]), platform([0.0, 0.0, 0.15])),
        (ground([-0.2, 0.37, 0.33]), on_crank([-0.2, 0.0, 0.13])),
        (ground([-0.2, -0.37, 0.17]), on_crank([-0.2, 0.0, -0.03])),
    ];
    (
        links,
        vec![Crank::on_platform(Point3::new(-0.2, 0.0, 0.05), Vector3::x())],
    )
}

fn triangulated() -> (Vec<(Anchor, Anchor)>, Vec<Crank>) {
    let links = vec![
        (ground([0.6, 0.5, 0.1]), platform([0.0, 0.5, -0.08])),
        (ground([0.6, -0.5, 0.12]), platform([0.0, -0.5, -0.08])),
        (ground([0.45, 0.4, 0.34]), platform([0.0, 0.1, 0.15])),
        (ground([0.45, -0.4, 0.34]), platform([0.0, -0.1, 0.15])),
    ];
    (links, Vec::new())
}

/// A link more than unknowns: four bars to the front and one across. Off their places they fight, and share what does not fit.
fn parallel() -> (Vec<(Anchor, Anchor)>, Vec<Crank>) {
    let links = vec![
        (ground([0.6, 0.5, 0.1]), platform([0.0, 0.5, -0.08])),
        (ground([0.6, -0.5, 0.12]), platform([0.0, -0.5, -0.08])),
        (ground([0.45, 0.4, 0.34]), platform([0.0, 0.4, 0.15])),
        (ground([0.45, -0.4, 0.34]), platform([0.0, -0.4, 0.15])),
        (ground([-0.1, 0.4, 0.25]), platform([-0.1, -0.4, 0.05])),
    ];
    (links, Vec::new())
}

/// Every point up to 30 mm off.
fn mechanism() -> impl Strategy<Value = Mechanism> {
    prop_oneof![Just(three_bars_and_watt()), Just(triangulated())].prop_flat_map(jumbled)
}

fn jumbled((ends, cranks): (Vec<(Anchor, Anchor)>, Vec<Crank>)) -> impl Strategy<Value = Mechanism> {
    let off = prop::collection::vec([-0.03..0.03, -0.03..0.03, -0.03..0.03].prop_map(Vector3::from), 10);
    off.prop_map(move |off| {
        let drawn = Configuration::level_at(0.2);
        let moved = |a: Anchor, by: Vector3<f64>| Anchor {
            point: a.point + by,
            ..a
        };
        let link = |((a, b), off): ((Anchor, Anchor), &[Vector3<f64>])| {
            Link::cut_to_suit(moved(a, off[0]), moved(b, off[1]), 1.0, &cranks, &drawn)
        };
        let links = ends.iter().copied().zip(off.chunks(2)).map(link).collect();
        Mechanism::new(links, cranks.clone(), drawn).expect("a sane layout is a mechanism")
    })
}

/// The angular velocity of a rotation that changes at `rate`: the axial vector of `rate * rotation^T`.
fn axial(rate: Matrix3<f64>, rotation: Matrix3<f64>) -> Vector3<f64> {
    let spin = rate * rotation.transpose();
    Vector3::new(
        spin[(2, 1)] - spin[(1, 2)],
        spin[(0, 2)] - spin[(2, 0)],
        spin[(1, 0)] - spin[(0, 1)],
    ) / 2.0
}

/// The twist between two poses on either side of a third, per unit of drive.
fn by_differences(mechanism: &Mechanism, at: &Configuration, step: Drive) -> Twist {
    let Drive { z_m, roll_rad } = at.drive();
    let stepped = |sense: f64| {
        let drive = Drive {
            z_m: z_m + sense * step.z_m,
            roll_rad: roll_rad + sense * step.roll_rad,
        };
        mechanism.walk_to(at, drive).expect("a small step is reached").at
    };
    let (before, after) = (stepped(-1.0), stepped(1.0));
    let per = 1.0 / (2.0 * STEP);
    let turned = (after.ground_from_platform() - before.ground_from_platform()) * per;
    Twist {
        linear: (after.origin_in_ground - before.origin_in_ground) * per,
        angular: axial(turned, at.ground_from_platform()),
        cranks: [0, 1].map(|i| (after.crank_rad[i] - before.crank_rad[i]) * per),
    }
}

fn is_near(found: &Twist, expected: &Twist, what: &str) -> Result<(), TestCaseError> {
    let list = |t: &Twist| {
        t.linear
            .iter()
            .chain(t.angular.iter())
            .chain(&t.cranks)
            .copied()
            .collect::<Vec<_>>()
    };
    let off = list(found)
        .iter()
        .zip(list(expected))
        .map(|(a, b)| (a - b).abs())
        .fold(0.0, f64::max);
    prop_assert!(off <= AGREEMENT, "{what}: {found:?}, by differences {expected:?}");
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn twists_are_the_rates_of_the_walk(mechanism in mechanism(), rise in -0.03..0.03, roll_rad in -0.05..0.05) {
        let drive = Drive { z_m: 0.2 + rise, roll_rad };
        let at = mechanism.walk_to(mechanism.drawn(), drive).map_err(|e| TestCaseError::fail(format!("{e:?}")))?.at;
        let twists = mechanism.twists(&at);
        is_near(&twists.ride, &by_differences(&mechanism, &at, Drive { z_m: STEP, roll_rad: 0.0 }), "ride")?;
        is_near(&twists.roll, &by_differences(&mechanism, &at, Drive { z_m: 0.0, roll_rad: STEP }), "roll")?;
    }
}

/// Twists are exact to rounding; differences over 2e-4 leave 1e-8 of curvature a unit of the fifth derivative, which the crank takes to tens.
const BEND_STEP: f64 = 1e-4;
const BEND_AGREEMENT: f64 = 1e-5;

/// The acceleration, and what the twists at two places on either side make of it.
fn bend_is_near(found: &Motion, before: &Twist, after: &Twist) -> Result<(), TestCaseError> {
    let per = 1.0 / (2.0 * BEND_STEP);
    let (linear, angular) = (
        (after.linear - before.linear) * per,
        (after.angular - before.angular) * per,
    );
    let off = (found.ride.linear - linear)
        .norm()
        .max((found.ride.angular - angular).norm());
    let allowed = BEND_AGREEMENT * (1.0 + angular.norm());
    prop_assert!(
        off <= allowed,
        "off by {off:e}: {:?}, by differences {linear:?} {angular:?}",
        found.ride
    );
    Ok(())
}

/// Straight on along a ride twist: where the path goes, to first order.
fn along(at: &Configuration, ride: &Twist, rise_m: f64) -> Configuration {
    let ((sin_yaw, cos_yaw), (sin_roll, cos_roll)) = (at.yaw_rad.sin_cos(), at.roll_rad.sin_cos());
    // The platform turns about Z by yaw and about its own Y axis by pitch; what lies level of that axis is cos(roll) long.
    let pitch = (cos_yaw * ride.angular.y - sin_yaw * ride.angular.x) / cos_roll;
    Configuration {
        origin_in_ground: at.origin_in_ground + ride.linear * rise_m,
        yaw_rad: at.yaw_rad + (ride.angular.z - sin_roll * pitch) * rise_m,
        pitch_rad: at.pitch_rad + pitch * rise_m,
        crank_rad: [0, 1].map(|i| at.crank_rad[i] + ride.cranks[i] * rise_m),
        ..*at
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_ride_twist_changes_by_the_acceleration(mechanism in mechanism(), rise in -0.03..0.03, roll_rad in -0.05..0.05) {
        let walked = |from: &Configuration, rise: f64| {
            let drive = Drive { z_m: 0.2 + rise, roll_rad };
            mechanism.walk_to(from, drive).map(|w| w.at).map_err(|e| TestCaseError::fail(format!("{e:?}")))
        };
        let at = walked(mechanism.drawn(), rise)?;
        let ride = |rise: f64| walked(&at, rise).map(|at| mechanism.twists(&at).ride);
        bend_is_near(&mechanism.motion(&at), &ride(rise - BEND_STEP)?, &ride(rise + BEND_STEP)?)?;
    }

    /// Where links fight, the twist is that of the shared equations, and its change is meant along itself.
    #[test]
    fn a_twist_that_is_shared_changes_by_the_acceleration(
        mechanism in Just(parallel()).prop_flat_map(jumbled), rise in -0.03..0.03, roll_rad in -0.05..0.05,
    ) {
        let drive = Drive { z_m: 0.2 + rise, roll_rad };
        let at = mechanism.walk_to(mechanism.drawn(), drive).map_err(|e| TestCaseError::fail(format!("{e:?}")))?.at;
        let motion = mechanism.motion(&at);
        let ride = |rise_m: f64| mechanism.twists(&along(&at, &motion.twists.ride, rise_m)).ride;
        bend_is_near(&motion, &ride(-BEND_STEP), &ride(BEND_STEP))?;
        let twists = mechanism.twists(&at);
        prop_assert_eq!(motion.twists.ride.linear, twists.ride.linear);
        prop_assert_eq!(motion.twists.roll.angular, twists.roll.angular);
    }
}

/// A point that goes round with the origin standing still is drawn to it.
#[test]
fn a_point_that_turns_is_drawn_inwards() {
    let twist = Twist {
        linear: Vector3::zeros(),
        angular: Vector3::z() * 2.0,
        cranks: [0.0; 2],
    };
    let steady = Acceleration {
        linear: Vector3::zeros(),
        angular: Vector3::zeros(),
    };
    assert_eq!(steady.of(&twist, Vector3::x()), Vector3::x() * -4.0);
}

/// Velocities of points follow from the twist as in any rigid body.
#[test]
fn a_point_moves_with_the_origin_and_about_it() {
    let twist = Twist {
        linear: Vector3::new(1.0, 2.0, 3.0),
        angular: Vector3::z() * 0.5,
        cranks: [0.0; 2],
    };
    assert_eq!(twist.velocity_of(Vector3::x() * 2.0), Vector3::new(1.0, 3.0, 3.0));
}
