//! What the tests of the scenes share.

use rearend::answers::{Answers, Solved};
use rearend::findings::{Finding, Grade, Kind};
use rearend::mechanism::Part;
use rearend::setup::{BarEnd, BarId, Mount, Setup, Side};
use rearend::travel::{Row, Travel};
use shop::demo::{self, Demo};

pub fn setup(demo: &Demo) -> Setup {
    demo.setup().unwrap_or_else(|e| panic!("{}: {e}", demo.file_name))
}

pub fn named(start: &str) -> Setup {
    let demo = demo::ALL
        .iter()
        .find(|d| d.file_name.starts_with(start))
        .expect("the lesson is there");
    setup(demo)
}

pub fn solved(setup: &Setup) -> Solved {
    Answers::of(setup).solved.expect("a demo scene compiles")
}

/// The largest of a quantity over the travel, in size.
pub fn largest(travel: &Travel, quantity: impl Fn(&Row) -> f64) -> f64 {
    travel.rows.iter().map(|row| quantity(row).abs()).fold(0.0, f64::max)
}

/// Sideways movement of a straight bar's axle end, level in the middle of its rise. Source: closed form of an arc.
pub fn arc(length: f64, rise: f64) -> f64 {
    length - (length * length - rise * rise).sqrt()
}

/// Farthest that the pinion turns from its drawn angle with both wheels together, rad.
pub fn pinion_turns(setup: &Setup) -> f64 {
    largest(&solved(setup).level, |row| {
        row.pinion_to_frame_rad - setup.axle.pinion_angle_rad
    })
}

/// The finding of a kind.
pub fn finding(findings: &[Finding], is: fn(&Kind) -> bool) -> &Finding {
    findings.iter().find(|f| is(&f.kind)).expect("there is such a finding")
}

/// What is said of the sideways bar.
pub fn level_finding(findings: &[Finding]) -> &Finding {
    finding(findings, |kind| matches!(kind, Kind::Level(_)))
}

/// The grade of the finding on bind; `None` where nothing has to give.
pub fn bind_grade(answers: &Answers) -> Option<Grade> {
    let bind = answers.findings.iter().find(|f| matches!(f.kind, Kind::Bind(_)));
    bind.map(|f| f.grade)
}

/// A bar's mount on the frame, as drawn.
pub fn on_frame(bar: usize) -> Mount {
    Mount::Bar {
        bar: BarId(bar),
        end: BarEnd::Frame,
        side: Side::Drawn,
    }
}

/// A bar, as drawn.
pub fn drawn(bar: usize) -> Part {
    Part::Bar(BarId(bar), Side::Drawn)
}

/// A bar seen from the side: its ends in frame coordinates at ride height as (x, z), axle end first.
pub fn from_the_side(setup: &Setup, bar: usize) -> [[f64; 2]; 2] {
    let bar = &setup.bars[bar];
    let (axle, frame) = (setup.drawn().to_ground(bar.mount_in_axle), bar.mount_in_frame);
    [[axle.x, axle.z], [frame.x, frame.z]]
}

/// Rise over run of a bar, forward and up, seen from the side at ride height.
pub fn slope(setup: &Setup, bar: usize) -> f64 {
    let [axle, frame] = from_the_side(setup, bar);
    (frame[1] - axle[1]) / (frame[0] - axle[0])
}
