//! Plan to figures in mm, figures to SVG. Never computes what the engine knows.

mod board;
mod chuck;
mod curve;
mod dimension;
mod figure;
mod forces;
mod hatch;
mod held;
mod lettering;
mod outline;
mod part;
mod pictorial;
mod prism;
mod projection;
mod scale;
mod side;
mod sight;
mod surface;
mod svg;
mod turn;
mod vector;
mod vee;

pub use chuck::{chuck_view, chuck_view_at_most};
pub use figure::{Anchor, Arc, Area, Curve, Dimension, Figure, Fill, LineKind, Mark, Part, Stroke, Text, TextKind};
pub use forces::{jaw_forces, jaw_forces_briefly};
pub use held::handling;
pub use part::{bar_and_part, part_drawing};
pub use pictorial::{before_after, before_after_at_most, order_strip, order_strip_in_rows};
pub use projection::Projection;
pub use scale::Scale;
pub use side::{side_view, side_view_at_most};
pub use surface::{surface_map, surface_map_briefly};
pub use svg::{Dress, PAGE_STYLE, svg};
pub use turn::{turn_plot, turn_plot_briefly};
