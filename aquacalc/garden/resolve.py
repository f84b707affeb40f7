"""From the sections of a file to the garden that is reckoned with: a default in every gap, each told."""

import math
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any, TypeVar, cast

from aquacalc import minerals, tables, units
from aquacalc.constants import HOURS_PER_DAY, MONTHS_PER_YEAR
from aquacalc.garden import aimed, checks, measured, model, sections, vessels, weather
from aquacalc.garden.place import Place, place
from aquacalc.uncertainty import coefficient
from aquacalc.water import salts

Value = TypeVar("Value")

# Defaults, in base units. Common practice, no source, where nothing else is said.
TANK_DEPTH_M = 0.7
TANK_DROP_M = 0.02  # water stands this much above the edge of its outlet while the pump runs
BED_DEPTH_M = {"media": 0.30, "raft": 0.30, "channel": 0.08}
DRY_TOP_M = 0.05  # dry top of a media bed; FAO 589 gives 0.05 to 0.07 (from memory)
WATER_DEPTH_M = {"raft": 0.25, "channel": 0.01}
MEDIUM = "gravel"  # the medium with the least surface and void of the usual ones, so the cautious one
TIMER_SHARE_ON = 0.25  # fifteen minutes in an hour
SUMP_USED_SHARE = 0.6
PUMP_TANKS_PER_HOUR = 2.0  # on the box; about one is left after lift and bends
PUMP_HEAD_M = 2.5
PUMP_LIFT_M = 1.2
PUMP_W_PER_L_H = 0.015
STONE_ABOVE_FLOOR_M = 0.1
HELP_H = {"home": 10.0, "school": 64.0, "community": 24.0}  # a night; a weekend; a day
CHLORINE_LIMIT_MG_L = 4.0  # US maximum residual, as Cl2
ROOM_C = (22.0, 18.0)  # a heated room by day and by night
STRENGTH = 1.0
SOLIDS_L_PER_TANK_L = 0.1
DRAW_EVERY_H = 168.0
"""Sludge is drawn on the garden day. Our own choice."""

DEFAULT, CAUTIOUS, NO_DISINFECTANT, TABLE, RECKONED, ABSENT, FROM_HARDNESS = (
    "assumed-default",
    "assumed-cautious",
    "assumed-no-disinfectant",
    "assumed-table",
    "assumed-reckoned",
    "assumed-absent",
    "assumed-hardness",
)


class Assumptions:
    """Collects what the file does not say while the garden is put together."""

    def __init__(self) -> None:
        self.found: list[model.Assumed] = []

    def tell(
        self, at: Place, value: object, kind: str = "", reason: str = DEFAULT, source: str = "TRADE"
    ) -> None:
        """Note one assumption; `value` in the base unit of `kind`."""
        unit = units.base(kind).label if kind else ""
        text = f"{value:.3g}" if isinstance(value, float) else str(value)
        self.found.append(model.Assumed(place(at), text, unit, reason, source))

    def given(
        self,
        at: Place,
        value: Value | None,
        default: Value,
        kind: str = "",
        reason: str = DEFAULT,
        source: str = "TRADE",
    ) -> Value:
        """The value of the file, else the default, which is noted."""
        if value is not None:
            return value
        self.tell(at, default, kind, reason, source)
        return default


