"""The loader finds each kind of fault and names file, line, key, column, value and limits."""

from pathlib import Path

import pytest

from aquacalc import tables
from aquacalc.errors import InputError

COLUMNS = """table,column,kind,low,high,required,choices,unit,meaning,source,mark
sources,key,key,,,yes,,,,,
sources,title,text,,,yes,,,,,
stones,key,key,,,yes,,,,,
stones,void_fraction,number,0,1,yes,,fraction,,,
stones,grain_mm,number,1,60,no,,mm,,,
stones,weight,choice,,,no,light; heavy,,,,
stones,caution,choices,,,no,dust; sharp,,,,
stones,source,source,,,yes,,,,,
stones,mark,mark,,,yes,,,,,
"""
SOURCES = "key,title\nOWN,own\nFAO56,handbook\n"
HEADER = "key,void_fraction,grain_mm,weight,caution,source,mark\n"
GOOD = "clay,0.45,8,light,dust; sharp,FAO56:T12; OWN,read\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "columns.csv").write_text(COLUMNS, "utf-8")
    (tmp_path / "sources.csv").write_text(SOURCES, "utf-8")
    (tmp_path / "stones.csv").write_text(HEADER + GOOD, "utf-8")
    return tmp_path


def fault(folder: Path, text: str, name: str = "stones") -> str:
    (folder / f"{name}.csv").write_text(text, "utf-8")
    with pytest.raises(tables.TableFault) as raised:
        tables.read("stones", folder)
    return str(raised.value)


def test_a_good_table_is_read(folder: Path):
    clay = tables.read("stones", folder).row("clay")
    assert (clay.number("void_fraction"), clay.text("weight"), clay.line) == (0.45, "light", 2)
    assert clay.listed("source") == ("FAO56:T12", "OWN")


def test_a_blank_number_is_not_a_number(folder: Path):
    (folder / "stones.csv").write_text(HEADER + "clay,0.45,,,,OWN,read\n", "utf-8")
    grain = tables.read("stones", folder).row("clay").number("grain_mm")
    assert grain != grain


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("clay,1.2,8,,,OWN,read", "stones.csv line 2 (clay): void_fraction is 1.2, allowed 0 to 1."),
        ("clay,nan,8,,,OWN,read", "stones.csv line 2 (clay): void_fraction is nan, allowed 0 to 1."),
        ("clay,inf,8,,,OWN,read", "stones.csv line 2 (clay): void_fraction is inf, allowed 0 to 1."),
        ("clay,a lot,8,,,OWN,read", "stones.csv line 2 (clay): void_fraction is 'a lot', not a number."),
        ("clay,,8,,,OWN,read", "stones.csv line 2 (clay): void_fraction is empty."),
        (",0.4,8,,,OWN,read", "stones.csv line 2 (): key is empty."),
        (
            "clay,0.4,8,feather,,OWN,read",
            "stones.csv line 2 (clay): weight is 'feather', allowed light, heavy.",
        ),
        (
            "clay,0.4,8,,dust; wet,OWN,read",
            "stones.csv line 2 (clay): caution holds 'wet', allowed dust, sharp.",
        ),
        (
            "clay,0.4,8,,,OWN; FAO57:T1,read",
            "stones.csv line 2 (clay): source is 'FAO57:T1', which does not stand in sources.csv.",
        ),
        ("clay,0.4,8,,,,read", "stones.csv line 2 (clay): source is empty."),
        (
            "clay,0.4,8,,,OWN,guess",
            "stones.csv line 2 (clay): mark is 'guess', allowed read, read-2nd, computed, memory, practice.",
        ),
        ("clay,0.4,8,,,OWN", "stones.csv line 2: 6 cells, the header has 7."),
    ],
)
def test_a_fault_names_file_line_key_column_value_and_limits(folder: Path, row: str, said: str):
    assert fault(folder, HEADER + row + "\n") == said


@pytest.mark.parametrize("value", ["inf", "-inf", "nan"])
def test_a_number_without_limits_is_still_a_number(folder: Path, value: str):
    (folder / "columns.csv").write_text(COLUMNS.replace("number,1,60", "number,,"), "utf-8")
    said = fault(folder, HEADER + f"clay,0.4,{value},,,OWN,read\n")
    assert said == f"stones.csv line 2 (clay): grain_mm is {value}, allowed -inf to inf."


def test_a_key_that_stands_twice_is_a_fault(folder: Path):
    said = fault(folder, HEADER + GOOD + GOOD)
    assert said == "stones.csv line 3 (clay): the key stands on line 2 already."


def test_a_renamed_column_is_a_fault(folder: Path):
    said = fault(folder, HEADER.replace("grain_mm", "grain") + GOOD)
    assert said == "stones.csv line 1: column 'grain' stands where 'grain_mm' should."


def test_a_column_too_many_is_a_fault(folder: Path):
    said = fault(folder, HEADER.replace("mark", "mark,note") + GOOD.replace("read", "read,new"))
    assert said == "stones.csv line 1: 8 columns, 7 promised."


def test_a_table_without_a_file_is_a_fault(folder: Path):
    (folder / "stones.csv").unlink()
    with pytest.raises(tables.TableFault, match=r"stones\.csv: there is no such table\."):
        tables.read("stones", folder)


def test_a_table_that_no_column_describes_is_a_fault(folder: Path):
    with pytest.raises(
        tables.TableFault, match=r"columns\.csv: table feathers has no first column of kind key"
    ):
        tables.read("feathers", folder)


def test_a_kind_that_is_none_is_a_fault(folder: Path):
    said = fault(folder, COLUMNS.replace("stones,grain_mm,number", "stones,grain_mm,length"), "columns")
    assert said.startswith(
        "columns.csv line 6 (stones.grain_mm): kind is 'length', allowed key, text, number"
    )


def test_a_limit_that_is_no_number_is_a_fault(folder: Path):
    said = fault(folder, COLUMNS.replace("number,1,60", "number,one,60"), "columns")
    assert said == "columns.csv line 6 (stones.grain_mm): low is 'one', not a number."


def test_a_line_with_a_quoted_line_break_keeps_the_count(folder: Path):
    said = fault(folder, HEADER + '"cl\nay",0.45,8,,,OWN,read\nlava,2,8,,,OWN,read\n')
    assert said == "stones.csv line 4 (lava): void_fraction is 2, allowed 0 to 1."


def test_an_unknown_name_offers_the_nearest_and_all(folder: Path):
    with pytest.raises(InputError) as raised:
        tables.read("stones", folder).row("cly")
    (problem,) = raised.value.problems
    assert (problem.key, problem.where, problem.found) == ("problem-unknown-name", "stones", "cly")
    assert (problem.allowed, problem.nearest) == (("clay",), "clay")


def test_a_name_near_to_none_offers_no_nearest(folder: Path):
    with pytest.raises(InputError) as raised:
        tables.read("stones", folder).row("xyz")
    assert raised.value.problems[0].nearest == ""


def test_a_table_is_read_once():
    assert tables.load("coefficients") is tables.load("coefficients")
