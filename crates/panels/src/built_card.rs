//! How the axle stands at ride height, what one turn of each adjuster does, and buttons to turn them: one by one, or until it is square.

use egui::{Button, Grid, Id, Label, RichText, Ui, WidgetInfo, WidgetType};
use rearend::findings::{directed, nose};
use rearend::mechanism::Part;
use rearend::setup::{AsBuilt, Length};
use rearend::square::{MARKS_AHEAD_M, Squaring, Stance, TurnEffect, turns_in_words};
use rearend::tape::{Units, degrees};
use shop::{Bench, Change, Command};

use crate::actions::Act;
use crate::theme::{Inks, strong};

/// As many turns as a file takes, either way.
const MOST_TURNS: f64 = 60.0;

/// What the buttons of a row turn by, and how that is said.
const BUTTONS: [(f64, &str, &str); 4] = [
    (-1.0, "-1", "Shorten the {} by one turn"),
    (-0.5, "-1/2", "Shorten the {} by half a turn"),
    (0.5, "+1/2", "Lengthen the {} by half a turn"),
    (1.0, "+1", "Lengthen the {} by one turn"),
];

/// Draws the card.
pub fn built_card_ui(ui: &mut Ui, bench: &Bench) -> Vec<Act> {
    let Ok(solved) = &bench.document().answers().solved else {
        ui.label("Nothing is solved; see the findings.");
        return Vec::new();
    };
    let units = bench.units();
    ui.label(strong("At ride height", 14.0));
    stance(ui, &solved.stance, units);
    ui.add_space(4.0);
    ui.label(strong("One turn longer", 14.0));
    if solved.turns.is_empty() {
        let text = "Every bar is cut to suit, so the axle stands as drawn. Take a bar as built, in the parts drawer or on the card of its mount, to give it a length of its own and an adjuster.";
        soft(ui, text);
        return Vec::new();
    }
    let mut acts = turns(ui, bench, &solved.turns);
    ui.add_space(4.0);
    acts.extend(square_it(ui, bench));
    acts
}

fn soft(ui: &mut Ui, text: &str) {
    let soft = Inks::of(ui).soft;
    ui.add(Label::new(RichText::new(text).color(soft).size(12.0)).wrap());
}

fn stance(ui: &mut Ui, stance: &Stance, units: Units) {
    ui.add(Label::new(verdict(stance, units)).wrap());
    let lines = [
        ("Right tyre", directed(units, stance.out_of_square_m, "ahead", "behind")),
        ("Axle, sideways", directed(units, stance.left_m, "left", "right")),
        ("Axle, lengthwise", directed(units, stance.forward_m, "forward", "back")),
        ("Pinion", nose(stance.pinion_rad)),
        ("Left mark to right end", units.length(stance.left_to_right_m)),
        ("Right mark to left end", units.length(stance.right_to_left_m)),
    ];
    Grid::new("stance").num_columns(2).show(ui, |ui| {
        for (name, value) in lines {
            ui.label(name);
            ui.label(value);
            ui.end_row();
        }
    });
    let marks = format!(
        "Marks go under both rails, outside, {} ahead of the axle line; the ends are the wheel flanges.",
        units.length(MARKS_AHEAD_M)
    );
    soft(ui, &marks);
}

/// Square and central or not, each within what.
fn verdict(stance: &Stance, units: Units) -> String {
    let (square, central) = (stance.squareness(units), stance.centring(units));
    format!("The axle is {square}; it is {central}.")
}

fn turns(ui: &mut Ui, bench: &Bench, turns: &[TurnEffect]) -> Vec<Act> {
    let units = bench.units();
    let mut acts = Vec::new();
    Grid::new("turns").num_columns(5).striped(true).show(ui, |ui| {
        for head in ["of the", "right tyre", "sideways", "lengthwise", "pinion"] {
            ui.label(RichText::new(head).color(Inks::of(ui).soft).size(12.0));
        }
        ui.end_row();
        for effect in turns {
            acts.extend(ui.vertical(|ui| adjuster(ui, bench, effect.part)).inner);
            for (moved_m, plus, minus) in [
                (effect.out_of_square_m, "ahead", "behind"),
                (effect.left_m, "left", "right"),
                (effect.forward_m, "forward", "back"),
            ] {
                ui.label(in_two_lines(&directed(units, moved_m, plus, minus)));
            }
            let nose = if effect.pinion_rad < 0.0 { "down" } else { "up" };
            ui.label(format!("{} {nose}", degrees(effect.pinion_rad.abs(), 2)));
            ui.end_row();
        }
    });
    acts
}

