//! Clamping force, marks, rings, dialling in: the research cases D1 to D15 that stand nowhere else, and the tables of
//! jaw force, centrifugal loss and contact pressure.
//!
//! "Worked apart" marks a value of a textbook formula that an independent program (python, numpy) worked out before
//! this one; rings were summed there as Fourier series and are closed forms here.

use std::f64::consts::PI;

use engine::cutting;
use engine::dial::{face_run_out_mm, lever_moved_mm, offset_mm, tilt_rad};
use engine::holding::*;
use engine::job::{BarForm, Surface};
use engine::quantity::inch;
use engine::shape::{Bar, Section, least_round_mm};
use engine::shop::ChuckKind;

use crate::check::{Check, Near, row};

pub fn checks() -> Vec<Check> {
    [
        key(),
        usual_forces(),
        permitted_speed(),
        turning_jaws(),
        unbalance(),
        lines(),
        flats(),
        packing(),
        rings(),
        dialling_in(),
        square_from_round(),
    ]
    .concat()
}

/// The jaw screw of the table: 18 × 4, shoulder radius 9.
fn screw(friction: f64, half_angle_deg: f64) -> JawScrew {
    JawScrew { pitch_mm: 4.0, pitch_diameter_mm: 18.0, shoulder_radius_mm: 9.0, friction, half_angle_deg }
}

fn key() -> Vec<Check> {
    const SCREW: &str = "power screws, Shigley (formula from memory), worked apart (research table 2.1)";
    const BAND: &str = "the same formula at 40 N·m and μ 0.20, and at 80 N·m and μ 0.10: one person at a hand key gives 40 to 80 (common practice), greased to worn screws 0.10 to 0.20 (handbooks, from memory); worked apart";
    const VDI: &str = "VDI 2230 part 1, table A8 (from memory): greatest over least force 2.5 to 4 when tightened by hand; the middle, within half the band";
    let thread = numbers().thread_half_angle_deg.value;
    let fine = JawScrew {
        pitch_mm: 1.27,
        pitch_diameter_mm: 15.0,
        shoulder_radius_mm: 8.0,
        friction: 0.15,
        half_angle_deg: 0.0,
    };
    let band = key_band(&screw(0.15, thread), 60.0);
    let near = Near::Within(0.000_51);
    let newtons = Near::Within(0.5);
    vec![
        row("M-01", "efficiency, screw 18 × 4, μ 0.10", SCREW, (0.260, screw(0.10, 0.0).efficiency()), "", near),
        row("M-02", "the same, μ 0.20", SCREW, (0.149, screw(0.20, 0.0).efficiency()), "", near),
        row("M-03", "the same, μ 0.15, 29° thread", SCREW, (0.187, screw(0.15, 14.5).efficiency()), "", near),
        row("M-04", "efficiency, screw 15 × 1.27, μ 0.15, r_c 8", SCREW, (0.080, fine.efficiency()), "", near),
        row(
            "M-05",
            "share past the jaw guide, μ 0.12, 40 over the screw, 60 guided",
            "statics of a vice jaw, 1/(1 + 2 μ c/l) (research 2.1)",
            (0.862, guide_share(0.12, 40.0, 60.0)),
            "",
            near,
        ),
        row("M-06", "least force of a key of 60 N·m, 29° thread, μ 0.15", BAND, (9231.8, band.low_n), "N", newtons),
        row("M-07", "greatest force of the same", BAND, (32_287.3, band.high_n), "N", newtons),
        row("M-08", "greatest over least force", VDI, (3.25, band.high_n / band.low_n), "", Near::Within(0.75)),
        row(
            "M-09",
            "least over nominal force, by the key's bands",
            "half the nominal, the choice after VDI 2230 for tightening by feel (research 2.4); two ways to one thing, within a tenth",
            (0.5, band.low_n / screw(0.15, thread).force_n(60.0)),
            "",
            Near::Relative(0.1),
        ),
    ]
}

