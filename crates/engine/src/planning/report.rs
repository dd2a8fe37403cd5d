//! From what the search chose to the plan's set-ups: names, numbers, audit.

use nalgebra::{Rotation3, Vector3};

use super::bored;
use super::cuts::DepthBinding;
use super::facing::{Facing, holds_at};
use super::feeds::feed_of;
use super::firmer::firmer;
use super::floor::{floor_at, mean_radius};
use super::hold::{ANGLES, HandCheck, mass, packing_mm, reach_mm, unbalance_most_n};
use super::last_hold::goes_by;
use super::lie::Surface as Found;
use super::marks;
use super::scene::held;
use super::search::Chosen;
use super::surface::surface;
use super::swing::swung_radius_mm;
use super::vee::{self, Groove, VeeOn};
use super::way::Way;
use super::window::{SeatOn, contact_bite, least_stick_out, most_overhang, parallels_run, trade_bite};
use super::workings::{self, Spring, Taken, Told};
use crate::cutting::{self, Level};
use crate::dial::{self, Cut, CutKind, Reading};
use crate::holding::{self, TurnCut, machine_spring_um, numbers};
use crate::part::Place;
use crate::plan::{
    Audit, AuditContact, AuditLoad, FlatAngle, HoldReport, JawLoad, JawPlan, LastHoldReport, Minutes, Pass, PassKind,
    RoundReport, Seat, SetUp, SpeedReport, StickOut, Surface, VeePlan, WeakestRound,
};
use crate::quantity::show;
use crate::task::Task;

/// How closely the least bite is sought, mm: a rule reads no finer.
const BITE_STEP_MM: f64 = 0.1;

/// The set-up as the plan tells it.
pub fn set_up(task: &Task, number: u32, chosen: &Chosen) -> SetUp {
    let way = &chosen.way;
    let facing = &way.facing;
    let taken: Vec<Taken> =
        facing.cuts.iter().enumerate().map(|(at, cut)| pass(task, facing, way.tool, at, cut)).collect();
    let passes: Vec<Pass> = taken.iter().map(|taken| taken.pass.clone()).collect();
    let own = way.own_minutes;
    let minutes =
        Minutes { handling: chosen.set_up_minutes + own.handling, cutting: own.cutting, measuring: own.measuring };
    let removed_mm3 = passes.iter().map(|pass| pass.removed_mm3).sum();
    let least_bite_mm = least_bite(task, facing, way.tool);
    let stick_out = stick_out(task, facing, least_bite_mm);
    let spring = most_spring(task, facing, &passes);
    let most_stick_out_mm = stick_out.most_mm;
    let told = Told { task, chosen, taken: &taken, spring, least_bite_mm, most_stick_out_mm, minutes, removed_mm3 };
    let workings = workings::set_up(&told);
    let cautions = cautions(task, way, &passes);
    SetUp {
        number,
        cuts_faces: vec![task.faces[facing.lie.face].name.clone()],
        removed_mm3,
        jaws: jaws(task, chosen),
        seat: seat(task, chosen),
        angle: angle(task, chosen),
        bite_mm: facing.depth.bite_mm,
        stick_out,
        hold: hold_report(task, chosen, &passes, spring, surface(task, chosen, &taken)),
        speed: SpeedReport {
            set_rpm: facing.speed.set_rpm,
            most_rpm: facing.speed.most_rpm,
            binding: facing.speed.binding.clone(),
            edge_power_w: task.lathe.edge_power_w,
        },
        passes,
        notes: notes(task, way, number),
        measure: way.measure.clone(),
        hands: Vec::new(),
        cautions,
        minutes,
        audit: audit(chosen, &taken),
        held: held(task, chosen),
        workings,
    }
}

/// What must be known of dial and surface: once what is true of the screw, here what is true of this depth, its
/// band and the finishing feed.
fn notes(task: &Task, way: &Way, number: u32) -> Vec<String> {
    let (facing, dial) = (&way.facing, &task.lathe.dial);
    let asked_mm = facing.lie.top_mm - facing.lie.floor_mm;
    // The first face of a pair bounds no size yet.
    let sizes = way.measure.iter().any(|measure| measure.when.starts_with("before"));
    let across = task.faces[facing.lie.face].across.filter(|_| sizes);
    let band_mm = across.map(|across| across.plus_mm + across.minus_mm);
    // A ring that is far off is told wherever it is read.
    let once = dial::paint_and_screw_note(dial).filter(|said| number == 1 || said.starts_with(dial::NOTICE));
    let here = [
        dial::unit_note(dial, asked_mm, task.units),
        dial::whole_turns_note(&dial.reading(asked_mm)),
        band_mm.and_then(|band_mm| dial::band_note(dial, asked_mm, band_mm)),
    ];
    once.into_iter()
        .chain(here.into_iter().flatten())
        .chain(roughness_note(task, facing, way.tool))
        .chain(hole_note(task, facing))
        .chain(skin_note(facing))
        .collect()
}

