//! Deciding with uncertainty, and chains of tolerances, against published examples and tables.

use engine::accuracy::*;

use crate::check::{Check, Near, row};

const GUIDE: &str = "JCGM 106:2012, worked example; from memory, the chance worked out apart from the program";
const RISKS: &str = "closed double integral of JCGM 106, 9.5, by a general numeric library apart from the program";
const CHASE: &str = "Chase, tolerance allocation, shaft and bearing stack (inch); from memory and by hand";
const CLUTCH: &str = "Chase and Greenwood, one-way clutch; inputs from memory, derivatives by hand";
const CHART: &str = "tolerance chart after Wade; numbers worked out by hand";

pub fn checks() -> Vec<Check> {
    [chances(), guards(), lathe_risks(), ratios(), resistor(), fusing(), bearing_stack(), clutch(), chart()].concat()
}

fn band(lower_mm: f64, upper_mm: f64) -> Band {
    Band { lower_mm, upper_mm }
}

fn known(value_mm: f64, u_mm: f64) -> Known {
    Known { value_mm, u_mm }
}

fn chances() -> Vec<Check> {
    let voltage = chance_within(known(-5.47, 0.05), band(f64::NEG_INFINITY, -5.40));
    let viscosity = chance_within(known(13.6, 1.8), band(12.5, 16.3));
    vec![
        row(
            "Q-01",
            "upper limit -5.40 V, -5.47 read, u 0.05: chance",
            GUIDE,
            (0.919243, voltage),
            "",
            Near::Within(5e-7),
        ),
        row("Q-02", "oil 12.5 to 16.3 mm2/s, 13.6 read, u 1.8", GUIDE, (0.662630, viscosity), "", Near::Within(5e-7)),
        row(
            "Q-03",
            "z for a chance of 0.80, one limit",
            ONE_SIDED,
            (0.84, quantile_of_chance(0.80)),
            "",
            Near::Within(0.005),
        ),
        row("Q-04", "z for 0.90", ONE_SIDED, (1.28, quantile_of_chance(0.90)), "", Near::Within(0.005)),
        row("Q-05", "z for 0.95", ONE_SIDED, (1.64, quantile_of_chance(0.95)), "", Near::Within(0.005)),
        row("Q-06", "z for 0.99", ONE_SIDED, (2.33, quantile_of_chance(0.99)), "", Near::Within(0.005)),
        row("Q-07", "z for 0.999", ONE_SIDED, (3.09, quantile_of_chance(0.999)), "", Near::Within(0.005)),
    ]
}

const ONE_SIDED: &str = "JCGM 106:2012, table of one-sided chances; from memory";

fn guards() -> Vec<Check> {
    const SOURCE: &str = "ISO 14253-1:2017, default 95 %: g = 1.65 u; from memory";
    let limits = band(-0.02, 0.02);
    let edge = guarded(limits, guard_mm(0.005, 0.95)).map_or(f64::NAN, |band| band.upper_mm);
    vec![
        row("Q-08", "guard band at one limit over u", SOURCE, (1.65, guard_mm(1.0, 0.95)), "", Near::Within(0.0055)),
        row("Q-09", "acceptance ends at 0.020 - 1.645 x 0.005", SOURCE, (0.011776, edge), "mm", Near::Within(5e-7)),
        row(
            "Q-10",
            "guard of 2 u in a band of +-2 u leaves one point, of 2.1 u nothing",
            "by hand: the zone 2 (T - g) is 0, then negative",
            (0.0, guarded(limits, 0.02).map_or(f64::NAN, |band| band.upper_mm - band.lower_mm)),
            "mm",
            Near::Within(if guarded(limits, 0.021).is_none() { 1e-12 } else { -1.0 }),
        ),
    ]
}

/// True size N(0, 0.010²), limits ±0.020 mm.
fn lathe(gauge_mm: f64, times_u: f64) -> Risks {
    let limits = band(-0.02, 0.02);
    risks(known(0.0, 0.01), gauge_mm, limits, guarded(limits, times_u * gauge_mm))
}

