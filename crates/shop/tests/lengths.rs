//! A bar taken as built, turned, and cut to suit again: nothing on the stage moves but by the turns.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use rearend::layouts::Layout;
use rearend::mechanism::Part;
use rearend::setup::{AsBuilt, BarEnd, BarId, Length, Mount, Placement, Setup, Side};
use rearend::travel::Row;
use shop::{Bench, Change, Command, Notice, demo};

fn truck(which: usize) -> Setup {
    demo::ALL[which].setup().expect("a demo scene reads")
}

fn rows(bench: &Bench) -> Vec<Row> {
    let solved = bench.document().answers().solved.as_ref().expect("it compiles");
    solved.all_rows().copied().collect()
}

/// What a row says of the axle, whatever its coordinates were measured from.
fn read(row: &Row) -> [f64; 10] {
    let at = &row.at;
    [
        row.height_m,
        row.roll_rad,
        at.origin_in_ground.x,
        at.origin_in_ground.y,
        at.origin_in_ground.z,
        at.yaw_rad,
        row.pinion_to_frame_rad,
        row.shift_m,
        row.fore_aft_m,
        row.misfit_m,
    ]
}

/// File resolution is a millionth of a millimetre and a thousand-millionth of a degree; what is drawn from there takes ten times as much.
const SAME: f64 = 1e-8;

fn are_the_same(found: &[Row], expected: &[Row], what: &str) {
    assert_eq!(found.len(), expected.len(), "{what}");
    for (a, b) in found.iter().zip(expected) {
        for (which, (a, b)) in read(a).iter().zip(read(b)).enumerate() {
            assert!((a - b).abs() <= SAME, "{what}: number {which} is {a} instead of {b}");
        }
    }
}

fn run(bench: &mut Bench, change: Change) {
    bench.run(Command::Apply(change));
    assert!(
        !matches!(bench.notice(), Some(Notice::Refused(_))),
        "{:?}",
        bench.notice()
    );
}

fn set(bench: &mut Bench, part: Part, length: Length) {
    run(bench, Change::SetLength { part, length });
    assert_eq!(
        bench.setup().length(part).is_some_and(|l| l == Length::CutToSuit),
        length == Length::CutToSuit
    );
}

fn parts_of(setup: &Setup) -> Vec<Part> {
    let bars = (0..setup.bars.len()).map(|i| Part::Bar(BarId(i), Side::Drawn));
    let watt = setup.watt.iter().flat_map(|_| [Part::WattLeft, Part::WattRight]);
    bars.chain(watt).collect()
}

fn as_built(bench: &Bench, part: Part) -> AsBuilt {
    shop::as_built(bench.document().answers(), part).expect("the part has a length")
}

/// Every part of every layout there and back, one by one and one upon the other.
#[test]
fn taking_a_bar_as_built_and_back_moves_nothing() {
    for layout in Layout::ALL {
        let mut bench = Bench::new(layout.hang(&truck(0)), None);
        let before = rows(&bench);
        let all = parts_of(bench.setup());
        for part in &all {
            let built = as_built(&bench, *part);
            set(&mut bench, *part, Length::AsBuilt(built));
            are_the_same(&rows(&bench), &before, &format!("{layout:?}, {part:?} as built"));
        }
        for part in &all {
            set(&mut bench, *part, Length::CutToSuit);
            are_the_same(&rows(&bench), &before, &format!("{layout:?}, {part:?} cut to suit"));
        }
    }
}

/// An adjuster turned moves the axle; cut to suit where it then stands, every row is as it was with the turns. Where bars bind in roll, those
/// rows hang on stiffnesses too, which go by the lengths in the drawing: there only rows with both wheels level are held to it.
fn turned_and_cut_to_suit(truck_number: usize, turned: &[(usize, f64)]) {
    let mut bench = Bench::new(truck(truck_number), None);
    let exact = |bench: &Bench| {
        let solved = bench.document().answers().solved.as_ref().expect("it compiles");
        solved.rear_end.mechanism.is_exact()
    };
    let held = |bench: &Bench| -> Vec<Row> {
        let all = exact(bench);
        rows(bench).into_iter().filter(|r| all || r.roll_rad == 0.0).collect()
    };
    let before = held(&bench);
    for (bar, turns) in turned {
        let part = Part::Bar(BarId(*bar), Side::Drawn);
        let mut built = as_built(&bench, part);
        built.turns = *turns;
        set(&mut bench, part, Length::AsBuilt(built));
    }
    let after = held(&bench);
    let went = (after[0].at.origin_in_ground - before[0].at.origin_in_ground).norm();
    let turned_by = (after[0].pinion_to_frame_rad - before[0].pinion_to_frame_rad).abs();
    assert!(went > 1e-4 || turned_by > 1e-3, "turning does something");
    for (bar, _) in turned {
        set(&mut bench, Part::Bar(BarId(*bar), Side::Drawn), Length::CutToSuit);
        are_the_same(&held(&bench), &after, &format!("bar {bar} of truck {truck_number}"));
    }
    assert!(
        bench.setup().placement != Placement::default(),
        "the drawing went to where the axle stands"
    );
    assert!(
        bench
            .document()
            .undo_name()
            .is_some_and(|name| name.starts_with("cut the"))
    );
}

