//! A panel as a picture, drawn on the CPU the way a graphics card would draw it, so that pictures are the same with any card or none.
//!
//! egui hands out triangles in points, with premultiplied colours and places in the atlas of glyphs. Here they become pixels: corners are
//! put on a grid of 1/256 pixel as graphics cards do, colours are blended as they are stored (not as light), and every blend is rounded to
//! 8 bits.

use egui::epaint::{Mesh, Primitive, Vertex};
use egui::{Color32, ColorImage, TextureId};
use egui_kittest::Harness;
use image::{Rgba, RgbaImage};

/// Steps of the grid in a pixel.
const GRID: i64 = 256;

/// What a window shows at its last step, one pixel a point unless it is told otherwise.
pub fn picture<S>(window: &Harness<'static, S>) -> RgbaImage {
    let scale = window.output().pixels_per_point;
    let size = window.ctx.content_rect().size() * scale;
    let [width, height] = [size.x, size.y].map(whole);
    let fill = window.ctx.global_style().visuals.panel_fill;
    let mut image = RgbaImage::from_pixel(width, height, Rgba(fill.to_array()));
    #[expect(
        clippy::redundant_closure_for_method_calls,
        reason = "the method alone is of one lifetime only"
    )]
    let atlas = window.ctx.fonts(|fonts| fonts.image());
    for clipped in window.ctx.tessellate(window.output().shapes.clone(), scale) {
        let Primitive::Mesh(mesh) = clipped.primitive else {
            panic!("a panel is made of meshes");
        };
        assert_eq!(
            mesh.texture_id,
            TextureId::default(),
            "a panel has no pictures of its own"
        );
        let [min, max] = [clipped.clip_rect.min, clipped.clip_rect.max].map(|p| [p.x, p.y].map(|c| whole(c * scale)));
        let clip = Clip {
            min,
            max: [max[0].min(width), max[1].min(height)],
        };
        draw(&mut image, &mesh, scale, &clip, &atlas);
    }
    image
}

/// The pixels that may be drawn on: from `min`, short of `max`.
struct Clip {
    min: [u32; 2],
    max: [u32; 2],
}

/// A corner of a triangle.
struct Corner {
    /// Steps of the grid, x to the right and y down.
    at: [i64; 2],
    /// In the atlas, 0 to 1.
    uv: [f64; 2],
    /// Premultiplied, 0 to 255.
    colour: [f64; 4],
}

impl Corner {
    fn new(vertex: &Vertex, scale: f32) -> Self {
        Self {
            at: [vertex.pos.x, vertex.pos.y].map(|c| on_grid(c * scale)),
            uv: [vertex.uv.x, vertex.uv.y].map(f64::from),
            colour: vertex.color.to_array().map(f64::from),
        }
    }
}

fn draw(image: &mut RgbaImage, mesh: &Mesh, scale: f32, clip: &Clip, atlas: &ColorImage) {
    for triangle in mesh.triangles() {
        let [a, b, c] = triangle.map(|i| Corner::new(&mesh.vertices[i as usize], scale));
        // Which way round a triangle goes is left to chance: here it is clockwise as seen.
        match twice_area(a.at, b.at, c.at) {
            0 => {}
            1.. => fill(image, &[a, b, c], clip, atlas),
            _ => fill(image, &[a, c, b], clip, atlas),
        }
    }
}

fn fill(image: &mut RgbaImage, corners: &[Corner; 3], clip: &Clip, atlas: &ColorImage) {
    let [a, b, c] = corners.each_ref().map(|corner| corner.at);
    let sides = [[b, c], [c, a], [a, b]];
    let [columns, rows] = [0, 1].map(|axis| {
        let [low, high] = [a[axis].min(b[axis]).min(c[axis]), a[axis].max(b[axis]).max(c[axis])];
        let to_pixel = |steps: i64| u32::try_from(steps.max(0) / GRID).expect("a window has some thousand pixels");
        to_pixel(low).max(clip.min[axis])..(to_pixel(high) + 1).min(clip.max[axis])
    });
    for y in rows {
        for x in columns.clone() {
            let middle = [x, y].map(|p| i64::from(p) * GRID + GRID / 2);
            let parts = sides.map(|[from, to]| twice_area(from, to, middle));
            if sides.iter().zip(parts).all(|(side, part)| is_inside(*side, part)) {
                let shares = parts.map(|part| share(part, twice_area(a, b, c)));
                let source = coloured(corners, shares, atlas);
                blend(image.get_pixel_mut(x, y), source);
            }
        }
    }
}

