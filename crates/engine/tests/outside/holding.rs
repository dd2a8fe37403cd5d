//! Holding: contact springs, first slip, jaw force, speed, balance, marks.
//!
//! Research cases C5 to C12 and the tables of first slip were computed by an independent program
//! (python, numpy), written before this one from the same equations: they find slips of the pen, not
//! faults of the equations. The closed forms and published examples stand on their own.

use engine::holding::*;
use engine::plan::Force3;
use engine::quantity::{mm, newton_metres};
use engine::shop::{ClampingForce, JawSurface};
use nalgebra::Vector3;

use crate::check::{Check, Near};

pub fn checks() -> Vec<Check> {
    [
        closed_forms_of_slip(),
        two_and_four_jaws(),
        turning_cut_round_the_block(),
        facing_and_round_work(),
        overhang_of_the_tool(),
        sensitivity(),
        depth_of_bite(),
        balance_of_preload(),
        springs(),
        hand_checks(),
        jaw_screw(),
        speed(),
        unbalance(),
        marks(),
        friction_table(),
    ]
    .concat()
}

/// Jaw 1 to 4 by angle; a jaw's whole normal stiffness in N/mm. Its size does not matter for slip.
const JAW_STIFFNESS: f64 = 50_000.0;
const RATIO: f64 = 0.82;

fn jaw(
    number: usize,
    points: Vec<Vector3<f64>>,
    inward: Vector3<f64>,
    clamping_n: f64,
    friction: f64,
    ratio: f64,
) -> JawGrip {
    JawGrip {
        jaw: number as u8 + 1,
        clamping_n,
        contacts: points.into_iter().map(|at_mm| ContactSeed { at_mm, inward, share: 1.0 }).collect(),
        normal_stiffness_n_mm: JAW_STIFFNESS,
        tangential_stiffness_n_mm: JAW_STIFFNESS * ratio,
        friction,
    }
}

/// Round work of radius 25 in so many jaws, points at these heights.
fn round(jaws: usize, heights: &[f64]) -> Grip {
    let one = |number: usize| {
        let (sin, cos) = (360.0 * number as f64 / jaws as f64).to_radians().sin_cos();
        let points = heights.iter().map(|&z| Vector3::new(25.0 * cos, 25.0 * sin, z)).collect();
        jaw(number, points, Vector3::new(-cos, -sin, 0.0), 8000.0, 0.2, RATIO)
    };
    Grip::new(&(0..jaws).map(one).collect::<Vec<_>>(), &[]).expect("a plain grip")
}

/// The block of the research cases: square 50, bearing 20 wide, bite from z 0.
struct Block {
    bite: f64,
    clamping: [f64; 4],
    friction: [f64; 4],
    ratio: f64,
}

impl Block {
    fn plain() -> Block {
        Block { bite: 25.0, clamping: [8000.0; 4], friction: [0.2; 4], ratio: RATIO }
    }

    fn grip(&self) -> Grip {
        let outward = [Vector3::x(), Vector3::y(), -Vector3::x(), -Vector3::y()];
        let one = |number: usize| {
            let along = Vector3::z().cross(&outward[number]);
            let corners = [(-10.0, 0.0), (10.0, 0.0), (10.0, self.bite), (-10.0, self.bite)];
            let points = corners.map(|(across, z)| outward[number] * 25.0 + along * across + Vector3::z() * z);
            jaw(number, points.to_vec(), -outward[number], self.clamping[number], self.friction[number], self.ratio)
        };
        Grip::new(&[0, 1, 2, 3].map(one), &[]).expect("a plain grip")
    }
}

/// Cutting force 1000, radial and axial as given, at radius 25.
fn cut(height_mm: f64, radial: f64, axial: f64) -> TurnCut {
    let force = Force3 { cutting: 1000.0, feed: radial, passive: axial };
    TurnCut { radius_mm: 25.0, height_mm, force, weight_n: 0.0, mass_centre_mm: Vector3::zeros() }
}

/// The turning cut of the research cases: radial 300, axial 400.
fn turning(height_mm: f64) -> TurnCut {
    cut(height_mm, 300.0, 400.0)
}

