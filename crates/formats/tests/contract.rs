//! Every example's plan keeps the agreement of the JSON: each key, its type, its range, its words.
//!
//! `schema.rs` checks the writer on a plan made by hand; here whole plans are read as an outside program
//! would read them. Keys and words are copied from the agreement by hand.

mod examples_planned;

use std::collections::BTreeSet;

use examples_planned::{all, jobs, number, planned, planned_job, text, value, vector};
use formats::plan::to_json;
use serde_json::Value;

/// A value at a place of the JSON, which every complaint names.
struct At<'a> {
    value: &'a Value,
    place: String,
}

impl<'a> At<'a> {
    fn root(name: &str, value: &'a Value) -> At<'a> {
        At { value, place: name.to_string() }
    }

    fn key(&self, key: &str) -> At<'a> {
        let place = format!("{}.{key}", self.place);
        let object = self.value.as_object().unwrap_or_else(|| panic!("{} is no object", self.place));
        At { value: object.get(key).unwrap_or_else(|| panic!("{place} is missing")), place }
    }

    /// The same check of several keys.
    fn all<T>(&self, keys: &[&str], check: impl Fn(&At<'a>) -> T) {
        for key in keys {
            check(&self.key(key));
        }
    }

    fn each(&self) -> Vec<At<'a>> {
        let list = self.value.as_array().unwrap_or_else(|| panic!("{} is no list", self.place));
        list.iter().enumerate().map(|(at, value)| At { value, place: format!("{}[{at}]", self.place) }).collect()
    }

    fn within(&self, least: f64, most: f64) -> f64 {
        let found = self.value.as_f64().unwrap_or_else(|| panic!("{}: {} is no number", self.place, self.value));
        assert!(found.is_finite() && least <= found && found <= most, "{}: {found} of {least} to {most}", self.place);
        found
    }

    fn positive(&self) -> f64 {
        let found = self.within(0.0, f64::MAX);
        assert!(found > 0.0, "{} is nought", self.place);
        found
    }

    fn not_negative(&self) -> f64 {
        self.within(0.0, f64::MAX)
    }

    fn or_null(&self, check: impl Fn(&At<'a>)) {
        if !self.value.is_null() {
            check(self);
        }
    }

    fn count(&self, least: u64, most: u64) -> u64 {
        let found = self.value.as_u64().unwrap_or_else(|| panic!("{}: {} is no count", self.place, self.value));
        assert!((least..=most).contains(&found), "{}: {found} of {least} to {most}", self.place);
        found
    }

    fn flag(&self) {
        assert!(self.value.is_boolean(), "{}: {}", self.place, self.value);
    }

    fn words(&self) -> &'a str {
        let found = self.value.as_str().unwrap_or_else(|| panic!("{}: {} is no text", self.place, self.value));
        assert!(!found.trim().is_empty(), "{} says nothing", self.place);
        found
    }

    fn one_of(&self, words: &[&str]) -> &'a str {
        let found = self.words();
        assert!(words.contains(&found), "{}: {found} of {words:?}", self.place);
        found
    }

    fn vector(&self) {
        let list = self.each();
        assert_eq!(list.len(), 3, "{}", self.place);
        list.iter().for_each(|part| _ = part.within(-1e9, 1e9));
    }
}

#[test]
fn every_plan_has_every_key_of_its_type_in_its_range() {
    for (name, plan) in all() {
        let root = At::root(name, plan);
        root.key("schema").one_of(&["turnwright/plan/2"]);
        let outcome = root.key("outcome").one_of(&["planned", "impossible"]);
        assert_eq!(root.key("reasons").each().is_empty(), outcome == "planned", "{name}");
        assert_eq!(root.key("set_ups").each().is_empty(), outcome == "impossible", "{name}");
        root.key("reasons").each().iter().for_each(reason);
        stock(&root.key("stock"));
        minutes(&root.key("minutes"));
        root.key("set_ups").each().iter().for_each(set_up);
        root.key("quality").each().iter().for_each(quality);
        root.key("chance").or_null(|at| _ = at.within(0.0, 1.0));
        root.key("chance_error").or_null(|at| _ = at.within(0.0, 1.0));
        search(&root.key("search"));
        for assumed in root.key("assumed").each() {
            assumed.all(&["what", "value", "source"], At::words);
        }
        root.key("cautions").each().iter().for_each(|caution| _ = caution.words());
    }
}

