//! The frame rails.
//!
//! Frame: X = 0 over the axle, Y = 0 the centre plane, and Z = 0 the underside of the rails where they run straight.

use super::rail_beam::{beam, hole_stations};
use super::rail_fittings::{crossmember_of, fittings, notch_plate};
use super::{Solid, held};
use rearend::rail_line;

/// The section of a rail.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RailSection {
    /// A channel that opens towards the centre plane.
    Channel,
    /// A closed box.
    Box,
}

/// What a crossmember is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Crossmember {
    /// A round tube.
    Tube,
    /// A pressed hat section, open below.
    Hat,
    /// Its ends alone, where what is between them is not straight.
    Ends,
}

/// The rise of the rails over the axle. Stations in metres along X; they may run either way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kick {
    /// Where the rail begins to climb.
    pub start_x: f32,
    /// Where it has climbed to its full height.
    pub full_x: f32,
    /// Where it begins to come down again.
    pub level_end_x: f32,
    /// Where it is down.
    pub end_x: f32,
    /// How far it climbs, metres.
    pub rise: f32,
}

/// The arched cut in the underside of the rails over the axle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Notch {
    /// How far the cut reaches into the rail at X = 0, metres.
    pub depth: f32,
    /// Half the length of the cut, metres.
    pub half_length: f32,
}

/// The dimensions of a pair of rails, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rails {
    /// Distance from outside to outside.
    pub spacing: f32,
    /// Height of the section.
    pub height: f32,
    /// Width of the flanges, web included.
    pub flange_width: f32,
    /// Thickness of the metal.
    pub wall: f32,
    /// The section.
    pub section: RailSection,
    /// Front end.
    pub front_x: f32,
    /// Rear end.
    pub rear_x: f32,
    /// The rise over the axle, if there is one.
    pub kick: Option<Kick>,
    /// The cut over the axle, if there is one.
    pub notch: Option<Notch>,
}

impl Rails {
    /// The rails with dimensions that rails can have.
    #[must_use]
    pub fn sane(&self) -> Rails {
        let height = held(self.height, 0.03, 1.0);
        let flange_width = held(self.flange_width, 0.015, 0.5);
        let rear_x = held(self.rear_x, -20.0, 20.0);
        Rails {
            spacing: held(self.spacing, flange_width * 2.2, 5.0),
            height,
            flange_width,
            wall: held(self.wall, 0.001, flange_width.min(height) * 0.2),
            section: self.section,
            front_x: held(self.front_x, rear_x + 0.05, rear_x + 30.0),
            rear_x,
            kick: self.kick.map(|kick| Kick {
                rise: held(kick.rise, -1.0, 2.0),
                ..kick
            }),
            notch: self.notch.map(|notch| Notch {
                depth: held(notch.depth, 0.0, height * 0.75),
                half_length: held(notch.half_length, 0.02, 2.0),
            }),
        }
    }
}

/// How far the kick has lifted the rail at `x`, metres.
#[must_use]
pub fn lift_z(rails: &Rails, x: f32) -> f32 {
    rails.kick.map_or(0.0, |kick| {
        let stations = [kick.start_x, kick.full_x, kick.level_end_x, kick.end_x];
        kick.rise * rail_line::rise_share(stations, x)
    })
}

/// How far the notch cuts into the underside at `x`, metres.
pub(super) fn notch_z(rails: &Rails, x: f32) -> f32 {
    rails
        .notch
        .map_or(0.0, |notch| notch.depth * rail_line::cut_share(notch.half_length, x))
}

/// The underside of the rails at `x`, metres: at X = 0 within a level kick it is the rise plus the notch's depth.
#[must_use]
pub fn underside_z(rails: &Rails, x: f32) -> f32 {
    let rails = rails.sane();
    lift_z(&rails, x) + notch_z(&rails, x)
}

/// The top of the rails at `x`, metres.
#[must_use]
pub fn top_z(rails: &Rails, x: f32) -> f32 {
    let rails = rails.sane();
    lift_z(&rails, x) + rails.height
}

/// One rail with its holes, rivets and notch plate: the left one where `side` is positive, else the right one.
#[must_use]
pub fn rail(rails: &Rails, side: f32) -> Solid {
    let rails = rails.sane();
    let holes = hole_stations(&rails);
    let mut left = beam(&rails, &holes);
    left.merge(&fittings(&rails));
    if rails.notch.is_some_and(|notch| notch.depth > 0.004) {
        left.merge(&notch_plate(&rails));
    }
    if side < 0.0 { left.mirrored_y() } else { left }
}

/// A crossmember between the rails at station `x`, as high as the rails are there, with flanges at its ends.
#[must_use]
pub fn crossmember(rails: &Rails, x: f32, kind: Crossmember) -> Solid {
    crossmember_of(&rails.sane(), held(x, -50.0, 50.0), kind)
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;
    use bevy::math::Vec3;

    pub(crate) const RAILS: Rails = Rails {
        spacing: 0.86,
        height: 0.15,
        flange_width: 0.065,
        wall: 0.006,
        section: RailSection::Channel,
        front_x: 1.6,
        rear_x: -1.0,
        kick: Some(Kick {
            start_x: 0.75,
            full_x: 0.35,
            level_end_x: -0.35,
            end_x: -0.75,
            rise: 0.12,
        }),
        notch: Some(Notch {
            depth: 0.06,
            half_length: 0.14,
        }),
    };

    #[test]
    fn the_underside_rises_by_kick_and_notch() {
        assert!((underside_z(&RAILS, 0.0) - 0.18).abs() < 1e-6);
        assert!((underside_z(&RAILS, 0.2) - 0.12).abs() < 1e-6);
        assert!(underside_z(&RAILS, 1.0).abs() < 1e-6 && underside_z(&RAILS, -0.9).abs() < 1e-6);
        assert!((top_z(&RAILS, 0.0) - 0.27).abs() < 1e-6);
    }

    #[test]
    fn rails_are_closed_and_have_their_size() {
        for section in [RailSection::Channel, RailSection::Box] {
            for notch in [None, RAILS.notch] {
                let rails = Rails {
                    section,
                    notch,
                    ..RAILS
                };
                let metal = beam(&rails, &hole_stations(&rails));
                check::closed(&metal);
                check::boxed(&metal, Vec3::new(-1.0, 0.365, 0.0), Vec3::new(1.6, 0.43, 0.27), 1e-4);
                check::closed(&rail(&rails, -1.0));
                assert!(rail(&rails, -1.0).bounds().1.y < 0.0);
            }
        }
    }

    #[test]
    fn silly_rails_do_no_harm() {
        for size in [0.0, -1.0, 1e9] {
            let kick = Some(Kick {
                start_x: size,
                full_x: size,
                level_end_x: size,
                end_x: size,
                rise: size,
            });
            let notch = Some(Notch {
                depth: size,
                half_length: size,
            });
            let rails = Rails {
                spacing: size,
                height: size,
                flange_width: size,
                wall: size,
                section: RailSection::Channel,
                front_x: size,
                rear_x: size,
                kick,
                notch,
            };
            check::sound(&rail(&rails, 1.0));
            check::sound(&crossmember(&rails, size, Crossmember::Hat));
        }
    }
}
