//! One set-up of the JSON.

use engine::plan::{
    Force3, Hand, HoldReport, JawPlan, LastHoldReport, Measure, Pass, SetUp, Surface, SurfacePlace, VeePlan,
};
use serde_json::{Value, json};

use super::number::{factor, number};
use super::{audit, table};

pub(super) fn value(set_up: &SetUp, with_audit: bool) -> Value {
    let mut value = json!({
        "number": set_up.number,
        "cuts_faces": set_up.cuts_faces,
        "removed_mm3": number(set_up.removed_mm3),
        "jaws": set_up.jaws.iter().map(jaw).collect::<Vec<_>>(),
        "seat": set_up.seat.as_ref().map(|seat| json!({
            "on": seat.on,
            "face": seat.face,
            "packing_mm": number(seat.packing_mm),
            "stop_mm": factor(seat.stop_mm),
        })),
        "angle": set_up.angle.as_ref().map(|angle| json!({
            "flat": angle.flat,
            "to_chuck_face_deg": number(angle.to_chuck_face_deg),
            "looks_to_chuck": angle.looks_to_chuck,
            "beside_jaw": angle.beside_jaw,
        })),
        "bite_mm": number(set_up.bite_mm),
        "stick_out_mm": {
            "least": number(set_up.stick_out.least_mm),
            "set": number(set_up.stick_out.set_mm),
            "most": number(set_up.stick_out.most_mm),
        },
        "hold": hold(&set_up.hold),
        "speed": {
            "set_rpm": number(set_up.speed.set_rpm),
            "most_rpm": number(set_up.speed.most_rpm),
            "binding": set_up.speed.binding,
            "edge_power_w": number(set_up.speed.edge_power_w),
        },
        "passes": set_up.passes.iter().map(pass).collect::<Vec<_>>(),
        "notes": set_up.notes,
        "measure": set_up.measure.iter().map(measure).collect::<Vec<_>>(),
        "hands": set_up.hands.iter().map(hand).collect::<Vec<_>>(),
        "cautions": set_up.cautions,
        "minutes": {
            "handling": number(set_up.minutes.handling),
            "cutting": number(set_up.minutes.cutting),
            "measuring": number(set_up.minutes.measuring),
            "total": number(set_up.minutes.total()),
        },
    });
    if with_audit {
        value["audit"] = audit::value(&set_up.audit);
        value["audit"]["surface_rays"] = audit::rays(set_up.hold.surface.as_ref());
    }
    value
}

fn jaw(jaw: &JawPlan) -> Value {
    json!({
        "jaw": jaw.jaw,
        "bears_on": jaw.bears_on,
        "contact": jaw.contact.name(),
        "packing_mm": number(jaw.packing_mm),
        "kept": jaw.kept,
        "reach_mm": number(jaw.reach_mm),
        "mark": jaw.mark.as_ref().map(|mark| json!({
            "grade": mark.grade,
            "pressure_mpa": factor(mark.pressure_mpa),
            "limit_mpa": number(mark.limit_mpa),
        })),
        "vee": jaw.vee.as_ref().map(vee),
    })
}

/// A vee between jaw and work: which, how it lies, what is under its flanks.
fn vee(vee: &VeePlan) -> Value {
    json!({
        "material": vee.material,
        "angle_deg": number(vee.angle_deg),
        "width_mm": number(vee.width_mm),
        "height_mm": number(vee.height_mm),
        "length_mm": number(vee.length_mm),
        "groove": if vee.along_spindle { "along the spindle" } else { "across the jaw" },
        "groove_mm": number(vee.groove_mm),
        "at_mm": number(vee.at_mm),
        "flanks": vee.flanks,
    })
}

