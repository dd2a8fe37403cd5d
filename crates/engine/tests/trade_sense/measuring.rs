//! What is measured, when and with what.

use std::f64::consts::FRAC_PI_2;

use engine::plan::Measure;
use engine::quantity::Plain;
use engine::shop::Gauge;

use crate::case::{Case, Moment, NEAR_MM};
use crate::data;
use crate::jaws::each;
use crate::rule;
use crate::rule::{Findings, Rule};

pub fn rules() -> Vec<Rule> {
    vec![
        rule!(
            "T38",
            a_sized_face_is_measured_before_its_last_cut,
            |case| each(case, |set_up| set_up.measure.clear()),
            "a size is measured before its last cut",
            "every face whose opposite is cut already, or stays, has a `measure` with `when` before the last cut, and `hands` stop for it before the last pass",
            "common practice, no source; magazine and forum reports of undersize from dial sums"
        ),
        rule!(
            "T39",
            nothing_is_measured_with_a_gauge_that_cannot_get_there,
            |case| {
                for gauge in &mut case.shop.gauges {
                    gauge.range = Some((engine::quantity::mm(900.0), engine::quantity::mm(901.0)));
                }
            },
            "nothing is measured with a gauge that cannot get there",
            "the gauge named is in the shop and its `range` covers what it reads (in the chuck from face to jaw front: nominal - bite; before the last pass with that still on it); in the chuck it `fits_in_chuck`, else the piece comes out; a gauge not in the shop is named only where none reaches",
            "follows from the gauge (shop)"
        ),
        rule!(
            "T40",
            the_gauge_is_finer_than_the_band,
            |case| {
                for gauge in &mut case.shop.gauges {
                    gauge.uncertainty = Some(engine::quantity::mm(5.0));
                }
            },
            "the gauge is finer than the band",
            "twice its standard uncertainty (a mark / sqrt 12 where none is given) is within a quarter of plus + minus (data), or the plan says that it is coarse or that it is not in the shop's list",
            "common practice: four to ten times finer, no source"
        ),
        rule!(
            "T60",
            the_first_face_of_a_pair_leaves_its_opposite_whole,
            |case| {
                each(case, |set_up| {
                    for measure in &mut set_up.measure {
                        (measure.plus_mm, measure.minus_mm) = (40.0, 40.0);
                    }
                });
            },
            "the first face of a pair may come out at either of its limits and the part is still all metal",
            "size over it and the bar behind: with the finished part moved along the face's normal to either limit, every corner lies in the raw bar (our own polygon, 0.002 mm); ends: both still have metal to cut",
            "follows from the geometry"
        ),
    ]
}

fn gauge<'a>(case: &'a Case, measure: &Measure) -> Option<&'a Gauge> {
    let gauges = case.shop.gauges.iter();
    gauges.filter(|gauge| measure.gauge.starts_with(&gauge.name)).max_by_key(|gauge| gauge.name.len())
}

fn opposite_stands(case: &Case, moment: &Moment) -> bool {
    let here = &case.faces[moment.face];
    case.faces.iter().enumerate().any(|(at, face)| {
        let opposite = match (here.side, face.side) {
            (Some(a), Some(b)) => (a - b).cos() < -1.0 + 1e-12,
            (None, None) => here.front != face.front,
            _ => false,
        };
        opposite && (moment.done.contains(&at) || !face.cut)
    })
}

fn a_sized_face_is_measured_before_its_last_cut(case: &Case, found: &mut Findings) {
    for (set_up, _) in case.steps().filter(|(_, moment)| opposite_stands(case, moment)) {
        let before = set_up.measure.iter().position(|measure| measure.when.starts_with("before"));
        let last = set_up.passes.len();
        let stop =
            before.and_then(|index| set_up.hands.iter().position(|hand| *hand == engine::plan::Hand::Stop(index)));
        let pass = set_up
            .hands
            .iter()
            .position(|hand| matches!(hand, engine::plan::Hand::Passes { from, to } if *from < last && *to == last));
        let told = matches!((stop, pass), (Some(stop), Some(pass)) if stop < pass);
        found.check(told, || {
            format!(
                "set-up {} ({:?}): measure {before:?}, stop {stop:?}, pass {pass:?}",
                set_up.number, set_up.cuts_faces
            )
        });
    }
}

