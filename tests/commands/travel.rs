//! `axlewright travel`.

use std::fs;

use tests::parallelogram;

use crate::shell::{Shell, demo, demo_setup};
use crate::table::{Table, assert_all_near};

/// The columns that every table has, and their order.
const COLUMNS: &str = "height_mm,roll_deg,shift_mm,fore_aft_mm,axle_steer_deg,pinion_to_frame_deg,pinion_to_ground_deg,\
    front_joint_deg,rear_joint_deg,slip_mm,ic_x_mm,ic_z_mm,anti_squat_pct,roll_centre_mm,roll_steer,misfit_mm";

/// How well a pose is solved, mm.
const POSE_MM: f64 = 1e-5;

#[test]
fn the_table_has_its_columns_and_61_rising_heights() {
    let text = Shell::new().text(&["travel", &demo("01")]);
    let header = text.lines().next().expect("a header");
    assert!(
        header == COLUMNS || header.starts_with(&format!("{COLUMNS},")),
        "{header}"
    );
    let heights = Table::read(&text).column("height_mm");
    let travel = demo_setup().travel;
    let (low, high) = (travel.laid_out_m * 1e3, travel.full_lift_m * 1e3);
    let even: Vec<f64> = (0..61).map(|i| low + (high - low) * f64::from(i) / 60.0).collect();
    assert_all_near("height_mm", &heights, &even, 1e-6);
}

#[test]
fn the_axle_moves_by_the_closed_form_at_every_height() {
    let table = Table::read(&Shell::new().text(&["travel", &demo("01")]));
    let setup = demo_setup();
    let moved: Vec<_> = table
        .column("height_mm")
        .iter()
        .map(|height_mm| parallelogram::moved(&setup, height_mm / 1e3) * 1e3)
        .collect();
    let [forward, left] = [0, 1].map(|axis| moved.iter().map(|m| m[axis]).collect::<Vec<_>>());
    assert_all_near("fore_aft_mm", &table.column("fore_aft_mm"), &forward, POSE_MM);
    assert_all_near("shift_mm", &table.column("shift_mm"), &left, POSE_MM);
}

/// Equal parallel bars: a parallelogram neither steers nor turns the pinion, and every bar keeps the length it was drawn with.
#[test]
fn what_a_parallelogram_keeps_stays_the_same() {
    let table = Table::read(&Shell::new().text(&["travel", &demo("01")]));
    let count = table.rows.len();
    let setup = demo_setup();
    let pinion = setup.axle.pinion_angle_rad.to_degrees();
    let lift = setup.wheels.loaded_radius_m - setup.travel.ride_m;
    let length_mm = |bar: usize| {
        let along = setup.bars[bar].mount_in_frame - setup.bars[bar].mount_in_axle;
        along.x.hypot(along.y).hypot(along.z - lift) * 1e3
    };
    for (name, expected) in [
        ("axle_steer_deg", 0.0),
        ("pinion_to_frame_deg", pinion),
        ("misfit_mm", 0.0),
        ("left lower bar length_mm", length_mm(0)),
        ("right upper bar length_mm", length_mm(1)),
        ("panhard bar length_mm", length_mm(2)),
    ] {
        assert_all_near(name, &table.column(name), &vec![expected; count], POSE_MM);
    }
}

#[test]
fn steps_and_roll_are_as_asked_for() {
    let table = Table::read(&Shell::new().text(&["travel", &demo("01"), "--steps", "5", "--roll", "-1.5"]));
    assert_all_near(
        "height_mm",
        &table.column("height_mm"),
        &[90.0, 125.0, 160.0, 195.0, 230.0],
        1e-6,
    );
    assert_all_near("roll_deg", &table.column("roll_deg"), &[-1.5; 5], 1e-6);
}

#[test]
fn a_file_gets_what_standard_output_would_and_nothing_else_is_left() {
    let shell = Shell::new();
    shell.put("travel.csv", "what was there before");
    let to_file = ["travel", &demo("01"), "--out", "travel.csv"];
    // What is there may be somebody's work.
    let refused = shell.run(&to_file);
    assert_eq!(refused.status.code(), Some(2));
    let kept = fs::read_to_string(shell.path("travel.csv")).expect("it is still there");
    assert_eq!(kept, "what was there before");
    let told = shell.text(&[&to_file[..], &["--force"]].concat());
    assert_eq!(told, "");
    let written = fs::read_to_string(shell.path("travel.csv")).expect("the table is there");
    assert_eq!(written, shell.text(&["travel", &demo("01")]));
    assert_eq!(shell.files().into_iter().collect::<Vec<_>>(), ["travel.csv"]);
}
