//! How brackets stand: angles from vectors, heights from plane geometry.

use nalgebra::Vector3;
use rearend::answers::Answers;
use rearend::brackets;
use rearend::build::stands::{By, Ground, Lies, RailFace, Standing, Way, standing};
use rearend::layouts::Layout;
use rearend::setup::Setup;
use rearend::tape::{Units, degrees};

use crate::common::{cell, close, near, section};
use crate::support::{PANHARD, demo};

fn stands(setup: &Setup) -> Vec<Standing> {
    let solved = Answers::of(setup).solved.expect("it compiles");
    let drawn = brackets::of(setup, Some(&solved), Units::Millimetres);
    let drawn: Vec<_> = drawn.into_iter().flatten().collect();
    standing(setup, &solved.rear_end, &drawn)
}

#[track_caller]
fn of(setup: &Setup, name: &str) -> Standing {
    let all = stands(setup);
    let names: Vec<_> = all.iter().map(|one| one.name.clone()).collect();
    let found = all.into_iter().find(|one| one.name == name);
    found.unwrap_or_else(|| panic!("no {name} among {names:?}"))
}

/// A direction by its angle in plan from straight left towards forward, and its rise, degrees.
fn bolt(plan_deg: f64, rise_deg: f64) -> Vector3<f64> {
    let (plan, rise) = (plan_deg.to_radians(), rise_deg.to_radians());
    Vector3::new(plan.sin() * rise.cos(), plan.cos() * rise.cos(), rise.sin())
}

/// Of a pair described on the left, whose bolt leans by known angles. Ninety degrees in plan is straight ahead.
#[test]
fn a_bolt_is_told_as_bevel_and_angle_finder_read_it() {
    let table = [
        (0.0, 0.0, "straight across"),
        (180.0, 0.0, "straight across"),
        (12.0, 0.0, "12.0° off straight across, outer end forward"),
        (-12.0, 0.0, "12.0° off straight across, outer end back"),
        // The same bolt from its other end.
        (168.0, 0.0, "12.0° off straight across, outer end back"),
        (192.0, 0.0, "12.0° off straight across, outer end forward"),
        (0.0, 5.0, "straight across, outer end 5.0° up"),
        (180.0, 5.0, "straight across, outer end 5.0° down"),
        (
            12.0,
            -3.0,
            "12.0° off straight across, outer end forward, outer end 3.0° down",
        ),
        (90.0, 0.0, "straight fore and aft"),
        (70.0, 0.0, "20.0° off straight fore and aft, forward end out"),
        (110.0, 0.0, "20.0° off straight fore and aft, forward end in"),
        (-70.0, 0.0, "20.0° off straight fore and aft, forward end in"),
        (90.0, 4.0, "straight fore and aft, forward end 4.0° up"),
        (-90.0, 4.0, "straight fore and aft, forward end 4.0° down"),
        (90.0, 90.0, "upright"),
        (90.0, 80.0, "upright, top 10.0° forward"),
        (0.0, 80.0, "upright, top 10.0° out"),
        (0.0, -80.0, "upright, top 10.0° in"),
        (0.03, 0.0, "straight across"),
    ];
    for (plan, rise, told) in table {
        assert_eq!(Lies::of(bolt(plan, rise), 1.0).words(true), told, "{plan} {rise}");
    }
}

/// One that has no twin goes to a side of the truck; of a pair described on the right, out is to the right.
#[test]
fn a_bolt_without_a_twin_goes_left_or_right() {
    let alone = |plan, rise| Lies::of(bolt(plan, rise), 1.0).words(false);
    assert_eq!(alone(12.0, 0.0), "12.0° off straight across, left end forward");
    assert_eq!(
        alone(110.0, 0.0),
        "20.0° off straight fore and aft, forward end to the right"
    );
    assert_eq!(
        alone(70.0, 0.0),
        "20.0° off straight fore and aft, forward end to the left"
    );
    let right = Lies::of(bolt(168.0, 0.0), -1.0);
    assert_eq!(right.words(true), "12.0° off straight across, outer end forward");
    assert_eq!(right.way, Way::Across);
    near(right.aside_rad.to_degrees(), 12.0, 1e-9);
}

/// The upper bar runs 445 ahead and 230 out, its bolt level and square to it.
#[test]
fn the_bolt_of_an_angled_bar_is_as_far_off_as_the_bar() {
    let setup = demo(2);
    let off_rad = (230.0_f64 / 445.0).atan();
    for name in ["upper bar, on the frame", "upper bar, on the axle"] {
        let upper = of(&setup, name);
        assert_eq!((upper.lies.way, upper.both_sides), (Way::Across, true));
        near(upper.lies.aside_rad, -off_rad, 1e-9);
        near(upper.lies.lean_rad, 0.0, 1e-9);
    }
    let words = section(&setup, Units::Sixteenths, "How brackets stand");
    let told = cell(&words, "Upper bar, on the frame", "Bolt lies");
    let off = degrees(off_rad, 1);
    assert_eq!(told, format!("{off} off straight across, outer end back"));
    assert_eq!(cell(&words, "Lower bar, on the axle", "Bolt lies"), "Straight across");
}

