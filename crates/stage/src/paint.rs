//! What things are painted with. Bars carry the Okabe-Ito colour of their role.

use bevy::prelude::*;
use rearend::setup::Role;

/// Colours of the roles, sRGB: told apart with any colour vision. The strips and the caption use the same.
#[must_use]
pub fn role_colour(role: Role) -> [u8; 3] {
    match role {
        Role::Upper => [0, 114, 178],
        Role::Lower => [230, 159, 0],
        Role::Sideways => [0, 158, 115],
    }
}

/// A kind of surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Paint {
    Rail,
    Crossmember,
    Housing,
    Cover,
    Bracket,
    Sketch,
    Steel,
    Bright,
    Rubber,
    Tyre,
    Rim,
    RimBright,
    Drum,
    Calliper,
    Block,
    Upper,
    Lower,
    Sideways,
    Ghost,
    Lit,
    LitLine,
    LitFaint,
    Faint,
    Shaft,
    Spring,
    Damper,
    BodyLine,
    Tub,
    KeepClear,
    KeepClearLine,
}

impl Paint {
    pub(crate) const ALL: [Self; 30] = [
        Self::Rail,
        Self::Crossmember,
        Self::Housing,
        Self::Cover,
        Self::Bracket,
        Self::Sketch,
        Self::Steel,
        Self::Bright,
        Self::Rubber,
        Self::Tyre,
        Self::Rim,
        Self::RimBright,
        Self::Drum,
        Self::Calliper,
        Self::Block,
        Self::Upper,
        Self::Lower,
        Self::Sideways,
        Self::Ghost,
        Self::Lit,
        Self::LitLine,
        Self::LitFaint,
        Self::Faint,
        Self::Shaft,
        Self::Spring,
        Self::Damper,
        Self::BodyLine,
        Self::Tub,
        Self::KeepClear,
        Self::KeepClearLine,
    ];

    pub(crate) fn of_role(role: Role) -> Self {
        match role {
            Role::Upper => Self::Upper,
            Role::Lower => Self::Lower,
            Role::Sideways => Self::Sideways,
        }
    }

    /// What it lights up in: brackets stay what they are, and lines are lines.
    pub(crate) fn lit(self) -> Self {
        match self {
            // A lit wheel is its tyre.
            Self::Bracket | Self::Sketch | Self::Ghost | Self::Rim | Self::RimBright => self,
            Self::BodyLine | Self::KeepClearLine => Self::LitLine,
            Self::Tub | Self::KeepClear => Self::LitFaint,
            _ => Self::Lit,
        }
    }

    fn material(self) -> StandardMaterial {
        let role = |role: Role| {
            let [r, g, b] = role_colour(role);
            matte(r, g, b, 0.42)
        };
        match self {
            Self::Rail => StandardMaterial {
                metallic: 0.1,
                ..matte(104, 110, 118, 0.5)
            },
            Self::Crossmember => StandardMaterial {
                metallic: 0.1,
                ..matte(92, 98, 106, 0.5)
            },
            Self::Housing => StandardMaterial {
                metallic: 0.25,
                ..matte(78, 80, 84, 0.55)
            },
            Self::Cover => matte(150, 52, 38, 0.4),
            Self::Bracket => StandardMaterial {
                metallic: 0.3,
                ..matte(120, 124, 130, 0.45)
            },
            // A bracket that no plates can be cut for.
            Self::Sketch => faint(213, 94, 0, 150),
            Self::Steel => StandardMaterial {
                metallic: 0.7,
                ..matte(150, 152, 158, 0.38)
            },
            Self::Bright => StandardMaterial {
                metallic: 0.9,
                ..matte(205, 205, 200, 0.25)
            },
            Self::Rubber => matte(26, 26, 28, 0.85),
            Self::Tyre => matte(38, 38, 40, 0.82),
            Self::Rim => StandardMaterial {
                metallic: 0.4,
                ..matte(128, 132, 138, 0.35)
            },
            Self::RimBright => StandardMaterial {
                metallic: 0.8,
                ..matte(196, 198, 202, 0.28)
            },
            Self::Drum => StandardMaterial {
                metallic: 0.4,
                ..matte(96, 92, 88, 0.6)
            },
            Self::Calliper => matte(172, 48, 40, 0.4),
            Self::Block => matte(150, 118, 82, 0.8),
            Self::Upper => role(Role::Upper),
            Self::Lower => role(Role::Lower),
            Self::Sideways => role(Role::Sideways),
            Self::Ghost => StandardMaterial {
                base_color: Color::srgba_u8(86, 150, 214, 46),
                alpha_mode: AlphaMode::Blend,
                perceptual_roughness: 0.9,
                ..default()
            },
            Self::Lit => StandardMaterial {
                emissive: LinearRgba::new(0.55, 0.45, 0.02, 1.0),
                ..matte(240, 228, 66, 0.4)
            },
            Self::LitLine => line(214, 160, 0),
            Self::LitFaint => faint(240, 228, 66, 150),
            // A wheel that stands before what is dragged.
            Self::Faint => faint(90, 96, 104, 60),
            Self::Shaft => StandardMaterial {
                metallic: 0.35,
                ..matte(134, 138, 142, 0.4)
            },
            // The palette's reddish purple, which no role of a bar has.
            Self::Spring => matte(204, 121, 167, 0.4),
            Self::Damper => StandardMaterial {
                metallic: 0.5,
                ..matte(70, 74, 80, 0.35)
            },
            Self::BodyLine => line(84, 98, 120),
            Self::Tub => faint(120, 138, 166, 26),
            Self::KeepClear => faint(150, 132, 112, 120),
            Self::KeepClearLine => line(104, 84, 62),
        }
    }
}

/// A line that light does not change.
fn line(r: u8, g: u8, b: u8) -> StandardMaterial {
    StandardMaterial {
        unlit: true,
        ..matte(r, g, b, 1.0)
    }
}

/// A surface that is looked through, from either side.
fn faint(r: u8, g: u8, b: u8, alpha: u8) -> StandardMaterial {
    StandardMaterial {
        base_color: Color::srgba_u8(r, g, b, alpha),
        alpha_mode: AlphaMode::Blend,
        perceptual_roughness: 0.9,
        ..default()
    }
}

fn matte(r: u8, g: u8, b: u8, roughness: f32) -> StandardMaterial {
    StandardMaterial {
        base_color: Color::srgb_u8(r, g, b),
        perceptual_roughness: roughness,
        ..default()
    }
}

/// The materials, made once.
#[derive(Resource)]
pub(crate) struct Paints(Vec<Handle<StandardMaterial>>);

impl Paints {
    pub(crate) fn get(&self, paint: Paint) -> MeshMaterial3d<StandardMaterial> {
        let place = Paint::ALL.iter().position(|p| *p == paint).unwrap_or(0);
        MeshMaterial3d(self.0[place].clone())
    }
}

impl FromWorld for Paints {
    fn from_world(world: &mut World) -> Self {
        let mut materials = world.resource_mut::<Assets<StandardMaterial>>();
        Self(Paint::ALL.iter().map(|p| materials.add(p.material())).collect())
    }
}
