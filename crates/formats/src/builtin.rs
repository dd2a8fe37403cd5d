//! The invented school shop that serves until there is a real one, and a job to try it with.

/// The school shop as TOML, with comments for whoever copies it.
pub fn shop_text() -> &'static str {
    include_str!("../data/school-shop.toml")
}

/// A job that plans with the school shop.
pub fn demo_job_text() -> &'static str {
    include_str!("../../../examples/guide-block.toml")
}
