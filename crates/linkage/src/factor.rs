//! Small square systems, on the stack: Gaussian elimination with partial pivoting, and for four unknowns, which most mechanisms have, a
//! form without branches.

/// Solves `matrix x = right`; `None` where the matrix is singular to the last bit, or holds something that is not a number.
#[inline(always)]
pub(crate) fn solve<const N: usize>(matrix: &[[f64; N]; N], right: &[f64; N]) -> Option<[f64; N]> {
    if N == 4
        && let Some(x) = by_minors(matrix, right)
    {
        return Some(x);
    }
    Some(Factored::of(*matrix)?.solve(right))
}

/// A determinant smaller than this part of the products that it is the sum of has lost digits, and pivoting does better.
const CANCELLED: f64 = 1e-6;

/// Four unknowns by Cramer's rule, expanded by the 2x2 minors of the upper and of the lower two rows (Laplace): no row waits for another.
/// `None` where too much cancels.
#[inline(always)]
fn by_minors<const N: usize>(m: &[[f64; N]; N], b: &[f64; N]) -> Option<[f64; N]> {
    let upper = |i: usize, j: usize| m[0][i] * m[1][j] - m[1][i] * m[0][j];
    let lower = |i: usize, j: usize| m[2][i] * m[3][j] - m[3][i] * m[2][j];
    let [u01, u02, u03, u12, u13, u23] = pairs(upper);
    let [l01, l02, l03, l12, l13, l23] = pairs(lower);
    let products = [u01 * l23, -u02 * l13, u03 * l12, u12 * l03, -u13 * l02, u23 * l01];
    let determinant = products[0] + products[1] + products[2] + products[3] + products[4] + products[5];
    let size = products.iter().fold(0.0, |sum, p| sum + p.abs());
    let trusted = determinant.abs() > CANCELLED * size;
    if !trusted {
        return None;
    }
    let by = 1.0 / determinant;
    // The right-hand side eliminated between the two upper rows, and between the two lower.
    let [a0, a1, a2, a3] = [0, 1, 2, 3].map(|j: usize| (b[0] * m[1][j] - b[1] * m[0][j]) * by);
    let [c0, c1, c2, c3] = [0, 1, 2, 3].map(|j: usize| (b[2] * m[3][j] - b[3] * m[2][j]) * by);
    let mut x = [0.0; N];
    x[0] = (a1 * l23 - a2 * l13 + a3 * l12) + (c1 * u23 - c2 * u13 + c3 * u12);
    x[1] = (a2 * l03 - a0 * l23 - a3 * l02) + (c2 * u03 - c0 * u23 - c3 * u02);
    x[2] = (a0 * l13 - a1 * l03 + a3 * l01) + (c0 * u13 - c1 * u03 + c3 * u01);
    x[3] = (a1 * l02 - a0 * l12 - a2 * l01) + (c1 * u02 - c0 * u12 - c2 * u01);
    Some(x)
}

/// The six pairs of four columns.
#[inline(always)]
fn pairs(minor: impl Fn(usize, usize) -> f64) -> [f64; 6] {
    [
        minor(0, 1),
        minor(0, 2),
        minor(0, 3),
        minor(1, 2),
        minor(1, 3),
        minor(2, 3),
    ]
}

/// A factored matrix. Rows of `lu` are in pivot order, with the diagonal's reciprocals on it; `order` says which row of the matrix each was.
pub(crate) struct Factored<const N: usize> {
    lu: [[f64; N]; N],
    order: [usize; N],
    odd: bool,
}

