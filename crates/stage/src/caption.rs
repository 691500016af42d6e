//! The band below a picture: name, height, three figures, the caution.

use ab_glyph::{Font, FontRef, Glyph, PxScale, ScaleFont, point};
use image::{Rgb, RgbImage};
use rearend::answers::Answers;
use rearend::figures::{CAUTION, Figure, key_figures, stance};
use rearend::findings::capitalised;
use rearend::setup::Setup;
use rearend::tape::Units;
use rearend::travel::Row;

/// What the band says.
#[derive(Clone, Debug)]
pub struct Caption {
    /// The setup's name.
    pub title: String,
    /// The layout.
    pub layout: String,
    /// Where the truck stands.
    pub stance: String,
    /// Three figures.
    pub figures: [Figure; 3],
}

impl Caption {
    /// The caption of a setup at a pose.
    #[must_use]
    pub fn of(setup: &Setup, answers: &Answers, row: &Row, units: Units) -> Self {
        Self {
            title: setup.name.clone(),
            layout: capitalised(&setup.layout_name()),
            stance: stance(setup, row, units),
            figures: key_figures(setup, answers, units),
        }
    }
}

const REGULAR: &[u8] = include_bytes!("../../../assets/fonts/AxlewrightSans-Regular.ttf");
const BOLD: &[u8] = include_bytes!("../../../assets/fonts/AxlewrightSans-SemiBold.ttf");

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
    let (Ok(regular), Ok(bold)) = (FontRef::try_from_slice(REGULAR), FontRef::try_from_slice(BOLD)) else {
        return whole;
    };
    Band {
        whole,
        top: picture.height(),
        regular,
        bold,
    }
    .written(caption)
}

struct Band<'f> {
    whole: RgbImage,
    top: u32,
    regular: FontRef<'f>,
    bold: FontRef<'f>,
}

/// Where things stand in the band, pixels.
struct Page {
    top: f32,
    /// A hundredth of the band's height.
    unit: f32,
    margin: f32,
    /// Where the figures begin.
    column: f32,
}

impl Band<'_> {
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
        };
        self.about(caption, &page);
        self.figures(&caption.figures, &page);
        let room = px(self.whole.width()) - 2.0 * page.margin;
        let regular = self.regular.clone();
        let (x, low) = (page.margin, page.top + 91.0 * page.unit);
        self.text(&regular, CAUTION, x, low, 13.5 * page.unit, room, SOFT);
        self.whole
    }

    /// Name, layout and where the truck stands; what stands on a line of its own only when it is long moves the others up.
    fn about(&mut self, caption: &Caption, page: &Page) {
        let (bold, regular) = (self.bold.clone(), self.regular.clone());
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
            self.text(
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

    /// Three figures side by side, in one size: that of the longest.
    fn figures(&mut self, figures: &[Figure; 3], page: &Page) {
        let (bold, regular) = (self.bold.clone(), self.regular.clone());
        let unit = page.unit;
        let share = (px(self.whole.width()) - page.column - page.margin) / 3.0;
        let widest = figures
            .iter()
            .map(|f| advance(&bold, &f.value, 19.0 * unit))
            .fold(1.0, f32::max);
        let size = 19.0 * unit * (share * 0.92 / widest).min(1.0);
        for (figure, place) in figures.iter().zip([0.0, 1.0, 2.0]) {
            let x = page.column + share * place;
            let [label, value] = [30.0, 54.0].map(|at| page.top + at * unit);
            self.text(&regular, figure.label, x, label, 15.0 * unit, share * 0.92, SOFT);
            self.text(&bold, &figure.value, x, value, size, share, WHITE);
        }
    }

    /// One line from a baseline, made smaller where it would not fit.
    #[expect(clippy::too_many_arguments, reason = "a line of text has this many properties")]
    fn text(&mut self, font: &FontRef, text: &str, x: f32, baseline: f32, size: f32, room: f32, colour: Rgb<u8>) {
        let natural = advance(font, text, size);
        let size = if natural > room { size * room / natural } else { size };
        for glyph in laid_out(font, text, x, baseline, size) {
            if let Some(outline) = font.outline_glyph(glyph) {
                let corner = outline.px_bounds().min;
                outline.draw(|dx, dy, cover| self.blend(corner.x + px(dx), corner.y + px(dy), cover, colour));
            }
        }
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "places are not negative here, and a mix of bytes is a byte"
    )]
    fn blend(&mut self, x: f32, y: f32, cover: f32, colour: Rgb<u8>) {
        if x < 0.0 || y < 0.0 {
            return;
        }
        let Some(pixel) = self.whole.get_pixel_mut_checked(x as u32, y as u32) else {
            return;
        };
        for (under, over) in pixel.0.iter_mut().zip(colour.0) {
            let mixed = f32::from(*under) + (f32::from(over) - f32::from(*under)) * cover.clamp(0.0, 1.0);
            *under = mixed.round() as u8;
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "a picture is a few thousand pixels wide")]
fn px(pixels: u32) -> f32 {
    pixels as f32
}

fn advance(font: &FontRef, text: &str, size: f32) -> f32 {
    let scaled = font.as_scaled(PxScale::from(size));
    text.chars()
        .map(|c| scaled.h_advance(scaled.glyph_id(c)))
        .sum::<f32>()
        .max(1.0)
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

fn laid_out(font: &FontRef, text: &str, x: f32, baseline: f32, size: f32) -> Vec<Glyph> {
    let scaled = font.as_scaled(PxScale::from(size));
    let mut pen = x;
    text.chars()
        .map(|c| {
            let glyph = scaled.glyph_id(c).with_scale_and_position(size, point(pen, baseline));
            pen += scaled.h_advance(glyph.id);
            glyph
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const STANCE: &str = "Rails at 110.0 mm (travel 0.0 mm to 230.0 mm), left wheel up 3.0°";

    #[test]
    fn a_long_line_is_broken_after_its_comma_and_stays_readable() {
        let font = FontRef::try_from_slice(REGULAR).expect("the font reads");
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
