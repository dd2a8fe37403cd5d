//! What any list of hands must keep, over invented plans.

use proptest::prelude::*;

use super::*;
use crate::plan::*;

/// A set-up of our own making; the numbers only have to differ from one another.
fn set_up(number: u32, face: &str, passes: usize, seat: Option<f64>, measure: Vec<Measure>) -> SetUp {
    let jaw = |jaw: u8, bears_on: &str, contact, packing_mm| JawPlan {
        jaw,
        bears_on: bears_on.to_string(),
        contact,
        packing_mm,
        kept: number > 1 && jaw < 3,
        reach_mm: 20.0 + f64::from(jaw % 2) * 5.0,
    };
    SetUp {
        number,
        cuts_faces: vec![face.to_string()],
        removed_mm3: 900.0,
        jaws: vec![
            jaw(1, "A", ContactKind::Flat, 1.0),
            jaw(2, "bar", ContactKind::LineAcross, 0.0),
            jaw(3, "B", ContactKind::Flat, 1.0),
            jaw(4, "bar", ContactKind::LineAcross, 0.0),
        ],
        seat: seat.map(|packing_mm| Seat { on: "parallels", face: "bar".to_string(), packing_mm, along: None }),
        bite_mm: 31.0,
        stick_out: StickOut { least_mm: 19.0, set_mm: 21.0, most_mm: 23.0 },
        hold: HoldReport {
            slip_factor: Some(2.4),
            point_slip_factor: None,
            lift_factor: None,
            required: 2.0,
            spring_um: 6.0,
            binding: String::new(),
            counted_force_n: 9000.0,
            hand_checks: Vec::new(),
        },
        speed: SpeedReport { set_rpm: 170.0, most_rpm: 181.0, binding: String::new(), edge_power_w: 900.0 },
        passes: (0..passes).map(|at| pass(at, passes)).collect(),
        notes: Vec::new(),
        measure,
        hands: Vec::new(),
        cautions: Vec::new(),
        minutes: Minutes::default(),
        audit: Audit::default(),
    }
}

fn pass(at: usize, of: usize) -> Pass {
    let finish = at + 1 == of;
    Pass {
        kind: if finish { PassKind::Finish } else { PassKind::Rough },
        depth_mm: 0.9,
        total_mm: 0.9 * (at + 1) as f64,
        dial: format!("{:.3} in", 0.035 * (at + 1) as f64),
        dial_turns: 0,
        dial_reading: 0.035 * (at + 1) as f64,
        slide: "depth slide",
        rpm: if finish { 260.0 } else { 170.0 },
        feed_mm_per_rev: 0.1,
        by_hand: false,
        speed_m_per_min: 30.0,
        start_radius_mm: 28.0,
        floor_area_mm2: 800.0,
        in_metal_share: 0.7,
        entries_per_rev: 2,
        removed_mm3: 300.0,
        chip_mm: 0.1,
        force_n: Force3::default(),
        force_safe_n: Force3::default(),
        power_mean_w: 200.0,
        power_peak_w: 300.0,
        torque_nm: 9.0,
        minutes: 1.0,
    }
}

fn measure(when: &str, takes_out: bool) -> Measure {
    Measure {
        what: "width".to_string(),
        nominal_mm: 36.0,
        plus_mm: 0.05,
        minus_mm: 0.05,
        gauge: "micrometer".to_string(),
        when: when.to_string(),
        takes_out,
        over_jaws_mm: None,
    }
}

fn plan(units: Units, set_ups: Vec<SetUp>) -> Plan {
    Plan {
        title: "Foot of a bell frame".to_string(),
        units,
        asked: Asked {
            part: String::new(),
            stock: String::new(),
            material: String::new(),
            lathe: String::new(),
            chuck: String::new(),
            tool: String::new(),
            requirements: Vec::new(),
        },
        outcome: Outcome::Planned,
        stock: StockReport {
            form: "round",
            volume_mm3: 1.0,
            mass_kg: 1.0,
            least_round_mm: 1.0,
            least_round_with_allowance_mm: 1.0,
            least_length_mm: 1.0,
            used_share: 0.5,
        },
        minutes: Minutes::default(),
        set_ups,
        search: Search::default(),
        assumed: Vec::new(),
        cautions: Vec::new(),
    }
}