/// Twice the area of a triangle, positive if it is clockwise as seen.
fn twice_area(a: [i64; 2], b: [i64; 2], c: [i64; 2]) -> i64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/// A pixel whose middle lies on a side belongs to the triangle that has it at the top or on the left, and so to one only of two neighbours.
fn is_inside([from, to]: [[i64; 2]; 2], part: i64) -> bool {
    let is_top = to[1] == from[1] && to[0] > from[0];
    let is_left = to[1] < from[1];
    part > 0 || (part == 0 && (is_top || is_left))
}

/// The colour of a place in a triangle, premultiplied, 0 to 255.
fn coloured(corners: &[Corner; 3], shares: [f64; 3], atlas: &ColorImage) -> [f64; 4] {
    let mix = |of: &dyn Fn(&Corner) -> f64| corners.iter().zip(shares).map(|(c, s)| of(c) * s).sum::<f64>();
    let texel = texel(atlas, [0, 1].map(|axis| mix(&|corner| corner.uv[axis])));
    [0, 1, 2, 3].map(|channel| mix(&|corner| corner.colour[channel]) * texel[channel] / 255.0)
}

/// What the atlas has at a place, between the four texels around it.
fn texel(atlas: &ColorImage, uv: [f64; 2]) -> [f64; 4] {
    let [(left, right, x), (above, below, y)] = [0, 1].map(|axis| neighbours(uv[axis], atlas.size[axis]));
    let get = |x: usize, y: usize| atlas.pixels[y * atlas.size[0] + x].to_array().map(f64::from);
    let between = |a: [f64; 4], b: [f64; 4], t: f64| [0, 1, 2, 3].map(|i| a[i] + (b[i] - a[i]) * t);
    let [upper, lower] = [above, below].map(|row| between(get(left, row), get(right, row), x));
    between(upper, lower, y)
}

/// `premultiplied + (1 - alpha) * what is there`, in 8 bits.
fn blend(pixel: &mut Rgba<u8>, source: [f64; 4]) {
    for (there, over) in pixel.0.iter_mut().zip(source) {
        *there = byte(over + f64::from(*there) * (1.0 - source[3] / 255.0));
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "rounded, and negative is 0"
)]
fn whole(pixels: f32) -> u32 {
    pixels.round() as u32
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "rounded and clamped"
)]
fn byte(channel: f64) -> u8 {
    channel.round().clamp(0.0, 255.0) as u8
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "rounded, a step is exact"
)]
fn on_grid(pixels: f32) -> i64 {
    (pixels * GRID as f32).round() as i64
}

#[expect(clippy::cast_precision_loss, reason = "areas of windows are exact")]
fn share(part: i64, of: i64) -> f64 {
    part as f64 / of as f64
}

/// The texels before and after a place along one axis of the atlas, and how far it is from one to the other.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "an atlas has some thousand texels a side"
)]
fn neighbours(place: f64, size: usize) -> (usize, usize, f64) {
    let at = (place * size as f64 - 0.5).clamp(0.0, (size - 1) as f64);
    let before = at.floor() as usize;
    (before, (before + 1).min(size - 1), at.fract())
}

mod tests {
    use egui::{Align2, FontId, Painter, Pos2, Rect, Shape, pos2, vec2};

    use super::{Color32, Mesh, Rgba, RgbaImage, picture};
    use crate::support::{bench, window};

    const UNDER: Color32 = Color32::from_rgb(10, 200, 30);
    const OVER: Color32 = Color32::from_rgba_premultiplied(64, 0, 90, 128);
    /// 64 + 10 * 127/255 = 68.98, 0 + 200 * 127/255 = 99.61, 90 + 30 * 127/255 = 104.94.
    const BOTH: Rgba<u8> = Rgba([69, 100, 105, 255]);

    /// A picture of 60 by 60 pixels in one colour, with something painted on it.
    fn painted(paint: impl Fn(&Painter) + 'static) -> RgbaImage {
        let size = vec2(60.0, 60.0);
        let window = window(bench(0), size, move |ui, _| {
            let painter = ui.painter().with_clip_rect(Rect::EVERYTHING);
            painter.rect_filled(square(-100.0, 100.0), 0, UNDER);
            paint(&painter);
            Vec::new()
        });
        picture(&window)
    }

    fn square(from: f32, to: f32) -> Rect {
        Rect::from_min_max(Pos2::new(from, from), Pos2::new(to, to))
    }

    /// The pixels that are another colour than the ground.
    fn inked(image: &RgbaImage) -> Vec<[u32; 2]> {
        let ground = Rgba(UNDER.to_array());
        let other = image.enumerate_pixels().filter(|(.., pixel)| **pixel != ground);
        other.map(|(x, y, _)| [x, y]).collect()
    }

