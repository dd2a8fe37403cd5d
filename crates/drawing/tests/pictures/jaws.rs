//! Jaws that are more than a plain face: ledges, jaws turned end for end, jaws bored to a round.

use drawing::{Curve, Figure, LineKind, Mark, Part, Stroke};
use engine::plan::{ContactKind, JawPlan, Outcome, Plan, SetUp, Stretch};
use engine::quantity::{Plain, mm};
use engine::shop::{ChuckKind, JawBore, JawStep, JawSurface, ReversedJaw};
use std::sync::OnceLock;

use crate::measured::{all_words, chuck_middle, share_area};
use crate::scenario::Scenario;
use crate::{apart, clear, named, room};

type Drawn = Vec<(u64, Plan, Vec<Figure>)>;

/// Chuck and side views of so many random jobs with jaws changed so.
fn drawn_with(count: usize, change: impl Fn(u64, &mut Scenario) -> bool) -> Drawn {
    let one = |seed: u64| {
        let mut scenario = crate::scenario::scenario(seed);
        change(seed, &mut scenario).then_some(())?;
        let plan = engine::plan(&scenario.job, &scenario.shop).ok()?;
        if plan.outcome != Outcome::Planned {
            return None;
        }
        let views = |set_up| {
            let room = room(seed);
            [drawing::chuck_view(&plan, set_up, room), drawing::side_view(&plan, set_up, room)]
        };
        let figures = plan.set_ups.iter().flat_map(views).collect();
        Some((seed, plan, figures))
    };
    (0..2000).filter_map(one).take(count).collect()
}

/// The chuck that the job takes, where its jaws move one by one.
fn independent(scenario: &mut Scenario) -> Option<&mut engine::shop::Chuck> {
    let name = scenario.job.chuck.clone();
    let mut chucks = scenario.shop.chucks.iter_mut();
    let chuck = chucks.find(|chuck| name.as_ref().is_none_or(|name| chuck.name == *name))?;
    (chuck.kind == ChuckKind::Independent).then_some(chuck)
}

fn with_ledges() -> &'static Drawn {
    static DRAWN: OnceLock<Drawn> = OnceLock::new();
    DRAWN.get_or_init(|| {
        drawn_with(40, |seed, scenario| {
            let Some(chuck) = independent(scenario) else { return false };
            let below = chuck.jaw.length * (0.5 + 0.1 * (seed % 4) as f64);
            chuck.jaw.step = Some(JawStep { below_front: below, width: mm(3.0 + (seed % 7) as f64) });
            true
        })
    })
}

fn reversed() -> &'static Drawn {
    static DRAWN: OnceLock<Drawn> = OnceLock::new();
    DRAWN.get_or_init(|| {
        drawn_with(20, |seed, scenario| {
            let Some(chuck) = independent(scenario) else { return false };
            // They open to too little as they are, so that nothing but turning them helps.
            let (least, most) = chuck.opening;
            chuck.opening = (least, least + mm(1.0));
            let step = JawStep { below_front: chuck.jaw.length * 0.7, width: mm(4.0) };
            let step = (seed % 2 == 0).then_some(step);
            chuck.jaw.reversed = Some(ReversedJaw { opening: (least, most), step, depth: Some(mm(34.0)) });
            true
        })
    })
}

fn bored() -> &'static Drawn {
    static DRAWN: OnceLock<Drawn> = OnceLock::new();
    DRAWN.get_or_init(|| {
        drawn_with(30, |_, scenario| {
            let Some(chuck) = independent(scenario) else { return false };
            (chuck.jaw.surface, chuck.jaw.bored) = (JawSurface::Soft, Some(JawBore::Work));
            true
        })
    })
}

fn strokes(figure: &Figure, part: Part) -> impl Iterator<Item = &Stroke> {
    figure.marks.iter().filter_map(move |mark| match mark {
        Mark::Stroke(stroke) if stroke.part == part => Some(stroke),
        _ => None,
    })
}

