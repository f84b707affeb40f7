"""Values as the garden's own kit shows them: its basis, its steps, and what they are as N.

What the check of a kit found stays with it: a limit stands as much higher or lower on its card, and the pages
say by how much readings are corrected.
"""

import math
from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from aquacalc import kits, tables, units, words
from aquacalc.garden.model import Garden, Kit, KitScale
from aquacalc.pages import html
from aquacalc.words import Reader

PAST_END = "*"
"""Marks a limit that lies past the end of the kit."""

USUAL = ("ph", "tan", "nitrite", "nitrate", "alkalinity", "hardness")
"""Tests that every garden wants, told or not."""

THINNED = ("tan", "nitrite", "nitrate")
"""Samples of these may be thinned with de-ionised water; pH and alkalinity never."""

THIN = 5
"""One part of sample in so many parts of water."""


def scale_of(garden: Garden, parameter: str) -> KitScale:
    """The scale of the newest kit that measures a parameter; one without basis and steps where none does."""
    dated = sorted(garden.kits, key=lambda kit: kit.start or date.min)
    scales = [scale for kit in dated for scale in kit.scales if scale.parameter == parameter]
    return scales[-1] if scales else KitScale(parameter)


def label(scale: KitScale) -> str:
    """What the numbers of a scale count, as printed behind them; empty for pH and where it is not known."""
    return kits.label(scale)


def limit(value: float, scale: KitScale, reader: Reader, falling: bool = False) -> str:
    """A limit as the kit shows it: the first step at or beyond it, with what that step is as N behind it.

    value: as the workbook counts it. falling: the limit is a least value; a drop test then gives the drop
    whose span holds it. A value past the kit's end carries a star; without a described kit, and for one that
    its check found out of its error, it stands alone.
    """
    own = words.quantity(value, _kind(scale.parameter), reader)
    shown = kits.as_read(value, scale)
    if shown is None or not (scale.steps or scale.drop) or not kits.usable(scale):
        return own
    step = _drops(shown, scale.drop) if scale.drop else _step(value, scale, falling)
    read = shown if step is None else step
    text = words.number(read) if step is None else words.number(read, 3)
    text = words.NO_BREAK_SPACE.join(
        part for part in (text, label(scale), PAST_END if step is None else "") if part
    )
    if scale.parameter not in kits.NITROGEN or scale.basis == "N":
        return text
    return words.say("kit-step", reader, step=text, inside=words.number(units.as_n(read, scale.basis)))


def _drops(shown: float, drop: float) -> float:
    return math.ceil(shown / drop - 1e-9) * drop


def _step(value: float, scale: KitScale, falling: bool) -> float | None:
    found = kits.act_value_on_scale(value, scale, falling)
    return found.step if found else None


def _kind(parameter: str) -> str:
    if parameter in kits.NITROGEN:
        return "nitrogen"
    return parameter if parameter in ("alkalinity", "hardness", "ph", "temperature") else "concentration"


# --- what is known of the kits -----------------------------------------------------------------------------


def check(scale: KitScale, reader: Reader) -> str:
    """What the check of a test found, and since when readings are corrected by it."""
    if scale.checked is None:
        return words.say("kit-check-none", reader)
    day = words.date(scale.checked, reader)
    if not scale.offset:
        return words.say("kit-check-fits", reader, day=day)
    amount = _with_label(f"{-scale.offset:+.3g}", scale)
    key = "kit-check-corrected" if kits.usable(scale) else "kit-check-out"
    return words.say(key, reader, offset=amount, day=day)


def in_use(garden: Garden) -> list[KitScale]:
    """The newest scale of each parameter that a kit measures."""
    told = dict.fromkeys(scale.parameter for kit in garden.kits for scale in kit.scales)
    return [scale_of(garden, parameter) for parameter in told]


def corrections(scales: Iterable[KitScale], reader: Reader) -> list[str]:
    """A sentence for each test whose readings are corrected, or must not be used."""
    return [
        words.say(
            "kit-checked",
            reader,
            what=words.say(f"word-{scale.parameter}", reader),
            found=check(scale, reader),
        )
        for scale in scales
        if scale.offset
    ]


