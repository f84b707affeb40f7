"""Is the kit right? A standard from weighed salt, two readings of one water, and the day on the bottles.

What two agreeing readings find is kept with the kit in the garden file: from then on each of its readings is
corrected by it, or not used at all.
"""

from dataclasses import dataclass
from datetime import date
from functools import partial
from math import isnan, nan

import ipywidgets as widgets

from aquacalc import kits, units, words
from aquacalc.errors import InputError
from aquacalc.garden.model import Garden, KitScale
from aquacalc.pages import html, kit
from aquacalc.panels.frame.conflict import Conflict
from aquacalc.panels.frame.dates import DateField
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer

STOCK_MG_L = 1000.0
"""A stock is as strong as this, so that what is weighed is grams and not milligrams."""
LITRES = {"metric": "l", "us": "l"}
"""Flasks are marked in litres everywhere."""
BUFFER = "ph"
"""The one test whose standard is bought: a buffer solution with its pH on the label."""

BASES = {"tan": ("N", "NH3", "NH4"), "nitrite": ("N", "NO2"), "nitrate": ("N", "NO3")}

READ = ("first", "second", "expires")
OF_SALT = ("parameter", "content", "litres", "purity", *READ, "sample", "water")


@dataclass(frozen=True)
class Checked:
    """What a standard takes, and what the kit's readings say.

    stock_g: grams of salt for a litre of stock. stock_ml: of it for the wished standard. content: of the
    standard, as the workbook counts it. salt, formula are empty and grams NaN for a bought buffer.
    scale: the test in use; told: whether the garden file has it. in_tube: content of what was in the tube, in
    the kit's own basis. offset: by how much the readings are above it; NaN where it cannot be told. right,
    agree, old: None where it cannot.
    """

    parameter: str
    salt: str
    formula: str
    stock_g: float
    stock_ml: float
    standard_l: float
    factor: float
    content: float
    scale: KitScale
    told: bool
    in_tube: float
    offset: float
    right: bool | None
    agree: bool | None
    old: bool | None

    @property
    def kept(self) -> bool:
        """Whether it is worth keeping: two readings that agree, of a test whose basis is known."""
        return self.told and bool(self.agree) and not isnan(self.offset)

    @property
    def out(self) -> bool:
        """Whether the kit is out of its error."""
        return kits.too_far(self.offset, self.in_tube, self.scale)


def controls(reader: words.Reader, today: date) -> dict[str, Field]:
    """The standard that is wished, the readings of it, and the day on the bottles."""
    say = words.say
    parameters = [(say(f"word-{one}", reader), one) for one in (*kits.STANDARDS, BUFFER)]

    def number(
        key: str, value: float | None, low: float, high: float, optional: bool = False, beside: str = ""
    ) -> NumberField:
        return NumberField(say(key, reader), "", value, reader, low, high, optional=optional, beside=beside)

    return {
        "parameter": ChoiceField(say("panel-kit-parameter", reader), parameters, "nitrate", reader),
        "content": number("panel-check-content", 10.0, 0.01, 1000.0),
        "buffer": number("panel-check-buffer", 7.0, 2.0, 12.0),
        "litres": NumberField(
            say("panel-check-volume", reader), "volume", 1.0, reader, 0.05, 20.0, shown_in=LITRES
        ),
        "purity": NumberField(say("panel-check-purity", reader), "share", 1.0, reader, 0.5, 1.0),
        "first": number("panel-check-first", None, 0.0, 1e5, True),
        "second": number("panel-check-second", None, 0.0, 1e5, True),
        "sample": number("panel-check-sample", 5.0, 0.1, 1000.0, beside="ml"),
        "water": number("panel-check-water", 0.0, 0.0, 10_000.0, beside="ml"),
        "expires": DateField(say("panel-kit-expires", reader), None, reader, today, optional=True),
    }


def asked(values: Values) -> tuple[str, ...]:
    """A buffer is bought and never thinned."""
    return ("parameter", "buffer", *READ) if values["parameter"] == BUFFER else OF_SALT


