"""Recorded facts → findings → weights."""
