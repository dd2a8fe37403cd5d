//! Marks of the jaws against pressures by hand, and packing that is named to avoid one does.

use std::f64::consts::PI;

use engine::job::{BarForm, Job, JobMaterial, OwnMaterial};
use engine::plan::{ContactKind, JawPlan, Plan, SetUp};
use engine::quantity::{kg_per_m3, m_per_min, mm, mpa};
use engine::shop::{JawBore, JawSurface, Packing, Shop, ToolMaterial};

use super::{near, planned, scene};

fn of(job: &Job, shop: &Shop) -> Plan {
    let plan = engine::plan(job, shop).unwrap_or_else(|problems| panic!("{problems:#?}"));
    assert!(planned(&plan), "{:#?}", plan.outcome);
    plan
}

fn packed_with(material: &str, thickness_mm: f64, yield_mpa: Option<f64>) -> Shop {
    let mut shop = scene::shop();
    shop.packing = vec![Packing {
        material: material.to_string(),
        thickness: vec![mm(thickness_mm)],
        friction: Some(0.12),
        yield_strength: yield_mpa.map(mpa),
    }];
    shop
}

fn six_faces(material: &str) -> Job {
    let mut job = scene::six_faces();
    job.stock.material = JobMaterial::Named(material.to_string());
    job
}

fn jaws(plan: &Plan) -> impl Iterator<Item = (&SetUp, &JawPlan)> {
    plan.set_ups.iter().flat_map(|set_up| set_up.jaws.iter().map(move |jaw| (set_up, jaw)))
}

fn notices<'a>(plan: &'a Plan, word: &'a str) -> Vec<&'a str> {
    plan.cautions.iter().map(String::as_str).filter(|said| said.starts_with("NOTICE") && said.contains(word)).collect()
}

/// Annealed copper 70 MPa, half-hard brass 310 (textbook values, from memory): 3 Y are 210 and 930 (Tabor).
/// S235, 235 MPa: 1.67 Y is 392 (Johnson, ch. 6, from memory).
#[test]
fn half_hard_brass_on_mild_steel_is_called_out_and_the_packing_named_instead_does() {
    let job = six_faces("low-carbon-steel");
    let told = of(&job, &packed_with("half-hard brass", 1.0, None));
    let [said] = notices(&told, "may mark")[..] else { panic!("{:#?}", told.cautions) };
    assert!(said.contains("flows at 930 MPa and the work yields at 392"), "{said}");
    assert!(said.contains("Put 1.00 mm soft copper there: it flows at 210 MPa, before the work."), "{said}");
    for (_, jaw) in jaws(&told).filter(|(_, jaw)| jaw.packing_mm > 0.0) {
        let mark = jaw.mark.expect("the table gives the strength");
        assert_eq!(mark.grade, "witness line");
        assert!(near(mark.pressure_mpa.unwrap_or(0.0), 930.0, 1e-12) && near(mark.limit_mpa, 1.67 * 235.0, 1e-12));
    }
    let freed = of(&job, &packed_with("soft copper", 1.0, None));
    assert!(notices(&freed, "may mark").is_empty(), "{:#?}", freed.cautions);
    assert!(
        jaws(&freed)
            .filter(|(_, jaw)| jaw.packing_mm > 0.0)
            .all(|(_, jaw)| jaw.mark.is_some_and(|mark| mark.grade == "none"))
    );
}

#[test]
fn packing_that_is_too_thin_or_of_unknown_strength_protects_nothing() {
    let job = six_faces("low-carbon-steel");
    let thin = of(&job, &packed_with("soft copper", 0.3, None));
    assert!(notices(&thin, "may mark").iter().any(|said| said.contains("0.30 mm is too thin")), "{:#?}", thin.cautions);
    let card = of(&job, &packed_with("card", 1.0, None));
    assert!(notices(&card, "may mark").iter().any(|said| said.contains("nobody knows where it flows")));
    assert!(
        jaws(&card).filter(|(_, jaw)| jaw.packing_mm > 0.0).all(|(_, jaw)| {
            jaw.mark.is_some_and(|mark| mark.pressure_mpa.is_none() && mark.grade == "witness line")
        })
    );
    // Its strength given, it is judged by it: 3 × 20 < 392.
    assert!(notices(&of(&job, &packed_with("card", 1.0, Some(20.0))), "may mark").is_empty());
}

#[test]
fn soft_work_asks_for_softer_packing_than_copper() {
    // POM of 65 MPa yields at 109 under a line; copper flows at 210, 1100-O aluminium of 35 MPa at 105.
    let mut job = six_faces("pom");
    job.cutting.deepest_cut = Some(mm(1.0));
    let told = of(&job, &packed_with("soft copper", 1.0, None));
    let [said] = notices(&told, "may mark")[..] else { panic!("{:#?}", told.cautions) };
    assert!(said.contains("soft aluminium there: it flows at 105 MPa"), "{said}");
    assert!(notices(&of(&job, &packed_with("soft aluminium", 1.0, None)), "may mark").is_empty());
}

