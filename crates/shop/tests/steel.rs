//! What the shop builds with: each change is one step of undo, and a refused one leaves everything as it was.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use rearend::file;
use rearend::insert::misfits;
use rearend::layouts::Layout;
use rearend::mechanism::Part;
use rearend::setup::{ArmId, BarId, Setup, Side, Steel};
use shop::{Change, Document, demo};

const PANHARD_BAR: Part = Part::Bar(BarId(2), Side::Drawn);

fn setup(which: usize) -> Setup {
    demo::ALL[which].setup().expect("a demo scene reads")
}

/// The usual steel with something changed.
fn with(change: impl FnOnce(&mut Steel)) -> Steel {
    let mut steel = Steel::default();
    change(&mut steel);
    steel
}

/// Applies it; undone everything is as before, done again as after, and the file gives it back.
#[track_caller]
fn done(document: &mut Document, change: &Change, undo_name: &str) -> Setup {
    let before = document.setup().clone();
    document.apply(change).expect("the change is taken");
    let after = document.setup().clone();
    assert_ne!(before, after);
    assert_eq!(document.undo_name(), Some(undo_name));
    assert_eq!(file::read(&file::write(&after)).expect("it reads back"), after);
    assert!(document.undo());
    assert_eq!(*document.setup(), before);
    assert!(document.redo());
    assert_eq!(*document.setup(), after);
    after
}

#[track_caller]
fn refused(change: &Change, sentence: &str) {
    let mut document = Document::new(setup(0), None);
    let before = document.setup().clone();
    let error = document.apply(change).expect_err("it is refused").to_string();
    assert!(error.contains(sentence), "{error}");
    assert_eq!((document.setup(), document.undo_name()), (&before, None));
}

#[test]
fn the_step_says_what_of_the_steel_was_changed() {
    type Put = fn(&mut Steel);
    let changes: [(Put, &str); 14] = [
        (|s| s.plate_m = 0.008, "change the plate"),
        (|s| s.bolt_m = 0.016, "change the bolts"),
        (|s| s.hole_over_m = 0.0, "change the room in the bolts' holes"),
        (|s| s.edge_in_bolts = 1.75, "change the edge around the holes"),
        (|s| s.gap_m = 0.05, "change the gap between the plates"),
        (|s| s.gussets = false, "leave out the gussets"),
        (|s| s.bush_eye_m = 0.06, "change the eyes of the bushes"),
        (|s| s.rod_end.eye_to_end_m = 0.08, "change the length of the rod ends"),
        (|s| s.rod_end.thread_m = 0.05, "change the thread of the rod ends"),
        (|s| s.rod_end.jam_nut_m = 0.01, "change the jam nuts"),
        (|s| s.rod_end.insert_out_m = 0.0, "change how far the inserts stand out"),
        (|s| s.rod_end.insert_depth_m = 0.04, "change the depth of the inserts"),
        (
            |s| s.rod_end.insert_shank_m = Some(0.0254),
            "change the shank of the inserts",
        ),
        (
            |s| (s.rod_end.thread_m, s.rod_end.jam_nut_m) = (0.05, 0.01),
            "change the rod ends",
        ),
    ];
    for (change, name) in changes {
        let mut document = Document::new(setup(0), None);
        let steel = with(change);
        let after = done(&mut document, &Change::SetSteel(steel), name);
        assert_eq!(after.steel, steel);
        document.apply(&Change::SetSteel(steel)).expect("the same again");
        assert!(document.undo());
        assert_eq!(document.undo_name(), None, "what changes nothing is no step");
    }
    let mut document = Document::new(setup(0), None);
    let other = with(|s| (s.plate_m, s.gussets) = (0.008, false));
    done(&mut document, &Change::SetSteel(other), "change what it is built with");
    done(
        &mut document,
        &Change::SetSteel(Steel::default()),
        "build with the usual steel",
    );
}

#[test]
fn steel_that_makes_no_sense_is_refused() {
    let out_of_range = "out of range";
    for steel in [
        with(|s| s.plate_m = 0.0),
        with(|s| s.plate_m = f64::NAN),
        with(|s| s.hole_over_m = -0.001),
        with(|s| s.gap_m = f64::INFINITY),
        with(|s| s.edge_in_bolts = f64::NAN),
        with(|s| s.rod_end.insert_shank_m = Some(f64::NAN)),
        with(|s| s.rod_end.jam_nut_m = -0.001),
    ] {
        refused(&Change::SetSteel(steel), out_of_range);
    }
    let thin = with(|s| s.edge_in_bolts = 0.5);
    refused(
        &Change::SetSteel(thin),
        "the edge of a plate would run through its holes",
    );
    let tight = with(|s| s.gap_m = 0.019);
    refused(
        &Change::SetSteel(tight),
        "the gap between the plates is less than the joint",
    );
}

#[test]
fn a_wall_is_changed_within_its_tube() {
    let wall = |part, wall_m| Change::SetWall { part, wall_m };
    let mut document = Document::new(setup(0), None);
    let after = done(
        &mut document,
        &wall(PANHARD_BAR, 0.0032),
        "change the wall of the panhard bar",
    );
    assert!((after.bars[2].wall_m - 0.0032).abs() < 1e-12);
    let mut document = Document::new(setup(1), None);
    let after = done(
        &mut document,
        &wall(Part::WattRight, 0.0032),
        "change the wall of the Watt's linkage",
    );
    let walls = after.watt.map(|watt| watt.wall_m);
    assert!(walls.is_some_and(|wall_m| (wall_m - 0.0032).abs() < 1e-12));
    // 31.8 across: half of it leaves no bore.
    for wall_m in [0.0, -0.003, 0.0159, f64::NAN] {
        refused(
            &wall(PANHARD_BAR, wall_m),
            "a wall from 1/64 in (0.4 mm) to less than half",
        );
    }
    let no_such = Part::Bar(BarId(9), Side::Drawn);
    refused(&wall(no_such, 0.003), "there is no such part any more");
    let arm = Part::Arm(ArmId(0), Side::Drawn);
    refused(&wall(arm, 0.003), "the wall of an arm is up to whoever builds it");
}

/// Whatever the program brings along or proposes can be built with the usual rod ends.
#[test]
fn the_usual_inserts_fit_the_tubes_of_every_demo_and_every_layout() {
    let demos = demo::ALL.iter().map(|demo| demo.setup().expect("a demo scene reads"));
    let trucks: Vec<_> = demos.chain([demo::new_truck().expect("it reads")]).collect();
    assert_eq!(trucks.len(), 11);
    for truck in &trucks {
        assert_eq!(misfits(truck), [], "{}", truck.name);
        for layout in Layout::ALL {
            assert_eq!(misfits(&layout.hang(truck)), [], "{layout:?} on {}", truck.name);
        }
    }
    // The check is not blind to them: a thread of 1 1/2 in fits none of these tubes.
    let mut large = setup(0);
    large.steel.bolt_m = 0.038_1;
    assert_eq!(misfits(&large).len(), large.bars.len());
}