fn at_point(grip: &Grip, at: [f64; 3], force: [f64; 3]) -> Slip {
    grip.first_slip_under(&Wrench::of_force(&at.into(), &force.into()), &Wrench::none())
}

fn under(grip: &Grip, force: [f64; 3], moment: [f64; 3]) -> Slip {
    grip.first_slip_under(&Wrench { force_n: force.into(), moment_n_mm: moment.into() }, &Wrench::none())
}

fn number(factor: Option<f64>) -> f64 {
    factor.unwrap_or(f64::INFINITY)
}

fn worst(factor: Option<Worst>) -> (f64, f64) {
    factor.map_or((f64::INFINITY, f64::NAN), |worst| (worst.factor, worst.angle_deg))
}

fn row(
    id: &'static str,
    what: &'static str,
    source: &'static str,
    theirs: f64,
    ours: f64,
    unit: &'static str,
    near: Near,
) -> Check {
    Check { id, what, source, theirs, ours, unit, near }
}

/// A factor printed with seven digits.
fn case(id: &'static str, what: &'static str, source: &'static str, theirs: f64, ours: f64) -> Check {
    row(id, what, source, theirs, ours, "", Near::Relative(5e-7))
}

/// A value printed with three decimals.
fn three(id: &'static str, what: &'static str, source: &'static str, theirs: f64, ours: f64) -> Check {
    row(id, what, source, theirs, ours, "", Near::Within(0.00051))
}

fn closed_forms_of_slip() -> Vec<Check> {
    let (three_jaws, four_jaws) = (round(3, &[0.0, 25.0]), round(4, &[0.0, 25.0]));
    let twist = |grip: &Grip| number(under(grip, [0.0; 3], [0.0, 0.0, 60_000.0]).jaw);
    let twist_and_push = number(under(&four_jaws, [0.0, 0.0, 1500.0], [0.0, 0.0, 60_000.0]).jaw);
    let tip = |jaws| number(under(&round(jaws, &[0.0]), [0.0; 3], [0.0, 1e5, 0.0]).jaw);
    vec![
        case(
            "H-01",
            "jaw slip, torque 60 N·m, four jaws of 8 kN, μ 0.2, r 25",
            "closed form 4 μ N r/T (research case C2a)",
            8.0 / 3.0,
            twist(&four_jaws),
        ),
        case("H-02", "the same, three jaws", "closed form 3 μ N r/T (research case C2b)", 2.0, twist(&three_jaws)),
        case(
            "H-03",
            "the same, four jaws, with 1500 N along the axis",
            "closed form 4 μ N/√((T/r)² + F²) (research case C2c)",
            2.261_329,
            twist_and_push,
        ),
        case(
            "H-04",
            "jaw slip, tilting 100 N·m about a line through no jaw, three jaws at one height",
            "lever arm 0.75 D of three jaws: manual of a chuck (document 2319761, p. 28); research case C4",
            0.6,
            tip(3),
        ),
        case(
            "H-05",
            "the same, four jaws, about the line of a pair",
            "closed form μ N D/M (research case C4b)",
            0.8,
            tip(4),
        ),
    ]
}

