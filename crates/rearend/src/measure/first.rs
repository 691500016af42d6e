//! The first ten: with these the picture is the truck.

use nalgebra::Point3;

use super::{Measure, Side, Sketch, ground, on_axle, rail_y};
use crate::tape::Dimension::{Angle, Length};

pub(super) const MEASURES: &[Measure] = &[
    Measure {
        key: "rail_spacing",
        name: "Frame, outside to outside",
        how: "Across the frame over the axle, from the outside of one rail to the outside of the other.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| {
                let top = s.rails.kick_up.map_or(0.0, |k| k.rise_m) + s.rails.height_m;
                [1.0, -1.0].map(|side| Point3::new(0.0, side * rail_y(s), top))
            },
        },
        read: |s| Some(s.rails.spacing_m),
        put: |s, v| s.rails.spacing_m = v,
    },
    Measure {
        key: "rail_height",
        name: "Rail, height",
        how: "The side of a rail, top to bottom, where it runs straight.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| [0.0, s.rails.height_m].map(|z| Point3::new(s.rails.front_x_m * 0.9, rail_y(s), z)),
        },
        read: |s| Some(s.rails.height_m),
        put: |s, v| s.rails.height_m = v,
    },
    Measure {
        key: "rail_flange",
        name: "Rail, width",
        how: "Across the underside of one rail.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| [0.0, s.rails.flange_m].map(|in_m| Point3::new(0.0, rail_y(s) - in_m, 0.0)),
        },
        read: |s| Some(s.rails.flange_m),
        put: |s, v| s.rails.flange_m = v,
    },
    Measure {
        key: "ride_height",
        name: "Ride height",
        how: "Level ground up to the underside of the rail at the axle, as it is to be driven. Where the rail kicks up over the axle, measure to where its straight part would be.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| [ground(s, 0.0, rail_y(s)), Point3::new(0.0, rail_y(s), 0.0)],
        },
        read: |s| Some(s.travel.ride_m),
        put: |s, v| s.travel.ride_m = v,
    },
    Measure {
        key: "laid_out",
        name: "Laid out",
        how: "The same with the truck as low as it is to go. Nothing where the frame lies on the ground.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| {
                let z = s.travel.laid_out_m - s.travel.ride_m;
                [ground(s, 0.0, rail_y(s)), Point3::new(0.0, rail_y(s), z)]
            },
        },
        read: |s| Some(s.travel.laid_out_m),
        put: |s, v| s.travel.laid_out_m = v,
    },
    Measure {
        key: "full_lift",
        name: "Full lift",
        how: "The same with the truck as high as it is to go.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| {
                let z = s.travel.full_lift_m - s.travel.ride_m;
                [ground(s, 0.0, rail_y(s)), Point3::new(0.0, rail_y(s), z)]
            },
        },
        read: |s| Some(s.travel.full_lift_m),
        put: |s, v| s.travel.full_lift_m = v,
    },
    Measure {
        key: "axle_tube",
        name: "Axle tube, diameter",
        how: "A caliper over the axle tube between housing and brake, clear of welds. A tape around it, divided by 3.14, does too.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| [1.0, -1.0].map(|up| on_axle(s, 0.0, 0.0, up * s.axle.tube_m / 2.0)),
        },
        read: |s| Some(s.axle.tube_m),
        put: |s, v| s.axle.tube_m = v,
    },
    Measure {
        key: "flange_to_flange",
        name: "Axle, wheel face to wheel face",
        how: "From the face that one wheel bolts to across to the other, wheels off.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| [1.0, -1.0].map(|side| on_axle(s, 0.0, side * s.axle.flange_to_flange_m / 2.0, 0.0)),
        },
        read: |s| Some(s.axle.flange_to_flange_m),
        put: |s, v| s.axle.flange_to_flange_m = v,
    },
    Measure {
        key: "tyre",
        name: "Tyre, diameter",
        how: "Ground to the top of the tyre, unloaded. Or type the size on its sidewall above.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| {
                let y = s.track_m() / 2.0;
                [
                    ground(s, 0.0, y),
                    ground(s, 0.0, y) + nalgebra::Vector3::z() * s.wheels.tyre_m,
                ]
            },
        },
        read: |s| Some(s.wheels.tyre_m),
        put: |s, v| {
            // A loaded radius that nobody measured keeps its share of the tyre; it is never more than half of it.
            let share = s.wheels.loaded_radius_m / s.wheels.tyre_m;
            s.wheels.tyre_m = v;
            if !s.measured.iter().any(|key| key == "loaded_radius") {
                s.wheels.loaded_radius_m = crate::setup::to_file_resolution(share * v);
            }
            s.wheels.size = None;
        },
    },
    Measure {
        key: "pinion_angle",
        name: "Pinion, nose up",
        how: "A protractor on the pinion's flange or along its nose, against the frame: up at the front is more than nothing, down is less.",
        dimension: Angle,
        sketch: Sketch::Protractor {
            at: |s| s.drawn().to_ground(s.pinion_joint_in_axle()),
            slope_rad: |s| s.axle.pinion_angle_rad,
        },
        read: |s| Some(s.axle.pinion_angle_rad),
        put: |s, v| s.axle.pinion_angle_rad = v,
    },
];
