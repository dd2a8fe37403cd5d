//! Bending of work that stands out of the jaws: a stepped beam with shear, fixed at the jaw fronts.
//!
//! Timoshenko's beam along Z: bending about both principal axes of each section, shear, stretch and twist, each step
//! integrated in closed form by the unit-load theorem. Loads may act off the line of centroids. All in mm, N, MPa, in
//! the set-up's frame: the jaw fronts at Z = 0.

use std::f64::consts::PI;

use nalgebra::{Matrix2, Matrix6, Vector3, Vector6};

use super::Wrench;

/// What the shear coefficient goes by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SectionForm {
    /// A full round.
    Round,
    /// A rectangle, whichever way its sides run.
    Rectangle,
    /// Any other convex section, taken as a rectangle: of the two it gives way more in shear.
    Other,
}

/// A section of the work square to the spindle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BeamSection {
    /// Its form.
    pub form: SectionForm,
    /// Area, mm².
    pub area_mm2: f64,
    /// Centroid in X and Y, mm.
    pub centroid_mm: [f64; 2],
    /// ∫ y² dA about the centroid, mm⁴.
    pub about_x_mm4: f64,
    /// ∫ x² dA about the centroid, mm⁴.
    pub about_y_mm4: f64,
    /// ∫ x y dA about the centroid, mm⁴.
    pub product_mm4: f64,
}

/// A section over a length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BeamStep {
    /// How long, mm.
    pub length_mm: f64,
    /// Its section.
    pub section: BeamSection,
}

/// Elasticity of the work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Elasticity {
    /// Modulus E, MPa.
    pub modulus_mpa: f64,
    /// Poisson's ratio ν.
    pub poisson: f64,
}

/// Work that stands out of the jaws, step by step from the jaw fronts.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Overhang {
    steps: Vec<Built>,
}

/// A step in its place.
#[derive(Debug, Clone, PartialEq)]
struct Built {
    from_mm: f64,
    to_mm: f64,
    centroid_mm: [f64; 2],
    /// Strain of a mm per unit of shear force, normal force, bending moment, torque at the centroid.
    give: Matrix6<f64>,
    /// Of all steps before it.
    before: Matrix6<f64>,
}

impl SectionForm {
    /// Shear coefficient κ: `6 (1 + ν)/(7 + 6 ν)` for a round, `10 (1 + ν)/(12 + 11 ν)` for a rectangle of any
    /// proportion (Cowper, J. Appl. Mech. 33, 1966, p. 335).
    pub fn shear_coefficient(self, poisson: f64) -> f64 {
        match self {
            SectionForm::Round => 6.0 * (1.0 + poisson) / (7.0 + 6.0 * poisson),
            SectionForm::Rectangle | SectionForm::Other => 10.0 * (1.0 + poisson) / (12.0 + 11.0 * poisson),
        }
    }
}

impl BeamSection {
    /// A round of this diameter on the spindle axis.
    pub fn round(diameter_mm: f64) -> BeamSection {
        let moment = PI * diameter_mm.powi(4) / 64.0;
        BeamSection {
            form: SectionForm::Round,
            area_mm2: PI * diameter_mm * diameter_mm / 4.0,
            centroid_mm: [0.0, 0.0],
            about_x_mm4: moment,
            about_y_mm4: moment,
            product_mm4: 0.0,
        }
    }

    /// A rectangle between these places in X and Y, its sides along them.
    pub fn rectangle([x0, x1]: [f64; 2], [y0, y1]: [f64; 2]) -> BeamSection {
        let (wide, high) = (x1 - x0, y1 - y0);
        BeamSection {
            form: SectionForm::Rectangle,
            area_mm2: wide * high,
            centroid_mm: [(x0 + x1) / 2.0, (y0 + y1) / 2.0],
            about_x_mm4: wide * high.powi(3) / 12.0,
            about_y_mm4: high * wide.powi(3) / 12.0,
            product_mm4: 0.0,
        }
    }

    /// The same section turned about the spindle axis, rad, counter-clockwise seen from the tailstock.
    pub fn turned(&self, angle_rad: f64) -> BeamSection {
        let (sin, cos) = angle_rad.sin_cos();
        self.seen_along([cos, -sin], [sin, cos])
    }

