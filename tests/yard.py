"""A small invented garden for tests of the balance: one tank, two media beds, catfish, no backup."""

from datetime import date

from aquacalc.garden.model import (
    Air,
    Bed,
    CropPlan,
    Feed,
    FishBatch,
    Garden,
    Heat,
    Light,
    MonthlyClimate,
    Power,
    Prices,
    Pump,
    Rain,
    ReaderChoice,
    Season,
    Site,
    SolidsFilter,
    StartUp,
    Sump,
    Tank,
    TopUp,
    Wishes,
)

CLIMATE = MonthlyClimate(
    air_max_c=(14.0, 17.0, 21.0, 26.0, 31.0, 36.0, 38.0, 37.0, 33.0, 27.0, 19.0, 14.0),
    air_min_c=(-1.0, 1.0, 5.0, 9.0, 14.0, 19.0, 22.0, 21.0, 16.0, 9.0, 3.0, -1.0),
    humidity_pct=(45.0, 38.0, 32.0, 26.0, 24.0, 22.0, 32.0, 36.0, 34.0, 34.0, 40.0, 46.0),
)


def yard() -> Garden:
    """Forty catfish in 1135 L, two beds of 1.5 m2, at 1300 m."""
    return Garden(
        name="Test yard",
        invented=True,
        reader=ReaderChoice(),
        site=Site("Nowhere", 33.0, 1300.0, "open", "home", CLIMATE, 8.0),
        tanks=(Tank("tank 1", 1135.0, 1.5, 0.8),),
        beds=(
            Bed("bed 1", "media", 1.5, 0.3, 0.25, "expanded_clay", "siphon"),
            Bed("bed 2", "media", 1.5, 0.3, 0.25, "gravel", "siphon"),
        ),
        sump=Sump(300.0, 450.0),
        pumps=(Pump("pump 1", 3000.0, 3.0, 1.4, 45.0),),
        pipes=(),
        drains=(),
        solids_filter=SolidsFilter("none"),
        biofilter=None,
        air=Air(30.0, 0.6, "small", 20.0),
        heat=Heat(),
        light=Light(),
        power=Power("none"),
        top_up=TopUp("mains", "chloramine", 3.0),
        rain=Rain(),
        feeds=(Feed("pellets", 32.0),),
        fish=(FishBatch("spring", "channel_catfish", 40, 60.0, date(2027, 4, 1), 600.0, "tank 1"),),
        crops=(
            CropPlan("okra", "bed 1", 1.5, (5, 6, 7, 8, 9)),
            CropPlan("capsicum", "bed 2", 1.5),
        ),
        start_up=StartUp("running"),
        wishes=Wishes(10.0, "lettuce_leaf", 40.0, "channel_catfish"),
        away=(),
        rules=(),
        kits=(),
        products=(),
        measured=(),
        prices=Prices(),
        season=Season(date(2027, 3, 1), date(2028, 2, 29)),
    )
