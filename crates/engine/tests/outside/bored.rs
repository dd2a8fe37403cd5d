//! Soft jaws bored to a round: pressure of closely fitting cylinders, bearing pressure, friction round an arc, grip.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, FRAC_PI_6};

use engine::holding::*;
use nalgebra::Vector3;

use crate::check::{Check, Near, row};

pub fn checks() -> Vec<Check> {
    [closely_fitting(), on_the_projected_area(), friction_of_shoes(), grip_of_three_jaws()].concat()
}

/// Steel on steel, 207 GPa and 0.3 both.
fn steel() -> f64 {
    contact_modulus_mpa((207_000.0, 0.3), (207_000.0, 0.3))
}

/// Roark gives `σ = 0.591 √(p E/K_D)`, `b = 2.15 √(p K_D/E)` (whole width), `K_D = D₁ D₂/(D₁ − D₂)` in a groove; the
/// bounds are half a unit of the last digit of 0.591 and 2.15.
fn closely_fitting() -> Vec<Check> {
    const ROARK: &str = "Roark's Formulas for Stress and Strain, table 14.1, case 2c, cylinder in a circular groove, E \
                         alike, 0.3, from memory; its factors 0.591 and 2.15 have three digits";
    let of = |work_mm: f64, bore_mm: f64, load: f64| {
        let bore = Bore { work_radius_mm: work_mm / 2.0, bore_radius_mm: bore_mm / 2.0, half_mm: 100.0 };
        let line = line_pressure(load, bore.relative_radius_mm(), steel());
        let together = work_mm * bore_mm / (bore_mm - work_mm);
        let peak = 0.591 * (load * 207_000.0 / together).sqrt();
        let width = 2.15 * (load * together / 207_000.0).sqrt();
        ((peak, line.peak_mpa), (width, 2.0 * line.half_width_mm))
    };
    let (tenths, half) = (of(40.0, 40.2, 300.0), of(40.0, 41.0, 300.0));
    let (ordinary, wide) = (of(60.0, 66.0, 500.0), of(25.0, 80.0, 200.0));
    let peak = Near::Relative(0.0005 / 0.591);
    let width = Near::Relative(0.005 / 2.15);
    vec![
        row("V-01", "greatest pressure, 40 in a bore of 40.2, 300 N/mm", ROARK, tenths.0, "MPa", peak),
        row("V-02", "the same: width of the strip", ROARK, tenths.1, "mm", width),
        row("V-03", "greatest pressure, 40 in a bore of 41, 300 N/mm", ROARK, half.0, "MPa", peak),
        row("V-04", "greatest pressure, 60 in a bore of 66, 500 N/mm", ROARK, ordinary.0, "MPa", peak),
        row("V-05", "greatest pressure, 25 in a bore of 80, 200 N/mm", ROARK, wide.0, "MPa", peak),
    ]
}

/// A pin in a bush: force over diameter and length; by a pressure as the cosine of the angle 4/π of it at the most.
fn on_the_projected_area() -> Vec<Check> {
    const BUSH: &str = "textbooks of machine elements, bearing pressure on the projected area F/(d l), by the cosine at most \
                        4 F/(π d l), from memory";
    let peak = cosine_peak_mpa(10_000.0, 20.0, 30.0, FRAC_PI_2);
    let narrow = cosine_peak_mpa(10_000.0, 20.0, 30.0, 1e-4) * (2.0 * 20.0 * 1e-4 * 30.0) / 10_000.0;
    vec![
        row(
            "V-06",
            "mean pressure of 10 kN on half of a round of 40, 30 long",
            BUSH,
            (8.3333, bearing_mpa(10_000.0, 40.0, 30.0)),
            "MPa",
            Near::Within(5e-5),
        ),
        row("V-07", "greatest pressure of the same, 4/π times", BUSH, (10.6103, peak), "MPa", Near::Within(5e-5)),
        row(
            "V-08",
            "greatest over mean of a narrow jaw",
            "a narrow arc is a flat: limit of the formula, closed form",
            (1.0, narrow),
            "1",
            Near::Relative(1e-6),
        ),
    ]
}

