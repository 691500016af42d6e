//! The findings and the notice above them.

use egui::accesskit::Role;
use egui::{Key, vec2};
use egui_kittest::kittest::Queryable;
use panels::{Act, findings_ui};
use rearend::findings::{Finding, Grade, Kind};
use rearend::setup::Travel;
use rearend::tape::Units;
use shop::{Bench, Change, Command, Notice};

use crate::support::{Window, acts, bench, click, key, painted, says, settle, window};

fn list(bench: Bench) -> Window {
    window(bench, vec2(1000.0, 1500.0), |ui, bench| findings_ui(ui, bench, None))
}

fn findings(bench: &Bench) -> &[Finding] {
    &bench.document().answers().findings
}

fn sentence(bench: &Bench, finding: &Finding) -> String {
    finding.sentence(bench.setup(), bench.units())
}

/// A truck that is asked to rise further than its bars reach.
fn lifted_too_far() -> Bench {
    let mut bench = bench(0);
    let travel = Travel {
        full_lift_m: 1.5,
        ..bench.setup().travel
    };
    bench.run(Command::Apply(Change::SetTravel(travel)));
    bench
}

fn levelness(bench: &Bench) -> Finding {
    let level = |f: &&Finding| matches!(f.kind, Kind::Level(_));
    findings(bench)
        .iter()
        .find(level)
        .expect("the panhard bar has a finding")
        .clone()
}

/// Three demos, and one that is asked too much of.
fn several() -> Vec<Bench> {
    (0..3).map(bench).chain([lifted_too_far()]).collect()
}

#[test]
fn every_finding_is_a_sentence_with_its_grade_in_words() {
    let mut words_seen = std::collections::HashSet::new();
    for mut bench in several() {
        for units in Units::ALL {
            bench.run(Command::SetUnits(units));
            let window = list(bench.clone());
            for finding in findings(&bench) {
                assert!(says(&window, &sentence(&bench, finding)), "{finding:?}");
            }
            // Grades and sentences are painted in turn, most serious first.
            let texts = painted(&window);
            let grade = |t: &String| {
                ["won't work", "check", "fine"]
                    .iter()
                    .position(|w| t.ends_with(&format!(" {w}")))
            };
            // The line that counts them has a number before the word.
            let is_count = |t: &String| t.chars().any(|c| c.is_ascii_digit());
            let shown: Vec<_> = texts.iter().filter(|t| !is_count(t)).filter_map(grade).collect();
            let wanted: Vec<_> = findings(&bench)
                .iter()
                .map(|f| match f.grade {
                    Grade::WontWork => 0,
                    Grade::Check => 1,
                    Grade::Fine => 2,
                })
                .collect();
            assert_eq!(shown, wanted);
            assert!(shown.is_sorted(), "{shown:?}");
            words_seen.extend(shown);
        }
    }
    assert_eq!(words_seen.len(), 3, "all three words were met");
}

#[test]
fn clicking_a_finding_goes_to_its_height_and_lights_its_part() {
    let mut met = 0;
    for bench in several() {
        for finding in findings(&bench) {
            let sentence = sentence(&bench, finding);
            let mut window = list(bench.clone());
            window.get_by_label(&sentence).click();
            settle(&mut window);
            let acts = acts(&mut window);
            match finding.height_m {
                Some(height_m) => {
                    // Within the travel to the last bit, which a height of the sweep is not.
                    let stood_m = window.state().bench.stand().height_m;
                    assert!((stood_m - height_m).abs() < 1e-9, "{sentence}: {stood_m}");
                    let rolled_rad = finding.roll_rad.unwrap_or(0.0);
                    assert_eq!(window.state().bench.stand().roll_rad, rolled_rad);
                    assert!(acts.contains(&Act::Light(finding.lit())), "{sentence}: {acts:?}");
                }
                None if finding.lit().is_empty() => assert_eq!(acts, [], "{sentence}"),
                None => assert!(acts.contains(&Act::Light(finding.lit())), "{sentence}: {acts:?}"),
            }
            met += usize::from(finding.height_m.is_some() && !finding.lit().is_empty());
        }
    }
    assert!(met >= 2, "some have both a height and a part");
}

