//! The inspection report: every size, angle and requirement with the shop's gauge and room for what was read.

use std::f64::consts::{PI, TAU};

use engine::plan::{FacePlace, FaceShape, Hand, Plan, ShopGauge, SizeShape, counts_mm};
use engine::quantity::Units;
use engine::quantity::bare::bare;
use engine::quantity::limits::{limits_in_mm, nominal_least_most};
use serde_json::{Value, json};

/// Stands where the shop has nothing that shows it.
const NONE: &str = "none in the shop";
/// In the names of gauges that close on two flats.
const MICROMETER: &str = "micrometer";
/// Words in the names of gauges that show how parallel flats are; an indicator does so over a surface plate.
const PARALLEL_GAUGES: &[&str] = &[MICROMETER, "indicator", "dial gauge", "dial test"];
/// Words in the names of gauges that show an angle.
const ANGLE_GAUGES: &[&str] = &["protractor", "angle", "bevel"];
/// Angles of sides are told apart from right ones above this, rad.
const SQUARE_RAD: f64 = 1e-6;

/// Rows in the order of the drawing: sizes, then angles, then the rest of what is asked.
pub(crate) fn value(plan: &Plan) -> Value {
    json!({
        "units": plan.units.name(),
        "sizes": plan.scene.sizes.iter().map(|size| row(size, plan)).chain(lone_sides(plan)).collect::<Vec<_>>(),
        "angles": angles(&plan.scene.faces, &named_or_used(plan, ANGLE_GAUGES, "bevel protractor")),
        "requirements": plan.asked.requirements.iter().map(|says| json!({
            "says": says,
            "gauge": gauge_for(says, plan),
        })).collect::<Vec<_>>(),
    })
}

fn row(size: &SizeShape, plan: &Plan) -> Value {
    let [nominal, least, most] = nominal_least_most(size.nominal_mm, size.plus_mm, size.minus_mm, plan.units);
    json!({
        "what": format!("{} to {}", size.between[0], size.between[1]),
        "nominal": nominal,
        "least": least,
        "most": most,
        "gauge": bench_gauge(size.nominal_mm, &plan.asked.gauges) + &in_its_units(size, plan),
    })
}

/// Sides without an opposite one, whose place the drawing gives from the middle of the bar: the size over each and the
/// bar behind it is measured in its set-up, with its limits.
fn lone_sides(plan: &Plan) -> impl Iterator<Item = Value> {
    let sized = |face: &FaceShape| plan.scene.sizes.iter().any(|size| size.between.contains(&face.name));
    let alone = plan.scene.faces.iter().filter(move |face| face.cut && side(face).is_some() && !sized(face));
    alone.map(|face| {
        let cut_in = plan.set_ups.iter().find(|set_up| set_up.cuts_faces.contains(&face.name));
        let gauge = cut_in.map_or(String::new(), |set_up| format!("as measured in set-up {}", set_up.number));
        json!({
            "what": format!("{} from the bar's middle", face.name),
            "nominal": bare(face.distance_mm, plan.units),
            "least": "",
            "most": "",
            "gauge": gauge,
        })
    })
}

/// The limits as a gauge named in mm reads them, where the job is in inches; rounded inwards.
fn in_its_units(size: &SizeShape, plan: &Plan) -> String {
    let name = bench_gauge(size.nominal_mm, &plan.asked.gauges);
    if plan.units != Units::Inch || !counts_mm(&name, size.nominal_mm) {
        return String::new();
    }
    format!(" (reads mm: {})", limits_in_mm(size.nominal_mm, size.plus_mm, size.minus_mm))
}

/// The gauge of least uncertainty that reaches a size on the bench.
fn bench_gauge(size_mm: f64, gauges: &[ShopGauge]) -> String {
    let reaches = |gauge: &&ShopGauge| {
        !gauge.fits_in_chuck && gauge.range_mm.is_none_or(|[least, most]| (least..=most).contains(&size_mm))
    };
    let best = gauges.iter().filter(reaches).min_by(|one, other| one.uncertainty_mm.total_cmp(&other.uncertainty_mm));
    best.map_or_else(|| NONE.to_string(), |gauge| gauge.name.clone())
}

