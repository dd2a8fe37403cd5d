//! From a refusal to a reason in words: value, limit, and a way out.

use super::facing::CannotFace;
use super::ledge::{self, Rests};
use super::lie::CannotLie;
use super::speed::Bound;
use super::way::Refusal;
use super::window::NoDepth;
use crate::plan::Reason;
use crate::quantity::show;
use crate::task::Task;

/// The reasons for which no order works: one of each kind, the face where it binds hardest told in full.
pub fn reasons(task: &Task, blocked: &[(usize, Refusal)]) -> Vec<Reason> {
    let mut reasons: Vec<Reason> = Vec::new();
    let mut places: Vec<Vec<usize>> = Vec::new();
    for (face, refusal) in blocked {
        let reason = reason(task, *face, refusal);
        match reasons.iter().position(|other| other.rule == reason.rule) {
            Some(at) => {
                if !places[at].contains(face) {
                    places[at].push(*face);
                }
                if breach(&reason) > breach(&reasons[at]) {
                    reasons[at] = reason;
                }
            }
            None => {
                reasons.push(reason);
                places.push(vec![*face]);
            }
        }
    }
    for (reason, mut faces) in reasons.iter_mut().zip(places) {
        faces.sort_unstable();
        reason.place = faces.iter().map(|&face| task.faces[face].name.as_str()).collect::<Vec<_>>().join(", ");
    }
    // What only follows from another reason is no reason of its own.
    let follows = |reason: &Reason| matches!(reason.rule, "not-squared" | "ends-first");
    let others = reasons.iter().any(|reason| !follows(reason));
    reasons.retain(|reason| !follows(reason) || !others);
    reasons
}

/// The name of the rule by which a refusal is told.
pub fn rule(task: &Task, refusal: &Refusal) -> &'static str {
    reason(task, 0, refusal).rule
}

/// How far a value lies from its limit, as a share of the limit.
fn breach(reason: &Reason) -> f64 {
    (reason.value - reason.limit).abs() / reason.limit.abs().max(1e-9)
}

/// What a reason says besides its place.
struct Says {
    rule: &'static str,
    says: String,
    value: f64,
    limit: f64,
    unit: &'static str,
    way_out: String,
}

fn reason(task: &Task, face: usize, refusal: &Refusal) -> Reason {
    let name = task.faces[face].name.clone();
    let said = match refusal {
        Refusal::Lie(why) => lie(task, &name, why),
        Refusal::Opening(across, least, most) => opening(task, &name, (*across, *least, *most)),
        Refusal::JawsTouch(reach, half) => jaws_touch(task, &name, *reach, *half),
        Refusal::Depth(why) => depth(task, &name, why),
        Refusal::Unsquared => Says {
            rule: "not-squared",
            says: format!("face {name} would be squared by eye though a finished flat exists"),
            value: 0.0,
            limit: 1.0,
            unit: "1",
            way_out: "parallels of other heights, so that the piece can be seated".to_string(),
        },
        Refusal::Shallow(bite, asked) => shallow(task, &name, *bite, *asked),
        Refusal::Overhang(out, most) => overhang(task, &name, *out, *most),
        Refusal::EndsFirst => Says {
            rule: "ends-first",
            says: format!("face {name} waits for the ends: sawn ends square nothing"),
            value: 0.0,
            limit: 1.0,
            unit: "1",
            way_out: "see what keeps the ends from being faced".to_string(),
        },
        Refusal::Face(why) => cannot_face(task, &name, why),
    };
    Reason {
        rule: said.rule,
        place: name,
        says: said.says,
        value: said.value,
        limit: said.limit,
        unit: said.unit,
        way_out: said.way_out,
    }
}

fn lie(task: &Task, name: &str, why: &CannotLie) -> Says {
    match why {
        CannotLie::Corner(degrees) => Says {
            rule: "corner-on-jaw",
            says: format!("for face {name} a jaw would bear on a corner, at {degrees:.0} deg round the section"),
            value: 1.0,
            limit: 0.0,
            unit: "1",
            way_out: "vees in the shop that fit the corner; or a bar or section whose sides stand square to each other"
                .to_string(),
        },
        CannotLie::Across => Says {
            rule: "chuck-cannot-hold-across",
            says: format!(
                "for face {name} the piece lies across the spindle; the {} cannot hold it so",
                task.chuck.name
            ),
            value: 0.0,
            limit: 1.0,
            unit: "1",
            way_out: "an independent chuck with four jaws".to_string(),
        },
        CannotLie::Unequal(by) => Says {
            rule: "jaws-find-unequal",
            says: format!(
                "the jaws of the {} move together, but find surfaces {} apart",
                task.chuck.name,
                show::length(*by, task.units)
            ),
            value: *by,
            limit: 0.0,
            unit: "mm",
            way_out: "an independent chuck, or face the ends while the bar is round".to_string(),
        },
        CannotLie::BoredRound(bore) => Says {
            rule: "jaws-bored-round",
            says: format!(
                "for face {name} the soft jaws of the {}, bored to {}, would find a flat or a round lying across",
                task.chuck.name,
                show::length(*bore, task.units)
            ),
            value: 0.0,
            limit: 1.0,
            unit: "1",
            way_out: "soft jaws cut to the work itself, or hard jaws".to_string(),
        },
        CannotLie::BoredSmall(bore, work) => bored_small(task, name, *bore, *work),
    }
}