#[test]
fn the_pointer_over_a_finding_lights_its_part() {
    let bench = bench(0);
    let finding = levelness(&bench);
    let mut window = list(bench.clone());
    window.get_by_label(&sentence(&bench, &finding)).hover();
    settle(&mut window);
    let lit = acts(&mut window);
    assert!(
        finding.part.is_some() && lit.contains(&Act::Light(finding.lit())),
        "{lit:?}"
    );
    assert_eq!(window.state().bench.stand(), bench.stand(), "looking is not going");
}

#[test]
fn the_pointer_over_a_remedy_says_what_it_would_change() {
    let bench = bench(0);
    let remedy = levelness(&bench).remedies[0];
    let mut window = list(bench.clone());
    window.get_by_label(remedy.label()).hover();
    settle(&mut window);
    for _ in 0..30 {
        window.step();
    }
    let after = remedy
        .apply(
            bench.setup(),
            bench.document().answers().solved.as_ref().expect("it solves"),
        )
        .expect("it can be taken");
    let answers = rearend::answers::Answers::of(&after);
    let level = answers
        .findings
        .iter()
        .find(|f| f.remedies.len() == 1 && f.part == levelness(&bench).part);
    let sentence = level.expect("it is still told").sentence(&after, bench.units());
    assert!(window.query_by_label(&sentence).is_some(), "{sentence}");
    assert!(window.query_by_label("It would then say").is_some());
    assert_eq!(window.state().bench.setup(), bench.setup(), "looking is not doing");
}

#[test]
fn a_finding_is_reached_and_followed_by_keyboard() {
    let bench = bench(0);
    let finding = levelness(&bench);
    let mut window = list(bench.clone());
    window.get_by_label(&sentence(&bench, &finding)).focus();
    settle(&mut window);
    key(&mut window, Key::Enter);
    assert_eq!(Some(window.state().bench.stand().height_m), finding.height_m);
}

/// Sideways shift laid out and at full lift.
fn shift_at_ends(bench: &Bench) -> [f64; 2] {
    let level = &bench
        .document()
        .answers()
        .solved
        .as_ref()
        .expect("the setup is solved")
        .level;
    [0, level.rows.len() - 1].map(|i| level.rows[i].shift_m)
}

#[test]
fn levelling_at_half_travel_puts_the_axle_at_the_same_place_at_both_ends() {
    let mut window = list(bench(0));
    let [low, high] = shift_at_ends(&window.state().bench);
    assert!((low - high).abs() > 1e-3, "the bar of this demo slopes: {low} {high}");
    assert_eq!(levelness(&window.state().bench).grade, Grade::Check);

    click(&mut window, Role::Button, "level it at half travel");
    let [low, high] = shift_at_ends(&window.state().bench);
    // The other bars of this demo are level at half travel too, so that both ends mirror each other.
    assert!((low - high).abs() < 1e-7, "{low} {high}");
    let level = levelness(&window.state().bench);
    assert_eq!(level.grade, Grade::Fine);
    assert!(says(&window, &sentence(&window.state().bench, &level)));
    assert!(
        !says(&window, "level it at half travel"),
        "what is done is not offered again"
    );
    assert!(says(&window, "level it at ride height"), "the other way is");
}

#[test]
fn levelling_at_ride_height_moves_the_axle_least_there() {
    let mut window = list(bench(0));
    click(&mut window, Role::Button, "level it at ride height");
    let bench = &mut window.state_mut().bench;
    let solved = bench.document().answers().solved.as_ref().expect("the setup is solved");
    let ride_m = bench.setup().travel.ride_m;
    let near = solved.level.rows.iter().filter(|r| (r.height_m - ride_m).abs() < 0.01);
    let most = near.map(|r| r.shift_m.abs()).fold(0.0, f64::max);
    // A level bar of some 0.78 m goes 0.01^2 / (2 * 0.78) m sideways over a centimetre.
    assert!(most < 1e-4, "{most}");
    bench.run(Command::Undo);
    assert_eq!(bench.setup(), crate::support::bench(0).setup(), "a remedy is one step");
}

#[test]
fn a_notice_is_shown_until_it_is_closed() {
    for notice in [
        Notice::Done("Saved to orchard.ron.".to_owned()),
        Notice::Refused("That is no setup.".to_owned()),
    ] {
        let (Notice::Done(text) | Notice::Refused(text)) = notice.clone();
        let mut bench = bench(0);
        bench.tell(notice);
        let mut window = list(bench);
        assert!(says(&window, &text));
        click(&mut window, Role::Button, "close");
        assert_eq!(window.state().bench.notice(), None);
        assert!(!says(&window, &text) && !says(&window, "close"));
    }
}