fn two_and_four_jaws() -> Vec<Check> {
    let line = |number: usize, x: f64| {
        let points = vec![Vector3::new(x, 0.0, 0.0), Vector3::new(x, 0.0, 25.0)];
        jaw(number, points, Vector3::x() * -x.signum(), 8000.0, 0.2, RATIO)
    };
    let pair = Grip::new(&[line(0, 25.0), line(1, -25.0)], &[]).expect("a plain grip");
    let along = at_point(&pair, [0.0, 0.0, 65.0], [1000.0, 0.0, 0.0]);
    let block = Block::plain().grip();
    let straight = at_point(&block, [0.0, 0.0, 65.0], [1000.0, 0.0, 0.0]);
    let half = 1000.0 * std::f64::consts::FRAC_1_SQRT_2;
    let askew = at_point(&block, [0.0, 0.0, 65.0], [half, half, 0.0]);
    const C5: &str = "research case C5, computed by an independent program (python, numpy)";
    const C6: &str = "research case C6, computed by an independent program (python, numpy)";
    const C6B: &str = "research case C6b, computed by an independent program (python, numpy)";
    vec![
        case("H-06", "two jaws, side force 1 kN at height 65: point slip", C5, 1.595_527, number(along.point)),
        case("H-07", "two jaws, side force: jaw slip", C5, 1.768_595, number(along.jaw)),
        case("H-08", "two jaws, side force: lift", C5, 8.075_472, number(along.lift)),
        case("H-09", "block in four jaws, side force along a jaw: point slip", C6, 2.156_617, number(straight.point)),
        case("H-10", "block, side force along a jaw: jaw slip", C6, 2.397_961, number(straight.jaw)),
        case("H-11", "block, side force along a jaw: lift", C6, 12.344_31, number(straight.lift)),
        case("H-12", "block, side force between jaws: point slip", C6B, 1.988_035, number(askew.point)),
        case("H-13", "block, side force between jaws: jaw slip", C6B, 3.198_852, number(askew.jaw)),
        case("H-14", "block, side force between jaws: lift", C6B, 17.457_49, number(askew.lift)),
    ]
}

fn turning_cut_round_the_block() -> Vec<Check> {
    let block = Block::plain().grip();
    let ahead = block.first_slip(&turning(65.0).at_angle(0.0));
    let askew = block.first_slip(&turning(65.0).at_angle(45.0));
    let turn = block.worst_over_turn(&turning(65.0), 72);
    let [point, jaw, lift] = [turn.point, turn.jaw, turn.lift].map(worst);
    const C7: &str = "research case C7, computed by an independent program (python, numpy)";
    const C7B: &str = "research case C7b, computed by an independent program (python, numpy)";
    const C7C: &str = "research case C7c, computed by an independent program (python, numpy)";
    let angle = |id, what, theirs, ours| row(id, what, C7C, theirs, ours, "°", Near::Within(1e-9));
    vec![
        case("H-15", "block, cut of 1000/300/400 N at jaw 1: point slip", C7, 1.913_695, number(ahead.point)),
        case("H-16", "block, cut at jaw 1: jaw slip", C7, 2.255_987, number(ahead.jaw)),
        case("H-17", "block, cut at jaw 1: lift", C7, 10.665_06, number(ahead.lift)),
        case("H-18", "block, cut between jaws: point slip", C7B, 1.798_379, number(askew.point)),
        case("H-19", "block, cut between jaws: jaw slip", C7B, 2.612_882, number(askew.jaw)),
        case("H-20", "block, cut between jaws: lift", C7B, 12.355_43, number(askew.lift)),
        case("H-21", "block, least of 72 angles: point slip", C7C, 1.781_479, point.0),
        case("H-22", "block, least of 72 angles: jaw slip", C7C, 2.251_754, jaw.0),
        case("H-23", "block, least of 72 angles: lift", C7C, 10.503_11, lift.0),
        angle("H-24", "angle of the least point slip", 35.0, point.1),
        angle("H-25", "angle of the least jaw slip", 85.0, jaw.1),
        angle("H-26", "angle of the least lift", 10.0, lift.1),
    ]
}

