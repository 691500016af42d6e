//! Plates that would stand in other steel, or in another bracket: by amounts that a formula gives, and against points tried one by one.

use nalgebra::Point3;
use proptest::prelude::*;
use rearend::brackets::{self, Bracket, BracketError};
use rearend::layouts::Layout;
use rearend::setup::{Bolt, Joint, JointKind, Section, Setup};
use rearend::tape::Units;

use crate::sampled::{in_others, in_steel};
use crate::support::{PANHARD, demo};

const LOWER: usize = 0;
const UPPER: usize = 1;

fn of(setup: &Setup) -> Vec<Result<Bracket, BracketError>> {
    brackets::of(setup, None, Units::Millimetres)
}

/// Why a bracket is refused, if it is.
fn why(setup: &Setup, name: &str) -> Option<String> {
    let all = of(setup);
    if all.iter().flatten().any(|b| b.name == name) {
        return None;
    }
    let begins = format!("the {name}, ");
    let found = all.into_iter().filter_map(Result::err).map(|e| e.to_string());
    Some(
        found
            .into_iter()
            .find(|e| e.starts_with(&begins))
            .expect("it is drawn or refused"),
    )
}

/// A joint on a crossmember so near to a rail that its outer plate reaches past the flange's edge by so much.
fn past_the_flange(deep_m: f64, z_m: f64, section: Section) -> Option<String> {
    let mut setup = demo(0);
    let steel = &setup.steel;
    let outer_face_m = 0.15 + steel.gap_m / 2.0 + steel.plate_m;
    setup.rails.section = section;
    setup.rails.spacing_m = 0.64;
    setup.rails.flange_m = 0.32 - outer_face_m + deep_m;
    let bar = &mut setup.bars[PANHARD];
    bar.mount_in_frame = Point3::new(1.05, 0.15, z_m);
    bar.frame_joint = Some(Joint {
        bolt: Bolt::Across,
        ..Joint::of(JointKind::RodEnd)
    });
    why(&setup, "panhard bar, on the frame")
}

/// The first demo has a crossmember at X = 1.05 m, half way up its rails of 150 mm.
#[test]
fn a_plate_that_reaches_past_a_flanges_edge_is_told_by_how_much() {
    for (z_m, flange) in [(0.19, "top flange"), (-0.04, "bottom flange")] {
        let told = past_the_flange(0.002, z_m, Section::Channel).expect("it is in the flange");
        let wanted = format!(
            "the panhard bar, on the frame, runs into the left rail's {flange} by 2.0 mm: move its mount clear of it, or turn its bolt"
        );
        assert_eq!(told, wanted);
        assert_eq!(
            past_the_flange(-0.001, z_m, Section::Channel),
            None,
            "a millimetre clear"
        );
        assert_eq!(past_the_flange(0.0, z_m, Section::Channel), None, "it touches");
        assert_eq!(past_the_flange(0.000_4, z_m, Section::Channel), None, "it is fitted");
    }
    let told = past_the_flange(0.002, 0.19, Section::Box).expect("it is in the rail");
    assert!(
        told.contains("the left rail's") && told.contains("wall by 2.0 mm"),
        "{told}"
    );
}

/// Beside the centre section, which is drawn 0.13 m to either side of its middle for tubes of 76.2 mm, round about the pinion's line: a plate
/// under the tube is nearest to that line where its saddle ends, sixty degrees from straight down.
#[test]
fn a_plate_that_reaches_into_the_centre_section_is_refused() {
    let told = |inside_m: f64| {
        let mut setup = demo(0);
        setup.axle.pinion_angle_rad = 0.0;
        assert_eq!(setup.axle.tube_m, 0.0762);
        let steel = &setup.steel;
        let highest_m = 0.0381 * 60_f64.to_radians().cos();
        let meets_m = (0.13_f64.powi(2) - highest_m.powi(2)).sqrt();
        let y_m = meets_m - inside_m + steel.gap_m / 2.0 + steel.plate_m;
        let bar = &mut setup.bars[LOWER];
        (bar.mount_in_frame.y, bar.mount_in_axle) = (y_m, Point3::new(0.0, y_m, -0.085));
        why(&setup, "lower bar, on the axle")
    };
    let deep = told(0.002).expect("it is in the centre section");
    assert!(
        deep.contains("runs into the centre section by")
            && deep.ends_with("move its mount clear of it, or turn its bolt"),
        "{deep}"
    );
    assert_eq!(told(-0.001), None, "a millimetre clear");
}

