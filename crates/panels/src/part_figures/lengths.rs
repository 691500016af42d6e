//! How long a part is, each length under the name of what it is: eye to eye as drawn, eye to eye as built, and what it acts as long as.

use egui::{Button, RichText, Ui, WidgetInfo, WidgetType};
use rearend::mechanism::Part;
use rearend::setup::{AsBuilt, Bar, Length, Role};
use rearend::sideways::effective_length_m;
use rearend::tape::{Dimension, Units};
use shop::{Bench, Change, Command};

use super::told;
use crate::actions::Act;
use crate::field::{Label, labelled_field};
use crate::part_section::draft_id;
use crate::theme::{Inks, strong};

/// As many turns as a file takes, either way.
const MOST_TURNS: f64 = 60.0;

/// Shorter than this from eye to eye nothing is a bar, m.
const SHORTEST_M: f64 = 1e-3;

/// Eye to eye as it is now at ride height; where nothing is solved, what is given or drawn. Of an arm from its eye to where it meets the axle.
pub(super) fn now_m(bench: &Bench, part: Part) -> Option<f64> {
    let setup = bench.setup();
    let given = || setup.length(part).and_then(|l| l.given_m());
    let Ok(solved) = &bench.document().answers().solved else {
        return given().or_else(|| setup.drawn_length_m(part));
    };
    let rear_end = &solved.rear_end;
    let of_arm = || {
        let [eye, mount] = rear_end.ends_in_frame(setup, part, &rear_end.ride)?;
        Some((mount - eye).norm())
    };
    rear_end.length_m(part).or_else(of_arm)
}

/// What is shown, and what a screen reader hears, of one of a part's lengths.
struct Names {
    shown: String,
    heard: String,
}

impl Names {
    fn of(bench: &Bench, part: Part, what: &str) -> Self {
        let shown = rearend::findings::capitalised(what);
        let heard = format!("{shown}, {}", part.link_name(bench.setup()));
        Self { shown, heard }
    }

    fn label(&self) -> Label<'_> {
        Label {
            shown: &self.shown,
            heard: &self.heard,
        }
    }
}

/// Every length of a part, a line each, and whether it is cut to suit or as built.
pub(super) fn lines(ui: &mut Ui, bench: &Bench, part: Part) -> Vec<Act> {
    heading(ui, part);
    let units = bench.units();
    let shown = |m: Option<f64>| m.map_or_else(|| "?".to_owned(), |m| units.length(m));
    let Some(length) = bench.setup().length(part) else {
        let text = format!("{}, made to suit", shown(now_m(bench, part)));
        say(ui, &Names::of(bench, part, "eye to axle"), text);
        return Vec::new();
    };
    let drawn = shown(bench.setup().drawn_length_m(part));
    let as_drawn = Names::of(bench, part, "eye to eye as drawn");
    let next = match length {
        Length::CutToSuit => {
            say(ui, &as_drawn, format!("{drawn}, cut to suit"));
            fix_button(ui, bench, part)
        }
        Length::AsBuilt(bar) => {
            say(ui, &as_drawn, drawn);
            Some(built_lines(ui, bench, part, bar))
        }
    };
    acts_as_long_line(ui, bench, part);
    let next = next.filter(|next| *next != length);
    let change = |length| Act::Do(Command::Apply(Change::SetLength { part, length }));
    next.map(change).into_iter().collect()
}

/// The two links of a Watt's linkage stand in one section, one below the other.
fn heading(ui: &mut Ui, part: Part) {
    let text = match part {
        Part::WattLeft => "Left link",
        Part::WattRight => "Right link",
        Part::Bar(..) | Part::Arm(..) => return,
    };
    ui.label(strong(text, 13.0));
    ui.end_row();
}

fn say(ui: &mut Ui, names: &Names, text: String) {
    told(ui, &names.shown, &names.heard, RichText::new(text));
}

/// A small button in the second column, heard with the part that it is of.
fn button(ui: &mut Ui, text: &str, tip: &str, heard: &str) -> bool {
    ui.label("");
    let button = ui.add(Button::new(text).small()).on_hover_text(tip);
    button.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, heard));
    ui.end_row();
    button.clicked()
}

