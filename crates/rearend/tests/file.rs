//! Setups as text: they read back equal, and whatever cannot be read is named by line, column and field.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

use rearend::file::{self, FileError, LARGEST_BYTES};
use rearend::setup::SetupError;
use rearend::tape::Units;
use support::{PANHARD, demo, text};

#[test]
fn every_demo_reads_back_equal_and_says_so_twice() {
    for which in 0..3 {
        let setup = demo(which);
        let written = file::write(&setup);
        assert_eq!(file::read(&written).as_ref(), Ok(&setup), "demo {which}");
        assert_eq!(
            file::write(&file::read(&written).expect("reads")),
            written,
            "demo {which}"
        );
    }
}

#[test]
fn a_file_says_its_format_and_its_units() {
    let written = file::write(&demo(0));
    assert!(written.contains("format: 1"), "{written}");
    assert!(
        written.contains("laid_out_mm: 90.0") && written.contains("pinion_angle_deg: 2.5"),
        "{written}"
    );
    assert!(written.ends_with(")\n"), "the last line is whole");
}

#[test]
fn what_may_be_left_out_has_its_default() {
    let mut lines: Vec<_> = text(0).lines().collect();
    lines.retain(|l| !l.trim_start().starts_with("note:") && !l.trim_start().starts_with("limits:"));
    let setup = file::read(&lines.join("\n")).expect("note and limits may be left out");
    assert_eq!((setup.note.as_str(), setup.limits.shift_m), ("", 0.006));
}

/// A demo's text with one thing replaced, and the line and column (from 1) where that stands.
fn spoilt(find: &str, put: &str) -> (String, usize, usize) {
    let text = text(0);
    let at = text.find(find).unwrap_or_else(|| panic!("{find} is in the demo"));
    let line_start = text[..at].rfind('\n').map_or(0, |i| i + 1);
    (
        text.replacen(find, put, 1),
        text[..at].matches('\n').count() + 1,
        at - line_start + 1,
    )
}

/// Where the reader stands when it refuses a text, and what it says.
struct Refusal {
    line: usize,
    column: usize,
    field: Option<String>,
    sentence: String,
}

#[track_caller]
fn refused(text: &str) -> Refusal {
    let error = file::read(text).expect_err("it is refused");
    let sentence = error.to_string();
    let FileError::Text {
        line,
        column,
        field,
        expected,
    } = error
    else {
        panic!("not about the text: {sentence}")
    };
    let whole = format!("line {line}, column {column}");
    assert!(
        sentence.starts_with(&whole) && sentence.ends_with(&expected),
        "{sentence}"
    );
    Refusal {
        line,
        column,
        field,
        sentence,
    }
}

/// Refused on the line of the change, no farther from its column than the change is long, naming the field and what was expected.
#[track_caller]
fn is_refused(find: &str, put: &str, field: &str, says: &str) {
    let (text, line, column) = spoilt(find, put);
    let refusal = refused(&text);
    let sentence = &refusal.sentence;
    assert_eq!(refusal.line, line, "{sentence}");
    let columns = column..=column + put.len();
    assert!(
        columns.contains(&refusal.column),
        "{sentence}: the change stands at {columns:?}"
    );
    assert_eq!(refusal.field.as_deref(), Some(field), "{sentence}");
    assert!(sentence.contains(says), "\"{sentence}\" does not say \"{says}\"");
}

#[test]
fn a_misspelt_field_is_named_with_those_that_are_known() {
    is_refused(
        "backspacing_mm",
        "backspasing_mm",
        "backspasing_mm",
        "there is no field \"backspasing_mm\" here; known are tyre_mm,",
    );
    is_refused(
        "wheels:",
        "weels:",
        "weels",
        "known are format, name, note, rails, axle, wheels",
    );
}

#[test]
fn a_missing_field_is_named_on_the_line_of_its_part() {
    let (text, line, _) = spoilt("loaded_radius_mm: 318.0, ", "");
    let refusal = refused(&text);
    assert_eq!(
        (refusal.line, refusal.field.as_deref()),
        (line, Some("loaded_radius_mm")),
        "{}",
        refusal.sentence
    );
    assert!(
        refusal.sentence.contains("the field \"loaded_radius_mm\" is missing"),
        "{}",
        refusal.sentence
    );
}

#[test]
fn a_field_given_twice_is_named() {
    is_refused(
        "rim_mm: 381.0,",
        "rim_mm: 381.0, rim_mm: 380.0,",
        "rim_mm",
        "the field \"rim_mm\" is given twice",
    );
}

