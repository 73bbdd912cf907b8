"""How resistance follows temperature: platinum, thermistor and silicon, both ways, in ohm and kelvin."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, isfinite, log, sqrt
from typing import Protocol

from faultkit.problems import InputError

__all__ = ["ICE_POINT", "ROOM", "Beta", "Model", "Platinum", "Silicon", "SteinhartHart"]

#: Ice point and the temperature thermistors are named at, in kelvin.
ICE_POINT = 273.15
ROOM = 298.15


class Model(Protocol):
    """A resistance for each temperature and back; neither checks a range."""

    def resistance(self, temperature: float) -> float:
        """Ohm at a temperature in kelvin."""
        ...

    def temperature(self, resistance: float) -> float:
        """Kelvin at a resistance in ohm."""
        ...


@dataclass(frozen=True, slots=True)
class Platinum:
    """IEC 60751 platinum: ``ice`` ohm at 0 degC, Callendar-Van Dusen.

    With t in degC: R = R0 (1 + A t + B t² + C (t - 100) t³), C only below 0 degC.

    >>> round(Platinum(100.0).resistance(373.15), 4)
    138.5055
    """

    ice: float
    A = 3.9083e-3
    B = -5.775e-7
    C = -4.183e-12

    def resistance(self, temperature: float) -> float:
        """Ohm at a temperature in kelvin, -200 to 850 degC."""
        t = temperature - ICE_POINT
        below = self.C * (t - 100.0) * t**3 if t < 0.0 else 0.0
        return self.ice * (1.0 + t * (self.A + t * self.B) + below)

    def temperature(self, resistance: float) -> float:
        """Kelvin at a resistance in ohm."""
        over = resistance / self.ice - 1.0
        t = 2.0 * over / (self.A + sqrt(self.A**2 + 4.0 * self.B * over))
        # Below the ice point the quadratic starts at most 3 K off: Newton ends in a few steps.
        for _ in range(8 if over < 0.0 else 0):
            miss = t * (self.A + t * (self.B + t * self.C * (t - 100.0))) - over
            t -= miss / (self.A + t * (2.0 * self.B + t * self.C * (4.0 * t - 300.0)))
        return t + ICE_POINT


@dataclass(frozen=True, slots=True)
class Beta:
    """An NTC thermistor by one constant: R = R0 exp(beta (1/T - 1/T0)), ``beta`` in kelvin."""

    nominal: float
    beta: float
    reference: float = ROOM

    def resistance(self, temperature: float) -> float:
        """Ohm at a temperature in kelvin."""
        return self.nominal * exp(self.beta * (1.0 / temperature - 1.0 / self.reference))

    def temperature(self, resistance: float) -> float:
        """Kelvin at a resistance in ohm."""
        inverse = 1.0 / self.reference + log(resistance / self.nominal) / self.beta
        if inverse <= 0.0:
            raise InputError("the resistance is lower than beta allows at any temperature", "an NTC and its own beta")
        return 1.0 / inverse


@dataclass(frozen=True, slots=True)
class SteinhartHart:
    """An NTC thermistor by three coefficients: 1/T = a + b ln R + c (ln R)³, T in kelvin, R in ohm."""

    a: float
    b: float
    c: float

    @classmethod
    def through(cls, points: tuple[tuple[float, float], ...]) -> SteinhartHart:
        """The curve through three points (kelvin, ohm), coldest first.

        InputError where the temperatures do not rise, the resistances do not fall, or
        the curve through them turns back between them.
        """
        (t1, r1), (t2, r2), (t3, r3) = points
        if not 0.0 < t1 < t2 < t3:
            raise InputError("the three temperatures do not rise", "three different ones, coldest first")
        if not r1 > r2 > r3 > 0.0:
            raise InputError("the three resistances do not fall", "an NTC: ohms go down as it warms; coldest first")
        u, v, w = log(r1), log(r2), log(r3)
        first = (1.0 / t2 - 1.0 / t1) / (v - u)
        second = (1.0 / t3 - 1.0 / t1) / (w - u)
        c = (second - first) / ((w - v) * (u + v + w))
        b = first - c * (u * u + u * v + v * v)
        made = cls(1.0 / t1 - u * (b + c * u * u), b, c)
        if min(made.slope(u), made.slope(w)) <= 0.0:
            raise InputError("no thermistor curve goes through the three points", "points read without a slip")
        return made

    def slope(self, log_resistance: float) -> float:
        """d(1/T)/d(ln R) at ln R."""
        return self.b + 3.0 * self.c * log_resistance**2

    def resistance(self, temperature: float) -> float:
        """Ohm at a temperature in kelvin."""
        u = 0.0
        # One side of the root only, for c above and below zero: from 1 ohm Newton cannot overshoot twice.
        for _ in range(60):
            step = (self.a + u * (self.b + self.c * u * u) - 1.0 / temperature) / self.slope(u)
            u -= step
            if abs(step) < 1e-14 * max(1.0, abs(u)):
                break
        if not isfinite(u) or u > 700.0:
            raise InputError("the curve does not reach this temperature", "one between its points")
        return exp(u)

    def temperature(self, resistance: float) -> float:
        """Kelvin at a resistance in ohm."""
        u = log(resistance)
        return 1.0 / (self.a + u * (self.b + self.c * u * u))


@dataclass(frozen=True, slots=True)
class Silicon:
    """A silicon PTC: ``room`` ohm at 25 degC, R = R25 (1 + A d + B d²), d above 25 degC; below 100 degC only."""

    room: float
    A = 7.874e-3
    B = 1.874e-5

    def resistance(self, temperature: float) -> float:
        """Ohm at a temperature in kelvin, -55 to 100 degC."""
        d = temperature - ROOM
        return self.room * (1.0 + d * (self.A + d * self.B))

    def temperature(self, resistance: float) -> float:
        """Kelvin at a resistance in ohm."""
        over = resistance / self.room - 1.0
        return 2.0 * over / (self.A + sqrt(self.A**2 + 4.0 * self.B * over)) + ROOM
