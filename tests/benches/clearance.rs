//! How long the clearances of a setup take: those of a few poses, which are part of every drag step, and all of them.
//!
//! To be held, on one core: a few poses within a tenth of a millisecond; 20 movers against 30 fixed things and each other, at 61 heights and
//! 3 rolls, within 150 milliseconds.

#![expect(
    clippy::expect_used,
    reason = "a measurement may stop at the first thing that is not as it should be"
)]

use std::hint::black_box;
use std::time::Duration;

use criterion::{Criterion, criterion_group, criterion_main};
use nalgebra::Point3;
use rearend::answers::{Answers, Solved};
use rearend::clearance::{Survey, notch_for, rough};
use rearend::layouts::Layout;
use rearend::setup::{Coilover, Driveline, KeepClear, KeepClearShape, Setup, SpringKind, Springs};
use shop::demo;

fn solved(setup: &Setup) -> Solved {
    Answers::of(setup).solved.expect("it solves")
}

fn surveyed(setup: &Setup, solved: &Solved) -> Survey {
    let mut survey = Survey::new(setup, solved);
    survey.step(usize::MAX);
    survey
}

/// Runs of exhaust, brake line and wiring beside each other, until this many things are fixed.
fn crowded(fixed: usize) -> Setup {
    let mut setup = Layout::LadderWatt.hang(&demo::ALL[0].setup().expect("a demo scene reads"));
    let uppers = Layout::ParallelPanhard.hang(&setup);
    setup.bars.extend(uppers.bars);
    setup.driveline = Some(Driveline {
        output: Point3::new(1.5, 0.0, 0.2),
        output_nose_up_rad: 0.0,
        output_left_rad: 0.0,
        carrier: None,
        tube_m: 0.076,
        slip_in_m: 0.05,
        slip_out_m: 0.05,
        phase_rad: 0.0,
        speed: None,
    });
    setup.springs = Some(Springs {
        kind: SpringKind::Coilover(Coilover {
            collapsed_m: 0.25,
            extended_m: 0.4,
            rate_n_per_m: 3e4,
            free_length_m: 0.25,
            preload_m: 0.01,
            coil_m: 0.1,
        }),
        mount_in_frame: Point3::new(-0.12, 0.3, 0.45),
        holes_in_axle: vec![Point3::new(-0.1, 0.42, -0.02)],
        hole: 0,
        corner_kg: 350.0,
        unsprung_corner_kg: None,
        tyre_n_per_m: None,
        bump_stop_at_m: None,
    });
    let described = 2 + setup.rails.crossmembers_x_m.len() + 1;
    setup.keep_clear = (described..fixed).map(thing).collect();
    setup
}

/// Ahead of the axle and behind it, beside each other.
#[expect(clippy::cast_precision_loss, reason = "a few dozen at most")]
fn thing(i: usize) -> KeepClear {
    let y = -0.36 + 0.72 * (i as f64 * 0.618).fract();
    let shape = if i.is_multiple_of(3) {
        KeepClearShape::Box {
            from: Point3::new(-0.8, y, 0.0),
            to: Point3::new(-0.55, y + 0.1, 0.2),
        }
    } else {
        let along = [(1.2, 0.0), (1.0, 0.02), (0.9, 0.05), (0.8, 0.04)];
        KeepClearShape::Tube {
            along: along.map(|(x, z)| Point3::new(x, y, z)).to_vec(),
            tube_m: 0.03,
        }
    };
    KeepClear {
        name: format!("thing {i}"),
        shape,
    }
}

fn clearance(c: &mut Criterion) {
    let mut group = c.benchmark_group("clearance");
    let plain = demo::ALL.map(|demo| (demo.title, demo.setup().expect("a demo scene reads")));
    let crowd = [("crowded", crowded(30))];
    for (title, setup) in plain.into_iter().take(3).chain(crowd) {
        let solved = solved(&setup);
        group.bench_function(format!("a few poses, {title}"), |b| {
            b.iter(|| rough(black_box(&setup), &solved));
        });
        group.bench_function(format!("all poses, {title}"), |b| {
            b.iter(|| surveyed(black_box(&setup), &solved).result());
        });
        group.bench_function(format!("notch, {title}"), |b| {
            b.iter(|| notch_for(black_box(&setup), &solved, 0.0127));
        });
    }
    group.finish();
}

fn brief() -> Criterion {
    Criterion::default()
        .warm_up_time(Duration::from_millis(400))
        .measurement_time(Duration::from_secs(2))
}

criterion_group! {
    name = benches;
    config = brief();
    targets = clearance
}
criterion_main!(benches);