/// Takes a bar that is cut to suit as it is now for one that has been built.
fn fix_button(ui: &mut Ui, bench: &Bench, part: Part) -> Option<Length> {
    let built = shop::as_built(bench.document().answers(), part)?;
    let length = bench.units().length(built.length_m);
    let tip = "It has been built: from now on it keeps this from eye to eye, has an adjuster, and the axle goes where it puts it";
    let heard = format!("Fix the {} as built at {length}", part.link_name(bench.setup()));
    button(ui, &format!("Fix as built at {length}"), tip, &heard).then_some(Length::AsBuilt(built))
}

/// What can be typed of a bar that has been built: what the tape says of it now, and how far its adjuster is turned.
fn built_lines(ui: &mut Ui, bench: &Bench, part: Part, before: AsBuilt) -> Length {
    let units = bench.units();
    let mut bar = before;
    if let Some(now_m) = built_field(ui, bench, part, before) {
        // The tape is put to the bar as it is: its turns stay, and what it was delivered at follows.
        bar.length_m = now_m - before.turns * before.adjuster.per_turn_m();
    }
    bar.turns = turns_field(ui, bench, part, before).unwrap_or(bar.turns);
    ui.label("");
    let adjuster = format!("{} a turn", units.length(before.adjuster.per_turn_m()));
    ui.label(RichText::new(adjuster).color(Inks::of(ui).soft).size(12.0));
    ui.end_row();
    let tip = "Its mounts decide again how long it is; the axle stays where it is";
    let heard = format!("Cut the {} to suit", part.link_name(bench.setup()));
    let cut = button(ui, "Cut to suit", tip, &heard);
    if cut { Length::CutToSuit } else { Length::AsBuilt(bar) }
}

fn built_field(ui: &mut Ui, bench: &Bench, part: Part, bar: AsBuilt) -> Option<f64> {
    let (units, now_m) = (bench.units(), bar.now_m());
    let names = Names::of(bench, part, "eye to eye as built");
    let read = |text: &str| read_length_m(units, text);
    let (id, shown) = (draft_id(bench.setup(), part, "as built"), units.editable(now_m));
    let typed_m = labelled_field(ui, id, names.label(), &shown, read)?;
    // What is shown has fewer decimals than what is kept.
    ((typed_m - now_m).abs() > 1e-9).then_some(typed_m)
}

fn read_length_m(units: Units, text: &str) -> Result<f64, String> {
    let typed_m = units.read(text).map_err(|e| e.to_string())?;
    if typed_m < SHORTEST_M {
        return Err("what the tape says from eye to eye is expected".to_owned());
    }
    Ok(typed_m)
}

fn turns_field(ui: &mut Ui, bench: &Bench, part: Part, bar: AsBuilt) -> Option<f64> {
    let names = Names::of(bench, part, "turns, + longer");
    let read = |text: &str| {
        let turns = Dimension::Ratio.read(bench.units(), text).ok();
        let turns = turns.filter(|turns| turns.abs() <= MOST_TURNS);
        turns.ok_or_else(|| format!("a number from -{MOST_TURNS} to {MOST_TURNS} is expected"))
    };
    let shown = Dimension::Ratio.editable(bench.units(), bar.turns);
    let typed = labelled_field(ui, draft_id(bench.setup(), part, "turns"), names.label(), &shown, read)?;
    ((typed - bar.turns).abs() > 1e-9).then_some(typed)
}

/// Of a pair that runs front to back: seen from the side it acts as a shorter bar than it is where it is angled in plan.
fn acts_as_long_line(ui: &mut Ui, bench: &Bench, part: Part) {
    let Part::Bar(id, _) = part else { return };
    let runs_along = |bar: &Bar| bar.mirrored && bar.role != Role::Sideways;
    if !bench.setup().bar(id).is_some_and(runs_along) {
        return;
    }
    if let Some(acts_m) = effective_length_m(bench.setup(), id) {
        let names = Names::of(bench, part, "acts as long as");
        say(
            ui,
            &names,
            format!("{}, seen from the side", bench.units().length(acts_m)),
        );
    }
}
