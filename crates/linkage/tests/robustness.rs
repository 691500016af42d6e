//! Whatever is described, the solver answers: no panic, no NaN, no endless loop; and where a travel ends, it says which link ends it.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use std::cell::Cell;

use linkage::{
    Anchor, Body, ClosureId, Configuration, Crank, CrankId, Drive, EndCause, Freedom, Link, LinkId, Mechanism, Twist,
    Unsolved, WalkEnd, Waypoint, tolerance,
};
use nalgebra::{Point3, Vector2};
use proptest::prelude::*;
use proptest::test_runner::TestRunner;

/// A coordinate: mostly anything, often one of a few values, so that points coincide and bars line up.
fn coordinate() -> impl Strategy<Value = f64> {
    prop_oneof![-1.0..1.0, prop::sample::select(vec![-0.5, 0.0, 0.5])]
}

fn point() -> impl Strategy<Value = Point3<f64>> {
    [coordinate(), coordinate(), coordinate()].prop_map(Point3::from)
}

/// A mechanism as it may be described, parts of any size; not all of them are accepted.
#[derive(Clone, Debug)]
struct Description {
    links: Vec<Link>,
    cranks: Vec<Crank>,
    drawn: Configuration,
}

fn bodies(cranks: usize) -> impl Strategy<Value = (Body, Body)> {
    let all: Vec<_> = [Body::Ground, Body::Platform]
        .into_iter()
        .chain((0..cranks).map(|i| Body::Crank(CrankId(i))))
        .collect();
    let any = prop::sample::select(all.clone());
    let two = prop::sample::subsequence(all, 2).prop_map(|two| (two[0], two[1]));
    // One link in ten may have both its ends on one body.
    prop_oneof![9 => two, 1 => (any.clone(), any)]
}

fn link(cranks: usize, size: f64) -> impl Strategy<Value = Link> {
    let length = prop_oneof![9 => 0.05..2.0, 1 => Just(0.0)];
    (bodies(cranks), any::<bool>(), point(), point(), length, 1e-3..1e9).prop_map(
        move |(two, swap, a, b, length, stiffness)| {
            let (from, to) = if swap { (two.1, two.0) } else { two };
            let anchor = |body, point: Point3<f64>| Anchor {
                body,
                point: point * size,
            };
            Link {
                from: anchor(from, a),
                to: anchor(to, b),
                length_m: length * size,
                stiffness_n_per_m: stiffness,
            }
        },
    )
}

/// Some axes have no length; some pivots lie on the arms they carry.
fn crank(size: f64) -> impl Strategy<Value = Crank> {
    (any::<bool>(), point(), point()).prop_map(move |(on_ground, pivot, axis)| {
        if on_ground {
            Crank::on_ground(pivot * size, axis.coords)
        } else {
            Crank::on_platform(pivot * size, axis.coords)
        }
    })
}

fn drawn(size: f64) -> impl Strategy<Value = Configuration> {
    (point(), [-0.6..0.6, -0.6..0.6, -3.0..3.0, -3.0..3.0, -3.0..3.0]).prop_map(
        move |(origin, [yaw, roll, pitch, a, b])| Configuration {
            origin_in_ground: origin * size,
            yaw_rad: yaw,
            roll_rad: roll,
            pitch_rad: pitch,
            crank_rad: [a, b],
        },
    )
}

fn description() -> impl Strategy<Value = Description> {
    let size = prop::sample::select(vec![1e-4, 1e-2, 1.0, 1.0, 1.0, 30.0, 1e5]);
    (size, 0..=2usize, any::<bool>()).prop_flat_map(|(size, cranks, cut)| {
        let links = prop::collection::vec(link(cranks, size), 0..8);
        (links, prop::collection::vec(crank(size), cranks), drawn(size)).prop_map(move |(links, cranks, drawn)| {
            let fit = |l: Link| Link::cut_to_suit(l.from, l.to, l.stiffness_n_per_m, &cranks, &drawn);
            let links = links.into_iter().map(|l| if cut { fit(l) } else { l }).collect();
            Description { links, cranks, drawn }
        })
    })
}

fn is_finite(at: &Configuration) -> bool {
    let angles = [at.yaw_rad, at.roll_rad, at.pitch_rad];
    at.origin_in_ground
        .iter()
        .chain(&angles)
        .chain(&at.crank_rad)
        .all(|v| v.is_finite())
}

