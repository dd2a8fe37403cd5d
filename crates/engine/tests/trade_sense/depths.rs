//! How deep the work sits and on what: seat, parallels, bite, stick-out.

use engine::quantity::Plain;

use crate::case::{Case, NEAR_MM, total};
use crate::data;
use crate::jaws::each;
use crate::rule;
use crate::rule::{Findings, Rule};
use crate::solid::Meets;

pub fn rules() -> Vec<Rule> {
    vec![
        rule!(
            "T05",
            parallels_are_on_hand,
            |case| case.shop.parallels.clear(),
            "parallels are on hand",
            "`seat.packing_mm` > 0 is a height of a pair in the shop",
            "common practice, no source"
        ),
        rule!(
            "T08",
            the_bite_is_what_lies_behind_leaves,
            |case| each(case, |set_up| set_up.bite_mm += 1.0),
            "the bite is what lies behind leaves of the jaw",
            "with a seat: `bite_mm` = jaw length - `seat.packing_mm`, never more than the jaw; `bite_mm` + `stick_out_mm.set` is the piece's height from our own section; only a bar thinner than the hole of the chuck, held along it over the whole jaw, may reach farther back",
            "geometry"
        ),
        rule!(
            "T09",
            the_bite_is_the_trades_or_cautioned,
            |case| each(case, |set_up| {
                set_up.bite_mm = 3.0;
                set_up.cautions.clear();
            }),
            "a bite that a machinist accepts",
            "`bite_mm` >= the lesser of a third of the piece's height along the spindle and half its gripped size; else a caution of the set-up speaks of the bite",
            "common practice, no source"
        ),
        rule!(
            "T10",
            the_stick_out_lies_in_its_window,
            |case| each(case, |set_up| set_up.stick_out.most_mm = set_up.stick_out.least_mm - 1.0),
            "the stick-out lies in its window",
            "`least` <= `set` <= `most`; `least` covers the depth to come off, from our own geometry, and the clearance (data)",
            "common practice, no source; the clearance is a data row"
        ),
        rule!(
            "T11",
            the_tool_clears_the_jaws,
            |case| each(case, |set_up| set_up.stick_out.set_mm -= 6.0),
            "the tool never reaches the jaws",
            "`stick_out_mm.set` - last `total_mm` >= the clearance (data)",
            "common practice, no source: two or three millimetres at least"
        ),
        rule!(
            "T55",
            the_seat_bridges_the_hole,
            |case| case.shop.chucks[0].bore = Some(engine::quantity::mm(250.0)),
            "what is seated bridges the hole in the chuck face, or its parallels do",
            "on the chuck face: the flat behind is longer one way than the hole; on parallels: they are longer than the hole (shop, or the default length)",
            "geometry"
        ),
        rule!(
            "T59",
            the_overhang_is_one_that_needs_no_support,
            |case| each(case, |set_up| set_up.stick_out.set_mm *= 20.0),
            "nothing stands out so far that it needs a centre or a steady",
            "`stick_out_mm.set` <= 3 times (data) the least gripped size",
            "makers' manuals: support work beyond three diameters"
        ),
        rule!(
            "T67",
            the_stick_out_has_something_to_spare,
            |case| each(case, |set_up| {
                set_up.stick_out.least_mm = set_up.stick_out.set_mm;
                set_up.stick_out.most_mm += 30.0;
            }),
            "the stick-out has something to spare at its least where the parallels on hand leave it",
            "on parallels: `set` - `least` >= what is to spare (data); else no thicker pair of the shop would stand the piece within the window with as much to spare at both ends; a bite that a caution calls small already is not made less",
            "common practice, no source: a sawn or rolled piece is easily half a millimetre short"
        ),
    ]
}

fn parallels_are_on_hand(case: &Case, found: &mut Findings) {
    let pairs: Vec<f64> = case.shop.parallels.iter().flat_map(|kind| &kind.pairs).map(|at| at.plain()).collect();
    for set_up in &case.plan.set_ups {
        if let Some(seat) = set_up.seat.as_ref().filter(|seat| seat.packing_mm > 0.0) {
            found.check(pairs.iter().any(|at| (at - seat.packing_mm).abs() < 1e-9), || {
                format!("set-up {}: parallels of {} are not in the shop", set_up.number, seat.packing_mm)
            });
        }
    }
}

fn the_bite_is_what_lies_behind_leaves(case: &Case, found: &mut Findings) {
    let jaw = case.chuck().jaw.length.plain();
    for (set_up, moment) in case.steps() {
        let sum = set_up.bite_mm + set_up.stick_out.set_mm;
        let in_the_hole = set_up.seat.is_none()
            && case.faces[moment.face].side.is_none()
            && (set_up.bite_mm - jaw).abs() < 1e-9
            && 2.0 * case.swung(moment) < hole(case);
        let whole = (sum - moment.height).abs() < NEAR_MM || (in_the_hole && sum < moment.height);
        found.check(whole && set_up.bite_mm <= jaw + 1e-9, || {
            format!(
                "set-up {}: bite {} and stick-out {} in a piece {:.3} high, jaw {jaw}",
                set_up.number, set_up.bite_mm, set_up.stick_out.set_mm, moment.height
            )
        });
        if let Some(seat) = &set_up.seat {
            found.check((set_up.bite_mm + seat.packing_mm - jaw).abs() < 1e-9, || {
                format!("set-up {}: bite {}, behind {}, jaw {jaw}", set_up.number, set_up.bite_mm, seat.packing_mm)
            });
        }
    }
}

