//! The window's panels: egui only, no bevy. Each function draws one area from the bench and returns what the user did as [`Act`]s;
//! nothing here changes the bench itself.

mod actions;
mod built_card;
mod dialogs;
mod field;
mod findings_list;
mod help;
mod menu;
mod mount_card;
mod quantity;
mod ride_post;
mod scale;
mod stage_overlay;
mod strips;
mod tape_extras;
mod tape_sheet;
mod tape_sketch;
pub mod theme;
mod truck_card;

pub use actions::{Act, Action, shortcuts};
pub use built_card::built_card_ui;
pub use dialogs::{Dialog, PathPurpose, dialog_ui};
pub use findings_list::findings_ui;
pub use help::help_ui;
pub use menu::{MenuView, menu_ui};
pub use mount_card::mount_card_ui;
pub use quantity::Quantity;
pub use ride_post::ride_post_ui;
pub use scale::HeightScale;
pub use stage_overlay::{Handle, Mark, Overlay, Pointer, StageAct, stage_overlay_ui};
pub use strips::strips_ui;
pub use tape_sheet::tape_sheet_ui;
pub use truck_card::truck_card_ui;
