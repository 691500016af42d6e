//! Lengths of tubes.

use std::f64::consts::PI;

use nalgebra::Vector3;
use proptest::prelude::*;
use rearend::build::cut::{Coped, Cut, CutFault, End};
use rearend::layouts::Layout;
use rearend::mechanism::RearEnd;
use rearend::setup::{ArmKind, AsBuilt, Joint, JointKind, Length, Setup, Steel};
use rearend::tape::Units;

use crate::common::{cell, close, list, near, section};
use crate::support::{PANHARD, demo};

/// From eye to tube with the usual rod end half in: 73.025 - 44.45 / 2 + 6.35.
const ROD_END_M: f64 = 0.057_15;

fn bar(setup: &Setup, name: &str) -> Cut {
    let bars = list(setup).bars;
    bars.into_iter()
        .find(|cut| cut.name == name)
        .expect("a bar of that name")
}

/// At ride height the axle's centre stands 318 - 150 above the rail's underside, so the lower bar runs 560 forward and 78 - 88 up.
#[test]
fn a_tube_is_its_bar_less_what_its_rod_ends_take() {
    let lower = bar(&demo(0), "lower bar");
    let eye_to_eye_m = 0.56_f64.hypot(0.010);
    close(lower.eye_to_eye_m, eye_to_eye_m);
    close(lower.sawn_m(), eye_to_eye_m - 2.0 * ROD_END_M);
    close(lower.centre_m(), lower.sawn_m());
    assert_eq!(lower.count, 2);
    // A tube's section is pi times the wall times the mean diameter.
    let kg = 7850.0 * PI * 0.0048 * (0.0445 - 0.0048) * lower.sawn_m();
    close(lower.tube_kg(), kg);
}

/// 44.45 of thread, half in, a 9.525 nut: half an inch left; out to one diameter of 19.05, in until that half inch is used up.
#[test]
fn thread_left_says_how_far_a_bar_can_be_turned() {
    let lower = bar(&demo(0), "lower bar");
    let threaded: Vec<_> = lower.threaded().collect();
    assert_eq!(threaded.len(), 2);
    close(threaded[0].engaged_m, 0.022_225);
    close(threaded[0].left_m, 0.0127);
    close(lower.longer_m(), 2.0 * (0.022_225 - 0.019_05));
    close(lower.shorter_m(), 2.0 * 0.0127);
    assert!(lower.faults(&Steel::default()).is_empty());
}

#[test]
fn a_rod_end_is_in_no_deeper_than_its_insert_and_no_less_than_its_bolt() {
    let with = |change: fn(&mut Steel)| {
        let mut setup = demo(0);
        change(&mut setup.steel);
        *bar(&setup, "lower bar").threaded().next().expect("a rod end")
    };
    let shallow = with(|steel| steel.rod_end.insert_depth_m = 0.020);
    close(shallow.engaged_m, 0.020);
    close(shallow.in_m, 0.0);
    let thick = with(|steel| steel.bolt_m = 0.0254);
    close(thick.engaged_m, 0.0254);
    close(thick.out_m, 0.0);
    let short = with(|steel| steel.rod_end.insert_depth_m = 0.015);
    assert!(short.is_short, "15 mm of thread is less than a 3/4 in bolt");
}

/// A 1 3/4 in tube (44.5) on a 2 in eye (50.8): sqrt(25.4² - 22.25²) = 12.2514.
#[test]
fn a_square_cope_is_as_deep_as_the_circle_says() {
    let coped = Coped::of(JointKind::Rubber, &Steel::default(), 0.0445, 0.0);
    near(coped.edge_m, 0.012_251_4, 1e-7);
    close(coped.centre_m, 0.0254);
    near(coped.depth_m(), 0.013_148_6, 1e-7);
    assert!(!coped.is_wider);
    assert!(Coped::of(JointKind::Rubber, &Steel::default(), 0.06, 0.0).is_wider);
}

/// Where a line along the tube, `aside` off its axis X, comes out of the eye, by halving.
fn out_of_eye_m(eye_axis: &Vector3<f64>, radius_m: f64, aside: &Vector3<f64>) -> f64 {
    let (mut inside, mut outside) = (-1.0, 1.0);
    let is_out = |s: f64| {
        let point = Vector3::x() * s + aside;
        (point - eye_axis * point.dot(eye_axis)).norm() > radius_m
    };
    // The nearest point of the line to the eye's axis lies inside.
    let square = Vector3::x() - eye_axis * eye_axis.x;
    inside = inside * 0.0 - (aside - eye_axis * aside.dot(eye_axis)).dot(&square) / square.norm_squared();
    for _ in 0..80 {
        let middle = f64::midpoint(inside, outside);
        if is_out(middle) {
            outside = middle;
        } else {
            inside = middle;
        }
    }
    outside
}

