//! Clearances of whole trucks: against closed forms, by symmetry, and where it is known what is in the way.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

use std::sync::atomic::AtomicBool;

use nalgebra::{Point3, Vector3};
use rearend::answers::{Answers, Solved};
use rearend::clearance::{BESIDE_BRACKET_M, Fault, Hand, Near, Solid, Survey, notch_for};
use rearend::findings::{self, Grade, Kind};
use rearend::layouts::Layout;
use rearend::mechanism::Part;
use rearend::setup::{BarEnd, BarId, KeepClear, KeepClearShape, Mount, Notch, Setup, Side};
use rearend::tape::Units;
use support::{PANHARD, demo};

const PANHARD_PART: Part = Part::Bar(BarId(PANHARD), Side::Drawn);

fn solved(setup: &Setup) -> Solved {
    Answers::of(setup).solved.expect("it compiles")
}

fn surveyed(setup: &Setup) -> Vec<Near> {
    let mut survey = Survey::new(setup, &solved(setup));
    assert!(survey.run(&AtomicBool::new(false)));
    survey.result()
}

fn between(nears: &[Near], a: Solid, b: Solid) -> Near {
    let is = |n: &&Near| (n.a, n.b) == (a, b) || (n.a, n.b) == (b, a);
    *nears.iter().find(is).expect("the pair is surveyed")
}

fn tube(name: &str, along: &[[f64; 3]], tube_m: f64) -> KeepClear {
    KeepClear {
        name: name.to_owned(),
        shape: KeepClearShape::Tube {
            along: along.iter().map(|p| Point3::from(*p)).collect(),
            tube_m,
        },
    }
}

/// Straight rails, and an axle that stays level: no wheel goes up by itself.
fn flat(mut setup: Setup) -> Setup {
    setup.rails.kick_up = None;
    setup.rails.notch = None;
    setup.travel.one_wheel_up_rad = 0.0;
    setup
}

#[test]
fn a_level_tube_under_straight_rails_is_as_near_as_its_height_says() {
    let mut high = flat(demo(0));
    high.travel.laid_out_m = 0.4;
    high.travel.ride_m = 0.45;
    high.travel.full_lift_m = 0.5;
    high.bars.iter_mut().for_each(|bar| bar.mount_in_frame.z -= 0.3);
    let expected = -high.axle_z_m(0.4) - high.axle.tube_m / 2.0;
    let near = between(&surveyed(&high), Solid::AxleTube, Solid::Rail(Hand::Left));
    assert!((near.gap_m - expected).abs() < 1e-6, "{near:?} {expected}");
    assert!((near.height_m - 0.4).abs() < 1e-9);
}

#[test]
fn a_symmetric_truck_is_as_tight_left_as_right() {
    let setup = demo(2);
    let nears = surveyed(&setup);
    let mirrored = |p: Point3<f64>| Point3::new(p.x, -p.y, p.z);
    for a in [Solid::AxleTube, Solid::Tyre(Hand::Left)] {
        let left = between(&nears, a, Solid::Rail(Hand::Left));
        let twin = if a == Solid::AxleTube {
            a
        } else {
            Solid::Tyre(Hand::Right)
        };
        let right = between(&nears, twin, Solid::Rail(Hand::Right));
        assert!((left.gap_m - right.gap_m).abs() < 1e-6, "{left:?} {right:?}");
        assert!((left.height_m - right.height_m).abs() < 1e-9);
        assert!((left.roll_rad + right.roll_rad).abs() < 1e-9);
        if a == Solid::AxleTube {
            assert!((mirrored(left.points[0]) - right.points[0]).norm() < 0.02);
        }
    }
}

