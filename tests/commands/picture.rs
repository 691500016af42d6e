//! `axlewright picture`.

use crate::look::assert_picture;
use crate::shell::{Shell, demo};

#[test]
fn a_picture_has_the_size_asked_for_and_shows_the_truck() {
    let shell = Shell::new();
    let picture = [
        "picture",
        &demo("03"),
        "--out",
        "rear.png",
        "--size",
        "480x360",
        "--view",
        "rear",
    ];
    let output = shell.run(&picture);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    assert_picture(&shell.path("rear.png"), (480, 360));
    assert!(
        shell.files().iter().all(|name| !name.starts_with(".tmp")),
        "{:?}",
        shell.files()
    );
}

#[test]
fn without_a_graphics_driver_there_is_a_sentence_instead() {
    let shell = Shell::new();
    let mut picture = shell.program(&["picture", &demo("01"), "--out", "none.png"]);
    // The newer name and the older, for loaders of any age.
    for name in ["VK_DRIVER_FILES", "VK_ICD_FILENAMES"] {
        picture.env(name, shell.path("no-such-driver.json"));
    }
    shell.assert_refused(picture, &["no graphics adapter was found"]);
}
