"""`aquacalc plan` as it is typed: the answer, accepting, undoing, and what is refused."""

import numpy as np
import pytest

from aquacalc.cli import command
from aquacalc.garden.file import GardenFile
from aquacalc.outcome.musts import Judged
from aquacalc.outcome.outcome import Outcome, Wanted
from aquacalc.planner import propose as planner
from aquacalc.planner.aim import Goal
from aquacalc.planner.levers import Lever, Option
from aquacalc.planner.order import Step
from aquacalc.planner.propose import Proposal, Reason

BED = Lever("bed", "north bed", (Option(1.7, "area"), Option(2.6, "area", {}, 800.0)))


def outcome(fish: float, failing: float) -> Outcome:
    beyond = np.where(np.arange(10) < round(10 * failing), 1.0, 0.0)
    full = np.full(10, fish)
    return Outcome(
        fish_of_size=full,
        fish_kg=full / 2.0,
        progress=full / 40.0,
        heads=full,
        heads_share=full / 40.0,
        picked_kg=full,
        judged={"oxygen": Judged(4.0 - 2.0 * beyond, 3.0, beyond)},
        money_year=full + 100.0,
    )


def made(file: GardenFile, failing: float = 0.0, **changed) -> Proposal:
    lever = Lever(
        "number",
        "spring catfish",
        (Option(40.0, "number"), Option(20.0, "number", {"fish.0.count": 20})),
    )
    written, proposed = outcome(2.0, 0.5), outcome(18.0, failing)
    step = Step(lever, *lever.options, written, proposed, written, ("oxygen",))
    reasons = (Reason("oxygen", proposed.judged["oxygen"], BED),) if failing else ()
    told = {
        "as_written": written,
        "proposed": proposed,
        "steps": (step,),
        "reasons": reasons,
        "lost": (),
        "untouched": (),
        "beyond": (BED,),
        "goal": Goal(Wanted(40.0, 20.0, 0.0, ""), 2.0, 100.0, 0.0),
        "seed": 1,
        "members": 200,
        "digest": file.digest,
    }
    return Proposal(**{**told, **changed})


@pytest.fixture
def own(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "garden.toml").write_text(GardenFile.open("demo:yard/before").text)
    return tmp_path


@pytest.fixture
def found(monkeypatch):
    """What the search finds, without searching."""
    told = {}

    def propose(file, **options):
        told["options"] = options
        return made(file, **told.get("made", {}))

    monkeypatch.setattr(planner, "propose", propose)
    return told


def run(capsys, *argv: str) -> tuple[int, str, str]:
    status = command.main(["plan", *argv])
    said = capsys.readouterr()
    return status, said.out.replace("\N{NO-BREAK SPACE}", " "), said.err


def test_the_answer_stands_first_and_then_both_columns(own, found, capsys):
    status, out, _ = run(capsys, ".")
    assert status == 0
    assert "With one change about 18 fish reach their size here in a year, against 2" in out
    assert out.index("as written") < out.index("fish of size") < out.index("1. spring catfish: buy 20 fish")
    assert "(as written: 40)" in out
    assert "Without it does not hold: oxygen" in out.replace("\n   ", " ")


def test_a_must_that_fails_is_marked(own, found, capsys):
    _, out, _ = run(capsys, ".")
    (row,) = [line for line in out.splitlines() if line.startswith("lowest oxygen")]
    assert row.count("*") == 1


def test_what_costs_too_much_is_listed(own, found, capsys):
    _, out, _ = run(capsys, ".")
    assert "north bed: 28 sq ft of bed (as written: 18 sq ft): 800 USD" in out


def test_nothing_is_written_but_the_proposal(own, found, capsys):
    before = (own / "garden.toml").read_bytes()
    run(capsys, ".")
    assert (own / "garden.toml").read_bytes() == before
    assert sorted(path.name for path in own.iterdir()) == ["garden.toml", "proposal.json"]


