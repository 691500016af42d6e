//! The build sheet.

use rearend::answers::Answers;
use rearend::build::{Section, Table, sections};
use rearend::figures::{CAUTION, key_figures};
use rearend::setup::Setup;
use rearend::tape::Units;
use sheets::{Date, Logo, Paper, PictureKind, SheetError, SheetJob, sheet, sheet_of};

use crate::support::{answered, demo, pages, poppler, says, solid, text, words, written};

pub fn job<'a>(setup: &'a Setup, answers: &'a Answers, units: Units, paper: Paper) -> SheetJob<'a> {
    SheetJob {
        setup,
        answers,
        findings: &answers.findings,
        units,
        paper,
        shop: Some("The shed at the end"),
        logo: None,
        date: Some(Date {
            year: 2026,
            month: 3,
            day: 9,
        }),
        template: None,
    }
}

#[track_caller]
fn check(number: &str, units: Units, paper: Paper) {
    let (setup, answers) = answered(number);
    let made = sheet(&job(&setup, &answers, units, paper)).expect("a sheet");
    let file = written(&format!("sheet-{number}-{}-{}", units.symbol(), paper.label()), &made);
    let (text, count) = (text(&file), pages(&file));
    assert!((3..=14).contains(&count), "{count} pages");
    for words in [
        &setup.name,
        &setup.layout_name()[1..],
        &setup.note,
        "2026-03-09",
        "The shed at the end",
    ] {
        says(&text, words);
    }
    assert!(!text.contains("=>") && !text.contains('#'), "no source is printed");
    // On every page, and once more on the first.
    assert_eq!(
        text.matches(&solid(CAUTION)).count(),
        count + 1,
        "the caution is on every page"
    );
    (1..=count).for_each(|n| says(&text, &format!("page {n} of {count}")));
    for figure in key_figures(&setup, &answers, units) {
        says(&text, &format!("{} {}", figure.label, figure.value));
    }
    let sections = sections(&setup, &answers, &answers.findings, units);
    assert!(!sections.is_empty(), "there is something to build");
    for section in &sections {
        says(&text, &section.title);
        let table = section.table.iter();
        for table in table {
            // A wide one is set in two.
            let whole = |row: &Vec<String>| vec![row.concat()];
            let cells = table.rows.iter().map(|row| {
                if table.columns.len() > 8 {
                    row.clone()
                } else {
                    whole(row)
                }
            });
            cells.flatten().for_each(|words| says(&text, &words));
        }
        let words = [&section.text, &section.notes, &section.steps];
        words.into_iter().flatten().for_each(|s| says(&text, s));
    }
}

#[test]
fn no_two_words_are_printed_over_each_other() {
    let numbers = ["01", "02", "03", "04", "05", "06", "07", "10"];
    for (number, units) in numbers.into_iter().zip(Units::ALL.into_iter().cycle()) {
        let (setup, answers) = answered(number);
        let made = sheet(&job(&setup, &answers, units, Paper::Letter)).expect("a sheet");
        let words = words(&written(&format!("words-{number}"), &made));
        assert!(words.len() > 500, "the words are read");
        let size = Paper::Letter.size_m().map(|m| m / 0.0254 * 72.0);
        for (i, word) in words.iter().enumerate() {
            let ([left, top, right, bottom], said) = (word.place, &word.text);
            let on_paper = left > 0.0 && top > 0.0 && right < size[0] && bottom < size[1];
            assert!(
                on_paper,
                "{number} in {units:?}: \"{said}\" runs off page {}",
                word.page
            );
            let over = words[i + 1..].iter().find(|other| word.covers(other));
            let over = over.map(|o| &o.text);
            assert_eq!(
                over, None,
                "{number} in {units:?}: under \"{said}\" on page {}",
                word.page
            );
        }
    }
}

