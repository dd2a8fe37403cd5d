//! How true it will come out: errors through the set-ups, requirements, chances and causes. Knows no minutes.

mod carried;
mod causes;
mod chain;
mod check;
mod forecast;
mod noise;
mod numbers;
mod outline;
mod seating;

pub use carried::{Basis, Carried, Coefficients, Samples, quantile};
pub use causes::{Cause, Share, causes};
pub use chain::{Chain, SetUp, Sized, Stands};
pub use check::{Check, Cone, Judged, Row, Term, Valued};
pub use forecast::{Chance, Forecast, Told, forecast};
pub use noise::Noise;
pub use numbers::{SourcedSpread, Spreads, rows, spread};
pub use outline::{FaceShape, slip_per_mm};
pub use seating::{Behind, Gains, JawBears, On, Seating};
