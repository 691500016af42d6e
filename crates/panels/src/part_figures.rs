//! What can only be read of a part in the drawer: its length and where that comes from, and how far its joints swing.

use egui::{RichText, Ui, WidgetInfo, WidgetType};
use rearend::findings::Grade;
use rearend::mechanism::Part;
use rearend::setup::{BarEnd, Carrier, Length, Setup, Watt};
use rearend::swing::Swing;
use rearend::tape::degrees;
use shop::Bench;

use crate::theme::Inks;

/// A part as its description has it: without a side, a Watt's linkage as a whole.
pub(crate) fn plain_name(setup: &Setup, part: Part) -> String {
    match part {
        Part::Bar(bar, _) => setup.bar(bar).map_or_else(|| "bar".to_owned(), |b| b.name.clone()),
        Part::Arm(arm, _) => setup.arm(arm).map_or_else(|| "arm".to_owned(), |a| a.name.clone()),
        Part::WattLeft | Part::WattRight => "Watt's linkage".to_owned(),
    }
}

/// What its header says: the name, and the length at a glance.
pub(crate) fn header_text(bench: &Bench, part: Part) -> String {
    let name = plain_name(bench.setup(), part);
    let length = length_m(bench, part).map(|m| bench.units().length(m));
    match (part, length) {
        // Its two links have a length each.
        (Part::WattLeft | Part::WattRight, _) | (_, None) => name,
        (_, Some(length)) => format!("{name}, {length}"),
    }
}

/// Its figures, a line each, in the grid of its section.
pub(crate) fn figures_ui(ui: &mut Ui, bench: &Bench, part: Part) {
    for link in links_of(part) {
        length_line(ui, bench, link);
        swing_line(ui, bench, link, BarEnd::Frame);
        swing_line(ui, bench, link, BarEnd::Axle);
    }
}

/// What has a length of its own.
fn links_of(part: Part) -> Vec<Part> {
    match part {
        Part::WattLeft | Part::WattRight => vec![Part::WattLeft, Part::WattRight],
        _ => vec![part],
    }
}

/// Centre to centre at ride height; where nothing is solved, what is given.
fn length_m(bench: &Bench, part: Part) -> Option<f64> {
    let setup = bench.setup();
    let given = || setup.length(part).and_then(|l| l.given_m());
    let Ok(solved) = &bench.document().answers().solved else {
        return given();
    };
    let rear_end = &solved.rear_end;
    let of_arm = || {
        let [eye, mount] = rear_end.ends_in_frame(setup, part, &rear_end.ride)?;
        Some((mount - eye).norm())
    };
    rear_end.length_m(part).or_else(of_arm)
}

fn length_line(ui: &mut Ui, bench: &Bench, part: Part) {
    let (shown, heard) = match part {
        Part::WattLeft => ("Left link", "Centre to centre of the Watt's left link".to_owned()),
        Part::WattRight => ("Right link", "Centre to centre of the Watt's right link".to_owned()),
        _ => (
            "Centre to centre",
            format!("Centre to centre of the {}", plain_name(bench.setup(), part)),
        ),
    };
    let length = length_m(bench, part).map_or_else(|| "?".to_owned(), |m| bench.units().length(m));
    let origin = match bench.setup().length(part) {
        None => "made to suit".to_owned(),
        Some(Length::CutToSuit) => "cut to suit".to_owned(),
        Some(Length::AsBuilt(bar)) if bar.turns == 0.0 => "as built".to_owned(),
        Some(Length::AsBuilt(bar)) => format!("as built, {} turns", signed(bar.turns)),
    };
    told(ui, shown, &heard, RichText::new(format!("{length}, {origin}")));
}

/// With its sign, + longer, and no more decimals than it has.
fn signed(turns: f64) -> String {
    let text = format!("{turns:+.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
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
    let part = match part {
        Part::WattLeft | Part::WattRight => part.name(setup),
        _ => plain_name(setup, part),
    };
    let heard = format!("Swing of the {part} on the {on}");
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
