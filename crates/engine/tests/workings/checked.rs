//! What every working of every plan must keep: it comes out, its values are those of the workings that it names, and
//! what comes out is the number that the plan shows.

use engine::plan::{ContactKind, Pass, Plan, SetUp, Working};
use engine::working::{Expr, Formula, Function, formula, from_printed, outcome, shown_number};

/// Unrounded values give the plan's number to this share.
const SHARE: f64 = 1e-9;

/// Checks all workings of a plan; what is wrong, one line each.
pub fn faults(plan: &Plan) -> Vec<String> {
    let of_plan = plan.workings.iter().flat_map(|working| fault(working, &plan.workings, &[]));
    let of_set_ups = plan.set_ups.iter().flat_map(|set_up| {
        let list = &set_up.workings;
        let each = list.iter().flat_map(|working| fault(working, list, &plan.workings));
        let shown = in_set_up(set_up).into_iter().filter_map(|(key, value)| not_shown(list, &key, value));
        let words = hand_checks(set_up).into_iter().chain(marks(set_up)).chain(pressed(set_up));
        each.chain(shown).chain(words).map(|fault| format!("set-up {}: {fault}", set_up.number)).collect::<Vec<_>>()
    });
    let shown = in_plan(plan).into_iter().filter_map(|(key, value)| not_shown(&plan.workings, key, value));
    of_plan.chain(of_set_ups).chain(shown).collect()
}

/// Every working of a plan.
pub fn all(plan: &Plan) -> impl Iterator<Item = &Working> {
    plan.workings.iter().chain(plan.set_ups.iter().flat_map(|set_up| &set_up.workings))
}

fn fault(working: &Working, near: &[Working], far: &[Working]) -> Vec<String> {
    let Some(row) = formula(working.formula) else { return vec![format!("{}: no formula", working.of)] };
    let mut faults = Vec::new();
    if near.iter().filter(|other| other.of == working.of).count() != 1 {
        faults.push("its key stands twice".to_string());
    }
    faults.extend(wrong_symbols(working, row));
    faults.extend(wrong_links(working, near, far));
    match outcome(working) {
        Ok(value) if close(value, working.value) => faults.extend(wrong_by_hand(working, row)),
        other => faults.push(format!("{} says {}, its values give {other:?}", row.written, working.value)),
    }
    faults.into_iter().map(|fault| format!("{}: {fault}", working.of)).collect()
}

fn close(one: f64, other: f64) -> bool {
    (one - other).abs() <= SHARE * one.abs().max(other.abs()) + 1e-12
}

/// One value for each symbol of the row, in its order and unit, each with where it comes from.
fn wrong_symbols(working: &Working, row: &Formula) -> Option<String> {
    let wanted: Vec<_> = row.symbols.iter().map(|one| (one.symbol.written.as_str(), one.unit.as_str())).collect();
    let listed: Vec<_> = working.values.iter().map(|known| (known.symbol, known.unit)).collect();
    let told = working.values.iter().all(|known| known.from.len() > 5 && !known.values.is_empty());
    let whole = told && working.unit == row.unit && working.source == row.source && !working.says.is_empty();
    (wanted != listed || !whole).then(|| format!("symbols {listed:?} for {wanted:?}"))
}

/// A value that another working gives is that working's number, in its unit.
fn wrong_links(working: &Working, near: &[Working], far: &[Working]) -> Vec<String> {
    let of = |key: &str| near.iter().chain(far).find(|other| other.of == key);
    let linked = working.values.iter().filter_map(|known| known.worked.as_deref().map(|key| (known, key)));
    linked
        .filter(|(known, key)| {
            !of(key).is_some_and(|other| {
                known.values.len() == 1 && close(known.values[0], other.value) && known.unit == other.unit
            })
        })
        .map(|(known, key)| format!("{} is not the number of {key}", known.symbol))
        .collect()
}

/// The printed values give the printed number, as far as cutting off digits allows: what each value changes by
/// half its last digit, all of it added up, and half the last digit of what comes out. Where a formula picks or
/// rounds, the very number, if need be with one value moved by half its last digit.
fn wrong_by_hand(working: &Working, row: &Formula) -> Option<String> {
    let by_hand = from_printed(working);
    let near = |value: f64, allowed: f64| (value - working.value).abs() <= allowed + SHARE * working.value.abs();
    let last = half_a_digit(working.value, working.unit);
    let right = match by_hand {
        Ok(value) if jumps(row) => near(value, last) || others_by_hand(working).any(|value| near(value, last)),
        Ok(value) => near(value, 0.0) || near(value, 1.02 * rounding(working) + last),
        Err(_) => false,
    };
    (!right).then(|| format!("by the printed values {by_hand:?}, {} is shown", working.value))
}

