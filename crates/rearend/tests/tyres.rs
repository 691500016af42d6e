//! Tyres and ground on a whole truck: rooms through the travel, and what is found.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

use rearend::answers::{Answers, Solved};
use rearend::findings::{Finding, Grade, Kind};
use rearend::ground::{Fault as GroundFault, Low};
use rearend::setup::{Body, Front, FrontHeights, Setup};
use rearend::tape::Units;
use rearend::travel::Row;
use rearend::tyres::{AxleWidth, Fault, Hand, Place, tightest};
use support::{PANHARD, demo};

/// The first demo truck with a body whose lips leave `gap_m` at ride height, level.
fn truck(gap_m: f64) -> Setup {
    let mut setup = demo(0);
    setup.body = None;
    let faces_m = setup.track_m() + setup.wheels.tyre_width_m;
    setup.body = Some(Body {
        lip_to_lip_m: faces_m + 2.0 * gap_m,
        lips_left_m: 0.0,
        lip_z_m: 0.25,
        opening_m: 0.8,
        opening_x_m: 0.0,
        tub_to_tub_m: None,
        bed_floor_z_m: None,
        lip_gap_m: 0.0127,
        inner_gap_m: 0.0254,
    });
    setup
}

fn body(setup: &mut Setup) -> &mut Body {
    setup.body.as_mut().expect("the truck has a body")
}

fn solved(setup: &Setup) -> Solved {
    Answers::of(setup).solved.expect("it compiles")
}

fn tyre_findings(setup: &Setup) -> Vec<(Grade, Fault, String)> {
    let told = |f: &Finding| match &f.kind {
        Kind::Tyre(fault) => Some((f.grade, fault.clone(), f.sentence(setup, Units::Millimetres))),
        _ => None,
    };
    Answers::of(setup).findings.iter().filter_map(told).collect()
}

fn ground_findings(setup: &Setup) -> Vec<(Grade, GroundFault, String)> {
    let told = |f: &Finding| match &f.kind {
        Kind::Ground(fault) => Some((f.grade, fault.clone(), f.sentence(setup, Units::Millimetres))),
        _ => None,
    };
    Answers::of(setup).findings.iter().filter_map(told).collect()
}

/// Level and straight, a flat sidewall stands off its lip by half the difference of the widths, less what the axle shifts.
#[test]
fn both_wheels_level_the_room_is_that_of_the_tape_less_the_shift() {
    let setup = truck(0.05);
    let solved = solved(&setup);
    for row in &solved.level.rows {
        let gaps = row.tyres.expect("the rails are described");
        // The lip lies on the flat of the sidewall, more than a shoulder below the tyre's top.
        let is_flat = row.at.origin_in_ground.z + setup.wheels.tyre_m / 2.0 - 0.2 * setup.wheels.tyre_width_m > 0.25;
        let steer = row.steer_rad.abs() * setup.wheels.tyre_m;
        for (side, shift_m) in [(Hand::Left, row.shift_m), (Hand::Right, -row.shift_m)] {
            let lip_m = gaps.side(side).lip_m.expect("the tyre is tucked");
            if is_flat {
                assert!((lip_m - (0.05 - shift_m)).abs() < steer + 1e-9, "{lip_m} {shift_m}");
            }
            let inside_m = (setup.track_m() - setup.wheels.tyre_width_m - setup.rails.spacing_m) / 2.0 + shift_m;
            let rail_m = gaps.side(side).rail_m.expect("there is a rail");
            assert!((rail_m - inside_m).abs() < steer + 1e-9, "{rail_m} {inside_m}");
        }
    }
}

#[test]
fn the_tightest_place_is_that_of_the_row_with_the_least_room() {
    let setup = truck(0.02);
    let solved = solved(&setup);
    let lip = |row: &Row| row.tyres.and_then(|t| t.left.lip_m);
    let least = solved.all_rows().filter_map(lip).fold(f64::INFINITY, f64::min);
    let tight = tightest(&setup, solved.all_rows(), Place::Lip, Hand::Left).expect("the tyre is tucked");
    assert_eq!(tight.room_m.to_bits(), least.to_bits());
    let there = solved
        .all_rows()
        .find(|r| r.height_m == tight.height_m && r.roll_rad == tight.roll_rad);
    assert_eq!(there.and_then(lip), Some(least));
}