proptest! {
    /// The closed forms against lines of the tube's surface followed out of the eye.
    #[test]
    fn a_cope_off_square_is_what_its_lines_say(off_rad in -0.6..0.6f64, share in 0.3..0.98f64) {
        let steel = Steel::default();
        let (eye_m, tube_m) = (steel.bush_eye_m / 2.0, share * steel.bush_eye_m / 2.0);
        let coped = Coped::of(JointKind::Rubber, &steel, 2.0 * tube_m, off_rad);
        let axis = Vector3::new(off_rad.sin(), off_rad.cos(), 0.0);
        let line = |i: u32| {
            let (sin, cos) = (f64::from(i) / 720.0 * 2.0 * PI).sin_cos();
            out_of_eye_m(&axis, eye_m, &(Vector3::new(0.0, cos, sin) * tube_m))
        };
        let nearest = (0..720).map(line).fold(f64::MAX, f64::min);
        prop_assert!((coped.edge_m - nearest).abs() < 5e-6, "{} {nearest}", coped.edge_m);
        let centre = out_of_eye_m(&axis, eye_m, &Vector3::zeros());
        prop_assert!((coped.centre_m - centre).abs() < 1e-9);
    }
}

/// sqrt(25.4² - 15.9²) = 19.8078 for the 31.8 tube of the panhard bar.
#[test]
fn each_end_is_reckoned_for_itself() {
    let mut setup = demo(0);
    setup.bars[PANHARD].axle_joint = Some(Joint::of(JointKind::Rubber));
    let panhard = bar(&setup, "panhard bar");
    assert!(matches!(panhard.ends, [End::Threaded(_), End::Coped(_)]));
    near(panhard.sawn_m(), panhard.eye_to_eye_m - ROD_END_M - 0.019_807_8, 1e-7);
    near(panhard.centre_m(), panhard.eye_to_eye_m - ROD_END_M - 0.0254, 1e-9);
    close(panhard.longer_m(), 0.022_225 - 0.019_05);
    let words = section(&setup, Units::Millimetres, "Cut list");
    assert_eq!(
        cell(&words, "panhard bar", "Ends, frame end first"),
        "rod end; rubber bush"
    );
    assert!(
        words
            .notes
            .iter()
            .any(|n| n.starts_with("The panhard bar, coped to eyes of 50.8 mm outside")),
        "{:?}",
        words.notes
    );
}

#[test]
fn a_bar_too_short_for_tube_is_named() {
    let mut setup = demo(0);
    setup.steel.rod_end.eye_to_end_m = 0.4;
    let lower = bar(&setup, "lower bar");
    let ends_m = 2.0 * (ROD_END_M + 0.4 - 0.073_025);
    let faults = lower.faults(&setup.steel);
    assert!(
        matches!(faults[..], [CutFault::NoTube { ends_m: told }] if (told - ends_m).abs() < 1e-9),
        "{faults:?}"
    );
    let words = section(&setup, Units::Millimetres, "Cut list");
    assert_eq!(cell(&words, "lower bar", "Cut to"), "no tube");
    let said =
        "Won't work: the lower bar is too short for any tube: of its 560.1 mm eye to eye its ends alone take 768.3 mm.";
    assert!(words.notes.iter().any(|n| n.starts_with(said)), "{:?}", words.notes);
}

/// 560.0893 eye to eye; with 200 from eye to shank's end each the tube is 191.8 long, inserts of 102 run into each other.
#[test]
fn inserts_that_meet_are_named() {
    let mut setup = demo(0);
    setup.steel.rod_end.eye_to_end_m = 0.2;
    setup.steel.rod_end.insert_depth_m = 0.102 + setup.steel.rod_end.insert_out_m;
    let lower = bar(&setup, "lower bar");
    assert_eq!(lower.faults(&setup.steel), [CutFault::InsertsMeet]);
}

