//! Other ways to solve the same poses: general solvers, each started from the pose before, each done when no gap is larger than the contract's.

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use linkage::Drive;
use nalgebra_of_peer::{Matrix4, Owned, U4, Vector4};

use crate::bars::{FourBars, Stand, Unknowns, newton_step, unknowns};
use crate::hung::{CLOSED_M, Hung};

/// Solves a pose from a guess.
pub type Solve = fn(&FourBars, Drive, Unknowns) -> Unknowns;

/// All of them.
pub const ALL: [(&str, Solve); 2] = [
    ("nalgebra's LU, Newton", newton),
    ("levenberg-marquardt", levenberg_marquardt),
];

/// Walks the travel from its lowest pose.
pub fn travel(bars: &FourBars, hung: &Hung, solve: Solve, mut visit: impl FnMut(&Unknowns)) {
    let mut u = unknowns(&hung.poses[0]);
    for &drive in &hung.drives {
        u = solve(bars, drive, u);
        visit(&u);
    }
}

/// That a peer's poses close, and that they are ours.
pub fn check(bars: &FourBars, hung: &Hung, peer: &str, solve: Solve) {
    let mut poses = hung.poses.iter();
    travel(bars, hung, solve, |u| {
        let ours = poses.next().expect("as many poses");
        let gap_m = bars.at(ours.drive(), *u).worst_gap_m();
        assert!(gap_m <= CLOSED_M, "{peer}: {gap_m} m left");
        let off = u.iter().zip(unknowns(ours)).map(|(a, b)| (a - b).abs());
        assert!(off.fold(0.0, f64::max) < 1e-9, "{peer}: {u:?} where we have {ours:?}");
    });
}

fn newton(bars: &FourBars, drive: Drive, mut u: Unknowns) -> Unknowns {
    for _ in 0..20 {
        let stand = bars.at(drive, u);
        if stand.worst_gap_m() <= CLOSED_M {
            break;
        }
        let Some(step) = newton_step(&stand) else { break };
        u = std::array::from_fn(|i| u[i] - step[i]);
    }
    u
}

/// Loosest power of ten with which the peer keeps to the contract throughout: it is relative to the unknowns and to the gaps before
/// the step, and the step that meets it leaves far less.
const TOLERANCE: f64 = 1e-2;

fn levenberg_marquardt(bars: &FourBars, drive: Drive, u: Unknowns) -> Unknowns {
    let problem = Problem {
        bars,
        drive,
        u,
        stand: bars.at(drive, u),
    };
    let (solved, _) = LevenbergMarquardt::new().with_tol(TOLERANCE).minimize(problem);
    solved.u
}

/// The gaps at a drive as the peer wants them.
struct Problem<'a> {
    bars: &'a FourBars,
    drive: Drive,
    u: Unknowns,
    stand: Stand,
}

impl LeastSquaresProblem<f64, U4, U4> for Problem<'_> {
    type ResidualStorage = Owned<f64, U4>;
    type JacobianStorage = Owned<f64, U4, U4>;
    type ParameterStorage = Owned<f64, U4>;

    fn set_params(&mut self, x: &Vector4<f64>) {
        self.u = [x[0], x[1], x[2], x[3]];
        self.stand = self.bars.at(self.drive, self.u);
    }

    fn params(&self) -> Vector4<f64> {
        Vector4::from(self.u)
    }

    fn residuals(&self) -> Option<Vector4<f64>> {
        Some(Vector4::from(self.stand.gaps()))
    }

    fn jacobian(&self) -> Option<Matrix4<f64>> {
        let rows = self.stand.jacobian();
        Some(Matrix4::from_fn(|i, j| rows[i][j]))
    }
}
