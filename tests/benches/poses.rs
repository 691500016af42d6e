//! How long a pose takes, how long all answers to a setup take, and one step of a drag with everything that follows from it.
//!
//! To be held, on one core: a warm pose of an exact layout within 0.4 microseconds, of a redundant, binding or bell-crank layout within 2;
//! all answers to a setup, and so a drag step, within a millisecond. Beside the poses, the same travels by other ways to solve them;
//! more of those in `peers/peers.py`.

#![expect(
    clippy::expect_used,
    reason = "a measurement may stop at the first thing that is not as it should be"
)]

#[path = "poses/answers.rs"]
mod answers;
#[path = "poses/bars.rs"]
mod bars;
#[path = "poses/drag.rs"]
mod drag;
#[path = "poses/hung.rs"]
mod hung;
#[path = "poses/peers.rs"]
mod peers;
#[path = "poses/travels.rs"]
mod travels;

use std::time::Duration;

use criterion::{Criterion, criterion_group, criterion_main};

/// Some seventy measurements: short ones, so that all of them are over in a few minutes.
fn brief() -> Criterion {
    Criterion::default()
        .warm_up_time(Duration::from_millis(400))
        .measurement_time(Duration::from_secs(2))
}

criterion_group! {
    name = benches;
    config = brief();
    targets = travels::layouts, travels::demo_scenes, answers::layouts, answers::as_built, answers::demo_scenes, answers::brackets, drag::steps
}
criterion_main!(benches);
