//! Keeps bevy's world in step with what is shown.

use bevy::prelude::*;
use linkage::Configuration;
use nalgebra::Isometry3;
use rearend::clearance::Solid;
use rearend::mechanism::RearEnd;
use rearend::setup::Setup;
use rearend::travel::Row;
use shop::Bench;

use crate::around::{AroundDimensions, AroundPiece, BodyPart, Builder};
use crate::convert;
use crate::fittings::{Fittings, mesh};
use crate::light::{self, Quality};
use crate::links::{Links, Piece};
use crate::paint::{Paint, Paints};
use crate::picture;
use crate::shape;
use crate::truck::{self, AxleBody, Dimensions, FrameBody, GHOSTS, Ghost, Known, WheelPart};
use crate::view::{View, wheel_drop_m, world_from_frame};

/// The camera of the window's stage.
#[derive(Component)]
pub struct StageCamera;

/// What stands on the stage. Put a new one in whenever anything of it changes.
#[derive(Resource, Clone, Debug)]
pub struct Shown {
    /// The truck.
    pub setup: Setup,
    /// Its compiled links.
    pub rear_end: RearEnd,
    /// Where it stands.
    pub row: Row,
    /// Other poses to show faintly: laid out and full lift.
    pub ghosts: [Option<Configuration>; GHOSTS],
    /// What to light up.
    pub lit: Vec<Solid>,
    /// Whether the wheels are shown.
    pub wheels: bool,
    /// Whether they can be looked through.
    pub faint_wheels: bool,
    /// Whether the lines of the body are shown.
    pub body: bool,
}

impl Shown {
    /// What a bench shows; `None` where nothing is solved.
    #[must_use]
    pub fn of(bench: &Bench) -> Option<Self> {
        let solved = bench.document().answers().solved.as_ref().ok()?;
        let row = bench.shown()?;
        let ends = [solved.level.rows.first(), solved.level.rows.last()];
        Some(Self {
            setup: bench.setup().clone(),
            rear_end: solved.rear_end.clone(),
            row,
            ghosts: ends.map(|row| row.map(|r| r.at)),
            lit: Vec::new(),
            wheels: true,
            faint_wheels: false,
            body: true,
        })
    }

    /// True where the other would look the same.
    #[must_use]
    pub fn looks_like(&self, other: &Self) -> bool {
        let switches = |shown: &Self| (shown.wheels, shown.faint_wheels, shown.body);
        self.setup == other.setup
            && (self.row.height_m, self.row.roll_rad) == (other.row.height_m, other.row.roll_rad)
            && self.row.at == other.row.at
            && self.ghosts == other.ghosts
            && self.lit == other.lit
            && switches(self) == switches(other)
    }

    /// How the frame stands over the ground.
    #[must_use]
    pub fn world_from_frame(&self) -> Isometry3<f64> {
        world_from_frame(&self.setup, &self.row)
    }
}

/// The systems that follow what is [`Shown`].
#[derive(SystemSet, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct StageSystems;

/// Draws the stage. Needs bevy's renderer; no window.
pub struct StagePlugin;

impl Plugin for StagePlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Fittings>()
            .init_resource::<Paints>()
            .init_resource::<Quality>()
            .insert_resource(GlobalAmbientLight::NONE)
            .add_systems(Startup, (light::spawn, spawn_block))
            .add_systems(
                Update,
                (
                    build_truck,
                    build_around,
                    pose_truck,
                    (hide_parts, light_up),
                    draw_links,
                    light::follow_quality,
                )
                    .chain()
                    .in_set(StageSystems),
            )
            .add_plugins(picture::plugin);
    }
}

/// Spawns the window's stage camera.
pub fn spawn_camera(mut commands: Commands, mut images: ResMut<Assets<Image>>, quality: Res<Quality>) {
    commands.spawn((
        StageCamera,
        light::camera_parts(&mut images),
        quality.msaa(),
        Transform::default(),
    ));
}

