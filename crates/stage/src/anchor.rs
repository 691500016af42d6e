//! Where brackets are welded to: rails, crossmembers, the housing's cover.

use bevy::prelude::*;
use rearend::setup::Setup;

use crate::convert;
use crate::shape::{self, Anchor};

/// A crossmember nearer than this along the truck takes a mount that is far from both rails.
const NEAR_M: f32 = 0.25;

/// What a bracket for this mount is welded to: a crossmember for mounts near the middle of the truck, where there is one; else the face of
/// the nearer rail: the outer one for mounts outside, the inner one for mounts inside, the underside for mounts below it.
pub(crate) fn frame_anchor(setup: &Setup, mount: Vec3) -> Anchor {
    let rails = &convert::rails(setup);
    let central = mount.y.abs() < rails.spacing / 4.0;
    let stations = setup.rails.crossmembers_x_m.iter().map(|&x| convert::scalar(x));
    let nearest = stations.min_by(|a, b| (a - mount.x).abs().total_cmp(&(b - mount.x).abs()));
    if let Some(x) = nearest.filter(|x| central && (x - mount.x).abs() < NEAR_M) {
        return on_crossmember(rails, x, mount);
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
        over_or_under(rails, mount, side * f32::midpoint(outer, inner))
    }
}

/// The top of a rail for a mount above its middle, its underside for one below.
fn over_or_under(rails: &shape::Rails, mount: Vec3, y: f32) -> Anchor {
    let (top, under) = (shape::top_z(rails, mount.x), shape::underside_z(rails, mount.x));
    let along = rail_direction(rails, mount.x);
    let down = along.cross(Vec3::NEG_Y);
    let above = mount.z > f32::midpoint(top, under);
    let (z, normal) = if above { (top, -down) } else { (under, down) };
    Anchor {
        centre: Vec3::new(mount.x, y, z),
        normal,
        along,
        size: convert::size(0.13, rails.flange_width * 0.9),
    }
}

/// Where a tab for a spring's upper eye is welded to: small, so that the coil below the eye has room. The rail's top or underside for an
/// eye over, under or above the rail, else its side; of an open channel seen from inside, the web.
pub(crate) fn tab_anchor(setup: &Setup, mount: Vec3) -> Anchor {
    let rails = &convert::rails(setup);
    let side = if mount.y < 0.0 { -1.0 } else { 1.0 };
    let outer = rails.spacing / 2.0;
    let inner = outer - rails.flange_width;
    let (top, under) = (shape::top_z(rails, mount.x), shape::underside_z(rails, mount.x));
    let reach = mount.y.abs();
    let beside = mount.z > under && mount.z < top - TAB_M * 0.3;
    if !beside || (reach > inner && reach < outer) {
        return over_or_under(rails, mount, side * f32::midpoint(outer, inner));
    }
    let (y, outward) = match (reach > outer, rails.section) {
        (true, _) => (outer, 1.0),
        (false, shape::RailSection::Box) => (inner, -1.0),
        (false, shape::RailSection::Channel) => (outer - rails.wall, -1.0),
    };
    let edge = (TAB_M / 2.0 + rails.wall).min((top - under) / 2.0);
    Anchor {
        centre: Vec3::new(mount.x, side * y, mount.z.clamp(under + edge, top - edge)),
        normal: Vec3::Y * side * outward,
        along: rail_direction(rails, mount.x),
        size: convert::size(0.09, TAB_M),
    }
}

/// Height of a tab on the side of a rail.
const TAB_M: f32 = 0.055;

/// The side of a crossmember at `x` that faces the mount.
fn on_crossmember(rails: &shape::Rails, x: f32, mount: Vec3) -> Anchor {
    let middle = Vec3::new(x, mount.y, shape::lift_z(rails, x) + rails.height / 2.0);
    let towards = Vec3::new(mount.x - middle.x, 0.0, mount.z - middle.z).normalize_or(Vec3::NEG_Z);
    Anchor {
        centre: middle + towards * 0.028,
        normal: towards,
        along: Vec3::Y,
        size: convert::size(0.11, 0.05),
    }
}

/// The place on the housing's cover for a bracket behind it whose bolt points to the cover: beside the bolt, so that a crank on it swings
/// free. `None` for mounts that are not behind the cover.
pub(crate) fn cover_anchor(setup: &Setup, mount: Vec3, bolt: Vec3) -> Option<Anchor> {
    let scale = convert::scalar(setup.axle.tube_m) / 0.0762;
    let pinion = convert::scalar(setup.axle.pinion_angle_rad);
    let back = Vec3::new(-pinion.cos(), 0.0, -pinion.sin());
    let middle = Vec3::Y * convert::scalar(setup.axle.pinion_offset_m);
    let out = (mount - middle).dot(back);
    let aside = (mount - middle).reject_from_normalized(back);
    if out < COVER_M * scale || aside.length() > 0.10 * scale || bolt.y.abs() > 0.7 {
        return None;
    }
    Some(Anchor {
        centre: middle + aside + back * COVER_M * scale,
        normal: back,
        along: back.cross(Vec3::Y),
        size: convert::size(0.08, 0.10),
    })
}

/// How far behind the tubes' axis the cover of a housing with 76 mm tubes is flat enough to take a bracket.
const COVER_M: f32 = 0.141;

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
