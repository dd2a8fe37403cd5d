//! One parser for every quantity that a person writes.
//!
//! `"58"`, `"1 3/8 in"`, `"15 thou"`, `"0.1 mm/rev"`, `"45 N m"`, `"1.5 kW"`: a number, a fraction or
//! a whole number and a fraction, then a unit of the kind that is due. `"2½ in"` is read as `"2 1/2 in"`.

use winnow::ascii::{digit0, digit1, space0};
use winnow::combinator::{alt, opt};
use winnow::error::{ErrMode, ParserError};
use winnow::token::one_of;
use winnow::{ModalResult, Parser};

use super::unit::{ALL, Kind, Unit};
use super::{Length, Units, mm};

/// A quantity as read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// The number, in the unit that [`Kind`] names.
    pub plain: f64,
    /// Whether it was written in inches or a part of them, by its unit or by the file's.
    pub inch: bool,
}

/// Why a text is not a quantity of the kind that is due.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{says} (accepted: {accepts})")]
pub struct Misread {
    /// Byte in the text at which it stops making sense.
    pub at: usize,
    /// What is wrong there.
    pub says: String,
    /// What would be read.
    pub accepts: String,
}

/// Reads a text as a quantity of this kind; a bare number takes its unit from `units` where the kind
/// leaves no doubt, and is refused where it does.
pub fn read(text: &str, kind: Kind, units: Units) -> Result<Reading, Misread> {
    let mut input = text;
    let read = quantity(&mut input, kind, units);
    read.map_err(|error| {
        let wrong = match error {
            ErrMode::Backtrack(wrong) | ErrMode::Cut(wrong) => wrong,
            ErrMode::Incomplete(_) => Wrong { left: 0, says: "it breaks off".to_string() },
        };
        Misread { at: text.len().saturating_sub(wrong.left), says: wrong.says, accepts: kind.accepts(units) }
    })
}

/// Reads a text as a length.
pub fn read_length(text: &str, units: Units) -> Result<Length, Misread> {
    read(text, Kind::Length, units).map(|reading| mm(reading.plain))
}

/// A number as one whole number over another, so that nothing is rounded before the unit comes in.
#[derive(Debug, Clone, Copy)]
struct Ratio {
    over: f64,
    under: f64,
}

/// An error that knows its place by what was left to read.
#[derive(Debug)]
struct Wrong {
    left: usize,
    says: String,
}

impl ParserError<&str> for Wrong {
    type Inner = Self;

    fn from_input(input: &&str) -> Self {
        Wrong { left: input.len(), says: "a number is due here".to_string() }
    }

    fn into_inner(self) -> Result<Self::Inner, Self> {
        Ok(self)
    }
}

/// An error that no other reading can mend, at the head of `input`.
fn wrong<T>(input: &str, says: impl Into<String>) -> ModalResult<T, Wrong> {
    Err(ErrMode::Cut(Wrong { left: input.len(), says: says.into() }))
}

fn quantity(input: &mut &str, kind: Kind, units: Units) -> ModalResult<Reading, Wrong> {
    let start = *input;
    let number = number(input)?;
    let unit = unit(input, kind, units)?;
    let (over, under, inch) = unit.map_or((1.0, 1.0, false), |unit| (unit.over, unit.under, unit.inch));
    let plain = (number.over * over) / (number.under * under);
    if !plain.is_finite() {
        return wrong(start.trim_start(), "the number is too large to be read");
    }
    Ok(Reading { plain, inch })
}

fn number(input: &mut &str) -> ModalResult<Ratio, Wrong> {
    space0.parse_next(input)?;
    let sign = opt(one_of(['+', '-', '−'])).parse_next(input)?;
    let size = unsigned(input)?;
    let over = if matches!(sign, Some('-' | '−')) { -size.over } else { size.over };
    Ok(Ratio { over, under: size.under })
}

