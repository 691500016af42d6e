//! Every bracket of every demo scene, and of every layout proposed on every truck that is likely, can be drawn.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use std::fs;
use std::path::Path;
use std::sync::atomic::AtomicBool;

use rearend::answers::Answers;
use rearend::brackets;
use rearend::clearance::{Solid, Survey};
use rearend::file;
use rearend::layouts::Layout;
use rearend::setup::{Hoop, Section, Setup};
use rearend::tape::Units;

fn demos() -> Vec<Setup> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-scenes");
    let files = fs::read_dir(folder).expect("the demo scenes are there");
    let mut paths: Vec<_> = files.map(|entry| entry.expect("it can be listed").path()).collect();
    paths.sort();
    assert_eq!(paths.len(), 10);
    let read = |path| file::read(&fs::read_to_string(path).expect("it is text")).expect("a demo scene reads");
    paths.iter().map(read).collect()
}

fn new_truck() -> Setup {
    file::read(include_str!("../../shop/src/new-truck.ron")).expect("it reads")
}

/// Why brackets cannot be drawn, solved.
fn refusals(setup: &Setup) -> Vec<String> {
    let answers = Answers::of(setup);
    let all = brackets::of(setup, answers.solved.as_ref().ok(), Units::Millimetres);
    assert!(!all.is_empty());
    all.into_iter()
        .filter_map(Result::err)
        .map(|why| why.to_string())
        .collect()
}

#[test]
fn every_bracket_of_every_demo_scene_is_drawn() {
    for setup in demos() {
        assert_eq!(refusals(&setup), [""; 0], "{}", setup.name);
    }
}

#[test]
fn every_bracket_of_every_proposal_is_drawn_on_every_demos_truck_and_a_new_one() {
    for truck in demos().into_iter().chain([new_truck()]) {
        for layout in Layout::ALL {
            assert_eq!(refusals(&layout.hang(&truck)), [""; 0], "{layout:?} on {}", truck.name);
        }
    }
}

/// Rails near together and far apart, narrow and wide flanges, three sizes of axle tube, with crossmembers, hooped ones and none.
#[test]
fn every_bracket_of_every_proposal_is_drawn_on_likely_trucks() {
    let hoop = Hoop {
        half_width_m: 0.1,
        rise_m: 0.14,
    };
    let crossmembers: [(&[f64], Option<Hoop>); 3] = [
        (&[], None),
        (&[1.05, 0.5, -0.87], None),
        (&[1.1, 0.62, -0.5], Some(hoop)),
    ];
    let mut which = 0;
    for (spacing_m, section) in [(0.7, Section::Channel), (0.86, Section::Box), (1.0, Section::Channel)] {
        for (flange_m, tube_m) in [(0.05, 0.0762), (0.065, 0.0889), (0.08, 0.1016)] {
            for (stations, hoop) in crossmembers {
                // In turn: each of them costs all fifteen layouts.
                let (ride_m, climbs) = [(0.1, false), (0.15, true), (0.2, false)][which % 3];
                which += 1;
                let mut truck = new_truck();
                truck.rails.spacing_m = spacing_m;
                truck.rails.section = section;
                truck.rails.flange_m = flange_m;
                truck.axle.tube_m = tube_m;
                truck.rails.crossmembers_x_m = stations.to_vec();
                truck.rails.hoop = hoop;
                if !climbs {
                    truck.rails.kick_up = None;
                }
                let travel = &mut truck.travel;
                (travel.laid_out_m, travel.ride_m, travel.full_lift_m) = (ride_m - 0.07, ride_m, ride_m + 0.08);
                for layout in Layout::ALL {
                    let what = format!(
                        "{layout:?}, rails {spacing_m}, flange {flange_m}, tube {tube_m}, {stations:?}, {ride_m}"
                    );
                    assert_eq!(refusals(&layout.hang(&truck)), [""; 0], "{what}");
                }
            }
        }
    }
}

/// A crossmember is added where one is lacking, once, and nowhere else.
#[test]
fn a_crossmember_is_added_where_a_mount_in_the_middle_has_none() {
    let bare = new_truck();
    let count = |setup: &Setup| setup.rails.crossmembers_x_m.len();
    for layout in Layout::ALL {
        let hung = layout.hang(&bare);
        let wants = matches!(
            layout,
            Layout::ThreeLinkPanhard | Layout::ThreeLinkWatt | Layout::ParallelWattOnFrame
        );
        assert_eq!(count(&hung), count(&bare) + usize::from(wants), "{layout:?}");
        assert_eq!(count(&layout.hang(&hung)), count(&hung), "{layout:?} again");
        let kept = bare
            .rails
            .crossmembers_x_m
            .iter()
            .all(|x| hung.rails.crossmembers_x_m.contains(x));
        assert!(kept, "{layout:?}");
    }
}

/// Brackets that something runs into, as the whole survey finds them.
fn met(setup: &Setup) -> Vec<[Solid; 2]> {
    let answers = Answers::of(setup);
    let Ok(solved) = &answers.solved else { return Vec::new() };
    let mut survey = Survey::new(setup, solved);
    survey.run(&AtomicBool::new(false));
    let nears = survey.result().into_iter();
    let meets = nears.filter(|n| n.gap_m < 0.0 && (n.a.is_bracket() || n.b.is_bracket()));
    meets.map(|n| [n.a, n.b]).collect()
}

#[test]
fn nothing_runs_into_a_bracket_of_a_demo_scene() {
    for setup in demos() {
        assert!(met(&setup).is_empty(), "{}: {:?}", setup.name, met(&setup));
    }
}

/// A proposal knows the rails; of coils, bags and pipes it cannot keep clear on every truck, and findings tell of those. A Watt's linkage
/// whose crank is on the frame has its links' brackets where coilovers leave room.
#[test]
fn no_rail_comes_down_on_a_bracket_of_a_proposal() {
    for truck in demos() {
        for layout in Layout::ALL.into_iter().filter(|l| *l != Layout::ParallelWattOnFrame) {
            let met = met(&layout.hang(&truck));
            let on_rail = met.iter().find(|pair| pair.iter().any(|s| matches!(s, Solid::Rail(_))));
            assert_eq!(on_rail, None, "{layout:?} on {}", truck.name);
        }
    }
}
