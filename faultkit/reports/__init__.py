"""Diagnoses as text and JSON."""
