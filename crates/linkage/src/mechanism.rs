//! The compiled mechanism: links, joints, cranks, and the position in which it was drawn.

use nalgebra::Point3;
use thiserror::Error;

use crate::anchor::{Anchor, Body};
use crate::closure::{ClosureId, Row, Strain};
use crate::configuration::{Axes, Configuration};
use crate::crank::{Crank, CrankId};
use crate::four::{FourLinks, FourRows, is_plain};
use crate::joint::{Joint, JointId};
use crate::link::{Link, LinkId};
use crate::solve::{Method, Solved};
use crate::{COORDINATES, MAX_CRANKS, tolerance};

/// Why a mechanism cannot be built. Ids say which part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum MechanismError {
    /// A coordinate, length or stiffness is not a usable number.
    #[error("link {} has a coordinate, length or stiffness that is not a usable number", .0.0)]
    UnusableLink(LinkId),
    /// The two ends of a link lie on one point, or on one body.
    #[error("link {} has no length", .0.0)]
    NoLength(LinkId),
    /// A coordinate, direction or stiffness is not a usable number.
    #[error("joint {} has a coordinate, direction or stiffness that is not a usable number", .0.0)]
    UnusableJoint(JointId),
    /// A crank's pivot or axis is not a usable number, or its axis has no direction.
    #[error("crank {} has a pivot or axis that is not usable", .0.0)]
    UnusableCrank(CrankId),
    /// More cranks than [`MAX_CRANKS`], or a link on a crank that does not exist.
    #[error("a link names crank {}, which does not exist", .0.0)]
    NoSuchCrank(CrankId),
    /// The drawn position is not finite.
    #[error("the drawn position is not a usable number")]
    UnusableDrawing,
}

/// Links, joints and cranks that hold a platform, validated.
#[derive(Clone, Debug)]
pub struct Mechanism {
    pub(crate) links: Vec<Link>,
    pub(crate) joints: Vec<Joint>,
    pub(crate) cranks: Vec<Crank>,
    pub(crate) drawn: Configuration,
    pub(crate) scale_m: f64,
    /// Gaps below this are closed: the tolerance, or the rounding of the longest link where that is coarser.
    pub(crate) closed_m: f64,
    /// The stiffnesses, the largest as one, a row each: links, then three a joint.
    pub(crate) weights: Vec<f64>,
    pub(crate) method: Method,
    /// Bound of the gaps' second derivatives in scaled coordinates.
    pub(crate) curvature_per_m: f64,
    pub(crate) shortest_m: f64,
    /// Numbers of the links from ground to platform, and of the others.
    plain: Vec<usize>,
    hinged: Vec<usize>,
    fours: Vec<FourLinks>,
}

/// Ends nearer than this (of metre-sized models) are one point.
pub(crate) const COINCIDENT_M: f64 = 1e-6;

impl Mechanism {
    /// [`Mechanism::with_joints`] of links alone.
    ///
    /// # Errors
    /// Names the first part that cannot be used.
    pub fn new(links: Vec<Link>, cranks: Vec<Crank>, drawn: Configuration) -> Result<Self, MechanismError> {
        Self::with_joints(links, Vec::new(), cranks, drawn)
    }

    /// Validates and compiles. `drawn` is the position the parts are drawn in, and the first guess of every solve.
    ///
    /// # Errors
    /// Names the first part that cannot be used.
    pub fn with_joints(
        links: Vec<Link>,
        joints: Vec<Joint>,
        cranks: Vec<Crank>,
        drawn: Configuration,
    ) -> Result<Self, MechanismError> {
        if !drawn.is_finite() {
            return Err(MechanismError::UnusableDrawing);
        }
        if cranks.len() > MAX_CRANKS {
            return Err(MechanismError::NoSuchCrank(CrankId(MAX_CRANKS)));
        }
        if let Some(i) = cranks.iter().position(|c| !c.is_finite()) {
            return Err(MechanismError::UnusableCrank(CrankId(i)));
        }
        for (i, link) in links.iter().enumerate() {
            check_link(LinkId(i), link, cranks.len())?;
        }
        if let Some(i) = joints.iter().position(|j| !j.is_usable()) {
            return Err(MechanismError::UnusableJoint(JointId(i)));
        }
        let (plain, hinged) = (0..links.len()).partition(|&i| is_plain(&links[i]));
        let mut mechanism = Self {
            weights: weights(&links, &joints),
            scale_m: characteristic_length(&links, &joints),
            curvature_per_m: 0.0,
            shortest_m: 0.0,
            closed_m: 0.0,
            method: Method::Elastic,
            fours: Vec::new(),
            plain,
            hinged,
            links,
            joints,
            cranks,
            drawn,
        };
        mechanism.lengths_changed();
        mechanism.method = mechanism.method_at(&drawn);
        Ok(mechanism)
    }

