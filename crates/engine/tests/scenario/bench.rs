//! Random shops: one lathe, one chuck, a few tools, parallels, packing and gauges.

use super::dice::Dice;
use super::work::widest_mm;
use engine::job::Job;
use engine::part::Form;
use engine::quantity::{Length, Plain, degrees, inch, kilograms, mm, newton_metres, newtons, rpm, watts};
use engine::shop::{
    Chuck, ChuckKind, ClampingForce, CrossFeeds, DialUnit, Gauge, Jaw, JawSurface, Lathe, Minutes, Packing, Parallels,
    Reads, Shop, Slide, Tool, ToolMaterial, Vee,
};

/// A random shop in which this job is to be made.
pub fn shop(dice: &mut Dice, job: &Job) -> Shop {
    let widest = widest_mm(&job.stock.form).max(job.stock.length.plain());
    let body = body(dice, widest);
    Shop {
        name: "Shed by the weir".to_string(),
        lathes: vec![lathe(dice, body)],
        chucks: vec![chuck(dice, body)],
        tools: vec![tool(dice)],
        parallels: parallels(dice),
        packing: packing(dice),
        stops: Vec::new(),
        gauges: gauges(dice),
        minutes: minutes(dice),
        scatter: engine::shop::Scatter::default(),
        stock: Vec::new(),
        // Last, so that shops of a seed keep all else that they had before there were any.
        vees: vees(dice, job),
    }
}

/// A chuck that takes the piece, mostly.
fn body(dice: &mut Dice, widest: f64) -> f64 {
    let fits: Vec<f64> = [125.0, 160.0, 200.0, 250.0, 315.0].into_iter().filter(|body| body * 0.9 > widest).collect();
    if fits.is_empty() || dice.chance(0.04) { dice.of(&[125.0, 160.0, 200.0]) } else { dice.of(&fits) }
}

fn lathe(dice: &mut Dice, body: f64) -> Lathe {
    let speeds = speeds(dice);
    let bed = body + dice.stepped(80.0, 220.0, 10.0);
    Lathe {
        name: "weir lathe".to_string(),
        speeds,
        cross_feeds: cross_feeds(dice),
        long_feeds: [0.05, 0.08, 0.1, 0.15, 0.2, 0.3, 0.4].map(mm).to_vec(),
        motor: watts(dice.of(&[550.0, 750.0, 1100.0, 1500.0, 2200.0, 4000.0, 5500.0])),
        efficiency: dice.perhaps(0.5, 0.75),
        most_torque: dice.perhaps(0.3, ()).map(|()| newton_metres(dice.stepped(80.0, 600.0, 20.0))),
        swing_over_bed: dice.perhaps(0.7, mm(bed)),
        swing_over_slide: dice.perhaps(0.7, mm((bed * 0.6).round())),
        spindle_run_out: None,
        spindle_axial_slip: None,
        cross_slide_out_of_square: None,
        stiffness_n_per_um: dice.perhaps(0.5, ()).map(|()| dice.stepped(20.0, 60.0, 5.0)),
        mass: dice.perhaps(0.5, ()).map(|()| kilograms(dice.stepped(300.0, 2000.0, 100.0))),
        spindle_bore: None,
        rotor_mass: dice.perhaps(0.3, kilograms(45.0)),
        tailstock: None,
        depth_slide: depth_slide(dice),
        cross_slide: dice.perhaps(0.5, ()).map(|()| Slide { travel: Some(mm(bed * 0.45)), ..depth_slide(dice) }),
    }
}

fn speeds(dice: &mut Dice) -> Vec<engine::quantity::AngularVelocity> {
    let (lowest, ratio) = (dice.stepped(25.0, 60.0, 1.0), dice.of(&[1.25, 1.41, 1.58]));
    (0..dice.of(&[6, 8, 9, 12])).map(|step| rpm((lowest * f64::powi(ratio, step)).round())).collect()
}

fn cross_feeds(dice: &mut Dice) -> CrossFeeds {
    let listed = |feeds: &[f64]| CrossFeeds::Listed(feeds.iter().map(|&feed| mm(feed)).collect());
    match dice.of(&[0, 0, 1, 2, 3, 4]) {
        0 => listed(&[0.03, 0.05, 0.08, 0.1, 0.15, 0.2]),
        1 => listed(&[0.025, 0.04, 0.06, 0.09, 0.12, 0.18, 0.25]),
        2 => CrossFeeds::ShareOfLong(0.5),
        3 => listed(&[]),
        _ => CrossFeeds::Listed([0.002, 0.003, 0.004, 0.006, 0.008].map(inch).to_vec()),
    }
}

