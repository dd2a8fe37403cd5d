//! Numbers of a shop that no hand and no screw gives: noticed, or refused where they stand.

use engine::plan::Plan;
use engine::problem::{Problem, Source};
use engine::quantity::{inch, mm, newton_metres, newtons};
use engine::shop::{ClampingForce, DialUnit, Reads, Shop};

use super::{planned, scene};

fn plan(shop: &Shop) -> Result<Plan, Vec<Problem>> {
    engine::plan(&scene::six_faces(), shop)
}

fn notices(plan: &Plan) -> Vec<&String> {
    plan.cautions.iter().filter(|said| said.starts_with("NOTICE: ")).collect()
}

/// The chuck with a screw of 4 mm pitch, 18 mm on the pitch, its key turned so hard.
fn turned(torque_nm: f64) -> Shop {
    let mut shop = scene::shop();
    shop.chucks[0].clamping_force = Some(ClampingForce::Key {
        torque: newton_metres(torque_nm),
        pitch: mm(4.0),
        pitch_diameter: mm(18.0),
        shoulder_diameter: mm(18.0),
        friction: 0.15,
    });
    shop
}

fn forced(force_n: f64) -> Shop {
    let mut shop = scene::shop();
    shop.chucks[0].clamping_force = Some(ClampingForce::Each(newtons(force_n)));
    shop
}

/// The depth slide with a ring of a tenth of an inch and such a screw.
fn screwed(reads: Reads, screw_mm: f64) -> Shop {
    let mut shop = scene::shop();
    let slide = &mut shop.lathes[0].depth_slide;
    (slide.graduation, slide.per_turn, slide.unit, slide.reads) = (inch(0.001), inch(0.1), DialUnit::Inch, reads);
    slide.screw = Some(mm(screw_mm));
    shop
}

/// An arm of 200 mm to each side of the key pulls 150 N m with 375 N at each hand: about 38 kg (statics).
#[test]
fn a_torque_that_no_hand_gives_is_noticed_and_one_that_no_arm_gives_is_refused_at_its_place() {
    let quiet = plan(&turned(75.0)).expect("a plan");
    assert!(planned(&quiet) && notices(&quiet).is_empty(), "{:#?}", quiet.cautions);
    let loud = plan(&turned(160.0)).expect("a plan");
    assert!(notices(&loud).iter().any(|said| said.contains("160 N m on the key")), "{:#?}", loud.cautions);
    // 350 lbf ft are 475 N m, 375 lbf ft are 508 (1 lbf ft = 1.3558 N m, NIST SP 811).
    assert!(plan(&turned(475.0)).is_err_and(|all| all[0].at == "chuck[0].key"));
    for torque_nm in [508.4, 3500.0] {
        let problems = plan(&turned(torque_nm)).expect_err("refused");
        let [problem] = problems.as_slice() else { panic!("{problems:#?}") };
        assert_eq!((problem.file, problem.at.as_str()), (Source::Shop, "chuck[0].key.torque"));
        assert!(problem.says.contains("no arm gives that"), "{problem:?}");
    }
}

/// Highest usual force of an independent chuck of 200 mm: 20 kN (`data/chucks.toml`, from memory).
#[test]
fn a_jaw_force_beyond_chucks_of_that_size_is_noticed_and_far_beyond_refused() {
    assert!(notices(&plan(&forced(39_000.0)).expect("a plan")).is_empty());
    let loud = plan(&forced(41_000.0)).expect("a plan");
    assert!(notices(&loud).iter().any(|said| said.contains("41000 N at each jaw")), "{:#?}", loud.cautions);
    let problems = plan(&forced(101_000.0)).expect_err("refused");
    assert_eq!(problems[0].at, "chuck[0].clamping_force");
}

#[test]
fn paint_far_from_the_screw_is_noticed_at_the_head_and_at_every_dial_and_refused_beyond() {
    // 2.54 mm by the paint. 2.5 is 1.6 % off: a note; 2.3 is 10 % off: a notice; 1.27 and 12.7 are none of these.
    let near = plan(&screwed(Reads::Depth, 2.5)).expect("a plan");
    assert!(notices(&near).is_empty());
    let off = plan(&screwed(Reads::Depth, 2.3)).expect("a plan");
    assert!(notices(&off).iter().any(|said| said.contains("the paint claims 10.4 % too much")), "{:#?}", off.cautions);
    let told =
        |set_up: &engine::plan::SetUp| set_up.notes.iter().any(|note| note.starts_with("NOTICE: the ring counts"));
    assert!(off.set_ups.iter().all(told));
    for screw_mm in [1.27, 12.7] {
        let problems = plan(&screwed(Reads::Depth, screw_mm)).expect_err("refused");
        assert_eq!(problems[0].at, "lathe[0].depth_slide.screw");
    }
    // A ring that counts diameter counts twice what its screw moves.
    let diameter = plan(&screwed(Reads::Diameter, 1.27)).expect("a plan");
    assert!(notices(&diameter).is_empty(), "{:#?}", diameter.cautions);
}
