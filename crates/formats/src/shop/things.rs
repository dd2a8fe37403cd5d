//! `[[tool]]`, `[[parallels]]`, `[[stop]]`, `[[packing]]`, `[[vee]]`, `[[gauge]]` and `[minutes]`.

use engine::plan::Assumed;
use engine::quantity::{Kind, Length, degrees, mm, mpa};
use engine::shop::{Gauge, Minutes, Packing, Parallels, Scatter, Stop, Tool, ToolMaterial, Vee};

use super::{assume, name, optional_plain, required_plain, table_of};
use crate::bounds::{
    FEED, FRICTION, LENGTH, LENGTH_OR_ZERO, MINUTES, SIGNED_LENGTH, SMALL_LENGTH, SPREAD_ANGLE, SPREAD_LENGTH,
    VEE_ANGLE, from_to,
};
use crate::reader::Reader;
use crate::table::{Item, Table};

const DOES: [(&str, &str); 6] = [
    ("facing", "facing"),
    ("turning", "turning"),
    ("boring", "boring"),
    ("parting", "parting"),
    ("threading", "threading"),
    ("chamfering", "chamfering"),
];

/// Reads one tool.
pub(crate) fn tool(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    number: usize,
    assumed: &mut Vec<Assumed>,
) -> Option<Tool> {
    reader
        .keys(table, &["name", "does", "material", "cutting_edge_angle", "nose_radius", "rake", "deepest_cut", "feed"]);
    let name = name(reader, table, "tool", number);
    let does = does(reader, table, name.as_deref(), assumed);
    let known = ToolMaterial::ALL.map(|material| (material.name(), material));
    let accepts = crate::word::choice(&ToolMaterial::ALL.map(ToolMaterial::name));
    let material = reader.required(table, "material", &accepts, |r, item| r.word(item, &known));
    let edge = optional_plain(reader, table, "cutting_edge_angle", Kind::Angle, &from_to(30.0, 100.0));
    let nose_radius = optional_plain(reader, table, "nose_radius", Kind::Length, &SMALL_LENGTH);
    let rake = optional_plain(reader, table, "rake", Kind::Angle, &from_to(-30.0, 45.0));
    let deepest_cut = optional_plain(reader, table, "deepest_cut", Kind::Length, &LENGTH);
    let feed = reader.optional(table, "feed", |r, item| r.range(item, Kind::Feed, &FEED));
    Some(Tool {
        name: name?,
        does: does?,
        material: material?,
        cutting_edge_angle: edge.map(degrees),
        nose_radius: nose_radius.map(mm),
        rake: rake.map(degrees),
        deepest_cut: deepest_cut.map(mm),
        feed: feed.map(|(least, most)| (mm(least), mm(most))),
    })
}

fn does(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    name: Option<&str>,
    assumed: &mut Vec<Assumed>,
) -> Option<Vec<String>> {
    if !table.has("does") {
        let what = format!("what the {} does", name.unwrap_or("tool"));
        assume(assumed, what, "facing", "the one thing that is planned so far");
        return Some(vec!["facing".to_string()]);
    }
    reader.optional(table, "does", |r, item| {
        let items = r.list(item, 0, "a list such as `[\"facing\"]`")?;
        let words = items.iter().map(|item| r.word(item, &DOES)).collect::<Vec<_>>();
        words.into_iter().map(|word| word.map(str::to_string)).collect()
    })
}

