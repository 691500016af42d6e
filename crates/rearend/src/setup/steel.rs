//! What a shop builds with: plate, bolts, and what is screwed or welded into the ends of a bar.
//!
//! The usual values are common practice for bars on 3/4 in rod ends; every one can be changed to what lies on the shelf.

use serde::{Deserialize, Serialize};

use super::quantity::{amount_mm, optional_size_mm, ratio, size_mm};
use super::validate::SetupError;

/// What brackets and bars are made of.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Steel {
    /// Thickness of bracket plates.
    #[serde(rename = "plate_mm", with = "size_mm")]
    pub plate_m: f64,
    /// Diameter of the bolt through every joint.
    #[serde(rename = "bolt_mm", with = "size_mm")]
    pub bolt_m: f64,
    /// How much larger than its bolt a hole is cut.
    #[serde(rename = "hole_over_mm", with = "amount_mm")]
    pub hole_over_m: f64,
    /// Least from the centre of a hole to the edge of its plate, in diameters of the bolt.
    #[serde(rename = "edge_in_bolts", with = "ratio")]
    pub edge_in_bolts: f64,
    /// Clear width between the two plates of a bracket: the joint with its spacers.
    #[serde(rename = "gap_mm", with = "size_mm")]
    pub gap_m: f64,
    /// Whether brackets are stiffened by a gusset between their plates.
    pub gussets: bool,
    /// The rod ends.
    pub rod_end: RodEnd,
    /// Outside diameter of the eye that a bush is pressed into, welded across the end of its tube.
    #[serde(rename = "bush_eye_mm", with = "size_mm")]
    pub bush_eye_m: f64,
}

/// A rod end, and the threaded insert in the tube that takes it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct RodEnd {
    /// From the centre of the eye to the end of the shank.
    #[serde(rename = "eye_to_end_mm", with = "size_mm")]
    pub eye_to_end_m: f64,
    /// Length of the thread on the shank.
    #[serde(rename = "thread_mm", with = "size_mm")]
    pub thread_m: f64,
    /// Thickness of the jam nut.
    #[serde(rename = "jam_nut_mm", with = "amount_mm")]
    pub jam_nut_m: f64,
    /// How far the insert's shoulder stands out of the cut end of the tube.
    #[serde(rename = "insert_out_mm", with = "amount_mm")]
    pub insert_out_m: f64,
    /// Depth of the insert's thread, from its shoulder's face.
    #[serde(rename = "insert_depth_mm", with = "size_mm")]
    pub insert_depth_m: f64,
    /// Outside diameter of the insert's shank, which slides into the tube; left out where each insert is bought to suit its tube's bore.
    #[serde(
        rename = "insert_shank_mm",
        with = "optional_size_mm",
        skip_serializing_if = "Option::is_none"
    )]
    pub insert_shank_m: Option<f64>,
}

/// Steel that has to be left around the thread of an insert, m: 1/16 in, common practice.
const AROUND_THREAD_M: f64 = 0.001_587_5;

impl Default for RodEnd {
    /// A 3/4-16 rod end with its weld-in insert, which is sold for many bores: common practice, rounded to the eighth of an inch.
    fn default() -> Self {
        Self {
            eye_to_end_m: 0.073_025,
            thread_m: 0.044_45,
            jam_nut_m: 0.009_525,
            insert_out_m: 0.006_35,
            insert_depth_m: 0.038_1,
            insert_shank_m: None,
        }
    }
}

impl Default for Steel {
    /// Quarter-inch plate, 3/4 in bolts with a 1/32 in over, one and a half diameters to the edge, 1 3/4 in between the plates: common
    /// practice.
    fn default() -> Self {
        Self {
            plate_m: 0.006_35,
            bolt_m: 0.019_05,
            hole_over_m: 0.000_8,
            edge_in_bolts: 1.5,
            gap_m: 0.044_45,
            gussets: true,
            rod_end: RodEnd::default(),
            bush_eye_m: 0.050_8,
        }
    }
}

impl Steel {
    /// True where nothing of it differs from common practice.
    #[must_use]
    pub fn is_usual(&self) -> bool {
        *self == Self::default()
    }

    /// Diameter that a bolt's hole is cut to, m.
    #[must_use]
    pub fn hole_m(&self) -> f64 {
        self.bolt_m + self.hole_over_m
    }

    /// Least from the centre of a hole to the edge of its plate, m.
    #[must_use]
    pub fn edge_m(&self) -> f64 {
        self.edge_in_bolts * self.bolt_m
    }

    /// The smallest bore that takes an insert for a rod end with a shank as thick as its bolt, m.
    #[must_use]
    pub fn least_bore_m(&self) -> f64 {
        self.bolt_m + 2.0 * AROUND_THREAD_M
    }

    /// A third more than the bolt: an inch for three quarters, as tube of 1 1/4 × 1/8 in takes it. Common practice for inserts of one size.
    #[must_use]
    pub fn usual_shank_m(&self) -> f64 {
        self.bolt_m * 4.0 / 3.0
    }

    /// Checks what of it has to go together.
    ///
    /// # Errors
    /// The first thing found that nobody could build with.
    pub fn check(&self) -> Result<(), SetupError> {
        let end = &self.rod_end;
        let faults = [
            (
                self.edge_m() <= self.hole_m() / 2.0,
                "the edge of a plate would run through its holes: leave more than half a hole from the middle of a hole to the edge",
                "edge_in_bolts and hole_over_mm of steel",
            ),
            (
                self.gap_m < self.bolt_m,
                "the gap between the plates is less than the joint that goes in: any joint is wider than its bolt is thick",
                "gap_mm and bolt_mm of steel",
            ),
            (
                end.thread_m >= end.eye_to_end_m,
                "the thread of a rod end is as long as the whole rod end: measure it from the end of the shank",
                "thread_mm and eye_to_end_mm of rod_end",
            ),
            (
                end.jam_nut_m >= end.thread_m,
                "the jam nut is as thick as the thread of the rod end is long",
                "jam_nut_mm and thread_mm of rod_end",
            ),
            (
                end.insert_shank_m.is_some_and(|shank_m| shank_m <= self.bolt_m),
                "the shank of an insert is no thicker than the thread inside it",
                "insert_shank_mm of rod_end and bolt_mm of steel",
            ),
        ];
        match faults.into_iter().find(|(is_so, ..)| *is_so) {
            None => Ok(()),
            Some((_, what, keys)) => Err(SetupError::DoesNotFit {
                what: what.to_owned(),
                keys,
            }),
        }
    }
}
