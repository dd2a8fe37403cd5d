//! Plan to figures in mm, figures to SVG. Never computes what the engine knows.

mod figure;
mod pictures;
mod projection;
mod scale;
mod svg;

pub use figure::{Arc, Area, Curve, Dimension, Figure, Fill, LineKind, Mark, Part, Stroke, Text, TextKind};
pub use pictures::{bar_and_part, before_after, chuck_view, order_strip, part_drawing, side_view};
pub use projection::Projection;
pub use scale::Scale;
pub use svg::{Dress, PAGE_STYLE, svg};
