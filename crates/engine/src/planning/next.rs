//! One reading at a stop, answered: what is now known of the size, what to set, what will then come out, and what two
//! rules of thumb would set.

use thiserror::Error;

use crate::measure::{Advice, Belief, Reading, Rule, Setting};
use crate::plan::{Measure, Outcome, Plan, ReadingTable, percent};
use crate::problem::Problem;
use crate::quantity::limits::{limits, places};
use crate::quantity::{Units, show};
use crate::task::{Task, resolve};
use crate::{job::Job, shop::Shop};

/// What is asked at the machine.
#[derive(Debug, Clone, PartialEq)]
pub struct Ask {
    /// The face that is being cut, by its letter.
    pub face: String,
    /// What the gauge shows of the size, mm; several: measured several times.
    pub reads_mm: Vec<f64>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Next {
    /// Whether there is something to set; else it is to be measured again, or gone.
    pub goes_on: bool,
    /// Labels and what stands beside them, in the order in which they are read.
    pub says: Vec<(&'static str, String)>,
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NoAnswer {
    /// Job and shop do not read together: each at its place.
    #[error("job and shop do not fit together")]
    Problems(Vec<Problem>),
    /// The job cannot be done.
    #[error("the job cannot be done as asked: the plan says why")]
    Impossible,
    /// The part has not got the face.
    #[error("the job has no face {0}; it has {1}")]
    NoFace(String, String),
    /// No set-up cuts it.
    #[error("face {0} is not cut: it stays as the bar has it")]
    NotCut(String),
    /// Nothing is decided there.
    #[error("{0}")]
    NothingToDecide(String),
    /// A reading that is none.
    #[error("a reading of {0} is no size: more than zero is wanted")]
    NoReading(String),
}

/// Answers for readings at the stop before the finishing cut of a face.
///
/// # Errors
/// A face that the job has not, or at which nothing is decided; a reading that is none; what does not let a plan be made.
pub fn next(job: &Job, shop: &Shop, ask: &Ask) -> Result<Next, NoAnswer> {
    let task = resolve(job, shop).map_err(NoAnswer::Problems)?;
    let plan = super::plan(job, shop).map_err(NoAnswer::Problems)?;
    if plan.outcome != Outcome::Planned {
        return Err(NoAnswer::Impossible);
    }
    if let Some(none) = ask.reads_mm.iter().find(|mm| !(mm.is_finite() && **mm > 0.0)) {
        return Err(NoAnswer::NoReading(show::length(*none, task.units)));
    }
    let (number, measure, table) = stop_of(&task, &plan, &ask.face)?;
    let rule = Rule::new(table.stop).map_err(|why| NoAnswer::NothingToDecide(why.to_string()))?;
    let readings: Vec<Reading> = ask.reads_mm.iter().map(|&mm| table.stop.reading(mm)).collect();
    let Some(mean) = Reading::mean(&readings) else {
        return Err(NoAnswer::NothingToDecide("no reading was given".to_string()));
    };
    let told = Told { task: &task, number, measure, table, rule, readings, mean };
    Ok(told.answer(&ask.face))
}

/// The stop before the finishing cut of a face, with its table.
fn stop_of<'p>(task: &Task, plan: &'p Plan, face: &str) -> Result<(u32, &'p Measure, &'p ReadingTable), NoAnswer> {
    let names = || task.faces.iter().map(|face| face.name.as_str()).collect::<Vec<_>>().join(", ");
    let known = task.faces.iter().find(|known| known.name == face);
    let known = known.ok_or_else(|| NoAnswer::NoFace(face.to_string(), names()))?;
    if !known.cut {
        return Err(NoAnswer::NotCut(face.to_string()));
    }
    let set_up = plan.set_ups.iter().find(|set_up| set_up.cuts_faces.iter().any(|cut| cut == face));
    let set_up = set_up.ok_or_else(|| NoAnswer::NotCut(face.to_string()))?;
    let found = set_up.measure.iter().find_map(|measure| Some((set_up.number, measure, measure.table.as_ref()?)));
    found.ok_or_else(|| NoAnswer::NothingToDecide(nothing_decided(task, plan, face, set_up.measure.first())))
}

/// Why nothing is decided at a face, and where it is.
fn nothing_decided(task: &Task, plan: &Plan, face: &str, measure: Option<&Measure>) -> String {
    let decided = plan.set_ups.iter().filter(|set_up| set_up.measure.iter().any(|measure| measure.table.is_some()));
    let at: Vec<&str> = decided.flat_map(|set_up| &set_up.cuts_faces).map(String::as_str).collect();
    let at = if at.is_empty() { "no face of this plan".to_string() } else { format!("face {}", at.join(", ")) };
    match measure {
        Some(measure) if !measure.over_bar => format!(
            "no gauge of the shop's list reads {} at face {face}: a table needs its graduation and uncertainty",
            show::length(measure.nominal_mm, task.units)
        ),
        _ => format!(
            "face {face} is the first of its pair: it bounds no size yet, and what it measures over the bar is taken \
             over by the face opposite. A size is decided at {at}"
        ),
    }
}

/// A stop, its readings, and what is said of them.
struct Told<'a> {
    task: &'a Task,
    number: u32,
    measure: &'a Measure,
    table: &'a ReadingTable,
    rule: Rule,
    readings: Vec<Reading>,
    mean: Reading,
}

impl Told<'_> {
    fn answer(&self, face: &str) -> Next {
        let size = limits(self.measure.nominal_mm, self.measure.plus_mm, self.measure.minus_mm, self.task.units);
        let mut says = vec![
            (
                "Stop",
                format!("set-up {}, before the finishing cut of {face}: {size}; {}", self.number, self.measure.gauge),
            ),
            ("Expected", self.expected()),
            ("Reads", self.reads()),
        ];
        let off = self.table.stop.expected.spreads_off(&self.mean);
        let far = off > crate::measure::numbers().asked_spreads.value;
        if let Some(apart) = self.apart() {
            says.push(("Do not cut", apart));
            return Next { goes_on: false, says };
        }
        if far && self.readings.len() < 2 {
            says.extend(self.measure_again(off));
            return Next { goes_on: false, says };
        }
        let now = if far { Belief::of(&self.mean) } else { self.table.stop.expected.after(&self.mean) };
        if far {
            says.push((
                "Note",
                "the readings agree with one another and not with the dial: they alone count here. Find out before you \
                 cut what the dial, the touch-off or the seat had wrong; it may be wrong still."
                    .to_string(),
            ));
        }
        says.push((
            "Known",
            format!("{}, give or take {} (two spreads)", self.fine(now.mean_mm), self.fine(2.0 * now.spread_mm)),
        ));
        let advice = self.rule.advise(&now);
        says.extend(self.advised(&advice));
        if !matches!(advice, Advice::Gone(_)) {
            says.extend(self.by_thumb(&now));
        }
        Next { goes_on: !matches!(advice, Advice::Gone(_)), says }
    }

