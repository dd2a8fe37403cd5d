//! `[[chuck]]` and its jaws.

use engine::plan::Assumed;
use engine::quantity::{Angle, Kind, degrees, kilograms, mm, newton_metres, newtons, rpm};
use engine::shop::{Chuck, ChuckKind, ClampingForce, Jaw, JawBore, JawStep, JawSurface, ReversedJaw};

use super::{assume, name, optional_plain, required_plain, table_of};
use crate::bounds::{
    FORCE, FRICTION, LENGTH, LENGTH_OR_ZERO, MASS, SHARE, SMALL_ANGLE, SPEED, SPREAD, STIFFNESS, TORQUE,
};
use crate::reader::{Reader, brief};
use crate::table::{Item, Table};

const KEYS: [&str; 15] = [
    "name",
    "kind",
    "jaws",
    "body",
    "jaw",
    "bore",
    "opening",
    "marked_speed",
    "interrupted_speed",
    "clamping_force",
    "key",
    "low_share",
    "stiffness",
    "jaw_tilt",
    "regrip_tilt",
];

/// Reads one chuck.
pub(crate) fn read(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    number: usize,
    assumed: &mut Vec<Assumed>,
) -> Option<Chuck> {
    const FEWEST_JAWS: u32 = 2;
    const MOST_JAWS: u32 = 6;
    reader.keys(table, &KEYS);
    let name = name(reader, table, "chuck", number);
    let kind = reader.required(table, "kind", "`independent` or `self-centring`", |r, item| {
        r.word(item, &[("independent", ChuckKind::Independent), ("self-centring", ChuckKind::SelfCentring)])
    });
    let jaws = reader.required(table, "jaws", "how many: 2 to 6", |r, item| r.whole(item, FEWEST_JAWS, MOST_JAWS));
    let body = required_plain(reader, table, "body", Kind::Length, &LENGTH);
    let one_jaw = reader.required(table, "jaw", JAW, |r, item| jaw(r, item, assumed));
    let bore = optional_plain(reader, table, "bore", Kind::Length, &LENGTH_OR_ZERO);
    let opening = reader.required(table, "opening", "`[least, most]` between opposed jaws", |r, item| {
        r.range(item, Kind::Length, &LENGTH_OR_ZERO)
    });
    let marked_speed = optional_plain(reader, table, "marked_speed", Kind::Speed, &SPEED);
    let interrupted_speed = optional_plain(reader, table, "interrupted_speed", Kind::Speed, &SPEED);
    let clamping_force = clamping_force(reader, table);
    let low_share = optional_plain(reader, table, "low_share", Kind::Share, &SHARE);
    let stiffness = optional_plain(reader, table, "stiffness", Kind::Stiffness, &STIFFNESS);
    let jaw_tilt = reader.optional(table, "jaw_tilt", |r, item| jaw_tilt(r, item, jaws));
    let regrip_tilt = optional_plain(reader, table, "regrip_tilt", Kind::Angle, &SPREAD);
    bore_within_body(reader, table, bore, body);
    let opening = opening?;
    Some(Chuck {
        name: name?,
        kind: kind?,
        jaws: u8::try_from(jaws?).ok()?,
        body: mm(body?),
        jaw: one_jaw?,
        bore: bore.map(mm),
        opening: (mm(opening.0), mm(opening.1)),
        marked_speed: marked_speed.map(rpm),
        interrupted_speed: interrupted_speed.map(rpm),
        clamping_force,
        low_share,
        stiffness_n_per_um: stiffness,
        jaw_tilt: jaw_tilt.unwrap_or_default(),
        regrip_tilt: regrip_tilt.map(degrees),
    })
}

const JAW: &str = "`{ width = 24, length = 50, surface = \"hard smooth\", mass = \"0.9 kg\" }`";

fn jaw(reader: &mut Reader<'_>, item: &Item<'_>, assumed: &mut Vec<Assumed>) -> Option<Jaw> {
    let table = reader.table(item, JAW)?;
    reader.keys(&table, &["width", "length", "depth", "surface", "bored", "mass", "step", "reversed"]);
    let width = required_plain(reader, &table, "width", Kind::Length, &LENGTH);
    let length = required_plain(reader, &table, "length", Kind::Length, &LENGTH);
    let depth = optional_plain(reader, &table, "depth", Kind::Length, &LENGTH);
    let surface = if table.has("surface") {
        reader.optional(&table, "surface", |r, item| r.word(item, &SURFACES))
    } else {
        let source = "cautious: of the three it holds with the least friction";
        assume(assumed, "surface of the jaws".to_string(), "hard smooth", source);
        Some(JawSurface::HardSmooth)
    };
    let bored = reader.optional(&table, "bored", bored);
    let mass = optional_plain(reader, &table, "mass", Kind::Mass, &MASS);
    let step = reader.optional(&table, "step", |r, item| step(r, item, length));
    let reversed = reader.optional(&table, "reversed", |r, item| reversed(r, item, length));
    Some(Jaw {
        width: mm(width?),
        length: mm(length?),
        depth: depth.map(mm),
        surface: surface?,
        bored,
        mass: mass.map(kilograms),
        step,
        reversed,
    })
}