/// Of the table of the travel: every figure stands in one line with the height of its row.
#[test]
fn no_figure_of_the_travel_breaks_in_its_cell() {
    for (number, units) in [
        ("01", Units::Sixteenths),
        ("02", Units::Millimetres),
        ("04", Units::DecimalInches),
        ("07", Units::Sixteenths),
    ] {
        let (setup, answers) = answered(number);
        let all = sections(&setup, &answers, &answers.findings, units);
        let travel = all
            .iter()
            .find(|s| s.title == "Through the travel")
            .expect("it is there");
        let table = travel.table.as_ref().expect("it has a table");
        assert!(table.columns.len() > 8, "it is wide");
        let section = std::slice::from_ref(travel);
        let file = written(
            &format!("travel-{number}"),
            &sheet_of(&job(&setup, &answers, units, Paper::Letter), section).expect("a sheet"),
        );
        let lines = poppler("pdftotext", &["-layout", file.to_str().expect("a path"), "-"]);
        // From the table's own heading on: the drawings above it have figures, too.
        let (_, lines) = lines.split_once("Through the travel").expect("its heading");
        let lines: Vec<_> = lines.lines().map(solid).collect();
        for row in &table.rows {
            for cell in row.iter().filter(|cell| !cell.is_empty()) {
                let together = |line: &&String| line.contains(&solid(&row[1])) && line.contains(&solid(cell));
                assert!(
                    lines.iter().any(|line| together(&line)),
                    "{number}: \"{cell}\" at {}",
                    row[1]
                );
            }
        }
    }
}

#[test]
fn words_over_each_other_are_seen() {
    let (setup, answers) = answered("01");
    let mut job = job(&setup, &answers, Units::Millimetres, Paper::A4);
    job.template = Some("#place(dx: 0pt)[under]\n#place(dx: 9pt, dy: 2pt)[over]\n#place(dx: 60pt)[beside]");
    let words = words(&written("over", &sheet_of(&job, &[]).expect("a sheet")));
    let seen: Vec<_> = words
        .iter()
        .map(|w| words.iter().filter(|o| w.covers(o)).count())
        .collect();
    // Each covers itself.
    assert_eq!(seen, [2, 2, 1]);
}

#[test]
fn a_head_is_on_every_page_of_its_table_and_a_row_on_one() {
    let (setup, answers) = answered("01");
    let mut cuts = Table::with(&["Part that is cut", ">Count", "Where it goes"]);
    let long =
        "left and right, welded all round, and then some more words that break over several lines of a cell".repeat(2);
    for i in 0..60 {
        cuts.rows
            .push(vec![format!("part {i}"), format!("{i}.25"), long.clone()]);
    }
    let section = Section {
        title: "A long list".to_owned(),
        table: Some(cuts.clone()),
        ..Section::default()
    };
    let made = sheet_of(&job(&setup, &answers, Units::Millimetres, Paper::A4), &[section]).expect("a sheet");
    let file = written("long", &made);
    let (text, count) = (text(&file), pages(&file));
    cuts.rows.iter().for_each(|row| says(&text, &row.concat()));
    let heads = text.matches("Partthatiscut").count();
    // Two pages of drawings, and the list on the rest: on the second of them, or from the third.
    assert!(
        count >= 4 && (heads == count - 1 || heads == count - 2),
        "{heads} heads on {count} pages"
    );
}

#[test]
fn a_sheet_in_inches_on_letter_says_all_it_is_given() {
    check("01", Units::Sixteenths, Paper::Letter);
}

#[test]
fn a_sheet_in_millimetres_on_a4_says_all_it_is_given() {
    check("02", Units::Millimetres, Paper::A4);
}

#[test]
fn every_layout_has_a_sheet_on_either_paper() {
    for number in ["03", "04", "05", "06", "07", "08", "09", "10"] {
        let paper = if number < "06" { Paper::A4 } else { Paper::Letter };
        check(number, Units::DecimalInches, paper);
    }
}