fn twist_is_finite(twist: &Twist) -> bool {
    twist
        .linear
        .iter()
        .chain(twist.angular.iter())
        .chain(&twist.cranks)
        .all(|v| v.is_finite())
}

fn freedom_is_finite(freedom: &Freedom) -> bool {
    freedom.firmness.is_finite() && freedom.free.iter().all(|m| twist_is_finite(&m.velocity))
}

/// Ends near each other and the whole way off; up and down, both rolls.
fn drives(from: &Configuration, size: f64) -> Vec<Drive> {
    let Drive { z_m, roll_rad } = from.drive();
    let near = 0.02 * size;
    [
        (near, 0.0),
        (-near, 0.0),
        (near, 0.03),
        (0.1 * size, -0.05),
        (0.1 * size, -0.05),
    ]
    .map(|(rise, roll)| Drive {
        z_m: z_m + rise,
        roll_rad: roll_rad + roll,
    })
    .to_vec()
}

/// The characteristic length, or how far a crank or link reaches where that is farther.
fn reach_m(mechanism: &Mechanism) -> f64 {
    let drawn = mechanism.drawn();
    let cranks = mechanism.cranks().iter();
    let pivots = cranks.map(|c| (c.pivot_in_ground(drawn) - drawn.origin_in_ground).norm());
    let lengths = mechanism.links().iter().map(|l| l.length_m);
    lengths
        .chain(pivots)
        .fold(mechanism.characteristic_length_m(), f64::max)
}

fn way_is_sound(
    mechanism: &Mechanism,
    way: &[Waypoint],
    end: Option<WalkEnd>,
    wanted: &[Drive],
) -> Result<(), TestCaseError> {
    // The misfit is read before the last, settling step; an anchor may move by several times its size, more where its crank reaches farther
    // than the platform.
    let settled_m = 10.0 * tolerance::SETTLED * reach_m(mechanism);
    for waypoint in way {
        prop_assert!(is_finite(&waypoint.at) && waypoint.misfit_m.is_finite(), "{waypoint:?}");
        prop_assert!(
            mechanism
                .strains(&waypoint.at)
                .all(|s| s.gap_m.is_finite() && s.force_n.is_finite())
        );
        let worst_m = mechanism.worst_strain(&waypoint.at).map_or(0.0, |s| s.gap_m.abs());
        prop_assert!(
            (worst_m - waypoint.misfit_m).abs() <= settled_m,
            "the misfit is the largest gap, {worst_m}"
        );
    }
    for (waypoint, drive) in way.iter().zip(wanted) {
        prop_assert_eq!(waypoint.at.drive(), *drive, "poses stand at the drives asked for");
    }
    match end {
        None => prop_assert_eq!(way.len(), wanted.len()),
        Some(end) => {
            prop_assert!(way.len() < wanted.len(), "it ended before the last drive");
            prop_assert!(
                end.closure.is_some() || mechanism.links().is_empty(),
                "{end:?} names a part"
            );
            prop_assert!(end.last.z_m.is_finite() && end.last.roll_rad.is_finite(), "{end:?}");
            prop_assert_eq!(end.wanted, wanted[way.len()]);
        }
    }
    Ok(())
}

fn first_order_is_sound(mechanism: &Mechanism, at: &Configuration) -> Result<(), TestCaseError> {
    let freedom = mechanism.freedom(at);
    prop_assert!(freedom_is_finite(&freedom), "{freedom:?}");
    prop_assert!((0.0..=1.0).contains(&freedom.firmness), "{freedom:?}");
    let held = 4 + mechanism.cranks().len() - freedom.free.len();
    prop_assert_eq!(
        held + freedom.redundant,
        mechanism.links().len(),
        "every link holds something or is one too many"
    );
    let twists = mechanism.twists(at);
    prop_assert!(
        twist_is_finite(&twists.ride) && twist_is_finite(&twists.roll),
        "{twists:?}"
    );
    Ok(())
}