/// A first cut that runs in scale or cast skin dulls the edge.
fn skin_note(facing: &Facing) -> Option<String> {
    (facing.on_skin && !facing.under_skin)
        .then(|| "the first cut does not get under the skin of the bar: expect a dull edge".to_string())
}

/// A bar that goes into the hole of the chuck goes into the spindle too, and the shop may not have said how wide that is.
fn hole_note(task: &Task, facing: &Facing) -> Option<String> {
    let behind_mm = facing.lie.top_mm - facing.lie.back_mm - facing.depth.stick_out_mm - facing.depth.bite_mm;
    (behind_mm > 0.5).then(|| {
        format!(
            "{} of the bar goes behind the jaws: the hole of the spindle must take {}",
            show::length(behind_mm, task.units),
            show::length(facing.lie.swung_mm, task.units)
        )
    })
}

/// What the finishing feed leaves by the nose of the tool, where the drawing asks for a roughness.
fn roughness_note(task: &Task, facing: &Facing, tool: usize) -> Option<String> {
    let asked_um = task.roughness_um?;
    let edge = &task.tools[tool].edge;
    let real = cutting::real_over_ideal(task.material.family, facing.corner_m_min);
    let left_um = real * cutting::ra_um(facing.feeds.finish_mm, edge.nose_mm);
    let feed = show::feed(facing.feeds.finish_mm, task.units);
    let [left, asked] = [left_um, asked_um].map(|um| show::roughness(um, task.units));
    Some(if left_um <= asked_um {
        format!("a finishing feed of {feed} leaves about Ra {left}; {asked} is asked")
    } else {
        format!("no feed on the list is fine enough: {feed} leaves about Ra {left}, {asked} is asked")
    })
}

/// The name of a surface: "bar", "sawn end" or a face's letter.
fn surface_name(task: &Task, surface: Found) -> String {
    match surface {
        Found::Bar => "bar".to_string(),
        Found::Sawn => "sawn end".to_string(),
        Found::Face(face) => task.faces[face].name.clone(),
    }
}

fn jaws(task: &Task, chosen: &Chosen) -> Vec<JawPlan> {
    let sides = &chosen.way.facing.lie.sides;
    (0..sides.len())
        .map(|jaw| {
            let side = &sides[(jaw + chosen.turn) % sides.len()];
            JawPlan {
                jaw: jaw as u8 + 1,
                bears_on: surface_name(task, side.surface),
                contact: bored::contact(task, &chosen.way.facing, (jaw + chosen.turn) % sides.len()),
                packing_mm: packing_mm(task, side),
                kept: chosen.kept.contains(&jaw),
                reach_mm: reach_mm(task, side),
                mark: marks::mark(task, &chosen.way.facing, (jaw + chosen.turn) % sides.len()),
                vee: vee::on(side).map(|on| vee_plan(task, &chosen.way.facing, on)),
            }
        })
        .collect()
}

fn vee_plan(task: &Task, facing: &Facing, on: &VeeOn) -> VeePlan {
    let kind = vee::kind(task, on);
    let along_spindle = on.groove == Groove::Along;
    // Along the spindle v runs with the section, which is seen from behind where the back is cut.
    let turns = |flanks: [String; 2]| {
        let [one, other] = flanks;
        if along_spindle && facing.lie.sides[0].sign < 0.0 { [other, one] } else { [one, other] }
    };
    let flanks = turns(on.flanks.map(|flank| surface_name(task, flank.surface)));
    VeePlan {
        material: kind.material.clone(),
        angle_deg: (2.0 * kind.half_rad).to_degrees(),
        width_mm: kind.width_mm,
        height_mm: kind.height_mm,
        length_mm: kind.length_mm,
        along_spindle,
        groove_mm: on.out_mm,
        at_mm: if along_spindle {
            on.at_mm * facing.lie.sides[0].sign
        } else {
            on.at_mm - (facing.lie.top_mm - facing.depth.stick_out_mm)
        },
        bears: VeePlan::bears_words(&flanks),
        flanks,
    }
}

