//! Every layout on every truck, and trucks and shops nobody has.

use proptest::prelude::*;
use rearend::brackets;
use rearend::layouts::Layout;
use rearend::setup::{Bolt, Joint, JointKind, Setup, Steel};
use rearend::tape::Units;

use crate::invariants::hold;
use crate::support::{PANHARD, demo};
use crate::{all, named, plate};

#[test]
fn every_layout_on_every_demo_truck_has_sound_brackets() {
    let (mut drawn, mut refused) = (0, 0);
    for truck in 0..3 {
        for layout in Layout::ALL {
            let setup = layout.hang(&demo(truck));
            hold(&setup, &all(&setup));
            // Whatever is in their way.
            let brackets = brackets::drawn(&setup, None, Units::Millimetres);
            hold(&setup, &brackets);
            drawn += brackets.iter().flatten().count();
            refused += brackets.iter().filter(|b| b.is_err()).count();
        }
    }
    // Proposed mounts may lie too near to a rail or have no crossmember; most are fine.
    assert!(drawn > 10 * refused, "{drawn} are drawn, {refused} are refused");
}

fn steel() -> impl Strategy<Value = Steel> {
    let plate = 0.003..0.013;
    let bolt = 0.010..0.027;
    (plate, bolt, 0.0..0.002, 1.1..2.2, 0.02..0.09, any::<bool>()).prop_map(
        |(plate_m, bolt_m, hole_over_m, edge_in_bolts, gap_m, gussets)| Steel {
            plate_m,
            bolt_m,
            hole_over_m,
            edge_in_bolts,
            gap_m,
            gussets,
            ..Steel::default()
        },
    )
}

fn truck() -> impl Strategy<Value = Setup> {
    let which = (0..3usize, 0..Layout::ALL.len(), 0.05..0.13);
    (which, steel()).prop_map(|((truck, layout, tube_m), steel)| {
        let mut setup = Layout::ALL[layout].hang(&demo(truck));
        setup.steel = steel;
        setup.axle.tube_m = tube_m;
        setup
    })
}

fn bolt() -> impl Strategy<Value = Bolt> {
    prop::sample::select(Bolt::ALL.to_vec())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_shops_brackets_are_sound(setup in truck()) {
        hold(&setup, &all(&setup));
    }

    /// Mounts anywhere, bolts any way, rows of holes any way, axles askew: drawn soundly or refused with a sentence.
    #[test]
    fn mounts_anywhere_are_drawn_soundly_or_refused(
        which in (0..3usize, 0..2usize),
        frame in (-0.9..1.2, -0.6..0.6, -0.2..0.6),
        axle in (-0.3..0.3, -0.6..0.6, -0.25..0.25),
        bolts in (bolt(), bolt()),
        row in prop::option::of(((-0.04..0.04, -0.04..0.04, -0.04..0.04), 2..5u8)),
        askew in (-0.1..0.1, -0.1..0.1),
        steel in steel(),
    ) {
        let mut setup = demo(which.0);
        setup.steel = steel;
        setup.placement.steer_rad = askew.0;
        setup.placement.nose_up_rad = askew.1;
        let bar = &mut setup.bars[which.1];
        bar.mount_in_frame = nalgebra::Point3::new(frame.0, frame.1, frame.2);
        bar.mount_in_axle = nalgebra::Point3::new(axle.0, axle.1, axle.2);
        let joint = |bolt| Some(Joint { bolt, ..Joint::of(JointKind::RodEnd) });
        (bar.frame_joint, bar.axle_joint) = (joint(bolts.0), joint(bolts.1));
        if let Some(((x, y, z), count)) = row {
            let step = nalgebra::Vector3::new(x, y, z);
            let row = |first| Some(rearend::setup::HoleRow { first, step, count });
            (bar.frame_holes, bar.axle_holes) = (row(bar.mount_in_frame), row(bar.mount_in_axle));
        }
        prop_assume!(setup.validate().is_ok());
        hold(&setup, &all(&setup));
    }
}

#[test]
fn a_row_of_holes_is_in_its_plate_hole_by_hole() {
    let mut setup = demo(0);
    let first = setup.bars[0].mount_in_axle;
    let row = rearend::setup::HoleRow {
        first,
        step: nalgebra::Vector3::new(0.0, 0.0, -0.0254),
        count: 4,
    };
    setup.bars[0].axle_holes = Some(row);
    let bracket = named(&setup, "lower bar, on the axle");
    hold(&setup, &[Ok(bracket.clone())]);
    let side = plate(&bracket, "side plate");
    let holes: Vec<_> = row.holes().collect();
    assert_eq!(side.holes.len(), holes.len());
    let half_m = f64::midpoint(setup.steel.gap_m, setup.steel.plate_m);
    for (hole, at) in side.holes.iter().zip(&holes) {
        for (stand, sign) in side.stands.iter().zip([1.0, -1.0]) {
            let placed = stand.place(hole.at) - nalgebra::Vector3::y() * (sign * half_m);
            assert!((placed - at).norm() < 1e-12, "{placed} for {at}");
        }
    }
    assert!(side.scribes.iter().any(|s| s.what == "bar at ride height"));
}

/// The mark runs from the hole towards the bar's other end.
#[test]
fn a_bar_is_scribed_as_it_lies() {
    let setup = demo(0);
    let bracket = named(&setup, "lower bar, on the axle");
    let side = plate(&bracket, "side plate");
    let mark = side
        .scribes
        .iter()
        .find(|s| s.what == "bar at ride height")
        .expect("it is scribed");
    let stand = &side.stands[0];
    let along = (stand.place(mark.to) - stand.place(mark.from)).normalize();
    let bar = &setup.bars[0];
    let towards = (bar.mount_in_frame - setup.drawn().to_ground(bar.mount_in_axle)).normalize();
    assert!((along - towards).norm() < 1e-9, "{along} for {towards}");
}

#[test]
fn notes_speak_the_users_units() {
    let setup = demo(0);
    let says = |units| {
        let all = brackets::of(&setup, None, units);
        let bracket = all.into_iter().flatten().find(|b| b.name == "lower bar, on the axle");
        bracket.expect("it is drawn").plates[0].notes.join(" ")
    };
    let (inches, millimetres) = (says(Units::Sixteenths), says(Units::Millimetres));
    assert!(inches.contains("the axle tube of 3\" outside, 120 degrees"), "{inches}");
    assert!(
        millimetres.contains("the axle tube of 76.2 mm outside"),
        "{millimetres}"
    );
}

#[test]
fn a_long_bracket_has_a_gusset_where_the_shop_uses_them() {
    let mut setup = demo(0);
    // Its bracket stands where the coilover's does.
    setup.bars.remove(PANHARD);
    let of = |setup: &Setup| named(setup, "coilover, on the axle");
    let has = |setup: &Setup| of(setup).plates.iter().any(|p| p.name.ends_with("gusset"));
    assert!(has(&setup));
    setup.steel.gussets = false;
    assert!(!has(&setup));
}
