//! How a requirement comes out: its limits on a scaled line, the spread about the middle as bands, the chance.

use engine::plan::Quality;
use engine::quantity::Units;
use engine::quantity::limits;
use engine::quantity::show;

use crate::board::{Board, KeyLine, key_height_mm};
use crate::chuck::polygon;
use crate::figure::{Curve, Figure, Fill, LineKind, Part, Text, TextKind};
use crate::lettering::{self, LARGE_MM, SMALL_MM};
use crate::scale::Scale;

/// Less paper than this holds no picture, mm.
const LEAST_WIDTH_MM: f64 = 50.0;
/// Heights on paper, mm: the chance, the numbers of the limits, the bands, the line, its numbers, the words.
const CHANCE_MM: f64 = 3.0;
const LIMITS_MM: f64 = 9.6;
const UPRIGHTS_MM: f64 = 8.0;
const BANDS_MM: [f64; 2] = [13.0, 20.0];
const LINE_MM: f64 = 22.0;
const TICK_MM: f64 = 1.5;
const ENDS_MM: f64 = 26.0;
const WORDS_MM: f64 = 29.0;
/// From an upright to its number, mm.
const BESIDE_MM: f64 = 0.9;
/// Half the mark on the middle, mm.
const MARK_MM: f64 = 1.2;
/// So many standard deviations of the spread are on the line.
const SHOWN: f64 = 3.0;
/// So much of the room between the limits is shown beyond each of them.
const BEYOND: f64 = 0.1;
/// Most steps of the line.
const STEPS: f64 = 10.0;

/// Limits, spread and chance of a requirement on paper so wide; `None`: too narrow, or nothing to draw to a scale.
/// `number` tells the pictures of a plan apart.
pub fn spread(quality: &Quality, number: usize, units: Units, width_mm: f64) -> Option<Figure> {
    if width_mm.is_nan() || width_mm < LEAST_WIDTH_MM {
        return None;
    }
    let line = Line::of(quality, units, width_mm)?;
    let key = KeyLine::words(&key(quality, &line), width_mm - 1.0);
    let size_mm = [width_mm, WORDS_MM + key_height_mm(&key)];
    // Paper is drawn on directly: the line has its own scale, written at its ends.
    let mut board = Board::new(size_mm, [0.0, 0.0], 1.0);
    chance(&mut board, quality, units);
    bands(&mut board, &line);
    ruled(&mut board, &line);
    uprights(&mut board, &line);
    board.key(0.5, WORDS_MM, &key);
    Some(Figure {
        name: format!("spread-{number}"),
        size_mm,
        title: format!("{} comes out {}", quality.requirement, quality.comes_out(units)),
        says: says(quality, &line, units),
        scale: Scale::default(),
        marks: board.into_marks(),
    })
}

/// What the line counts in.
#[derive(Debug, Clone, Copy)]
struct Counted {
    /// mm of one count: 1, an inch, a micrometre.
    unit_mm: f64,
    name: &'static str,
    /// No step is finer than this, in counts: what a gauge at the bench tells apart.
    finest: f64,
    /// Places that its numbers have at least.
    places: usize,
}

impl Counted {
    fn of(quality: &Quality, units: Units) -> Counted {
        match (quality.kind, units) {
            ("rough", Units::Mm) => Counted { unit_mm: 1e-3, name: "um", finest: 0.1, places: 1 },
            ("rough", Units::Inch) => Counted { unit_mm: 25.4e-6, name: "uin", finest: 1.0, places: 0 },
            (_, Units::Mm) => Counted { unit_mm: 1.0, name: "mm", finest: 0.001, places: 2 },
            (_, Units::Inch) => Counted { unit_mm: 25.4, name: "in", finest: 0.0001, places: 3 },
        }
    }

    fn says(self, value: f64, step: f64) -> String {
        let of_step = (-step.log10() - 1e-9).ceil().max(0.0) as usize;
        let places = of_step.max(self.places);
        let text = format!("{value:.places$}");
        // No "-0.00".
        let is_nothing = text.chars().all(|letter| matches!(letter, '-' | '0' | '.'));
        if is_nothing { text.replace('-', "") } else { text }
    }
}

/// A limit with what stands beside it.
struct Limit {
    at: f64,
    says: String,
}

/// The line with what stands on it, all in its own counts.
struct Line {
    counted: Counted,
    /// Its ends, whole steps.
    ends: [f64; 2],
    step: f64,
    lower: Option<Limit>,
    upper: Limit,
    middle: f64,
    spread: f64,
    /// Nothing comes out below this.
    floor: f64,
    /// Its ends on paper.
    on_paper_mm: [f64; 2],
}

