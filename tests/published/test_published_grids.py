"""Grids against general-purpose libraries that are run here and now; a row is one largest difference."""

import csv
import itertools
import warnings
from functools import cache
from pathlib import Path

import fluids
import gsw
import numpy as np
import pandas as pd
import phreeqpython
import PyCO2SYS
import pyet
import pytest
import seasons
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicSpline, PchipInterpolator
from scipy.optimize import brentq

from aquacalc.advice.doses import limestone
from aquacalc.climate import evaporation, months, sun, tank
from aquacalc.constants import MG_CACO3_PER_MEQ, MOLAR_MASS_O2_G_MOL, STANDARD_GRAVITY_M_S2
from aquacalc.hydraulics import beds, pipes, pump
from aquacalc.season import basing
from aquacalc.water import carbonate, dosing, oxygen

ROWS = list(csv.DictReader(Path(__file__).with_name("grids.csv").open(encoding="utf-8", newline="")))

SMALL = (np.array([5.0, 15.0, 25.0, 32.0]), np.array([0.2, 1.0, 3.0]), np.array([0.05, 0.2, 1.0]))
LARGE = (np.linspace(1.0, 39.0, 20), np.geomspace(0.1, 5.0, 12), np.geomspace(0.01, 3.0, 12))
"""Temperature in C, alkalinity in meq/L, carbon dioxide in mmol/L."""


def largest(found: object, expected: object, relative: bool = True) -> float:
    a, b = np.asarray(found, dtype=np.float64), np.asarray(expected, dtype=np.float64)
    assert a.shape == b.shape
    return float(np.max(np.abs(a - b) / (np.abs(b) if relative else 1.0)))


def oxygen_against_gsw(salinity: float) -> float:
    temperature = np.linspace(0.0, 40.0, 81)
    density_kg_l = gsw.rho_t_exact(salinity * 35.16504 / 35.0, temperature, 0.0) / 1000.0
    expected = gsw.O2sol_SP_pt(salinity, temperature) * density_kg_l * MOLAR_MASS_O2_G_MOL / 1000.0
    return largest(oxygen.saturation_mg_l(temperature, salinity), expected)


def phreeqc_waters(grid: tuple[np.ndarray, np.ndarray, np.ndarray]) -> np.ndarray:
    """Rows of temperature, alkalinity, inorganic carbon, ionic strength, pH, carbon dioxide."""
    phreeqc = phreeqpython.PhreeqPython()
    rows = []
    for temperature, base, dioxide in itertools.product(*grid):
        water = phreeqc.add_solution_simple({"NaHCO3": base, "CO2": dioxide}, temperature=temperature)
        free = 44009.0 * water.species["CO2"]
        rows.append((temperature, base * MG_CACO3_PER_MEQ, base + dioxide, water.I, water.pH, free))
        water.forget()
    return np.array(rows).T


def ph_against_phreeqc(grid: tuple[np.ndarray, np.ndarray, np.ndarray]) -> float:
    temperature, alkalinity, carbon, ionic_strength, ph, _ = phreeqc_waters(grid)
    return largest(carbonate.ph_closed(alkalinity, carbon, temperature, ionic_strength), ph, relative=False)


def carbon_dioxide_against_phreeqc(grid: tuple[np.ndarray, np.ndarray, np.ndarray]) -> float:
    temperature, alkalinity, _, ionic_strength, ph, dioxide = phreeqc_waters(grid)
    return largest(carbonate.carbon_dioxide_mg_l(ph, alkalinity, temperature, ionic_strength), dioxide)


