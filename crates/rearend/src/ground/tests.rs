use super::*;
use crate::file;
use crate::mechanism::Part;
use crate::setup::{BarEnd, BarId, FrontHeights, Side};

const WHEELBASE_M: f64 = 2.95;

fn truck() -> Setup {
    file::read(include_str!("../../../../demo-scenes/01-parallel-panhard.ron")).expect("it reads")
}

fn with_front(laid_out_m: f64, ride_m: f64, full_lift_m: f64) -> Setup {
    let mut setup = truck();
    setup.travel.front = Front::Heights(FrontHeights {
        wheelbase_m: WHEELBASE_M,
        laid_out_m,
        ride_m,
        full_lift_m,
    });
    setup
}

fn standing(setup: &Setup, which: usize) -> Standing {
    let solved = crate::answers::Answers::of(setup).solved.expect("it compiles");
    let rows = &solved.level.rows;
    let row = match which {
        0 => rows.first(),
        _ => rows.last(),
    };
    Standing::of(setup, &solved, row.expect("it moves"))
}

fn find(standing: &Standing, what: Low) -> f64 {
    let found = standing.parts.iter().find(|s| s.what == what);
    found.expect("it is looked at").over_ground_m
}

/// Subtraction: a level frame at 90 mm, an axle 318 mm up.
#[test]
fn without_rake_heights_are_those_of_the_drawing() {
    let standing = standing(&truck(), 0);
    let rails = find(&standing, Low::Rails(RailSpot::Along));
    assert!((rails - 0.090).abs() < 1e-12);
    let eye = find(&standing, Low::End(Part::Bar(BarId(0), Side::Drawn), BarEnd::Frame));
    assert!((eye - (0.090 + 0.078 - 0.0445 / 2.0)).abs() < 1e-12);
    let centre = find(&standing, Low::CentreSection);
    assert!((centre * 1e3 - (318.0 - 1.71 * 76.2)).abs() < 1e-9);
    assert_eq!(standing.lowest().map(|s| s.what), Some(Low::Rails(RailSpot::Along)));
    assert!(standing.next().is_some_and(|s| !matches!(s.what, Low::Rails(_))));
}

/// Trigonometry: over the front axle the frame stands as high as the front is said to.
#[test]
fn a_raked_frame_stands_over_the_front_axle_as_described() {
    for (laid_out_m, full_m) in [(0.02, 0.25), (0.15, 0.35)] {
        let setup = with_front(laid_out_m, 0.16, full_m);
        let rake = setup.travel.rake_rad(0.090);
        let front = Level::at(&setup, 0.090).over_ground_m(WHEELBASE_M / rake.cos(), 0.0);
        assert!((front - laid_out_m).abs() < 1e-12, "{front}");
        let ends = [1.35, -0.95].map(|x: f64| 0.090 + x * (laid_out_m - 0.090) / WHEELBASE_M.hypot(laid_out_m - 0.090));
        let level = Level::at(&setup, 0.090);
        for (x, expected) in [1.35, -0.95].into_iter().zip(ends) {
            assert!((level.over_ground_m(x, 0.0) - expected).abs() < 1e-12);
        }
    }
}

#[test]
fn the_end_that_the_rake_lowers_is_the_lowest_of_the_rails() {
    let nose_down = standing(&with_front(0.03, 0.16, 0.25), 0);
    assert!(find(&nose_down, Low::Rails(RailSpot::FrontAxle)) < 0.090);
    let tail_down = standing(&with_front(0.30, 0.35, 0.45), 0);
    assert!(find(&tail_down, Low::Rails(RailSpot::Rear)) < 0.090);
}

/// At rest the lowest of the frame is on the ground; the height is where the straight line between two heights has it.
#[test]
fn a_frame_in_the_ground_rests_where_it_touches() {
    let mut setup = with_front(-0.03, 0.10, 0.25);
    let rests_m = rests_at_m(&setup).expect("it is in the ground laid out, and out of it at ride height");
    // Over the front axle the front's height counts, which rises from -30 to 100 mm while the rear does from 90 to 150.
    let expected = 0.090 + (0.150 - 0.090) * 0.03 / 0.13;
    assert!((rests_m - expected).abs() < 1e-9, "{rests_m} {expected}");
    setup.travel.front = Front::Follows;
    assert_eq!(rests_at_m(&setup), None, "it does not touch");
    setup.travel.laid_out_m = -0.2;
    setup.travel.ride_m = -0.1;
    assert_eq!(rests_at_m(&setup), None, "it never comes out");
}

/// Geometry: the line from the rim's lower edge over one tyre to the ground under the other.
#[test]
fn the_scrub_line_falls_from_a_rim_to_the_other_tyre() {
    let setup = truck();
    let half_track = setup.track_m() / 2.0;
    for (aside, part) in [(half_track, 1.0), (0.0, 0.5), (2.0 * half_track, 1.0)] {
        assert!((scrub_m(&setup, 0.12, aside) - 0.12 * part).abs() < 1e-12);
    }
    assert_eq!(standing(&setup, 1).below_scrub_line(&setup), None);
    let mut low = setup;
    low.bars[0].mount_in_axle.z = -0.25;
    let (stands, below_m) = standing(&low, 1).below_scrub_line(&low).expect("it hangs low");
    assert!(matches!(stands.what, Low::End(Part::Bar(BarId(0), _), BarEnd::Axle)));
    assert!(below_m > 0.0 && below_m < 0.2);
}
