//! Springs, and the weight on them.

use nalgebra::Point3;

use super::{Measure, Side, Sketch};
use crate::setup::{AirSpring, Coilover, Setup, SpringKind, Springs};
use crate::tape::Dimension::{Length, Mass, Pressure, Rate};

fn put(s: &mut Setup, put: impl Fn(&mut Springs)) {
    if let Some(springs) = &mut s.springs {
        put(springs);
    }
}

fn coilover(s: &Setup) -> Option<&Coilover> {
    match &s.springs.as_ref()?.kind {
        SpringKind::Coilover(coilover) => Some(coilover),
        SpringKind::Air(_) => None,
    }
}

fn put_coilover(s: &mut Setup, change: impl Fn(&mut Coilover)) {
    put(s, |springs| {
        if let SpringKind::Coilover(coilover) = &mut springs.kind {
            change(coilover);
        }
    });
}

fn air(s: &Setup) -> Option<&AirSpring> {
    match &s.springs.as_ref()?.kind {
        SpringKind::Air(air) => Some(air),
        SpringKind::Coilover(_) => None,
    }
}

fn put_air(s: &mut Setup, change: impl Fn(&mut AirSpring)) {
    put(s, |springs| {
        if let SpringKind::Air(air) = &mut springs.kind {
            change(air);
        }
    });
}

fn top(s: &Setup) -> Point3<f64> {
    s.springs
        .as_ref()
        .map_or_else(Point3::origin, |springs| springs.mount_in_frame)
}

fn bottom(s: &Setup) -> Point3<f64> {
    let hole = s.springs.as_ref().and_then(Springs::mount_in_axle);
    s.drawn().to_ground(hole.unwrap_or_else(Point3::origin))
}

/// The whole spring, for what is read off it.
fn middle(s: &Setup) -> Point3<f64> {
    nalgebra::center(&top(s), &bottom(s))
}

/// Along the spring from below, so much of its length as it stands.
fn along(s: &Setup, length_m: f64) -> [Point3<f64>; 2] {
    let (from, to) = (bottom(s), top(s));
    let whole = (to - from).norm().max(1e-6);
    [from, from + (to - from) * (length_m / whole)]
}

/// A coordinate of the mount on the frame.
macro_rules! on_frame {
    ($key:literal, $name:literal, $how:literal, $side:expr, $axis:ident) => {
        Measure {
            key: $key,
            name: $name,
            how: $how,
            dimension: Length,
            sketch: Sketch::Tape {
                side: $side,
                ends: |s| {
                    let mut from = top(s);
                    from.$axis = 0.0;
                    [from, top(s)]
                },
            },
            read: |s| s.springs.as_ref().map(|springs| springs.mount_in_frame.$axis),
            put: |s, v| put(s, |springs| springs.mount_in_frame.$axis = v),
        }
    };
}

/// A coordinate of the hole in use on the axle.
macro_rules! on_axle {
    ($key:literal, $name:literal, $how:literal, $side:expr, $axis:ident) => {
        Measure {
            key: $key,
            name: $name,
            how: $how,
            dimension: Length,
            sketch: Sketch::Tape {
                side: $side,
                ends: |s| {
                    let hole = s.springs.as_ref().and_then(Springs::mount_in_axle);
                    let hole = hole.unwrap_or_else(Point3::origin);
                    let mut from = hole;
                    from.$axis = 0.0;
                    [from, hole].map(|p| s.drawn().to_ground(p))
                },
            },
            read: |s| s.springs.as_ref().and_then(Springs::mount_in_axle).map(|p| p.$axis),
            put: |s, v| {
                put(s, |springs| {
                    let which = springs.hole;
                    if let Some(hole) = springs.holes_in_axle.get_mut(which) {
                        hole.$axis = v;
                    }
                });
            },
        }
    };
}

/// A length or stiffness of a coilover.
macro_rules! of_coilover {
    ($key:literal, $name:literal, $how:literal, $dimension:expr, $field:ident, $sketch:expr) => {
        Measure {
            key: $key,
            name: $name,
            how: $how,
            dimension: $dimension,
            sketch: $sketch,
            read: |s| coilover(s).map(|c| c.$field),
            put: |s, v| put_coilover(s, |c| c.$field = v),
        }
    };
}

/// A length or pressure of an air spring.
macro_rules! of_air {
    ($key:literal, $name:literal, $how:literal, $dimension:expr, $field:ident, $sketch:expr) => {
        Measure {
            key: $key,
            name: $name,
            how: $how,
            dimension: $dimension,
            sketch: $sketch,
            read: |s| air(s).map(|a| a.$field),
            put: |s, v| put_air(s, |a| a.$field = v),
        }
    };
}

const ON_IT: Sketch = Sketch::Label { at: middle };

