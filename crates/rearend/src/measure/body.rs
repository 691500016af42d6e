//! Fender lips, tubs, bed floor.

use nalgebra::Point3;

use super::{Measure, Side, Sketch, rail_y};
use crate::setup::{Body, Setup};
use crate::tape::Dimension::Length;

fn put(s: &mut Setup, put: impl Fn(&mut Body)) {
    if let Some(body) = &mut s.body {
        put(body);
    }
}

fn of(s: &Setup, read: fn(&Body) -> f64) -> f64 {
    s.body.as_ref().map_or(0.0, read)
}

/// The top of the left lip.
fn lip(s: &Setup) -> Point3<f64> {
    let y = of(s, |b| b.lips_left_m) + of(s, |b| b.lip_to_lip_m) / 2.0;
    Point3::new(of(s, |b| b.opening_x_m), y, of(s, |b| b.lip_z_m))
}

pub(super) const MEASURES: &[Measure] = &[
    Measure {
        key: "lip_to_lip",
        name: "Fender lip to fender lip",
        how: "Across the truck over the wheels, from the inside of one fender lip to the inside of the other.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| {
                let left = lip(s);
                [left - nalgebra::Vector3::y() * of(s, |b| b.lip_to_lip_m), left]
            },
        },
        read: |s| s.body.as_ref().map(|b| b.lip_to_lip_m),
        put: |s, v| put(s, |b| b.lip_to_lip_m = v),
    },
    Measure {
        key: "lips_left",
        name: "Body sits to the left by",
        how: "Left lip to left rail, less right lip to right rail, halved. Right is less than nothing.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| [Point3::new(0.0, rail_y(s), lip(s).z), lip(s)],
        },
        read: |s| s.body.as_ref().map(|b| b.lips_left_m),
        put: |s, v| put(s, |b| b.lips_left_m = v),
    },
    Measure {
        key: "lip_z",
        name: "Fender lip, above the rails' underside",
        how: "From a straight edge under both rails up to the top of the wheel opening.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| [Point3::new(lip(s).x, lip(s).y, 0.0), lip(s)],
        },
        read: |s| s.body.as_ref().map(|b| b.lip_z_m),
        put: |s, v| put(s, |b| b.lip_z_m = v),
    },
    Measure {
        key: "opening",
        name: "Wheel opening, front to back",
        how: "Across the opening at the height of the axle.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| {
                let half = of(s, |b| b.opening_m) / 2.0;
                let z = super::on_axle(s, 0.0, 0.0, 0.0).z;
                [half, -half].map(|x| Point3::new(lip(s).x + x, lip(s).y, z))
            },
        },
        read: |s| s.body.as_ref().map(|b| b.opening_m),
        put: |s, v| put(s, |b| b.opening_m = v),
    },
    Measure {
        key: "opening_x",
        name: "Wheel opening's middle, ahead of the axle",
        how: "Front edge to the axle, less rear edge to the axle, halved. Behind is less than nothing.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| [0.0, lip(s).x].map(|x| Point3::new(x, lip(s).y, lip(s).z)),
        },
        read: |s| s.body.as_ref().map(|b| b.opening_x_m),
        put: |s, v| put(s, |b| b.opening_x_m = v),
    },
    Measure {
        key: "tub_to_tub",
        name: "Wheel tub to wheel tub",
        how: "Across the bed, between the inner walls of the tubs.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| {
                let half = s.body.as_ref().and_then(|b| b.tub_to_tub_m).unwrap_or_default() / 2.0;
                let (middle, z) = (of(s, |b| b.lips_left_m), lip(s).z);
                [half, -half].map(|y| Point3::new(0.0, middle + y, z))
            },
        },
        read: |s| s.body.as_ref().and_then(|b| b.tub_to_tub_m),
        put: |s, v| put(s, |b| b.tub_to_tub_m = Some(v)),
    },
    Measure {
        key: "bed_floor",
        name: "Bed floor, above the rails' underside",
        how: "From a straight edge under both rails up to the underside of the bed floor.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| {
                let z = s.body.as_ref().and_then(|b| b.bed_floor_z_m).unwrap_or_default();
                [0.0, z].map(|z| Point3::new(0.0, 0.0, z))
            },
        },
        read: |s| s.body.as_ref().and_then(|b| b.bed_floor_z_m),
        put: |s, v| put(s, |b| b.bed_floor_z_m = Some(v)),
    },
    Measure {
        key: "lip_gap",
        name: "Room wanted, tyre to lip",
        how: "Half an inch is common where the fender is to sit over the tyre.",
        dimension: Length,
        sketch: Sketch::Label { at: lip },
        read: |s| s.body.as_ref().map(|b| b.lip_gap_m),
        put: |s, v| put(s, |b| b.lip_gap_m = v.abs()),
    },
    Measure {
        key: "inner_gap",
        name: "Room wanted, tyre to rail or tub",
        how: "An inch is common: sidewalls bulge.",
        dimension: Length,
        sketch: Sketch::Label {
            at: |s| Point3::new(0.0, rail_y(s), 0.0),
        },
        read: |s| s.body.as_ref().map(|b| b.inner_gap_m),
        put: |s, v| put(s, |b| b.inner_gap_m = v.abs()),
    },
];
