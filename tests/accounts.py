"""A household's year in money: half of the harvest of a measured pair of units, prices of common practice."""

from aquacalc import money

YEAR = money.Account(
    fish_kg=31.0,
    crops_kg=176.0,
    fish_worth_kg=6.0,
    crops_worth_kg=2.2,
    feed_kg=46.5,
    feed_price_kg=2.0,
    kwh=500.0,
    heat_kwh=0.0,
    price_kwh=0.3,
    water_m3=15.0,
    water_price_m3=2.0,
    fish=30.0,
    seed=40.0,
    other=60.0,
    build=1200.0,
    build_years=8.0,
    hours_week=3.0,
    wage_hour=12.0,
)
