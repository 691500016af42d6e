//! What holds of every bracket that is drawn.

use nalgebra::{Point3, Vector3};
use rearend::brackets::{Bracket, BracketError, Hole, Plate, Segment, Stand};
use rearend::setup::{Carrier, Mount, Setup};

use crate::outline::{EXACT_M, distance_m, is_sound, pieces};

/// Positions of a few metres keep this much.
const PLACED_M: f64 = 1e-12;

/// Everything about all brackets of a setup.
pub fn hold(setup: &Setup, all: &[Result<Bracket, BracketError>]) {
    let mut stems = Vec::new();
    for bracket in all {
        match bracket {
            Ok(bracket) => {
                assert!(!bracket.plates.is_empty(), "{}", bracket.name);
                for plate in &bracket.plates {
                    of_a_plate(setup, plate);
                    stems.push(plate.file_stem.clone());
                }
                side_plates_straddle_the_mount(setup, bracket);
                pads_meet_what_stands_on_them(bracket);
                gussets_fill_the_gap(setup, bracket);
            }
            Err(why) => {
                let why = why.to_string();
                assert!(why.starts_with("the ") || why.starts_with("no "), "{why}");
                assert!(why.contains(':') && !why.contains("NaN"), "{why}");
            }
        }
    }
    let all_stems = stems.len();
    stems.sort();
    stems.dedup();
    assert_eq!(stems.len(), all_stems, "every plate has a file of its own");
}

fn of_a_plate(setup: &Setup, plate: &Plate) {
    let (steel, name) = (&setup.steel, &plate.name);
    is_sound(&plate.outline, name);
    for hole in &plate.holes {
        assert_eq!(hole.diameter_m, steel.hole_m(), "{name}");
        let distances = pieces(&plate.outline)
            .into_iter()
            .map(|(from, s)| distance_m(hole.at, from, &s));
        let least = distances.fold(f64::INFINITY, f64::min);
        assert!(least > steel.edge_m() - 1e-9, "{name}: a hole is {least} from the edge");
        let own = plate.outline.distance_m(hole.at);
        assert!((least - own).abs() < EXACT_M, "{name}: {own} is said, {least} found");
    }
    assert_eq!(plate.count, plate.stands.len(), "{name}");
    assert_eq!(plate.thickness_m, steel.plate_m, "{name}");
    assert!(
        plate
            .file_stem
            .chars()
            .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-')
    );
    for stand in &plate.stands {
        assert!(stand.x.dot(&stand.y).abs() < EXACT_M, "{name}: square");
        assert!(
            (stand.x.norm() - 1.0).abs() < EXACT_M && (stand.y.norm() - 1.0).abs() < EXACT_M,
            "{name}"
        );
        is_saddled_on_the_tube(setup, plate, stand);
    }
    let [low, high] = plate.bounds();
    for (from, segment) in pieces(&plate.outline) {
        for point in [from, segment.to()] {
            assert!(
                point.x > low.x - EXACT_M && point.x < high.x + EXACT_M,
                "{name}: bounds"
            );
            assert!(
                point.y > low.y - EXACT_M && point.y < high.y + EXACT_M,
                "{name}: bounds"
            );
        }
    }
    assert!(high.x - low.x <= 1.0 && high.y - low.y <= 1.0, "{name}: too long");
    assert!(plate.mass_kg() > 0.0, "{name}");
}

