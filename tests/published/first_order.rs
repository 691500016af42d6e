//! First-order answers: textbook checks of roll steer, anti-squat and anti-lift, and the thread of an adjuster.

use linkage::ClosureId;
use nalgebra::{Point3, Vector3};
use rearend::answers::Answers;
use rearend::findings::Kind;
use rearend::first_order::FirstOrder;
use rearend::mechanism::{Part, RearEnd};
use rearend::setup::{AsBuilt, Balance, BarId, Length, Role, Setup, Side};
use rearend::tape::Units;
use rearend::travel::{Travel, pose};

use crate::{demo, near};

/// A bar by its ends, frame first.
type Ends = [[f64; 3]; 2];

/// The three-link of the first check: lower bars, an upper one on the centre plane, and a panhard bar across the axle line. Points in metres
/// from the axle centre at ride height.
fn three_link(lower: Ends, upper: Ends, panhard: Ends) -> Setup {
    let mut setup = demo(0);
    let up = Vector3::z() * setup.axle_z_m(setup.travel.ride_m);
    let ends = [(lower, true), (upper, false), (panhard, false)];
    for (bar, ([frame, axle], mirrored)) in setup.bars.iter_mut().zip(ends) {
        bar.mount_in_frame = Point3::from(frame) + up;
        bar.mount_in_axle = Point3::from(axle);
        bar.mirrored = mirrored;
    }
    setup
}

const UPPER: Ends = [[0.55, 0.0, 0.13], [0.0, 0.0, 0.16]];

/// Lower bars: straight or converging in plan, rising or falling to the front; and a panhard bar, level or not, behind the axle.
const TEXTBOOK: [(Ends, Ends); 6] = [
    (
        [[0.65, 0.40, -0.020], [0.0, 0.40, -0.095]],
        [[-0.2, 0.4, 0.05], [-0.2, -0.4, 0.05]],
    ),
    (
        [[0.65, 0.40, -0.170], [0.0, 0.40, -0.095]],
        [[-0.2, 0.4, 0.05], [-0.2, -0.4, 0.05]],
    ),
    (
        [[0.65, 0.20, -0.060], [0.0, 0.45, -0.095]],
        [[-0.2, 0.4, 0.10], [-0.2, -0.4, 0.02]],
    ),
    (
        [[0.60, 0.30, -0.120], [0.0, 0.45, -0.090]],
        [[-0.1, 0.5, 0.02], [-0.1, 0.1, 0.08]],
    ),
    (
        [[0.60, 0.10, 0.050], [0.0, 0.48, -0.080]],
        [[-0.25, -0.4, 0.0], [-0.25, 0.35, 0.05]],
    ),
    (
        [[0.70, 0.45, -0.100], [0.0, 0.35, -0.060]],
        [[-0.2, 0.4, 0.05], [-0.2, -0.4, 0.05]],
    ),
];

/// Slope of the roll axis, rise to the front: through the point of the centre plane where the lines of the lower bars meet, and that where the
/// panhard bar crosses it. Bars that run straight ahead meet infinitely far, and the axis is as steep as they are.
fn roll_axis_slope([frame, axle]: Ends, [p0, p1]: Ends) -> f64 {
    if frame[1] == axle[1] {
        return (frame[2] - axle[2]) / (frame[0] - axle[0]);
    }
    let on_centre = |a: [f64; 3], b: [f64; 3]| {
        let part = a[1] / (a[1] - b[1]);
        [a[0] + (b[0] - a[0]) * part, a[2] + (b[2] - a[2]) * part]
    };
    let (meeting, crossing) = (on_centre(axle, frame), on_centre(p0, p1));
    (meeting[1] - crossing[1]) / (meeting[0] - crossing[0])
}

/// Source: Olley, in Milliken & Milliken, *Chassis Design*: at the rear, a roll axis up toward the front is roll oversteer.
///
/// In a left-hand bend the body leans to the right, so that its left side rises over the axle: against the body the axle rolls right side up,
/// which is minus. Oversteer is a rear axle that heads out of the bend, to the right, which is minus too: plus over plus is oversteer.
#[test]
fn a_roll_axis_up_toward_the_front_is_roll_oversteer() {
    let mut senses = [0, 0];
    for (lower, panhard) in TEXTBOOK {
        let setup = three_link(lower, UPPER, panhard);
        let rear_end = RearEnd::compile(&setup).expect("compiles");
        let slope = roll_axis_slope(lower, panhard);
        near(
            FirstOrder::at(&setup, &rear_end, &rear_end.ride).roll_steer,
            slope,
            1e-10,
        );
        let up_toward_the_front = slope > 0.0;
        senses[usize::from(up_toward_the_front)] += 1;
        // A left-hand bend, as a pose and not as a rate.
        let ride = Travel::sweep(&setup, &rear_end, 0.0, 3);
        let leant = pose(&setup, &rear_end, &ride, setup.travel.ride_m, -0.02).expect("it leans");
        let heads_out_of_the_bend = leant.steer_rad < 0.0;
        assert_eq!(heads_out_of_the_bend, up_toward_the_front, "slope {slope}");
        let said = Answers::of(&setup).findings;
        let steer = said.iter().find(|f| matches!(f.kind, Kind::RollSteer { .. }));
        let sentence = steer.expect("it is said").sentence(&setup, Units::Millimetres);
        let word = if up_toward_the_front { "oversteer" } else { "understeer" };
        assert!(sentence.contains(&format!("towards {word}")), "{sentence}");
    }
    assert!(senses[0] >= 2 && senses[1] >= 2, "both senses: {senses:?}");
}

