//! Random jobs: parts that people ask for, and bars that mostly suit them.

use std::f64::consts::{FRAC_PI_2, TAU};

use super::dice::Dice;
use engine::cutting::materials;
use engine::job::{BarForm, Job, JobMaterial, OwnMaterial, Stock, Surface, Wishes};
use engine::part::{Form, Part, Sized};
use engine::quantity::{Length, Plain, Units, degrees, inch, kg_per_m3, m_per_min, mm, mpa};
use engine::shop::ToolMaterial;

/// A part before it has a bar: its form, how it lies, what stays.
struct Shape {
    form: Form,
    offset_mm: (f64, f64),
    turn_deg: f64,
    leave: Vec<String>,
    bar: BarForm,
}

/// A random job.
pub fn job(dice: &mut Dice) -> Job {
    let units = if dice.chance(0.7) { Units::Mm } else { Units::Inch };
    let mut shape = shape(dice, units);
    let length_mm = size(dice, units, 16.0, 80.0);
    let sawn_mm = if dice.chance(0.03) { 0.0 } else { dice.stepped(2.0, 8.0, 0.5) };
    if dice.chance(0.05) {
        shape.leave.push(dice.of(&["A".to_string(), "B".to_string()]));
    }
    let part = Part {
        form: shape.form,
        length: sized(dice, length_mm),
        offset: (mm(shape.offset_mm.0), mm(shape.offset_mm.1)),
        turn: degrees(shape.turn_deg),
        names: Vec::new(),
        square: dice.perhaps(0.5, mm(0.05)),
        parallel: dice.perhaps(0.5, mm(0.04)),
        flat: dice.perhaps(0.3, mm(0.03)),
        angles: None,
        position: None,
        general: engine::part::General::default(),
        roughness: dice.perhaps(0.5, ()).map(|()| mm(dice.of(&[0.0016, 0.0032, 0.0063]))),
        centre_holes: None,
        leave: shape.leave,
    };
    Job {
        title: dice.of(&["Keep for a lych gate", "Foot for a flagstaff", "Wedge for a cider press"]).to_string(),
        units,
        stock: Stock {
            form: shape.bar,
            length: mm(length_mm + sawn_mm),
            material: material(dice),
            surface: dice.perhaps(0.6, ()).map(|()| surface(dice)),
        },
        part,
        lathe: None,
        chuck: None,
        tools: Vec::new(),
        order: engine::job::OrderWishes::default(),
        cutting: wishes(dice),
    }
}

fn size(dice: &mut Dice, units: Units, least: f64, most: f64) -> f64 {
    match units {
        Units::Mm => dice.stepped(least, most, 0.5),
        Units::Inch => dice.stepped(least / 25.4, most / 25.4, 0.0625) * 25.4,
    }
}

fn sized(dice: &mut Dice, size_mm: f64) -> Sized {
    let limits =
        |plus: f64, minus: f64| Sized { size: mm(size_mm), plus: Some(mm(plus)), minus: Some(mm(minus)), fit: None };
    let band = dice.of(&[0.03, 0.05, 0.1, 0.2]);
    match dice.of(&[0, 0, 1, 2]) {
        0 => limits(band, band),
        1 => limits(0.0, 2.0 * band),
        _ => Sized::bare(mm(size_mm)),
    }
}

fn shape(dice: &mut Dice, units: Units) -> Shape {
    let kind = dice.share();
    if kind < 0.80 {
        block(dice, units)
    } else if kind < 0.86 {
        chamfered(dice, units)
    } else if kind < 0.94 {
        regular(dice, units)
    } else if kind < 0.965 {
        askew(dice, units)
    } else {
        ends_only(dice, units)
    }
}

fn block(dice: &mut Dice, units: Units) -> Shape {
    let width = size(dice, units, 14.0, 75.0);
    let height = if dice.chance(0.3) { width } else { size(dice, units, 14.0_f64.max(width / 3.0), 75.0) };
    let sides = four(width, height);
    let form = Form::Block { width: sized(dice, width), height: sized(dice, height) };
    match dice.of(&[0, 0, 0, 0, 1, 2, 3]) {
        0 => on_round(dice, form, sides),
        1 => on_square(dice, form, (width, height)),
        2 => on_flat(dice, form, (width, height)),
        _ => on_hexagon(dice, form, sides),
    }
}

