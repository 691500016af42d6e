//! How fast the shaft turns, and the working angles that go with a speed.

use std::f64::consts::PI;

use crate::setup::{Setup, ShaftSpeed};

/// Largest working angle by speed, turns a minute and degrees, slowest first. Source: a shaft makers' guide, from memory. Speed times angle
/// is about constant: it sets the acceleration that a joint forces on its shaft.
const LARGEST: [(f64, f64); 8] = [
    (1500.0, 11.5),
    (2000.0, 8.7),
    (2500.0, 7.0),
    (3000.0, 5.8),
    (3500.0, 5.0),
    (4000.0, 4.2),
    (4500.0, 3.7),
    (5000.0, 3.2),
];

/// The largest angle that the guide lists at any speed.
pub const LISTED_RAD: f64 = LARGEST[0].1 * PI / 180.0;

/// The slowest speed that the guide lists.
pub const LISTED_RAD_PER_S: f64 = LARGEST[0].0 * RPM;

/// One turn a minute.
const RPM: f64 = PI / 30.0;

/// Turns a minute.
#[must_use]
pub fn rpm(shaft_rad_per_s: f64) -> f64 {
    shaft_rad_per_s / RPM
}

/// The shaft as fast as the truck is driven. A tyre rolls on a little more than its loaded radius, so this is on the safe side.
#[must_use]
pub fn shaft_rad_per_s(setup: &Setup, speed: &ShaftSpeed) -> f64 {
    speed.fastest_m_per_s / setup.wheels.loaded_radius_m * speed.axle_ratio
}

/// The truck with its shaft at this speed.
#[must_use]
pub fn road_m_per_s(setup: &Setup, speed: &ShaftSpeed, shaft_rad_per_s: f64) -> f64 {
    shaft_rad_per_s / speed.axle_ratio * setup.wheels.loaded_radius_m
}

/// The largest working angle at a shaft speed: between the guide's lines speed times angle goes straight, beyond them it stays.
#[must_use]
pub fn largest_angle_rad(shaft_rad_per_s: f64) -> f64 {
    let n = rpm(shaft_rad_per_s);
    let line = LARGEST.windows(2).find(|pair| n <= pair[1].0);
    let product = match line {
        Some([slow, fast]) if n > slow.0 => {
            let part = (n - slow.0) / (fast.0 - slow.0);
            product(*slow) + (product(*fast) - product(*slow)) * part
        }
        Some([slow, ..]) => product(*slow),
        _ => product(LARGEST[LARGEST.len() - 1]),
    };
    (product / n).to_radians()
}

/// The inverse: the fastest that the shaft may turn at a working angle; no bound for a straight shaft.
#[must_use]
pub fn fastest_rad_per_s(angle_rad: f64) -> f64 {
    let deg = angle_rad.to_degrees();
    let line = LARGEST.windows(2).find(|pair| deg >= pair[1].1);
    let n = match line {
        Some([slow, fast]) if deg < slow.1 => {
            let slope = (product(*fast) - product(*slow)) / (fast.0 - slow.0);
            (product(*slow) - slope * slow.0) / (deg - slope)
        }
        Some([slow, ..]) => product(*slow) / deg,
        _ => product(LARGEST[LARGEST.len() - 1]) / deg,
    };
    n * RPM
}

fn product((rpm, deg): (f64, f64)) -> f64 {
    rpm * deg
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: the makers' guide's own lines, written out here a second time.
    #[test]
    fn the_lines_of_the_guide_come_out() {
        for (n, deg) in [
            (5000.0, 3.2),
            (4000.0, 4.2),
            (3500.0, 5.0),
            (2500.0, 7.0),
            (1500.0, 11.5),
        ] {
            assert!((largest_angle_rad(n * RPM).to_degrees() - deg).abs() < 1e-12, "{n}");
        }
    }

    /// Source: the guide's bounds of speed times angle, 16000 to 17500.
    #[test]
    fn speed_times_angle_is_about_constant_and_the_inverse_gives_the_speed_back() {
        for tenth in 1..900 {
            let n = f64::from(tenth) * 10.0;
            let angle = largest_angle_rad(n * RPM);
            let product = n * angle.to_degrees();
            assert!((15_999.9..17_500.1).contains(&product), "{n} {product}");
            assert!((rpm(fastest_rad_per_s(angle)) - n).abs() < 1e-6, "{n}");
        }
        assert_eq!(fastest_rad_per_s(0.0), f64::INFINITY);
    }
}
