//! Malformed files: every one refused, with the fault on its line.
#![allow(missing_docs)]

use engine::job::{AnyJob, BarShape};
use engine::quantity::mm;
use engine::shop::{BlankMinutes, Blanks};
use formats::{Fault, builtin, job, shop};

const JOB: &str = "title = 'Test block'
units = 'mm'
[stock]
form = 'round'
diameter = 58
length = 50
material = 'medium-carbon-steel'
[part]
kind = 'block'
width = { size = 36, plus = 0.05, minus = 0.05 }
height = 36
length = 44
square = 0.06
";

const SHOP: &str = "name = 'Test shop'
units = 'mm'
[[lathe]]
name = 'one'
speeds = [45, 70, 110]
long_feeds = [0.05, 0.1]
cross_feeds = [0.03, 0.06]
motor = '1.5 kW'
efficiency = 0.75
swing_over_bed = 330
[lathe.depth_slide]
graduation = '0.001 in'
per_turn = '0.100 in'
reads = 'depth'
[[chuck]]
name = 'two'
kind = 'independent'
jaws = 4
body = 200
jaw = { width = 24, length = 50, surface = 'hard smooth' }
opening = [10, 190]
[[tool]]
name = 'three'
does = ['facing']
material = 'HSS'
feed = [0.05, 0.3]
";

/// The last line of the shop.
const FEED: &str = "feed = [0.05, 0.3]\n";

/// Each: text replaced, by what, the line of the fault, words of what it says, words of what it accepts.
type Case = (&'static str, &'static str, usize, &'static str, &'static str);

