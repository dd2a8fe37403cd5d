//! Chip, force, power, torque and minutes of a pass.

use super::floor::START_RADIUS;
use super::list::{Given, Workings, given, worked};
use super::speed::SET;
use super::{Taken, Told, rule, taken};
use crate::cutting::{self, Edge, Family, Material};
use crate::plan::{Force3, Pass};

/// Keys of the two rake factors.
const LIKELY_RAKE: &str = "rake factor";
const HIGHER_RAKE: &str = "rake factor of the higher table";

/// The rake factors, which are the same for every pass.
pub fn rakes(told: &Told, list: &mut Workings) {
    let material = &told.task.material;
    if material.family == Family::Own {
        return;
    }
    let rows = [
        (LIKELY_RAKE, material.rake_deg, &material.source),
        (HIGHER_RAKE, material.high_rake_deg, &material.source_high),
    ];
    let edge = edge(told);
    let numbers = cutting::numbers();
    for (what, table_deg, source) in rows {
        list.add(
            what,
            cutting::rake_factor(edge.rake_rad, table_deg),
            "rake factor",
            vec![
                given("c_gamma", numbers.rake_per_degree.value, numbers.rake_per_degree.source.clone()),
                given("g", numbers.rake_range_deg.value, numbers.rake_range_deg.source.clone()),
                given("gamma", edge.rake_rad.to_degrees(), of_tool(told, "rake")),
                given("gamma_0", table_deg, source.clone()),
            ],
        );
    }
}

fn edge<'a>(told: &Told<'a>) -> &'a Edge {
    &told.task.tools[told.chosen.way.tool].edge
}

/// Where a value of the tool comes from.
fn of_tool(told: &Told, thing: &str) -> String {
    let name = &told.task.tools[told.chosen.way.tool].name;
    taken(told.task, &format!("{thing} of {name}"), &format!("the shop: {name}"))
}

/// Everything from the chip to the minutes.
pub fn pass(told: &Told, taken: &Taken, list: &mut Workings) {
    let pass = &taken.pass;
    let radius = list.key(START_RADIUS);
    let chip = chip(told, pass, list);
    let cutting = cutting_force(told, pass, &chip, list);
    feed_and_passive(pass.force_n, ["feed force", "passive force"], (&chip, &cutting.0), list);
    let higher = ["higher feed force", "higher passive force"];
    feed_and_passive(pass.force_safe_n, higher, (&chip, &cutting.1), list);
    power(told, taken, &cutting.1, &radius, list);
    minutes(told, taken, &radius, list);
}

/// Keys of the chip's workings and its numbers.
struct ChipKeys {
    area: String,
    thickness: String,
    chord: String,
    chip: cutting::Chip,
}

fn feed(pass: &Pass) -> Given {
    let from = if pass.by_hand {
        "by hand, within the tool's range"
    } else {
        "the lathe's list of feeds, within the tool's range"
    };
    given("f", pass.feed_mm_per_rev, from)
}

fn depth(pass: &Pass) -> Given {
    given("a_p", pass.depth_mm, "the cuts that the dial counts well and the grip holds")
}

fn chip(told: &Told, pass: &Pass, list: &mut Workings) -> ChipKeys {
    let edge = edge(told);
    let chip = cutting::chip(edge, pass.depth_mm, pass.feed_mm_per_rev);
    let area = list.add("area of the chip", chip.area_mm2, "area of the chip", vec![feed(pass), depth(pass)]);
    let nose = || given("r_epsilon", edge.nose_mm, of_tool(told, "nose radius"));
    let kappa = || given("kappa_r", edge.kappa_rad.to_degrees(), of_tool(told, "cutting edge angle"));
    let reach_mm = pass.depth_mm / chip.chord_rad.tan();
    let (length, reach) = if pass.depth_mm < cutting::nose_limit_mm(edge) {
        let angle_rad = (1.0 - pass.depth_mm / edge.nose_mm).acos();
        let theta = list.add("angle on the nose", angle_rad, "angle on the nose", vec![depth(pass), nose()]);
        let values = || vec![nose(), worked("theta", angle_rad, &theta), feed(pass)];
        (
            list.add("engaged edge", chip.length_mm, "engaged edge, nose alone", values()),
            list.add("reach of the edge", reach_mm, "reach of the edge, nose alone", values()),
        )
    } else {
        let values = || vec![nose(), kappa(), depth(pass), feed(pass)];
        (
            list.add("engaged edge", chip.length_mm, "engaged edge", values()),
            list.add("reach of the edge", reach_mm, "reach of the edge", values()),
        )
    };
    let thickness = list.add(
        "mean thickness of the chip",
        pass.chip_mm,
        "mean thickness of the chip",
        vec![worked("A", chip.area_mm2, &area), worked("b", chip.length_mm, &length)],
    );
    let chord = list.add(
        "chord angle",
        chip.chord_rad.to_degrees(),
        "chord angle",
        vec![worked("x", reach_mm, &reach), depth(pass)],
    );
    ChipKeys { area, thickness, chord, chip }
}

