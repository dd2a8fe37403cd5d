//! Last hold: limit analysis of the grip by second-order cones.
//!
//! The research cases were computed by an independent program (python, cvxpy) before this one was written,
//! and bracketed there by linear programs with 128-sided cones; the closed forms and the published grasp
//! stand on their own. Forces in N, lengths in mm.

use engine::holding::*;
use engine::plan::Force3;
use nalgebra::Vector3;

use crate::check::{Check, Near};

pub fn checks() -> Vec<Check> {
    [
        closed_forms(),
        tilting(),
        two_jaws(),
        block(),
        facing_and_seat(),
        grasp(),
        least_of_angles(),
        depth_and_friction(),
    ]
    .concat()
}

const CAP: f64 = 8000.0;

#[derive(Clone, Copy)]
enum Rule {
    Upper,
    Pair,
    Fixed,
}

/// A jaw's points with their inward normal.
struct Jaw {
    points: Vec<Vector3<f64>>,
    inward: Vector3<f64>,
    clamping_n: f64,
    friction: f64,
    pair: usize,
}

fn hold(jaws: &[Jaw], rule: Rule, seat: &[Vector3<f64>]) -> LastHold {
    let pairs = jaws.iter().map(|jaw| jaw.pair + 1).max().unwrap_or(0);
    let mut limits: Vec<PressLimit> = match rule {
        Rule::Upper => jaws.iter().map(|jaw| PressLimit::AtMost(jaw.clamping_n)).collect(),
        Rule::Fixed => jaws.iter().map(|jaw| PressLimit::Kept(jaw.clamping_n)).collect(),
        Rule::Pair => (0..pairs)
            .map(|pair| PressLimit::Kept(jaws.iter().filter(|jaw| jaw.pair == pair).map(|jaw| jaw.clamping_n).sum()))
            .collect(),
    };
    let point = |at: usize, jaw: &Jaw, at_mm: &Vector3<f64>| PressPoint {
        at_mm: *at_mm,
        inward: jaw.inward,
        friction: jaw.friction,
        limit: if matches!(rule, Rule::Pair) { jaw.pair } else { at },
    };
    let mut points: Vec<PressPoint> =
        jaws.iter().enumerate().flat_map(|(at, jaw)| jaw.points.iter().map(move |p| point(at, jaw, p))).collect();
    if !seat.is_empty() {
        // Strong enough never to be the limit.
        limits.push(PressLimit::AtMost(1e6));
        let last = limits.len() - 1;
        points.extend(seat.iter().map(|&at_mm| PressPoint { at_mm, inward: Vector3::z(), friction: 0.2, limit: last }));
    }
    LastHold::new(&points, &limits).expect("a plain hold")
}

fn ring(jaws: usize, heights: &[f64]) -> Vec<Jaw> {
    let one = |number: usize| {
        let (sin, cos) = (360.0 * number as f64 / jaws as f64).to_radians().sin_cos();
        Jaw {
            points: heights.iter().map(|&z| Vector3::new(25.0 * cos, 25.0 * sin, z)).collect(),
            inward: Vector3::new(-cos, -sin, 0.0),
            clamping_n: CAP,
            friction: 0.2,
            pair: if jaws == 4 { number % 2 } else { 0 },
        }
    };
    (0..jaws).map(one).collect()
}

fn prism(bite: f64, clamping: [f64; 2], friction: [f64; 2]) -> Vec<Jaw> {
    let outward = [Vector3::x(), Vector3::y(), -Vector3::x(), -Vector3::y()];
    let one = |number: usize| {
        let along = Vector3::z().cross(&outward[number]);
        let corners = [(-10.0, 0.0), (10.0, 0.0), (10.0, bite), (-10.0, bite)];
        Jaw {
            points: corners.map(|(across, z)| outward[number] * 25.0 + along * across + Vector3::z() * z).to_vec(),
            inward: -outward[number],
            clamping_n: clamping[number % 2],
            friction: friction[number % 2],
            pair: number % 2,
        }
    };
    [0, 1, 2, 3].map(one).into()
}

