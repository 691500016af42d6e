//! What to do about two things that come too near: which of them can move, which way, and how far.

use nalgebra::Vector3;

use crate::clearance::{Near, Solid};
use crate::findings::words::enough;
use crate::setup::{BarEnd, Setup};
use crate::tape::Units;

/// Directions that are less clear than this are not told.
const SOME_WAY_M: f64 = 1e-6;

/// One sentence.
pub(super) fn advice(setup: &Setup, units: Units, near: &Near) -> String {
    let by = enough(units, near.wanted_m(setup) - near.gap_m);
    let name = |solid: Solid| solid.name(setup, units);
    match (near.a, near.b) {
        (Solid::AxleTube, Solid::Rail(_)) => {
            format!("Notch the rails {by} deeper there, or lay the truck out as much higher.")
        }
        (Solid::Tyre(_), Solid::KeepClear(_) | Solid::Part(_)) => format!(
            "Move {} {}, or take another wheel or a narrower axle.",
            name(near.b),
            away(near, &by, Moves::Other)
        ),
        (Solid::Tyre(_), _) => {
            format!("It takes {by} more: another wheel, another width of axle, or a truck laid out higher.")
        }
        (Solid::Part(part), _) => bar_advice(setup, units, near, &part.name(setup), &by),
        (Solid::Spring(_), Solid::KeepClear(_)) => format!(
            "Move {} {}, or the springs' mounts as much the other way.",
            name(near.b),
            away(near, &by, Moves::Other)
        ),
        (Solid::Spring(_), _) => format!(
            "Move the springs' mounts so that they stand {}.",
            away(near, &by, Moves::First)
        ),
        (a, _) if a.is_bracket() => format!(
            "Move {} {}, or lay the truck out higher.",
            name(near.a),
            away(near, &by, Moves::First)
        ),
        (_, b) if b.is_bracket() => format!(
            "Move {} {}, or lay the truck out higher.",
            name(near.b),
            away(near, &by, Moves::Other)
        ),
        (_, Solid::Part(_) | Solid::KeepClear(_) | Solid::Crossmember(_)) => format!(
            "Move {} {}, or lay the truck out higher.",
            name(near.b),
            away(near, &by, Moves::Other)
        ),
        _ => format!("It takes {by} more: move one of them, or lay the truck out higher."),
    }
}

/// A bar goes where its mounts do.
fn bar_advice(setup: &Setup, units: Units, near: &Near, bar: &str, by: &str) -> String {
    let or_other = match near.b {
        Solid::KeepClear(_) | Solid::Crossmember(_) => format!(", or {} out of its way", near.b.name(setup, units)),
        Solid::Part(other) => format!(", or the {} as much the other way", other.name(setup)),
        Solid::Bracket(_) | Solid::SpringBracket(..) => {
            format!(", or {} as much the other way", near.b.name(setup, units))
        }
        _ => String::new(),
    };
    let mount = nearer_mount(setup, near).map_or_else(|| "a mount".to_owned(), |end| format!("its {end} mount"));
    format!(
        "The {bar} has to go {} there: move {mount}{or_other}.",
        away(near, by, Moves::First)
    )
}

/// Which of the two makes way.
#[derive(Clone, Copy, PartialEq)]
enum Moves {
    First,
    Other,
}

/// How far and which way: along the axis of the truck that the shortest way out is nearest to.
fn away(near: &Near, by: &str, moves: Moves) -> String {
    let [on_a, on_b] = near.points;
    // Overlapping, each nearest point lies inside the other thing.
    let from_b = if near.gap_m < 0.0 { on_b - on_a } else { on_a - on_b };
    let way: Vector3<f64> = match moves {
        Moves::First => from_b,
        Moves::Other => -from_b,
    };
    let words = [
        ["forward", "back"],
        ["to the left", "to the right"],
        ["higher", "lower"],
    ];
    let axis = way.iamax();
    if way[axis].abs() < SOME_WAY_M {
        return format!("{by} away");
    }
    format!("{by} {}", words[axis][usize::from(way[axis] < 0.0)])
}

/// The end of a bar that is nearer to where the two meet.
fn nearer_mount(setup: &Setup, near: &Near) -> Option<&'static str> {
    let Solid::Part(crate::mechanism::Part::Bar(id, side)) = near.a else {
        return None;
    };
    let bar = setup.bar(id)?;
    let drawn = setup.drawn();
    let axle_end = drawn.to_ground(if bar.joined {
        bar.mount_in_axle
    } else {
        side.of(bar.mount_in_axle)
    });
    let off = |end: BarEnd| match end {
        BarEnd::Frame => (near.points[0] - side.of(bar.mount_in_frame)).norm(),
        BarEnd::Axle => (near.points[0] - axle_end).norm(),
    };
    Some(if off(BarEnd::Frame) <= off(BarEnd::Axle) {
        "frame"
    } else {
        "axle"
    })
}
