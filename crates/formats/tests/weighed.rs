//! Other orders and changes weighed, for every example: what is said of a choice is what a job that asks for it gets, and
//! what is said of a change is what comes of the audit's own numbers.

mod examples_planned;

use engine::job::Seek;
use engine::plan::{Plan, Weighed};
use engine::planning::weigh;
use engine::quantity::mm;
use examples_planned::read;

/// Every example as it is, and two asked for less than half of what their drawings allow flats to lean: orders differ then.
fn jobs() -> Vec<(String, engine::job::Job, engine::shop::Shop)> {
    let tight = |(name, mut job, shop): (String, engine::job::Job, engine::shop::Shop)| {
        job.part.square = Some(mm(0.025));
        job.part.parallel = Some(mm(0.02));
        (format!("{name}, tight"), job, shop)
    };
    let costly = read().into_iter().filter(|(name, ..)| ["sundial-foot", "water-wheel-keep"].contains(&name.as_str()));
    let quick = read().into_iter().map(|(name, mut job, shop)| {
        job.order.seek = Seek::Quickest;
        (format!("{name}, quickest"), job, shop)
    });
    read().into_iter().chain(quick).chain(costly.map(tight)).collect()
}

fn weighed() -> Vec<(String, engine::job::Job, engine::shop::Shop, Plan, Weighed)> {
    let all = jobs().into_iter().filter_map(|(name, job, shop)| {
        let plan = engine::plan(&job, &shop).expect("an example plans");
        let weighed = weigh(&job, &shop).expect("an example plans");
        assert_eq!(weighed.is_some(), !plan.set_ups.is_empty(), "{name}");
        Some((name, job, shop, plan, weighed?))
    });
    all.collect()
}

#[test]
fn a_choice_is_what_a_job_that_asks_for_it_gets() {
    let mut others = 0;
    for (name, mut job, shop, plan, weighed) in weighed() {
        let taken = &weighed.choices[0];
        let asked_for = if job.order.seek == Seek::Quickest { "quickest" } else { "balanced" };
        assert!(taken.taken && taken.best_for.contains(&asked_for), "{name}");
        assert_eq!(taken.chance, plan.forecast.as_ref().expect("a forecast").chance, "{name}");
        let per_good = plan.forecast.as_ref().and_then(|forecast| forecast.per_good).expect("an order sought");
        assert_eq!(taken.minutes, plan.minutes.total(), "{name}");
        let near = (taken.per_good_minutes / per_good.minutes - 1.0).abs() < 1e-12;
        assert!(near, "{name}: {} {}", taken.per_good_minutes, per_good.minutes);
        for choice in &weighed.choices {
            for seek in &choice.best_for {
                job.order.seek = match *seek {
                    "quickest" => Seek::Quickest,
                    "truest" => Seek::Truest,
                    _ => Seek::Balanced,
                };
                let asked = engine::plan(&job, &shop).expect("an example plans");
                let chance = asked.forecast.as_ref().expect("a forecast").chance;
                if choice.taken {
                    // What that job gets may be another plan, which gains nothing.
                    let quicker = choice.minutes - asked.minutes.total();
                    let truer = chance.share - choice.chance.share;
                    let gains = match *seek {
                        "quickest" => quicker > 0.5,
                        "truest" => truer > 0.01,
                        _ => false,
                    };
                    assert!(!gains, "{name}, {seek}: {quicker} {truer}");
                    continue;
                }
                assert_eq!(choice.minutes, asked.minutes.total(), "{name}, {seek}");
                assert_eq!(choice.chance, chance, "{name}, {seek}");
            }
            others += usize::from(!choice.taken);
        }
        let all: usize = weighed.choices.iter().map(|choice| choice.best_for.len()).sum();
        assert_eq!(all, 3, "{name}");
    }
    assert!(others >= 1, "only {others} choices beside the plans taken");
}

/// On the pieces that plans are told on another may lie a little before: plans within 2 % count as alike, and where few
/// pieces are good chance decides, which is said.
#[test]
fn the_next_best_is_another_plan_and_no_better() {
    for (name, job, _, _, weighed) in weighed() {
        let (taken, other) = (&weighed.choices[0], weighed.runner_up.expect("another plan"));
        let words = (&other.plan.order, other.loses.contains("the jaws are on"));
        assert!(*words.0 != taken.order || words.1, "{name}: {words:?}");
        let [ours, theirs] = [taken, &other.plan].map(|plan| match job.order.seek {
            Seek::Quickest => plan.minutes,
            _ => plan.per_good_minutes,
        });
        let better = theirs < ours * 0.98;
        assert_eq!(better, other.loses.contains("better on these pieces"), "{name}: {other:?}");
        assert!(!better || taken.chance.share < 0.5, "{name}: {other:?}");
        assert!(!other.loses.is_empty(), "{name}");
    }
}

/// A gauge of half the uncertainty, out of the audit: every coefficient of a gauge halved, and pieces drawn anew.
#[test]
fn a_change_brings_what_the_numbers_of_the_audit_bring() {
    let mut compared = 0;
    for (name, _, _, plan, weighed) in weighed() {
        let forecast = plan.forecast.expect("a forecast");
        let gauge = forecast.noises.iter().map(|noise| noise.starts_with("the gauge")).collect::<Vec<bool>>();
        let factors: Vec<f64> = gauge.iter().map(|&gauge| if gauge { 0.5 } else { 1.0 }).collect();
        let checks: Vec<_> = forecast.qualities.iter().map(|quality| &quality.linear).collect();
        let Some(help) = weighed.helps.iter().find(|help| help.change.contains("gauge")) else { continue };
        let share = drawn::share_of_all(&checks, &factors);
        let error = (share * (1.0 - share) / f64::from(drawn::PIECES)).sqrt();
        assert!(
            (share - help.chance.share).abs() < 4.5 * error.hypot(help.chance.error) + 1e-3,
            "{name}: {share} {help:?}"
        );
        compared += 1;
    }
    assert!(compared >= 2, "only {compared} changes compared");
}

#[test]
fn changes_help_and_stand_in_order() {
    let mut told = 0;
    for (name, _, _, _, weighed) in weighed() {
        let now = weighed.choices[0].chance.share;
        let shares: Vec<f64> = weighed.helps.iter().map(|help| help.chance.share).collect();
        assert!(shares.iter().all(|&share| share > now) && shares.is_sorted_by(|one, other| one >= other), "{name}");
        told += shares.len();
    }
    assert!(told > 10, "only {told} changes told");
}

#[path = "drawn/mod.rs"]
mod drawn;