fn facts(independent: bool) -> Facts {
    Facts {
        independent,
        depth_slide: "top slide".to_string(),
        set_over_deg: 0.0,
        ring: "0.100 in".to_string(),
        counts_twice: false,
        backlash: Some("0.10 mm".to_string()),
        lowest_rpm: Some(45.0),
        feeler: None,
        tool_height: None,
        packing: "soft copper".to_string(),
        ends: vec!["A".to_string(), "B".to_string()],
        left_raw: Vec::new(),
        nose: Nose::Unknown,
        material_caution: None,
    }
}

fn filled(set_ups: Vec<SetUp>) -> Plan {
    let mut plan = plan(Units::Mm, set_ups);
    fill(&mut plan, &facts(true));
    plan
}

fn says(hand: &Hand) -> &str {
    match hand {
        Hand::Do { does, .. } => does,
        Hand::Passes { .. } => "",
        Hand::Stop(_) => "",
    }
}

/// Where a step that holds these words first stands.
fn at(set_up: &SetUp, words: &str) -> usize {
    let found = set_up.hands.iter().position(|hand| says(hand).contains(words));
    found.unwrap_or_else(|| panic!("no step says {words:?}: {:#?}", set_up.hands))
}

fn passes_taken(set_up: &SetUp) -> Vec<usize> {
    let groups = set_up.hands.iter().filter_map(|hand| match hand {
        Hand::Passes { from, to } => Some(*from..*to),
        _ => None,
    });
    groups.flatten().collect()
}

fn stops(set_up: &SetUp) -> Vec<usize> {
    let stops = set_up.hands.iter().filter_map(|hand| match hand {
        Hand::Stop(index) => Some(*index),
        _ => None,
    });
    stops.collect()
}

fn all_text(plan: &Plan) -> String {
    let mut text = plan.cautions.join("\n");
    for set_up in &plan.set_ups {
        for hand in &set_up.hands {
            if let Hand::Do { does, why } = hand {
                text.push_str(&format!("\n{does}\n{}", why.as_deref().unwrap_or_default()));
            }
        }
        text.push_str(&set_up.cautions.join("\n"));
    }
    text
}

prop_compose! {
    fn any_measures()(measures in prop::collection::vec((any::<bool>(), any::<bool>()), 0..5)) -> Vec<Measure> {
        let when = |before| if before { BEFORE_LAST_CUT } else { AFTER_LAST_CUT };
        measures.into_iter().map(|(before, out)| measure(when(before), out)).collect()
    }
}

proptest! {
    #[test]
    fn every_pass_once_and_in_order_every_measure_once(
        passes in 0_usize..9, seat in prop::option::of(0.0_f64..20.0), measures in any_measures(), independent: bool,
    ) {
        let count = measures.len();
        let mut plan = plan(Units::Inch, vec![set_up(1, "C", passes, seat, measures)]);
        fill(&mut plan, &facts(independent));
        let set_up = &plan.set_ups[0];
        prop_assert_eq!(passes_taken(set_up), (0..passes).collect::<Vec<_>>());
        let mut stops = stops(set_up);
        stops.sort_unstable();
        prop_assert_eq!(stops, (0..count).collect::<Vec<_>>());
        prop_assert!(set_up.cautions.len() <= MOST_CAUTIONS);
    }

    #[test]
    fn a_measure_before_the_last_cut_stands_before_it_and_the_others_after(
        passes in 1_usize..9, measures in any_measures(),
    ) {
        let plan = filled(vec![set_up(1, "C", passes, None, measures)]);
        let set_up = &plan.set_ups[0];
        let last = set_up.hands.iter().position(|hand| matches!(hand, Hand::Passes { to, .. } if *to == passes));
        for (place, hand) in set_up.hands.iter().enumerate() {
            if let Hand::Stop(index) = hand {
                let before = set_up.measure[*index].when == BEFORE_LAST_CUT;
                prop_assert_eq!(before, Some(place) < last);
            }
        }
    }
}