#[test]
fn text_in_place_of_a_number_is_named() {
    is_refused("rim_mm: 381.0", "rim_mm: \"big\"", "rim_mm", "a number is expected");
    is_refused("rim_mm: 381.0", "rim_mm: big", "rim_mm", "a number is expected");
    is_refused(
        "frame_mm: (560.0, 490.0, 78.0)",
        "frame_mm: (560.0, left, 78.0)",
        "frame_mm",
        "a number is expected",
    );
}

#[test]
fn a_number_in_place_of_text_is_named() {
    is_refused(
        "name: \"lower bar\"",
        "name: 12",
        "name",
        "a text in quotation marks is expected",
    );
}

#[test]
fn a_number_that_no_truck_has_is_named_with_what_is_expected() {
    for odd in ["NaN", "inf", "-inf", "1e300", "-5.0", "0.0"] {
        is_refused(
            "rim_mm: 381.0",
            &format!("rim_mm: {odd}"),
            "rim_mm",
            "a number from 0.1 to 20000 mm is expected",
        );
    }
    for odd in ["NaN", "inf", "1e300", "-20001.0"] {
        is_refused(
            "front_x_mm: 1350.0",
            &format!("front_x_mm: {odd}"),
            "front_x_mm",
            "from -20000 to 20000 mm is expected",
        );
        let point = format!("axle_mm: (0.0, {odd}, 80.0)");
        is_refused(
            "axle_mm: (0.0, 490.0, 80.0)",
            &point,
            "axle_mm",
            "from -20000 to 20000 mm is expected",
        );
    }
    for odd in ["NaN", "inf", "1e300", "46.0"] {
        let angle = format!("pinion_angle_deg: {odd}");
        is_refused(
            "pinion_angle_deg: 2.5",
            &angle,
            "pinion_angle_deg",
            "from -45 to 45 degrees is expected",
        );
    }
}

#[test]
fn another_format_is_named() {
    is_refused(
        "format: 1",
        "format: 2",
        "format",
        "format 2 is not known here; this version reads format 1",
    );
    is_refused("format: 1", "format: latest", "format", "a number is expected");
}

#[test]
fn an_unknown_word_is_named_with_those_that_are_known() {
    is_refused(
        "section: Channel",
        "section: Round",
        "section",
        "\"Round\" is not known; one of Channel, Box is expected",
    );
    is_refused(
        "role: Upper",
        "role: Middle",
        "role",
        "\"Middle\" is not known; one of Upper, Lower, Sideways is expected",
    );
    is_refused(
        "mirrored: true",
        "mirrored: yes",
        "mirrored",
        "true or false is expected",
    );
}

/// Wherever a text is cut off, the reader says so at a place within it; only a comment or a space may be missing.
#[test]
fn a_text_that_stops_short_is_refused_wherever_it_stops() {
    let text = text(0);
    let end = text.trim_end().len();
    let lines = text.lines().count();
    for stop in (0..end).filter(|i| text.is_char_boundary(*i)) {
        let Refusal { line, sentence, .. } = refused(&text[..stop]);
        assert!((1..=lines).contains(&line), "cut at {stop}: {sentence}");
        let says = ["expected", "missing", "there is no field", "is not known"];
        assert!(says.iter().any(|s| sentence.contains(s)), "cut at {stop}: {sentence}");
    }
}

#[test]
fn what_follows_the_setup_is_refused() {
    let whole = text(0).trim_end();
    let Refusal {
        line, field, sentence, ..
    } = refused(&format!("{whole}\n(format: 1)\n"));
    assert_eq!((line, field), (whole.lines().count(), None), "{sentence}");
    assert!(
        sentence.contains("nothing is expected after the setup's closing bracket"),
        "{sentence}"
    );
}

#[test]
fn slips_of_the_pen_are_told_in_plain_words() {
    is_refused(
        "\"lower bar\"",
        "\"lower\\bar\"",
        "name",
        "a backslash in a text is expected twice",
    );
    is_refused(
        "(560.0, 490.0, 78.0)",
        "(560.0, 490.0)",
        "frame_mm",
        "3 are expected in these brackets; 2 are given",
    );
    is_refused(
        "mirrored: true",
        "mirrored true",
        "axle_mm",
        "a colon after the field's name is expected",
    );
    is_refused(
        "rails: (",
        "rails: spacing_mm(",
        "rails",
        "an opening bracket \"(\" and fields are expected",
    );
    let (unended, ..) = spoilt("\"exhaust\"", "\"exhaust");
    assert!(
        refused(&unended)
            .sentence
            .contains("the quotation mark that ends the text is missing")
    );
}

