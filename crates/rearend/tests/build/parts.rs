//! What is bought.

use rearend::build::cut::cut_list;
use rearend::build::mounts::places;
use rearend::build::parts::{Bolt, Series, Shopping, usual_ball_m, usual_spacer_m};
use rearend::layouts::Layout;
use rearend::mechanism::RearEnd;
use rearend::setup::{Ends, Setup, Steel};
use rearend::tape::Units;

use crate::common::{cell, close, section};
use crate::support::demo;

fn shopping(setup: &Setup) -> Shopping {
    let rear_end = RearEnd::compile(setup).expect("it compiles");
    Shopping::of(setup, &cut_list(setup, &rear_end), &places(setup))
}

/// What lies on a bolt from under its head, laid end to end, and where its thread begins by the standard, typed from its tables in inches
/// and millimetres.
#[track_caller]
fn is_bought_right(bolt: &Bolt, gap_m: f64, steel: &Steel, thread_m: f64) {
    let washer_m = 0.2 * steel.bolt_m;
    let far_plate_m = washer_m + steel.plate_m + gap_m;
    let nut_m = far_plate_m + steel.plate_m + f64::from(bolt.washers_at_nut) * washer_m;
    close(bolt.grip_m, gap_m + 2.0 * steel.plate_m);
    close(bolt.thread_m(), thread_m);
    let begins_m = bolt.length_m - thread_m;
    close(bolt.plain_m, begins_m);
    assert!(
        begins_m > far_plate_m + steel.plate_m / 2.0 - 1e-9,
        "thread in the far plate: {bolt:?}"
    );
    assert!(nut_m > begins_m - 1e-9, "the nut stops before it clamps: {bolt:?}");
    assert!(
        nut_m - washer_m < begins_m || bolt.washers_at_nut == 1,
        "a washer too many: {bolt:?}"
    );
    assert!(
        nut_m + (1.25 + 1.0 / 6.0) * steel.bolt_m < bolt.length_m + 1e-9,
        "no thread shows: {bolt:?}"
    );
}

/// ASME B18.2.1: a 3/4 in bolt of up to 6 in has 1 3/4 in of thread. Grip 1 3/4 + 2/4; with a washer of 0.15 and half a plate short of the
/// far side 2.275 of plain shank are wanted, 4.025 in all: 4 1/2 in, of which 2 3/4 are plain. The far washer ends at 2.55: two more.
#[test]
fn no_thread_lies_in_the_far_plate_of_a_three_quarter_bolt() {
    let steel = Steel::default();
    for units in Units::ALL {
        let bolt = Bolt::through(&steel, units);
        assert_eq!((bolt.series, bolt.washers_at_nut), (Series::Inch, 3));
        close(bolt.length_m, 4.5 * 0.0254);
        close(bolt.grip_m, 2.25 * 0.0254);
        is_bought_right(&bolt, steel.gap_m, &steel, 1.75 * 0.0254);
    }
    let table = section(&demo(0), Units::Sixteenths, "Parts to buy");
    let of = |column: &str| cell(&table, "Bolt, washers and lock nut", column);
    assert_eq!(of("Size"), "3/4\" × 4 1/2\"");
    assert_eq!(
        of("Remarks"),
        "grip 2 1/4\"; 2 3/4\" of plain shank; 1 washer under the head, 3 under the nut"
    );
    // The same bolt on paper in millimetres.
    let table = section(&demo(0), Units::Millimetres, "Parts to buy");
    let size = cell(&table, "Bolt, washers and lock nut", "Size");
    assert_eq!(size, "19.05 mm × 114.3 mm, sold as 3/4\" × 4 1/2\"");
    for said in [
        "grip is both plates and what is clamped",
        "ASME B18.2.1",
        "take the next longer one whose plain shank goes at least through",
        "the nut to match",
    ] {
        assert!(
            table.notes.iter().any(|note| note.contains(said)),
            "{said}: {:?}",
            table.notes
        );
    }
}

