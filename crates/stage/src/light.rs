//! Light, ground and backdrop, in three levels of quality.

use bevy::asset::RenderAssetUsages;
use bevy::camera::visibility::NoFrustumCulling;
use bevy::core_pipeline::tonemapping::Tonemapping;
use bevy::light::{CascadeShadowConfigBuilder, DirectionalLightShadowMap, NotShadowCaster, NotShadowReceiver};
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;
use bevy::render::render_resource::Face;

/// How much is drawn. Chosen from the graphics adapter at the start, changeable.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Quality {
    /// No shadows, jagged edges: for software rendering.
    Low,
    /// Shadows and smooth edges: for integrated graphics.
    #[default]
    Medium,
    /// Finer shadows.
    High,
}

impl Quality {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Low, Self::Medium, Self::High];

    /// What the menu calls it.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Low => "low",
            Self::Medium => "medium",
            Self::High => "high",
        }
    }

    /// The level that suits a kind of adapter, as wgpu names it.
    #[must_use]
    pub fn for_adapter(device_type: &str) -> Self {
        match device_type {
            "DiscreteGpu" => Self::High,
            "IntegratedGpu" | "VirtualGpu" => Self::Medium,
            _ => Self::Low,
        }
    }

    pub(crate) fn msaa(self) -> Msaa {
        if self == Self::Low { Msaa::Off } else { Msaa::Sample4 }
    }

    fn has_shadows(self) -> bool {
        self != Self::Low
    }

    fn shadow_map(self) -> usize {
        if self == Self::High { 4096 } else { 2048 }
    }
}

/// The light that casts the shadows.
#[derive(Component)]
pub(crate) struct KeyLight;

/// The horizon's colour, which ground and sky fade into.
const HORIZON: [f32; 3] = [0.66, 0.69, 0.72];
const ZENITH: [f32; 3] = [0.36, 0.43, 0.52];
const GROUND: [f32; 3] = [0.27, 0.275, 0.28];
const GROUND_RADIUS_M: f32 = 7.0;
const SKY_RADIUS_M: f32 = 40.0;
const EDGE_RADIUS_M: f32 = 2.4;

/// What every camera that looks at the stage carries.
pub(crate) fn camera_parts(images: &mut Assets<Image>) -> (Camera3d, Tonemapping, EnvironmentMapLight) {
    let [top, mid, bottom] = [
        Color::linear_rgb(0.95, 1.0, 1.08),
        Color::linear_rgb(0.62, 0.62, 0.62),
        Color::linear_rgb(0.16, 0.15, 0.14),
    ];
    let around = EnvironmentMapLight {
        intensity: 360.0,
        ..EnvironmentMapLight::hemispherical_gradient(images, top, mid, bottom)
    };
    (Camera3d::default(), Tonemapping::KhronosPbrNeutral, around)
}

pub(crate) fn spawn(
    mut commands: Commands,
    mut meshes: ResMut<Assets<Mesh>>,
    mut materials: ResMut<Assets<StandardMaterial>>,
) {
    let cascades = CascadeShadowConfigBuilder {
        num_cascades: 1,
        minimum_distance: 0.1,
        maximum_distance: 11.0,
        ..default()
    };
    commands.spawn((
        KeyLight,
        DirectionalLight {
            illuminance: 4_300.0,
            shadow_depth_bias: 0.02,
            shadow_normal_bias: 1.4,
            ..default()
        },
        cascades.build(),
        Transform::from_xyz(-2.6, 5.0, -1.6).looking_at(Vec3::ZERO, Vec3::Y),
    ));
    commands.spawn((
        DirectionalLight {
            illuminance: 900.0,
            ..default()
        },
        Transform::from_xyz(-1.5, 1.2, 4.0).looking_at(Vec3::ZERO, Vec3::Y),
    ));
    let painted = |unlit: bool| StandardMaterial {
        base_color: Color::WHITE,
        unlit,
        perceptual_roughness: 0.95,
        reflectance: 0.2,
        alpha_mode: if unlit { AlphaMode::Opaque } else { AlphaMode::Blend },
        cull_mode: if unlit { None } else { Some(Face::Back) },
        ..default()
    };
    // Seen level, the ground is a line; from above the disc hides it, from below both can be looked through.
    let line = StandardMaterial {
        base_color: Color::srgb_u8(74, 80, 88),
        unlit: true,
        ..default()
    };
    commands.spawn((
        Mesh3d(meshes.add(ground_edge())),
        MeshMaterial3d(materials.add(line)),
        NotShadowCaster,
    ));
    commands.spawn((
        Mesh3d(meshes.add(ground())),
        MeshMaterial3d(materials.add(painted(false))),
        NotShadowCaster,
    ));
    commands.spawn((
        Mesh3d(meshes.add(sky())),
        MeshMaterial3d(materials.add(painted(true))),
        NotShadowCaster,
        NotShadowReceiver,
        NoFrustumCulling,
    ));
}

