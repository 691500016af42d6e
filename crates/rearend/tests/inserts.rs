//! Threaded inserts and the tubes that they are welded into.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

use std::f64::consts::PI;

use rearend::answers::Answers;
use rearend::build::cut::cut_list;
use rearend::file;
use rearend::findings::{Finding, Grade, Kind};
use rearend::insert::{Insert, Misfit, misfits};
use rearend::layouts::Layout;
use rearend::mechanism::{Part, RearEnd};
use rearend::setup::{BarId, Ends, Joint, JointKind, Setup, Side};
use rearend::tape::Units;
use support::{PANHARD, demo, text};

const INCH_M: f64 = 0.0254;

const PANHARD_BAR: Part = Part::Bar(BarId(PANHARD), Side::Drawn);

/// The first demo with a panhard bar of this outside and wall.
fn panhard(tube_m: f64, wall_m: f64) -> Setup {
    let mut setup = demo(0);
    (setup.bars[PANHARD].tube_m, setup.bars[PANHARD].wall_m) = (tube_m, wall_m);
    setup
}

/// With inserts of one shank, in bushes but for the panhard bar.
fn with_shank(mut setup: Setup, shank_m: f64) -> Setup {
    for bar in setup.bars.iter_mut().take(PANHARD) {
        bar.ends = Ends::Bushes;
    }
    setup.steel.rod_end.insert_shank_m = Some(shank_m);
    setup
}

fn misfit(setup: &Setup) -> Option<Misfit> {
    let all = misfits(setup);
    assert!(all.iter().all(|insert| insert.part == PANHARD_BAR), "{all:?}");
    all.first().map(|insert| insert.misfit)
}

fn found(setup: &Setup) -> Vec<Finding> {
    let is_it = |f: &Finding| matches!(f.kind, Kind::Insert(_));
    Answers::of(setup).findings.into_iter().filter(is_it).collect()
}

/// Three quarters and a sixteenth all round make seven eighths.
#[test]
fn a_bore_takes_the_thread_and_a_sixteenth_all_round() {
    let least_m = 0.875 * INCH_M;
    let of_bore = |bore_m: f64| misfit(&panhard(bore_m + 2.0 * 0.004, 0.004));
    assert_eq!(of_bore(least_m), None);
    assert_eq!(of_bore(1.5 * INCH_M), None, "inserts are sold for every bore above");
    let Some(Misfit::TooNarrow { least_m: told_m }) = of_bore(0.75 * INCH_M) else {
        panic!("three quarters are the thread alone");
    };
    assert!((told_m - least_m).abs() < 1e-12);
    // A larger bolt has a larger thread: 1 in and 2/16.
    let mut setup = panhard(1.5 * INCH_M, 3.0 / 16.0 * INCH_M);
    for bar in setup.bars.iter_mut().take(PANHARD) {
        bar.ends = Ends::Bushes;
    }
    assert_eq!(misfit(&setup), None);
    setup.steel.bolt_m = 1.0625 * INCH_M;
    assert!(matches!(misfit(&setup), Some(Misfit::TooNarrow { .. })));
}

/// 1 3/4 in between the plates leave a tube of 1 5/8 in a sixteenth on either side; one of 1 3/4 in rubs, unless it has rod ends, whose thread
/// keeps it clear of the plates, or plates that end short of its eye.
#[test]
fn a_tube_as_wide_as_its_brackets_is_told() {
    let of = |change: &dyn Fn(&mut Setup)| {
        let mut setup = demo(1);
        setup.bars[0].tube_m = 1.75 * INCH_M;
        change(&mut setup);
        let wide = |f: &Finding| matches!(f.kind, Kind::Wide(_));
        let all = Answers::of(&setup).findings;
        all.into_iter()
            .filter(wide)
            .map(|f| (f.grade, f.sentence(&setup, Units::Sixteenths)))
            .collect::<Vec<_>>()
    };
    let told = of(&|_| ());
    assert_eq!(
        told,
        [(
            Grade::Check,
            "The tube of the lower bar is 1 3/4\" wide and its brackets leave 1 3/4\" between their plates: it rubs on them beside its eyes. Choose a \
             tube of 1 5/8\" at most, or more room between the plates."
                .to_owned()
        )]
    );
    assert!(of(&|setup| setup.bars[0].tube_m = 1.625 * INCH_M).is_empty());
    assert!(of(&|setup| setup.steel.gap_m = 1.875 * INCH_M).is_empty());
    assert!(of(&|setup| setup.bars[0].ends = Ends::RodEnds).is_empty());
    assert!(of(&|setup| setup.steel.bush_eye_m = 2.5 * INCH_M).is_empty());
}