/// What comes out with one value moved by half its last digit: a limit may lie that close to a step.
fn others_by_hand(working: &Working) -> impl Iterator<Item = f64> {
    let moves = |at: usize| {
        let known = &working.values[at];
        (0..known.values.len()).flat_map(move |one| {
            let half = half_a_digit(known.values[one], known.unit);
            [half, -half].into_iter().filter(|half| *half != 0.0).map(move |half| (at, one, half))
        })
    };
    (0..working.values.len()).flat_map(moves).filter_map(|(at, one, half)| {
        let mut other = working.clone();
        let known = &mut other.values[at];
        known.values[one] = shown_number(known.values[one], known.unit).parse::<f64>().ok()? + half;
        outcome(&other).ok()
    })
}

/// Whether the formula picks or rounds, so that nothing may be lost in it.
fn jumps(row: &Formula) -> bool {
    let mut found = false;
    row.right.visit(&mut |expr| {
        let picks = [Function::Floor, Function::Ceil, Function::Highest];
        found |= matches!(expr, Expr::Call(function, _) if picks.contains(function));
    });
    found
}

fn rounding(working: &Working) -> f64 {
    let mut other = working.clone();
    let mut sum = 0.0;
    for at in 0..working.values.len() {
        for one in 0..working.values[at].values.len() {
            let exact = working.values[at].values[one];
            let half = half_a_digit(exact, working.values[at].unit);
            let mut moved = |to: f64| {
                other.values[at].values[one] = to;
                outcome(&other).map_or(0.0, |value| (value - working.value).abs())
            };
            sum += if half == 0.0 { 0.0 } else { moved(exact + half).max(moved(exact - half)) };
            other.values[at].values[one] = exact;
        }
    }
    sum
}

/// Half of the last digit shown; nothing where all of it is shown.
fn half_a_digit(value: f64, unit: &str) -> f64 {
    let text = shown_number(value, unit);
    if close(text.parse().expect("a number"), value) {
        return 0.0;
    }
    let places = text.split_once('.').map_or(0, |(_, places)| places.len());
    0.5 * 10f64.powi(-(places as i32))
}

/// A number that the plan shows has a working of this key, and is its outcome.
fn not_shown(list: &[Working], key: &str, value: f64) -> Option<String> {
    match list.iter().find(|working| working.of == key) {
        Some(working) if working.value == value => None,
        Some(working) => Some(format!("{key}: the plan shows {value}, its working {}", working.value)),
        None => Some(format!("{key}: no working")),
    }
}

fn in_plan(plan: &Plan) -> Vec<(&'static str, f64)> {
    let (stock, minutes) = (&plan.stock, &plan.minutes);
    let mut shown = vec![
        ("volume of the bar", stock.volume_mm3),
        ("mass of the bar", stock.mass_kg),
        ("least round", stock.least_round_mm),
        ("least round to buy", stock.least_round_with_allowance_mm),
        ("least length to buy", stock.least_length_mm),
        ("share of the bar used", stock.used_share),
    ];
    if !plan.set_ups.is_empty() {
        shown.extend([
            ("minutes of handling", minutes.handling),
            ("minutes in the cut", minutes.cutting),
            ("minutes of measuring", minutes.measuring),
            ("minutes of the whole plan", minutes.total()),
        ]);
    }
    shown
}

