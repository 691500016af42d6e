//! Side by side: figures against closed forms, which is best, and what has no figure.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

use rearend::answers::Answers;
use rearend::compare::{Better, Compared, Comparison, MOST, Row, Value, distinct, table};
use rearend::figures::CAUTION;
use rearend::file;
use rearend::setup::{AsBuilt, Length, Setup};
use rearend::tape::Units;
use support::{PANHARD, demo};

const SWIMS: &str = include_str!("../../../demo-scenes/08-nothing-sideways.ron");
const BINDS: &str = include_str!("../../../demo-scenes/09-binding.ron");

/// Poses are solved to 1e-11 m; a few times that in angle and in what is made of them.
const SOLVED: f64 = 1e-9;

fn read(text: &str) -> Setup {
    file::read(text).expect("a demo scene reads")
}

fn compared(setups: &[Setup]) -> Comparison {
    let answers: Vec<Answers> = setups.iter().map(Answers::of).collect();
    let of: Vec<Compared> = setups
        .iter()
        .zip(&answers)
        .map(|(setup, answers)| Compared {
            name: &setup.name,
            setup,
            answers,
        })
        .collect();
    table(&of)
}

fn row<'a>(comparison: &'a Comparison, label: &str) -> &'a Row {
    let found = comparison.rows.iter().find(|row| row.label == label);
    found.expect("there is such a row")
}

#[track_caller]
fn figure(row: &Row, which: usize) -> f64 {
    match &row.values[which] {
        Value::Figure(f) | Value::Of(f, _) => *f,
        other => panic!("{}: {other:?}", row.label),
    }
}

#[track_caller]
fn near(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "found {found}, expected {expected} within {within}"
    );
}

/// The first demo with its panhard bar level at ride height: its axle mount is 60 mm above the tube, which stands 168 mm above the underside
/// of the rails, the loaded radius of 318 mm less the ride height of 150 mm.
fn level_panhard() -> Setup {
    let mut setup = demo(0);
    setup.bars[PANHARD].mount_in_frame.z = 0.060 + 0.168;
    setup
}

/// Bars that no truck this size takes.
fn unsolved() -> Setup {
    let mut setup = demo(0);
    setup.bars[0].length = Length::AsBuilt(AsBuilt::of_length(0.15));
    assert!(Answers::of(&setup).solved.is_err(), "it cannot be bolted in");
    setup
}

/// The axle of equal parallel bars and a bar across moves without turning, so that every bar is one equation in its shift and its way fore
/// and aft: `L - sqrt(L^2 - z^2)` of the level bar, shortened by what it is pulled fore and aft, and the arc of the long bars, shortened by
/// the shift. Solved by putting each into the other. By hand from the file: 628 mm across, long bars reaching 560 mm ahead with their axle
/// ends 10 mm above the frame's, 80 mm from ride to full lift and 60 mm to laid out.
#[test]
fn a_level_panhard_bar_shifts_the_axle_by_its_arc() {
    let (across, ahead, above) = (0.628f64, 0.560f64, 0.010f64);
    let bar = ahead.hypot(above);
    let at = |z: f64| {
        let (mut shift, mut forward) = (0.0f64, 0.0f64);
        for _ in 0..40 {
            shift = across - (across * across - z * z - forward * forward).sqrt();
            let up = above + z;
            forward = ahead - (bar * bar - up * up - shift * shift).sqrt();
        }
        (shift, forward)
    };
    let comparison = compared(&[level_panhard()]);
    let shift = row(&comparison, "Largest sideways shift");
    let (lifted, _) = at(-0.080);
    near(lifted, across - (across * across - 0.080f64.powi(2)).sqrt(), 2e-5);
    near(figure(shift, 0), lifted, SOLVED);
    assert_eq!(
        shift.words(0, Units::Millimetres),
        format!("{:.2} mm left", lifted * 1e3)
    );
}

