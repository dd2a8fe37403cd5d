//! A shop and jobs of our own, as plain values: what the properties and the benchmarks are tried on.

use engine::job::{BarForm, Job, JobMaterial, Stock, Surface, Wishes};
use engine::part::{Form, Part, Sized};
use engine::quantity::{Angle, Length, degrees, kilograms, mm, newton_metres, newtons, rpm, watts};
use engine::shop::{
    Chuck, ChuckKind, ClampingForce, CrossFeeds, DialUnit, Gauge, Jaw, JawSurface, Lathe, Minutes, Packing, Parallels,
    Reads, Shop, Slide, Tool, ToolMaterial,
};

/// A bench in a boatyard: one lathe with a metric screw, one independent chuck, a carbide and a HSS tool.
pub fn shop() -> Shop {
    Shop {
        name: "Boatyard".to_string(),
        lathes: vec![lathe()],
        chucks: vec![chuck()],
        tools: vec![tool("carbide facer", ToolMaterial::CarbideUncoated), tool("HSS facer", ToolMaterial::Hss)],
        parallels: vec![Parallels {
            pairs: [4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0, 22.0, 25.0, 28.0, 30.0, 32.0]
                .map(mm)
                .to_vec(),
            length: Some(mm(120.0)),
            width: Some(mm(6.0)),
        }],
        packing: vec![Packing {
            material: "soft copper".to_string(),
            thickness: vec![mm(0.5), mm(1.0)],
            friction: Some(0.12),
        }],
        gauges: vec![gauge("micrometer", (0.0, 75.0), 3.0, false), gauge("depth gauge", (0.0, 75.0), 8.0, true)],
        minutes: Minutes {
            set_up: Some(6.0),
            turn_piece: Some(3.0),
            measure: Some(2.0),
            touch_off: Some(1.0),
            next_pass: Some(0.4),
            set_depth: Some(2.0),
        },
    }
}

fn lathe() -> Lathe {
    Lathe {
        name: "boatyard lathe".to_string(),
        speeds: [40.0, 63.0, 100.0, 160.0, 250.0, 400.0, 630.0, 1000.0].map(rpm).to_vec(),
        cross_feeds: CrossFeeds::Listed([0.03, 0.05, 0.08, 0.12, 0.2].map(mm).to_vec()),
        long_feeds: Vec::new(),
        motor: watts(2200.0),
        efficiency: Some(0.75),
        most_torque: Some(newton_metres(320.0)),
        swing_over_bed: Some(mm(360.0)),
        swing_over_slide: Some(mm(210.0)),
        spindle_bore: Some(mm(40.0)),
        spindle_run_out: None,
        spindle_axial_slip: None,
        cross_slide_out_of_square: None,
        stiffness_n_per_um: Some(30.0),
        mass: Some(kilograms(600.0)),
        rotor_mass: Some(kilograms(40.0)),
        depth_slide: Slide {
            graduation: mm(0.05),
            per_turn: mm(4.0),
            unit: DialUnit::Mm,
            reads: Reads::Depth,
            screw: None,
            travel: Some(mm(100.0)),
            backlash: Some(mm(0.1)),
            set_over: degrees(0.0),
        },
        cross_slide: None,
    }
}

fn chuck() -> Chuck {
    Chuck {
        name: "four-jaw 200".to_string(),
        kind: ChuckKind::Independent,
        jaws: 4,
        body: mm(200.0),
        jaw: Jaw { width: mm(24.0), length: mm(50.0), surface: JawSurface::HardSmooth, mass: Some(kilograms(0.9)) },
        bore: Some(mm(50.0)),
        opening: (mm(8.0), mm(200.0)),
        marked_speed: Some(rpm(1500.0)),
        clamping_force: Some(ClampingForce::Each(newtons(16_000.0))),
        low_share: Some(0.65),
        stiffness_n_per_um: Some(60.0),
        jaw_tilt: Vec::new(),
        regrip_tilt: None,
    }
}

fn tool(name: &str, material: ToolMaterial) -> Tool {
    Tool {
        name: name.to_string(),
        does: vec!["facing".to_string()],
        material,
        cutting_edge_angle: Some(degrees(75.0)),
        nose_radius: Some(mm(0.8)),
        rake: Some(degrees(0.0)),
        deepest_cut: Some(mm(3.0)),
        feed: Some((mm(0.05), mm(0.3))),
    }
}

fn gauge(name: &str, range: (f64, f64), uncertainty_um: f64, fits_in_chuck: bool) -> Gauge {
    Gauge {
        name: name.to_string(),
        graduation: mm(0.01),
        range: Some((mm(range.0), mm(range.1))),
        uncertainty: Some(mm(uncertainty_um * 1e-3)),
        fits_in_chuck,
    }
}

/// A round bar, mm.
pub fn round(diameter: f64) -> BarForm {
    BarForm::Round { diameter: mm(diameter) }
}

/// A block centred on its bar, mm.
pub fn block(width: f64, height: f64) -> Form {
    Form::Block { width: sized(width), height: sized(height) }
}

/// A regular prism, mm across flats.
pub fn regular(sides: u32, across_flats: f64) -> Form {
    Form::Regular { sides, across_flats: sized(across_flats) }
}

/// A size with a tenth of a millimetre either way.
pub fn sized(size: f64) -> Sized {
    Sized { size: mm(size), plus: Some(mm(0.1)), minus: Some(mm(0.1)) }
}

/// A job in drawn free-cutting steel: bar and its length, section and its length, mm.
pub fn job(bar: BarForm, bar_length: f64, form: Form, length: f64) -> Job {
    Job {
        title: "Keel bolt plate".to_string(),
        units: engine::quantity::Units::Mm,
        stock: Stock {
            form: bar,
            length: mm(bar_length),
            material: JobMaterial::Named("free-cutting-steel".to_string()),
            surface: Some(Surface::Drawn),
        },
        part: Part {
            form,
            length: sized(length),
            offset: (mm(0.0), mm(0.0)),
            turn: degrees(0.0),
            names: Vec::new(),
            square: None,
            parallel: None,
            flat: None,
            roughness: None,
            leave: Vec::new(),
        },
        lathe: None,
        chuck: None,
        tools: Vec::new(),
        cutting: Wishes::default(),
    }
}

/// Six faces out of a round bar.
pub fn six_faces() -> Job {
    job(round(58.0), 50.0, block(36.0, 34.0), 44.0)
}

/// Five sides, one of them a bevel, listed from this one on.
pub fn five_sides(first: usize) -> Form {
    let mut sides = [(0.0, 17.0), (90.0, 15.0), (135.0, 22.0), (180.0, 17.0), (270.0, 16.0)]
        .map(|(angle, distance)| (degrees(angle), sized(distance)));
    sides.rotate_left(first);
    Form::Sides(sides.to_vec())
}

/// Seven faces out of a round bar.
pub fn seven_faces() -> Job {
    job(round(60.0), 48.0, five_sides(0), 42.0)
}

/// The job with the part turned about the bar's axis.
pub fn turned(mut job: Job, turn: Angle) -> Job {
    job.part.turn = turn;
    job
}

/// The job with the part off the bar's axis.
pub fn shifted(mut job: Job, x: Length, y: Length) -> Job {
    job.part.offset = (x, y);
    job
}

/// The job with some faces left as the bar has them.
pub fn leaving(mut job: Job, faces: &[&str]) -> Job {
    job.part.leave = faces.iter().map(ToString::to_string).collect();
    job
}
