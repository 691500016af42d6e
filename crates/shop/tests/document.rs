//! The open document: steps of undo, refused changes, answers that are always those of the setup.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

use nalgebra::{Point3, Vector3};
use proptest::prelude::*;
use rearend::answers::Answers;
use rearend::file;
use rearend::findings::Remedy;
use rearend::mechanism::RearEnd;
use rearend::setup::{BarEnd, BarId, Front, FrontHeights, Limits, Mount, Side, Travel};
use rearend::sideways::LevelAt;
use shop::{Change, ChangeError, Document};
use support::{frame_mount, moved, moves, setup};

const PANHARD: usize = 2;

fn document() -> Document {
    Document::new(setup(0), None)
}

fn raise(document: &mut Document, mount: Mount, by_m: f64) {
    let change = moved(document.setup(), mount, Vector3::z() * by_m);
    document.apply(&change).expect("a mount can be raised");
}

fn drag(document: &mut Document, mount: Mount) {
    document.begin_step();
    (0..20).for_each(|_| raise(document, mount, 0.001));
}

fn undo_all(document: &mut Document) -> usize {
    std::iter::from_fn(|| document.undo().then_some(())).count()
}

#[test]
fn a_whole_drag_is_one_step_of_undo() {
    let mut document = document();
    let before = document.setup().clone();
    drag(&mut document, frame_mount(PANHARD));
    assert!(document.in_step());
    document.end_step();
    let after = document.setup().clone();
    assert_ne!(before, after);
    assert!(document.undo());
    assert_eq!(*document.setup(), before);
    assert!(!document.undo(), "nothing is left to undo");
    assert!(document.redo());
    assert_eq!(*document.setup(), after);
    assert!(!document.redo(), "nothing is left to redo");
}

#[test]
fn changes_outside_a_drag_are_steps_of_their_own() {
    let mut document = document();
    (0..3).for_each(|_| raise(&mut document, frame_mount(PANHARD), 0.001));
    assert_eq!(undo_all(&mut document), 3);
}

#[test]
fn a_cancelled_drag_leaves_no_trace() {
    let mut document = document();
    raise(&mut document, frame_mount(0), 0.002);
    assert!(document.undo());
    let before = document.setup().clone();
    drag(&mut document, frame_mount(PANHARD));
    document.cancel_step();
    assert_eq!(*document.setup(), before);
    assert_eq!(document.undo_name(), None);
    assert!(!document.in_step());
    assert!(document.redo(), "what was undone before can still be done again");
}

#[test]
fn a_drag_that_ends_where_it_began_is_no_step() {
    let mut document = document();
    document.begin_step();
    raise(&mut document, frame_mount(PANHARD), 0.003);
    raise(&mut document, frame_mount(PANHARD), -0.003);
    document.end_step();
    assert_eq!(document.undo_name(), None);
}

#[test]
fn undo_in_the_middle_of_a_drag_takes_the_drag_back() {
    let mut document = document();
    let before = document.setup().clone();
    drag(&mut document, frame_mount(PANHARD));
    assert!(document.undo());
    assert_eq!(*document.setup(), before);
    assert!(!document.in_step());
}

#[test]
fn a_change_that_changes_nothing_is_no_step() {
    let mut document = document();
    let revision = document.revision();
    let same = Change::Rename(document.setup().name.clone());
    assert_eq!(document.apply(&same), Ok(()));
    assert_eq!((document.undo_name(), document.revision()), (None, revision));
}

#[test]
fn undo_and_redo_say_what_they_do() {
    let mut document = document();
    drag(&mut document, frame_mount(PANHARD));
    document.end_step();
    assert_eq!(document.undo_name(), Some("move panhard bar, on the frame"));
    document
        .apply(&Change::Rename("Another".to_owned()))
        .expect("any name will do");
    assert_eq!(
        (document.undo_name(), document.redo_name()),
        (Some("name it \"Another\""), None)
    );
    assert!(document.undo());
    assert_eq!(document.undo_name(), Some("move panhard bar, on the frame"));
    assert_eq!(document.redo_name(), Some("name it \"Another\""));
    raise(&mut document, frame_mount(0), 0.001);
    assert_eq!(document.undo_name(), Some("move left lower bar, on the frame"));
    assert_eq!(document.redo_name(), None, "a new change forgets what was undone");
}

