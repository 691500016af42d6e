use nalgebra::Vector3;
use proptest::prelude::*;
use rearend::answers::Answers;
use rearend::findings::{Finding, Grade, Kind};
use rearend::setup::{AirSpring, Coilover, Setup, SpringKind, Springs};
use rearend::springs::{BumpTrouble, End, Fault, Reach, Stand, ends, preload_m, rooms};
use rearend::tape::Units;
use rearend::travel::Row;

use crate::near;
use crate::trucks::{on_bags, on_coilovers, pose, swept};

fn found(setup: &Setup) -> Vec<(Finding, Fault)> {
    let findings = Answers::of(setup).findings.into_iter();
    findings
        .filter_map(|f| match f.kind.clone() {
            Kind::Spring(fault) => Some((f, fault)),
            _ => None,
        })
        .collect()
}

fn springs(setup: &mut Setup) -> &mut Springs {
    setup.springs.as_mut().expect("springs")
}

fn coil(setup: &mut Setup) -> &mut Coilover {
    match &mut springs(setup).kind {
        SpringKind::Coilover(c) => c,
        SpringKind::Air(_) => panic!("coilovers"),
    }
}

fn air(setup: &mut Setup) -> &mut AirSpring {
    match &mut springs(setup).kind {
        SpringKind::Air(a) => a,
        SpringKind::Coilover(_) => panic!("bags"),
    }
}

/// Coilovers that suit the first demo: set to carry it, and reaching past both ends of the travel.
fn suited() -> Setup {
    with_room(0.045)
}

/// The same with this much left at both ends.
fn with_room(room_m: f64) -> Setup {
    let mut setup = on_coilovers(0);
    let (_, travel) = swept(&setup, 0.0);
    let lengths = [lengths_m(&travel.rows[0])[0], lengths_m(&travel.rows[60])[1]];
    let c = coil(&mut setup);
    (c.collapsed_m, c.extended_m) = (lengths[0] - room_m, lengths[1] + room_m);
    (c.rate_n_per_m, c.free_length_m) = (34_000.0, 0.360);
    let ride = Row::at_ride(&setup, &swept(&setup, 0.0).0);
    let preload_m = preload_m(springs(&mut setup), &pose(&ride)).expect("coilovers");
    coil(&mut setup).preload_m = preload_m;
    setup
}

/// What both wheels carry.
fn carried_n(row: &Row) -> f64 {
    let sides = pose(row).sides().map(|s| s.load.expect("it carries").wheel_force_n);
    sides[0] + sides[1]
}

/// The shorter and the longer of the two: a sideways bar moves one a little more.
fn lengths_m(row: &Row) -> [f64; 2] {
    let sides = pose(row).sides().map(|s| s.length_m);
    [sides[0].min(sides[1]), sides[0].max(sides[1])]
}

/// The one thing found, and that its sentence is one.
#[track_caller]
fn only(setup: &Setup) -> (Finding, Fault, String) {
    let mut all = found(setup);
    assert_eq!(all.len(), 1, "{all:#?}");
    let (finding, fault) = all.remove(0);
    let sentence = finding.sentence(setup, Units::Millimetres);
    assert!(sentence.ends_with('.') && !sentence.contains("NaN"), "{sentence}");
    (finding, fault, sentence)
}

#[test]
fn coilovers_that_suit_are_fine_and_carry_the_corner() {
    let setup = suited();
    let (finding, fault, sentence) = only(&setup);
    assert_eq!(finding.grade, Grade::Fine);
    let Fault::Well(summary) = fault else {
        panic!("{fault:?}")
    };
    near(
        carried_n(&Row::at_ride(&setup, &swept(&setup, 0.0).0)),
        2.0 * 420.0 * 9.806_65,
        1e-6,
    );
    assert!(sentence.contains("motion ratio 0."), "{sentence}");
    for room in [summary.rooms.to_collapsed, summary.rooms.to_extended] {
        assert!(room.room_m > 0.0 && room.room_m < 0.045 + 1e-9, "{room:?}");
    }
}

#[test]
fn a_truck_without_springs_hears_nothing_of_them() {
    let mut setup = suited();
    setup.springs = None;
    assert_eq!(found(&setup), []);
    let (rear_end, travel) = swept(&setup, 0.0);
    assert!(travel.rows.iter().all(|row| row.spring.is_none()));
    assert_eq!(rooms(&setup, travel.rows.iter()), None);
    assert!(rearend::springs::compare_holes(&setup, &rear_end, &travel).is_empty());
}

