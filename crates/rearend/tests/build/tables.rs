//! What the tables say is what the answers hold.

use rearend::answers::Answers;
use rearend::build::Tolerances;
use rearend::clearance::Fault;
use rearend::findings::{Grade, Kind, capitalised, directed};
use rearend::square::{SQUARE_M, Stance};
use rearend::tape::{Units, degrees};

use crate::common::{cell, near, section};
use crate::support::demo;

#[test]
fn the_travel_table_holds_the_poses() {
    let setup = demo(0);
    let answers = Answers::of(&setup);
    for units in Units::ALL {
        let words = section(&setup, units, "Through the travel");
        let table = words.table.expect("a table");
        assert_eq!(table.rows.len(), 10, "nine heights and ride height");
        let travel = &setup.travel;
        let rows = [
            (0, travel.laid_out_m),
            (9, travel.full_lift_m),
            (1, 0.090 + 0.140 / 8.0),
        ];
        for (i, height_m) in rows {
            let row = answers.pose(&setup, height_m, 0.0).expect("a pose");
            let shaft = row.shaft.expect("a shaft");
            let cells = &table.rows[i];
            assert_eq!(cells[1], units.length(height_m));
            assert_eq!(cells[2], directed(units, row.shift_m, "left", "right"));
            assert_eq!(cells[4], degrees(row.pinion_to_frame_rad, 2));
            assert_eq!(cells[6], degrees(shaft.front_joint_rad, 2));
            assert_eq!(cells[8], directed(units, shaft.slip_m, "apart", "together"));
            assert_eq!(cells[9], units.length(row.spring.expect("springs").left.length_m));
        }
        let ride = table
            .rows
            .iter()
            .find(|cells| cells[0] == "ride height")
            .expect("ride height");
        assert_eq!(ride[1], units.length(0.150));
        assert_eq!(ride[2], units.movement(0.0));
    }
}

#[test]
fn ride_height_is_told_once() {
    let mut setup = demo(0);
    setup.travel.ride_m = 0.160;
    let words = section(&setup, Units::Millimetres, "Through the travel");
    let table = words.table.expect("a table");
    // Midway between 90 and 230.
    assert_eq!(table.rows.len(), 9);
    assert_eq!(table.rows[4][0], "ride height");
}

#[test]
fn joints_are_told_at_their_worst() {
    let setup = demo(0);
    let solved = Answers::of(&setup).solved.expect("it compiles");
    let words = section(&setup, Units::Millimetres, "Joints");
    let lower = solved
        .swings
        .iter()
        .filter(|s| s.part.plain_name(&setup) == "lower bar" && s.end == rearend::setup::BarEnd::Frame);
    let most_rad = lower.map(|s| s.most_rad).fold(0.0, f64::max);
    assert_eq!(cell(&words, "lower bar, on the frame", "Swings"), degrees(most_rad, 1));
    assert_eq!(cell(&words, "lower bar, on the frame", "May swing"), "14.0°");
    assert_eq!(
        words.table.expect("a table").rows.len(),
        6,
        "three kinds of bar with two ends"
    );
}

/// 318 of loaded radius.
#[test]
fn heights_are_told_as_described() {
    let setup = demo(0);
    let words = section(&setup, Units::Millimetres, "Ride heights");
    let row = |name: &str| ["Laid out", "Ride height", "Full lift"].map(|column| cell(&words, name, column));
    assert_eq!(row("Rails off the ground"), ["90.0 mm", "150.0 mm", "230.0 mm"]);
    assert_eq!(
        row("Axle's centre to the straight rail's underside"),
        ["228.0 mm above", "168.0 mm above", "88.0 mm above"]
    );
    // The rail over the axle has risen by 235 and is notched by 70; the tube is 76.2.
    assert_eq!(
        row("Between the tube's top and the rail over it"),
        ["38.9 mm", "98.9 mm", "178.9 mm"]
    );
    let solved = Answers::of(&setup).solved.expect("it compiles");
    let low = solved.level.rows.first().and_then(|row| row.tyres).expect("tyres");
    let tucked_m = low
        .left
        .tucked_m
        .expect("a lip")
        .min(low.right.tucked_m.expect("a lip"));
    let side = if tucked_m < 0.0 { "below" } else { "above" };
    assert_eq!(
        row("Tyre's top to the lip's edge")[0],
        format!("{} {side}", Units::Millimetres.length(tucked_m.abs()))
    );
}

#[test]
fn what_is_not_fine_is_told_in_full() {
    for which in 0..3 {
        let setup = demo(which);
        let answers = Answers::of(&setup);
        let words = section(&setup, Units::Sixteenths, "What to look at");
        let wanted: Vec<Vec<String>> = answers
            .findings
            .iter()
            .filter(|f| f.grade != Grade::Fine)
            .map(|f| vec![capitalised(f.grade.word()), f.sentence(&setup, Units::Sixteenths)])
            .collect();
        assert_eq!(words.table.map(|t| t.rows).unwrap_or_default(), wanted);
    }
}

#[test]
fn the_notch_is_told_with_what_is_left() {
    let words = section(&demo(0), Units::Millimetres, "Clearances and notch");
    let said = "Notch in both rails: 70.0 mm deep over the axle line, 270.0 mm long, half of it either way; 80.0 mm of the rail is left above it.";
    assert!(words.notes[0].starts_with(said), "{:?}", words.notes);
    assert!(!words.table.expect("something comes nearest").rows.is_empty());
    let mut uncut = demo(0);
    uncut.rails.notch = None;
    let words = section(&uncut, Units::Millimetres, "Clearances and notch");
    assert_eq!(words.notes[0], "No notch is cut in the rails.");
}

