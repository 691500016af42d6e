//! Plates as DXF, read back: by the `dxf` crate, and pair by pair where that one is forgiving.

#![expect(
    clippy::unwrap_used,
    reason = "a test may stop at the first thing that is not as it should be"
)]

mod plates;
mod reading;
mod scenes;

use std::collections::HashSet;
use std::fs;
use std::path::Path;

use ::dxf::entities::EntityType;
use rearend::brackets::{Outline, Plate, Segment, Stand};
use rearend::figures::CAUTION;
use rearend::setup::Carrier;
use sheets::{DxfError, DxfUnit, DxfVersion, dxf, dxf_file_name};

use plates::{TUBE, arc, ear, eye, hole, line, plate, scribe, washer};
use reading::{circles, close, lines, on, pairs, profiles, radius, read, variable, words, written};

const VERSIONS: [DxfVersion; 2] = [DxfVersion::R2000, DxfVersion::R12];
/// Every version in every unit, and how many millimetres that is.
const EACH: [(DxfVersion, DxfUnit, f64); 4] = [
    (DxfVersion::R2000, DxfUnit::Millimetres, 1.0),
    (DxfVersion::R2000, DxfUnit::Inches, 25.4),
    (DxfVersion::R12, DxfUnit::Millimetres, 1.0),
    (DxfVersion::R12, DxfUnit::Inches, 25.4),
];

#[test]
fn the_cut_profile_is_closed_with_its_arcs_as_bulges() {
    // The half circle: tangent of a quarter of 180 degrees. The saddle goes round clockwise, by twice the angle whose sine is 30 / 38.1.
    let saddle = -((30.0 / TUBE).asin() / 2.0).tan();
    let expected = [
        [0.0, 0.0, 0.0],
        [80.0, 0.0, 1.0],
        [80.0, 60.0, 0.0],
        [0.0, 60.0, saddle],
    ];
    for (version, unit, mm) in EACH {
        let drawing = read(&written(&ear(), version, unit));
        let profiles = profiles(&drawing, "CUT");
        assert_eq!(profiles.len(), 1);
        assert_eq!(profiles[0].len(), 4);
        for (found, [x, y, bulge]) in profiles[0].iter().zip(expected) {
            close(*found, [x / mm, y / mm, bulge]);
        }
        close([radius(profiles[0][1], profiles[0][2])], [30.0 / mm]);
        close([radius(profiles[0][3], profiles[0][0])], [TUBE / mm]);
    }
}

#[test]
fn a_saddle_the_other_way_round_bulges_the_other_way() {
    // The outer end of the ear as a boss: the same arc, counterclockwise round a centre inside the plate.
    let centre = [(TUBE * TUBE - 900.0_f64).sqrt(), 30.0];
    let boss = plate(
        "boss",
        [0.0, 0.0],
        vec![
            line(80.0, 0.0),
            line(80.0, 60.0),
            line(0.0, 60.0),
            arc([0.0, 0.0], centre, false),
        ],
    );
    for (version, unit, mm) in EACH {
        let corners = profiles(&read(&written(&boss, version, unit)), "CUT").remove(0);
        close([corners[3][2]], [((30.0 / TUBE).asin() / 2.0).tan()]);
        close([radius(corners[3], corners[0])], [TUBE / mm]);
    }
}

#[test]
fn an_arc_of_more_than_half_a_turn_is_one_bulge() {
    for (version, unit, mm) in EACH {
        let corners = profiles(&read(&written(&eye(), version, unit)), "CUT").remove(0);
        assert_eq!(corners.len(), 3);
        // Three quarters of a turn: the tangent of 67.5 degrees is 1 + √2.
        close(corners[0], [30.0 / mm, 0.0, 1.0 + 2.0_f64.sqrt()]);
        close([radius(corners[0], corners[1])], [30.0 / mm]);
    }
}

