"""Every refusal that the format names: file, line, key, what was found, and the way out."""

import pytest

from leverwright.project import Draft, Project, ProjectError
from tests.project.vehicle_texts import FLAT, WHOLE

# What is spoiled: text replaced, by what, then the key that is named, a piece of the line that is named
# (of several such lines the nearest to what was replaced), and
# words that must stand in the sentence.
SPOILT = {
    # required keys; a missing one stands at its table's header, line 1 for the top
    "no version": ("leverwright = 1 ", "", "leverwright", "", ["'leverwright' is missing"]),
    "wheel without body": (
        'body = "arm-left"\n',
        "",
        "wheels.front-left.body",
        "[wheels.front-left]",
        ["'body' is missing"],
    ),
    "wheel without centre": (
        'centre = "hub-left"\n',
        "",
        "wheels.front-left.centre",
        "[wheels.front-left]",
        ["missing"],
    ),
    "wheel without radius": (
        'radius = "8 in"\n',
        "",
        "wheels.front-left.radius",
        "[wheels.front-left]",
        ["missing"],
    ),
    "wheel without load": (
        "load = 62\n",
        "",
        "wheels.front-left.load",
        "[wheels.front-left]",
        ["kg", "missing"],
    ),
    "shock without open": (
        "length_open = 318\n",
        "",
        "shocks.salvaged.length_open",
        "[shocks.salvaged]",
        ["missing"],
    ),
    "shock without closed": (
        "length_closed = 246\n",
        "",
        "shocks.salvaged.length_closed",
        "[shocks.salvaged]",
        [],
    ),
    "shock without preload": (
        "preload = 4\n",
        "",
        "shocks.salvaged.preload",
        "[shocks.salvaged]",
        ["missing"],
    ),
    "shock without law": (
        'rate = "17.5 N/mm ± 5 %"\n',
        "",
        "shocks.salvaged.rate",
        "[shocks.salvaged]",
        ["rate and table"],
    ),
    "bar without ends": (
        'ends = ["tab-left", "link-hole-left"]\n',
        "",
        "bars.link-left.ends",
        "[bars.link-left]",
        [],
    ),
    "spring without shock": (
        'shock = "salvaged"\n',
        "",
        "springs.spring-left.shock",
        "[springs.spring-left]",
        ["hinge"],
    ),
    "torsion without twist": (
        "twist = 4\n",
        "",
        "springs.twist-left.twist",
        "[springs.twist-left]",
        ["missing"],
    ),
    "torsion without rate": (
        'rate = "12 N·m/deg"\n',
        "",
        "springs.twist-left.rate",
        "[springs.twist-left]",
        ["missing"],
    ),
    "strap without length": (
        "length = 340\n",
        "",
        "straps.droop-left.length",
        "[straps.droop-left]",
        ["missing"],
    ),
    "held without range": (
        "range = [-40, 30]\n",
        "",
        "held.rack-left.range",
        "[held.rack-left]",
        ["missing"],
    ),
    "held without along": (
        "along = [0, 2, 0]\n",
        "",
        "held.rack-left.along",
        "[held.rack-left]",
        ["missing"],
    ),
    "held hinge without range": ("range = [-35, 35]\n", "", "held.bars.range", "[held.bars]", ["missing"]),
    "stop without touches": (
        "touches = 20, ",
        "",
        "shocks.salvaged.stop.touches",
        "stop = { rate",
        ["missing"],
    ),
    "stop without law": (
        ", rate = 120 }",
        " }",
        "shocks.salvaged.stop.rate",
        "stop = { touches = 20 }",
        ["rate and table"],
    ),
    "speed without spacing": (
        ', every = "600 mm"',
        "",
        "goals.excitation.every",
        "excitation =",
        ["speed and every"],
    ),
    "point without place": (
        "{ at = [398, 214, 318], error = 0.5 }",
        "{ error = 0.5 }",
        "points.link-hole-left.at",
        "link-hole-left   =",
        [],
    ),
    "no chassis": ("chassis    = [", "frame    = [", "bodies.chassis", "[bodies]", ["stays still"]),
    "pose table without set": ('pose = "on blocks"', "pose = { }", "pose.standing", "pose =", ["usual"]),
    # numbers as people write them
    "comma in a number": ("load = 62\n", "load = 62,5\n", "wheels.front-left.load", "load = 62,5", ["point"]),
    "comma in a text": (
        'radius = "8 in"',
        'radius = "203,2 mm"',
        "wheels.front-left.radius",
        "radius",
        ["comma", "203.2"],
    ),
    "thousands mark": (
        "length_open = 318",
        'length_open = "1,318 mm"',
        "shocks.salvaged.length_open",
        "1,318",
        ["comma"],
    ),
    "thousands mark of TOML": (
        "length_open = 318",
        "length_open = 1_318",
        "shocks.salvaged.length_open",
        "1_318",
        ["'1_318'"],
    ),
    "comma in a coordinate": (
        "[398, 250, 265]",
        "[398, 250,5, 265]",
        "points.spring-hole-left",
        "250,5",
        ["4 numbers", "write decimals with a point"],
    ),
    "nan": ("length_open = 318", "length_open = nan", "shocks.salvaged.length_open", "nan", []),
    "infinity": ("load = 62\n", "load = inf\n", "wheels.front-left.load", "load = inf", ["finite"]),
    "too large for a float": ("load = 62\n", "load = 1e400\n", "wheels.front-left.load", "1e400", ["finite"]),
    "negative rate": ("rate = 800", "rate = -800", "straps.droop-left.rate", "-800", ["not greater than 0"]),
    "zero radius": (
        'radius = "8 in"',
        "radius = 0",
        "wheels.front-left.radius",
        "radius = 0",
        ["not greater than 0"],
    ),
    "radius of nothing": (
        'radius = "8 in"',
        "radius = 1e-9",
        "wheels.front-left.radius",
        "1e-9",
        ["too small"],
    ),
    "negative load": (
        "load = 62\n",
        "load = -62\n",
        "wheels.front-left.load",
        "load = -62",
        ["not greater than 0"],
    ),
    "negative friction": ("friction = 25", "friction = -25", "shocks.salvaged.friction", "-25", ["below 0"]),
    "coordinate out of the world": (
        "[412, 210, 265]",
        "[412, 210, 1e9]",
        "points.pivot-front-left",
        "1e9",
        ["too large"],
    ),
    "coordinate of nan": ("[412, 210, 265]", "[412, nan, 265]", "points.pivot-front-left", "nan", []),
    "error of a point below 0": (
        "error = 0.5",
        "error = -0.5",
        "points.link-hole-left.error",
        "-0.5",
        ["below 0"],
    ),
    "error with an error": ("error = 1.0 ", 'error = "1 ± 1" ', "error", "error = ", ["±"]),
    "impossible uncertainty": (
        "load = 62\n",
        'load = "62 ± 1e7 kg"\n',
        "wheels.front-left.load",
        "1e7",
        ["±"],
    ),
    "wrong unit": ("load = 62\n", 'load = "62 mm"\n', "wheels.front-left.load", "62 mm", ["length"]),
    "true for a number": (
        "load = 62\n",
        "load = true\n",
        "wheels.front-left.load",
        "load = true",
        ["true stands here"],
    ),
    "a date for a number": (
        "load = 62\n",
        "load = 1979-05-27\n",
        "wheels.front-left.load",
        "1979",
        ["1979-05-27"],
    ),
    "a list for a number": (
        "load = 62\n",
        "load = [62]\n",
        "wheels.front-left.load",
        "[62]",
        ["[62] stands here"],
    ),
    # ranges
    "range reversed": (
        "range = [-40, 30]",
        "range = [30, -40]",
        "held.rack-left.range",
        "[30, -40]",
        ["smaller number first"],
    ),
    "range empty": ("sag = [30, 40]", "sag = [30, 30]", "goals.sag", "[30, 30]", ["nothing in it"]),
    "range of three": ("sag = [30, 40]", "sag = [30, 40, 50]", "goals.sag", "[30, 40, 50]", ["list of two"]),
    "range without 0": (
        "range = [-35, 35]",
        "range = [5, 35]",
        "held.bars.range",
        "[5, 35]",
        ["leaves 0 out"],
    ),
    "adjuster without 0": (
        "adjust = [-10, 15]",
        "adjust = [5, 15]",
        "bars.link-left.adjust",
        "[5, 15]",
        ["leaves 0 out"],
    ),
    "sag over 100": ("sag = [30, 40]", "sag = [30, 140]", "goals.sag", "140", ["too large"]),
    "range with an error": ("sag = [30, 40]", 'sag = ["30 ± 1 %", 40]', "goals.sag", "sag", ["carries ±"]),
    # words and names
    "unknown key": ("radius = ", "radus = ", "wheels.front-left.radus", "radus", ["did you mean 'radius'?"]),
    "American spelling": (
        "tyre = 90",
        "tire = 90",
        "wheels.front-left.tire",
        "tire",
        ["did you mean 'tyre'?"],
    ),
    "unknown table": ("[bars.panhard]", "[bar.panhard]", "bar", "[bar.panhard]", ["did you mean 'bars'?"]),
    "unknown key of a stop": (
        "touches = 20, rate",
        "touches = 20, rates",
        "shocks.salvaged.stop.rates",
        "rates",
        ["'rate'?"],
    ),
    "unknown key of a goal": (
        "bump = 60",
        "bumps = 60",
        "goals.travel.bumps",
        "bumps",
        ["did you mean 'bump'?"],
    ),
    "unknown key of a point": (
        "error = 0.5 }",
        "eror = 0.5 }",
        "points.link-hole-left.eror",
        "eror",
        ["did you mean 'error'?"],
    ),
    "unknown key of a pose": (
        'pose = "on blocks"',
        'pose = { stand = "usual" }',
        "pose.stand",
        "pose",
        ["did you mean 'standing'?"],
    ),
    "unknown pose": ('"on blocks"', '"on block"', "pose", "pose", ["hanging"]),
    "unknown load set": ('"on blocks"', '{ standing = "heavy" }', "pose.standing", "pose", ["'usual'"]),
    "unknown plane": ("mirror = true", 'plane = "xy"', "plane", "plane", ['"xz" or "yz"']),
    "mirror in quotes": ("mirror = true", 'mirror = "true"', "mirror", "mirror", ["without quotes"]),
    "title of a number": ('title = "Garden cart"', "title = 5", "title", "title", ["in quotes"]),
    "version of a text": (
        "leverwright = 1 ",
        'leverwright = "1" ',
        "leverwright",
        'leverwright = "1"',
        ["leverwright = 1"],
    ),
    "version true": (
        "leverwright = 1 ",
        "leverwright = true ",
        "leverwright",
        "leverwright = true",
        ["leverwright = 1"],
    ),
    "another version": (
        "leverwright = 1 ",
        "leverwright = 2 ",
        "leverwright",
        "leverwright = 2",
        ["version 1"],
    ),
    "key of the file in a table": (
        "[points]\n",
        "[points]\nplane = true\n",
        "points.plane",
        "plane = true",
        ["above the first"],
    ),
    "dangling end": (
        '"link-hole-left"]\nlength',
        '"link-hole-lef"]\nlength',
        "bars.link-left.ends",
        'lef"]',
        ["'link-hole-left'?"],
    ),
    "dangling point of a body": (
        '"head-top", "head-low"]',
        '"head-tip", "head-low"]',
        "bodies.handlebar",
        "head-tip",
        ["'head-top'?"],
    ),
    "dangling shock": (
        'shock = "salvaged"',
        'shock = "salvage"',
        "springs.spring-left.shock",
        "salvage",
        ["'salvaged'?"],
    ),
    "dangling body": (
        'body = "arm-left"',
        'body = "ar-left"',
        "wheels.front-left.body",
        "ar-left",
        ["'arm-left'?"],
    ),
    "dangling brake": (
        'brake = "arm-left"',
        'brake = "axle"',
        "wheels.front-left.brake",
        "axle",
        ["a name from [bodies]"],
    ),
    "dangling hinge": (
        'hinge = ["arm-left", "chassis"]',
        'hinge = ["arm-left", "chasis"]',
        "springs.twist-left.hinge",
        "chasis",
        ["'chassis'?"],
    ),
    "dangling held": (
        'point = "rack-left"',
        'point = "rack-lft"',
        "held.rack-left.point",
        "rack-lft",
        ["'rack-left'?"],
    ),
    "right without mirror": (
        "mirror = true\n",
        "",
        "wheels.front-right.body",
        "[wheels.front-right]",
        ["missing"],
    ),
    "name of a wheel that is a motion": (
        "[wheels.front-right]",
        "[wheels.heave]",
        "wheels.heave",
        "[wheels.heave]",
        ["rename"],
    ),
    "empty name": ('handlebar   = ["head', '""   = ["head', 'bodies.""', '""   =', ["empty name"]),
    "name of blanks": ('handlebar   = ["head', '" "   = ["head', 'bodies." "', '" "   =', ["empty name"]),
    # tables and keys of later versions
    "cases": (
        "[goals]",
        "[cases.kerb]\nforce = 80\n[goals]",
        "cases",
        "[cases.kerb]",
        ["does not read [cases] yet"],
    ),
    "parts": ("[goals]", "[parts]\n[goals]", "parts", "[parts]", ["does not read [parts] yet"]),
    "drive": ("tyre = 90", 'drive = "arm-left"', "wheels.front-left.drive", "drive", ["'drive' yet"]),
    # things of the wrong shape
    "a key below a value": ("[goals]\n", "[goals]\nsag.x = 1\n", "goals.sag", "sag = ", []),
    "body as a text": (
        'handlebar   = ["head-top", "head-low"]',
        'handlebar   = "head-top"',
        "bodies.handlebar",
        "handlebar ",
        ["list"],
    ),
    "body of nothing": (
        'handlebar   = ["head-top", "head-low"]',
        "handlebar   = []",
        "bodies.handlebar",
        "handlebar ",
        ["at least one"],
    ),
    "body of numbers": (
        'handlebar   = ["head-top", "head-low"]',
        "handlebar   = [1, 2]",
        "bodies.handlebar",
        "handlebar ",
        ["in quotes"],
    ),
    "bar as a list": (
        "[bars.panhard]\nends = ",
        "[bars]\npanhard = ",
        "bars.panhard",
        "panhard = ",
        ["a table"],
    ),
    "bars in double brackets": (
        "[bars.panhard]",
        "[[bars.panhard]]",
        "bars.panhard",
        "[[bars.panhard]]",
        ["a table"],
    ),
    "ends of three": (
        'ends = ["tie-left", "rack-left"]',
        'ends = ["tie-left", "rack-left", "tie-left"]',
        "bars.tie-left.ends",
        "ends",
        ["two names"],
    ),
    "stop as a number": (
        "stop = { touches = 20, rate = 120 }",
        "stop = 20",
        "shocks.salvaged.stop",
        "stop = 20",
        ["touches"],
    ),
    "place of two": ("[398, 250, 265]", "[398, 265]", "points.spring-hole-left", "[398, 265]", ["plane"]),
    "place of text": ("[398, 250, 265]", '"398 250 265"', "points.spring-hole-left", "398 250", ["in [ ]"]),
    "direction of nothing": (
        "along = [0, 2, 0]",
        "along = [0, 0, 0]",
        "held.rack-left.along",
        "along",
        ["leads nowhere"],
    ),
    "table of one row": (
        "table = [[0, 84, 62], [20, 450, 410]]",
        "table = [[0, 84, 62]]",
        "shocks.rubber.table",
        "table",
        ["two rows"],
    ),
    "table that falls": (
        "[20, 450, 410]]",
        "[0, 450, 410]]",
        "shocks.rubber.table",
        "table",
        ["does not rise"],
    ),
    "table of pairs": ("[20, 450, 410]]", "[20, 450]]", "shocks.rubber.table", "table", ["3 numbers"]),
    "table with a pull": ("[20, 450, 410]]", "[20, 450, -410]]", "shocks.rubber.table", "table", ["below 0"]),
    "rate and table": (
        "preload = -3\n",
        "preload = -3\nrate = 20\n",
        "shocks.rubber.table",
        "table = [[0, 84",
        ["'rate'"],
    ),
    "ends and hinge": (
        'hinge = ["arm-left", "chassis"]',
        'hinge = ["arm-left", "chassis"]\nends = ["tab-left", "gas-eye-left"]',
        "springs.twist-left.ends",
        "ends",
        ["hinge"],
    ),
    "rate of a coil": (
        'shock = "rubber"',
        'shock = "rubber"\nrate = 5',
        "springs.gas-left.rate",
        "rate = 5",
        ["shock has the rate"],
    ),
    "point and bodies": (
        "range = [-35, 35]",
        'range = [-35, 35]\npoint = "rack-left"',
        "held.bars.point",
        'point = "rack-left"',
        ["bodies"],
    ),
    "speed and hz": (
        'speed = "1 m/s", every = "600 mm"',
        'speed = "1 m/s", hz = [2, 3]',
        "goals.excitation.speed",
        "excitation",
        ["hz"],
    ),
    # geometry
    "point twice in a body": (
        '"head-top", "head-low"]',
        '"head-top", "head-top"]',
        "bodies.handlebar",
        "handlebar",
        ["twice"],
    ),
    "bar on one body": (
        '["tab-left", "link-hole-left"]',
        '["spring-hole-left", "link-hole-left"]',
        "bars.link-left.ends",
        '"link-hole-left"]',
        ["'rocker-left'"],
    ),
    "spring on one body": (
        '["spring-hole-left", "spring-eye-left"]',
        '["spring-hole-left", "pivot-front-left"]',
        "springs.spring-left.ends",
        'pivot-front-left"]',
        ["'rocker-left'"],
    ),
    "strap on one body": (
        '["strap-top-left", "strap-low-left"]',
        '["tab-left", "strap-low-left"]',
        "straps.droop-left.ends",
        '"tab-left", "strap',
        ["'arm-left'"],
    ),
    "bar of one point": (
        '["tab-left", "link-hole-left"]',
        '["tab-left", "tab-left"]',
        "bars.link-left.ends",
        '"tab-left"]',
        ["both ends"],
    ),
    "bar of no length": (
        "tie-left         = [380, 560, 205]",
        "tie-left         = [380, 200, 205.05]",
        "bars.tie-left.ends",
        '"rack-left"]',
        ["same place"],
    ),
    "two bars alike": (
        "[bars.panhard]",
        '[bars.other-left]\nends = ["link-hole-left", "tab-left"]\n[bars.panhard]',
        "bars.other-left.ends",
        '["link-hole-left", "tab-left"]',
        ["'link-left'"],
    ),
    "adjuster longer than the bar": (
        "adjust = [-10, 15]",
        "adjust = [-219, 15]",
        "bars.link-left.adjust",
        "-219",
        ["less than"],
    ),
    "centre off its body": (
        'centre = "hub-left"',
        'centre = "link-hole-left"',
        "wheels.front-left.centre",
        "centre",
        ["'arm-left'"],
    ),
    "axis off its body": (
        'axis = ["hub-left", "spindle-left"]',
        'axis = ["hub-left", "rack-left"]',
        "wheels.front-left.axis",
        "axis",
        ["'arm-left'"],
    ),
    "axis forward": (
        "spindle-left     = [412, 650, 205]",
        "spindle-left     = [500, 650, 205]",
        "wheels.front-left.axis",
        "axis",
        ["45 deg"],
    ),
    "axis inward": (
        'axis = ["hub-left", "spindle-left"]',
        'axis = ["spindle-left", "hub-left"]',
        "wheels.front-left.axis",
        "axis",
        ["inward"],
    ),
    "axis of no length": (
        "spindle-left     = [412, 650, 205]",
        "spindle-left     = [412, 600, 205]",
        "wheels.front-left.axis",
        "axis",
        ["same place"],
    ),
    "unsprung over load": (
        "unsprung = 11",
        "unsprung = 62",
        "wheels.front-left.unsprung",
        "unsprung",
        ["62 kg"],
    ),
    "hinge of one place": (
        "pivot-rear-left  = [312, 210, 265]",
        "pivot-rear-left  = [412, 210, 265.01]",
        "points.pivot-rear-left",
        "pivot-rear-left ",
        ["hinge"],
    ),
    "lone point": (
        "head-top         =",
        "lost = [1, 0, 1]\nhead-top         =",
        "points.lost",
        "lost",
        ["no body carries"],
    ),
    "left on the right": (
        "[398, 250, 265]",
        "[398, -250, 265]",
        "points.spring-hole-left",
        "-250",
        ["sign of y"],
    ),
    "left in the middle": (
        "[398, 250, 265]",
        "[398, 0, 265]",
        "points.spring-hole-left",
        "398, 0",
        ["sign of y"],
    ),
    "left and alone": (
        "{ at = [398, 214, 318], error = 0.5 }",
        "{ at = [398, 214, 318], alone = true }",
        "points.link-hole-left.alone",
        "link-hole-left   =",
        ["-left"],
    ),
    "closed over open": (
        "length_closed = 246",
        "length_closed = 346",
        "shocks.salvaged.length_closed",
        "346",
        ["below length_open"],
    ),
    "closed is open": (
        "length_closed = 246",
        "length_closed = 318",
        "shocks.salvaged.length_closed",
        "length_closed = 318",
        [],
    ),
    "stop over the stroke": (
        "touches = 20,",
        "touches = 73,",
        "shocks.salvaged.stop.touches",
        "73",
        ["72 mm"],
    ),
    "held on a body": (
        '"head-low"]\nbeam',
        '"head-low", "rack-left"]\nbeam',
        "held.rack-left.point",
        'point = "rack-left"',
        ["'handlebar'"],
    ),
    "held twice": (
        "[goals]",
        '[held.again]\nbodies = ["chassis", "handlebar"]\nrange = [-1, 1]\n[goals]',
        "held.again.bodies",
        '"chassis", "handlebar"',
        ["'bars'"],
    ),
    "hinge that is none": (
        'hinge = ["arm-left", "chassis"]',
        'hinge = ["arm-left", "handlebar"]',
        "springs.twist-left.hinge",
        "hinge",
        ["two points"],
    ),
    "hinge of one body": (
        'bodies = ["handlebar", "chassis"]',
        'bodies = ["chassis", "chassis"]',
        "held.bars.bodies",
        "bodies",
        ["twice"],
    ),
}

