//! The cuts of a set-up: depths, skin, finishing, what the dial shows.

use engine::plan::PassKind;
use engine::quantity::Plain;
use engine::shop::DialUnit;

use crate::case::{Case, NEAR_MM, rough, total};
use crate::data;
use crate::jaws::each;
use crate::rule;
use crate::rule::{Findings, Rule};

pub fn rules() -> Vec<Rule> {
    vec![
        rule!(
            "T24",
            cuts_add_up_to_the_depth,
            |case| each(case, |set_up| set_up.passes[0].depth_mm += 0.2),
            "cuts add up to the depth of the face",
            "each `total_mm` is the one before plus `depth_mm`; the last is, within half a mark of the dial, the metal over the face by our own geometry",
            "geometry"
        ),
        rule!(
            "T25",
            the_first_cut_goes_under_the_skin,
            |case| {
                case.job.stock.surface = Some(engine::job::Surface::Cast);
                each(case, |set_up| {
                    set_up.passes[0].depth_mm = 0.2;
                    set_up.cautions.clear();
                });
            },
            "the first cut goes under the skin, or a notice says that it does not, and only then",
            "a side cut from hot-rolled or cast bar: first `depth_mm` >= the skin's depth (data), or else the set-up's cautions or notes speak of the skin, never both",
            "a text on turning cast and rolled bar in public training material; depth: data, common practice, no source"
        ),
        rule!(
            "T26",
            no_finishing_cut_is_too_thin,
            |case| each(case, |set_up| set_up.passes.iter_mut().for_each(|pass| pass.depth_mm = 0.02)),
            "no finishing cut thinner than the tool can take",
            "the last `depth_mm` >= the least that edge and work can take (data), less half a mark",
            "minimum chip thickness, Brammertz; common practice for the amount, no source"
        ),
        rule!(
            "T27",
            the_finishing_cut_is_the_last,
            |case| each(case, |set_up| set_up.passes.iter_mut().for_each(|pass| pass.kind = PassKind::Rough)),
            "a finishing cut is kept, is the last, and is no deeper than the roughing cuts",
            "exactly the last pass is \"finish\"; where there are others it is no deeper than the deepest of them, or than the job wishes",
            "common practice, no source"
        ),
        rule!(
            "T28",
            no_cut_is_deeper_than_tool_or_job_allows,
            |case| case.shop.tools[0].deepest_cut = Some(engine::quantity::mm(0.1)),
            "no cut deeper than the tool's or the job's deepest",
            "every `depth_mm` <= the tool's `deepest_cut` (shop, or the default of its material) and the job's `deepest_cut`",
            "maker of the tool (shop)"
        ),
        rule!(
            "T29",
            the_dial_shows_the_total,
            |case| each(case, |set_up| set_up.passes[0].dial_reading += 0.4),
            "every depth lies on a mark of the dial in use, and the dial's numbers give it back",
            "`dial_turns` x `per_turn` + `dial_reading`, counted in marks and turned into depth with screw, reading and set-over by our own sum, is `total_mm` within 1 um; the ring never shows a full turn",
            "geometry"
        ),
        rule!(
            "T30",
            the_dial_only_goes_forward,
            |case| each(case, |set_up| set_up.passes.last_mut().expect("a pass").total_mm = -0.1),
            "the dial only ever goes forward",
            "`total_mm` rises from pass to pass, from above nought",
            "common practice, no source: backlash"
        ),
        rule!(
            "T31",
            never_more_than_the_slides_travel,
            |case| case.shop.lathes[0].depth_slide.travel = Some(engine::quantity::mm(0.2)),
            "never more than the slide's travel",
            "last `total_mm` / cos(set-over) <= `travel` of the depth slide",
            "plate of the lathe (shop)"
        ),
        rule!(
            "T48",
            rough_cuts_feel_alike,
            |case| each(case, |set_up| {
                if set_up.passes.len() > 3 {
                    set_up.passes[1].depth_mm *= 0.4;
                }
            }),
            "rough cuts feel alike; the odd remainder goes last before finishing",
            "rough `depth_mm` differ by a mark at most, but for the last, which is no deeper than the others, and a first one that is deeper to go under the skin",
            "common practice, no source"
        ),
        rule!(
            "T65",
            rough_cuts_are_as_deep_as_their_feed_bears,
            |case| each(case, |set_up| set_up.passes[0].feed_mm_per_rev *= 0.1),
            "no rough cut is so deep for its feed that it comes off as a ribbon, nor shallow for its feed without a limit that is told",
            "every rough `depth_mm` <= the most (data) times its feed, or the skin's depth where it goes through one; the deepest is at least the least (data) times its feed, or one rough cut does, or `hold.binding` names what holds it down",
            "textbooks of cutting: depth over feed 5 to 20 (from memory); the low end is the project's"
        ),
        rule!(
            "T68",
            the_finishing_cut_is_the_mark_nearest_to_the_wish,
            |case| each(case, |set_up| {
                let last = set_up.passes.len() - 1;
                set_up.passes[last].depth_mm *= 0.8;
            }),
            "the finishing cut is the mark of the dial nearest to what is wished",
            "the last `depth_mm` is within half a mark of the job's wish, or the usual (data), and no thinner than edge and work can take; judged where the rough cuts are deeper than it and leave it room",
            "common practice, no source: 0.2 to 0.3 mm left for the finishing cut"
        ),
    ]
}

