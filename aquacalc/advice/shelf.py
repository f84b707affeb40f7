"""What stands on a garden's shelf: what takes chlorine out, and how pure a product is."""

from collections.abc import Iterable

from aquacalc import tables
from aquacalc.garden.model import Product


def dechlorinator(products: Iterable[Product]) -> Product | None:
    """The first product that takes chlorine and chloramine out, or None."""
    table = tables.load("chemicals")
    return next((one for one in products if table.row(one.chemical).text("kind") == "dechlorinator"), None)


def share_pure(product: Product | None) -> float:
    """Share of a product that is the chemical; what is bought anew counts as pure.

    >>> share_pure(Product("lime", "calcium_hydroxide", 93.0)), share_pure(None)
    (0.93, 1.0)
    """
    return 1.0 if product is None else product.strength_pct / 100.0


def removes_g_g(chemical: str, share: float = 1.0) -> float:
    """Grams of a dechlorinator, of which a share is the chemical, for each gram of chlorine."""
    return tables.load("chemicals").row(chemical).number("dechlorination_default_g_g") / share
