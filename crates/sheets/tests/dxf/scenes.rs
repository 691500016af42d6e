//! The brackets of the demo scenes.

use std::collections::HashSet;
use std::fs;
use std::path::Path;

use rearend::brackets::{self, Plate, Segment};
use rearend::tape::Units;
use sheets::{DxfVersion, dxf_file_name};

use super::EACH;
use super::reading::{circles, close, lines, profiles, radius, read, written};

/// Of every scene, by its file's stem.
fn plates() -> Vec<(String, Vec<Plate>)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-scenes");
    let scenes = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let plates = scenes.map(|path| {
        let setup = rearend::file::read(&fs::read_to_string(&path).unwrap()).unwrap();
        let drawn = brackets::of(&setup, None, Units::Millimetres).into_iter().flatten();
        (
            path.file_stem().unwrap().to_string_lossy().into_owned(),
            drawn.flat_map(|b| b.plates).collect(),
        )
    });
    plates.collect()
}

/// Radii of a plate's arcs, m, signed as they turn.
fn radii_m(plate: &Plate) -> Vec<f64> {
    let arc = |s: &Segment| match s {
        Segment::Arc { to, centre, clockwise } => Some((to - centre).norm() * if *clockwise { -1.0 } else { 1.0 }),
        Segment::Line { .. } => None,
    };
    plate.outline.segments.iter().filter_map(arc).collect()
}

#[test]
fn every_bracket_of_the_demo_scenes_reads_back_as_generated() {
    let mut saddles = 0;
    for (scene, plates) in plates() {
        assert!(!plates.is_empty(), "{scene} has no plate");
        for plate in &plates {
            saddles += radii_m(plate).iter().filter(|r| **r < 0.0).count();
            for (version, unit, mm) in EACH {
                let drawing = read(&written(plate, version, unit));
                let profile = profiles(&drawing, "CUT").remove(0);
                let next = profile.iter().cycle().skip(1);
                let arcs = profile.iter().zip(next).filter(|(a, _)| a[2] != 0.0);
                let found: Vec<f64> = arcs.map(|(a, b)| radius(*a, *b) * a[2].signum()).collect();
                let expected = radii_m(plate);
                assert_eq!(found.len(), expected.len(), "{scene}: {}", plate.name);
                for (found, expected) in found.iter().zip(expected) {
                    close([*found], [expected * 1e3 / mm]);
                }
                let holes = circles(&drawing);
                assert_eq!(holes.len(), plate.holes.len(), "{scene}: {}", plate.name);
                for (found, hole) in holes.into_iter().zip(&plate.holes) {
                    close(
                        found,
                        [hole.at.x, hole.at.y, hole.diameter_m / 2.0].map(|v| v * 1e3 / mm),
                    );
                }
                assert_eq!(lines(&drawing).len(), plate.scribes.len(), "{scene}: {}", plate.name);
            }
        }
    }
    assert!(saddles > 0, "no plate has a saddle");
}

/// Leaves the files in the target folder, where `tests/peers/dxf.py` reads them.
#[test]
fn no_plate_of_a_scene_takes_the_file_of_another() {
    for (scene, plates) in plates() {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("dxf").join(&scene);
        fs::create_dir_all(&folder).unwrap();
        let mut names = HashSet::new();
        for plate in &plates {
            for (version, unit, _) in EACH {
                let name = dxf_file_name(plate, unit, version);
                fs::write(folder.join(&name), written(plate, version, unit)).unwrap();
                assert!(names.insert(name.clone()), "{scene} has {name} twice");
                assert_eq!(name.ends_with("-r12.dxf"), version == DxfVersion::R12);
            }
        }
    }
}
