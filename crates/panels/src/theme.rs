//! Fonts and colours of the panels.

use std::sync::Arc;

use egui::{Color32, CornerRadius, FontData, FontDefinitions, FontFamily, Stroke, Theme, Visuals};
use rearend::findings::Grade;

const REGULAR: &[u8] = include_bytes!("../../../assets/fonts/AxlewrightSans-Regular.ttf");
const SEMI_BOLD: &[u8] = include_bytes!("../../../assets/fonts/AxlewrightSans-SemiBold.ttf");

/// The family of headings and figures.
#[must_use]
pub fn semi_bold() -> FontFamily {
    FontFamily::Name("semi-bold".into())
}

/// Text in the family of headings.
pub fn strong(text: impl Into<String>, size: f32) -> egui::RichText {
    egui::RichText::new(text).font(egui::FontId::new(size, semi_bold()))
}

/// Colours that change with light and dark.
#[derive(Clone, Copy, Debug)]
pub struct Inks {
    /// Curves and the rider.
    pub ink: Color32,
    /// Scales and notes.
    pub soft: Color32,
    /// Lines of a scale.
    pub line: Color32,
    /// The "now" line.
    pub now: Color32,
    /// Background of a strip.
    pub paper: Color32,
    /// Limits.
    pub limit: Color32,
}

impl Inks {
    /// The colours of the theme in force.
    #[must_use]
    pub fn of(ui: &egui::Ui) -> Self {
        if ui.visuals().dark_mode {
            Self {
                ink: Color32::from_rgb(232, 236, 241),
                soft: Color32::from_rgb(154, 164, 176),
                line: Color32::from_rgb(66, 75, 86),
                now: Color32::from_rgb(230, 159, 0),
                paper: Color32::from_rgb(26, 31, 38),
                limit: Color32::from_rgb(213, 94, 0),
            }
        } else {
            Self {
                ink: Color32::from_rgb(24, 30, 38),
                soft: Color32::from_rgb(84, 94, 106),
                line: Color32::from_rgb(204, 210, 216),
                now: Color32::from_rgb(164, 84, 0),
                paper: Color32::from_rgb(250, 251, 252),
                limit: Color32::from_rgb(196, 74, 0),
            }
        }
    }

    /// Mark and colour of a grade: never colour alone.
    #[must_use]
    pub fn grade(ui: &egui::Ui, grade: Grade) -> (&'static str, Color32) {
        let dark = ui.visuals().dark_mode;
        match grade {
            Grade::WontWork => (
                "✗",
                if dark {
                    Color32::from_rgb(255, 122, 90)
                } else {
                    Color32::from_rgb(178, 52, 16)
                },
            ),
            Grade::Check => (
                "▲",
                if dark {
                    Color32::from_rgb(240, 180, 60)
                } else {
                    Color32::from_rgb(150, 92, 0)
                },
            ),
            Grade::Fine => (
                "✓",
                if dark {
                    Color32::from_rgb(70, 196, 150)
                } else {
                    Color32::from_rgb(0, 112, 82)
                },
            ),
        }
    }
}

/// Dresses a context; once is enough.
pub fn dress(ctx: &egui::Context) {
    ctx.set_fonts(fonts());
    ctx.set_visuals_of(Theme::Dark, dark());
    ctx.set_visuals_of(Theme::Light, light());
    ctx.set_theme(Theme::Dark);
    ctx.options_mut(|o| o.zoom_with_keyboard = false);
    ctx.all_styles_mut(|style| {
        // A blinking cursor would redraw an idle window.
        style.visuals.text_cursor.blink = false;
        style.spacing.item_spacing = egui::vec2(8.0, 6.0);
        style.spacing.button_padding = egui::vec2(9.0, 4.0);
        style.interaction.selectable_labels = false;
    });
}

/// Pixels of the atlas that are more than glyphs at the letters' subpixel places will ever need.
const ROOMY_PIXELS: usize = 1 << 21;

/// Puts every letter the panels use into egui's atlas of glyphs, and makes it grow to where it has room for more. An atlas that grows later
/// is a new texture, and the window would stand without panels for the frame in which that is on its way.
pub fn warm(ctx: &egui::Context) {
    let letters: String = (' '..='~').chain("°±×·…–—’▲✓✗▶■⏵".chars()).collect();
    let sizes = [10.0, 10.5, 11.0, 11.5, 12.0, 12.5, 13.0, 14.0, 17.0, 18.0];
    for family in [FontFamily::Proportional, semi_bold()] {
        for size in sizes {
            let font = egui::FontId::new(size, family.clone());
            ctx.fonts_mut(|fonts| fonts.layout_no_wrap(letters.clone(), font, Color32::WHITE));
        }
    }
    warm_between_pixels(ctx, &letters);
    let is_roomy = || ctx.fonts(|fonts| fonts.font_image_size().into_iter().product::<usize>()) >= ROOMY_PIXELS;
    for size in 40..80_u8 {
        if is_roomy() {
            break;
        }
        let font = egui::FontId::proportional(f32::from(size));
        ctx.fonts_mut(|fonts| fonts.layout_no_wrap(letters.clone(), font, Color32::WHITE));
    }
}

