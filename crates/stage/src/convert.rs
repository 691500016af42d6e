//! The one place where the program's f64 becomes the screen's f32, and where a setup becomes dimensions of shapes.

use bevy::math::{Affine3A, Mat3, Quat, Vec2, Vec3};
use bevy::prelude::Transform;
use linkage::Configuration;
use nalgebra::{Isometry3, Point2, Point3, Vector3};
use rearend::setup::{self, Section, Setup};

use crate::shape;
use crate::view::View;

/// Bevy's world (Y up) from the truck's (Z up).
pub fn up() -> Quat {
    Quat::from_rotation_x(-std::f32::consts::FRAC_PI_2)
}

#[expect(clippy::cast_possible_truncation, reason = "the screen is single precision")]
pub fn scalar(v: f64) -> f32 {
    v as f32
}

pub fn point(p: Point3<f64>) -> Vec3 {
    Vec3::new(scalar(p.x), scalar(p.y), scalar(p.z))
}

/// A point of a flat plate.
pub fn flat(p: Point2<f64>) -> Vec2 {
    Vec2::new(scalar(p.x), scalar(p.y))
}

pub fn vector(v: Vector3<f64>) -> Vec3 {
    Vec3::new(scalar(v.x), scalar(v.y), scalar(v.z))
}

/// The frame in bevy's world.
pub fn world_from_frame(frame: &Isometry3<f64>) -> Transform {
    let [x, y, z, w] = [frame.rotation.i, frame.rotation.j, frame.rotation.k, frame.rotation.w].map(scalar);
    Transform {
        translation: up() * vector(frame.translation.vector),
        rotation: up() * Quat::from_xyzw(x, y, z, w),
        scale: Vec3::ONE,
    }
}

/// The axle in the frame.
pub fn frame_from_axle(at: &Configuration) -> Transform {
    let r = at.ground_from_platform();
    let column = |i: usize| Vec3::new(scalar(r[(0, i)]), scalar(r[(1, i)]), scalar(r[(2, i)]));
    let rotation = Quat::from_mat3(&Mat3::from_cols(column(0), column(1), column(2)));
    Transform {
        translation: point(at.origin_in_ground),
        rotation,
        scale: Vec3::ONE,
    }
}

/// A thing drawn along X from the origin with its bolt along Y, put at `from` pointing to `to`.
pub fn along(from: Vec3, to: Vec3, bolt: Vec3) -> Affine3A {
    let x = (to - from).normalize_or(Vec3::X);
    let y = bolt.reject_from_normalized(x).normalize_or(x.any_orthonormal_vector());
    Affine3A::from_mat3_translation(Mat3::from_cols(x, y, x.cross(y)), from)
}

/// A thing drawn along X from the origin with the caps of its joint along Z, put at `from` pointing along `x`.
pub fn jointed(from: Vec3, x: Vec3, caps: Vec3) -> Affine3A {
    Affine3A::from_mat3_translation(Mat3::from_cols(x, caps.cross(x), caps), from)
}

/// Bevy's camera for a view. Without perspective the eye stands back far enough to have everything before it.
pub fn camera(view: &View) -> Transform {
    let back = if view.parallel {
        view.distance_m.max(PARALLEL_STAND_M)
    } else {
        view.distance_m
    };
    let eye = up() * point(view.focus - view.sight() * back);
    Transform::from_translation(eye).looking_to(up() * vector(view.sight()), up() * vector(view.up()))
}

/// How far the eye stands back without perspective, m.
pub const PARALLEL_STAND_M: f64 = 6.0;

pub fn rails(setup: &Setup) -> shape::Rails {
    let r = &setup.rails;
    // The transmission stands on the rails, however little of them there is to show.
    let reach_m = setup.driveline.as_ref().map_or(f64::MIN, |d| d.output.x + 0.3);
    shape::Rails {
        spacing: scalar(r.spacing_m),
        height: scalar(r.height_m),
        flange_width: scalar(r.flange_m),
        wall: scalar(r.wall_m),
        section: match r.section {
            Section::Channel => shape::RailSection::Channel,
            Section::Box => shape::RailSection::Box,
        },
        front_x: scalar(r.front_x_m.max(reach_m)),
        rear_x: scalar(r.rear_x_m),
        kick: r.kick_up.map(|k| shape::Kick {
            start_x: scalar(k.start_x_m),
            full_x: scalar(k.full_x_m),
            level_end_x: scalar(k.level_end_x_m),
            end_x: scalar(k.end_x_m),
            rise: scalar(k.rise_m),
        }),
        notch: r.notch.map(|n| shape::Notch {
            depth: scalar(n.depth_m),
            half_length: scalar(n.half_length_m),
        }),
    }
}

pub fn housing(setup: &Setup) -> shape::HousingShape {
    let a = &setup.axle;
    shape::HousingShape {
        flange_to_flange: scalar(a.flange_to_flange_m),
        tube_radius: scalar(a.tube_m / 2.0),
        pinion_offset: scalar(a.pinion_offset_m),
        pinion_angle: scalar(a.pinion_angle_rad),
        pinion_length: scalar(a.pinion_length_m),
        pinion_drop: scalar(a.pinion_drop_m),
    }
}

pub fn tyre(setup: &Setup) -> shape::TyreShape {
    let w = &setup.wheels;
    // What sags below the loaded radius is drawn away: the tyre stands on the ground rather than in it.
    let radius = w
        .loaded_radius_m
        .midpoint(w.tyre_m / 2.0)
        .min(w.loaded_radius_m + 0.004);
    shape::TyreShape {
        outer_radius: scalar(radius),
        width: scalar(w.tyre_width_m),
        rim_radius: scalar(w.rim_m / 2.0),
    }
}

/// The rim, and how far the tyre's middle lies inboard (-) of the face on the axle that it is bolted to.
pub fn rim(setup: &Setup) -> (shape::RimShape, f32) {
    let w = &setup.wheels;
    let tyre = tyre(setup);
    let width = tyre.rim_width();
    let outset = scalar(w.outset_m());
    let offset = (scalar(w.spacer_m) - outset).clamp(-width * 0.45, width * 0.45);
    let style = match w.style {
        setup::RimStyle::Steel => shape::RimStyle::Windows,
        setup::RimStyle::Spoked => shape::RimStyle::Spokes,
    };
    (
        shape::RimShape {
            radius: scalar(w.rim_m / 2.0),
            width,
            style,
            offset,
            lugs: 6,
        },
        outset,
    )
}

pub fn size(x: f32, y: f32) -> Vec2 {
    Vec2::new(x, y)
}

/// `part` of `whole` as a share.
#[expect(clippy::cast_precision_loss, reason = "counts of parts are small")]
pub fn share(part: usize, whole: usize) -> f32 {
    part as f32 / whole.max(1) as f32
}
