//! A pose: its share of a warm travel, by layout, and by the peers where a layout is four bars.

use std::hint::black_box;

use criterion::measurement::WallTime;
use criterion::{BenchmarkGroup, Criterion, Throughput};
use rearend::layouts::Layout;
use rearend::travel::POSES;

use crate::bars::FourBars;
use crate::hung::{Hung, hung, scene};
use crate::peers;

/// Demo scenes by number. `peers/peers.py` moves 02 and 03.
const SCENES: [(&str, &str); 5] = [
    ("01", "parallel with panhard bar"),
    ("02", "parallel with Watt's linkage"),
    ("03", "triangulated"),
    ("09", "binding"),
    ("10", "as built"),
];

/// Every layout, hung on the first demo's truck.
pub fn layouts(c: &mut Criterion) {
    let mut group = c.benchmark_group("poses, warm travel");
    group.throughput(Throughput::Elements(POSES as u64));
    for layout in Layout::ALL {
        let hung = Hung::prepare(&hung(layout));
        time(&mut group, layout.title(), &hung);
    }
    group.finish();
}

/// Demo scenes as they come.
pub fn demo_scenes(c: &mut Criterion) {
    let mut group = c.benchmark_group("poses, warm travel of a demo scene");
    group.throughput(Throughput::Elements(POSES as u64));
    for (number, name) in SCENES {
        let hung = Hung::prepare(&scene(number));
        time(&mut group, &format!("{number} {name}"), &hung);
    }
    group.finish();
}

fn time(group: &mut BenchmarkGroup<WallTime>, name: &str, hung: &Hung) {
    let kind = hung.kind();
    group.bench_function(format!("{name} ({kind})"), |b| {
        b.iter(|| black_box(hung).walk(|at| _ = black_box(at)));
    });
    let Some(bars) = FourBars::of(&hung.rear_end.mechanism) else {
        return;
    };
    for (peer, solve) in peers::ALL {
        peers::check(&bars, hung, peer, solve);
        group.bench_function(format!("{name}, {peer}"), |b| {
            b.iter(|| peers::travel(black_box(&bars), black_box(hung), solve, |u| _ = black_box(u)));
        });
    }
}
