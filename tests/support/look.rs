//! Looking at a picture that the program has saved.

use image::GrayImage;

/// Mean and standard deviation of brightness, 0 to 255, of some rows.
fn brightness(picture: &GrayImage, rows: std::ops::Range<u32>) -> (f64, f64) {
    let values = || {
        rows.clone()
            .flat_map(|y| (0..picture.width()).map(move |x| (x, y)))
            .map(|(x, y)| f64::from(picture.get_pixel(x, y).0[0]))
    };
    let count = f64::from(picture.width() * (rows.end - rows.start));
    let mean = values().sum::<f64>() / count;
    let variance = values().map(|v| (v - mean).powi(2)).sum::<f64>() / count;
    (mean, variance.sqrt())
}

/// Asserts the size of a picture, that its upper part shows something, and that a dark band ends it below.
pub fn assert_picture(path: &std::path::Path, size: (u32, u32)) {
    let picture = image::open(path).expect("the picture decodes").to_luma8();
    assert_eq!(picture.dimensions(), size);
    let (_, deviation) = brightness(&picture, 0..size.1 * 2 / 3);
    assert!(
        deviation > 10.0,
        "the stage is flat: its brightness deviates by {deviation} of 255"
    );
    let (mean, deviation) = brightness(&picture, size.1 - 1..size.1);
    assert!(
        mean < 60.0 && deviation < 2.0,
        "no dark band below: brightness {mean}, deviating by {deviation}"
    );
}
