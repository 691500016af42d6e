//! Bars with their ends and brackets, and the Watt's crank, at a pose.

use bevy::math::Affine3A;
use bevy::prelude::*;
use linkage::{Configuration, LinkId};
use nalgebra::Point3;
use rearend::mechanism::{BoltLine, Part, RearEnd};
use rearend::setup::{ArmKind, BarEnd, Carrier, Ends, Mount, Role, Setup, Side, Watt};

use crate::convert;
use crate::fittings::{BUNG_M, Fitting, Fittings, SHANK_M, bolt_for, plates_for};
use crate::paint::Paint;
use crate::shape::{self, Anchor};

/// Something to draw: a mesh, how it is painted, where, and on what it rides.
pub(crate) struct Piece {
    pub mesh: Handle<Mesh>,
    pub paint: Paint,
    pub at: Transform,
    pub on_axle: bool,
}

/// What is known of one bar at a pose.
struct Drawn {
    /// Frame end and axle end, frame coordinates; of a Watt's link the crank's end last.
    ends: [Vec3; 2],
    /// Bolts at both ends, frame coordinates.
    bolts: [Vec3; 2],
    tube_radius: f32,
    bushed: bool,
    paint: Paint,
}

/// A mount that a bracket holds, in the coordinates of what carries it.
struct Held {
    on: Carrier,
    mount: Vec3,
    bolt: Vec3,
}

/// Collects the pieces of all bars.
pub(crate) struct Links<'a> {
    pub setup: &'a Setup,
    pub at: Configuration,
    pub lit: Option<Part>,
    pub fittings: &'a mut Fittings,
    pub meshes: &'a mut Assets<Mesh>,
}

