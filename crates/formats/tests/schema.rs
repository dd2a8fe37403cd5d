//! The JSON of a plan has every key of the public agreement, in its order.
//!
//! The lists are copied from the agreement by hand, not from our output. Keys beyond them are
//! additions, which the agreement allows.
#![allow(missing_docs)]

use engine::plan::*;
use engine::quantity::Units;
use formats::plan::to_json;
use serde_json::Value;

const ROOT: &[&str] = &[
    "schema",
    "outcome",
    "reasons",
    "stock",
    "minutes",
    "set_ups",
    "quality",
    "chance",
    "chance_error",
    "search",
    "assumed",
    "cautions",
];
const QUALITY: &[&str] = &["requirement", "kind", "limit_mm", "middle_mm", "spread_mm", "chance", "causes"];
const REASON: &[&str] = &["rule", "where", "says", "value", "limit", "unit", "way_out"];
const STOCK: &[&str] = &[
    "form",
    "volume_mm3",
    "mass_kg",
    "least_round_mm",
    "least_round_with_allowance_mm",
    "least_length_mm",
    "used_share",
];
const MINUTES: &[&str] = &["handling", "cutting", "measuring", "total"];
const SET_UP: &[&str] = &[
    "number",
    "cuts_faces",
    "removed_mm3",
    "jaws",
    "seat",
    "bite_mm",
    "stick_out_mm",
    "hold",
    "speed",
    "passes",
    "measure",
];
const JAW: &[&str] = &["jaw", "bears_on", "contact", "packing_mm", "kept"];
const SEAT: &[&str] = &["on", "face", "packing_mm"];
const STICK_OUT: &[&str] = &["least", "set", "most"];
const HOLD: &[&str] =
    &["slip_factor", "point_slip_factor", "lift_factor", "hold_factor", "required", "spring_um", "binding"];
const SPEED: &[&str] = &["set_rpm", "most_rpm", "binding"];
const PASS: &[&str] = &[
    "kind",
    "depth_mm",
    "total_mm",
    "dial",
    "dial_turns",
    "dial_reading",
    "slide",
    "rpm",
    "feed_mm_per_rev",
    "by_hand",
    "speed_m_per_min",
    "start_radius_mm",
    "floor_area_mm2",
    "in_metal_share",
    "entries_per_rev",
    "removed_mm3",
    "chip_mm",
    "force_n",
    "force_safe_n",
    "power_w",
    "torque_nm",
    "minutes",
];
const FORCE: &[&str] = &["cutting", "feed", "passive"];
const POWER: &[&str] = &["mean", "peak"];
const MEASURE: &[&str] = &["what", "nominal_mm", "plus_mm", "minus_mm", "gauge", "when"];
const SEARCH: &[&str] = &["plans_possible", "examined", "cut_off", "proven_best"];
const ASSUMED: &[&str] = &["what", "value", "source"];
const AUDIT: &[&str] =
    &["contacts", "seat_points", "pairs", "steady_loads", "mass_centre_mm", "cut_loads", "last_hold_load"];
const SURFACE: &[&str] = &["pass", "highest", "lowest", "from_flat_um", "towards"];
const PLACE: &[&str] = &["radius_mm", "angle_deg", "left_um"];
const RAY: &[&str] = &["angle_deg", "from_mm", "to_mm", "left_um"];
const CONTACT: &[&str] = &[
    "jaw",
    "at_mm",
    "inward",
    "normal_stiffness_n_per_mm",
    "tangential_stiffness_n_per_mm",
    "friction",
    "preload_n",
    "preload_friction_n",
];
const CUT_LOAD: &[&str] = &["pass", "at_mm", "force_n", "weight_n"];

fn in_order(value: &Value, keys: &[&str], additions: &[&str]) {
    let there: Vec<&str> = value.as_object().expect("an object").keys().map(String::as_str).collect();
    let agreed: Vec<&str> = there.iter().copied().filter(|key| !additions.contains(key)).collect();
    assert_eq!(agreed, keys);
    assert!(additions.iter().all(|key| there.contains(key)), "{additions:?} in {there:?}");
}

fn force(cutting: f64) -> Force3 {
    Force3 { cutting, feed: cutting / 3.0, passive: 0.1 + 0.2 }
}

