//! The two public formats: job and shop as TOML, read with every fault placed; the plan as JSON.
//!
//! Reading gives engine types or *all* faults of a file at once, each with the bytes it lies on, what
//! is wrong and what would be accepted. Nothing here touches a file system: texts come in, values or
//! texts go out.

pub mod amount;
pub mod builtin;
pub mod fault;
pub mod job;
pub mod places;
pub mod plan;
pub mod shop;

mod bar;
mod bounds;
mod part;
mod reader;
mod sized;
mod table;
mod word;

pub use fault::Fault;
pub use places::Places;