    /// Gives every link another length, m.
    pub(crate) fn set_lengths(&mut self, lengths_m: impl IntoIterator<Item = f64>) {
        for (link, length_m) in self.links.iter_mut().zip(lengths_m) {
            link.length_m = length_m;
        }
        self.lengths_changed();
    }

    /// Works out again what hangs on the lengths.
    fn lengths_changed(&mut self) {
        let lengths = || self.links.iter().map(|l| l.length_m);
        let longest = lengths().fold(0.0, f64::max);
        self.shortest_m = lengths().fold(f64::INFINITY, f64::min);
        self.closed_m = (tolerance::CLOSED * self.scale_m).max(4.0 * f64::EPSILON * longest);
        let curvatures = self.links.iter().map(|l| l.curvature_per_m(&self.cranks, self.scale_m));
        self.curvature_per_m = curvatures.fold(0.0, f64::max);
        let in_fours: Vec<_> = self.plain.iter().map(|&i| self.links[i]).collect();
        self.fours = in_fours.chunks(4).map(FourLinks::of).collect();
    }

    /// The links, in the order given.
    #[must_use]
    pub fn links(&self) -> &[Link] {
        &self.links
    }

    /// The joints, in the order given.
    #[must_use]
    pub fn joints(&self) -> &[Joint] {
        &self.joints
    }

    /// The cranks, in the order given.
    #[must_use]
    pub fn cranks(&self) -> &[Crank] {
        &self.cranks
    }

    /// The position the parts were drawn in.
    #[must_use]
    pub fn drawn(&self) -> &Configuration {
        &self.drawn
    }

    /// True where the parts are as many as needed: nothing is free, nothing is held twice, and every pose closes without force.
    #[must_use]
    pub fn is_exact(&self) -> bool {
        self.method == Method::Exact
    }

    /// The length by which angles are made comparable with lengths: the root mean square distance of the platform's anchors from its
    /// origin, m.
    #[must_use]
    pub fn characteristic_length_m(&self) -> f64 {
        self.scale_m
    }

    /// Both ends of a link in ground coordinates.
    #[must_use]
    pub fn ends_in_ground(&self, link: LinkId, at: &Configuration) -> [Point3<f64>; 2] {
        let (link, axes) = (&self.links[link.0], Axes::of(at));
        [&link.from, &link.to].map(|end| end.in_ground(&self.cranks, at, &axes))
    }

    /// Both ends of every link in ground coordinates, in the order of the links.
    pub fn every_link_in_ground<'a>(&'a self, at: &'a Configuration) -> impl Iterator<Item = [Point3<f64>; 2]> + 'a {
        let axes = Axes::of(at);
        let ends = move |link: &Link| [&link.from, &link.to].map(|end| end.in_ground(&self.cranks, at, &axes));
        self.links.iter().map(ends)
    }

    /// What every closure has to give at a configuration, and the force that makes it: links first, then joints.
    pub fn strains<'a>(&'a self, at: &'a Configuration) -> impl Iterator<Item = Strain> + 'a {
        let axes = Axes::of(at);
        let links = self.links.iter().enumerate().map(move |(i, link)| {
            let gap_m = link.gap_m(&self.cranks, at, &axes);
            Strain {
                closure: ClosureId::Link(LinkId(i)),
                gap_m,
                force_n: gap_m * link.stiffness_n_per_m,
            }
        });
        let joints = self.joints.iter().enumerate().map(move |(i, joint)| {
            let opening = joint.directions.transpose() * joint.opening(at, &axes);
            Strain {
                closure: ClosureId::Joint(JointId(i)),
                gap_m: opening.norm(),
                force_n: opening.component_mul(&joint.stiffness_n_per_m).norm(),
            }
        });
        links.chain(joints)
    }

    /// The closure that has to give most, none where there are none.
    #[must_use]
    pub fn worst_strain(&self, at: &Configuration) -> Option<Strain> {
        self.strains(at).max_by(|a, b| a.gap_m.abs().total_cmp(&b.gap_m.abs()))
    }

    /// True where a link would have to change its length, or a joint come apart, by more than steel and rubber can.
    pub(crate) fn gives_too_much(&self, solved: &Solved) -> bool {
        let most_apart_m = tolerance::APART * self.scale_m;
        let least_m = most_apart_m.min(tolerance::MISFIT * self.shortest_m);
        let too_much = |strain: Strain| match strain.closure {
            ClosureId::Link(LinkId(i)) => strain.gap_m.abs() > tolerance::MISFIT * self.links[i].length_m,
            ClosureId::Joint(_) => strain.gap_m > most_apart_m,
        };
        solved.misfit_m > least_m && self.strains(&solved.at).any(too_much)
    }

    /// Number of unknowns: four of the platform and one a crank.
    pub(crate) fn unknowns(&self) -> usize {
        4 + self.cranks.len()
    }

    /// Number of scalar equations.
    pub(crate) fn equations(&self) -> usize {
        self.links.len() + 3 * self.joints.len()
    }

