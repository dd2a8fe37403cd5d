//! Numbers of a shop that no hand and no screw gives: noticed, or refused where they stand.

use engine::plan::Plan;
use engine::problem::{Problem, Source};
use engine::quantity::{inch, mm, newton_metres, newtons, rpm};
use engine::shop::{Chuck, ClampingForce, DialUnit, Reads, Shop};

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

fn with(change: impl Fn(&mut Chuck)) -> Result<Plan, Vec<Problem>> {
    let mut shop = scene::shop();
    change(&mut shop.chucks[0]);
    plan(&shop)
}

fn noticed(plan: &Result<Plan, Vec<Problem>>, words: &str) -> bool {
    plan.as_ref().is_ok_and(|plan| notices(plan).iter().any(|said| said.contains(words)))
}

fn refused_at(plan: Result<Plan, Vec<Problem>>, at: &str) -> bool {
    plan.is_err_and(|all| all.len() == 1 && all[0].file == Source::Shop && all[0].at == at)
}

/// An independent chuck of 200 mm usually turns at 1200 rpm (`data/chucks.toml`, from memory).
#[test]
fn a_mark_ten_times_too_high_or_missing_is_noticed_and_a_speed_above_it_refused() {
    let marked = |mark: f64| with(|chuck| chuck.marked_speed = Some(rpm(mark)));
    assert!(noticed(&marked(12_000.0), "ten times too high") && !noticed(&marked(2400.0), "ten times"));
    assert!(noticed(&with(|chuck| chuck.marked_speed = None), "nobody gave the highest speed marked"));
    assert!(refused_at(with(|chuck| chuck.interrupted_speed = Some(rpm(1501.0))), "chuck[0].interrupted_speed"));
    assert!(with(|chuck| chuck.interrupted_speed = Some(rpm(1500.0))).is_ok());
}

/// Such a chuck gives 16 kN at the low end (`data/chucks.toml`, from memory): a quarter is 4 kN.
#[test]
fn a_very_small_grip_is_noticed_with_the_usual_value() {
    assert!(noticed(&plan(&forced(3900.0)), "usually give 16000 N"));
    assert!(!noticed(&plan(&forced(4100.0)), "usually give"));
    assert!(noticed(&plan(&turned(9.0)), "90 N m is usual") && !noticed(&plan(&turned(9.0)), "usually give"));
    assert!(!noticed(&plan(&turned(40.0)), "is usual"));
    let mut shop = scene::shop();
    shop.packing[0].friction = Some(0.012);
    assert!(noticed(&plan(&shop), "ten times too low"));
}

#[test]
fn a_share_near_all_is_noticed_and_jaws_beyond_their_chuck_are_refused() {
    let share = |share| with(|chuck| chuck.low_share = Some(share));
    assert!(noticed(&share(1.0), "counts on 1 of") && !noticed(&share(0.9), "counts on"));
    assert!(refused_at(with(|chuck| chuck.jaw.width = mm(101.0)), "chuck[0].jaw.width"));
    assert!(refused_at(with(|chuck| chuck.jaw.length = mm(401.0)), "chuck[0].jaw.length"));
}
