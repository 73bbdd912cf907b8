"""Frozen types of equipment types, sites and records."""
