//! Naming, reading and moving single mounts, mirrored ones included.

use nalgebra::Point3;

use serde::{Deserialize, Serialize};

use super::{ArmId, BarId, Setup, Watt, to_file_resolution, to_file_resolution_point};

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
    /// An end of an arm: its eye on the frame, or where it meets the axle.
    Arm {
        /// Which arm.
        arm: ArmId,
        /// Which end.
        end: BarEnd,
        /// Which of the pair.
        side: Side,
    },
    /// The pivot of the Watt's crank.
    WattPivot,
    /// The joint of the left link on the crank: moving it changes the crank's half length.
    WattLeftArm,
    /// The joint of the right link on the crank: moving it changes that half alone.
    WattRightArm,
    /// The left link's joint on the body that does not carry the crank.
    WattLeft,
    /// The right link's joint on that body.
    WattRight,
}

/// The body that carries a mount.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
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
pub(super) const MOST_M: f64 = 20.0;

const ENDS: [BarEnd; 2] = [BarEnd::Frame, BarEnd::Axle];

impl Setup {
    /// Every mount, in the order of the parts.
    #[must_use]
    pub fn mounts(&self) -> Vec<Mount> {
        let mut mounts = Vec::new();
        for (i, bar) in self.bars.iter().enumerate() {
            let bar_mount = |end, side| Mount::Bar {
                bar: BarId(i),
                end,
                side,
            };
            for side in sides(bar.mirrored) {
                mounts.push(bar_mount(BarEnd::Frame, side));
                // A wishbone meets the axle once.
                if side == Side::Drawn || !bar.joined {
                    mounts.push(bar_mount(BarEnd::Axle, side));
                }
            }
        }
        for (i, arm) in self.arms.iter().enumerate() {
            let ends = sides(arm.mirrored).flat_map(|side| ENDS.map(|end| (end, side)));
            mounts.extend(ends.map(|(end, side)| Mount::Arm {
                arm: ArmId(i),
                end,
                side,
            }));
        }
        if self.watt.is_some() {
            mounts.extend(WATT);
        }
        mounts
    }

    /// Where a mount is drawn; `None` if the setup has no such mount.
    #[must_use]
    pub fn mount(&self, mount: Mount) -> Option<MountPoint> {
        match mount {
            Mount::Bar { bar, end, side } => {
                let bar = self.bar(bar).filter(|b| b.mirrored || side == Side::Drawn)?;
                let point = match end {
                    BarEnd::Frame => side.of(bar.mount_in_frame),
                    BarEnd::Axle if bar.joined => bar.mount_in_axle,
                    BarEnd::Axle => side.of(bar.mount_in_axle),
                };
                Some(MountPoint {
                    carrier: end.carrier(),
                    point,
                })
            }
            Mount::Arm { arm, end, side } => {
                let arm = self.arm(arm).filter(|a| a.mirrored || side == Side::Drawn)?;
                let point = match end {
                    BarEnd::Frame => arm.eye_in_frame,
                    BarEnd::Axle => arm.mount_in_axle,
                };
                Some(MountPoint {
                    carrier: end.carrier(),
                    point: side.of(point),
                })
            }
            _ => watt_mount(self.watt.as_ref()?, mount),
        }
    }

    /// Puts a mount at a point of its carrier's coordinates, or where it has a row of holes in the nearest of them. The other one of a
    /// pair mirrors. False if there is no such mount, it is locked, or the point is not a usable number.
    pub fn move_mount(&mut self, mount: Mount, to: Point3<f64>) -> bool {
        let is_usable = |p: Point3<f64>| p.coords.iter().all(|v| v.is_finite() && v.abs() < MOST_M);
        if !is_usable(to) || self.mount(mount).is_none() || self.is_locked(mount) {
            return false;
        }
        let to = self.hole_row(mount).map_or(to, |row| row.nearest(to).1);
        if !is_usable(to) {
            return false;
        }
        let to = to_file_resolution_point(to);
        match mount {
            Mount::Bar { bar, end, side } => {
                let Some(bar) = self.bars.get_mut(bar.0) else {
                    return false;
                };
                match end {
                    BarEnd::Frame => bar.mount_in_frame = side.of(to),
                    BarEnd::Axle if bar.joined => bar.mount_in_axle = to,
                    BarEnd::Axle => bar.mount_in_axle = side.of(to),
                }
            }
            Mount::Arm { arm, end, side } => {
                let Some(arm) = self.arms.get_mut(arm.0) else {
                    return false;
                };
                match end {
                    BarEnd::Frame => arm.eye_in_frame = side.of(to),
                    BarEnd::Axle => arm.mount_in_axle = side.of(to),
                }
            }
            _ => {
                let Some(watt) = &mut self.watt else { return false };
                move_watt_mount(watt, mount, to);
            }
        }
        true
    }

