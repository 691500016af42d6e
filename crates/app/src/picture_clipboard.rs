//! Pictures on the system's clipboard.

use std::borrow::Cow;

use arboard::{Clipboard, ImageData};
use image::RgbImage;

/// The clipboard, once something was put there: on some systems what it holds goes with whoever put it there.
#[derive(Default)]
pub struct PictureClipboard {
    clipboard: Option<Clipboard>,
}

impl PictureClipboard {
    /// Puts a picture there.
    pub fn put(&mut self, picture: &RgbImage) -> Result<(), String> {
        let unreachable = |error: arboard::Error| format!("the clipboard cannot be reached: {error}");
        let clipboard = match &mut self.clipboard {
            Some(clipboard) => clipboard,
            none => none.insert(Clipboard::new().map_err(unreachable)?),
        };
        let with_cover = image::DynamicImage::ImageRgb8(picture.clone()).into_rgba8();
        let data = ImageData {
            width: picture.width() as usize,
            height: picture.height() as usize,
            bytes: Cow::Owned(with_cover.into_raw()),
        };
        clipboard.set_image(data).map_err(unreachable)
    }
}
