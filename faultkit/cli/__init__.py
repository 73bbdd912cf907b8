"""The command line. Importing it imports nothing but the argument parser."""

from faultkit.cli.main import main

__all__ = ["main"]
