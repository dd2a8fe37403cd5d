//! The task: job and shop resolved once into plain numbers, every gap filled and noted.
//!
//! `resolve` refuses what does not fit together (a lathe that the shop has not got, a material
//! nobody knows) with every problem at its place; after it the rooms are total.

mod asked;
mod asked_words;
mod believed;
mod chuck;
mod defaults;
mod flats;
mod handling;
mod lathe;
mod left;
mod listed;
mod material;
mod order;
mod rules;
mod scatter;
mod spreads;
mod tailstock;
mod taken;
mod tool;
mod vee;

pub use chuck::{ChuckFacts, ReversedFacts, StepFacts};
pub use defaults::source_of;
use flats::class_of_sizes;
pub use flats::{Across, Face, general_tolerance};
pub use handling::HandlingMinutes;
pub use lathe::LatheFacts;
pub use left::{Misplaced, misplaced, own_surface_mm, settle};
pub use listed::skin_of;
pub use order::OrderFacts;
pub use rules::Rules;
pub use scatter::ScatterFacts;
pub use spreads::SpreadFacts;
pub use tailstock::TailstockFacts;
pub use taken::SPEED_SHARE;
pub use tool::ToolFacts;
pub use vee::VeeFacts;

use crate::cutting::Material;
use crate::job::{Job, Surface};
use crate::part::Requirement;
use crate::plan::Assumed;
use crate::problem::{Problem, Source};
use crate::quantity::{Plain, Units};
use crate::shape::Section;
use crate::shop::{Gauge, Shop};
use crate::sourced::Sourced;

/// Everything that the planner needs, in mm, N, MPa, rpm, minutes.
#[derive(Debug, Clone)]
pub struct Task {
    /// Title of the job.
    pub title: String,
    /// How the plan speaks.
    pub units: Units,
    /// Section of the bar about its axis.
    pub bar: Section,
    /// Length of the bar.
    pub bar_length_mm: f64,
    /// "round", "square", "hexagon", "flat".
    pub bar_form: &'static str,
    /// The size that a round bar is bought by, or its across-flats.
    pub bar_size_mm: f64,
    /// Its sizes as it is bought: diameter or across flats, or width and thickness.
    pub bar_sizes_mm: (f64, Option<f64>),
    /// Skin of the bar.
    pub skin: Surface,
    /// What it is made of.
    pub material: Material,
    /// Faces of the part: front, back, then the sides in order.
    pub faces: Vec<Face>,
    /// Everything that is asked of the part, left faces included.
    pub asked_of: Vec<Requirement>,
    /// Length of the part.
    pub part_length_mm: f64,
    /// Where the part's middle lies in the bar's section, x and y, as the job gives it.
    pub offset_mm: [f64; 2],
    /// Words of the part: "block 36 x 36 x 44".
    pub part_words: String,
    /// Limit of roughness Ra in µm, where the drawing gives one.
    pub roughness_um: Option<f64>,
    /// The widest centre hole allowed in an end of the part, across its mouth.
    pub centre_hole_mm: Option<f64>,
    /// Other requirements in words.
    pub requirements: Vec<String>,
    /// Where limits that the drawing does not write out come from, in words.
    pub limits_from: Vec<String>,
    /// The lathe.
    pub lathe: LatheFacts,
    /// The chuck.
    pub chuck: ChuckFacts,
    /// Tools that may be used, the wished one first.
    pub tools: Vec<ToolFacts>,
    /// Heights of parallels on hand, rising, mm.
    pub parallels_mm: Vec<f64>,
    /// Length of the parallels.
    pub parallels_length_mm: f64,
    /// Thickness of each parallel: the strip beside a jaw that it needs.
    pub parallels_width_mm: f64,
    /// How far the stops in the spindle can stand out of the chuck face, least and most.
    pub stops_mm: Vec<(f64, f64)>,
    /// Soft packing on finished flats: thickness and friction.
    pub packing: PackingFacts,
    /// Vees on hand, for between a jaw and a corner.
    pub vees: Vec<VeeFacts>,
    /// Gauges on hand; empty: nothing stated.
    pub gauges: Vec<Gauge>,
    /// Handling times.
    pub minutes: HandlingMinutes,
    /// What the job decides of the order.
    pub order: OrderFacts,
    /// How sizes scatter here.
    pub scatter: ScatterFacts,
    /// Wishes of the job.
    pub wishes: crate::job::Wishes,
    /// Where size and squareness are lost.
    pub spreads: SpreadFacts,
    /// Numbers behind the rules.
    pub rules: Rules,
    /// What nobody gave.
    pub assumed: Vec<Assumed>,
    /// Given numbers that are hard to believe, each told at the head of the plan.
    pub notices: Vec<String>,
}

