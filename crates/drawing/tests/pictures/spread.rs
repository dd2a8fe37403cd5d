//! How requirements come out, read back from the picture by the numbers that are written on its line.

use drawing::{Curve, Figure, Fill, LineKind, Mark, Part, Text};
use engine::plan::{CauseShare, Chance, Forecast, Quality};
use engine::quantity::Units;

use crate::{clear, drawn};

/// Paper that page and phone give.
const WIDTHS_MM: [f64; 3] = [90.0, 72.0, 60.0];

/// Every requirement of every plan with its picture.
fn spreads(width_mm: f64) -> Vec<(u64, Units, &'static Quality, Figure)> {
    let of = |(seed, plan, _): &(u64, &'static engine::plan::Plan, Vec<Figure>)| {
        let (seed, units) = (*seed, plan.units);
        let qualities = plan.forecast.iter().flat_map(|forecast| &forecast.qualities);
        qualities.enumerate().filter_map(move |(at, quality)| {
            Some((seed, units, quality, drawing::spread(quality, at, units, width_mm)?))
        })
    };
    drawn().iter().flat_map(of).collect()
}

fn texts(figure: &Figure) -> Vec<&Text> {
    figure.marks.iter().filter_map(|mark| if let Mark::Text(text) = mark { Some(text) } else { None }).collect()
}

/// Upright strokes of a kind: their places across.
fn uprights(figure: &Figure, kind: LineKind) -> Vec<f64> {
    let place = |mark: &Mark| match mark {
        Mark::Stroke(stroke) if stroke.kind == kind && stroke.part == Part::Sign => match stroke.curve {
            Curve::Line { from_mm, to_mm } if (from_mm[0] - to_mm[0]).abs() < 1e-9 => Some(from_mm[0]),
            _ => None,
        },
        _ => None,
    };
    figure.marks.iter().filter_map(place).collect()
}

/// Left and right end of the region of this fill.
fn band(figure: &Figure, fill: Fill) -> [f64; 2] {
    let found = figure.marks.iter().find_map(|mark| match mark {
        Mark::Area(area) if area.fill == fill => {
            let across = area.edge.iter().map(|curve| curve.at(0.0)[0]);
            Some(across.fold([f64::MAX, f64::MIN], |ends, x| [ends[0].min(x), ends[1].max(x)]))
        }
        _ => None,
    });
    found.expect("a band")
}

/// The number that a text begins with.
fn number(says: &str) -> f64 {
    says.split(' ').next().and_then(|word| word.parse().ok()).unwrap_or_else(|| panic!("a number in {says}"))
}

/// mm for one count of the line, by the unit at its end.
fn unit_mm(says: &str) -> f64 {
    match says.split(' ').nth(1) {
        Some("mm") => 1.0,
        Some("in") => 25.4,
        Some("um") => 1e-3,
        Some("uin") => 25.4e-6,
        other => panic!("{other:?} in {says}"),
    }
}

/// The line of a picture: mm that a place across stands for, by the numbers at its ends and nothing else.
fn read(figure: &Figure) -> impl Fn(f64) -> f64 {
    let ticks = uprights(figure, LineKind::Narrow);
    let low = texts(figure).iter().map(|text| text.frame_mm[3]).filter(|low| *low < 29.0).fold(0.0, f64::max);
    let ends: Vec<&Text> = texts(figure).into_iter().filter(|text| (text.frame_mm[3] - low).abs() < 1e-6).collect();
    assert_eq!(ends.len(), 2, "{}", figure.name);
    let unit_mm = unit_mm(&ends[1].says);
    let [from, to] = [number(&ends[0].says) * unit_mm, number(&ends[1].says) * unit_mm];
    let [left, right] = [ticks[0], ticks[ticks.len() - 1]];
    move |x| from + (to - from) * (x - left) / (right - left)
}

