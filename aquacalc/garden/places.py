"""Where demo gardens, starter garden and notebooks lie: inside the wheel, or in the source tree."""

import difflib
from pathlib import Path

from aquacalc.errors import InputError, Problem

PACKAGE = Path(__file__).resolve().parents[1]
GARDEN = "garden.toml"
DEMO = "demo:"
"""A name that begins with this is one of the demo gardens."""
BEFORE = "/before"
"""After the name of a demo garden: the garden as it was first written, before a plan was accepted."""


def _packed(name: str) -> Path:
    installed = PACKAGE / "_data" / name
    return installed if installed.is_dir() else PACKAGE.parent / name


def demos() -> tuple[str, ...]:
    """Names of the demo gardens.

    >>> "yard" in demos()
    True
    """
    return tuple(sorted(folder.parent.name for folder in _packed("demo").glob(f"*/{GARDEN}")))


def demo(name: str) -> Path:
    """Folder of a demo garden; `InputError` (`problem-unknown-name`) where there is none of that name."""
    if name not in demos():
        nearest = difflib.get_close_matches(name, demos(), n=1)
        known = tuple(DEMO + one for one in demos())
        raise InputError(
            Problem("problem-unknown-name", "", DEMO + name, known, DEMO + nearest[0] if nearest else "")
        )
    return _packed("demo") / name


def workbook() -> Path:
    """Folder of the notebooks."""
    return _packed("workbook")


def starter() -> Path:
    """The commented garden file that a newcomer begins with."""
    return starter_folder() / GARDEN


def starter_folder() -> Path:
    """What a newcomer's folder begins with beside the notebooks: garden, log, the page that explains both."""
    return PACKAGE / "data" / "starter"


def garden_path(name: str | Path) -> Path:
    """The garden file that a name means: a file, a folder that holds `garden.toml`, `demo:NAME`, or
    `demo:NAME/before`."""
    text = str(name)
    if text.startswith(DEMO):
        folder = demo(text.removeprefix(DEMO).removesuffix(BEFORE))
        return folder / ("before.toml" if text.endswith(BEFORE) else GARDEN)
    path = Path(text).expanduser()
    return path / GARDEN if path.is_dir() else path


def is_demo(path: Path) -> bool:
    """Whether a file belongs to a demo garden, which is read and never written."""
    return path.resolve().is_relative_to(_packed("demo").resolve())
