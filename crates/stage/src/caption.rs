//! The band below a picture: name, height, three figures, the caution.

use ab_glyph::FontRef;
use image::{Rgb, RgbImage, RgbaImage};
use rearend::answers::Answers;
use rearend::figures::{CAUTION, Figure, key_figures, stance};
use rearend::findings::capitalised;
use rearend::setup::Setup;
use rearend::tape::Units;
use rearend::travel::Row;

use crate::pen::{Fonts, Pen, advance, px};

/// What the band says.
#[derive(Clone, Debug)]
pub struct Caption {
    /// The setup's name.
    pub title: String,
    /// The layout.
    pub layout: String,
    /// Where the truck stands.
    pub stance: String,
    /// A few figures.
    pub figures: Vec<Figure>,
    /// Whose picture it is; empty for nobody's.
    pub shop: String,
    /// The shop's mark.
    pub logo: Option<RgbaImage>,
}

impl Caption {
    /// The caption of a setup at a pose.
    #[must_use]
    pub fn of(setup: &Setup, answers: &Answers, row: &Row, units: Units) -> Self {
        Self {
            title: setup.name.clone(),
            layout: capitalised(&setup.layout_name()),
            stance: stance(setup, row, units),
            figures: key_figures(setup, answers, units).to_vec(),
            shop: String::new(),
            logo: None,
        }
    }

    /// The caption of several setups at once: what each of them shifts sideways.
    #[must_use]
    pub fn of_several(of: &[(&Setup, &Answers)], units: Units) -> Self {
        let figure = |(setup, answers): &(&Setup, &Answers)| {
            let [shift, ..] = key_figures(setup, answers, units);
            Figure {
                label: setup.name.clone(),
                value: shift.value,
            }
        };
        Self {
            title: "Side by side".to_owned(),
            layout: "At ride height. Figures: the largest".to_owned(),
            stance: "sideways shift over the travel".to_owned(),
            figures: of.iter().map(figure).collect(),
            shop: String::new(),
            logo: None,
        }
    }
}

const BAND: Rgb<u8> = Rgb([24, 30, 38]);
const RULE: Rgb<u8> = Rgb([230, 159, 0]);
const WHITE: Rgb<u8> = Rgb([245, 246, 248]);
const SOFT: Rgb<u8> = Rgb([172, 181, 192]);

/// Height of the band in a picture of this size.
#[must_use]
pub fn height(width: u32, picture_height: u32) -> u32 {
    (width * 13 / 100).min(picture_height / 3)
}

/// The picture with the band below it, `full_height` in all.
#[must_use]
pub fn below(picture: &RgbImage, full_height: u32, caption: &Caption) -> RgbImage {
    let mut whole = RgbImage::from_pixel(picture.width(), full_height, BAND);
    image::imageops::replace(&mut whole, picture, 0, 0);
    let Some(fonts) = Fonts::new() else {
        return whole;
    };
    Band {
        whole,
        top: picture.height(),
        fonts,
    }
    .written(caption)
}

struct Band {
    whole: RgbImage,
    top: u32,
    fonts: Fonts,
}

/// Where things stand in the band, pixels.
struct Page {
    top: f32,
    /// A hundredth of the band's height.
    unit: f32,
    margin: f32,
    /// Where the figures begin.
    column: f32,
    /// Where they end.
    right: f32,
}

impl Band {
    fn written(mut self, caption: &Caption) -> RgbImage {
        for y in 0..((self.whole.height() - self.top) / 40).max(2) {
            for x in 0..self.whole.width() {
                self.whole.put_pixel(x, self.top + y, RULE);
            }
        }
        let page = Page {
            top: px(self.top),
            unit: px(self.whole.height() - self.top) / 100.0,
            margin: px(self.whole.width()) * 0.022,
            column: px(self.whole.width()) * 0.36,
            right: px(self.whole.width()) * 0.978,
        };
        let page = self.shop(caption, page);
        self.about(caption, &page);
        self.figures(&caption.figures, &page);
        let room = px(self.whole.width()) - 2.0 * page.margin;
        let regular = self.fonts.regular.clone();
        let (x, low) = (page.margin, page.top + 91.0 * page.unit);
        self.pen().text(&regular, CAUTION, x, low, 13.5 * page.unit, room, SOFT);
        self.whole
    }