#[test]
fn every_change_has_a_name() {
    let setup = setup(0);
    let bar = BarId(0);
    let changes = [
        Change::SetMirrored { bar, mirrored: false },
        Change::SetMirrored { bar, mirrored: true },
        Change::SetTravel(setup.travel),
        Change::SetLimits(setup.limits),
        Change::SetTravel(Travel {
            ride_m: 0.16,
            ..setup.travel
        }),
        Change::SetLimits(Limits {
            clearance_m: 0.02,
            ..setup.limits
        }),
        Change::Take(Remedy::LevelBar(BarId(PANHARD), LevelAt::Ride)),
    ];
    let names = changes.map(|c| c.name(&setup));
    let expected = [
        "unlink the lower bar",
        "mirror the lower bar",
        "change the heights",
        "change the limits",
        "change the ride height",
        "change the room wanted",
        "level it at ride height",
    ];
    assert_eq!(names, expected);
}

#[test]
fn a_document_is_unsaved_until_it_is_what_was_opened() {
    let mut document = document();
    assert!(!document.is_unsaved());
    raise(&mut document, frame_mount(PANHARD), 0.001);
    assert!(document.is_unsaved());
    assert!(document.undo());
    assert!(!document.is_unsaved());
}

/// Nothing moves when a change is refused: not the setup, not its answers, not the history.
#[track_caller]
fn is_refused(document: &mut Document, change: &Change, says: &str) {
    let before = (
        document.setup().clone(),
        document.revision(),
        document.undo_name().map(str::to_owned),
    );
    let answers = format!("{:?}", document.answers());
    let error = document.apply(change).expect_err("it is refused");
    assert!(error.to_string().contains(says), "\"{error}\" does not say \"{says}\"");
    let after = (
        document.setup().clone(),
        document.revision(),
        document.undo_name().map(str::to_owned),
    );
    assert_eq!(before, after);
    assert_eq!(answers, format!("{:?}", document.answers()));
}

/// The panhard bar's axle mount as it lies in the frame at ride height: the place where its frame mount must not go.
fn onto_itself(document: &Document) -> Change {
    let setup = document.setup();
    let to = setup.bars[PANHARD].mount_in_axle + Vector3::z() * setup.axle_z_m(setup.travel.ride_m);
    Change::MoveMount {
        mount: frame_mount(PANHARD),
        to,
    }
}

#[test]
fn a_bar_cannot_be_dragged_to_no_length() {
    let mut document = document();
    let change = onto_itself(&document);
    is_refused(&mut document, &change, "the panhard bar has no length");
}

#[test]
fn a_refused_move_in_a_drag_leaves_the_drag_going() {
    let mut document = document();
    let before = document.setup().clone();
    drag(&mut document, frame_mount(PANHARD));
    let change = onto_itself(&document);
    is_refused(&mut document, &change, "no length");
    raise(&mut document, frame_mount(PANHARD), 0.001);
    document.end_step();
    assert!(document.undo());
    assert_eq!(*document.setup(), before, "the whole drag is still one step");
}

#[test]
fn heights_have_to_rise() {
    let mut document = document();
    let travel = document.setup().travel;
    let orders = [
        Travel {
            laid_out_m: travel.full_lift_m + 0.01,
            ..travel
        },
        Travel {
            ride_m: travel.laid_out_m - 0.01,
            ..travel
        },
        Travel {
            full_lift_m: travel.ride_m,
            ..travel
        },
        Travel {
            ride_m: f64::NAN,
            ..travel
        },
    ];
    for order in orders {
        is_refused(&mut document, &Change::SetTravel(order), "have to rise in this order");
    }
}

#[test]
fn a_mirrored_bar_cannot_lie_on_the_centre_plane() {
    let mut document = document();
    let axle = Mount::Bar {
        bar: BarId(0),
        end: BarEnd::Axle,
        side: Side::Drawn,
    };
    let onto_centre = |mount, document: &Document| {
        let at = document.setup().mount(mount).expect("the mount is there").point;
        Change::MoveMount {
            mount,
            to: Point3::new(at.x, 0.0, at.z),
        }
    };
    let change = onto_centre(axle, &document);
    document.apply(&change).expect("one end may");
    let change = onto_centre(frame_mount(0), &document);
    is_refused(&mut document, &change, "mirrored, but lies on the centre plane");
}

