//! A figure as SVG.

use super::Figure;

/// What a page needs to show figures dressed for it, light and dark.
pub const PAGE_STYLE: &str = "";

/// For whom it is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dress {
    /// The page: classes and inherited colours, so that light and dark are the page's choice.
    Page,
    /// Paper: black, white and greys.
    Paper,
}

/// The figure as an SVG element, its size in mm, with title and description.
pub fn svg(figure: &Figure, _dress: Dress) -> String {
    let [width, height] = figure.size_mm;
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\"></svg>"
    )
}
