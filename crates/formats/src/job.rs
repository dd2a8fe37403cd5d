//! The job file: TOML to [`engine::job::Job`].

use engine::cutting;
use engine::job::{AnyJob, Job, JobMaterial, OrderWishes, OwnMaterial, Seek, Stock, StockWish, Wishes};
use engine::quantity::{Kind, Units, Velocity, kg_per_m3, m_per_min, mm, mpa};
use engine::shop::ToolMaterial;

use crate::bar::{self, ANY, Bar, surface};
use crate::bounds::{CLEAN_UP, DEEPEST_CUT, EXPONENT, FINISHING_CUT, INTERRUPTED_SHARE, SIZE, from_to};
use crate::reader::{Reader, brief, document};
use crate::table::{Item, Table};
use crate::{Fault, Places, part, word};

/// A job as read, and where its values stand in the file.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadJob<J = Job> {
    /// The job.
    pub job: J,
    /// Places for what the engine says later: `stock.material`, `part.width`, `use.lathe`.
    pub places: Places,
}

/// Reads a job file that gives its bar; `name` is what its faults call it. Either a job or every fault, top to bottom.
pub fn read(text: &str, name: &str) -> Result<ReadJob, Vec<Fault>> {
    let ReadJob { job, places } = read_any(text, name)?;
    match job {
        AnyJob::Given(job) => Ok(ReadJob { job, places }),
        AnyJob::Open(_) => Err(vec![Fault {
            file: name.to_string(),
            span: places.find("stock.form"),
            says: "the bar is left to be chosen from what a shop lists".to_string(),
            accepts: "a bar of the job's own: form, sizes, length".to_string(),
        }]),
    }
}

/// Reads a job file, whether it gives its bar or leaves it to be chosen.
pub fn read_any(text: &str, name: &str) -> Result<ReadJob<AnyJob>, Vec<Fault>> {
    let document = document(text, name)?;
    let mut reader = Reader::new(text, name);
    let job = job(&mut reader, &Table::root(document.get_ref()), name);
    let (places, faults) = reader.close();
    match job {
        Some(job) if faults.is_empty() => Ok(ReadJob { job, places }),
        _ => Err(faults),
    }
}

fn job(reader: &mut Reader<'_>, root: &Table<'_>, name: &str) -> Option<AnyJob> {
    let units = units(reader, root);
    reader.keys(root, &["title", "units", "stock", "part", "use", "cutting", "order", "material"]);
    let title = reader.optional(root, "title", |r, item| r.text(item));
    let own = reader.optional(root, "material", own_material);
    let stock = reader.required(root, "stock", "a table `[stock]`", |r, item| stock(r, item, root, own));
    let part = reader.required(root, "part", "a table `[part]`", |r, item| {
        let table = r.table(item, "a table `[part]`")?;
        part::read(r, &table)
    });
    let things = reader.optional(root, "use", things).unwrap_or_default();
    let cutting = reader.optional(root, "cutting", wishes).unwrap_or_default();
    let order = reader.optional(root, "order", order_wishes).unwrap_or_default();
    let job = Job {
        title: title.unwrap_or_else(|| name.to_string()),
        units: units?,
        stock: (),
        part: part?,
        lathe: things.lathe,
        chuck: things.chuck,
        tools: things.tools,
        cutting,
        order,
    };
    Some(match stock? {
        AnyStock::Given(stock) => AnyJob::Given(job.from_bar(stock)),
        AnyStock::Open(wish) => AnyJob::Open(job.from_bar(wish)),
    })
}

/// `units`, and from here on the reader reads bare numbers so.
pub(crate) fn units(reader: &mut Reader<'_>, root: &Table<'_>) -> Option<Units> {
    let units = reader.required(root, "units", "`mm` or `inch`", |r, item| {
        r.word(item, &[("mm", Units::Mm), ("inch", Units::Inch)])
    })?;
    reader.units = units;
    Some(units)
}

/// The bar, or what it must be.
enum AnyStock {
    Given(Stock),
    Open(StockWish),
}

