//! Numbers as columns and short lines want them: in the job's units, the unit in the head of the column.

use engine::quantity::{Units, show};

/// A quantity without its unit.
fn head(shown: &str) -> String {
    shown.split_whitespace().next().unwrap_or_default().to_string()
}

/// A length without its unit.
pub(crate) fn bare(length_mm: f64, units: Units) -> String {
    head(&show::length(length_mm, units))
}

/// A feed in a turn, without unit.
pub(crate) fn feed(feed_mm: f64, units: Units) -> String {
    head(&show::feed(feed_mm, units))
}

/// A step of the lathe's plate, without unit.
pub(crate) fn rpm(rpm: f64) -> String {
    if rpm.fract().abs() < 0.05 { format!("{rpm:.0}") } else { format!("{rpm:.1}") }
}

/// A length too small for the rule: micrometres, or ten-thousandths of an inch.
pub(crate) fn small(length_um: f64, units: Units) -> String {
    match units {
        Units::Mm => format!("{length_um:.0} µm"),
        Units::Inch => show::fine_length(length_um / 1000.0, units),
    }
}

/// A factor, cut to one place and not rounded up: 1.96 does not become the 2.0 that is needed.
pub(crate) fn factor(factor: f64) -> String {
    // The small addition keeps 2.3, which binary numbers hold a hair too low, from becoming 2.2.
    format!("{:.1}", (factor * 10.0 + 1e-9).floor() / 10.0)
}

/// "1 set-up", "6 set-ups".
pub(crate) fn several(number: usize, what: &str) -> String {
    if number == 1 { format!("1 {what}") } else { format!("{number} {what}s") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_factor_is_never_shown_better_than_it_is() {
        for (value, shown) in [(1.96, "1.9"), (2.0, "2.0"), (2.3, "2.3"), (0.999, "0.9"), (11.08, "11.0")] {
            assert_eq!(factor(value), shown);
        }
    }

    #[test]
    fn columns_carry_no_unit() {
        assert_eq!(bare(9.0, Units::Inch), "0.354");
        assert_eq!(feed(0.1, Units::Mm), "0.10");
        assert_eq!((rpm(62.5), rpm(315.0)), ("62.5".to_string(), "315".to_string()));
    }
}
