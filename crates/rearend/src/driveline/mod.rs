//! The shaft between transmission and axle: angles of its joints, slip, and how evenly it turns.

pub mod joint;
pub mod remedy;
pub mod speed;

use linkage::Configuration;
use nalgebra::{Point3, Unit, Vector3};

use crate::placed::Placed;
use crate::setup::{Driveline, Setup};
use crate::travel::pinion_in_axle;
use joint::Chain;

/// At one pose.
///
/// Working angles are those between the two shafts in space, not seen from the side. The front piece of a two-piece shaft has its yokes
/// in line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShaftPose {
    /// Working angle behind the transmission: output and first piece.
    pub front_joint_rad: f64,
    /// Working angle behind the carrier bearing, where there is one: front piece and rear piece.
    pub carrier_joint_rad: Option<f64>,
    /// Working angle at the axle: last piece and pinion.
    pub rear_joint_rad: f64,
    /// Joint to joint of the piece that slides: the last one.
    pub length_m: f64,
    /// How much longer that is than at ride height: + pulled out.
    pub slip_m: f64,
    /// Angle of the one joint that would turn the pinion as unevenly as all of them together.
    pub residual_rad: f64,
    /// The pinion's fastest less its slowest speed, over its mean.
    pub non_uniformity: f64,
}

/// Which joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JointAt {
    /// Behind the transmission.
    Front,
    /// Behind the carrier bearing.
    Carrier,
    /// At the axle.
    Rear,
}

impl JointAt {
    /// What it is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Front => "front joint",
            Self::Carrier => "joint behind the carrier bearing",
            Self::Rear => "rear joint",
        }
    }
}

/// Directions taken forward, frame coordinates.
struct Axes {
    output: Vector3<f64>,
    /// Of a two-piece shaft.
    front: Option<Vector3<f64>>,
    rear: Vector3<f64>,
    pinion: Vector3<f64>,
    /// Of the rear piece.
    length_m: f64,
}

/// What of the shaft is the same at every pose.
#[derive(Clone, Copy, Debug)]
pub struct Shaft {
    output: Vector3<f64>,
    /// The front piece of a two-piece shaft, taken forward.
    front: Option<Vector3<f64>>,
    phase_rad: f64,
    /// The front end of the piece that slides.
    from: Point3<f64>,
    /// Of the axle.
    pinion_joint: Point3<f64>,
    pinion: Vector3<f64>,
    at_ride_m: f64,
}

impl Shaft {
    /// `ride` is where the axle stands at ride height. `None` where the setup does not describe a shaft, or two of its joints on the frame
    /// fall on one spot.
    #[must_use]
    pub fn of(setup: &Setup, ride: &Configuration) -> Option<Self> {
        let driveline = setup.driveline.as_ref()?;
        let from = driveline.carrier.unwrap_or(driveline.output);
        let front = match driveline.carrier {
            Some(carrier) => Some(unit(driveline.output - carrier)?),
            None => None,
        };
        let pinion_joint = setup.pinion_joint_in_axle();
        Some(Self {
            output: output_axis(driveline),
            front,
            phase_rad: driveline.phase_rad,
            from,
            pinion_joint,
            pinion: pinion_in_axle(setup),
            at_ride_m: (from - ride.to_ground(pinion_joint)).norm(),
        })
    }

    /// At a pose of the axle; `None` where the shaft's ends meet.
    #[must_use]
    pub fn at(&self, axle: &Placed) -> Option<ShaftPose> {
        let axes = self.axes(axle)?;
        let ([front_joint_rad, rear_joint_rad], carrier_joint_rad, residual_rad) = axes.turn(self.phase_rad);
        Some(ShaftPose {
            front_joint_rad,
            carrier_joint_rad,
            rear_joint_rad,
            length_m: axes.length_m,
            slip_m: axes.length_m - self.at_ride_m,
            residual_rad,
            non_uniformity: joint::non_uniformity(residual_rad),
        })
    }

    fn axes(&self, axle: &Placed) -> Option<Axes> {
        let along = self.from - axle.to_frame(self.pinion_joint);
        Some(Axes {
            output: self.output,
            front: self.front,
            rear: unit(along)?,
            pinion: axle.frame_from_axle * self.pinion,
            length_m: along.norm(),
        })
    }
}

impl Axes {
    /// Angles of the joints and what they leave.
    fn turn(&self, phase_rad: f64) -> ([f64; 2], Option<f64>, f64) {
        let mut chain = Chain::along(self.output);
        let first = chain.joint(self.front.unwrap_or(self.rear));
        let carrier = self.front.map(|_| {
            chain.yokes(0.0);
            chain.joint(self.rear)
        });
        chain.yokes(phase_rad);
        let last = chain.joint(self.pinion);
        ([first, last], carrier, chain.residual_rad())
    }
}