fn unsigned(input: &mut &str) -> ModalResult<Ratio, Wrong> {
    let start = *input;
    let (whole, point): (&str, Option<(char, &str)>) = (digit0, opt(('.', digit0))).parse_next(input)?;
    let parts = point.map_or("", |(_, parts)| parts);
    if let Some(ratio) = one_sign(input, whole, point.is_some(), start)? {
        return Ok(ratio);
    }
    if whole.is_empty() && parts.is_empty() {
        return wrong(start, not_a_number(start));
    }
    let power = exponent(input)?;
    refuse_comma(input)?;
    if point.is_some() || power.is_some() {
        if input.starts_with(LINES) {
            return wrong(input, "a fraction has whole numbers above and under its line");
        }
        return decimal(start, whole, parts, power.unwrap_or(""));
    }
    if input.starts_with(LINES) {
        return fraction(input, whole, start);
    }
    match mixed(input, whole)? {
        Some(mixed) => Ok(mixed),
        None => decimal(start, whole, "", ""),
    }
}

fn not_a_number(input: &str) -> String {
    match input.chars().next() {
        None => "nothing is written".to_string(),
        Some(',') => "a comma stands where a point is due".to_string(),
        Some(_) => format!("a number is due, not `{}`", brief(input)),
    }
}

/// The exponent's text after `e`, as in `1e-3`.
fn exponent<'t>(input: &mut &'t str) -> ModalResult<Option<&'t str>, Wrong> {
    let after_e = (one_of(['e', 'E']), (opt(one_of(['+', '-'])), digit1).take());
    opt(after_e.map(|(_, power)| power)).parse_next(input)
}

fn refuse_comma(input: &mut &str) -> ModalResult<(), Wrong> {
    if input.starts_with(',') {
        return wrong(input, "a comma stands where a point is due");
    }
    Ok(())
}

/// A decimal number: exact while its digits fit a whole number that a float holds exactly.
fn decimal(start: &str, whole: &str, parts: &str, power: &str) -> ModalResult<Ratio, Wrong> {
    const EXACT_DIGITS: usize = 15;
    if power.is_empty() && whole.len() + parts.len() <= EXACT_DIGITS {
        let over = finite(&format!("{whole}{parts}"), start)?;
        return Ok(Ratio { over, under: 10f64.powi(parts.len() as i32) });
    }
    let power = if power.is_empty() { "0" } else { power };
    Ok(Ratio { over: finite(&format!("0{whole}.{parts}e{power}"), start)?, under: 1.0 })
}

/// The line of a fraction: the stroke of every keyboard, and Unicode's fraction slash (U+2044).
const LINES: [char; 2] = ['/', '⁄'];

/// `3/8`: the line and what stands under it; once the line is seen there is no way back.
fn fraction(input: &mut &str, above: &str, start: &str) -> ModalResult<Ratio, Wrong> {
    let line = *input;
    one_of(LINES).parse_next(input)?;
    space0.parse_next(input)?;
    let place = *input;
    let under = digit0.parse_next(input)?;
    refuse_comma(input)?;
    if under.is_empty() {
        return wrong(line, "a whole number is due under the line of the fraction");
    }
    if input.starts_with('.') {
        return wrong(place, "a fraction has whole numbers above and under its line");
    }
    let ratio = Ratio { over: finite(above, start)?, under: finite(under, place)? };
    if ratio.under == 0.0 {
        return wrong(place, "the number under the line is zero");
    }
    Ok(ratio)
}

fn finite(digits: &str, place: &str) -> ModalResult<f64, Wrong> {
    match digits.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(value),
        _ => wrong(place, "the number is too large to be read"),
    }
}

/// What may follow a whole number: ` 3/8` or `-3/8`.
fn mixed(input: &mut &str, whole: &str) -> ModalResult<Option<Ratio>, Wrong> {
    let ahead = *input;
    let gap: &str = alt(("-", space0)).parse_next(input)?;
    let number_follows = input.starts_with(|c: char| c.is_ascii_digit());
    if gap.is_empty() || !number_follows || is_a_unit(input) {
        *input = ahead;
        return Ok(None);
    }
    let start = *input;
    let above: &str = digit1.parse_next(input)?;
    refuse_comma(input)?;
    if !input.starts_with(LINES) {
        return wrong(start, "a second number; only a fraction such as 3/8 may follow a whole number");
    }
    let part = fraction(input, above, start)?;
    if part.over >= part.under {
        return wrong(start, "after a whole number, a fraction of one or more is not clear");
    }
    Ok(Some(Ratio { over: finite(whole, start)? * part.under + part.over, under: part.under }))
}