/// Out towards a jaw and across it, mm of the real thing, of a point of the chuck view.
fn from_jaw(figure: &Figure, set_up: &SetUp, jaw: &JawPlan, point: [f64; 2]) -> [f64; 2] {
    let (middle, ratio) = (chuck_middle(figure), figure.scale.ratio());
    let angle = std::f64::consts::TAU * f64::from(jaw.jaw - 1) / set_up.jaws.len() as f64;
    // X upwards, Y to the left; y of paper runs downwards.
    let way = [-angle.sin(), -angle.cos()];
    let [x, y] = [point[0] - middle[0], point[1] - middle[1]];
    [(x * way[0] + y * way[1]) / ratio, (x * way[1] - y * way[0]) / ratio]
}

/// Every chuck view's edge of a ledge lies its width in front of the face of its jaw, broken where the piece hides it; no
/// two ledges share metal; the side view's steps lie as deep and as far in as the shop says.
#[test]
fn ledges_are_drawn_where_they_are() {
    let (mut hidden, mut seen, mut steps, mut seats) = (0, 0, 0, 0);
    for (seed, plan, figures) in with_ledges() {
        let ledge = plan.scene.chuck.ledge.expect("a ledge");
        for set_up in &plan.set_ups {
            let figure = named(figures, &format!("chuck-{}", set_up.number));
            for jaw in &set_up.jaws {
                let tip = jaw.reach_mm - ledge.width_mm;
                let at_tip = strokes(figure, Part::Ledge).filter(|stroke| {
                    let ends = [stroke.curve.at(0.0), stroke.curve.at(1.0)];
                    ends.iter().all(|&end| (from_jaw(figure, set_up, jaw, end)[0] - tip).abs() < 1e-6)
                });
                let at_tip: Vec<_> = at_tip.collect();
                assert!(tip < 1e-6 || !at_tip.is_empty(), "{seed} set-up {}: jaw {}", set_up.number, jaw.jaw);
                hidden += at_tip.iter().filter(|stroke| stroke.kind == LineKind::Dashed).count();
                seen += at_tip.iter().filter(|stroke| stroke.kind == LineKind::Wide).count();
            }
            let areas: Vec<Vec<[f64; 2]>> = figure
                .marks
                .iter()
                .filter_map(|mark| match mark {
                    Mark::Area(area) if area.part == Part::Ledge => {
                        Some(area.edge.iter().map(|side| side.at(0.0)).collect())
                    }
                    _ => None,
                })
                .collect();
            assert_eq!(areas.len(), set_up.jaws.len());
            for (at, one) in areas.iter().enumerate() {
                assert!(areas[at + 1..].iter().all(|other| !share_area(one, other)), "{seed} set-up {}", set_up.number);
            }
            steps += side_steps(*seed, plan, set_up, named(figures, &format!("side-{}", set_up.number)));
            seats += usize::from(set_up.seat.as_ref().is_some_and(|seat| seat.on == "jaw step"));
        }
    }
    assert!(hidden > 200 && steps > 200 && seats > 20, "{hidden} hidden, {seen} seen, {steps} steps, {seats} seats");
}

/// Where jaw front and spindle axis lie on the paper of a side view.
fn front_and_axis(figure: &Figure) -> [f64; 2] {
    let front = figure.marks.iter().find_map(|mark| match mark {
        Mark::Dimension(of) if of.text.says.starts_with("bite ") => Some(of.ends_mm[0][0].max(of.ends_mm[1][0])),
        _ => None,
    });
    let level = |stroke: &&Stroke| (stroke.curve.at(0.0)[1] - stroke.curve.at(1.0)[1]).abs() < 1e-9;
    let axis = strokes(figure, Part::Centre).find(level).map(|stroke| stroke.curve.at(0.0)[1]);
    [front.expect("a bite"), axis.expect("an axis")]
}