    fn pen(&mut self) -> Pen<'_> {
        Pen {
            picture: &mut self.whole,
        }
    }

    /// The shop's mark and name at the right, where there are any; what is left for the figures.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "places in a picture are positive and a few thousand"
    )]
    fn shop(&mut self, caption: &Caption, page: Page) -> Page {
        if caption.shop.is_empty() && caption.logo.is_none() {
            return page;
        }
        let room = px(self.whole.width()) * 0.13;
        let left = page.right - room;
        let named = !caption.shop.is_empty();
        if let Some(logo) = &caption.logo {
            let high = page.unit * if named { 48.0 } else { 64.0 };
            let scale = (room / px(logo.width().max(1))).min(high / px(logo.height().max(1)));
            let size = [logo.width(), logo.height()].map(|side| ((px(side) * scale) as u32).max(1));
            let logo = image::imageops::resize(logo, size[0], size[1], image::imageops::FilterType::Lanczos3);
            let corner = [page.right - px(size[0]), page.top + 12.0 * page.unit].map(|at| at.max(0.0) as u32);
            self.pen().paste(&logo, corner);
        }
        if named {
            let bold = self.fonts.bold.clone();
            let size = 17.0 * page.unit * (room / advance(&bold, &caption.shop, 17.0 * page.unit)).min(1.0);
            let x = page.right - advance(&bold, &caption.shop, size);
            let at = if caption.logo.is_some() { 75.0 } else { 40.0 };
            self.pen()
                .text(&bold, &caption.shop, x, page.top + at * page.unit, size, room, WHITE);
        }
        Page {
            right: left - page.margin,
            ..page
        }
    }

    /// Name, layout and where the truck stands; what stands on a line of its own only when it is long moves the others up.
    fn about(&mut self, caption: &Caption, page: &Page) {
        let Fonts { bold, regular } = self.fonts.clone();
        let room = page.column - page.margin * 1.5;
        let stance = broken(&regular, &caption.stance, 16.0 * page.unit, room);
        let long = stance.len() > 1;
        let [title, layout, first] = if long { [28.0, 45.0, 60.0] } else { [33.0, 52.0, 69.0] };
        // Both lines in one size.
        let widest = stance.iter().map(|text| advance(&regular, text, 14.5 * page.unit));
        let smaller = if long {
            14.5 * (room / widest.fold(room, f32::max))
        } else {
            16.0
        };
        let mut line = |font: &FontRef, text: &str, at: f32, size: f32, colour: Rgb<u8>| {
            self.pen().text(
                font,
                text,
                page.margin,
                page.top + at * page.unit,
                size * page.unit,
                room,
                colour,
            );
        };
        line(&bold, &caption.title, title, if long { 25.0 } else { 28.0 }, WHITE);
        line(&regular, &caption.layout, layout, 16.0, SOFT);
        for (text, below) in stance.into_iter().zip([0.0, 14.5]) {
            line(&regular, text, first + below, smaller, SOFT);
        }
    }

    /// Figures side by side, in one size: that of the longest.
    fn figures(&mut self, figures: &[Figure], page: &Page) {
        let Fonts { bold, regular } = self.fonts.clone();
        let unit = page.unit;
        let count = u8::try_from(figures.len().max(1)).unwrap_or(u8::MAX);
        let share = (page.right - page.column) / f32::from(count);
        let widest = figures
            .iter()
            .map(|f| advance(&bold, &f.value, 19.0 * unit))
            .fold(1.0, f32::max);
        let size = 19.0 * unit * (share * 0.92 / widest).min(1.0);
        let labels = figures.iter().map(|f| advance(&regular, &f.label, 15.0 * unit));
        let label_size = 15.0 * unit * (share * 0.92 / labels.fold(1.0, f32::max)).min(1.0);
        for (figure, place) in figures.iter().zip(0_u8..) {
            let x = page.column + share * f32::from(place);
            let [label, value] = [30.0, 54.0].map(|at| page.top + at * unit);
            self.pen()
                .text(&regular, &figure.label, x, label, label_size, share * 0.92, SOFT);
            self.pen().text(&bold, &figure.value, x, value, size, share, WHITE);
        }
    }
}

/// A line that is still readable when it is made this much smaller needs no break.
const SHRINKS: f32 = 1.4;

/// The text in one line where it fits, else in two: broken after a comma if one is far enough along, or else at a space.
fn broken<'t>(font: &FontRef, text: &'t str, size: f32, room: f32) -> Vec<&'t str> {
    if advance(font, text, size) <= room * SHRINKS {
        return vec![text];
    }
    let last_that_fits = |mark: &str| {
        let ends = text.match_indices(mark).map(|(at, found)| at + found.len());
        ends.filter(|end| advance(font, text[..*end].trim_end(), size) <= room * SHRINKS)
            .last()
    };
    match last_that_fits(", ").or_else(|| last_that_fits(" ")) {
        Some(end) => vec![text[..end].trim_end(), &text[end..]],
        None => vec![text],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const STANCE: &str = "Rails at 110.0 mm (travel 0.0 mm to 230.0 mm), left wheel up 3.0°";

    #[test]
    fn a_long_line_is_broken_after_its_comma_and_stays_readable() {
        let font = Fonts::new().expect("the fonts read").regular;
        let room = advance(&font, STANCE, 20.0) * 0.6;
        let lines = broken(&font, STANCE, 20.0, room);
        assert_eq!(
            lines,
            ["Rails at 110.0 mm (travel 0.0 mm to 230.0 mm),", "left wheel up 3.0°"]
        );
        assert_eq!(broken(&font, STANCE, 20.0, room * 2.0), [STANCE]);
        assert_eq!(broken(&font, "unbreakable", 20.0, 5.0), ["unbreakable"]);
    }
}
