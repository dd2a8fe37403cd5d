//! Words of the plan, and what it owns up to.

use engine::plan::{Hand, Outcome, Plan};
use engine::quantity::Units;

use crate::case::Case;
use crate::jaws::each;
use crate::rule;
use crate::rule::{Findings, Rule};

pub fn rules() -> Vec<Rule> {
    vec![
        rule!(
            "T42",
            the_bar_covers_the_finished_corners,
            |case| case.plan.stock.least_round_mm *= 1.3,
            "the bar covers the finished corners; a bar that does not is said to be too thin or too short",
            "planned: every corner of the part, from our own section of bar and part, lies in the bar; `least_round_mm` is at least the part's widest, at most 2 / sqrt 3 times it (Jung's theorem)",
            "geometry"
        ),
        rule!(
            "T44",
            few_cautions_and_no_promise,
            |case| each(case, |set_up| set_up.cautions = vec!["this is safe".to_string(); 5]),
            "at most three cautions at a set-up, and no promise anywhere",
            "length of `cautions` <= 3; no text of the plan says \"safe\", \"guaranteed\" or \"will hold\"",
            "project's rule"
        ),
        rule!(
            "T45",
            what_nobody_gave_is_listed,
            |case| case.plan.assumed.clear(),
            "every value that nobody gave is listed",
            "for each value absent in job and shop that the plan used (force, marked speed, efficiency, nose, deepest cut, packing, limits ...): a row in `assumed` with words for it, value and source",
            "project's rule"
        ),
        rule!(
            "T46",
            the_same_job_gives_the_same_plan,
            |case| case.plan.minutes.cutting += 0.5,
            "the same job gives the same plan, whatever its units",
            "every fortieth job: planned again, and planned with the other units for its words: outcome, faces, depths, speeds, feeds and minutes are the same",
            "project's rule"
        ),
        rule!(
            "T61",
            no_raw_name_reaches_a_reader,
            |case| case.plan.assumed[0].what = "gauge[0].fits_in_chuck".to_string(),
            "words of the trade, never names of the program",
            "no text of a plan or of a working holds `_`, `[`, `^`, `::`, `.toml` or `docs/`, nor a unit such as mm2; no Greek letter is spelled out",
            "project's rule"
        ),
        rule!(
            "T58",
            every_number_is_one,
            |case| each(case, |set_up| set_up.hold.spring_um = f64::NAN),
            "every number of a plan is a number",
            "no NaN or infinity and no \"NaN\", \"inf\" in any text; lengths, forces, powers and minutes of a set-up above nought",
            "project's rule"
        ),
    ]
}

/// Every text of a plan.
fn texts(plan: &Plan) -> Vec<&str> {
    let mut all: Vec<&str> = plan.cautions.iter().map(String::as_str).collect();
    let asked = &plan.asked;
    all.extend([&asked.part, &asked.stock, &asked.material].map(String::as_str));
    all.extend(asked.limits.iter().chain(&asked.requirements).map(String::as_str));
    all.extend(plan.assumed.iter().flat_map(|row| [row.what.as_str(), &row.value, &row.source]));
    if let Outcome::Impossible(reasons) = &plan.outcome {
        all.extend(reasons.iter().flat_map(|reason| [reason.says.as_str(), &reason.way_out]));
    }
    for set_up in &plan.set_ups {
        all.extend(set_up.cautions.iter().map(String::as_str));
        all.extend([set_up.hold.binding.as_str(), &set_up.speed.binding]);
        all.extend(set_up.hold.hand_checks.iter().map(String::as_str));
        all.extend(set_up.passes.iter().map(|pass| pass.dial.as_str()));
        all.extend(set_up.measure.iter().flat_map(|measure| [measure.what.as_str(), &measure.gauge, &measure.when]));
        all.extend(set_up.hands.iter().flat_map(|hand| match hand {
            Hand::Do { does, why } => [does.as_str(), why.as_deref().unwrap_or("")],
            _ => ["", ""],
        }));
    }
    all
}

