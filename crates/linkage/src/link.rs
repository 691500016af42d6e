//! A link: two points of different bodies at a constant distance. Its gap, and the derivative of the gap.

use nalgebra::Vector3;

use crate::COORDINATES;
use crate::anchor::Anchor;
use crate::closure::Row;
use crate::configuration::{Axes, Configuration};
use crate::crank::Crank;

/// Which link of a mechanism.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct LinkId(pub usize);

/// A bar between two anchors.
#[derive(Clone, Copy, Debug)]
pub struct Link {
    /// One end.
    pub from: Anchor,
    /// The other end.
    pub to: Anchor,
    /// Centre to centre, m.
    pub length_m: f64,
    /// Axial stiffness, N/m. It decides how redundant links share what does not fit, and with what force.
    pub stiffness_n_per_m: f64,
}

impl Link {
    /// A link of whatever length fits its ends where they are drawn.
    #[must_use]
    pub fn cut_to_suit(
        from: Anchor,
        to: Anchor,
        stiffness_n_per_m: f64,
        cranks: &[Crank],
        drawn: &Configuration,
    ) -> Self {
        let axes = Axes::of(drawn);
        let length_m = (to.in_ground(cranks, drawn, &axes) - from.in_ground(cranks, drawn, &axes)).norm();
        Self {
            from,
            to,
            length_m,
            stiffness_n_per_m,
        }
    }

    /// The gap alone.
    #[inline]
    pub(crate) fn gap_m(&self, cranks: &[Crank], at: &Configuration, axes: &Axes) -> f64 {
        (self.to.in_ground(cranks, at, axes) - self.from.in_ground(cranks, at, axes)).norm() - self.length_m
    }

    /// Gap and gradient. A link whose ends meet has no direction: its gradient is zero, and the solver sees a singular system.
    #[inline(always)]
    pub(crate) fn row(&self, cranks: &[Crank], at: &Configuration, axes: &Axes) -> Row {
        let from = self.from.place(cranks, at, axes);
        let to = self.to.place(cranks, at, axes);
        let (n, gap_m) = self.direction(to.point - from.point);
        let mut gradient = [0.0; COORDINATES];
        to.add_gradient(n, axes, &mut gradient);
        from.add_gradient(-n, axes, &mut gradient);
        Row { gap_m, gradient }
    }

    #[inline(always)]
    fn direction(&self, along: Vector3<f64>) -> (Vector3<f64>, f64) {
        let distance = along.norm();
        let per_distance = if distance > 0.0 { 1.0 / distance } else { 0.0 };
        (along * per_distance, distance - self.length_m)
    }

    /// Bound of the gap's second derivative over a step of unit size in coordinates scaled by `scale_m`, 1/m. Points move no faster than
    /// `1 + reach / scale` of it and turn no tighter than `reach / scale^2`; angles that are not square to each other double both.
    pub(crate) fn curvature_per_m(&self, cranks: &[Crank], scale_m: f64) -> f64 {
        let reach = (self.from.reach_m(cranks) + self.to.reach_m(cranks)) / scale_m;
        2.0 * ((1.0 + reach) * (1.0 + reach) / self.length_m + reach / scale_m)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::anchor::Body;
    use crate::crank::CrankId;
    use nalgebra::Point3;
    use proptest::prelude::*;

    const NAMES: [&str; COORDINATES] = ["x", "y", "z", "yaw", "roll", "pitch", "ground crank", "platform crank"];

    /// Nearer ends make the distance so curved that differences say nothing about its slope.
    const NEAREST_M: f64 = 0.1;

    const STEP: f64 = 1e-6;

    /// Differences over 1e-6: anchors move at up to 5 m a unit, which leaves 3 * 5^3 / 0.1^2 / 6 * 1e-12 = 6e-9 of curvature, and rounding of
    /// coordinates of 5 m over the step as much.
    const AGREEMENT: f64 = 2e-8;

    fn point() -> impl Strategy<Value = Point3<f64>> {
        [-1.0..1.0, -1.0..1.0, -1.0..1.0].prop_map(Point3::from)
    }

    fn anchor() -> impl Strategy<Value = Anchor> {
        let bodies = vec![
            Body::Ground,
            Body::Platform,
            Body::Crank(CrankId(0)),
            Body::Crank(CrankId(1)),
        ];
        (prop::sample::select(bodies), point()).prop_map(|(body, point)| Anchor { body, point })
    }

    fn axis() -> impl Strategy<Value = Vector3<f64>> {
        point()
            .prop_map(|p| p.coords)
            .prop_filter("an axis has a direction", |v| v.norm() > 0.1)
    }

    /// One crank on the ground, one on the platform.
    fn cranks() -> impl Strategy<Value = Vec<Crank>> {
        (point(), axis(), point(), axis())
            .prop_map(|(p, a, q, b)| vec![Crank::on_ground(p, a), Crank::on_platform(q, b)])
    }

    fn pose() -> impl Strategy<Value = Configuration> {
        let places = [-1.0..1.0, -1.0..1.0, -1.0..1.0];
        let angles = [-3.0..3.0, -1.2..1.2, -3.0..3.0, -3.0..3.0, -3.0..3.0];
        (places, angles).prop_map(|([x, y, z], [yaw, roll, pitch, a, b])| {
            Configuration::from_array([x, y, z, yaw, roll, pitch, a, b])
        })
    }

    fn gap_m(link: &Link, cranks: &[Crank], coordinates: [f64; COORDINATES]) -> f64 {
        let at = Configuration::from_array(coordinates);
        link.row(cranks, &at, &Axes::of(&at)).gap_m
    }

    /// Central difference of the gap by one coordinate.
    fn difference(link: &Link, cranks: &[Crank], at: &Configuration, which: usize) -> f64 {
        let stepped = |step: f64| {
            let mut coordinates = at.to_array();
            coordinates[which] += step;
            gap_m(link, cranks, coordinates)
        };
        (stepped(STEP) - stepped(-STEP)) / (2.0 * STEP)
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 4000, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn every_derivative_is_that_of_the_gap(from in anchor(), to in anchor(), cranks in cranks(), at in pose()) {
            let link = Link { from, to, length_m: 0.7, stiffness_n_per_m: 1.0 };
            let row = link.row(&cranks, &at, &Axes::of(&at));
            if row.gap_m + link.length_m < NEAREST_M {
                return Ok(());
            }
            for (which, name) in NAMES.iter().enumerate() {
                let (written, found) = (row.gradient[which], difference(&link, &cranks, &at, which));
                let off = (written - found).abs();
                prop_assert!(off <= AGREEMENT, "{:?} to {:?} by {name}: {written}, by differences {found}", from.body, to.body);
            }
        }
    }

    #[test]
    fn a_link_whose_ends_meet_is_short_by_its_length_and_has_no_direction() {
        let at = |body| Anchor {
            body,
            point: Point3::new(0.1, 0.2, 0.3),
        };
        let link = Link {
            from: at(Body::Ground),
            to: at(Body::Platform),
            length_m: 0.5,
            stiffness_n_per_m: 1.0,
        };
        let drawn = Configuration::level_at(0.0);
        let row = link.row(&[], &drawn, &Axes::of(&drawn));
        assert_eq!((row.gap_m, row.gradient), (-0.5, [0.0; COORDINATES]));
    }
}
