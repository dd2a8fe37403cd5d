//! How numbers are shown: in the job's units, no more digits than the hand can use, always with a unit.

use super::{Length, Plain};

/// Newtons in a pound-force: 0.453 592 37 kg × 9.806 65 m/s², exact.
pub const NEWTONS_PER_LBF: f64 = 4.448_221_615_260_5;
/// Watts in a horsepower of 550 foot pound-force a second.
pub const WATTS_PER_HP: f64 = 550.0 * 0.3048 * NEWTONS_PER_LBF;
/// Kilograms in a pound, exact.
pub const KG_PER_LB: f64 = 0.453_592_37;
/// Millimetres in an inch, exact.
pub(crate) const MM_PER_INCH: f64 = 25.4;
/// Metres in a foot, exact.
const M_PER_FOOT: f64 = 0.3048;

/// The units in which a job is written and its plan speaks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// Millimetres, UK words.
    Mm,
    /// Inches, US words.
    Inch,
}

impl Units {
    /// The short name beside a number.
    pub fn name(self) -> &'static str {
        match self {
            Units::Mm => "mm",
            Units::Inch => "in",
        }
    }

    fn other(self) -> Units {
        match self {
            Units::Mm => Units::Inch,
            Units::Inch => Units::Mm,
        }
    }
}

/// A length in the job's units: two places in mm, three in inches.
pub fn show_length(length: Length, units: Units) -> String {
    self::length(length.plain(), units)
}

/// A length in the job's units: "9.00 mm", "0.354 in"; where it is a whole ten-thousandth of an inch, as half a
/// mark or a sixteenth is, with four places: "0.1875 in".
pub fn length(length_mm: f64, units: Units) -> String {
    length_to(length_mm, units, places(length_mm, units))
}

/// Places of a length that nothing asks more of.
pub fn places(length_mm: f64, units: Units) -> usize {
    let usual = usual_places(units);
    if units == Units::Inch && !whole(length_mm / MM_PER_INCH * 1e3) && whole(length_mm / MM_PER_INCH * 1e4) {
        return usual + 1;
    }
    usual
}

/// Whether a count is a whole one but for what binary numbers lack.
fn whole(count: f64) -> bool {
    (count - count.round()).abs() < 1e-6
}

/// Places of a length unless something asks for more: two in mm, three in inches.
pub(super) fn usual_places(units: Units) -> usize {
    match units {
        Units::Mm => 2,
        Units::Inch => 3,
    }
}

/// A small length or difference, one place more: "0.008 mm", "0.0003 in".
pub fn fine_length(length_mm: f64, units: Units) -> String {
    length_to(length_mm, units, if units == Units::Mm { 3 } else { 4 })
}

/// A length to so many places.
pub fn length_to(length_mm: f64, units: Units, places: usize) -> String {
    format!("{} {}", number(in_units(length_mm, units), places), units.name())
}

/// A length in the job's units, the other behind it: "9.00 mm (0.354 in)".
pub fn length_in_both(length_mm: f64, units: Units) -> String {
    format!("{} ({})", length(length_mm, units), length(length_mm, units.other()))
}

/// A size of stock: inches as a fraction where they are a whole number of 1/64, else to the places that
/// they carry; mm without idle zeros.
pub fn stock_size(length_mm: f64, units: Units) -> String {
    match units {
        Units::Mm => format!("{} mm", trimmed(length_mm, 3, 0)),
        Units::Inch => match sixty_fourths(length_mm / MM_PER_INCH) {
            Some(count) => format!("{} in", fraction(count)),
            None => format!("{} in", trimmed(length_mm / MM_PER_INCH, 4, 3)),
        },
    }
}

/// The units in which a size of bar is called by its dealer: those of the job, unless it is a fraction of an inch or a
/// whole tenth of a millimetre only in the other ones.
pub fn sold_in(size_mm: f64, units: Units) -> Units {
    let metric = whole(size_mm * 10.0);
    let inches = sixty_fourths(size_mm / MM_PER_INCH).is_some();
    match units {
        Units::Mm if !metric && inches => Units::Inch,
        Units::Inch if metric && !inches => Units::Mm,
        _ => units,
    }
}

