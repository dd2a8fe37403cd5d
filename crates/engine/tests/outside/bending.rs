//! Bending of what stands out of the jaws, and the spring at the tool.
//!
//! Closed forms were worked out in python apart from the program. The finite elements are those of
//! `docs/finite-element/`, solved by a general library that knows neither our springs nor our beam.

use engine::holding::*;
use engine::plan::Force3;
use nalgebra::{Vector3, Vector6};

use crate::check::{Check, Near, row};

pub fn checks() -> Vec<Check> {
    [
        shear_coefficients(),
        bars_of_five_lengths(),
        short_beams(),
        steps(),
        at_an_angle(),
        off_the_axis(),
        standard_cantilever(),
        block_of_the_research(),
        finite_elements(),
    ]
    .concat()
}

const STEEL: Elasticity = Elasticity { modulus_mpa: 205_000.0, poisson: 0.29 };

/// One step of a section.
fn beam(length_mm: f64, section: BeamSection, metal: Elasticity) -> Overhang {
    Overhang::new(&[BeamStep { length_mm, section }], metal)
}

/// Movement of the end's middle, µm, and turn about Y, µrad.
fn end(beam: &Overhang, length_mm: f64, force_n: [f64; 3]) -> (Vector3<f64>, f64) {
    let at = Vector3::new(0.0, 0.0, length_mm);
    let force = Vector3::from(force_n);
    let q = beam.motion(length_mm, &Wrench::of_force(&at, &force));
    (beam.movement_mm(&at, &force) * 1000.0, q[4] * 1e6)
}

fn shear_coefficients() -> Vec<Check> {
    const COWPER: &str = "Cowper, J. Appl. Mech. 33 (1966) p. 335, nu 0.3, three places printed; from memory";
    let printed = Near::Within(0.0005);
    let of = |form: SectionForm| form.shear_coefficient(0.3);
    vec![
        row("B-01", "shear coefficient of a round", COWPER, (0.886, of(SectionForm::Round)), "", printed),
        row("B-02", "shear coefficient of a rectangle", COWPER, (0.850, of(SectionForm::Rectangle)), "", printed),
    ]
}

fn bars_of_five_lengths() -> Vec<Check> {
    const SOURCE: &str =
        "F l³/(3 E I), E 205 GPa: research table of bars, one place printed; ours less F l/(kappa G A)";
    let metal = Elasticity { poisson: 0.3, ..STEEL };
    let bent = |times: f64| {
        let length_mm = times * 25.0;
        let beam = beam(length_mm, BeamSection::round(25.0), metal);
        // Shear by hand: kappa 7.8/8.8, G 205/2.6 GPa, A 490.87 mm².
        let shear_um = 300.0 * length_mm / (7.8 / 8.8 * 205_000.0 / 2.6 * 490.873_852_1) * 1000.0;
        end(&beam, length_mm, [300.0, 0.0, 0.0]).0.x - shear_um
    };
    [
        ("B-03", "bar 25 standing out 2 diameters, 300 N across: bending alone", 2.0, 3.2),
        ("B-04", "3 diameters", 3.0, 10.7),
        ("B-05", "4 diameters", 4.0, 25.4),
        ("B-06", "5 diameters", 5.0, 49.7),
        ("B-07", "6 diameters", 6.0, 85.9),
    ]
    .map(|(id, what, times, theirs)| row(id, what, SOURCE, (theirs, bent(times)), "µm", Near::Within(0.05)))
    .to_vec()
}

fn short_beams() -> Vec<Check> {
    const SOURCE: &str =
        "Timoshenko's beam: 1 + 3 E I/(kappa G A l²), kappa after Cowper 1966, nu 0.3; the ratio by hand";
    let metal = Elasticity { poisson: 0.3, ..STEEL };
    let over = |section: BeamSection, length_mm: f64, moment_mm4: f64| {
        let bent_um = 100.0 * length_mm.powi(3) / (3.0 * 205_000.0 * moment_mm4) * 1000.0;
        end(&beam(length_mm, section, metal), length_mm, [100.0, 0.0, 0.0]).0.x / bent_um
    };
    let round = BeamSection::round(30.0);
    let square = BeamSection::rectangle([-15.0, 15.0], [-15.0, 15.0]);
    let near = Near::Within(5e-6);
    vec![
        row(
            "B-08",
            "round as long as thick, with shear over without",
            SOURCE,
            (1.55, over(round, 30.0, 39_760.782)),
            "",
            near,
        ),
        row("B-09", "round half as long as thick", SOURCE, (3.2, over(round, 15.0, 39_760.782)), "", near),
        row(
            "B-10",
            "square as long as thick: 1 + 0.65/0.849673",
            SOURCE,
            (1.765, over(square, 30.0, 67_500.0)),
            "",
            near,
        ),
    ]
}

