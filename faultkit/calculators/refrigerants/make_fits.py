"""Makes ``fits.py``: polynomials through CoolProp's saturation curves.

Run ``python -m faultkit.calculators.refrigerants.make_fits`` after a change here or of
CoolProp; needs CoolProp and numpy. The tests compare the fits with CoolProp over their whole range.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import isfinite, log
from pathlib import Path
from typing import Any

from faultkit.calculators.refrigerants.table import IDENTITIES, Identity

__all__ = ["curves", "main", "samples"]

_DEGREE = 9
_LOWEST_K = 213.15          # -60 degC, colder than any commercial evaporator
_HIGHEST_K = 363.15         # 90 degC
_BELOW_CRITICAL_K = 8.0     # polynomials and mixture solvers both fail near the critical point
_STEP_K = 0.5
_TRIPLE_MARGIN_K = 0.5
_PER_LINE = 4


@dataclass(frozen=True, slots=True)
class Sample:
    """Saturation at one temperature (K): Pa, kg/m³ and J/kg of bubble point (liquid) and dew point (vapour).

    ``latent`` is the heat from bubble to dew point at the bubble pressure.
    """

    temperature: float
    bubble_pressure: float
    dew_pressure: float
    liquid_density: float
    vapor_density: float
    latent_heat: float


def samples(identity: Identity, temperatures: Sequence[float]) -> list[Sample]:
    """CoolProp's saturation at these temperatures (K); those where it finds none are left out."""
    from CoolProp import CoolProp

    state = CoolProp.AbstractState("HEOS", identity.coolprop)
    found = []
    for t in temperatures:
        try:
            state.update(CoolProp.QT_INPUTS, 0.0, t)
            p, liquid, h = state.p(), state.rhomass(), state.hmass()
            state.update(CoolProp.PQ_INPUTS, p, 1.0)
            latent = state.hmass() - h
            state.update(CoolProp.QT_INPUTS, 1.0, t)
            row = Sample(t, p, state.p(), liquid, state.rhomass(), latent)
        except ValueError:
            continue
        if all(isfinite(v) and v > 0.0 for v in (row.bubble_pressure, row.dew_pressure, row.latent_heat)):
            found.append(row)
    return found


def temperatures(identity: Identity) -> list[float]:
    """Where to sample (K): from cold to well below the critical point."""
    from CoolProp import CoolProp

    state = CoolProp.AbstractState("HEOS", identity.coolprop)
    low = _LOWEST_K if identity.blend else max(_LOWEST_K, state.Ttriple() + _TRIPLE_MARGIN_K)
    try:
        critical = state.T_critical()
    except ValueError:
        critical = _HIGHEST_K + _BELOW_CRITICAL_K  # no critical point found for this mixture
    high = min(_HIGHEST_K, critical - _BELOW_CRITICAL_K)
    count = int((high - low) / _STEP_K)
    return [low + _STEP_K * i for i in range(count + 1)]


def _trusted(rows: list[Sample]) -> list[Sample]:
    """Rows up to where the solver begins to fail for good."""
    kept: list[Sample] = []
    for row in rows:
        if kept and row.temperature - kept[-1].temperature > 4 * _STEP_K:
            break
        kept.append(row)
    return kept


def curves(identity: Identity) -> dict[str, tuple[float, float, float, float, tuple[float, ...]]]:
    """Each curve: lowest and highest argument, centre, scale, coefficients (lowest power first)."""
    rows = _trusted(samples(identity, temperatures(identity)))
    # The last rows lie where the solver is about to fail.
    rows = rows[:-4] if identity.blend else rows
    t = [r.temperature for r in rows]
    bubble, dew = [r.bubble_pressure for r in rows], [r.dew_pressure for r in rows]
    return {
        "bubble_pressure": _fit(t, t, [log(p) for p in bubble]),
        "dew_pressure": _fit(t, t, [log(p) for p in dew]),
        "bubble_temperature": _fit(bubble, [log(p) for p in bubble], t),
        "dew_temperature": _fit(dew, [log(p) for p in dew], t),
        "liquid_density": _fit(t, t, [r.liquid_density for r in rows]),
        "vapor_density": _fit(t, t, [log(r.vapor_density) for r in rows]),
        "latent_heat": _fit(t, t, [r.latent_heat for r in rows]),
    }


def _fit(
    argument: list[float], x: list[float], y: list[float]
) -> tuple[float, float, float, float, tuple[float, ...]]:
    """A Chebyshev fit of y over x, as powers of (x - centre) * scale in [-1, 1]; its range in the argument."""
    from numpy.polynomial import Chebyshev, Polynomial

    fitted: Any = Chebyshev.fit(x, y, _DEGREE)
    plain = fitted.convert(kind=Polynomial, domain=fitted.domain, window=fitted.window)
    low, high = float(fitted.domain[0]), float(fitted.domain[1])
    centre, scale = (low + high) / 2.0, 2.0 / (high - low)
    return min(argument), max(argument), centre, scale, tuple(float(c) for c in plain.coef)


_HEAD = '''"""Saturation curves fitted to CoolProp {version}. Made by make_fits.py; do not edit.

By refrigerant and curve: lowest and highest argument (K or Pa), then centre, scale and the
coefficients of a polynomial, lowest power first, in (x - centre) * scale. x is T, or ln p for a
curve of p; a pressure and a vapour density come out as their logarithm.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["FITS"]

Fit = tuple[float, float, float, float, tuple[float, ...]]

FITS: Mapping[str, Mapping[str, Fit]] = MappingProxyType({{
'''


def main(write: Callable[[str], object] | None = None) -> None:
    """Write ``fits.py`` beside this file."""
    from CoolProp import CoolProp

    lines = [_HEAD.format(version=CoolProp.get_global_param_string("version"))]
    for identity in IDENTITIES.values():
        lines.append(f'    "{identity.name}": {{\n')
        for curve, fit in curves(identity).items():
            lines += _written(curve, fit)
        lines.append("    },\n")
    lines.append("})\n")
    text = "".join(lines)
    (write or Path(__file__).with_name("fits.py").write_text)(text)


def _written(curve: str, fit: tuple[float, float, float, float, tuple[float, ...]]) -> list[str]:
    low, high, centre, scale, coefficients = fit
    rows = [coefficients[i:i + _PER_LINE] for i in range(0, len(coefficients), _PER_LINE)]
    return [
        f'        "{curve}": (\n            {low!r}, {high!r}, {centre!r}, {scale!r},\n            (\n',
        *("                " + ", ".join(map(repr, row)) + ",\n" for row in rows),
        "            ),\n        ),\n",
    ]


if __name__ == "__main__":
    main()
