//! Choosing from the machine's own list of speeds or feeds.

use super::number::numbers;

/// The highest listed value that does not pass a limit by more than 2 %; `None`: all lie above.
///
/// Next lower, within 2 % above is allowed, since plates and tables are rounded. For limits that are
/// advice; one that must not be passed takes [`next_lower`]. The list need not be sorted.
pub fn next_listed(list: &[f64], limit: f64) -> Option<f64> {
    next_lower(list, limit * (1.0 + numbers().listed_tolerance.value))
}

/// The highest listed value at or below a limit; `None`: all lie above.
pub fn next_lower(list: &[f64], limit: f64) -> Option<f64> {
    list.iter().copied().filter(|value| *value <= limit).max_by(f64::total_cmp)
}

/// Speeds of a gearbox in even ratio between the least and the most, as ISO 3 series are.
///
/// `n_k = n_1 φ^k`, `φ = (n_z / n_1)^(1/(z−1))`. Empty unless there are two or more, 0 < least < most.
pub fn evenly_stepped(least: f64, most: f64, count: usize) -> Vec<f64> {
    if count < 2 || !(least > 0.0 && least < most && most.is_finite()) {
        return Vec::new();
    }
    let steps = (count - 1) as f64;
    (0..count).map(|k| least * (most / least).powf(k as f64 / steps)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn two_per_cent_above_will_do_and_three_will_not() {
        let list = [70.0, 110.0, 170.0];
        assert_eq!(next_listed(&list, 108.0), Some(110.0));
        assert_eq!(next_listed(&list, 107.0), Some(70.0));
        assert_eq!(next_lower(&list, 109.9), Some(70.0));
        assert_eq!(next_lower(&list, 110.0), Some(110.0));
    }

    #[test]
    fn nothing_low_enough_is_no_answer() {
        assert_eq!(next_listed(&[70.0], 60.0), None);
        assert_eq!(next_listed(&[], 60.0), None);
        assert_eq!(next_listed(&[70.0], f64::NAN), None);
        assert!(evenly_stepped(0.0, 10.0, 5).is_empty() && evenly_stepped(1.0, 2.0, 1).is_empty());
    }

    proptest! {
        #[test]
        fn the_order_of_the_list_does_not_matter(mut list in proptest::collection::vec(1.0..2000.0f64, 0..20), limit in 1.0..2000.0f64) {
            let before = next_listed(&list, limit);
            list.reverse();
            prop_assert_eq!(before, next_listed(&list, limit));
        }
    }
}