#[test]
fn equal_parallel_bars_do_not_turn_the_pinion() {
    let comparison = compared(&[demo(0)]);
    let turn = row(&comparison, "Largest change of pinion angle");
    near(figure(turn, 0), 0.0, SOLVED);
    assert_eq!(turn.words(0, Units::Sixteenths), "0.00°");
}

/// Source: closed form of an arc. By hand from the second demo's file: bars that reach 570 mm ahead, their axle ends 9 mm above the frame's
/// at ride height, 110 mm down to laid out and 120 mm up to full lift. Farthest back with the bars level, farthest forward laid out. The
/// Watt's linkage lets the axle shift by less than a millimetre, which takes less than its square over twice the bars' reach off it; a pose
/// is no more than 2 mm from where the bars are level.
#[test]
fn fore_aft_travel_is_that_of_the_arc() {
    let (ahead, above) = (0.570f64, 0.009f64);
    let bar = ahead.hypot(above);
    let laid_out = above + 0.110;
    let travel = bar - (bar * bar - laid_out * laid_out).sqrt();
    let off = 1e-6 / (2.0 * 0.557) + 0.002f64.powi(2) / (2.0 * bar);
    let comparison = compared(&[demo(1)]);
    near(figure(row(&comparison, "Fore-aft travel"), 0), travel, off);
}

/// Parallel bars push along themselves: from the patch forward and, as the axle ends stand 10 mm above the frame's over 560 mm, down. By the
/// classical form, slope times wheelbase (2950 mm) over the height of the centre of gravity (620 mm).
#[test]
fn anti_squat_of_parallel_bars_is_their_slope() {
    let comparison = compared(&[demo(0)]);
    let anti_squat = row(&comparison, "Anti-squat at ride");
    let share = -10.0 / 560.0 * 2950.0 / 620.0;
    near(figure(anti_squat, 0), share, SOLVED);
    assert_eq!(anti_squat.words(0, Units::Sixteenths), "-8 %");
    let mut unknown = demo(0);
    unknown.balance = None;
    let comparison = compared(&[unknown]);
    assert_eq!(
        row(&comparison, "Anti-squat at ride").words(0, Units::Sixteenths),
        "needs the balance"
    );
}

/// By hand from the file: 628 mm across and 27 mm down, beside 560 mm and 10 mm.
#[test]
fn the_longest_and_the_shortest_bar_are_named() {
    let comparison = compared(&[demo(0)]);
    let longest = row(&comparison, "Longest bar");
    near(figure(longest, 0), 0.628f64.hypot(0.027), 1e-12);
    assert_eq!(longest.words(0, Units::Millimetres), "628.6 mm, panhard bar");
    near(
        figure(row(&comparison, "Shortest bar"), 0),
        0.560f64.hypot(0.010),
        1e-12,
    );
}

/// A truck and its mirror image shift as far, one to the left and one to the right: both are best.
#[test]
fn those_that_read_alike_are_all_best() {
    let mut mirrored = demo(0);
    mirrored.bars[PANHARD].mount_in_frame.y *= -1.0;
    mirrored.bars[PANHARD].mount_in_axle.y *= -1.0;
    let mut worse = demo(0);
    worse.bars[PANHARD].mount_in_frame.z += 0.05;
    let comparison = compared(&[demo(0), mirrored, worse]);
    let shift = row(&comparison, "Largest sideways shift");
    near(figure(shift, 0), -figure(shift, 1), SOLVED);
    for units in Units::ALL {
        assert_eq!(shift.best(units), [true, true, false]);
        let words: Vec<String> = (0..2).map(|i| shift.words(i, units)).collect();
        assert_eq!(words[0].replace("left", "right"), words[1]);
        assert_ne!(words[0], words[1]);
    }
    let line = &comparison.cells(Units::Millimetres)[0];
    assert_eq!(line.label, shift.label);
    assert_eq!(
        line.cells.iter().map(|(_, best)| *best).collect::<Vec<_>>(),
        [true, true, false]
    );
}