    fn expected(&self) -> String {
        let expected = &self.table.stop.expected;
        format!(
            "{}, give or take {} (two spreads), by the dial",
            self.size(expected.mean_mm),
            self.size(2.0 * expected.spread_mm)
        )
    }

    fn reads(&self) -> String {
        let all: Vec<String> = self.readings.iter().map(|reading| self.table.reading(reading.size_mm)).collect();
        let unit = self.table.gauge_units.name();
        if all.len() == 1 {
            format!("{} {unit}", all[0])
        } else {
            format!("{} {unit}; their mean counts", all.join(", "))
        }
    }

    /// Readings of one size that do not agree.
    fn apart(&self) -> Option<String> {
        let sizes = self.readings.iter().map(|reading| reading.size_mm);
        let (least, most) = (sizes.clone().fold(f64::INFINITY, f64::min), sizes.fold(0.0, f64::max));
        let spread_mm = self.mean.uncertainty_mm * 2f64.sqrt();
        (most - least > crate::measure::numbers().asked_spreads.value * spread_mm).then(|| {
            format!(
                "the readings lie {} apart, which this gauge does not do by itself. Wipe gauge and work, deburr, let it cool, \
                 and measure again.",
                self.fine(most - least)
            )
        })
    }

    fn measure_again(&self, off: f64) -> Vec<(&'static str, String)> {
        let mut says = vec![(
            "Do not cut",
            format!(
                "that is {off:.0} spreads from what is expected. Wipe gauge and work, deburr, count the turns of gauge and \
                 dial, and measure again; then give both readings."
            ),
        )];
        let alone_mm =
            self.measure.over_jaws_mm.map(|over_mm| over_mm + self.table.stop.expected.mean_mm - self.aim_of_plan());
        let half = alone_mm.is_some_and(|mm| (mm - self.mean.size_mm).abs() < 4.0 * self.table.stop.expected.spread_mm);
        if half {
            says.push((
                "Note",
                "this looks like the reading from the face to the jaw front alone: the size is it and the one from jaw front \
                 to seat together."
                    .to_string(),
            ));
        }
        says
    }

