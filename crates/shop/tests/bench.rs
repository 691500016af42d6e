//! The bench: the stand, the selection, notices, and the pose that is shown.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

use std::fs;

use nalgebra::Vector3;
use proptest::prelude::*;
use rearend::answers::Answers;
use rearend::setup::{BarEnd, BarId, Mount, Side, Travel};
use rearend::tape::Units;
use shop::{Bench, Change, Command, Notice, Stand};
use support::{frame_mount, moved, moves, setup};

/// Places are kept to a millionth of a millimetre.
const FILE_M: f64 = 1e-9;

fn bench() -> Bench {
    Bench::new(setup(0), None)
}

fn refusal(bench: &Bench) -> &str {
    match bench.notice() {
        Some(Notice::Refused(sentence)) => sentence,
        other => panic!("nothing was refused: {other:?}"),
    }
}

fn stand(height_m: f64, roll_rad: f64) -> Command {
    Command::StandAt(Stand { height_m, roll_rad })
}

#[test]
fn it_opens_at_ride_height_with_nothing_selected() {
    let bench = bench();
    assert_eq!(
        bench.stand(),
        Stand {
            height_m: bench.setup().travel.ride_m,
            roll_rad: 0.0
        }
    );
    assert_eq!((bench.selected(), bench.notice()), (None, None));
    let row = bench.now().expect("ride height is reached");
    assert!(
        row.shift_m.abs() < 1e-12 && row.fore_aft_m.abs() < 1e-12,
        "the axle stands where it is drawn: {row:?}"
    );
}

#[test]
fn the_stand_is_kept_within_the_travel() {
    let mut bench = bench();
    let Travel {
        laid_out_m,
        full_lift_m,
        one_wheel_up_rad,
        ..
    } = bench.setup().travel;
    bench.run(stand(5.0, 1.0));
    assert_eq!(
        bench.stand(),
        Stand {
            height_m: full_lift_m,
            roll_rad: one_wheel_up_rad
        }
    );
    bench.run(stand(-5.0, -1.0));
    assert_eq!(
        bench.stand(),
        Stand {
            height_m: laid_out_m,
            roll_rad: -one_wheel_up_rad
        }
    );
    let row = bench.now().expect("the corner of the travel is reached");
    assert!((row.height_m - laid_out_m).abs() < 1e-12 && row.roll_rad == -one_wheel_up_rad);
}

#[test]
fn a_stand_that_is_no_number_is_not_taken() {
    let mut bench = bench();
    bench.run(stand(0.2, 0.01));
    for (height_m, roll_rad) in [(f64::NAN, 0.0), (0.1, f64::NAN), (f64::INFINITY, 0.0)] {
        bench.run(stand(height_m, roll_rad));
        assert_eq!(
            bench.stand(),
            Stand {
                height_m: 0.2,
                roll_rad: 0.01
            }
        );
    }
}

#[test]
fn the_stand_follows_when_the_travel_shrinks() {
    let mut bench = bench();
    bench.run(stand(0.23, 0.0));
    let travel = Travel {
        full_lift_m: 0.2,
        ..bench.setup().travel
    };
    bench.run(Command::Apply(Change::SetTravel(travel)));
    assert_eq!(bench.stand().height_m, 0.2);
    assert!((bench.now().expect("reached").height_m - 0.2).abs() < 1e-12);
}

#[test]
fn a_nudge_moves_by_one_step_of_the_unit() {
    for (units, step_m) in [
        (Units::Sixteenths, 0.0254 / 16.0),
        (Units::DecimalInches, 0.00127),
        (Units::Millimetres, 0.001),
    ] {
        let mut bench = bench();
        bench.run(Command::SetUnits(units));
        bench.run(Command::Select(Some(frame_mount(2))));
        let before = bench.setup().bars[2].mount_in_frame;
        bench.run(Command::Nudge(Vector3::new(1.0, 0.0, -2.0)));
        let went = bench.setup().bars[2].mount_in_frame - before;
        let off = went - Vector3::new(step_m, 0.0, -2.0 * step_m);
        assert!(off.norm() <= 2.0 * FILE_M, "{units:?}: it went {went:?}");
        assert_eq!(bench.document().undo_name(), Some("move panhard bar, on the frame"));
    }
}