fn the_bite_is_the_trades_or_cautioned(case: &Case, found: &mut Findings) {
    let (of_length, of_size) =
        (data::default("least bite, share of length"), data::default("least bite, share of gripped size"));
    for (set_up, moment, jaws) in case.held() {
        let count = jaws.len();
        let gripped = (0..count)
            .map(|at| jaws[at].out + if count == 4 { jaws[(at + 2) % 4].out } else { jaws[at].out })
            .fold(f64::MAX, f64::min);
        let asked = (moment.height * of_length).min(gripped * of_size);
        let said = set_up.cautions.iter().any(|caution| caution.contains("bite"));
        found.check(set_up.bite_mm >= asked - NEAR_MM || said, || {
            format!("set-up {}: bite {:.2}, the trade asks {asked:.2}, no caution", set_up.number, set_up.bite_mm)
        });
    }
}

fn the_stick_out_lies_in_its_window(case: &Case, found: &mut Findings) {
    let clearance = data::default("clearance of tool and jaws");
    for (set_up, moment) in case.steps() {
        let out = set_up.stick_out;
        let inside = out.least_mm <= out.set_mm + 1e-6 && out.set_mm <= out.most_mm + 1e-6;
        found.check(inside && out.least_mm >= moment.depth + clearance - NEAR_MM, || {
            format!(
                "set-up {}: {:.2} <= {:.2} <= {:.2}, {:.2} to come off",
                set_up.number, out.least_mm, out.set_mm, out.most_mm, moment.depth
            )
        });
    }
}

fn the_tool_clears_the_jaws(case: &Case, found: &mut Findings) {
    let clearance = data::default("clearance of tool and jaws");
    for set_up in &case.plan.set_ups {
        let left = set_up.stick_out.set_mm - total(set_up);
        found.check(left >= clearance - 1e-6, || format!("set-up {}: last cut {left:.3} over the jaws", set_up.number));
    }
}

fn hole(case: &Case) -> f64 {
    let chuck = case.chuck();
    chuck.bore.map_or(chuck.body.plain() * data::default("bore share of body"), Plain::plain)
}

fn the_overhang_is_one_that_needs_no_support(case: &Case, found: &mut Findings) {
    let most = data::default("overhang");
    for (set_up, _, jaws) in case.held() {
        let count = jaws.len();
        let opposed = |at: usize| if count == 4 { (at + 2) % 4 } else { at };
        let gripped = (0..count).map(|at| jaws[at].out + jaws[opposed(at)].out).fold(f64::MAX, f64::min);
        let out = set_up.stick_out.set_mm;
        found.check(out <= most * gripped + NEAR_MM, || {
            format!("set-up {}: {out:.1} out of a grip on {gripped:.1}", set_up.number)
        });
    }
}

fn the_seat_bridges_the_hole(case: &Case, found: &mut Findings) {
    let hole = hole(case);
    for (set_up, moment) in case.steps() {
        let Some(seat) = &set_up.seat else { continue };
        let piece = &moment.piece;
        let bridge = if seat.packing_mm > 0.0 {
            let given = case.shop.parallels.iter().filter_map(|kind| kind.length).map(|at| at.plain());
            given.fold(f64::NAN, f64::min)
        } else {
            match case.faces[moment.face].side {
                Some(angle) => match piece.meets(angle + std::f64::consts::PI) {
                    Meets::Flat(width) => width.max(piece.length()),
                    Meets::Round(_) | Meets::Corner => piece.length(),
                },
                None => (0..180)
                    .map(|deg| f64::from(deg).to_radians())
                    .fold(0.0, |most: f64, at| most.max(piece.reach(at) + piece.reach(at + std::f64::consts::PI))),
            }
        };
        let bridge = if bridge.is_nan() { data::default("parallels length") } else { bridge };
        found.check(bridge > hole, || format!("set-up {}: {bridge:.1} over a hole of {hole:.1}", set_up.number));
    }
}

fn the_stick_out_has_something_to_spare(case: &Case, found: &mut Findings) {
    let spare = data::default("spare stick-out");
    let jaw = case.chuck().jaw.length.plain();
    let pairs: Vec<f64> = case.shop.parallels.iter().flat_map(|kind| &kind.pairs).map(|at| at.plain()).collect();
    for (set_up, moment) in case.steps() {
        let Some(seat) = set_up.seat.as_ref().filter(|seat| seat.packing_mm > 0.0) else { continue };
        // A bar that goes into the hole of the chuck is a case of its own; where the bite is less than the trade asks
        // already, and a caution says so, it is not made less still.
        let in_the_hole = case.faces[moment.face].side.is_none() && 2.0 * case.swung(moment) < hole(case);
        if in_the_hole || set_up.cautions.iter().any(|caution| caution.contains("bite")) {
            continue;
        }
        let out = set_up.stick_out;
        let roomy = |packing: f64| {
            let stands = moment.height - (jaw - packing);
            packing < jaw && stands >= out.least_mm + spare && stands <= out.most_mm - spare - NEAR_MM
        };
        let better = pairs.iter().copied().find(|&packing| packing > seat.packing_mm && roomy(packing));
        found.check(out.set_mm - out.least_mm >= spare - 1e-6 || better.is_none(), || {
            format!("set-up {}: {out:?} on {}, a pair of {better:?} is there", set_up.number, seat.packing_mm)
        });
    }
}
