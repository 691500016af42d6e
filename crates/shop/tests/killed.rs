//! A program that is killed while it works, a hundred times at random moments: nothing older than its last finished step is lost.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

#[expect(dead_code, reason = "the other tests use the rest of it")]
mod support;

use std::io::{BufRead, BufReader, Write};
use std::process::{Child, Command as Program, Stdio};
use std::time::Duration;

use nalgebra::Vector3;
use shop::journal::{Journal, entries, left_behind};
use shop::{Bench, Change, Command};
use support::{frame_mount, setup};

/// Where the program that is killed keeps its journal.
const FOLDER: &str = "JOURNAL_FOLDER_OF_THE_PROGRAM_TO_BE_KILLED";

const KILLS: u64 = 100;

/// Drags for ever, and tells of every drag when its step is finished and the frame's end is reached.
#[test]
#[ignore = "runs for ever: the test that kills it starts it"]
fn drags_until_it_is_killed() {
    let folder = std::env::var_os(FOLDER).expect("a folder");
    let mut journal = Journal::begin(folder.as_ref()).expect("it begins");
    let mut bench = Bench::new(setup(0), None);
    let mount = frame_mount(0);
    let mut out = std::io::stdout().lock();
    for step in 0_u32.. {
        bench.run(Command::BeginStep);
        for part in 1..=5_u32 {
            let from = bench.setup().mount(mount).expect("a mount").point;
            let to = from + Vector3::z() * (if step % 2 == 0 { 1e-3 } else { -1e-3 } * f64::from(part));
            bench.run(Command::Apply(Change::MoveMount { mount, to }));
            journal.follow(bench.document()).expect("the disk has room");
        }
        bench.run(Command::Apply(Change::Rename(format!("after {step} drags"))));
        bench.run(Command::EndStep);
        journal.follow(bench.document()).expect("the disk has room");
        // Whoever reads it knows that this step is in the journal.
        writeln!(out, "after {step} drags")
            .and_then(|()| out.flush())
            .expect("somebody listens");
    }
}

fn start(folder: &std::path::Path) -> Child {
    Program::new(std::env::current_exe().expect("this test is a program"))
        .args(["drags_until_it_is_killed", "--exact", "--ignored", "--nocapture"])
        .env(FOLDER, folder)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("it starts")
}

/// Numbers that look random and are the same every time: a step of xorshift.
fn next(seed: &mut u64) -> u64 {
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    *seed
}

#[test]
fn nothing_older_than_the_last_finished_step_is_lost() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut seed = 0x5eed_0fa7_b0c5_u64;
    let mut most = 0;
    for kill in 0..KILLS {
        let mut program = start(folder.path());
        let mut out = BufReader::new(program.stdout.take().expect("it has an output"));
        let mut told = String::new();
        while !told.contains("after 0 drags") {
            told.clear();
            assert!(out.read_line(&mut told).expect("it tells") > 0, "it has begun");
        }
        std::thread::sleep(Duration::from_micros(next(&mut seed) % 40_000));
        program.kill().expect("it dies");
        program.wait().expect("it has died");
        // All that it told before it died: the last whole line is the last step that it was sure of.
        let mut last = "after 0 drags".to_owned();
        while let Some(Ok(line)) = (&mut out).lines().next() {
            last = if line.starts_with("after ") && line.ends_with(" drags") {
                line
            } else {
                last
            };
        }
        let mut left = left_behind(folder.path());
        assert_eq!(left.len(), 1, "kill {kill}");
        let left = left.remove(0);
        let number = |name: &str| {
            name.split(' ')
                .nth(1)
                .and_then(|n| n.parse::<u64>().ok())
                .expect("a number")
        };
        let (kept, sure) = (number(&left.last.setup.name), number(&last));
        assert!(
            kept == sure || kept == sure + 1,
            "kill {kill}: {kept} is kept, {sure} was finished"
        );
        most = most.max(kept);
        left.forget();
        assert_eq!(std::fs::read_dir(folder.path()).expect("it lists").count(), 0);
    }
    assert!(most > 3, "it was killed in the middle of work, not at its begin");
}

/// What is killed before its journal holds anything leaves nothing to offer.
#[test]
fn an_empty_journal_is_no_work() {
    let folder = tempfile::tempdir().expect("a folder");
    drop(Journal::begin(folder.path()).expect("it begins"));
    assert!(left_behind(folder.path()).is_empty());
    assert_eq!(std::fs::read_dir(folder.path()).expect("it lists").count(), 0);
    assert!(entries(folder.path()).is_err(), "a folder is no journal");
}