fn lathe_risks() -> Vec<Check> {
    let near = Near::Within(5.5e-7);
    let one = |id, what, theirs, ours| row(id, what, RISKS, (theirs, ours), "", near);
    // The factor as it is printed.
    let z = 1.645;
    vec![
        one("Q-11", "T 0.020, s 0.010, u 0.002, no guard: accept bad", 0.006776, lathe(0.002, 0.0).accept_bad),
        one("Q-12", "the same: reject good", 0.011136, lathe(0.002, 0.0).reject_good),
        one("Q-13", "guard 1.645 u: accept bad", 0.000390, lathe(0.002, z).accept_bad),
        one("Q-14", "guard 1.645 u: reject good", 0.056197, lathe(0.002, z).reject_good),
        one("Q-15", "guard 2 u: accept bad", 0.000161, lathe(0.002, 2.0).accept_bad),
        one("Q-16", "guard 2 u: reject good", 0.071325, lathe(0.002, 2.0).reject_good),
        one("Q-17", "u 0.005, no guard: accept bad", 0.012389, lathe(0.005, 0.0).accept_bad),
        one("Q-18", "u 0.005, no guard: reject good", 0.040527, lathe(0.005, 0.0).reject_good),
        one("Q-19", "u 0.005, guard 1.645 u: accept bad", 0.000800, lathe(0.005, z).accept_bad),
        one("Q-20", "u 0.005, guard 1.645 u: reject good", 0.247555, lathe(0.005, z).reject_good),
        one("Q-21", "u 0.005, guard 2 u: accept bad", 0.000335, lathe(0.005, 2.0).accept_bad),
        one("Q-22", "u 0.005, guard 2 u: reject good", 0.325928, lathe(0.005, 2.0).reject_good),
        one("Q-23", "u 0.010, no guard: accept bad", 0.016564, lathe(0.010, 0.0).accept_bad),
        one("Q-24", "u 0.010, no guard: reject good", 0.128363, lathe(0.010, 0.0).reject_good),
        one("Q-25", "u 0.010, guard 1.645 u: accept bad", 0.001014, lathe(0.010, z).accept_bad),
        one("Q-26", "u 0.010, guard 1.645 u: reject good", 0.757310, lathe(0.010, z).reject_good),
        one("Q-27", "u 0.010, guard 2 u, zone empty: reject good", 0.954500, lathe(0.010, 2.0).reject_good),
    ]
}

/// Limits ±1, 95 % of the process inside, U = 2 u.
fn ratios() -> Vec<Check> {
    let limits = band(-1.0, 1.0);
    let at = |ratio: f64| risks(known(0.0, 0.510213), 0.5 / ratio, limits, Some(limits));
    let one = |id, what, theirs, ours| row(id, what, RISKS, (theirs, ours), "", Near::Within(5.5e-6));
    vec![
        one("Q-28", "T to U 10 to 1, 95 % inside: accept bad", 0.00406, at(10.0).accept_bad),
        one("Q-29", "10 to 1: reject good", 0.00516, at(10.0).reject_good),
        one("Q-30", "4 to 1: accept bad", 0.00858, at(4.0).accept_bad),
        one("Q-31", "4 to 1: reject good", 0.01554, at(4.0).reject_good),
        one("Q-32", "2 to 1: accept bad", 0.01337, at(2.0).accept_bad),
        one("Q-33", "2 to 1: reject good", 0.04178, at(2.0).reject_good),
        one("Q-34", "1 to 1: accept bad", 0.01801, at(1.0).accept_bad),
        one("Q-35", "1 to 1: reject good", 0.12957, at(1.0).reject_good),
    ]
}

fn resistor() -> Vec<Check> {
    const SOURCE: &str =
        "JCGM 106 style example, 1500 +-0.2, s 0.12, u 0.04 (inputs from memory); by a general library";
    let limits = band(1499.8, 1500.2);
    let at = |guard: f64| risks(known(1500.0, 0.12), 0.04, limits, guarded(limits, guard));
    let one = |id, what, theirs, ours| row(id, what, SOURCE, (theirs, ours), "", Near::Within(5.5e-8));
    vec![
        one("Q-36", "no guard band: accept bad", 0.0189422, at(0.0).accept_bad),
        one("Q-37", "no guard band: reject good", 0.0372078, at(0.0).reject_good),
        one("Q-38", "drawn in to +-0.18: accept bad", 0.0098783, at(0.02).accept_bad),
        one("Q-39", "drawn in to +-0.18: reject good", 0.0690265, at(0.02).reject_good),
        one("Q-40", "let out to +-0.28: accept bad", 0.0694046, at(-0.08).accept_bad),
        one("Q-41", "let out to +-0.28: reject good", 0.0006806, at(-0.08).reject_good),
    ]
}

fn fusing() -> Vec<Check> {
    const SOURCE: &str = "JCGM 106, 7.2, normal prior and reading; by hand";
    let fused = after_reading(known(50.262, 0.012), known(50.251, 0.005));
    vec![
        row(
            "Q-42",
            "dial 50.262 +-0.012 with micrometer 50.251 +-0.005",
            SOURCE,
            (50.252627, fused.value_mm),
            "mm",
            Near::Within(5e-7),
        ),
        row("Q-43", "its standard uncertainty", SOURCE, (0.004615, fused.u_mm), "mm", Near::Within(5e-7)),
    ]
}

