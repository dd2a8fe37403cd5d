//! How a piece lies in the jaws, as the views of a set-up need it.

use std::f64::consts::TAU;

use engine::plan::{ContactKind, JawPlan, Plan, SetUp, UNFINISHED};
use engine::quantity::show;

use crate::figure::Curve;
use crate::lettering::short;
use crate::outline::round_towards;
use crate::prism::{Edges, edges};
use crate::sight::Sight;
use crate::vector::{Flat, dot, quarter, unit};

/// Places agree within this, mm.
const SAME_MM: f64 = 1e-6;

/// Direction of a jaw in the set-up's frame, from X towards Y, rad.
pub fn direction_rad(set_up: &SetUp, jaw: &JawPlan) -> f64 {
    TAU * (f64::from(jaw.jaw) - 1.0) / set_up.jaws.len().max(1) as f64
}

/// From the spindle axis to the surface on which a jaw bears; to the bottom of a vee's groove.
pub fn surface_mm(jaw: &JawPlan) -> f64 {
    jaw.vee.as_ref().map_or(jaw.reach_mm - jaw.packing_mm, |vee| vee.groove_mm)
}

/// Whether the bar lies across the spindle.
pub fn lies_across(set_up: &SetUp) -> bool {
    set_up.held.frame.turn([0.0, 0.0, 1.0])[2].abs() < 0.5
}

/// The edges of the piece before the cut.
pub fn piece(set_up: &SetUp, sight: &Sight) -> Edges {
    edges(&set_up.held.before, &sight.through(&set_up.held.frame))
}

/// What the bar had and the piece has no more: edges of the bar, none where nothing is gone.
pub fn gone(plan: &Plan, set_up: &SetUp, sight: &Sight) -> Vec<Curve> {
    if set_up.held.before == plan.scene.bar {
        return Vec::new();
    }
    edges(&plan.scene.bar, &sight.through(&set_up.held.frame)).visible
}

/// Over which stretch across a direction the piece reaches as far out as `out_mm`, both seen in the plane of the
/// paper; `None`: nowhere at an edge, as where a round bears on one line.
pub fn outermost(piece: &Edges, towards: Flat, out_mm: f64) -> Option<(f64, f64)> {
    let ends = piece.visible.iter().flat_map(|curve| [curve.start(), curve.end()]);
    let places: Vec<f64> = ends
        .filter(|&end| (dot(end, towards) - out_mm).abs() < SAME_MM)
        .map(|end| dot(end, quarter(towards)))
        .collect();
    let (least, most) =
        (places.iter().copied().fold(f64::MAX, f64::min), places.iter().copied().fold(f64::MIN, f64::max));
    (most > least + SAME_MM).then_some((least, most))
}

/// Where the round of a piece held along the spindle touches a jaw, across the jaw.
pub fn touches_at(set_up: &SetUp, jaw: &JawPlan) -> f64 {
    let angle = direction_rad(set_up, jaw);
    let frame = &set_up.held.frame;
    let ([x, y], [tx, ty]) = (unit(angle), quarter(unit(angle)));
    let out: [f64; 3] = std::array::from_fn(|at| frame.axes[0][at] * x + frame.axes[1][at] * y);
    let place = round_towards(&set_up.held.before.outline, out[1].atan2(out[0]));
    place.map_or(0.0, |[px, py]| {
        let held = frame.place([px, py, 0.0]);
        held[0] * tx + held[1] * ty
    })
}

/// Height of the widest line of a round lying across, where this jaw bears on one.
pub fn widest_line_mm(set_up: &SetUp, jaw: &JawPlan) -> Option<f64> {
    if jaw.contact != ContactKind::LineAcross {
        return None;
    }
    let angle = direction_rad(set_up, jaw);
    let frame = &set_up.held.frame;
    let out: [f64; 3] = std::array::from_fn(|at| frame.axes[0][at] * angle.cos() + frame.axes[1][at] * angle.sin());
    let [x, y] = round_towards(&set_up.held.before.outline, out[1].atan2(out[0]))?;
    Some(frame.place([x, y, 0.0])[2])
}

