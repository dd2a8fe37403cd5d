//! What the search for the order did.

use engine::plan::Search;

use super::number::count;
use super::page::Page;

/// One sentence, where there was a search.
pub fn print(search: &Search, page: &mut Page) {
    if search.examined == 0 {
        return;
    }
    let proven = if search.proven_best {
        "none of them takes fewer minutes by these sums"
    } else {
        "not all were looked at, so a quicker one may exist"
    };
    page.blank();
    page.entry(
        "SEARCH",
        &format!(
            "{} orders and holds possible, {} looked at, {} cut off; {proven}.",
            count(search.plans_possible),
            search.examined,
            search.cut_off
        ),
    );
}