#[test]
fn the_order_is_that_of_the_trade() {
    let plan = filled(vec![
        set_up(1, "C", 4, Some(10.0), vec![measure(BEFORE_LAST_CUT, false)]),
        set_up(2, "E", 4, Some(12.0), vec![measure(BEFORE_LAST_CUT, false)]),
    ]);
    let order = [
        "loosen only jaws 3 and 4, take the piece out; leave jaws 1 and 2 alone.",
        "Letter the face just cut: C",
        "Deburr",
        "Wipe",
        "Jaws 3 and 4 only let go and close again",
        "parallels on the chuck face",
        "soft copper under jaws 1 and 3",
        "past the widest line",
        "close jaws 3 and 4 lightly",
        "Tap the work down",
        "Tighten jaws 3 and 4",
        "Take the chuck key out",
        "count them back",
        "Pull at each piece of packing",
        "Check the stick-out",
        "Lock the carriage",
        "find the high line of the round",
        "feeler just drags",
        "ring to 0",
        "one full turn by hand",
        "Chalk line over each jaw",
        "shut the guard",
        "First start as before, at 45 rpm",
        "set 170 rpm",
        "Look at the chalk line",
        "Tighten jaws 3 and 4 once more",
        "Touch off again",
        "Correct the last dial reading",
        "set 260 rpm",
        "try a square from A and B to E",
        "take the piece out and letter the face just cut: E",
        "Break every edge",
    ];
    let places: Vec<usize> = order.iter().map(|words| at(&plan.set_ups[1], words)).collect();
    assert!(places.is_sorted(), "{:?}", order.iter().zip(&places).collect::<Vec<_>>());
}

#[test]
fn the_key_is_out_before_every_start_and_the_carriage_locked_before_the_touch() {
    let plan = filled(vec![set_up(1, "C", 3, Some(8.0), vec![measure(BEFORE_LAST_CUT, true)])]);
    let set_up = &plan.set_ups[0];
    let mut key_in = false;
    let mut locked = false;
    for hand in &set_up.hands {
        let text = says(hand);
        // Where the jaws are tightened the key is in; a step that ends with the key out takes it out again.
        let tightens = ["round the jaws", "Tighten", "tight, twice round"].iter().any(|words| text.contains(words));
        key_in = (key_in || tightens) && !text.contains("chuck key out");
        locked |= text.contains("Lock the carriage");
        assert!(!(key_in && (text.contains("start") || matches!(hand, Hand::Passes { .. }))), "key in at {hand:?}");
        assert!(locked || !text.contains("feeler"), "unlocked at {text}");
    }
}

#[test]
fn the_parallels_are_out_before_the_first_start_also_after_measuring_outside_the_chuck() {
    let plan = filled(vec![set_up(1, "C", 3, Some(8.0), vec![measure(BEFORE_LAST_CUT, true)])]);
    let out = plan.set_ups[0].hands.iter().filter(|hand| says(hand).contains("count them back")).count();
    assert_eq!(out, 2);
    assert!(at(&plan.set_ups[0], "count them back") < at(&plan.set_ups[0], "First start"));
}

#[test]
fn what_needs_the_piece_held_comes_before_what_needs_it_loose() {
    let measures = vec![measure(AFTER_LAST_CUT, true), measure(AFTER_LAST_CUT, false)];
    let plan = filled(vec![set_up(1, "C", 3, None, measures)]);
    let set_up = &plan.set_ups[0];
    assert_eq!(stops(set_up), [1, 0]);
    let out = at(set_up, "loosen the jaws, take it out");
    assert!(at(set_up, "try a square from A and B to C") < out);
    assert!(set_up.hands.iter().skip(out).any(|hand| *hand == Hand::Stop(0)));
}

#[test]
fn a_piece_that_comes_out_for_the_next_set_up_is_measured_on_the_bench_and_keeps_the_jaws_left_alone() {
    let on_the_bench = measure("with the piece out of the jaws, before the next set-up", false);
    let plan = filled(vec![set_up(1, "C", 3, None, vec![on_the_bench]), set_up(2, "E", 3, None, Vec::new())]);
    let out = at(&plan.set_ups[0], "loosen only jaws 3 and 4, take the piece out; leave jaws 1 and 2 alone");
    assert_eq!(plan.set_ups[0].hands.last(), Some(&Hand::Stop(0)));
    assert!(out < at(&plan.set_ups[0], "Deburr the new edges before you measure"));
}

#[test]
fn a_caution_that_planning_gave_about_the_corners_stands_at_its_step_and_is_not_said_twice() {
    let given = "Warning: corners swing 56.00 mm across and cannot be seen turning.".to_string();
    let mut set_up = set_up(1, "C", 3, None, Vec::new());
    set_up.jaws.iter_mut().for_each(|jaw| jaw.packing_mm = 0.0);
    set_up.cautions.push(given.clone());
    let plan = filled(vec![set_up]);
    let given = given.replace("Warning", "WARNING");
    assert_eq!(plan.set_ups[0].cautions, std::slice::from_ref(&given));
    let whys =
        plan.set_ups[0].hands.iter().filter(|hand| matches!(hand, Hand::Do { why: Some(why), .. } if *why == given));
    assert_eq!(whys.count(), 1);
    assert!(!all_text(&plan).contains("turning corners"));
}