/// The height at which a spring of 10 mm less reach comes to its end, by bisection of the pose.
#[test]
fn springs_that_come_to_an_end_first_say_at_which_height() {
    for end in [End::Collapsed, End::Extended] {
        let mut setup = suited();
        let (rear_end, travel) = swept(&setup, 0.0);
        let c = coil(&mut setup);
        let last = match end {
            End::Collapsed => {
                c.collapsed_m = lengths_m(&travel.rows[0])[0] + 0.010;
                c.collapsed_m
            }
            End::Extended => {
                // The collar moves along, so that the coil presses as before.
                let by = c.extended_m - (lengths_m(&travel.rows[60])[1] - 0.010);
                (c.extended_m, c.preload_m) = (c.extended_m - by, c.preload_m + by);
                c.extended_m
            }
        };
        let all = found(&setup);
        let (finding, fault) = all
            .iter()
            .find(|(_, f)| matches!(f, Fault::RunsOut { .. }))
            .unwrap_or_else(|| panic!("{all:?}"));
        let Fault::RunsOut {
            end: which,
            by_m,
            from_m,
            ..
        } = *fault
        else {
            panic!()
        };
        assert_eq!((which, finding.grade), (end, Grade::WontWork));
        near(by_m, 0.010, 1e-9);
        let length = |height_m: f64| {
            let row = rearend::travel::pose(&setup, &rear_end, &travel, height_m, 0.0).expect("reached");
            lengths_m(&row)[usize::from(end == End::Extended)]
        };
        let (mut low, mut high) = (setup.travel.laid_out_m, setup.travel.full_lift_m);
        for _ in 0..40 {
            let middle = f64::midpoint(low, high);
            if length(middle) < last {
                low = middle;
            } else {
                high = middle;
            }
        }
        // Straight between poses 2.3 mm apart: a micrometre or so.
        near(from_m.expect("level"), low, 5e-6);
        assert!(
            finding
                .sentence(&setup, Units::Sixteenths)
                .contains(if end == End::Collapsed {
                    "closed up"
                } else {
                    "pulled out"
                })
        );
        let (_, travel) = swept(&setup, 0.0);
        let ends = ends(&setup, &travel);
        assert_eq!(
            if end == End::Collapsed {
                ends.collapse_m
            } else {
                ends.extend_m
            },
            from_m
        );
        assert_eq!(
            if end == End::Collapsed {
                ends.extend_m
            } else {
                ends.collapse_m
            },
            None
        );
    }
}

#[test]
fn an_end_that_only_one_wheel_up_reaches_is_worth_a_look() {
    let mut setup = with_room(0.005);
    setup.travel.one_wheel_up_rad = 0.2;
    let all = found(&setup);
    assert!(!all.is_empty());
    for (finding, fault) in all {
        let Fault::RunsOut { from_m, roll_rad, .. } = fault else {
            panic!("{fault:?}")
        };
        assert_eq!((finding.grade, from_m), (Grade::Check, None));
        near(roll_rad.abs(), 0.2, 1e-9);
        assert!(
            finding
                .sentence(&setup, Units::Millimetres)
                .contains("one wheel up 11.5°")
        );
    }
}

#[test]
fn collars_off_their_place_say_where_the_truck_stands_and_how_far_to_turn() {
    let mut setup = suited();
    let right_m = coil(&mut setup).preload_m;
    coil(&mut setup).preload_m = right_m - 0.010;
    let (finding, fault, sentence) = only(&setup);
    assert_eq!(finding.grade, Grade::Check);
    let Fault::Stands {
        stand: Stand::At { height_m },
        preload_m,
    } = fault
    else {
        panic!("{fault:?}")
    };
    near(preload_m, right_m, 1e-9);
    assert!(height_m < setup.travel.ride_m, "it sinks");
    assert!(
        sentence.contains("below ride height") && sentence.contains("10.00 mm tighter"),
        "{sentence}"
    );
    // There the coils carry the truck: by the pose at that height.
    let (rear_end, travel) = swept(&setup, 0.0);
    let row = rearend::travel::pose(&setup, &rear_end, &travel, height_m, 0.0).expect("reached");
    near(carried_n(&row), 2.0 * 420.0 * 9.806_65, 0.1);
    coil(&mut setup).preload_m = right_m + 0.010;
    assert!(only(&setup).2.contains("10.00 mm back"));
}