const JOBS: &[Case] = &[
    ("units = 'mm'", "units = 'cm'", 2, "does not know `cm`", "`mm` or `inch`"),
    ("units = 'mm'\n", "", 1, "`units` is missing", "`mm` or `inch`"),
    ("units = 'mm'", "units = 1", 2, "`units` is a number", "`mm`"),
    ("title = 'Test block'", "title = ''", 1, "`title`", "a text"),
    ("title = 'Test block'", "titel = 'Test block'", 1, "did you mean `title`?", "`stock`"),
    ("form = 'round'", "form = 'ruond'", 4, "did you mean `round`?", "`hexagon`"),
    ("form = 'round'\n", "", 3, "`stock.form` is missing", "`flat`"),
    ("diameter = 58", "diametre = 58", 5, "did you mean `diameter`?", "`diameter`"),
    ("diameter = 58", "across = 58", 5, "`across` is not a key", "`diameter`"),
    ("diameter = 58\n", "", 3, "`stock.diameter` is missing", "34 mm"),
    ("diameter = 58", "diameter = '58,5 mm'", 5, "comma", "1 3/8 in"),
    ("diameter = 58", "diameter = '2 1/0 in'", 5, "zero", "1 3/8 in"),
    ("diameter = 58", "diameter = '58 kg'", 5, "unit of a mass", "mm"),
    ("diameter = 58", "diameter = '58 mm or so'", 5, "left over", "mm"),
    ("diameter = 58", "diameter = -58", 5, "at least 0.5", "mm"),
    ("diameter = 58", "diameter = 0", 5, "at least 0.5", "mm"),
    ("diameter = 58", "diameter = 1e-300", 5, "at least 0.5", "mm"),
    ("length = 50", "length = 0.49", 6, "at least 0.5", "mm"),
    ("height = 36", "height = '10 um'", 11, "at least 0.5", "mm"),
    ("size = 36", "size = 1e-9", 10, "at least 0.5", "mm"),
    ("diameter = 58", "diameter = nan", 5, "a number is due", "mm"),
    ("diameter = 58", "diameter = inf", 5, "a number is due", "mm"),
    ("diameter = 58", "diameter = 1e400", 5, "too large", "mm"),
    ("diameter = 58", "diameter = 58000", 5, "less than 10000", "mm"),
    ("diameter = 58", "diameter = 0x3A", 5, "`stock.diameter` is a number", "mm"),
    ("diameter = 58", "diameter = true", 5, "true or false", "mm"),
    ("diameter = 58", "diameter = 1979-05-27", 5, "a date", "mm"),
    ("diameter = 58", "diameter = [58]", 5, "a list", "mm"),
    ("diameter = 58", "diameter = 58\ndiameter = 60", 6, "not TOML", "length = 44"),
    ("diameter = 58", "diameter = ", 5, "not TOML", "length = 44"),
    ("diameter = 58", "diameter 58", 5, "not TOML", "length = 44"),
    ("[stock]", "[stock", 3, "not TOML", "[stock]"),
    ("[stock]", "[[stock]]", 3, "a job is made from one bar", "in the shop's file"),
    ("diameter = 58", "diameter = 'any'\nacross = 58", 6, "`across` is not a key", "`diameter`"),
    (
        "form = 'round'",
        "form = 'any'",
        5,
        "`stock.diameter` is given, and `form` is `any`",
        "the form too, or no sizes",
    ),
    ("form = 'round'", "form = 'anny'", 4, "does not know `anny`", "`any`"),
    ("length = 50", "length = 'any'", 6, "`stock.length`", "34 mm"),
    (
        "form = 'round'\ndiameter = 58",
        "form = 'flat'\nwidth = 'any'\nthickness = 20",
        5,
        "`stock.width` is `any`, and the other size is not",
        "`any` for both",
    ),
    ("material = 'medium-carbon-steel'\n", "", 3, "`stock.material` is missing", "[material]"),
    ("material = 'medium-carbon-steel'", "material = 45", 7, "is a number", "a text"),
    ("material = 'medium-carbon-steel'", "surface = 'rusty'", 7, "does not know `rusty`", "`hot-rolled`"),
    ("kind = 'block'", "kind = 'turned'", 9, "not planned yet", "`block` or `prism`"),
    ("kind = 'block'", "kind = 'blok'", 9, "did you mean `block`?", "`prism`"),
    ("kind = 'block'\n", "", 8, "`part.kind` is missing", "`prism`"),
    ("plus = 0.05, minus = 0.05", "plus = 0.05, minus = -0.05", 10, "contradicts itself", "size + plus"),
    ("plus = 0.05, minus = 0.05", "plus = -0.1, minus = 0.05", 10, "contradicts itself", "size + plus"),
    ("plus = 0.05, minus = 0.05", "plus = 0.05", 10, "`part.width.minus` is missing", "the other limit"),
    ("plus = 0.05, minus = 0.05", "plus = 0.05, minus = 40", 10, "size of nothing", "more than 0"),
    ("plus = 0.05, minus = 0.05", "tol = 0.05", 10, "`tol` is not a key", "`minus`"),
    ("height = 36", "height = '36 i8'", 11, "no fit has the letter `i`", "js"),
    ("height = 36", "height = '36 h'", 11, "not a unit", "mm"),
    ("height = 36", "height = '36 h19'", 11, "no standard tolerance grade", "1 to 18"),
    ("height = 36", "height = '36 H8'", 11, "holes and slots", "`h8`, which here is +0 um and -39 um"),
    ("height = 36", "height = '20 t6'", 11, "t6 is not used at 20 mm", "over 24"),
    ("height = 36", "height = '501 h8'", 11, "end at 500 mm", "plus and minus"),
    ("height = 36", "height = '0.2 h8'", 11, "`part.height` says", "at least 0.5"),
    ("height = 36", "height = '36 kg h8'", 11, "unit of a mass", "36 h8"),
    ("height = 36", "height = '1.2 c18'", 11, "size of nothing", "more than 0"),
    ("height = 36", "height = { size = 36, fit = 'h8', plus = 0.1 }", 11, "a fit and limits", "the fit alone"),
    ("height = 36", "height = { size = '36 h8', plus = 0.1 }", 11, "a fit and limits", "the fit alone"),
    ("height = 36", "height = { size = 36, fit = 'q8' }", 11, "no fit has the letter `q`", "js"),
    ("height = 36", "height = { size = 36, fit = 8 }", 11, "`part.height.fit` is a number", "`h8`"),
    ("square = 0.06", "general = 'mX'", 13, "`X` is no class here", "`mK`"),
    ("square = 0.06", "general = ''", 13, "names no class", "`mK`"),
    ("square = 0.06", "general = 2768", 13, "is a number", "`mK`"),
    ("square = 0.06", "angles = '11 deg'", 13, "at most 10", "deg"),
    ("square = 0.06", "position = 0", 13, "more than 0", "mm"),
    ("size = 36, ", "", 10, "`part.width.size` is missing", "size"),
    ("height = 36\n", "", 8, "`part.height` is missing", "size"),
    ("square = 0.06", "square = 0", 13, "more than 0", "mm"),
    ("square = 0.06", "sides = 4", 13, "`sides` is not a key", "`width`"),
    ("square = 0.06", "roughness = 'Rz 6.3 um'", 13, "Ra is what is read", "Ra 1.6 um"),
    ("square = 0.06", "roughness = 'Ra 1.6'", 13, "unit is missing", "Ra 1.6 um"),
    ("square = 0.06", "centre_holes = 0", 13, "more than 0", "mm"),
    ("square = 0.06", "centre_holes = true", 13, "`part.centre_holes`", "mm"),
    ("square = 0.06", "roughness = 1.6", 13, "is a number", "Ra 1.6 um"),
    ("square = 0.06", "roughness = 'Ra 1.6 mm'", 13, "unit of a length", "Ra 1.6 um"),
    ("square = 0.06", "offset = [1]", 13, "has 1 values", "[dx, dy]"),
    ("square = 0.06", "turn = '10 mm'", 13, "unit of a length", "10 deg"),
    ("square = 0.06", "names = ['A', 'B']", 13, "2 names for 6 faces", "a name for each"),
    ("square = 0.06", "names = ['A', 'B', 'C', 'D', 'E', 'A']", 13, "says `A` again", "none twice"),
    ("square = 0.06", "names = ['A', 'B', 'C', 'D', 'E', 'bar']", 13, "cannot name a face `bar`", "the raw bar"),
    ("square = 0.06", "leave = ['G']", 13, "no face of the part", "`A`, `B`"),
    ("square = 0.06", "leave = ['A','B','C','D','E','F']", 13, "nothing is to be cut", "`A`"),
    ("square = 0.06", "[use]\nlathes = 'one'", 14, "did you mean `lathe`?", "`chuck`"),
    ("square = 0.06", "[use]\ntools = 'one'", 14, "is a text", "a list"),
    ("square = 0.06", "[cutting]\nspeed_share_interrupted = 1.2", 14, "at most 1", "0.7"),
    ("square = 0.06", "[cutting]\nspeed_share_interrupted = 0.05", 14, "at least 0.1", "0.7"),
    ("square = 0.06", "[cutting]\nfinishing_cut = 3", 14, "at least 0.02 and at most 2 mm", "mm"),
    ("square = 0.06", "[cutting]\nfinishing_cut = 0.01", 14, "at least 0.02 and at most 2 mm", "mm"),
    ("square = 0.06", "[cutting]\ndeepest_cut = 0.04", 14, "at least 0.05 and at most 20 mm", "mm"),
    ("square = 0.06", "[cutting]\ndeepest_cut = 21", 14, "at least 0.05 and at most 20 mm", "mm"),
    ("square = 0.06", "[order]\nseek = 'fastest'", 14, "`order.seek`", "`quickest`"),
    ("square = 0.06", "[order]\nfirst = 'B'", 14, "`order.first`", "a list of faces"),
    ("square = 0.06", "[order]\nfrist = ['B']", 14, "did you mean `first`?", "`seated`"),
    ("square = 0.06", "[order]\nseated = ['B', 'B']", 14, "says `B` again", "a list of faces"),
    ("square = 0.06", "[cutting]\nclean_up = 21", 14, "at least 0 and at most 20 mm", "mm"),
    (
        "material = 'medium-carbon-steel'",
        "material = 'carbon-steel-medium'",
        7,
        "did you mean `medium-carbon-steel`?",
        "`tool-steel`",
    ),
    (
        "material = 'medium-carbon-steel'",
        "material = 'austenitic-stainless'",
        7,
        "did you mean `stainless-austenitic`?",
        "[material]",
    ),
    ("material = 'medium-carbon-steel'", "material = 'granite'", 7, "no material is named `granite`", "`brass`"),
    (
        "square = 0.06",
        "[cutting]\nfinishing_cut = 2\ndeepest_cut = 1",
        13,
        "more than `cutting.deepest_cut`",
        "deepest",
    ),
    (
        "square = 0.06",
        "[material]\nname = 'x'\nkc11 = '1700 MPa'\nmc = 0.25\ndensity = '7850 kg/m3'\nspeed = { HSS = '28 m/min' }",
        7,
        "the table `[material]` is called `x`",
        "one of the two",
    ),
    ("square = 0.06", "[material]\nmc = 1", 14, "less than 1", "0.7"),
    ("square = 0.06", "[material]\nspeed = { hss = '28 m/min' }", 14, "`hss` is not a key", "`carbide, coated`"),
    ("square = 0.06", "[material]\nspeed = { HSS = 28 }", 14, "unit is missing", "110 m/min"),
    ("square = 0.06", "[material]\ndensity = '7.85 kg/m3'", 14, "at least 100", "7850 kg/m3"),
    ("square = 0.06", "[material]\nname = 'x'", 13, "`material.kc11` is missing", "1700 MPa"),
];

