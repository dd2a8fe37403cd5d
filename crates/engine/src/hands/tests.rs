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
        mark: None,
        vee: None,
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
        seat: seat.map(|packing_mm| Seat {
            on: "parallels",
            face: "bar".to_string(),
            packing_mm,
            along: None,
            stop_mm: None,
        }),
        angle: None,
        bite_mm: 31.0,
        stick_out: StickOut { least_mm: 19.0, set_mm: 21.0, most_mm: 23.0 },
        hold: HoldReport {
            slip_factor: Some(2.4),
            worn_slip_factor: None,
            point_slip_factor: None,
            lift_factor: None,
            last_hold: None,
            round: None,
            required: 2.0,
            spring_um: 6.0,
            surface: None,
            binding: String::new(),
            counted_force_n: 9000.0,
            permitted_rpm: Some(1890.0),
            mass_kg: 0.62,
            unbalance_n: 0.0,
            unbalance_most_n: 82.4,
            hand_checks: Vec::new(),
            weak: false,
            firmer: Vec::new(),
        },
        speed: SpeedReport { set_rpm: 170.0, most_rpm: 181.0, binding: String::new(), edge_power_w: 900.0 },
        passes: (0..passes).map(|at| pass(at, passes)).collect(),
        notes: Vec::new(),
        measure,
        hands: Vec::new(),
        cautions: Vec::new(),
        minutes: Minutes::default(),
        audit: Audit::default(),
        held: Held::default(),
        workings: Vec::new(),
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
        over_bar: false,
        over_jaws_mm: None,
        table: None,
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
            limits: Vec::new(),
            requirements: Vec::new(),
            gauges: Vec::new(),
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
        stock_choice: None,
        minutes: Minutes::default(),
        set_ups,
        forecast: None,
        weighed: None,
        search: Search::default(),
        assumed: Vec::new(),
        cautions: Vec::new(),
        scene: Scene::default(),
        workings: Vec::new(),
    }
}

