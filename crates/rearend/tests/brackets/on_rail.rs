//! Weld edges and pads on rails lie on steel wherever a rail climbs, is notched or ends. The rail is reckoned here, from the setup's numbers.

use nalgebra::{Point2, Point3};
use proptest::prelude::*;
use rearend::brackets::{self, Bracket, BracketError, Plate, Segment};
use rearend::layouts::Layout;
use rearend::setup::{KickUp, Notch, Rails, Section, Setup};
use rearend::tape::Units;

use crate::support::demo;
use crate::{all, refused};

/// Points may be off the steel by so much, m.
const ON_M: f64 = 1e-6;

/// A straight edge may leave a curved flange by so much unsaid: what a weld fills, and a hair.
const FILLED_M: f64 = 3.1e-3;

/// Points along an edge.
const SAMPLES: u32 = 24;

/// A ramp of a kick-up at a share of its length, its rise one: its slope grows evenly over the first 0.34 of it, is constant, and falls evenly
/// over the last 0.34, so that its constant part has a slope of 1 / 0.66.
fn climbed(share: f64) -> f64 {
    let s = share.clamp(0.0, 1.0);
    let peak = 1.0 / 0.66;
    if s > 0.66 {
        1.0 - peak / 0.34 * (1.0 - s).powi(2) / 2.0
    } else if s > 0.34 {
        peak * (s - 0.17)
    } else {
        peak / 0.34 * s.powi(2) / 2.0
    }
}

/// Underside and top of a rail at a station.
fn section(rails: &Rails, x: f64) -> [f64; 2] {
    let lift = rails.kick_up.map_or(0.0, |k| {
        let up = climbed((k.start_x_m - x) / (k.start_x_m - k.full_x_m));
        let down = climbed((k.level_end_x_m - x) / (k.level_end_x_m - k.end_x_m));
        k.rise_m * (up - down)
    });
    let cut = rails.notch.map_or(0.0, |n| {
        let off = (x / n.half_length_m).abs().min(1.0);
        n.depth_m * (1.0 - off.powf(2.6)).powf(0.75)
    });
    [lift + cut, lift + rails.height_m]
}

/// Which face of the rail a bracket says it is welded to; none where that is a tube.
fn rail_face(bracket: &Bracket) -> Option<&'static str> {
    let faces = ["outside", "inner side", "web between", "underside", "top"];
    let notes = || bracket.plates.iter().flat_map(|p| &p.notes);
    let says =
        |words: &str| notes().any(|n| (n.starts_with("Weld") || n.starts_with("Stands out")) && n.contains(words));
    faces.into_iter().find(|face| says(&format!("rail's {face}")))
}

/// The ends of the edge by which a plate is welded to a rail, plate coordinates.
fn edge(plate: &Plate, face: &str, has_pad: bool) -> Option<[Point2<f64>; 2]> {
    let [low, high] = plate.bounds();
    if plate.name.ends_with("pad plate") {
        return Some([Point2::new(low.x, 0.0), Point2::new(high.x, 0.0)]);
    }
    if has_pad || !plate.name.ends_with("side plate") {
        return None;
    }
    // A plate's outline ends with what it stands on; a tongue's sides come before and after its edge.
    let pieces: Vec<_> = plate.outline.pieces().collect();
    let at = pieces.len() - if face == "web between" { 2 } else { 1 };
    let (from, segment) = pieces[at];
    assert!(matches!(segment, Segment::Line { .. }), "{}", plate.name);
    Some([from, segment.to()])
}

/// Points of the strip that an edge takes: along it, in the middle of the plate and at both of its faces. A plate that leans is bevelled: where
/// the rail's face is upright, at a distance from the middle of the truck, its faces are followed on to that.
fn samples(plate: &Plate, face_y: Option<f64>, [from, to]: [Point2<f64>; 2]) -> Vec<Point3<f64>> {
    let along = (0..=SAMPLES).map(|i| from + (to - from) * (f64::from(i) / f64::from(SAMPLES)));
    let along: Vec<_> = along.collect();
    let layers = plate.stands.iter().flat_map(|stand| {
        let out = stand.x.cross(&stand.y) * (plate.thickness_m / 2.0);
        let edge = stand.place(to) - stand.place(from);
        let up = out.cross(&edge).normalize();
        [-1.0, 0.0, 1.0].map(|side| {
            let off = stand.place(from).y + out.y * side;
            let bevel = face_y.map_or(0.0, |y| (y.copysign(off) - off) / up.y);
            assert!(
                bevel.abs() < 0.6 * plate.thickness_m,
                "{}: a bevel of {bevel}",
                plate.name
            );
            (stand, out * side + up * bevel)
        })
    });
    layers
        .flat_map(|(stand, off)| along.iter().map(move |p| stand.place(*p) + off))
        .collect()
}

