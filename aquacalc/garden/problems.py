"""From the data of a garden file to its sections, or to every problem that it has."""

import difflib
from collections.abc import Mapping, Sequence
from contextlib import suppress
from copy import deepcopy
from dataclasses import replace
from datetime import date
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from aquacalc.errors import InputError, Problem
from aquacalc.garden import checks
from aquacalc.garden.fields import (
    UNREAD,
    Quantity,
    Section,
    by_key,
    inner,
    is_list,
    reading_of,
    readings,
    shown,
    unit_keys,
)
from aquacalc.garden.place import Place, place
from aquacalc.garden.sections import File


def checked(data: Mapping[str, Any], today: date) -> File:
    """The sections of a file; `InputError` with every problem of every part.

    Parts that cannot be read are left out before the parts are compared with each other, so that one slip
    does not hide another.
    """
    try:
        file = File.model_validate(data)
    except ValidationError as error:
        found = error.errors(include_url=False)
        problems = [problem for one in found for problem in _problems(one)]
        rest = _without(data, found)
        with suppress(ValidationError):  # what is left may be no garden; the problems say why
            left_out = [place(one["loc"]) for one in found]
            problems += [
                problem
                for problem in checks.problems_of(File.model_validate(rest), today)
                # What was left out here must not be called missing.
                if not any(f"{out} ".startswith(f"{problem.where} ") for out in left_out)
            ]
        raise InputError(_once(problems)) from None
    problems = checks.problems_of(file, today)
    if problems:
        raise InputError(_once(problems))
    return file


def _once(problems: Sequence[Problem]) -> list[Problem]:
    return list(dict.fromkeys(problems))


def _problems(error: ErrorDetails) -> list[Problem]:
    at: Place = tuple(error["loc"])
    kind = error["type"]
    if kind == "problems":
        return [_placed(problem, at) for problem in error["ctx"]["problems"]]
    if kind == "extra_forbidden":
        return [_unknown_key(at)]
    if kind == "missing":
        return [Problem("problem-missing", place(at))]
    return [_wrong_section(at, error["input"])]


def _placed(problem: Problem, at: Place) -> Problem:
    keys = tuple(choice.replace("{key}", str(at[-1])) for choice in problem.allowed)
    inside = tuple(problem.where.split()) if problem.where else ()
    return replace(problem, where=place((*at, *inside)), allowed=keys)


def _section_at(at: Place) -> type[Section]:
    section: type[Section] = File
    for step in at:
        if isinstance(step, str):
            section = inner(section.model_fields[step]) or section
    return section


def _unknown_key(at: Place) -> Problem:
    section, key = _section_at(at[:-1]), str(at[-1])
    known = list(by_key(section))
    for name, reading in readings(section):
        if isinstance(reading, Quantity):
            keys = [one for one, _ in unit_keys(name, reading)]
            if key.startswith(f"{name}_") and key not in by_key(section):
                common = tuple(one for one, unit in unit_keys(name, reading) if unit.common)
                return Problem("problem-key-unit", place(at), key, (name, *common))
            known += keys
    nearest = difflib.get_close_matches(key.lower(), known, n=1)
    return Problem(
        "problem-unknown-key", place(at), key, tuple(by_key(section)), nearest[0] if nearest else ""
    )


def _wrong_section(at: Place, found: object) -> Problem:
    # A value stands where a section belongs, or one section where a list of them does.
    names = [step for step in at if isinstance(step, str)]
    last = max(position for position, step in enumerate(at) if isinstance(step, str))
    field = _section_at(at[:last]).model_fields[names[-1]]
    title = ".".join(names)
    wanted = f"[[{title}]]" if is_list(field) else f"[{title}]"
    return Problem("problem-section", place(at), shown(found), (wanted,))


def _without(data: Mapping[str, Any], errors: Sequence[ErrorDetails]) -> dict[str, Any]:
    """A copy in which nothing is left that cannot be read; what must be there gets a stand-in.

    Later entries of a list come first, so that places stay true.
    """
    rest = deepcopy(dict(data))
    places = {tuple(one["loc"]) for one in errors}
    for at in sorted(places, key=lambda one: [str(step).zfill(9) for step in one], reverse=True):
        holder: Any = rest
        with suppress(KeyError, IndexError, TypeError):  # it went with a larger part
            for step in at[:-1]:
                holder = holder[step]
            if isinstance(holder, list):
                del holder[int(at[-1])]
            else:
                _stand_in(holder, at)
    return rest


def _stand_in(holder: dict[str, Any], at: Place) -> None:
    name = str(at[-1])
    field = by_key(_section_at(at[:-1])).get(name)
    reading = reading_of(field) if field else None
    keys = [key for key, _ in unit_keys(name, reading)] if isinstance(reading, Quantity) else []
    for key in (name, *keys):
        holder.pop(key, None)
    if reading is not None:
        holder[name] = UNREAD
