//! How every example job is held: its factors, its weakest moment and what would make it firmer; and holds made bad on
//! purpose, refused with ways out.
//!
//! `TURNWRIGHT_WRITE_DOCS=1 cargo test -p formats --test holds` writes `docs/holds.md`; without it the page must be the
//! one in the repository. Its numbers are the planner's own and prove nothing: they show what a plan says of a hold.

mod examples_planned;

use engine::plan::{HoldReport, Outcome, Plan, Reason, SetUp};
use engine::quantity::bare;
use formats::{builtin, job, shop};

const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/holds.md");

const HEAD: &str = "# How the examples are held

Written by the tests (`TURNWRIGHT_WRITE_DOCS=1 cargo test -p formats --test holds`), not by hand.

What `turnwright plan` says of the hold of every example job in the built-in shop, side by side. First slip is the factor on
the cut at which a jaw's friction is used up, over all passes and tool positions, and permits; last hold, the factor beyond
which no forces of the jaws balance the cut, can only refuse; both stand before what is needed. The weakest moment is that of
first slip: pass, and where the tool stands round from jaw 1. Advice is what would make the hold firmer, each change by
itself, worked out with the same cuts: the first slip with it. A plan says it at the machine only where the hold is weak (here
marked); the JSON and the page always do. These are results of the calculation that `docs/model.md` describes; none of them
says that a piece is held.

| job | set-up | cuts | first slip | last hold | first lift | weakest moment | advice |
|---|---|---|---|---|---|---|---|
";

const BAD: &str = "
## Holds made bad on purpose

The demonstration job (`examples/guide-block.toml`) in the built-in shop, its chuck or packing made worse. Each is refused, with
what to change.

";

/// What is written otherwise in the built-in shop, in words and as texts of its file.
struct Worse {
    says: &'static str,
    changes: &'static [(&'static str, &'static str)],
    /// A rule that must be among the reasons, and words of a way out.
    refused: (&'static str, &'static str),
}

const FRICTION: (&str, &str) = ("friction = 0.12\nyield", "friction = 0.1\nyield");

const WORSE: [Worse; 3] = [
    Worse {
        says: "jaws that bite 3 mm, and packing with a friction of 0.1",
        changes: &[("length  = 48 ", "length  = 3 "), FRICTION],
        refused: ("jaws-too-short", "a chuck whose jaws are"),
    },
    Worse {
        says: "jaws with a ledge 3 mm below their front, and packing with a friction of 0.1",
        changes: &[("mass    = \"0.9 kg\"", "mass    = \"0.9 kg\"\nstep = { below_front = 3, width = 6 }"), FRICTION],
        refused: ("jaws-too-short", "a chuck whose jaws are"),
    },
    Worse {
        says: "a clamping force of 0.5 kN, tightened by feel, and packing with a friction of 0.1",
        changes: &[
            ("clamping_force = \"16 kN\"", "clamping_force = \"0.5 kN\""),
            ("low_share = 0.65                      #", "low_share = 0.5                       #"),
            FRICTION,
        ],
        refused: ("slip", "tried"),
    },
];

fn examples() -> Vec<(String, Plan)> {
    examples_planned::jobs().into_iter().map(|(name, text)| (name, examples_planned::planned_job(&text))).collect()
}

/// The demonstration job in the built-in shop made worse.
fn in_worse(worse: &Worse) -> Plan {
    let mut text = builtin::shop_text().to_string();
    for (this, other) in worse.changes {
        assert!(text.contains(this), "the built-in shop is written otherwise: {this}");
        text = text.replacen(this, other, 1);
    }
    let job = job::read(builtin::demo_job_text(), "job").unwrap_or_else(|faults| panic!("{faults:#?}")).job;
    let shop = shop::read(&text, "shop").unwrap_or_else(|faults| panic!("{faults:#?}")).shop;
    engine::plan(&job, &shop).unwrap_or_else(|problems| panic!("{problems:#?}"))
}

fn reasons(plan: &Plan) -> &[Reason] {
    match &plan.outcome {
        Outcome::Planned => &[],
        Outcome::Impossible(reasons) => reasons,
    }
}