/// A shank of 1 in: tube of 1 1/4 × 1/8 takes it, 1 1/8 × 3/16 has 3/4, 1 3/4 × 3/16 has 1 3/8.
#[test]
fn a_shank_fits_its_bore_or_is_tight_or_loose() {
    let of_tube = |outside: f64, wall: f64| misfit(&with_shank(panhard(outside * INCH_M, wall * INCH_M), INCH_M));
    assert_eq!(of_tube(1.25, 0.125), None);
    assert_eq!(of_tube(1.125, 0.1875), Some(Misfit::Tight { shank_m: INCH_M }));
    assert_eq!(of_tube(1.75, 0.1875), Some(Misfit::Loose { shank_m: INCH_M }));
    // A millimetre of room is loose, less is not; a tenth too tight is what a file rounds away.
    let of_bore = |bore_mm: f64| misfit(&with_shank(panhard((bore_mm + 8.0) / 1e3, 0.004), INCH_M));
    assert_eq!(of_bore(25.4 + 0.99), None);
    assert!(matches!(of_bore(25.4 + 1.01), Some(Misfit::Loose { .. })));
    assert_eq!(of_bore(25.4 - 0.09), None);
    assert!(matches!(of_bore(25.4 - 0.11), Some(Misfit::Tight { .. })));
}

#[test]
fn a_tube_needs_no_bore_for_a_bush() {
    let narrow = |frame, axle| {
        let mut setup = panhard(0.0286, 0.0048);
        setup.bars[PANHARD].frame_joint = Some(Joint::of(frame));
        setup.bars[PANHARD].axle_joint = Some(Joint::of(axle));
        misfits(&setup).first().map(|insert: &Insert| insert.ends)
    };
    let (end, bush) = (JointKind::RodEnd, JointKind::Rubber);
    assert_eq!(narrow(bush, JointKind::Polyurethane), None);
    assert_eq!(narrow(end, bush), Some([true, false]));
    assert_eq!(narrow(bush, end), Some([false, true]));
    assert_eq!(narrow(end, end), Some([true, true]));
}

/// Their legs meet in a piece that is made for it, without an insert in either tube.
#[test]
fn the_tip_of_a_wishbone_has_no_insert() {
    let mut setup = Layout::Wishbone.hang(&demo(0));
    for bar in &mut setup.bars {
        (bar.ends, bar.frame_joint, bar.axle_joint) = (Ends::RodEnds, None, None);
        (bar.tube_m, bar.wall_m) = (0.0286, 0.0048);
        if bar.joined {
            bar.frame_joint = Some(Joint::of(JointKind::Rubber));
        }
    }
    let all = misfits(&setup);
    let named: Vec<_> = all.iter().map(|insert| insert.part.plain_name(&setup)).collect();
    let others: Vec<_> = setup
        .bars
        .iter()
        .filter(|b| !b.joined)
        .map(|b| b.name.as_str())
        .collect();
    assert_eq!(named, others);
}

/// 28.6 - 2 · 4.8 = 19.0, and 19.05 + 2 · 1.5875 = 22.225 are needed: 3/4 and 7/8 in.
#[test]
fn links_of_thick_small_tube_are_to_be_looked_at() {
    let mut setup = demo(1);
    let watt = setup.watt.as_mut().expect("a Watt's linkage");
    (watt.tube_m, watt.wall_m) = (0.0286, 0.0048);
    let found = found(&setup);
    assert_eq!(found.len(), 1, "both links share their tube");
    assert_eq!((found[0].grade, found[0].part), (Grade::Check, Some(Part::WattLeft)));
    assert_eq!(
        found[0].sentence(&setup, Units::Sixteenths),
        "No insert for a 3/4\" thread fits the tube of the Watt's links: it takes 7/8\" to slide into, and the tube's bore is 3/4\". Choose a tube of 1 1/4\" outside with the same wall, a thinner wall, or a smaller rod end."
    );
    setup.watt.as_mut().expect("a Watt's linkage").ends = Ends::Polyurethane;
    assert_eq!(misfits(&setup), []);
}

#[test]
fn the_sentence_names_end_shank_and_bore() {
    let mut setup = with_shank(panhard(0.0286, 0.0048), INCH_M);
    let said = |setup: &Setup, units| {
        let found = found(setup);
        assert_eq!((found.len(), found[0].grade), (1, Grade::Check));
        found[0].sentence(setup, units)
    };
    assert_eq!(
        said(&setup, Units::Millimetres),
        "The insert does not fit the tube of the panhard bar: its shank is 25.4 mm, and the tube's bore is 19.0 mm. Choose a tube of 35.0 mm outside with the same wall, or an insert for this bore."
    );
    setup.bars[PANHARD].axle_joint = Some(Joint::of(JointKind::Rubber));
    setup.bars[PANHARD].tube_m = 0.0445;
    let told = said(&setup, Units::Sixteenths);
    let begins = "The insert is loose in the frame end of the panhard bar's tube: its shank is 1\", and the tube's bore is 1 3/8\".";
    assert!(told.starts_with(begins), "{told}");
    // Solid, as far as its wall goes.
    setup.bars[PANHARD].wall_m = 0.03;
    let told = said(&setup, Units::Sixteenths);
    assert!(told.contains("its shank is 1\", and the tube has no bore."), "{told}");
}