/// A joint above the centre section, its bolt along the tube: the pad under it has to clear the round of 0.13 m, and stands on ribs on the
/// tube to either side.
#[test]
fn over_the_centre_section_a_bracket_stands_on_the_tubes() {
    let mut setup = demo(0);
    setup.axle.pinion_angle_rad = 0.0;
    let eye = setup.steel.edge_m().max(setup.steel.bush_eye_m / 2.0);
    let top_m = 0.13 + setup.steel.plate_m + 1.25 * eye;
    let bar = &mut setup.bars[UPPER];
    bar.mirrored = false;
    bar.mount_in_axle = Point3::new(0.0, 0.0, top_m + 0.001);
    assert_eq!(why(&setup, "upper bar, on the axle"), None, "a millimetre clear");
    let bracket = of(&setup)
        .into_iter()
        .flatten()
        .find(|b| b.name == "upper bar, on the axle");
    let plates = bracket.expect("it is drawn").plates;
    let rib = plates.iter().find(|p| p.name.ends_with("rib")).expect("it has ribs");
    assert!(
        rib.stands
            .iter()
            .all(|s| s.origin.y.abs() - rib.thickness_m / 2.0 > 0.13),
        "{:?}",
        rib.stands
    );
    // Two millimetres lower, and one more: corners that stand for the round lie on it, and its chords a two hundredth of it below.
    setup.bars[UPPER].mount_in_axle.z = top_m - 0.002;
    let told = why(&setup, "upper bar, on the axle").expect("it is in the centre section");
    assert!(told.contains("runs into the centre section by"), "{told}");
}

/// Two bars beside each other under the tube: gap, two plates, and what they overlap by.
#[test]
fn brackets_that_stand_in_each_other_are_told_by_how_much() {
    let told = |deep_m: f64| {
        let mut setup = demo(0);
        setup.bars.remove(PANHARD);
        setup.springs = None;
        let wide_m = setup.steel.gap_m + 2.0 * setup.steel.plate_m;
        for (bar, y_m) in [(LOWER, 0.5), (UPPER, 0.5 - wide_m + deep_m)] {
            let bar = &mut setup.bars[bar];
            // Straight ahead, so that its bolt lies along the tube.
            bar.mount_in_frame.y = y_m;
            bar.mount_in_axle = Point3::new(0.0, y_m, -0.085);
        }
        why(&setup, "upper bar, on the axle")
    };
    let wanted = "the upper bar, on the axle, runs into the plates of the lower bar, on the axle, by 2.0 mm: move one of the two mounts away \
                  from the other";
    assert_eq!(told(0.002).as_deref(), Some(wanted));
    assert_eq!(told(-0.001), None, "a millimetre clear");
    assert_eq!(told(0.0), None, "they touch");
    // On one bolt they are one bracket.
    let wide_m = demo(0).steel.gap_m + 2.0 * demo(0).steel.plate_m;
    assert_eq!(told(wide_m), None);
}

/// A ladder bar's two bolts at the axle are held by one bracket, however near they are to each other.
#[test]
fn the_two_bolts_of_a_ladder_bar_are_not_in_each_others_way() {
    for truck in 0..3 {
        let setup = Layout::LadderPanhard.hang(&demo(truck));
        for end in ["upper bolt", "lower bolt"] {
            assert_eq!(why(&setup, &format!("ladder bar, on the axle, {end}")), None);
        }
    }
}

/// What is drawn stands in nothing, and what is refused does, as far as single points tell.
fn agree(setup: &Setup) {
    let (all, drawn) = (of(setup), brackets::drawn(setup, None, Units::Millimetres));
    assert_eq!(all.len(), drawn.len());
    let standing: Vec<&Bracket> = all.iter().flatten().collect();
    for (i, bracket) in standing.iter().enumerate() {
        let deep = in_steel(setup, bracket, -0.002);
        assert_eq!(deep, None, "{} is drawn", bracket.name);
        let others: Vec<_> = standing[..i].to_vec();
        assert_eq!(in_others(bracket, &others, -0.001), None, "{} is drawn", bracket.name);
    }
    for (told, bracket) in all.iter().zip(&drawn) {
        match (told, bracket) {
            (Err(BracketError::RunsInto { .. } | BracketError::RunsIntoBracket { .. }), Ok(bracket)) => {
                let found = in_steel(setup, bracket, 0.005).or_else(|| in_others(bracket, &standing, 0.005));
                assert!(found.is_some(), "{} stands in nothing, but {told:?}", bracket.name);
            }
            // Points cannot tell the next run of a bent crossmember from the one that a plate is saddled on.
            (Ok(_) | Err(BracketError::Bent { .. }), Ok(_)) => {}
            (told, drawn) => assert_eq!(told, drawn, "nothing else is refused"),
        }
    }
}

#[test]
fn points_tried_one_by_one_agree_on_every_layout() {
    for truck in 0..3 {
        for layout in Layout::ALL {
            agree(&layout.hang(&demo(truck)));
        }
        agree(&demo(truck));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn points_tried_one_by_one_agree_wherever_mounts_are(
        truck in 0..3usize,
        frame in (-0.9..1.2, 0.0..0.6, -0.1..0.55),
        axle in (-0.15..0.15, 0.0..0.6, -0.2..0.25),
        bolts in (prop::sample::select(Bolt::ALL.to_vec()), prop::sample::select(Bolt::ALL.to_vec())),
    ) {
        let mut setup = demo(truck);
        let bar = &mut setup.bars[LOWER];
        bar.mount_in_frame = Point3::new(frame.0, frame.1, frame.2);
        bar.mount_in_axle = Point3::new(axle.0, axle.1, axle.2);
        let joint = |bolt| Some(Joint { bolt, ..Joint::of(JointKind::RodEnd) });
        (bar.frame_joint, bar.axle_joint) = (joint(bolts.0), joint(bolts.1));
        prop_assume!(setup.validate().is_ok());
        agree(&setup);
    }
}
