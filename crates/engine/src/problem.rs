//! What is wrong with an input, placed by its key.

/// A problem in a job or a shop: where, what, and what would be accepted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// Which file.
    pub file: Source,
    /// Key path in that file: `stock.diameter`, `lathe[0].speeds`, `use.lathe`.
    pub at: String,
    /// What is wrong, with the value.
    pub says: String,
    /// What would be accepted.
    pub accepts: String,
}

/// The file that a problem lies in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// The job.
    Job,
    /// The shop.
    Shop,
}
