use nalgebra::{Matrix6, Point3, Vector3, Vector6};
use rearend::setup::SpringKind;
use rearend::travel::Row;

use crate::near;
use crate::trucks::{on_coilovers, pose, swept};

/// Force and moment about the origin of the frame of a unit force along a direction.
fn wrench(point: Point3<f64>, direction: Vector3<f64>) -> Vector6<f64> {
    let moment = point.coords.cross(&direction);
    Vector6::new(direction.x, direction.y, direction.z, moment.x, moment.y, moment.z)
}

/// Forces of four bars and two wheels that hold the axle against its springs, six equations of statics for six unknowns: the wheels carry, in
/// sum, what the motion ratios say.
#[test]
fn wheels_carry_what_virtual_work_says() {
    // The triangulated four-link: four bars, nothing redundant.
    for roll_rad in [0.0, 0.05] {
        let mut setup = on_coilovers(2);
        if let Some(springs) = &mut setup.springs
            && let SpringKind::Coilover(c) = &mut springs.kind
        {
            (c.collapsed_m, c.extended_m) = (0.1, 0.7);
        }
        let (rear_end, travel) = swept(&setup, roll_rad);
        assert_eq!(rear_end.parts.len(), 4);
        for row in travel.rows.iter().step_by(5) {
            let [left_n, right_n] = wheel_forces(&setup, &rear_end, row);
            let expected: f64 = pose(row)
                .sides()
                .iter()
                .map(|s| s.load.expect("it carries").wheel_force_n)
                .sum();
            near((left_n + right_n) / expected, 1.0, 1e-8);
            if roll_rad == 0.0 {
                near(left_n / right_n, 1.0, 1e-8);
            }
        }
    }
}

/// What the ground has to press with under each wheel.
fn wheel_forces(setup: &rearend::setup::Setup, rear_end: &rearend::mechanism::RearEnd, row: &Row) -> [f64; 2] {
    let mut holds = Matrix6::zeros();
    for (i, [frame, axle]) in rear_end.mechanism.every_link_in_ground(&row.at).enumerate() {
        holds.set_column(i, &wrench(axle, (frame - axle).normalize()));
    }
    let half = setup.track_m() / 2.0;
    for (i, y) in [half, -half].into_iter().enumerate() {
        let wheel = row.at.to_ground(Point3::new(0.0, y, 0.0));
        holds.set_column(4 + i, &wrench(wheel, Vector3::z()));
    }
    let mut springs = Vector6::zeros();
    for spring in pose(row).sides() {
        let down = (spring.bottom - spring.top).normalize();
        springs += wrench(spring.bottom, down) * spring.load.expect("it carries").force_n;
    }
    let forces = holds.lu().solve(&-springs).expect("six that hold");
    [forces[4], forces[5]]
}

/// The left wheel's share of the roll: with one wheel up, both springs' moments about the roll axis are what their motion ratios in roll say.
#[test]
fn in_roll_the_wheels_couple_is_what_virtual_work_says() {
    let mut setup = on_coilovers(2);
    if let Some(springs) = &mut setup.springs
        && let SpringKind::Coilover(c) = &mut springs.kind
    {
        (c.collapsed_m, c.extended_m) = (0.1, 0.7);
    }
    let (rear_end, travel) = swept(&setup, 0.05);
    for row in travel.rows.iter().step_by(10) {
        let [left_n, right_n] = wheel_forces(&setup, &rear_end, row);
        let pose = pose(row);
        // Rolling lifts one wheel and lowers the other by as much.
        let [left, right] = pose
            .sides()
            .map(|s| s.load.expect("it carries").force_n * s.motion_ratio_in_roll);
        near((left_n - right_n) / (left - right), 1.0, 1e-7);
    }
}
