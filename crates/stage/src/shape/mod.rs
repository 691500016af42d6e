//! The procedural shapes of a truck's rear end.
//!
//! Every function here is pure: it takes dimensions in metres and returns triangles. Axes are X forward, Y left and
//! Z up, right-handed; triangles run counter-clockwise seen from outside and normals point outwards. Dimensions that
//! make no sense are clamped to the nearest that do, so no input yields a panic or a number that is not finite.

#![expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "counts of segments and triangles are small, and shapes are clamped before they are counted"
)]

mod air_bag;
mod axle;
mod axle_bracket;
mod axle_tube;
mod bar;
mod body;
mod bolt;
mod bracket;
mod brake;
mod cast;
mod coil;
mod crank;
mod dish;
mod driveline;
mod polygon;
mod primitive;
mod rail_beam;
mod rail_fittings;
mod rails;
mod rim;
mod skin;
mod solid;
mod soup;
mod spring_seat;
mod transmission;
mod truck_arm;
mod wheel;

pub use air_bag::{AirBag, bag_hoop, bag_plate};
pub use axle::{Housing, HousingShape, housing};
pub use axle_bracket::axle_bracket;
pub use bar::{BushedEye, RodEnd, bar_insert, bar_tube, bushed_eye, coped_end, rod_end, rod_end_eye_radius, spacer};
pub use body::{BodySide, bed_floor, box_edges, fender_lip, wheel_tub};
pub use bolt::{bolt, bolt_circle, bolt_head, weld_ring};
pub use bracket::{Anchor, Plates, frame_bracket};
pub use brake::{Disc, Drum, disc, drum};
pub use coil::{Coil, coil_cap, coil_collar, damper_thread};
pub use crank::bell_crank;
pub use driveline::{
    SHAFT_END_M, SLEEVE_START_M, SPLINE_NECK_M, joint_cross, shaft_end, slip_yoke, spline_neck, splines, yoke,
};
pub use polygon::{arc, circle, extrude, hull, hull_of_circles, ring_plate};
pub use primitive::{Axis, around, basis, bevelled, cuboid, cylinder, hex_prism, lathe, ring_of, sweep, tube};
pub use rails::{Crossmember, Kick, Notch, RailSection, Rails, crossmember, lift_z, rail, top_z, underside_z};
pub use rim::{Rim, RimShape, RimStyle, rim};
pub use skin::{bent, pipe, skin};
pub use solid::Solid;
#[cfg(test)]
pub(crate) use solid::check;
pub use soup::{SMOOTH, Soup};
pub use spring_seat::{axle_seat, frame_shelf};
pub use transmission::{
    BEARING_REACH_M, TAIL_M, TAIL_MOUNT_DROP_M, TAIL_MOUNT_M, carrier_rubber, carrier_strap, cross_beam, tail_mount,
    transmission_tail,
};
pub use truck_arm::{truck_arm, truck_arm_clamp, truck_arm_nose, truck_arm_width};
pub use wheel::{TyreShape, tyre};

/// `value` held between `low` and `high`; whatever is not a number becomes `low`.
pub(crate) fn held(value: f32, low: f32, high: f32) -> f32 {
    if value.is_nan() {
        low
    } else {
        value.clamp(low, high.max(low))
    }
}
