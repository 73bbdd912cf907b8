"""Testability in the terms of IEEE 1522: what the checks of a type can tell apart."""
