//! The demo trucks that come with the program.

use rearend::file::{self, FileError};
use rearend::setup::Setup;

/// A demo scene.
#[derive(Clone, Copy, Debug)]
pub struct Demo {
    /// Its file's name.
    pub file_name: &'static str,
    /// What the menu calls it.
    pub title: &'static str,
    /// The file.
    pub text: &'static str,
}

/// All demo scenes, in the order of the lessons. The first one is shown at the start.
pub const ALL: [Demo; 3] = [
    Demo {
        file_name: "01-parallel-panhard.ron",
        title: "Parallel four-link with panhard bar",
        text: include_str!("../../../demo-scenes/01-parallel-panhard.ron"),
    },
    Demo {
        file_name: "02-parallel-watt.ron",
        title: "Parallel four-link with Watt's linkage",
        text: include_str!("../../../demo-scenes/02-parallel-watt.ron"),
    },
    Demo {
        file_name: "03-triangulated.ron",
        title: "Triangulated four-link",
        text: include_str!("../../../demo-scenes/03-triangulated.ron"),
    },
];

impl Demo {
    /// Reads it.
    ///
    /// # Errors
    /// Never, as the tests hold.
    pub fn setup(&self) -> Result<Setup, FileError> {
        file::read(self.text)
    }
}
