//! Accuracy: how far off a part comes out, and what may be said of it.

mod conform;
mod normal;
mod stack;
pub mod zone;

pub use conform::{
    Band, Known, Risks, Verdict, after_reading, chance_within, guard_mm, guarded, quantile_of_chance, risks, verdict,
};
pub use normal::{above, below, between, density, quantile};
pub use stack::{
    Dimension, Link, free_scale_root_sum_square, free_scale_worst_case, inflated, mean_shift, path, root_sum_square,
    worst_case,
};
