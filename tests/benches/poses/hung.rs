//! Setups to be timed, and their travels, walked once and checked.

use linkage::{Configuration, Drive};
use rearend::layouts::Layout;
use rearend::mechanism::RearEnd;
use rearend::setup::Setup;
use rearend::travel::{POSES, Travel};
use shop::demo;

/// The contract of an exact layout: no larger gap at any pose, m.
pub const CLOSED_M: f64 = 1e-11;

/// The demo scene with a number.
pub fn scene(number: &str) -> Setup {
    let demo = demo::ALL.iter().find(|d| d.file_name.starts_with(number));
    let demo = demo.expect("a demo scene has this number");
    demo.setup().expect("a demo scene reads")
}

/// The first demo scene's truck, hung another way.
pub fn hung(layout: Layout) -> Setup {
    layout.hang(&scene("01"))
}

/// A prepared mechanism, its lowest pose, and the drives from there to full lift.
pub struct Hung {
    /// Compiled.
    pub rear_end: RearEnd,
    /// Every pose of the level travel, lowest first.
    pub poses: Vec<Configuration>,
    /// The drives of the poses.
    pub drives: Vec<Drive>,
}

impl Hung {
    /// Compiles, walks the travel, and holds the poses of an exact layout to the contract.
    pub fn prepare(setup: &Setup) -> Self {
        let rear_end = RearEnd::compile(setup).expect("the setup compiles");
        let travel = Travel::sweep(setup, &rear_end, 0.0, POSES);
        let poses: Vec<_> = travel.rows.iter().map(|row| row.at).collect();
        assert_eq!(poses.len(), POSES, "the whole travel is walked");
        let drives = poses.iter().map(Configuration::drive).collect();
        let hung = Self {
            rear_end,
            poses,
            drives,
        };
        hung.check();
        hung
    }

    /// What kind of layout it is to the solver.
    pub fn kind(&self) -> &'static str {
        let mechanism = &self.rear_end.mechanism;
        match (mechanism.is_exact(), mechanism.cranks().is_empty()) {
            (true, true) => "exact",
            (true, false) => "exact with a crank",
            (false, true) => "redundant",
            (false, false) => "redundant with a crank",
        }
    }

    /// The travel from its lowest pose, as it is timed.
    pub fn walk(&self, mut visit: impl FnMut(&Configuration)) {
        let drives = self.drives.iter().copied();
        let end = self.rear_end.mechanism.walk(&self.poses[0], drives, |w| visit(&w.at));
        assert!(end.is_none(), "the whole travel is walked");
    }

    fn check(&self) {
        if !self.rear_end.mechanism.is_exact() {
            return;
        }
        let mut count = 0;
        self.walk(|at| {
            let worst = self.rear_end.mechanism.worst_strain(at).expect("there are links");
            assert!(worst.gap_m.abs() <= CLOSED_M, "{worst:?} at {at:?}");
            count += 1;
        });
        assert_eq!(count, POSES);
    }
}