fn four(width: f64, height: f64) -> Vec<(f64, f64)> {
    (0..4).map(|at| (f64::from(at) * FRAC_PI_2, if at % 2 == 0 { width } else { height } / 2.0)).collect()
}

/// A block with some of its long edges taken off at 45 degrees.
fn chamfered(dice: &mut Dice, units: Units) -> Shape {
    let (width, height) = (size(dice, units, 24.0, 60.0), size(dice, units, 24.0, 60.0));
    let corner = (width + height) / 2.0 / 2f64.sqrt();
    let mut sides = Vec::new();
    for side in four(width, height) {
        sides.push(side);
        if dice.chance(0.4) {
            sides.push((side.0 + FRAC_PI_2 / 2.0, corner - dice.stepped(2.0, 6.0, 0.25)));
        }
    }
    let form = given(dice, &sides);
    on_round(dice, form, sides)
}

fn regular(dice: &mut Dice, units: Units) -> Shape {
    let count = dice.of(&[4, 4, 4, 4, 4, 6, 8, 5]);
    let across = size(dice, units, 18.0, 60.0);
    let sides = (0..count).map(|at| (TAU * f64::from(at) / f64::from(count), across / 2.0)).collect();
    let form = Form::Regular { sides: count, across_flats: sized(dice, across) };
    on_round(dice, form, sides)
}

/// Sides that do not stand square to each other.
fn askew(dice: &mut Dice, units: Units) -> Shape {
    let mean = size(dice, units, 24.0, 60.0) / 2.0;
    let count = dice.of(&[4, 5, 6]);
    let sides: Vec<(f64, f64)> = (0..count)
        .map(|at| {
            let angle = (360.0 * f64::from(at) / f64::from(count) + dice.stepped(-8.0, 8.0, 1.0)).to_radians();
            (angle.rem_euclid(TAU), mean * dice.stepped(0.9, 1.1, 0.01))
        })
        .collect();
    let form = given(dice, &sides);
    on_round(dice, form, sides)
}

/// A hexagonal bar of which only the ends are faced.
fn ends_only(dice: &mut Dice, units: Units) -> Shape {
    let across = size(dice, units, 18.0, 60.0);
    Shape {
        form: Form::Regular { sides: 6, across_flats: Sized::bare(mm(across)) },
        offset_mm: (0.0, 0.0),
        turn_deg: 0.0,
        leave: ["C", "D", "E", "F", "G", "H"].map(String::from).to_vec(),
        bar: BarForm::Hexagon { across: mm(across) },
    }
}

fn given(dice: &mut Dice, sides: &[(f64, f64)]) -> Form {
    Form::Sides(sides.iter().map(|&(angle, distance)| (degrees(angle.to_degrees()), sized(dice, distance))).collect())
}

/// Twice the farthest corner from the bar's axis.
fn round_for(sides: &[(f64, f64)], offset: (f64, f64), turn: f64) -> f64 {
    let at = |side: (f64, f64)| {
        let angle = side.0 + turn;
        (angle, side.1 + offset.0 * angle.cos() + offset.1 * angle.sin())
    };
    (0..sides.len())
        .map(|here| (at(sides[here]), at(sides[(here + 1) % sides.len()])))
        .map(|((a, p), (b, q))| {
            let cross = (b - a).sin();
            let (x, y) = ((p * b.sin() - q * a.sin()) / cross, (q * a.cos() - p * b.cos()) / cross);
            2.0 * x.hypot(y)
        })
        .fold(0.0, f64::max)
}

/// Metal over the corners: mostly enough, now and then too little.
fn over(dice: &mut Dice) -> f64 {
    if dice.chance(0.04) { -dice.between(0.5, 4.0) } else { dice.between(1.0, 10.0) }
}

fn on_round(dice: &mut Dice, form: Form, sides: Vec<(f64, f64)>) -> Shape {
    let offset_mm =
        if dice.chance(0.15) { (dice.stepped(-3.0, 3.0, 0.5), dice.stepped(-3.0, 3.0, 0.5)) } else { (0.0, 0.0) };
    let turn_deg = if dice.chance(0.1) { dice.stepped(0.0, 45.0, 5.0) } else { 0.0 };
    let diameter = round_for(&sides, offset_mm, f64::to_radians(turn_deg)) + over(dice);
    let bar = BarForm::Round { diameter: mm(diameter.ceil()) };
    Shape { form, offset_mm, turn_deg, leave: Vec::new(), bar }
}

