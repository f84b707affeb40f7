"""README.md gives exactly two commands, which .ci/run executes word for word, and links to what is there."""

import re
import subprocess
from pathlib import Path

import plan_picture
import pytest

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text("utf-8")
COMMANDS = re.findall(r"^```sh\n(.*?)^```", README, re.MULTILINE | re.DOTALL)
WINDOWS = re.findall(r"^```bat\n(.*?)^```", README, re.MULTILINE | re.DOTALL)


def test_there_are_two_commands_of_one_line():
    assert [len(command.splitlines()) for command in COMMANDS] == [1, 1]
    assert COMMANDS[0].rstrip().endswith("aquacalc season demo:yard")
    assert COMMANDS[1].rstrip().endswith("pytest")


def test_windows_has_the_same_two_line_by_line_and_they_are_marked_untried():
    """One command a line: `&&` is unknown to the older of its two usual shells."""
    assert len(WINDOWS) == len(COMMANDS)
    for block, command in zip(WINDOWS, COMMANDS, strict=True):
        unlike = [
            line.replace("py -m", "python3 -m").replace("\\", "/").replace("Scripts", "bin").replace('"', "'")
            for line in block.splitlines()
        ]
        assert unlike == command.rstrip().split(" && ")
    assert "nobody has tried" in README.split("```bat")[0].splitlines()[-2]


@pytest.mark.parametrize("number", [1, 2])
def test_ci_takes_the_commands_from_here(number: int):
    script = (ROOT / ".ci" / "run").read_text("utf-8")
    function = re.search(r"^readme_command\(\) \{.*?^\}", script, re.MULTILINE | re.DOTALL)[0]
    shell = f'root="{ROOT}"; {function}\nreadme_command {number}'
    done = subprocess.run(["bash", "-c", shell], capture_output=True, text=True, check=True)
    assert done.stdout == COMMANDS[number - 1]


def test_the_first_paragraph_states_the_job():
    heading, first, *_ = README.split("\n\n")
    assert heading.startswith("# ")
    assert "works out" in first.replace("\n", " ")


@pytest.mark.parametrize(
    "page", ["README.md", "DEVELOPERS.md", *(f"docs/{p.name}" for p in (ROOT / "docs").glob("*.md"))]
)
def test_links_lead_somewhere(page: str):
    text = (ROOT / page).read_text("utf-8")
    for target in re.findall(r"\]\(([^)#\s]+)[^)]*\)", text):
        assert not target.startswith("http"), f"{page} needs the internet for {target}"
        assert (ROOT / page).parent.joinpath(target).exists(), f"{page} leads to {target}"


def test_files_that_developers_are_sent_to_exist():
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    for path in re.findall(r"`((?:aquacalc|tests|workbook|docs|demo)/[\w./]*)`", text):
        assert (ROOT / path).exists(), path


@pytest.mark.slow
def test_the_picture_shows_the_plan_of_today():
    said, _ = plan_picture.goal_page()
    kept = plan_picture.kept_text(plan_picture.PICTURE.read_bytes())
    assert kept == said, "run python tests/plan_picture.py: docs/plan.png shows an older plan"


def test_the_picture_knows_its_text():
    assert "Season plan" in plan_picture.kept_text(plan_picture.PICTURE.read_bytes())
