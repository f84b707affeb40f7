"""The proposal in the notebook: ticks, what they make of the year, a file that is written only when asked."""

import pytest

from aquacalc.garden.file import GardenFile
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.harvest import good_year
from aquacalc.planner import kept
from aquacalc.planner.kept import Change, Kept

CHANGES = (
    Change("potassium", "", {"care.potassium": "20 mg/L"}),
    Change("base_ph", "", {"targets.ph": 6.4}),
)


@pytest.fixture
def own(tmp_path, monkeypatch):
    """A garden of few weeks, so that its tries are soon run."""
    monkeypatch.setattr(good_year, "TRIES", 4)
    text = GardenFile.open("demo:yard/before").text.replace("end = 2028-02-28", "end = 2027-04-25")
    (tmp_path / "garden.toml").write_text(text)
    return tmp_path


def proposed(folder, **changed) -> good_year.GoodYear:
    file = GardenFile.open(folder)
    told = {"digest": file.digest, "seed": 1, "members": 200, "version": "0", "holds": True}
    kept.save(Kept(**{**told, **changed}, changes=CHANGES), kept.path_of(file))
    return good_year.panel(Desk(file))


def test_without_a_proposal_it_says_how_to_get_one(own):
    panel = good_year.panel(Desk(GardenFile.open(own)))
    assert "No proposal is open" in panel.result.value
    assert panel.ticks.children == ()
    assert panel.write.disabled
    assert panel.back.disabled


def test_each_change_has_a_tick_and_the_ticks_a_column(own):
    panel = proposed(own)
    labels = [tick.description.replace("\N{NO-BREAK SPACE}", " ") for tick in panel.ticks.children]
    assert labels == [
        "bring potassium up to 20 mg/L after a test",
        "give base for a pH of 6.4 (as written: 7.0)",
    ]
    assert panel.result.value.count('<th scope="col">') == 4
    assert "+potassium = &quot;20 mg/L&quot;" in panel.result.value.replace(
        '"20 mg/L"', "&quot;20 mg/L&quot;"
    )


def test_what_is_not_ticked_is_not_written(own):
    panel = proposed(own)
    panel.ticks.children[1].value = False
    assert "ph = 6.4" not in panel.result.value
    panel.save()
    written = GardenFile.open(own).garden
    assert written.care.potassium_mg_l == 20.0
    assert written.targets.base_to_ph == 7.0
    # The proposal was for the file before.
    assert "No proposal is open" in panel.result.value


@pytest.mark.slow
def test_what_was_written_can_be_put_back(own):
    text = (own / "garden.toml").read_text()
    panel = proposed(own)
    panel.save()
    assert (own / "garden.toml").read_text() != text
    assert not panel.back.disabled
    panel.take_back()
    assert (own / "garden.toml").read_text() == text
    assert panel.back.disabled


@pytest.mark.slow
def test_with_nothing_ticked_there_is_nothing_to_write(own):
    panel = proposed(own)
    for tick in panel.ticks.children:
        tick.value = False
    assert panel.write.disabled
    assert "as it is written" in panel.result.value


def test_a_plan_that_does_not_hold_cannot_be_written(own):
    panel = proposed(own, holds=False)
    assert panel.write.disabled
    assert "not advised" in panel.result.value


def test_a_proposal_of_another_file_is_not_open(own):
    assert "No proposal is open" in proposed(own, digest="of another").result.value


def test_a_file_that_is_no_proposal_is_told_and_stops_nothing(own):
    (own / "proposal.json").write_text("{")
    panel = good_year.panel(Desk(GardenFile.open(own)))
    assert panel.refused
    assert "holds no proposal" in panel.refused[0]


def test_the_search_lays_its_proposal_beside_the_garden(own, monkeypatch):
    file = GardenFile.open(own)
    shares = []

    def propose(of, read, progress):
        progress(0.5)
        shares.append(panel.line.value)
        return of

    made = Kept(file.digest, 1, 200, "0", True, CHANGES)
    panel = good_year.panel(Desk(file))
    monkeypatch.setattr(good_year.propose, "propose", propose)
    monkeypatch.setattr(good_year.kept, "of_proposal", lambda found: made)
    panel.look()
    assert "50" in shares[0]
    assert panel.line.value == ""
    assert len(panel.ticks.children) == 2
