//! Wheels and tyres.

use nalgebra::Vector3;

use super::{Measure, Side, Sketch, ground, on_axle};
use crate::setup::Setup;
use crate::tape::Dimension::Length;

/// Mounting face of the left wheel, with its spacer.
fn face(s: &Setup) -> nalgebra::Point3<f64> {
    on_axle(
        s,
        0.0,
        s.axle.flange_to_flange_m / 2.0 + s.wheels.spacer_m,
        s.wheels.rim_m / 2.0,
    )
}

pub(super) const MEASURES: &[Measure] = &[
    Measure {
        key: "tyre_width",
        name: "Tyre, width",
        how: "Over the widest part of the sidewalls, on its rim and with air in it.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| {
                let (y, half) = (s.track_m() / 2.0, s.wheels.tyre_width_m / 2.0);
                [y - half, y + half].map(|y| on_axle(s, 0.0, y, 0.0))
            },
        },
        read: |s| Some(s.wheels.tyre_width_m),
        put: |s, v| s.wheels.tyre_width_m = v,
    },
    Measure {
        key: "loaded_radius",
        name: "Tyre, loaded radius",
        how: "Ground up to the middle of the wheel with the truck standing on it.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| {
                let y = s.track_m() / 2.0;
                [ground(s, 0.0, y), on_axle(s, 0.0, y, 0.0)]
            },
        },
        read: |s| Some(s.wheels.loaded_radius_m),
        put: |s, v| s.wheels.loaded_radius_m = v,
    },
    Measure {
        key: "rim",
        name: "Rim, diameter",
        how: "As it is stamped on the rim: where the tyre's bead sits.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| [1.0, -1.0].map(|up| on_axle(s, 0.0, s.track_m() / 2.0, up * s.wheels.rim_m / 2.0)),
        },
        read: |s| Some(s.wheels.rim_m),
        put: |s, v| s.wheels.rim_m = v,
    },
    Measure {
        key: "rim_width",
        name: "Rim, width",
        how: "As it is stamped on the rim: bead to bead, an inch less than over its edges.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| {
                let (y, half) = (
                    s.track_m() / 2.0,
                    s.wheels.rim_width_m.unwrap_or(s.wheels.tyre_width_m) / 2.0,
                );
                [y - half, y + half].map(|y| on_axle(s, 0.0, y, s.wheels.rim_m / 2.0))
            },
        },
        // Nobody says: as wide as the tyre over its edges, which is what the picture shows then.
        read: |s| Some(s.wheels.rim_width_m.unwrap_or(s.wheels.tyre_width_m - 0.0254)),
        put: |s, v| s.wheels.rim_width_m = Some(v),
    },
    Measure {
        key: "backspacing",
        name: "Wheel, backspacing",
        how: "Wheel face down, a straight edge across its inner edge: from there down to the face that bolts to the axle.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| [face(s) - Vector3::y() * s.wheels.backspacing_m, face(s)],
        },
        read: |s| Some(s.wheels.backspacing_m),
        put: |s, v| s.wheels.backspacing_m = v,
    },
    Measure {
        key: "spacer",
        name: "Wheel spacer",
        how: "Its thickness, where there is one.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| [face(s) - Vector3::y() * s.wheels.spacer_m, face(s)],
        },
        read: |s| Some(s.wheels.spacer_m),
        put: |s, v| s.wheels.spacer_m = v,
    },
];