fn facts(independent: bool) -> Facts {
    Facts {
        independent,
        jaws_reversed: false,
        tight_torque: None,
        tight_with: None,
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
        opposites: Vec::new(),
        ring_counts: None,
        left_raw: Vec::new(),
        off_axis_mm: 2.0,
        spare_stick_out_mm: 0.5,
        over_the_bar: Vec::new(),
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
        "Jaws 3 and 4 are only loosened and close again",
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
        "touch off there as before",
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
    let out = at(set_up, "take the piece out");
    assert!(at(set_up, "try a square from A and B to C") < out);
    assert!(set_up.hands.iter().skip(out).any(|hand| *hand == Hand::Stop(0)));
}

#[test]
fn a_piece_that_comes_out_for_the_next_set_up_is_measured_on_the_bench_and_keeps_the_jaws_left_alone() {
    let on_the_bench = measure("with the piece out of the jaws, before the next set-up", false);
    let plan = filled(vec![set_up(1, "C", 3, None, vec![on_the_bench]), set_up(2, "E", 3, None, Vec::new())]);
    let out = at(&plan.set_ups[0], "loosen only jaws 3 and 4, take the piece out; leave jaws 1 and 2 alone");
    let [.., stop, off] = &plan.set_ups[0].hands[..] else { panic!("{plan:?}") };
    assert!(*stop == Hand::Stop(0) && says(off).contains("Under its limits"), "{off:?}");
    assert!(out < at(&plan.set_ups[0], "Deburr the new edges before you measure"));
}

#[test]
fn a_stick_out_with_nothing_to_spare_says_what_to_do_if_it_is_less() {
    let mut bare = set_up(1, "C", 3, None, Vec::new());
    bare.stick_out.least_mm = bare.stick_out.set_mm;
    let plan = filled(vec![bare.clone()]);
    assert!(all_text(&plan).contains("If it is less, draw the work out as much: only 0.00 mm is to spare."));
    bare.stick_out.least_mm = bare.stick_out.set_mm - 0.5;
    assert!(!all_text(&filled(vec![bare])).contains("to spare"));
}

/// Read alone, as a caution is: a word for a thing stands before the word that points back to it.
#[test]
fn no_caution_says_it_before_the_thing_is_named() {
    let plan = filled(vec![set_up(1, "C", 3, None, Vec::new()), set_up(2, "E", 3, None, Vec::new())]);
    assert!(all_text(&plan).contains("a chuck key left in the chuck is thrown at the first turn"));
    let whys = plan.set_ups.iter().flat_map(|set_up| &set_up.hands).filter_map(|hand| match hand {
        Hand::Do { why: Some(why), .. } => Some(why),
        _ => None,
    });
    let own = plan.set_ups.iter().flat_map(|set_up| &set_up.cautions);
    let all: Vec<&String> =
        plan.cautions.iter().chain(own).chain(whys).filter(|text| Signal::of(text).is_some()).collect();
    assert!(all.len() > 6, "{all:?}");
    for text in all {
        let says = text.split_once(": ").map_or(text.as_str(), |(_, says)| says).to_lowercase();
        let words: Vec<&str> = says.split([' ', ',', '.', ';', ':']).filter(|word| !word.is_empty()).collect();
        let points = words.iter().position(|word| ["it", "its", "they", "them"].contains(word));
        let noun = |words: &[&str]| {
            let known = [
                "key", "wrench", "face", "faces", "piece", "chuck", "cloth", "lathe", "corners", "parallel", "packing",
            ];
            words.iter().any(|word| known.contains(word))
        };
        // "if", "in the chuck" and their like open nothing: the thing itself must be told first.
        let opens_bare = words.first().is_some_and(|word| ["left", "it", "its", "they"].contains(word));
        assert!(!opens_bare && points.is_none_or(|at| noun(&words[..at])), "{text}");
    }
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

/// A plan of set-ups that stop in the chuck, one after the other.
fn two_in_the_chuck() -> Plan {
    let next = || vec![measure(BEFORE_LAST_CUT, false)];
    filled(vec![set_up(1, "C", 4, Some(10.0), next()), set_up(2, "E", 4, Some(12.0), next())])
}

/// How often the steps of a set-up say these words, whatever the case.
fn times(set_up: &SetUp, words: &str) -> usize {
    set_up.hands.iter().map(|hand| says(hand).to_lowercase().matches(words).count()).sum()
}

#[test]
fn the_piece_comes_out_once_between_two_set_ups_and_is_deburred_after_that() {
    let inside = two_in_the_chuck();
    assert_eq!(at(&inside.set_ups[1], "loosen only jaws 3 and 4, take the piece out"), 0);
    assert_eq!(times(&inside.set_ups[0], "take the piece out") + times(&inside.set_ups[1], "loosen only"), 1);
    let out = measure("with the piece out of the jaws, before the next set-up", false);
    let bench = filled(vec![set_up(1, "C", 3, Some(8.0), vec![out]), set_up(2, "E", 3, Some(8.0), Vec::new())]);
    assert_eq!(times(&bench.set_ups[0], "loosen only jaws 3 and 4"), 1);
    assert_eq!(times(&bench.set_ups[1], "loosen only") + times(&bench.set_ups[1], "deburr"), 0);
}

#[test]
fn all_jaws_are_loosened_where_none_is_kept() {
    let mut second = set_up(2, "E", 3, Some(8.0), Vec::new());
    second.jaws.iter_mut().for_each(|jaw| jaw.kept = false);
    let plan = filled(vec![set_up(1, "C", 3, Some(8.0), Vec::new()), second]);
    assert_eq!(at(&plan.set_ups[1], "loosen the jaws, take it out"), 0);
}

#[test]
fn parallels_lie_where_the_plan_says_and_are_kept_from_falling() {
    let mut across = set_up(1, "C", 3, Some(8.0), Vec::new());
    across.seat.iter_mut().for_each(|seat| seat.along = Some((1, 3)));
    let plan = filled(vec![across, set_up(2, "E", 3, Some(8.0), Vec::new())]);
    let first = says(&plan.set_ups[0].hands[at(&plan.set_ups[0], "parallels on the chuck face")]);
    assert!(first.contains("lying across the hole past jaws 1 and 3, one each side of the middle"), "{first}");
    assert!(first.contains("grease"), "{first}");
    assert!(at(&plan.set_ups[0], "lock the spindle") < at(&plan.set_ups[0], "grease"));
    assert!(at(&plan.set_ups[1], "spindle locked") <= at(&plan.set_ups[1], "grease behind"));
    assert!(!all_text(&plan).contains("side of the hole"));
}

#[test]
fn copper_of_an_upper_jaw_waits_until_the_work_is_nipped() {
    let plan = two_in_the_chuck();
    assert!(at(&plan.set_ups[0], "under an upper one once the work is lightly nipped") > 0);
    assert!(
        at(&plan.set_ups[0], "close the jaws lightly, the lowest first") < at(&plan.set_ups[0], "Go round the jaws")
    );
}

#[test]
fn tightening_says_with_what_where_the_force_rests_on_it() {
    let told = |tight_torque: Option<&str>, tight_with| {
        let mut plan = plan(Units::Mm, vec![set_up(1, "C", 10, None, Vec::new())]);
        let tight_torque = tight_torque.map(str::to_string);
        fill(&mut plan, &Facts { tight_torque, tight_with, ..facts(true) });
        plan.set_ups.remove(0)
    };
    assert!(at(&told(Some("60 N m"), None), "Tight is 60 N m on the key.") > 0);
    assert!(at(&told(None, Some("with the torque wrench")), ", with the torque wrench") > 0);
    let silent = told(None, None);
    assert_eq!((times(&silent, "tight is"), times(&silent, "wrench")), (0, 0));
}

/// sec 60 deg = 2, tan 60 deg = 1.7321, sec 30 deg = 1.1547, tan 30 deg = 0.5774: table of functions, from memory.
#[test]
fn a_feeler_and_a_depth_are_told_as_the_slide_moves_and_the_ring_counts() {
    let told = |set_over_deg: f64, counts_twice: bool| {
        let mut plan =
            plan(Units::Mm, vec![set_up(1, "C", 10, None, Vec::new()), set_up(2, "E", 10, None, Vec::new())]);
        fill(&mut plan, &Facts { set_over_deg, counts_twice, ..facts(true) });
        plan
    };
    let first = |plan: &Plan, words: &str| at(&plan.set_ups[0], words) > 0;
    assert!(first(&told(0.0, false), "on by the feeler's thickness, then set"));
    assert!(first(&told(0.0, true), "on by twice the feeler's thickness"));
    assert!(first(&told(60.0, false), "on by 2.00 times the feeler's thickness"));
    assert!(first(&told(30.0, true), "on by 2.31 times the feeler's thickness"));
    assert!(at(&told(30.0, true).set_ups[1], "wound on by 2.31 times") > 0, "also later");
    // 9 mm deep: 18 along the slide, 9 x 1.7321 = 15.59 across.
    assert!(first(&told(60.0, false), "18.00 mm of its travel"));
    assert!(first(&told(60.0, false), "15.59 mm sideways"));
    assert!(!all_text(&told(0.0, true)).contains("sideways"));
}

#[test]
fn a_bar_is_nipped_before_it_is_turned_to_run_true_and_tightened_after_that() {
    for seat in [None, Some(0.0), Some(8.0)] {
        let mut bar = set_up(1, "A", 3, seat, Vec::new());
        bar.jaws.iter_mut().for_each(|jaw| jaw.contact = ContactKind::LineAlong);
        let plan = filled(vec![bar]);
        let order = ["Put the work in", "close the jaws lightly", "runs true by eye", "first firm, then tight"];
        let places: Vec<usize> = order.iter().map(|words| at(&plan.set_ups[0], words)).collect();
        assert!(places.windows(2).all(|two| two[0] < two[1]), "{seat:?} {places:?}");
    }
}

#[test]
fn a_moved_jaw_is_told_its_distance_and_one_that_stays_there_only_closes_again() {
    let mut second = set_up(2, "E", 3, None, Vec::new());
    second.jaws[3].reach_mm = 23.0;
    let plan = filled(vec![set_up(1, "C", 3, None, Vec::new()), second]);
    let step = says(&plan.set_ups[1].hands[at(&plan.set_ups[1], "by the rings")]);
    assert_eq!(
        step,
        "Set jaw 4 to 23 mm from the middle by the rings; jaw 3 is only loosened and closes again at the same distance."
    );
}

#[test]
fn a_size_over_the_bar_that_is_outside_is_written_down_said_once() {
    let over = || Measure {
        what: "over A and the bar behind it".to_string(),
        over_bar: true,
        ..measure("with the piece out of the jaws, before the next set-up", false)
    };
    let plan = filled(vec![set_up(1, "A", 3, None, vec![over()]), set_up(2, "C", 3, None, vec![over()])]);
    let stop = plan.set_ups[0].hands.iter().position(|hand| *hand == Hand::Stop(0));
    assert_eq!(stop.map(|stop| stop + 1), Some(at(&plan.set_ups[0], "the depth of the opposite face is set from it")));
    assert_eq!(all_text(&plan).matches("Write it down").count(), 1);
}

#[test]
fn how_a_pass_begins_and_ends_is_said_once_and_before_the_first_for_each_way_of_feeding() {
    let mut by_hand = set_up(2, "E", 3, None, Vec::new());
    by_hand.passes.iter_mut().for_each(|pass| pass.by_hand = true);
    let plan = filled(vec![set_up(1, "C", 3, None, Vec::new()), by_hand, set_up(3, "D", 3, None, Vec::new())]);
    let first_pass = |set_up: &SetUp| set_up.hands.iter().position(|hand| matches!(hand, Hand::Passes { .. }));
    assert!(Some(at(&plan.set_ups[0], "engage the cross feed towards the middle")) < first_pass(&plan.set_ups[0]));
    assert!(Some(at(&plan.set_ups[1], "slow and even, gently into the corner strikes")) < first_pass(&plan.set_ups[1]));
    let text = all_text(&plan);
    for once in ["engage the cross feed", "slow and even", "draw the tool back out"] {
        assert_eq!(text.matches(once).count(), 1, "{once}");
    }
}

proptest! {
    #[test]
    fn no_dwell_is_said_for_the_finishing_pass_alone(
        passes in 1_usize..9, measures in any_measures(), same_levers: bool, by_hand: bool,
    ) {
        let mut set_up = set_up(1, "C", passes, None, measures);
        for pass in &mut set_up.passes {
            pass.rpm = if same_levers { 170.0 } else { pass.rpm };
            pass.by_hand = by_hand;
        }
        let plan = filled(vec![set_up]);
        let hands = &plan.set_ups[0].hands;
        let said: Vec<usize> = (0..hands.len()).filter(|&at| says(&hands[at]).contains("no dwell")).collect();
        let before = passes.saturating_sub(1);
        let finish = hands.iter().position(|hand| matches!(hand, Hand::Passes { from, .. } if *from == before));
        prop_assert_eq!(said.len(), 1);
        prop_assert!(Some(said[0]) < finish);
        prop_assert!(finish.is_some_and(|finish| finish - said[0] <= 2));
    }
}

#[test]
fn a_ring_that_has_gone_round_is_told_by_what_it_shows_and_what_that_counts_as() {
    let told = |dial: &str| {
        let mut set_up = set_up(1, "C", 4, None, Vec::new());
        set_up.passes[0].dial = dial.to_string();
        let plan = filled(vec![set_up]);
        says(&plan.set_ups[0].hands[at(&plan.set_ups[0], "Touch off again")]).to_string()
    };
    assert!(told("0.035 in").contains("set the ring to 0.035 in, not 0."));
    assert!(told("1 turn + 0.000 in").contains("set the ring to 0, which counts as 1 turn."));
    assert!(told("2 turns + 0.008 in").contains("set the ring to 0.008 in, which counts as 2 turns + 0.008 in."));
}

#[test]
fn what_is_known_after_the_first_set_up_is_said_in_fewer_words_but_nothing_that_flies_is_left_out() {
    let plan = two_in_the_chuck();
    let letters = |set_up: &SetUp| set_up.hands.iter().map(|hand| says(hand).len()).sum::<usize>();
    assert!(letters(&plan.set_ups[1]) < letters(&plan.set_ups[0]));
    for set_up in &plan.set_ups {
        for words in ["key out", "count them back", "Pull at each piece", "Lock the carriage", "one full turn by hand"]
        {
            assert!(at(set_up, words) > 0);
        }
        assert!(set_up.cautions.iter().any(|caution| caution.contains("flies out")));
    }
}

/// The plan filled with faces that lie somewhere.
fn filled_with(set_ups: Vec<SetUp>, facts: Facts) -> Plan {
    let mut plan = plan(Units::Mm, set_ups);
    fill(&mut plan, &facts);
    plan
}

#[test]
fn the_second_face_is_counted_from_what_the_first_one_measured() {
    let over = Measure {
        what: "over C and the bar behind it".to_string(),
        nominal_mm: 47.0,
        over_bar: true,
        ..measure("with the piece out of the jaws, before the next set-up", false)
    };
    let set_ups = vec![
        set_up(1, "C", 3, None, vec![over]),
        set_up(2, "D", 3, None, Vec::new()),
        set_up(3, "E", 3, None, Vec::new()),
    ];
    let opposites = vec![("C".to_string(), "E".to_string())];
    let plan = filled_with(set_ups, Facts { opposites, ..facts(true) });
    let told = at(&plan.set_ups[2], "for 47.00 mm over C and the bar behind it");
    assert!(told > at(&plan.set_ups[2], "ring to 0.") && told < at(&plan.set_ups[2], "one full turn by hand"));
    assert_eq!(all_text(&plan).matches("over C and the bar behind it. Measured less").count(), 1);
}

/// Makers' manuals and public safety texts: low speed for off-centre work, clear of its plane.
#[test]
fn a_piece_off_the_axis_is_told_at_every_first_start_and_a_true_one_never() {
    let off = |by_mm: f64| {
        let mut both = vec![set_up(1, "A", 2, None, Vec::new()), set_up(2, "B", 2, None, Vec::new())];
        both.iter_mut().for_each(|set_up| set_up.audit.mass_centre_mm = [0.6 * by_mm, -0.8 * by_mm, 30.0]);
        filled(both)
    };
    for set_up in off(3.25).set_ups {
        let start = at(&set_up, "First start");
        let told = set_up.hands[start..start + 2].iter().any(|hand| {
            matches!(hand, Hand::Do { why: Some(why), .. } if why.starts_with("CAUTION: the piece sits 3.25 mm off"))
        });
        let listed = set_up.cautions.iter().filter(|caution| caution.contains("off the spindle axis")).count();
        assert!(told && listed == 1, "{:#?}", set_up.hands);
    }
    assert!(!all_text(&off(1.9)).contains("off the spindle axis"));
}

#[test]
fn sides_of_a_bar_with_flats_are_marked_out_by_what_lies_over_them() {
    let over = |name: &str, what: OverBar| (name.to_string(), what);
    let told = |over_the_bar: Vec<(String, OverBar)>| {
        all_text(&filled_with(vec![set_up(1, "A", 2, None, Vec::new())], Facts { over_the_bar, ..facts(true) }))
    };
    let both = told(vec![over("C", OverBar::Flat), over("D", OverBar::Corner), over("E", OverBar::Flat)]);
    assert!(
        both.contains(
            "Letter the bar for its sides: C and E lie under a flat of it each; D lies under a corner of it."
        )
    );
    assert!(!told(Vec::new()).contains("Letter the bar"));
}

#[test]
fn a_side_that_no_finished_side_squares_is_set_by_its_angle() {
    for (looks_to_chuck, said) in
        [(false, "C, looking towards you on the side of jaw 3"), (true, "towards the chuck on")]
    {
        let angle = FlatAngle { flat: "C".to_string(), to_chuck_face_deg: 45.0, looks_to_chuck, beside_jaw: 3 };
        let turned = SetUp { angle: Some(angle), ..set_up(2, "F", 3, None, Vec::new()) };
        let plan = filled(vec![set_up(1, "C", 3, None, Vec::new()), turned]);
        let step = at(&plan.set_ups[1], said);
        assert!(
            step < at(&plan.set_ups[1], "twice") && says(&plan.set_ups[1].hands[step]).contains("stands at 45 deg")
        );
        // Two planes at 45 degrees to one another, seen from outside the metal: 135 degrees of metal between them.
        let proved = all_text(&plan).contains("lay a bevel protractor over C and F: inside angle 135 deg");
        assert_eq!(proved, !looks_to_chuck);
    }
    assert!(!all_text(&filled(vec![set_up(1, "C", 3, None, Vec::new())])).contains("protractor"));
}