fn seat(task: &Task, chosen: &Chosen) -> Option<Seat> {
    let facing = &chosen.way.facing;
    let face = surface_name(task, facing.lie.behind);
    match facing.depth.seat {
        SeatOn::ChuckFace => Some(Seat { on: "chuck face", face, packing_mm: 0.0, along: None, stop_mm: None }),
        SeatOn::Parallels(height) => {
            Some(Seat { on: "parallels", face, packing_mm: height, along: along(task, chosen), stop_mm: None })
        }
        SeatOn::JawStep => Some(Seat { on: "jaw step", face, packing_mm: 0.0, along: None, stop_mm: None }),
        SeatOn::Stop(out_mm) => Some(Seat { on: "stop", face, packing_mm: 0.0, along: None, stop_mm: Some(out_mm) }),
        SeatOn::Nothing => None,
    }
}

/// The finished side by which a piece lying across is turned to its angle, where no finished side bears: one that
/// looks towards the hands if there is one.
fn angle(task: &Task, chosen: &Chosen) -> Option<FlatAngle> {
    let facing = &chosen.way.facing;
    let (at, from_new_rad) = angled_from(task, facing)?;
    let face = &task.faces[at];
    // X, where the first side is, lies a quarter turn on from the new face.
    let beside = if from_new_rad.sin() > 0.0 { 1 } else { 3 };
    Some(FlatAngle {
        flat: face.name.clone(),
        to_chuck_face_deg: from_new_rad.cos().abs().min(1.0).acos().to_degrees(),
        looks_to_chuck: from_new_rad.cos() < 0.0,
        beside_jaw: jaw_number(chosen, beside),
    })
}

/// The finished side from which the eye sets the angle of a new one, and by how much it lies on from it, rad: where no
/// side bears on a jaw or the seat, the one nearest to looking the same way.
pub(super) fn angled_from(task: &Task, facing: &Facing) -> Option<(usize, f64)> {
    let Place::Side(new_rad) = task.faces[facing.lie.face].place else { return None };
    let side = |surface: Found| matches!(surface, Found::Face(at) if matches!(task.faces[at].place, Place::Side(_)));
    if side(facing.lie.behind) || facing.lie.sides.iter().any(|found| side(found.surface)) {
        return None;
    }
    let finished = task.faces.iter().enumerate().filter_map(|(at, face)| match face.place {
        Place::Side(angle_rad) if face.cut && facing.piece.section.has_flat(angle_rad, face.distance_mm) => {
            Some((at, angle_rad - new_rad))
        }
        _ => None,
    });
    finished.max_by(|a, b| a.1.cos().total_cmp(&b.1.cos()))
}

/// The jaws past which the parallels run; a self-centring chuck has no opposed ones.
fn along(task: &Task, chosen: &Chosen) -> Option<(u8, u8)> {
    let lie = &chosen.way.facing.lie;
    let axis = parallels_run(task, lie).filter(|_| lie.sides.len() == 4)?;
    let [one, other] = [axis, axis + 2].map(|side| jaw_number(chosen, side as u8 + 1));
    Some((one.min(other), one.max(other)))
}

/// The least bite that contacts and trade ask and at which the cuts chosen still hold.
fn least_bite(task: &Task, facing: &Facing, tool: usize) -> f64 {
    let lie = &facing.lie;
    let trade = if facing.depth.shallow { 0.0 } else { trade_bite(task, lie) };
    least_bite_that_holds(task, facing, tool, contact_bite(task, lie).max(trade))
}

fn stick_out(task: &Task, facing: &Facing, least_bite_mm: f64) -> StickOut {
    let lie = &facing.lie;
    StickOut {
        least_mm: least_stick_out(task, lie),
        set_mm: facing.depth.stick_out_mm,
        // One for one: what the bite loses stands out.
        most_mm: (facing.depth.stick_out_mm + facing.depth.bite_mm - least_bite_mm).min(most_overhang(task, lie)),
    }
}

