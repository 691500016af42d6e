//! Masses on springs.

use std::f64::consts::TAU;

/// Two springs one above the other: the wheel rate and the tyre, where that is known.
#[must_use]
pub fn in_series_n_per_m(wheel_n_per_m: f64, tyre_n_per_m: Option<f64>) -> f64 {
    match tyre_n_per_m {
        Some(tyre) if tyre > 0.0 && wheel_n_per_m > 0.0 => wheel_n_per_m * tyre / (wheel_n_per_m + tyre),
        _ => wheel_n_per_m,
    }
}

/// Natural frequency of a mass on a spring; `None` where nothing pulls it back.
#[must_use]
pub fn frequency_hz(rate_n_per_m: f64, mass_kg: f64) -> Option<f64> {
    let square = rate_n_per_m / mass_kg;
    (square > 0.0 && square.is_finite()).then(|| square.sqrt() / TAU)
}

/// Natural frequency of the axle's half between spring and tyre, the body taken as standing still; `None` where nothing pulls it back.
#[must_use]
pub fn wheel_hop_hz(wheel_n_per_m: f64, tyre_n_per_m: f64, unsprung_kg: f64) -> Option<f64> {
    frequency_hz(wheel_n_per_m + tyre_n_per_m, unsprung_kg)
}
