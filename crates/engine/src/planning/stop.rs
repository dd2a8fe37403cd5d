//! The stops before a finishing cut: what is believed there, what the next cut scatters, what scrap costs; from that
//! the reading table.

use super::judge::spring_um;
use super::measure::{gauge_of, uncertainty_mm};
use super::search::Chosen;
use crate::cutting;
use crate::measure::{
    Band, Belief, Cut, Prices, Rule, Scrap, Stop, cheapest_guard_mm, numbers, table, textbook_guard_mm, together,
};
use crate::plan::{Measure, ReadingRow, ReadingTable, SetUp};
use crate::quantity::{Plain, Units};
use crate::task::Task;

/// Puts its table to every size that is measured before a finishing cut.
pub fn fill(task: &Task, set_ups: &mut [SetUp], chosen: &[Chosen]) {
    let mut spent_minutes = 0.0;
    for (set_up, chosen) in set_ups.iter_mut().zip(chosen) {
        spent_minutes += set_up.minutes.total();
        let tables: Vec<Option<ReadingTable>> = set_up
            .measure
            .iter()
            .map(|measure| {
                before(measure).then(|| reading_table(task, set_up, chosen, measure, spent_minutes)).flatten()
            })
            .collect();
        for (measure, table) in set_up.measure.iter_mut().zip(tables) {
            measure.table = table;
        }
    }
}

fn before(measure: &Measure) -> bool {
    measure.when.starts_with("before") && !measure.over_bar
}

/// The table of a stop; `None`: no gauge on hand reads the size.
fn reading_table(
    task: &Task,
    set_up: &SetUp,
    chosen: &Chosen,
    measure: &Measure,
    spent_minutes: f64,
) -> Option<ReadingTable> {
    let gauge = gauge_of(task, measure)?;
    let at = At { task, set_up, chosen, measure, gauge_mm: uncertainty_mm(gauge) };
    let (taken_marks, stop) = at.stop(spent_minutes)?;
    let rule = Rule::new(stop).ok()?;
    let graduation_mm = gauge.graduation.plain();
    let printed = table(&rule, graduation_mm);
    let rows: Vec<ReadingRow> = printed
        .rows
        .iter()
        .map(|row| {
            let reading = task.lathe.dial.reading(task.lathe.dial.depth_of_mm(taken_marks + row.setting.marks));
            ReadingRow {
                measures_mm: row.measures_mm,
                depth_mm: row.setting.depth_mm,
                dial: reading.text,
                dial_turns: reading.turns,
                dial_reading: reading.reading,
                comes_out_mm: row.setting.comes_out.mean_mm,
                chances: row.setting.chances,
            }
        })
        .collect();
    let prices = Prices::new(stop.scrap_passes, numbers().escape_over_scrap.value * stop.scrap_passes).ok()?;
    (!rows.is_empty()).then(|| ReadingTable {
        stop,
        aim_mm: rule.aim_mm,
        graduation_mm,
        gauge_units: marked_in(graduation_mm, task.units),
        dial_unit: task.lathe.dial.unit_name(),
        taken_marks,
        rows,
        mark_for_mm: printed.mark_for_mm,
        rules: rule.rules(),
        saves_passes: rule.measuring_saves(),
        costs_passes: at.measuring_minutes() / at.pass_minutes(),
        spring_pass: rule.spring_pass,
        proves_mm: textbook_guard_mm(stop.gauge_mm),
        guard_mm: cheapest_guard_mm(&stop.band, rule.aim_mm, rule.spread_mm, stop.gauge_mm, &prices),
        finer_gauge_mm: stop.finer_gauge_mm(task.rules.reading_share),
    })
}

/// Units in which a gauge is marked: those in which its step is a whole count of the last place that gauges have.
fn marked_in(graduation_mm: f64, units: Units) -> Units {
    let whole = |count: f64| (count - count.round()).abs() < 1e-6;
    match (whole(graduation_mm * 1e3), whole(graduation_mm / 25.4 * 1e4)) {
        (true, false) => Units::Mm,
        (false, true) => Units::Inch,
        _ => units,
    }
}

/// A size measured before the last pass of a set-up.
struct At<'a> {
    task: &'a Task,
    set_up: &'a SetUp,
    chosen: &'a Chosen,
    measure: &'a Measure,
    /// Standard uncertainty of one reading.
    gauge_mm: f64,
}

