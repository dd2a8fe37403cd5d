//! A recipe from a plan of the engine, by its public values only.

use engine::job::Job;
use engine::part::Part;
use engine::plan::{AuditContact, FacePlace, JawPlan, Plan, Seat as PlanSeat, SetUp as PlanSetUp, Stretch};
use engine::quantity::Plain;

use super::bench::Now;
use super::recipe::{Asked, Bar, Hold, On, Recipe, Seat, Section, SetUp, Want};
use super::solid::{Face, V3, Which};

/// What a plan does not say of the hands and the chuck face.
#[derive(Debug, Clone, Copy)]
pub struct Hands {
    /// Spring of the seat, N/mm.
    pub seat: f64,
    /// What the last tap leaves on the seat, N.
    pub tap: f64,
}

/// The recipe of a plan; `None`: it has no set-ups, or not four jaws.
pub fn recipe_of(job: &Job, plan: &Plan, hands: &Hands) -> Option<Recipe> {
    let cut: Vec<_> = plan.scene.faces.iter().filter(|face| face.cut).collect();
    let faces: Vec<Asked> = cut
        .iter()
        .map(|face| Asked { name: face.name.clone(), normal: normal(face.place), distance: face.distance_mm })
        .collect();
    let wants = wants(&job.part, plan, &faces);
    let mut recipe = Recipe::new(bar(plan)?, faces, Vec::new(), wants);
    let mut solid = recipe.raw([[0.0; 2]; 2]);
    let mut set_ups = Vec::new();
    for planned in &plan.set_ups {
        let read = Read { now: Now { recipe: &recipe, solid: &solid }, plan, planned };
        set_ups.push(read.set_up(hands)?);
        for letter in &planned.cuts_faces {
            let at = number(&recipe.faces, letter)?;
            solid.faces.push((Which::Finished(at), Face::plane(recipe.faces[at].normal, recipe.faces[at].distance)));
        }
    }
    recipe.set_ups = set_ups;
    (!recipe.set_ups.is_empty()).then_some(recipe)
}

fn normal(place: FacePlace) -> V3 {
    match place {
        FacePlace::Front => V3::z(),
        FacePlace::Back => -V3::z(),
        FacePlace::Side { normal_rad } => V3::new(normal_rad.cos(), normal_rad.sin(), 0.0),
    }
}

fn number(faces: &[Asked], letter: &str) -> Option<usize> {
    faces.iter().position(|face| face.name == letter)
}

/// The bar from the outline of the scene: one circle, or straight sides.
fn bar(plan: &Plan) -> Option<Bar> {
    let solid = &plan.scene.bar;
    let section = match solid.outline.first()? {
        Stretch::Arc { centre_mm, radius_mm, .. } => Section::Round(*radius_mm, *centre_mm),
        Stretch::Line { .. } => {
            let side = |stretch: &Stretch| match stretch {
                Stretch::Line { from_mm, to_mm } => {
                    let along = V3::new(to_mm[0] - from_mm[0], to_mm[1] - from_mm[1], 0.0);
                    let out = along.cross(&V3::z()).normalize();
                    Some((out, out.dot(&V3::new(from_mm[0], from_mm[1], 0.0))))
                }
                Stretch::Arc { .. } => None,
            };
            Section::Flats(solid.outline.iter().map(side).collect::<Option<_>>()?)
        }
    };
    Some(Bar { section, back: solid.back_mm, front: solid.front_mm })
}