#[test]
fn a_body_mirrored_on_a_mirrored_truck_swaps_the_sides() {
    let mut left = truck(0.03);
    body(&mut left).lips_left_m = 0.012;
    let mut right = left.clone();
    body(&mut right).lips_left_m = -0.012;
    let across = &mut right.bars[PANHARD];
    across.mount_in_frame.y = -across.mount_in_frame.y;
    across.mount_in_axle.y = -across.mount_in_axle.y;
    let (a, b) = (solved(&left), solved(&right));
    for (a, b) in a.level.rows.iter().zip(&b.level.rows) {
        let (a, b) = (a.tyres.expect("told"), b.tyres.expect("told"));
        let same = |a: Option<f64>, b: Option<f64>| a.zip(b).is_some_and(|(a, b)| (a - b).abs() < 1e-9);
        assert!(same(a.left.lip_m, b.right.lip_m) && same(a.right.rail_m, b.left.rail_m));
    }
}

#[test]
fn enough_room_is_fine_and_none_will_not_work() {
    let fine = tyre_findings(&truck(0.06));
    assert_eq!(fine.len(), 1, "{fine:?}");
    assert!(
        fine[0].0 == Grade::Fine && fine[0].2.starts_with("The tyres keep clear"),
        "{fine:?}"
    );

    let touching = tyre_findings(&truck(0.0));
    let (grade, _, text) = &touching[0];
    assert!(
        *grade == Grade::WontWork && text.contains("mm into the fender lip at full lift"),
        "{text}"
    );

    let tight = tyre_findings(&truck(0.026));
    assert!(tight.iter().all(|f| f.0 == Grade::Check), "{tight:?}");
    assert!(tight[0].2.contains("12.7 mm is wanted"), "{tight:?}");
}

/// What is offered is built, and found to fit.
#[test]
fn the_axle_cut_as_told_has_the_room_wanted() {
    for gap_m in [0.0, 0.02] {
        let mut setup = truck(gap_m);
        let found = tyre_findings(&setup);
        let fit = found.iter().find_map(|f| match &f.1 {
            Fault::Fit(fit) => Some((*fit, f.2.clone())),
            _ => None,
        });
        let (fit, text) = fit.expect("an axle is offered");
        assert!(
            text.starts_with("Cutting") && text.contains("face to face instead of 1524.0 mm"),
            "{text}"
        );
        let middle_m = f64::midpoint(fit.left.flange_m, -fit.right.flange_m);
        setup.axle.flange_to_flange_m = fit.flange_to_flange_m();
        assert!(middle_m.abs() < 0.01, "the sides differ by what the panhard bar shifts");
        let body = body(&mut setup);
        body.lips_left_m -= middle_m;
        body.lip_gap_m -= 1e-4;
        let again = tyre_findings(&setup);
        assert!(again.iter().all(|f| f.0 == Grade::Fine), "{again:?}");
    }
}

#[test]
fn a_tyre_without_room_on_either_face_is_too_wide() {
    let mut setup = truck(0.0);
    body(&mut setup).tub_to_tub_m = Some(1.3);
    let found = tyre_findings(&setup);
    assert!(
        found.iter().any(|f| f.2.starts_with("No width of axle gives")),
        "{found:?}"
    );
    assert!(found.iter().any(|f| f.2.contains("into the wheel tub")), "{found:?}");
}