impl Links<'_> {
    /// Every piece of every bar and arm.
    pub(crate) fn pieces(&mut self, rear_end: &RearEnd) -> Vec<Piece> {
        let mut pieces = Vec::new();
        for (i, &part) in rear_end.parts.iter().enumerate() {
            let ends = rear_end.mechanism.ends_in_ground(LinkId(i), &self.at);
            if let Some(drawn) = self.drawn(part, ends, &rear_end.bolts[i]) {
                self.bar(&drawn, &mut pieces);
                for held in self.held(part, &rear_end.bolts[i]) {
                    self.bracket(&held, drawn.tube_radius, drawn.bushed, &mut pieces);
                }
            }
        }
        for &part in &rear_end.eyes {
            if let Some(ends) = rear_end.ends_in_frame(self.setup, part, &self.at) {
                self.arm(part, convert::point(ends[0]), &mut pieces);
            }
        }
        if let Some(watt) = &self.setup.watt {
            self.crank(watt, &mut pieces);
        }
        pieces
    }

    fn drawn(&self, part: Part, ends: [Point3<f64>; 2], bolts: &[BoltLine; 2]) -> Option<Drawn> {
        let (tube_m, kind, role) = match part {
            Part::Bar(id, _) => self.setup.bar(id).map(|b| (b.tube_m, b.ends, b.role))?,
            Part::WattLeft | Part::WattRight => self.setup.watt.as_ref().map(|w| (w.tube_m, w.ends, Role::Sideways))?,
            Part::Arm(..) => return None,
        };
        let turn = self.at.ground_from_platform();
        Some(Drawn {
            ends: ends.map(convert::point),
            bolts: [0, 1].map(|i| convert::vector(bolts[i].in_frame(&turn))),
            tube_radius: convert::scalar(tube_m / 2.0),
            bushed: kind != Ends::RodEnds,
            paint: self.paint(part, role),
        })
    }

    fn paint(&self, part: Part, role: Role) -> Paint {
        if self.lit == Some(part) {
            Paint::Lit
        } else {
            Paint::of_role(role)
        }
    }

    /// The mounts of a part that need a bracket: a crank's end needs none, a wishbone's apex one.
    fn held(&self, part: Part, bolts: &[BoltLine; 2]) -> Vec<Held> {
        let held = |mount: Mount, bolt: &BoltLine| {
            self.setup.mount(mount).map(|at| Held {
                on: at.carrier,
                mount: convert::point(at.point),
                bolt: convert::vector(bolt.direction),
            })
        };
        let mounts = match part {
            Part::Bar(bar, side) => {
                let shared = side == Side::Mirrored && self.setup.bar(bar).is_some_and(|b| b.joined);
                let axle = (!shared).then_some(BarEnd::Axle);
                [Some(BarEnd::Frame), axle].map(|end| end.map(|end| Mount::Bar { bar, end, side }))
            }
            Part::WattLeft => [Some(Mount::WattLeft), None],
            Part::WattRight => [Some(Mount::WattRight), None],
            Part::Arm(..) => [None, None],
        };
        let both = mounts.into_iter().zip(bolts);
        both.filter_map(|(mount, bolt)| held(mount?, bolt)).collect()
    }

    /// A ladder bar's two tubes from its eye to above and below the axle tube, or a truck arm's one beam.
    fn arm(&mut self, part: Part, eye: Vec3, pieces: &mut Vec<Piece>) {
        let Part::Arm(id, side) = part else { return };
        let Some(arm) = self.setup.arm(id) else { return };
        let at_ride = convert::point(side.of(arm.eye_in_frame));
        let mounts = arm.axle_mounts().map(|m| side.of(m));
        let (kind, tube_m) = (arm.kind, arm.tube_m);
        let frame_from_axle = convert::frame_from_axle(&self.at);
        for &mount in &mounts[..if kind == ArmKind::LadderBar { 2 } else { 1 }] {
            let end = frame_from_axle.transform_point(convert::point(mount));
            let along = end - eye;
            let bolt = Vec3::Z.cross(along).normalize_or(Vec3::Y);
            let drawn = Drawn {
                ends: [eye, end],
                bolts: [bolt, bolt],
                tube_radius: convert::scalar(tube_m / 2.0),
                bushed: true,
                paint: self.paint(part, Role::Lower),
            };
            self.bar(&drawn, pieces);
            let held = Held {
                on: Carrier::Axle,
                mount: convert::point(mount),
                bolt: Vec3::Y,
            };
            self.bracket(&held, drawn.tube_radius, true, pieces);
        }
        let held = Held {
            on: Carrier::Frame,
            mount: at_ride,
            bolt: Vec3::Y,
        };
        self.bracket(&held, 0.02, true, pieces);
    }

    fn bar(&mut self, d: &Drawn, pieces: &mut Vec<Piece>) {
        let reach = (SHANK_M + BUNG_M).min((d.ends[1] - d.ends[0]).length() * 0.45);
        let along = (d.ends[1] - d.ends[0]).normalize_or(Vec3::X);
        let (from, to) = (d.ends[0] + along * reach, d.ends[1] - along * reach);
        let stretch = Transform::from_matrix(convert::along(from, to, d.bolts[0]).into());
        let length = (to - from).length();
        self.add(
            Fitting::Tube,
            d,
            d.paint,
            stretch.with_scale(Vec3::new(length, 1.0, 1.0)),
            pieces,
        );
        for (end, other, bolt, start) in [(0, 1, d.bolts[0], from), (1, 0, d.bolts[1], to)] {
            let joint = place(convert::along(d.ends[end], d.ends[other], bolt));
            let bung = place(convert::along(start, d.ends[other], bolt));
            self.add(Fitting::Insert, d, d.paint, bung, pieces);
            let parts: &[(Fitting, Paint)] = if d.bushed {
                &[
                    (Fitting::EyeSleeve, d.paint),
                    (Fitting::EyeRubber, Paint::Rubber),
                    (Fitting::EyeInner, Paint::Bright),
                ]
            } else {
                &[
                    (Fitting::RodBody, Paint::Steel),
                    (Fitting::RodBall, Paint::Bright),
                    (Fitting::RodNut, Paint::Bright),
                ]
            };
            for &(fitting, paint) in parts {
                self.add(fitting, d, paint, joint, pieces);
            }
            self.add(Fitting::Bolt, d, Paint::Bright, joint, pieces);
        }
    }

    fn add(&mut self, fitting: Fitting, d: &Drawn, paint: Paint, at: Transform, pieces: &mut Vec<Piece>) {
        let mesh = self.fittings.piece(fitting, d.tube_radius, d.bushed, self.meshes);
        pieces.push(Piece {
            mesh,
            paint,
            at,
            on_axle: false,
        });
    }

    /// A bracket as it was drilled, at ride height, not as the bar leans now.
    fn bracket(&mut self, held: &Held, bar_radius: f32, bushed: bool, pieces: &mut Vec<Piece>) {
        let plates = plates_for(bar_radius, bushed);
        self.plates(held, &plates, pieces);
    }

    fn plates(&mut self, held: &Held, plates: &shape::Plates, pieces: &mut Vec<Piece>) {
        let mesh = match held.on {
            Carrier::Frame => {
                let anchor = frame_anchor(self.setup, held.mount);
                self.fittings
                    .frame_bracket(held.mount, &anchor, held.bolt, plates, self.meshes)
            }
            Carrier::Axle => {
                let tube_radius = convert::scalar(self.setup.axle.tube_m / 2.0);
                self.fittings
                    .axle_bracket(held.mount, held.bolt, tube_radius, plates, self.meshes)
            }
        };
        pieces.push(Piece {
            mesh,
            paint: Paint::Bracket,
            at: Transform::IDENTITY,
            on_axle: held.on == Carrier::Axle,
        });
    }

    fn crank(&mut self, watt: &Watt, pieces: &mut Vec<Piece>) {
        let axis = convert::vector(watt.pivot_axis());
        let pivot = convert::point(watt.pivot);
        let turn = Quat::from_axis_angle(axis, convert::scalar(self.at.crank_rad[0]));
        let arms = watt.joints().map(|joint| convert::vector(joint - watt.pivot));
        let mesh = self.fittings.crank(axis, arms, self.meshes);
        let at = Transform::from_translation(pivot).with_rotation(turn);
        pieces.push(Piece {
            mesh,
            paint: Paint::Sideways,
            at,
            on_axle: watt.crank_on == Carrier::Axle,
        });
        let plates = shape::Plates {
            gap: 0.016,
            thickness: 0.006,
            bolt: bolt_for(0.02),
        };
        let held = Held {
            on: watt.crank_on,
            mount: pivot,
            bolt: axis,
        };
        self.plates(&held, &plates, pieces);
    }
}

