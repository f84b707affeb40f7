"""Change one value of a garden file and leave everything else as it was typed."""

from collections.abc import Iterable, Mapping
from typing import Any

import tomlkit
from tomlkit.items import AoT, Table

from aquacalc.errors import InputError, Problem
from aquacalc.garden.fields import Quantity, Section, by_key, inner, is_list, reading_of, unit_keys
from aquacalc.garden.place import Place, parse, place
from aquacalc.garden.sections import File


def changed(text: str, dotted: str, value: object) -> str:
    """The text of a file with one value changed.

    dotted: `tank.0.volume`; sections and entries that are not there yet are added at the end.
    value: what is written; None takes the value, or the whole entry, out. Setting a quantity replaces
    whichever of its keys the file used (`volume`, `volume_l`), in its place and with its comment.
    """
    document = tomlkit.parse(text)
    at = parse(dotted)
    holder: Any = document
    section: type[Section] = File
    for position, step in enumerate(at[:-1]):
        holder = _into(holder, section, at[: position + 1])
        if isinstance(step, str):
            section = inner(section.model_fields[step]) or section
    if isinstance(holder, AoT):
        _entry(holder, at, value)
    else:
        _value(holder, section, at, value)
    return tomlkit.dumps(document)


def put(data: dict[str, Any], values: Mapping[str, object]) -> None:
    """Set values in what was read of a file: the same places and spellings as `changed`, but no text.

    For whoever looks at hundreds of changes and writes none.
    """
    for dotted, value in values.items():
        at = parse(dotted)
        holder: Any = data
        section: type[Section] = File
        for position, step in enumerate(at[:-1]):
            if isinstance(step, int):
                if step == len(holder):
                    holder.append({})
                holder = holder[step]
                continue
            field = section.model_fields[step]
            section = inner(field) or section
            following = at[position + 1]
            holder = holder.setdefault(step, [] if isinstance(following, int) else {})
        last = at[-1]
        if isinstance(last, str):
            for spelling in _spellings(section, last)[1]:
                holder.pop(spelling, None)
            if value is not None:
                holder[last] = value
        elif value is None:
            del holder[last]
        else:
            holder[last:] = [value, *holder[last + 1 :]]


def only(text: str, kept: Iterable[str]) -> str:
    """The text of a file without every value that is not kept, and without sections that are empty then.

    kept: dotted keys; a quantity is kept whichever of its keys the file uses.
    """
    document = tomlkit.parse(text)
    _prune(document, File, (), {_field_place(parse(dotted)) for dotted in kept})
    return tomlkit.dumps(document)


def _prune(holder: Any, section: type[Section], at: Place, kept: set[Place]) -> None:
    for key in list(holder):
        here = (*at, key)
        held = holder[key]
        field = section.model_fields.get(key)
        below = inner(field) if field is not None else None
        if below is None:
            if _field_place(here) not in kept:
                del holder[key]
            continue
        if isinstance(held, AoT):
            # From the last on, so that the entries before keep their place.
            for position in reversed(range(len(held))):
                _prune(held[position], below, (*here, position), kept)
                if not held[position]:
                    del held[position]
        else:
            _prune(held, below, here, kept)
        if not held:
            del holder[key]


def _field_place(at: Place) -> Place:
    section: type[Section] = File
    for step in at[:-1]:
        if isinstance(step, str) and step in section.model_fields:
            section = inner(section.model_fields[step]) or section
    return (*at[:-1], _spellings(section, str(at[-1]))[0])


def _into(holder: Any, section: type[Section], at: Place) -> Any:
    step = at[-1]
    if isinstance(step, int):
        if not isinstance(holder, AoT) or step > len(holder):
            raise InputError(Problem("problem-no-such-place", place(at), ".".join(map(str, at))))
        if step == len(holder):
            holder.append(tomlkit.table())
        return holder[step]
    field = section.model_fields.get(step)
    if field is None or inner(field) is None:
        raise InputError(Problem("problem-no-such-place", place(at), ".".join(map(str, at))))
    if step not in holder:
        holder.append(step, tomlkit.aot() if is_list(field) else tomlkit.table())
    return holder[step]


def _entry(entries: AoT, at: Place, value: object) -> None:
    position = int(at[-1])
    if position > len(entries) or (value is None and position == len(entries)):
        raise InputError(Problem("problem-no-such-place", place(at), ".".join(map(str, at))))
    if value is None:
        del entries[position]
    else:
        table = _table(value)
        if position == len(entries):
            entries.append(table)
        else:
            entries[position] = table


def _table(value: object) -> Table:
    table = tomlkit.table()
    if not isinstance(value, dict):
        raise InputError(Problem("problem-section", "", str(value), ("{ ... }",)))
    for key, one in value.items():
        table.append(str(key), one)
    return table


def _value(table: Any, section: type[Section], at: Place, value: object) -> None:
    key = str(at[-1])
    name, spellings = _spellings(section, key)
    there = [one for one in spellings if one in table]
    for one in there[1:] if value is not None else there:
        del table[one]
    if value is None:
        return
    field = section.model_fields.get(name)
    if isinstance(value, list) and field is not None and inner(field) is not None:
        entries = tomlkit.aot()
        for one in value:
            entries.append(_table(one))
        table[key] = entries
    elif there:
        table[there[0]] = value
        _rename(table, there[0], key)
    elif isinstance(value, dict):
        table[key] = _table(value)
    else:
        table.append(key, value)


def _spellings(section: type[Section], key: str) -> tuple[str, list[str]]:
    """The field that a key belongs to, and every key that may stand for it."""
    for name, field in by_key(section).items():
        reading = reading_of(field)
        keys = [name, *(k for k, _ in unit_keys(name, reading))] if isinstance(reading, Quantity) else [name]
        if key in keys:
            return name, keys
    return key, [key]


def _rename(table: Any, old: str, new: str) -> None:
    if old == new:
        return
    if not isinstance(table, Table):
        # A section whose parts stand apart; the value moves to the end of one of them.
        table[new] = table.pop(old)
        return
    # The text is made from the body, so a key that is renamed there keeps its place and its comment.
    body = table.value.body
    for position, (key, item) in enumerate(body):
        if key is not None and key.key == old:
            body[position] = (tomlkit.key(new), item)