#[test]
fn coils_that_cannot_hold_the_truck_at_ride_height_say_why() {
    let mut setup = suited();
    coil(&mut setup).rate_n_per_m = 120_000.0;
    coil(&mut setup).preload_m = 0.0;
    let all = found(&setup);
    let loose = all
        .iter()
        .find(|(_, f)| matches!(f, Fault::CoilLoose { .. }))
        .expect("too stiff");
    assert!(loose.0.sentence(&setup, Units::Millimetres).contains("hang loose"));
    let mut setup = suited();
    coil(&mut setup).rate_n_per_m = 9_000.0;
    let all = found(&setup);
    let faults: Vec<_> = all.iter().map(|(f, fault)| (f.grade, fault)).collect();
    assert!(
        faults
            .iter()
            .any(|(g, f)| *g == Grade::WontWork && matches!(f, Fault::CoilShort { left_m, .. } if *left_m <= 0.0)),
        "{faults:?}"
    );
    assert!(
        faults
            .iter()
            .any(|(_, f)| matches!(f, Fault::Stands { stand: Stand::Down, .. })),
        "{faults:?}"
    );
    assert!(
        faults
            .iter()
            .any(|(_, f)| matches!(f, Fault::Frequency { frequency_hz } if *frequency_hz < 1.0)),
        "{faults:?}"
    );
}

#[test]
fn a_bump_stop_is_held_against_laid_out_ride_and_the_springs() {
    let mut setup = suited();
    let t = setup.travel;
    springs(&mut setup).bump_stop_at_m = Some(t.laid_out_m - 0.005);
    assert!(matches!(only(&setup).1, Fault::Well(_)));
    springs(&mut setup).bump_stop_at_m = Some(t.laid_out_m + 0.020);
    let (finding, fault, sentence) = only(&setup);
    assert!(matches!(
        fault,
        Fault::BumpStop {
            trouble: BumpTrouble::AboveLaidOut,
            ..
        }
    ));
    assert!(
        finding.grade == Grade::Check && sentence.contains("20.0 mm above laid out"),
        "{sentence}"
    );
    springs(&mut setup).bump_stop_at_m = Some(t.ride_m);
    assert!(matches!(
        only(&setup).1,
        Fault::BumpStop {
            trouble: BumpTrouble::AtRide,
            ..
        }
    ));
    // Closed up 20 mm above laid out, met 10 mm above it.
    let (_, travel) = swept(&setup, 0.0);
    let row = travel.nearest(t.laid_out_m + 0.020).expect("poses");
    coil(&mut setup).collapsed_m = pose(row).left.length_m;
    springs(&mut setup).bump_stop_at_m = Some(t.laid_out_m + 0.010);
    let all = found(&setup);
    let late = |f: &Fault| {
        matches!(
            f,
            Fault::BumpStop {
                trouble: BumpTrouble::AfterSprings { .. },
                ..
            }
        )
    };
    assert!(
        all.iter().any(|(f, fault)| late(fault) && f.grade == Grade::WontWork),
        "{all:?}"
    );
    // Met before the springs are closed up: it keeps them from it.
    springs(&mut setup).bump_stop_at_m = Some(t.laid_out_m + 0.030);
    assert!(matches!(
        only(&setup).1,
        Fault::BumpStop {
            trouble: BumpTrouble::AboveLaidOut,
            ..
        }
    ));
}

#[test]
fn pressures_beyond_what_a_bag_takes_are_named() {
    let mut setup = on_bags(0);
    let fine = found(&setup);
    assert!(
        !fine.iter().any(|(_, f)| matches!(f, Fault::Pressure { .. })),
        "{fine:?}"
    );
    air(&mut setup).most_pa = 200e3;
    let all = found(&setup);
    let (finding, _) = all
        .iter()
        .find(|(_, f)| matches!(f, Fault::Pressure { .. }))
        .expect("too much");
    assert_eq!(finding.grade, Grade::WontWork);
    assert!(
        finding
            .sentence(&setup, Units::Sixteenths)
            .contains("more than the 29 psi")
    );
    let mut light = on_bags(0);
    springs(&mut light).corner_kg = 30.0;
    let all = found(&light);
    let (finding, _) = all
        .iter()
        .find(|(_, f)| matches!(f, Fault::Pressure { .. }))
        .expect("too little");
    assert_eq!(finding.grade, Grade::Check);
    assert!(finding.sentence(&light, Units::Millimetres).contains("under 70 kPa"));
}