def test_accepting_shows_the_lines_and_undo_brings_them_back(own, found, capsys):
    run(capsys, ".")
    before = (own / "garden.toml").read_text()
    status, out, _ = run(capsys, ".", "--accept", "all")
    assert status == 0
    assert "-count = 40" in out
    assert "+count = 20" in out
    assert "take down" in out
    assert GardenFile.open(own).garden.fish[0].count == 20
    assert run(capsys, ".", "--undo")[0] == 0
    assert (own / "garden.toml").read_text() == before


def test_a_demo_is_accepted_into_a_folder(own, found, capsys):
    assert run(capsys, "demo:yard/before")[0] == 0
    status, _, err = run(capsys, "demo:yard/before", "--accept", "all")
    assert status == 2
    assert "--to" in err
    assert run(capsys, "demo:yard/before", "--accept", "1", "--to", "mine")[0] == 0
    assert GardenFile.open(own / "mine").garden.fish[0].count == 20


def test_a_refusal_is_an_answer_with_its_reasons(own, found, capsys):
    found["made"] = {"failing": 0.5}
    status, out, _ = run(capsys, ".")
    assert status == 0
    assert "No plan holds here" in out
    assert "not advised" in out
    assert "held in 5 of 10 tries" in out
    assert "north bed" in out
    assert "800 USD" in out
    status, _, err = run(capsys, ".", "--accept", "all")
    assert status == 2
    assert "does not hold" in err


@pytest.mark.parametrize(
    ("argv", "said"),
    [
        ((".", "--accept", "all"), "no open proposal"),
        ((".", "--undo"), "nothing was accepted"),
        ((".", "--seed", "minus"), "--seed"),
        (("nowhere",), "nowhere"),
    ],
)
def test_what_cannot_be_done_is_one_sentence(own, found, capsys, argv, said):
    status, _, err = run(capsys, *argv)
    assert status == 2
    assert said in err
    assert len(err.strip().splitlines()) == 1


@pytest.mark.parametrize("which", ["2", "0", "1,x", ",", "½"])
def test_a_number_that_is_no_change_is_refused(own, found, capsys, which):
    run(capsys, ".")
    status, _, err = run(capsys, ".", "--accept", which)
    assert status == 2
    assert err.strip()
    assert GardenFile.open(own).garden.fish[0].count == 40


def test_the_garden_that_changed_meanwhile_keeps_its_text(own, found, capsys):
    run(capsys, ".")
    text = (own / "garden.toml").read_text().replace("count = 40", "count = 39")
    (own / "garden.toml").write_text(text)
    status, _, err = run(capsys, ".", "--accept", "all")
    assert status == 2
    assert "changed since" in err
    assert (own / "garden.toml").read_text() == text


@pytest.fixture
def half_a_year(tmp_path):
    text = GardenFile.open("demo:yard/before").text.replace("end = 2028-02-28", "end = 2027-08-01")
    (tmp_path / "garden.toml").write_text(text)
    return tmp_path


def test_a_plan_of_the_beds_is_laid_beside_the_garden_and_typed_in(half_a_year, capsys):
    before = GardenFile.open(half_a_year)
    code, said, _ = run(capsys, str(half_a_year), "--crops")
    said = " ".join(said.split())
    assert code == 0
    assert "plantings:" in said
    assert "cannot be ready so soon" in said
    assert GardenFile.open(half_a_year).text == before.text
    assert run(capsys, str(half_a_year), "--accept", "all")[0] == 0
    written = GardenFile.open(half_a_year).garden
    assert len(written.crops) > len(before.garden.crops)
    assert all(plan.first and plan.last for plan in written.crops)
    assert run(capsys, str(half_a_year), "--undo")[0] == 0
    assert GardenFile.open(half_a_year).text == before.text


def test_wishes_for_the_beds_that_contradict_each_other_are_one_sentence(half_a_year, capsys):
    GardenFile.open(half_a_year).change("wishes.most_of_one", "5 %").save()
    code, _, wrong = run(capsys, str(half_a_year), "--crops")
    assert (code, " ".join(wrong.split()).count("these wishes cannot be met together")) == (2, 1)
