//! Weld edges lie on the steel that the truck has there.

use nalgebra::{Point2, Point3};
use rearend::answers::Answers;
use rearend::brackets::{Bracket, Plate};
use rearend::layouts::Layout;
use rearend::rail_line::{top_z_m, underside_z_m};
use rearend::setup::{Bolt, Joint, JointKind, Mount, Setup};
use rearend::tape::Units;

use crate::support::{PANHARD, demo};
use crate::{all, named, outline, plate};

/// The corners of a plate, each as it stands.
fn corners(plate: &Plate) -> Vec<Point3<f64>> {
    let corners = || plate.outline.pieces().map(|(from, _)| from);
    plate
        .stands
        .iter()
        .flat_map(|s| corners().map(|p| s.place(p)))
        .collect()
}

/// A panhard bar whose frame mount is there, its bolt front to back.
fn hung_at(mut setup: Setup, x: f64, y: f64, z: f64) -> Bracket {
    let bar = &mut setup.bars[PANHARD];
    bar.mount_in_frame = Point3::new(x, y, z);
    bar.frame_joint = Some(Joint {
        bolt: Bolt::Along,
        ..Joint::of(JointKind::RodEnd)
    });
    named(&setup, "panhard bar, on the frame")
}

/// The rails are level over the axle: a coilover's tab stands on their tops, within the flange.
#[test]
fn a_tab_stands_on_the_rails_top() {
    let setup = demo(0);
    let bracket = named(&setup, "coilover, on the frame");
    let side = plate(&bracket, "side plate");
    let top = top_z_m(&setup.rails, -0.095);
    let (outer, inner) = (
        setup.rails.spacing_m / 2.0,
        setup.rails.spacing_m / 2.0 - setup.rails.flange_m,
    );
    let on: Vec<_> = corners(side).into_iter().filter(|p| (p.z - top).abs() < 1e-9).collect();
    assert_eq!(on.len(), 2 * side.count, "two corners of each of them");
    assert!(
        on.iter().all(|p| p.y.abs() > inner - 1e-9 && p.y.abs() < outer + 1e-9),
        "{on:?}"
    );
    assert!(
        corners(side).iter().all(|p| p.z > top - 1e-9),
        "nothing of it is in the rail"
    );
}

#[test]
fn a_drop_bracket_hangs_on_the_underside_with_a_gusset() {
    let setup = demo(0);
    let bracket = hung_at(setup.clone(), -0.2, 0.36, 0.1);
    let side = plate(&bracket, "side plate");
    let under = underside_z_m(&setup.rails, -0.2);
    let on = corners(side).into_iter().filter(|p| (p.z - under).abs() < 1e-9).count();
    assert_eq!(on, 2 * side.count);
    assert!(corners(side).iter().all(|p| p.z < under + 1e-9));
    // From the weld's middle to the bolt, less the joint's room. The weld keeps off the channel's outer corner, twice its wall round.
    let gusset = plate(&bracket, "gusset");
    let room = 1.25 * setup.steel.edge_m();
    let middle_y = setup.rails.spacing_m / 2.0 - setup.rails.flange_m / 2.0 - setup.rails.wall_m;
    let far = (under - 0.1).hypot(middle_y - 0.36);
    let [low, high] = gusset.bounds();
    assert!((high.x - low.x - setup.steel.gap_m).abs() < 1e-12);
    assert!(
        (high.y - low.y - (far - room)).abs() < 1e-9,
        "{} for {}",
        high.y - low.y,
        far - room
    );
    // It hangs from the rail: above its bolt, and so much short of the hole.
    let mm = |m: f64| Units::Millimetres.length(m);
    let ends = format!("ends {} short of the hole's centre, {} from", mm(room), mm(far - room));
    let notes = gusset.notes.join(" ");
    assert!(
        notes.contains(&ends) && notes.contains("It lies above the bolt"),
        "{notes}"
    );
    assert!(!notes.contains("room above"), "{notes}");
}

