//! Every proposed layout, on every demo truck, holds the axle through the whole travel.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

use rearend::answers::Answers;
use rearend::clearance::{Fault, Solid};
use rearend::file;
use rearend::findings::{Grade, Kind};
use rearend::layouts::Layout;
use rearend::setup::Role;
use rearend::tape::Units;
use rearend::travel::POSES;
use support::{PANHARD, demo};

#[test]
fn every_layout_holds_the_axle_of_every_demo_truck() {
    for truck in 0..3 {
        for layout in Layout::ALL {
            let setup = layout.hang(&demo(truck));
            let answers = Answers::of(&setup);
            let solved = answers.solved.as_ref().unwrap_or_else(|e| panic!("{layout:?}: {e}"));
            assert_eq!(
                solved.level.rows.len(),
                POSES,
                "{layout:?} on truck {truck}: the whole travel"
            );
            for finding in answers.findings.iter().filter(|f| !is_about_the_truck(&f.kind)) {
                let sentence = finding.sentence(&setup, Units::Millimetres);
                assert_ne!(
                    finding.grade,
                    Grade::WontWork,
                    "{layout:?} on truck {truck}: {sentence}"
                );
            }
        }
    }
}

/// A layout keeps clear of the rails. Crossmembers, springs and whatever else is in the way stand where the truck's own bars left room for them.
fn is_about_the_truck(kind: &Kind) -> bool {
    matches!(kind, Kind::Clearance(Fault::Touches(near)) if !matches!(near.b, Solid::Rail(_)))
}

#[test]
fn the_bar_across_comes_last() {
    let hung = Layout::ParallelPanhard.hang(&demo(2));
    assert_eq!(hung.bars[PANHARD].role, Role::Sideways);
    assert!(hung.watt.is_none() && hung.arms.is_empty());
}

#[test]
fn a_proposal_reads_back_equal_and_keeps_the_truck() {
    for layout in Layout::ALL {
        let before = demo(0);
        let setup = layout.hang(&before);
        let back = file::read(&file::write(&setup)).unwrap_or_else(|e| panic!("{layout:?}: {e}"));
        // Proposed to the last bit, written to the file's resolution.
        assert_eq!(file::write(&back), file::write(&setup), "{layout:?}");
        // But for a crossmember that a mount in the middle lacks.
        let added = setup.rails.crossmembers_x_m.len() - before.rails.crossmembers_x_m.len();
        assert_eq!(added, usize::from(layout == Layout::ParallelWattOnFrame), "{layout:?}");
        let mut rails = setup.rails.clone();
        rails.crossmembers_x_m.truncate(before.rails.crossmembers_x_m.len());
        assert_eq!(
            (&rails, &setup.axle, &setup.wheels, setup.travel),
            (&before.rails, &before.axle, &before.wheels, before.travel)
        );
    }
}
