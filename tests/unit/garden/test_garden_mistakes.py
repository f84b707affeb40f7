"""Each mistake in a garden file is told once, with its place, what was found and what would do."""

from datetime import date
from pathlib import Path

import pytest
from small_garden import TEXT, replaced, with_line

from aquacalc import words
from aquacalc.errors import InputError, Problem
from aquacalc.garden.file import GardenFile

TODAY = date(2027, 3, 5)


def problems(text: str | bytes, folder: Path) -> tuple[Problem, ...]:
    path = folder / "garden.toml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    with pytest.raises(InputError) as caught:
        GardenFile.open(path, TODAY)
    return caught.value.problems


def only(text: str | bytes, folder: Path) -> Problem:
    found = problems(text, folder)
    assert len(found) == 1, found
    return found[0]


def test_the_small_garden_has_no_fault(tmp_path: Path):
    (tmp_path / "garden.toml").write_text(TEXT, "utf-8")
    assert GardenFile.open(tmp_path, TODAY).garden.name == "Small garden"


# --- the file as a whole -----------------------------------------------------------------------------------


def test_a_missing_file_and_a_folder_without_one(tmp_path: Path):
    for name in ("nowhere.toml", ".", "no/such/folder"):
        with pytest.raises(InputError) as caught:
            GardenFile.open(tmp_path / name)
        assert [one.key for one in caught.value.problems] == ["problem-file-missing"]


def test_a_demo_garden_that_is_not_there_names_the_nearest():
    with pytest.raises(InputError) as caught:
        GardenFile.open("demo:yrad")
    (found,) = caught.value.problems
    assert (found.key, found.nearest) == ("problem-unknown-name", "demo:yard")


@pytest.mark.parametrize("text", ["", "  \n\n", "# a remark\n", "\ufeff"])
def test_an_empty_file(text: str, tmp_path: Path):
    assert only(text, tmp_path).key == "problem-file-empty"


@pytest.mark.parametrize(
    "raw", [bytes(range(256)), TEXT.encode("utf-16"), b"format = 1\0", "name = 'caf\u00e9'".encode("latin-1")]
)
def test_a_file_that_is_no_text(raw: bytes, tmp_path: Path):
    assert only(raw, tmp_path).key == "problem-file-not-text"


@pytest.mark.parametrize(
    ("text", "key", "line"),
    [
        ('format = 1\nname = "half', "problem-toml-end", "2"),
        ("format = 1\n[[tank]\n", "problem-toml", "2"),
        ("format = 1\nvolume = 300 US gal\n", "problem-toml", "2"),
        ("format = 1\nformat = 1\n", "problem-toml-twice", "2"),
        ("format = 1\n[site]\n[site]\n", "problem-toml-twice", "3"),
        ("format = [1,\n\n", "problem-toml-end", "1"),
        ("day = 2027-13-45\n", "problem-toml", "1"),
        ("a = " + "[" * 5000, "problem-toml", "1"),
        ("a = " + "1" * 5000 + "\n", "problem-toml-end", "1"),
    ],
)
def test_a_half_written_file_tells_its_line(text: str, key: str, line: str, tmp_path: Path):
    found = only(text, tmp_path)
    assert (found.key, found.allowed[0]) == (key, line)
    assert found.where == str(tmp_path / "garden.toml")


def test_every_cut_of_a_file_is_a_problem_or_a_garden(tmp_path: Path):
    path = tmp_path / "garden.toml"
    for end in range(0, len(TEXT), 7):
        path.write_text(TEXT[:end], "utf-8")
        try:
            GardenFile.open(path, TODAY)
        except InputError as error:
            problems = error.problems
            assert problems