/// The diameter that soft jaws are bored to, or "to the work".
fn bored(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<JawBore> {
    const WORDS: &str = "to the work";
    match item.value.as_str() {
        Some(text) if text.trim() == WORDS => return Some(JawBore::Work),
        Some(text) if !text.contains(|sign: char| sign.is_ascii_digit()) => {
            let says = format!("`{}` says `{}`", item.path, brief(text));
            return reader.fault(item.span.clone(), says, "a diameter such as `40`, or `to the work`");
        }
        _ => {}
    }
    reader.plain(item, Kind::Length, &LENGTH).map(|diameter| JawBore::Diameter(mm(diameter)))
}

const STEP: &str = "`{ below_front = 12, width = 8 }`";

/// A ledge in the face of a jaw, above the chuck face.
fn step(reader: &mut Reader<'_>, item: &Item<'_>, jaw_mm: Option<f64>) -> Option<JawStep> {
    let table = reader.table(item, STEP)?;
    reader.keys(&table, &["below_front", "width"]);
    let below = required_plain(reader, &table, "below_front", Kind::Length, &LENGTH);
    let width = required_plain(reader, &table, "width", Kind::Length, &LENGTH);
    let below = below?;
    if let Some(jaw_mm) = jaw_mm.filter(|&jaw_mm| below >= jaw_mm) {
        let span = table.get("below_front").map_or(table.span.clone(), |item| item.span);
        let says = format!("`{}.below_front` is no less than the jaw's length", table.path);
        let long = engine::quantity::show::length(jaw_mm, reader.units);
        return reader.fault(span, says, format!("less than {long}, from chuck face to jaw front"));
    }
    Some(JawStep { below_front: mm(below), width: mm(width?) })
}

const REVERSED: &str = "`{ opening = [80, 220], step = { below_front = 12, width = 8 } }`";

fn reversed(reader: &mut Reader<'_>, item: &Item<'_>, jaw_mm: Option<f64>) -> Option<ReversedJaw> {
    let table = reader.table(item, REVERSED)?;
    reader.keys(&table, &["opening", "step", "depth"]);
    let opening = reader.required(&table, "opening", "`[least, most]` between opposed jaws", |r, item| {
        r.range(item, Kind::Length, &LENGTH_OR_ZERO)
    });
    let step = reader.optional(&table, "step", |r, item| step(r, item, jaw_mm));
    let depth = optional_plain(reader, &table, "depth", Kind::Length, &LENGTH);
    let (least, most) = opening?;
    Some(ReversedJaw { opening: (mm(least), mm(most)), step, depth: depth.map(mm) })
}

const SURFACES: [(&str, JawSurface); 3] =
    [("hard smooth", JawSurface::HardSmooth), ("hard serrated", JawSurface::HardSerrated), ("soft", JawSurface::Soft)];

/// `clamping_force`, or what the torque on the key makes of it.
fn clamping_force(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<ClampingForce> {
    if let (Some(_), Some(key)) = (table.get("clamping_force"), table.get("key")) {
        let says = format!("`{}` stands beside `clamping_force`", key.path);
        return reader.fault(key.span, says, "`clamping_force` or `key`, not both");
    }
    let each = optional_plain(reader, table, "clamping_force", Kind::Force, &FORCE);
    let key = reader.optional(table, "key", key);
    each.map(|force| ClampingForce::Each(newtons(force))).or(key)
}

fn key(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<ClampingForce> {
    let table = table_of(reader, item)?;
    reader.keys(&table, &["torque", "pitch", "pitch_diameter", "shoulder_diameter", "friction"]);
    let torque = required_plain(reader, &table, "torque", Kind::Torque, &TORQUE);
    let pitch = required_plain(reader, &table, "pitch", Kind::Length, &LENGTH);
    let pitch_diameter = required_plain(reader, &table, "pitch_diameter", Kind::Length, &LENGTH);
    let shoulder_diameter = required_plain(reader, &table, "shoulder_diameter", Kind::Length, &LENGTH);
    let friction = required_plain(reader, &table, "friction", Kind::Share, &FRICTION);
    Some(ClampingForce::Key {
        torque: newton_metres(torque?),
        pitch: mm(pitch?),
        pitch_diameter: mm(pitch_diameter?),
        shoulder_diameter: mm(shoulder_diameter?),
        friction: friction?,
    })
}

/// One spread for all jaws, or a measured tilt for each.
fn jaw_tilt(reader: &mut Reader<'_>, item: &Item<'_>, jaws: Option<u32>) -> Option<Vec<Angle>> {
    if !item.value.is_array() {
        return reader.plain(item, Kind::Angle, &SPREAD).map(|spread| vec![degrees(spread)]);
    }
    let accepts = "a spread such as `0.4 mrad`, or a list with one tilt for each jaw";
    let items = reader.list(item, 0, accepts)?;
    if jaws.is_some_and(|jaws| jaws as usize != items.len()) {
        return reader.fault(item.span.clone(), format!("`{}` has {} values", item.path, items.len()), accepts);
    }
    let tilts = items.iter().map(|item| reader.plain(item, Kind::Angle, &SMALL_ANGLE)).collect::<Vec<_>>();
    tilts.into_iter().map(|tilt| tilt.map(degrees)).collect()
}

fn bore_within_body(reader: &mut Reader<'_>, table: &Table<'_>, bore: Option<f64>, body: Option<f64>) {
    if let (Some(bore), Some(body)) = (bore, body)
        && bore >= body
    {
        let span = table.get("bore").map_or(table.span.clone(), |item| item.span);
        reader.fault::<()>(span, format!("`{}.bore` is no less than the body", table.path), "a hole in the body");
    }
}