/// Wheelbase of four centre of gravity heights.
const BALANCE: Balance = Balance {
    wheelbase_m: 3.0,
    cg_height_m: 0.75,
    rear_braking: 0.3,
};

/// A three-link whose bars, seen from the side, all point at the place `ahead` of the contact patch and `above` the ground; without anything
/// across.
fn pointing_at(ahead: f64, above: f64) -> Setup {
    let from_axle = Vector3::new(ahead, 0.0, above - demo(0).wheels.loaded_radius_m);
    let toward = |y: f64, z: f64, length: f64| {
        let way = from_axle - Vector3::z() * z;
        let frame = Vector3::z() * z + way * (length / ahead);
        [[frame.x, y, frame.z], [0.0, y, z]]
    };
    let panhard = [[-0.2, 0.4, 0.05], [-0.2, -0.4, 0.05]];
    let mut setup = three_link(toward(0.45, -0.09, 0.6), toward(0.0, 0.15, 0.5), panhard);
    setup.balance = Some(BALANCE);
    setup
}

fn anti(setup: &Setup) -> (f64, f64) {
    let rear_end = RearEnd::compile(setup).expect("compiles");
    let first = FirstOrder::at(setup, &rear_end, &rear_end.ride);
    let given = "a balance is given";
    (first.anti_squat.expect(given), first.anti_lift.expect(given))
}

/// Source: Barton & Fieldhouse, *Automotive Chassis Engineering*, 2018, eq. 3.63-3.69: e/d over h/l, all of it where e/d = h/l = 0.25; under
/// braking by the rear wheels' share of it.
#[test]
fn anti_squat_is_whole_where_the_instant_centre_lies_on_the_line_to_the_weight() {
    let cases = [
        (2.0, 0.5, 1.0),
        (1.2, 0.3, 1.0),
        (4.0, 1.0, 1.0),
        (2.0, 0.25, 0.5),
        (1.5, 0.75, 2.0),
        (2.0, 0.0, 0.0),
        (3.0, -0.3, -0.4),
        // Behind the axle: the line still rises to the front where it lies below ground.
        (-1.5, -0.375, 1.0),
    ];
    for (d, e, whole) in cases {
        let (squat, lift) = anti(&pointing_at(d, e));
        near(squat, whole, 1e-10);
        near(lift, whole * 0.3, 1e-10);
    }
}

/// Source: thread definition, sixteen threads an inch, left and right hand: an eighth of an inch a turn.
#[test]
fn one_turn_of_an_adjuster_makes_the_compiled_bar_an_eighth_of_an_inch_longer() {
    for mirrored in [false, true] {
        let mut setup = demo(0);
        if !mirrored {
            // The pair taken apart, so that one of them alone is turned.
            let mut other = setup.bars[0].clone();
            setup.bars[0].mirrored = false;
            other.mirrored = false;
            (other.mount_in_frame.y, other.mount_in_axle.y) = (-other.mount_in_frame.y, -other.mount_in_axle.y);
            setup.bars.push(other);
        }
        let part = |side| Part::Bar(BarId(0), side);
        let length = |setup: &Setup, part| {
            let rear_end = RearEnd::compile(setup).expect("compiles");
            rear_end.length_m(part)
        };
        let before = length(&setup, part(Side::Drawn)).expect("the bar is there");
        let all = |setup: &Setup| {
            let rear_end = RearEnd::compile(setup).expect("compiles");
            rear_end.lengths_m().map(|(_, m)| m).sum::<f64>()
        };
        let all_before = all(&setup);
        for turns in [1.0, -1.0, 0.5, 3.0] {
            let mut bar = AsBuilt::of_length(before);
            bar.turns = turns;
            setup.bars[0].length = Length::AsBuilt(bar);
            let longer = turns * 0.125 * 0.0254;
            near(
                length(&setup, part(Side::Drawn)).expect("it is there") - before,
                longer,
                1e-15,
            );
            let twin = length(&setup, part(Side::Mirrored));
            assert_eq!(twin.is_some(), mirrored);
            let count = if mirrored { 2.0 } else { 1.0 };
            near(all(&setup) - all_before, count * longer, 1e-14);
            // Eye to eye as the axle then stands, less what the bars give to each other.
            let rear_end = RearEnd::compile(&setup).expect("compiles");
            let link = rear_end.link(part(Side::Drawn)).expect("it is there");
            let [a, b] = rear_end.mechanism.ends_in_ground(link, &rear_end.ride);
            let strains = rear_end.mechanism.strains(&rear_end.ride);
            let given = strains.filter(|s| s.closure == ClosureId::Link(link)).map(|s| s.gap_m);
            near((b - a).norm() - given.sum::<f64>(), before + longer, 1e-12);
        }
        assert_eq!(setup.bars[0].role, Role::Lower);
    }
}
