//! The working: every formula that the plan used, its symbols, its source, and its numbers in each set-up.

use std::collections::{BTreeMap, BTreeSet};

use drawing::Figure;
use engine::plan::{Known, Plan, SetUp, StockChoice, UNDER_THE_BARS, Working};
use engine::quantity::{Units, show};
use engine::working::{
    formula, plain, plain_symbol, shown_briefly, shown_in_inches, shown_number, typst_math, typst_symbol, unit_as_set,
};
use serde_json::{Value, json};

use crate::figures::Album;

use engine::quantity::bare::{factor, small};

/// Room for the hold over one turn, four in a row, mm.
const TURN_MM: [f64; 2] = [41.0, 41.0];
/// Room for what the jaws do, four in a row, mm.
const FORCES_MM: [f64; 2] = [41.0, 60.0];
/// Room for the map of a flat, four in a row, mm.
const MAP_MM: [f64; 2] = [41.0, 58.0];
/// Stands once in the heading, not in every row.
const SECOND_OPINION: &str = " (a second opinion, which can only refuse)";
/// Stands once in the heading, too.
const PAST_IT: &str = ": past it no forces of the jaws balance the cut and";
const SECOND_HEADING: &str =
    "Second opinion, which can only refuse: past the last hold no forces of the jaws balance the cut";
/// Said once in the heading instead of in every row.
const ON_AXIS: &str = "; its middle lies on the axis";
const TURNING: &str = "Turning; the middle of the work lies on the axis unless a row says otherwise";
/// Most numbers in a cell of a table.
const MOST_IN_A_CELL: usize = 3;
/// Sources of a value that are named beside its symbol; the rest are in the plan's JSON.
const MOST_SOURCES: usize = 2;

/// Results set-up by set-up, the formulas, and what was assumed.
pub(crate) fn value(plan: &Plan, album: &mut Album) -> Value {
    let used = used(plan);
    let mut told = Told::new(plan);
    json!({
        "results": results(plan),
        "turns": pictures(plan, album, |set_up| drawing::turn_plot_briefly(set_up, TURN_MM)),
        "forces": pictures(plan, album, |set_up| drawing::jaw_forces_briefly(plan, set_up, FORCES_MM)),
        "surfaces": pictures(plan, album, |set_up| drawing::surface_map_briefly(set_up, plan.units, MAP_MM)),
        "metric": (plan.units == Units::Inch).then_some("Worked out in mm and N whatever the job's units; lengths stand in inches beside; 1 in = 25.4 mm."),
        "formulas": used.iter().enumerate().map(|(at, name)| formula_value(at + 1, name, plan, &used, &mut told))
            .collect::<Vec<_>>(),
        "bars": plan.stock_choice.as_ref().map(|choice| bars(choice, plan.units)),
        "assumed": plan.assumed.iter().map(|row| json!({
            "what": row.what,
            "value": row.value,
            "source": row.source,
        })).collect::<Vec<_>>(),
    })
}

/// The bars that this one was chosen from.
fn bars(choice: &StockChoice, units: Units) -> Value {
    let refused = choice.refused(units).join("; ");
    json!({
        "says": choice.sentence(),
        "head": StockChoice::head(units),
        "rows": choice.open().iter().map(|row| choice.cells(row, units)).collect::<Vec<_>>(),
        "under": UNDER_THE_BARS,
        "refused": (!refused.is_empty()).then(|| format!("{refused}.")),
    })
}

/// A picture for each set-up that has one.
fn pictures(plan: &Plan, album: &mut Album, mut draw: impl FnMut(&SetUp) -> Option<Figure>) -> Vec<Value> {
    let mut taken = Vec::new();
    for set_up in &plan.set_ups {
        if let Some(figure) = draw(set_up) {
            taken.push(json!({ "set_up": format!("Set-up {}", set_up.number), "figure": album.take(&figure) }));
        }
    }
    taken
}

