//! Which measures have a direction.

use super::Measure;
use crate::tape::Ways;

impl Measure {
    /// The words for more and less than nothing, of a measure that can be either; none of one that has no direction.
    #[must_use]
    pub fn ways(&self) -> Option<Ways> {
        match self.key {
            "kick_up_start" | "kick_up_full" | "kick_up_level_end" | "kick_up_end" | "opening_x" | "output_x"
            | "carrier_x" | "spring_top_x" | "spring_bottom_x" => Some(Ways::AHEAD),
            "pinion_offset" | "lips_left" | "output_y" | "carrier_y" | "output_left" => Some(Ways::LEFT),
            "output_z" | "carrier_z" | "spring_top_z" | "spring_bottom_z" => Some(Ways::ABOVE),
            "pinion_drop" => Some(Ways::BELOW),
            "pinion_angle" | "output_nose_up" => Some(Ways::UP),
            _ => None,
        }
    }
}