#[test]
fn a_tube_through_the_panhard_bar_is_found_where_it_is() {
    let mut setup = demo(0);
    let plain = solved(&setup);
    let ride = plain.rear_end.ride;
    let [from, to] = plain
        .rear_end
        .ends_in_frame(&setup, PANHARD_PART, &ride)
        .expect("it is there");
    let middle = from + (to - from) * 0.4;
    // Square to the bar, through its middle, at ride height.
    let square = (to - from).cross(&Vector3::z()).normalize() * 0.1;
    let ends = [middle - square, middle + square].map(|p| [p.x, p.y, p.z]);
    setup.keep_clear = vec![tube("exhaust", &ends, 0.05)];
    let near = between(&surveyed(&setup), Solid::Part(PANHARD_PART), Solid::KeepClear(0));
    // Axes that cross: both radii.
    let radii = setup.bars[PANHARD].tube_m / 2.0 + 0.025;
    assert!(near.gap_m < 0.0 && near.gap_m > -radii - 1e-9, "{near:?}");
    assert!((near.points[1] - middle).norm() < 0.09, "{near:?}");
    let answers = Answers::of(&setup);
    let is_it = |k: &Kind| matches!(k, Kind::Clearance(Fault::Touches(n)) if n.a == Solid::Part(PANHARD_PART));
    let found = answers
        .findings
        .iter()
        .find(|f| is_it(&f.kind))
        .expect("a few poses see it");
    assert_eq!((found.grade, found.part), (Grade::WontWork, Some(PANHARD_PART)));
    let sentence = found.sentence(&setup, Units::Millimetres);
    assert!(
        sentence.starts_with("The panhard bar runs into the exhaust"),
        "{sentence}"
    );
}

/// Distance of two bars' axes, sampled: no smaller than the least there is.
fn sampled_m(a: [Point3<f64>; 2], b: [Point3<f64>; 2]) -> f64 {
    let at = |[from, to]: [Point3<f64>; 2], i: u32| from + (to - from) * (f64::from(i) / 200.0);
    let pairs = (0..=200).flat_map(|i| (0..=200).map(move |j| (i, j)));
    pairs
        .map(|(i, j)| (at(a, i) - at(b, j)).norm())
        .fold(f64::INFINITY, f64::min)
}

#[test]
fn a_diagonal_bar_leaves_a_pipe_behind_the_axle_more_room_than_one_straight_across() {
    // Over the axle and down behind it, where a bar straight across runs.
    let run = [[-0.1, 0.2, 0.42], [-0.3, 0.2, 0.22], [-0.9, 0.2, 0.2]];
    let room = |layout: Layout| {
        let mut setup = layout.hang(&demo(0));
        setup.keep_clear = vec![tube("exhaust", &run, 0.0635)];
        let bar = Part::Bar(BarId(2), Side::Drawn);
        let near = between(&surveyed(&setup), Solid::Part(bar), Solid::KeepClear(0));
        let solved = solved(&setup);
        let ends = solved
            .level
            .rows
            .iter()
            .filter_map(|row| solved.rear_end.ends_in_frame(&setup, bar, &row.at));
        let pieces = run.windows(2).map(|w| [Point3::from(w[0]), Point3::from(w[1])]);
        let pairs = ends.flat_map(|e| pieces.clone().map(move |p| (e, p)));
        let axes = pairs.map(|(a, b)| sampled_m(a, b)).fold(f64::INFINITY, f64::min);
        (near.gap_m, axes - 0.0635 / 2.0 - setup.bars[2].tube_m / 2.0)
    };
    let (across, across_sampled) = room(Layout::ParallelPanhard);
    let (diagonal, diagonal_sampled) = room(Layout::ParallelDiagonal);
    assert!(across <= across_sampled + 1e-9 && diagonal <= diagonal_sampled + 1e-9);
    assert!(diagonal > across + 0.05, "{diagonal} {across}");
    assert!(diagonal_sampled > across_sampled + 0.05);
}

#[test]
fn the_notch_that_is_needed_is_enough_and_no_deeper_than_it_must_be() {
    for which in 0..3 {
        let setup = demo(which);
        let solved = solved(&setup);
        let wanted = 0.0127;
        let needed = notch_for(&setup, &solved, wanted).expect("it lies low");
        let gap = |depth_m, half_length_m| {
            let mut cut = setup.clone();
            cut.rails.notch = Some(Notch { depth_m, half_length_m });
            let nears = surveyed(&cut);
            let of = |hand| between(&nears, Solid::AxleTube, Solid::Rail(hand)).gap_m;
            of(Hand::Left).min(of(Hand::Right))
        };
        assert!(gap(needed.depth_m, needed.half_length_m) >= wanted);
        assert!(gap(needed.depth_m, needed.half_length_m - 0.01) < wanted, "{needed:?}");
        assert!(needed.left_m > 0.0 && (needed.left_m + needed.depth_m - setup.rails.height_m).abs() < 1e-12);
    }
}

