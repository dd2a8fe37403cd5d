//! Soft jaws: bored to the round they bear over an arc, made to a flat they bear on it bare; bores that do not fit are
//! refused or told.

use engine::job::BarForm;
use engine::plan::{ContactKind, Outcome, Plan, Reason, SetUp};
use engine::quantity::{mm, newtons};
use engine::shop::{ChuckKind, ClampingForce, JawBore, JawSurface, Shop};
use nalgebra::Vector3;

use super::{near, planned, scene};

/// Soft jaws in the boatyard's independent chuck.
fn soft(bored: Option<JawBore>) -> Shop {
    let mut shop = scene::shop();
    shop.chucks[0].jaw.surface = JawSurface::Soft;
    shop.chucks[0].jaw.bored = bored;
    shop
}

/// A three-jaw chuck.
fn three_jaw(surface: JawSurface) -> Shop {
    let mut shop = scene::shop();
    let chuck = &mut shop.chucks[0];
    (chuck.kind, chuck.jaws, chuck.jaw.surface) = (ChuckKind::SelfCentring, 3, surface);
    chuck.clamping_force = Some(ClampingForce::Each(newtons(10_000.0)));
    shop
}

/// Hexagon bar, its sides as drawn, its ends to be faced.
pub fn hexagon() -> engine::job::Job {
    let form = BarForm::Hexagon { across: mm(36.0) };
    let job = scene::job(form, 62.0, scene::regular(6, 36.0), 58.0);
    scene::leaving(job, &["C", "D", "E", "F", "G", "H"])
}

fn of(job: &engine::job::Job, shop: &Shop) -> Plan {
    engine::plan(job, shop).unwrap_or_else(|problems| panic!("{problems:#?}"))
}

fn reasons(plan: &Plan) -> &[Reason] {
    match &plan.outcome {
        Outcome::Planned => &[],
        Outcome::Impossible(reasons) => reasons,
    }
}

fn along(plan: &Plan) -> impl Iterator<Item = &SetUp> {
    plan.set_ups.iter().filter(|set_up| set_up.jaws.iter().any(|jaw| jaw.contact == ContactKind::Bored))
}

/// The round of 58: each jaw bears at six points on it, normals through its middle, over its own width of 24.
#[test]
fn jaws_bored_to_the_bar_bear_over_an_arc() {
    let plan = of(&scene::six_faces(), &soft(Some(JawBore::Work)));
    assert!(planned(&plan), "{:#?}", plan.outcome);
    let mut seen = 0;
    for set_up in along(&plan) {
        for jaw in &set_up.jaws {
            let points: Vec<_> = set_up.audit.contacts.iter().filter(|point| point.jaw == jaw.jaw).collect();
            assert_eq!((points.len(), jaw.contact.name()), (6, "bored to the round"));
            for point in &points {
                let (at, inward) = (Vector3::from(point.at_mm), Vector3::from(point.inward));
                assert!(near(at.x.hypot(at.y), 29.0, 1e-12));
                assert!((at.xy().normalize() + inward.xy()).norm() < 1e-12 && inward.z == 0.0);
            }
            // The arc is as wide as the jaw: its outermost points lie 24 mm apart.
            let apart = points.iter().flat_map(|one| {
                points.iter().map(move |other| (Vector3::from(one.at_mm) - Vector3::from(other.at_mm)).xy().norm())
            });
            assert!(near(apart.fold(0.0, f64::max), 24.0, 1e-12));
            // Force over the area spanned: 16 kN over 24 mm times the bite.
            let mark = jaw.mark.expect("the table gives the strength");
            assert_eq!(mark.grade, "none");
            assert!(near(mark.pressure_mpa.unwrap_or(0.0), 16_000.0 / (24.0 * set_up.bite_mm), 1e-9));
            seen += 1;
        }
    }
    assert!(seen >= 4, "{seen}");
}

/// Bored, a jaw presses on so much more that it no longer marks, and it keeps the work from turning no less.
#[test]
fn a_bored_jaw_presses_less_and_holds_no_less_than_a_line() {
    let (lines, arcs) = (of(&scene::six_faces(), &soft(None)), of(&scene::six_faces(), &soft(Some(JawBore::Work))));
    for (line, arc) in lines.set_ups.iter().zip(along(&arcs)) {
        assert_eq!(line.cuts_faces, arc.cuts_faces);
        if line.passes == arc.passes {
            assert!(
                arc.hold.slip_factor >= line.hold.slip_factor.map(|factor| 0.98 * factor),
                "{:?} {:?}",
                arc.hold.slip_factor,
                line.hold.slip_factor
            );
        }
    }
    assert!(arcs.cautions.iter().any(|said| said.contains("bored to 58.000 mm")), "{:#?}", arcs.cautions);
}

