//! Displays to open windows on, each one window's at a time.

use std::sync::{Condvar, LazyLock, Mutex, PoisonError};

/// Names of displays without a user, apart by blanks. Where none are given, the one there is has to do.
const NAMES: &str = "AXLEWRIGHT_TEST_DISPLAYS";

/// Those that no window is on.
static FREE: LazyLock<Mutex<Vec<String>>> = LazyLock::new(|| {
    let named = |name| std::env::var(name).ok().filter(|value| !value.trim().is_empty());
    let names = named(NAMES)
        .or_else(|| named("DISPLAY"))
        .expect("window tests need an X display: `cargo xtask test` gives them some");
    Mutex::new(names.split_whitespace().map(str::to_owned).collect())
});
static GIVEN_BACK: Condvar = Condvar::new();

/// A display that one window has to itself, with its mouse and its keyboard.
pub struct Display {
    pub name: String,
}

impl Display {
    /// Waits for a free one.
    pub fn take() -> Self {
        let mut free = FREE.lock().unwrap_or_else(PoisonError::into_inner);
        loop {
            if let Some(name) = free.pop() {
                return Self { name };
            }
            free = GIVEN_BACK.wait(free).unwrap_or_else(PoisonError::into_inner);
        }
    }
}

impl Drop for Display {
    fn drop(&mut self) {
        let mut free = FREE.lock().unwrap_or_else(PoisonError::into_inner);
        free.push(std::mem::take(&mut self.name));
        GIVEN_BACK.notify_one();
    }
}
