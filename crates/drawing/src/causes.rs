//! Why a requirement scatters: its causes as bars, the greatest first, each as long as its share of the spread.

use engine::plan::{CauseShare, Quality};

use crate::board::{Board, KeyLine, key_height_mm};
use crate::chuck::polygon;
use crate::figure::{Curve, Figure, Fill, LineKind, Part, TextKind};
use crate::lettering::{self, SMALL_MM};
use crate::scale::Scale;

/// Less paper than this holds no picture, mm.
const LEAST_WIDTH_MM: f64 = 50.0;
/// So many causes have a bar of their own.
const MOST: usize = 4;
/// A cause of less than this counts to the others.
const LEAST: f64 = 0.03;
/// From one cause to the next, from its top to the middle of its words, to the bar, and the bar's height, mm.
const ROW_MM: f64 = 8.8;
const WORDS_MM: f64 = 2.2;
const BAR_MM: f64 = 4.7;
const HIGH_MM: f64 = 2.2;

/// The causes of a requirement's spread on paper so wide; `None`: too narrow, or it has none. `number` tells the pictures
/// of a plan apart.
pub fn causes(quality: &Quality, number: usize, width_mm: f64) -> Option<Figure> {
    let shown = shown(&quality.causes);
    if width_mm.is_nan() || width_mm < LEAST_WIDTH_MM || shown.is_empty() {
        return None;
    }
    let key = KeyLine::words("shares of the squared spread; the whole frame is 100 %", width_mm - 1.0);
    let below_mm = shown.len() as f64 * ROW_MM;
    let size_mm = [width_mm, below_mm + key_height_mm(&key)];
    // Paper is drawn on directly: a share has no true size.
    let mut board = Board::new(size_mm, [0.0, 0.0], 1.0);
    for (at, cause) in shown.iter().enumerate() {
        bar(&mut board, cause, at as f64 * ROW_MM);
    }
    board.key(0.5, below_mm, &key);
    let most = &shown[0];
    Some(Figure {
        name: format!("causes-{number}"),
        size_mm,
        title: format!("{}: mostly {}", quality.requirement, most.of),
        says: says(quality, &shown),
        scale: Scale::default(),
        marks: board.into_marks(),
    })
}

/// Those with a bar of their own, then all others together.
fn shown(causes: &[CauseShare]) -> Vec<CauseShare> {
    let named = causes.iter().take(MOST).take_while(|cause| cause.share >= LEAST).count();
    let named = if causes.len() == named + 1 { causes.len() } else { named };
    let mut shown = causes[..named].to_vec();
    let rest: f64 = causes[named..].iter().map(|cause| cause.share).sum();
    if rest > 0.0 {
        shown.push(CauseShare { of: format!("{} others together", causes.len() - named), share: rest });
    }
    shown
}

/// "31 %".
fn percent(share: f64) -> String {
    if share < 0.005 { "under\u{a0}1\u{a0}%".to_string() } else { format!("{:.0}\u{a0}%", 100.0 * share) }
}

/// Words and share over the bar, which lies in a frame as long as the whole.
fn bar(board: &mut Board, cause: &CauseShare, top_mm: f64) {
    let [left, right] = [0.5, board.room[2] - 0.5];
    let share = percent(cause.share);
    let wide = lettering::width_in_mm(&share, SMALL_MM, true);
    let y = top_mm + WORDS_MM;
    let words = lettering::cut_to(&cause.of, SMALL_MM, false, right - left - wide - 2.0);
    board.text(lettering::from_left(TextKind::Word, &words, SMALL_MM, [left, y]));
    board.text(lettering::centred_strong(TextKind::Number, &share, SMALL_MM, [right - wide / 2.0, y]));
    let [top, bottom] = [top_mm + BAR_MM, top_mm + BAR_MM + HIGH_MM];
    let corners = |to: f64| [[left, top], [to, top], [to, bottom], [left, bottom]];
    let to = left + (right - left) * cause.share.clamp(0.0, 1.0);
    board.fill_paper(Fill::Dark, Part::Sign, polygon(&corners(to)));
    let frame = corners(right);
    for at in 0..4 {
        board.stroke(LineKind::Narrow, Part::Sign, Curve::line(frame[at], frame[(at + 1) % 4]));
    }
    board.stroke(LineKind::Wide, Part::Sign, Curve::line([to, top], [to, bottom]));
}

fn says(quality: &Quality, shown: &[CauseShare]) -> String {
    let each: Vec<String> = shown.iter().map(|cause| format!("{} {}", cause.of, percent(cause.share))).collect();
    format!("What the spread of {} comes from: {}.", quality.requirement, each.join(", "))
}