fn facing_and_round_work() -> Vec<Check> {
    let block = Block::plain().grip();
    let facing = |angle| number(block.first_slip(&cut(65.0, 400.0, 300.0).at_angle(angle)).jaw);
    let around = |jaws| round(jaws, &[0.0, 25.0]).worst_over_turn(&turning(65.0), 24);
    let (three_jaws, four_jaws) = (around(3), around(4));
    let weak_pair = Block { clamping: [8000.0, 3000.0, 8000.0, 3000.0], ..Block::plain() }.grip();
    let slippery_pair = Block { friction: [0.2, 0.12, 0.2, 0.12], ..Block::plain() }.grip();
    let jaw_of = |grip: &Grip| worst(grip.worst_jaw_over_turn(&turning(65.0), 72)).0;
    const C8: &str = "research case C8, computed by an independent program (python, numpy)";
    const C10: &str = "research case C10, computed by an independent program (python, numpy)";
    const C11: &str = "research case C11 (72 angles), computed by an independent program (python, numpy)";
    const C12: &str = "research case C12 (72 angles), computed by an independent program (python, numpy)";
    vec![
        case("H-27", "block, facing cut 1000/400/300 N at jaw 1: jaw slip", C8, 2.303_209, facing(0.0)),
        case("H-28", "block, facing cut between jaws: jaw slip", C8, 2.606_068, facing(45.0)),
        case("H-29", "round in three jaws, least of 24 angles: point slip", C10, 1.402_818, worst(three_jaws.point).0),
        case("H-30", "round in three jaws: jaw slip", C10, 1.532_815, worst(three_jaws.jaw).0),
        case("H-31", "round in three jaws: lift", C10, 8.619_428, worst(three_jaws.lift).0),
        case("H-32", "round in four jaws: point slip", C10, 1.870_424, worst(four_jaws.point).0),
        case("H-33", "round in four jaws: jaw slip", C10, 2.043_753, worst(four_jaws.jaw).0),
        case("H-34", "round in four jaws: lift", C10, 11.492_57, worst(four_jaws.lift).0),
        case("H-35", "block, one pair at 3 kN: jaw slip", C11, 0.844_408, jaw_of(&weak_pair)),
        case("H-36", "block, packing of μ 0.12 on one pair: jaw slip", C12, 1.311_696, jaw_of(&slippery_pair)),
    ]
}

fn overhang_of_the_tool() -> Vec<Check> {
    let block = Block::plain().grip();
    let at = |height| block.first_slip(&turning(height).at_angle(0.0));
    const TABLE: &str = "research table 5.3, computed by an independent program (python, numpy)";
    vec![
        three("H-37", "block, cut at height 50: point slip", TABLE, 2.157, number(at(50.0).point)),
        three("H-38", "block, cut at height 50: jaw slip", TABLE, 2.912, number(at(50.0).jaw)),
        three("H-39", "block, cut at height 90: point slip", TABLE, 1.379, number(at(90.0).point)),
        three("H-40", "block, cut at height 90: jaw slip", TABLE, 1.622, number(at(90.0).jaw)),
        three("H-41", "block, cut at height 125: point slip", TABLE, 0.967, number(at(125.0).point)),
        three("H-42", "block, cut at height 125: jaw slip", TABLE, 1.156, number(at(125.0).jaw)),
    ]
}

fn sensitivity() -> Vec<Check> {
    let jaw_of = |block: Block| worst(block.grip().worst_jaw_over_turn(&turning(65.0), 24)).0;
    let ratio = |ratio| jaw_of(Block { ratio, ..Block::plain() });
    let friction = |mu| jaw_of(Block { friction: [mu; 4], ..Block::plain() });
    const TABLE: &str = "research section 5.4, computed by an independent program (python, numpy)";
    vec![
        three("H-43", "block, tangential over normal stiffness 0.3: jaw slip", TABLE, 3.050, ratio(0.3)),
        three("H-44", "the same, 0.5", TABLE, 2.557, ratio(0.5)),
        three("H-45", "the same, 1.0", TABLE, 2.168, ratio(1.0)),
        three("H-46", "the same, 1.5", TABLE, 2.029, ratio(1.5)),
        three("H-47", "block, friction 0.10: jaw slip", TABLE, 1.086, friction(0.10)),
        three("H-48", "the same, 0.15", TABLE, 1.660, friction(0.15)),
        three("H-49", "the same, 0.30", TABLE, 3.520, friction(0.30)),
        three("H-50", "the same, 0.40", TABLE, 4.833, friction(0.40)),
    ]
}