# --- keys and values ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (with_line("tank", "lit = true"), Problem("problem-unknown-key", "tank 1 lit", "lit", nearest="lid")),
        (with_line("tank", "volume_gal = 5"), Problem("problem-key-unit", "tank 1 volume_gal", "volume_gal")),
        (with_line("site", "hight = 5"), Problem("problem-unknown-key", "site hight", "hight", nearest="")),
        (TEXT + "\n[[tanks]]\n", Problem("problem-unknown-key", "tanks", "tanks", nearest="tank")),
        (replaced('"1000 L"', "1000"), Problem("problem-unit-missing", "tank 1 volume", "1000")),
        (replaced('"1000 L"', '"1000 gal"'), Problem("problem-ambiguous-unit", "tank 1 volume", "1000 gal")),
        (replaced('"1000 L"', '"1,000 L"'), Problem("problem-ambiguous-number", "tank 1 volume", "1,000 L")),
        (replaced('"1000 L"', '"5 ft"'), Problem("problem-unit-kind", "tank 1 volume", "5 ft")),
        (replaced('"1000 L"', '"-5 L"'), Problem("problem-range", "tank 1 volume", "-5 L")),
        (replaced('"1000 L"', "nan"), Problem("problem-not-finite", "tank 1 volume", "nan")),
        (
            replaced('volume = "1000 L"', "volume_l = inf"),
            Problem("problem-too-large", "tank 1 volume", "inf"),
        ),
        (
            replaced('volume = "1000 L"', "volume_l = 1e300"),
            Problem("problem-too-large", "tank 1 volume", "1e+300"),
        ),
        (replaced('"1000 L"', '"1e300 L"'), Problem("problem-too-large", "tank 1 volume", "1e300 L")),
        (replaced('"1000 L"', "true"), Problem("problem-not-a-number", "tank 1 volume", "true")),
        (replaced('"1000 L"', "[1, 2]"), Problem("problem-not-a-number", "tank 1 volume", "[1, 2]")),
        (replaced('"1000 L"', "{ a = 1 }"), Problem("problem-not-a-number", "tank 1 volume", "{ ... }")),
        (replaced('"1000 L"', '""'), Problem("problem-empty", "tank 1 volume", "")),
        (
            with_line("tank", "volume_l = 900"),
            Problem("problem-given-twice", "tank 1 volume", "volume and volume_l"),
        ),
        (
            replaced('volume = "1000 L"     # to the overflow\n', ""),
            Problem("problem-missing", "tank 1 volume"),
        ),
        (replaced('name = "tank"', "name = 5"), Problem("problem-not-text", "tank 1 name", "5")),
        (replaced('name = "tank"', 'name = " "'), Problem("problem-empty", "tank 1 name", "")),
        (replaced('name = "tank"', f'name = "{"x" * 81}"'), Problem("problem-text", "tank 1 name", "x" * 81)),
        (replaced('name = "tank"', 'name = "a\\u0007"'), Problem("problem-text", "tank 1 name", "a\x07")),
        (with_line("tank", 'lid = "yes"'), Problem("problem-choice", "tank 1 lid", "yes")),
        (
            replaced('kind = "media"', 'kind = "meda"'),
            Problem("problem-choice", "bed 1 kind", "meda", nearest="media"),
        ),
        (
            with_line("bed", 'medium = "gravle"'),
            Problem("problem-unknown-name", "bed 1 medium", "gravle", nearest="gravel"),
        ),
        (
            with_line("bed", 'medium = "bottle_caps"'),
            Problem("problem-choice", "bed 1 medium", "bottle_caps"),
        ),
        (
            replaced("silver_perch", "sliver perch"),
            Problem("problem-unknown-name", "fish 1 species", "sliver perch", nearest="silver_perch"),
        ),
        (
            replaced("lettuce_leaf", "okar"),
            Problem("problem-unknown-name", "crop 1 crop", "okar", nearest="okra"),
        ),
        (replaced("count = 20", "count = 2.5"), Problem("problem-not-whole", "fish 1 count", "2.5")),
        (replaced("count = 20", "count = 0"), Problem("problem-range", "fish 1 count", "0")),
        (replaced("count = 20", "count = nan"), Problem("problem-not-finite", "fish 1 count", "nan")),
        (replaced("count = 20", "count = true"), Problem("problem-not-a-number", "fish 1 count", "true")),
        (
            replaced("count = 20", "count = 2027-01-01"),
            Problem("problem-not-a-number", "fish 1 count", "2027-01-01"),
        ),
        (
            with_line("fish", 'stocked = "01.04.2027"'),
            Problem("problem-date", "fish 1 stocked", "01.04.2027"),
        ),
        (with_line("fish", "stocked = 20270401"), Problem("problem-date", "fish 1 stocked", "20270401")),
        (
            with_line("fish", "stocked = 2027-04-01T10:00:00"),
            Problem("problem-date", "fish 1 stocked", "2027-04-01 10:00:00"),
        ),
        (
            with_line("site", 'last_frost = "15 April"'),
            Problem("problem-day-of-year", "site last_frost", "15 April"),
        ),
        (with_line("crop", 'yield = "3 kg"'), Problem("problem-unit-kind", "crop 1 yield", "3 kg")),
        (with_line("crop", "yield = 3"), Problem("problem-unit-missing", "crop 1 yield", "3")),
        (with_line("crop", "yield_kg = 3"), Problem("problem-key-unit", "crop 1 yield_kg", "yield_kg")),
        (
            with_line("crop", "yeild_kg_m2 = 3"),
            Problem("problem-unknown-key", "crop 1 yeild_kg_m2", "yeild_kg_m2", nearest="yield_kg_m2"),
        ),
        (
            with_line("crop", "own_yield = 3"),
            Problem("problem-unknown-key", "crop 1 own_yield", "own_yield", nearest="yield"),
        ),
        (with_line("crop", "loss_pct = 100"), Problem("problem-range", "crop 1 loss", "100")),
        (with_line("crop", "plants_m2 = 0"), Problem("problem-range", "crop 1 plants", "0")),
        (with_line("crop", "months = [0, 13]"), Problem("problem-month-numbers", "crop 1 months", "0, 13")),
        (with_line("crop", 'months = "May"'), Problem("problem-month-numbers", "crop 1 months", "May")),
        (replaced("[6, 8, 12,", "[8, 12,"), Problem("problem-months", "site climate air_max", "11")),
        (
            replaced("[6, 8, 12,", '[6, 8, "x",'),
            Problem("problem-not-a-number", "site climate air_max 3", "x"),
        ),
        (replaced("[6, 8, 12,", "[6, 8, 120,"), Problem("problem-range", "site climate air_max 3", "120")),
        (
            replaced("[6, 8, 12,", "[6, 8, 1,"),
            Problem("problem-min-above-max", "site climate air_min 3", "3"),
        ),
        (replaced("format = 1", "format = 2"), Problem("problem-format", "format", "2")),
        (replaced("format = 1", "format = true"), Problem("problem-format", "format", "True")),
        (replaced("format = 1\n", ""), Problem("problem-missing", "format")),
        (
            TEXT.replace("[site]", "[sites]").replace("[site.", "[sites."),
            Problem("problem-unknown-key", "sites", "sites", nearest="site"),
        ),
        (replaced("[[tank]]", "[tank]"), Problem("problem-section", "tank", "{ ... }")),
        (
            TEXT.replace("[site]", "[[site]]", 1).replace("[site.climate]", "[site.climat]"),
            Problem("problem-section", "site", "[{ ... }]"),
        ),
        ("pump = 5\n" + TEXT, Problem("problem-section", "pump", "5")),
        ('pump = ["a"]\n' + TEXT, Problem("problem-section", "pump 1", "a")),
        (
            TEXT + '\n[[kit]]\nname = "k"\n[[kit.scale]]\nparameter = "tan"\nbasis = "NO3"\n',
            Problem("problem-choice", "kit 1 scale 1 basis", "NO3"),
        ),
        (
            TEXT + '\n[[kit]]\nname = "k"\n[[kit.scale]]\nparameter = "tan"\nsteps = [1, 0]\n',
            Problem("problem-steps", "kit 1 scale 1 steps", "1, 0"),
        ),
        (
            TEXT
            + '\n[[kit]]\nname = "k"\n[[kit.scale]]\nparameter = "tan"\n[[kit.scale]]\nparameter = "tan"\n',
            Problem("problem-name-twice", "kit 1 scale 2 parameter", "tan"),
        ),
        (
            TEXT + '\n[[measured]]\nwhat = "flow"\nvalue = 900\n',
            Problem("problem-unit-missing", "measured 1 value", "900"),
        ),
        (
            TEXT + '\n[[measured]]\nwhat = "ph"\nvalue = 70\n',
            Problem("problem-range", "measured 1 value", "70"),
        ),
        (
            TEXT + '\n[[measured]]\nwhat = "ph"\nvalue = 7\nsubject = "tnk"\n',
            Problem("problem-unknown-name", "measured 1 subject", "tnk", nearest="tank"),
        ),
        (TEXT + '\n[top_up]\nnitrate = "5 mg/L"\n', Problem("problem-basis-missing", "top_up nitrate", "5")),
        (TEXT + '\n[heat]\nheater = "300 W"\n', Problem("problem-missing", "heat setpoint")),
        (
            TEXT + '\n[power]\nbattery_charge = "100 Ah"\n',
            Problem("problem-missing", "power battery_voltage"),
        ),
        (TEXT + '\n[wishes]\nheads = "5 heads/week"\n', Problem("problem-missing", "wishes crop")),
        (TEXT + "\n[targets]\nph = 6.1\n", Problem("problem-range", "targets ph", "6.1")),
        (TEXT + "\n[targets]\nph = 8.3\n", Problem("problem-range", "targets ph", "8.3")),
        (
            TEXT + '\n[top_up]\nchloride = "100 mg/L table salt"\n',
            Problem("problem-unknown-unit", "top_up chloride", "100 mg/L table salt", nearest="mg/L NaCl"),
        ),
        (
            TEXT + '\n[[feed]]\nprotein = "32 %"\npotassium = "60 g/kg"\n',
            Problem("problem-range", "feed 1 potassium", "60 g/kg"),
        ),
        (TEXT + "\n[wishes]\nfish_per_year = 5\n", Problem("problem-missing", "wishes species")),
    ],
    ids=lambda value: f"{value.key}-{value.where}".replace(" ", "_") if isinstance(value, Problem) else "",
)
def test_one_mistake_one_problem(text: str, expected: Problem, tmp_path: Path):
    found = [one for one in problems(text, tmp_path) if one.where == expected.where]
    assert [(one.key, one.found, one.nearest) for one in found] == [
        (expected.key, expected.found, expected.nearest)
    ]


