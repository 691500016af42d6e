//! Demo scenes, and what poppler reads out of a PDF.

use std::path::{Path, PathBuf};
use std::process::Command;

use rearend::answers::Answers;
use rearend::file;
use rearend::setup::Setup;

/// A demo scene by the start of its file's name.
pub fn demo(number: &str) -> Setup {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-scenes");
    let entries = std::fs::read_dir(&folder).expect("there are demo scenes");
    let mut files = entries.map(|e| e.expect("an entry").path());
    let file = files.find(|p| p.file_name().is_some_and(|n| n.to_string_lossy().starts_with(number)));
    let text = std::fs::read_to_string(file.expect("the scene is there")).expect("it reads");
    file::read(&text).expect("a demo scene reads")
}

/// A demo scene with its answers.
pub fn answered(number: &str) -> (Setup, Answers) {
    let setup = demo(number);
    let answers = Answers::of(&setup);
    (setup, answers)
}

/// A PDF on disk, by a name of its own.
pub fn written(name: &str, pdf: &[u8]) -> PathBuf {
    assert!(pdf.starts_with(b"%PDF-"), "{name} is a PDF");
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("sheets");
    std::fs::create_dir_all(&folder).expect("a folder");
    let path = folder.join(format!("{name}.pdf"));
    std::fs::write(&path, pdf).expect("the PDF is written");
    path
}

/// One of poppler's tools.
pub fn poppler(tool: &str, arguments: &[&str]) -> String {
    let run = Command::new(tool).args(arguments).output();
    let run = run.unwrap_or_else(|e| panic!("{tool} is needed to read PDFs back (package poppler-utils): {e}"));
    assert!(run.status.success(), "{tool}: {}", String::from_utf8_lossy(&run.stderr));
    String::from_utf8(run.stdout).expect("text")
}

/// The text of a PDF in the order it is printed, cell by cell, without white space: where lines break is no matter.
pub fn text(pdf: &Path) -> String {
    let path = pdf.to_str().expect("a plain path");
    solid(&poppler("pdftotext", &["-raw", path, "-"]))
}

/// Without white space.
pub fn solid(text: &str) -> String {
    text.split_whitespace().collect()
}

/// A text without white space has this sentence in it.
#[track_caller]
pub fn says(text: &str, sentence: &str) {
    assert!(text.contains(&solid(sentence)), "\"{sentence}\" is missing");
}

/// How many pages a PDF has.
pub fn pages(pdf: &Path) -> usize {
    let info = poppler("pdfinfo", &[pdf.to_str().expect("a plain path")]);
    let line = info.lines().find_map(|l| l.strip_prefix("Pages:"));
    line.expect("a number of pages").trim().parse().expect("a number")
}

/// A word as it is printed.
pub struct Word {
    pub text: String,
    pub page: usize,
    /// Left, top, right, bottom, in points.
    pub place: [f64; 4],
}

impl Word {
    /// Whether two are printed over each other: a point of overlap either way is no harm.
    pub fn covers(&self, other: &Self) -> bool {
        let overlap = |low: usize| {
            let high = low + 2;
            self.place[high].min(other.place[high]) - self.place[low].max(other.place[low])
        };
        self.page == other.page && overlap(0) > 1.0 && overlap(1) > 2.0
    }
}

/// Every word of a PDF with its place.
pub fn words(pdf: &Path) -> Vec<Word> {
    let path = pdf.to_str().expect("a plain path");
    let boxes = poppler("pdftotext", &["-bbox", path, "-"]);
    let mut page = 0;
    let mut found = Vec::new();
    for line in boxes.lines().map(str::trim) {
        if line.starts_with("<page ") {
            page += 1;
        }
        let Some(rest) = line.strip_prefix("<word ") else {
            continue;
        };
        let (attributes, rest) = rest.split_once('>').expect("a word is closed");
        let mut numbers = attributes
            .split('"')
            .skip(1)
            .step_by(2)
            .map(|n| n.parse().expect("a number"));
        found.push(Word {
            page,
            text: rest.trim_end_matches("</word>").replace("&quot;", "\""),
            place: std::array::from_fn(|_| numbers.next().expect("four numbers")),
        });
    }
    found
}
