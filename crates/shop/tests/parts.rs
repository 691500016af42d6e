//! Edits of single parts and of what is written about the setup: each is one step of undo, and a refused one leaves everything as it was.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use nalgebra::Vector3;
use rearend::file;
use rearend::layouts::Layout;
use rearend::mechanism::Part;
use rearend::setup::{ArmId, Bar, BarEnd, BarId, Bolt, Ends, HoleRow, Joint, JointKind, Mount, Role, Setup, Side};
use shop::{Change, ChangeError, Document, demo};

/// The first demo: a mirrored lower bar, a mirrored upper bar, a panhard bar.
const LOWER: usize = 0;
const PANHARD: usize = 2;

fn bar(which: usize) -> Part {
    Part::Bar(BarId(which), Side::Drawn)
}

fn setup(which: usize) -> Setup {
    demo::ALL[which].setup().expect("a demo scene reads")
}

const ARM: Part = Part::Arm(ArmId(0), Side::Drawn);

fn document() -> Document {
    Document::new(setup(0), None)
}

fn with_watt() -> Document {
    let document = Document::new(setup(1), None);
    assert!(document.setup().watt.is_some());
    document
}

fn with_arms() -> Document {
    Document::new(Layout::LadderPanhard.hang(&setup(0)), None)
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

/// Tries it; it is refused with this sentence, and nothing has changed.
#[track_caller]
fn refused(document: &mut Document, change: &Change, sentence: &str) {
    let (before, revision) = (document.setup().clone(), document.revision());
    let steps = document.undo_name().map(str::to_owned);
    let error = document.apply(change).expect_err("the change is refused");
    assert_eq!(error.to_string(), sentence);
    assert_eq!(*document.setup(), before);
    assert_eq!(document.revision(), revision);
    assert_eq!(document.undo_name(), steps.as_deref());
}

fn rename(part: Part, name: &str) -> Change {
    let name = name.to_owned();
    Change::RenamePart { part, name }
}

#[test]
fn a_bar_and_an_arm_take_another_name() {
    let mut document = document();
    let was = document.setup().bars[LOWER].name.clone();
    let after = done(
        &mut document,
        &rename(bar(LOWER), "  long \"lower\" bar \\ 1 "),
        &format!("rename the {was}"),
    );
    assert_eq!(
        after.bars[LOWER].name, "long \"lower\" bar \\ 1",
        "without blanks around it"
    );
    let mut document = with_arms();
    let was = document.setup().arms[0].name.clone();
    let after = done(&mut document, &rename(ARM, "ladder"), &format!("rename the {was}"));
    assert_eq!(after.arms[0].name, "ladder");
}

#[test]
fn the_name_that_it_has_is_no_step() {
    let mut document = document();
    let name = document.setup().bars[LOWER].name.clone();
    document
        .apply(&rename(bar(LOWER), &name))
        .expect("nothing is wrong with it");
    assert_eq!(document.undo_name(), None);
}

#[test]
fn a_name_that_nobody_could_read_is_refused() {
    let mut document = document();
    for name in ["", "   ", "upper\nbar"] {
        refused(&mut document, &rename(bar(LOWER), name), "a name is expected");
    }
    let long = "l".repeat(61);
    refused(
        &mut document,
        &rename(bar(LOWER), &long),
        "the name is 61 letters long; up to 60 are expected",
    );
    done(&mut document, &rename(bar(LOWER), &long[1..]), "rename the lower bar");
}

#[test]
fn two_parts_of_one_name_are_refused() {
    let mut document = with_arms();
    let panhard = document.setup().bars[0].name.clone();
    let sentence = format!("another part is called {panhard}; a name of its own is expected");
    refused(&mut document, &rename(ARM, &panhard), &sentence);
    let arm = document.setup().arms[0].name.clone();
    let sentence = format!("another part is called {arm}; a name of its own is expected");
    refused(&mut document, &rename(bar(0), &arm), &sentence);
}

#[test]
fn a_watts_linkage_has_no_name_to_change() {
    let sentence = "a Watt's linkage has no name of its own";
    refused(&mut with_watt(), &rename(Part::WattLeft, "Watt"), sentence);
}

#[test]
fn a_tube_is_as_thick_as_it_is_said_to_be() {
    let tube = |part| Change::SetTube { part, tube_m: 0.05 };
    let after = done(&mut document(), &tube(bar(LOWER)), "change the tube of the lower bar");
    assert_eq!(after.bars[LOWER].tube_m, 0.05);
    let mut document = with_arms();
    let name = format!("change the tube of the {}", document.setup().arms[0].name);
    assert_eq!(done(&mut document, &tube(ARM), &name).arms[0].tube_m, 0.05);
    let after = done(
        &mut with_watt(),
        &tube(Part::WattRight),
        "change the tube of the Watt's linkage",
    );
    assert_eq!(after.watt.expect("it is still there").tube_m, 0.05);
}

#[test]
fn a_tube_of_nothing_or_of_too_much_is_refused() {
    let mut document = document();
    let sentence = "a tube from 1/16 in (1.6 mm) to 8 in (203.2 mm) across is expected";
    for tube_m in [0.0, -0.04, 1e-4, 0.21, 1e9, f64::NAN, f64::INFINITY] {
        let part = bar(LOWER);
        refused(&mut document, &Change::SetTube { part, tube_m }, sentence);
    }
    for tube_m in [0.0254 / 16.0, 8.0 * 0.0254] {
        let part = bar(LOWER);
        document
            .apply(&Change::SetTube { part, tube_m })
            .expect("what the sentence names is taken");
    }
}

#[test]
fn a_bar_takes_another_role() {
    let mut document = document();
    for (role, words) in [
        (Role::Upper, "make the lower bar an upper bar"),
        (Role::Sideways, "make the lower bar a sideways bar"),
        (Role::Lower, "make the lower bar a lower bar"),
    ] {
        let bar = BarId(LOWER);
        let after = done(&mut document, &Change::SetRole { bar, role }, words);
        assert_eq!(after.bars[LOWER].role, role);
    }
}

#[test]
fn both_ends_change_at_once_and_bolts_stay() {
    let mut document = document();
    let upright = Joint {
        bolt: Bolt::Upright,
        limit_rad: Some(0.1),
        ..Joint::of(JointKind::RodEnd)
    };
    document
        .apply(&Change::SetJoint {
            bar: BarId(LOWER),
            end: BarEnd::Frame,
            joint: upright,
        })
        .expect("a joint can be set");
    let change = |ends| Change::SetEnds { part: bar(LOWER), ends };
    let words = "change the ends of the lower bar";
    let after = done(&mut document, &change(Ends::Bushes), words);
    let changed = &after.bars[LOWER];
    assert_eq!(changed.ends, Ends::Bushes);
    assert_eq!(changed.axle_joint, None, "the bar says it of both");
    let frame = changed.joint(BarEnd::Frame);
    assert_eq!((frame.kind, frame.bolt), (JointKind::Rubber, Bolt::Upright));
    assert_eq!(frame.limit_rad, None, "what was typed of a rod end is not so of a bush");
    assert_eq!(changed.joint(BarEnd::Axle), Joint::of(JointKind::Rubber));
}

#[test]
fn ends_that_differ_become_alike_and_what_is_so_already_keeps_its_figures() {
    let mut document = document();
    let stiff = Joint {
        stiffness_n_per_m: Some(5e6),
        ..Joint::of(JointKind::Rubber)
    };
    let joint = |end, joint| Change::SetJoint {
        bar: BarId(LOWER),
        end,
        joint,
    };
    document.apply(&joint(BarEnd::Axle, stiff)).expect("a joint can be set");
    let (part, ends) = (bar(LOWER), Ends::Bushes);
    let words = "change the ends of the lower bar";
    let after = done(&mut document, &Change::SetEnds { part, ends }, words);
    assert_eq!(after.bars[LOWER].joint(BarEnd::Axle), stiff);
    assert_eq!(after.bars[LOWER].joint(BarEnd::Frame), Joint::of(JointKind::Rubber));
}

#[test]
fn an_arms_eye_and_a_watts_links_change_too() {
    let ends = Ends::Polyurethane;
    let mut document = with_arms();
    let words = format!("change the ends of the {}", document.setup().arms[0].name);
    let after = done(&mut document, &Change::SetEnds { part: ARM, ends }, &words);
    assert_eq!(after.arms[0].eye.kind, JointKind::Polyurethane);
    let part = Part::WattLeft;
    let words = "change the ends of the Watt's linkage";
    let after = done(&mut with_watt(), &Change::SetEnds { part, ends }, words);
    assert_eq!(after.watt.expect("it is still there").ends, ends);
}

#[test]
fn a_note_is_kept_as_it_was_written() {
    let note = "Ø 1 3/4\", \\ as drawn\n\n\tleft side measured twice – 489 mm ✓";
    let after = done(&mut document(), &Change::SetNote(note.to_owned()), "change the note");
    assert_eq!(after.note, note);
}

#[test]
fn a_note_as_long_as_a_book_is_refused() {
    let change = Change::SetNote("x".repeat(10_001));
    let sentence = "the note is 10001 letters long; up to 10000 are kept";
    refused(&mut document(), &change, sentence);
}

#[test]
fn a_copy_stands_higher_and_comes_last() {
    let mut document = document();
    let original = document.setup().bars[PANHARD].clone();
    let words = format!("duplicate the {}", original.name);
    let after = done(&mut document, &Change::Duplicate(BarId(PANHARD)), &words);
    let up = Vector3::z() * 0.05;
    let copy = after.bars.last().expect("there are bars");
    assert!((copy.mount_in_frame - (original.mount_in_frame + up)).norm() < 1e-9);
    assert!((copy.mount_in_axle - (original.mount_in_axle + up)).norm() < 1e-9);
    let else_alike = Bar {
        name: format!("{} copy", original.name),
        mount_in_frame: copy.mount_in_frame,
        mount_in_axle: copy.mount_in_axle,
        ..original.clone()
    };
    assert_eq!(*copy, else_alike);
    assert_eq!(after.bars[PANHARD], original);
}

#[test]
fn a_copys_brackets_come_with_it_and_nothing_holds_it_there() {
    let mut truck = setup(0);
    let mount = Mount::Bar {
        bar: BarId(LOWER),
        end: BarEnd::Frame,
        side: Side::Drawn,
    };
    let row = HoleRow {
        first: truck.bars[LOWER].mount_in_frame,
        step: Vector3::new(0.0, 0.0, 0.03),
        count: 4,
    };
    assert!(truck.set_hole_row(mount, Some(row)) && truck.set_locked(mount, true));
    let mut document = Document::new(truck, None);
    let change = Change::Duplicate(BarId(LOWER));
    let after = done(&mut document, &change, "duplicate the lower bar");
    let bar = BarId(after.bars.len() - 1);
    let copied = Mount::Bar {
        bar,
        end: BarEnd::Frame,
        side: Side::Drawn,
    };
    assert_eq!(
        after.hole_of(copied),
        Some(0),
        "in the same hole of a bracket of its own"
    );
    assert!(after.is_locked(mount) && !after.is_locked(copied));
}

#[test]
fn every_copy_has_a_name_of_its_own() {
    let mut document = document();
    for bar in [LOWER, LOWER, 3] {
        let change = Change::Duplicate(BarId(bar));
        document.apply(&change).expect("a bar can be copied");
    }
    let names: Vec<_> = document.setup().bars[3..].iter().map(|b| b.name.as_str()).collect();
    assert_eq!(names, ["lower bar copy", "lower bar copy 2", "lower bar copy 3"]);
}

#[test]
fn more_copies_than_can_be_solved_are_refused() {
    let mut document = document();
    let copy = Change::Duplicate(BarId(LOWER));
    while document.setup().bars.iter().map(Bar::count).sum::<usize>() + 2 <= 24 {
        document.apply(&copy).expect("there is room for another");
    }
    refused(&mut document, &copy, "25 bars are described; up to 24 can be solved");
}

/// Indices that a window may still hold after something was removed.
#[test]
fn a_part_that_is_gone_is_refused() {
    let gone = bar(99);
    let no_arm = Part::Arm(ArmId(99), Side::Drawn);
    let mut changes = vec![
        Change::Duplicate(BarId(99)),
        Change::SetRole {
            bar: BarId(99),
            role: Role::Upper,
        },
    ];
    for part in [gone, no_arm, Part::WattLeft] {
        let ends = Ends::Bushes;
        changes.push(Change::SetEnds { part, ends });
        changes.push(Change::SetTube { part, tube_m: 0.04 });
    }
    changes.extend([rename(gone, "bar"), rename(no_arm, "arm")]);
    for change in &changes {
        refused(&mut document(), change, &ChangeError::NoSuchPart.to_string());
    }
}
