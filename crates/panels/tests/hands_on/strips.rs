//! The travel strips.

use egui::{PointerButton, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use panels::{Quantity, strips_ui};
use rearend::setup::{BarEnd, Travel};
use rearend::tape::Units;
use rearend::travel::Row;
use shop::{Bench, Change, Command, Stand};

use crate::support::{Window, bench, click_at, drag, mount, painted, window};

const TITLES: [&str; 3] = ["Axle shift", "Pinion angle", "Fore-aft"];
const SCREEN_M: f64 = 1e-6;

fn strips(bench: Bench) -> Window {
    window(bench, vec2(420.0, 620.0), |ui, bench| {
        strips_ui(ui, bench, &[Quantity::ForeAft])
    })
}

fn rows(bench: &Bench) -> &[Row] {
    let solved = bench.document().answers().solved.as_ref();
    &solved.expect("the setup is solved").level.rows
}

/// What the strip of this title says of itself.
#[track_caller]
fn description(window: &Window, title: &str) -> String {
    let begins = format!("{title}: ");
    let all = window.get_all_by_label_contains(&begins);
    let found: Vec<_> = all.filter_map(|n| n.accesskit_node().value()).collect();
    assert_eq!(found.len(), 1, "{found:?}");
    found.concat()
}

/// A row's quantity, + left, nose up, forward; in the unit that is shown, and to which decimal it is.
fn quantity(title: &str, row: &Row, units: Units) -> (f64, f64) {
    let (unit_m, half_a_decimal) = match units {
        Units::Millimetres => (1e-3, 0.005),
        _ => (0.0254, 0.0005),
    };
    match title {
        "Axle shift" => (row.shift_m / unit_m, half_a_decimal),
        "Fore-aft" => (row.fore_aft_m / unit_m, half_a_decimal),
        _ => (row.pinion_to_frame_rad.to_degrees(), 0.005),
    }
}

/// Reads `0.31 in left` and the like.
fn signed(words: &str) -> f64 {
    let number = words.split(|c: char| !c.is_ascii_digit() && c != '.').next();
    let size: f64 = number.and_then(|n| n.parse().ok()).expect("words begin with a number");
    let is_minus = ["right", "down", "back"].iter().any(|w| words.contains(w));
    let is_plus = ["left", "up", "forward"].iter().any(|w| words.contains(w));
    assert!(
        is_minus != is_plus || (size == 0.0 && !is_minus),
        "one side is named: {words}"
    );
    if is_minus { -size } else { size }
}

fn ends(description: &str) -> [f64; 2] {
    let (low, high) = description.split_once(", full lift ").expect("full lift is named");
    let (_, low) = low.split_once(": laid out ").expect("laid out is named");
    [signed(low), signed(high)]
}

#[test]
fn a_strip_says_in_words_what_it_shows_laid_out_and_at_full_lift() {
    for which in 0..3 {
        for units in Units::ALL {
            let mut bench = bench(which);
            bench.run(Command::SetUnits(units));
            let Travel {
                laid_out_m,
                full_lift_m,
                ..
            } = bench.setup().travel;
            let (low, high) = (rows(&bench)[0], rows(&bench)[rows(&bench).len() - 1]);
            assert!((low.height_m - laid_out_m).abs() < 1e-9 && (high.height_m - full_lift_m).abs() < 1e-9);
            let window = strips(bench);
            for title in TITLES {
                let description = description(&window, title);
                for (said, row) in ends(&description).into_iter().zip([low, high]) {
                    let (is, half_a_decimal) = quantity(title, &row, units);
                    assert!(
                        (said - is).abs() <= half_a_decimal * 1.001,
                        "{which} {units:?}: {description}, is {is}"
                    );
                }
            }
        }
    }
}

#[test]
fn an_end_that_is_not_reached_is_not_given_a_value() {
    let mut bench = bench(0);
    let travel = Travel {
        full_lift_m: 1.5,
        ..bench.setup().travel
    };
    bench.run(Command::Apply(Change::SetTravel(travel)));
    let last = rows(&bench)[rows(&bench).len() - 1];
    assert!(
        last.height_m < 1.4,
        "bars of half a metre do not reach down a metre and a half"
    );
    let window = strips(bench);
    for title in TITLES {
        let description = description(&window, title);
        assert!(description.ends_with(", full lift not reached"), "{description}");
        assert!(!description.contains("laid out not reached"), "{description}");
    }
}

#[test]
fn a_strip_shows_the_value_now() {
    for units in Units::ALL {
        let mut bench = bench(0);
        bench.run(Command::SetUnits(units));
        let height_m = bench.setup().travel.full_lift_m;
        bench.run(Command::StandAt(Stand {
            height_m,
            roll_rad: 0.0,
        }));
        let now = *bench.now().expect("full lift is reached");
        let window = strips(bench);
        for title in TITLES {
            let (is, half_a_decimal) = quantity(title, &now, units);
            let texts = painted(&window);
            let head = texts.iter().position(|t| t == title).expect("the strip has a title");
            let said = signed(&texts[head + 1]);
            assert!((said - is).abs() <= half_a_decimal * 1.001, "{title}: {said}, is {is}");
        }
    }
}

#[test]
fn a_height_beyond_the_reach_of_the_bars_has_no_value() {
    let mut bench = bench(0);
    let travel = Travel {
        full_lift_m: 1.5,
        ..bench.setup().travel
    };
    bench.run(Command::Apply(Change::SetTravel(travel)));
    bench.run(Command::StandAt(Stand {
        height_m: 1.5,
        roll_rad: 0.0,
    }));
    let window = strips(bench);
    let said = painted(&window).into_iter().filter(|t| t == "not reached").count();
    assert_eq!(said, TITLES.len());
}

#[test]
fn clicking_and_dragging_a_strip_moves_the_ride_height_and_keeps_the_roll() {
    for title in TITLES {
        let mut bench = bench(0);
        let roll_rad = bench.setup().travel.one_wheel_up_rad / 2.0;
        let height_m = bench.stand().height_m;
        bench.run(Command::StandAt(Stand { height_m, roll_rad }));
        let Travel {
            laid_out_m,
            full_lift_m,
            ..
        } = bench.setup().travel;
        let mut window = strips(bench);
        let label = description(&window, title);
        let rect = window.get_by_label(&label).rect();
        click_at(&mut window, rect.center());
        let stand = window.state().bench.stand();
        assert!(
            (stand.height_m - f64::midpoint(laid_out_m, full_lift_m)).abs() < SCREEN_M,
            "{stand:?}"
        );
        assert_eq!(stand.roll_rad, roll_rad);
        drag(
            &mut window,
            PointerButton::Primary,
            rect.center(),
            vec2(0.0, -rect.height()),
        );
        assert_eq!(window.state().bench.stand().height_m, full_lift_m);
        drag(
            &mut window,
            PointerButton::Primary,
            rect.center(),
            vec2(0.0, rect.height()),
        );
        assert_eq!(window.state().bench.stand().height_m, laid_out_m);
    }
}

/// The number behind "full scale ±", with how it is written.
fn full_scales(window: &Window) -> Vec<(f64, String)> {
    let texts = painted(window);
    let written = texts.iter().filter_map(|t| t.strip_prefix("full scale\n±"));
    let number = |t: &str| {
        let digits = t.split(|c: char| !c.is_ascii_digit() && c != '.').next();
        digits.and_then(|d| d.parse().ok()).expect("a full scale is a number")
    };
    written.map(|t| (number(t), t.to_owned())).collect()
}

#[test]
fn every_strip_tells_a_round_full_scale_that_just_holds_its_curve() {
    let mut seen = std::collections::HashSet::new();
    for units in Units::ALL {
        for lift_mm in (-120..=200).step_by(16) {
            let mut bench = bench(0);
            bench.run(Command::SetUnits(units));
            let frame = mount(2, BarEnd::Frame);
            let mut to = bench.setup().mount(frame).expect("the bar has a mount").point;
            to.z += f64::from(lift_mm) * 1e-3;
            bench.run(Command::Apply(Change::MoveMount { mount: frame, to }));
            let middle = bench.setup().axle.pinion_angle_rad.to_degrees();
            let rows = rows(&bench).to_vec();
            let scales = full_scales(&strips(bench));
            assert_eq!(scales.len(), TITLES.len());
            for (title, (full, written)) in TITLES.into_iter().zip(scales) {
                let middle = if title == "Pinion angle" { middle } else { 0.0 };
                let sizes = rows.iter().map(|r| (quantity(title, r, units).0 - middle).abs());
                let largest = sizes.fold(0.0, f64::max);
                assert!(full >= largest, "{title} {units:?}: {written} for {largest}");
                // Below these a curve is mere rounding.
                let least = match (title, units) {
                    ("Pinion angle", _) => 0.25,
                    (_, Units::Millimetres) => 1.0,
                    _ => 0.05,
                };
                assert!(
                    full <= 3.0 * largest.max(least),
                    "{title} {units:?}: {written} for {largest}"
                );
                let symbol = if title == "Pinion angle" { "°" } else { units.symbol() };
                assert!(written.ends_with(symbol), "{written}");
                let leading = full / 10f64.powf(full.log10().floor() + 1e-9);
                let round = [1.0, 2.0, 2.5, 5.0, 10.0].iter().any(|r| (leading - r).abs() < 1e-6);
                assert!(round && written.len() <= 8, "{written} is not a round number");
                seen.insert(written);
            }
        }
    }
    assert!(seen.len() > 6, "the scale follows the curve: {seen:?}");
}
