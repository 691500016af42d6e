//! Every demo scene: that it is there, reads, travels, and teaches what it says.

#![expect(
    clippy::expect_used,
    reason = "a test may stop at the first thing that is not as it should be"
)]

#[path = "demo_scenes/arms.rs"]
mod arms;
#[path = "demo_scenes/every.rs"]
mod every;
#[path = "demo_scenes/files.rs"]
mod files;
#[path = "demo_scenes/first_lessons.rs"]
mod first_lessons;
#[path = "demo_scenes/fit.rs"]
mod fit;
#[path = "demo_scenes/links.rs"]
mod links;
#[path = "demo_scenes/scenes.rs"]
mod scenes;
