"""One hour of the water: nitrogen, alkalinity, carbon, oxygen and the bacteria, as amounts.

The state holds amounts, so that evaporation concentrates and nothing is lost. Everything here is made of
operators only: one member runs on floats, an ensemble on arrays of members, by the same code.

Every loss is a speed (1/h) times the amount that is there. Speeds hang on the state (pH, oxygen, crowding of
the film); they are carried to the middle of the hour from this hour's and the last one's, and each amount
then runs along its own exponential. The step is of second order, never makes an amount negative, and passes
on exactly what it takes away, whatever the speeds are.
"""

from typing import NamedTuple

from aquacalc import nitrogen
from aquacalc.constants import ATOMIC_MASS_N_G_MOL, MG_PER_G, Numbers
from aquacalc.water import ammonia, carbonate

HOURS = 24

FISH_HALF_OXYGEN_MG_L = 0.2
"""Oxygen at which fish breathe half as fast: only near nothing does their demand give way. Practice."""
ROUSED_DECAY_MG_L = 0.5
"""Below this oxygen bacteria decay at `low_oxygen_decay_factor` of the rate (SIEGRIST99)."""
MOST_ALKALINITY_SHARE = 0.5
"""Share of the alkalinity that one hour of nitrification may take at most, so that none goes below zero."""

LEAST_NITRATE_MG_L = 0.05
"""Below it roots find less nitrate than they look for; how crops are fed is told by the day (practice)."""
GAS_HALF_NITRATE_MG_L = 1.0
"""Nitrate-N at which denitrification has fallen to half. Common practice, no source."""

_TINY = 1e-12
_SIXTH = 1.0 / 6.0


class Water(NamedTuple):
    """Amounts in the whole circulating water, and what the films can do; floats or arrays of members.

    Nitrogen in g N; alkalinity in eq; inorganic carbon in mol; oxygen in g; the capacities of the two kinds
    of bacteria in g N/d at 20 C with everything saturating; water in L.
    """

    tan_g: Numbers
    nitrite_g: Numbers
    nitrate_g: Numbers
    solids_n_g: Numbers
    alkalinity_eq: Numbers
    carbon_mol: Numbers
    oxygen_g: Numbers
    ammonia_oxidisers_g_d: Numbers
    nitrite_oxidisers_g_d: Numbers
    water_l: Numbers


class Hour(NamedTuple):
    """What drives one hour, from outside the water; temperature comes in through its factors only.

    ammonia_warmth, nitrite_warmth: temperature factor of each step; *_decay_1_h: decay; *_most_g_d: what the
    surfaces can hold; *_transfer_m3_d: water that they could strip of its substrate; mineralisation_1_h;
    constants: of carbonic acid; ammonia_ka, nitrous_ka: mol/kg;
    excreted_g: N given off by fish in the hour; solids_in_g: N of faeces and uneaten feed that stay;
    fish_oxygen_g: breathed at full oxygen; uptake_g: nitrate-N that crops would take with plenty;
    oxygen_gain_g: brought into oxygen-free water; oxygen_exchange_m3, carbon_exchange_m3: water brought to
    balance with air in the hour; carbon_in_air_mol_m3: inorganic carbon dioxide in balance with air;
    evaporated_l; base_eq: alkalinity that is dosed through the hour; carbon_in_mol: inorganic carbon that
    comes with it and from roots.
    """

    ammonia_warmth: Numbers
    nitrite_warmth: Numbers
    ammonia_decay_1_h: Numbers
    nitrite_decay_1_h: Numbers
    ammonia_most_g_d: Numbers
    nitrite_most_g_d: Numbers
    ammonia_transfer_m3_d: Numbers
    nitrite_transfer_m3_d: Numbers
    mineralisation_1_h: Numbers
    constants: carbonate.Constants
    ammonia_ka: Numbers
    nitrous_ka: Numbers
    excreted_g: Numbers
    solids_in_g: Numbers
    fish_oxygen_g: Numbers
    uptake_g: Numbers
    oxygen_gain_g: Numbers
    oxygen_exchange_m3: Numbers
    carbon_exchange_m3: Numbers
    carbon_in_air_mol_m3: Numbers
    evaporated_l: Numbers
    base_eq: Numbers
    carbon_in_mol: Numbers