def dosed_ph_against_phreeqc() -> float:
    phreeqc = phreeqpython.PhreeqPython()
    found, expected = [], []
    for base, dioxide, share in itertools.product((0.3, 1.0, 2.0), (0.1, 0.3), (0.1, 0.2, 0.35)):
        water = phreeqc.add_solution_simple({"KHCO3": base, "CO2": dioxide}, temperature=22.0)
        dose = share * water.species["CO2"] * 1000.0
        before = carbonate.Water(base * MG_CACO3_PER_MEQ, base + dioxide, 22.0, water.I)
        expected.append(water.add("KOH", dose).pH)
        found.append(float(before.plus(dose * MG_CACO3_PER_MEQ, 0.0).ph))
    return largest(found, expected, relative=False)


READINGS = ((5.0, 18.0, 32.0), (5.0, 20.0, 60.0, 150.0, 300.0), (5.8, 6.4, 7.0, 7.6, 8.0, 8.4))
"""Temperature in C, alkalinity in mg/L CaCO3, and pH as a grower reads them."""
HARD_READINGS = ((5.0, 18.0, 32.0), (20.0, 60.0, 120.0), (6.0, 6.4, 7.0, 7.6, 7.8))
MILD_READINGS = ((5.0, 18.0, 25.0), (20.0, 60.0, 120.0), (6.0, 6.4, 7.0))
FORMULAS = {
    "calcium_carbonate": ("CaCO3", 2),
    "calcium_hydroxide": ("Ca(OH)2", 2),
    "magnesium_hydroxide": ("Mg(OH)2", 2),
    "potassium_bicarbonate": ("KHCO3", 1),
    "potassium_carbonate": ("K2CO3", 2),
    "potassium_hydroxide": ("KOH", 1),
    "sodium_bicarbonate": ("NaHCO3", 1),
    "sodium_carbonate": ("Na2CO3", 2),
}
"""Formula and equivalents of a mole."""
MOST_RISE_MG_L = 50.0
"""Of one dose: the potassium of it is what a day takes."""


@cache
def phreeqc() -> phreeqpython.PhreeqPython:
    return phreeqpython.PhreeqPython()


def read_water(
    celsius: float, alkalinity: float, ph: float, calcium: float = 0.0, magnesium: float = 0.0
) -> phreeqpython.Solution:
    """A water of the library by readings, mg/L; sodium balances its charge, in hard water chloride."""
    meq = alkalinity / MG_CACO3_PER_MEQ
    with_ions = {"units": "mmol/kgw", "temp": celsius, "pH": ph, "Alkalinity": f"{meq}"}
    if calcium > 0.0:
        with_ions |= {"Ca": calcium / 40.078, "Mg": magnesium / 24.305, "Cl": f"{meq} charge"}
    else:
        with_ions |= {"Na": f"{meq} charge"}
    return phreeqc().add_solution(with_ions)


def dose_against_phreeqc(name: str, open_air: bool) -> float:
    """Largest difference of pH after a day's most of a base, at once or in equilibrium with outdoor air."""
    formula, equivalents = FORMULAS[name]
    of, found, expected = dosing.chemical(name), [], []
    for celsius, alkalinity, ph in itertools.product(*READINGS):
        water = read_water(celsius, alkalinity, ph)
        before = carbonate.water(ph, alkalinity, celsius, water.I)
        most = dosing.daily_limit(dosing.Place(before, 1000.0, 5.0), of).dose.rise_mg_l
        # Above the highest pH of a dose a little is tried all the same.
        rise = min(most or 1.0, MOST_RISE_MG_L)
        water.add(formula, rise / MG_CACO3_PER_MEQ / equivalents)
        if open_air:
            water.equalize(["CO2(g)"], [np.log10(carbonate.OUTDOOR_CO2_ATM)])
            found.append(float(carbonate.ph_open(alkalinity + rise, celsius, before.ionic_strength)))
        else:
            found.append(float(dosing.after_rise(before, of, rise).ph))
        expected.append(water.pH)
        water.forget()
    return largest(found, expected, relative=False)