/// The least bite, not under `least_mm`, at which the cuts chosen still hold, found by halving to a tenth.
fn least_bite_that_holds(task: &Task, facing: &Facing, tool: usize, least_mm: f64) -> f64 {
    let holds = |bite_mm: f64| holds_at(task, &task.tools[tool], facing, bite_mm);
    let (mut low, mut high) = (least_mm.min(facing.depth.bite_mm), facing.depth.bite_mm);
    if holds(low) {
        return low;
    }
    while high - low > BITE_STEP_MM {
        let middle = (low + high) / 2.0;
        if holds(middle) { high = middle } else { low = middle }
    }
    high
}

fn pass(task: &Task, facing: &Facing, tool: usize, at: usize, cut: &Cut) -> Taken {
    let lie = &facing.lie;
    let place = task.faces[lie.face].place;
    let edge = &task.tools[tool].edge;
    let feed_mm = feed_of(cut, facing.feeds);
    let rpm = facing.speed.set_rpm;
    let height = lie.top_mm - cut.total_mm;
    let floor = floor_at(&facing.piece, place, lie, height);
    // The last pass is measured to the finished flat, however the marks of the dial fall.
    let left = if at + 1 == facing.cuts.len() { lie.floor_mm } else { height };
    let force = |level: Level| cutting::force(&task.material, edge, cut.depth_mm, feed_mm, level);
    let (likely, high) = (force(Level::Likely), force(Level::Safe));
    let reading = task.lathe.dial.reading(cut.total_mm);
    let power = |radius_mm: f64| cutting::power_w(high.cutting, cutting::speed_m_min(rpm, 2.0 * radius_mm));
    let mean_radius_mm = mean_radius(&floor);
    let pass = Pass {
        kind: pass_kind(task, facing, at, cut),
        depth_mm: cut.depth_mm,
        total_mm: cut.total_mm,
        dial: dial_text(task, &reading),
        dial_turns: reading.turns,
        dial_reading: reading.reading,
        slide: "depth slide",
        rpm,
        feed_mm_per_rev: feed_mm,
        by_hand: facing.feeds.by_hand,
        speed_m_per_min: cutting::speed_m_min(rpm, 2.0 * floor.start_radius_mm),
        start_radius_mm: floor.start_radius_mm,
        floor_area_mm2: floor.area_mm2(),
        in_metal_share: floor.mean_share(),
        entries_per_rev: floor.most_entries(),
        removed_mm3: facing.piece.removed_mm3(place, left, height + cut.depth_mm),
        chip_mm: cutting::chip(edge, cut.depth_mm, feed_mm).mean_thickness_mm,
        force_n: likely,
        force_safe_n: high,
        power_mean_w: power(mean_radius_mm),
        power_peak_w: power(floor.start_radius_mm),
        torque_nm: cutting::torque_nm(high.cutting, floor.start_radius_mm),
        minutes: cutting::facing_minutes(
            floor.start_radius_mm + task.rules.approach_mm,
            floor.end_radius_mm,
            feed_mm,
            rpm,
        ),
    };
    Taken { pass, floor, mean_radius_mm }
}

/// The first rough cut on a sawn end or through scale cleans up.
fn pass_kind(task: &Task, facing: &Facing, at: usize, cut: &Cut) -> PassKind {
    let end = !matches!(task.faces[facing.lie.face].place, Place::Side(_));
    match cut.kind {
        CutKind::Finish => PassKind::Finish,
        CutKind::Rough if at == 0 && (end || facing.on_skin) => PassKind::CleanUp,
        CutKind::Rough => PassKind::Rough,
    }
}

fn hold_report(task: &Task, chosen: &Chosen, passes: &[Pass], spring: Spring, surface: Option<Surface>) -> HoldReport {
    let facing = &chosen.way.facing;
    let slip = &facing.slip;
    let (_, piece_kg, _) = mass(task, &facing.piece, &facing.lie, &facing.depth);
    HoldReport {
        slip_factor: slip.jaw.map(|(_, worst)| worst.factor),
        worn_slip_factor: slip.worn.map(|(_, worst)| worst.factor),
        point_slip_factor: slip.point.map(|worst| worst.factor),
        lift_factor: slip.lift.map(|(_, worst)| worst.factor),
        last_hold: last_hold_report(chosen),
        round: round_report(chosen, passes),
        required: facing.required,
        spring_um: spring.all_um,
        surface,
        binding: binding_words(chosen, &task.tools[chosen.way.tool].name),
        counted_force_n: facing.hold.counted_n,
        permitted_rpm: permitted(task, facing, passes).map(|(rpm, _)| rpm).filter(|rpm| rpm.is_finite()),
        mass_kg: piece_kg,
        unbalance_n: facing.hold.steady.iter().map(|load| load.force_n.norm()).sum(),
        unbalance_most_n: unbalance_most_n(task, piece_kg, facing.speed.set_rpm),
        hand_checks: hand_checks(task, facing, passes),
        weak: slip.jaw.is_some_and(|(_, worst)| worst.factor < numbers().weak_times.value * facing.required),
        firmer: firmer(task, chosen),
    }
}