fn plain_prism() -> Vec<Jaw> {
    prism(25.0, [CAP; 2], [0.2; 2])
}

fn factor(hold: &LastHold, growing: Wrench) -> f64 {
    let found = hold.under(&growing, &Wrench::none()).expect("a plain load");
    let certificate = certify(hold, &growing, &Wrench::none(), &found);
    if certificate.proves(&found, 1e-8) {
        found.factor
    } else {
        eprintln!("{found:?} {certificate:?}");
        f64::NAN
    }
}

fn push(at: [f64; 3], force: [f64; 3]) -> Wrench {
    Wrench::of_force(&at.into(), &force.into())
}

fn twist(force: [f64; 3], moment: [f64; 3]) -> Wrench {
    Wrench { force_n: force.into(), moment_n_mm: moment.into() }
}

fn cut(height_mm: f64, radial: f64, axial: f64, angle_deg: f64) -> Wrench {
    turn(height_mm, radial, axial).at_angle(angle_deg).cut()
}

fn turn(height_mm: f64, radial: f64, axial: f64) -> TurnCut {
    let force = Force3 { cutting: 1000.0, feed: radial, passive: axial };
    TurnCut { radius_mm: 25.0, height_mm, force, weight_n: 0.0, mass_centre_mm: Vector3::zeros() }
}

fn turning(angle_deg: f64) -> Wrench {
    cut(65.0, 300.0, 400.0, angle_deg)
}

/// A factor printed with seven digits, solved there to about 1e-7.
fn case(id: &'static str, what: &'static str, source: &'static str, theirs: f64, ours: f64) -> Check {
    Check { id, what, source, theirs, ours, unit: "", near: Near::Relative(1e-6) }
}

fn closed_forms() -> Vec<Check> {
    let two_points: Vec<Jaw> = [1.0, -1.0]
        .map(|side: f64| Jaw {
            points: vec![Vector3::x() * (20.0 * side)],
            inward: Vector3::x() * -side,
            clamping_n: CAP,
            friction: 0.2,
            pair: 0,
        })
        .into();
    let of_ring = |jaws, rule, load| factor(&hold(&ring(jaws, &[0.0]), rule, &[]), load);
    let torque = twist([0.0; 3], [0.0, 0.0, 60_000.0]);
    let both = twist([0.0, 0.0, 1500.0], [0.0, 0.0, 60_000.0]);
    let radial = twist([1000.0, 0.0, 0.0], [0.0; 3]);
    let half = 1000.0 * std::f64::consts::FRAC_1_SQRT_2;
    let askew = twist([half, half, 0.0], [0.0; 3]);
    const C3: &str = "closed forms N(1+2μ), N(2+2μ), 2μN over F (research case C3)";
    const C3B: &str = "research case C3b, computed by an independent program (python, cvxpy)";
    vec![
        case(
            "L-01",
            "two flats, one point each, pushed along the axis by 1 kN",
            "closed form 2 μ N/F (research case C1)",
            3.2,
            factor(&hold(&two_points, Rule::Upper, &[]), twist([0.0, 0.0, 1000.0], [0.0; 3])),
        ),
        case(
            "L-02",
            "four jaws, torque 60 N·m",
            "closed form 4 μ N r/T (research case C2a)",
            8.0 / 3.0,
            of_ring(4, Rule::Upper, torque),
        ),
        case("L-03", "three jaws, the same", "closed form 3 μ N r/T (C2b)", 2.0, of_ring(3, Rule::Upper, torque)),
        case(
            "L-04",
            "four jaws, torque and 1500 N along the axis",
            "closed form 4 μ N/√((T/r)² + F²) (research case C2c)",
            4.0 * 0.2 * CAP / 2400f64.hypot(1500.0),
            of_ring(4, Rule::Upper, both),
        ),
        case("L-05", "four points, radial 1 kN along a jaw, upper", C3, 11.2, of_ring(4, Rule::Upper, radial)),
        case("L-06", "the same, pair", C3, 19.2, of_ring(4, Rule::Pair, radial)),
        case("L-07", "the same, each jaw's force kept", C3, 3.2, of_ring(4, Rule::Fixed, radial)),
        case("L-08", "radial 1 kN between jaws, upper", C3B, 13.576_45, of_ring(4, Rule::Upper, askew)),
        case("L-09", "the same, pair", C3B, 27.152_90, of_ring(4, Rule::Pair, askew)),
        case("L-10", "the same, each jaw's force kept", C3B, 4.525_483, of_ring(4, Rule::Fixed, askew)),
    ]
}

