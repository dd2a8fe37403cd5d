//! Every example reads, and what is read is what the file says.
#![allow(missing_docs)]

use std::path::{Path, PathBuf};

use engine::job::{BarForm, JobMaterial};
use engine::part::Form;
use engine::quantity::{Plain, Units};
use engine::shop::{ChuckKind, ClampingForce, CrossFeeds, DialUnit, JawSurface, Reads, Shop, ToolMaterial};
use formats::{builtin, job, shop};

fn toml_files(folder: &str) -> Vec<(PathBuf, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(folder);
    let mut files: Vec<PathBuf> = std::fs::read_dir(&folder)
        .expect("the folder of examples is there")
        .map(|entry| entry.expect("an entry of the folder").path())
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .collect();
    files.sort();
    files.into_iter().map(|path| (path.clone(), std::fs::read_to_string(path).expect("a readable file"))).collect()
}

fn school() -> Shop {
    shop::read(builtin::shop_text(), "school").expect("the school shop reads").shop
}

fn near(ours: f64, theirs: f64) {
    assert!((ours - theirs).abs() <= 1e-12 * theirs.abs().max(1.0), "{ours} is not {theirs}");
}

#[test]
fn every_example_job_reads_and_names_things_of_the_school_shop() {
    let jobs = toml_files(".");
    assert!(jobs.len() >= 6, "only {} jobs", jobs.len());
    let shop = school();
    for (path, text) in jobs {
        let job = job::read(&text, "job").unwrap_or_else(|faults| panic!("{}: {faults:#?}", path.display())).job;
        assert!(job.lathe.iter().all(|name| shop.lathes.iter().any(|thing| thing.name == *name)), "{path:?}");
        assert!(job.chuck.iter().all(|name| shop.chucks.iter().any(|thing| thing.name == *name)), "{path:?}");
        assert!(job.tools.iter().all(|name| shop.tools.iter().any(|thing| thing.name == *name)), "{path:?}");
    }
}

#[test]
fn every_example_shop_reads() {
    let shops = toml_files("shops");
    assert!(shops.len() >= 2);
    for (path, text) in shops {
        shop::read(&text, "shop").unwrap_or_else(|faults| panic!("{}: {faults:#?}", path.display()));
    }
}

#[test]
fn the_demo_job_is_what_its_file_says() {
    let read = job::read(builtin::demo_job_text(), "demo").expect("the demo reads");
    let job = read.job;
    assert_eq!((job.title.as_str(), job.units), ("Guide block for a sluice gate", Units::Mm));
    let BarForm::Round { diameter } = job.stock.form else { panic!("a round bar") };
    near(diameter.plain(), 58.0);
    near(job.stock.length.plain(), 50.0);
    assert_eq!(job.stock.material, JobMaterial::Named("medium-carbon-steel".to_string()));
    let Form::Block { width, .. } = job.part.form else { panic!("a block") };
    near(width.size.plain(), 36.0);
    near(width.plus.expect("a limit").plain(), 0.05);
    assert_eq!(job.part.names, ["A", "B", "C", "D", "E", "F"]);
    near(job.part.roughness.expect("a roughness").plain(), 0.0032);
    assert_eq!((job.lathe, job.chuck, job.tools.len()), (None, None, 0));
    let place = read.places.find("stock.diameter").expect("a place");
    assert_eq!(&builtin::demo_job_text()[place], "58");
    let place = read.places.find("use.lathe");
    assert_eq!(place, None, "the demo has no table `use`");
}

#[test]
fn inches_and_own_values_come_through() {
    let of = |name: &str| {
        let files = toml_files(".");
        let (_, text) = files.iter().find(|(path, _)| path.ends_with(name)).expect("the example").clone();
        job::read(&text, name).expect("it reads").job
    };
    let shoe = of("bell-frame-shoe.toml");
    assert_eq!(shoe.units, Units::Inch);
    let BarForm::Round { diameter } = shoe.stock.form else { panic!("a round bar") };
    near(diameter.plain(), 57.15); // 2 1/4 in = 9/4 x 25.4 mm
    near(shoe.part.length.plus.expect("a limit").plain(), 0.1016); // 0.004 x 25.4 mm
    near(shoe.part.roughness.expect("a roughness").plain(), 0.003175); // 125e-6 x 25.4 mm
    let keep = of("water-wheel-keep.toml");
    let JobMaterial::Own(own) = keep.stock.material else { panic!("a material of its own") };
    near(own.kc11.plain(), 1150.0);
    assert_eq!(own.speeds.len(), 2);
    assert_eq!(own.speeds[0].0, ToolMaterial::Hss);
    near(own.speeds[0].1.plain(), 20.0);
    let Form::Sides(sides) = keep.part.form else { panic!("sides") };
    assert_eq!((sides.len(), keep.part.names.len()), (5, 7));
    let latch = of("greenhouse-latch.toml");
    assert_eq!(latch.part.leave, ["D", "F"]);
    let foot = of("sundial-foot.toml");
    near(foot.part.offset.0.plain(), 1.5);
    near(foot.cutting.clean_up.expect("a wish").plain(), 0.3);
    let clamp = of("mast-lamp-clamp.toml");
    assert_eq!(clamp.part.names[2], "mast");
    // ISO 286-2, h10 over 30 up to 50 mm: 0 and -100 um.
    let Form::Block { width, .. } = clamp.part.form else { panic!("a block") };
    near(width.plus.expect("an upper limit").plain(), 0.0);
    near(width.minus.expect("a lower limit").plain(), 0.1);
    assert!(width.fit.is_some());
}