def garden(file: sections.File, folder: Path, called: str, today: date) -> model.Garden:
    """The garden of a checked file.

    folder: where the file lies, for its weather file. called: name where the file gives none.
    today: the plan begins on the first of this month where the file names no season.
    """
    told = Assumptions()
    season = _season(file, told, today)
    tanks = _tanks(file, told)
    beds = _beds(file, told)
    made = model.Garden(
        name=file.name or called,
        invented=bool(file.invented),
        reader=_reader(file.reader),
        site=_site(file.site, told, folder),
        tanks=tanks,
        beds=beds,
        sump=_sump(file, told),
        pumps=_pumps(file, told, tanks),
        pipes=tuple(
            model.Pipe(checks.name("pipe", n, one.name), one.length, one.bore)
            for n, one in enumerate(file.pipe)
        ),
        drains=tuple(
            model.Drain(checks.name("drain", n, one.name), one.bore, bool(one.emergency))
            for n, one in enumerate(file.drain)
        ),
        solids_filter=_solids_filter(file, told, tanks),
        biofilter=_biofilter(file, told),
        air=_air(file, told, tanks),
        heat=_heat(file, told),
        light=_light(file, told),
        power=_power(file, told),
        top_up=_top_up(file, told),
        rain=_rain(file, told),
        feeds=_feeds(file, told),
        fish=_fish(file, told, season, tanks),
        crops=_crops(file, told, beds, season),
        start_up=_start_up(file, told),
        wishes=_wishes(file.wishes),
        offers=tuple(_offer(one) for one in file.offer),
        away=tuple(model.Away(one.start, one.end, one.who or "") for one in file.away),
        rules=tuple(
            model.LocalRule(one.question, one.office or "", one.asked, one.answer or "") for one in file.rules
        ),
        kits=tuple(_kit(one) for one in file.kit),
        products=_products(file, told),
        measured=tuple(_measured(one) for one in file.measured),
        prices=_prices(file.prices),
        season=season,
        targets=_targets(file, told),
        care=_care(file.care),
    )
    return replace(measured.counted(file, made), assumed=tuple(told.found))


def _reader(reader: sections.Reader | None) -> model.ReaderChoice:
    given = reader.model_dump(exclude_none=True) if reader else {}
    return model.ReaderChoice(**given)


def _season(file: sections.File, told: Assumptions, today: date) -> model.Season:
    given = file.season or sections.Season()
    start, end = checks.span(file, today)
    return model.Season(
        told.given(("season", "start"), given.start, start, "", "assumed-this-month", "OWN"),
        told.given(("season", "end"), given.end, end, "", "assumed-year", "OWN"),
    )


def _site(site: sections.Site, told: Assumptions, folder: Path) -> model.Site:
    setting = told.given(("site", "setting"), site.setting, "home")
    cover: Any = told.given(("site", "cover"), site.cover, "open")
    return model.Site(
        name=site.place or "",
        latitude_deg=site.latitude,
        altitude_m=told.given(("site", "altitude"), site.altitude, 0.0, "length"),
        cover=cover,
        setting=setting,  # type: ignore[arg-type]  # one of the words of Setting, as the section checks
        climate=_climate(site, told, folder),
        hours_until_help=told.given(
            ("site", "until_help"), site.until_help, HELP_H[setting], "time", "assumed-help"
        ),
        last_frost=site.last_frost,
        first_frost=site.first_frost,
        upper_floor=bool(site.upper_floor),
        children=told.given(("site", "children"), site.children, True, "", CAUTIOUS),
    )


def _climate(site: sections.Site, told: Assumptions, folder: Path) -> model.MonthlyClimate:
    if site.weather_file is not None:
        return weather.monthly(folder / site.weather_file)
    given = site.climate
    if given is None or given.air_max is None or given.air_min is None:
        # The check lets a garden without climate pass only where it stands indoors.
        warm, cool = ROOM_C
        told.tell(("site", "climate"), f"{cool:g} to {warm:g}", "temperature", "assumed-room")
        return model.MonthlyClimate((warm,) * MONTHS_PER_YEAR, (cool,) * MONTHS_PER_YEAR)
    percent = tuple(100.0 * one for one in given.humidity) if given.humidity else None
    return model.MonthlyClimate(given.air_max, given.air_min, percent, given.wind, given.rain, given.sun)