/// How far a bracket says the rail curves away: the length after "The rail curves here,".
fn said_m(plate: &Plate) -> f64 {
    let said = plate
        .notes
        .iter()
        .filter_map(|n| n.split("The rail curves here, ").nth(1));
    let number = |words: &str| words.split(' ').next().and_then(|n| n.parse::<f64>().ok());
    // Said to a tenth of a millimetre.
    said.filter_map(number).fold(0.0, |_, mm| mm * 1e-3 + 5e-5)
}

/// From a point in a rail's side view to the nearest of its underside and top, where that is not a notch's.
fn to_edge_m(rails: &Rails, p: Point3<f64>) -> f64 {
    let xs = (-200..=200).map(|i| p.x + f64::from(i) * 2e-4);
    let own = xs.filter(|x| rails.notch.is_none_or(|n| x.abs() > n.half_length_m));
    let far = own.flat_map(|x| section(rails, x).map(|z| (x - p.x).hypot(z - p.z)));
    far.fold(f64::INFINITY, f64::min)
}

/// How far a point of a weld edge on a face is from the rounded corners.
fn to_corner_m(rails: &Rails, face: &str, p: Point3<f64>) -> f64 {
    match face {
        "web between" => f64::INFINITY,
        "underside" | "top" => {
            let outer = rails.spacing_m / 2.0 - p.y.abs();
            let inner = rails.flange_m - outer;
            if rails.section == Section::Box {
                outer.min(inner)
            } else {
                outer
            }
        }
        _ => to_edge_m(rails, p),
    }
}

/// All weld edges of a bracket on a rail; how many there are.
fn holds(setup: &Setup, bracket: &Bracket) -> usize {
    let Some(face) = rail_face(bracket) else { return 0 };
    let rails = &setup.rails;
    let has_pad = bracket.plates.iter().any(|p| p.name.ends_with("pad plate"));
    let mut count = 0;
    for plate in &bracket.plates {
        let Some(edge) = edge(plate, face, has_pad) else {
            continue;
        };
        count += plate.count;
        let name = &plate.name;
        let long_m = (edge[1] - edge[0]).norm();
        assert!(long_m > 2.5 * setup.steel.bolt_m - 1e-9, "{name}: {long_m} long");
        let on_corner = plate.notes.iter().any(|n| n.contains("rounded corner"));
        let mut nearest = f64::INFINITY;
        // So does one of two that differ: its bolt lies aslant.
        let differs = plate.name.ends_with("near side plate") || plate.name.ends_with("far side plate");
        let leans = differs || plate.notes.iter().any(|n| n.starts_with("It leans"));
        let off_m = said_m(plate).max(FILLED_M) + if leans { plate.thickness_m / 2.0 } else { 0.0 };
        for p in samples(plate, face_y(rails, face), edge) {
            lies_on(rails, face, p, off_m, name);
            nearest = nearest.min(to_corner_m(rails, face, p));
        }
        let round = 2.0 * rails.wall_m;
        // A corner that bends with a steep rail is wider on the bend's inside by a few parts in a hundred.
        assert!(
            on_corner || nearest > 0.95 * round,
            "{name}: {nearest} from the edge, corner {round}"
        );
    }
    count
}

/// How far an upright face is from the middle of the truck.
fn face_y(rails: &Rails, face: &str) -> Option<f64> {
    let outer = rails.spacing_m / 2.0;
    match face {
        "outside" => Some(outer),
        "inner side" => Some(outer - rails.flange_m),
        "web between" => Some(outer - rails.wall_m),
        _ => None,
    }
}

fn lies_on(rails: &Rails, face: &str, p: Point3<f64>, off_m: f64, name: &str) {
    let (y, outer) = (p.y.abs(), rails.spacing_m / 2.0);
    let inner = outer - rails.flange_m;
    let [low, top] = section(rails, p.x);
    let within = |v: f64, low: f64, high: f64| v > low - ON_M && v < high + ON_M;
    assert!(
        within(p.x, rails.rear_x_m, rails.front_x_m),
        "{name}: {p} beyond the rail"
    );
    let wall = if face == "web between" { rails.wall_m } else { 0.0 };
    let (is_on, is_beside) = match face {
        "underside" => ((p.z - low).abs() < off_m, within(y, inner, outer)),
        "top" => ((p.z - top).abs() < off_m, within(y, inner, outer)),
        "outside" => ((y - outer).abs() < ON_M, within(p.z, low, top)),
        "inner side" => ((y - inner).abs() < ON_M, within(p.z, low, top)),
        _ => ((y - (outer - wall)).abs() < ON_M, within(p.z, low + wall, top - wall)),
    };
    assert!(
        is_on && is_beside,
        "{name}: {p} is not on the {face}, {low} to {top} high, {inner} to {outer} out"
    );
}

