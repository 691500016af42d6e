//! How far joints lean, against vectors worked out by hand.

use nalgebra::{Point3, Vector3};
use rearend::answers::{Answers, Solved};
use rearend::mechanism::Part;
use rearend::setup::{BarEnd, BarId, Bolt, Carrier, Ends, Joint, JointKind, Length, Role, Setup, Side, Stance, Watt};
use rearend::swing::Swing;

use crate::drawings::{add, add_pair, axle_z_m, bare};
use crate::near;
use crate::support::{PANHARD, demo};

/// Poses are solved to 1e-11 m over bars of half a metre.
const SOLVED: f64 = 1e-9;

fn solved(setup: &Setup) -> Solved {
    Answers::of(setup).solved.expect("it compiles")
}

fn of(solved: &Solved, bar: usize, end: BarEnd) -> Swing {
    let part = Part::Bar(BarId(bar), Side::Drawn);
    let found = solved.swings.iter().find(|s| (s.part, s.end) == (part, end));
    *found.expect("the joint is there")
}

/// Joints of a kind at both ends, the bolts as given: frame end first.
fn bolted(setup: &mut Setup, bar: usize, kind: JointKind, bolts: [Bolt; 2]) {
    let [frame, axle] = bolts.map(|bolt| Joint {
        bolt,
        ..Joint::of(kind)
    });
    (setup.bars[bar].frame_joint, setup.bars[bar].axle_joint) = (Some(frame), Some(axle));
}

const LONG_M: f64 = 0.6;

/// Four equal bars, level at ride height or falling to the front, that only ride; a bar across would push them aside, so there is none.
fn riding(fall: f64, kind: JointKind, bolt: Bolt) -> Setup {
    let mut setup = bare();
    setup.travel.one_wheel_up_rad = 0.0;
    for (name, z) in [("lower bar", -0.08), ("upper bar", 0.08)] {
        add_pair(&mut setup, name, Role::Lower, [LONG_M, 0.45, z - fall], [0.0, 0.45, z]);
    }
    for bar in [0, 1] {
        bolted(&mut setup, bar, kind, [bolt; 2]);
    }
    setup
}

const ENDS: [BarEnd; 2] = [BarEnd::Frame, BarEnd::Axle];

/// The axle's rise from ride height laid out, and its fall at full lift.
fn rises(setup: &Setup) -> [f64; 2] {
    let travel = &setup.travel;
    [travel.ride_m - travel.laid_out_m, travel.ride_m - travel.full_lift_m]
}

#[test]
fn a_bar_that_rises_square_to_its_bolt_turns_about_it_and_leans_nowhere() {
    for kind in JointKind::ALL {
        for (fall, bolt) in [(0.0, Bolt::Square), (0.0, Bolt::Across), (0.1, Bolt::Square)] {
            let solved = solved(&riding(fall, kind, bolt));
            assert!(solved.level.rows.len() > 50);
            for bar in [0, 1] {
                for end in ENDS {
                    near(of(&solved, bar, end).most_rad, 0.0, SOLVED);
                }
            }
        }
    }
}

/// Upright bolts stand along the way the bar goes: its slope, the rise over how far ahead it then reaches, is what it leans. A rod end counts
/// from square to its bolt, a bush from how it was welded up.
#[test]
fn a_bar_that_rises_along_its_bolts_leans_by_its_slope() {
    for fall in [0.0, 0.1, -0.05] {
        for kind in JointKind::ALL {
            let setup = riding(fall, kind, Bolt::Upright);
            let solved = solved(&setup);
            let length = LONG_M.hypot(fall);
            let slope = |rise: f64| {
                let above = fall + rise;
                f64::atan(above / (length * length - above * above).sqrt())
            };
            let from = if kind == JointKind::RodEnd { 0.0 } else { slope(0.0) };
            let leans = rises(&setup).map(|rise| (slope(rise) - from).abs());
            let (most, at) = if leans[0] > leans[1] {
                (leans[0], setup.travel.laid_out_m)
            } else {
                (leans[1], setup.travel.full_lift_m)
            };
            for bar in [0, 1] {
                for end in ENDS {
                    let found = of(&solved, bar, end);
                    near(found.most_rad, most, SOLVED);
                    near(found.height_m, at, 1e-12);
                    assert_eq!((found.kind, found.roll_rad), (kind, 0.0));
                    assert_eq!(found.limit_rad, kind.limit_rad());
                }
            }
        }
    }
}

