#![allow(clippy::approx_constant)] // values as printed

use engine::job::{AnyJob, BarForm, JobMaterial, StockWish, Surface};
use engine::part::Form;
use engine::plan::StockComes;
use engine::planning::stock_choice;
use engine::quantity::{Plain, inch, mm};
use engine::shape::{Bar, Section, least_length_mm, least_round_mm};
use engine::shop::{Blanks, Minutes, Scatter, Shop, ShopBar, ToolMaterial};

use crate::check::{Check, Near};
use crate::plain;

const SEEN: &str = "published table of theoretical weights of steel, 7.85 (seen)";
const MERCHANT: &str = "steel stockholder's weight table, 7.85 (from memory)";
const INCH: &str = "weights of steel bars, Machinery's Handbook, 0.2833 lb/in3 (from memory)";
const LIGHT: &str = "metal stockholder's weight table, aluminium 2.70 (from memory)";
const BRASS: &str = "metal stockholder's weight table, brass 8.5 (from memory)";
const CLEAN_UP: &str =
    "steel stockholder's page on clean-up stock: finish size / 0.968; 6 in needs the next size over, 6.25 (seen)";
const KG_PER_LB: f64 = 0.453_592_37;

pub fn checks() -> Vec<Check> {
    [weights(), least(), listed()].concat()
}

fn check(
    id: &'static str,
    what: &'static str,
    source: &'static str,
    theirs: f64,
    ours: f64,
    unit: &'static str,
    within: f64,
) -> Check {
    Check { id, what, source, theirs, ours, unit, near: Near::Within(within) }
}

/// Mass of a metre of bar, kg.
fn per_metre(form: BarForm, density_kg_per_m3: f64) -> f64 {
    Bar::from(&form).mass_kg(1000.0, density_kg_per_m3)
}

/// Mass of a foot of steel bar, lb.
fn per_foot(form: BarForm) -> f64 {
    let density_kg_per_m3 = 0.2833 * KG_PER_LB / 25.4_f64.powi(3) * 1e9;
    Bar::from(&form).mass_kg(12.0 * 25.4, density_kg_per_m3) / KG_PER_LB
}

fn weights() -> Vec<Check> {
    let round = |size| BarForm::Round { diameter: mm(size) };
    let square = |size| BarForm::Square { across: mm(size) };
    let hexagon = |size| BarForm::Hexagon { across: mm(size) };
    let steel = |form| per_metre(form, 7850.0);
    let metre = |id: &'static str, what: &'static str, source, theirs, ours, within| {
        check(id, what, source, theirs, ours, "kg/m", within)
    };
    let one = inch(1.0);
    vec![
        metre("S-01", "round 12 mm", SEEN, 0.888, steel(round(12.0)), 5e-4),
        metre("S-02", "round 20 mm", SEEN, 2.466, steel(round(20.0)), 5e-4),
        metre("S-03", "round 25 mm", SEEN, 3.853, steel(round(25.0)), 5e-4),
        metre("S-04", "round 32 mm", SEEN, 6.313, steel(round(32.0)), 5e-4),
        metre("S-05", "round 40 mm", SEEN, 9.865, steel(round(40.0)), 5e-4),
        metre("S-06", "round 50 mm", MERCHANT, 15.4, steel(round(50.0)), 0.05),
        metre("S-07", "round 80 mm", SEEN, 39.46, steel(round(80.0)), 5e-3),
        metre("S-08", "round 100 mm", SEEN, 61.65, steel(round(100.0)), 5e-3),
        metre("S-09", "square 20 mm", SEEN, 3.14, steel(square(20.0)), 5e-3),
        metre("S-10", "square 25 mm", SEEN, 4.91, steel(square(25.0)), 5e-3),
        metre("S-11", "square 30 mm (exactly 7.065, printed rounded up)", SEEN, 7.07, steel(square(30.0)), 5.1e-3),
        metre("S-12", "hexagon 24 mm", MERCHANT, 3.92, steel(hexagon(24.0)), 5e-3),
        metre("S-13", "hexagon 50 mm", SEEN, 17.0, steel(hexagon(50.0)), 0.05),
        metre(
            "S-14",
            "flat 40 by 5 mm",
            SEEN,
            1.57,
            steel(BarForm::Flat { width: mm(40.0), thickness: mm(5.0) }),
            5e-3,
        ),
        metre("S-15", "aluminium, round 50 mm", LIGHT, 5.30, per_metre(round(50.0), 2700.0), 5e-3),
        metre("S-16", "brass, round 20 mm", BRASS, 2.67, per_metre(round(20.0), 8500.0), 5e-3),
        check("S-17", "round 1 in", INCH, 2.670, per_foot(BarForm::Round { diameter: one }), "lb/ft", 5e-4),
        check("S-18", "square 1 in", INCH, 3.400, per_foot(BarForm::Square { across: one }), "lb/ft", 5e-4),
        check("S-19", "hexagon 1 in", INCH, 2.944, per_foot(BarForm::Hexagon { across: one }), "lb/ft", 5e-4),
    ]
}

