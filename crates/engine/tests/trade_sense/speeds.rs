//! Spindle speeds and feeds.

use std::f64::consts::{PI, TAU};

use engine::plan::PassKind;
use engine::quantity::Plain;
use engine::shop::ChuckKind;

use crate::case::{Case, rough};
use crate::data;
use crate::jaws::each;
use crate::rule;
use crate::rule::{Findings, Rule};

pub fn rules() -> Vec<Rule> {
    vec![
        rule!(
            "T18",
            every_speed_is_on_the_plate,
            |case| each(case, |set_up| set_up.passes[0].rpm += 3.3),
            "every speed is one of the plate's",
            "`speed.set_rpm` and every `passes[].rpm` is in the lathe's `speeds`",
            "plate of the lathe (shop)"
        ),
        rule!(
            "T19",
            speed_is_judged_by_the_diagonal,
            |case| each(case, |set_up| set_up.passes.iter_mut().for_each(|pass| pass.start_radius_mm *= 0.7)),
            "speed is judged by the diagonal that swings, and stays allowed at the farthest corner",
            "`start_radius_mm` is the farthest corner of the floor by our own section; 2 pi rpm r / 1000 with the farthest point of the whole layer is at most the table's speed, lowered where the cut is interrupted (data or wish), + 2 %",
            "geometry; speeds: data"
        ),
        rule!(
            "T20",
            the_step_is_the_next_lower_one,
            |case| {
                for set_up in &mut case.plan.set_ups {
                    set_up.speed.most_rpm *= 4.0;
                }
            },
            "the speed step is the next lower one",
            "`set_rpm` <= 1.02 `most_rpm`, and the next higher step of the plate is above `most_rpm`; the speed that our own radius allows is never below `most_rpm`",
            "common practice, no source (2 % above is allowed)"
        ),
        rule!(
            "T21",
            never_faster_than_the_chuck_is_marked,
            |case| case.shop.chucks[0].marked_speed = Some(engine::quantity::rpm(10.0)),
            "never faster than the chuck is marked, not by 2 % either",
            "every rpm <= `marked_speed`; where it is not marked a bound stands in `assumed`",
            "chuck maker's marking; ISO 16156 / EN 1550 ask for it (from memory)"
        ),
        rule!(
            "T22",
            what_swings_clears_the_lathe,
            |case| case.shop.lathes[0].swing_over_bed = Some(engine::quantity::mm(20.0)),
            "what swings clears bed and slides, and the tool starts within the cross slide's travel",
            "twice the farthest point of the piece from the spindle axis, by our own section, <= swing over bed and cross slide; farthest corner <= travel of the cross slide",
            "plate of the lathe (shop)"
        ),
        rule!(
            "T23",
            feeds_are_the_plates_or_by_hand,
            |case| each(case, |set_up| set_up.passes[0].feed_mm_per_rev *= 1.07),
            "feeds are the plate's and the tool's, or by hand where the plate has none for the tool",
            "`feed_mm_per_rev` is one of the cross feeds (a share of the long feeds where the lathe says so) and in the tool's range; `by_hand` exactly when there is none such",
            "plate of the lathe (shop)"
        ),
        rule!(
            "T54",
            the_finishing_feed_meets_the_drawing,
            |case| {
                case.job.part.roughness = Some(engine::quantity::mm(0.000_01));
                case.shop.lathes[0].cross_feeds =
                    engine::shop::CrossFeeds::Listed(vec![engine::quantity::mm(0.001), engine::quantity::mm(0.1)]);
                case.shop.tools[0].feed = Some((engine::quantity::mm(0.0), engine::quantity::mm(0.3)));
            },
            "the finishing feed meets the drawing's roughness where the list allows it, else the plan says so",
            "Ra = f^2 / (31.2 r) with the feed of the last pass <= the drawing's Ra; or no finer feed is listed for the tool and a caution speaks of the roughness",
            "textbook: arithmetic mean of parabolic scallops"
        ),
        rule!(
            "T56",
            minutes_of_a_pass_are_its_way_over_its_feed,
            |case| each(case, |set_up| set_up.passes[0].minutes *= 0.8),
            "a pass takes its way over feed times turns",
            "(`start_radius_mm` + approach (data) - end radius) / (feed x rpm), end radius nought where the axis lies inside the floor: `minutes` within 0.1 %",
            "textbook"
        ),
        rule!(
            "T63",
            swinging_work_turns_well_below_the_mark,
            |case| case.shop.chucks[0].interrupted_speed = Some(engine::quantity::rpm(10.0)),
            "an interrupted cut in independent jaws turns well below the chuck's mark",
            "where the jaws move one by one and the edge leaves the metal (our own geometry), every rpm is at most the shop's speed for such cuts, else the share (data) of `marked_speed`; where it binds, the words of the speed speak of the jaws",
            "common practice, no source; makers' manuals ask for a low speed for off-centre work without a figure"
        ),
        rule!(
            "T64",
            roughing_is_fed_no_finer_than_finishing,
            |case| each(case, |set_up| set_up.passes[0].feed_mm_per_rev *= 0.4),
            "roughing is fed no finer than finishing, and all rough cuts of a set-up alike",
            "every rough `feed_mm_per_rev` is that of the first, and none is less than that of the finishing cut",
            "common practice, no source: coarse feed to rough, fine to finish; a change of feed is a lever moved"
        ),
        rule!(
            "T66",
            the_finishing_feed_is_no_finer_than_needed,
            |case| each(case, |set_up| {
                let finer = set_up.passes[0].feed_mm_per_rev * 0.5;
                set_up.passes.iter_mut().for_each(|pass| {
                    if pass.kind == PassKind::Finish {
                        pass.feed_mm_per_rev = finer
                    }
                });
            }),
            "the finishing feed is no finer than the drawing needs",
            "the next coarser listed feed, up to the roughing feed, would pass what the drawing's Ra allows, f = sqrt(18 sqrt(3) r Ra / k) with k by the cutting speed at our own corner (data, the usual allowance at least), or what is still finished with (data)",
            "textbook: arithmetic mean of parabolic scallops; Groover, Fig. 24.2 (from memory) for k"
        ),
    ]
}