fn stock(reader: &mut Reader<'_>, item: &Item<'_>, root: &Table<'_>, own: Option<OwnMaterial>) -> Option<AnyStock> {
    if item.value.is_array() {
        const ACCEPTS: &str = "one table `[stock]`; what the shop can get stands in the shop's file as `[[stock]]`";
        return reader.fault(item.span.clone(), "a job is made from one bar", ACCEPTS);
    }
    let table = reader.table(item, "a table `[stock]`")?;
    let bar = bar::of_the_job(reader, &table);
    let keys = ["form", "length", "material", "surface"];
    reader.keys(&table, &[&keys, bar::size_keys(bar.as_ref().and_then(Bar::shape))].concat());
    let open = matches!(bar, Some(Bar::Any(_)));
    let length = length(reader, &table, open);
    let material = material(reader, &table, root, own);
    let surface = reader.optional(&table, "surface", surface);
    Some(match bar? {
        Bar::Any(shape) => AnyStock::Open(StockWish { shape, length: length?, material: material?, surface }),
        Bar::Of(_, form) => AnyStock::Given(Stock { form: form?, length: length??, material: material?, surface }),
    })
}

/// The length as sawn; `Some(None)`: left open with the bar.
fn length(reader: &mut Reader<'_>, table: &Table<'_>, open: bool) -> Option<Option<engine::quantity::Length>> {
    let left_open = table.get("length").is_none_or(|item| item.value.as_str() == Some(ANY));
    if open && left_open {
        return Some(None);
    }
    let accepts = Kind::Length.accepts(reader.units);
    let length = reader.required(table, "length", &accepts, |r, item| r.plain(item, Kind::Length, &SIZE));
    length.map(|length| Some(mm(length)))
}

/// A row's name in `[stock]`, or the job's own `[material]`.
fn material(
    reader: &mut Reader<'_>,
    stock: &Table<'_>,
    root: &Table<'_>,
    own: Option<OwnMaterial>,
) -> Option<JobMaterial> {
    const ACCEPTS: &str = "the name of a row of the material table, or a table `[material]` of the job's own";
    let named = reader.optional(stock, "material", |r, item| r.text(item));
    match (named, root.has("material")) {
        (Some(name), false) => named_material(reader, stock, name),
        (Some(name), true) => {
            let own = own?;
            let span = stock.get("material").map_or(stock.span.clone(), |item| item.span);
            if own.name != name {
                let says = format!("`stock.material` is `{name}`, the table `[material]` is called `{}`", own.name);
                return reader.fault(span, says, "one of the two, or the same name in both");
            }
            Some(JobMaterial::Own(own))
        }
        (None, true) => own.map(JobMaterial::Own),
        (None, false) if stock.has("material") => None,
        (None, false) => reader.fault(stock.span.clone(), "`stock.material` is missing", ACCEPTS),
    }
}

/// A row of the material table, by its name.
fn named_material(reader: &mut Reader<'_>, stock: &Table<'_>, name: String) -> Option<JobMaterial> {
    if cutting::material(&name).is_some() {
        return Some(JobMaterial::Named(name));
    }
    let known: Vec<&str> = cutting::materials().iter().map(|row| row.name.as_str()).collect();
    let span = stock.get("material").map_or(stock.span.clone(), |item| item.span);
    let says = format!("no material is named `{}`{}", brief(&name), word::hint(&name, &known));
    reader.fault(
        span,
        says,
        format!("{}; or a table `[material]` of your own", word::choice(&word::nearest_first(&brief(&name), &known))),
    )
}

