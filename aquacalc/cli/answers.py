"""`--json`: what `check`, `reading` and `log` answer, for scripts.

`docs/answers.schema.json` says what stands there. Numbers are metric, amounts of a month stand under the
month, texts are those that the command prints. What is not known is null.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np

from aquacalc import __version__, words
from aquacalc.advice.finding import Finding
from aquacalc.advice.log import Told
from aquacalc.advice.reading.actions import Answer
from aquacalc.garden.model import Garden
from aquacalc.judge.levels import worst
from aquacalc.logbook.mended import Doubt, Mended, Repair
from aquacalc.sentences import log as log_sentences
from aquacalc.sentences import reading as sentences
from aquacalc.sizing.result import Balance, Limit
from aquacalc.uncertainty import Band
from aquacalc.words import Reader

DIGITS = 4
"""Significant digits of a number, more than are known."""


def text(answer: dict[str, Any]) -> str:
    """An answer as one JSON text."""
    return json.dumps({"aquacalc": __version__} | answer, indent=1, ensure_ascii=False, allow_nan=False)


def of_check(garden: Garden, balance: Balance, found: Sequence[Finding], reader: Reader) -> dict[str, Any]:
    """The balance by month, and the findings."""
    return {
        "answer": "check",
        "garden": garden.name,
        "level": worst(one.level for one in found),
        "findings": _findings(found, reader),
        "months": list(balance.months),
        "wanted_feed_g_day": _band(balance.demand.feed_g_day),
        "water_c": _band(balance.water_c),
        "limits": [_limit(one) for one in balance.limits],
    }


def of_reading(answer: Answer, reader: Reader) -> dict[str, Any]:
    """What was read with its levels, and what to do in order."""
    found = answer.judgement
    return {
        "answer": "reading",
        "level": found.level,
        "status": sentences.status(answer, reader),
        "judged": [
            {"what": one.parameter, "value": _number(one.value), "level": one.level, "or_worse": one.or_worse}
            for one in found.judged
        ],
        "not_judged": [one.parameter for one in found.unjudged],
        "now": sentences.now(answer, reader),
        "then": sentences.later(answer, reader),
        "not_to_do": [sentences.warned_shortly(one, reader) for one in sentences.pertinent(answer)],
        "test_again_within_h": _number(answer.again_h),
    }


def of_log(garden: Garden, found: Mended, told: Told | None, reader: Reader) -> dict[str, Any]:
    """What the newest rows tell, what was mended, and what has to be asked."""
    newest = None if told is None or told.answer is None else of_reading(told.answer, reader)
    return {
        "answer": "log",
        "garden": garden.name,
        "level": "not known" if told is None else told.level,
        "day": None if told is None else told.day.isoformat(),
        "days": len(found.log.rows),
        "newest": newest,
        "findings": [] if told is None else _findings(told.findings, reader),
        "past": [] if told is None else _findings(told.past, reader),
        "repairs": _rows(found.repairs, reader),
        "doubts": _rows(found.doubts, reader),
    }


def _findings(found: Iterable[Finding], reader: Reader) -> list[dict[str, Any]]:
    return [
        {
            "key": one.key,
            "level": one.level,
            "subject": one.subject,
            "months": list(one.months),
            "first": None if one.first is None else one.first.isoformat(),
            "last": None if one.last is None else one.last.isoformat(),
            **vars(words.finding(one, reader)),
        }
        for one in found
    ]


def _rows(found: Iterable[Repair | Doubt], reader: Reader) -> list[dict[str, Any]]:
    return [
        {"row": one.row, "column": one.column, "was": one.was, "text": log_sentences.sentence(one, reader)}
        for one in found
    ]


def _limit(one: Limit) -> dict[str, Any]:
    return {
        "limit": one.key,
        "must": one.must,
        "counts": one.counts,
        "feed_g_day": _band(one.feed_g_day),
        "fish_kg": _band(one.fish_kg),
        "bed_m2": _band(one.bed_m2),
    }


def _band(found: Band) -> dict[str, list[float | None]]:
    ends = {"low": found.low, "middle": found.middle, "high": found.high}
    return {name: [_number(value) for value in np.atleast_1d(end)] for name, end in ends.items()}


def _number(value: float) -> float | None:
    return float(f"{float(value):.{DIGITS}g}") if math.isfinite(value) else None
