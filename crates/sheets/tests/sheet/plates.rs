//! Plates at 1:1, measured as they are printed.

use image::GrayImage;
use nalgebra::Point2;
use rearend::brackets::{self, Hole, Outline, Plate, Scribe, Segment};
use rearend::tape::Units;
use sheets::{Paper, templates};

use crate::support::{Word, answered, pages, poppler, says, text, words, written};

const DOTS_PER_MM: f64 = 600.0 / 25.4;

/// What is lower on a page than this is beside a plate, not in the head, points.
const HEAD_PT: f64 = 62.0 / 25.4 * 72.0;

/// A length as dots of a page.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a few thousand dots"
)]
fn dots(mm: f64) -> u32 {
    (mm * DOTS_PER_MM) as u32
}

/// A tab `wide` by `high` with one round corner and two holes, m.
fn tab(wide: f64, high: f64) -> Plate {
    let p = Point2::new;
    let line = |x, y| Segment::Line { to: p(x, y) };
    let round = 0.02;
    Plate {
        name: "lower bar, on the axle: side plate".to_owned(),
        file_stem: "tab".to_owned(),
        count: 4,
        thickness_m: 0.006_35,
        outline: Outline {
            start: p(0.0, 0.0),
            segments: vec![
                line(wide, 0.0),
                line(wide, high - round),
                Segment::Arc {
                    to: p(wide - round, high),
                    centre: p(wide - round, high - round),
                    clockwise: false,
                },
                line(0.0, high),
                line(0.0, 0.0),
            ],
        },
        holes: [0.03, wide - 0.03]
            .map(|x| Hole {
                at: p(x, high / 2.0),
                diameter_m: 0.0198,
            })
            .into(),
        scribes: vec![Scribe {
            from: p(0.0, high / 4.0),
            to: p(wide, high / 4.0),
            what: "centre line of the bar".to_owned(),
        }],
        notes: vec!["Weld all round.".to_owned()],
        stands: Vec::new(),
    }
}

/// A page at 600 dots to the inch, dark where it is printed.
fn printed(name: &str, pdf: &[u8], page: usize) -> GrayImage {
    let file = written(name, pdf);
    let stem = file.with_extension("");
    let (file, stem) = (file.to_str().expect("a path"), stem.to_str().expect("a path"));
    let page = page.to_string();
    poppler(
        "pdftoppm",
        &[
            "-r",
            "600",
            "-gray",
            "-png",
            "-singlefile",
            "-f",
            &page,
            "-l",
            &page,
            file,
            stem,
        ],
    );
    image::open(format!("{stem}.png")).expect("a picture").to_luma8()
}

/// Middles of the dark runs of a row or a column.
fn runs(values: impl Iterator<Item = u8>) -> Vec<f64> {
    let mut found = Vec::new();
    let mut start = None;
    for (i, value) in values.enumerate() {
        match (value < 128, start) {
            (true, None) => start = Some(i),
            (false, Some(s)) => {
                #[expect(clippy::cast_precision_loss, reason = "dots of a page")]
                found.push((s + i - 1) as f64 / 2.0);
                start = None;
            }
            _ => {}
        }
    }
    found
}

/// Rows in which a line is dark for at least this many dots, as middles of their runs.
fn long_lines(picture: &GrayImage, across: bool, at_least: u32) -> Vec<f64> {
    let (outer, inner) = if across {
        (picture.height(), picture.width())
    } else {
        (picture.width(), picture.height())
    };
    let dark = |o: u32, i: u32| {
        let (x, y) = if across { (i, o) } else { (o, i) };
        picture.get_pixel(x, y)[0] < 128
    };
    let longest = |o: u32| {
        let (mut most, mut now) = (0, 0);
        for i in 0..inner {
            now = if dark(o, i) { now + 1 } else { 0 };
            most = most.max(now);
        }
        most
    };
    runs((0..outer).map(|o| if longest(o) >= at_least { 0 } else { 255 }))
}

#[track_caller]
fn measures(found: f64, dots: f64) {
    let mm = found / DOTS_PER_MM;
    let wanted = dots / DOTS_PER_MM;
    assert!(
        (mm - wanted).abs() < 0.1,
        "{mm} mm on paper where {wanted} mm are meant"
    );
}

/// The square's sides are the only lines of 45 mm and more in the head of a page.
fn square_mm(picture: &GrayImage, across: bool) -> f64 {
    let head = image::imageops::crop_imm(picture, 0, 0, picture.width(), dots(66.0)).to_image();
    let lines = long_lines(&head, across, dots(45.0));
    assert_eq!(lines.len(), 2, "two sides: {lines:?}");
    (lines[1] - lines[0]) / DOTS_PER_MM
}