/// -A + B - C + D - E + F - G.
fn bearing_stack() -> Vec<Check> {
    let link = |(sensitivity, plus_minus): (f64, f64)| Link { sensitivity, plus_minus };
    let fixed = [(-1.0, 0.0015), (-1.0, 0.0025), (-1.0, 0.0025)].map(link);
    let free = [(1.0, 0.008), (1.0, 0.002), (-1.0, 0.006), (1.0, 0.002)].map(link);
    let all = [&fixed[..], &free[..]].concat();
    let worst = free_scale_worst_case(0.015, &fixed, &free).unwrap_or(f64::NAN);
    let root = free_scale_root_sum_square(0.015, &fixed, &free).unwrap_or(f64::NAN);
    vec![
        row("Q-44", "seven dimensions, worst case", CHASE, (0.0245, worst_case(&all)), "in", Near::Within(5e-8)),
        row("Q-45", "root sum square", CHASE, (0.0110793, root_sum_square(&all)), "in", Near::Within(5e-8)),
        row(
            "Q-46",
            "scale of the four free ones for 0.015, worst case",
            CHASE,
            (0.472222, worst),
            "",
            Near::Within(5e-7),
        ),
        row("Q-47", "the same, root sum square", CHASE, (1.395263, root), "", Near::Within(5e-7)),
        row("Q-48", "tolerance of the shaft then", CHASE, (0.011162, 0.008 * root), "in", Near::Within(5e-7)),
    ]
}

/// cos phi = (a + c)/(e - c): a hub, c roller, e cage, mm.
fn clutch() -> Vec<Check> {
    let (a, c, e) = (27.645_f64, 11.43, 50.8);
    let cosine = (a + c) / (e - c);
    let minus_sine = -(1.0 - cosine * cosine).sqrt();
    let (by_a, by_e) = (1.0 / (e - c) / minus_sine, -cosine / (e - c) / minus_sine);
    let by_c = (1.0 + cosine) / (e - c) / minus_sine;
    let links = [(by_a, 0.0125), (by_c, 0.01), (by_e, 0.0125)]
        .map(|(sensitivity, plus_minus)| Link { sensitivity, plus_minus });
    let (worst, root) = (worst_case(&links).to_degrees(), root_sum_square(&links).to_degrees());
    vec![
        row("Q-49", "pressure angle, linear worst case", CLUTCH, (0.533963, worst), "deg", Near::Within(5e-7)),
        row("Q-50", "root sum square", CLUTCH, (0.316733, root), "deg", Near::Within(5e-7)),
        row(
            "Q-51",
            "inflated by 1.5 after Bender: 1.5 times the printed root",
            CLUTCH,
            (0.4750995, inflated(&links, 1.5).to_degrees()),
            "deg",
            Near::Within(8e-7),
        ),
    ]
}

/// Surfaces: raw end R, raw face A', face A, raw face C' (= R), face C, shoulder B.
fn chart() -> Vec<Check> {
    let [raw_end, raw_a, a, c, b] = [0, 1, 2, 3, 4];
    let made = [
        Dimension { from: raw_end, to: raw_a, size: 74.0, plus_minus: 0.5 },
        Dimension { from: raw_end, to: a, size: 72.0, plus_minus: 0.25 },
        Dimension { from: c, to: a, size: 70.0, plus_minus: 0.05 },
        Dimension { from: c, to: b, size: 25.0, plus_minus: 0.06 },
    ];
    let resultant = |from, to| path(&made, from, to).unwrap_or((f64::NAN, Vec::new()));
    let (stock_a, at_a) = resultant(a, raw_a);
    let (stock_c, at_c) = resultant(raw_end, c);
    let (length, at_b) = resultant(b, a);
    vec![
        row("Q-52", "stock at face A", CHART, (2.0, stock_a), "mm", Near::Within(1e-9)),
        row("Q-53", "plus and minus of it", CHART, (0.75, worst_case(&at_a)), "mm", Near::Within(1e-9)),
        row("Q-54", "stock at face C", CHART, (2.0, stock_c), "mm", Near::Within(1e-9)),
        row("Q-55", "plus and minus of it", CHART, (0.30, worst_case(&at_c)), "mm", Near::Within(1e-9)),
        row("Q-56", "resultant A to shoulder B", CHART, (45.0, length), "mm", Near::Within(1e-9)),
        row("Q-57", "plus and minus of it, worst case", CHART, (0.11, worst_case(&at_b)), "mm", Near::Within(1e-9)),
        row(
            "Q-58",
            "plus and minus of it, root sum square",
            CHART,
            (0.078102, root_sum_square(&at_b)),
            "mm",
            Near::Within(5e-7),
        ),
    ]
}