/// `½`, `2½`, `2 ½`: a fraction of one sign, alone or after a whole number.
fn one_sign(input: &mut &str, whole: &str, point: bool, start: &str) -> ModalResult<Option<Ratio>, Wrong> {
    let sign = input.trim_start();
    let Some(letter) = sign.chars().next().filter(|&letter| is_sign(letter)) else { return Ok(None) };
    if point {
        return wrong(sign, format!("`{letter}` follows a decimal point; a fraction follows a whole number"));
    }
    let Some(&(_, over, under)) = SIGNS.iter().find(|(known, _, _)| *known == letter) else {
        return wrong(sign, format!("`{letter}` is no fraction that is read here; write it with a line, as 3/8"));
    };
    let after = &sign[letter.len_utf8()..];
    if after.starts_with(|c: char| c.is_ascii_digit() || "./⁄,".contains(c) || is_sign(c)) {
        return wrong(after, format!("after `{letter}` a unit is due, or nothing"));
    }
    *input = after;
    let whole = if whole.is_empty() { 0.0 } else { finite(whole, start)? };
    Ok(Some(Ratio { over: whole * under + over, under }))
}

/// Fractions that are one sign: Unicode, Latin-1 Supplement (U+00BC to U+00BE) and Number Forms (U+2150 to U+215E,
/// U+2189), each with the value that the standard's character database gives it.
const SIGNS: [(char, f64, f64); 19] = [
    ('¼', 1.0, 4.0),
    ('½', 1.0, 2.0),
    ('¾', 3.0, 4.0),
    ('⅐', 1.0, 7.0),
    ('⅑', 1.0, 9.0),
    ('⅒', 1.0, 10.0),
    ('⅓', 1.0, 3.0),
    ('⅔', 2.0, 3.0),
    ('⅕', 1.0, 5.0),
    ('⅖', 2.0, 5.0),
    ('⅗', 3.0, 5.0),
    ('⅘', 4.0, 5.0),
    ('⅙', 1.0, 6.0),
    ('⅚', 5.0, 6.0),
    ('⅛', 1.0, 8.0),
    ('⅜', 3.0, 8.0),
    ('⅝', 5.0, 8.0),
    ('⅞', 7.0, 8.0),
    ('↉', 0.0, 3.0),
];

/// Whether a letter is of Number Forms, or one of Latin-1's three fractions.
fn is_sign(letter: char) -> bool {
    matches!(letter, '¼'..='¾' | '\u{2150}'..='\u{218f}')
}

/// Whether what follows is a unit that starts with a digit, as `1/min` does.
fn is_a_unit(text: &str) -> bool {
    let under = text.trim_start_matches(|c: char| c.is_ascii_digit()).strip_prefix('/');
    under.is_some_and(|under| under.starts_with(|c: char| c.is_alphabetic()))
}

/// The unit, and nothing after it; `None`: none is written and none is needed.
fn unit(input: &mut &str, kind: Kind, units: Units) -> ModalResult<Option<&'static Unit>, Wrong> {
    space0.parse_next(input)?;
    if input.trim_end().is_empty() {
        return bare(input, kind, units);
    }
    let place = *input;
    let Some((length, unit)) = longest(place, kind) else {
        return wrong(place, format!("`{}` is not a unit that is read here", brief(place)));
    };
    *input = &place[length..];
    let after = input.trim_start();
    if !after.is_empty() {
        return wrong(after, format!("`{}` is left over after the unit", brief(after)));
    }
    if unit.kind != kind {
        let says = format!("`{}` is the unit of {}; {} is due", &place[..length], unit.kind.name(), kind.name());
        return wrong(place, says);
    }
    Ok(Some(unit))
}

fn bare(input: &mut &str, kind: Kind, units: Units) -> ModalResult<Option<&'static Unit>, Wrong> {
    match kind.bare(units) {
        Some(unit) => Ok(Some(unit)),
        None if kind == Kind::Share => Ok(None),
        None => wrong(input, "the unit is missing"),
    }
}