/// Soft packing between jaw and finished flat.
#[derive(Debug, Clone, PartialEq)]
pub struct PackingFacts {
    /// "soft copper".
    pub material: String,
    /// The thickness used.
    pub thickness_mm: f64,
    /// Friction.
    pub friction: f64,
    /// Strength at which it flows, MPa, and where that comes from; `None`: nobody knows.
    pub flows_at: Option<(f64, String)>,
    /// All packing of the shop: material, thicknesses in mm, strength in MPa.
    pub on_hand: Vec<(String, Vec<f64>, Option<f64>)>,
}

/// Resolves a job against a shop.
///
/// # Errors
/// Every problem that does not let a plan be made, each at its key.
pub fn resolve(job: &Job, shop: &Shop) -> Result<Task, Vec<Problem>> {
    let mut gaps = Gaps::default();
    let material = material::resolve(&job.stock.material, &mut gaps);
    let lathe = lathe::resolve(job, shop, &mut gaps);
    let chuck = chuck::resolve(job, shop, &mut gaps);
    let tools = tool::resolve(job, shop, material.as_ref(), &mut gaps);
    let faces = flats::resolve(job, &mut gaps);
    tailstock::centre_holes(job, faces.as_deref(), &mut gaps);
    let (Some(material), Some(lathe), Some(chuck), Some(mut faces)) = (material, lathe, chuck, faces) else {
        return Err(gaps.problems);
    };
    let order = order::resolve(job, &faces, &mut gaps);
    if !gaps.problems.is_empty() {
        return Err(gaps.problems);
    }
    let packing = handling::packing(shop, &mut gaps);
    let vees = vee::resolve(shop, &packing, material.yield_mpa, &mut gaps);
    let minutes = handling::minutes(shop, &mut gaps);
    let (parallels_mm, parallels_length_mm, parallels_width_mm) = handling::parallels(shop, &mut gaps);
    let skin = job.stock.surface.unwrap_or_else(|| {
        let skin = material.default_surface();
        gaps.assumed.push(assumed(
            "surface of the bar",
            surface_words(skin),
            "steel comes hot-rolled, castings as cast, other bar drawn unless the job says otherwise",
        ));
        skin
    });
    let scatter = scatter::resolve(shop, listed::blank_minutes(job, shop, skin, &material), skin, job.units, &mut gaps);
    let spreads = spreads::resolve(job, shop, skin, &scatter);
    let part_words = flats::words(job);
    taken::note(job, &material, &chuck, &tools, skin, &mut gaps);
    let bar = crate::shape::Bar::from(&job.stock.form).section;
    let bar_length_mm = job.stock.length.plain();
    settle(&bar, bar_length_mm, &mut faces);
    let asked_of = asked::resolve(job, &faces, &mut gaps);
    let requirements = asked_words::requirements(job, &asked_of);
    let limits_from = asked_words::limits_from(job, &asked_of);
    if !gaps.problems.is_empty() {
        return Err(gaps.problems);
    }
    Ok(Task {
        title: job.title.clone(),
        units: job.units,
        bar,
        bar_length_mm,
        bar_form: job.stock.form.shape().name(),
        bar_size_mm: flats::bar_size(&job.stock.form),
        bar_sizes_mm: job.stock.form.sizes_mm(),
        skin,
        material,
        asked_of,
        part_length_mm: flats::length_mm(job, &faces),
        faces,
        offset_mm: [job.part.offset.0.plain(), job.part.offset.1.plain()],
        part_words,
        roughness_um: job.part.roughness.map(|ra| ra.plain() * 1000.0),
        centre_hole_mm: job.part.centre_holes.map(Plain::plain),
        requirements,
        limits_from,
        lathe,
        chuck,
        tools,
        parallels_mm,
        parallels_length_mm,
        parallels_width_mm,
        stops_mm: shop.stops.iter().map(|stop| (stop.reach.0.plain(), stop.reach.1.plain())).collect(),
        packing,
        vees,
        gauges: shop.gauges.clone(),
        minutes,
        order,
        scatter,
        wishes: job.cutting,
        spreads,
        rules: Rules::from_table(),
        assumed: gaps.assumed,
        notices: gaps.notices,
    })
}