const PRISM: &str = "units = 'mm'
[stock]
form = 'square'
across = 50
length = 40
material = 'brass'
[part]
kind = 'prism'
length = 30
regular = { sides = 6, across_flats = 30 }
";

const PRISMS: &[Case] = &[
    ("across = 50", "across_flats = 50", 4, "did you mean `across`?", "`across`"),
    ("across_flats = 30", "across_flats = 0.1", 10, "at least 0.5", "mm"),
    ("sides = 6", "sides = 2", 10, "`part.regular.sides` is 2", "3 to 24"),
    ("sides = 6", "sides = 6.5", 10, "is a number", "a whole number"),
    ("regular = { sides = 6, across_flats = 30 }\n", "", 7, "neither is here", "across_flats"),
    ("across_flats = 30 }", "across_flats = 30 }\nsides = []", 11, "both is here", "across_flats"),
    (
        "regular = { sides = 6, across_flats = 30 }",
        "sides = [{ angle = 0, distance = 9 }]",
        10,
        "lists 1 sides",
        "3 to 24",
    ),
    (
        "regular = { sides = 6, across_flats = 30 }",
        "sides = [\n{ angle = 0, distance = 9 },\n{ angle = 90, distance = 9 },\n{ angle = 90, distance = 9 } ]",
        13,
        "does not come after",
        "rise",
    ),
    (
        "regular = { sides = 6, across_flats = 30 }",
        "sides = [\n{ angle = 0, distance = 9 },\n{ angle = 90, distance = 9 },\n{ angle = 170, distance = 9 } ]",
        11,
        "leaves the section open",
        "180",
    ),
];