/// How many of the side view's jaws carry a step as deep and wide as the shop's; the piece bears on it where it sits there.
fn side_steps(seed: u64, plan: &Plan, set_up: &SetUp, figure: &Figure) -> usize {
    let (ledge, ratio) = (plan.scene.chuck.ledge.expect("a ledge"), figure.scale.ratio());
    let [front, axis] = front_and_axis(figure);
    let real = |[x, y]: [f64; 2]| [(x - front) / ratio, (y - axis).abs() / ratio];
    let treads: Vec<[f64; 2]> = strokes(figure, Part::Jaw)
        .map(|stroke| [real(stroke.curve.at(0.0)), real(stroke.curve.at(1.0))])
        .filter(|[one, other]| [one, other].iter().all(|end| (end[0] + ledge.below_front_mm).abs() < 1e-6))
        .map(|[one, other]| [one[1].min(other[1]), one[1].max(other[1])])
        .collect();
    assert!(!treads.is_empty(), "{seed} set-up {}", set_up.number);
    for [tip, face] in &treads {
        assert!((face - tip - ledge.width_mm).abs() < 1e-6, "{seed} set-up {}: {tip} to {face}", set_up.number);
        assert!(set_up.jaws.iter().any(|jaw| (jaw.reach_mm - face).abs() < 1e-6), "{seed}");
    }
    if set_up.seat.as_ref().is_some_and(|seat| seat.on == "jaw step") {
        let back = front - set_up.bite_mm * ratio;
        let bears = strokes(figure, Part::Bearing).any(|stroke| {
            let ends = [stroke.curve.at(0.0), stroke.curve.at(1.0)];
            ends.iter().all(|end| (end[0] - back).abs() < 0.5) && apart(ends[0], ends[1]) > 0.0
        });
        assert!(bears, "{seed} set-up {}: nothing bears on the ledge", set_up.number);
        assert!((set_up.bite_mm - ledge.below_front_mm).abs() < 1e-9);
    }
    treads.len()
}

/// Jaws turned end for end end where the shop says, and the words say that they are turned.
#[test]
fn turned_jaws_are_as_long_as_the_shop_says() {
    let mut ends = 0;
    for (seed, plan, figures) in reversed() {
        assert!(plan.scene.chuck.reversed, "{seed}");
        for set_up in &plan.set_ups {
            let figure = named(figures, &format!("chuck-{}", set_up.number));
            let words = [figure, named(figures, &format!("side-{}", set_up.number))];
            for figure in words {
                let said = all_words(figure).replace(['\n', '\u{a0}'], " ");
                assert!(said.contains("turned end for end") && figure.says.contains("turned end for end"), "{said}");
            }
            for jaw in &set_up.jaws {
                let half = plan.scene.chuck.jaw_width_mm / 2.0;
                ends += strokes(figure, Part::Jaw)
                    .filter(|stroke| {
                        [stroke.curve.at(0.0), stroke.curve.at(1.0)].iter().all(|&end| {
                            let [out, across] = from_jaw(figure, set_up, jaw, end);
                            (out - jaw.reach_mm - 34.0).abs() < 1e-6 && (across.abs() - half).abs() < 1e-6
                        })
                    })
                    .count();
            }
        }
    }
    assert!(ends > 60, "{ends} ends");
}

/// The round that a jaw finds: its radius and its middle in the set-up's frame.
fn round(set_up: &SetUp) -> Option<(f64, [f64; 3])> {
    set_up.held.before.outline.iter().find_map(|stretch| match *stretch {
        Stretch::Arc { centre_mm: [x, y], radius_mm, .. } => Some((radius_mm, set_up.held.frame.place([x, y, 0.0]))),
        Stretch::Line { .. } => None,
    })
}

fn arcs(figure: &Figure, part: Part) -> Vec<drawing::Arc> {
    let arc = |stroke: &Stroke| match stroke.curve {
        Curve::Arc(arc) => Some(arc),
        Curve::Line { .. } => None,
    };
    strokes(figure, part).filter_map(arc).collect()
}

