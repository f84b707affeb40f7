"""Physical constants, one a line, each with its source; units in the names.

Coefficients that belong to one formula stand beside that formula instead.
"""

from typing import TYPE_CHECKING, Any, TypeAlias

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Numbers: TypeAlias = float | NDArray[Any]
else:
    # Only the checker reads it: what needs a few constants starts without NumPy.
    Numbers = Any
"""A float or an array of floats: formulas made of operators give back the kind that they were given."""

# Abridged standard atomic weights, IUPAC 2021.
ATOMIC_MASS_H_G_MOL = 1.008  # IUPAC 2021
ATOMIC_MASS_B_G_MOL = 10.81  # IUPAC 2021
ATOMIC_MASS_C_G_MOL = 12.011  # IUPAC 2021
ATOMIC_MASS_N_G_MOL = 14.007  # IUPAC 2021
ATOMIC_MASS_O_G_MOL = 15.999  # IUPAC 2021
ATOMIC_MASS_NA_G_MOL = 22.990  # IUPAC 2021
ATOMIC_MASS_MG_G_MOL = 24.305  # IUPAC 2021
ATOMIC_MASS_P_G_MOL = 30.974  # IUPAC 2021
ATOMIC_MASS_S_G_MOL = 32.06  # IUPAC 2021
ATOMIC_MASS_CL_G_MOL = 35.45  # IUPAC 2021
ATOMIC_MASS_K_G_MOL = 39.098  # IUPAC 2021
ATOMIC_MASS_CA_G_MOL = 40.078  # IUPAC 2021
ATOMIC_MASS_MN_G_MOL = 54.938  # IUPAC 2021
ATOMIC_MASS_FE_G_MOL = 55.845  # IUPAC 2021
ATOMIC_MASS_CU_G_MOL = 63.546  # IUPAC 2021
ATOMIC_MASS_ZN_G_MOL = 65.38  # IUPAC 2021
ATOMIC_MASS_MO_G_MOL = 95.95  # IUPAC 2021

# Molar masses, summed from the atomic masses above.
MOLAR_MASS_H2O_G_MOL = 2 * ATOMIC_MASS_H_G_MOL + ATOMIC_MASS_O_G_MOL  # summed
MOLAR_MASS_O2_G_MOL = 2 * ATOMIC_MASS_O_G_MOL  # summed
MOLAR_MASS_CL2_G_MOL = 2 * ATOMIC_MASS_CL_G_MOL  # summed
MOLAR_MASS_CO2_G_MOL = ATOMIC_MASS_C_G_MOL + 2 * ATOMIC_MASS_O_G_MOL  # summed
MOLAR_MASS_HCO3_G_MOL = ATOMIC_MASS_H_G_MOL + ATOMIC_MASS_C_G_MOL + 3 * ATOMIC_MASS_O_G_MOL  # summed
MOLAR_MASS_NH3_G_MOL = ATOMIC_MASS_N_G_MOL + 3 * ATOMIC_MASS_H_G_MOL  # summed
MOLAR_MASS_NH4_G_MOL = ATOMIC_MASS_N_G_MOL + 4 * ATOMIC_MASS_H_G_MOL  # summed
MOLAR_MASS_NO2_G_MOL = ATOMIC_MASS_N_G_MOL + 2 * ATOMIC_MASS_O_G_MOL  # summed
MOLAR_MASS_NO3_G_MOL = ATOMIC_MASS_N_G_MOL + 3 * ATOMIC_MASS_O_G_MOL  # summed
MOLAR_MASS_CACO3_G_MOL = ATOMIC_MASS_CA_G_MOL + ATOMIC_MASS_C_G_MOL + 3 * ATOMIC_MASS_O_G_MOL  # summed
MOLAR_MASS_CAO_G_MOL = ATOMIC_MASS_CA_G_MOL + ATOMIC_MASS_O_G_MOL  # summed
MOLAR_MASS_NACL_G_MOL = ATOMIC_MASS_NA_G_MOL + ATOMIC_MASS_CL_G_MOL  # summed
MOLAR_MASS_KCL_G_MOL = ATOMIC_MASS_K_G_MOL + ATOMIC_MASS_CL_G_MOL  # summed
MOLAR_MASS_CACL2_G_MOL = ATOMIC_MASS_CA_G_MOL + 2 * ATOMIC_MASS_CL_G_MOL  # summed
MOLAR_MASS_HCL_G_MOL = ATOMIC_MASS_H_G_MOL + ATOMIC_MASS_CL_G_MOL  # summed

MG_CACO3_PER_MEQ = MOLAR_MASS_CACO3_G_MOL / 2  # two equivalents a mole
MG_L_CACO3_PER_GERMAN_DEGREE = 10.0 * MOLAR_MASS_CACO3_G_MOL / MOLAR_MASS_CAO_G_MOL  # 1 degree is 10 mg/L CaO

KELVIN_0_C = 273.15  # exact, definition of the Celsius scale
STANDARD_GRAVITY_M_S2 = 9.80665  # exact, CGPM 1901
STANDARD_ATMOSPHERE_KPA = 101.325  # exact, CGPM 1954
MMHG_PER_ATMOSPHERE = 760.0  # conventional
GAS_CONSTANT_J_MOL_K = 8.314462618  # exact to the digits given, SI 2019
STEFAN_BOLTZMANN_W_M2_K4 = 5.670374419e-8  # exact to the digits given, SI 2019
OXYGEN_IN_DRY_AIR = 0.20946  # mole fraction, standard atmosphere (from memory)

MG_PER_G = 1000.0  # exact
SECONDS_PER_DAY = 86400.0  # exact
SECONDS_PER_HOUR = 3600.0  # exact
HOURS_PER_DAY = 24.0  # exact
DAYS_PER_WEEK = 7  # exact
DAYS_PER_YEAR = 365  # as plans and usual years count; a leap day is counted as the day before it
MONTHS_PER_YEAR = 12  # exact
JOULES_PER_WH = 3600.0  # exact
