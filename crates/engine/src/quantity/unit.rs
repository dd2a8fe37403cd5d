//! The units that are read, each with its exact worth in the unit used inside.
//!
//! Every worth is kept as one number over another, so that a reading multiplies before it divides
//! and `3/8 in` is 9.525 mm to the last bit. One inch is 25.4 mm, one pound 0.45359237 kg, one
//! pound-force 4.4482216152605 N, all by definition (International Yard and Pound Agreement 1959;
//! standard gravity 9.80665 m/s²); one horsepower is 550 foot pounds-force a second.

use super::Units;

/// What kind of quantity is due; each line names the unit of the number that comes back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// mm
    Length,
    /// mm per revolution
    Feed,
    /// degrees
    Angle,
    /// turns a minute
    Speed,
    /// N
    Force,
    /// N m
    Torque,
    /// W
    Power,
    /// MPa
    Pressure,
    /// kg
    Mass,
    /// kg/m³
    Density,
    /// N/µm
    Stiffness,
    /// m/min
    CuttingSpeed,
    /// mm, of a surface's texture
    Roughness,
    /// minutes
    Time,
    /// g mm
    Unbalance,
    /// a number without unit; per cent is read too
    Share,
}

/// A unit as it may be written.
#[derive(Debug, Clone, Copy)]
pub(super) struct Unit {
    /// First the usual spelling, then others.
    pub names: &'static [&'static str],
    /// What it measures.
    pub kind: Kind,
    /// Its worth is `over / under`.
    pub over: f64,
    /// See `over`.
    pub under: f64,
    /// Whether it counts in inches.
    pub inch: bool,
}

impl Kind {
    /// The kind in words, with its article.
    pub fn name(self) -> &'static str {
        match self {
            Kind::Length => "a length",
            Kind::Feed => "a feed",
            Kind::Angle => "an angle",
            Kind::Speed => "a spindle speed",
            Kind::Force => "a force",
            Kind::Torque => "a torque",
            Kind::Power => "a power",
            Kind::Pressure => "a pressure or strength",
            Kind::Mass => "a mass",
            Kind::Density => "a density",
            Kind::Stiffness => "a stiffness",
            Kind::CuttingSpeed => "a cutting speed",
            Kind::Roughness => "a roughness",
            Kind::Time => "a time",
            Kind::Unbalance => "an unbalance",
            Kind::Share => "a number",
        }
    }

    /// What would be read, with examples, for a file in these units.
    pub fn accepts(self, units: Units) -> String {
        let bare = match self.bare(units) {
            Some(unit) => format!("; a bare number counts as {}", unit.names[0]),
            None if self == Kind::Share => String::new(),
            None => "; the unit must be written".to_string(),
        };
        format!("{}: {}{bare}", self.name(), self.examples())
    }

    fn examples(self) -> &'static str {
        match self {
            Kind::Length => "34 mm, 12 um, 1 3/8 in, 0.015 in, 15 thou",
            Kind::Feed => "0.1 mm/rev, 0.004 in/rev, 4 thou/rev",
            Kind::Angle => "10 deg, 0.4 mrad, 0.1 rad",
            Kind::Speed => "600 rpm",
            Kind::Force => "16 kN, 900 N, 200 lbf",
            Kind::Torque => "45 N m, 33 lbf ft",
            Kind::Power => "1.5 kW, 750 W, 2 hp",
            Kind::Pressure => "400 MPa, 400 N/mm2, 2 GPa, 58 ksi",
            Kind::Mass => "0.9 kg, 900 g, 2 lb",
            Kind::Density => "7850 kg/m3, 7.85 g/cm3, 0.284 lb/in3",
            Kind::Stiffness => "60 N/um, 60 kN/mm",
            Kind::CuttingSpeed => "110 m/min, 350 ft/min",
            Kind::Roughness => "1.6 um, 63 uin",
            Kind::Time => "3 min, 40 s",
            Kind::Unbalance => "500 g mm",
            Kind::Share => "0.7, 70 %",
        }
    }

    /// The unit of a bare number, where there can be no doubt about it.
    pub(super) fn bare(self, units: Units) -> Option<&'static Unit> {
        let name = match (self, units) {
            (Kind::Length, Units::Mm) => "mm",
            (Kind::Length, Units::Inch) => "in",
            (Kind::Feed, Units::Mm) => "mm/rev",
            (Kind::Feed, Units::Inch) => "in/rev",
            (Kind::Angle, _) => "deg",
            (Kind::Speed, _) => "rpm",
            (Kind::Time, _) => "min",
            _ => return None,
        };
        ALL.iter().find(|unit| unit.kind == self && unit.names[0] == name)
    }
}

const fn unit(kind: Kind, names: &'static [&'static str], over: f64, under: f64) -> Unit {
    Unit { names, kind, over, under, inch: false }
}

const fn inches(kind: Kind, names: &'static [&'static str], over: f64, under: f64) -> Unit {
    Unit { names, kind, over, under, inch: true }
}

/// Newtons in a pound-force.
const LBF: f64 = 4.4482216152605;