const SHOPS: &[Case] = &[
    ("feed = [0.05, 0.3]\n", "feed = [0.05, 0.3]\n[scatter]\nby_eye = \"0 mrad\"\n", 28, "`scatter.by_eye`", "0"),
    ("feed = [0.05, 0.3]\n", "feed = [0.05, 0.3]\n[scatter]\ndirt = \"-2 um\"\n", 28, "`scatter.dirt`", "0"),
    (FEED, "feed = [0.05, 0.3]\n[[stock]]\ndiameter = 20\n", 27, "`stock[0].form` is missing", "`hexagon`"),
    (FEED, "feed = [0.05, 0.3]\n[[stock]]\nform = 'any'\n", 28, "does not know `any`", "`round`"),
    (
        FEED,
        "feed = [0.05, 0.3]\n[[stock]]\nform = 'round'\ndiameter = 20\nmaterial = 'bras'\n",
        30,
        "no material is named `bras`; did you mean `brass`?",
        "`brass-free-cutting`",
    ),
    (
        FEED,
        "feed = [0.05, 0.3]\n[[stock]]\nform = 'round'\ndiameter = [20, 20]\nmaterial = 'brass'\n",
        29,
        "not more than the one before",
        "rising",
    ),
    (
        FEED,
        "feed = [0.05, 0.3]\n[[stock]]\nform = 'round'\ndiameter = []\nmaterial = 'brass'\n",
        29,
        "0 sizes",
        "1 to 60",
    ),
    (
        FEED,
        "feed = [0.05, 0.3]\n[[stock]]\nform = 'round'\nacross = 20\nmaterial = 'brass'\n",
        29,
        "`across` is not a key",
        "`diameter`",
    ),
    (
        FEED,
        "feed = [0.05, 0.3]\n[[stock]]\nform = 'flat'\nsizes = [[40, 20], [20]]\nmaterial = 'brass'\n",
        29,
        "`stock[0].sizes[1]` has 1 values; two are due",
        "width and thickness",
    ),
    (
        FEED,
        "feed = [0.05, 0.3]\n[[stock]]\nform = 'flat'\nsizes = [[20, 40]]\nmaterial = 'brass'\n",
        29,
        "thicker than wide",
        "width and thickness",
    ),
    (
        FEED,
        "feed = [0.05, 0.3]\n[[stock]]\nform = 'round'\ndiameter = 20\nmaterial = 'brass'\nper_kg = 4\n",
        31,
        "without `sawing`",
        "a kilogram costs",
    ),
    (
        FEED,
        "feed = [0.05, 0.3]\n[[stock]]\nform = 'round'\ndiameter = 20\nmaterial = 'brass'\nsawing = -1\n",
        31,
        "`stock[0].sawing` is -1",
        "min",
    ),
    (
        FEED,
        "feed = [0.05, 0.3]\n[[stock]]\nform = 'round'\ndiameter = 20\nmaterial = 'brass'\nlengths = [50]\nlongest = 90\n",
        32,
        "both are given",
        "one of the two",
    ),
    (FEED, "feed = [0.05, 0.3]\n[stock]\nform = 'round'\n", 27, "`stock` is a table", "`[[stock]]`"),
    ("feed = [0.05, 0.3]\n", "feed = [0.05, 0.3]\n[scatter]\ntouch_off = 0\n", 28, "`scatter.touch_off`", "0"),
    (
        "feed = [0.05, 0.3]\n",
        "feed = [0.05, 0.3]\n[scatter]\nseet = 0.005\n",
        28,
        "did you mean `seat`?",
        "`touch_off`",
    ),
    (
        "feed = [0.05, 0.3]\n",
        "feed = [0.05, 0.3]\n[[gauge]]\ngraduation = 0.01\nuncertainty = 0\n",
        29,
        "uncertainty",
        "0",
    ),
    (
        "feed = [0.05, 0.3]",
        "[[vee]]\nmaterial = 'brass'\nangle = 40\nwidth = 20\nheight = 12\nlength = 20",
        28,
        "at least 60",
        "deg",
    ),
    (
        "feed = [0.05, 0.3]",
        "[[vee]]\nmaterial = 'brass'\nangle = '120 deg'\nwidth = 30\nheight = 8\nlength = 20",
        30,
        "`vee[0].height` is no more than the groove is deep",
        "more than 8.66 mm",
    ),
    (
        "feed = [0.05, 0.3]",
        "[[vee]]\nmaterial = 'brass'\nangle = '90 deg'\nwidth = 30\nheight = 20\nlength = 20\ncount = 0",
        32,
        "`vee[0].count` is 0",
        "from 1 to 12",
    ),
    ("feed = [0.05, 0.3]", "[[vee]]\nangel = '90 deg'", 27, "did you mean `angle`?", "`width`"),
    ("feed = [0.05, 0.3]", "[[stop]]\nreach = [20, -10]", 27, "`stop[0].reach` is empty", "[least, most]"),
    (
        "surface = 'hard smooth' }",
        "step = { below_front = 50, width = 6 } }",
        20,
        "no less than the jaw's length",
        "50",
    ),
    (
        "surface = 'hard smooth' }",
        "reversed = { step = { below_front = 12, width = 6 } } }",
        20,
        "opening` is missing",
        "least",
    ),
    ("[45, 70, 110]", "[]", 5, "`lathe[0].speeds` is empty", "600 rpm"),
    ("[45, 70, 110]", "[45, 70, 70]", 5, "not more than the one before", "rising"),
    ("[45, 70, 110]", "[45, -70, 110]", 5, "more than 0", "rpm"),
    ("[45, 70, 110]", "'45 rpm'", 5, "is a text", "a list"),
    ("speeds = [45, 70, 110]\n", "", 3, "`lathe[0].speeds` is missing", "the plate"),
    ("motor = '1.5 kW'", "motor = '1.5 kW'\nspindle_bore = -1", 9, "at least 0", "mm"),
    ("feed = [0.05, 0.3]", "[[parallels]]\npairs = [4]\nwidth = 0", 28, "more than 0", "mm"),
    ("motor = '1.5 kW'", "motor = 1.5", 8, "unit is missing", "1.5 kW"),
    ("motor = '1.5 kW'", "motor = '1.5 kg'", 8, "unit of a mass", "1.5 kW"),
    ("efficiency = 0.75", "efficiency = 1.75", 9, "at most 1", "0.7"),
    (
        "swing_over_bed = 330",
        "swing_over_slide = 400\nswing_over_bed = 330",
        10,
        "more than `swing_over_bed`",
        "clears",
    ),
    ("cross_feeds = [0.03, 0.06]", "cross_feeds = [0.06, 0.03]", 7, "not more than", "mm/rev"),
    ("motor = '1.5 kW'", "motor = '1.5 kW'\ncross_feed_share = 0.5", 9, "stands beside `cross_feeds`", "not both"),
    ("per_turn = '0.100 in'", "per_turn = '0.1005 in'", 13, "100.5000 marks", "whole number"),
    ("per_turn = '0.100 in'\n", "", 11, "`lathe[0].depth_slide.per_turn` is missing", "mm"),
    ("reads = 'depth'", "reads = 'depth'\nset_over = '90 deg'", 15, "less than 90", "deg"),
    ("reads = 'depth'", "reads = 'half'", 14, "does not know `half`", "`diameter`"),
    ("kind = 'independent'", "kind = 'self-centering'", 17, "did you mean `self-centring`?", "`independent`"),
    ("jaws = 4", "jaws = 1", 18, "`chuck[0].jaws` is 1", "2 to 6"),
    ("opening = [10, 190]", "opening = [190, 10]", 21, "not more than its least", "[least, most]"),
    ("opening = [10, 190]", "opening = [10, 50, 190]", 21, "has 3 values", "[least, most]"),
    ("surface = 'hard smooth'", "surface = 'knurled'", 20, "does not know `knurled`", "`hard serrated`"),
    ("body = 200", "body = 200\nclamping_force = '16 kN'\nkey = {}", 21, "stands beside", "not both"),
    ("body = 200", "body = 200\njaw_tilt = [0, 0]", 20, "has 2 values", "each jaw"),
    ("body = 200", "body = 200\nbore = 200", 20, "no less than the body", "a hole"),
    ("material = 'HSS'", "material = 'carbide'", 25, "does not know `carbide`", "`carbide, coated`"),
    ("does = ['facing']", "does = ['fasing']", 24, "did you mean `facing`?", "`turning`"),
    ("feed = [0.05, 0.3]", "feed = [0.05, '0.3 mm']", 26, "unit of a length", "mm/rev"),
    ("feed = [0.05, 0.3]", "[[gauge]]\nname = 'g'", 26, "`gauge[0].graduation` is missing", "mm"),
    ("feed = [0.05, 0.3]", "[[packing]]\nmaterial = 'felt'\nthickness = [1]\nfriction = 2", 29, "at most 1", "0.7"),
    ("feed = [0.05, 0.3]", "[[packing]]\nmaterial = 'felt'\nthickness = [1]\nfriction = 0", 29, "more than 0", "0.7"),
    ("feed = [0.05, 0.3]", "[[packing]]\nmaterial = 'felt'\nthickness = [1]\nyield = 70", 29, "unit is missing", "MPa"),
    ("feed = [0.05, 0.3]", "[[packing]]\nmaterial = 'felt'\nthickness = [1]\nyield = '0 MPa'", 29, "at least 1", "MPa"),
    ("feed = [0.05, 0.3]", "[[packing]]\nmaterial = 'felt'\nthickness = [0]", 28, "more than 0", "mm"),
    ("body = 200", "body = 200\nkey = { friction = 0 }", 20, "more than 0", "0.7"),
    ("body = 200", "body = 200\nkey = { friction = 2 }", 20, "at most 1", "0.7"),
    ("body = 200", "body = 200\nkey = { torque = '0 N m' }", 20, "more than 0", "N m"),
    ("body = 200", "body = 200\nkey = {}", 20, "`chuck[0].key.torque` is missing", "N m"),
    ("body = 200", "body = 200\nclamping_force = 0", 20, "unit is missing", "N"),
    ("body = 200", "body = 200\nclamping_force = '0 kN'", 20, "more than 0", "kN"),
    ("body = 200", "body = 200\nclamping_force = '-5 kN'", 20, "more than 0", "kN"),
    ("body = 200", "body = 200\nlow_share = 0", 20, "more than 0", "0.7"),
    ("body = 200", "body = 200\nlow_share = 1.2", 20, "at most 1", "0.7"),
    ("body = 200", "body = 200\nmarked_speed = 0", 20, "more than 0", "rpm"),
    ("length = 50,", "length = 50, bored = 'to fit',", 20, "says `to fit`", "`to the work`"),
    ("length = 50,", "length = 50, bored = 0,", 20, "more than 0", "mm"),
    ("motor = '1.5 kW'", "motor = '1.5 kW'\ntailstock = { thrust = 800 }", 9, "unit is missing", "kN"),
    ("motor = '1.5 kW'", "motor = '1.5 kW'\ntailstock = { thrust = '0 N' }", 9, "more than 0", "kN"),
    ("motor = '1.5 kW'", "motor = '1.5 kW'\ntailstock = { push = '1 kN' }", 9, "`push`", "`thrust`"),
    ("length = 50,", "length = 50, depth = 0,", 20, "more than 0", "mm"),
    ("length = 50,", "length = 50, mass = '0 kg',", 20, "more than 0", "kg"),
    ("feed = [0.05, 0.3]", "[minutes]\nset_up = -1", 27, "at least 0", "3 min"),
    ("feed = [0.05, 0.3]", "[[tool]]\nname = 'three'\nmaterial = 'HSS'", 27, "are called `three`", "of its own"),
];

