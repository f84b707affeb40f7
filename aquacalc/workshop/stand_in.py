"""Fish and a bed that stand in where a garden file names none yet, so that its sheets have numbers."""

from collections.abc import Collection

from aquacalc.garden import edit

LACKING = {"problem-no-fish": "fish", "problem-no-bed": "bed"}
"""What a garden file is refused for, and the section that it lacks then."""

ENTRIES: dict[str, dict[str, object]] = {
    "fish": {
        "fish.0.species": "goldfish",
        "fish.0.count": 10,
        "fish.0.weight": "50 g",
        "fish.0.final_weight": "80 g",
        "fish.0.eaten": False,
    },
    "bed": {
        "bed.0.kind": "media",
        "bed.0.area": "1 m2",
        "bed.0.depth": "0.3 m",
        "bed.0.flood": "0.25 m",
        "crop.0.crop": "lettuce_leaf",
    },
}
"""A few fish and a small bed. Our own choice."""


def filled(text: str, lacking: Collection[str]) -> str:
    """The text of a garden file with entries that stand in for the sections that it lacks."""
    for section in lacking:
        for dotted, value in ENTRIES[section].items():
            text = edit.changed(text, dotted, value)
    return text
