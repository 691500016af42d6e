//! How a bolt lies, as a bevel and an angle finder read it.

use nalgebra::Vector3;

use crate::tape::degrees;

/// A bolt more upright than this is told as one that stands: sine of forty-five degrees.
const UPRIGHT: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// Which way a bolt goes, more or less.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Across the truck.
    Across,
    /// Fore and aft.
    Along,
    /// Up and down.
    Upright,
}

/// The direction of a bolt by two angles. Out is away from the middle of the truck; of a bracket that has no twin, to the left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lies {
    /// Which way it goes.
    pub way: Way,
    /// In plan: of a bolt across, how far its outer end is forward; of one fore and aft, how far its forward end is out; of an upright one,
    /// how far its top leans out.
    pub aside_rad: f64,
    /// Off level: of a bolt across, how far its outer end is up; of one fore and aft, how far its forward end is; of an upright one, how
    /// far its top leans forward.
    pub lean_rad: f64,
}

impl Lies {
    /// Of a unit direction, either way along the bolt; `outward` is 1 where out is to the left, -1 where it is to the right.
    #[must_use]
    pub fn of(bolt: Vector3<f64>, outward: f64) -> Self {
        let (x, y, z) = (bolt.x, bolt.y * outward, bolt.z);
        if z.abs() > UPRIGHT {
            let up = z.signum();
            return Self {
                way: Way::Upright,
                aside_rad: (y * up).atan2(z.abs()),
                lean_rad: (x * up).atan2(z.abs()),
            };
        }
        let lean = |end: f64| (z * end).clamp(-1.0, 1.0).asin();
        if y.abs() >= x.abs() {
            let out = y.signum();
            Self {
                way: Way::Across,
                aside_rad: (x * out).atan2(y.abs()),
                lean_rad: lean(out),
            }
        } else {
            let ahead = x.signum();
            Self {
                way: Way::Along,
                aside_rad: (y * ahead).atan2(x.abs()),
                lean_rad: lean(ahead),
            }
        }
    }

    /// In words; only what an angle finder reads is told. `both_sides` where the same stands on the other side.
    #[must_use]
    pub fn words(&self, both_sides: bool) -> String {
        let [out, into, outer] = if both_sides {
            ["out", "in", "outer end"]
        } else {
            ["to the left", "to the right", "left end"]
        };
        let (aside, lean) = (read(self.aside_rad), read(self.lean_rad));
        let pick = |rad: f64, plus: &str, minus: &str| if rad < 0.0 { minus } else { plus }.to_owned();
        let mut words = vec![match (self.way, &aside) {
            (Way::Across, None) => "straight across".to_owned(),
            (Way::Across, Some(off)) => format!(
                "{off} off straight across, {outer} {}",
                pick(self.aside_rad, "forward", "back")
            ),
            (Way::Along, None) => "straight fore and aft".to_owned(),
            (Way::Along, Some(off)) => format!(
                "{off} off straight fore and aft, forward end {}",
                pick(self.aside_rad, out, into)
            ),
            (Way::Upright, None) => "upright".to_owned(),
            (Way::Upright, Some(off)) => format!("upright, top {off} {}", pick(self.aside_rad, out, into)),
        }];
        words.extend(lean.map(|lean| match self.way {
            Way::Across => format!("{outer} {lean} {}", pick(self.lean_rad, "up", "down")),
            Way::Along => format!("forward end {lean} {}", pick(self.lean_rad, "up", "down")),
            Way::Upright => format!("top {lean} {}", pick(self.lean_rad, "forward", "back")),
        }));
        words.join(", ")
    }
}

/// What an angle finder reads; none where it reads nothing.
fn read(angle_rad: f64) -> Option<String> {
    let text = degrees(angle_rad.abs(), 1);
    (text != degrees(0.0, 1)).then_some(text)
}