fn depth_of_bite() -> Vec<Check> {
    let bite =
        |bite: f64| worst(Block { bite, ..Block::plain() }.grip().worst_jaw_over_turn(&turning(bite + 40.0), 24)).0;
    const TABLE: &str = "research section 5.6, computed by an independent program (python, numpy)";
    vec![
        three("H-51", "block, bite 8, tool 40 over the jaws: jaw slip", TABLE, 1.967, bite(8.0)),
        three("H-52", "the same, bite 12", TABLE, 1.987, bite(12.0)),
        three("H-53", "the same, bite 16", TABLE, 2.041, bite(16.0)),
        three("H-54", "the same, bite 20", TABLE, 2.122, bite(20.0)),
        three("H-55", "the same, bite 30", TABLE, 2.416, bite(30.0)),
        three("H-56", "the same, bite 40", TABLE, 2.760, bite(40.0)),
    ]
}

fn balance_of_preload() -> Vec<Check> {
    let grip = Block { clamping: [9000.0, 8000.0, 7000.0, 8000.0], ..Block::plain() }.grip();
    let of_jaw = |jaw: u8| grip.held().iter().filter(move |held| held.contact.jaw == jaw);
    let preload = |jaw| of_jaw(jaw).map(|held| held.preload_n).sum::<f64>();
    let sideways = of_jaw(2).map(|held| held.preload_friction_n).sum::<Vector3<f64>>().norm();
    const FORM: &str =
        "closed form: the difference is carried by two normal and two tangential springs, k_t = 0.82 k_n";
    let near = Near::Relative(1e-9);
    vec![
        row(
            "H-57",
            "jaws 1 and 3 tightened to 9 and 7 kN: jaw 1 after balance",
            FORM,
            9000.0 - 1000.0 / 1.82,
            preload(1),
            "N",
            near,
        ),
        row("H-58", "jaw 3 after balance", FORM, 7000.0 + 1000.0 / 1.82, preload(3), "N", near),
        row("H-59", "friction left on jaw 2", FORM, 820.0 / 1.82, sideways, "N", near),
    ]
}

fn springs() -> Vec<Check> {
    let block = Block::plain().grip();
    let pushed = TurnCut { force: Force3 { cutting: 0.0, feed: 0.0, passive: 1640.0 }, ..turning(65.0) };
    let push = Spring::of_contacts(&block, &pushed).at_um(0.0, 0.0);
    let aside = block.movement_mm(
        &Vector3::new(0.0, 0.0, 12.5),
        &Wrench::of_force(&Vector3::new(0.0, 0.0, 12.5), &Vector3::new(1820.0, 0.0, 0.0)),
    );
    let near = Near::Relative(1e-9);
    let bar = Overhang::new(
        &[BeamStep { length_mm: 100.0, section: BeamSection::round(25.0) }],
        Elasticity { modulus_mpa: 205_000.0, poisson: 0.3 },
    );
    let bent_um = 1000.0 * bar.movement_mm(&Vector3::new(0.0, 0.0, 100.0), &Vector3::new(300.0, 0.0, 0.0)).x;
    // F l/(κ G A) by hand.
    let shear_um = 300.0 * 100.0 / (7.8 / 8.8 * 205_000.0 / 2.6 * 490.873_852_1) * 1000.0;
    vec![
        row(
            "H-60",
            "push of 1640 N along the axis on four jaws of 50 N/µm",
            "closed form F/(4 k_t), k_t = 41 N/µm",
            10.0,
            push,
            "µm",
            near,
        ),
        row("H-61", "side push of 1820 N at mid-bite", "closed form F/(2 k_n + 2 k_t)", 0.01, aside.x, "mm", near),
        row(
            "H-62",
            "machine alone, 450 N on 30 N/µm",
            "closed form, Hooke",
            15.0,
            machine_spring_um(450.0, 30.0),
            "µm",
            near,
        ),
        row(
            "H-63",
            "bar 25 standing out 100, 300 N at its end, less shear",
            "closed form F l³/(3 E I), E 205 GPa (research case D15)",
            25.4399,
            bent_um - shear_um,
            "µm",
            Near::Within(0.000_05),
        ),
        row(
            "H-64",
            "the same with shear, over without",
            "Timoshenko with κ = 6·1.3/8.8 (Cowper 1966, ν 0.3): 1 + 0.55 (d/l)²",
            1.034_375,
            bent_um / 25.4399,
            "",
            Near::Within(5e-6),
        ),
    ]
}

