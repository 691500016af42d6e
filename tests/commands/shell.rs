//! A shell in a folder of its own, without a display.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};

use rearend::file;
use rearend::setup::Setup;
use tempfile::TempDir;

/// The shell.
pub struct Shell {
    folder: TempDir,
}

impl Shell {
    pub fn new() -> Self {
        let folder = tempfile::Builder::new().prefix("axlewright-").tempdir();
        Self {
            folder: folder.expect("a folder"),
        }
    }

    /// A path in the shell's folder.
    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Puts a file into the folder.
    pub fn put(&self, name: &str, text: &str) {
        fs::write(self.path(name), text).expect("a file in a folder of one's own");
    }

    /// The names of what is in the folder.
    pub fn files(&self) -> BTreeSet<String> {
        let entries = fs::read_dir(self.folder.path()).expect("the folder can be listed");
        entries
            .flatten()
            .map(|e| e.file_name().to_string_lossy().into_owned())
            .collect()
    }

    /// The program with these words, to be changed further or run.
    pub fn program(&self, words: &[&str]) -> Command {
        let mut program = Command::new(tests::program::path());
        program.args(words).current_dir(self.folder.path());
        for display in ["DISPLAY", "WAYLAND_DISPLAY", "WAYLAND_SOCKET"] {
            program.env_remove(display);
        }
        // Graphics drivers complain on standard error where there is none.
        program.env("XDG_RUNTIME_DIR", self.folder.path());
        program
    }

    pub fn run(&self, words: &[&str]) -> Output {
        self.program(words).output().expect("the program starts")
    }

    /// Runs what has to go well, and gives its standard output.
    pub fn text(&self, words: &[&str]) -> String {
        let output = self.run(words);
        assert!(
            output.status.success() && output.stderr.is_empty(),
            "{words:?}: {}, {}",
            output.status,
            String::from_utf8_lossy(&output.stderr)
        );
        String::from_utf8(output.stdout).expect("text")
    }

    /// Asserts that a run was refused with one sentence that has these words, and that nothing was written.
    pub fn assert_refused(&self, mut program: Command, sentence_has: &[&str]) {
        let before = self.files();
        let output = program.output().expect("the program starts");
        let told = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{program:?}: {told}");
        assert!(output.stdout.is_empty(), "{program:?} wrote to standard output");
        let sentence = told.strip_prefix("axlewright: ").and_then(|t| t.strip_suffix('\n'));
        let sentence = sentence.unwrap_or_else(|| panic!("{program:?} said {told:?}"));
        assert!(
            !sentence.is_empty() && !sentence.contains('\n'),
            "{program:?} said {told:?}"
        );
        for words in sentence_has {
            assert!(sentence.contains(words), "\"{words}\" is missing in: {sentence}");
        }
        assert_eq!(self.files(), before, "{program:?} left something behind");
    }
}

/// The file of a demo scene as a word for the command line.
pub fn demo(number: &str) -> String {
    tests::demo_scene(number).display().to_string()
}

/// Demo 01 as text.
pub fn demo_text() -> String {
    fs::read_to_string(tests::demo_scene("01")).expect("the demo is there")
}

/// Demo 01 as described.
pub fn demo_setup() -> Setup {
    file::read(&demo_text()).expect("a demo reads")
}
