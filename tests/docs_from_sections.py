"""What is said of the garden file, from its sections: `python tests/docs_from_sections.py` writes it anew.

Once in docs/, and once among what `aquacalc new` puts into a folder.

A test compares the files with the sections, so that neither can change alone.
"""

import json
import re
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))

from aquacalc import tables, units  # noqa: E402  (the script may run without an installed package)
from aquacalc.garden import fields, sections  # noqa: E402
from aquacalc.logbook import columns  # noqa: E402

HEAD = """# The garden file

This page is written from the program by `python tests/docs_from_sections.py`; the same rules stand in
[garden.schema.json](garden.schema.json) for editors that read JSON Schema.

`garden.toml` tells everything about one garden, in TOML: `key = value` under a heading in brackets. A heading
in double brackets, as `[[tank]]`, may stand several times, once for each tank.

- A **quantity** is text with its unit, `volume = "300 US gal"`, or a bare number under a key that names the
  unit, `volume_us_gal = 300`. Comma and point are both decimal marks; `"1 1/2 in"` and `"5 ft 3 in"`
  are understood. A word that means two units, as `gal`, is refused, and both are offered.
- **Twelve months** are a list of twelve quantities, January first: `air_max_c = [4, 6, 11, ...]`.
- A **name** must be the same wherever it is used; letters of any script, spaces and signs will do.
- A **date** is written `2027-03-01`, a day of the year `"04-15"`.
- Keys in **bold** must be given, and of a tank or sump its volume or its shape. What is left out is
  assumed, and every page lists what was assumed.
- `aquacalc check` tells every problem of a file at once, one a line.
- `[[measured]]` is for what you measured yourself: it takes the place of what is reckoned, and both are told.

## The log beside it

`log.csv` in the same folder is a table from any spreadsheet, a row a day. Its first column is `date`; the
others are told by their names: {columns}. A unit, or what a number counts, stands in brackets behind the
name, `ammonia (mg/L as N)`. Doses and pickings are told by the name of the chemical or crop, `potassium
bicarbonate (g)`, `picked kale (g)`; fish by {fish}. A line that begins with `#` is a remark. Messy logs are
read, too: `aquacalc log` lists what it mended and what it must ask.
"""


def page() -> str:
    """Every section with its keys: what they mean, what is read, what is refused."""
    named = (f"`{title}`" for title in (columns.TIME, *columns.WATER, "feed", "top-up", columns.NOTE))
    fish = (f"`fish {word}`" for word in columns.FISH)
    lines = [HEAD.replace("{columns}", ", ".join(named)).replace("{fish}", ", ".join(fish))]
    for title, section, repeated in walk(sections.File, ""):
        if title:
            lines += [f"## {f'[[{title}]]' if repeated else f'[{title}]'}", ""]
        else:
            lines += ["## At the top", ""]
        lines += [section.__doc__ or "", "", "| key | what it is | what is read |", "| --- | --- | --- |"]
        lines += [
            row(name, section)
            for name, field in fields.by_key(section).items()
            if fields.inner(field) is None
        ]
        lines.append("")
    return "\n".join([*lines, *unit_lists()]) + "\n"


def walk(
    section: type[fields.Section], title: str, repeated: bool = False
) -> Iterator[tuple[str, type[fields.Section], bool]]:
    """A section and the ones inside it, in the order of the file, with their headings."""
    yield title, section, repeated
    for name, field in section.model_fields.items():
        below = fields.inner(field)
        if below is not None:
            yield from walk(below, f"{title}.{name}" if title else name, fields.is_list(field))


def row(name: str, section: type[fields.Section]) -> str:
    field = fields.by_key(section)[name]
    key = f"**`{name}`**" if field.is_required() else f"`{name}`"
    reading = fields.reading_of(field)
    taken = f"a quantity of its kind: {', '.join(of_kinds(section))}" if reading is None else read(reading)
    return f"| {key} | {field.description} | {taken} |"


def of_kinds(section: type[fields.Section]) -> Iterator[str]:
    """What may be given where the kind of a quantity hangs on another key."""
    kinds = {sections.Measured: sections.MEASURED, sections.Offer: sections.OFFERED}[section]
    return (f"`{what}`" for what, (quantity, _) in kinds.items() if quantity or section is sections.Measured)