/// Every unit that is read.
pub(super) const ALL: &[Unit] = &[
    unit(Kind::Length, &["mm", "millimetre", "millimetres", "millimeter", "millimeters"], 1.0, 1.0),
    unit(Kind::Length, &["um", "µm", "μm", "micron", "microns"], 1.0, 1000.0),
    unit(Kind::Length, &["cm"], 10.0, 1.0),
    unit(Kind::Length, &["m", "metre", "metres", "meter", "meters"], 1000.0, 1.0),
    inches(Kind::Length, &["in", "\"", "″", "inch", "inches", "in."], 127.0, 5.0),
    inches(Kind::Length, &["thou"], 127.0, 5000.0),
    inches(Kind::Length, &["uin", "µin", "μin"], 127.0, 5_000_000.0),
    inches(Kind::Length, &["ft", "foot", "feet"], 1524.0, 5.0),
    unit(Kind::Feed, &["mm/rev", "mm per rev", "mm/r"], 1.0, 1.0),
    unit(Kind::Feed, &["um/rev", "µm/rev", "μm/rev"], 1.0, 1000.0),
    inches(Kind::Feed, &["in/rev", "in per rev", "ipr", "\"/rev"], 127.0, 5.0),
    inches(Kind::Feed, &["thou/rev", "thou per rev"], 127.0, 5000.0),
    unit(Kind::Angle, &["deg", "°", "degree", "degrees"], 1.0, 1.0),
    unit(Kind::Angle, &["rad"], 180.0, std::f64::consts::PI),
    unit(Kind::Angle, &["mrad"], 180.0, 1000.0 * std::f64::consts::PI),
    unit(Kind::Speed, &["rpm", "1/min", "rev/min", "r/min"], 1.0, 1.0),
    unit(Kind::Force, &["N", "newton", "newtons"], 1.0, 1.0),
    unit(Kind::Force, &["kN"], 1000.0, 1.0),
    unit(Kind::Force, &["lbf"], LBF, 1.0),
    unit(Kind::Torque, &["N m", "Nm", "N·m", "N*m"], 1.0, 1.0),
    unit(Kind::Torque, &["N mm", "Nmm", "N·mm", "N*mm"], 1.0, 1000.0),
    unit(Kind::Torque, &["kN m", "kNm", "kN·m", "kN*m"], 1000.0, 1.0),
    unit(Kind::Torque, &["lbf ft", "ft lbf", "lbf·ft", "lb ft", "ft lb"], LBF * 381.0, 1250.0),
    unit(Kind::Torque, &["lbf in", "in lbf", "lbf·in", "lb in", "in lb"], LBF * 127.0, 5000.0),
    unit(Kind::Power, &["W", "watt", "watts"], 1.0, 1.0),
    unit(Kind::Power, &["kW"], 1000.0, 1.0),
    unit(Kind::Power, &["hp"], LBF * 550.0 * 381.0, 1250.0),
    unit(Kind::Pressure, &["MPa", "N/mm2", "N/mm²", "N/mm^2"], 1.0, 1.0),
    unit(Kind::Pressure, &["GPa"], 1000.0, 1.0),
    unit(Kind::Pressure, &["psi", "lbf/in2"], LBF * 25.0, 16129.0),
    unit(Kind::Pressure, &["ksi"], LBF * 25_000.0, 16129.0),
    unit(Kind::Mass, &["kg"], 1.0, 1.0),
    unit(Kind::Mass, &["g"], 1.0, 1000.0),
    unit(Kind::Mass, &["lb", "lbs"], 45_359_237.0, 100_000_000.0),
    unit(Kind::Mass, &["oz"], 45_359_237.0, 1_600_000_000.0),
    unit(Kind::Density, &["kg/m3", "kg/m³", "kg/m^3"], 1.0, 1.0),
    unit(Kind::Density, &["g/cm3", "g/cm³", "g/cm^3", "kg/dm3", "kg/dm³", "kg/dm^3"], 1000.0, 1.0),
    // 0.45359237 kg in (0.0254 m)³, both over 1e-12 of their units.
    unit(Kind::Density, &["lb/in3", "lb/in³", "lb/in^3"], 453_592_370_000.0, 16_387_064.0),
    unit(Kind::Stiffness, &["N/um", "N/µm", "N/μm", "kN/mm"], 1.0, 1.0),
    unit(Kind::Stiffness, &["N/mm"], 1.0, 1000.0),
    unit(Kind::Stiffness, &["lbf/in"], LBF, 25_400.0),
    unit(Kind::CuttingSpeed, &["m/min"], 1.0, 1.0),
    unit(Kind::CuttingSpeed, &["m/s"], 60.0, 1.0),
    unit(Kind::CuttingSpeed, &["ft/min", "fpm", "sfm"], 381.0, 1250.0),
    unit(Kind::Roughness, &["um", "µm", "μm", "micron", "microns"], 1.0, 1000.0),
    unit(Kind::Roughness, &["uin", "µin", "μin"], 127.0, 5_000_000.0),
    unit(Kind::Time, &["min", "minute", "minutes"], 1.0, 1.0),
    unit(Kind::Time, &["s", "sec", "second", "seconds"], 1.0, 60.0),
    unit(Kind::Unbalance, &["g mm", "g·mm", "g*mm"], 1.0, 1.0),
    unit(Kind::Unbalance, &["kg mm", "kg·mm", "kg*mm"], 1000.0, 1.0),
    unit(Kind::Share, &["%"], 1.0, 100.0),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_spelling_means_two_things_within_a_kind() {
        let mut seen: Vec<(String, String)> = ALL
            .iter()
            .flat_map(|unit| unit.names.iter().map(|name| (format!("{:?}", unit.kind), name.to_lowercase())))
            .collect();
        let all = seen.len();
        seen.sort();
        seen.dedup();
        assert_eq!(seen.len(), all, "two units of a kind share a spelling when case is ignored");
    }

    #[test]
    fn every_kind_that_reads_bare_numbers_finds_its_unit() {
        for kind in [Kind::Length, Kind::Feed, Kind::Angle, Kind::Speed, Kind::Time] {
            assert!(kind.bare(Units::Mm).is_some() && kind.bare(Units::Inch).is_some(), "{kind:?}");
        }
        assert!(Kind::Power.bare(Units::Mm).is_none());
    }
}
