//! The drawing board: from views in mm of the real thing to marks in mm of paper, with places kept for letters.

use crate::figure::{Area, Curve, Dimension, Fill, LineKind, Mark, Part, Stroke, Text, TextKind};
use crate::hatch::{Region, hatch, within};
use crate::lettering::{self, SMALL_MM};
use crate::vector::{Flat, between, cross, go};

/// Space that a letter keeps to lines, mm.
const CLEAR_MM: f64 = 0.35;
/// Space that hatching keeps to letters, mm.
const HATCH_CLEAR_MM: f64 = 0.5;
/// Distance of hatching lines, mm.
const HATCH_MM: f64 = 1.4;
/// How far a curve may be from the straight pieces by which letters keep clear of it, mm.
const OFF_MM: f64 = 0.05;

/// Marks so far, and what letters must keep clear of.
#[derive(Debug, Clone)]
pub struct Board {
    marks: Vec<Mark>,
    /// Boxes of letters and signs.
    boxes: Vec<[f64; 4]>,
    /// Straight pieces of lines that no letter may cross.
    lines: Vec<[Flat; 2]>,
    /// Those of narrow broken lines, which give way where there is no other place.
    soft: Vec<[Flat; 2]>,
    /// Where letters may stand.
    pub room: [f64; 4],
    /// Where the view's origin lies on paper.
    pub origin: Flat,
    /// mm of paper for one mm of the real thing.
    pub ratio: f64,
}

impl Board {
    /// An empty board of this size.
    pub fn new(size_mm: [f64; 2], origin: Flat, ratio: f64) -> Board {
        let room = [0.0, 0.0, size_mm[0], size_mm[1]];
        Board { marks: Vec::new(), boxes: Vec::new(), lines: Vec::new(), soft: Vec::new(), room, origin, ratio }
    }

    /// Where a point of the view lies on paper.
    pub fn at(&self, [x, y]: Flat) -> Flat {
        [self.origin[0] + self.ratio * x, self.origin[1] - self.ratio * y]
    }

    /// A curve of the view, on paper.
    pub fn on_paper(&self, curve: &Curve) -> Curve {
        curve.moved(self.origin, [[self.ratio, 0.0], [0.0, -self.ratio]])
    }

    /// Curves of the view, drawn.
    pub fn draw(&mut self, kind: LineKind, part: Part, curves: &[Curve]) {
        for curve in curves {
            let curve = self.on_paper(curve);
            self.stroke(kind, part, curve);
        }
    }

    /// A curve of the paper, drawn; letters keep clear of it unless it stands for what is gone.
    pub fn stroke(&mut self, kind: LineKind, part: Part, curve: Curve) {
        if curve.is_point() {
            return;
        }
        self.marks.push(Mark::Stroke(Stroke { kind, part, curve }));
        let soft = matches!(kind, LineKind::Dashed | LineKind::Chain);
        match (part, soft) {
            (Part::Old, _) => {}
            (_, true) => self.soft.extend(curve.straightened(OFF_MM)),
            (_, false) => self.lines.extend(curve.straightened(OFF_MM)),
        }
    }

    /// Straight lines of the paper from point to point.
    pub fn polyline(&mut self, kind: LineKind, part: Part, points: &[Flat]) {
        for pair in points.windows(2) {
            self.stroke(kind, part, Curve::line(pair[0], pair[1]));
        }
    }

    /// A closed region of the view, filled.
    pub fn fill(&mut self, fill: Fill, part: Part, edge: &[Curve]) {
        let edge = edge.iter().map(|curve| self.on_paper(curve)).collect();
        self.fill_paper(fill, part, edge);
    }

    /// A closed region of the paper, filled.
    pub fn fill_paper(&mut self, fill: Fill, part: Part, edge: Vec<Curve>) {
        if !edge.is_empty() {
            self.marks.push(Mark::Area(Area { fill, part, edge }));
        }
    }

    /// A closed polygon of the paper, filled and outlined.
    pub fn plate(&mut self, kind: LineKind, fill: Fill, part: Part, corners: &[Flat]) {
        let edge: Vec<Curve> =
            (0..corners.len()).map(|at| Curve::line(corners[at], corners[(at + 1) % corners.len()])).collect();
        self.fill_paper(fill, part, edge.clone());
        for curve in edge {
            self.stroke(kind, part, curve);
        }
    }

    /// A text that stands where it stands.
    pub fn text(&mut self, text: Text) {
        self.boxes.push(text.frame_mm);
        self.marks.push(Mark::Text(text));
    }

