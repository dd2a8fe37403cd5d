//! What is asked of the part, in words.

use super::flats::{Side, sides, trimmed};
use crate::job::Job;
use crate::part::{Kind, Requirement, Sized};
use crate::quantity::limits::limits;
use crate::quantity::{Length, Plain, Units};

/// A length as the drawing has it, with its unit.
fn length(value_mm: f64, units: Units) -> String {
    match units {
        Units::Mm => format!("{} mm", trimmed(value_mm, 4)),
        Units::Inch => format!("{} in", trimmed(value_mm / 25.4, 5)),
    }
}

/// What the drawing asks beyond sizes: its own zones, then those of ISO 2768-2 where it names a class.
pub(super) fn requirements(job: &Job, asked_of: &[Requirement]) -> Vec<String> {
    let (part, units) = (&job.part, job.units);
    let zone = |given: Option<Length>, kind: Kind, says: &str| {
        let own = given.map(|zone| format!("{says} within {}", length(zone.plain(), units)));
        own.or_else(|| general_zone(asked_of, kind, units).map(|zone| format!("{says} within {zone}")))
    };
    let mut list = Vec::new();
    list.extend(zone(part.square, Kind::Square, "each flat square to its neighbours"));
    list.extend(zone(part.parallel, Kind::Parallel, "opposite flats parallel"));
    list.extend(zone(part.flat, Kind::Flat, "flats flat"));
    let degrees = |limit: f64| trimmed(limit.to_degrees(), 4);
    list.extend(
        part.angles.map(|limit| format!("angles between sides within {} deg either way", degrees(limit.plain()))),
    );
    list.extend(part.position.map(|zone| {
        format!("the middle between opposite sides in a zone of {} about its place", length(zone.plain(), units))
    }));
    list.extend(part.roughness.map(|ra| match units {
        Units::Mm => format!("Ra {} um", trimmed(ra.plain() * 1e3, 2)),
        Units::Inch => format!("Ra {} uin", trimmed(ra.plain() / 25.4 * 1e6, 0)),
    }));
    list
}

/// "0.4 mm, by ISO 2768-2 K", or from the least to the most where faces differ.
fn general_zone(asked_of: &[Requirement], kind: Kind, units: Units) -> Option<String> {
    let own = || asked_of.iter().filter(|one| one.kind == kind);
    let least = own().map(|one| one.upper_mm).fold(f64::INFINITY, f64::min);
    let most = own().map(|one| one.upper_mm).fold(0.0, f64::max);
    let from = &own().next()?.from;
    let width = if least == most {
        length(most, units)
    } else {
        format!("{} to {}", trimmed_in(least, units), length(most, units))
    };
    Some(format!("{width}, by {from}"))
}

fn trimmed_in(value_mm: f64, units: Units) -> String {
    length(value_mm, units).split(' ').next().unwrap_or_default().to_string()
}

/// Where limits that are not written out come from: fits, and the classes of ISO 2768-1 that the drawing names.
pub(super) fn limits_from(job: &Job, asked_of: &[Requirement]) -> Vec<String> {
    let mut list: Vec<String> = Vec::new();
    let sides = sides(&job.part.form);
    for sized in sides.iter().map(|side: &Side| &side.sized).chain([&job.part.length]) {
        let line = fit_line(sized, job.units);
        list.extend(line.filter(|line| !list.contains(line)));
    }
    let class = |kinds: &[Kind]| {
        let general = |one: &&Requirement| kinds.contains(&one.kind) && one.from.contains("ISO 2768-1");
        job.part.general.sizes.filter(|_| asked_of.iter().any(|one| general(&one))).map(|class| class.letter())
    };
    let memory = "(table from memory)";
    list.extend(
        class(&[Kind::Size, Kind::Distance]).map(|class| format!("other sizes by ISO 2768-1 {class} {memory}")),
    );
    list.extend(class(&[Kind::Angle]).map(|class| format!("angles by ISO 2768-1 {class} {memory}")));
    list
}

/// "36 h8 by ISO 286: 36.000 mm 0 -0.039 (35.961 to 36.000)".
fn fit_line(sized: &Sized, units: Units) -> Option<String> {
    let (size_mm, fit) = (sized.size.plain(), sized.fit?);
    let (plus_mm, minus_mm) = (sized.plus?.plain(), sized.minus?.plain());
    let shown = limits(size_mm, plus_mm, minus_mm, units);
    Some(format!("{} {fit} by ISO 286 (table from memory): {shown}", trimmed_in(size_mm, units)))
}

/// A size as the part's words name it: "36", "36 h8".
pub(super) fn size_words(sized: &Sized, units: Units) -> String {
    let size = match units {
        Units::Mm => trimmed(sized.size.plain(), 4),
        Units::Inch => trimmed(sized.size.plain() / 25.4, 6),
    };
    sized.fit.map_or(size.clone(), |fit| format!("{size} {fit}"))
}
