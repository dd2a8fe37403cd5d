//! Measuring, then deciding: weighing readings, spreads together, the aim that costs least, a gauge that decides.

use engine::measure::{
    Band, Belief, Chances, Gauge, Judged, Prices, Reading, Scrap, aim_by_gauge, aim_once, aim_repeated, cut_spread_mm,
    judged, textbook_guard_mm, together,
};

use crate::check::{Check, Near, row};

const KALMAN: &str =
    "closed form, Kalman's filter for one number (textbooks of estimation, from memory), worked out apart";
const SPREAD: &str = "closed form, root of the sum of squares (GUM 5.1.2, from memory), worked by hand";
const GUM_H1: &str = "JCGM 100:2008 (GUM), H.1.4: contributions 25, 9.7, 2.9, 16.6 nm, printed 32 nm (from memory)";
const JCGM_101: &str = "JCGM 101:2008, 9.2 (from memory)";
const JCGM_106: &str =
    "JCGM 106:2012, example of kinematic viscosity (inputs from memory, value computed, published as about 0.66)";
const RISKS: &str =
    "JCGM 106:2012, 9.5, global risks (formulas from memory), integrated with a general numerical library";
const ISO_14253: &str = "ISO 14253-1:2017, guard band for a conformance of 95 %, g = 1.65 u (from memory)";
const TEXTBOOK: &str = "problem of a course in quality control (mean 20, s 1.2, limits 16 to 24, scrap four times rework; \
                        seen), answers worked out with a general numerical library";
const CANNING: &str = "expected cost of rework and scrap (after Springer 1951, Golhar and Pollock 1986), iterated with a \
                       general numerical library, six figures kept";
const GAUGED: &str =
    "the same with the reading of a gauge deciding, least found by a general library's search, figures kept";

pub fn checks() -> Vec<Check> {
    [weighing(), spreads(), risks(), textbook(), by_price(), by_spread(), by_gauge(), deciding()].concat()
}

fn near(id: &'static str, what: &'static str, source: &'static str, pair: (f64, f64), within: f64) -> Check {
    row(id, what, source, pair, "", Near::Within(within))
}

/// Half a unit of the sixth place: what the record keeps.
const SIX: f64 = 5e-7;

fn weighing() -> Vec<Check> {
    let belief = |mean, spread| Belief::new(mean, spread).expect("sound");
    let reading = |size, uncertainty| Reading::new(size, uncertainty).expect("sound");
    let (dial, micrometer) = (belief(50.262, 0.012), reading(50.251, 0.005));
    let fused = dial.after(&micrometer);
    // The offset of a tool: scatter of the cut 0.010 and of the gauge 0.005 stand between it and a reading.
    let error = 0.010_f64.hypot(0.005);
    let (before, first) = (belief(0.0, 0.015), reading(0.012, error));
    let after = before.after(&first);
    let second = reading(0.005, error);
    let drifted = after.drifted(0.003);
    let last = drifted.after(&second);
    let mut steady = after;
    for _ in 0..200 {
        steady = steady.drifted(0.003).after(&second);
    }
    vec![
        near(
            "A-01",
            "weight of a micrometer (sd 0.005) beside the dial's word (sd 0.012)",
            KALMAN,
            (0.852_071, dial.weight_of(0.005)),
            SIX,
        ),
        near("A-02", "50.262 by the dial, 50.251 measured: believed, mm", KALMAN, (50.252_627, fused.mean_mm), SIX),
        near("A-03", "sd of that, mm", KALMAN, (0.004_615, fused.spread_mm), SIX),
        near(
            "A-04",
            "offset 0 (sd 0.015), cut 0.010, gauge 0.005: gain",
            KALMAN,
            (0.642_857, before.weight_of(error)),
            SIX,
        ),
        near("A-05", "offset after a reading of 0.012, mm", KALMAN, (0.007_714, after.mean_mm), SIX),
        near("A-06", "sd of that, mm", KALMAN, (0.008_964, after.spread_mm), SIX),
        near("A-07", "the same after a drift of 0.003: gain", KALMAN, (0.416_861, drifted.weight_of(error)), SIX),
        near("A-08", "offset after a reading of 0.005, mm", KALMAN, (0.006_583, last.mean_mm), SIX),
        near("A-09", "sd of that, mm", KALMAN, (0.007_219, last.spread_mm), SIX),
        near("A-10", "gain in the long run", KALMAN, (0.234_732, steady.drifted(0.003).weight_of(error)), SIX),
        near("A-11", "sd in the long run, mm", KALMAN, (0.005_417, steady.spread_mm), SIX),
    ]
}

