//! Every demo scene: that it is there, reads, travels, and teaches what it says.

use std::collections::BTreeSet;

use linkage::Twist;
use nalgebra::Point3;
use rearend::answers::{Answers, Solved};
use rearend::file;
use rearend::findings::{Finding, Grade, Kind, Remedy};
use rearend::first_order::{FirstOrder, InstantCentre};
use rearend::setup::{BarEnd, BarId, Mount, Setup, Side};
use rearend::sideways::{LevelAt, effective_length_m};
use rearend::tape::Units;
use rearend::travel::{POSES, Row, Travel};
use shop::demo::{self, Demo};
use shop::{Change, Document};

fn setup(demo: &Demo) -> Setup {
    demo.setup().unwrap_or_else(|e| panic!("{}: {e}", demo.file_name))
}

fn named(start: &str) -> Setup {
    let demo = demo::ALL
        .iter()
        .find(|d| d.file_name.starts_with(start))
        .expect("the lesson is there");
    setup(demo)
}

fn solved(setup: &Setup) -> Solved {
    Answers::of(setup).solved.expect("a demo scene compiles")
}

/// The largest of a quantity over the travel, in size.
fn largest(travel: &Travel, quantity: impl Fn(&Row) -> f64) -> f64 {
    travel.rows.iter().map(|row| quantity(row).abs()).fold(0.0, f64::max)
}

/// Sideways movement of a straight bar's axle end, level in the middle of its rise. Source: closed form of an arc.
fn arc(length: f64, rise: f64) -> f64 {
    length - (length * length - rise * rise).sqrt()
}

