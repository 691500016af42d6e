//! What is found of a shaft, and what it says.

use nalgebra::Point3;
use rearend::answers::Answers;
use rearend::driveline::Fault;
use rearend::findings::{Grade, Kind};
use rearend::setup::{Setup, ShaftSpeed};
use rearend::tape::Units;

use super::{bare, shaft, shafted};

/// Grade, fault and sentence of everything found of the shaft.
fn found(setup: &Setup) -> Vec<(Grade, Fault, String)> {
    let findings = Answers::of(setup).findings;
    findings
        .into_iter()
        .filter_map(|f| {
            let sentence = f.sentence(setup, Units::Millimetres);
            match f.kind {
                Kind::Driveline(fault) => Some((f.grade, fault, sentence)),
                _ => None,
            }
        })
        .collect()
}

/// What somebody should look at.
fn amiss(setup: &Setup) -> Vec<String> {
    let found = found(setup).into_iter().filter(|(grade, ..)| *grade != Grade::Fine);
    found.map(|(.., sentence)| sentence).collect()
}

#[test]
fn a_truck_without_a_shaft_hears_nothing_of_it() {
    assert_eq!(found(&bare()), []);
}

#[test]
fn a_shaft_that_is_as_the_handbooks_want_it_is_fine_in_one_sentence_and_its_largest_angle_in_another() {
    let setup = shafted(0, 2.0, 2.0);
    let found = found(&setup);
    assert!(found.iter().all(|(grade, ..)| *grade == Grade::Fine));
    let [(_, Fault::Sound { .. }, sound), (_, Fault::Largest { .. }, largest)] = found.as_slice() else {
        panic!("{found:?}");
    };
    assert!(
        sound.starts_with("At ride height the shaft's joints work at 2.00° and 2.00°, within 1° of each other"),
        "{sound}"
    );
    assert!(largest.starts_with("Through the travel the"), "{largest}");
    assert!(largest.contains("guide allows that up to"), "{largest}");
}

/// Source of the limit: shaft makers' handbooks, ends within 1 degree of each other.
#[test]
fn ends_more_than_a_degree_apart_are_to_be_looked_at() {
    assert_eq!(amiss(&shafted(0, 2.0, 2.9)), Vec::<String>::new());
    let said = amiss(&shafted(0, 1.5, 2.6));
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(
        said[0].starts_with("At ride height the front joint works at 1.50° and the rear joint at 2.60°")
            && said[0].contains("within 1° of each other")
            && said[0].ends_with("Turning the pinion 1.10° nose down makes them equal and opposite."),
        "{}",
        said[0]
    );
}

/// Source: shaft makers' handbooks, at least 0.5 degrees.
#[test]
fn joints_in_line_do_not_turn_their_needles() {
    let said = amiss(&shafted(0, 0.4, 0.6));
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(
        said[0].starts_with("The front joint works at only 0.40°"),
        "{}",
        said[0]
    );
    assert!(said[0].contains("0.5° at least and advise 1°"), "{}", said[0]);
}

/// Source: shaft makers' handbooks, at most 3 degrees for freedom from vibration.
#[test]
fn more_than_three_degrees_at_ride_height_are_to_be_looked_at() {
    let said = amiss(&shafted(0, 3.1, 2.9));
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(
        said[0].starts_with("The front joint works at 3.10°")
            && said[0].contains("allow 3° for freedom from vibration"),
        "{}",
        said[0]
    );
}

/// 3 degrees each, but the second plane square to the first, and no pinion angle to blame: the residual is the square root of 3^2 + 3^2.
#[test]
fn joints_in_planes_that_lie_crosswise_do_not_even_each_other_out() {
    let mut setup = shafted(0, 0.0, 2.9);
    shaft(&mut setup).output_left_rad = 2.9_f64.to_radians();
    let said = amiss(&setup);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(
        said[0].contains("as unevenly as a single joint at 4.1") && said[0].contains("catalogues allow 0.27 %"),
        "{}",
        said[0]
    );
}

