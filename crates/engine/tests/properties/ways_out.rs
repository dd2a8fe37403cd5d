//! A way out is one: planned again with it the job can be done.

use engine::job::Job;
use engine::plan::{Outcome, Plan, Reason};
use engine::quantity::{Length, Units, inch, mm};

use super::{plan, planned, scene};

fn reasons(plan: &Plan) -> &[Reason] {
    match &plan.outcome {
        Outcome::Planned => &[],
        Outcome::Impossible(reasons) => reasons,
    }
}

/// The length behind these words.
fn after(text: &str, words: &str, units: Units) -> Option<Length> {
    let number = text.split(words).nth(1)?.split_whitespace().next()?.parse::<f64>().ok()?;
    Some(if units == Units::Mm { mm(number) } else { inch(number) })
}

/// Asked to clean up more than the bar has over the part.
fn too_much(units: Units, bar_mm: f64, clean_up_mm: f64) -> Job {
    let mut job = scene::six_faces();
    job.units = units;
    job.stock.length = mm(bar_mm);
    job.cutting.clean_up = Some(mm(clean_up_mm));
    job
}

#[test]
fn more_clean_up_than_the_bar_has_is_freed_by_less_of_it_or_by_the_bar_that_is_named() {
    for units in [Units::Mm, Units::Inch] {
        for (bar_mm, clean_up_mm) in [(49.0, 3.0), (46.37, 1.5), (45.3, 4.0), (51.111, 7.77)] {
            let job = too_much(units, bar_mm, clean_up_mm);
            let told = plan(&job);
            let [reason] = reasons(&told) else { panic!("{:#?}", told.outcome) };
            assert_eq!(reason.rule, "bar-too-short");
            let clean_up = after(&reason.way_out, "a clean-up of ", units).unwrap_or_else(|| panic!("{reason:#?}"));
            let blank = after(&reason.way_out, "a blank of ", units).unwrap_or_else(|| panic!("{reason:#?}"));
            let mut less = job.clone();
            less.cutting.clean_up = Some(clean_up);
            assert!(planned(&plan(&less)), "{reason:#?}");
            let mut longer = job.clone();
            longer.stock.length = blank;
            assert!(planned(&plan(&longer)), "{reason:#?}");
        }
    }
}

/// Less than the least skin is no clean-up: half a millimetre, `data/defaults.toml`, common practice, no source.
#[test]
fn no_clean_up_is_offered_where_the_bar_has_less_than_a_saw_leaves() {
    let told = plan(&too_much(Units::Mm, 44.6, 2.0));
    let [reason] = reasons(&told) else { panic!("{:#?}", told.outcome) };
    assert!(!reason.way_out.contains("clean-up") && reason.way_out.starts_with("a blank of "), "{reason:#?}");
}

/// A bar without metal for the part: no order can lead to it, whatever was sought.
#[test]
fn a_bar_too_thin_is_proven_not_to_do() {
    let mut job = scene::six_faces();
    job.stock.form = scene::round(40.0);
    let told = plan(&job);
    assert_eq!(reasons(&told).iter().map(|reason| reason.rule).collect::<Vec<_>>(), ["bar-too-thin"]);
    assert!(told.search.proven_best && told.search.examined == 0 && told.search.plans_possible == 0.0);
}