fn bored_small(task: &Task, name: &str, bore: f64, work: f64) -> Says {
    let [bored, thick] = [bore, work].map(|mm| show::length(mm, task.units));
    Says {
        rule: "jaws-bored-small",
        says: format!(
            "for face {name} the soft jaws of the {} are bored to {bored} and the work is {thick}: it would rest on the \
             edges of the bore",
            task.chuck.name
        ),
        value: bore,
        limit: work,
        unit: "mm",
        way_out: format!("bore the jaws to {thick}, tightened on a ring or plug while they are bored; or hard jaws"),
    }
}

fn opening(task: &Task, name: &str, (across, least, most): (f64, f64, f64)) -> Says {
    let wide = across > most;
    let limit = if wide { most } else { least };
    Says {
        rule: "chuck-opening",
        says: format!(
            "for face {name} the jaws of the {} must stand {} apart; they {} {}",
            task.chuck.name,
            show::length(across, task.units),
            if wide {
                "open to"
            } else if least > task.chuck.opening_mm.0 {
                "close until their ledges meet, at"
            } else {
                "close to"
            },
            show::length(limit, task.units)
        ),
        value: across,
        limit,
        unit: "mm",
        way_out: match (wide, task.chuck.reversed.is_some() || task.chuck.is_reversed) {
            (true, false) => "a larger chuck, or the jaws reversed, if the shop says what they open to then",
            (true, true) => "a larger chuck",
            (false, _) if least > task.chuck.opening_mm.0 => {
                "jaws without a ledge or with a narrower ledge, a smaller chuck, or thicker packing"
            }
            (false, _) => "a smaller chuck, or thicker packing",
        }
        .to_string(),
    }
}

fn jaws_touch(task: &Task, name: &str, reach: f64, half: f64) -> Says {
    Says {
        rule: "jaws-touch",
        says: format!(
            "for face {name} neighbouring jaws would touch: they stand {} from the axis and are {} wide",
            show::length(reach, task.units),
            show::length(2.0 * half, task.units)
        ),
        value: reach,
        limit: half,
        unit: "mm",
        way_out: "a smaller chuck with narrower jaws, or thicker packing".to_string(),
    }
}

fn shallow(task: &Task, name: &str, bite: f64, asked: f64) -> Says {
    Says {
        rule: "bite",
        says: format!(
            "for face {name} the bite would be {}; the trade asks {}, a third of the length or half the gripped size",
            show::length(bite, task.units),
            show::length(asked, task.units)
        ),
        value: bite,
        limit: asked,
        unit: "mm",
        way_out: "a bar nearer to size so that less must come off, longer jaws, or parallels in other heights"
            .to_string(),
    }
}

fn overhang(task: &Task, name: &str, out: f64, most: f64) -> Says {
    Says {
        rule: "overhang",
        says: format!(
            "for face {name} the piece would stand out {}; no more than {} may without support, three times the gripped size",
            show::length(out, task.units),
            show::length(most, task.units)
        ),
        value: out,
        limit: most,
        unit: "mm",
        way_out: "a chuck with a hole that the bar goes into, a shorter blank, or a steady, which this plan does not reckon with".to_string(),
    }
}

fn depth(task: &Task, name: &str, why: &NoDepth) -> Says {
    if let Some(width_mm) = why.vee_mm {
        return vees(task, name, why, width_mm);
    }
    if why.needed_bite_mm > task.chuck.bears_mm() {
        return short_jaws(task, name, why);
    }
    if let Some(rests) = &why.ledge {
        return narrow_ledge(task, name, rests);
    }
    if why.most_stick_out_mm < why.least_stick_out_mm {
        empty_window(task, name, why)
    } else {
        no_seat(task, name, why)
    }
}

fn vees(task: &Task, name: &str, why: &NoDepth, width_mm: f64) -> Says {
    let (least, most) = (why.least_stick_out_mm, why.most_stick_out_mm);
    Says {
        rule: "vee-on-jaw",
        says: format!(
            "for face {name} a jaw finds a corner, and the vees on hand, {} across, do not lie on the jaws with all of \
             their back while the cut clears them: the piece must stand out {} and may {}",
            show::length(width_mm, task.units),
            show::length(least, task.units),
            show::length(most.max(0.0), task.units)
        ),
        value: most,
        limit: least,
        unit: "mm",
        way_out: "narrower or lower vees".to_string(),
    }
}