#[test]
fn levers_are_set_before_the_guard_is_shut_for_the_next_pass() {
    let plan = filled(vec![set_up(1, "C", 4, None, vec![measure(BEFORE_LAST_CUT, false)])]);
    let hands = &plan.set_ups[0].hands;
    for (place, hand) in
        hands.iter().enumerate().filter(|(_, hand)| matches!(hand, Hand::Passes { from, .. } if *from > 0))
    {
        assert!(says(&hands[place - 1]).contains("guard shut"), "{hand:?}");
    }
}

#[test]
fn what_is_touched_again_is_set_to_what_the_last_pass_read() {
    let plan = filled(vec![set_up(1, "C", 4, None, Vec::new())]);
    let step = says(&plan.set_ups[0].hands[at(&plan.set_ups[0], "Touch off again")]);
    assert!(step.contains("0.035 in"), "{step}");
}

#[test]
fn a_reason_is_told_once_in_a_plan() {
    let plan = filled(vec![set_up(1, "C", 3, Some(8.0), Vec::new()), set_up(2, "E", 3, Some(8.0), Vec::new())]);
    let mut reasons: Vec<&String> = plan
        .set_ups
        .iter()
        .flat_map(|set_up| set_up.hands.iter().map(|hand| (hand, &set_up.cautions)))
        .filter_map(|(hand, cautions)| match hand {
            Hand::Do { why: Some(why), .. } if !cautions.contains(why) => Some(why),
            _ => None,
        })
        .collect();
    let told = reasons.len();
    reasons.sort();
    reasons.dedup();
    assert_eq!(reasons.len(), told);
}

#[test]
fn the_five_sentences_head_every_plan_also_an_impossible_one() {
    for plan in [filled(Vec::new()), filled(vec![set_up(1, "C", 2, None, Vec::new())])] {
        let head: Vec<&str> = plan.cautions.iter().take(5).map(String::as_str).collect();
        assert_eq!(head, FIVE_SENTENCES);
    }
}

#[test]
fn filling_twice_changes_nothing() {
    let once = filled(vec![set_up(1, "C", 3, Some(8.0), vec![measure(BEFORE_LAST_CUT, false)])]);
    let mut twice = once.clone();
    fill(&mut twice, &facts(true));
    assert_eq!(once, twice);
}

/// `words.md` of the shop: words that mean two things, and promises that nobody can keep.
#[test]
fn no_forbidden_word() {
    let plan = filled(vec![
        set_up(1, "A", 1, None, vec![measure(AFTER_LAST_CUT, true)]),
        set_up(2, "C", 5, Some(8.0), vec![measure(BEFORE_LAST_CUT, true)]),
    ]);
    let text = all_text(&plan).to_lowercase();
    let words: Vec<&str> = text.split(|letter: char| !letter.is_alphabetic()).collect();
    for word in ["safe", "safely", "guaranteed", "tenth", "clock", "saddle", "gage"] {
        assert!(!words.contains(&word), "{word}");
    }
    for phrase in ["will hold", "back off", "diameter cut"] {
        assert!(!text.contains(phrase), "{phrase}");
    }
}

#[test]
fn uk_words_for_millimetres_us_words_for_inches() {
    let set_ups = || vec![set_up(1, "C", 2, Some(8.0), Vec::new())];
    let mut inch = plan(Units::Inch, set_ups());
    fill(&mut inch, &facts(true));
    let (uk, us) = (all_text(&filled(set_ups())), all_text(&inch));
    assert!(uk.contains("on centre height") && uk.contains("chuck key"));
    assert!(us.contains("on center height") && us.contains("chuck wrench"));
    assert!(!us.contains("centre") && !us.contains("chuck key"));
}

#[test]
fn a_self_centring_chuck_is_never_told_to_move_one_jaw() {
    let mut plan = plan(Units::Mm, vec![set_up(1, "C", 3, None, Vec::new())]);
    fill(&mut plan, &facts(false));
    let text = all_text(&plan);
    assert!(!text.contains("crosswise") && !text.to_lowercase().contains("loosen only"));
}