/// Two lengths, the inner one stiffer.
fn stepped(inner: (f64, BeamSection), outer: (f64, BeamSection)) -> Overhang {
    let step = |(length_mm, section)| BeamStep { length_mm, section };
    Overhang::new(&[step(inner), step(outer)], STEEL)
}

fn steps() -> Vec<Check> {
    // As long as thick by a thousand: shear is nothing. 2 I in the inner half.
    let thin = |times: f64| BeamSection {
        form: SectionForm::Round,
        area_mm2: 1e6,
        centroid_mm: [0.0; 2],
        about_x_mm4: 1e4 * times,
        about_y_mm4: 1e4 * times,
        product_mm4: 0.0,
    };
    let half = stepped((500.0, thin(2.0)), (500.0, thin(1.0)));
    let share = end(&half, 1000.0, [1.0, 0.0, 0.0]).0.x / (1e9 / (205_000.0 * 1e4) * 1000.0);
    let turn = end(&half, 1000.0, [1.0, 0.0, 0.0]).1 / (1e6 / (205_000.0 * 1e4) * 1e6);
    let shaft = stepped((50.0, BeamSection::round(40.0)), (60.0, BeamSection::round(25.0)));
    vec![
        row(
            "B-11",
            "cantilever of 2 I in the inner half, load at the end: over P L³/(E I)",
            "3/16: Gere and Timoshenko, Mechanics of Materials, nonprismatic cantilever, from memory; moment areas agree",
            (3.0 / 16.0, share),
            "",
            Near::Relative(1e-4),
        ),
        row(
            "B-12",
            "the same: slope over P L²/(E I)",
            "5/16, moment areas by hand: (3/4)/2 · 1/2 + 1/8",
            (5.0 / 16.0, turn),
            "",
            Near::Relative(1e-4),
        ),
        row(
            "B-13",
            "shaft of 40 for 50 mm, then of 25 for 60 mm, 400 N at its end",
            "F/3E ((l³ - b³)/I_1 + b³/I_2) + F/(kappa G) (a/A_1 + b/A_2), in python: 13.09769 + 0.92101",
            (14.018_699, end(&shaft, 110.0, [400.0, 0.0, 0.0]).0.x),
            "µm",
            Near::Within(5e-6),
        ),
    ]
}

fn at_an_angle() -> Vec<Check> {
    const MEGSON: &str = "Megson, Structural and Stress Analysis, ex. 13.15: u = W I_zy L³/(3E(I_z I_y - I_zy²)) and the \
                          same with I; numbers in python";
    let length_mm = 150.0;
    let section = BeamSection::rectangle([-15.0, 15.0], [-25.0, 25.0]).turned(30f64.to_radians());
    let moved = end(&beam(length_mm, section, STEEL), length_mm, [1000.0, 0.0, 0.0]).0;
    // Shear acts along the force alone: F l/(kappa G A), kappa 12.9/15.19.
    let shear_um = 1000.0 * length_mm / (12.9 / 15.19 * 205_000.0 / 2.58 * 1500.0) * 1000.0;
    let square = BeamSection::rectangle([-10.0, 10.0], [-10.0, 10.0]);
    let turned = |deg: f64| end(&beam(60.0, square.turned(deg.to_radians()), STEEL), 60.0, [300.0, 0.0, 0.0]).0;
    vec![
        row(
            "B-14",
            "rectangle 30 x 50 turned by 30 degrees, 150 long, 1000 N: along the force, bending",
            MEGSON,
            (40.975_610, moved.x - shear_um),
            "µm",
            Near::Within(5e-6),
        ),
        row("B-15", "the same: square to the force", MEGSON, (13.518_445, moved.y), "µm", Near::Within(5e-6)),
        row(
            "B-16",
            "square 20, force over its corner against force on its flat",
            "every axis of a square is a principal one: 1",
            (1.0, turned(45.0).norm() / turned(0.0).norm()),
            "",
            Near::Relative(1e-12),
        ),
    ]
}