#[test]
fn every_file_is_in_the_menu_and_the_other_way_round() {
    let folder = tests::root().join("demo-scenes");
    let files: BTreeSet<_> = std::fs::read_dir(&folder)
        .expect("demo-scenes/ is there")
        .map(|entry| {
            entry
                .expect("demo-scenes/ can be listed")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    let menu: BTreeSet<_> = demo::ALL.iter().map(|d| d.file_name.to_owned()).collect();
    assert_eq!(files, menu);
    for demo in demo::ALL {
        let on_disk = std::fs::read_to_string(folder.join(demo.file_name)).expect("a demo scene is text");
        assert_eq!(on_disk, demo.text, "{} is built in as it lies on disk", demo.file_name);
    }
}

#[test]
fn titles_and_names_tell_the_scenes_apart() {
    let titles: BTreeSet<_> = demo::ALL.iter().map(|d| d.title).collect();
    let names: BTreeSet<_> = demo::ALL.iter().map(|d| setup(d).name).collect();
    assert_eq!((titles.len(), names.len()), (demo::ALL.len(), demo::ALL.len()));
    for demo in demo::ALL {
        let layout = setup(&demo).layout_name();
        assert_eq!(
            demo.title.to_lowercase(),
            layout.to_lowercase(),
            "{}: the title is the layout",
            demo.file_name
        );
    }
}

#[test]
fn every_scene_opens_with_what_it_teaches() {
    for demo in demo::ALL {
        let first = demo.text.lines().next().unwrap_or_default();
        let lesson = first.strip_prefix("// What this one teaches: ");
        assert!(
            lesson.is_some_and(|l| l.len() > 20),
            "{} opens with {first:?}",
            demo.file_name
        );
        assert!(
            !setup(&demo).note.is_empty(),
            "{}: the note says it on the screen",
            demo.file_name
        );
    }
}

/// A make or a brand is a proper noun, and a proper noun shows by its capital inside a sentence. James Watt's linkage has no other name.
fn proper_nouns(text: &str) -> Vec<&str> {
    let mut begins = true;
    let mut found = Vec::new();
    for word in text.split_whitespace().filter(|w| *w != "//") {
        let bare = word.trim_matches(|c: char| !c.is_alphanumeric());
        let is_name = bare.len() > 1 && bare.starts_with(char::is_uppercase);
        if !begins && is_name && bare != "Watt's" {
            found.push(bare);
        }
        begins = word.ends_with(['.', ':', '!', '?']);
    }
    found
}

#[test]
fn no_scene_names_a_make_or_a_brand() {
    assert_eq!(
        proper_nouns("A bar. It swings on Watt's arc, like Somebody's: Not so."),
        ["Somebody's"]
    );
    for demo in demo::ALL {
        let setup = setup(&demo);
        let comments: String = demo
            .text
            .lines()
            .filter(|l| l.starts_with("//"))
            .collect::<Vec<_>>()
            .join("\n");
        for text in [&setup.name, &setup.note, &comments] {
            assert_eq!(proper_nouns(text), [""; 0], "{}: {text}", demo.file_name);
            let odd = text
                .chars()
                .find(|c| matches!(c, '\u{ae}' | '\u{2122}' | '\u{a9}' | '@') || c.is_control() && *c != '\n');
            assert_eq!(odd, None, "{}: {text}", demo.file_name);
            assert!(
                !text.contains("www.") && !text.contains("://"),
                "{}: {text}",
                demo.file_name
            );
        }
    }
}

#[test]
fn every_scene_reads_back_as_it_is_written() {
    for demo in demo::ALL {
        let setup = setup(&demo);
        assert_eq!(file::read(&file::write(&setup)), Ok(setup), "{}", demo.file_name);
    }
}

#[test]
fn every_scene_travels_from_laid_out_to_full_lift_level_and_rolled() {
    for demo in demo::ALL {
        let solved = solved(&setup(&demo));
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

#[test]
fn no_scene_is_shown_with_something_that_will_not_work() {
    for demo in demo::ALL {
        let setup = setup(&demo);
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

fn level_finding(findings: &[Finding]) -> &Finding {
    findings
        .iter()
        .find(|f| matches!(f.kind, Kind::Level(_)))
        .expect("there is a sideways bar")
}

/// How far apart sideways the axle stands laid out and fully lifted, m.
fn ends_apart(answers: &Answers) -> f64 {
    let rows = &answers.solved.as_ref().expect("solved").level.rows;
    (rows[0].shift_m - rows[POSES - 1].shift_m).abs()
}

/// The remaining difference is of second order: the long bars swing fore and aft, which tilts the panhard bar in plan.
#[test]
fn lesson_1_levelling_the_panhard_bar_brings_both_ends_of_the_travel_together() {
    let mut document = Document::new(named("01"), None);
    let before = ends_apart(document.answers());
    assert!(before > 0.003, "as drawn the ends are {before} m apart");
    let finding = level_finding(&document.answers().findings);
    assert_eq!(finding.grade, Grade::Check);
    let remedy = Remedy::LevelBar(BarId(2), LevelAt::HalfTravel);
    assert!(finding.remedies.contains(&remedy), "{:?}", finding.remedies);
    document.apply(&Change::Take(remedy)).expect("the remedy can be taken");
    let after = ends_apart(document.answers());
    assert!(after < 1e-4, "levelled, the ends are still {after} m apart");
    assert_eq!(level_finding(&document.answers().findings).grade, Grade::Fine);
}

#[test]
fn lesson_1_equal_parallel_bars_keep_the_pinion_angle() {
    let setup = named("01");
    let turned = largest(&solved(&setup).level, |row| {
        row.pinion_to_frame_rad - setup.axle.pinion_angle_rad
    });
    assert!(turned < 1e-9, "the pinion turns by {turned} rad");
}

#[test]
fn lesson_2_watts_linkage_stays_within_a_millimetre_where_a_panhard_bar_would_not() {
    let setup = named("02");
    let shift = largest(&solved(&setup).level, |row| row.shift_m);
    assert!(shift < 1e-3, "the axle shifts {shift} m");
    let watt = setup.watt.as_ref().expect("it has a Watt's linkage");
    let reach = watt.left_in_frame.y - watt.right_in_frame.y;
    let travel = &setup.travel;
    let rise = (travel.full_lift_m - travel.ride_m).max(travel.ride_m - travel.laid_out_m);
    assert!(
        arc(reach, rise) > 0.01,
        "a panhard bar of {reach} m shifts {} m",
        arc(reach, rise)
    );
}

/// Straight by symmetry; what is left is rounding of metre-sized coordinates.
#[test]
fn lesson_3_angled_bars_hold_the_axle_in_the_middle_and_turn_the_pinion() {
    let setup = named("03");
    let level = solved(&setup).level;
    let shift = largest(&level, |row| row.shift_m);
    assert!(shift < 1e-9, "the axle shifts {shift} m");
    let turned = largest(&level, |row| row.pinion_to_frame_rad - setup.axle.pinion_angle_rad).to_degrees();
    assert!(turned > 0.5, "the pinion turns by {turned} degrees");
    assert!(setup.watt.is_none() && setup.layout_name() == "triangulated four-link");
}

#[test]
fn lesson_3_upper_bars_that_act_as_long_as_the_lower_ones_straighten_the_pinion_strip() {
    let setup = named("03");
    let turned = |s: &Setup| {
        largest(&solved(s).level, |row| {
            row.pinion_to_frame_rad - s.axle.pinion_angle_rad
        })
    };
    let lower_m = effective_length_m(&setup, BarId(0)).expect("there is a lower bar");
    let upper = setup.bars[1].clone();
    let drop = upper.mount_in_frame.z - upper.mount_in_axle.z - setup.axle_z_m(setup.travel.ride_m);
    let forward = Point3::new(
        upper.mount_in_axle.x + (lower_m * lower_m - drop * drop).sqrt(),
        upper.mount_in_frame.y,
        upper.mount_in_frame.z,
    );
    let mut dragged = setup.clone();
    assert!(dragged.move_mount(
        Mount::Bar {
            bar: BarId(1),
            end: BarEnd::Frame,
            side: Side::Drawn
        },
        forward
    ));
    assert!(forward.x > upper.mount_in_frame.x, "forward, as the lesson says");
    let (before, after) = (turned(&setup), turned(&dragged));
    assert!(
        after < 0.5 * before,
        "the pinion turned by {before} rad, and still turns by {after}"
    );
}
