//! Clamping force from what a shop knows, what turns with the jaws, and shops that no hold can be reckoned with.

use std::f64::consts::PI;

use engine::job::Job;
use engine::plan::{Outcome, Plan};
use engine::problem::{Problem, Source};
use engine::quantity::{Plain, mm, newton_metres, rpm};
use engine::shop::{ChuckKind, ClampingForce, Shop};

use super::{near, planned, scene};

fn of(job: &Job, shop: &Shop) -> Plan {
    let plan = engine::plan(job, shop).unwrap_or_else(|problems| panic!("{problems:#?}"));
    assert!(planned(&plan), "{:#?}", plan.outcome);
    plan
}

fn refused(shop: &Shop) -> Problem {
    let problems = engine::plan(&scene::six_faces(), shop).expect_err("refused");
    let [problem] = problems.as_slice() else { panic!("{problems:#?}") };
    assert_eq!(problem.file, Source::Shop);
    problem.clone()
}

fn notices<'a>(plan: &'a Plan, word: &'a str) -> Vec<&'a str> {
    plan.cautions.iter().map(String::as_str).filter(|said| said.starts_with("NOTICE") && said.contains(word)).collect()
}

fn keyed(torque_nm: f64, pitch_mm: f64, diameter_mm: f64, friction: f64) -> Shop {
    let mut shop = scene::shop();
    shop.chucks[0].low_share = None;
    shop.chucks[0].clamping_force = Some(ClampingForce::Key {
        torque: newton_metres(torque_nm),
        pitch: mm(pitch_mm),
        pitch_diameter: mm(diameter_mm),
        shoulder_diameter: mm(18.0),
        friction,
    });
    shop
}

/// Shigley's power screw at 40 N·m and μ 0.20: 9231.8 N, worked apart (check M-06); less m r ω² of 0.9 kg at 70 mm.
#[test]
fn a_key_gives_its_low_end_by_torque_and_friction_and_the_plan_says_so() {
    let told = of(&scene::six_faces(), &keyed(60.0, 4.0, 18.0, 0.15));
    for set_up in &told.set_ups {
        let lost_n = 0.9 * 0.07 * (set_up.speed.set_rpm * PI / 30.0).powi(2);
        assert!(near(set_up.hold.counted_force_n, 9231.795 - lost_n, 1e-6), "{}", set_up.hold.counted_force_n);
        let worked = |key: &str| set_up.workings.iter().find(|working| working.of == key).map(|working| working.value);
        assert!(worked("least force of a jaw by its key").is_some_and(|least| near(least, 9231.795, 1e-6)));
        assert!(worked("greatest force of a jaw by its key").is_some_and(|most| near(most, 32_287.259, 1e-6)));
    }
    assert!(told.assumed.iter().any(|row| row.what.contains("spread of the friction") && row.value == "a third"));
    for what in ["spread of the torque", "spread of the friction", "share of the clamping force"] {
        assert!(told.assumed.iter().any(|row| row.what.contains(what) && row.source.len() > 8), "{what}");
    }
    // A share that the shop gives goes before the bands.
    let mut shop = keyed(60.0, 4.0, 18.0, 0.15);
    shop.chucks[0].low_share = Some(0.65);
    let given = of(&scene::six_faces(), &shop);
    for set_up in &given.set_ups {
        // 17 629 N nominal (check H-79).
        let lost_n = 0.9 * 0.07 * (set_up.speed.set_rpm * PI / 30.0).powi(2);
        assert!(near(set_up.hold.counted_force_n, 0.65 * 17_629.0 - lost_n, 1e-4), "{}", set_up.hold.counted_force_n);
    }
    assert!(given.assumed.iter().all(|row| !row.what.contains("spread of the torque")));
}

/// Catalogue range of a 200 mm independent chuck: 16 kN at the low end (`data/chucks.toml`, from memory).
#[test]
fn an_unknown_force_is_bounded_and_asked_for() {
    let mut shop = scene::shop();
    (shop.chucks[0].clamping_force, shop.chucks[0].low_share) = (None, None);
    let told = of(&scene::six_faces(), &shop);
    let [said] = notices(&told, "nobody gave the clamping force")[..] else { panic!("{:#?}", told.cautions) };
    assert!(said.contains("16000 N a jaw is taken") && said.contains("load cell"), "{said}");
    assert!(told.set_ups.iter().all(|set_up| set_up.hold.counted_force_n < 8000.0));
    assert!(notices(&of(&scene::six_faces(), &scene::shop()), "nobody gave").is_empty());
}

