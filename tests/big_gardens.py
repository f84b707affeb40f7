"""Gardens with many batches of crops, invented, for tests of what is drawn and printed of them."""

from aquacalc import tables

HEAD = """# invented, for tests
format = 1
name = "{name}"
invented = true

[site]
latitude = "35 N"
altitude_m = 50

[site.climate]
air_max_c = [20, 20, 21, 22, 24, 25, 26, 26, 25, 23, 21, 20]
air_min_c = [12, 12, 13, 14, 15, 16, 17, 17, 16, 15, 13, 12]

[season]
start = "2027-03-01"
end = "2028-02-29"

[[tank]]
name = "tank"
volume = "20000 L"
depth = "1.2 m"

[[fish]]
species = "silver_perch"
count = 100
weight = "100 g"
"""

RAFTS, MEDIA = 8, 2
WEEKLY = (
    *("lettuce_leaf", "lettuce_butterhead", "lettuce_cos", "pak_choi", "mustard_mizuna"),
    *("rocket", "spinach", "coriander", "basil", "kohlrabi"),
)
"""Crops of which heads are picked every week."""


def steady() -> str:
    """Two crops, three heads a week of each, twelve months."""
    text = HEAD.format(name="Steady garden")
    text += '\n[[bed]]\nname = "raft"\nkind = "raft"\narea = "8 m2"\ndepth_m = 0.3\n'
    for crop in ("lettuce_leaf", "pak_choi"):
        text += f'\n[[crop]]\ncrop = "{crop}"\narea = "4 m2"\nheads = "3 heads/week"\n'
    return text


def big() -> str:
    """Forty crops in ten beds, ten of them sown every week: more than four hundred sowings."""
    text = HEAD.format(name="Big garden")
    for number in range(1, RAFTS + 1):
        text += f'\n[[bed]]\nname = "raft {number}"\nkind = "raft"\narea = "40 m2"\ndepth_m = 0.3\n'
    for number in range(1, MEDIA + 1):
        text += f'\n[[bed]]\nname = "gravel {number}"\nkind = "media"\narea = "40 m2"\ndepth_m = 0.3\n'
        text += "flood_m = 0.25\n"
    for place, crop in enumerate(WEEKLY):
        text += _crop(crop, f"raft {place % RAFTS + 1}", 8) + 'heads = "10 heads/week"\n'
    others = [row for row in tables.load("crops") if row.key not in WEEKLY]
    for place, row in enumerate(others[:30]):
        raft = row.number("suit_raft") > 0.0
        text += _crop(row.key, f"raft {place % RAFTS + 1}" if raft else f"gravel {place % MEDIA + 1}", 2)
    return text


def _crop(crop: str, bed: str, area_m2: int) -> str:
    return f'\n[[crop]]\ncrop = "{crop}"\nbed = "{bed}"\narea = "{area_m2} m2"\n'
