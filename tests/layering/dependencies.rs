//! Which crate uses which.

use std::collections::BTreeSet;
use std::process::Command;

/// Every crate of the program and those of ours that it may use. Whoever adds a crate says here where it stands.
const MAY_USE: [(&str, &[&str]); 8] = [
    ("linkage", &[]),
    ("rearend", &["linkage"]),
    ("shop", &["linkage", "rearend"]),
    ("sheets", &["linkage", "rearend"]),
    ("panels", &["linkage", "rearend", "shop"]),
    ("stage", &["linkage", "rearend", "shop"]),
    ("app", &["linkage", "rearend", "shop", "sheets", "panels", "stage"]),
    ("xtask", &[]),
];

/// Arrows that have to be there: a crate that does not use the one below it computes the same thing twice.
const USES: [(&str, &str); 7] = [
    ("rearend", "linkage"),
    ("shop", "rearend"),
    ("sheets", "rearend"),
    ("panels", "shop"),
    ("stage", "shop"),
    ("app", "panels"),
    ("app", "stage"),
];

/// What draws. Whole families: `bevy` stands for `bevy_render` too.
const DRAWING: [&str; 8] = ["bevy", "egui", "eframe", "epaint", "emath", "wgpu", "winit", "naga"];

/// The packages in a crate's tree with their depth, the crate itself left out.
fn tree(of: &str, edges: &str) -> Vec<(usize, String)> {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let output = Command::new(cargo)
        .args([
            "tree",
            "--offline",
            "--prefix",
            "depth",
            "--format",
            " {p}",
            "--edges",
            edges,
            "--package",
            of,
        ])
        .current_dir(tests::root())
        .output()
        .expect("cargo runs");
    assert!(
        output.status.success(),
        "cargo tree of {of}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    let text = String::from_utf8(output.stdout).expect("cargo writes text");
    let packages: Vec<_> = text.lines().filter_map(package).collect();
    assert_eq!(
        packages.first(),
        Some(&(0, of.to_owned())),
        "the tree begins with the crate it is of"
    );
    packages[1..].to_vec()
}

/// `2 approx v0.5.1 (*)` as depth and name.
fn package(line: &str) -> Option<(usize, String)> {
    let mut words = line.split_whitespace();
    let depth = words.next()?.parse().ok()?;
    Some((depth, words.next()?.to_owned()))
}

fn all(of: &str) -> BTreeSet<String> {
    tree(of, "normal").into_iter().map(|(_, name)| name).collect()
}

fn direct(of: &str, edges: &str) -> BTreeSet<String> {
    tree(of, edges)
        .into_iter()
        .filter(|(depth, _)| *depth == 1)
        .map(|(_, name)| name)
        .collect()
}

/// True for the package of that name and for its family.
fn is_of(family: &str, package: &str) -> bool {
    package == family
        || package
            .strip_prefix(family)
            .is_some_and(|rest| rest.starts_with(['_', '-']))
}

#[track_caller]
fn has_none_of(of: &str, families: &[&str]) {
    let found: Vec<_> = all(of)
        .into_iter()
        .filter(|p| families.iter().any(|f| is_of(f, p)))
        .collect();
    assert!(found.is_empty(), "{of} stands above {found:?}, which it must not know");
}

#[test]
fn linkage_stands_on_nalgebra_and_thiserror_alone() {
    let expected = BTreeSet::from(["nalgebra".to_owned(), "thiserror".to_owned()]);
    assert_eq!(direct("linkage", "normal,build"), expected);
}

#[test]
fn linkage_knows_no_file_format_and_no_window() {
    has_none_of("linkage", &DRAWING);
    has_none_of("linkage", &["serde", "ron", "csv", "tempfile", "rayon"]);
}

#[test]
fn what_can_be_tested_without_a_window_knows_none() {
    for name in ["rearend", "shop", "sheets"] {
        has_none_of(name, &DRAWING);
    }
}

#[test]
fn panels_know_no_engine() {
    has_none_of("panels", &["bevy", "wgpu", "winit", "naga"]);
    assert!(
        all("panels").contains("egui"),
        "the tree is read: panels are drawn with egui"
    );
}

#[test]
fn every_crate_has_its_place() {
    let folder = tests::root().join("crates");
    let found: BTreeSet<_> = std::fs::read_dir(folder)
        .expect("crates/ is there")
        .map(|entry| {
            entry
                .expect("crates/ can be listed")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    assert_eq!(found, MAY_USE.iter().map(|(name, _)| (*name).to_owned()).collect());
}

#[test]
fn nothing_points_back() {
    let ours = |name: &String| MAY_USE.iter().any(|(crate_name, _)| crate_name == name) || name == "tests";
    for (name, allowed) in MAY_USE {
        let used: Vec<_> = direct(name, "normal,build,dev").into_iter().filter(ours).collect();
        let back: Vec<_> = used.iter().filter(|u| !allowed.contains(&u.as_str())).collect();
        assert!(back.is_empty(), "{name} uses {back:?}; it may use {allowed:?}");
    }
}

#[test]
fn every_layer_stands_on_the_one_below() {
    for (upper, lower) in USES {
        assert!(direct(upper, "normal").contains(lower), "{upper} does not use {lower}");
    }
}
