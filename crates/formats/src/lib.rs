//! The two public formats.