def limestone_against_phreeqc() -> float:
    """Largest relative difference of what limestone dissolves before it settles, carbon dioxide held."""
    of, found, expected = dosing.chemical("calcium_carbonate"), [], []
    for celsius, alkalinity, ph, calcium in itertools.product(
        (15.0, 25.0), (20.0, 60.0), (6.4, 6.8), (40.0, 60.0)
    ):
        water = read_water(celsius, alkalinity, ph, calcium)
        before = carbonate.water(ph, alkalinity, celsius, water.I)
        place = dosing.Place(before, 1000.0, float(before.carbon_dioxide_mg_l), calcium_mg_l=calcium)
        found.append(limestone.limestone_reach_mg_l(place, of) - alkalinity)
        held = water.total("Ca")
        water.equalize(["Calcite", "CO2(g)"], [0.0, water.si("CO2(g)")])
        expected.append((water.total("Ca") - held) * 2.0 * MG_CACO3_PER_MEQ)
        water.forget()
    return largest(found, expected)


def readings_against_phreeqc(grid: tuple[tuple[float, ...], ...], calcium: float = 0.0) -> float:
    """Largest relative difference of carbon dioxide by pH and alkalinity; magnesium a quarter of calcium."""
    found, expected = [], []
    for celsius, alkalinity, ph in itertools.product(*grid):
        water = read_water(celsius, alkalinity, ph, calcium, calcium / 4.0)
        found.append(float(carbonate.carbon_dioxide_mg_l(ph, alkalinity, celsius, water.I)))
        expected.append(44009.0 * water.species["CO2"])
        water.forget()
    return largest(found, expected)


def hard_ph_against_phreeqc(open_air: bool, grid: tuple[tuple[float, ...], ...]) -> float:
    """Largest difference of pH in water with calcium 60 and magnesium 15 mg/L, after 5 mg/L of alkalinity."""
    found, expected = [], []
    for celsius, alkalinity, ph in itertools.product(*grid):
        water = read_water(celsius, alkalinity, ph, 60.0, 15.0)
        before = carbonate.Water(alkalinity, water.total_element("C"), celsius, water.I)
        if open_air:
            water.equalize(["CO2(g)"], [np.log10(carbonate.OUTDOOR_CO2_ATM)])
            found.append(float(carbonate.ph_open(alkalinity, celsius, before.ionic_strength)))
        else:
            water.add("KHCO3", 5.0 / MG_CACO3_PER_MEQ)
            found.append(float(dosing.after_rise(before, dosing.chemical("potassium_bicarbonate"), 5.0).ph))
        expected.append(water.pH)
        water.forget()
    return largest(found, expected, relative=False)


def acid_against_phreeqc(open_air: bool) -> float:
    """Largest difference of pH after hydrochloric acid down to 60 mg/L of alkalinity."""
    found, expected = [], []
    for celsius, alkalinity, ph in itertools.product(
        (5.0, 18.0, 32.0), (100.0, 200.0, 300.0), (7.0, 7.6, 8.2)
    ):
        water = read_water(celsius, alkalinity, ph)
        before = carbonate.water(ph, alkalinity, celsius, water.I)
        water.add("HCl", (alkalinity - 60.0) / MG_CACO3_PER_MEQ)
        if open_air:
            water.equalize(["CO2(g)"], [np.log10(carbonate.OUTDOOR_CO2_ATM)])
            found.append(float(carbonate.ph_open(60.0, celsius, before.ionic_strength)))
        else:
            of = dosing.chemical("hydrochloric_acid")
            found.append(float(dosing.after_rise(before, of, 60.0 - alkalinity).ph))
        expected.append(water.pH)
        water.forget()
    return largest(found, expected, relative=False)


def pyco2sys_grid() -> tuple[np.ndarray, np.ndarray, np.ndarray, dict[str, np.ndarray]]:
    ph, alkalinity, temperature = np.meshgrid(
        [5.8, 6.4, 7.0, 7.6, 8.2], [10.0, 50.0, 150.0], [2.0, 12.0, 25.0, 36.0]
    )
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        found = PyCO2SYS.sys(
            par1=alkalinity / MG_CACO3_PER_MEQ * 1000.0,
            par2=ph,
            par1_type=1,
            par2_type=3,
            salinity=0.0,
            temperature=temperature,
            opt_k_carbonic=8,
        )
    return ph, alkalinity, temperature, found


