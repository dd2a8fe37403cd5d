//! Shops and jobs in which limits bind that ordinary ones never come near, so that every part of a formula counts.

use engine::job::{BarForm, Job, JobMaterial, Wishes};
use engine::part::{Form, Sized};
use engine::plan::{Outcome, Plan};
use engine::quantity::{degrees, kilograms, mm, rpm};
use engine::shop::{CrossFeeds, Jaw, JawBore, JawSurface, Shop, ToolMaterial};

use super::plain;
use super::scenario::{Scenario, scenario};

/// Seeds tried with each change.
const SEEDS: u64 = 30;

/// What is changed, in words, and how.
type Change = (&'static str, fn(&mut Scenario));

const CHANGES: [Change; 10] = [
    ("no nose", |of| tools(of).nose_radius = Some(mm(0.0))),
    ("much rake", |of| tools(of).rake = Some(degrees(27.0))),
    ("much negative rake", |of| tools(of).rake = Some(degrees(-31.0))),
    ("hair feeds", |of| {
        tools(of).feed = Some((mm(0.008), mm(0.012)));
        of.shop.lathes[0].cross_feeds = CrossFeeds::Listed(vec![mm(0.009), mm(0.012)]);
        of.job.cutting = Wishes::default();
    }),
    ("heavy jaws, light cuts, speeds close together", |of| {
        many_speeds(&mut of.shop);
        let chuck = &mut of.shop.chucks[0];
        chuck.jaw = Jaw { mass: Some(kilograms(60.0)), ..chuck.jaw };
        chuck.marked_speed = Some(rpm(4000.0));
    }),
    ("a slow mark on the chuck, speeds close together", |of| {
        many_speeds(&mut of.shop);
        of.shop.chucks[0].marked_speed = Some(rpm(180.0));
    }),
    ("a slow speed of the shop for interrupted cuts, speeds close together", |of| {
        many_speeds(&mut of.shop);
        of.shop.chucks[0].interrupted_speed = Some(rpm(150.0));
    }),
    ("soft jaws bored to the bar", |of| {
        let chuck = &mut of.shop.chucks[0];
        (chuck.jaw.surface, chuck.jaw.bored) = (JawSurface::Soft, Some(JawBore::Work));
    }),
    ("a lathe of a few kilograms, speeds close together", |of| {
        many_speeds(&mut of.shop);
        of.shop.lathes[0].mass = Some(kilograms(4.0));
    }),
    ("a light rotor, speeds close together", |of| {
        many_speeds(&mut of.shop);
        of.shop.lathes[0].mass = Some(kilograms(40_000.0));
        of.shop.lathes[0].rotor_mass = Some(kilograms(0.2));
    }),
];

fn tools(of: &mut Scenario) -> &mut engine::shop::Tool {
    &mut of.shop.tools[0]
}

/// A plate on which every limit tells: steps of a hundredth.
fn many_speeds(shop: &mut Shop) {
    let mut plate: Vec<f64> = (0..500).map(|step| (8.0 * 1.011f64.powi(step)).round()).collect();
    plate.dedup();
    shop.lathes[0].speeds = plate.into_iter().map(rpm).collect();
}

/// Plans of all of them that can be done.
pub fn plans() -> Vec<(String, Plan)> {
    let changed = CHANGES.iter().flat_map(|(what, change)| {
        (0..SEEDS).map(move |seed| {
            let mut of = scenario(seed);
            change(&mut of);
            (format!("{what}, seed {seed}"), of)
        })
    });
    let own = (0..SEEDS).flat_map(|seed| {
        let shop = scenario(seed).shop;
        [("coarse feed on a small nose", small_nose(shop.clone())), ("a long bar", long_bar(shop))]
            .map(|(what, of)| (format!("{what}, shop {seed}"), of))
    });
    changed.chain(own).filter_map(|(what, of)| planned(&of).map(|plan| (what, plan))).collect()
}

fn planned(of: &Scenario) -> Option<Plan> {
    engine::plan(&of.job, &of.shop).ok().filter(|plan| plan.outcome == Outcome::Planned)
}

/// Light cuts of the nose alone with a feed of more than twice the nose.
fn small_nose(mut shop: Shop) -> Scenario {
    let tool = &mut shop.tools[0];
    tool.nose_radius = Some(mm(0.15));
    tool.cutting_edge_angle = Some(degrees(95.0));
    tool.material = ToolMaterial::Hss;
    tool.deepest_cut = Some(mm(0.1));
    tool.feed = Some((mm(0.4), mm(0.4)));
    shop.lathes[0].cross_feeds = CrossFeeds::Listed(vec![mm(0.4)]);
    Scenario { job: block(41.0, 40.0, (40.8, 40.0), 40.0), shop }
}

/// A bar that must not stand out as far as its grip would let it.
fn long_bar(shop: Shop) -> Scenario {
    Scenario { job: block(21.0, 124.0, (20.0, 20.0), 120.0), shop }
}

/// Of a square bar.
fn block(across_mm: f64, bar_mm: f64, (width_mm, height_mm): (f64, f64), length_mm: f64) -> Job {
    let size = |size_mm: f64| Sized::bare(mm(size_mm));
    let form = Form::Block { width: size(width_mm), height: size(height_mm) };
    let mut job = plain::job(BarForm::Square { across: mm(across_mm) }, bar_mm + 0.6, form, length_mm);
    job.title = "Stop for a canal paddle".to_string();
    job.stock.material = JobMaterial::Named("low-carbon-steel".to_string());
    job.stock.surface = None;
    job.part.length = size(length_mm);
    job.cutting = Wishes { clean_up: Some(mm(0.2)), ..Wishes::default() };
    job
}