/// Equal parallel bars swing the axle fore and aft on an arc of their length; a panhard bar whose bolts run front to back leans by that over its
/// own length, and by nothing else, since it turns about them as it rises. It stands far enough across to push nothing aside worth mention: the
/// rear view's shift is 10 mm at most, which takes its square over twice 0.6 m off the arc, 0.1 mm of 3 m.
#[test]
fn a_panhard_bar_on_bolts_front_to_back_leans_by_the_fore_and_aft_of_the_axle() {
    for bolt in [Bolt::Along, Bolt::Square] {
        let mut setup = riding(0.05, JointKind::RodEnd, Bolt::Square);
        add(
            &mut setup,
            "panhard bar",
            Role::Sideways,
            [-0.2, 3.0, 0.0],
            [-0.2, 0.0, 0.0],
        );
        bolted(&mut setup, 2, JointKind::RodEnd, [bolt; 2]);
        let solved = solved(&setup);
        let length = LONG_M.hypot(0.05);
        let forward = |rise: f64| LONG_M - (length * length - (0.05 + rise).powi(2)).sqrt();
        let most = rises(&setup)
            .map(|rise| forward(rise).abs())
            .into_iter()
            .fold(0.0, f64::max);
        for end in ENDS {
            near(of(&solved, 2, end).most_rad, f64::asin(most / 3.0), 5e-6);
        }
        assert!(most > 0.005);
    }
}

/// One end of one bar at one pose: how far the bar is from square to the bolt, and how far the two bolts are turned against each other about
/// the bar. The angles by their cosines, the sense by a triple product.
fn leaning(along: Vector3<f64>, bolts: [Vector3<f64>; 2]) -> ([f64; 2], f64) {
    let u = along.normalize();
    let ends = bolts.map(|bolt| std::f64::consts::FRAC_PI_2 - u.dot(&bolt).acos());
    let sides = bolts.map(|bolt| u.cross(&bolt).normalize());
    let turn = sides[0].dot(&sides[1]).clamp(-1.0, 1.0).acos();
    (ends, turn.copysign(u.dot(&bolts[0].cross(&bolts[1]))))
}

/// Bolts as they lie at ride height for a bar along `along`.
fn drawn_bolt(bolt: Bolt, along: Vector3<f64>) -> Vector3<f64> {
    match bolt {
        Bolt::Square => Vector3::new(-along.y, along.x, 0.0).normalize(),
        Bolt::Across => Vector3::y(),
        Bolt::Along => Vector3::x(),
        Bolt::Upright => Vector3::z(),
    }
}

/// Through ride and roll: the bolt on the axle turns with it, the one on the frame stays; the bolts' turn against each other is shared.
#[test]
fn the_lean_through_ride_and_roll_is_that_of_the_vectors() {
    let bolts = [
        [Bolt::Square, Bolt::Square],
        [Bolt::Square, Bolt::Upright],
        [Bolt::Across, Bolt::Along],
    ];
    for (which, truck) in [(0, 0), (1, 2), (2, 0), (0, 2)] {
        for kind in JointKind::ALL {
            let mut setup = demo(truck);
            let bar = if truck == 0 { PANHARD } else { 1 };
            bolted(&mut setup, bar, kind, bolts[which]);
            let solved = solved(&setup);
            let frame = setup.bars[bar].mount_in_frame;
            let axle = setup.bars[bar].mount_in_axle;
            let drawn = axle - frame + Vector3::z() * axle_z_m(&setup);
            let [on_frame, on_axle] = bolts[which].map(|bolt| drawn_bolt(bolt, drawn));
            let at_ride = leaning(drawn, [on_frame, on_axle]);
            let mut most = [0.0f64; 2];
            let rolls = solved.rolls.iter().flat_map(|r| &r.rows);
            let rows: Vec<_> = solved
                .level
                .rows
                .iter()
                .chain(&solved.rolled.rows)
                .chain(rolls)
                .collect();
            assert!(rows.len() > 150);
            for row in rows {
                let turn = row.at.ground_from_platform();
                let along = row.at.origin_in_ground + turn * axle.coords - frame;
                let (ends, twist) = leaning(along, [on_frame, turn * on_axle]);
                for (i, most) in most.iter_mut().enumerate() {
                    let welded = if kind == JointKind::RodEnd { 0.0 } else { at_ride.0[i] };
                    // A bolt has no head or tail: half a turn is none.
                    let shared = (twist - at_ride.1).tan().atan() / 2.0;
                    *most = most.max((ends[i] - welded).hypot(shared));
                }
            }
            for (end, most) in ENDS.into_iter().zip(most) {
                // An angle by its cosine is known to a hundred-millionth near nothing.
                near(of(&solved, bar, end).most_rad, most, 1e-7);
                assert!(most > 3e-3, "it does lean");
            }
        }
    }
}

/// Rise of the published check, in the problem's unit, metres to a unit.
const RISE: f64 = 8.0;
const UNIT: f64 = 0.01;

