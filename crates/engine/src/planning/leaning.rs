//! Jaws that lean so far that work may lift off its seat, and what is said of the forecast then.

use super::lie::Surface;
use super::search::Chosen;
use super::window::SeatOn;
use crate::accuracy::spread;
use crate::task::Task;

/// The forecast takes it that a seat touches all over. From some tilt on a light tap does not keep it so.
pub fn notice(task: &Task, chosen: &[Chosen]) -> Option<String> {
    let facts = &task.spreads;
    let [least_mrad, wider, twice_wider] =
        ["lifts_off_mrad", "lifts_off_wider", "lifts_off_twice_wider"].map(|name| spread(name).value);
    let known = facts.jaw_faces_rad.iter().map(|tilt| tilt.abs()).reduce(f64::max);
    let mrad = known.unwrap_or(facts.spreads.jaw_tilt_rad) * 1e3;
    let numbered = (1_u32..).zip(chosen);
    let seated: Vec<String> =
        numbered.filter(|(_, chosen)| is_seated(chosen)).map(|(number, _)| number.to_string()).collect();
    if mrad < least_mrad - 1e-9 || seated.is_empty() {
        return None;
    }
    Some(format!(
        "NOTICE: the faces of the jaws lean by up to {mrad:.1} mrad. The chances are worked out for work that touches its \
         seat all over (set-up{} {}). From about {least_mrad} mrad on a light tap lets it lift off at an edge; in a trial by \
         calculation squareness and parallelism then came out up to {wider} times as wide as forecast, at {} mrad up to \
         {twice_wider} times. Tap the work down until nothing behind it moves, and see to the jaws.",
        if seated.len() == 1 { "" } else { "s" },
        seated.join(", "),
        2.0 * least_mrad,
    ))
}

fn is_seated(chosen: &Chosen) -> bool {
    let facing = &chosen.way.facing;
    matches!(facing.depth.seat, SeatOn::ChuckFace | SeatOn::Parallels(_)) && facing.lie.behind != Surface::Sawn
}
