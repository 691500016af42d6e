//! What the tests of the shop share.

use nalgebra::{Point3, Vector3};
use proptest::prelude::*;
use rearend::setup::{BarEnd, BarId, Mount, Setup, Side};
use shop::{Change, demo};

/// A demo scene by its place.
pub fn setup(which: usize) -> Setup {
    demo::ALL[which].setup().expect("a demo scene reads")
}

/// The drawn frame mount of a bar.
pub fn frame_mount(bar: usize) -> Mount {
    Mount::Bar {
        bar: BarId(bar),
        end: BarEnd::Frame,
        side: Side::Drawn,
    }
}

/// A mount to its place plus a step, m.
pub fn moved(setup: &Setup, mount: Mount, step: Vector3<f64>) -> Change {
    let at: Point3<f64> = setup.mount(mount).expect("the mount is there").point;
    Change::MoveMount { mount, to: at + step }
}

/// One move of one mount: which of them (wrapped), and by how much in millimetres.
#[derive(Clone, Copy, Debug)]
pub struct Move {
    which: usize,
    step_mm: [f64; 3],
}

impl Move {
    pub fn change(&self, setup: &Setup) -> Change {
        let mounts = setup.mounts();
        moved(
            setup,
            mounts[self.which % mounts.len()],
            Vector3::from(self.step_mm) * 1e-3,
        )
    }
}

/// Moves as a drag makes them.
pub fn moves(count: impl Into<prop::collection::SizeRange>) -> impl Strategy<Value = Vec<Move>> {
    let step_mm = [-5.0..5.0, -5.0..5.0, -5.0..5.0];
    prop::collection::vec(
        (0..64usize, step_mm).prop_map(|(which, step_mm)| Move { which, step_mm }),
        count,
    )
}
