//! Several looks at a truck in one picture.

use bevy::math::UVec2;
use image::{Rgb, RgbImage};
use nalgebra::{Point2, Vector2};

use crate::caption;
use crate::pen::{Fonts, Pen, advance, px};
use crate::picture::{LARGEST, Request, Shot};
use crate::view::Pane;

/// Between two of them, pixels in a thousand of the picture's width.
const GAP: u32 = 4;

const BETWEEN: Rgb<u8> = Rgb([24, 30, 38]);
const DARK: Rgb<u8> = Rgb([18, 24, 31]);
const WHITE: Rgb<u8> = Rgb([245, 246, 248]);
const INK: Rgb<u8> = Rgb([20, 52, 92]);

/// By how much places that stay empty count against an arrangement.
const EMPTY: f64 = 1.5;

/// Columns and rows: those in which a truck of this shape is seen largest, with few places empty.
fn arrangement(room: UVec2, count: u32, shape: f64) -> [u32; 2] {
    let count = count.max(1);
    let height = |columns: u32| {
        let rows = count.div_ceil(columns);
        let filled = f64::from(count) / f64::from(columns * rows);
        (f64::from(room.x / columns) / shape).min(f64::from(room.y / rows)) * filled.powf(EMPTY)
    };
    let columns = (1..=count)
        .max_by(|a, b| height(*a).total_cmp(&height(*b)))
        .unwrap_or(1);
    [columns, count.div_ceil(columns)]
}

fn room(size: UVec2) -> UVec2 {
    UVec2::new(size.x, size.y - caption::height(size.x, size.y))
}

fn gap(size: UVec2) -> u32 {
    size.x * GAP / 1000
}

/// Width and height of each of so many looks at a truck of this shape in a picture of this size, pixels.
#[must_use]
pub fn tile(size: UVec2, count: usize, shape: f64) -> UVec2 {
    let room = room(size);
    let [columns, rows] = arrangement(room, u32::try_from(count).unwrap_or(1), shape);
    let gap = gap(size);
    UVec2::new(
        (room.x - gap * (columns - 1)) / columns,
        (room.y - gap * (rows - 1)) / rows,
    )
}

/// Width and height, pixels, of a picture this wide that so many looks at a truck of this shape fill, its caption below them: of the ways
/// to arrange them the one that comes nearest to half again as wide as high.
#[must_use]
pub fn fitted(width: u32, count: usize, shape: f64) -> UVec2 {
    const PLEASING: f64 = 1.5;
    const EMPTY_PLACES: f64 = 3.0;
    let count = u32::try_from(count.max(1)).unwrap_or(1);
    let caption = f64::from(caption::height(width, u32::MAX));
    let height = |columns: u32| {
        let (rows, gap) = (count.div_ceil(columns), gap(UVec2::splat(width)));
        let look = f64::from((width - gap * (columns - 1)) / columns) / shape;
        let looks = f64::from(rows) * look + f64::from(gap * (rows - 1));
        // A caption takes no more than a third of its picture.
        looks + caption.min(looks / 2.0)
    };
    let cost = |columns: u32| {
        let places = columns * count.div_ceil(columns);
        let off = (f64::from(width) / height(columns) / PLEASING).ln().abs();
        off + EMPTY_PLACES * f64::from(places - count) / f64::from(places)
    };
    let columns = (1..=count).min_by(|a, b| cost(*a).total_cmp(&cost(*b))).unwrap_or(1);
    UVec2::new(width, px_of(height(columns)).clamp(width / 4, (width * 2).min(LARGEST)))
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a picture is a few thousand pixels high; more saturates"
)]
fn px_of(length: f64) -> u32 {
    length.round() as u32
}

/// All of them, with their words and lines, as wide as the picture and as high as its caption leaves room.
pub(crate) fn side_by_side(request: &Request, shots: &[RgbImage]) -> RgbImage {
    let whole = room(request.size);
    let count = shots.len().max(1);
    let [columns, _] = arrangement(whole, u32::try_from(count).unwrap_or(1), request.shape);
    let step = tile(request.size, count, request.shape) + UVec2::splat(gap(request.size));
    let mut picture = RgbImage::from_pixel(whole.x, whole.y, BETWEEN);
    let Some(fonts) = Fonts::new() else {
        return picture;
    };
    let unit = (px(whole.y) / 52.0).max(10.0);
    for (place, (pixels, shot)) in (0_u32..).zip(shots.iter().zip(&request.shots)) {
        let mut pixels = pixels.clone();
        measures(&mut pixels, shot, &fonts, unit);
        words(&mut pixels, &shot.words, &fonts, unit);
        let corner = UVec2::new(place % columns, place / columns) * step;
        image::imageops::replace(&mut picture, &pixels, i64::from(corner.x), i64::from(corner.y));
    }
    picture
}

