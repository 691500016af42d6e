//! Remedies: each does what its button says, and its preview says what it does.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use rearend::answers::{Answers, Solved};
use rearend::file;
use rearend::findings::{Finding, Grade, Kind, Preview, Remedy};
use rearend::mechanism::Part;
use rearend::setup::{AsBuilt, BarId, Length, Role, Setup, Side, SpringKind};
use rearend::springs;
use rearend::tape::Units;

fn demo(stem: &str) -> Setup {
    let path = format!("{}/../../demo-scenes/{stem}.ron", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("the demo is there");
    file::read(&text).expect("the demo reads")
}

fn solved(answers: &Answers) -> &Solved {
    answers.solved.as_ref().expect("it solves")
}

/// The finding that offers a remedy, and the remedy.
fn offered(answers: &Answers, is_it: impl Fn(&Remedy) -> bool) -> (Finding, Remedy) {
    let offers = |f: &Finding| f.remedies.iter().copied().find(|r| is_it(r));
    let found = answers.findings.iter().find_map(|f| Some((f.clone(), offers(f)?)));
    found.expect("it is offered")
}

/// Seen from the side, in the drawing: nothing but Pythagoras.
fn side_length_m(setup: &Setup, role: Role) -> f64 {
    let bar = setup.bars.iter().find(|b| b.role == role).expect("such a bar");
    let axle_z_m = setup.wheels.loaded_radius_m - setup.travel.ride_m;
    let (x, z) = (
        bar.mount_in_frame.x - bar.mount_in_axle.x,
        bar.mount_in_frame.z - (bar.mount_in_axle.z + axle_z_m),
    );
    x.hypot(z)
}

#[test]
fn upper_bars_are_made_to_act_as_long_as_the_lower_ones() {
    let mut setup = demo("01-parallel-panhard");
    let upper = setup
        .bars
        .iter_mut()
        .find(|b| b.role == Role::Upper)
        .expect("upper bars");
    upper.mount_in_frame.x -= 0.06;
    upper.mount_in_frame.z += 0.013;
    let answers = Answers::of(&setup);
    let (finding, remedy) = offered(&answers, |r| matches!(r, Remedy::MatchLengths(_)));
    assert_eq!(finding.grade, Grade::Check);
    let next = remedy.apply(&setup, solved(&answers)).expect("it can be taken");
    let off_m = side_length_m(&next, Role::Upper) - side_length_m(&next, Role::Lower);
    assert!(off_m.abs() < 2e-9, "{off_m}");
    let is_about = |f: &&Finding| matches!(f.kind, Kind::EffectiveLengths { .. });
    let after = Answers::of(&next);
    let now = after.findings.iter().find(is_about).expect("they are compared");
    assert_eq!((now.grade, now.remedies.len()), (Grade::Fine, 0));
}

#[test]
fn turns_of_the_panhards_adjuster_put_the_axle_in_the_middle() {
    let mut setup = demo("01-parallel-panhard");
    let answers = Answers::of(&setup);
    // All of them exist, and the panhard bar has three turns too many: 3/8 of an inch.
    for i in 0..setup.bars.len() {
        let length_m = solved(&answers).rear_end.length_m(Part::Bar(BarId(i), Side::Drawn));
        setup.bars[i].length = Length::AsBuilt(AsBuilt::of_length(length_m.expect("a bar")));
    }
    let across = setup
        .bars
        .iter_mut()
        .find(|b| b.role == Role::Sideways)
        .expect("a panhard bar");
    if let Length::AsBuilt(built) = &mut across.length {
        built.turns += 3.0;
    }
    let answers = Answers::of(&setup);
    let off_m = solved(&answers).stance.left_m;
    assert!(off_m.abs() > 0.005, "three turns show: {off_m}");
    let (_, remedy) = offered(&answers, |r| matches!(r, Remedy::CentreAxle(_)));
    let next = remedy.apply(&setup, solved(&answers)).expect("it can be taken");
    let after = Answers::of(&next);
    assert!(solved(&after).ride_y_m().abs() < 1e-5);
    for (was, is) in setup.bars.iter().zip(&next.bars) {
        assert_eq!(was.mount_in_frame, is.mount_in_frame, "brackets stay where they are");
    }
}

/// The first demo with bars that exist, the upper ones three turns too long: 3/8 of an inch.
fn upper_bars_too_long() -> Setup {
    let mut setup = demo("01-parallel-panhard");
    let answers = Answers::of(&setup);
    for i in 0..setup.bars.len() {
        let length_m = solved(&answers).rear_end.length_m(Part::Bar(BarId(i), Side::Drawn));
        let mut built = AsBuilt::of_length(length_m.expect("a bar"));
        if setup.bars[i].role == Role::Upper {
            built.turns = 3.0;
        }
        setup.bars[i].length = Length::AsBuilt(built);
    }
    setup
}

fn square(answers: &Answers) -> &Finding {
    let is_it = |f: &&Finding| matches!(f.kind, Kind::Square(_));
    answers.findings.iter().find(is_it).expect("it is found")
}

#[test]
fn turns_of_the_upper_bars_adjusters_bring_the_pinion_back() {
    let setup = upper_bars_too_long();
    let answers = Answers::of(&setup);
    let drawn_rad = setup.axle.pinion_angle_rad;
    let off_rad = solved(&answers).stance.pinion_rad - drawn_rad;
    assert!(off_rad.abs() > 1f64.to_radians(), "three turns show: {off_rad}");
    let (finding, remedy) = offered(&answers, |r| *r == Remedy::SetPinion);
    assert_eq!(finding.grade, Grade::Check);
    assert_eq!(remedy.label(), "turn the upper bars' adjusters");
    let sentence = finding.sentence(&setup, Units::Millimetres);
    let off = format!(
        "{:.2}° off the {:.2}° nose up it is drawn at",
        off_rad.abs().to_degrees(),
        drawn_rad.to_degrees()
    );
    assert!(
        sentence.contains(&off) && sentence.contains("Turn the upper bars' adjusters"),
        "{sentence}"
    );
    let next = remedy.apply(&setup, solved(&answers)).expect("it can be taken");
    let after = Answers::of(&next);
    assert!((solved(&after).stance.pinion_rad - drawn_rad).abs() < 1e-5);
    assert_eq!((square(&after).grade, square(&after).remedies.len()), (Grade::Fine, 0));
    for (was, is) in setup.bars.iter().zip(&next.bars) {
        let same = (was.mount_in_frame, was.mount_in_axle) == (is.mount_in_frame, is.mount_in_axle);
        assert!(same && (was.role == Role::Upper || was == is), "{}", was.name);
    }
}

/// A pinion within half a degree of the drawing is where it belongs.
#[test]
fn a_pinion_a_little_off_the_drawing_is_left_alone() {
    let mut setup = upper_bars_too_long();
    setup.driveline = None;
    for (turns, grade) in [(0.25, Grade::Fine), (1.0, Grade::Check)] {
        for bar in setup.bars.iter_mut().filter(|b| b.role == Role::Upper) {
            if let Length::AsBuilt(built) = &mut bar.length {
                built.turns = turns;
            }
        }
        let answers = Answers::of(&setup);
        let off_rad = solved(&answers).stance.pinion_rad - setup.axle.pinion_angle_rad;
        assert_eq!(off_rad.abs() > 0.5f64.to_radians(), grade == Grade::Check, "{off_rad}");
        assert_eq!(square(&answers).grade, grade);
    }
}

/// Parallel to the transmission both joints bend alike: the pinion was turned to suit the shaft, not by mistake.
#[test]
fn a_pinion_that_suits_the_shaft_is_not_called_back_to_the_drawing() {
    let mut setup = upper_bars_too_long();
    let stands_rad = solved(&Answers::of(&setup)).stance.pinion_rad;
    setup.driveline.as_mut().expect("a shaft").output_nose_up_rad = stands_rad;
    let answers = Answers::of(&setup);
    assert_eq!(
        (square(&answers).grade, square(&answers).remedies.len()),
        (Grade::Fine, 0)
    );
}

#[test]
fn without_adjusters_on_the_upper_bars_nobody_is_told_to_turn_them() {
    let mut setup = upper_bars_too_long();
    setup.driveline = None;
    for bar in &mut setup.bars {
        match (&mut bar.length, bar.role) {
            (length, Role::Upper) => *length = Length::CutToSuit,
            (Length::AsBuilt(built), Role::Lower) => built.turns = 3.0,
            _ => {}
        }
    }
    let answers = Answers::of(&setup);
    let finding = square(&answers);
    assert_eq!((finding.grade, finding.remedies.as_slice()), (Grade::Check, &[][..]));
    let sentence = finding.sentence(&setup, Units::Millimetres);
    assert!(
        sentence.contains("upper bars of another length bring the pinion back"),
        "{sentence}"
    );
    assert_eq!(Remedy::SetPinion.apply(&setup, solved(&answers)), None);
}

/// Where the bars put the middle of the axle at ride height.
trait RideY {
    fn ride_y_m(&self) -> f64;
}

impl RideY for Solved {
    fn ride_y_m(&self) -> f64 {
        self.rear_end.ride.origin_in_ground.y
    }
}

/// Statics of one corner, left and right alike: what both coils make at their motion ratios is the weight.
#[test]
fn collars_are_set_to_where_the_truck_stands_at_ride_height() {
    let mut setup = demo("01-parallel-panhard");
    let springs = setup.springs.as_mut().expect("springs");
    let SpringKind::Coilover(coilover) = &mut springs.kind else {
        panic!("demo 01 stands on coilovers")
    };
    coilover.preload_m += 0.02;
    let answers = Answers::of(&setup);
    let (finding, remedy) = offered(&answers, |r| *r == Remedy::SetCollars);
    assert_eq!(finding.grade, Grade::Check);
    let next = remedy.apply(&setup, solved(&answers)).expect("it can be taken");
    let after = Answers::of(&next);
    let ride = solved(&after)
        .level
        .nearest(next.travel.ride_m)
        .expect("a pose")
        .spring
        .expect("springs");
    let carried_n: f64 = ride.sides().iter().filter_map(|s| Some(s.load?.wheel_force_n)).sum();
    let weight_n = 2.0 * next.springs.as_ref().expect("springs").corner_kg * 9.806_65;
    // The nearest of the poses is not ride height itself: a millimetre at the wheel rate.
    assert!((carried_n - weight_n).abs() < 60.0, "{carried_n} N carry {weight_n} N");
    assert!(springs::stand(&next, &solved(&after).level).is_some());
    assert!(!after.findings.iter().any(|f| f.remedies.contains(&Remedy::SetCollars)));
}

#[test]
fn a_preview_says_what_the_list_says_after_the_remedy_is_taken() {
    let setup = demo("01-parallel-panhard");
    let answers = Answers::of(&setup);
    let (levelness, remedy) = offered(&answers, |r| matches!(r, Remedy::LevelBar(..)));
    let preview = Preview::of(remedy, &setup, &answers, Units::Millimetres).expect("it can be taken");
    let next = remedy.apply(&setup, solved(&answers)).expect("it can be taken");
    let after: Vec<_> = Answers::of(&next)
        .findings
        .iter()
        .map(|f| (f.grade, f.sentence(&next, Units::Millimetres)))
        .collect();
    assert!(
        preview
            .instead
            .iter()
            .chain(&preview.new)
            .all(|said| after.contains(said)),
        "{preview:?}"
    );
    let before: Vec<_> = answers
        .findings
        .iter()
        .map(|f| f.sentence(&setup, Units::Millimetres))
        .collect();
    let changed = after
        .iter()
        .filter(|(grade, s)| *grade != Grade::Fine && !before.contains(s))
        .count();
    let told = preview
        .instead
        .iter()
        .chain(&preview.new)
        .filter(|(grade, _)| *grade != Grade::Fine)
        .count();
    assert_eq!(told, changed, "nothing bad is kept back");
    assert!(
        preview
            .instead
            .iter()
            .any(|(grade, s)| *grade == Grade::Fine && s.contains("panhard bar")),
        "{preview:?}"
    );
    assert!(
        preview
            .gone
            .iter()
            .all(|gone| *gone != levelness.sentence(&setup, Units::Millimetres))
    );
}
