"""A proposal on disk: read back as it was, accepted only for its own garden, undone."""

import json
from datetime import date

import pytest

from aquacalc.errors import InputError
from aquacalc.garden.file import GardenFile
from aquacalc.planner import kept
from aquacalc.planner.kept import Change, Kept

CHANGES = (
    Change("number", "spring catfish", {"fish.0.count": 20}),
    Change("stocked", "spring catfish", {"fish.0.stocked": date(2027, 5, 8)}),
    Change("most_feed", "", {"care.most_feed": "60 g/day"}),
)


@pytest.fixture
def own(tmp_path):
    text = GardenFile.open("demo:yard/before").text
    (tmp_path / "garden.toml").write_text(text)
    return GardenFile.open(tmp_path)


def proposal(file, **changed) -> Kept:
    told = {"digest": file.digest, "seed": 1, "members": 200, "version": "0", "holds": True}
    return Kept(**{**told, **changed}, changes=CHANGES)


def problem(error) -> str:
    return error.value.problems[0].key


def test_it_is_read_back_as_it_was_written(own):
    path = kept.path_of(own)
    assert path.parent == own.path.parent
    kept.save(proposal(own), path)
    found = kept.load(path)
    assert found.changes[0] == CHANGES[0]
    assert kept.accepted(found, own).garden.fish[0].stocked == date(2027, 5, 8)


@pytest.mark.parametrize("chosen", [[1], [2], [3], [1, 2], [1, 3], [2, 3], [1, 2, 3], []])
def test_exactly_the_chosen_changes_are_typed_in(own, chosen):
    after = kept.accepted(proposal(own), own, chosen).garden
    assert (after.fish[0].count == 20) == (1 in chosen)
    assert (after.fish[0].stocked == date(2027, 5, 8)) == (2 in chosen)
    assert (after.care.most_feed_g_day == 60.0) == (3 in chosen)


def test_comments_and_order_of_the_file_stay(own):
    after = kept.accepted(proposal(own), own)
    kept_lines = [line for line in own.text.splitlines() if "#" in line]
    assert [line for line in after.text.splitlines() if "#" in line] == kept_lines


def test_what_was_accepted_can_be_undone_once(own):
    text = own.text
    after = kept.write(own, kept.accepted(proposal(own), own))
    assert GardenFile.open(own.path).text == after.text != text
    assert kept.undo(GardenFile.open(own.path)).text == text
    with pytest.raises(InputError) as error:
        kept.undo(GardenFile.open(own.path))
    assert problem(error) == "problem-proposal-no-undo"


def test_a_garden_that_changed_meanwhile_is_refused(own):
    told = proposal(own)
    other = own.change("fish.0.count", 39).save()
    with pytest.raises(InputError) as error:
        kept.accepted(told, other)
    assert problem(error) == "problem-proposal-old"


def test_a_plan_that_does_not_hold_is_not_accepted(own):
    with pytest.raises(InputError) as error:
        kept.accepted(proposal(own, holds=False), own)
    assert problem(error) == "problem-proposal-nearest"


def test_a_number_that_is_no_change_is_told(own):
    with pytest.raises(InputError) as error:
        kept.accepted(proposal(own), own, [1, 4])
    assert (problem(error), error.value.problems[0].found) == ("problem-proposal-step", "4")


@pytest.mark.parametrize("text", ["", "{}", "[]", "null", '{"changes": [1]}', '{"changes": [], "seed": 1}'])
def test_a_file_that_is_no_proposal_is_told(tmp_path, text):
    (tmp_path / "proposal.json").write_text(text)
    with pytest.raises(InputError) as error:
        kept.load(tmp_path / "proposal.json")
    assert problem(error) == "problem-proposal-unreadable"


def test_no_proposal_is_told(tmp_path):
    with pytest.raises(InputError) as error:
        kept.load(tmp_path / "proposal.json")
    assert problem(error) == "problem-proposal-none"


def test_the_proposal_of_a_demo_lies_in_the_current_folder():
    assert not kept.path_of(GardenFile.open("demo:yard/before")).is_absolute()


def test_a_demo_is_accepted_into_a_folder_of_its_own(tmp_path):
    demo = GardenFile.open("demo:yard/before")
    made = kept.written_to(tmp_path / "mine", kept.accepted(proposal(demo), demo))
    assert made.garden.fish[0].count == 20
    with pytest.raises(InputError) as error:
        kept.written_to(tmp_path / "mine", demo)
    assert problem(error) == "problem-file-exists"


def test_what_lies_on_disk_holds_no_result(own):
    path = kept.path_of(own)
    kept.save(proposal(own), path)
    assert set(json.loads(path.read_text())) == {"digest", "seed", "members", "version", "holds", "changes"}