fn tilting() -> Vec<Check> {
    let tilt = |jaws, angle: f64| {
        let (sin, cos) = angle.to_radians().sin_cos();
        factor(&hold(&ring(jaws, &[0.0]), Rule::Upper, &[]), twist([0.0; 3], [-1e5 * sin, 1e5 * cos, 0.0]))
    };
    const THREE: &str = "lever arm 0.75 D of three jaws: manual of a chuck (document 2319761, p. 28); research case C4";
    const C4: &str = "research case C4, computed by an independent program (python, cvxpy)";
    const C4B: &str = "closed form μ N D/M (research case C4b)";
    vec![
        case("L-11", "tilting 100 N·m, three jaws in one plane, 0°", THREE, 0.6, tilt(3, 0.0)),
        case("L-12", "the same, 30°", C4, 0.692_820, tilt(3, 30.0)),
        case("L-13", "the same, 45°", C4, 0.621_166, tilt(3, 45.0)),
        case("L-14", "four jaws, 0°", C4B, 0.8, tilt(4, 0.0)),
        case("L-15", "four jaws, 30°", "research case C4b (python, cvxpy)", 0.923_760, tilt(4, 30.0)),
        case("L-16", "four jaws, 45°", "closed form √2 μ N D/M (research case C4b)", 0.8 * 2f64.sqrt(), tilt(4, 45.0)),
    ]
}

fn two_jaws() -> Vec<Check> {
    let jaws: Vec<Jaw> = [1.0, -1.0]
        .map(|side: f64| Jaw {
            points: vec![Vector3::new(25.0 * side, 0.0, 0.0), Vector3::new(25.0 * side, 0.0, 25.0)],
            inward: Vector3::x() * -side,
            clamping_n: CAP,
            friction: 0.2,
            pair: 0,
        })
        .into();
    let load = push([0.0, 0.0, 65.0], [1000.0, 0.0, 0.0]);
    let (bite, across, height, friction) = (25.0, 50.0, 65.0, 0.2);
    let upper = CAP * (bite + friction * across) / (height + friction * across) / 1000.0;
    let pair = CAP * (bite + friction * across) / (height - bite / 2.0 + friction * across / 2.0) / 1000.0;
    vec![
        case(
            "L-17",
            "two jaws, side force 1 kN at height 65, upper",
            "closed form N(h + μ s)/(H + μ s) (research case C5)",
            upper,
            factor(&hold(&jaws, Rule::Upper, &[]), load),
        ),
        case(
            "L-18",
            "the same, pair",
            "closed form N(h + μ s)/(H − h/2 + μ s/2) (research case C5)",
            pair,
            factor(&hold(&jaws, Rule::Pair, &[]), load),
        ),
    ]
}

