//! Where the pages of a sheet end.

use rearend::build::sections;
use rearend::tape::Units;
use sheets::{Paper, sheet};

use crate::paper::job;
use crate::support::{Word, answered, words, written};

/// No word of a page's text is lower than this from its lower edge, points: the margin of `sheet.typ`, whose foot is below it.
const FOOT: f64 = 17.5 / 25.4 * 72.0;

/// What stays in one piece, a heading with its words and a part of the travel's table at most, takes a third of a page: no page is left with
/// more room than that.
const FULL: f64 = 2.0 / 3.0;

const NUMBERS: [&str; 13] = [
    "01", "02", "03", "04", "05", "06", "07", "08", "09", "10", "02", "01", "10",
];

fn bottom(word: &Word) -> f64 {
    word.place[3]
}

#[test]
fn only_the_last_page_is_left_half_empty_and_no_heading_stands_alone() {
    let papers = [(Units::Sixteenths, Paper::Letter), (Units::Millimetres, Paper::A4)];
    for (number, (units, paper)) in NUMBERS.into_iter().zip(papers.into_iter().cycle()) {
        let (setup, answers) = answered(number);
        let made = sheet(&job(&setup, &answers, units, paper)).expect("a sheet");
        let all = words(&written(&format!("breaks-{number}-{}", units.symbol()), &made));
        let high = paper.size_m()[1] / 0.0254 * 72.0;
        let text: Vec<_> = all.iter().filter(|w| bottom(w) < high - FOOT + 1.0).collect();
        let lowest = |page: usize| {
            let on_it = text.iter().filter(|w| w.page == page);
            on_it.map(|w| bottom(w)).fold(0.0, f64::max)
        };
        let last = all.iter().map(|w| w.page).max().expect("pages");
        assert!(last <= 8, "{number} in {units:?}: {last} pages");
        for page in 1..last {
            let filled = lowest(page) / high;
            assert!(
                filled > FULL,
                "{number} in {units:?}: page {page} of {last} is filled to {filled:.2}"
            );
        }
        for section in sections(&setup, &answers, &answers.findings, units) {
            let said: Vec<_> = section.title.split(' ').collect();
            let is_title = |row: &&[&Word]| {
                let tall = row[0].place[3] - row[0].place[1];
                tall > 12.0 && row.iter().map(|w| w.text.as_str()).eq(said.iter().copied())
            };
            let row = text.windows(said.len()).find(is_title);
            let first = row.unwrap_or_else(|| panic!("{number}: no {said:?}"))[0];
            assert!(
                lowest(first.page) > bottom(first) + 8.0,
                "{number} in {units:?}: nothing below {said:?}"
            );
        }
    }
}
