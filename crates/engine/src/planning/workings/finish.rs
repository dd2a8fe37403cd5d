//! What the finishing cut leaves, and what is measured before it.

use super::Told;
use super::depth::bite;
use super::list::{Workings, given, worked};
use super::taken;
use crate::cutting;
use crate::planning::feeds::counted_ratio;

/// Where the ratio that is counted on comes from.
const RATIO: &str =
    "Groover, Fig. 24.2 (from memory), at the cutting speed of the farthest corner; the usual allowance at least";

pub fn finish(told: &Told, list: &mut Workings) {
    roughness(told, list);
    sizes(told, list);
}

fn roughness(told: &Told, list: &mut Workings) {
    let (task, facing) = (told.task, &told.chosen.way.facing);
    let Some(asked_um) = task.roughness_um else { return };
    let tool = &task.tools[told.chosen.way.tool];
    let nose_mm = tool.edge.nose_mm;
    let numbers = cutting::numbers();
    let nose = || {
        let what = format!("nose radius of {}", tool.name);
        given("r_epsilon", nose_mm, taken(task, &what, &format!("the shop: {}", tool.name)))
    };
    let ratio = counted_ratio(task, facing.corner_m_min);
    if let Some(finish) = cutting::feed_for_ra_at(asked_um, nose_mm, ratio) {
        list.add(
            "feed for the roughness",
            finish.feed_mm,
            "feed for a roughness",
            vec![
                nose(),
                given("R_a", asked_um, "the drawing"),
                given("k", ratio, RATIO),
                given("q", numbers.nose_only_feed_share.value, numbers.nose_only_feed_share.source.clone()),
            ],
        );
    }
    let real = cutting::real_over_ideal(task.material.family, facing.corner_m_min);
    let left_um = real * cutting::ra_um(facing.feeds.finish_mm, nose_mm);
    list.add(
        "roughness left",
        left_um,
        "roughness of the finishing feed",
        vec![
            given("k", real, "Groover, Fig. 24.2 (from memory), at the cutting speed of the farthest corner"),
            given("f", facing.feeds.finish_mm, "the finishing feed"),
            nose(),
        ],
    );
}

/// The size aimed at, and what a depth gauge then reads from the new face to a jaw front.
fn sizes(told: &Told, list: &mut Workings) {
    let (task, way) = (told.task, &told.chosen.way);
    let face = &task.faces[way.facing.lie.face];
    let Some(across) = face.across else { return };
    let aim = if task.faces[across.opposite].cut {
        let limits = "the drawing, or ISO 2768-1 m where it gives none";
        let values = vec![
            given("s", across.nominal_mm, "the drawing"),
            given("p", across.plus_mm, limits),
            given("m", across.minus_mm, limits),
        ];
        worked("s_a", across.aim_mm, &list.add("size aimed at", across.aim_mm, "size aimed at", values))
    } else {
        given("s_a", across.aim_mm, "the job and the bar, whose own surface stays on the other side")
    };
    let over = way.measure.iter().find_map(|measure| measure.over_jaws_mm);
    if let Some(over_mm) = over {
        let values = vec![aim, bite(told, "b")];
        list.add("size over a jaw front", over_mm, "size over a jaw front", values);
    }
}