class Rates(NamedTuple):
    """Coefficients that hold for the whole run of a member."""

    kinetics: nitrogen.Kinetics
    half_acid: Numbers
    half_basic: Numbers
    denitrified_in_films: Numbers
    denitrified_per_mineralised: Numbers
    oxygen_spared_g_g: Numbers
    root_return: Numbers
    breathed_carbon_mol_g: Numbers
    solids_oxygen_g_g_n: Numbers
    low_oxygen_decay: Numbers


class Speeds(NamedTuple):
    """What hangs on the state: speeds, fillings, and readings.

    nitritation, nitratation: share of the substrate a day; uptake, gas: per g of nitrate and g/h wanted;
    ammonia_fill, nitrite_fill: share of the surface that is free; *_decaying: capacity that decays, g/d;
    dioxide_share: free carbon dioxide of the inorganic carbon; dioxide_slope: its rise with inorganic carbon;
    oxygen_mg_l; hydrogen: activity, mol/kg.
    """

    nitritation: Numbers
    nitratation: Numbers
    uptake: Numbers
    gas: Numbers
    ammonia_free: Numbers
    nitrite_free: Numbers
    ammonia_decaying: Numbers
    nitrite_decaying: Numbers
    dioxide_share: Numbers
    dioxide_slope: Numbers
    oxygen_mg_l: Numbers
    hydrogen: Numbers


class Flows(NamedTuple):
    """What crossed the border of the water in the hour: nitrogen in g, alkalinity in eq, carbon in mol."""

    nitrogen_in_g: Numbers
    taken_up_g: Numbers
    denitrified_g: Numbers
    alkalinity_eq: Numbers
    breathed_mol: Numbers
    exchanged_mol: Numbers
    nitrified_g: Numbers


def speeds(water: Water, hour: Hour, rates: Rates, hydrogen: Numbers | None = None) -> Speeds:
    """What the state of the water makes of every speed.

    hydrogen: activity, mol/kg, where the pH was logged; else it follows from alkalinity and inorganic carbon.
    """
    k = rates.kinetics
    per_g = MG_PER_G / water.water_l
    tan, nitrite = water.tan_g * per_g, water.nitrite_g * per_g
    nitrate, oxygen = water.nitrate_g * per_g, water.oxygen_g * per_g
    alkalinity = water.alkalinity_eq / water.water_l
    if hydrogen is None:
        hydrogen = carbonate.hydrogen_closed(alkalinity, water.carbon_mol / water.water_l, hour.constants)
    shared = nitrogen.acidity_factor(
        hydrogen, rates.half_acid, rates.half_basic
    ) * nitrogen.saturation_factor(
        carbonate.MG_L_CACO3_PER_EQ_L * alkalinity, k.half_saturation_alkalinity_mg_l
    )
    free_ammonia = tan * ammonia.unionised_fraction_at(hydrogen, hour.ammonia_ka)
    nitrous_acid = nitrite * nitrogen.nitrous_acid_fraction_at(hydrogen, hour.nitrous_ka)
    first = nitrogen.water_factor(k.ammonia, oxygen, shared, free_ammonia, nitrous_acid)
    second = nitrogen.water_factor(k.nitrite, oxygen, shared, free_ammonia, nitrous_acid)
    ammonia_free = 1.0 - water.ammonia_oxidisers_g_d / hour.ammonia_most_g_d
    nitrite_free = 1.0 - water.nitrite_oxidisers_g_d / hour.nitrite_most_g_d
    airless = oxygen < ROUSED_DECAY_MG_L
    decaying = 1.0 - (1.0 - rates.low_oxygen_decay) * airless
    return Speeds(
        nitritation=per_g
        * nitrogen.oxidation_speed(
            water.ammonia_oxidisers_g_d,
            first * hour.ammonia_warmth,
            tan,
            k.ammonia.half_saturation_mg_l,
            hour.ammonia_transfer_m3_d,
        ),
        nitratation=per_g
        * nitrogen.oxidation_speed(
            water.nitrite_oxidisers_g_d,
            second * hour.nitrite_warmth,
            nitrite,
            k.nitrite.half_saturation_mg_l,
            hour.nitrite_transfer_m3_d,
        ),
        uptake=per_g / (LEAST_NITRATE_MG_L + nitrate),
        gas=per_g / (GAS_HALF_NITRATE_MG_L + nitrate),
        ammonia_free=ammonia_free * (ammonia_free > 0.0),
        nitrite_free=nitrite_free * (nitrite_free > 0.0),
        ammonia_decaying=water.ammonia_oxidisers_g_d * decaying,
        nitrite_decaying=water.nitrite_oxidisers_g_d * decaying,
        dioxide_share=carbonate.carbon_dioxide_share(hydrogen, hour.constants),
        dioxide_slope=carbonate.carbon_dioxide_slope(
            hydrogen, water.carbon_mol / water.water_l, hour.constants
        ),
        oxygen_mg_l=oxygen,
        hydrogen=hydrogen,
    )