fn own_material(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<OwnMaterial> {
    let table = reader.table(item, "a table `[material]`")?;
    reader.keys(&table, &["name", "kc11", "mc", "density", "yield", "speed"]);
    let name = reader.required(&table, "name", "a text", |r, item| r.text(item));
    let kc11 = reader.required(&table, "kc11", "a specific cutting force such as `1700 MPa`", |r, item| {
        r.plain(item, Kind::Pressure, &from_to(1.0, 20_000.0))
    });
    let mc = reader.required(&table, "mc", "an exponent from 0 to under 1, such as 0.25", |r, item| {
        r.plain(item, Kind::Share, &EXPONENT)
    });
    let density = reader.required(&table, "density", "a density such as `7850 kg/m3`", |r, item| {
        r.plain(item, Kind::Density, &from_to(100.0, 30_000.0))
    });
    let yield_strength =
        reader.optional(&table, "yield", |r, item| r.plain(item, Kind::Pressure, &from_to(1.0, 5_000.0)));
    let speeds = reader.required(&table, "speed", SPEEDS, speeds);
    Some(OwnMaterial {
        name: name?,
        kc11: mpa(kc11?),
        mc: mc?,
        density: kg_per_m3(density?),
        yield_strength: yield_strength.map(mpa),
        speeds: speeds?,
    })
}

const SPEEDS: &str = "`{ \"carbide, uncoated\" = \"110 m/min\", \"HSS\" = \"28 m/min\" }`";

fn speeds(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<Vec<(ToolMaterial, Velocity)>> {
    let table = reader.table(item, SPEEDS)?;
    reader.keys(&table, &ToolMaterial::ALL.map(ToolMaterial::name));
    let mut speeds = Vec::new();
    for material in ToolMaterial::ALL {
        let speed = reader
            .optional(&table, material.name(), |r, item| r.plain(item, Kind::CuttingSpeed, &from_to(0.1, 5_000.0)));
        speeds.extend(speed.map(|speed| (material, m_per_min(speed))));
    }
    if table.entries.is_empty() {
        let known = word::choice(&ToolMaterial::ALL.map(ToolMaterial::name));
        return reader.fault(item.span.clone(), "`material.speed` gives no speed", known);
    }
    Some(speeds)
}

/// Names in `[use]`.
#[derive(Default)]
struct Things {
    lathe: Option<String>,
    chuck: Option<String>,
    tools: Vec<String>,
}

fn things(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<Things> {
    let table = reader.table(item, "a table `[use]`")?;
    reader.keys(&table, &["lathe", "chuck", "tools"]);
    let lathe = reader.optional(&table, "lathe", |r, item| r.text(item));
    let chuck = reader.optional(&table, "chuck", |r, item| r.text(item));
    let tools =
        reader.optional(&table, "tools", |r, item| r.texts(item, "a list of names of the shop's tools, none twice"));
    Some(Things { lathe, chuck, tools: tools.unwrap_or_default() })
}

const SEEK: [(&str, Seek); 3] = [("balanced", Seek::Balanced), ("quickest", Seek::Quickest), ("truest", Seek::Truest)];

/// What is decided of the order; whether the faces are there is said once the part is known.
fn order_wishes(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<OrderWishes> {
    let table = reader.table(item, "a table `[order]`")?;
    reader.keys(&table, &["seek", "first", "seated"]);
    let seek = reader.optional(&table, "seek", |r, item| r.word(item, &SEEK));
    let mut faces =
        |key: &str| reader.optional(&table, key, |r, item| r.texts(item, "a list of faces such as `[\"B\"]`"));
    let (first, seated) = (faces("first"), faces("seated"));
    Some(OrderWishes {
        seek: seek.unwrap_or_default(),
        first: first.unwrap_or_default(),
        seated: seated.unwrap_or_default(),
    })
}

fn wishes(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<Wishes> {
    let table = reader.table(item, "a table `[cutting]`")?;
    reader.keys(&table, &["speed_share_interrupted", "finishing_cut", "clean_up", "deepest_cut"]);
    let share =
        reader.optional(&table, "speed_share_interrupted", |r, item| r.plain(item, Kind::Share, &INTERRUPTED_SHARE));
    let depth = |reader: &mut Reader<'_>, key, bounds| {
        reader.optional(&table, key, |r, item| r.plain(item, Kind::Length, bounds)).map(mm)
    };
    let finishing_cut = depth(reader, "finishing_cut", &FINISHING_CUT);
    let clean_up = depth(reader, "clean_up", &CLEAN_UP);
    let deepest_cut = depth(reader, "deepest_cut", &DEEPEST_CUT);
    if let (Some(finishing), Some(deepest)) = (finishing_cut, deepest_cut)
        && finishing > deepest
    {
        let says = "`cutting.finishing_cut` is more than `cutting.deepest_cut`";
        return reader.fault(table.span.clone(), says, "a finishing cut no deeper than the deepest");
    }
    Some(Wishes { speed_share_interrupted: share, finishing_cut, clean_up, deepest_cut })
}
