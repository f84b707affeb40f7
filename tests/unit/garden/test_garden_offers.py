"""What could be bought and what may be spent, as the garden file tells it."""

import pytest

from aquacalc.errors import InputError
from aquacalc.garden.file import GardenFile


@pytest.fixture(scope="module")
def yard():
    return GardenFile.open("demo:yard")


def keys(error) -> list[tuple[str, str]]:
    return [(one.key, one.where) for one in error.value.problems]


def test_an_offer_is_read_in_the_unit_of_its_kind(yard):
    told = {"what": "air", "size": "1.5 cfm", "price": 60, "power": "30 W"}
    (found,) = yard.change("offer", [told]).garden.offers
    assert found.size == pytest.approx(1.5 * 28.3168, rel=1e-4)
    assert (found.what, found.price, found.power_w) == ("air", 60.0, 30.0)


def test_a_cover_has_no_size(yard):
    (found,) = yard.change("offer", [{"what": "cover", "price": 35}]).garden.offers
    assert found.size == 0.0


@pytest.mark.parametrize(
    ("told", "problem", "where"),
    [
        ({"what": "air", "price": 60}, "problem-missing", "size"),
        ({"what": "air", "size": "40 L", "price": 60}, "problem-unit-kind", "size"),
        ({"what": "bed", "size": "1 m2", "price": 60}, "problem-missing", "bed"),
        ({"what": "bed", "size": "1 m2", "price": 60, "bed": "nrth bed"}, "problem-unknown-name", "bed"),
        ({"what": "biofilter", "size": "40 L", "price": 60}, "problem-missing", "medium"),
        ({"what": "rocket", "price": 60}, "problem-choice", "what"),
        ({"what": "cover", "price": -1}, "problem-range", "price"),
    ],
)
def test_an_offer_that_cannot_be_is_told(yard, told, problem, where):
    with pytest.raises(InputError) as error:
        yard.change("offer", [told])
    assert [(key, place.rsplit(" ", 1)[-1]) for key, place in keys(error)] == [(problem, where)]


def test_weights_that_are_sold_are_a_list(yard):
    found = yard.changed({"wishes.sold_at": ["1 oz", "2 oz", "2 oz"], "wishes.to_buy_at_most": 250})
    assert found.garden.wishes.sold_at_g == pytest.approx((28.35, 56.70), abs=0.01)
    assert found.garden.wishes.to_buy_at_most == 250.0
    with pytest.raises(InputError) as error:
        yard.change("wishes.sold_at", "2 oz")
    assert keys(error)[0][0] == "problem-list"