    /// The closure that an equation belongs to.
    pub(crate) fn closure_of(&self, row: usize) -> ClosureId {
        match row.checked_sub(self.links.len()) {
            None => ClosureId::Link(LinkId(row)),
            Some(after) => ClosureId::Joint(JointId(after / 3)),
        }
    }

    /// The rows of four plain links, where there are just four and nothing else; as [`Mechanism::each_row`] would hand them over.
    #[inline(always)]
    pub(crate) fn four_rows(&self, at: &Configuration) -> Option<FourRows> {
        let alone = self.plain.len() == 4 && self.equations() == 4;
        let four = self.fours.first().filter(|_| alone)?;
        Some(four.rows(at, &Axes::of(at), 1.0 / self.scale_m))
    }

    /// Hands over every row in scaled coordinates: angle columns divided by the characteristic length, so that every entry is of order one.
    /// Not in order; the number says which. A loop rather than an iterator: this is where the time goes.
    #[inline(always)]
    pub(crate) fn each_row(&self, at: &Configuration, axes: &Axes, mut visit: impl FnMut(usize, &Row)) {
        let per_scale = 1.0 / self.scale_m;
        for (four, numbers) in self.fours.iter().zip(self.plain.chunks(4)) {
            let rows = four.rows(at, axes, per_scale);
            for (k, &number) in numbers.iter().enumerate() {
                let (gap_m, gradient) = (rows.gap_m[k], rows.gradient_of(k));
                visit(number, &Row { gap_m, gradient });
            }
        }
        let mut scaled = |i: usize, mut row: Row| {
            for angle in &mut row.gradient[3..COORDINATES] {
                *angle *= per_scale;
            }
            visit(i, &row);
        };
        for &i in &self.hinged {
            scaled(i, self.links[i].row(&self.cranks, at, axes));
        }
        for (i, joint) in self.joints.iter().enumerate() {
            for (k, row) in joint.rows(at, axes).into_iter().enumerate() {
                scaled(self.links.len() + 3 * i + k, row);
            }
        }
    }

    /// The true rates of a scaled coordinate vector.
    pub(crate) fn unscaled(&self, mut scaled: [f64; COORDINATES]) -> [f64; COORDINATES] {
        for angle in &mut scaled[3..COORDINATES] {
            *angle /= self.scale_m;
        }
        scaled
    }

    /// Size of a change between two configurations in scaled coordinates, m.
    #[inline]
    pub(crate) fn size_of(&self, change: &[f64; COORDINATES]) -> f64 {
        self.square_of(change).sqrt()
    }

    /// The square of that size, where only a comparison is wanted.
    #[inline]
    pub(crate) fn square_of(&self, [x, y, z, yaw, roll, pitch, c0, c1]: &[f64; COORDINATES]) -> f64 {
        let angles = (yaw * yaw + roll * roll) + (pitch * pitch + (c0 * c0 + c1 * c1));
        (x * x + y * y + z * z) + angles * (self.scale_m * self.scale_m)
    }
}

fn check_link(id: LinkId, link: &Link, cranks: usize) -> Result<(), MechanismError> {
    for anchor in [&link.from, &link.to] {
        if let Body::Crank(c) = anchor.body
            && c.0 >= cranks
        {
            return Err(MechanismError::NoSuchCrank(c));
        }
    }
    let usable = |a: &Anchor| a.point.coords.iter().all(|v| v.is_finite() && v.abs() < 1e6);
    let positive = |v: f64| v.is_finite() && v > 0.0;
    if !(usable(&link.from) && usable(&link.to) && positive(link.stiffness_n_per_m) && link.length_m.is_finite()) {
        return Err(MechanismError::UnusableLink(id));
    }
    if link.length_m < COINCIDENT_M || link.from.body == link.to.body {
        return Err(MechanismError::NoLength(id));
    }
    Ok(())
}

fn weights(links: &[Link], joints: &[Joint]) -> Vec<f64> {
    let of_joints = joints.iter().flat_map(|j| j.stiffness_n_per_m.iter().copied());
    let stiffness: Vec<f64> = links.iter().map(|l| l.stiffness_n_per_m).chain(of_joints).collect();
    let stiffest = stiffness.iter().copied().fold(f64::MIN_POSITIVE, f64::max);
    stiffness.into_iter().map(|k| k / stiffest).collect()
}

fn characteristic_length(links: &[Link], joints: &[Joint]) -> f64 {
    let of_links = links
        .iter()
        .flat_map(|l| [&l.from, &l.to])
        .filter(|a| a.body != Body::Ground)
        .map(|a| &a.point);
    let arms = of_links.chain(joints.iter().map(|j| &j.on_platform));
    let (sum, count) = arms.fold((0.0, 0.0), |(sum, n), p| (sum + p.coords.norm_squared(), n + 1.0));
    let rms = if count > 0.0 { f64::sqrt(sum / count) } else { 1.0 };
    if rms > COINCIDENT_M { rms } else { 1.0 }
}
