//! What has to hold between the parts of a description before it is worth solving.

use thiserror::Error;

use nalgebra::Point3;

use crate::tape::Units;

use super::{Arm, Bar, BarId, Carrier, Front, Setup, Side};

/// Why a description makes no rear end. Each sentence names the part and what to do.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SetupError {
    /// Heights in the wrong order.
    #[error(
        "laid out is at {} mm, ride at {} mm and full lift at {} mm: they have to rise in this order",
        in_mm(.at_m[0]), in_mm(.at_m[1]), in_mm(.at_m[2])
    )]
    HeightsOutOfOrder {
        /// Laid out, ride and full lift, m.
        at_m: [f64; 3],
    },
    /// Both ends of a bar at one place.
    #[error(
        "the {name} has no length: its mounts on frame and axle lie on the same spot at ride height; move one of them"
    )]
    NoLength {
        /// The bar.
        name: String,
    },
    /// A mirrored bar on the centre plane.
    #[error(
        "the {name} is mirrored, but lies on the centre plane, where the two would be one: set mirrored to false or move it to one side"
    )]
    MirroredOnCentre {
        /// The bar.
        name: String,
    },
    /// A mount that is in none of the holes it is said to have.
    #[error(
        "the {name}, is in none of its bracket holes: the nearest is hole {hole} at ({}, {}, {}) mm; put it there, or take the row of holes out",
        in_mm(.at_m[0]), in_mm(.at_m[1]), in_mm(.at_m[2])
    )]
    InNoHole {
        /// The mount.
        name: String,
        /// The hole nearest to it, from 1.
        hole: usize,
        /// Centre of that hole, carrier coordinates, m.
        at_m: [f64; 3],
    },
    /// A part of the truck larger than what it has to fit in.
    #[error("{what}{}", at_keys(.keys))]
    DoesNotFit {
        /// The sentence.
        what: String,
        /// What a file calls the numbers to look at; none where the sentence names them.
        keys: &'static str,
    },
    /// So many bars that this is no axle.
    #[error("{count} bars are described; up to {most} can be solved")]
    TooManyBars {
        /// How many.
        count: usize,
        /// How many may be.
        most: usize,
    },
}

fn at_keys(keys: &str) -> String {
    if keys.is_empty() {
        String::new()
    } else {
        format!(": check {keys}")
    }
}

impl SetupError {
    /// As it is said on the screen: in the user's units, and without what a file calls things.
    #[must_use]
    pub fn told(&self, units: Units) -> String {
        match self {
            Self::HeightsOutOfOrder {
                at_m: [laid_out, ride, full_lift],
            } => format!(
                "laid out would be at {}, ride height at {} and full lift at {}: they have to rise in this order",
                units.length(*laid_out),
                units.length(*ride),
                units.length(*full_lift)
            ),
            Self::InNoHole { name, hole, at_m } => {
                let [x, y, z] = at_m.map(|m| units.length(m));
                format!(
                    "the {name}, is in none of its bracket holes: the nearest is hole {hole}, {x} forward, {y} left, {z} up; put it there, or take the row of holes out"
                )
            }
            Self::DoesNotFit { what, .. } => what.clone(),
            Self::NoLength { .. } | Self::TooManyBars { .. } => self.to_string(),
            Self::MirroredOnCentre { name } => format!(
                "the {name} is mirrored, but lies in the middle of the truck, where the two would be one: unlink it from the other side first, or keep it to one side"
            ),
        }
    }
}

fn in_mm(at_m: f64) -> f64 {
    (at_m * 1e4).round() / 10.0
}

/// More bars than anybody hangs an axle on.
const MOST_BARS: usize = 24;

/// Mounts nearer than this are on one spot.
const SAME_SPOT_M: f64 = 1e-3;

impl Setup {
    /// Checks what a single number cannot show.
    ///
    /// # Errors
    /// The first thing found that makes no sense.
    pub fn validate(&self) -> Result<(), SetupError> {
        self.check_heights()?;
        self.check_truck()?;
        self.check_balance()?;
        self.steel.check()?;
        let count = self.bars.iter().map(Bar::count).sum::<usize>() + self.arms.iter().map(Arm::count).sum::<usize>();
        if count > MOST_BARS {
            return Err(SetupError::TooManyBars { count, most: MOST_BARS });
        }
        (0..self.bars.len()).try_for_each(|i| self.check_bar(BarId(i)))?;
        self.arms.iter().try_for_each(|arm| self.check_arm(arm))?;
        self.check_watt()?;
        self.check_holes()?;
        self.check_around()
    }

    fn check_balance(&self) -> Result<(), SetupError> {
        let (Some(balance), Front::Heights(front)) = (self.balance, self.travel.front) else {
            return Ok(());
        };
        if (balance.wheelbase_m - front.wheelbase_m).abs() < SAME_SPOT_M {
            return Ok(());
        }
        let what =
            "the wheelbase is given twice and differs: make the one of balance and the one of the front heights equal";
        Err(SetupError::DoesNotFit {
            what: what.to_owned(),
            keys: "wheelbase_mm",
        })
    }