#[test]
fn the_least_is_best_of_what_should_be_small_and_the_most_of_room() {
    let row = |better, values: &[f64]| Row {
        label: "made up",
        kind: match better {
            Better::Most => rearend::compare::Kind::Room,
            _ => rearend::compare::Kind::Sideways,
        },
        better,
        values: values.iter().copied().map(Value::Figure).collect(),
    };
    let best = |better, values: &[f64]| row(better, values).best(Units::Millimetres);
    assert_eq!(best(Better::Least, &[-0.003, 0.002, 0.004]), [false, true, false]);
    assert_eq!(best(Better::Least, &[-0.002, 0.002, 0.004]), [true, true, false]);
    // Two hundredths of a millimetre are shown, and make a difference; less is not, and makes none.
    assert_eq!(best(Better::Least, &[0.002, 0.002_02]), [true, false]);
    assert_eq!(best(Better::Least, &[0.002, 0.002_000_2]), [true, true]);
    assert_eq!(best(Better::Most, &[-0.003, 0.020, 0.010]), [false, true, false]);
    assert_eq!(best(Better::Neither, &[0.1, 0.2]), [false, false]);
    assert_eq!(
        best(Better::Least, &[0.1]),
        [false],
        "there is nothing to be better than"
    );
}

#[test]
fn nothing_is_best_where_neither_way_is_better() {
    let comparison = compared(&[demo(0), demo(1), demo(2)]);
    for label in [
        "Anti-squat at ride",
        "Roll centre at ride",
        "Longest bar",
        "Shortest bar",
    ] {
        assert_eq!(row(&comparison, label).best(Units::Sixteenths), [false; 3], "{label}");
    }
    for label in ["Largest sideways shift", "Fore-aft travel", "Tightest clearance"] {
        let best = row(&comparison, label).best(Units::Sixteenths);
        assert!(best.contains(&true), "{label}");
    }
}

#[test]
fn what_is_not_solved_says_so_in_every_row_and_is_never_best() {
    let comparison = compared(&[unsolved(), demo(0)]);
    for line in comparison.cells(Units::Sixteenths) {
        assert_eq!(line.cells[0], ("not solved".to_owned(), false), "{}", line.label);
        assert_ne!(line.cells[1].0, "not solved");
    }
    let shift = row(&comparison, "Largest sideways shift");
    assert_eq!(shift.best(Units::Sixteenths), [false, true]);
}

/// What an axle that nothing holds sideways does through its travel is no figure to compare; its bars can be measured all the same.
#[test]
fn what_is_not_held_has_no_figure_of_its_travel() {
    let comparison = compared(&[read(SWIMS), demo(0)]);
    for row in &comparison.rows {
        let stands = ["Longest bar", "Shortest bar", "Won't work"].contains(&row.label);
        assert_eq!(
            row.words(0, Units::Sixteenths) == "not held",
            !stands,
            "{}: {:?}",
            row.label,
            row.values[0]
        );
    }
    assert_eq!(row(&comparison, "Won't work").best(Units::Sixteenths), [false, true]);
    assert!(figure(row(&comparison, "Won't work"), 0) >= 1.0);
}

/// Bars of half a metre do not follow a metre and a half down: what was reached is told, and is not better for being less.
#[test]
fn a_travel_that_ends_early_is_not_best_for_going_less_far() {
    let mut far = level_panhard();
    far.travel.full_lift_m = 1.5;
    let mut steep = demo(0);
    steep.bars[PANHARD].mount_in_frame.z += 0.1;
    let comparison = compared(&[far, steep]);
    let fore_aft = row(&comparison, "Fore-aft travel");
    assert!(matches!(fore_aft.values[0], Value::Reached(_)), "{:?}", fore_aft.values);
    assert!(fore_aft.words(0, Units::Millimetres).ends_with("mm, to where it ends"));
    for row in comparison
        .rows
        .iter()
        .filter(|row| matches!(row.values[0], Value::Reached(_)))
    {
        assert!(!row.best(Units::Millimetres)[0], "{}", row.label);
    }
    let notes = comparison.notes().join(" ");
    assert!(notes.contains("The travel of Orchard hauler ends early"), "{notes}");
    assert!(notes.contains("same heights"), "{notes}");
}

