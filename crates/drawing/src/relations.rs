//! What the flats have to do with one another: below the letters what each stood on as it was cut, above them how many
//! pieces keep what is asked between two.

use engine::plan::{Chance, Forecast, Plan, Quality, SetUp};

use crate::board::{Board, JAW_SIGN_MM, KeyLine, key_height_mm};
use crate::chuck::polygon;
use crate::figure::{Curve, Figure, Fill, LineKind, Part, TextKind};
use crate::lettering::{self, SMALL_MM};
use crate::scale::Scale;
use crate::vector::Flat;

/// A cell is at most so wide, and no narrower than what is written in it, mm.
const MOST_MM: f64 = 11.0;
const LEAST_MM: f64 = 8.5;
/// Half a seat's sign, mm.
const SEAT_MM: f64 = 1.1;
/// The key's lines below the picture.
const KEYS: [&str; 3] = [
    "below the letters: the flat of this row was cut with a jaw (dot) on the flat of this column, or seated on it (square)",
    "above: of 100 pieces so many keep what is asked between the two, the hardest of it; a line: more than 99.9",
    "on the letters' line: what is asked of the flat alone, so too",
];

/// The flats in the order in which they are cut, each against each; `None`: fewer than two, no forecast, or no room.
pub fn relations(plan: &Plan, [width_mm, height_mm]: Flat) -> Option<Figure> {
    let forecast = plan.forecast.as_ref()?;
    let names: Vec<&str> =
        plan.set_ups.iter().filter_map(|set_up| set_up.cuts_faces.first()).map(String::as_str).collect();
    let key: Vec<KeyLine> = KEYS.iter().flat_map(|says| KeyLine::words(says, width_mm - 1.0)).collect();
    let side_mm = (width_mm - 1.0).min(height_mm - 2.0 - key_height_mm(&key));
    let cell_mm = (side_mm / names.len().max(1) as f64).min(MOST_MM);
    if names.len() < 2 || cell_mm.is_nan() || cell_mm < LEAST_MM {
        return None;
    }
    let side_mm = names.len() as f64 * cell_mm;
    let size_mm = [width_mm, side_mm + 2.0 + key_height_mm(&key)];
    // Paper is drawn on directly: a table has no true size.
    let mut board = Board::new(size_mm, [0.0, 0.0], 1.0);
    let table = Table { left_mm: (width_mm - side_mm) / 2.0, cell_mm, names: &names };
    table.grid(&mut board);
    for (row, set_up) in plan.set_ups.iter().enumerate() {
        table.stood_on(&mut board, row, set_up);
    }
    table.asked(&mut board, forecast);
    board.key(0.5, side_mm + 1.5, &key);
    Some(Figure {
        name: "relations".to_string(),
        size_mm,
        title: "What each flat stood on, and what is kept between two".to_string(),
        says: says(plan, forecast, &names),
        scale: Scale::default(),
        marks: board.into_marks(),
    })
}

struct Table<'n> {
    left_mm: f64,
    cell_mm: f64,
    names: &'n [&'n str],
}

