//! Plans invented by hand to look at the text; their numbers come from no calculation.

use engine::hands::{self, AFTER_LAST_CUT, BEFORE_LAST_CUT, Facts, Nose};
use engine::plan::*;
use engine::quantity::Units;

/// A job in millimetres on a lathe with inch dials.
pub fn metric() -> Plan {
    let mut plan = plan(Units::Mm);
    hands::fill(&mut plan, &facts("top slide", "0.10 mm"));
    plan
}

/// The same in inches.
pub fn inch() -> Plan {
    let mut plan = plan(Units::Inch);
    hands::fill(&mut plan, &facts("compound rest", "0.004 in"));
    plan
}

/// A part larger than its bar.
pub fn impossible() -> Plan {
    let mut plan = plan(Units::Mm);
    plan.set_ups.clear();
    plan.minutes = Minutes::default();
    plan.search = Search::default();
    plan.outcome = Outcome::Impossible(vec![
        Reason {
            rule: "bar-too-thin",
            place: "stock".to_string(),
            says: "the finished corners need a round of 53.74 mm and the bar has 52.00 mm".to_string(),
            value: 52.0,
            limit: 53.740_115_370_177_61,
            unit: "mm",
            way_out: "take a bar of at least 57 mm, or ask whether small flats may stay round at the corners"
                .to_string(),
        },
        Reason {
            rule: "no-speed-slow-enough",
            place: "lathe".to_string(),
            says: "the slowest speed is faster than the tool may run where the corners swing".to_string(),
            value: 120.0,
            limit: 96.5,
            unit: "rpm",
            way_out: "use a carbide tool, or a lathe that goes slower".to_string(),
        },
    ]);
    hands::fill(&mut plan, &facts("top slide", "0.10 mm"));
    plan
}

fn facts(slide: &str, backlash: &str) -> Facts {
    Facts {
        spare_stick_out_mm: 0.5,
        independent: true,
        jaws_reversed: false,
        tight_torque: None,
        tight_with: None,
        depth_slide: slide.to_string(),
        set_over_deg: 0.0,
        counts_twice: false,
        ring: "0.100 in".to_string(),
        backlash: Some(backlash.to_string()),
        lowest_rpm: Some(45.0),
        feeler: None,
        tool_height: None,
        packing: "soft copper".to_string(),
        ends: vec!["A".to_string(), "B".to_string()],
        opposites: Vec::new(),
        ring_counts: None,
        left_raw: Vec::new(),
        off_axis_mm: 2.0,
        over_the_bar: Vec::new(),
        nose: Nose::Unknown,
        material_caution: None,
    }
}

fn plan(units: Units) -> Plan {
    Plan {
        title: "Foot of a bell frame".to_string(),
        units,
        asked: Asked {
            part: "block 38 x 38 x 45 mm".to_string(),
            stock: "round bar 60 mm, 52 mm long, hot-rolled".to_string(),
            material: "medium-carbon steel".to_string(),
            lathe: "school lathe".to_string(),
            chuck: "independent 200".to_string(),
            tool: "facing tool, carbide".to_string(),
            limits: Vec::new(),
            requirements: vec![
                "square 0.06 mm, parallel 0.05 mm, flat 0.03 mm".to_string(),
                "roughness Ra 1.6 um".to_string(),
            ],
            gauges: Vec::new(),
        },
        outcome: Outcome::Planned,
        stock: StockReport {
            form: "round",
            volume_mm3: 147_027.0,
            mass_kg: 1.154,
            least_round_mm: 53.740_115_370_177_61,
            least_round_with_allowance_mm: 56.9,
            least_length_mm: 47.4,
            used_share: 0.442,
        },
        stock_choice: None,
        minutes: Minutes { handling: 26.0, cutting: 14.2, measuring: 9.0 },
        set_ups: vec![end(), first_side(), second_side()],
        forecast: None,
        weighed: None,
        search: Search { plans_possible: 46_080.0, examined: 812, cut_off: 266, proven_best: true },
        assumed: vec![
            row("friction of soft copper", "0.12", "low practical table, cautious side"),
            row("share of the clamping force to count on", "0.50", "tightened by feel"),
            row("backlash of the cross slide", "0.15 mm", "common practice, no source"),
        ],
        cautions: Vec::new(),
        scene: Scene::default(),
        workings: Vec::new(),
    }
}

