//! Text can be read in light and dark, and every sign that is used has a glyph.

use egui::{Color32, FontId, Theme, Ui, Vec2};
use egui_kittest::Harness;
use panels::role_ink;
use panels::theme::{self, Inks};
use rearend::findings::Grade;
use rearend::setup::Role;

use crate::support::{dressed, settle};

/// Least contrast of text, WCAG 2.2, 1.4.3.
const TEXT: f64 = 4.5;
/// Least contrast of lines that say something, WCAG 2.2, 1.4.11.
const LINES: f64 = 3.0;

const GRADES: [Grade; 3] = [Grade::WontWork, Grade::Check, Grade::Fine];

/// Reads something off a dressed `Ui` in a theme.
fn read<T: 'static>(theme: Theme, read: impl Fn(&Ui) -> T + 'static) -> T {
    let mut is_dressed = false;
    let draw = move |ui: &mut Ui, found: &mut Option<T>| {
        if dressed(ui, &mut is_dressed) {
            ui.ctx().set_theme(theme);
            // The theme holds from the next pass on.
            *found = (ui.ctx().theme() == theme).then(|| read(ui));
        }
    };
    let mut harness = Harness::builder()
        .with_size(Vec2::splat(200.0))
        .build_ui_state(draw, None);
    settle(&mut harness);
    harness.into_state().expect("a pass was drawn in the theme")
}

/// Relative luminance, WCAG 2.2.
fn luminance(colour: Color32) -> f64 {
    assert!(colour.is_opaque(), "{colour:?} has a contrast of its own");
    let part = |byte: u8| {
        let c = f64::from(byte) / 255.0;
        if c <= 0.04045 {
            c / 12.92
        } else {
            ((c + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * part(colour.r()) + 0.7152 * part(colour.g()) + 0.0722 * part(colour.b())
}

fn contrast(a: Color32, b: Color32) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[track_caller]
fn assert_reads(theme: Theme, (name, ink): (&str, Color32), (ground_name, ground): (&str, Color32), least: f64) {
    let ratio = contrast(ink, ground);
    assert!(
        ratio >= least,
        "{theme:?}: {name} on the {ground_name} has a contrast of {ratio:.2}, {least} is the least"
    );
}

#[test]
fn the_contrast_is_that_of_the_standard() {
    assert!((contrast(Color32::BLACK, Color32::WHITE) - 21.0).abs() < 1e-9);
    // The grey that is known to pass on white, and the one beside it that fails.
    assert!(contrast(Color32::from_gray(0x76), Color32::WHITE) >= 4.5);
    assert!(contrast(Color32::from_gray(0x77), Color32::WHITE) < 4.5);
}

#[test]
fn inks_and_grades_can_be_read_in_light_and_dark() {
    for theme in [Theme::Dark, Theme::Light] {
        let (inks, grades, visuals) = read(theme, |ui| {
            (
                Inks::of(ui),
                GRADES.map(|g| (g.word(), Inks::grade(ui, g).1)),
                ui.visuals().clone(),
            )
        });
        assert_eq!(visuals.dark_mode, theme == Theme::Dark);
        let grounds = [
            ("panel", visuals.panel_fill),
            ("dialog", visuals.window_fill),
            ("paper", inks.paper),
        ];
        for ground in grounds {
            let text = [("ink", inks.ink), ("soft", inks.soft), ("now", inks.now)];
            for ink in text.into_iter().chain(grades) {
                assert_reads(theme, ink, ground, TEXT);
            }
            assert_reads(theme, ("limit", inks.limit), ground, LINES);
        }
    }
}

#[test]
fn buttons_boxes_and_what_is_selected_can_be_read_in_light_and_dark() {
    for theme in [Theme::Dark, Theme::Light] {
        let visuals = read(theme, |ui| ui.visuals().clone());
        let widgets = &visuals.widgets;
        let grounds = [
            ("button", widgets.inactive.weak_bg_fill),
            ("button under the pointer", widgets.hovered.weak_bg_fill),
            ("button held down", widgets.active.weak_bg_fill),
            ("open menu's button", widgets.open.weak_bg_fill),
            ("selected entry", visuals.selection.bg_fill),
            ("box to type into", visuals.extreme_bg_color),
        ];
        for ground in grounds {
            assert_reads(theme, ("text", visuals.text_color()), ground, TEXT);
        }
    }
}

#[test]
fn grades_differ_in_their_mark_and_not_in_colour_alone() {
    let marks = read(Theme::Dark, |ui| GRADES.map(|g| Inks::grade(ui, g).0));
    assert!(
        marks[0] != marks[1] && marks[1] != marks[2] && marks[0] != marks[2],
        "{marks:?}"
    );
}

#[test]
fn every_sign_has_a_glyph() {
    let missing = read(Theme::Dark, |ui| {
        let marks: String = GRADES.map(|g| Inks::grade(ui, g).0).concat();
        let signs = format!("{marks}▶■±×°…—’\"½");
        let fonts = [FontId::proportional(13.0), FontId::new(13.0, theme::semi_bold())];
        let lacks = |c: &char| !ui.fonts_mut(|f| fonts.iter().all(|id| f.has_glyph(id, *c)));
        signs.chars().filter(lacks).collect::<String>()
    });
    assert_eq!(missing, "", "these would be drawn as boxes");
}

#[test]
fn bars_of_every_role_stand_out_from_the_paper_in_light_and_dark() {
    for theme in [Theme::Dark, Theme::Light] {
        for role in [Role::Upper, Role::Lower, Role::Sideways] {
            let (ink, paper) = read(theme, move |ui| (role_ink(ui, role), Inks::of(ui).paper));
            assert_reads(theme, (&format!("{role:?}"), ink), ("paper", paper), LINES);
        }
    }
}