fn cuts_add_up_to_the_depth(case: &Case, found: &mut Findings) {
    for (set_up, moment) in case.steps() {
        let mut so_far = 0.0;
        for pass in &set_up.passes {
            so_far += pass.depth_mm;
            found.check((so_far - pass.total_mm).abs() < 1e-6, || {
                format!("set-up {}: {so_far:.4} against a total of {:.4}", set_up.number, pass.total_mm)
            });
        }
        found.check((so_far - moment.depth).abs() <= case.mark() / 2.0 + NEAR_MM, || {
            format!(
                "set-up {}: cuts {so_far:.3}, {:.3} over the face, mark {:.4}",
                set_up.number,
                moment.depth,
                case.mark()
            )
        });
    }
}

fn the_first_cut_goes_under_the_skin(case: &Case, found: &mut Findings) {
    let skin = data::default("under the skin");
    for (set_up, moment) in case.steps().filter(|(_, moment)| case.on_skin(moment)) {
        let first = set_up.passes[0].depth_mm;
        let said = set_up.cautions.iter().chain(&set_up.notes).any(|caution| caution.contains("skin"));
        found.check((first >= skin - 1e-6) != said, || {
            format!("set-up {}: first cut {first:.3} of {:.3}, skin {skin}, told {said}", set_up.number, moment.depth)
        });
    }
}

fn no_finishing_cut_is_too_thin(case: &Case, found: &mut Findings) {
    let least = case.least_finish();
    for set_up in &case.plan.set_ups {
        let last = set_up.passes.last().map_or(0.0, |pass| pass.depth_mm);
        found.check(last >= least - case.mark() / 2.0 - 1e-6, || {
            format!("set-up {}: finishing cut {last:.4}, least {least}", set_up.number)
        });
    }
}

fn the_finishing_cut_is_the_last(case: &Case, found: &mut Findings) {
    for set_up in &case.plan.set_ups {
        let last = set_up.passes.len() - 1;
        let placed = set_up.passes.iter().enumerate().all(|(at, pass)| (pass.kind == PassKind::Finish) == (at == last));
        let deepest = rough(set_up).iter().map(|pass| pass.depth_mm).fold(0.0, f64::max);
        // A finishing cut that the job wishes itself is the job's affair.
        let wished = case.job.cutting.finishing_cut.map_or(0.0, |wish| wish.plain() + case.mark());
        let light = last == 0 || set_up.passes[last].depth_mm <= deepest.max(wished) + 1e-9;
        found.check(placed && light, || {
            let depths: Vec<f64> = set_up.passes.iter().map(|pass| pass.depth_mm).collect();
            format!("set-up {}: cuts {depths:.3?}, finish last {placed}", set_up.number)
        });
    }
}

fn no_cut_is_deeper_than_tool_or_job_allows(case: &Case, found: &mut Findings) {
    let usual = match case.tool().material {
        engine::shop::ToolMaterial::Hss => "deepest cut, HSS",
        _ => "deepest cut, carbide",
    };
    let tool = case.tool().deepest_cut.map_or(data::default(usual), Plain::plain);
    let most = case.job.cutting.deepest_cut.map_or(tool, |wish| wish.plain().min(tool));
    for set_up in &case.plan.set_ups {
        for pass in &set_up.passes {
            found.check(pass.depth_mm <= most + 1e-6, || {
                format!("set-up {}: {} deep, {most} allowed", set_up.number, pass.depth_mm)
            });
        }
    }
}