def carbon_against_pyco2sys() -> float:
    ph, alkalinity, temperature, found = pyco2sys_grid()
    return largest(carbonate.inorganic_carbon_mmol_l(ph, alkalinity, temperature), found["dic"] / 1000.0)


def ph_against_pyco2sys() -> float:
    ph, alkalinity, temperature, found = pyco2sys_grid()
    return largest(carbonate.ph_closed(alkalinity, found["dic"] / 1000.0, temperature), ph, relative=False)


def ph_against_root_finder() -> float:
    rng = np.random.default_rng(3)
    found, expected = [], []
    for _ in range(300):
        ph, carbon = rng.uniform(3.0, 11.5), 10.0 ** rng.uniform(-3.0, 1.0)
        temperature, ionic_strength = rng.uniform(0.0, 40.0), rng.uniform(0.0, 0.05)
        alkalinity = float(carbonate.alkalinity_mg_l(ph, carbon, temperature, ionic_strength))
        expected.append(
            brentq(
                lambda x, a=alkalinity, c=carbon, t=temperature, i=ionic_strength: (
                    carbonate.alkalinity_mg_l(x, c, t, i) - a
                ),
                2.0,
                12.5,
                xtol=1e-12,
            )
        )
        found.append(float(carbonate.ph_closed(alkalinity, carbon, temperature, ionic_strength)))
    return largest(found, expected, relative=False)


def weather_year() -> pd.DataFrame:
    rng = np.random.default_rng(5)
    day = np.arange(365)
    mean = 14.0 + 9.0 * np.sin(2 * np.pi * (day - 110) / 365) + rng.normal(0.0, 2.0, 365)
    spread = rng.uniform(4.0, 14.0, 365)
    return pd.DataFrame(
        {
            "high": mean + spread / 2,
            "low": mean - spread / 2,
            "moist": rng.uniform(75.0, 98.0, 365),
            "dry": rng.uniform(25.0, 70.0, 365),
            "wind": rng.uniform(0.5, 5.0, 365),
            "share": rng.uniform(0.25, 0.74, 365),
        },
        index=pd.date_range("2021-01-01", periods=365),
    )


def et0_against_pyet() -> float:
    year, latitude, altitude = weather_year(), 41.0, 350.0
    above = sun.extraterrestrial_mj_m2_d(latitude, np.arange(365))
    radiation = year["share"] * above
    vapour = evaporation.vapour_pressure_kpa(year["high"], year["low"], year["moist"], year["dry"])
    day = evaporation.Day(year["high"], year["low"], year["wind"], vapour)
    net = evaporation.net_radiation(day, radiation, sun.clear_sky_mj_m2_d(above, altitude))
    expected = pyet.pm_fao56(
        tmean=(year["high"] + year["low"]) / 2,
        wind=year["wind"],
        rs=radiation,
        tmax=year["high"],
        tmin=year["low"],
        rhmax=year["moist"],
        rhmin=year["dry"],
        elevation=altitude,
        lat=np.radians(latitude),
    )
    return largest(evaporation.et0_penman_monteith(day, net, altitude), expected)


def radiation_against_pyet() -> float:
    index = pd.date_range("2021-01-01", periods=365)
    found, expected = [], []
    for latitude in (-45.0, -20.0, 0.0, 35.0, 55.0):
        found.append(sun.extraterrestrial_mj_m2_d(latitude, np.arange(365)))
        expected.append(np.asarray(pyet.extraterrestrial_r(index, np.radians(latitude))))
    return largest(found, expected)