fn on_hexagon(dice: &mut Dice, form: Form, sides: Vec<(f64, f64)>) -> Shape {
    let across = (round_for(&sides, (0.0, 0.0), 0.0) + over(dice)).ceil();
    Shape {
        form,
        offset_mm: (0.0, 0.0),
        turn_deg: 0.0,
        leave: Vec::new(),
        bar: BarForm::Hexagon { across: mm(across) },
    }
}

fn on_square(dice: &mut Dice, form: Form, (width, height): (f64, f64)) -> Shape {
    let across = (width.max(height) + over(dice)).ceil();
    beside(dice, form, (width, height), (across, across), BarForm::Square { across: mm(across) })
}

fn on_flat(dice: &mut Dice, form: Form, (width, height): (f64, f64)) -> Shape {
    let (wide, thick) = ((width + over(dice)).ceil(), (height + over(dice)).ceil());
    beside(dice, form, (width, height), (wide, thick), BarForm::Flat { width: mm(wide), thickness: mm(thick) })
}

/// In a bar with flats of its own: in the middle, or against one of them, which then stays.
fn beside(dice: &mut Dice, form: Form, (width, height): (f64, f64), bar_mm: (f64, f64), bar: BarForm) -> Shape {
    let room = (bar_mm.0 - width, bar_mm.1 - height);
    let stays = dice.chance(0.3) && room.0 > 0.0 && room.1 > 0.0;
    let (offset_mm, leave) = match (stays, dice.chance(0.5)) {
        (false, _) => ((0.0, 0.0), Vec::new()),
        (true, true) => ((room.0 / 2.0, 0.0), vec!["C".to_string()]),
        (true, false) => ((0.0, -room.1 / 2.0), vec!["F".to_string()]),
    };
    Shape { form, offset_mm, turn_deg: 0.0, leave, bar }
}

fn surface(dice: &mut Dice) -> Surface {
    dice.of(&[Surface::HotRolled, Surface::HotRolled, Surface::Drawn, Surface::Turned, Surface::Ground, Surface::Cast])
}

fn material(dice: &mut Dice) -> JobMaterial {
    if dice.chance(0.05) {
        return JobMaterial::Own(OwnMaterial {
            name: "bell metal of our own".to_string(),
            kc11: mpa(dice.stepped(700.0, 1900.0, 50.0)),
            mc: dice.stepped(0.18, 0.28, 0.01),
            density: kg_per_m3(8600.0),
            yield_strength: dice.perhaps(0.5, mpa(180.0)),
            speeds: ToolMaterial::ALL.iter().map(|&tool| (tool, m_per_min(40.0))).collect(),
        });
    }
    let names: Vec<&str> = materials().iter().map(|row| row.name.as_str()).collect();
    JobMaterial::Named(dice.of(&names).to_string())
}

fn wishes(dice: &mut Dice) -> Wishes {
    Wishes {
        speed_share_interrupted: dice.perhaps(0.15, ()).map(|()| dice.stepped(0.5, 0.9, 0.05)),
        finishing_cut: dice.perhaps(0.2, ()).map(|()| length(dice, 0.2, 0.5)),
        clean_up: dice.perhaps(0.15, ()).map(|()| length(dice, 0.3, 1.0)),
        deepest_cut: dice.perhaps(0.15, ()).map(|()| length(dice, 0.8, 2.5)),
    }
}

fn length(dice: &mut Dice, least: f64, most: f64) -> Length {
    let at = dice.stepped(least, most, 0.05);
    if dice.chance(0.5) { mm(at) } else { inch((at / 25.4 * 1000.0).round() / 1000.0) }
}

/// Widest size of a bar's section, mm: what a chuck must take.
pub fn widest_mm(bar: &BarForm) -> f64 {
    match bar {
        BarForm::Round { diameter } => diameter.plain(),
        BarForm::Square { across } => across.plain() * 2f64.sqrt(),
        BarForm::Hexagon { across } => across.plain() * 2.0 / 3f64.sqrt(),
        BarForm::Flat { width, thickness } => width.plain().hypot(thickness.plain()),
    }
}