/// Words on a dark ground in the upper left corner.
fn words(pixels: &mut RgbImage, words: &str, fonts: &Fonts, unit: f32) {
    if words.is_empty() {
        return;
    }
    chip(pixels, words, [unit, unit], fonts, unit, &mut Vec::new());
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "places in a picture are positive and a few thousand"
)]
fn chip(pixels: &mut RgbImage, words: &str, corner: [f32; 2], fonts: &Fonts, unit: f32, taken: &mut Vec<[f32; 4]>) {
    let size = unit * 1.3;
    let wide = advance(&fonts.bold, words, size);
    let ground = [wide + unit, size * 1.5].map(|side| side as u32);
    let most = [pixels.width(), pixels.height()].map(px);
    let step = px(ground[1]) + unit * 0.2;
    let place = |down: f32| {
        let wanted = [corner[0], corner[1] + down * step];
        let held = [0, 1].map(|axis| wanted[axis].clamp(0.0, (most[axis] - px(ground[axis])).max(0.0)));
        [held[0], held[1], held[0] + px(ground[0]), held[1] + px(ground[1])]
    };
    let is_free = |at: &[f32; 4]| taken.iter().all(|other| !overlap(at, other));
    let places = [0.0, 1.0, -1.0, 2.0, -2.0].map(place);
    let at = places.into_iter().find(is_free).unwrap_or(places[0]);
    taken.push(at);
    let held = [at[0], at[1]];
    let mut pen = Pen { picture: pixels };
    pen.fill(held.map(|at| at as u32), ground, 0.82, DARK);
    let (x, baseline) = (held[0] + unit / 2.0, held[1] + size * 1.1);
    pen.text(&fonts.bold, words, x, baseline, size, wide, WHITE);
}

/// Whether two rectangles, left, top, right, bottom, have anything in common.
fn overlap(a: &[f32; 4], b: &[f32; 4]) -> bool {
    a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3]
}

/// Dimension lines with a stroke across each end, and what they measure at their middle.
#[expect(
    clippy::cast_possible_truncation,
    reason = "places in a picture are a few thousand pixels"
)]
fn measures(pixels: &mut RgbImage, shot: &Shot, fonts: &Fonts, unit: f32) {
    let pane = Pane {
        corner: Point2::origin(),
        size: Vector2::new(f64::from(pixels.width()), f64::from(pixels.height())),
    };
    let mut taken = Vec::new();
    for measure in &shot.measures {
        let seen = measure.ends.map(|end| shot.view.project(end, &pane));
        let [Some(from), Some(to)] = seen else { continue };
        let [from, to] = [from, to].map(|at| [at.x as f32, at.y as f32]);
        let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
        let length = dx.hypot(dy);
        if length < unit {
            continue;
        }
        let across = [-dy / length * unit * 0.6, dx / length * unit * 0.6];
        let mut pen = Pen { picture: pixels };
        pen.line([from, to], unit * 0.18, INK);
        for end in [from, to] {
            let stroke = [-1.0, 1.0].map(|side| [end[0] + across[0] * side, end[1] + across[1] * side]);
            pen.line(stroke, unit * 0.18, INK);
        }
        let wide = advance(&fonts.bold, &measure.words, unit * 1.3) + unit;
        let middle = [from[0].midpoint(to[0]) - wide / 2.0, from[1].midpoint(to[1]) - unit];
        chip(pixels, &measure.words, middle, fonts, unit, &mut taken);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn looks_lie_beside_each_other_where_the_picture_is_wide_and_below_where_it_is_high() {
        assert_eq!(arrangement(UVec2::new(1600, 1000), 1, 1.5), [1, 1]);
        assert_eq!(arrangement(UVec2::new(3840, 900), 3, 1.5), [3, 1]);
        assert_eq!(arrangement(UVec2::new(900, 1800), 3, 1.5), [1, 3]);
        assert_eq!(arrangement(UVec2::new(1600, 1000), 3, 2.8), [1, 3]);
        assert_eq!(arrangement(UVec2::new(1600, 1100), 4, 1.5), [2, 2]);
        for count in 1..=6 {
            for size in [UVec2::new(1600, 1200), UVec2::new(320, 320), UVec2::new(3840, 2160)] {
                let tile = tile(size, count, 1.5);
                let [columns, rows] = arrangement(room(size), u32::try_from(count).expect("a few"), 1.5);
                assert!(tile.x * columns <= size.x && tile.y * rows <= room(size).y && tile.min_element() > 20);
            }
        }
    }

    #[test]
    fn a_picture_that_suits_its_looks_has_no_empty_places() {
        for count in [1, 2, 3, 4, 6] {
            for shape in [0.9, 1.5, 2.8] {
                let size = fitted(1920, count, shape);
                let tile = tile(size, count, shape);
                let [columns, rows] = arrangement(room(size), u32::try_from(count).expect("a few"), shape);
                let drawn = f64::from(tile.x) / f64::from(tile.y) / shape;
                assert!((0.95..1.05).contains(&drawn), "{count} looks, {shape}: {size} {tile}");
                assert_eq!(usize::try_from(columns * rows), Ok(count), "{count} looks, {shape}");
            }
        }
        // Three, each nearly three times as wide as high: one above the other, not half a picture of nothing.
        let size = fitted(1920, 3, 2.8);
        assert!(size.y > 1920 && size.y < 2500, "{size}");
    }

    #[test]
    fn a_line_covers_its_middle_and_nothing_far_from_it() {
        let mut picture = RgbImage::from_pixel(40, 20, WHITE);
        let mut pen = Pen { picture: &mut picture };
        pen.line([[5.0, 10.0], [35.0, 10.0]], 2.0, INK);
        assert_eq!((picture.get_pixel(20, 9), picture.get_pixel(20, 10)), (&INK, &INK));
        assert_eq!((picture.get_pixel(20, 6), picture.get_pixel(2, 10)), (&WHITE, &WHITE));
    }
}
