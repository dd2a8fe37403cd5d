//! Plan and figures to PDF.