impl ShaftPose {
    /// At a pose of the axle; `ride` is where it stands at ride height. `None` where the setup does not describe a shaft, or two of its
    /// joints fall on one spot.
    #[must_use]
    pub fn at(setup: &Setup, ride: &Configuration, at: &Configuration) -> Option<Self> {
        Shaft::of(setup, ride)?.at(&Placed::at(at))
    }

    /// Every joint with its working angle, front first.
    pub fn joints(&self) -> impl Iterator<Item = (JointAt, f64)> {
        let carrier = self.carrier_joint_rad.map(|angle| (JointAt::Carrier, angle));
        [
            Some((JointAt::Front, self.front_joint_rad)),
            carrier,
            Some((JointAt::Rear, self.rear_joint_rad)),
        ]
        .into_iter()
        .flatten()
    }

    /// The joint that works at the largest angle.
    #[must_use]
    pub fn largest_joint(&self) -> (JointAt, f64) {
        let front = (JointAt::Front, self.front_joint_rad);
        self.joints()
            .fold(front, |most, next| if next.1 > most.1 { next } else { most })
    }
}

/// [`ShaftPose::residual_rad`] with the yokes of the rear piece in another phase.
pub(crate) fn residual_rad(setup: &Setup, at: &Configuration, phase_rad: f64) -> Option<f64> {
    let axes = Shaft::of(setup, at)?.axes(&Placed::at(at))?;
    Some(axes.turn(phase_rad).2)
}

/// Direction of the transmission's output, taken forward.
fn output_axis(driveline: &Driveline) -> Vector3<f64> {
    let (rise, run) = driveline.output_nose_up_rad.sin_cos();
    let (left, ahead) = driveline.output_left_rad.sin_cos();
    Vector3::new(run * ahead, run * left, rise)
}

/// Shorter than this, m, a shaft has no direction.
const NO_LENGTH_M: f64 = 1e-6;

fn unit(along: Vector3<f64>) -> Option<Vector3<f64>> {
    Unit::try_new(along, NO_LENGTH_M).map(Unit::into_inner)
}

/// By how much the pinion would have to turn to match.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PinionTurn {
    /// + nose up.
    pub by_rad: f64,
    /// Turns of every upper bar's adjuster that do the same, + longer; where the upper bars are as built.
    pub upper_turns: Option<f64>,
}

/// What may be wrong. Angles at ride height unless a height is given.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// The joints at both ends of a one-piece shaft differ.
    Ends {
        /// Working angle.
        front_rad: f64,
        /// Working angle.
        rear_rad: f64,
        /// What would make them equal.
        turn: Option<PinionTurn>,
    },
    /// The joints do not even each other out.
    Uneven {
        /// What they leave: angle of one joint.
        residual_rad: f64,
        /// Fastest less slowest over mean.
        non_uniformity: f64,
        /// What would leave least.
        turn: Option<PinionTurn>,
    },
    /// The yokes of a shaft are not in line, and it turns less evenly for it.
    Phase {
        /// Out of line.
        phase_rad: f64,
        /// What the joints leave.
        residual_rad: f64,
        /// What they would leave in line.
        in_line_rad: f64,
    },
    /// A joint works at so small an angle that its needles do not roll.
    Straight {
        /// Which.
        joint: JointAt,
        /// Working angle.
        angle_rad: f64,
    },
    /// A joint works at more than runs free of vibration.
    Steep {
        /// Which.
        joint: JointAt,
        /// Working angle.
        angle_rad: f64,
    },
    /// A joint works at more than its speed allows.
    TooFast {
        /// Which.
        joint: JointAt,
        /// Working angle.
        angle_rad: f64,
        /// As fast as the shaft turns.
        shaft_rad_per_s: f64,
    },
    /// The splines are pushed together, or pulled out, further than they go.
    SlipEnds {
        /// From ride: + pulled out.
        slip_m: f64,
        /// How far they go that way.
        has_m: f64,
        /// What is left the other way through the whole travel.
        other_way_m: f64,
        /// Where.
        height_m: f64,
        /// The roll there.
        roll_rad: f64,
    },
    /// The largest angle of any joint through the travel.
    Largest {
        /// Which.
        joint: JointAt,
        /// Working angle.
        angle_rad: f64,
        /// Where.
        height_m: f64,
        /// The roll there.
        roll_rad: f64,
    },
    /// All is as it should be at ride height.
    Sound {
        /// The shaft there.
        shaft: ShaftPose,
        /// Farthest that the splines are pushed in through the travel, and pulled out.
        slip_m: [f64; 2],
    },
}