def friction_against_fluids(least_reynolds: float) -> float:
    numbers, roughness = np.geomspace(least_reynolds, 2e5, 12), (0.0, 6e-5, 1e-3, 0.01, 0.04)
    pairs = list(itertools.product(numbers, roughness))
    expected = [fluids.friction_factor(Re=re, eD=rough, Method="Colebrook") for re, rough in pairs]
    return largest([pipes.friction_factor(re, rough) for re, rough in pairs], expected)


def level_time_s(start: float, end: float, change: object, longest_s: float) -> float:
    """When a level that changes at a rate of its own reaches an end."""

    def reached(_: float, level: np.ndarray) -> float:
        return float(level[0] - end)

    reached.terminal = True  # type: ignore[attr-defined]
    done = solve_ivp(change, (0.0, longest_s), [start], events=reached, rtol=1e-9, atol=1e-12)
    return float(done.t_events[0][0])


def siphon_against_ode() -> float:
    found, expected = [], []
    for bore, inflow in itertools.product((20.0, 26.2, 32.0), (0.0, 200.0, 600.0)):
        siphon = beds.Siphon(bore, 0.4, 5.5)
        found.append(beds.siphon_drain_s(siphon, 1.3, 0.42, 0.24, 0.03, inflow))
        expected.append(
            level_time_s(
                0.24,
                0.03,
                lambda _, level, q=inflow, s=siphon: (q - s.flow_l_h(level)) / 3.6e6 / (1.3 * 0.42),
                36000.0,
            )
        )
    return largest(found, expected)


def hole_against_ode() -> float:
    found, expected = [], []
    for hole, inflow in itertools.product((6.0, 10.0, 12.0), (800.0, 1500.0)):
        found.append(beds.hole_fill_s(hole, 1.3, 0.42, 0.24, 0.03, inflow))
        expected.append(
            level_time_s(
                0.03,
                0.24,
                lambda _, level, d=hole, q=inflow: (
                    (
                        q / 3.6e6
                        - 0.61 * np.pi / 4 * (d / 1000) ** 2 * np.sqrt(2 * STANDARD_GRAVITY_M_S2 * level)
                    )
                    / (1.3 * 0.42)
                ),
                36000.0,
            )
        )
    return largest(found, expected)


def damping_against_ode() -> float:
    found, expected = [], []
    for constant in (4.0, 8.0, 24.0):
        whole = 24.0 * np.ceil(8.0 * constant / 24.0)
        hours = np.linspace(whole, whole + 24.0, 481)
        run = solve_ivp(
            lambda hour, water, c=constant: (np.sin(2 * np.pi * hour / 24.0) - water) / c,
            (0.0, hours[-1]),
            [0.0],
            t_eval=hours,
            rtol=1e-8,
        )
        found.append(tank.damping(constant))
        expected.append(np.ptp(run.y[0]) / 2.0)
    return largest(found, expected, relative=False)


def equilibrium_against_root_finder() -> float:
    found, expected = [], []
    for air, humidity, wind, light in itertools.product(
        (2.0, 18.0, 35.0), (20.0, 80.0), (0.1, 3.0), (0.0, 280.0)
    ):
        found.append(tank.heat_balance(air, humidity, wind, light, sky_share=0.9).settled_c())

        def balance(
            t: float, ta: float = air, rh: float = humidity, u: float = wind, s: float = light
        ) -> float:
            def pressure(x: float) -> float:
                return 0.6108 * np.exp(17.27 * x / (x + 237.3))

            vapour = rh / 100 * pressure(ta)
            kelvin = ta + 273.15
            sky = 5.670374419e-8 * kelvin**4 * (0.34 - 0.14 * np.sqrt(vapour))
            moved = (4 * 0.97 * 5.670374419e-8 * kelvin**3 + 2.8 + 3 * u + 20) * (t - ta)
            evaporated = (2.8 + 3 * u) / (0.665e-3 * 101.3) * (pressure(t) - vapour)
            return 0.92 * s - 0.9 * sky - moved - evaporated

        expected.append(brentq(balance, -20.0, 70.0, xtol=1e-10))
    return largest(found, expected, relative=False)