/// Letters of running words stand at quarters of a pixel, and each such place has a glyph of its own.
fn warm_between_pixels(ctx: &egui::Context, letters: &str) {
    let per_pixel = 1.0 / ctx.pixels_per_point();
    let plain = [12.0, 12.5, 13.0, 14.0].map(egui::FontId::proportional);
    let headings = [13.0, 14.0, 16.0, 17.0, 18.0].map(|size| egui::FontId::new(size, semi_bold()));
    for font in plain.into_iter().chain(headings) {
        let format = egui::TextFormat::simple(font, Color32::WHITE);
        for quarter in [0.25, 0.5, 0.75] {
            for letter in letters.split_inclusive(|_| true) {
                let mut job = egui::text::LayoutJob::default();
                job.append(letter, quarter * per_pixel, format.clone());
                ctx.fonts_mut(|fonts| fonts.layout_job(job));
            }
        }
    }
}

fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    for (name, data) in [("regular", REGULAR), ("semi-bold", SEMI_BOLD)] {
        fonts
            .font_data
            .insert(name.to_owned(), Arc::new(FontData::from_static(data)));
    }
    let fallback = fonts
        .families
        .get(&FontFamily::Proportional)
        .cloned()
        .unwrap_or_default();
    let with = |first: &str| {
        std::iter::once(first.to_owned())
            .chain(fallback.iter().cloned())
            .collect::<Vec<_>>()
    };
    fonts.families.insert(FontFamily::Proportional, with("regular"));
    fonts.families.insert(semi_bold(), with("semi-bold"));
    fonts
}

fn dark() -> Visuals {
    let mut v = Visuals::dark();
    v.panel_fill = Color32::from_rgb(33, 39, 47);
    v.window_fill = Color32::from_rgb(38, 45, 54);
    v.extreme_bg_color = Color32::from_rgb(22, 27, 33);
    v.override_text_color = Some(Color32::from_rgb(232, 236, 241));
    v.selection.bg_fill = Color32::from_rgb(0, 92, 140);
    v.window_stroke = Stroke::new(1.0, Color32::from_rgb(70, 80, 92));
    v.widgets.noninteractive.bg_stroke = Stroke::new(1.0, Color32::from_rgb(56, 64, 74));
    let shades = Shades {
        rest: [Color32::from_rgb(52, 61, 72), Color32::from_rgb(88, 100, 114)],
        hovered: [Color32::from_rgb(64, 75, 88), Color32::from_rgb(132, 146, 162)],
        pressed: [Color32::from_rgb(76, 90, 106), Color32::from_rgb(160, 174, 190)],
    };
    round(shades.put_on(v))
}

fn light() -> Visuals {
    let mut v = Visuals::light();
    v.panel_fill = Color32::from_rgb(238, 241, 244);
    v.window_fill = Color32::from_rgb(246, 248, 250);
    v.extreme_bg_color = Color32::WHITE;
    v.override_text_color = Some(Color32::from_rgb(24, 30, 38));
    v.selection.bg_fill = Color32::from_rgb(150, 205, 240);
    v.widgets.noninteractive.bg_stroke = Stroke::new(1.0, Color32::from_rgb(204, 210, 216));
    let shades = Shades {
        rest: [Color32::from_rgb(224, 230, 236), Color32::from_rgb(150, 162, 174)],
        hovered: [Color32::from_rgb(210, 219, 228), Color32::from_rgb(108, 122, 136)],
        pressed: [Color32::from_rgb(194, 206, 218), Color32::from_rgb(84, 98, 112)],
    };
    round(shades.put_on(v))
}

/// Ground and outline of what can be pressed or typed into, so that it is seen as such before the pointer is there.
struct Shades {
    rest: [Color32; 2],
    hovered: [Color32; 2],
    pressed: [Color32; 2],
}

impl Shades {
    fn put_on(self, mut v: Visuals) -> Visuals {
        let widgets = &mut v.widgets;
        for (state, [ground, outline]) in [
            (&mut widgets.inactive, self.rest),
            (&mut widgets.hovered, self.hovered),
            (&mut widgets.open, self.hovered),
            (&mut widgets.active, self.pressed),
        ] {
            state.bg_fill = ground;
            state.weak_bg_fill = ground;
            state.bg_stroke = Stroke::new(1.0, outline);
            state.expansion = 0.0;
        }
        v
    }
}

fn round(mut v: Visuals) -> Visuals {
    let corner = CornerRadius::same(5);
    v.window_corner_radius = CornerRadius::same(8);
    for widget in [
        &mut v.widgets.inactive,
        &mut v.widgets.hovered,
        &mut v.widgets.active,
        &mut v.widgets.open,
        &mut v.widgets.noninteractive,
    ] {
        widget.corner_radius = corner;
    }
    v
}