/// Words in the names of gauges that show what a requirement asks; common practice, no source.
fn shows(requirement: &str) -> &'static [&'static str] {
    let asks = |word: &str| requirement.contains(word);
    if requirement.starts_with("Ra ") {
        &["rough", "comparison", "surface tester"]
    } else if requirement.starts_with("angles ") {
        ANGLE_GAUGES
    } else if asks("square") {
        &["square", "cylinder square"]
    } else if asks("parallel") {
        PARALLEL_GAUGES
    } else if asks("flat") {
        &["straight", "surface plate", "indicator", "dial test"]
    } else {
        &[]
    }
}

/// What shows a requirement, over the sizes of this part.
fn gauge_for(requirement: &str, plan: &Plan) -> String {
    let sizes: Vec<f64> = plan.scene.sizes.iter().map(|size| size.nominal_mm).collect();
    match shows(requirement) {
        words if words.contains(&MICROMETER) => parallel_gauges(&sizes, &plan.asked.gauges),
        words if words.contains(&"square") => named_or_used(plan, words, "square"),
        words => named(&plan.asked.gauges, words),
    }
}

/// The micrometers that open to all these sizes, else another gauge that shows how parallel flats are.
fn parallel_gauges(sizes_mm: &[f64], gauges: &[ShopGauge]) -> String {
    let micrometers: Vec<ShopGauge> =
        gauges.iter().filter(|gauge| gauge.name.to_lowercase().contains(MICROMETER)).cloned().collect();
    let mut names: Vec<String> = sizes_mm.iter().map(|&size_mm| bench_gauge(size_mm, &micrometers)).collect();
    names.sort();
    names.dedup();
    if names.is_empty() || names.iter().any(|name| name == NONE) {
        let others: Vec<ShopGauge> =
            gauges.iter().filter(|gauge| !gauge.name.to_lowercase().contains(MICROMETER)).cloned().collect();
        return named(&others, PARALLEL_GAUGES);
    }
    names.join(" and ")
}

/// A gauge of the shop, or the one that the steps of the plan take though the shop does not list it.
fn named_or_used(plan: &Plan, words: &[&str], kind: &str) -> String {
    let listed = named(&plan.asked.gauges, words);
    let hands = plan.set_ups.iter().flat_map(|set_up| &set_up.hands);
    let taken = hands.into_iter().any(|hand| matches!(hand, Hand::Do { does, .. } if asks_for(does, kind)));
    if listed == NONE && taken { format!("{} (not in the shop's list)", whole_name(kind)) } else { listed }
}

/// Whether a step takes a gauge of this kind in hand.
fn asks_for(step: &str, kind: &str) -> bool {
    ["a ", "a try "].iter().any(|article| step.contains(&format!("{article}{kind}")))
}

fn whole_name(kind: &str) -> &str {
    if kind == "square" { "try square" } else { kind }
}

/// Gauges of the shop with one of these words in their names.
fn named(gauges: &[ShopGauge], words: &[&str]) -> String {
    let fits = |gauge: &&ShopGauge| words.iter().any(|word| gauge.name.to_lowercase().contains(word));
    let found: Vec<&str> = gauges.iter().filter(fits).map(|gauge| gauge.name.as_str()).collect();
    match found.as_slice() {
        [] => NONE.to_string(),
        [one] => (*one).to_string(),
        [one, ..] => format!("{one} or another"),
    }
}

/// Angles between neighbouring flats, where they are not all right ones: those have a requirement of their own.
fn angles(faces: &[FaceShape], gauge: &str) -> Vec<Value> {
    let mut sides: Vec<(f64, &str)> = faces.iter().filter_map(side).collect();
    sides.sort_by(|one, other| one.0.total_cmp(&other.0));
    let next = sides.iter().cycle().skip(1);
    let turns: Vec<(&str, &str, f64)> = sides
        .iter()
        .zip(next)
        .map(|(one, other)| (one.1, other.1, (other.0 - one.0).rem_euclid(TAU)))
        .filter(|(_, _, turn)| *turn > 0.0 && *turn < PI)
        .collect();
    if turns.iter().all(|(_, _, turn)| (turn - PI / 2.0).abs() < SQUARE_RAD) {
        return Vec::new();
    }
    let row = |(one, other, turn): &(&str, &str, f64)| json!({ "what": format!("inside angle {one} to {other}"), "nominal": degrees((PI - turn).to_degrees()), "gauge": gauge });
    turns.iter().map(row).collect()
}