fn off_the_axis() -> Vec<Check> {
    const SOURCE: &str =
        "moment P e at the end: P e l/(E I), P e l²/(2 E I), P l/(E A) + P e² l/(E I), by hand in python";
    let beam = beam(90.0, BeamSection::round(30.0), STEEL);
    let (rim, push) = (Vector3::new(12.0, 0.0, 90.0), Vector3::new(0.0, 0.0, -500.0));
    let q = beam.motion(90.0, &Wrench::of_force(&rim, &push));
    let moved = beam.movement_mm(&rim, &push) * 1000.0;
    let cut = TurnCut {
        radius_mm: 12.0,
        height_mm: 90.0,
        force: Force3 { cutting: 0.0, feed: 0.0, passive: 500.0 },
        weight_n: 0.0,
        mass_centre_mm: Vector3::zeros(),
    };
    let spring_um = Spring::of_overhang(&beam, &cut).at_um(12.0, 137.0);
    let near = Near::Within(5e-6);
    vec![
        row(
            "B-17",
            "push of 500 N at radius 12 on a bar 30 standing out 90: turn of its end",
            SOURCE,
            (66.249_862, q[4].abs() * 1e6),
            "µrad",
            near,
        ),
        row("B-18", "the same: its end goes aside", SOURCE, (2.981_244, moved.x.abs()), "µm", near),
        row("B-19", "the same: towards the chuck under the push", SOURCE, (1.105_545, -moved.z), "µm", near),
        row(
            "B-20",
            "the same with the tool at 137 degrees, by the harmonics of the turn",
            SOURCE,
            (1.105_545, spring_um),
            "µm",
            near,
        ),
    ]
}

fn standard_cantilever() -> Vec<Check> {
    const SOURCE: &str = "MacNeal and Harder, Finite Elem. Anal. Des. 1 (1985) 3: straight cantilever 6 x 0.2 x 0.1, E 1e7, \
                          nu 0.3, unit load; as printed in a solver's verification manual";
    let metal = Elasticity { modulus_mpa: 1e7, poisson: 0.3 };
    let beam = beam(6.0, BeamSection::rectangle([-0.1, 0.1], [-0.05, 0.05]), metal);
    let moved = |force| end(&beam, 6.0, force).0 / 1000.0;
    vec![
        row("B-21", "stretch", SOURCE, (3e-5, moved([0.0, 0.0, 1.0]).z), "", Near::Within(5e-7)),
        row("B-22", "load in the plane", SOURCE, (0.1081, moved([1.0, 0.0, 0.0]).x), "", Near::Within(5e-5)),
        row("B-23", "load out of the plane", SOURCE, (0.4321, moved([0.0, 1.0, 0.0]).y), "", Near::Within(5e-5)),
    ]
}

/// Four jaws of 50 N/µm on corners of patches, from the back of the bite at z = `back_mm`; round or square of this size.
fn jaws(size_mm: f64, wide_mm: f64, (back_mm, front_mm): (f64, f64), jaw_n_mm: f64) -> Grip {
    let outward = [Vector3::x(), Vector3::y(), -Vector3::x(), -Vector3::y()];
    let jaw = |number: usize| {
        let along = Vector3::z().cross(&outward[number]);
        let half = wide_mm / 2.0;
        let corners = [(-half, back_mm), (half, back_mm), (half, front_mm), (-half, front_mm)];
        let seed = |(across, z): (f64, f64)| ContactSeed {
            at_mm: outward[number] * (size_mm / 2.0) + along * across + Vector3::z() * z,
            inward: -outward[number],
            share: 1.0,
        };
        JawGrip {
            jaw: number as u8 + 1,
            clamping_n: 8000.0,
            contacts: corners.map(seed).to_vec(),
            normal_stiffness_n_mm: jaw_n_mm,
            tangential_stiffness_n_mm: 0.82 * jaw_n_mm,
            friction: 0.2,
        }
    };
    Grip::new(&[0, 1, 2, 3].map(jaw), &[]).expect("a plain grip")
}

fn block_of_the_research() -> Vec<Check> {
    const SOURCE: &str =
        "research C7: springs at the corners of four jaws, 50 N/µm each, worked out in python; 42 µm per kN printed";
    let grip = jaws(50.0, 20.0, (0.0, 25.0), 50_000.0);
    let tool = Vector3::new(25.0, 0.0, 65.0);
    let moved = |force: [f64; 3]| grip.movement_mm(&tool, &Wrench::of_force(&tool, &Vector3::from(force))) * 1000.0;
    let turning = moved([-300.0, -1000.0, -400.0]);
    vec![
        row(
            "B-24",
            "block of 50, bite 25, tool 65 over its back: movement per kN of cutting force",
            SOURCE,
            (41.957_661, moved([0.0, -1000.0, 0.0]).norm()),
            "µm",
            Near::Within(5e-6),
        ),
        row(
            "B-25",
            "the whole turning cut of C7 at jaw 1: along the spindle",
            "the same program, C7's cut 1000/400/300 N",
            (-0.803_411, turning.z),
            "µm",
            Near::Within(5e-6),
        ),
    ]
}