/// Speed that the published procedure permits for the heaviest pass, rpm, and the force of all jaws that it asks at
/// that speed, N: `n = 30/π √((F_sp0 − S_z F_spz)/Σ m r)`. The low share stands in place of a factor on the force set.
pub(super) fn permitted(task: &Task, facing: &Facing, passes: &[Pass]) -> Option<(f64, f64)> {
    let pass = heaviest(passes)?;
    let (chuck, jaws) = (&task.chuck, facing.lie.sides.len() as f64);
    let factor = holding::numbers().needed_continuous.value;
    let (friction, gripped_mm) = (facing.hold.least_friction, facing.hold.gripped_radius_mm);
    let share = pass.start_radius_mm / gripped_mm;
    let needed_n = holding::gripping_force_n(pass.force_n.cutting, factor, friction, share);
    let moment_kg_m = jaws * chuck.jaw_mass_kg * chuck.jaw_mass_radius_mm / 1000.0;
    let all_n = jaws * chuck.low_share * chuck.nominal_force_n;
    Some((holding::permitted_speed_rpm(all_n, needed_n, moment_kg_m), needed_n))
}

/// First slip at every angle, in the pass in which it is least; angles told from jaw 1.
fn round_report(chosen: &Chosen, passes: &[Pass]) -> Option<RoundReport> {
    let facing = &chosen.way.facing;
    let (at, _) = facing.slip.jaw?;
    let pass = passes.get(at)?;
    let turn = facing.hold.turn_cut(pass.start_radius_mm, facing.depth.stick_out_mm - pass.total_mm, pass.force_n);
    let from_side_deg = 360.0 * chosen.turn as f64 / facing.lie.sides.len() as f64;
    let factor = |step: u32| {
        let angle_deg = 360.0 * f64::from(step) / f64::from(ANGLES) + from_side_deg;
        facing.hold.grip.first_slip(&turn.at_angle(angle_deg)).jaw
    };
    let factors: Vec<Option<f64>> = (0..ANGLES).map(factor).collect();
    let found = factors.iter().enumerate().filter_map(|(step, factor)| factor.map(|factor| (step, factor)));
    let (step, _) = found.min_by(|one, other| one.1.total_cmp(&other.1))?;
    let weakest = weakest_round(chosen, &turn, 360.0 * step as f64 / f64::from(ANGLES));
    Some(RoundReport { pass: at + 1, factors, weakest })
}

/// What every jaw does with the tool at an angle from jaw 1, as seen from jaw 1.
fn weakest_round(chosen: &Chosen, turn: &TurnCut, angle_deg: f64) -> WeakestRound {
    let facing = &chosen.way.facing;
    let from_side_deg = 360.0 * chosen.turn as f64 / facing.lie.sides.len() as f64;
    let load = turn.at_angle(angle_deg + from_side_deg);
    let (sin, cos) = from_side_deg.to_radians().sin_cos();
    let seen = |force: &[f64; 3]| [force[0] * cos + force[1] * sin, force[1] * cos - force[0] * sin, force[2]];
    let jaw = |side: u8| {
        let carried = facing.hold.grip.jaw_carries(side, &load)?;
        let pressed_n = carried.standing[0] + carried.growing[0];
        // Round an arc the points push different ways: what the jaw does to the work is their sum.
        let (sin, cos) = (std::f64::consts::TAU * f64::from(side - 1) / facing.lie.sides.len() as f64).sin_cos();
        let (force, inward) = (facing.hold.grip.jaw_force_n(side, &load)?, Vector3::new(-cos, -sin, 0.0));
        let normal_n = force.dot(&inward);
        Some(JawLoad {
            jaw: jaw_number(chosen, side),
            normal_n,
            friction_n: seen(&(force - inward * normal_n).into()),
            most_friction_n: carried.friction * pressed_n,
        })
    };
    let mut jaws: Vec<JawLoad> = (1..=facing.lie.sides.len() as u8).filter_map(jaw).collect();
    jaws.sort_by_key(|jaw| jaw.jaw);
    let seat_n = facing.hold.grip.seat_pushes_n(&load);
    WeakestRound { angle_deg, radius_mm: turn.radius_mm, cut_n: seen(&load.force_n.into()), jaws, seat_n }
}