fn reason(at: &At<'_>) {
    at.all(&["rule", "where", "says", "way_out"], At::words);
    let rule = at.key("rule").words();
    assert!(rule.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{rule}");
    at.key("value").within(-1e9, 1e9);
    at.key("limit").within(-1e9, 1e9);
    at.key("unit").one_of(&["mm", "n", "nm", "w", "rpm", "1", "um", "deg", "mm_per_rev", "m_per_min"]);
}

fn stock(at: &At<'_>) {
    at.key("form").one_of(&["round", "square", "hexagon", "flat"]);
    for key in ["volume_mm3", "mass_kg", "least_round_mm", "least_round_with_allowance_mm", "least_length_mm"] {
        at.key(key).positive();
    }
    at.key("used_share").positive();
    let (bare, with) = (at.key("least_round_mm").positive(), at.key("least_round_with_allowance_mm").positive());
    assert!(with >= bare, "{}", at.place);
}

fn minutes(at: &At<'_>) {
    let parts: f64 = ["handling", "cutting", "measuring"].map(|key| at.key(key).not_negative()).iter().sum();
    let total = at.key("total").not_negative();
    assert!((total - parts).abs() <= 1e-7 * total.max(1.0), "{}: {total} is not {parts}", at.place);
}

fn set_up(at: &At<'_>) {
    at.key("number").count(1, 99);
    at.key("cuts_faces").each().iter().for_each(|face| _ = face.words());
    at.key("removed_mm3").positive();
    at.key("jaws").each().iter().zip(1..).for_each(|(jaw, number)| one_jaw(jaw, number));
    at.key("seat").or_null(seat);
    at.key("bite_mm").positive();
    let stick_out = at.key("stick_out_mm");
    let [least, set, most] = ["least", "set", "most"].map(|key| stick_out.key(key).positive());
    assert!(least <= set + 1e-6 && set <= most + 1e-6, "{}: {least}, {set}, {most}", at.place);
    hold(&at.key("hold"));
    let speed = at.key("speed");
    let (set, most) = (speed.key("set_rpm").positive(), speed.key("most_rpm").positive());
    speed.key("binding").words();
    // The rule for picking a step: the next lower; within 2 % above is allowed.
    assert!(set <= most * 1.02 + 1e-6, "{}: {set} of {most}", at.place);
    at.key("passes").each().iter().for_each(pass);
    at.key("measure").each().iter().for_each(measure);
    audit(&at.key("audit"));
}

fn one_jaw(at: &At<'_>, number: u64) {
    at.key("jaw").count(number, number);
    at.key("bears_on").words();
    at.key("contact").one_of(&["flat", "line along", "line across"]);
    at.key("packing_mm").within(0.0, 50.0);
    at.key("kept").flag();
}

fn seat(at: &At<'_>) {
    let on = at.key("on").one_of(&["chuck face", "parallels", "jaw step", "stop"]);
    at.key("face").words();
    let packing = at.key("packing_mm").not_negative();
    assert_eq!(packing > 0.0, on == "parallels", "{}", at.place);
}

fn hold(at: &At<'_>) {
    for key in ["slip_factor", "point_slip_factor", "lift_factor", "hold_factor"] {
        at.key(key).or_null(|factor| _ = factor.positive());
    }
    at.key("required").within(1.0, 10.0);
    at.key("spring_um").positive();
    at.key("binding").words();
}

fn pass(at: &At<'_>) {
    at.key("kind").one_of(&["clean-up", "rough", "finish"]);
    let (depth, total) = (at.key("depth_mm").positive(), at.key("total_mm").positive());
    assert!(depth <= total + 1e-9, "{}", at.place);
    at.key("dial").words();
    at.key("dial_turns").count(0, 1000);
    at.key("dial_reading").not_negative();
    at.key("slide").words();
    for key in ["rpm", "feed_mm_per_rev", "speed_m_per_min", "start_radius_mm", "floor_area_mm2", "removed_mm3"] {
        at.key(key).positive();
    }
    at.key("by_hand").flag();
    at.key("in_metal_share").within(1e-6, 1.0);
    at.key("entries_per_rev").count(0, 99);
    let chip = at.key("chip_mm").positive();
    assert!(chip <= at.key("feed_mm_per_rev").positive() * (1.0 + 1e-9), "{}: a chip thicker than the feed", at.place);
    let parts = |key: &str| ["cutting", "feed", "passive"].map(|part| at.key(key).key(part).not_negative());
    let (likely, high) = (parts("force_n"), parts("force_safe_n"));
    assert!(likely[0] > 0.0 && high[0] >= likely[0], "{}: {likely:?}, {high:?}", at.place);
    let (mean, peak) = (at.key("power_w").key("mean").positive(), at.key("power_w").key("peak").positive());
    assert!(mean <= peak * (1.0 + 1e-9), "{}: {mean} W of {peak} W", at.place);
    at.key("torque_nm").positive();
    at.key("minutes").positive();
}

fn measure(at: &At<'_>) {
    at.all(&["what", "gauge", "when"], At::words);
    let nominal = at.key("nominal_mm").positive();
    let (plus, minus) = (at.key("plus_mm").within(-1e3, 1e3), at.key("minus_mm").within(-1e3, 1e3));
    assert!(plus + minus > 0.0 && nominal > minus, "{}", at.place);
}

fn quality(at: &At<'_>) {
    at.all(&["requirement", "kind"], At::words);
    at.key("limit_mm").positive();
    at.key("middle_mm").within(-1e6, 1e6);
    at.key("spread_mm").not_negative();
    at.key("chance").within(0.0, 1.0);
    for cause in at.key("causes").each() {
        cause.key("of").words();
        cause.key("share").within(0.0, 1.0);
    }
}

fn search(at: &At<'_>) {
    at.key("plans_possible").or_null(|plans| _ = plans.not_negative());
    at.key("examined").count(0, u64::MAX);
    at.key("cut_off").count(0, u64::MAX);
    at.key("proven_best").flag();
}

fn audit(at: &At<'_>) {
    for contact in at.key("contacts").each() {
        contact.key("jaw").count(0, 6);
        contact.all(&["at_mm", "inward", "preload_friction_n"], At::vector);
        contact.key("normal_stiffness_n_per_mm").positive();
        contact.key("tangential_stiffness_n_per_mm").positive();
        contact.key("friction").within(0.01, 1.0);
        contact.key("preload_n").not_negative();
    }
    for point in at.key("seat_points").each() {
        point.key("stiffness_n_per_mm").positive();
    }
    for pair in at.key("pairs").each() {
        let jaws = pair.key("jaws").each();
        jaws.iter().for_each(|jaw| _ = jaw.count(1, 6));
        assert!(jaws.len() >= 2, "{}", pair.place);
        pair.key("total_n").positive();
    }
    for load in at.key("steady_loads").each() {
        load.key("what").words();
        load.all(&["at_mm", "force_n"], At::vector);
    }
    at.key("mass_centre_mm").vector();
    for load in at.key("cut_loads").each() {
        load.key("pass").count(0, 999);
        load.all(&["at_mm", "force_n", "weight_n"], At::vector);
    }
}

#[test]
fn one_example_is_impossible_and_says_why_in_numbers() {
    let impossible: Vec<_> = all().iter().filter(|(_, plan)| plan["outcome"] == "impossible").collect();
    assert_eq!(impossible.len(), 1);
    let (name, plan) = impossible[0];
    assert_eq!(name, "bar-too-thin");
    let reason = &plan["reasons"][0];
    assert_eq!((text(&reason["rule"]), text(&reason["unit"])), ("bar-too-thin", "mm"));
    // The bar, and the circle round a square of 25 mm: 25 times the root of 2.
    assert_eq!(number(&reason["value"]), 32.0);
    assert!((number(&reason["limit"]) - 25.0 * 2f64.sqrt()).abs() < 1e-6);
    assert!((number(&plan["stock"]["least_round_mm"]) - 25.0 * 2f64.sqrt()).abs() < 1e-6);
}

/// Sums that a reader would make: minutes of the set-ups, metal of the passes, depths on the dial.
#[test]
fn sums_add_up() {
    for (name, plan) in planned() {
        let set_ups = plan["set_ups"].as_array().expect("a list");
        for part in ["handling", "cutting", "measuring", "total"] {
            let sum: f64 = set_ups.iter().map(|set_up| number(&set_up["minutes"][part])).sum();
            assert!((sum - number(&plan["minutes"][part])).abs() <= 1e-6 * sum.max(1.0), "{name}: {part} {sum}");
        }
        let mut numbers = Vec::new();
        for set_up in set_ups {
            numbers.push(set_up["number"].as_u64().expect("a number"));
            let passes = set_up["passes"].as_array().expect("a list");
            let metal: f64 = passes.iter().map(|pass| number(&pass["removed_mm3"])).sum();
            assert!((metal - number(&set_up["removed_mm3"])).abs() <= 1e-6 * metal, "{name}");
            let mut depth = 0.0;
            for pass in passes {
                depth += number(&pass["depth_mm"]);
                assert!((depth - number(&pass["total_mm"])).abs() < 1e-6, "{name}: {depth}, {pass}");
            }
            let cutting: f64 = passes.iter().map(|pass| number(&pass["minutes"])).sum();
            assert!((cutting - number(&set_up["minutes"]["cutting"])).abs() <= 1e-6 * cutting, "{name}: {cutting}");
        }
        assert_eq!(numbers, (1..=set_ups.len() as u64).collect::<Vec<_>>(), "{name}");
        let bar = number(&plan["stock"]["volume_mm3"]);
        let metal: f64 = set_ups.iter().map(|set_up| number(&set_up["removed_mm3"])).sum();
        let left = bar * number(&plan["stock"]["used_share"]);
        assert!((bar - metal - left).abs() <= 1e-7 * bar, "{name}: {bar} less {metal} is not {left}");
    }
}

/// Formulas that need no engine: `v = π d n`, `P = F v`, `M = F r`; turns and reading give the depth.
#[test]
fn numbers_of_a_pass_belong_together() {
    for (name, plan) in planned() {
        // Of the built-in shop's depth slides: what the ring counts in a turn, and its unit in mm.
        let (per_turn, unit_mm) = match text(&plan["asked"]["lathe"]) {
            "school lathe" => (0.1, 25.4),
            "toolroom lathe" => (3.0, 1.0),
            other => panic!("{other}: a lathe without a ring"),
        };
        let passes = plan["set_ups"].as_array().expect("a list").iter().flat_map(|set_up| set_up["passes"].as_array());
        for pass in passes.flatten() {
            let of = |key: &str| number(&pass[key]);
            let near = |ours: f64, theirs: f64| {
                assert!((ours - theirs).abs() <= 1e-7 * theirs.abs(), "{name}: {ours} is not {theirs} in {pass}");
            };
            let (radius, force) = (of("start_radius_mm"), number(&pass["force_safe_n"]["cutting"]));
            let speed = std::f64::consts::TAU * radius * of("rpm") / 1000.0;
            near(of("speed_m_per_min"), speed);
            near(number(&pass["power_w"]["peak"]), force * speed / 60.0);
            near(of("torque_nm"), force * radius / 1000.0);
            near(of("total_mm"), (of("dial_turns") * per_turn + of("dial_reading")) * unit_mm);
            assert!(of("dial_reading") < per_turn, "{name}: more than a turn left in {pass}");
        }
    }
}

/// Faces are cut once each and jaws bear on the bar or on faces that are finished by then.
#[test]
fn faces_are_those_of_the_part() {
    for (name, plan) in planned() {
        let mut done = BTreeSet::new();
        for set_up in plan["set_ups"].as_array().expect("a list") {
            let surfaces = set_up["jaws"].as_array().expect("a list").iter().map(|jaw| text(&jaw["bears_on"]));
            for surface in surfaces.chain(set_up["seat"].get("face").map(text)) {
                assert!(
                    ["bar", "sawn end"].contains(&surface) || done.contains(surface),
                    "{name}: bears on {surface} before it is cut"
                );
            }
            for face in set_up["cuts_faces"].as_array().expect("a list") {
                assert!(done.insert(text(face)), "{name}: {face} is cut twice");
            }
        }
        assert!(done.len() >= 4, "{name}: {done:?}");
    }
}

#[test]
fn no_number_is_odd_and_the_audit_adds_only_itself() {
    for (name, job) in jobs() {
        let plan = planned_job(&job);
        let [bare, mut without] = [false, true].map(|audit| value(&to_json(&plan, audit)));
        for set_up in without["set_ups"].as_array_mut().expect("a list") {
            let audit = set_up.as_object_mut().expect("an object").remove("audit").expect("an audit");
            let centre = vector(&audit["mass_centre_mm"]);
            assert!(centre.iter().all(|part| part.is_finite()));
        }
        if let Some(forecast) = without["forecast"].as_object_mut() {
            let audit = forecast.remove("audit").expect("an audit");
            let noises = audit["noises"].as_array().expect("a list").len();
            let rows = audit["linear"]
                .as_array()
                .expect("a list")
                .iter()
                .flat_map(|one| one["rows"].as_array().expect("a list"));
            for row in rows {
                let parts = row["coefficients_mm"].as_array().expect("a list");
                assert!(parts.len() <= noises && parts.iter().all(|part| number(part).is_finite()), "{name}");
            }
        }
        // Compared by name, not shown: a plan fills a hundred screens.
        assert!(without == bare, "{name}: more than the audit differs");
    }
}
