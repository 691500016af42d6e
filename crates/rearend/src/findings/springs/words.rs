//! What is found about the springs, in words.

use super::COMFORTABLE_HZ;
use crate::findings::Grade;
use crate::findings::words::{at, beside, enough, length_beside};
use crate::setup::{Setup, SpringKind};
use crate::springs::{BumpTrouble, End, Fault, Stand, Summary};
use crate::tape::{Dimension, Units, degrees};

fn name(setup: &Setup) -> &'static str {
    match setup.springs.as_ref().map(|s| &s.kind) {
        Some(SpringKind::Air(_)) => "air spring",
        _ => "coilover",
    }
}

/// In words.
pub fn sentence(setup: &Setup, units: Units, _grade: Grade, fault: &Fault) -> String {
    let name = name(setup);
    match *fault {
        Fault::CarriesNothing { motion_ratio } => format!(
            "The {name}s do not carry: somewhere in the travel they get {} as the wheel rises. Stand them more upright, or move their lower mounts.",
            if motion_ratio < 0.0 { "longer" } else { "hardly shorter" }
        ),
        Fault::RunsOut {
            end,
            by_m,
            other_m,
            from_m,
            roll_rad,
        } => {
            let out = runs_out_sentence(setup, units, end, by_m, from_m, roll_rad);
            format!("{out} {}", reach_advice(setup, units, end, [by_m, other_m]))
        }
        Fault::BumpStop { meets_at_m, trouble } => bump_sentence(setup, name, units, meets_at_m, trouble),
        Fault::Stands { stand, preload_m } => stands_sentence(setup, units, stand, preload_m),
        Fault::CoilLoose { by_m } => format!(
            "Set to hold the truck at ride height, the coils would hang loose by {} with the dampers fully extended: take a softer coil, a longer one, or a hole that gives the spring less travel.",
            units.length(by_m)
        ),
        Fault::CoilShort { left_m, left_of_free } => coil_short_sentence(units, left_m, left_of_free),
        Fault::Pressure { pressure_pa, limit_pa } => pressure_sentence(units, pressure_pa, limit_pa),
        Fault::OffChart { length_m, chart_m } => format!(
            "There the air springs are {} high, and their chart {} at {}: what they carry is not known. Add lines to the chart, or move a mount.",
            length_beside(units, length_m, chart_m),
            if length_m < chart_m { "begins" } else { "ends" },
            units.length(chart_m)
        ),
        Fault::Frequency { frequency_hz } => format!(
            "At ride height a corner bounces {frequency_hz:.2} times a second; between 1 and 2 rides well in a truck (common practice): {}.",
            if frequency_hz < COMFORTABLE_HZ[0] {
                "this is soft, and it will wallow. A stiffer spring, or one nearer to the wheel, bounces faster"
            } else {
                "this is hard. A softer spring, or one farther from the wheel, bounces slower"
            }
        ),
        Fault::Well(ref summary) => well_sentence(name, units, summary),
    }
}

fn with_one_up(roll_rad: f64) -> String {
    format!("with one wheel up {}", degrees(roll_rad.abs(), 1))
}

fn runs_out_sentence(setup: &Setup, units: Units, end: End, by_m: f64, from_m: Option<f64>, roll_rad: f64) -> String {
    let (name, by) = (name(setup), units.movement(by_m));
    let from = from_m.map(|from_m| at(setup, units, from_m));
    match (end, from) {
        (End::Collapsed, Some(from)) => {
            format!("The {name}s are closed up {from}, before the truck is laid out; it would take {by} more.")
        }
        (End::Extended, Some(from)) => {
            format!("The {name}s are pulled out {from}, before full lift; it would take {by} more.")
        }
        (End::Collapsed, None) => format!(
            "A {name} is closed up {}: it would have to be {by} shorter. A bump stop that is met before protects it.",
            with_one_up(roll_rad)
        ),
        (End::Extended, None) => format!(
            "A {name} is pulled out {}: it would have to be {by} longer. There the axle hangs on it.",
            with_one_up(roll_rad)
        ),
    }
}

/// Where the spring has the room at its other end, moving its upper mount does it; else only a longer stroke does.
fn reach_advice(setup: &Setup, units: Units, end: End, [by_m, other_m]: [f64; 2]) -> String {
    let name = name(setup);
    let (way, wanted) = match end {
        End::Collapsed => ("up", "closes up shorter"),
        End::Extended => ("down", "pulls out longer"),
    };
    if other_m < by_m {
        return format!(
            "Both ends together, its stroke is {} too little: take a {name} with that much more, or a hole or a mount that gives it less travel.",
            enough(units, by_m - other_m)
        );
    }
    let or_another = format!(
        "use another hole, or take a {name} that {wanted} by {}",
        enough(units, by_m)
    );
    match upright(setup).filter(|upright| *upright > LEAST_UPRIGHT) {
        Some(upright) => format!(
            "Move its upper mount {way} by {}, {or_another}.",
            enough(units, by_m / upright)
        ),
        None => format!("Move a mount, {or_another}."),
    }
}