#[test]
fn the_drawings_say_what_a_tape_reads() {
    let (setup, answers) = answered("02");
    let made = sheet_of(&job(&setup, &answers, Units::Millimetres, Paper::A4), &[]).expect("a sheet");
    let text = text(&written("drawings", &made));
    // Flange to flange and two half tyres less the backspacing, as the scene's file has them: 1480 + 255 - 280.
    says(&text, "track 1455.0");
    says(&text, "over the tyres 1710.0");
    says(&text, "rails, outside 838.0");
    // From (570, 130) on the frame to (0, 334 - 110 - 85) on the axle, in the side view: the hypotenuse of 570 and 9.
    says(&text, "lower bar 570.1 mm");
}

#[test]
fn a_setup_that_cannot_be_worked_out_says_so_once_on_page_one() {
    let mut setup = demo("01");
    // Two mounts on one spot.
    let at = setup.drawn().to_ground(setup.bars[0].mount_in_axle);
    setup.bars[0].mount_in_frame = at;
    let answers = Answers::of(&setup);
    assert!(answers.solved.is_err(), "it cannot be solved");
    let made = sheet(&job(&setup, &answers, Units::Millimetres, Paper::A4)).expect("a sheet nevertheless");
    let text = text(&written("unsolved", &made));
    let first = text.split("page1of").next().expect("a first page");
    says(first, "This setup could not be worked out.");
    let finding = answers.findings[0].sentence(&setup, Units::Millimetres);
    says(first, &finding);
    assert_eq!(text.matches(&solid(&finding)).count(), 1, "the reason is given once");
    assert!(!text.contains("NaN") && !text.contains("inf"), "no number that is none");
}

#[test]
fn a_shops_own_template_is_used_and_its_mistakes_are_named_by_line() {
    let (setup, answers) = answered("03");
    let mut job = job(&setup, &answers, Units::Millimetres, Paper::A4);
    let own = "#let data = json(\"data.json\")\n= #data.title\n#data.caution";
    job.template = Some(own);
    let text = text(&written("own", &sheet_of(&job, &[]).expect("a sheet")));
    says(&text, &setup.name);
    assert!(!text.contains("BUILDSHEET"), "ours is not used");
    job.template = Some("= A sheet\n\n#let x = nowhere\n");
    let error = sheet_of(&job, &[]).expect_err("it has a mistake").to_string();
    assert_eq!(
        error,
        "the sheet cannot be made: sheet.typ, line 3: unknown variable: nowhere"
    );
    job.template = Some("#read(\"/etc/passwd\")");
    assert!(
        matches!(sheet_of(&job, &[]), Err(SheetError::Typeset(e)) if e.line == Some(1)),
        "it reads no disk"
    );
    job.template = Some("#import \"@preview/anything:1.0.0\": *");
    assert!(sheet_of(&job, &[]).is_err(), "it fetches no package");
}

#[test]
fn a_logo_of_any_kind_is_set_and_a_broken_one_is_named() {
    let (setup, answers) = answered("01");
    let mut job = job(&setup, &answers, Units::Sixteenths, Paper::Letter);
    let svg = br#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20"><circle cx="10" cy="10" r="9"/></svg>"#;
    let png = include_bytes!("../../../../assets/icon.png");
    let plain = sheet_of(&job, &[]).expect("a sheet").len();
    for (kind, data) in [(PictureKind::Svg, &svg[..]), (PictureKind::Png, png)] {
        job.logo = Some(Logo { kind, data });
        assert!(sheet_of(&job, &[]).expect("a sheet").len() > plain, "{kind:?} is in it");
    }
    job.logo = Some(Logo {
        kind: PictureKind::Png,
        data: b"no picture",
    });
    let error = sheet_of(&job, &[]).expect_err("it is no picture").to_string();
    assert!(error.contains("sheet.typ, line"), "{error}");
    assert_eq!(PictureKind::of_file("shop.JPG"), Some(PictureKind::Jpeg));
    assert_eq!(PictureKind::of_file("shop.pdf"), None);
}
