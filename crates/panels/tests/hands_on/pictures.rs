//! Pictures of panels beside pictures of how they were.
//!
//! They guard against change and prove nothing: a picture in `tests/pictures` is what a panel looked like when somebody last looked at it
//! and found it good. What a panel should say and do is held by the other tests.
//!
//! A panel was changed on purpose: make the pictures again, look at every one, and keep them.
//!
//! ```text
//! UPDATE_PICTURES=1 cargo test -p panels --test hands_on pictures
//! ```

use std::path::{Path, PathBuf};

use egui::{Theme, Vec2, vec2};
use egui_kittest::kittest::Queryable;
use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::{Rgba, RgbaImage};
use panels::{Act, Quantity};
use rearend::setup::BarEnd;
use shop::{Bench, Change, Command};

use crate::raster::picture;
use crate::support::{Window, bench, mount, window};

/// The edge of a letter or a sloping line takes another shade where floats are rounded otherwise, on another machine or by another
/// compiler; it is less than this, of 255, in every channel.
const SHADE: u8 = 24;
/// And a word that comes to lie a quarter of a pixel further along changes more than that, but only along its letters.
const SHARE: f64 = 0.002;

const HOW: &str = "to accept: UPDATE_PICTURES=1 cargo test -p panels --test hands_on pictures";

/// How the first demo's panhard bar stands among its bars.
const PANHARD: usize = 2;

#[test]
fn findings_of_a_truck_that_binds() {
    check("findings", &findings());
}

#[test]
fn the_mount_card_in_the_dark() {
    check("mount_card_dark", &mount_card(Theme::Dark));
}

#[test]
fn the_mount_card_in_the_light() {
    check("mount_card_light", &mount_card(Theme::Light));
}

#[test]
fn the_ride_post() {
    let window = window(bench(0), vec2(136.0, 440.0), |ui, bench| {
        panels::ride_post_ui(ui, bench, false)
    });
    check("ride_post", &window);
}

#[test]
fn the_strips() {
    let window = window(bench(0), vec2(352.0, 440.0), |ui, bench| {
        panels::strips_ui(ui, bench, &[Quantity::ForeAft])
    });
    check("strips", &window);
}

#[test]
fn the_parts_drawer_with_a_bar_unfolded() {
    let mut window = window(bench(0), vec2(430.0, 640.0), panels::parts_drawer_ui);
    let is_panhard = |label: Option<String>| label.is_some_and(|l| l.starts_with("Panhard bar, "));
    window.get_by(|node| is_panhard(node.label())).click();
    // It unfolds by and by.
    window.run_steps(30);
    window.remove_cursor();
    window.run_steps(30);
    check("parts_drawer", &window);
}

#[test]
fn the_steel_unfolded() {
    let mut bench = bench(0);
    let mut steel = bench.setup().steel;
    steel.plate_m = 0.009_525;
    bench.run(Command::Apply(Change::SetSteel(steel)));
    let mut window = window(bench, vec2(430.0, 800.0), panels::parts_drawer_ui);
    let is_steel = |label: Option<String>| label.is_some_and(|l| l.starts_with("Steel, "));
    window.get_by(|node| is_steel(node.label())).click();
    // It unfolds by and by.
    window.run_steps(30);
    window.remove_cursor();
    window.run_steps(30);
    check("steel", &window);
}

#[test]
fn the_layout_chooser() {
    // Two cards of the row that a window has: words make for large files.
    let window = window(bench(0), vec2(660.0, 372.0), panels::layout_chooser_ui);
    check("layout_chooser", &window);
}

#[test]
fn the_first_ten_of_the_tape_sheet() {
    let window = window(bench(0), vec2(430.0, 640.0), panels::tape_sheet_ui);
    check("tape_sheet", &window);
}

fn findings() -> Window {
    let binding = 8;
    window(bench(binding), vec2(900.0, 200.0), |ui, bench| {
        panels::findings_ui(ui, bench, None)
    })
}

/// The card of the panhard bar's frame end, in a frame like the one it has in the window.
fn mount_card(theme: Theme) -> Window {
    let mut bench = bench(0);
    bench.run(Command::Select(Some(mount(PANHARD, BarEnd::Frame))));
    in_theme(theme, bench, vec2(300.0, 420.0), |ui, bench| {
        let card = egui::Frame::window(ui.style());
        card.show(ui, |ui| panels::mount_card_ui(ui, bench)).inner
    })
}

