//! Air springs, from their maker's chart.
//!
//! The effective area at a height is the chart's load over the chart's pressure; the load at another pressure is that pressure times the
//! area. Air shut in follows p V^n = const, p from nothing.

use super::Curve;
use crate::setup::{AirPoint, AirSpring};

/// n of p V^n for air that has no time to lose all its heat: an air spring maker's design guide, EMDG198, p. 22.
pub const EXPONENT: f64 = 1.38;

/// Standard atmosphere.
pub const ATMOSPHERE_PA: f64 = 101_325.0;

/// An air spring at a height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirShape {
    /// Load over gauge pressure.
    pub area_m2: f64,
    /// How that grows with the height.
    pub area_per_m: f64,
    /// Air in it.
    pub volume_m3: f64,
    /// How that grows with the height.
    pub volume_per_m: f64,
}

impl AirShape {
    /// At a height; `None` beyond the chart.
    #[must_use]
    pub fn at(air: &AirSpring, height_m: f64) -> Option<Self> {
        let load: fn(&AirPoint) -> (f64, f64) = |p| (p.height_m, p.load_n);
        let volume: fn(&AirPoint) -> (f64, f64) = |p| (p.height_m, p.volume_m3);
        let (load_n, load_per_m) = Curve::new(&air.chart, load).at(height_m)?;
        let (volume_m3, volume_per_m) = Curve::new(&air.chart, volume).at(height_m)?;
        Some(Self {
            area_m2: load_n / air.chart_pa,
            area_per_m: load_per_m / air.chart_pa,
            volume_m3,
            volume_per_m,
        })
    }

    /// The gauge pressure that makes a force; `None` where there is no area to press on.
    #[must_use]
    pub fn pressure_for_pa(&self, force_n: f64) -> Option<f64> {
        (self.area_m2 > 0.0).then(|| force_n / self.area_m2)
    }

    /// The rate with the air shut in at a gauge pressure: -dF/dh of F = (p - p_air) A with p V^n = const,
    ///
    /// k = n p A V' / V - (p - p_air) A', all derivatives by height.
    #[must_use]
    pub fn rate_n_per_m(&self, gauge_pa: f64) -> f64 {
        if self.volume_m3 <= 0.0 {
            return 0.0;
        }
        let stiffening = EXPONENT * (gauge_pa + ATMOSPHERE_PA) * self.area_m2 * self.volume_per_m / self.volume_m3;
        stiffening - gauge_pa * self.area_per_m
    }

    /// The gauge pressure after air shut in at a gauge pressure here is brought to another height.
    #[must_use]
    pub fn shut_in_pa(&self, gauge_pa: f64, there: &Self) -> f64 {
        if there.volume_m3 <= 0.0 {
            return gauge_pa;
        }
        (gauge_pa + ATMOSPHERE_PA) * (self.volume_m3 / there.volume_m3).powf(EXPONENT) - ATMOSPHERE_PA
    }
}

/// The mean rate between two heights, the air shut in at a gauge pressure midway: a maker's formula, design guide EMDG198, p. 22, which
/// takes them an inch apart,
///
/// K = [(Pg + Pa) (Ac (V1/Vc)^1.38 - Ae (V1/Ve)^1.38) - Pa (Ac - Ae)] / (he - hc),
///
/// with the areas A and volumes V compressed (c), midway (1) and extended (e). [`AirShape::rate_n_per_m`] is its limit for heights that come
/// together. `atmosphere_pa` is a parameter because the guide rounds it to 14.7 psi.
#[must_use]
pub fn maker_rate_n_per_m(
    gauge_pa: f64,
    atmosphere_pa: f64,
    compressed: (f64, f64),
    midway_m3: f64,
    extended: (f64, f64),
    apart_m: f64,
) -> f64 {
    let pressed = |(area_m2, volume_m3): (f64, f64)| area_m2 * (midway_m3 / volume_m3).powf(EXPONENT);
    let absolute = (gauge_pa + atmosphere_pa) * (pressed(compressed) - pressed(extended));
    (absolute - atmosphere_pa * (compressed.0 - extended.0)) / apart_m
}
