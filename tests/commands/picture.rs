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

#[test]
fn three_heights_and_several_setups_share_one_picture() {
    let shell = Shell::new();
    let strip = [
        "picture",
        &demo("02"),
        "--strip",
        "--out",
        "strip.png",
        "--size",
        "640x480",
        "--view",
        "rear",
    ];
    let output = shell.run(&[&strip[..], &["--dimensions", "--shop", "Long Acre Fabrication"]].concat());
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    assert_picture(&shell.path("strip.png"), (640, 480));
    let both = [
        "picture",
        &demo("01"),
        &demo("03"),
        "--out",
        "both.png",
        "--size",
        "640x360",
    ];
    let output = shell.run(&both);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    assert_picture(&shell.path("both.png"), (640, 360));
    shell.assert_refused(shell.program(&both), &["both.png", "--force"]);
}

#[test]
fn a_picture_that_would_be_too_much_or_lacks_its_logo_is_refused() {
    let shell = Shell::new();
    let demo = demo("01");
    let with = |words: &[&str]| {
        let all = [&["picture", &demo, "--out", "a.png", "--size", "480x360"], words].concat();
        shell.program(&all)
    };
    shell.assert_refused(with(&["--strip", "--height", "150"]), &["--height"]);
    shell.assert_refused(with(&["--logo", "nowhere.png"]), &["logo", "nowhere.png"]);
    let nine = shell.program(&["picture", &demo, &demo, &demo, "--strip", "--out", "a.png"]);
    shell.assert_refused(nine, &["9 looks"]);
}
