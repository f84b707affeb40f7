"""The time of day as people write it.

pH and oxygen of the afternoon are not those of the morning, so a log may tell when a row was measured. A time
that can be two stays a question.
"""

import re
from datetime import time

NOON = 12.0

_CLOCK = re.compile(
    r"([0-9]{1,2})\s*(?:[:.h]\s*([0-9]{2})(?::[0-9]{2}(?:\.[0-9]+)?)?|h)?\s*(?:h|o'clock)?\s*([ap]\.?m\.?)?"
)
_PLAIN = re.compile(r"([01][0-9]|2[0-3]):[0-5][0-9]")
_BEHIND_DATE = re.compile(
    r"[T ]\s*([0-9]{1,2}[:.][0-9]{2}(?::[0-9]{2}(?:\.[0-9]+)?)?\s*(?:[ap]m)?)\s*Z?$", re.IGNORECASE
)


def ways(text: str) -> tuple[str, ...]:
    """The times that a text can be, as 08:10; none where it is no time.

    >>> ways("8am"), ways("17h30"), ways("8"), ways("soon")
    (('08:00',), ('17:30',), ('08:00', '20:00'), ())
    """
    match = _CLOCK.fullmatch(text.strip().casefold())
    if match is None:
        return ()
    hour, minute, half = int(match[1]), int(match[2] or 0), (match[3] or "")[:1]
    if hour > (12 if half else 23) or minute > 59 or (half and hour == 0):
        return ()
    if half:
        return (_written(hour % 12 + (12 if half == "p" else 0), minute),)
    if match[2] is None and "h" not in match[0] and hour <= 12:
        # A bare hour may be before or after noon.
        return tuple(sorted({_written(hour % 12, 0), _written(hour % 12 + 12, 0)}))
    return (_written(hour, minute),)


def behind_date(text: str) -> str:
    """The time that stands behind a date, as 08:10; empty where there is none, or midnight, which is none.

    >>> behind_date("9 May 2027 08:10"), behind_date("2027-05-09T00:00:00"), behind_date("2027-05-09")
    ('08:10', '', '')
    """
    match = _BEHIND_DATE.search(text)
    found = ways(match[1]) if match else ()
    return found[0] if len(found) == 1 and found[0] != "00:00" else ""


def is_plain(text: str) -> bool:
    """Whether a text is a time of 24 hours, as 08:10."""
    return _PLAIN.fullmatch(text) is not None


def hours(text: str) -> float | None:
    """Hours since midnight of a plain time; None where there is none.

    >>> hours("08:30"), hours("")
    (8.5, None)
    """
    if not text:
        return None
    found = time.fromisoformat(text)
    return found.hour + found.minute / 60.0


def written(hours_: float) -> str:
    """Hours since midnight as a plain time; the inverse of `hours`."""
    minutes = round(hours_ * 60.0)
    return _written(minutes // 60, minutes % 60)


def _written(hour: int, minute: int) -> str:
    return f"{hour:02d}:{minute:02d}"
