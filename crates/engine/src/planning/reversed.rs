//! Jaws turned end for end: for work that they cannot be opened for as they are, where the shop says what they open to then.

use super::search::{Found, search};
use crate::task::Task;

/// The job searched once more with the jaws turned; `None`: they cannot be, or no order works with them so either.
pub fn search_turned(task: &Task) -> Option<(Task, Found)> {
    let turned = turned(task)?;
    let mut found = search(&turned);
    let first = found.set_ups.first_mut()?;
    first.set_up_minutes += turned.minutes.reverse_jaws;
    Some((turned, found))
}

/// The job with the jaws turned; `None`: they cannot be.
pub fn turned(task: &Task) -> Option<Task> {
    let chuck = task.chuck.turned_end_for_end()?;
    Some(Task { chuck, ..task.clone() })
}