fn hand_checks() -> Vec<Check> {
    const P48: &str = "technical pages of a maker of power chucks (document 267260, p. 48), worked example C45";
    let gripping_kn = gripping_force_n(0.5 * 5.0 * 2500.0, 2.0, 0.20, 0.33) / 1000.0;
    vec![
        row(
            "H-65",
            "force to drive 60 mm work cut at 20 mm, f 0.5, a 5, k_c 2500",
            "the same pages; printed 21.00 is rounded up, 20.625 with the printed ratio 0.33",
            20.625,
            gripping_kn,
            "kN",
            Near::Within(5e-4),
        ),
        row(
            "H-66",
            "static force to set, from the printed 21 and 18 kN",
            P48,
            58.50,
            force_to_set_n(21.0, 18.0, 1.5),
            "kN",
            Near::Within(0.005),
        ),
        case(
            "H-67",
            "torque by hand, four jaws of 8 kN, μ 0.2, r 25, 60 N·m",
            "statics, 32 000·0.2·25/60 000",
            2.666_666_7,
            torque_factor(0.2, 32_000.0, 25.0, 60_000.0),
        ),
        case(
            "H-68",
            "push-out by hand, two jaws of 8 kN, 1 kN",
            "statics, 2 μ N/F (research case C1)",
            3.2,
            push_out_factor(0.2, 16_000.0, 1000.0),
        ),
        case(
            "H-69",
            "twist and push by hand, 60 N·m and 1.5 kN",
            "research case C2c, second-order cone program of an independent solver",
            2.261_329,
            twist_and_push_factor(0.2, 32_000.0, 25.0, 60_000.0, 1500.0),
        ),
        case(
            "H-70",
            "lever-out by hand, three jaws of 8 kN, 100 N·m, D 50",
            "lever arm 0.75 D: manual of a chuck (document 2319761, p. 28)",
            0.6,
            lever_out_factor(0.2, 24_000.0, 50.0, 1000.0, 100.0),
        ),
        case(
            "H-71",
            "lever-out by hand, block, 1 kN at 52.5 from mid-bite",
            "research case D14, μ N s/(a F)",
            1.523_810,
            lever_out_factor(0.2, 32_000.0, 50.0, 1000.0, 52.5),
        ),
        row(
            "H-72",
            "bar lying across, μ 0.15: least reach over radius",
            "research case D13, 1 − sin(atan μ)",
            0.851_660,
            least_reach_over_radius(0.15),
            "",
            Near::Within(5e-7),
        ),
        three("H-73", "the same, μ 0.30", "statics, 1 − 0.3/√1.09", 0.713, least_reach_over_radius(0.30)),
    ]
}

fn jaw_screw() -> Vec<Check> {
    const FORM: &str =
        "Shigley, power screws (formula from memory), worked apart by an independent program (research 2.1, D2)";
    let screw = |pitch_mm, pitch_diameter_mm, shoulder_radius_mm, friction, half_angle_deg| JawScrew {
        pitch_mm,
        pitch_diameter_mm,
        shoulder_radius_mm,
        friction,
        half_angle_deg,
    };
    let square = screw(4.0, 18.0, 9.0, 0.15, 0.0);
    let key = ClampingForce::Key {
        torque: newton_metres(60.0),
        pitch: mm(4.0),
        pitch_diameter: mm(18.0),
        shoulder_diameter: mm(18.0),
        friction: 0.15,
    };
    let newtons = |id, what, theirs, ours| row(id, what, FORM, theirs, ours, "N", Near::Within(0.5));
    vec![
        newtons("H-74", "60 N·m on a square thread 18 × 4, μ 0.15, r_c 9", 17_868.2, square.force_n(60.0)),
        row("H-75", "its arm", FORM, 3.357_925, square.arm_mm(), "mm", Near::Within(5e-7)),
        row("H-76", "its efficiency", FORM, 0.189_587, square.efficiency(), "", Near::Within(5e-7)),
        newtons("H-77", "the same, μ 0.10", 24_514.0, screw(4.0, 18.0, 9.0, 0.10, 0.0).force_n(60.0)),
        newtons("H-78", "the same, μ 0.20", 14_046.0, screw(4.0, 18.0, 9.0, 0.20, 0.0).force_n(60.0)),
        newtons("H-79", "the same, μ 0.15, 29° thread, as the shop's key is taken", 17_629.0, nominal_force_n(&key)),
        newtons("H-80", "thread 15 × 1.27, μ 0.15, r_c 8", 23_692.0, screw(1.27, 15.0, 8.0, 0.15, 0.0).force_n(60.0)),
        three(
            "H-81",
            "share past the jaw guide, μ 0.12, 30 over the screw, 60 guided",
            "statics of a vice jaw, 1/(1 + 2 μ c/l)",
            0.893,
            guide_share(0.12, 30.0, 60.0),
        ),
        three(
            "H-82",
            "the same, 60 over the screw",
            "statics of a vice jaw, 1/(1 + 2 μ c/l)",
            0.806,
            guide_share(0.12, 60.0, 60.0),
        ),
    ]
}