impl Table<'_> {
    fn middle(&self, row: usize, column: usize) -> Flat {
        [self.left_mm + (column as f64 + 0.5) * self.cell_mm, 0.5 + (row as f64 + 0.5) * self.cell_mm]
    }

    fn at(&self, name: &str) -> Option<usize> {
        self.names.iter().position(|known| *known == name)
    }

    fn grid(&self, board: &mut Board) {
        let count = self.names.len();
        let [side, left, top] = [count as f64 * self.cell_mm, self.left_mm, 0.5];
        for at in 0..=count {
            let along = at as f64 * self.cell_mm;
            board.stroke(LineKind::Narrow, Part::Sign, Curve::line([left, top + along], [left + side, top + along]));
            board.stroke(LineKind::Narrow, Part::Sign, Curve::line([left + along, top], [left + along, top + side]));
        }
        for (at, name) in self.names.iter().enumerate() {
            let [x, y] = self.middle(at, at);
            let says = lettering::cut_to(name, SMALL_MM, true, self.cell_mm - 1.0);
            board.text(lettering::centred_strong(TextKind::Face, &says, SMALL_MM, [x, y - self.cell_mm / 5.0]));
        }
    }

    /// Signs in the row of a set-up, for the flats that were there before it.
    fn stood_on(&self, board: &mut Board, row: usize, set_up: &SetUp) {
        for (name, seated) in bears(set_up) {
            let Some(column) = self.at(name).filter(|column| *column < row) else { continue };
            let [x, y] = self.middle(row, column);
            // Both may be there: side by side.
            let x = x + if seated { self.cell_mm / 5.0 } else { -self.cell_mm / 5.0 };
            if seated {
                let corners = [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]];
                let square = corners.map(|[along, down]: [f64; 2]| [x + along * SEAT_MM, y + down * SEAT_MM]);
                board.fill_paper(Fill::Ink, Part::Sign, polygon(&square));
            } else {
                board.jaw_sign([x, y], true);
            }
        }
    }

    /// What is kept, above the letters and on their line.
    fn asked(&self, board: &mut Board, forecast: &Forecast) {
        for row in 0..self.names.len() {
            for column in row..self.names.len() {
                let Some(hardest) = hardest(forecast, self.names[row], self.names[column]) else { continue };
                let [x, y] = self.middle(row, column);
                let y = if row == column { y + self.cell_mm / 4.0 } else { y };
                match shown(&hardest.chance) {
                    Some(number) => {
                        board.text(lettering::centred(TextKind::Number, &number, SMALL_MM, [x, y]));
                    }
                    None => {
                        let line = Curve::line([x - JAW_SIGN_MM, y], [x + JAW_SIGN_MM, y]);
                        board.stroke(LineKind::Wide, Part::Sign, line);
                    }
                }
            }
        }
    }
}

/// "77", "98.9", "<1"; `None`: more than 99.9.
fn shown(chance: &Chance) -> Option<String> {
    match chance.of_100().as_str() {
        "more than 99.9" => None,
        "less than 1" => Some("<1".to_string()),
        "none" => Some("0".to_string()),
        number => Some(number.to_string()),
    }
}

/// What a set-up's flat stood on, and whether as a seat; each once.
fn bears(set_up: &SetUp) -> Vec<(&str, bool)> {
    let seat = set_up.seat.as_ref().map(|seat| (seat.face.as_str(), true));
    let mut all: Vec<(&str, bool)> = set_up.jaws.iter().map(|jaw| (jaw.bears_on.as_str(), false)).chain(seat).collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// Of what is asked between two flats, or of one alone, what fewest pieces keep.
fn hardest<'f>(forecast: &'f Forecast, one: &str, other: &str) -> Option<&'f Quality> {
    let between = |quality: &&Quality| match &quality.faces[..] {
        [alone] => one == other && alone == one,
        [a, b] => (a == one && b == other || a == other && b == one) && one != other,
        _ => false,
    };
    let all = forecast.qualities.iter().filter(between);
    all.min_by(|a, b| a.chance.share.total_cmp(&b.chance.share))
}

fn says(plan: &Plan, forecast: &Forecast, names: &[&str]) -> String {
    let mut said: Vec<String> = Vec::new();
    for (set_up, name) in plan.set_ups.iter().zip(names) {
        let on: Vec<String> = bears(set_up)
            .into_iter()
            .filter(|(on, _)| names.contains(on))
            .map(|(on, seated)| if seated { format!("seated on {on}") } else { format!("a jaw on {on}") })
            .collect();
        let on = if on.is_empty() { "nothing that was cut".to_string() } else { on.join(", ") };
        said.push(format!("{name} stood on: {on}."));
    }
    for (at, one) in names.iter().enumerate() {
        for other in &names[at..] {
            let Some(hardest) = hardest(forecast, one, other) else { continue };
            if let Some(number) = shown(&hardest.chance) {
                said.push(format!("{}: {number} of 100.", hardest.requirement));
            }
        }
    }
    said.join(" ")
}