/// In an open channel the plate goes on to the web, no wider than between the flanges.
#[test]
fn a_plate_goes_into_an_open_channel_between_its_flanges() {
    let setup = demo(0);
    let rails = &setup.rails;
    let bracket = hung_at(setup.clone(), -0.2, 0.31, 0.31);
    let side = plate(&bracket, "side plate");
    let (low, high) = (
        underside_z_m(rails, -0.2) + rails.wall_m,
        top_z_m(rails, -0.2) - rails.wall_m,
    );
    let (web, lips) = (
        rails.spacing_m / 2.0 - rails.wall_m,
        rails.spacing_m / 2.0 - rails.flange_m,
    );
    let all = corners(side);
    assert_eq!(all.iter().filter(|p| (p.y - web).abs() < 1e-9).count(), 2 * side.count);
    let within = all.iter().filter(|p| p.y > lips - 1e-9);
    assert!(within.clone().count() >= 4 * side.count);
    assert!(within.into_iter().all(|p| p.z > low && p.z < high && p.y < web + 1e-9));
    assert!(
        side.notes.iter().any(|n| n.contains("open channel")),
        "{:?}",
        side.notes
    );
}

/// A bar beside the rail with its bolt across: the pad stands out from the rail's outside, and the plates keep off the rail.
#[test]
fn a_pad_stands_out_from_the_rails_side() {
    let setup = demo(0);
    let bracket = named(&setup, "lower bar, on the frame");
    let (pad, side) = (plate(&bracket, "pad plate"), plate(&bracket, "side plate"));
    let outer = setup.rails.spacing_m / 2.0;
    let x = setup.bars[0].mount_in_frame.x;
    let on: Vec<_> = corners(pad)
        .into_iter()
        .filter(|p| (p.y.abs() - outer).abs() < 1e-9)
        .collect();
    assert_eq!(on.len(), 2 * pad.count, "its edge is on the rail");
    let (low, high) = (underside_z_m(&setup.rails, x), top_z_m(&setup.rails, x));
    assert!(
        on.iter().all(|p| p.z > low && p.z < high),
        "{on:?} between {low} and {high}"
    );
    let half_plate_m = setup.steel.plate_m / 2.0;
    assert!(corners(side).iter().all(|p| p.y.abs() - half_plate_m > outer));
}

/// The crank's two plates and a washer on either side turn in their bracket, which passes the centre section on either side.
#[test]
fn a_cranks_bracket_is_as_wide_as_its_crank() {
    let setup = demo(1);
    let steel = &setup.steel;
    let bracket = named(&setup, "Watt's crank pivot, on the axle");
    let [near, far] = ["near side plate", "far side plate"].map(|name| plate(&bracket, name));
    let apart = (near.stands[0].origin - far.stands[0].origin).norm() - steel.plate_m;
    // A washer on either side, and a spacer past which the nuts of the links' bolts swing: three washers of 0.2 d, a nut of 1.25, and a thread.
    let thick_m = steel.gap_m + 2.0 * steel.plate_m;
    let wide_m = thick_m + 2.0 * 0.001_6 + 2.25 * steel.bolt_m;
    assert!((apart - wide_m).abs() < 1e-12, "{apart}");
    let nuts_m = (3.0 * 0.2 + 1.25 + 1.0 / 6.0) * steel.bolt_m;
    assert!(apart - thick_m - 0.001_6 > nuts_m + 0.003, "nuts clear the near plate");
    let pivot = setup.watt.as_ref().expect("it has one").pivot;
    let to_far = pivot.x - far.stands[0].origin.x - steel.plate_m / 2.0;
    assert!((to_far - thick_m / 2.0 - 0.001_6).abs() < 1e-12, "{to_far}");
    let caps = plate(&bracket, "cap");
    let deep: Vec<_> = corners(caps).iter().map(|p| p.x).collect();
    let [least, most] =
        [f64::min as fn(f64, f64) -> f64, f64::max].map(|f| deep.iter().copied().reduce(f).expect("corners"));
    assert!((most - least - wide_m).abs() < 1e-12, "the caps fill the gap");
    let rib = plate(&bracket, "rib");
    // The centre section is drawn 0.13 m to either side of its middle for tubes of 76.2 mm.
    let half_m = 0.13 / 0.0762 * setup.axle.tube_m;
    let off = |s: &rearend::brackets::Stand| (s.origin.y - setup.axle.pinion_offset_m).abs();
    assert!(rib.stands.iter().all(|s| off(s) - steel.plate_m / 2.0 > half_m));
    // The ribs end on the near side plate's face: nothing but the caps stands beyond it.
    let face_m = near.stands[0].origin.x + steel.plate_m / 2.0;
    let end_m = corners(rib).iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
    assert!((end_m - face_m).abs() < 1e-12, "{end_m} {face_m}");
}