fn last_hold_report(chosen: &Chosen) -> Option<LastHoldReport> {
    let judged = chosen.last_hold.as_ref()?;
    let weakest = judged.weakest.as_ref()?;
    let facing = &chosen.way.facing;
    Some(LastHoldReport {
        factor: weakest.found.factor,
        at_least: weakest.at_least,
        required: judged.needed,
        pass: judged.pass + 1,
        radius_mm: judged.radius_mm,
        angle_deg: from_jaw_1_deg(chosen, weakest.angle_deg),
        goes: goes_by(&weakest.found.motion, facing.hold.gripped_radius_mm, facing.depth.bite_mm).says(),
        solved: weakest.solved,
    })
}

/// The greatest spring over the passes.
fn most_spring(task: &Task, facing: &Facing, passes: &[Pass]) -> Spring {
    let of = |(at, pass): (usize, &Pass)| {
        let height_mm = facing.depth.stick_out_mm - pass.total_mm;
        let turn = facing.hold.turn_cut(pass.start_radius_mm, height_mm, pass.force_n);
        let machine_um = machine_spring_um(pass.force_n.passive, task.lathe.stiffness_n_um);
        let place = super::surface::spring(&facing.hold, &turn).most(machine_um, turn.radius_mm, ANGLES);
        let bend_um =
            holding::Spring::of_overhang(&facing.hold.overhang, &turn).at_um(place.radius_mm, place.angle_deg);
        Spring {
            pass: at,
            place,
            work_um: place.moved_um - machine_um - bend_um,
            bend_um,
            all_um: place.moved_um.abs(),
        }
    };
    passes.iter().enumerate().map(of).max_by(|a, b| a.all_um.total_cmp(&b.all_um)).unwrap_or_default()
}

fn binding_words(chosen: &Chosen, tool: &str) -> String {
    let facing = &chosen.way.facing;
    let depth = match facing.depth_binding {
        DepthBinding::Nothing => "nothing held the depth of the cuts down".to_string(),
        DepthBinding::Tool => format!("the depth of the cuts is held by the deepest cut of the {tool}"),
        DepthBinding::Chip => {
            "the depth of the cuts is held by the chip, which would be too wide for its feed".to_string()
        }
        DepthBinding::Wish => "the cuts are as deep as the job asks for".to_string(),
        DepthBinding::Power => "the depth of the cuts is held by the mean power over a turn".to_string(),
        DepthBinding::Torque => {
            "the depth of the cuts is held by the peak power or torque at the farthest corner".to_string()
        }
        DepthBinding::Worn => "the depth of the cuts is held by the grip once the edge is worn".to_string(),
        DepthBinding::Slip => "the depth of the cuts is held by the grip".to_string(),
        DepthBinding::Lift => "the depth of the cuts is held by a jaw that would lift".to_string(),
        DepthBinding::Hand => "the depth of the cuts is held by the classical hand formulas".to_string(),
        DepthBinding::Spring => "the depth of the cuts is held by the spring at the tool".to_string(),
    };
    match facing.slip.jaw {
        Some((at, worst)) => format!(
            "jaw {} slips first, in pass {}, with the tool {:.0} deg round from jaw 1; {depth}",
            jaw_number(chosen, worst.jaw),
            at + 1,
            from_jaw_1_deg(chosen, worst.angle_deg)
        ),
        None => format!("no jaw slips; {depth}"),
    }
}

/// The jaw that bears on a side, both from 1.
pub(super) fn jaw_number(chosen: &Chosen, side: u8) -> u8 {
    let jaws = chosen.way.facing.lie.sides.len();
    ((usize::from(side) - 1 + jaws - chosen.turn) % jaws) as u8 + 1
}

/// An angle from the first side, as one from jaw 1, degrees.
pub(super) fn from_jaw_1_deg(chosen: &Chosen, angle_deg: f64) -> f64 {
    let jaws = chosen.way.facing.lie.sides.len();
    (angle_deg - 360.0 * chosen.turn as f64 / jaws as f64).rem_euclid(360.0)
}

