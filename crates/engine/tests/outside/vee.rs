//! Vees: geometry and forces of a groove with two flanks, against formulas of screw threads, belts, clutches and blocks.
#![allow(clippy::approx_constant)] // values as printed

use engine::holding::*;
use nalgebra::Vector3;

use crate::check::{Check, Near, row};

const WIRES: &str = "measuring threads over three wires, Machinery's Handbook (from memory; also ASME B1.2 / ISO 1502)";
const BELT: &str =
    "V-belts, effective friction f/sin(half the groove angle); Shigley, Mechanical Engineering Design (from memory)";
const CLUTCH: &str =
    "cone clutches, engaging force F = N (sin a + f cos a); Machinery's Handbook (from memory), worked by hand";
const FRICTION: &str = "self-holding wedge, angle of friction; Shigley, Mechanical Engineering Design (from memory)";
const CORNERS: &str = "across corners of hexagon and octagon by across flats, Machinery's Handbook (from memory)";
const STATICS: &str = "cylinder in a smooth vee, plane statics; Hibbeler, Engineering Mechanics: Statics (from memory)";

pub fn checks() -> Vec<Check> {
    [grooves(), forces(), gripped()].concat()
}

fn deg(angle: f64) -> f64 {
    angle.to_radians()
}

/// What three wires of this diameter add over the pitch diameter less the pitch term: over both sides of the thread.
fn over_wires(pitch: f64, wire: f64, flank_rad: f64) -> f64 {
    // At the pitch line the space is half a pitch wide.
    2.0 * (round_over_groove_mm(wire / 2.0, flank_rad) + wire / 2.0 - groove_depth_mm(pitch / 2.0, flank_rad))
}

fn grooves() -> Vec<Check> {
    let within = |id, what, source, theirs: f64, ours: f64, unit, near| {
        row(id, what, source, (theirs, ours), unit, Near::Within(near))
    };
    let (hexagon, _) = groove_bottom_mm(15.0, 15.0, deg(60.0));
    let (octagon, _) = groove_bottom_mm(20.0, 20.0, deg(67.5));
    vec![
        within(
            "U-01",
            "60° thread, pitch 2, wire 1.1547: M - E = 3 W - 0.86603 P",
            WIRES,
            1.7320,
            over_wires(2.0, 1.1547, deg(30.0)),
            "mm",
            1e-4,
        ),
        within(
            "U-02",
            "55° thread, pitch 2.5, wire 1.41: M - E = 3.1657 W - 0.9605 P",
            WIRES,
            2.0624,
            over_wires(2.5, 1.41, deg(27.5)),
            "mm",
            2e-4,
        ),
        within(
            "U-03",
            "29° thread, pitch 4, wire 2.07: M - E = 4.9939 W - 1.93334 P",
            WIRES,
            2.6040,
            over_wires(4.0, 2.07, deg(14.5)),
            "mm",
            4e-4,
        ),
        within(
            "U-04",
            "best wire 0.57735 P touches a 60° thread of pitch 1 at the pitch line: a quarter of the pitch from the middle of the space",
            WIRES,
            0.25,
            round_touches_mm(0.57735 / 2.0, deg(30.0)),
            "mm",
            1e-5,
        ),
        within(
            "U-05",
            "bar of 50 mm in a 90° vee block: axis 0.70711 D over the bottom of the groove",
            STATICS,
            35.355,
            round_over_groove_mm(25.0, deg(45.0)),
            "mm",
            1e-3,
        ),
        within(
            "U-06",
            "hexagon of 30 across flats: half of 1.1547 F to the corner, by its flats in a 120° vee",
            CORNERS,
            17.3205,
            hexagon,
            "mm",
            1e-4,
        ),
        within(
            "U-07",
            "octagon of 40 across flats: half of 1.0824 F to the corner, by its flats in a 135° vee",
            CORNERS,
            21.648,
            octagon,
            "mm",
            1e-3,
        ),
    ]
}