fn speed() -> Vec<Check> {
    const EXAMPLE: &str =
        "example in a manual of power chucks (documents 1216023 and 1216029, p. 25), recomputed (research case D1)";
    let pull = centrifugal_force_n(2.668, 1000.0, 1200.0);
    let set = force_to_set_n(1.5 * 3000.0, pull, 1.5);
    let loss = |id, what, theirs, mass, radius, rpm| {
        row(
            id,
            what,
            "research table 3.2, m r ω²",
            theirs,
            centrifugal_force_n(mass, radius, rpm),
            "N",
            Near::Within(0.5),
        )
    };
    vec![
        row("H-83", "pull of all jaws, Σ m r 2.668 kg·m, 1200 rpm", EXAMPLE, 42_131.4, pull, "N", Near::Within(0.05)),
        row("H-84", "force to set, 3 kN needed, factors 1.5 and 1.5", EXAMPLE, 69_947.1, set, "N", Near::Within(0.05)),
        row(
            "H-85",
            "speed permitted with it",
            EXAMPLE,
            1495.63,
            permitted_speed_rpm(set, 4500.0, 2.668),
            "rpm",
            Near::Within(0.005),
        ),
        row(
            "H-86",
            "the same as printed, cut off at whole turns",
            "manual of power chucks (document 1216023, p. 25): 1495",
            1495.0,
            permitted_speed_rpm(set, 4500.0, 2.668).floor(),
            "rpm",
            Near::Within(0.0),
        ),
        loss("H-87", "jaw of 0.4 kg at 50 mm, 600 rpm", 79.0, 0.4, 50.0, 600.0),
        loss("H-88", "jaw of 0.8 kg at 70 mm, 800 rpm (D3)", 393.0, 0.8, 70.0, 800.0),
        loss("H-89", "jaw of 1.5 kg at 90 mm, 1500 rpm", 3331.0, 1.5, 90.0, 1500.0),
        loss("H-90", "jaw of 2.5 kg at 110 mm, 1000 rpm", 3016.0, 2.5, 110.0, 1000.0),
        row(
            "H-91",
            "force counted on: 16 kN nominal, half, jaw of 0.8 kg at 70 mm, 800 rpm",
            "0.5·16 000 − 393 (research table 3.2)",
            7607.0,
            counted_force_n(16_000.0, 0.5, 0.8, 70.0, 800.0),
            "N",
            Near::Within(0.5),
        ),
    ]
}

