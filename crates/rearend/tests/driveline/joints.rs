//! Rows of joints.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use nalgebra::{Complex, Rotation3, Unit, Vector3};
use proptest::prelude::*;
use rearend::driveline::joint::{Chain, non_uniformity, speed_ratio};

use super::near;

fn in_plane(angle_deg: f64) -> Vector3<f64> {
    let (sin, cos) = angle_deg.to_radians().sin_cos();
    Vector3::new(cos, 0.0, sin)
}

/// Two joints in one plane, parallel shafts where both angles are alike.
fn pair(first_deg: f64, second_deg: f64, phase_rad: f64) -> Chain {
    let mut chain = Chain::along(in_plane(0.0));
    chain.joint(in_plane(first_deg));
    chain.yokes(phase_rad);
    chain.joint(in_plane(first_deg - second_deg));
    chain
}

/// Source: Carvill, Mechanical Engineer's Data Handbook, 2.4.3.
#[test]
fn a_joint_at_20_degrees_turns_500_rpm_into_470_to_532() {
    let angle = 20_f64.to_radians();
    near(500.0 * speed_ratio(angle, FRAC_PI_2), 469.846, 5e-4);
    near(500.0 * speed_ratio(angle, 0.0), 532.089, 5e-4);
    near(500.0 * non_uniformity(angle), 532.088_886 - 469.846_310, 2e-6);
}

/// Source: the same; both joints fast at once, and slow at once.
#[test]
fn a_pair_a_quarter_turn_out_of_line_adds_up() {
    let residual = pair(20.0, 20.0, FRAC_PI_2).residual_rad();
    near(500.0 * residual.cos(), 441.511, 5e-4);
    near(500.0 / residual.cos(), 566.237, 5e-4);
}

/// Source: two shaft makers' catalogues; the limit's angle derived from the same formula.
#[test]
fn three_degrees_are_not_quite_even_enough() {
    near(non_uniformity(3_f64.to_radians()), 0.002_742_8, 5e-8);
    near(non_uniformity(2.9765_f64.to_radians()), 0.0027, 1e-7);
}

/// Source: cos b = cos b1 / cos b2, derived from the joint's equation; the makers' rule sqrt(b1^2 - b2^2) gives 5.196.
#[test]
fn six_and_three_degrees_leave_5_2() {
    near(pair(6.0, 3.0, 0.0).residual_rad().to_degrees(), 5.198_53, 5e-6);
    near(pair(3.0, 6.0, 0.0).residual_rad().to_degrees(), 5.198_53, 5e-6);
    near(pair(6.0, -3.0, 0.0).residual_rad().to_degrees(), 5.198_53, 5e-6);
}

/// Source: driveline installation manual J3311-1, p. 10: 2.15 seen from above and 2.50 from the side are 3.3.
#[test]
fn the_true_angle_is_more_than_what_either_view_shows() {
    let seen = Vector3::new(1.0, 2.15_f64.to_radians().tan(), 2.50_f64.to_radians().tan());
    let angle = Chain::along(Vector3::x()).joint(seen.normalize());
    near(angle.to_degrees(), 3.296, 5e-4);
}

/// One turning pin after the other: a yoke's pins stay square to its shaft, and square to those of the yoke before.
struct Turned<'a> {
    axes: &'a [Vector3<f64>],
    /// Of the yokes on each shaft between two joints.
    phases: &'a [f64],
}

impl Turned<'_> {
    /// Turn of the last shaft's yoke in a basis of its own, the first shaft turned by `turn_rad`.
    fn last_rad(&self, turn_rad: f64) -> f64 {
        let first = self.axes[0];
        let mut pins = about(first, turn_rad) * square_to(first);
        for (joint, axis) in self.axes[1..].iter().enumerate() {
            pins = axis.cross(&pins).normalize();
            if let Some(phase) = self.phases.get(joint) {
                pins = about(*axis, *phase) * pins;
            }
        }
        let last = self.axes[self.axes.len() - 1];
        let side = square_to(last);
        pins.dot(&last.cross(&side)).atan2(pins.dot(&side))
    }

    /// Speed of the last shaft over the first one's, by fourth-order differences.
    fn ratio(&self, turn_rad: f64) -> f64 {
        const H: f64 = 2e-3;
        let over = |k: f64| {
            let step = self.last_rad(turn_rad + k * H) - self.last_rad(turn_rad - k * H);
            (step + PI).rem_euclid(TAU) - PI
        };
        (8.0 * over(1.0) - over(2.0)) / (12.0 * H)
    }

    /// Slowest and fastest: sampled, then taken at the vertex of a parabola through the best sample and its neighbours.
    fn extremes(&self) -> [f64; 2] {
        const TURNS: u32 = 180;
        let at = |i: f64| self.ratio(PI * i / f64::from(TURNS));
        let ratios: Vec<f64> = (0..TURNS).map(|i| at(f64::from(i))).collect();
        let start = [(0.0, ratios[0]); 2];
        let best = (0..TURNS).zip(&ratios).fold(start, |[low, high], (i, ratio)| {
            let here = (f64::from(i), *ratio);
            [
                if here.1 < low.1 { here } else { low },
                if here.1 > high.1 { here } else { high },
            ]
        });
        best.map(|(i, here)| {
            let (before, after) = (at(i - 1.0), at(i + 1.0));
            let bend = before - 2.0 * here + after;
            let vertex = if bend == 0.0 {
                0.0
            } else {
                (before - after) / (2.0 * bend)
            };
            at(i + vertex.clamp(-1.0, 1.0))
        })
    }
}

