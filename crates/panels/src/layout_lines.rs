//! What the picture of a layout is drawn from: the steel between frame and axle as lines, and the truck around it as outlines.

use nalgebra::{Point3, Vector3};
use rearend::setup::{Arm, Bar, Carrier, Role, Setup, Watt};

/// From where the picture looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum View {
    /// Front up.
    Above,
    /// Left at the left.
    Behind,
    /// Front at the left.
    Left,
}

/// A straight piece between frame and axle, frame coordinates.
pub(crate) struct Piece {
    pub role: Role,
    pub ends: [Point3<f64>; 2],
    /// Which of its ends are joints that the picture marks.
    pub joints: [bool; 2],
}

pub(crate) type Line = Vec<Point3<f64>>;

/// The rails are drawn to here behind the axle; nothing of a layout is farther back.
const BEHIND_M: f64 = -0.5;
/// How far the rails run on ahead of the foremost mount.
const AHEAD_M: f64 = 0.15;
/// Rails are never shown shorter than this ahead of the axle.
const SHORTEST_M: f64 = 0.7;
/// A usual centre section: the tape sheet does not ask for it.
const CENTRE_M: f64 = 0.13;

/// Every bar, arm and link of a setup as drawn at ride height.
pub(crate) fn pieces(setup: &Setup) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for bar in &setup.bars {
        pieces.extend(bar_pieces(setup, bar));
    }
    for arm in &setup.arms {
        pieces.extend(arm_pieces(setup, arm));
    }
    if let Some(watt) = &setup.watt {
        pieces.extend(watt_pieces(setup, watt));
    }
    pieces
}

fn in_frame(setup: &Setup, carrier: Carrier, point: Point3<f64>) -> Point3<f64> {
    match carrier {
        Carrier::Frame => point,
        Carrier::Axle => setup.drawn().to_ground(point),
    }
}

fn mirrored(p: Point3<f64>) -> Point3<f64> {
    Point3::new(p.x, -p.y, p.z)
}

fn bar_pieces(setup: &Setup, bar: &Bar) -> Vec<Piece> {
    let piece = |frame, axle| Piece {
        role: bar.role,
        ends: [frame, in_frame(setup, Carrier::Axle, axle)],
        joints: [true; 2],
    };
    let mut pieces = vec![piece(bar.mount_in_frame, bar.mount_in_axle)];
    if bar.mirrored {
        // The two of a wishbone meet the axle in one joint.
        let axle = if bar.joined {
            bar.mount_in_axle
        } else {
            mirrored(bar.mount_in_axle)
        };
        pieces.push(piece(mirrored(bar.mount_in_frame), axle));
    }
    pieces
}

fn arm_pieces(setup: &Setup, arm: &Arm) -> Vec<Piece> {
    let both = |p: Point3<f64>| std::iter::once(p).chain(arm.mirrored.then(|| mirrored(p)));
    let [upper, lower] = arm.axle_mounts();
    // A truck arm meets the axle once; the tubes of a ladder bar above and below it.
    let ends = std::iter::once(lower).chain((upper != lower).then_some(upper));
    ends.flat_map(|end| both(arm.eye_in_frame).zip(both(end)))
        .map(|(eye, end)| Piece {
            role: Role::Lower,
            ends: [eye, in_frame(setup, Carrier::Axle, end)],
            joints: [true, false],
        })
        .collect()
}

fn watt_pieces(setup: &Setup, watt: &Watt) -> Vec<Piece> {
    let [left, right] = watt.joints().map(|p| in_frame(setup, watt.crank_on, p));
    let [far_left, far_right] = [watt.left, watt.right].map(|p| in_frame(setup, watt.links_to(), p));
    let pivot = in_frame(setup, watt.crank_on, watt.pivot);
    let piece = |a, b, joints| Piece {
        role: Role::Sideways,
        ends: [a, b],
        joints,
    };
    vec![
        piece(far_left, left, [true; 2]),
        piece(far_right, right, [true; 2]),
        piece(pivot, left, [true, false]),
        piece(pivot, right, [false; 2]),
    ]
}

/// Ground, wheels, rails and axle, seen from one side.
pub(crate) fn outlines(setup: &Setup, pieces: &[Piece], view: View) -> Vec<Line> {
    let foremost = pieces
        .iter()
        .flat_map(|p| p.ends)
        .map(|p| p.x)
        .fold(SHORTEST_M, f64::max);
    let front_m = foremost + AHEAD_M;
    let mut lines = axle(setup, view);
    lines.extend(wheels(setup, view));
    lines.extend(rails(setup, view, front_m));
    lines.extend(setup.watt.as_ref().map(|watt| crank_bracket(setup, watt)));
    if view != View::Above {
        let z = -setup.travel.ride_m;
        let reach = setup.track_m() / 2.0 + 0.2;
        let [back, front] = if view == View::Left {
            [BEHIND_M, front_m]
        } else {
            [-reach, reach]
        };
        lines.push(vec![Point3::new(back, back, z), Point3::new(front, front, z)]);
    }
    lines
}

