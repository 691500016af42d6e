//! The open document, without a window: what is described, what it answers, where the truck stands, and everything a click can do.
//!
//! The user's every act is a [`Command`] run on the [`Bench`]; edits among them are [`Change`]s, validated before they take effect,
//! so that the document always solves or says why, and always reads back from its file.

mod bench;
mod beside;
mod change;
pub mod demo;
pub mod disk;
mod document;
mod holes;
pub mod journal;
mod mirror;
mod part_edits;
mod parts;
pub mod recent;
mod selection;
mod step_name;
mod survey;

pub use bench::{Bench, Command, Notice, Stand};
pub use beside::{Beside, MOST_BESIDE};
pub use change::{Change, ChangeError};
pub use document::Document;
pub use part_edits::{usable_name, usable_note, usable_part_name, usable_tube_m, usable_wall_m};
pub use parts::as_built;
pub use selection::Selection;
pub use survey::{Surveyed, Surveyor};
