//! A figure as SVG.

use std::fmt::Write;

use crate::dimension::arrow;
use crate::figure::{Anchor, Arc, Area, Curve, Dimension, Figure, Fill, LineKind, Mark, Part, Text, TextKind};
use crate::lettering::{above_mm, em_mm, is_measured, width_in_mm};
use crate::vector::{Flat, between};

/// For whom it is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dress {
    /// The page: classes and inherited colours, so that light and dark are the page's choice.
    Page,
    /// Paper: black, white and greys.
    Paper,
}

/// What a page needs to show figures dressed for it: colours for light and dark, which the page may set otherwise,
/// and the kinds of lines.
pub const PAGE_STYLE: &str = "\
:where(:root){--ink:#15181c;--paper:#ffffff;--pale:#e4e7eb;--dark:#9aa3ad;--now:#0a4f9e;--stop:#7a4300;--danger:#a3000f}
@media (prefers-color-scheme:dark){:where(:root){--ink:#eef1f4;--paper:#14171b;--pale:#2b3138;--dark:#6b7681;--now:#8cc4ff;--stop:#ffc46b;--danger:#ffa09a}}
.drawing{color:var(--ink);font-family:\"DejaVu Sans Condensed\",\"DejaVu Sans\",system-ui,-apple-system,\"Segoe UI\",Roboto,\"Liberation Sans\",sans-serif;font-stretch:semi-condensed;font-style:normal;font-variant-numeric:tabular-nums;max-width:100%;height:auto}
.drawing .d-line{fill:none;stroke:currentColor;stroke-linecap:butt;stroke-linejoin:round}
.drawing .d-thick{stroke-width:1;stroke-linecap:butt}
.drawing .d-wide{stroke-width:.5;stroke-linecap:round}
.drawing .d-narrow{stroke-width:.25}
.drawing .d-dashed{stroke-width:.25;stroke-dasharray:2.4 .8}
.drawing .d-chain{stroke-width:.25;stroke-dasharray:5 .8 .4 .8}
.drawing .d-double-chain{stroke-width:.25;stroke-dasharray:5 .8 .4 .8 .4 .8}
.drawing .d-cut.d-narrow{stroke:var(--now);stroke-width:.18}
.drawing .d-fill-paper{fill:var(--paper)}
.drawing .d-fill-pale{fill:var(--pale)}
.drawing .d-fill-dark{fill:var(--dark)}
.drawing .d-fill-ink{fill:currentColor}
.drawing text{fill:currentColor}
.drawing .d-strong{font-weight:700}
";

/// The lettering of the sheet, by which widths are measured.
const PAPER_FONT: &str = "DejaVu Sans";
/// How wide it is: DejaVu Sans Condensed, 87.5 %.
const PAPER_STRETCH: &str = "semi-condensed";

/// The figure as an SVG element, its size in mm, with title and description.
pub fn svg(figure: &Figure, dress: Dress) -> String {
    let [width, height] = figure.size_mm.map(number);
    let name = id(&figure.name);
    let mut out = String::new();
    let look = match dress {
        Dress::Page => " class=\"drawing\"".to_string(),
        Dress::Paper => {
            format!(
                " font-family=\"{PAPER_FONT}\" font-stretch=\"{PAPER_STRETCH}\" fill=\"none\" stroke=\"none\" stroke-linejoin=\"round\""
            )
        }
    };
    push(
        &mut out,
        format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-labelledby=\"{name}-title {name}-desc\" \
             width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\"{look}>\
             <title id=\"{name}-title\">{}</title><desc id=\"{name}-desc\">{}</desc>",
            escaped(&figure.title),
            escaped(&figure.says)
        ),
    );
    for alike in figure.marks.chunk_by(are_alike) {
        match &alike[0] {
            Mark::Stroke(first) => {
                let curves = alike
                    .iter()
                    .filter_map(|mark| if let Mark::Stroke(stroke) = mark { Some(&stroke.curve) } else { None });
                write_strokes(&mut out, first.kind, first.part, curves, dress);
            }
            Mark::Area(area) => write_area(&mut out, area, dress),
            Mark::Text(text) => write_text(&mut out, text, dress),
            Mark::Dimension(dimension) => write_dimension(&mut out, dimension, dress),
        }
    }
    out.push_str("</svg>");
    out
}

/// Writing to a string never fails.
fn push(out: &mut String, arguments: std::fmt::Arguments) {
    let _ = out.write_fmt(arguments);
}

/// Whether two marks are strokes of one look: those that follow one another are one path, of which a page has a few
/// hundred instead of thousands.
fn are_alike(one: &Mark, next: &Mark) -> bool {
    match (one, next) {
        (Mark::Stroke(one), Mark::Stroke(next)) => (one.kind, one.part) == (next.kind, next.part),
        _ => false,
    }
}

fn write_strokes<'c>(
    out: &mut String,
    kind: LineKind,
    part: Part,
    curves: impl Iterator<Item = &'c Curve>,
    dress: Dress,
) {
    // Broken lines begin anew at each corner, and thick ones end where the surface ends.
    let joins = if matches!(kind, LineKind::Wide | LineKind::Narrow) { Joins::Touching } else { Joins::None };
    let look = match dress {
        Dress::Page => format!("class=\"d-line d-{} d-{}\"", kind_name(kind), part_name(part)),
        Dress::Paper => paper_line(kind, part),
    };
    push(out, format_args!("<path {look} d=\""));
    write_path(out, curves, joins);
    out.push_str("\"/>");
}

fn write_area(out: &mut String, area: &Area, dress: Dress) {
    let look = match dress {
        Dress::Page => format!("class=\"d-fill-{} d-{}\"", fill_name(area.fill), part_name(area.part)),
        Dress::Paper => format!("fill=\"{}\"", paper_fill(area.fill)),
    };
    push(out, format_args!("<path {look} d=\""));
    write_path(out, area.edge.iter(), Joins::All);
    out.push_str("Z\"/>");
}

fn write_text(out: &mut String, text: &Text, dress: Dress) {
    let [left, top, right, bottom] = text.frame_mm;
    let (share, anchor) = match text.anchor {
        Anchor::Start => (0.0, ""),
        Anchor::Middle => (0.5, " text-anchor=\"middle\""),
        Anchor::End => (1.0, " text-anchor=\"end\""),
    };
    let size = number(em_mm(text.height_mm));
    let (x, y) = if text.upright {
        (left + above_mm(text.height_mm), bottom + (top - bottom) * share)
    } else {
        (left + (right - left) * share, top + above_mm(text.height_mm))
    };
    let (x, y) = (number(x), number(y));
    let turn = if text.upright { format!(" transform=\"rotate(-90 {x} {y})\"") } else { String::new() };
    let look = match dress {
        Dress::Page => {
            let strong = if text.strong { " d-strong" } else { "" };
            format!("class=\"d-{}{strong}\"{}", text_name(text.kind), true_width(text))
        }
        Dress::Paper => format!("fill=\"#000\"{}", if text.strong { " font-weight=\"bold\"" } else { "" }),
    };
    let says = escaped(&text.says);
    push(out, format_args!("<text {look} x=\"{x}\" y=\"{y}\" font-size=\"{size}\"{anchor}{turn}>{says}</text>"));
}

/// A page may have any font: its letters are made as wide as the box that was measured for them.
fn true_width(text: &Text) -> String {
    if text.says.trim().is_empty() || !is_measured(&text.says, text.strong) {
        return String::new();
    }
    let width = number(width_in_mm(&text.says, text.height_mm, text.strong));
    format!(" textLength=\"{width}\" lengthAdjust=\"spacingAndGlyphs\"")
}

fn write_dimension(out: &mut String, dimension: &Dimension, dress: Dress) {
    let lines = dimension.extensions_mm.iter().chain(&dimension.lines_mm);
    let curves: Vec<Curve> = lines.map(|line| Curve::line(line[0], line[1])).collect();
    write_strokes(out, LineKind::Narrow, Part::Sign, curves.iter(), dress);
    for corners in arrows(dimension) {
        let edge = (0..3).map(|at| Curve::line(corners[at], corners[(at + 1) % 3])).collect();
        write_area(out, &Area { fill: Fill::Ink, part: Part::Sign, edge }, dress);
    }
    write_text(out, &dimension.text, dress);
}

/// The two arrows of a dimension, tips at its ends.
fn arrows(dimension: &Dimension) -> [[Flat; 3]; 2] {
    let [a, b] = dimension.ends_mm;
    let [x, y] = between(a, b);
    let length = x.hypot(y).max(1e-9);
    let sign = if dimension.outside { -1.0 } else { 1.0 };
    let way = [x / length * sign, y / length * sign];
    [arrow(a, [-way[0], -way[1]]), arrow(b, way)]
}

/// Which curves of a path go on from where the last one ended.
#[derive(Clone, Copy, PartialEq)]
enum Joins {
    /// Each: the edge of a region.
    All,
    /// Those that begin there.
    Touching,
    /// None.
    None,
}

/// Curves one after the other.
fn write_path<'c>(out: &mut String, curves: impl Iterator<Item = &'c Curve>, joins: Joins) {
    let mut end: Option<[i64; 2]> = None;
    for curve in curves {
        let start = curve.start().map(steps);
        let goes_on = match joins {
            Joins::All => end.is_some(),
            Joins::Touching => end == Some(start),
            Joins::None => false,
        };
        if !goes_on {
            write_steps(out, 'M', start);
        }
        match curve {
            Curve::Line { to_mm, .. } => write_steps(out, 'L', to_mm.map(steps)),
            Curve::Arc(arc) => write_arc(out, arc),
        }
        end = Some(curve.end().map(steps));
    }
}

