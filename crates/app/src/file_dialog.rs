//! The system's own file dialog, on a thread of its own: it may hang, and there may be none.

use std::path::PathBuf;
use std::sync::Mutex;
use std::sync::mpsc::{Receiver, Sender, channel};

use bevy::prelude::Resource;
use bevy::winit::{EventLoopProxyWrapper, WinitUserEvent};
use panels::PathPurpose;

/// Paths picked in dialogs that have answered.
#[derive(Resource)]
pub struct Picked {
    sender: Sender<(PathPurpose, PathBuf)>,
    receiver: Mutex<Receiver<(PathPurpose, PathBuf)>>,
}

impl Default for Picked {
    fn default() -> Self {
        let (sender, receiver) = channel();
        Self {
            sender,
            receiver: Mutex::new(receiver),
        }
    }
}

impl Picked {
    /// The next answer, if there is one.
    pub fn next(&self) -> Option<(PathPurpose, PathBuf)> {
        self.receiver.lock().ok()?.try_recv().ok()
    }

    /// Opens the dialog; the answer comes through [`Picked::next`], and wakes the window.
    pub fn ask(&self, purpose: PathPurpose, proxy: Option<&EventLoopProxyWrapper>) {
        let sender = self.sender.clone();
        let proxy = proxy.map(|p| (**p).clone());
        std::thread::spawn(move || {
            if let Some(path) = show(purpose) {
                let _ = sender.send((purpose, path));
            }
            if let Some(proxy) = proxy {
                let _ = proxy.send_event(WinitUserEvent::WakeUp);
            }
        });
    }
}

fn show(purpose: PathPurpose) -> Option<PathBuf> {
    let dialog = rfd::FileDialog::new();
    match purpose {
        PathPurpose::Open | PathPurpose::OpenBeside => dialog
            .set_title("Open a setup")
            .add_filter("Setup", &["ron"])
            .pick_file(),
        PathPurpose::SaveAs => dialog
            .set_title("Save the setup")
            .add_filter("Setup", &["ron"])
            .save_file(),
        PathPurpose::Picture | PathPurpose::PictureOfHeights | PathPurpose::PictureBeside => dialog
            .set_title("Save a picture")
            .add_filter("PNG picture", &["png"])
            .save_file(),
        PathPurpose::Sheet => dialog
            .set_title("Save the build sheet")
            .add_filter("PDF", &["pdf"])
            .save_file(),
        PathPurpose::Brackets => dialog.set_title("Write brackets to a folder").pick_folder(),
        PathPurpose::TravelTable | PathPurpose::CompareTable => dialog
            .set_title("Save the table")
            .add_filter("CSV table", &["csv"])
            .save_file(),
    }
}

/// Whether the system is likely to have a dialog to show: asking one that is not there gives no answer at all.
pub fn is_there() -> bool {
    let set = |name: &str| std::env::var_os(name).is_some_and(|v| !v.is_empty());
    let bus = set("DBUS_SESSION_BUS_ADDRESS")
        || std::env::var_os("XDG_RUNTIME_DIR").is_some_and(|d| std::path::Path::new(&d).join("bus").exists());
    let zenity = std::env::var_os("PATH").is_some_and(|p| std::env::split_paths(&p).any(|d| d.join("zenity").exists()));
    bus || zenity
}