def compute(desk: Desk | None, today: date, values: Values) -> Checked:
    """Grams, millilitres, and what the readings say on the garden's own scale."""
    parameter = values["parameter"]
    bought = parameter == BUFFER
    standard = None if bought else kits.STANDARDS[parameter]
    scale = KitScale(parameter) if desk is None else kit.scale_of(desk.garden, parameter)
    factor = 1.0 if bought else kits.dilution(values["sample"], values["water"])
    content = values["buffer"] if bought else values["content"]
    first, second = values["first"], values["second"]
    readings = [one for one in (first, second) if one is not None]
    in_own = kits.as_shown(content, scale)
    offset = kits.offset_found(readings, content, scale, factor)
    return Checked(
        parameter=parameter,
        salt=standard.salt if standard else "",
        formula=standard.formula if standard else "",
        stock_g=kits.standard_g(parameter, STOCK_MG_L, 1.0, values["purity"]) if standard else nan,
        stock_ml=kits.stock_ml(content, values["litres"], STOCK_MG_L) if standard else nan,
        standard_l=values["litres"],
        factor=factor,
        content=content,
        scale=scale,
        told=desk is not None and bool(place(desk.garden, parameter)),
        in_tube=nan if in_own is None else in_own / factor,
        offset=nan if offset is None else offset,
        right=None if first is None else _reads(first, content, scale, factor),
        agree=_agree(first, second, scale) if len(readings) > 1 else None,
        old=kits.expired(values["expires"], today),
    )


def _is_meter(scale: KitScale) -> bool:
    """Whether it is told, and has neither steps nor drops."""
    return kits.basis_is_known(scale) and not scale.steps and scale.drop is None


def _reads(shown: float, content: float, scale: KitScale, factor: float) -> bool | None:
    """Whether a reading fits the standard; a meter within its usual error."""
    in_own = kits.as_shown(content, scale)
    if not _is_meter(scale) or in_own is None:
        return kits.reads_standard(shown, content, scale, factor)
    error = kits.usual_error(in_own / factor, scale)
    return None if error is None else abs(shown - in_own / factor) <= error


def _agree(first: float, second: float, scale: KitScale) -> bool | None:
    """Whether two readings can be of one water; those of a meter differ by no more than its usual error."""
    if not _is_meter(scale):
        return kits.duplicates_agree(first, second, scale)
    error = kits.usual_error((first + second) / 2.0, scale)
    return None if error is None else abs(first - second) <= error


def shown(parameter: str, content: float) -> list[tuple[str, str]]:
    """A content in every basis that a kit may have."""
    if parameter == BUFFER:
        return [(words.say("word-ph", words.Reader()), words.number(content, 3))]
    if parameter in BASES:
        return [(f"mg/L {one}", words.number(units.from_n(content, one), 3)) for one in BASES[parameter]]
    return [
        (unit.label, words.number(unit.from_base(content), 3))
        for unit in units.of_kind(parameter)
        if unit.common
    ]


def draw(reader: words.Reader, found: Checked) -> html.Html:
    """How to make the standard, what it must read, and what the readings say."""
    say = words.say
    told = {True: "yes", False: "no", None: "open"}
    lines = [
        *_making(reader, found),
        say(f"panel-check-right-{told[found.right]}", reader),
        say(f"panel-check-agree-{told[found.agree]}", reader),
        *_found(reader, found),
        say(f"panel-check-old-{told[found.old]}", reader),
    ]
    head = (say("panel-check-unit", reader), say("panel-check-reads", reader))
    return answer(_title(reader, found), lines, html.table(head, shown(found.parameter, found.content)))


def _title(reader: words.Reader, found: Checked) -> str:
    if not found.salt:
        return words.say("panel-check-answer-buffer", reader, ph=words.number(found.content, 3))
    return words.say(
        "panel-check-answer",
        reader,
        grams=words.number(found.stock_g, 4),
        salt=words.say(f"panel-check-salt-{found.salt}", reader),
        formula=found.formula,
    )


def _making(reader: words.Reader, found: Checked) -> list[str]:
    if not found.salt:
        return [words.say("panel-check-caution-buffer", reader)]
    ml, litres = words.number(found.stock_ml, 3), words.number(found.standard_l, 3)
    lines = [words.say("panel-check-take", reader, ml=ml, litres=litres)]
    if found.factor > 1.0:
        lines.append(words.say("panel-check-factor", reader, factor=words.number(found.factor, 3)))
    return [*lines, words.say(f"panel-check-caution-{found.salt}", reader)]


