"""All findings of a garden: of its description, and of its balance."""

from aquacalc.advice import balance as of_year
from aquacalc.advice import beds, build, stock, water
from aquacalc.advice.finding import Finding, ordered
from aquacalc.garden.model import Garden
from aquacalc.sizing.result import Balance


def of_garden(garden: Garden) -> tuple[Finding, ...]:
    """Findings of the garden's description, the most urgent first."""
    return ordered(
        [
            *water.of_garden(garden),
            *stock.of_garden(garden),
            *build.of_garden(garden),
            *beds.of_garden(garden),
        ]
    )


def of_balance(garden: Garden, balance: Balance) -> tuple[Finding, ...]:
    """Findings of a balance of the garden, the most urgent first."""
    return ordered(of_year.of_balance(garden, balance))


def of_both(garden: Garden, balance: Balance) -> tuple[Finding, ...]:
    """Findings of the balance and of the description together, the most urgent first."""
    return ordered([*of_balance(garden, balance), *of_garden(garden)])