def _tanks(file: sections.File, told: Assumptions) -> tuple[model.Tank, ...]:
    found = []
    for n, one in enumerate(file.tank):
        volume = _volume(("tank", n, "volume"), one, told)
        depth, surface = one.depth, one.surface
        if surface is None and (shaped := vessels.surface_m2(one)) is not None:
            surface = told.given(("tank", n, "surface"), None, shaped, "area", RECKONED, "OWN")
        if depth is None and surface is not None:
            depth = told.given(
                ("tank", n, "depth"), None, volume / 1000.0 / surface, "length", RECKONED, "OWN"
            )
        depth = told.given(("tank", n, "depth"), depth, TANK_DEPTH_M, "length")
        if surface is None:
            surface = told.given(
                ("tank", n, "surface"), None, volume / 1000.0 / depth, "area", RECKONED, "OWN"
            )
        drop = told.given(("tank", n, "drop"), one.drop, TANK_DROP_M, "length")
        found.append(
            model.Tank(checks.name("tank", n, one.name), volume, surface, depth, bool(one.lid), drop)
        )
    return tuple(found)


def _volume(at: Place, vessel: vessels.Shaped, told: Assumptions) -> float:
    """The volume of a vessel as given, else as its shape makes it."""
    if vessel.volume is not None:
        return vessel.volume
    made = vessels.volume_l(vessel)
    assert made is not None  # the checks let no vessel pass that has neither
    return told.given(at, None, made, "volume", RECKONED, "OWN")


def _beds(file: sections.File, told: Assumptions) -> tuple[model.Bed, ...]:
    return tuple(_bed(n, one, told) for n, one in enumerate(file.bed))


def _bed(n: int, bed: sections.Bed, told: Assumptions) -> model.Bed:
    depth = told.given(("bed", n, "depth"), bed.depth, BED_DEPTH_M[bed.kind], "length")
    medium, drain, share_on = "", "constant", 1.0
    if bed.kind == "media":
        flood = max(depth - DRY_TOP_M, depth / 2.0)
        medium = told.given(("bed", n, "medium"), bed.medium, MEDIUM, "", CAUTIOUS)
        drain = told.given(("bed", n, "drain"), bed.drain, "siphon")
        if drain == "timer":
            share_on = told.given(("bed", n, "share_on"), bed.share_on, TIMER_SHARE_ON, "share")
    else:
        flood = min(depth, WATER_DEPTH_M[bed.kind])
    return model.Bed(
        name=checks.name("bed", n, bed.name),
        kind=bed.kind,  # type: ignore[arg-type]  # one of the words of BedKind, as the section checks
        area_m2=bed.area,
        depth_m=depth,
        flood_m=told.given(("bed", n, "flood"), bed.flood, flood, "length"),
        medium=medium,
        drain=drain,  # type: ignore[arg-type]  # one of the words of DrainKind
        share_on=share_on,
    )


def _sump(file: sections.File, told: Assumptions) -> model.Sump | None:
    if file.sump is None:
        told.tell(("sump",), "none", "", ABSENT)
        return None
    volume = _volume(("sump", "volume"), file.sump, told)
    rim = told.given(("sump", "rim"), file.sump.rim, volume / SUMP_USED_SHARE, "volume")
    return model.Sump(volume, rim)


def _pumps(file: sections.File, told: Assumptions, tanks: tuple[model.Tank, ...]) -> tuple[model.Pump, ...]:
    given = file.pump
    if not given:
        flow = PUMP_TANKS_PER_HOUR * sum(tank.volume_l for tank in tanks)
        told.tell(("pump", 0, "flow"), flow, "flow")
        given = (sections.Pump(flow=f"{flow!r} L/h"),)
    return tuple(_pump(n, one, told) for n, one in enumerate(given))


