//! What a truck may have or not, and what it usually looks like: a start to be corrected, not a proposal to be built.

use nalgebra::Point3;

use crate::setup::{
    AirPoint, AirSpring, Balance, Body, Coilover, Driveline, Front, FrontHeights, KickUp, Notch, Setup, ShaftSpeed,
    SpringKind, Springs, to_file_resolution,
};
use crate::tape::{Dimension, Units};

/// A part of the description that is there or not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Described {
    /// The rails rise over the axle.
    KickUp,
    /// They are cut out over it.
    Notch,
    /// The front of the frame stands at heights of its own.
    Front,
    /// Where the weight is.
    Balance,
    /// The driveshaft.
    Driveline,
    /// It is in two pieces.
    TwoPiece,
    /// How fast it turns.
    Speed,
    /// The springs.
    Springs,
    /// They are bags of air.
    Air,
    /// The body over the wheels.
    Body,
    /// The bed has tubs.
    Tubs,
    /// The bed has a floor.
    BedFloor,
}

impl Described {
    /// All of them.
    pub const ALL: [Self; 12] = [
        Self::KickUp,
        Self::Notch,
        Self::Front,
        Self::Balance,
        Self::Driveline,
        Self::TwoPiece,
        Self::Speed,
        Self::Springs,
        Self::Air,
        Self::Body,
        Self::Tubs,
        Self::BedFloor,
    ];

    /// What its tick box says.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::KickUp => "The rails kick up over the axle",
            Self::Notch => "The rails are notched over the axle",
            Self::Front => "The front of the frame has heights of its own",
            Self::Balance => "Weight and balance are known",
            Self::Driveline => "The driveshaft is described",
            Self::TwoPiece => "The shaft is in two pieces, with a carrier bearing",
            Self::Speed => "Axle ratio and speed are known",
            Self::Springs => "The springs are described",
            Self::Air => "They are air springs",
            Self::Body => "The body is described",
            Self::Tubs => "The bed has wheel tubs",
            Self::BedFloor => "The bed has a floor over the axle",
        }
    }

    /// What it is a part of.
    #[must_use]
    pub fn needs(self) -> Option<Self> {
        match self {
            Self::TwoPiece | Self::Speed => Some(Self::Driveline),
            Self::Air => Some(Self::Springs),
            Self::Tubs | Self::BedFloor => Some(Self::Body),
            _ => None,
        }
    }

    /// Whether a setup has it.
    #[must_use]
    pub fn is_in(self, setup: &Setup) -> bool {
        let driveline = setup.driveline.as_ref();
        let body = setup.body.as_ref();
        match self {
            Self::KickUp => setup.rails.kick_up.is_some(),
            Self::Notch => setup.rails.notch.is_some(),
            Self::Front => setup.travel.front != Front::Follows,
            Self::Balance => setup.balance.is_some(),
            Self::Driveline => driveline.is_some(),
            Self::TwoPiece => driveline.is_some_and(|d| d.carrier.is_some()),
            Self::Speed => driveline.is_some_and(|d| d.speed.is_some()),
            Self::Springs => setup.springs.is_some(),
            Self::Air => setup
                .springs
                .as_ref()
                .is_some_and(|s| matches!(s.kind, SpringKind::Air(_))),
            Self::Body => body.is_some(),
            Self::Tubs => body.is_some_and(|b| b.tub_to_tub_m.is_some()),
            Self::BedFloor => body.is_some_and(|b| b.bed_floor_z_m.is_some()),
        }
    }

    /// The setup with it or without. What it is a part of has to be there; else nothing changes.
    #[must_use]
    pub fn put(self, setup: &Setup, there: bool) -> Setup {
        let mut next = setup.clone();
        if there == self.is_in(setup) {
            return next;
        }
        match self {
            Self::KickUp => next.rails.kick_up = there.then(|| kick_up(setup)),
            Self::Notch => next.rails.notch = there.then(|| notch(setup)),
            Self::Front => next.travel.front = if there { front(setup) } else { Front::Follows },
            Self::Balance => next.balance = there.then(|| balance(setup)),
            Self::Driveline => next.driveline = there.then(|| driveline(setup)),
            Self::Springs => next.springs = there.then(|| springs(setup)),
            Self::Body => next.body = there.then(|| body(setup)),
            Self::TwoPiece | Self::Speed => put_in_driveline(&mut next, setup, self, there),
            Self::Air => put_air(&mut next, there),
            Self::Tubs | Self::BedFloor => put_in_body(&mut next, setup, self, there),
        }
        next
    }
}

