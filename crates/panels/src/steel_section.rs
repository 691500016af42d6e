//! What the shop builds with, in the parts drawer: plate, bolts and holes of the brackets, eyes of bushes, rod ends and their inserts.

use egui::{Button, CollapsingHeader, RichText, Ui, WidgetInfo, WidgetType};
use rearend::measure::Range;
use rearend::setup::Steel;
use rearend::tape::{Dimension, Units};
use shop::{Bench, Change, Command};

use crate::actions::Act;
use crate::field::{Takes, checked_line};
use crate::theme::{Inks, strong};

/// One number of the steel.
struct Value {
    name: &'static str,
    how: &'static str,
    dimension: Dimension,
    range: Range,
    read: fn(&Steel) -> f64,
    put: fn(&mut Steel, f64),
}

/// What brackets are cut from.
const BRACKETS: [Value; 5] = [
    Value {
        name: "Plate",
        how: "How thick the plates of the brackets are.",
        dimension: Dimension::Length,
        range: Range::SIZE,
        read: |s| s.plate_m,
        put: |s, v| s.plate_m = v,
    },
    Value {
        name: "Bolt",
        how: "Diameter of the bolt through every joint, and of the rod ends' thread.",
        dimension: Dimension::Length,
        range: Range::SIZE,
        read: |s| s.bolt_m,
        put: |s, v| s.bolt_m = v,
    },
    Value {
        name: "Hole over",
        how: "How much larger than its bolt a hole is cut.",
        dimension: Dimension::Length,
        range: Range::AMOUNT,
        read: |s| s.hole_over_m,
        put: |s, v| s.hole_over_m = v,
    },
    Value {
        name: "Edge, in bolts",
        how: "From the middle of a hole to the edge of its plate, in diameters of the bolt.",
        dimension: Dimension::Ratio,
        range: Range::usual(Dimension::Ratio),
        read: |s| s.edge_in_bolts,
        put: |s, v| s.edge_in_bolts = v,
    },
    Value {
        name: "Gap",
        how: "Clear width between the two plates of a bracket: the joint with its spacers.",
        dimension: Dimension::Length,
        range: Range::SIZE,
        read: |s| s.gap_m,
        put: |s, v| s.gap_m = v,
    },
];

/// What a bush is pressed into.
const EYE: [Value; 1] = [Value {
    name: "Eye of a bush",
    how: "Outside diameter of the eye that a bush is pressed into, welded across the end of its tube.",
    dimension: Dimension::Length,
    range: Range::SIZE,
    read: |s| s.bush_eye_m,
    put: |s, v| s.bush_eye_m = v,
}];

/// What is screwed into the end of a tube.
const ROD_END: [Value; 5] = [
    Value {
        name: "Eye to end",
        how: "From the centre of the rod end's eye to the end of its shank.",
        dimension: Dimension::Length,
        range: Range::SIZE,
        read: |s| s.rod_end.eye_to_end_m,
        put: |s, v| s.rod_end.eye_to_end_m = v,
    },
    Value {
        name: "Thread",
        how: "Length of the thread on the shank.",
        dimension: Dimension::Length,
        range: Range::SIZE,
        read: |s| s.rod_end.thread_m,
        put: |s, v| s.rod_end.thread_m = v,
    },
    Value {
        name: "Jam nut",
        how: "Thickness of the nut that locks the rod end.",
        dimension: Dimension::Length,
        range: Range::AMOUNT,
        read: |s| s.rod_end.jam_nut_m,
        put: |s, v| s.rod_end.jam_nut_m = v,
    },
    Value {
        name: "Insert stands out",
        how: "How far the insert's shoulder stands out of the sawn end of the tube.",
        dimension: Dimension::Length,
        range: Range::AMOUNT,
        read: |s| s.rod_end.insert_out_m,
        put: |s, v| s.rod_end.insert_out_m = v,
    },
    Value {
        name: "Insert's depth",
        how: "Depth of the thread in the insert, from the face of its shoulder.",
        dimension: Dimension::Length,
        range: Range::SIZE,
        read: |s| s.rod_end.insert_depth_m,
        put: |s, v| s.rod_end.insert_depth_m = v,
    },
];

/// Where all inserts are of one size.
const SHANK: [Value; 1] = [Value {
    name: "Insert's shank",
    how: "Outside diameter of what slides into the tube. A tube with another bore is told among the findings.",
    dimension: Dimension::Length,
    range: Range::SIZE,
    read: |s| s.rod_end.insert_shank_m.unwrap_or_else(|| s.usual_shank_m()),
    put: |s, v| s.rod_end.insert_shank_m = Some(v),
}];

/// Draws the section, folded to begin with.
pub(crate) fn steel_ui(ui: &mut Ui, bench: &Bench) -> Option<Act> {
    let (steel, units) = (bench.setup().steel, bench.units());
    let size = |m: f64| plainly(Dimension::Length, units, m);
    let symbol = units.symbol();
    let header = format!(
        "Steel, plate {} {symbol}, bolts {} {symbol}",
        size(steel.plate_m),
        size(steel.bolt_m)
    );
    let body = CollapsingHeader::new(strong(header, 14.0))
        .id_salt("steel")
        .show(ui, |ui| body_ui(ui, &steel, units));
    let next = body.body_returned.flatten().filter(|next| *next != steel)?;
    Some(Act::Do(Command::Apply(Change::SetSteel(next))))
}

