//! Seats besides chuck face and parallels: ledges of the jaws, stops in the spindle; jaws turned end for end.

use engine::plan::{Hand, JawPlan, Outcome, Plan, SetUp, Stretch};
use engine::quantity::mm;
use engine::shop::{JawStep, ReversedJaw, Shop, Stop};

use super::{bored, scene, vees};

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

/// The ledge's bearing faces, by hand from the plan's own picture: how far in the flat behind lies on that of each jaw.
fn rests_mm(plan: &Plan, set_up: &SetUp) -> Vec<f64> {
    let (width_mm, held) = (plan.scene.chuck.ledge.expect("a ledge").width_mm, &set_up.held);
    // Corners of the edge or the end that looks towards the chuck, in the set-up's frame.
    let ends = held.before.outline.iter().flat_map(|stretch| match *stretch {
        Stretch::Line { from_mm, to_mm } => vec![from_mm, to_mm],
        Stretch::Arc { centre_mm: [x, y], radius_mm, start_rad, sweep_rad } => (0..=720)
            .map(|step| start_rad + sweep_rad * f64::from(step) / 720.0)
            .map(|at| [x + radius_mm * at.cos(), y + radius_mm * at.sin()])
            .collect(),
    });
    let points: Vec<[f64; 3]> = ends
        .flat_map(|[x, y]| [held.before.back_mm, held.before.front_mm].map(|z| held.frame.place([x, y, z])))
        .collect();
    let lowest = points.iter().map(|point| point[2]).fold(f64::MAX, f64::min);
    let behind: Vec<_> = points.iter().filter(|point| point[2] < lowest + 1e-6).collect();
    let out = |jaw: &JawPlan| {
        let (sin, cos) = (std::f64::consts::TAU * f64::from(jaw.jaw - 1) / set_up.jaws.len() as f64).sin_cos();
        let far = behind.iter().map(|point| point[0] * cos + point[1] * sin).fold(f64::MIN, f64::max);
        (far - (jaw.reach_mm - width_mm)).max(0.0)
    };
    // A round touches along a line: that squares nothing, however long.
    let wide = |axis: usize| {
        let (low, high) =
            behind.iter().fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at[axis]), high.max(at[axis])));
        high - low > 1e-3
    };
    let flat = wide(0) && wide(1);
    set_up.jaws.iter().map(|jaw| if flat { out(jaw) } else { 0.0 }).collect()
}

/// Whatever sits on ledges lies on those of two opposed jaws by 2 mm or more; what would lie on less is set by hand, and
/// the head of the plan says why.
#[test]
fn what_sits_on_ledges_lies_on_enough_of_them() {
    let (mut sat, mut told) = (0, 0);
    for width in [1.0, 2.2, 2.9, 3.1, 6.0, 15.0] {
        let mut shop = scene::shop();
        shop.chucks[0].jaw.step = Some(JawStep { below_front: mm(40.0), width: mm(width) });
        let plan = planned(&shop);
        let narrow = plan.cautions.iter().find(|caution| caution.contains("are no seat for face"));
        for set_up in &plan.set_ups {
            let rests = rests_mm(&plan, set_up);
            let carries = |at: usize| rests[at].min(rests[at + 2]) >= 2.0 - 1e-6;
            match &set_up.seat {
                Some(seat) => {
                    assert!(seat.on == "jaw step" && (carries(0) || carries(1)), "{width}: {rests:?}");
                    sat += 1;
                }
                None if rests.iter().any(|rests| *rests > 0.0) && !carries(0) && !carries(1) => {
                    let says = narrow.unwrap_or_else(|| panic!("{width}: nothing told of {rests:?}"));
                    assert!(says.contains(&set_up.cuts_faces[0]), "{says}");
                    told += 1;
                }
                None => {}
            }
        }
    }
    assert!(sat >= 10 && told > 3, "{sat} sat, {told} told");
}

/// Ledges meet before the faces above them do: what is no thicker than both together is refused, with the size.
#[test]
fn work_between_ledges_that_meet_is_refused() {
    let mut shop = scene::shop();
    shop.chucks[0].jaw.step = Some(JawStep { below_front: mm(40.0), width: mm(26.0) });
    let plan = planned(&shop);
    let Outcome::Impossible(reasons) = &plan.outcome else { panic!("held between ledges of 26 mm") };
    let opening = reasons.iter().find(|reason| reason.rule == "chuck-opening").expect("the opening binds");
    assert!(opening.way_out.contains("narrower ledge"), "{opening:#?}");
    assert!(opening.says.contains("until their ledges meet") && (opening.limit - 52.0).abs() < 1e-9, "{opening:#?}");
}

/// A block of 24 mm stands between jaw and corner above a ledge that lies 30 mm down, and not above one at 22.
#[test]
fn a_vee_finds_room_above_the_ledge_or_is_not_laid() {
    let blocks = |below: f64| {
        let mut shop = vees::with(vec![vees::vee(25.0, 14.0)]);
        shop.chucks[0].jaw.step = Some(JawStep { below_front: mm(below), width: mm(3.0) });
        let plan = engine::plan(&bored::hexagon(), &shop).unwrap_or_else(|problems| panic!("{problems:#?}"));
        let jaws = plan.set_ups.iter().flat_map(|set_up| &set_up.jaws);
        (plan.outcome.clone(), jaws.filter(|jaw| jaw.vee.as_ref().is_some_and(|vee| vee.along_spindle)).count())
    };
    let (outcome, laid) = blocks(30.0);
    assert!(outcome == Outcome::Planned && laid > 0, "{outcome:#?}");
    let (outcome, laid) = blocks(22.0);
    let Outcome::Impossible(reasons) = outcome else { panic!("{laid} blocks stand through a ledge") };
    assert!(reasons.iter().any(|reason| reason.rule == "vee-on-jaw"), "{reasons:#?}");
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