fn put_in_driveline(next: &mut Setup, setup: &Setup, which: Described, there: bool) {
    let pinion = setup.drawn().to_ground(setup.pinion_joint_in_axle());
    let Some(driveline) = &mut next.driveline else { return };
    if which == Described::Speed {
        // A common ratio, and as fast as most roads allow.
        driveline.speed = there.then_some(ShaftSpeed {
            axle_ratio: 3.5,
            fastest_m_per_s: of_inch(Dimension::Speed, 80.0),
        });
    } else {
        // Halfway, a little high, so that the rear piece runs down to the pinion.
        let middle = nalgebra::center(&driveline.output, &pinion);
        driveline.carrier = there.then(|| point(middle.x, driveline.output.y, driveline.output.z));
    }
}

fn put_air(next: &mut Setup, there: bool) {
    let length_m = next.springs.as_ref().map(|s| length(next, s));
    let (Some(springs), Some(length_m)) = (&mut next.springs, length_m) else {
        return;
    };
    springs.kind = if there {
        SpringKind::Air(air(length_m, springs.corner_kg))
    } else {
        SpringKind::Coilover(coilover(length_m, springs.corner_kg))
    };
}

fn put_in_body(next: &mut Setup, setup: &Setup, which: Described, there: bool) {
    let wheels = &setup.wheels;
    let (inner_m, top_m) = (
        setup.track_m() - wheels.tyre_width_m,
        setup.axle_z_m(setup.travel.laid_out_m) + wheels.tyre_m / 2.0,
    );
    let Some(body) = &mut next.body else { return };
    if which == Described::Tubs {
        body.tub_to_tub_m = there.then(|| taped(inner_m - 0.08));
    } else {
        body.bed_floor_z_m = there.then(|| taped(top_m.max(0.1)));
    }
}

/// The nearest whole sixteenth of an inch: what nobody has measured reads as a tape would.
pub(super) fn taped(length_m: f64) -> f64 {
    let step_m = Units::Sixteenths.step_m();
    to_file_resolution((length_m / step_m).round() * step_m)
}

/// A point at whole sixteenths.
pub(super) fn point(x: f64, y: f64, z: f64) -> Point3<f64> {
    Point3::new(taped(x), taped(y), taped(z))
}

/// So many psi, pounds and the like, SI.
fn of_inch(dimension: Dimension, number: f64) -> f64 {
    number * dimension.unit(Units::Sixteenths)
}

/// The nearest whole psi, pound and the like, SI.
fn whole(dimension: Dimension, value: f64) -> f64 {
    of_inch(dimension, dimension.shown(Units::Sixteenths, value).round())
}

/// Over the axle and as high as it needs to be laid out.
fn kick_up(setup: &Setup) -> KickUp {
    let rise_m = setup.axle_z_m(setup.travel.laid_out_m) + setup.axle.tube_m / 2.0;
    KickUp {
        start_x_m: taped(0.7),
        full_x_m: taped(0.35),
        level_end_x_m: taped(-0.35),
        end_x_m: taped(-0.7),
        rise_m: taped(rise_m.clamp(0.05, 0.6)),
    }
}

fn notch(setup: &Setup) -> Notch {
    Notch {
        depth_m: taped((setup.rails.height_m / 2.0).min(0.08)),
        half_length_m: taped(0.12),
    }
}

/// A light pickup's wheelbase, or the one known already.
fn wheelbase_m(setup: &Setup) -> f64 {
    let of_front = match setup.travel.front {
        Front::Heights(front) => Some(front.wheelbase_m),
        Front::Follows => None,
    };
    setup.balance.map(|b| b.wheelbase_m).or(of_front).unwrap_or(taped(3.0))
}

fn front(setup: &Setup) -> Front {
    let travel = &setup.travel;
    Front::Heights(FrontHeights {
        wheelbase_m: wheelbase_m(setup),
        laid_out_m: travel.laid_out_m,
        ride_m: travel.ride_m,
        full_lift_m: travel.full_lift_m,
    })
}

fn balance(setup: &Setup) -> Balance {
    Balance {
        wheelbase_m: wheelbase_m(setup),
        cg_height_m: taped(0.65),
        rear_braking: 0.4,
    }
}

/// A one-piece shaft to a transmission that runs parallel to the pinion, a little above it: equal angles to begin with.
fn driveline(setup: &Setup) -> Driveline {
    let pinion = setup.drawn().to_ground(setup.pinion_joint_in_axle());
    let nose_up_rad = setup.axle.pinion_angle_rad + setup.placement.nose_up_rad;
    let ahead_m = 1.2;
    Driveline {
        output: point(
            pinion.x + ahead_m,
            pinion.y,
            pinion.z + ahead_m * (nose_up_rad + 2f64.to_radians()).tan(),
        ),
        output_nose_up_rad: nose_up_rad,
        output_left_rad: 0.0,
        carrier: None,
        tube_m: taped(0.076),
        slip_in_m: taped(0.035),
        slip_out_m: taped(0.035),
        phase_rad: 0.0,
        speed: None,
    }
}