fn every_speed_is_on_the_plate(case: &Case, found: &mut Findings) {
    let plate: Vec<f64> = case.lathe().speeds.iter().map(|speed| speed.plain()).collect();
    let listed = |rpm: f64| plate.iter().any(|step| (step - rpm).abs() < 1e-6);
    for set_up in &case.plan.set_ups {
        let all = set_up.passes.iter().map(|pass| pass.rpm).chain([set_up.speed.set_rpm]);
        for rpm in all {
            found.check(listed(rpm), || format!("set-up {}: {rpm} is not on the plate", set_up.number));
        }
    }
}

fn speed_is_judged_by_the_diagonal(case: &Case, found: &mut Findings) {
    for (set_up, moment) in case.steps() {
        let allowed = case.allowed_speed(case.interrupted(moment)) * 1.02;
        for (at, pass) in set_up.passes.iter().enumerate() {
            let floor = case.floor_radius(moment, pass.total_mm);
            found.check((pass.start_radius_mm - floor).abs() < 5e-3 * (1.0 + floor / 50.0), || {
                format!(
                    "set-up {} pass {}: start at {:.3}, ours {floor:.3}",
                    set_up.number,
                    at + 1,
                    pass.start_radius_mm
                )
            });
            let speed = TAU * pass.rpm * case.start_radius(moment, pass) / 1000.0;
            found.check(
                speed <= allowed * 1.0002
                    && (pass.speed_m_per_min - TAU * pass.rpm * pass.start_radius_mm / 1000.0).abs() < 1e-6,
                || format!("set-up {} pass {}: {speed:.2} m/min, allowed {allowed:.2}", set_up.number, at + 1),
            );
        }
    }
}

fn the_step_is_the_next_lower_one(case: &Case, found: &mut Findings) {
    for (set_up, moment) in case.steps() {
        let speed = &set_up.speed;
        let higher = case.lathe().speeds.iter().map(|step| step.plain()).find(|step| *step > speed.set_rpm + 1e-6);
        // The corner of the finished flat, not of the nearest mark of the dial.
        let last = case.floor_radius(moment, moment.depth);
        let by_corner = 1000.0 * case.allowed_speed(case.interrupted(moment)) / (2.0 * PI * last);
        let right = speed.set_rpm <= 1.02 * speed.most_rpm + 1e-6
            && higher.is_none_or(|higher| higher > speed.most_rpm)
            && speed.most_rpm <= by_corner * 1.001;
        found.check(right, || {
            format!("set-up {}: {speed:?}, next {higher:?}, by the corner {by_corner:.1}", set_up.number)
        });
    }
}