fn forces() -> Vec<Check> {
    let relative = |id, what, source, theirs: f64, ours: f64, unit, near| {
        row(id, what, source, (theirs, ours), unit, Near::Relative(near))
    };
    vec![
        relative(
            "U-08",
            "groove of 38°: friction of a belt counts 3.07 times",
            BELT,
            3.07,
            friction_times_in_groove(deg(19.0)),
            "1",
            2e-3,
        ),
        relative(
            "U-09",
            "groove of 34°: friction of a belt counts 3.42 times",
            BELT,
            3.42,
            friction_times_in_groove(deg(17.0)),
            "1",
            2e-3,
        ),
        relative(
            "U-10",
            "cone of 12.5°, friction 0.2: a push of 411.7 N gives 1000 N on the faces",
            CLUTCH,
            1000.0,
            2.0 * flank_force_n(411.7, deg(12.5), 0.2),
            "N",
            2e-4,
        ),
        relative(
            "U-11",
            "90° vee without friction, 1000 N: each flank 1000/√2",
            STATICS,
            707.107,
            flank_force_n(1000.0, deg(45.0), 0.0),
            "N",
            1e-6,
        ),
        relative(
            "U-12",
            "120° vee without friction, 1000 N: each flank 1000/√3",
            STATICS,
            577.350,
            flank_force_n(1000.0, deg(60.0), 0.0),
            "N",
            1e-6,
        ),
        row(
            "U-13",
            "a taper of 8.5° a side holds itself at friction 0.15 (angle of friction 8.53°): yes is 1",
            FRICTION,
            (1.0, f64::from(u8::from(sticks_in_vee(deg(8.5), 0.15)))),
            "1",
            Near::Within(0.0),
        ),
        row(
            "U-17",
            "one of 8.6° does not: no is 0",
            FRICTION,
            (0.0, f64::from(u8::from(sticks_in_vee(deg(8.6), 0.15)))),
            "1",
            Near::Within(0.0),
        ),
    ]
}

/// A bar of radius R along Z between two vees on jaws 1 and 3, each pushed with F.
fn between_vees(radius: f64, push: f64, half_rad: f64, friction: f64) -> Grip {
    let jaw = |number: u8, side: f64| {
        let (sin, cos) = half_rad.sin_cos();
        let flank = |to: f64| {
            let outward = Vector3::new(side * sin, side * to * cos, 0.0);
            [-20.0, 0.0].map(|z| ContactSeed {
                at_mm: outward * radius + Vector3::z() * z,
                inward: -outward,
                share: 0.25,
            })
        };
        JawGrip {
            jaw: number,
            clamping_n: 2.0 * flank_force_n(push, half_rad, friction),
            contacts: [flank(1.0), flank(-1.0)].concat(),
            normal_stiffness_n_mm: 50_000.0,
            tangential_stiffness_n_mm: 41_000.0,
            friction,
        }
    };
    Grip::through_vees(&[jaw(1, 1.0), jaw(3, -1.0)], &[1, 3], &[]).expect("two vees hold a bar")
}

fn gripped() -> Vec<Check> {
    const BY_HAND: &str = "closed form (plane statics): each flank F/(2 (sin a + mu cos a)), friction mu on every face";
    let (radius, push, friction) = (25.0, 8000.0, 0.12);
    let grip = between_vees(radius, push, deg(45.0), friction);
    // sin 45° + 0.12 cos 45° = 0.791960: flanks 5050.76 N, on each jaw 2 sin 45° times that, 7142.86 N.
    let along = grip.first_slip_under(
        &Wrench::of_force(&Vector3::new(0.0, 0.0, -10.0), &Vector3::new(0.0, 0.0, 100.0)),
        &Wrench::none(),
    );
    let turning = [1.0, -1.0].map(|side: f64| {
        Wrench::of_force(&Vector3::new(side * 50.0, 0.0, -10.0), &Vector3::new(0.0, side * 10.0, 0.0))
    });
    let turned = grip.first_slip_under(&(turning[0] + turning[1]), &Wrench::none());
    let pressed = grip.held().iter().map(|held| held.preload_n).sum::<f64>() / 4.0;
    let relative =
        |id, what, theirs: f64, ours: f64, unit| row(id, what, BY_HAND, (theirs, ours), unit, Near::Relative(1e-5));
    vec![
        relative("U-14", "bar between two 90° vees, 8 kN, friction 0.12: a flank presses with", 5050.76, pressed, "N"),
        relative(
            "U-15",
            "the same pulled along with 100 N: the vees slip on their jaws at 2 mu N over it",
            17.142_86,
            along.jaw.unwrap_or(0.0),
            "1",
        ),
        relative(
            "U-16",
            "the same turned with 1 N m: a flank slips at 4 mu N R over it",
            60.6091,
            turned.point.unwrap_or(0.0),
            "1",
        ),
    ]
}