#[test]
fn a_round_plate_is_two_halves() {
    let mut other_way = washer();
    other_way.outline.segments = vec![arc([20.0, 0.0], [0.0, 0.0], true)];
    for (washer, bulge) in [(washer(), 1.0), (other_way, -1.0)] {
        for (version, unit, mm) in EACH {
            let corners = profiles(&read(&written(&washer, version, unit)), "CUT").remove(0);
            assert_eq!(corners.len(), 2);
            close(corners[0], [20.0 / mm, 0.0, bulge]);
            close(corners[1], [-20.0 / mm, 0.0, bulge]);
        }
    }
}

#[test]
fn holes_are_where_they_were_put() {
    for (version, unit, mm) in EACH {
        let found = circles(&read(&written(&ear(), version, unit)));
        assert_eq!(found.len(), 5);
        for (i, circle) in (0..).zip(found) {
            close(circle, [(25.0 + f64::from(i) * 50.0 / 3.0) / mm, 30.0 / mm, 5.25 / mm]);
        }
    }
}

#[test]
fn coordinates_keep_every_digit() {
    // A third of a millimetre, as far as a double goes: read by the standard library, which rounds to the nearest.
    let mut third = washer();
    third.holes = vec![hole(1.0 / 3.0, 0.0, 19.85)];
    let expected = third.holes[0].at.x / 1e-3;
    for version in VERSIONS {
        let pairs = pairs(&written(&third, version, DxfUnit::Millimetres));
        let circle = pairs.iter().position(|p| *p == (0, "CIRCLE".to_owned())).unwrap();
        let x = pairs[circle..].iter().find(|p| p.0 == 10).unwrap();
        assert_eq!(x.1.parse::<f64>().unwrap().to_bits(), expected.to_bits());
    }
}

#[test]
fn lines_to_scribe_are_on_a_layer_of_their_own() {
    for (version, unit, mm) in EACH {
        let drawing = read(&written(&ear(), version, unit));
        let found = lines(&drawing);
        assert_eq!(found.len(), 1);
        close(found[0], [20.0 / mm, 30.0 / mm, 105.0 / mm, 30.0 / mm]);
        assert_eq!(on(&drawing, "MARK").len(), 1);
        assert!(words(&drawing).contains("direction of the bar"));
    }
}

#[test]
fn every_layer_has_its_colour_and_only_what_belongs_on_it() {
    for version in VERSIONS {
        let drawing = read(&written(&ear(), version, DxfUnit::Millimetres));
        let layers: Vec<_> = ["CUT", "MARK", "NOTES", "CHECK"]
            .map(|n| drawing.layers().find(|l| l.name == n).unwrap())
            .into();
        let colours: HashSet<_> = layers.iter().map(|l| l.color.index().unwrap()).collect();
        assert_eq!(colours.len(), 4);
        // The outline with five holes, the line, the square; the rest is words.
        let all = drawing.entities().count();
        assert_eq!(on(&drawing, "CUT").len(), 6);
        assert_eq!(on(&drawing, "CHECK").len(), 1);
        assert_eq!(on(&drawing, "NOTES").len(), all - 8);
        assert!(
            on(&drawing, "NOTES")
                .iter()
                .all(|e| matches!(e.specific, EntityType::Text(_)))
        );
    }
}

#[test]
fn the_check_square_is_beside_the_plate_with_a_round_side() {
    for version in VERSIONS {
        // The ear's round end reaches 110 mm.
        for (unit, side, right) in [
            (DxfUnit::Millimetres, 50.0, 110.0),
            (DxfUnit::Inches, 2.0, 110.0 / 25.4),
        ] {
            let drawing = read(&written(&ear(), version, unit));
            let squares = profiles(&drawing, "CHECK");
            assert_eq!(squares.len(), 1);
            let corners = &squares[0];
            assert_eq!(corners.len(), 4);
            for (i, turn) in [[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]]
                .into_iter()
                .enumerate()
            {
                let (from, to) = (corners[i], corners[(i + 1) % 4]);
                close(
                    [to[0] - from[0], to[1] - from[1], from[2]],
                    [side * turn[0], side * turn[1], 0.0],
                );
            }
            assert!(corners[0][0] > right + side / 10.0);
            assert_eq!(
                words(&drawing).contains("Check square, 50 mm a side."),
                unit == DxfUnit::Millimetres
            );
            assert_eq!(
                words(&drawing).contains("Check square, 2 in a side."),
                unit == DxfUnit::Inches
            );
        }
    }
}

