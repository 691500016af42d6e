//! What holds for every scene: it travels, its numbers are numbers, and nothing in it is broken unless that is its lesson.

use linkage::Twist;
use rearend::answers::Answers;
use rearend::findings::Grade;
use rearend::first_order::{FirstOrder, InstantCentre};
use rearend::tape::Units;
use rearend::travel::{POSES, Row};
use shop::demo;

use crate::scenes::{setup, solved};

/// But the one whose axle is not held.
#[test]
fn every_scene_travels_from_laid_out_to_full_lift_level_and_rolled() {
    for demo in demo::ALL.iter().filter(|d| !d.file_name.starts_with("08")) {
        let solved = solved(&setup(demo));
        for travel in [&solved.level, &solved.rolled] {
            let roll = travel.roll_rad;
            assert_eq!(
                (travel.low_end, travel.high_end),
                (None, None),
                "{} at roll {roll}",
                demo.file_name
            );
            assert_eq!(travel.rows.len(), POSES, "{} at roll {roll}", demo.file_name);
        }
        assert!(solved.rolled.roll_rad > 0.0, "{} has one wheel up", demo.file_name);
    }
}

fn numbers(row: &Row) -> Vec<f64> {
    let at = &row.at;
    let mut numbers = vec![
        row.height_m,
        row.roll_rad,
        row.misfit_m,
        row.shift_m,
        row.fore_aft_m,
        row.steer_rad,
    ];
    numbers.extend([
        row.pinion_to_frame_rad,
        row.pinion_to_ground_rad,
        at.yaw_rad,
        at.roll_rad,
        at.pitch_rad,
    ]);
    numbers.extend(at.origin_in_ground.iter().chain(&at.crank_rad));
    numbers
}

fn twist_numbers(twist: &Twist) -> Vec<f64> {
    twist
        .linear
        .iter()
        .chain(twist.angular.iter())
        .chain(&twist.cranks)
        .copied()
        .collect()
}

fn first_order_numbers(answer: &FirstOrder) -> Vec<f64> {
    let [x, z] = match answer.instant_centre {
        InstantCentre::At { x_m, z_m } => [x_m, z_m],
        InstantCentre::AtInfinity { direction } => [direction.x, direction.y],
    };
    vec![x, z, answer.roll_centre_m, answer.roll_steer]
}

#[test]
fn every_number_of_every_scene_is_finite() {
    for demo in demo::ALL {
        let setup = setup(&demo);
        let solved = solved(&setup);
        for row in solved.level.rows.iter().chain(&solved.rolled.rows) {
            let twists = solved.rear_end.mechanism.twists(&row.at);
            let mut all = numbers(row);
            all.extend([twists.ride, twists.roll].iter().flat_map(twist_numbers));
            all.extend(first_order_numbers(&FirstOrder::at(&setup, &solved.rear_end, &row.at)));
            assert!(
                all.iter().all(|n| n.is_finite()),
                "{} at {}: {all:?}",
                demo.file_name,
                row.height_m
            );
        }
    }
}

/// But the one whose lesson that is.
#[test]
fn no_scene_is_shown_with_something_that_will_not_work() {
    for demo in demo::ALL.iter().filter(|d| !d.file_name.starts_with("08")) {
        let setup = setup(demo);
        for finding in Answers::of(&setup).findings {
            let sentence = finding.sentence(&setup, Units::Millimetres);
            assert_ne!(finding.grade, Grade::WontWork, "{}: {sentence}", demo.file_name);
        }
    }
}

#[test]
fn one_scene_at_least_travels_more_than_200_mm() {
    let most = demo::ALL
        .iter()
        .map(|d| setup(d).travel)
        .map(|t| t.full_lift_m - t.laid_out_m)
        .fold(0.0, f64::max);
    assert!(most > 0.2, "the longest travel is {most} m");
}

/// Wheelbases of pickups, short beds to long ones; a centre of gravity between the knee and the hip.
#[test]
fn every_scene_says_where_its_weight_is() {
    for demo in demo::ALL {
        let balance = setup(&demo).balance.expect(demo.file_name);
        assert!((2.9..=3.4).contains(&balance.wheelbase_m), "{}", demo.file_name);
        assert!((0.55..=0.75).contains(&balance.cg_height_m), "{}", demo.file_name);
        assert!((0.35..=0.45).contains(&balance.rear_braking), "{}", demo.file_name);
    }
}

/// What a sentence names, of the things that have a name of their own, lights up when it is pointed at.
#[test]
fn what_a_sentence_names_lights_up() {
    for demo in &demo::ALL {
        let setup = setup(demo);
        let answers = Answers::of(&setup);
        for finding in &answers.findings {
            let sentence = finding.sentence(&setup, Units::Millimetres);
            let lit = finding.lit().solids;
            let names: Vec<_> = lit.iter().map(|s| s.name(&setup, Units::Millimetres)).collect();
            for words in ["tyre", "coilovers", "shaft's joints", "exhaust"] {
                let named = sentence.contains(words);
                let lights = match words {
                    "coilovers" => names.iter().any(|n| n.contains("spring")),
                    "shaft's joints" => names.iter().any(|n| n.contains("shaft")),
                    _ => names.iter().any(|n| n.contains(words)),
                };
                assert!(!named || lights, "{}: {sentence}: {names:?}", demo.file_name);
            }
        }
    }
}