/// Height of the raw top and of the face when it is cut, above the jaw fronts: cut as deep as the table of passes goes
/// in all, which is what the dial gives; where there is no pass, as deep as is asked.
pub fn top_and_floor_mm(set_up: &SetUp) -> (f64, f64) {
    let top = top_mm(set_up, &set_up.held.before);
    let floor = set_up.passes.last().map_or_else(|| top_mm(set_up, &set_up.held.after), |pass| top - pass.total_mm);
    (top, floor)
}

fn top_mm(set_up: &SetUp, solid: &engine::plan::Solid) -> f64 {
    let sight = Sight::of_part([0.0, -1.0, 0.0], [0.0, 0.0, 1.0]).through(&set_up.held.frame);
    let found = edges(solid, &sight);
    crate::curve::bounds_of_all(found.visible.iter().chain(&found.hidden))[3]
}

/// "A", "the bar", "the sawn end".
pub fn surface_name(name: &str) -> String {
    if UNFINISHED.contains(&name) { format!("the {name}") } else { short(name) }
}

/// What is done with a jaw, in a word or two: a jaw beside one that is left alone is only loosened for the piece; where
/// none is, all are set anew.
pub fn handling(set_up: &SetUp, jaw: &JawPlan) -> &'static str {
    match (jaw.kept, set_up.jaws.iter().any(|jaw| jaw.kept)) {
        (true, _) => "leave alone",
        (false, false) => "set",
        (false, true) => "loosen",
    }
}

/// Jaws in words, those of which the same is said together: whether they are left alone, and the words.
pub fn jaws_words(plan: &Plan, set_up: &SetUp) -> Vec<(bool, String)> {
    let mut groups: Vec<(bool, String, Vec<String>)> = Vec::new();
    for jaw in &set_up.jaws {
        let says = jaw_says(plan, set_up, jaw);
        match groups.iter_mut().find(|(kept, same, _)| *kept == jaw.kept && *same == says) {
            Some((_, _, jaws)) => jaws.push(jaw.jaw.to_string()),
            None => groups.push((jaw.kept, says, vec![jaw.jaw.to_string()])),
        }
    }
    let words = |(kept, says, jaws): (bool, String, Vec<String>)| match jaws.split_last() {
        Some((last, before)) if !before.is_empty() => (kept, format!("jaws {} and {last} {says}", before.join(", "))),
        _ => (kept, format!("jaw {} {says}", jaws.concat())),
    };
    groups.into_iter().map(words).collect()
}

/// A jaw in words.
pub fn jaw_words(plan: &Plan, set_up: &SetUp, jaw: &JawPlan) -> String {
    format!("jaw {} {}", jaw.jaw, jaw_says(plan, set_up, jaw))
}

/// What is said of a jaw: "on the bar: set".
fn jaw_says(plan: &Plan, set_up: &SetUp, jaw: &JawPlan) -> String {
    let packing = if jaw.packing_mm > 0.0 {
        format!(", packing {}", show::on_hand(jaw.packing_mm, plan.units))
    } else {
        String::new()
    };
    let on = jaw.vee.as_ref().map_or_else(|| surface_name(&jaw.bears_on), |vee| vee.bears.clone());
    format!("on {on}{packing}: {}", handling(set_up, jaw))
}

/// The seat in words.
pub fn seat_words(plan: &Plan, set_up: &SetUp) -> String {
    match &set_up.seat {
        None => "no seat: depth set by hand".to_string(),
        Some(seat) if seat.packing_mm > 0.0 => {
            let height = show::on_hand(seat.packing_mm, plan.units);
            format!("{} on {height} parallels", surface_name(&seat.face))
        }
        Some(seat) => format!("{} on the {}", surface_name(&seat.face), seat.on),
    }
}

/// Which axis of the set-up the parallels run along, 0: X, 1: Y; `None`: there are none.
pub fn parallels_axis(set_up: &SetUp) -> Option<usize> {
    let seat = set_up.seat.as_ref()?;
    let (jaw, _) = seat.along?;
    (seat.packing_mm > 0.0 && set_up.held.parallel_width_mm > 0.0).then_some(usize::from((jaw.max(1) - 1) % 2))
}

/// "face C", "faces C and D".
pub fn faces_words(names: &[String]) -> String {
    let names: Vec<String> = names.iter().map(|name| short(name)).collect();
    match names.as_slice() {
        [] => "nothing".to_string(),
        [one] => format!("face {one}"),
        [most @ .., last] => format!("faces {} and {last}", most.join(", ")),
    }
}