def _found(reader: words.Reader, found: Checked) -> list[str]:
    """The offset of two readings that agree, and what it is worth."""
    if not found.kept:
        return []
    if found.offset == 0.0:
        return [words.say("panel-check-keep-fits", reader)]
    error = kits.usual_error(found.in_tube, found.scale)
    amounts = {
        "offset": _own(abs(found.offset), found.scale),
        "error": _own(error or 0.0, found.scale),
        "side": words.say("panel-check-high" if found.offset > 0.0 else "panel-check-low", reader),
    }
    return [words.say("panel-check-keep-out" if found.out else "panel-check-keep-offset", reader, **amounts)]


def _own(value: float, scale: KitScale) -> str:
    return " ".join(part for part in (words.number(value, 2), kits.label(scale)) if part)


def place(garden: Garden, parameter: str) -> str:
    """The dotted key of the test in use; empty where no kit has it."""
    found = [
        (one.start or date.min, f"kit.{n}.scale.{m}")
        for n, one in enumerate(garden.kits)
        for m, scale in enumerate(one.scales)
        if scale.parameter == parameter
    ]
    return max(found, key=lambda pair: pair[0], default=(date.min, ""))[1] if found else ""


class KitCheck(Panel):
    """The panel with a button that keeps what was found with the kit. A demo garden is never written."""

    def __init__(self, desk: Desk | None) -> None:
        self.desk = desk
        reader = reader_of(desk)
        today = date.today() if desk is None else desk.file.today
        self.keep = widgets.Button(
            description=words.say("panel-check-keep", reader), layout=widgets.Layout(width="auto")
        )
        self.keep.on_click(self.save)
        self.said = widgets.HTML()
        self.conflict = None if desk is None else Conflict(desk)
        self.found: Checked | None = None

        def computed(values: Values) -> Checked:
            self.found = compute(desk, today, values)
            self.keep.disabled = desk is None or desk.file.read_only or not self.found.kept
            self.said.value = self._state()
            return self.found

        fields = controls(reader, today)
        below = [self.keep, self.said, *([] if self.conflict is None else [self.conflict])]
        super().__init__("kit-check", fields, computed, partial(draw, reader), reader, below, asked)

    def save(self, _button: object = None) -> None:
        """Write the offset, its standard and the day into the garden file."""
        if self.desk is None or self.conflict is None or self.found is None or not self.found.kept:
            return
        at, found = place(self.desk.garden, self.found.parameter), self.found
        values: dict[str, object] = {
            f"{at}.offset": round(found.offset, 4),
            f"{at}.standard": round(found.in_tube, 4),
            f"{at}.checked": self.desk.file.today,
        }
        try:
            made = self.desk.write(values)
        except InputError as error:
            self.conflict.show(error.problems)
            return
        self.conflict.clear()
        written = words.say("panel-kit-written", self.reader, file=str(made.path.name))
        self.said.value = html.join(html.paragraph(written), self._state())

    def _state(self) -> html.Html:
        """What the garden file tells of the last check of this test, and what this one wants to be kept."""
        if self.desk is None or self.found is None:
            return html.Html("")
        lines = []
        if place(self.desk.garden, self.found.parameter):
            what = words.say(f"word-{self.found.parameter}", self.reader)
            found = kit.check(kit.scale_of(self.desk.garden, self.found.parameter), self.reader)
            lines.append(words.say("kit-checked", self.reader, what=what, found=found))
        if self.desk.file.read_only:
            lines.append(words.say("panel-demo-stays", self.reader))
        elif not self.found.kept:
            lines.append(words.say("panel-check-keep-when", self.reader))
        return html.join(*map(html.paragraph, lines))


def known(desk: Desk) -> dict[str, object]:
    """The day on the bottles of the kit that is in use."""
    newest = max(desk.garden.kits, key=lambda one: one.start or date.min, default=None)
    return {"expires": newest.expires if newest else None}


def panel(desk: Desk | None = None) -> KitCheck:
    """The panel; readings are judged on the scale of the garden's own kit, where it has one."""
    made = KitCheck(desk)
    if desk is not None:
        desk.fill(made, known)
    return made