pub(super) const MEASURES: &[Measure] = &[
    on_frame!(
        "spring_top_x",
        "Upper mount, ahead of the axle",
        "From the axle line forward to the bolt; behind is less than nothing.",
        Side::Left,
        x
    ),
    on_frame!(
        "spring_top_y",
        "Upper mount, from the middle",
        "From the middle between the rails out to the middle of the spring. The other side is alike.",
        Side::Rear,
        y
    ),
    on_frame!(
        "spring_top_z",
        "Upper mount, above the rails' underside",
        "From a straight edge under both rails up to the bolt, or to the plate that a bag hangs from.",
        Side::Rear,
        z
    ),
    on_axle!(
        "spring_bottom_x",
        "Lower mount, ahead of the axle tube",
        "From the middle of the axle tube forward to the bolt in use; behind is less than nothing.",
        Side::Left,
        x
    ),
    on_axle!(
        "spring_bottom_y",
        "Lower mount, from the middle",
        "From the middle of the axle out to the middle of the spring.",
        Side::Rear,
        y
    ),
    on_axle!(
        "spring_bottom_z",
        "Lower mount, above the axle tube's middle",
        "From the middle of the axle tube up to the bolt, or to the plate that a bag stands on; below is less than nothing.",
        Side::Rear,
        z
    ),
    of_coilover!(
        "coilover_collapsed",
        "Coilover, collapsed",
        "Eye to eye, pushed together without its coil until it stops.",
        Length,
        collapsed_m,
        Sketch::Tape {
            side: Side::Rear,
            ends: |s| along(s, coilover(s).map_or(0.0, |c| c.collapsed_m))
        }
    ),
    of_coilover!(
        "coilover_extended",
        "Coilover, extended",
        "Eye to eye, pulled out.",
        Length,
        extended_m,
        Sketch::Tape {
            side: Side::Rear,
            ends: |s| along(s, coilover(s).map_or(0.0, |c| c.extended_m))
        }
    ),
    of_coilover!(
        "coil_rate",
        "Coil, stiffness",
        "As it is printed on the coil.",
        Rate,
        rate_n_per_m,
        ON_IT
    ),
    of_coilover!(
        "coil_free_length",
        "Coil, free length",
        "Off the damper, end to end.",
        Length,
        free_length_m,
        ON_IT
    ),
    of_coilover!(
        "coil_preload",
        "Coil, preload",
        "How far the collar presses the coil together with the damper pulled out.",
        Length,
        preload_m,
        ON_IT
    ),
    of_coilover!(
        "coil",
        "Coil, outside diameter",
        "A caliper over the coil.",
        Length,
        coil_m,
        ON_IT
    ),
    of_air!(
        "bag",
        "Bag, largest diameter",
        "From its maker's sheet, at full pressure: it needs this room and an inch around it.",
        Length,
        bag_m,
        ON_IT
    ),
    of_air!(
        "bag_shortest",
        "Bag, shortest",
        "From its maker's sheet: plate to plate on its inner stop.",
        Length,
        shortest_m,
        Sketch::Tape {
            side: Side::Rear,
            ends: |s| along(s, air(s).map_or(0.0, |a| a.shortest_m))
        }
    ),
    of_air!(
        "bag_longest",
        "Bag, longest",
        "From its maker's sheet: the most it may be pulled out.",
        Length,
        longest_m,
        Sketch::Tape {
            side: Side::Rear,
            ends: |s| along(s, air(s).map_or(0.0, |a| a.longest_m))
        }
    ),
    of_air!(
        "bag_most_pressure",
        "Bag, highest pressure",
        "From its maker's sheet.",
        Pressure,
        most_pa,
        ON_IT
    ),
    of_air!(
        "bag_chart_pressure",
        "Chart's pressure",
        "The pressure that the loads in the chart below are for.",
        Pressure,
        chart_pa,
        ON_IT
    ),
    Measure {
        key: "corner_mass",
        name: "Weight on one rear spring",
        how: "Scales under one rear wheel, laden as it is driven, less half the axle with its wheel.",
        dimension: Mass,
        sketch: Sketch::Label {
            at: |s| super::ground(s, 0.0, s.track_m() / 2.0),
        },
        read: |s| s.springs.as_ref().map(|springs| springs.corner_kg),
        put: |s, v| put(s, |springs| springs.corner_kg = v),
    },
    Measure {
        key: "bump_stop",
        name: "Bump stop meets at ride height",
        how: "Lower the truck without its springs until the stop touches: ground to the underside of the rail. Or take it off the drawing.",
        dimension: Length,
        sketch: Sketch::Tape {
            side: Side::Rear,
            ends: |s| {
                let at = s.springs.as_ref().and_then(|springs| springs.bump_stop_at_m);
                let y = super::rail_y(s);
                let z = at.unwrap_or(s.travel.laid_out_m) - s.travel.ride_m;
                [super::ground(s, 0.0, y), Point3::new(0.0, y, z)]
            },
        },
        // Nobody says: at the end of the travel.
        read: |s| {
            s.springs
                .as_ref()
                .map(|springs| springs.bump_stop_at_m.unwrap_or(s.travel.laid_out_m))
        },
        put: |s, v| put(s, |springs| springs.bump_stop_at_m = Some(v)),
    },
];