impl Line {
    fn of(quality: &Quality, units: Units, width_mm: f64) -> Option<Line> {
        let counted = Counted::of(quality, units);
        let (lower, upper) = limits_of(quality, units, counted);
        let floor = if lower.is_some() { f64::NEG_INFINITY } else { 0.0 };
        let [middle, spread] = [quality.middle_mm, quality.spread_mm].map(|value_mm| value_mm / counted.unit_mm);
        let lowest = lower.as_ref().map_or(0.0, |limit| limit.at);
        let beyond = BEYOND * (upper.at - lowest);
        let least = (middle - SHOWN * spread).min(lowest - beyond).max(floor);
        let most = (middle + SHOWN * spread).max(upper.at + beyond);
        if !(middle.is_finite() && least.is_finite() && most.is_finite() && spread >= 0.0 && most > least) {
            return None;
        }
        let (ends, step) = whole_steps(least, most, counted.finest);
        let wide = |limit: &Limit| lettering::width_mm(&limit.says, SMALL_MM) + BESIDE_MM + 0.5;
        let left_mm = lower.as_ref().map_or(1.0, wide);
        let on_paper_mm = [left_mm, width_mm - wide(&upper)];
        Some(Line { counted, ends, step, lower, upper, middle, spread, floor, on_paper_mm })
    }

    /// Where a count lies on paper.
    fn x(&self, count: f64) -> f64 {
        let [from, to] = self.on_paper_mm;
        from + (to - from) * (count - self.ends[0]) / (self.ends[1] - self.ends[0])
    }

    /// So many standard deviations either way, as far as anything comes out there and the line reaches.
    fn band(&self, times: f64) -> [f64; 2] {
        [-times, times]
            .map(|times| (self.middle + times * self.spread).max(self.floor).clamp(self.ends[0], self.ends[1]))
    }

    fn end(&self, at: usize) -> String {
        self.counted.says(self.ends[at], self.step)
    }

    /// One step, no idle zeros: "0.02 mm".
    fn step_says(&self) -> String {
        let bare = Counted { places: 0, ..self.counted };
        format!("{}\u{a0}{}", bare.says(self.step, self.step), self.counted.name)
    }
}

/// Lower and upper limit; a zone and a roughness have only the upper one.
fn limits_of(quality: &Quality, units: Units, counted: Counted) -> (Option<Limit>, Limit) {
    let limit = |value_mm: f64, says: String| Limit { at: value_mm / counted.unit_mm, says };
    let upper_mm = quality.upper_mm;
    match quality.kind {
        "size" | "distance" => {
            let both_mm = [quality.lower_mm, upper_mm];
            let places = limits::places(&both_mm, upper_mm - quality.lower_mm, units);
            let [lower, upper] = both_mm.map(|value_mm| limit(value_mm, show::number_to(value_mm, units, places)));
            (Some(lower), upper)
        }
        // The limit of a place or an angle counts either way.
        "angle" | "position" => {
            let either = match quality.kind {
                "angle" => quality.either_way(units),
                _ => limits::length_within(upper_mm, upper_mm, units),
            };
            let either = bare(&either);
            (Some(limit(-upper_mm, format!("-{either}"))), limit(upper_mm, format!("+{either}")))
        }
        "rough" => (None, limit(upper_mm, bare(&show::roughness(upper_mm * 1000.0, units)))),
        _ => (None, limit(upper_mm, bare(&limits::length_within(upper_mm, upper_mm, units)))),
    }
}

/// A number without its unit.
fn bare(says: &str) -> String {
    says.split(' ').next().unwrap_or_default().to_string()
}

/// Ends on whole steps of 1, 2 or 5 about these values, and the step.
fn whole_steps(least: f64, most: f64, finest: f64) -> ([f64; 2], f64) {
    /// What binary numbers may lack to a whole step.
    const NOISE: f64 = 1e-6;
    let ends = |step: f64| [(least / step + NOISE).floor() * step, (most / step - NOISE).ceil() * step];
    let coarse = ((most - least) / STEPS).max(finest * (1.0 - NOISE));
    let decade = 10.0_f64.powf(coarse.log10().floor());
    let steps = [1.0, 2.0, 5.0, 10.0, 20.0].map(|times| times * decade);
    let fits = |step: &f64| {
        let [from, to] = ends(*step);
        *step >= finest * (1.0 - NOISE) && (to - from) / step <= STEPS + NOISE
    };
    let step = steps.into_iter().find(fits).unwrap_or(steps[4]);
    (ends(step), step)
}

