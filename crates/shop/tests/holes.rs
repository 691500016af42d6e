//! Bracket holes and locks on the bench: a drag clicks from hole to hole, a nudge goes one on, what is locked stays.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

use nalgebra::Vector3;
use proptest::prelude::*;
use rearend::file;
use rearend::findings::Remedy;
use rearend::layouts::Layout;
use rearend::mechanism::Part;
use rearend::setup::{BarEnd, BarId, HoleRow, Mount, Setup, Side};
use rearend::sideways::LevelAt;
use shop::{Bench, Change, Command, Notice};
use support::{frame_mount, moved, moves, setup};

const LOWER: usize = 0;
const PANHARD: usize = 2;
const PITCH_M: f64 = 0.0254;

/// Five holes an inch apart, the mount in the middle one.
fn row_at(setup: &Setup, mount: Mount, along: Vector3<f64>) -> HoleRow {
    let at = setup.mount(mount).expect("the mount is there").point;
    HoleRow {
        first: at - along * 2.0 * PITCH_M,
        step: along * PITCH_M,
        count: 5,
    }
}

fn apply(bench: &mut Bench, change: Change) {
    bench.run(Command::Apply(change));
    assert_eq!(bench.notice(), None);
}

/// A bench whose mount sits in the middle of five holes, and is selected.
fn in_row(mount: Mount, along: Vector3<f64>) -> Bench {
    let mut bench = Bench::new(setup(0), None);
    let row = Some(row_at(bench.setup(), mount, along));
    apply(&mut bench, Change::SetHoles { mount, row });
    bench.run(Command::Select(Some(mount)));
    bench
}

#[track_caller]
fn is_refused(bench: &mut Bench, change: Change, says: &str) {
    let before = bench.setup().clone();
    bench.run(Command::Apply(change));
    assert_eq!(bench.notice(), Some(&Notice::Refused(says.to_owned())));
    assert_eq!(bench.setup(), &before, "nothing has changed");
}

#[test]
fn a_drag_clicks_from_hole_to_hole_and_is_one_step() {
    for side in [Side::Drawn, Side::Mirrored] {
        let mount = Mount::Bar {
            bar: BarId(LOWER),
            end: BarEnd::Frame,
            side,
        };
        let mut bench = in_row(mount, Vector3::z());
        let before = bench.setup().clone();
        bench.run(Command::BeginStep);
        let mut seen = Vec::new();
        for mm in 0..=40 {
            let by = Vector3::new(0.004, 0.003, f64::from(mm) * 1e-3);
            apply(&mut bench, moved(&before, mount, by));
            seen.push(bench.setup().hole_of(mount).expect("it is always in a hole"));
        }
        bench.run(Command::EndStep);
        seen.dedup();
        assert_eq!(seen, [2, 3, 4], "halfway between two holes it clicks over");
        bench.run(Command::Undo);
        assert_eq!(bench.setup(), &before, "the drag is one step");
        bench.run(Command::Redo);
        assert_eq!(bench.setup().hole_of(mount), Some(4));
    }
}

#[test]
fn a_nudge_goes_one_hole_on_where_the_row_goes_that_way() {
    let mut bench = in_row(frame_mount(LOWER), Vector3::z());
    let hole = |bench: &Bench| bench.setup().hole_of(frame_mount(LOWER));
    for (by, expected) in [
        (Vector3::z(), 3),
        (Vector3::z() * 10.0, 4),
        (Vector3::z(), 4),
        (Vector3::x(), 4),
        (-Vector3::y(), 4),
        (-Vector3::z(), 3),
        (Vector3::zeros(), 3),
    ] {
        bench.run(Command::Nudge(by));
        assert_eq!((hole(&bench), bench.notice()), (Some(expected), None), "{by:?}");
    }
}

#[test]
fn a_leaning_row_is_followed_whichever_way_it_leads() {
    let along = Vector3::new(-0.6, 0.0, 0.8);
    let mut bench = in_row(frame_mount(PANHARD), along);
    for (by, expected) in [
        (Vector3::z(), 3),
        (Vector3::x(), 2),
        (-Vector3::x(), 3),
        (Vector3::y(), 3),
    ] {
        bench.run(Command::Nudge(by));
        assert_eq!(bench.setup().hole_of(frame_mount(PANHARD)), Some(expected), "{by:?}");
    }
}

#[test]
fn what_is_locked_is_refused_by_name_and_stays() {
    let mount = frame_mount(PANHARD);
    let says = "The panhard bar frame mount is locked; unlock it on its card first.";
    let mut bench = Bench::new(setup(0), None);
    bench.run(Command::Select(Some(mount)));
    apply(&mut bench, Change::SetLocked { mount, locked: true });
    let change = moved(bench.setup(), mount, Vector3::z() * 0.01);
    is_refused(&mut bench, change, says);
    let remedy = Remedy::LevelBar(BarId(PANHARD), LevelAt::HalfTravel);
    is_refused(&mut bench, Change::Take(remedy), says);
    let before = bench.setup().clone();
    bench.run(Command::Dismiss);
    bench.run(Command::Nudge(Vector3::z()));
    assert_eq!(bench.notice(), Some(&Notice::Refused(says.to_owned())));
    assert_eq!(bench.setup(), &before);

    let part = Part::Bar(BarId(PANHARD), Side::Drawn);
    is_refused(&mut bench, Change::Remove(part), says);
    is_refused(&mut bench, Change::Hang(Layout::ParallelWatt), says);
    let other = Part::Bar(BarId(LOWER), Side::Drawn);
    apply(&mut bench, Change::Remove(other));
    bench.run(Command::Undo);
    apply(&mut bench, Change::SetLocked { mount, locked: false });
    let change = moved(bench.setup(), mount, Vector3::z() * 0.01);
    apply(&mut bench, change);
    assert_ne!(bench.setup(), &before, "unlocked it moves");
}