#[test]
fn the_header_says_the_unit_where_the_version_can() {
    // $INSUNITS: 1 inches, 4 millimetres; $MEASUREMENT: 0 English, 1 metric. DXF reference, header variables.
    for (unit, insert, measurement) in [(DxfUnit::Millimetres, "4", "1"), (DxfUnit::Inches, "1", "0")] {
        let new = pairs(&written(&ear(), DxfVersion::R2000, unit));
        assert_eq!(variable(&new, "$ACADVER").unwrap().1, "AC1015");
        assert_eq!(variable(&new, "$INSUNITS"), Some((70, insert.to_owned())));
        assert_eq!(variable(&new, "$MEASUREMENT"), Some((70, measurement.to_owned())));
        let bytes = written(&ear(), DxfVersion::R12, unit);
        let old = pairs(&bytes);
        assert_eq!(variable(&old, "$ACADVER").unwrap().1, "AC1009");
        assert_eq!(variable(&old, "$INSUNITS"), None);
        assert_eq!(variable(&old, "$MEASUREMENT"), None);
        assert!(words(&read(&bytes)).contains(&format!("Drawn 1:1 in {}.", unit.label())));
    }
}

#[test]
fn the_words_say_what_is_cut_and_warn() {
    let further = ["From offcuts.".to_owned(), "Mild steel, ¼ in plate.".to_owned()];
    for version in VERSIONS {
        for (unit, thickness) in [(DxfUnit::Millimetres, "6.35 mm"), (DxfUnit::Inches, "0.250 in")] {
            let drawing = read(&dxf(&ear(), version, unit, &further).unwrap());
            let words = words(&drawing);
            assert!(words.contains("ear-on-the-axle: side plate"));
            assert!(words.contains(&format!("Cut 4, {thickness} thick.")), "{words}");
            assert_eq!(words.matches("Mild steel, 1/4 in plate.").count(), 1, "{words}");
            assert!(words.contains("From offcuts."));
            assert!(words.contains(CAUTION));
        }
    }
}

#[test]
fn names_of_people_do_no_harm() {
    let mut named = ear();
    named.name = "50%%d ^M\r\n  0\r\nCIRCLE 3° Žä".to_owned();
    for version in VERSIONS {
        let bytes = written(&named, version, DxfUnit::Millimetres);
        let drawing = read(&bytes);
        assert_eq!(circles(&drawing).len(), 5);
        assert!(words(&drawing).contains("50% %d ^M 0 CIRCLE 3%%d Žä"));
    }
}

#[test]
fn the_old_version_holds_only_what_it_knows() {
    let pairs = pairs(&written(&ear(), DxfVersion::R12, DxfUnit::Millimetres));
    // Classes and owners came with R13.
    assert!(pairs.iter().all(|(code, _)| ![100, 330, 350].contains(code)));
    let kinds: Vec<&str> = pairs.iter().filter(|p| p.0 == 0).map(|p| p.1.as_str()).collect();
    assert!(!kinds.contains(&"LWPOLYLINE"));
    let line = kinds.iter().position(|k| *k == "POLYLINE").unwrap();
    let whole = ["POLYLINE", "VERTEX", "VERTEX", "VERTEX", "VERTEX", "SEQEND"];
    assert_eq!(kinds[line..line + 6], whole);
    // A corner is on its polyline's layer: some readers cut by the corners'.
    let start = pairs.iter().position(|p| *p == (0, "POLYLINE".to_owned())).unwrap();
    let end = pairs.iter().position(|p| *p == (0, "CIRCLE".to_owned())).unwrap();
    let layers: Vec<&str> = pairs[start..end]
        .iter()
        .filter(|p| p.0 == 8)
        .map(|p| p.1.as_str())
        .collect();
    assert_eq!(layers, ["CUT"; 6]);
}