/// In two halves, so that none is a whole turn and none is ambiguous.
fn write_arc(out: &mut String, arc: &Arc) {
    let (long, short, angle) = arc.axes();
    let (long, short, angle) = (number(long), number(short), number(angle.to_degrees()));
    let sweep = u8::from(arc.runs_x_to_y());
    for share in [0.5, 1.0] {
        push(out, format_args!("A{long} {short} {angle} 0 {sweep}"));
        write_steps(out, ' ', arc.point(arc.from_rad + (arc.to_rad - arc.from_rad) * share).map(steps));
    }
}

fn write_steps(out: &mut String, letter: char, [x, y]: [i64; 2]) {
    out.push(letter);
    write_number(out, x);
    out.push(' ');
    write_number(out, y);
}

fn number(value: f64) -> String {
    let mut out = String::new();
    write_number(&mut out, steps(value));
    out
}

/// Steps in which places are written: of a thousandth of a mm of paper, ten times finer than ink.
fn steps(value: f64) -> i64 {
    const STEPS: f64 = 1000.0;
    if value.is_finite() { (value * STEPS).round() as i64 } else { 0 }
}

/// Whole steps in mm, idle zeros left out. A picture holds thousands of numbers, and the general writer of fractions takes
/// most of its time.
fn write_number(out: &mut String, steps: i64) {
    const PER_MM: u64 = 1000;
    let (sign, size) = (if steps < 0 { "-" } else { "" }, steps.unsigned_abs());
    let (whole, rest) = (size / PER_MM, size % PER_MM);
    match (rest % 10, rest % 100) {
        _ if rest == 0 => push(out, format_args!("{sign}{whole}")),
        (_, 0) => push(out, format_args!("{sign}{whole}.{}", rest / 100)),
        (0, _) => push(out, format_args!("{sign}{whole}.{:02}", rest / 10)),
        _ => push(out, format_args!("{sign}{whole}.{rest:03}")),
    }
}