/// Set-ups as they are counted: three and more on end as the first and the last.
fn counted(set_ups: &[u32]) -> String {
    let mut runs: Vec<[u32; 2]> = Vec::new();
    for &number in set_ups {
        match runs.last_mut() {
            Some([_, last]) if *last + 1 == number => *last = number,
            _ => runs.push([number, number]),
        }
    }
    let run = |[first, last]: [u32; 2]| match last - first {
        0 => first.to_string(),
        1 => format!("{first}, {last}"),
        _ => format!("{first}\u{2013}{last}"),
    };
    runs.into_iter().map(run).collect::<Vec<_>>().join(", ")
}

/// What each set-up comes to, a row a subject; set-ups of which the same is said stand together.
fn results(plan: &Plan) -> Vec<Value> {
    let mut rows: Vec<([String; 2], Vec<u32>)> = Vec::new();
    for set_up in &plan.set_ups {
        let number = set_up.number;
        for said in says(set_up, plan.units) {
            match rows.iter_mut().find(|(same, _)| *same == said) {
                Some((_, set_ups)) => set_ups.push(number),
                None => rows.push((said, vec![number])),
            }
        }
    }
    let mut subjects: Vec<String> = Vec::new();
    for ([word, _], _) in &rows {
        if !subjects.contains(word) {
            subjects.push(word.clone());
        }
    }
    let of = |subject: String| rows.iter().filter(move |([word, _], _)| *word == subject);
    let row = |(at, ([word, says], set_ups)): (usize, &([String; 2], Vec<u32>))| json!({ "word": if at == 0 { word.as_str() } else { "" }, "set_ups": counted(set_ups), "says": says });
    subjects.into_iter().flat_map(|subject| of(subject).enumerate().map(row).collect::<Vec<_>>()).collect()
}

/// Long words about where a value comes from, and where on the sheet they stand already.
struct Told {
    places: BTreeMap<String, String>,
}

impl Told {
    /// What was assumed stands in its own list, by number.
    fn new(plan: &Plan) -> Told {
        let places = plan.assumed.iter().zip(1..);
        Told { places: places.map(|(row, number)| (row.source.clone(), format!("assumed, {number}"))).collect() }
    }

    /// The words where they are short or new, else where they stand.
    fn once(&mut self, words: String, formula: usize) -> String {
        /// Shorter words are read sooner than looked up.
        const WORTH_LOOKING_UP: usize = 24;
        if words.chars().count() < WORTH_LOOKING_UP {
            return words;
        }
        let bare = words.strip_prefix("table: ").or(words.strip_prefix("assumed: ")).unwrap_or(&words);
        if let Some(place) = self.places.get(bare) {
            return place.clone();
        }
        self.places.insert(bare.to_string(), format!("as in ({formula})"));
        words
    }
}

fn says(set_up: &SetUp, units: Units) -> Vec<[String; 2]> {
    let mut says = vec![row("Hold", hold(set_up, units)), row("Limit", set_up.hold.binding.clone())];
    let second = |says: String| row(SECOND_HEADING, says.replace(SECOND_OPINION, "").replace(PAST_IT, ": then"));
    says.extend(set_up.hold.last_hold.iter().map(|last| second(last.says())));
    says.extend(set_up.hold.hand_checks.iter().map(|check| row("By hand", check.clone())));
    says.extend(set_up.hold.carries(units).into_iter().map(|carried| row(TURNING, carried.replace(ON_AXIS, ""))));
    says.extend(set_up.marks_say().map(|marks| row("Marks", marks)));
    says.push(row("Speed", set_up.speed.limit()));
    says.push(row("Force", set_up.heaviest_force(units)));
    says.push(row("Power", set_up.heaviest_power(units)));
    says
}

fn row(word: &str, says: String) -> [String; 2] {
    [word.to_string(), says]
}