/// Whether a place stands for a length, to a thousandth of the line.
fn stands(read: &impl Fn(f64) -> f64, x: f64, wanted_mm: f64) -> bool {
    (read(x) - wanted_mm).abs() <= 1e-3 * (read(90.0) - read(0.0)).abs() + 1e-9
}

#[test]
fn limits_and_bands_lie_where_the_line_says() {
    let mut seen = [0; 2];
    for width_mm in WIDTHS_MM {
        for (seed, units, quality, figure) in spreads(width_mm) {
            let called = format!("{seed} {} {:?}", quality.requirement, units);
            let read = read(&figure);
            let wide = uprights(&figure, LineKind::Wide);
            let wanted: Vec<f64> = match quality.kind {
                "size" | "distance" => vec![quality.lower_mm, quality.upper_mm],
                "angle" | "position" => vec![-quality.upper_mm, quality.upper_mm],
                _ => vec![quality.upper_mm],
            };
            assert_eq!(wide.len(), wanted.len(), "{called}");
            for (x, wanted_mm) in wide.iter().zip(&wanted) {
                assert!(stands(&read, *x, *wanted_mm), "{called}: {} for {wanted_mm}", read(*x));
            }
            for (fill, times) in [(Fill::Pale, 2.0), (Fill::Dark, 1.0)] {
                let floor = if wanted.len() == 1 { 0.0 } else { f64::MIN };
                for (x, side) in band(&figure, fill).into_iter().zip([-1.0, 1.0]) {
                    let wanted_mm = (quality.middle_mm + side * times * quality.spread_mm).max(floor);
                    assert!(stands(&read, x, wanted_mm), "{called}: {} for {wanted_mm}", read(x));
                }
            }
            seen[usize::from(units == Units::Inch)] += 1;
        }
    }
    assert!(seen.iter().all(|seen| *seen > 1_000), "{seen:?}");
}

/// The number beside an upright is the one of the words, and no line is finer than a bench gauge tells apart.
#[test]
fn numbers_are_those_of_the_words_and_no_finer_than_makes_sense() {
    for (seed, units, quality, figure) in spreads(90.0) {
        let called = format!("{seed} {}", quality.requirement);
        let asks = quality.asks(units);
        let says: Vec<&str> = texts(&figure).iter().map(|text| text.says.as_str()).collect();
        let has = |wanted: &str| says.iter().any(|says| says.trim_start_matches(['+', '-']) == wanted);
        let numbers: Vec<&str> = asks.split(' ').filter(|word| word.parse::<f64>().is_ok()).collect();
        assert!(!numbers.is_empty() && numbers.iter().all(|number| has(number)), "{called}: {asks} in {says:?}");
        assert!(says.contains(&format!("{} of 100", quality.chance.of_100()).as_str()), "{called}: {says:?}");
        let places = if units == Units::Mm { 3 } else { 4 };
        // The limits themselves may be finer, where the drawing is.
        for text in says.iter().filter(|says| !numbers.contains(&says.trim_start_matches(['+', '-']))) {
            let number = text.split(' ').next().filter(|word| word.parse::<f64>().is_ok());
            let finest = number.and_then(|number| number.split('.').nth(1)).map_or(0, str::len);
            assert!(finest <= places, "{called}: {text}");
        }
    }
}