#[test]
fn yokes_out_of_line_are_named_where_they_do_harm() {
    let mut setup = shafted(0, 2.0, 2.0);
    shaft(&mut setup).phase_rad = 15_f64.to_radians();
    let said = amiss(&setup);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(
        said[0].starts_with("The yokes of the rear shaft are 15.0° out of line")
            && said[0].ends_with("in line, 0.00°."),
        "{}",
        said[0]
    );
    // Planes that lie crosswise are evened out by yokes a quarter turn out of line; half of that is better than none.
    let mut crosswise = shafted(0, 0.0, 2.9);
    shaft(&mut crosswise).output_left_rad = 2.9_f64.to_radians();
    for phase in [-45_f64, 45.0] {
        shaft(&mut crosswise).phase_rad = phase.to_radians();
        assert!(!amiss(&crosswise).iter().any(|s| s.contains("out of line")));
    }
}

/// Source of the limit: shaft makers' guide, from memory: 3.7 degrees at 4500 rpm.
#[test]
fn a_joint_past_what_its_speed_allows_is_named_with_both_speeds() {
    let mut setup = shafted(0, 3.8, 3.6);
    let radius = setup.wheels.loaded_radius_m;
    let speed = ShaftSpeed {
        axle_ratio: 4.0,
        fastest_m_per_s: 4500.0 * std::f64::consts::PI / 30.0 * radius / 4.0,
    };
    shaft(&mut setup).speed = Some(speed);
    let said = amiss(&setup);
    assert_eq!(said.len(), 2, "{said:?}");
    let km_per_h = speed.fastest_m_per_s * 3.6;
    assert!(
        said[0].contains(&format!(
            "(4500 rpm, {km_per_h:.0} km/h) the shaft makers' guide allows 3.7°"
        )),
        "{}",
        said[0]
    );
    assert!(said[1].contains("for freedom from vibration"), "{}", said[1]);
}

#[test]
fn splines_that_run_out_will_not_work_and_say_where() {
    let mut setup = shafted(0, 2.0, 2.0);
    let rows = Answers::of(&setup);
    let slips: Vec<_> = rows
        .level_rows()
        .iter()
        .map(|row| row.shaft.expect("a shaft").slip_m)
        .collect();
    let (least, most) = slips
        .iter()
        .fold((0.0_f64, 0.0_f64), |(l, m), s| (l.min(*s), m.max(*s)));
    assert!(most > 1e-4, "it pulls out by {most}");
    shaft(&mut setup).slip_out_m = most / 2.0;
    shaft(&mut setup).slip_in_m = 0.03 - least;
    let won_t = found(&setup);
    let (grade, fault, sentence) = &won_t[0];
    assert_eq!(*grade, Grade::WontWork);
    assert!(
        matches!(fault, Fault::SlipEnds { slip_m, .. } if *slip_m >= most),
        "{fault:?}"
    );
    assert!(
        sentence.starts_with("The shaft pulls out of its splines: with the rails ")
            && sentence.contains("Make the shaft longer by"),
        "{sentence}"
    );
    shaft(&mut setup).slip_in_m = -least;
    assert!(found(&setup)[0].2.contains("It takes longer splines"));
}

#[test]
fn an_angle_past_every_speed_is_to_be_looked_at_wherever_it_is() {
    let mut setup = shafted(0, 2.0, 2.0);
    // A quarter of a metre of shaft and 80 mm down from ride: eighteen degrees from where it was.
    let pinion = setup.drawn().to_ground(setup.pinion_joint_in_axle());
    shaft(&mut setup).output = pinion + (setup.driveline.as_ref().expect("a shaft").output - pinion) * (0.25 / 1.2);
    let said = amiss(&setup);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(
        said[0].contains("more than the 11.5° that the shaft makers' guide lists for 1500 rpm"),
        "{}",
        said[0]
    );
}

#[test]
fn three_joints_are_judged_by_what_they_leave_together() {
    let mut setup = shafted(0, 2.0, 2.0);
    shaft(&mut setup).carrier = Some(Point3::new(0.95, 0.0, 0.19));
    let said = found(&setup);
    assert!(
        !said.iter().any(|(_, fault, _)| matches!(fault, Fault::Ends { .. })),
        "{said:?}"
    );
}
