//! Where parts that hold too much at once have to give more than they can, the travel ends there.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

use linkage::{ClosureId, Configuration, Drive, EndCause, Joint, JointId, LinkId, Mechanism, WalkEnd};
use nalgebra::{Matrix3, Point3, Vector3};
use support::link;

fn end_of(mechanism: &Mechanism, z_m: f64) -> WalkEnd {
    mechanism
        .walk_to(mechanism.drawn(), Drive { z_m, roll_rad: 0.0 })
        .expect_err("the travel ends before that")
}

/// Two level bars across, a short and a long one, and guides so long that nothing else moves.
fn two_across(short: (f64, f64), long: (f64, f64)) -> Mechanism {
    let (far, spread) = (1000.0, 0.1);
    let links = vec![
        link([far, spread, -spread], [0.0, spread, -spread], 1e9),
        link([far, -spread, -spread], [0.0, -spread, -spread], 1e9),
        link([far, 0.0, spread], [0.0, 0.0, spread], 1e9),
        link([0.0, short.0, 0.0], [0.0, 0.0, 0.0], short.1),
        link([0.0, long.0, 0.0], [0.0, 0.0, 0.0], long.1),
    ];
    Mechanism::new(links, Vec::new(), Configuration::level_at(0.0)).expect("a mechanism")
}

/// What both bars give after a rise: the sideways place at which their pulls aside are equal, by bisection.
fn gaps(short: (f64, f64), long: (f64, f64), rise: f64) -> [f64; 2] {
    let gap = |length: f64, aside: f64| (length - aside).hypot(rise) - length;
    let pull = |(length, stiffness): (f64, f64), aside: f64| {
        stiffness * gap(length, aside) * (length - aside) / (length - aside).hypot(rise)
    };
    let (mut low, mut high) = (-rise.abs(), 0.99 * short.0);
    for _ in 0..100 {
        let middle = f64::midpoint(low, high);
        if pull(short, middle) + pull(long, middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    [gap(short.0, low), gap(long.0, low)]
}

/// The short bar's arc is the tighter one: it is stretched as the long one is squeezed, until one gives a twentieth of its length.
#[test]
fn bars_across_that_fight_end_the_travel_where_one_gives_a_twentieth() {
    for (short, long) in [
        ((0.1, 1e6), (1.0, 1e6)),
        ((0.15, 1e6), (0.8, 1e7)),
        ((0.2, 3e6), (0.6, 1e6)),
    ] {
        for sense in [1.0, -1.0] {
            let end = end_of(&two_across(short, long), sense);
            assert_eq!(end.cause, EndCause::Misfit, "{end:?}");
            let used = |rise: f64| {
                let [a, b] = gaps(short, long, rise);
                (a.abs() / short.0).max(b.abs() / long.0) / 0.05
            };
            let (mut low, mut high) = (0.0, short.0);
            assert!(used(high) > 1.0);
            for _ in 0..60 {
                let middle = f64::midpoint(low, high);
                if used(middle) < 1.0 {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            let short_of = low - sense * end.last.z_m;
            // Followed to a 6 mm step halved seven times; the guides' arcs are a thousandth of that.
            assert!((-1e-6..=1e-4).contains(&short_of), "ends {short_of} m before {low}");
            let most = [3, 4].map(|i| Some(ClosureId::Link(LinkId(i))));
            assert!(most.contains(&end.closure), "{end:?}");
        }
    }
}

/// A soft eye on the ground beside a platform that is led away from it: it may open by a fifth of the characteristic length, the root mean square
/// of the anchors' distances, 0.1 m here. The platform rises by the drive and goes aside on the arc of its bar across.
#[test]
fn an_eye_ends_the_travel_where_it_has_opened_by_a_fifth_of_the_size() {
    let length = 0.3;
    let drawn = Configuration::level_at(0.0);
    let stiffness = Vector3::new(1e-3, 2e-3, 1e-3);
    let eye = Joint::made_to_suit(Point3::origin(), Matrix3::identity(), stiffness, &drawn);
    let (far, spread) = (1000.0, 0.1);
    let links = vec![
        link([far, spread, -spread], [0.0, spread, -spread], 1e7),
        link([far, -spread, -spread], [0.0, -spread, -spread], 1e7),
        link([far, 0.0, spread], [0.0, 0.0, spread], 1e7),
        link([0.0, length, 0.0], [0.0, 0.0, 0.0], 1e7),
    ];
    let mechanism = Mechanism::with_joints(links, vec![eye], Vec::new(), drawn).expect("a mechanism");
    let most = 0.2 * f64::sqrt((0.02 + 0.02 + 0.01) / 5.0);
    // Up by z and aside by y with y^2 - 2 L y + z^2 = 0: open by sqrt(2 L y).
    let aside = most * most / (2.0 * length);
    let expected = (most * most - aside * aside).sqrt();
    for sense in [1.0, -1.0] {
        let end = end_of(&mechanism, sense * 0.1);
        assert_eq!(end.cause, EndCause::Misfit, "{end:?}");
        assert_eq!(end.closure, Some(ClosureId::Joint(JointId(0))));
        let short_of = expected - sense * end.last.z_m;
        assert!(
            (-1e-7..=1e-4).contains(&short_of),
            "ends {short_of} m before {expected}"
        );
    }
}
