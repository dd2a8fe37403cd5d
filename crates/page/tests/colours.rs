//! The colours of the page can be told from what lies under them: in light and dark, in grey, by the colour-blind.
#![allow(missing_docs)]
// What goes wrong in a test ends it, with the place.
#![allow(clippy::unwrap_used)]

use std::collections::BTreeMap;

const STYLE: &str = include_str!("../assets/page.css");

type Colour = [f64; 3];

/// Custom properties of a rule, linear light: of the first `:root` for light, of the one for dark after it.
fn colours(dark: bool) -> BTreeMap<String, Colour> {
    let rule = STYLE.split(":root {").nth(if dark { 2 } else { 1 }).unwrap().split('}').next().unwrap();
    let rows = rule.lines().filter_map(|line| line.trim().strip_prefix("--")?.split_once(": #"));
    rows.map(|(name, hex)| (name.to_string(), linear(hex.trim_end_matches(';')))).collect()
}

/// sRGB to linear light: WCAG 2.2, definition of relative luminance.
fn linear(hex: &str) -> Colour {
    assert_eq!(hex.len(), 6, "{hex}");
    [0, 2, 4].map(|at| {
        let share = f64::from(u8::from_str_radix(&hex[at..at + 2], 16).unwrap()) / 255.0;
        if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
    })
}

/// WCAG 2.2: (L1 + 0.05) / (L2 + 0.05), L = 0.2126 R + 0.7152 G + 0.0722 B.
fn contrast(one: Colour, other: Colour) -> f64 {
    let light = |[r, g, b]: Colour| 0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05;
    let (one, other) = (light(one), light(other));
    one.max(other) / one.min(other)
}

/// How a colour looks to those who lack one kind of cone: Machado, Oliveira and Fernandes, "A physiologically-based
/// model for simulation of color vision deficiency", 2009, severity 1.0 (matrices from memory).
const LACKING: [[[f64; 3]; 3]; 3] = [
    [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
    [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]],
    [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]],
];

fn seen_lacking(matrix: &[[f64; 3]; 3], colour: Colour) -> Colour {
    std::array::from_fn(|row| (0..3).map(|at| matrix[row][at] * colour[at]).sum::<f64>().clamp(0.0, 1.0))
}

/// Least contrasts: numbers 7, other words 4.5, lines of controls 3 (WCAG 2.2: 1.4.6, 1.4.3, 1.4.11).
const PAIRS: [(&str, &str, f64); 16] = [
    ("ink", "paper", 7.0),
    ("ink", "field", 7.0),
    ("ink", "tint", 7.0),
    ("ink", "stop-tint", 7.0),
    ("ink", "danger-tint", 7.0),
    ("soft", "paper", 7.0),
    ("soft", "field", 7.0),
    ("soft", "tint", 7.0),
    ("soft", "stop-tint", 4.5),
    ("now", "paper", 7.0),
    ("now", "tint", 4.5),
    ("stop", "stop-tint", 4.5),
    ("danger", "paper", 7.0),
    ("danger", "danger-tint", 4.5),
    ("line", "paper", 3.0),
    ("line", "field", 3.0),
];

#[test]
fn words_and_numbers_stand_out_to_everybody() {
    for dark in [false, true] {
        let colours = colours(dark);
        for (word, ground, least) in PAIRS {
            let (word_colour, ground_colour) = (colours[word], colours[ground]);
            let plain = contrast(word_colour, ground_colour);
            assert!(plain >= least, "{word} on {ground}, dark {dark}: {plain:.2} of {least}");
            for matrix in &LACKING {
                let seen = contrast(seen_lacking(matrix, word_colour), seen_lacking(matrix, ground_colour));
                assert!(seen >= least.min(4.5), "{word} on {ground}, dark {dark}, colour-blind: {seen:.2}");
            }
        }
    }
}

#[test]
fn black_on_white_is_as_the_standard_says() {
    // WCAG 2.2: contrast ratios range from 1 to 21.
    assert!((contrast(linear("000000"), linear("ffffff")) - 21.0).abs() < 1e-9);
    assert!((contrast(linear("777777"), linear("ffffff")) - 4.48).abs() < 0.005);
}
