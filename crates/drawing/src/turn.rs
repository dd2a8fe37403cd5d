//! The hold over one turn: how many times the cut is held, with the tool all round the work.

use engine::plan::SetUp;
use engine::quantity::bare::factor;

use crate::board::{Board, KeyLine, key_height_mm};
use crate::chuck::polygon;
use crate::figure::{Arc, Curve, Figure, Fill, LineKind, Part, TextKind};
use crate::lettering::{self, SMALL_MM};
use crate::scale::Scale;
use crate::vector::Flat;

/// The rim of the plot stands for at least so many times the factor needed,
const RIM_TIMES: f64 = 3.0;
/// and for so many times the least factor: beyond it a hold is simply plenty.
const RIM_TIMES_LEAST: f64 = 1.5;
/// Room round the rim for the jaws' numbers, mm.
const ROUND_MM: f64 = 5.2;
/// A plot whose rim is less than this from its middle is none, mm.
const LEAST_RIM_MM: f64 = 7.0;
/// Space below the plot, mm.
const BELOW_MM: f64 = 2.0;
/// Radius of the mark on the weakest moment, mm.
const MARK_MM: f64 = 1.0;
/// A smaller plot has no room for numbers within it: the words below tell them, mm.
const LETTERED_RIM_MM: f64 = 25.0;
/// From the mark on the weakest moment to its number, mm.
const NUMBER_MM: f64 = 4.0;

/// The slip factor of the weakest pass as a polar plot, seen as the chuck is seen, in at most `room_mm` of paper;
/// `None` where no jaw slips or the paper is too small.
pub fn turn_plot(set_up: &SetUp, room_mm: [f64; 2]) -> Option<Figure> {
    plotted(set_up, room_mm, key)
}

/// The same beside words that say what dashes and rim are, and where angles are counted from.
pub fn turn_plot_briefly(set_up: &SetUp, room_mm: [f64; 2]) -> Option<Figure> {
    plotted(set_up, room_mm, brief_key)
}

fn plotted(set_up: &SetUp, room_mm: [f64; 2], key: fn(&Turn) -> String) -> Option<Figure> {
    let turn = Turn::of(set_up)?;
    let key = KeyLine::words(&key(&turn), room_mm[0] - 1.0);
    let high = room_mm[1] - key_height_mm(&key) - BELOW_MM;
    let rim_mm = room_mm[0].min(high) / 2.0 - ROUND_MM;
    if rim_mm < LEAST_RIM_MM {
        return None;
    }
    let middle = [room_mm[0] / 2.0, rim_mm + ROUND_MM];
    let size_mm = [room_mm[0], 2.0 * (rim_mm + ROUND_MM) + BELOW_MM + key_height_mm(&key)];
    // Paper is drawn on directly: a factor has no true size.
    let mut board = Board::new(size_mm, middle, 1.0);
    axes(&mut board, set_up, middle, rim_mm);
    board.stroke(LineKind::Dashed, Part::Sign, circle(middle, out_mm(&turn, Some(turn.required), rim_mm)));
    curve(&mut board, &turn, middle, rim_mm);
    weakest(&mut board, &turn, middle, rim_mm);
    if rim_mm >= LETTERED_RIM_MM {
        numbers(&mut board, &turn, middle, rim_mm);
    }
    board.key(0.5, 2.0 * (rim_mm + ROUND_MM) + BELOW_MM, &key);
    Some(Figure {
        name: format!("turn-{}", set_up.number),
        size_mm,
        title: format!("Set-up {}: {}", set_up.number, heading(&turn)),
        says: says(&turn),
        scale: Scale::default(),
        marks: board.into_marks(),
    })
}

/// What the plot shows.
struct Turn<'a> {
    factors: &'a [Option<f64>],
    required: f64,
    least: f64,
    at_deg: f64,
    pass: usize,
}

impl<'a> Turn<'a> {
    fn of(set_up: &'a SetUp) -> Option<Turn<'a>> {
        let round = set_up.hold.round.as_ref()?;
        let step_deg = 360.0 / round.factors.len() as f64;
        let found = round.factors.iter().enumerate().filter_map(|(at, factor)| factor.map(|factor| (at, factor)));
        let (at, least) = found.min_by(|one, other| one.1.total_cmp(&other.1))?;
        let at_deg = at as f64 * step_deg;
        Some(Turn { factors: &round.factors, required: set_up.hold.required, least, at_deg, pass: round.pass })
    }
}

impl Turn<'_> {
    /// The factor that the rim stands for.
    fn rim(&self) -> f64 {
        (RIM_TIMES * self.required).max(RIM_TIMES_LEAST * self.least)
    }
}

/// From the middle to where a factor stands at an angle from jaw 1, which is up; against the clock.
fn place([x, y]: Flat, angle_deg: f64, out_mm: f64) -> Flat {
    let (sin, cos) = angle_deg.to_radians().sin_cos();
    [x - out_mm * sin, y - out_mm * cos]
}