/// The number with its unit, which need not be the job's; what no dial shows has none.
fn dial_text(task: &Task, reading: &Reading) -> String {
    if reading.marks > 0 { format!("{} {}", reading.text, task.lathe.dial.unit_name()) } else { reading.text.clone() }
}

/// The classical hand checks for the heaviest pass, with their numbers.
fn hand_checks(task: &Task, facing: &Facing, passes: &[Pass]) -> Vec<String> {
    let Some(heavy) = heaviest(passes) else { return Vec::new() };
    let hand = hand_check(facing, heavy);
    let passive_n = heavy.force_n.passive;
    let (friction, force) = (facing.hold.least_friction, show::force(facing.hold.counted_n, task.units));
    vec![
        format!(
            "torque: friction {friction:.2} and {force} a jaw hold {:.1} times the turning of the heaviest cut",
            hand.torque
        ),
        push_words(passive_n, hand.push),
        format!(
            "levering out, arm {} from the middle of the bite: {:.1} times",
            show::length(hand.arm_mm, task.units),
            hand.lever
        ),
    ]
}

/// Under this a passive force is rounding: a sharp corner square to the feed pushes nothing along the spindle.
pub(super) const NO_PUSH_N: f64 = 1e-6;

fn push_words(passive_n: f64, factor: f64) -> String {
    if passive_n.abs() < NO_PUSH_N {
        "push along the spindle: this cut has none".to_string()
    } else {
        format!("push along the spindle: {factor:.1} times")
    }
}

pub(super) fn heaviest(passes: &[Pass]) -> Option<&Pass> {
    passes.iter().max_by(|a, b| a.force_n.cutting.total_cmp(&b.force_n.cutting))
}

fn hand_check(facing: &Facing, pass: &Pass) -> HandCheck {
    let height_mm = facing.depth.stick_out_mm - pass.total_mm;
    facing.hold.by_hand(pass.start_radius_mm, height_mm + facing.depth.bite_mm / 2.0, pass.force_n)
}

/// Cautions that come from numbers of this set-up.
fn cautions(task: &Task, way: &Way, passes: &[Pass]) -> Vec<String> {
    let facing = &way.facing;
    let mut list = Vec::new();
    list.extend(weak_by_hand(facing, passes));
    if way.sawn_ends {
        list.push(
            "NOTICE: the ends are still as sawn and square nothing: set this face with a try square.".to_string(),
        );
    }
    if facing.depth.shallow {
        list.push(format!(
            "Caution: the bite of {} is less than a third of the length or half the gripped size; nothing deeper lets the cut clear the jaws.",
            show::length(facing.depth.bite_mm, task.units)
        ));
    }
    if facing.interrupted {
        let place = task.faces[facing.lie.face].place;
        let swung = 2.0 * swung_radius_mm(&facing.piece, place, &facing.lie);
        list.push(format!(
            "Warning: corners swing {} across and cannot be seen turning; hands and brush stay outside, guard shut.",
            show::length(swung, task.units)
        ));
    }
    list
}

/// Set-ups in which a hand formula carries less than is asked, for the head of the plan.
pub fn weak_by_hand_notice(set_ups: &[SetUp]) -> Option<String> {
    let weak = |set_up: &&SetUp| set_up.cautions.iter().any(|says| says.starts_with(WEAK_BY_HAND));
    let numbers: Vec<u32> = set_ups.iter().filter(weak).map(|set_up| set_up.number).collect();
    let (first, last) = (numbers.first()?, numbers.last()?);
    let in_a_row = (last - first) as usize == numbers.len() - 1;
    let named = match numbers.len() {
        1 => format!("set-up {first} is"),
        _ if in_a_row => format!("set-ups {first} to {last} are"),
        _ => format!("set-ups {} are", numbers.iter().map(u32::to_string).collect::<Vec<_>>().join(", ")),
    };
    Some(format!("CAUTION: {named} weak by a hand formula: cut lighter there, or let a qualified person look."))
}

/// How the caution of such a set-up begins.
const WEAK_BY_HAND: &str = "CAUTION: the hand formula of";