#[test]
fn every_handle_is_given_once_and_every_owner_is_there() {
    let pairs = pairs(&written(&ear(), DxfVersion::R2000, DxfUnit::Millimetres));
    let seed = variable(&pairs, "$HANDSEED").unwrap().1;
    let number = |hex: &str| u32::from_str_radix(hex, 16).unwrap();
    let tables = pairs.iter().position(|p| *p == (2, "TABLES".to_owned())).unwrap();
    let given = |codes: &[u16]| -> Vec<u32> {
        let of = pairs[tables..].iter().filter(|p| codes.contains(&p.0));
        of.map(|p| number(&p.1)).collect()
    };
    let own = given(&[5, 105]);
    let known: HashSet<u32> = own.iter().copied().collect();
    assert_eq!(known.len(), own.len());
    assert!(!known.contains(&0) && own.iter().all(|h| *h < number(&seed)));
    assert!(given(&[330, 350]).iter().all(|h| *h == 0 || known.contains(h)));
}

#[test]
fn nothing_is_cut_twice_and_nothing_has_no_length() {
    let mut twice = ear();
    let segments = &mut twice.outline.segments;
    segments.insert(1, line(80.0, 0.0));
    segments.insert(3, arc([80.0, 60.0], [80.0, 55.0], true));
    twice.holes.extend(ear().holes);
    twice
        .scribes
        .push(scribe([105.0, 30.0], [20.0, 30.0], "direction of the bar"));
    twice.scribes.push(scribe([20.0, 30.0], [20.0, 30.0], "nothing"));
    for (version, unit, _) in EACH {
        assert_eq!(written(&twice, version, unit), written(&ear(), version, unit));
    }
}

#[test]
fn what_cannot_be_cut_is_refused_by_name() {
    let cut = |plate: &Plate| dxf(plate, DxfVersion::R2000, DxfUnit::Millimetres, &[]).unwrap_err();
    let name = ear().name;
    let broken = |change: &dyn Fn(&mut Plate)| {
        let mut ear = ear();
        change(&mut ear);
        cut(&ear)
    };
    let open = broken(&|p| {
        p.outline.segments.pop();
    });
    assert_eq!(open, DxfError::Open(name.clone()));
    assert!(open.to_string().contains(&name));
    let skew = |p: &mut Plate| p.outline.segments[1] = arc([80.0, 60.0], [80.0, 30.1], false);
    assert_eq!(broken(&skew), DxfError::NotRound(name.clone()));
    assert_eq!(broken(&|p| p.outline.segments.clear()), DxfError::Empty(name.clone()));
    let line_only = |p: &mut Plate| p.outline.segments = vec![line(80.0, 0.0), line(0.0, 0.0)];
    assert_eq!(broken(&line_only), DxfError::Empty(name.clone()));
    assert_eq!(
        broken(&|p| p.holes[0].diameter_m = 0.0),
        DxfError::NoDiameter(name.clone())
    );
    assert_eq!(
        broken(&|p| p.holes[0].at.x = f64::NAN),
        DxfError::NotANumber(name.clone())
    );
    assert_eq!(
        broken(&|p| p.outline.start.x = f64::NAN),
        DxfError::NotANumber(name.clone())
    );
    assert_eq!(
        broken(&|p| p.scribes[0].to.y = f64::INFINITY),
        DxfError::NotANumber(name)
    );
}