    /// What a mount is called: the part, the side where there are two, and what carries it.
    #[must_use]
    pub fn mount_name(&self, mount: Mount) -> String {
        let (crank_on, links_to) = self
            .watt
            .as_ref()
            .map_or((Carrier::Axle, Carrier::Frame), |w| (w.crank_on, w.links_to()));
        let part = match mount {
            Mount::Bar {
                bar, end: BarEnd::Axle, ..
            } if self.bar(bar).is_some_and(|b| b.joined) => self.bar(bar).map_or_else(String::new, |b| b.name.clone()),
            Mount::Bar { bar, side, .. } => self.bar_name(bar, side),
            Mount::Arm { arm, side, .. } => self.arm_name(arm, side),
            Mount::WattPivot => "Watt's crank pivot".to_owned(),
            Mount::WattLeftArm => return "Watt's crank end, left link".to_owned(),
            Mount::WattRightArm => return "Watt's crank end, right link".to_owned(),
            Mount::WattLeft => "Watt's left link".to_owned(),
            Mount::WattRight => "Watt's right link".to_owned(),
        };
        let on = match mount {
            Mount::Bar { end, .. } | Mount::Arm { end, .. } => end.carrier(),
            Mount::WattPivot => crank_on,
            _ => links_to,
        };
        format!("{part}, on the {}", on.name())
    }

    /// An arm's name, with its side where the description stands for two.
    #[must_use]
    pub fn arm_name(&self, id: ArmId, side: Side) -> String {
        let Some(arm) = self.arm(id) else {
            return "arm".to_owned();
        };
        if !arm.mirrored {
            return arm.name.clone();
        }
        let left = (side.of(arm.eye_in_frame).y + side.of(arm.mount_in_axle).y) > 0.0;
        format!("{} {}", if left { "left" } else { "right" }, arm.name)
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
        let axle_y = if bar.joined { 0.0 } else { side.of(bar.mount_in_axle).y };
        let left = side.of(bar.mount_in_frame).y + axle_y > 0.0;
        format!("{} {}", if left { "left" } else { "right" }, bar.name)
    }
}

const WATT: [Mount; 5] = [
    Mount::WattPivot,
    Mount::WattLeftArm,
    Mount::WattRightArm,
    Mount::WattLeft,
    Mount::WattRight,
];

fn watt_mount(watt: &Watt, mount: Mount) -> Option<MountPoint> {
    let [left_arm, right_arm] = watt.joints();
    let (carrier, point) = match mount {
        Mount::WattPivot => (watt.crank_on, watt.pivot),
        Mount::WattLeftArm => (watt.crank_on, left_arm),
        Mount::WattRightArm => (watt.crank_on, right_arm),
        Mount::WattLeft => (watt.links_to(), watt.left),
        Mount::WattRight => (watt.links_to(), watt.right),
        Mount::Bar { .. } | Mount::Arm { .. } => return None,
    };
    Some(MountPoint { carrier, point })
}

fn move_watt_mount(watt: &mut Watt, mount: Mount, to: Point3<f64>) {
    let along = (to - watt.pivot).dot(&watt.arm_direction());
    let half = |m: f64| to_file_resolution(m.clamp(0.001, MOST_M));
    match mount {
        Mount::WattPivot => watt.pivot = to,
        Mount::WattLeftArm => watt.half_crank_m = half(along),
        Mount::WattRightArm => watt.right_half_crank_m = Some(half(-along)),
        Mount::WattLeft => watt.left = to,
        Mount::WattRight => watt.right = to,
        Mount::Bar { .. } | Mount::Arm { .. } => {}
    }
}

fn sides(mirrored: bool) -> impl Iterator<Item = Side> {
    [Side::Drawn, Side::Mirrored]
        .into_iter()
        .take(if mirrored { 2 } else { 1 })
}

impl BarEnd {
    /// What carries the mount at this end.
    #[must_use]
    pub fn carrier(self) -> Carrier {
        match self {
            Self::Frame => Carrier::Frame,
            Self::Axle => Carrier::Axle,
        }
    }
}

impl Carrier {
    /// What it is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Frame => "frame",
            Self::Axle => "axle",
        }
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