/// Behind the axle, inside of the rails, upright.
fn springs(setup: &Setup) -> Springs {
    let y = (setup.rails.spacing_m / 2.0 - setup.rails.flange_m - 0.09).max(0.15);
    let axle_z = setup.axle_z_m(setup.travel.ride_m);
    let hole = point(-0.09, y, -0.03);
    let corner_kg = of_inch(Dimension::Mass, 770.0);
    let length_m = taped(0.36);
    Springs {
        kind: SpringKind::Coilover(coilover(length_m, corner_kg)),
        mount_in_frame: point(-0.09, y - 0.02, axle_z - 0.03 + length_m),
        // Half-inch bolts an inch apart: common practice.
        holes_in_axle: [0.0, 1.0, 2.0]
            .map(|up| point(hole.x, hole.y, hole.z + up * 0.0254))
            .to_vec(),
        hole: 0,
        corner_kg,
        unsprung_corner_kg: None,
        tyre_n_per_m: None,
        bump_stop_at_m: None,
    }
}

fn length(setup: &Setup, springs: &Springs) -> f64 {
    let bottom = springs.mount_in_axle().unwrap_or_else(Point3::origin);
    (springs.mount_in_frame - setup.drawn().to_ground(bottom)).norm()
}

/// Carries the corner at about this length with a comfortable coil, half its stroke to go either way.
fn coilover(length_m: f64, corner_kg: f64) -> Coilover {
    let weight_n = corner_kg * 9.806_65;
    // 1.4 Hz: common practice for a pickup that rides well empty and carries something. Coils are made in steps of five pounds an inch.
    let wanted_n_per_m = corner_kg * (std::f64::consts::TAU * 1.4).powi(2);
    let rate_n_per_m = 5.0 * whole(Dimension::Rate, wanted_n_per_m / 5.0);
    let half_stroke_m = (length_m * 0.18).max(0.03);
    let extended_m = taped(length_m + half_stroke_m);
    let pressed_m = weight_n / rate_n_per_m;
    Coilover {
        collapsed_m: taped(length_m - half_stroke_m),
        extended_m,
        rate_n_per_m,
        free_length_m: taped(length_m * 0.85),
        preload_m: taped((pressed_m - (extended_m - length_m)).clamp(0.0, length_m * 0.5)),
        coil_m: taped(0.1),
    }
}

/// A bag a little taller than it is collapsed, whose chart carries the corner at about 58 psi, 400 kPa.
fn air(length_m: f64, corner_kg: f64) -> AirSpring {
    let chart_pa = of_inch(Dimension::Pressure, 100.0);
    let weight_n = corner_kg * 9.806_65;
    let load_n = weight_n * chart_pa / 400e3;
    let line = |height_m: f64, load: f64, volume: f64| AirPoint {
        height_m,
        load_n: whole(Dimension::Force, load_n * load),
        volume_m3: whole(Dimension::Volume, load_n / chart_pa * length_m * volume),
    };
    AirSpring {
        bag_m: taped((4.0 * load_n / chart_pa / std::f64::consts::PI).sqrt() * 1.3),
        shortest_m: taped(length_m * 0.5),
        longest_m: taped(length_m * 1.6),
        most_pa: of_inch(Dimension::Pressure, 150.0),
        chart_pa,
        chart: vec![
            line(taped(length_m * 0.5), 1.25, 0.55),
            line(taped(length_m * 0.75), 1.1, 0.8),
            // As it stands, so that the chart tells this height without going between two lines.
            line(to_file_resolution(length_m), 1.0, 1.05),
            line(taped(length_m * 1.3), 0.85, 1.3),
            line(taped(length_m * 1.6), 0.6, 1.5),
        ],
    }
}

/// Half an inch around the tyres as they stand.
fn body(setup: &Setup) -> Body {
    let wheels = &setup.wheels;
    let over_tyres_m = setup.track_m() + wheels.tyre_width_m;
    let axle_z = setup.axle_z_m(setup.travel.ride_m);
    Body {
        lip_to_lip_m: taped(over_tyres_m + 0.03),
        lips_left_m: 0.0,
        lip_z_m: taped(axle_z + wheels.tyre_m / 2.0 - 0.03),
        opening_m: taped(wheels.tyre_m + 0.12),
        opening_x_m: 0.0,
        tub_to_tub_m: None,
        bed_floor_z_m: None,
        lip_gap_m: 0.0127,
        inner_gap_m: 0.0254,
    }
}