def _pump(n: int, pump: sections.Pump, told: Assumptions) -> model.Pump:
    lift = told.given(("pump", n, "lift"), pump.lift, PUMP_LIFT_M, "length")
    head = told.given(("pump", n, "head"), pump.head, max(PUMP_HEAD_M, 2.0 * lift), "length")
    power = told.given(("pump", n, "power"), pump.power, PUMP_W_PER_L_H * pump.flow, "power")
    return model.Pump(
        name=checks.name("pump", n, pump.name),
        box_flow_l_h=pump.flow,
        box_head_m=head,
        lift_m=lift,
        power_w=power,
        share_on=1.0 if pump.share_on is None else pump.share_on,
        count=pump.count or 1,
        curve=tuple((point.flow, point.head) for point in pump.curve),
    )


def _solids_filter(
    file: sections.File, told: Assumptions, tanks: tuple[model.Tank, ...]
) -> model.SolidsFilter:
    given = file.solids_filter
    if given is None:
        told.tell(("solids_filter",), "none", "", ABSENT)
        return model.SolidsFilter("none")
    if given.kind == "none":
        return model.SolidsFilter("none")
    usual = SOLIDS_L_PER_TANK_L * sum(tank.volume_l for tank in tanks)
    volume = told.given(("solids_filter", "volume"), given.volume, usual, "volume")
    # A screen washes itself.
    every = 0.0
    if given.kind != "drum":
        every = told.given(("solids_filter", "draw_every"), given.draw_every, DRAW_EVERY_H, "time")
    return model.SolidsFilter(
        given.kind,  # type: ignore[arg-type]  # one of the words of SolidsKind, as the section checks
        volume,
        told.given(("solids_filter", "surface"), given.surface, volume / 1000.0 / TANK_DEPTH_M, "area"),
        every / HOURS_PER_DAY,
        bool(given.whole_flow),
    )


def _biofilter(file: sections.File, told: Assumptions) -> model.Biofilter | None:
    given = file.biofilter
    if given is None:
        told.tell(("biofilter",), "none", "", ABSENT)
        return None
    row = tables.load("media").row(given.medium)
    return model.Biofilter(
        medium=given.medium,
        media_l=given.media,
        surface_m2_m3=told.given(
            ("biofilter", "surface"),
            given.surface,
            row.number("surface_typical_m2_m3"),
            "specific_surface",
            TABLE,
            "TRADE",
        ),
        water_l=told.given(("biofilter", "water"), given.water, given.media, "volume"),
    )


def _air(file: sections.File, told: Assumptions, tanks: tuple[model.Tank, ...]) -> model.Air | None:
    given = file.air
    if given is None:
        told.tell(("air",), "none", "", ABSENT)
        return None
    shallow = min(tank.depth_m for tank in tanks)
    power = given.flow * coefficient("air_power_w_l_min").typical
    return model.Air(
        flow_l_min=given.flow,
        depth_m=told.given(
            ("air", "depth"), given.depth, max(shallow - STONE_ABOVE_FLOOR_M, shallow / 2.0), "length"
        ),
        stones=told.given(("air", "stones"), given.stones, "coarse", "", CAUTIOUS),  # type: ignore[arg-type]
        power_w=told.given(("air", "power"), given.power, power, "power"),
    )


def _heat(file: sections.File, told: Assumptions) -> model.Heat:
    given = file.heat
    if given is None:
        told.tell(("heat",), "none", "", ABSENT)
        return model.Heat()
    return model.Heat(
        heater_w=given.heater or 0.0,
        setpoint_c=given.setpoint,
        cover=bool(given.cover),
        insulation_mm=1000.0 * (given.insulation or 0.0),
        night_bypass=bool(given.night_bypass),
    )


def _light(file: sections.File, told: Assumptions) -> model.Light:
    given = file.light
    if given is None:
        told.tell(("light",), "none", "", ABSENT)
        return model.Light()
    return model.Light(given.ppfd, given.hours, given.power or 0.0)