/// A number as the plan shows factors: two figures after the point, cut off.
fn factor(value: Option<f64>) -> String {
    value.map_or_else(|| "without limit".to_string(), bare::factor)
}

fn row(name: &str, set_up: &SetUp) -> String {
    let hold = &set_up.hold;
    let last = hold.last_hold.as_ref();
    format!(
        "| {name} | {} | {} | {} of {:.1} needed | {} | {} | {} | {} |\n",
        set_up.number,
        set_up.cuts_faces.join(", "),
        factor(hold.slip_factor),
        hold.required,
        last.map_or_else(String::new, |last| format!("{} of {:.2}", bare::factor(last.factor), last.required)),
        factor(hold.lift_factor),
        weakest(hold),
        advice(hold),
    )
}

/// The part of the plan's words that names the moment.
fn weakest(hold: &HoldReport) -> String {
    hold.binding.split(';').next().unwrap_or_default().to_string()
}

fn advice(hold: &HoldReport) -> String {
    let each: Vec<String> =
        hold.firmer.iter().map(|firmer| format!("{} with {}", bare::factor(firmer.slip_factor), firmer.says)).collect();
    let all = if each.is_empty() { "none that was tried".to_string() } else { each.join("; ") };
    if hold.weak { format!("weak: {all}") } else { all }
}

fn page() -> String {
    let mut page = HEAD.to_string();
    for (name, plan) in examples() {
        plan.set_ups.iter().for_each(|set_up| page.push_str(&row(&name, set_up)));
        for reason in reasons(&plan) {
            page.push_str(&format!(
                "| {name} | | {} | | | | not possible: {} | {} |\n",
                reason.place, reason.says, reason.way_out
            ));
        }
    }
    page.push_str(BAD);
    for worse in &WORSE {
        page.push_str(&format!("**With {}:**\n\n", worse.says));
        for reason in reasons(&in_worse(worse)) {
            page.push_str(&format!("- {} ({}). Way out: {}.\n", reason.says, reason.place, reason.way_out));
        }
        page.push('\n');
    }
    page.trim_end().to_string() + "\n"
}

#[test]
fn the_page_of_holds_is_what_the_plans_say() {
    let text = page();
    if std::env::var_os("TURNWRIGHT_WRITE_DOCS").is_some() {
        std::fs::write(FILE, &text).expect("the docs folder can be written");
        return;
    }
    let there = std::fs::read_to_string(FILE).unwrap_or_default();
    assert!(there == text, "docs/holds.md is stale: TURNWRIGHT_WRITE_DOCS=1 cargo test -p formats --test holds");
}

/// Every set-up of every example says its factors, its weakest moment and, where it is weak, advice.
#[test]
fn every_hold_says_its_factors_its_weakest_moment_and_advice_where_it_is_weak() {
    let mut set_ups = 0;
    for (name, plan) in examples() {
        for set_up in &plan.set_ups {
            let hold = &set_up.hold;
            let what = format!("{name}, set-up {}", set_up.number);
            assert!(hold.slip_factor.is_none_or(|slip| slip >= hold.required), "{what}");
            assert!(hold.last_hold.as_ref().is_some_and(|last| last.factor >= last.required), "{what}");
            assert!(weakest(hold).contains("slips first, in pass"), "{what}: {}", hold.binding);
            assert!(!hold.weak || hold.firmer_says().is_some(), "{what}: weak, and nothing is advised");
            for firmer in &hold.firmer {
                assert!(hold.slip_factor.is_some_and(|slip| firmer.slip_factor > slip), "{what}: {firmer:?}");
            }
            set_ups += 1;
        }
    }
    assert!(set_ups > 20, "{set_ups}");
}

/// A hold made bad on purpose is refused for what is bad in it, with the way out that mends that.
#[test]
fn holds_made_bad_on_purpose_are_refused_with_a_way_out_of_their_own() {
    for worse in &WORSE {
        let plan = in_worse(worse);
        let (rule, way) = worse.refused;
        let found = reasons(&plan).iter().find(|reason| reason.rule == rule && reason.way_out.contains(way));
        assert!(found.is_some(), "{}: {:#?}", worse.says, plan.outcome);
        assert!(plan.set_ups.is_empty(), "{}: refused, and planned all the same", worse.says);
    }
}
