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
pub const ALL: [Demo; 10] = [
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
    Demo {
        file_name: "04-three-link.ron",
        title: "Three-link with offset upper bar and panhard bar",
        text: include_str!("../../../demo-scenes/04-three-link.ron"),
    },
    Demo {
        file_name: "05-wishbone.ron",
        title: "Wishbone over two lower bars",
        text: include_str!("../../../demo-scenes/05-wishbone.ron"),
    },
    Demo {
        file_name: "06-truck-arms.ron",
        title: "Truck arms with panhard bar",
        text: include_str!("../../../demo-scenes/06-truck-arms.ron"),
    },
    Demo {
        file_name: "07-ladder-bars.ron",
        title: "Ladder bars with diagonal bar",
        text: include_str!("../../../demo-scenes/07-ladder-bars.ron"),
    },
    Demo {
        file_name: "08-nothing-sideways.ron",
        title: "Four bars, and nothing holds the axle sideways",
        text: include_str!("../../../demo-scenes/08-nothing-sideways.ron"),
    },
    Demo {
        file_name: "09-binding.ron",
        title: "Bars that bind with one wheel up",
        text: include_str!("../../../demo-scenes/09-binding.ron"),
    },
    Demo {
        file_name: "10-as-built-kit.ron",
        title: "Bars from a kit, as they came",
        text: include_str!("../../../demo-scenes/10-as-built-kit.ron"),
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