fn pass() -> Pass {
    Pass {
        kind: PassKind::CleanUp,
        depth_mm: 1.5,
        total_mm: 1.5,
        dial: "0 turns + 59 marks".to_string(),
        dial_turns: 0,
        dial_reading: 0.059,
        slide: "depth slide",
        rpm: 315.0,
        feed_mm_per_rev: 0.09,
        by_hand: false,
        speed_m_per_min: 50.0,
        start_radius_mm: 25.0,
        floor_area_mm2: 1296.0,
        in_metal_share: 0.8,
        entries_per_rev: 4,
        removed_mm3: 1944.0,
        chip_mm: 0.087,
        force_n: force(300.0),
        force_safe_n: force(400.0),
        power_mean_w: 200.0,
        power_peak_w: 260.0,
        torque_nm: 9.5,
        minutes: 0.9,
    }
}

fn audit() -> Audit {
    let contact = AuditContact {
        jaw: 1,
        at_mm: [18.0, 5.0, -20.0],
        inward: [-1.0, 0.0, 0.0],
        normal_stiffness_n_per_mm: 15_000.0,
        tangential_stiffness_n_per_mm: 12_300.0,
        friction: 0.12,
        preload_n: 2600.0,
        preload_friction_n: [0.0, -0.0, f64::NAN],
    };
    let load =
        AuditLoad { pass: 0, at_mm: [25.0, 0.0, 10.0], force_n: [-100.0, -300.0, -80.0], weight_n: [0.0, -9.0, 0.0] };
    Audit {
        contacts: vec![contact],
        seat_points: vec![([12.0, -7.0, -20.0], 9000.0)],
        pairs: vec![(vec![1, 3], 20_800.0)],
        steady_loads: vec![("unbalance".to_string(), [0.0; 3], [1.0, 0.0, 0.0])],
        mass_centre_mm: [0.0, 0.0, 3.0],
        cut_loads: vec![load],
        last_hold_load: Some(load),
    }
}

fn surface() -> Surface {
    let place = |left_um| SurfacePlace { radius_mm: 20.0, angle_deg: 95.0, left_um };
    Surface {
        pass: 1,
        highest: place(6.5),
        lowest: place(f64::NAN),
        towards: "towards jaw 2".to_string(),
        rays: vec![SurfaceRay { angle_deg: 95.0, from_mm: 0.0, to_mm: 20.0, left_um: vec![2.0, -0.0, 6.5] }],
    }
}

fn set_up() -> SetUp {
    SetUp {
        number: 1,
        cuts_faces: vec!["A".to_string()],
        removed_mm3: 5000.0,
        jaws: vec![JawPlan {
            jaw: 1,
            bears_on: "bar".to_string(),
            contact: ContactKind::LineAlong,
            packing_mm: 0.0,
            kept: false,
            reach_mm: 29.0,
            mark: Some(Mark { grade: "burnish", pressure_mpa: Some(761.0), limit_mpa: 617.9, beyond_yield: None }),
            vee: None,
        }],
        seat: Some(Seat { on: "parallels", face: "bar".to_string(), packing_mm: 12.0, along: None, stop_mm: None }),
        angle: None,
        bite_mm: 30.0,
        stick_out: StickOut { least_mm: 9.0, set_mm: 14.0, most_mm: 20.0 },
        hold: HoldReport {
            slip_factor: Some(2.6),
            worn_slip_factor: Some(1.6),
            point_slip_factor: None,
            lift_factor: Some(f64::INFINITY),
            last_hold: Some(LastHoldReport {
                factor: 5.2,
                at_least: 5.19,
                required: 2.25,
                pass: 1,
                radius_mm: 25.0,
                angle_deg: 338.0,
                goes: "turn in the jaws",
                solved: 47,
            }),
            round: None,
            required: 2.0,
            spring_um: 7.0,
            surface: Some(surface()),
            binding: "slip of jaw 2, pass 1 at 40 deg".to_string(),
            counted_force_n: 10_400.0,
            permitted_rpm: Some(1890.0),
            mass_kg: 0.62,
            unbalance_n: 0.0,
            unbalance_most_n: 82.4,
            hand_checks: vec!["torque: 12 of 70 N m".to_string()],
            weak: true,
            firmer: vec![Firmer { says: "rough cuts half as deep".to_string(), slip_factor: 4.9 }],
        },
        speed: SpeedReport {
            set_rpm: 315.0,
            most_rpm: 402.0,
            binding: "cutting speed".to_string(),
            edge_power_w: 900.0,
        },
        passes: vec![pass()],
        notes: Vec::new(),
        measure: vec![Measure {
            what: "A to B".to_string(),
            nominal_mm: 44.0,
            plus_mm: 0.1,
            minus_mm: 0.1,
            gauge: "micrometer 25-50".to_string(),
            when: "after the last pass".to_string(),
            takes_out: true,
            over_bar: false,
            over_jaws_mm: None,
            table: None,
        }],
        hands: vec![
            Hand::Do { does: "Tighten jaws 1 and 3.".to_string(), why: None },
            Hand::Passes { from: 0, to: 1 },
            Hand::Stop(0),
        ],
        cautions: vec!["Key out of the chuck.".to_string()],
        minutes: Minutes { handling: 6.0, cutting: 1.0, measuring: 2.0 },
        audit: audit(),
        held: Held::default(),
        workings: Vec::new(),
    }
}