SPOILT_FLAT = {
    "a table as a number": (
        'plane = "xz"\n',
        'plane = "xz"\nstraps = 5\n',
        "straps",
        "straps = 5",
        ["[straps] on a line"],
    ),
    "a table in double brackets": (
        "[bodies]\n",
        "[[straps]]\n[bodies]\n",
        "straps",
        "[[straps]]",
        ["single brackets"],
    ),
    "the file's key in a table": (
        "[points]\n",
        '[points]\ntitle = "x"\n',
        "points.title",
        "title",
        ["whole file"],
    ),
    "a date for a place": (
        "[350, 210]",
        "[350, 1979-05-27]",
        "points.hub",
        "1979",
        ["1979-05-27 stands here"],
    ),
    "mirror": ('plane = "xz"', 'plane = "xz"\nmirror = true', "mirror", "mirror", ["flat"]),
    "place of three": ("hub = [350, 210]", "hub = [350, 0, 210]", "points.hub", "hub =", ["x and z"]),
    "axis along x": (
        "radius = 200",
        'axis = ["pivot", "hub"]\nradius = 200',
        "wheels.rear.axis",
        "axis",
        ["45 deg"],
    ),
    "no pivot": ('arm = ["pivot", ', "arm = [", "springs.twist.hinge", "hinge", ["one point"]),
}


