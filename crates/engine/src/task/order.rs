//! What a job decides of the order, as indices of faces.

use super::{Face, Gaps};
use crate::job::{Job, Seek};
use crate::problem::Source;

/// What a job decides of the order.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderFacts {
    /// What the best order is.
    pub seek: Seek,
    /// Faces to be cut first, in this order.
    pub first: Vec<usize>,
    /// Faces to be cut on a seat.
    pub seated: Vec<usize>,
}

impl OrderFacts {
    /// Whether nothing is decided.
    pub fn is_free(&self) -> bool {
        self.first.is_empty() && self.seated.is_empty()
    }
}

pub(super) fn resolve(job: &Job, faces: &[Face], gaps: &mut Gaps) -> OrderFacts {
    OrderFacts {
        seek: job.order.seek,
        first: named("order.first", &job.order.first, faces, gaps),
        seated: named("order.seated", &job.order.seated, faces, gaps),
    }
}

fn named(at: &str, names: &[String], faces: &[Face], gaps: &mut Gaps) -> Vec<usize> {
    let cut = || faces.iter().filter(|face| face.cut).map(|face| face.name.as_str()).collect::<Vec<_>>().join(", ");
    let find = |name: &String| match faces.iter().position(|face| face.name == *name) {
        Some(found) if faces[found].cut => Some(found),
        Some(_) => {
            let says = format!("\"{name}\" stays as the bar has it: it has no place in the order");
            gaps.problem(Source::Job, at, says, cut());
            None
        }
        None => {
            gaps.problem(Source::Job, at, format!("no face is named \"{name}\""), cut());
            None
        }
    };
    names.iter().filter_map(find).collect()
}
