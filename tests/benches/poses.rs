//! How long a pose takes, and one step of a drag with everything that follows from it.
//!
//! To be held: a triangulated pose within a microsecond, the other layouts within four, a drag step within a millisecond.

use std::hint::black_box;

use criterion::{BatchSize, Criterion, Throughput, criterion_group, criterion_main};
use linkage::{Configuration, Drive};
use nalgebra::Vector3;
use rearend::mechanism::RearEnd;
use rearend::setup::{BarEnd, BarId, Mount, Setup, Side};
use rearend::travel::{POSES, Travel};
use shop::{Bench, Change, Command, demo};

/// Demo scenes by layout.
const LAYOUTS: [(&str, usize); 3] = [
    ("triangulated", 2),
    ("parallel with panhard bar", 0),
    ("parallel with Watt's linkage", 1),
];

fn setup(which: usize) -> Setup {
    demo::ALL[which].setup().expect("a demo scene reads")
}

/// A prepared mechanism, its lowest pose, and the drives from there to full lift.
fn prepared(setup: &Setup) -> (RearEnd, Configuration, Vec<Drive>) {
    let rear_end = RearEnd::compile(setup).expect("a demo scene compiles");
    let travel = Travel::sweep(setup, &rear_end, 0.0, POSES);
    let drives: Vec<_> = travel.rows.iter().map(|row| row.at.drive()).collect();
    assert_eq!(drives.len(), POSES, "the whole travel is walked");
    (rear_end, travel.rows[0].at, drives)
}

fn travels(c: &mut Criterion) {
    let mut group = c.benchmark_group("poses");
    group.throughput(Throughput::Elements(POSES as u64));
    for (layout, which) in LAYOUTS {
        let (rear_end, lowest, drives) = prepared(&setup(which));
        group.bench_function(format!("{layout}, warm {POSES}-pose travel"), |b| {
            b.iter(|| {
                rear_end
                    .mechanism
                    .walk(black_box(&lowest), drives.iter().copied(), |w| _ = black_box(w))
            });
        });
    }
    group.finish();
}

/// A mount goes to and fro by a millimetre, so that every step changes the setup; travel, findings and the pose at the stand follow.
fn drag_steps(c: &mut Criterion) {
    let mut group = c.benchmark_group("drag step");
    for (layout, which) in LAYOUTS {
        let mut bench = Bench::new(setup(which), None);
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
            b.iter_batched(&mut next, |step| bench.run(step), BatchSize::PerIteration)
        });
        assert_eq!(bench.notice(), None, "no step is refused");
    }
    group.finish();
}

criterion_group!(benches, travels, drag_steps);
criterion_main!(benches);
