"""The wheel holds all that the command needs: built, installed, and run from an empty folder."""

import os
import subprocess
import sys
import sysconfig
import tomllib
import urllib.request
import venv
from pathlib import Path
from urllib.parse import urljoin

import pytest

ROOT = Path(__file__).resolve().parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The interpreter of an environment that holds the wheel; its dependencies are borrowed from this one."""
    scratch = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation"]
    subprocess.run([*build, "--wheel-dir", str(scratch), str(ROOT)], check=True)
    (wheel,) = scratch.glob("*.whl")
    home = scratch / "environment"
    venv.create(home, with_pip=False)
    python = home / ("Scripts" if os.name == "nt" else "bin") / "python"
    install = [sys.executable, "-m", "pip", "--python", str(python), "install", "--quiet", "--no-deps"]
    subprocess.run([*install, str(wheel)], check=True)
    seek = [str(python), "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"]
    packages = Path(subprocess.run(seek, check=True, capture_output=True, text=True).stdout.strip())
    # Its own packages come first, so `aquacalc` is the wheel's.
    borrowed = {sysconfig.get_path("purelib"), sysconfig.get_path("platlib")}
    (packages / "borrowed.pth").write_text("\n".join(sorted(borrowed)), "utf-8")
    return python


def environment() -> dict[str, str]:
    outside = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    return {**outside, "JUPYTER_PATH": str(Path(sys.prefix) / "share" / "jupyter")}


def run(python: Path, folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [str(python), *arguments],
        cwd=folder,
        env=environment(),
        capture_output=True,
        text=True,
        encoding="utf-8",
    )


@pytest.mark.slow
def test_the_package_in_use_is_the_wheels(installed: Path, tmp_path: Path):
    found = run(installed, tmp_path, "-c", "import aquacalc; print(aquacalc.__file__)").stdout
    assert Path(found.strip()).is_relative_to(installed.parents[1])


@pytest.mark.slow
def test_a_plan_is_made_from_an_empty_folder(installed: Path, tmp_path: Path):
    done = run(installed, tmp_path, "-m", "aquacalc", "season", "demo:yard")
    assert done.returncode == 0, done.stderr
    made = {path.name for path in (tmp_path / "season-plan").iterdir()}
    assert {"season-plan.html", "season-plan.ipynb"} <= made
    assert any(name.endswith(".pdf") for name in made)


@pytest.mark.slow
def test_a_new_folder_holds_garden_and_notebooks(installed: Path, tmp_path: Path):
    done = run(installed, tmp_path, "-m", "aquacalc", "new", "mine")
    assert done.returncode == 0, done.stderr
    made = {path.name for path in (tmp_path / "mine").iterdir()}
    assert {"garden.toml", "00_start_here.ipynb", "01_size_the_garden.ipynb"} <= made
    assert run(installed, tmp_path, "-m", "aquacalc", "check", "mine").returncode == 0


@pytest.mark.slow
def test_the_pages_are_served_from_an_empty_folder(installed: Path, tmp_path: Path):
    command = [str(installed), "-m", "aquacalc", "open", "--no-browser"]
    server = subprocess.Popen(command, cwd=tmp_path, env=environment(), stdout=subprocess.PIPE, text=True)
    try:
        assert server.stdout is not None
        address = next(
            word for word in server.stdout.readline().split() if word.startswith("http://127.0.0.1")
        )
        browser = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
        assert "What do you want to know?" in browser.open(address).read().decode()
        page = urljoin(address, "/voila/render/00_start_here.ipynb")
        assert "The loop in words" in browser.open(page).read().decode()
        assert browser.open(urljoin(address, "/aquacalc/static/pages.css")).status == 200
    finally:
        server.terminate()
        server.wait(timeout=30)


@pytest.mark.slow
def test_types_and_the_licences_of_package_and_font_are_in_the_wheel(installed: Path, tmp_path: Path):
    code = (
        "import importlib.metadata as m; files = [str(one) for one in m.files(NAME)];"
        "print(sum(one.endswith('licence.txt') for one in files), 'aquacalc/py.typed' in files)"
    )
    named = f"NAME = {PROJECT['name']!r}; {code}"
    assert run(installed, tmp_path, "-c", named).stdout.split() == ["3", "True"]