fn usual_forces() -> Vec<Check> {
    const TABLE: &str = "research table 2.3, to plan with, hand-tight (catalogue ranges, from memory, low confidence)";
    const PLATE: &str =
        "manual of a toolroom lathe (document 1643047, p. 41): at least 31 kN of all jaws, three-jaw 160 mm";
    const RIM: &str =
        "rim speed of 25 m/s for grey iron (traditional limit, from memory), n = 60 000 v/(π D) (research 3.3)";
    let by_hand = |body_mm| {
        let usual = chuck_defaults(ChuckKind::Independent, body_mm);
        counted_force_n(usual.clamping_n, numbers().low_share_by_feel.value, usual.jaw_kg, 0.0, 0.0) / 1000.0
    };
    let planned =
        |id, what, theirs, body_mm| row(id, what, TABLE, (theirs, by_hand(body_mm)), "kN", Near::Within(0.51));
    let rim = |id, what, theirs, body_mm| {
        row(id, what, RIM, (theirs, cutting::rpm_for(25.0 * 60.0, body_mm)), "rpm", Near::Within(0.5))
    };
    let scroll = chuck_defaults(ChuckKind::SelfCentring, 160.0).clamping_n / 1000.0;
    vec![
        planned("M-10", "force counted on, nobody gave it, independent chuck of 150 mm", 6.0, 150.0),
        planned("M-11", "the same, 200 mm", 8.0, 200.0),
        planned("M-12", "the same, 250 mm", 10.0, 250.0),
        planned("M-13", "the same, 300 mm (12.5, printed rounded down)", 12.0, 300.0),
        row("M-14", "each jaw of a three-jaw chuck of 160 mm", PLATE, (10.3, scroll), "kN", Near::Within(0.05)),
        rim("M-15", "speed at the rim's limit, body 150 mm", 3183.0, 150.0),
        rim("M-16", "the same, 315 mm", 1516.0, 315.0),
    ]
}

fn permitted_speed() -> Vec<Check> {
    const EXAMPLE: &str = "manual of power chucks (document 1216023, p. 25): the force printed beside 1495 rpm is left over from another model; with it the formula gives this (research case D1)";
    const P48: &str = "technical pages of a maker of power chucks (document 267260, p. 48): s t k_c, printed 6.25 kN";
    const DIN: &str =
        "DIN 6386 reference speed, at second hand (document 1643047, p. 41): a third of the grip is left there";
    const PROCEDURE: &str = "n = 30/π √((F_sp0 − S_z F_spz)/Σ m r) (manual of power chucks, p. 14, the formula), worked apart for four jaws of 0.9 kg at 70 mm, 16 kN × 0.65, a cut of 1300 N at radius 25 gripped at 18, μ 0.12, S_z 1.5";
    let moment = 4.0 * 0.9 * 0.07;
    let needed = gripping_force_n(1300.0, 1.5, 0.12, 25.0 / 18.0);
    let reference = reference_speed_rpm(64_000.0, 4.0 * 0.8 * 0.07);
    let left = 64_000.0 - 4.0 * centrifugal_force_n(0.8, 70.0, reference);
    vec![
        row(
            "M-17",
            "speed permitted by 17 723 N, 4500 N needed, Σ m r 2.668 kg·m",
            EXAMPLE,
            (672.27, permitted_speed_rpm(17_723.0, 4500.0, 2.668)),
            "rpm",
            Near::Within(0.005),
        ),
        row(
            "M-18",
            "force to drive at equal diameters, μ 1, factor 1: the cutting force, s 0.5, t 5, k_c 2500",
            P48,
            (6.25, gripping_force_n(0.5 * 5.0 * 2500.0, 1.0, 1.0, 1.0) / 1000.0),
            "kN",
            Near::Within(0.005),
        ),
        row(
            "M-19",
            "grip left at the reference speed, of 64 kN",
            DIN,
            (64_000.0 / 3.0, left),
            "N",
            Near::Relative(1e-9),
        ),
        row(
            "M-20",
            "speed permitted for a facing cut",
            PROCEDURE,
            (2624.199, permitted_speed_rpm(4.0 * 0.65 * 16_000.0, needed, moment)),
            "rpm",
            Near::Within(0.0005),
        ),
        row(
            "M-21",
            "no speed where the grip does not even drive the cut at a stand",
            "the same procedure: the root of nothing or less",
            (0.0, permitted_speed_rpm(4000.0, 4500.0, 2.668)),
            "rpm",
            Near::Within(0.0),
        ),
    ]
}