/// Each bored jaw's face is an arc on the round itself, as wide as its nose, and the piece bears along it.
#[test]
fn bored_jaws_lie_on_the_round() {
    let mut seen = 0;
    for (seed, plan, figures) in bored() {
        for set_up in &plan.set_ups {
            let bored = set_up.jaws.iter().filter(|jaw| jaw.contact == ContactKind::Bored).count();
            let figure = named(figures, &format!("chuck-{}", set_up.number));
            let (faces, bears) = (arcs(figure, Part::Jaw), arcs(figure, Part::Bearing));
            assert_eq!((faces.len(), bears.len()), (bored, bored), "{seed} set-up {}", set_up.number);
            let Some((radius_mm, [x, y, _])) = round(set_up).filter(|_| bored > 0) else { continue };
            let (middle, ratio) = (chuck_middle(figure), figure.scale.ratio());
            let centre = [middle[0] - ratio * y, middle[1] - ratio * x];
            for arc in &faces {
                assert!(apart(arc.centre_mm, centre) < 1e-6, "{seed}: {arc:?} about {centre:?}");
                assert!((arc.axes().0 - ratio * radius_mm).abs() < 1e-6 && (arc.axes().1 - arc.axes().0).abs() < 1e-6);
                // Both its edges lie as far from the middle of the jaw that it belongs to, and no farther than that is wide.
                let edges =
                    |jaw: &JawPlan| [arc.from_rad, arc.to_rad].map(|at| from_jaw(figure, set_up, jaw, arc.point(at)));
                let own = set_up.jaws.iter().map(edges).any(|[one, other]| {
                    let (half, same) = (one[1].abs(), (one[1] + other[1]).abs() < 1e-6);
                    same && one[0] > 0.0 && half <= plan.scene.chuck.jaw_width_mm / 2.0 + 1e-6
                });
                assert!(own, "{seed} set-up {}: {arc:?}", set_up.number);
                seen += 1;
            }
            // Inside the piece by less than the thick line is wide.
            assert!(bears.iter().all(|arc| (ratio * radius_mm - arc.axes().0 - 0.4).abs() < 1e-6), "{seed}");
            let says = format!("jaws bored to {}", engine::quantity::show::fine_length(2.0 * radius_mm, plan.units));
            assert!(all_words(figure).replace(['\n', '\u{a0}'], " ").contains(&says), "{seed}: {says}");
        }
    }
    assert!(seen > 40, "{seen} bored jaws");
}

/// No plan of today holds in jaws bored to another size: the same views with such a size written into the scene. The arc
/// measures it, touches the round with its middle where it is larger and with its edges where it is smaller.
#[test]
fn a_bore_of_another_size_touches_where_it_would() {
    let mut seen = 0;
    for (seed, plan, _) in bored().iter().take(10) {
        for off_mm in [-3.0, 4.0] {
            let mut plan = plan.clone();
            let Some((radius_mm, _)) = plan.set_ups.iter().find_map(round) else { continue };
            plan.scene.chuck.bored_mm = Some(2.0 * radius_mm + off_mm);
            for set_up in plan.set_ups.iter().filter(|set_up| set_up.jaws[0].contact == ContactKind::Bored) {
                let figure = drawing::chuck_view(&plan, set_up, room(*seed));
                let ratio = figure.scale.ratio();
                let (_, [x, y, _]) = round(set_up).expect("a round");
                let middle = chuck_middle(&figure);
                let centre = [middle[0] - ratio * y, middle[1] - ratio * x];
                for arc in arcs(&figure, Part::Jaw) {
                    assert!((arc.axes().0 - ratio * (radius_mm + off_mm / 2.0)).abs() < 1e-6, "{seed}");
                    let off = |at: f64| apart(arc.point(at), centre) - ratio * radius_mm;
                    let (edge, inner) = (off(arc.from_rad), off((arc.from_rad + arc.to_rad) / 2.0));
                    let touches = if off_mm > 0.0 { inner } else { edge };
                    assert!(touches.abs() < 1e-6 && edge.max(inner) > 1e-6, "{seed}: {edge} {inner}");
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 20, "{seen}");
}

/// Letters keep clear as in any other picture, and every picture keeps to its room.
#[test]
fn pictures_of_such_jaws_are_as_clear_as_any() {
    for (seed, _, figures) in with_ledges().iter().chain(reversed()).chain(bored()) {
        for figure in figures {
            clear::check(*seed, figure);
            let [[width, height], most] = [figure.size_mm, room(*seed)];
            assert!(width <= most[0] + 1e-9 && height <= most[1] + 1e-9, "{seed} {}", figure.name);
        }
    }
}

/// The lengths of the shop reach the words: the ledge's two, in the plan's units.
#[test]
fn ledges_are_said_with_their_sizes() {
    for (seed, plan, figures) in with_ledges() {
        let ledge = plan.scene.chuck.ledge.expect("a ledge");
        let show = |of_mm: f64| engine::quantity::show::length(mm(of_mm).plain(), plan.units);
        let says = format!("{} wide, {} below", show(ledge.width_mm), show(ledge.below_front_mm));
        for figure in figures {
            assert!(figure.says.contains(&says), "{seed} {}: {}", figure.name, figure.says);
        }
    }
}