fn block() -> Vec<Check> {
    let of = |rule, load| factor(&hold(&plain_prism(), rule, &[]), load);
    let half = 1000.0 * std::f64::consts::FRAC_1_SQRT_2;
    let straight = push([0.0, 0.0, 65.0], [1000.0, 0.0, 0.0]);
    let askew = push([0.0, 0.0, 65.0], [half, half, 0.0]);
    const C6: &str = "research case C6 (python, cvxpy)";
    const C6B: &str = "research case C6b (python, cvxpy; inside linear brackets by HiGHS)";
    const C7: &str = "research case C7 (python, cvxpy; inside linear brackets by HiGHS)";
    const C7B: &str = "research case C7b (python, cvxpy; inside linear brackets by HiGHS)";
    vec![
        case("L-19", "block in four jaws, side force along a jaw, upper", C6, 5.445_613, of(Rule::Upper, straight)),
        case("L-20", "the same, pair", C6, 6.309_047, of(Rule::Pair, straight)),
        case("L-21", "the same, each jaw's force kept", C6, 3.2, of(Rule::Fixed, straight)),
        case("L-22", "side force between jaws, upper", C6B, 6.505_207, of(Rule::Upper, askew)),
        case("L-23", "the same, pair", C6B, 8.189_693, of(Rule::Pair, askew)),
        case("L-24", "the same, each jaw's force kept", C6B, 4.525_483, of(Rule::Fixed, askew)),
        case("L-25", "cut of 1000/300/400 N at jaw 1, upper", C7, 5.231_142, of(Rule::Upper, turning(0.0))),
        case("L-26", "the same, pair", C7, 6.309_048, of(Rule::Pair, turning(0.0))),
        case("L-27", "the same, each jaw's force kept", C7, 3.2, of(Rule::Fixed, turning(0.0))),
        case("L-28", "cut between jaws, upper", C7B, 5.905_640, of(Rule::Upper, turning(45.0))),
        case("L-29", "the same, pair", C7B, 7.951_815, of(Rule::Pair, turning(45.0))),
        case("L-30", "the same, each jaw's force kept", C7B, 3.481_141, of(Rule::Fixed, turning(45.0))),
    ]
}

fn facing_and_seat() -> Vec<Check> {
    let seat = [(20.0, 20.0), (20.0, -20.0), (-20.0, 20.0), (-20.0, -20.0)].map(|(x, y)| Vector3::new(x, y, 0.0));
    let of =
        |rule, seat: &[Vector3<f64>], angle| factor(&hold(&plain_prism(), rule, seat), cut(65.0, 400.0, 300.0, angle));
    const C8: &str = "research case C8 (python, cvxpy)";
    const C8B: &str = "research case C8b (python, cvxpy)";
    vec![
        case("L-31", "facing cut 1000/400/300 N at jaw 1, no seat, upper", C8, 5.178_882, of(Rule::Upper, &[], 0.0)),
        case("L-32", "the same between jaws", C8, 5.490_451, of(Rule::Upper, &[], 45.0)),
        case("L-33", "at jaw 1, pair", C8, 6.309_047, of(Rule::Pair, &[], 0.0)),
        case("L-34", "between jaws, pair", C8, 7.097_316, of(Rule::Pair, &[], 45.0)),
        case("L-35", "with four seat points, at jaw 1, upper", C8B, 6.221_404, of(Rule::Upper, &seat, 0.0)),
        case("L-36", "the same between jaws", C8B, 6.581_181, of(Rule::Upper, &seat, 45.0)),
        case("L-37", "at jaw 1, pair", C8B, 7.796_043, of(Rule::Pair, &seat, 0.0)),
        case("L-38", "between jaws, pair", C8B, 8.816_043, of(Rule::Pair, &seat, 45.0)),
    ]
}

/// The nose cone held by five fingers: the least greatest normal force for a unit weight is 1 over the
/// factor with every finger limited to 1.
fn grasp() -> Vec<Check> {
    let finger = |at: usize| {
        let (sin, cos) = (std::f64::consts::TAU * (at + 1) as f64 / 5.0).sin_cos();
        let (x, y) = (0.3 + cos, sin);
        PressPoint {
            at_mm: Vector3::new(x, y, x * x + y * y),
            inward: Vector3::new(-2.0 * x, -2.0 * y, 1.0).normalize(),
            friction: 0.3,
            limit: at,
        }
    };
    let points: Vec<PressPoint> = (0..5).map(finger).collect();
    let cone = LastHold::new(&points, &[PressLimit::AtMost(1.0); 5]).expect("a plain hold");
    let found = factor(&cone, twist([0.0, 0.0, -1.0], [0.0; 3]));
    vec![Check {
        id: "L-39",
        what: "nose cone in five fingers, μ 0.3: least greatest normal force for unit weight",
        source: "grasp model of Lobo, Vandenberghe, Boyd and Lebret (1998) as published in AMPL; optimum computed for the research notes (C9)",
        theirs: 0.491_089,
        ours: 1.0 / found,
        unit: "",
        near: Near::Within(1e-6),
    }]
}