/// True where the description was accepted.
fn is_answered(description: Description) -> Result<bool, TestCaseError> {
    let Description { links, cranks, drawn } = description;
    let Ok(mechanism) = Mechanism::new(links, cranks, drawn) else {
        return Ok(false);
    };
    prop_assert!(mechanism.characteristic_length_m() > 0.0);
    first_order_is_sound(&mechanism, &drawn)?;
    if let Ok(solved) = mechanism.assemble(&drawn) {
        prop_assert!(is_finite(&solved.at) && solved.misfit_m.is_finite());
        prop_assert_eq!(solved.at.drive(), drawn.drive(), "the drive is imposed");
        first_order_is_sound(&mechanism, &solved.at)?;
    }
    // Parts of the model's own size, but never so far that steps of 6 mm make the test slow.
    let wanted = drives(&drawn, mechanism.characteristic_length_m().min(3.0));
    let mut way = Vec::new();
    let end = mechanism.walk(&drawn, wanted.iter().copied(), |w| way.push(w));
    way_is_sound(&mechanism, &way, end, &wanted)?;
    Ok(true)
}

#[test]
fn any_description_is_answered() {
    let accepted = Cell::new(0);
    let config = ProptestConfig {
        cases: 6000,
        failure_persistence: None,
        ..ProptestConfig::default()
    };
    let outcome = TestRunner::new(config).run(&description(), |description| {
        accepted.set(accepted.get() + usize::from(is_answered(description)?));
        Ok(())
    });
    outcome.unwrap_or_else(|e| panic!("{e}"));
    assert!(
        accepted.get() > 2000,
        "only {} descriptions were mechanisms",
        accepted.get()
    );
}

fn anchor(body: Body, [x, y, z]: [f64; 3]) -> Anchor {
    Anchor {
        body,
        point: Point3::new(x, y, z),
    }
}

/// Links from ground to platform, cut to suit a platform drawn level at height zero.
fn level(ends: &[([f64; 3], [f64; 3])]) -> Mechanism {
    let at = Configuration::level_at(0.0);
    let link = |(ground, platform): &([f64; 3], [f64; 3])| {
        Link::cut_to_suit(
            anchor(Body::Ground, *ground),
            anchor(Body::Platform, *platform),
            1.0,
            &[],
            &at,
        )
    };
    Mechanism::new(ends.iter().map(link).collect(), Vec::new(), at).expect("a layout is a mechanism")
}

/// Guides so long that the platform only moves in the rear view: over a rise of a metre, 5e-4 m out of it and the square of that sideways.
fn with_guides(bar: ([f64; 3], [f64; 3])) -> Mechanism {
    let (far, spread) = (1000.0, 0.1);
    level(&[
        ([far, spread, -spread], [0.0, spread, -spread]),
        ([far, -spread, -spread], [0.0, -spread, -spread]),
        ([far, 0.0, spread], [0.0, 0.0, spread]),
        bar,
    ])
}

/// Where a travel of the platform to a height ends.
fn end_on_the_way_to(mechanism: &Mechanism, z_m: f64) -> WalkEnd {
    mechanism
        .walk_to(mechanism.drawn(), Drive { z_m, roll_rad: 0.0 })
        .expect_err("the travel ends before that")
}

/// The smallest step is 6 mm halved seven times, 0.05 mm; steps near a fold stray and may cost three more.
const NEAR_THE_END_M: f64 = 2e-4;

/// A panhard bar can be lifted until it stands upright: by its own length from where it lies level.
#[test]
fn a_short_panhard_bar_ends_the_travel_where_it_stands_upright() {
    for length in [0.03, 0.08, 0.25] {
        for sense in [1.0, -1.0] {
            let mechanism = with_guides(([0.0, length / 2.0, 0.0], [0.0, -length / 2.0, 0.0]));
            let end = end_on_the_way_to(&mechanism, sense * 2.0 * length);
            let short = length - sense * end.last.z_m;
            assert!(
                (0.0..=NEAR_THE_END_M).contains(&short),
                "{length}: ends {short} m before the bar stands upright"
            );
            assert_eq!(
                end.closure,
                Some(ClosureId::Link(LinkId(3))),
                "{length}: the bar is named: {end:?}"
            );
            assert_ne!(end.cause, EndCause::DriveOutOfRange);
        }
    }
}

/// Where two circles in the side view meet, the lower of the two points.
fn lower_crossing(a: Vector2<f64>, ra: f64, b: Vector2<f64>, rb: f64) -> Vector2<f64> {
    let d = (b - a).norm();
    let along = (ra * ra - rb * rb + d * d) / (2.0 * d);
    let aside = (ra * ra - along * along).sqrt();
    let u = (b - a) / d;
    let across = Vector2::new(-u.y, u.x);
    let [p, q] = [1.0, -1.0].map(|sense| a + u * along + across * (aside * sense));
    if p.y < q.y { p } else { q }
}

