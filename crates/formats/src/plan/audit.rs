//! What an outside program needs to recompute a hold.

use engine::plan::{Audit, AuditContact, AuditLoad};
use serde_json::{Value, json};

use super::number::{number, vector};

pub(super) fn value(audit: &Audit) -> Value {
    json!({
        "contacts": audit.contacts.iter().map(contact).collect::<Vec<_>>(),
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
        // Both belong to the forecast, which is not built yet.
        "noises": [],
        "linear": [],
    })
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