    /// The same section by other axes: their unit directions in those it is given by.
    pub fn seen_along(&self, x: [f64; 2], y: [f64; 2]) -> BeamSection {
        let along = |axis: [f64; 2]| axis[0] * self.centroid_mm[0] + axis[1] * self.centroid_mm[1];
        let moment = |a: [f64; 2], b: [f64; 2]| {
            a[0] * b[0] * self.about_y_mm4
                + (a[0] * b[1] + a[1] * b[0]) * self.product_mm4
                + a[1] * b[1] * self.about_x_mm4
        };
        BeamSection {
            form: self.form,
            area_mm2: self.area_mm2,
            centroid_mm: [along(x), along(y)],
            about_x_mm4: moment(y, y),
            about_y_mm4: moment(x, x),
            product_mm4: moment(x, y),
        }
    }

    /// Whether a beam can be made of it.
    fn bears(&self) -> bool {
        let determinant = self.about_x_mm4 * self.about_y_mm4 - self.product_mm4 * self.product_mm4;
        self.area_mm2 > 0.0 && determinant > 0.0 && determinant.is_finite() && self.area_mm2.is_finite()
    }

    /// Torsion constant, mm⁴: the polar moment of a round, else `A⁴/(40 I_p)` (Saint-Venant, for compact sections).
    fn torsion_mm4(&self) -> f64 {
        let polar = self.about_x_mm4 + self.about_y_mm4;
        if self.form == SectionForm::Round { polar } else { self.area_mm2.powi(4) / (40.0 * polar) }
    }

    /// Strain of a mm per unit of what the section carries: V_x, V_y, N, M_x, M_y, T.
    fn give(&self, metal: Elasticity) -> Option<Matrix6<f64>> {
        let e = metal.modulus_mpa;
        let g = e / (2.0 * (1.0 + metal.poisson));
        let shear = 1.0 / (self.form.shear_coefficient(metal.poisson) * g * self.area_mm2);
        // Turning per mm about X and Y: E S θ' = M, S = [∫y², −∫xy; −∫xy, ∫x²].
        let second = Matrix2::new(self.about_x_mm4, -self.product_mm4, -self.product_mm4, self.about_y_mm4);
        let bend = second.try_inverse()? / e;
        let mut give = Matrix6::zeros();
        give[(0, 0)] = shear;
        give[(1, 1)] = shear;
        give[(2, 2)] = 1.0 / (e * self.area_mm2);
        give.fixed_view_mut::<2, 2>(3, 3).copy_from(&bend);
        give[(5, 5)] = 1.0 / (g * self.torsion_mm4());
        Some(give)
    }
}

impl Overhang {
    /// Steps from the jaw fronts outwards; one without metal or length is left out, and the beam is rigid there.
    pub fn new(steps: &[BeamStep], metal: Elasticity) -> Overhang {
        let mut overhang = Overhang::default();
        let (mut from_mm, mut before) = (0.0, Matrix6::zeros());
        for step in steps.iter().filter(|step| step.length_mm > 0.0) {
            let to_mm = from_mm + step.length_mm;
            if let Some(give) = step.section.give(metal).filter(|_| step.section.bears()) {
                let built = Built { from_mm, to_mm, centroid_mm: step.section.centroid_mm, give, before };
                before += built.up_to(to_mm);
                overhang.steps.push(built);
            }
            from_mm = to_mm;
        }
        overhang
    }

    /// Movement of whatever sits on the beam at this height, shift and turn about the origin, per unit of a load
    /// about the origin: `∫ Tᵀ diag(1/κGA, 1/κGA, 1/EA, S⁻¹/E, 1/GJ) T dz`.
    pub fn compliance(&self, height_mm: f64) -> Matrix6<f64> {
        let last = self.steps.iter().rev().find(|step| step.from_mm < height_mm);
        last.map_or_else(Matrix6::zeros, |step| step.before + step.up_to(height_mm.min(step.to_mm)))
    }

    /// How the work at this height moves by bending under a load on it: shift and turn about the origin.
    pub fn motion(&self, height_mm: f64, load: &Wrench) -> Vector6<f64> {
        self.compliance(height_mm) * load.about(&Vector3::zeros())
    }

