//! What a sentence tells to do helps.

use std::sync::atomic::AtomicBool;

use nalgebra::{Point3, Vector3};
use rearend::answers::Answers;
use rearend::clearance::{Fault as Clearance, Hand, Solid, Survey};
use rearend::findings::{Finding, Grade, Kind, with_survey};
use rearend::setup::{Coilover, KeepClear, KeepClearShape, Setup, SpringKind};
use rearend::springs::{End, Fault};
use rearend::tape::Units;

use crate::support::{PANHARD, demo};

const MM: Units = Units::Millimetres;

fn coilover(setup: &mut Setup) -> &mut Coilover {
    match &mut setup.springs.as_mut().expect("springs").kind {
        SpringKind::Coilover(coilover) => coilover,
        SpringKind::Air(_) => panic!("it stands on coilovers"),
    }
}

fn runs_out(setup: &Setup) -> Vec<Finding> {
    let is_it = |f: &Finding| matches!(f.kind, Kind::Spring(Fault::RunsOut { .. }));
    Answers::of(setup).findings.into_iter().filter(is_it).collect()
}

/// Shortest and longest that the left and the right spring are in the level travel.
fn lengths_m(setup: &Setup) -> [f64; 2] {
    let answers = Answers::of(setup);
    let poses = answers.level_rows().iter().filter_map(|row| row.spring);
    let lengths: Vec<_> = poses.flat_map(|pose| pose.sides().map(|s| s.length_m)).collect();
    let ends = lengths
        .iter()
        .fold((f64::MAX, 0.0_f64), |(a, b), l| (a.min(*l), b.max(*l)));
    [ends.0, ends.1]
}

/// The length between two pieces of a sentence.
fn told_m(sentence: &str, before: &str, after: &str) -> f64 {
    let rest = sentence.split_once(before).map(|(_, rest)| rest);
    let told = rest.and_then(|rest| rest.split_once(after)).map(|(told, _)| told);
    MM.read(told.expect(sentence)).expect(sentence)
}

/// A coilover with room at one end and too little at the other.
fn short_at(end: End, by_m: f64) -> Setup {
    let mut setup = demo(0);
    setup.travel.one_wheel_up_rad = 0.0;
    let [shortest_m, longest_m] = lengths_m(&setup);
    let c = coilover(&mut setup);
    (c.collapsed_m, c.extended_m) = match end {
        End::Collapsed => (shortest_m + by_m, longest_m + 0.05),
        End::Extended => (shortest_m - 0.05, longest_m - by_m),
    };
    setup
}

#[test]
fn a_coilover_that_runs_out_is_mended_by_moving_its_mount_as_told_or_by_the_longer_one_told() {
    for (end, way, sense, longer) in [
        (End::Collapsed, "up", 1.0, "closes up shorter"),
        (End::Extended, "down", -1.0, "pulls out longer"),
    ] {
        let setup = short_at(end, 0.0123);
        let found = runs_out(&setup);
        assert_eq!((found.len(), found[0].grade), (1, Grade::WontWork), "{end:?}");
        let sentence = found[0].sentence(&setup, MM);
        let mut moved = setup.clone();
        let by_m = told_m(&sentence, &format!("Move its upper mount {way} by "), ",");
        moved.springs.as_mut().expect("springs").mount_in_frame.z += sense * by_m;
        assert_eq!(runs_out(&moved), [], "{sentence}");
        let mut other = setup.clone();
        let by_m = told_m(&sentence, &format!("{longer} by "), ".");
        let c = coilover(&mut other);
        match end {
            End::Collapsed => c.collapsed_m -= by_m,
            End::Extended => c.extended_m += by_m,
        }
        assert_eq!(runs_out(&other), [], "{sentence}");
    }
}

/// Out at both ends by so much: no mount helps, only a stroke that is longer by both.
#[test]
fn a_stroke_that_is_too_short_says_so() {
    let mut setup = short_at(End::Collapsed, 0.010);
    let [_, longest_m] = lengths_m(&setup);
    coilover(&mut setup).extended_m = longest_m - 0.020;
    let found = runs_out(&setup);
    assert_eq!(found.len(), 2);
    for finding in found {
        let sentence = finding.sentence(&setup, MM);
        assert!(sentence.contains("its stroke is 30.0 mm too little"), "{sentence}");
    }
}

fn surveyed(setup: &Setup) -> Vec<Finding> {
    let answers = Answers::of(setup);
    let mut survey = Survey::new(setup, answers.solved.as_ref().expect("it compiles"));
    assert!(survey.run(&AtomicBool::new(false)));
    with_survey(setup, &answers, &survey)
}

fn exhaust(ends: [Point3<f64>; 2]) -> KeepClear {
    KeepClear {
        name: "exhaust".to_owned(),
        shape: KeepClearShape::Tube {
            along: ends.to_vec(),
            tube_m: 0.06,
        },
    }
}

