//! What the sources may say, and where things may lie.

use std::fs;
use std::path::{Path, PathBuf};

/// What lies at the top beside dotfiles; `target` is cargo's and ignored by git.
const TOP: [&str; 9] = [
    "Cargo.toml",
    "Cargo.lock",
    "README.md",
    "DEVELOPERS.md",
    "crates",
    "assets",
    "tests",
    "demo-scenes",
    "target",
];

/// Files aim at 100 to 300 lines; twice that is the most before one is split.
const MOST_LINES: usize = 600;

/// A source file of the program proper, and its path from the top.
struct Source {
    path: String,
    text: String,
}

/// Every `.rs` file under `crates/*/src`.
fn sources() -> Vec<Source> {
    let mut files = Vec::new();
    for entry in fs::read_dir(tests::root().join("crates")).expect("crates/ is there") {
        rust_files(&entry.expect("crates/ can be listed").path().join("src"), &mut files);
    }
    assert!(files.len() > 50, "the sources are found: {} files", files.len());
    files.iter().map(|path| Source::read(path)).collect()
}

fn rust_files(folder: &Path, files: &mut Vec<PathBuf>) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries {
        let path = entry.expect("a source folder can be listed").path();
        if path.is_dir() {
            rust_files(&path, files);
        } else if path.extension().is_some_and(|e| e == "rs") {
            files.push(path);
        }
    }
}

impl Source {
    fn read(path: &Path) -> Self {
        let text = fs::read_to_string(path).expect("a source file is text");
        let path = path
            .strip_prefix(tests::root())
            .unwrap_or(path)
            .to_string_lossy()
            .into_owned();
        Self { path, text }
    }

    fn is_test(&self) -> bool {
        self.path.ends_with("/tests.rs") || self.path.contains("/tests/")
    }

    /// The lines with their numbers from 1, without what only tests compile.
    fn program_lines(&self) -> Vec<(usize, &str)> {
        let mut lines = Vec::new();
        let mut skipping: Option<usize> = None;
        for (i, line) in self.text.lines().enumerate() {
            match skipping {
                Some(indent) if ends_item(line, indent) => skipping = None,
                Some(_) => {}
                None if line.trim_start().starts_with("#[cfg(test)]") => skipping = Some(indent_of(line)),
                None => lines.push((i + 1, line)),
            }
        }
        lines
    }
}

fn indent_of(line: &str) -> usize {
    line.len() - line.trim_start().len()
}

/// Formatted source closes an item on a line of its own, as far in as the item's attribute; a declaration ends in a semicolon.
fn ends_item(line: &str, indent: usize) -> bool {
    let declares = line.ends_with(';') && !line.trim_start().starts_with("#[");
    indent_of(line) == indent && (line.trim() == "}" || declares || line.trim_end().ends_with("{}"))
}

fn code_of(line: &str) -> &str {
    line.split("//").next().unwrap_or_default()
}

#[test]
fn linkage_reads_no_file_no_clock_and_no_environment() {
    let banned = [
        "std::fs",
        "std::time",
        "std::env",
        "std::io",
        "std::net",
        "std::process",
        "std::thread",
        "println!",
    ];
    for source in sources().iter().filter(|s| s.path.starts_with("crates/linkage/")) {
        for (number, line) in source.program_lines() {
            let found = banned.iter().find(|b| code_of(line).contains(**b));
            assert!(
                found.is_none(),
                "{}:{number}: linkage is pure: {}",
                source.path,
                line.trim()
            );
        }
    }
}

/// A panic is for what cannot happen, and the line above it says why it cannot.
#[test]
fn nothing_is_unwrapped_without_a_reason() {
    for source in sources().iter().filter(|s| !s.is_test()) {
        let lines = source.program_lines();
        for (i, (number, line)) in lines.iter().enumerate() {
            let code = code_of(line);
            if !(code.contains(".unwrap()") || code.contains(".expect(")) {
                continue;
            }
            let above = i.checked_sub(1).map_or("", |j| lines[j].1.trim_start());
            let reasoned = above.starts_with("//") || above.starts_with("#[expect(") && above.contains("reason");
            assert!(
                reasoned,
                "{}:{number}: say above it why it cannot fail: {}",
                source.path,
                line.trim()
            );
        }
    }
}

#[test]
fn lints_are_expected_with_a_reason_and_never_allowed() {
    for source in sources() {
        for (number, line) in source.text.lines().enumerate() {
            let allows = line.trim_start().starts_with("#[allow(") || line.trim_start().starts_with("#![allow(");
            assert!(
                !allows,
                "{}:{}: #[expect(.., reason = ..)] instead",
                source.path,
                number + 1
            );
        }
    }
}

#[test]
fn files_are_short() {
    for source in sources() {
        let lines = source.text.lines().count();
        assert!(
            lines < MOST_LINES,
            "{} has {lines} lines; split it by question or kind",
            source.path
        );
    }
}

#[test]
fn the_top_holds_nothing_else() {
    for entry in fs::read_dir(tests::root()).expect("the top can be listed") {
        let name = entry
            .expect("the top can be listed")
            .file_name()
            .to_string_lossy()
            .into_owned();
        assert!(
            name.starts_with('.') || TOP.contains(&name.as_str()),
            "{name} does not belong at the top"
        );
    }
}

#[test]
fn test_modules_are_cut_out_by_their_own_brackets() {
    let text = "fn a() {}\n#[cfg(test)]\nmod tests {\n    fn b() {\n    }\n}\n#[cfg(test)]\nmod more;\nfn c() {}\n";
    let source = Source {
        path: String::new(),
        text: text.to_owned(),
    };
    let left: Vec<_> = source.program_lines().into_iter().map(|(n, _)| n).collect();
    assert_eq!(left, [1, 9]);
}