fn forecast() -> Forecast {
    Forecast {
        qualities: vec![Quality {
            requirement: "C square to A".to_string(),
            faces: vec!["C".to_string(), "A".to_string()],
            kind: "square",
            lower_mm: 0.0,
            upper_mm: 0.06,
            from: "the drawing".to_string(),
            middle_mm: 0.017,
            spread_mm: 0.012,
            chance: Chance { share: 0.995, error: 0.001 },
            causes: vec![CauseShare { of: "tilt of jaw 1".to_string(), share: 1.0 }],
            linear: LinearCheck {
                rows: vec![LinearRow { constant_mm: 0.0, coefficients_mm: vec![0.01] }],
                turns: Vec::new(),
                least_mm: None,
                most_mm: 0.06,
                zone_form_mm: Some(0.001),
            },
        }],
        per_good: Some(PerGood { minutes: 90.0, compared_minutes: 91.0, least_minutes: Some(88.5), tried: 12 }),
        chance: Chance { share: 0.9, error: 0.002 },
        pieces: 4096,
        seed: 1,
        from: vec![Assumed { what: "dirt".to_string(), value: "2 um".to_string(), source: "assumed".to_string() }],
        noises: vec!["tilt of jaw 1".to_string()],
    }
}

fn weighed() -> Weighed {
    let choice = Choice {
        best_for: vec!["balanced", "truest"],
        order: "A, B, C on parallels".to_string(),
        minutes: 80.0,
        chance: Chance { share: 0.9, error: 0.002 },
        per_good_minutes: 90.0,
        taken: true,
    };
    let none_good = Choice { per_good_minutes: f64::INFINITY, taken: false, ..choice.clone() };
    Weighed {
        choices: vec![choice],
        runner_up: Some(RunnerUp { plan: none_good, loses: "none of 100 good instead of 90".to_string() }),
        helps: vec![Help {
            change: "a gauge of half the uncertainty".to_string(),
            chance: Chance { share: 0.95, error: 0.001 },
            per_good_minutes: 85.0,
        }],
        blocking: Some(Blocking {
            causes: vec!["dirt on what bears".to_string()],
            without: Chance { share: 0.8, error: 0.002 },
            fails: Vec::new(),
        }),
    }
}

fn plan(outcome: Outcome) -> Plan {
    Plan {
        weighed: Some(weighed()),
        title: "Guide block".to_string(),
        units: Units::Mm,
        asked: Asked {
            part: "block".to_string(),
            stock: "round bar".to_string(),
            material: "steel".to_string(),
            lathe: "lathe".to_string(),
            chuck: "chuck".to_string(),
            tool: "tool".to_string(),
            limits: Vec::new(),
            requirements: vec!["flat 0.03 mm".to_string()],
            gauges: Vec::new(),
        },
        outcome,
        stock: StockReport {
            form: "round",
            volume_mm3: 132_103.97,
            mass_kg: 1.037,
            least_round_mm: 50.911_688_245_431_42,
            least_round_with_allowance_mm: 54.0,
            least_length_mm: 46.0,
            used_share: 0.43,
        },
        stock_choice: None,
        minutes: Minutes { handling: 6.0, cutting: 1.0, measuring: 2.0 },
        set_ups: vec![set_up()],
        forecast: Some(forecast()),
        search: Search { plans_possible: 1.2e20, examined: 77, cut_off: 12, proven_best: true },
        assumed: vec![Assumed { what: "friction".to_string(), value: "0.15".to_string(), source: "table".to_string() }],
        cautions: vec!["Read with the spindle at rest.".to_string()],
        scene: Scene::default(),
        workings: Vec::new(),
    }
}