fn spreads() -> Vec<Check> {
    let cut = |depth: f64| cut_spread_mm(0.005, 0.02, depth, 0.006);
    vec![
        near(
            "A-12",
            "sd of a cut of 2.0 mm: gauge 0.005, 2 % of the depth, scatter 0.006 mm",
            SPREAD,
            (0.040_755, cut(2.0)),
            SIX,
        ),
        near("A-13", "the same, 1.0 mm", SPREAD, (0.021_471, cut(1.0)), SIX),
        near("A-14", "the same, 0.5 mm", SPREAD, (0.012_689, cut(0.5)), SIX),
        near("A-15", "the same, 0.25 mm", SPREAD, (0.009_274, cut(0.25)), SIX),
        near("A-16", "the same, 0.1 mm", SPREAD, (0.008_062, cut(0.1)), SIX),
        near(
            "A-17",
            "combined standard uncertainty of an end gauge, nm",
            GUM_H1,
            (32.0, together(&[25.0, 9.7, 2.9, 16.6])),
            0.5,
        ),
        near("A-18", "four quantities of sd 1 added: sd", JCGM_101, (2.0, together(&[1.0; 4])), 1e-12),
        near("A-19", "the same with one of sd 10", JCGM_101, (10.1, together(&[1.0, 1.0, 1.0, 10.0])), 0.05),
        near(
            "A-20",
            "guard band for u = 0.005 mm, mm",
            ISO_14253,
            (1.65 * 0.005, textbook_guard_mm(0.005)),
            0.005 * 0.01,
        ),
    ]
}

fn lathe() -> Band {
    Band::new(-0.020, 0.020, Scrap::Under).expect("sound")
}

/// Bad pieces accepted, good ones turned away: sizes of sd 0.010 about the middle of ±0.020 mm.
fn risk(uncertainty: f64, guard: f64) -> (f64, f64) {
    let found: Judged = judged(&lathe(), 0.0, 0.010, &Gauge::guarded(uncertainty, guard));
    (found.escapes, lathe().chances(0.0, 0.010).good - found.good)
}

fn risks() -> Vec<Check> {
    let viscosity = Band::new(12.5, 16.3, Scrap::Under).expect("sound");
    vec![
        near(
            "A-21",
            "viscosity 13.6, u 1.8, limits 12.5 to 16.3: chance of conforming",
            JCGM_106,
            (0.662_630, viscosity.chances(13.6, 1.8).good),
            SIX,
        ),
        near(
            "A-22",
            "sizes of sd 0.010 in ±0.020 mm, gauge 0.002: bad ones accepted",
            RISKS,
            (0.006_776, risk(0.002, 0.0).0),
            SIX,
        ),
        near("A-23", "good ones turned away", RISKS, (0.011_136, risk(0.002, 0.0).1), SIX),
        near("A-24", "gauge 0.005: bad ones accepted", RISKS, (0.012_389, risk(0.005, 0.0).0), SIX),
        near("A-25", "good ones turned away", RISKS, (0.040_527, risk(0.005, 0.0).1), SIX),
        near("A-26", "gauge 0.010: bad ones accepted", RISKS, (0.016_564, risk(0.010, 0.0).0), SIX),
        near(
            "A-27",
            "gauge 0.005 with the guard of the textbook: bad ones accepted",
            RISKS,
            (0.000_800, risk(0.005, 1.645 * 0.005).0),
            SIX,
        ),
        near("A-28", "good ones turned away", RISKS, (0.247_555, risk(0.005, 1.645 * 0.005).1), SIX),
    ]
}

