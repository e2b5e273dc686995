//! Labels beside an axis, each as near its place as may be, in as many rows as it takes for none
//! to touch another.

/// Where a label was put.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Put {
    /// Its left edge.
    pub left: f64,
    /// Its row, from 0.
    pub row: usize,
}

/// Puts labels of `(place, width)`, in the order given, between `low` and `high` with `gap` between
/// two.
#[must_use]
pub fn stack(labels: &[(f64, f64)], (low, high): (f64, f64), gap: f64) -> Vec<Put> {
    let mut rows: Vec<Vec<(f64, f64)>> = Vec::new();
    labels
        .iter()
        .map(|&(place, width)| {
            let left = (place - 0.5 * width).min(high - width).max(low);
            let free = |row: &Vec<(f64, f64)>| {
                row.iter()
                    .all(|(from, to)| left + width + gap <= *from || to + gap <= left)
            };
            let row = rows.iter().position(free).unwrap_or(rows.len());
            if let Some(taken) = rows.get_mut(row) {
                taken.push((left, left + width));
            } else {
                rows.push(vec![(left, left + width)]);
            }
            Put { left, row }
        })
        .collect()
}

/// How many rows were needed.
#[must_use]
pub fn rows(put: &[Put]) -> usize {
    put.iter().map(|put| put.row + 1).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_that_would_touch_go_into_rows() {
        let put = stack(&[(0.0, 10.0), (5.0, 10.0), (30.0, 10.0)], (0.0, 35.0), 1.0);
        let found: Vec<_> = put.iter().map(|put| (put.left, put.row)).collect();
        assert_eq!(found, [(0.0, 0), (0.0, 1), (25.0, 0)]);
        assert_eq!(rows(&put), 2);
    }
}