/// An axle drawn as far out of square as counts as square still: its diagonals differ by the tolerance.
#[test]
fn the_diagonals_may_differ_by_what_square_allows() {
    let straight = demo(0);
    let stance = |setup: &rearend::setup::Setup| -> Stance { Answers::of(setup).solved.expect("it compiles").stance };
    let tolerances = Tolerances::of(&straight, &stance(&straight));
    let mut turned = straight.clone();
    turned.placement.steer_rad = (SQUARE_M / straight.track_m()).asin();
    let stands = stance(&turned);
    near(stands.out_of_square_m, SQUARE_M, 1e-9);
    near(stands.cross_difference_m().abs(), tolerances.cross_m, 1e-5);
}

/// Flanges 1524 apart, rails 864, marks a metre ahead and level with the rails' undersides, the axle's centre 168 above them.
#[test]
fn square_is_measured_from_rails_to_flanges() {
    let words = section(&demo(0), Units::Millimetres, "Square and central");
    let reads = |row: &str| cell(&words, row, "Should read");
    assert_eq!(reads("Aside, left"), "330.0 mm");
    assert_eq!(reads("Aside, right"), "330.0 mm");
    assert_eq!(reads("Straight back, left"), "1000.0 mm");
    let diagonal_m = 1.0_f64.hypot(0.432 + 0.762).hypot(0.168);
    assert_eq!(reads("Diagonal"), Units::Millimetres.length(diagonal_m));
    assert_eq!(reads("Pinion"), "2.50° nose up");
    // Twice an eighth of an inch, as everywhere 3.2.
    assert_eq!(cell(&words, "Aside, left", "May differ by"), "6.4 mm");
}

/// Drawn 5 to the left and a degree to the left: one flange comes nearer to its rail, one mark nearer to the tube.
#[test]
fn an_axle_drawn_off_straight_reads_differently_on_its_two_sides() {
    let mut setup = demo(0);
    (setup.placement.left_m, setup.placement.steer_rad) = (0.005, 1f64.to_radians());
    let words = section(&setup, Units::Millimetres, "Square and central");
    let reads = |row: &str| cell(&words, row, "Should read");
    let (sin, cos) = 1f64.to_radians().sin_cos();
    let mm = |m: f64| Units::Millimetres.length(m);
    assert_eq!(reads("Aside, left"), mm(0.005 + 0.762 * cos - 0.432));
    assert_eq!(reads("Aside, right"), mm(0.762 * cos - 0.005 - 0.432));
    // Turned to the left, the left end goes back.
    assert_eq!(reads("Straight back, left"), mm(1.0 + (0.432 - 0.005) * sin / cos));
    assert_eq!(reads("Straight back, right"), mm(1.0 - (0.432 + 0.005) * sin / cos));
}

#[test]
fn what_comes_near_is_told_with_its_gap() {
    let setup = demo(0);
    let answers = Answers::of(&setup);
    let words = section(&setup, Units::Millimetres, "Clearances and notch");
    let near = answers.findings.iter().find_map(|f| match &f.kind {
        Kind::Clearance(Fault::Clear(near)) => Some(*near),
        _ => None,
    });
    let near = near.expect("everything keeps clear");
    let name = capitalised(&near.a.name(&setup, Units::Millimetres));
    assert_eq!(cell(&words, &name, "Gap"), Units::Millimetres.length(near.gap_m));
    assert_eq!(cell(&words, &name, "Verdict"), "fine");
}

/// No size that a rule, a drill or a plate rack has is told in thousandths of an inch: demo 01 is built of inch sizes.
#[test]
fn shop_sizes_read_as_fractions() {
    let setup = demo(0);
    for title in [
        "Brackets",
        "How brackets stand",
        "Square and central",
        "Order of work",
        "Parts to buy",
    ] {
        let words = section(&setup, Units::Sixteenths, title);
        let cells = words.table.iter().flat_map(|t| t.rows.iter().flatten());
        for text in words.text.iter().chain(&words.notes).chain(cells) {
            let mut numbers = text.split_whitespace().zip(text.split_whitespace().skip(1));
            let decimal = numbers.find(|(number, unit)| number.contains('.') && unit.starts_with("in"));
            assert_eq!(decimal, None, "{title}: {text}");
        }
    }
    let brackets = section(&setup, Units::Sixteenths, "Brackets");
    let row = "Lower bar, on the axle: side plate";
    assert_eq!(cell(&brackets, row, "Thickness"), "1/4\"");
    assert_eq!(cell(&brackets, row, "Drilled"), "1 hole of 25/32\"");
    let square = section(&setup, Units::Sixteenths, "Square and central");
    assert_eq!(cell(&square, "Aside, left", "May differ by"), "1/4\"");
    // 4.8 of wall are 3/16 in, 44.5 outside are 1 3/4 in.
    let tube = |units: Units| cell(&section(&setup, units, "Cut list"), "lower bar", "Tube, outside × wall");
    assert_eq!(tube(Units::Sixteenths), "1 3/4\" × 3/16\"");
    assert_eq!(tube(Units::DecimalInches), "1.75 in × 0.19 in");
    assert_eq!(tube(Units::Millimetres), "44.5 mm × 4.8 mm");
}