fn side(face: &FaceShape) -> Option<(f64, &str)> {
    match face.place {
        FacePlace::Side { normal_rad } => Some((normal_rad.rem_euclid(TAU), face.name.as_str())),
        FacePlace::Front | FacePlace::Back => None,
    }
}

/// "135°", "128.57°".
fn degrees(angle_deg: f64) -> String {
    let text = format!("{angle_deg:.2}");
    format!("{}°", text.trim_end_matches('0').trim_end_matches('.'))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn face(name: &str, normal_deg: f64) -> FaceShape {
        let place = FacePlace::Side { normal_rad: normal_deg.to_radians() };
        FaceShape { name: name.to_string(), place, distance_mm: 10.0, cut: true }
    }

    #[test]
    fn a_regular_hexagon_has_six_angles_of_120_degrees_and_a_block_none_to_name() {
        // Euclid, Elements I.32: the angles of a polygon of n sides add up to (n - 2) 180 degrees.
        let hexagon: Vec<FaceShape> = (0..6).map(|at| face(&at.to_string(), f64::from(at) * 60.0)).collect();
        let rows = angles(&hexagon, NONE);
        assert_eq!(rows.len(), 6);
        assert!(rows.iter().all(|row| row["nominal"] == "120°" && row["gauge"] == NONE));
        let block: Vec<FaceShape> = (0..4).map(|at| face(&at.to_string(), f64::from(at) * 90.0)).collect();
        assert_eq!(angles(&block, NONE), Vec::<Value>::new());
    }

    #[test]
    fn steps_that_take_a_gauge_in_hand_are_known_by_their_words() {
        assert!(asks_for("Spindle at rest: try a square from A to C before you loosen a jaw.", "square"));
        assert!(asks_for("square to them by a try square.", "square"));
        assert!(asks_for("Spindle at rest: lay a bevel protractor over C and D: 135 deg.", "bevel protractor"));
        assert!(!asks_for("Set the work square to the jaws.", "square"));
    }

    #[test]
    fn a_size_gets_the_finest_gauge_that_reaches_it_on_the_bench() {
        let gauge = |name: &str, range_mm, uncertainty_mm, fits_in_chuck| ShopGauge {
            name: name.to_string(),
            range_mm,
            uncertainty_mm,
            fits_in_chuck,
        };
        let gauges = [
            gauge("caliper", Some([0.0, 150.0]), 0.01, false),
            gauge("micrometer", Some([25.0, 50.0]), 0.002, false),
            gauge("depth gauge", Some([0.0, 100.0]), 0.001, true),
        ];
        assert_eq!(bench_gauge(44.0, &gauges), "micrometer");
        assert_eq!(bench_gauge(60.0, &gauges), "caliper");
        assert_eq!(bench_gauge(200.0, &gauges), NONE);
        assert_eq!(parallel_gauges(&[28.0, 45.0], &gauges), "micrometer");
        assert_eq!(parallel_gauges(&[20.0, 45.0], &gauges), NONE);
        let two = [gauge("micrometer 0-25", Some([0.0, 25.0]), 0.002, false), gauges[1].clone()];
        assert_eq!(parallel_gauges(&[28.0, 45.0], &two), "micrometer");
        assert_eq!(parallel_gauges(&[20.0, 45.0], &two), "micrometer and micrometer 0-25");
        assert_eq!(
            parallel_gauges(&[20.0, 80.0], &[two[0].clone(), gauge("dial indicator", None, 0.002, false)]),
            "dial indicator"
        );
        assert_eq!(named(&gauges, shows("each flat square to its neighbours within 0.06 mm")), NONE);
    }
}