/// A spring that lies flatter than this gets hardly longer as its mount goes up.
const LEAST_UPRIGHT: f64 = 0.3;

/// How much longer a spring gets as its upper mount goes up, as drawn: the cosine of its lean. Less than nothing where it hangs upside down.
fn upright(setup: &Setup) -> Option<f64> {
    let springs = setup.springs.as_ref()?;
    let bottom = setup.drawn().to_ground(springs.mount_in_axle()?);
    let along = springs.mount_in_frame - bottom;
    (along.norm() > 0.0).then(|| along.z / along.norm())
}

fn bump_sentence(setup: &Setup, name: &str, units: Units, meets_at_m: f64, trouble: BumpTrouble) -> String {
    let meets = at(setup, units, meets_at_m);
    match trouble {
        BumpTrouble::AboveLaidOut => format!(
            "The bump stops hold the truck {meets}, {} above laid out: it does not lie out. Cut them, or say that laid out is there.",
            units.length(meets_at_m - setup.travel.laid_out_m)
        ),
        BumpTrouble::AtRide => {
            format!("The truck drives on its bump stops: they meet {meets}. Cut them shorter, or take them lower.")
        }
        BumpTrouble::AfterSprings { collapse_m } => format!(
            "The bump stops come too late: they meet {meets}, and the {name}s are closed up {} already. Make them {} taller.",
            at(setup, units, collapse_m),
            enough(units, collapse_m - meets_at_m)
        ),
    }
}

fn stands_sentence(setup: &Setup, units: Units, stand: Stand, preload_m: f64) -> String {
    let preload = units.movement(preload_m);
    let turn = match setup.springs.as_ref().map(|s| &s.kind) {
        Some(SpringKind::Coilover(c)) if preload_m >= c.preload_m => {
            format!(
                "{} tighter, to {preload} of preload",
                units.movement(preload_m - c.preload_m)
            )
        }
        Some(SpringKind::Coilover(c)) => {
            format!(
                "{} back, to {preload} of preload",
                units.movement(c.preload_m - preload_m)
            )
        }
        _ => format!("to {preload} of preload"),
    };
    let where_to = match stand {
        Stand::At { height_m } => {
            let off_m = height_m - setup.travel.ride_m;
            format!(
                "hold the truck {}, {} {} ride height",
                at(setup, units, height_m),
                units.length(off_m.abs()),
                if off_m > 0.0 { "above" } else { "below" }
            )
        }
        Stand::Down => "do not hold the truck anywhere in their travel: it goes down".to_owned(),
        Stand::Up => "hold the truck up at the end of their travel".to_owned(),
    };
    format!("As they are set, the coilovers {where_to}: turn the collars {turn}.")
}

fn coil_short_sentence(units: Units, left_m: f64, left_of_free: f64) -> String {
    if left_m <= 0.0 {
        return "The coils are too short for the travel: pressed together that far, nothing would be left of them. Take a longer or a stiffer coil.".to_owned();
    }
    format!(
        "At their shortest the coils are {} long, {:.0} % of their free length: under about a third their turns meet (common practice). Ask the maker for the solid length.",
        units.length(left_m),
        left_of_free * 100.0
    )
}

fn pressure_sentence(units: Units, pressure_pa: f64, limit_pa: f64) -> String {
    let words = |pa: f64| Dimension::Pressure.words(units, pa);
    let (takes, limit) = (beside(pressure_pa, limit_pa, words, words), words(limit_pa));
    if pressure_pa > limit_pa {
        return format!(
            "To carry the truck there, the air springs take {takes}, more than the {limit} they may have. Stand them nearer to the wheel, or take a larger bag."
        );
    }
    format!(
        "To carry the truck there, the air springs take only {takes}: under {limit} a bag may fold wrongly (common practice). Take a smaller bag."
    )
}

fn well_sentence(name: &str, units: Units, summary: &Summary) -> String {
    let rooms = &summary.rooms;
    let load = &summary.load;
    let bounces = load
        .frequency_hz
        .map_or_else(String::new, |hz| format!(", {hz:.2} bounces a second"));
    let pressure = load
        .pressure_pa
        .map_or_else(String::new, |p| format!(", {}", Dimension::Pressure.words(units, p)));
    format!(
        "The {name}s stay within their reach, {} from closed up and {} from pulled out at the least. At ride height: motion ratio {:.2}, wheel rate {}{bounces}{pressure}.",
        units.length(rooms.to_collapsed.room_m),
        units.length(rooms.to_extended.room_m),
        summary.motion_ratio,
        Dimension::Rate.words(units, load.wheel_rate_n_per_m)
    )
}