/// What friction gains round an arc; the plan does not count on it.
fn friction_of_shoes() -> Vec<Check> {
    const SHOE: &str = "textbook example of a block brake, contact over 90 degrees, friction 0.35: equivalent 0.385 \
                        (4 μ sin θ/(2θ + sin 2θ)), from memory";
    const LIMIT: &str = "textbooks of machine elements: up to 60 degrees of contact the gain of a block may be left out, \
                         under a twentieth, from memory";
    vec![
        row(
            "V-09",
            "friction of a block over 90 degrees of its drum",
            SHOE,
            (0.385, 0.35 * shoe_gain(FRAC_PI_4)),
            "1",
            Near::Within(0.0005),
        ),
        row("V-10", "gain of a block over 60 degrees", LIMIT, (1.045, shoe_gain(FRAC_PI_6)), "1", Near::Within(0.005)),
        row(
            "V-11",
            "gain over half the round: 4/π",
            "closed form of the same formula",
            (4.0 / std::f64::consts::PI, shoe_gain(FRAC_PI_2)),
            "1",
            Near::Relative(1e-12),
        ),
    ]
}

/// Jaws bored to a round of 60 over this angle to either side, bite 25, of 160 mm chuck's least 31 kN all together.
fn bored(half_rad: f64, friction: f64) -> Grip {
    let jaw = |number: usize| {
        let middle = (120.0 * number as f64).to_radians();
        let point = |(angle, share): (f64, f64), z: f64| {
            let (sin, cos) = (middle + angle).sin_cos();
            let outward = Vector3::new(cos, sin, 0.0);
            ContactSeed { at_mm: outward * 30.0 + Vector3::z() * z, inward: -outward, share: share / 2.0 }
        };
        JawGrip {
            jaw: number as u8 + 1,
            clamping_n: 31_000.0 / 3.0,
            contacts: arc_points([-half_rad, half_rad])
                .into_iter()
                .flat_map(|line| [-25.0, 0.0].map(|z| point(line, z)))
                .collect(),
            normal_stiffness_n_mm: 50_000.0,
            tangential_stiffness_n_mm: 41_000.0,
            friction,
        }
    };
    Grip::new(&[0, 1, 2].map(jaw), &[]).expect("a plain grip")
}

/// Grip that a cut asks, `F_spz = F_s S_z/μ · d_z/d_sp` (VDI 3106 as told in technical pages of power chucks): turned
/// round, the grip of 31 kN drives `μ F_sp d_sp/d_z` of cutting force, and `μ F_sp` along the spindle, whatever arc the
/// jaws bear over.
fn grip_of_three_jaws() -> Vec<Check> {
    const VDI: &str = "VDI 3106 as told in a maker's technical pages (document 267260, p. 48): F_spz = F_s S_z/mu d_z/d_sp, \
                       31 kN of a three-jaw chuck of 160 mm (document 1643047, p. 41); the gain of an arc left out";
    let drives = |half_rad: f64| {
        let turn = Wrench { force_n: Vector3::zeros(), moment_n_mm: Vector3::z() * 15.0 };
        bored(half_rad, 0.1).first_slip_under(&turn, &Wrench::none()).jaw.unwrap_or(0.0)
    };
    let pushes = |half_rad: f64| {
        let push = Wrench::of_force(&Vector3::zeros(), &-Vector3::z());
        bored(half_rad, 0.1).first_slip_under(&push, &Wrench::none()).jaw.unwrap_or(0.0)
    };
    let last = |half_rad: f64| {
        let hold = bored(half_rad, 0.1).last_hold(31_000.0 / 3.0, HoldRule::Upper).expect("points");
        let turn = Wrench { force_n: Vector3::zeros(), moment_n_mm: Vector3::z() * 15.0 };
        hold.under(&turn, &Wrench::none()).expect("a load").factor
    };
    vec![
        row(
            "V-12",
            "cutting force at 30 mm that jaws bored to 60 drive at 0.1, over 40 degrees each",
            VDI,
            (6200.0, drives(0.349)),
            "N",
            Near::Relative(1e-9),
        ),
        row("V-13", "the same over 110 degrees each", VDI, (6200.0, drives(0.96)), "N", Near::Relative(1e-9)),
        row(
            "V-14",
            "push along the spindle that they bear, over 110 degrees each",
            VDI,
            (3100.0, pushes(0.96)),
            "N",
            Near::Relative(1e-9),
        ),
        row(
            "V-15",
            "last hold against that turning, over 110 degrees each",
            VDI,
            (6200.0, last(0.96)),
            "N",
            Near::Relative(1e-6),
        ),
    ]
}