/// Follows a change of quality.
pub(crate) fn follow_quality(
    quality: Res<Quality>,
    mut key: Query<&mut DirectionalLight, With<KeyLight>>,
    mut cameras: Query<&mut Msaa, With<crate::StageCamera>>,
    mut commands: Commands,
) {
    if !quality.is_changed() {
        return;
    }
    for mut msaa in &mut cameras {
        *msaa = quality.msaa();
    }
    shadows(*quality, &mut key, &mut commands);
}

/// Shadows and shadow maps as a quality has them.
pub(crate) fn shadows(
    quality: Quality,
    key: &mut Query<&mut DirectionalLight, With<KeyLight>>,
    commands: &mut Commands,
) {
    for mut light in key {
        light.shadow_maps_enabled = quality.has_shadows();
    }
    commands.insert_resource(DirectionalLightShadowMap {
        size: quality.shadow_map(),
    });
}

/// A disc that fades out into the backdrop.
fn ground() -> Mesh {
    let rings = [(0.0, 1.0), (0.45, 1.0), (0.75, 0.55), (1.0, 0.0)];
    rings_mesh(&rings.map(|(part, alpha)| {
        let [r, g, b] = GROUND;
        (Vec2::new(part * GROUND_RADIUS_M, 0.0), [r, g, b, alpha])
    }))
}

/// The ground's edge: a low band that faces outwards.
fn ground_edge() -> Mesh {
    let dark = [1.0; 4];
    rings_mesh(&[
        (Vec2::new(EDGE_RADIUS_M, -0.012), dark),
        (Vec2::new(EDGE_RADIUS_M, -0.001), dark),
    ])
}

/// A sphere that is light at the horizon, deeper above, and of the horizon's colour below.
fn sky() -> Mesh {
    let rings: Vec<_> = (0..=16u8)
        .map(|i| {
            let dip = (f32::from(i) / 16.0 - 0.5) * std::f32::consts::PI;
            let part = dip.sin().max(0.0).powf(0.6);
            let mix = |a: f32, b: f32| a + (b - a) * part;
            let colour = [0, 1, 2].map(|c| mix(HORIZON[c], ZENITH[c]));
            (
                Vec2::new(dip.cos(), dip.sin()) * SKY_RADIUS_M,
                [colour[0], colour[1], colour[2], 1.0],
            )
        })
        .collect();
    rings_mesh(&rings)
}

/// Rings of (radius, height) about bevy's Y axis, coloured, joined in order.
fn rings_mesh(rings: &[(Vec2, [f32; 4])]) -> Mesh {
    const AROUND: u16 = 48;
    let mut positions = Vec::new();
    let mut colours = Vec::new();
    for (ring, colour) in rings {
        for i in 0..AROUND {
            let (sin, cos) = (f32::from(i) / f32::from(AROUND) * std::f32::consts::TAU).sin_cos();
            positions.push([ring.x * cos, ring.y, ring.x * sin]);
            colours.push(*colour);
        }
    }
    let around = u32::from(AROUND);
    let count = u32::try_from(rings.len()).unwrap_or(0);
    let quads = (1..count).flat_map(|k| (0..around).map(move |i| ((k - 1) * around, k * around, i, (i + 1) % around)));
    let indices = quads
        .flat_map(|(a, b, i, j)| [a + i, a + j, b + i, b + i, a + j, b + j])
        .collect();
    let normals = vec![[0.0, 1.0, 0.0]; positions.len()];
    Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, normals)
        .with_inserted_attribute(Mesh::ATTRIBUTE_COLOR, colours)
        .with_inserted_indices(Indices::U32(indices))
}