fn expect_each(base: &str, cases: &[Case], read: impl Fn(&str) -> Vec<Fault>) {
    let wrong: Vec<String> = cases.iter().filter_map(|case| amiss(base, case, &read)).collect();
    assert!(wrong.is_empty(), "{} of {} cases:\n{}", wrong.len(), cases.len(), wrong.join("\n"));
}

/// What is amiss with the faults of a case, if anything.
fn amiss(base: &str, case: &Case, read: &impl Fn(&str) -> Vec<Fault>) -> Option<String> {
    let (from, to, line, says, accepts) = case;
    assert!(base.contains(from), "the case `{from}` replaces nothing");
    let text = base.replacen(from, to, 1);
    let faults = read(&text);
    let found = faults
        .iter()
        .any(|fault| fault.line(&text) == Some(*line) && fault.says.contains(says) && fault.accepts.contains(accepts));
    let told = || format!("{from} -> {to}: none on line {line} saying `{says}`, accepting `{accepts}`:\n{faults:#?}");
    (!found).then(told)
}

fn job_faults(text: &str) -> Vec<Fault> {
    job::read(text, "job").err().unwrap_or_default()
}

fn shop_faults(text: &str) -> Vec<Fault> {
    shop::read(text, "shop").err().unwrap_or_default()
}

