//! Writes and draws on a finished picture: letters, lines, other pictures.

use ab_glyph::{Font, FontRef, Glyph, PxScale, ScaleFont, point};
use image::{Rgb, RgbImage, RgbaImage};

const REGULAR: &[u8] = include_bytes!("../../../assets/fonts/AxlewrightSans-Regular.ttf");
const BOLD: &[u8] = include_bytes!("../../../assets/fonts/AxlewrightSans-SemiBold.ttf");

/// The two weights of the program's letters.
#[derive(Clone)]
pub(crate) struct Fonts {
    pub regular: FontRef<'static>,
    pub bold: FontRef<'static>,
}

impl Fonts {
    /// Both; `None` never, as the tests hold.
    pub(crate) fn new() -> Option<Self> {
        Some(Self {
            regular: FontRef::try_from_slice(REGULAR).ok()?,
            bold: FontRef::try_from_slice(BOLD).ok()?,
        })
    }
}

/// A picture being written on.
pub(crate) struct Pen<'p> {
    pub picture: &'p mut RgbImage,
}

impl Pen<'_> {
    /// One line from a baseline, made smaller where it would not fit.
    #[expect(clippy::too_many_arguments, reason = "a line of text has this many properties")]
    pub(crate) fn text(
        &mut self,
        font: &FontRef,
        text: &str,
        x: f32,
        baseline: f32,
        size: f32,
        room: f32,
        colour: Rgb<u8>,
    ) {
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
        let Some(pixel) = self.picture.get_pixel_mut_checked(x as u32, y as u32) else {
            return;
        };
        for (under, over) in pixel.0.iter_mut().zip(colour.0) {
            let mixed = f32::from(*under) + (f32::from(over) - f32::from(*under)) * cover.clamp(0.0, 1.0);
            *under = mixed.round() as u8;
        }
    }

    /// A straight line of a width, its ends square.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_precision_loss,
        reason = "a picture is a few thousand pixels wide"
    )]
    pub(crate) fn line(&mut self, [from, to]: [[f32; 2]; 2], width: f32, colour: Rgb<u8>) {
        let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
        let length = dx.hypot(dy);
        if !length.is_finite() || length < 1e-3 {
            return;
        }
        let reach = width / 2.0 + 1.0;
        let within = |low: f32, high: f32, most: u32| {
            let low = (low - reach).floor().max(0.0) as i64;
            (low, (high + reach).ceil().min(px(most)) as i64)
        };
        let (left, right) = within(from[0].min(to[0]), from[0].max(to[0]), self.picture.width());
        let (top, bottom) = within(from[1].min(to[1]), from[1].max(to[1]), self.picture.height());
        for y in top..bottom {
            for x in left..right {
                let at = [x as f32 + 0.5 - from[0], y as f32 + 0.5 - from[1]];
                let along = (at[0] * dx + at[1] * dy) / length;
                let off = (at[0] * dy - at[1] * dx).abs() / length;
                let cover = (width / 2.0 + 0.5 - off).min(along + 0.5).min(length - along + 0.5);
                if cover > 0.0 {
                    self.blend(x as f32, y as f32, cover, colour);
                }
            }
        }
    }

    /// An evenly filled rectangle, `share` of it covering what is there.
    pub(crate) fn fill(&mut self, corner: [u32; 2], size: [u32; 2], share: f32, colour: Rgb<u8>) {
        for y in corner[1]..corner[1].saturating_add(size[1]) {
            for x in corner[0]..corner[0].saturating_add(size[0]) {
                self.blend(px(x), px(y), share, colour);
            }
        }
    }

    /// Another picture, laid over this one.
    pub(crate) fn paste(&mut self, picture: &RgbaImage, corner: [u32; 2]) {
        for (x, y, pixel) in picture.enumerate_pixels() {
            let [r, g, b, cover] = pixel.0;
            self.blend(
                px(corner[0] + x),
                px(corner[1] + y),
                f32::from(cover) / 255.0,
                Rgb([r, g, b]),
            );
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "a picture is a few thousand pixels wide")]
pub(crate) fn px(pixels: u32) -> f32 {
    pixels as f32
}

pub(crate) fn advance(font: &FontRef, text: &str, size: f32) -> f32 {
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
