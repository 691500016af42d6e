//! An air spring: rubber that keeps its length while the spring is pressed together, and so bulges; its plates and hoops.

use super::{Axis, Solid, circle, held, lathe, skin};
use bevy::math::{Affine3A, Vec2, Vec3};
use std::f32::consts::PI;

/// An air spring, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirBag {
    /// Radius of the plates, and of the hoops between two bulges.
    pub plate: f32,
    /// Bulges above each other.
    pub bulges: usize,
    /// Length of the rubber of one bulge, from plate to hoop along its skin.
    rubber: f32,
    /// The widest it may be drawn.
    widest: f32,
}

/// The most bulges an air spring is drawn with.
const MOST_BULGES: usize = 3;
/// A plate is at least this part as wide as the bag.
const LEAST_PLATE: f32 = 0.48;

impl AirBag {
    /// The bag that is `radius` wide at its shortest and just taut at its longest, with as few bulges as leave room for its plates.
    #[must_use]
    pub fn fitting(radius: f32, shortest: f32, longest: f32) -> AirBag {
        let radius = held(radius, 0.03, 0.5);
        let shortest = held(shortest, 0.02, 2.0);
        let longest = held(longest, shortest * 1.1, 3.0);
        let with = |bulges: usize| {
            let rubber = longest * 1.05 / bulges as f32;
            let plate = radius - bulge_height(shortest / bulges as f32, rubber);
            AirBag {
                plate: plate.max(radius * LEAST_PLATE),
                bulges,
                rubber,
                widest: radius * 1.06,
            }
        };
        let roomy = |bag: &AirBag| bag.plate > radius * LEAST_PLATE;
        (1..MOST_BULGES)
            .map(with)
            .find(roomy)
            .unwrap_or_else(|| with(MOST_BULGES))
    }

    /// The rubber between a lower and an upper plate: each map takes the plate's middle from the origin and its axis from Z.
    #[must_use]
    pub fn between(&self, lower: Affine3A, upper: Affine3A) -> Solid {
        let high = Vec3::from(lower.translation)
            .distance(upper.translation.into())
            .max(0.005);
        let flat = circle(Vec2::ZERO, 1.0, 36);
        let across = |at: Affine3A| [at.matrix3.x_axis, at.matrix3.y_axis].map(Vec3::from);
        let (low, top) = (across(lower), across(upper));
        let ring = |p: Vec2| {
            let share = p.x / high;
            let middle = Vec3::from(lower.translation).lerp(upper.translation.into(), share);
            let [x, y] = [0, 1].map(|i| low[i].lerp(top[i], share).normalize_or(low[i]));
            flat.iter()
                .map(|f| middle + (x * f.x + y * f.y) * p.y)
                .collect::<Vec<_>>()
        };
        skin(&self.profile(high).into_iter().map(ring).collect::<Vec<_>>())
    }

    /// The skin seen from the side at a height: (up, radius) from the lower plate to the upper one.
    fn profile(&self, high: f32) -> Vec<Vec2> {
        const STEPS: usize = 14;
        let chord = high / self.bulges as f32;
        let half = half_angle(chord, self.rubber);
        let radius = (self.rubber / 2.0 / half).min(50.0);
        let tall = (radius * (1.0 - half.cos())).max(1e-4);
        let squeeze = ((self.widest - self.plate) / tall).min(1.0);
        let bulge = move |number: usize| {
            let middle = chord * (number as f32 + 0.5);
            let first = usize::from(number > 0);
            (first..=STEPS).map(move |step| {
                let angle = half * (2.0 * step as f32 / STEPS as f32 - 1.0);
                // Neighbours press each other flat where they would meet.
                let up = (radius * angle.sin()).clamp(-chord * 0.62, chord * 0.62);
                let reach = |number: usize| number as f32 * chord;
                let up = (middle + up).clamp(reach(number) - chord * 0.08, reach(number + 1) + chord * 0.08);
                Vec2::new(up, self.plate + radius * (angle.cos() - half.cos()) * squeeze)
            })
        };
        (0..self.bulges).flat_map(bulge).collect()
    }
}

/// How far a skin of this length stands out between two edges `chord` apart.
fn bulge_height(chord: f32, rubber: f32) -> f32 {
    let half = half_angle(chord, rubber);
    rubber / 2.0 / half * (1.0 - half.cos())
}

/// Half the angle of the arc with this chord and length: `sin(a) / a = chord / length`. Nearly none where the skin is taut.
fn half_angle(chord: f32, length: f32) -> f32 {
    let wanted = (chord / length.max(1e-6)).clamp(0.02, 0.9998);
    let (mut low, mut high) = (0.01, PI * 0.98);
    for _ in 0..24 {
        let middle = (low + high) * 0.5;
        if middle.sin() / middle > wanted {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low + high) * 0.5
}

/// The pressed plate that closes a bag: from the origin towards -Z, its crimped rim round the rubber.
#[must_use]
pub fn bag_plate(radius: f32) -> Solid {
    let radius = held(radius, 0.02, 0.5);
    let p = Vec2::new;
    let profile = [
        p(0.0, 0.0),
        p(0.0, radius * 0.86),
        p(-0.002, radius * 0.90),
        p(-0.010, radius * 1.02),
        p(-0.013, radius * 1.06),
        p(-0.011, radius * 1.09),
        p(-0.004, radius * 1.08),
        p(0.004, radius * 0.92),
        p(0.004, 0.0),
    ];
    lathe(&profile, 36, Axis::Z)
}

/// The hoop between two bulges, about Z.
#[must_use]
pub fn bag_hoop(radius: f32) -> Solid {
    lathe(&circle(Vec2::new(0.0, held(radius, 0.02, 0.5)), 0.006, 10), 36, Axis::Z)
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;
    use bevy::math::Quat;

    fn widest(bag: &AirBag, high: f32) -> f32 {
        let upper = Affine3A::from_translation(Vec3::Z * high);
        bag.between(Affine3A::IDENTITY, upper).bounds().1.x
    }

    #[test]
    fn a_bag_bulges_to_its_width_when_it_is_short() {
        let bag = AirBag::fitting(0.1, 0.075, 0.26);
        assert!((widest(&bag, 0.075) - 0.1).abs() < 0.004, "{}", widest(&bag, 0.075));
        assert!(widest(&bag, 0.15) < widest(&bag, 0.075) && widest(&bag, 0.26) < widest(&bag, 0.15));
        assert!(widest(&bag, 0.26) > bag.plate);
    }

    #[test]
    fn a_bag_is_closed_between_plates_that_lean() {
        let bag = AirBag::fitting(0.1, 0.075, 0.26);
        for high in [0.06, 0.15, 0.3] {
            let lean = Affine3A::from_rotation_translation(Quat::from_rotation_x(0.1), Vec3::new(0.02, 0.0, high));
            check::closed(&bag.between(Affine3A::IDENTITY, lean));
        }
        check::closed(&bag_plate(0.06));
        check::closed(&bag_hoop(0.06));
    }

    #[test]
    fn silly_bags_do_no_harm() {
        for size in [0.0, -1.0, 1e9, f32::NAN] {
            let bag = AirBag::fitting(size, size, size);
            check::sound(&bag.between(Affine3A::IDENTITY, Affine3A::IDENTITY));
            check::sound(&bag_plate(size));
            check::sound(&bag_hoop(size));
        }
    }
}
