//! What the jaws press with, and where the work begins to yield.

use super::grip::HIGH;
use super::list::{Given, Workings, given, worked};
use super::press::area_key;
use super::{Told, taken};
use crate::cutting::elastic;
use crate::holding::{self, numbers};
use crate::planning::hold::{BearsOver, bears_over};
use crate::planning::marks::{Press, contact_modulus_mpa, press};
use crate::planning::vee;
use crate::sourced::Sourced;
use crate::task::Task;

/// The pressures of all jaws, those that press alike once.
pub fn marks(told: &Told, list: &mut Workings) {
    let Some(yield_mpa) = told.task.material.yield_mpa else { return };
    let (facing, jaws) = (&told.chosen.way.facing, told.chosen.way.facing.lie.sides.len());
    let mut known: Vec<Press> = Vec::new();
    let side = |jaw: usize| (jaw + told.chosen.turn) % jaws;
    for (jaw, at) in (0..jaws).map(|jaw| (jaw + 1, side(jaw))) {
        let Some(press) = press(told.task, facing, at) else { continue };
        if known.contains(&press) {
            continue;
        }
        let kind = std::mem::discriminant(&press);
        let first = !known.iter().any(|other| std::mem::discriminant(other) == kind);
        known.push(press);
        one(told, (jaw, at), press, list);
        if first {
            limit(told.task, press, yield_mpa, list);
        }
    }
}

fn one(told: &Told, (jaw, at): (usize, usize), press: Press, list: &mut Workings) {
    let task = told.task;
    let bears = bears_over(task, &told.chosen.way.facing.lie, &told.chosen.way.facing.depth, at);
    let lie = "the lie of the piece in the jaws";
    let under = format!("pressure under jaw {jaw}");
    match (press, bears) {
        (Press::Line(peak, mm), _) => {
            let modulus = modulus(task, list);
            let values = vec![
                high(task),
                worked("E_s", contact_modulus_mpa(task), &modulus),
                given("R", task.bar_size_mm / 2.0, "the job: the bar"),
                given("L", mm, lie),
            ];
            list.add(&under, peak, "pressure under a line", values);
        }
        (Press::Even(mean, mm2), BearsOver::Area(_) | BearsOver::Line(_)) => {
            let key = area_key(jaw);
            let area = if list.has(&key) { worked("A", mm2, &key) } else { given("A", mm2, lie) };
            list.add(&under, mean, "pressure on a flat", vec![high(task), area]);
        }
        (Press::Packed(Some(mpa)), _) if vee::on(&told.chosen.way.facing.lie.sides[at]).is_some() => {
            let strength = (
                mpa / numbers().mark_flow_over_yield.value,
                "the shop's vee or packing, or the metal's name".to_string(),
            );
            let what = format!("pressure at which what lies on the flanks under jaw {jaw} flows");
            by_strength(&what, mpa, &numbers().mark_flow_over_yield, strength, list);
        }
        (Press::Packed(Some(mpa)), _) => {
            let packing = task.packing.flows_at.as_ref();
            let (strength, source) = packing.map_or((0.0, String::new()), |(mpa, source)| (*mpa, source.clone()));
            by_strength(
                "pressure at which the packing flows",
                mpa,
                &numbers().mark_flow_over_yield,
                (strength, source),
                list,
            );
        }
        (Press::Teeth(mpa), _) => {
            let of = strength(task);
            by_strength("pressure at which teeth sink in", mpa, &numbers().mark_flow_over_yield, of, list);
        }
        // Jaws bored to a diameter hold rounds along the spindle alone, and no plan of today is made of these alone.
        (Press::Strip(_) | Press::Edges(_) | Press::Packed(None), _) => {}
    }
}

/// Where the work begins to yield under such a press.
fn limit(task: &Task, press: Press, yield_mpa: f64, list: &mut Workings) {
    let n = numbers();
    let (what, value, times) = match press {
        Press::Even(..) => (
            "even pressure at which the work yields",
            holding::flat_limit_mpa(yield_mpa),
            &n.mark_flat_onset_over_yield,
        ),
        _ => ("pressure at which the work yields", holding::line_limit_mpa(yield_mpa), &n.line_onset_over_yield),
    };
    if !list.has(what) {
        by_strength(what, value, times, strength(task), list);
    }
}

fn by_strength(what: &str, value: f64, times: &Sourced, (strength, source): (f64, String), list: &mut Workings) {
    let values = vec![given("k", times.value, times.source.clone()), given("Y", strength, source)];
    list.add(what, value, "pressure by strength", values);
}

fn strength(task: &Task) -> (f64, String) {
    (task.material.yield_mpa.unwrap_or(0.0), task.material.source_yield.clone())
}

fn modulus(task: &Task, list: &mut Workings) -> String {
    const OF: &str = "modulus of jaw and work";
    if list.has(OF) {
        return OF.to_string();
    }
    let (work, n) = (elastic(task.material.family), numbers());
    let values = vec![
        given("nu_1", work.poisson, work.source.clone()),
        given("E_1", work.stiffest_mpa, work.source.clone()),
        given("nu_2", n.jaw_poisson.value, n.jaw_poisson.source.clone()),
        given("E_2", n.jaw_modulus_mpa.value, n.jaw_modulus_mpa.source.clone()),
    ];
    list.add(OF, contact_modulus_mpa(task), OF, values)
}

/// The jaw's force at its high end.
fn high(task: &Task) -> Given {
    let chuck = &task.chuck;
    match (chuck.key, chuck.force_known) {
        (Some(_), _) => worked("F_h", chuck.high_force_n, HIGH),
        (None, true) => given("F_h", chuck.high_force_n, "the shop: the chuck's clamping force"),
        (None, false) => {
            let source = taken(task, "clamping force of a jaw, properly tightened", "the usual range");
            given("F_h", chuck.high_force_n, format!("high end of what such a chuck gives; {source}"))
        }
    }
}
