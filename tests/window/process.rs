//! The program's process as the system accounts for it.

use std::fs;

/// Ticks of processor time in a second: what Linux tells programs, whatever it counts in itself.
const TICKS_PER_S: f64 = 100.0;

/// A running process.
#[derive(Clone, Copy, Debug)]
pub struct Process(pub u32);

impl Process {
    /// Processor time used so far by all threads, s.
    pub fn cpu_s(self) -> f64 {
        let stat = fs::read_to_string(format!("/proc/{}/stat", self.0)).expect("the process runs");
        // The name in brackets may hold anything; after it, user and system time are the 12th and 13th.
        let after_name = stat.rsplit(')').next().expect("a line of numbers");
        let numbers = after_name.split_whitespace().skip(11).take(2);
        let ticks: f64 = numbers.map(|n| n.parse::<f64>().expect("a number of ticks")).sum();
        ticks / TICKS_PER_S
    }

    /// Memory in use, MB.
    pub fn memory_mb(self) -> f64 {
        let status = fs::read_to_string(format!("/proc/{}/status", self.0)).expect("the process runs");
        let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:"));
        let kilobytes = line.and_then(|rest| rest.trim().strip_suffix("kB"));
        let kilobytes = kilobytes.and_then(|n| n.trim().parse::<f64>().ok());
        kilobytes.expect("the process has memory") / 1e3
    }

    /// True while every thread waits for something.
    pub fn waits(self) -> bool {
        let threads = fs::read_dir(format!("/proc/{}/task", self.0)).expect("the process runs");
        threads
            .flatten()
            .filter_map(|thread| fs::read_to_string(thread.path().join("stat")).ok())
            .all(|stat| stat.rsplit(')').next().is_some_and(|s| s.trim_start().starts_with('S')))
    }
}
