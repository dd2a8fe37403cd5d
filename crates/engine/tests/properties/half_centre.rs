//! A centre in the end of a bar that stands out too far: told where job and shop speak of hole and tailstock, and only
//! as far as it holds in the calculation.

use engine::job::{BarForm, Job};
use engine::plan::{Outcome, Plan};
use engine::quantity::{mm, newtons};
use engine::shop::{ChuckKind, ClampingForce, Shop, Tailstock};

use super::scene;

/// Drawn hexagon, too thick for the hole of the chuck, its ends to be faced in three jaws.
fn long(length_mm: f64, hole_mm: Option<f64>) -> Job {
    let form = BarForm::Hexagon { across: mm(36.0) };
    let mut job = scene::job(form, length_mm, scene::regular(6, 36.0), length_mm - 4.0);
    job.part.centre_holes = hole_mm.map(mm);
    scene::leaving(job, &["C", "D", "E", "F", "G", "H"])
}

fn shop(jaw_n: f64, thrust_n: Option<f64>) -> Shop {
    let mut shop = scene::shop();
    let chuck = &mut shop.chucks[0];
    (chuck.kind, chuck.jaws) = (ChuckKind::SelfCentring, 3);
    chuck.clamping_force = Some(ClampingForce::Each(newtons(jaw_n)));
    shop.lathes[0].tailstock = thrust_n.map(|thrust_n| Tailstock {
        thrust: Some(newtons(thrust_n)),
        most_thrust: None,
        stiffness_n_per_um: Some(20.0),
    });
    shop
}

fn way_out(job: &Job, shop: &Shop) -> String {
    let plan: Plan = engine::plan(job, shop).unwrap_or_else(|problems| panic!("{problems:#?}"));
    let Outcome::Impossible(reasons) = &plan.outcome else { panic!("planned") };
    let reason = reasons.iter().find(|reason| reason.rule == "overhang").unwrap_or_else(|| panic!("{reasons:#?}"));
    reason.way_out.clone()
}

#[test]
fn a_half_centre_is_told_with_what_it_holds() {
    let told = way_out(&long(190.0, Some(8.0)), &shop(10_000.0, Some(1000.0)));
    assert!(
        told.contains("a half centre in the tailstock, set with 1000 N in a centre hole no more than 8.00 mm"),
        "{told}"
    );
    let factor: f64 = told
        .split(" are held ")
        .nth(1)
        .and_then(|rest| rest.split(' ').next())
        .expect("a factor")
        .parse()
        .expect("a number");
    assert!(factor >= 2.0 && told.contains("times, 2 are needed"), "{told}");
    assert!(told.contains("the tool stops at the rim of the hole"), "{told}");
}

#[test]
fn without_a_tailstock_or_a_hole_no_centre_is_promised() {
    assert!(!way_out(&long(190.0, Some(8.0)), &shop(10_000.0, None)).contains("centre"));
    let told = way_out(&long(190.0, None), &shop(10_000.0, Some(1000.0)));
    assert!(told.contains("where the drawing allows centre holes in the ends: the part says nothing of any"), "{told}");
}

#[test]
fn a_bar_of_ten_diameters_wants_a_steady_too() {
    let told = way_out(&long(400.0, Some(8.0)), &shop(10_000.0, Some(1000.0)));
    assert!(told.contains("not a half centre in the tailstock alone") && told.contains("a steady too"), "{told}");
}

/// Three jaws of 2 kN, 0.65 of it counted, hold less along the spindle than 1 kN of thrust and a cut.
#[test]
fn a_thrust_that_the_jaws_do_not_bear_is_not_enough() {
    let told = way_out(&long(190.0, Some(8.0)), &shop(2000.0, Some(1000.0)));
    assert!(told.contains("is not enough (reckoned with it)"), "{told}");
}

#[test]
fn too_hard_a_thrust_and_too_wide_a_hole_are_refused_at_their_keys() {
    let fault = |job: &Job, shop: &Shop| engine::plan(job, shop).expect_err("refused").remove(0);
    let hard = fault(&long(190.0, Some(8.0)), &shop(10_000.0, Some(9000.0)));
    assert!(
        hard.at == "lathe[0].tailstock.thrust" && hard.says.contains("no hand wheel is set with more than 5000 N"),
        "{hard:?}"
    );
    let mut delicate = shop(10_000.0, Some(2500.0));
    delicate.lathes[0].tailstock.iter_mut().for_each(|tailstock| tailstock.most_thrust = Some(newtons(2000.0)));
    let bearings = fault(&long(190.0, Some(8.0)), &delicate);
    assert!(bearings.says.contains("the spindle's bearings bear 2000 N along it, by the shop"), "{bearings:?}");
    let wide = fault(&long(190.0, Some(40.0)), &shop(10_000.0, Some(1000.0)));
    assert!(wide.at == "part.centre_holes" && wide.says.contains("leaves no rim"), "{wide:?}");
}
