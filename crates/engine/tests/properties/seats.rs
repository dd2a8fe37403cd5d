//! Seats besides chuck face and parallels: ledges of the jaws, stops in the spindle; jaws turned end for end.

use engine::plan::{Hand, Outcome, Plan};
use engine::quantity::mm;
use engine::shop::{JawStep, ReversedJaw, Shop, Stop};

use super::scene;

fn planned(shop: &Shop) -> Plan {
    engine::plan(&scene::six_faces(), shop).unwrap_or_else(|problems| panic!("{problems:#?}"))
}

fn seats(plan: &Plan) -> Vec<&'static str> {
    plan.set_ups.iter().filter_map(|set_up| set_up.seat.as_ref()).map(|seat| seat.on).collect()
}

/// Round work of 58 mm in jaws with a ledge: nothing sits deeper than it, and what sits on it bites so far.
#[test]
fn on_a_ledge_the_bite_is_its_depth() {
    let mut shop = scene::shop();
    shop.chucks[0].jaw.step = Some(JawStep { below_front: mm(40.0), width: mm(6.0) });
    let plan = planned(&shop);
    assert_eq!(plan.outcome, Outcome::Planned, "{:#?}", plan.outcome);
    assert!(seats(&plan).contains(&"jaw step"), "{:?}", seats(&plan));
    for set_up in &plan.set_ups {
        assert!(set_up.bite_mm <= 40.0 + 1e-9);
        if let Some(seat) = &set_up.seat {
            assert!(seat.on == "jaw step" && (set_up.bite_mm - 40.0).abs() < 1e-9, "{seat:?}");
        }
    }
}

/// Without parallels a stop places what would else be set by hand; it squares nothing, and stays in its reach.
#[test]
fn a_stop_places_what_nothing_else_does() {
    let mut shop = scene::shop();
    shop.parallels = Vec::new();
    let reach = (-60.0, 30.0);
    shop.stops = vec![Stop { reach: (mm(reach.0), mm(reach.1)) }];
    let plan = planned(&shop);
    assert!(seats(&plan).contains(&"stop"), "{:?} {:#?}", seats(&plan), plan.outcome);
    let long = 50.0;
    for set_up in &plan.set_ups {
        let Some(seat) = set_up.seat.as_ref().filter(|seat| seat.on == "stop") else { continue };
        let out = seat.stop_mm.expect("a stop stands somewhere");
        assert!((reach.0..=reach.1).contains(&out) && (long - set_up.bite_mm - out).abs() < 1e-6, "{seat:?}");
        let says =
            set_up.hands.iter().any(|hand| matches!(hand, Hand::Do { does, .. } if does.starts_with("Set the stop")));
        assert!(says, "{:#?}", set_up.hands);
    }
}

/// A chuck that opens to less than the bar: only the jaws turned end for end take it, and the hands turn them first.
#[test]
fn jaws_are_reversed_where_the_bar_needs_it() {
    let mut shop = scene::shop();
    shop.chucks[0].opening = (mm(8.0), mm(45.0));
    assert!(planned(&shop).outcome != Outcome::Planned);
    shop.chucks[0].jaw.reversed =
        Some(ReversedJaw { opening: (mm(30.0), mm(220.0)), step: None, depth: Some(mm(40.0)) });
    let plan = planned(&shop);
    assert_eq!(plan.outcome, Outcome::Planned, "{:#?}", plan.outcome);
    let reverses = |hand: &Hand| matches!(hand, Hand::Do { does, .. } if does.contains("end for end"));
    assert!(plan.set_ups[0].hands.first().is_some_and(reverses), "{:#?}", plan.set_ups[0].hands);
    assert!(plan.set_ups.iter().skip(1).all(|set_up| !set_up.hands.iter().any(reverses)));
    // What turning them takes is counted once: the same plan in a chuck that opens so far as it is.
    let mut wide = scene::shop();
    wide.chucks[0].opening = (mm(30.0), mm(220.0));
    wide.chucks[0].jaw.depth = Some(mm(40.0));
    let minutes = plan.minutes.total() - planned(&wide).minutes.total();
    assert!((minutes - 10.0).abs() < 1e-9, "{minutes}");
}

/// Where the jaws do as they are, they are left so.
#[test]
fn jaws_that_open_far_enough_are_not_turned() {
    let bare = planned(&scene::shop());
    let mut shop = scene::shop();
    shop.chucks[0].jaw.reversed = Some(ReversedJaw { opening: (mm(30.0), mm(220.0)), step: None, depth: None });
    assert_eq!(planned(&shop).set_ups, bare.set_ups);
}