#[test]
fn rails_well_above_the_axle_need_no_notch() {
    let mut setup = demo(0);
    setup.rails.kick_up.as_mut().expect("there is one").rise_m = 0.6;
    assert_eq!(notch_for(&setup, &solved(&setup), 0.0127), None);
}

#[test]
fn a_finished_survey_takes_the_place_of_a_few_poses() {
    let mut setup = demo(0);
    setup.rails.notch = None;
    let answers = Answers::of(&setup);
    let is_clearance = |k: &Kind| matches!(k, Kind::Clearance(_));
    let solved = answers.solved.as_ref().expect("it compiles");
    let mut survey = Survey::new(&setup, solved);
    survey.step(3);
    assert_eq!(findings::with_survey(&setup, &answers, &survey), answers.findings);
    assert!(!survey.run(&AtomicBool::new(true)), "called off");
    assert!(survey.run(&AtomicBool::new(false)));
    let all = findings::with_survey(&setup, &answers, &survey);
    let about: Vec<_> = all.iter().filter(|f| is_clearance(&f.kind)).collect();
    let rails = about.iter().filter(|f| {
        matches!(&f.kind, Kind::Clearance(Fault::Touches(n) | Fault::Tight(n) | Fault::Notch(n, _)) if n.a == Solid::AxleTube && matches!(n.b, Solid::Rail(_)))
    });
    assert_eq!(rails.count(), 1, "once for both sides: {about:?}");
    assert_eq!(
        all.iter().filter(|f| !is_clearance(&f.kind)).count(),
        answers.findings.iter().filter(|f| !is_clearance(&f.kind)).count()
    );
    assert!(all.is_sorted_by_key(|f| f.grade));
}

#[test]
fn a_tube_through_a_mount_and_one_as_thick_as_the_truck_do_no_harm() {
    let mut setup = demo(0);
    let mount = setup.bars[0].mount_in_frame;
    setup.keep_clear = vec![
        tube(
            "line",
            &[[mount.x, mount.y, mount.z], [mount.x, mount.y, mount.z + 0.3]],
            0.006,
        ),
        tube("drum", &[[0.0, 0.0, 0.0], [0.3, 0.0, 0.0]], 1.5),
    ];
    let nears = surveyed(&setup);
    assert!(nears.iter().all(|n| n.gap_m.is_finite()));
    let lower = Solid::Part(Part::Bar(BarId(0), Side::Drawn));
    assert!(between(&nears, lower, Solid::KeepClear(0)).gap_m < 0.0);
    assert!(between(&nears, Solid::AxleTube, Solid::KeepClear(1)).gap_m < -0.5);
    for finding in Answers::of(&setup).findings {
        assert!(finding.sentence(&setup, Units::Sixteenths).ends_with('.'));
    }
    // What has no size is refused before it comes here.
    setup.keep_clear = vec![tube("nothing", &[[0.0; 3], [0.0; 3]], 0.05)];
    assert!(setup.validate().is_err());
}

#[test]
fn the_notch_of_the_remedy_takes_the_finding_away_and_leaves_the_room_wanted() {
    let mut setup = demo(1);
    setup.rails.notch = None;
    let answers = Answers::of(&setup);
    let solved = answers.solved.as_ref().expect("it is solved");
    let notched = |setup: &Setup, answers: &Answers| {
        let mut survey = Survey::new(setup, answers.solved.as_ref().expect("it is solved"));
        survey.run(&AtomicBool::new(false));
        let all = findings::with_survey(setup, answers, &survey);
        all.into_iter()
            .find(|f| matches!(f.kind, Kind::Clearance(Fault::Notch(..))))
    };
    let finding = notched(&setup, &answers).expect("without its notch the rail is in the way");
    assert!(finding.grade < Grade::Fine);
    let remedy = *finding.remedies.first().expect("it can be cut");
    let cut = remedy.apply(&setup, solved).expect("it can be cut");
    assert_eq!(notched(&cut, &Answers::of(&cut)), None);
    let tube = |nears: Vec<Near>| {
        let rail = |n: &&Near| matches!((n.a, n.b), (Solid::AxleTube, Solid::Rail(_)));
        nears.iter().find(rail).expect("tube and rail are a pair").gap_m
    };
    assert!(tube(surveyed(&cut)) >= setup.limits.clearance_m - 1e-9);
}