/// What the drawing wants: sizes of the scene, the job's parallelism, perpendicularity and flatness.
fn wants(part: &Part, plan: &Plan, faces: &[Asked]) -> Vec<Want> {
    let mut wants = Vec::new();
    for size in &plan.scene.sizes {
        if let [Some(one), Some(other)] = [0, 1].map(|at| number(faces, &size.between[at])) {
            let (least, most) = (size.nominal_mm - size.minus_mm, size.nominal_mm + size.plus_mm);
            wants.push(Want::Size { one, other, least, most });
            if let Some(within) = part.parallel {
                wants.push(Want::Parallel { face: other, datum: one, within: within.plain() });
            }
        }
    }
    for (face, one) in faces.iter().enumerate() {
        for (datum, other) in faces.iter().enumerate().take(face) {
            if let (Some(within), true) = (part.square, one.normal.dot(&other.normal).abs() < 1e-9) {
                wants.push(Want::Square { face, datum, within: within.plain() });
            }
        }
        if let Some(within) = part.flat {
            wants.push(Want::Flat { face, within: within.plain() });
        }
    }
    wants
}

struct Read<'a> {
    now: Now<'a>,
    plan: &'a Plan,
    planned: &'a PlanSetUp,
}

impl Read<'_> {
    fn set_up(&self, hands: &Hands) -> Option<SetUp> {
        let planned = self.planned;
        let frame = &planned.held.frame;
        let (axes, origin) = (frame.axes.map(V3::from), V3::from(frame.origin_mm));
        let mut jaws = [None, None, None, None];
        for jaw in &planned.jaws {
            *jaws.get_mut(usize::from(jaw.jaw) - 1)? = Some(self.hold(jaw)?);
        }
        let seat = match &planned.seat {
            Some(seat) => Some(self.seat(seat, axes, &origin, hands)?),
            None => None,
        };
        let eye_by = planned.angle.as_ref().and_then(|angle| number(&self.now.recipe.faces, &angle.flat));
        let cut = number(&self.now.recipe.faces, planned.cuts_faces.first()?)?;
        Some(SetUp { cut, axes, origin, jaws, seat, eye_by, clamp: planned.hold.counted_force_n })
    }

    fn on(&self, bears_on: &str) -> Option<On> {
        match bears_on {
            "bar" => Some(On::Bar),
            "sawn end" => Some(On::Sawn),
            letter => Some(On::Face(number(&self.now.recipe.faces, letter)?)),
        }
    }

    /// A jaw's patch: the rectangle round the contact points that the plan gives for it.
    fn hold(&self, jaw: &JawPlan) -> Option<Hold> {
        let points: Vec<&AuditContact> =
            self.planned.audit.contacts.iter().filter(|contact| contact.jaw == jaw.jaw).collect();
        let out = [V3::x(), V3::y(), -V3::x(), -V3::y()][usize::from(jaw.jaw) - 1];
        let tangent = V3::z().cross(&out);
        let range = |axis: V3| {
            let all = points.iter().map(|point| V3::from(point.at_mm).dot(&axis));
            all.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), at| (least.min(at), most.max(at)))
        };
        let (across, along) = (range(tangent), range(V3::z()));
        let on = self.on(&jaw.bears_on)?;
        // Soft packing gives way to any lean: an end as sawn squares nothing.
        let ends = |(least, most): (f64, f64)| if on == On::Sawn { [(least + most) / 2.0; 2] } else { [least, most] };
        Some(Hold {
            on,
            across: ends(across),
            along: ends(along),
            kept: jaw.kept,
            stiffness: points.iter().map(|point| point.normal_stiffness_n_per_mm).sum(),
        })
    }

    fn seat(&self, seat: &PlanSeat, axes: [V3; 3], origin: &V3, hands: &Hands) -> Option<Seat> {
        let on = self.on(&seat.face)?;
        let back = -axes[2];
        let depth = self.now.outermost(&back).1 - back.dot(origin);
        let [a, b, c, d] = self.now.reaches(on, &back, origin, &axes[0], &axes[1]);
        let held = &self.planned.held;
        let (pads, hole_radius) = match seat.along {
            None => (vec![[a, b, c, d]], self.plan.scene.chuck.bore_mm / 2.0),
            Some((one, _)) => {
                // Beside the jaws of one axis, along it.
                let half_length = held.parallel_length_mm / 2.0;
                let near = self.plan.scene.chuck.jaw_width_mm / 2.0;
                let far = near + held.parallel_width_mm;
                let strips = if one % 2 == 1 {
                    let (from, to) = (a.max(-half_length), b.min(half_length));
                    vec![[from, to, c.max(-far), -near], [from, to, near, d.min(far)]]
                } else {
                    let (from, to) = (c.max(-half_length), d.min(half_length));
                    vec![[a.max(-far), -near, from, to], [near, b.min(far), from, to]]
                };
                (strips, 0.0)
            }
        };
        Some(Seat { on, depth, pads, hole_radius, stiffness: hands.seat, tap: hands.tap })
    }
}

