//! What is bought.

use rearend::build::cut::cut_list;
use rearend::build::mounts::places;
use rearend::build::parts::{Shopping, bolt_length_m, bolt_needed_m, pivot_bolt_needed_m, sold_length_m};
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

/// 44.45 + 2 · 6.35 + (0.2 + 1) · 19.05 = 80.01: 3 1/2 in, or 90 mm.
#[test]
fn bolts_come_in_half_inches_or_tens_of_millimetres() {
    let steel = Steel::default();
    close(bolt_needed_m(&steel), 0.080_01);
    close(bolt_length_m(&steel, Units::Sixteenths), 3.5 * 0.0254);
    close(bolt_length_m(&steel, Units::DecimalInches), 3.5 * 0.0254);
    close(bolt_length_m(&steel, Units::Millimetres), 0.09);
    // One that needs three inches to the last bit gets three inches.
    let exact = Steel {
        gap_m: 0.0762 - 0.0127 - 1.2 * 0.019_05,
        ..steel
    };
    close(bolt_length_m(&exact, Units::Sixteenths), 0.0762);
    let table = section(&demo(0), Units::Sixteenths, "Parts to buy");
    assert_eq!(cell(&table, "Bolt, washers and lock nut", "Size"), "3/4\" × 3 1/2\"");
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
        assert_eq!(cell(&table, part, "Number or length"), "5");
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

/// 44.45 + 4 · 6.35 + 2 · 1.6 + 1.2 · 19.05 = 95.91: 4 in, or 100 mm. What the crank's template asks for is on the list, and no bush.
#[test]
fn a_watts_pivot_has_a_longer_bolt_and_a_spacer_tube() {
    let needed_m = pivot_bolt_needed_m(&Steel::default());
    close(needed_m, 0.095_91);
    close(sold_length_m(needed_m, Units::Sixteenths), 0.1016);
    close(sold_length_m(needed_m, Units::Millimetres), 0.1);
    let setup = Layout::ParallelWatt.hang(&demo(0));
    let table = section(&setup, Units::Sixteenths, "Parts to buy");
    let size = |part: &str| cell(&table, part, "Size");
    assert_eq!(size("Bolt of the Watt's pivot, washers and lock nut"), "3/4\" × 4\"");
    assert_eq!(size("Spacer tube of the Watt's pivot"), "bore 3/4\" × 1 3/4\"");
    assert_eq!(size("Washer beside the Watt's crank"), "bore 3/4\", 1/16\" thick");
    assert_eq!(cell(&table, "Washer beside the Watt's crank", "Number or length"), "2");
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
    assert_eq!(cell(&table, "Spacer for a rod end", "Number or length"), "20");
    let remarks = cell(&table, "Spacer for a rod end", "Remarks");
    assert!(remarks.contains("fill 1 3/4\" between the plates"), "{remarks}");
    let coilover = "The brackets of the coilovers are drawn for the same bolt and the same 1 3/4\" between";
    assert!(
        table.notes.iter().any(|note| note.starts_with(coilover)),
        "{:?}",
        table.notes
    );
    let insert = cell(&table, "Threaded insert, left-hand", "Remarks");
    assert!(insert.ends_with("thread 1 1/2\" deep"), "{insert}");
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
    assert_eq!(
        cell(&table, "Plates of brackets", "Number or length"),
        count.to_string()
    );
    let brackets = section(&setup, Units::Millimetres, "Brackets");
    let stops = brackets.text.iter().filter(|text| text.starts_with("Stop:"));
    assert_eq!(stops.count(), refused);
}
