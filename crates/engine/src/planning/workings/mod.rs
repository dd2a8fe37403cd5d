//! Where the plan's numbers come from: for each a formula's row and the values that went in.
//!
//! Every value listed here is the one that the planner used, and every outcome the one that the plan shows; the
//! formulas themselves stand in a table of their own. `crates/engine/tests/workings/` works all of them out again.

mod depth;
mod dial;
mod finish;
mod floor;
mod force;
mod grip;
mod hold;
mod list;
mod marks;
mod minutes;
mod press;
mod speed;
mod stock;

use super::search::Chosen;
use crate::holding::MostSpring;
use crate::plan::{Minutes, Pass, SetUp, StockReport, Working};
use crate::shape::Floor;
use crate::task::Task;
use list::Workings;

/// A pass with what it was worked out from.
pub struct Taken {
    /// The pass.
    pub pass: Pass,
    /// Its floor about the spindle axis.
    pub floor: Floor,
    /// Greatest radius × share in the metal, mm.
    pub mean_radius_mm: f64,
}

/// The greatest spring at the tool over all passes, and what it is made of.
#[derive(Clone, Copy, Default)]
pub struct Spring {
    /// Which pass, from 0.
    pub pass: usize,
    /// Where the tool is.
    pub place: MostSpring,
    /// The work in the jaws, towards the chuck, µm.
    pub work_um: f64,
    /// The overhang, towards the chuck, µm.
    pub bend_um: f64,
    /// Work, overhang and machine, µm.
    pub all_um: f64,
}

/// Everything that the workings of one set-up are made from.
pub struct Told<'a> {
    /// The task.
    pub task: &'a Task,
    /// What the search chose.
    pub chosen: &'a Chosen,
    /// Its passes.
    pub taken: &'a [Taken],
    /// The greatest spring.
    pub spring: Spring,
    /// Least bite at which the cuts chosen still hold, mm.
    pub least_bite_mm: f64,
    /// Most stick-out, mm.
    pub most_stick_out_mm: f64,
    /// Minutes of the set-up.
    pub minutes: Minutes,
    /// Metal removed, mm³.
    pub removed_mm3: f64,
}

/// The workings of one set-up.
pub fn set_up(told: &Told) -> Vec<Working> {
    let mut list = Workings::default();
    depth::depth(told, &mut list);
    speed::speed(told, &mut list);
    force::rakes(told, &mut list);
    hold::clamping(told, &mut list);
    for (at, taken) in told.taken.iter().enumerate() {
        list.of_pass(at + 1);
        floor::pass(told, at, &mut list);
        force::pass(told, taken, &mut list);
        dial::pass(told.task, &taken.pass, &mut list);
    }
    list.of_set_up();
    hold::hold(told, &mut list);
    press::press(told, &mut list);
    grip::turning(told, &mut list);
    marks::marks(told, &mut list);
    finish::finish(told, &mut list);
    minutes::set_up(told, &mut list);
    list.done()
}

/// The workings that belong to no set-up.
pub fn plan(task: &Task, stock: &StockReport, minutes: Minutes, set_ups: &[SetUp]) -> Vec<Working> {
    let mut list = Workings::default();
    stock::stock(task, stock, &mut list);
    if !set_ups.is_empty() {
        dial::dial(task, &mut list);
        minutes::plan(minutes, set_ups, &mut list);
    }
    list.done()
}

/// Where a value comes from that job or shop may have left out.
fn taken(task: &Task, what: &str, otherwise: &str) -> String {
    task.assumed
        .iter()
        .find(|row| row.what == what)
        .map_or_else(|| otherwise.to_string(), |row| format!("assumed: {}", row.source))
}

/// Where a number behind a rule comes from.
fn rule(name: &str) -> String {
    format!("table: {}", crate::task::source_of(name))
}
