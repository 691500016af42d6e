//! Every layout and every demo scene makes a sheet.

use std::path::Path;

use rearend::build::Section;
use rearend::file;
use rearend::layouts::Layout;
use rearend::setup::{AsBuilt, Bolt, Joint, JointKind, Length, Setup};

use crate::common::build;
use crate::support::demo;

fn scenes() -> Vec<(String, Setup)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-scenes");
    let files = std::fs::read_dir(folder)
        .expect("demo scenes")
        .map(|entry| entry.expect("an entry").path());
    let scene = |path: &Path| {
        let text = std::fs::read_to_string(path).expect("it reads");
        (path.display().to_string(), file::read(&text).expect("it is a setup"))
    };
    let mut scenes: Vec<_> = files
        .filter(|p| p.extension().is_some_and(|e| e == "ron"))
        .map(|p| scene(&p))
        .collect();
    scenes.sort_by(|a, b| a.0.cmp(&b.0));
    assert!(scenes.len() >= 10);
    scenes
}

fn all_text(section: &Section) -> Vec<&String> {
    let table = section.table.iter();
    let cells = table.clone().flat_map(|t| t.rows.iter().flatten());
    let heads = table.flat_map(|t| t.columns.iter().map(|c| &c.name));
    let words = section.text.iter().chain(&section.notes).chain(&section.steps);
    words.chain(cells).chain(heads).chain([&section.title]).collect()
}

#[track_caller]
fn is_whole(name: &str, sections: &[Section]) {
    for section in sections {
        for row in section.table.iter().flat_map(|t| &t.rows) {
            let columns = section.table.as_ref().map_or(0, |t| t.columns.len());
            assert_eq!(row.len(), columns, "{name}, {}: {row:?}", section.title);
        }
        for text in all_text(section) {
            let mut words = text.split(|c: char| !c.is_alphanumeric());
            assert!(
                !words.any(|w| matches!(w, "NaN" | "inf" | "None" | "Some")),
                "{name}, {}: {text}",
                section.title
            );
            assert!(!text.contains("  "), "{name}, {}: {text}", section.title);
        }
        let says_something = !(section.text.is_empty() && section.steps.is_empty());
        assert!(says_something, "{name}: {} says nothing", section.title);
    }
}

/// Tables whose rows would be a list of nothing.
#[track_caller]
fn has_rows(name: &str, sections: &[Section]) {
    for section in sections.iter().filter(|s| s.table.is_some()) {
        let rows = section.table.as_ref().map_or(0, |t| t.rows.len());
        assert!(rows > 0, "{name}: {} has no rows", section.title);
    }
}

#[test]
fn every_layout_makes_a_sheet() {
    for layout in Layout::ALL {
        let setup = layout.hang(&demo(0));
        for (units, sections) in build(&setup) {
            let name = format!("{layout:?} in {units:?}");
            is_whole(&name, &sections);
            has_rows(&name, &sections);
            let titles: Vec<_> = sections.iter().map(|s| s.title.as_str()).collect();
            assert_eq!(
                titles,
                [
                    "Cut list",
                    "Mounts on the frame",
                    "Mounts on the axle",
                    "Brackets",
                    "How brackets stand",
                    "Ride heights",
                    "Through the travel",
                    "Joints",
                    "Clearances and notch",
                    "Square and central",
                    "Order of work",
                    "Bolts and welds",
                    "What to look at",
                    "Parts to buy"
                ]
            );
        }
    }
}

#[test]
fn every_demo_scene_makes_a_sheet() {
    for (name, setup) in scenes() {
        for (_, sections) in build(&setup) {
            is_whole(&name, &sections);
        }
    }
}

#[test]
fn a_design_that_cannot_work_says_so_before_its_cut_list() {
    let (_, setup) = scenes()
        .into_iter()
        .find(|(name, _)| name.contains("nothing-sideways"))
        .expect("a scene");
    let (_, sections) = build(&setup).remove(0);
    assert_eq!(sections[0].title, "Cut list");
    assert!(sections[0].text[0].starts_with("Stop:"), "{:?}", sections[0].text);
    let (_, sound) = build(&demo(1)).remove(0);
    assert!(!sound[0].text[0].starts_with("Stop:"), "{:?}", sound[0].text);
}

#[test]
fn what_cannot_be_put_together_has_no_cut_list() {
    let mut setup = demo(0);
    setup.bars[0].length = Length::AsBuilt(AsBuilt::of_length(3.0));
    let (_, sections) = build(&setup).remove(0);
    let titles: Vec<_> = sections.iter().map(|s| s.title.as_str()).collect();
    assert_eq!(titles, ["No cut list", "Ride heights"]);
    assert_eq!(sections[0].text.len(), 1);
    assert!(sections[0].text[0].contains("page one"), "{:?}", sections[0].text);
    // Page one names the bar; nothing else does.
    let all = sections.iter().flat_map(all_text);
    let named: Vec<_> = all.filter(|text| text.contains("lower bar")).collect();
    assert!(named.is_empty(), "{named:?}");
    is_whole("unsolvable", &sections);
}

/// A bolt that lies along its bar is told, and gives no length without end.
#[test]
fn every_joint_and_bolt_makes_a_sheet() {
    for kind in JointKind::ALL {
        for bolt in Bolt::ALL {
            let mut setup = demo(0);
            for bar in &mut setup.bars {
                bar.frame_joint = Some(Joint {
                    bolt,
                    ..Joint::of(kind)
                });
            }
            let (_, sections) = build(&setup).remove(0);
            is_whole(&format!("{kind:?} {bolt:?}"), &sections);
            let told = sections[0]
                .notes
                .iter()
                .any(|n| n.contains("lower bar lies along the bar"));
            assert_eq!(
                told,
                kind != JointKind::RodEnd && bolt == Bolt::Along,
                "{kind:?} {bolt:?}"
            );
        }
    }
}