/// Puts a camera where a view has its eye.
pub fn aim(view: &View, transform: &mut Transform, projection: &mut Projection) {
    *transform = convert::camera(view);
    *projection = if view.parallel {
        Projection::Orthographic(OrthographicProjection {
            scaling_mode: bevy::camera::ScalingMode::FixedVertical {
                viewport_height: convert::scalar(2.0 * view.half_height_m()),
            },
            near: 0.0,
            far: 60.0,
            ..OrthographicProjection::default_3d()
        })
    } else {
        let fov = convert::scalar(crate::view::OPENING_RAD);
        Projection::Perspective(PerspectiveProjection {
            fov,
            near: 0.05,
            far: 100.0,
            ..default()
        })
    };
}

/// A piece of a bar; all are made anew when anything of them changes.
#[derive(Component)]
struct LinkPiece;

/// The block under a raised wheel.
#[derive(Component)]
struct Block;

fn spawn_block(mut commands: Commands, mut meshes: ResMut<Assets<Mesh>>, paints: Res<Paints>) {
    let block = mesh(&shape::cuboid(Vec3::ONE, 0.0));
    commands.spawn((
        Block,
        Mesh3d(meshes.add(block)),
        paints.get(Paint::Block),
        Visibility::Hidden,
    ));
}

fn build_truck(
    shown: Option<Res<Shown>>,
    mut built_for: Local<Option<Dimensions>>,
    old: Query<Entity, With<FrameBody>>,
    mut commands: Commands,
    mut meshes: ResMut<Assets<Mesh>>,
    paints: Res<Paints>,
) {
    let Some(shown) = shown.filter(DetectChanges::is_changed) else {
        return;
    };
    let wanted = Dimensions::of(&shown.setup);
    if built_for.as_ref() == Some(&wanted) {
        return;
    }
    for frame in &old {
        commands.entity(frame).despawn();
    }
    truck::spawn(&mut commands, &shown.setup, &mut meshes, &paints);
    *built_for = Some(wanted);
}

fn build_around(
    shown: Option<Res<Shown>>,
    mut built_for: Local<Option<AroundDimensions>>,
    frame: Single<Entity, With<FrameBody>>,
    old: Query<Entity, With<AroundPiece>>,
    mut commands: Commands,
    mut assets: LinkAssets,
) {
    let Some(shown) = shown.filter(DetectChanges::is_changed) else {
        return;
    };
    let wanted = AroundDimensions::of(&shown.setup, *frame);
    if built_for.as_ref() == Some(&wanted) {
        return;
    }
    for piece in &old {
        commands.entity(piece).despawn();
    }
    let mut builder = Builder {
        setup: &shown.setup,
        frame: *frame,
        commands: &mut commands,
        fittings: &mut assets.fittings,
        meshes: &mut assets.meshes,
        paints: &assets.paints,
    };
    builder.build();
    *built_for = Some(wanted);
}

