//! `[[lathe]]` and its slides.

use engine::plan::Assumed;
use engine::quantity::{Kind, Length, degrees, kilograms, mm, newton_metres, newtons, rpm, watts};
use engine::shop::{CrossFeeds, DialUnit, Lathe, Reads, Slide, Tailstock};

use super::{assume, name, optional_plain, required_plain, table_of};
use crate::bounds::{
    Bounds, FEED, FORCE, LENGTH, LENGTH_OR_ZERO, MASS, POWER, SHARE, SMALL_ANGLE, SMALL_LENGTH, SPEED, STIFFNESS,
    TORQUE,
};
use crate::reader::Reader;
use crate::table::{Item, Table};

const KEYS: [&str; 20] = [
    "name",
    "speeds",
    "cross_feeds",
    "cross_feed_share",
    "long_feeds",
    "motor",
    "efficiency",
    "most_torque",
    "swing_over_bed",
    "swing_over_slide",
    "spindle_bore",
    "spindle_run_out",
    "spindle_axial_slip",
    "cross_slide_out_of_square",
    "stiffness",
    "mass",
    "rotor_mass",
    "tailstock",
    "depth_slide",
    "cross_slide",
];

/// Reads one lathe.
pub(crate) fn read(
    reader: &mut Reader<'_>,
    table: &Table<'_>,
    number: usize,
    assumed: &mut Vec<Assumed>,
) -> Option<Lathe> {
    reader.keys(table, &KEYS);
    let name = name(reader, table, "lathe", number);
    let speeds = reader.required(table, "speeds", "the speeds on the plate, such as `[45, 70, 110]`", |r, item| {
        r.some_rising(item, Kind::Speed, &SPEED)
    });
    let long_feeds = reader.optional(table, "long_feeds", |r, item| r.rising(item, Kind::Feed, &FEED));
    let cross_feeds = cross_feeds(reader, table);
    let motor = required_plain(reader, table, "motor", Kind::Power, &POWER);
    let plain = |reader: &mut Reader<'_>, key, kind, bounds: &Bounds| optional_plain(reader, table, key, kind, bounds);
    let efficiency = plain(reader, "efficiency", Kind::Share, &SHARE);
    let most_torque = plain(reader, "most_torque", Kind::Torque, &TORQUE);
    let bed = plain(reader, "swing_over_bed", Kind::Length, &LENGTH);
    let over_slide = plain(reader, "swing_over_slide", Kind::Length, &LENGTH);
    let bore = plain(reader, "spindle_bore", Kind::Length, &LENGTH_OR_ZERO);
    let run_out = plain(reader, "spindle_run_out", Kind::Length, &SMALL_LENGTH);
    let axial_slip = plain(reader, "spindle_axial_slip", Kind::Length, &SMALL_LENGTH);
    let out_of_square = plain(reader, "cross_slide_out_of_square", Kind::Angle, &SMALL_ANGLE);
    let stiffness = plain(reader, "stiffness", Kind::Stiffness, &STIFFNESS);
    let mass = plain(reader, "mass", Kind::Mass, &MASS);
    let rotor_mass = plain(reader, "rotor_mass", Kind::Mass, &MASS);
    let tailstock = reader.optional(table, "tailstock", tailstock);
    let depth_slide = reader.required(table, "depth_slide", "a table `[lathe.depth_slide]`", |r, item| {
        slide(r, item, "depth slide", assumed)
    });
    let cross_slide = reader.optional(table, "cross_slide", |r, item| slide(r, item, "cross slide", assumed));
    slide_clears_less(reader, table, bed, over_slide);
    Some(Lathe {
        name: name?,
        speeds: speeds?.into_iter().map(rpm).collect(),
        cross_feeds: cross_feeds?,
        long_feeds: lengths(long_feeds.unwrap_or_default()),
        motor: watts(motor?),
        efficiency,
        most_torque: most_torque.map(newton_metres),
        swing_over_bed: bed.map(mm),
        swing_over_slide: over_slide.map(mm),
        spindle_bore: bore.map(mm),
        spindle_run_out: run_out.map(mm),
        spindle_axial_slip: axial_slip.map(mm),
        cross_slide_out_of_square: out_of_square.map(degrees),
        stiffness_n_per_um: stiffness,
        mass: mass.map(kilograms),
        rotor_mass: rotor_mass.map(kilograms),
        tailstock,
        depth_slide: depth_slide?,
        cross_slide,
    })
}

/// A tailstock with a centre of 60 degrees: what is left out is taken.
fn tailstock(reader: &mut Reader<'_>, item: &Item<'_>) -> Option<Tailstock> {
    let table = table_of(reader, item)?;
    reader.keys(&table, &["thrust", "most_thrust", "stiffness"]);
    let thrust = optional_plain(reader, &table, "thrust", Kind::Force, &FORCE);
    let most_thrust = optional_plain(reader, &table, "most_thrust", Kind::Force, &FORCE);
    let stiffness = optional_plain(reader, &table, "stiffness", Kind::Stiffness, &STIFFNESS);
    Some(Tailstock {
        thrust: thrust.map(newtons),
        most_thrust: most_thrust.map(newtons),
        stiffness_n_per_um: stiffness,
    })
}

