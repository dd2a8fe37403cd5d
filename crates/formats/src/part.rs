//! The `[part]` table: what the drawing asks for.

use engine::part::{Form, General, Part, Sized};
use engine::plan::UNFINISHED;
use engine::quantity::{self, Kind, Length, degrees, mm};

use crate::bounds::{ANGLE_LIMIT, LENGTH, ROUND, SIGNED_LENGTH, from_to};
use crate::reader::{Reader, brief};
use crate::sized::{SIZED, sized};
use crate::table::{Item, Table};
use crate::word;

const COMMON: [&str; 14] = [
    "kind",
    "length",
    "general",
    "square",
    "parallel",
    "flat",
    "angles",
    "position",
    "roughness",
    "offset",
    "turn",
    "names",
    "centre_holes",
    "leave",
];
const FEWEST_SIDES: u32 = 3;
const MOST_SIDES: u32 = 24;

#[derive(Clone, Copy, PartialEq)]
enum PartKind {
    Block,
    Prism,
}

/// Reads the table.
pub(crate) fn read(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Part> {
    let kind = reader.required(table, "kind", "`block` or `prism`", part_kind);
    reader.keys(table, &[&COMMON[..], own_keys(kind)].concat());
    let form = match kind {
        Some(PartKind::Block) => block(reader, table),
        Some(PartKind::Prism) => prism(reader, table),
        None => None,
    };
    let length = reader.required(table, "length", SIZED, sized);
    let zone = |reader: &mut Reader<'_>, key| reader.optional(table, key, |r, item| length_of(r, item));
    let (square, parallel, flat) = (zone(reader, "square"), zone(reader, "parallel"), zone(reader, "flat"));
    let position = zone(reader, "position");
    let angles = reader.optional(table, "angles", |r, item| r.plain(item, Kind::Angle, &ANGLE_LIMIT));
    let general = reader.optional(table, "general", general);
    let roughness = reader.optional(table, "roughness", roughness);
    let offset = reader.optional(table, "offset", offset);
    let turn = reader.optional(table, "turn", |r, item| r.plain(item, Kind::Angle, &from_to(-360.0, 360.0)));
    let names = names(reader, table, form.as_ref());
    let centre_holes = reader.optional(table, "centre_holes", |r, item| length_of(r, item));
    let leave = leave(reader, table, names.as_deref());
    Some(Part {
        form: form?,
        length: length?,
        offset: offset.unwrap_or((mm(0.0), mm(0.0))),
        turn: degrees(turn.unwrap_or(0.0)),
        names: names?,
        square,
        parallel,
        flat,
        angles: angles.map(degrees),
        position,
        general: general.unwrap_or_default(),
        roughness,
        centre_holes,
        leave: leave?,
    })
}

fn part_kind(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<PartKind> {
    if item.value.as_str() == Some("turned") {
        let says = "`part.kind` is `turned`: turned parts are not planned yet";
        return reader.fault(item.span.clone(), says, "`block` or `prism`");
    }
    reader.word(item, &[("block", PartKind::Block), ("prism", PartKind::Prism)])
}

fn own_keys(kind: Option<PartKind>) -> &'static [&'static str] {
    match kind {
        Some(PartKind::Block) => &["width", "height"],
        Some(PartKind::Prism) => &["sides", "regular"],
        None => &["width", "height", "sides", "regular"],
    }
}

fn block(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Form> {
    let width = reader.required(table, "width", SIZED, sized);
    let height = reader.required(table, "height", SIZED, sized);
    Some(Form::Block { width: width?, height: height? })
}

fn prism(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Form> {
    match (table.get("sides"), table.get("regular")) {
        (Some(_), None) => reader.optional(table, "sides", sides),
        (None, Some(_)) => reader.optional(table, "regular", regular),
        (both, _) => {
            let number = if both.is_some() { "both" } else { "neither" };
            let says = format!("a prism has `sides` or `regular`; {number} is here");
            reader.fault(both.map_or(table.span.clone(), |item| item.span), says, PRISM)
        }
    }
}

const PRISM: &str = "`sides = [{ angle = 0, distance = 18 }, ...]` or `regular = { sides = 6, across_flats = 30 }`";

fn regular(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<Form> {
    let table = reader.table(item, PRISM)?;
    reader.keys(&table, &["sides", "across_flats"]);
    let sides = reader.required(&table, "sides", "a whole number", |r, item| r.whole(item, FEWEST_SIDES, MOST_SIDES));
    let across_flats = reader.required(&table, "across_flats", SIZED, sized);
    Some(Form::Regular { sides: sides?, across_flats: across_flats? })
}

fn sides(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<Form> {
    let items = reader.list(item, 0, PRISM)?;
    let accepts = format!("{FEWEST_SIDES} to {MOST_SIDES} sides");
    if !(FEWEST_SIDES as usize..=MOST_SIDES as usize).contains(&items.len()) {
        return reader.fault(item.span.clone(), format!("`{}` lists {} sides", item.path, items.len()), accepts);
    }
    let sides = items.iter().map(|item| side(reader, item)).collect::<Vec<_>>();
    let sides = sides.into_iter().collect::<Option<Vec<(f64, Sized)>>>()?;
    goes_round_once(reader, &items, &sides)?;
    Some(Form::Sides(sides.into_iter().map(|(angle, size)| (degrees(angle), size)).collect()))
}

fn side(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<(f64, Sized)> {
    let table = reader.table(item, "`{ angle = 0, distance = 18 }`")?;
    reader.places.note(&item.path, item.span.clone());
    reader.keys(&table, &["angle", "distance"]);
    let angle = reader
        .required(&table, "angle", "an angle, counter-clockwise from x", |r, item| r.plain(item, Kind::Angle, &ROUND));
    let distance = reader.required(&table, "distance", SIZED, sized);
    Some((angle?, distance?))
}

/// The angles rise, and no two neighbours are half a turn or more apart: else the section stays open.
fn goes_round_once(reader: &mut Reader<'_>, items: &[Item<'_>], sides: &[(f64, Sized)]) -> Option<()> {
    let accepts = "angles that rise from 0 to less than 360 deg, each less than 180 deg after the one before";
    let before = |index: usize| match index {
        0 => sides[sides.len() - 1].0 - 360.0,
        _ => sides[index - 1].0,
    };
    if let Some(index) = (1..sides.len()).find(|&index| sides[index].0 <= before(index)) {
        let says = format!("`{}` does not come after the side before it", items[index].path);
        return reader.fault(items[index].span.clone(), says, accepts);
    }
    if let Some(index) = (0..sides.len()).find(|&index| sides[index].0 - before(index) >= 180.0) {
        let gap = sides[index].0 - before(index);
        let says = format!("`{}` leaves the section open: {gap} deg to the side before it", items[index].path);
        return reader.fault(items[index].span.clone(), says, accepts);
    }
    Some(())
}

fn length_of(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<Length> {
    reader.plain(item, Kind::Length, &LENGTH).map(mm)
}

/// `"mK"`: the classes of ISO 2768.
fn general(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<General> {
    const ACCEPTS: &str =
        "`f`, `m`, `c` or `v` for sizes and angles, `H`, `K` or `L` for form and place, or both: `mK`";
    let Some(text) = item.value.as_str() else { return reader.wrong_kind(item, ACCEPTS) };
    match General::read(text) {
        Ok(general) => Some(general),
        Err((at, letter)) => {
            let says = match letter {
                ' ' => format!("`{}` names no class of ISO 2768", item.path),
                _ => format!("`{}` says `{}`: `{letter}` is no class here", item.path, brief(text)),
            };
            let place = reader.place_in(item, text, at);
            reader.fault(place, says, ACCEPTS)
        }
    }
}

/// `"Ra 1.6 um"`: only Ra is planned for.
fn roughness(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<Length> {
    const ACCEPTS: &str = "`Ra 1.6 um` or `Ra 63 uin`";
    const FINEST_MM: f64 = 0.00001;
    const COARSEST_MM: f64 = 0.1;
    let Some(text) = item.value.as_str() else { return reader.wrong_kind(item, ACCEPTS) };
    let value = text.trim_start().strip_prefix("Ra").unwrap_or(text);
    if value.trim_start().starts_with(|c: char| c.is_alphabetic()) && !value.trim_start().starts_with(['µ', 'μ']) {
        let says = format!("`{}` says `{}`; the arithmetic mean Ra is what is read", item.path, brief(text));
        return reader.fault(item.span.clone(), says, ACCEPTS);
    }
    match quantity::read(value, Kind::Roughness, reader.units) {
        Ok(reading) if (FINEST_MM..=COARSEST_MM).contains(&reading.plain) => Some(mm(reading.plain)),
        Ok(_) => {
            let says = format!("`{}` says `{}`; it must be from 0.01 to 100 um", item.path, brief(text));
            reader.fault(item.span.clone(), says, ACCEPTS)
        }
        Err(misread) => {
            let says = format!("`{}` says `{}`: {}", item.path, brief(text), misread.says);
            let place = reader.place_in(item, text, text.len() - value.len() + misread.at);
            reader.fault(place, says, ACCEPTS)
        }
    }
}

fn offset(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<(Length, Length)> {
    const ACCEPTS: &str = "`[dx, dy]`, two lengths: x towards C, y a quarter turn on";
    let items = reader.list(item, 0, ACCEPTS)?;
    if items.len() != 2 {
        return reader.fault(item.span.clone(), format!("`{}` has {} values", item.path, items.len()), ACCEPTS);
    }
    let along = |reader: &mut Reader<'_>, item| reader.plain(item, Kind::Length, &SIGNED_LENGTH).map(mm);
    let (x, y) = (along(reader, &items[0]), along(reader, &items[1]));
    Some((x?, y?))
}

/// The faces' names: the job's own, else letters.
fn names(reader: &mut Reader<'_>, table: &Table<'_>, form: Option<&Form>) -> Option<Vec<String>> {
    let faces = form.map(|form| 2 + number_of_sides(form));
    if !table.has("names") {
        return faces.map(|faces| ('A'..='Z').take(faces).map(String::from).collect());
    }
    let own = reader.optional(table, "names", own_names)?;
    match faces {
        Some(faces) if own.len() != faces => {
            let span = table.get("names").map_or(table.span.clone(), |item| item.span);
            let says = format!("`part.names` has {} names for {faces} faces", own.len());
            reader.fault(span, says, "a name for each face: the two ends, then the sides counter-clockwise")
        }
        Some(_) => Some(own),
        None => None,
    }
}

fn own_names(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<Vec<String>> {
    const LONGEST: usize = 12;
    let names = reader.texts(item, "a list of short names, none twice")?;
    let taken = |name: &str| UNFINISHED.iter().any(|taken| name.eq_ignore_ascii_case(taken));
    let Some(bad) = names.iter().find(|name| name.chars().count() > LONGEST || taken(name)) else {
        return Some(names);
    };
    let says = format!("`{}` cannot name a face `{}`", item.path, brief(bad));
    reader.fault(
        item.span.clone(),
        says,
        format!("names of at most {LONGEST} letters; `bar` means the raw bar, `sawn end` an end of it"),
    )
}

fn number_of_sides(form: &Form) -> usize {
    match form {
        Form::Block { .. } => 4,
        Form::Sides(sides) => sides.len(),
        Form::Regular { sides, .. } => *sides as usize,
    }
}

/// Faces that stay as they are.
fn leave(reader: &mut Reader<'_>, table: &Table<'_>, names: Option<&[String]>) -> Option<Vec<String>> {
    let Some(list) = table.get("leave") else { return Some(Vec::new()) };
    let accepts = names.map_or("a list of faces".to_string(), |names| {
        word::choice(&names.iter().map(String::as_str).collect::<Vec<_>>())
    });
    let leave = reader.optional(table, "leave", |r, item| match item.value.as_array() {
        Some(none) if none.is_empty() => Some(Vec::new()),
        _ => r.texts(item, &accepts),
    })?;
    let names = names?;
    if let Some(unknown) = leave.iter().find(|face| !names.contains(face)) {
        let says = format!("`part.leave` names `{}`, which is no face of the part", brief(unknown));
        return reader.fault(list.span, says, accepts);
    }
    if leave.len() == names.len() {
        return reader.fault(list.span, "`part.leave` leaves every face: nothing is to be cut", accepts);
    }
    Some(leave)
}