fn in_set_up(set_up: &SetUp) -> Vec<(String, f64)> {
    let (hold, speed, out, minutes) = (&set_up.hold, &set_up.speed, &set_up.stick_out, &set_up.minutes);
    let mut shown = vec![
        ("metal removed", set_up.removed_mm3),
        ("bite", set_up.bite_mm),
        ("least stick-out", out.least_mm),
        ("stick-out", out.set_mm),
        ("most stick-out", out.most_mm),
        ("spring", hold.spring_um),
        ("clamping force counted on", hold.counted_force_n),
        ("speed set", speed.set_rpm),
        ("most speed", speed.most_rpm),
        ("minutes of handling", minutes.handling),
        ("minutes in the cut", minutes.cutting),
        ("minutes of measuring", minutes.measuring),
    ];
    shown.extend(hold.slip_factor.map(|factor| ("first slip", factor)));
    shown.extend(hold.point_slip_factor.map(|factor| ("first point slip", factor)));
    shown.extend(hold.lift_factor.map(|factor| ("first lift", factor)));
    shown.extend(hold.permitted_rpm.map(|rpm| ("permitted speed", rpm)));
    shown.extend([("mass of the piece", hold.mass_kg), ("turning force allowed", hold.unbalance_most_n)]);
    if hold.unbalance_n > 0.0 {
        shown.push(("turning force of the unbalance", hold.unbalance_n));
    }
    let over = set_up.measure.iter().find_map(|measure| measure.over_jaws_mm);
    shown.extend(over.map(|over_mm| ("size over a jaw front", over_mm)));
    let of_set_up = shown.into_iter().map(|(key, value)| (key.to_string(), value));
    let passes = set_up.passes.iter().enumerate().flat_map(|(at, pass)| {
        in_pass(pass).into_iter().map(move |(key, value)| (format!("pass {} {key}", at + 1), value))
    });
    of_set_up.chain(passes).collect()
}

fn in_pass(pass: &Pass) -> Vec<(&'static str, f64)> {
    vec![
        ("whole turns", f64::from(pass.dial_turns)),
        ("on the ring", pass.dial_reading),
        ("cutting speed", pass.speed_m_per_min),
        ("start radius", pass.start_radius_mm),
        ("metal removed", pass.removed_mm3),
        ("mean thickness of the chip", pass.chip_mm),
        ("cutting force", pass.force_n.cutting),
        ("feed force", pass.force_n.feed),
        ("passive force", pass.force_n.passive),
        ("higher cutting force", pass.force_safe_n.cutting),
        ("higher feed force", pass.force_safe_n.feed),
        ("higher passive force", pass.force_safe_n.passive),
        ("mean power", pass.power_mean_w),
        ("peak power", pass.power_peak_w),
        ("torque", pass.torque_nm),
        ("minutes", pass.minutes),
    ]
}

/// The pressure and the limit of every mark is the outcome of a working of the set-up.
fn marks(set_up: &SetUp) -> Vec<String> {
    let worked = |value: f64| set_up.workings.iter().any(|working| working.unit == "MPa" && working.value == value);
    let marks = set_up.jaws.iter().filter_map(|jaw| jaw.mark.as_ref());
    let values = marks.flat_map(|mark| mark.pressure_mpa.into_iter().chain([mark.limit_mpa]));
    values.filter(|&value| !worked(value)).map(|value| format!("mark: {value} MPa has no working")).collect()
}

/// A set-up with vees works out what their flanks press with, one with bored jaws what their arcs do: the points of a jaw
/// share its force so, before the springs bring all of them into balance.
fn pressed(set_up: &SetUp) -> Vec<String> {
    let works = |formula: &str| set_up.workings.iter().any(|working| working.formula == formula);
    let has = |contact| set_up.jaws.iter().any(|jaw| jaw.contact == contact);
    let wanted = [
        (has(ContactKind::Vee), "force on a flank"),
        (has(ContactKind::Vee), "force of both flanks"),
        (has(ContactKind::Bored), "width of a bored jaw"),
        (has(ContactKind::Bored), "force on the middle of a bored jaw"),
        (has(ContactKind::Bored), "force on an edge of a bored jaw"),
    ];
    let missing = wanted.into_iter().filter(|(wanted, formula)| *wanted != works(formula));
    missing.map(|(wanted, formula)| format!("{formula}: wanted {wanted}")).collect()
}

/// The hand checks are words: "... hold 5.4 times the turning": the number in them is the working's.
fn hand_checks(set_up: &SetUp) -> Vec<String> {
    let keys = ["hand check of torque", "hand check of push", "hand check of levering"];
    let said = |text: &str| {
        let before = text.split(" times").next().unwrap_or_default();
        before.rsplit(' ').next().unwrap_or_default().to_string()
    };
    keys.into_iter()
        .zip(&set_up.hold.hand_checks)
        .filter(|(key, text)| {
            let working = set_up.workings.iter().find(|working| working.of == *key);
            // A cut that does not push along the spindle says so and has no working.
            let none = text.ends_with("this cut has none");
            working.map_or(!none, |working| none || format!("{:.1}", working.value) != said(text))
        })
        .map(|(key, text)| format!("{key}: not the number of {text:?}"))
        .collect()
}
