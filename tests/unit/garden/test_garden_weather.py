"""A daily weather file becomes monthly means; a wave through four numbers is only a first guess."""

from datetime import date, timedelta
from pathlib import Path

import pytest
from small_garden import TEXT
from vega_datasets import data

from aquacalc.errors import InputError
from aquacalc.garden import weather
from aquacalc.garden.file import GardenFile

DAYS = [date(2026, 1, 1) + timedelta(days=n) for n in range(365)]


def written(lines: list[str], folder: Path, header: str = "date,air_max_c,air_min_c,rain_mm") -> Path:
    path = folder / "weather.csv"
    path.write_text("\n".join([header, *lines]) + "\n", "utf-8")
    return path


def test_means_of_temperatures_and_sums_of_rain(tmp_path: Path):
    lines = [f"{day},{day.month + 10},{day.month},2" for day in DAYS]
    found = weather.monthly(written(lines, tmp_path))
    assert found.air_max_c == pytest.approx(range(11, 23))
    assert found.air_min_c == pytest.approx(range(1, 13))
    assert found.rain_mm is not None
    assert (found.rain_mm[0], found.rain_mm[1]) == (62.0, 56.0)
    assert found.humidity_pct is None


def test_several_years_and_gaps(tmp_path: Path):
    lines = [
        f"{day.replace(year=year)},{20 if year == 2025 else 22},10,1" for year in (2025, 2026) for day in DAYS
    ]
    lines[3] = lines[3].split(",")[0] + ",,10,"
    found = weather.monthly(written(lines, tmp_path))
    assert found.air_max_c[5] == 21.0
    assert found.rain_mm is not None
    assert found.rain_mm[5] == 30.0


def test_an_open_daily_file_gives_the_means_that_a_table_library_gives(tmp_path: Path):
    seattle = data.seattle_weather()
    lines = [
        f"{day:%Y-%m-%d},{high},{low},{rain}"
        for day, high, low, rain in zip(
            seattle.date, seattle.temp_max, seattle.temp_min, seattle.precipitation, strict=True
        )
    ]
    found = weather.monthly(written(lines, tmp_path))
    expected = seattle.groupby(seattle.date.dt.month)[["temp_max", "temp_min"]].mean()
    assert found.air_max_c == pytest.approx(list(expected.temp_max))
    assert found.air_min_c == pytest.approx(list(expected.temp_min))


@pytest.mark.parametrize(
    ("change", "key", "where"),
    [
        (lambda lines: lines[:300], "problem-weather-month", "weather.csv air_max_c"),
        (lambda lines: ["01/02/2026,5,1,0", *lines], "problem-date", "weather.csv line 2 date"),
        (
            lambda lines: [*lines[:9], "2026-01-10,warm,1,0", *lines[10:]],
            "problem-not-a-number",
            "weather.csv line 11 air_max_c",
        ),
        (
            lambda lines: [*lines[:9], "2026-01-10,500,1,0", *lines[10:]],
            "problem-range",
            "weather.csv line 11 air_max_c",
        ),
    ],
)
def test_faults_of_a_weather_file(change, key: str, where: str, tmp_path: Path):
    path = written(change([f"{day},20,10,0" for day in DAYS]), tmp_path)
    with pytest.raises(InputError) as caught:
        weather.monthly(path)
    assert (key, where) in [(one.key, one.where) for one in caught.value.problems]


def test_a_column_that_is_needed_and_a_file_that_is_not_there(tmp_path: Path):
    for path, key in (
        (written(["2026-01-01,5"], tmp_path, "date,air_max_c"), "problem-weather-column"),
        (tmp_path / "none.csv", "problem-file-missing"),
    ):
        with pytest.raises(InputError) as caught:
            weather.monthly(path)
        assert [one.key for one in caught.value.problems] == [key]


def test_the_garden_reads_the_file_beside_it(tmp_path: Path):
    start, end = TEXT.index("[site.climate]"), TEXT.index("[[tank]]")
    text = (TEXT[:start] + TEXT[end:]).replace("[site]\n", '[site]\nweather_file = "weather.csv"\n')
    written([f"{day},20,10,0" for day in DAYS], tmp_path)
    (tmp_path / "garden.toml").write_text(text, "utf-8")
    assert GardenFile.open(tmp_path).garden.site.climate.air_max_c == pytest.approx((20.0,) * 12)


def test_the_wave_meets_its_four_numbers_in_both_hemispheres():
    high, low = weather.from_extremes(30.0, 15.0, 10.0, 1.0)
    assert (high[6], low[6], high[0], low[0]) == (30.0, 15.0, 10.0, 1.0)
    assert weather.from_extremes(30.0, 15.0, 10.0, 1.0, southern=True)[0] == (*high[6:], *high[:6])
