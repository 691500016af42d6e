//! The end of a bar: what lies between the centre of its eye and its tube.

use crate::setup::{JointKind, Steel};

/// Lengths within this are one.
const SAME_M: f64 = 1e-6;

/// An eye farther off square than this has no room for a weld all round: it lies along its tube rather than across.
const MOST_OFF_RAD: f64 = std::f64::consts::FRAC_PI_3;

/// A rod end screwed into the insert in the end of its tube. The insert's shoulder stands out of the tube, the jam nut is tightened against
/// it, and what is left of the thread stands free beyond the nut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Threaded {
    /// From the centre of the eye to the cut end of the tube.
    pub to_tube_m: f64,
    /// Thread in the insert.
    pub engaged_m: f64,
    /// Thread left outside, the jam nut's own taken off.
    pub left_m: f64,
    /// How far it can still be screwed out, with one diameter of the bolt left in: common practice.
    pub out_m: f64,
    /// How far it can still be screwed in: until the thread is used up or the insert is.
    pub in_m: f64,
    /// True where less thread is in than there has to be.
    pub is_short: bool,
    /// True where it stands deeper than the insert or the thread goes.
    pub is_too_deep: bool,
}

impl Threaded {
    /// Half of the thread in, so that it goes as far either way as it can; no more than the insert is deep, no less than one diameter of
    /// the bolt where there is as much.
    #[must_use]
    pub fn half_in(steel: &Steel) -> Self {
        let half_m = steel.rod_end.thread_m / 2.0;
        Self::engaged(steel, half_m.max(steel.bolt_m).min(deepest_m(steel)))
    }

    /// Screwed out by this much.
    #[must_use]
    pub fn turned_out(self, steel: &Steel, by_m: f64) -> Self {
        Self::engaged(steel, self.engaged_m - by_m)
    }

    fn engaged(steel: &Steel, engaged_m: f64) -> Self {
        let end = &steel.rod_end;
        let (least_m, deepest_m) = (steel.bolt_m, deepest_m(steel));
        Self {
            to_tube_m: end.eye_to_end_m - engaged_m + end.insert_out_m,
            engaged_m,
            left_m: end.thread_m - engaged_m - end.jam_nut_m,
            out_m: (engaged_m - least_m).max(0.0),
            in_m: (deepest_m - engaged_m).max(0.0),
            is_short: engaged_m < least_m - SAME_M,
            is_too_deep: engaged_m > deepest_m + SAME_M,
        }
    }
}

/// As far as a rod end goes in.
fn deepest_m(steel: &Steel) -> f64 {
    let end = &steel.rod_end;
    end.insert_depth_m.min(end.thread_m - end.jam_nut_m).max(0.0)
}

/// An eye for a bush, welded across the end of its tube, which is coped to it.
///
/// With R the eye's radius, r the tube's, and the eye b off square to the tube, a line of the tube's surface meets the eye where
/// `s cos b = sqrt(R² - w²) + v sin b`, w aside and v along the eye from the centre line: R / cos b on the centre line, and nowhere nearer to
/// the eye's centre than sqrt(R² - r²), the longest edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coped {
    /// What bush.
    pub kind: JointKind,
    /// Outside diameter of the eye.
    pub eye_m: f64,
    /// How far the eye is from square to the tube.
    pub off_square_rad: f64,
    /// From the centre of the eye to the tube along its centre line.
    pub centre_m: f64,
    /// From the centre of the eye to the longest edge of the tube.
    pub edge_m: f64,
    /// True where the tube is wider than the eye and cannot be coped to it.
    pub is_wider: bool,
    /// True where the eye lies along the tube rather than across it; its lengths are then those of one that is 60° off.
    pub is_along: bool,
}

impl Coped {
    /// A tube of an outside diameter on the eye of the shop's steel.
    #[must_use]
    pub fn of(kind: JointKind, steel: &Steel, tube_m: f64, off_square_rad: f64) -> Self {
        let (eye, tube) = (steel.bush_eye_m / 2.0, tube_m / 2.0);
        let (sin, cos) = off_square_rad.abs().min(MOST_OFF_RAD).sin_cos();
        let is_wider = tube > eye + SAME_M;
        let nearest_m = (eye * eye - tube * tube).max(0.0).sqrt();
        // Steeper than that the corner of the tube is nearest.
        let is_on_side = nearest_m * sin <= tube * cos;
        Self {
            kind,
            eye_m: steel.bush_eye_m,
            off_square_rad: off_square_rad.abs(),
            centre_m: eye / cos,
            edge_m: if is_on_side {
                nearest_m
            } else {
                (eye - tube * sin) / cos
            },
            is_wider,
            is_along: off_square_rad.abs() > MOST_OFF_RAD,
        }
    }

    /// How deep the cope goes into the tube.
    #[must_use]
    pub fn depth_m(&self) -> f64 {
        self.centre_m - self.edge_m
    }
}

/// The end of a bar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum End {
    /// A rod end in a threaded insert.
    Threaded(Threaded),
    /// A bush in an eye across the tube.
    Coped(Coped),
    /// Where the legs of a wishbone meet: reckoned to the centre of their joint, to be cut back to suit the piece that joins them.
    Joined(JointKind),
}

impl End {
    /// From the centre of the eye to where the tube is sawn off: its longest edge.
    #[must_use]
    pub fn to_saw_m(&self) -> f64 {
        match self {
            Self::Threaded(end) => end.to_tube_m,
            Self::Coped(end) => end.edge_m,
            Self::Joined(_) => 0.0,
        }
    }

    /// From the centre of the eye to the tube along its centre line.
    #[must_use]
    pub fn to_tube_m(&self) -> f64 {
        match self {
            Self::Threaded(end) => end.to_tube_m,
            Self::Coped(end) => end.centre_m,
            Self::Joined(_) => 0.0,
        }
    }

    /// What it ends in.
    #[must_use]
    pub fn kind(&self) -> JointKind {
        match self {
            Self::Threaded(_) => JointKind::RodEnd,
            Self::Coped(end) => end.kind,
            Self::Joined(kind) => *kind,
        }
    }

    /// The rod end, where it is one that can be turned.
    #[must_use]
    pub fn threaded(&self) -> Option<&Threaded> {
        match self {
            Self::Threaded(end) => Some(end),
            _ => None,
        }
    }

    /// The cope, where it has one.
    #[must_use]
    pub fn coped(&self) -> Option<&Coped> {
        match self {
            Self::Coped(end) => Some(end),
            _ => None,
        }
    }
}