#[test]
fn the_square_and_the_holes_measure_what_they_say() {
    for (units, paper, side) in [
        (Units::Millimetres, Paper::A4, 50.0),
        (Units::Sixteenths, Paper::Letter, 50.8),
    ] {
        let plate = tab(0.15, 0.08);
        let made = templates(&[plate], units, paper).expect("a template");
        let picture = printed(&format!("plate-{}", paper.label()), &made, 1);
        for across in [true, false] {
            let mm = square_mm(&picture, across);
            assert!((mm - side).abs() < 0.1, "the square is {mm} mm");
        }
        // The plate's straight edges: the lower one is as long as it is wide, the left one as it is high.
        let level = long_lines(&picture, true, dots(149.0));
        // Below it there is only the line over the foot of the page.
        let bottom = *level.first().expect("the lower edge");
        // A row through the holes' upper quarter: edge, two sides of a hole, two of the other, edge.
        let row = dots(bottom / DOTS_PER_MM - (40.0 + 6.0));
        let crossed = runs((0..picture.width()).map(|x| picture.get_pixel(x, row)[0]));
        let arms: Vec<f64> = crossed.clone();
        assert_eq!(arms.len(), 8, "edges, holes with their crosses: {arms:?}");
        measures(arms[7] - arms[0], 150.0 * DOTS_PER_MM);
        measures(arms[5] - arms[2], 90.0 * DOTS_PER_MM);
        // Half the chord of a hole of 19.8 mm, 6 mm off its middle.
        let chord = 2.0 * (9.9f64 * 9.9 - 36.0).sqrt();
        let half_dot = 0.5 / DOTS_PER_MM;
        let wide = (arms[3] - arms[1]) / DOTS_PER_MM;
        assert!(
            (wide - chord).abs() < 0.1 + half_dot,
            "{wide} mm across a hole where {chord} mm are meant"
        );
    }
}

#[test]
fn a_page_says_what_is_on_it() {
    let made = templates(&[tab(0.15, 0.08), tab(0.1, 0.1)], Units::Millimetres, Paper::A4).expect("templates");
    let file = written("plates", &made);
    let text = text(&file);
    assert_eq!(pages(&file), 2);
    for words in [
        "Lower bar, on the axle: side plate",
        "4 pieces, 6.35 mm thick, 150.0 mm × 80.0 mm overall",
        "measure me:",
        "50 mm",
        "a centre line of the bar.",
        "2 × ⌀ 19.8 mm",
        "Weld all round.",
        "Screening calculation",
        "page 2 of 2",
    ] {
        says(&text, words);
    }
}

#[test]
fn a_plate_larger_than_the_paper_comes_on_several_pages_with_marks() {
    // 300 by 250 mm on 186 by 197 mm that share 12: two by two.
    let made = templates(&[tab(0.3, 0.25)], Units::Millimetres, Paper::A4).expect("templates");
    let file = written("tiled", &made);
    assert_eq!(pages(&file), 4);
    says(&text(&file), "page 4 of 4: tape the pages");
    // Wide and low: turned, it takes one page less.
    let made = templates(&[tab(0.19, 0.05)], Units::Millimetres, Paper::A4).expect("templates");
    assert_eq!(pages(&written("turned", &made)), 1);
}

#[test]
fn every_plate_of_a_scene_comes_with_its_name_and_no_word_over_another() {
    let numbers = ["01", "02", "03", "04", "05", "06", "07", "08", "09", "10"];
    let ways = [(Units::Sixteenths, Paper::Letter), (Units::Millimetres, Paper::A4)];
    for (number, (units, paper)) in numbers.into_iter().zip(ways.into_iter().cycle()) {
        let (setup, answers) = answered(number);
        let brackets = brackets::of(&setup, answers.solved.as_ref().ok(), units)
            .into_iter()
            .flatten();
        let plates: Vec<Plate> = brackets.flat_map(|b| b.plates).collect();
        assert!(plates.len() > 3, "there are brackets");
        let made = templates(&plates, units, paper).expect("templates");
        let file = written(&format!("plates-{number}"), &made);
        let text = text(&file);
        // A head on every page: no plate is pushed off the page that says what it is.
        let heads = text.matches("CUTAT1:1").count();
        assert!(heads >= plates.len() && heads == pages(&file), "{heads} heads");
        for plate in &plates {
            says(&text, &plate.name[1..]);
            plate.notes.iter().for_each(|note| says(&text, note));
            let heading = plate.heading().expect("it stands somewhere");
            says(&text, &heading.words);
            plate.numbers_in_words().iter().for_each(|words| says(&text, words));
        }
        let words = words(&file);
        for (i, word) in words.iter().enumerate() {
            let over = words[i + 1..].iter().find(|other| word.covers(other)).map(|o| &o.text);
            assert_eq!(over, None, "{number}: under \"{}\" on page {}", word.text, word.page);
        }
        for word in ["up", "forward", "outboard", "left"] {
            let of = |p: &&Plate| p.heading().is_some_and(|h| h.arrows.iter().any(|a| a.word == word));
            let wanted = plates.iter().filter(of).count();
            let heads = |w: &&Word| w.text == word && w.place[1] > HEAD_PT;
            assert_eq!(
                words.iter().filter(heads).count(),
                wanted,
                "{number}: \"{word}\" beside its arrow"
            );
        }
    }
}

#[test]
fn no_plates_are_refused_in_words() {
    let error = templates(&[], Units::Millimetres, Paper::A4).expect_err("nothing to draw");
    assert!(error.to_string().contains("no brackets"));
}