def spline_against_scipy() -> float:
    means = np.array([3.0, 4.0, 8.0, 12.0, 17.0, 21.0, 24.0, 23.0, 19.0, 13.0, 8.0, 4.0])
    daily = months.monthly_to_daily(means)
    knots = np.array(months.MIDDLE_DAYS)
    # A month of even length has its middle between two days, so the heights are solved for.
    days = np.arange(365)

    def through(heights: np.ndarray) -> np.ndarray:
        curve = CubicSpline(
            np.append(knots, knots[0] + 365), np.append(heights, heights[0]), bc_type="periodic"
        )
        return curve(np.where(days < knots[0], days + 365, days))

    columns = np.column_stack([through(unit) for unit in np.eye(12)])
    heights, *_ = np.linalg.lstsq(columns, daily, rcond=None)
    return largest(through(heights), daily, relative=False)


def pump_table_against_scipy() -> float:
    found, expected = [], []
    tables = (
        ([0.0, 600.0, 1200.0, 1800.0, 2400.0], [2.5, 2.3, 1.7, 1.05, 0.0]),
        ([0.0, 200.0, 1500.0, 1600.0], [4.0, 3.9, 3.9, 0.2]),
        ([0.0, 900.0, 1000.0], [1.0, 1.1, 0.0]),
    )
    for flows, heads in tables:
        at = np.linspace(flows[0], flows[-1], 101)
        found.append(pump.table_curve_head_m(at, flows, heads))
        expected.append(PchipInterpolator(flows, heads)(at))
    return largest(found, expected, relative=False)


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_grid(row: dict[str, str]):
    found = float(eval(row["call"], globals()))
    assert found == pytest.approx(float(row["expected"]), rel=0.0, abs=float(row["tolerance"]))


@pytest.mark.slow
def test_large_grid_against_phreeqc():
    temperature, alkalinity, carbon, ionic_strength, ph, dioxide = phreeqc_waters(LARGE)
    # Above it alkalinity and carbon are nearly equal, and pH hangs on the library's ion pairs of sodium.
    below = ph < 7.7
    found = carbonate.ph_closed(alkalinity, carbon, temperature, ionic_strength)
    assert below.sum() > 2000
    assert np.max(np.abs(found - ph)[below]) < 0.008
    assert np.max(np.abs(found - ph)) < 0.03
    at_ph = carbonate.carbon_dioxide_mg_l(ph, alkalinity, temperature, ionic_strength)
    assert largest(at_ph, dioxide) < 0.004


REPLAYED_DAYS = 30


BASE_IONS = {"potassium": ("KCl", "K", 39.098), "calcium": ("CaCl2", "Ca", 40.078)}
"""Ions that bases bring: the salt by which all else brings or takes them, PHREEQC's element, g/mol."""


def phreeqc_alkalinity_mmol(water: phreeqpython.Solution) -> float:
    """Alkalinity of a water by all the carbonate, hydroxide and hydrogen that PHREEQC finds in it, meq."""
    species = water.species
    carbonates = sum(moles for name, moles in species.items() if "HCO3" in name)
    twofold = sum(moles for name, moles in species.items() if "CO3" in name and "HCO3" not in name)
    hydroxides = sum(moles for name, moles in species.items() if "OH" in name)
    return 1000.0 * (carbonates + 2.0 * twofold + hydroxides - species["H+"])