#[test]
fn a_chuck_with_a_jaw_missing_or_with_two_is_refused_at_its_jaws() {
    for (kind, jaws, says) in [
        (ChuckKind::Independent, 3, "a jaw without one across"),
        (ChuckKind::Independent, 2, "a jaw without one across"),
        (ChuckKind::Independent, 6, "a jaw without one across"),
        (ChuckKind::SelfCentring, 2, "two sides only"),
    ] {
        let mut shop = scene::shop();
        (shop.chucks[0].kind, shop.chucks[0].jaws) = (kind, jaws);
        let problem = refused(&shop);
        assert_eq!(problem.at, "chuck[0].jaws");
        assert!(problem.says.contains(says) && problem.accepts.contains("another chuck"), "{problem:?}");
    }
    // A chuck that the job does not use does no harm.
    let mut shop = scene::shop();
    let mut spare = shop.chucks[0].clone();
    (spare.name, spare.jaws) = ("a box chuck".to_string(), 2);
    shop.chucks.push(spare);
    of(&scene::six_faces(), &shop);
}

#[test]
fn a_screw_that_no_key_turns_is_refused() {
    // Lead 1.31 rad and friction 0.80 rad are more than a right angle.
    let problem = refused(&keyed(60.0, 60.0, 5.0, 1.0));
    assert_eq!(problem.at, "chuck[0].key");
    assert!(problem.says.contains("cannot be turned"), "{problem:?}");
}

/// Self-locking asks tan φ ≤ tan ρ' (Shigley, power screws): 20/(16 π) gives 21.7 degrees, 0.15/cos 14.5 gives 8.8.
#[test]
fn a_screw_that_unwinds_itself_is_refused_with_both_angles() {
    let problem = refused(&keyed(60.0, 20.0, 16.0, 0.15));
    assert_eq!(problem.at, "chuck[0].key");
    assert!(problem.says.contains("21.7 degrees") && problem.says.contains("8.8 degrees"), "{problem:?}");
    // 8.6 degrees of lead.
    of(&scene::six_faces(), &keyed(60.0, 8.55, 18.0, 0.15));
}

#[test]
fn a_lathe_too_fast_for_the_mark_asks_for_a_chuck_that_is_marked_faster() {
    let mut shop = scene::shop();
    shop.chucks[0].marked_speed = Some(rpm(3.0));
    let told = engine::plan(&scene::six_faces(), &shop).expect("a plan");
    let Outcome::Impossible(reasons) = &told.outcome else { panic!("planned") };
    let [fast] = reasons.iter().filter(|reason| reason.rule == "lathe-too-fast").collect::<Vec<_>>()[..] else {
        panic!("{reasons:#?}")
    };
    assert!(fast.way_out.contains("marked faster") && !fast.way_out.contains("carbide"), "{fast:#?}");
}

#[test]
fn odd_friction_of_packing_is_told_or_leads_to_reasons_in_numbers() {
    let with = |friction| {
        let mut shop = scene::shop();
        shop.packing[0].friction = Some(friction);
        engine::plan(&scene::six_faces(), &shop).unwrap_or_else(|problems| panic!("{problems:#?}"))
    };
    assert_eq!(notices(&with(0.7), "a friction of 0.7").len(), 1);
    assert!(notices(&with(0.3), "a friction of").is_empty());
    let Outcome::Impossible(reasons) = with(1e-6).outcome else { panic!("planned without friction") };
    assert!(!reasons.is_empty());
    for reason in reasons {
        assert!(reason.value.is_finite() && reason.limit.is_finite() && !reason.way_out.is_empty(), "{reason:#?}");
    }
}

#[test]
fn a_mark_slower_than_the_lathe_is_a_reason() {
    let mut shop = scene::shop();
    shop.chucks[0].marked_speed = Some(rpm(3.0));
    let told = engine::plan(&scene::six_faces(), &shop).expect("a plan");
    let Outcome::Impossible(reasons) = &told.outcome else { panic!("planned") };
    assert!(
        reasons
            .iter()
            .any(|reason| reason.says.contains("50 % of the 3 rpm marked on the chuck") && reason.limit == 1.5),
        "{reasons:#?}"
    );
}

