"""A garden made by hand for tests of findings: invented, ordinary in every way, with nothing to act on."""

from datetime import date

from aquacalc.garden.model import (
    Air,
    Bed,
    Biofilter,
    CropPlan,
    Drain,
    Feed,
    FishBatch,
    Garden,
    Heat,
    Kit,
    KitScale,
    Light,
    LocalRule,
    Measured,
    MonthlyClimate,
    Pipe,
    Power,
    Prices,
    Product,
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


def garden() -> Garden:
    """Twenty silver perch, one gravel bed, a settler, a biofilter, battery air."""
    return Garden(
        name="Invented garden",
        invented=True,
        reader=ReaderChoice(),
        site=Site(
            name="Nowhere",
            latitude_deg=40.0,
            altitude_m=100.0,
            cover="open",
            setting="home",
            climate=MonthlyClimate(air_max_c=(25.0,) * 12, air_min_c=(15.0,) * 12),
            hours_until_help=2.0,
        ),
        tanks=(Tank("Pool", volume_l=1000.0, surface_m2=1.2, depth_m=0.85),),
        beds=(Bed("North bed", "media", 2.0, 0.3, 0.25, medium="gravel", drain="siphon"),),
        sump=Sump(volume_l=400.0, rim_l=800.0),
        pumps=(Pump("Pump", 2500.0, 3.0, 1.2, 30.0),),
        pipes=(Pipe("Riser", 3.0, 26.2),),
        drains=(Drain("Overflow", 44.0, emergency=True),),
        solids_filter=SolidsFilter("radial", 80.0, 0.25),
        biofilter=Biofilter("moving_bed_carrier", 60.0, 400.0),
        air=Air(40.0, 0.7, "small", 25.0),
        heat=Heat(),
        light=Light(),
        power=Power(
            backup="battery air",
            battery_wh=800.0,
            backup_air_l_min=60.0,
            backup_hours=8.0,
            starts_by_itself=True,
            alarm=True,
        ),
        top_up=TopUp(
            source="mains",
            disinfectant="none",
            chlorine_max_mg_l=0.0,
            alkalinity_mg_l=90.0,
            hardness_mg_l=110.0,
            chloride_mg_l=20.0,
        ),
        rain=Rain(),
        feeds=(Feed("Bag", 35.0),),
        fish=(FishBatch("Perch", "silver_perch", 20, 100.0, date(2026, 9, 1), 500.0, "Pool"),),
        crops=(CropPlan("lettuce_leaf", "North bed", 2.0),),
        start_up=StartUp("running", date(2024, 3, 1)),
        wishes=Wishes(),
        away=(),
        rules=(
            LocalRule(
                "May I keep Silver perch here?", "fisheries office", date(2026, 5, 1), "with permit 12"
            ),
        ),
        kits=(
            Kit(
                "Drops",
                None,
                (KitScale("tan", "NH3"), KitScale("nitrite", "NO2"), KitScale("nitrate", "NO3")),
            ),
        ),
        products=(Product("Crystals", "thiosulfate_pentahydrate", 100.0, 5.0),),
        measured=(
            Measured("ph", 6.9, ""),
            Measured("alkalinity", 60.0, "mg_l_caco3"),
            Measured("oxygen", 7.0, "mg_l"),
        ),
        prices=Prices(),
        season=Season(date(2027, 1, 1), date(2027, 12, 31)),
    )
