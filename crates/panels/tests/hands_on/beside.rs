//! Side by side: the table, and the curves of those beside on the strips.

use std::cell::Cell;
use std::rc::Rc;

use egui::accesskit::Role;
use egui::{Color32, Shape, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use nalgebra::Vector3;
use panels::{Quantity, beside_ink, beside_ui, strips_ui};
use rearend::figures::CAUTION;
use rearend::setup::BarEnd;
use rearend::tape::Units;
use shop::{Bench, Change, Command, MOST_BESIDE, demo};

use crate::support::{Window, bench, click, commands, mount, painted, says, settle, window};

const SHIFT: &str = "Largest sideways shift";

fn table(bench: Bench) -> Window {
    window(bench, vec2(1300.0, 900.0), beside_ui)
}

fn strips(bench: Bench) -> Window {
    window(bench, vec2(420.0, 620.0), |ui, bench| {
        strips_ui(ui, bench, &[Quantity::ForeAft])
    })
}

fn title(which: usize) -> String {
    demo::ALL[which].setup().expect("a demo scene reads").name
}

/// The value that a label says.
fn values(window: &Window, part: &str) -> Vec<String> {
    let found = window.get_all_by_label_contains(part);
    found.filter_map(|n| n.accesskit_node().value()).collect()
}

/// The one cell of a row and a setup, as it is said.
#[track_caller]
fn cell(window: &Window, row: &str, name: &str) -> String {
    let begins = format!("{row}, {name}: ");
    let found = values(window, &begins);
    assert_eq!(found.len(), 1, "{begins}: {found:?}");
    found.concat()
}

fn with_demos(demos: &[usize]) -> Bench {
    let mut bench = bench(0);
    for which in demos {
        bench.run(Command::PutDemoBeside(*which));
    }
    bench
}

#[test]
fn an_empty_table_says_what_it_is_for_and_takes_a_copy() {
    let mut window = table(bench(0));
    let told = painted(&window).join(" ");
    assert!(told.contains("Put a copy of it beside"), "{told}");
    click(&mut window, Role::Button, "Put a copy beside");
    assert_eq!(commands(&mut window), [Command::PutBeside]);
    settle(&mut window);
    let copy = format!("{}, copy 1", title(0));
    assert!(says(&window, &format!("Onto the bench: {copy}")));
    assert!(
        painted(&window).iter().any(|t| t == CAUTION),
        "figures carry the caution"
    );
}

/// The Watt's linkage draws a flat S where the panhard bar swings on an arc.
#[test]
fn the_best_figure_has_the_word_beside_it_and_a_copy_of_it_too() {
    let mut bench = with_demos(&[1]);
    bench.run(Command::SetUnits(Units::Millimetres));
    let comparison = bench.comparison();
    let shift = |i: usize| comparison.rows[0].words(i, Units::Millimetres);
    let mut window = table(bench);
    assert_eq!(
        cell(&window, SHIFT, &title(0)),
        format!("{SHIFT}, {}: {}", title(0), shift(0))
    );
    assert_eq!(
        cell(&window, SHIFT, &title(1)),
        format!("{SHIFT}, {}: {}, best", title(1), shift(1))
    );
    click(&mut window, Role::Button, &format!("Onto the bench: {}", title(1)));
    click(&mut window, Role::Button, "Put a copy beside");
    let copy = format!("{}, copy 1", title(1));
    for name in [title(1), copy] {
        assert!(cell(&window, SHIFT, &name).ends_with(", best"));
    }
    assert!(!cell(&window, SHIFT, &title(0)).contains("best"));
}

#[test]
fn every_setup_is_swapped_and_taken_away_by_its_name() {
    let mut window = table(with_demos(&[1, 2]));
    click(&mut window, Role::Button, &format!("Onto the bench: {}", title(2)));
    assert_eq!(commands(&mut window), [Command::SwapWith(1)]);
    assert_eq!(window.state().bench.setup().name, title(2));
    assert!(
        says(&window, &format!("Onto the bench: {}", title(0))),
        "the other is where it was"
    );
    assert!(!says(&window, &format!("Onto the bench: {}", title(2))));
    click(&mut window, Role::Button, &format!("Take away: {}", title(1)));
    assert_eq!(commands(&mut window), [Command::TakeAway(0)]);
    assert!(!says(&window, &format!("Take away: {}", title(1))));
    click(&mut window, Role::Button, &format!("Put back {}", title(1)));
    assert!(says(&window, &format!("Take away: {}", title(1))));
}

#[test]
fn a_demo_comes_beside_by_its_title() {
    let mut window = table(bench(0));
    click(&mut window, Role::Button, "Put a demo beside");
    click(&mut window, Role::Button, demo::ALL[3].title);
    assert_eq!(commands(&mut window), [Command::PutDemoBeside(3)]);
}

#[test]
fn where_five_are_beside_there_is_no_more_to_press() {
    let mut window = table(with_demos(&[1, 2, 3, 4, 5]));
    assert_eq!(window.state().bench.beside().documents().len(), MOST_BESIDE);
    let copy = window.get_by_role_and_label(Role::Button, "Put a copy beside");
    assert!(copy.accesskit_node().is_disabled());
    copy.click();
    settle(&mut window);
    assert!(commands(&mut window).is_empty());
    for name in (1..=5).map(title) {
        assert!(says(&window, &format!("Take away: {name}")), "{name}");
    }
}

#[test]
fn what_is_in_no_file_is_told() {
    let mut bench = bench(0);
    bench.run(Command::PutDemoBeside(1));
    assert!(!says_in_no_file(&table(bench.clone())), "a demo can be had again");
    bench.run(Command::PutBeside);
    assert!(says_in_no_file(&table(bench)));
}

fn says_in_no_file(window: &Window) -> bool {
    painted(window).iter().any(|t| t == "in no file yet")
}

#[test]
fn every_setup_has_a_line_of_its_own_that_is_told_in_words() {
    let window = table(with_demos(&[1, 2, 3, 4, 5]));
    let mut seen = std::collections::HashSet::new();
    for name in (0..=5).map(title) {
        let begins = format!("{name} is drawn as ");
        let found: Vec<_> = window.get_all_by_label_contains(&begins).collect();
        assert_eq!(found.len(), 1, "{name}");
        let said = found[0].accesskit_node().label().expect("a picture has a label");
        seen.insert(said[begins.len()..].to_owned());
    }
    assert_eq!(seen.len(), 6, "{seen:?}");
}

/// What the strip of this title says of itself.
#[track_caller]
fn description(window: &Window, title: &str) -> String {
    let begins = format!("{title}: ");
    let found: Vec<String> = values(window, &begins)
        .into_iter()
        .filter(|v| v.starts_with(&begins))
        .collect();
    assert_eq!(found.len(), 1, "{found:?}");
    found.concat()
}

#[test]
fn a_strip_names_those_beside_with_their_line_and_their_ends() {
    let alone = description(&strips(bench(0)), "Axle shift");
    let other = description(&strips(bench(1)), "Axle shift");
    let both = description(&strips(with_demos(&[1])), "Axle shift");
    let ends = other.strip_prefix("Axle shift: ").expect("it begins so");
    assert_eq!(both, format!("{alone}; {}, long dashes, {ends}", title(1)));
}

/// Colours of every line and dot that is painted.
fn inks(window: &Window) -> Vec<Color32> {
    fn collect(shape: &Shape, found: &mut Vec<Color32>) {
        match shape {
            Shape::Vec(all) => all.iter().for_each(|s| collect(s, found)),
            Shape::LineSegment { stroke, .. } => found.push(stroke.color),
            Shape::Circle(circle) => found.push(circle.fill),
            _ => {}
        }
    }
    let mut found = Vec::new();
    for clipped in &window.output().shapes {
        collect(&clipped.shape, &mut found);
    }
    found
}

#[test]
fn curves_of_those_beside_are_drawn_in_their_ink_and_gone_when_they_are() {
    let ours = Rc::new(Cell::new([Color32::TRANSPARENT; 5]));
    let told = Rc::clone(&ours);
    window(bench(0), vec2(50.0, 50.0), move |ui, _| {
        told.set([1, 2, 3, 4, 5].map(|place| beside_ink(ui, place)));
        Vec::new()
    });
    let ours = ours.get();
    assert!((1..5).all(|i| !ours[..i].contains(&ours[i])), "{ours:?}");
    for count in 0..=5 {
        let demos: Vec<usize> = (1..=count).collect();
        let painted = inks(&strips(with_demos(&demos)));
        for (i, ink) in ours.iter().enumerate() {
            assert_eq!(painted.contains(ink), i < count, "{} of {count}", i + 1);
        }
    }
}

#[test]
fn the_full_scale_holds_the_curves_of_those_beside() {
    let full = |bench: Bench| {
        let texts = painted(&strips(bench));
        let written = texts.iter().find_map(|t| t.strip_prefix("full scale\n±"));
        let digits = written.and_then(|t| t.split(' ').next()).expect("a full scale is told");
        digits.parse::<f64>().expect("it is a number")
    };
    let mut bench = bench(1);
    bench.run(Command::SetUnits(Units::Millimetres));
    let alone = full(bench.clone());
    bench.run(Command::PutDemoBeside(0));
    let travel = bench.setup().travel;
    let rows = bench.beside().documents()[0].answers().level_rows();
    let seen = rows
        .iter()
        .filter(|r| (travel.laid_out_m - 1e-9..=travel.full_lift_m + 1e-9).contains(&r.height_m));
    let largest = seen.map(|r| r.shift_m.abs() * 1e3).fold(0.0, f64::max);
    let both = full(bench);
    assert!(
        alone < largest,
        "the flat S alone has a finer scale: {alone}, {largest}"
    );
    assert!((largest..=3.0 * largest).contains(&both), "{both} for {largest}");
}

/// Changing the open setup is seen in its own column and in no other.
#[test]
fn a_copy_keeps_its_figures_while_the_open_setup_changes() {
    let mut window = table(bench(0));
    click(&mut window, Role::Button, "Put a copy beside");
    let copy = format!("{}, copy 1", title(0));
    let before = (cell(&window, SHIFT, &title(0)), cell(&window, SHIFT, &copy));
    let frame = mount(2, BarEnd::Frame);
    let to = window.state().bench.setup().mount(frame).expect("it is there").point + Vector3::z() * 0.03;
    window
        .state_mut()
        .bench
        .run(Command::Apply(Change::MoveMount { mount: frame, to }));
    settle(&mut window);
    assert_ne!(cell(&window, SHIFT, &title(0)), before.0);
    // It may be the best of the two now, or no longer: the figure is what it was.
    let figure = |said: &str| said.trim_end_matches(", best").to_owned();
    assert_eq!(figure(&cell(&window, SHIFT, &copy)), figure(&before.1));
}