/// ISO 4014: 2 d + 6 up to 125 mm, 2 d + 12 up to 200, 2 d + 25 beyond; ASME B18.2.1: 2 D + 1/4 in up to 6 in, 2 D + 1/2 in beyond.
#[test]
fn threads_are_as_long_as_the_standards_have_them() {
    let mm = |bolt: f64, long: f64| Series::Metric.thread_m(bolt / 1e3, long / 1e3) * 1e3;
    let table = [
        (16.0, 80.0, 38.0),
        (16.0, 130.0, 44.0),
        (20.0, 125.0, 46.0),
        (20.0, 200.0, 52.0),
        (24.0, 220.0, 73.0),
    ];
    for (bolt, long, thread) in table {
        close(mm(bolt, long), thread);
    }
    let inch = |bolt: f64, long: f64| Series::Inch.thread_m(bolt * 0.0254, long * 0.0254) / 0.0254;
    for (bolt, long, thread) in [(0.5, 3.0, 1.25), (0.625, 6.0, 1.5), (0.75, 6.5, 2.0), (1.0, 8.0, 2.5)] {
        close(inch(bolt, long), thread);
    }
}

/// What a bolt is made to goes by its own size, not by the paper: M16 is 0.630 in.
#[test]
fn metric_bolts_stay_metric_in_inches() {
    let m16 = Steel {
        bolt_m: 0.016,
        plate_m: 0.008,
        gap_m: 0.04,
        ..Steel::default()
    };
    for units in Units::ALL {
        let bolt = Bolt::through(&m16, units);
        // 3.2 + 8 + 40 + 4 of plain shank and 38 of thread: 93.2.
        assert_eq!(bolt.series, Series::Metric);
        close(bolt.length_m, 0.1);
        is_bought_right(&bolt, m16.gap_m, &m16, 0.038);
    }
}

/// Whatever is bolted, and on either side of every length at which a standard gives more thread.
#[test]
fn every_bolt_clamps_with_plain_shank_in_both_plates() {
    for bolt_m in [0.010, 0.012, 0.0127, 0.016, 0.019_05, 0.020, 0.0254] {
        for plate_m in [0.003, 0.006_35, 0.008, 0.0127] {
            for gap in 20..300_u32 {
                let steel = Steel {
                    bolt_m,
                    plate_m,
                    gap_m: f64::from(gap) / 1e3,
                    ..Steel::default()
                };
                let bolt = Bolt::through(&steel, Units::Millimetres);
                let (long_in, long_mm) = (bolt.length_m / 0.0254, bolt.length_m * 1e3);
                let more_m = match bolt.series {
                    Series::Inch if long_in < 6.01 => 0.25 * 0.0254,
                    Series::Inch => 0.5 * 0.0254,
                    Series::Metric if long_mm < 125.01 => 0.006,
                    Series::Metric if long_mm < 200.01 => 0.012,
                    Series::Metric => 0.025,
                };
                is_bought_right(&bolt, steel.gap_m, &steel, 2.0 * bolt_m + more_m);
                let steps = if bolt.series == Series::Inch {
                    2.0 * long_in
                } else {
                    long_mm / 10.0
                };
                assert!((steps - steps.round()).abs() < 1e-9, "{steps} steps: {bolt:?}");
            }
        }
    }
}

/// Two lower bars, two upper ones and a panhard bar: five of each hand, ten bolts; two coilovers: four more.
#[test]
fn a_four_link_with_a_panhard_bar_takes_ten_rod_ends() {
    let shopping = shopping(&demo(0));
    assert_eq!((shopping.right_hand, shopping.left_hand), (5, 5));
    assert_eq!(shopping.bolts, 14);
    assert_eq!((shopping.rubber, shopping.polyurethane), (0, 0));
    let table = section(&demo(0), Units::Millimetres, "Parts to buy");
    for part in [
        "Rod end, left-hand",
        "Threaded insert, right-hand",
        "Jam nut, left-hand",
    ] {
        assert_eq!(cell(&table, part, "Amount"), "5");
    }
}

