//! The program in a real window, worked with mouse and keyboard. The expected numbers are closed forms of the setup.

#![expect(
    clippy::expect_used,
    reason = "a test may stop at the first thing that is not as it should be"
)]

#[path = "window/around.rs"]
mod around;
#[path = "window/begin.rs"]
mod begin;
#[path = "window/built.rs"]
mod built;
#[path = "window/display.rs"]
mod display;
#[path = "window/drag.rs"]
mod drag;
#[path = "window/driver.rs"]
mod driver;
#[path = "window/files.rs"]
mod files;
#[path = "window/hands.rs"]
mod hands;
#[path = "window/hung.rs"]
mod hung;
#[path = "support/look.rs"]
mod look;
#[path = "window/paper.rs"]
mod paper;
#[path = "window/process.rs"]
mod process;
#[path = "window/recovery.rs"]
mod recovery;
#[path = "window/shown.rs"]
mod shown;
#[path = "window/swim.rs"]
mod swim;
#[path = "window/thrift.rs"]
mod thrift;
#[path = "window/typing.rs"]
mod typing;
