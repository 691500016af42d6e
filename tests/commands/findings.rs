//! `axlewright findings`.

use rearend::file;
use rearend::setup::Role;
use serde_json::Value;

use crate::shell::{Shell, demo, demo_setup};

/// Grade and sentence of every finding in a text of one a line; the caution ends it.
fn lines(text: &str) -> Vec<(String, String)> {
    let mut lines: Vec<&str> = text.lines().collect();
    let caution = lines.pop().expect("a last line");
    assert!(caution.contains("not an approval"), "{caution}");
    let split = |line: &str| {
        let (grade, sentence) = line.split_once(": ").unwrap_or_else(|| panic!("no grade in: {line}"));
        (grade.to_owned(), sentence.to_owned())
    };
    lines.into_iter().map(split).collect()
}

/// The same of JSON.
fn objects(json: &str) -> Vec<(String, String)> {
    let all: Value = serde_json::from_str(json).expect("JSON");
    let text = |finding: &Value, key: &str| finding[key].as_str().expect("a text").to_owned();
    let findings = all["findings"].as_array().expect("a list");
    findings
        .iter()
        .map(|f| (text(f, "grade"), text(f, "sentence")))
        .collect()
}

#[test]
fn text_and_json_say_the_same_in_three_words() {
    let shell = Shell::new();
    let told = lines(&shell.text(&["findings", &demo("01")]));
    assert_eq!(told, objects(&shell.text(&["findings", &demo("01"), "--json"])));
    assert!(
        told.iter().all(|(grade, _)| grade == "check" || grade == "fine"),
        "{told:?}"
    );
    // The bar's slope at ride height is drawn: 255 mm at the frame, 60 mm above an axle 168 mm up.
    let panhard = told
        .iter()
        .find(|(_, sentence)| sentence.starts_with("The panhard bar is"));
    let (grade, sentence) = panhard.expect("a finding about the bar that slopes");
    assert!(
        grade == "check" && sentence.contains("27.0 mm higher at the frame at ride height"),
        "{sentence}"
    );
}

#[test]
fn an_axle_that_nothing_holds_sideways_wont_work() {
    let shell = Shell::new();
    let mut setup = demo_setup();
    setup.bars.retain(|bar| bar.role != Role::Sideways);
    shell.put("free.ron", &file::write(&setup));
    for words in [&["findings", "free.ron"][..], &["findings", "free.ron", "--json"]] {
        let output = shell.run(words);
        let told = String::from_utf8_lossy(&output.stdout);
        assert_eq!(output.status.code(), Some(1), "{told}");
        let findings = if words.len() == 2 { lines(&told) } else { objects(&told) };
        let free = findings
            .iter()
            .find(|(_, sentence)| sentence.contains("Nothing holds the axle sideways"));
        assert_eq!(free.expect("a finding about it").0, "won't work");
    }
}