fn out_mm(turn: &Turn, factor: Option<f64>, rim_mm: f64) -> f64 {
    let share = factor.map_or(1.0, |factor| factor / turn.rim());
    rim_mm * share.clamp(0.0, 1.0)
}

fn circle(centre_mm: Flat, radius_mm: f64) -> Curve {
    let halves_mm = [[radius_mm, 0.0], [0.0, radius_mm]];
    Curve::Arc(Arc { centre_mm, halves_mm, from_rad: 0.0, to_rad: std::f64::consts::TAU })
}

fn axes(board: &mut Board, set_up: &SetUp, middle: Flat, rim_mm: f64) {
    board.stroke(LineKind::Narrow, Part::Sign, circle(middle, rim_mm));
    let jaws = set_up.jaws.len().max(1);
    for (at, jaw) in set_up.jaws.iter().enumerate() {
        let angle_deg = 360.0 * at as f64 / jaws as f64;
        let ends = [MARK_MM * 2.0, rim_mm + 1.5].map(|out| place(middle, angle_deg, out));
        board.stroke(LineKind::Chain, Part::Centre, Curve::line(ends[0], ends[1]));
        let number = place(middle, angle_deg, rim_mm + ROUND_MM - 1.75);
        board.text(lettering::centred(TextKind::Jaw, &jaw.jaw.to_string(), SMALL_MM, number));
    }
}

fn curve(board: &mut Board, turn: &Turn, middle: Flat, rim_mm: f64) {
    let step_deg = 360.0 / turn.factors.len() as f64;
    let point =
        |(at, factor): (usize, &Option<f64>)| place(middle, at as f64 * step_deg, out_mm(turn, *factor, rim_mm));
    let mut points: Vec<Flat> = turn.factors.iter().enumerate().map(point).collect();
    points.extend(points.first().copied());
    board.polyline(LineKind::Wide, Part::Sign, &points);
}

fn weakest(board: &mut Board, turn: &Turn, middle: Flat, rim_mm: f64) {
    let [x, y] = place(middle, turn.at_deg, out_mm(turn, Some(turn.least), rim_mm));
    let half = MARK_MM;
    let corners = [[x - half, y], [x, y - half], [x + half, y], [x, y + half]];
    board.fill_paper(Fill::Ink, Part::Sign, polygon(&corners));
}

/// The factor at the weakest moment beside its mark, and what the dashed circle and the rim stand for, on it and within it.
fn numbers(board: &mut Board, turn: &Turn, middle: Flat, rim_mm: f64) {
    let mut name = |says: String, strong: bool, places: &[Flat]| {
        board.label(TextKind::Word, &says, SMALL_MM, strong, places);
    };
    let least_mm = out_mm(turn, Some(turn.least), rim_mm);
    let beside = |out: f64| place(middle, turn.at_deg, least_mm + out);
    name(factor(turn.least), true, &[beside(NUMBER_MM), beside(NUMBER_MM + 1.0), beside(-NUMBER_MM)]);
    let corners = |out_mm: f64| [45.0, 315.0, 225.0, 135.0].map(|angle_deg| place(middle, angle_deg, out_mm));
    name(format!("{:.1}", turn.required), false, &corners(out_mm(turn, Some(turn.required), rim_mm)));
    name(format!("{:.1}", turn.rim()), false, &corners(rim_mm - NUMBER_MM));
}

fn heading(turn: &Turn) -> String {
    format!("held {} times at its weakest, tool {:.0} deg round from jaw 1", factor(turn.least), turn.at_deg)
}

fn key(turn: &Turn) -> String {
    format!(
        "weakest {}, pass {}, tool {:.0} deg from jaw 1; dashed: {:.1} needed; rim: {:.1} and more",
        factor(turn.least),
        turn.pass,
        turn.at_deg,
        turn.required,
        turn.rim()
    )
}

fn brief_key(turn: &Turn) -> String {
    format!(
        "weakest {:.1}, pass {}, tool at {:.0} deg; needed {:.1}; rim {:.1}",
        turn.least,
        turn.pass,
        turn.at_deg,
        turn.required,
        turn.rim()
    )
}

fn says(turn: &Turn) -> String {
    let quarter = turn.factors.len() / 4;
    let at = |index: usize| match turn.factors.get(index * quarter).copied().flatten() {
        Some(found) => factor(found),
        None => "no limit".to_string(),
    };
    format!(
        "How many times the cut of pass {} is held before a jaw slips, with the tool all round the work, seen from the \
         tailstock: weakest {} with the tool {:.0} degrees against the clock from jaw 1; {:.1} is needed. At jaw 1: {}; \
         a quarter turn on: {}; half a turn on: {}; three quarters on: {}.",
        turn.pass,
        factor(turn.least),
        turn.at_deg,
        turn.required,
        at(0),
        at(1),
        at(2),
        at(3)
    )
}