fn in_theme(
    theme: Theme,
    bench: Bench,
    size: Vec2,
    panel: impl FnMut(&mut egui::Ui, &Bench) -> Vec<Act> + 'static,
) -> Window {
    let mut window = window(bench, size, panel);
    window.ctx.set_theme(theme);
    window.run_steps(4);
    window
}

/// Compares what is shown with the picture of this name, or puts it in its place.
#[track_caller]
fn check<S>(name: &str, window: &egui_kittest::Harness<'static, S>) {
    let now = picture(window);
    let golden = golden(name);
    if std::env::var_os("UPDATE_PICTURES").is_some() {
        write(&golden, &now);
        return;
    }
    let Some(before) = image::open(&golden).ok().map(image::DynamicImage::into_rgba8) else {
        let kept = kept(name, &now);
        panic!(
            "there is no {}; the picture is {}; {HOW}",
            golden.display(),
            kept.display()
        );
    };
    if let Some(difference) = difference(&before, &now) {
        let [now, marked] = [kept(name, &now), kept(&format!("{name}-difference"), &difference)];
        panic!(
            "{} is no longer what is drawn: {}, and {} has in red what differs; {HOW}",
            golden.display(),
            now.display(),
            marked.display(),
        );
    }
}

fn golden(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pictures");
    folder.join(name).with_extension("png")
}

/// Keeps a picture to look at, in the system's folder for such things.
fn kept(name: &str, image: &RgbaImage) -> PathBuf {
    let path = std::env::temp_dir().join(format!("axlewright-{name}.png"));
    write(&path, image);
    path
}

fn write(path: &Path, image: &RgbaImage) {
    let file = std::fs::File::create(path).expect("the picture's file can be made");
    // Flat colours and letters: filters would only make them larger.
    let small = PngEncoder::new_with_quality(file, CompressionType::Best, FilterType::NoFilter);
    image.write_with_encoder(small).expect("the picture is written");
}

/// The new picture faded, with red where it differs; nothing if it is near enough.
fn difference(before: &RgbaImage, now: &RgbaImage) -> Option<RgbaImage> {
    let mut marked = RgbaImage::new(now.width(), now.height());
    let mut differing = 0_u32;
    for (x, y, pixel) in now.enumerate_pixels() {
        let differs = before.get_pixel_checked(x, y).is_none_or(|old| is_other(*old, *pixel));
        differing += u32::from(differs);
        let faded = pixel.0.map(|channel| channel / 3 + 170);
        *marked.get_pixel_mut(x, y) = if differs { Rgba([220, 0, 0, 255]) } else { Rgba(faded) };
    }
    let all = f64::from(now.width()) * f64::from(now.height());
    let is_near = before.dimensions() == now.dimensions() && f64::from(differing) <= SHARE * all;
    (!is_near).then_some(marked)
}

fn is_other(old: Rgba<u8>, new: Rgba<u8>) -> bool {
    old.0.iter().zip(new.0).any(|(old, new)| old.abs_diff(new) > SHADE)
}

/// A grey picture of a thousand pixels, the first few of them lighter by this much.
fn speckled(how_many: usize, lighter: u8) -> RgbaImage {
    let mut image = RgbaImage::from_pixel(50, 20, Rgba([100, 100, 100, 255]));
    for pixel in image.pixels_mut().take(how_many) {
        pixel.0[1] += lighter;
    }
    image
}

#[test]
fn two_pixels_in_a_thousand_may_differ_and_all_of_them_a_little() {
    let plain = speckled(0, 0);
    assert_eq!(difference(&plain, &speckled(1000, SHADE)), None);
    assert_eq!(difference(&plain, &speckled(2, 150)), None);
    let marked = difference(&plain, &speckled(3, SHADE + 1)).expect("three are too many");
    let red = marked.pixels().filter(|p| **p == Rgba([220, 0, 0, 255])).count();
    assert_eq!(red, 3);
    let narrower = RgbaImage::from_pixel(49, 20, Rgba([100, 100, 100, 255]));
    assert!(
        difference(&plain, &narrower).is_some(),
        "another size is another picture"
    );
}
