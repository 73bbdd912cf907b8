"""What can be proved about a catalogue before anybody uses it."""

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.pages import explain
from faultkit.consistency.rules import BY_CODE, RULES
from faultkit.consistency.run import Report, check_catalogue

__all__ = ["BY_CODE", "RULES", "Finding", "Report", "Rule", "Severity", "check_catalogue", "explain"]
