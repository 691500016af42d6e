//! Paper for steel of any size that can be entered.

use rearend::answers::Answers;
use rearend::build::sections;
use rearend::setup::{Setup, Steel};
use rearend::tape::Units;

use crate::common::{cell, section};
use crate::support::demo;

type Put = fn(&mut Steel, f64);

/// Every length of it.
const LENGTHS: [Put; 11] = [
    |s, m| s.plate_m = m,
    |s, m| s.bolt_m = m,
    |s, m| s.hole_over_m = m,
    |s, m| s.gap_m = m,
    |s, m| s.bush_eye_m = m,
    |s, m| s.rod_end.eye_to_end_m = m,
    |s, m| s.rod_end.thread_m = m,
    |s, m| s.rod_end.jam_nut_m = m,
    |s, m| s.rod_end.insert_out_m = m,
    |s, m| s.rod_end.insert_depth_m = m,
    |s, m| s.rod_end.insert_shank_m = Some(m),
];

/// The whole sheet with this steel, as it reads.
fn paper(setup: &Setup, answers: &Answers) -> String {
    let all = sections(setup, answers, &answers.findings, Units::Sixteenths);
    format!("{all:?}")
}

#[test]
fn steel_of_any_size_has_its_paper_without_a_number_that_is_none() {
    let mut tried = 0;
    for which in [0, 1] {
        let bare = demo(which);
        let answers = Answers::of(&bare);
        for put in LENGTHS {
            for length_m in [1e-4, 0.001, 0.02, 0.3, 20.0] {
                let mut setup = bare.clone();
                put(&mut setup.steel, length_m);
                if setup.validate().is_err() {
                    continue;
                }
                let paper = paper(&setup, &answers);
                assert!(!paper.contains("NaN") && !paper.contains("inf "), "{:?}", setup.steel);
                tried += 1;
            }
        }
    }
    assert!(tried > 60, "{tried}");
}

/// 44.5, 38.1 and 31.8 less two walls of 4.8: 34.9, 28.5 and 22.2.
#[test]
fn inserts_are_bought_by_the_bores_or_by_their_shank() {
    let remarks = |setup: &Setup, units| {
        let table = section(setup, units, "Parts to buy");
        let remark = cell(&table, "Threaded insert, right-hand", "Remarks");
        let bore = remark.split(", thread").next().map(str::to_owned);
        bore.expect("what it fits comes first")
    };
    let mut setup = demo(0);
    assert_eq!(
        remarks(&setup, Units::Millimetres),
        "to fit its tube's bore: 34.9 mm, 28.5 mm or 22.2 mm"
    );
    assert_eq!(
        remarks(&setup, Units::Sixteenths),
        "to fit its tube's bore: 1 3/8\", 1 1/8\" or 7/8\""
    );
    for bar in &mut setup.bars {
        (bar.tube_m, bar.wall_m) = (0.031_75, 0.003_175);
    }
    assert_eq!(remarks(&setup, Units::Sixteenths), "to fit a bore of 1\"");
    setup.steel.rod_end.insert_shank_m = Some(0.0254);
    assert_eq!(remarks(&setup, Units::Sixteenths), "shank of 1\" outside");
}
