//! Anti-squat by virtual work against the drawn one: the line from the contact patch to the side-view instant centre, where the lines of the
//! bars, seen from the side, meet. An arm turns about its eye. Source of the method: classical side view, loop closure of its four-bar.

use nalgebra::{Point3, Vector2, Vector3};
use rearend::first_order::InstantCentre;
use rearend::layouts::Layout;
use rearend::mechanism::{Part, RearEnd};
use rearend::setup::{ArmId, Balance, BarId, Front, FrontHeights, Role, Setup, Side};
use rearend::travel::{POSES, Row, Travel};

use crate::near;
use crate::support::demo;

const BALANCE: Balance = Balance {
    wheelbase_m: 3.1,
    cg_height_m: 0.68,
    rear_braking: 0.35,
};

/// Poses are solved to 1e-11 m over bars of half a metre; slopes of lines between them take ten times that.
const DRAWN: f64 = 1e-9;

/// A point of the side view, (x, z, weight): of weight zero where it is infinitely far.
type Projective = Vector3<f64>;

fn flat(p: Point3<f64>) -> Projective {
    Vector3::new(p.x, p.z, 1.0)
}

/// The line of a bar, or of a symmetric pair, in the side view.
fn line(setup: &Setup, rear_end: &RearEnd, row: &Row, role: Role) -> Option<Projective> {
    let bar = setup.bars.iter().position(|b| b.role == role)?;
    let part = Part::Bar(BarId(bar), Side::Drawn);
    let [frame, axle] = rear_end.ends_in_frame(setup, part, &row.at)?;
    Some(flat(frame).cross(&flat(axle)))
}

fn drawn_centre(setup: &Setup, rear_end: &RearEnd, row: &Row) -> Projective {
    if let Some(arm) = setup.arm(ArmId(0)) {
        return flat(arm.eye_in_frame);
    }
    let [upper, lower] = [Role::Upper, Role::Lower].map(|role| line(setup, rear_end, row, role));
    upper.expect("a bar above").cross(&lower.expect("a bar below"))
}

/// Front over rear on straight lines between the heights given, over the wheelbase.
fn rake_rad(setup: &Setup, height_m: f64) -> f64 {
    let Front::Heights(front) = setup.travel.front else {
        return 0.0;
    };
    let rear = [setup.travel.laid_out_m, setup.travel.ride_m, setup.travel.full_lift_m];
    let front_m = [front.laid_out_m, front.ride_m, front.full_lift_m];
    let i = usize::from(height_m > rear[1]);
    let part = (height_m - rear[i]) / (rear[i + 1] - rear[i]);
    let there_m = front_m[i] * (1.0 - part) + front_m[i + 1] * part;
    f64::atan((there_m - height_m) / front.wheelbase_m)
}

/// Rise over run, against the ground, from the patch below the axle centre to the instant centre.
fn drawn_slope(setup: &Setup, row: &Row, centre: Projective) -> f64 {
    let (sin, cos) = rake_rad(setup, row.height_m).sin_cos();
    let (forward, up) = (Vector2::new(cos, -sin), Vector2::new(sin, cos));
    let axle = row.at.origin_in_ground;
    let patch = Vector2::new(axle.x, axle.z) - up * setup.wheels.loaded_radius_m;
    let to_centre = centre.xy() - patch * centre.z;
    to_centre.dot(&up) / to_centre.dot(&forward)
}

fn centre_is(found: InstantCentre, drawn: Projective) {
    match found {
        InstantCentre::At { x_m, z_m } => {
            let expected = drawn.xy() / drawn.z;
            let away = (Vector2::new(x_m, z_m) - expected).norm();
            // How far along a flat crossing the centre lies is known as well as the crossing's angle, which goes with its square.
            let allowed = DRAWN * (1.0 + expected.norm_squared());
            assert!(away <= allowed, "({x_m}, {z_m}) instead of {expected:?}");
        }
        InstantCentre::AtInfinity { direction } => {
            near(drawn.z / drawn.xy().norm(), 0.0, 1e-3);
            let expected = drawn.xy().normalize();
            near(direction.perp(&expected), 0.0, 1e-3);
            assert!(direction.x > 0.0, "taken forward");
        }
    }
}