/// The ear on both sides of a truck, seen from the left: forward is to the left, as from the left of a truck.
fn standing_ear() -> Plate {
    let x = nalgebra::Unit::new_unchecked(-nalgebra::Vector3::x());
    let stand = |y_m: f64| Stand {
        carrier: Carrier::Axle,
        origin: nalgebra::Point3::new(0.0, y_m, 0.0),
        x,
        y: nalgebra::Vector3::z_axis(),
    };
    let mut ear = ear();
    for hole in &mut ear.holes {
        // A plate is drawn about the hole in use: the third of the row.
        hole.at.x -= (25.0 + 100.0 / 3.0) * 1e-3;
        hole.at.y -= 0.03;
    }
    let by = [-(25.0 + 100.0 / 3.0), -30.0];
    ear.outline = moved(ear.outline, by);
    ear.scribes.clear();
    ear.stands = [0.4, 0.35, -0.4, -0.35].map(stand).into();
    ear
}

fn moved(mut outline: Outline, [x, y]: [f64; 2]) -> Outline {
    let by = nalgebra::Vector2::new(x, y) * 1e-3;
    outline.start += by;
    for segment in &mut outline.segments {
        match segment {
            Segment::Line { to } => *to += by,
            Segment::Arc { to, centre, .. } => {
                *to += by;
                *centre += by;
            }
        }
    }
    outline
}

#[test]
fn arrows_on_the_layer_of_the_words_say_which_way_round_it_goes() {
    for (version, unit, mm) in EACH {
        let drawing = read(&written(&standing_ear(), version, unit));
        let notes = on(&drawing, "NOTES");
        let lines: Vec<[f64; 4]> = notes
            .iter()
            .filter_map(|e| match &e.specific {
                EntityType::Line(l) => Some([l.p1.x, l.p1.y, l.p2.x, l.p2.y]),
                _ => None,
            })
            .collect();
        // Two arrows, each a shaft and the two sides of its head.
        assert_eq!(lines.len(), 6);
        let [up, forward] = [lines[0], lines[3]];
        close([up[2] - up[0], forward[3] - forward[1]], [0.0, 0.0]);
        assert!(
            up[3] - up[1] > 5.0 / mm && forward[0] - forward[2] > 5.0 / mm,
            "{lines:?}"
        );
        // Clear of the holes: of the row's line, and of 5.25 mm to either side.
        let is_clear =
            |l: &[f64; 4]| l[1].min(l[3]) > 5.25 / mm || l[1].max(l[3]) < -5.25 / mm || l[0].max(l[2]) < -40.0 / mm;
        assert!(lines.iter().all(is_clear), "{lines:?}");
        let words = words(&drawing);
        for said in [
            "up",
            "forward",
            "Left side as drawn, seen from the left; right side turned over",
        ] {
            assert!(words.contains(said), "{said}: {words}");
        }
        assert!(words.contains("number 3 of 5"), "{words}");
        let numbers: Vec<_> = ["1", "2", "3*", "4", "5"].map(|n| place_of(&drawing, n)).into();
        for (i, [x, y]) in (0..).zip(numbers) {
            let off = (x - f64::from(i - 2) * 50.0 / 3.0 / mm).hypot(y);
            assert!(off < 5.25 / mm, "number {} is {off} from its hole", i + 1);
        }
    }
}

/// Where a text begins.
fn place_of(drawing: &::dxf::Drawing, said: &str) -> [f64; 2] {
    let text = |e: &&::dxf::entities::Entity| match &e.specific {
        EntityType::Text(t) if t.value == said => Some([t.location.x, t.location.y]),
        _ => None,
    };
    on(drawing, "NOTES").iter().find_map(text).unwrap()
}

/// Leaves the files in the target folder, where `tests/peers/dxf.py` reads them.
#[test]
fn no_file_takes_the_place_of_another() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("dxf");
    fs::create_dir_all(&folder).unwrap();
    let mut names = HashSet::new();
    for plate in [ear(), eye(), washer()] {
        for (version, unit, _) in EACH {
            let name = dxf_file_name(&plate, unit, version);
            fs::write(folder.join(&name), written(&plate, version, unit)).unwrap();
            names.insert(name);
        }
    }
    assert_eq!(names.len(), 12);
    assert!(names.contains("ear-on-the-axle-mm.dxf"));
    assert!(names.contains("ear-on-the-axle-in-r12.dxf"));
}