#[test]
fn what_is_not_there_or_no_number_cannot_be_moved() {
    let mut document = document();
    let to = Point3::new(0.1, 0.2, 0.3);
    let absent = [
        Change::MoveMount {
            mount: frame_mount(9),
            to,
        },
        Change::MoveMount {
            mount: Mount::WattPivot,
            to,
        },
        Change::MoveMount {
            mount: Mount::Bar {
                bar: BarId(PANHARD),
                end: BarEnd::Frame,
                side: Side::Mirrored,
            },
            to,
        },
        Change::SetMirrored {
            bar: BarId(9),
            mirrored: true,
        },
    ];
    let unusable = [f64::NAN, f64::INFINITY, 1e300].map(|x| Change::MoveMount {
        mount: frame_mount(0),
        to: Point3::new(x, 0.0, 0.0),
    });
    for change in absent.iter().chain(&unusable) {
        is_refused(&mut document, change, "cannot be moved there");
    }
}

#[test]
fn a_remedy_for_a_bar_that_is_not_there_is_refused() {
    let mut document = document();
    let change = Change::Take(Remedy::LevelBar(BarId(9), LevelAt::Ride));
    assert_eq!(document.apply(&change), Err(ChangeError::NotReached));
}

/// Unlinked, the same steel stands in the same places.
#[test]
fn unlinking_a_pair_leaves_every_bar_where_it_stood() {
    let mut document = document();
    let lengths = |d: &Document| -> Vec<f64> {
        RearEnd::compile(d.setup())
            .expect("compiles")
            .lengths_m()
            .map(|(_, length)| length)
            .collect()
    };
    let before = (document.setup().clone(), lengths(&document));
    document
        .apply(&Change::SetMirrored {
            bar: BarId(1),
            mirrored: false,
        })
        .expect("a pair can be unlinked");
    let names: Vec<_> = document.setup().bars.iter().map(|b| b.name.as_str()).collect();
    assert_eq!(names, ["lower bar", "left upper bar", "right upper bar", "panhard bar"]);
    assert_eq!(lengths(&document), before.1);
    assert!(document.undo());
    assert_eq!(*document.setup(), before.0);
}

#[test]
fn a_value_that_its_file_would_not_take_back_is_refused() {
    let mut document = document();
    let limits = document.setup().limits;
    let travel = document.setup().travel;
    is_refused(
        &mut document,
        &Change::SetLimits(Limits {
            shift_m: -0.001,
            ..limits
        }),
        "-1 is out of range",
    );
    is_refused(
        &mut document,
        &Change::SetLimits(Limits {
            pinion_change_rad: f64::NAN,
            ..limits
        }),
        "NaN is out of range",
    );
    let steep = Travel {
        one_wheel_up_rad: 1.0,
        ..travel
    };
    is_refused(&mut document, &Change::SetTravel(steep), "from -45 to 45 degrees");
    is_refused(
        &mut document,
        &Change::Rename("x".repeat(1_000_001)),
        "nothing over 1 MB",
    );
}

#[test]
fn limits_and_names_are_kept_as_given() {
    let mut document = document();
    let limits = Limits {
        shift_m: 0.0035,
        pinion_change_rad: 1.5f64.to_radians(),
        bind_n: 7000.0,
        misfit_m: 0.002,
        clearance_m: 0.02,
    };
    document.apply(&Change::SetLimits(limits)).expect("limits can be set");
    document
        .apply(&Change::Rename("Tuesday".to_owned()))
        .expect("any name will do");
    assert_eq!(
        (document.setup().limits, document.setup().name.as_str()),
        (limits, "Tuesday")
    );
}

fn number() -> impl Strategy<Value = f64> {
    let odd = vec![
        f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
        0.0,
        -0.0,
        1e300,
        -1e-300,
        1e9,
    ];
    prop_oneof![4 => -0.5..0.5, 2 => 0.05..0.3, 1 => prop::sample::select(odd)]
}

