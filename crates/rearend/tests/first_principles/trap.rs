//! The trap of continuation: past the end of a branch there is another assembly, and a big step lands on it without a sound.

use nalgebra::{Point3, Vector2, Vector3};
use rearend::answers::Answers;
use rearend::findings::{Grade, Kind};
use rearend::mechanism::Part;
use rearend::setup::{BarId, Setup, Side};
use rearend::tape::Units;

use crate::near;
use crate::support::{PANHARD, demo};

/// Bars that converge in the side view, and a panhard bar too short for the travel.
fn converging(uppers_down_m: f64, across_m: f64, above_m: f64) -> Setup {
    let mut setup = demo(0);
    setup.bars[1].mount_in_frame.z -= uppers_down_m;
    let lift = setup.axle_z_m(setup.travel.ride_m);
    let axle = setup.bars[PANHARD].mount_in_axle;
    setup.bars[PANHARD].mount_in_frame = axle + Vector3::new(0.0, across_m, lift + above_m);
    // Nothing else at stake: no roll.
    setup.travel.one_wheel_up_rad = 0.0;
    setup
}

/// The panhard bar's axle end (x, z) in the side view with the axle centre at a height: the planar four-bar of the long bars by bisection for
/// its turn.
fn panhard_end(setup: &Setup, height_m: f64) -> Vector2<f64> {
    let flat = |p: Point3<f64>| Vector2::new(p.x, p.z);
    let (ride_z, z) = (setup.axle_z_m(setup.travel.ride_m), setup.axle_z_m(height_m));
    let turned = |p: Vector2<f64>, a: f64| Vector2::new(p.x * a.cos() - p.y * a.sin(), p.x * a.sin() + p.y * a.cos());
    let bar = |i: usize| {
        let (frame, axle) = (flat(setup.bars[i].mount_in_frame), flat(setup.bars[i].mount_in_axle));
        let length = (axle + Vector2::new(0.0, ride_z) - frame).norm();
        (frame, axle, length)
    };
    let [(frame, axle, length), (upper_frame, upper_axle, upper_length)] = [bar(0), bar(1)];
    // The turn decides where the lower bar puts the centre; the upper bar decides the turn.
    let forward = |a: f64| {
        let joint = turned(axle, a);
        let drop = z + joint.y - frame.y;
        frame.x - (length * length - drop * drop).sqrt() - joint.x
    };
    let gap = |a: f64| (Vector2::new(forward(a), z) + turned(upper_axle, a) - upper_frame).norm() - upper_length;
    let (mut low, mut high) = (-0.6, 0.6);
    assert!(gap(low) * gap(high) < 0.0, "the turn lies between");
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        if gap(low) * gap(middle) <= 0.0 {
            high = middle;
        } else {
            low = middle;
        }
    }
    Vector2::new(forward(low), z) + turned(flat(setup.bars[PANHARD].mount_in_axle), low)
}

/// Where the bar hangs straight down, seen from behind: its axle end is below its frame end by its length, less what the end's fore-aft takes.
fn end_height_m(setup: &Setup, length_m: f64) -> f64 {
    let frame = setup.bars[PANHARD].mount_in_frame;
    let reach = |height_m: f64| {
        let end = panhard_end(setup, height_m);
        (end.x - frame.x).hypot(end.y - frame.z) - length_m
    };
    let (mut low, mut high) = (setup.travel.ride_m, setup.travel.full_lift_m);
    assert!(reach(low) < 0.0 && reach(high) > 0.0, "the end lies within the travel");
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        if reach(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// The axle goes aside by up to 50 mm, which asks up to `0.05^2 / (2 * 0.56)` = 2 mm of the long bars alike: fore-aft, where the panhard bar
/// minds it by its square. The travel is followed to 0.2 mm.
const FOLLOWED_M: f64 = 3e-4;

#[test]
fn converging_bars_end_their_travel_where_a_short_panhard_bar_hangs_straight_down() {
    for uppers_down_m in [0.0, 0.04, 0.09, -0.05] {
        for (across_m, above_m) in [(0.05, 0.027), (-0.05, 0.027), (0.04, 0.03)] {
            let setup = converging(uppers_down_m, across_m, above_m);
            let expected_m = end_height_m(&setup, f64::hypot(across_m, above_m));
            let answers = Answers::of(&setup);
            let ends: Vec<_> = answers
                .findings
                .iter()
                .filter(|f| matches!(f.kind, Kind::EndsEarly(_)))
                .collect();
            let case = format!("uppers {uppers_down_m} down, bar {across_m} across");
            assert_eq!(ends.len(), 1, "{case}: {:?}", answers.findings);
            let panhard = Part::Bar(BarId(PANHARD), Side::Drawn);
            assert_eq!(
                (ends[0].part, ends[0].grade),
                (Some(panhard), Grade::WontWork),
                "{case}"
            );
            let sentence = ends[0].sentence(&setup, Units::Millimetres);
            assert!(sentence.contains("the panhard bar"), "{case}: {sentence}");
            near(ends[0].height_m.expect("it has a height"), expected_m, FOLLOWED_M);
            let rows = answers.level_rows();
            assert!(rows.iter().all(|r| r.height_m <= expected_m + 1e-6), "{case}");
            // No pose is of the other assembly: the bar leans to the side it was drawn on.
            for row in rows {
                let end = row.at.to_ground(setup.bars[PANHARD].mount_in_axle);
                let leans = setup.bars[PANHARD].mount_in_frame.y - end.y;
                assert!(leans * across_m >= 0.0, "{case}: at {}", row.height_m);
            }
        }
    }
}