/// What the gauge reads: the size, or from the new face down to a jaw front; before the last pass with that on it.
fn reads(set_up: &engine::plan::SetUp, measure: &Measure) -> f64 {
    let before = measure.when.starts_with("before");
    let still_on = set_up.passes.last().filter(|_| before).map_or(0.0, |pass| pass.depth_mm);
    still_on + if measure.what.contains("jaw front") { measure.nominal_mm - set_up.bite_mm } else { measure.nominal_mm }
}

fn covers(gauge: &Gauge, reads: f64) -> bool {
    gauge.range.is_none_or(|(least, most)| (least.plain() - 1e-6..=most.plain() + 1e-6).contains(&reads))
}

fn nothing_is_measured_with_a_gauge_that_cannot_get_there(case: &Case, found: &mut Findings) {
    for set_up in &case.plan.set_ups {
        for measure in &set_up.measure {
            let reads = reads(set_up, measure);
            let in_chuck = !measure.takes_out && !measure.when.contains("out of");
            let right = match gauge(case, measure) {
                Some(gauge) => covers(gauge, reads) && reads > 0.0 && (!in_chuck || gauge.fits_in_chuck),
                None => {
                    let bench = case.shop.gauges.iter().filter(|gauge| !gauge.fits_in_chuck);
                    measure.gauge.contains("not in the shop") && !bench.clone().any(|gauge| covers(gauge, reads))
                }
            };
            found.check(right, || format!("set-up {}: {measure:?}, reads {reads:.2}", set_up.number));
        }
    }
}

fn the_gauge_is_finer_than_the_band(case: &Case, found: &mut Findings) {
    let share = data::default("reading share of the band");
    for set_up in &case.plan.set_ups {
        for measure in &set_up.measure {
            let Some(gauge) = gauge(case, measure) else { continue };
            let uncertainty = gauge.uncertainty.map_or(gauge.graduation.plain() / 12f64.sqrt(), Plain::plain);
            let fine = 2.0 * uncertainty <= share * (measure.plus_mm + measure.minus_mm) * 1.000_001;
            found.check(fine || measure.gauge.contains("coarse"), || {
                format!("set-up {}: {uncertainty} mm for {measure:?}", set_up.number)
            });
        }
    }
}

fn the_first_face_of_a_pair_leaves_its_opposite_whole(case: &Case, found: &mut Findings) {
    for (set_up, moment) in case.steps() {
        let face = &case.faces[moment.face];
        for measure in set_up.measure.iter().filter(|measure| measure.what.contains("bar behind")) {
            let meant = moment.height - moment.depth;
            let most = measure.nominal_mm + measure.plus_mm - meant;
            let least = measure.nominal_mm - measure.minus_mm - meant;
            let whole = match face.side {
                Some(angle) => [most, least].iter().all(|&moved| stays_in_bar(case, angle, moved)),
                None => most < moment.depth && -least < case.raw_bar().length() - finished_length(case) - moment.depth,
            };
            found.check(whole, || format!("set-up {}: {most:+.3} {least:+.3} of {measure:?}", set_up.number));
        }
    }
}

/// Whether the finished section, moved along a direction, is all metal.
fn stays_in_bar(case: &Case, angle: f64, moved: f64) -> bool {
    let bar = case.raw_bar();
    let sides = case.faces.iter().filter_map(|face| Some((face.side?, face.distance)));
    let part = sides.fold(bar.clone(), |part, (angle, distance)| part.cut(angle, distance));
    let grown = NEAR_MM / bar.reach(0.0).min(bar.reach(FRAC_PI_2));
    part.corners.iter().all(|&(x, y)| {
        let (x, y) = (x + moved * angle.cos(), y + moved * angle.sin());
        bar.holds((x / (1.0 + grown), y / (1.0 + grown)))
    })
}

fn finished_length(case: &Case) -> f64 {
    case.faces.iter().filter(|face| face.side.is_none()).map(|face| face.distance).sum()
}
