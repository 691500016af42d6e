//! A hundred thousand mechanisms that nobody would build: points on one spot, bars in one line, toggles, joints on top of each other, sizes
//! from a grain of sand to a county, lengths that do not fit. Each is answered, in bounded work, without a number that is none.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use std::cell::Cell;

use linkage::{
    Anchor, Body, ClosureId, Configuration, Crank, CrankId, Drive, Joint, Link, Mechanism, Twist, Unsolved, tolerance,
};
use nalgebra::{Matrix3, Point3, Rotation3, Vector3};
use proptest::prelude::*;
use proptest::test_runner::{FileFailurePersistence, TestRunner};

const CASES: u32 = 100_000;

/// Where a case that failed once is kept, to be tried first ever after.
const KEPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/proptest-regressions/anything.txt");

/// Points for everything to hang on. Few of them, so that many things hang on one; squeezed onto a plane, a line or a spot at times.
fn points() -> impl Strategy<Value = Vec<Point3<f64>>> {
    let coordinate = || prop_oneof![-1.0..1.0, prop::sample::select(vec![-0.5, 0.0, 0.5])];
    let point = [coordinate(), coordinate(), coordinate()];
    let squeeze = prop::sample::select(vec![
        [1.0, 1.0, 1.0],
        [1.0, 1.0, 1.0],
        [1.0, 1.0, 0.0],
        [1.0, 0.0, 1.0],
        [0.0, 1.0, 0.0],
        [1.0, 1.0, 1e-9],
        [1.0, 1e-7, 1e-7],
    ]);
    (prop::collection::vec(point, 3..12), squeeze).prop_map(|(points, by)| {
        let squeezed = points
            .into_iter()
            .map(|p| Point3::new(p[0] * by[0], p[1] * by[1], p[2] * by[2]));
        squeezed.collect()
    })
}

/// A link by its bodies, its points in the list, and how much longer than drawn it is.
type Bar = ((usize, usize), (usize, usize), f64, f64);

/// A joint by its points, the turn of its directions, and its stiffnesses as powers of ten.
type Eye = ((usize, usize), [f64; 3], [f64; 3]);

/// What a mechanism is made of, by numbers into lists, so that whatever is taken away leaves another.
#[derive(Clone, Debug)]
struct Parts {
    size: f64,
    points: Vec<Point3<f64>>,
    bars: Vec<Bar>,
    eyes: Vec<Eye>,
    /// On the ground or not, pivot, axis.
    cranks: Vec<(bool, usize, usize)>,
    drawn: ([f64; 3], [f64; 5]),
    /// Of the whole length, by link, from the drawing to what is fitted.
    refit: Vec<Option<f64>>,
}

fn parts() -> impl Strategy<Value = Parts> {
    let bar = (
        (0..4usize, 1..4usize),
        (0..12usize, 0..12usize),
        prop_oneof![3 => Just(0.0), 1 => -0.5..0.5],
        -3.0..9.0,
    );
    let eye = (
        (0..12usize, 0..12usize),
        [-3.0..3.0, -3.0..3.0, -3.0..3.0],
        [2.0..8.0, 2.0..8.0, 2.0..8.0],
    );
    let sizes = prop::sample::select(vec![1e-4, 1e-2, 1.0, 1.0, 1.0, 1.0, 30.0, 1e5]);
    let refit = prop::option::weighted(0.4, prop_oneof![4 => -0.02..0.02, 1 => -1.5..1.5]);
    let few = prop_oneof![2 => Just(0..1usize), 1 => Just(1..3usize)];
    (
        sizes,
        points(),
        prop::collection::vec(bar, 1..9),
        few.prop_flat_map(move |n| prop::collection::vec(eye.clone(), n)),
        prop::collection::vec((any::<bool>(), 0..12usize, 0..12usize), 0..3),
        (
            [-1.0..1.0, -1.0..1.0, -1.0..1.0],
            [-0.6..0.6, -0.6..0.6, -3.0..3.0, -3.0..3.0, -3.0..3.0],
        ),
        prop::collection::vec(refit, 0..9),
        any::<bool>(),
    )
        .prop_map(|(size, points, bars, eyes, cranks, drawn, refit, level)| Parts {
            size,
            points,
            bars,
            eyes,
            cranks,
            // Half of them as trucks are drawn: every angle nothing.
            drawn: if level { (drawn.0, [0.0; 5]) } else { drawn },
            refit,
        })
}

impl Parts {
    fn point(&self, i: usize) -> Point3<f64> {
        self.points[i % self.points.len()] * self.size
    }

    fn at(&self) -> Configuration {
        let ([x, y, z], [yaw, roll, pitch, a, b]) = self.drawn;
        Configuration {
            origin_in_ground: Point3::new(x, y, z) * self.size,
            yaw_rad: yaw,
            roll_rad: roll,
            pitch_rad: pitch,
            crank_rad: [a, b],
        }
    }

