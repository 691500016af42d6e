//! The closures of four bars from ground to platform, stated once more for the peers: gaps and analytic Jacobian.
//!
//! By the convention of `linkage::Configuration`: `ground_from_platform = Rz(yaw) Rx(roll) Ry(pitch)`. Height and roll are imposed; a
//! peer's unknowns are x, y, yaw and pitch, in metres and radians.

use linkage::{Body, Configuration, Drive, Link, Mechanism};
use nalgebra::{Matrix4, Point3, Vector3, Vector4};

/// x, y, yaw, pitch.
pub type Unknowns = [f64; 4];

/// Four bars of given lengths.
#[derive(Clone, Copy)]
pub struct FourBars {
    on_ground: [Point3<f64>; 4],
    on_platform: [Vector3<f64>; 4],
    length_m: [f64; 4],
}

/// The bars at a pose.
#[derive(Clone, Copy)]
pub struct Stand {
    /// From the platform's origin to each bar's end on it, ground coordinates.
    arm: [Vector3<f64>; 4],
    /// From each bar's end on the ground to its end on the platform.
    along: [Vector3<f64>; 4],
    distance_m: [f64; 4],
    length_m: [f64; 4],
    pitch_axis: Vector3<f64>,
}

impl FourBars {
    /// The bars of a mechanism; none where it has other parts, or another number of bars.
    pub fn of(mechanism: &Mechanism) -> Option<Self> {
        let is_plain = |l: &Link| (l.from.body, l.to.body) == (Body::Ground, Body::Platform);
        let links: [Link; 4] = mechanism.links().try_into().ok()?;
        let plain = mechanism.joints().is_empty() && links.iter().all(is_plain);
        plain.then(|| Self {
            on_ground: links.map(|l| l.from.point),
            on_platform: links.map(|l| l.to.point.coords),
            length_m: links.map(|l| l.length_m),
        })
    }

    /// Puts the platform somewhere.
    #[inline]
    pub fn at(&self, drive: Drive, [x, y, yaw, pitch]: Unknowns) -> Stand {
        let (sy, cy) = yaw.sin_cos();
        let (sr, cr) = drive.roll_rad.sin_cos();
        let (sp, cp) = pitch.sin_cos();
        let headed = |v: Vector3<f64>| Vector3::new(cy * v.x - sy * v.y, sy * v.x + cy * v.y, v.z);
        let rolled = |v: Vector3<f64>| headed(Vector3::new(v.x, cr * v.y - sr * v.z, sr * v.y + cr * v.z));
        let turned = |v: Vector3<f64>| rolled(Vector3::new(cp * v.x + sp * v.z, v.y, cp * v.z - sp * v.x));
        let origin = Point3::new(x, y, drive.z_m);
        let arm = self.on_platform.map(turned);
        let along = std::array::from_fn(|i| origin + arm[i] - self.on_ground[i]);
        Stand {
            arm,
            along,
            distance_m: along.map(|v: Vector3<f64>| v.norm()),
            length_m: self.length_m,
            pitch_axis: rolled(Vector3::y()),
        }
    }
}

impl Stand {
    /// Each bar's distance less its length, m.
    #[inline]
    pub fn gaps(&self) -> [f64; 4] {
        std::array::from_fn(|i| self.distance_m[i] - self.length_m[i])
    }

    /// The largest gap, m.
    #[inline]
    pub fn worst_gap_m(&self) -> f64 {
        self.gaps().iter().fold(0.0, |worst, gap| gap.abs().max(worst))
    }

    /// Derivatives of the gaps by the unknowns, a row a bar.
    #[inline]
    pub fn jacobian(&self) -> [[f64; 4]; 4] {
        std::array::from_fn(|i| {
            let n = self.along[i] / self.distance_m[i];
            let moment = self.arm[i].cross(&n);
            [n.x, n.y, moment.z, moment.dot(&self.pitch_axis)]
        })
    }
}

/// A pose's unknowns.
pub fn unknowns(at: &Configuration) -> Unknowns {
    let origin = at.origin_in_ground;
    [origin.x, origin.y, at.yaw_rad, at.pitch_rad]
}

/// One step of a dense Newton iteration by a library's LU; none where the matrix is singular.
#[inline]
pub fn newton_step(stand: &Stand) -> Option<Vector4<f64>> {
    let rows = stand.jacobian();
    let matrix = Matrix4::from_fn(|i, j| rows[i][j]);
    matrix.lu().solve(&Vector4::from(stand.gaps()))
}