/// Two pieces of 560.0893 - 114.3, and 3 of kerf each.
#[test]
fn tube_is_ordered_by_size_with_the_kerfs() {
    let tubes = shopping(&demo(0)).tubes;
    assert_eq!(tubes.len(), 3);
    let lower = tubes.iter().find(|t| t.tube_m == 0.0445).expect("the lower bars' size");
    assert_eq!(lower.pieces, 2);
    close(lower.length_m, 2.0 * (0.56_f64.hypot(0.01) - 0.1143 + 0.003));
    let mut alike = demo(0);
    for bar in &mut alike.bars {
        bar.tube_m = 0.0445;
    }
    let tubes = shopping(&alike).tubes;
    assert_eq!((tubes.len(), tubes[0].pieces), (1, 5));
}

#[test]
fn bushes_are_counted_by_kind() {
    let mut setup = demo(0);
    for bar in &mut setup.bars {
        bar.ends = Ends::Polyurethane;
    }
    setup.bars[0].ends = Ends::Bushes;
    let shopping = shopping(&setup);
    assert_eq!((shopping.rubber, shopping.polyurethane), (4, 6));
    assert_eq!((shopping.right_hand, shopping.left_hand), (0, 0));
}

/// A Watt's linkage: two links' outer ends and the pivot on brackets, and the links' two bolts in the crank.
#[test]
fn a_watts_linkage_takes_five_bolts() {
    let with = shopping(&Layout::ParallelWatt.hang(&demo(0)));
    let without = shopping(&Layout::ParallelPanhard.hang(&demo(0)));
    assert_eq!(with.bolts, without.bolts - 2 + 4);
    assert_eq!((with.pivot_bolts, without.pivot_bolts), (1, 0));
}

/// Beside the crank two washers of 1.6 and a spacer of 42.8625; grip 44.45 + 4 · 6.35 + 46.0625 = 115.9125. 3.81 + 115.9125 - 3.175 of plain
/// shank and, beyond 6 in, 50.8 of thread make 167.3: 7 in. Of those 127 are plain, and the nut's washer ends at 123.5: one more.
/// What the crank's template asks for is on the list, and no bush.
#[test]
fn a_watts_pivot_has_a_longer_bolt_and_a_spacer_tube() {
    let steel = Steel::default();
    let bolt = Bolt::of_pivot(&steel, Units::Sixteenths);
    close(bolt.grip_m, 0.115_912_5);
    close(bolt.length_m, 0.1778);
    assert_eq!(bolt.washers_at_nut, 2);
    is_bought_right(&bolt, 0.044_45 + 2.0 * 0.006_35 + 0.046_062_5, &steel, 2.0 * 0.0254);
    let setup = Layout::ParallelWatt.hang(&demo(0));
    let table = section(&setup, Units::Sixteenths, "Parts to buy");
    let size = |part: &str| cell(&table, part, "Size");
    assert_eq!(size("Bolt of the Watt's pivot, washers and lock nut"), "3/4\" × 7\"");
    assert_eq!(size("Spacer beside the Watt's crank"), "bore 3/4\", 1 11/16\" long");
    assert_eq!(size("Spacer tube of the Watt's pivot"), "bore 3/4\", 1 3/4\" long");
    assert_eq!(size("Washer beside the Watt's crank"), "bore 3/4\", 1/16\" thick");
    assert_eq!(cell(&table, "Washer beside the Watt's crank", "Amount"), "2");
    assert!(
        table.notes.iter().all(|note| !note.contains("bush")),
        "{:?}",
        table.notes
    );
    let drawn = rearend::brackets::of(&setup, None, Units::Sixteenths);
    let crank = drawn
        .into_iter()
        .flatten()
        .find(|bracket| bracket.name == "Watt's crank");
    let notes = crank.expect("a crank").plates.remove(0).notes;
    assert!(
        notes[0].starts_with("At the pivot a spacer tube 1 3/4\" long"),
        "{notes:?}"
    );
}

