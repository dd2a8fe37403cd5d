//! Vees between jaws and corners of the work: laid, and looked at before the start.

use super::View;
use super::caution::{Caution, Signal};
use super::steps::Steps;
use super::words::{degrees, jaws, list};
use crate::plan::{JawPlan, SetUp, VeePlan};
use crate::quantity::show::{length, on_hand};

/// The jaws that bear through a vee.
pub(super) fn jaws_with(set_up: &SetUp) -> Vec<u8> {
    set_up.jaws.iter().filter(|jaw| jaw.vee.is_some()).map(|jaw| jaw.jaw).collect()
}

/// Which vee goes where, which way round, how high.
pub(super) fn lay(view: &View, steps: &mut Steps) {
    let with = jaws_with(view.set_up);
    let Some(first) = view.set_up.jaws.iter().find_map(|jaw| jaw.vee.as_ref()) else { return };
    let places: Vec<String> = view.set_up.jaws.iter().filter_map(|jaw| place(view, jaw)).collect();
    let each = if with.len() == 1 { "Lay a vee" } else { "Lay one vee each" };
    let (which, way) = (kind(view, first), way(first));
    steps.does(format!("{each} on {}: {which}. Back flat on the jaw, open side to the work, {way}.", jaws(&with)));
    steps.because(
        format!("Let each corner go into its groove: {}.", places.join("; ")),
        "the flanks hold the work, and the angle of the new face comes from them",
    );
    let bare = "Wipe groove, back and jaw; the corner itself is broken and touches nothing, only the flanks do.";
    steps.in_full_once(bare, "a corner that stands on the bottom of the groove rocks", bare);
}

fn kind(view: &View, vee: &VeePlan) -> String {
    format!(
        "{}, {} between the flanks, {} across, {} high",
        vee.material,
        degrees(vee.angle_deg),
        on_hand(vee.width_mm, view.units),
        on_hand(vee.height_mm, view.units)
    )
}

fn way(vee: &VeePlan) -> &'static str {
    if vee.along_spindle {
        "groove along the spindle, its end flush with the jaw front"
    } else {
        "groove across the jaw, along the bar"
    }
}

/// "jaw 1, E and F on its flanks, middle of the groove 9.00 mm below the jaw front".
fn place(view: &View, jaw: &JawPlan) -> Option<String> {
    let vee = jaw.vee.as_ref()?;
    let on = |name: &String| if name == "bar" { "the bar".to_string() } else { name.clone() };
    let [one, other] = [on(&vee.flanks[0]), on(&vee.flanks[1])];
    let flanks = match (vee.along_spindle, one == other) {
        (_, true) => format!("{one} on both flanks"),
        (false, false) => format!("{one} on the flank towards you, {other} on the one towards the chuck"),
        (true, false) => list(&[one, other]) + " on its flanks",
    };
    let at = vee.at_mm.abs();
    let middle = match (vee.along_spindle, at < NEAR_MM) {
        (false, _) => format!(", middle of the groove {} in from the jaw front", length(at, view.units)),
        (true, true) => ", in the middle of the jaw".to_string(),
        (true, false) => format!(", {} off the middle of the jaw", length(at, view.units)),
    };
    Some(format!("jaw {}: {flanks}{middle}", jaw.jaw))
}

/// Nearer to the middle than anyone lays a block, mm.
const NEAR_MM: f64 = 0.25;

/// The new face against the faces whose flanks gave its angle: from a flank that looks towards the hands.
pub(super) fn try_angle(view: &View, steps: &mut Steps) {
    let towards = |jaw: &JawPlan| {
        let vee = jaw.vee.as_ref().filter(|vee| !vee.along_spindle && vee.flanks[0] != "bar")?;
        Some((degrees(180.0 - vee.angle_deg / 2.0), vee.flanks[0].clone()))
    };
    let found: Vec<(String, String)> = view.set_up.jaws.iter().filter_map(towards).collect();
    let Some((angle, _)) = found.first() else { return };
    let mut from: Vec<String> = found.iter().map(|(_, face)| face.clone()).collect();
    from.sort();
    from.dedup();
    steps.does(format!(
        "Spindle at rest: try a bevel protractor set to {angle} from {} to {} before you loosen a jaw.",
        list(&from),
        list(&view.set_up.cuts_faces)
    ));
}

/// All that is loose: parallels out, vees and packing pulled at.
pub(super) fn clear_out(view: &View, parallels: bool, packed: bool, steps: &mut Steps) {
    let with = jaws_with(view.set_up);
    let bare = super::hold::packed(&view.set_up.jaws);
    let packed = packed && bare.iter().any(|jaw| jaw.packing_mm > 0.0);
    let out = if parallels { "Draw both parallels out and count them back on the bench. " } else { "" };
    let (vees, what) = match (with.len(), packed) {
        (1, false) => ("the vee", "a vee"),
        (_, false) => ("each vee", "a vee"),
        (1, true) => ("the vee and at each piece of packing", "vee or packing"),
        (_, true) => ("each vee and at each piece of packing", "vee or packing"),
    };
    let or = if parallels { "a parallel left behind, or " } else { "" };
    steps.careful(
        format!("{out}See that every vee lies flat on its jaw and on both flanks. Pull at {vees}: none may move; what is loose flies out."),
        Caution::new(Signal::Warning, format!("{or}{what} that no jaw traps flies out when the chuck turns.")),
    );
}
