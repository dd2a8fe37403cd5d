//! What an outside program needs to recompute a hold and the forecast.
//!
//! `seat_points[]` stay behind the work and push it away from the chuck, without friction, where the cut presses it on them:
//! one-sided springs, at nought before the cut. Which are pressed follows from the cut alone (weight and steady loads left
//! out), and what they push grows with it. A jaw slips at the less of the factors with them and without. `contacts[]` are
//! two-way springs all.
//!
//! `contacts[].jaw` counts the jaws from 1; 9 is kept for a tailstock centre (`engine::holding::CENTRE`), which no plan
//! has yet. Its `inward` is along the spindle to the chuck, its `preload_n` the thrust, already in the friction of the
//! jaws, its `friction` the cotangent of half its point. Where the points of a jaw have normals of their own, round an
//! arc, the jaw slips by their friction forces added as on the arc unrolled: each turned as its normal is turned onto
//! the sum of the normals. A jaw with a vee before it (`jaws[].vee`) slips so in the flanks, or by the vee on its face: there
//! the whole forces of its points count, along the mean of the two flanks' normals and beside it. In its last hold the
//! normal forces of the flanks come to the counted force over sin α + μ cos α at most, α half the vee's angle.

use engine::plan::{Audit, AuditContact, AuditLoad, Forecast, LinearRow, Quality, Surface};
use serde_json::{Value, json};

use super::number::{factor, number, vector};

pub(super) fn value(audit: &Audit) -> Value {
    json!({
        "contacts": audit.contacts.iter().map(contact).collect::<Vec<_>>(),
        "seat_points": audit.seat_points.iter().map(|(at_mm, stiffness)| json!({
            "at_mm": vector(*at_mm),
            "stiffness_n_per_mm": number(*stiffness),
        })).collect::<Vec<_>>(),
        "pairs": audit.pairs.iter().map(|(jaws, total_n)| json!({
            "jaws": jaws,
            "total_n": number(*total_n),
        })).collect::<Vec<_>>(),
        "steady_loads": audit.steady_loads.iter().map(|(what, at_mm, force_n)| json!({
            "what": what,
            "at_mm": vector(*at_mm),
            "force_n": vector(*force_n),
        })).collect::<Vec<_>>(),
        "mass_centre_mm": vector(audit.mass_centre_mm),
        "cut_loads": audit.cut_loads.iter().map(load).collect::<Vec<_>>(),
        "last_hold_load": audit.last_hold_load.as_ref().map(load),
    })
}

/// The noises of the whole plan, each of standard deviation 1, and every requirement as sums of them: a piece keeps it when
/// every row lies from `least_mm` to `most_mm`, or, with a `zone_form_mm`, when greatest less least row and that are
/// at most `most_mm` together. A turn adds two values to those of the rows: the row that it is about, counted from 0, more and
/// less the root of the squares of its two sums. Coefficients are in the order of the noises; a shorter list goes on with noughts.
pub(super) fn forecast(forecast: &Forecast) -> Value {
    json!({
        "noises": forecast.noises.iter().map(|name| json!({
            "name": name,
            "standard_deviation": 1.0,
            "unit": "1",
        })).collect::<Vec<_>>(),
        "linear": forecast.qualities.iter().map(linear).collect::<Vec<_>>(),
    })
}

fn linear(quality: &Quality) -> Value {
    let linear = &quality.linear;
    json!({
        "requirement": quality.requirement,
        "least_mm": factor(linear.least_mm),
        "most_mm": number(linear.most_mm),
        "zone_form_mm": factor(linear.zone_form_mm),
        "rows": linear.rows.iter().map(row).collect::<Vec<_>>(),
        "turns": linear.turns.iter().map(|turn| json!({
            "about_row": turn.about,
            "sums": turn.sums.iter().map(row).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
    })
}

fn row(row: &LinearRow) -> Value {
    json!({
        "constant_mm": number(row.constant_mm),
        "coefficients_mm": row.coefficients_mm.iter().copied().map(number).collect::<Vec<_>>(),
    })
}

/// The map of what the last pass leaves on: each ray runs from the spindle axis over the flat, its values evenly spaced
/// from the one end to the other, both included.
pub(super) fn rays(surface: Option<&Surface>) -> Value {
    let rays = surface.map_or(&[][..], |surface| &surface.rays);
    let ray = |ray: &engine::plan::SurfaceRay| {
        json!({
            "angle_deg": number(ray.angle_deg),
            "from_mm": number(ray.from_mm),
            "to_mm": number(ray.to_mm),
            "left_um": ray.left_um.iter().copied().map(number).collect::<Vec<_>>(),
        })
    };
    Value::from(rays.iter().map(ray).collect::<Vec<_>>())
}

fn load(load: &AuditLoad) -> Value {
    json!({
        "pass": load.pass,
        "at_mm": vector(load.at_mm),
        "force_n": vector(load.force_n),
        "weight_n": vector(load.weight_n),
    })
}

fn contact(contact: &AuditContact) -> Value {
    json!({
        "jaw": contact.jaw,
        "at_mm": vector(contact.at_mm),
        "inward": vector(contact.inward),
        "normal_stiffness_n_per_mm": number(contact.normal_stiffness_n_per_mm),
        "tangential_stiffness_n_per_mm": number(contact.tangential_stiffness_n_per_mm),
        "friction": number(contact.friction),
        "preload_n": number(contact.preload_n),
        "preload_friction_n": vector(contact.preload_friction_n),
    })
}
