//! The program in a real window, worked with mouse and keyboard. The expected numbers are closed forms of the setup.

#[path = "window/built.rs"]
mod built;
#[path = "window/drag.rs"]
mod drag;
#[path = "window/driver.rs"]
mod driver;
#[path = "window/files.rs"]
mod files;
#[path = "window/hands.rs"]
mod hands;
#[path = "support/look.rs"]
mod look;
#[path = "window/process.rs"]
mod process;
#[path = "window/shown.rs"]
mod shown;
#[path = "window/thrift.rs"]
mod thrift;
#[path = "window/typing.rs"]
mod typing;