/// Reads one box of parallels.
pub(crate) fn parallels(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Parallels> {
    reader.keys(table, &["pairs", "length", "width"]);
    let pairs = reader.required(table, "pairs", "heights on hand, such as `[5, 6, 8, 10]`", |r, item| {
        r.some_rising(item, Kind::Length, &LENGTH)
    });
    let length = optional_plain(reader, table, "length", Kind::Length, &LENGTH);
    let width = optional_plain(reader, table, "width", Kind::Length, &LENGTH);
    Some(Parallels { pairs: lengths(pairs?), length: length.map(mm), width: width.map(mm) })
}

/// Reads one kind of packing.
pub(crate) fn packing(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Packing> {
    reader.keys(table, &["material", "thickness", "friction", "yield"]);
    let material = reader.required(table, "material", "a text such as `soft copper`", |r, item| r.text(item));
    let thickness = reader.required(table, "thickness", "thicknesses on hand, such as `[0.5, 1.0]`", |r, item| {
        r.some_rising(item, Kind::Length, &LENGTH)
    });
    let friction = optional_plain(reader, table, "friction", Kind::Share, &FRICTION);
    let yield_strength =
        reader.optional(table, "yield", |r, item| r.plain(item, Kind::Pressure, &from_to(1.0, 5_000.0)));
    Some(Packing {
        material: material?,
        thickness: lengths(thickness?),
        friction,
        yield_strength: yield_strength.map(mpa),
    })
}

/// Reads one stop in the spindle.
pub(crate) fn stop(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Stop> {
    reader.keys(table, &["reach"]);
    let accepts = "`[least, most]` of its end out of the chuck face, such as `[-60, 25]`";
    let (least, most) =
        reader.required(table, "reach", accepts, |r, item| r.range(item, Kind::Length, &SIGNED_LENGTH))?;
    Some(Stop { reach: (mm(least), mm(most)) })
}

/// Reads one kind of vee.
pub(crate) fn vee(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Vee> {
    const MOST: u32 = 12;
    reader.keys(table, &["material", "angle", "width", "height", "length", "count", "friction", "yield"]);
    let material = reader.required(table, "material", "a text such as `soft aluminium`", |r, item| r.text(item));
    let angle = required_plain(reader, table, "angle", Kind::Angle, &VEE_ANGLE);
    let width = required_plain(reader, table, "width", Kind::Length, &LENGTH);
    let height = required_plain(reader, table, "height", Kind::Length, &LENGTH);
    let length = required_plain(reader, table, "length", Kind::Length, &LENGTH);
    let count =
        if table.has("count") { reader.optional(table, "count", |r, item| r.whole(item, 1, MOST)) } else { Some(1) };
    let friction = optional_plain(reader, table, "friction", Kind::Share, &FRICTION);
    let yield_strength =
        reader.optional(table, "yield", |r, item| r.plain(item, Kind::Pressure, &from_to(1.0, 5_000.0)));
    let (angle, width, height) = (angle?, width?, height?);
    Some(Vee {
        material: material?,
        angle: degrees(angle),
        width: mm(width),
        height: mm(behind_the_groove(reader, table, (angle, width, height))?),
        length: mm(length?),
        count: count?,
        friction,
        yield_strength: yield_strength.map(mpa),
    })
}

/// The height of a vee whose groove leaves metal behind it.
fn behind_the_groove(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    (angle_deg, width_mm, height_mm): (f64, f64, f64),
) -> Option<f64> {
    let deep_mm = engine::holding::groove_depth_mm(width_mm, (angle_deg / 2.0).to_radians());
    if height_mm > deep_mm {
        return Some(height_mm);
    }
    let span = table.get("height").map_or(table.span.clone(), |item| item.span);
    let says = format!("`{}.height` is no more than the groove is deep", table.path);
    let deep = engine::quantity::show::length(deep_mm, reader.units);
    reader.fault(span, says, format!("more than {deep}, the depth of a groove of that angle and width"))
}

/// Reads one gauge.
pub(crate) fn gauge(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    number: usize,
    assumed: &mut Vec<Assumed>,
) -> Option<Gauge> {
    reader.keys(table, &["name", "graduation", "range", "uncertainty", "fits_in_chuck"]);
    let name = name(reader, table, "gauge", number);
    let graduation = required_plain(reader, table, "graduation", Kind::Length, &LENGTH);
    let range = reader.optional(table, "range", |r, item| r.range(item, Kind::Length, &LENGTH_OR_ZERO));
    let uncertainty = optional_plain(reader, table, "uncertainty", Kind::Length, &SPREAD_LENGTH);
    let fits = if table.has("fits_in_chuck") {
        reader.optional(table, "fits_in_chuck", |r, item| r.flag(item))
    } else {
        let source = "cautious: the piece is taken out to measure it";
        let which = name.as_deref().unwrap_or("a gauge");
        assume(assumed, format!("whether the {which} reaches the work in the chuck"), "no", source);
        Some(false)
    };
    Some(Gauge {
        name: name?,
        graduation: mm(graduation?),
        range: range.map(|(least, most)| (mm(least), mm(most))),
        uncertainty: uncertainty.map(mm),
        fits_in_chuck: fits?,
    })
}

/// Reads the handling times.
pub(crate) fn minutes(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<Minutes> {
    let table = table_of(reader, item)?;
    reader.keys(
        &table,
        &["set_up", "turn_piece", "measure", "touch_off", "next_pass", "set_depth", "lay_vee", "reverse_jaws"],
    );
    let time = |reader: &mut Reader<'_>, key| optional_plain(reader, &table, key, Kind::Time, &MINUTES);
    Some(Minutes {
        set_up: time(reader, "set_up"),
        turn_piece: time(reader, "turn_piece"),
        measure: time(reader, "measure"),
        touch_off: time(reader, "touch_off"),
        next_pass: time(reader, "next_pass"),
        set_depth: time(reader, "set_depth"),
        lay_vee: time(reader, "lay_vee"),
        reverse_jaws: time(reader, "reverse_jaws"),
    })
}

/// Keys of how sizes and squareness scatter.
const SCATTER: [&str; 16] = [
    "touch_off",
    "bar",
    "seat",
    "screw",
    "cut",
    "cut_share",
    "by_eye",
    "chuck_face",
    "dirt",
    "packing",
    "parallels",
    "roughness",
    "sawn_end",
    "skin",
    "tapped",
    "new_blank",
];

/// Reads how the shop's sizes and squareness scatter.
pub(crate) fn scatter(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<Scatter> {
    let table = table_of(reader, item)?;
    reader.keys(&table, &SCATTER);
    let length =
        |reader: &mut Reader<'_>, key| optional_plain(reader, &table, key, Kind::Length, &SPREAD_LENGTH).map(mm);
    let angle =
        |reader: &mut Reader<'_>, key| optional_plain(reader, &table, key, Kind::Angle, &SPREAD_ANGLE).map(degrees);
    let share = |reader: &mut Reader<'_>, key| optional_plain(reader, &table, key, Kind::Share, &from_to(0.0, 0.5));
    Some(Scatter {
        touch_off: length(reader, "touch_off"),
        bar: length(reader, "bar"),
        seat: length(reader, "seat"),
        screw: share(reader, "screw"),
        cut: length(reader, "cut"),
        cut_share: share(reader, "cut_share"),
        by_eye: angle(reader, "by_eye"),
        chuck_face: angle(reader, "chuck_face"),
        dirt: length(reader, "dirt"),
        packing: length(reader, "packing"),
        parallels: length(reader, "parallels"),
        roughness: share(reader, "roughness"),
        sawn_end: angle(reader, "sawn_end"),
        skin: angle(reader, "skin"),
        tapped: length(reader, "tapped"),
        new_blank_minutes: optional_plain(reader, &table, "new_blank", Kind::Time, &MINUTES),
    })
}

fn lengths(values: Vec<f64>) -> Vec<Length> {
    values.into_iter().map(mm).collect()
}