#[test]
fn a_row_that_the_mount_is_not_in_is_refused_with_the_nearest_hole() {
    let mount = frame_mount(PANHARD);
    let mut bench = Bench::new(setup(0), None);
    let mut row = row_at(bench.setup(), mount, Vector3::z());
    row.first.z += 0.004;
    let says = "The panhard bar, on the frame, is in none of its bracket holes: the nearest is hole 3, -8 1/16\" forward, 13 3/8\" left, 10 3/16\" up; \
                put it there, or take the row of holes out.";
    is_refused(&mut bench, Change::SetHoles { mount, row: Some(row) }, says);
    row.count = 40;
    let says = "A row has 2 to 12 bracket holes, from 1 mm to 500 mm apart.";
    is_refused(&mut bench, Change::SetHoles { mount, row: Some(row) }, says);
}

#[test]
fn a_crank_has_neither_holes_nor_lock() {
    let mut bench = Bench::new(setup(1), None);
    let says = "Only the ends of bars, arms and links can have bracket holes or be locked.";
    for mount in [Mount::WattPivot, Mount::WattLeftArm, Mount::WattRightArm] {
        let row = Some(row_at(bench.setup(), mount, Vector3::z()));
        is_refused(&mut bench, Change::SetHoles { mount, row }, says);
        is_refused(&mut bench, Change::SetLocked { mount, locked: true }, says);
    }
    for mount in [Mount::WattLeft, Mount::WattRight] {
        let row = Some(row_at(bench.setup(), mount, Vector3::z()));
        apply(&mut bench, Change::SetHoles { mount, row });
        assert_eq!(bench.setup().hole_of(mount), Some(2));
    }
}

#[test]
fn a_remedy_takes_the_nearest_hole_and_says_where_that_is_the_same() {
    let mount = frame_mount(PANHARD);
    let mut bench = in_row(mount, Vector3::z());
    let remedy = Change::Take(Remedy::LevelBar(BarId(PANHARD), LevelAt::Ride));
    // The frame end stands at 255 mm, the axle end at ride height at 168 + 60 mm: one hole lower it is level within 2 mm.
    apply(&mut bench, remedy.clone());
    assert_eq!(bench.setup().hole_of(mount), Some(1));
    let says = "The bracket hole it is in is already the nearest to that; shift the row of holes on its card.";
    is_refused(&mut bench, remedy, says);
}

#[test]
fn undo_names_what_it_takes_back() {
    let mount = frame_mount(PANHARD);
    let row = row_at(&setup(0), mount, Vector3::z());
    for (change, name) in [
        (
            Change::SetHoles { mount, row: Some(row) },
            "set the bracket holes of the panhard bar, on the frame",
        ),
        (
            Change::SetHoles { mount, row: None },
            "leave out the bracket holes of the panhard bar, on the frame",
        ),
        (
            Change::SetLocked { mount, locked: true },
            "lock the panhard bar, on the frame",
        ),
        (
            Change::SetLocked { mount, locked: false },
            "unlock the panhard bar, on the frame",
        ),
    ] {
        assert_eq!(change.name(&setup(0)), name);
    }
}

/// Two bars of their own stand in holes where the pair's did, and the pair again.
#[test]
fn unlinking_takes_the_row_to_the_other_side() {
    let bar = BarId(LOWER);
    let mut bench = in_row(frame_mount(LOWER), Vector3::new(0.0, 0.6, 0.8));
    let before = bench.setup().clone();
    let other = Mount::Bar {
        bar,
        end: BarEnd::Frame,
        side: Side::Mirrored,
    };
    let mirrored = before.hole_row(other);
    apply(&mut bench, Change::SetMirrored { bar, mirrored: false });
    assert_eq!(bench.setup().hole_row(frame_mount(LOWER + 1)), mirrored);
    apply(&mut bench, Change::SetMirrored { bar, mirrored: true });
    assert_eq!(bench.setup(), &before);
}

#[test]
fn a_copy_of_a_bar_has_its_brackets_with_it_and_is_not_locked() {
    let mut bench = in_row(frame_mount(LOWER), Vector3::z());
    let mount = frame_mount(LOWER);
    apply(&mut bench, Change::SetLocked { mount, locked: true });
    apply(&mut bench, Change::Duplicate(BarId(LOWER)));
    let copy = frame_mount(bench.setup().bars.len() - 1);
    assert_eq!(bench.setup().hole_of(copy), Some(2));
    assert!(!bench.setup().is_locked(copy));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    /// Whatever is dragged, what sits in holes stays in one, what is locked stays where it is, and the file takes it all.
    #[test]
    fn no_drag_takes_a_mount_out_of_its_holes(moves in moves(1..8)) {
        let row_mount = frame_mount(LOWER);
        let locked_mount = frame_mount(PANHARD);
        let mut bench = in_row(row_mount, Vector3::new(0.0, -0.6, 0.8));
        apply(&mut bench, Change::SetLocked { mount: locked_mount, locked: true });
        let before = bench.setup().mount(locked_mount);
        for step in moves {
            let change = step.change(bench.setup());
            bench.run(Command::Apply(change));
            prop_assert!(bench.setup().hole_of(row_mount).is_some());
            prop_assert_eq!(bench.setup().mount(locked_mount), before);
        }
        let read = file::read(&file::write(bench.setup()));
        prop_assert_eq!(read.as_ref(), Ok(bench.setup()));
    }
}