fn parsed(plan: &Plan, audit: bool) -> Value {
    serde_json::from_str(&to_json(plan, audit)).expect("JSON")
}

const STOCK_CHOICE: &[&str] = &["material", "best", "says", "bars"];
const BAR: &[&str] = &[
    "bar",
    "form",
    "sizes_mm",
    "length_mm",
    "surface",
    "of_the_job",
    "mass_kg",
    "used_share",
    "blank_minutes",
    "outcome",
    "minutes",
    "chance",
    "per_good_minutes",
    "least_minutes",
    "rule",
    "says",
];

/// The bars that one was chosen from: an addition, null where the job gives its bar.
#[test]
fn bars_that_one_was_chosen_from_stand_beside_the_bar() {
    let row = |comes| StockRow {
        bar: "flat 50 x 40 mm".to_string(),
        form: "flat",
        sizes_mm: (50.0, Some(40.0)),
        length_mm: 47.0,
        surface: "drawn",
        of_the_job: false,
        mass_kg: 0.74,
        used_share: 0.6,
        blank_minutes: 10.0,
        comes,
    };
    let chance = Chance { share: 0.93, error: 0.001 };
    let choice = StockChoice {
        rows: vec![
            row(StockComes::Planned { minutes: 61.0, chance, per_good_minutes: Some(76.5) }),
            row(StockComes::Slower { least_minutes: 97.5 }),
            row(StockComes::NotLookedAt),
            row(StockComes::Impossible { rule: "bar-too-thin", says: "too thin".to_string() }),
        ],
        best: Some(0),
        says: "flat".to_string(),
        material: "steel".to_string(),
    };
    let mut plan = plan(Outcome::Planned);
    let json: Value = serde_json::from_str(&to_json(&plan, false)).expect("JSON");
    assert_eq!(json["stock_choice"], Value::Null);
    plan.stock_choice = Some(choice);
    let json: Value = serde_json::from_str(&to_json(&plan, false)).expect("JSON");
    in_order(&json["stock_choice"], STOCK_CHOICE, &[]);
    let bars = json["stock_choice"]["bars"].as_array().expect("a list");
    bars.iter().for_each(|bar| in_order(bar, BAR, &[]));
    let outcomes: Vec<&str> = bars.iter().filter_map(|bar| bar["outcome"].as_str()).collect();
    assert_eq!(outcomes, ["planned", "slower", "not looked at", "impossible"]);
    assert_eq!(bars[0]["sizes_mm"], serde_json::json!([50.0, 40.0]));
    assert_eq!((&bars[0]["per_good_minutes"], &bars[0]["least_minutes"]), (&serde_json::json!(76.5), &Value::Null));
    assert_eq!(
        (&bars[1]["least_minutes"], &bars[3]["rule"]),
        (&serde_json::json!(97.5), &serde_json::json!("bar-too-thin"))
    );
}