/// The longest unit at the head of a text, of the kind that is due before any other.
fn longest(text: &str, kind: Kind) -> Option<(usize, &'static Unit)> {
    let spelled = ALL.iter().flat_map(|unit| unit.names.iter().map(move |name| (unit, *name)));
    spelled
        .filter_map(|(unit, name)| heads(text, name).map(|exact| (name.len(), unit.kind == kind, exact, unit)))
        .max_by_key(|&(length, due, exact, _)| (length, due, exact))
        .map(|(length, _, _, unit)| (length, unit))
}

/// Whether a text begins with this unit and the unit ends there; `Some(false)`: but for the case of
/// its letters, which is forgiven in units of two letters and more.
fn heads(text: &str, name: &str) -> Option<bool> {
    let head = text.get(..name.len())?;
    let exact = head == name;
    let forgiven = name.len() > 1 && head.eq_ignore_ascii_case(name);
    if !exact && !forgiven {
        return None;
    }
    let after = text[name.len()..].chars().next();
    let ends = after.is_none_or(|c| !(c.is_alphanumeric() || "/^·*²³".contains(c)));
    ends.then_some(exact)
}

/// The first of a text, for a message.
fn brief(text: &str) -> String {
    const LONGEST: usize = 24;
    let mut short: String = text.trim_end().chars().take(LONGEST).collect();
    if text.trim_end().chars().nth(LONGEST).is_some() {
        short.push_str("...");
    }
    short
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(text: &str, kind: Kind) -> f64 {
        read(text, kind, Units::Mm).unwrap_or_else(|wrong| panic!("{text}: {wrong}")).plain
    }

    #[test]
    fn inches_become_millimetres_to_the_last_bit() {
        // One inch is 25.4 mm exactly; the right-hand sides are worked out by hand.
        for (text, mm) in [
            ("3/8 in", 9.525),
            ("3/8\"", 9.525),
            ("1 3/8 in", 34.925),
            ("1-3/8 in", 34.925),
            ("-1 3/8 in", -34.925),
            ("−3/8 in", -9.525),
            ("15 thou", 0.381),
            ("0.015 in", 0.381),
            (".015 in", 0.381),
            ("125 uin", 0.003175),
            ("63 µin", 0.0016002),
            ("2 ft", 609.6),
            ("1/64 in", 0.396875),
        ] {
            assert_eq!(plain(text, Kind::Length), mm, "{text}");
        }
    }

    #[test]
    fn a_fraction_of_one_sign_is_the_fraction_that_it_shows() {
        // The Unicode Standard, character database, field Numeric_Value: Latin-1 Supplement U+00BC to U+00BE, and the
        // block Number Forms U+2150 to U+215E and U+2189 (from memory).
        let database = [
            (0xbc, "1/4"),
            (0xbd, "1/2"),
            (0xbe, "3/4"),
            (0x2150, "1/7"),
            (0x2151, "1/9"),
            (0x2152, "1/10"),
            (0x2153, "1/3"),
            (0x2154, "2/3"),
            (0x2155, "1/5"),
            (0x2156, "2/5"),
            (0x2157, "3/5"),
            (0x2158, "4/5"),
            (0x2159, "1/6"),
            (0x215a, "5/6"),
            (0x215b, "1/8"),
            (0x215c, "3/8"),
            (0x215d, "5/8"),
            (0x215e, "7/8"),
            (0x2189, "0/3"),
        ];
        assert_eq!(database.len(), SIGNS.len());
        for (code, worth) in database {
            let sign = char::from_u32(code).expect("a letter");
            for whole in ["", "2", "12"] {
                let written = format!("{whole} {worth} in");
                for text in [format!("{whole}{sign} in"), format!("{whole} {sign}in"), format!("{whole}{sign}\"")] {
                    assert_eq!(plain(&text, Kind::Length), plain(&written, Kind::Length), "{text}");
                }
            }
        }
        // One inch is 25.4 mm exactly; worked out by hand.
        assert_eq!((plain("2½ in", Kind::Length), plain("-1¼ in", Kind::Length)), (63.5, -31.75));
        assert_eq!((plain("1 3⁄8 in", Kind::Length), plain("3⁄8 in", Kind::Length)), (34.925, 9.525));
        assert_eq!(read("1¼", Kind::Length, Units::Inch), Ok(Reading { plain: 31.75, inch: true }));
        assert_eq!(plain("½", Kind::Share), 0.5);
    }

    #[test]
    fn every_kind_reads_the_way_the_trade_writes_it() {
        // Definitions: lbf 4.4482216152605 N, lb 0.45359237 kg, hp 550 ft lbf/s (NIST SP 811, appendix B).
        for (text, kind, value) in [
            ("34 mm", Kind::Length, 34.0),
            ("34mm", Kind::Length, 34.0),
            ("  34  mm  ", Kind::Length, 34.0),
            ("12 um", Kind::Length, 0.012),
            ("1e-3 m", Kind::Length, 1.0),
            ("58", Kind::Length, 58.0),
            ("0.1 mm/rev", Kind::Feed, 0.1),
            ("0.004 in/rev", Kind::Feed, 0.1016),
            ("600 rpm", Kind::Speed, 600.0),
            ("600 1/min", Kind::Speed, 600.0),
            ("600", Kind::Speed, 600.0),
            ("10 deg", Kind::Angle, 10.0),
            ("-6°", Kind::Angle, -6.0),
            ("16 kN", Kind::Force, 16_000.0),
            ("45 N m", Kind::Torque, 45.0),
            ("45Nm", Kind::Torque, 45.0),
            ("45 N·m", Kind::Torque, 45.0),
            ("1.5 kW", Kind::Power, 1500.0),
            ("1.5 KW", Kind::Power, 1500.0),
            ("400 MPa", Kind::Pressure, 400.0),
            ("400 N/mm2", Kind::Pressure, 400.0),
            ("110 m/min", Kind::CuttingSpeed, 110.0),
            ("350 ft/min", Kind::CuttingSpeed, 106.68),
            ("7850 kg/m3", Kind::Density, 7850.0),
            ("7.85 g/cm3", Kind::Density, 7850.0),
            ("60 N/um", Kind::Stiffness, 60.0),
            ("60 kN/mm", Kind::Stiffness, 60.0),
            ("0.9 kg", Kind::Mass, 0.9),
            ("2 lb", Kind::Mass, 0.90718474),
            ("1.6 um", Kind::Roughness, 0.0016),
            ("3", Kind::Time, 3.0),
            ("30 s", Kind::Time, 0.5),
            ("500 g mm", Kind::Unbalance, 500.0),
            ("0.7", Kind::Share, 0.7),
            ("70 %", Kind::Share, 0.7),
        ] {
            assert_eq!(plain(text, kind), value, "{text}");
        }
        for (text, kind, value, digits) in [
            ("2 hp", Kind::Power, 1491.3997431645404, 1e-12),
            ("1 lbf ft", Kind::Torque, 1.3558179483314004, 1e-15),
            ("1 lbf in", Kind::Torque, 0.1129848290276167, 1e-15),
            ("1 ksi", Kind::Pressure, 6.894757293168361, 1e-14),
            ("1 lb/in3", Kind::Density, 27_679.904710203125, 1e-10),
            ("0.4 mrad", Kind::Angle, 0.02291831180523293, 1e-17),
        ] {
            assert!((plain(text, kind) - value).abs() <= digits, "{text}: {}", plain(text, kind));
        }
    }

    #[test]
    fn a_bare_number_takes_the_units_of_its_file() {
        let inch = |text: &str, kind| read(text, kind, Units::Inch);
        assert_eq!(inch("3/8", Kind::Length), Ok(Reading { plain: 9.525, inch: true }));
        assert_eq!(inch("0.004", Kind::Feed), Ok(Reading { plain: 0.1016, inch: true }));
        assert_eq!(inch("5 mm", Kind::Length), Ok(Reading { plain: 5.0, inch: false }));
        assert_eq!(read_length("3/8 in", Units::Mm), Ok(mm(9.525)));
    }

    #[test]
    fn what_cannot_be_read_is_placed() {
        for (text, kind, at, says) in [
            ("", Kind::Length, 0, "nothing is written"),
            ("   ", Kind::Length, 3, "nothing is written"),
            ("mm", Kind::Length, 0, "a number is due"),
            ("5,8 mm", Kind::Length, 1, "comma"),
            (",5 mm", Kind::Length, 0, "comma"),
            ("1 3,5/8 in", Kind::Length, 3, "comma"),
            ("1.234.5 mm", Kind::Length, 5, "not a unit"),
            ("3/0 in", Kind::Length, 2, "zero"),
            ("1 3/0 in", Kind::Length, 4, "zero"),
            ("1 3/ in", Kind::Length, 3, "under the line"),
            ("3/", Kind::Length, 1, "under the line"),
            ("1 9/8 in", Kind::Length, 2, "not clear"),
            ("1.5/8 in", Kind::Length, 3, "whole numbers"),
            ("1/8.5 in", Kind::Length, 2, "whole numbers"),
            ("1 3 mm", Kind::Length, 2, "second number"),
            ("34 kg", Kind::Length, 3, "unit of a mass"),
            ("34 mm/rev", Kind::Length, 3, "unit of a feed"),
            ("34 furlong", Kind::Length, 3, "not a unit"),
            ("34 mmm", Kind::Length, 3, "not a unit"),
            ("34 mm long", Kind::Length, 6, "left over"),
            ("34 mm, say", Kind::Length, 5, "left over"),
            ("1.5", Kind::Power, 3, "unit is missing"),
            ("1.6 mm", Kind::Roughness, 4, "unit of a length"),
            ("nan", Kind::Length, 0, "a number is due"),
            ("inf mm", Kind::Length, 0, "a number is due"),
            ("-inf", Kind::Length, 1, "a number is due"),
            ("1e400", Kind::Length, 0, "too large"),
            (" 1e308 m", Kind::Length, 1, "too large"),
            ("0x10", Kind::Length, 1, "not a unit"),
            ("１ mm", Kind::Length, 0, "a number is due"),
            ("2.5½ in", Kind::Length, 3, "decimal point"),
            (".½ in", Kind::Length, 1, "decimal point"),
            ("½½ in", Kind::Length, 2, "a unit is due"),
            ("½/2 in", Kind::Length, 2, "a unit is due"),
            ("2½.5 in", Kind::Length, 3, "a unit is due"),
            ("2½ 3 in", Kind::Length, 4, "not a unit"),
            ("⅟8 in", Kind::Length, 0, "write it with a line"),
            ("Ⅻ in", Kind::Length, 0, "write it with a line"),
            ("2 ↊ in", Kind::Length, 2, "write it with a line"),
        ] {
            let wrong = read(text, kind, Units::Mm).expect_err(text);
            assert!(wrong.says.contains(says), "{text}: {wrong}");
            assert_eq!(wrong.at, at, "{text}: {wrong}");
            assert!(wrong.accepts.contains(kind.name()), "{text}: {wrong}");
        }
    }

    proptest::proptest! {
        #[test]
        fn any_text_is_read_or_refused_with_a_place_inside_it(text in "\\PC*") {
            for kind in [Kind::Length, Kind::Torque, Kind::Share] {
                match read(&text, kind, Units::Inch) {
                    Ok(reading) => assert!(reading.plain.is_finite()),
                    Err(wrong) => assert!(text.is_char_boundary(wrong.at), "{wrong}"),
                }
            }
        }

        #[test]
        fn near_misses_never_panic(text in "[-+]?[0-9,./ ½⅜⅟⁄]{0,9}e?[0-9]{0,4} ?(mm|in|\"|µm|N m|1/min|kg)?.?") {
            for kind in [Kind::Length, Kind::Torque, Kind::Speed] {
                if let Err(wrong) = read(&text, kind, Units::Mm) {
                    assert!(text.is_char_boundary(wrong.at), "{wrong}");
                }
            }
        }

        #[test]
        fn what_is_written_comes_back(value in -9999.0..9999.0f64) {
            assert_eq!(plain(&format!("{value} mm"), Kind::Length), value);
            let inches = plain(&format!("{value} in"), Kind::Length);
            assert!((inches - value * 25.4).abs() <= inches.abs() * 4.0 * f64::EPSILON);
        }

        #[test]
        fn sixty_fourths_are_exact(over in 0u32..6400) {
            // 25.4/64 mm = 127/320 mm: the quotient of whole numbers is the nearest float there is.
            let (whole, part) = (over / 64, over % 64);
            assert_eq!(plain(&format!("{whole} {part}/64 in"), Kind::Length), f64::from(over * 127) / 320.0);
        }
    }
}