#[test]
fn the_files_that_the_cases_spoil_are_well_before() {
    assert_eq!(job_faults(JOB), []);
    assert_eq!(job_faults(PRISM), []);
    assert_eq!(shop_faults(SHOP), []);
}

#[test]
fn malformed_jobs_are_refused_at_the_line() {
    expect_each(JOB, JOBS, job_faults);
    expect_each(PRISM, PRISMS, job_faults);
}

#[test]
fn malformed_shops_are_refused_at_the_line() {
    expect_each(SHOP, SHOPS, shop_faults);
}

#[test]
fn a_spoilt_quantity_is_pointed_at_to_the_byte() {
    let text = JOB.replace("diameter = 58", "diameter = '58,5 mm'");
    let faults = job_faults(&text);
    let span = faults[0].span.clone().expect("a span");
    assert_eq!(&text[span], ",5 mm");
    let text = JOB.replace("square = 0.06", "roughness = ' Ra 1.6 mm'");
    let span = job_faults(&text)[0].span.clone().expect("a span");
    assert_eq!(&text[span], "mm");
    // With an escape the bytes of the file are not those of the text: the whole value is pointed at.
    let text = JOB.replace("diameter = 58", "diameter = \"58\\u002C5 mm\"");
    let span = job_faults(&text)[0].span.clone().expect("a span");
    assert_eq!(&text[span], "\"58\\u002C5 mm\"");
}