/// The panhard bar's bracket on the axle, its bolt front to back, ends a plate's edge above its bolt; a floor one millimetre above where that
/// is with the truck laid out is one millimetre away.
#[test]
fn a_bracket_is_as_near_to_what_is_above_it_as_its_edge_says() {
    let mut setup = flat(demo(0));
    setup.axle.pinion_angle_rad = 0.0;
    let mount = setup.bars[PANHARD].mount_in_axle;
    let top_m = setup.axle_z_m(setup.travel.laid_out_m) + mount.z + setup.steel.edge_m();
    let floor = |gap_m: f64| KeepClear {
        name: "floor".to_owned(),
        shape: KeepClearShape::Box {
            from: Point3::new(mount.x - 0.2, mount.y - 0.03, top_m + gap_m),
            to: Point3::new(mount.x + 0.2, mount.y + 0.03, top_m + 0.2),
        },
    };
    let bracket = Solid::Bracket(Mount::Bar {
        bar: BarId(PANHARD),
        end: BarEnd::Axle,
        side: Side::Drawn,
    });
    for gap_m in [0.001, -0.004] {
        setup.keep_clear = vec![floor(gap_m)];
        let near = between(&surveyed(&setup), bracket, Solid::KeepClear(0));
        // The round end stands as chords within a tenth of a millimetre, and a parallel four-link keeps the axle level to less.
        assert!((near.gap_m - gap_m).abs() < 2e-4, "{} {gap_m}", near.gap_m);
        assert_eq!(near.height_m, setup.travel.laid_out_m);
    }
    let rough = Answers::of(&setup).findings;
    let answers = Answers::of(&setup);
    let mut survey = Survey::new(&setup, answers.solved.as_ref().expect("it is solved"));
    survey.run(&AtomicBool::new(false));
    let told = |all: &[findings::Finding]| {
        all.iter().any(|f| {
            f.sentence(&setup, Units::Millimetres)
                .starts_with("The bracket of the panhard bar on the axle runs into the floor, by 4.0 mm, laid out.")
        })
    };
    assert!(told(&findings::with_survey(&setup, &answers, &survey)));
    assert!(!told(&rough), "a few poses do without brackets");
    // With room enough nothing is said of it.
    setup.keep_clear = vec![floor(BESIDE_BRACKET_M + 5e-4)];
    let nears = surveyed(&setup);
    assert!(
        !nears
            .iter()
            .any(|n| [n.a, n.b].contains(&Solid::KeepClear(0)) && n.a == bracket)
    );
}

/// What a crank turns in is open where its links swing.
#[test]
fn the_links_of_a_crank_swing_past_what_it_turns_in() {
    let pivot = Solid::Bracket(Mount::WattPivot);
    let meets = |setup: &Setup| {
        let is_link = |s: Solid| matches!(s, Solid::Part(Part::WattLeft | Part::WattRight));
        let nears = surveyed(setup);
        nears.iter().any(|n| is_link(n.a) && n.b == pivot)
    };
    let mut watts = 0;
    for truck in 0..3 {
        for layout in Layout::ALL {
            let setup = layout.hang(&demo(truck));
            if setup.watt.is_some() {
                watts += 1;
                assert!(!meets(&setup), "{layout:?} on {truck}");
            }
        }
    }
    assert!(watts >= 12, "{watts}");
    let mut aslant = demo(1);
    assert!(!meets(&aslant));
    let watt = aslant.watt.as_mut().expect("it has one");
    watt.left.x += 0.25;
    assert!(
        meets(&aslant),
        "a link that leaves the crank's plane meets the near plate"
    );
}

/// What a bar ends in is no obstacle to it, and what is welded to the axle is none to the axle.
#[test]
fn nothing_is_told_of_what_is_bolted_together() {
    for truck in 0..3 {
        for near in surveyed(&demo(truck)) {
            let solids = [near.a, near.b];
            assert!(!solids.iter().any(|s| s.is_bracket()), "{solids:?}");
        }
    }
}
