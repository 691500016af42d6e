//! Small square systems: Gaussian elimination with partial pivoting, on the stack.

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
    use nalgebra::{Matrix5, Vector5};
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
    }

    #[test]
    fn a_singular_matrix_has_no_factors() {
        assert!(Factored::of([[1.0, 2.0], [2.0, 4.0]]).is_none());
        assert!(Factored::of([[f64::NAN, 2.0], [2.0, 4.0]]).is_none());
    }
}
