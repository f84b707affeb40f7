"""The one path of uncertainty: low, typical, high -> members -> band.

A coefficient is a triangle (low, typical, high). `draw` samples it by a Latin hypercube; each name has
its own seeded stream, so a coefficient gets the same members whichever others are drawn beside it.
A band is the 10th, 50th and 90th percentile over the members.
"""

import zlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from statistics import NormalDist

import numpy as np
from numpy.typing import ArrayLike, NDArray

from aquacalc import tables

Floats = NDArray[np.float64]

BAND_PERCENTILES = (10.0, 50.0, 90.0)
MEMBERS = 200
SEED = 1


@dataclass(frozen=True)
class Triangle:
    """Low, typical and high corner of an uncertain value; `logarithmic`: over its logarithm."""

    low: float
    typical: float
    high: float
    logarithmic: bool = field(default=False, kw_only=True)

    def __post_init__(self) -> None:
        if not self.low <= self.typical <= self.high:
            raise ValueError(f"low {self.low}, typical {self.typical}, high {self.high} are not in order")

    @property
    def variance(self) -> float:
        """Of the triangular law with these corners: a thirty-sixth of the sum of the squared differences.

        >>> Triangle(-1.0, 0.0, 1.0).variance * 6
        1.0
        """
        low, typical, high = self.low, self.typical, self.high
        return ((typical - low) ** 2 + (high - typical) ** 2 + (high - low) ** 2) / 36.0


@dataclass(frozen=True)
class Band:
    """10th percentile, median and 90th percentile of a result; floats, or arrays along the months."""

    low: Floats
    middle: Floats
    high: Floats


class Draw(Mapping[str, Floats]):
    """Frozen sampled values by name, each of shape (members,); or floats where nothing was sampled."""

    def __init__(self, values: Mapping[str, Floats]) -> None:
        self._values = dict(values)
        for value in self._values.values():
            value.flags.writeable = False

    def __getitem__(self, name: str) -> Floats:
        return self._values[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._values)

    def __len__(self) -> int:
        return len(self._values)


def coefficient(name: str) -> Triangle:
    """The triangle of a row of `data/coefficients.csv`.

    >>> coefficient("oxygen_per_feed_whole_kg_kg").typical
    0.65
    """
    row = tables.load("coefficients").row(name)
    return Triangle(row.number("low"), row.number("typical"), row.number("high"))


def quantile(triangle: Triangle, probability: ArrayLike) -> Floats:
    """Inverse cumulative distribution of the triangle at probabilities 0 to 1. By definition.

    >>> float(quantile(Triangle(0, 1, 2), 0.5))
    1.0
    """
    p = np.asarray(probability, dtype=np.float64)
    low, typical, high = triangle.low, triangle.typical, triangle.high
    if triangle.logarithmic:
        low, typical, high = (float(np.log(corner)) for corner in (low, typical, high))
        found: Floats = np.exp(quantile(Triangle(low, typical, high), p))
        return found
    width = high - low
    if width == 0.0:
        return np.full(p.shape, typical)
    split = (typical - low) / width
    rising = low + np.sqrt(p * width * (typical - low))
    falling = high - np.sqrt((1.0 - p) * width * (high - typical))
    return np.where(p < split, rising, falling)


def probabilities(name: str, members: int, seed: int = SEED) -> Floats:
    """Stratified probabilities of one name, shape (members,): one in each of `members` equal slices.

    Exact, by stratified sampling.
    """
    stream = np.random.default_rng([seed, zlib.crc32(name.encode())])
    return (stream.permutation(members) + stream.random(members)) / members


def draw(
    triangles: Mapping[str, Triangle],
    members: int = MEMBERS,
    seed: int = SEED,
    correlated: Mapping[tuple[str, str], float] | None = None,
) -> Draw:
    """Sample each triangle; `correlated` gives rank correlations of pairs, where both are sampled.

    With one member the typical values are returned.
    """
    if members == 1:
        return Draw({name: np.array([t.typical]) for name, t in triangles.items()})
    chances = {name: probabilities(name, members, seed) for name in triangles}
    chances |= _correlate(chances, correlated or {})
    return Draw({name: quantile(triangle, chances[name]) for name, triangle in triangles.items()})


def _correlate(
    chances: Mapping[str, Floats], correlated: Mapping[tuple[str, str], float]
) -> dict[str, Floats]:
    """The chances of correlated names, put into an order with these rank correlations (a Gaussian copula).

    Each name keeps its own slices, so that its spread stays as it was; the first of a chain its order, too.
    """
    pairs = {pair: rank for pair, rank in correlated.items() if set(pair) <= chances.keys()}
    names = list(dict.fromkeys(name for pair in pairs for name in pair))
    if not names:
        return {}
    matrix = np.eye(len(names))
    for (one, other), rank in pairs.items():
        at, to = names.index(one), names.index(other)
        matrix[at, to] = matrix[to, at] = 2.0 * np.sin(np.pi * rank / 6.0)
    members = chances[names[0]].size
    normal = np.array([NormalDist().inv_cdf((place + 0.5) / members) for place in range(members)])
    scores = np.array([normal[np.argsort(np.argsort(chances[name]))] for name in names])
    found = {}
    for name, mixed in zip(names, np.linalg.cholesky(matrix) @ scores, strict=True):
        found[name] = np.empty(members)
        found[name][np.argsort(mixed)] = np.sort(chances[name])
    return found


def band(values: ArrayLike, axis: int = -1) -> Band:
    """10th, 50th and 90th percentile along the axis of the members.

    Members without an answer (NaN) are left out; NaN where fewer than half of them have one.

    >>> band([1.0, 2.0, 3.0, float("nan")]).middle.item()
    2.0
    """
    by_member = np.moveaxis(np.asarray(values, dtype=np.float64), axis, 0)
    ordered = np.sort(by_member.reshape(by_member.shape[0], -1), axis=0)
    answers = np.count_nonzero(~np.isnan(ordered), axis=0)
    places = np.arange(answers.size)

    def percentile(percent: float) -> Floats:
        place = np.maximum(answers - 1, 0) * percent / 100.0
        below = place.astype(np.intp)
        lower, upper = ordered[below, places], ordered[np.ceil(place).astype(np.intp), places]
        with np.errstate(invalid="ignore"):
            between = np.where(lower == upper, lower, lower + (place - below) * (upper - lower))
        enough = 2 * answers >= ordered.shape[0]
        return np.where(enough, between, np.nan).reshape(by_member.shape[1:])

    return Band(*(percentile(percent) for percent in BAND_PERCENTILES))