#[cfg(test)]
mod tests {
    use engine::job::BarForm;
    use engine::part::Form;
    use engine::quantity::mm;
    use engine::shop::{Packing, Parallels, Shop, ToolMaterial};

    use super::super::make::Method;
    use super::super::noise::Noises;
    use super::super::plain;
    use super::super::shop::lot;
    use super::*;

    fn shop() -> Shop {
        Shop {
            name: "Boatyard".to_string(),
            lathes: vec![plain::lathe()],
            chucks: vec![plain::chuck()],
            tools: vec![plain::tool("facing tool", ToolMaterial::ALL[0])],
            parallels: vec![Parallels {
                pairs: (4..40).map(|height| mm(f64::from(height))).collect(),
                width: Some(mm(6.0)),
                length: Some(mm(120.0)),
            }],
            packing: Vec::<Packing>::new(),
            gauges: vec![plain::gauge("micrometer", (25.0, 50.0), 2.0, true)],
            stops: Vec::new(),
            vees: Vec::new(),
            scatter: engine::shop::Scatter::default(),
            stock: Vec::new(),
            minutes: Default::default(),
        }
    }

    fn job(bar: BarForm) -> Job {
        let form = Form::Block { width: plain::sized(36.0), height: plain::sized(34.0) };
        let mut job = plain::job(bar, 48.0, form, 44.0);
        job.part.square = Some(mm(0.05));
        job.part.parallel = Some(mm(0.04));
        job.part.flat = Some(mm(0.02));
        job
    }

    #[test]
    fn the_shop_makes_what_the_engine_plans() {
        for bar in [BarForm::Round { diameter: mm(55.0) }, BarForm::Square { across: mm(40.0) }] {
            let job = job(bar);
            let plan = engine::plan(&job, &shop()).unwrap_or_else(|problems| panic!("{problems:#?}"));
            let hands = Hands { seat: 200e3, tap: 500.0 };
            let recipe = recipe_of(&job, &plan, &hands).expect("a recipe");
            assert_eq!(recipe.set_ups.len(), 6);
            assert!(recipe.set_ups.iter().any(|set_up| set_up.seat.as_ref().is_some_and(|seat| seat.pads.len() == 2)));
            assert_eq!(recipe.wants.len(), 3 + 3 + 12 + 6);
            // Without errors the block is the block of the drawing.
            let clean = lot(&recipe, &Noises::default(), 1, 1, Method::Real);
            assert_eq!((clean.spoiled, clean.chance), (0, 1.0));
            for (want, seen) in recipe.wants.iter().zip(&clean.wants) {
                match want {
                    Want::Size { least, most, .. } => {
                        assert!((seen.least.mean + seen.most.mean - least - most).abs() < 1e-6, "{want:?} {seen:?}");
                    }
                    _ => assert!(seen.most.mean < 1e-6, "{want:?} {seen:?}"),
                }
            }
            let noises = Noises { jaw_tilt: [4e-4; 4], regrip_tilt: 3e-4, size: 0.01, ..Noises::default() };
            let noisy = lot(&recipe, &noises, 2, 100, Method::Real);
            assert_eq!(noisy.spoiled, 0);
            assert!(noisy.wants.iter().any(|seen| seen.most.spread > 1e-3));
        }
    }
}