fn never_faster_than_the_chuck_is_marked(case: &Case, found: &mut Findings) {
    for set_up in &case.plan.set_ups {
        for rpm in set_up.passes.iter().map(|pass| pass.rpm).chain([set_up.speed.set_rpm]) {
            match case.chuck().marked_speed {
                Some(mark) => found.check(rpm <= mark.plain() + 1e-6, || {
                    format!("set-up {}: {rpm} rpm, the chuck is marked {}", set_up.number, mark.plain())
                }),
                None => found
                    .check(case.plan.assumed.iter().any(|row| row.what.contains("speed of the chuck")), || {
                        "no mark on the chuck and nothing assumed".to_string()
                    }),
            }
        }
    }
}

fn what_swings_clears_the_lathe(case: &Case, found: &mut Findings) {
    let lathe = case.lathe();
    for (set_up, moment) in case.steps() {
        let swung = 2.0 * case.swung(moment);
        for swing in [lathe.swing_over_bed, lathe.swing_over_slide].into_iter().flatten() {
            found.check(swung <= swing.plain() + 1e-2, || {
                format!("set-up {}: {swung:.1} swings, {} clears", set_up.number, swing.plain())
            });
        }
        if let Some(travel) = lathe.cross_slide.as_ref().and_then(|slide| slide.travel) {
            let start = set_up.passes.iter().map(|pass| pass.start_radius_mm).fold(0.0, f64::max);
            found.check(start <= travel.plain(), || format!("set-up {}: starts at {start:.1}", set_up.number));
        }
    }
}

fn feeds_are_the_plates_or_by_hand(case: &Case, found: &mut Findings) {
    let feeds = case.feeds();
    let (least, most) = case.tool_feeds();
    for set_up in &case.plan.set_ups {
        for (at, pass) in set_up.passes.iter().enumerate() {
            let feed = pass.feed_mm_per_rev;
            let right = if pass.by_hand {
                // No listed feed suits: none at all, or for an interrupted cut none fine enough.
                (least - 1e-9..=most + 1e-9).contains(&feed)
                    && feeds.iter().all(|listed| *listed > most * data::default("interrupted feed share"))
            } else {
                feeds.iter().any(|listed| (listed - feed).abs() < 1e-9)
            };
            found.check(right, || {
                format!(
                    "set-up {} pass {}: feed {feed} by hand {}, listed {feeds:?}",
                    set_up.number,
                    at + 1,
                    pass.by_hand
                )
            });
        }
    }
}

fn the_finishing_feed_meets_the_drawing(case: &Case, found: &mut Findings) {
    let Some(asked) = case.job.part.roughness else { return };
    let nose = case.tool().nose_radius.map_or(data::default("nose radius"), Plain::plain);
    for set_up in &case.plan.set_ups {
        let Some(pass) = set_up.passes.last().filter(|pass| pass.kind == PassKind::Finish) else { continue };
        let ra = pass.feed_mm_per_rev.powi(2) / (31.2 * nose);
        let (least, _) = case.tool_feeds();
        let finer = if pass.by_hand {
            pass.feed_mm_per_rev > least + 1e-9
        } else {
            case.feeds().iter().any(|feed| *feed < pass.feed_mm_per_rev - 1e-9)
        };
        let said = set_up.cautions.iter().chain(&case.plan.cautions).any(|caution| caution.contains("rough"));
        // The feed is listed: up to 2 % over what the drawing asks is taken, 4 % in Ra.
        found.check(ra <= asked.plain() * 1.0405 || (!finer && said), || {
            format!(
                "set-up {}: feed {} gives Ra {:.2} um, asked {:.2}; a finer feed {finer}, said {said}",
                set_up.number,
                pass.feed_mm_per_rev,
                ra * 1000.0,
                asked.plain() * 1000.0
            )
        });
    }
}

