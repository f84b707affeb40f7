from dataclasses import replace
from datetime import date

import pandas as pd
from hand_made_garden import garden

from aquacalc.harvest import done
from aquacalc.logbook.log import Log, Reading, Row
from aquacalc.logbook.today import Difference


def logged(*readings: tuple[date, str, float]) -> Log:
    rows = [
        Row(day, (Reading(day, parameter, value, "", subject="Perch"),)) for day, parameter, value in readings
    ]
    return Log("log.csv", tuple(rows))


def test_nothing_without_a_log_or_when_all_went_as_planned():
    assert done.differences(garden(), None) == ()
    assert done.differences(garden(), logged((date(2026, 9, 1), "stocked", 20.0))) == ()


def test_what_the_log_shows():
    log = logged((date(2026, 9, 11), "stocked", 18.0), (date(2026, 12, 1), "count", 15.0))
    found = done.table(done.differences(garden(), log)).set_index("key")
    assert found.loc["stocked_day", "planned_day"] == pd.Timestamp("2026-09-01")
    assert found.loc["stocked_day", "done_day"] == pd.Timestamp("2026-09-11")
    assert found.loc["stocked_day", "days_late"] == 10
    assert found.loc["stocked_count", ["planned_count", "done_count", "fewer"]].tolist() == [20, 18, 2]
    assert found.loc["count_low", ["planned_count", "done_count", "fewer"]].tolist() == [18, 15, 3]
    assert set(found["subject"]) == {"Perch"}
    assert found["day"].is_monotonic_increasing


def test_fish_taken_early():
    made = garden()
    until = replace(made, fish=(replace(made.fish[0], until=date(2027, 5, 1)),))
    log = logged((date(2026, 9, 1), "stocked", 20.0), (date(2027, 4, 1), "taken", 4.0))
    found = done.table(done.differences(until, log)).set_index("key").loc["taken_early"]
    assert found["planned_day"] == pd.Timestamp("2027-05-01")
    assert (found["done_count"], found["days_late"]) == (4, -30)


def test_no_differences_are_a_table_with_its_columns():
    assert list(done.table(()).columns) == list(done.COLUMNS)


def test_every_kind_of_difference_has_its_amounts():
    day = date(2027, 3, 1)
    kinds = [
        Difference(day, "stocked_day", "Perch", day, date(2027, 3, 4)),
        Difference(day, "stocked_count", "Perch", 20, 25),
        Difference(day, "taken_early", "Perch", date(2027, 4, 1), 3),
        Difference(day, "count_low", "Perch", 20, 12),
    ]
    found = done.table(kinds)
    assert found["days_late"].fillna(0).tolist() == [3, 0, -31, 0]
    assert found["fewer"].fillna(0).tolist() == [0, -5, 0, 8]