    /// A text at the first of these middles where it is free; whether there was one.
    pub fn label(&mut self, kind: TextKind, says: &str, height_mm: f64, strong: bool, middles: &[Flat]) -> bool {
        let text = |middle: &Flat| lettered(kind, says, height_mm, strong, *middle);
        let free = middles.iter().map(text).find(|text| self.is_free(text.frame_mm) && self.is_clear(text.frame_mm));
        if let Some(text) = free {
            self.text(text);
            return true;
        }
        let Some(text) = middles.iter().map(text).find(|text| self.is_free(text.frame_mm)) else { return false };
        // The broken line under it is interrupted.
        let [left, top, right, bottom] = text.frame_mm;
        let corners = [[left, top], [right, top], [right, bottom], [left, bottom]];
        let edge = (0..4).map(|at| Curve::line(corners[at], corners[(at + 1) % 4])).collect();
        self.fill_paper(Fill::Paper, Part::Sign, edge);
        self.text(text);
        true
    }

    /// A text at the first of these middles where it is free, with a thin line from it to a dot on what it names;
    /// whether there was one.
    pub fn led(&mut self, kind: TextKind, says: &str, height_mm: f64, on: Flat, middles: &[Flat]) -> bool {
        let found = self.leading(kind, says, height_mm, on, middles, Board::is_free_line);
        let is_found = found.is_some();
        found.into_iter().for_each(|(text, line)| self.lead(on, line, text));
        is_found
    }

    /// The same from a place within a face: the thin line may cross its edge, and hatching keeps clear of the dot.
    pub fn led_from_within(&mut self, kind: TextKind, says: &str, height_mm: f64, on: Flat, middles: &[Flat]) {
        let Some((text, line)) = self.leading(kind, says, height_mm, on, middles, Board::is_off_letters) else {
            return;
        };
        self.lead(on, line, text);
        self.boxes.push([on[0] - DOT_MM, on[1] - DOT_MM, on[0] + DOT_MM, on[1] + DOT_MM]);
    }

    fn leading(
        &self,
        kind: TextKind,
        says: &str,
        height_mm: f64,
        on: Flat,
        middles: &[Flat],
        may: fn(&Board, [Flat; 2]) -> bool,
    ) -> Option<(Text, [Flat; 2])> {
        middles.iter().map(|middle| lettered(kind, says, height_mm, true, *middle)).find_map(|text| {
            let line = leader(on, text.frame_mm)?;
            let free = self.is_free(text.frame_mm) && self.is_clear(text.frame_mm) && may(self, line);
            free.then_some((text, line))
        })
    }

    fn lead(&mut self, on: Flat, line: [Flat; 2], text: Text) {
        self.stroke(LineKind::Narrow, Part::Leader, Curve::line(line[0], line[1]));
        self.fill_paper(Fill::Ink, Part::Leader, vec![Curve::circle(on, DOT_MM)]);
        self.text(text);
    }

    /// The first of these middles round which a square sign is free.
    pub fn free_square(&mut self, half_mm: f64, middles: &[Flat]) -> Option<Flat> {
        let frame = |[x, y]: Flat| [x - half_mm, y - half_mm, x + half_mm, y + half_mm];
        let found = middles.iter().copied().find(|&middle| self.is_free(frame(middle)))?;
        self.boxes.push(frame(found));
        Some(found)
    }

    /// A dimension; letters keep clear of it.
    pub fn dimension(&mut self, dimension: Dimension) {
        self.boxes.push(dimension.text.frame_mm);
        self.lines.extend(dimension.extensions_mm.iter().chain(&dimension.lines_mm));
        self.marks.push(Mark::Dimension(dimension));
    }

    /// Hatching of a region of the paper; drawn last, since it leaves room for letters.
    pub fn hatch(&mut self, region: &Region) {
        let wider = |frame: &[f64; 4]| {
            [frame[0] - HATCH_CLEAR_MM, frame[1] - HATCH_CLEAR_MM, frame[2] + HATCH_CLEAR_MM, frame[3] + HATCH_CLEAR_MM]
        };
        let boxes: Vec<[f64; 4]> = self.boxes.iter().map(wider).collect();
        for curve in hatch(region, HATCH_MM, &boxes) {
            self.marks.push(Mark::Stroke(Stroke { kind: LineKind::Narrow, part: Part::Cut, curve }));
        }
    }

    /// Lines of words below a picture, left end and first line given; a sign may stand before each.
    pub fn key(&mut self, left_mm: f64, top_mm: f64, lines: &[KeyLine]) {
        for (at, line) in lines.iter().enumerate() {
            let y = top_mm + (at as f64 + 0.5) * lettering::LINE_MM;
            if let Some(filled) = line.sign {
                self.jaw_sign([left_mm + 1.6, y], filled);
            }
            let x = left_mm + if line.indented { KEY_INDENT_MM } else { 0.0 };
            self.text(lettering::from_left(TextKind::Word, &line.says, SMALL_MM, [x, y]));
        }
    }

    /// The sign of a jaw: filled when it is left alone, open when it is loosened or set.
    pub fn jaw_sign(&mut self, middle: Flat, filled: bool) {
        let circle = Curve::circle(middle, JAW_SIGN_MM);
        self.fill_paper(if filled { Fill::Ink } else { Fill::Paper }, Part::Sign, vec![circle]);
        self.stroke(LineKind::Narrow, Part::Sign, circle);
    }