@pytest.mark.slow
@pytest.mark.parametrize("name", ["classroom", "southern"])
def test_month_of_spread_base_against_phreeqc(name: str):
    """Alkalinity, inorganic carbon, potassium and calcium of the season go into PHREEQC hour by hour: base as
    the chemical that it is, all else as strong base or acid, carbon dioxide and chlorides. pH, alkalinity and
    both ions must stay with the season's. A second water gets no chlorides: in the first their strength
    shows, which the season takes as one figure for the whole year."""
    season = seasons.season(name, 1)
    garden = seasons.garden(name)
    shape = basing.shape(garden.care.base_how)
    strengths = {one.chemical: one.strength_pct / 100.0 for one in garden.products}
    hours = {key: np.asarray(values) for key, values in season.hourly.items()}
    given = {event.day: event for event in season.events if event.key == "base" and event.spread}
    months = [sum(d in given for d in range(at, at + REPLAYED_DAYS)) for at in range(season.days - 31)]
    begin = int(np.argmax(months))
    assert months[begin] > REPLAYED_DAYS // 2, "a month without base shows nothing"
    alkalinity = hours["alkalinity_mg_l"] / carbonate.MG_L_CACO3_PER_EQ_L * 1000.0
    first = 24 * begin
    mornings = {
        ion: np.asarray(season.typical[f"{ion}_mg_l"]) / mass for ion, (_, _, mass) in BASE_IONS.items()
    }
    waters = [phreeqc().add_solution_simple({}, temperature=float(hours["water_c"][first])) for _ in range(2)]
    salted, plain = waters
    for water in waters:
        water.add("NaOH", alkalinity[first])
        water.add("CO2", hours["carbon_mmol_l"][first])
    for ion, (salt, _, _) in BASE_IONS.items():
        salted.add(salt, mornings[ion][begin])
    found: dict[str, list[float]] = {name: [] for name in ("ph", "salted_ph", "alkalinity", *BASE_IONS)}
    expected: dict[str, list[float]] = {name: [] for name in found}
    for hour in range(first, first + 24 * REPLAYED_DAYS):
        day, clock = divmod(hour, 24)
        base_meq = base_mmol = 0.0
        moles: dict[str, float] = {}
        if day in given:
            event, part = given[day], 1000.0 * shape[clock] / hours["water_l"][hour]
            base_meq, base_mmol = (part * event.spread[amount] for amount in ("alkalinity_eq", "carbon_mol"))
            for key, grams in event.grams.items():
                pure = grams * strengths.get(key, 1.0) / dosing.chemical(key).molar_mass_g_mol
                moles[FORMULAS[key][0]] = part * pure
        rest = alkalinity[hour + 1] - alkalinity[hour] - base_meq
        carbon = hours["carbon_mmol_l"][hour + 1] - hours["carbon_mmol_l"][hour] - base_mmol
        for water in waters:
            for formula, amount in moles.items():
                water.add(formula, amount)
            water.add("NaOH" if rest > 0.0 else "HCl", abs(rest))
            (water.add if carbon > 0.0 else water.remove)("CO2", abs(carbon))
            water.change_temperature(float(hours["water_c"][hour + 1]))
        for name, water in (("ph", plain), ("salted_ph", salted)):
            found[name].append(hours["ph"][hour + 1])
            expected[name].append(water.pH)
        if clock < 23:
            continue
        per_l = 1000.0 * (shape / hours["water_l"][24 * day : 24 * day + 24]).sum()
        for ion, (salt, element, mass) in BASE_IONS.items():
            brought = per_l * given[day].ions[ion] / mass if day in given else 0.0
            other = mornings[ion][day + 1] - mornings[ion][day] - brought
            (salted.add if other > 0.0 else salted.remove)(salt, abs(other))
            found[ion].append(mornings[ion][day + 1])
            expected[ion].append(salted.total_element(element))
        found["alkalinity"].append(alkalinity[hour + 1])
        expected["alkalinity"].append(phreeqc_alkalinity_mmol(salted))
    assert largest(found["ph"], expected["ph"], relative=False) < 0.03
    assert largest(found["salted_ph"], expected["salted_ph"], relative=False) < 0.04
    for name in ("alkalinity", *BASE_IONS):
        assert largest(found[name], expected[name]) < 0.005