#[test]
fn bars_are_as_long_as_their_shares_and_shares_make_all() {
    let mut seen = 0;
    for (seed, plan, _) in drawn() {
        for (at, quality) in plan.forecast.iter().flat_map(|forecast| &forecast.qualities).enumerate() {
            let Some(figure) = drawing::causes(quality, at, 76.0) else { continue };
            let bars: Vec<f64> = figure
                .marks
                .iter()
                .filter_map(|mark| match mark {
                    Mark::Area(area) => {
                        let across = area.edge.iter().map(|curve| curve.at(0.0)[0]);
                        let ends = across.fold([f64::MAX, f64::MIN], |ends, x| [ends[0].min(x), ends[1].max(x)]);
                        Some(ends[1] - ends[0])
                    }
                    _ => None,
                })
                .collect();
            // "under 1 %" is none to the whole number.
            let share = |says: &str| match says.strip_prefix("under\u{a0}") {
                Some(_) => 0.0,
                None => number(&says.replace('\u{a0}', " ")),
            };
            let shares: Vec<f64> =
                texts(&figure).iter().filter(|text| text.strong).map(|text| share(&text.says)).collect();
            assert_eq!(bars.len(), shares.len(), "{seed}");
            assert!(bars.len() <= 5, "{seed}: {} bars", bars.len());
            for (bar, percent) in bars.iter().zip(&shares) {
                assert!((bar / 75.0 * 100.0 - percent).abs() <= 0.51, "{seed}: {bar} for {percent}");
            }
            assert!((bars.iter().sum::<f64>() - 75.0).abs() < 1e-6, "{seed}: {bars:?}");
            seen += 1;
        }
    }
    assert!(seen > 1_000, "{seen}");
}

fn quality(kind: &'static str, [lower_mm, upper_mm]: [f64; 2], [middle_mm, spread_mm]: [f64; 2]) -> Quality {
    let cause = |of: &str, share| CauseShare { of: of.to_string(), share };
    Quality {
        requirement: "C square to A".to_string(),
        faces: vec!["C".to_string(), "A".to_string()],
        kind,
        lower_mm,
        upper_mm,
        from: "the drawing".to_string(),
        middle_mm,
        spread_mm,
        chance: Chance { share: 0.5, error: 0.01 },
        linear: engine::plan::LinearCheck::default(),
        causes: vec![cause("gripping anew", 0.998), cause("the gauge", 0.002)],
    }
}

/// Limits close together in a wide spread, a spread close to one limit, none, and one far outside: letters keep apart.
#[test]
fn letters_keep_apart_however_limits_and_spread_lie() {
    for units in [Units::Mm, Units::Inch] {
        for kind in ["size", "distance", "parallel", "square", "angle", "flat", "position", "rough"] {
            for limits in [[0.0, 0.0021], [0.0, 0.06], [35.95, 36.05], [99.9994, 100.0006], [0.0, 250.0]] {
                for middle_mm in [0.0, 0.03, 36.0, 100.0, 36.3] {
                    for spread_mm in [0.0, 0.0001, 0.013, 0.4, 30.0] {
                        let quality = quality(kind, limits, [middle_mm, spread_mm]);
                        for width_mm in WIDTHS_MM {
                            let spread = drawing::spread(&quality, 1, units, width_mm).expect("a picture");
                            clear::check(0, &spread);
                            clear::check(0, &drawing::causes(&quality, 1, width_mm).expect("a picture"));
                            for text in texts(&spread) {
                                let [left, _, right, _] = text.frame_mm;
                                assert!(left >= 0.0 && right <= width_mm, "{kind} {limits:?}: {}", text.says);
                            }
                        }
                    }
                }
            }
        }
    }
}

#[test]
fn what_has_no_scale_has_no_picture() {
    let fine = quality("size", [35.95, 36.05], [36.0, 0.01]);
    assert!(drawing::spread(&fine, 1, Units::Mm, 90.0).is_some());
    for width_mm in [f64::NAN, -1.0, 0.0, 30.0] {
        assert!(drawing::spread(&fine, 1, Units::Mm, width_mm).is_none());
        assert!(drawing::causes(&fine, 1, width_mm).is_none());
    }
    for (middle_mm, spread_mm) in [(f64::NAN, 0.01), (36.0, f64::INFINITY), (36.0, f64::NAN), (36.0, -1.0)] {
        let broken = quality("size", [35.95, 36.05], [middle_mm, spread_mm]);
        assert!(drawing::spread(&broken, 1, Units::Mm, 90.0).is_none(), "{middle_mm} {spread_mm}");
    }
    assert!(drawing::causes(&Quality { causes: Vec::new(), ..fine }, 1, 90.0).is_none());
    assert!(Forecast::default().doubtful().0.is_empty());
}
