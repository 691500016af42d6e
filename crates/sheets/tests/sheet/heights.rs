//! A mount is as high in the drawings as in the tables of mounts, read back from the printed sheet, and as high as its scene has it.

use std::collections::BTreeSet;

use rearend::build::mounts::places;
use rearend::setup::Carrier;
use rearend::tape::Units;
use sheets::{Paper, sheet};

use crate::paper::job;
use crate::support::{Word, answered, poppler, words, written};

const WAYS: [&str; 2] = ["above", "below"];

/// Heights with their way, as they are printed.
type Told = BTreeSet<String>;

/// Where these words stand in a row: page and top.
#[track_caller]
fn title(all: &[Word], said: &str) -> (usize, f64) {
    let said: Vec<_> = said.split(' ').collect();
    let mut rows = all.windows(said.len());
    let row = rows.find(|row| row.iter().map(|w| w.text.as_str()).eq(said.iter().copied()));
    let first = &row.unwrap_or_else(|| panic!("no {said:?}"))[0];
    (first.page, first.place[1])
}

fn middle(word: &Word) -> f64 {
    f64::midpoint(word.place[1], word.place[3])
}

/// The figures at the left and at the right of a drawing, from its title down to what follows.
fn beside(all: &[Word], from: &str, to: &str) -> [Told; 2] {
    let (page, top) = title(all, from);
    let (_, bottom) = title(all, to);
    let centre = Paper::Letter.size_m()[0] / 0.0254 * 72.0 / 2.0;
    let ways = all.iter().filter(|w| {
        w.page == page && w.place[1] > top + 5.0 && w.place[1] < bottom - 5.0 && WAYS.contains(&w.text.as_str())
    });
    let mut told = [Told::new(), Told::new()];
    for way in ways {
        let (mut figure, mut left) = (way.text.clone(), way.place[0]);
        let before = |left: f64| {
            all.iter().find(|w| {
                let gap = left - w.place[2];
                w.page == page && (middle(w) - middle(way)).abs() < 1.0 && (-0.5..4.0).contains(&gap)
            })
        };
        while let Some(word) = before(left) {
            figure = format!("{} {figure}", word.text);
            left = word.place[0];
        }
        told[usize::from(way.place[0] > centre)].insert(figure);
    }
    told
}

/// The lengths of a table's row in turn, each with the words behind it.
fn cells(text: &str) -> Vec<String> {
    let mut cells: Vec<String> = Vec::new();
    let mut figure = Vec::new();
    for word in text.split_whitespace() {
        let is_figure = word.starts_with(|c: char| c.is_ascii_digit() || c == '-');
        if is_figure {
            figure.push(word);
            if word.ends_with('"') {
                cells.push(figure.join(" "));
                figure.clear();
            }
        } else if let Some(last) = cells.last_mut() {
            last.push(' ');
            last.push_str(word);
        }
    }
    cells
}

/// Of a printed height, in inches.
fn inches(told: &str) -> f64 {
    let (figure, way) = told.split_once('"').expect("a mark of inches");
    let part = |word: &str| match word.split_once('/') {
        Some((top, bottom)) => top.parse::<f64>().expect("a number") / bottom.parse::<f64>().expect("a number"),
        None => word.parse().expect("a number"),
    };
    let sum: f64 = figure.split_whitespace().map(part).sum();
    if way.trim() == "below" { -sum } else { sum }
}

#[test]
fn a_mount_is_as_high_in_the_drawing_as_in_the_table() {
    let mut compared = 0;
    for number in ["01", "02", "03", "04", "05", "06", "07", "08", "09", "10"] {
        let (setup, answers) = answered(number);
        let made = sheet(&job(&setup, &answers, Units::Sixteenths, Paper::Letter)).expect("a sheet");
        let file = written(&format!("heights-{number}"), &made);
        let all = words(&file);
        let drawn = [
            beside(&all, "From the left", "Curves of the"),
            beside(&all, "From behind", "From above"),
        ];
        let raw = poppler("pdftotext", &["-raw", file.to_str().expect("a path"), "-"]);
        let raw = raw.split_whitespace().collect::<Vec<_>>().join(" ");
        for (side, carrier, heading, column) in [
            (0, Carrier::Frame, "Mounts on the frame", 3),
            (1, Carrier::Axle, "Mounts on the axle", 2),
        ] {
            let (_, mut rest) = raw.split_once(heading).expect("its table");
            let mut tables = [Told::new(), Told::new()];
            for place in places(&setup).into_iter().filter(|p| p.carrier == carrier) {
                rest = rest.split_once(&place.name).expect("its row").1;
                let told = cells(&rest[..rest.len().min(200)]).swap_remove(column);
                let told = told.split(' ').take_while(|w| *w != "–").collect::<Vec<_>>().join(" ");
                let off = (inches(&told) - place.at.z / 0.0254).abs();
                assert!(off <= 1.0 / 32.0 + 1e-9, "{number}, {}: {told}", place.name);
                if inches(&told) != 0.0 {
                    tables[usize::from(place.is_sideways)].insert(told);
                    compared += 1;
                }
            }
            assert_eq!(drawn[0][side], tables[0], "{number}, {heading}, from the left");
            // From behind the rails over the axle have a figure besides.
            let besides: Vec<_> = drawn[1][side].difference(&tables[1]).collect();
            assert!(
                besides.len() <= usize::from(carrier == Carrier::Frame),
                "{number}: {besides:?}"
            );
            assert!(
                tables[1].is_subset(&drawn[1][side]),
                "{number}: {:?} of {:?}",
                drawn[1][side],
                tables[1]
            );
        }
    }
    assert!(compared > 60, "{compared}");
}