fn depth_slide(dice: &mut Dice) -> Slide {
    let (unit, graduation, per_turn) = if dice.chance(0.6) {
        let (graduation, per_turn) = dice.of(&[(0.02, 2.0), (0.05, 4.0), (0.01, 1.0), (0.02, 3.0), (0.05, 5.0)]);
        (DialUnit::Mm, mm(graduation), mm(per_turn))
    } else {
        let (graduation, per_turn) = dice.of(&[(0.001, 0.1), (0.001, 0.125), (0.001, 0.06), (0.001, 0.2)]);
        (DialUnit::Inch, inch(graduation), inch(per_turn))
    };
    // A screw that the paint does not tell of: forty marks of a thousandth on a 1 mm screw, and its like.
    let screw = dice.perhaps(0.08, (per_turn.plain() * 0.984 * 1000.0).round() / 1000.0);
    let reads = dice.of(&[Reads::Depth, Reads::Depth, Reads::Depth, Reads::Radius, Reads::Diameter]);
    // A ring that counts diameter counts twice what its screw moves.
    let screw = screw.map(|counted_mm| mm(if reads == Reads::Diameter { counted_mm / 2.0 } else { counted_mm }));
    Slide {
        graduation,
        per_turn,
        unit,
        reads,
        screw,
        travel: dice.perhaps(0.8, ()).map(|()| mm(dice.stepped(50.0, 130.0, 10.0))),
        backlash: dice.perhaps(0.5, mm(0.1)),
        set_over: degrees(if dice.chance(0.2) { dice.of(&[5.0, 29.5, 30.0, 45.0, 60.0, 84.26]) } else { 0.0 }),
    }
}

fn chuck(dice: &mut Dice, body: f64) -> Chuck {
    let self_centring = dice.chance(0.04);
    let (jaws, kind) = if self_centring { (3, ChuckKind::SelfCentring) } else { (4, ChuckKind::Independent) };
    Chuck {
        name: "weir chuck".to_string(),
        kind,
        jaws,
        body: mm(body),
        jaw: Jaw {
            width: mm(dice.stepped(body * 0.08, body * 0.13, 1.0)),
            length: mm(dice.stepped(32.0, 66.0, 1.0)),
            surface: dice.of(&[
                JawSurface::HardSmooth,
                JawSurface::HardSmooth,
                JawSurface::HardSerrated,
                JawSurface::Soft,
            ]),
            depth: None,
            bored: None,
            mass: dice.perhaps(0.4, kilograms(body / 200.0 * 0.9)),
            step: None,
            reversed: None,
        },
        bore: dice.perhaps(0.7, ()).map(|()| mm(dice.stepped(25.0, body * 0.32, 1.0))),
        opening: (mm(dice.stepped(6.0, 14.0, 1.0)), mm((body * 0.95).round())),
        interrupted_speed: None,
        marked_speed: dice.perhaps(0.6, ()).map(|()| rpm(dice.stepped(500.0, 2000.0, 50.0))),
        clamping_force: clamping(dice, body),
        low_share: dice.perhaps(0.4, ()).map(|()| dice.of(&[0.5, 0.65, 0.8])),
        stiffness_n_per_um: dice.perhaps(0.5, ()).map(|()| dice.stepped(30.0, 90.0, 10.0)),
        jaw_tilt: Vec::new(),
        regrip_tilt: None,
    }
}

fn clamping(dice: &mut Dice, body: f64) -> Option<ClampingForce> {
    match dice.of(&[0, 0, 1, 2]) {
        0 => None,
        1 => Some(ClampingForce::Each(newtons(body * dice.stepped(60.0, 110.0, 5.0)))),
        _ => Some(ClampingForce::Key {
            torque: newton_metres(body * 0.45),
            pitch: mm(4.0),
            pitch_diameter: mm(18.0),
            shoulder_diameter: mm(20.0),
            friction: 0.15,
        }),
    }
}

fn tool(dice: &mut Dice) -> Tool {
    Tool {
        name: "facing tool".to_string(),
        does: vec!["facing".to_string()],
        material: dice.of(&ToolMaterial::ALL),
        cutting_edge_angle: dice.perhaps(0.6, ()).map(|()| degrees(dice.of(&[45.0, 60.0, 75.0, 90.0, 95.0]))),
        nose_radius: dice.perhaps(0.6, ()).map(|()| mm(dice.of(&[0.4, 0.8, 1.2]))),
        rake: dice.perhaps(0.5, ()).map(|()| degrees(dice.of(&[-6.0, 0.0, 6.0, 12.0]))),
        deepest_cut: dice.perhaps(0.6, ()).map(|()| mm(dice.stepped(1.5, 4.0, 0.25))),
        feed: dice.perhaps(0.6, ()).map(|()| dice.of(&[(mm(0.05), mm(0.3)), (mm(0.03), mm(0.2)), (mm(0.08), mm(0.4))])),
    }
}