#[test]
fn a_text_of_a_hundred_megabytes_is_refused() {
    let refusal = |bytes: u64| {
        let size = usize::try_from(bytes).expect("it fits in memory");
        file::read(&" ".repeat(size)).expect_err("it is refused")
    };
    assert_eq!(refusal(100 * LARGEST_BYTES), FileError::TooLarge { megabytes: 100 });
    assert_eq!(refusal(LARGEST_BYTES + 1), FileError::TooLarge { megabytes: 2 });
    assert!(
        refusal(100 * LARGEST_BYTES)
            .to_string()
            .contains("it is 100 MB; a setup is a few kilobytes")
    );
    assert!(
        matches!(refusal(LARGEST_BYTES), FileError::Text { .. }),
        "the largest allowed is read"
    );
}

#[test]
fn brackets_without_end_are_refused_without_a_crash() {
    for open in ["(", "[", "(bars:[", "(a:("] {
        assert!(file::read(&open.repeat(100_000)).is_err(), "{open}");
    }
}

/// It reads, but the parts do not fit each other: a sentence that names the part and what to do.
#[track_caller]
fn makes_no_sense(find: &str, put: &str, says: &[&str]) -> SetupError {
    let error = file::read(&spoilt(find, put).0).expect_err("it is refused");
    let FileError::Setup(reason) = error else {
        panic!("about the text, not the setup: {error}")
    };
    for part in says {
        assert!(
            reason.to_string().contains(part),
            "\"{reason}\" does not say \"{part}\""
        );
    }
    reason
}

#[test]
fn heights_out_of_order_are_told_with_all_three() {
    let error = makes_no_sense(
        "laid_out_mm: 90.0",
        "laid_out_mm: 300.0",
        &["300 mm", "150 mm", "230 mm", "rise in this order"],
    );
    let expected = SetupError::HeightsOutOfOrder {
        at_m: [0.3, 0.15, 0.23],
    };
    assert_eq!(error, expected);
    let told = error.told(Units::Sixteenths);
    assert!(told.contains("11 13/16\"") && !told.contains("mm"), "{told}");
    makes_no_sense("ride_mm: 150.0", "ride_mm: 90.0", &["rise in this order"]);
}

/// At ride height the axle stands 318 - 150 = 168 mm above the rails' underside.
#[test]
fn a_bar_whose_mounts_coincide_is_named() {
    let says = ["the panhard bar has no length", "move one of them"];
    makes_no_sense(
        "axle_mm: (-205.0, -288.0, 60.0)",
        "axle_mm: (-205.0, 340.0, 87.0)",
        &says,
    );
    makes_no_sense(
        "axle_mm: (-205.0, -288.0, 60.0)",
        "axle_mm: (-205.5, 340.0, 87.5)",
        &says,
    );
    let says = ["the left lower bar has no length"];
    makes_no_sense("axle_mm: (0.0, 490.0, -80.0)", "axle_mm: (560.0, 490.0, -90.0)", &says);
}

#[test]
fn a_pair_on_the_centre_plane_is_named() {
    let pair = "frame_mm: (560.0, 0.0, 78.0), axle_mm: (0.0, 0.0, -80.0), mirrored: true";
    let says = [
        "the lower bar is mirrored",
        "set mirrored to false or move it to one side",
    ];
    makes_no_sense(
        "frame_mm: (560.0, 490.0, 78.0), axle_mm: (0.0, 490.0, -80.0), mirrored: true",
        pair,
        &says,
    );
}

#[test]
fn parts_that_do_not_fit_are_named_with_their_fields() {
    makes_no_sense("rim_mm: 381.0", "rim_mm: 700.0", &["rim_mm and tyre_mm"]);
    makes_no_sense(
        "loaded_radius_mm: 318.0",
        "loaded_radius_mm: 340.0",
        &["loaded_radius_mm and tyre_mm"],
    );
    makes_no_sense("front_x_mm: 1350.0", "front_x_mm: -950.0", &["front_x_mm", "rear_x_mm"]);
    makes_no_sense("flange_mm: 62.0", "flange_mm: 432.0", &["flange_mm and spacing_mm"]);
    makes_no_sense("wall_mm: 5.0", "wall_mm: 31.0", &["wall_mm"]);
    makes_no_sense(
        "pinion_offset_mm: 0.0",
        "pinion_offset_mm: 762.0",
        &["pinion_offset_mm"],
    );
}

#[test]
fn more_bars_than_can_be_solved_are_counted() {
    let line = text(0)
        .lines()
        .find(|l| l.contains("panhard bar\""))
        .expect("there is a panhard bar")
        .to_owned();
    makes_no_sense(
        &line,
        &format!("{line}\n").repeat(21),
        &["25 bars are described; up to 24 can be solved"],
    );
    let most = spoilt(&line, &format!("{line}\n").repeat(20)).0;
    assert_eq!(file::read(&most).map(|s| s.bars.len()), Ok(PANHARD + 20));
}