fn hold(setup: &Setup) -> usize {
    all(setup).iter().flatten().map(|b| holds(setup, b)).sum()
}

#[test]
fn every_weld_edge_of_every_demo_and_proposal_lies_on_its_rail() {
    let mut count = 0;
    for truck in demos() {
        count += hold(&truck);
        for layout in Layout::ALL {
            count += hold(&layout.hang(&truck));
        }
    }
    assert!(count > 1000, "{count} weld edges");
}

fn demos() -> Vec<Setup> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-scenes");
    let files = std::fs::read_dir(folder).expect("the demo scenes are there");
    let read = |path| rearend::file::read(&std::fs::read_to_string(path).expect("it is text")).expect("it reads");
    files.map(|f| read(f.expect("it can be listed").path())).collect()
}

/// Rails that climb gently or steeply, early or late, deep and shallow, notched or not.
fn rails() -> impl Strategy<Value = Rails> {
    let kick = (0.4..0.95, 0.2..0.55, -0.5..-0.2, 0.2..0.5, 0.03..0.4);
    let notch = prop::option::of((0.02..0.12, 0.08..0.2));
    let size = (0.7..1.0, 0.09..0.18, 0.045..0.085, 0.003..0.008, any::<bool>());
    (kick, notch, size).prop_map(|((start, long, level, down, rise_m), notch, size)| Rails {
        spacing_m: size.0,
        height_m: size.1,
        flange_m: size.2,
        wall_m: size.3,
        section: if size.4 { Section::Box } else { Section::Channel },
        kick_up: Some(KickUp {
            start_x_m: start,
            full_x_m: start - long,
            level_end_x_m: level,
            end_x_m: level - down,
            rise_m,
        }),
        notch: notch.map(|(depth_m, half_length_m)| Notch { depth_m, half_length_m }),
        ..demo(0).rails
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn weld_edges_lie_on_any_rail(rails in rails(), layout in 0..Layout::ALL.len(), off in (-0.2..0.2, -0.12..0.12, -0.15..0.15)) {
        let mut truck = demo(0);
        truck.rails = rails;
        let mut setup = Layout::ALL[layout].hang(&truck);
        hold(&setup);
        for bar in &mut setup.bars {
            bar.mount_in_frame += nalgebra::Vector3::new(off.0, off.1, off.2);
        }
        if let Some(springs) = &mut setup.springs {
            springs.mount_in_frame.x += off.0;
        }
        prop_assume!(setup.validate().is_ok());
        hold(&setup);
    }
}

/// Beside a rail that climbs one in one all about the mount, bolt across. Across a rail so high, less the thickness of the pad, is the longest
/// edge: of 60 mm less 6.35 it falls short of two and a half bolts of 19.05 and a pad's land of one and a half plates at either end, 66.7; of
/// 110 less the corners' 2 × 10 square to the climb it is enough.
#[test]
fn a_pad_that_a_climbing_rail_is_too_shallow_for_is_refused_by_its_edge() {
    let climbing = |height_m: f64| {
        let mut setup = demo(0);
        setup.rails.height_m = height_m;
        setup.rails.notch = None;
        // The middle third of 1.6 is straight, 0.66 of the mean slope's inverse: 1.056 / 1.6 / 0.66.
        setup.rails.kick_up = Some(KickUp {
            start_x_m: 1.1,
            full_x_m: -0.5,
            level_end_x_m: -0.6,
            end_x_m: -0.9,
            rise_m: 1.056,
        });
        let [low, top] = section(&setup.rails, 0.3);
        setup.bars[0].mount_in_frame = Point3::new(0.3, 0.49, f64::midpoint(low, top));
        setup
    };
    let shallow = climbing(0.06);
    let why = refused(&shallow, "lower bar, on the frame");
    assert!(matches!(why, BracketError::OffSteel { .. }), "{why}");
    assert!(why.to_string().contains("over 66.7 mm of its edge"), "{why}");
    let deep = climbing(0.15);
    let drawn = brackets::drawn(&deep, None, Units::Millimetres);
    let bracket = drawn
        .into_iter()
        .flatten()
        .find(|b| b.name == "lower bar, on the frame");
    let bracket = bracket.expect("it is drawn");
    let [low, high] = crate::plate(&bracket, "pad plate").bounds();
    let most_m = 0.15 - 2.0 * 2.0 * deep.rails.wall_m * 2f64.sqrt() - deep.steel.plate_m;
    assert!(high.x - low.x < most_m + 1e-9, "{} of {most_m}", high.x - low.x);
    assert_eq!(holds(&deep, &bracket), 2);
}
