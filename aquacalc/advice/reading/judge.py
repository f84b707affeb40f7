"""The verdict on a reading, with what several readings say together and what was taken for granted."""

import math
from dataclasses import dataclass

from aquacalc.advice.finding import Amount, Note
from aquacalc.advice.reading import together
from aquacalc.advice.reading.given import Given
from aquacalc.judge import water
from aquacalc.judge.levels import reaches
from aquacalc.judge.water import DRAWS, Verdict


@dataclass(frozen=True)
class Judgement(Verdict):
    """All of it. notes: reasons that several readings give together. assumed: what was taken for granted;
    asked: what had better be repeated or told."""

    given: Given
    notes: tuple[Note, ...]
    assumed: tuple[Note, ...]
    asked: tuple[Note, ...]

    @property
    def wants_air(self) -> bool:
        """Whether oxygen is short, or fish show trouble while nobody knows how much there is."""
        unknown = bool(self.given.signs) and "oxygen" not in self.given.measures
        return unknown or self.reached("oxygen", "watch")

    @property
    def may_act(self) -> bool:
        """Whether un-ionised ammonia may ask to act today, by the errors of the kit."""
        one = self.of("unionised_ammonia")
        return one is not None and reaches(one.level_high, "act today")


def judge(given: Given, draws: int = DRAWS) -> Judgement:
    """The judgement of what was given. draws: of the kit's errors, for the range of un-ionised ammonia."""
    facts = given.facts
    found = water.judge(facts, draws)
    return Judgement(
        judged=found.judged,
        unjudged=found.unjudged,
        ph=found.ph,
        temperature_c=found.temperature_c,
        given=given,
        notes=tuple(together.notes(given)),
        assumed=(*given.assumed, *_assumed(given)),
        asked=(*given.asked, *together.asked(given, found)),
    )


def _assumed(given: Given) -> list[Note]:
    """What was not read and is taken at its severest."""
    assumed, facts = [], given.facts
    if "tan" in given.measures:
        if math.isnan(given.value("ph")):
            assumed.append(Note("reading-assumed-ph", (Amount("ph", facts.ph, "ph"),)))
        if math.isnan(given.value("temperature")):
            season = not math.isnan(given.season_high_c)
            key = "reading-assumed-season" if season else "reading-assumed-warm"
            assumed.append(Note(key, (Amount("temperature", facts.warm_c, "temperature"),)))
    if given.value("nitrite") > 0.0 and math.isnan(facts.chloride_mg_l):
        assumed.append(Note("reading-assumed-chloride"))
    return assumed
