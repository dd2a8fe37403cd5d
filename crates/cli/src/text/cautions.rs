//! Cautions for the whole job.

use super::page::Page;

/// Before the first set-up, so that they are read before it.
pub fn print(cautions: &[String], page: &mut Page) {
    if cautions.is_empty() {
        return;
    }
    page.blank();
    page.line("READ FIRST");
    for caution in cautions {
        page.item(" -", caution);
    }
}