# --- parts against each other ------------------------------------------------------------------------------

SECOND_TANK = '\n[[tank]]\nname = "Tank"\nvolume = "500 L"\n'
SECOND_BED = '\n[[bed]]\nname = "bed"\nkind = "raft"\narea = "1 m2"\n'


def without(section: str) -> str:
    head, _, rest = TEXT.partition(f"[[{section}]]\n")
    return head + rest.partition("\n\n")[2]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (without("tank"), {("problem-no-tank", "tank")}),
        (without("bed"), {("problem-no-bed", "bed")}),
        (without("fish"), {("problem-no-fish", "fish")}),
        (TEXT + SECOND_BED, {("problem-name-twice", "bed 2 name"), ("problem-missing", "crop 1 bed")}),
        (TEXT + SECOND_TANK, {("problem-name-twice", "tank 2 name"), ("problem-missing", "fish 1 tank")}),
        (with_line("fish", 'tank = "pond"'), {("problem-unknown-name", "fish 1 tank")}),
        (with_line("crop", 'bed = "bde"'), {("problem-unknown-name", "crop 1 bed")}),
        (with_line("crop", 'area = "3 m2"'), {("problem-crops-beyond-bed", "bed 1 area")}),
        (replaced("flood_m = 0.25", "flood_m = 0.35"), {("problem-flood-above-rim", "bed 1 flood")}),
        (with_line("tank", 'surface = "1 m2"'), {("problem-tank-too-full", "tank 1 volume")}),
        (TEXT + '\n[sump]\nvolume = "300 L"\nrim = "200 L"\n', {("problem-sump-above-rim", "sump volume")}),
        (with_line("fish", 'final_weight = "50 g"'), {("problem-final-below-start", "fish 1 final_weight")}),
        (replaced('"100 g"', '"900 g"'), {("problem-final-below-start", "fish 1 weight")}),
        (
            with_line("fish", "stocked = 2027-05-01\nuntil = 2027-04-01"),
            {("problem-dates-reversed", "fish 1 until")},
        ),
        (
            TEXT + "\n[[away]]\nstart = 2027-08-10\nend = 2027-08-01\n",
            {("problem-dates-reversed", "away 1 end")},
        ),
        (
            TEXT + "\n[season]\nstart = 2027-08-10\nend = 2027-08-01\n",
            {("problem-dates-reversed", "season end")},
        ),
        (
            TEXT + '\n[[kit]]\nname = "k"\nstart = 2027-08-10\nexpires = 2027-08-01\n',
            {("problem-dates-reversed", "kit 1 expires")},
        ),
        (
            TEXT.split("[site.climate]")[0] + TEXT[TEXT.index("[[tank]]") :],
            {("problem-climate-missing", "site climate")},
        ),
        (
            TEXT.replace("air_min_c", "humidity_pct").replace("[-1, 0,", "[1, 0,"),
            {("problem-missing", "site climate air_min")},
        ),
        (with_line("site", 'weather_file = "w.csv"'), {("problem-given-twice", "site")}),
        (
            replaced('kind = "media"', 'kind = "raft"').replace("lettuce_leaf", "radish"),
            {("problem-crop-bed", "crop 1 bed")},
        ),
        (with_line("fish", "stocked = 2028-03-01"), {("problem-stocked-late", "fish 1 stocked")}),
        (with_line("crop", "first = 2028-03-01"), {("problem-first-outside", "crop 1 first")}),
        (
            with_line("crop", "first = 2027-05-31\nmonths = [6, 7]"),
            {("problem-first-month", "crop 1 first")},
        ),
    ],
    ids=lambda value: "-".join(sorted(key for key, _ in value)) if isinstance(value, set) else "",
)
def test_parts_that_do_not_fit(text: str, expected: set[tuple[str, str]], tmp_path: Path):
    assert {(one.key, one.where) for one in problems(text, tmp_path)} == expected