fn row(what: &str, value: &str, source: &str) -> Assumed {
    Assumed { what: what.to_string(), value: value.to_string(), source: source.to_string() }
}

fn end() -> SetUp {
    SetUp {
        jaws: (1..=4).map(|jaw| JawPlan { reach_mm: 30.0, ..on_bar(jaw, ContactKind::LineAlong) }).collect(),
        seat: Some(Seat { on: "chuck face", face: "bar".to_string(), packing_mm: 0.0, along: None, stop_mm: None }),
        angle: None,
        bite_mm: 40.0,
        stick_out: StickOut { least_mm: 8.5, set_mm: 12.0, most_mm: 30.0 },
        passes: passes(&[(PassKind::CleanUp, 1.5), (PassKind::Finish, 0.5)], 170.0),
        notes: Vec::new(),
        measure: Vec::new(),
        ..set_up(1, "A")
    }
}

fn first_side() -> SetUp {
    SetUp {
        jaws: vec![
            on_face(1, "A"),
            on_bar(2, ContactKind::LineAcross),
            on_face(3, "B"),
            on_bar(4, ContactKind::LineAcross),
        ],
        passes: passes(
            &[
                (PassKind::CleanUp, 2.0),
                (PassKind::Rough, 2.84),
                (PassKind::Rough, 2.84),
                (PassKind::Rough, 2.86),
                (PassKind::Finish, 0.46),
            ],
            170.0,
        ),
        notes: Vec::new(),
        measure: vec![Measure {
            what: "C over the jaw fronts".to_string(),
            nominal_mm: 13.46,
            plus_mm: 0.02,
            minus_mm: 0.02,
            gauge: "depth micrometer 0-25".to_string(),
            when: BEFORE_LAST_CUT.to_string(),
            takes_out: false,
            over_bar: false,
            over_jaws_mm: None,
            table: None,
        }],
        ..set_up(2, "C")
    }
}

fn second_side() -> SetUp {
    let kept = |jaw: JawPlan| JawPlan { kept: true, ..jaw };
    SetUp {
        jaws: vec![
            kept(on_face(1, "A")),
            kept(on_bar(2, ContactKind::LineAcross)),
            on_face(3, "B"),
            on_bar(4, ContactKind::LineAcross),
        ],
        seat: Some(Seat { on: "parallels", face: "C".to_string(), packing_mm: 16.0, along: None, stop_mm: None }),
        passes: passes(
            &[(PassKind::CleanUp, 2.0), (PassKind::Rough, 4.4), (PassKind::Rough, 4.14), (PassKind::Finish, 0.46)],
            170.0,
        ),
        notes: Vec::new(),
        measure: vec![
            Measure {
                what: "C to E".to_string(),
                nominal_mm: 38.46,
                plus_mm: 0.0,
                minus_mm: 0.0,
                gauge: "micrometer 25-50".to_string(),
                when: BEFORE_LAST_CUT.to_string(),
                takes_out: true,
                over_bar: false,
                over_jaws_mm: None,
                table: None,
            },
            Measure {
                what: "C to E".to_string(),
                nominal_mm: 38.0,
                plus_mm: 0.05,
                minus_mm: 0.05,
                gauge: "micrometer 25-50".to_string(),
                when: AFTER_LAST_CUT.to_string(),
                takes_out: true,
                over_bar: false,
                over_jaws_mm: None,
                table: None,
            },
        ],
        ..set_up(3, "E")
    }
}

