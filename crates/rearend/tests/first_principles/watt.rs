//! A Watt's linkage as built: what its adjusters do, how its joints lean, how far its crank goes from where it stands.

use nalgebra::{Point3, Vector3};
use rearend::answers::{Answers, Solved};
use rearend::layouts::Layout;
use rearend::mechanism::Part;
use rearend::setup::{AsBuilt, BarEnd, Carrier, Ends, Length, Placement, Role, Setup, Stance, Watt};

use crate::drawings::{add_pair, axle_z_m, bare, compile};
use crate::near;
use crate::support::demo;

const HALF_CRANK_M: f64 = 0.075;
const LINK_M: f64 = 0.36;
const LINKS: [Part; 2] = [Part::WattLeft, Part::WattRight];

fn solved(setup: &Setup) -> Solved {
    Answers::of(setup).solved.expect("it compiles")
}

/// Four level bars and a Watt's linkage across the axle line, links level, both as built.
fn level(crank_on: Carrier) -> Setup {
    let mut setup = bare();
    for (name, z) in [("lower bar", -0.08), ("upper bar", 0.08)] {
        add_pair(&mut setup, name, Role::Lower, [0.6, 0.45, z], [0.0, 0.45, z]);
    }
    let lift = axle_z_m(&setup);
    let (pivot_z, ends_z) = if crank_on == Carrier::Axle {
        (0.0, lift)
    } else {
        (lift, 0.0)
    };
    let end = |sense: f64| Point3::new(0.0, sense * LINK_M, sense * HALF_CRANK_M + ends_z);
    let length = Length::AsBuilt(AsBuilt::of_length(LINK_M));
    setup.watt = Some(Watt {
        crank_on,
        stance: Stance::Upright,
        axis: None,
        pivot: Point3::new(0.0, 0.0, pivot_z),
        half_crank_m: HALF_CRANK_M,
        right_half_crank_m: None,
        left: end(1.0),
        right: end(-1.0),
        tube_m: 0.0286,
        wall_m: 0.0048,
        ends: Ends::RodEnds,
        left_length: length,
        right_length: length,
        left_holes: None,
        right_holes: None,
        left_locked: false,
        right_locked: false,
    });
    setup
}

/// The left link pushes the crank's upper end to the right, the right one its lower end to the left, each by a turn's length; the pivot between
/// them goes half as far. With the crank on the frame it is the axle that goes, the other way. The crank leans by the turn over its length, which
/// takes the square of that off its height.
#[test]
fn a_turn_of_one_link_moves_the_axle_half_as_far_to_its_other_side() {
    let turn = 0.125 * 0.0254;
    for (crank_on, sense) in [(Carrier::Axle, -1.0), (Carrier::Frame, 1.0)] {
        let solved = solved(&level(crank_on));
        let parts: Vec<_> = solved.turns.iter().map(|t| t.part).collect();
        assert_eq!(parts, LINKS);
        for (effect, hand) in solved.turns.iter().zip([1.0, -1.0]) {
            near(effect.left_m, sense * hand * turn / 2.0, turn * turn / HALF_CRANK_M);
            for still in [effect.out_of_square_m, effect.pinion_rad] {
                near(still, 0.0, 1e-9);
            }
        }
    }
}

/// Two turns of one link leave the crank leaning at ride height: what it turns is counted from there, and so the bushes of its links.
#[test]
fn the_crank_is_counted_from_where_it_stands_and_its_margin_is_that_of_both_links() {
    for crank_on in [Carrier::Axle, Carrier::Frame] {
        for (turned, turns) in [(Part::WattLeft, 3.0), (Part::WattRight, -3.0)] {
            let mut setup = level(crank_on);
            let mut built = AsBuilt::of_length(LINK_M);
            built.turns = turns;
            assert!(setup.set_length(turned, Length::AsBuilt(built)));
            let solved = solved(&setup);
            let crank = solved.crank.expect("there is a crank");
            let stands = solved.rear_end.ride.crank_rad[0];
            assert!(stands.abs() > 0.05, "the crank leans at ride height: {stands}");
            let turned: Vec<_> = solved.all_rows().map(|r| r.at.crank_rad[0] - stands).collect();
            near(crank.most_rad, turned.iter().copied().fold(0.0, f64::max), 1e-12);
            near(crank.least_rad, turned.iter().copied().fold(0.0, f64::min), 1e-12);
            // Pivot, crank end and fixed end of each link, where the crank is on the axle or the frame.
            let mut margins = [f64::MAX; 2];
            for row in solved.all_rows() {
                let watt = setup.watt.as_ref().expect("there is a linkage");
                let pivot = match crank_on {
                    Carrier::Axle => row.at.to_ground(watt.pivot),
                    Carrier::Frame => watt.pivot,
                };
                for (i, part) in LINKS.into_iter().enumerate() {
                    let link = solved.rear_end.link(part).expect("the link is there");
                    let [end, joint] = solved.rear_end.mechanism.ends_in_ground(link, &row.at);
                    let (arm, along) = (joint - pivot, end - joint);
                    near(arm.norm(), HALF_CRANK_M, 1e-10);
                    let angle = arm.cross(&along).norm().atan2(arm.dot(&along).abs());
                    margins[i] = margins[i].min(angle);
                }
            }
            near(crank.margin_rad, margins[0].min(margins[1]), 1e-9);
            let nearest = usize::from(margins[1] < margins[0]);
            assert_eq!(crank.link, LINKS[nearest]);
        }
    }
}