#[test]
fn line_ends_and_marks_of_other_editors_do_no_harm() {
    for text in [JOB.replace('\n', "\r\n"), format!("\u{feff}{JOB}"), format!("\u{feff}{}", JOB.replace('\n', "\r\n"))]
    {
        let read = job::read(&text, "job").unwrap_or_else(|faults| panic!("{faults:#?}"));
        let place = read.places.find("stock.diameter").expect("a place");
        assert_eq!(&text[place], "58");
    }
}

#[test]
fn all_faults_of_a_file_come_at_once_and_in_order() {
    let text = JOB
        .replace("diameter = 58", "diameter = '58,5'")
        .replace("'round'", "'rund'")
        .replace("height = 36", "height = '36 kg'")
        .replace("square = 0.06", "sqare = 0.06");
    let faults = job_faults(&text);
    let lines: Vec<_> = faults.iter().filter_map(|fault| fault.line(&text)).collect();
    assert_eq!(lines, [4, 11, 13], "{faults:#?}");
}

#[test]
fn a_bar_may_be_left_to_the_shops_list_and_a_shop_may_list_many() {
    let open = |from: &str, to: &str| {
        let text = JOB.replace(from, to);
        assert!(job_faults(&text).iter().all(|fault| fault.says.contains("left to be chosen")), "{text}");
        let job::ReadJob { job, .. } = job::read_any(&text, "job").expect("a job that reads");
        let AnyJob::Open(job) = job else { panic!("its bar is open: {text}") };
        job.stock
    };
    let wish = open("form = 'round'\ndiameter = 58\nlength = 50\n", "form = 'any'\n");
    assert_eq!((wish.shape, wish.length), (None, None));
    let wish = open("diameter = 58\nlength = 50", "diameter = 'any'\nlength = 'any'");
    assert_eq!((wish.shape, wish.length), (Some(BarShape::Round), None));
    let wish = open("form = 'round'\ndiameter = 58", "form = 'flat'\nwidth = 'any'\nthickness = 'any'");
    assert_eq!((wish.shape, wish.length), (Some(BarShape::Flat), Some(mm(50.0))));

    let shop = |stock: &str| shop::read(&format!("{SHOP}{stock}"), "shop").expect("a shop that reads").shop.stock;
    let inches = shop("[[stock]]\nform = 'hexagon'\nacross = '1 1/4 in'\nmaterial = 'brass'\nsawing = 3\nper_kg = 2\n");
    let cost = Some(BlankMinutes { sawing: 3.0, per_kg: 2.0 });
    assert_eq!((inches.len(), inches[0].minutes, inches[0].surface), (1, cost, None));
    assert_eq!(inches[0].form.sizes_mm(), (31.75, None));
    let flats =
        shop("[[stock]]\nform = 'flat'\nsizes = [[40, 20], [50, 25]]\nmaterial = 'brass'\nlengths = [50, 75]\n");
    assert_eq!(flats.iter().map(|bar| bar.form.sizes_mm().1).collect::<Vec<_>>(), [Some(20.0), Some(25.0)]);
    assert!(flats.iter().all(|bar| matches!(&bar.blanks, Blanks::Pieces(pieces) if pieces.len() == 2)));
    assert_eq!(shop("").len(), 0);
}