/// Sixteen threads an inch at both ends: four turns bring each end out by a quarter of an inch, 22.225 - 6.35.
#[test]
fn a_bar_turned_out_has_less_thread_in_and_the_same_tube() {
    let mut setup = demo(0);
    let made_m = bar(&setup, "panhard bar").eye_to_eye_m;
    let turned = |turns: f64| {
        Length::AsBuilt(AsBuilt {
            turns,
            ..AsBuilt::of_length(made_m)
        })
    };
    setup.bars[PANHARD].length = turned(4.0);
    let panhard = bar(&setup, "panhard bar");
    close(panhard.eye_to_eye_m, made_m + 4.0 * 0.003_175);
    close(panhard.sawn_m(), made_m - 2.0 * ROD_END_M);
    assert!(panhard.threaded().all(|end| (end.engaged_m - 0.015_875).abs() < 1e-9));
    assert!(matches!(
        panhard.faults(&setup.steel)[..],
        [CutFault::ShortThread { .. }]
    ));
    setup.bars[PANHARD].length = turned(-9.0);
    let panhard = bar(&setup, "panhard bar");
    assert_eq!(panhard.faults(&setup.steel), [CutFault::TooDeep], "{:?}", panhard.ends);
}

/// With the axle drawn off square the two of a pair are not alike.
#[test]
fn a_pair_that_differs_is_listed_bar_by_bar() {
    let mut setup = demo(0);
    setup.placement.steer_rad = 1f64.to_radians();
    let names: Vec<_> = list(&setup).bars.into_iter().map(|cut| (cut.name, cut.count)).collect();
    let wanted = [
        "left lower bar",
        "right lower bar",
        "left upper bar",
        "right upper bar",
        "panhard bar",
    ];
    assert_eq!(names, wanted.map(|name| (name.to_owned(), 1)));
}

#[test]
fn the_legs_of_a_wishbone_run_to_their_joint() {
    let setup = Layout::Wishbone.hang(&demo(0));
    let wishbone = setup.bars.iter().find(|bar| bar.joined).expect("a wishbone");
    let leg = bar(&setup, &wishbone.name);
    assert_eq!(leg.count, 2);
    let taken_m = match leg.ends[0] {
        End::Threaded(_) => ROD_END_M,
        End::Coped(_) => (0.0254_f64.powi(2) - (wishbone.tube_m / 2.0).powi(2)).sqrt(),
        End::Joined(_) => panic!("only at the axle"),
    };
    assert!(matches!(leg.ends[1], End::Joined(_)));
    close(leg.sawn_m(), leg.eye_to_eye_m - taken_m);
}

/// Straight under the frame, the axle's own points stand 318 - 150 higher in the frame's coordinates.
#[test]
fn a_ladder_bar_has_two_tubes_of_their_own_length() {
    let setup = Layout::LadderPanhard.hang(&demo(0));
    let arm = &setup.arms[0];
    assert_eq!(arm.kind, ArmKind::LadderBar);
    let made = &list(&setup).fabricated[0];
    let at_m = |up_m: f64| {
        let mut mount = arm.mount_in_axle;
        mount.z += 0.168 + up_m;
        (mount - arm.eye_in_frame).norm()
    };
    close(made.lengths_m[0].1, at_m(arm.spread_m / 2.0));
    close(made.lengths_m[1].1, at_m(-arm.spread_m / 2.0));
    assert_eq!(made.count, 2);
}

#[test]
fn a_watts_linkage_has_two_links_and_a_crank() {
    let setup = demo(1);
    let watt = setup.watt.as_ref().expect("a Watt's linkage");
    let rear_end = RearEnd::compile(&setup).expect("it compiles");
    let cuts = list(&setup);
    for part in [rearend::mechanism::Part::WattLeft, rearend::mechanism::Part::WattRight] {
        let cut = cuts.bars.iter().find(|cut| cut.part == part).expect("a link");
        close(cut.eye_to_eye_m, rear_end.length_m(part).expect("a length"));
    }
    let crank = cuts
        .fabricated
        .iter()
        .find(|made| made.name == "Watt's crank")
        .expect("a crank");
    near(crank.lengths_m[0].1, watt.half_crank_m, 1e-9);
}