/// A bar of the finite elements: springs of contact and beam together at its end.
fn held(round: bool, out_mm: f64, jaw_n_mm: f64, load: impl Fn(f64) -> Wrench) -> Vector6<f64> {
    let (section, wide_mm) = if round {
        (BeamSection::round(40.0), 4.0)
    } else {
        (BeamSection::rectangle([-20.0, 20.0], [-20.0, 20.0]), 22.0)
    };
    let load = load(out_mm);
    jaws(40.0, wide_mm, (-25.0, 0.0), jaw_n_mm).motion(&load) + beam(out_mm, section, STEEL).motion(out_mm, &load)
}

/// 500 N along x at the end's middle: how far that goes, µm.
fn aside_um(round: bool, out_mm: f64, jaw_n_mm: f64) -> f64 {
    let at = |z: f64| Vector3::new(0.0, 0.0, z);
    let q = held(round, out_mm, jaw_n_mm, |z| Wrench::of_force(&at(z), &Vector3::new(500.0, 0.0, 0.0)));
    1000.0 * (q[0] + q[4] * out_mm)
}

/// 10 N m about y at the end: how far that turns, µrad.
fn turn_urad(round: bool, out_mm: f64) -> f64 {
    let moment_n_mm = Vector3::new(0.0, 10_000.0, 0.0);
    1e6 * held(round, out_mm, 50_000.0, |_| Wrench { force_n: Vector3::zeros(), moment_n_mm })[4]
}

/// 500 N towards the chuck on the end's middle: how far that goes, µm.
fn pushed_um(round: bool, out_mm: f64) -> f64 {
    let at = |z: f64| Vector3::new(0.0, 0.0, z);
    -1000.0 * held(round, out_mm, 50_000.0, |z| Wrench::of_force(&at(z), &Vector3::new(0.0, 0.0, -500.0)))[2]
}

fn finite_elements() -> Vec<Check> {
    const SQUARE: &str = "finite elements, scikit-fem 12.0.2, hexahedra of second degree, fine mesh of docs/finite-element; the solid \
                          also gives way at the jaws themselves";
    const ROUND: &str =
        "the same, quadratic geometry; jaws bear on strips 4 mm wide, under which the round gives way more";
    // What the beam leaves out, the give of the metal within the bite and under the jaws, is the whole difference:
    // it is of one sign, and larger under a strip than under a pad, and with stiffer jaws.
    let (pad, strip) = (Near::Relative(0.015), Near::Relative(0.03));
    let (stiff_pad, stiff_strip) = (Near::Relative(0.04), Near::Relative(0.085));
    vec![
        row(
            "B-30",
            "square 40 in four jaws of 50 N/µm, bite 25, out 20, 500 N across its end",
            SQUARE,
            (14.568, aside_um(false, 20.0, 5e4)),
            "µm",
            pad,
        ),
        row("B-31", "out 60", SQUARE, (62.123, aside_um(false, 60.0, 5e4)), "µm", pad),
        row("B-32", "out 120", SQUARE, (204.768, aside_um(false, 120.0, 5e4)), "µm", pad),
        row("B-33", "out 20, 10 N m: turn of its end", SQUARE, (227.038, turn_urad(false, 20.0)), "µrad", pad),
        row("B-34", "out 120, 10 N m", SQUARE, (249.900, turn_urad(false, 120.0)), "µrad", pad),
        row("B-35", "out 60, pushed with 500 N", SQUARE, (3.1652, pushed_um(false, 60.0)), "µm", pad),
        row(
            "B-36",
            "out 60, jaws of 200 N/µm, 500 N across its end",
            SQUARE,
            (16.819, aside_um(false, 60.0, 2e5)),
            "µm",
            stiff_pad,
        ),
        row(
            "B-37",
            "round 40, bite 25, out 20, 500 N across its end",
            ROUND,
            (15.702, aside_um(true, 20.0, 5e4)),
            "µm",
            strip,
        ),
        row("B-38", "out 60", ROUND, (68.215, aside_um(true, 60.0, 5e4)), "µm", strip),
        row("B-39", "out 120", ROUND, (227.834, aside_um(true, 120.0, 5e4)), "µm", strip),
        row("B-40", "out 60, pushed with 500 N", ROUND, (3.2273, pushed_um(true, 60.0)), "µm", strip),
        row(
            "B-41",
            "out 60, jaws of 200 N/µm, 500 N across its end",
            ROUND,
            (19.516, aside_um(true, 60.0, 2e5)),
            "µm",
            stiff_strip,
        ),
    ]
}
