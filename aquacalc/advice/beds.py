"""Findings about crops that heat, cold or the dark keeps out of their bed: what could stand there instead."""

from aquacalc.advice.finding import Amount, Finding
from aquacalc.garden.model import Garden
from aquacalc.schedule import crops
from aquacalc.schedule.kept_out import KeptOut, kept_out

HOT = ("finding-crop-too-hot", "crop air water instead")
CULTIVAR = ("finding-crop-too-hot-cultivar", "air water crop instead")
NOTHING = ("finding-crop-too-hot-nothing", "crop air water")
COLD = ("finding-crop-too-cold", "crop air water instead")
DARK = ("finding-crop-too-dark", "crop instead")
SOURCES = ("CAROTTI21", "HOLMES19", "OWN", "TRADE")


def of_garden(garden: Garden) -> list[Finding]:
    """One finding a crop, bed and span; of cold and dark only where another crop could stand there."""
    found = []
    for one in kept_out(garden, crops.batches(garden)):
        told = _told(one)
        if told is not None:
            key, names = told
            amounts = {
                "crop": Amount("crop", one.crop, "crop"),
                "air": Amount("air", one.air_c, "temperature"),
                "water": Amount("water", one.water_c, "temperature"),
                "instead": Amount("instead", " ".join(one.instead), "crops"),
            }
            said = tuple(amounts[name] for name in names.split())
            found.append(Finding(key, one.bed, "watch", said, (), SOURCES, one.first, one.last))
    return found


def _told(one: KeptOut) -> tuple[str, str] | None:
    """Key of a finding and the names of its amounts."""
    if not one.instead:
        return NOTHING if one.because == "too_hot" else None
    if one.tolerant:
        return CULTIVAR
    return {"too_hot": HOT, "too_cold": COLD, "too_dark": DARK}.get(one.because)