fn hold(hold: &HoldReport) -> Value {
    json!({
        "slip_factor": factor(hold.slip_factor),
        "point_slip_factor": factor(hold.point_slip_factor),
        "lift_factor": factor(hold.lift_factor),
        "hold_factor": factor(hold.last_hold.as_ref().map(|last| last.factor)),
        "last_hold": hold.last_hold.as_ref().map(last_hold),
        "required": number(hold.required),
        "spring_um": number(hold.spring_um),
        "binding": hold.binding,
        "counted_force_n": number(hold.counted_force_n),
        "surface": hold.surface.as_ref().map(surface),
        "permitted_rpm": factor(hold.permitted_rpm),
        "mass_kg": number(hold.mass_kg),
        "unbalance_n": number(hold.unbalance_n),
        "unbalance_most_n": number(hold.unbalance_most_n),
        "hand_checks": hold.hand_checks,
        "worn_slip_factor": factor(hold.worn_slip_factor),
        "firmer": hold.firmer.iter().map(|firmer| json!({
            "with": firmer.says,
            "slip_factor": number(firmer.slip_factor),
        })).collect::<Vec<_>>(),
    })
}

/// What the last pass leaves on the flat; angles from jaw 1, counter-clockwise seen from the tailstock.
fn surface(surface: &Surface) -> Value {
    json!({
        "pass": surface.pass,
        "highest": place(&surface.highest),
        "lowest": place(&surface.lowest),
        "from_flat_um": number(surface.from_flat_um()),
        "towards": surface.towards,
    })
}

fn place(place: &SurfacePlace) -> Value {
    json!({
        "radius_mm": number(place.radius_mm),
        "angle_deg": number(place.angle_deg),
        "left_um": number(place.left_um),
    })
}

fn last_hold(last: &LastHoldReport) -> Value {
    json!({
        "at_least": number(last.at_least),
        "required": number(last.required),
        "pass": last.pass,
        "radius_mm": number(last.radius_mm),
        "angle_deg": number(last.angle_deg),
        "goes": last.goes,
        "solved": last.solved,
    })
}

fn pass(pass: &Pass) -> Value {
    json!({
        "kind": pass.kind.name(),
        "depth_mm": number(pass.depth_mm),
        "total_mm": number(pass.total_mm),
        "dial": pass.dial,
        "dial_turns": pass.dial_turns,
        "dial_reading": number(pass.dial_reading),
        "slide": pass.slide,
        "rpm": number(pass.rpm),
        "feed_mm_per_rev": number(pass.feed_mm_per_rev),
        "by_hand": pass.by_hand,
        "speed_m_per_min": number(pass.speed_m_per_min),
        "start_radius_mm": number(pass.start_radius_mm),
        "floor_area_mm2": number(pass.floor_area_mm2),
        "in_metal_share": number(pass.in_metal_share),
        "entries_per_rev": pass.entries_per_rev,
        "removed_mm3": number(pass.removed_mm3),
        "chip_mm": number(pass.chip_mm),
        "force_n": force(pass.force_n),
        "force_safe_n": force(pass.force_safe_n),
        "power_w": { "mean": number(pass.power_mean_w), "peak": number(pass.power_peak_w) },
        "torque_nm": number(pass.torque_nm),
        "minutes": number(pass.minutes),
    })
}

fn force(force: Force3) -> Value {
    json!({ "cutting": number(force.cutting), "feed": number(force.feed), "passive": number(force.passive) })
}

fn measure(measure: &Measure) -> Value {
    json!({
        "what": measure.what,
        "nominal_mm": number(measure.nominal_mm),
        "plus_mm": number(measure.plus_mm),
        "minus_mm": number(measure.minus_mm),
        "gauge": measure.gauge,
        "when": measure.when,
        "takes_out": measure.takes_out,
        "over_bar": measure.over_bar,
        "over_jaws_mm": measure.over_jaws_mm.map(number),
        "table": measure.table.as_ref().map(table::value),
    })
}

/// What the hands do; `passes` counts the set-up's passes from 0, `to` not included; `stop` counts its
/// measurements from 0.
fn hand(hand: &Hand) -> Value {
    match hand {
        Hand::Do { does, why } => json!({ "do": does, "why": why }),
        Hand::Passes { from, to } => json!({ "passes": { "from": from, "to": to } }),
        Hand::Stop(measure) => json!({ "stop": measure }),
    }
}