/// One level of the force: its keys, its table, its factors.
struct LevelOf<'a> {
    specific: &'static str,
    force: &'static str,
    rake: (&'static str, f64),
    table: (f64, f64, &'a str),
    cutting_n: f64,
    worn: bool,
}

fn levels<'a>(pass: &Pass, material: &'a Material, edge: &Edge) -> [LevelOf<'a>; 2] {
    let rake = |what, table_deg| (what, cutting::rake_factor(edge.rake_rad, table_deg));
    [
        LevelOf {
            specific: "specific cutting force",
            force: "cutting force",
            rake: rake(LIKELY_RAKE, material.rake_deg),
            table: (material.kc11_mpa, material.mc, &material.source),
            cutting_n: pass.force_n.cutting,
            worn: false,
        },
        LevelOf {
            specific: "higher specific cutting force",
            force: "higher cutting force",
            rake: rake(HIGHER_RAKE, material.high_rake_deg),
            table: (material.kc11_high_mpa, material.mc_high, &material.source_high),
            cutting_n: pass.force_safe_n.cutting,
            worn: true,
        },
    ]
}

/// Keys of the likely and of the higher cutting force.
fn cutting_force(told: &Told, pass: &Pass, chip: &ChipKeys, list: &mut Workings) -> (String, String) {
    let material = &told.task.material;
    let [likely, higher] = levels(pass, material, edge(told)).map(|level| {
        let specific = specific(&level, chip, list);
        let area = worked("A", chip.chip.area_mm2, &chip.area);
        if material.family == Family::Own {
            return list.add(level.force, level.cutting_n, "cutting force, own material", vec![specific, area]);
        }
        let (tool, source) = cutting::tool_force_factor(edge(told).tool);
        let mut values =
            vec![specific, area, worked("K_gamma", level.rake.1, level.rake.0), given("K_t", tool, source)];
        if level.worn {
            let wear = &cutting::numbers().wear;
            values.push(given("K_v", wear.value, wear.source.clone()));
        }
        let row = if level.worn { "cutting force, worn edge" } else { "cutting force, sharp edge" };
        list.add(level.force, level.cutting_n, row, values)
    });
    (likely, higher)
}

fn specific(level: &LevelOf, chip: &ChipKeys, list: &mut Workings) -> Given {
    let (kc11_mpa, exponent, source) = level.table;
    let least = &cutting::numbers().least_chip_mm;
    let mpa = cutting::kienzle_mpa(kc11_mpa, exponent, chip.chip.mean_thickness_mm);
    let key = list.add(
        level.specific,
        mpa,
        "specific cutting force",
        vec![
            given("k_c1.1", kc11_mpa, source),
            worked("h", chip.chip.mean_thickness_mm, &chip.thickness),
            given("h_0", least.value, least.source.clone()),
            given("m_c", exponent, source),
        ],
    );
    worked("k_c", mpa, &key)
}

fn feed_and_passive(force: Force3, [feed, passive]: [&str; 2], (chip, key): (&ChipKeys, &str), list: &mut Workings) {
    let share = &cutting::numbers().normal_force_share;
    let values = || {
        vec![
            given("rho", share.value, share.source.clone()),
            worked("F_c", force.cutting, key),
            worked("chi", chip.chip.chord_rad.to_degrees(), &chip.chord),
        ]
    };
    list.add(feed, force.feed, "feed force", values());
    list.add(passive, force.passive, "passive force", values());
}

fn power(told: &Told, taken: &Taken, higher: &str, radius: &str, list: &mut Workings) {
    let pass = &taken.pass;
    let force = || worked("F_c", pass.force_safe_n.cutting, higher);
    let start = || worked("r_1", pass.start_radius_mm, radius);
    let turning = || worked("n", told.chosen.way.facing.speed.set_rpm, SET);
    let speed = list.add("cutting speed", pass.speed_m_per_min, "cutting speed", vec![start(), turning()]);
    let at_edge = vec![force(), worked("v_c", pass.speed_m_per_min, &speed)];
    list.add("peak power", pass.power_peak_w, "peak power", at_edge);
    let mean = given("r_m", taken.mean_radius_mm, "sought over the floor of the pass");
    list.add("mean power", pass.power_mean_w, "mean power", vec![mean, turning(), force()]);
    list.add("torque", pass.torque_nm, "torque at the spindle", vec![force(), start()]);
}

fn minutes(told: &Told, taken: &Taken, radius: &str, list: &mut Workings) {
    let pass = &taken.pass;
    list.add(
        "minutes",
        pass.minutes,
        "minutes of a pass",
        vec![
            worked("r_1", pass.start_radius_mm, radius),
            given("a", told.task.rules.approach_mm, rule("approach")),
            given("r_0", taken.floor.end_radius_mm, "the floor: 0 where the spindle axis lies in it"),
            feed(pass),
            worked("n", told.chosen.way.facing.speed.set_rpm, SET),
        ],
    );
}
