//! The truck's rear end in 3D: shapes from results, camera, drag geometry, pictures. Computes no answers.
//!
//! - [`view`] and [`drag`] are pure: where the eye is, where a mount appears, where a dragged pointer puts it.
//! - [`shape`] makes triangles from dimensions; [`convert`] is the one place where f64 becomes f32.
//! - [`scene`] keeps bevy's world in step with what is [`Shown`]; [`picture`] renders it offscreen with a [`caption`].

mod anchor;
mod arms;
mod around;
pub mod caption;
mod convert;
mod cut;
pub mod drag;
mod fittings;
pub mod framing;
mod light;
mod links;
mod montage;
mod paint;
mod pen;
pub mod picture;
pub mod scene;
mod shaft;
pub mod shape;
mod springs;
mod truck;
pub mod view;

pub use light::Quality;
pub use paint::role_colour;
pub use scene::{Shown, StageCamera, StagePlugin};
