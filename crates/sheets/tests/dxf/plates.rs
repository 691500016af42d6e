//! Plates drawn by hand, in millimetres.

use rearend::brackets::{Hole, Outline, Plate, Scribe, Segment};

/// Millimetre.
const MM: f64 = 1e-3;

pub fn line(x: f64, y: f64) -> Segment {
    Segment::Line { to: at(x, y) }
}

pub fn arc(to: [f64; 2], centre: [f64; 2], clockwise: bool) -> Segment {
    Segment::Arc {
        to: at(to[0], to[1]),
        centre: at(centre[0], centre[1]),
        clockwise,
    }
}

/// A point in millimetres: of nalgebra's type, without its name.
pub fn at<P: From<[f64; 2]>>(x: f64, y: f64) -> P {
    [x * MM, y * MM].into()
}

pub fn hole(x: f64, y: f64, diameter: f64) -> Hole {
    Hole {
        at: at(x, y),
        diameter_m: diameter * MM,
    }
}

pub fn scribe(from: [f64; 2], to: [f64; 2], what: &str) -> Scribe {
    Scribe {
        from: at(from[0], from[1]),
        to: at(to[0], to[1]),
        what: what.to_owned(),
    }
}

pub fn plate(stem: &str, start: [f64; 2], segments: Vec<Segment>) -> Plate {
    Plate {
        name: format!("{stem}: side plate"),
        file_stem: stem.to_owned(),
        count: 4,
        thickness_m: 6.35 * MM,
        outline: Outline {
            start: at(start[0], start[1]),
            segments,
        },
        holes: Vec::new(),
        scribes: Vec::new(),
        notes: Vec::new(),
        stands: Vec::new(),
    }
}

/// Radius of a 3 in tube.
pub const TUBE: f64 = 38.1;

/// An ear: straight below and above, a round end of 30 mm to the right, a saddle for a 3 in tube to the left; a row of five holes, and a
/// line.
pub fn ear() -> Plate {
    let tube = [-(TUBE * TUBE - 900.0_f64).sqrt(), 30.0];
    let mut ear = plate(
        "ear-on-the-axle",
        [0.0, 0.0],
        vec![
            line(80.0, 0.0),
            arc([80.0, 60.0], [80.0, 30.0], false),
            line(0.0, 60.0),
            arc([0.0, 0.0], tube, true),
        ],
    );
    ear.holes = (0..5)
        .map(|i| hole(25.0 + f64::from(i) * 50.0 / 3.0, 30.0, 10.5))
        .collect();
    ear.scribes = vec![scribe([20.0, 30.0], [105.0, 30.0], "direction of the bar")];
    ear.notes = vec!["Mild steel, ¼ in plate.".to_owned()];
    ear
}

/// Three quarters of a circle of 30 mm on a square corner: an arc of more than half a turn.
pub fn eye() -> Plate {
    plate(
        "eye",
        [30.0, 0.0],
        vec![arc([0.0, -30.0], [0.0, 0.0], false), line(30.0, -30.0), line(30.0, 0.0)],
    )
}

/// A round washer of 40 mm.
pub fn washer() -> Plate {
    let mut washer = plate("washer", [20.0, 0.0], vec![arc([20.0, 0.0], [0.0, 0.0], false)]);
    washer.holes = vec![hole(0.0, 0.0, 19.85)];
    washer
}