def table(garden: Garden, reader: Reader) -> html.Html:
    """Every test of every kit in its period: what it counts, its ends, how it is read, what its check found.

    What no leaflet told is `not known`; nothing is filled in from another kit.
    """
    head = [words.say(f"kit-head-{one}", reader) for one in HEADS]
    return html.table(head, list(_rows(garden, reader)))


HEADS = ("kit", "test", "counts", "ends", "read", "error", "check")


def _rows(garden: Garden, reader: Reader) -> Iterator[tuple[str, ...]]:
    told = {scale.parameter for kit in garden.kits for scale in kit.scales}
    for kit in sorted(garden.kits, key=lambda one: one.start or date.min):
        for scale in kit.scales:
            yield (_named(kit, scale, garden, reader), *_row(scale, reader))
    for parameter in USUAL:
        if parameter not in told:
            yield (words.say("kit-none", reader), *_row(KitScale(parameter), reader))


def _row(scale: KitScale, reader: Reader) -> tuple[str, ...]:
    not_known = words.say("not-known", reader)
    has_basis = scale.parameter in (*kits.NITROGEN, *kits.IN_A_UNIT)
    counts = label(scale) or (not_known if has_basis else words.say("kit-one-basis", reader))
    return (
        words.say(f"word-{scale.parameter}", reader),
        counts,
        ends(scale, reader),
        _read(scale, reader),
        _error(scale, reader),
        check(scale, reader),
    )


def ends(scale: KitScale, reader: Reader) -> str:
    """First and last step of a card, and how far a thinned sample reaches; a drop test has no upper end."""
    if scale.drop is not None:
        return words.say("kit-ends-drops", reader)
    if not scale.steps:
        return words.say("not-known", reader)
    first, last = scale.steps[0], scale.steps[-1]
    text = words.say("kit-ends", reader, first=words.number(first, 3), last=words.number(last, 3))
    if scale.parameter not in THINNED:
        return text
    far = words.number(THIN * last, 3)
    return words.say("kit-ends-thinned", reader, ends=text, factor=THIN, far=far)


def _read(scale: KitScale, reader: Reader) -> str:
    if scale.drop is not None:
        return words.say("kit-read-drops", reader, drop=_with_label(words.number(scale.drop, 3), scale))
    if scale.steps:
        return "; ".join(words.number(step, 3) for step in scale.steps)
    return words.say("not-known", reader)


def _error(scale: KitScale, reader: Reader) -> str:
    """How far a reading may be off: by its steps or drops where they are told, else as usual tests are."""
    if scale.drop is not None:
        return words.say("kit-error-drop", reader)
    if scale.steps:
        return words.say("kit-error-steps", reader)
    if scale.parameter not in kits.USUAL_TESTS:
        return words.say("not-known", reader)
    row = tables.load("test_kinds").row(kits.USUAL_TESTS[scale.parameter][0])
    absolute, share = row.number("sigma_absolute"), row.number("sigma_relative")
    parts = []
    if absolute:
        unit = "" if scale.parameter == "ph" else row.text("unit")
        parts.append(f"{words.number(absolute, 2)} {unit}".strip())
    if share:
        parts.append(words.quantity(share, "share", reader))
    key = "kit-error-usual" if len(parts) == 1 else "kit-error-usual-larger"
    return words.say(key, reader, **dict(zip(("error", "share"), parts, strict=False)))


def _named(kit: Kit, scale: KitScale, garden: Garden, reader: Reader) -> str:
    """The kit with the days on which it was in use for one test, and the day on its bottles."""
    later = [
        one.start
        for one in garden.kits
        if one.start is not None
        and one.start > (kit.start or date.min)
        and any(other.parameter == scale.parameter for other in one.scales)
    ]
    text = kit.name
    if kit.start is not None:
        text = words.say("kit-from", reader, kit=text, day=words.date(kit.start, reader))
    if later:
        text = words.say(
            "kit-until", reader, kit=text, day=words.date(min(later) - timedelta(days=1), reader)
        )
    if kit.expires is not None:
        text = words.say("kit-bottles", reader, kit=text, day=words.date(kit.expires, reader))
    return text


def _with_label(number: str, scale: KitScale) -> str:
    return words.NO_BREAK_SPACE.join(part for part in (number, label(scale)) if part)