#[test]
fn a_turned_bar_cut_to_suit_leaves_the_axle_where_its_turns_put_it() {
    turned_and_cut_to_suit(2, &[(0, 2.0)]);
    turned_and_cut_to_suit(2, &[(0, -1.5), (1, 3.0)]);
}

#[test]
fn a_turned_bar_beside_a_panhard_bar_cut_to_suit_leaves_the_axle_where_its_turns_put_it() {
    turned_and_cut_to_suit(0, &[(0, 2.0)]);
    turned_and_cut_to_suit(0, &[(2, 3.0)]);
    turned_and_cut_to_suit(0, &[(1, 1.0), (2, -2.0)]);
}

/// The crank stands turned where the bars put the axle; its links keep their lengths only if that turn is kept too.
#[test]
fn a_turned_bar_beside_a_watts_linkage_cut_to_suit_leaves_the_axle_where_its_turns_put_it() {
    turned_and_cut_to_suit(1, &[(1, -1.0)]);
    turned_and_cut_to_suit(1, &[(0, 2.0)]);
}

/// Each of the three steps is one undo, and undone the rows are what they were.
#[test]
fn undone_and_done_again_the_rows_are_what_they_were() {
    let mut bench = Bench::new(truck(2), None);
    let part = Part::Bar(BarId(1), Side::Drawn);
    let mut seen = vec![rows(&bench)];
    let mut built = as_built(&bench, part);
    set(&mut bench, part, Length::AsBuilt(built));
    seen.push(rows(&bench));
    built.turns = 2.0;
    set(&mut bench, part, Length::AsBuilt(built));
    seen.push(rows(&bench));
    set(&mut bench, part, Length::CutToSuit);
    seen.push(rows(&bench));
    for expected in seen[..3].iter().rev() {
        bench.run(Command::Undo);
        are_the_same(&rows(&bench), expected, "undone");
    }
    for expected in &seen[1..] {
        bench.run(Command::Redo);
        are_the_same(&rows(&bench), expected, "done again");
    }
}

/// An arm is made to suit; asked for another length it is left alone.
#[test]
fn an_arm_has_no_length_to_set() {
    let mut bench = Bench::new(Layout::LadderPanhard.hang(&truck(0)), None);
    let before = bench.setup().clone();
    let part = Part::Arm(rearend::setup::ArmId(0), Side::Drawn);
    bench.run(Command::Apply(Change::SetLength {
        part,
        length: Length::AsBuilt(AsBuilt::of_length(0.8)),
    }));
    assert!(
        matches!(bench.notice(), Some(Notice::Refused(_))),
        "{:?}",
        bench.notice()
    );
    assert_eq!(bench.setup(), &before);
}

/// Bars that cannot be bolted in any more leave everything where it last was, to be taken hold of and brought back.
#[test]
fn what_cannot_be_bolted_in_still_has_its_mounts() {
    let mut bench = Bench::new(demo::ALL[0].setup().expect("a demo reads"), None);
    for bar in 0..bench.setup().bars.len() {
        let part = Part::Bar(BarId(bar), Side::Drawn);
        let length = shop::as_built(bench.document().answers(), part).map(Length::AsBuilt);
        let length = length.expect("a solved bar has a length");
        bench.run(Command::Apply(Change::SetLength { part, length }));
    }
    let before = bench.shown().expect("it is solved");
    let mount = Mount::Bar {
        bar: BarId(0),
        end: BarEnd::Frame,
        side: Side::Drawn,
    };
    let at = bench.setup().mount(mount).expect("it is there").point;
    bench.run(Command::Apply(Change::MoveMount {
        mount,
        to: at + nalgebra::Vector3::x() * 0.4,
    }));
    assert!(bench.document().answers().solved.is_err(), "400 mm do not fit");
    let shown = bench.shown().expect("there is still something to take hold of");
    assert_eq!(shown.at, before.at, "where it last was");
    bench.run(Command::Apply(Change::MoveMount { mount, to: at }));
    assert!(bench.document().answers().solved.is_ok(), "and back again");
}
