use proptest::prelude::*;
use rearend::springs::Curve;

use crate::near;

type Point = (f64, f64);

fn through(points: &[Point]) -> Curve<'_, Point> {
    Curve::new(points, |p| *p)
}

/// Source: SciPy 1.17, `scipy.interpolate.PchipInterpolator` and its derivative, printed to nine decimals.
#[test]
fn the_curve_is_the_published_monotone_one() {
    let points = [
        (80.0, 9000.0),
        (100.0, 8600.0),
        (130.0, 8800.0),
        (150.0, 9100.0),
        (190.0, 8000.0),
        (230.0, 3000.0),
    ];
    let expected = [
        (80.0, 9000.0, -30.666_666_667),
        (85.0, 8851.25, -28.25),
        (97.5, 8_608.802_083_333, -6.895_833_333),
        (100.0, 8600.0, 0.0),
        (111.0, 8_636.748_148_148, 6.162_573_099),
        (130.0, 8800.0, 9.473_684_211),
        (144.0, 9_047.136_842_105, 15.773_684_211),
        (150.0, 9100.0, 0.0),
        (171.0, 8_744.873_002_049, -31.087_961_066),
        (189.0, 8_044.884_170_082, -44.680_174_180),
        (215.0, 5_441.606_365_266, -147.414_510_758),
        (230.0, 3000.0, -173.75),
    ];
    for (x, value, slope) in expected {
        let found = through(&points).at(x).expect("on the chart");
        near(found.0, value, 1e-9);
        near(found.1, slope, 1e-9);
    }
    // An end that bends back, held to three times its chord or to nothing.
    let bent = [(0.0, 0.0), (1.0, 5.0), (4.0, 4.0)];
    for (x, value, slope) in [
        (0.0, 0.0, 19.0 / 3.0),
        (0.3, 2.011, 6.743_333_333),
        (2.0, 4.962_962_963, -0.111_111_111),
        (4.0, 4.0, -1.0),
    ] {
        let found = through(&bent).at(x).expect("on the chart");
        near(found.0, value, 1e-9);
        near(found.1, slope, 1e-9);
    }
}

#[test]
fn two_points_make_a_straight_line_and_one_makes_none() {
    let points = [(80.0, 9000.0), (100.0, 8600.0)];
    let (value, slope) = through(&points).at(88.0).expect("on the chart");
    near(value, 8840.0, 1e-9);
    near(slope, -20.0, 1e-12);
    assert_eq!(through(&points[..1]).at(80.0), None);
    assert_eq!(through(&[]).at(80.0), None);
    assert_eq!(through(&points).at(f64::NAN), None);
    assert_eq!(through(&points).at(79.999), None);
    assert_eq!(through(&points).at(100.001), None);
    let folded = [(1.0, 0.0), (1.0, 2.0)];
    assert_eq!(through(&folded).at(1.0), None, "no width, no slope");
}

proptest! {
    #[test]
    fn it_meets_every_point_stays_between_its_neighbours_and_has_the_slope_it_says(
        steps in prop::collection::vec((0.01f64..0.1, 1.0f64..10_000.0), 2..12),
        part in 0.001f64..0.999,
    ) {
        let mut x = 0.0;
        let points: Vec<Point> = steps.iter().map(|(dx, y)| { x += dx; (x, *y) }).collect();
        let curve = through(&points);
        for pair in points.windows(2) {
            let ((xa, ya), (xb, yb)) = (pair[0], pair[1]);
            near(curve.at(xa).expect("a point").0, ya, 1e-9 * ya.abs());
            let at = xa + part * (xb - xa);
            let (value, slope) = curve.at(at).expect("between points");
            prop_assert!(value >= ya.min(yb) - 1e-8 && value <= ya.max(yb) + 1e-8);
            let hair = 1e-4 * (xb - xa).min(at - xa).min(xb - at);
            let [above, below] = [at + hair, at - hair].map(|x| curve.at(x).expect("between points").0);
            near(slope, (above - below) / (2.0 * hair), 1e-5 * (yb - ya).abs() / (xb - xa) + 1e-3);
        }
    }
}