/// The number, and below it which way: the rows are high anyway, and the card is narrow.
fn in_two_lines(movement: &str) -> String {
    match movement.rsplit_once(' ') {
        Some((number, way)) if number.contains(' ') => format!("{number}\n{way}"),
        _ => movement.to_owned(),
    }
}

/// A bar's name, how far its adjuster is turned, and the buttons that turn it.
fn adjuster(ui: &mut Ui, bench: &Bench, part: Part) -> Option<Act> {
    let name = part.link_name(bench.setup());
    ui.label(&name);
    let Some(Length::AsBuilt(bar)) = bench.setup().length(part) else {
        return None;
    };
    let turned = turns_in_words(bar.turns).unwrap_or_else(|| "as delivered".to_owned());
    ui.label(RichText::new(turned).color(Inks::of(ui).soft).size(12.0));
    let mut pressed = None;
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        ui.spacing_mut().button_padding.x = 4.0;
        for (by, text, says) in BUTTONS {
            if turn_button(ui, text, &says.replace("{}", &name)) {
                pressed = Some(by);
            }
        }
    });
    let turns = (bar.turns + pressed?).clamp(-MOST_TURNS, MOST_TURNS);
    Some(set(part, AsBuilt { turns, ..bar }))
}

fn turn_button(ui: &mut Ui, text: &str, says: &str) -> bool {
    let button = ui.add(Button::new(text).small()).on_hover_text(says);
    button.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, says));
    button.clicked()
}

fn set(part: Part, bar: AsBuilt) -> Act {
    let length = Length::AsBuilt(bar);
    Act::Do(Command::Apply(Change::SetLength { part, length }))
}

/// What squaring would do, worked out once for every state of the setup.
#[derive(Clone)]
struct Worked {
    revision: u64,
    squaring: Option<Squaring>,
}

/// While a drag goes on what was worked out before it stays: it takes longer than a frame of a drag should.
fn worked(ui: &Ui, bench: &Bench) -> Option<Squaring> {
    let id = Id::new("squaring, worked out");
    let (document, before) = (bench.document(), ui.data(|d| d.get_temp::<Worked>(id)));
    let revision = document.revision();
    if let Some(worked) = before.filter(|w| w.revision == revision || document.in_step()) {
        return worked.squaring;
    }
    if document.in_step() {
        return None;
    }
    let squaring = Squaring::of(bench.setup());
    let worked = Worked {
        revision,
        squaring: squaring.clone(),
    };
    ui.data_mut(|d| d.insert_temp(id, worked));
    squaring
}

/// Turns every adjuster that helps, as one step, and says beforehand by how much and what is left.
fn square_it(ui: &mut Ui, bench: &Bench) -> Option<Act> {
    let squaring = worked(ui, bench);
    let turns = squaring.as_ref().map_or(&[][..], |s| &s.turns);
    let can = !turns.is_empty() && !bench.document().in_step();
    let tip = "Turns the adjusters so that the axle is square, in the middle and its pinion as drawn, as near as quarter turns come to it";
    let button = ui.add_enabled(can, Button::new("Square it")).on_hover_text(tip);
    match &squaring {
        Some(squaring) => soft(ui, &promise(bench, squaring)),
        None => soft(ui, "Where the bars cannot be bolted in nothing can be squared."),
    }
    if !button.clicked() {
        return None;
    }
    let all = turns.iter().map(|turned| (turned.part, turned.to)).collect();
    Some(Act::Do(Command::Apply(Change::TurnAll(all))))
}

fn promise(bench: &Bench, squaring: &Squaring) -> String {
    let units = bench.units();
    if squaring.turns.is_empty() {
        return "No quarter turn of an adjuster brings the axle nearer to square, central and its pinion as drawn."
            .to_owned();
    }
    let each = squaring.turns.iter().filter_map(|turned| {
        let words = turns_in_words(turned.by)?;
        Some(format!("the {} {words}", turned.part.link_name(bench.setup())))
    });
    let after = &squaring.stance;
    let verdict = if after.is_square() && after.is_central() {
        format!("{}, {}", after.squareness(units), after.centring(units))
    } else {
        "as near to square and central as these adjusters bring it".to_owned()
    };
    format!(
        "It turns {}. That leaves the right tyre {}, the axle {} and {}, the pinion {}: {verdict}.",
        each.collect::<Vec<_>>().join(", "),
        directed(units, after.out_of_square_m, "ahead", "behind"),
        directed(units, after.left_m, "left", "right"),
        directed(units, after.forward_m, "forward", "back"),
        nose(after.pinion_rad),
    )
}
