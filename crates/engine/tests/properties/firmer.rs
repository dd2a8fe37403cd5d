//! What is told to make a hold firmer does so when the shop does it: where the cuts then come out the same, the factor of
//! the new plan is the one that was told.

use engine::plan::{Plan, SetUp};
use engine::quantity::newtons;
use engine::shop::{ClampingForce, JawSurface, Shop};

use super::scene;

fn shop() -> Shop {
    let mut shop = scene::shop();
    for chuck in &mut shop.chucks {
        chuck.clamping_force = Some(ClampingForce::Each(newtons(14_000.0)));
        chuck.low_share = None;
        chuck.jaw.surface = JawSurface::HardSmooth;
    }
    shop
}

fn plan(shop: &Shop) -> Plan {
    engine::plan(&scene::six_faces(), shop).expect("a job for this shop")
}

fn told(set_up: &SetUp, begins: &str) -> Option<f64> {
    set_up.hold.firmer.iter().find(|firmer| firmer.says.starts_with(begins)).map(|firmer| firmer.slip_factor)
}

/// How many set-ups come out with the cuts of before, each checked against what was told.
fn agree(before: &Plan, after: &Plan, begins: &str) -> usize {
    let mut seen = 0;
    for (was, is) in before.set_ups.iter().zip(&after.set_ups) {
        let same = was.cuts_faces == is.cuts_faces && was.passes == is.passes && was.bite_mm == is.bite_mm;
        if let (true, Some(factor)) = (same, told(was, begins)) {
            let found = is.hold.slip_factor.expect("a jaw slips at last");
            assert!((found - factor).abs() < 1e-9 * factor, "set-up {}: {found} for {factor} told", was.number);
            assert!(factor > was.hold.slip_factor.expect("a factor"), "{begins}");
            seen += 1;
        }
    }
    seen
}

#[test]
fn more_of_the_force_gives_what_was_told() {
    let before = plan(&shop());
    for (share, begins) in [(0.65, "a torque wrench"), (0.8, "jaw forces measured")] {
        let mut other = shop();
        other.chucks.iter_mut().for_each(|chuck| chuck.low_share = Some(share));
        assert!(agree(&before, &plan(&other), begins) > 0, "{begins}: no set-up to compare");
    }
}

#[test]
fn toothed_jaws_give_what_was_told() {
    let mut other = shop();
    other.chucks.iter_mut().for_each(|chuck| chuck.jaw.surface = JawSurface::HardSerrated);
    assert!(agree(&plan(&shop()), &plan(&other), "hard serrated") > 0, "no set-up to compare");
}

#[test]
fn shallower_cuts_and_less_speed_never_hold_less() {
    let before = plan(&shop());
    for set_up in &before.set_ups {
        let now = set_up.hold.slip_factor.expect("a factor");
        let shallower = told(set_up, "rough cuts half as deep").expect("rough cuts");
        // Kienzle: half the depth takes between half and three quarters of the force.
        assert!(shallower > 1.2 * now && shallower < 2.1 * now, "{now} {shallower}");
        assert!(set_up.hold.firmer.iter().all(|firmer| firmer.slip_factor >= 1.05 * now), "{now}");
    }
}