/// The hollow arcs are saddles: on the axle of the tube's very radius, about its very axis.
fn is_saddled_on_the_tube(setup: &Setup, plate: &Plate, stand: &Stand) {
    if stand.carrier == Carrier::Frame {
        return;
    }
    for (from, segment) in pieces(&plate.outline) {
        if let Segment::Arc {
            centre,
            clockwise: true,
            ..
        } = segment
        {
            let radius_m = (from - centre).norm();
            assert!(
                (radius_m - setup.axle.tube_m / 2.0).abs() < EXACT_M,
                "{}: {radius_m}",
                plate.name
            );
            let placed = stand.place(centre);
            let off_axis_m = placed.x.hypot(placed.z);
            assert!(off_axis_m < PLACED_M, "{}: {off_axis_m} off the axis", plate.name);
        }
        // No corner of it lies in the tube; where the bolt is two degrees off the tube's direction, its circle is an ellipse to 0.03 mm.
        let placed = stand.place(from);
        if stand.x.cross(&stand.y).y.abs() > 0.99 {
            let out_m = placed.x.hypot(placed.z);
            assert!(
                out_m > setup.axle.tube_m / 2.0 - 3e-5,
                "{}: {out_m} from the axis",
                plate.name
            );
        }
    }
}

/// Where a bracket's bolt is: a ladder bar has two on one mount.
fn bolted_at(setup: &Setup, bracket: &Bracket, mount: Mount) -> Point3<f64> {
    let at = setup.mount(mount).expect("a bracket's mount is there").point;
    let half = |arm| setup.arm(arm).map_or(0.0, |a: &rearend::setup::Arm| a.spread_m / 2.0);
    match mount {
        Mount::Arm { arm, .. } if bracket.name.ends_with("upper bolt") => at + Vector3::z() * half(arm),
        Mount::Arm { arm, .. } if bracket.name.ends_with("lower bolt") => at - Vector3::z() * half(arm),
        _ => at,
    }
}

fn side_plates(bracket: &Bracket) -> impl Iterator<Item = &Plate> {
    bracket.plates.iter().filter(|p| p.name.ends_with("side plate"))
}

fn side_plates_straddle_the_mount(setup: &Setup, bracket: &Bracket) {
    let name = &bracket.name;
    if name == "Watt's crank" {
        return;
    }
    let placed: Vec<_> = side_plates(bracket)
        .flat_map(|plate| {
            let used = plate.holes.iter().find(|h| h.at.coords.norm() == 0.0);
            let at = used.expect("the hole in use is the plate's origin").at;
            plate.stands.iter().map(move |stand| (stand.place(at), stand))
        })
        .collect();
    let mounts = bracket.mounts.len();
    assert_eq!(placed.len(), if mounts == 0 { 4 } else { 2 * mounts }, "{name}");
    for mount in &bracket.mounts {
        let at = bolted_at(setup, bracket, *mount);
        let mut near: Vec<_> = placed.iter().collect();
        near.sort_by(|a, b| (a.0 - at).norm().total_cmp(&(b.0 - at).norm()));
        let (a, b) = (near[0], near[1]);
        let middle = nalgebra::center(&a.0, &b.0);
        let apart = a.0 - b.0;
        // A crank's stands to one side along its bolt, by a spacer of two and a quarter of its diameters.
        let off_m = if *mount == Mount::WattPivot {
            1.125 * setup.steel.bolt_m
        } else {
            0.0
        };
        let off = middle - at;
        let aside = off - apart.normalize() * apart.normalize().dot(&off);
        assert!(aside.norm() < PLACED_M, "{name}: {middle} for {at}");
        assert!((off.norm() - off_m).abs() < PLACED_M, "{name}: {middle} for {at}");
        if *mount != Mount::WattPivot {
            let wanted = setup.steel.gap_m + setup.steel.plate_m;
            assert!(
                (apart.norm() - wanted).abs() < PLACED_M,
                "{name}: {} apart",
                apart.norm()
            );
        }
        assert!(
            apart.dot(&a.1.x).abs() < PLACED_M && apart.dot(&a.1.y).abs() < PLACED_M,
            "{name}: square to the bolt"
        );
    }
}

/// Corners of a plate as it stands.
fn corners(plate: &Plate, stand: usize) -> Vec<Point3<f64>> {
    let stand = &plate.stands[stand];
    pieces(&plate.outline)
        .into_iter()
        .map(|(from, _)| stand.place(from))
        .collect()
}