fn hold(set_up: &SetUp, units: Units) -> String {
    let hold = &set_up.hold;
    let has = hold.slip_factor.map_or_else(|| "no slip found".to_string(), |has| format!("factor {}", factor(has)));
    let others = [
        ("first point slips in the finishing cut at", hold.point_slip_factor),
        ("in any pass the first point lifts at", hold.lift_factor),
    ];
    let others = others.iter().filter_map(|(what, at)| at.map(|at| format!("; {what} {}", factor(at))));
    format!(
        "{has} against {:.1} needed{}; counts on {} at each jaw; spring {}",
        hold.required,
        others.collect::<String>(),
        show::force(hold.counted_force_n, units),
        small(hold.spring_um, units)
    )
}

/// The workings that are printed: those of the whole plan, then of each set-up without all but its heaviest pass.
fn printed(plan: &Plan) -> Vec<(Option<u32>, &Working)> {
    let whole = plan.workings.iter().map(|working| (None, working));
    let of_set_ups = plan.set_ups.iter().flat_map(|set_up| {
        let kept = format!("pass {} ", heaviest(set_up));
        let is_printed = move |working: &&Working| !working.of.starts_with("pass ") || working.of.starts_with(&kept);
        set_up.workings.iter().filter(is_printed).map(|working| (Some(set_up.number), working))
    });
    whole.chain(of_set_ups).collect()
}

/// The pass with the greatest cutting force, from 1.
fn heaviest(set_up: &SetUp) -> usize {
    let forces = set_up.passes.iter().map(|pass| pass.force_safe_n.cutting);
    forces.enumerate().max_by(|one, other| one.1.total_cmp(&other.1)).map_or(0, |(at, _)| at + 1)
}

/// Names of the formulas in the order in which they are first needed.
fn used(plan: &Plan) -> Vec<&'static str> {
    let mut seen = BTreeSet::new();
    printed(plan).into_iter().map(|(_, working)| working.formula).filter(|name| seen.insert(*name)).collect()
}

fn formula_value(number: usize, name: &str, plan: &Plan, used: &[&str], told: &mut Told) -> Value {
    let all: Vec<(Option<u32>, &Working)> =
        printed(plan).into_iter().filter(|(_, working)| working.formula == name).collect();
    let Some(row) = formula(name) else { return json!(null) };
    let rows = rows(&all, plan.units);
    let same = |at: usize| same(&rows, at);
    let inches = |at: usize| in_inches(all.first()?.1.values.get(at)?, plan.units);
    json!({
        "name": name,
        "math": typst_math(row),
        "plain": plain(row),
        "source": row.source,
        "result": typst_symbol(&row.left),
        "result_plain": plain_symbol(&row.left),
        "unit": unit(&row.unit),
        "symbols": row.symbols.iter().enumerate().map(|(at, meaning)| json!({
            "math": typst_symbol(&meaning.symbol),
            "plain": plain_symbol(&meaning.symbol),
            "says": meaning.says,
            "unit": unit(&meaning.unit),
            "from": told.once(from(&all, at, plan, used), number),
            "same": same(at),
            "inches": inches(at),
        })).collect::<Vec<_>>(),
        "rows": rows.iter().map(|row| json!({
            "set_ups": if row.set_ups.is_empty() { "all".to_string() } else { counted(&row.set_ups) },
            "numbers": row.numbers,
            "inches": row.inches,
        })).collect::<Vec<_>>(),
    })
}

/// What a symbol is in every row: it stands once, where the symbol is explained, and takes no column.
fn same(rows: &[Row], at: usize) -> Option<&str> {
    let (first, rest) = rows.split_first()?;
    let number = first.numbers.get(at)?;
    rest.iter().all(|row| row.numbers.get(at) == Some(number)).then_some(number.as_str())
}

/// A unit as it stands behind a word; nothing for a bare number.
fn unit(unit: &str) -> String {
    if unit == "1" { String::new() } else { unit_as_set(unit) }
}

