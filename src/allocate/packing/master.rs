//! The linear programme over columns: least cost Σ c·x with Σ a·x ≥ demand, x ≥ 0, by the revised
//! simplex method with an explicit inverse. A library would do, if one gave both the columns'
//! shares and the rows' prices.

/// What a row of the basis is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Basic {
    /// The surplus of a row.
    Surplus(usize),
    /// A column, by the caller's index.
    Column(usize),
}

/// The state of the simplex method.
pub(super) struct Master {
    basis: Vec<Basic>,
    costs: Vec<f64>,
    inverse: Vec<Vec<f64>>,
    values: Vec<f64>,
}

const TINY: f64 = 1e-9;

impl Master {
    /// Starts from one column for each row, of `(index, cost)`, that serves this row alone.
    pub(super) fn new(demand: &[f64], start: &[(usize, f64)]) -> Self {
        let rows = demand.len();
        let inverse = (0..rows)
            .map(|row| {
                let mut line = vec![0.0; rows];
                if let Some(diagonal) = line.get_mut(row) {
                    *diagonal = 1.0;
                }
                line
            })
            .collect();
        // A tiny, different excess of each demand keeps ties, and with them cycles, away. Prices
        // of rows stay valid, and the bound is taken from the demand as it is.
        let values = demand
            .iter()
            .enumerate()
            .map(|(row, d)| d + 1e-7 * crate::quantity::number::real(row + 1))
            .collect();
        Master {
            basis: start.iter().map(|(i, _)| Basic::Column(*i)).collect(),
            costs: start.iter().map(|(_, cost)| *cost).collect(),
            inverse,
            values,
        }
    }

    /// The price of each row.
    pub(super) fn prices(&self) -> Vec<f64> {
        let mut prices = vec![0.0; self.basis.len()];
        for (line, cost) in self.inverse.iter().zip(&self.costs) {
            if *cost != 0.0 {
                for (price, entry) in prices.iter_mut().zip(line) {
                    *price += cost * entry;
                }
            }
        }
        prices
    }

    /// The share of each column that is in the basis.
    pub(super) fn shares(&self) -> Vec<(usize, f64)> {
        self.basis
            .iter()
            .zip(&self.values)
            .filter_map(|(basic, value)| match basic {
                Basic::Column(index) if *value > 1e-6 => Some((*index, *value)),
                _ => None,
            })
            .collect()
    }

    /// Brings a column into the basis. `false` when nothing can make way for it.
    pub(super) fn enter(&mut self, basic: Basic, cost: f64, column: &[f64]) -> bool {
        let along: Vec<f64> = self
            .inverse
            .iter()
            .map(|line| line.iter().zip(column).map(|(a, b)| a * b).sum())
            .collect();
        let leaving = along
            .iter()
            .zip(&self.values)
            .enumerate()
            .filter(|(_, (step, _))| **step > TINY)
            .map(|(row, (step, value))| (row, value.max(0.0) / step, *step))
            .min_by(|a, b| a.1.total_cmp(&b.1).then(b.2.total_cmp(&a.2)));
        let Some((row, _, pivot)) = leaving else {
            return false;
        };
        self.pivot(row, pivot, &along);
        if let Some(entry) = self.basis.get_mut(row) {
            *entry = basic;
        }
        if let Some(entry) = self.costs.get_mut(row) {
            *entry = cost;
        }
        true
    }

    fn pivot(&mut self, row: usize, pivot: f64, along: &[f64]) {
        let mut line = match self.inverse.get_mut(row) {
            Some(line) => std::mem::take(line),
            None => return,
        };
        line.iter_mut().for_each(|entry| *entry /= pivot);
        let value = self.values.get(row).copied().unwrap_or(0.0) / pivot;
        for (index, (other, step)) in self.inverse.iter_mut().zip(along).enumerate() {
            if index != row && *step != 0.0 {
                for (entry, by) in other.iter_mut().zip(&line) {
                    *entry -= step * by;
                }
            }
        }
        for (index, (other, step)) in self.values.iter_mut().zip(along).enumerate() {
            if index == row {
                *other = value;
            } else {
                *other = (*other - step * value).max(0.0);
            }
        }
        if let Some(place) = self.inverse.get_mut(row) {
            *place = line;
        }
    }
}