#[test]
fn openings_and_floors_are_looked_at() {
    let mut setup = truck(0.06);
    body(&mut setup).opening_m = 0.66;
    let found = tyre_findings(&setup);
    assert!(
        found
            .iter()
            .any(|f| matches!(f.1, Fault::Opening { over_m } if over_m > 0.003)),
        "{found:?}"
    );
    body(&mut setup).opening_m = 0.8;
    body(&mut setup).bed_floor_z_m = Some(0.3);
    let found = tyre_findings(&setup);
    assert!(
        found
            .iter()
            .any(|f| f.0 == Grade::Check && f.2.contains("wheel tub into it")),
        "{found:?}"
    );
    // Between tubs the floor is none of the tyre's.
    body(&mut setup).tub_to_tub_m = Some(1.0);
    assert!(tyre_findings(&setup).iter().all(|f| f.0 == Grade::Fine));
}

#[test]
fn without_a_body_only_a_rail_too_near_is_told() {
    let mut setup = demo(0);
    setup.body = None;
    assert!(tyre_findings(&setup).is_empty());
    assert_eq!(AxleWidth::described(&setup), None);
    setup.wheels.backspacing_m = 0.3;
    let found = tyre_findings(&setup);
    assert!(
        found[0].2.contains("tyre and the rail") || found[0].2.contains("into the rail"),
        "{found:?}"
    );
}

/// Odd bodies give no answer that is not a number.
#[test]
fn every_room_is_a_number() {
    let odd = [(0.5, 20.0, 0.01), (19.0, -20.0, 19.0), (1.7, 0.2, 0.8)];
    for (lip_to_lip_m, lip_z_m, opening_m) in odd {
        let mut setup = truck(0.0);
        *body(&mut setup) = Body {
            lip_to_lip_m,
            lip_z_m,
            opening_m,
            bed_floor_z_m: Some(-lip_z_m),
            ..body(&mut setup).clone()
        };
        for wide in [0.01, 2.0] {
            setup.wheels.tyre_width_m = wide;
            let Ok(solved) = Answers::of(&setup).solved else {
                continue;
            };
            for gaps in solved.all_rows().filter_map(|r| r.tyres) {
                for side in Hand::BOTH {
                    let rooms = Place::ALL.into_iter().filter_map(|p| p.room_m(gaps.side(side)));
                    assert!(rooms.into_iter().all(f64::is_finite));
                }
            }
            tyre_findings(&setup);
        }
    }
}

#[test]
fn a_truck_laid_on_its_rails_is_told_what_comes_next() {
    let mut setup = demo(0);
    let found = ground_findings(&setup);
    assert!(
        found[0].0 == Grade::Fine && found[0].2.starts_with("Laid out, nothing touches"),
        "{found:?}"
    );
    setup.travel.laid_out_m = 0.0;
    let found = ground_findings(&setup);
    assert!(
        found[0]
            .2
            .starts_with("Laid out, the truck rests on the rails' underside; next, "),
        "{found:?}"
    );
}

#[test]
fn a_nose_in_the_ground_is_told_where_it_rests() {
    let mut setup = demo(0);
    setup.travel.front = Front::Heights(FrontHeights {
        wheelbase_m: 2.95,
        laid_out_m: -0.03,
        ride_m: 0.10,
        full_lift_m: 0.25,
    });
    let found = ground_findings(&setup);
    let (grade, fault, text) = &found[0];
    assert_eq!(*grade, Grade::Check);
    assert!(matches!(fault, GroundFault::InGround { lowest, .. } if matches!(lowest.what, Low::Rails(_))));
    // Where the front's height is nothing: 90 + 60 x 30 / 130 mm.
    assert!(
        text.contains("30.0 mm in the ground: the frame comes to rest with the rails 103.8 mm off the ground"),
        "{text}"
    );
}

#[test]
fn an_axle_mount_under_the_road_will_not_work() {
    let mut setup = demo(0);
    setup.bars[0].mount_in_axle.z = -0.34;
    let found = ground_findings(&setup);
    assert!(
        found
            .iter()
            .any(|f| f.0 == Grade::WontWork && f.2.contains("at the axle would be")),
        "{found:?}"
    );
    setup.bars[0].mount_in_axle.z = -0.24;
    let found = ground_findings(&setup);
    assert!(
        found
            .iter()
            .any(|f| f.0 == Grade::Check && f.2.contains("below the scrub line")),
        "{found:?}"
    );
}
