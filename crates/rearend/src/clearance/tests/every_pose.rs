//! The survey against a look at every pose, and the few poses against the survey.

use nalgebra::Point3;
use proptest::prelude::*;

use crate::answers::{Answers, Solved};
use crate::clearance::{Near, Survey, rough};
use crate::file;
use crate::layouts::Layout;
use crate::setup::{AirPoint, AirSpring, Body, Driveline, KeepClear, KeepClearShape, Setup, SpringKind, Springs};

fn demo() -> Setup {
    let text = include_str!("../../../../../demo-scenes/01-parallel-panhard.ron");
    file::read(text).unwrap_or_else(|e| panic!("the first demo reads: {e}"))
}

/// A truck with everything on it.
fn full(layout: Layout) -> Setup {
    let mut setup = layout.hang(&demo());
    setup.driveline = Some(Driveline {
        output: Point3::new(1.5, 0.0, 0.2),
        output_nose_up_rad: 0.05,
        output_left_rad: 0.0,
        carrier: None,
        tube_m: 0.076,
        slip_in_m: 0.05,
        slip_out_m: 0.05,
        phase_rad: 0.0,
        speed: None,
    });
    setup.springs = Some(Springs {
        kind: SpringKind::Air(AirSpring {
            bag_m: 0.16,
            shortest_m: 0.07,
            longest_m: 0.25,
            most_pa: 8e5,
            chart_pa: 7e5,
            chart: [(0.08, 7000.0, 0.001), (0.2, 5000.0, 0.003)]
                .map(|(height_m, load_n, volume_m3)| AirPoint {
                    height_m,
                    load_n,
                    volume_m3,
                })
                .to_vec(),
        }),
        mount_in_frame: Point3::new(0.12, 0.39, 0.34),
        holes_in_axle: vec![Point3::new(0.12, 0.39, 0.03)],
        hole: 0,
        corner_kg: 350.0,
        unsprung_corner_kg: None,
        tyre_n_per_m: None,
        bump_stop_at_m: None,
    });
    setup.body = Some(Body {
        lip_to_lip_m: 1.75,
        lips_left_m: 0.004,
        lip_z_m: 0.45,
        opening_m: 0.8,
        opening_x_m: 0.0,
        tub_to_tub_m: Some(1.1),
        bed_floor_z_m: Some(0.42),
        lip_gap_m: 0.0127,
        inner_gap_m: 0.0254,
    });
    setup.keep_clear = vec![exhaust(-0.25), tank()];
    setup
}

fn exhaust(y: f64) -> KeepClear {
    let along = [
        (1.2, 0.1),
        (0.35, 0.12),
        (0.1, 0.36),
        (-0.1, 0.36),
        (-0.4, 0.2),
        (-0.9, 0.15),
    ];
    KeepClear {
        name: "exhaust".to_owned(),
        shape: KeepClearShape::Tube {
            along: along.map(|(x, z)| Point3::new(x, y, z)).to_vec(),
            tube_m: 0.0635,
        },
    }
}

fn tank() -> KeepClear {
    KeepClear {
        name: "tank".to_owned(),
        shape: KeepClearShape::Box {
            from: Point3::new(-0.85, -0.3, 0.05),
            to: Point3::new(-0.42, 0.3, 0.3),
        },
    }
}

fn solved(setup: &Setup) -> Solved {
    Answers::of(setup).solved.unwrap_or_else(|e| panic!("it compiles: {e}"))
}

fn finished(setup: &Setup, solved: &Solved) -> Survey {
    let mut survey = Survey::new(setup, solved);
    while !survey.step(5).is_finished() {}
    survey
}

fn same(a: &Near, b: &Near) -> bool {
    a.a == b.a && a.b == b.b && (a.gap_m - b.gap_m).abs() < 2e-6
}

#[test]
fn a_survey_finds_what_every_pose_would() {
    for layout in Layout::ALL {
        let setup = full(layout);
        let survey = finished(&setup, &solved(&setup));
        let every = survey.brute_force();
        assert_eq!(every.len(), survey.unsorted().len());
        for (found, brute) in survey.unsorted().iter().zip(&every) {
            assert!(same(found, brute), "{layout:?}: {found:?} {brute:?}");
        }
    }
}

#[test]
fn a_few_poses_say_no_less_room_than_all_and_see_what_touches_there() {
    for layout in Layout::ALL {
        let setup = full(layout);
        let solved = solved(&setup);
        let all = finished(&setup, &solved).result();
        let few = rough(&setup, &solved);
        assert!(!few.is_empty());
        for near in &few {
            let full = all.iter().find(|n| n.a == near.a && n.b == near.b);
            assert!(
                full.is_some_and(|f| f.gap_m <= near.gap_m + 2e-6),
                "{layout:?}: {near:?} {full:?}"
            );
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn any_setup_is_surveyed_like_every_pose_of_it(
        layout in prop::sample::select(Layout::ALL.to_vec()),
        y in -0.5..0.5,
        lift in -0.1..0.2,
        roll in 0.0..6.0_f64,
        tube in 0.01..0.3,
    ) {
        let mut setup = full(layout);
        setup.travel.one_wheel_up_rad = roll.to_radians();
        setup.keep_clear.push(exhaust(y));
        if let Some(KeepClearShape::Tube { along, tube_m }) = setup.keep_clear.last_mut().map(|k| &mut k.shape) {
            for p in along.iter_mut() {
                p.z += lift;
            }
            *tube_m = tube;
        }
        let Ok(solved) = Answers::of(&setup).solved else { return Ok(()) };
        let survey = finished(&setup, &solved);
        for (found, brute) in survey.unsorted().iter().zip(&survey.brute_force()) {
            prop_assert!(same(found, brute), "{found:?} {brute:?}");
            prop_assert!(found.gap_m.is_finite() && found.points.iter().all(|p| p.coords.iter().all(|c| c.is_finite())));
        }
    }
}
