//! The demo trucks that come with the program.

use rearend::file::{self, FileError};
use rearend::layouts::Layout;
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

/// A scene by its file's stem.
macro_rules! demo {
    ($stem:literal, $title:literal) => {
        Demo {
            file_name: concat!($stem, ".ron"),
            title: $title,
            text: include_str!(concat!("../../../demo-scenes/", $stem, ".ron")),
        }
    };
}

/// All demo scenes, in the order of the lessons. The first one is shown at the start.
pub const ALL: [Demo; 10] = [
    demo!("01-parallel-panhard", "Parallel four-link with panhard bar"),
    demo!("02-parallel-watt", "Parallel four-link with Watt's linkage"),
    demo!("03-triangulated", "Triangulated four-link"),
    demo!("04-three-link", "Three-link with offset upper bar and panhard bar"),
    demo!("05-wishbone", "Wishbone over two lower bars"),
    demo!("06-truck-arms", "Truck arms with panhard bar"),
    demo!("07-ladder-bars", "Ladder bars with diagonal bar"),
    demo!("08-nothing-sideways", "Four bars, and nothing holds the axle sideways"),
    demo!("09-binding", "Bars that bind with one wheel up"),
    demo!("10-as-built-kit", "Bars from a kit, as they came"),
];

/// What a setup of one's own begins as: a usual truck, hung the plainest way.
///
/// # Errors
/// Never, as the tests hold.
pub fn new_truck() -> Result<Setup, FileError> {
    let truck = file::read(include_str!("new-truck.ron"))?;
    Ok(Layout::ParallelPanhard.hang(&truck))
}

impl Demo {
    /// Reads it.
    ///
    /// # Errors
    /// Never, as the tests hold.
    pub fn setup(&self) -> Result<Setup, FileError> {
        file::read(self.text)
    }
}

#[cfg(test)]
mod tests {
    use rearend::measure::{self, Described};
    use rearend::tape::Units;

    use super::*;

    /// In inches nothing on the sheet is rounded before somebody has typed it.
    #[test]
    fn a_new_truck_is_in_whole_sixteenths_whatever_of_it_is_described() {
        let bare = new_truck().expect("it reads");
        let all = Described::ALL.into_iter().filter(|part| *part != Described::Air);
        let coils = all.fold(bare, |setup, part| part.put(&setup, true));
        let air = Described::Air.put(&coils, true);
        let mut seen = 0;
        for setup in [coils, air] {
            let setup = file::read(&file::write(&setup)).expect("what is usual makes sense");
            for measure in measure::all() {
                let Some(value) = measure.value(&setup) else { continue };
                let shown = measure.dimension.at_rest(Units::Sixteenths, value);
                assert!(!shown.starts_with('≈'), "{}: {shown}", measure.key);
                // A decimal point only where no tape is held: an angle, a ratio.
                let is_length = measure.dimension == rearend::tape::Dimension::Length;
                assert!(!(is_length && shown.contains('.')), "{}: {shown}", measure.key);
                seen += 1;
            }
        }
        assert!(seen > 100, "{seen}");
    }
}
