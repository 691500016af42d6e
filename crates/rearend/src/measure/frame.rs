//! Rails in detail, the front of the truck, and its weight.

use nalgebra::Point3;

use super::{Measure, Side, Sketch, ground, rail_y};
use crate::setup::{Balance, Front, FrontHeights, KickUp, Notch, Setup};
use crate::tape::Dimension::{Angle, Length, Share};

/// A station on the left rail's underside and how high the rail has risen there.
fn kick(s: &Setup, x: fn(&KickUp) -> f64, risen: f64) -> Point3<f64> {
    let (x_m, rise_m) = s.rails.kick_up.map_or((0.0, 0.0), |k| (x(&k), k.rise_m));
    Point3::new(x_m, rail_y(s), rise_m * risen)
}

/// From the axle line to a station, along the rail.
fn along(s: &Setup, x_m: f64) -> [Point3<f64>; 2] {
    [0.0, x_m].map(|x| Point3::new(x, rail_y(s), 0.0))
}

fn notch_of(s: &Setup) -> Notch {
    s.rails.notch.unwrap_or(Notch {
        depth_m: 0.0,
        half_length_m: 0.0,
    })
}

fn top_of_notch(s: &Setup) -> f64 {
    s.rails.kick_up.map_or(0.0, |k| k.rise_m)
}

pub(super) const MEASURES: &[Measure] = &[
    Measure {
        key: "rail_wall",
        name: "Rail, wall",
        how: "A caliper over the edge of a flange, or in a hole.",
        dimension: Length,
        sketch: Sketch::Label {
            at: |s| Point3::new(s.rails.front_x_m * 0.9, rail_y(s), s.rails.height_m / 2.0),
        },
        read: |s| Some(s.rails.wall_m),
        put: |s, v| s.rails.wall_m = v,
    },
    Measure {
        key: "kick_up_start",
        name: "Kick-up begins ahead of the axle",
        how: "From the axle line forward to where the rail begins to rise.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| along(s, kick(s, |k| k.start_x_m, 0.0).x),
        },
        read: |s| s.rails.kick_up.map(|k| k.start_x_m),
        put: |s, v| {
            if let Some(k) = &mut s.rails.kick_up {
                k.start_x_m = v;
            }
        },
    },
    Measure {
        key: "kick_up_full",
        name: "Kick-up is full ahead of the axle",
        how: "From the axle line forward to where the rail runs level again.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| {
                let full = kick(s, |k| k.full_x_m, 1.0);
                [Point3::new(0.0, full.y, full.z), full]
            },
        },
        read: |s| s.rails.kick_up.map(|k| k.full_x_m),
        put: |s, v| {
            if let Some(k) = &mut s.rails.kick_up {
                k.full_x_m = v;
            }
        },
    },
    Measure {
        key: "kick_up_level_end",
        name: "Kick-up level ends, ahead of the axle",
        how: "From the axle line to where the rail begins to come down again; behind the axle is less than nothing.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| {
                let end = kick(s, |k| k.level_end_x_m, 1.0);
                [Point3::new(0.0, end.y, end.z), end]
            },
        },
        read: |s| s.rails.kick_up.map(|k| k.level_end_x_m),
        put: |s, v| {
            if let Some(k) = &mut s.rails.kick_up {
                k.level_end_x_m = v;
            }
        },
    },
    Measure {
        key: "kick_up_end",
        name: "Kick-up is over, ahead of the axle",
        how: "From the axle line to where the rail is down; behind the axle is less than nothing.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| along(s, kick(s, |k| k.end_x_m, 0.0).x),
        },
        read: |s| s.rails.kick_up.map(|k| k.end_x_m),
        put: |s, v| {
            if let Some(k) = &mut s.rails.kick_up {
                k.end_x_m = v;
            }
        },
    },
    Measure {
        key: "kick_up_rise",
        name: "Kick-up, rise",
        how: "A straight edge along the underside of the straight part, up to the underside of the rail over the axle.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| [0.0, 1.0].map(|risen| kick(s, |_| 0.0, risen)),
        },
        read: |s| s.rails.kick_up.map(|k| k.rise_m),
        put: |s, v| {
            if let Some(k) = &mut s.rails.kick_up {
                k.rise_m = v;
            }
        },
    },
    Measure {
        key: "notch_depth",
        name: "Notch, depth",
        how: "From the underside of the rail up to the top of the notch over the axle tube.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| [0.0, notch_of(s).depth_m].map(|z| Point3::new(0.0, rail_y(s), top_of_notch(s) + z)),
        },
        read: |s| s.rails.notch.map(|n| n.depth_m),
        put: |s, v| {
            if let Some(n) = &mut s.rails.notch {
                n.depth_m = v;
            }
        },
    },
    Measure {
        key: "notch_half_length",
        name: "Notch, half its length",
        how: "From the axle line to where the notch meets the underside of the rail.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| [0.0, notch_of(s).half_length_m].map(|x| Point3::new(x, rail_y(s), top_of_notch(s))),
        },
        read: |s| s.rails.notch.map(|n| n.half_length_m),
        put: |s, v| {
            if let Some(n) = &mut s.rails.notch {
                n.half_length_m = v;
            }
        },
    },
    Measure {
        key: "one_wheel_up",
        name: "One wheel up",
        how: "How far the axle is to roll with one wheel up: 3 to 5 degrees for a truck that leaves the road with one wheel at most.",
        dimension: Angle,
        sketch: Sketch::Label {
            at: |s| super::on_axle(s, 0.0, 0.0, 0.0),
        },
        read: |s| Some(s.travel.one_wheel_up_rad),
        put: |s, v| s.travel.one_wheel_up_rad = v.abs(),
    },
];

