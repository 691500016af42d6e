//! Lessons 1 to 3: what a panhard bar, a Watt's linkage and angled bars do to the axle.

use nalgebra::Point3;
use rearend::answers::Answers;
use rearend::findings::{Grade, Remedy};
use rearend::setup::{BarEnd, BarId, Mount, Setup, Side};
use rearend::sideways::{LevelAt, effective_length_m};
use rearend::travel::POSES;
use shop::{Change, Document};

use crate::scenes::{arc, largest, level_finding, named, solved};

/// How far apart sideways the axle stands laid out and fully lifted, m.
fn ends_apart(answers: &Answers) -> f64 {
    let rows = &answers.solved.as_ref().expect("solved").level.rows;
    (rows[0].shift_m - rows[POSES - 1].shift_m).abs()
}

/// The remaining difference is of second order: the long bars swing fore and aft, which tilts the panhard bar in plan.
#[test]
fn lesson_1_levelling_the_panhard_bar_brings_both_ends_of_the_travel_together() {
    let mut document = Document::new(named("01"), None);
    let before = ends_apart(document.answers());
    assert!(before > 0.003, "as drawn the ends are {before} m apart");
    let finding = level_finding(&document.answers().findings);
    assert_eq!(finding.grade, Grade::Check);
    let remedy = Remedy::LevelBar(BarId(2), LevelAt::HalfTravel);
    assert!(finding.remedies.contains(&remedy), "{:?}", finding.remedies);
    document.apply(&Change::Take(remedy)).expect("the remedy can be taken");
    let after = ends_apart(document.answers());
    assert!(after < 1e-4, "levelled, the ends are still {after} m apart");
    assert_eq!(level_finding(&document.answers().findings).grade, Grade::Fine);
}

#[test]
fn lesson_1_equal_parallel_bars_keep_the_pinion_angle() {
    let setup = named("01");
    let turned = largest(&solved(&setup).level, |row| {
        row.pinion_to_frame_rad - setup.axle.pinion_angle_rad
    });
    assert!(turned < 1e-9, "the pinion turns by {turned} rad");
}

#[test]
fn lesson_2_watts_linkage_stays_within_a_millimetre_where_a_panhard_bar_would_not() {
    let setup = named("02");
    let shift = largest(&solved(&setup).level, |row| row.shift_m);
    assert!(shift < 1e-3, "the axle shifts {shift} m");
    let watt = setup.watt.as_ref().expect("it has a Watt's linkage");
    let reach = watt.left.y - watt.right.y;
    let travel = &setup.travel;
    let rise = (travel.full_lift_m - travel.ride_m).max(travel.ride_m - travel.laid_out_m);
    assert!(
        arc(reach, rise) > 0.01,
        "a panhard bar of {reach} m shifts {} m",
        arc(reach, rise)
    );
}

/// Straight by symmetry; what is left is rounding of metre-sized coordinates.
#[test]
fn lesson_3_angled_bars_hold_the_axle_in_the_middle_and_turn_the_pinion() {
    let setup = named("03");
    let level = solved(&setup).level;
    let shift = largest(&level, |row| row.shift_m);
    assert!(shift < 1e-9, "the axle shifts {shift} m");
    let turned = largest(&level, |row| row.pinion_to_frame_rad - setup.axle.pinion_angle_rad).to_degrees();
    assert!(turned > 0.5, "the pinion turns by {turned} degrees");
    assert!(setup.watt.is_none() && setup.layout_name() == "triangulated four-link");
}

#[test]
fn lesson_3_upper_bars_that_act_as_long_as_the_lower_ones_straighten_the_pinion_strip() {
    let setup = named("03");
    let turned = |s: &Setup| {
        largest(&solved(s).level, |row| {
            row.pinion_to_frame_rad - s.axle.pinion_angle_rad
        })
    };
    let lower_m = effective_length_m(&setup, BarId(0)).expect("there is a lower bar");
    let upper = setup.bars[1].clone();
    let drop = upper.mount_in_frame.z - upper.mount_in_axle.z - setup.axle_z_m(setup.travel.ride_m);
    let forward = Point3::new(
        upper.mount_in_axle.x + (lower_m * lower_m - drop * drop).sqrt(),
        upper.mount_in_frame.y,
        upper.mount_in_frame.z,
    );
    let mut dragged = setup.clone();
    assert!(dragged.move_mount(
        Mount::Bar {
            bar: BarId(1),
            end: BarEnd::Frame,
            side: Side::Drawn
        },
        forward
    ));
    assert!(forward.x > upper.mount_in_frame.x, "forward, as the lesson says");
    let (before, after) = (turned(&setup), turned(&dragged));
    assert!(
        after < 0.5 * before,
        "the pinion turned by {before} rad, and still turns by {after}"
    );
}
