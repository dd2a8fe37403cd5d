//! Corners in vees: a hexagon that no bare jaw can hold is made with them, and told so.

use engine::job::Job;
use engine::plan::{ContactKind, Outcome, Plan, SetUp};
use engine::quantity::{degrees, mm, mpa};
use engine::shop::{Shop, Vee};

use super::scene;

/// Soft vees of 120 degrees.
pub fn vee(width_mm: f64, height_mm: f64) -> Vee {
    Vee {
        material: "soft aluminium".to_string(),
        angle: degrees(120.0),
        width: mm(width_mm),
        height: mm(height_mm),
        length: mm(24.0),
        count: 2,
        friction: None,
        yield_strength: None,
    }
}

pub fn with(vees: Vec<Vee>) -> Shop {
    Shop { vees, ..scene::shop() }
}

fn hexagon() -> Job {
    scene::job(scene::round(52.0), 44.0, scene::regular(6, 44.0), 40.0)
}

fn planned(job: &Job, shop: &Shop) -> Plan {
    engine::plan(job, shop).unwrap_or_else(|problems| panic!("{problems:#?}"))
}

fn ways_out(plan: &Plan) -> Vec<(&'static str, String)> {
    match &plan.outcome {
        Outcome::Impossible(reasons) => reasons.iter().map(|reason| (reason.rule, reason.way_out.clone())).collect(),
        Outcome::Planned => Vec::new(),
    }
}

fn through_vees(plan: &Plan) -> impl Iterator<Item = &SetUp> {
    plan.set_ups.iter().filter(|set_up| set_up.jaws.iter().any(|jaw| jaw.vee.is_some()))
}

#[test]
fn a_hexagon_from_a_round_bar_is_planned_with_vees_and_refused_without() {
    let plan = planned(&hexagon(), &with(vec![vee(25.0, 14.0)]));
    assert_eq!(plan.outcome, Outcome::Planned, "{:#?}", plan.outcome);
    assert!(through_vees(&plan).count() >= 3 && plan.set_ups.len() == 8);
    for jaw in plan.set_ups.iter().flat_map(|set_up| &set_up.jaws) {
        assert_eq!(jaw.vee.is_some(), jaw.contact == ContactKind::Vee);
    }
    let refused = ways_out(&planned(&hexagon(), &with(Vec::new())));
    assert!(matches!(refused.as_slice(), [("corner-on-jaw", _)]), "{refused:#?}");
}

/// The vees that are advised, put into the shop, do free the job.
#[test]
fn the_vees_that_are_advised_are_enough() {
    for (bar, across) in [(52.0, 44.0), (36.0, 30.0), (44.0, 36.0)] {
        let job = scene::job(scene::round(bar), 44.0, scene::regular(6, across), 40.0);
        let refused = ways_out(&planned(&job, &with(Vec::new())));
        let [(_, way)] = refused.as_slice() else { panic!("{refused:#?}") };
        let before = |words: &str| -> f64 {
            let text = way.split(words).next().unwrap_or_default();
            text.split_whitespace().last().and_then(|number| number.parse().ok()).unwrap_or_else(|| panic!("{way}"))
        };
        assert!(way.contains("soft aluminium, 120 deg between the flanks"), "{way}");
        let made = Vee { length: mm(before(" mm long")), ..vee(before(" mm across"), before(" mm high")) };
        assert_eq!(planned(&job, &with(vec![made])).outcome, Outcome::Planned, "{way}");
    }
}

/// Vees that are too wide for the jaws, of another angle, or one where two are needed.
#[test]
fn vees_that_do_not_fit_are_no_help() {
    let square = Vee { angle: degrees(90.0), ..vee(25.0, 20.0) };
    for vees in [vec![vee(60.0, 26.0)], vec![square], vec![Vee { count: 1, ..vee(25.0, 14.0) }]] {
        let refused = ways_out(&planned(&hexagon(), &with(vees.clone())));
        assert!(
            refused.iter().any(|(rule, _)| matches!(*rule, "corner-on-jaw" | "vee-on-jaw")),
            "{vees:?}: {refused:#?}"
        );
    }
}

/// A vee harder than the work bears through packing, and holds by the least friction of what lies there.
#[test]
fn a_hard_vee_lies_on_packing() {
    let hard = Vee {
        material: "tool steel".to_string(),
        yield_strength: Some(mpa(900.0)),
        friction: Some(0.12),
        ..vee(24.0, 13.0)
    };
    let plan = planned(&hexagon(), &with(vec![hard]));
    let jaws: Vec<_> = through_vees(&plan).flat_map(|set_up| &set_up.jaws).filter(|jaw| jaw.vee.is_some()).collect();
    assert!(!jaws.is_empty() && jaws.iter().all(|jaw| jaw.packing_mm > 0.0), "{:#?}", plan.outcome);
}

/// Vees in the drawer change nothing where no jaw finds a corner.
#[test]
fn a_block_is_planned_as_without_vees() {
    let (bare, rich) =
        (planned(&scene::six_faces(), &with(Vec::new())), planned(&scene::six_faces(), &with(vec![vee(25.0, 14.0)])));
    assert_eq!(bare.set_ups, rich.set_ups);
}

/// An octagon is made from a bar whose round lasts, with or without vees.
#[test]
fn an_octagon_is_planned() {
    let job = scene::job(scene::round(45.0), 44.0, scene::regular(8, 40.0), 40.0);
    let eight = Vee { angle: degrees(135.0), ..vee(12.0, 9.0) };
    for vees in [Vec::new(), vec![eight]] {
        assert_eq!(planned(&job, &with(vees)).outcome, Outcome::Planned);
    }
}