    /// Bodies by number: ground, platform, then cranks as far as there are any.
    fn body(&self, i: usize) -> Body {
        match i % (2 + self.cranks.len()) {
            0 => Body::Ground,
            1 => Body::Platform,
            crank => Body::Crank(CrankId(crank - 2)),
        }
    }

    fn cranks(&self) -> Vec<Crank> {
        let crank = |&(on_ground, pivot, axis): &(bool, usize, usize)| {
            let axis = self.points[axis % self.points.len()].coords;
            if on_ground {
                Crank::on_ground(self.point(pivot), axis)
            } else {
                Crank::on_platform(self.point(pivot), axis)
            }
        };
        self.cranks.iter().map(crank).collect()
    }

    fn link(&self, &((from, on), (a, b), longer, stiffness): &Bar, cranks: &[Crank], at: &Configuration) -> Link {
        let anchor = |body, point| Anchor {
            body,
            point: self.point(point),
        };
        let (from, to) = (anchor(self.body(from), a), anchor(self.body(from + on), b));
        let suited = Link::cut_to_suit(from, to, 10f64.powf(stiffness), cranks, at);
        Link {
            length_m: suited.length_m * (1.0 + longer),
            ..suited
        }
    }

    fn eye(&self, ((a, b), turn, stiffness): &Eye) -> Joint {
        Joint {
            on_ground: self.point(*a),
            on_platform: self.point(*b),
            directions: Matrix3::from(*Rotation3::from_scaled_axis(Vector3::from(*turn)).matrix()),
            stiffness_n_per_m: Vector3::from(*stiffness).map(|power| 10f64.powf(power)),
        }
    }

    /// Only what is accepted; links between points on one spot are not.
    fn compiled(&self) -> Option<Mechanism> {
        let (cranks, at) = (self.cranks(), self.at());
        let links = self.bars.iter().map(|bar| self.link(bar, &cranks, &at));
        // Whatever is refused is refused alone: what is left is still a mechanism.
        let links: Vec<_> = links
            .filter(|l| l.length_m >= 1e-6 && l.from.body != l.to.body)
            .collect();
        let joints = self.eyes.iter().map(|eye| self.eye(eye)).collect();
        Mechanism::with_joints(links, joints, cranks, at).ok()
    }
}

fn is_finite(at: &Configuration) -> bool {
    let angles = [at.yaw_rad, at.roll_rad, at.pitch_rad];
    let all = at.origin_in_ground.iter().chain(&angles).chain(&at.crank_rad);
    all.into_iter().all(|v| v.is_finite())
}

fn twist_is_finite(twist: &Twist) -> bool {
    let all = twist.linear.iter().chain(twist.angular.iter()).chain(&twist.cranks);
    all.into_iter().all(|v| v.is_finite())
}

/// Whatever is said at a pose is a number, and the counts add up.
fn pose_is_sound(mechanism: &Mechanism, at: &Configuration) -> Result<(), TestCaseError> {
    prop_assert!(is_finite(at), "{at:?}");
    for strain in mechanism.strains(at) {
        prop_assert!(strain.gap_m.is_finite() && strain.force_n.is_finite(), "{strain:?}");
    }
    let twists = mechanism.twists(at);
    prop_assert!(
        twist_is_finite(&twists.ride) && twist_is_finite(&twists.roll),
        "{twists:?}"
    );
    prop_assert!((twists.ride.linear.z - 1.0).abs() < 1e-9, "riding rises: {twists:?}");
    prop_assert!(twists.roll.linear.z.abs() < 1e-9, "rolling does not: {twists:?}");
    let freedom = mechanism.freedom(at);
    prop_assert!((0.0..=1.0).contains(&freedom.firmness), "{freedom:?}");
    prop_assert!(freedom.free.iter().all(|m| twist_is_finite(&m.velocity)), "{freedom:?}");
    let equations = mechanism.links().len() + 3 * mechanism.joints().len();
    let held = 4 + mechanism.cranks().len() - freedom.free.len();
    prop_assert_eq!(held + freedom.redundant, equations);
    Ok(())
}

/// A few steps up and aside, and back.
fn way_is_sound(mechanism: &Mechanism, from: &Configuration) -> Result<bool, TestCaseError> {
    let Drive { z_m, roll_rad } = from.drive();
    let step = mechanism.characteristic_length_m().min(1.0) * 0.02;
    let wanted = [(step, 0.0), (step, 0.008), (-0.5 * step, 0.0)].map(|(rise, roll)| Drive {
        z_m: z_m + rise,
        roll_rad: roll_rad + roll,
    });
    let mut way = Vec::new();
    let end = mechanism.walk(from, wanted, |w| way.push(w));
    for (waypoint, drive) in way.iter().zip(wanted) {
        prop_assert!(is_finite(&waypoint.at) && waypoint.misfit_m.is_finite(), "{waypoint:?}");
        prop_assert_eq!(waypoint.at.drive(), drive);
        if mechanism.is_exact() {
            let worst = mechanism.worst_strain(&waypoint.at).map_or(0.0, |s| s.gap_m.abs());
            // Closed to 1e-12 of its size, or as far as the rounding of the largest coordinates lets it.
            let reach = mechanism
                .links()
                .iter()
                .map(|l| l.length_m)
                .fold(mechanism.characteristic_length_m(), f64::max);
            prop_assert!(worst <= 1e-11 * reach, "an exact layout closes: {worst} of {reach}");
        }
    }
    prop_assert_eq!(end.is_none(), way.len() == wanted.len());
    if let Some(end) = end {
        let has_parts = !(mechanism.links().is_empty() && mechanism.joints().is_empty());
        prop_assert_eq!(end.closure.is_some(), has_parts, "a part is named: {:?}", end);
        prop_assert!(end.last.z_m.is_finite() && end.last.roll_rad.is_finite());
    }
    Ok(end.is_none())
}

