"""Files with one thing wrong in each, and the sentence that says so."""

from nightmode.model.observer import Observer
from nightmode.model.plan import Plan
from nightmode.model.theme import Theme

M13 = '[[target]]\nname = "M 13"\n'
HILL = '[[site]]\nname = "Hill"\nlatitude_deg = 47\nlongitude_deg = 15\n'
TUBE = '[[telescope]]\nname = "Tube"\naperture_mm = 200\nfocal_length_mm = 1200\n'
RED = 'name = "ember"\n[red]\nstrong = 170\ntext = 120\nfaint = 60\nline = 35\nalert = 220\n'

#: Model, text of the file, the whole sentence.
WRONG = [
    # syntax, with the line
    (
        Plan,
        'title = "a\nnote = "b"\n',
        'plan.toml, line 1: the text has no closing quote; write it like "M 13".',
    ),
    (Plan, 'title = "a"\ntitle = "b"', 'plan.toml, line 2: "title" is given twice; keep one.'),
    (Plan, 'title = "a"\ntitle = "b"\n', 'plan.toml, line 2: "title" is given twice; keep one.'),
    (
        Plan,
        "title = M 13",
        'plan.toml, line 1: the value is missing or not TOML; write text in quotes like "M 13", ',
    ),
    (
        Plan,
        "title =\n",
        'plan.toml, line 1: the value is missing or not TOML; write text in quotes like "M 13", ',
    ),
    (
        Plan,
        "title = “M 13”",
        'plan.toml, line 1: the quotes are curly or foreign; use straight ones like "M 13".',
    ),
    (Plan, "\nx = 200,5", "plan.toml, line 2: a number is written with a comma; use a decimal point."),
    (
        Plan,
        "x = 200 mm",
        "plan.toml, line 1: there is more after the value; write one key = value on a line, without units.",
    ),
    (
        Plan,
        "night = 2026-13-09",
        "plan.toml, line 1: there is no such date or time; write it like 2027-01-09.",
    ),
    (
        Plan,
        "night = 9.12.2026  # Wed",
        "plan.toml, line 1: there is no such date or time; write it like 2027-01-09.",
    ),
    (
        Plan,
        'title = "a "fine" night"',
        "plan.toml, line 1: a quote stands inside the text; write it with a backslash before it.",
    ),
    (Plan, "title", "plan.toml, line 1: there is no = after the key; write key = value."),
    (Plan, 'x = "\x1b[31m"', "plan.toml, line 1: there is the control character U+001B; leave it out."),
    (Plan, 'title = "a\\q"', "plan.toml, line 1: a backslash stands alone in the text; write two of them."),
    (Plan, 'title = "\\ud800"', "plan.toml, line 1: the \\u in the text is no character; leave it out."),
    (
        Plan,
        "night = 2027-02-30\n",
        "plan.toml, line 1: there is no such date or time; write it like 2027-01-09.",
    ),
    (
        Plan,
        "[[target]\n",
        "plan.toml, line 1: the bracket of the table is not closed; write it like [[target]].",
    ),
    (
        Plan,
        "x = [1, 2\n",
        "plan.toml, line 1: the list is not closed or lacks a comma; write it like [1, 2, 3].",
    ),
    (
        Observer,
        "[site]\n[site]\n",
        "observer.toml, line 2: [site] is there already; keep one, or head each of several with [[site]].",
    ),
    (
        Plan,
        "title = 'a'\rnote = 'b'",
        "plan.toml: a line ends with a bare carriage return; save the file with usual line ends.",
    ),
    (Plan, "x = 1" + "0" * 5000, "plan.toml: the number is too long; write fewer digits."),
    (Plan, "x = " + "[" * 5000, "plan.toml: lists or tables are nested too deep; write plain tables."),
    (Plan, "a" + ".a" * 9000 + " = 1", "plan.toml, line 1: the key has too many parts; write a plain key."),
    # keys
    (
        Plan,
        M13 + "magnitud = 3",
        'plan.toml, target 1 ("M 13"): unknown key "magnitud"; did you mean magnitude.',
    ),
    (Plan, M13 + "Min-Altitude = 3", "did you mean min_altitude_deg."),
    (
        Observer,
        '[[eyepiece]]\nname = "Wide"\nfocal_lenght_mm = 30\n',
        'eyepiece 1 ("Wide"): unknown key "focal_lenght_mm"; did you mean focal_length_mm',
    ),
    (
        Observer,
        '[[eyepiece]]\nname = "Zoom"\nfocal_length_mm = [8, 24]\nbarel_in = 2\n',
        "did you mean barrel_in",
    ),
    (Observer, '[[eyepiece]]\nname = "Wide"\n', "focal_length_mm is missing; add focal_length_mm, a number"),
    (Observer, '[site]\nname = "A"\n', "head each with double brackets, like [[site]]."),
    (
        Observer,
        TUBE.replace("aperture_mm", "aperture"),
        'observer.toml, telescope 1 ("Tube"): unknown key "aperture"; did you mean aperture_mm (and 1 more',
    ),
    (
        Plan,
        "a" * 10_000 + " = 1\n" + M13,
        'plan.toml: unknown key "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa…"; leave it out, or use one of',
    ),
    (Plan, '"\\u001b[31m" = 1\n' + M13, 'plan.toml: unknown key "<U+001B>[31m"; leave it out'),
    (Plan, '[[target]]\nkind = "galaxy"', "plan.toml, target 1: name is missing; add name, text in quotes."),
    (
        Observer,
        HILL.replace("latitude_deg = 47\n", ""),
        'observer.toml, site 1 ("Hill"): latitude_deg is missing; add latitude_deg, a number from -90 to 90.',
    ),
    (Theme, 'name = "ember"', "theme.toml: red is missing; add red, a table."),
    # types
    (Plan, M13 + 'magnitude = "six"', 'magnitude: is the text "six"; write a number from -30 to 25.'),
    (Plan, M13 + "magnitude = true", "magnitude: is true; write a number from -30 to 25."),
    (Plan, "title = 3\n" + M13, "plan.toml, title: is 3; write text in quotes."),
    (Plan, "title = 12:30:00\n" + M13, "plan.toml, title: is a time of day; write text in quotes."),
    (
        Plan,
        'night = "2027-01-09"\n' + M13,
        'plan.toml, night: is the text "2027-01-09"; write a date without quotes, like 2027-01-09.',
    ),
    (
        Plan,
        "night = 2027-01-09T20:00:00Z\n" + M13,
        "night: is a date with a time; write a date without quotes",
    ),
    (Plan, "site = 4\n" + M13, "plan.toml, site: is 4; write text in quotes or a table."),
    (Plan, 'site = ["Hill"]\n' + M13, "plan.toml, site: is a list; write text in quotes or a table."),
    (
        Plan,
        '[target]\nname = "M 13"',
        "target: is one table where several may stand; head each with double brackets, like [[target]].",
    ),
    (
        Plan,
        'target = "M 13"',
        'plan.toml, target: is the text "M 13"; write tables headed by double brackets.',
    ),
    (Plan, 'target = ["M 13"]', 'plan.toml, target, item 1: is the text "M 13"; write a table.'),
    (
        Observer,
        "[[observer]]\npupil_mm = 6",
        "observer.toml, observer: is a list; write one table with single",
    ),
    (
        Observer,
        '[observer]\nred = "yes"',
        'observer.toml, observer, red: is the text "yes"; write true or false.',
    ),
    (Observer, '[observer]\nphrases = "round"', 'phrases: is the text "round"; write a list of texts.'),
    (
        Observer,
        "[observer]\nphrases = [1]",
        "observer.toml, observer, phrases, item 1: is 1; write text in quotes.",
    ),
    (Observer, HILL + "bortle = 4.0", "bortle: is 4.0; write a whole number from 1 to 9."),
    (
        Observer,
        HILL + "horizon = [[0, 10], [90]]",
        "horizon, item 2, item 2: is missing from the list; write a",
    ),
    (Observer, HILL + "horizon = [[0, 10], [90, 1, 2]]", "horizon, item 2: has 3 items; write at most 2."),
    (Observer, HILL + "horizon = [[0, 10], 3]", "horizon, item 2: is 3; write a list of 2 values."),
    # values
    (Plan, M13 + "magnitude = 99", "magnitude: 99 is out of range; write a number from -30 to 25."),
    (Plan, M13 + "magnitude = nan", "magnitude: is not a finite number; write a number from -30 to 25."),
    (Plan, M13 + "magnitude = -inf", "magnitude: is not a finite number; write a number from -30 to 25."),
    (Plan, M13 + "magnitude = 1e999", "magnitude: is not a finite number; write a number from -30 to 25."),
    (
        Plan,
        M13 + "magnitude = 1" + "0" * 400,
        "magnitude: is a very large number; write a number from -30 to 25.",
    ),
    (Plan, M13 + "size_arcmin = 0", "size_arcmin: 0 is out of range; write a number above 0 and up to 1200."),
    (
        Observer,
        HILL.replace("47", "-90.5"),
        "latitude_deg: -90.5 is out of range; write a number from -90 to 90.",
    ),
    (
        Plan,
        "night = 1600-01-01\n" + M13,
        "night: the date 1600-01-01 is out of range; write a date not before 1900",
    ),
    (
        Plan,
        "night = 2099-01-01\n" + M13,
        "night: the date 2099-01-01 is out of range; write a date not after 2053",
    ),
    (Plan, M13 + 'kind = "galaxie"', 'kind: "galaxie" is not known here; did you mean "galaxy".'),
    (Plan, M13 + 'kind = "Globular-Cluster"', 'did you mean "globular cluster".'),
    (
        Plan,
        M13 + 'kind = "xx"',
        'kind: "xx" is not known here; write one of moon, lunar feature, planet, comet, ',
    ),
    (Observer, TUBE + "barrel_in = 3", "barrel_in: is 3; write one of 0.965, 1.25, 2."),
    (
        Observer,
        '[[filter]]\nname = "a"\npassband = "o3"',
        'passband: "o3" is not known here; write one of narrowband',
    ),
    (
        Observer,
        HILL + 'timezone = "Mars/Base"',
        "'Mars/Base' is not a time zone; write an IANA name like Europe/",
    ),
    (Plan, M13 + 'position = "3 4"', "position: is not a position; write it like 23h57m24s +56d42m30s."),
    (
        Plan,
        M13 + 'position = "1h2m3s +4d"',
        'target 1 ("M 13"): has a position but no kind; add kind, for example',
    ),
    (
        Plan,
        'title = "' + "x" * 10_000 + '"\n' + M13,
        "plan.toml, title: has 10000 characters; write at most 80.",
    ),
    (Plan, 'title = ""\n' + M13, "plan.toml, title: is empty; write a few words."),
    (
        Plan,
        'title = "\\u001b[31m"\n' + M13,
        "plan.toml, title: holds the control character U+001B; leave it out.",
    ),
    (
        Plan,
        'title = "\u202eabc"\n' + M13,
        "plan.toml, title: holds the control character U+202E; leave it out.",
    ),
    (
        Plan,
        'title = "\\u009b31m"\n' + M13,
        "plan.toml, title: holds the control character U+009B; leave it out.",
    ),
    (Plan, "", 'plan.toml: holds no target; add [[target]] and under it a name, such as name = "M 13".'),
    (Plan, M13 + M13, 'plan.toml: has "M 13" twice, as target 1 and target 2; keep one.'),
    (
        Plan,
        M13.replace("M 13", "[red]; [/red]") * 2,
        'has "[red]; [/red]" twice, as target 1 and target 2; keep one.',
    ),
    (Observer, HILL + HILL, 'observer.toml: has the name "Hill" for site 1 and site 2; rename one.'),
    (
        Observer,
        HILL + "bortle = 4\nsky_brightness = 20",
        "gives more than one of sky_brightness, naked_eye_limit_mag",
    ),
    (
        Observer,
        TUBE + "obstruction_mm = 300",
        "has an obstruction_mm as large as aperture_mm; write the smaller",
    ),
    (
        Theme,
        RED.replace("35", "256"),
        "theme.toml, red, line: 256 is out of range; write a whole number from 0 to 255",
    ),
    (
        Theme,
        RED.replace("120", "180"),
        "theme.toml, red: has levels out of order; let them not fall from line to faint, text, strong",
    ),
    (
        Theme,
        RED + "green = 3",
        'theme.toml, red: unknown key "green"; leave it out, or use one of strong, text, ',
    ),
]