def _power(file: sections.File, told: Assumptions) -> model.Power:
    given = file.power or sections.Power()
    battery = given.battery
    if battery is None and given.battery_charge is not None and given.battery_voltage is not None:
        battery = given.battery_charge * given.battery_voltage
    return model.Power(
        backup=told.given(("power", "backup"), given.backup, "none", "", CAUTIOUS),  # type: ignore[arg-type]
        battery_wh=battery or 0.0,
        backup_air_l_min=given.backup_air or 0.0,
        backup_hours=given.backup_time or 0.0,
        starts_by_itself=bool(given.starts_by_itself),
        alarm=bool(given.alarm),
        devices=tuple(
            model.Device(
                checks.name("device", n, one.name), one.power, 24.0 if one.hours is None else one.hours
            )
            for n, one in enumerate(given.device)
        ),
    )


def _top_up(file: sections.File, told: Assumptions) -> model.TopUp:
    given = file.top_up or sections.TopUp()
    source = told.given(("top_up", "source"), given.source, "mains")
    treated = source in {"mains", "mixed"}
    # What rain and wells do not hold, water from elsewhere may: for a dry barrel that is told by itself.
    reason = CAUTIOUS if treated else NO_DISINFECTANT
    disinfectant = told.given(
        ("top_up", "disinfectant"), given.disinfectant, "not known" if treated else "none", "", reason
    )
    chlorine = told.given(
        ("top_up", "chlorine_max"),
        given.chlorine_max,
        0.0 if disinfectant == "none" else CHLORINE_LIMIT_MG_L,
        "concentration",
        reason if disinfectant == "none" else CAUTIOUS,
        "EPAMRDL",
    )
    nitrate = None if given.nitrate is None else units.as_n(given.nitrate, given.nitrate_basis or "N")
    calcium, magnesium = _hard(given, told)
    return model.TopUp(
        source=source,  # type: ignore[arg-type]  # one of the words of WaterSource
        disinfectant=disinfectant,  # type: ignore[arg-type]  # one of the words of Disinfectant
        chlorine_max_mg_l=chlorine,
        alkalinity_mg_l=given.alkalinity,
        hardness_mg_l=given.hardness,
        calcium_mg_l=calcium,
        magnesium_mg_l=magnesium,
        ph=given.ph,
        sodium_mg_l=given.sodium,
        chloride_mg_l=given.chloride,
        nitrate_n_mg_l=nitrate,
        float_valve=bool(given.float_valve),
    )


def _hard(given: sections.TopUp, told: Assumptions) -> tuple[float | None, float | None]:
    """Calcium and magnesium, mg/L, as analysed; what a hardness leaves open is shared out and told."""
    analysed = {"calcium": given.calcium, "magnesium": given.magnesium}
    if given.hardness is None or None not in analysed.values():
        return given.calcium, given.magnesium
    known = {name: math.nan if value is None else value for name, value in analysed.items()}
    parts = salts.ions_of_hardness_mg_l(given.hardness, known["calcium"], known["magnesium"])
    for (name, value), part in zip(analysed.items(), parts, strict=True):
        if value is None:
            told.tell(("top_up", name), part, "concentration", FROM_HARDNESS)
    return parts


def _rain(file: sections.File, told: Assumptions) -> model.Rain:
    given = file.rain
    if given is None:
        told.tell(("rain",), "none", "", ABSENT)
        return model.Rain()
    return model.Rain(given.roof or 0.0, given.barrel or 0.0, given.roof_material or "")


def _feeds(file: sections.File, told: Assumptions) -> tuple[model.Feed, ...]:
    if not file.feed:
        row = tables.load("species").row(file.fish[0].species)
        low, high = row.number("feed_protein_growout_low_pct"), row.number("feed_protein_growout_high_pct")
        protein = (low + high) / 200.0
        told.tell(("feed", 0, "protein"), protein, "share", TABLE, "TRADE")
        told.tell(("feed", 0, "minerals"), "usual", "", TABLE, "LABELS")
        return (model.Feed(checks.name("feed", 0, None), 100.0 * protein, spoon_g=_spoon(0, None, told)),)
    return tuple(
        model.Feed(
            checks.name("feed", n, one.name),
            100.0 * one.protein,
            one.pellet,
            one.from_weight or 0.0,
            _spoon(n, one.spoon, told),
            _analysis(n, one, told),
        )
        for n, one in enumerate(file.feed)
    )