fn row_is_as_drawn(setup: &Setup, rear_end: &RearEnd, row: &Row) {
    let centre = drawn_centre(setup, rear_end, row);
    let slope = drawn_slope(setup, row, centre);
    near(row.first.patch_slope, slope, DRAWN);
    let on_weight = slope * BALANCE.wheelbase_m / BALANCE.cg_height_m;
    near(
        row.first.anti_squat.expect("a balance is given"),
        on_weight,
        5.0 * DRAWN,
    );
    near(
        row.first.anti_lift.expect("a balance is given"),
        on_weight * BALANCE.rear_braking,
        5.0 * DRAWN,
    );
    centre_is(row.first.instant_centre, centre);
}

/// A truck hung one way, with a balance, and with the rake wanted: none, nose up or nose down by a few degrees.
fn hung(layout: Layout, truck: usize, front_m: Option<[f64; 3]>) -> Setup {
    let mut setup = demo(truck);
    setup.balance = Some(BALANCE);
    if let Some([laid_out_m, ride_m, full_lift_m]) = front_m {
        setup.travel.front = Front::Heights(FrontHeights {
            wheelbase_m: BALANCE.wheelbase_m,
            laid_out_m,
            ride_m,
            full_lift_m,
        });
    }
    layout.hang(&setup)
}

const FRONTS: [Option<[f64; 3]>; 3] = [None, Some([0.1, 0.33, 0.35]), Some([0.0, 0.02, 0.4])];

/// Layouts that are symmetric as they are.
const SYMMETRIC: [Layout; 4] = [
    Layout::UppersTriangulated,
    Layout::LowersTriangulated,
    Layout::BothTriangulated,
    Layout::Wishbone,
];

/// Whatever holds the axle sideways taken away: what is left is symmetric, or all its bars run straight ahead, and nothing pushes the axle
/// sideways while it rises.
fn without_locator(mut setup: Setup) -> Setup {
    setup.bars.retain(|b| b.role != Role::Sideways);
    setup.watt = None;
    setup
}

fn whole_travel_is_as_drawn(setup: &Setup) {
    let rear_end = RearEnd::compile(setup).expect("a layout compiles");
    let travel = Travel::sweep(setup, &rear_end, 0.0, POSES);
    assert_eq!(travel.rows.len(), POSES);
    for row in &travel.rows {
        row_is_as_drawn(setup, &rear_end, row);
    }
    let slopes = travel.rows.iter().map(|r| r.first.patch_slope);
    let (least, most) = slopes.fold((f64::MAX, f64::MIN), |(a, b), s| (a.min(s), b.max(s)));
    assert!(most - least > 0.01, "it changes through the travel");
}

#[test]
fn anti_squat_of_symmetric_layouts_is_the_line_to_the_instant_centre_at_every_height() {
    for layout in SYMMETRIC {
        for truck in 0..3 {
            for front in FRONTS {
                whole_travel_is_as_drawn(&hung(layout, truck, front));
            }
        }
    }
}

#[test]
fn anti_squat_of_the_others_is_the_same_line_with_their_locator_taken_away() {
    for layout in Layout::ALL.into_iter().filter(|l| !SYMMETRIC.contains(l)) {
        for truck in 0..3 {
            for front in FRONTS {
                whole_travel_is_as_drawn(&without_locator(hung(layout, truck, front)));
            }
        }
    }
}

/// At ride height bars that run straight ahead let the axle go sideways without pulling, so that the locator changes nothing there.
#[test]
fn a_locator_beside_straight_bars_leaves_anti_squat_at_ride_height_as_it_is() {
    for layout in Layout::ALL {
        for truck in 0..3 {
            for front in FRONTS {
                let setup = hung(layout, truck, front);
                if setup.arms.is_empty() {
                    let rear_end = RearEnd::compile(&setup).expect("a layout compiles");
                    row_is_as_drawn(&setup, &rear_end, &Row::at_ride(&setup, &rear_end));
                }
            }
        }
    }
}

#[test]
fn without_a_balance_there_is_a_slope_but_no_anti_squat() {
    let mut setup = hung(Layout::Wishbone, 0, None);
    setup.balance = None;
    let rear_end = RearEnd::compile(&setup).expect("a layout compiles");
    let first = Row::at_ride(&setup, &rear_end).first;
    assert_eq!((first.anti_squat, first.anti_lift), (None, None));
    assert!(first.patch_slope.abs() > 1e-3);
}