/// What is found about two solids, too near to each other.
fn too_near(setup: &Setup, a: Solid, b: Solid) -> Option<Finding> {
    let is_it = |f: &Finding| match &f.kind {
        Kind::Clearance(fault) => fault.near().a.either_side() == a.either_side() && fault.near().b == b,
        _ => false,
    };
    surveyed(setup).into_iter().find(|f| is_it(f) && f.grade != Grade::Fine)
}

fn direction(word: &str) -> Vector3<f64> {
    match word {
        "forward" => Vector3::x(),
        "back" => -Vector3::x(),
        "to the left" => Vector3::y(),
        "to the right" => -Vector3::y(),
        "higher" => Vector3::z(),
        "lower" => -Vector3::z(),
        other => panic!("\"{other}\" is no direction"),
    }
}

/// How far, and which way.
fn told_way(sentence: &str, before: &str, after: &str) -> Vector3<f64> {
    let rest = sentence.split_once(before).map(|(_, rest)| rest);
    let told = rest.and_then(|rest| rest.split_once(after)).map(|(told, _)| told);
    let (size, way) = told.and_then(|told| told.split_once(" mm ")).expect(sentence);
    direction(way) * MM.read(&format!("{size} mm")).expect(sentence)
}

/// An exhaust that runs along the truck beside the left spring, into it or too near.
#[test]
fn an_exhaust_at_a_spring_is_moved_as_told() {
    for into_m in [0.02, -0.008] {
        let mut setup = demo(0);
        let springs = setup.springs.as_ref().expect("springs");
        let middle = nalgebra::center(
            &springs.mount_in_frame,
            &setup.drawn().to_ground(springs.mount_in_axle().expect("a hole")),
        );
        let coil_m = coilover(&mut setup.clone()).coil_m;
        let y = middle.y - coil_m / 2.0 - 0.03 + into_m;
        setup.keep_clear = vec![exhaust([0.1, -0.1].map(|x| Point3::new(middle.x + x, y, middle.z)))];
        let pair = (Solid::Spring(Hand::Left), Solid::KeepClear(0));
        let finding = too_near(&setup, pair.0, pair.1).expect("they are too near");
        let grade = if into_m > 0.0 { Grade::WontWork } else { Grade::Check };
        assert_eq!(finding.grade, grade);
        let sentence = finding.sentence(&setup, MM);
        let by = told_way(&sentence, "Move the exhaust ", ", or the springs' mounts");
        assert!(by.y < 0.0, "away from the spring: {sentence}");
        let KeepClearShape::Tube { along, .. } = &mut setup.keep_clear[0].shape else {
            panic!("it is a tube")
        };
        for point in along {
            *point += by;
        }
        assert_eq!(too_near(&setup, pair.0, pair.1), None, "{sentence}");
    }
}

/// The bar's frame mount stands out beyond the rail, so that the bar runs through it.
#[test]
fn a_panhard_bar_at_the_rail_is_told_which_way_and_how_far() {
    let mut setup = demo(0);
    let rail_y = setup.rails.spacing_m / 2.0;
    let bar = &mut setup.bars[PANHARD];
    bar.mount_in_frame.y = bar.mount_in_frame.y.signum() * (rail_y + 0.15);
    let part = Solid::Part(rearend::mechanism::Part::Bar(
        rearend::setup::BarId(PANHARD),
        rearend::setup::Side::Drawn,
    ));
    let found = surveyed(&setup).into_iter().find(|f| match &f.kind {
        Kind::Clearance(Clearance::Touches(near) | Clearance::Tight(near)) => {
            near.a == part && matches!(near.b, Solid::Rail(_))
        }
        _ => false,
    });
    let finding = found.expect("it runs into the rail");
    let Kind::Clearance(fault) = &finding.kind else {
        panic!("clearance was asked for")
    };
    let near = fault.near();
    let sentence = finding.sentence(&setup, MM);
    let by = told_way(&sentence, "The panhard bar has to go ", " there: move its frame mount");
    // As far as the overlap and the room wanted, to the next millimetre.
    let needed_m = setup.limits.clearance_m - near.gap_m;
    assert!(
        by.norm() >= needed_m && by.norm() < needed_m + 0.001 + 1e-9,
        "{sentence}"
    );
}

#[test]
fn what_comes_too_near_always_says_what_to_do() {
    for which in 0..3 {
        let mut setup = demo(which);
        setup.limits.clearance_m = 0.15;
        let mut told = 0;
        for finding in Answers::of(&setup).findings {
            if !matches!(finding.kind, Kind::Clearance(_)) || finding.grade == Grade::Fine {
                continue;
            }
            let sentence = finding.sentence(&setup, MM);
            let does = ["Move ", "move ", "Notch ", "It takes ", "A notch "]
                .iter()
                .any(|w| sentence.contains(w));
            assert!(does, "{sentence}");
            told += 1;
        }
        assert!(told >= 3, "demo {which}: {told}");
    }
}