/// Bolts lie along the crank's pivot: that of a link's fixed end stays with the body it is on, the crank's with the crank's.
#[test]
fn the_links_of_the_crank_lean_as_the_vectors_do() {
    let on_frame = Layout::ParallelWattOnFrame.hang(&demo(0));
    let mut converging = on_frame.clone();
    converging.bars[1].mount_in_frame.z -= 0.05;
    for (setup, crank_on) in [
        (Layout::ThreeLinkWatt.hang(&demo(0)), Carrier::Axle),
        (Layout::LadderWatt.hang(&demo(1)), Carrier::Axle),
        (converging, Carrier::Frame),
    ] {
        let solved = solved(&setup);
        for part in LINKS {
            let link = solved.rear_end.link(part).expect("the link is there");
            let mut most = [0.0f64; 2];
            for row in solved.all_rows() {
                let [end, joint] = solved.rear_end.mechanism.ends_in_ground(link, &row.at);
                let u = (joint - end).normalize();
                let turned = row.at.ground_from_platform() * Vector3::x();
                let bolts = match crank_on {
                    Carrier::Axle => [Vector3::x(), turned],
                    Carrier::Frame => [turned, Vector3::x()],
                };
                // Both bolts lie nearly square to the link, so that their turn against each other is small.
                let sides = bolts.map(|bolt| u.cross(&bolt).normalize());
                let twist = sides[0].cross(&sides[1]).dot(&u).asin();
                for (most, bolt) in most.iter_mut().zip(bolts) {
                    *most = most.max(u.dot(&bolt).asin().hypot(twist / 2.0));
                }
            }
            assert!((most[0] - most[1]).abs() > 1e-4, "the two ends differ: {most:?}");
            for (end, most) in [BarEnd::Frame, BarEnd::Axle].into_iter().zip(most) {
                let swing = solved.swings.iter().find(|s| (s.part, s.end) == (part, end));
                near(swing.expect("the joint is there").most_rad, most, 1e-8);
            }
        }
    }
}

/// However the axle is drawn, a bar's two bolts are drawn alike.
#[test]
fn bolts_on_a_crooked_axle_lie_as_those_on_the_frame() {
    let placement = Placement {
        forward_m: 0.01,
        left_m: -0.02,
        steer_rad: 0.08,
        nose_up_rad: 0.05,
        crank_rad: 0.0,
    };
    for layout in [Layout::ThreeLinkPanhard, Layout::UppersTriangulated, Layout::Wishbone] {
        let mut setup = layout.hang(&demo(2));
        setup.placement = placement;
        let rear_end = compile(&setup);
        let turn = rear_end.ride.ground_from_platform();
        for [frame, axle] in &rear_end.bolts {
            let off = frame.in_frame(&turn) - axle.in_frame(&turn);
            near(off.norm(), 0.0, 1e-12);
        }
    }
    // A crank's pivot is drawn on its carrier, and the bolts of its links with it.
    let mut setup = Layout::ThreeLinkWatt.hang(&demo(0));
    setup.placement = placement;
    let rear_end = compile(&setup);
    let turn = rear_end.ride.ground_from_platform();
    for part in LINKS {
        let link = rear_end.link(part).expect("the link is there");
        for bolt in &rear_end.bolts[link.0] {
            near((bolt.in_frame(&turn) - turn * Vector3::x()).norm(), 0.0, 1e-12);
        }
    }
}