#[test]
fn every_key_of_the_agreement_is_there_in_order() {
    let reason = Reason {
        rule: "bar-too-thin",
        place: "stock".to_string(),
        says: "too thin".to_string(),
        value: 32.0,
        limit: 35.36,
        unit: "mm",
        way_out: "a bar of 38 mm".to_string(),
    };
    let json = parsed(&plan(Outcome::Impossible(vec![reason])), true);
    in_order(&json, ROOT, &["title", "units", "asked", "stock_choice", "forecast", "weighed"]);
    in_order(&json["reasons"][0], REASON, &[]);
    in_order(&json["stock"], STOCK, &[]);
    in_order(&json["minutes"], MINUTES, &[]);
    in_order(&json["quality"][0], QUALITY, &["lower_mm", "from", "chance_error"]);
    in_order(&json["quality"][0]["causes"][0], &["of", "share"], &[]);
    in_order(&json["search"], SEARCH, &[]);
    in_order(&json["assumed"][0], ASSUMED, &[]);
    let set_up = &json["set_ups"][0];
    in_order(set_up, SET_UP, &["angle", "notes", "hands", "cautions", "minutes", "audit"]);
    in_order(&set_up["jaws"][0], JAW, &["reach_mm", "mark", "vee"]);
    in_order(&set_up["jaws"][0]["mark"], &["grade", "pressure_mpa", "limit_mpa"], &[]);
    in_order(&set_up["seat"], SEAT, &["stop_mm"]);
    in_order(&set_up["stick_out_mm"], STICK_OUT, &[]);
    in_order(
        &set_up["hold"],
        HOLD,
        &[
            "counted_force_n",
            "surface",
            "permitted_rpm",
            "mass_kg",
            "unbalance_n",
            "unbalance_most_n",
            "hand_checks",
            "last_hold",
            "worn_slip_factor",
            "firmer",
        ],
    );
    in_order(&set_up["hold"]["surface"], SURFACE, &[]);
    in_order(&set_up["hold"]["surface"]["highest"], PLACE, &[]);
    in_order(&set_up["hold"]["surface"]["lowest"], PLACE, &[]);
    in_order(&set_up["audit"]["surface_rays"][0], RAY, &[]);
    in_order(&set_up["speed"], SPEED, &["edge_power_w"]);
    in_order(&set_up["passes"][0], PASS, &[]);
    in_order(&set_up["passes"][0]["force_n"], FORCE, &[]);
    in_order(&set_up["passes"][0]["force_safe_n"], FORCE, &[]);
    in_order(&set_up["passes"][0]["power_w"], POWER, &[]);
    in_order(&set_up["measure"][0], MEASURE, &["takes_out", "over_bar", "over_jaws_mm", "table"]);
    in_order(&set_up["audit"], AUDIT, &["surface_rays"]);
    in_order(&set_up["audit"]["contacts"][0], CONTACT, &[]);
    in_order(&set_up["audit"]["seat_points"][0], &["at_mm", "stiffness_n_per_mm"], &[]);
    in_order(&set_up["audit"]["pairs"][0], &["jaws", "total_n"], &[]);
    in_order(&set_up["audit"]["steady_loads"][0], &["what", "at_mm", "force_n"], &[]);
    in_order(&set_up["audit"]["cut_loads"][0], CUT_LOAD, &[]);
}

#[test]
fn words_and_numbers_are_those_of_the_agreement() {
    let json = parsed(&plan(Outcome::Planned), false);
    assert_eq!(json["schema"], "turnwright/plan/2");
    assert_eq!(json["outcome"], "planned");
    assert_eq!(json["reasons"], serde_json::json!([]));
    assert_eq!((&json["quality"][0]["limit_mm"], &json["chance"]), (&serde_json::json!(0.06), &serde_json::json!(0.9)));
    let without = parsed(&Plan { forecast: None, ..plan(Outcome::Planned) }, false);
    assert_eq!((&without["quality"], &without["chance"]), (&serde_json::json!([]), &Value::Null));
    let set_up = &json["set_ups"][0];
    assert!(set_up.get("audit").is_none(), "no audit unless asked for");
    assert_eq!(set_up["jaws"][0]["contact"], "line along");
    assert_eq!(set_up["passes"][0]["kind"], "clean-up");
    assert_eq!(set_up["passes"][0]["force_n"]["passive"], 0.3);
    assert_eq!(set_up["hold"]["hold_factor"], 5.2);
    assert_eq!(set_up["hold"]["point_slip_factor"], Value::Null);
    assert_eq!(set_up["hold"]["lift_factor"], Value::Null, "a factor without limit is null");
    assert_eq!(json["stock"]["least_round_mm"], 50.9116882, "36 times the root of 2, nine digits");
    assert_eq!(json["minutes"]["total"], 9.0);
}

#[test]
fn the_text_ends_its_last_line_and_comes_out_the_same_every_time() {
    let text = to_json(&plan(Outcome::Planned), true);
    assert!(text.starts_with("{\n  \"schema\": \"turnwright/plan/2\",\n") && text.ends_with("}\n"));
    assert_eq!(text, to_json(&plan(Outcome::Planned), true));
    assert!(!text.contains("NaN") && !text.contains("inf,") && !text.contains("-0.0"));
}
