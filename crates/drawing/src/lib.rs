//! Plan to figures in mm, figures to SVG. Never computes what the engine knows.

mod figure;
mod svg;

pub use figure::{Figure, Mark};
pub use svg::{Dress, svg};
