"""The text of a small invented garden file, whole and without a fault, for tests that put one in."""

TEXT = """# invented, for tests
format = 1
name = "Small garden"
invented = true

[site]
latitude = "40 N"
altitude_m = 200      # above the sea

[site.climate]
air_max_c = [6, 8, 12, 17, 21, 25, 27, 27, 23, 17, 11, 7]
air_min_c = [-1, 0, 3, 7, 11, 15, 17, 17, 13, 8, 4, 0]

[[tank]]
name = "tank"
volume = "1000 L"     # to the overflow
depth = "0.8 m"

[[bed]]
name = "bed"
kind = "media"
area = "2 m2"
depth_m = 0.3
flood_m = 0.25

[[fish]]
species = "silver_perch"
count = 20
weight = "100 g"

[[crop]]
crop = "lettuce_leaf"
"""


def with_line(section: str, line: str) -> str:
    """The small garden with one more line at the head of a section."""
    head = f"[[{section}]]\n" if f"[[{section}]]\n" in TEXT else f"[{section}]\n"
    assert head in TEXT
    return TEXT.replace(head, f"{head}{line}\n")


def replaced(old: str, new: str) -> str:
    """The small garden with a piece of its text replaced."""
    assert old in TEXT
    return TEXT.replace(old, new)