    fn aim_of_plan(&self) -> f64 {
        self.table.stop.band.middle_mm()
    }

    fn advised(&self, advice: &Advice) -> Vec<(&'static str, String)> {
        let band = &self.table.stop.band;
        match advice {
            Advice::Cut(setting) => {
                let mut says = vec![("Set", self.set(setting)), ("Then", self.then(setting))];
                says.push(("After", self.table.after()));
                says.extend(self.table.warnings(self.task.units).into_iter().map(|warning| ("Note", warning)));
                says
            }
            Advice::TooDeep(marks) => vec![(
                "Set",
                format!(
                    "{} first: the whole would be deeper than any cut that this set-up was worked out for. Then measure again.",
                    self.dial(*marks)
                ),
            )],
            Advice::SpringPass(_) => vec![(
                "Set",
                "nothing: too little is left on for the edge. Pass the tool across once more at the same number, then measure \
                 again and give both readings."
                    .to_string(),
            )],
            Advice::ToSize(setting) => vec![
                ("Set", "nothing: it is to size as it is, and every further cut takes it nearer to scrap. For the surface, \
                 pass the tool across once more at the same number.".to_string()),
                ("Chances", self.chances(setting)),
            ],
            Advice::Gone(chance) => vec![
                ("Scrap", format!(
                    "it is under its least, {}, with a chance of {} %: no cut brings it back.",
                    self.size(band.least_mm), percent(*chance)
                )),
                ("What now", "measure once more, cool and wiped, before you believe it. If it stays so: ask whether the drawing \
                 lets it pass, or whether the part may be made smaller all over; else take a new blank before more work \
                 goes into this one.".to_string()),
            ],
            Advice::MeasureAgain(off) => self.measure_again(*off),
        }
    }

    /// "0.012 in on: 4 turns + 0.033 in".
    fn set(&self, setting: &Setting) -> String {
        format!("{} deep, {}", self.size(setting.depth_mm), self.dial(setting.marks))
    }

    fn dial(&self, marks: u64) -> String {
        let dial = &self.task.lathe.dial;
        let on = dial.reading(dial.depth_of_mm(marks)).text;
        let all = dial.reading(dial.depth_of_mm(self.table.taken_marks + marks)).text;
        let unit = dial.unit_name();
        format!("{on} {unit} further on: the dial at {all} {unit}, counted from zero as in the plan")
    }

    fn then(&self, setting: &Setting) -> String {
        format!("it comes out near {}; {}", self.size(setting.comes_out.mean_mm), self.chances(setting))
    }

    fn chances(&self, setting: &Setting) -> String {
        let chances = &setting.chances;
        let [good, again, scrap] = [chances.good, chances.again, chances.scrap].map(percent);
        format!("chances in %: good {good}, another pass {again}, scrap {scrap}")
    }

    /// What two rules of thumb would set.
    fn by_thumb(&self, now: &Belief) -> Vec<(&'static str, String)> {
        let stop = &self.table.stop;
        let said = |setting: &Setting| {
            format!(
                "{}; near {}; {}",
                self.dial(setting.marks).split(':').next().unwrap_or_default(),
                self.size(setting.comes_out.mean_mm),
                self.chances(setting)
            )
        };
        vec![
            ("By the dial", said(&stop.by_the_dial(now))),
            ("Cut the rest", said(&stop.cut_the_rest(now, self.mean.size_mm))),
        ]
    }

    /// A size in the places of its band.
    fn size(&self, mm: f64) -> String {
        let band = &self.table.stop.band;
        show::length_to(mm, self.task.units, places(&[band.least_mm, band.most_mm], band.width_mm(), self.task.units))
    }

    /// One place more where the usual ones would hide what is known.
    fn fine(&self, mm: f64) -> String {
        let places = if self.task.units == Units::Mm { 3 } else { 4 };
        show::length_to(mm, self.task.units, places)
    }
}
