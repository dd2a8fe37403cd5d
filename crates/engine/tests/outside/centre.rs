//! A tailstock centre against the tables of propped beams, and what its cone bears.

use engine::holding::*;
use nalgebra::{Matrix6, Vector3};

use crate::check::{Check, Near, row};

/// So slender that shear, which the tables leave out, is under a hundred-thousandth.
const THICK_MM: f64 = 1.0;
const LONG_MM: f64 = 400.0;
const STEEL: Elasticity = Elasticity { modulus_mpa: 205_000.0, poisson: 0.29 };

pub fn checks() -> Vec<Check> {
    [propped_stiffly(), propped_by_a_spring(), cone(), drilled_thrust(), last_hold()].concat()
}

fn beam(thick_mm: f64, long_mm: f64) -> Overhang {
    Overhang::new(&[BeamStep { length_mm: long_mm, section: BeamSection::round(thick_mm) }], STEEL)
}

fn inertia(thick_mm: f64) -> f64 {
    std::f64::consts::PI * thick_mm.powi(4) / 64.0
}

fn centre(height_mm: f64, aside_n_mm: f64) -> Centre {
    Centre { height_mm, thrust_n: 1000.0, point_deg: 60.0, along_n_mm: 30_000.0, aside_n_mm }
}

/// Deflection aside under a push aside there, mm, and reaction aside of the centre at the end, N.
fn pushed(aside_n_mm: f64, at_mm: f64, push_n: f64) -> (f64, f64) {
    let (beam, prop, jaws) = (beam(THICK_MM, LONG_MM), centre(LONG_MM, aside_n_mm), Matrix6::zeros());
    let (at, force) = (Vector3::z() * at_mm, Vector3::x() * push_n);
    let load = Wrench::of_force(&at, &force);
    let q = prop.compliance(&jaws, &beam, at_mm)
        * nalgebra::Vector6::new(
            load.force_n.x,
            load.force_n.y,
            load.force_n.z,
            load.moment_n_mm.x,
            load.moment_n_mm.y,
            load.moment_n_mm.z,
        );
    let moved = Vector3::new(q[0], q[1], q[2]) + Vector3::new(q[3], q[4], q[5]).cross(&at);
    (moved.x, -prop.reaction_n(&jaws, &beam, at_mm, &load).x)
}

/// A prop that gives nothing.
const RIGID: f64 = 1e12;

fn propped_stiffly() -> Vec<Check> {
    const ROARK: &str = "Roark's Formulas for Stress and Strain, table 8.1, case 1c, left end simply supported, right end \
                         fixed, from memory (a centre at the free end of what the jaws hold)";
    let (l, ei) = (LONG_MM, STEEL.modulus_mpa * inertia(THICK_MM));
    let middle = pushed(RIGID, l / 2.0, 1.0);
    let third = pushed(RIGID, l / 3.0, 1.0);
    let far = pushed(RIGID, 0.8 * l, 1.0);
    // R = W a² (3 L − a)/(2 L³), a from the fixed end.
    let reaction = |a: f64| a * a * (3.0 * l - a) / (2.0 * l.powi(3));
    vec![
        row("W-01", "prop's share of a push in the middle", ROARK, (5.0 / 16.0, middle.1), "1", Near::Relative(1e-4)),
        row(
            "W-02",
            "prop's share of a push at a third from the jaws, 4/27",
            ROARK,
            (reaction(l / 3.0), third.1),
            "1",
            Near::Relative(1e-4),
        ),
        row("W-03", "prop's share of a push at four fifths, 0.704", ROARK, (0.704, far.1), "1", Near::Relative(1e-4)),
        row(
            "W-04",
            "deflection in the middle, 7 W L³/(768 E I)",
            ROARK,
            (7.0 * l.powi(3) / (768.0 * ei), middle.0),
            "mm/N",
            Near::Relative(1e-4),
        ),
        row(
            "W-05",
            "moment at the jaws over W L, push in the middle: 3/16",
            ROARK,
            (3.0 / 16.0, 0.5 - middle.1),
            "1",
            Near::Relative(2e-4),
        ),
    ]
}

fn propped_by_a_spring() -> Vec<Check> {
    const SOURCE: &str = "closed form of a cantilever of stiffness 3 E I/L³ beside a spring at its end; tip deflection of \
                          beam tables (Roark, table 8.1, case 1a, from memory)";
    let tip = 3.0 * STEEL.modulus_mpa * inertia(THICK_MM) / LONG_MM.powi(3);
    let (moved, taken) = pushed(tip, LONG_MM, 1.0);
    let (soft, _) = pushed(1e-12, LONG_MM, 1.0);
    vec![
        row(
            "W-06",
            "a spring as stiff as the bar takes half of a push at the end",
            SOURCE,
            (0.5, taken),
            "1",
            Near::Relative(1e-4),
        ),
        row("W-07", "and halves the deflection", SOURCE, (0.5 / tip, moved), "mm/N", Near::Relative(1e-4)),
        row("W-08", "no prop: the cantilever", SOURCE, (1.0 / tip, soft), "mm/N", Near::Relative(1e-4)),
    ]
}