#[test]
fn a_nudge_of_one_of_a_pair_mirrors() {
    for end in [BarEnd::Frame, BarEnd::Axle] {
        let mut bench = bench();
        bench.run(Command::SetUnits(Units::Millimetres));
        let [drawn, mirrored] = [Side::Drawn, Side::Mirrored].map(|side| Mount::Bar {
            bar: BarId(0),
            end,
            side,
        });
        let place = |bench: &Bench, mount| bench.setup().mount(mount).expect("it is there").point;
        let before = [drawn, mirrored].map(|m| place(&bench, m));
        bench.run(Command::Select(Some(mirrored)));
        bench.run(Command::Nudge(Vector3::y()));
        let drawn_went = place(&bench, drawn) - before[0];
        let mirrored_went = place(&bench, mirrored) - before[1];
        let step = Vector3::y() * 0.001;
        assert!(
            (mirrored_went - step).norm() <= 2.0 * FILE_M,
            "the selected one goes left: {mirrored_went:?}"
        );
        assert!(
            (drawn_went + step).norm() <= 2.0 * FILE_M,
            "the other one goes right: {drawn_went:?}"
        );
    }
}

#[test]
fn a_nudge_of_nothing_does_nothing() {
    let mut bench = bench();
    bench.run(Command::Nudge(Vector3::x()));
    assert_eq!((bench.setup(), bench.notice()), (&setup(0), None));
}

#[test]
fn the_selection_goes_with_the_mount_or_ends_with_it() {
    let mut bench = bench();
    let mirrored = Mount::Bar {
        bar: BarId(1),
        end: BarEnd::Frame,
        side: Side::Mirrored,
    };
    bench.run(Command::Select(Some(mirrored)));
    bench.run(Command::Apply(moved(bench.setup(), mirrored, Vector3::x() * 0.001)));
    assert_eq!(bench.selected(), Some(mirrored), "a move keeps it");
    bench.run(Command::Apply(Change::SetMirrored {
        bar: BarId(1),
        mirrored: false,
    }));
    let on_its_own = Mount::Bar {
        bar: BarId(2),
        end: BarEnd::Frame,
        side: Side::Drawn,
    };
    assert_eq!(bench.selected(), Some(on_its_own), "unlinked, it is a bar of its own");
    // The panhard bar moved up by one place; opening another truck ends the selection.
    bench.run(Command::OpenDemo(1));
    assert_eq!(bench.selected(), None);
}

#[test]
fn a_refused_change_is_said_in_a_sentence_and_taken_away_by_the_next_good_one() {
    let mut bench = bench();
    let travel = bench.setup().travel;
    bench.run(Command::Apply(Change::SetTravel(Travel {
        laid_out_m: 0.5,
        ..travel
    })));
    assert!(
        refusal(&bench).starts_with("Laid out would be at 19 11/16\"") && refusal(&bench).ends_with("in this order.")
    );
    assert_eq!(*bench.setup(), setup(0));
    bench.run(Command::Apply(Change::SetTravel(Travel {
        laid_out_m: 0.08,
        ..travel
    })));
    assert_eq!(bench.notice(), None);
}

#[test]
fn a_notice_can_be_dismissed() {
    let mut bench = bench();
    bench.tell(Notice::Done("Well.".to_owned()));
    bench.run(Command::Dismiss);
    assert_eq!(bench.notice(), None);
}

#[test]
fn a_broken_file_leaves_the_open_setup_and_says_what_is_wrong() {
    let folder = tempfile::tempdir().expect("there is a temporary folder");
    let path = folder.path().join("broken.ron");
    fs::write(&path, "(\n    format: 1,\n    nmae: \"x\",\n)").expect("the folder can be written");
    let mut bench = bench();
    bench.run(Command::Apply(moved(
        bench.setup(),
        frame_mount(2),
        Vector3::z() * 0.01,
    )));
    bench.run(Command::Select(Some(frame_mount(2))));
    let (before, revision) = (bench.setup().clone(), bench.document().revision());
    bench.run(Command::Open(path));
    let sentence = refusal(&bench);
    assert!(
        sentence.contains("broken.ron") && sentence.contains("line 3") && sentence.contains("nmae"),
        "{sentence}"
    );
    assert_eq!((bench.setup(), bench.document().revision()), (&before, revision));
    assert_eq!(
        (bench.selected(), bench.document().undo_name().is_some()),
        (Some(frame_mount(2)), true)
    );
}