fn least() -> Vec<Check> {
    let bare = |section: &Section| least_round_mm(section, Surface::Drawn).map_or(f64::NAN, |least| least.bare_mm);
    let with =
        |section: &Section, surface| least_round_mm(section, surface).map_or(f64::NAN, |least| least.with_allowance_mm);
    let block = Section::rectangle(-18.0, 18.0, -18.0, 18.0);
    let bar = |a: f64, b: f64| Section::rectangle(-a / 2.0, a / 2.0, -b / 2.0, b / 2.0);
    let practice =
        "common practice, no source: corners + 2 to 3 mm bright bar, + 3 to 5 mm hot-rolled; sawn length + 2 to 4 mm";
    let six_inch = Section::round(inch(6.0).plain() / 2.0);
    vec![
        check("S-20", "least round for a square of 36", "36 sqrt(2), closed form", 50.9117, bare(&block), "mm", 5e-5),
        check(
            "S-21",
            "least round for a section 48 by 20",
            "Pythagoras: 12-5-13 times 4",
            52.0,
            bare(&bar(48.0, 20.0)),
            "mm",
            1e-9,
        ),
        check(
            "S-22",
            "least hot-rolled round that cleans up to 6 in",
            CLEAN_UP,
            6.0 / 0.968,
            with(&six_inch, Surface::HotRolled) / 25.4,
            "in",
            1e-9,
        ),
        check(
            "S-23",
            "left on a small hot-rolled round: middle of the range, either end agrees",
            practice,
            4.0,
            with(&bar(24.0, 10.0), Surface::HotRolled) - 26.0,
            "mm",
            1.0,
        ),
        check(
            "S-24",
            "left on a bright round: middle of the range, either end agrees",
            practice,
            2.5,
            with(&block, Surface::Drawn) - bare(&block),
            "mm",
            0.5,
        ),
        check(
            "S-25",
            "left on the length: middle of the range, either end agrees",
            practice,
            3.0,
            least_length_mm(44.0, 50.0, 2) - 44.0,
            "mm",
            1.0,
        ),
        check(
            "S-26",
            "metal of the largest square in a round bar, 2/pi of it",
            "closed form",
            2.0 / std::f64::consts::PI,
            block.area() / Section::round(bare(&block) / 2.0).area(),
            "",
            1e-12,
        ),
    ]
}

const ROUNDS: &str = "EN 10060, preferred sizes of hot-rolled rounds (from memory)";
const SQUARES: &str = "EN 10059, preferred sizes of hot-rolled squares (from memory)";
/// Preferred diameters, mm.
const EN_10060_MM: [f64; 24] = [
    20.0, 22.0, 24.0, 25.0, 26.0, 27.0, 28.0, 30.0, 32.0, 35.0, 36.0, 38.0, 40.0, 42.0, 45.0, 48.0, 50.0, 52.0, 55.0,
    60.0, 63.0, 65.0, 70.0, 75.0,
];
/// Preferred distances across flats, mm.
const EN_10059_MM: [f64; 14] = [20.0, 22.0, 24.0, 25.0, 26.0, 28.0, 30.0, 32.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0];

/// The least size of a list for which none of these rules speaks against a block of that width and height.
fn least_listed(forms: Vec<BarForm>, [width, height]: [f64; 2], rules: &[&str]) -> f64 {
    let stock = forms.into_iter().map(|form| ShopBar {
        form,
        material: "medium-carbon-steel".to_string(),
        surface: Some(Surface::HotRolled),
        blanks: Blanks::Sawn { longest: None },
        minutes: None,
    });
    let shop = Shop {
        name: "Rack".to_string(),
        lathes: vec![plain::lathe()],
        chucks: vec![plain::chuck()],
        tools: vec![plain::tool("facer", ToolMaterial::CarbideUncoated)],
        parallels: Vec::new(),
        stops: Vec::new(),
        packing: Vec::new(),
        vees: Vec::new(),
        gauges: vec![plain::gauge("micrometer", (0.0, 75.0), 3.0, false)],
        minutes: Minutes::default(),
        scatter: Scatter::default(),
        stock: stock.collect(),
    };
    let block = Form::Block { width: plain::sized(width), height: plain::sized(height) };
    let job = plain::job(BarForm::Round { diameter: mm(60.0) }, 50.0, block, 44.0);
    let material = JobMaterial::Named("medium-carbon-steel".to_string());
    let open = job.from_bar(StockWish { shape: None, length: None, material, surface: None });
    let choice = stock_choice(&AnyJob::Open(open), &shop).expect("a job for this shop");
    let fits = |comes: &StockComes| match comes {
        StockComes::Impossible { rule, .. } => !rules.contains(rule),
        _ => true,
    };
    let sizes = choice.rows.iter().filter(|row| fits(&row.comes)).map(|row| row.sizes_mm.0);
    sizes.fold(f64::INFINITY, f64::min)
}

/// The least bar of a published list: by Pythagoras and by eye from the list.
fn listed() -> Vec<Check> {
    let rounds = || EN_10060_MM.map(|size| BarForm::Round { diameter: mm(size) }).to_vec();
    let squares = || EN_10059_MM.map(|size| BarForm::Square { across: mm(size) }).to_vec();
    let (bare, cleaned) = (&["bar-too-thin"][..], &["bar-too-thin", "no-clean-up"][..]);
    let one = |id, what, source, theirs, ours| check(id, what, source, theirs, ours, "mm", 1e-9);
    vec![
        one(
            "S-27",
            "least listed round round a square of 36: 36 sqrt(2) = 50.9",
            ROUNDS,
            52.0,
            least_listed(rounds(), [36.0, 36.0], bare),
        ),
        one(
            "S-28",
            "the same to clean up: 3 mm more on the diameter (common practice, no source), 53.9",
            ROUNDS,
            55.0,
            least_listed(rounds(), [36.0, 36.0], cleaned),
        ),
        one(
            "S-29",
            "least listed round round 48 by 20: 12-5-13 times 4, itself a preferred size",
            ROUNDS,
            52.0,
            least_listed(rounds(), [48.0, 20.0], bare),
        ),
        one(
            "S-30",
            "least listed square about 36 by 34 to clean up: 36 and 3",
            SQUARES,
            40.0,
            least_listed(squares(), [36.0, 34.0], cleaned),
        ),
    ]
}
