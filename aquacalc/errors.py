"""What is wrong with an input, as amounts; `words` makes the sentence."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Problem:
    """One thing that cannot be accepted.

    key: message key of the catalogue, for example `problem-range`.
    where: the place, as the reader knows it (`tank.1.volume`, `demo/yard/garden.toml`).
    found: what was found there, as typed.
    allowed: what would be accepted. Choices one by one, or for a range low, high and unit.
    nearest: the nearest known name, or empty.
    """

    key: str
    where: str = ""
    found: str = ""
    allowed: tuple[str, ...] = ()
    nearest: str = ""


class InputError(ValueError):
    """Input that cannot be used; carries every problem that was found."""

    def __init__(self, problems: Problem | Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("; ".join(map(_short, self.problems)))

    def __reduce__(self) -> tuple[type["InputError"], tuple[tuple[Problem, ...]]]:
        """So that it comes whole from another process."""
        return type(self), (self.problems,)


def _short(problem: Problem) -> str:
    """A problem for whoever calls the package from code."""
    allowed = f" ({', '.join(filter(None, problem.allowed))})" if problem.allowed else ""
    return f"{problem.where}: {problem.key} {problem.found!r}{allowed}".strip(": ")
