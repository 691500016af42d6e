//! One step of a drag: a mount goes to and fro by a millimetre, so that every step changes the setup; travel, findings and the pose at the
//! stand follow.

use criterion::{BatchSize, Criterion};
use nalgebra::Vector3;
use rearend::setup::{BarEnd, BarId, Mount, Side};
use shop::{Bench, Change, Command};

use crate::hung::scene;

/// Demo scenes by number.
const SCENES: [(&str, &str); 3] = [
    ("03", "triangulated"),
    ("01", "parallel with panhard bar"),
    ("02", "parallel with Watt's linkage"),
];

/// A step at a time.
pub fn steps(c: &mut Criterion) {
    let mut group = c.benchmark_group("drag step");
    for (number, layout) in SCENES {
        let mut bench = Bench::new(scene(number), None);
        let mount = Mount::Bar {
            bar: BarId(0),
            end: BarEnd::Frame,
            side: Side::Drawn,
        };
        let from = bench.setup().mount(mount).expect("there is a first bar").point;
        bench.run(Command::BeginStep);
        let mut forth = false;
        let mut next = || {
            forth = !forth;
            let to = from + Vector3::x() * if forth { 1e-3 } else { 0.0 };
            Command::Apply(Change::MoveMount { mount, to })
        };
        group.bench_function(layout, |b| {
            b.iter_batched(&mut next, |step| bench.run(step), BatchSize::PerIteration);
        });
        assert_eq!(bench.notice(), None, "no step is refused");
    }
    group.finish();
}
