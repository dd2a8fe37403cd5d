//! Plots the growth of the last hold's time from the tables of `docs/benchmarks.md`:
//! `cargo run -p drawing --example growth` writes `docs/last-hold-growth.svg`.

use drawing::{Anchor, Curve, Dress, Figure, LineKind, Mark, Part, Scale, Stroke, Text, TextKind, svg};

const PAPER_MM: [f64; 2] = [170.0, 84.0];
const LETTERS_MM: f64 = 2.5;

/// A plot with two logarithmic axes.
struct Axes {
    /// Left, top, right, bottom, mm of paper.
    frame_mm: [f64; 4],
    /// Powers of ten at the ends.
    x: [f64; 2],
    y: [f64; 2],
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let table = std::fs::read_to_string("docs/benchmarks.md")?;
    let contacts = rows(&table, "| contacts, one loading |");
    let cuts = rows(&table, "| the weakest moment of a whole turn");
    let mut marks = Vec::new();
    let one = Axes { frame_mm: [14.0, 12.0, 80.0, 70.0], x: [8f64.log10(), 128f64.log10()], y: [0.0, 5.0] };
    one.draw("one loading, by contacts", "contacts", &[8.0, 16.0, 32.0, 64.0, 128.0], &mut marks);
    one.line("ours", &points(&contacts, 1), &mut marks);
    one.line("general solver", &points(&contacts, 2), &mut marks);
    let other = Axes { frame_mm: [100.0, 12.0, 166.0, 70.0], x: [0.0, 16f64.log10()], y: [0.0, 5.0] };
    other.draw("weakest moment of a turn, by cuts", "cuts", &[1.0, 4.0, 16.0], &mut marks);
    other.line("ours", &points(&cuts, 1), &mut marks);
    let figure = Figure {
        name: "growth".to_string(),
        size_mm: PAPER_MM,
        title: "Last hold: time grows with contacts and cuts no faster than they do".to_string(),
        says: "Two plots with logarithmic axes, the numbers of the tables in docs/benchmarks.md.".to_string(),
        scale: Scale::default(),
        marks,
    };
    std::fs::write("docs/last-hold-growth.svg", svg(&figure, Dress::Paper))?;
    Ok(())
}

/// Cells of the rows below a head, up to the table's end.
fn rows(table: &str, head: &str) -> Vec<Vec<String>> {
    let cells = |line: &str| line.trim_matches('|').split('|').map(|cell| cell.trim().to_string()).collect();
    let below = table.lines().skip_while(|line| !line.starts_with(head)).skip(2);
    below.take_while(|line| line.starts_with('|')).map(cells).collect()
}

/// The number that a row begins with, or that it says, against a column of times in µs.
fn points(rows: &[Vec<String>], column: usize) -> Vec<[f64; 2]> {
    let at = |row: &Vec<String>| Some([count(row.first()?)?, micros(row.get(column)?)?]);
    rows.iter().filter_map(at).collect()
}

fn count(cell: &str) -> Option<f64> {
    match cell.split([' ', ',']).next()? {
        "one" => Some(1.0),
        "four" => Some(4.0),
        "sixteen" => Some(16.0),
        _ => cell.parse().ok(),
    }
}

fn micros(cell: &str) -> Option<f64> {
    let (number, unit) = cell.split_once(' ')?;
    let times = match unit {
        "µs" => 1.0,
        "ms" => 1000.0,
        _ => return None,
    };
    Some(number.parse::<f64>().ok()? * times)
}

impl Axes {
    fn place(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let [left, top, right, bottom] = self.frame_mm;
        let share = |value: f64, [from, to]: [f64; 2]| (value.log10() - from) / (to - from);
        [left + share(x, self.x) * (right - left), bottom - share(y, self.y) * (bottom - top)]
    }

    fn draw(&self, title: &str, across: &str, ticks: &[f64], marks: &mut Vec<Mark>) {
        let [left, top, right, bottom] = self.frame_mm;
        marks.push(text(title, [left, top - 6.0], Anchor::Start, true));
        for line in [[[left, top], [left, bottom]], [[left, bottom], [right, bottom]]] {
            marks.push(stroke(LineKind::Narrow, line[0], line[1]));
        }
        for &tick in ticks {
            let [x, _] = self.place([tick, 1.0]);
            marks.push(stroke(LineKind::Narrow, [x, bottom], [x, bottom + 1.5]));
            marks.push(text(&format!("{tick:.0}"), [x, bottom + 4.0], Anchor::Middle, false));
        }
        marks.push(text(across, [(left + right) / 2.0, bottom + 9.0], Anchor::Middle, false));
        for (power, says) in ["1 µs", "10 µs", "0.1 ms", "1 ms", "10 ms", "0.1 s"].iter().enumerate() {
            let [_, y] = self.place([1.0, 10f64.powi(power as i32)]);
            marks.push(stroke(LineKind::Dashed, [left, y], [right, y]));
            marks.push(text(says, [left - 1.0, y], Anchor::End, false));
        }
    }

    fn line(&self, says: &str, points: &[[f64; 2]], marks: &mut Vec<Mark>) {
        let places: Vec<[f64; 2]> = points.iter().map(|point| self.place(*point)).collect();
        marks.extend(places.windows(2).map(|pair| stroke(LineKind::Wide, pair[0], pair[1])));
        // Above the line, where it has risen past the word.
        if let Some([x, y]) = places.get(places.len() / 2) {
            marks.push(text(says, [x - 1.0, y - 4.6], Anchor::End, false));
        }
    }
}

fn stroke(kind: LineKind, from_mm: [f64; 2], to_mm: [f64; 2]) -> Mark {
    Mark::Stroke(Stroke { kind, part: Part::Sign, curve: Curve::Line { from_mm, to_mm } })
}

fn text(says: &str, [x, y]: [f64; 2], anchor: Anchor, strong: bool) -> Mark {
    // Room enough for the letters; the frame says where the text stands.
    let (wide, high) = (0.8 * LETTERS_MM * says.chars().count() as f64, 1.4 * LETTERS_MM);
    let left = match anchor {
        Anchor::Start => x,
        Anchor::Middle => x - wide / 2.0,
        Anchor::End => x - wide,
    };
    let frame_mm = [left, y - high / 2.0, left + wide, y + high / 2.0];
    Mark::Text(Text {
        says: says.to_string(),
        frame_mm,
        height_mm: LETTERS_MM,
        strong,
        upright: false,
        anchor,
        kind: TextKind::Word,
    })
}
