//! `[[stock]]` of a shop: bars that it can get, many sizes in one table.

use engine::cutting;
use engine::job::{BarForm, BarShape};
use engine::quantity::{Kind, mm};
use engine::shop::{BlankMinutes, Blanks, ShopBar};

use super::optional_plain;
use crate::bar::{self, shape, size_keys, surface};
use crate::bounds::{MINUTES, SIZE};
use crate::reader::{Reader, brief};
use crate::table::{Item, Table};
use crate::word;

/// Sizes of one table at most: a dealer's whole list of a section has fewer.
const MOST_SIZES: usize = 60;

/// Reads one table: a bar for every size that it lists.
pub(crate) fn stock(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Vec<ShopBar>> {
    let accepts = word::choice(&BarShape::ALL.map(BarShape::name));
    let section = reader.required(table, "form", &accepts, shape);
    let keys = match section {
        Some(BarShape::Flat) => &["sizes"],
        other => size_keys(other),
    };
    let others = ["form", "material", "surface", "lengths", "longest", "sawing", "per_kg"];
    reader.keys(table, &[&others[..1], keys, &others[1..]].concat());
    let forms = section.and_then(|section| forms(reader, table, section));
    let material = reader.required(table, "material", "the name of a row of the material table", material);
    let surface = reader.optional(table, "surface", surface);
    let blanks = blanks(reader, table);
    let minutes = minutes(reader, table);
    let (material, blanks, minutes) = (material?, blanks?, minutes?);
    let bar = |form| ShopBar { form, material: material.clone(), surface, blanks: blanks.clone(), minutes };
    Some(forms?.into_iter().map(bar).collect())
}

fn forms(reader: &mut Reader<'_>, table: &Table<'_>, section: BarShape) -> Option<Vec<BarForm>> {
    if section == BarShape::Flat {
        const PAIRS: &str = "a list of width and thickness, such as `[[50, 20], [60, 40]]`";
        return reader.required(table, "sizes", PAIRS, |r, item| {
            let items = few(r, item, PAIRS)?;
            let pairs = items.iter().map(|item| pair(r, item)).collect::<Vec<_>>();
            pairs.into_iter().collect()
        });
    }
    let key = bar::size_keys(Some(section))[0];
    let accepts = format!("one size or a list, rising, of {}", Kind::Length.accepts(reader.units));
    let sizes = reader.required(table, key, &accepts, |r, item| lengths(r, item, &accepts))?;
    let form = |size: f64| match section {
        BarShape::Round => BarForm::Round { diameter: mm(size) },
        BarShape::Square => BarForm::Square { across: mm(size) },
        BarShape::Hexagon | BarShape::Flat => BarForm::Hexagon { across: mm(size) },
    };
    Some(sizes.into_iter().map(form).collect())
}

/// One length or several, rising.
fn lengths(reader: &mut Reader<'_>, item: &Item<'_>, accepts: &str) -> Option<Vec<f64>> {
    if !item.value.is_array() {
        return reader.plain(item, Kind::Length, &SIZE).map(|size| vec![size]);
    }
    few(reader, item, accepts)?;
    reader.some_rising(item, Kind::Length, &SIZE)
}

/// The entries of a list that is not longer than any list of sizes.
fn few<'t>(reader: &mut Reader<'_>, item: &Item<'t>, accepts: &str) -> Option<Vec<Item<'t>>> {
    let items = reader.list(item, 0, accepts)?;
    if items.is_empty() || items.len() > MOST_SIZES {
        let says = format!("`{}` has {} sizes", item.path, items.len());
        return reader.fault(item.span.clone(), says, format!("1 to {MOST_SIZES} sizes in one table"));
    }
    Some(items)
}

fn pair(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<BarForm> {
    const ACCEPTS: &str = "width and thickness, such as `[50, 20]`";
    let items = reader.list(item, 0, ACCEPTS)?;
    let [width, thickness] = items.as_slice() else {
        let says = format!("`{}` has {} values; two are due", item.path, items.len());
        return reader.fault(item.span.clone(), says, ACCEPTS);
    };
    let (wide, thick) = (reader.plain(width, Kind::Length, &SIZE), reader.plain(thickness, Kind::Length, &SIZE));
    let (wide, thick) = (wide?, thick?);
    if thick > wide {
        return reader.fault(item.span.clone(), format!("`{}` is thicker than wide", item.path), ACCEPTS);
    }
    Some(BarForm::Flat { width: mm(wide), thickness: mm(thick) })
}

/// A row of the material table: a job's own material is known to that job alone.
fn material(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<String> {
    let name = reader.text(item)?;
    if cutting::material(&name).is_some() {
        return Some(name);
    }
    let known: Vec<&str> = cutting::materials().iter().map(|row| row.name.as_str()).collect();
    let says = format!("no material is named `{}`{}", brief(&name), word::hint(&name, &known));
    reader.fault(item.span.clone(), says, word::choice(&word::nearest_first(&brief(&name), &known)))
}

fn blanks(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Blanks> {
    const PIECES: &str = "lengths of the pieces on hand, rising, such as `[50, 75, 100]`";
    if let (Some(_), Some(longest)) = (table.get("lengths"), table.get("longest")) {
        let says = "`lengths` are pieces as they lie there, `longest` bounds what is sawn from a bar: both are given";
        return reader.fault(longest.span, says, "one of the two, or neither: sawn to any length");
    }
    if table.has("lengths") {
        let pieces = reader.optional(table, "lengths", |r, item| lengths(r, item, PIECES))?;
        return Some(Blanks::Pieces(pieces.into_iter().map(mm).collect()));
    }
    let longest = optional_plain(reader, table, "longest", Kind::Length, &SIZE);
    (longest.is_some() || !table.has("longest")).then(|| Blanks::Sawn { longest: longest.map(mm) })
}

/// `Some(None)`: nothing is said of it.
fn minutes(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Option<BlankMinutes>> {
    let sawing = optional_plain(reader, table, "sawing", Kind::Time, &MINUTES);
    let per_kg = optional_plain(reader, table, "per_kg", Kind::Time, &MINUTES);
    match (table.get("sawing"), table.get("per_kg")) {
        (None, None) => Some(None),
        (None, Some(item)) => {
            let says = format!("`{}` is given without `sawing`", item.path);
            let accepts =
                "both: minutes until a blank lies sawn at the lathe, and minutes of work that a kilogram costs";
            reader.fault(item.span, says, accepts)
        }
        (Some(_), price) => {
            let per_kg = if price.is_some() { per_kg? } else { 0.0 };
            Some(Some(BlankMinutes { sawing: sawing?, per_kg }))
        }
    }
}