fn lengths(values: Vec<f64>) -> Vec<Length> {
    values.into_iter().map(mm).collect()
}

/// `cross_feeds`, or a share of the feeds along; neither: by hand only.
fn cross_feeds(reader: &mut Reader<'_>, table: &Table<'_>) -> Option<CrossFeeds> {
    const MOST_SHARE: f64 = 2.0;
    let Some(share) = table.get("cross_feed_share") else {
        return match table.has("cross_feeds") {
            true => reader
                .optional(table, "cross_feeds", |r, item| r.rising(item, Kind::Feed, &FEED))
                .map(|feeds| CrossFeeds::Listed(lengths(feeds))),
            false => Some(CrossFeeds::Listed(Vec::new())),
        };
    };
    if table.has("cross_feeds") {
        return reader.fault(
            share.span,
            format!("`{}` stands beside `cross_feeds`", share.path),
            "`cross_feeds` or `cross_feed_share`, not both",
        );
    }
    let along = table.get("long_feeds").and_then(|item| item.value.as_array().map(|list| list.len()));
    if along.unwrap_or(0) == 0 {
        return reader.fault(share.span, format!("`{}` is a share of nothing", share.path), "`long_feeds` too");
    }
    let bounds = (std::ops::Bound::Excluded(0.0), std::ops::Bound::Included(MOST_SHARE));
    optional_plain(reader, table, "cross_feed_share", Kind::Share, &bounds).map(CrossFeeds::ShareOfLong)
}

/// What clears the cross slide clears the bed too.
fn slide_clears_less(reader: &mut Reader<'_>, table: &Table<'_>, bed: Option<f64>, over_slide: Option<f64>) {
    if let (Some(bed), Some(over_slide)) = (bed, over_slide)
        && over_slide > bed
    {
        let span = table.get("swing_over_slide").map_or(table.span.clone(), |item| item.span);
        let says = format!("`{}.swing_over_slide` is more than `swing_over_bed`", table.path);
        reader.fault::<()>(span, says, "the diameter that clears the slide, no more than what clears the bed");
    }
}

fn slide(reader: &mut Reader<'_>, item: &Item<'_>, which: &str, assumed: &mut Vec<Assumed>) -> Option<Slide> {
    let table = table_of(reader, item)?;
    reader.keys(&table, &["graduation", "per_turn", "reads", "screw", "travel", "backlash", "set_over"]);
    let accepts = Kind::Length.accepts(reader.units);
    let graduation = reader.required(&table, "graduation", &accepts, |r, item| r.quantity(item, Kind::Length, &LENGTH));
    let per_turn = required_plain(reader, &table, "per_turn", Kind::Length, &LENGTH);
    let reads = reads(reader, &table, which, assumed);
    let screw = optional_plain(reader, &table, "screw", Kind::Length, &LENGTH);
    let travel = optional_plain(reader, &table, "travel", Kind::Length, &LENGTH);
    let backlash = optional_plain(reader, &table, "backlash", Kind::Length, &SMALL_LENGTH);
    let under_a_quarter_turn = (std::ops::Bound::Included(0.0), std::ops::Bound::Excluded(90.0));
    let set_over = optional_plain(reader, &table, "set_over", Kind::Angle, &under_a_quarter_turn);
    let (graduation, per_turn) = (graduation?, per_turn?);
    whole_marks(reader, &table, graduation.plain, per_turn)?;
    Some(Slide {
        graduation: mm(graduation.plain),
        per_turn: mm(per_turn),
        unit: if graduation.inch { DialUnit::Inch } else { DialUnit::Mm },
        reads: reads?,
        screw: screw.map(mm),
        travel: travel.map(mm),
        backlash: backlash.map(mm),
        set_over: degrees(set_over.unwrap_or(0.0)),
    })
}

fn reads(reader: &mut Reader<'_>, table: &Table<'_>, which: &str, assumed: &mut Vec<Assumed>) -> Option<Reads> {
    if !table.has("reads") {
        let source = "cautious: if the ring counts diameter after all, too little is cut, not too much";
        assume(assumed, format!("what the ring of the {which} reads"), "depth", source);
        return Some(Reads::Depth);
    }
    reader.optional(table, "reads", |r, item| {
        r.word(item, &[("depth", Reads::Depth), ("radius", Reads::Radius), ("diameter", Reads::Diameter)])
    })
}

/// A ring has a whole number of marks.
fn whole_marks(reader: &mut Reader<'_>, table: &Table<'_>, graduation: f64, per_turn: f64) -> Option<()> {
    const NEAR: f64 = 1e-6;
    const MOST_MARKS: f64 = 10_000.0;
    let marks = per_turn / graduation;
    if (1.0 - NEAR..=MOST_MARKS).contains(&marks) && (marks - marks.round()).abs() <= NEAR * marks {
        return Some(());
    }
    let span = table.get("per_turn").map_or(table.span.clone(), |item| item.span);
    let says = format!("`{}` would have {marks:.4} marks a turn", table.path);
    reader.fault(span, says, "`per_turn` a whole number of times `graduation`")
}
