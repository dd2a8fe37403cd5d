//! A shop and jobs of our own, as plain values: what the properties and the benchmarks are tried on.

use engine::job::{BarForm, Job};
use engine::part::Form;
use engine::quantity::{Angle, Length, degrees, mm};
use engine::shop::{Minutes, Packing, Parallels, Shop, ToolMaterial};

use crate::plain::{chuck, gauge, lathe, tool};
pub use crate::plain::{job, sized};

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
            yield_strength: None,
        }],
        vees: Vec::new(),
        stops: Vec::new(),
        gauges: vec![gauge("micrometer", (0.0, 75.0), 3.0, false), gauge("depth gauge", (0.0, 75.0), 8.0, true)],
        minutes: Minutes {
            set_up: Some(6.0),
            turn_piece: Some(3.0),
            measure: Some(2.0),
            touch_off: Some(1.0),
            next_pass: Some(0.4),
            set_depth: Some(2.0),
            lay_vee: None,
            reverse_jaws: None,
        },
        scatter: engine::shop::Scatter::default(),
        stock: Vec::new(),
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