/// n = 30/π √((Σ F − S_z F_c r₁/(μ r_g))/Σ m r), S_z 1.5 (VDI 3106), by hand from the plan's own forces and contacts.
#[test]
fn no_spindle_turns_faster_than_the_published_procedure_permits() {
    let told = of(&scene::six_faces(), &scene::shop());
    for set_up in &told.set_ups {
        let heavy =
            set_up.passes.iter().max_by(|a, b| a.force_n.cutting.total_cmp(&b.force_n.cutting)).expect("a pass");
        let friction = set_up.audit.contacts.iter().map(|point| point.friction).fold(1.0, f64::min);
        let gripped = set_up.jaws.iter().map(|jaw| jaw.reach_mm - jaw.packing_mm).fold(f64::MAX, f64::min);
        let needed_n = 1.5 * heavy.force_n.cutting * heavy.start_radius_mm / (friction * gripped);
        let spare_n = 4.0 * 0.65 * 16_000.0 - needed_n;
        let permitted = 30.0 / PI * (spare_n / (4.0 * 0.9 * 0.07)).sqrt();
        let ours = set_up.hold.permitted_rpm.expect("a limit");
        assert!(near(ours, permitted, 1e-9), "{ours} {permitted}");
        assert!(set_up.speed.set_rpm <= ours);
    }
}

/// m e ω² of the mass centre that the audit lists; steel 7850 kg/m³.
#[test]
fn what_the_work_weighs_and_pulls_is_told() {
    let mut job = scene::six_faces();
    job.part.offset = (mm(3.0), mm(1.0));
    let told = of(&job, &scene::shop());
    assert!(told.set_ups.iter().any(|set_up| set_up.hold.unbalance_n > 0.0), "nothing off the axis");
    for set_up in &told.set_ups {
        let hold = &set_up.hold;
        let [x, y, _] = set_up.audit.mass_centre_mm;
        let pull = hold.mass_kg * x.hypot(y) / 1000.0 * (set_up.speed.set_rpm * PI / 30.0).powi(2);
        assert!((hold.unbalance_n - pull).abs() < 1e-6 * pull.max(1e-3), "{} {pull}", hold.unbalance_n);
        assert!(hold.unbalance_n <= hold.unbalance_most_n * 1.000_001);
        assert!(hold.carries(job.units)[0].contains("the work weighs"));
    }
    let first = &told.set_ups[0];
    let bar_kg = PI / 4.0 * 58.0 * 58.0 * 50.0 * 7850e-9;
    assert!(near(first.hold.mass_kg, bar_kg, 0.002), "{} {bar_kg}", first.hold.mass_kg);
}

/// A bar of 110 in a body of 200: reach 55, jaws of 76 end 131 from the axis, 31 out of the body; a third of 76 is 25.3.
#[test]
fn jaws_far_out_of_the_body_are_told_and_the_larger_chuck_frees_them() {
    let job = scene::job(scene::round(110.0), 60.0, scene::block(74.0, 74.0), 54.0);
    let mut shop = scene::shop();
    shop.chucks[0].jaw.length = mm(72.0);
    let told = of(&job, &shop);
    let [said] = notices(&told, "out of the body")[..] else { panic!("{:#?}", told.cautions) };
    assert!(said.contains("31.00 mm out of the body") && said.contains("25.33 mm"), "{said}");
    let body = said.split("a chuck of ").nth(1).and_then(|rest| rest.split(' ').next()).expect("a body");
    let mut larger = shop.clone();
    let chuck = &mut larger.chucks[0];
    let body_mm: f64 = body.parse().expect("a number");
    chuck.jaw.depth = chuck.jaw.depth.map(|depth| mm(depth.plain() * body_mm / 200.0));
    chuck.body = mm(body_mm);
    assert!(notices(&of(&job, &larger), "out of the body").is_empty(), "{said}");
}

/// The same jaws end 131 mm from the axis: 262 across.
#[test]
fn jaws_that_would_hit_the_bed_are_a_reason() {
    let job = scene::job(scene::round(110.0), 60.0, scene::block(74.0, 74.0), 54.0);
    let with = |swing_mm| {
        let mut shop = scene::shop();
        shop.chucks[0].jaw.length = mm(72.0);
        shop.lathes[0].swing_over_bed = Some(mm(swing_mm));
        engine::plan(&job, &shop).unwrap_or_else(|problems| panic!("{problems:#?}"))
    };
    assert!(planned(&with(263.0)));
    let Outcome::Impossible(reasons) = with(261.0).outcome else { panic!("planned") };
    let told = reasons.iter().find(|reason| reason.rule == "jaws-swing").unwrap_or_else(|| panic!("{reasons:#?}"));
    assert!(near(told.value, 262.0, 1e-9) && told.limit == 261.0 && told.says.contains("over the bed"), "{told:#?}");
}