#[test]
fn bars_that_bind_say_how_far_one_wheel_goes_up() {
    let binding = read(BINDS);
    let comparison = compared(&[binding.clone(), demo(0)]);
    let up = row(&comparison, "One wheel up before it binds");
    let most = binding.track_m() * binding.travel.one_wheel_up_rad.abs().sin();
    let rise = figure(up, 0);
    assert!(rise > 0.0 && rise < most, "{rise} of {most}");
    assert_eq!(up.words(0, Units::Sixteenths), Units::Sixteenths.length(rise));
    assert_eq!(up.words(1, Units::Sixteenths), "nothing binds");
    assert_eq!(up.best(Units::Sixteenths), [false, false]);
}

#[test]
fn six_setups_stand_side_by_side_under_names_that_can_be_told_apart() {
    let setups = [demo(0), demo(1), demo(2), read(SWIMS), read(BINDS), demo(0)];
    assert_eq!(setups.len(), MOST);
    let comparison = compared(&setups);
    assert_eq!(comparison.names.len(), MOST);
    assert!(comparison.rows.iter().all(|row| row.values.len() == MOST));
    assert_eq!(comparison.names[5], "Orchard hauler (2)");
    for row in &comparison.rows {
        assert_eq!(
            row.values[0], row.values[5],
            "{}: the same truck answers alike",
            row.label
        );
        let best = row.best(Units::Sixteenths);
        assert_eq!(best[0], best[5], "{}", row.label);
    }
}

#[test]
fn names_alike_are_numbered_and_a_number_that_is_taken_is_passed_over() {
    let names = distinct(["A", "A", "A (2)", "B", "A"].into_iter());
    assert_eq!(names, ["A", "A (2)", "A (2) (2)", "B", "A (3)"]);
}

#[test]
fn the_text_is_a_table_with_words_for_what_is_best_and_ends_with_the_caution() {
    let setups = [demo(0), demo(1), unsolved()];
    let comparison = compared(&setups);
    let text = comparison.text(Units::Sixteenths);
    assert!(text.trim_end().ends_with(CAUTION), "{text}");
    let lines: Vec<&str> = text.lines().collect();
    let rule = lines
        .iter()
        .position(|l| l.starts_with("---"))
        .expect("a rule under the heads");
    assert_eq!(
        lines[rule].split_whitespace().count(),
        4,
        "a column a setup, and the labels"
    );
    // Every cell stands where its column begins.
    let begins: Vec<usize> = lines[rule]
        .char_indices()
        .filter(|(i, c)| *c == '-' && (*i == 0 || lines[rule].as_bytes()[i - 1] == b' '))
        .map(|(i, _)| i)
        .collect();
    for (line, cells) in lines[rule + 1..].iter().zip(comparison.cells(Units::Sixteenths)) {
        let letters: Vec<char> = line.chars().collect();
        let from = |i: usize| letters[begins[i]..].iter().collect::<String>();
        assert!(from(0).starts_with(cells.label), "{line}");
        for (i, (words, is_best)) in cells.cells.iter().enumerate() {
            let said = if *is_best {
                format!("{words}, best")
            } else {
                words.clone()
            };
            assert!(from(i + 1).starts_with(&said), "{said} in {line}");
        }
    }
    let shift = lines[rule + 1];
    assert_eq!(
        shift.matches("best").count(),
        1,
        "the Watt's linkage shifts least: {shift}"
    );
    assert!(lines.iter().all(|line| line.trim_end() == *line), "nothing trails");
}
