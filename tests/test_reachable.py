"""Every function has a reader: the command or a notebook reaches it, or it stands in the list below."""

import reachable

WAITING = {
    "for a notebook that builds the loop": {
        "aeration": "oxygen_after_fall_mg_l",
        "climate.evaporation": "open_water_evaporation_mm_d",
        "climate.tank": "heater_w lag_h",
        "hydraulics.leaks": "usual_loss_l_day",
        "hydraulics.turnover": (
            "closed_loop_mg_l flow_for_oxygen_l_h oxygen_lost_in_pause_mg_l"
            " oxygen_with_aeration_mg_l rise_mg_l"
        ),
        "nitrogen": "flow_for_tan_l_h media_litres sphere_surface_m2_m3",
        "power": "array_w storage_kwh",
    },
    "for a notebook with fish, crops and money in hand": {
        "charts.year": "describe_water water_temperature",
        "climate.days": "growing_degree_days",
        "crops": (
            "area_days_per_plant_m2_d base_need_eq_day exchange_to_hold_l_day fed_area_m2"
            " nitrate_drift_mg_l_d plants_for_weekly_kg potassium_share sowing_dates"
            " uptake_g_m2_d"
        ),
        "fish": "alive fcr_multiplier growth_rate_pct_d kg_for_feed stock_count",
        "nitrogen": "ammonia_solution_ml ammonium_salt_g capacity_left days_to_fall",
        "water.salts": "after_flushing_mg_l before_daily_change_mg_l",
    },
    "for a notebook of many gardens and years of weather": {
        "climate.evaporation": "vapour_pressure_kpa wind_at_2_m",
        "climate.sun": "radiation_from_sunshine",
        "climate.tank": "from_readings",
    },
    "for whoever calls the formulas from code": {
        "judge.salt": "level",
        "kits": "dilution_to_read",
        "nitrogen": "epa_growth_1_d nitrification_oxygen_g",
        "water.ammonia": "unionised_fraction_at_ionic_strength",
        "water.chlorine": "residual_mg_l",
        "water.salts": "salt_us_cm",
        "water.top_up": "Loop after_days_mg_l",
    },
    "by which tests see that a result is right": {
        "advice.triage": "signs",
        "agenda.when": "on",
        "harvest.done": "table",
        "logbook.clock": "is_plain",
        "logbook.read": "beside read",
        "schedule.space": "Space space",
        "season.hour": "cell_nitrogen_g",
        "season.result": "load",
        "sentences.reading": "actions",
        "startup.backward": "before",
        "startup.case": "typed",
        "startup.forecast": "Started of_log update",
        "startup.members": "nitrogen_mg_l",
    },
}
"""What nobody reaches yet, by what it waits for."""


def waiting() -> list[str]:
    return [
        f"{module}.{name}"
        for modules in WAITING.values()
        for module, names in modules.items()
        for name in names.split()
    ]


def test_who_waits_is_named_once():
    assert len(waiting()) == len(set(waiting()))


def test_every_function_has_a_reader_or_is_named_as_waiting():
    assert reachable.unreached() - set(waiting()) == set(), "wire these to a reader, or take them away"


def test_who_has_a_reader_waits_no_longer():
    assert set(waiting()) - reachable.unreached() == set(), "take these from the list"


def test_what_readers_use_is_found():
    there = reachable.reached()
    for one in (
        ("aquacalc.sizing.surfaces", "area_m2"),
        ("aquacalc.advice.season.nitrate", "findings_of"),
        ("aquacalc.water.oxygen", "saturation_mg_l"),
        ("aquacalc.charts.season_strip", "strip"),
    ):
        assert one in there