fn turning_jaws() -> Vec<Check> {
    const TABLE: &str = "research table 3.2, m r ω², worked apart";
    let loss = |id, what, theirs, (kg, mm, rpm)| {
        row(id, what, TABLE, (theirs, centrifugal_force_n(kg, mm, rpm)), "N", Near::Within(0.5))
    };
    vec![
        loss("M-22", "jaw of 0.4 kg at 50 mm, 1000 rpm", 219.0, (0.4, 50.0, 1000.0)),
        loss("M-23", "jaw of 0.8 kg at 70 mm, 400 rpm", 98.0, (0.8, 70.0, 400.0)),
        loss("M-24", "jaw of 0.8 kg at 70 mm, 1500 rpm", 1382.0, (0.8, 70.0, 1500.0)),
        loss("M-25", "jaw of 1.5 kg at 90 mm, 600 rpm", 533.0, (1.5, 90.0, 600.0)),
        loss("M-26", "jaw of 2.5 kg at 110 mm, 800 rpm", 1930.0, (2.5, 110.0, 800.0)),
    ]
}

fn unbalance() -> Vec<Check> {
    const PULL: &str = "U ω² (research section 4), worked apart";
    let pull = |id, what, theirs, (kg_mm, rpm), near| {
        row(id, what, PULL, (theirs, unbalance_force_n(kg_mm, rpm)), "N", Near::Within(near))
    };
    vec![
        pull("M-27", "pull of 3 kg·mm at 200 rpm", 1.3, (3.0, 200.0), 0.05),
        pull("M-28", "pull of 10 kg·mm at 400 rpm", 17.5, (10.0, 400.0), 0.05),
        pull("M-29", "pull of 100 kg·mm at 800 rpm", 702.0, (100.0, 800.0), 0.5),
    ]
}

/// Moduli and ratios are textbook values, from memory; strengths those of the research table.
fn lines() -> Vec<Check> {
    const TABLE: &str = "Hertz line contact, smooth jaw (210 GPa, 0.30) on a round of radius 25, 400 N/mm; Johnson ch. 4 and 6 (from memory), worked apart (research table of section 6)";
    let jaw = (210e3, 0.30);
    let steel = contact_modulus_mpa((205e3, 0.29), jaw);
    let aluminium = contact_modulus_mpa((69e3, 0.33), jaw);
    let brass = contact_modulus_mpa((97e3, 0.34), jaw);
    let iron = contact_modulus_mpa((110e3, 0.26), jaw);
    let modulus =
        |id, what, theirs, pair: f64| row(id, what, TABLE, (theirs, pair / 1000.0), "GPa", Near::Within(0.05));
    let peak = |id, what, theirs, pair| {
        row(id, what, TABLE, (theirs, line_pressure(400.0, 25.0, pair).peak_mpa), "MPa", Near::Within(0.5))
    };
    let over = |id, what, theirs, pair, strength: f64| {
        let ours = line_pressure(400.0, 25.0, pair).peak_mpa / strength;
        row(id, what, TABLE, (theirs, ours), "", Near::Within(0.005))
    };
    let onset = |id, what, theirs, pair, strength| {
        // The printed onset of a 20 mm bite comes from moduli with more digits than are printed.
        let ours = 20.0 * onset_load_n_mm(strength, 25.0, pair);
        row(id, what, TABLE, (theirs, ours), "N", Near::Within(0.5))
    };
    vec![
        modulus("M-30", "modulus of the pair, steel work", 113.6, steel),
        modulus("M-31", "the same, aluminium 69 GPa, 0.33", 58.0, aluminium),
        modulus("M-32", "the same, brass 97 GPa, 0.34", 74.3, brass),
        modulus("M-33", "the same, grey iron 110 GPa, 0.26", 78.1, iron),
        peak("M-34", "greatest pressure on aluminium", 543.0, aluminium),
        peak("M-35", "greatest pressure on brass", 615.0, brass),
        peak("M-36", "greatest pressure on grey iron", 631.0, iron),
        over("M-37", "pressure over strength, 1018 cold drawn, 370 MPa", 2.06, steel, 370.0),
        over("M-38", "the same, 1045 hot rolled, 310 MPa", 2.45, steel, 310.0),
        over("M-39", "the same, 4140 of 28 HRC, 655 MPa", 1.16, steel, 655.0),
        over("M-40", "the same, 6061-T6, 275 MPa", 1.98, aluminium, 275.0),
        over("M-41", "the same, half-hard brass, 310 MPa", 1.98, brass, 310.0),
        over("M-42", "the same, grey iron, 250 MPa", 2.52, iron, 250.0),
        onset("M-43", "force of a jaw at onset, bite 20: 1018", 5278.0, steel, 370.0),
        onset("M-44", "the same, 1045", 3705.0, steel, 310.0),
        onset("M-45", "the same, 4140", 16_541.0, steel, 655.0),
        onset("M-46", "the same, 6061-T6", 5714.0, aluminium, 275.0),
        onset("M-47", "the same, half-hard brass", 5663.0, brass, 310.0),
        onset("M-48", "the same, grey iron", 3507.0, iron, 250.0),
    ]
}