fn the_dial_shows_the_total(case: &Case, found: &mut Findings) {
    let slide = &case.lathe().depth_slide;
    let unit = if slide.unit == DialUnit::Inch { 25.4 } else { 1.0 };
    let (per_turn, graduation) = (slide.per_turn.plain() / unit, slide.graduation.plain() / unit);
    for set_up in &case.plan.set_ups {
        for pass in &set_up.passes {
            let counted = f64::from(pass.dial_turns) * per_turn + pass.dial_reading;
            let depth = counted / graduation * case.mark();
            let on_a_mark = (counted / graduation - (counted / graduation).round()).abs() < 1e-6;
            let on_the_ring = pass.dial_reading >= 0.0 && pass.dial_reading < per_turn - 1e-9;
            found.check(on_a_mark && on_the_ring && (depth - pass.total_mm).abs() < 1e-3, || {
                format!(
                    "set-up {}: {} turns + {} is {depth:.4}, the total is {:.4}",
                    set_up.number, pass.dial_turns, pass.dial_reading, pass.total_mm
                )
            });
        }
    }
}

fn the_dial_only_goes_forward(case: &Case, found: &mut Findings) {
    for set_up in &case.plan.set_ups {
        let totals: Vec<f64> = [0.0].into_iter().chain(set_up.passes.iter().map(|pass| pass.total_mm)).collect();
        found
            .check(totals.windows(2).all(|pair| pair[0] < pair[1]), || format!("set-up {}: {totals:?}", set_up.number));
    }
}

fn never_more_than_the_slides_travel(case: &Case, found: &mut Findings) {
    let slide = &case.lathe().depth_slide;
    let Some(travel) = slide.travel else { return };
    for set_up in &case.plan.set_ups {
        let needed = total(set_up) / slide.set_over.plain().cos();
        found.check(needed <= travel.plain() + 1e-6, || {
            format!("set-up {}: {needed:.2} along the slide, travel {}", set_up.number, travel.plain())
        });
    }
}

fn rough_cuts_feel_alike(case: &Case, found: &mut Findings) {
    let mark = case.mark() + 1e-6;
    for (set_up, moment) in case.steps() {
        let depths: Vec<f64> = rough(set_up).iter().map(|pass| pass.depth_mm).collect();
        if depths.len() < 2 {
            continue;
        }
        let (last, others) = (depths[depths.len() - 1], &depths[..depths.len() - 1]);
        let alike = |cuts: &[f64]| cuts.iter().all(|cut| (cut - cuts[cuts.len() - 1]).abs() <= mark);
        let skin = case.on_skin(moment) && others[0] >= data::default("under the skin") - 1e-6;
        let most = others.iter().copied().fold(0.0, f64::max);
        let even = alike(others) || (skin && alike(&others[1..]));
        found.check(even && last <= most + 1e-6, || format!("set-up {}: rough cuts {depths:.3?}", set_up.number));
    }
}

fn rough_cuts_are_as_deep_as_their_feed_bears(case: &Case, found: &mut Findings) {
    let (least, most) = (data::default("least depth over feed"), data::default("most depth over feed"));
    for (set_up, moment) in case.steps() {
        let skin = if case.on_skin(moment) { data::default("under the skin") } else { 0.0 };
        let rough = rough(set_up);
        let Some(deepest) = rough.iter().map(|pass| pass.depth_mm).reduce(f64::max) else { continue };
        let feed = rough[0].feed_mm_per_rev;
        let ribbon = deepest > (most * feed).max(skin) + 1e-6;
        let told = ["is held by", "as deep as the job asks"].iter().any(|words| set_up.hold.binding.contains(words));
        let shallow = deepest < least * feed - 1e-6 && rough.len() > 1 && !told;
        found.check(!ribbon && !shallow, || {
            format!("set-up {}: {deepest:.3} deep at {feed}: {}", set_up.number, set_up.hold.binding)
        });
    }
}

fn the_finishing_cut_is_the_mark_nearest_to_the_wish(case: &Case, found: &mut Findings) {
    let (mark, least) = (case.mark(), case.least_finish());
    let wish = case.job.cutting.finishing_cut.map_or(data::default("finishing cut"), |wish| wish.plain()).max(least);
    for (set_up, moment) in case.steps() {
        let depths: Vec<f64> = rough(set_up).iter().map(|pass| pass.depth_mm).collect();
        let deepest = depths.iter().copied().fold(0.0, f64::max);
        let skin = if case.on_skin(moment) { data::default("under the skin") } else { 0.0 };
        let room = total(set_up) - wish - mark >= (depths.len() + 1) as f64 * (least + mark) + skin;
        if deepest < wish + mark || !room {
            continue;
        }
        let last = set_up.passes.last().map_or(0.0, |pass| pass.depth_mm);
        // Never thinner than the tool takes: then a mark up.
        let near = (last - wish).abs() <= mark / 2.0 + 1e-6 || (last >= least && last < least + mark);
        found.check(near, || {
            format!("set-up {}: finishing cut {last:.3}, wished {wish:.3}, mark {mark:.4}", set_up.number)
        });
    }
}