#[test]
fn a_height_off_the_chart_is_named_and_nothing_is_made_up_there() {
    let mut setup = on_bags(0);
    let ride = |setup: &Setup| pose(&Row::at_ride(setup, &swept(setup, 0.0).0)).left;
    let length_m = ride(&setup).length_m;
    air(&mut setup).chart.retain(|p| p.height_m < length_m);
    let spring = ride(&setup);
    assert!(
        matches!(spring.reach, Reach::AboveChart { .. }) && spring.load.is_none(),
        "{spring:?}"
    );
    let all = found(&setup);
    let (finding, _) = all
        .iter()
        .find(|(_, f)| matches!(f, Fault::OffChart { .. }))
        .expect("off the chart");
    assert_eq!(finding.height_m, Some(setup.travel.ride_m));
    assert!(finding.sentence(&setup, Units::Millimetres).contains("chart ends at"));
}

#[test]
fn a_spring_that_stretches_as_the_wheel_rises_does_not_carry() {
    let mut setup = suited();
    springs(&mut setup).mount_in_frame = springs(&mut setup).holes_in_axle[0] - Vector3::z() * 0.3;
    let (finding, fault, sentence) = only(&setup);
    assert!(matches!(fault, Fault::CarriesNothing { motion_ratio } if motion_ratio < 0.0));
    assert!(
        finding.grade == Grade::WontWork && sentence.contains("longer"),
        "{sentence}"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    /// Whatever is described, numbers are numbers and sentences are sentences.
    #[test]
    fn nothing_that_can_be_described_makes_a_number_that_is_none(
        top in prop::array::uniform3(-1.0f64..1.0),
        hole in prop::array::uniform3(-1.0f64..1.0),
        bags in any::<bool>(),
        alike in any::<bool>(),
        small in prop::array::uniform4(1e-4f64..0.5),
        mass in 1.0f64..20_000.0,
        rate in 1e3f64..1e9,
    ) {
        let mut setup = if bags { on_bags(2) } else { on_coilovers(2) };
        let drawn = setup.drawn();
        let s = springs(&mut setup);
        (s.mount_in_frame, s.holes_in_axle[0], s.corner_kg) = (top.into(), hole.into(), mass);
        if alike {
            s.mount_in_frame = drawn.to_ground(s.holes_in_axle[0]);
        }
        s.bump_stop_at_m = Some(small[3]);
        match &mut s.kind {
            SpringKind::Coilover(c) => {
                (c.collapsed_m, c.extended_m, c.rate_n_per_m) = (small[0], small[0] + small[1], rate);
                (c.free_length_m, c.preload_m) = (small[2], small[2] * 0.5);
            }
            SpringKind::Air(a) => {
                a.chart.truncate(2);
                (a.shortest_m, a.longest_m, a.most_pa) = (small[0], small[0] + small[1], rate);
            }
        }
        let answers = Answers::of(&setup);
        let solved = answers.solved.as_ref().expect("it compiles");
        for row in solved.all_rows() {
            for side in pose(row).sides() {
                let load = side.load.map_or([0.0; 5], |l| {
                    [l.force_n, l.rate_n_per_m, l.wheel_rate_n_per_m, l.pressure_pa.unwrap_or(0.0), l.frequency_hz.unwrap_or(0.0)]
                });
                let motion = [side.length_m, side.motion_ratio, side.motion_ratio_per_m, side.motion_ratio_in_roll];
                prop_assert!(load.iter().chain(&motion).all(|v| v.is_finite()), "{side:?}");
                prop_assert!(side.reach == Reach::Within || side.load.is_none());
            }
        }
        let figures = rearend::springs::compare_holes(&setup, &solved.rear_end, &solved.level);
        prop_assert!(figures[0].motion_ratio.is_finite());
        for finding in &answers.findings {
            for units in Units::ALL {
                let sentence = finding.sentence(&setup, units);
                prop_assert!(!sentence.contains("NaN") && !sentence.contains("inf "), "{sentence}");
            }
        }
    }
}