def _analysis(n: int, one: sections.Feed, told: Assumptions) -> tuple[tuple[str, float], ...]:
    """Elements on the label of a bag, g/kg; what it does not state is that of usual labels."""
    stated = {name: getattr(one, name) for name in minerals.ELEMENTS}
    if None in stated.values():
        told.tell(("feed", n, "minerals"), "usual", "", TABLE, "LABELS")
    return tuple((name, g_kg) for name, g_kg in stated.items() if g_kg is not None)


def _spoon(n: int, given: float | None, told: Assumptions) -> float:
    return told.given(("feed", n, "spoon"), given, model.FEED_SPOON_G, "mass")


def _fish(
    file: sections.File, told: Assumptions, season: model.Season, tanks: tuple[model.Tank, ...]
) -> tuple[model.FishBatch, ...]:
    found = []
    for n, one in enumerate(file.fish):
        row = tables.load("species").row(one.species)

        def default(key: str, value: Value | None, usual: Value, kind: str, n: int = n) -> Value:
            return told.given(("fish", n, key), value, usual, kind, TABLE, "TRADE")

        found.append(
            model.FishBatch(
                name=checks.name("fish", n, one.name),
                species=one.species,
                count=one.count,
                weight_g=default("weight", one.weight, row.number("start_weight_g"), "mass"),
                stocked=told.given(("fish", n, "stocked"), one.stocked, season.start, "", DEFAULT, "OWN"),
                final_weight_g=default(
                    "final_weight", one.final_weight, row.number("table_weight_typical_g"), "mass"
                ),
                tank=one.tank or tanks[0].name,
                until=one.until,
                eaten=default("eaten", one.eaten, row.text("use") != "ornamental", ""),
            )
        )
    return tuple(found)


def _crops(
    file: sections.File, told: Assumptions, beds: tuple[model.Bed, ...], season: model.Season
) -> tuple[model.CropPlan, ...]:
    areas = {bed.name: bed.area_m2 for bed in beds}
    rest = _shares(file, areas, beds[0].name, season)
    return tuple(
        model.CropPlan(
            crop=one.crop,
            bed=one.bed or beds[0].name,
            area_m2=told.given(
                ("crop", n, "area"), one.area, rest.get(n, 0.0), "area", "assumed-rest", "OWN"
            ),
            months=one.months or tuple(range(1, MONTHS_PER_YEAR + 1)),
            heads_per_week=one.heads or 0.0,
            first=one.first,
            yield_kg_m2=one.own_yield,
            loss_pct=None if one.loss is None else 100.0 * one.loss,
            plants_m2=one.plants,
            last=one.last,
        )
        for n, one in enumerate(file.crop)
    )


def _shares(
    file: sections.File, areas: dict[str, float], only: str, season: model.Season
) -> dict[int, float]:
    """Area of each crop that names none: what is left of its bed, shared with the others that name none.

    What is left counts the fullest day, so that a bed is never planted beyond its rim.
    """
    found = {}
    for bed, area in areas.items():
        planted = [(n, one) for n, one in enumerate(file.crop) if (one.bed or only) == bed]
        open_ended = [n for n, one in planted if one.area is None]
        crops = [one for _, one in planted]
        days = checks.days_of_change(crops, season.start, season.end)
        taken = max(checks.planted_m2(crops, day) for day in days)
        for n in open_ended:
            own = [day for day in days if checks.may_stand(file.crop[n], day)]
            together = [sum(checks.may_stand(file.crop[m], day) for m in open_ended) for day in own]
            found[n] = max(area - taken, 0.0) / max(together, default=1)
    return found