/// Changes of plain values, sensible or not.
fn value_change() -> impl Strategy<Value = Change> {
    let heights = [0.0..0.2, 0.1..0.3, 0.2..0.4];
    let sane = heights.prop_map(|[laid_out_m, ride_m, full_lift_m]| (laid_out_m, ride_m, full_lift_m));
    let travel = (
        prop_oneof![3 => sane, 1 => (number(), number(), number())],
        number(),
        number(),
        any::<bool>(),
    );
    let travel = travel.prop_map(
        |((laid_out_m, ride_m, full_lift_m), one_wheel_up_rad, wheelbase_m, raked)| {
            let heights = FrontHeights {
                wheelbase_m,
                laid_out_m,
                ride_m,
                full_lift_m,
            };
            let front = if raked { Front::Heights(heights) } else { Front::Follows };
            Change::SetTravel(Travel {
                laid_out_m,
                ride_m,
                full_lift_m,
                one_wheel_up_rad,
                front,
            })
        },
    );
    let limits = (number(), number(), number(), number(), number());
    let limits = limits.prop_map(|(shift_m, pinion_change_rad, bind_n, misfit_m, clearance_m)| {
        Change::SetLimits(Limits {
            shift_m,
            pinion_change_rad,
            bind_n,
            misfit_m,
            clearance_m,
        })
    });
    let name = any::<String>().prop_map(Change::Rename);
    prop_oneof![travel, limits, name]
}

/// Compared as printed, which tells every number apart to its last bit.
fn answers_are_fresh(document: &Document) -> Result<(), TestCaseError> {
    prop_assert_eq!(
        format!("{:?}", document.answers()),
        format!("{:?}", Answers::of(document.setup()))
    );
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn whatever_is_accepted_reads_back_equal(change in value_change()) {
        let mut document = document();
        let before = document.setup().clone();
        match document.apply(&change) {
            Ok(()) => {
                let back = file::read(&file::write(document.setup()));
                prop_assert_eq!(back.as_ref(), Ok(document.setup()));
            }
            Err(error) => {
                prop_assert_eq!(document.setup(), &before);
                prop_assert!(error.to_string().contains(' '), "{error} is a sentence");
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_moves_are_undone_and_done_again_and_read_back_equal(which in 0..3usize, moves in moves(1..40)) {
        let mut document = Document::new(setup(which), None);
        let mut states = vec![document.setup().clone()];
        for one in moves {
            if document.apply(&one.change(document.setup())).is_ok() && states.last() != Some(document.setup()) {
                states.push(document.setup().clone());
            }
            let back = file::read(&file::write(document.setup()));
            prop_assert_eq!(back.as_ref(), Ok(document.setup()), "what is open can be saved and opened");
        }
        for state in states.iter().rev().skip(1) {
            prop_assert!(document.undo());
            prop_assert_eq!(document.setup(), state);
        }
        prop_assert!(!document.undo());
        for state in states.iter().skip(1) {
            prop_assert!(document.redo());
            prop_assert_eq!(document.setup(), state);
        }
        answers_are_fresh(&document)?;
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 3, failure_persistence: None, max_shrink_iters: 200, ..ProptestConfig::default() })]

    #[test]
    fn a_long_drag_never_shows_answers_of_another_setup(which in 0..3usize, moves in moves(2000)) {
        let mut document = Document::new(setup(which), None);
        document.begin_step();
        let mut revision = document.revision();
        for (i, one) in moves.iter().enumerate() {
            let before = document.setup().clone();
            let _ = document.apply(&one.change(document.setup()));
            prop_assert_eq!(document.revision() > revision, *document.setup() != before, "the revision tells of every change");
            revision = document.revision();
            if i % 50 == 0 {
                answers_are_fresh(&document)?;
            }
        }
        document.end_step();
        answers_are_fresh(&document)?;
        prop_assert_eq!(undo_all(&mut document), 1);
    }
}

#[test]
fn linking_again_takes_the_other_bar_away() {
    let mut document = document();
    let before = document.setup().clone();
    let bar = BarId(0);
    document
        .apply(&Change::SetMirrored { bar, mirrored: false })
        .expect("unlinked");
    assert_eq!(document.setup().bars.len(), before.bars.len() + 1);
    document
        .apply(&Change::SetMirrored { bar, mirrored: true })
        .expect("linked");
    assert_eq!(document.setup(), &before, "as it was, names included");
}