fn front(s: &Setup) -> Option<FrontHeights> {
    match s.travel.front {
        Front::Heights(heights) => Some(heights),
        Front::Follows => None,
    }
}

fn put_front(s: &mut Setup, put: impl Fn(&mut FrontHeights)) {
    if let Front::Heights(heights) = &mut s.travel.front {
        put(heights);
    }
}

/// From the ground up to the frame at the front axle.
fn front_height(s: &Setup, height: fn(&FrontHeights) -> f64) -> [Point3<f64>; 2] {
    let f = front(s);
    let x = s.rails.front_x_m;
    let z = f.map_or(0.0, |f| height(&f)) - s.travel.ride_m;
    [ground(s, x, rail_y(s)), Point3::new(x, rail_y(s), z)]
}

fn put_wheelbase(s: &mut Setup, wheelbase_m: f64) {
    put_front(s, |f| f.wheelbase_m = wheelbase_m);
    if let Some(balance) = &mut s.balance {
        balance.wheelbase_m = wheelbase_m;
    }
}

pub(super) const FRONT: &[Measure] = &[
    Measure {
        key: "front_wheelbase",
        name: "Wheelbase",
        how: "Along the ground from the middle of the rear wheel to the middle of the front wheel.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| [0.0, s.rails.front_x_m].map(|x| ground(s, x, 0.0)),
        },
        read: |s| front(s).map(|f| f.wheelbase_m),
        put: put_wheelbase,
    },
    Measure {
        key: "front_ride",
        name: "Front of the frame, at ride height",
        how: "Ground to the underside of the rail at the front axle, the rear at ride height.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| front_height(s, |f| f.ride_m),
        },
        read: |s| front(s).map(|f| f.ride_m),
        put: |s, v| put_front(s, |f| f.ride_m = v),
    },
    Measure {
        key: "front_laid_out",
        name: "Front of the frame, laid out",
        how: "The same with the truck laid out.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| front_height(s, |f| f.laid_out_m),
        },
        read: |s| front(s).map(|f| f.laid_out_m),
        put: |s, v| put_front(s, |f| f.laid_out_m = v),
    },
    Measure {
        key: "front_full_lift",
        name: "Front of the frame, full lift",
        how: "The same at full lift.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| front_height(s, |f| f.full_lift_m),
        },
        read: |s| front(s).map(|f| f.full_lift_m),
        put: |s, v| put_front(s, |f| f.full_lift_m = v),
    },
];

fn put_balance(s: &mut Setup, put: impl Fn(&mut Balance)) {
    if let Some(balance) = &mut s.balance {
        put(balance);
    }
}

pub(super) const BALANCE: &[Measure] = &[
    Measure {
        key: "wheelbase",
        name: "Wheelbase",
        how: "Along the ground from the middle of the rear wheel to the middle of the front wheel.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| [0.0, s.rails.front_x_m].map(|x| ground(s, x, 0.0)),
        },
        read: |s| s.balance.map(|b| b.wheelbase_m),
        put: put_wheelbase,
    },
    Measure {
        key: "cg_height",
        name: "Centre of gravity, height",
        how: "Above ground at ride height. About the height of the engine's camshaft where nobody has weighed it.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Left,
            ends: |s| {
                let x = s.rails.front_x_m * 0.8;
                let height = s.balance.map_or(0.0, |b| b.cg_height_m);
                [ground(s, x, 0.0), ground(s, x, 0.0) + nalgebra::Vector3::z() * height]
            },
        },
        read: |s| s.balance.map(|b| b.cg_height_m),
        put: |s, v| put_balance(s, |b| b.cg_height_m = v),
    },
    Measure {
        key: "rear_braking",
        name: "Rear wheels brake",
        how: "Their share of the whole braking, from whoever laid out the brakes: 30 to 45 % is common for a pickup.",
        dimension: Share,
        sketch: Sketch::Label {
            at: |s| super::on_axle(s, 0.0, s.axle.flange_to_flange_m / 2.0, 0.0),
        },
        read: |s| s.balance.map(|b| b.rear_braking),
        put: |s, v| put_balance(s, |b| b.rear_braking = v),
    },
];
