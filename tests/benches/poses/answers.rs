//! Everything the window shows of a setup, in one go.

use std::hint::black_box;

use criterion::Criterion;
use rearend::answers::Answers;
use rearend::brackets;
use rearend::layouts::Layout;
use rearend::mechanism::{Part, RearEnd};
use rearend::setup::{Adjuster, AsBuilt, BarId, Length, Setup, Side};
use rearend::tape::Units;
use shop::demo;

use crate::hung::hung;

/// Every layout, hung on the first demo's truck.
pub fn layouts(c: &mut Criterion) {
    time(
        c,
        "all answers",
        Layout::ALL.map(|layout| (layout.title(), hung(layout))),
    );
}

/// Bars that exist, a little longer and shorter in turn than the drawing wants them.
pub fn as_built(c: &mut Criterion) {
    let setups = [
        Layout::UppersTriangulated,
        Layout::ThreeLinkPanhard,
        Layout::ParallelPanhard,
    ];
    let setups = setups.map(|layout| (layout.title(), with_bars_as_built(hung(layout))));
    time(c, "all answers, all bars as built", setups);
}

/// Every demo scene as it comes.
pub fn demo_scenes(c: &mut Criterion) {
    let setups = demo::ALL.map(|demo| (demo.title, demo.setup().expect("a demo scene reads")));
    time(c, "all answers to a demo scene", setups);
}

/// Every bracket of every demo scene, as it is cut.
pub fn brackets(c: &mut Criterion) {
    let mut group = c.benchmark_group("all brackets of a demo scene");
    for demo in demo::ALL {
        let setup = demo.setup().expect("a demo scene reads");
        let rear_end = RearEnd::compile(&setup).expect("a demo scene compiles");
        group.bench_function(demo.title, |b| {
            b.iter(|| brackets::of_compiled(black_box(&setup), &rear_end, Units::Sixteenths));
        });
    }
    group.finish();
}

fn time<const N: usize>(c: &mut Criterion, name: &str, setups: [(&str, Setup); N]) {
    let mut group = c.benchmark_group(name);
    for (title, setup) in setups {
        assert!(Answers::of(&setup).solved.is_ok(), "{title} solves");
        group.bench_function(title, |b| b.iter(|| Answers::of(black_box(&setup))));
    }
    group.finish();
}

fn with_bars_as_built(mut setup: Setup) -> Setup {
    let drawn = RearEnd::compile(&setup).expect("the drawing compiles");
    for (i, bar) in setup.bars.iter_mut().enumerate() {
        let part = Part::Bar(BarId(i), Side::Drawn);
        let off_m = if i % 2 == 0 { 2e-3 } else { -1.5e-3 };
        bar.length = Length::AsBuilt(AsBuilt {
            length_m: drawn.length_m(part).expect("a bar has a length") + off_m,
            turns: 0.5,
            adjuster: Adjuster::default(),
        });
    }
    setup
}
