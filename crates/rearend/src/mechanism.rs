//! From a description to a [`linkage::Mechanism`]: the axle is the platform, the frame the ground.

use linkage::{
    Anchor, Body, ClosureId, Configuration, Crank, CrankId, Joint as Eye, JointId, Link, LinkId, Mechanism,
    MechanismError, Unfit,
};
use nalgebra::{Matrix3, Point3, Vector3};
use thiserror::Error;

use crate::setup::{Arm, ArmId, Bar, BarEnd, BarId, Bolt, Carrier, Joint, Length, Setup, SetupError, Side, Watt};

/// What a link or joint of the mechanism is on the truck.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Part {
    /// A bar, or one of a mirrored pair.
    Bar(BarId, Side),
    /// The eye of an arm, or of one of a mirrored pair.
    Arm(ArmId, Side),
    /// The left Watt's link.
    WattLeft,
    /// The right Watt's link.
    WattRight,
}

/// Why a description cannot be solved.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum CompileError {
    /// It makes no sense as described.
    #[error(transparent)]
    Setup(#[from] SetupError),
    /// A part that the solver cannot use.
    #[error(
        "the {name} cannot be used: its two mounts coincide, or a coordinate is not a usable number; move one of them"
    )]
    Part {
        /// The part.
        name: String,
    },
    /// Bars of given length that cannot be bolted in.
    #[error(
        "the bars cannot be bolted in at ride height: the {name} is farthest from fitting; change its length or move a mount"
    )]
    DoesNotFit {
        /// The part.
        name: String,
    },
}

/// A bolt through an end of a link, as drawn.
#[derive(Clone, Copy, Debug)]
pub struct BoltLine {
    /// What it is fixed to.
    pub carrier: Carrier,
    /// Unit direction, the carrier's coordinates.
    pub direction: Vector3<f64>,
    /// The joint it goes through.
    pub joint: Joint,
}

/// A setup compiled for solving.
#[derive(Clone, Debug)]
pub struct RearEnd {
    /// The links, joints and cranks.
    pub mechanism: Mechanism,
    /// What each link is, by [`LinkId`].
    pub parts: Vec<Part>,
    /// The bolts at both ends of each link, frame end first (a Watt's link: crank end last).
    pub bolts: Vec<[BoltLine; 2]>,
    /// What each joint is, by [`JointId`].
    pub eyes: Vec<Part>,
    /// The axle at ride height.
    pub ride: Configuration,
    /// The largest length that a bar has to give there, m.
    pub ride_misfit_m: f64,
}

/// Links and what is known of them while they are collected.
#[derive(Default)]
struct Collected {
    links: Vec<Link>,
    parts: Vec<Part>,
    bolts: Vec<[BoltLine; 2]>,
    given_m: Vec<Option<f64>>,
}

impl RearEnd {
    /// Compiles a description, and finds where its bars put the axle at ride height.
    ///
    /// # Errors
    /// Names the part that makes no sense or does not fit.
    pub fn compile(setup: &Setup) -> Result<Self, CompileError> {
        setup.validate()?;
        let drawn = setup.drawn();
        let mut links = Collected::default();
        for (i, bar) in setup.bars.iter().enumerate() {
            for side in sides(bar.count()) {
                links.add_bar(BarId(i), bar, side, &drawn);
            }
        }
        let cranks: Vec<_> = setup.watt.iter().map(crank).collect();
        if let Some(watt) = &setup.watt {
            links.add_watt(watt, &cranks, &drawn);
        }
        let (mut joints, mut eyes) = (Vec::new(), Vec::new());
        for (i, arm) in setup.arms.iter().enumerate() {
            for side in sides(arm.count()) {
                eyes.push(Part::Arm(ArmId(i), side));
                joints.push(eye(arm, side, &drawn));
            }
        }
        let Collected {
            links,
            parts,
            bolts,
            given_m,
        } = links;
        let is_cut_to_suit = given_m.iter().all(Option::is_none);
        let mechanism =
            Mechanism::with_joints(links, joints, cranks, drawn).map_err(|e| explain(setup, &parts, &eyes, e))?;
        let mut rear_end = Self {
            mechanism,
            parts,
            bolts,
            eyes,
            ride: drawn,
            ride_misfit_m: 0.0,
        };
        if !is_cut_to_suit {
            rear_end.fit(setup, &given_m)?;
        }
        Ok(rear_end)
    }