type Frame<'w, 's> = Single<'w, 's, &'static mut Transform, (With<FrameBody>, Without<AxleBody>)>;
type Axle<'w, 's> = Single<'w, 's, &'static mut Transform, (With<AxleBody>, Without<FrameBody>)>;
type Ghosts<'w, 's> = Query<
    'w,
    's,
    (&'static Ghost, &'static mut Transform, &'static mut Visibility),
    (Without<FrameBody>, Without<AxleBody>, Without<Block>),
>;
type Blocks<'w, 's> = Query<
    'w,
    's,
    (&'static mut Transform, &'static mut Visibility),
    (With<Block>, Without<FrameBody>, Without<AxleBody>, Without<Ghost>),
>;

fn pose_truck(shown: Option<Res<Shown>>, mut frame: Frame, mut axle: Axle, mut ghosts: Ghosts, mut block: Blocks) {
    let Some(shown) = shown.filter(DetectChanges::is_changed) else {
        return;
    };
    **frame = convert::world_from_frame(&shown.world_from_frame());
    **axle = convert::frame_from_axle(&shown.row.at);
    for (ghost, mut transform, mut visibility) in &mut ghosts {
        let pose = shown.ghosts.get(ghost.0).copied().flatten();
        *visibility = if pose.is_some() {
            Visibility::Inherited
        } else {
            Visibility::Hidden
        };
        if let Some(pose) = pose {
            *transform = convert::frame_from_axle(&pose);
        }
    }
    for (mut transform, mut visibility) in &mut block {
        *visibility = if shown.row.roll_rad == 0.0 || !shown.wheels {
            Visibility::Hidden
        } else {
            Visibility::Inherited
        };
        *transform = block_under_raised_wheel(&shown);
    }
}

fn block_under_raised_wheel(shown: &Shown) -> Transform {
    let setup = &shown.setup;
    let high = convert::scalar(2.0 * wheel_drop_m(setup, &shown.row)).max(1e-4);
    let side = convert::scalar(shown.row.roll_rad.signum() * (setup.axle.flange_to_flange_m / 2.0));
    let wide = convert::scalar(setup.wheels.tyre_width_m) * 1.1;
    let turn = convert::up();
    Transform {
        translation: turn * Vec3::new(0.0, side, high / 2.0),
        rotation: turn,
        scale: Vec3::new(0.36, wide, high),
    }
}

type Hideable<'w, 's> = Query<'w, 's, (&'static mut Visibility, Has<WheelPart>), Or<(With<WheelPart>, With<BodyPart>)>>;

fn hide_parts(shown: Option<Res<Shown>>, mut parts: Hideable) {
    let Some(shown) = shown.filter(DetectChanges::is_changed) else {
        return;
    };
    for (mut visibility, is_wheel) in &mut parts {
        let is_shown = if is_wheel { shown.wheels } else { shown.body };
        visibility.set_if_neq(if is_shown {
            Visibility::Inherited
        } else {
            Visibility::Hidden
        });
    }
}

/// Bars, shaft and springs are drawn anew anyway; what stays is painted over.
fn light_up(
    shown: Option<Res<Shown>>,
    new: Query<(), Added<Known>>,
    mut told: Local<(Vec<Solid>, bool)>,
    mut parts: Query<(&Known, &mut MeshMaterial3d<StandardMaterial>, Has<WheelPart>)>,
    paints: Res<Paints>,
) {
    let Some(shown) = shown.filter(DetectChanges::is_changed) else {
        return;
    };
    if told.0 == shown.lit && told.1 == shown.faint_wheels && new.is_empty() {
        return;
    }
    *told = (shown.lit.clone(), shown.faint_wheels);
    for (known, mut material, is_wheel) in &mut parts {
        *material = paints.get(if shown.lit.contains(&known.solid) {
            known.paint.lit()
        } else if is_wheel && shown.faint_wheels {
            Paint::Faint
        } else {
            known.paint
        });
    }
}

#[derive(bevy::ecs::system::SystemParam)]
struct LinkAssets<'w> {
    fittings: ResMut<'w, Fittings>,
    meshes: ResMut<'w, Assets<Mesh>>,
    paints: Res<'w, Paints>,
}

fn draw_links(
    shown: Option<Res<Shown>>,
    frame: Single<Entity, With<FrameBody>>,
    axle: Single<Entity, With<AxleBody>>,
    old: Query<Entity, With<LinkPiece>>,
    mut commands: Commands,
    mut assets: LinkAssets,
) {
    let Some(shown) = shown.filter(DetectChanges::is_changed) else {
        return;
    };
    let LinkAssets {
        fittings,
        meshes,
        paints,
    } = &mut assets;
    let mut links = Links {
        setup: &shown.setup,
        at: shown.row.at,
        lit: &shown.lit,
        fittings,
        meshes,
    };
    for piece in &old {
        commands.entity(piece).despawn();
    }
    for Piece {
        mesh,
        paint,
        at,
        on_axle,
    } in links.pieces(&shown.rear_end)
    {
        let parent = if on_axle { *axle } else { *frame };
        commands.spawn((LinkPiece, Mesh3d(mesh), paints.get(paint), at, ChildOf(parent)));
    }
}