fn flats() -> Vec<Check> {
    const TEETH: &str = "all load on the flanks at the hardness, ridges 12 × 20 mm, 90°, 8 kN: N/(2 H L), worked apart (research section 6)";
    let deep = |id, what, theirs, hardness| {
        row(id, what, TEETH, (theirs, 1000.0 * tooth_depth_mm(8000.0, hardness, 240.0)), "µm", Near::Within(0.05))
    };
    vec![
        row(
            "M-49",
            "mean pressure at which a flat strip sinks in, over the strength",
            "Prandtl 1920, (2 + π) k, by Tresca 2.57 Y (from memory)",
            (2.57, strip_flow_mpa(1.0)),
            "",
            Near::Within(0.005),
        ),
        row(
            "M-50",
            "greatest pressure at the onset under a line, over the strength",
            "Johnson, Contact Mechanics (1985), ch. 6: 1.67 by Tresca (from memory); the sphere has 1.60",
            (1.67, line_limit_mpa(1.0)),
            "",
            Near::Within(0.005),
        ),
        row(
            "M-51",
            "mean pressure at the onset on a flat, over the strength",
            "note on contact pressure and yield (document 457042173): about 1.1",
            (1.1, flat_limit_mpa(1.0)),
            "",
            Near::Within(0.05),
        ),
        row(
            "M-52",
            "hardness over the strength",
            "Tabor: 2.7 to 3 times the flow stress; the middle, within half the band",
            (2.85, flow_mpa(1.0)),
            "",
            Near::Within(0.15 + 1e-12),
        ),
        deep("M-53", "depth of teeth in work of 1236 MPa (126 HB)", 13.5, 126.0 * 9.806_65),
        deep("M-54", "the same, 932 MPa (95 HB)", 17.9, 95.0 * 9.806_65),
        deep("M-55", "the same, 2717 MPa (277 HB)", 6.1, 277.0 * 9.806_65),
    ]
}

