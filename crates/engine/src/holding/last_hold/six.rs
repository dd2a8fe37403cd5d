//! Six components and symmetric matrices of six by six, plain and quick.
#![allow(clippy::needless_range_loop, reason = "one index runs through several arrays at once")]

/// Force and moment, or shift and turn.
pub type Six = [f64; 6];

/// Cholesky factor `L Lᵀ` of a symmetric matrix, its diagonal inverted.
#[derive(Debug, Clone, Default)]
pub struct Factor {
    lower: [[f64; 6]; 6],
}

impl Factor {
    /// Factors a matrix with greatest diagonal element `most`. Near the end of the solver rounding can leave
    /// it short of positive definite: a little is then added to its diagonal, and refinement takes it out
    /// again. `false`: not even so.
    pub fn set(&mut self, matrix: &[[f64; 6]; 6], most: f64) -> bool {
        [0.0, 1e-14, 1e-12, 1e-10].into_iter().any(|share| self.try_set(matrix, share * most))
    }

    fn try_set(&mut self, matrix: &[[f64; 6]; 6], more: f64) -> bool {
        for column in 0..6 {
            for row in column..6 {
                let mut left = matrix[row][column];
                for before in 0..column {
                    left -= self.lower[row][before] * self.lower[column][before];
                }
                if row > column {
                    self.lower[row][column] = left * self.lower[column][column];
                } else if left + more > 0.0 && left.is_finite() {
                    self.lower[row][row] = 1.0 / (left + more).sqrt();
                } else {
                    return false;
                }
            }
        }
        true
    }

    /// Solves for one right side.
    pub fn solve(&self, mut side: Six) -> Six {
        for row in 0..6 {
            for before in 0..row {
                side[row] -= self.lower[row][before] * side[before];
            }
            side[row] *= self.lower[row][row];
        }
        for row in (0..6).rev() {
            for after in row + 1..6 {
                side[row] -= self.lower[after][row] * side[after];
            }
            side[row] *= self.lower[row][row];
        }
        side
    }
}

/// Scalar product.
#[inline]
pub fn dot(one: &Six, other: &Six) -> f64 {
    (one[0] * other[0] + one[1] * other[1] + one[2] * other[2])
        + (one[3] * other[3] + one[4] * other[4] + one[5] * other[5])
}

/// Length.
pub fn norm(six: &Six) -> f64 {
    dot(six, six).sqrt()
}

/// `to + share · six`.
#[inline]
pub fn add(to: &mut Six, share: f64, six: &Six) {
    for at in 0..6 {
        to[at] += share * six[at];
    }
}

/// `matrix + share · six sixᵀ`.
#[inline]
pub fn add_square(matrix: &mut [[f64; 6]; 6], share: f64, six: &Six) {
    for row in 0..6 {
        let part = share * six[row];
        for column in 0..6 {
            matrix[row][column] += part * six[column];
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_solution_solves() {
        let mut matrix = [[0.0; 6]; 6];
        for at in 0..8 {
            let six =
                [1.0, at as f64, (at * at % 7) as f64, (at * 5 % 3) as f64, (at % 2) as f64, 2.0 - at as f64 / 3.0];
            add_square(&mut matrix, 1.0, &six);
        }
        (0..6).for_each(|at| matrix[at][at] += 0.5);
        let mut factor = Factor::default();
        assert!(factor.set(&matrix, 100.0));
        let side = [1.0, -2.0, 0.5, 3.0, 0.0, 1.5];
        let solution = factor.solve(side);
        for row in 0..6 {
            assert!((dot(&matrix[row], &solution) - side[row]).abs() < 1e-10);
        }
    }

    #[test]
    fn what_is_not_positive_definite_is_refused() {
        let mut factor = Factor::default();
        let mut matrix = [[0.0; 6]; 6];
        (0..6).for_each(|at| matrix[at][at] = 1.0);
        matrix[3][3] = -1.0;
        assert!(!factor.set(&matrix, 1.0));
        matrix[3][3] = f64::NAN;
        assert!(!factor.set(&matrix, 1.0));
    }
}