    /// What is drawn.
    pub fn into_marks(self) -> Vec<Mark> {
        self.marks
    }

    /// Whether a letter may stand in this box.
    fn is_free(&self, frame: [f64; 4]) -> bool {
        let inside = frame[0] >= self.room[0]
            && frame[1] >= self.room[1]
            && frame[2] <= self.room[2]
            && frame[3] <= self.room[3];
        let wider = [frame[0] - CLEAR_MM, frame[1] - CLEAR_MM, frame[2] + CLEAR_MM, frame[3] + CLEAR_MM];
        inside
            && !self.boxes.iter().any(|other| overlap(wider, *other))
            && !self.lines.iter().any(|line| within(line[0], between(line[0], line[1]), wider).is_some())
    }

    /// Whether a leader crosses nothing; it begins on a line, which does not count.
    fn is_free_line(&self, [from, to]: [Flat; 2]) -> bool {
        let way = between(from, to);
        let length = way[0].hypot(way[1]).max(1e-9);
        let begin = go(from, way, (2.0 * DOT_MM / length).min(1.0));
        let crosses = |other: &[Flat; 2]| meet([begin, to], *other);
        !self.lines.iter().any(crosses) && self.is_off_letters([begin, to])
    }

    /// Whether a line runs through no letter.
    fn is_off_letters(&self, [from, to]: [Flat; 2]) -> bool {
        !self.boxes.iter().any(|frame| within(from, between(from, to), *frame).is_some())
    }

    /// Whether no broken line runs through this box either.
    fn is_clear(&self, frame: [f64; 4]) -> bool {
        !self.soft.iter().any(|line| within(line[0], between(line[0], line[1]), frame).is_some())
    }
}

/// A text with its middle here.
fn lettered(kind: TextKind, says: &str, height_mm: f64, strong: bool, middle: Flat) -> Text {
    if strong {
        lettering::centred_strong(kind, says, height_mm, middle)
    } else {
        lettering::centred(kind, says, height_mm, middle)
    }
}

/// From a dot towards the middle of a box, up to its edge; `None`: the dot lies in the box.
fn leader(on: Flat, frame: [f64; 4]) -> Option<[Flat; 2]> {
    let wider = [frame[0] - CLEAR_MM, frame[1] - CLEAR_MM, frame[2] + CLEAR_MM, frame[3] + CLEAR_MM];
    let way = between(on, [(frame[0] + frame[2]) / 2.0, (frame[1] + frame[3]) / 2.0]);
    let (share, _) = within(on, way, wider)?;
    (share > 0.0).then(|| [on, go(on, way, share)])
}

/// Whether two straight pieces cross.
fn meet(a: [Flat; 2], b: [Flat; 2]) -> bool {
    let side = |line: [Flat; 2], point: Flat| cross(between(line[0], line[1]), between(line[0], point));
    side(a, b[0]) * side(a, b[1]) <= 0.0 && side(b, a[0]) * side(b, a[1]) <= 0.0
}

/// Radius of the dot at the end of a leader, mm.
const DOT_MM: f64 = 0.45;
/// Radius of the sign of a jaw, mm.
pub const JAW_SIGN_MM: f64 = 1.1;
/// How far words stand behind a sign, mm.
const KEY_INDENT_MM: f64 = 4.0;

/// One line below a picture.
#[derive(Debug, Clone, PartialEq)]
pub struct KeyLine {
    /// Sign of a jaw before it: filled or open.
    pub sign: Option<bool>,
    /// Stands behind the sign.
    pub indented: bool,
    /// The words.
    pub says: String,
}

impl KeyLine {
    /// Words broken into lines that fit.
    pub fn words(says: &str, room_mm: f64) -> Vec<KeyLine> {
        let line = |says| KeyLine { sign: None, indented: false, says };
        lettering::wrapped(says, SMALL_MM, room_mm).into_iter().map(line).collect()
    }

    /// The same with a jaw's sign before the first line.
    pub fn of_jaw(filled: bool, says: &str, room_mm: f64) -> Vec<KeyLine> {
        let lines = lettering::wrapped(says, SMALL_MM, room_mm - KEY_INDENT_MM);
        let line = |(at, says)| KeyLine { sign: (at == 0).then_some(filled), indented: true, says };
        lines.into_iter().enumerate().map(line).collect()
    }

    /// How wide it is, mm.
    pub fn width_mm(&self) -> f64 {
        lettering::width_mm(&self.says, SMALL_MM) + if self.indented { KEY_INDENT_MM } else { 0.0 }
    }
}

/// How wide lines of words are, mm.
pub fn key_width_mm(lines: &[KeyLine]) -> f64 {
    lines.iter().map(KeyLine::width_mm).fold(0.0, f64::max)
}

/// How high lines of words are, mm.
pub fn key_height_mm(lines: &[KeyLine]) -> f64 {
    lines.len() as f64 * lettering::LINE_MM
}

/// Whether two boxes have an area in common.
pub fn overlap(a: [f64; 4], b: [f64; 4]) -> bool {
    a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3]
}