fn place(at: Affine3A) -> Transform {
    Transform::from_matrix(at.into())
}

/// A crossmember nearer than this along the truck takes a mount that is far from both rails.
const NEAR_M: f32 = 0.25;

/// What a bracket for this mount is welded to: a crossmember for mounts near the middle of the truck, where there is one; else the face of
/// the nearer rail: the outer one for mounts outside, the inner one for mounts inside, the underside for mounts below it.
fn frame_anchor(setup: &Setup, mount: Vec3) -> Anchor {
    let rails = &convert::rails(setup);
    let central = mount.y.abs() < rails.spacing / 4.0;
    let stations = setup.rails.crossmembers_x_m.iter().map(|&x| convert::scalar(x));
    let nearest = stations.min_by(|a, b| (a - mount.x).abs().total_cmp(&(b - mount.x).abs()));
    if let Some(x) = nearest.filter(|x| central && (x - mount.x).abs() < NEAR_M) {
        let middle = Vec3::new(x, mount.y, shape::lift_z(rails, x) + rails.height / 2.0);
        let towards = Vec3::new(mount.x - middle.x, 0.0, mount.z - middle.z).normalize_or(Vec3::NEG_Z);
        return Anchor {
            centre: middle + towards * 0.028,
            normal: towards,
            along: Vec3::Y,
            size: convert::size(0.11, 0.05),
        };
    }
    let side = if mount.y < 0.0 { -1.0 } else { 1.0 };
    let outer = rails.spacing / 2.0;
    let inner = outer - rails.flange_width;
    let reach = mount.y.abs();
    let on_face = |y: f32, outward: f32| {
        let x = square_below(rails, mount);
        let (middle, along) = (shape::lift_z(rails, x) + rails.height / 2.0, rail_direction(rails, x));
        // An open channel is closed from flange to flange; elsewhere the pad may lie off the middle and stays on the rail.
        let open = outward < 0.0 && rails.section == shape::RailSection::Channel;
        let (tall, most) = if open { (1.0, 0.0) } else { (0.7, 0.12) };
        let off = (mount.z - middle).clamp(rails.height * -most, rails.height * most);
        Anchor {
            centre: Vec3::new(x, side * y, middle + off),
            normal: Vec3::Y * side * outward,
            along,
            size: convert::size(0.13, rails.height * tall * along.x),
        }
    };
    if reach > outer {
        on_face(outer, 1.0)
    } else if reach < inner {
        on_face(inner, -1.0)
    } else {
        let under = Vec3::new(
            mount.x,
            side * f32::midpoint(outer, inner),
            shape::underside_z(rails, mount.x),
        );
        let along = rail_direction(rails, mount.x);
        Anchor {
            centre: under,
            normal: along.cross(Vec3::NEG_Y),
            along,
            size: convert::size(0.13, rails.flange_width * 0.9),
        }
    }
}

/// Which way a rail runs at `x`, forwards: up or down where it kicks up.
fn rail_direction(rails: &shape::Rails, x: f32) -> Vec3 {
    const STEP_M: f32 = 0.01;
    let climb = shape::lift_z(rails, x + STEP_M) - shape::lift_z(rails, x - STEP_M);
    Vec3::new(2.0 * STEP_M, 0.0, climb).normalize()
}

/// Where along the rail a mount is square to it, seen from the side: its own station where the rail runs level.
fn square_below(rails: &shape::Rails, mount: Vec3) -> f32 {
    let above = mount.z - shape::lift_z(rails, mount.x) - rails.height / 2.0;
    let along = rail_direction(rails, mount.x);
    (mount.x + above * along.x * along.z).clamp(mount.x - 0.15, mount.x + 0.15)
}