    /// Movement of a point by bending under a force there, mm.
    pub fn movement_mm(&self, at_mm: &Vector3<f64>, force_n: &Vector3<f64>) -> Vector3<f64> {
        let q = self.motion(at_mm.z, &Wrench::of_force(at_mm, force_n));
        Vector3::from(q.fixed_rows::<3>(0)) + Vector3::from(q.fixed_rows::<3>(3)).cross(at_mm)
    }

    /// How many steps it has.
    pub fn steps(&self) -> usize {
        self.steps.len()
    }
}

impl Built {
    /// From its beginning to this height: the integrand is of second degree, Simpson's rule is exact.
    fn up_to(&self, to_mm: f64) -> Matrix6<f64> {
        let middle_mm = (self.from_mm + to_mm) / 2.0;
        let sum = self.at(self.from_mm) + self.at(middle_mm) * 4.0 + self.at(to_mm);
        sum * ((to_mm - self.from_mm) / 6.0)
    }

    fn at(&self, z_mm: f64) -> Matrix6<f64> {
        // What the section at z carries of a load about the origin: M_c = M − c × F.
        let centroid = Vector3::new(self.centroid_mm[0], self.centroid_mm[1], z_mm);
        let mut carried = Matrix6::identity();
        carried.fixed_view_mut::<3, 3>(3, 0).copy_from(&-centroid.cross_matrix());
        carried.transpose() * self.give * carried
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const STEEL: Elasticity = Elasticity { modulus_mpa: 205_000.0, poisson: 0.29 };

    /// A section with nothing even about it.
    fn odd(form: SectionForm) -> BeamSection {
        let even = BeamSection::rectangle([-9.0, 21.0], [-14.0, 8.0]);
        BeamSection { form, ..even.turned(0.4) }
    }

    fn steps(lengths: &[f64], section: BeamSection) -> Overhang {
        let step = |&length_mm: &f64| BeamStep { length_mm, section };
        Overhang::new(&lengths.iter().map(step).collect::<Vec<_>>(), STEEL)
    }

    #[test]
    fn a_bar_cut_into_steps_bends_as_the_whole_one() {
        for form in [SectionForm::Round, SectionForm::Rectangle, SectionForm::Other] {
            let whole = steps(&[47.0], odd(form));
            let cut = steps(&[5.0, 0.0, 11.5, 30.5], odd(form));
            for height_mm in [0.0, 3.0, 5.0, 16.5, 31.0, 47.0, 60.0] {
                let off = (whole.compliance(height_mm) - cut.compliance(height_mm)).norm();
                assert!(off <= 1e-12 * whole.compliance(47.0).norm(), "{height_mm}: {off}");
            }
        }
    }

    /// Maxwell's and Betti's theorem, and no load does negative work.
    #[test]
    fn what_a_force_moves_elsewhere_it_is_moved_by_from_there() {
        let compliance = steps(&[12.0, 20.0], odd(SectionForm::Other)).compliance(32.0);
        assert!((compliance - compliance.transpose()).norm() < 1e-12 * compliance.norm());
        assert!(compliance.symmetric_eigenvalues().min() > 0.0);
    }

    #[test]
    fn turned_with_its_load_it_bends_the_same() {
        let (section, at, force) =
            (odd(SectionForm::Other), Vector3::new(7.0, -4.0, 32.0), Vector3::new(120.0, -300.0, -80.0));
        let moved = steps(&[32.0], section).movement_mm(&at, &force);
        for angle in [0.3, 1.7, 4.0] {
            let about = nalgebra::Rotation3::from_axis_angle(&Vector3::z_axis(), angle);
            let again = steps(&[32.0], section.turned(angle)).movement_mm(&(about * at), &(about * force));
            assert!((again - about * moved).norm() < 1e-12, "{angle}");
        }
    }

    #[test]
    fn nothing_to_bend_is_rigid_and_never_no_number() {
        let nothing = BeamSection { area_mm2: 0.0, ..BeamSection::round(0.0) };
        for beam in [steps(&[], nothing), steps(&[20.0], nothing), steps(&[f64::NAN], odd(SectionForm::Round))] {
            assert_eq!(beam.compliance(20.0), Matrix6::zeros());
        }
    }
}