/// A Watt's linkage of links 16 and half crank 3, level at ride height, on an axle that bars as long as a street guide straight up and down.
fn guided_watt(crank_on: Carrier) -> Setup {
    let mut setup = bare();
    let travel = &mut setup.travel;
    (travel.laid_out_m, travel.full_lift_m) = (travel.ride_m - RISE * UNIT, travel.ride_m + RISE * UNIT);
    travel.one_wheel_up_rad = 0.0;
    for (name, z) in [("lower bar", -0.08), ("upper bar", 0.08)] {
        add_pair(&mut setup, name, Role::Lower, [1000.0, 0.45, z], [0.0, 0.45, z]);
    }
    let lift = axle_z_m(&setup);
    let (pivot_z, ends_z) = if crank_on == Carrier::Axle {
        (0.0, lift)
    } else {
        (lift, 0.0)
    };
    let end = |sense: f64| Point3::new(0.0, sense * 16.0 * UNIT, sense * 3.0 * UNIT + ends_z);
    setup.watt = Some(Watt {
        crank_on,
        stance: Stance::Upright,
        axis: None,
        pivot: Point3::new(0.0, 0.0, pivot_z),
        half_crank_m: 3.0 * UNIT,
        right_half_crank_m: None,
        left: end(1.0),
        right: end(-1.0),
        tube_m: 0.0286,
        wall_m: 0.0048,
        ends: Ends::RodEnds,
        left_length: Length::CutToSuit,
        right_length: Length::CutToSuit,
        left_holes: None,
        right_holes: None,
        left_locked: false,
        right_locked: false,
    });
    setup
}

/// Source: the published check of Watt's linkage, rise 8: shift 0.54802961, turn 46.797277 degrees.
#[test]
fn the_crank_turns_as_the_published_linkage_does_and_keeps_its_margin() {
    let (shift, turn_deg) = (0.548_029_61, 46.797_277f64);
    let (sin, cos) = turn_deg.to_radians().sin_cos();
    // From each link's fixed end to its joint on the crank, on whichever hand closes them.
    let hands = [1.0, -1.0].into_iter().flat_map(|a| [(a, 1.0), (a, -1.0)]);
    let mut closing = hands
        .map(|(a, b)| {
            let arm = (3.0 * b * sin, 3.0 * cos);
            let upper = (a * shift + arm.0 - 16.0, RISE + arm.1 - 3.0);
            let lower = (a * shift - arm.0 + 16.0, RISE - arm.1 + 3.0);
            (arm, [upper, lower])
        })
        .filter(|(_, links)| links.iter().all(|link| (link.0.hypot(link.1) - 16.0).abs() < 1e-6));
    let (arm, links) = closing.next().expect("the published numbers close");
    assert!(closing.next().is_none(), "one way only");
    let aligned = links.map(|link| (arm.0 * link.0 + arm.1 * link.1).abs() / (3.0 * 16.0));
    let margin = aligned[0].max(aligned[1]).acos();
    for crank_on in [Carrier::Axle, Carrier::Frame] {
        let setup = guided_watt(crank_on);
        let solved = solved(&setup);
        let crank = solved.crank.expect("there is a crank");
        // Half a turn about its middle makes the linkage one with itself: up and down turn the crank the same way.
        near(crank.most_rad.max(-crank.least_rad).to_degrees(), turn_deg, 2e-6);
        near(crank.most_rad.min(-crank.least_rad), 0.0, 1e-6);
        near(crank.margin_rad, margin, 1e-6);
        let ends = [setup.travel.laid_out_m, setup.travel.full_lift_m];
        assert!(ends.iter().any(|h| (h - crank.height_m).abs() < 1e-9), "{crank:?}");
        assert!(matches!(crank.link, Part::WattLeft | Part::WattRight));
    }
}

/// These bars reach no height but the one they are drawn at, and there rod ends stand square to their bolts: the farthest lean is none at all, at
/// ride height, and not at some height that the truck never has.
#[test]
fn a_joint_that_leans_nowhere_does_so_within_the_travel() {
    let mut setup = demo(2);
    let ends = [
        (
            [1.080_989_136, 0.495, 0.408_292_184],
            [-0.399_586_96, 0.426_986_057, 0.252_438_802],
        ),
        (
            [0.454_855_733, 0.720_420_771, 0.009_533_916],
            [-0.043_427_338, -0.194_505_935, 0.279_599_337],
        ),
    ];
    for (bar, (frame, axle)) in setup.bars.iter_mut().zip(ends) {
        (bar.mount_in_frame, bar.mount_in_axle) = (Point3::from(frame), Point3::from(axle));
    }
    let travel = (setup.travel.laid_out_m - 1e-9)..=(setup.travel.full_lift_m + 1e-9);
    let answers = Answers::of(&setup);
    for swing in &answers.solved.as_ref().expect("it compiles").swings {
        assert!(travel.contains(&swing.height_m), "{swing:?}");
    }
    for finding in &answers.findings {
        assert!(finding.height_m.is_none_or(|h| travel.contains(&h)), "{finding:?}");
    }
}

/// A bolt has no head or tail: one laid across the truck and one laid square to the bar lie alike where the bar runs straight ahead.
#[test]
fn a_bolt_turned_end_for_end_is_the_same_bolt() {
    let mut setup = demo(0);
    let before = swung(&setup);
    setup.bars[0].frame_joint = Some(Joint {
        bolt: Bolt::Across,
        ..Joint::of(JointKind::RodEnd)
    });
    for (a, b) in before.iter().zip(swung(&setup)) {
        assert!((a - b).abs() < 1e-9, "{a} became {b}");
    }
}

fn swung(setup: &Setup) -> Vec<f64> {
    let solved = Answers::of(setup).solved.expect("it solves");
    solved.swings.iter().map(|swing| swing.most_rad).collect()
}