/// The skin of a bar in words.
pub fn surface_words(skin: Surface) -> &'static str {
    match skin {
        Surface::HotRolled => "hot-rolled",
        Surface::Drawn => "drawn",
        Surface::Turned => "turned",
        Surface::Ground => "ground",
        Surface::Cast => "cast",
    }
}

/// What resolving finds on its way: problems, and values that nobody gave.
#[derive(Debug, Default)]
struct Gaps {
    problems: Vec<Problem>,
    assumed: Vec<Assumed>,
    notices: Vec<String>,
}

impl Gaps {
    fn problem(&mut self, file: Source, at: impl Into<String>, says: String, accepts: String) {
        self.problems.push(Problem { file, at: at.into(), says, accepts });
    }

    /// The default of that name, noted as assumed for `what`.
    fn assume(&mut self, name: &'static str, what: &str) -> f64 {
        let row = defaults::default(name);
        let unit = if row.unit == "1" { String::new() } else { format!(" {}", row.unit) };
        self.assumed.push(assumed(what, &format!("{}{unit}", row.value), &row.source));
        row.value
    }

    /// A number of the holding room, noted as assumed for `what`.
    fn assume_sourced(&mut self, row: &Sourced, what: &str) -> f64 {
        let unit = if row.unit == "1" { String::new() } else { format!(" {}", row.unit) };
        self.assumed.push(assumed(what, &format!("{}{unit}", in_words(row.value)), &row.source));
        row.value
    }
}

/// A third has no end in digits.
fn in_words(value: f64) -> String {
    if value == 1.0 / 3.0 { "a third".to_string() } else { value.to_string() }
}

fn assumed(what: &str, value: &str, source: &str) -> Assumed {
    Assumed { what: what.to_string(), value: value.to_string(), source: source.to_string() }
}

/// The thing of that name in a list, or the first when no name is given; a problem otherwise.
fn named<'a, T>(
    list: &'a [T],
    wanted: Option<&str>,
    name: impl Fn(&T) -> &str,
    (at, kind): (&str, &str),
    gaps: &mut Gaps,
) -> Option<&'a T> {
    let names = || list.iter().map(|item| format!("\"{}\"", name(item))).collect::<Vec<_>>().join(", ");
    let Some(wanted) = wanted else {
        if list.is_empty() {
            gaps.problem(Source::Shop, kind, format!("the shop has no {kind}"), format!("at least one [[{kind}]]"));
        }
        return list.first();
    };
    let found = list.iter().find(|item| name(item) == wanted);
    if found.is_none() {
        gaps.problem(
            Source::Job,
            at,
            format!("the shop has no {kind} named \"{wanted}\""),
            format!("{}; or leave it out to take the shop's first", names()),
        );
    }
    found
}