#[test]
fn a_saved_file_opens_as_it_was_saved() {
    let folder = tempfile::tempdir().expect("there is a temporary folder");
    let path = folder.path().join("truck.ron");
    let mut bench = bench();
    bench.run(Command::SetUnits(Units::Millimetres));
    bench.run(Command::Apply(Change::Rename("Sunday".to_owned())));
    bench.run(Command::SaveTo(path.clone()));
    assert!(
        matches!(bench.notice(), Some(Notice::Done(s)) if s.contains("truck.ron")),
        "{:?}",
        bench.notice()
    );
    bench.run(Command::OpenDemo(1));
    assert_eq!((bench.setup(), bench.document().path.as_ref()), (&setup(1), None));
    bench.run(Command::Open(path.clone()));
    assert_eq!(
        (bench.setup().name.as_str(), bench.document().path.as_ref()),
        ("Sunday", Some(&path))
    );
    assert!(!bench.document().is_unsaved());
    assert_eq!(
        (bench.units(), bench.document().undo_name()),
        (Units::Millimetres, None)
    );
}

/// What is drawn is kept while the revision stays; another setup under the same number would never be drawn.
#[test]
fn a_setup_opened_in_place_of_another_has_a_revision_of_its_own() {
    let mut bench = bench();
    for which in [1, 2, 0] {
        let before = bench.document().revision();
        bench.run(Command::OpenDemo(which));
        assert!(bench.document().revision() > before, "demo {which}");
    }
}

#[test]
fn a_demo_that_is_not_there_changes_nothing() {
    let mut bench = bench();
    bench.run(Command::OpenDemo(99));
    assert_eq!((bench.setup(), bench.document().revision()), (&setup(0), 0));
}

#[test]
fn undo_and_redo_bring_the_pose_back_too() {
    let mut bench = bench();
    bench.run(stand(0.2, 0.02));
    let shift = |bench: &Bench| bench.now().expect("reached").shift_m;
    let before = shift(&bench);
    bench.run(Command::BeginStep);
    for _ in 0..10 {
        bench.run(Command::Apply(moved(
            bench.setup(),
            frame_mount(2),
            Vector3::z() * 0.002,
        )));
    }
    bench.run(Command::EndStep);
    let after = shift(&bench);
    assert!((after - before).abs() > 1e-5, "a sloping bar pulls the axle over");
    bench.run(Command::Undo);
    assert_eq!(shift(&bench), before);
    bench.run(Command::Redo);
    assert_eq!(shift(&bench), after);
}

/// Compared as printed, which tells every number apart to its last bit.
fn is_of_its_setup(bench: &Bench) -> Result<(), TestCaseError> {
    let fresh = Answers::of(bench.setup());
    prop_assert_eq!(format!("{:?}", bench.document().answers()), format!("{:?}", fresh));
    let Stand { height_m, roll_rad } = bench.stand();
    let pose = fresh.pose(bench.setup(), height_m, roll_rad);
    prop_assert_eq!(
        format!("{:?}", bench.now()),
        format!("{:?}", pose.as_ref().map_err(|e| *e))
    );
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 3, failure_persistence: None, max_shrink_iters: 200, ..ProptestConfig::default() })]

    #[test]
    fn after_two_thousand_moves_everything_shown_is_of_the_setup_shown(which in 0..3usize, moves in moves(2000)) {
        let mut bench = Bench::new(setup(which), None);
        bench.run(stand(0.2, 0.03));
        for (i, one) in moves.iter().enumerate() {
            bench.run(Command::Apply(one.change(bench.setup())));
            if i % 50 == 0 {
                is_of_its_setup(&bench)?;
            }
        }
        is_of_its_setup(&bench)?;
    }
}
