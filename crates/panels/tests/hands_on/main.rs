//! The panels in use: a panel is drawn without a window, its parts are found by what they say, and what is done to them arrives on a
//! bench as it would in the program.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod beside;
mod colours;
mod dialogs;
mod findings_list;
mod guide;
mod guide_tools;
mod holes;
mod layout_chooser;
mod lengths;
mod menu;
mod mount_card;
mod parts_drawer;
mod parts_note;
mod pictures;
mod raster;
mod ride_post;
mod shortcuts;
mod stage_overlay;
mod steel;
mod strips;
mod support;
mod tape_sheet;
mod truck_card;