    /// A point of a body, frame coordinates, as drawn.
    fn drawn_in_frame(&self, carrier: Carrier, point: Point3<f64>) -> Point3<f64> {
        match carrier {
            Carrier::Frame => point,
            Carrier::Axle => self.drawn().to_ground(point),
        }
    }

    fn check_arm(&self, arm: &Arm) -> Result<(), SetupError> {
        let name = || arm.name.clone();
        if arm.mirrored && arm.eye_in_frame.y.abs() < SAME_SPOT_M && arm.mount_in_axle.y.abs() < SAME_SPOT_M {
            return Err(SetupError::MirroredOnCentre { name: name() });
        }
        let axle_end = self.drawn_in_frame(Carrier::Axle, arm.mount_in_axle);
        if (axle_end - arm.eye_in_frame).norm() < SAME_SPOT_M {
            return Err(SetupError::NoLength { name: name() });
        }
        Ok(())
    }

    fn check_heights(&self) -> Result<(), SetupError> {
        let t = &self.travel;
        if t.laid_out_m < t.ride_m && t.ride_m < t.full_lift_m {
            return Ok(());
        }
        Err(SetupError::HeightsOutOfOrder {
            at_m: [t.laid_out_m, t.ride_m, t.full_lift_m],
        })
    }

    fn check_truck(&self) -> Result<(), SetupError> {
        let refuse = |what: &str, keys| {
            Err(SetupError::DoesNotFit {
                what: what.to_owned(),
                keys,
            })
        };
        let (rails, wheels, axle) = (&self.rails, &self.wheels, &self.axle);
        if rails.front_x_m <= rails.rear_x_m {
            return refuse(
                "the rails' front end has to lie ahead of their rear end",
                "the rails' front_x_mm, which has to be more than their rear_x_mm",
            );
        }
        if 2.0 * rails.flange_m >= rails.spacing_m {
            return refuse("the two rails are wider than their spacing", "flange_mm and spacing_mm");
        }
        if 2.0 * rails.wall_m >= rails.height_m.min(rails.flange_m) {
            return refuse("the rails' wall is thicker than half the section", "wall_mm");
        }
        if rails
            .hoop
            .is_some_and(|h| h.half_width_m + h.rise_m / 2.0 > rails.spacing_m / 2.0 - rails.flange_m)
        {
            return refuse(
                "the crossmembers' hoop is wider than the room between the rails",
                "half_width_mm and rise_mm of hoop",
            );
        }
        if wheels.rim_m >= wheels.tyre_m {
            return refuse("the rim is larger than the tyre", "rim_mm and tyre_mm");
        }
        if wheels.loaded_radius_m > wheels.tyre_m / 2.0 {
            return refuse(
                "the loaded radius is more than half the tyre's diameter",
                "loaded_radius_mm and tyre_mm",
            );
        }
        if axle.pinion_offset_m.abs() >= axle.flange_to_flange_m / 2.0 {
            return refuse("the pinion lies outside the wheel flanges", "pinion_offset_mm");
        }
        Ok(())
    }

    fn check_bar(&self, id: BarId) -> Result<(), SetupError> {
        let Some(bar) = self.bar(id) else { return Ok(()) };
        if bar.joined && !bar.mirrored {
            let what = format!(
                "the {} is joined, but there is only one of it: mirror it on the other side",
                bar.name
            );
            return Err(SetupError::DoesNotFit { what, keys: "mirrored" });
        }
        let axle_is_central = bar.joined || bar.mount_in_axle.y.abs() < SAME_SPOT_M;
        if bar.mirrored && bar.mount_in_frame.y.abs() < SAME_SPOT_M && axle_is_central {
            return Err(SetupError::MirroredOnCentre { name: bar.name.clone() });
        }
        let axle_end = self.drawn_in_frame(Carrier::Axle, bar.mount_in_axle);
        if (axle_end - bar.mount_in_frame).norm() < SAME_SPOT_M {
            return Err(SetupError::NoLength {
                name: self.bar_name(id, Side::Drawn),
            });
        }
        Ok(())
    }

    fn check_watt(&self) -> Result<(), SetupError> {
        let Some(watt) = &self.watt else { return Ok(()) };
        let ends = [(watt.left, "left"), (watt.right, "right")];
        for (joint, (end, side)) in watt.joints().into_iter().zip(ends) {
            let from = self.drawn_in_frame(watt.crank_on, joint);
            let to = self.drawn_in_frame(watt.links_to(), end);
            if (from - to).norm() < SAME_SPOT_M {
                return Err(SetupError::NoLength {
                    name: format!("Watt's {side} link"),
                });
            }
        }
        Ok(())
    }
}
