//! Naming, reading and moving single mounts, mirrored ones included.

use nalgebra::Point3;

use super::{BarId, Setup, to_file_resolution, to_file_resolution_point};

/// Which end of a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum BarEnd {
    /// The mount on the frame.
    Frame,
    /// The mount on the axle.
    Axle,
}

/// Which of the two bars that a mirrored description stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// The one described.
    Drawn,
    /// The one with Y reversed.
    Mirrored,
}

/// A point the user can take hold of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Mount {
    /// An end of a bar.
    Bar {
        /// Which bar.
        bar: BarId,
        /// Which end.
        end: BarEnd,
        /// Which of the pair.
        side: Side,
    },
    /// The pivot of the Watt's crank.
    WattPivot,
    /// The joint at the end of the crank that takes the left link: moving it changes the crank's half length.
    WattArm,
    /// The left link's joint on the frame.
    WattLeft,
    /// The right link's joint on the frame.
    WattRight,
}

/// The body that carries a mount.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Carrier {
    /// In frame coordinates.
    Frame,
    /// In axle coordinates.
    Axle,
}

/// A mount's place as drawn, in its carrier's coordinates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MountPoint {
    /// What carries it.
    pub carrier: Carrier,
    /// Where it is, m.
    pub point: Point3<f64>,
}

/// Nothing on a truck is farther away than this; files hold no more.
const MOST_M: f64 = 20.0;

impl Setup {
    /// Every mount, in the order of the parts.
    #[must_use]
    pub fn mounts(&self) -> Vec<Mount> {
        let mut mounts = Vec::new();
        for (i, bar) in self.bars.iter().enumerate() {
            let sides: &[Side] = if bar.mirrored {
                &[Side::Drawn, Side::Mirrored]
            } else {
                &[Side::Drawn]
            };
            for &side in sides {
                for end in [BarEnd::Frame, BarEnd::Axle] {
                    mounts.push(Mount::Bar {
                        bar: BarId(i),
                        end,
                        side,
                    });
                }
            }
        }
        if self.watt.is_some() {
            mounts.extend([Mount::WattPivot, Mount::WattArm, Mount::WattLeft, Mount::WattRight]);
        }
        mounts
    }

    /// Where a mount is drawn; `None` if the setup has no such mount.
    #[must_use]
    pub fn mount(&self, mount: Mount) -> Option<MountPoint> {
        let in_frame = |point| {
            Some(MountPoint {
                carrier: Carrier::Frame,
                point,
            })
        };
        let in_axle = |point| {
            Some(MountPoint {
                carrier: Carrier::Axle,
                point,
            })
        };
        let watt = self.watt.as_ref();
        match mount {
            Mount::Bar { bar, end, side } => {
                let bar = self.bar(bar).filter(|b| b.mirrored || side == Side::Drawn)?;
                match end {
                    BarEnd::Frame => in_frame(side.of(bar.mount_in_frame)),
                    BarEnd::Axle => in_axle(side.of(bar.mount_in_axle)),
                }
            }
            Mount::WattPivot => in_axle(watt?.pivot_in_axle),
            Mount::WattArm => in_axle(watt?.joints_in_axle()[0]),
            Mount::WattLeft => in_frame(watt?.left_in_frame),
            Mount::WattRight => in_frame(watt?.right_in_frame),
        }
    }

    /// Puts a mount at a point of its carrier's coordinates. The other one of a pair mirrors. False if there is no such mount or the
    /// point is not a usable number.
    pub fn move_mount(&mut self, mount: Mount, to: Point3<f64>) -> bool {
        if !to.coords.iter().all(|v| v.is_finite() && v.abs() < MOST_M) {
            return false;
        }
        let to = to_file_resolution_point(to);
        match (mount, self.watt.as_mut()) {
            (Mount::Bar { bar, end, side }, _) => {
                let Some(bar) = self.bars.get_mut(bar.0).filter(|b| b.mirrored || side == Side::Drawn) else {
                    return false;
                };
                match end {
                    BarEnd::Frame => bar.mount_in_frame = side.of(to),
                    BarEnd::Axle => bar.mount_in_axle = side.of(to),
                }
            }
            (_, None) => return false,
            (Mount::WattPivot, Some(watt)) => watt.pivot_in_axle = to,
            (Mount::WattArm, Some(watt)) => {
                let along = watt.left_arm() / watt.half_crank_m;
                watt.half_crank_m = to_file_resolution((to - watt.pivot_in_axle).dot(&along).clamp(0.001, MOST_M));
            }
            (Mount::WattLeft, Some(watt)) => watt.left_in_frame = to,
            (Mount::WattRight, Some(watt)) => watt.right_in_frame = to,
        }
        true
    }

    /// What a mount is called: the bar, the side where there are two, and what carries it.
    #[must_use]
    pub fn mount_name(&self, mount: Mount) -> String {
        match mount {
            Mount::Bar { bar, end, side } => {
                let on = match end {
                    BarEnd::Frame => "on the frame",
                    BarEnd::Axle => "on the axle",
                };
                format!("{}, {on}", self.bar_name(bar, side))
            }
            Mount::WattPivot => "Watt's crank pivot, on the axle".to_owned(),
            Mount::WattArm => "Watt's crank end".to_owned(),
            Mount::WattLeft => "Watt's left link, on the frame".to_owned(),
            Mount::WattRight => "Watt's right link, on the frame".to_owned(),
        }
    }

    /// A bar's name, with its side where the description stands for two.
    #[must_use]
    pub fn bar_name(&self, id: BarId, side: Side) -> String {
        let Some(bar) = self.bar(id) else {
            return "bar".to_owned();
        };
        if !bar.mirrored {
            return bar.name.clone();
        }
        let left = (side.of(bar.mount_in_frame).y + side.of(bar.mount_in_axle).y) > 0.0;
        format!("{} {}", if left { "left" } else { "right" }, bar.name)
    }
}

impl Side {
    /// A point of the description as it stands on this side, and back.
    #[must_use]
    pub fn of(self, point: Point3<f64>) -> Point3<f64> {
        match self {
            Self::Drawn => point,
            Self::Mirrored => Point3::new(point.x, -point.y, point.z),
        }
    }
}
