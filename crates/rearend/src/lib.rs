//! The rear end of a truck: what a fabricator describes, and what it does through its travel.
//!
//! Data flows one way: [`setup::Setup`] (described) to [`mechanism::RearEnd`] (compiled) to [`travel::Travel`] (solved poses) to
//! answers, one module per question; [`answers::Answers`] holds them all. SI and radians inside; millimetres and degrees in files
//! ([`file`]), whatever the user reads on the screen ([`tape`]).
//!
//! Frame coordinates: X forward from the axle centreline at ride height, Y left of the centre plane, Z up from the underside of the
//! straight part of the rails. Axle coordinates: origin where the tube axis meets the centre plane, parallel to the frame's as drawn.

pub mod answers;
pub mod bind;
pub mod brackets;
pub mod build;
pub mod clearance;
pub mod compare;
pub mod driveline;
pub mod figures;
pub mod file;
pub mod findings;
pub mod first_order;
pub mod ground;
mod hand;
pub mod insert;
pub mod layouts;
pub mod measure;
pub mod mechanism;
pub mod placed;
pub mod rail_line;
pub mod setup;
pub mod sideways;
pub mod springs;
pub mod square;
pub mod swing;
pub mod tape;
pub mod travel;
pub mod tyres;
