//! Four links from the ground to the platform at once: most mechanisms consist of them, and four square roots side by side take little
//! longer than one.

use crate::COORDINATES;
use crate::anchor::Body;
use crate::configuration::{Axes, Configuration};
use crate::link::Link;

type Four = [f64; 4];

/// Up to four links. Places beyond the last hold the last one again, so that they are as well behaved.
#[derive(Clone, Debug)]
pub(crate) struct FourLinks {
    on_ground: [Four; 3],
    on_platform: [Four; 3],
    length_m: Four,
}

/// Their gaps, and the gradients by coordinate in scaled coordinates: `gradient[coordinate][link]`.
pub(crate) struct FourRows {
    pub gap_m: Four,
    pub gradient: [Four; 6],
}

/// True for a link that runs from the ground to the platform.
pub(crate) fn is_plain(link: &Link) -> bool {
    (link.from.body, link.to.body) == (Body::Ground, Body::Platform)
}

impl FourLinks {
    /// From one to four plain links.
    pub fn of(links: &[Link]) -> Self {
        let link = |i: usize| &links[i.min(links.len() - 1)];
        let each = |value: &dyn Fn(&Link) -> f64| std::array::from_fn(|i| value(link(i)));
        Self {
            on_ground: [0, 1, 2].map(|k| each(&|l| l.from.point[k])),
            on_platform: [0, 1, 2].map(|k| each(&|l| l.to.point[k])),
            length_m: each(&|l| l.length_m),
        }
    }

    /// See [`Link::row`], of which this is the same four times.
    #[inline(always)]
    pub fn rows(&self, at: &Configuration, axes: &Axes, per_scale: f64) -> FourRows {
        let r = &axes.ground_from_platform;
        let [px, py, pz] = &self.on_platform;
        let turned = |k: usize| sum3([r[(k, 0)], r[(k, 1)], r[(k, 2)]], [px, py, pz]);
        let arm = [turned(0), turned(1), turned(2)];
        let origin = at.origin_in_ground;
        let from_ground = |k: usize| zip(&arm[k], &self.on_ground[k], |a, g| origin[k] + a - g);
        let along = [from_ground(0), from_ground(1), from_ground(2)];
        let distance: Four = std::array::from_fn(|i| {
            (along[0][i] * along[0][i] + along[1][i] * along[1][i] + along[2][i] * along[2][i]).sqrt()
        });
        let per_distance = distance.map(|d| if d > 0.0 { 1.0 / d } else { 0.0 });
        let unit = |k: usize| zip(&along[k], &per_distance, |a, p| a * p);
        let n = [unit(0), unit(1), unit(2)];
        let cross = |a: usize, b: usize| -> Four {
            std::array::from_fn(|i| (arm[a][i] * n[b][i] - arm[b][i] * n[a][i]) * per_scale)
        };
        let moment = [cross(1, 2), cross(2, 0), cross(0, 1)];
        let [mx, my, mz] = &moment;
        let about = |axis: &nalgebra::Vector3<f64>| sum3([axis.x, axis.y, axis.z], [mx, my, mz]);
        FourRows {
            gap_m: zip(&distance, &self.length_m, |d, l| d - l),
            gradient: [
                n[0],
                n[1],
                n[2],
                moment[2],
                about(&axes.roll_axis),
                about(&axes.pitch_axis),
            ],
        }
    }
}

impl FourRows {
    /// The gradient of one of them.
    #[inline(always)]
    pub fn gradient_of(&self, link: usize) -> [f64; COORDINATES] {
        std::array::from_fn(|c| if c < 6 { self.gradient[c][link] } else { 0.0 })
    }
}

#[inline(always)]
fn zip(a: &Four, b: &Four, f: impl Fn(f64, f64) -> f64) -> Four {
    std::array::from_fn(|i| f(a[i], b[i]))
}

/// `by[0] of[0] + by[1] of[1] + by[2] of[2]`, four times.
#[inline(always)]
fn sum3(by: [f64; 3], of: [&Four; 3]) -> Four {
    std::array::from_fn(|i| by[0] * of[0][i] + by[1] * of[1][i] + by[2] * of[2][i])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::anchor::Anchor;
    use nalgebra::Point3;
    use proptest::prelude::*;

    fn point() -> impl Strategy<Value = Point3<f64>> {
        [-1.0..1.0, -1.0..1.0, -1.0..1.0].prop_map(Point3::from)
    }

    proptest! {
        #[test]
        fn four_at_once_are_four_one_by_one(
            ends in prop::collection::vec((point(), point(), 0.1..1.0f64), 1..=4),
            at in ([-1.0..1.0, -1.0..1.0, -1.0..1.0], [-3.0..3.0, -1.2..1.2, -3.0..3.0]),
        ) {
            let ([x, y, z], [yaw, roll, pitch]) = at;
            let at = Configuration::from_array([x, y, z, yaw, roll, pitch, 0.0, 0.0]);
            let axes = Axes::of(&at);
            let link = |&(from, to, length_m): &(Point3<f64>, Point3<f64>, f64)| Link {
                from: Anchor { body: Body::Ground, point: from },
                to: Anchor { body: Body::Platform, point: to },
                length_m,
                stiffness_n_per_m: 1.0,
            };
            let links: Vec<_> = ends.iter().map(link).collect();
            let rows = FourLinks::of(&links).rows(&at, &axes, 0.5);
            for (i, link) in links.iter().enumerate() {
                let row = link.row(&[], &at, &axes);
                prop_assert!((row.gap_m - rows.gap_m[i]).abs() < 1e-14);
                for c in 0..COORDINATES {
                    let scaled = if c < 3 { row.gradient[c] } else { row.gradient[c] * 0.5 };
                    prop_assert!((scaled - rows.gradient_of(i)[c]).abs() < 1e-13, "link {i}, coordinate {c}");
                }
            }
        }
    }
}
