//! The compiled mechanism: links, cranks, and the position in which it was drawn.

use nalgebra::Point3;
use thiserror::Error;

use crate::configuration::{Axes, Configuration};
use crate::crank::{Crank, CrankId};
use crate::link::{Anchor, Body, Link, LinkId, Row};
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

/// Links and cranks that hold a platform, validated.
#[derive(Clone, Debug)]
pub struct Mechanism {
    pub(crate) links: Vec<Link>,
    pub(crate) cranks: Vec<Crank>,
    pub(crate) drawn: Configuration,
    pub(crate) scale_m: f64,
    /// Gaps below this are closed: the tolerance, or the rounding of the longest link where that is coarser.
    pub(crate) closed_m: f64,
    pub(crate) weights: Vec<f64>,
}

/// Ends nearer than this (of metre-sized models) are one point.
const COINCIDENT_M: f64 = 1e-6;

impl Mechanism {
    /// Validates and compiles. `drawn` is the position the parts are drawn in, and the first guess of every solve.
    ///
    /// # Errors
    /// Names the first part that cannot be used.
    pub fn new(links: Vec<Link>, cranks: Vec<Crank>, drawn: Configuration) -> Result<Self, MechanismError> {
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
        let stiffest = links
            .iter()
            .map(|l| l.stiffness_n_per_m)
            .fold(f64::MIN_POSITIVE, f64::max);
        let weights = links.iter().map(|l| (l.stiffness_n_per_m / stiffest).sqrt()).collect();
        let scale_m = characteristic_length(&links);
        let longest = links.iter().map(|l| l.length_m).fold(0.0, f64::max);
        let closed_m = (tolerance::CLOSED * scale_m).max(4.0 * f64::EPSILON * longest);
        Ok(Self {
            links,
            cranks,
            drawn,
            scale_m,
            closed_m,
            weights,
        })
    }

    /// The links, in the order given.
    #[must_use]
    pub fn links(&self) -> &[Link] {
        &self.links
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

    /// The length by which angles are made comparable with lengths: the root mean square distance of the platform's anchors from its
    /// origin, m.
    #[must_use]
    pub fn characteristic_length_m(&self) -> f64 {
        self.scale_m
    }

    /// Both ends of a link in ground coordinates.
    #[must_use]
    pub fn ends_in_ground(&self, link: LinkId, at: &Configuration) -> [Point3<f64>; 2] {
        let link = &self.links[link.0];
        [
            link.from.in_ground(&self.cranks, at),
            link.to.in_ground(&self.cranks, at),
        ]
    }

    /// How far each link is from fitting at a configuration, m: positive where it would have to stretch.
    pub fn gaps_m<'a>(&'a self, at: &'a Configuration) -> impl Iterator<Item = f64> + 'a {
        let axes = Axes::of(at);
        self.links.iter().map(move |l| l.row(&self.cranks, at, &axes).gap_m)
    }

    /// The link with the largest gap and that gap, m (zero where there are no links).
    #[must_use]
    pub fn worst_gap_m(&self, at: &Configuration) -> (LinkId, f64) {
        self.gaps_m(at).enumerate().fold((LinkId(0), 0.0), |worst, (i, gap)| {
            if gap.abs() > worst.1 {
                (LinkId(i), gap.abs())
            } else {
                worst
            }
        })
    }

    /// Number of unknowns: four of the platform and one a crank.
    pub(crate) fn unknowns(&self) -> usize {
        4 + self.cranks.len()
    }

    /// Rows in scaled coordinates: angle columns divided by the characteristic length, so that every entry is of order one.
    pub(crate) fn rows(&self, at: &Configuration) -> impl Iterator<Item = Row> {
        let axes = Axes::of(at);
        let at = *at;
        let per_scale = 1.0 / self.scale_m;
        self.links.iter().map(move |link| {
            let mut row = link.row(&self.cranks, &at, &axes);
            for angle in &mut row.gradient[3..COORDINATES] {
                *angle *= per_scale;
            }
            row
        })
    }

    /// The true rates of a scaled coordinate vector.
    pub(crate) fn unscaled(&self, mut scaled: [f64; COORDINATES]) -> [f64; COORDINATES] {
        for angle in &mut scaled[3..COORDINATES] {
            *angle /= self.scale_m;
        }
        scaled
    }

    /// Size of a change between two configurations in scaled coordinates, m.
    pub(crate) fn size_of(&self, change: &[f64; COORDINATES]) -> f64 {
        let square = |i: usize| {
            let s = if i < 3 { change[i] } else { change[i] * self.scale_m };
            s * s
        };
        (0..COORDINATES).map(square).sum::<f64>().sqrt()
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

fn characteristic_length(links: &[Link]) -> f64 {
    let arms = links
        .iter()
        .flat_map(|l| [&l.from, &l.to])
        .filter(|a| a.body != Body::Ground);
    let (sum, count) = arms.fold((0.0, 0.0), |(sum, n), a| (sum + a.point.coords.norm_squared(), n + 1.0));
    let rms = if count > 0.0 { f64::sqrt(sum / count) } else { 1.0 };
    if rms > COINCIDENT_M { rms } else { 1.0 }
}
