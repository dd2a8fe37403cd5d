//! What the caller decides about a sheet: its paper and its date.

/// Paper that a sheet is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// ISO 216: 210 mm by 297 mm.
    #[default]
    A4,
    /// US Letter: 8.5 in by 11 in.
    Letter,
}

impl Paper {
    /// Width and height, mm.
    pub fn size_mm(self) -> [f64; 2] {
        match self {
            Paper::A4 => [210.0, 297.0],
            Paper::Letter => [215.9, 279.4],
        }
    }
}

/// How a sheet is made.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Setting {
    /// The paper.
    pub paper: Paper,
    /// The date of issue as it shall stand in the title block; `None`: room to write it.
    pub date: Option<String>,
    /// Leaves out the working, which is about half of the pages.
    pub without_working: bool,
}

/// Margin at either side, mm: a binder's holes are punched left or right, as the sheet is printed.
const HOLE_MARGIN_MM: f64 = 20.0;
/// Margin at top, mm.
const TOP_MARGIN_MM: f64 = 6.5;
/// From the foot of the paper to the text, mm: the title block stands in it.
const FOOT_MM: f64 = 16.5;

/// Where things may stand on a paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Room {
    /// The paper, width and height, mm.
    pub paper_mm: [f64; 2],
    /// Left and right, mm.
    pub side_mm: f64,
    /// Above, mm.
    pub top_mm: f64,
    /// Below, with the title block, mm.
    pub foot_mm: f64,
}

impl Room {
    /// Of this paper.
    pub fn of(paper: Paper) -> Self {
        Room { paper_mm: paper.size_mm(), side_mm: HOLE_MARGIN_MM, top_mm: TOP_MARGIN_MM, foot_mm: FOOT_MM }
    }

    /// Width of the text, mm.
    pub fn width_mm(&self) -> f64 {
        self.paper_mm[0] - 2.0 * self.side_mm
    }

    /// Height of the text, mm.
    pub fn height_mm(&self) -> f64 {
        self.paper_mm[1] - self.top_mm - self.foot_mm
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn papers_have_their_standard_sizes() {
        // ISO 216 A4; US Letter 8.5 in x 11 in, 1 in = 25.4 mm exactly.
        assert_eq!(Paper::A4.size_mm(), [210.0, 297.0]);
        assert_eq!(Paper::Letter.size_mm().map(|mm| (mm / 25.4 * 1e6).round() / 1e6), [8.5, 11.0]);
    }
}
