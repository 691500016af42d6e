//! The commands that need no window, as a shell runs them: what they write, and how they refuse.

#![expect(
    clippy::expect_used,
    reason = "a test may stop at the first thing that is not as it should be"
)]

#[path = "commands/around.rs"]
mod around;
#[path = "commands/findings.rs"]
mod findings;
#[path = "support/look.rs"]
mod look;
#[path = "commands/paper.rs"]
mod paper;
#[path = "commands/picture.rs"]
mod picture;
#[path = "commands/refusals.rs"]
mod refusals;
#[path = "commands/replay.rs"]
mod replay;
#[path = "commands/shell.rs"]
mod shell;
#[path = "commands/table.rs"]
mod table;
#[path = "commands/travel.rs"]
mod travel;