/// Ten rod ends with a spacer on either side, and what they fill.
#[test]
fn spacers_are_listed_with_what_they_fill() {
    assert_eq!(shopping(&demo(0)).spacers(), 20);
    let table = section(&demo(0), Units::Sixteenths, "Parts to buy");
    assert_eq!(cell(&table, "Spacer for a rod end", "Amount"), "20");
    let remarks = cell(&table, "Spacer for a rod end", "Remarks");
    assert!(remarks.contains("fill 1 3/4\" between the plates"), "{remarks}");
    // Half of 1 3/4 less 7/8.
    assert_eq!(cell(&table, "Spacer for a rod end", "Size"), "bore 3/4\", 7/16\" long");
    let said = "half of what the ball leaves of 1 3/4\" each; measure yours. That of a rod end for this bolt is usually 7/8\" wide.";
    assert!(table.notes.iter().any(|note| note.contains(said)), "{:?}", table.notes);
    let coilover = "The brackets of the coilovers are drawn for the same bolt and the same 1 3/4\" between";
    assert!(
        table.notes.iter().any(|note| note.starts_with(coilover)),
        "{:?}",
        table.notes
    );
    let insert = cell(&table, "Threaded insert, left-hand", "Remarks");
    assert!(insert.ends_with("thread 1 1/2\" deep"), "{insert}");
}

/// Series K of ISO 12240-4 has a ball of 21 on M16 and of 25 on M20.
#[test]
fn a_spacer_is_half_of_what_the_ball_leaves() {
    assert_eq!(
        [0.016, 0.020, 0.0127].map(usual_ball_m),
        [Some(0.021), Some(0.025), Some(0.015_875)]
    );
    let steel = |bolt_m: f64, gap_m: f64| Steel {
        bolt_m,
        gap_m,
        ..Steel::default()
    };
    close(usual_spacer_m(&steel(0.016, 0.04)).expect("a spacer"), 0.0095);
    assert_eq!(usual_spacer_m(&steel(0.016, 0.02)), None, "no room for one");
    assert_eq!(usual_spacer_m(&steel(0.017, 0.04)), None, "no such rod end");
    let mut setup = demo(0);
    setup.steel.gap_m = 0.020;
    let table = section(&setup, Units::Millimetres, "Parts to buy");
    let size = cell(&table, "Spacer for a rod end", "Size");
    assert_eq!(size, "bore 19.05 mm, length to suit the ball");
    assert!(
        table.notes.iter().any(|note| note.contains("too wide to go between")),
        "{:?}",
        table.notes
    );
}

/// Two legs with one rod end each at the frame, or a bush; one joint that they share.
#[test]
fn a_wishbone_shares_its_joint_on_the_axle() {
    let mut setup = Layout::Wishbone.hang(&demo(0));
    for bar in &mut setup.bars {
        (bar.ends, bar.frame_joint, bar.axle_joint) = (Ends::RodEnds, None, None);
    }
    let shopping = shopping(&setup);
    // Lower bars: two of each hand; the legs two right-hand ones and the shared one.
    assert_eq!((shopping.left_hand, shopping.right_hand), (2, 2 + 2 + 1));
    // And those of the two coilovers.
    assert_eq!(shopping.bolts, 4 + 2 + 1 + 4);
}

/// Paper and plates agree: as many are bought as are drawn, and a bracket that is not drawn is said to be missing. The panhard bar is
/// bolted to the frame nearer to the rail's flange than the edge distance.
#[test]
fn the_plates_to_cut_are_those_that_are_drawn() {
    let mut setup = demo(0);
    setup.bars[2].mount_in_frame.y = 0.35;
    let drawn = rearend::brackets::of(&setup, None, Units::Millimetres);
    let refused = drawn.iter().filter(|bracket| bracket.is_err()).count();
    assert!(refused > 0);
    let count: usize = drawn
        .into_iter()
        .flatten()
        .flat_map(|b| b.plates)
        .map(|p| p.count)
        .sum();
    let table = section(&setup, Units::Millimetres, "Parts to buy");
    assert_eq!(cell(&table, "Plates of brackets", "Amount"), count.to_string());
    let brackets = section(&setup, Units::Millimetres, "Brackets");
    let stops = brackets.text.iter().filter(|text| text.starts_with("Stop:"));
    assert_eq!(stops.count(), refused);
}
