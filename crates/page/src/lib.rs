//! The page: a job in, a plan out, on loopback, in a browser.
//!
//! The job's text is the truth; the form is a view of it. Everything is rendered here: the first page as served holds
//! the plan and its pictures, and works without script. The script only swaps what a new answer changes.

mod answer;
mod asked;
mod change;
mod fault;
mod field;
mod guard;
mod planned;
mod server;
mod units;
mod view;
mod written;

pub use server::{MOST_BYTES, router, serve};
