//! A pad that is not the same turned end for end says which end goes where.

use nalgebra::Point2;
use rearend::brackets::{self, Plate, Scribe};
use rearend::layouts::Layout;
use rearend::tape::Units;

use crate::support::demo;

/// True where every mark lies on one again when the pad is turned half way round.
fn is_alike(pad: &Plate, marks: &[&Scribe]) -> bool {
    let [low, high] = pad.bounds();
    let turned = |p: Point2<f64>| Point2::new(low.x + high.x - p.x, low.y + high.y - p.y);
    let same = |a: Point2<f64>, b: Point2<f64>| (a - b).norm() < 5e-4;
    let is_there = |s: &Scribe| {
        let (from, to) = (turned(s.from), turned(s.to));
        let on = |o: &&&Scribe| same(o.from, from) && same(o.to, to) || same(o.from, to) && same(o.to, from);
        marks.iter().any(|o| on(&o))
    };
    marks.iter().all(|s| is_there(s))
}

#[test]
fn a_pad_that_has_a_wrong_way_round_is_marked() {
    let (mut alike, mut marked) = (0, 0);
    for truck in 0..3 {
        for layout in Layout::ALL {
            let drawn = brackets::drawn(&layout.hang(&demo(truck)), None, Units::Millimetres);
            let plates = drawn.into_iter().flatten().flat_map(|b| b.plates);
            for pad in plates.filter(|p| p.name.ends_with("pad plate")) {
                let (ends, others): (Vec<_>, Vec<_>) = pad.scribes.iter().partition(|s| s.what.starts_with("this end"));
                assert_eq!(ends.is_empty(), is_alike(&pad, &others), "{}", pad.name);
                let Some(end) = ends.first() else {
                    alike += 1;
                    continue;
                };
                marked += 1;
                points_there(&pad, end);
            }
        }
    }
    assert!(alike > 0 && marked > 0, "{alike} are alike, {marked} are marked");
}

/// The mark lies on the pad, and on either side of the truck it runs mostly the way that it says.
fn points_there(pad: &Plate, end: &Scribe) {
    let [low, high] = pad.bounds();
    for p in [end.from, end.to] {
        assert!(
            p.x > low.x && p.x < high.x && p.y > low.y && p.y < high.y,
            "{}: {p}",
            pad.name
        );
    }
    for stand in &pad.stands {
        let way = (stand.place(end.to) - stand.place(end.from)).normalize();
        let out = match end.what.as_str() {
            "this end forward" => way.x,
            "this end up" => way.z,
            "this end outboard" => way.y * stand.origin.y.signum(),
            "this end to the left" => way.y,
            other => panic!("{}: {other}", pad.name),
        };
        assert!(
            out > 1.0 / 3.0_f64.sqrt() - 1e-9,
            "{}: {} runs {way}",
            pad.name,
            end.what
        );
    }
}