fn short_jaws(task: &Task, name: &str, why: &NoDepth) -> Says {
    let for_what = if why.for_widest_line { "to pass the widest line of the round" } else { "to bear" };
    let (jaw, needed) = (task.chuck.bears_mm(), why.needed_bite_mm);
    let long = if task.chuck.step.is_some() { "long above their ledge" } else { "long" };
    Says {
        rule: "jaws-too-short",
        says: format!(
            "for face {name} the jaws must reach {} {for_what}; those of the {} are {} {long}",
            show::length(needed, task.units),
            task.chuck.name,
            show::length(jaw, task.units)
        ),
        value: jaw,
        limit: needed,
        unit: "mm",
        way_out: format!(
            "a chuck whose jaws are {} long or more{}",
            show::length(needed, task.units),
            if why.for_widest_line { ", or a square or flat bar, which has no widest line to pass" } else { "" }
        ),
    }
}

fn narrow_ledge(task: &Task, name: &str, rests: &Rests) -> Says {
    let least_mm = task.rules.least_on_ledge_mm;
    Says {
        rule: "ledge-too-narrow",
        says: format!(
            "for face {name} the piece would lie on {} of the ledges of the jaws of the {}, which are {} wide{}; {} is the \
             least that squares it",
            show::length(rests.mm, task.units),
            task.chuck.name,
            show::length(rests.width_mm, task.units),
            ledge::kept_off(task, rests),
            show::length(least_mm, task.units)
        ),
        value: rests.mm,
        limit: least_mm,
        unit: "mm",
        way_out: format!(
            "jaws with a ledge {} wide or more{}",
            show::length(rests.width_mm + least_mm - rests.mm, task.units),
            if rests.kept_off_mm > 0.0 { ", or thinner packing" } else { "" }
        ),
    }
}

fn empty_window(task: &Task, name: &str, why: &NoDepth) -> Says {
    let (least, most) = (why.least_stick_out_mm, why.most_stick_out_mm);
    let room_mm = task.rules.clearance_mm + task.rules.margin_mm;
    let (finished_mm, needed_mm) = (why.height_mm - (least - room_mm), why.needed_bite_mm + room_mm);
    let way_out = if why.for_widest_line {
        format!(
            "a square or flat bar; from a round one a face nearer than {} to the middle cannot be held for, since the \
             jaws must pass the widest line and the cut must clear them",
            show::length(why.least_half_mm, task.units)
        )
    } else if finished_mm < needed_mm {
        format!(
            "{} between the faces at least: thinner work is held on its edge in low or stepped jaws or on a faceplate, \
             which this plan does not reckon with",
            show::length(needed_mm, task.units)
        )
    } else {
        "a bar nearer to size so that less must come off".to_string()
    };
    Says {
        rule: "stick-out-window",
        says: format!(
            "for face {name} the piece must stand out {} to be cut, and may stand out {} for the jaws to bear",
            show::length(least, task.units),
            show::length(most.max(0.0), task.units)
        ),
        value: most,
        limit: least,
        unit: "mm",
        way_out,
    }
}

fn no_seat(task: &Task, name: &str, why: &NoDepth) -> Says {
    let (least, most) =
        (show::length(why.least_stick_out_mm, task.units), show::length(why.most_stick_out_mm, task.units));
    let (says, way_out) = if why.no_room {
        (
            format!("for face {name} the piece needs a seat, and parallels find no room beside the jaws"),
            "a chuck with narrower jaws, or thinner parallels".to_string(),
        )
    } else {
        let jaw = task.chuck.jaw_length_mm;
        let thin = (jaw - (why.height_mm - why.least_stick_out_mm)).max(0.0);
        let thick = jaw - (why.height_mm - why.most_stick_out_mm);
        (
            format!("for face {name} the piece may stand out {least} to {most}, and nothing on hand seats it so"),
            format!("parallels of {} to {}", show::length(thin, task.units), show::length(thick, task.units)),
        )
    };
    Says { rule: "no-seat", says, value: 0.0, limit: 1.0, unit: "1", way_out }
}

/// What would bring lathe and limit together, by what bounds the speed.
fn slower(bound: Bound) -> &'static str {
    match bound {
        Bound::CuttingSpeed => {
            "a lathe with slower speeds (back gear), a carbide tool for a HSS one, or a smaller swing"
        }
        Bound::Chuck => "another chuck that is marked faster, or a lathe with slower speeds (back gear)",
        Bound::Grip => "more force at the jaws, or a lathe with slower speeds (back gear)",
        Bound::Balance => "a lathe with slower speeds (back gear), or a smaller swing",
    }
}

