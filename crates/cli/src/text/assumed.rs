//! What nobody gave and the plan had to assume.

use engine::plan::Assumed;

use super::page::Page;

/// One line a value, with where it comes from.
pub fn print(assumed: &[Assumed], page: &mut Page) {
    page.blank();
    page.rule('-');
    if assumed.is_empty() {
        page.line("ASSUMED: nothing; job and shop gave every value.");
        return;
    }
    page.line("ASSUMED, because neither job nor shop gave it");
    for row in assumed {
        page.item(" -", &format!("{}: {} ({})", row.what, row.value, row.source));
    }
}