/// In pure ride a triangulated layout is the four-bar of its effective lengths. Its upper bars stretch into one line with the axle's upper
/// and lower joints where the lower joint, on a circle about the lower frame mounts, is as far from the upper frame mounts as both reach.
#[test]
fn a_triangulated_layout_ends_its_travel_where_the_upper_bars_are_stretched_straight() {
    let (lower_m, stands_m) = (0.6, 0.15);
    let upper_mount = Vector2::new(0.3, 0.12);
    let mechanism = level(&[
        ([lower_m, 0.5, 0.0], [0.0, 0.5, 0.0]),
        ([lower_m, -0.5, 0.0], [0.0, -0.5, 0.0]),
        ([upper_mount.x, 0.4, upper_mount.y], [0.0, 0.1, stands_m]),
        ([upper_mount.x, -0.4, upper_mount.y], [0.0, -0.1, stands_m]),
    ]);
    let upper_m = (upper_mount - Vector2::new(0.0, stands_m)).norm();
    let limit = lower_crossing(Vector2::new(lower_m, 0.0), lower_m, upper_mount, upper_m + stands_m);
    let end = end_on_the_way_to(&mechanism, -0.5);
    let short = end.last.z_m - limit.y;
    assert!(
        (0.0..=NEAR_THE_END_M).contains(&short),
        "ends {short} m before {} m",
        limit.y
    );
    assert!(
        [2, 3].map(|i| Some(ClosureId::Link(LinkId(i)))).contains(&end.closure),
        "an upper bar is named: {end:?}"
    );
}

fn located() -> Mechanism {
    with_guides(([0.0, 0.4, 0.0], [0.0, -0.4, 0.0]))
}

#[test]
fn a_drive_that_is_no_number_or_too_steep_is_out_of_range() {
    let mechanism = located();
    let odd = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY];
    let drives = odd.map(|z_m| Drive { z_m, roll_rad: 0.0 }).into_iter();
    let drives = drives.chain(
        odd.into_iter()
            .chain([1.3, -1.3, 1e300])
            .map(|roll_rad| Drive { z_m: 0.0, roll_rad }),
    );
    for drive in drives {
        let good = Drive {
            z_m: 0.01,
            roll_rad: 0.0,
        };
        let mut way = Vec::new();
        let end = mechanism
            .walk(mechanism.drawn(), [good, drive, good], |w| way.push(w))
            .expect("it ends");
        assert_eq!(
            (end.cause, way.len(), end.last),
            (EndCause::DriveOutOfRange, 1, good),
            "{drive:?}"
        );
        let guess = mechanism.drawn().driven(drive);
        assert_eq!(
            mechanism.assemble(&guess).err(),
            Some(Unsolved::DriveOutOfRange),
            "{drive:?}"
        );
    }
}

#[test]
fn a_mistyped_height_ends_in_bounded_work() {
    let mechanism = located();
    for z_m in [1e3, -1e9, 1e200, f64::MAX] {
        let end = end_on_the_way_to(&mechanism, z_m);
        assert!(end.last.z_m.abs() < 1.0, "{end:?}");
    }
}

/// Guesses come from poses that were solved; one that is no number must not come back as an answer.
#[test]
fn a_guess_that_is_no_number_gives_no_pose() {
    let mechanism = located();
    let spoilt = [
        Configuration {
            yaw_rad: f64::NAN,
            ..*mechanism.drawn()
        },
        Configuration {
            pitch_rad: f64::INFINITY,
            ..*mechanism.drawn()
        },
        Configuration {
            origin_in_ground: Point3::new(f64::NAN, 0.0, 0.0),
            ..*mechanism.drawn()
        },
    ];
    for guess in spoilt {
        assert!(mechanism.assemble(&guess).is_err(), "{guess:?}");
        let mut visited = 0;
        let end = mechanism.walk(
            &guess,
            [Drive {
                z_m: 0.01,
                roll_rad: 0.0,
            }],
            |_| visited += 1,
        );
        assert!(end.is_some() && visited == 0, "{guess:?}: {end:?}");
        assert!(freedom_is_finite(&mechanism.freedom(&guess)), "{guess:?}");
    }
}