/// Hertz by hand: p₀ = √(N E*/(π R L)), E* of steel 205 GPa, 0.29 on jaw 210 GPa, 0.30: 113 622 MPa (research case D6).
/// Medium-carbon steel 340 MPa: from 1.67 Y = 568 yields, mean π/4 p₀ over 2 Y dents.
#[test]
fn a_bare_jaw_along_or_across_the_round_presses_as_hertz_says() {
    let told = of(&six_faces("medium-carbon-steel"), &scene::shop());
    let mut seen = 0;
    for (set_up, jaw) in jaws(&told).filter(|(_, jaw)| jaw.packing_mm == 0.0 && jaw.contact != ContactKind::Flat) {
        let mark = jaw.mark.expect("the table gives the strength");
        let force_n = 16_000.0;
        // Along, the line is as long as the bite; across, as long as the jaw is wide and the bevelled nose lets it.
        let length_mm = match jaw.contact {
            ContactKind::LineAlong => set_up.bite_mm,
            _ => 24.0,
        };
        let peak = (force_n * 113_622.0 / (PI * 29.0 * length_mm)).sqrt();
        assert!(near(mark.pressure_mpa.unwrap_or(0.0), peak, 1e-4), "{mark:?} {peak}");
        let grade = match peak {
            none if none <= 567.8 => "none",
            burnished if PI / 4.0 * burnished <= 680.0 => "burnish",
            _ => "dent",
        };
        assert_eq!(mark.grade, grade, "{mark:?}");
        seen += 1;
    }
    assert!(seen > 3, "{seen}");
}

#[test]
fn teeth_always_show_and_soft_jaws_bored_to_the_round_do_not() {
    let with = |surface, bored| {
        let mut shop = scene::shop();
        (shop.chucks[0].jaw.surface, shop.chucks[0].jaw.bored) = (surface, bored);
        of(&six_faces("medium-carbon-steel"), &shop)
    };
    let bare = |plan: &Plan, lying: fn(ContactKind) -> bool| -> Vec<&'static str> {
        let bare = jaws(plan).filter(|(_, jaw)| jaw.packing_mm == 0.0 && lying(jaw.contact));
        bare.filter_map(|(_, jaw)| jaw.mark.map(|mark| mark.grade)).collect()
    };
    let (teeth, soft) = (with(JawSurface::HardSerrated, None), with(JawSurface::Soft, Some(JawBore::Work)));
    let all = bare(&teeth, |_| true);
    assert!(!all.is_empty() && all.iter().all(|grade| *grade == "teeth"));
    let bored = bare(&soft, |contact| contact == ContactKind::Bored);
    assert!(!bored.is_empty() && bored.iter().all(|grade| *grade == "none"), "{bored:?}");
    // Across, and where nobody bored them, a line presses as under a hard jaw.
    let hard = with(JawSurface::HardSmooth, None);
    let across = |contact| contact == ContactKind::LineAcross;
    assert_eq!(bare(&soft, across).first(), bare(&hard, across).first());
    let flat = with(JawSurface::Soft, None);
    let along = |contact| contact == ContactKind::LineAlong;
    assert!(!bare(&flat, along).is_empty() && bare(&flat, along) == bare(&hard, along));
}

#[test]
fn a_face_left_as_the_bar_has_it_is_told_where_a_bare_jaw_bears_on_it() {
    let form = BarForm::Flat { width: mm(50.0), thickness: mm(28.0) };
    let job = scene::leaving(scene::job(form, 46.0, scene::block(44.0, 28.0), 40.0), &["D", "F"]);
    let told = of(&job, &scene::shop());
    let [said] = notices(&told, "a bare jaw on")[..] else { panic!("{:#?}", told.cautions) };
    assert!(said.contains("D, F") && said.contains("soft copper there, which is on hand"), "{said}");
    assert!(said.contains("tried in this calculation"), "{said}");
    // Not where every face is cut.
    assert!(notices(&of(&scene::six_faces(), &scene::shop()), "a bare jaw on").is_empty());
}

#[test]
fn without_a_strength_nothing_is_claimed() {
    let mut job = scene::six_faces();
    job.stock.material = JobMaterial::Own(OwnMaterial {
        name: "bell metal".to_string(),
        kc11: mpa(900.0),
        mc: 0.2,
        density: kg_per_m3(8700.0),
        yield_strength: None,
        speeds: vec![(ToolMaterial::CarbideUncoated, m_per_min(90.0)), (ToolMaterial::Hss, m_per_min(30.0))],
    });
    let told = of(&job, &scene::shop());
    assert!(jaws(&told).all(|(_, jaw)| jaw.mark.is_none()));
    assert_eq!(notices(&told, "yield strength of bell metal").len(), 1, "{:#?}", told.cautions);
}

/// S235, 235 MPa; a metal flows under 3 times its yield (Tabor), so no elastic pressure above 705 MPa is true.
#[test]
fn a_dent_beyond_the_flow_of_the_work_is_told_by_the_yield_alone() {
    let mut shop = scene::shop();
    shop.chucks[0].clamping_force = Some(engine::shop::ClampingForce::Each(engine::quantity::newtons(40_000.0)));
    let told = of(&six_faces("low-carbon-steel"), &shop);
    let mut beyond = 0;
    for (set_up, jaw) in jaws(&told).filter(|(_, jaw)| jaw.packing_mm == 0.0) {
        let mark = jaw.mark.expect("the table gives the strength");
        let flows = mark.grade == "dent" && mark.pressure_mpa.is_some_and(|pressure| pressure > 705.0);
        assert_eq!(mark.beyond_yield.is_some(), flows, "{mark:?}");
        if flows {
            let says = set_up.marks_say().unwrap_or_default();
            assert!(says.contains("a dent (pressed beyond 3 times the yield, 235 MPa)"), "{says}");
            beyond += 1;
        }
    }
    assert!(beyond > 0);
}