#[test]
fn jaws_bored_too_small_are_refused_with_what_to_do() {
    let told = of(&scene::six_faces(), &soft(Some(JawBore::Diameter(mm(55.0)))));
    let small = reasons(&told).iter().find(|reason| reason.rule == "jaws-bored-small").expect("a reason");
    assert_eq!((small.value, small.limit, small.unit), (55.0, 58.0, "mm"));
    assert!(small.way_out.starts_with("bore the jaws to 58.00 mm"), "{}", small.way_out);
    // Two tenths under they go on, and what cannot be held in a bore is told.
    let near_by = of(&scene::six_faces(), &soft(Some(JawBore::Diameter(mm(57.8)))));
    let rules: Vec<&str> = reasons(&near_by).iter().map(|reason| reason.rule).collect();
    assert!(!rules.contains(&"jaws-bored-small") && rules.contains(&"jaws-bored-round"), "{rules:?}");
}

#[test]
fn hard_jaws_are_not_bored_and_no_bore_is_wider_than_the_chuck_opens() {
    let fault = |shop: &Shop| engine::plan(&scene::six_faces(), shop).expect_err("refused");
    let mut hard = soft(Some(JawBore::Work));
    hard.chucks[0].jaw.surface = JawSurface::HardSmooth;
    assert!(fault(&hard)[0].says.contains("no boring tool cuts them"), "{:#?}", fault(&hard));
    let wide = soft(Some(JawBore::Diameter(mm(240.0))));
    assert!(fault(&wide)[0].at == "chuck[0].jaw.bored" && fault(&wide)[0].says.contains("opens to 200"));
}

/// Drawn flats in a three-jaw chuck: every other side, the bar's own size between, nothing packed.
#[test]
fn hexagon_bar_is_faced_in_a_three_jaw_chuck() {
    for surface in [JawSurface::HardSmooth, JawSurface::HardSerrated, JawSurface::Soft] {
        let plan = of(&hexagon(), &three_jaw(surface));
        assert!(planned(&plan), "{surface:?}: {:#?}", plan.outcome);
        assert_eq!(plan.set_ups.len(), 2);
        for set_up in &plan.set_ups {
            assert_eq!(set_up.jaws.len(), 3);
            assert!(set_up.jaws.iter().all(|jaw| jaw.contact == ContactKind::Flat && jaw.packing_mm == 0.0));
            assert!(set_up.jaws.iter().all(|jaw| near(jaw.reach_mm, 18.0, 1e-12)));
            // 36/√3 across a flat, 24 across a jaw: the flat is the narrower; four corners a jaw.
            assert_eq!(set_up.audit.contacts.len(), 12);
            assert!(set_up.hold.slip_factor.is_some_and(|factor| factor >= set_up.hold.required));
        }
    }
}

/// Its flats stay: soft jaws made to them leave nothing, hard ones are called out.
#[test]
fn soft_jaws_need_no_packing_on_sides_that_stay() {
    let (soft, hard) =
        (of(&hexagon(), &three_jaw(JawSurface::Soft)), of(&hexagon(), &three_jaw(JawSurface::HardSmooth)));
    let called_out = |plan: &Plan| plan.cautions.iter().any(|said| said.contains("a bare jaw on"));
    assert!(!called_out(&soft) && called_out(&hard), "{:#?}", soft.cautions);
    let jaws = soft.set_ups.iter().flat_map(|set_up| &set_up.jaws);
    assert!(jaws.into_iter().all(|jaw| jaw.mark.is_some_and(|mark| mark.grade == "none")));
    assert!(soft.assumed.iter().any(|row| row.what == "what the soft jaws are bored to" && row.value == "the work"));
    assert!(soft.cautions.iter().any(|said| said.contains("cut to the flats that they hold, 36.000 mm apart")));
}

/// A square in three jaws leaves two of them nothing but corners.
#[test]
fn a_square_bar_in_a_three_jaw_chuck_is_told_why_not() {
    let job = scene::leaving(
        scene::job(BarForm::Square { across: mm(36.0) }, 62.0, scene::block(36.0, 36.0), 58.0),
        &["C", "D", "E", "F"],
    );
    let plan = of(&job, &three_jaw(JawSurface::HardSmooth));
    assert!(reasons(&plan).iter().any(|reason| reason.rule == "corner-on-jaw"), "{:#?}", plan.outcome);
}

/// Toothed jaws are not bored: what is told of them is what a shop with them gives.
#[test]
fn toothed_jaws_told_to_bored_ones_bear_as_toothed_jaws_do() {
    let mut toothed = soft(None);
    toothed.chucks[0].jaw.surface = JawSurface::HardSerrated;
    let [before, after] = [soft(Some(JawBore::Work)), toothed].map(|shop| of(&scene::six_faces(), &shop));
    let told = |set_up: &SetUp| {
        set_up
            .hold
            .firmer
            .iter()
            .find(|firmer| firmer.says.starts_with("hard serrated"))
            .map(|firmer| firmer.slip_factor)
    };
    let mut seen = 0;
    for (was, is) in along(&before).zip(&after.set_ups) {
        if let (true, Some(factor)) = (was.passes == is.passes && was.bite_mm == is.bite_mm, told(was)) {
            assert!(near(is.hold.slip_factor.expect("a jaw slips at last"), factor, 1e-9));
            seen += 1;
        }
    }
    assert!(seen > 0, "no set-up to compare");
}
