"""The page and the schema of the garden file say what the sections hold now."""

import json
import tomllib
from datetime import date

import docs_from_sections
import jsonschema
import pytest

from aquacalc.garden import places, sections


@pytest.mark.parametrize("name", sorted(docs_from_sections.FILES))
def test_file_is_up_to_date(name: str):
    written = (docs_from_sections.ROOT / name).read_text("utf-8")
    # How lines break in HTML is the renderer's own matter.
    assert written.split() == docs_from_sections.FILES[name]().split(), (
        f"run python tests/docs_from_sections.py: {name} is out of date"
    )


def plain(value: object) -> object:
    if isinstance(value, dict):
        return {key: plain(one) for key, one in value.items()}
    if isinstance(value, list):
        return [plain(one) for one in value]
    return value.isoformat() if isinstance(value, date) else value


@pytest.mark.parametrize(
    "path",
    [*(places.garden_path(f"demo:{name}") for name in places.demos()), places.starter()],
    ids=lambda path: f"{path.parent.name}-{path.stem}",
)
def test_the_schema_takes_every_garden_that_is_shipped(path):
    schema = json.loads(docs_from_sections.schema())
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(plain(tomllib.loads(path.read_text("utf-8"))), schema)


@pytest.mark.parametrize(
    "garden",
    [
        {"format": 2, "site": {"latitude_deg": 1}},
        {"format": 1},
        {"format": 1, "site": {"latitude_deg": 1}, "tank": [{"depth_m": 1}]},
        {"format": 1, "site": {"latitude_deg": 1}, "tank": [{"volume_l": 100, "depht_m": 1}]},
        {"format": 1, "site": {"latitude_deg": 1, "climate": {"air_max_c": [1] * 11}}},
    ],
)
def test_the_schema_refuses_what_the_program_refuses(garden: dict[str, object]):
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(garden, json.loads(docs_from_sections.schema()))


def test_every_key_has_its_text():
    for title, section, _ in docs_from_sections.walk(sections.File, ""):
        assert section.__doc__, title
        assert all(field.description for field in section.model_fields.values()), title
