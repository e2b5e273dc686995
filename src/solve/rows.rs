//! Boxes laid out in rows on a surface: a layout that can be built as it is found.

/// Whether boxes (length, width) can stand in rows on a surface (length, width), all of them along
/// its length or all of them across. First fit, widest first (Coffman, Garey, Johnson and Tarjan,
/// "Performance bounds for level-oriented two-dimensional packing algorithms", SIAM Journal on
/// Computing 9, 1980). `true` is a layout; `false` does not prove that there is none. Any one unit
/// of length; sizes above 0.
#[must_use]
pub fn fit(surface: [f64; 2], boxes: &[[f64; 2]]) -> bool {
    let [length, width] = surface;
    along(length, width, boxes) || along(width, length, boxes)
}

/// What rounding may add to a length that just fits.
const ROUNDING: f64 = 1e-9;

/// Boxes with their longer side along `length`, in rows that fill `width`.
fn along(length: f64, width: f64, boxes: &[[f64; 2]]) -> bool {
    let mut boxes: Vec<[f64; 2]> = boxes.iter().map(|[a, b]| [a.max(*b), a.min(*b)]).collect();
    boxes.sort_by(|a, b| b[1].total_cmp(&a[1]).then(b[0].total_cmp(&a[0])));
    let mut rows: Vec<f64> = Vec::new();
    let mut taken = 0.0;
    for [long, short] in boxes {
        let room = |used: &&mut f64| **used + long <= length * (1.0 + ROUNDING);
        if let Some(used) = rows.iter_mut().find(room) {
            *used += long;
            continue;
        }
        taken += short;
        rows.push(long);
        if long > length * (1.0 + ROUNDING) || taken > width * (1.0 + ROUNDING) {
            return false;
        }
    }
    true
}

#[cfg(test)]
mod tests {
    use super::fit;

    #[test]
    fn rows_fill_a_surface_exactly() {
        assert!(fit([6.0, 2.0], &[[3.0, 1.0]; 4]));
        assert!(!fit([6.0, 1.9], &[[3.0, 1.0]; 4]));
    }

    #[test]
    fn boxes_stand_across_where_that_is_how_they_fit() {
        assert!(fit([2.0, 3.0], &[[3.0, 1.0]; 2]));
        assert!(!fit([2.0, 2.9], &[[3.0, 1.0]; 2]));
    }

    #[test]
    fn nothing_fits_everywhere() {
        assert!(fit([1.0, 1.0], &[]));
    }
}
