//! Mouse and keyboard.

use std::process::{Command, Output};

/// The user's hands on one window. Places are pixels from the window's corner.
#[derive(Clone, Debug, Default)]
pub struct Hands {
    display: String,
    window: String,
}

/// A drag is many small movements; a jump would not be one.
const DRAG_STEPS: i32 = 8;
const BETWEEN_STEPS_S: &str = "0.02";

impl Hands {
    /// On the window of a process, once it is there, on top and with the keyboard's focus: there is no window manager to see to that.
    pub fn on_window_of(process: u32, display: &str) -> Option<Self> {
        let found = xdotool(display, &["search", "--onlyvisible", "--pid", &process.to_string()]);
        let window = String::from_utf8_lossy(&found.stdout).lines().next()?.to_owned();
        let display = display.to_owned();
        let hands = Self { display, window };
        hands.act(&["windowraise", &hands.window, "windowfocus", "--sync", &hands.window]);
        Some(hands)
    }

    fn act(&self, words: &[&str]) {
        let output = xdotool(&self.display, words);
        assert!(
            output.status.success(),
            "xdotool {words:?} on window {}: {}",
            self.window,
            String::from_utf8_lossy(&output.stderr)
        );
    }

    /// Presses a key or a chord, such as `ctrl+s`.
    pub fn key(&self, chord: &str) {
        self.act(&["key", chord]);
    }

    /// Types a text.
    pub fn write(&self, text: &str) {
        self.act(&["type", text]);
    }

    /// Replaces what a box holds and enters it.
    pub fn enter(&self, text: &str) {
        self.key("ctrl+a");
        self.write(text);
        self.key("Return");
    }

    /// Moves the mouse at once.
    pub fn point(&self, at: [i32; 2]) {
        let [x, y] = at.map(|v| v.to_string());
        self.act(&["mousemove", "--window", &self.window, &x, &y]);
    }

    /// Moves the mouse on a straight line.
    pub fn glide(&self, from: [i32; 2], to: [i32; 2]) {
        let places: Vec<[String; 2]> = (1..=DRAG_STEPS)
            .map(|i| [0, 1].map(|axis| (from[axis] + (to[axis] - from[axis]) * i / DRAG_STEPS).to_string()))
            .collect();
        let words: Vec<&str> = places
            .iter()
            .flat_map(|[x, y]| ["mousemove", "--window", &self.window, x, y, "sleep", BETWEEN_STEPS_S])
            .collect();
        self.act(&words);
    }

    pub fn press(&self) {
        self.act(&["mousedown", "1"]);
    }

    pub fn release(&self) {
        self.act(&["mouseup", "1"]);
    }

    /// Turns the wheel by notches towards the hand, which shows what is further down.
    pub fn wheel_down(&self, notches: u32) {
        let notches = notches.to_string();
        self.act(&["click", "--repeat", &notches, "--delay", "60", "5"]);
    }

    pub fn click(&self) {
        self.act(&["click", "1"]);
    }
}

fn xdotool(display: &str, words: &[&str]) -> Output {
    Command::new("xdotool")
        .env("DISPLAY", display)
        .args(words)
        .output()
        .expect("xdotool is installed")
}
