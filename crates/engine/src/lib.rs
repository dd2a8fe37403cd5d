//! The engine of Turnwright: job and shop in, plan out.
//!
//! Pure: no files, clock, terminal, network or unseeded chance. Rooms and arrows are in
//! `ARCHITECTURE.md`.

pub mod accuracy;
pub mod bar;
pub mod cutting;
pub mod dial;
pub mod hands;
pub mod holding;
pub mod job;
pub mod measure;
pub mod part;
pub mod plan;
pub mod planning;
pub mod problem;
pub mod quantity;
pub mod shape;
pub mod shop;
pub mod sourced;
pub mod task;
pub mod working;

pub use planning::plan;