/// However a crank turns, its plates and the links' joints between them meet nothing of the bracket that it turns in.
#[test]
fn nothing_stands_in_the_way_of_a_crank() {
    for layout in Layout::ALL {
        let setup = layout.hang(&demo(0));
        let Some(watt) = &setup.watt else { continue };
        let Some(bracket) = all(&setup)
            .into_iter()
            .flatten()
            .find(|b| b.mounts == [Mount::WattPivot])
        else {
            continue;
        };
        let (steel, axis) = (&setup.steel, watt.pivot_axis());
        let reach = watt.half_crank_m + steel.edge_m();
        let wide = steel.gap_m / 2.0 + steel.plate_m;
        for plate in &bracket.plates {
            for stand in &plate.stands {
                let thick = stand.x.cross(&stand.y) * (steel.plate_m / 2.0);
                let edge = |p: Point3<f64>| [p + thick, p - thick];
                let outline: Vec<_> = plate.outline.pieces().map(|(p, _)| stand.place(p)).collect();
                for p in outline.into_iter().flat_map(edge) {
                    let off = p - watt.pivot;
                    let along = off.dot(&axis);
                    let out = (off - axis * along).norm();
                    assert!(
                        along.abs() > wide || out > reach,
                        "{layout:?}, {}: {along} along and {out} out",
                        plate.name
                    );
                }
            }
        }
    }
}

/// The heads at a crank's ends stand out past the far side plate's face: however the crank turns through the travel, a washer of two bolts'
/// diameters across stays clear of the plate.
#[test]
fn the_heads_at_a_cranks_ends_swing_past_the_plate_beyond_it() {
    let mut watts = 0;
    for setup in (0..3).flat_map(|truck| {
        Layout::ALL
            .map(|layout| layout.hang(&demo(truck)))
            .into_iter()
            .chain([demo(truck)])
    }) {
        let Some(watt) = &setup.watt else { continue };
        let answers = Answers::of(&setup);
        let solved = answers.solved.as_ref().expect("it is solved");
        let bracket = named(&setup, &format!("Watt's crank pivot, on the {}", watt.crank_on.name()));
        let far = plate(&bracket, "far side plate");
        let stand = far.stands[0];
        let flat = |p: Point3<f64>| Point2::new((p - stand.origin).dot(&stand.x), (p - stand.origin).dot(&stand.y));
        let crank = &solved.rear_end.mechanism.cranks()[0];
        watts += 1;
        for row in solved.level.rows.iter().chain(&solved.rolled.rows) {
            for joint in watt.joints() {
                let at = flat(crank.turned(joint, row.at.crank_rad[0]));
                let edges = outline::pieces(&far.outline);
                let near = edges.iter().map(|(from, edge)| outline::distance_m(at, *from, edge));
                let off_m = near.fold(f64::INFINITY, f64::min);
                assert!(
                    off_m > setup.steel.bolt_m + 0.002,
                    "{}: {off_m} at {}",
                    setup.name,
                    row.height_m
                );
            }
        }
    }
    assert!(watts >= 13, "{watts}");
}

/// The panhard bar's pad behind the tube runs on to the tube's side: square-edged, its lower face touches, which is nearer to the middle. Its
/// ribs begin on the tube.
#[test]
fn a_pad_beside_the_tube_meets_it() {
    let setup = demo(0);
    let bracket = named(&setup, "panhard bar, on the axle");
    let (pad, rib) = (plate(&bracket, "pad plate"), plate(&bracket, "rib"));
    let (tube, steel) = (setup.axle.tube_m / 2.0, &setup.steel);
    let lower = setup.bars[PANHARD].mount_in_axle.z - 1.25 * steel.edge_m() - steel.plate_m;
    let side = (tube * tube - lower * lower).sqrt();
    let near: Vec<_> = corners(pad)
        .into_iter()
        .filter(|p| (p.x + side).abs() < 1e-12)
        .collect();
    assert_eq!(near.len(), 2, "{:?} at {side}", corners(pad));
    let starts = |p: &Point3<f64>| (p.z - lower).abs() < 1e-12 && (p.x + side).abs() < 1e-12;
    assert_eq!(
        corners(rib).iter().filter(|p| starts(p)).count(),
        rib.count,
        "{:?}",
        corners(rib)
    );
}