fn textbook() -> Vec<Check> {
    let band = Band::new(16.0, 24.0, Scrap::Under).expect("sound");
    let once = aim_once(&band, 1.2, 4.0).expect("sound");
    let (best, middle) = (band.chances(once, 1.2), band.chances(20.0, 1.2));
    vec![
        near("A-29", "best mean where scrap costs four reworks", TEXTBOOK, (20.249_533, once), SIX),
        near("A-30", "scrap there", TEXTBOOK, (0.000_199_10, best.scrap), 5e-9),
        near("A-31", "rework there", TEXTBOOK, (0.000_887_85, best.again), 5e-9),
        near("A-32", "cost there, in reworks", TEXTBOOK, (0.001_684_24, best.cost_once(4.0)), 5e-9),
        near("A-33", "scrap, and rework, at the middle", TEXTBOOK, (0.000_429_06, middle.scrap), 5e-9),
        near("A-34", "cost at the middle, in reworks", TEXTBOOK, (0.002_145_30, middle.cost_once(4.0)), 5e-9),
        near(
            "A-35",
            "best mean where rework may need rework",
            TEXTBOOK,
            (20.249_230, aim_repeated(&band, 1.2, 4.0).expect("sound")),
            SIX,
        ),
    ]
}

/// The aim for ±0.020 mm, cut 0.010 and gauge 0.005, and what comes of it.
fn at_price(price: f64) -> (f64, f64, Chances, f64) {
    let spread = 0.010_f64.hypot(0.005);
    let (once, again) = (aim_once(&lathe(), spread, price), aim_repeated(&lathe(), spread, price));
    let aim = again.expect("sound");
    let chances = lathe().chances(aim, spread);
    (once.expect("sound"), aim, chances, chances.cost_repeated(price))
}

fn by_price() -> Vec<Check> {
    let [one, two, five, ten, twenty, fifty, hundred] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0].map(at_price);
    let middle = lathe().chances(0.0, 0.010_f64.hypot(0.005));
    let c = |id, what, theirs, ours| near(id, what, CANNING, (theirs, ours), SIX);
    vec![
        c(
            "A-36",
            "±0.020 mm, cut sd 0.010, gauge 0.005, scrap at 1 pass: aim of repeated passes, mm",
            -0.000_230,
            one.1,
        ),
        c("A-37", "expected cost there, passes", 0.076_388, one.3),
        c("A-38", "scrap at 2 passes: aim of one pass, mm", 0.002_166, two.0),
        c("A-39", "aim of repeated passes, mm", 0.001_844, two.1),
        c("A-40", "expected cost there, passes", 0.108_591, two.3),
        c("A-41", "scrap at 5 passes: aim of one pass, mm", 0.005_029, five.0),
        c("A-42", "aim of repeated passes, mm", 0.004_545, five.1),
        c("A-43", "expected cost there, passes", 0.167_775, five.3),
        c("A-44", "scrap at 10 passes: aim of repeated passes, mm", 0.006_553, ten.1),
        c("A-45", "expected cost there, passes", 0.228_458, ten.3),
        c("A-46", "scrap at 20 passes: aim of one pass, mm", 0.009_362, twenty.0),
        c("A-47", "aim of repeated passes, mm", 0.008_527, twenty.1),
        c("A-48", "scrap in a pass there", 0.005_363, twenty.2.scrap),
        c("A-49", "another pass there", 0.152_395, twenty.2.again),
        c("A-50", "good the first time there", 0.842_242, twenty.2.good),
        c("A-51", "expected cost there, passes", 0.306_342, twenty.3),
        c("A-52", "expected cost at the middle, passes", 0.802_759, middle.cost_repeated(20.0)),
        c("A-53", "scrap in the end there", 0.006_327, twenty.2.scrap_in_the_end()),
        c("A-54", "passes there", 1.179_795, twenty.2.passes()),
        c("A-55", "scrap at 50 passes: aim of repeated passes, mm", 0.011_080, fifty.1),
        c("A-56", "expected cost there, passes", 0.442_445, fifty.3),
        c("A-57", "scrap at 100 passes: aim of repeated passes, mm", 0.012_968, hundred.1),
        c("A-58", "expected cost there, passes", 0.576_924, hundred.3),
    ]
}