impl<const N: usize> Factored<N> {
    /// Factors a matrix given by rows; `None` where it is singular to the last bit, or holds something that is not a number.
    #[inline(always)]
    pub fn of(mut lu: [[f64; N]; N]) -> Option<Self> {
        let mut order: [usize; N] = std::array::from_fn(|i| i);
        let mut odd = false;
        for k in 0..N {
            let mut pivot = k;
            for i in k + 1..N {
                if lu[i][k].abs() > lu[pivot][k].abs() {
                    pivot = i;
                }
            }
            if pivot != k {
                lu.swap(k, pivot);
                order.swap(k, pivot);
                odd = !odd;
            }
            let upper = lu[k];
            let by = 1.0 / upper[k];
            if !by.is_finite() {
                return None;
            }
            lu[k][k] = by;
            for row in &mut lu[k + 1..] {
                let factor = row[k] * by;
                row[k] = factor;
                for j in k + 1..N {
                    row[j] -= factor * upper[j];
                }
            }
        }
        Some(Self { lu, order, odd })
    }

    /// Solves for one right-hand side.
    #[inline(always)]
    pub fn solve(&self, right: &[f64; N]) -> [f64; N] {
        let mut x: [f64; N] = std::array::from_fn(|i| right[self.order[i]]);
        for i in 1..N {
            for j in 0..i {
                x[i] -= self.lu[i][j] * x[j];
            }
        }
        for i in (0..N).rev() {
            for j in i + 1..N {
                x[i] -= self.lu[i][j] * x[j];
            }
            x[i] *= self.lu[i][i];
        }
        x
    }

    /// Sign of the determinant.
    pub fn handedness(&self) -> f64 {
        let sign = if self.odd { -1.0 } else { 1.0 };
        (0..N).fold(sign, |s, i| s * self.lu[i][i].signum())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{Matrix4, Matrix5, Vector4, Vector5};
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn solves_what_a_library_solves(entries in prop::collection::vec(-1.0..1.0f64, 25), right in prop::collection::vec(-1.0..1.0f64, 5)) {
            let matrix = Matrix5::from_row_slice(&entries);
            prop_assume!(matrix.singular_values().min() > 1e-3);
            let rows = std::array::from_fn(|i| std::array::from_fn(|j| matrix[(i, j)]));
            let factored = Factored::of(rows).ok_or_else(|| TestCaseError::fail("regular"))?;
            let x = Vector5::from(factored.solve(&std::array::from_fn(|i| right[i])));
            prop_assert!((matrix * x - Vector5::from_column_slice(&right)).norm() < 1e-11);
            prop_assert_eq!(factored.handedness(), matrix.determinant().signum());
        }

        #[test]
        fn four_unknowns_by_minors_are_those_by_pivoting(
            entries in prop::array::uniform4(prop::array::uniform4(-1.0..1.0f64)),
            right in prop::array::uniform4(-1.0..1.0f64),
            squeeze in 0.0..9.0f64,
        ) {
            // One column ever nearer to another, up to where pivoting has to take over.
            let mut entries = entries;
            for row in &mut entries {
                row[3] = row[2] + row[3] * 10f64.powf(-squeeze);
            }
            let matrix = Matrix4::from_fn(|i, j| entries[i][j]);
            let least = matrix.singular_values().min();
            prop_assume!(least > 1e-10);
            let x = solve(&entries, &right).ok_or_else(|| TestCaseError::fail("regular"))?;
            let left = (matrix * Vector4::from(x) - Vector4::from(right)).norm();
            prop_assert!(left < 1e-9 * Vector4::from(x).norm().max(1.0), "{left:e} left");
        }
    }

    #[test]
    fn a_singular_matrix_has_no_factors() {
        assert!(Factored::of([[1.0, 2.0], [2.0, 4.0]]).is_none());
        assert!(Factored::of([[f64::NAN, 2.0], [2.0, 4.0]]).is_none());
        let twice = [
            [1.0, 2.0, 3.0, 4.0],
            [2.0, 4.0, 6.0, 8.0],
            [0.0, 1.0, 0.0, 0.0],
            [0.0, 0.0, 1.0, 0.0],
        ];
        assert!(solve(&twice, &[1.0; 4]).is_none());
        assert!(solve(&[[f64::NAN; 4]; 4], &[1.0; 4]).is_none());
    }
}