/// The lower bar's bolt 80 below the middle of a tube of 76.2; the coilover's 475 up over a rail whose top is at 235 + 150.
#[test]
fn a_bolt_is_as_high_as_plane_geometry_says() {
    let setup = demo(0);
    let lower = of(&setup, "lower bar, on the axle");
    let foot = lower.foot.expect("it is drawn");
    close(foot.height_m, 0.080 - 0.0381);
    assert_eq!(foot.by, By::Edges);
    assert!(
        matches!(foot.ground, Ground::Tube { tube_m, .. } if (tube_m - 0.0762).abs() < 1e-9),
        "{foot:?}"
    );
    close(lower.clear_m, 0.044_45);
    let coilover = of(&setup, "coilover, on the frame");
    let foot = coilover.foot.expect("it is drawn");
    assert_eq!(foot.ground, Ground::Rail(RailFace::Top));
    close(foot.height_m, 0.475 - 0.385);
    assert_eq!(coilover.lies.way, Way::Along);
    let words = section(&setup, Units::Millimetres, "How brackets stand");
    let height = |row: &str| cell(&words, row, "Bolt's centre to that");
    assert_eq!(height("Lower bar, on the axle"), "41.9 mm");
    assert_eq!(height("Coilover, on the frame"), "90.0 mm");
    assert_eq!(cell(&words, "Lower bar, on the axle", "Stands on"), "The axle tube");
    assert_eq!(
        cell(&words, "Lower bar, on the frame", "Stands on"),
        "Pad plate above it, on its edge on the rail's outside"
    );
}

/// A joint turns past a pad with a quarter more than the edge distance of one and a half bolts: 1.25 · 1.5 · 19.05. Bolts that lie level have
/// level pads: those over the tube's middle have it below them.
#[test]
fn a_bolt_on_a_pad_is_told_from_the_pad() {
    for (which, name) in [(2, "upper bar, on the axle"), (0, "panhard bar, on the axle")] {
        let one = of(&demo(which), name);
        assert!(one.at.z > 0.0);
        let foot = one.foot.expect("it is drawn");
        assert_eq!(foot.by, By::Pad);
        close(foot.height_m, 1.25 * 1.5 * 0.019_05);
        near((foot.towards + Vector3::z()).norm(), 0.0, 1e-9);
    }
    let words = section(&demo(0), Units::Sixteenths, "How brackets stand");
    assert_eq!(
        cell(&words, "Panhard bar, on the axle", "Stands on"),
        "Pad plate below it, on ribs on the axle tube"
    );
}

/// A crank turns beyond a plate that two ribs carry, whose face is told from the tube: 285 behind the axle less half of 44.45, a plate and a
/// washer of 1.6, less the spacer of two and a quarter bolts, less the plate, less the tube's radius.
#[test]
fn a_cranks_pivot_is_told_from_the_tube_that_its_ribs_sit_on() {
    let setup = demo(1);
    let foot = of(&setup, "Watt's crank pivot, on the axle").foot.expect("it is drawn");
    assert_eq!(foot.by, By::Ribs);
    let beside_m = 0.044_45 / 2.0 + 0.006_35 + 0.001_6 + 2.25 * 0.019_05;
    close(foot.height_m, 0.285 - beside_m - 0.006_35 - 0.0826 / 2.0);
    near((foot.towards - Vector3::x()).norm(), 0.0, 1e-9);
    let words = section(&setup, Units::Millimetres, "How brackets stand");
    assert_eq!(
        cell(&words, "Watt's crank pivot, on the axle", "Stands on"),
        "Near side plate on two ribs on the axle tube"
    );
}

/// A bolt under the rail, straight ahead, on plates that stand on its underside: 60 below it.
#[test]
fn a_bolt_under_the_rail_hangs_from_its_underside() {
    let mut setup = Layout::ParallelPanhard.hang(&demo(0));
    let panhard = setup
        .bars
        .iter_mut()
        .find(|bar| bar.name == "panhard bar")
        .expect("a panhard bar");
    let x_mm = panhard.mount_in_frame.x * 1e3;
    assert!(
        (-330.0..=-135.0).contains(&x_mm),
        "where the rail is level and not notched: {x_mm}"
    );
    panhard.mount_in_frame.z = 0.235 - 0.060;
    let foot = of(&setup, "panhard bar, on the frame").foot.expect("it is drawn");
    assert_eq!(foot.ground, Ground::Rail(RailFace::Underside));
    close(foot.height_m, 0.060);
}