    #[test]
    fn what_is_half_transparent_lets_half_of_what_is_below_through() {
        let image = painted(|painter| {
            painter.rect_filled(square(10.0, 50.0), 0, OVER);
        });
        assert_eq!(image.dimensions(), (60, 60));
        for inside in [[30, 30], [12, 12], [47, 12], [12, 47], [47, 47], [20, 41]] {
            assert_eq!(*image.get_pixel(inside[0], inside[1]), BOTH, "{inside:?}");
        }
        for outside in [[5, 5], [30, 5], [55, 30], [30, 55], [59, 59], [0, 0]] {
            assert_eq!(
                *image.get_pixel(outside[0], outside[1]),
                Rgba([10, 200, 30, 255]),
                "{outside:?}"
            );
        }
    }

    /// Every diagonal of the fan and every outer side runs through middles of pixels.
    #[test]
    fn triangles_that_share_a_side_share_no_pixel_and_leave_none_out() {
        let image = painted(|painter| {
            let mut mesh = Mesh::default();
            let corners = [[10.5, 10.5], [50.5, 10.5], [50.5, 50.5], [10.5, 50.5]];
            mesh.colored_vertex(pos2(30.5, 30.5), OVER);
            for [x, y] in corners {
                mesh.colored_vertex(pos2(x, y), OVER);
            }
            // Two go one way round and two the other.
            for [a, b] in [[1, 2], [3, 2], [3, 4], [1, 4]] {
                mesh.add_triangle(0, a, b);
            }
            painter.add(Shape::mesh(mesh));
        });
        for (x, y, pixel) in image.enumerate_pixels() {
            let is_covered = (10..50).contains(&x) && (10..50).contains(&y);
            let wanted = if is_covered { BOTH } else { Rgba(UNDER.to_array()) };
            assert_eq!(*pixel, wanted, "{x} {y}");
        }
    }

    #[test]
    fn nothing_is_drawn_outside_its_clip_rectangle() {
        let clip = Rect::from_min_max(pos2(20.0, 5.0), pos2(31.0, 25.0));
        let image = painted(move |painter| {
            painter.with_clip_rect(clip).rect_filled(square(-100.0, 100.0), 0, OVER);
        });
        let wanted = (5..25).flat_map(|y| (20..31).map(move |x| [x, y]));
        assert_eq!(inked(&image), wanted.collect::<Vec<_>>());
    }

    #[test]
    fn a_colour_runs_evenly_from_corner_to_corner() {
        let image = painted(|painter| {
            let mut mesh = Mesh::default();
            let [left, right] = [Color32::BLACK, Color32::from_rgb(200, 0, 0)];
            for (x, y, colour) in [
                (0.0, 0.0, left),
                (50.0, 0.0, right),
                (50.0, 60.0, right),
                (0.0, 60.0, left),
            ] {
                mesh.colored_vertex(pos2(x, y), colour);
            }
            mesh.add_triangle(0, 1, 2);
            mesh.add_triangle(0, 2, 3);
            painter.add(Shape::mesh(mesh));
        });
        // Middles of pixels are at x + 1/2, and there are four of 255 a pixel.
        for x in 0..50 {
            let wanted = u8::try_from(4 * x + 2).expect("at most 198");
            assert!(
                (0..60).all(|y| *image.get_pixel(x, y) == Rgba([wanted, 0, 0, 255])),
                "{x}"
            );
        }
    }

    #[test]
    fn a_text_leaves_its_ink_in_its_place() {
        let (ink, corner) = (Color32::from_rgb(250, 240, 255), pos2(8.0, 20.0));
        let image = painted(move |painter| {
            painter.text(corner, Align2::LEFT_TOP, "Hill", FontId::proportional(18.0), ink);
        });
        let measured = window(bench(0), vec2(60.0, 60.0), |_, _| Vec::new());
        let size = measured.ctx.fonts_mut(|fonts| {
            let galley = fonts.layout_no_wrap("Hill".to_owned(), FontId::proportional(18.0), ink);
            galley.size()
        });
        let place = Rect::from_min_size(corner, size);
        let inked = inked(&image);
        for [x, y] in &inked {
            #[expect(clippy::cast_precision_loss, reason = "sixty pixels")]
            let middle = pos2(*x as f32 + 0.5, *y as f32 + 0.5);
            assert!(place.contains(middle), "{middle:?} is not in {place:?}");
        }
        // Two stems of the H, an i and two l, each over a dozen pixels high; but no block.
        assert!(inked.len() > 50 && inked.len() < 400, "{}", inked.len());
        let full = image.pixels().filter(|pixel| **pixel == Rgba(ink.to_array())).count();
        assert!(full > 10, "stems are more than a pixel wide: {full}");
    }
}
