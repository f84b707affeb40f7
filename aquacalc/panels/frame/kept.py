"""What was typed comes back after a reload, a restarted kernel, a page that went to sleep.

The server of the pages names a file in the folder of whoever sits there; without one nothing is kept. Only
what a reader changed is kept, and not for long: readings of yesterday must not look like those of today.
"""

import json
import os
import time
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

PLACE = "AQUACALC_FIELDS"
"""The name in the environment under which the file stands."""
HOURS = 6.0
"""Common practice, no source."""


def place() -> Path | None:
    """The file; None where nothing is kept."""
    named = os.environ.get(PLACE, "")
    return Path(named) if named else None


def clock(at: float) -> str:
    """A time of the epoch as hours and minutes of this machine's day.

    >>> len(clock(0.0))
    5
    """
    return time.strftime("%H:%M", time.localtime(at))


def load(path: Path, panel: str, now: float | None = None) -> tuple[float, dict[str, Any]]:
    """When a panel was last changed (seconds of the epoch), and its values by field; empty if long ago."""
    at, values = _all(path).get(panel, (0.0, {}))
    fresh = (time.time() if now is None else now) - at < HOURS * 3600.0
    return (at, read(values)) if fresh else (0.0, {})


def keep(path: Path, panel: str, values: Mapping[str, Any], now: float | None = None) -> None:
    """Keep the changed values of a panel; none forgets it. A place that takes nothing is left alone."""
    found = _all(path)
    found.pop(panel, None)
    if values:
        at = time.time() if now is None else now
        found[panel] = (at, written(values))
    try:
        temporary = path.with_name(f"{path.name}.{os.getpid()}")
        temporary.write_text(json.dumps(found), "utf-8")
        os.replace(temporary, path)
    except OSError:
        return


def _all(path: Path) -> dict[str, tuple[float, dict[str, Any]]]:
    try:
        read = json.loads(path.read_text("utf-8"))
        return {str(name): (float(at), dict(values)) for name, (at, values) in read.items()}
    except (OSError, ValueError, TypeError, AttributeError):
        return {}


def written(values: Mapping[str, Any]) -> dict[str, Any]:
    """Values of fields as JSON has them; `read` is its way back."""
    return {
        name: {"day": value.isoformat()} if isinstance(value, date) else value
        for name, value in values.items()
    }


def read(values: Mapping[str, Any]) -> dict[str, Any]:
    """Values of fields out of JSON."""
    return {name: _read(value) for name, value in values.items()}


def _read(value: Any) -> Any:
    if isinstance(value, dict):
        return date.fromisoformat(value["day"])
    return tuple(value) if isinstance(value, list) else value
