//! A figure: marks on paper, in millimetres of paper, x to the right, y downwards.

/// A picture ready to be written as SVG or put on a sheet.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Figure {
    /// Width and height on paper.
    pub size_mm: [f64; 2],
    /// What it shows, a few words.
    pub title: String,
    /// The same in sentences, for those who cannot see it.
    pub says: String,
    /// What is drawn, from below to above.
    pub marks: Vec<Mark>,
}

/// One thing drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {}