/// Where the classical hand formulas carry less of the cut than is asked of the full reckoning.
fn weak_by_hand(facing: &Facing, passes: &[Pass]) -> Option<String> {
    let hand = hand_check(facing, heaviest(passes)?);
    let (least, what) = if hand.lever <= hand.torque { (hand.lever, "levering out") } else { (hand.torque, "torque") };
    (least < facing.required).then(|| {
        format!(
            "{WEAK_BY_HAND} {what} holds {least:.2} times the heaviest cut, under the {} asked: let a qualified person look, or cut lighter.",
            facing.required
        )
    })
}

/// Everything in the frame in which jaw 1 lies on X.
fn audit(chosen: &Chosen, taken: &[Taken]) -> Audit {
    let facing = &chosen.way.facing;
    let jaws = facing.lie.sides.len();
    let back =
        Rotation3::from_axis_angle(&Vector3::z_axis(), -std::f64::consts::TAU * chosen.turn as f64 / jaws as f64);
    let turned = |vector: Vector3<f64>| -> [f64; 3] { (back * vector).into() };
    let held = facing.hold.grip.held();
    Audit {
        contacts: held
            .iter()
            .map(|point| AuditContact {
                jaw: jaw_number(chosen, point.contact.jaw),
                at_mm: turned(point.contact.at_mm),
                inward: turned(point.contact.inward),
                normal_stiffness_n_per_mm: point.contact.normal_stiffness_n_mm,
                tangential_stiffness_n_per_mm: point.contact.tangential_stiffness_n_mm,
                friction: point.contact.friction,
                preload_n: point.preload_n,
                preload_friction_n: turned(point.preload_friction_n),
            })
            .collect(),
        seat_points: facing.hold.seat.iter().map(|point| (turned(point.at_mm), point.stiffness_n_mm)).collect(),
        pairs: pairs(jaws, |jaw| {
            held.iter().filter(|point| jaw_number(chosen, point.contact.jaw) == jaw).map(|point| point.preload_n).sum()
        }),
        steady_loads: facing
            .hold
            .steady
            .iter()
            .map(|load| (load.what.clone(), turned(load.at_mm), turned(load.force_n)))
            .collect(),
        mass_centre_mm: turned(facing.hold.mass_centre_mm),
        cut_loads: audit_loads(chosen, taken, &turned),
        last_hold_load: weakest_load(chosen, taken, &turned),
    }
}

/// Opposed jaws keep the sum of their forces; the jaws of a three-jaw chuck all together.
fn pairs(jaws: usize, preload: impl Fn(u8) -> f64) -> Vec<(Vec<u8>, f64)> {
    let groups: Vec<Vec<u8>> = if jaws.is_multiple_of(2) {
        (0..jaws / 2).map(|jaw| vec![jaw as u8 + 1, (jaw + jaws / 2) as u8 + 1]).collect()
    } else {
        vec![(1..=jaws as u8).collect()]
    };
    groups.into_iter().map(|group| (group.clone(), group.into_iter().map(&preload).sum())).collect()
}

fn weakest_load(chosen: &Chosen, taken: &[Taken], turned: &dyn Fn(Vector3<f64>) -> [f64; 3]) -> Option<AuditLoad> {
    let facing = &chosen.way.facing;
    let judged = chosen.last_hold.as_ref()?;
    let weakest = judged.weakest.as_ref()?;
    let pass = &taken.get(judged.pass)?.pass;
    let turn = facing.hold.turn_cut(judged.radius_mm, facing.depth.stick_out_mm - pass.total_mm, pass.force_n);
    let load = turn.at_angle(weakest.angle_deg);
    Some(AuditLoad {
        pass: judged.pass + 1,
        at_mm: turned(load.at_mm),
        force_n: turned(load.force_n),
        weight_n: turned(load.weight_n),
    })
}

fn audit_loads(chosen: &Chosen, taken: &[Taken], turned: &dyn Fn(Vector3<f64>) -> [f64; 3]) -> Vec<AuditLoad> {
    let facing = &chosen.way.facing;
    let mut loads = Vec::new();
    for (at, Taken { pass, .. }) in taken.iter().enumerate() {
        let turn = facing.hold.turn_cut(pass.start_radius_mm, facing.depth.stick_out_mm - pass.total_mm, pass.force_n);
        for step in 0..ANGLES {
            let load = turn.at_angle(360.0 * f64::from(step) / f64::from(ANGLES));
            loads.push(AuditLoad {
                pass: at + 1,
                at_mm: turned(load.at_mm),
                force_n: turned(load.force_n),
                weight_n: turned(load.weight_n),
            });
        }
    }
    loads
}