fn cannot_face(task: &Task, name: &str, why: &CannotFace) -> Says {
    match why {
        CannotFace::TooFast(fast) => Says {
            rule: "lathe-too-fast",
            says: format!(
                "for face {name} the spindle may turn at {:.0} rpm ({}); the slowest speed of the {} is {:.0}",
                fast.most_rpm, fast.binding, task.lathe.name, fast.lowest_rpm
            ),
            value: fast.lowest_rpm,
            limit: fast.most_rpm,
            unit: "rpm",
            way_out: slower(fast.bound).to_string(),
        },
        CannotFace::Grip(fault) => Says {
            rule: "grip-cannot-hold",
            says: format!("for face {name}: {fault}"),
            value: 0.0,
            limit: 1.0,
            unit: "1",
            way_out: "another hold: other jaws, a larger bar, packing made for the shape".to_string(),
        },
        CannotFace::Slips(factor, needed, depth) => Says {
            rule: "slip",
            says: format!(
                "for face {name} even a cut of {} slips: it holds {factor:.2} times the cut against {needed} needed",
                show::length(*depth, task.units)
            ),
            value: *factor,
            limit: *needed,
            unit: "1",
            way_out: "a torque wrench on the chuck key (then more of the clamping force can be counted on), rougher jaws, a deeper bite, or a finer feed"
                .to_string(),
        },
        CannotFace::SlipsWorn(factor, needed, depth) => Says {
            rule: "slip-worn",
            says: format!(
                "for face {name} even a cut of {} slips once the edge is worn: by the higher table of forces it is held \
                 {factor:.2} times, at least {needed} times is needed",
                show::length(*depth, task.units)
            ),
            value: *factor,
            limit: *needed,
            unit: "1",
            way_out: "more force at the jaws that can be counted on, rougher jaws, a deeper bite, or a finer feed"
                .to_string(),
        },
        CannotFace::LastHold(factor, needed) => Says {
            rule: "last-hold",
            says: format!(
                "for face {name} no forces of the jaws balance more than {factor:.2} times the cut against {needed:.2} \
                 needed beside the first slip"
            ),
            value: *factor,
            limit: *needed,
            unit: "1",
            way_out: "a deeper bite, a lighter cut, rougher jaws, or jaws that oppose each other more squarely"
                .to_string(),
        },
        CannotFace::Power(asked, there) => Says {
            rule: "power",
            says: format!(
                "for face {name} even the thinnest cut asks {} at the edge; the lathe gives {}",
                show::power(*asked, task.units),
                show::power(*there, task.units)
            ),
            value: *asked,
            limit: *there,
            unit: "w",
            way_out: "a finer feed, a slower speed, or a stronger lathe".to_string(),
        },
        CannotFace::Springs(spring, most) => Says {
            rule: "spring",
            says: format!(
                "for face {name} even the thinnest cut pushes work and tool {spring:.0} um apart; {most:.0} is the most"
            ),
            value: *spring,
            limit: *most,
            unit: "um",
            way_out: "a deeper bite, less stick-out, a sharper or finer-fed tool".to_string(),
        },
        CannotFace::Split(fault) => Says {
            rule: "depth-on-dial",
            says: format!("for face {name}: {}", fault.says(task.units)),
            value: 0.0,
            limit: 1.0,
            unit: "1",
            way_out: "a bar that leaves a countable depth on this face, within the slide's travel".to_string(),
        },
        CannotFace::CrossTravel(needed, travel) => Says {
            rule: "cross-slide-travel",
            says: format!(
                "for face {name} the tool starts {} from the axis; the cross slide goes {}",
                show::length(*needed, task.units),
                show::length(*travel, task.units)
            ),
            value: *needed,
            limit: *travel,
            unit: "mm",
            way_out: "a larger lathe, or face from both sides of the centre".to_string(),
        },
        CannotFace::JawsSwing(needed, swing) => Says {
            rule: "jaws-swing",
            says: format!(
                "for face {name} the jaws of the {} stand out so far that they swing {}; {} clears over the bed",
                task.chuck.name,
                show::length(*needed, task.units),
                show::length(*swing, task.units)
            ),
            value: *needed,
            limit: *swing,
            unit: "mm",
            way_out: "a lathe of larger swing, a chuck with shorter jaws, or the jaws turned end for end, if the shop says \
                      what they open to then"
                .to_string(),
        },
        CannotFace::Swing(needed, swing, what) => Says {
            rule: "swing",
            says: format!(
                "for face {name} the work swings {} across; {} clears over {what}",
                show::length(*needed, task.units),
                show::length(*swing, task.units)
            ),
            value: *needed,
            limit: *swing,
            unit: "mm",
            way_out: "a lathe of larger swing".to_string(),
        },
    }
}