SEASON = "\n[season]\nstart = 2027-04-01\nend = 2027-10-31\n"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            with_line("fish", "stocked = 2027-11-01") + SEASON,
            "fish 1 stocked: 2027-11-01 is after the last day of the plan, 2027-10-31.",
        ),
        (
            with_line("crop", "first = 2027-03-31") + SEASON,
            "crop 1 first: 2027-03-31 is outside of the plan, which goes from 2027-04-01 to 2027-10-31; "
            "the nearest day is 2027-04-01.",
        ),
        (
            with_line("crop", "first = 2027-05-30\nmonths = [6, 7]") + SEASON,
            "crop 1 first: 2027-05-30 is in no month in which the crop stands; "
            "the nearest day is 2027-06-01.",
        ),
        (
            with_line("crop", "first = 2027-08-02\nmonths = [6, 7]") + SEASON,
            "crop 1 first: 2027-08-02 is in no month in which the crop stands; "
            "the nearest day is 2027-07-31.",
        ),
        (
            replaced('kind = "media"', 'kind = "channel"').replace("lettuce_leaf", "pea"),
            "crop 1 bed: this crop does not grow in this kind of bed (Snow / snap pea, channel); "
            "it takes media or raft.",
        ),
        (
            replaced('kind = "media"', 'kind = "raft"').replace("lettuce_leaf", 'radish"\nbed = "bed')
            + '\n[[bed]]\nname = "tub"\nkind = "media"\narea = "1 m2"\n',
            "crop 1 bed: this crop does not grow in this kind of bed (Radish, raft); it takes tub (media).",
        ),
    ],
)
def test_what_does_not_fit_is_told_with_the_nearest_that_would(text: str, said: str, tmp_path: Path):
    assert words.problem(only(text, tmp_path), words.Reader()) == said


