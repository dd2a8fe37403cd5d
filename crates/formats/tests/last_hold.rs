//! The last hold of every set-up of every example, recomputed from the JSON of the audit by a general cone solver.
//!
//! Contacts, forces and loads are read from the JSON alone; the solver (clarabel) and the statement of the
//! problem are the ones that the engine's own solver is compared with (`engine/tests/reference`).

mod examples_planned;
#[path = "../../engine/tests/reference/general.rs"]
mod general;

use engine::holding::{LastHold, PressLimit, PressPoint, Wrench};
use examples_planned::{in_other_jaws, number, planned, vector};
use general::Answer;
use serde_json::Value;

/// The contacts as points, every jaw limited to the force counted on: the upper rule.
fn hold(set_up: &Value) -> LastHold {
    let jaws = set_up["jaws"].as_array().expect("jaws").len();
    let point = |contact: &Value| PressPoint {
        at_mm: vector(&contact["at_mm"]).into(),
        inward: nalgebra::Vector3::from(vector(&contact["inward"])).normalize(),
        friction: number(&contact["friction"]),
        limit: contact["jaw"].as_u64().expect("a jaw") as usize - 1,
    };
    let contacts = set_up["audit"]["contacts"].as_array().expect("contacts");
    let points: Vec<PressPoint> = contacts.iter().map(point).collect();
    let limits: Vec<PressLimit> = (0..jaws).map(|jaw| limit(set_up, &points, jaw)).collect();
    LastHold::new(&points, &limits).expect("contacts of a plan")
}

/// The force counted on; through a vee the normal forces of its flanks may come to `F/(sin α + μ cos α)` together.
fn limit(set_up: &Value, points: &[PressPoint], jaw: usize) -> PressLimit {
    let counted = number(&set_up["hold"]["counted_force_n"]);
    let vee = &set_up["jaws"][jaw]["vee"];
    if vee.is_null() {
        return PressLimit::AtMost(counted);
    }
    let half = number(&vee["angle_deg"]).to_radians() / 2.0;
    let own = points.iter().filter(|point| point.limit == jaw);
    let friction = own.map(|point| point.friction).fold(f64::MAX, f64::min);
    PressLimit::AtMost(counted / (half.sin() + friction * half.cos()))
}

/// What grows with the factor, and what stays.
fn loads(set_up: &Value, load: &Value) -> (Wrench, Wrench) {
    let force = |at: &Value, force: &Value| Wrench::of_force(&vector(at).into(), &vector(force).into());
    let audit = &set_up["audit"];
    let steady = audit["steady_loads"].as_array().expect("steady loads").iter();
    let weight = force(&audit["mass_centre_mm"], &load["weight_n"]);
    let constant = steady.fold(weight, |sum, load| sum + force(&load["at_mm"], &load["force_n"]));
    (force(&load["at_mm"], &load["force_n"]), constant)
}

fn general_factor(hold: &LastHold, set_up: &Value, load: &Value) -> f64 {
    let (growing, constant) = loads(set_up, load);
    match general::solve(hold, &growing, &constant) {
        Answer::Factor(factor) | Answer::Near(factor) => factor,
        other => panic!("the general solver says {other:?}"),
    }
}

#[test]
fn the_last_hold_comes_out_of_the_audit_alone() {
    let mut set_ups = 0;
    for (name, plan) in planned().chain(in_other_jaws()) {
        for set_up in plan["set_ups"].as_array().expect("set-ups") {
            let hold = hold(set_up);
            let ours = number(&set_up["hold"]["hold_factor"]);
            let theirs = general_factor(&hold, set_up, &set_up["audit"]["last_hold_load"]);
            let place = format!("{name}, set-up {}", set_up["number"]);
            assert!((ours - theirs).abs() <= 1e-6 * theirs, "{place}: {ours} against {theirs}");
            set_ups += 1;
        }
    }
    assert!(set_ups > 20, "{set_ups} set-ups");
}

/// The proven least is below what some loads of the audit carries, and within a hundredth of the factor.
#[test]
fn no_load_of_the_audit_has_less_than_is_proven() {
    for (name, plan) in planned().chain(in_other_jaws()) {
        for set_up in plan["set_ups"].as_array().expect("set-ups") {
            let hold = hold(set_up);
            let last = &set_up["hold"]["last_hold"];
            let (factor, at_least) = (number(&set_up["hold"]["hold_factor"]), number(&last["at_least"]));
            assert!(at_least <= factor && at_least >= 0.99 * factor, "{name}: {at_least} to {factor}");
            for load in set_up["audit"]["cut_loads"].as_array().expect("loads").iter().step_by(30) {
                let theirs = general_factor(&hold, set_up, load);
                assert!(theirs >= at_least * (1.0 - 1e-6), "{name}, set-up {}: {theirs}, {at_least}", set_up["number"]);
            }
        }
    }
}