def _fault(base, row):
    old, new, key, piece, words = row
    assert old in base
    text = base.replace(old, new, 1)
    with pytest.raises(ProjectError) as refused:
        Project.from_text(text, "cart.toml")
    fault = refused.value.fault
    spoilt = base[: base.index(old)].count("\n") + 1
    lines = [at for at, one in enumerate(text.split("\n"), 1) if piece in one]
    line = min(lines, key=lambda at: abs(at - spoilt)) if piece else 1
    return fault, line, key, words


@pytest.mark.parametrize("row", SPOILT.values(), ids=SPOILT.keys())
def test_a_spoilt_vehicle_is_refused_at_its_key(row):
    fault, line, key, words = _fault(WHOLE, row)
    assert (fault.file, fault.key) == ("cart.toml", key)
    assert fault.line == line
    for word in words:
        assert word in fault.sentence
    assert fault.found
    assert fault.allowed
    assert fault.do


@pytest.mark.parametrize("row", SPOILT_FLAT.values(), ids=SPOILT_FLAT.keys())
def test_a_spoilt_flat_drawing_is_refused_at_its_key(row):
    base = FLAT + '[springs.twist]\nhinge = ["arm", "chassis"]\nrate = 3\ntwist = 0\n'
    fault, line, key, words = _fault(base, row)
    assert (fault.key, fault.line) == (key, line)
    for word in words:
        assert word in fault.sentence


