//! A joint: a point of the ground and a point of the platform that coincide, held more or less firmly in three directions.
//!
//! The eye of an arm that is rigid with the platform. Its bush lets the arm turn freely and gives a little in every direction, so that
//! three equations a joint never make a mechanism that cannot move: what does not fit is shared by stiffness.

use nalgebra::{Matrix3, Point3, Vector3};

use crate::COORDINATES;
use crate::anchor::Placed;
use crate::closure::Row;
use crate::configuration::{Axes, Configuration};

/// Which joint of a mechanism.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct JointId(pub usize);

/// Two points that coincide.
#[derive(Clone, Copy, Debug)]
pub struct Joint {
    /// The point of the ground, m.
    pub on_ground: Point3<f64>,
    /// The point of the platform, in its coordinates, m.
    pub on_platform: Point3<f64>,
    /// Unit directions in which the stiffnesses act, ground coordinates, one a column.
    pub directions: Matrix3<f64>,
    /// Stiffness along each direction, N/m.
    pub stiffness_n_per_m: Vector3<f64>,
}

impl Joint {
    /// A joint that fits where it is drawn.
    #[must_use]
    pub fn made_to_suit(
        on_ground: Point3<f64>,
        directions: Matrix3<f64>,
        stiffness_n_per_m: Vector3<f64>,
        drawn: &Configuration,
    ) -> Self {
        let back = drawn.ground_from_platform().transpose();
        Self {
            on_ground,
            on_platform: Point3::from(back * (on_ground - drawn.origin_in_ground)),
            directions,
            stiffness_n_per_m,
        }
    }

    /// From the ground's point to the platform's, m.
    pub(crate) fn opening(&self, at: &Configuration, axes: &Axes) -> Vector3<f64> {
        Placed::on_platform(self.on_platform, at, axes).point - self.on_ground
    }

    /// The three gaps and their gradients, one a direction.
    pub(crate) fn rows(&self, at: &Configuration, axes: &Axes) -> [Row; 3] {
        let placed = Placed::on_platform(self.on_platform, at, axes);
        let opening = placed.point - self.on_ground;
        [0, 1, 2].map(|k| {
            let direction = self.directions.column(k).into_owned();
            let mut gradient = [0.0; COORDINATES];
            placed.add_gradient(direction, axes, &mut gradient);
            Row {
                gap_m: opening.dot(&direction),
                gradient,
            }
        })
    }

    pub(crate) fn is_usable(&self) -> bool {
        let near = |p: &Point3<f64>| p.coords.iter().all(|v| v.is_finite() && v.abs() < 1e6);
        let square = self.directions.transpose() * self.directions;
        near(&self.on_ground)
            && near(&self.on_platform)
            && (square - Matrix3::identity()).norm() < 1e-9
            && self.stiffness_n_per_m.iter().all(|k| k.is_finite() && *k > 0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const NAMES: [&str; 6] = ["x", "y", "z", "yaw", "roll", "pitch"];
    const STEP: f64 = 1e-6;
    /// Gaps move by at most a few metres a unit; rounding of metre-sized points over the step is 1e-10.
    const AGREEMENT: f64 = 1e-9;

    fn point() -> impl Strategy<Value = Point3<f64>> {
        [-1.0..1.0, -1.0..1.0, -1.0..1.0].prop_map(Point3::from)
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 1000, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn every_derivative_is_that_of_the_gap(
            on_ground in point(), on_platform in point(), turn in point(),
            origin in point(), angles in [-3.0..3.0, -1.2..1.2, -3.0..3.0],
        ) {
            let directions = *nalgebra::Rotation3::from_scaled_axis(turn.coords).matrix();
            let joint = Joint { on_ground, on_platform, directions, stiffness_n_per_m: Vector3::repeat(1.0) };
            let coordinates = [origin.x, origin.y, origin.z, angles[0], angles[1], angles[2], 0.0, 0.0];
            let gaps = |coordinates| {
                let at = Configuration::from_array(coordinates);
                joint.rows(&at, &Axes::of(&at)).map(|row| row.gap_m)
            };
            let at = Configuration::from_array(coordinates);
            let rows = joint.rows(&at, &Axes::of(&at));
            for (which, name) in NAMES.iter().enumerate() {
                let stepped = |by: f64| { let mut c = coordinates; c[which] += by; gaps(c) };
                let (after, before) = (stepped(STEP), stepped(-STEP));
                for (k, row) in rows.iter().enumerate() {
                    let found = (after[k] - before[k]) / (2.0 * STEP);
                    prop_assert!((row.gradient[which] - found).abs() <= AGREEMENT, "gap {k} by {name}");
                }
            }
        }
    }

    #[test]
    fn made_to_suit_fits_where_it_is_drawn() {
        let drawn = Configuration {
            yaw_rad: 0.1,
            pitch_rad: -0.2,
            ..Configuration::level_at(0.3)
        };
        let eye = Point3::new(1.2, 0.15, 0.1);
        let joint = Joint::made_to_suit(eye, Matrix3::identity(), Vector3::repeat(1e6), &drawn);
        assert!((drawn.to_ground(joint.on_platform) - eye).norm() < 1e-15);
    }
}
