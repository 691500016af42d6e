//! The figures of a part in the drawer: its lengths, and how far its joints swing.

mod lengths;

use egui::{RichText, Ui, WidgetInfo, WidgetType};
use rearend::findings::Grade;
use rearend::mechanism::Part;
use rearend::setup::{BarEnd, Carrier, Watt};
use rearend::swing::Swing;
use rearend::tape::degrees;
use shop::Bench;

use crate::actions::Act;
use crate::theme::Inks;

/// What its header says: the name, and from eye to eye at a glance.
pub(crate) fn header_text(bench: &Bench, part: Part) -> String {
    let name = part.plain_name(bench.setup());
    let length = lengths::now_m(bench, part).map(|m| bench.units().length(m));
    match (part, length) {
        // Its two links have a length each.
        (Part::WattLeft | Part::WattRight, _) | (_, None) => name.to_owned(),
        (Part::Arm(..), Some(length)) => format!("{name}, {length} eye to axle"),
        (Part::Bar(..), Some(length)) => format!("{name}, {length} eye to eye"),
    }
}

/// Its lengths and swings, a line each, in the grid of its section.
pub(crate) fn figures_ui(ui: &mut Ui, bench: &Bench, part: Part) -> Vec<Act> {
    let mut acts = Vec::new();
    for link in links_of(part) {
        acts.extend(lengths::lines(ui, bench, link));
        swing_line(ui, bench, link, BarEnd::Frame);
        swing_line(ui, bench, link, BarEnd::Axle);
    }
    acts
}

/// What has a length of its own.
fn links_of(part: Part) -> Vec<Part> {
    match part {
        Part::WattLeft | Part::WattRight => vec![Part::WattLeft, Part::WattRight],
        _ => vec![part],
    }
}

/// A line that can only be read; a screen reader hears which part it is of.
fn told(ui: &mut Ui, shown: &str, heard: &str, text: RichText) {
    ui.label(RichText::new(shown).color(Inks::of(ui).soft));
    let line = ui.label(text.clone());
    let text = text.text();
    line.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, format!("{heard}: {text}")));
    ui.end_row();
}

/// How far an end leans of what it may, on the side where that is farthest.
fn swing_line(ui: &mut Ui, bench: &Bench, part: Part, end: BarEnd) {
    let setup = bench.setup();
    let swings = bench
        .document()
        .answers()
        .solved
        .as_ref()
        .map_or(&[][..], |s| &s.swings);
    let is_of_it = |swing: &&Swing| swing.end == end && is_same_pair(swing.part, part);
    let used = |swing: &Swing| swing.most_rad / swing.limit_rad;
    let Some(swing) = swings
        .iter()
        .filter(is_of_it)
        .max_by(|a, b| used(a).total_cmp(&used(b)))
    else {
        return;
    };
    let on = match (part, end) {
        (Part::WattLeft | Part::WattRight, BarEnd::Axle) => "crank",
        (Part::WattLeft | Part::WattRight, BarEnd::Frame) => {
            setup.watt.as_ref().map_or(Carrier::Frame, Watt::links_to).name()
        }
        _ => end.carrier().name(),
    };
    let (most, limit) = (degrees(swing.most_rad, 1), degrees(swing.limit_rad, 1));
    let text = if swing.most_rad > swing.limit_rad {
        let (mark, colour) = Inks::grade(ui, Grade::Check);
        RichText::new(format!("{mark} {most} of {limit}, more than it may")).color(colour)
    } else {
        RichText::new(format!("{most} of {limit}"))
    };
    let heard = format!("Swing of the {} on the {on}", part.link_name(setup));
    told(ui, &format!("Swing on the {on}"), &heard, text);
}

/// True for either of a mirrored pair.
fn is_same_pair(a: Part, b: Part) -> bool {
    match (a, b) {
        (Part::Bar(a, _), Part::Bar(b, _)) => a == b,
        (Part::Arm(a, _), Part::Arm(b, _)) => a == b,
        _ => a == b,
    }
}