fn about(axis: Vector3<f64>, turn_rad: f64) -> Rotation3<f64> {
    Rotation3::from_axis_angle(&Unit::new_normalize(axis), turn_rad)
}

fn square_to(axis: Vector3<f64>) -> Vector3<f64> {
    axis.cross(&Vector3::new(0.2, -0.4, 0.9)).normalize()
}

fn residual_rad(axes: &[Vector3<f64>], phases: &[f64]) -> f64 {
    let mut chain = Chain::along(axes[0]);
    for (joint, axis) in axes[1..].iter().enumerate() {
        chain.joint(*axis);
        if let Some(phase) = phases.get(joint) {
            chain.yokes(*phase);
        }
    }
    chain.residual_rad()
}

fn axis(most: f64) -> impl Strategy<Value = Vector3<f64>> {
    [-most..most, -most..most].prop_map(|[y, z]| Vector3::new(1.0, y, z).normalize())
}

fn axes(most: f64) -> impl Strategy<Value = Vec<Vector3<f64>>> {
    prop::collection::vec(axis(most), 2..5)
}

proptest! {
    /// Differences of fourth order at 0.002 rad leave 1e-10 of speed; a parabola through samples a degree apart has its vertex within a hundredth
    /// of a degree, where the speed is level to 1e-8.
    #[test]
    fn any_row_of_joints_turns_like_one_joint_at_the_residual(axes in axes(0.35), phases in [-1.5..1.5f64, -1.5..1.5]) {
        let phases = &phases[..axes.len() - 2];
        let cos = residual_rad(&axes, phases).cos();
        let [slowest, fastest] = Turned { axes: &axes, phases }.extremes();
        prop_assert!((slowest - cos).abs() < 1e-7, "slowest {} {}", slowest, cos);
        prop_assert!((fastest - 1.0 / cos).abs() < 1e-7, "fastest {} {}", fastest, 1.0 / cos);
    }

    /// The makers' rule, right to second order: squares of the angles add as vectors of twice the phase of each joint's plane, every second
    /// one the other way round. For shafts within 3 degrees of X, planes may be seen along X.
    #[test]
    fn small_angles_add_as_phased_vectors(axes in axes(0.035), phase in -0.8..0.8f64) {
        let phases = vec![phase; axes.len() - 2];
        let mut sum = Complex::new(0.0, 0.0);
        for (joint, pair) in axes.windows(2).enumerate() {
            let normal = pair[0].cross(&pair[1]);
            let angle = normal.norm().atan2(pair[0].dot(&pair[1]));
            let turned = f64::from(u32::try_from(joint).expect("few")) * (phase + FRAC_PI_2);
            sum += Complex::from_polar(angle * angle, 2.0 * (normal.z.atan2(normal.y) - turned));
        }
        let exact = residual_rad(&axes, &phases).powi(2);
        prop_assert!((sum.norm() - exact).abs() < 5e-5, "{} {}", sum.norm(), exact);
    }

    /// Closed form: the joint's own equation.
    #[test]
    fn one_joint_has_its_speed_in_every_turn(angle in 0.0..0.7f64, turn in 0.0..TAU) {
        let axes = [Vector3::x(), in_plane(angle.to_degrees())];
        let turned = Turned { axes: &axes, phases: &[] };
        // The plane of the shafts is that of X and Z.
        let side = square_to(axes[0]);
        let from_plane = side.y.atan2(side.z);
        let expected = speed_ratio(angle, turn - from_plane);
        prop_assert!((turned.ratio(turn) - expected).abs() < 1e-8);
    }

    #[test]
    fn neither_turning_the_truck_nor_driving_from_the_other_end_changes_the_residual(
        axes in axes(0.5), turn in [-3.0..3.0f64, -3.0..3.0, -3.0..3.0], phases in [-1.5..1.5f64, -1.5..1.5],
    ) {
        let phases = &phases[..axes.len() - 2];
        let here = residual_rad(&axes, phases);
        let turn = Rotation3::from_scaled_axis(Vector3::from(turn));
        let elsewhere: Vec<_> = axes.iter().map(|a| turn * a).collect();
        prop_assert!((residual_rad(&elsewhere, phases) - here).abs() < 1e-7);
        // Seen from the other end every turn between two yokes has the other sign, and so has the way along the shaft: it stays.
        let back: Vec<_> = axes.iter().rev().map(|a| -a).collect();
        let phases: Vec<_> = phases.iter().rev().copied().collect();
        prop_assert!((residual_rad(&back, &phases) - here).abs() < 1e-7);
    }
}
