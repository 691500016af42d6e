//! The clearance survey beside the bench.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::sleep;
use std::time::{Duration, Instant};

use nalgebra::Vector3;
use rearend::setup::{BarEnd, BarId, Mount, Side};
use shop::{Bench, Change, Command, Surveyed, Surveyor, demo};

fn bench() -> Bench {
    Bench::new(demo::ALL[0].setup().expect("a demo reads"), None)
}

/// Attends until a survey is there.
fn wait(surveyor: &mut Surveyor, bench: &mut Bench) {
    let begin = Instant::now();
    while bench.surveyed().is_none() {
        assert!(begin.elapsed() < Duration::from_mins(1), "no survey came");
        surveyor.attend(bench, || ());
        sleep(Duration::from_millis(1));
    }
}

fn move_something(bench: &mut Bench) {
    let mount = Mount::Bar {
        bar: BarId(0),
        end: BarEnd::Frame,
        side: Side::Drawn,
    };
    let from = bench.setup().mount(mount).expect("a bar").point;
    let to = from + Vector3::new(0.0, 0.0, 0.004);
    bench.run(Command::Apply(Change::MoveMount { mount, to }));
}

#[test]
fn a_survey_on_its_own_thread_finds_what_one_here_and_now_finds() {
    let (mut bench, mut surveyor) = (bench(), Surveyor::default());
    let here = Surveyed::of(bench.setup(), bench.document().answers()).expect("it is solved");
    let woken = Arc::new(AtomicUsize::new(0));
    let wakes = Arc::clone(&woken);
    surveyor.attend(&mut bench, move || {
        wakes.fetch_add(1, Ordering::Relaxed);
    });
    wait(&mut surveyor, &mut bench);
    let found = bench.surveyed().expect("waited for");
    assert_eq!(found.nears, here.nears);
    assert_eq!(bench.findings(), here.findings);
    assert!(woken.load(Ordering::Relaxed) > 0, "whoever waits is woken");
    assert!(surveyor.progress().is_none(), "nothing is under way");
}

#[test]
fn what_has_changed_is_surveyed_anew() {
    let (mut bench, mut surveyor) = (bench(), Surveyor::default());
    wait(&mut surveyor, &mut bench);
    let before = bench.surveyed().expect("waited for").revision;
    move_something(&mut bench);
    assert!(bench.surveyed().is_none(), "the old one is of another setup");
    wait(&mut surveyor, &mut bench);
    assert!(bench.surveyed().expect("waited for").revision > before);
}

#[test]
fn a_survey_of_an_older_setup_is_not_taken() {
    let mut bench = bench();
    let old = Surveyed::of(bench.setup(), bench.document().answers()).expect("it is solved");
    move_something(&mut bench);
    let rough = bench.findings().to_vec();
    bench.take_survey(old);
    assert!(bench.surveyed().is_none());
    assert_eq!(bench.findings(), rough);
}

#[test]
fn nothing_is_surveyed_while_a_drag_goes_on() {
    let (mut bench, mut surveyor) = (bench(), Surveyor::default());
    bench.run(Command::BeginStep);
    for _ in 0..3 {
        move_something(&mut bench);
        surveyor.attend(&mut bench, || ());
        assert!(surveyor.progress().is_none());
    }
    bench.run(Command::EndStep);
    wait(&mut surveyor, &mut bench);
}

#[test]
fn a_drag_calls_off_what_is_under_way() {
    let (mut bench, mut surveyor) = (bench(), Surveyor::default());
    surveyor.attend(&mut bench, || ());
    assert!(surveyor.progress().is_some());
    bench.run(Command::BeginStep);
    move_something(&mut bench);
    surveyor.attend(&mut bench, || ());
    assert!(surveyor.progress().is_none());
}
