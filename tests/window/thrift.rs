//! What the window costs: nothing while idle, and no more memory the longer it is used.

use std::thread::sleep;
use std::time::Duration;

use crate::drag::PANHARD_ON_FRAME;
use crate::driver::Window;

#[test]
fn idle_draws_nothing() {
    let mut window = Window::open();
    window.look_from_behind();
    let (states, before) = (window.states(), window.process().cpu_s());
    // The length of a measurement, not a wait for something.
    let watched = Duration::from_secs(10);
    sleep(watched);
    let used = window.process().cpu_s() - before;
    assert!(
        used < 0.02 * watched.as_secs_f64(),
        "{used} s of processor time in {watched:?} of doing nothing"
    );
    assert_eq!(window.states(), states);
}

#[test]
fn memory_stays_flat() {
    let mut window = Window::open();
    window.look_from_behind();
    let mut mouse = window.pull_up(PANHARD_ON_FRAME, 20);
    mouse[1] -= 20;
    let process = window.process();
    let mut after_50 = 0.0;
    for step in 0..200 {
        // Up for twenty steps, down for twenty.
        mouse[1] += if step / 20 % 2 == 0 { -2 } else { 2 };
        let states = window.states();
        window.hands.point(mouse);
        window.wait_for_more_than(states);
        if step == 49 {
            after_50 = process.memory_mb();
        }
    }
    let at_end = process.memory_mb();
    window.let_go();
    assert!(at_end - after_50 < 20.0, "grew from {after_50} to {at_end} MB");
    assert!(at_end < 600.0, "{at_end} MB");
}
