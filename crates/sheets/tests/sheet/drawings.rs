//! What is written in the scaled drawings stands clear of each other and of the mounts.

use rearend::tape::Units;
use sheets::Paper;
use sheets::drawing::{Anchor, Drawing, Text, drawings};

use crate::support::answered;

/// As `drawing.typ` sets them: 7.4 pt, whose capitals are 0.73 of that high. No letter but the widest capitals and "m" is wider than 0.7 of
/// the size, figures and lower-case letters on average not wider than 0.58.
const SIZE_M: f64 = 7.4 / 72.0 * 0.0254;
const HIGH: f64 = 0.73;
const WIDE: f64 = 0.58;

/// The arms of a mount's cross are 1.5 pt longer than its radius.
const ARM_M: f64 = 1.5 / 72.0 * 0.0254;

type At = [f64; 2];

/// Corners of a text, m of the truck.
fn corners(drawing: &Drawing, text: &Text) -> [At; 4] {
    let size = SIZE_M * drawing.one_to;
    let wide: f64 = text.text.chars().map(|_| WIDE * size).sum();
    let half = HIGH * size / 2.0;
    let from = match text.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -wide / 2.0,
        Anchor::End => -wide,
    };
    let (sin, cos) = text.turn_deg.to_radians().sin_cos();
    [[from, -half], [from + wide, -half], [from + wide, half], [from, half]]
        .map(|[x, y]| [text.at[0] + x * cos - y * sin, text.at[1] + x * sin + y * cos])
}

/// Two convex shapes are apart if there is a side of one that has all of the other beyond it.
fn overlap(a: &[At], b: &[At]) -> bool {
    let parts = |one: &[At], other: &[At]| {
        let sides = one.iter().zip(one.iter().cycle().skip(1));
        sides.into_iter().any(|(p, q)| {
            let beyond = |c: &At| (q[0] - p[0]) * (c[1] - p[1]) - (q[1] - p[1]) * (c[0] - p[0]) <= 0.0;
            other.iter().all(beyond)
        })
    };
    !parts(a, b) && !parts(b, a)
}

/// A mount with its cross: the square about it, on its corner.
fn mount(drawing: &Drawing, at: At, radius_m: f64) -> [At; 4] {
    let arm = radius_m + ARM_M * drawing.one_to;
    [[0.0, -arm], [arm, 0.0], [0.0, arm], [-arm, 0.0]].map(|[x, y]| [at[0] + x, at[1] + y])
}

#[test]
fn no_name_or_figure_lies_over_another_or_over_a_mount() {
    let mut names = 0;
    for number in ["01", "02", "03", "04", "05", "06", "07", "08", "09", "10"] {
        let (setup, answers) = answered(number);
        for (units, paper) in [(Units::Sixteenths, Paper::Letter), (Units::Millimetres, Paper::A4)] {
            let [width, height] = paper.size_m();
            let room_m = [width - 0.024, (height - 0.066) / 2.0];
            for drawing in drawings(&setup, &answers, units, room_m) {
                names += drawing.texts.len();
                let texts: Vec<_> = drawing
                    .texts
                    .iter()
                    .chain(drawing.dimensions.iter().map(|d| &d.text))
                    .collect();
                for (i, text) in texts.iter().enumerate() {
                    let place = corners(&drawing, text);
                    let said = format!("{number}, {}, {units:?}: \"{}\"", drawing.title, text.text);
                    for other in &texts[i + 1..] {
                        assert!(
                            !overlap(&place, &corners(&drawing, other)),
                            "{said} is over \"{}\"",
                            other.text
                        );
                    }
                    for circle in &drawing.circles {
                        let mount = mount(&drawing, circle.at, circle.radius_m);
                        assert!(!overlap(&place, &mount), "{said} is over the mount at {:?}", circle.at);
                    }
                }
            }
        }
    }
    assert!(names > 100, "{names} names");
}

#[test]
fn what_is_over_another_is_seen() {
    let square = |x: f64, y: f64| [[x, y], [x + 1.0, y], [x + 1.0, y + 1.0], [x, y + 1.0]];
    assert!(overlap(&square(0.0, 0.0), &square(0.9, 0.9)));
    assert!(!overlap(&square(0.0, 0.0), &square(1.1, 0.0)) && !overlap(&square(0.0, 0.0), &square(0.0, -1.1)));
}
