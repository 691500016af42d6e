//! What the tests of the rear end share.

use rearend::file;
use rearend::setup::Setup;

const DEMOS: [&str; 3] = [
    include_str!("../../../../demo-scenes/01-parallel-panhard.ron"),
    include_str!("../../../../demo-scenes/02-parallel-watt.ron"),
    include_str!("../../../../demo-scenes/03-triangulated.ron"),
];

/// The panhard bar's place among the bars of the first demo.
pub const PANHARD: usize = 2;

/// A demo scene as it lies on disk.
pub fn text(which: usize) -> &'static str {
    DEMOS[which]
}

/// A demo scene.
pub fn demo(which: usize) -> Setup {
    file::read(text(which)).expect("a demo scene reads")
}
