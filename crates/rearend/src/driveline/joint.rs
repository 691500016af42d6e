//! Universal joints: one by itself, and several in a row.
//!
//! A joint turns its driven shaft unevenly, twice a turn. With `u` the direction of the driving yoke's pins seen along its shaft, as a
//! complex number, the driven yoke's pins stand square to `u + t conj(u)`, where `t = tan^2(b/2) e^{2 i f}`, `b` is the working angle and
//! `f` the direction of the normal to the plane of both shafts: this is `tan out = cos b tan in` (e.g. Carvill, Mechanical Engineer's Data
//! Handbook, 2.4.3). Maps of this form follow each other as maps of this form, so that any row of joints is exactly one joint, of
//! whatever angle its `t` says. For small angles the `t` add up as vectors of length `b^2 / 4` and twice the phase.

use nalgebra::{Complex, Vector3};

/// One plus the cosine of a joint folded flat, in which nothing can turn: it stands for a number to divide by.
const FLAT: f64 = 1e-12;

/// Speed of the driven shaft over that of the driving one.
///
/// `turn_rad` is the turn of the driving yoke's pins from the plane of the two shafts.
#[must_use]
pub fn speed_ratio(angle_rad: f64, turn_rad: f64) -> f64 {
    let (sin, cos) = angle_rad.sin_cos();
    cos / (1.0 - (sin * turn_rad.cos()).powi(2))
}

/// Fastest less slowest speed of the driven shaft, over the driving one's.
#[must_use]
pub fn non_uniformity(angle_rad: f64) -> f64 {
    let (sin, cos) = angle_rad.sin_cos();
    sin * sin / cos
}

/// A row of joints, walked along from its driving end.
#[derive(Clone, Copy, Debug)]
pub struct Chain {
    /// The last shaft so far, a unit vector.
    axis: Vector3<f64>,
    /// A unit vector square to it, from which directions of pins are counted. It goes round each corner with the shaft.
    across: Vector3<f64>,
    /// What the pins of the driving yoke are multiplied by.
    even: Complex<f64>,
    /// What their mirror image is multiplied by.
    uneven: Complex<f64>,
}

impl Chain {
    /// Starts with a driving shaft along a unit vector.
    #[must_use]
    pub fn along(axis: Vector3<f64>) -> Self {
        let other = if axis.y.abs() < 0.7 { Vector3::y() } else { Vector3::z() };
        let across = (other - axis * axis.dot(&other)).normalize();
        Self {
            axis,
            across,
            even: Complex::new(1.0, 0.0),
            uneven: Complex::new(0.0, 0.0),
        }
    }

    /// A joint to a next shaft along a unit vector, both taken the same way. Gives back its working angle.
    pub fn joint(&mut self, next: Vector3<f64>) -> f64 {
        let normal = self.axis.cross(&next);
        let cos = self.axis.dot(&next);
        // Where the shafts are in line there is no plane, and nothing comes of it either.
        let seen = Complex::new(normal.dot(&self.across), normal.dot(&self.axis.cross(&self.across)));
        let half = seen / (1.0 + cos).max(FLAT);
        let t = half * half;
        (self.even, self.uneven) = (self.even + t * self.uneven.conj(), self.uneven + t * self.even.conj());
        self.across -= (self.axis + next) * (self.across.dot(&next) / (1.0 + cos).max(FLAT));
        self.axis = next;
        normal.norm().atan2(cos)
    }

    /// From the last joint's driven yoke to the next joint's driving yoke on the same shaft. In line with each other the phase is zero;
    /// + turns the next one by the right-hand rule about the shaft.
    pub fn yokes(&mut self, phase_rad: f64) {
        // The pins of a cross are square to each other.
        let (sin, cos) = phase_rad.sin_cos();
        let turn = Complex::new(-sin, cos);
        self.even *= turn;
        self.uneven *= turn;
    }

    /// The angle of the one joint that would turn the last shaft as unevenly as all of them do. Exact.
    #[must_use]
    pub fn residual_rad(&self) -> f64 {
        let root = |z: Complex<f64>| z.norm_sqr().sqrt().sqrt();
        2.0 * root(self.uneven).atan2(root(self.even))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn in_plane(angle_deg: f64) -> Vector3<f64> {
        let (sin, cos) = angle_deg.to_radians().sin_cos();
        Vector3::new(cos, 0.0, sin)
    }

    #[test]
    fn one_joint_is_itself() {
        for angle_deg in [0.0, 0.3, 3.0, 20.0, 60.0, 89.0] {
            let mut chain = Chain::along(in_plane(7.0));
            let angle = chain.joint(in_plane(7.0 + angle_deg));
            assert!((angle.to_degrees() - angle_deg).abs() < 1e-12);
            assert!((chain.residual_rad().to_degrees() - angle_deg).abs() < 1e-7);
        }
    }

    /// Parallel shafts, and the mirror image: both ways round the two joints even each other out.
    #[test]
    fn equal_joints_in_one_plane_leave_nothing() {
        for last_deg in [0.0, 12.0] {
            let mut chain = Chain::along(in_plane(0.0));
            chain.joint(in_plane(6.0));
            chain.yokes(0.0);
            chain.joint(in_plane(last_deg));
            assert!(chain.residual_rad() < 1e-7, "{}", chain.residual_rad());
        }
    }

    #[test]
    fn a_joint_folded_flat_gives_numbers() {
        let mut chain = Chain::along(Vector3::x());
        assert!((chain.joint(-Vector3::x()) - std::f64::consts::PI).abs() < 1e-12);
        chain.yokes(0.3);
        chain.joint(Vector3::y());
        assert!(chain.residual_rad().is_finite());
    }
}
