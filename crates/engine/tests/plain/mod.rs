//! One thing of each kind with every field given, and a plain job: tests change what they are about.
#![allow(dead_code, reason = "each test takes what it needs")]

use engine::job::{BarForm, Job, JobMaterial, OrderWishes, Stock, Surface, Wishes};
use engine::part::{Form, Part, Sized};
use engine::quantity::{degrees, kilograms, mm, newton_metres, newtons, rpm, watts};
use engine::shop::{
    Chuck, ChuckKind, ClampingForce, CrossFeeds, DialUnit, Gauge, Jaw, JawSurface, Lathe, Reads, Slide, Tool,
    ToolMaterial,
};

/// A lathe with a metric screw, everything given.
pub fn lathe() -> Lathe {
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
        tailstock: None,
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

/// An independent chuck, everything given.
pub fn chuck() -> Chuck {
    Chuck {
        name: "four-jaw 200".to_string(),
        kind: ChuckKind::Independent,
        jaws: 4,
        body: mm(200.0),
        jaw: Jaw {
            width: mm(24.0),
            length: mm(50.0),
            depth: Some(mm(76.0)),
            surface: JawSurface::HardSmooth,
            bored: None,
            mass: Some(kilograms(0.9)),
        },
        bore: Some(mm(50.0)),
        opening: (mm(8.0), mm(200.0)),
        interrupted_speed: None,
        marked_speed: Some(rpm(1500.0)),
        clamping_force: Some(ClampingForce::Each(newtons(16_000.0))),
        low_share: Some(0.65),
        stiffness_n_per_um: Some(60.0),
        jaw_tilt: Vec::new(),
        regrip_tilt: None,
    }
}

/// A facing tool, everything given.
pub fn tool(name: &str, material: ToolMaterial) -> Tool {
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

/// A gauge, mm and µm.
pub fn gauge(name: &str, range: (f64, f64), uncertainty_um: f64, fits_in_chuck: bool) -> Gauge {
    Gauge {
        name: name.to_string(),
        graduation: mm(0.01),
        range: Some((mm(range.0), mm(range.1))),
        uncertainty: Some(mm(uncertainty_um * 1e-3)),
        fits_in_chuck,
    }
}

/// A size with a tenth of a millimetre either way.
pub fn sized(size: f64) -> Sized {
    Sized { size: mm(size), plus: Some(mm(0.1)), minus: Some(mm(0.1)), fit: None }
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
            angles: None,
            position: None,
            general: engine::part::General::default(),
            roughness: None,
            centre_holes: None,
            leave: Vec::new(),
        },
        lathe: None,
        chuck: None,
        tools: Vec::new(),
        cutting: Wishes::default(),
        order: OrderWishes::default(),
    }
}
