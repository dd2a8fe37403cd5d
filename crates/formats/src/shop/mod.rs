//! The shop file, or a folder of them: TOML to [`engine::shop::Shop`].

mod chuck;
mod lathe;
mod stock;
mod things;

use engine::plan::Assumed;
use engine::shop::{Chuck, Gauge, Lathe, Minutes, Packing, Parallels, Scatter, Shop, ShopBar, Stop, Tool, Vee};

use crate::job::units;
use crate::reader::{Reader, document};
use crate::table::{Item, Table};
use crate::{Fault, Places};

/// A shop as read, and where its values stand.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadShop {
    /// The shop.
    pub shop: Shop,
    /// Places for what the engine says later: `lathe[0].speeds`; things count on across files.
    pub places: Places,
    /// Values that the file left out and the reader filled in, for the plan's list of what was assumed.
    pub assumed: Vec<Assumed>,
}

/// Reads a shop file; `name` is what its faults call it. Either a shop or every fault.
pub fn read(text: &str, name: &str) -> Result<ReadShop, Vec<Fault>> {
    read_together(&[(text, name)])
}

/// Reads the files of a folder together, each a text and its name, in the order given: things of a
/// kind count on from file to file. Each file has its own `units`.
pub fn read_together(files: &[(&str, &str)]) -> Result<ReadShop, Vec<Fault>> {
    let mut store = Store::default();
    let mut faults = Vec::new();
    let mut all_read = true;
    for (text, name) in files {
        match document(text, name) {
            Ok(document) => {
                let mut reader = Reader::new(text, name);
                file(&mut reader, &Table::root(document.get_ref()), &mut store);
                let (places, own) = reader.close();
                store.places.absorb(places);
                faults.extend(own);
            }
            Err(own) => {
                all_read = false;
                faults.extend(own);
            }
        }
    }
    // What a file would have held that does not read as TOML is not missing.
    if all_read {
        faults.extend(store.shortages(files.first().map_or("shop", |(_, name)| *name), faults.is_empty()));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    Ok(store.shop())
}

/// What the files gave so far; `None`: a thing with a fault, kept so that the others count right.
#[derive(Default)]
pub(crate) struct Store {
    name: Option<String>,
    lathes: Vec<Option<Lathe>>,
    chucks: Vec<Option<Chuck>>,
    tools: Vec<Option<Tool>>,
    parallels: Vec<Option<Parallels>>,
    packing: Vec<Option<Packing>>,
    vees: Vec<Option<Vee>>,
    stops: Vec<Option<Stop>>,
    gauges: Vec<Option<Gauge>>,
    minutes: Option<Minutes>,
    scatter: Option<Scatter>,
    stock: Vec<Option<Vec<ShopBar>>>,
    assumed: Vec<Assumed>,
    places: Places,
}

const KEYS: [&str; 13] = [
    "name",
    "units",
    "lathe",
    "chuck",
    "parallels",
    "stop",
    "tool",
    "packing",
    "vee",
    "gauge",
    "minutes",
    "scatter",
    "stock",
];

fn file(reader: &mut Reader<'_>, root: &Table<'_>, store: &mut Store) {
    units(reader, root);
    reader.keys(root, &KEYS);
    let name = reader.optional(root, "name", |r, item| {
        if store.name.is_some() {
            return r.fault(item.span.clone(), "another file of the shop names it already", "one `name` for the shop");
        }
        r.text(item)
    });
    store.name = store.name.take().or(name);
    let assumed = &mut store.assumed;
    each(reader, root, "lathe", &mut store.lathes, |r, table, at| lathe::read(r, table, at, assumed));
    each(reader, root, "chuck", &mut store.chucks, |r, table, at| chuck::read(r, table, at, assumed));
    each(reader, root, "tool", &mut store.tools, |r, table, at| things::tool(r, table, at, assumed));
    each(reader, root, "parallels", &mut store.parallels, |r, table, _| things::parallels(r, table));
    each(reader, root, "packing", &mut store.packing, |r, table, _| things::packing(r, table));
    each(reader, root, "stop", &mut store.stops, |r, table, _| things::stop(r, table));
    each(reader, root, "vee", &mut store.vees, |r, table, _| things::vee(r, table));
    each(reader, root, "gauge", &mut store.gauges, |r, table, at| things::gauge(r, table, at, assumed));
    each(reader, root, "stock", &mut store.stock, |r, table, _| stock::stock(r, table));
    one_name_each(reader, root);
    let minutes = reader.optional(root, "minutes", |r, item| {
        if store.minutes.is_some() {
            return r.fault(item.span.clone(), "another file of the shop has `[minutes]` already", "one `[minutes]`");
        }
        things::minutes(r, item)
    });
    store.minutes = store.minutes.take().or(minutes);
    let scatter = reader.optional(root, "scatter", |r, item| {
        if store.scatter.is_some() {
            return r.fault(item.span.clone(), "another file of the shop has `[scatter]` already", "one `[scatter]`");
        }
        things::scatter(r, item)
    });
    store.scatter = store.scatter.take().or(scatter);
}

/// Reads every table of a kind, `[[lathe]]` for instance, and counts on from what there is.
fn each<T>(
    reader: &mut Reader<'_>,
    root: &Table<'_>,
    key: &str,
    there: &mut Vec<Option<T>>,
    mut read: impl FnMut(&mut Reader<'_>, &Table<'_>, usize) -> Option<T>,
) {
    let accepts = format!("tables `[[{key}]]`");
    let first = there.len();
    let Some(list) = root.get(key) else { return };
    for (index, item) in reader.list(&list, first, &accepts).unwrap_or_default().into_iter().enumerate() {
        reader.places.note(&item.path, item.span.clone());
        let thing = reader.table(&item, &accepts).and_then(|table| read(reader, &table, first + index + 1));
        there.push(thing);
    }
}

/// A thing's own name, or one made of its kind and number.
pub(crate) fn name(reader: &mut Reader<'_>, table: &Table<'_>, kind: &str, number: usize) -> Option<String> {
    if !table.has("name") {
        return Some(format!("{kind} {number}"));
    }
    reader.optional(table, "name", |r, item| r.text(item))
}

/// Two lathes of one name could not be told apart in a job.
fn one_name_each(reader: &mut Reader<'_>, root: &Table<'_>) {
    for kind in ["lathe", "chuck", "tool", "gauge"] {
        let Some(list) = root.get(kind).and_then(|list| list.value.as_array()) else { continue };
        let mut seen = std::collections::BTreeSet::new();
        let named = list.iter().filter_map(|thing| thing.get_ref().as_table()?.get("name"));
        for name in named {
            if let Some(text) = name.get_ref().as_str()
                && !seen.insert(text)
            {
                let says = format!("two things of the kind `{kind}` are called `{}`", crate::reader::brief(text));
                reader.fault::<()>(name.span(), says, "a name of its own for each");
            }
        }
    }
}

/// Notes a value that the reader filled in.
pub(crate) fn assume(assumed: &mut Vec<Assumed>, what: String, value: &str, source: &str) {
    assumed.push(Assumed { what, value: value.to_string(), source: source.to_string() });
}

impl Store {
    /// What a shop cannot do without, and names that two files share.
    fn shortages(&self, file: &str, all_well: bool) -> Vec<Fault> {
        let mut short = Vec::new();
        for (there, key) in [(self.lathes.len(), "lathe"), (self.chucks.len(), "chuck"), (self.tools.len(), "tool")] {
            if there == 0 {
                short.push(Fault {
                    file: file.to_string(),
                    span: Some(0..0),
                    says: format!("the shop has no `[[{key}]]`"),
                    accepts: format!("one `[[{key}]]` at least"),
                });
            }
        }
        if all_well {
            short.extend(self.shared_names());
        }
        short
    }

    fn shared_names(&self) -> Vec<Fault> {
        let lathes = self.lathes.iter().flatten().map(|thing| thing.name.as_str()).collect();
        let chucks = self.chucks.iter().flatten().map(|thing| thing.name.as_str()).collect();
        let tools = self.tools.iter().flatten().map(|thing| thing.name.as_str()).collect();
        let gauges = self.gauges.iter().flatten().map(|thing| thing.name.as_str()).collect();
        [("lathe", lathes), ("chuck", chucks), ("tool", tools), ("gauge", gauges)]
            .into_iter()
            .flat_map(|(kind, names): (&str, Vec<&str>)| self.shared(kind, &names))
            .collect()
    }

    fn shared(&self, kind: &str, names: &[&str]) -> Vec<Fault> {
        let mut seen = std::collections::BTreeSet::new();
        let again = names.iter().enumerate().filter(|(_, name)| !seen.insert(**name));
        again
            .map(|(index, name)| {
                let path = format!("{kind}[{index}].name");
                Fault {
                    file: self.places.file(&path).unwrap_or_default().to_string(),
                    span: self.places.find(&path),
                    says: format!("two things of the kind `{kind}` are called `{name}`"),
                    accepts: "a name of its own for each".to_string(),
                }
            })
            .collect()
    }

    fn shop(self) -> ReadShop {
        let shop = Shop {
            name: self.name.unwrap_or_else(|| "shop without a name".to_string()),
            lathes: self.lathes.into_iter().flatten().collect(),
            chucks: self.chucks.into_iter().flatten().collect(),
            tools: self.tools.into_iter().flatten().collect(),
            parallels: self.parallels.into_iter().flatten().collect(),
            packing: self.packing.into_iter().flatten().collect(),
            vees: self.vees.into_iter().flatten().collect(),
            stops: self.stops.into_iter().flatten().collect(),
            gauges: self.gauges.into_iter().flatten().collect(),
            minutes: self.minutes.unwrap_or_default(),
            scatter: self.scatter.unwrap_or_default(),
            stock: self.stock.into_iter().flatten().flatten().collect(),
        };
        ReadShop { shop, places: self.places, assumed: self.assumed }
    }
}

/// An optional quantity of a table as a plain number.
pub(crate) fn optional_plain(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    key: &str,
    kind: engine::quantity::Kind,
    bounds: &crate::bounds::Bounds,
) -> Option<f64> {
    reader.optional(table, key, |r, item| r.plain(item, kind, bounds))
}

/// A quantity of a table that must be there, as a plain number.
pub(crate) fn required_plain(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    key: &str,
    kind: engine::quantity::Kind,
    bounds: &crate::bounds::Bounds,
) -> Option<f64> {
    let accepts = kind.accepts(reader.units);
    reader.required(table, key, &accepts, |r, item| r.plain(item, kind, bounds))
}

/// The table that an item must be.
pub(crate) fn table_of<'t>(reader: &mut Reader<'_>, item: &Item<'t>) -> Option<Table<'t>> {
    let accepts = format!("a table `[{}]`", item.path);
    reader.table(item, &accepts)
}
