//! What does not depend on the bars: rails, crossmembers, axle, wheels. Made again only when its dimensions change.

use bevy::prelude::*;
use rearend::clearance::{Hand, Solid as Named};
use rearend::rail_line::crossmember_m;
use rearend::setup::{Axle, Brakes, Rails, Setup, Wheels};

use crate::convert;
use crate::fittings::mesh;
use crate::paint::{Paint, Paints};
use crate::shape::{self, Crossmember, Solid};

/// The frame: parent of everything that moves with the rails.
#[derive(Component)]
pub(crate) struct FrameBody;

/// The axle: parent of everything that moves with it.
#[derive(Component)]
pub(crate) struct AxleBody;

/// A faint axle at another height, by its place in the list of ghosts.
#[derive(Component)]
pub(crate) struct Ghost(pub usize);

/// A part of the wheels, which can be hidden.
#[derive(Component)]
pub(crate) struct WheelPart;

/// Something that can be lit up, and what it is painted with otherwise.
#[derive(Component, Clone, Copy)]
pub(crate) struct Known {
    pub solid: Named,
    pub paint: Paint,
}

/// The dimensions that the truck's meshes were made for.
#[derive(Clone, PartialEq)]
pub(crate) struct Dimensions {
    rails: Rails,
    axle: Axle,
    wheels: Wheels,
    shaft: Option<f64>,
}

impl Dimensions {
    pub(crate) fn of(setup: &Setup) -> Self {
        Self {
            rails: setup.rails.clone(),
            axle: setup.axle.clone(),
            wheels: setup.wheels.clone(),
            shaft: setup.driveline.as_ref().map(|d| d.output.x),
        }
    }
}

/// A straight tube, or one that is bent up over the shaft.
fn crossmember(setup: &Setup, rails: &shape::Rails, x_m: f64) -> Solid {
    let x = convert::scalar(x_m);
    if setup.rails.hoop_at(x_m).is_none() {
        return shape::crossmember(rails, x, Crossmember::Tube);
    }
    let (along, radius_m) = crossmember_m(&setup.rails, x_m);
    let radius = convert::scalar(radius_m);
    let runs: Vec<Vec3> = along.into_iter().map(convert::point).collect();
    let hoop = shape::pipe(&shape::bent(&runs, radius * 2.5), radius, 24);
    Solid::merged(&[shape::crossmember(rails, x, Crossmember::Ends), hoop])
}

/// The number of ghosts: laid out and full lift.
pub(crate) const GHOSTS: usize = 2;