/// What carries the crank of a Watt's linkage: an arm from the axle, or a crossmember with an arm down to it.
fn crank_bracket(setup: &Setup, watt: &Watt) -> Line {
    let pivot = in_frame(setup, watt.crank_on, watt.pivot);
    match watt.crank_on {
        Carrier::Axle => vec![
            in_frame(setup, Carrier::Axle, Point3::new(0.0, watt.pivot.y, 0.0)),
            pivot,
        ],
        Carrier::Frame => {
            let inside = setup.rails.spacing_m / 2.0 - setup.rails.flange_m;
            let z = setup.rails.kick_up.map_or(0.0, |k| k.rise_m) + setup.rails.height_m / 2.0;
            let across = [inside, pivot.y, -inside].map(|y| Point3::new(pivot.x, y, z));
            vec![across[0], across[1], pivot, across[1], across[2]]
        }
    }
}

/// A rectangle across the page from one corner to the opposite.
fn rectangle(a: Point3<f64>, b: Point3<f64>, view: View) -> Line {
    let corner = |first: Point3<f64>, second: Point3<f64>| match view {
        View::Above => Point3::new(second.x, first.y, 0.0),
        View::Behind => Point3::new(0.0, first.y, second.z),
        View::Left => Point3::new(first.x, 0.0, second.z),
    };
    vec![a, corner(a, b), b, corner(b, a), a]
}

/// A circle facing the viewer.
fn circle(middle: Point3<f64>, radius_m: f64, view: View) -> Line {
    let at = |i: u32| {
        let (sin, cos) = (f64::from(i) / 32.0 * std::f64::consts::TAU).sin_cos();
        let [across, up] = [radius_m * cos, radius_m * sin];
        middle
            + match view {
                View::Above => Vector3::new(up, across, 0.0),
                View::Behind => Vector3::new(0.0, across, up),
                View::Left => Vector3::new(across, 0.0, up),
            }
    };
    (0..=32).map(at).collect()
}

fn axle(setup: &Setup, view: View) -> Vec<Line> {
    let (half, tube) = (setup.axle.flange_to_flange_m / 2.0, setup.axle.tube_m / 2.0);
    let middle = Point3::new(0.0, 0.0, setup.axle_z_m(setup.travel.ride_m));
    let centre = middle + Vector3::y() * setup.axle.pinion_offset_m;
    let pinion = setup.drawn().to_ground(setup.pinion_joint_in_axle());
    let mut lines = vec![circle(centre, CENTRE_M, view)];
    match view {
        View::Left => lines.push(circle(middle, tube, view)),
        View::Above | View::Behind => {
            let corner = Vector3::new(tube, half, tube);
            lines.push(rectangle(middle + corner, middle - corner, view));
        }
    }
    if view != View::Behind {
        let along = (pinion - centre).try_normalize(1e-6).unwrap_or_else(Vector3::x);
        lines.push(vec![centre + along * CENTRE_M, pinion]);
    }
    lines
}

fn wheels(setup: &Setup, view: View) -> Vec<Line> {
    let wheels = &setup.wheels;
    let z = setup.axle_z_m(setup.travel.ride_m);
    if view == View::Left {
        return vec![circle(Point3::new(0.0, 0.0, z), wheels.tyre_m / 2.0, view)];
    }
    let (radius, half) = (wheels.tyre_m / 2.0, wheels.tyre_width_m / 2.0);
    let wheel = |side: f64| {
        let y = side * setup.track_m() / 2.0;
        let low = Point3::new(-radius, y - half, z - wheels.loaded_radius_m);
        rectangle(low, Point3::new(radius, y + half, z + radius), view)
    };
    [1.0, -1.0].map(wheel).to_vec()
}

fn rails(setup: &Setup, view: View, front_m: f64) -> Vec<Line> {
    let rails = &setup.rails;
    let rise = rails.kick_up.map_or(0.0, |k| k.rise_m);
    if view == View::Left {
        return [0.0, rails.height_m].map(|up| rail_line(setup, up, front_m)).to_vec();
    }
    let rail = |side: f64| {
        let outside = side * rails.spacing_m / 2.0;
        let inside = outside - side * rails.flange_m;
        let low = Point3::new(BEHIND_M, outside, rise);
        rectangle(low, Point3::new(front_m, inside, rise + rails.height_m), view)
    };
    [1.0, -1.0].map(rail).to_vec()
}

/// A rail's edge by its kick-up, as far as it is shown.
fn rail_line(setup: &Setup, up: f64, front_m: f64) -> Line {
    let point = |x: f64, z: f64| Point3::new(x, 0.0, z + up);
    match setup.rails.kick_up {
        Some(k) => vec![
            point(front_m.max(k.start_x_m), 0.0),
            point(k.start_x_m, 0.0),
            point(k.full_x_m, k.rise_m),
            point(k.level_end_x_m.max(BEHIND_M), k.rise_m),
        ],
        None => vec![point(front_m, 0.0), point(BEHIND_M, 0.0)],
    }
}
