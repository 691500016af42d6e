//! The side view of a rail: how far kick-up and notch lift it. The one source for what is drawn and for what is measured; over either
//! float, because drawing has f32.

use nalgebra::{Point3, RealField};

use crate::setup::{KickUp, Rails};

/// Part of a ramp that each of its round bends takes.
const ROUND: f64 = 0.34;

/// Ramps shorter than this, m, are taken as this long: a step would have no slope.
const SHORTEST_RAMP_M: f64 = 1e-3;

/// How much of its rise a kick-up has reached at `x`, from 0 to 1. Its four stations: where it starts, is full, ceases to be level, ends.
#[must_use]
pub fn rise_share<T: RealField + Copy>([start, full, level_end, end]: [T; 4], x: T) -> T {
    let climbed = bend((x - start) / apart(full - start));
    let fallen = bend((x - level_end) / apart(end - level_end));
    climbed.min(T::one() - fallen)
}

/// How much of its depth a notch has at `x`, from 0 to 1: a flat arch about X = 0.
#[must_use]
pub fn cut_share<T: RealField + Copy>(half_length: T, x: T) -> T {
    let share = (x / half_length.max(lit(1e-3))).abs().min(T::one());
    (T::one() - share.powf(lit(2.6))).max(T::zero()).powf(lit(0.75))
}

/// How far a kick-up has lifted the rails at a station, m.
#[must_use]
pub fn lift_m(rails: &Rails, x_m: f64) -> f64 {
    rails.kick_up.map_or(0.0, |kick| {
        let stations = [kick.start_x_m, kick.full_x_m, kick.level_end_x_m, kick.end_x_m];
        kick.rise_m * rise_share(stations, x_m)
    })
}

/// The underside of the rails at a station, frame coordinates, m: kick-up and notch.
#[must_use]
pub fn underside_z_m(rails: &Rails, x_m: f64) -> f64 {
    let cut_m = rails.notch.map_or(0.0, |n| n.depth_m * cut_share(n.half_length_m, x_m));
    lift_m(rails, x_m) + cut_m
}

/// The top of the rails at a station, frame coordinates, m.
#[must_use]
pub fn top_z_m(rails: &Rails, x_m: f64) -> f64 {
    lift_m(rails, x_m) + rails.height_m
}

/// A crossmember's axis from the left rail's web to the right one's, and its radius: a round tube, three tenths of the room in the rail for
/// its radius, bent up in the middle where it is hooped over the shaft.
#[must_use]
pub fn crossmember_m(rails: &Rails, x_m: f64) -> (Vec<Point3<f64>>, f64) {
    let low = underside_z_m(rails, x_m) + rails.wall_m;
    let high = lift_m(rails, x_m) + rails.height_m - rails.wall_m;
    let radius_m = ((high - low).max(0.01) * 0.3).min(0.05);
    let half_m = (rails.spacing_m / 2.0 - rails.wall_m).max(radius_m);
    let middle = f64::midpoint(low, high);
    let at = |y: f64, up: f64| Point3::new(x_m, y, middle + up);
    let Some(hoop) = rails.hoop_at(x_m) else {
        return (vec![at(half_m, 0.0), at(-half_m, 0.0)], radius_m);
    };
    // Bent at about sixty degrees: as far out as half of what it rises.
    let foot_m = hoop.half_width_m + hoop.rise_m / 2.0;
    let left = [
        at(half_m, 0.0),
        at(foot_m.min(half_m), 0.0),
        at(hoop.half_width_m.min(half_m), hoop.rise_m),
    ];
    let right = left.iter().rev().map(|p| Point3::new(p.x, -p.y, p.z));
    (left.iter().copied().chain(right).collect(), radius_m)
}

/// Stations between which the side view is as good as straight, rear first.
#[must_use]
pub fn stations_m(rails: &Rails) -> Vec<f64> {
    const RAMP: u32 = 8;
    const ARCH: u32 = 10;
    let (rear_m, front_m) = (rails.rear_x_m, rails.front_x_m);
    let mut all = vec![rear_m, front_m];
    if let Some(kick) = rails.kick_up {
        for (from, to) in [(kick.start_x_m, kick.full_x_m), (kick.level_end_x_m, kick.end_x_m)] {
            all.extend((0..=RAMP).map(|i| from + (to - from) * f64::from(i) / f64::from(RAMP)));
        }
    }
    if let Some(notch) = rails.notch {
        // Closer together where the arch is steep.
        let share = |i: u32| (f64::from(i) / f64::from(ARCH) * std::f64::consts::FRAC_PI_2).sin();
        let half = (0..=ARCH).map(|i| share(i) * notch.half_length_m);
        all.extend(half.flat_map(|x| [-x, x]));
    }
    all.retain(|x| *x >= rear_m && *x <= front_m);
    all.sort_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() < 1e-4);
    all
}