def _start_up(file: sections.File, told: Assumptions) -> model.StartUp:
    given = file.start_up or sections.StartUp()
    state = told.given(("start_up", "state"), given.state, "running")
    return model.StartUp(
        state=state,  # type: ignore[arg-type]  # running or new, as the section checks
        started=given.started,
        method=given.method or "",
        product=given.product or "",
        strength_pct=None if given.strength is None else 100.0 * given.strength,
    )


def _wishes(given: sections.Wishes | None) -> model.Wishes:
    if given is None:
        return model.Wishes()
    return model.Wishes(
        given.heads or 0.0,
        given.crop or "",
        given.fish_per_year or 0.0,
        given.species or "",
        given.sold_at or (),
        bool(given.kept_before),
        given.to_buy_at_most,
        given.more_a_year,
        given.may_grow or (),
        given.likes or (),
        model.Wishes.plantings_week if given.plantings_week is None else given.plantings_week,
        model.Wishes.most_of_one if given.most_of_one is None else given.most_of_one,
    )


def _offer(given: sections.Offer) -> model.Offer:
    return model.Offer(
        what=cast(model.OfferKind, given.what),
        price=given.price,
        size=given.amount(),
        power_w=given.power,
        bed=given.bed or "",
        medium=given.medium or "",
    )


def _kit(kit: sections.Kit) -> model.Kit:
    scales = tuple(
        model.KitScale(
            one.parameter,
            one.basis or sections.NOT_KNOWN,
            one.steps or (),
            one.drop,
            one.offset or 0.0,
            one.standard,
            one.checked,
        )
        for one in kit.scale
    )
    return model.Kit(kit.name, kit.start, scales, kit.expires)


def _products(file: sections.File, told: Assumptions) -> tuple[model.Product, ...]:
    return tuple(
        model.Product(
            one.name,
            one.chemical,
            100.0 * told.given(("product", n, "strength"), one.strength, STRENGTH, "share"),
            one.spoon,
        )
        for n, one in enumerate(file.product)
    )


def _measured(one: sections.Measured) -> model.Measured:
    kind, _ = sections.MEASURED[one.what]
    unit = units.base(kind).key if kind else ""
    return model.Measured(one.what, one.amount(), unit, one.day, one.subject or "")


def _prices(given: sections.Prices | None) -> model.Prices:
    return model.Prices(**given.model_dump()) if given else model.Prices()


def _care(given: sections.Care | None) -> model.Care:
    usual = model.Care()
    if given is None:
        return usual
    above = math.nan if given.change_above is None else given.change_above
    return model.Care(
        most_feed_g_day=usual.most_feed_g_day if given.most_feed is None else given.most_feed,
        base_how=cast(model.BaseHow, given.base_how or usual.base_how),
        look_every_d=usual.look_every_d if given.look_every is None else round(given.look_every / 24.0),
        potassium_mg_l=math.nan if given.potassium is None else given.potassium,
        change_share=given.change or 0.0,
        change_above_mg_l=units.as_n(above, given.change_basis or "N"),
    )


def _targets(file: sections.File, told: Assumptions) -> model.Targets:
    usual = model.Targets()
    given = file.targets.ph if file.targets else None
    aim = usual.base_to_ph if given is None else given
    top_up_mg_l = file.top_up.alkalinity if file.top_up else None

    def last(what: str, default: float, kind: str) -> float:
        found = [one for one in file.measured if one.what == what]
        if found:
            return max(found, key=lambda one: one.day or date.min).amount()
        told.tell(("targets", what), default, kind, "assumed-target", "OWN")
        return default

    return model.Targets(
        ph=last("ph", aim, ""),
        oxygen_mg_l=last("oxygen", usual.oxygen_mg_l, "concentration"),
        alkalinity_mg_l=last("alkalinity", float(aimed.alkalinity_mg_l(aim, top_up_mg_l)), "alkalinity"),
        base_to_ph=aim,
    )
