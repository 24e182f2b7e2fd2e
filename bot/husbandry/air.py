"""How thirsty the air is: saturation vapour pressure over water, vapour pressure deficit.

The Magnus form of the WMO Guide to Instruments (WMO-No. 8, annex 4.B): 0.2 to 0.3 % below the steam
tables from 10 to 35 °C, far closer than any hygrometer at a shelf.
"""

from __future__ import annotations

from math import exp
from typing import Final

_PASCAL, _SLOPE, _SHIFT_C = 611.2, 17.62, 243.12
_WHOLE: Final = 100.0


def saturation_pressure_pa(temp_c: float) -> float:
    """Saturation vapour pressure over water in Pa, for -45 to 60 °C."""
    return _PASCAL * exp(_SLOPE * temp_c / (_SHIFT_C + temp_c))


def vapour_deficit_pa(temp_c: float, humidity_pct: float) -> float:
    """How much more vapour the air would take up, in Pa; 0 in saturated air."""
    return saturation_pressure_pa(temp_c) * (1.0 - min(max(humidity_pct, 0.0), _WHOLE) / _WHOLE)
