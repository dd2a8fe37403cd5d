//! Whether work and chuck clear the lathe, and whether the cross slide reaches.

use super::facing::CannotFace;
use super::floor::floor_at;
use super::hold::reach_mm;
use super::lie::Lie;
use super::work::Work;
use crate::part::Place;
use crate::shape::Piece;
use crate::task::Task;

/// Swing over slide and bed, travel of the cross slide.
pub fn check_swing(task: &Task, work: &Work) -> Result<(), CannotFace> {
    let lie = work.lie;
    let swung = swung_radius_mm(work.piece, work.place, lie);
    let clears = [
        (2.0 * swung, task.lathe.swing_over_slide_mm, "the cross slide"),
        ((2.0 * swung).max(task.chuck.body_mm), task.lathe.swing_over_bed_mm, "the bed"),
    ];
    for (needed, swing, what) in clears {
        if let Some(swing) = swing
            && needed > swing
        {
            return Err(CannotFace::Swing(needed, swing, what));
        }
    }
    jaws_clear_the_bed(task, lie)?;
    let across = work.start_radius_mm + task.rules.approach_mm;
    match task.lathe.cross_travel_mm {
        Some(travel) if across > travel => Err(CannotFace::CrossTravel(across, travel)),
        _ => Ok(()),
    }
}

/// Jaws that stand out of the body must clear the bed; asked where the shop says how long they are.
fn jaws_clear_the_bed(task: &Task, lie: &Lie) -> Result<(), CannotFace> {
    let reach_mm = lie.sides.iter().map(|side| reach_mm(task, side)).fold(0.0, f64::max);
    let swung_mm = 2.0 * (reach_mm + task.chuck.jaw_depth_mm);
    match task.lathe.swing_over_bed_mm {
        Some(swing) if task.chuck.jaw_depth_known && swung_mm > swing => Err(CannotFace::JawsSwing(swung_mm, swing)),
        _ => Ok(()),
    }
}

/// The farthest point of the piece from the spindle axis.
pub fn swung_radius_mm(piece: &Piece, place: Place, lie: &Lie) -> f64 {
    match place {
        Place::Front | Place::Back => floor_at(piece, place, lie, lie.top_mm).start_radius_mm,
        Place::Side(angle) => {
            let across =
                |sign: f64| piece.section.extent_mm(angle + sign * std::f64::consts::FRAC_PI_2) - sign * lie.axis_mm.0;
            let along = (piece.front_mm - lie.axis_mm.1).max(lie.axis_mm.1 - piece.back_mm);
            across(1.0).max(across(-1.0)).hypot(along)
        }
    }
}