/// Half way up the climb from 680 to 320 the rail has risen by half of 295; the crossmember runs in the middle of its height of 155.
#[test]
fn a_crossmember_that_carries_a_bracket_is_told_with_its_place() {
    let setup = demo(2);
    let foot = of(&setup, "upper bar, on the frame").foot.expect("it is drawn");
    let Ground::Tube { at, .. } = foot.ground else {
        panic!("on the crossmember, not on {:?}", foot.ground)
    };
    near(at.x, 0.5, 1e-9);
    near(at.z, 0.1475 + 0.0775, 1e-9);
    let words = section(&setup, Units::Millimetres, "How brackets stand");
    assert!(
        words.notes[0].starts_with(
            "The crossmember 500.0 mm ahead of the axle line: its centre stands 225.0 mm above the straight rail's underside"
        ),
        "{:?}",
        words.notes
    );
    assert_eq!(words.notes.len(), 1);
    assert_eq!(
        cell(&words, "Upper bar, on the frame", "Stands on"),
        "Pad plate below it, on ribs on the crossmember 500.0 mm ahead of the axle line"
    );
}

/// Where no plate is drawn whoever makes one up reads the angle all the same.
#[test]
fn a_bracket_that_is_not_drawn_has_its_angle() {
    let mut setup = demo(0);
    // Within the edge distance of the rail's flanges.
    setup.bars[PANHARD].mount_in_frame.y += 0.02;
    let panhard = of(&setup, "panhard bar, on the frame");
    assert_eq!(panhard.foot, None);
    // Both ends of it stand at one station.
    let bar = &setup.bars[PANHARD];
    close(bar.mount_in_frame.x, bar.mount_in_axle.x);
    assert_eq!(panhard.lies.words(false), "straight fore and aft");
    let mut setup = Layout::LowersTriangulated.hang(&demo(0));
    // Far from every crossmember and from both rails.
    for bar in setup.bars.iter_mut().filter(|bar| bar.name == "lower bar") {
        bar.mount_in_frame.z -= 1.1;
    }
    let lower = of(&setup, "lower bar, on the frame");
    assert_eq!((lower.foot, lower.both_sides), (None, true));
    let bar = setup
        .bars
        .iter()
        .find(|bar| bar.name == "lower bar")
        .expect("a lower bar");
    let along = bar.mount_in_frame - bar.mount_in_axle;
    // It runs in towards the front, so that its bolt's outer end is ahead.
    near(lower.lies.aside_rad, (-along.y / along.x).atan(), 1e-9);
    assert!(lower.lies.aside_rad > 0.0);
    let words = section(&setup, Units::Sixteenths, "How brackets stand");
    assert_eq!(cell(&words, "Lower bar, on the frame", "Stands on"), "Not drawn");
}

/// As many as there are brackets to weld, each with its foot; those that are not drawn besides.
#[test]
fn every_bracket_stands_on_something() {
    for layout in Layout::ALL {
        let setup = layout.hang(&demo(0));
        let drawn = brackets::of(&setup, Answers::of(&setup).solved.as_ref().ok(), Units::Millimetres);
        let welded = drawn.iter().flatten().filter(|bracket| bracket.name != "Watt's crank");
        let names: Vec<_> = welded.map(|bracket| bracket.name.clone()).collect();
        let refused = drawn.iter().filter(|bracket| bracket.is_err()).count();
        let all = stands(&setup);
        let on: Vec<_> = all.iter().filter(|one| one.foot.is_some()).collect();
        assert_eq!(
            on.iter().map(|one| &one.name).collect::<Vec<_>>(),
            names.iter().collect::<Vec<_>>()
        );
        for one in &on {
            let foot = one.foot.expect("it stands");
            // Ribs may be as short as what a weld wants between plate and tube.
            let least_m = if foot.by == By::Ribs { 0.005 } else { 0.02 };
            assert!(foot.height_m > least_m && foot.height_m < 0.2, "{layout:?}: {one:?}");
        }
        assert!(all.len() - on.len() <= refused + 1, "{layout:?}: {all:#?}");
    }
}

/// 44.45 between the crank's plates, twice 6.35 of plate, two washers of 1.6, and a spacer of two and a quarter bolts.
#[test]
fn the_pivots_bracket_is_wide_enough_for_the_crank() {
    let setup = Layout::ParallelWatt.hang(&demo(0));
    let pivot = of(&setup, "Watt's crank pivot, on the axle");
    close(pivot.clear_m, 0.044_45 + 2.0 * (0.006_35 + 0.001_6) + 2.25 * 0.019_05);
}