#[test]
fn an_empty_file_says_all_that_is_missing() {
    let missing: Vec<String> = job_faults("").into_iter().map(|fault| fault.says).collect();
    assert_eq!(missing, ["`units` is missing", "`stock` is missing", "`part` is missing"]);
    let missing: Vec<String> = shop_faults("").into_iter().map(|fault| fault.says).collect();
    assert_eq!(missing.len(), 4, "{missing:?}");
    assert!(shop::read_together(&[]).is_err(), "a folder without files is no shop");
}

#[test]
fn a_huge_file_is_refused_or_read_quickly() {
    let start = std::time::Instant::now();
    let ten_million = format!("{JOB}#{}", "x".repeat(10_000_000));
    assert!(job_faults(&ten_million)[0].says.contains("bytes"));
    // Just under the limit, of the kinds that might be slow: many keys, many numbers, deep nesting.
    let keys = |count: u32| (0..count).map(|n| format!("k{n} = {n}\n")).collect::<String>();
    let faults = job_faults(&format!("{}{JOB}", keys(9_900)));
    assert!(faults.len() <= 101 && faults.last().is_some_and(|fault| fault.says.contains("more faults")));
    let speeds = |count: u32| {
        let speeds: String = (1..count).map(|n| format!("{n},")).collect();
        shop_faults(&SHOP.replace("[45, 70, 110]", &format!("[{speeds}]")))
    };
    assert_eq!(speeds(19_000), [], "all of them are speeds that a spindle may have");
    let tools = |count: u32| {
        let tools: String = (0..count).map(|n| format!("[[tool]]\nname = 't{n}'\nmaterial = 'HSS'\n")).collect();
        shop_faults(&format!("{SHOP}{tools}"))
    };
    assert_eq!(tools(3_000), []);
    // Over it, in lines or in things: refused as a whole, in words.
    for (faults, says) in [
        (job_faults(&format!("{}{JOB}", keys(10_000))), "lines"),
        (job_faults(&format!("{}{JOB}", keys(50_000))), "bytes"),
        (speeds(40_000), "entries of lists"),
        (tools(5_000), "lines"),
    ] {
        assert!(faults.len() == 1 && faults[0].says.contains(says), "{faults:?}");
    }
    assert!(!job_faults(&format!("a = {}", "[".repeat(19_000))).is_empty());
    assert!(!job_faults(&format!("{} = 1", "a.".repeat(19_000) + "a")).is_empty());
    assert!(!job_faults(&"'".repeat(200_000)).is_empty());
    assert!(!job_faults(&"= \n".repeat(9_900)).is_empty());
    let seconds = start.elapsed().as_secs_f64();
    assert!(seconds < 20.0, "{seconds} s, in a build without optimisation");
}

#[test]
fn the_school_shop_with_any_line_left_out_is_read_or_refused_in_words() {
    let lines: Vec<&str> = builtin::shop_text().lines().collect();
    for left_out in 0..lines.len() {
        let text: String =
            lines.iter().enumerate().filter(|(n, _)| *n != left_out).map(|(_, line)| format!("{line}\n")).collect();
        for fault in shop_faults(&text) {
            assert!(!fault.says.is_empty() && !fault.accepts.is_empty(), "{fault:?}");
        }
    }
}