/// "84 of 100" large, what is asked beside it.
fn chance(board: &mut Board, quality: &Quality, units: Units) {
    let says = format!("{} of 100", quality.chance.of_100());
    let wide_mm = lettering::width_in_mm(&says, LARGE_MM, true);
    board.text(lettering::centred_strong(TextKind::Number, &says, LARGE_MM, [0.5 + wide_mm / 2.0, CHANCE_MM]));
    let beside_mm = 0.5 + wide_mm + 2.0;
    let room_mm = board.room[2] - beside_mm - 0.5;
    let asks = lettering::cut_to(&format!("keep {}", quality.asks(units)), SMALL_MM, false, room_mm);
    let low_mm = CHANCE_MM + (LARGE_MM - SMALL_MM) / 2.0;
    board.text(lettering::from_left(TextKind::Word, &asks, SMALL_MM, [beside_mm, low_mm]));
}

/// Two standard deviations pale, one dark, a mark on the middle.
fn bands(board: &mut Board, line: &Line) {
    let [top, bottom] = BANDS_MM;
    for (times, fill) in [(2.0, Fill::Pale), (1.0, Fill::Dark)] {
        let [from, to] = line.band(times).map(|count| line.x(count));
        board.fill_paper(fill, Part::Sign, polygon(&[[from, top], [to, top], [to, bottom], [from, bottom]]));
    }
    let [from, to] = line.ends.map(|end| line.x(end));
    // A middle at an end or beyond it stands whole at that end.
    let x = line.x(line.middle).clamp(from + MARK_MM, (to - MARK_MM).max(from + MARK_MM));
    let y = (top + bottom) / 2.0;
    let corners = [[x - MARK_MM, y], [x, y - MARK_MM], [x + MARK_MM, y], [x, y + MARK_MM]];
    board.fill_paper(Fill::Ink, Part::Sign, polygon(&corners));
}

/// The line with its steps, numbers and unit at its ends.
fn ruled(board: &mut Board, line: &Line) {
    let [from, to] = line.on_paper_mm;
    board.stroke(LineKind::Narrow, Part::Sign, Curve::line([from, LINE_MM], [to, LINE_MM]));
    let steps = ((line.ends[1] - line.ends[0]) / line.step).round().max(1.0) as usize;
    for step in 0..=steps {
        let x = from + (to - from) * step as f64 / steps as f64;
        board.stroke(LineKind::Narrow, Part::Sign, Curve::line([x, LINE_MM], [x, LINE_MM + TICK_MM]));
    }
    let unit = line.counted.name;
    board.text(within(&line.end(0), from, board.room[2]));
    board.text(within(&format!("{} {unit}", line.end(1)), to, board.room[2]));
}

/// A number under its place on the line, moved inwards where the paper ends.
fn within(says: &str, x: f64, width_mm: f64) -> Text {
    let half = lettering::width_mm(says, SMALL_MM) / 2.0;
    let x = x.clamp(half + 0.2, (width_mm - half - 0.2).max(half + 0.2));
    lettering::centred(TextKind::Number, says, SMALL_MM, [x, ENDS_MM])
}

/// The limits, each with its number on the side away from the other.
fn uprights(board: &mut Board, line: &Line) {
    let mut upright = |limit: &Limit, side: f64| {
        let x = line.x(limit.at);
        board.stroke(LineKind::Wide, Part::Sign, Curve::line([x, UPRIGHTS_MM], [x, LINE_MM]));
        let half = lettering::width_mm(&limit.says, SMALL_MM) / 2.0;
        let middle = [x + side * (half + BESIDE_MM), LIMITS_MM];
        board.text(lettering::centred(TextKind::Number, &limit.says, SMALL_MM, middle));
    };
    line.lower.iter().for_each(|lower| upright(lower, -1.0));
    upright(&line.upper, 1.0);
}

/// What bands and uprights are; of a size that its ends count, which the bands do not show.
fn key(quality: &Quality, line: &Line) -> String {
    let limits = if line.lower.is_some() { "limits" } else { "limit" };
    let ends = match quality.kind {
        "size" => "; bands: the middle of each piece; the chance counts its ends too",
        "position" => "; twice how far the middle lies off, either way",
        _ => "",
    };
    format!("wide line: {limits}; dark: give or take once, pale: twice; step\u{a0}{}{ends}", line.step_says())
}

fn says(quality: &Quality, line: &Line, units: Units) -> String {
    format!(
        "{}: asked {}; of 100 pieces {} keep it, in this calculation. It comes out {}. Drawn on a line from {} to {} {}.",
        quality.requirement,
        quality.asks(units),
        quality.chance.of_100(),
        quality.comes_out(units),
        line.end(0),
        line.end(1),
        line.counted.name
    )
}