/// Where the values of a symbol come from: another formula by its number, or words.
fn from(all: &[(Option<u32>, &Working)], at: usize, plan: &Plan, used: &[&str]) -> String {
    let mut said: Vec<String> = Vec::new();
    for (set_up, working) in all {
        let Some(known) = working.values.get(at) else { continue };
        let mut says = known_from(known, *set_up, plan, used);
        if is_list(known) {
            says = format!("{says}: {}", listed(known));
        }
        if !said.contains(&says) {
            said.push(says);
        }
    }
    let more = if said.len() > MOST_SOURCES { "; and more" } else { "" };
    said.truncate(MOST_SOURCES);
    said.join("; ") + more
}

fn known_from(known: &Known, set_up: Option<u32>, plan: &Plan, used: &[&str]) -> String {
    let working = known.worked.as_deref().and_then(|key| worked(key, set_up, plan));
    match working.and_then(|working| used.iter().position(|name| *name == working.formula)) {
        Some(at) => format!("from ({})", at + 1),
        None => known.from.clone(),
    }
}

/// The working of a key: in the same set-up, or in the plan where that has none.
fn worked<'a>(key: &str, set_up: Option<u32>, plan: &'a Plan) -> Option<&'a Working> {
    let own = plan.set_ups.iter().filter(|one| Some(one.number) == set_up).flat_map(|one| &one.workings);
    own.chain(&plan.workings).find(|working| working.of == key)
}

/// Set-ups with the same numbers.
struct Row {
    /// None where it is one number for the whole plan.
    set_ups: Vec<u32>,
    /// In the order of the symbols, what comes out at the end.
    numbers: Vec<String>,
    /// What comes out, as an inch dial shows it.
    inches: Option<String>,
}

/// A length of an inch job as its dials and gauges show it.
fn in_inches(known: &Known, units: Units) -> Option<String> {
    let [value] = known.values.as_slice() else { return None };
    length_in_inches(*value, known.unit, units)
}

fn length_in_inches(value: f64, unit: &str, units: Units) -> Option<String> {
    (units == Units::Inch && unit == "mm").then(|| shown_in_inches(value, unit)).flatten()
}

/// One row for all set-ups with the same numbers: where, the values in the order of the symbols, what comes out.
fn rows(all: &[(Option<u32>, &Working)], units: Units) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for (set_up, working) in all {
        let numbers = numbers(working);
        match rows.iter_mut().find(|row| row.numbers == numbers && row.set_ups.is_empty() == set_up.is_none()) {
            Some(row) => row.set_ups.extend(set_up.filter(|number| !row.set_ups.contains(number))),
            None => {
                let inches = length_in_inches(working.value, working.unit, units);
                rows.push(Row { set_ups: set_up.iter().copied().collect(), numbers, inches });
            }
        }
    }
    rows
}

fn numbers(working: &Working) -> Vec<String> {
    let row = formula(working.formula);
    let value = |known: &Known| row.map_or_else(|| listed(known), |row| shown_briefly(known, row));
    working.values.iter().map(value).chain([shown_number(working.value, working.unit)]).collect()
}

/// More numbers than a cell of the table holds: all of them stand once, where their symbol is explained.
fn is_list(known: &Known) -> bool {
    known.values.len() > MOST_IN_A_CELL
}

fn listed(known: &Known) -> String {
    let shown = known.values.iter().map(|value| shown_number(*value, known.unit));
    shown.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::counted;

    #[test]
    fn set_ups_on_end_stand_as_the_first_and_the_last() {
        // Numbers of our own.
        assert_eq!(counted(&[1, 2, 3, 4, 5, 6]), "1\u{2013}6");
        assert_eq!(counted(&[1, 2, 4, 6, 7, 8, 10]), "1, 2, 4, 6\u{2013}8, 10");
        assert_eq!(counted(&[]), "");
    }
}