/// Spawns everything and its parents; despawning [`FrameBody`] takes it all away.
pub(crate) fn spawn(commands: &mut Commands, setup: &Setup, meshes: &mut Assets<Mesh>, paints: &Paints) {
    let mut add = |solid: &Solid, paint: Paint| (Mesh3d(meshes.add(mesh(solid))), paints.get(paint));
    let rails = convert::rails(setup);
    let known = |solid, paint| Known { solid, paint };
    let mut frame_parts: Vec<_> = [(1.0, Hand::Left), (-1.0, Hand::Right)]
        .map(|(side, hand)| {
            (
                known(Named::Rail(hand), Paint::Rail),
                add(&shape::rail(&rails, side), Paint::Rail),
            )
        })
        .into();
    for (i, &x) in setup.rails.crossmembers_x_m.iter().enumerate() {
        let part = add(&crossmember(setup, &rails, x), Paint::Crossmember);
        frame_parts.push((known(Named::Crossmember(i), Paint::Crossmember), part));
    }
    let housing = shape::housing(&convert::housing(setup));
    let whole_housing = Solid::merged(&[housing.casting.clone(), housing.tubes.clone(), housing.cover.clone()]);
    let ghost_housing = add(&whole_housing, Paint::Ghost);
    // With a shaft, the cross in the yoke stands as the shaft has it.
    let cross = setup.driveline.is_none().then(|| add(&housing.cross, Paint::Bright));
    let axle_parts = [
        (Named::CentreSection, &housing.casting, Paint::Housing),
        (Named::AxleTube, &housing.tubes, Paint::Housing),
        (Named::CentreSection, &housing.cover, Paint::Cover),
        (Named::CentreSection, &housing.bolts, Paint::Bright),
        (Named::CentreSection, &housing.yoke, Paint::Steel),
    ]
    .map(|(solid, shape, paint)| (known(solid, paint), add(shape, paint)));
    let (rim_shape, inboard) = convert::rim(setup);
    let rim = shape::rim(&rim_shape);
    let bright = setup.wheels.style == rearend::setup::RimStyle::Spoked;
    let rim_paint = if bright { Paint::RimBright } else { Paint::Rim };
    let wheel_parts = [
        (&shape::tyre(&convert::tyre(setup)), Paint::Tyre),
        (&rim.barrel, rim_paint),
        (&rim.centre, rim_paint),
        (&rim.nuts, Paint::Bright),
    ]
    .map(|(shape, paint)| (paint, add(shape, paint)));
    let brake_parts = brakes(setup, &mut add);
    let flange = convert::scalar(setup.axle.flange_to_flange_m / 2.0);

    let frame = commands
        .spawn((FrameBody, Transform::default(), Visibility::default()))
        .id();
    for part in frame_parts {
        commands.spawn((part, ChildOf(frame)));
    }
    let axle = commands
        .spawn((AxleBody, Transform::default(), Visibility::default(), ChildOf(frame)))
        .id();
    for part in axle_parts {
        commands.spawn((part, ChildOf(axle)));
    }
    if let Some(cross) = cross {
        commands.spawn((cross, ChildOf(axle)));
    }
    for ((hub, wheel), hand) in hubs(flange, inboard).into_iter().zip(Hand::BOTH) {
        for part in &brake_parts {
            commands.spawn((part.clone(), hub, ChildOf(axle)));
        }
        for (paint, part) in &wheel_parts {
            let known = known(Named::Tyre(hand), *paint);
            commands.spawn((part.clone(), known, wheel, WheelPart, ChildOf(axle)));
        }
    }
    for which in 0..GHOSTS {
        let ghost = commands
            .spawn((Ghost(which), Transform::default(), Visibility::Hidden, ChildOf(frame)))
            .id();
        commands.spawn((ghost_housing.clone(), bevy::light::NotShadowCaster, ChildOf(ghost)));
    }
}

/// Where brakes and wheels sit, left and right. The right ones are turned about X, so that callipers stay behind.
fn hubs(flange: f32, inboard: f32) -> [(Transform, Transform); 2] {
    [1.0, -1.0].map(|side: f32| {
        let turn = if side > 0.0 {
            Quat::IDENTITY
        } else {
            Quat::from_rotation_x(std::f32::consts::PI)
        };
        let at = |y: f32| Transform::from_xyz(0.0, side * y, 0.0).with_rotation(turn);
        (at(flange), at(flange + inboard))
    })
}

type Part = (Mesh3d, MeshMaterial3d<StandardMaterial>);

fn brakes(setup: &Setup, add: &mut impl FnMut(&Solid, Paint) -> Part) -> Vec<Part> {
    // Inside the rim with a finger's room.
    let radius = (convert::scalar(setup.wheels.rim_m / 2.0) - 0.028).clamp(0.09, 0.2);
    match setup.axle.brakes {
        Brakes::Drum => {
            let drum = shape::drum(radius, 0.075);
            vec![add(&drum.drum, Paint::Drum), add(&drum.backing, Paint::Housing)]
        }
        Brakes::Disc => {
            let disc = shape::disc(radius, 0.022, 0.06);
            vec![
                add(&disc.rotor, Paint::Bright),
                add(&disc.hat, Paint::Drum),
                add(&disc.calliper, Paint::Calliper),
            ]
        }
    }
}