/// Lengths that may or may not fit. What is refused names a part that exists; what fits has the lengths asked for.
fn fit_is_sound(mechanism: &mut Mechanism, refit: &[Option<f64>]) -> Result<bool, TestCaseError> {
    let lengths: Vec<_> = mechanism.links().iter().map(|l| l.length_m).collect();
    let given: Vec<_> = refit
        .iter()
        .zip(&lengths)
        .map(|(by, l)| by.map(|by| l * (1.0 + by)))
        .collect();
    let drawn = mechanism.drawn().drive();
    let fitted = mechanism.fit(&given);
    let Ok(fitted) = fitted else { return Ok(false) };
    prop_assert!(fitted.misfit_m.is_finite());
    prop_assert_eq!(fitted.at.drive(), drawn, "height and roll are imposed");
    for (i, link) in mechanism.links().iter().enumerate() {
        let asked = given.get(i).copied().flatten().unwrap_or(lengths[i]);
        prop_assert_eq!(link.length_m, asked);
        let most = tolerance::MISFIT * link.length_m * (1.0 + 1e-9);
        let strain = mechanism.strains(&fitted.at).nth(i).expect("a link is strained");
        prop_assert_eq!(strain.closure, ClosureId::Link(linkage::LinkId(i)));
        prop_assert!(
            strain.gap_m.abs() <= most,
            "no link gives more than steel can: {strain:?}"
        );
    }
    pose_is_sound(mechanism, &fitted.at)?;
    way_is_sound(mechanism, &fitted.at)?;
    Ok(true)
}

#[derive(Default)]
struct Counts {
    accepted: Cell<u32>,
    exact: Cell<u32>,
    solved: Cell<u32>,
    fitted: Cell<u32>,
    unfitted: Cell<u32>,
    went: Cell<u32>,
    with_joints: Cell<u32>,
}

fn count(cell: &Cell<u32>, counts: bool) {
    cell.set(cell.get() + u32::from(counts));
}

fn is_answered(parts: &Parts, counts: &Counts) -> Result<(), TestCaseError> {
    let Some(mut mechanism) = parts.compiled() else {
        return Ok(());
    };
    count(&counts.accepted, true);
    count(&counts.exact, mechanism.is_exact());
    count(&counts.with_joints, !mechanism.joints().is_empty());
    let drawn = *mechanism.drawn();
    pose_is_sound(&mechanism, &drawn)?;
    match mechanism.assemble(&drawn) {
        Ok(solved) => {
            count(&counts.solved, true);
            prop_assert_eq!(solved.at.drive(), drawn.drive());
            pose_is_sound(&mechanism, &solved.at)?;
            count(&counts.went, way_is_sound(&mechanism, &solved.at)?);
        }
        Err(unsolved) => prop_assert_eq!(unsolved, Unsolved::NoConvergence),
    }
    let fits = fit_is_sound(&mut mechanism, &parts.refit)?;
    count(if fits { &counts.fitted } else { &counts.unfitted }, true);
    // Whatever became of the fit, the mechanism answers on.
    let end = mechanism.assemble(&drawn);
    prop_assert!(end.is_err() || end.is_ok_and(|s| is_finite(&s.at)));
    Ok(())
}

#[test]
fn a_hundred_thousand_mechanisms_are_answered() {
    let counts = Counts::default();
    let config = ProptestConfig {
        // Some are refused: a crank whose axis has no direction.
        cases: CASES + CASES / 4,
        failure_persistence: Some(Box::new(FileFailurePersistence::Direct(KEPT))),
        ..ProptestConfig::default()
    };
    let outcome = TestRunner::new(config).run(&parts(), |parts| is_answered(&parts, &counts));
    outcome.unwrap_or_else(|e| panic!("{e}"));
    let said = [
        ("accepted", &counts.accepted, CASES),
        ("exact", &counts.exact, CASES / 100),
        ("with joints", &counts.with_joints, CASES / 10),
        ("assembled", &counts.solved, CASES / 4),
        ("walked to the end", &counts.went, CASES / 20),
        ("fitted", &counts.fitted, CASES / 10),
        ("not to be fitted", &counts.unfitted, CASES / 100),
    ];
    for (what, found, least) in said {
        assert!(found.get() >= least, "only {} were {what}", found.get());
    }
}
