//! The measures that prove the axle square and central, and how much they may differ.

use nalgebra::Point3;

use super::{Job, Section, Table};
use crate::answers::Solved;
use crate::findings::nose;
use crate::rail_line::lift_m;
use crate::setup::Setup;
use crate::square::{CENTRAL_M, MARKS_AHEAD_M, SQUARE_M, Stance};
use crate::tape::Units;

/// A rail that has risen by more than this has left the level of its marks.
const RISEN_M: f64 = 1e-3;

/// What is measured, from where and to where; left first.
const ASIDE: [[&str; 3]; 2] = [
    [
        "Aside, left",
        "left rail, outside of the web",
        "left wheel flange's face, level across",
    ],
    [
        "Aside, right",
        "right rail, outside of the web",
        "right wheel flange's face, level across",
    ],
];

/// The diagonal from the left mark first.
const DIAGONALS: [[&str; 3]; 2] = [
    ["Diagonal", "left mark", "right wheel flange's face, its centre"],
    ["Diagonal", "right mark", "left wheel flange's face, its centre"],
];

/// Left first.
const BACK: [[&str; 3]; 2] = [
    [
        "Straight back, left",
        "left mark, plumbed",
        "tube's centre line under the rail",
    ],
    [
        "Straight back, right",
        "right mark, plumbed",
        "tube's centre line under the rail",
    ],
];

/// How much two measures that should be alike may differ, for an axle that counts as square and central.
///
/// An axle turned by a small angle a brings one wheel ahead of the other by the track times a, and its ends by half the flanges' distance
/// times a nearer to the one mark and farther from the other. A diagonal of length d, M of it lengthwise and W across, follows by M / d of
/// the one and W / d of what the axle stands aside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerances {
    /// The two diagonals, of an axle that stands central.
    pub cross_m: f64,
    /// Straight back from each mark to the tube.
    pub back_m: f64,
    /// From the web of each rail out to the flange's face.
    pub aside_m: f64,
}

impl Tolerances {
    /// Of a truck whose axle stands at ride height.
    #[must_use]
    pub fn of(setup: &Setup, stance: &Stance) -> Self {
        let turned_rad = SQUARE_M / setup.track_m();
        let diagonal_m = f64::midpoint(stance.left_to_right_m, stance.right_to_left_m);
        Self {
            cross_m: turned_rad * setup.axle.flange_to_flange_m * (MARKS_AHEAD_M - stance.forward_m) / diagonal_m,
            back_m: turned_rad * setup.rails.spacing_m,
            aside_m: 2.0 * CENTRAL_M,
        }
    }
}

pub(super) fn section(job: &Job, solved: &Solved) -> Section {
    let (setup, units, stance) = (job.setup, job.units, &solved.stance);
    let mut table = Table::with(&["Measure", "From", "To", ">Should read", ">May differ by"]);
    table.rows.extend(rows(setup, units, solved));
    let mut notes = vec![
        "Measure the aside first and bring it right: an axle that stands off the middle makes the diagonals differ though it is square.".to_owned(),
        format!("As designed the axle is {}, and {}.", stance.squareness(units), stance.centring(units)),
    ];
    if lift_m(&setup.rails, MARKS_AHEAD_M) > RISEN_M || setup.rails.front_x_m < MARKS_AHEAD_M {
        notes.push(
            "The straight underside does not reach to the marks: carry its line on with a straight edge.".to_owned(),
        );
    }
    Section {
        title: "Square and central".to_owned(),
        text: vec![
            format!(
                "At ride height, rails level. Two marks on the outer lower edges of the rails, {} ahead of the axle line; check first that both lie square to the rails.",
                units.length(MARKS_AHEAD_M)
            ),
            format!(
                "Square is within {} across the wheels, central within {}. By the last column the two of a pair may differ from each other, and the pinion from what it should read.",
                units.allowance(SQUARE_M),
                units.allowance(CENTRAL_M)
            ),
        ],
        table: Some(table),
        notes,
        steps: Vec::new(),
    }
}

/// A row of two points, what it should read, and how much the two of a pair may differ.
fn row(units: Units, words: [&str; 3], reads_m: f64, differ_m: f64) -> Vec<String> {
    let differ = units.allowance(differ_m);
    let words = words.map(str::to_owned).into_iter();
    words.chain([units.length(reads_m), differ]).collect()
}

fn rows(setup: &Setup, units: Units, solved: &Solved) -> Vec<Vec<String>> {
    let stance = &solved.stance;
    let tolerances = Tolerances::of(setup, stance);
    let mut rows = Vec::new();
    for (side, words) in [1.0, -1.0].into_iter().zip(ASIDE) {
        rows.push(row(units, words, aside_m(setup, solved, side), tolerances.aside_m));
    }
    for (diagonal_m, words) in [stance.left_to_right_m, stance.right_to_left_m]
        .into_iter()
        .zip(DIAGONALS)
    {
        rows.push(row(units, words, diagonal_m, tolerances.cross_m));
    }
    for (side, words) in [1.0, -1.0].into_iter().zip(BACK) {
        rows.push(row(units, words, back_m(setup, solved, side), tolerances.back_m));
    }
    let pinion = [
        "Pinion",
        "the rails, level",
        "pinion",
        &nose(stance.pinion_rad),
        "half a degree",
    ];
    rows.push(pinion.map(str::to_owned).to_vec());
    rows
}

/// Across, from a rail's web out to the flange's face on its side.
fn aside_m(setup: &Setup, solved: &Solved, side: f64) -> f64 {
    let face = Point3::new(0.0, side * setup.axle.flange_to_flange_m / 2.0, 0.0);
    side * solved.rear_end.ride.to_ground(face).y - setup.rails.spacing_m / 2.0
}

/// Lengthwise, from a mark to the tube's centre line where that crosses under the mark's rail.
fn back_m(setup: &Setup, solved: &Solved, side: f64) -> f64 {
    let at = &solved.rear_end.ride;
    let across = at.ground_from_platform() * nalgebra::Vector3::y();
    let y = side * setup.rails.spacing_m / 2.0 - at.origin_in_ground.y;
    MARKS_AHEAD_M - (at.origin_in_ground.x + across.x * y / across.y)
}