impl At<'_> {
    /// Marks at which the dial stands, and the stop.
    fn stop(&self, spent_minutes: f64) -> Option<(u64, Stop)> {
        let (measure, passes) = (self.measure, &self.set_up.passes);
        let dial = &self.task.lathe.dial;
        let last = passes.last()?;
        let before_mm = last.total_mm - last.depth_mm;
        let (taken, all) = (dial.nearest_marks(before_mm)?, dial.nearest_marks(last.total_mm)?);
        let (least_mm, most_mm) = (measure.nominal_mm - measure.minus_mm, measure.nominal_mm + measure.plus_mm);
        let band = Band::new(least_mm, most_mm, Scrap::Under).ok()?;
        let lie = &self.chosen.way.facing.lie;
        let left_on_mm = lie.top_mm - lie.floor_mm - dial.depth_of_mm(taken);
        let [rough_mm, finish_mm] = self.springs_mm();
        let edge = self.task.tools[self.chosen.way.tool].edge.tool;
        let stop = Stop {
            band,
            // The rough cut left on what work and tool sprang apart.
            expected: Belief::new(band.middle_mm() + left_on_mm + rough_mm, self.before_spread_mm(before_mm, rough_mm))
                .ok()?,
            gauge_mm: self.reading_mm(),
            cut: Cut {
                mark_mm: dial.mark_depth_mm,
                comes_off_mm: rough_mm - finish_mm,
                share: self.task.scatter.cut_share,
                scatter_mm: self.cut_scatter_mm(rough_mm - finish_mm),
                least_mm: cutting::least_finish_mm(&self.task.material, edge),
                deepest_mm: passes.iter().map(|pass| pass.depth_mm).fold(0.0, f64::max),
            },
            planned_marks: all.saturating_sub(taken),
            scrap_passes: self.scrap_passes(spent_minutes),
        };
        Some((taken, stop))
    }

    /// Standard uncertainty of the size: two readings of the same gauge where it is taken over a jaw.
    fn reading_mm(&self) -> f64 {
        let readings = if self.measure.over_jaws_mm.is_some() { 2 } else { 1 };
        together(&vec![self.gauge_mm; readings])
    }

    /// How far the last rough cut and the finishing cut push work and tool apart, mm.
    fn springs_mm(&self) -> [f64; 2] {
        let (passes, facing) = (&self.set_up.passes, &self.chosen.way.facing);
        let spring_mm = |at: Option<usize>| {
            let Some(pass) = at.and_then(|at| passes.get(at)) else { return 0.0 };
            let height_mm = facing.depth.stick_out_mm - pass.total_mm;
            let turn = facing.hold.turn_cut(pass.start_radius_mm, height_mm, pass.force_n);
            spring_um(self.task, &facing.hold, &turn) / 1000.0
        };
        [spring_mm(passes.len().checked_sub(2)), spring_mm(passes.len().checked_sub(1))]
    }

    /// What the size before the finishing cut may differ by from what the dial says: the touch-off on the bar and the
    /// one after the first pass, the bar's surface, the size of bar and first face from which the ring was set, the seat, the
    /// screw, the last rough cut.
    fn before_spread_mm(&self, travel_mm: f64, rough_spring_mm: f64) -> f64 {
        let scatter = &self.task.scatter;
        let again_mm = if self.set_up.passes.len() > 2 { scatter.touch_off_mm } else { 0.0 };
        together(&[
            scatter.touch_off_mm,
            again_mm,
            scatter.bar_mm,
            self.gauge_mm,
            scatter.seat_mm,
            scatter.screw_share * travel_mm,
            scatter.cut_mm,
            numbers().spring_error_share.value * rough_spring_mm,
        ])
    }

    /// What scatters in the finishing cut whatever its depth; a piece that was out has a new seat and a new touch-off.
    fn cut_scatter_mm(&self, comes_off_mm: f64) -> f64 {
        let scatter = &self.task.scatter;
        let anew_mm = if self.measure.takes_out { together(&[scatter.touch_off_mm, scatter.seat_mm]) } else { 0.0 };
        together(&[
            scatter.cut_mm,
            set_to_a_mark_mm(self.task.lathe.dial.mark_depth_mm),
            numbers().spring_error_share.value * comes_off_mm,
            anew_mm,
        ])
    }

    fn measuring_minutes(&self) -> f64 {
        let minutes = &self.task.minutes;
        minutes.measure + if self.measure.takes_out { minutes.turn_piece } else { 0.0 }
    }

    /// Another finishing pass, touched off anew and measured.
    fn pass_minutes(&self) -> f64 {
        let minutes = &self.task.minutes;
        let cutting = self.set_up.passes.last().map_or(0.0, |pass| pass.minutes);
        minutes.touch_off + minutes.next_pass + cutting + self.measuring_minutes()
    }

    /// What is lost with the piece here, in passes: the minutes spent on it and a new blank.
    fn scrap_passes(&self, spent_minutes: f64) -> f64 {
        let passes = (spent_minutes + self.task.scatter.new_blank_minutes) / self.pass_minutes();
        if passes.is_finite() && passes > 0.0 { passes } else { numbers().scrap_passes.value }
    }
}

/// Standard deviation of a difference of two settings of a dial, each to a quarter of a mark, evenly spread: `√2 a/(4 √3)`
/// (GUM 4.3.7 for the even spread).
fn set_to_a_mark_mm(mark_mm: f64) -> f64 {
    mark_mm / 24f64.sqrt()
}