#[test]
fn the_school_shop_is_what_its_file_says() {
    let shop = school();
    let lathe = &shop.lathes[0];
    assert_eq!(lathe.name, "school lathe");
    near(lathe.speeds[0].plain(), 50.0);
    near(lathe.motor.plain(), 1500.0);
    assert_eq!(lathe.cross_feeds, CrossFeeds::ShareOfLong(0.5));
    near(lathe.depth_slide.graduation.plain(), 0.0254);
    near(lathe.depth_slide.per_turn.plain(), 2.54);
    assert_eq!((lathe.depth_slide.unit, lathe.depth_slide.reads), (DialUnit::Inch, Reads::Depth));
    assert_eq!(shop.lathes[1].depth_slide.unit, DialUnit::Mm);
    assert_eq!(lathe.cross_slide.as_ref().map(|slide| slide.reads), Some(Reads::Diameter));
    let chuck = &shop.chucks[0];
    assert_eq!((chuck.kind, chuck.jaws, chuck.jaw.surface), (ChuckKind::Independent, 4, JawSurface::HardSmooth));
    let Some(ClampingForce::Each(force)) = chuck.clamping_force else { panic!("a force") };
    near(force.plain(), 16_000.0);
    near(chuck.jaw_tilt[0].plain(), 0.0004);
    assert_eq!(shop.tools[0].material, ToolMaterial::CarbideUncoated);
    near(shop.tools[0].cutting_edge_angle.expect("an angle").plain(), 75.0_f64.to_radians());
    assert_eq!(shop.gauges.iter().filter(|gauge| gauge.fits_in_chuck).count(), 1);
    assert_eq!(shop.minutes.set_up, Some(6.0));
    near(shop.packing[0].thickness[1].plain(), 1.0);
    near(lathe.spindle_bore.expect("a bore").plain(), 38.0);
    near(shop.lathes[1].spindle_bore.expect("a bore").plain(), 52.0);
    near(shop.parallels[0].width.expect("a width").plain(), 6.0);
}

#[test]
fn the_school_shop_leaves_nothing_to_the_reader_and_gives_every_key() {
    let read = shop::read(builtin::shop_text(), "school").expect("it reads");
    assert_eq!(read.assumed, []);
    let lathe = &read.shop.lathes[0];
    assert!(lathe.efficiency.is_some() && lathe.most_torque.is_some() && lathe.stiffness_n_per_um.is_some());
    assert!(lathe.mass.is_some() && lathe.rotor_mass.is_some() && lathe.swing_over_slide.is_some());
    assert!(read.shop.chucks.iter().all(|chuck| chuck.bore.is_some() && chuck.jaw.mass.is_some()));
    assert!(read.shop.parallels.iter().all(|parallels| parallels.length.is_some() && parallels.width.is_some()));
}

#[test]
fn what_the_reader_fills_in_is_told() {
    let text = "units = 'mm'\n[[lathe]]\nspeeds = [100]\nmotor = '1 kW'\ndepth_slide = { graduation = 0.02, per_turn = 3 }\n\
        [[chuck]]\nkind = 'independent'\njaws = 4\nbody = 200\njaw = { width = 20, length = 40 }\nopening = [10, 190]\n\
        [[tool]]\nmaterial = 'HSS'\n[[gauge]]\ngraduation = 0.01\n";
    let read = shop::read(text, "least").unwrap_or_else(|faults| panic!("{faults:#?}"));
    let what: Vec<&str> = read.assumed.iter().map(|value| value.what.as_str()).collect();
    let due = [
        "what the ring of the depth slide reads",
        "surface of the jaws",
        "what the tool 1 does",
        "whether the gauge 1 reaches the work in the chuck",
    ];
    assert_eq!(what, due);
    assert_eq!(read.shop.lathes[0].name, "lathe 1");
    assert_eq!(read.shop.lathes[0].cross_feeds, CrossFeeds::Listed(Vec::new()));
}

#[test]
fn a_folder_is_read_together_and_places_name_the_file() {
    let (school, toolroom) = (builtin::shop_text(), &toml_files("shops")[1].1);
    let second = toolroom.replace("name  = \"Toolroom of a pump works\"", "").replace("\"toolroom lathe\"", "'second'");
    let second = second.split("[[parallels]]").next().expect("a first part").to_string();
    let read = shop::read_together(&[(school, "a.toml"), (&second, "b.toml")]).unwrap_or_else(|f| panic!("{f:#?}"));
    assert_eq!((read.shop.lathes.len(), read.shop.chucks.len()), (3, 4));
    assert_eq!(read.places.file("lathe[2].speeds"), Some("b.toml"));
    let place = read.places.find("lathe[2].motor").expect("a place");
    assert_eq!(&second[place], "\"5.5 kW\"");
    let faults = shop::read_together(&[(school, "a.toml"), (school, "b.toml")]).expect_err("everything twice");
    assert!(faults.iter().any(|fault| fault.file == "b.toml" && fault.says.contains("names it already")));
    assert!(faults.iter().any(|fault| fault.says.contains("[minutes]")));
}

#[test]
fn two_files_may_not_use_one_name() {
    let text = "units = 'mm'\n[[tool]]\nname = 'facing tool, HSS'\nmaterial = 'HSS'\n";
    let faults = shop::read_together(&[(builtin::shop_text(), "a"), (text, "b")]).expect_err("a name twice");
    assert_eq!(faults.len(), 1, "{faults:#?}");
    assert_eq!((faults[0].file.as_str(), faults[0].line(text)), ("b", Some(3)));
}