/// Side plates end on the near face of their pad and within it; ribs on its far face, from end to end.
fn pads_meet_what_stands_on_them(bracket: &Bracket) {
    let Some(pad) = bracket.plates.iter().find(|p| p.name.ends_with("pad plate")) else {
        return;
    };
    let stand = &pad.stands[0];
    let up = stand.x.cross(&stand.y);
    let [low, high] = pad.bounds();
    // A rib that ends on the tube's side follows its curve by less than the pad is thick.
    let play = |side: f64| if side < 0.0 { pad.thickness_m } else { 1e-9 };
    let on_face = |plate: &Plate, which: usize, side: f64| {
        let play = play(side);
        let mut on = 0;
        for at in corners(plate, which) {
            let off = at - stand.origin;
            let (x, y) = (off.dot(&stand.x), off.dot(&stand.y));
            let above = off.dot(&up) * side - pad.thickness_m / 2.0;
            assert!(above > -1e-9, "{}: a corner lies {above} in the pad", plate.name);
            let is_within = x > low.x - 1e-9 && x < high.x + 1e-9 && y > low.y - play && y < high.y + play;
            on += usize::from(above < 1e-9 && is_within);
        }
        assert_eq!(on, 2, "{}: its straight edge is on the pad", plate.name);
    };
    let own = |plate: &Plate| plate.stands.len() / pad.stands.len();
    for plate in side_plates(bracket) {
        (0..own(plate)).for_each(|i| on_face(plate, i, 1.0));
    }
    for rib in bracket.plates.iter().filter(|p| p.name.ends_with("rib")) {
        (0..own(rib)).for_each(|i| on_face(rib, i, -1.0));
    }
}

/// A gusset is as wide as the gap and stands in its middle.
fn gussets_fill_the_gap(setup: &Setup, bracket: &Bracket) {
    let Some(gusset) = bracket.plates.iter().find(|p| p.name.ends_with("gusset")) else {
        return;
    };
    assert!(setup.steel.gussets, "{}", gusset.name);
    let side = side_plates(bracket).next().expect("a gusset has side plates");
    let bolt = side.stands[0].x.cross(&side.stands[0].y);
    let drawings = side_plates(bracket).count();
    let own = side_plates(bracket).flat_map(|p| p.stands.iter().take(if drawings == 1 { 2 } else { 1 }));
    let wide: Vec<_> = own.map(|s| s.origin.coords.dot(&bolt)).collect();
    let (low, high) = (wide[0].min(wide[1]), wide[0].max(wide[1]));
    let half_plate_m = side.thickness_m / 2.0;
    for at in corners(gusset, 0) {
        let along = at.coords.dot(&bolt);
        let off = (along - low - half_plate_m)
            .abs()
            .min((high - half_plate_m - along).abs());
        assert!(off < 1e-9, "{}: {off} off the side plate", gusset.name);
    }
    // It says on which side of the hole nearest to it it lies.
    let middle = corners(gusset, 0).iter().map(|at| at.coords).sum::<Vector3<f64>>() / 4.0;
    let stand = &side.stands[0];
    let to_gusset = |hole: &Hole| {
        let to = middle - stand.place(hole.at).coords;
        to - bolt * to.dot(&bolt)
    };
    let ways = side.holes.iter().map(to_gusset);
    let to = ways.min_by(|a, b| a.norm().total_cmp(&b.norm())).expect("a hole");
    let notes = gusset.notes.join(" ");
    for (word, part) in [("above", to.z), ("below", -to.z), ("ahead of", to.x), ("behind", -to.x)] {
        if notes.contains(&format!("It lies {word} the bolt")) {
            assert!(part > 0.49 * to.norm(), "{}: {word}, but {to:?}", gusset.name);
        }
    }
    assert!(notes.contains("the joint turns past its free end"), "{notes}");
}