    fn fit(&mut self, setup: &Setup, given_m: &[Option<f64>]) -> Result<(), CompileError> {
        let fitted = self.mechanism.fit(given_m).map_err(|unfit| {
            let part = match unfit {
                Unfit::UnusableLength(id) => self.part(ClosureId::Link(id)),
                Unfit::DoesNotClose(closure) => closure.and_then(|c| self.part(c)),
            };
            let name = part.map_or_else(|| "bar".to_owned(), |p| p.name(setup));
            CompileError::DoesNotFit { name }
        })?;
        self.ride = fitted.at;
        self.ride_misfit_m = fitted.misfit_m;
        Ok(())
    }

    /// What a link or joint is on the truck.
    #[must_use]
    pub fn part(&self, closure: ClosureId) -> Option<Part> {
        match closure {
            ClosureId::Link(LinkId(i)) => self.parts.get(i).copied(),
            ClosureId::Joint(JointId(i)) => self.eyes.get(i).copied(),
        }
    }

    /// The link that a part is; an arm is none.
    #[must_use]
    pub fn link(&self, part: Part) -> Option<LinkId> {
        self.parts.iter().position(|p| *p == part).map(LinkId)
    }

    /// Every link with its length, centre to centre, m.
    pub fn lengths_m(&self) -> impl Iterator<Item = (Part, f64)> + '_ {
        self.parts
            .iter()
            .copied()
            .zip(self.mechanism.links().iter().map(|l| l.length_m))
    }

    /// The length of a link, centre to centre, m.
    #[must_use]
    pub fn length_m(&self, part: Part) -> Option<f64> {
        self.lengths_m().find(|(p, _)| *p == part).map(|(_, length)| length)
    }

    /// The ends of a part in frame coordinates: frame end first; of a Watt's link the crank's end last; of an arm its eye first, then where
    /// it meets the axle.
    #[must_use]
    pub fn ends_in_frame(&self, setup: &Setup, part: Part, at: &Configuration) -> Option<[Point3<f64>; 2]> {
        if let Part::Arm(id, side) = part {
            let arm = setup.arm(id)?;
            let eye = self.eyes.iter().position(|p| *p == part)?;
            let eye_in_axle = self.mechanism.joints().get(eye)?.on_platform;
            return Some([at.to_ground(eye_in_axle), at.to_ground(side.of(arm.mount_in_axle))]);
        }
        self.link(part).map(|link| self.mechanism.ends_in_ground(link, at))
    }
}

impl Collected {
    fn add(&mut self, part: Part, link: Link, bolts: [BoltLine; 2], length: Length) {
        self.parts.push(part);
        self.links.push(link);
        self.bolts.push(bolts);
        self.given_m.push(length.given_m());
    }

    fn add_bar(&mut self, id: BarId, bar: &Bar, side: Side, drawn: &Configuration) {
        let axle_end = if bar.joined {
            bar.mount_in_axle
        } else {
            side.of(bar.mount_in_axle)
        };
        let (from, to) = (on_frame(side.of(bar.mount_in_frame)), on_axle(axle_end));
        let link = stiff(Link::cut_to_suit(from, to, 1.0, &[], drawn), |m| {
            bar.stiffness_n_per_m(m)
        });
        let along = drawn.to_ground(axle_end) - from.point;
        let bolts = [BarEnd::Frame, BarEnd::Axle].map(|end| {
            let joint = bar.joint(end);
            let direction = bolt_in_frame(joint.bolt, along);
            BoltLine::new(end.carrier(), direction, joint, drawn)
        });
        self.add(Part::Bar(id, side), link, bolts, bar.length);
    }

    fn add_watt(&mut self, watt: &Watt, cranks: &[Crank], drawn: &Configuration) {
        let sides = [
            (Part::WattLeft, watt.left, watt.left_length),
            (Part::WattRight, watt.right, watt.right_length),
        ];
        let anchored = |point| match watt.links_to() {
            Carrier::Frame => on_frame(point),
            Carrier::Axle => on_axle(point),
        };
        let joint = Joint::of(watt.ends.kind());
        // Both bolts lie along the crank's pivot, where each link turns.
        let axis = match watt.crank_on {
            Carrier::Frame => watt.pivot_axis(),
            Carrier::Axle => drawn.ground_from_platform() * watt.pivot_axis(),
        };
        let bolt = |carrier| BoltLine::new(carrier, axis, joint, drawn);
        for ((part, end, length), on_crank) in sides.into_iter().zip(watt.joints()) {
            let to = Anchor {
                body: Body::Crank(CrankId(0)),
                point: on_crank,
            };
            let link = Link::cut_to_suit(anchored(end), to, 1.0, cranks, drawn);
            let link = stiff(link, |m| watt.stiffness_n_per_m(m));
            self.add(part, link, [bolt(watt.links_to()), bolt(watt.crank_on)], length);
        }
    }
}