fn minutes_of_a_pass_are_its_way_over_its_feed(case: &Case, found: &mut Findings) {
    let approach = data::default("approach");
    for (set_up, moment) in case.steps() {
        for pass in &set_up.passes {
            let end = match case.faces[moment.face].side {
                None => 0.0,
                Some(angle) => {
                    let middle = case.middle(moment, angle);
                    let chord = moment.piece.chord(angle, moment.piece.reach(angle) - pass.total_mm);
                    chord.map_or(0.0, |(from, to)| (from - middle).max(middle - to).max(0.0))
                }
            };
            let ours = (pass.start_radius_mm + approach - end) / (pass.feed_mm_per_rev * pass.rpm);
            found.check((pass.minutes / ours - 1.0).abs() < 1e-3, || {
                format!("set-up {}: {:.4} min, ours {ours:.4}", set_up.number, pass.minutes)
            });
        }
    }
}

fn swinging_work_turns_well_below_the_mark(case: &Case, found: &mut Findings) {
    let chuck = case.chuck();
    let (Some(mark), ChuckKind::Independent) = (chuck.marked_speed, chuck.kind) else { return };
    let share = data::default("speed share, independent jaws");
    let most = chuck.interrupted_speed.map_or(share * mark.plain(), |rpm| rpm.plain().min(mark.plain()));
    for (set_up, _) in case.steps().filter(|(_, moment)| case.interrupted(moment)) {
        let fastest = set_up.passes.iter().map(|pass| pass.rpm).fold(set_up.speed.set_rpm, f64::max);
        let binds = (set_up.speed.most_rpm - most).abs() < 1e-6 && !set_up.speed.binding.contains("no higher speed");
        found.check(fastest <= most + 1e-6 && (!binds || set_up.speed.binding.contains("jaws")), || {
            format!("set-up {}: {fastest} rpm, {most} allowed; {}", set_up.number, set_up.speed.binding)
        });
    }
}

fn roughing_is_fed_no_finer_than_finishing(case: &Case, found: &mut Findings) {
    for set_up in &case.plan.set_ups {
        let feeds: Vec<f64> = rough(set_up).iter().map(|pass| pass.feed_mm_per_rev).collect();
        let (Some(&first), Some(last)) = (feeds.first(), set_up.passes.last()) else { continue };
        let alike = feeds.iter().all(|feed| (feed - first).abs() < 1e-9);
        found.check(alike && first >= last.feed_mm_per_rev - 1e-9, || {
            format!("set-up {}: rough feeds {feeds:?}, finishing {}", set_up.number, last.feed_mm_per_rev)
        });
    }
}

fn the_finishing_feed_is_no_finer_than_needed(case: &Case, found: &mut Findings) {
    let engine::job::JobMaterial::Named(material) = &case.job.stock.material else { return };
    let iron = engine::cutting::material(material).is_some_and(|row| row.family == engine::cutting::Family::CastIron);
    let nose = case.tool().nose_radius.map_or(data::default("nose radius"), Plain::plain);
    for (set_up, moment) in case.steps() {
        let (Some(roughing), Some(last)) = (rough(set_up).first().copied(), set_up.passes.last()) else { continue };
        if last.by_hand {
            continue;
        }
        let corner = TAU * set_up.speed.set_rpm * case.floor_radius(moment, moment.depth) / 1000.0;
        let usual = data::of_cutting("real_over_ideal_roughness");
        let ratio = data::real_over_ideal(if iron { "brittle" } else { "ductile" }, corner).max(usual);
        let wanted = case.job.part.roughness.map_or(data::default("finishing feed"), |ra| {
            let by_nose = (18.0 * 3f64.sqrt() * nose * ra.plain() / ratio).sqrt();
            let least = data::of_cutting("nose_only_feed_share") * nose;
            by_nose.min(least).min(data::default("finishing feed, coarsest"))
        });
        let next = case.feeds().into_iter().filter(|feed| *feed > last.feed_mm_per_rev + 1e-9).fold(f64::MAX, f64::min);
        let coarsest = last.feed_mm_per_rev >= roughing.feed_mm_per_rev - 1e-9;
        found.check(coarsest || next > wanted * 0.998, || {
            format!(
                "set-up {}: finishing feed {}, {next} would do for {wanted:.4}, roughing {}",
                set_up.number, last.feed_mm_per_rev, roughing.feed_mm_per_rev
            )
        });
    }
}