fn body_ui(ui: &mut Ui, steel: &Steel, units: Units) -> Option<Steel> {
    how_ui(
        ui,
        "What brackets, cut list and parts to buy are reckoned with. It stands at common practice until you say what lies on your shelf.",
    );
    let mut next = all_as_usual(ui, steel);
    next = next.or(values_ui(ui, &BRACKETS, steel, units));
    next = next.or(gussets_ui(ui, steel));
    next = next.or(values_ui(ui, &EYE, steel, units));
    let body = CollapsingHeader::new(strong("Rod end and insert", 13.0))
        .id_salt("rod end and insert")
        .show(ui, |ui| rod_end_ui(ui, steel, units));
    next.or(body.body_returned.flatten())
}

fn rod_end_ui(ui: &mut Ui, steel: &Steel, units: Units) -> Option<Steel> {
    let typed = values_ui(ui, &ROD_END, steel, units);
    let mut is_to_suit = steel.rod_end.insert_shank_m.is_none();
    let tip = "Untick it where all inserts on your shelf have the same shank";
    let ticked = ui
        .checkbox(&mut is_to_suit, "Inserts to suit each tube's bore")
        .on_hover_text(tip)
        .changed();
    let ticked = ticked.then(|| {
        let mut next = *steel;
        next.rod_end.insert_shank_m = (!is_to_suit).then(|| steel.usual_shank_m());
        next
    });
    let shank = match steel.rod_end.insert_shank_m {
        Some(_) => values_ui(ui, &SHANK, steel, units),
        None => None,
    };
    typed.or(ticked).or(shank)
}

fn gussets_ui(ui: &mut Ui, steel: &Steel) -> Option<Steel> {
    let mut gussets = steel.gussets;
    let ticked = ui.checkbox(&mut gussets, "Gussets").changed();
    how_ui(
        ui,
        "A plate across between the two of a long bracket keeps them from folding.",
    );
    ticked.then_some(Steel { gussets, ..*steel })
}

fn all_as_usual(ui: &mut Ui, steel: &Steel) -> Option<Steel> {
    if steel.is_usual() {
        return None;
    }
    let tip = "Everything below as common practice has it";
    let clicked = ui.button("All steel as usual").on_hover_text(tip).clicked();
    clicked.then(Steel::default)
}

fn values_ui(ui: &mut Ui, values: &[Value], steel: &Steel, units: Units) -> Option<Steel> {
    let mut next = None;
    for value in values {
        let entered = value_ui(ui, value, steel, units);
        next = next.or(entered);
    }
    next
}

/// A line to type the value in, a button that puts it back to what is usual where it is not, and what it is.
fn value_ui(ui: &mut Ui, value: &Value, steel: &Steel, units: Units) -> Option<Steel> {
    let takes = Takes {
        dimension: value.dimension,
        units,
        ways: None,
        range: value.range,
    };
    let with = |typed: f64| {
        let mut next = *steel;
        (value.put)(&mut next, typed);
        next.check().map_err(|error| error.told(units))?;
        Ok(next)
    };
    let usual = (value.read)(&usual_for(steel));
    let is_usual = (usual - (value.read)(steel)).abs() < 1e-9;
    let mut taken = false;
    let held = (takes, (value.read)(steel));
    let (entered, _) = checked_line(ui, ("steel", value.name), value.name.into(), held, with, |ui| {
        taken = !is_usual && usual_button(ui, value, units, usual);
    });
    how_ui(ui, value.how);
    // Taken back next to something that it does not go with, it is refused as a whole, and the bench says why.
    let taken = taken.then(|| {
        let mut next = *steel;
        (value.put)(&mut next, usual);
        next
    });
    entered.or(taken)
}

/// The usual steel, with the shank that is usual for the bolt there is.
fn usual_for(steel: &Steel) -> Steel {
    let mut usual = Steel::default();
    usual.rod_end.insert_shank_m = Some(steel.usual_shank_m());
    usual
}

fn usual_button(ui: &mut Ui, value: &Value, units: Units, usual: f64) -> bool {
    let words = format!("usual {}", plainly(value.dimension, units, usual));
    let button = ui
        .add(Button::new(RichText::new(words).size(11.5)).small())
        .on_hover_text("Back to common practice");
    let heard = format!("Usual for {}", value.name);
    button.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &heard));
    button.clicked()
}

/// As it is typed, so that a hair over a bolt is not rounded to a sixteenth.
fn plainly(dimension: Dimension, units: Units, value: f64) -> String {
    dimension.editable(units, value)
}

fn how_ui(ui: &mut Ui, how: &str) {
    let soft = Inks::of(ui).soft;
    ui.add(egui::Label::new(RichText::new(how).color(soft).size(12.0)).wrap());
}
