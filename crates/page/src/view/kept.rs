//! A number and its unit stay in one line, wherever a sentence is broken.

use maud::{Markup, PreEscaped};

/// Units and signs that follow a number behind a space.
const UNITS: [&str; 26] = [
    "%", "GPa", "HB", "MPa", "N", "W", "deg", "ft/min", "hp", "in", "in/rev", "kN", "kW", "kg", "lb", "lbf", "m/min",
    "min", "mm", "mm/rev", "mm²", "mm³", "rpm", "thou", "uin", "um",
];
/// What is drawn or set as a formula breaks no lines.
const WHOLE: [&str; 2] = ["svg", "math"];
const NO_BREAK: &str = "\u{a0}";

/// The same markup, a space that does not break between every number and its unit.
pub fn kept(PreEscaped(html): Markup) -> Markup {
    let mut made = String::with_capacity(html.len() + html.len() / 64);
    let mut rest = html.as_str();
    while let Some(at) = rest.find('<') {
        made.push_str(&kept_text(&rest[..at]));
        let tag = &rest[at..];
        let end = whole_end(tag).or_else(|| tag.find('>').map(|end| end + 1)).unwrap_or(tag.len());
        made.push_str(&tag[..end]);
        rest = &tag[end..];
    }
    made.push_str(&kept_text(rest));
    PreEscaped(made)
}

/// Where an element that stays as it is ends.
fn whole_end(tag: &str) -> Option<usize> {
    let name = WHOLE.into_iter().find(|name| tag[1..].starts_with(name))?;
    let close = format!("</{name}>");
    tag.find(&close).map(|at| at + close.len())
}

/// The same of plain words.
pub fn kept_text(says: &str) -> String {
    let mut made = String::with_capacity(says.len());
    let mut rest = says;
    while let Some(at) = rest.find(' ') {
        let behind = &rest[at + 1..];
        made.push_str(&rest[..at]);
        let number = made.ends_with(|c: char| c.is_ascii_digit());
        made.push_str(if number && begins_with_unit(behind) { NO_BREAK } else { " " });
        rest = behind;
    }
    made.push_str(rest);
    made
}

fn begins_with_unit(says: &str) -> bool {
    let end = says.find(|c: char| c.is_whitespace() || ",;:.()<&".contains(c)).unwrap_or(says.len());
    UNITS.contains(&&says[..end])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_keeps_its_unit() {
        let of = |html: &str| kept(PreEscaped(html.to_string())).0.replace(NO_BREAK, "_");
        assert_eq!(of("about 79 min; 81 of 100 pieces"), "about 79_min; 81 of 100 pieces");
        assert_eq!(
            of("<p title=\"5 mm\">5 mm (0.2 in) at 40 rpm.</p>"),
            "<p title=\"5 mm\">5_mm (0.2_in) at 40_rpm.</p>"
        );
        assert_eq!(of("<b>29</b> mm, 80 %, jaws 1 and 2, 4 minutes"), "<b>29</b> mm, 80_%, jaws 1 and 2, 4 minutes");
        assert_eq!(of("7 mm<svg><text>5 mm</text></svg> 6 mm"), "7_mm<svg><text>5 mm</text></svg> 6_mm");
        assert_eq!(of("5 mm < 6 mm"), "5_mm < 6 mm");
        assert_eq!(of(""), "");
    }

    #[test]
    fn units_are_sorted_and_once() {
        assert!(UNITS.windows(2).all(|pair| pair[0] < pair[1]), "{UNITS:?}");
    }
}