fn the_bar_covers_the_finished_corners(case: &Case, found: &mut Findings) {
    let (bar, sides) = (case.raw_bar(), case.faces.iter().filter_map(|face| Some((face.side?, face.distance))));
    let part =
        crate::solid::Solid::flats(&sides.collect::<Vec<_>>(), crate::case::middle_of_limits(&case.job.part.length));
    if case.planned() {
        // Within what a corner of our round may lie inside the true one.
        let covered = part.corners.iter().all(|p| bar.holds((p.0 * 0.999_98, p.1 * 0.999_98)));
        found.check(covered && bar.length() >= part.length(), || {
            format!("{:?} in {:?}", case.job.part.form, case.job.stock.form)
        });
    }
    let apart = |p: &(f64, f64), q: &(f64, f64)| (p.0 - q.0).hypot(p.1 - q.1);
    let widest = part.corners.iter().flat_map(|p| part.corners.iter().map(move |q| apart(p, q))).fold(0.0, f64::max);
    let least = case.plan.stock.least_round_mm;
    found.check(least >= widest - 1e-6 && least <= widest * 2.0 / 3f64.sqrt() + 1e-6, || {
        format!("least round {least:.3}, widest {widest:.3}")
    });
}

fn few_cautions_and_no_promise(case: &Case, found: &mut Findings) {
    for set_up in &case.plan.set_ups {
        found.check(set_up.cautions.len() <= 3, || format!("set-up {}: {:?}", set_up.number, set_up.cautions));
    }
    for text in texts(&case.plan) {
        let low = text.to_lowercase();
        let promise = ["safe", "guaranteed", "will hold"].iter().find(|word| low.contains(**word));
        found.check(promise.is_none(), || format!("\"{text}\""));
    }
}

/// What the job and the shop call their things is theirs.
fn own_names(case: &Case) -> Vec<&str> {
    let shop = &case.shop;
    let mut names: Vec<&str> = shop.lathes.iter().map(|one| one.name.as_str()).collect();
    names.extend(shop.chucks.iter().map(|one| one.name.as_str()));
    names.extend(shop.tools.iter().map(|one| one.name.as_str()));
    names.extend(shop.gauges.iter().map(|one| one.name.as_str()));
    names.extend(shop.packing.iter().map(|one| one.material.as_str()));
    names
}

fn no_raw_name_reaches_a_reader(case: &Case, found: &mut Findings) {
    let raw = ["_", "[", "^", "::", ".toml", "docs/", "mm2", "mm3"];
    let spelled = ["mu", "omega", "kappa", "epsilon", "lambda", "rho"];
    let own = own_names(case);
    let plan = &case.plan;
    let notes = plan.set_ups.iter().flat_map(|set_up| &set_up.notes).map(String::as_str);
    let all = plan.workings.iter().chain(plan.set_ups.iter().flat_map(|set_up| &set_up.workings));
    let worked = all.flat_map(|working| {
        let known = working.values.iter().flat_map(|known| [known.meaning, known.from.as_str()]);
        [working.says.as_str(), working.of.as_str(), working.formula, working.source].into_iter().chain(known)
    });
    for text in texts(plan).into_iter().chain(notes).chain(worked) {
        let bare = own.iter().fold(text.to_string(), |text, name| text.replace(name, ""));
        let word = |word: &str| bare.split(|sign: char| !sign.is_alphanumeric()).any(|one| one == word);
        let told = raw.iter().find(|sign| bare.contains(**sign)).or_else(|| spelled.iter().find(|name| word(name)));
        found.check(told.is_none(), || format!("{told:?} in \"{text}\""));
    }
}

