//! The files: in the menu, readable, opening with their lesson, and free of names that are not ours.

use std::collections::BTreeSet;

use rearend::file;
use shop::demo;

use crate::scenes::setup;

#[test]
fn every_file_is_in_the_menu_and_the_other_way_round() {
    let folder = tests::root().join("demo-scenes");
    let files: BTreeSet<_> = std::fs::read_dir(&folder)
        .expect("demo-scenes/ is there")
        .map(|entry| {
            entry
                .expect("demo-scenes/ can be listed")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    let menu: BTreeSet<_> = demo::ALL.iter().map(|d| d.file_name.to_owned()).collect();
    assert_eq!(files, menu);
    for demo in demo::ALL {
        let on_disk = std::fs::read_to_string(folder.join(demo.file_name)).expect("a demo scene is text");
        assert_eq!(on_disk, demo.text, "{} is built in as it lies on disk", demo.file_name);
    }
}

#[test]
fn titles_and_names_tell_the_scenes_apart() {
    let titles: BTreeSet<_> = demo::ALL.iter().map(|d| d.title).collect();
    let names: BTreeSet<_> = demo::ALL.iter().map(|d| setup(d).name).collect();
    assert_eq!((titles.len(), names.len()), (demo::ALL.len(), demo::ALL.len()));
    // The last three are called by what is wrong with them.
    for demo in &demo::ALL[..7] {
        let (title, layout) = (demo.title.to_lowercase(), setup(demo).layout_name().to_lowercase());
        let is_told = layout.split(" with ").all(|part| title.contains(part));
        assert!(is_told, "{}: {title} tells the layout, {layout}", demo.file_name);
    }
}

#[test]
fn every_scene_opens_with_what_it_teaches() {
    for demo in demo::ALL {
        let first = demo.text.lines().next().unwrap_or_default();
        let lesson = first.strip_prefix("// What this one teaches: ");
        assert!(
            lesson.is_some_and(|l| l.len() > 20),
            "{} opens with {first:?}",
            demo.file_name
        );
        assert!(
            !setup(&demo).note.is_empty(),
            "{}: the note says it on the screen",
            demo.file_name
        );
    }
}

/// A make or a brand is a proper noun, and a proper noun shows by its capital inside a sentence. James Watt's linkage has no other name.
fn proper_nouns(text: &str) -> Vec<&str> {
    let mut begins = true;
    let mut found = Vec::new();
    for word in text.split_whitespace().filter(|w| *w != "//") {
        let bare = word.trim_matches(|c: char| !c.is_alphanumeric());
        let is_name = bare.len() > 1 && bare.starts_with(char::is_uppercase);
        if !begins && is_name && bare != "Watt's" {
            found.push(bare);
        }
        begins = word.ends_with(['.', ':', '!', '?']);
    }
    found
}

#[test]
fn no_scene_names_a_make_or_a_brand() {
    assert_eq!(
        proper_nouns("A bar. It swings on Watt's arc, like Somebody's: Not so."),
        ["Somebody's"]
    );
    for demo in demo::ALL {
        let setup = setup(&demo);
        let comments: String = demo
            .text
            .lines()
            .filter(|l| l.starts_with("//"))
            .collect::<Vec<_>>()
            .join("\n");
        for text in [&setup.name, &setup.note, &comments] {
            assert_eq!(proper_nouns(text), [""; 0], "{}: {text}", demo.file_name);
            let odd = text
                .chars()
                .find(|c| matches!(c, '\u{ae}' | '\u{2122}' | '\u{a9}' | '@') || c.is_control() && *c != '\n');
            assert_eq!(odd, None, "{}: {text}", demo.file_name);
            assert!(
                !text.contains("www.") && !text.contains("://"),
                "{}: {text}",
                demo.file_name
            );
        }
    }
}

#[test]
fn every_scene_reads_back_as_it_is_written() {
    for demo in demo::ALL {
        let setup = setup(&demo);
        assert_eq!(file::read(&file::write(&setup)), Ok(setup), "{}", demo.file_name);
    }
}
