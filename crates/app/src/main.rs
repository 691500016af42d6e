//! The `axlewright` program: command line and window. Computes nothing itself.

mod areas;
mod cards;
mod cli;
mod commands;
mod desk;
mod egui_host;
mod errands;
mod file_dialog;
mod keeping;
mod look;
mod making;
mod marks;
mod measuring;
mod outputs;
mod picture_clipboard;
mod stage_area;
mod stage_pane;
mod trace;
mod window;

use std::process::ExitCode;

fn main() -> ExitCode {
    match cli::run() {
        Ok(code) => code,
        Err(sentence) => {
            eprintln!("axlewright: {sentence}");
            ExitCode::from(2)
        }
    }
}
