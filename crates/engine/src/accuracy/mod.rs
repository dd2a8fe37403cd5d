//! How true it comes out: errors through the set-ups, zones, chances and causes, and what may be said of a size that was
//! measured. Knows no minutes.

mod carried;
mod causes;
mod chain;
mod check;
mod conform;
mod forecast;
mod form;
mod noise;
mod normal;
mod numbers;
mod outline;
mod seating;
mod stack;
pub mod zone;

pub use carried::{Basis, Carried, Coefficients, Samples};
pub use causes::{Cause, Linear, LinearRows, Share, causes, linear};
pub use chain::{Chain, SetUp, Sized, Stands};
pub use check::{Check, Cone, Judged, Row, Term, Turn, Valued};
pub use conform::{
    Band, Known, Risks, Verdict, after_reading, chance_within, guard_mm, guarded, quantile_of_chance, risks, verdict,
};
pub use forecast::{Chance, Forecast, Told, forecast, forecast_quieter};
pub use form::{Form, Places};
pub use noise::Noise;
pub use normal::{above, below, between, density, quantile};
pub use numbers::{Spreads, rows, spread};
pub use outline::FaceShape;
pub use seating::{Behind, Gains, JawBears, On, PairOfParallels, Seating};
pub use stack::{
    Dimension, Link, free_scale_root_sum_square, free_scale_worst_case, inflated, mean_shift, path, root_sum_square,
    worst_case,
};
