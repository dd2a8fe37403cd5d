//! Numbers as the faces show them beside a head that carries the unit: no more digits than the hand can use.

use super::{Units, show};

/// A length too small for the rule: micrometres, or ten-thousandths of an inch.
pub fn small(value_um: f64, units: Units) -> String {
    match units {
        Units::Mm => format!("{value_um:.0} um"),
        Units::Inch => show::fine_length(value_um / 1000.0, units),
    }
}

/// A height of a surface: tenths of a micrometre, or hundred-thousandths of an inch.
pub fn height(value_um: f64, units: Units) -> String {
    // Nothing is not less than nothing.
    let tidy = |value: f64, text: String| if value.abs() < 1e-9 { text.replace('-', "") } else { text };
    match units {
        Units::Mm => tidy((value_um * 10.0).round(), format!("{value_um:.1} um")),
        Units::Inch => tidy((value_um / 0.254).round(), format!("{:.5} in", value_um / 25_400.0)),
    }
}

/// A quantity without its unit, for a column that carries it in its head.
fn head(shown: &str) -> String {
    shown.split_whitespace().next().unwrap_or_default().to_string()
}

/// A length without its unit.
pub fn bare(value_mm: f64, units: Units) -> String {
    head(&show::length(value_mm, units))
}

/// A size of stock without its unit: "60", "2 1/4".
pub fn size(value_mm: f64, units: Units) -> String {
    let shown = show::stock_size(value_mm, units);
    shown.trim_end_matches(units.name()).trim_end().to_string()
}

/// Sizes of a bar without their unit, "60", "50 x 40", and the units in which it is called.
pub fn bar_sizes((one, other): (f64, Option<f64>), units: Units) -> (String, Units) {
    let sold_in = show::sold_in(one, units);
    let sizes: Vec<String> = [Some(one), other].into_iter().flatten().map(|mm| size(mm, sold_in)).collect();
    (sizes.join(" x "), sold_in)
}

/// A mass, kg or in an inch job lb, without unit.
pub fn mass(value_kg: f64, units: Units) -> String {
    match units {
        Units::Mm => show::mass(value_kg, units).trim_end_matches(" kg").to_string(),
        Units::Inch => {
            let shown = show::mass(value_kg, units);
            shown.split_once('(').map_or(shown.clone(), |(_, pounds)| pounds.trim_end_matches(" lb)").to_string())
        }
    }
}

/// A feed in a turn, without unit.
pub fn feed(value_mm: f64, units: Units) -> String {
    head(&show::feed(value_mm, units))
}

/// A step of the plate, without unit.
pub fn rpm(value: f64) -> String {
    if value.fract().abs() < 0.05 { format!("{value:.0}") } else { format!("{value:.1}") }
}

/// A factor, cut to one place and not rounded up: 1.96 does not become the 2.0 that is needed.
pub fn factor(value: f64) -> String {
    // The small addition keeps 2.3, which binary numbers hold a hair too low, from becoming 2.2.
    format!("{:.1}", (value * 10.0 + 1e-9).floor() / 10.0)
}

/// A count that may be beyond whole numbers.
pub fn count(value: f64) -> String {
    if value < 1e6 { format!("{value:.0}") } else { format!("about {value:.0e}") }
}

/// "1 set-up", "6 set-ups".
pub fn several(number: usize, what: &str) -> String {
    if number == 1 { format!("1 {what}") } else { format!("{number} {what}s") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_factor_is_never_shown_better_than_it_is() {
        for (value, shown) in
            [(1.96, "1.9"), (2.0, "2.0"), (2.3, "2.3"), (2.69, "2.6"), (0.999, "0.9"), (11.08, "11.0")]
        {
            assert_eq!(factor(value), shown);
        }
    }
}