fn unbalance() -> Vec<Check> {
    const GRADE: &str = "ISO 21940-11, e ω = G (research cases D4 and D5)";
    let grade =
        |id, what, theirs, g| row(id, what, GRADE, theirs, grade_speed_rpm(30.0, 58.0, g), "rpm", Near::Within(0.0005));
    let pull = |id, what, theirs, rpm, near| {
        row(id, what, "U ω² (research section 4)", theirs, unbalance_force_n(30.0, rpm), "N", Near::Within(near))
    };
    vec![
        grade("H-92", "30 kg·mm on a rotor of 58 kg, G6.3", 116.310, 6.3),
        grade("H-93", "the same, G16", 295.392, 16.0),
        grade("H-94", "the same, G40", 738.479, 40.0),
        row(
            "H-95",
            "unbalance that G6.3 allows, 40 kg, 1000 rpm",
            "ISO 21940-11 as 9549 G m/n, the 9549 being rounded in the fifth digit (research case D5)",
            2406.3,
            permitted_unbalance_kg_mm(6.3, 40.0, 1000.0) * 1000.0,
            "g·mm",
            Near::Within(0.2),
        ),
        row(
            "H-96",
            "the same as distance of the mass centre",
            "e = 9549 G/n, the 9549 being rounded in the fifth digit (research case D5)",
            60.159,
            eccentricity_mm(permitted_unbalance_kg_mm(6.3, 40.0, 1000.0), 40.0) * 1000.0,
            "µm",
            Near::Within(0.002),
        ),
        row(
            "H-97",
            "30 kg·mm on a lathe of 500 kg, a fiftieth of its weight",
            "U ω² = 0.02 m g (research section 4)",
            546.0,
            lathe_share_speed_rpm(30.0, 500.0, 0.02),
            "rpm",
            Near::Within(0.5),
        ),
        pull("H-98", "pull of 30 kg·mm at 400 rpm", 52.6, 400.0, 0.05),
        pull("H-99", "pull of 30 kg·mm at 800 rpm", 211.0, 800.0, 0.5),
    ]
}

fn marks() -> Vec<Check> {
    const HERTZ: &str =
        "Hertz line contact, Johnson, Contact Mechanics ch. 4 (from memory), worked apart (research case D6)";
    let pair = contact_modulus_mpa((205e3, 0.29), (210e3, 0.30));
    let line = line_pressure(400.0, 25.0, pair);
    let onset = |id, what, theirs, strength| {
        row(id, what, HERTZ, theirs, onset_load_n_mm(strength, 25.0, pair), "N/mm", Near::Within(0.05))
    };
    vec![
        row(
            "H-100",
            "modulus of the pair, steel 205 GPa, 0.29 on jaw 210 GPa, 0.30",
            HERTZ,
            113_622.0,
            pair,
            "MPa",
            Near::Within(0.5),
        ),
        row(
            "H-101",
            "greatest pressure, 400 N/mm on a round of radius 25",
            HERTZ,
            761.0,
            line.peak_mpa,
            "MPa",
            Near::Within(0.5),
        ),
        row("H-102", "half width of the line", HERTZ, 0.3348, line.half_width_mm, "mm", Near::Within(0.000_05)),
        onset("H-103", "onset of yield, 370 MPa", 263.9, 370.0),
        onset("H-104", "onset of yield, 310 MPa", 185.3, 310.0),
        onset("H-105", "onset of yield, 655 MPa", 827.1, 655.0),
    ]
}

fn friction_table() -> Vec<Check> {
    const TABLES: &str = "lower of the tables of two makers (documents 267260 p. 45 and 3248048 p. 28)";
    let on = |id, what, theirs, jaw, skin, share| {
        row(id, what, TABLES, theirs, friction(jaw, skin, share), "", Near::Within(1e-12))
    };
    use JawSurface::{HardSerrated, HardSmooth};
    vec![
        on("H-106", "smooth jaw on ground steel", 0.06, HardSmooth, WorkSkin::Fine, 1.0),
        on("H-107", "smooth jaw on turned steel", 0.10, HardSmooth, WorkSkin::Machined, 1.0),
        on("H-108", "smooth jaw on rolled steel", 0.14, HardSmooth, WorkSkin::Unmachined, 1.0),
        on("H-109", "teeth on turned steel", 0.18, HardSerrated, WorkSkin::Machined, 1.0),
        on("H-110", "smooth jaw on turned brass", 0.09, HardSmooth, WorkSkin::Machined, metal_share(WorkMetal::Brass)),
    ]
}