fn what_nobody_gave_is_listed(case: &Case, found: &mut Findings) {
    let (lathe, chuck, tool) = (case.lathe(), case.chuck(), case.tool());
    let part = &case.job.part;
    let packed = case.plan.set_ups.iter().flat_map(|set_up| &set_up.jaws).any(|jaw| jaw.packing_mm > 0.0);
    let absent = [
        (chuck.clamping_force.is_none(), "clamping force of a jaw"),
        (chuck.marked_speed.is_none(), "speed of the chuck"),
        (chuck.low_share.is_none(), "share of the clamping force"),
        (chuck.stiffness_n_per_um.is_none(), "stiffness of a jaw"),
        (chuck.jaw.mass.is_none(), "mass of a jaw"),
        (chuck.bore.is_none(), "hole in the chuck"),
        (lathe.efficiency.is_none(), "share of the motor"),
        (lathe.stiffness_n_per_um.is_none(), "stiffness of the lathe"),
        (lathe.mass.is_none(), "mass of the lathe"),
        (lathe.swing_over_bed.is_none() || lathe.swing_over_slide.is_none(), "swing"),
        (tool.nose_radius.is_none(), "nose radius"),
        (tool.rake.is_none(), "rake"),
        (tool.cutting_edge_angle.is_none(), "cutting edge angle"),
        (tool.deepest_cut.is_none(), "deepest cut"),
        (tool.feed.is_none(), "feed"),
        (case.shop.packing.is_empty() && packed, "packing"),
        (case.shop.minutes.touch_off.is_none(), "touch off"),
        (case.job.stock.surface.is_none(), "surface of the bar"),
        (part.length.plus.is_none() && part.length.minus.is_none(), "limits of sizes"),
    ];
    let listed = |word: &str| {
        let rows = &case.plan.assumed;
        rows.iter().any(|row| row.what.contains(word) && !row.value.is_empty() && row.source.len() > 8)
    };
    for (_, word) in absent.into_iter().filter(|(absent, _)| *absent) {
        found.check(listed(word), || format!("nothing assumed for {word}"));
    }
}

/// What must not depend on units of the words, rounded far below what a machinist reads.
fn gist(plan: &Plan) -> Vec<String> {
    let passes = plan.set_ups.iter().flat_map(|set_up| set_up.passes.iter().map(move |pass| (set_up, pass)));
    let mut gist: Vec<String> = passes
        .map(|(set_up, pass)| {
            format!(
                "{:?} {:.6} {:.6} {} {}",
                set_up.cuts_faces, set_up.bite_mm, pass.total_mm, pass.rpm, pass.feed_mm_per_rev
            )
        })
        .collect();
    gist.push(format!("{:.6} {}", plan.minutes.total(), plan.outcome == Outcome::Planned));
    gist
}

fn the_same_job_gives_the_same_plan(case: &Case, found: &mut Findings) {
    if !case.seed.is_multiple_of(40) {
        return;
    }
    let mut job = case.job.clone();
    let again = engine::plan(&job, &case.shop);
    found.check(again.is_ok_and(|again| gist(&again) == gist(&case.plan)), || "planned again it differs".to_string());
    job.units = if job.units == Units::Mm { Units::Inch } else { Units::Mm };
    let other = engine::plan(&job, &case.shop);
    found.check(other.is_ok_and(|other| gist(&other) == gist(&case.plan)), || "in other units it differs".to_string());
}

fn every_number_is_one(case: &Case, found: &mut Findings) {
    for text in texts(&case.plan) {
        found.check(!text.contains("NaN") && !text.split([' ', ',']).any(|word| word == "inf"), || {
            format!("\"{text}\"")
        });
    }
    for set_up in &case.plan.set_ups {
        let hold = &set_up.hold;
        let mut numbers = vec![set_up.bite_mm, set_up.removed_mm3, set_up.minutes.total(), hold.spring_um];
        numbers.extend([set_up.speed.set_rpm, set_up.speed.most_rpm, hold.counted_force_n]);
        for pass in &set_up.passes {
            numbers.extend([pass.depth_mm, pass.start_radius_mm, pass.floor_area_mm2, pass.removed_mm3, pass.chip_mm]);
            numbers.extend([pass.power_mean_w, pass.power_peak_w, pass.torque_nm, pass.minutes, pass.in_metal_share]);
            numbers.extend([pass.force_n.cutting, pass.force_n.feed, pass.force_safe_n.cutting]);
        }
        let right = numbers.iter().all(|number| number.is_finite() && *number > 0.0);
        found.check(right, || format!("set-up {}: {numbers:?}", set_up.number));
    }
}