fn set_up(number: u32, face: &str) -> SetUp {
    SetUp {
        number,
        cuts_faces: vec![face.to_string()],
        removed_mm3: 12_400.0,
        jaws: Vec::new(),
        seat: Some(Seat { on: "parallels", face: "bar".to_string(), packing_mm: 10.0, along: None, stop_mm: None }),
        angle: None,
        bite_mm: 40.0,
        stick_out: StickOut { least_mm: 18.5, set_mm: 20.0, most_mm: 24.5 },
        hold: HoldReport {
            slip_factor: Some(2.63),
            worn_slip_factor: Some(1.44),
            point_slip_factor: Some(1.71),
            lift_factor: Some(4.08),
            last_hold: None,
            round: None,
            required: 2.0,
            spring_um: 7.4,
            surface: None,
            binding: "jaw 3 creeps first, at pass 2, tool at 85 degrees".to_string(),
            counted_force_n: 7900.0,
            permitted_rpm: Some(1890.0),
            mass_kg: 0.62,
            unbalance_n: 0.0,
            unbalance_most_n: 82.4,
            hand_checks: vec!["torque 31 N m against 96 N m at slip".to_string()],
            weak: false,
            firmer: Vec::new(),
        },
        speed: SpeedReport {
            set_rpm: 170.0,
            most_rpm: 188.4,
            binding: "cutting speed where the corners swing, cut interrupted".to_string(),
            edge_power_w: 900.0,
        },
        passes: Vec::new(),
        notes: Vec::new(),
        measure: Vec::new(),
        hands: Vec::new(),
        cautions: Vec::new(),
        minutes: Minutes { handling: 8.0, cutting: 4.4, measuring: 3.0 },
        audit: Audit::default(),
        held: Held::default(),
        workings: Vec::new(),
    }
}

fn on_face(jaw: u8, face: &str) -> JawPlan {
    JawPlan {
        jaw,
        bears_on: face.to_string(),
        contact: ContactKind::Flat,
        packing_mm: 1.0,
        kept: false,
        reach_mm: 23.5,
        mark: Some(Mark { grade: "none", pressure_mpa: Some(210.0), limit_mpa: 568.0, beyond_yield: None }),
        vee: None,
    }
}

fn on_bar(jaw: u8, contact: ContactKind) -> JawPlan {
    JawPlan {
        jaw,
        bears_on: "bar".to_string(),
        contact,
        packing_mm: 0.0,
        kept: false,
        reach_mm: 30.0,
        mark: None,
        vee: None,
    }
}

/// On a ring of 0.100 in a turn: whole turns and what is left.
fn passes(cuts: &[(PassKind, f64)], rpm: f64) -> Vec<Pass> {
    let mut total_mm = 0.0;
    cuts.iter()
        .map(|&(kind, depth_mm)| {
            total_mm += depth_mm;
            let thou = (total_mm / 0.0254_f64).round();
            let (turns, left) = ((thou / 100.0).floor(), thou % 100.0);
            Pass {
                kind,
                depth_mm,
                total_mm,
                dial: dial(turns, left / 1000.0),
                dial_turns: turns as u32,
                dial_reading: left / 1000.0,
                slide: "depth slide",
                rpm,
                feed_mm_per_rev: if kind == PassKind::Finish { 0.06 } else { 0.15 },
                by_hand: false,
                speed_m_per_min: 32.0,
                start_radius_mm: 30.0,
                floor_area_mm2: 1500.0,
                in_metal_share: 0.74,
                entries_per_rev: 2,
                removed_mm3: 3100.0,
                chip_mm: 0.12,
                force_n: Force3 { cutting: 900.0, feed: 300.0, passive: 250.0 },
                force_safe_n: Force3 { cutting: 1200.0, feed: 420.0, passive: 360.0 },
                power_mean_w: 420.0,
                power_peak_w: 610.0,
                torque_nm: 31.0,
                minutes: 1.3,
            }
        })
        .collect()
}

/// As the dial room says it, with its unit.
fn dial(turns: f64, reading: f64) -> String {
    match turns as u32 {
        0 => format!("{reading:.3} in"),
        1 => format!("1 turn + {reading:.3} in"),
        turns => format!("{turns} turns + {reading:.3} in"),
    }
}
