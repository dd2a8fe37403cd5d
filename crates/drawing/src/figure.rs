//! A figure: marks on paper, in millimetres of paper, x to the right, y downwards.

use crate::scale::Scale;

/// A picture ready to be written as SVG or put on a sheet.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Figure {
    /// What its ids begin with: letters, digits, hyphens; unique in a plan. Put a word before it where one document
    /// holds several plans.
    pub name: String,
    /// Width and height on paper.
    pub size_mm: [f64; 2],
    /// What it shows, a few words.
    pub title: String,
    /// The same in sentences, for those who cannot see it.
    pub says: String,
    /// How large it is drawn; of a pictorial view along its three axes.
    pub scale: Scale,
    /// What is drawn, from below to above.
    pub marks: Vec<Mark>,
}

/// One thing drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// A line.
    Stroke(Stroke),
    /// A closed region, filled and not outlined: what lies under it is hidden by it.
    Area(Area),
    /// Lettering.
    Text(Text),
    /// A dimension with its lines, arrows and number.
    Dimension(Dimension),
}

/// A line with its kind and what it stands for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// How it is drawn.
    pub kind: LineKind,
    /// What it stands for.
    pub part: Part,
    /// Where it runs.
    pub curve: Curve,
}

/// A closed region.
#[derive(Debug, Clone, PartialEq)]
pub struct Area {
    /// What it is filled with.
    pub fill: Fill,
    /// What it stands for.
    pub part: Part,
    /// Its edge, each curve beginning where the last one ended.
    pub edge: Vec<Curve>,
}

/// Where a line runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Curve {
    /// Straight.
    Line {
        /// Start.
        from_mm: [f64; 2],
        /// End.
        to_mm: [f64; 2],
    },
    /// Part of an ellipse or circle.
    Arc(Arc),
}

/// The points `centre + a cos t + b sin t` for t from `from_rad` to `to_rad`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Centre.
    pub centre_mm: [f64; 2],
    /// Two conjugate half-diameters, a and b.
    pub halves_mm: [[f64; 2]; 2],
    /// t at the start.
    pub from_rad: f64,
    /// t at the end; never more than a whole turn away.
    pub to_rad: f64,
}

/// Kinds of line, after ISO 128-2.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LineKind {
    /// Thicker than wide: surfaces that bear.
    Thick,
    /// Continuous wide: visible edges.
    Wide,
    /// Continuous narrow: hatching, dimension lines, leaders, breaks.
    Narrow,
    /// Dashed narrow: hidden edges.
    Dashed,
    /// Long-dashed dotted narrow: centre lines, the widest line.
    Chain,
    /// Long-dashed double-dotted narrow: outlines that are gone.
    DoubleChain,
}

/// What a mark stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// The piece or the part.
    Piece,
    /// What comes off in this step.
    Cut,
    /// What was there before.
    Old,
    /// A jaw.
    Jaw,
    /// The ledge of a jaw, under the piece.
    Ledge,
    /// The body of the chuck.
    Chuck,
    /// What lies between jaw and piece.
    Packing,
    /// A vee between a jaw and a corner.
    Vee,
    /// Parallels behind the piece.
    Parallel,
    /// Where jaw or seat bears.
    Bearing,
    /// The tool.
    Tool,
    /// Centre lines, the widest line.
    Centre,
    /// Breaks, frames, signs.
    Sign,
    /// From a letter to what it names, with its dot.
    Leader,
}

/// What a region is filled with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// The colour of the paper: it only hides.
    Paper,
    /// A pale tint: jaws, chuck, tool.
    Pale,
    /// A darker tint: packing.
    Dark,
    /// The colour of the ink.
    Ink,
}

/// Lettering with its box.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// What stands there.
    pub says: String,
    /// The box that it fills: left, top, right, bottom.
    pub frame_mm: [f64; 4],
    /// Height of its capitals.
    pub height_mm: f64,
    /// A letter or number of first importance.
    pub strong: bool,
    /// Turned a quarter anticlockwise, to be read from the right.
    pub upright: bool,
    /// Which of its places stays where it is, should a font be narrower than the box.
    pub anchor: Anchor,
    /// Which kind of word.
    pub kind: TextKind,
}

/// A place along a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Where it begins.
    Start,
    /// Its middle.
    Middle,
    /// Where it ends.
    End,
}

/// Which kind of word a text is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TextKind {
    /// Name of a face.
    Face,
    /// Number of a jaw.
    Jaw,
    /// A number with what it is.
    Number,
    /// Any other word.
    Word,
}

/// A dimension: what it measures, what it says, and how it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Dimension {
    /// Ends of the measured stretch: the tips of the arrows.
    pub ends_mm: [[f64; 2]; 2],
    /// The value, mm of the real thing.
    pub value_mm: f64,
    /// Extension lines.
    pub extensions_mm: Vec<[[f64; 2]; 2]>,
    /// The dimension line, and where it goes on to its number.
    pub lines_mm: Vec<[[f64; 2]; 2]>,
    /// Arrows stand outside and point inwards.
    pub outside: bool,
    /// The number.
    pub text: Text,
}
