//! The cut list: how long each tube is sawn so that its bar is as long as the solution has it, eye to eye.

mod end;
mod list;
mod words;

pub use end::{Coped, End, Threaded};
pub use list::{CutList, Fabricated, cut_list};
pub(super) use words::section;

use crate::mechanism::Part;
use crate::setup::{AsBuilt, Steel, bore_m};

/// Density of steel, kg/m³.
pub const STEEL_KG_PER_M3: f64 = 7850.0;

/// A bar whose tube is sawn to length.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// The bar; of two that are alike the one described.
    pub part: Part,
    /// What the list calls it.
    pub name: String,
    /// How many are made alike.
    pub count: usize,
    /// Centre of one eye to centre of the other.
    pub eye_to_eye_m: f64,
    /// Outside diameter of its tube.
    pub tube_m: f64,
    /// Wall of its tube.
    pub wall_m: f64,
    /// Its ends, frame end first; of a Watt's link the crank's last.
    pub ends: [End; 2],
    /// Where it exists already, and decides where the axle goes.
    pub built: Option<AsBuilt>,
}

/// Why a bar cannot be made as it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CutFault {
    /// Its ends alone take all of its length.
    NoTube {
        /// What they take.
        ends_m: f64,
    },
    /// The inserts run into each other inside the tube.
    InsertsMeet,
    /// A rod end has less thread in than one diameter of its bolt.
    ShortThread {
        /// What is in.
        engaged_m: f64,
    },
    /// A rod end stands deeper than its thread or its insert goes.
    TooDeep,
    /// The tube is wider than the eye.
    WiderThanEye,
    /// The bolt of a bush lies along the tube.
    EyeAlong,
}

impl Cut {
    /// What the tube is sawn to: over its longest edge where it is coped. Less than nothing where the ends leave no room for tube.
    #[must_use]
    pub fn sawn_m(&self) -> f64 {
        self.eye_to_eye_m - self.ends.iter().map(End::to_saw_m).sum::<f64>()
    }

    /// The tube along its centre line, from cope to cope.
    #[must_use]
    pub fn centre_m(&self) -> f64 {
        self.eye_to_eye_m - self.ends.iter().map(End::to_tube_m).sum::<f64>()
    }

    /// How much longer it can still be made by its rod ends.
    #[must_use]
    pub fn longer_m(&self) -> f64 {
        self.threaded().map(|end| end.out_m).sum()
    }

    /// How much shorter it can still be made by its rod ends.
    #[must_use]
    pub fn shorter_m(&self) -> f64 {
        self.threaded().map(|end| end.in_m).sum()
    }

    /// Inside diameter of its tube.
    #[must_use]
    pub fn bore_m(&self) -> f64 {
        bore_m(self.tube_m, self.wall_m)
    }

    /// Weight of the sawn tube alone.
    #[must_use]
    pub fn tube_kg(&self) -> f64 {
        let inside_m = self.bore_m();
        let area_m2 = std::f64::consts::FRAC_PI_4 * (self.tube_m * self.tube_m - inside_m * inside_m);
        STEEL_KG_PER_M3 * area_m2 * self.sawn_m().max(0.0)
    }

    /// True where it is made longer by turning it between two rod ends: one of them has a left-hand thread. A bar that comes with an
    /// adjuster at one end only has none.
    #[must_use]
    pub fn is_turned(&self) -> bool {
        self.threaded().count() == 2 && self.built.is_none_or(|built| built.adjuster.both_ends)
    }

    /// Its rod ends.
    pub fn threaded(&self) -> impl Iterator<Item = &Threaded> {
        self.ends.iter().filter_map(End::threaded)
    }

    /// Its eyes.
    pub fn coped(&self) -> impl Iterator<Item = &Coped> {
        self.ends.iter().filter_map(End::coped)
    }

    /// Everything that keeps it from being made.
    #[must_use]
    pub fn faults(&self, steel: &Steel) -> Vec<CutFault> {
        let inside_m = (steel.rod_end.insert_depth_m - steel.rod_end.insert_out_m).max(0.0);
        let inserts = u32::try_from(self.threaded().count()).unwrap_or_default();
        let mut faults = Vec::new();
        if self.centre_m() <= 0.0 {
            let ends_m = self.eye_to_eye_m - self.centre_m();
            faults.push(CutFault::NoTube { ends_m });
        } else if self.centre_m() < f64::from(inserts) * inside_m {
            faults.push(CutFault::InsertsMeet);
        }
        let short = self.threaded().find(|end| end.is_short);
        faults.extend(short.map(|end| CutFault::ShortThread {
            engaged_m: end.engaged_m,
        }));
        faults.extend(self.threaded().any(|end| end.is_too_deep).then_some(CutFault::TooDeep));
        faults.extend(self.coped().any(|end| end.is_wider).then_some(CutFault::WiderThanEye));
        faults.extend(self.coped().any(|end| end.is_along).then_some(CutFault::EyeAlong));
        faults
    }
}