fn escaped(says: &str) -> String {
    let mut out = String::with_capacity(says.len());
    for c in says.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            // XML has no other control characters.
            '\t' | '\n' | '\r' => out.push(' '),
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => out.push(c),
        }
    }
    out
}

/// A name that may stand as an id.
fn id(name: &str) -> String {
    let kept: String = name.chars().map(|c| if c.is_ascii_alphanumeric() || c == '-' { c } else { '-' }).collect();
    format!("drawing-{kept}")
}

fn paper_line(kind: LineKind, part: Part) -> String {
    let (width, dashes) = match kind {
        LineKind::Thick => ("1", ""),
        LineKind::Wide => ("0.5", ""),
        LineKind::Narrow if part == Part::Cut => ("0.18", ""),
        LineKind::Narrow => ("0.25", ""),
        LineKind::Dashed => ("0.25", "2.4 0.8"),
        LineKind::Chain => ("0.25", "5 0.8 0.4 0.8"),
        LineKind::DoubleChain => ("0.25", "5 0.8 0.4 0.8 0.4 0.8"),
    };
    let dashes = if dashes.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{dashes}\"") };
    let cap = if kind == LineKind::Wide { " stroke-linecap=\"round\"" } else { "" };
    format!("stroke=\"#000\" stroke-width=\"{width}\"{dashes}{cap}")
}

fn paper_fill(fill: Fill) -> &'static str {
    match fill {
        Fill::Paper => "#fff",
        Fill::Pale => "#e6e6e6",
        Fill::Dark => "#999",
        Fill::Ink => "#000",
    }
}

fn kind_name(kind: LineKind) -> &'static str {
    match kind {
        LineKind::Thick => "thick",
        LineKind::Wide => "wide",
        LineKind::Narrow => "narrow",
        LineKind::Dashed => "dashed",
        LineKind::Chain => "chain",
        LineKind::DoubleChain => "double-chain",
    }
}

fn part_name(part: Part) -> &'static str {
    match part {
        Part::Piece => "piece",
        Part::Cut => "cut",
        Part::Old => "old",
        Part::Jaw => "jaw",
        Part::Ledge => "ledge",
        Part::Chuck => "chuck",
        Part::Packing => "packing",
        Part::Vee => "vee",
        Part::Parallel => "parallel",
        Part::Bearing => "bearing",
        Part::Tool => "tool",
        Part::Centre => "centre",
        Part::Sign => "sign",
        Part::Leader => "leader",
    }
}

fn fill_name(fill: Fill) -> &'static str {
    match fill {
        Fill::Paper => "paper",
        Fill::Pale => "pale",
        Fill::Dark => "dark",
        Fill::Ink => "ink",
    }
}

fn text_name(kind: TextKind) -> &'static str {
    match kind {
        TextKind::Face => "face-name",
        TextKind::Jaw => "jaw-number",
        TextKind::Number => "number",
        TextKind::Word => "word",
    }
}