def read(reading: fields.Reading) -> str:
    """What a key takes, in words."""
    match reading:
        case fields.Monthly():
            return f"twelve of {kind(reading.kind)}, each {within(reading.bound)}"
        case fields.Quantity():
            return f"{kind(reading.kind)}, {within(reading.bound)}"
        case fields.Number():
            return f"a {'whole ' if reading.whole else ''}number, {within(reading.bound)}"
        case fields.Known():
            return f"a name of [this list](#names-that-are-known): {reading.table}"
        case fields.Choice():
            return ", ".join(f"`{one}`" for one in reading.words)
        case fields.Yes():
            return "`true` or `false`"
        case fields.Text():
            return "a name" if reading.name else "text"
        case fields.Day():
            return "a date"
        case fields.DayOfYear():
            return "a day of the year"
        case fields.Several():
            return f"a list, each {read(reading.each)}"
        case fields.Numbers():
            return "two or more rising numbers"
        case fields.MonthNumbers():
            return "numbers of months, `[4, 5, 6]`"
        case sections.Version():
            return f"`{sections.FORMAT}`"
    raise AssertionError(f"nothing is said of {reading}")


def kind(name: str) -> str:
    return f"[{name.replace('_', ' ')}](#units)"


def within(bound: str) -> str:
    low, high, unit = fields.bounds(bound).said
    return f"{low} to {high} {unit}".strip()


def unit_lists() -> list[str]:
    lines = ["## Units", "", "A bare number takes the end of the key from this list: `volume_us_gal`.", ""]
    lines += ["| kind | unit, and end of the key |", "| --- | --- |"]
    for name in units.kinds():
        ends = (f"{one.label or 'a part of one'} (`_{one.suffix}`)" for one in units.of_kind(name))
        lines.append(f"| {name.replace('_', ' ')} | {', '.join(ends)} |")
    lines += ["", "## Names that are known", "", "The key or the name in words will do.", ""]
    lines += ["| list | names |", "| --- | --- |"]
    for table in ("species", "crops", "media", "chemicals"):
        names = (f"`{one.key}` ({one.text('name')})" for one in tables.load(table))
        lines.append(f"| {table} | {', '.join(names)} |")
    return lines


def schema() -> str:
    """The garden file as JSON Schema."""
    made = {"$schema": "https://json-schema.org/draft/2020-12/schema", **sections.File.model_json_schema()}
    return json.dumps(tidy(made), indent=1, ensure_ascii=False) + "\n"


def tidy(value: object) -> object:
    # TOML has no null and the titles repeat the keys.
    if isinstance(value, dict):
        kept = {
            k: v
            for k, v in value.items()
            if not (k == "default" and v in (None, [])) and not (k == "title" and isinstance(v, str))
        }
        return {key: tidy(one) for key, one in kept.items()}
    return [tidy(one) for one in value] if isinstance(value, list) else value


HTML = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>The garden file</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<style>body{{font:16px/1.5 sans-serif;max-width:60em;margin:1em auto;padding:0 1em}}
table{{border-collapse:collapse}}td,th{{border:1px solid #888;padding:3px 8px;text-align:left}}
code{{background:#eee}}</style></head>
<body>
{body}</body></html>
"""


def html_page() -> str:
    """The page for a folder without a network: the same, as a browser shows it."""
    import mistune

    body = str(mistune.create_markdown(plugins=["table"])(page()))

    def named(found: re.Match[str]) -> str:
        anchor = re.sub(r"[^a-z0-9]+", "-", re.sub(r"<[^>]+>", "", found[1]).lower()).strip("-")
        return f'<h2 id="{anchor}">{found[1]}</h2>'

    return HTML.format(body=re.sub(r"<h2>(.*?)</h2>", named, body))


FILES = {
    "docs/garden-file.md": page,
    "docs/garden.schema.json": schema,
    "aquacalc/data/starter/garden-file.html": html_page,
    "aquacalc/data/starter/garden.schema.json": schema,
}

if __name__ == "__main__":
    for file, written in FILES.items():
        (ROOT / file).write_text(written(), "utf-8")
