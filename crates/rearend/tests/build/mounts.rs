//! Datums of mounts with known coordinates. The first demo: rails 864 outside to outside, kick-up of 235 from 690 to 300, notch of 135 either
//! way, axle of 1524 from flange to flange.

use nalgebra::Point3;
use rearend::build::mounts::{AxleDatums, FrameDatums, Holds, places};
use rearend::layouts::Layout;
use rearend::setup::{HoleRow, Mount, Setup};
use rearend::tape::Units;

use crate::common::{cell, close, near, section};
use crate::support::demo;

fn frame(x: f64, y: f64, z: f64) -> FrameDatums {
    FrameDatums::of(&demo(0).rails, Point3::new(x, y, z) / 1e3)
}

#[test]
fn a_frame_mount_is_told_from_axle_line_centre_web_and_underside() {
    let at = frame(900.0, -490.0, 78.0);
    close(at.ahead_m, 0.9);
    close(at.left_m, -0.49);
    close(at.outside_web_m, 0.058);
    close(at.above_straight_m, 0.078);
    close(at.above_rail_m.expect("a rail"), 0.078);
    close(frame(900.0, 400.0, 0.0).outside_web_m, -0.032);
}

#[test]
fn where_the_rail_has_risen_its_own_underside_is_the_datum() {
    close(frame(200.0, 490.0, 300.0).above_rail_m.expect("a rail"), 0.3 - 0.235);
    assert_eq!(frame(50.0, 490.0, 300.0).above_rail_m, None, "in the notch");
    assert_eq!(frame(1400.0, 490.0, 300.0).above_rail_m, None, "ahead of the rail");
}

#[test]
fn an_axle_mount_is_told_from_tube_and_flange_and_by_its_angle() {
    let at = |x: f64, y: f64, z: f64| AxleDatums::of(&demo(0), Point3::new(x, y, z) / 1e3);
    let below = at(0.0, 490.0, -80.0);
    close(below.from_flange_m, 0.762 - 0.49);
    close(below.out_m, 0.08);
    near(below.clock_rad.expect("an angle").to_degrees(), -90.0, 1e-9);
    let behind = at(-30.0, -325.0, 40.0);
    close(behind.out_m, 0.05);
    // A 3-4-5 triangle: the angle whose cosine is -0.6.
    near(behind.clock_rad.expect("an angle").to_degrees(), 126.869_897_6, 1e-6);
    assert_eq!(at(0.0, 100.0, 0.0).clock_rad, None);
}

#[test]
fn the_tables_say_so_in_words() {
    let setup = demo(0);
    let frame = section(&setup, Units::Millimetres, "Mounts on the frame");
    let of = |column: &str| cell(&frame, "panhard bar, on the frame", column);
    assert_eq!(of("From the axle line"), "205.0 mm behind");
    assert_eq!(of("From the centre line"), "340.0 mm left");
    assert_eq!(of("From the outside of the web"), "92.0 mm inside");
    assert_eq!(of("From the straight rail's underside"), "255.0 mm above");
    assert_eq!(of("From the rail's underside there"), "20.0 mm above");
    let axle = section(&setup, Units::Millimetres, "Mounts on the axle");
    let of = |column: &str| cell(&axle, "lower bar, on the axle", column);
    assert_eq!(of("From the tube's middle"), "490.0 mm each side");
    assert_eq!(of("From the wheel flange's face"), "272.0 mm");
    assert_eq!(of("Height, to the tube's centre"), "80.0 mm below");
    assert_eq!(of("Along, to the tube's centre"), "0.0 mm");
    assert_eq!(of("Round the tube, from level forward"), "90.0° down");
    assert_eq!(cell(&axle, "coilover, on the axle", "Hole"), "1 of 2");
}

/// The axle of 1524 between flanges, rails of 864 over channels of 150 by 65 by 6.
#[test]
fn what_is_measured_from_is_told_once() {
    let told = |title: &str| section(&demo(0), Units::Millimetres, title).text.join(" ");
    let axle = told("Mounts on the axle");
    assert!(
        axle.contains("from wheel flange to wheel flange the axle is 1524.0 mm"),
        "{axle}"
    );
    let rails = &demo(0).rails;
    let mm = |m: f64| format!("{:.1} mm", m * 1e3);
    let [high, wide, wall] = [rails.height_m, rails.flange_m, rails.wall_m].map(mm);
    let frame = told("Mounts on the frame");
    let said = format!("{high} high, {wide} wide, {wall} of wall, 864.0 mm from outside to outside");
    assert!(frame.contains(&said), "{frame}");
}

/// One word for one thing: what the springs are.
#[test]
fn a_coilover_is_called_so() {
    let names = |setup: &Setup| places(setup).into_iter().map(|p| p.name).collect::<Vec<_>>();
    let [coilovers, air] = [0, 1].map(demo);
    assert!(names(&coilovers).contains(&"coilover, on the frame".to_owned()));
    assert!(names(&air).contains(&"air spring, on the frame".to_owned()));
    for setup in [coilovers, air] {
        assert!(names(&setup).iter().all(|name| !name.starts_with("spring")));
    }
}

#[test]
fn a_row_of_holes_says_which() {
    let mut setup = demo(0);
    let mount = setup.mounts()[0];
    let at = setup.mount(mount).expect("a mount").point;
    let step = nalgebra::Vector3::new(0.0, 0.0, 0.0254);
    let row = HoleRow {
        first: at - step * 2.0,
        step,
        count: 4,
    };
    assert!(setup.set_hole_row(mount, Some(row)));
    let words = section(&setup, Units::Sixteenths, "Mounts on the frame");
    assert_eq!(cell(&words, "lower bar, on the frame", "Hole"), "3 of 4");
    let brackets = section(&setup, Units::Sixteenths, "Brackets");
    let plate = cell(&brackets, "Lower bar, on the frame: side plate", "Drilled");
    assert!(plate.starts_with("4 holes of "), "{plate}");
}

fn on_the_crank(setup: &Setup) -> usize {
    let mounts = setup.mounts();
    mounts
        .iter()
        .filter(|m| matches!(m, Mount::WattLeftArm | Mount::WattRightArm))
        .count()
}

/// Every mount of every layout is there once, both sides counted; a ladder bar's is two bolts, a crank's joints are the crank's.
#[test]
fn no_mount_is_left_out() {
    for layout in Layout::ALL {
        let mut setup = layout.hang(&demo(0));
        setup.springs = None;
        let places = places(&setup);
        let bolts: usize = places
            .iter()
            .filter(|p| p.holds != Holds::LadderLower)
            .map(rearend::build::mounts::Place::count)
            .sum();
        assert_eq!(bolts, setup.mounts().len() - on_the_crank(&setup), "{layout:?}");
    }
}