fn cone() -> Vec<Check> {
    const SOURCE: &str =
        "statics of a smooth wedge, tan of half the point (60 degrees: ISO 866 and DIN 332 centre holes, from memory)";
    vec![
        row(
            "W-09",
            "push aside over thrust at which work climbs a centre of 60 degrees",
            SOURCE,
            (3f64.sqrt(), centre(0.0, 1.0).climbs_at()),
            "1",
            Near::Relative(1e-12),
        ),
        row(
            "W-10",
            "the same of 90 degrees",
            SOURCE,
            (1.0, Centre { point_deg: 90.0, ..centre(0.0, 1.0) }.climbs_at()),
            "1",
            Near::Relative(1e-12),
        ),
    ]
}

/// Three smooth jaws on a round of 40, 8 kN each, bite 30, μ 0.15.
fn jaws() -> Vec<JawGrip> {
    let jaw = |number: usize| {
        let (sin, cos) = (120.0 * number as f64).to_radians().sin_cos();
        let seed = |z| ContactSeed {
            at_mm: Vector3::new(20.0 * cos, 20.0 * sin, z),
            inward: Vector3::new(-cos, -sin, 0.0),
            share: 0.5,
        };
        JawGrip {
            jaw: number as u8 + 1,
            clamping_n: 8000.0,
            contacts: vec![seed(-30.0), seed(0.0)],
            normal_stiffness_n_mm: 50_000.0,
            tangential_stiffness_n_mm: 41_000.0,
            friction: 0.15,
        }
    };
    (0..3).map(jaw).collect()
}

fn set(thrust_n: f64) -> (Grip, Grip) {
    let bare = Grip::new(&jaws(), &[]).expect("a plain grip");
    let centre = Centre { thrust_n, ..centre(120.0, 20_000.0) };
    let propped = bare.with_centre(&centre, &[]).expect("a plain centre");
    (bare, propped)
}

/// The thrust goes into the jaws' friction; a further push towards the chuck is what the thrust leaves of it.
fn drilled_thrust() -> Vec<Check> {
    const SOURCE: &str = "Coulomb's law: three jaws of 8 kN, 0.15, bear 3600 N along the spindle; closed form";
    let (bare, propped) = set(1500.0);
    let pushed = |grip: &Grip, force: [f64; 3], z: f64| {
        grip.first_slip_under(&Wrench::of_force(&(Vector3::z() * z), &force.into()), &Wrench::none()).jaw.unwrap_or(0.0)
    };
    let friction: f64 =
        propped.held().iter().filter(|held| held.contact.jaw != CENTRE).map(|held| held.preload_friction_n.z).sum();
    // Springs side by side along the spindle: three jaws across their push, the centre along its.
    let jaws_share = 3.0 * 41_000.0 / (3.0 * 41_000.0 + 30_000.0);
    vec![
        row(
            "W-11",
            "jaws without a centre, pushed along the spindle with 1 N",
            SOURCE,
            (3600.0, pushed(&bare, [0.0, 0.0, -1.0], 0.0)),
            "1",
            Near::Relative(1e-9),
        ),
        row(
            "W-12",
            "friction of the jaws once a centre has pushed with 1500 N",
            SOURCE,
            (1500.0, friction),
            "N",
            Near::Relative(1e-9),
        ),
        row(
            "W-13",
            "push beside it until the jaws slip: 2100 N over their share of the springs",
            SOURCE,
            (2100.0 / jaws_share, pushed(&propped, [0.0, 0.0, -1.0], 0.0)),
            "1",
            Near::Relative(1e-9),
        ),
        row(
            "W-14",
            "thrust of 3600 N: the jaws slip without any cut",
            SOURCE,
            (0.0, pushed(&set(3600.0).1, [0.0, 0.0, -1.0], 0.0)),
            "1",
            Near::Within(1e-6),
        ),
    ]
}

fn last_hold() -> Vec<Check> {
    const SOURCE: &str = "statics: the jaws' friction 3600 N on the axis, all of it less the thrust that the centre need not keep; closed form";
    let factor = |grip: &Grip, force: [f64; 3], at: Vector3<f64>| {
        let hold = grip.last_hold(8000.0, HoldRule::Upper).expect("points");
        hold.under(&Wrench::of_force(&at, &force.into()), &Wrench::none()).expect("a load").factor
    };
    let (bare, propped) = set(1500.0);
    let torque = |grip: &Grip| {
        let hold = grip.last_hold(8000.0, HoldRule::Upper).expect("points");
        let turn = Wrench { force_n: Vector3::zeros(), moment_n_mm: Vector3::z() };
        hold.under(&turn, &Wrench::none()).expect("a load").factor
    };
    let at = Vector3::z() * 120.0;
    vec![
        row(
            "W-15",
            "last hold, pulled out of the chuck against a centre of 1500 N: 3600 + 1500",
            SOURCE,
            (5100.0, factor(&propped, [0.0, 0.0, 1.0], at)),
            "1",
            Near::Relative(1e-6),
        ),
        row(
            "W-16",
            "last hold, pushed into the chuck: the centre lets go, 3600",
            SOURCE,
            (3600.0, factor(&propped, [0.0, 0.0, -1.0], at)),
            "1",
            Near::Relative(1e-6),
        ),
        row(
            "W-17",
            "last hold against turning: the centre turns with the work, 3 x 0.15 x 8000 x 20",
            SOURCE,
            (72_000.0, torque(&propped)),
            "1",
            Near::Relative(1e-6),
        ),
        row("W-18", "without a centre the same", SOURCE, (72_000.0, torque(&bare)), "1", Near::Relative(1e-6)),
    ]
}
