//! Heights in words, and figures that can be told from their limits.

use rearend::answers::Answers;
use rearend::clearance::Fault;
use rearend::findings::{Grade, Kind};
use rearend::setup::Setup;
use rearend::tape::Units;

use crate::find;
use crate::support::{PANHARD, demo};

fn is_shift(kind: &Kind) -> bool {
    matches!(kind, Kind::Shift { .. })
}

/// A truck asked for more than its bars reach, bound by a bar too many, and one whose tyres and springs run out of room.
fn troubled() -> Vec<Setup> {
    let mut all: Vec<_> = (0..3).map(demo).collect();
    let mut tall = demo(0);
    tall.travel.full_lift_m = 1.5;
    let mut bound = demo(0);
    bound.bars[1].mount_in_frame.z -= 0.09;
    let mut low = demo(2);
    low.travel.laid_out_m = 0.0;
    low.travel.full_lift_m += 0.1;
    low.limits.clearance_m = 0.1;
    all.extend([tall, bound, low]);
    all
}

/// The rails stand at the design's ride height or at some other one; only that one is called so, and it needs no figure.
#[test]
fn ride_height_is_the_designs_and_no_other() {
    let mut told = 0;
    for setup in troubled() {
        for finding in Answers::of(&setup).findings {
            for units in Units::ALL {
                let sentence = finding.sentence(&setup, units);
                for after in sentence.split("ride height ").skip(1) {
                    assert!(!after.starts_with(|c: char| c.is_ascii_digit()), "{sentence}");
                    told += 1;
                }
            }
        }
    }
    assert!(told > 0);
}

/// Level at ride height a panhard bar of length L shifts the axle by L - sqrt(L² - z²): most where the way from ride height is longest.
#[test]
fn the_ends_of_the_travel_go_by_their_names() {
    let mut setup = demo(0);
    let axle_z = setup.axle_z_m(setup.travel.ride_m);
    let bar = &mut setup.bars[PANHARD];
    bar.mount_in_frame.z = bar.mount_in_axle.z + axle_z;
    for (down_m, up_m, says) in [(0.05, 0.03, "laid out"), (0.03, 0.05, "at full lift")] {
        setup.travel.laid_out_m = setup.travel.ride_m - down_m;
        setup.travel.full_lift_m = setup.travel.ride_m + up_m;
        let sentence = find(&setup, is_shift).sentence(&setup, Units::Sixteenths);
        assert!(sentence.contains(&format!("at most, {says}: ")), "{sentence}");
    }
}

#[test]
fn any_other_height_is_what_the_rails_are_off_the_ground_in_the_users_units() {
    let mut setup = demo(0);
    setup.travel.full_lift_m = 1.5;
    let finding = find(&setup, |kind| matches!(kind, Kind::EndsEarly(_)));
    let height_m = finding.height_m.expect("it ends somewhere");
    for units in Units::ALL {
        let sentence = finding.sentence(&setup, units);
        let wanted = format!("with the rails more than {} off the ground", units.length(height_m));
        assert!(sentence.contains(&wanted), "{sentence}");
    }
}

#[test]
fn a_shift_a_hair_past_its_limit_does_not_read_as_the_limit() {
    let mut setup = demo(0);
    let Kind::Shift { shift_m } = find(&setup, is_shift).kind else {
        panic!("a shift was asked for")
    };
    setup.limits.shift_m = shift_m.abs() - 1e-8;
    let finding = find(&setup, is_shift);
    assert_eq!(finding.grade, Grade::Check);
    for units in Units::ALL {
        let sentence = finding.sentence(&setup, units);
        let limit = units.movement(setup.limits.shift_m);
        assert!(
            sentence.contains(&format!("shifts just over {limit} "))
                && sentence.contains(&format!("more than your {limit}.")),
            "{sentence}"
        );
    }
}

/// The room as the sentence has it, and the nearest pair's as it is.
fn room(setup: &Setup, units: Units) -> (String, String) {
    let finding = find(setup, |kind| matches!(kind, Kind::Clearance(Fault::Tight(_))));
    let sentence = finding.sentence(setup, units);
    let said = sentence
        .split_once("comes within ")
        .and_then(|(_, rest)| rest.split_once(" of the "))
        .map(|(said, _)| said.to_owned());
    (said.expect(&sentence), sentence)
}

/// A room of 0.490 in wants half an inch: both read 1/2" on a tape.
#[test]
fn a_room_that_rounds_to_what_is_wanted_is_told_more_finely() {
    let mut setup = demo(0);
    let Kind::Clearance(Fault::Clear(near)) = find(&setup, |kind| matches!(kind, Kind::Clearance(_))).kind else {
        panic!("nothing comes too near")
    };
    let mut finer = 0;
    for units in Units::ALL {
        for over_m in [2e-5, 1e-4, 1e-9] {
            setup.limits.clearance_m = near.gap_m + over_m;
            let wanted = units.length(setup.limits.clearance_m);
            let (said, sentence) = room(&setup, units);
            assert_ne!(said, wanted, "{sentence}");
            assert!(sentence.contains(&format!("less than your {wanted}.")), "{sentence}");
            if units.length(near.gap_m) == wanted {
                let fine = units.movement(near.gap_m);
                let alike = fine == units.movement(setup.limits.clearance_m);
                assert_eq!(said, if alike { format!("just under {wanted}") } else { fine });
                finer += 1;
            }
        }
    }
    assert!(finer >= 6, "{finer} of them read alike");
}

#[test]
fn a_panhard_bar_of_no_length_is_told_without_a_height() {
    let mut setup = demo(0);
    let axle = setup.bars[PANHARD].mount_in_axle;
    setup.bars[PANHARD].mount_in_frame = axle + nalgebra::Vector3::z() * setup.axle_z_m(setup.travel.ride_m);
    let finding = find(&setup, |kind| matches!(kind, Kind::Unsolvable(_)));
    assert_eq!((finding.height_m, finding.part), (None, None));
}
