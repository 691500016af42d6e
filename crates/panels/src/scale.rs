//! The height scale that the ride post and all strips share.

use egui::Rect;
use rearend::setup::Travel;

/// Space above the scale: the strips' names and figures stand here.
pub const HEAD: f32 = 62.0;
/// Space below it: the twist wheel and the strips' full scales.
pub const FOOT: f32 = 74.0;

/// Ride heights against places on the screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeightScale {
    /// Place of full lift.
    pub top: f32,
    /// Place of laid out.
    pub bottom: f32,
    low_m: f64,
    high_m: f64,
}

impl HeightScale {
    /// The scale of a travel in an area whose head and foot are kept free.
    #[must_use]
    pub fn new(travel: &Travel, area: Rect) -> Self {
        let (top, bottom) = (area.top() + HEAD, (area.bottom() - FOOT).max(area.top() + HEAD + 40.0));
        Self {
            top,
            bottom,
            low_m: travel.laid_out_m,
            high_m: travel.full_lift_m,
        }
    }

    /// Where a height stands.
    #[must_use]
    pub fn y(&self, height_m: f64) -> f32 {
        let part = (height_m - self.low_m) / (self.high_m - self.low_m);
        #[expect(clippy::cast_possible_truncation, reason = "the screen is single precision")]
        let part = part as f32;
        self.bottom + (self.top - self.bottom) * part
    }

    /// The height at a place, kept within the travel.
    #[must_use]
    pub fn height_m(&self, y: f32) -> f64 {
        let part = f64::from((self.bottom - y) / (self.bottom - self.top));
        self.low_m + (self.high_m - self.low_m) * part.clamp(0.0, 1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_height_is_found_where_it_stands() {
        let travel = Travel {
            laid_out_m: 0.01,
            ride_m: 0.1,
            full_lift_m: 0.23,
            one_wheel_up_rad: 0.05,
            front: rearend::setup::Front::Follows,
        };
        let scale = HeightScale::new(
            &travel,
            Rect::from_min_max(egui::pos2(0.0, 20.0), egui::pos2(90.0, 620.0)),
        );
        assert!((f64::from(scale.y(0.23)) - 82.0).abs() < 1e-4 && (f64::from(scale.y(0.01)) - 546.0).abs() < 1e-4);
        for height_m in [0.01, 0.1, 0.2] {
            assert!((scale.height_m(scale.y(height_m)) - height_m).abs() < 1e-7);
        }
        assert_eq!(scale.height_m(-1000.0), 0.23, "kept within the travel");
    }
}
