"""Compressors: published ten-coefficient ratings, efficiencies out of readings, displacement."""

from faultkit.calculators.compressor.declared import COMPRESSOR

__all__ = ["COMPRESSOR"]
