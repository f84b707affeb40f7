"""Where something stands in a garden file: keys for the program, words for the reader."""

Place = tuple[str | int, ...]


def parse(dotted: str) -> Place:
    """The steps of a dotted key; entries of a list are counted from 0.

    >>> parse("tank.0.volume")
    ('tank', 0, 'volume')
    """
    return tuple(int(step) if step.isdigit() else step for step in dotted.split("."))


def place(at: Place | str) -> str:
    """A place as problems name it, entries counted from 1.

    >>> place("tank.0.volume")
    'tank 1 volume'
    """
    steps = parse(at) if isinstance(at, str) else at
    return " ".join(str(step + 1) if isinstance(step, int) else step for step in steps)