def test_a_planting_before_a_plan_that_begins_this_month_is_no_slip(tmp_path: Path):
    (tmp_path / "garden.toml").write_text(with_line("crop", "first = 2026-05-01"), "utf-8")
    assert GardenFile.open(tmp_path, TODAY).garden.crops[0].first == date(2026, 5, 1)


def test_crops_share_a_bed_through_the_year(tmp_path: Path):
    two = replaced('crop = "lettuce_leaf"', 'crop = "kale"\narea = "1.5 m2"\nmonths = [1, 2]')
    two += '\n[[crop]]\ncrop = "okra"\narea = "1.5 m2"\nmonths = [6, 7]\n'
    (tmp_path / "garden.toml").write_text(two, "utf-8")
    assert len(GardenFile.open(tmp_path, TODAY).garden.crops) == 2
    found = only(two.replace("[6, 7]", "[2, 3]"), tmp_path)
    assert (found.key, found.found, found.allowed) == ("problem-crops-beyond-bed", "3 m2", ("2 m2",))


def test_all_problems_are_told_at_once_also_between_the_parts(tmp_path: Path):
    text = (
        with_line("tank", "lit = true").replace("count = 20", "count = -3").replace("[6, 8, 12,", "[8, 12,")
    )
    text += SECOND_BED + "\n[[away]]\nstart = 2027-08-10\nend = 2027-08-01\n"
    assert {one.key for one in problems(text, tmp_path)} == {
        *("problem-unknown-key", "problem-range", "problem-months"),
        *("problem-name-twice", "problem-missing", "problem-dates-reversed"),
    }


@pytest.mark.parametrize(
    "name", ['a "quoted" bed', "<b>bed</b> & co", "Möhren 🥕 beet", "床", "O'Neill", "{ $x }"]
)
def test_names_may_hold_any_sign(name: str, tmp_path: Path):
    written = name.replace('"', '\\"')
    text = replaced('name = "bed"', f'name = "{written}"') + f'bed = "{written}"\n'
    (tmp_path / "garden.toml").write_text(text, "utf-8")
    garden = GardenFile.open(tmp_path, TODAY).garden
    assert garden.beds[0].name == garden.crops[0].bed == name
