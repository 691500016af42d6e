//! The closed form of an axle on equal parallel bars and a panhard bar: it cannot turn, so it moves as a point on two spheres.
//!
//! Each bar that leads from its frame mount by `r` to the axle keeps its length when the axle moves by `t`: `2 r.t + t.t = 0`.
//! One long bar and the panhard bar give two such equations for the two components of `t` that are not driven: their difference is
//! linear, and what remains is a quadratic.

use nalgebra::Vector3;
use rearend::setup::{Bar, Role, Setup};

/// From a bar's frame mount to its axle mount at ride height, frame coordinates.
fn along(setup: &Setup, bar: &Bar) -> Vector3<f64> {
    let lift = setup.axle_z_m(setup.travel.ride_m);
    bar.mount_in_axle - bar.mount_in_frame + Vector3::new(0.0, 0.0, lift)
}

/// How the axle has moved in frame coordinates from ride height to another height, + forward, left, up.
///
/// # Panics
/// When the long bars are not equal and parallel, or there is no panhard bar, or that height is out of reach.
#[must_use]
pub fn moved(setup: &Setup, height_m: f64) -> Vector3<f64> {
    let up = setup.axle_z_m(height_m) - setup.axle_z_m(setup.travel.ride_m);
    let (across, long): (Vec<_>, Vec<_>) = setup.bars.iter().partition(|b| b.role == Role::Sideways);
    let [across, long] = [across, long].map(|bars| bars.into_iter().map(|b| along(setup, b)).collect::<Vec<_>>());
    let bar = long[0];
    assert!(long.iter().all(|other| (other - bar).norm() < 1e-9 && other.y == 0.0));
    let difference = bar - across[0];
    // Sideways by forward: offset + slope * forward.
    let (offset, slope) = (-difference.z * up / difference.y, -difference.x / difference.y);
    let forward = root_nearest_zero(
        1.0 + slope * slope,
        2.0 * (bar.x + slope * offset),
        offset * offset + up * up + 2.0 * bar.z * up,
    );
    Vector3::new(forward, offset + slope * forward, up)
}

/// The root of `a x^2 + b x + c` that is nearest zero, without cancellation.
fn root_nearest_zero(a: f64, b: f64, c: f64) -> f64 {
    let under = b * b - 4.0 * a * c;
    assert!(under >= 0.0, "the bars do not reach that far");
    -2.0 * c / (b + under.sqrt().copysign(b))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_bar_keeps_its_length() {
        let setup = shop::demo::ALL[0].setup().expect("a demo reads");
        for height_m in [setup.travel.laid_out_m, 0.17, setup.travel.full_lift_m] {
            let moved = moved(&setup, height_m);
            for bar in &setup.bars {
                let along = along(&setup, bar);
                assert!(
                    ((along + moved).norm() - along.norm()).abs() < 1e-14,
                    "{} at {height_m}",
                    bar.name
                );
            }
        }
    }
}
