//! Bars in job and shop files: form, sizes, skin.

use engine::job::{BarForm, BarShape, Surface};
use engine::quantity::{Kind, Length, mm};

use crate::bounds::SIZE;
use crate::reader::Reader;
use crate::table::{Item, Table};
use crate::word;

/// In a job in place of form or size: whatever of it the shop lists.
pub(crate) const ANY: &str = "any";

const SURFACES: [(&str, Surface); 5] = [
    ("hot-rolled", Surface::HotRolled),
    ("drawn", Surface::Drawn),
    ("turned", Surface::Turned),
    ("ground", Surface::Ground),
    ("cast", Surface::Cast),
];

/// A bar as a job gives it.
pub(crate) enum Bar {
    /// Of this section, with its sizes where they read.
    Of(BarShape, Option<BarForm>),
    /// To be chosen, of this section where one is asked.
    Any(Option<BarShape>),
}

impl Bar {
    /// Its section, where it has one.
    pub fn shape(&self) -> Option<BarShape> {
        match self {
            Bar::Of(shape, _) => Some(*shape),
            Bar::Any(shape) => *shape,
        }
    }
}

/// The skin of a bar.
pub(crate) fn surface(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<Surface> {
    reader.word(item, &SURFACES)
}

/// The section of a bar of the shop.
pub(crate) fn shape(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<BarShape> {
    reader.word(item, &BarShape::ALL.map(|shape| (shape.name(), shape)))
}

/// Keys of the sizes of a section.
pub(crate) fn size_keys(shape: Option<BarShape>) -> &'static [&'static str] {
    match shape {
        Some(BarShape::Round) => &["diameter"],
        Some(BarShape::Square | BarShape::Hexagon) => &["across"],
        Some(BarShape::Flat) => &["width", "thickness"],
        None => &["diameter", "across", "width", "thickness"],
    }
}

/// `form` and its sizes in a job; either may be left to the shop's list.
pub(crate) fn of_the_job(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<Bar> {
    let known: Vec<(&str, Option<BarShape>)> =
        BarShape::ALL.iter().map(|shape| (shape.name(), Some(*shape))).chain([(ANY, None)]).collect();
    let accepts = word::choice(&known.iter().map(|(name, _)| *name).collect::<Vec<_>>());
    let shape = reader.required(table, "form", &accepts, |r, item| r.word(item, &known))?;
    let is_any = |key: &&str| table.get(key).is_some_and(|item| item.value.as_str() == Some(ANY));
    let keys = size_keys(shape);
    let open = keys.iter().filter(|key| is_any(key)).count();
    let Some(shape) = shape else {
        if let Some(item) = keys.iter().filter(|key| !is_any(key)).find_map(|key| table.get(key)) {
            let says = format!("`{}` is given, and `form` is `{ANY}`", item.path);
            reader.fault::<()>(item.span, says, "the form too, or no sizes");
        }
        return Some(Bar::Any(None));
    };
    if open == keys.len() {
        return Some(Bar::Any(Some(shape)));
    }
    if let Some(item) = keys.iter().filter(|key| is_any(key)).find_map(|key| table.get(key)) {
        let says = format!("`{}` is `{ANY}`, and the other size is not", item.path);
        reader.fault::<()>(item.span, says, format!("both sizes, or `{ANY}` for both"));
        return Some(Bar::Of(shape, None));
    }
    let form = match shape {
        BarShape::Round => size(reader, table, "diameter").map(|diameter| BarForm::Round { diameter }),
        BarShape::Square => size(reader, table, "across").map(|across| BarForm::Square { across }),
        BarShape::Hexagon => size(reader, table, "across").map(|across| BarForm::Hexagon { across }),
        BarShape::Flat => {
            let (width, thickness) = (size(reader, table, "width"), size(reader, table, "thickness"));
            width.zip(thickness).map(|(width, thickness)| BarForm::Flat { width, thickness })
        }
    };
    Some(Bar::Of(shape, form))
}

fn size(reader: &mut Reader<'_>, table: &Table<'_>, key: &str) -> Option<Length> {
    let accepts = Kind::Length.accepts(reader.units);
    reader.required(table, key, &accepts, |r, item| r.plain(item, Kind::Length, &SIZE)).map(mm)
}
