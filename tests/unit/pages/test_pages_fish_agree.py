"""How many fish leave, or are there in the end, is one number wherever it is printed."""

import re

import plans
import pytest
import seasons
from test_pages_season_folder import read

from aquacalc import words
from aquacalc.charts import season_strip
from aquacalc.pages import jobs
from aquacalc.pages.folder import fish_page, glance
from aquacalc.panels.harvest import season_answers
from aquacalc.panels.harvest.season_runs import Decided
from aquacalc.sentences import counts, tasks


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_strip_page_job_calendar_finding_and_panel_tell_the_same_fish(name: str):
    plan = plans.of_season(name)
    run, agenda, reader = plan.season, plan.agenda, plan.reader
    assert run is not None
    assert agenda is not None
    page, at_a_glance = read(fish_page.page(plan)), read(glance.page(plan))
    picture = season_strip.strip_canvas(run, plan.garden, reader)
    drawn = [one.text.split(" × ")[0] for one in picture.written if " × " in one.text]
    season = Decided(run, plan.garden, plan.findings, agenda)
    ends = {one.batch: one for one in (*agenda.leavings, *agenda.staying)}
    assert len(ends) == len(plan.garden.fish)
    for place, batch in enumerate(plan.garden.fish):
        one = ends[batch.name]
        number = counts.counted(one.count, one.low, one.high, reader)
        # A middle of none is told by the title: in most tries none reach their final weight.
        assert f"about {number}." in page or (
            one.count == 0 and words.say("fish-title-not-yet", reader) in page
        )
        assert str(one.count) in drawn
        panel = season_answers.of_fish(season, place).replace(words.NO_BREAK_SPACE, " ")
        assert re.search(rf"\b{one.count}\b", panel)
        for entry in agenda.entries:
            if entry.key == "take" and entry.subject == batch.name:
                assert f"about {number}" in jobs.sentence(entry, plan)
                assert f"about {number}." in " ".join(tasks.more(entry, plan.garden, reader))
    out = sum(one.count for one in agenda.leavings)
    assert not out or f"{out} out" in at_a_glance
    left = [found for found in plan.findings if found.key == "finding-fish-season-left"]
    for found in left:
        (amount,) = [amount for amount in found.amounts if amount.name == "left"]
        assert round(amount.number) == sum(one.count for one in agenda.staying)
