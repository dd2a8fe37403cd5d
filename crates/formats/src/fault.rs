//! A fault in a file: where, what, and what would be accepted.

use std::ops::Range;

/// One thing in a job or shop file that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Name of the file, as the caller gave it.
    pub file: String,
    /// The bytes of the file that it lies on; `None`: the file as a whole.
    pub span: Option<Range<usize>>,
    /// What is wrong, with the value.
    pub says: String,
    /// What would be accepted; empty where nothing could be.
    pub accepts: String,
}

impl Fault {
    /// The line on which the fault begins, from 1, in the text of its file.
    pub fn line(&self, text: &str) -> Option<usize> {
        let start = self.span.as_ref()?.start.min(text.len());
        Some(text.as_bytes()[..start].iter().filter(|&&byte| byte == b'\n').count() + 1)
    }
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.file, self.says)?;
        if self.accepts.is_empty() { Ok(()) } else { write!(f, " (accepted: {})", self.accepts) }
    }
}

impl std::error::Error for Fault {}
