//! Transmission, shaft and what turns it.

use nalgebra::Point3;

use super::{Measure, Side, Sketch};
use crate::setup::{Driveline, Setup, ShaftSpeed};
use crate::tape::Dimension::{Angle, Length, Ratio, Speed};

fn put(s: &mut Setup, put: impl Fn(&mut Driveline)) {
    if let Some(driveline) = &mut s.driveline {
        put(driveline);
    }
}

fn output(s: &Setup) -> Point3<f64> {
    s.driveline.as_ref().map_or_else(Point3::origin, |d| d.output)
}

fn carrier(s: &Setup) -> Option<Point3<f64>> {
    s.driveline.as_ref().and_then(|d| d.carrier)
}

fn speed(s: &Setup) -> Option<ShaftSpeed> {
    s.driveline.as_ref().and_then(|d| d.speed)
}

fn put_speed(s: &mut Setup, change: impl Fn(&mut ShaftSpeed)) {
    put(s, |d| {
        if let Some(speed) = &mut d.speed {
            change(speed);
        }
    });
}

macro_rules! coordinate {
    ($key:literal, $name:literal, $how:literal, $side:expr, $point:ident, $axis:ident, $from:expr) => {
        Measure {
            key: $key,
            name: $name,
            how: $how,
            dimension: Length,
            sketch: Sketch::Tape {
                side: $side,
                ends: |s| {
                    let to = coordinate!(@at $point, s);
                    let from: fn(Point3<f64>) -> Point3<f64> = $from;
                    [from(to), to]
                },
            },
            read: |s| s.driveline.as_ref().and_then(|d| coordinate!(@read d, $point)).map(|p| p.$axis),
            put: |s, v| put(s, |d| coordinate!(@put d, $point, $axis, v)),
        }
    };
    (@at output, $s:ident) => { output($s) };
    (@at carrier, $s:ident) => { carrier($s).unwrap_or_else(Point3::origin) };
    (@read $d:ident, output) => { Some($d.output) };
    (@read $d:ident, carrier) => { $d.carrier };
    (@put $d:ident, output, $axis:ident, $v:ident) => { $d.output.$axis = $v };
    (@put $d:ident, carrier, $axis:ident, $v:ident) => {
        if let Some(carrier) = &mut $d.carrier {
            carrier.$axis = $v;
        }
    };
}

pub(super) const MEASURES: &[Measure] = &[
    coordinate!(
        "output_x",
        "Transmission's joint, ahead of the axle",
        "A plumb line from the middle of the joint's cross to the floor; along the floor to the axle line.",
        Side::Left,
        output,
        x,
        |p| Point3::new(0.0, p.y, p.z)
    ),
    coordinate!(
        "output_z",
        "Transmission's joint, above the rails' underside",
        "A straight edge under both rails: from it up to the middle of the joint's cross. Below it is less than nothing.",
        Side::Left,
        output,
        z,
        |p| Point3::new(p.x, p.y, 0.0)
    ),
    coordinate!(
        "output_y",
        "Transmission's joint, left of the middle",
        "From the middle between the rails: left is more than nothing, right is less.",
        Side::Top,
        output,
        y,
        |p| Point3::new(p.x, 0.0, p.z)
    ),
    Measure {
        key: "output_nose_up",
        name: "Transmission, nose up",
        how: "A protractor on the output's flange or the pan, against the frame: tail down, as most are, is nose up.",
        dimension: Angle,
        sketch: Sketch::Protractor {
            at: output,
            slope_rad: |s| s.driveline.as_ref().map_or(0.0, |d| d.output_nose_up_rad),
        },
        read: |s| s.driveline.as_ref().map(|d| d.output_nose_up_rad),
        put: |s, v| put(s, |d| d.output_nose_up_rad = v),
    },
    Measure {
        key: "output_left",
        name: "Transmission, nose to the left",
        how: "Seen from above, against the frame's middle. Nothing in most trucks.",
        dimension: Angle,
        sketch: Sketch::Label { at: output },
        read: |s| s.driveline.as_ref().map(|d| d.output_left_rad),
        put: |s, v| put(s, |d| d.output_left_rad = v),
    },
    Measure {
        key: "shaft_tube",
        name: "Shaft tube, diameter",
        how: "A caliper over the tube.",
        dimension: Length,
        sketch: Sketch::Label {
            at: |s| nalgebra::center(&output(s), &s.drawn().to_ground(s.pinion_joint_in_axle())),
        },
        read: |s| s.driveline.as_ref().map(|d| d.tube_m),
        put: |s, v| put(s, |d| d.tube_m = v),
    },
    Measure {
        key: "slip_in",
        name: "Splines can go in by",
        how: "At ride height: how much further the slip joint can be pushed together.",
        dimension: Length,
        sketch: Sketch::Label { at: output },
        read: |s| s.driveline.as_ref().map(|d| d.slip_in_m),
        put: |s, v| put(s, |d| d.slip_in_m = v),
    },
    Measure {
        key: "slip_out",
        name: "Splines can come out by",
        how: "At ride height: how much further it can be pulled apart with enough spline still in.",
        dimension: Length,
        sketch: Sketch::Label { at: output },
        read: |s| s.driveline.as_ref().map(|d| d.slip_out_m),
        put: |s, v| put(s, |d| d.slip_out_m = v),
    },
    coordinate!(
        "carrier_x",
        "Carrier bearing's joint, ahead of the axle",
        "As for the transmission's, to the middle of the cross behind the carrier bearing.",
        Side::Left,
        carrier,
        x,
        |p| Point3::new(0.0, p.y, p.z)
    ),
    coordinate!(
        "carrier_z",
        "Carrier bearing's joint, above the rails' underside",
        "As for the transmission's.",
        Side::Left,
        carrier,
        z,
        |p| Point3::new(p.x, p.y, 0.0)
    ),
    coordinate!(
        "carrier_y",
        "Carrier bearing's joint, left of the middle",
        "As for the transmission's.",
        Side::Top,
        carrier,
        y,
        |p| Point3::new(p.x, 0.0, p.z)
    ),
    Measure {
        key: "axle_ratio",
        name: "Axle ratio",
        how: "On the housing's tag, or turns of the shaft for one turn of both wheels.",
        dimension: Ratio,
        sketch: Sketch::Label {
            at: |s| super::on_axle(s, 0.0, 0.0, 0.0),
        },
        read: |s| speed(s).map(|v| v.axle_ratio),
        put: |s, v| put_speed(s, |speed| speed.axle_ratio = v),
    },
    Measure {
        key: "fastest",
        name: "Fastest it is driven",
        how: "The shaft's speed follows from it, and the largest angle its joints may have.",
        dimension: Speed,
        sketch: Sketch::Label { at: output },
        read: |s| speed(s).map(|v| v.fastest_m_per_s),
        put: |s, v| put_speed(s, |speed| speed.fastest_m_per_s = v),
    },
];
