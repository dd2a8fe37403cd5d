//! What a plan advises for a hold that is too weak does free the job, done in the shop itself.

use engine::plan::{Outcome, Plan};
use engine::quantity::newtons;
use engine::shop::{ClampingForce, JawSurface, Shop};

use super::scene;

/// The boatyard with its chuck's jaws at so much force, tightened by feel.
fn shop(force_n: f64) -> Shop {
    let mut shop = scene::shop();
    for chuck in &mut shop.chucks {
        chuck.clamping_force = Some(ClampingForce::Each(newtons(force_n)));
        chuck.low_share = None;
    }
    shop
}

fn plan(shop: &Shop) -> Plan {
    engine::plan(&scene::six_faces(), shop).expect("a job for this shop")
}

fn ways_out(plan: &Plan) -> Vec<String> {
    match &plan.outcome {
        Outcome::Impossible(reasons) => reasons.iter().map(|reason| reason.way_out.clone()).collect(),
        Outcome::Planned => Vec::new(),
    }
}

/// The strongest chuck, in steps of a twentieth, that is still too weak.
fn just_too_weak() -> (f64, Plan) {
    let weaker = |step: i32| 16_000.0 * 0.95f64.powi(step);
    (0..90)
        .map(|step| (weaker(step), plan(&shop(weaker(step)))))
        .find(|(_, plan)| plan.outcome != Outcome::Planned)
        .expect("a chuck without force holds nothing")
}

#[test]
fn advice_that_is_called_enough_is_enough() {
    let (force_n, plan_of_it) = just_too_weak();
    let ways = ways_out(&plan_of_it);
    assert!(
        ways.iter().all(|way| way.starts_with("tried by planning with each alone: tighten with a torque wrench")),
        "{ways:#?}"
    );
    let firmer = |share: f64| {
        let mut shop = shop(force_n);
        shop.chucks.iter_mut().for_each(|chuck| chuck.low_share = Some(share));
        plan(&shop).outcome
    };
    assert_eq!(firmer(0.65), Outcome::Planned, "{ways:#?}");
    assert_eq!(plan(&shop(1.5 * force_n)).outcome, Outcome::Planned, "half as much force again is advised too");
}

/// A hold made bad on purpose: hardly any force. Nothing advised may be called enough that is not.
#[test]
fn a_hopeless_hold_is_told_so() {
    let mut shop = shop(20.0);
    for chuck in &mut shop.chucks {
        chuck.jaw.surface = JawSurface::HardSmooth;
    }
    let ways = ways_out(&plan(&shop));
    assert!(!ways.is_empty() && ways.iter().all(|way| way.starts_with("none of these alone is enough")), "{ways:#?}");
}
