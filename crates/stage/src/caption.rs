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

impl Band<'_> {
    fn written(mut self, caption: &Caption) -> RgbImage {
        let (width, high) = (px(self.whole.width()), px(self.whole.height() - self.top));
        let (margin, unit) = (width * 0.022, high / 100.0);
        let top = px(self.top);
        for y in 0..((self.whole.height() - self.top) / 40).max(2) {
            for x in 0..self.whole.width() {
                self.whole.put_pixel(x, self.top + y, RULE);
            }
        }
        let column = width * 0.36;
        let bold = self.bold.clone();
        let regular = self.regular.clone();
        let room = column - margin * 1.5;
        self.text(
            &bold,
            &caption.title,
            margin,
            top + 33.0 * unit,
            28.0 * unit,
            room,
            WHITE,
        );
        self.text(
            &regular,
            &caption.layout,
            margin,
            top + 52.0 * unit,
            16.0 * unit,
            room,
            SOFT,
        );
        self.text(
            &regular,
            &caption.stance,
            margin,
            top + 69.0 * unit,
            16.0 * unit,
            room,
            SOFT,
        );
        let share = (width - column - margin) / 3.0;
        // One size for all three: that of the longest.
        let widest = caption
            .figures
            .iter()
            .map(|f| advance(&bold, &f.value, 19.0 * unit))
            .fold(1.0, f32::max);
        let size = 19.0 * unit * (share * 0.92 / widest).min(1.0);
        for (figure, place) in caption.figures.iter().zip([0.0, 1.0, 2.0]) {
            let x = column + share * place;
            self.text(
                &regular,
                figure.label,
                x,
                top + 30.0 * unit,
                15.0 * unit,
                share * 0.92,
                SOFT,
            );
            self.text(&bold, &figure.value, x, top + 54.0 * unit, size, share, WHITE);
        }
        self.text(
            &regular,
            CAUTION,
            margin,
            top + 90.0 * unit,
            13.5 * unit,
            width - 2.0 * margin,
            SOFT,
        );
        self.whole
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