fn parallels(dice: &mut Dice) -> Vec<Parallels> {
    let rising =
        |least: u32, most: u32, step: usize| (least..=most).step_by(step).map(|at| mm(f64::from(at))).collect();
    let pairs: Vec<Length> = match dice.of(&[0, 0, 0, 1, 1, 2, 3]) {
        0 => rising(4, 45, 1),
        1 => rising(5, 45, 5),
        2 => (4..=14).map(|eighths| inch(f64::from(eighths) / 8.0)).collect(),
        _ => Vec::new(),
    };
    if pairs.is_empty() {
        Vec::new()
    } else {
        vec![Parallels { pairs, length: dice.perhaps(0.6, mm(150.0)), width: None }]
    }
}

fn packing(dice: &mut Dice) -> Vec<Packing> {
    let soft = |material: &str, thickness: &[f64], friction| Packing {
        material: material.to_string(),
        thickness: thickness.iter().map(|&at| mm(at)).collect(),
        friction,
        yield_strength: None,
    };
    match dice.of(&[0, 1, 2, 3]) {
        0 => Vec::new(),
        1 => vec![soft("soft copper", &[0.5, 1.0], Some(0.12))],
        2 => vec![soft("soft aluminium", &[1.5], None)],
        _ => vec![soft("brass shim", &[0.3, 0.8, 2.0], Some(0.13)), soft("card", &[0.4], None)],
    }
}

fn gauges(dice: &mut Dice) -> Vec<Gauge> {
    let gauge =
        |name: &str, graduation: f64, range: Option<(f64, f64)>, uncertainty: Option<f64>, fits_in_chuck| Gauge {
            name: name.to_string(),
            graduation: mm(graduation),
            range: range.map(|(least, most)| (mm(least), mm(most))),
            uncertainty: uncertainty.map(mm),
            fits_in_chuck,
        };
    let mut gauges = Vec::new();
    if dice.chance(0.8) {
        gauges.push(gauge("caliper", 0.02, Some((0.0, 150.0)), Some(0.015), false));
    }
    if dice.chance(0.6) {
        gauges.push(gauge("micrometer 0-25", 0.01, Some((0.0, 25.0)), Some(0.003), false));
        gauges.push(gauge("micrometer 25-50", 0.01, Some((25.0, 50.0)), Some(0.003), false));
    }
    if dice.chance(0.4) {
        gauges.push(gauge("depth micrometer", 0.01, Some((0.0, 25.0)), None, true));
    }
    if dice.chance(0.3) {
        gauges.push(gauge("depth gauge", 0.02, None, Some(0.02), true));
    }
    gauges
}

/// Now and then a box of vees, whatever the job's corners are.
fn vees(dice: &mut Dice, job: &Job) -> Vec<Vee> {
    // Made for the part where it is a regular one.
    let (angles, widths) = match &job.part.form {
        Form::Regular { sides, across_flats } => {
            let across = across_flats.size.plain();
            (vec![180.0 - 360.0 / f64::from(*sides)], (0.3 * across, 0.6 * across))
        }
        _ => (vec![120.0, 120.0, 120.0, 90.0, 135.0, 108.0], (10.0, 34.0)),
    };
    let one = |dice: &mut Dice| {
        let (angle, width) = (dice.of(&angles), dice.stepped(widths.0.ceil(), widths.1.ceil(), 1.0));
        let deep = width / 2.0 / f64::tan(f64::to_radians(angle / 2.0));
        let material = dice.of(&["soft aluminium", "soft aluminium", "soft copper", "hardened steel", "brass"]);
        Vee {
            material: material.to_string(),
            angle: degrees(angle),
            width: mm(width),
            height: mm((deep + dice.stepped(3.0, 9.0, 1.0)).ceil()),
            length: mm(dice.stepped(14.0, 40.0, 2.0)),
            count: dice.of(&[1, 2, 2, 4]),
            friction: dice.perhaps(0.3, 0.12),
            yield_strength: None,
        }
    };
    let least = usize::from(matches!(job.part.form, Form::Regular { sides: 5.., .. }));
    (0..dice.of(&[0, 0, 1, 1, 2, 3]).max(least)).map(|_| one(dice)).collect()
}

fn minutes(dice: &mut Dice) -> Minutes {
    Minutes {
        set_up: dice.perhaps(0.5, 6.0),
        turn_piece: dice.perhaps(0.5, 3.0),
        measure: dice.perhaps(0.5, 2.5),
        touch_off: dice.perhaps(0.5, 1.5),
        next_pass: dice.perhaps(0.5, 0.5),
        set_depth: dice.perhaps(0.5, 2.5),
        lay_vee: None,
        reverse_jaws: None,
    }
}
