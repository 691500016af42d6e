//! Whether the threaded inserts go into the tubes that they are welded into.

use crate::mechanism::Part;
use crate::setup::{Bar, BarEnd, BarId, JointKind, Setup, Side};

/// What a tube that is sold in inches loses by being written down in tenths of a millimetre, and what an insert is filed by, m.
pub(crate) const FITS_M: f64 = 1e-4;

/// An insert with more room than this around it is not centred by its tube, m: common practice.
const LOOSE_M: f64 = 1e-3;

/// What is wrong with an insert in its tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Misfit {
    /// The bore is too small for any insert with a thread of this size.
    TooNarrow {
        /// The smallest bore that takes one, m.
        least_m: f64,
    },
    /// The shank is thicker than the bore.
    Tight {
        /// Outside diameter of the shank, m.
        shank_m: f64,
    },
    /// The shank is so thin that it stands loose in the bore.
    Loose {
        /// Outside diameter of the shank, m.
        shank_m: f64,
    },
}

/// Inserts that do not fit a tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Insert {
    /// The bar; of a mirrored one the one described, of the two links of a Watt's linkage the left one.
    pub part: Part,
    /// Whether the end on the frame and the one on the axle have an insert; of a Watt's link the outer end and the one at the crank.
    pub ends: [bool; 2],
    /// Inside diameter of the tube, m.
    pub bore_m: f64,
    /// Wall of the tube, m.
    pub wall_m: f64,
    /// What is wrong.
    pub misfit: Misfit,
}

/// Every bar with an insert that does not fit its tube, in the order of the setup; the two links of a Watt's linkage, which share their tube,
/// once.
#[must_use]
pub fn misfits(setup: &Setup) -> Vec<Insert> {
    let bars = setup.bars.iter().enumerate().filter_map(|(i, bar)| {
        let part = Part::Bar(BarId(i), Side::Drawn);
        insert(setup, part, threaded(bar), [bar.bore_m(), bar.wall_m])
    });
    let links = setup.watt.iter().filter_map(|watt| {
        let ends = [watt.ends.kind() == JointKind::RodEnd; 2];
        insert(setup, Part::WattLeft, ends, [watt.bore_m(), watt.wall_m])
    });
    bars.chain(links).collect()
}

fn insert(setup: &Setup, part: Part, ends: [bool; 2], [bore_m, wall_m]: [f64; 2]) -> Option<Insert> {
    let misfit = misfit(setup, bore_m).filter(|_| ends.contains(&true))?;
    Some(Insert {
        part,
        ends,
        bore_m,
        wall_m,
        misfit,
    })
}

/// Its ends with an insert. The legs of a wishbone meet in a piece of their own, whatever joint that has.
fn threaded(bar: &Bar) -> [bool; 2] {
    let has_one = |end| bar.joint(end).kind == JointKind::RodEnd;
    [has_one(BarEnd::Frame), has_one(BarEnd::Axle) && !bar.joined]
}

fn misfit(setup: &Setup, bore_m: f64) -> Option<Misfit> {
    match setup.steel.rod_end.insert_shank_m {
        None => {
            let least_m = setup.steel.least_bore_m();
            (bore_m < least_m - FITS_M).then_some(Misfit::TooNarrow { least_m })
        }
        Some(shank_m) if shank_m > bore_m + FITS_M => Some(Misfit::Tight { shank_m }),
        Some(shank_m) if bore_m > shank_m + LOOSE_M => Some(Misfit::Loose { shank_m }),
        Some(_) => None,
    }
}