/// Aim and expected cost for ±0.020 mm, scrap at 20 passes.
fn at_spread(spread: f64) -> (f64, f64) {
    let aim = aim_repeated(&lathe(), spread, 20.0).expect("sound");
    (aim, lathe().chances(aim, spread).cost_repeated(20.0))
}

fn by_spread() -> Vec<Check> {
    let [fine, less, ten, more, coarse, twice] = [0.005, 0.0075, 0.010, 0.0125, 0.015, 0.020].map(at_spread);
    let c = |id, what, theirs, ours| near(id, what, CANNING, (theirs, ours), SIX);
    vec![
        c("A-59", "±0.020 mm, scrap at 20 passes, sd 0.005: aim, mm", 0.001_872, fine.0),
        c("A-60", "expected cost there, passes", 0.000_266, fine.1),
        c("A-61", "sd 0.0075: aim, mm", 0.004_170, less.0),
        c("A-62", "sd 0.010: expected cost, passes", 0.183_925, ten.1),
        c("A-63", "sd 0.0125: expected cost, passes", 0.476_641, more.1),
        c("A-64", "sd 0.015: aim, mm", 0.013_300, coarse.0),
        c("A-65", "sd 0.020: expected cost, passes", 1.907_116, twice.1),
    ]
}

fn by_gauge() -> Vec<Check> {
    let cost = |cut: f64, gauge: f64| at_spread(cut.hypot(gauge)).1;
    let c = |id, what, theirs, ours| near(id, what, CANNING, (theirs, ours), SIX);
    vec![
        c("A-66", "worth of a gauge: cut sd 0.010, gauge 0.010: expected cost, passes", 0.731_011, cost(0.010, 0.010)),
        c("A-67", "gauge 0.002", 0.202_342, cost(0.010, 0.002)),
        c("A-68", "cut sd 0.006, gauge 0.005", 0.041_653, cost(0.006, 0.005)),
        c("A-69", "gauge 0.002", 0.006_380, cost(0.006, 0.002)),
    ]
}

/// Aim and cost where the gauge decides: true sizes of sd 0.01118034, scrap at 20 passes, a bad piece passed at 40.
fn decided(gauge: f64, guard: f64) -> (f64, f64, Judged) {
    let (spread, prices) = (0.010_f64.hypot(0.005), Prices::new(20.0, 40.0).expect("sound"));
    let gauge = Gauge::guarded(gauge, guard);
    let aim = aim_by_gauge(&lathe(), spread, &gauge, &prices).expect("sound");
    let found = judged(&lathe(), aim, spread, &gauge);
    (aim, found.cost(&prices), found)
}

fn deciding() -> Vec<Check> {
    let c = |id, what, theirs, ours, within| near(id, what, GAUGED, (theirs, ours), within);
    // Aims lie in flat leasts: the record's own search left some 1e-6, its costs a few 1e-6.
    const AIM: f64 = 5e-6;
    const COST: f64 = 5e-6;
    let [sharp, half, full] = [0.0, 0.0025, 0.0050].map(|guard| decided(0.002, guard));
    let [none, small, wide, book] = [0.0, 0.0025, 0.0050, 0.00822].map(|guard| decided(0.005, guard));
    vec![
        c("A-70", "gauge 0.002 decides, no guard: aim, mm", 0.004_909, sharp.0, AIM),
        c("A-71", "expected cost, passes", 0.928_641, sharp.1, COST),
        c("A-72", "bad pieces passed", 0.011_707, sharp.2.escapes, AIM),
        c("A-73", "guard 0.0025: expected cost, passes", 0.658_940, half.1, COST),
        c("A-74", "guard 0.0050: expected cost, passes", 0.911_640, full.1, COST),
        c("A-75", "gauge 0.005 decides, no guard: expected cost, passes", 1.608_391, none.1, COST),
        c("A-76", "guard 0.0025: aim, mm", 0.006_076, small.0, AIM),
        c("A-77", "expected cost, passes", 1.525_307, small.1, COST),
        c("A-78", "guard 0.0050: expected cost, passes", 1.629_307, wide.1, COST),
        c("A-79", "guard of 95 %, 0.00822: expected cost, passes", 2.281_693, book.1, COST),
        c("A-80", "read as scrap", 0.030_976, book.2.scrap, AIM),
    ]
}