/// A feed per revolution: "0.15 mm/rev", "0.0059 in/rev".
pub fn feed(feed_mm_per_rev: f64, units: Units) -> String {
    match units {
        Units::Mm => format!("{} mm/rev", trimmed(feed_mm_per_rev, 3, 2)),
        Units::Inch => format!("{} in/rev", number(feed_mm_per_rev / MM_PER_INCH, 4)),
    }
}

/// A cutting speed: "85 m/min", "279 ft/min".
pub fn speed(speed_m_per_min: f64, units: Units) -> String {
    match units {
        Units::Mm => format!("{} m/min", short(speed_m_per_min)),
        Units::Inch => format!("{} ft/min", short(speed_m_per_min / M_PER_FOOT)),
    }
}

/// A force: "1250 N"; in an inch job pounds beside it: "1250 N (281 lbf)".
pub fn force(force_n: f64, units: Units) -> String {
    beside(format!("{} N", short(force_n)), force_n / NEWTONS_PER_LBF, "lbf", units)
}

/// A power: "850 W", "1.50 kW"; in an inch job horsepower beside it: "1.50 kW (2.01 hp)".
pub fn power(power_w: f64, units: Units) -> String {
    let metric = if power_w.abs() < 999.5 {
        format!("{} W", short(power_w))
    } else {
        format!("{} kW", number(power_w / 1000.0, 2))
    };
    match units {
        Units::Mm => metric,
        Units::Inch => format!("{metric} ({} hp)", number(power_w / WATTS_PER_HP, 2)),
    }
}

/// A torque: "45 N m"; in an inch job "45 N m (33 lbf ft)".
pub fn torque(torque_nm: f64, units: Units) -> String {
    beside(format!("{} N m", short(torque_nm)), torque_nm / (NEWTONS_PER_LBF * M_PER_FOOT), "lbf ft", units)
}

/// A mass: "0.87 kg"; in an inch job "0.87 kg (1.92 lb)".
pub fn mass(mass_kg: f64, units: Units) -> String {
    match units {
        Units::Mm => format!("{} kg", number(mass_kg, 2)),
        Units::Inch => format!("{} kg ({} lb)", number(mass_kg, 2), number(mass_kg / KG_PER_LB, 2)),
    }
}

pub(super) fn in_units(length_mm: f64, units: Units) -> f64 {
    match units {
        Units::Mm => length_mm,
        Units::Inch => length_mm / MM_PER_INCH,
    }
}

fn beside(metric: String, other: f64, unit: &str, units: Units) -> String {
    match units {
        Units::Mm => metric,
        Units::Inch => format!("{metric} ({} {unit})", short(other)),
    }
}

/// A length to so many places without its unit, for a column that carries it in its head.
pub fn number_to(length_mm: f64, units: Units, places: usize) -> String {
    number(in_units(length_mm, units), places)
}

/// To so many places; no "-0.00", and a word where there is no number.
fn number(value: f64, places: usize) -> String {
    if !value.is_finite() {
        return "no number of".to_string();
    }
    let text = format!("{value:.places$}");
    match text.strip_prefix('-') {
        Some(digits) if digits.chars().all(|c| c == '0' || c == '.') => digits.to_string(),
        _ => text,
    }
}

/// Whole from ten up, one place below.
fn short(value: f64) -> String {
    number(value, if value.abs() < 9.95 { 1 } else { 0 })
}

/// To `most` places, idle zeros taken off down to `least` places.
fn trimmed(value: f64, most: usize, least: usize) -> String {
    let mut text = number(value, most);
    for _ in least..most {
        if text.contains('.') && text.ends_with('0') {
            text.pop();
        }
    }
    text.trim_end_matches('.').to_string()
}