fn packing() -> Vec<Check> {
    const FLOW: &str = "3 Y of the packing, textbook strengths from memory (research section 6)";
    let flows = |id, what, theirs, name| {
        let ours = packing_metal(name).map_or(f64::NAN, |row| flow_mpa(row.yield_mpa));
        row(id, what, FLOW, (theirs, ours), "MPa", Near::Within(0.5))
    };
    let protects = |name: &str, thickness_mm, work_mpa| {
        let kept = packing_metal(name).map(|row| shield(row.yield_mpa, thickness_mm, work_mpa));
        f64::from(u8::from(kept == Some(Shield::Protects)))
    };
    let says = |id, what, source, theirs, ours| row(id, what, source, (theirs, ours), "", Near::Within(0.0));
    const FIRST: &str = "it must flow first, 3 Y of the packing under 1.67 Y of the work (research section 6)";
    vec![
        flows("M-56", "soft copper flows at", 210.0, "annealed copper"),
        flows("M-57", "soft aluminium flows at", 105.0, "soft aluminium"),
        flows("M-58", "half-hard brass flows at", 930.0, "half-hard brass"),
        row(
            "M-59",
            "steel of 370 MPa yields under a line at",
            "1.67 Y, Johnson ch. 6 (from memory); printed 618 (research section 6)",
            (618.0, line_limit_mpa(370.0)),
            "MPa",
            Near::Within(0.5),
        ),
        says(
            "M-60",
            "1 mm soft copper protects steel of 370 MPa (1: yes)",
            FIRST,
            1.0,
            protects("soft copper", 1.0, 370.0),
        ),
        says("M-61", "1 mm half-hard brass does (0: no)", FIRST, 0.0, protects("half-hard brass", 1.0, 370.0)),
        says(
            "M-62",
            "0.3 mm soft copper does (0: no)",
            "half a millimetre at least, common practice, no source (research section 6)",
            0.0,
            protects("soft copper", 0.3, 370.0),
        ),
        row(
            "M-63",
            "pressure passed on by 1 mm of 70 MPa squeezed 20 wide",
            "Prandtl's layer, 2 k (1 + w/(4 t)) (from memory): 70 × 6",
            (420.0, squeezed_mpa(70.0, 20.0, 1.0)),
            "MPa",
            Near::Within(1e-9),
        ),
    ]
}

fn rings() -> Vec<Check> {
    const SERIES: &str = "Fourier series of an inextensible ring, summed apart to 20 000 terms (research case D7); Roark table 9.2, case 7 (from memory)";
    const TUBE: &str = "tube 80/70 × 30 of steel, E 210 GPa; the series, worked apart (research case D8)";
    // W R³/(E I) is 1 for this one.
    let unit = Ring { radius_mm: 1.0, wall_mm: 1.0, length_mm: 12.0, modulus_mpa: 1.0 };
    let tube = Ring { radius_mm: 37.5, wall_mm: 5.0, length_mm: 30.0, modulus_mpa: 210e3 };
    let benchmark = Ring { radius_mm: 100.0, wall_mm: 5.0, length_mm: 10.0, modulus_mpa: 200e3 };
    let near = Near::Within(5.1e-8);
    let same_total = |jaws: u32| unit.out_of_round_mm(jaws, 12.0 / f64::from(jaws)) / unit.out_of_round_mm(3, 4.0);
    vec![
        row(
            "M-64",
            "ring, two jaws: in at the jaw",
            "π/8 − 1/π (Timoshenko)",
            (PI / 8.0 - 1.0 / PI, unit.in_at_jaw_mm(2, 1.0)),
            "",
            Near::Relative(1e-9),
        ),
        row(
            "M-65",
            "two jaws: out between",
            "1/π − 1/4 (Timoshenko)",
            (1.0 / PI - 0.25, unit.out_between_mm(2, 1.0)),
            "",
            Near::Relative(1e-9),
        ),
        row("M-66", "three jaws: in at the jaw", SERIES, (0.015_938_6, unit.in_at_jaw_mm(3, 1.0)), "", near),
        row("M-67", "three jaws: out between", SERIES, (0.014_256_8, unit.out_between_mm(3, 1.0)), "", near),
        row("M-68", "four jaws: in at the jaw", SERIES, (0.006_079_3, unit.in_at_jaw_mm(4, 1.0)), "", near),
        row("M-69", "four jaws: peak to valley", SERIES, (0.011_465_5, unit.out_of_round_mm(4, 1.0)), "", near),
        row("M-70", "six jaws: peak to valley", SERIES, (0.003_161_6, unit.out_of_round_mm(6, 1.0)), "", near),
        row(
            "M-71",
            "four jaws over three, equal total force",
            "the series, 0.285 (research section 7)",
            (0.285, same_total(4)),
            "",
            Near::Within(0.0005),
        ),
        row(
            "M-72",
            "six jaws over three, equal total force",
            "the series, 0.052 (research section 7)",
            (0.052, same_total(6)),
            "",
            Near::Within(0.0005),
        ),
        row(
            "M-73",
            "tube, three jaws of 4 kN: out of round",
            TUBE,
            (0.097_056_5, tube.out_of_round_mm(3, 4000.0)),
            "mm",
            near,
        ),
        row("M-74", "tube, three jaws: in at the jaw", TUBE, (0.051_231_2, tube.in_at_jaw_mm(3, 4000.0)), "mm", near),
        row(
            "M-75",
            "tube, four jaws of 4 kN: out of round",
            TUBE,
            (0.0369, tube.out_of_round_mm(4, 4000.0)),
            "mm",
            Near::Within(0.000_05),
        ),
        row(
            "M-76",
            "pinched ring R 100, section 10 × 5, E 200 GPa, 10 N: in at the load",
            "benchmark of an open finite-element program (pinched ring, page of its verification manual): 3.57e-5 m; its meshes 3.570 to 3.574e-5 (research case D9)",
            (0.0357, benchmark.in_at_jaw_mm(2, 10.0)),
            "mm",
            Near::Within(0.000_05),
        ),
    ]
}