BOUNDS = {
    "length": ("radius = 200", "radius = {}", "1e-6", "0.9e-6", "1e6", "1000001"),
    "mass": ("load = 50", "load = {}", "9.000001", "0", "1e6", "1000001"),
    "stiffness": ("rate = 20", "rate = {}", "1e-6", "0.9e-6", "1e7", "10000001"),
    "force": ("preload = 0", "preload = 0\ngas = {}", "0", "-1e-9", "1e8", "100000001"),
    "coordinate": ("hole = [200, 255]", "hole = [{}, 255]", "-1e6", "-1000001", "1e6", "1000001"),
}


@pytest.mark.parametrize(("old", "new", "least", "less", "most", "more"), BOUNDS.values(), ids=BOUNDS.keys())
def test_values_are_bounded_where_the_reference_says(old, new, least, less, most, more):
    for value in (least, most):
        assert Draft.from_text(FLAT.replace(old, new.format(value))).faults == (), value
    for value in (less, more):
        assert len(Draft.from_text(FLAT.replace(old, new.format(value))).faults) == 1, value


def test_a_sentence_names_file_line_key_what_was_found_what_is_allowed_and_what_to_do():
    with pytest.raises(ProjectError, match="not in") as refused:
        Project.from_text(
            WHOLE.replace('"tab-left", "link-hole-left"]', '"tab-left", "link-hole-lef"]'), "cart.toml"
        )
    assert str(refused.value) == (
        "cart.toml, line 38, bars.link-left.ends: 'link-hole-lef' is not in [points]; "
        "allowed: a name from [points]; did you mean 'link-hole-left'?"
    )


def test_the_two_vehicles_that_are_spoilt_are_whole_to_begin_with():
    assert Draft.from_text(WHOLE).faults == ()
    assert Draft.from_text(FLAT).faults == ()


def test_exchanged_letters_of_a_short_name_are_recognized_and_the_names_are_listed():
    fault = Draft.from_text(FLAT.replace('body = "arm"', 'body = "amr"')).faults[0]
    assert fault.do == "did you mean 'arm'?"
    assert fault.allowed.startswith("a name from [bodies]: ")
    assert "'arm'" in fault.allowed


def test_a_point_of_one_number_is_told_to_add_the_other():
    fault = Draft.from_text(FLAT.replace("hub = [350, 210]", "hub = [350]")).faults[0]
    assert fault.found.endswith("has 1 number")
    assert fault.do == "add what is missing"
