//! The housing.

use super::{Measure, Side, Sketch, on_axle};
use crate::tape::Dimension::Length;

pub(super) const MEASURES: &[Measure] = &[
    Measure {
        key: "pinion_offset",
        name: "Pinion, left of the middle",
        how: "From the middle between the wheel faces to the middle of the pinion: left is more than nothing, right is less.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Top,
            ends: |s| [0.0, s.axle.pinion_offset_m].map(|y| on_axle(s, s.axle.pinion_length_m, y, 0.0)),
        },
        read: |s| Some(s.axle.pinion_offset_m),
        put: |s, v| s.axle.pinion_offset_m = v,
    },
    Measure {
        key: "pinion_length",
        name: "Pinion, length",
        how: "From the middle of the axle tube forward to the middle of the joint's cross, along the pinion.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| {
                let joint = s.drawn().to_ground(s.pinion_joint_in_axle());
                let sin_cos = s.axle.pinion_angle_rad.sin_cos();
                let back = nalgebra::Vector3::new(sin_cos.1, 0.0, sin_cos.0) * s.axle.pinion_length_m;
                [joint - back, joint]
            },
        },
        read: |s| Some(s.axle.pinion_length_m),
        put: |s, v| s.axle.pinion_length_m = v,
    },
    Measure {
        key: "pinion_drop",
        name: "Pinion, below the tube",
        how: "How far the pinion's own line runs below the middle of the axle tube: an inch or two with hypoid gears.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| {
                let (sin, cos) = s.axle.pinion_angle_rad.sin_cos();
                let drop = s.axle.pinion_drop_m;
                [on_axle(s, 0.0, 0.0, 0.0), on_axle(s, sin * drop, 0.0, -cos * drop)]
            },
        },
        read: |s| Some(s.axle.pinion_drop_m),
        put: |s, v| s.axle.pinion_drop_m = v,
    },
];