impl BoltLine {
    fn new(carrier: Carrier, in_frame: Vector3<f64>, joint: Joint, drawn: &Configuration) -> Self {
        let direction = match carrier {
            Carrier::Frame => in_frame,
            Carrier::Axle => drawn.ground_from_platform().transpose() * in_frame,
        };
        Self {
            carrier,
            direction,
            joint,
        }
    }

    /// Its direction in frame coordinates at a pose. A crank's bolts stay along its pivot, however it turns.
    #[must_use]
    pub fn in_frame(&self, frame_from_axle: &Matrix3<f64>) -> Vector3<f64> {
        match self.carrier {
            Carrier::Frame => self.direction,
            Carrier::Axle => frame_from_axle * self.direction,
        }
    }
}

impl Part {
    /// What the user calls it.
    #[must_use]
    pub fn name(self, setup: &Setup) -> String {
        match self {
            Self::Bar(bar, side) => setup.bar_name(bar, side),
            Self::Arm(arm, side) => setup.arm_name(arm, side),
            Self::WattLeft => "Watt's left link".to_owned(),
            Self::WattRight => "Watt's right link".to_owned(),
        }
    }
}

/// Direction of a bolt as drawn, frame coordinates.
fn bolt_in_frame(bolt: Bolt, along: Vector3<f64>) -> Vector3<f64> {
    match bolt {
        Bolt::Square => Vector3::z()
            .cross(&along)
            .try_normalize(1e-6)
            .unwrap_or_else(Vector3::y),
        Bolt::Across => Vector3::y(),
        Bolt::Along => Vector3::x(),
        Bolt::Upright => Vector3::z(),
    }
}

fn stiff(link: Link, stiffness_n_per_m: impl Fn(f64) -> f64) -> Link {
    Link {
        // A link without length is refused by the mechanism, with its name.
        stiffness_n_per_m: stiffness_n_per_m(link.length_m.max(0.01)),
        ..link
    }
}

fn eye(arm: &Arm, side: Side, drawn: &Configuration) -> Eye {
    let eye_in_frame = side.of(arm.eye_in_frame);
    let along = drawn.to_ground(side.of(arm.mount_in_axle)) - eye_in_frame;
    let bolt = bolt_in_frame(arm.eye.bolt, along);
    let lengthwise = [along, Vector3::x(), Vector3::z()]
        .into_iter()
        .find_map(|v| (v - bolt * bolt.dot(&v)).try_normalize(1e-3))
        .unwrap_or_else(Vector3::x);
    let directions = Matrix3::from_columns(&[bolt, lengthwise, bolt.cross(&lengthwise)]);
    let [sideways, pull, upright] = arm.eye_stiffness_n_per_m(along.norm().max(0.01));
    Eye::made_to_suit(eye_in_frame, directions, Vector3::new(sideways, pull, upright), drawn)
}

fn sides(count: usize) -> impl Iterator<Item = Side> {
    [Side::Drawn, Side::Mirrored].into_iter().take(count)
}

fn crank(watt: &Watt) -> Crank {
    match watt.crank_on {
        Carrier::Axle => Crank::on_platform(watt.pivot, watt.pivot_axis()),
        Carrier::Frame => Crank::on_ground(watt.pivot, watt.pivot_axis()),
    }
}

fn on_frame(point: Point3<f64>) -> Anchor {
    Anchor {
        body: Body::Ground,
        point,
    }
}

fn on_axle(point: Point3<f64>) -> Anchor {
    Anchor {
        body: Body::Platform,
        point,
    }
}

fn explain(setup: &Setup, parts: &[Part], eyes: &[Part], error: MechanismError) -> CompileError {
    let named = |part: Option<&Part>| part.map_or_else(|| "bar".to_owned(), |p| p.name(setup));
    let name = match error {
        MechanismError::UnusableLink(LinkId(i)) | MechanismError::NoLength(LinkId(i)) => named(parts.get(i)),
        MechanismError::UnusableJoint(JointId(i)) => named(eyes.get(i)),
        MechanismError::UnusableCrank(_) | MechanismError::NoSuchCrank(_) => "Watt's crank".to_owned(),
        MechanismError::UnusableDrawing => "axle".to_owned(),
    };
    CompileError::Part { name }
}