/// The number of 1/64 inch, where it is a whole one to 0.0001 in.
fn sixty_fourths(inches: f64) -> Option<u64> {
    let count = (inches * 64.0).round();
    ((inches * 64.0 - count).abs() < 64e-4 && (1.0..1e6).contains(&count)).then_some(count as u64)
}

/// "1 3/8", "5/8", "2".
fn fraction(sixty_fourths: u64) -> String {
    let (whole, part) = (sixty_fourths / 64, sixty_fourths % 64);
    let shrink = 1 << part.trailing_zeros().min(6);
    match (whole, part) {
        (_, 0) => whole.to_string(),
        (0, _) => format!("{}/{}", part / shrink, 64 / shrink),
        _ => format!("{whole} {}/{}", part / shrink, 64 / shrink),
    }
}

/// The size of a thing on hand, parallels or packing, as it is marked: in the job's units, inches as a fraction
/// too where it is one, and in millimetres too where an inch job meets a metric piece.
pub fn on_hand(size_mm: f64, units: Units) -> String {
    match (units, sixty_fourths(size_mm / MM_PER_INCH)) {
        (Units::Mm, _) => length(size_mm, units),
        (Units::Inch, Some(count)) if count % 64 != 0 => format!("{} ({} in)", length(size_mm, units), fraction(count)),
        (Units::Inch, None) if whole(size_mm * 2.0) => {
            format!("{} mm ({})", trimmed(size_mm, 1, 0), length(size_mm, units))
        }
        (Units::Inch, _) => length(size_mm, units),
    }
}