/// Where a kick-up bends, from and to: between those it is level or climbs straight. In each its curve is a parabola.
pub(crate) fn bends_m(kick: &KickUp) -> [[f64; 2]; 4] {
    let ramp = |from: f64, to: f64| {
        let long_m = apart(to - from);
        let at = |share: f64| from + long_m * share;
        [[at(0.0), at(ROUND)], [at(1.0 - ROUND), at(1.0)]]
    };
    let ([a, b], [c, d]) = (
        ramp(kick.start_x_m, kick.full_x_m),
        ramp(kick.level_end_x_m, kick.end_x_m),
    );
    [a, b, c, d]
}

/// From 0 to 1: a straight climb with a round bend at both ends.
fn bend<T: RealField + Copy>(share: T) -> T {
    let (one, half, round) = (T::one(), lit::<T>(0.5), lit::<T>(ROUND));
    // What is no number is the near end of the ramp.
    let share = if share > T::zero() { share.min(one) } else { T::zero() };
    let steep = one / (one - round);
    let low = |at: T| steep * at * at * half / round;
    if share < round {
        low(share)
    } else if share > one - round {
        one - low(one - share)
    } else {
        steep * (share - round * half)
    }
}

fn apart<T: RealField + Copy>(distance: T) -> T {
    let least = lit::<T>(SHORTEST_RAMP_M);
    if distance.abs() > least {
        distance
    } else {
        least.copysign(distance)
    }
}

fn lit<T: RealField>(value: f64) -> T {
    nalgebra::convert(value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::setup::{KickUp, Notch, Section};

    fn rails() -> Rails {
        Rails {
            spacing_m: 0.86,
            height_m: 0.15,
            flange_m: 0.065,
            wall_m: 0.006,
            section: Section::Channel,
            front_x_m: 1.6,
            rear_x_m: -1.0,
            kick_up: Some(KickUp {
                start_x_m: 0.75,
                full_x_m: 0.35,
                level_end_x_m: -0.35,
                end_x_m: -0.75,
                rise_m: 0.12,
            }),
            notch: Some(Notch {
                depth_m: 0.06,
                half_length_m: 0.14,
            }),
            crossmembers_x_m: Vec::new(),
            hoop: None,
        }
    }

    #[test]
    fn the_underside_rises_by_kick_up_and_notch() {
        let rails = rails();
        assert!((underside_z_m(&rails, 0.0) - 0.18).abs() < 1e-12);
        assert!((underside_z_m(&rails, 0.2) - 0.12).abs() < 1e-12);
        assert!(underside_z_m(&rails, 1.0).abs() < 1e-12 && underside_z_m(&rails, -0.9).abs() < 1e-12);
        assert!((top_z_m(&rails, 0.0) - 0.27).abs() < 1e-12);
        // Half way up a ramp, by its symmetry.
        assert!((lift_m(&rails, 0.55) - 0.06).abs() < 1e-12);
    }

    #[test]
    fn between_stations_the_side_view_is_straight_to_a_millimetre() {
        let rails = rails();
        for pair in stations_m(&rails).windows(2) {
            let [a, b] = [pair[0], pair[1]];
            let chord = f64::midpoint(underside_z_m(&rails, a), underside_z_m(&rails, b));
            let sag = underside_z_m(&rails, f64::midpoint(a, b)) - chord;
            assert!(sag.abs() < 1.2e-3, "{sag} between {a} and {b}");
        }
    }

    #[test]
    fn a_ramp_without_length_and_no_number_do_no_harm() {
        assert!(rise_share([0.5_f64, 0.5, -0.5, -0.5], 0.0).is_finite());
        assert!(rise_share([f64::NAN; 4], 0.0).is_finite());
        assert!((cut_share(0.0_f32, 0.0) - 1.0).abs() < 1e-6);
    }
}
