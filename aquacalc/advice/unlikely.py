"""Bounds beyond which readings hardly belong to one water, for one reading and for a whole log."""

from aquacalc.constants import MG_L_CACO3_PER_GERMAN_DEGREE

NO_BUFFER_MG_L, NO_BUFFER_PH = MG_L_CACO3_PER_GERMAN_DEGREE, 7.3
"""Alkalinity below 1 dKH beside a pH above this is unlikely. Common practice, no source."""

SOFTER_DKH = 3.0
"""Alkalinity so many degrees above hardness: softened water, or a base without calcium. Common practice."""

LONE_TAN_MG_L = 0.5
"""More ammonia than this beside no nitrite is unlikely in a filter that runs. Common practice, no source."""

LEAST_SATURATION, MOST_SATURATION = 0.2, 1.3
"""Oxygen against saturation, beyond which a reading is doubtful. Common practice, no source."""
