//! One part of the drawer: what it is called, made of and there for, its lengths and swings, its mounts, and to copy it or take it away.

use egui::{Grid, RichText, Ui, WidgetInfo, WidgetType};
use rearend::mechanism::Part;
use rearend::setup::{BarEnd, BarId, Ends, JointKind, Mount, Role, Setup, Side};
use shop::{Bench, Change, Command};

use crate::actions::Act;
use crate::field::{Label, labelled_field};
use crate::part_figures::figures_ui;
use crate::parts_drawer::unfold;
use crate::theme::Inks;

const ENDS: [(Ends, &str); 3] = [
    (Ends::RodEnds, "rod ends"),
    (Ends::Bushes, "rubber bushes"),
    (Ends::Polyurethane, "polyurethane bushes"),
];

fn apply(change: Change) -> Act {
    Act::Do(Command::Apply(change))
}

/// Everything of one part.
pub(crate) fn part_body(ui: &mut Ui, bench: &Bench, part: Part) -> Vec<Act> {
    let name = part.plain_name(bench.setup()).to_owned();
    let mut acts = Vec::new();
    Grid::new(("part", part))
        .num_columns(2)
        .spacing([6.0, 4.0])
        .show(ui, |ui| {
            acts.extend(name_field(ui, bench, part, &name));
            acts.extend(role_list(ui, bench.setup(), part, &name));
            acts.extend(tube_field(ui, bench, part, &name));
            acts.extend(wall_field(ui, bench, part, &name));
            acts.extend(ends_list(ui, bench.setup(), part, &name));
            acts.extend(figures_ui(ui, bench, part));
        });
    acts.extend(mount_buttons(ui, bench, part));
    acts.extend(copy_and_remove(ui, bench.setup(), part, &name));
    acts
}

/// A draft belongs to a part and not to the one that takes its place.
pub(crate) fn draft_id(setup: &Setup, part: Part, what: &'static str) -> (&'static str, Part, usize) {
    (what, part, setup.bars.len() + setup.arms.len())
}

fn name_field(ui: &mut Ui, bench: &Bench, part: Part, name: &str) -> Option<Act> {
    if matches!(part, Part::WattLeft | Part::WattRight) {
        return None;
    }
    let setup = bench.setup();
    let heard = format!("Name of the {name}");
    let label = Label {
        shown: "Name",
        heard: &heard,
    };
    let read = |text: &str| shop::usable_part_name(setup, part, text).map_err(|e| e.to_string());
    let typed = labelled_field(ui, draft_id(setup, part, "name"), label, name, read);
    let name = typed.filter(|typed| typed != name)?;
    Some(apply(Change::RenamePart { part, name }))
}

fn tube_field(ui: &mut Ui, bench: &Bench, part: Part, name: &str) -> Option<Act> {
    let (setup, units) = (bench.setup(), bench.units());
    let tube_m = match part {
        Part::Bar(bar, _) => setup.bar(bar)?.tube_m,
        Part::Arm(arm, _) => setup.arm(arm)?.tube_m,
        Part::WattLeft | Part::WattRight => setup.watt.as_ref()?.tube_m,
    };
    let heard = format!("Tube of the {name}");
    let seen = format!("Tube, {} outside", units.symbol());
    let label = Label {
        shown: &seen,
        heard: &heard,
    };
    let read = |text: &str| {
        let typed_m = units.read(text).map_err(|e| e.to_string())?;
        shop::usable_tube_m(typed_m).map_err(|e| e.to_string())
    };
    let (id, shown) = (draft_id(setup, part, "tube"), units.editable(tube_m));
    let typed_m = labelled_field(ui, id, label, &shown, read)?;
    // What is shown has fewer decimals than what is kept.
    let changed = (typed_m - tube_m).abs() > 1e-9;
    changed.then_some(apply(Change::SetTube { part, tube_m: typed_m }))
}

/// The wall of what is sawn from tube; an arm is fabricated.
fn wall_field(ui: &mut Ui, bench: &Bench, part: Part, name: &str) -> Option<Act> {
    let (setup, units) = (bench.setup(), bench.units());
    let (tube_m, wall_m) = match part {
        Part::Bar(bar, _) => setup.bar(bar).map(|b| (b.tube_m, b.wall_m))?,
        Part::Arm(..) => return None,
        Part::WattLeft | Part::WattRight => setup.watt.as_ref().map(|w| (w.tube_m, w.wall_m))?,
    };
    let heard = format!("Wall of the {name}");
    let seen = format!("Wall, {}", units.symbol());
    let label = Label {
        shown: &seen,
        heard: &heard,
    };
    let read = |text: &str| {
        let typed_m = units.read(text).map_err(|e| e.to_string())?;
        shop::usable_wall_m(typed_m, tube_m).map_err(|e| e.to_string())
    };
    let (id, shown) = (draft_id(setup, part, "wall"), units.editable(wall_m));
    let typed_m = labelled_field(ui, id, label, &shown, read)?;
    // What is shown has fewer decimals than what is kept.
    let changed = (typed_m - wall_m).abs() > 1e-9;
    changed.then_some(apply(Change::SetWall { part, wall_m: typed_m }))
}

