//! The findings: what is wrong, what to look at, what is fine.

use egui::{Sense, Ui};
use rearend::clearance::Progress;
use rearend::findings::{Finding, Grade, Preview, Remedy};
use shop::{Bench, Change, Command, Notice, Stand};

use crate::actions::Act;
use crate::theme::{Inks, strong};

/// Draws the notice, if there is one, and the findings below it; `survey` says how far the search for what touches has come.
pub fn findings_ui(ui: &mut Ui, bench: &Bench, survey: Option<Progress>) -> Vec<Act> {
    let mut acts = notice(ui, bench);
    let wrong = counts_ui(ui, bench, survey);
    let mut list = egui::ScrollArea::vertical().auto_shrink([false, false]);
    let known = ui.id().with("won't work so far");
    let before = ui.data_mut(|d| std::mem::replace(d.get_temp_mut_or_default::<usize>(known), wrong));
    if wrong > before {
        // What is new and serious stands at the top, wherever somebody has been reading.
        list = list.vertical_scroll_offset(0.0);
    }
    list.show(ui, |ui| {
        for (place, finding) in bench.findings().iter().enumerate() {
            acts.extend(ui.push_id(place, |ui| finding_ui(ui, bench, finding)).inner);
        }
    });
    acts
}

/// How many there are of each grade, and how far the search has come: a line that stays where it is. Gives back how many won't work.
fn counts_ui(ui: &mut Ui, bench: &Bench, survey: Option<Progress>) -> usize {
    let count = |grade: Grade| bench.findings().iter().filter(|f| f.grade == grade).count();
    let grades = [Grade::WontWork, Grade::Check, Grade::Fine];
    ui.horizontal(|ui| {
        for grade in grades {
            let many = count(grade);
            let (mark, colour) = Inks::grade(ui, grade);
            let colour = if many == 0 { Inks::of(ui).soft } else { colour };
            let words = format!("{mark} {many} {}", grade.word());
            ui.label(egui::RichText::new(words).color(colour).size(12.5));
        }
        if let Some(Progress { done, total }) = survey.filter(|p| p.total > 0) {
            let part = done * 100 / total;
            let text = format!("looking through the whole travel for what touches: {part} %");
            ui.label(egui::RichText::new(text).color(Inks::of(ui).soft).size(12.0));
        }
    });
    count(Grade::WontWork)
}

fn notice(ui: &mut Ui, bench: &Bench) -> Vec<Act> {
    let Some(notice) = bench.notice() else {
        return Vec::new();
    };
    let (text, grade) = match notice {
        Notice::Done(text) => (text, Grade::Fine),
        Notice::Refused(text) => (text, Grade::WontWork),
    };
    let (_, colour) = Inks::grade(ui, grade);
    let frame = egui::Frame::new()
        .fill(Inks::of(ui).paper)
        .stroke(egui::Stroke::new(1.0, colour))
        .corner_radius(5)
        .inner_margin(6);
    let closed = frame.show(ui, |ui| {
        ui.horizontal(|ui| {
            let room = (ui.available_width() - 70.0).max(100.0);
            ui.allocate_ui(egui::vec2(room, 18.0), |ui| {
                ui.set_width(room);
                ui.add(egui::Label::new(text).wrap());
            });
            ui.small_button("close").clicked()
        })
        .inner
    });
    if closed.inner {
        vec![Act::Do(Command::Dismiss)]
    } else {
        Vec::new()
    }
}

fn finding_ui(ui: &mut Ui, bench: &Bench, finding: &Finding) -> Vec<Act> {
    let mut acts = Vec::new();
    let sentence = finding.sentence(bench.setup(), bench.units());
    ui.horizontal_top(|ui| {
        let (mark, colour) = Inks::grade(ui, finding.grade);
        ui.allocate_ui(egui::vec2(96.0, 18.0), |ui| {
            ui.set_width(96.0);
            ui.label(strong(format!("{mark} {}", finding.grade.word()), 13.0).color(colour));
        });
        let buttons: f32 = finding
            .remedies
            .iter()
            .map(|r| 34.0 + 6.4 * f32::from(u16::try_from(r.label().len()).unwrap_or(u16::MAX)))
            .sum();
        let room = (ui.available_width() - buttons).max(160.0);
        let lit = finding.lit();
        let goes = finding.height_m.is_some() || !lit.is_empty();
        let text = egui::Label::new(egui::RichText::new(sentence).color(Inks::of(ui).ink))
            .wrap()
            .sense(if goes { Sense::click() } else { Sense::hover() });
        let shown = ui.allocate_ui(egui::vec2(room, 18.0), |ui| {
            ui.set_width(room);
            ui.add(text)
        });
        let label = if goes {
            shown
                .inner
                .on_hover_cursor(egui::CursorIcon::PointingHand)
                .on_hover_text("Go there")
        } else {
            shown.inner
        };
        if label.hovered() && !lit.is_empty() {
            acts.push(Act::Light(lit.clone()));
        }
        if goes && label.clicked() {
            acts.extend(finding.height_m.map(|height_m| {
                Act::Do(Command::StandAt(Stand {
                    height_m,
                    roll_rad: finding.roll_rad.unwrap_or(bench.stand().roll_rad),
                }))
            }));
            acts.push(Act::Light(lit));
        }
        for remedy in &finding.remedies {
            let button = ui.button(remedy.label());
            if button.on_hover_ui(|ui| preview_ui(ui, bench, *remedy)).clicked() {
                acts.push(Act::Do(Command::Apply(Change::Take(*remedy))));
            }
        }
    });
    acts
}

/// What a remedy would change, worked out once while the pointer rests on its button.
fn preview_ui(ui: &mut Ui, bench: &Bench, remedy: Remedy) {
    let document = bench.document();
    let key = ui
        .id()
        .with(("preview", remedy, document.revision(), bench.units().label()));
    let known = ui.data(|data| data.get_temp::<Option<Preview>>(key));
    let preview = known.unwrap_or_else(|| {
        let preview = Preview::of(remedy, bench.setup(), document.answers(), bench.units());
        ui.data_mut(|data| data.insert_temp(key, preview.clone()));
        preview
    });
    ui.set_max_width(430.0);
    let Some(preview) = preview else {
        ui.label("It cannot be done as things stand.");
        return;
    };
    ui.label(strong("It would then say", 13.0));
    for (grade, sentence) in preview.instead.iter().chain(&preview.new) {
        let (mark, colour) = Inks::grade(ui, *grade);
        ui.label(egui::RichText::new(format!("{mark} {}", grade.word())).color(colour));
        ui.label(sentence);
    }
    if !preview.gone.is_empty() {
        ui.label(strong("and no longer", 13.0));
    }
    for sentence in &preview.gone {
        ui.label(egui::RichText::new(sentence).color(Inks::of(ui).soft));
    }
    if preview == Preview::default() {
        ui.label("nothing else than now.");
    }
}