/// Whoever buys the tube that is told has one that fits.
#[test]
fn the_tube_that_is_told_fits() {
    for units in Units::ALL {
        for wall_m in [0.0025, 1.0 / 8.0 * INCH_M, 0.0048] {
            for (shank_m, outside_m) in [
                (None, 0.023),
                (Some(INCH_M), 0.028),
                (Some(INCH_M), 0.05),
                (Some(0.031), 0.05),
            ] {
                let mut setup = with_shank(panhard(outside_m, wall_m), 0.03);
                setup.steel.rod_end.insert_shank_m = shank_m;
                let found = found(&setup);
                assert_eq!(found.len(), 1, "{shank_m:?} in {outside_m} × {wall_m}");
                let told = found[0].sentence(&setup, units);
                let (_, rest) = told.split_once("Choose a tube of ").expect(&told);
                let (outside, _) = rest.split_once(" outside").expect(&told);
                setup.bars[PANHARD].tube_m = units.read(outside).expect(&told);
                assert_eq!(misfits(&setup), [], "{told}");
            }
        }
    }
}

/// A tube weighs pi times its wall times the mean of its diameters, and 7850 kg/m³ (EN 1991-1-1, table A.4).
#[test]
fn links_weigh_what_their_wall_weighs() {
    let mut setup = demo(1);
    for wall_m in [0.0032, 0.0048] {
        let watt = setup.watt.as_mut().expect("a Watt's linkage");
        watt.wall_m = wall_m;
        let tube_m = watt.tube_m;
        let rear_end = RearEnd::compile(&setup).expect("it compiles");
        let list = cut_list(&setup, &rear_end);
        let links: Vec<_> = list
            .bars
            .iter()
            .filter(|cut| matches!(cut.part, Part::WattLeft | Part::WattRight))
            .collect();
        assert_eq!(links.len(), 2);
        for cut in links {
            let kg = 7850.0 * PI * wall_m * (tube_m - wall_m) * cut.sawn_m();
            assert!((cut.tube_kg() - kg).abs() < 1e-9, "{} is not {kg}", cut.tube_kg());
        }
    }
}

/// 207 GPa over a metre, and two rod ends of 80 kN/mm behind one another.
#[test]
fn links_give_as_much_as_their_wall_lets_them() {
    let mut watt = demo(1).watt.expect("a Watt's linkage");
    for wall_m in [0.0032, 0.0048] {
        watt.wall_m = wall_m;
        let area_m2 = PI * wall_m * (watt.tube_m - wall_m);
        let by_hand = 1.0 / (1.0 / (2.07e11 * area_m2) + 2.0 / 8e7);
        assert!((watt.stiffness_n_per_m(1.0) / by_hand - 1.0).abs() < 1e-12);
    }
}

/// A file from before links had a wall has that of a bar; what is written down is read back.
#[test]
fn a_file_tells_the_wall_of_the_links_and_the_shank_of_the_inserts() {
    assert!(!text(1).contains("insert_shank_mm"));
    let mut setup = demo(1);
    let bar_m = setup.bars[0].wall_m;
    assert_eq!(setup.watt.as_ref().map(|watt| watt.wall_m), Some(bar_m));
    assert_eq!(setup.steel.rod_end.insert_shank_m, None);
    setup.watt.as_mut().expect("a Watt's linkage").wall_m = 0.003_25;
    setup.steel.rod_end.insert_shank_m = Some(0.0254);
    let written = file::write(&setup);
    assert!(written.contains("insert_shank_mm: 25.4"), "{written}");
    assert!(written.contains("wall_mm: 3.25"), "{written}");
    assert_eq!(file::read(&written).expect("it reads back"), setup);
}

#[test]
fn steel_that_nobody_could_build_with_is_refused_by_name() {
    let text = |steel: &str| {
        let bare = text(0).trim_end();
        let (head, _) = bare.rsplit_once(')').expect("a setup ends in a bracket");
        format!("{head}    steel: ({steel}),\n)")
    };
    file::read(&text("plate_mm: 8.0")).expect("it reads");
    for (steel, wanted) in [
        ("plate_mm: 0.0", "0 is out of range"),
        ("hole_over_mm: -0.5", "-0.5 is out of range"),
        ("gap_mm: NaN", "out of range"),
        // 0.5 · 19.05 is less than half of 19.05 + 0.8.
        ("edge_in_bolts: 0.5", "the edge of a plate would run through its holes"),
        ("gap_mm: 19.0", "the gap between the plates is less than the joint"),
        ("rod_end: (thread_mm: 80.0)", "as long as the whole rod end"),
        ("rod_end: (jam_nut_mm: 44.45)", "the jam nut is as thick"),
        (
            "rod_end: (insert_shank_mm: 19.05)",
            "the shank of an insert is no thicker",
        ),
    ] {
        let refused = file::read(&text(steel)).expect_err(steel).to_string();
        assert!(refused.contains(wanted), "{steel}: {refused}");
    }
}