/// A roughness Ra, µm: "1.6 um", or "63 uin" for inch jobs.
pub fn roughness(ra_um: f64, units: Units) -> String {
    /// What may be lost in showing it, as a share of it: less than a gauge of roughness tells apart.
    const LOST_SHARE: f64 = 0.05;
    let (value, fewest, unit) = match units {
        Units::Mm => (ra_um, 1, "um"),
        Units::Inch => (ra_um / 0.0254, 0, "uin"),
    };
    let lost = |places: &usize| {
        let scale = 10_f64.powi(*places as i32);
        ((value * scale).round() / scale - value).abs() <= LOST_SHARE * value.abs()
    };
    let places = (fewest..=fewest + 2).find(lost).unwrap_or(fewest + 2);
    format!("{value:.places$} {unit}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_is_called_as_it_is_sold() {
        for (size_mm, units, sold) in [
            (60.0, Units::Inch, Units::Mm),
            (22.5, Units::Inch, Units::Mm),
            (57.15, Units::Mm, Units::Inch),
            (57.15, Units::Inch, Units::Inch),
            (50.8, Units::Inch, Units::Inch),
            (50.8, Units::Mm, Units::Mm),
            (41.37, Units::Inch, Units::Inch),
        ] {
            assert_eq!(sold_in(size_mm, units), sold, "{size_mm}");
        }
    }

    #[test]
    fn a_fine_roughness_keeps_its_digits() {
        // Values of the series of ISO 21920-3 (from memory): 0.012 to 50 um.
        for (um, says) in
            [(0.012, "0.012 um"), (0.025, "0.025 um"), (0.05, "0.05 um"), (0.1, "0.1 um"), (3.2, "3.2 um")]
        {
            assert_eq!(roughness(um, Units::Mm), says);
        }
        assert_eq!(roughness(0.01, Units::Mm), "0.01 um");
        assert_eq!(roughness(0.0254, Units::Inch), "1 uin");
        assert_eq!(roughness(1.6, Units::Inch), "63 uin");
    }

    #[test]
    fn things_on_hand_are_called_as_they_are_marked() {
        assert_eq!(on_hand(16.0, Units::Inch), "16 mm (0.630 in)");
        assert_eq!(on_hand(18.000_000_000_000_004, Units::Inch), "18 mm (0.709 in)");
        assert_eq!(on_hand(12.7, Units::Inch), "0.500 in (1/2 in)");
        assert_eq!(on_hand(25.4 * 3.0 / 16.0, Units::Inch), "0.1875 in (3/16 in)");
        assert_eq!(on_hand(25.4, Units::Inch), "1.000 in");
        assert_eq!(on_hand(25.4 * 0.015, Units::Inch), "0.015 in");
        assert_eq!(on_hand(16.0, Units::Mm), "16.00 mm");
    }

    #[test]
    fn lengths_have_two_places_in_mm_and_three_in_inches() {
        assert_eq!(length(9.0, Units::Mm), "9.00 mm");
        assert_eq!(length(9.0, Units::Inch), "0.354 in");
        assert_eq!(length(0.0875 * 25.4, Units::Inch), "0.0875 in");
        assert_eq!(length_in_both(9.0, Units::Mm), "9.00 mm (0.354 in)");
        assert_eq!(length_in_both(25.4, Units::Inch), "1.000 in (25.40 mm)");
        assert_eq!(fine_length(0.0082, Units::Mm), "0.008 mm");
        assert_eq!(fine_length(0.0082, Units::Inch), "0.0003 in");
        assert_eq!(length(-0.001, Units::Mm), "0.00 mm");
        assert_eq!(length(-0.5, Units::Mm), "-0.50 mm");
    }

    #[test]
    fn stock_speaks_in_fractions() {
        for (inches, text) in [
            (1.375, "1 3/8 in"),
            (0.625, "5/8 in"),
            (2.25, "2 1/4 in"),
            (3.0, "3 in"),
            (0.015625, "1/64 in"),
            (1.984375, "1 63/64 in"),
            (1.38, "1.380 in"),
            (0.0, "0.000 in"),
        ] {
            assert_eq!(stock_size(inches * 25.4, Units::Inch), text);
        }
        assert_eq!(stock_size(58.0, Units::Mm), "58 mm");
        assert_eq!(stock_size(60.0, Units::Mm), "60 mm");
        assert_eq!(stock_size(57.5, Units::Mm), "57.5 mm");
        assert_eq!(stock_size(40.004, Units::Mm), "40.004 mm");
        assert_eq!(stock_size(1.3785 * 25.4, Units::Inch), "1.3785 in");
    }

    #[test]
    fn feeds_and_speeds() {
        assert_eq!(feed(0.1, Units::Mm), "0.10 mm/rev");
        assert_eq!(feed(0.0794, Units::Mm), "0.079 mm/rev");
        assert_eq!(feed(0.1, Units::Inch), "0.0039 in/rev");
        assert_eq!(speed(85.0, Units::Mm), "85 m/min");
        // 85 / 0.3048 = 278.87
        assert_eq!(speed(85.0, Units::Inch), "279 ft/min");
        assert_eq!(speed(8.0, Units::Mm), "8.0 m/min");
    }

    #[test]
    fn forces_power_torque_and_mass_keep_si_in_inch_jobs() {
        assert_eq!(force(1250.0, Units::Mm), "1250 N");
        // 1250 / 4.44822 = 281.01
        assert_eq!(force(1250.0, Units::Inch), "1250 N (281 lbf)");
        assert_eq!(power(850.0, Units::Mm), "850 W");
        // 1500 / 745.70 = 2.0115
        assert_eq!(power(1500.0, Units::Inch), "1.50 kW (2.01 hp)");
        assert_eq!(power(999.7, Units::Mm), "1.00 kW");
        // 45 / 1.355818 = 33.19
        assert_eq!(torque(45.0, Units::Inch), "45 N m (33 lbf ft)");
        // 0.87 / 0.453592 = 1.918
        assert_eq!(mass(0.87, Units::Inch), "0.87 kg (1.92 lb)");
    }

    #[test]
    fn what_is_no_number_is_not_shown_as_one() {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            for text in [length(value, Units::Mm), force(value, Units::Mm), stock_size(value, Units::Inch)] {
                assert!(text.starts_with("no number of"), "{text}");
            }
        }
    }
}