/// A list of words to choose from, under a name that tells which part it is of.
fn words_list<T: Copy + PartialEq>(
    ui: &mut Ui,
    id: (&'static str, Part),
    label: Label<'_>,
    chosen: (Option<T>, &str),
    words: &[(T, &'static str)],
) -> Option<T> {
    let named = label.ui(ui);
    let mut picked = None;
    let list = egui::ComboBox::from_id_salt(id)
        .selected_text(chosen.1)
        .width(150.0)
        .show_ui(ui, |ui| {
            for (value, word) in words {
                if ui.selectable_label(chosen.0 == Some(*value), *word).clicked() {
                    picked = Some(*value);
                }
            }
        });
    list.response.labelled_by(named.id);
    ui.end_row();
    picked.filter(|value| chosen.0 != Some(*value))
}

fn role_list(ui: &mut Ui, setup: &Setup, part: Part, name: &str) -> Option<Act> {
    let Part::Bar(bar, _) = part else { return None };
    let role = setup.bar(bar)?.role;
    let heard = format!("Role of the {name}");
    let label = Label {
        shown: "Role",
        heard: &heard,
    };
    let words = Role::ALL.map(|role| (role, role.word()));
    let role = words_list(ui, ("role", part), label, (Some(role), role.word()), &words)?;
    Some(apply(Change::SetRole { bar, role }))
}

/// What both ends are; where they differ, both are named, and either kind can be chosen for both.
fn ends_list(ui: &mut Ui, setup: &Setup, part: Part, name: &str) -> Option<Act> {
    let [frame, axle] = kinds(setup, part)?;
    let heard = format!("Ends of the {name}");
    let is_arm = matches!(part, Part::Arm(..));
    let label = Label {
        shown: if is_arm { "Eye" } else { "Ends" },
        heard: &heard,
    };
    let of_kind = |(ends, _): &&(Ends, &str)| ends.kind() == frame;
    let both = ENDS.iter().find(of_kind).filter(|_| frame == axle);
    let words = match both {
        Some(_) if is_arm => frame.name().to_owned(),
        Some((_, words)) => (*words).to_owned(),
        None => format!("{} and {}", frame.name(), axle.name()),
    };
    let one = ENDS.map(|(ends, _)| (ends, ends.kind().name()));
    let list = if is_arm { &one } else { &ENDS };
    let ends = words_list(ui, ("ends", part), label, (both.map(|b| b.0), &words), list)?;
    Some(apply(Change::SetEnds { part, ends }))
}

fn kinds(setup: &Setup, part: Part) -> Option<[JointKind; 2]> {
    Some(match part {
        Part::Bar(bar, _) => {
            let bar = setup.bar(bar)?;
            [BarEnd::Frame, BarEnd::Axle].map(|end| bar.joint(end).kind)
        }
        Part::Arm(arm, _) => [setup.arm(arm)?.eye.kind; 2],
        Part::WattLeft | Part::WattRight => [setup.watt.as_ref()?.ends.kind(); 2],
    })
}

/// Takes hold of a mount: it is marked on the stage, and its card opens.
fn mount_buttons(ui: &mut Ui, bench: &Bench, part: Part) -> Vec<Act> {
    let setup = bench.setup();
    let mut acts = Vec::new();
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new("Mounts").color(Inks::of(ui).soft));
        for (mount, text) in mounts_of(setup, part) {
            let is_selected = bench.selected() == Some(mount);
            let button = ui
                .add(egui::Button::new(text).small().selected(is_selected))
                .on_hover_text("Select it: its card opens, and arrow keys nudge it");
            let heard = format!("Select the {}", setup.mount_name(mount));
            button.widget_info(|| WidgetInfo::selected(WidgetType::Button, true, is_selected, &heard));
            if button.clicked() {
                acts.push(Act::Do(Command::Select(Some(mount))));
            }
        }
    });
    acts
}

fn mounts_of(setup: &Setup, part: Part) -> Vec<(Mount, &'static str)> {
    let ends = [(BarEnd::Frame, "on the frame"), (BarEnd::Axle, "on the axle")];
    let side = Side::Drawn;
    let all: Vec<_> = match part {
        Part::Bar(bar, _) => ends.map(|(end, text)| (Mount::Bar { bar, end, side }, text)).into(),
        Part::Arm(arm, _) => ends.map(|(end, text)| (Mount::Arm { arm, end, side }, text)).into(),
        Part::WattLeft | Part::WattRight => vec![
            (Mount::WattPivot, "pivot"),
            (Mount::WattLeft, "left link"),
            (Mount::WattLeftArm, "crank, left link"),
            (Mount::WattRight, "right link"),
            (Mount::WattRightArm, "crank, right link"),
        ],
    };
    all.into_iter()
        .filter(|(mount, _)| setup.mount(*mount).is_some())
        .collect()
}

fn copy_and_remove(ui: &mut Ui, setup: &Setup, part: Part, name: &str) -> Vec<Act> {
    let mut acts = Vec::new();
    let button = |ui: &mut Ui, text: &str, tip: &str| {
        let button = ui.small_button(text).on_hover_text(tip);
        button.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, format!("{text} the {name}")));
        button.clicked()
    };
    ui.horizontal(|ui| {
        if let Part::Bar(bar, _) = part
            && button(ui, "Duplicate", "Another like it, a little higher")
        {
            unfold(ui, BarId(setup.bars.len()));
            acts.push(apply(Change::Duplicate(bar)));
        }
        if button(ui, "Remove", "Take it off the truck; Undo puts it back") {
            acts.push(apply(Change::Remove(part)));
        }
    });
    acts
}
