"""Duty: what the rules ask of an opening, and which fact would change the answer."""

from sillwright.duty._assess import assess
from sillwright.duty.model import DeviceStanding, Duty, Enforced, Link, RuleVerdict

__all__ = ["DeviceStanding", "Duty", "Enforced", "Link", "RuleVerdict", "assess"]