/// The least of evenly spaced angles, as the research cases took it.
fn least(hold: &LastHold, angles: u32) -> f64 {
    let at = |step: u32| factor(hold, turning(360.0 * f64::from(step) / f64::from(angles)));
    // A factor without proof is no number and must not be passed over.
    (0..angles).map(at).fold(f64::INFINITY, |least, factor| if factor >= least { least } else { factor })
}

fn least_of_angles() -> Vec<Check> {
    let of_ring = |jaws| least(&hold(&ring(jaws, &[0.0, 25.0]), Rule::Upper, &[]), 24);
    let weak = hold(&prism(25.0, [CAP, 3000.0], [0.2; 2]), Rule::Upper, &[]);
    let slippery = hold(&prism(25.0, [CAP; 2], [0.2, 0.12]), Rule::Upper, &[]);
    const C10: &str = "research case C10 (24 angles; python, cvxpy)";
    vec![
        case("L-40", "round in three jaws, turning cut, least of 24 angles", C10, 3.129_434, of_ring(3)),
        case("L-41", "round in four jaws, the same", C10, 4.119_748, of_ring(4)),
        case("L-42", "block, one pair at 3 kN", "research case C11 (python, cvxpy)", 2.862_037, least(&weak, 24)),
        case("L-43", "block, μ 0.12 on one pair", "research case C12 (python, cvxpy)", 4.703_220, least(&slippery, 24)),
    ]
}

/// Tables of holding.md 5.3 and 5.6, printed with three decimals.
fn depth_and_friction() -> Vec<Check> {
    const HEIGHTS: [(&str, &str, f64, f64, f64); 4] = [
        ("L-44", "L-45", 50.0, 6.592, 8.833),
        ("L-46", "L-47", 65.0, 5.231, 6.309),
        ("L-48", "L-49", 90.0, 3.875, 4.274),
        ("L-50", "L-51", 125.0, 2.843, 2.944),
    ];
    const BITES: [(&str, f64, f64); 7] = [
        ("L-52", 8.0, 3.651),
        ("L-53", 12.0, 4.116),
        ("L-54", 16.0, 4.512),
        ("L-55", 20.0, 4.854),
        ("L-56", 25.0, 5.231),
        ("L-57", 30.0, 5.561),
        ("L-58", 40.0, 6.091),
    ];
    let three =
        |id, what, source, theirs, ours| Check { id, what, source, theirs, ours, unit: "", near: Near::Within(5.1e-4) };
    let of = |rule, jaws: &[Jaw], height| factor(&hold(jaws, rule, &[]), cut(height, 300.0, 400.0, 0.0));
    let mut checks = Vec::new();
    for (upper_id, pair_id, height, upper, pair) in HEIGHTS {
        const TABLE: &str = "research notes on holding, table in 5.3 (python, cvxpy)";
        checks.push(three(
            upper_id,
            "tool ever farther out, upper",
            TABLE,
            upper,
            of(Rule::Upper, &plain_prism(), height),
        ));
        checks.push(three(pair_id, "the same, pair", TABLE, pair, of(Rule::Pair, &plain_prism(), height)));
    }
    for (id, bite, upper) in BITES {
        const TABLE: &str = "research notes on holding, depths of bite in 5.6 (python, cvxpy)";
        let jaws = prism(bite, [CAP; 2], [0.2; 2]);
        checks.push(three(
            id,
            "ever deeper bite, tool 40 past the jaws, upper",
            TABLE,
            upper,
            of(Rule::Upper, &jaws, bite + 40.0),
        ));
    }
    checks
}