def middle(now: Numbers, before: Numbers) -> Numbers:
    """A positive quantity half a step on, from its last two values: second order, never below zero."""
    return 2.0 * now * now / (now + before + _TINY)


def relaxed(amount: Numbers, gained: Numbers, speed: Numbers) -> Numbers:
    """An amount after an hour of a steady gain and a loss of `speed` times what is there.

    The exponential by its positive rational form of third order; in balance exactly gain over speed.
    """
    mean = 1.0 + speed * (0.5 + speed * _SIXTH)
    return (amount + gained * mean) / (1.0 + speed * mean)


def advance(water: Water, now: Speeds, before: Speeds, hour: Hour, rates: Rates) -> tuple[Water, Flows]:
    """The water an hour later. before: speeds an hour ago, or `now` again after a jump."""
    k = rates.kinetics
    cells = k.nitrogen_in_cells_g_g_cod
    ammonia_free = middle(now.ammonia_free, before.ammonia_free)
    nitrite_free = middle(now.nitrite_free, before.nitrite_free)
    ammonia_cells = cells * k.ammonia.yield_g_cod_g_n * ammonia_free
    nitrite_cells = cells * k.nitrite.yield_g_cod_g_n * nitrite_free

    ammonia_lost = middle(now.ammonia_decaying, before.ammonia_decaying) * hour.ammonia_decay_1_h
    nitrite_lost = middle(now.nitrite_decaying, before.nitrite_decaying) * hour.nitrite_decay_1_h
    returned = cells * (
        ammonia_lost * k.ammonia.yield_g_cod_g_n / k.ammonia.growth_1_d
        + nitrite_lost * k.nitrite.yield_g_cod_g_n / k.nitrite.growth_1_d
    )
    solids = relaxed(water.solids_n_g, hour.solids_in_g, hour.mineralisation_1_h)
    mineralised = water.solids_n_g + hour.solids_in_g - solids

    # First step. The alkalinity that is there bounds it, for no hour may take more than its share.
    arriving = hour.excreted_g + mineralised + returned
    speed: Numbers = middle(now.nitritation, before.nitritation) / HOURS
    wanted = speed * (water.tan_g + arriving) * _NITRITATION_EQ_G + _TINY
    limit = MOST_ALKALINITY_SHARE * water.alkalinity_eq / wanted
    speed = speed * (limit * (limit < 1.0) + 1.0 * (limit >= 1.0))
    tan = relaxed(water.tan_g, arriving, speed * (1.0 + ammonia_cells))
    used = water.tan_g + arriving - tan
    oxidised = used / (1.0 + ammonia_cells)

    # Second step, and what becomes of the nitrate.
    speed = middle(now.nitratation, before.nitratation) / HOURS
    nitrite = relaxed(water.nitrite_g, oxidised, speed)
    nitrified = water.nitrite_g + oxidised - nitrite
    kept = nitrified * (1.0 - nitrite_cells)
    eaten = hour.uptake_g * middle(now.uptake, before.uptake)
    gas = rates.denitrified_in_films * nitrified + rates.denitrified_per_mineralised * mineralised
    gassed = gas * middle(now.gas, before.gas)
    nitrate = relaxed(water.nitrate_g, kept, eaten + gassed)
    taken_up = (water.nitrate_g + kept - nitrate) * eaten / (eaten + gassed + _TINY)
    denitrified = water.nitrate_g + kept - nitrate - taken_up

    charge = nitrogen.CHARGE
    border_eq = (
        hour.base_eq
        + (
            charge["ammonia_added"] * (hour.excreted_g + mineralised)
            + charge["nitrate_denitrified"] * denitrified
            + charge["nitrate_taken_up"] * rates.root_return * taken_up
        )
        / ATOMIC_MASS_N_G_MOL
    )
    inner_eq = (
        charge["ammonia_oxidised"] * oxidised
        + charge["tan_taken_up"] * (used - oxidised - returned)
        + charge["nitrate_taken_up"] * nitrite_cells * nitrified
    ) / ATOMIC_MASS_N_G_MOL

    # Oxygen: air against fish, bacteria and solids. Demands that hang on the hour are speeds on what is
    # there.
    water_m3 = (water.water_l - 0.5 * hour.evaporated_l) / MG_PER_G
    oxygen_mg_l = middle(now.oxygen_mg_l, before.oxygen_mg_l) + _TINY
    breathing = hour.fish_oxygen_g / (FISH_HALF_OXYGEN_MG_L + oxygen_mg_l)
    bacteria: Numbers = (
        oxidised * (nitrogen.OXYGEN_PER_N["ammonia"] - k.ammonia.yield_g_cod_g_n * ammonia_free)
        + nitrified * (nitrogen.OXYGEN_PER_N["nitrite"] - k.nitrite.yield_g_cod_g_n * nitrite_free)
        + mineralised * rates.solids_oxygen_g_g_n
        - denitrified * rates.oxygen_spared_g_g
    )
    # Nitrate spares oxygen, but brings none.
    bacteria = bacteria * (bacteria > 0.0)
    oxygen = relaxed(
        water.oxygen_g,
        hour.oxygen_gain_g,
        (hour.oxygen_exchange_m3 + breathing + bacteria / oxygen_mg_l) / water_m3,
    )
    breathed = hour.carbon_in_mol + rates.breathed_carbon_mol_g * (
        breathing * oxygen_mg_l + mineralised * rates.solids_oxygen_g_g_n
    )
    # Carbon dioxide bends with the carbon, so that it runs along its tangent, at the alkalinity of the
    # middle of the hour. The bend is upwards: the tangent never loses more than is there.
    exchange = hour.carbon_exchange_m3 / water_m3
    alkalinity = water.alkalinity_eq + border_eq + inner_eq
    held = 0.5 * (1.0 + alkalinity / (water.alkalinity_eq + _TINY))
    carbon = relaxed(
        water.carbon_mol,
        breathed
        + hour.carbon_exchange_m3 * hour.carbon_in_air_mol_m3
        + exchange * (now.dioxide_slope - now.dioxide_share) * water.carbon_mol * held,
        exchange * now.dioxide_slope,
    )
    after = Water(
        tan_g=tan,
        nitrite_g=nitrite,
        nitrate_g=nitrate,
        solids_n_g=solids,
        alkalinity_eq=alkalinity,
        carbon_mol=carbon,
        oxygen_g=oxygen,
        ammonia_oxidisers_g_d=(
            water.ammonia_oxidisers_g_d + k.ammonia.growth_1_d * oxidised * ammonia_free - ammonia_lost
        ),
        nitrite_oxidisers_g_d=(
            water.nitrite_oxidisers_g_d + k.nitrite.growth_1_d * nitrified * nitrite_free - nitrite_lost
        ),
        water_l=water.water_l - hour.evaporated_l,
    )
    flows = Flows(
        nitrogen_in_g=hour.excreted_g + hour.solids_in_g,
        taken_up_g=taken_up,
        denitrified_g=denitrified,
        alkalinity_eq=border_eq,
        breathed_mol=breathed,
        exchanged_mol=carbon - water.carbon_mol - breathed,
        nitrified_g=nitrified,
    )
    return after, flows


_NITRITATION_EQ_G = -nitrogen.CHARGE["ammonia_oxidised"] / ATOMIC_MASS_N_G_MOL


def cell_nitrogen_g(water: Water, rates: Rates) -> Numbers:
    """Nitrogen in the bacteria, g: biomass is capacity times yield over growth."""
    k = rates.kinetics
    return k.nitrogen_in_cells_g_g_cod * (
        water.ammonia_oxidisers_g_d * k.ammonia.yield_g_cod_g_n / k.ammonia.growth_1_d
        + water.nitrite_oxidisers_g_d * k.nitrite.yield_g_cod_g_n / k.nitrite.growth_1_d
    )