#[test]
fn the_table_says_what_the_list_holds() {
    let setup = demo(0);
    for units in Units::ALL {
        let words = section(&setup, units, "Cut list");
        for cut in list(&setup).bars {
            assert_eq!(cell(&words, &cut.name, "Eye to eye"), units.length(cut.eye_to_eye_m));
            assert_eq!(cell(&words, &cut.name, "Cut to"), units.length(cut.sawn_m()));
            assert_eq!(cell(&words, &cut.name, "Number"), cut.count.to_string());
        }
    }
    let inches = section(&setup, Units::Sixteenths, "Cut list");
    assert_eq!(cell(&inches, "lower bar", "Thread left"), "1/2\" each");
    assert_eq!(cell(&inches, "lower bar", "Longer by"), "1/4\"");
    assert_eq!(cell(&inches, "lower bar", "Shorter by"), "1\"");
    // 445.79 mm are 17.551 in, 17 9/16 to the sixteenth.
    assert_eq!(cell(&inches, "lower bar", "Cut to"), "17 9/16\"");
}

/// What both rod ends take is a whole number of sixteenths, 4 1/2 in: then the figures on paper add up to the last of them.
#[test]
fn what_the_saw_cuts_and_what_the_rod_ends_take_close_on_paper() {
    let setup = demo(0);
    let words = section(&setup, Units::Sixteenths, "Cut list");
    let read = |row: &str, column: &str| Units::Sixteenths.read(&cell(&words, row, column)).expect("a length");
    for name in ["lower bar", "upper bar", "panhard bar"] {
        close(read(name, "Eye to eye") - read(name, "Cut to"), 4.5 * 0.0254);
    }
    let said = |what: &str| words.text.iter().filter(|text| text.contains(what)).count();
    assert_eq!(
        said("takes 2 1/4\" from the eye's centre to the cut end of the tube"),
        1
    );
    assert_eq!(said("The insert has 1 1/2\" of thread"), 1);
    assert_eq!(
        said(
            "rounded one by one to the sixteenth: where two do not add up by one of those, \"cut to\" is what the saw goes by"
        ),
        1
    );
}

#[test]
fn which_end_has_the_left_hand_thread_is_said_once() {
    let rule = "the one at the axle has the left-hand thread";
    let said = |setup: &Setup, title: &str| {
        let words = section(setup, Units::Sixteenths, title);
        words
            .text
            .iter()
            .chain(&words.notes)
            .filter(|text| text.contains(rule))
            .count()
    };
    let mut setup = demo(0);
    assert_eq!((said(&setup, "Cut list"), said(&setup, "Parts to buy")), (1, 0));
    for bar in &mut setup.bars {
        bar.ends = rearend::setup::Ends::Bushes;
    }
    assert_eq!((said(&setup, "Cut list"), said(&setup, "Parts to buy")), (0, 0));
}

/// With a bush at either end the saw goes by the longest edges, 12.2514 from the centre of each eye, and the eye is named.
#[test]
fn a_bar_on_bushes_says_what_to_saw() {
    let mut setup = demo(0);
    for bar in &mut setup.bars {
        bar.ends = rearend::setup::Ends::Bushes;
    }
    let words = section(&setup, Units::Millimetres, "Cut list");
    let sawn_m = 0.56_f64.hypot(0.010) - 2.0 * 0.012_251_4;
    assert_eq!(cell(&words, "lower bar", "Cut to"), Units::Millimetres.length(sawn_m));
    assert_eq!(cell(&words, "lower bar", "Thread left"), "–");
    let text = words.text.join(" ");
    assert!(text.contains("coped to its eye, a tube of 50.8 mm outside"), "{text}");
    assert!(!text.contains("rod end is screwed in"), "{text}");
    let said = format!(
        "The lower bar, coped to eyes of 50.8 mm outside: sawn to {} over its longest edges",
        Units::Millimetres.length(sawn_m)
    );
    assert!(
        words.notes.iter().any(|note| note.starts_with(&said)),
        "{:?}",
        words.notes
    );
}

/// A crank that is drawn is cut from its template: nothing is left to whoever builds it.
#[test]
fn a_crank_that_is_drawn_comes_from_its_template() {
    let setup = Layout::ParallelWatt.hang(&demo(0));
    let words = section(&setup, Units::Sixteenths, "Cut list");
    let row = "Watt's crank, pivot to the left link's bolt";
    assert_eq!(cell(&words, row, "Cut to"), "its template");
    assert!(
        words.notes.iter().all(|note| !note.starts_with("Fabricated")),
        "{:?}",
        words.notes
    );
    let plates = section(&setup, Units::Sixteenths, "Brackets");
    assert_eq!(cell(&plates, "Watt's crank: plate", "Number"), "2");
}