fn dialling_in() -> Vec<Check> {
    const COSINE: &str =
        "cosine-error table of an instrument maker's guide (E11003, p. 34): 0.98, 0.94, 0.87 (research case D11)";
    let lever = |id, what, theirs, angle| {
        row(id, what, COSINE, (theirs, lever_moved_mm(0.200, angle)), "mm", Near::Within(0.0011))
    };
    let tilt = tilt_rad((0.03, 0.0), (0.07, 0.02), 40.0);
    const PLANES: &str = "plane geometry (research case D10): √(0.04² + 0.02²)/40";
    vec![
        lever("M-77", "lever indicator shows 0.200 at 10°: moved", 0.196, 10.0),
        lever("M-78", "the same at 20°", 0.188, 20.0),
        lever("M-79", "the same at 30° (printed 0.174 and, in another edition, 0.172)", 0.174, 30.0),
        row(
            "M-80",
            "tilt from offsets (0.03, 0) and (0.07, 0.02) 40 apart",
            PLANES,
            (1.118_034, 1000.0 * tilt),
            "mrad",
            Near::Within(5e-7),
        ),
        row(
            "M-81",
            "whole movement on its face at diameter 50",
            PLANES,
            (0.055_901_7, face_run_out_mm(50.0, tilt)),
            "mm",
            Near::Within(5e-8),
        ),
        row(
            "M-82",
            "offset of the axis, needle moves 0.06 from jaw 1 to jaw 3",
            "half the run-out: textbook page on independent chucks (cadcamengineering, facing)",
            (0.03, offset_mm(0.08, 0.02)),
            "mm",
            Near::Within(1e-12),
        ),
    ]
}

fn square_from_round() -> Vec<Check> {
    const FORUM: &str = "report of a square faced from a round bar of 0.984 in without an indicator (forum thread 351647): aimed 0.696, 0.144 off each side (research case D12)";
    let round = Bar::from(&BarForm::Round { diameter: inch(0.984) }).section;
    let half_mm = 0.696 * 25.4 / 2.0;
    let least = least_round_mm(&Section::rectangle(-half_mm, half_mm, -half_mm, half_mm), Surface::Drawn);
    let least_in = least.map_or(f64::NAN, |least| least.bare_mm / 25.4);
    let depth_in = (round.extent_mm(0.0) - half_mm) / 25.4;
    vec![
        row("M-83", "least round for a square of 0.696 in", FORUM, (0.984, least_in), "in", Near::Within(0.0005)),
        row("M-84", "depth of each side for 0.696", FORUM, (0.144, depth_in), "in", Near::Within(0.0005)),
    ]
}
